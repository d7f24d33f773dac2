/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keeps what a combo box showed, what is chosen in it, and when that counts. */
#include "app/choice.h"

#include "app/widgets.h"

/* After the last key; a person goes through rows faster than that. */
#define TAKE_AFTER_MS 400

#define KEY_CHARS 24

typedef struct
{
  gint64 key;
  char *text;
} Row;

typedef struct
{
  GtkComboBox *combo;
  SwStore *store;
  SwChoiceTake take;
  gpointer data;
  GArray *rows, *coming; /* Row */
  gint64 holds;          /* the key that was read last */
  guint timer;           /* a choice waits; 0: none */
  gboolean sent;         /* a choice was taken and is not settled yet */
  gboolean left;         /* nothing was read yet of what it stands for now */
  gboolean filling;
} Choice;

static void
row_clear (gpointer row)
{
  g_free (((Row *)row)->text);
}

static GArray *
rows_new (void)
{
  GArray *rows = g_array_new (FALSE, FALSE, sizeof (Row));

  g_array_set_clear_func (rows, row_clear);
  return rows;
}

static void
choice_free (gpointer data)
{
  Choice *self = data;

  if (self->timer != 0)
    g_source_remove (self->timer);
  g_array_unref (self->rows);
  g_array_unref (self->coming);
  g_free (self);
}

static Choice *
choice_of (gpointer combo)
{
  return g_object_get_data (G_OBJECT (combo), "sw-choice");
}

static void
show_key (Choice *self, gint64 key)
{
  char id[KEY_CHARS];

  g_snprintf (id, sizeof id, "%" G_GINT64_FORMAT, key);
  self->filling = TRUE;
  gtk_combo_box_set_active_id (self->combo, id);
  self->filling = FALSE;
}

/* ---- what the person does ---- */

static void
take_now (Choice *self)
{
  const char *id = gtk_combo_box_get_active_id (self->combo);
  gint64 key = id != NULL ? g_ascii_strtoll (id, NULL, 10) : self->holds;

  self->timer = 0;
  if (key == self->holds)
    return; /* there and back again */
  self->sent = TRUE;
  self->take (self->data, key);
}

static gboolean
on_timer (gpointer data)
{
  Choice *self = data;

  if (self->sent || sw_store_is_busy (self->store)) /* what was seen is read again first */
    return G_SOURCE_CONTINUE;
  take_now (self);
  return G_SOURCE_REMOVE;
}

static void
stop_timer (Choice *self)
{
  if (self->timer != 0)
    g_source_remove (self->timer);
  self->timer = 0;
}

static void
on_chosen (GtkComboBox *combo, Choice *self)
{
  if (self->filling || self->left)
    return;
  stop_timer (self);
  /* keys that have come already go first, however late it is */
  self->timer = g_timeout_add_full (G_PRIORITY_DEFAULT_IDLE, TAKE_AFTER_MS, on_timer, self, NULL);
}

static void
flush (Choice *self)
{
  if (self->timer == 0)
    return;
  stop_timer (self);
  take_now (self);
}

static void
on_focus_child (GtkContainer *combo, GtkWidget *child, Choice *self)
{
  if (child == NULL)
    flush (self);
}

static void
on_settle (GtkWidget *combo)
{
  flush (choice_of (combo));
}

/* GTK would go to the next row, whatever the person wanted to scroll. */
static gboolean
on_wheel (GtkWidget *combo, GdkEvent *event, gpointer data)
{
  GtkWidget *around = gtk_widget_get_parent (combo);

  if (around != NULL)
    gtk_propagate_event (around, event);
  return TRUE;
}

/* ---- public ---- */

void
sw_choice_set_up (GtkWidget *combo, SwStore *store, SwChoiceTake take, gpointer data)
{
  Choice *self = g_new0 (Choice, 1);

  self->combo = GTK_COMBO_BOX (combo);
  self->store = store;
  self->take = take;
  self->data = data;
  self->rows = rows_new ();
  self->coming = rows_new ();
  g_object_set_data_full (G_OBJECT (combo), "sw-choice", self, choice_free);
  sw_combo_ellipsize (combo);
  sw_combo_keep_keyboard (combo);
  g_signal_connect (combo, "changed", G_CALLBACK (on_chosen), self);
  g_signal_connect (combo, "set-focus-child", G_CALLBACK (on_focus_child), self);
  g_signal_connect_object (store, "settle", G_CALLBACK (on_settle), combo, G_CONNECT_SWAPPED);
  g_signal_connect (combo, "scroll-event", G_CALLBACK (on_wheel), NULL);
}

void
sw_choice_begin (GtkWidget *combo)
{
  g_array_set_size (choice_of (combo)->coming, 0);
}

void
sw_choice_add (GtkWidget *combo, gint64 key, const char *text)
{
  Row row = { key, g_strdup (text) };

  g_array_append_val (choice_of (combo)->coming, row);
}

static gboolean
is_same (const GArray *one, const GArray *other)
{
  if (one->len != other->len)
    return FALSE;
  for (guint i = 0; i < one->len; i++)
    {
      const Row *a = &g_array_index (one, Row, i), *b = &g_array_index (other, Row, i);
      if (a->key != b->key || g_strcmp0 (a->text, b->text) != 0)
        return FALSE;
    }
  return TRUE;
}

static void
show_rows (Choice *self)
{
  GtkComboBoxText *combo = GTK_COMBO_BOX_TEXT (self->combo);

  self->filling = TRUE;
  gtk_combo_box_text_remove_all (combo);
  for (guint i = 0; i < self->rows->len; i++)
    {
      const Row *row = &g_array_index (self->rows, Row, i);
      char id[KEY_CHARS];
      g_snprintf (id, sizeof id, "%" G_GINT64_FORMAT, row->key);
      gtk_combo_box_text_append (combo, id, row->text);
    }
  self->filling = FALSE;
}

void
sw_choice_end (GtkWidget *combo, gint64 key)
{
  Choice *self = choice_of (combo);
  const char *id = gtk_combo_box_get_active_id (self->combo);
  gint64 shown = id != NULL ? g_ascii_strtoll (id, NULL, 10) : key;
  gboolean same = is_same (self->rows, self->coming);

  if (!same)
    {
      GArray *old = self->rows;
      self->rows = self->coming;
      self->coming = old;
      show_rows (self);
    }
  self->holds = key;
  self->left = FALSE;
  show_key (self, self->timer != 0 || self->sent ? shown : key);
}

void
sw_choice_leave (GtkWidget *combo)
{
  Choice *self = choice_of (combo);

  flush (self);
  self->sent = FALSE;
  self->left = TRUE;
}

void
sw_choice_settle (gpointer combo, gboolean done)
{
  Choice *self = choice_of (combo);

  if (self->left)
    return; /* it was of another thing */
  self->sent = FALSE;
  if (!done && self->timer == 0)
    show_key (self, self->holds);
}
