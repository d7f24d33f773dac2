/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheets are made on the catalogue thread; a page is drawn when the printer asks for it. */
#include "app/takings-out.h"

#include "app/file-out.h"
#include "app/text.h"
#include "core/handout/takings-sheet.h"

typedef struct
{
  SwStore *store;
  GtkWindow *parent; /* weak */
} Form;

static Form *
form_new (GtkWindow *parent, SwStore *store)
{
  Form *form = g_new0 (Form, 1);

  form->store = g_object_ref (store);
  g_set_weak_pointer (&form->parent, parent);
  return form;
}

static void
form_free (Form *form)
{
  g_clear_weak_pointer (&form->parent);
  g_object_unref (form->store);
  g_free (form);
}

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

typedef struct
{
  SwStore *store;
  SwPaper *paper;
  int n_pages;
} Print;

static void
print_free (gpointer data)
{
  Print *print = data;

  g_clear_object (&print->store);
  g_clear_pointer (&print->paper, sw_paper_free);
  g_free (print);
}

static gpointer
run_print (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const Wish *wish = data;
  g_autoptr (SwPaper) paper = sw_takings_sheet_new (catalogue, wish->credit, wish->grouping, error);
  Print *print;

  if (paper == NULL)
    return NULL;
  print = g_new0 (Print, 1);
  print->n_pages = sw_paper_count_pages (paper);
  print->paper = g_steal_pointer (&paper);
  return print;
}

static void
on_draw_page (GtkPrintOperation *operation, GtkPrintContext *context, int page, Print *print)
{
  sw_paper_draw (print->paper, page + 1, gtk_print_context_get_cairo_context (context));
}

static void
on_printed (GtkPrintOperation *operation, GtkPrintOperationResult result, Print *print)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *sentence = NULL;

  if (result == GTK_PRINT_OPERATION_RESULT_CANCEL)
    return;
  gtk_print_operation_get_error (operation, &error);
  sentence = error != NULL ? g_strdup_printf (_ ("Nothing was printed: %s."), error->message)
                           : g_strdup (_ ("The takings were sent to the printer."));
  sw_store_tell (print->store, sentence, error != NULL);
}

static void
send_to_printer (Print *print, GtkWindow *parent)
{
  g_autoptr (GtkPrintOperation) operation = gtk_print_operation_new ();
  g_autoptr (GtkPageSetup) setup = gtk_page_setup_new ();
  GtkPaperSize *a4 = gtk_paper_size_new (GTK_PAPER_NAME_A4);

  gtk_page_setup_set_paper_size (setup, a4);
  gtk_paper_size_free (a4);
  gtk_print_operation_set_default_page_setup (operation, setup);
  gtk_print_operation_set_n_pages (operation, print->n_pages);
  gtk_print_operation_set_use_full_page (operation, TRUE);
  gtk_print_operation_set_unit (operation, GTK_UNIT_POINTS);
  gtk_print_operation_set_job_name (operation, _ ("Takings"));
  gtk_print_operation_set_allow_async (operation, TRUE);
  g_signal_connect (operation, "draw-page", G_CALLBACK (on_draw_page), print);
  g_signal_connect (operation, "done", G_CALLBACK (on_printed), print);
  g_object_set_data_full (G_OBJECT (operation), "sw-print", print, print_free);
  gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, parent, NULL);
}

static void
on_laid_out (GObject *object, GAsyncResult *result, gpointer data)
{
  Form *form = data;
  g_autoptr (GError) error = NULL;
  Print *print = sw_store_finish (form->store, result, &error);

  if (print == NULL)
    sw_store_tell (form->store, error->message, TRUE);
  else
    {
      print->store = g_object_ref (form->store);
      send_to_printer (print, form->parent);
    }
  form_free (form);
}

void
sw_takings_print (GtkWindow *parent, SwStore *store, SwGrouping grouping)
{
  Form *form = form_new (parent, store);

  sw_store_read (store, SW_RANK_KEY, run_print, wish_new (store, grouping), g_free, print_free,
                 NULL, on_laid_out, form);
}
