/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Facts, questions and jobs of items: rows and their checks. What was told or guessed stays marked
 * as such. */
#include <string.h>

#include "core/base/error.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/items.h"
#include "core/catalogue/places.h"

static const char *const fact_sources[] = { "seen", "tried", "told", "guessed" };

static const char *const job_kinds[] = {
  "photograph", "measure", "try", "gather", "clean", "drain", "take off", "cut", "tag", "load",
};

static gboolean
is_one_of (const char *word, const char *const *words, gsize n, const char *what, GError **error)
{
  for (gsize i = 0; i < n; i++)
    if (strcmp (words[i], word) == 0)
      return TRUE;
  g_autoptr (GString) all = g_string_new (NULL);
  for (gsize i = 0; i < n; i++)
    g_string_append_printf (all, "%s%s", i == 0 ? "" : i + 1 < n ? ", " : " or ", words[i]);
  g_autofree char *shown = sw_text_printable (word, -1);
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, "%s is %s, not '%s'.", what, all->str, shown);
  return FALSE;
}

/* NULL and "" are both nothing. */
static gboolean
check_person (const char *person, GError **error)
{
  return person == NULL || sw_text_check (person, "The name of the person", FALSE, TRUE, error);
}

static char *
tidy_or_null (const char *text)
{
  g_autofree char *tidy = text != NULL ? sw_text_tidy (text) : NULL;
  return tidy != NULL && *tidy != '\0' ? g_steal_pointer (&tidy) : NULL;
}

static gboolean
tell_and_commit (SwAct *act, gint64 item, const char *verb, const char *sentence, GError **error)
{
  return sw_act_tell (act, SW_SUBJECT_ITEM, item, verb, NULL, sentence, error)
         && sw_act_commit (act, sentence, error);
}

/* --- facts --- */

void
sw_fact_free (SwFact *fact)
{
  if (fact == NULL)
    return;
  g_free (fact->kind);
  g_free (fact->text);
  g_free (fact->source);
  g_free (fact->by_whom);
  g_free (fact);
}

static gboolean
check_fact (const char *kind, const char *text, const char *source, const char *by_whom,
            GError **error)
{
  if (!sw_text_check (kind, "The kind of fact", FALSE, FALSE, error)
      || !sw_text_check (text, "The fact", TRUE, FALSE, error) || !check_person (by_whom, error)
      || !is_one_of (source, fact_sources, G_N_ELEMENTS (fact_sources), "The source of a fact",
                     error))
    return FALSE;
  g_autofree char *person = tidy_or_null (by_whom);
  if (strcmp (source, "told") != 0 || person != NULL)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               "A fact that was told needs the person who told it; give the name.");
  return FALSE;
}

gboolean
sw_fact_add (SwCatalogue *catalogue, gint64 item, const char *kind, const char *text,
             const char *source, const char *by_whom, gint64 *out_id, GError **error)
{
  if (!check_fact (kind, text, source, by_whom, error))
    return FALSE;
  g_autofree char *person = tidy_or_null (by_whom);
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwItem) found = sw_item_get (catalogue, item, error);
  if (found == NULL
      || !sw_db_run (catalogue, error, SW_STMT_FACT_INSERT, "itttti", item, kind, text, source,
                     person, sw_catalogue_now (catalogue).us))
    return FALSE;
  gint64 id = sw_db_last_id (catalogue);
  g_autofree char *sentence
      = g_strdup_printf ("%s: %s: %s (%s%s%s)", found->name, kind, text, source,
                         person != NULL ? " by " : "", person != NULL ? person : "");
  if (!tell_and_commit (&act, item, "item.fact", sentence, error))
    return FALSE;
  if (out_id != NULL)
    *out_id = id;
  return TRUE;
}

static SwFact *
fact_from_row (const SwUse *use)
{
  SwFact *fact = g_new0 (SwFact, 1);
  fact->id = sw_col_int (use, 0);
  fact->item = sw_col_int (use, 1);
  fact->kind = sw_col_text (use, 2);
  fact->text = sw_col_text (use, 3);
  fact->source = sw_col_text (use, 4);
  fact->by_whom = sw_col_text (use, 5);
  return fact;
}

GPtrArray *
sw_fact_list (SwCatalogue *catalogue, gint64 item, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_FACT_LIST, "i", item);
  return sw_db_collect (catalogue, &use, (SwRowFunc)fact_from_row, (GDestroyNotify)sw_fact_free,
                        error);
}

/* --- questions --- */

void
sw_question_free (SwQuestion *question)
{
  if (question == NULL)
    return;
  g_free (question->text);
  g_free (question->person);
  g_free (question->answer);
  g_free (question);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwQuestion, sw_question_free)

static SwQuestion *
question_from_row (const SwUse *use)
{
  SwQuestion *question = g_new0 (SwQuestion, 1);
  question->id = sw_col_int (use, 0);
  question->item = sw_col_int (use, 1);
  question->text = sw_col_text (use, 2);
  question->person = sw_col_text (use, 3);
  question->has_by = !sw_col_is_null (use, 4);
  question->by = (SwDay){ (gint32)sw_col_int (use, 4) };
  question->answer = sw_col_text (use, 5);
  return question;
}

gboolean
sw_question_add (SwCatalogue *catalogue, gint64 item, const char *text, const char *person,
                 const SwDay *by, gint64 *out_id, GError **error)
{
  if (!sw_text_check (text, "The question", TRUE, FALSE, error) || !check_person (person, error))
    return FALSE;
  g_autofree char *whom = tidy_or_null (person);
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwItem) found = sw_item_get (catalogue, item, error);
  if (found == NULL
      || !sw_db_run (catalogue, error, SW_STMT_QUESTION_INSERT, "ittI", item, text, whom,
                     by != NULL, (gint64)(by != NULL ? by->n : 0)))
    return FALSE;
  gint64 id = sw_db_last_id (catalogue);
  g_autofree char *sentence = g_strdup_printf (
      "%s: to ask%s%s: %s", found->name, whom != NULL ? " " : "", whom != NULL ? whom : "", text);
  if (!tell_and_commit (&act, item, "item.question", sentence, error))
    return FALSE;
  if (out_id != NULL)
    *out_id = id;
  return TRUE;
}

static SwQuestion *
question_get (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_QUESTION_GET, "i", id);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return NULL;
  if (row)
    return question_from_row (&use);
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, "There is no question %" G_GINT64_FORMAT ".",
               id);
  return NULL;
}

/* 'mine' is an answer that claims the item. */
static gboolean
claim_for (SwCatalogue *catalogue, const SwQuestion *question, const char *answer, GError **error)
{
  if (!sw_text_same_name (answer, "mine"))
    return TRUE;
  const SwClaim mine = SW_CLAIM_MINE;
  SwItemChange change = { .claim = &mine, .claim_by = question->person };
  return sw_item_change (catalogue, question->item, &change, error);
}

gboolean
sw_question_answer (SwCatalogue *catalogue, gint64 id, const char *answer, GError **error)
{
  if (!sw_text_check (answer, "The answer", TRUE, FALSE, error))
    return FALSE;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwQuestion) question = question_get (catalogue, id, error);
  g_autoptr (SwItem) item
      = question != NULL ? sw_item_get (catalogue, question->item, error) : NULL;
  if (item == NULL || !sw_db_run (catalogue, error, SW_STMT_QUESTION_ANSWER, "it", id, answer)
      || !claim_for (catalogue, question, answer, error))
    return FALSE;
  g_autofree char *sentence = g_strdup_printf ("%s: %s: %s", item->name, question->text, answer);
  return tell_and_commit (&act, item->id, "item.answer", sentence, error);
}

GPtrArray *
sw_question_list (SwCatalogue *catalogue, gint64 item, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_QUESTION_LIST, "i", item);
  return sw_db_collect (catalogue, &use, (SwRowFunc)question_from_row,
                        (GDestroyNotify)sw_question_free, error);
}

/* --- jobs --- */

void
sw_job_free (SwJob *job)
{
  if (job == NULL)
    return;
  g_free (job->kind);
  g_free (job->text);
  g_free (job);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwJob, sw_job_free)

static SwJob *
job_from_row (const SwUse *use)
{
  SwJob *job = g_new0 (SwJob, 1);
  job->id = sw_col_int (use, 0);
  job->item = sw_col_int (use, 1);
  job->place = sw_col_int (use, 2);
  job->kind = sw_col_text (use, 3);
  job->text = sw_col_text (use, 4);
  job->done = sw_col_int (use, 5) != 0;
  return job;
}

/* "Screw press" or "Packing shed"; NULL with *error. Transfer full. */
static char *
job_subject (SwCatalogue *catalogue, gint64 item, gint64 place, GError **error)
{
  if (item == 0 && place == 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   "A job is to be done at an item or a place; say which.");
      return NULL;
    }
  g_autoptr (SwPlace) where = place != 0 ? sw_place_get (catalogue, place, error) : NULL;
  if (place != 0 && where == NULL)
    return NULL;
  g_autoptr (SwItem) what = item != 0 ? sw_item_get (catalogue, item, error) : NULL;
  if (item != 0 && what == NULL)
    return NULL;
  return g_strdup (what != NULL ? what->name : where->path);
}

static gboolean
tell_job (SwAct *act, gint64 item, gint64 place, const char *sentence, GError **error)
{
  return sw_act_tell (act, item != 0 ? SW_SUBJECT_ITEM : SW_SUBJECT_PLACE, item != 0 ? item : place,
                      "job", NULL, sentence, error)
         && sw_act_commit (act, sentence, error);
}

gboolean
sw_job_add (SwCatalogue *catalogue, gint64 item, gint64 place, const char *kind, const char *text,
            gint64 *out_id, GError **error)
{
  if (!is_one_of (kind, job_kinds, G_N_ELEMENTS (job_kinds), "A job", error)
      || (text != NULL && !sw_text_check (text, "The job", TRUE, TRUE, error)))
    return FALSE;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autofree char *subject = job_subject (catalogue, item, place, error);
  if (subject == NULL
      || !sw_db_run (catalogue, error, SW_STMT_JOB_INSERT, "IItt", item != 0, item, place != 0,
                     place, kind, text != NULL ? text : ""))
    return FALSE;
  gint64 id = sw_db_last_id (catalogue);
  gboolean more = text != NULL && *text != '\0';
  g_autofree char *sentence
      = g_strdup_printf ("%s: to %s%s%s", subject, kind, more ? ": " : "", more ? text : "");
  if (!tell_job (&act, item, place, sentence, error))
    return FALSE;
  if (out_id != NULL)
    *out_id = id;
  return TRUE;
}

static SwJob *
job_get (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_JOB_GET, "i", id);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return NULL;
  if (row)
    return job_from_row (&use);
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, "There is no job %" G_GINT64_FORMAT ".", id);
  return NULL;
}

gboolean
sw_job_set_done (SwCatalogue *catalogue, gint64 id, gboolean done, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwJob) job = job_get (catalogue, id, error);
  if (job == NULL)
    return FALSE;
  if (job->done == (done != FALSE))
    return TRUE;
  g_autofree char *subject = job_subject (catalogue, job->item, job->place, error);
  if (subject == NULL
      || !sw_db_run (catalogue, error, SW_STMT_JOB_SET_DONE, "ii", id, (gint64)(done != FALSE)))
    return FALSE;
  g_autofree char *sentence
      = g_strdup_printf ("%s: %s %s", subject, job->kind, done ? "done" : "to do again");
  return tell_job (&act, job->item, job->place, sentence, error);
}

GPtrArray *
sw_job_list (SwCatalogue *catalogue, gint64 item, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_JOB_LIST, "i", item);
  return sw_db_collect (catalogue, &use, (SwRowFunc)job_from_row, (GDestroyNotify)sw_job_free,
                        error);
}
