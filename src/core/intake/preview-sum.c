/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a look found, added up: counts by kind, days, stays, cameras, room. Reads no file but for
 * the free space of the catalogue's disk. */
#include <string.h>
#include <sys/statvfs.h>

#include "core/intake/bring-in-private.h"
#include "core/base/language.h"
#include "core/intake/preview-private.h"

/* One day without a photo between two does not end a stay. */
#define STAY_GAP_DAYS 2

static void
camera_free (gpointer data)
{
  g_free (((SwPreviewCamera *)data)->label);
  g_free (data);
}

SwPreview *
sw_preview_new (void)
{
  SwPreview *preview = g_new0 (SwPreview, 1);

  preview->is_exact = TRUE;
  preview->refused = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_bring_in_remark_free);
  preview->passed_over = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_bring_in_remark_free);
  preview->look_alikes = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_bring_in_pair_free);
  preview->days = g_array_new (FALSE, FALSE, sizeof (SwPreviewDay));
  preview->cameras = g_ptr_array_new_with_free_func (camera_free);
  return preview;
}

void
sw_preview_free (SwPreview *preview)
{
  if (preview == NULL)
    return;
  g_ptr_array_unref (preview->refused);
  g_ptr_array_unref (preview->passed_over);
  g_ptr_array_unref (preview->look_alikes);
  g_array_unref (preview->days);
  g_ptr_array_unref (preview->cameras);
  g_free (preview);
}

/* --- days --- */

static void
count_day (GHashTable *days, const SwPreviewEntry *entry)
{
  SwPreviewDay *day = g_hash_table_lookup (days, GINT_TO_POINTER (entry->day.n));

  if (day == NULL)
    {
      day = g_new0 (SwPreviewDay, 1);
      day->day = entry->day;
      g_hash_table_insert (days, GINT_TO_POINTER (entry->day.n), day);
    }
  day->photos++;
  day->weak += entry->meta.time_source == SW_TIME_FILE;
}

static int
by_day (gconstpointer a, gconstpointer b)
{
  return ((const SwPreviewDay *)a)->day.n - ((const SwPreviewDay *)b)->day.n;
}

static void
take_days (SwPreview *preview, GHashTable *days)
{
  GHashTableIter iter;
  gpointer day;

  g_hash_table_iter_init (&iter, days);
  while (g_hash_table_iter_next (&iter, NULL, &day))
    g_array_append_vals (preview->days, day, 1);
  g_array_sort (preview->days, by_day);
}

/* --- cameras --- */

/* The name that the catalogue has for it, where it is known. Transfer full. */
static char *
label_of (const SwPreviewBase *base, const SwPhotoMeta *meta)
{
  gint64 number = sw_preview_camera (base, meta);

  for (guint i = 0; number != 0 && i < base->cameras->len; i++)
    {
      const SwCamera *camera = base->cameras->pdata[i];

      if (camera->id == number)
        return g_strdup (camera->label);
    }
  return sw_camera_plain_label (meta->make, meta->model);
}

static void
count_camera (GHashTable *cameras, const SwPreviewBase *base, const SwPreviewEntry *entry)
{
  g_autofree char *key = g_strjoin ("\n", entry->meta.make != NULL ? entry->meta.make : "",
                                    entry->meta.model != NULL ? entry->meta.model : "",
                                    entry->meta.serial != NULL ? entry->meta.serial : "", NULL);
  SwPreviewCamera *camera = g_hash_table_lookup (cameras, key);

  if (camera == NULL)
    {
      camera = g_new0 (SwPreviewCamera, 1);
      camera->label = label_of (base, &entry->meta);
      camera->first = camera->last = entry->day;
      g_hash_table_insert (cameras, g_steal_pointer (&key), camera);
    }
  camera->photos++;
  camera->first.n = MIN (camera->first.n, entry->day.n);
  camera->last.n = MAX (camera->last.n, entry->day.n);
}

static int
by_photos (gconstpointer a, gconstpointer b)
{
  const SwPreviewCamera *x = *(SwPreviewCamera *const *)a, *y = *(SwPreviewCamera *const *)b;

  if (x->photos != y->photos)
    return x->photos > y->photos ? -1 : 1;
  return strcmp (x->label, y->label);
}

static void
take_cameras (SwPreview *preview, GHashTable *cameras)
{
  GHashTableIter iter;
  gpointer camera;

  g_hash_table_iter_init (&iter, cameras);
  while (g_hash_table_iter_next (&iter, NULL, &camera))
    g_ptr_array_add (preview->cameras, camera);
  g_ptr_array_sort (preview->cameras, by_photos);
}

/* --- all --- */

static void
count_kind (SwPreview *preview, SwFileKind kind)
{
  if (sw_file_kind_is_photo (kind))
    preview->photos++;
  else if (kind == SW_FILE_RAW)
    preview->raws++;
  else if (kind == SW_FILE_CLIP)
    preview->clips++;
  else
    preview->memos++;
}

static void
count_taken (SwPreview *preview, GHashTable *days, const SwPreviewEntry *entry)
{
  preview->to_take++;
  if (entry->fate == SW_PREVIEW_NEW)
    preview->bytes_needed += entry->source->size;
  if (!sw_file_kind_is_photo (entry->source->kind))
    return;
  preview->photos_to_take++;
  preview->weak += entry->meta.time_source == SW_TIME_FILE;
  count_day (days, entry);
}

static void
count_entry (SwPreviewRun *run, GHashTable *days, GHashTable *cameras, const SwPreviewEntry *entry)
{
  SwPreview *preview = run->preview;

  if (entry->fate == SW_PREVIEW_UNREADABLE)
    {
      g_ptr_array_add (preview->refused,
                       sw_bring_in_remark_new (entry->source->file, _ ("It could not be read.")));
      return;
    }
  count_kind (preview, entry->source->kind);
  if (sw_file_kind_is_photo (entry->source->kind))
    count_camera (cameras, run->base, entry);
  if (entry->fate == SW_PREVIEW_THERE)
    preview->there++;
  else if (entry->fate == SW_PREVIEW_TWICE)
    preview->twice++;
  else
    count_taken (preview, days, entry);
}

static void
measure_room (SwPreviewRun *run)
{
  SwPreview *preview = run->preview;
  struct statvfs is;

  preview->free_is_known = statvfs (run->base->folder, &is) == 0 && is.f_blocks != 0;
  if (preview->free_is_known)
    preview->bytes_free = (guint64)is.f_bavail * is.f_frsize;
  preview->fits = !preview->free_is_known || preview->to_take == 0
                  || preview->bytes_free >= preview->bytes_needed + SW_BRING_IN_RESERVE;
}

static void
copy_remarks (GPtrArray *to, const GPtrArray *from)
{
  for (guint i = 0; i < from->len; i++)
    {
      const SwScanRemark *r = from->pdata[i];

      g_ptr_array_add (to, sw_bring_in_remark_new (r->file, r->remark));
    }
}

void
sw_preview_sum (SwPreviewRun *run)
{
  g_autoptr (GHashTable) days = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  g_autoptr (GHashTable) cameras = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  copy_remarks (run->preview->refused, run->scan->refused);
  copy_remarks (run->preview->passed_over, run->scan->remarked);
  run->preview->others = run->scan->not_photos->len;
  for (guint i = 0; i < run->n; i++)
    count_entry (run, days, cameras, &run->entries[i]);
  take_days (run->preview, days);
  take_cameras (run->preview, cameras);
  measure_room (run);
}

/* --- stays --- */

static gint64
trip_of (const GPtrArray *trips, SwDay day)
{
  for (guint i = 0; i < trips->len; i++)
    {
      const SwTrip *trip = trips->pdata[i];

      if (day.n >= trip->first.n && day.n <= trip->last.n)
        return trip->id;
    }
  return 0;
}

static gboolean
is_free_between (const GPtrArray *trips, SwDay first, SwDay last)
{
  for (guint i = 0; i < trips->len; i++)
    {
      const SwTrip *trip = trips->pdata[i];

      if (trip->first.n <= last.n && trip->last.n >= first.n)
        return FALSE;
    }
  return TRUE;
}

static gboolean
goes_on (const SwPreviewStay *stay, gint64 trip, SwDay day, const GPtrArray *trips)
{
  if (stay->trip != trip)
    return FALSE;
  return trip != 0
         || (day.n - stay->last.n <= STAY_GAP_DAYS && is_free_between (trips, stay->last, day));
}

GArray *
sw_preview_stays (const GArray *days, const GPtrArray *trips)
{
  GArray *stays = g_array_new (FALSE, FALSE, sizeof (SwPreviewStay));

  for (guint i = 0; i < days->len; i++)
    {
      const SwPreviewDay *day = &g_array_index (days, SwPreviewDay, i);
      gint64 trip = trip_of (trips, day->day);
      SwPreviewStay *last
          = stays->len > 0 ? &g_array_index (stays, SwPreviewStay, stays->len - 1) : NULL;
      SwPreviewStay stay = { trip, day->day, day->day, day->photos };

      if (trip == 0 && day->weak == day->photos)
        continue;
      if (last == NULL || !goes_on (last, trip, day->day, trips))
        {
          g_array_append_val (stays, stay);
          continue;
        }
      last->last = day->day;
      last->photos += day->photos;
    }
  return stays;
}
