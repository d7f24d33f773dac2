/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The program's clock for what closes when. Read anew each time, so that sleep and a clock that
 * jumps need no care. Tests steer it. */
#pragma once

#include "core/base/civil.h"

G_BEGIN_DECLS

/* The system's clock; or, where SHEDWALK_CLOCK names a file of eight bytes, the instant that stands
 * there (microseconds, byte order of the machine): it is mapped once, so that asking costs no file
 * call. */
SwInstant sw_clock_now (void);

G_END_DECLS
