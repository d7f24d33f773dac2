/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Measures of photos: rows in, rows out, and what they amount to. Looks at no pixel. */
#include "core/catalogue/photo-quality.h"
#include "core/base/language.h"

#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/items.h"

/* Below this the finest detail is some three pixels wide at the measuring size: it shows as soon as
 * the photo fills a window. */
#define FOCUS_OF_BLUR 0.012
#define MEAN_OF_DARK 34
#define SHARE_OF_DARK 600
#define MEAN_OF_BRIGHT 232
#define SHARE_OF_BRIGHT 600
#define SHARE_OF_COVERED 120

#define AS_WORD(tag, word, icon) [SW_PHOTO_MARK_INDEX_##tag] = word,
#define AS_ICON(tag, word, icon) [SW_PHOTO_MARK_INDEX_##tag] = icon,
static const char *const words[SW_N_PHOTO_MARKS] = { SW_PHOTO_MARKS (AS_WORD) };
static const char *const icons[SW_N_PHOTO_MARKS] = { SW_PHOTO_MARKS (AS_ICON) };

guint
sw_photo_marks_of (const SwPhotoQuality *quality)
{
  guint marks = 0;

  if (quality->covered >= SHARE_OF_COVERED)
    marks |= SW_PHOTO_MARK_COVERED;
  if (quality->mean <= MEAN_OF_DARK || quality->dark >= SHARE_OF_DARK)
    marks |= SW_PHOTO_MARK_DARK;
  else if (quality->mean >= MEAN_OF_BRIGHT || quality->bright >= SHARE_OF_BRIGHT)
    marks |= SW_PHOTO_MARK_BRIGHT;
  if (quality->focus < FOCUS_OF_BLUR)
    marks |= SW_PHOTO_MARK_BLURRED;
  return marks;
}

static int
gravest (guint marks)
{
  static const int order[] = { SW_PHOTO_MARK_INDEX_COVERED, SW_PHOTO_MARK_INDEX_BLURRED,
                               SW_PHOTO_MARK_INDEX_DARK, SW_PHOTO_MARK_INDEX_BRIGHT };

  for (gsize i = 0; i < G_N_ELEMENTS (order); i++)
    if (marks & 1u << order[i])
      return order[i];
  return -1;
}

const char *
sw_photo_mark_word (guint marks)
{
  int index = gravest (marks);
  return index >= 0 ? words[index] : NULL;
}

const char *
sw_photo_mark_icon (guint marks)
{
  int index = gravest (marks);
  return index >= 0 ? icons[index] : NULL;
}

/* --- rows --- */

gboolean
sw_photo_quality_put (SwCatalogue *catalogue, const SwPhotoQuality *quality, int measure,
                      GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;

  return sw_act_begin_plain (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_QUALITY_PUT, "iiddiiiii", quality->photo,
                       (gint64)measure, quality->sharpness, quality->focus, (gint64)quality->mean,
                       (gint64)quality->dark, (gint64)quality->bright, (gint64)quality->covered,
                       (gint64)sw_photo_marks_of (quality))
         && sw_act_commit (&act, NULL, error);
}

static SwPhotoQuality
quality_of_row (const SwUse *use)
{
  return (SwPhotoQuality){
    .photo = sw_col_int (use, 0),
    .sharpness = sw_col_double (use, 1),
    .focus = sw_col_double (use, 2),
    .mean = (int)sw_col_int (use, 3),
    .dark = (int)sw_col_int (use, 4),
    .bright = (int)sw_col_int (use, 5),
    .covered = (int)sw_col_int (use, 6),
    .marks = (guint)sw_col_int (use, 7),
  };
}

gboolean
sw_photo_quality_get (SwCatalogue *catalogue, gint64 photo, SwPhotoQuality *out_quality,
                      gboolean *out_found, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_QUALITY_GET, "i", photo);

  if (!sw_db_step (catalogue, &use, out_found, error))
    return FALSE;
  if (*out_found)
    *out_quality = quality_of_row (&use);
  return TRUE;
}

static void
fill_quality (const SwUse *use, gpointer out)
{
  *(SwPhotoQuality *)out = quality_of_row (use);
}

GArray *
sw_photo_quality_list (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_QUALITY_LIST, "i", trip);

  return sw_db_collect_plain (catalogue, &use, sizeof (SwPhotoQuality), fill_quality, error);
}

GArray *
sw_photo_quality_measured (SwCatalogue *catalogue, int measure, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_QUALITY_MEASURED, "i", (gint64)measure);

  return sw_db_collect_ids (catalogue, &use, error);
}

/* --- what a person says --- */

gboolean
sw_photo_turn (SwCatalogue *catalogue, gint64 photo, int quarters, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwPhoto) found = NULL;
  g_autofree char *sentence = NULL;
  int turn;

  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  found = sw_photo_get (catalogue, photo, error);
  if (found == NULL)
    return FALSE;
  turn = ((found->turn + quarters) % 4 + 4) % 4;
  if (!sw_db_run (catalogue, error, SW_STMT_PHOTO_SET_TURN, "ii", photo, (gint64)turn))
    return FALSE;
  if (sw_db_changes (catalogue) == 0)
    return TRUE;
  sentence = g_strdup_printf (_ ("Photo %" PRId64 " turned"), photo);
  return sw_act_tell (&act, SW_SUBJECT_PHOTO, photo, "photo.turn", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

gboolean
sw_item_cover_set (SwCatalogue *catalogue, gint64 item, gint64 photo, GError **error)
{
  const SwItemChange change = { .cover = &photo };

  return sw_item_change (catalogue, item, &change, error);
}
