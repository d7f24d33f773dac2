/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page Takings. Reads what core/trade worked out; adds nothing up. */
#include "app/takings-page.h"

#include "app/entries-table.h"
#include "app/shares-view.h"
#include "app/side-box.h"
#include "app/takings-chart.h"
#include "app/takings-out.h"
#include "app/takings-table.h"
#include "app/text.h"
#include "core/trade/against-scrap.h"
#include "core/trade/on-offer.h"

struct _SwTakingsPage
{
  GtkBox parent;
  SwStore *store;
  SwGrouping grouping;
  GtkWidget *stack, *behind, *views, *table, *chart, *entries, *entries_title, *entries_frame,
      *credit_note, *on_offer, *against_scrap, *others_menu;
  GtkWidget *credits[SW_N_CREDITS], *groupings[SW_N_GROUPINGS];
  GtkWidget *credit_found, *credit_sold, *credit_handed_over, *by_trip, *by_place, *by_outlet,
      *by_month, *by_round;
  GtkWidget *shares;
  GCancellable *reading; /* of the entries */
  gboolean following;    /* buttons are being set from the store */
};

G_DEFINE_TYPE (SwTakingsPage, sw_takings_page, GTK_TYPE_BOX)

typedef struct
{
  SwCredit credit;
  SwGrouping grouping;
} Wish;

typedef struct
{
  SwTakings takings;
  SwAgainstScrap against;
  GArray *on_offer; /* SwOnOfferRow */
} Read;

static void
read_free (gpointer data)
{
  sw_takings_clear (&((Read *)data)->takings);
  g_clear_pointer (&((Read *)data)->on_offer, g_array_unref);
  g_free (data);
}

static gpointer
read_takings (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const Wish *wish = data;
  Read *read = g_new0 (Read, 1);

  if (sw_takings_read (catalogue, wish->credit, wish->grouping, &read->takings, error)
      && sw_against_scrap_read (catalogue, &read->against, error)
      && (read->on_offer = sw_on_offer_by_trip (catalogue, error)) != NULL)
    return read;
  read_free (read);
  return NULL;
}

/* ---- what a row is made of ---- */

typedef struct
{
  Wish wish;
  char *key;
} EntriesWish;

static void
entries_wish_free (gpointer data)
{
  g_free (((EntriesWish *)data)->key);
  g_free (data);
}

static gpointer
read_entries (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const EntriesWish *wish = data;

  return sw_takings_entries (catalogue, wish->wish.credit, wish->wish.grouping, wish->key, error);
}

static void
on_entries (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwTakingsPage) self = data;
  g_autoptr (GPtrArray) entries = NULL;

  if (self->store == NULL)
    return;
  entries = sw_store_finish (self->store, result, NULL);
  if (entries != NULL)
    sw_entries_table_show (SW_ENTRIES_TABLE (self->entries), self->store, entries);
}

static void
stop_reading (SwTakingsPage *self)
{
  if (self->reading != NULL)
    g_cancellable_cancel (self->reading);
  g_clear_object (&self->reading);
}

/* Below this height chart, rows and what is behind one of them find no room together. */
#define LEAST_FOR_ALL 640

static gboolean
has_room (SwTakingsPage *self)
{
  return gtk_widget_get_allocated_height (GTK_WIDGET (self)) >= LEAST_FOR_ALL;
}

static void
on_row_chosen (GtkTreeSelection *selection, SwTakingsPage *self)
{
  int row;
  g_autofree char *key = sw_takings_table_chosen (SW_TAKINGS_TABLE (self->table), &row);

  stop_reading (self);
  sw_takings_chart_choose (SW_TAKINGS_CHART (self->chart), row);
  gtk_label_set_text (GTK_LABEL (self->entries_title),
                      key != NULL ? _ ("The sales and costs behind this row")
                                  : _ ("Choose a row to see the sales and costs behind it."));
  gtk_widget_set_visible (self->entries_frame, key != NULL);
  gtk_widget_set_visible (self->chart, key == NULL || has_room (self));
  if (key == NULL || self->store == NULL)
    {
      sw_entries_table_show (SW_ENTRIES_TABLE (self->entries), self->store, NULL);
      return;
    }
  EntriesWish *wish = g_new0 (EntriesWish, 1);
  wish->wish = (Wish){ sw_store_get_credit (self->store), self->grouping };
  wish->key = g_steal_pointer (&key);
  self->reading = g_cancellable_new ();
  sw_store_read (self->store, SW_RANK_VISIBLE, read_entries, wish, entries_wish_free,
                 (GDestroyNotify)g_ptr_array_unref, self->reading, on_entries, g_object_ref (self));
}

/* ---- the rows ---- */

/* "Trip 2: 3 things, 750.00 asked". */
static char *
on_offer_words (SwTakingsPage *self, const SwOnOfferRow *row)
{
  g_autofree char *trip = row->trip != 0 ? g_strdup_printf (_ ("Trip %" PRId64), row->trip)
                                         : g_strdup (_ ("No trip"));
  g_autofree char *things = sw_text_count (row->things, "%d thing", "%d things");
  g_autofree char *asked = sw_store_money (self->store, row->asked);

  if (row->unpriced > 0)
    return g_strdup_printf (_ ("%s: %s, %s asked, %u without a price"), trip, things, asked,
                            row->unpriced);
  return g_strdup_printf (_ ("%s: %s, %s asked"), trip, things, asked);
}

/* Hidden where nothing is. By the trip that found it, whatever the rows are by. */
static void
show_on_offer (SwTakingsPage *self, const GArray *rows)
{
  g_autoptr (GString) text = g_string_new (_ ("Still on offer. "));

  for (guint i = 0; i < rows->len; i++)
    {
      g_autofree char *words = on_offer_words (self, &g_array_index (rows, SwOnOfferRow, i));
      g_string_append_printf (text, "%s%s", i > 0 ? "; " : "", words);
    }
  g_string_append_c (text, '.');
  gtk_label_set_text (GTK_LABEL (self->on_offer), text->str);
  gtk_widget_set_visible (self->on_offer, rows->len > 0);
}

/* Hidden where no scrap value is known of anything that was sold. */
static void
show_against_scrap (SwTakingsPage *self, const SwAgainstScrap *sums)
{
  g_autofree char *things = sw_text_count (sums->things, "%d thing", "%d things");
  g_autofree char *raised = sw_store_money (self->store, sums->raised);
  g_autofree char *scrap = sw_store_money (self->store, sums->scrap);
  g_autofree char *more = sw_store_money (self->store, sums->more);
  g_autofree char *text = g_strdup_printf (
      _ ("%s sold with a known scrap value: raised %s, as scrap alone %s, a difference of %s."),
      things, raised, scrap, more);

  gtk_label_set_text (GTK_LABEL (self->against_scrap), text);
  gtk_widget_set_visible (self->against_scrap, sums->things > 0);
}

static void
on_takings (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwTakingsPage) self = data;
  Read *read;

  if (self->store == NULL)
    return;
  read = sw_store_finish (self->store, result, NULL);
  if (read == NULL)
    return;
  sw_takings_table_show (SW_TAKINGS_TABLE (self->table), self->store, &read->takings,
                         self->grouping);
  sw_takings_chart_show (SW_TAKINGS_CHART (self->chart), self->store, &read->takings,
                         self->grouping);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack),
                                    read->takings.rows->len > 0 ? "table" : "empty");
  gtk_widget_set_visible (self->behind, read->takings.rows->len > 0);
  show_against_scrap (self, &read->against);
  show_on_offer (self, read->on_offer);
  read_free (read);
}

static void
load (SwTakingsPage *self)
{
  Wish *wish = g_new0 (Wish, 1);
  SwCredit credit = sw_store_get_credit (self->store);

  wish->credit = credit;
  wish->grouping = self->grouping;
  self->following = TRUE;
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->credits[credit]), TRUE);
  self->following = FALSE;
  gtk_label_set_text (GTK_LABEL (self->credit_note), sw_text_credit (credit));
  sw_store_read (self->store, SW_RANK_VISIBLE, read_takings, wish, g_free, read_free, NULL,
                 on_takings, g_object_ref (self));
}

static void
on_credit_toggled (GtkToggleButton *button, SwTakingsPage *self)
{
  if (self->following || !gtk_toggle_button_get_active (button))
    return;
  for (int i = 0; i < SW_N_CREDITS; i++)
    if (self->credits[i] == GTK_WIDGET (button))
      sw_store_set_credit (self->store, (SwCredit)i);
}

static void
on_grouping_toggled (GtkToggleButton *button, SwTakingsPage *self)
{
  if (!gtk_toggle_button_get_active (button) || self->store == NULL)
    return;
  for (int i = 0; i < SW_N_GROUPINGS; i++)
    if (self->groupings[i] == GTK_WIDGET (button))
      self->grouping = (SwGrouping)i;
  load (self);
}

/* ---- for others ---- */

static GtkWindow *
window_of (SwTakingsPage *self)
{
  return GTK_WINDOW (gtk_widget_get_toplevel (GTK_WIDGET (self)));
}

static void
on_print (SwTakingsPage *self)
{
  gtk_popover_popdown (GTK_POPOVER (self->others_menu));
  sw_takings_print (window_of (self), self->store, self->grouping);
}

static void
on_sheet (SwTakingsPage *self)
{
  gtk_popover_popdown (GTK_POPOVER (self->others_menu));
  sw_takings_save_ask (window_of (self), self->store, self->grouping, FALSE);
}

static void
on_table (SwTakingsPage *self)
{
  gtk_popover_popdown (GTK_POPOVER (self->others_menu));
  sw_takings_save_ask (window_of (self), self->store, self->grouping, TRUE);
}

/* ---- object ---- */

static void
sw_takings_page_dispose (GObject *object)
{
  SwTakingsPage *self = SW_TAKINGS_PAGE (object);

  if (self->store != NULL)
    g_signal_handlers_disconnect_by_data (self->store, self);
  stop_reading (self);
  g_clear_object (&self->store);
  G_OBJECT_CLASS (sw_takings_page_parent_class)->dispose (object);
}

static void
sw_takings_page_class_init (SwTakingsPageClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_takings_page_dispose;
  g_type_ensure (SW_TYPE_SIDE_BOX);
  g_type_ensure (SW_TYPE_TAKINGS_TABLE);
  g_type_ensure (SW_TYPE_TAKINGS_CHART);
  g_type_ensure (SW_TYPE_ENTRIES_TABLE);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/takings-page.ui");
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, stack);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, behind);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, table);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, credit_note);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, against_scrap);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, on_offer);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, others_menu);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, credit_found);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, credit_sold);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, credit_handed_over);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, by_trip);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, by_place);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, by_outlet);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, by_month);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, by_round);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, views);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, chart);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, entries);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, entries_title);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, entries_frame);
  gtk_widget_class_bind_template_callback (widget, on_credit_toggled);
  gtk_widget_class_bind_template_callback (widget, on_grouping_toggled);
  gtk_widget_class_bind_template_callback (widget, on_row_chosen);
  gtk_widget_class_bind_template_callback (widget, on_print);
  gtk_widget_class_bind_template_callback (widget, on_sheet);
  gtk_widget_class_bind_template_callback (widget, on_table);
}

static void
sw_takings_page_init (SwTakingsPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->credits[SW_CREDIT_FOUND] = self->credit_found;
  self->credits[SW_CREDIT_SOLD] = self->credit_sold;
  self->credits[SW_CREDIT_HANDED_OVER] = self->credit_handed_over;
  self->groupings[SW_BY_TRIP] = self->by_trip;
  self->groupings[SW_BY_PLACE] = self->by_place;
  self->groupings[SW_BY_OUTLET] = self->by_outlet;
  self->groupings[SW_BY_MONTH] = self->by_month;
  self->groupings[SW_BY_ROUND] = self->by_round;
}

GtkWidget *
sw_takings_page_new (SwStore *store)
{
  SwTakingsPage *self = g_object_new (SW_TYPE_TAKINGS_PAGE, NULL);

  self->store = g_object_ref (store);
  self->shares = sw_shares_view_new (store);
  gtk_widget_show (self->shares);
  gtk_stack_add_titled (GTK_STACK (self->views), self->shares, "shares", _ ("Shares"));
  g_signal_connect_object (store, "changed", G_CALLBACK (load), self, G_CONNECT_SWAPPED);
  load (self);
  return GTK_WIDGET (self);
}
