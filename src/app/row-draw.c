/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lays out and draws one row of a row list. Knows no list, offset or choice. */
#include "app/row-draw.h"

#include "app/widgets.h"

#define PAD 10
#define LINE_PAD 8
#define GAP 4
#define PICTURE_W 76
#define PICTURE_H 57
#define STRIP_H 66
#define STRIP_W 88
#define ICON SW_ICON_SIDE

int
sw_row_height (const SwRowBrush *self, SwRowKind kind)
{
  switch (kind)
    {
    case SW_ROW_ITEM:
      return 2 * PAD + MAX (PICTURE_H, 2 * self->line + GAP);
    case SW_ROW_STOP:
      return 2 * PAD + 3 * self->line + 2 * GAP + STRIP_H + GAP;
    case SW_ROW_LINE:
    default:
      return 2 * LINE_PAD + self->line;
    }
}

static PangoLayout *
text_layout (const SwRowBrush *self, const char *text, int width, gboolean bold)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (self->widget, text);

  pango_layout_set_single_paragraph_mode (layout, TRUE);
  if (width >= 0)
    {
      pango_layout_set_width (layout, width * PANGO_SCALE);
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
    }
  if (bold)
    {
      g_autoptr (PangoAttrList) attributes = pango_attr_list_new ();
      pango_attr_list_insert (attributes, pango_attr_weight_new (PANGO_WEIGHT_SEMIBOLD));
      pango_layout_set_attributes (layout, attributes);
    }
  return layout;
}

/* Draws one line, cut to 'width' (-1: as wide as it is); returns what it took. */
static int
draw_text (const SwRowBrush *self, cairo_t *cr, const char *text, const char *class, int x, int y,
           int width, gboolean bold)
{
  GtkStyleContext *style = gtk_widget_get_style_context (self->widget);
  g_autoptr (PangoLayout) layout = text_layout (self, text, width, bold);
  int used = 0;

  pango_layout_get_pixel_size (layout, &used, NULL);
  gtk_style_context_save (style);
  if (class != NULL)
    gtk_style_context_add_class (style, class);
  gtk_render_layout (style, cr, x, y, layout);
  gtk_style_context_restore (style);
  return used;
}

static int
text_width (const SwRowBrush *self, const char *text)
{
  g_autoptr (PangoLayout) layout = text_layout (self, text, -1, FALSE);
  int width = 0;

  pango_layout_get_pixel_size (layout, &width, NULL);
  return width;
}

/* Title at the left, trail at the right of one line. */
static void
draw_title (const SwRowBrush *self, cairo_t *cr, const SwRowFace *face, int x, int y, int width)
{
  int trail = 0;

  if (face->trail != NULL)
    {
      trail = text_width (self, face->trail);
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
  int trail = face->trail != NULL ? text_width (self, face->trail) : 0;
  int used;

  if (face->trail != NULL)
    draw_text (self, cr, face->trail, NULL, x + width - trail, y, -1, FALSE);
  width -= trail + 12;
  used = draw_text (self, cr, face->title != NULL ? face->title : "", NULL, x, y,
                    MAX (1, width * 3 / 5), TRUE);
  if (face->detail != NULL && width - used > 40)
    draw_text (self, cr, face->detail, GTK_STYLE_CLASS_DIM_LABEL, x + used + 12, y,
               width - used - 12, FALSE);
}

/* Symbol, word and detail on one line. */
static void
draw_state (const SwRowBrush *self, cairo_t *cr, const SwRowFace *face, int x, int y, int width)
{
  int right = x + width;

  if (face->icon != NULL)
    {
      sw_draw_icon (self->widget, cr, face->icon, x, y + (self->line - ICON) / 2);
      x += ICON + 6;
    }
  if (face->word != NULL)
    x += draw_text (self, cr, face->word, NULL, x, y, MAX (1, right - x), FALSE) + 10;
  if (face->detail != NULL && right - x > 24)
    draw_text (self, cr, face->detail, GTK_STYLE_CLASS_DIM_LABEL, x, y, right - x, FALSE);
}

static void
draw_strip (const SwRowBrush *self, cairo_t *cr, const SwRowFace *face, int x, int y, int width)
{
  GtkStyleContext *style = gtk_widget_get_style_context (self->widget);
  int fit = MAX (1, (width + GAP) / (STRIP_W + GAP));
  int total = face->n_pictures + face->n_more;
  int n = MIN (face->n_pictures, fit);

  if (n < total && n == fit && n > 1)
    n--; /* room for the count of the others */
  for (int i = 0; i < n; i++)
    {
      GdkRectangle area = { x + i * (STRIP_W + GAP), y, STRIP_W, STRIP_H };
      sw_pictures_draw (self->pictures, cr, style, face->pictures[i], SW_PICTURE_SMALL, &area,
                        FALSE);
    }
  if (n < total)
    {
      g_autofree char *more = g_strdup_printf ("+%d", total - n);
      draw_text (self, cr, more, GTK_STYLE_CLASS_DIM_LABEL, x + n * (STRIP_W + GAP) + 8,
                 y + (STRIP_H - self->line) / 2, -1, FALSE);
    }
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
  if (kind == SW_ROW_ITEM)
    {
      GdkRectangle area = { x, y, PICTURE_W, PICTURE_H };
      int inner = (PICTURE_H - 2 * self->line - GAP) / 2;
      sw_pictures_draw (self->pictures, cr, style, face->n_pictures > 0 ? face->pictures[0] : 0,
                        SW_PICTURE_SMALL, &area, FALSE);
      x += PICTURE_W + 12;
      width -= PICTURE_W + 12;
      y += MAX (0, inner);
    }
  draw_title (self, cr, face, x, y, width);
  y += self->line + GAP;
  draw_state (self, cr, face, x, y, width);
  if (kind != SW_ROW_STOP)
    return;
  y += self->line + GAP;
  if (face->reason != NULL)
    draw_text (self, cr, face->reason, GTK_STYLE_CLASS_DIM_LABEL, x, y, width, FALSE);
  y += self->line + GAP;
  draw_strip (self, cr, face, x, y, width);
}
