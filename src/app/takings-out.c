/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The takings as a file or on paper, as they are shown. */
#include "app/takings-out.h"

#include "app/file-out.h"
#include "app/printing.h"
#include "app/text.h"
#include "core/handout/takings-sheet.h"

typedef struct
{
  SwCredit credit;
  SwGrouping grouping;
} Wish;

static Wish *
wish_new (SwStore *store, SwGrouping grouping)
{
  Wish *wish = g_new0 (Wish, 1);

  *wish = (Wish){ sw_store_get_credit (store), grouping };
  return wish;
}

/* ---- as a file ---- */

static gpointer
write_takings (SwCatalogue *catalogue, gconstpointer data, const char *path, GError **error)
{
  const Wish *wish = data;

  return sw_takings_hand_out (catalogue, wish->credit, wish->grouping, path, NULL, error)
             ? sw_file_out_sentence (path)
             : NULL;
}

static const SwFileOut as_sheet = {
  .title = N_ ("Takings as a sheet"),
  .name = N_ ("takings.pdf"),
  .suffix = ".pdf",
  .read = write_takings,
};
static const SwFileOut as_rows = {
  .title = N_ ("Takings as a table"),
  .name = N_ ("takings.csv"),
  .suffix = ".csv",
  .read = write_takings,
};

void
sw_takings_save_ask (GtkWindow *parent, SwStore *store, SwGrouping grouping, gboolean as_table)
{
  sw_file_out_ask (parent, store, as_table ? &as_rows : &as_sheet, wish_new (store, grouping),
                   g_free);
}

/* ---- on paper ---- */

static gboolean
draw_page (gpointer sheet, int page, cairo_t *cr, GError **error)
{
  sw_paper_draw (sheet, page + 1, cr);
  return TRUE;
}

static const SwPrinting printing = {
  .title = N_ ("Takings"),
  .unit = GTK_UNIT_POINTS,
  .draw = draw_page,
  .free = (GDestroyNotify)sw_paper_free,
};

static gpointer
lay_out (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const Wish *wish = data;
  SwPaper *paper = sw_takings_sheet_new (catalogue, wish->credit, wish->grouping, error);

  return paper != NULL ? sw_printout_new (&printing, paper, sw_paper_count_pages (paper),
                                          g_strdup (_ ("The takings were sent to the printer.")))
                       : NULL;
}

void
sw_takings_print (GtkWindow *parent, SwStore *store, SwGrouping grouping)
{
  sw_printing_ask (parent, store, lay_out, wish_new (store, grouping), g_free);
}
