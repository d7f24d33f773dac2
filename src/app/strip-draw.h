/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a strip looks: bands of places above, photos in a row with the gaps between them, a bracket
 * and three lines of words below each stop. Draws what is in view and keeps finished cells. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "app/strip-layout.h"

G_BEGIN_DECLS

/* Pixels from the top. */
typedef struct
{
  int line; /* of text */
  int band_y, band_h;
  int photo_y, photo_h;
  int bracket_y;
  int words_y;
  int height;
} SwStripHeights;

typedef struct
{
  GtkWidget *widget; /* gives style, fonts, direction; not owned */
  SwPictures *pictures;
  const SwStrip *strip;
  const SwStripLayout *layout;
  SwStripHeights heights;
  SwStripMetrics metrics;
  /* what is chosen, by units; -1: none */
  int cursor, picked_from, picked_to;
  /* where a drag would drop: a stop, or (drop_gap) a stop of its own; -1: nowhere */
  int drop_stop;
  gboolean drop_gap;
  double drop_x; /* of the pointer, where the words are shown */
  /* finished cells */
  GHashTable *photos; /* number -> cairo_surface_t */
  GHashTable *words;  /* stop -> what its lines are */
  GHashTable *icons;  /* name -> cairo_surface_t */
} SwStripBrush;

void sw_strip_brush_init (SwStripBrush *self, GtkWidget *widget);
void sw_strip_brush_clear (SwStripBrush *self);
/* Sizes by the widget's font. */
void sw_strip_brush_measure (SwStripBrush *self);
/* Forgets finished cells: of one photo (a better picture came), or all of them (photo 0). */
void sw_strip_brush_forget (SwStripBrush *self, gint64 photo);
/* The stops are others: their words are laid out anew. */
void sw_strip_brush_forget_words (SwStripBrush *self);

/* Draws what is seen from 'offset' (from the beginning of time, mirrored or not) on 'width' pixels. */
void sw_strip_brush_draw (SwStripBrush *self, cairo_t *cr, gint64 offset, int width);

G_END_DECLS
