/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines and a small table of fees; figures are core's. */
#include "app/sale-box.h"

#include "app/offer-forms.h"
#include "app/slip-form.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/trade/sale-sheet.h"

struct _SwSaleBox
{
  GtkBox parent;
  SwStore *store;
  gint64 deal; /* shown or being read */
  char *items;
  SwSaleSheet *sheet;
  GtkWidget *lines, *fees, *people;
};

G_DEFINE_TYPE (SwSaleBox, sw_sale_box, GTK_TYPE_BOX)

/* ---- lines ---- */

static void
add_payment (SwSaleBox *self, const SwPaymentTold *payment)
{
  g_autofree char *money = sw_store_money (self->store, payment->amount);
  g_autofree char *day = sw_day_written (payment->day);
  const char *how = payment->how, *to = payment->to_whom;
  g_autofree char *text = NULL;

  if (*how != '\0' && *to != '\0')
    text = g_strdup_printf (_ ("Paid %s on %s, %s, to %s"), money, day, how, to);
  else if (*to != '\0')
    text = g_strdup_printf (_ ("Paid %s on %s, to %s"), money, day, to);
  else if (*how != '\0')
    text = g_strdup_printf (_ ("Paid %s on %s, %s"), money, day, how);
  else
    text = g_strdup_printf (_ ("Paid %s on %s"), money, day);
  sw_container_add_line (self->lines, text, NULL);
}

static void
add_back (SwSaleBox *self, const SwDealEntry *entry)
{
  g_autofree char *money = sw_store_money (self->store, entry->amount);
  g_autofree char *day = sw_day_written (entry->day);
  g_autofree char *text = g_strdup_printf (_ ("Paid too much, given back on %s: %s"), day, money);

  sw_container_add_line (self->lines, text, NULL);
}

static void
add_reversal (SwSaleBox *self, const SwDealEntry *entry)
{
  g_autofree char *money = sw_store_money (self->store, entry->amount);
  g_autofree char *day = sw_day_written (entry->day);
  g_autofree char *text = g_strdup_printf (entry->whole ? _ ("Fell through on %s: %s taken back")
                                                        : _ ("On %s refunded: %s"),
                                           day, money);

  sw_container_add_line (self->lines, text, NULL);
}

static void
fill_lines (SwSaleBox *self)
{
  const SwDeal *deal = self->sheet->deal;
  g_autofree char *collected = deal->has_collected ? sw_day_written (deal->collected) : NULL;
  g_autofree char *line
      = collected != NULL ? g_strdup_printf (_ ("Collected on %s"), collected) : NULL;

  sw_container_empty (self->lines);
  for (guint i = 0; i < self->sheet->payments->len; i++)
    add_payment (self, g_ptr_array_index (self->sheet->payments, i));
  for (guint i = 0; i < self->sheet->backs->len; i++)
    add_back (self, &g_array_index (self->sheet->backs, SwDealEntry, i));
  for (guint i = 0; i < self->sheet->reversals->len; i++)
    add_reversal (self, &g_array_index (self->sheet->reversals, SwDealEntry, i));
  if (line != NULL)
    sw_container_add_line (self->lines, line, NULL);
}

/* ---- fees ---- */

static void
attach (SwSaleBox *self, const char *text, int column, int row, const char *class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), column == 0 ? 0 : 1);
  gtk_label_set_ellipsize (GTK_LABEL (label),
                           column == 0 ? PANGO_ELLIPSIZE_END : PANGO_ELLIPSIZE_NONE);
  gtk_widget_set_hexpand (label, column == 0);
  if (class != NULL)
    gtk_style_context_add_class (gtk_widget_get_style_context (label), class);
  gtk_grid_attach (GTK_GRID (self->fees), label, column, row, 1, 1);
  gtk_widget_show (label);
}

/* "+1.00" or "-1.00": against what was worked out. */
static char *
difference_of (SwSaleBox *self, const SwSaleFee *fee)
{
  g_autofree char *money = fee->has_charged ? sw_store_money (self->store, fee->difference) : NULL;

  if (money == NULL)
    return g_strdup (_ ("not charged yet"));
  if (fee->difference.minor == 0)
    return g_strdup (_ ("agrees"));
  return g_strdup_printf ("%s%s", fee->difference.minor > 0 ? "+" : "", money);
}

static void
add_fee (SwSaleBox *self, const SwSaleFee *fee, int row)
{
  g_autofree char *computed
      = fee->has_computed ? sw_store_money (self->store, fee->computed) : g_strdup (_ ("none"));
  g_autofree char *charged = fee->has_charged ? sw_store_money (self->store, fee->charged) : NULL;
  g_autofree char *difference = difference_of (self, fee);

  attach (self, fee->charge, 0, row, NULL);
  attach (self, computed, 1, row, NULL);
  attach (self, charged != NULL ? charged : "", 2, row, NULL);
  attach (self, difference, 3, row, fee->has_charged ? NULL : "dim-label");
}

static void
fill_fees (SwSaleBox *self)
{
  static const char *const heads[]
      = { N_ ("Fee"), N_ ("Worked out"), N_ ("Charged"), N_ ("Difference") };
  guint n = self->sheet->fees->len;
  g_autofree char *total = sw_store_money (self->store, self->sheet->fees_total);

  sw_container_empty (self->fees);
  for (int i = 0; n > 0 && i < (int)G_N_ELEMENTS (heads); i++)
    attach (self, _ (heads[i]), i, 0, "dim-label");
  for (guint i = 0; i < n; i++)
    add_fee (self, g_ptr_array_index (self->sheet->fees, i), (int)i + 1);
  if (n > 1)
    {
      attach (self, _ ("Fees that count"), 0, (int)n + 1, "sw-state");
      attach (self, total, 2, (int)n + 1, "sw-state");
    }
}

/* ---- people ---- */

static void
add_person (SwSaleBox *self, const char *words, const char *button_label, GCallback clicked)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *label = gtk_label_new (words);
  GtkWidget *button = gtk_button_new_with_mnemonic (button_label);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_line_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_line_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_box_pack_start (GTK_BOX (row), label, TRUE, TRUE, 0);
  gtk_box_pack_end (GTK_BOX (row), button, FALSE, FALSE, 0);
  gtk_widget_set_sensitive (button, !sw_store_overview (self->store)->read_only);
  g_signal_connect_swapped (button, "clicked", clicked, self);
  gtk_widget_show_all (row);
  gtk_container_add (GTK_CONTAINER (self->people), row);
}

static GtkWindow *
window_of (SwSaleBox *self)
{
  return GTK_WINDOW (gtk_widget_get_toplevel (GTK_WIDGET (self)));
}

static void
on_remove (SwSaleBox *self)
{
  sw_remove_buyer_ask (window_of (self), self->store, self->sheet->deal->buyer);
}

static void
on_next (SwSaleBox *self)
{
  const SwEnquiry *next = self->sheet->next;
  g_autofree char *amount = next != NULL ? sw_store_money (self->store, next->amount) : NULL;
  g_autofree char *about = g_strdup_printf (
      _ ("%s: the sale falls through today, if it did not yet, and it is sold again."),
      self->items);
  const char *begun[] = { next != NULL ? next->person : NULL, amount };

  sw_offer_form_show (window_of (self), self->store, SW_OFFER_FORM_NEXT, self->deal, about, begun);
}

/* To the same buyer: what was also to be had with it. */
static void
on_extra (SwSaleBox *self)
{
  g_autofree char *about
      = g_strdup_printf (_ ("Also to be had with %s: %s"), self->items, self->sheet->extra);

  sw_slip_form_show_sale (window_of (self), self->store, about, self->sheet->deal->buyer);
}

static void
fill_people (SwSaleBox *self)
{
  const SwDeal *deal = self->sheet->deal;
  const SwEnquiry *next = self->sheet->next;
  g_autofree char *money = next != NULL ? sw_store_money (self->store, next->amount) : NULL;
  g_autofree char *best
      = next != NULL ? g_strdup_printf (_ ("Next best: %s, %s"),
                                        next->person != NULL ? next->person : _ ("somebody"), money)
                     : g_strdup (_ ("Nobody else named an amount"));
  g_autofree char *bought
      = deal->buyer != NULL ? g_strdup_printf (_ ("Bought by %s"), deal->buyer) : NULL;
  g_autofree char *extra
      = *self->sheet->extra != '\0'
            ? g_strdup_printf (_ ("Also to be had with it: %s"), self->sheet->extra)
            : NULL;

  sw_container_empty (self->people);
  if (bought != NULL)
    add_person (self, bought, _ ("Remove the na_me…"), G_CALLBACK (on_remove));
  if (!deal->has_collected)
    add_person (self, best, _ ("Sell to the ne_xt…"), G_CALLBACK (on_next));
  if (extra != NULL)
    add_person (self, extra, _ ("Sold _with it…"), G_CALLBACK (on_extra));
}

/* ---- reading ---- */

typedef struct
{
  SwSaleBox *box;
  gint64 deal;
} Reading;

static gpointer
read_sheet (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  return sw_sale_sheet (catalogue, *(const gint64 *)data, error);
}

static void
on_sheet (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autofree Reading *reading = data;
  g_autoptr (SwSaleBox) self = reading->box;
  SwSaleSheet *sheet;

  if (self->store == NULL)
    return;
  sheet = sw_store_finish (self->store, result, NULL);
  if (sheet == NULL || reading->deal != self->deal)
    {
      sw_sale_sheet_free (sheet);
      return;
    }
  g_clear_pointer (&self->sheet, sw_sale_sheet_free);
  self->sheet = sheet;
  fill_people (self);
  fill_lines (self);
  fill_fees (self);
}

void
sw_sale_box_load (SwSaleBox *self, SwStore *store, gint64 deal, const char *items)
{
  Reading *reading;

  g_set_object (&self->store, store);
  g_free (self->items);
  self->items = g_strdup (items);
  self->deal = deal;
  gtk_widget_set_visible (GTK_WIDGET (self), deal != 0);
  if (deal == 0)
    return;
  reading = g_new0 (Reading, 1);
  reading->box = g_object_ref (self);
  reading->deal = deal;
  sw_store_read (store, SW_RANK_VISIBLE, read_sheet, g_memdup2 (&deal, sizeof deal), g_free,
                 (GDestroyNotify)sw_sale_sheet_free, NULL, on_sheet, reading);
}

/* ---- object ---- */

static void
sw_sale_box_dispose (GObject *object)
{
  SwSaleBox *self = SW_SALE_BOX (object);

  g_clear_object (&self->store);
  g_clear_pointer (&self->sheet, sw_sale_sheet_free);
  g_clear_pointer (&self->items, g_free);
  G_OBJECT_CLASS (sw_sale_box_parent_class)->dispose (object);
}

static void
sw_sale_box_class_init (SwSaleBoxClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_sale_box_dispose;
}

static GtkWidget *
box_new (SwSaleBox *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);

  gtk_container_add (GTK_CONTAINER (self), box);
  gtk_widget_show (box);
  return box;
}

static void
sw_sale_box_init (SwSaleBox *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 8);
  self->people = box_new (self);
  self->lines = box_new (self);
  self->fees = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (self->fees), 14);
  gtk_grid_set_row_spacing (GTK_GRID (self->fees), 2);
  gtk_container_add (GTK_CONTAINER (self), self->fees);
  gtk_widget_show (self->fees);
}
