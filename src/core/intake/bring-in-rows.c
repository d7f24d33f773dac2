/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pieces of a bring-in that need the database. Each is short, so that a window stays at hand
 * meanwhile. */
#include "core/intake/bring-in-private.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/backup.h"
#include "core/catalogue/trips.h"

static void
known_from_arrival (SwRun *run, const SwArrival *arrival)
{
  SwKnown *known = g_new0 (SwKnown, 1);
  gint64 size = arrival->size;
  GPtrArray *same = g_hash_table_lookup (run->by_size, &size);

  known->base.id = arrival->id;
  known->base.stored = g_strdup (arrival->stored);
  known->base.hash = g_strdup (arrival->hash);
  known->trip = arrival->trip;
  known->bring_in = arrival->bring_in;
  known->aside = arrival->aside;
  known->remark = arrival->remark;
  g_ptr_array_add (run->known, known);
  g_hash_table_insert (run->by_hash, known->base.hash, known);
  if (same == NULL)
    {
      same = g_ptr_array_new ();
      g_hash_table_insert (run->by_size, g_memdup2 (&size, sizeof size), same);
    }
  g_ptr_array_add (same, known);
}

gboolean
sw_run_piece_prepare (SwCatalogue *catalogue, SwRun *run, GError **error)
{
  gint64 open = 0;

  run->catalogue = g_strdup (sw_catalogue_folder (catalogue));
  run->now = sw_catalogue_now (catalogue);
  if (run->options->trip != 0)
    {
      g_autoptr (SwTrip) trip = sw_trip_get (catalogue, run->options->trip, error);

      if (trip == NULL)
        return FALSE;
    }
  run->trips = sw_trip_list (catalogue, error);
  run->arrivals = run->trips != NULL ? sw_arrival_list (catalogue, error) : NULL;
  if (run->arrivals == NULL || !sw_arrival_open_bring_in (catalogue, &open, error))
    return FALSE;
  for (guint i = 0; i < run->arrivals->len; i++)
    known_from_arrival (run, run->arrivals->pdata[i]);
  run->bring_in = open;
  run->resumed = open != 0;
  return TRUE;
}

/* A run that was cut short is gone on with under its own number, so that in the end it is one
 * bring-in. It is entered before the safety copy is made: a half copy is then known for what it is.
 */
gboolean
sw_run_piece_open (SwCatalogue *catalogue, SwRun *run, GError **error)
{
  g_autofree char *source = g_strjoinv (", ", (char **)run->folders);

  if (run->bring_in == 0 && !sw_bring_in_open (catalogue, source, &run->bring_in, error))
    return FALSE;
  if (!sw_backup_database (catalogue, "bring-in", error))
    {
      if (!run->resumed)
        sw_bring_in_close (catalogue, run->bring_in, NULL);
      return FALSE;
    }
  run->report->bring_in = run->bring_in;
  return TRUE;
}

/* --- times and trips --- */

static const SwTrip *
trip_of_day (const SwRun *run, SwDay day)
{
  for (guint i = 0; i < run->trips->len; i++)
    {
      const SwTrip *trip = run->trips->pdata[i];

      if (day.n >= trip->first.n && day.n <= trip->last.n)
        return trip;
    }
  return NULL;
}

static void
note_fold_or_gap (SwPhotoMeta *meta, SwCivilKind kind)
{
  if (kind == SW_CIVIL_FOLD)
    g_ptr_array_add (
        meta->remarks,
        g_strdup (_ ("Its time happened twice as the clocks went back; the first is taken.")));
  else if (kind == SW_CIVIL_GAP)
    g_ptr_array_add (
        meta->remarks,
        g_strdup (_ (
            "Its time never was, for the clocks went forward; it is taken as that much later.")));
}

static SwInstant
instant_of (SwPhotoMeta *meta, const SwZone *zone)
{
  SwCivilKind kind;
  SwInstant instant = sw_photo_meta_instant (meta, zone, &kind);

  note_fold_or_gap (meta, kind);
  return instant;
}

/* The trip that the person named, else the one whose days hold the entry's. Returns a remark where
 * the two differ, else NULL. Transfer full. */
static char *
settle_trip (const SwRun *run, SwEntry *entry, SwDay day)
{
  const SwTrip *trip = trip_of_day (run, day);
  g_autofree char *text = NULL;

  entry->day = day;
  entry->has_day = TRUE;
  entry->trip = run->options->trip != 0 ? run->options->trip : trip != NULL ? trip->id : 0;
  if (run->options->trip == 0 || (trip != NULL && trip->id == run->options->trip))
    return NULL;
  text = sw_day_to_person (day);
  return g_strdup_printf (_ ("It was taken on %s, outside the days of trip %" PRId64 "."), text,
                          run->options->trip);
}

static void
settle_photo (SwRun *run, SwEntry *entry, const SwZone *zone)
{
  SwPhotoMeta *meta = &entry->job.meta;
  const SwScanFile *source = entry->job.source;
  char *outside;

  sw_photo_meta_settle_time (meta, source->file, (SwInstant){ source->mtime_us }, zone, run->now);
  outside = settle_trip (run, entry, sw_day_of_instant (instant_of (meta, zone), zone));
  if (outside != NULL)
    g_ptr_array_add (meta->remarks, outside);
}

/* One put aside comes back as if new: to the trip of this bring-in, not to that of the one undone.
 */
static gboolean
settle_aside (SwCatalogue *catalogue, SwRun *run, SwEntry *entry, GError **error)
{
  g_autoptr (GArray) clocks = sw_camera_clock_list (catalogue, error);
  g_autoptr (SwPhoto) photo
      = clocks != NULL ? sw_photo_get (catalogue, entry->known->base.id, error) : NULL;
  SwInstant instant;

  if (photo == NULL)
    return FALSE;
  entry->trip = run->options->trip;
  if (sw_photo_property_time (catalogue, clocks, photo, &instant, NULL))
    {
      SwDay day = sw_day_of_instant (instant, sw_catalogue_zone (catalogue));

      g_free (entry->outside);
      entry->outside = settle_trip (run, entry, day);
    }
  return TRUE;
}

/* Its rows and its file are there, and no bring-in that stands has brought it. */
static gboolean
comes_back (const SwEntry *entry)
{
  return entry->fate != SW_ENTRY_NEW && entry->fate != SW_ENTRY_NONE && entry->known->aside;
}

/* A companion goes with its photo. */
static void
follow_photo (SwRun *run, SwEntry *companion)
{
  for (guint i = run->first; i < run->end; i++)
    {
      const SwEntry *photo = &run->entries[i];

      if (sw_file_kind_is_photo (photo->job.source->kind) && photo->fate != SW_ENTRY_NONE
          && strcmp (photo->stem, companion->stem) == 0)
        {
          gboolean settled = photo->fate == SW_ENTRY_NEW || comes_back (photo);

          companion->trip = settled ? photo->trip : photo->known->trip;
          return;
        }
    }
}

gboolean
sw_run_piece_settle (SwCatalogue *catalogue, SwRun *run, GError **error)
{
  const SwZone *zone = sw_catalogue_zone (catalogue);

  for (guint i = run->first; i < run->end; i++)
    {
      SwEntry *entry = &run->entries[i];

      if (entry->fate == SW_ENTRY_NEW)
        settle_photo (run, entry, zone);
      else if (comes_back (entry) && !settle_aside (catalogue, run, entry, error))
        return FALSE;
    }
  for (guint i = run->first; i < run->end; i++)
    {
      SwEntry *entry = &run->entries[i];

      if (entry->fate != SW_ENTRY_NEW && !comes_back (entry))
        continue;
      if (!sw_file_kind_is_photo (entry->job.source->kind))
        follow_photo (run, entry);
      entry->known->trip = entry->trip;
    }
  return TRUE;
}

/* --- rows --- */

static const char *
row_kind (SwFileKind kind)
{
  return sw_file_kind_is_photo (kind) ? "photo" : sw_file_kind_word (kind);
}

static char *
row_format (const SwEntry *entry)
{
  const char *dot = strrchr (entry->stored, '.');

  if (sw_file_kind_is_photo (entry->job.source->kind))
    return g_strdup (sw_file_kind_word (entry->job.source->kind));
  return g_strdup (dot != NULL ? dot + 1 : sw_file_kind_word (entry->job.source->kind));
}

static char *
joined_remarks (const SwPhotoMeta *meta)
{
  GString *all = g_string_new (NULL);

  for (guint i = 0; i < meta->remarks->len; i++)
    g_string_append_printf (all, "%s%s", i > 0 ? " " : "", (char *)meta->remarks->pdata[i]);
  return g_string_free (all, FALSE);
}

static SwPhoto *
row_of (const SwRun *run, const SwEntry *entry)
{
  const SwPhotoMeta *meta = &entry->job.meta;
  SwPhoto *photo = g_new0 (SwPhoto, 1);

  photo->kind = g_strdup (row_kind (entry->job.source->kind));
  photo->format = row_format (entry);
  photo->file = g_strdup (entry->job.source->file);
  photo->stored = g_strdup (entry->stored);
  photo->size = (gint64)entry->job.size;
  photo->hash = g_strdup (entry->hash);
  photo->trip = entry->trip;
  photo->bring_in = run->bring_in;
  photo->has_clock = meta->has_clock;
  photo->clock_us = sw_civil_to_us (meta->clock);
  photo->has_offset = meta->has_offset;
  photo->zone_offset_s = meta->offset_s;
  photo->time_source = g_strdup (sw_time_source_word (meta->time_source));
  photo->has_position = meta->has_position;
  photo->latitude = meta->latitude;
  photo->longitude = meta->longitude;
  photo->position_error_m = meta->has_position_error ? meta->position_error_m : 0;
  photo->has_gps_time = meta->has_gps_time;
  photo->gps_us = meta->gps_time.us;
  photo->orientation = meta->orientation;
  photo->width = (int)MIN (meta->width, G_MAXINT);
  photo->height = (int)MIN (meta->height, G_MAXINT);
  photo->remark = joined_remarks (meta);
  return photo;
}

static gboolean
add_row (SwCatalogue *catalogue, SwRun *run, SwEntry *entry, GError **error)
{
  const SwPhotoMeta *meta = &entry->job.meta;
  g_autoptr (SwPhoto) photo = row_of (run, entry);

  if ((meta->make != NULL || meta->model != NULL)
      && !sw_camera_ensure (catalogue, meta->make != NULL ? meta->make : "",
                            meta->model != NULL ? meta->model : "",
                            meta->serial != NULL ? meta->serial : "", &photo->camera, error))
    return FALSE;
  if (!sw_photo_add (catalogue, photo, error))
    return FALSE;
  entry->id = photo->id;
  return TRUE;
}

/* One that is there: another path, back from aside, and a trip if it had none. */
static gboolean
touch_row (SwCatalogue *catalogue, SwRun *run, SwEntry *entry, GError **error)
{
  SwKnown *known = entry->known;

  entry->id = known->base.id;
  if (entry->id == 0)
    return TRUE; /* its first was not taken after all */
  if (!sw_photo_add_path (catalogue, entry->id, entry->job.source->file, error))
    return FALSE;
  if (known->aside
      && (!sw_arrival_take_back (catalogue, entry->id, run->bring_in, error)
          || !sw_photo_set_trip (catalogue, entry->id, known->trip, error)))
    return FALSE;
  if (run->options->trip != 0 && known->trip == 0)
    {
      if (!sw_photo_set_trip (catalogue, entry->id, run->options->trip, error))
        return FALSE;
      known->trip = run->options->trip;
    }
  return TRUE;
}

/* After the commit: what the batch brought about is counted and told. */
static void
tell_batch (SwRun *run)
{
  for (guint i = run->first; i < run->end; i++)
    {
      SwEntry *entry = &run->entries[i];

      if (entry->fate == SW_ENTRY_NONE)
        continue;
      if (entry->fate == SW_ENTRY_NEW)
        entry->known->base.id = entry->id;
      if (entry->outside != NULL && entry->known->aside)
        sw_run_remark (run, entry->job.source->file, entry->outside);
      for (guint r = 0; entry->fate == SW_ENTRY_NEW && r < entry->job.meta.remarks->len; r++)
        sw_run_remark (run, entry->job.source->file, entry->job.meta.remarks->pdata[r]);
      if (entry->fate != SW_ENTRY_NEW && run->options->trip != 0 && entry->known->trip != 0
          && entry->known->trip != run->options->trip)
        {
          g_autofree char *text = g_strdup_printf (
              _ ("It is in the catalogue already, with trip %" PRId64 "."), entry->known->trip);

          sw_run_remark (run, entry->job.source->file, text);
        }
      sw_run_count (run, entry);
      if (entry->known->aside)
        {
          entry->known->aside = FALSE;
          entry->known->bring_in = run->bring_in;
        }
    }
}

gboolean
sw_run_piece_rows (SwCatalogue *catalogue, SwRun *run, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;

  if (!sw_act_begin_plain (&act, catalogue, error))
    return FALSE;
  for (guint i = run->first; i < run->end; i++)
    {
      SwEntry *entry = &run->entries[i];
      gboolean good = TRUE;

      if (entry->fate == SW_ENTRY_NEW)
        {
          good = add_row (catalogue, run, entry, error);
          entry->known->base.id = entry->id;
        }
      else if (entry->fate != SW_ENTRY_NONE)
        good = touch_row (catalogue, run, entry, error);
      if (!good)
        return FALSE;
    }
  if (!sw_act_commit (&act, NULL, error))
    return FALSE;
  tell_batch (run);
  return TRUE;
}

gboolean
sw_run_piece_list (SwCatalogue *catalogue, SwRun *run, GError **error)
{
  run->shown = sw_photo_list (catalogue, 0, FALSE, error);
  return run->shown != NULL;
}

/* --- the end --- */

/* Two that were both there before are left as the person may have put them meanwhile; where a full
 * disk or a stop came between them, one of them is new now. */
static gboolean
came_now (const SwRun *run, const SwEntry *entry, const SwEntry *photo)
{
  return entry->known->bring_in == run->bring_in || photo->known->bring_in == run->bring_in;
}

static gboolean
link_companions (SwCatalogue *catalogue, SwRun *run, GError **error)
{
  g_autoptr (GHashTable) photos = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = run->n; i-- > 0;)
    if (run->entries[i].id != 0 && sw_file_kind_is_photo (run->entries[i].job.source->kind))
      g_hash_table_insert (photos, run->entries[i].stem, &run->entries[i]);
  for (guint i = 0; i < run->n; i++)
    {
      SwEntry *entry = &run->entries[i];
      SwEntry *photo = entry->id != 0 && sw_file_kind_is_companion (entry->job.source->kind)
                           ? g_hash_table_lookup (photos, entry->stem)
                           : NULL;

      if (photo != NULL && came_now (run, entry, photo)
          && !sw_photo_set_companion (catalogue, entry->id, photo->id, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
keep_look_alikes (SwCatalogue *catalogue, SwRun *run, GError **error)
{
  for (guint i = 0; i < run->pairs->len; i++)
    {
      const SwLookAlike *pair = &g_array_index (run->pairs, SwLookAlike, i);

      if (!sw_look_alike_add (catalogue, pair->a, pair->b, error))
        return FALSE;
    }
  return TRUE;
}

static char *
closing_sentence (const SwRun *run)
{
  const SwBringInReport *r = run->report;
  gint64 n = r->taken > 0 ? r->taken : r->companions;
  gint64 trip = run->options->trip;

  if (trip != 0 && r->taken > 0)
    return sw_text_counted (n, "%" PRId64 " photo of trip %" PRId64 " brought in",
                            "%" PRId64 " photos of trip %" PRId64 " brought in", n, trip);
  if (trip != 0)
    return sw_text_counted (n, "%" PRId64 " file of trip %" PRId64 " brought in",
                            "%" PRId64 " files of trip %" PRId64 " brought in", n, trip);
  if (r->taken > 0)
    return sw_text_counted (n, "%" PRId64 " photo brought in", "%" PRId64 " photos brought in", n);
  return sw_text_counted (n, "%" PRId64 " file brought in", "%" PRId64 " files brought in", n);
}

gboolean
sw_run_piece_close (SwCatalogue *catalogue, SwRun *run, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *sentence = closing_sentence (run);

  if (run->report->taken + run->report->companions == 0)
    return sw_bring_in_close (catalogue, run->bring_in, error);
  return sw_act_begin (&act, catalogue, error) && link_companions (catalogue, run, error)
         && keep_look_alikes (catalogue, run, error)
         && sw_bring_in_close (catalogue, run->bring_in, error)
         && sw_act_tell (&act, SW_SUBJECT_BRING_IN, run->bring_in, "bring-in", NULL, sentence,
                         error)
         && sw_act_commit_bring_in (&act, run->bring_in, sentence, error);
}
