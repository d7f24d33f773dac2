/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two children: side by side where both have room, else one under the other. Knows nothing of what
 * they are. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define SW_TYPE_SIDE_BOX (sw_side_box_get_type ())
G_DECLARE_FINAL_TYPE (SwSideBox, sw_side_box, SW, SIDE_BOX, GtkContainer)

/* The first child added lies left or above; a third is refused. Never wider at least than the wider
 * of the two, so that folding does not depend on how it was folded before. Property "snug" (at
 * construction): the left one gets no more than it wishes for, else somewhat less than half.
 * Property "filling" (at construction): the right one gets no more than it wishes for, and one
 * under the other the last gets all height that is left. */

G_END_DECLS
