/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheets to print: headings, lines and tables set one below the other on A4 pages, as a PDF.
 * Handout layer; knows no catalogue. */
#pragma once

#include <cairo.h>
#include <glib.h>

G_BEGIN_DECLS

typedef struct _SwPaper SwPaper;

/* 'title' stands in the file and at the foot of each page beside its number. Transfer full. */
SwPaper *sw_paper_new (const char *title);
void sw_paper_free (SwPaper *paper);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwPaper, sw_paper_free)

/* Over a part; it stays with the block that follows. */
void sw_paper_heading (SwPaper *paper, const char *text);
/* 11 points, wrapped. */
void sw_paper_line (SwPaper *paper, const char *text);
/* Empty height of one line. */
void sw_paper_gap (SwPaper *paper);

/* Rows of n_columns cells, the first row its heading, repeated on each page. Columns in 'right' (a
 * bit each) are set at their right edge; the first column takes what width is left and wraps.
 * last_bold: the last row is a total. Cells are copied. */
void sw_paper_table (SwPaper *paper, char **const *rows, gsize n_rows, gsize n_columns, guint right,
                     gboolean last_bold);

/* A picture at the left (JPEG bytes, which go into the file as they are, of that size in pixels;
 * NULL: an empty field), beside it a bold head with lines of text below it, and at the right edge
 * what it is worth; never parted over two pages. Text is copied, the bytes are referred to. */
void sw_paper_pictured (SwPaper *paper, GBytes *jpeg, guint width, guint height, const char *head,
                        const char *text, const char *figure);

/* The whole, the same bytes for the same sheet each time; *out_pages may be NULL. Transfer full. */
GBytes *sw_paper_pdf (SwPaper *paper, int *out_pages, GError **error);

/* How many pages it comes to. Sets text: not for the main thread where the sheet is long. */
int sw_paper_count_pages (SwPaper *paper);
/* One page, from 1, onto 'cr' in points with the paper's corner at 0, 0: for a printer. Gives the
 * number of pages. */
int sw_paper_draw (SwPaper *paper, int page, cairo_t *cr);

/* Writes a file as a whole or not at all. The name must end in 'suffix' (".pdf"); 'what' begins the
 * sentence of a failure ("The sheet"). Errors: BAD_INPUT (name), REFUSED (a folder), NO_SPACE,
 * FAILED. */
gboolean sw_paper_write_file (const char *path, const char *suffix, GBytes *bytes, const char *what,
                              GError **error);

G_END_DECLS
