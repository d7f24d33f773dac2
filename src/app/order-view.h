/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A photo between those taken just before and after it, as the clocks stand and as a change of one
 * would have them. Works nothing out; decides nothing. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "core/match/clock-order.h"

G_BEGIN_DECLS

#define SW_TYPE_ORDER_VIEW (sw_order_view_get_type ())
G_DECLARE_FINAL_TYPE (SwOrderView, sw_order_view, SW, ORDER_VIEW, GtkDrawingArea)

/* Signal "go" (int step): the person wants another photo of the camera in the middle, so many
 * further by its files; G_MININT and G_MAXINT: its first and last. */
void sw_order_view_set_pictures (SwOrderView *self, SwPictures *pictures);
/* order is borrowed until the next call and may be NULL; photo is an index into it; change NULL:
 * none yet. */
void sw_order_view_set (SwOrderView *self, const SwClockOrder *order, guint photo,
                        const SwClockChange *change);

G_END_DECLS
