/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was typed, refused and sent of the three fields; what may be typed is core's. Each entry
 * bears what was loaded into it, and whether what was sent last was refused. */
#include "app/item-fields.h"

#include "app/item-acts.h"
#include "app/text.h"

/* After the last key; what a kill can lose. */
#define SAVE_AFTER_MS 800

/* A field that the person is typing in, or whose text was refused, keeps what was typed. */
static void
set_entry (GtkWidget *entry, const char *text)
{
  const char *loaded = g_object_get_data (G_OBJECT (entry), "sw-loaded");
  gboolean kept
      = gtk_widget_has_focus (entry) || g_object_get_data (G_OBJECT (entry), "sw-refused") != NULL;
  gboolean typing
      = kept && loaded != NULL && g_strcmp0 (gtk_entry_get_text (GTK_ENTRY (entry)), loaded) != 0;

  if (!typing)
    gtk_entry_set_text (GTK_ENTRY (entry), text);
  g_object_set_data_full (G_OBJECT (entry), "sw-loaded", g_strdup (text), g_free);
}

static gboolean
is_changed (SwItemFields *self, GtkWidget *entry)
{
  const char *loaded = g_object_get_data (G_OBJECT (entry), "sw-loaded");

  return self->item != 0 && !self->filling
         && g_strcmp0 (gtk_entry_get_text (GTK_ENTRY (entry)), loaded) != 0;
}

static void
put_back (GtkWidget *entry)
{
  const char *loaded = g_object_get_data (G_OBJECT (entry), "sw-loaded");

  if (loaded != NULL)
    gtk_entry_set_text (GTK_ENTRY (entry), loaded);
  g_object_set_data (G_OBJECT (entry), "sw-refused", NULL);
}

/* What was typed counts as loaded from here on, so that leaving the field does not send it twice.
 */
static void
mark_sent (GtkWidget *entry)
{
  g_object_set_data_full (G_OBJECT (entry), "sw-loaded",
                          g_strdup (gtk_entry_get_text (GTK_ENTRY (entry))), g_free);
}

/* What was refused stays as it was typed, to be sent again or put back. */
static void
on_field_saved (gpointer entry, gboolean done)
{
  g_object_set_data (entry, "sw-refused", done ? NULL : entry);
}

static void
save_name (SwItemFields *self)
{
  if (!is_changed (self, self->name))
    return;
  mark_sent (self->name);
  sw_act_item_name (self->store, self->item, self->revision,
                    gtk_entry_get_text (GTK_ENTRY (self->name)), G_OBJECT (self->name),
                    on_field_saved);
}

static void
save_count (SwItemFields *self)
{
  gint64 count;

  if (!is_changed (self, self->count))
    return;
  if (!g_ascii_string_to_signed (gtk_entry_get_text (GTK_ENTRY (self->count)), 10, 1, 1000000000,
                                 &count, NULL))
    {
      sw_store_tell (self->store, _ ("The count is a whole number, one or more."), TRUE);
      put_back (self->count);
      return;
    }
  mark_sent (self->count);
  sw_act_item_count (self->store, self->item, self->revision, count, G_OBJECT (self->count),
                     on_field_saved);
}

static void
save_asking (SwItemFields *self)
{
  const char *text = gtk_entry_get_text (GTK_ENTRY (self->asking));
  g_autoptr (GError) error = NULL;
  SwMoney asking;

  if (!is_changed (self, self->asking))
    return;
  if (*text == '\0')
    sw_act_item_asking (self->store, self->item, self->revision, NULL, G_OBJECT (self->asking),
                        on_field_saved);
  else if (sw_store_parse_money (self->store, text, &asking, &error))
    sw_act_item_asking (self->store, self->item, self->revision, &asking, G_OBJECT (self->asking),
                        on_field_saved);
  else
    {
      sw_store_tell (self->store, error->message, TRUE);
      put_back (self->asking);
      return;
    }
  mark_sent (self->asking);
}

static void
save (SwItemFields *self, GtkWidget *entry)
{
  if (entry == self->name)
    save_name (self);
  else if (entry == self->count)
    save_count (self);
  else
    save_asking (self);
}

/* While the person types, only what can be read is sent; the rest waits for Enter or for the field
 * to be left, which say what is wrong with it. */
static gboolean
is_whole (SwItemFields *self, GtkWidget *entry)
{
  const char *text = gtk_entry_get_text (GTK_ENTRY (entry));
  gint64 count;
  SwMoney asking;

  if (entry == self->count)
    return g_ascii_string_to_signed (text, 10, 1, 1000000000, &count, NULL);
  if (entry == self->asking)
    return *text == '\0' || sw_store_parse_money (self->store, text, &asking, NULL);
  return *text != '\0';
}

static gboolean
on_timer (gpointer data)
{
  SwItemFields *self = data;
  GtkWidget *const entries[] = { self->name, self->count, self->asking };

  if (sw_store_is_busy (self->store)) /* the revision seen is read again first */
    return G_SOURCE_CONTINUE;
  self->timer = 0;
  for (gsize i = 0; i < G_N_ELEMENTS (entries); i++)
    if (is_changed (self, entries[i]) && is_whole (self, entries[i])
        && g_object_get_data (G_OBJECT (entries[i]), "sw-refused") == NULL)
      save (self, entries[i]);
  return G_SOURCE_REMOVE;
}

static void
stop_timer (SwItemFields *self)
{
  if (self->timer != 0)
    g_source_remove (self->timer);
  self->timer = 0;
}

void
sw_item_fields_wait (SwItemFields *self)
{
  stop_timer (self);
  if (is_changed (self, self->name) || is_changed (self, self->count)
      || is_changed (self, self->asking))
    self->timer = g_timeout_add (SAVE_AFTER_MS, on_timer, self);
}

void
sw_item_fields_show (SwItemFields *self, const SwItem *item)
{
  g_autofree char *count = g_strdup_printf ("%" G_GINT64_FORMAT, item->count);
  g_autofree char *asking
      = item->has_asking ? sw_store_money (self->store, item->asking) : g_strdup ("");

  self->item = item->id;
  self->revision = item->revision;
  set_entry (self->name, item->name);
  set_entry (self->count, count);
  set_entry (self->asking, asking);
}

void
sw_item_fields_typed (SwItemFields *self, GtkWidget *entry)
{
  if (self->filling)
    return;
  g_object_set_data (G_OBJECT (entry), "sw-refused", NULL);
  sw_item_fields_wait (self);
}

void
sw_item_fields_take (SwItemFields *self, GtkWidget *entry)
{
  save (self, entry);
}

gboolean
sw_item_fields_put_back (SwItemFields *self, GtkWidget *entry)
{
  if (!is_changed (self, entry))
    return FALSE;
  put_back (entry);
  return TRUE;
}

void
sw_item_fields_save (SwItemFields *self)
{
  GtkWidget *const entries[] = { self->name, self->count, self->asking };

  stop_timer (self);
  for (gsize i = 0; i < G_N_ELEMENTS (entries); i++)
    if (is_changed (self, entries[i])
        && g_object_get_data (G_OBJECT (entries[i]), "sw-refused") == NULL)
      save (self, entries[i]);
}

void
sw_item_fields_leave (SwItemFields *self)
{
  GtkWidget *const entries[] = { self->name, self->count, self->asking };

  stop_timer (self);
  for (gsize i = 0; i < G_N_ELEMENTS (entries); i++)
    {
      if (is_changed (self, entries[i]))
        save (self, entries[i]);
      g_object_set_data (G_OBJECT (entries[i]), "sw-refused", NULL);
    }
  self->item = 0;
}

void
sw_item_fields_clear (SwItemFields *self)
{
  stop_timer (self);
  self->item = 0;
  self->store = NULL;
}
