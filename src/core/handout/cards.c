/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lays out cards and tags. Must not decide what a code says, nor give out numbers by itself but
 * through the catalogue. */
#include "core/handout/cards.h"

#include <cairo-pdf.h>
#include <errno.h>
#include <glib/gstdio.h>
#include <math.h>
#include <pango/pangocairo.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/places.h"
#include "core/catalogue/tags.h"
#include "core/handout/paper.h"
#include "core/handout/qr.h"
#include "core/match/codes.h"

#define POINTS_A_MM (72.0 / 25.4)

/* A card, in mm. */
#define CARD_HEIGHT (SW_CARDS_PAGE_HEIGHT_MM / SW_CARDS_A_PAGE)
#define CARD_MARGIN 14.0
#define CARD_NAME_HEIGHT 34.0
#define CARD_CODE_SIDE 84.0
#define CARD_GAP 8.0
/* A tag: shares of the label's height, its margin at most this. */
#define TAG_MARGIN 6.0
#define TAG_CODE_SHARE 0.52 /* of the label's width, at most */
#define CUT_MARK 3.0

struct _SwCardSet
{
  char *name; /* the catalogue's */
  char catalogue[SW_CODE_CATALOGUE_LENGTH + 1];
  GPtrArray *places; /* SwPlace, those on the property */
  gint64 first_tag;
  int n_tags;
  SwLabelSheet sheet; /* the tags are on */
  /* Its own: the default one belongs to whoever has the screen, and the screen's resolution must
   * not change what is printed. */
  PangoFontMap *fonts;
};

void
sw_card_set_free (SwCardSet *set)
{
  if (set == NULL)
    return;
  g_free (set->name);
  g_clear_pointer (&set->places, g_ptr_array_unref);
  g_clear_object (&set->fonts);
  g_free (set);
}

static SwCardSet *
set_new (SwCatalogue *catalogue, const SwLabelSheet *sheet, gint64 first_tag, int n_tags,
         GError **error)
{
  g_autoptr (SwCardSet) set = g_new0 (SwCardSet, 1);

  set->sheet = *sheet;
  set->name = g_strdup (sw_catalogue_name (catalogue));
  set->first_tag = first_tag;
  set->n_tags = n_tags;
  set->fonts = pango_cairo_font_map_new ();
  pango_cairo_font_map_set_resolution (PANGO_CAIRO_FONT_MAP (set->fonts), 72);
  set->places = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_place_free);
  return sw_code_catalogue (catalogue, set->catalogue, error) ? g_steal_pointer (&set) : NULL;
}

SwCardSet *
sw_tag_set_new (SwCatalogue *catalogue, const SwLabelSheet *sheet, gint64 first_tag, int n_tags,
                GError **error)
{
  return set_new (catalogue, sheet, first_tag, n_tags, error);
}

SwCardSet *
sw_card_set_new (SwCatalogue *catalogue, gint64 first_tag, int n_tags, GError **error)
{
  gsize n_sheets;
  g_autoptr (SwCardSet) set
      = set_new (catalogue, &sw_label_sheets (&n_sheets)[0], first_tag, n_tags, error);

  if (set == NULL)
    return NULL;
  g_ptr_array_unref (set->places);
  set->places = sw_place_list (catalogue, error);
  if (set->places == NULL)
    return NULL;
  for (guint k = set->places->len; k-- > 0;)
    if (((SwPlace *)g_ptr_array_index (set->places, k))->off_property)
      g_ptr_array_remove_index (set->places, k);
  if (set->places->len > 0 || n_tags > 0)
    return g_steal_pointer (&set);
  g_set_error_literal (error, SW_ERROR, SW_ERROR_NOT_FOUND,
                       _ ("There is no place on the property to make a card for; add one, as in "
                          "shedwalk place add CAT 'Packing shed'."));
  return NULL;
}

static int
tags_a_page (const SwCardSet *set)
{
  return set->sheet.columns * set->sheet.rows;
}

int
sw_card_set_n_cards (const SwCardSet *set)
{
  return (int)set->places->len;
}

static int
card_pages (const SwCardSet *set)
{
  return ((int)set->places->len + SW_CARDS_A_PAGE - 1) / SW_CARDS_A_PAGE;
}

int
sw_card_set_n_pages (const SwCardSet *set)
{
  return card_pages (set) + (set->n_tags + tags_a_page (set) - 1) / tags_a_page (set);
}

/* A box of text: as large as asked where it fits, else smaller; mm. */
typedef struct
{
  double x, y, width, height;
  double size; /* em height */
  gboolean bold;
  PangoAlignment align;
} TextBox;

static void
set_size (PangoLayout *layout, const TextBox *box, double size)
{
  PangoFontDescription *font = pango_font_description_from_string ("Sans");

  pango_font_description_set_weight (font, box->bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_font_description_set_absolute_size (font, size * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
}

static gboolean
fits (PangoLayout *layout, const TextBox *box)
{
  PangoRectangle extent;

  pango_layout_get_extents (layout, NULL, &extent);
  return extent.width <= box->width * PANGO_SCALE && extent.height <= box->height * PANGO_SCALE;
}

/* Draws at twenty times the size and scales down, since text this small in its own unit would be
 * laid out coarsely. */
static void
draw_text (cairo_t *cr, PangoFontMap *fonts, const TextBox *wanted, const char *text)
{
  const double fine = 20;
  TextBox box = { 0,
                  0,
                  wanted->width * fine,
                  wanted->height * fine,
                  wanted->size * fine,
                  wanted->bold,
                  wanted->align };
  PangoContext *context;
  g_autoptr (PangoLayout) layout = NULL;

  cairo_save (cr);
  cairo_translate (cr, wanted->x, wanted->y);
  cairo_scale (cr, 1 / fine, 1 / fine);
  context = pango_font_map_create_context (fonts);
  pango_cairo_update_context (cr, context);
  layout = pango_layout_new (context);
  g_object_unref (context);
  pango_layout_set_text (layout, text, -1);
  pango_layout_set_width (layout, (int)(box.width * PANGO_SCALE));
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_alignment (layout, box.align);
  for (double size = box.size; size >= box.size / 8; size *= 0.94)
    {
      set_size (layout, &box, size);
      if (fits (layout, &box))
        break;
    }
  if (!fits (layout, &box))
    {
      pango_layout_set_height (layout, (int)(box.height * PANGO_SCALE));
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
    }
  cairo_set_source_rgb (cr, 0, 0, 0);
  pango_cairo_show_layout (cr, layout);
  cairo_restore (cr);
}

static gboolean
draw_code (const SwCardSet *set, cairo_t *cr, SwCodeKind kind, gint64 number, double x, double y,
           double side, GError **error)
{
  SwCode code = { .kind = kind, .number = number };
  g_autofree char *text = NULL;

  memcpy (code.catalogue, set->catalogue, sizeof code.catalogue);
  text = sw_code_format (&code);
  return sw_qr_draw (cr, text, x, y, side, error);
}

/* The place's own name in large, what it lies in below it. */
static void
draw_place_name (const SwCardSet *set, const SwPlace *place, double top, cairo_t *cr)
{
  const double width = SW_CARDS_PAGE_WIDTH_MM - 2 * CARD_MARGIN;
  const char *end = g_strrstr (place->path, " > ");
  double height = end ? CARD_NAME_HEIGHT - 8 : CARD_NAME_HEIGHT;

  draw_text (cr, set->fonts,
             &(TextBox){ CARD_MARGIN, top, width, height, 24, TRUE, PANGO_ALIGN_LEFT },
             place->name);
  if (end == NULL)
    return;
  g_autofree char *outer = g_strndup (place->path, (gsize)(end - place->path));
  g_autofree char *in = g_strdup_printf (_ ("in %s"), outer);
  draw_text (cr, set->fonts,
             &(TextBox){ CARD_MARGIN, top + height, width, 7, 6, FALSE, PANGO_ALIGN_LEFT }, in);
}

static gboolean
draw_card (const SwCardSet *set, const SwPlace *place, double top, cairo_t *cr, GError **error)
{
  const double code_top = top + CARD_MARGIN + CARD_NAME_HEIGHT + 2;
  const double words_x = CARD_MARGIN + CARD_CODE_SIDE + CARD_GAP;
  const double words_width = SW_CARDS_PAGE_WIDTH_MM - CARD_MARGIN - words_x;

  draw_place_name (set, place, top + CARD_MARGIN, cr);
  if (!draw_code (set, cr, SW_CODE_PLACE, place->id, CARD_MARGIN, code_top, CARD_CODE_SIDE, error))
    return FALSE;
  draw_text (cr, set->fonts,
             &(TextBox){ words_x, code_top + 8, words_width, 34, 8, TRUE, PANGO_ALIGN_LEFT },
             _ ("Photograph this card first when you walk in."));
  draw_text (
      cr, set->fonts,
      &(TextBox){ words_x, code_top + 44, words_width, 24, 4.6, FALSE, PANGO_ALIGN_LEFT },
      _ ("What you photograph after it is then known to be here, until the next card. Hang it "
         "where the light is good."));
  draw_text (cr, set->fonts,
             &(TextBox){ words_x, code_top + CARD_CODE_SIDE - 8, words_width, 6, 4, FALSE,
                         PANGO_ALIGN_LEFT },
             set->name);
  return TRUE;
}

static void
cut_line (cairo_t *cr, double x1, double y1, double x2, double y2)
{
  cairo_move_to (cr, x1, y1);
  cairo_line_to (cr, x2, y2);
  cairo_stroke (cr);
}

static void
begin_cuts (cairo_t *cr)
{
  cairo_set_source_rgb (cr, 0.45, 0.45, 0.45);
  cairo_set_line_width (cr, 0.2);
}

static gboolean
draw_card_page (const SwCardSet *set, int page, cairo_t *cr, GError **error)
{
  for (int k = 0; k < SW_CARDS_A_PAGE; k++)
    {
      guint at = (guint)(page * SW_CARDS_A_PAGE + k);

      if (at < set->places->len
          && !draw_card (set, g_ptr_array_index (set->places, at), k * CARD_HEIGHT, cr, error))
        return FALSE;
    }
  begin_cuts (cr);
  cut_line (cr, 0, CARD_HEIGHT, 8, CARD_HEIGHT);
  cut_line (cr, SW_CARDS_PAGE_WIDTH_MM - 8, CARD_HEIGHT, SW_CARDS_PAGE_WIDTH_MM, CARD_HEIGHT);
  return TRUE;
}

/* Measures of the words are those of a label of 37 mm height, and go with the height. */
static gboolean
draw_tag (const SwCardSet *set, gint64 number, double x, double y, cairo_t *cr, GError **error)
{
  const double width = set->sheet.width, height = set->sheet.height, scale = height / 37.125;
  const double margin = MIN (TAG_MARGIN, TAG_MARGIN * scale);
  const double side = MIN (height - margin, width * TAG_CODE_SHARE);
  const double words_x = x + margin + side, words_width = width - margin - side - 3;
  g_autofree char *text = g_strdup_printf ("%" G_GINT64_FORMAT, number);

  if (!draw_code (set, cr, SW_CODE_TAG, number, x + margin / 2, y + (height - side) / 2, side,
                  error))
    return FALSE;
  draw_text (cr, set->fonts,
             &(TextBox){ words_x, y + 6 * scale, words_width, 16 * scale, 14 * scale, TRUE,
                         PANGO_ALIGN_CENTER },
             text);
  draw_text (
      cr, set->fonts,
      &(TextBox){ words_x, y + 24 * scale, words_width, 8 * scale, 3, FALSE, PANGO_ALIGN_CENTER },
      _ ("Photograph\nme first."));
  return TRUE;
}

/* Small crosses where the cuts meet. */
static void
draw_tag_cuts (const SwLabelSheet *sheet, cairo_t *cr)
{
  begin_cuts (cr);
  for (int column = 0; column <= sheet->columns; column++)
    for (int row = 0; row <= sheet->rows; row++)
      {
        double x = column * sheet->pitch_x, y = row * sheet->pitch_y;

        cut_line (cr, x - CUT_MARK, y, x + CUT_MARK, y);
        cut_line (cr, x, y - CUT_MARK, x, y + CUT_MARK);
      }
}

static gboolean
draw_tag_page (const SwCardSet *set, int page, cairo_t *cr, GError **error)
{
  const SwLabelSheet *sheet = &set->sheet;

  for (int k = 0; k < tags_a_page (set); k++)
    {
      int at = page * tags_a_page (set) + k;

      if (at < set->n_tags
          && !draw_tag (set, set->first_tag + at, sheet->left + k % sheet->columns * sheet->pitch_x,
                        sheet->top + (double)(k / sheet->columns) * sheet->pitch_y, cr, error))
        return FALSE;
    }
  if (sheet->cut)
    draw_tag_cuts (sheet, cr);
  return TRUE;
}

gboolean
sw_card_set_draw (const SwCardSet *set, int page, cairo_t *cr, GError **error)
{
  g_return_val_if_fail (page >= 0 && page < sw_card_set_n_pages (set), FALSE);
  return page < card_pages (set) ? draw_card_page (set, page, cr, error)
                                 : draw_tag_page (set, page - card_pages (set), cr, error);
}

static cairo_status_t
append_bytes (void *data, const unsigned char *bytes, unsigned int n)
{
  g_byte_array_append (data, bytes, n);
  return CAIRO_STATUS_SUCCESS;
}

static gboolean
draw_pages (const SwCardSet *set, cairo_surface_t *surface, GError **error)
{
  cairo_t *cr = cairo_create (surface);
  gboolean good = TRUE;

  cairo_scale (cr, POINTS_A_MM, POINTS_A_MM);
  for (int page = 0; page < sw_card_set_n_pages (set) && good; page++)
    {
      good = sw_card_set_draw (set, page, cr, error);
      cairo_show_page (cr);
    }
  if (good && cairo_status (cr) != CAIRO_STATUS_SUCCESS)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_FAILED, _ ("The pages could not be drawn: %s."),
                   cairo_status_to_string (cairo_status (cr)));
      good = FALSE;
    }
  cairo_destroy (cr);
  return good;
}

GBytes *
sw_card_set_pdf (const SwCardSet *set, GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (
      append_bytes, bytes, SW_CARDS_PAGE_WIDTH_MM * POINTS_A_MM,
      SW_CARDS_PAGE_HEIGHT_MM * POINTS_A_MM);
  gboolean good;

  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, _ ("Cards and tags"));
  /* No moment: when the person sat at home printing is nobody's business. */
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, NULL);
  good = draw_pages (set, surface, error);
  cairo_surface_finish (surface);
  if (good && cairo_surface_status (surface) != CAIRO_STATUS_SUCCESS)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_FAILED,
                   _ ("The pages could not be put into a file: %s."),
                   cairo_status_to_string (cairo_surface_status (surface)));
      good = FALSE;
    }
  cairo_surface_destroy (surface);
  return good ? g_byte_array_free_to_bytes (g_steal_pointer (&bytes)) : NULL;
}

/* Before numbers are given out: a folder that is not there should not cost any. */
static gboolean
check_path (const char *path, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *what = NULL;

  if (!g_str_has_suffix (path, ".pdf"))
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("The cards are a PDF: give it a name that ends in .pdf, not '%s'."), path);
      return FALSE;
    }
  if (g_file_test (path, G_FILE_TEST_IS_DIR))
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED, _ ("'%s' is a folder; name a file."), path);
      return FALSE;
    }
  if (g_access (folder, W_OK) == 0)
    return TRUE;
  what = g_strdup_printf (_ ("The folder %s cannot be written to"), folder);
  return sw_error_from_errno (error, errno, what);
}

/* 'sheet' NULL: with the cards. */
static gboolean
write_set (SwCatalogue *catalogue, const SwLabelSheet *sheet, const char *path, int n_tags,
           SwCardsReport *out_report, GError **error)
{
  g_autoptr (SwCardSet) set = NULL;
  g_autoptr (GBytes) pdf = NULL;
  gint64 first = 0;

  if (!check_path (path, error)
      || (n_tags != 0 && !sw_tags_take (catalogue, n_tags, &first, error)))
    return FALSE;
  set = sheet != NULL ? sw_tag_set_new (catalogue, sheet, first, n_tags, error)
                      : sw_card_set_new (catalogue, first, n_tags, error);
  if (set == NULL || (pdf = sw_card_set_pdf (set, error)) == NULL
      || !sw_paper_write_file (path, ".pdf", pdf, sheet != NULL ? _ ("The tags") : _ ("The cards"),
                               error))
    return FALSE;
  *out_report
      = (SwCardsReport){ sw_card_set_n_cards (set), n_tags, sw_card_set_n_pages (set), first };
  return TRUE;
}

gboolean
sw_cards_write (SwCatalogue *catalogue, const char *path, int n_tags, SwCardsReport *out_report,
                GError **error)
{
  return write_set (catalogue, NULL, path, n_tags, out_report, error);
}

gboolean
sw_tags_write (SwCatalogue *catalogue, const SwLabelSheet *sheet, const char *path, int n_tags,
               SwCardsReport *out_report, GError **error)
{
  return write_set (catalogue, sheet, path, n_tags, out_report, error);
}
