/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Takes the family's answers in and lists them. Claims and answers to questions are set by their
 * own records' functions, so that their rules hold here too. */
#include "core/catalogue/answers.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/claims.h"
#include "core/catalogue/db.h"
#include "core/catalogue/decide.h"
#include "core/catalogue/questions.h"

#define AS_SAYS_ROW(tag, word, shown, claim) { word, shown, (int)(claim) },
static const struct
{
  const char *word, *shown;
  int claim; /* SwClaim, or -1 */
} says_rows[] = { SW_ANSWER_SAYS (AS_SAYS_ROW) };

#define AS_KEY(tag, key) key,
static const char *const outcome_keys[] = { SW_ANSWER_OUTCOMES (AS_KEY) };

const char *
sw_answer_says_word (SwAnswerSays says)
{
  g_return_val_if_fail (says < SW_N_ANSWER_SAYS, "");
  return says_rows[says].word;
}

const char *
sw_answer_says_shown (SwAnswerSays says)
{
  g_return_val_if_fail (says < SW_N_ANSWER_SAYS, "");
  return says_rows[says].shown;
}

const char *
sw_answer_outcome_key (SwAnswerOutcome outcome)
{
  g_return_val_if_fail (outcome < SW_N_ANSWER_OUTCOMES, "");
  return outcome_keys[outcome];
}

/* ---- records ---- */

void
sw_answer_free (SwAnswer *answer)
{
  if (answer == NULL)
    return;
  g_free (answer->text);
  g_free (answer);
}

void
sw_answers_free (SwAnswers *answers)
{
  if (answers == NULL)
    return;
  g_free (answers->catalogue);
  g_free (answers->by);
  g_ptr_array_unref (answers->answers);
  g_free (answers);
}

static void
taken_free (gpointer data)
{
  g_free (((SwAnswerTaken *)data)->sentence);
  g_free (data);
}

void
sw_answers_report_free (SwAnswersReport *report)
{
  if (report == NULL)
    return;
  g_free (report->by);
  g_free (report->sentence);
  g_ptr_array_unref (report->taken);
  g_free (report);
}

void
sw_answer_said_free (SwAnswerSaid *said)
{
  if (said == NULL)
    return;
  g_free (said->item_name);
  g_free (said->place_path);
  g_free (said->person);
  g_free (said->text);
  g_free (said->question_text);
  g_free (said);
}

static SwAnswerSays
says_of (const char *word)
{
  for (int i = 0; i < SW_N_ANSWER_SAYS; i++)
    if (strcmp (says_rows[i].word, word) == 0)
      return (SwAnswerSays)i;
  return SW_ANSWER_NOTHING;
}

/* ---- taking in ---- */

typedef struct
{
  SwCatalogue *catalogue;
  const char *by;
  SwInstant at;
  GPtrArray *questions; /* SwQuestion of all items */
  SwAnswersReport *report;
} Taking;

/* "mine: the blue one" */
static char *
words_of (const SwAnswer *answer)
{
  const char *shown = says_rows[answer->says].shown;

  return g_strdup_printf ("%s%s%s", shown, *shown != '\0' && *answer->text != '\0' ? ": " : "",
                          answer->text);
}

static void report (Taking *taking, const SwAnswer *answer, SwAnswerOutcome outcome,
                    const char *format, ...) G_GNUC_PRINTF (4, 5);
static void
report (Taking *taking, const SwAnswer *answer, SwAnswerOutcome outcome, const char *format, ...)
{
  SwAnswerTaken *taken = g_new0 (SwAnswerTaken, 1);
  va_list args;

  va_start (args, format);
  taken->sentence = g_strdup_vprintf (format, args);
  va_end (args);
  taken->item = answer->item;
  taken->question = answer->question;
  taken->outcome = outcome;
  g_ptr_array_add (taking->report->taken, taken);
  taking->report->n[outcome]++;
}

/* What the person said before. */
typedef struct
{
  gboolean told;     /* this very answer */
  gboolean older;    /* something was said after it was given */
  SwAnswerSays says; /* the newest until now */
} Before;

static gboolean
compare (Taking *taking, gint64 item, const SwAnswer *answer, Before *before, GError **error)
{
  const char *word = says_rows[answer->says].word;
  gint64 same = 0;

  *before = (Before){ .says = SW_ANSWER_NOTHING };
  if (!sw_db_get_int (taking->catalogue, &same, NULL, error, SW_STMT_ANSWER_SAME, "iittti", item,
                      answer->question, taking->by, word, answer->text, taking->at.us))
    return FALSE;
  g_auto (SwUse) use = sw_db_use (taking->catalogue, SW_STMT_ANSWER_LATEST, "iitt", item,
                                  answer->question, taking->by, word);
  gboolean row = FALSE;
  if (!sw_db_step (taking->catalogue, &use, &row, error))
    return FALSE;
  before->told = same > 0;
  if (!row)
    return TRUE;
  g_autofree char *says = sw_col_text (&use, 0), *text = sw_col_text (&use, 1);
  gint64 at = sw_col_int (&use, 2);
  before->told |= strcmp (says, word) == 0 && strcmp (text, answer->text) == 0;
  before->older = at > taking->at.us;
  before->says = says_of (says);
  return TRUE;
}

static gboolean
keep_row (Taking *taking, gint64 item, const SwAnswer *answer, GError **error)
{
  return sw_db_run (taking->catalogue, error, SW_STMT_ANSWER_INSERT, "iItttii", item,
                    answer->question != 0, answer->question, taking->by,
                    says_rows[answer->says].word, answer->text, taking->at.us,
                    sw_catalogue_now (taking->catalogue).us);
}

static gboolean
tell (Taking *taking, const SwItem *item, const char *what, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *sentence = g_strdup_printf (_ ("%s: %s says %s"), item->name, taking->by, what);

  return sw_act_begin (&act, taking->catalogue, error)
         && sw_act_tell (&act, SW_SUBJECT_ITEM, item->id, "item.family", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

/* Who else says that it is theirs, "Bea and Cleo"; and what this person says already. Claims that
 * the person made by another way since count too. Transfer full; NULL for nobody. */
static char *
other_claims (const GPtrArray *claims, const char *by, const SwClaimSaid **out_own)
{
  g_autoptr (GString) others = g_string_new (NULL);

  *out_own = NULL;
  for (guint i = 0; i < claims->len; i++)
    {
      const SwClaimSaid *said = g_ptr_array_index (claims, i);

      if (strcmp (said->person, by) == 0)
        *out_own = said;
      else if (said->says == SW_CLAIM_MINE)
        g_string_append_printf (others, "%s%s", others->len > 0 ? _ (" and ") : "",
                                *said->person != '\0' ? said->person : _ ("somebody"));
    }
  return others->len > 0 ? g_string_free (g_steal_pointer (&others), FALSE) : NULL;
}

/* Sets the claim and says how it stands. */
static gboolean
claim (Taking *taking, const SwAnswer *answer, const SwItem *item, const char *what,
       SwAnswerSays before, GError **error)
{
  g_autoptr (GPtrArray) claims = sw_claim_list (taking->catalogue, item->id, error);
  const SwClaimSaid *own = NULL;
  int claims_it = says_rows[answer->says].claim;

  if (claims == NULL)
    return FALSE;
  g_autofree char *others = other_claims (claims, taking->by, &own);
  /* said later by another way than an answer */
  if (own != NULL && own->at.us > taking->at.us && says_rows[before].claim != (int)own->says)
    {
      report (taking, answer, SW_ANSWER_IS_OLDER,
              _ ("%" PRId64 " %s: %s; kept, but %s said something else later"), item->id,
              item->name, what, taking->by);
      return TRUE;
    }
  /* no claim to take back: then 'sell' needs no row of its own */
  gboolean changes
      = claims_it >= 0
        && (own == NULL ? claims_it != SW_CLAIM_NONE : own->says != (SwClaim)claims_it);
  if (changes && !sw_claim_set (taking->catalogue, item->id, taking->by, (SwClaim)claims_it, error))
    return FALSE;
  gboolean wanted = claims_it == SW_CLAIM_MINE || claims_it == SW_CLAIM_OPEN;
  if (others != NULL && claims_it >= 0)
    report (taking, answer, SW_ANSWER_IS_CLASH, _ ("%" PRId64 " %s: %s; 'mine' was said by %s"),
            item->id, item->name, what, others);
  else if (wanted && (item->state == SW_STATE_ON_OFFER || item->state == SW_STATE_ON_HOLD))
    report (taking, answer, SW_ANSWER_IS_WARNED,
            _ ("%" PRId64 " %s: %s; it is %s: withdraw it, or tell %s"), item->id, item->name, what,
            item->state == SW_STATE_ON_OFFER ? _ ("on offer") : _ ("on hold"), taking->by);
  else
    report (taking, answer, SW_ANSWER_IS_TAKEN, "%" G_GINT64_FORMAT " %s: %s", item->id, item->name,
            what);
  return TRUE;
}

static gboolean
stands (const SwItem *item)
{
  return sw_state_stands (item->state) && item->state != SW_STATE_SOLD;
}

static gboolean
take_of_item (Taking *taking, const SwAnswer *answer, GError **error)
{
  g_autoptr (GError) missing = NULL;
  g_autoptr (SwItem) item = sw_item_get (taking->catalogue, answer->item, &missing);
  g_autofree char *what = words_of (answer);
  Before before;

  if (g_error_matches (missing, SW_ERROR, SW_ERROR_NOT_FOUND))
    {
      report (taking, answer, SW_ANSWER_IS_UNKNOWN,
              _ ("%" PRId64 ": there is no item of that number any more; not taken"), answer->item);
      return TRUE;
    }
  if (item == NULL)
    {
      g_propagate_error (error, g_steal_pointer (&missing));
      return FALSE;
    }
  if (!compare (taking, item->id, answer, &before, error))
    return FALSE;
  if (before.told)
    {
      report (taking, answer, SW_ANSWER_IS_TOLD, _ ("%" PRId64 " %s: %s; told already"), item->id,
              item->name, what);
      return TRUE;
    }
  if (!keep_row (taking, item->id, answer, error) || !tell (taking, item, what, error))
    return FALSE;
  if (before.older)
    report (taking, answer, SW_ANSWER_IS_OLDER,
            _ ("%" PRId64 " %s: %s; kept, but %s said something else later"), item->id, item->name,
            what, taking->by);
  else if (!stands (item))
    report (taking, answer, SW_ANSWER_IS_GONE, _ ("%" PRId64 " %s: %s; kept, but it is %s by now"),
            item->id, item->name, what, _ (sw_state_word (item->state)));
  else
    return claim (taking, answer, item, what, before.says, error);
  return TRUE;
}

static const SwQuestion *
question_of (const Taking *taking, gint64 id)
{
  for (guint i = 0; i < taking->questions->len; i++)
    {
      const SwQuestion *question = g_ptr_array_index (taking->questions, i);
      if (question->id == id)
        return question;
    }
  return NULL;
}

/* An answer that stands is never replaced by somebody else's, nor by an older one. */
static gboolean
take_of_question (Taking *taking, const SwAnswer *answer, GError **error)
{
  const SwQuestion *question = question_of (taking, answer->question);
  Before before;

  if (question == NULL)
    {
      report (taking, answer, SW_ANSWER_IS_UNKNOWN,
              _ ("q%" PRId64 ": that question is not asked any more; not taken"), answer->question);
      return TRUE;
    }
  if (!compare (taking, question->item, answer, &before, error))
    return FALSE;
  if (before.told)
    {
      report (taking, answer, SW_ANSWER_IS_TOLD, _ ("q%" PRId64 " %s: %s; told already"),
              question->id, question->text, answer->text);
      return TRUE;
    }
  if (!keep_row (taking, question->item, answer, error))
    return FALSE;
  gboolean answered = question->answer != NULL;
  gboolean by_other = answered && g_strcmp0 (question->answered_by, taking->by) != 0;
  if (by_other && strcmp (question->answer, answer->text) != 0)
    {
      report (taking, answer, SW_ANSWER_IS_CLASH,
              _ ("q%" PRId64 " %s: %s; but %s answered '%s', which stays"), question->id,
              question->text, answer->text,
              question->answered_by != NULL ? question->answered_by : _ ("somebody"),
              question->answer);
      return TRUE;
    }
  if (before.older
      || (answered && question->has_answered && question->answered_at.us > taking->at.us))
    {
      report (taking, answer, SW_ANSWER_IS_OLDER,
              _ ("q%" PRId64 " %s: %s; kept, but answered later"), question->id, question->text,
              answer->text);
      return TRUE;
    }
  if (!by_other
      && !sw_question_answer_by (taking->catalogue, question->id, answer->text, taking->by, error))
    return FALSE;
  report (taking, answer, SW_ANSWER_IS_TAKEN, "q%" G_GINT64_FORMAT " %s: %s", question->id,
          question->text, answer->text);
  return TRUE;
}

/* ---- the whole ---- */

static gboolean
check_property (SwCatalogue *catalogue, const SwAnswers *answers, GError **error)
{
  g_autofree char *id = sw_catalogue_id (catalogue, error);

  if (id == NULL)
    return FALSE;
  if (answers->catalogue == NULL || strcmp (answers->catalogue, id) == 0)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("These are answers about another property, not about %s; nothing was taken."),
               sw_catalogue_name (catalogue));
  return FALSE;
}

/* The name as it is known already. Transfer full. */
static char *
whose (SwCatalogue *catalogue, const SwAnswers *answers, const char *by, GError **error)
{
  g_autofree char *name = sw_text_tidy (by != NULL ? by : answers->by != NULL ? answers->by : "");

  if (*name == '\0')
    {
      g_set_error_literal (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                           _ ("These answers do not say whose they are; name the person."));
      return NULL;
    }
  if (!sw_text_check (name, _ ("The name of the person"), FALSE, FALSE, error))
    return NULL;
  g_autoptr (GPtrArray) people = sw_people (catalogue, error);
  if (people == NULL)
    return NULL;
  for (guint i = 0; i < people->len; i++)
    if (sw_text_same_name (g_ptr_array_index (people, i), name))
      return g_strdup (g_ptr_array_index (people, i));
  return g_steal_pointer (&name);
}

static char *
sentence_of (const SwAnswersReport *report)
{
  int all = (int)report->taken->len,
      new_ones = all - report->n[SW_ANSWER_IS_TOLD] - report->n[SW_ANSWER_IS_UNKNOWN];
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, _ ("Answers of %s: %d of %d new"), report->by, new_ones, all);
  if (report->n[SW_ANSWER_IS_CLASH] > 0)
    g_string_append_printf (text, _ (", %d clash with somebody else's"),
                            report->n[SW_ANSWER_IS_CLASH]);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

SwAnswersReport *
sw_answers_take (SwCatalogue *catalogue, const SwAnswers *answers, const char *by, GError **error)
{
  if (answers->answers->len == 0)
    {
      g_set_error_literal (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                           _ ("There is no answer in it; nothing was taken."));
      return NULL;
    }
  if (!check_property (catalogue, answers, error))
    return NULL;
  g_autoptr (SwAnswersReport) report = g_new0 (SwAnswersReport, 1);
  report->taken = g_ptr_array_new_with_free_func (taken_free);
  report->by = whose (catalogue, answers, by, error);
  if (report->by == NULL)
    return NULL;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return NULL;
  g_autoptr (GPtrArray) questions = sw_question_list (catalogue, 0, error);
  if (questions == NULL)
    return NULL;
  SwInstant now = sw_catalogue_now (catalogue);
  Taking taking = { .catalogue = catalogue,
                    .by = report->by,
                    .at = answers->has_at && answers->at.us < now.us ? answers->at : now,
                    .questions = questions,
                    .report = report };
  for (guint i = 0; i < answers->answers->len; i++)
    {
      const SwAnswer *answer = g_ptr_array_index (answers->answers, i);

      if (!(answer->question != 0 ? take_of_question : take_of_item) (&taking, answer, error))
        return NULL;
    }
  report->sentence = sentence_of (report);
  return sw_act_commit (&act, report->sentence, error) ? g_steal_pointer (&report) : NULL;
}

/* ---- who said what when ---- */

static gpointer
said_from_row (const SwUse *use)
{
  SwAnswerSaid *said = g_new0 (SwAnswerSaid, 1);
  g_autofree char *says = sw_col_text (use, 4);

  said->id = sw_col_int (use, 0);
  said->item = sw_col_int (use, 1);
  said->question = sw_col_int (use, 2);
  said->person = sw_col_text (use, 3);
  said->says = says_of (says);
  said->text = sw_col_text (use, 5);
  said->at = (SwInstant){ sw_col_int (use, 6) };
  said->item_name = sw_col_text (use, 7);
  said->place_path = sw_col_text (use, 8);
  said->question_text = sw_col_text (use, 9);
  said->latest = sw_col_int (use, 10) != 0;
  return said;
}

/* It is about the item, and counts: 'don't know' and a remark leave the claims as they are. */
static gboolean
has_a_say (const SwAnswerSaid *said)
{
  return said->latest && says_rows[said->says].claim >= 0;
}

/* The latest of two people cannot both be followed: one of them is 'mine'. Two that keep it agree,
 * and 'sell' against 'keep' is settled by asking who keeps it. */
static gboolean
contradict (const SwAnswerSaid *one, const SwAnswerSaid *other)
{
  if (strcmp (one->person, other->person) == 0 || one->question != other->question)
    return FALSE;
  if (one->question != 0)
    return one->latest && other->latest && !sw_text_same_name (one->text, other->text);
  return has_a_say (one) && has_a_say (other)
         && (one->says == SW_ANSWER_MINE || other->says == SW_ANSWER_MINE);
}

/* Rows of one item stand together. */
static void
mark_clashes (GPtrArray *all)
{
  for (guint from = 0, to; from < all->len; from = to)
    {
      const gint64 item = ((SwAnswerSaid *)g_ptr_array_index (all, from))->item;

      to = from;
      while (to < all->len && ((SwAnswerSaid *)g_ptr_array_index (all, to))->item == item)
        to++;
      for (guint i = from; i < to; i++)
        for (guint j = from; j < to; j++)
          {
            SwAnswerSaid *said = g_ptr_array_index (all, i);

            said->clash = said->clash || contradict (said, g_ptr_array_index (all, j));
          }
    }
}

GPtrArray *
sw_answer_list (SwCatalogue *catalogue, gint64 item, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ANSWER_LIST, "i", item);
  GPtrArray *all
      = sw_db_collect (catalogue, &use, said_from_row, (GDestroyNotify)sw_answer_said_free, error);

  if (all != NULL)
    mark_clashes (all);
  return all;
}
