/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a bring-in tells: counts, remarks, progress. */
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/intake/bring-in-private.h"

SwBringInRemark *
sw_bring_in_remark_new (const char *file, const char *text)
{
  SwBringInRemark *remark = g_new0 (SwBringInRemark, 1);

  remark->file = g_strdup (file);
  remark->remark = g_strdup (text);
  return remark;
}

void
sw_bring_in_remark_free (SwBringInRemark *remark)
{
  g_free (remark->file);
  g_free (remark->remark);
  g_free (remark);
}

void
sw_bring_in_pair_free (SwBringInPair *pair)
{
  g_free (pair->a);
  g_free (pair->b);
  g_free (pair);
}

SwBringInReport *
sw_bring_in_report_new (void)
{
  SwBringInReport *report = g_new0 (SwBringInReport, 1);

  report->remarked = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_bring_in_remark_free);
  report->refused = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_bring_in_remark_free);
  report->not_photo_files = g_ptr_array_new_with_free_func (g_free);
  report->look_alikes = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_bring_in_pair_free);
  return report;
}

void
sw_bring_in_report_free (SwBringInReport *report)
{
  if (report == NULL)
    return;
  g_ptr_array_unref (report->remarked);
  g_ptr_array_unref (report->refused);
  g_ptr_array_unref (report->not_photo_files);
  g_ptr_array_unref (report->look_alikes);
  g_free (report->why_not);
  g_free (report);
}

void
sw_run_remark (SwRun *run, const char *file, const char *remark)
{
  g_ptr_array_add (run->report->remarked, sw_bring_in_remark_new (file, remark));
}

void
sw_run_refuse (SwRun *run, const char *file, const char *remark)
{
  g_ptr_array_add (run->report->refused, sw_bring_in_remark_new (file, remark));
}

gboolean
sw_refuse_nothing (const char *const *folders, const GPtrArray *refused, GError **error)
{
  g_autofree char *joined = g_strjoinv (", ", (char **)folders);
  g_autofree char *names = sw_text_printable (joined, -1);

  if (refused->len > 0)
    {
      const SwBringInRemark *r = refused->pdata[0];
      g_autofree char *file = sw_text_printable (r->file, -1);

      g_set_error (
          error, SW_ERROR, SW_ERROR_REFUSED,
          _ ("None of the %u photos in %s can be taken (%s: %s) Try the card in another reader."),
          refused->len, names, file, r->remark);
    }
  else
    g_set_error (
        error, SW_ERROR, SW_ERROR_NOT_FOUND,
        _ ("There are no photos in %s: choose the memory card or the folder that holds them."),
        names);
  return FALSE;
}

static void
count_day (SwBringInReport *report, SwDay day)
{
  if (!report->has_days || day.n < report->first_day.n)
    report->first_day = day;
  if (!report->has_days || day.n > report->last_day.n)
    report->last_day = day;
  report->has_days = TRUE;
}

/* A day that a photo itself tells of: a clip copied yesterday says nothing of the trip. */
static gboolean
has_own_day (const SwEntry *entry)
{
  return sw_file_kind_is_photo (entry->job.source->kind)
         && (entry->fate != SW_ENTRY_NEW || entry->job.meta.time_source != SW_TIME_FILE);
}

/* New ones, those taken back from aside, and those that an earlier, interrupted part of this same
 * bring-in took count as taken, once each; all else was there. */
void
sw_run_count (SwRun *run, SwEntry *entry)
{
  SwKnown *known = entry->known;
  gboolean taken = entry->fate == SW_ENTRY_NEW || known->aside
                   || (run->resumed && known->bring_in == run->bring_in);

  if (!taken || known->counted)
    {
      run->report->already_there++;
      return;
    }
  known->counted = TRUE;
  if (sw_file_kind_is_photo (entry->job.source->kind))
    run->report->taken++;
  else
    run->report->companions++;
  if (entry->has_day && has_own_day (entry))
    count_day (run->report, entry->day);
  if (entry->fate == SW_ENTRY_NEW)
    run->report->bytes_copied += (gint64)entry->job.size;
  else if (!known->aside && known->remark != NULL && *known->remark != '\0')
    sw_run_remark (run, entry->job.source->file, known->remark);
}

void
sw_bring_in_progress_bytes (SwBringInProgress *progress, gint64 *out_done, gint64 *out_total)
{
  *out_done = __atomic_load_n (&progress->bytes_done, __ATOMIC_RELAXED);
  *out_total = __atomic_load_n (&progress->bytes_total, __ATOMIC_RELAXED);
}

int
sw_bring_in_progress_seconds_left (SwBringInProgress *progress)
{
  gint64 since = __atomic_load_n (&progress->copying_since_us, __ATOMIC_RELAXED);
  gint64 done, total;
  double passed;

  sw_bring_in_progress_bytes (progress, &done, &total);
  passed = (double)(g_get_monotonic_time () - since) / G_USEC_PER_SEC;
  if (since == 0 || done <= 0 || passed < 0.5)
    return -1;
  return (int)MIN (passed * (double)(total - MIN (done, total)) / (double)done + 0.5, G_MAXINT);
}
