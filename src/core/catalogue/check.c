/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The check: database, links, photos, states, acts, and what the layers above register. Finds and
 * tells; mends nothing. */
#include "core/catalogue/check.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/catalogue-private.h"
#include "core/catalogue/changeset.h"
#include "core/catalogue/digest.h"
#include "core/catalogue/states.h"

#define REGISTERED_AT_MOST 16

static struct
{
  const char *name;
  SwCheckFunc check;
} registered[REGISTERED_AT_MOST];

typedef struct
{
  SwCatalogue *catalogue;
  GCancellable *cancellable;
  SwCheckReport *report;
  GHashTable *stored; /* what the rows say lies in photos/ */
  gboolean bring_in_open;
} Check;

void
sw_check_register (const char *name, SwCheckFunc check)
{
  gsize i = 0;
  while (i < REGISTERED_AT_MOST && registered[i].name != NULL
         && !g_str_equal (registered[i].name, name))
    i++;
  g_return_if_fail (i < REGISTERED_AT_MOST);
  registered[i].name = name;
  registered[i].check = check;
}

void
sw_check_report_clear (SwCheckReport *report)
{
  g_clear_pointer (&report->faults, g_ptr_array_unref);
  g_clear_pointer (&report->remarks, g_ptr_array_unref);
}

void
sw_check_fault (SwCheckReport *report, const char *format, ...)
{
  va_list list;
  va_start (list, format);
  g_autofree char *text = g_strdup_vprintf (format, list);
  va_end (list);
  g_ptr_array_add (report->faults, sw_text_printable (text, -1));
}

void
sw_check_remark (SwCheckReport *report, const char *format, ...)
{
  va_list list;
  va_start (list, format);
  g_autofree char *text = g_strdup_vprintf (format, list);
  va_end (list);
  g_ptr_array_add (report->remarks, sw_text_printable (text, -1));
}

/* Walks a statement without parameters, a row at a time. */
typedef gboolean (*RowFunc) (Check *check, const SwUse *row, GError **error);

static gboolean
for_each_row (Check *check, SwStatementId id, RowFunc look, GError **error)
{
  g_auto (SwUse) use = sw_db_use (check->catalogue, id, "");
  gboolean ok = TRUE;
  while (sw_db_next (check->catalogue, &use, &ok, error))
    {
      if (g_cancellable_is_cancelled (check->cancellable))
        {
          g_set_error (error, SW_ERROR, SW_ERROR_CANCELLED, _ ("The check was stopped."));
          return FALSE;
        }
      if (!look (check, &use, error))
        return FALSE;
    }
  return ok;
}

static gboolean
look_integrity (Check *check, const SwUse *row, GError **error)
{
  g_autofree char *said = sw_col_text (row, 0);
  if (g_strcmp0 (said, "ok") != 0)
    sw_check_fault (check->report, _ ("The database is damaged (%s): restore the catalogue."),
                    said);
  return TRUE;
}

static gboolean
look_link (Check *check, const SwUse *row, GError **error)
{
  g_autofree char *table = sw_col_text (row, 0), *parent = sw_col_text (row, 2);
  sw_check_fault (check->report,
                  _ ("A link is broken: row %" PRId64 " of '%s' names a row of '%s' that is "
                     "not there."),
                  sw_col_int (row, 1), table, parent);
  return TRUE;
}

static const char *const verdict_words[] = {
  [SW_DIGEST_OTHER] = N_ ("was changed"),
  [SW_DIGEST_MISSING] = N_ ("is missing"),
  [SW_DIGEST_UNREADABLE] = N_ ("cannot be read"),
};

static gboolean
look_photo (Check *check, const SwUse *row, GError **error)
{
  g_autofree char *file = sw_col_text (row, 1), *stored = sw_col_text (row, 2);
  g_autofree char *hash = sw_col_text (row, 4);
  g_autofree char *path = sw_catalogue_path (check->catalogue, stored);
  SwDigestVerdict verdict = SW_DIGEST_OTHER;
  if (!sw_digest_verify (path, sw_col_int (row, 3), hash, check->cancellable, &verdict, error))
    return FALSE;
  if (verdict != SW_DIGEST_SAME)
    sw_check_fault (check->report, _ ("Photo %" PRId64 " (%s): its file %s %s."),
                    sw_col_int (row, 0), file, stored, _ (verdict_words[verdict]));
  check->report->photos++;
  g_hash_table_add (check->stored, g_steal_pointer (&stored));
  return TRUE;
}

static gboolean
look_bring_in (Check *check, const SwUse *row, GError **error)
{
  g_autofree char *source = sw_col_text (row, 0);
  check->bring_in_open = TRUE;
  sw_check_remark (
      check->report,
      _ ("A bring-in from %s is not finished: bring the folder in again to complete it."), source);
  return TRUE;
}

static void
tell_extra (Check *check, const char *relative, const char *what)
{
  if (check->bring_in_open)
    sw_check_remark (check->report, _ ("%s %s is left from the bring-in that is not finished."),
                     what, relative);
  else
    sw_check_fault (check->report, _ ("%s %s belongs to nothing in the catalogue."), what,
                    relative);
}

/* Files in photos/ that no row names. Links are not followed: they are extra themselves. */
static void
walk_photos (Check *check, const char *relative)
{
  g_autofree char *path = sw_catalogue_path (check->catalogue, relative);
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name = NULL;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *inner = g_build_filename (relative, name, NULL);
      g_autofree char *full = sw_catalogue_path (check->catalogue, inner);
      if (g_file_test (full, G_FILE_TEST_IS_DIR) && !g_file_test (full, G_FILE_TEST_IS_SYMLINK))
        walk_photos (check, inner);
      else if (!g_hash_table_contains (check->stored, inner))
        tell_extra (check, inner, _ ("The file"));
    }
}

static void
look_backups (Check *check)
{
  g_autofree char *path = sw_catalogue_path (check->catalogue, SW_BACKUPS_NAME);
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name = NULL;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *inner = g_build_filename (SW_BACKUPS_NAME, name, NULL);
      if (g_str_has_suffix (name, SW_PART_SUFFIX))
        tell_extra (check, inner, _ ("The half-written safety copy"));
    }
}

static gboolean
look_item (Check *check, const SwUse *row, GError **error)
{
  SwState state = SW_N_STATES;
  g_autofree char *name = sw_col_text (row, 1), *key = sw_col_text (row, 2);
  gint64 number = sw_col_int (row, 0);
  if (!sw_state_from_key (key, &state))
    sw_check_fault (check->report, _ ("Item %" PRId64 " (%s) has an unknown state '%s'."), number,
                    name, key);
  else if (state == SW_STATE_ON_HOLD && sw_col_int (row, 3) != 0)
    /* a hold that was told may leave the person out, never the day */
    sw_check_fault (check->report, _ ("Item %" PRId64 " (%s) is on hold without a day until when."),
                    number, name);
  check->report->items++;
  return TRUE;
}

static gboolean
look_place (Check *check, const SwUse *row, GError **error)
{
  g_autofree char *path = sw_col_text (row, 0);
  sw_check_fault (check->report, _ ("The place '%s' is not where its path says."), path);
  return TRUE;
}

static gboolean
look_undone (Check *check, const SwUse *row, GError **error)
{
  g_autofree char *sentence = sw_col_text (row, 1);
  sw_check_fault (check->report, _ ("The history is damaged: act %" PRId64 " (%s)."),
                  sw_col_int (row, 0), sentence);
  return TRUE;
}

static gboolean
look_changeset (Check *check, const SwUse *row, GError **error)
{
  g_autoptr (GBytes) bytes = sw_col_blob (row, 1);
  g_autofree char *sentence = sw_col_text (row, 2);
  if (!sw_changeset_is_sound (bytes))
    sw_check_fault (check->report,
                    _ ("What act %" PRId64 " (%s) changed cannot be read: it cannot be taken "
                       "back."),
                    sw_col_int (row, 0), sentence);
  return TRUE;
}

/* In this order: an open bring-in is known before its files are met, and the rows before files
 * without one. */
static const struct
{
  SwStatementId id;
  RowFunc look;
} looks[] = {
  { SW_STMT_CHECK_INTEGRITY, look_integrity }, { SW_STMT_CHECK_LINKS, look_link },
  { SW_STMT_CHECK_BRING_INS, look_bring_in },  { SW_STMT_CHECK_PHOTOS, look_photo },
  { SW_STMT_CHECK_ITEMS, look_item },          { SW_STMT_CHECK_PLACES, look_place },
  { SW_STMT_CHECK_UNDONE, look_undone },       { SW_STMT_CHECK_CHANGESETS, look_changeset },
};

static gboolean
run_all (Check *check, GError **error)
{
  for (gsize i = 0; i < G_N_ELEMENTS (looks); i++)
    if (!for_each_row (check, looks[i].id, looks[i].look, error))
      return FALSE;
  walk_photos (check, SW_PHOTOS_NAME);
  look_backups (check);
  for (gsize i = 0; i < REGISTERED_AT_MOST && registered[i].name != NULL; i++)
    if (!registered[i].check (check->catalogue, check->cancellable, check->report, error))
      return FALSE;
  return TRUE;
}

gboolean
sw_check_run (SwCatalogue *catalogue, GCancellable *cancellable, SwCheckReport *out_report,
              GError **error)
{
  g_auto (SwCheckReport) report = { 0 };
  g_autoptr (GHashTable) stored = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GError) inner = NULL;
  report.faults = g_ptr_array_new_with_free_func (g_free);
  report.remarks = g_ptr_array_new_with_free_func (g_free);
  Check check = { catalogue, cancellable, &report, stored, FALSE };
  /* a database too damaged to be read to the end is a finding, not a failure to look */
  if (!run_all (&check, &inner))
    {
      if (!g_error_matches (inner, SW_ERROR, SW_ERROR_DAMAGED))
        {
          g_propagate_error (error, g_steal_pointer (&inner));
          return FALSE;
        }
      g_ptr_array_add (report.faults, g_strdup (inner->message));
    }
  *out_report = report;
  report = (SwCheckReport){ 0 };
  return TRUE;
}
