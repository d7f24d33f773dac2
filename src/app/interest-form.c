/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The small window that shows what a pasted table says of which offer. */
#include "app/interest-form.h"

#include "app/offer-acts.h"
#include "app/offer-words.h"
#include "app/text.h"
#include "app/widgets.h"

typedef struct
{
  SwStore *store;
  GtkWindow *parent; /* weak */
  GPtrArray *rows;   /* SwInterestRow */
  char *unread;      /* columns that are not read; NULL: none */
} Form;

static void
form_free (Form *form)
{
  g_clear_weak_pointer (&form->parent);
  g_clear_pointer (&form->rows, g_ptr_array_unref);
  g_free (form->unread);
  g_object_unref (form->store);
  g_free (form);
}

static void
on_closed (gpointer form, GClosure *closure)
{
  form_free (form);
}

static guint
count_good (const Form *form)
{
  guint n = 0;
  for (guint i = 0; i < form->rows->len; i++)
    n += ((const SwInterestRow *)g_ptr_array_index (form->rows, i))->problem == NULL;
  return n;
}

static void
on_response (GtkDialog *dialog, int response, Form *form)
{
  g_autoptr (GArray) taken = g_array_new (FALSE, FALSE, sizeof (SwDealInterest));

  for (guint i = 0; response == GTK_RESPONSE_ACCEPT && i < form->rows->len; i++)
    {
      const SwInterestRow *row = g_ptr_array_index (form->rows, i);
      SwDealInterest each = { row->deal, row->interest };
      if (row->problem == NULL)
        g_array_append_val (taken, each);
    }
  if (taken->len > 0)
    sw_act_interest (form->store, (const SwDealInterest *)(gconstpointer)taken->data, taken->len);
  gtk_widget_destroy (GTK_WIDGET (dialog));
}

static void
fill (const Form *form, GtkWidget *box)
{
  for (guint i = 0; i < form->rows->len; i++)
    {
      const SwInterestRow *row = g_ptr_array_index (form->rows, i);
      g_autofree char *interest = sw_words_interest (form->store, &row->interest);
      g_autofree char *text
          = row->problem == NULL
                ? g_strdup_printf (_ ("%s, %s: %s"), row->own_ref, row->items, interest)
                : g_strdup_printf (_ ("Left out, line %d, %s: %s"), row->line, row->own_ref,
                                   row->problem);
      sw_container_add_line (box, text, row->problem == NULL ? NULL : "sw-problem");
    }
  if (form->unread != NULL)
    {
      g_autofree char *text = g_strdup_printf (
          _ ("Columns not read: %s. What is read is called looks, followers, bids or price."),
          form->unread);
      sw_container_add_line (box, text, "dim-label");
    }
}

static void
open_dialog (Form *form)
{
  guint good = count_good (form);
  g_autofree char *take = g_strdup_printf (_ ("_Take %u"), good);
  GtkWidget *dialog = gtk_dialog_new_with_buttons (
      _ ("Interest from the table"), form->parent,
      GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT | GTK_DIALOG_USE_HEADER_BAR, _ ("_Cancel"),
      GTK_RESPONSE_CANCEL, take, GTK_RESPONSE_ACCEPT, NULL);
  GtkWidget *scrolled = gtk_scrolled_window_new (NULL, NULL);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  gtk_container_set_border_width (GTK_CONTAINER (box), 14);
  fill (form, box);
  gtk_container_add (GTK_CONTAINER (scrolled), box);
  gtk_widget_set_vexpand (scrolled, TRUE);
  gtk_container_add (GTK_CONTAINER (gtk_dialog_get_content_area (GTK_DIALOG (dialog))), scrolled);
  gtk_window_set_default_size (GTK_WINDOW (dialog), 520, 420);
  gtk_dialog_set_response_sensitive (GTK_DIALOG (dialog), GTK_RESPONSE_ACCEPT, good > 0);
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), GTK_RESPONSE_ACCEPT);
  g_signal_connect_data (dialog, "response", G_CALLBACK (on_response), form, on_closed, 0);
  gtk_widget_show_all (dialog);
  gtk_widget_grab_focus (
      gtk_dialog_get_widget_for_response (GTK_DIALOG (dialog), GTK_RESPONSE_ACCEPT));
}

typedef struct
{
  char *text;
  SwNumberStyle style;
} Pasted;

static void
pasted_free (gpointer data)
{
  g_free (((Pasted *)data)->text);
  g_free (data);
}

typedef struct
{
  GPtrArray *rows; /* SwInterestRow */
  char *unread;
} Read;

static void
read_free (gpointer data)
{
  Read *read = data;

  g_clear_pointer (&read->rows, g_ptr_array_unref);
  g_free (read->unread);
  g_free (read);
}

static gpointer
read_table (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const Pasted *pasted = data;
  Read *read = g_new0 (Read, 1);

  read->rows
      = sw_interest_table_read (catalogue, pasted->text, pasted->style, &read->unread, error);
  if (read->rows == NULL)
    g_clear_pointer (&read, read_free);
  return read;
}

static void
on_read (GObject *object, GAsyncResult *result, gpointer data)
{
  Form *form = data;
  g_autoptr (GError) error = NULL;
  Read *read = sw_store_finish (form->store, result, &error);

  if (read != NULL)
    {
      form->rows = g_steal_pointer (&read->rows);
      form->unread = g_steal_pointer (&read->unread);
      read_free (read);
    }
  if (form->rows != NULL && form->parent != NULL)
    {
      open_dialog (form);
      return;
    }
  if (error != NULL && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    sw_store_tell (form->store, error->message, TRUE);
  form_free (form);
}

void
sw_interest_form_show (GtkWindow *parent, SwStore *store, const char *text)
{
  Form *form = g_new0 (Form, 1);
  Pasted *pasted = g_new0 (Pasted, 1);

  form->store = g_object_ref (store);
  g_set_weak_pointer (&form->parent, parent);
  pasted->text = g_strdup (text);
  pasted->style = sw_number_style ();
  sw_store_read (store, SW_RANK_VISIBLE, read_table, pasted, pasted_free, read_free, NULL, on_read,
                 form);
}
