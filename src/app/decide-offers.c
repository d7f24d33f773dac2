/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is offered beside a field: its words by their digits, what the find before said, the source,
 * and who told it. */
#include "app/decide-form-private.h"

#include "app/decide-words.h"
#include "app/key-choices.h"
#include "core/base/language.h"

#include <string.h>

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

void
sw_decide_form_pick (SwDecideForm *self, int i, guint which)
{
  g_auto (SwDecideValue) value = { 0 };

  if (!sw_decide_form_is_writable (self)
      || !sw_decide_word_value (self->data, (SwDecideField)i, which, &value))
    return;
  if (sw_decide_specs[i].sourced)
    {
      value.source = g_strdup (self->fields[i].source);
      value.by_whom = g_strdup (self->fields[i].by);
    }
  sw_decide_form_send (self, i, &value);
  if (!sw_decide_specs[i].added)
    {
      g_autofree char *text = sw_decide_form_value_text (self, i, &value);
      sw_decide_form_set_text (self, i, text);
    }
  sw_decide_form_go_on (self, i);
}

static gint64
before_of (SwDecideForm *self)
{
  return self->data != NULL ? self->data->mark.before : 0;
}

static void
repeat (SwDecideForm *self, guint fields)
{
  if (!sw_decide_form_is_writable (self))
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

void
sw_decide_form_show_note (SwDecideForm *self, int i)
{
  const SwDecideRow *field = &self->fields[i];
  g_autofree char *note = NULL;

  if (sw_decide_specs[i].sourced
      && (*sw_decide_form_text_of (self, i) != '\0' || self->current == i))
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
  SwDecideRow *field = &self->fields[i];
  g_auto (SwDecideValue) value = { 0 };
  g_autofree char *why = NULL;

  g_free (field->source);
  g_free (field->by);
  field->source = g_strdup (source);
  field->by = g_strdup (by);
  if (!sw_decide_specs[i].added && sw_decide_form_read_field (self, i, &value, &why) && value.has
      && sw_decide_form_is_writable (self))
    {
      sw_decide_form_send (self, i, &value);
      g_free (field->shown);
      field->shown = g_strdup (sw_decide_form_text_of (self, i));
    }
  sw_decide_form_show_note (self, i);
  sw_decide_form_fill_choices (self);
}

static void
ask_teller (SwDecideForm *self, int i)
{
  self->telling = i;
  gtk_widget_show (self->teller_row);
  gtk_entry_set_text (GTK_ENTRY (self->teller),
                      self->fields[i].by != NULL ? self->fields[i].by : "");
  gtk_widget_grab_focus (self->teller);
  sw_decide_form_fill_choices (self);
}

void
sw_decide_form_end_telling (SwDecideForm *self)
{
  int i = self->telling;

  self->telling = NO_FIELD;
  gtk_widget_hide (self->teller_row);
  if (i != NO_FIELD)
    sw_decide_form_go_to (self, i);
}

void
sw_decide_form_take_teller (SwDecideForm *self, const char *name)
{
  g_autofree char *tidy = g_strstrip (g_strdup (name));

  if (*tidy == '\0')
    {
      sw_store_tell (self->store, _ ("Who told it? Give a name, or press Escape."), TRUE);
      return;
    }
  set_source (self, self->telling, "told", tidy);
  sw_decide_form_end_telling (self);
}

gboolean
sw_decide_form_source_key (SwDecideForm *self, guint keyval)
{
  for (gsize k = 0; k < G_N_ELEMENTS (sources); k++)
    {
      if (sources[k].keyval != keyval)
        continue;
      if (self->current == NO_FIELD || !sw_decide_specs[self->current].sourced)
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

void
sw_decide_form_as_before (SwDecideForm *self)
{
  int i = self->current;

  if (i == NO_FIELD)
    sw_decide_form_repeat (self);
  else
    {
      repeat (self, 1u << i);
      sw_decide_form_go_on (self, i);
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
    sw_decide_form_as_before (self);
  else if (self->telling != NO_FIELD)
    {
      g_autofree char *name = g_strdup (g_ptr_array_index (self->data->people, which));
      sw_decide_form_take_teller (self, name);
    }
  else if (self->current != NO_FIELD)
    sw_decide_form_pick (self, self->current, which);
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

  if (self->telling == NO_FIELD && i != NO_FIELD && sw_decide_specs[i].sourced)
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
void
sw_decide_form_fill_choices (SwDecideForm *self)
{
  if (self->offering == 0)
    self->offering = g_idle_add_full (G_PRIORITY_HIGH_IDLE, on_offering, self, NULL);
}
