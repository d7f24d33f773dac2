/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/receipt-out.h"

#include "app/file-out.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/handout/receipt.h"

typedef struct
{
  char *ref;
  gboolean with_buyer;
} Wish;

static void
wish_free (gpointer data)
{
  g_free (((Wish *)data)->ref);
  g_free (data);
}

static gpointer
write_receipt (SwCatalogue *catalogue, gconstpointer data, const char *path, GError **error)
{
  const Wish *wish = data;

  return sw_receipt_write (catalogue, wish->ref, wish->with_buyer, path, NULL, error)
             ? sw_file_out_sentence (path)
             : NULL;
}

static const SwFileOut receipt_out = {
  .title = N_ ("Receipt as PDF"),
  .name = N_ ("receipt.pdf"),
  .suffix = ".pdf",
  .read = write_receipt,
};

typedef struct
{
  SwStore *store;
  GtkWindow *parent; /* weak */
  GtkWidget *with_buyer;
  char *ref;
} Form;

static void
on_response (GtkDialog *dialog, int response, Form *form)
{
  Wish *wish = g_new0 (Wish, 1);

  *wish = (Wish){ g_steal_pointer (&form->ref),
                  gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (form->with_buyer)) };
  gtk_widget_destroy (GTK_WIDGET (dialog));
  if (response == GTK_RESPONSE_OK)
    sw_file_out_ask (form->parent, form->store, &receipt_out, wish, wish_free);
  else
    wish_free (wish);
  g_clear_weak_pointer (&form->parent);
  g_object_unref (form->store);
  g_free (form);
}

void
sw_receipt_out_ask (GtkWindow *parent, SwStore *store, const char *ref)
{
  Form *form = g_new0 (Form, 1);
  GtkWidget *dialog = gtk_dialog_new_with_buttons (
      _ ("Receipt"), parent,
      GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT | GTK_DIALOG_USE_HEADER_BAR, _ ("_Cancel"),
      GTK_RESPONSE_CANCEL, _ ("_Save as PDF…"), GTK_RESPONSE_OK, NULL);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12), *line;

  form->store = g_object_ref (store);
  form->ref = g_strdup (ref);
  g_set_weak_pointer (&form->parent, parent);
  gtk_container_set_border_width (GTK_CONTAINER (box), 18);
  line = sw_container_add_line (box,
                                _ ("What was handed over, the money and the cautions, with room "
                                   "for both to sign."),
                                NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (line), 44);
  form->with_buyer = gtk_check_button_new_with_mnemonic (_ ("With the _buyer's name"));
  gtk_container_add (GTK_CONTAINER (box), form->with_buyer);
  gtk_container_add (GTK_CONTAINER (gtk_dialog_get_content_area (GTK_DIALOG (dialog))), box);
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), GTK_RESPONSE_OK);
  gtk_window_set_resizable (GTK_WINDOW (dialog), FALSE);
  g_signal_connect (dialog, "response", G_CALLBACK (on_response), form);
  gtk_widget_show_all (dialog);
}
