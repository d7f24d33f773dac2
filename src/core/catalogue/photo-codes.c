/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Codes found on photos: rows in, rows out. Must not read pixels, nor ask what a code means. */
#include "core/catalogue/photo-codes.h"

#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"

#include <string.h>

void
sw_photo_code_free (SwPhotoCode *code)
{
  if (code == NULL)
    return;
  g_free (code->text);
  g_free (code);
}

/* Harmless to print and never long. Cutting cannot make one of ours: those are shorter, and plain.
 */
static char *
kept_text (const char *text)
{
  char *kept = sw_text_printable (text, (gssize)strnlen (text, SW_PHOTO_CODE_MAX));

  if (strlen (kept) > SW_PHOTO_CODE_MAX)
    {
      char *end = g_utf8_find_prev_char (kept, kept + SW_PHOTO_CODE_MAX + 1);
      *end = '\0';
    }
  return kept;
}

gboolean
sw_photo_codes_put (SwCatalogue *catalogue, gint64 photo, int reader, const GPtrArray *codes,
                    GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;

  if (!sw_act_begin_plain (&act, catalogue, error)
      || !sw_db_run (catalogue, error, SW_STMT_CODE_CLEAR, "i", photo))
    return FALSE;
  for (guint i = 0; i < codes->len; i++)
    {
      const SwPhotoCode *code = g_ptr_array_index (codes, i);
      g_autofree char *text = kept_text (code->text);

      if (!sw_db_run (catalogue, error, SW_STMT_CODE_PUT, "iti", photo, text,
                      (gint64)CLAMP (code->share, 0, 1000)))
        return FALSE;
    }
  return sw_db_run (catalogue, error, SW_STMT_CODE_READ_PUT, "ii", photo, (gint64)reader)
         && sw_act_commit (&act, NULL, error);
}

GArray *
sw_photo_codes_read (SwCatalogue *catalogue, int reader, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_CODE_READ_LIST, "i", (gint64)reader);

  return sw_db_collect_ids (catalogue, &use, error);
}

static SwPhotoCode *
code_from_row (const SwUse *use)
{
  SwPhotoCode *code = g_new0 (SwPhotoCode, 1);

  code->photo = sw_col_int (use, 0);
  code->text = sw_col_text (use, 1);
  code->share = (int)sw_col_int (use, 2);
  return code;
}

GPtrArray *
sw_photo_code_list (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_CODE_LIST, "i", trip);

  return sw_db_collect (catalogue, &use, (SwRowFunc)code_from_row,
                        (GDestroyNotify)sw_photo_code_free, error);
}
