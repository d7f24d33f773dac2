/* SPDX-License-Identifier: GPL-3.0-or-later */
/* When a clip or a voice memo was made, from its own header. Intake layer.
 * For files built of boxes (MP4, M4A, MOV, 3GP); touches neither pictures nor sound. */
#pragma once

#include "core/base/civil.h"
#include "core/intake/container.h"

G_BEGIN_DECLS

/* The movie header's creation time (ISO/IEC 14496-12, Movie Header Box: seconds since the start of
 * 1904, in UTC). FALSE where there is none, it is zero, or the boxes do not hold together. */
gboolean sw_movie_time_read (const SwPeek *peek, SwInstant *out_made);

G_END_DECLS
