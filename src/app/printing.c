/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page is printed as it is laid out: on the whole paper, unscaled. It is drawn when the printer
 * asks for it. */
#include "app/printing.h"

#include "app/text.h"

struct _SwPrintout
{
  const SwPrinting *printing;
  gpointer sheet;
  int n_pages;
  char *done;
  SwStore *store; /* NULL on the catalogue thread */
};

SwPrintout *
sw_printout_new (const SwPrinting *printing, gpointer sheet, int n_pages, char *done)
{
  SwPrintout *printout = g_new0 (SwPrintout, 1);

  *printout = (SwPrintout){ printing, sheet, n_pages, done, NULL };
  return printout;
}

static void
printout_free (gpointer data)
{
  SwPrintout *printout = data;

  printout->printing->free (printout->sheet);
  g_clear_object (&printout->store);
  g_free (printout->done);
  g_free (printout);
}

static void
on_draw_page (GtkPrintOperation *operation, GtkPrintContext *context, int page,
              SwPrintout *printout)
{
  g_autoptr (GError) error = NULL;
  cairo_t *cr = gtk_print_context_get_cairo_context (context);

  if (!printout->printing->draw (printout->sheet, page, cr, &error))
    {
      sw_store_tell (printout->store, error->message, TRUE);
      gtk_print_operation_cancel (operation);
    }
}

static void
on_printed (GtkPrintOperation *operation, GtkPrintOperationResult result, SwPrintout *printout)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *sentence = NULL;

  if (result == GTK_PRINT_OPERATION_RESULT_CANCEL)
    return;
  gtk_print_operation_get_error (operation, &error);
  if (error != NULL)
    sentence = g_strdup_printf (_ ("Nothing was printed: %s."), error->message);
  sw_store_tell (printout->store, sentence != NULL ? sentence : printout->done, error != NULL);
}

static void
send_to_printer (SwPrintout *printout, GtkWindow *parent)
{
  g_autoptr (GtkPrintOperation) operation = gtk_print_operation_new ();
  g_autoptr (GtkPageSetup) setup = gtk_page_setup_new ();
  GtkPaperSize *paper = gtk_paper_size_new (GTK_PAPER_NAME_A4);

  gtk_page_setup_set_paper_size (setup, paper);
  gtk_paper_size_free (paper);
  gtk_print_operation_set_default_page_setup (operation, setup);
  gtk_print_operation_set_n_pages (operation, printout->n_pages);
  gtk_print_operation_set_use_full_page (operation, TRUE);
  gtk_print_operation_set_unit (operation, printout->printing->unit);
  gtk_print_operation_set_job_name (operation, _ (printout->printing->title));
  gtk_print_operation_set_allow_async (operation, TRUE);
  g_signal_connect (operation, "draw-page", G_CALLBACK (on_draw_page), printout);
  g_signal_connect (operation, "done", G_CALLBACK (on_printed), printout);
  g_object_set_data_full (G_OBJECT (operation), "sw-printout", printout, printout_free);
  gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, parent, NULL);
}

/* ---- being laid out ---- */

typedef struct
{
  SwStore *store;
  GtkWindow *parent; /* weak */
} Asked;

static void
on_laid_out (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autofree Asked *asked = data;
  g_autoptr (SwStore) store = asked->store;
  g_autoptr (GError) error = NULL;
  SwPrintout *printout = sw_store_finish (store, result, &error);

  if (printout == NULL)
    sw_store_tell (store, error->message, TRUE);
  else
    {
      printout->store = g_object_ref (store);
      send_to_printer (printout, asked->parent);
    }
  g_clear_weak_pointer (&asked->parent);
}

void
sw_printing_ask (GtkWindow *parent, SwStore *store, SwWorkFunc lay_out, gpointer data,
                 GDestroyNotify destroy)
{
  Asked *asked = g_new0 (Asked, 1);

  asked->store = g_object_ref (store);
  g_set_weak_pointer (&asked->parent, parent);
  sw_store_read (store, SW_RANK_KEY, lay_out, data, destroy, printout_free, NULL, on_laid_out,
                 asked);
}
