/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page Takings. Reads what core/trade worked out; adds nothing up. */
#include "app/takings-page.h"

#include "app/side-box.h"
#include "app/takings-table.h"
#include "app/text.h"

struct _SwTakingsPage
{
  GtkBox parent;
  SwStore *store;
  SwGrouping grouping;
  GtkWidget *stack, *table, *credit_note;
  GtkWidget *credits[SW_N_CREDITS], *groupings[SW_N_GROUPINGS];
  GtkWidget *credit_found, *credit_sold, *credit_handed_over, *by_trip, *by_place, *by_outlet;
  gboolean following; /* buttons are being set from the store */
};

G_DEFINE_TYPE (SwTakingsPage, sw_takings_page, GTK_TYPE_BOX)

/* What a view credits, in one line. */
static const char *const credit_notes[SW_N_CREDITS] = {
  N_ ("All money of an item counts with the trip that found it."),
  N_ ("Money counts with the trip during or after which the item was sold."),
  N_ ("Money counts with the trip during or after which the item was collected."),
};

typedef struct
{
  SwCredit credit;
  SwGrouping grouping;
} Wish;

static void
takings_free (gpointer data)
{
  sw_takings_clear (data);
  g_free (data);
}

static gpointer
read_takings (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const Wish *wish = data;
  SwTakings *takings = g_new0 (SwTakings, 1);

  if (sw_takings_read (catalogue, wish->credit, wish->grouping, takings, error))
    return takings;
  takings_free (takings);
  return NULL;
}

static void
on_takings (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwTakingsPage) self = data;
  SwTakings *takings;

  if (self->store == NULL)
    return;
  takings = sw_store_finish (self->store, result, NULL);
  if (takings == NULL)
    return;
  sw_takings_table_show (SW_TAKINGS_TABLE (self->table), self->store, takings, self->grouping);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack),
                                    takings->rows->len > 0 ? "table" : "empty");
  takings_free (takings);
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
  gtk_label_set_text (GTK_LABEL (self->credit_note), _ (credit_notes[credit]));
  sw_store_read (self->store, SW_RANK_VISIBLE, read_takings, wish, g_free, takings_free, NULL,
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

static void
sw_takings_page_dispose (GObject *object)
{
  SwTakingsPage *self = SW_TAKINGS_PAGE (object);

  if (self->store != NULL)
    g_signal_handlers_disconnect_by_data (self->store, self);
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
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/takings-page.ui");
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, stack);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, table);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, credit_note);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, credit_found);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, credit_sold);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, credit_handed_over);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, by_trip);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, by_place);
  gtk_widget_class_bind_template_child (widget, SwTakingsPage, by_outlet);
  gtk_widget_class_bind_template_callback (widget, on_credit_toggled);
  gtk_widget_class_bind_template_callback (widget, on_grouping_toggled);
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
}

GtkWidget *
sw_takings_page_new (SwStore *store)
{
  SwTakingsPage *self = g_object_new (SW_TYPE_TAKINGS_PAGE, NULL);

  self->store = g_object_ref (store);
  g_signal_connect_object (store, "changed", G_CALLBACK (load), self, G_CONNECT_SWAPPED);
  load (self);
  return GTK_WIDGET (self);
}
