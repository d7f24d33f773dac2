/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Draws a strip. A frame costs what is in view: photos are surfaces at the size they are shown,
 * words are layouts, both kept. Positions along the time are mirrored in one place. */
#include "app/strip-draw.h"

#include "app/cell-draw.h"
#include "app/stop-words.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/catalogue/photo-quality.h"

/* Finished cells kept; past this all are dropped, which costs one frame. */
#define KEEP_PHOTOS 400
#define KEEP_WORDS 300
#define BRACKET_H 6
#define GAP_MOST_LABEL 8

typedef struct
{
  PangoLayout *word, *time, *title, *reason;
  int time_width;
  const char *icon;
} Words;

static void
words_free (gpointer data)
{
  Words *words = data;

  g_clear_object (&words->word);
  g_clear_object (&words->time);
  g_clear_object (&words->title);
  g_clear_object (&words->reason);
  g_free (words);
}

static void
surface_free (gpointer surface)
{
  if (surface != NULL)
    cairo_surface_destroy (surface);
}

void
sw_strip_brush_init (SwStripBrush *self, GtkWidget *widget)
{
  *self = (SwStripBrush){
    .widget = widget, .cursor = -1, .picked_from = -1, .picked_to = -1, .drop_stop = -1
  };
  self->photos = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, surface_free);
  self->words = g_hash_table_new_full (NULL, NULL, NULL, words_free);
  self->icons = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, surface_free);
}

void
sw_strip_brush_clear (SwStripBrush *self)
{
  g_clear_pointer (&self->photos, g_hash_table_unref);
  g_clear_pointer (&self->words, g_hash_table_unref);
  g_clear_pointer (&self->icons, g_hash_table_unref);
}

void
sw_strip_brush_measure (SwStripBrush *self)
{
  g_autoptr (PangoLayout) layout = sw_cell_text_layout (self->widget, "Xg", -1, FALSE);
  SwStripHeights *h = &self->heights;
  int line = 16;

  pango_layout_get_pixel_size (layout, NULL, &line);
  h->line = line;
  h->band_y = 6;
  h->band_h = line + 6;
  h->photo_y = h->band_y + h->band_h + 10;
  h->photo_h = CLAMP (line * 5, 72, 100); /* large letters leave room for themselves */
  h->bracket_y = h->photo_y + h->photo_h + 6;
  h->words_y = h->bracket_y + BRACKET_H + 4;
  h->height = h->words_y + 3 * (line + 2) + 10;
  self->metrics = (SwStripMetrics){ .photo = h->photo_h * 4 / 3,
                                    .file = line * 4,
                                    .least_stop = line * 10,
                                    .pad = 8,
                                    .near = 3,
                                    .between = 12,
                                    .fold = line * 5,
                                    .per_second = 0.2 };
  sw_strip_brush_forget (self, 0);
}

void
sw_strip_brush_forget (SwStripBrush *self, gint64 photo)
{
  if (photo != 0)
    {
      g_hash_table_remove (self->photos, &photo);
      return;
    }
  g_hash_table_remove_all (self->photos);
  g_hash_table_remove_all (self->icons);
  sw_strip_brush_forget_words (self);
}

void
sw_strip_brush_forget_words (SwStripBrush *self)
{
  g_hash_table_remove_all (self->words);
}

/* ---- one frame ---- */

typedef struct
{
  SwStripBrush *brush;
  cairo_t *cr;
  GtkStyleContext *style;
  gint64 offset;
  int width;
  gboolean mirrored;
} Frame;

/* Left edge on the screen of what begins at x along the time and is so wide. */
static int
screen_x (const Frame *frame, gint64 x, int width)
{
  gint64 at = CLAMP (x - frame->offset, -1000000, 1000000);

  return frame->mirrored ? (int)(frame->width - at - width) : (int)at;
}

static void
begin_class (const Frame *frame, const char *class, GtkStateFlags state)
{
  gtk_style_context_save (frame->style);
  gtk_style_context_set_state (
      frame->style, (gtk_style_context_get_state (frame->style)
                     & (GtkStateFlags) ~(GTK_STATE_FLAG_SELECTED | GTK_STATE_FLAG_PRELIGHT))
                        | state);
  if (class != NULL)
    gtk_style_context_add_class (frame->style, class);
}

static void
draw_box (const Frame *frame, const char *class, GtkStateFlags state, int x, int y, int width,
          int height)
{
  begin_class (frame, class, state);
  gtk_render_background (frame->style, frame->cr, x, y, width, height);
  gtk_render_frame (frame->style, frame->cr, x, y, width, height);
  gtk_style_context_restore (frame->style);
}

static void
draw_icon (const Frame *frame, const char *name, int x, int y)
{
  SwStripBrush *brush = frame->brush;
  cairo_surface_t *icon = g_hash_table_lookup (brush->icons, name);

  if (icon == NULL)
    {
      icon = sw_icon_surface (brush->widget, name);
      g_hash_table_insert (brush->icons, (gpointer)name, icon);
    }
  if (icon != NULL)
    gtk_render_icon_surface (frame->style, frame->cr, icon, x, y);
}

static void
set_colour (const Frame *frame, double alpha)
{
  GdkRGBA colour;

  gtk_style_context_get_color (frame->style, gtk_style_context_get_state (frame->style), &colour);
  colour.alpha *= alpha;
  gdk_cairo_set_source_rgba (frame->cr, &colour);
}

/* ---- bands ---- */

/* The path stays in sight as long as its band does. */
static void
draw_band (const Frame *frame, const SwStripBand *band)
{
  SwStripBrush *brush = frame->brush;
  const SwStripHeights *h = &brush->heights;
  const SwStopRecord *stop = g_ptr_array_index (brush->strip->stops, band->first);
  gint64 from = MAX (band->x, frame->offset), upto = MIN (band->end, frame->offset + frame->width);
  int width = (int)(band->end - band->x), seen = (int)(upto - from);
  g_autoptr (PangoLayout) layout = NULL;

  draw_box (frame, "sw-band", 0, screen_x (frame, band->x, width), h->band_y, width, h->band_h);
  if (seen < 3 * h->line)
    return;
  layout = sw_cell_text_layout (brush->widget, stop->place_path, seen - 16, FALSE);
  sw_cell_align (layout);
  begin_class (frame, "sw-band", 0);
  sw_cell_draw_layout (brush->widget, frame->cr, layout, NULL,
                       screen_x (frame, from + 8, seen - 16), h->band_y + 3);
  gtk_style_context_restore (frame->style);
}

static void
draw_bands (const Frame *frame)
{
  const SwStripLayout *layout = frame->brush->layout;

  for (guint b = sw_strip_bands_from (layout, frame->offset); b < layout->bands->len; b++)
    {
      const SwStripBand *band = &g_array_index (layout->bands, SwStripBand, b);
      if (band->x > frame->offset + frame->width)
        return;
      draw_band (frame, band);
    }
}

/* ---- gaps ---- */

/* Two strokes across: here the scale is broken. */
static void
draw_break (const Frame *frame, int x, int y)
{
  for (int k = 0; k < 2; k++)
    {
      cairo_move_to (frame->cr, x - 7 + 6 * k, y + 7);
      cairo_line_to (frame->cr, x + 1 + 6 * k, y - 7);
    }
  cairo_stroke (frame->cr);
}

static void
draw_gap (const Frame *frame, const SwStripSpan *span, gint64 from, gint64 upto)
{
  SwStripBrush *brush = frame->brush;
  const SwStripHeights *h = &brush->heights;
  int width = (int)(upto - from), x = screen_x (frame, from, width);
  int y = h->photo_y + h->photo_h / 2;
  g_autofree char *text = NULL;
  int used = 0;

  set_colour (frame, 0.45);
  cairo_set_line_width (frame->cr, 1);
  if (width > 6)
    {
      cairo_move_to (frame->cr, x + 2, y + 0.5);
      cairo_line_to (frame->cr, x + width - 2, y + 0.5);
      cairo_stroke (frame->cr);
    }
  if (span->gap != SW_GAP_SCALED)
    {
      set_colour (frame, 1);
      cairo_set_line_width (frame->cr, 2);
      draw_break (frame, x + width / 2, y);
    }
  else if (span->gap_s < 60)
    return;
  text = sw_strip_gap_text (span);
  used = sw_cell_text_width (brush->widget, text);
  if (used + GAP_MOST_LABEL <= width)
    sw_cell_draw_text (brush->widget, frame->cr, text, GTK_STYLE_CLASS_DIM_LABEL,
                       x + (width - used) / 2, y + 10, -1, FALSE);
}

/* Where the unit before u ends, its stop with it. */
static gint64
end_before (const SwStripBrush *brush, guint u)
{
  const SwStripUnit *unit = &g_array_index (brush->strip->units, SwStripUnit, u);
  const SwStripUnit *before = &g_array_index (brush->strip->units, SwStripUnit, u - 1);
  const SwStripSpan *span = &brush->layout->units[u - 1];

  if (before->stop >= 0 && before->stop != unit->stop)
    return brush->layout->stops[before->stop].x + brush->layout->stops[before->stop].width;
  return span->x + span->width;
}

static void
draw_gap_before (const Frame *frame, guint u)
{
  const SwStripBrush *brush = frame->brush;
  const SwStripUnit *unit = &g_array_index (brush->strip->units, SwStripUnit, u);
  const SwStripSpan *span = &brush->layout->units[u];
  gboolean within;

  if (u == 0)
    return;
  within = unit->stop >= 0
           && unit->stop == g_array_index (brush->strip->units, SwStripUnit, u - 1).stop;
  if (within && span->gap == SW_GAP_SCALED)
    return;
  draw_gap (frame, span, end_before (brush, u),
            unit->stop >= 0 && !within ? brush->layout->stops[unit->stop].x : span->x);
}

/* ---- photos ---- */

/* The photo at the size it is shown, once it has come. */
static cairo_surface_t *
finished_photo (const Frame *frame, gint64 photo)
{
  SwStripBrush *brush = frame->brush;
  const SwStripHeights *h = &brush->heights;
  GdkRectangle area = { 0, 0, brush->metrics.photo, h->photo_h };
  cairo_surface_t *surface = g_hash_table_lookup (brush->photos, &photo);
  gboolean missing = FALSE;
  cairo_t *cr;

  /* asked for each time it is seen: what only stands in is replaced in that order */
  if (sw_pictures_get (brush->pictures, photo, SW_PICTURE_SMALL, &missing) == NULL && !missing)
    return surface;
  if (surface != NULL)
    return surface;
  if (g_hash_table_size (brush->photos) >= KEEP_PHOTOS)
    g_hash_table_remove_all (brush->photos);
  surface = gdk_window_create_similar_surface (gtk_widget_get_window (brush->widget),
                                               CAIRO_CONTENT_COLOR_ALPHA, area.width, area.height);
  cr = cairo_create (surface);
  sw_pictures_draw (brush->pictures, cr, frame->style, photo, SW_PICTURE_SMALL, &area, FALSE);
  cairo_destroy (cr);
  g_hash_table_insert (brush->photos, g_memdup2 (&photo, sizeof photo), surface);
  return surface;
}

static void
draw_photo (const Frame *frame, const SwStripUnit *unit, const GdkRectangle *area)
{
  cairo_surface_t *surface
      = frame->brush->pictures != NULL ? finished_photo (frame, unit->photo) : NULL;

  if (surface != NULL)
    {
      cairo_set_source_surface (frame->cr, surface, area->x, area->y);
      cairo_paint (frame->cr);
    }
  else
    draw_box (frame, "sw-photo", 0, area->x, area->y, area->width, area->height);
}

static void
draw_file (const Frame *frame, const SwStripUnit *unit, const GdkRectangle *area)
{
  const char *icon = unit->kind == SW_STRIP_MEMO   ? "sw-memo-symbolic"
                     : unit->kind == SW_STRIP_CLIP ? "sw-clip-symbolic"
                                                   : "sw-raw-symbolic";
  const char *word = unit->kind == SW_STRIP_MEMO   ? _ ("Memo")
                     : unit->kind == SW_STRIP_CLIP ? _ ("Clip")
                                                   : _ ("Raw");
  int used = MIN (sw_cell_text_width (frame->brush->widget, word), area->width - 6);

  draw_box (frame, "sw-file", 0, area->x, area->y, area->width, area->height);
  draw_icon (frame, icon, area->x + (area->width - SW_ICON_SIDE) / 2,
             area->y + area->height / 2 - SW_ICON_SIDE - 2);
  sw_cell_draw_text (frame->brush->widget, frame->cr, word, NULL,
                     area->x + (area->width - used) / 2, area->y + area->height / 2 + 2,
                     MAX (1, area->width - 6), FALSE);
}

/* A small field with a symbol in a corner of the photo. */
static void
draw_badge (const Frame *frame, const char *icon, int x, int y)
{
  draw_box (frame, "sw-badge", 0, x, y, SW_ICON_SIDE + 6, SW_ICON_SIDE + 6);
  begin_class (frame, "sw-badge", 0);
  draw_icon (frame, icon, x + 3, y + 3);
  gtk_style_context_restore (frame->style);
}

static void
draw_unit (const Frame *frame, guint u)
{
  SwStripBrush *brush = frame->brush;
  const SwStripHeights *h = &brush->heights;
  const SwStripUnit *unit = &g_array_index (brush->strip->units, SwStripUnit, u);
  const SwStripSpan *span = &brush->layout->units[u];
  GdkRectangle area
      = { screen_x (frame, span->x, span->width), h->photo_y, span->width, h->photo_h };
  gboolean picked = (int)u >= brush->picked_from && (int)u <= brush->picked_to;

  draw_gap_before (frame, u);
  if (unit->file != NULL)
    draw_file (frame, unit, &area);
  else
    draw_photo (frame, unit, &area);
  if (unit->marks != 0)
    draw_badge (frame, sw_photo_mark_icon (unit->marks), area.x + 3,
                area.y + area.height - SW_ICON_SIDE - 9);
  if (picked)
    {
      draw_box (frame, "sw-picked", 0, area.x - 2, area.y - 2, area.width + 4, area.height + 4);
      draw_badge (frame, "sw-sure-symbolic", area.x + area.width - SW_ICON_SIDE - 9, area.y + 3);
    }
  if ((int)u == brush->cursor)
    draw_box (frame, "sw-cursor",
              gtk_widget_has_visible_focus (brush->widget) ? GTK_STATE_FLAG_FOCUSED : 0, area.x - 3,
              area.y - 3, area.width + 6, area.height + 6);
}

/* ---- stops ---- */

static const Words *
words_of (const Frame *frame, guint k)
{
  SwStripBrush *brush = frame->brush;
  const SwStopRecord *stop = g_ptr_array_index (brush->strip->stops, k);
  int width = brush->layout->stops[k].width - 12;
  Words *words = g_hash_table_lookup (brush->words, GUINT_TO_POINTER (k + 1));
  g_autofree char *title = NULL, *time = NULL;

  if (words != NULL)
    return words;
  if (g_hash_table_size (brush->words) >= KEEP_WORDS)
    g_hash_table_remove_all (brush->words);
  words = g_new0 (Words, 1);
  title = sw_stop_title (stop);
  time = sw_strip_time (stop->timed, stop->start_us, FALSE);
  words->icon = sw_stop_icon (stop);
  words->time = sw_cell_text_layout (brush->widget, time, -1, FALSE);
  pango_layout_get_pixel_size (words->time, &words->time_width, NULL);
  words->word = sw_cell_text_layout (brush->widget, sw_stop_word (stop),
                                     MAX (1, width - words->time_width - SW_ICON_SIDE - 14), FALSE);
  words->title = sw_cell_text_layout (brush->widget, title, width, TRUE);
  words->reason = sw_cell_text_layout (brush->widget, stop->reason, width, FALSE);
  /* words begin where the stop does, in whichever script they are */
  sw_cell_align (words->word);
  sw_cell_align (words->title);
  sw_cell_align (words->reason);
  g_hash_table_insert (brush->words, GUINT_TO_POINTER (k + 1), words);
  return words;
}

static void
draw_words (const Frame *frame, guint k, int x, int width)
{
  const SwStripHeights *h = &frame->brush->heights;
  const Words *words = words_of (frame, k);
  GtkWidget *widget = frame->brush->widget;
  int y = h->words_y, inner = width - 12;
  int icon_x = frame->mirrored ? x + 6 + inner - SW_ICON_SIDE : x + 6;
  int word_x = frame->mirrored ? x + 6 + words->time_width + 8 : x + 6 + SW_ICON_SIDE + 6;

  draw_icon (frame, words->icon, icon_x, y + (h->line - SW_ICON_SIDE) / 2);
  sw_cell_draw_layout (widget, frame->cr, words->word, NULL, word_x, y);
  sw_cell_draw_layout (widget, frame->cr, words->time, GTK_STYLE_CLASS_DIM_LABEL,
                       frame->mirrored ? x + 6 : x + 6 + inner - words->time_width, y);
  sw_cell_draw_layout (widget, frame->cr, words->title, NULL, x + 6, y + h->line + 2);
  sw_cell_draw_layout (widget, frame->cr, words->reason, GTK_STYLE_CLASS_DIM_LABEL, x + 6,
                       y + 2 * (h->line + 2));
}

static void
draw_bracket (const Frame *frame, gboolean decided, int x, int width)
{
  double y = frame->brush->heights.bracket_y + 0.5;

  set_colour (frame, decided ? 0.5 : 1);
  cairo_set_line_width (frame->cr, decided ? 1 : 2);
  cairo_move_to (frame->cr, x + 3, y);
  cairo_line_to (frame->cr, x + 3, y + BRACKET_H);
  cairo_line_to (frame->cr, x + width - 3, y + BRACKET_H);
  cairo_line_to (frame->cr, x + width - 3, y);
  cairo_stroke (frame->cr);
}

static void
draw_stop (const Frame *frame, guint k)
{
  SwStripBrush *brush = frame->brush;
  const SwStripHeights *h = &brush->heights;
  const SwStopRecord *stop = g_ptr_array_index (brush->strip->stops, k);
  const SwStripSpan *span = &brush->layout->stops[k];
  int x = screen_x (frame, span->x, span->width);
  gboolean chosen
      = brush->cursor >= 0
        && g_array_index (brush->strip->units, SwStripUnit, (guint)brush->cursor).stop == (int)k;

  if (chosen || brush->drop_stop == (int)k)
    draw_box (frame, brush->drop_stop == (int)k ? "sw-drop-here" : "sw-stop",
              GTK_STATE_FLAG_SELECTED, x, h->photo_y - 6, span->width, h->height - h->photo_y + 2);
  begin_class (frame, "sw-stop", 0);
  if (stop->n_open == 0)
    gtk_style_context_add_class (frame->style, "sw-done");
  draw_bracket (frame, stop->n_open == 0, x, span->width);
  draw_words (frame, k, x, span->width);
  gtk_style_context_restore (frame->style);
}

/* ---- what a drag would do ---- */

static void
draw_drop (const Frame *frame)
{
  SwStripBrush *brush = frame->brush;
  const SwStripHeights *h = &brush->heights;
  int n = brush->picked_to - brush->picked_from + 1;
  g_autofree char *text = NULL;
  int used, x;

  if (brush->drop_stop < 0 && !brush->drop_gap)
    return;
  text = brush->drop_gap
             ? sw_text_count (n, "%d photo: a stop of its own", "%d photos: a stop of their own")
             : sw_text_counted (n, "%d photo: to stop %d", "%d photos: to stop %d", n,
                                brush->drop_stop + 1);
  used = sw_cell_text_width (brush->widget, text);
  x = (int)CLAMP (brush->drop_x + 12, 4, MAX (4, frame->width - used - 20));
  draw_box (frame, "sw-badge", 0, x, h->photo_y - 8, used + 16, h->line + 8);
  begin_class (frame, "sw-badge", 0);
  sw_cell_draw_text (brush->widget, frame->cr, text, NULL, x + 8, h->photo_y - 4, -1, FALSE);
  gtk_style_context_restore (frame->style);
}

void
sw_strip_brush_draw (SwStripBrush *self, cairo_t *cr, gint64 offset, int width)
{
  Frame frame = { self,   cr,    gtk_widget_get_style_context (self->widget),
                  offset, width, gtk_widget_get_direction (self->widget) == GTK_TEXT_DIR_RTL };
  const SwStripLayout *layout = self->layout;

  if (self->strip == NULL)
    return;
  draw_bands (&frame);
  for (guint k = sw_strip_spans_from (layout->stops, layout->n_stops, offset);
       k < layout->n_stops && layout->stops[k].x < offset + width; k++)
    draw_stop (&frame, k);
  /* one more on each side: the gap before it reaches into view */
  for (guint u = sw_strip_spans_from (layout->units, layout->n_units, offset); u < layout->n_units;
       u++)
    {
      draw_unit (&frame, u);
      if (layout->units[u].x > offset + width)
        break;
    }
  draw_drop (&frame);
}
