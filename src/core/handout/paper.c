/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lays out sheets with Pango and draws them with cairo. First everything is put into blocks, then
 * the blocks are set page by page; the unit is the point. */
#include "core/handout/paper.h"

#include <cairo-pdf.h>
#include <pango/pangocairo.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/folder.h"

/* ISO 216 A4 and its margins, in points (1/72 inch). */
#define PAGE_WIDTH 595.28
#define PAGE_HEIGHT 841.89
#define MARGIN 50.0
#define FOOT 28.0
#define TEXT_WIDTH (PAGE_WIDTH - 2 * MARGIN)
#define TEXT_SIZE 11
#define HEADING_SIZE 16
#define TABLE_SIZE 10
#define CELL_PAD 5.0
#define ROW_PAD 2.5
#define HEADING_KEEPS 100.0 /* a heading stands with the first of what it is over */

typedef enum
{
  BLOCK_HEADING,
  BLOCK_LINE,
  BLOCK_GAP,
  BLOCK_TABLE,
  BLOCK_PICTURED,
} BlockKind;

typedef struct
{
  BlockKind kind;
  char *text;
  GPtrArray *rows; /* char ** */
  gsize n_columns;
  guint right;
  gboolean last_bold;
  GBytes *jpeg; /* NULL: none */
  guint width, height;
  char *head, *figure;
} Block;

struct _SwPaper
{
  char *title;
  GPtrArray *blocks;
};

/* What a drawing is at. */
typedef struct
{
  cairo_t *cr;
  PangoFontMap *fonts;
  PangoContext *context;
  const char *title;
  double y;
  int page; /* from 1 */
  int only; /* the page that is drawn; 0: all, one after the other */
} Pen;

static void
block_free (gpointer data)
{
  Block *block = data;
  g_free (block->text);
  g_clear_pointer (&block->rows, g_ptr_array_unref);
  g_clear_pointer (&block->jpeg, g_bytes_unref);
  g_free (block->head);
  g_free (block->figure);
  g_free (block);
}

SwPaper *
sw_paper_new (const char *title)
{
  SwPaper *paper = g_new0 (SwPaper, 1);
  paper->title = sw_text_printable (title, -1);
  paper->blocks = g_ptr_array_new_with_free_func (block_free);
  return paper;
}

void
sw_paper_free (SwPaper *paper)
{
  if (paper == NULL)
    return;
  g_free (paper->title);
  g_ptr_array_unref (paper->blocks);
  g_free (paper);
}

static Block *
add_block (SwPaper *paper, BlockKind kind, const char *text)
{
  Block *block = g_new0 (Block, 1);
  block->kind = kind;
  block->text = sw_text_printable (text, -1);
  g_ptr_array_add (paper->blocks, block);
  return block;
}

void
sw_paper_heading (SwPaper *paper, const char *text)
{
  add_block (paper, BLOCK_HEADING, text);
}

void
sw_paper_line (SwPaper *paper, const char *text)
{
  add_block (paper, BLOCK_LINE, text);
}

void
sw_paper_gap (SwPaper *paper)
{
  add_block (paper, BLOCK_GAP, "");
}

/* Printable line by line: line breaks stay. Transfer full. */
static char *
printable_lines (const char *text)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  for (char **line = lines; *line != NULL; line++)
    {
      char *printable = sw_text_printable (*line, -1);
      g_free (*line);
      *line = printable;
    }
  return g_strjoinv ("\n", lines);
}

void
sw_paper_table (SwPaper *paper, char **const *rows, gsize n_rows, gsize n_columns, guint right,
                gboolean last_bold)
{
  Block *block = add_block (paper, BLOCK_TABLE, "");
  block->rows = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);
  block->n_columns = n_columns;
  block->right = right;
  block->last_bold = last_bold;
  for (gsize i = 0; i < n_rows; i++)
    {
      char **cells = g_new0 (char *, n_columns + 1);
      for (gsize c = 0; c < n_columns; c++)
        cells[c] = printable_lines (rows[i][c] != NULL ? rows[i][c] : "");
      g_ptr_array_add (block->rows, cells);
    }
}

void
sw_paper_pictured (SwPaper *paper, GBytes *jpeg, guint width, guint height, const char *head,
                   const char *text, const char *figure)
{
  Block *block = add_block (paper, BLOCK_PICTURED, "");
  g_free (block->text);
  block->text = printable_lines (text);
  block->head = sw_text_printable (head, -1);
  block->figure = printable_lines (figure);
  block->jpeg = jpeg != NULL ? g_bytes_ref (jpeg) : NULL;
  block->width = width;
  block->height = height;
}

/* --- setting text --- */

static PangoLayout *
layout_of (const Pen *pen, const char *text, double size, gboolean bold, double width)
{
  PangoLayout *layout = pango_layout_new (pen->context);
  PangoFontDescription *font = pango_font_description_from_string ("Sans");
  pango_font_description_set_weight (font, bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_font_description_set_size (font, (int)(size * PANGO_SCALE));
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_layout_set_text (layout, text, -1);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  if (width > 0)
    pango_layout_set_width (layout, (int)(width * PANGO_SCALE));
  return layout;
}

static void
size_of (PangoLayout *layout, double *out_width, double *out_height)
{
  int width, height;
  pango_layout_get_size (layout, &width, &height);
  *out_width = (double)width / PANGO_SCALE;
  *out_height = (double)height / PANGO_SCALE;
}

/* What lies on another page than the one asked for is set all the same, so that pages break alike.
 */
static gboolean
is_drawn (const Pen *pen)
{
  return pen->only == 0 || pen->only == pen->page;
}

static void
show_at (const Pen *pen, PangoLayout *layout, double x, double y)
{
  if (!is_drawn (pen))
    return;
  cairo_set_source_rgb (pen->cr, 0, 0, 0);
  cairo_move_to (pen->cr, x, y);
  pango_cairo_show_layout (pen->cr, layout);
}

/* --- pages --- */

static void
end_page (Pen *pen)
{
  g_autofree char *foot = g_strdup_printf (_ ("%s, page %d"), pen->title, pen->page);
  g_autoptr (PangoLayout) layout = layout_of (pen, foot, 8, FALSE, TEXT_WIDTH);
  show_at (pen, layout, MARGIN, PAGE_HEIGHT - FOOT);
  if (pen->only == 0)
    cairo_show_page (pen->cr);
}

/* Whether a new page was begun so that 'height' finds room. */
static gboolean
make_room (Pen *pen, double height)
{
  if (pen->y + height <= PAGE_HEIGHT - MARGIN || pen->y <= MARGIN)
    return FALSE;
  end_page (pen);
  pen->page++;
  pen->y = MARGIN;
  return TRUE;
}

static void
set_text (Pen *pen, const char *text, double size, gboolean bold)
{
  g_autoptr (PangoLayout) layout = layout_of (pen, text, size, bold, TEXT_WIDTH);
  double width, height;
  size_of (layout, &width, &height);
  make_room (pen, bold ? height + HEADING_KEEPS : height);
  show_at (pen, layout, MARGIN, pen->y);
  pen->y += height + (bold ? 6 : 2);
}

/* --- tables --- */

/* What the first column keeps of the width beside other columns of words, and beside figures. */
#define FIRST_LEAST (TEXT_WIDTH * 0.4)
#define FIRST_BESIDE_FIGURES 60.0

static double
widest_cell (const Pen *pen, const Block *block, gsize column)
{
  double most = 0;
  for (guint i = 0; i < block->rows->len; i++)
    {
      char **cells = g_ptr_array_index (block->rows, i);
      g_autoptr (PangoLayout) layout = layout_of (pen, cells[column], TABLE_SIZE, TRUE, 0);
      double width, height;
      size_of (layout, &width, &height);
      most = MAX (most, width + 2 * CELL_PAD);
    }
  return most;
}

static gboolean
is_figure (const Block *block, gsize column)
{
  return (block->right >> column & 1) != 0;
}

/* Each column as wide as its widest cell; the first gets what is left. Where that is too little,
 * columns of words give way and wrap; figures never do. */
static void
column_widths (const Pen *pen, const Block *block, double *widths)
{
  double figures = 0, words = 0, room;
  for (gsize c = 1; c < block->n_columns; c++)
    {
      widths[c] = widest_cell (pen, block, c);
      *(is_figure (block, c) ? &figures : &words) += widths[c];
    }
  room = MAX (TEXT_WIDTH - figures - FIRST_LEAST, FIRST_BESIDE_FIGURES);
  if (words > room)
    {
      for (gsize c = 1; c < block->n_columns; c++)
        if (!is_figure (block, c))
          widths[c] *= room / words;
      words = room;
    }
  widths[0] = MAX (TEXT_WIDTH - figures - words, FIRST_BESIDE_FIGURES);
}

static double
row_height (const Pen *pen, char **cells, const double *widths, gsize n_columns, gboolean bold)
{
  double most = 0;
  for (gsize c = 0; c < n_columns; c++)
    {
      g_autoptr (PangoLayout) layout
          = layout_of (pen, cells[c], TABLE_SIZE, bold, widths[c] - 2 * CELL_PAD + 1);
      double width, height;
      size_of (layout, &width, &height);
      most = MAX (most, height);
    }
  return most + 2 * ROW_PAD;
}

static void
set_row (Pen *pen, const Block *block, char **cells, const double *widths, gboolean bold)
{
  double x = MARGIN;
  for (gsize c = 0; c < block->n_columns; c++)
    {
      g_autoptr (PangoLayout) layout
          = layout_of (pen, cells[c], TABLE_SIZE, bold, widths[c] - 2 * CELL_PAD + 1);
      pango_layout_set_alignment (layout,
                                  is_figure (block, c) ? PANGO_ALIGN_RIGHT : PANGO_ALIGN_LEFT);
      show_at (pen, layout, x + CELL_PAD, pen->y + ROW_PAD);
      x += widths[c];
    }
  pen->y += row_height (pen, cells, widths, block->n_columns, bold);
  if (!is_drawn (pen))
    return;
  cairo_set_line_width (pen->cr, 0.4);
  cairo_set_source_rgb (pen->cr, 0.55, 0.55, 0.55);
  cairo_move_to (pen->cr, MARGIN, pen->y);
  cairo_line_to (pen->cr, MARGIN + TEXT_WIDTH, pen->y);
  cairo_stroke (pen->cr);
}

static void
set_table (Pen *pen, const Block *block)
{
  g_autofree double *widths = g_new0 (double, block->n_columns);
  column_widths (pen, block, widths);
  for (guint i = 0; i < block->rows->len; i++)
    {
      char **cells = g_ptr_array_index (block->rows, i);
      gboolean bold = i == 0 || (block->last_bold && i + 1 == block->rows->len);
      double height = row_height (pen, cells, widths, block->n_columns, bold);
      /* a heading never stands alone at the foot of a page */
      if (make_room (pen, i == 0 ? 2 * height : height) && i > 0)
        set_row (pen, block, g_ptr_array_index (block->rows, 0), widths, TRUE);
      set_row (pen, block, cells, widths, bold);
    }
  pen->y += 6;
}

/* --- pictures --- */

#define PICTURE_WIDTH 120.0
#define PICTURE_HEIGHT 90.0
#define PICTURE_GAP 12.0
#define FIGURE_WIDTH 110.0
#define BESIDE_WIDTH (TEXT_WIDTH - PICTURE_WIDTH - FIGURE_WIDTH - 2 * PICTURE_GAP)

/* The JPEG goes into the file as it is; the surface only says how large it is. */
static void
show_picture (const Pen *pen, const Block *block)
{
  if (!is_drawn (pen))
    return;
  if (block->jpeg == NULL)
    {
      cairo_set_line_width (pen->cr, 0.4);
      cairo_set_source_rgb (pen->cr, 0.55, 0.55, 0.55);
      cairo_rectangle (pen->cr, MARGIN, pen->y, PICTURE_WIDTH, PICTURE_HEIGHT);
      cairo_stroke (pen->cr);
      return;
    }
  gsize n = 0;
  const guint8 *data = g_bytes_get_data (block->jpeg, &n);
  double scale = MIN (PICTURE_WIDTH / block->width, PICTURE_HEIGHT / block->height);
  cairo_surface_t *surface
      = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int)block->width, (int)block->height);
  cairo_surface_set_mime_data (surface, CAIRO_MIME_TYPE_JPEG, data, n,
                               (cairo_destroy_func_t)g_bytes_unref, g_bytes_ref (block->jpeg));
  cairo_save (pen->cr);
  cairo_translate (pen->cr, MARGIN, pen->y);
  cairo_scale (pen->cr, scale, scale);
  cairo_set_source_surface (pen->cr, surface, 0, 0);
  cairo_paint (pen->cr);
  cairo_restore (pen->cr);
  cairo_surface_destroy (surface);
}

static void
set_pictured (Pen *pen, const Block *block)
{
  const double x = MARGIN + PICTURE_WIDTH + PICTURE_GAP;
  g_autoptr (PangoLayout) head = layout_of (pen, block->head, TEXT_SIZE, TRUE, BESIDE_WIDTH);
  g_autoptr (PangoLayout) text = layout_of (pen, block->text, TABLE_SIZE, FALSE, BESIDE_WIDTH);
  g_autoptr (PangoLayout) figure = layout_of (pen, block->figure, TABLE_SIZE, FALSE, FIGURE_WIDTH);
  double width, head_height, text_height;
  size_of (head, &width, &head_height);
  size_of (text, &width, &text_height);
  double height = MAX (PICTURE_HEIGHT, head_height + 2 + text_height);
  make_room (pen, height);
  show_picture (pen, block);
  show_at (pen, head, x, pen->y);
  show_at (pen, text, x, pen->y + head_height + 2);
  pango_layout_set_alignment (figure, PANGO_ALIGN_RIGHT);
  show_at (pen, figure, x + BESIDE_WIDTH + PICTURE_GAP, pen->y);
  pen->y += height + 8;
}

/* --- the file --- */

static void
set_block (Pen *pen, const Block *block)
{
  switch (block->kind)
    {
    case BLOCK_HEADING:
      set_text (pen, block->text, HEADING_SIZE, TRUE);
      break;
    case BLOCK_LINE:
      set_text (pen, block->text, TEXT_SIZE, FALSE);
      break;
    case BLOCK_GAP:
      pen->y += TEXT_SIZE;
      break;
    case BLOCK_TABLE:
      set_table (pen, block);
      break;
    case BLOCK_PICTURED:
      set_pictured (pen, block);
      break;
    }
}

static int
set_pages (SwPaper *paper, cairo_t *cr, int only)
{
  Pen pen = { .cr = cr, .title = paper->title, .y = MARGIN, .page = 1, .only = only };
  /* its own: the screen's resolution must not change what is printed */
  pen.fonts = pango_cairo_font_map_new ();
  pango_cairo_font_map_set_resolution (PANGO_CAIRO_FONT_MAP (pen.fonts), 72);
  pen.context = pango_font_map_create_context (pen.fonts);
  pango_cairo_update_context (pen.cr, pen.context);
  for (guint i = 0; i < paper->blocks->len; i++)
    set_block (&pen, g_ptr_array_index (paper->blocks, i));
  end_page (&pen);
  g_object_unref (pen.context);
  g_object_unref (pen.fonts);
  return pen.page;
}

int
sw_paper_draw (SwPaper *paper, int page, cairo_t *cr)
{
  return set_pages (paper, cr, page);
}

int
sw_paper_count_pages (SwPaper *paper)
{
  cairo_surface_t *nothing = cairo_recording_surface_create (CAIRO_CONTENT_ALPHA, NULL);
  cairo_t *cr = cairo_create (nothing);
  int pages = set_pages (paper, cr, G_MAXINT);
  cairo_destroy (cr);
  cairo_surface_destroy (nothing);
  return pages;
}

static cairo_status_t
append_bytes (void *data, const unsigned char *bytes, unsigned int n)
{
  g_byte_array_append (data, bytes, n);
  return CAIRO_STATUS_SUCCESS;
}

GBytes *
sw_paper_pdf (SwPaper *paper, int *out_pages, GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  cairo_surface_t *surface
      = cairo_pdf_surface_create_for_stream (append_bytes, bytes, PAGE_WIDTH, PAGE_HEIGHT);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, paper->title);
  /* No moment: when the person sat at home printing is nobody's business. */
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, NULL);
  cairo_t *cr = cairo_create (surface);
  int pages = set_pages (paper, cr, 0);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  cairo_status_t status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (status != CAIRO_STATUS_SUCCESS)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_FAILED, _ ("The sheet could not be drawn: %s."),
                   cairo_status_to_string (status));
      return NULL;
    }
  if (out_pages != NULL)
    *out_pages = pages;
  return g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
}

/* Where no font is installed everything is drawn as boxes, and nothing fails. */
static gboolean
check_letters (GError **error)
{
  g_autoptr (PangoFontMap) fonts = pango_cairo_font_map_new ();
  PangoContext *context = pango_font_map_create_context (fonts);
  PangoLayout *layout = pango_layout_new (context);

  pango_layout_set_text (layout, "a", -1);
  int unknown = pango_layout_get_unknown_glyphs_count (layout);
  g_object_unref (layout);
  g_object_unref (context);
  if (unknown == 0)
    return TRUE;
  g_set_error_literal (error, SW_ERROR, SW_ERROR_REFUSED,
                       _ ("No font is installed here, and a sheet without letters is of no use; "
                          "install one, then hand it out again."));
  return FALSE;
}

gboolean
sw_paper_write_file (const char *path, const char *suffix, GBytes *bytes, const char *what,
                     GError **error)
{
  g_autofree char *shown = sw_text_quote (path);
  if (!g_str_has_suffix (path, suffix))
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("Give it a name that ends in %s, not %s."), suffix, shown);
      return FALSE;
    }
  if (g_file_test (path, G_FILE_TEST_IS_DIR))
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED, _ ("%s is a folder; name a file."), shown);
      return FALSE;
    }
  if (g_str_equal (suffix, ".pdf") && !check_letters (error))
    return FALSE;
  gsize n = 0;
  const char *data = g_bytes_get_data (bytes, &n);
  g_autofree char *failed = g_strdup_printf (_ ("%s could not be written"), what);
  return sw_file_put (path, data, n, 0666, failed, error);
}
