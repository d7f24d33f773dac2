/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which photos show which item. What stands here was decided by a person (or accepted as sure):
 * proposals live elsewhere. */
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/items.h"
#include "core/catalogue/photos.h"

/* Items that show the photo: all of them, or those but 'item' for which it is more than a wide
 * view. */
static GArray *
owners_of (SwCatalogue *catalogue, gint64 photo, gboolean all, gint64 item, GError **error)
{
  if (all)
    {
      g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ITEM_PHOTO_OWNERS_ALL, "i", photo);
      return sw_db_collect_ids (catalogue, &use, error);
    }
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ITEM_PHOTO_OWNERS, "ii", photo, item);
  return sw_db_collect_ids (catalogue, &use, error);
}

/* Counts per item what it gains or loses, so that each gets one event whatever the number of
 * photos. */
static void
count_one (GHashTable *counts, gint64 item)
{
  gint64 *key = g_new (gint64, 1);
  *key = item;
  guint n = GPOINTER_TO_UINT (g_hash_table_lookup (counts, &item));
  g_hash_table_replace (counts, key, GUINT_TO_POINTER (n + 1));
}

static gboolean
take_from (SwCatalogue *catalogue, gint64 photo, gboolean all, gint64 item, GHashTable *lost,
           GError **error)
{
  g_autoptr (GArray) owners = owners_of (catalogue, photo, all, item, error);
  if (owners == NULL)
    return FALSE;
  for (guint i = 0; i < owners->len; i++)
    {
      gint64 owner = g_array_index (owners, gint64, i);
      if (!sw_db_run (catalogue, error, SW_STMT_ITEM_PHOTO_DROP, "ii", owner, photo)
          || !sw_db_run (catalogue, error, SW_STMT_ITEM_COVER_DROP, "ii", owner, photo))
        return FALSE;
      count_one (lost, owner);
    }
  return TRUE;
}

static gboolean
check_photo (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_autoptr (SwPhoto) photo = sw_photo_get (catalogue, id, error);
  if (photo == NULL)
    return FALSE;
  if (!photo->aside)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("Photo %" PRId64 " is set aside; bring it in again before it is assigned."), id);
  return FALSE;
}

/* *changed counts photos for which something is different now. */
static gboolean
give_to_item (SwCatalogue *catalogue, gint64 item, gint64 photo, gboolean also, GHashTable *lost,
              guint *changed, GError **error)
{
  if (!also && !take_from (catalogue, photo, FALSE, item, lost, error))
    return FALSE;
  if (!sw_db_run (catalogue, error, SW_STMT_NO_ITEM_DROP, "i", photo)
      || !sw_db_run (catalogue, error, SW_STMT_ITEM_PHOTO_PUT, "iii", item, photo, (gint64)also))
    return FALSE;
  *changed += sw_db_changes (catalogue) > 0;
  return TRUE;
}

static gboolean
give_to_none (SwCatalogue *catalogue, gint64 photo, const char *kind, GHashTable *lost,
              guint *changed, GError **error)
{
  if (!take_from (catalogue, photo, TRUE, 0, lost, error)
      || !sw_db_run (catalogue, error, SW_STMT_NO_ITEM_PUT, "it", photo, kind))
    return FALSE;
  *changed += sw_db_changes (catalogue) > 0;
  return TRUE;
}

static gboolean
tell_losers (SwCatalogue *catalogue, SwAct *act, GHashTable *lost, GError **error)
{
  GHashTableIter iter;
  gpointer key = NULL, value = NULL;
  g_hash_table_iter_init (&iter, lost);
  while (g_hash_table_iter_next (&iter, &key, &value))
    {
      guint n = GPOINTER_TO_UINT (value);
      g_autofree char *sentence
          = sw_text_counted (n, "%u photo was taken from it", "%u photos were taken from it", n);
      if (!sw_act_tell (act, SW_SUBJECT_ITEM, *(gint64 *)key, "item.photos", NULL, sentence, error))
        return FALSE;
    }
  return TRUE;
}

static char *
photos_phrase (const gint64 *photos, gsize n)
{
  if (n == 1)
    return g_strdup_printf (_ ("Photo %" PRId64), photos[0]);
  return sw_text_counted ((gint64)n, "%zu photo", "%zu photos", n);
}

static gboolean
assign_all (SwCatalogue *catalogue, gint64 item, const char *kind, const gint64 *photos, gsize n,
            gboolean also, GHashTable *lost, guint *changed, GError **error)
{
  for (gsize i = 0; i < n; i++)
    {
      gboolean ok
          = check_photo (catalogue, photos[i], error)
            && (item == 0 ? give_to_none (catalogue, photos[i], kind, lost, changed, error)
                          : give_to_item (catalogue, item, photos[i], also, lost, changed, error));
      if (!ok)
        return FALSE;
    }
  return TRUE;
}

static gboolean
assign (SwCatalogue *catalogue, gint64 item, const char *kind, const gint64 *photos, gsize n,
        gboolean also, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwItem) target = item != 0 ? sw_item_get (catalogue, item, error) : NULL;
  if (item != 0 && target == NULL)
    return FALSE;
  g_autoptr (GHashTable) lost = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  guint changed = 0;
  if (!assign_all (catalogue, item, kind, photos, n, also, lost, &changed, error))
    return FALSE;
  if (changed == 0 && g_hash_table_size (lost) == 0)
    return TRUE;
  g_autofree char *phrase = photos_phrase (photos, n);
  g_autofree char *sentence
      = target != NULL
            ? g_strdup_printf (also ? _ ("%s also show %s") : _ ("%s to %s"), phrase, target->name)
            : g_strdup_printf (_ ("%s to no item"), phrase);
  return sw_act_tell (&act, item != 0 ? SW_SUBJECT_ITEM : SW_SUBJECT_PHOTO,
                      item != 0 ? item : photos[0], "item.photos", NULL, sentence, error)
         && tell_losers (catalogue, &act, lost, error) && sw_act_commit (&act, sentence, error);
}

gboolean
sw_item_assign (SwCatalogue *catalogue, gint64 item, const gint64 *photos, gsize n, gboolean also,
                GError **error)
{
  return assign (catalogue, item, "", photos, n, also, error);
}

gboolean
sw_item_assign_none (SwCatalogue *catalogue, const gint64 *photos, gsize n, const char *kind,
                     GError **error)
{
  static const char *const kinds[]
      = { "", N_ ("building"), N_ ("paper"), N_ ("receipt"), N_ ("mistake"), NULL };

  g_return_val_if_fail (kind == NULL || g_strv_contains (kinds, kind), FALSE);
  return assign (catalogue, 0, kind != NULL ? kind : "", photos, n, FALSE, error);
}

gboolean
sw_item_unassign (SwCatalogue *catalogue, const gint64 *photos, gsize n, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (GHashTable) lost = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  guint changed = 0;
  for (gsize i = 0; i < n; i++)
    {
      g_autoptr (SwPhoto) photo = sw_photo_get (catalogue, photos[i], error);
      if (photo == NULL || !take_from (catalogue, photos[i], TRUE, 0, lost, error)
          || !sw_db_run (catalogue, error, SW_STMT_NO_ITEM_DROP, "i", photos[i]))
        return FALSE;
      changed += sw_db_changes (catalogue) > 0;
    }
  if (changed == 0 && g_hash_table_size (lost) == 0)
    return TRUE;
  g_autofree char *phrase = photos_phrase (photos, n);
  g_autofree char *sentence = g_strdup_printf (_ ("%s open again"), phrase);
  return sw_act_tell (&act, SW_SUBJECT_PHOTO, photos[0], "photo.open", NULL, sentence, error)
         && tell_losers (catalogue, &act, lost, error) && sw_act_commit (&act, sentence, error);
}

GArray *
sw_item_photos (SwCatalogue *catalogue, gint64 item, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ITEM_PHOTOS, "i", item);
  return sw_db_collect_ids (catalogue, &use, error);
}

/* Where the photo stands among them, from 0; -1: nowhere. */
static int
index_of (const GArray *photos, gint64 photo)
{
  for (guint i = 0; i < photos->len; i++)
    if (g_array_index (photos, gint64, i) == photo)
      return (int)i;
  return -1;
}

static gboolean
refuse_move (SwItem *item, gint64 photo, gboolean is_its, GError **error)
{
  if (is_its)
    g_set_error_literal (
        error, SW_ERROR, SW_ERROR_REFUSED,
        _ ("Views of several things stay behind the photos of the item alone; move it among those"
           " of its kind."));
  else
    g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                 _ ("Photo %" PRId64 " is none of %s; give it to the item first."), photo,
                 item->name);
  return FALSE;
}

gboolean
sw_item_photo_move (SwCatalogue *catalogue, gint64 item, gint64 photo, gint64 to, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  gint64 n_own = 0;

  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwItem) row = sw_item_get (catalogue, item, error);
  g_autoptr (GArray) photos = row != NULL ? sw_item_photos (catalogue, item, error) : NULL;
  if (photos == NULL
      || !sw_db_get_int (catalogue, &n_own, NULL, error, SW_STMT_ITEM_PHOTOS_OWN, "i", item))
    return FALSE;
  int from = index_of (photos, photo);
  gint64 at = CLAMP (to, 1, (gint64)photos->len) - 1;
  if (from < 0 || (from < n_own) != (at < n_own))
    return refuse_move (row, photo, from >= 0, error);
  if (from == at)
    return TRUE;
  g_array_remove_index (photos, (guint)from);
  g_array_insert_val (photos, (guint)at, photo);
  for (guint i = 0; i < photos->len; i++)
    if (!sw_db_run (catalogue, error, SW_STMT_ITEM_PHOTO_AT, "iii", item,
                    g_array_index (photos, gint64, i), (gint64)i + 1))
      return FALSE;
  g_autofree char *sentence = g_strdup_printf (_ ("%s: photo %d is now photo %" PRId64 " of %u"),
                                               row->name, from + 1, at + 1, photos->len);
  return sw_act_tell (&act, SW_SUBJECT_ITEM, item, "item.photos", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}
