/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was drawn of a list's rows, kept from one frame to the next: while a list scrolls, a frame
 * draws the rows that came into view and moves the others. What a frame did not show is let go, so
 * no more is kept than is on the screen. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef struct
{
  GHashTable *rows; /* number of the row -> KeptRow; NULL while there is none */
  guint frame;      /* counts frames */
  int width, scale; /* of the rows kept, in pixels; device pixels to one of them */
} SwRowKeep;

void sw_row_keep_clear (SwRowKeep *self);

/* Before the rows of a frame: rows of another width or scale are let go. */
void sw_row_keep_begin (SwRowKeep *self, int width, int scale);
/* What is kept of the row, or NULL. Transfer none, valid until the frame ends. */
cairo_surface_t *sw_row_keep_find (SwRowKeep *self, guint row);
/* Something opaque to draw the row on, of the height in pixels, that is kept from now on; picture
 * is the photo's number in it, or 0. Transfer none. */
cairo_surface_t *sw_row_keep_add (SwRowKeep *self, GdkWindow *window, guint row, int height,
                                  gint64 picture);
/* After the rows of a frame. */
void sw_row_keep_end (SwRowKeep *self);

/* These rows say something else now. */
void sw_row_keep_told (SwRowKeep *self, guint first, guint n);
/* The photo looks different now. */
void sw_row_keep_loaded (SwRowKeep *self, gint64 picture);

G_END_DECLS
