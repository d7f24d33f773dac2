/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Times that were written without an offset in a night in which the clocks change. Trade layer. */
#pragma once

#include "core/base/civil.h"

G_BEGIN_DECLS

/* text as sw_moment_parse read it into 'instant', tidied. What the change of clocks makes of it, in
 * one sentence that says what to do: a time that never happens, or happens twice. NULL where it
 * happens once, for a day alone, or with an offset. Transfer full. */
char *sw_clock_change_sentence (const char *text, SwInstant instant, const SwZone *zone);

G_END_DECLS
