/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page Property: the plan with its places, the items of what is chosen there, an item's sheet.
 * Joins core's items with the widgets that draw them; no rule and no sum. */
#include "app/property-page.h"

#include "app/ask-list.h"
#include "app/batch-bar.h"
#include "app/item-acts.h"
#include "app/item-filter.h"
#include "app/item-rows.h"
#include "app/item-sheet.h"
#include "app/item-table.h"
#include "app/place-words.h"
#include "app/plan-pane.h"
#include "app/row-list.h"
#include "app/text.h"

struct _SwPropertyPage
{
  GtkBox parent;
  SwStore *store;
  SwPictures *pictures;
  gint64 place; /* 0: the whole property */
  GCancellable *cancellable;
  GtkWidget *columns, *stack, *plan, *items, *sheet;
  GtkWidget *place_name, *place_note, *whole_button, *search, *items_stack, *items_none;
  GtkWidget *tools, *filter, *filter_button, *mode_rows, *mode_table, *mode_ask, *table, *ask,
      *batch;
  SwItemList *list; /* what is shown; NULL until read */
  SwItemOrder order;
  gboolean descending, sketching; /* sketching: the plan is shown although it is empty */
};

G_DEFINE_TYPE (SwPropertyPage, sw_property_page, GTK_TYPE_BOX)

/* ---- items ---- */

static char *
place_note (const SwPlaceSummary *summary)
{
  g_autofree char *standing = sw_place_words_standing (summary);
  g_autofree char *waits = sw_place_words_waits (summary);

  return waits != NULL ? g_strdup_printf ("%s, %s", standing, waits) : g_steal_pointer (&standing);
}

static void
fill_heading (SwPropertyPage *self)
{
  const SwPlace *place = sw_store_place (self->store, self->place);
  g_autofree char *note = NULL;

  gtk_label_set_text (GTK_LABEL (self->place_name), place != NULL ? place->path : _ ("All places"));
  gtk_widget_set_visible (self->whole_button, place != NULL);
  if (place != NULL)
    note = place_note (sw_store_summary (self->store, self->place));
  gtk_label_set_text (GTK_LABEL (self->place_note), note != NULL ? note : "");
  gtk_widget_set_visible (self->place_note, note != NULL);
}

static void
say_no_items (SwPropertyPage *self)
{
  gboolean searching = *gtk_entry_get_text (GTK_ENTRY (self->search)) != '\0'
                       || sw_item_filter_is_set (SW_ITEM_FILTER (self->filter));

  gtk_label_set_text (
      GTK_LABEL (self->items_none),
      searching ? _ ("Nothing here is like that. Search less, or show all.")
                : _ ("Nothing found here yet. Items come from photos: bring some in, then accept "
                     "what is proposed for them."));
}

static gboolean
is_mode (GtkWidget *button)
{
  return gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (button));
}

static void on_table_chosen (SwPropertyPage *self);

/* Its rows cost something: they are there only where the table is seen. */
static void
fill_table (SwPropertyPage *self)
{
  if (self->list != NULL && is_mode (self->mode_table))
    sw_item_table_show (SW_ITEM_TABLE (self->table), self->store, self->list, self->order,
                        self->descending);
}

static void
show_mode (SwPropertyPage *self)
{
  gboolean any = sw_row_list_get_count (SW_ROW_LIST (self->items)) > 0;
  const char *shown = is_mode (self->mode_ask)     ? "ask"
                      : !any                       ? "none"
                      : is_mode (self->mode_table) ? "table"
                                                   : "items";

  gtk_stack_set_visible_child_name (GTK_STACK (self->items_stack), shown);
  /* questions are of all items: nothing narrows them */
  gtk_widget_set_visible (self->search, !is_mode (self->mode_ask));
  gtk_widget_set_visible (self->filter, !is_mode (self->mode_ask));
  gtk_widget_set_visible (self->filter_button, !is_mode (self->mode_ask));
  on_table_chosen (self);
}

static void
on_rows_read (gpointer owner, guint first, guint n)
{
  SwPropertyPage *self = owner;

  sw_row_list_told (SW_ROW_LIST (self->items), first, n);
  if (is_mode (self->mode_table))
    sw_item_table_told (SW_ITEM_TABLE (self->table), first, n);
}

static void
on_items (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwPropertyPage) self = data;
  g_autoptr (SwRows) rows = NULL;
  g_autoptr (SwItemList) list = NULL;

  if (self->store == NULL)
    return;
  list = sw_store_finish (self->store, result, NULL);
  if (list == NULL)
    return;
  if (self->list != NULL)
    sw_item_list_take_over (list, self->list);
  rows = sw_item_rows_new (self->store, list, self->place == 0);
  say_no_items (self);
  sw_row_list_set_rows (SW_ROW_LIST (self->items), rows);
  g_clear_pointer (&self->list, sw_item_list_unref);
  self->list = g_steal_pointer (&list);
  fill_table (self);
  show_mode (self);
  sw_item_list_read_on (self->list, self->store, self->cancellable, G_OBJECT (self), on_rows_read);
}

static void
load_items (SwPropertyPage *self)
{
  SwItemQuery *query;

  if (self->store == NULL)
    return;
  query = sw_item_query_new (self->place, gtk_entry_get_text (GTK_ENTRY (self->search)));
  sw_item_filter_apply (SW_ITEM_FILTER (self->filter), query);
  query->order = self->order;
  query->descending = self->descending;
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  sw_store_read (self->store, SW_RANK_VISIBLE, sw_item_query_run, query, sw_item_query_free,
                 sw_item_list_unref, self->cancellable, on_items, g_object_ref (self));
}

/* A table needs more room than rows: the plan gives it up first. */
static void
on_mode (SwPropertyPage *self)
{
  gboolean table = is_mode (self->mode_table);

  sw_columns_set_share (SW_COLUMNS (self->columns), 0, table ? 340 : 520, table ? 2 : 3);
  sw_columns_set_share (SW_COLUMNS (self->columns), 1, table ? 640 : 340, table ? 3 : 2);
  fill_table (self);
  show_mode (self);
}

static void
on_table_chosen (SwPropertyPage *self)
{
  g_autoptr (GArray) chosen = sw_item_table_chosen (SW_ITEM_TABLE (self->table));

  if (self->store == NULL)
    return;
  if (is_mode (self->mode_table) && chosen->len == 1)
    sw_item_sheet_set_item (SW_ITEM_SHEET (self->sheet), g_array_index (chosen, gint64, 0));
  if (!is_mode (self->mode_table))
    g_array_set_size (chosen, 0);
  sw_batch_bar_set_items (SW_BATCH_BAR (self->batch), chosen);
}

static void
on_table_order (GtkWidget *table, int order, gboolean descending, SwPropertyPage *self)
{
  self->order = (SwItemOrder)order;
  self->descending = descending;
  load_items (self);
}

static void
set_place (SwPropertyPage *self, gint64 place)
{
  if (self->place == place)
    return;
  self->place = place;
  sw_plan_pane_set_place (SW_PLAN_PANE (self->plan), place);
  fill_heading (self);
  load_items (self);
}

static void
on_place_selected (GtkWidget *from, gint64 place, SwPropertyPage *self)
{
  set_place (self, place);
}

static void
on_place_activated (GtkWidget *from, gint64 place, SwPropertyPage *self)
{
  set_place (self, place);
  if (sw_columns_get_depth (SW_COLUMNS (self->columns)) < 2)
    sw_columns_set_depth (SW_COLUMNS (self->columns), 2);
  gtk_widget_child_focus (self->items_stack, GTK_DIR_TAB_FORWARD);
}

static void
on_whole (SwPropertyPage *self)
{
  set_place (self, 0);
}

static void
on_item_selected (GtkWidget *list, gint64 item, SwPropertyPage *self)
{
  sw_item_sheet_set_item (SW_ITEM_SHEET (self->sheet), item);
}

static void
on_item_activated (GtkWidget *list, gint64 item, SwPropertyPage *self)
{
  sw_item_sheet_set_item (SW_ITEM_SHEET (self->sheet), item);
  sw_columns_set_depth (SW_COLUMNS (self->columns), 3);
  gtk_widget_child_focus (self->sheet, GTK_DIR_TAB_FORWARD);
}

static void
on_table_activated (GtkTreeView *table, GtkTreePath *path, GtkTreeViewColumn *column,
                    SwPropertyPage *self)
{
  on_item_activated (GTK_WIDGET (table), sw_item_table_item_at (SW_ITEM_TABLE (table), path), self);
}

static void
on_search_activate (SwPropertyPage *self)
{
  gtk_widget_grab_focus (is_mode (self->mode_table) ? self->table : self->items);
}

/* A click opens; choosing by keys only follows where the next column is seen anyway. */
static void
on_item_clicked (GtkWidget *list, gint64 item, SwPropertyPage *self)
{
  sw_columns_set_depth (SW_COLUMNS (self->columns), 3);
}

static void
on_place_clicked (GtkWidget *list, gint64 place, SwPropertyPage *self)
{
  sw_columns_set_depth (SW_COLUMNS (self->columns), 2);
}

static void
show_plan_or_empty (SwPropertyPage *self)
{
  gboolean any = sw_store_overview (self->store)->places->len > 0;

  gtk_stack_set_visible_child_name (GTK_STACK (self->stack),
                                    any || self->sketching ? "property" : "empty");
}

/* From the page without places: the bare ground, to draw on. */
static void
on_sketch (SwPropertyPage *self)
{
  self->sketching = TRUE;
  show_plan_or_empty (self);
  gtk_widget_child_focus (self->plan, GTK_DIR_TAB_FORWARD);
}

static void
on_changed (SwPropertyPage *self)
{
  show_plan_or_empty (self);
  sw_plan_pane_follow (SW_PLAN_PANE (self->plan));
  fill_heading (self);
  sw_item_filter_fill (SW_ITEM_FILTER (self->filter));
  sw_ask_list_load (SW_ASK_LIST (self->ask));
  load_items (self);
}

/* ---- object ---- */

static void
sw_property_page_dispose (GObject *object)
{
  SwPropertyPage *self = SW_PROPERTY_PAGE (object);

  if (self->store != NULL)
    g_signal_handlers_disconnect_by_data (self->store, self);
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_object (&self->store);
  g_clear_object (&self->pictures);
  g_clear_pointer (&self->list, sw_item_list_unref);
  G_OBJECT_CLASS (sw_property_page_parent_class)->dispose (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwPropertyPage, name)

static void
sw_property_page_class_init (SwPropertyPageClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_property_page_dispose;
  g_type_ensure (SW_TYPE_ASK_LIST);
  g_type_ensure (SW_TYPE_BATCH_BAR);
  g_type_ensure (SW_TYPE_COLUMNS);
  g_type_ensure (SW_TYPE_ITEM_FILTER);
  g_type_ensure (SW_TYPE_ITEM_TABLE);
  g_type_ensure (SW_TYPE_PLAN_PANE);
  g_type_ensure (SW_TYPE_ROW_LIST);
  g_type_ensure (SW_TYPE_ITEM_SHEET);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/property-page.ui");
  BIND (columns);
  BIND (stack);
  BIND (plan);
  BIND (items);
  BIND (sheet);
  BIND (place_name);
  BIND (place_note);
  BIND (whole_button);
  BIND (search);
  BIND (items_stack);
  BIND (items_none);
  BIND (tools);
  BIND (filter);
  BIND (mode_rows);
  BIND (mode_table);
  BIND (mode_ask);
  BIND (table);
  BIND (ask);
  BIND (batch);
  gtk_widget_class_bind_template_callback (widget, on_place_selected);
  gtk_widget_class_bind_template_callback (widget, on_place_activated);
  gtk_widget_class_bind_template_callback (widget, on_sketch);
  gtk_widget_class_bind_template_callback (widget, on_whole);
  gtk_widget_class_bind_template_callback (widget, on_item_selected);
  gtk_widget_class_bind_template_callback (widget, on_item_activated);
  gtk_widget_class_bind_template_callback (widget, on_item_clicked);
  gtk_widget_class_bind_template_callback (widget, on_place_clicked);
  gtk_widget_class_bind_template_callback (widget, on_search_activate);
  gtk_widget_class_bind_template_callback (widget, on_mode);
  gtk_widget_class_bind_template_callback (widget, on_table_chosen);
  gtk_widget_class_bind_template_callback (widget, on_table_order);
  gtk_widget_class_bind_template_callback (widget, on_table_activated);
  gtk_widget_class_bind_template_callback (widget, load_items);
}

static void
sw_property_page_init (SwPropertyPage *self)
{
  SwColumns *columns;

  gtk_widget_init_template (GTK_WIDGET (self));
  columns = SW_COLUMNS (self->columns);
  sw_columns_set_share (columns, 0, 520, 3);
  sw_columns_set_share (columns, 1, 340, 2);
  sw_columns_set_share (columns, 2, 480, 3);
  self->filter_button = sw_item_filter_button (SW_ITEM_FILTER (self->filter));
  gtk_box_pack_start (GTK_BOX (self->tools), self->filter_button, FALSE, FALSE, 0);
  gtk_widget_show (self->filter_button);
}

GtkWidget *
sw_property_page_new (SwStore *store, SwPictures *pictures)
{
  SwPropertyPage *self = g_object_new (SW_TYPE_PROPERTY_PAGE, NULL);

  self->store = g_object_ref (store);
  self->pictures = g_object_ref (pictures);
  sw_plan_pane_set_store (SW_PLAN_PANE (self->plan), store);
  sw_row_list_set_pictures (SW_ROW_LIST (self->items), pictures);
  sw_item_sheet_set_store (SW_ITEM_SHEET (self->sheet), store, pictures);
  sw_item_filter_set_store (SW_ITEM_FILTER (self->filter), store);
  sw_batch_bar_set_store (SW_BATCH_BAR (self->batch), store);
  sw_ask_list_set_store (SW_ASK_LIST (self->ask), store);
  g_signal_connect_object (store, "changed", G_CALLBACK (on_changed), self, G_CONNECT_SWAPPED);
  if (sw_store_overview (store) != NULL)
    on_changed (self);
  return GTK_WIDGET (self);
}

SwColumns *
sw_property_page_columns (SwPropertyPage *self)
{
  return SW_COLUMNS (self->columns);
}

void
sw_property_page_search (SwPropertyPage *self)
{
  if (sw_columns_get_depth (SW_COLUMNS (self->columns)) < 2)
    sw_columns_set_depth (SW_COLUMNS (self->columns), 2);
  gtk_widget_grab_focus (self->search);
}

gboolean
sw_property_page_open_first (SwPropertyPage *self, gboolean with_item)
{
  const SwOverview *overview = sw_store_overview (self->store);
  gint64 best = 0;
  int most = 0;

  for (guint i = 0; i < overview->summaries->len; i++)
    {
      const SwPlaceSummary *summary = &g_array_index (overview->summaries, SwPlaceSummary, i);
      if (summary->items > most)
        {
          most = summary->items;
          best = summary->place;
        }
    }
  set_place (self, best);
  if (with_item && best != 0)
    {
      if (!gtk_widget_get_visible (self->items)
          || sw_row_list_get_count (SW_ROW_LIST (self->items)) == 0)
        return FALSE;
      sw_row_list_choose_first (SW_ROW_LIST (self->items));
      sw_columns_set_depth (SW_COLUMNS (self->columns), 3);
    }
  return TRUE;
}

gboolean
sw_property_page_look_closer (SwPropertyPage *self)
{
  return sw_item_sheet_look_closer (SW_ITEM_SHEET (self->sheet));
}

gint64
sw_property_page_get_place (SwPropertyPage *self)
{
  return self->place;
}

void
sw_property_page_show_item (SwPropertyPage *self, gint64 item)
{
  sw_item_sheet_set_item (SW_ITEM_SHEET (self->sheet), item);
  sw_row_list_set_key (SW_ROW_LIST (self->items), item);
  gtk_widget_child_focus (self->items_stack, GTK_DIR_TAB_FORWARD);
}

gboolean
sw_property_page_show_walk (SwPropertyPage *self)
{
  set_place (self, 0);
  sw_columns_set_depth (SW_COLUMNS (self->columns), 1);
  sw_plan_pane_show_walk (SW_PLAN_PANE (self->plan), sw_store_overview (self->store)->latest_trip);
  return TRUE;
}

void
sw_property_page_show_table (SwPropertyPage *self, gboolean table)
{
  if (table)
    sw_columns_set_depth (SW_COLUMNS (self->columns), 2);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (table ? self->mode_table : self->mode_rows),
                                TRUE);
}
