/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two fields and a button. It stays open until the cost stands, so that a refusal loses nothing
 * that was typed. */
#include "app/receipt-form.h"

#include "app/sort-acts.h"
#include "app/text.h"

struct _SwReceiptForm
{
  GtkPopover parent;
  SwStore *store;
  gint64 trip;
  GArray *photos;
  gboolean sent;
  GtkWidget *amount, *remark, *when, *problem;
};

enum
{
  ENTERED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwReceiptForm, sw_receipt_form, GTK_TYPE_POPOVER)

static void
say (SwReceiptForm *self, const char *problem)
{
  gtk_label_set_text (GTK_LABEL (self->problem), problem != NULL ? problem : "");
  gtk_widget_set_visible (self->problem, problem != NULL);
}

static void
on_done (gpointer owner, const char *problem)
{
  SwReceiptForm *self = owner;

  self->sent = FALSE;
  say (self, problem);
  if (problem != NULL)
    return;
  gtk_popover_popdown (GTK_POPOVER (self));
  g_signal_emit (self, signals[ENTERED], 0);
}

static void
on_enter (SwReceiptForm *self)
{
  g_autoptr (GError) error = NULL;
  SwSort *sort;
  SwMoney amount;

  if (self->sent)
    return;
  if (!sw_store_parse_money (self->store, gtk_entry_get_text (GTK_ENTRY (self->amount)), &amount,
                             &error))
    {
      say (self, error->message);
      gtk_widget_grab_focus (self->amount);
      return;
    }
  sort = sw_sort_new (SW_SORT_RECEIPT, self->trip, self->photos,
                      gtk_entry_get_text (GTK_ENTRY (self->remark)));
  sort->amount = amount;
  self->sent = TRUE;
  sw_sort_try (self->store, sort, G_OBJECT (self), on_done);
}

static GtkWidget *
add_entry (GtkWidget *grid, int row, const char *text, const char *hint)
{
  GtkWidget *label = gtk_label_new_with_mnemonic (text);
  GtkWidget *entry = gtk_entry_new ();

  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), entry);
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), hint);
  gtk_entry_set_width_chars (GTK_ENTRY (entry), 22);
  gtk_grid_attach (GTK_GRID (grid), label, 0, row, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), entry, 1, row, 1, 1);
  return entry;
}

static GtkWidget *
add_label (GtkWidget *grid, int row, const char *class)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_line_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 34);
  gtk_style_context_add_class (gtk_widget_get_style_context (label), class);
  gtk_grid_attach (GTK_GRID (grid), label, 0, row, 2, 1);
  return label;
}

static void
sw_receipt_form_dispose (GObject *object)
{
  SwReceiptForm *self = SW_RECEIPT_FORM (object);

  g_clear_object (&self->store);
  g_clear_pointer (&self->photos, g_array_unref);
  G_OBJECT_CLASS (sw_receipt_form_parent_class)->dispose (object);
}

static void
sw_receipt_form_class_init (SwReceiptFormClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_receipt_form_dispose;
  signals[ENTERED] = g_signal_new ("entered", SW_TYPE_RECEIPT_FORM, G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 0);
}

static void
sw_receipt_form_init (SwReceiptForm *self)
{
  GtkWidget *grid = gtk_grid_new ();
  GtkWidget *button = gtk_button_new_with_mnemonic (_ ("Enter the _cost"));

  gtk_grid_set_row_spacing (GTK_GRID (grid), 8);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 10);
  gtk_container_set_border_width (GTK_CONTAINER (grid), 14);
  self->when = add_label (grid, 0, GTK_STYLE_CLASS_DIM_LABEL);
  self->amount = add_entry (grid, 1, _ ("_Amount"), NULL);
  self->remark = add_entry (grid, 2, _ ("What _for"), _ ("diesel, skip, ferry"));
  self->problem = add_label (grid, 3, "sw-problem");
  gtk_widget_set_no_show_all (self->problem, TRUE);
  gtk_style_context_add_class (gtk_widget_get_style_context (button),
                               GTK_STYLE_CLASS_SUGGESTED_ACTION);
  gtk_widget_set_halign (button, GTK_ALIGN_END);
  gtk_grid_attach (GTK_GRID (grid), button, 0, 4, 2, 1);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_enter), self);
  g_signal_connect_swapped (self->amount, "activate", G_CALLBACK (on_enter), self);
  g_signal_connect_swapped (self->remark, "activate", G_CALLBACK (on_enter), self);
  gtk_container_add (GTK_CONTAINER (self), grid);
  gtk_widget_show_all (grid);
}

GtkWidget *
sw_receipt_form_new (GtkWidget *relative_to, SwStore *store)
{
  SwReceiptForm *self = g_object_new (SW_TYPE_RECEIPT_FORM, "relative-to", relative_to, NULL);

  self->store = g_object_ref (store);
  return GTK_WIDGET (self);
}

void
sw_receipt_form_ask (SwReceiptForm *self, gint64 trip, GArray *photos, const char *when)
{
  g_autofree char *text
      = *when != '\0' ? sw_text_counted (photos->len, "Receipt on %d photo, %s",
                                         "Receipt on %d photos, %s", (int)photos->len, when)
                      : sw_text_count (photos->len, "Receipt on %d photo", "Receipt on %d photos");

  self->trip = trip;
  g_clear_pointer (&self->photos, g_array_unref);
  self->photos = photos;
  gtk_label_set_text (GTK_LABEL (self->when), text);
  gtk_entry_set_text (GTK_ENTRY (self->amount), "");
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->amount),
                                  sw_store_overview (self->store)->currency.code);
  gtk_entry_set_text (GTK_ENTRY (self->remark), "");
  say (self, NULL);
  gtk_popover_popup (GTK_POPOVER (self));
  gtk_widget_grab_focus (self->amount);
}
