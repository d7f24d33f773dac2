/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lists of words by field; the words themselves are core's, the trades' or the person's. */
#include "app/decide-words.h"

#include "app/text.h"
#include "app/trade-words.h"
#include "core/catalogue/dangers.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/jobs.h"
#include "core/catalogue/outlets.h"
#include "core/catalogue/questions.h"

#include <string.h>

#define FIRST_QUESTION N_ ("What do you know of it?")

gboolean
sw_decide_word_is_offered (SwDecideField field)
{
  return field != SW_DECIDE_NAME && field != SW_DECIDE_COUNT && field != SW_DECIDE_WRONG
         && field != SW_DECIDE_PRICE;
}

static void
add (GPtrArray *words, const char *word)
{
  g_ptr_array_add (words, (gpointer)word);
}

static void
add_static (GPtrArray *words, const char *const *table, guint n)
{
  for (guint i = 0; i < n; i++)
    add (words, table[i]);
}

GPtrArray *
sw_decide_words (const SwDecideData *data, SwDecideField field)
{
  GPtrArray *words = g_ptr_array_new ();
  guint n = 0;
  gsize n_dangers = 0;
  const SwDanger *dangers = sw_dangers (&n_dangers);
  const char *const *table;

  switch (field)
    {
    case SW_DECIDE_CONDITION:
      table = sw_trade_conditions (&n);
      add_static (words, table, n);
      break;
    case SW_DECIDE_LIFTED:
      for (int i = 1; i < SW_N_SIZES; i++)
        add (words, sw_size_word ((SwSize)i));
      break;
    case SW_DECIDE_RIDES:
      for (int i = 1; i < SW_N_STOWS; i++)
        add (words, sw_stows_word ((SwStows)i));
      break;
    case SW_DECIDE_DANGER:
      for (gsize i = 0; i < n_dangers; i++)
        add (words, dangers[i].word);
      break;
    case SW_DECIDE_ASK:
      for (guint i = 0; i < data->people->len; i++)
        add (words, g_ptr_array_index (data->people, i));
      break;
    case SW_DECIDE_OUTLET:
      for (guint i = 0; i < data->outlets->len; i++)
        add (words, ((const SwOutlet *)g_ptr_array_index (data->outlets, i))->name);
      break;
    case SW_DECIDE_JOB:
      table = sw_job_kinds ();
      add_static (words, table, g_strv_length ((char **)table));
      break;
    default:
      break;
    }
  return words;
}

/* ", " between, as core reads it. */
static gboolean
stands (const SwDecideValue *value, const char *word)
{
  g_auto (GStrv) each = g_strsplit (value->has ? value->text : "", ", ", -1);

  return g_strv_contains ((const char *const *)each, word);
}

gboolean
sw_decide_word_is_set (const SwDecideData *data, SwDecideField field, guint which)
{
  const SwDecideValue *value = &data->values[field];
  g_auto (SwDecideValue) offered = { 0 };

  if (!value->has || !sw_decide_word_value (data, field, which, &offered))
    return FALSE;
  if (field == SW_DECIDE_DANGER || field == SW_DECIDE_JOB)
    return stands (value, offered.text);
  if (field == SW_DECIDE_ASK)
    return g_strcmp0 (value->by_whom, offered.by_whom) == 0;
  return field == SW_DECIDE_CONDITION ? g_strcmp0 (value->text, offered.text) == 0
                                      : value->number == offered.number;
}

gboolean
sw_decide_word_value (const SwDecideData *data, SwDecideField field, guint which,
                      SwDecideValue *out_value)
{
  g_autoptr (GPtrArray) words = sw_decide_words (data, field);
  const char *word;

  if (which >= words->len)
    return FALSE;
  word = g_ptr_array_index (words, which);
  out_value->has = TRUE;
  if (field == SW_DECIDE_LIFTED || field == SW_DECIDE_RIDES)
    out_value->number = which + 1;
  else if (field == SW_DECIDE_ASK)
    {
      out_value->by_whom = g_strdup (word);
      out_value->text = g_strdup (_ (FIRST_QUESTION));
    }
  else
    out_value->text = g_strdup (word);
  if (field == SW_DECIDE_OUTLET)
    out_value->number = ((const SwOutlet *)g_ptr_array_index (data->outlets, which))->id;
  return TRUE;
}

/* ---- completion ---- */

static void
add_once (GPtrArray *words, GHashTable *seen, const char *word)
{
  if (g_hash_table_add (seen, (gpointer)word))
    add (words, word);
}

GPtrArray *
sw_decide_completion (const SwDecideData *data, SwDecideField field)
{
  const GPtrArray *own = field == SW_DECIDE_NAME        ? data->names
                         : field == SW_DECIDE_CONDITION ? data->conditions
                         : field == SW_DECIDE_WRONG     ? data->faults
                                                        : NULL;
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GPtrArray) offered = sw_decide_words (data, field);
  GPtrArray *words = g_ptr_array_new ();
  guint n = 0;
  const char *const *table = field == SW_DECIDE_NAME    ? sw_trade_words (&n)
                             : field == SW_DECIDE_WRONG ? sw_trade_faults (&n)
                                                        : NULL;

  for (guint i = 0; own != NULL && i < own->len; i++)
    add_once (words, seen, g_ptr_array_index (own, i));
  for (guint i = 0; i < n; i++)
    add_once (words, seen, _ (table[i]));
  for (guint i = 0; i < offered->len; i++)
    add_once (words, seen, g_ptr_array_index (offered, i));
  return words;
}

/* ---- typed words ---- */

static const char *
class_word (SwDecideField field, int i)
{
  return field == SW_DECIDE_LIFTED ? sw_size_word ((SwSize)i) : sw_stows_word ((SwStows)i);
}

gint64
sw_decide_word_number (SwDecideField field, const char *text, char **out_why)
{
  int n = field == SW_DECIDE_LIFTED ? (int)SW_N_SIZES : (int)SW_N_STOWS;
  gsize length = strlen (text);

  for (int i = 1; i < n; i++)
    if (g_ascii_strncasecmp (class_word (field, i), text, length) == 0
        || g_ascii_strncasecmp (_ (class_word (field, i)), text, length) == 0)
      return i;
  *out_why = g_strdup (field == SW_DECIDE_LIFTED
                           ? _ ("It is lifted by hand, by two people or by machine.")
                           : _ ("It rides on a shelf, the floor, the roof or the trailer."));
  return 0;
}

void
sw_decide_word_question (const char *text, SwDecideValue *out_value)
{
  const char *colon = strchr (text, ':');
  g_autofree char *person = colon != NULL ? g_strndup (text, (gsize)(colon - text)) : NULL;
  g_autofree char *question = g_strdup (colon != NULL ? colon + 1 : text);

  g_strstrip (question);
  if (colon == NULL && g_str_has_suffix (question, "?"))
    out_value->text = g_steal_pointer (&question);
  else if (colon == NULL || *question == '\0')
    {
      out_value->by_whom = g_strstrip (g_strdup (colon != NULL ? person : text));
      out_value->text = g_strdup (_ (FIRST_QUESTION));
    }
  else
    {
      out_value->by_whom = g_strstrip (g_strdup (person));
      out_value->text = g_steal_pointer (&question);
    }
}

/* ---- what stands ---- */

static void
append (GString *text, const char *line)
{
  g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", line);
}

static void
append_dangers (const SwDecideData *data, GString *text)
{
  for (guint i = 0; i < data->sheet->facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (data->sheet->facts, i);
      g_autofree char *line = g_strdup_printf ("%s (%s%s%s)", _ (fact->text), _ (fact->source),
                                               fact->by_whom != NULL ? _ (" by ") : "",
                                               fact->by_whom != NULL ? fact->by_whom : "");
      if (strcmp (fact->kind, SW_FACT_DANGER) == 0)
        append (text, line);
    }
}

static void
append_questions (const SwDecideData *data, GString *text)
{
  for (guint i = 0; i < data->sheet->questions->len; i++)
    {
      const SwQuestion *question = g_ptr_array_index (data->sheet->questions, i);
      g_autofree char *line = g_strdup_printf (
          "%s%s%s%s%s", question->person != NULL ? question->person : "",
          question->person != NULL ? ": " : "", question->text, question->answer != NULL ? " " : "",
          question->answer != NULL ? question->answer : "");
      append (text, line);
    }
}

static void
append_jobs (const SwDecideData *data, GString *text)
{
  for (guint i = 0; i < data->sheet->jobs->len; i++)
    {
      const SwJob *job = g_ptr_array_index (data->sheet->jobs, i);
      g_autofree char *line
          = g_strdup_printf ("%s%s%s%s", _ (job->kind), *job->text != '\0' ? " " : "", job->text,
                             job->done ? _ (" (done)") : "");
      append (text, line);
    }
}

char *
sw_decide_word_standing (const SwDecideData *data, SwDecideField field)
{
  g_autoptr (GString) text = g_string_new (NULL);

  if (field == SW_DECIDE_DANGER)
    append_dangers (data, text);
  else if (field == SW_DECIDE_ASK)
    append_questions (data, text);
  else if (field == SW_DECIDE_JOB)
    append_jobs (data, text);
  return text->len > 0 ? g_string_free (g_steal_pointer (&text), FALSE) : NULL;
}
