/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The family choice on paper: numbered, with boxes to tick, so that it can be sent back, or read
 * out over the telephone. The unit is the point; the same choice makes the same bytes. */
#include <cairo-pdf.h>
#include <pango/pangocairo.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/answers.h"
#include "core/handout/family-private.h"

/* ISO 216 A4 and its margins. */
#define PAGE_WIDTH 595.28
#define PAGE_HEIGHT 841.89
#define MARGIN 42.0
#define BOTTOM (PAGE_HEIGHT - MARGIN - 18)
#define PICTURE_WIDTH 150.0
#define PICTURE_HEIGHT 118.0
#define TEXT_X (MARGIN + PICTURE_WIDTH + 14)
#define TEXT_WIDTH (PAGE_WIDTH - MARGIN - TEXT_X)
#define BOX 11.0
#define WRITE_LINE 24.0

static const SwAnswerSays choices[]
    = { SW_ANSWER_MINE, SW_ANSWER_KEEP, SW_ANSWER_SELL, SW_ANSWER_UNSURE };

typedef struct
{
  cairo_t *cr;
  PangoFontMap *fonts;
  PangoContext *context;
  const SwFamilyChoice *choice;
  double y;
  int page; /* from 1 */
} Pen;

/* Draws (or only measures) wrapped text with its top at x, y; its height. */
static double
text_at (Pen *pen, double x, double y, double width, double size, gboolean bold, const char *text,
         gboolean draw)
{
  g_autoptr (PangoLayout) layout = pango_layout_new (pen->context);
  PangoFontDescription *font = pango_font_description_from_string ("Sans");
  int height = 0;

  pango_font_description_set_size (font, (int)(size * PANGO_SCALE));
  pango_font_description_set_weight (font, bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_layout_set_width (layout, (int)(width * PANGO_SCALE));
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_text (layout, text, -1);
  pango_layout_get_size (layout, NULL, &height);
  if (draw)
    {
      cairo_move_to (pen->cr, x, y);
      pango_cairo_show_layout (pen->cr, layout);
    }
  return (double)height / PANGO_SCALE;
}

static void
end_page (Pen *pen)
{
  g_autofree char *foot
      = g_strdup_printf (_ ("%s: the family choice, page %d"), pen->choice->property, pen->page);

  text_at (pen, MARGIN, PAGE_HEIGHT - MARGIN + 4, PAGE_WIDTH - 2 * MARGIN, 9, FALSE, foot, TRUE);
  cairo_show_page (pen->cr);
}

static void
make_room (Pen *pen, double height)
{
  if (pen->y + height <= BOTTOM || pen->y <= MARGIN)
    return;
  end_page (pen);
  pen->page++;
  pen->y = MARGIN;
}

static void
set_line (Pen *pen, double size, gboolean bold, const char *text)
{
  double width = PAGE_WIDTH - 2 * MARGIN;
  double height = text_at (pen, MARGIN, 0, width, size, bold, text, FALSE);

  make_room (pen, height);
  text_at (pen, MARGIN, pen->y, width, size, bold, text, TRUE);
  pen->y += height + 4;
}

/* The JPEG goes into the file as it is; the surface only says how large it is. */
static void
draw_picture (Pen *pen, const SwFamilyPicture *picture, double y)
{
  double scale
      = MIN (PICTURE_WIDTH / (double)picture->width, PICTURE_HEIGHT / (double)picture->height);
  gsize n = 0;
  const guint8 *data = g_bytes_get_data (picture->jpeg, &n);
  cairo_surface_t *surface
      = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int)picture->width, (int)picture->height);

  cairo_surface_set_mime_data (surface, CAIRO_MIME_TYPE_JPEG, data, n,
                               (cairo_destroy_func_t)g_bytes_unref, g_bytes_ref (picture->jpeg));
  cairo_save (pen->cr);
  cairo_translate (pen->cr, MARGIN, y);
  cairo_scale (pen->cr, scale, scale);
  cairo_set_source_surface (pen->cr, surface, 0, 0);
  cairo_paint (pen->cr);
  cairo_restore (pen->cr);
  cairo_surface_destroy (surface);
}

static double
set_boxes (Pen *pen, double y, gboolean draw)
{
  const double each = TEXT_WIDTH / G_N_ELEMENTS (choices); /* words differ by language */
  double x = TEXT_X;

  for (gsize i = 0; i < G_N_ELEMENTS (choices); i++)
    {
      if (draw)
        {
          cairo_set_line_width (pen->cr, 0.8);
          cairo_rectangle (pen->cr, x, y + 2, BOX, BOX);
          cairo_stroke (pen->cr);
        }
      text_at (pen, x + BOX + 5, y, each - BOX - 9, 11, FALSE,
               _ (sw_answer_says_shown (choices[i])), draw);
      x += each;
    }
  return BOX + 8;
}

static double
set_writing_line (Pen *pen, double y, gboolean draw)
{
  if (draw)
    {
      cairo_set_line_width (pen->cr, 0.5);
      cairo_move_to (pen->cr, TEXT_X, y + WRITE_LINE - 4);
      cairo_line_to (pen->cr, PAGE_WIDTH - MARGIN, y + WRITE_LINE - 4);
      cairo_stroke (pen->cr);
    }
  return WRITE_LINE;
}

/* What stands beside the picture; its height. */
static double
set_words (Pen *pen, const SwFamilyItem *item, double top, gboolean draw)
{
  g_autofree char *pieces = sw_text_count (item->count, "%d piece", "%d pieces");
  g_autofree char *head
      = item->count > 1
            ? g_strdup_printf ("%" G_GINT64_FORMAT "  %s (%s)", item->number, item->name, pieces)
            : g_strdup_printf ("%" G_GINT64_FORMAT "  %s", item->number, item->name);
  double y = top;

  y += text_at (pen, TEXT_X, y, TEXT_WIDTH, 13, TRUE, head, draw) + 2;
  for (guint i = 0; i < item->lines->len; i++)
    y += text_at (pen, TEXT_X, y, TEXT_WIDTH, 10, FALSE, g_ptr_array_index (item->lines, i), draw);
  for (guint i = 0; i < item->cautions->len; i++)
    {
      g_autofree char *caution
          = g_strdup_printf (_ ("Caution, %s"), (char *)g_ptr_array_index (item->cautions, i));
      y += text_at (pen, TEXT_X, y, TEXT_WIDTH, 10, TRUE, caution, draw);
    }
  y += 6;
  y += set_boxes (pen, y, draw);
  y += set_writing_line (pen, y, draw);
  for (guint i = 0; i < item->questions->len; i++)
    {
      const SwFamilyQuestion *question = g_ptr_array_index (item->questions, i);
      g_autofree char *text
          = g_strdup_printf (_ ("Question %" PRId64 ": %s"), question->id, question->text);
      y += text_at (pen, TEXT_X, y, TEXT_WIDTH, 10, FALSE, text, draw);
      y += set_writing_line (pen, y, draw);
    }
  return y - top;
}

static void
set_item (Pen *pen, const SwFamilyItem *item, const GPtrArray *pictures)
{
  double words_height = set_words (pen, item, 0, FALSE);
  double height = MAX (words_height, pictures->len > 0 ? PICTURE_HEIGHT : 0) + 14;

  make_room (pen, height);
  if (pictures->len > 0)
    draw_picture (pen, g_ptr_array_index (pictures, 0), pen->y);
  else
    text_at (pen, MARGIN, pen->y, PICTURE_WIDTH, 10, FALSE, _ ("(no picture)"), TRUE);
  set_words (pen, item, pen->y, TRUE);
  pen->y += height;
}

static int
set_all (Pen *pen, const GPtrArray *pictures)
{
  const char *place = NULL;

  set_line (pen, 18, TRUE, pen->choice->property);
  set_line (
      pen, 11, FALSE,
      _ ("Please tick for each thing what should become of it: mine (you want it yourself), keep "
         "(it should stay with somebody of the family), sell, or don't know. Send it back, or "
         "read it out by number: '12 mine, 14 keep'. It is no promise yet: somebody else may say "
         "'mine' too."));
  if (pen->choice->person != NULL)
    {
      g_autofree char *name = g_strdup_printf (_ ("Name: %s"), pen->choice->person);
      set_line (pen, 11, FALSE, name);
    }
  else
    set_line (pen, 11, FALSE, _ ("Name: ______________________________"));
  for (guint i = 0; i < pen->choice->items->len; i++)
    {
      const SwFamilyItem *item = g_ptr_array_index (pen->choice->items, i);

      if (g_strcmp0 (place, item->place) != 0)
        {
          make_room (pen, 30 + PICTURE_HEIGHT); /* a heading never stands alone at the foot */
          pen->y += 6;
          set_line (pen, 12, TRUE, item->place);
        }
      place = item->place;
      set_item (pen, item, g_ptr_array_index (pictures, i));
    }
  end_page (pen);
  return pen->page;
}

static cairo_status_t
append_bytes (void *data, const unsigned char *bytes, unsigned int n)
{
  g_byte_array_append (data, bytes, n);
  return CAIRO_STATUS_SUCCESS;
}

GBytes *
sw_family_paper (const SwFamilyChoice *choice, const GPtrArray *pictures, int *out_pages,
                 GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  cairo_surface_t *surface
      = cairo_pdf_surface_create_for_stream (append_bytes, bytes, PAGE_WIDTH, PAGE_HEIGHT);
  Pen pen = { .cr = cairo_create (surface), .choice = choice, .y = MARGIN, .page = 1 };

  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, choice->property);
  /* no moment: when the person sat at home is nobody's business */
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, NULL);
  pen.fonts = pango_cairo_font_map_new ();
  pango_cairo_font_map_set_resolution (PANGO_CAIRO_FONT_MAP (pen.fonts), 72);
  pen.context = pango_font_map_create_context (pen.fonts);
  pango_cairo_update_context (pen.cr, pen.context);
  int pages = set_all (&pen, pictures);
  g_object_unref (pen.context);
  g_object_unref (pen.fonts);
  cairo_destroy (pen.cr);
  cairo_surface_finish (surface);
  cairo_status_t status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (status != CAIRO_STATUS_SUCCESS)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_FAILED,
                   _ ("The family choice could not be drawn: %s."),
                   cairo_status_to_string (status));
      return NULL;
    }
  *out_pages = pages;
  return g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
}
