/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Entry, place and two buttons. The catalogue's own names are read when it opens. Makes no item. */
#include "app/item-namer.h"

#include "app/text.h"
#include "app/trade-words.h"
#include "core/catalogue/items.h"

/* Own names offered; past this typing them in full is quicker than reading the list. */
#define NAMES_AT_MOST 2000

struct _SwItemNamer
{
  GtkPopover parent;
  SwStore *store;
  GtkWidget *entry, *place;
  GtkListStore *names;
  GCancellable *cancellable;
};

enum
{
  NAMED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwItemNamer, sw_item_namer, GTK_TYPE_POPOVER)

static void
add_name (GtkListStore *names, const char *name)
{
  gtk_list_store_insert_with_values (names, NULL, -1, 0, name, -1);
}

/* ---- names of the catalogue ---- */

/* Distinct given names, the latest items' first. */
static gpointer
names_run (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  g_autoptr (GPtrArray) items = sw_item_list (catalogue, NULL, error);
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  if (items == NULL)
    return NULL;
  for (guint i = items->len; i-- > 0 && names->len < NAMES_AT_MOST;)
    {
      const SwItem *item = g_ptr_array_index (items, i);
      if (!item->neutral && g_hash_table_add (seen, item->name))
        g_ptr_array_add (names, g_strdup (item->name));
    }
  g_ptr_array_add (names, NULL);
  return g_ptr_array_free (g_steal_pointer (&names), FALSE);
}

static void
on_names (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwItemNamer) self = data;
  g_auto (GStrv) names = self->store != NULL ? sw_store_finish (self->store, result, NULL) : NULL;
  guint n_words = 0;
  const char *const *words = sw_trade_words (&n_words);

  if (names == NULL)
    return;
  gtk_list_store_clear (self->names);
  for (int i = 0; names[i] != NULL; i++)
    add_name (self->names, names[i]);
  for (guint i = 0; i < n_words; i++)
    if (!g_strv_contains ((const char *const *)names, _ (words[i])))
      add_name (self->names, _ (words[i]));
}

/* ---- answers ---- */

static void
answer (SwItemNamer *self, const char *name)
{
  g_autofree char *kept = g_strdup (name);

  gtk_popover_popdown (GTK_POPOVER (self));
  g_signal_emit (self, signals[NAMED], 0, kept);
}

static void
on_make (SwItemNamer *self)
{
  answer (self, gtk_entry_get_text (GTK_ENTRY (self->entry)));
}

static void
on_later (SwItemNamer *self)
{
  answer (self, "");
}

static gboolean
on_match (GtkEntryCompletion *completion, GtkTreeModel *model, GtkTreeIter *iter, gpointer data)
{
  g_autofree char *name = NULL;

  gtk_tree_model_get (model, iter, 0, &name, -1);
  gtk_entry_set_text (GTK_ENTRY (gtk_entry_completion_get_entry (completion)), name);
  gtk_editable_set_position (GTK_EDITABLE (gtk_entry_completion_get_entry (completion)), -1);
  return TRUE;
}

static GtkWidget *
add_button (SwItemNamer *self, GtkWidget *box, const char *label, GCallback clicked)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (label);

  g_signal_connect_swapped (button, "clicked", clicked, self);
  gtk_box_pack_end (GTK_BOX (box), button, FALSE, FALSE, 0);
  return button;
}

/* ---- object ---- */

static void
sw_item_namer_dispose (GObject *object)
{
  SwItemNamer *self = SW_ITEM_NAMER (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_object (&self->names);
  g_clear_object (&self->store);
  G_OBJECT_CLASS (sw_item_namer_parent_class)->dispose (object);
}

static void
sw_item_namer_class_init (SwItemNamerClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_item_namer_dispose;
  signals[NAMED] = g_signal_new ("named", SW_TYPE_ITEM_NAMER, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
sw_item_namer_init (SwItemNamer *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  GtkWidget *buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  g_autoptr (GtkEntryCompletion) completion = gtk_entry_completion_new ();
  GtkWidget *make;

  self->names = gtk_list_store_new (1, G_TYPE_STRING);
  self->entry = gtk_entry_new ();
  self->place = gtk_label_new (NULL);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->entry), _ ("What is it?"));
  gtk_entry_set_width_chars (GTK_ENTRY (self->entry), 30);
  atk_object_set_name (gtk_widget_get_accessible (self->entry), _ ("Name of the new item"));
  gtk_label_set_xalign (GTK_LABEL (self->place), 0);
  gtk_label_set_ellipsize (GTK_LABEL (self->place), PANGO_ELLIPSIZE_END);
  gtk_style_context_add_class (gtk_widget_get_style_context (self->place),
                               GTK_STYLE_CLASS_DIM_LABEL);
  gtk_entry_completion_set_model (completion, GTK_TREE_MODEL (self->names));
  gtk_entry_completion_set_text_column (completion, 0);
  gtk_entry_completion_set_minimum_key_length (completion, 2);
  gtk_entry_completion_set_popup_single_match (completion, TRUE);
  g_signal_connect (completion, "match-selected", G_CALLBACK (on_match), self);
  gtk_entry_set_completion (GTK_ENTRY (self->entry), completion);
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (on_make), self);
  make = add_button (self, buttons, _ ("_Make it"), G_CALLBACK (on_make));
  gtk_style_context_add_class (gtk_widget_get_style_context (make),
                               GTK_STYLE_CLASS_SUGGESTED_ACTION);
  add_button (self, buttons, _ ("Name it _later"), G_CALLBACK (on_later));
  gtk_container_set_border_width (GTK_CONTAINER (box), 10);
  gtk_container_add (GTK_CONTAINER (box), self->entry);
  gtk_container_add (GTK_CONTAINER (box), self->place);
  gtk_container_add (GTK_CONTAINER (box), buttons);
  gtk_container_add (GTK_CONTAINER (self), box);
  gtk_widget_show_all (box);
}

GtkWidget *
sw_item_namer_new (GtkWidget *relative_to, SwStore *store)
{
  SwItemNamer *self = g_object_new (SW_TYPE_ITEM_NAMER, "relative-to", relative_to, NULL);

  self->store = g_object_ref (store);
  return GTK_WIDGET (self);
}

void
sw_item_namer_ask (SwItemNamer *self, const char *place)
{
  g_autofree char *text
      = place != NULL ? g_strdup_printf (_ ("In %s"), place) : g_strdup (_ ("Place unknown"));

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  sw_store_read (self->store, SW_RANK_SEARCH, names_run, NULL, NULL, (GDestroyNotify)g_strfreev,
                 self->cancellable, on_names, g_object_ref (self));
  gtk_label_set_text (GTK_LABEL (self->place), text);
  gtk_entry_set_text (GTK_ENTRY (self->entry), "");
  gtk_popover_popup (GTK_POPOVER (self));
  gtk_widget_grab_focus (self->entry);
}
