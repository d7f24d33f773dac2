/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the look closer share: its state, and where things are in it. For
 * closer-canvas.c and closer-draw.c alone. */
#pragma once

#include "app/closer-canvas.h"
#include "app/closer-pixels.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 photo; /* 0: none */
  char *text, *word, *icon;
} SwCloserSide;

struct _SwCloserCanvas
{
  GtkWidget parent;
  SwPictures *pictures;
  SwCloserPixels *pixels;
  gulong small_id, loaded_id;
  SwCloserSide sides[2];
  int chosen;
  GArray *ahead; /* gint64 */
  double zoom;   /* 0: the whole */
  double x, y;   /* of the photo, 0 to 1, in the middle of the view */
  double start_x, start_y, start_zoom;
  GtkGesture *press, *drag, *pinch;
};

/* What is seen of a photo at a scale: all in pixels of the photo, but zoom. */
typedef struct
{
  double zoom;
  double x, y, width, height;            /* of the view; may be larger than the photo */
  double full_width, full_height, scale; /* scale: of the screen */
} SwCloserSeen;

/* ---- closer-draw.c ---- */

/* How many photos are shown: 0, 1 or 2. */
int sw_closer_n_sides (SwCloserCanvas *self);
/* Of a side whole, and of its photo below the title; in logical pixels. */
void sw_closer_side_area (SwCloserCanvas *self, int side, GdkRectangle *out);
void sw_closer_photo_area (SwCloserCanvas *self, int side, GdkRectangle *out);
/* FALSE while there is no picture. */
gboolean sw_closer_view_of (SwCloserCanvas *self, int side, SwCloserSeen *out);
gboolean sw_closer_canvas_draw (GtkWidget *widget, cairo_t *cr);

G_END_DECLS
