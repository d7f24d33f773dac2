/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the strip share: its state, places along the time, choosing and picking. For
 * strip-view.c, strip-pointer.c and strip-cells.c alone. */
#pragma once

#include "app/cells-accessible.h"
#include "app/scroll.h"
#include "app/strip-draw.h"
#include "app/strip-view.h"

G_BEGIN_DECLS

struct _SwStripView
{
  GtkWidget parent;
  SwStrip *strip;
  SwStripLayout *layout;
  SwPictures *pictures;
  gulong loaded_id;
  SwStripBrush brush;
  int anchor; /* where picking began; -1: none */
  SwScroll scroll;
  GtkGesture *press, *drag;
  gboolean dragging;
  guint edge_tick; /* scrolls on while a drag rests at an edge */
};

/* ---- strip-view.c ---- */

/* Units of the layout, in order of time: photos, gaps, notes. */
int sw_strip_n_units (SwStripView *self);
const SwStripUnit *sw_strip_unit_at (SwStripView *self, int u);
/* Whether time runs from right to left. */
gboolean sw_strip_is_mirrored (SwStripView *self);
/* Of what is seen, in pixels. */
int sw_strip_view_width (SwStripView *self);
/* From the beginning of the trip to the edge that it begins at, in pixels. */
double sw_strip_offset (SwStripView *self);
void sw_strip_set_offset (SwStripView *self, double to);
/* What lies under x of the widget, from the beginning of the trip. */
gint64 sw_strip_time_x (SwStripView *self, double x);

/* Chooses unit u and brings it into view; tell: with its signal. */
void sw_strip_choose (SwStripView *self, int u, gboolean tell);
/* Extends the picked run to unit u of the same stop. */
void sw_strip_pick_to (SwStripView *self, int u);
void sw_strip_pick_nothing_quietly (SwStripView *self);
/* FALSE where nothing was picked, or is chosen. */
gboolean sw_strip_pick_nothing (SwStripView *self);
gboolean sw_strip_activate_chosen (SwStripView *self);

/* ---- strip-pointer.c ---- */

void sw_strip_pointer_init (SwStripView *self);
/* Ends a drag without its effect, and what scrolls with it. */
void sw_strip_stop_dragging (SwStripView *self);
/* Handlers of the widget class. */
gboolean sw_strip_pointer_scroll (GtkWidget *widget, GdkEventScroll *event);
gboolean sw_strip_pointer_tooltip (GtkWidget *widget, int x, int y, gboolean keyboard,
                                   GtkTooltip *tooltip);

/* ---- strip-cells.c ---- */

void sw_strip_cells_init (SwCellsInterface *iface);

G_END_DECLS
