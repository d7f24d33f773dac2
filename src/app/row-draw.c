/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lays out and draws one row of a row list. Knows no list, offset or choice. */
#include "app/row-draw.h"

#include "app/cell-draw.h"
#include "app/widgets.h"

#define PAD 10
#define LINE_PAD 8
#define GAP 4
#define PICTURE_W 76
#define PICTURE_H 57

int
sw_row_height (const SwRowBrush *self, SwRowKind kind)
{
  switch (kind)
    {
    case SW_ROW_ITEM:
      return 2 * PAD + MAX (PICTURE_H, 2 * self->line + GAP);
    case SW_ROW_OFFER:
      return 2 * PAD + MAX (PICTURE_H, 3 * self->line + 2 * GAP);
    case SW_ROW_LINE:
    default:
      return 2 * LINE_PAD + self->line;
    }
}

/* Where something of that width begins, at x as read from the left or, mirrored, from the right. */
static int
mirrored (const SwRowBrush *self, int x, int width)
{
  if (gtk_widget_get_direction (self->widget) != GTK_TEXT_DIR_RTL)
    return x;
  return gtk_widget_get_allocated_width (self->widget) - x - width;
}

static int
draw_text (const SwRowBrush *self, cairo_t *cr, const char *text, const char *class, int x, int y,
           int width, gboolean bold)
{
  int box = width >= 0 ? width : sw_cell_text_width (self->widget, text);

  return sw_cell_draw_text (self->widget, cr, text, class, mirrored (self, x, box), y, width, bold);
}

/* Title at the left, trail at the right of one line. */
static void
draw_title (const SwRowBrush *self, cairo_t *cr, const SwRowFace *face, int x, int y, int width)
{
  int trail = 0;

  if (face->trail != NULL)
    {
      trail = sw_cell_text_width (self->widget, face->trail);
      draw_text (self, cr, face->trail, NULL, x + width - trail, y, -1, FALSE);
      trail += 12;
    }
  draw_text (self, cr, face->title != NULL ? face->title : "", NULL, x, y, MAX (1, width - trail),
             TRUE);
}

/* Title, detail and trail on one line. */
static void
draw_line (const SwRowBrush *self, cairo_t *cr, const SwRowFace *face, int x, int y, int width)
{
  int trail = face->trail != NULL ? sw_cell_text_width (self->widget, face->trail) : 0;
  int used;

  if (face->trail != NULL)
    draw_text (self, cr, face->trail, NULL, x + width - trail, y, -1, FALSE);
  width -= trail + 12;
  used = draw_text (self, cr, face->title != NULL ? face->title : "", NULL, x, y,
                    MAX (1, width * 3 / 5), TRUE);
  used += 12;
  if (face->icon != NULL && width - used > 40)
    {
      sw_draw_icon (self->widget, cr, face->icon, mirrored (self, x + used, SW_ICON_SIDE),
                    y + (self->line - SW_ICON_SIDE) / 2);
      used += SW_ICON_SIDE + 6;
    }
  if (face->detail != NULL && width - used > 28)
    draw_text (self, cr, face->detail, GTK_STYLE_CLASS_DIM_LABEL, x + used, y, width - used, FALSE);
}

/* Symbol, word and detail on one line. */
static void
draw_words (const SwRowBrush *self, cairo_t *cr, const char *icon, const char *word,
            const char *detail, int x, int y, int width)
{
  int right = x + width;

  if (icon != NULL)
    {
      sw_draw_icon (self->widget, cr, icon, mirrored (self, x, SW_ICON_SIDE),
                    y + (self->line - SW_ICON_SIDE) / 2);
      x += SW_ICON_SIDE + 6;
    }
  if (word != NULL)
    x += draw_text (self, cr, word, NULL, x, y, MAX (1, right - x), FALSE) + 10;
  if (detail != NULL && right - x > 24)
    draw_text (self, cr, detail, GTK_STYLE_CLASS_DIM_LABEL, x, y, right - x, FALSE);
}

void
sw_row_draw (const SwRowBrush *self, cairo_t *cr, SwRowKind kind, const SwRowFace *face,
             const GdkRectangle *row)
{
  GtkStyleContext *style = gtk_widget_get_style_context (self->widget);
  int x = row->x + PAD + 2, y = row->y + PAD, width = row->width - 2 * PAD - 4;

  if (kind == SW_ROW_LINE)
    {
      draw_line (self, cr, face, x, row->y + LINE_PAD, width);
      return;
    }
  if (kind == SW_ROW_ITEM || kind == SW_ROW_OFFER)
    {
      int lines = kind == SW_ROW_OFFER ? 3 : 2;
      GdkRectangle area = { mirrored (self, x, PICTURE_W), y, PICTURE_W, PICTURE_H };
      int inner = (PICTURE_H - lines * self->line - (lines - 1) * GAP) / 2;
      sw_pictures_draw (self->pictures, cr, style, face->picture, SW_PICTURE_SMALL, &area, FALSE);
      x += PICTURE_W + 12;
      width -= PICTURE_W + 12;
      y += MAX (0, inner);
    }
  draw_title (self, cr, face, x, y, width);
  y += self->line + GAP;
  draw_words (self, cr, face->icon, face->word, face->detail, x, y, width);
  if (kind == SW_ROW_OFFER)
    draw_words (self, cr, face->below_icon, face->below_word, face->below, x, y + self->line + GAP,
                width);
}
