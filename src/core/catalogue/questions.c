/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Questions about items and what became of them. An answer may claim. */
#include "core/catalogue/questions.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/claims.h"
#include "core/catalogue/db.h"
#include "core/catalogue/said.h"

void
sw_question_free (SwQuestion *question)
{
  if (question == NULL)
    return;
  g_free (question->item_name);
  g_free (question->place_path);
  g_free (question->text);
  g_free (question->person);
  g_free (question->answer);
  g_free (question->answered_by);
  g_free (question);
}

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
  question->asked = !sw_col_is_null (use, 6);
  question->asked_at = (SwInstant){ sw_col_int (use, 6) };
  question->has_answered = !sw_col_is_null (use, 7);
  question->answered_at = (SwInstant){ sw_col_int (use, 7) };
  question->answered_by = sw_col_text (use, 8);
  question->withdrawn = !sw_col_is_null (use, 9);
  question->item_name = sw_col_text (use, 10);
  question->place_path = sw_col_text (use, 11);
  return question;
}

gboolean
sw_question_add (SwCatalogue *catalogue, gint64 item, const char *text, const char *person,
                 const SwDay *by, gint64 *out_id, GError **error)
{
  if (!sw_text_check (text, _ ("The question"), TRUE, FALSE, error)
      || !sw_said_check_person (person, error))
    return FALSE;
  g_autofree char *whom = sw_said_tidy (person);
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwItem) found = sw_item_get (catalogue, item, error);
  if (found == NULL
      || !sw_db_run (catalogue, error, SW_STMT_QUESTION_INSERT, "ittI", item, text, whom,
                     by != NULL, (gint64)(by != NULL ? by->n : 0)))
    return FALSE;
  gint64 id = sw_db_last_id (catalogue);
  g_autofree char *sentence
      = g_strdup_printf (_ ("%s: to ask%s%s: %s"), found->name, whom != NULL ? " " : "",
                         whom != NULL ? whom : "", text);
  if (!sw_said_commit (&act, item, "item.question", sentence, error))
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
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no question %" PRId64 "."), id);
  return NULL;
}

/* One that was not withdrawn. */
static SwQuestion *
standing_question (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_autoptr (SwQuestion) question = question_get (catalogue, id, error);
  if (question == NULL || !question->withdrawn)
    return g_steal_pointer (&question);
  g_autofree char *shown = sw_text_quote (question->text);
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("The question %s was withdrawn and takes no answer; ask it anew."), shown);
  return NULL;
}

/* 'mine' is an answer that claims the item, 'not mine' one that settles. */
static gboolean
claim_for (SwCatalogue *catalogue, const SwQuestion *question, const char *person,
           const char *answer, GError **error)
{
  if (sw_text_same_name (answer, "mine"))
    return sw_claim_set (catalogue, question->item, person, SW_CLAIM_MINE, error);
  if (sw_text_same_name (answer, "not mine"))
    return sw_claim_set (catalogue, question->item, person, SW_CLAIM_NONE, error);
  return TRUE;
}

gboolean
sw_question_answer_by (SwCatalogue *catalogue, gint64 id, const char *answer, const char *by_whom,
                       GError **error)
{
  if (!sw_text_check (answer, _ ("The answer"), TRUE, FALSE, error)
      || !sw_said_check_person (by_whom, error))
    return FALSE;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwQuestion) question = standing_question (catalogue, id, error);
  g_autoptr (SwItem) item
      = question != NULL ? sw_item_get (catalogue, question->item, error) : NULL;
  if (item == NULL)
    return FALSE;
  g_autofree char *named = sw_said_tidy (by_whom);
  const char *person = named != NULL ? named : question->person;
  if (!sw_db_run (catalogue, error, SW_STMT_QUESTION_ANSWER, "itit", id, answer,
                  sw_catalogue_now (catalogue).us, person)
      || !claim_for (catalogue, question, person, answer, error))
    return FALSE;
  gboolean other = named != NULL && g_strcmp0 (named, question->person) != 0;
  g_autofree char *sentence = g_strdup_printf ("%s: %s: %s%s%s", item->name, question->text, answer,
                                               other ? _ (" says ") : "", other ? named : "");
  return sw_said_commit (&act, item->id, "item.answer", sentence, error);
}

gboolean
sw_question_answer (SwCatalogue *catalogue, gint64 id, const char *answer, GError **error)
{
  return sw_question_answer_by (catalogue, id, answer, NULL, error);
}

gboolean
sw_question_set_asked (SwCatalogue *catalogue, gint64 id, gboolean asked, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwQuestion) question = standing_question (catalogue, id, error);
  g_autoptr (SwItem) item
      = question != NULL ? sw_item_get (catalogue, question->item, error) : NULL;
  if (item == NULL)
    return FALSE;
  if (question->asked == (asked != FALSE))
    return TRUE;
  const char *whom = question->person != NULL ? question->person : _ ("somebody");
  g_autofree char *sentence
      = g_strdup_printf (asked ? _ ("%s: %s was asked: %s") : _ ("%s: %s was not asked yet: %s"),
                         item->name, whom, question->text);
  return sw_db_run (catalogue, error, SW_STMT_QUESTION_SET_ASKED, "iI", id, asked != FALSE,
                    sw_catalogue_now (catalogue).us)
         && sw_said_commit (&act, item->id, "item.question", sentence, error);
}

gboolean
sw_question_withdraw (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwQuestion) question = question_get (catalogue, id, error);
  g_autoptr (SwItem) item
      = question != NULL ? sw_item_get (catalogue, question->item, error) : NULL;
  if (item == NULL)
    return FALSE;
  if (question->withdrawn)
    return TRUE;
  g_autofree char *sentence
      = g_strdup_printf (_ ("%s: question withdrawn: %s"), item->name, question->text);
  return sw_db_run (catalogue, error, SW_STMT_QUESTION_WITHDRAW, "ii", id,
                    sw_catalogue_now (catalogue).us)
         && sw_said_commit (&act, item->id, "item.question", sentence, error);
}

GPtrArray *
sw_question_list (SwCatalogue *catalogue, gint64 item, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_QUESTION_LIST, "i", item);
  return sw_db_collect (catalogue, &use, (SwRowFunc)question_from_row,
                        (GDestroyNotify)sw_question_free, error);
}

GPtrArray *
sw_question_open (SwCatalogue *catalogue, const char *person, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_QUESTION_OPEN, "t", person);
  return sw_db_collect (catalogue, &use, (SwRowFunc)question_from_row,
                        (GDestroyNotify)sw_question_free, error);
}
