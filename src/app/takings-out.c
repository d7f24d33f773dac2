/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheets are made on the catalogue thread; a page is drawn when the printer asks for it. */
#include "app/takings-out.h"

#include "app/text.h"
#include "app/widgets.h"
#include "core/handout/takings-sheet.h"

typedef struct
{
  SwStore *store;
  GtkWindow *parent; /* weak */
  SwGrouping grouping;
  gboolean as_table;
} Form;

static Form *
form_new (GtkWindow *parent, SwStore *store, SwGrouping grouping)
{
  Form *form = g_new0 (Form, 1);

  form->store = g_object_ref (store);
  g_set_weak_pointer (&form->parent, parent);
  form->grouping = grouping;
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
  char *path; /* NULL: to print */
  SwCredit credit;
  SwGrouping grouping;
} Wish;

static void
wish_free (gpointer data)
{
  g_free (((Wish *)data)->path);
  g_free (data);
}

static Wish *
wish_of (const Form *form, const char *path)
{
  Wish *wish = g_new0 (Wish, 1);

  wish->path = g_strdup (path);
  wish->credit = sw_store_get_credit (form->store);
  wish->grouping = form->grouping;
  return wish;
}

/* ---- as a file ---- */

static gpointer
run_write (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const Wish *wish = data;
  g_autofree char *name = g_path_get_basename (wish->path);

  if (!sw_takings_hand_out (catalogue, wish->credit, wish->grouping, wish->path, NULL, error))
    return NULL;
  return g_strdup_printf (_ ("%s written."), name);
}

static void
on_written (GObject *object, GAsyncResult *result, gpointer data)
{
  Form *form = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *sentence = sw_store_finish (form->store, result, &error);

  sw_store_tell (form->store, sentence != NULL ? sentence : error->message, sentence == NULL);
  form_free (form);
}

static void
on_file (GtkNativeDialog *dialog, int response, Form *form)
{
  const char *suffix = form->as_table ? ".csv" : ".pdf";
  g_autofree char *path = response == GTK_RESPONSE_ACCEPT
                              ? gtk_file_chooser_get_filename (GTK_FILE_CHOOSER (dialog))
                              : NULL;
  g_autofree char *whole
      = path != NULL && !g_str_has_suffix (path, suffix) ? g_strconcat (path, suffix, NULL) : NULL;

  sw_native_dialog_done (dialog);
  if (path == NULL)
    form_free (form);
  else
    sw_store_read (form->store, SW_RANK_KEY, run_write,
                   wish_of (form, whole != NULL ? whole : path), wish_free, g_free, NULL,
                   on_written, form);
}

void
sw_takings_save_ask (GtkWindow *parent, SwStore *store, SwGrouping grouping, gboolean as_table)
{
  Form *form = form_new (parent, store, grouping);
  GtkFileChooserNative *dialog = gtk_file_chooser_native_new (
      as_table ? _ ("Takings as a table") : _ ("Takings as a sheet"), parent,
      GTK_FILE_CHOOSER_ACTION_SAVE, _ ("_Save"), _ ("_Cancel"));

  form->as_table = as_table;
  gtk_file_chooser_set_do_overwrite_confirmation (GTK_FILE_CHOOSER (dialog), TRUE);
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (dialog),
                                     as_table ? _ ("takings.csv") : _ ("takings.pdf"));
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (dialog), TRUE);
  g_signal_connect (dialog, "response", G_CALLBACK (on_file), form);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
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
  Form *form = form_new (parent, store, grouping);

  sw_store_read (store, SW_RANK_KEY, run_print, wish_of (form, NULL), wish_free, print_free, NULL,
                 on_laid_out, form);
}
