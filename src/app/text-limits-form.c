/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/text-limits-form.h"

#include "app/text.h"
#include "app/widgets.h"

typedef struct
{
  SwStore *store;
  gint64 outlet;
  GtkWidget *title, *text;
} Form;

typedef struct
{
  gint64 outlet;
  SwTextLimits limits;
} Wish;

static gboolean
do_limits (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Wish *wish = data;

  return sw_text_limits_set (catalogue, wish->outlet, &wish->limits, error);
}

static void
on_response (GtkDialog *dialog, int response, Form *form)
{
  const Wish wish = { form->outlet,
                      { gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (form->title)),
                        gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (form->text)) } };

  gtk_widget_destroy (GTK_WIDGET (dialog));
  if (response == GTK_RESPONSE_OK)
    sw_store_act (form->store, do_limits, g_memdup2 (&wish, sizeof wish), g_free, NULL, NULL);
  g_object_unref (form->store);
  g_free (form);
}

static GtkWidget *
add_field (GtkWidget *grid, int row, const char *text, gint64 most, gint64 value)
{
  GtkWidget *label = gtk_label_new_with_mnemonic (text);
  GtkWidget *spin = gtk_spin_button_new_with_range (0, (double)most, 1);

  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), spin);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (spin), (double)value);
  gtk_entry_set_activates_default (GTK_ENTRY (spin), TRUE);
  gtk_grid_attach (GTK_GRID (grid), label, 0, row, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), spin, 1, row, 1, 1);
  return spin;
}

void
sw_text_limits_form_show (GtkWindow *parent, SwStore *store, gint64 outlet,
                          const SwTextLimits *limits)
{
  Form *form = g_new0 (Form, 1);
  GtkWidget *dialog = gtk_dialog_new_with_buttons (
      _ ("Length of texts"), parent,
      GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT | GTK_DIALOG_USE_HEADER_BAR, _ ("_Cancel"),
      GTK_RESPONSE_CANCEL, _ ("_Enter"), GTK_RESPONSE_OK, NULL);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12), *grid = gtk_grid_new ();

  form->store = g_object_ref (store);
  form->outlet = outlet;
  form->title
      = add_field (grid, 0, _ ("Characters of a _title"), SW_TITLE_LIMIT_MOST, limits->title);
  form->text = add_field (grid, 1, _ ("Characters of a te_xt"), SW_TEXT_LIMIT_MOST, limits->text);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 10);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 10);
  gtk_container_set_border_width (GTK_CONTAINER (box), 18);
  gtk_container_add (GTK_CONTAINER (box), grid);
  gtk_label_set_max_width_chars (
      GTK_LABEL (sw_container_add_line (
          box, _ ("0 is no limit. Offer packs keep to it; cautions are never left out."),
          "dim-label")),
      44);
  gtk_container_add (GTK_CONTAINER (gtk_dialog_get_content_area (GTK_DIALOG (dialog))), box);
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), GTK_RESPONSE_OK);
  gtk_window_set_resizable (GTK_WINDOW (dialog), FALSE);
  g_signal_connect (dialog, "response", G_CALLBACK (on_response), form);
  gtk_widget_show_all (dialog);
}
