/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Positions on the globe as people type them. Base layer. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* "LAT,LON" in decimal degrees (WGS 84), blanks around the comma allowed. Error: BAD_INPUT. */
gboolean sw_position_parse (const char *text, double *out_latitude, double *out_longitude,
                            GError **error);
/* "-41.32000, 174.81000": five decimals are about a metre. Transfer full. */
char *sw_position_to_text (double latitude, double longitude);

G_END_DECLS
