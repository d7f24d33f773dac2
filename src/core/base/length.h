/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lengths on the ground, in whole millimetres. Base layer. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* "24 m", "24.5m", "2400 mm", "240 cm", "80 ft", "9 in"; a bare number is metres. A decimal comma
 * is taken unless three digits follow it (it could part thousands). Feet and inches by the
 * international ones (25.4 mm an inch exactly); rounded to a millimetre, half up. From 1 mm to
 * 100 km. Error: BAD_INPUT. */
gboolean sw_length_parse (const char *text, gint64 *out_mm, GError **error);
/* "24 m", "24.5 m", "0.35 m": metres with the decimals needed, at most two. Transfer full. */
char *sw_length_to_text (gint64 mm);

G_END_DECLS
