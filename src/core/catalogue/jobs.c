/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Jobs on site: rows and their checks. */
#include "core/catalogue/jobs.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/db.h"
#include "core/catalogue/places.h"
#include "core/catalogue/said.h"

static const char *const kinds[] = {
  N_ ("photograph"), N_ ("measure"), N_ ("try"), N_ ("gather"), N_ ("clean"), N_ ("drain"),
  N_ ("take off"),   N_ ("cut"),     N_ ("tag"), N_ ("load"),   NULL,
};

/* More than ever stood around one thing: what is above was mistyped. */
#define HANDS_MAX 100

const char *const *
sw_job_kinds (void)
{
  return kinds;
}

void
sw_job_free (SwJob *job)
{
  if (job == NULL)
    return;
  g_free (job->subject);
  g_free (job->kind);
  g_free (job->text);
  g_free (job->tools);
  g_free (job);
}

char *
sw_job_words (const SwJob *job)
{
  return *job->text != '\0' ? g_strdup_printf ("%s: %s", _ (job->kind), job->text)
                            : g_strdup (_ (job->kind));
}

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
  job->tools = sw_col_text (use, 6);
  job->hands = sw_col_int (use, 7);
  job->subject = sw_col_text (use, 8);
  return job;
}

/* "Screw press" or "Packing shed"; NULL with *error. Transfer full. */
static char *
job_subject (SwCatalogue *catalogue, gint64 item, gint64 place, GError **error)
{
  if (item == 0 && place == 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("A job is to be done at an item or a place; say which."));
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

static gboolean
check_job (const char *kind, const char *text, const char *tools, gint64 hands, GError **error)
{
  if (!sw_said_is_one_of (kind, kinds, G_N_ELEMENTS (kinds) - 1, _ ("A job"), error)
      || (text != NULL && !sw_text_check (text, _ ("The job"), TRUE, TRUE, error))
      || (tools != NULL && !sw_text_check (tools, _ ("The tools"), FALSE, TRUE, error)))
    return FALSE;
  if (hands >= 0 && hands <= HANDS_MAX)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("A job takes between 1 and %d people, not %" PRId64 "."), HANDS_MAX, hands);
  return FALSE;
}

gboolean
sw_job_add_with (SwCatalogue *catalogue, gint64 item, gint64 place, const char *kind,
                 const char *text, const char *tools, gint64 hands, gint64 *out_id, GError **error)
{
  if (!check_job (kind, text, tools, hands, error))
    return FALSE;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autofree char *subject = job_subject (catalogue, item, place, error);
  if (subject == NULL
      || !sw_db_run (catalogue, error, SW_STMT_JOB_INSERT, "IIttti", item != 0, item, place != 0,
                     place, kind, text != NULL ? text : "", tools != NULL ? tools : "",
                     MAX (1, hands)))
    return FALSE;
  gint64 id = sw_db_last_id (catalogue);
  gboolean more = text != NULL && *text != '\0';
  g_autofree char *sentence = more ? g_strdup_printf (_ ("%s: to %s: %s"), subject, _ (kind), text)
                                   : g_strdup_printf (_ ("%s: to %s"), subject, _ (kind));
  if (!tell_job (&act, item, place, sentence, error))
    return FALSE;
  if (out_id != NULL)
    *out_id = id;
  return TRUE;
}

gboolean
sw_job_add (SwCatalogue *catalogue, gint64 item, gint64 place, const char *kind, const char *text,
            gint64 *out_id, GError **error)
{
  return sw_job_add_with (catalogue, item, place, kind, text, NULL, 1, out_id, error);
}

/* One that was not withdrawn. */
static SwJob *
job_get (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_JOB_GET, "i", id);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return NULL;
  if (row)
    return job_from_row (&use);
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
               _ ("There is no job %" PRId64 ", or it was withdrawn."), id);
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
  if (!sw_db_run (catalogue, error, SW_STMT_JOB_SET_DONE, "iiI", id, (gint64)(done != FALSE),
                  done != FALSE, sw_catalogue_now (catalogue).us))
    return FALSE;
  g_autofree char *sentence = g_strdup_printf ("%s: %s %s", job->subject, job->kind,
                                               done ? _ ("done") : _ ("to do again"));
  return tell_job (&act, job->item, job->place, sentence, error);
}

gboolean
sw_job_withdraw (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwJob) job = job_get (catalogue, id, error);
  if (job == NULL)
    return FALSE;
  g_autofree char *sentence = g_strdup_printf (_ ("%s: need not %s"), job->subject, job->kind);
  return sw_db_run (catalogue, error, SW_STMT_JOB_WITHDRAW, "ii", id,
                    sw_catalogue_now (catalogue).us)
         && tell_job (&act, job->item, job->place, sentence, error);
}

GPtrArray *
sw_job_list (SwCatalogue *catalogue, gint64 item, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_JOB_LIST, "i", item);
  return sw_db_collect (catalogue, &use, (SwRowFunc)job_from_row, (GDestroyNotify)sw_job_free,
                        error);
}
