/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Type-ahead over the items: the search runs on the catalogue thread, the newest one wins. Decides
 * nothing itself. */
#include "app/item-chooser.h"

#include "app/item-rows.h"
#include "app/row-list.h"
#include "app/text.h"

struct _SwItemChooser
{
  GtkPopover parent;
  SwStore *store;
  GtkWidget *entry, *list, *none;
  GCancellable *cancellable;
  GArray *likely; /* items to list first */
  gint64 place;   /* and then those there */
  gint64 leave_out;
  char *listed;     /* what the rows were searched for; NULL: none are there yet */
  gboolean to_take; /* Enter came before the rows of what was typed */
};

enum
{
  CHOSEN,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwItemChooser, sw_item_chooser, GTK_TYPE_POPOVER)

typedef struct
{
  GWeakRef self;
  SwStore *store;
  char *text;
} Search;

static void
search_free (Search *search)
{
  g_weak_ref_clear (&search->self);
  g_object_unref (search->store);
  g_free (search->text);
  g_free (search);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Search, search_free)

static void
take (SwItemChooser *self)
{
  gint64 item = sw_row_list_get_key (SW_ROW_LIST (self->list));

  self->to_take = FALSE;
  if (item == 0)
    return;
  gtk_popover_popdown (GTK_POPOVER (self));
  g_signal_emit (self, signals[CHOSEN], 0, item);
}

static void
on_rows_read (gpointer owner, guint first, guint n)
{
  SwItemChooser *self = owner;

  if (self->list != NULL)
    sw_row_list_told (SW_ROW_LIST (self->list), first, n);
}

static void
on_items (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (Search) search = data;
  g_autoptr (SwItemChooser) self = g_weak_ref_get (&search->self);
  g_autoptr (SwItemList) items = sw_store_finish (search->store, result, NULL);
  g_autoptr (SwRows) rows = NULL;

  if (items == NULL || self == NULL || self->list == NULL)
    return;
  rows = sw_item_rows_new (search->store, items, TRUE);
  sw_row_list_set_rows (SW_ROW_LIST (self->list), rows);
  gtk_widget_set_visible (self->none, sw_rows_count (rows) == 0);
  if (sw_rows_count (rows) > 0)
    sw_row_list_set_key (SW_ROW_LIST (self->list), sw_rows_key (rows, 0));
  g_free (self->listed);
  self->listed = g_steal_pointer (&search->text);
  if (self->to_take)
    take (self);
  sw_item_list_read_on (items, search->store, self->cancellable, G_OBJECT (self), on_rows_read);
}

static void
search (SwItemChooser *self)
{
  Search *data = g_new0 (Search, 1);
  SwItemQuery *query = sw_item_query_new (0, gtk_entry_get_text (GTK_ENTRY (self->entry)));

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  g_weak_ref_init (&data->self, self);
  data->store = g_object_ref (self->store);
  data->text = g_strdup (gtk_entry_get_text (GTK_ENTRY (self->entry)));
  query->leave_out = self->leave_out;
  if (self->likely != NULL)
    sw_item_query_set_likely (query, self->likely, self->place);
  sw_store_read (self->store, SW_RANK_SEARCH, sw_item_query_run, query, sw_item_query_free,
                 sw_item_list_unref, self->cancellable, on_items, data);
}

/* A search entry waits for a pause before it says that it changed: Enter does not. */
static void
on_entry_activate (SwItemChooser *self)
{
  if (g_strcmp0 (self->listed, gtk_entry_get_text (GTK_ENTRY (self->entry))) == 0)
    {
      take (self);
      return;
    }
  self->to_take = TRUE;
  search (self);
}

static void
on_closed (SwItemChooser *self)
{
  self->to_take = FALSE;
}

static void
on_list_activated (SwItemChooser *self)
{
  take (self);
}

/* Down from the entry goes into the list; the rest of the keys stay with the entry. */
static gboolean
on_entry_key (GtkWidget *entry, GdkEventKey *event, SwItemChooser *self)
{
  int step = event->keyval == GDK_KEY_Down ? 1 : event->keyval == GDK_KEY_Up ? -1 : 0;
  gboolean handled = FALSE;

  if (step == 0)
    return FALSE;
  g_signal_emit_by_name (self->list, "move", GTK_MOVEMENT_DISPLAY_LINES, step, &handled);
  return TRUE;
}

static void
sw_item_chooser_dispose (GObject *object)
{
  SwItemChooser *self = SW_ITEM_CHOOSER (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_object (&self->store);
  g_clear_pointer (&self->likely, g_array_unref);
  g_clear_pointer (&self->listed, g_free);
  self->list = NULL;
  G_OBJECT_CLASS (sw_item_chooser_parent_class)->dispose (object);
}

static void
sw_item_chooser_class_init (SwItemChooserClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_item_chooser_dispose;
  signals[CHOSEN] = g_signal_new ("chosen", SW_TYPE_ITEM_CHOOSER, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
}

static void
sw_item_chooser_init (SwItemChooser *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *scroller = gtk_scrolled_window_new (NULL, NULL);

  self->entry = gtk_search_entry_new ();
  self->list = sw_row_list_new ();
  self->none = gtk_label_new (_ ("No item has such a name."));
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->entry), _ ("Name of the item"));
  atk_object_set_name (gtk_widget_get_accessible (self->entry), _ ("Name of the item"));
  atk_object_set_name (gtk_widget_get_accessible (self->list), _ ("Items of that name"));
  gtk_container_add (GTK_CONTAINER (scroller), self->list);
  gtk_widget_set_size_request (scroller, 340, 300);
  gtk_scrolled_window_set_shadow_type (GTK_SCROLLED_WINDOW (scroller), GTK_SHADOW_IN);
  gtk_container_set_border_width (GTK_CONTAINER (box), 10);
  gtk_container_add (GTK_CONTAINER (box), self->entry);
  gtk_box_pack_start (GTK_BOX (box), scroller, TRUE, TRUE, 0);
  gtk_container_add (GTK_CONTAINER (box), self->none);
  gtk_container_add (GTK_CONTAINER (self), box);
  gtk_widget_show_all (box);
  gtk_widget_hide (self->none);
  gtk_widget_set_no_show_all (self->none, TRUE);
  g_signal_connect_swapped (self->entry, "search-changed", G_CALLBACK (search), self);
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (on_entry_activate), self);
  g_signal_connect (self->entry, "key-press-event", G_CALLBACK (on_entry_key), self);
  g_signal_connect (self, "closed", G_CALLBACK (on_closed), NULL);
  g_signal_connect_swapped (self->list, "activated", G_CALLBACK (on_list_activated), self);
}

GtkWidget *
sw_item_chooser_new (GtkWidget *relative_to, SwStore *store, SwPictures *pictures)
{
  SwItemChooser *self = g_object_new (SW_TYPE_ITEM_CHOOSER, "relative-to", relative_to, NULL);

  self->store = g_object_ref (store);
  sw_row_list_set_pictures (SW_ROW_LIST (self->list), pictures);
  return GTK_WIDGET (self);
}

void
sw_item_chooser_ask (SwItemChooser *self, const GArray *likely, gint64 place, gint64 leave_out)
{
  g_clear_pointer (&self->likely, g_array_unref);
  self->likely = g_array_new (FALSE, FALSE, sizeof (gint64));
  if (likely != NULL)
    g_array_append_vals (self->likely, likely->data, likely->len);
  self->place = place;
  self->leave_out = leave_out;
  self->to_take = FALSE;
  g_clear_pointer (&self->listed, g_free);
  gtk_entry_set_text (GTK_ENTRY (self->entry), "");
  search (self);
  gtk_popover_popup (GTK_POPOVER (self));
  gtk_widget_grab_focus (self->entry);
}
