/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The list of sales and the forms opened for the one chosen. */
#include "app/sales-view.h"

#include "app/offer-forms.h"
#include "app/row-list.h"
#include "app/sale-box.h"
#include "app/side-box.h"
#include "app/slip-form.h"
#include "app/receipt-out.h"
#include "app/statement-form.h"
#include "app/text.h"
#include "core/trade/sales.h"

struct _SwSalesView
{
  GtkBox parent;
  SwStore *store;
  GPtrArray *sales; /* SwSale */
  GtkWidget *stack, *summary, *list, *desk, *payment, *paid_back, *collected, *reversal, *receipt,
      *fee, *sale;
};

G_DEFINE_TYPE (SwSalesView, sw_sales_view, GTK_TYPE_BOX)

/* ---- rows ---- */

typedef struct
{
  SwStore *store;
  GPtrArray *sales;
} Data;

static void
data_free (gpointer data)
{
  g_object_unref (((Data *)data)->store);
  g_ptr_array_unref (((Data *)data)->sales);
  g_free (data);
}

static const SwSale *
sale_at (gpointer data, guint i)
{
  return g_ptr_array_index (((Data *)data)->sales, i);
}

static SwRowKind
kind (gpointer data, guint i)
{
  return SW_ROW_ITEM;
}

static gint64
key (gpointer data, guint i)
{
  return sale_at (data, i)->deal->id;
}

/* "20.00 owed, 5.00 given back, not collected, 26 April 2026, S3, Hill Road" */
static char *
detail (const Data *self, const SwSale *sale)
{
  g_autofree char *day = sw_day_written (sale->deal->ended);
  g_autofree char *left = sw_store_money (self->store, sale->owed);
  g_autofree char *owed = g_strdup_printf (_ ("%s owed"), left);
  g_autofree char *beyond = sw_store_money (self->store, sale->over);
  g_autofree char *over = g_strdup_printf (_ ("%s paid too much"), beyond);
  g_autofree char *returned = sw_store_money (self->store, sale->taken_back);
  g_autofree char *back = g_strdup_printf (_ ("%s given back"), returned);
  const char *parts[8];
  guint n = 0;

  if (!sale->fell_through && sale->owed.minor > 0)
    parts[n++] = owed;
  if (!sale->fell_through && sale->over.minor > 0)
    parts[n++] = over;
  if (!sale->fell_through && sale->taken_back.minor > 0)
    parts[n++] = back;
  if (!sale->fell_through && !sale->deal->has_collected)
    parts[n++] = _ ("not collected");
  parts[n++] = day;
  parts[n++] = sale->deal->ref;
  parts[n++] = sale->deal->outlet_name; /* NULL ends the list */
  parts[n] = NULL;
  return g_strjoinv (", ", (char **)parts);
}

static void
face (gpointer data, guint i, SwRowFace *out_face)
{
  const Data *self = data;
  const SwSale *sale = sale_at (data, i);
  gboolean settled = sw_sale_is_settled (sale);

  out_face->title = g_strdup (sale->items);
  out_face->trail = sw_store_money (self->store, sale->price);
  out_face->icon = sale->fell_through ? "sw-no-sale-symbolic"
                   : settled          ? "sw-handed-over-symbolic"
                                      : "sw-sold-symbolic";
  out_face->word = sale->fell_through ? _ ("Fell through") : settled ? _ ("Settled") : _ ("Sold");
  out_face->detail = detail (self, sale);
  out_face->picture = sale->photo;
  out_face->done = settled;
  out_face->sentence = g_strdup_printf ("%s, %s, %s, %s", out_face->title, out_face->word,
                                        out_face->trail, out_face->detail);
}

static const SwRowsFuncs funcs = { kind, key, face };

/* ---- what is shown ---- */

static const SwSale *
current (SwSalesView *self)
{
  gint64 deal = sw_row_list_get_key (SW_ROW_LIST (self->list));

  for (guint i = 0; self->sales != NULL && i < self->sales->len; i++)
    {
      const SwSale *sale = g_ptr_array_index (self->sales, i);
      if (sale->deal->id == deal)
        return sale;
    }
  return NULL;
}

static void
follow (SwSalesView *self)
{
  const SwSale *sale = current (self);
  gboolean stands
      = sale != NULL && !sale->fell_through && !sw_store_overview (self->store)->read_only;

  gtk_widget_set_sensitive (self->payment, stands && sale->owed.minor > 0);
  gtk_widget_set_visible (self->paid_back, stands && sale->over.minor > 0);
  gtk_widget_set_sensitive (self->collected, stands && !sale->deal->has_collected);
  gtk_widget_set_sensitive (self->reversal, stands);
  gtk_widget_set_sensitive (self->receipt, sale != NULL && !sale->fell_through);
  gtk_widget_set_sensitive (self->fee, sale != NULL && !sw_store_overview (self->store)->read_only);
  sw_sale_box_load (SW_SALE_BOX (self->sale), self->store, sale != NULL ? sale->deal->id : 0,
                    sale != NULL ? sale->items : "");
}

static void
summarize (SwSalesView *self)
{
  guint n = self->sales->len, open = 0;
  g_autofree char *text = NULL;

  for (guint i = 0; i < self->sales->len; i++)
    open += !sw_sale_is_settled (g_ptr_array_index (self->sales, i));
  text = open > 0 ? sw_text_counted (n, "%u sale, %u to see to", "%u sales, %u to see to", n, open)
                  : sw_text_count (n, "%d sale", "%d sales");
  gtk_label_set_text (GTK_LABEL (self->summary), text);
}

static gpointer
read_sales (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  return sw_sale_list (catalogue, error);
}

static void
on_sales (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwSalesView) self = data;
  g_autoptr (SwRows) rows = NULL;
  GPtrArray *sales;
  Data *rows_data;

  if (self->store == NULL)
    return;
  sales = sw_store_finish (self->store, result, NULL);
  if (sales == NULL)
    return;
  g_clear_pointer (&self->sales, g_ptr_array_unref);
  self->sales = sales;
  rows_data = g_new0 (Data, 1);
  rows_data->store = g_object_ref (self->store);
  rows_data->sales = g_ptr_array_ref (sales);
  rows = sw_rows_new (sales->len, &funcs, rows_data, data_free);
  sw_row_list_set_rows (SW_ROW_LIST (self->list), rows);
  if (sw_row_list_get_key (SW_ROW_LIST (self->list)) == 0 && sales->len > 0)
    sw_row_list_set_key (SW_ROW_LIST (self->list), sale_at (rows_data, 0)->deal->id);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), sales->len > 0 ? "sales" : "none");
  summarize (self);
  follow (self);
}

/* ---- forms ---- */

static GtkWindow *
window_of (SwSalesView *self)
{
  return GTK_WINDOW (gtk_widget_get_toplevel (GTK_WIDGET (self)));
}

static void
on_by_hand (SwSalesView *self)
{
  sw_slip_form_show (window_of (self), self->store, SW_SLIP_SALE, NULL, NULL, NULL);
}

static void
on_statement (SwSalesView *self)
{
  sw_statement_form_ask (window_of (self), self->store);
}

static void
on_payment (SwSalesView *self)
{
  const SwSale *sale = current (self);
  g_autofree char *owed = sale != NULL ? sw_store_money (self->store, sale->owed) : NULL;
  const char *begun[] = { owed, NULL, NULL, NULL };

  if (sale != NULL)
    sw_offer_form_show (window_of (self), self->store, SW_OFFER_FORM_PAYMENT, sale->deal->id,
                        sale->items, begun);
}

static void
on_paid_back (SwSalesView *self)
{
  const SwSale *sale = current (self);
  g_autofree char *over = sale != NULL ? sw_store_money (self->store, sale->over) : NULL;
  const char *begun[] = { over, NULL, NULL };

  if (sale != NULL)
    sw_offer_form_show (window_of (self), self->store, SW_OFFER_FORM_PAID_BACK, sale->deal->id,
                        sale->items, begun);
}

static void
on_button (GtkWidget *button, SwSalesView *self)
{
  const SwSale *sale = current (self);
  SwSlipKind slip = button == self->collected  ? SW_SLIP_COLLECTED
                    : button == self->reversal ? SW_SLIP_REVERSAL
                                               : SW_SLIP_FEE;

  if (sale != NULL)
    sw_slip_form_show (window_of (self), self->store, slip, sale->deal->ref, sale->items, NULL);
}

static void
on_receipt (SwSalesView *self)
{
  const SwSale *sale = current (self);

  if (sale != NULL)
    sw_receipt_out_ask (window_of (self), self->store, sale->deal->ref);
}

static void
on_activated (SwSalesView *self)
{
  if (gtk_widget_get_sensitive (self->payment))
    gtk_widget_grab_focus (self->payment);
}

/* ---- object ---- */

static void
sw_sales_view_dispose (GObject *object)
{
  SwSalesView *self = SW_SALES_VIEW (object);

  g_clear_object (&self->store);
  g_clear_pointer (&self->sales, g_ptr_array_unref);
  G_OBJECT_CLASS (sw_sales_view_parent_class)->dispose (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwSalesView, name)

static void
sw_sales_view_class_init (SwSalesViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_sales_view_dispose;
  g_type_ensure (SW_TYPE_ROW_LIST);
  g_type_ensure (SW_TYPE_SALE_BOX);
  g_type_ensure (SW_TYPE_SIDE_BOX);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/sales-view.ui");
  BIND (stack);
  BIND (summary);
  BIND (list);
  BIND (desk);
  BIND (payment);
  BIND (paid_back);
  BIND (collected);
  BIND (reversal);
  BIND (receipt);
  BIND (fee);
  BIND (sale);
  gtk_widget_class_bind_template_callback (widget, follow);
  gtk_widget_class_bind_template_callback (widget, on_button);
  gtk_widget_class_bind_template_callback (widget, on_by_hand);
  gtk_widget_class_bind_template_callback (widget, on_payment);
  gtk_widget_class_bind_template_callback (widget, on_paid_back);
  gtk_widget_class_bind_template_callback (widget, on_statement);
  gtk_widget_class_bind_template_callback (widget, on_receipt);
  gtk_widget_class_bind_template_callback (widget, on_activated);
}

static void
sw_sales_view_init (SwSalesView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
sw_sales_view_new (SwStore *store, SwPictures *pictures)
{
  SwSalesView *self = g_object_new (SW_TYPE_SALES_VIEW, NULL);

  self->store = g_object_ref (store);
  sw_row_list_set_pictures (SW_ROW_LIST (self->list), pictures);
  return GTK_WIDGET (self);
}

void
sw_sales_view_load (GtkWidget *view)
{
  SwSalesView *self = SW_SALES_VIEW (view);

  sw_store_read (self->store, SW_RANK_VISIBLE, read_sales, NULL, NULL,
                 (GDestroyNotify)g_ptr_array_unref, NULL, on_sales, g_object_ref (self));
}

void
sw_sales_view_focus (GtkWidget *view)
{
  gtk_widget_grab_focus (SW_SALES_VIEW (view)->list);
}
