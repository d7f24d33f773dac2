/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a row looks: its height by kind, and its face drawn into a rectangle. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "app/rows.h"

G_BEGIN_DECLS

/* What is drawn with: the widget gives style and fonts; pictures may be NULL; 'line' is the height
 * of a text line in pixels. */
typedef struct
{
  GtkWidget *widget;
  SwPictures *pictures;
  int line;
} SwRowBrush;

/* Pixels. */
int sw_row_height (const SwRowBrush *self, SwRowKind kind);
/* Draws into 'row'; background and focus are the list's. */
void sw_row_draw (const SwRowBrush *self, cairo_t *cr, SwRowKind kind, const SwRowFace *face,
                  const GdkRectangle *row);

G_END_DECLS
