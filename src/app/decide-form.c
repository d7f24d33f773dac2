/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One row a field out of one table. Turns text into values and back; rules are core's. */
#include "app/decide-form.h"

#include "app/decide-words.h"
#include "app/key-choices.h"
#include "app/text.h"
#include "app/widgets.h"

#include <string.h>

/* After the last key; what a kill can lose. */
#define SAVE_AFTER_MS 800
#define NO_FIELD (-1)

static const struct
{
  const char *label; /* its mnemonic is its key, in each language its own */
  gboolean as_typed; /* saved while it is typed; else with Enter */
  gboolean sourced;
  gboolean added; /* each entry adds one to what stands there */
} specs[SW_N_DECIDE_FIELDS] = {
  [SW_DECIDE_NAME] = { N_ ("_Name"), TRUE, FALSE, FALSE },
  [SW_DECIDE_COUNT] = { N_ ("_Count"), TRUE, FALSE, FALSE },
  [SW_DECIDE_CONDITION] = { N_ ("C_ondition"), TRUE, TRUE, FALSE },
  [SW_DECIDE_WRONG] = { N_ ("What is _wrong"), TRUE, TRUE, FALSE },
  [SW_DECIDE_LIFTED] = { N_ ("_Lifted by"), FALSE, FALSE, FALSE },
  [SW_DECIDE_RIDES] = { N_ ("_Rides on"), FALSE, FALSE, FALSE },
  [SW_DECIDE_DANGER] = { N_ ("_Dangers"), FALSE, TRUE, TRUE },
  [SW_DECIDE_ASK] = { N_ ("_Ask"), FALSE, FALSE, TRUE },
  [SW_DECIDE_OUTLET] = { N_ ("O_utlet"), FALSE, FALSE, FALSE },
  [SW_DECIDE_PRICE] = { N_ ("_Price"), TRUE, FALSE, FALSE },
  [SW_DECIDE_JOB] = { N_ ("_Job on site"), FALSE, FALSE, TRUE },
};

/* In lower case. */
static gunichar
key_of (int i)
{
  const char *at = strchr (_ (specs[i].label), '_');

  return at != NULL ? g_unichar_tolower (g_utf8_get_char (at + 1)) : 0;
}

/* What is taken over at once: the rest belongs to the one find. */
#define REPEATED                                                                                   \
  (1u << SW_DECIDE_CONDITION | 1u << SW_DECIDE_LIFTED | 1u << SW_DECIDE_RIDES                      \
   | 1u << SW_DECIDE_DANGER | 1u << SW_DECIDE_OUTLET | 1u << SW_DECIDE_JOB)

static const struct
{
  guint keyval;
  const char *key, *word;
} sources[] = {
  { GDK_KEY_F2, "F2", N_ ("seen") },
  { GDK_KEY_F3, "F3", N_ ("tried") },
  { GDK_KEY_F4, "F4", N_ ("told") },
  { GDK_KEY_F5, "F5", N_ ("guessed") },
};

typedef struct
{
  GtkWidget *entry, *note, *standing;
  GPtrArray *words;     /* what typing is completed from */
  SwDecideValue seen;   /* what the person was shown when they began to change it */
  SwDecideValue latest; /* as last read */
  char *shown;          /* the text of 'seen' */
  char *source, *by;    /* of what is said here next */
  gboolean sent;        /* something is on its way: 'seen' is what it will be */
} Field;

struct _SwDecideForm
{
  GtkBox parent;
  SwStore *store;
  const SwDecideData *data;
  gint64 item;
  Field fields[SW_N_DECIDE_FIELDS];
  int current; /* the field with the keyboard */
  GtkWidget *grid, *choices, *sources, *hint, *teller_row, *teller;
  int telling;                    /* the field whose teller is asked for */
  GtkEntryCompletion *completion; /* of the field with the keyboard: each that has one measures it
                                     whenever it is laid out */
  guint timer;
  guint offering; /* what is offered will be shown before the window is laid out again */
  gboolean filling;
};

enum
{
  DONE,
  LEFT,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwDecideForm, sw_decide_form, GTK_TYPE_BOX)

static void go_to (SwDecideForm *self, int field);
static void go_on (SwDecideForm *self, int from);
static void fill_choices (SwDecideForm *self);

static const char *
text_of (SwDecideForm *self, int i)
{
  return gtk_entry_get_text (GTK_ENTRY (self->fields[i].entry));
}

static gboolean
is_dirty (SwDecideForm *self, int i)
{
  return self->data != NULL && self->fields[i].shown != NULL
         && strcmp (text_of (self, i), self->fields[i].shown) != 0;
}

static int
field_of (SwDecideForm *self, GtkWidget *entry)
{
  for (int i = 0; i < SW_N_DECIDE_FIELDS; i++)
    if (self->fields[i].entry == entry)
      return i;
  return NO_FIELD;
}

static gboolean
is_writable (SwDecideForm *self)
{
  return self->store != NULL && sw_store_overview (self->store) != NULL
         && !sw_store_overview (self->store)->read_only;
}

/* ---- values and texts ---- */

/* Transfer full. */
static char *
value_text (SwDecideForm *self, int i, const SwDecideValue *value)
{
  if (!value->has || specs[i].added)
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
static gboolean
read_field (SwDecideForm *self, int i, SwDecideValue *out, char **out_why)
{
  g_autofree char *text = g_strstrip (g_strdup (text_of (self, i)));
  g_autoptr (GError) error = NULL;
  SwMoney asking = { 0 };

  out->has = *text != '\0';
  if (specs[i].sourced)
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
  self->fields[i].shown = value_text (self, i, &self->fields[i].seen);
}

static void
send (SwDecideForm *self, int i, const SwDecideValue *value)
{
  Field *field = &self->fields[i];

  sw_decide_send (self->store, self->item, (SwDecideField)i, value,
                  field->sent || specs[i].added ? NULL : &field->seen, G_OBJECT (field->entry),
                  on_sent);
  if (specs[i].added)
    return;
  field->sent = TRUE;
  sw_decide_value_copy (&field->seen, value);
}

static void
set_text (SwDecideForm *self, int i, const char *text)
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

  if (!is_dirty (self, i) || !is_writable (self))
    return TRUE;
  if (!read_field (self, i, &value, &why))
    {
      sw_store_tell (self->store, why, TRUE);
      return FALSE;
    }
  send (self, i, &value);
  if (specs[i].added)
    set_text (self, i, "");
  else
    {
      g_free (self->fields[i].shown);
      self->fields[i].shown = g_strdup (text_of (self, i));
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
      if (specs[i].as_typed && is_dirty (self, i) && read_field (self, i, &value, &why))
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

/* ---- what is offered ---- */

static void
pick (SwDecideForm *self, int i, guint which)
{
  g_auto (SwDecideValue) value = { 0 };

  if (!is_writable (self) || !sw_decide_word_value (self->data, (SwDecideField)i, which, &value))
    return;
  if (specs[i].sourced)
    {
      value.source = g_strdup (self->fields[i].source);
      value.by_whom = g_strdup (self->fields[i].by);
    }
  send (self, i, &value);
  if (!specs[i].added)
    {
      g_autofree char *text = value_text (self, i, &value);
      set_text (self, i, text);
    }
  go_on (self, i);
}

static gint64
before_of (SwDecideForm *self)
{
  return self->data != NULL ? self->data->mark.before : 0;
}

static void
repeat (SwDecideForm *self, guint fields)
{
  if (!is_writable (self))
    return;
  if (before_of (self) == 0 || before_of (self) == self->item)
    sw_store_tell (self->store, _ ("No find was decided before this one; nothing to repeat."),
                   TRUE);
  else if (fields == 0)
    sw_store_tell (self->store, _ ("Nothing is empty that could be repeated."), TRUE);
  else
    sw_decide_send_repeat (self->store, self->item, before_of (self), fields, NULL, NULL);
}

void
sw_decide_form_repeat (SwDecideForm *self)
{
  guint empty = 0;

  if (self->data == NULL)
    return;
  sw_decide_form_flush (self);
  for (int i = 0; i < SW_N_DECIDE_FIELDS; i++)
    if (!self->fields[i].seen.has)
      empty |= 1u << i;
  repeat (self, empty & REPEATED);
}

static void
show_note (SwDecideForm *self, int i)
{
  const Field *field = &self->fields[i];
  g_autofree char *note = NULL;

  if (specs[i].sourced && (*text_of (self, i) != '\0' || self->current == i))
    note = field->by != NULL ? g_strdup_printf (_ ("told by %s"), field->by)
                             : g_strdup (_ (field->source));
  else if (i == SW_DECIDE_PRICE && self->data != NULL && self->data->sheet->item->has_asking
           && self->data->sheet->item->count > 1)
    {
      g_autofree char *each = sw_store_money (self->store, self->data->sheet->each);
      note = g_strdup_printf (_ ("%s each"), each);
    }
  else if (i == SW_DECIDE_PRICE)
    note = g_strdup (sw_store_overview (self->store)->currency.code);
  gtk_label_set_text (GTK_LABEL (field->note), note != NULL ? note : "");
}

/* From here on the field is said from that source, what stands in it too. */
static void
set_source (SwDecideForm *self, int i, const char *source, const char *by)
{
  Field *field = &self->fields[i];
  g_auto (SwDecideValue) value = { 0 };
  g_autofree char *why = NULL;

  g_free (field->source);
  g_free (field->by);
  field->source = g_strdup (source);
  field->by = g_strdup (by);
  if (!specs[i].added && read_field (self, i, &value, &why) && value.has && is_writable (self))
    {
      send (self, i, &value);
      g_free (field->shown);
      field->shown = g_strdup (text_of (self, i));
    }
  show_note (self, i);
  fill_choices (self);
}

static void
ask_teller (SwDecideForm *self, int i)
{
  self->telling = i;
  gtk_widget_show (self->teller_row);
  gtk_entry_set_text (GTK_ENTRY (self->teller),
                      self->fields[i].by != NULL ? self->fields[i].by : "");
  gtk_widget_grab_focus (self->teller);
  fill_choices (self);
}

static void
end_telling (SwDecideForm *self)
{
  int i = self->telling;

  self->telling = NO_FIELD;
  gtk_widget_hide (self->teller_row);
  if (i != NO_FIELD)
    go_to (self, i);
}

static void
take_teller (SwDecideForm *self, const char *name)
{
  g_autofree char *tidy = g_strstrip (g_strdup (name));

  if (*tidy == '\0')
    {
      sw_store_tell (self->store, _ ("Who told it? Give a name, or press Escape."), TRUE);
      return;
    }
  set_source (self, self->telling, "told", tidy);
  end_telling (self);
}

gboolean
sw_decide_form_source_key (SwDecideForm *self, guint keyval)
{
  for (gsize k = 0; k < G_N_ELEMENTS (sources); k++)
    {
      if (sources[k].keyval != keyval)
        continue;
      if (self->current == NO_FIELD || !specs[self->current].sourced)
        sw_store_tell (self->store,
                       _ ("A source belongs to condition, what is wrong and dangers: go there "
                          "first."),
                       TRUE);
      else if (strcmp (sources[k].word, "told") == 0)
        ask_teller (self, self->current);
      else
        set_source (self, self->current, sources[k].word, NULL);
      return TRUE;
    }
  return FALSE;
}

static void
on_as_before (SwDecideForm *self)
{
  int i = self->current;

  if (i == NO_FIELD)
    sw_decide_form_repeat (self);
  else
    {
      repeat (self, 1u << i);
      go_on (self, i);
    }
}

/* After the ten words. */
#define AS_BEFORE 10

static void
on_word (gpointer data, guint which)
{
  SwDecideForm *self = data;

  if (self->offering != 0)
    return; /* what was clicked belongs to what was shown a moment ago */
  if (which == AS_BEFORE)
    on_as_before (self);
  else if (self->telling != NO_FIELD)
    {
      g_autofree char *name = g_strdup (g_ptr_array_index (self->data->people, which));
      take_teller (self, name);
    }
  else if (self->current != NO_FIELD)
    pick (self, self->current, which);
}

static void
on_source (gpointer data, guint keyval)
{
  SwDecideForm *self = data;

  if (self->offering != 0)
    return;
  sw_decide_form_source_key (self, keyval);
}

static const char *const digits[] = { "1", "2", "3", "4", "5", "6", "7", "8", "9", "0" };
G_STATIC_ASSERT (G_N_ELEMENTS (digits) == AS_BEFORE);

/* The words of the field, or who may have told it, then the last values. */
static void
fill_words_to_choose (SwDecideForm *self)
{
  gboolean tellers = self->telling != NO_FIELD;
  SwDecideField field = (SwDecideField)self->current;
  g_autoptr (GPtrArray) words = NULL;
  SwKeyChoice choices[AS_BEFORE + 1];
  guint n = 0;

  if (tellers)
    words = g_ptr_array_ref (self->data->people);
  else if (self->current != NO_FIELD)
    words = sw_decide_words (self->data, field);
  for (; words != NULL && n < MIN (words->len, G_N_ELEMENTS (digits)); n++)
    {
      const char *word = g_ptr_array_index (words, n);
      choices[n] = (SwKeyChoice){ digits[n], tellers ? word : _ (word), n,
                                  !tellers && sw_decide_word_is_set (self->data, field, n) };
    }
  if (!tellers && before_of (self) != 0 && before_of (self) != self->item)
    choices[n++] = (SwKeyChoice){ "=",
                                  self->current == NO_FIELD ? _ ("all that is empty as before")
                                                            : _ ("as before"),
                                  AS_BEFORE, FALSE };
  sw_key_choices_show (self->choices, choices, n, on_word, self);
}

static void
fill_sources (SwDecideForm *self)
{
  int i = self->current;
  SwKeyChoice choices[G_N_ELEMENTS (sources)];
  guint n = 0;

  if (self->telling == NO_FIELD && i != NO_FIELD && specs[i].sourced)
    for (; n < G_N_ELEMENTS (sources); n++)
      choices[n] = (SwKeyChoice){ sources[n].key, _ (sources[n].word), sources[n].keyval,
                                  g_strcmp0 (self->fields[i].source, sources[n].word) == 0 };
  sw_key_choices_show (self->sources, choices, n, on_source, self);
}

static void
show_choices (SwDecideForm *self)
{
  gboolean is_between = self->telling == NO_FIELD && self->current == NO_FIELD;

  if (self->data == NULL)
    {
      sw_key_choices_show (self->choices, NULL, 0, on_word, self);
      sw_key_choices_show (self->sources, NULL, 0, on_source, self);
      return;
    }
  fill_words_to_choose (self);
  fill_sources (self);
  gtk_label_set_text (
      GTK_LABEL (self->hint),
      is_between ? _ ("A letter goes to its field. Space shows the next photo, Enter looks closer.")
                 : "");
  gtk_widget_set_visible (self->hint, is_between);
}

static gboolean
on_offering (gpointer form)
{
  SwDecideForm *self = form;

  self->offering = 0;
  show_choices (self);
  return G_SOURCE_REMOVE;
}

/* The keyboard leaves a field and goes into the next, and each asks for what is offered there:
 * shown once, in a turn of its own. */
static void
fill_choices (SwDecideForm *self)
{
  if (self->offering == 0)
    self->offering = g_idle_add_full (G_PRIORITY_HIGH_IDLE, on_offering, self, NULL);
}

/* ---- going about ---- */

static void
go_to (SwDecideForm *self, int field)
{
  gtk_widget_grab_focus (self->fields[field].entry);
}

/* The price is the last of the way; a job is gone to by its key. */
static void
go_on (SwDecideForm *self, int from)
{
  if (from >= SW_DECIDE_PRICE)
    g_signal_emit (self, signals[DONE], 0);
  else
    go_to (self, from + 1);
}

gboolean
sw_decide_form_go (SwDecideForm *self, guint32 letter)
{
  for (int i = 0; i < SW_N_DECIDE_FIELDS; i++)
    if (g_unichar_tolower (letter) == key_of (i))
      {
        go_to (self, i);
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
  go_to (self, first);
}

static gboolean
same_words (const GPtrArray *a, const GPtrArray *b)
{
  if (a == NULL || b == NULL || a->len != b->len)
    return FALSE;
  for (guint k = 0; k < a->len; k++)
    if (strcmp (g_ptr_array_index (a, k), g_ptr_array_index (b, k)) != 0)
      return FALSE;
  return TRUE;
}

static void
fill_completion (SwDecideForm *self, const GPtrArray *words)
{
  g_autoptr (GtkListStore) store = gtk_list_store_new (1, G_TYPE_STRING);

  for (guint k = 0; words != NULL && k < words->len; k++)
    gtk_list_store_insert_with_values (store, NULL, -1, 0, g_ptr_array_index (words, k), -1);
  gtk_entry_completion_set_model (self->completion, GTK_TREE_MODEL (store));
}

/* The completion goes where the keyboard goes. */
static void
complete_in (SwDecideForm *self, int i)
{
  GtkWidget *before = gtk_entry_completion_get_entry (self->completion);

  if (before != NULL)
    gtk_entry_set_completion (GTK_ENTRY (before), NULL);
  if (i == NO_FIELD)
    return;
  fill_completion (self, self->fields[i].words);
  gtk_entry_set_completion (GTK_ENTRY (self->fields[i].entry), self->completion);
}

static void
keep_words (SwDecideForm *self, int i)
{
  Field *field = &self->fields[i];
  g_autoptr (GPtrArray) words = sw_decide_completion (self->data, (SwDecideField)i);

  if (same_words (field->words, words))
    return;
  g_clear_pointer (&field->words, g_ptr_array_unref);
  field->words = g_ptr_array_new_with_free_func (g_free);
  for (guint k = 0; k < words->len; k++)
    g_ptr_array_add (field->words, g_strdup (g_ptr_array_index (words, k)));
  if (gtk_entry_completion_get_entry (self->completion) == field->entry)
    fill_completion (self, field->words);
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
  show_note (self, self->current);
  fill_choices (self);
  complete_in (self, self->current);
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
  if (!specs[i].added)
    commit (self, i);
  self->current = NO_FIELD;
  show_note (self, i);
  fill_choices (self);
  complete_in (self, NO_FIELD);
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
        go_on (self, i);
      return GDK_EVENT_STOP;
    }
  if (event->keyval == GDK_KEY_Up)
    {
      if (i > 0 && commit (self, i))
        go_to (self, i - 1);
      return GDK_EVENT_STOP;
    }
  if (event->keyval == GDK_KEY_Escape)
    {
      if (!specs[i].as_typed && is_dirty (self, i))
        set_text (self, i, self->fields[i].shown);
      g_signal_emit (self, signals[LEFT], 0);
      return GDK_EVENT_STOP;
    }
  if (event->keyval == GDK_KEY_equal && is_open (GTK_ENTRY (entry)))
    {
      on_as_before (self);
      return GDK_EVENT_STOP;
    }
  if (digit < 0 || !is_open (GTK_ENTRY (entry)) || !sw_decide_word_is_offered ((SwDecideField)i))
    return GDK_EVENT_PROPAGATE;
  pick (self, i, (guint)digit);
  return GDK_EVENT_STOP;
}

static gboolean
on_teller_key (GtkWidget *entry, GdkEventKey *event, SwDecideForm *self)
{
  int digit = digit_of (event->keyval);

  if (event->keyval == GDK_KEY_Escape)
    end_telling (self);
  else if (event->keyval == GDK_KEY_Return || event->keyval == GDK_KEY_KP_Enter)
    take_teller (self, gtk_entry_get_text (GTK_ENTRY (entry)));
  else if (digit >= 0 && is_open (GTK_ENTRY (entry)) && (guint)digit < self->data->people->len)
    {
      g_autofree char *name = g_strdup (g_ptr_array_index (self->data->people, digit));
      take_teller (self, name);
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
  Field *field = &self->fields[i];
  const SwDecideValue *value = &self->data->values[i];
  gboolean typing = !fresh && is_dirty (self, i);
  g_autofree char *text = value_text (self, i, value);
  g_autofree char *standing = sw_decide_word_standing (self->data, (SwDecideField)i);

  sw_decide_value_copy (&field->latest, value);
  if (fresh || field->sent)
    field->sent = FALSE;
  if (!typing)
    {
      sw_decide_value_copy (&field->seen, value);
      if (g_strcmp0 (text_of (self, i), text) != 0)
        set_text (self, i, text);
      g_free (field->shown);
      field->shown = g_strdup (text);
      g_free (field->source);
      g_free (field->by);
      field->source = g_strdup (
          value->has && value->source != NULL && !specs[i].added ? value->source : "seen");
      field->by = specs[i].sourced && !specs[i].added ? g_strdup (value->by_whom) : NULL;
    }
  gtk_label_set_text (GTK_LABEL (field->standing), standing != NULL ? standing : "");
  gtk_widget_set_visible (field->standing, standing != NULL);
  atk_object_set_description (gtk_widget_get_accessible (field->entry),
                              standing != NULL ? standing : "");
  if (i == SW_DECIDE_NAME)
    gtk_entry_set_placeholder_text (GTK_ENTRY (field->entry),
                                    value->has ? NULL : self->data->sheet->item->name);
  show_note (self, i);
}

void
sw_decide_form_show (SwDecideForm *self, const SwDecideData *data)
{
  gboolean fresh = data != NULL && data->sheet != NULL && data->sheet->item->id != self->item;

  if (data == NULL || data->sheet == NULL)
    {
      self->data = NULL;
      self->item = 0;
      fill_choices (self);
      return;
    }
  self->data = data;
  self->item = data->sheet->item->id;
  for (int i = 0; i < SW_N_DECIDE_FIELDS; i++)
    {
      show_field (self, i, fresh);
      if (data->names != NULL)
        keep_words (self, i);
      gtk_widget_set_sensitive (self->fields[i].entry, is_writable (self));
    }
  fill_choices (self);
}

/* ---- object ---- */

static gboolean
on_match (GtkEntryCompletion *completion, GtkTreeModel *model, GtkTreeIter *iter, gpointer data)
{
  GtkWidget *entry = gtk_entry_completion_get_entry (completion);
  g_autofree char *word = NULL;

  gtk_tree_model_get (model, iter, 0, &word, -1);
  gtk_entry_set_text (GTK_ENTRY (entry), word);
  gtk_editable_set_position (GTK_EDITABLE (entry), -1);
  return GDK_EVENT_STOP;
}

static GtkEntryCompletion *
new_completion (void)
{
  GtkEntryCompletion *completion = gtk_entry_completion_new ();

  gtk_entry_completion_set_text_column (completion, 0);
  gtk_entry_completion_set_minimum_key_length (completion, 2);
  g_signal_connect (completion, "match-selected", G_CALLBACK (on_match), NULL);
  return completion;
}

static GtkWidget *
new_label (const char *class)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_style_context_add_class (gtk_widget_get_style_context (label), class);
  return label;
}

static GtkWidget *
new_flow (const char *name)
{
  GtkWidget *flow = gtk_flow_box_new ();

  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (flow), GTK_SELECTION_NONE);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (flow), 12);
  gtk_flow_box_set_row_spacing (GTK_FLOW_BOX (flow), 2);
  gtk_flow_box_set_column_spacing (GTK_FLOW_BOX (flow), 4);
  atk_object_set_name (gtk_widget_get_accessible (flow), name);
  return flow;
}

static void
add_row (SwDecideForm *self, int i)
{
  Field *field = &self->fields[i];
  char key[7] = "";
  GtkWidget *cap = new_label ("sw-key"), *label = gtk_label_new_with_mnemonic (_ (specs[i].label));
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  g_unichar_to_utf8 (g_unichar_toupper (key_of (i)), key);
  field->entry = gtk_entry_new ();
  field->note = new_label (GTK_STYLE_CLASS_DIM_LABEL);
  field->standing = new_label ("sw-standing");
  gtk_label_set_text (GTK_LABEL (cap), key);
  gtk_label_set_xalign (GTK_LABEL (cap), 0.5f);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), field->entry);
  gtk_label_set_line_wrap (GTK_LABEL (field->standing), TRUE);
  gtk_label_set_line_wrap_mode (GTK_LABEL (field->standing), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars (GTK_LABEL (field->standing), 30);
  gtk_label_set_ellipsize (GTK_LABEL (field->note), PANGO_ELLIPSIZE_END);
  gtk_label_set_max_width_chars (GTK_LABEL (field->note), 14);
  gtk_widget_set_no_show_all (field->standing, TRUE);
  gtk_label_set_width_chars (GTK_LABEL (field->note), 8);
  gtk_entry_set_width_chars (GTK_ENTRY (field->entry), 10);
  gtk_entry_set_max_width_chars (GTK_ENTRY (field->entry), 26);
  gtk_widget_set_hexpand (box, TRUE);
  gtk_widget_set_valign (cap, GTK_ALIGN_START);
  gtk_widget_set_valign (label, GTK_ALIGN_START);
  gtk_widget_set_valign (field->note, GTK_ALIGN_START);
  for (GtkWidget *const *each = (GtkWidget *const[]){ cap, label, field->note, NULL };
       *each != NULL; each++)
    gtk_widget_set_margin_top (*each, 4);
  g_signal_connect_swapped (field->entry, "changed", G_CALLBACK (on_typed), self);
  g_signal_connect (field->entry, "focus-in-event", G_CALLBACK (on_focus_in), self);
  g_signal_connect (field->entry, "focus-out-event", G_CALLBACK (on_focus_out), self);
  g_signal_connect (field->entry, "key-press-event", G_CALLBACK (on_entry_key), self);
  gtk_container_add (GTK_CONTAINER (box), field->entry);
  gtk_container_add (GTK_CONTAINER (box), field->standing);
  gtk_grid_attach (GTK_GRID (self->grid), cap, 0, i, 1, 1);
  gtk_grid_attach (GTK_GRID (self->grid), label, 1, i, 1, 1);
  gtk_grid_attach (GTK_GRID (self->grid), box, 2, i, 1, 1);
  gtk_grid_attach (GTK_GRID (self->grid), field->note, 3, i, 1, 1);
}

static void
add_teller (SwDecideForm *self)
{
  GtkWidget *label = gtk_label_new (_ ("Told by"));

  self->teller_row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  self->teller = gtk_entry_new ();
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), self->teller);
  gtk_container_add (GTK_CONTAINER (self->teller_row), label);
  gtk_box_pack_start (GTK_BOX (self->teller_row), self->teller, TRUE, TRUE, 0);
  g_signal_connect (self->teller, "key-press-event", G_CALLBACK (on_teller_key), self);
  gtk_widget_show_all (self->teller_row);
  gtk_widget_set_no_show_all (self->teller_row, TRUE);
  gtk_widget_hide (self->teller_row);
}

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
      Field *field = &self->fields[i];
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
  self->completion = new_completion ();
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_style_context_add_class (gtk_widget_get_style_context (GTK_WIDGET (self)), "sw-round");
  gtk_box_set_spacing (GTK_BOX (self), 8);
  self->grid = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (self->grid), 8);
  gtk_grid_set_row_spacing (GTK_GRID (self->grid), 3);
  for (int i = 0; i < SW_N_DECIDE_FIELDS; i++)
    add_row (self, i);
  add_teller (self);
  self->choices = new_flow (_ ("What is offered"));
  self->sources = new_flow (_ ("Source"));
  self->hint = new_label (GTK_STYLE_CLASS_DIM_LABEL);
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
