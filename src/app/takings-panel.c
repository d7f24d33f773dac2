/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shows the store's takings by trip; the view chosen here is the store's, so every page has it. */
#include "app/takings-panel.h"

#include "app/takings-table.h"
#include "app/text.h"

/* Its total is the last row and is to be in view, as long as the page above keeps some room. */
#define MOST_HEIGHT 230

struct _SwTakingsPanel
{
  GtkRevealer parent;
  SwStore *store; /* NULL: none is open */
  GtkWidget *table, *credit, *note, *scroller;
  guint size_idle;
  gboolean following; /* the choice is being set from the store */
};

G_DEFINE_TYPE (SwTakingsPanel, sw_takings_panel, GTK_TYPE_REVEALER)

static gboolean
size_now (gpointer data)
{
  SwTakingsPanel *self = data;
  GtkScrolledWindow *scroller = GTK_SCROLLED_WINDOW (self->scroller);
  GtkAdjustment *rolled = gtk_scrolled_window_get_vadjustment (scroller);
  double heads
      = gtk_widget_get_allocated_height (self->table) - gtk_adjustment_get_page_size (rolled);
  int height = (int)(gtk_adjustment_get_upper (rolled) + MAX (heads, 0));

  self->size_idle = 0;
  if (gtk_adjustment_get_upper (rolled) > gtk_adjustment_get_page_size (rolled))
    gtk_scrolled_window_set_min_content_height (scroller, MIN (height, MOST_HEIGHT));
  return G_SOURCE_REMOVE;
}

/* The table knows its height when it is laid out; it must not change in the middle of that. */
static void
size (SwTakingsPanel *self)
{
  if (self->size_idle == 0)
    self->size_idle = g_idle_add (size_now, self);
}

static void
follow (SwTakingsPanel *self)
{
  SwCredit credit = sw_store_get_credit (self->store);

  sw_takings_table_show (SW_TAKINGS_TABLE (self->table), self->store,
                         &sw_store_overview (self->store)->takings, SW_BY_TRIP);
  self->following = TRUE;
  gtk_combo_box_set_active (GTK_COMBO_BOX (self->credit), (int)credit);
  self->following = FALSE;
  gtk_label_set_text (GTK_LABEL (self->note), sw_text_credit (credit));
}

static void
on_credit_changed (GtkComboBox *combo, SwTakingsPanel *self)
{
  int credit = gtk_combo_box_get_active (combo);

  if (!self->following && self->store != NULL && credit >= 0)
    sw_store_set_credit (self->store, (SwCredit)credit);
}

void
sw_takings_panel_set_store (SwTakingsPanel *self, SwStore *store)
{
  if (self->store != NULL)
    g_signal_handlers_disconnect_by_data (self->store, self);
  g_set_object (&self->store, store);
  if (store == NULL)
    return;
  g_signal_connect_object (store, "changed", G_CALLBACK (follow), self, G_CONNECT_SWAPPED);
  if (sw_store_overview (store) != NULL)
    follow (self);
}

static void
sw_takings_panel_dispose (GObject *object)
{
  SwTakingsPanel *self = SW_TAKINGS_PANEL (object);

  g_clear_handle_id (&self->size_idle, g_source_remove);
  sw_takings_panel_set_store (self, NULL);
  G_OBJECT_CLASS (sw_takings_panel_parent_class)->dispose (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwTakingsPanel, name)

static void
sw_takings_panel_class_init (SwTakingsPanelClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_takings_panel_dispose;
  g_type_ensure (SW_TYPE_TAKINGS_TABLE);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/takings-panel.ui");
  BIND (table);
  BIND (credit);
  BIND (note);
  BIND (scroller);
  gtk_widget_class_bind_template_callback (widget, on_credit_changed);
}

static void
sw_takings_panel_init (SwTakingsPanel *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  sw_takings_table_set_with_costs (SW_TAKINGS_TABLE (self->table), FALSE);
  g_signal_connect_object (
      gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller)), "changed",
      G_CALLBACK (size), self, G_CONNECT_SWAPPED);
}
