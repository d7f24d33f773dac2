/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One row a field out of one table. Turns text into values and back; rules are core's. */
#include "app/decide-form-private.h"

#include "app/decide-words.h"
#include "app/text.h"

#include <string.h>

/* After the last key; what a kill can lose. */
#define SAVE_AFTER_MS 800

enum
{
  DONE,
  LEFT,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwDecideForm, sw_decide_form, GTK_TYPE_BOX)

const char *
sw_decide_form_text_of (SwDecideForm *self, int i)
{
  return gtk_entry_get_text (GTK_ENTRY (self->fields[i].entry));
}

static gboolean
is_dirty (SwDecideForm *self, int i)
{
  return self->data != NULL && self->fields[i].shown != NULL
         && strcmp (sw_decide_form_text_of (self, i), self->fields[i].shown) != 0;
}

static int
field_of (SwDecideForm *self, GtkWidget *entry)
{
  for (int i = 0; i < SW_N_DECIDE_FIELDS; i++)
    if (self->fields[i].entry == entry)
      return i;
  return NO_FIELD;
}

gboolean
sw_decide_form_is_writable (SwDecideForm *self)
{
  return self->store != NULL && sw_store_overview (self->store) != NULL
         && !sw_store_overview (self->store)->read_only;
}

/* ---- values and texts ---- */

/* Transfer full. */
char *
sw_decide_form_value_text (SwDecideForm *self, int i, const SwDecideValue *value)
{
  if (!value->has || sw_decide_specs[i].added)
    return g_strdup ("");
  if (i == SW_DECIDE_COUNT)
    return g_strdup_printf ("%" G_GINT64_FORMAT, value->number);
  if (i == SW_DECIDE_LIFTED)
    return g_strdup (_ (sw_size_word ((SwSize)value->number)));
  if (i == SW_DECIDE_RIDES)
    return g_strdup (_ (sw_stows_word ((SwStows)value->number)));
  if (i == SW_DECIDE_PRICE)
    return sw_store_money (self->store, sw_money (value->number));
  return g_strdup (value->text);
}

/* What was typed into the field, or why it says nothing. Empty text is 'nothing', which is fine
 * where a field can be empty. */
gboolean
sw_decide_form_read_field (SwDecideForm *self, int i, SwDecideValue *out, char **out_why)
{
  g_autofree char *text = g_strstrip (g_strdup (sw_decide_form_text_of (self, i)));
  g_autoptr (GError) error = NULL;
  SwMoney asking = { 0 };

  out->has = *text != '\0';
  if (sw_decide_specs[i].sourced)
    {
      out->source = g_strdup (self->fields[i].source);
      out->by_whom = g_strdup (self->fields[i].by);
    }
  if (i == SW_DECIDE_PRICE && out->has)
    {
      if (!sw_store_parse_money (self->store, text, &asking, &error))
        *out_why = g_strdup (error->message);
      out->number = asking.minor;
    }
  else if (i == SW_DECIDE_COUNT
           && !g_ascii_string_to_signed (text, 10, 1, 1000000000, &out->number, NULL))
    *out_why = g_strdup (_ ("The count is a whole number, one or more."));
  else if (i == SW_DECIDE_NAME && !out->has)
    *out_why = g_strdup (_ ("A name cannot be empty; Escape leaves it as it was."));
  else if ((i == SW_DECIDE_LIFTED || i == SW_DECIDE_RIDES) && out->has)
    out->number = sw_decide_word_number ((SwDecideField)i, text, out_why);
  else if (i == SW_DECIDE_ASK)
    sw_decide_word_question (text, out);
  else if (i != SW_DECIDE_COUNT)
    out->text = g_steal_pointer (&text);
  return *out_why == NULL;
}

/* ---- sending ---- */

static void
on_sent (gpointer entry, gboolean done)
{
  SwDecideForm *self = SW_DECIDE_FORM (gtk_widget_get_ancestor (entry, SW_TYPE_DECIDE_FORM));
  int i = self != NULL ? field_of (self, entry) : NO_FIELD;

  if (i == NO_FIELD || done)
    return;
  /* refused: what is typed stays; from here on it is known what it would replace */
  self->fields[i].sent = FALSE;
  sw_decide_value_copy (&self->fields[i].seen, &self->fields[i].latest);
  g_free (self->fields[i].shown);
  self->fields[i].shown = sw_decide_form_value_text (self, i, &self->fields[i].seen);
}

void
sw_decide_form_send (SwDecideForm *self, int i, const SwDecideValue *value)
{
  SwDecideRow *field = &self->fields[i];

  sw_decide_send (self->store, self->item, (SwDecideField)i, value,
                  field->sent || sw_decide_specs[i].added ? NULL : &field->seen,
                  G_OBJECT (field->entry), on_sent);
  if (sw_decide_specs[i].added)
    return;
  field->sent = TRUE;
  sw_decide_value_copy (&field->seen, value);
}

void
sw_decide_form_set_text (SwDecideForm *self, int i, const char *text)
{
  self->filling = TRUE;
  gtk_entry_set_text (GTK_ENTRY (self->fields[i].entry), text);
  self->filling = FALSE;
  g_free (self->fields[i].shown);
  self->fields[i].shown = g_strdup (text);
}

/* Sends what was typed; FALSE, and said so, where it cannot be read. */
static gboolean
commit (SwDecideForm *self, int i)
{
  g_auto (SwDecideValue) value = { 0 };
  g_autofree char *why = NULL;

  if (!is_dirty (self, i) || !sw_decide_form_is_writable (self))
    return TRUE;
  if (!sw_decide_form_read_field (self, i, &value, &why))
    {
      sw_store_tell (self->store, why, TRUE);
      return FALSE;
    }
  sw_decide_form_send (self, i, &value);
  if (sw_decide_specs[i].added)
    sw_decide_form_set_text (self, i, "");
  else
    {
      g_free (self->fields[i].shown);
      self->fields[i].shown = g_strdup (sw_decide_form_text_of (self, i));
    }
  return TRUE;
}

/* While it is typed only what can be read goes out; the rest waits for Enter. */
static gboolean
on_timer (gpointer data)
{
  SwDecideForm *self = data;

  self->timer = 0;
  for (int i = 0; i < SW_N_DECIDE_FIELDS; i++)
    {
      g_auto (SwDecideValue) value = { 0 };
      g_autofree char *why = NULL;
      if (sw_decide_specs[i].as_typed && is_dirty (self, i)
          && sw_decide_form_read_field (self, i, &value, &why))
        commit (self, i);
    }
  return G_SOURCE_REMOVE;
}

static void
stop_timer (SwDecideForm *self)
{
  g_clear_handle_id (&self->timer, g_source_remove);
}

static void
on_typed (SwDecideForm *self)
{
  if (self->filling)
    return;
  stop_timer (self);
  self->timer = g_timeout_add (SAVE_AFTER_MS, on_timer, self);
}

static void
on_settle (SwDecideForm *self)
{
  if (self->timer == 0)
    return;
  stop_timer (self);
  on_timer (self);
}

void
sw_decide_form_flush (SwDecideForm *self)
{
  stop_timer (self);
  for (int i = 0; i < SW_N_DECIDE_FIELDS; i++)
    commit (self, i);
}

/* ---- going about ---- */

void
sw_decide_form_go_to (SwDecideForm *self, int field)
{
  gtk_widget_grab_focus (self->fields[field].entry);
}

/* The price is the last of the way; a job is gone to by its key. */
void
sw_decide_form_go_on (SwDecideForm *self, int from)
{
  if (from >= SW_DECIDE_PRICE)
    g_signal_emit (self, signals[DONE], 0);
  else
    sw_decide_form_go_to (self, from + 1);
}

gboolean
sw_decide_form_go (SwDecideForm *self, guint32 letter)
{
  for (int i = 0; i < SW_N_DECIDE_FIELDS; i++)
    if (g_unichar_tolower (letter) == sw_decide_form_key_of (i))
      {
        sw_decide_form_go_to (self, i);
        return TRUE;
      }
  return FALSE;
}

void
sw_decide_form_begin (SwDecideForm *self)
{
  int first = SW_DECIDE_NAME;

  while (first < SW_DECIDE_PRICE && self->fields[first].seen.has && first != SW_DECIDE_COUNT)
    first++;
  /* a count of one is what nobody has counted yet */
  if (first == SW_DECIDE_COUNT && self->fields[SW_DECIDE_COUNT].seen.number > 1)
    for (first++; first < SW_DECIDE_PRICE && self->fields[first].seen.has;)
      first++;
  sw_decide_form_go_to (self, first);
}

static gboolean
on_focus_in (GtkWidget *entry, GdkEventFocus *event, SwDecideForm *self)
{
  self->current = field_of (self, entry);
  if (self->telling != NO_FIELD)
    {
      self->telling = NO_FIELD;
      gtk_widget_hide (self->teller_row);
    }
  sw_decide_form_show_note (self, self->current);
  sw_decide_form_fill_choices (self);
  sw_decide_form_complete_in (self, self->current);
  return GDK_EVENT_PROPAGATE;
}

static gboolean
on_focus_out (GtkWidget *entry, GdkEventFocus *event, SwDecideForm *self)
{
  GtkWidget *top = gtk_widget_get_toplevel (entry);
  int i = field_of (self, entry);

  /* another window, or the list of a completion, takes the keyboard for a while */
  if (GTK_IS_WINDOW (top) && gtk_window_get_focus (GTK_WINDOW (top)) == entry)
    return GDK_EVENT_PROPAGATE;
  if (!sw_decide_specs[i].added)
    commit (self, i);
  self->current = NO_FIELD;
  sw_decide_form_show_note (self, i);
  sw_decide_form_fill_choices (self);
  sw_decide_form_complete_in (self, NO_FIELD);
  return GDK_EVENT_PROPAGATE;
}

/* Nothing was typed, or all that stands there would be replaced by the key. */
static gboolean
is_open (GtkEntry *entry)
{
  int start, end;

  return gtk_entry_get_text_length (entry) == 0
         || (gtk_editable_get_selection_bounds (GTK_EDITABLE (entry), &start, &end) && start == 0
             && end == gtk_entry_get_text_length (entry));
}

static int
digit_of (guint keyval)
{
  if (keyval >= GDK_KEY_1 && keyval <= GDK_KEY_9)
    return (int)(keyval - GDK_KEY_1);
  if (keyval >= GDK_KEY_KP_1 && keyval <= GDK_KEY_KP_9)
    return (int)(keyval - GDK_KEY_KP_1);
  return keyval == GDK_KEY_0 || keyval == GDK_KEY_KP_0 ? 9 : -1;
}

static gboolean
on_entry_key (GtkWidget *entry, GdkEventKey *event, SwDecideForm *self)
{
  int i = field_of (self, entry), digit = digit_of (event->keyval);

  if ((event->state & gtk_accelerator_get_default_mod_mask () & ~(guint)GDK_SHIFT_MASK) != 0)
    return GDK_EVENT_PROPAGATE;
  if (sw_decide_form_source_key (self, event->keyval))
    return GDK_EVENT_STOP;
  if (event->keyval == GDK_KEY_Return || event->keyval == GDK_KEY_KP_Enter
      || event->keyval == GDK_KEY_Down)
    {
      if (commit (self, i))
        sw_decide_form_go_on (self, i);
      return GDK_EVENT_STOP;
    }
  if (event->keyval == GDK_KEY_Up)
    {
      if (i > 0 && commit (self, i))
        sw_decide_form_go_to (self, i - 1);
      return GDK_EVENT_STOP;
    }
  if (event->keyval == GDK_KEY_Escape)
    {
      if (!sw_decide_specs[i].as_typed && is_dirty (self, i))
        sw_decide_form_set_text (self, i, self->fields[i].shown);
      g_signal_emit (self, signals[LEFT], 0);
      return GDK_EVENT_STOP;
    }
  if (event->keyval == GDK_KEY_equal && is_open (GTK_ENTRY (entry)))
    {
      sw_decide_form_as_before (self);
      return GDK_EVENT_STOP;
    }
  if (digit < 0 || !is_open (GTK_ENTRY (entry)) || !sw_decide_word_is_offered ((SwDecideField)i))
    return GDK_EVENT_PROPAGATE;
  sw_decide_form_pick (self, i, (guint)digit);
  return GDK_EVENT_STOP;
}

static gboolean
on_teller_key (GtkWidget *entry, GdkEventKey *event, SwDecideForm *self)
{
  int digit = digit_of (event->keyval);

  if (event->keyval == GDK_KEY_Escape)
    sw_decide_form_end_telling (self);
  else if (event->keyval == GDK_KEY_Return || event->keyval == GDK_KEY_KP_Enter)
    sw_decide_form_take_teller (self, gtk_entry_get_text (GTK_ENTRY (entry)));
  else if (digit >= 0 && is_open (GTK_ENTRY (entry)) && (guint)digit < self->data->people->len)
    {
      g_autofree char *name = g_strdup (g_ptr_array_index (self->data->people, digit));
      sw_decide_form_take_teller (self, name);
    }
  else
    return GDK_EVENT_PROPAGATE;
  return GDK_EVENT_STOP;
}

/* ---- showing ---- */

/* A field that is being changed keeps what was typed; all others follow what was read. */
static void
show_field (SwDecideForm *self, int i, gboolean fresh)
{
  SwDecideRow *field = &self->fields[i];
  const SwDecideValue *value = &self->data->values[i];
  gboolean typing = !fresh && is_dirty (self, i);
  g_autofree char *text = sw_decide_form_value_text (self, i, value);
  g_autofree char *standing = sw_decide_word_standing (self->data, (SwDecideField)i);

  sw_decide_value_copy (&field->latest, value);
  if (fresh || field->sent)
    field->sent = FALSE;
  if (!typing)
    {
      sw_decide_value_copy (&field->seen, value);
      if (g_strcmp0 (sw_decide_form_text_of (self, i), text) != 0)
        sw_decide_form_set_text (self, i, text);
      g_free (field->shown);
      field->shown = g_strdup (text);
      g_free (field->source);
      g_free (field->by);
      field->source = g_strdup (value->has && value->source != NULL && !sw_decide_specs[i].added
                                    ? value->source
                                    : "seen");
      field->by = sw_decide_specs[i].sourced && !sw_decide_specs[i].added
                      ? g_strdup (value->by_whom)
                      : NULL;
    }
  gtk_label_set_text (GTK_LABEL (field->standing), standing != NULL ? standing : "");
  gtk_widget_set_visible (field->standing, standing != NULL);
  atk_object_set_description (gtk_widget_get_accessible (field->entry),
                              standing != NULL ? standing : "");
  if (i == SW_DECIDE_NAME)
    gtk_entry_set_placeholder_text (GTK_ENTRY (field->entry),
                                    value->has ? NULL : self->data->sheet->item->name);
  sw_decide_form_show_note (self, i);
}

void
sw_decide_form_show (SwDecideForm *self, const SwDecideData *data)
{
  gboolean fresh = data != NULL && data->sheet != NULL && data->sheet->item->id != self->item;

  if (data == NULL || data->sheet == NULL)
    {
      self->data = NULL;
      self->item = 0;
      sw_decide_form_fill_choices (self);
      return;
    }
  self->data = data;
  self->item = data->sheet->item->id;
  for (int i = 0; i < SW_N_DECIDE_FIELDS; i++)
    {
      show_field (self, i, fresh);
      if (data->names != NULL)
        sw_decide_form_keep_words (self, i);
      gtk_widget_set_sensitive (self->fields[i].entry, sw_decide_form_is_writable (self));
    }
  sw_decide_form_fill_choices (self);
}

/* ---- object ---- */

static void
sw_decide_form_dispose (GObject *object)
{
  SwDecideForm *self = SW_DECIDE_FORM (object);

  stop_timer (self);
  g_clear_handle_id (&self->offering, g_source_remove);
  self->data = NULL;
  g_clear_object (&self->store);
  G_OBJECT_CLASS (sw_decide_form_parent_class)->dispose (object);
}

static void
sw_decide_form_finalize (GObject *object)
{
  SwDecideForm *self = SW_DECIDE_FORM (object);

  for (int i = 0; i < SW_N_DECIDE_FIELDS; i++)
    {
      SwDecideRow *field = &self->fields[i];
      sw_decide_value_clear (&field->seen);
      sw_decide_value_clear (&field->latest);
      g_free (field->shown);
      g_free (field->source);
      g_free (field->by);
      g_clear_pointer (&field->words, g_ptr_array_unref);
    }
  g_clear_object (&self->completion);
  G_OBJECT_CLASS (sw_decide_form_parent_class)->finalize (object);
}

static void
sw_decide_form_class_init (SwDecideFormClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_decide_form_dispose;
  G_OBJECT_CLASS (klass)->finalize = sw_decide_form_finalize;
  signals[DONE] = g_signal_new ("done", SW_TYPE_DECIDE_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 0);
  signals[LEFT] = g_signal_new ("left", SW_TYPE_DECIDE_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 0);
}

static void
sw_decide_form_init (SwDecideForm *self)
{
  self->current = self->telling = NO_FIELD;
  self->completion = sw_decide_form_new_completion ();
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_style_context_add_class (gtk_widget_get_style_context (GTK_WIDGET (self)), "sw-round");
  gtk_box_set_spacing (GTK_BOX (self), 8);
  self->grid = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (self->grid), 8);
  gtk_grid_set_row_spacing (GTK_GRID (self->grid), 3);
  for (int i = 0; i < SW_N_DECIDE_FIELDS; i++)
    {
      GtkWidget *entry;
      sw_decide_form_add_row (self, i);
      entry = self->fields[i].entry;
      g_signal_connect_swapped (entry, "changed", G_CALLBACK (on_typed), self);
      g_signal_connect (entry, "focus-in-event", G_CALLBACK (on_focus_in), self);
      g_signal_connect (entry, "focus-out-event", G_CALLBACK (on_focus_out), self);
      g_signal_connect (entry, "key-press-event", G_CALLBACK (on_entry_key), self);
    }
  sw_decide_form_add_teller (self);
  g_signal_connect (self->teller, "key-press-event", G_CALLBACK (on_teller_key), self);
  self->choices = sw_decide_form_new_flow (_ ("What is offered"));
  self->sources = sw_decide_form_new_flow (_ ("Source"));
  self->hint = sw_decide_form_new_label (GTK_STYLE_CLASS_DIM_LABEL);
  gtk_label_set_line_wrap (GTK_LABEL (self->hint), TRUE);
  gtk_container_add (GTK_CONTAINER (self), self->grid);
  gtk_container_add (GTK_CONTAINER (self), self->teller_row);
  gtk_container_add (GTK_CONTAINER (self), self->hint);
  gtk_container_add (GTK_CONTAINER (self), self->choices);
  gtk_container_add (GTK_CONTAINER (self), self->sources);
  gtk_widget_show_all (GTK_WIDGET (self));
}

void
sw_decide_form_set_store (SwDecideForm *self, SwStore *store)
{
  if (self->store != NULL)
    g_signal_handlers_disconnect_by_data (self->store, self);
  g_set_object (&self->store, store);
  if (store != NULL)
    g_signal_connect_object (store, "settle", G_CALLBACK (on_settle), self, G_CONNECT_SWAPPED);
}
