/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One photo, or two beside each other, at any scale: the whole of it or its pixels. Both move and
 * grow together. Draws and tells what it is told; knows no catalogue. */
#pragma once

#include <gtk/gtk.h>

#include "app/picture-source.h"
#include "app/pictures.h"

G_BEGIN_DECLS

#define SW_TYPE_CLOSER_CANVAS (sw_closer_canvas_get_type ())
G_DECLARE_FINAL_TYPE (SwCloserCanvas, sw_closer_canvas, SW, CLOSER_CANVAS, GtkWidget)

/* What stands above a photo. word and icon say what is wrong with it (NULL: nothing). */
typedef struct
{
  const char *text, *word, *icon;
} SwCloserTold;

/* Signals: "zoomed" (): the scale is another one. "chosen" (int side): the person turned to that
 * side of two. "step" (int by): the person wants the next photo or the one before. */

/* NULL, NULL: lets go of all pixels. */
void sw_closer_canvas_set_source (SwCloserCanvas *self, SwPictures *pictures,
                                  SwPictureSource *source);

/* Shows a photo, and another beside it (0: none); 'ahead' are likely to be shown next. The scale
 * and what is looked at stay. */
void sw_closer_canvas_show (SwCloserCanvas *self, gint64 photo, gint64 beside, const gint64 *ahead,
                            guint n_ahead);
/* side 0 or 1. Copied. */
void sw_closer_canvas_tell (SwCloserCanvas *self, int side, const SwCloserTold *told);
void sw_closer_canvas_choose (SwCloserCanvas *self, int side);
int sw_closer_canvas_get_chosen (SwCloserCanvas *self);
/* Of a photo that is turned otherwise now. */
void sw_closer_canvas_forget (SwCloserCanvas *self, gint64 photo);

/* Pixels of the screen to one of the photo, about the middle of the view; 0: the whole photo. */
void sw_closer_canvas_set_zoom (SwCloserCanvas *self, double zoom);
/* One step nearer (1) or farther (-1). */
void sw_closer_canvas_step_zoom (SwCloserCanvas *self, int by);
/* What is shown now, also where it is the whole photo; 0: not known yet. */
double sw_closer_canvas_get_zoom (SwCloserCanvas *self);
gboolean sw_closer_canvas_is_whole (SwCloserCanvas *self);
/* All that is shown is there in full. */
gboolean sw_closer_canvas_is_idle (SwCloserCanvas *self);

G_END_DECLS
