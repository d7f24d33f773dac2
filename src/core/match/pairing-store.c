/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A proposal as the records that are stored: new things named, figures rounded. Must not know SQL.
 */
#include "core/match/pairing-private.h"

#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/match/pairing.h"

#include <math.h>
#include <string.h>

/* --- names of new things --- */

/* Counts up the neutral names of each place, past those that are taken. */
typedef struct
{
  GHashTable *next; /* gint64 place -> number */
} Names;

int
sw_neutral_number (const char *name)
{
  gint64 number = 0;
  g_auto (GStrv) words = g_strsplit (name, " ", 3);

  if (g_strv_length (words) < 2 || strcmp (words[0], "thing") != 0
      || !g_ascii_string_to_signed (words[1], 10, 1, 1000000, &number, NULL))
    return 0;
  return (int)number;
}

static void
names_note (Names *names, gint64 place, int number)
{
  gint64 *key = g_new (gint64, 1);
  int next = GPOINTER_TO_INT (g_hash_table_lookup (names->next, &place));

  *key = place;
  g_hash_table_replace (names->next, key, GINT_TO_POINTER (MAX (next, number)));
}

static void
names_init (Names *names, const GPtrArray *items)
{
  names->next = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  for (guint k = 0; k < items->len; k++)
    {
      const SwItem *item = g_ptr_array_index (items, k);
      int number = sw_neutral_number (item->name);

      if (number == 0)
        continue;
      names_note (names, item->place, number);
      /* Things without a place count among themselves, and are kept in the one for them. */
      if (g_strcmp0 (item->place_path, SW_PLACE_UNKNOWN) == 0)
        names_note (names, 0, number);
    }
}

static char *
names_take (Names *names, const SwPlace *place)
{
  gint64 id = place ? place->id : 0;
  int number = GPOINTER_TO_INT (g_hash_table_lookup (names->next, &id)) + 1;

  names_note (names, id, number);
  return place ? g_strdup_printf (_ ("thing %d in %s"), number, place->name)
               : g_strdup_printf (_ ("thing %d"), number);
}

static void
names_clear (Names *names)
{
  g_clear_pointer (&names->next, g_hash_table_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Names, names_clear)

/* --- the proposal as records --- */

double
sw_pairing_rounded (double value, double step)
{
  return rint (value / step) * step;
}

static SwStopRecord *
record_of (const SwTripWalk *walk, const SwStop *stop, Names *names)
{
  SwStopRecord *record = sw_stop_record_new ();
  const SwPlace *place = stop->place >= 0 ? g_ptr_array_index (walk->places, stop->place) : NULL;

  record->is_new = stop->label == SW_LABEL_NEW;
  record->timed = stop->timed;
  record->start_us = stop->timed ? stop->first_us : 0;
  record->place = place ? place->id : 0;
  record->place_path = place ? g_strdup (place->path) : NULL;
  record->probability = sw_pairing_rounded (stop->probability, 1.0 / 65536);
  record->band = g_strdup (sw_band_word (stop->band));
  record->reason = g_strdup (stop->reason);
  if (stop->label >= 0)
    {
      const SwItem *item = g_ptr_array_index (walk->items, stop->label);

      record->item = item->id;
      record->name = g_strdup (item->name);
    }
  else if (record->is_new && stop->tag != 0)
    record->name = g_strdup_printf (_ ("tag %d"), stop->tag);
  else if (record->is_new)
    record->name = names_take (names, place);
  g_array_set_size (record->photos, (guint)stop->n_photos);
  for (gsize k = 0; k < stop->n_photos; k++)
    {
      const SwPhoto *photo = g_ptr_array_index (walk->photos, stop->photos[k]);

      g_array_index (record->photos, gint64, k) = photo->id;
    }
  return record;
}

static SwStopAlso *
also_of (const SwTripWalk *walk, const SwAlso *also)
{
  const SwPhoto *photo = g_ptr_array_index (walk->photos, also->photo);
  const SwPhoto *like = g_ptr_array_index (walk->photos, also->like);
  const SwItem *item = also->item >= 0 ? g_ptr_array_index (walk->items, also->item) : NULL;
  g_autofree char *name = item ? g_strdup (item->name) : g_strdup_printf (_ ("tag %d"), also->tag);
  g_autofree char *reason
      = also->tag != 0
            ? g_strdup_printf (_ ("tag %d can be read in photo %" PRId64), also->tag, photo->id)
            : g_strdup_printf (_ ("photo %" PRId64 " looks the same as photo %" PRId64
                                  ", which you said shows it"),
                               photo->id, like->id);

  return sw_stop_also_new (photo->id, item ? item->id : 0, also->tag, name, reason);
}

GPtrArray *
sw_pairing_records (const SwTripWalk *walk, const SwProposal *proposal)
{
  GPtrArray *records = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_stop_record_free);
  g_auto (Names) names = { NULL };

  names_init (&names, walk->items);
  for (gsize k = 0; k < proposal->n_stops; k++)
    g_ptr_array_add (records, record_of (walk, &proposal->stops[k], &names));
  for (gsize k = 0; k < proposal->n_also; k++)
    {
      const SwAlso *also = &proposal->also[k];
      SwStopRecord *record = g_ptr_array_index (records, proposal->views[also->photo].stop);

      g_ptr_array_add (record->also, also_of (walk, also));
    }
  return records;
}

/* --- storing --- */

static SwCameraClock
clock_record (gint64 trip, gint64 camera, const SwClockResult *found)
{
  return (SwCameraClock){ .camera = camera,
                          .trip = trip,
                          .shift_s = sw_pairing_rounded (found->shift_s, 0.5),
                          .spread_s = sw_pairing_rounded (found->spread_s, 0.125),
                          .evidence = found->evidence,
                          .drift_s_day = sw_pairing_rounded (found->drift_s_day, 0.125),
                          .drift_from_us = found->drift_from_us,
                          .other_s = sw_pairing_rounded (found->other_s, 0.5),
                          .other_share = sw_pairing_rounded (found->other_share, 1.0 / 256),
                          .notes = found->counts.notes,
                          .faces = found->counts.faces,
                          .fixes = found->counts.fixes,
                          .beside = found->counts.beside };
}

/* The first shift of a clock, and where it changes. */
static gboolean
store_clock (SwCatalogue *catalogue, gint64 trip, const SwTripWalk *walk, guint camera,
             const SwProposal *proposal, GError **error)
{
  gint64 number = g_array_index (walk->cameras, gint64, camera);
  SwCameraClock clock = clock_record (trip, number, &proposal->clocks[camera]);
  g_autoptr (GArray) parts = g_array_new (FALSE, FALSE, sizeof (SwCameraClock));

  if (!proposal->clocks[camera].known)
    return sw_camera_clock_drop_found (catalogue, number, trip, error);
  for (gsize k = 0; k < proposal->n_parts; k++)
    {
      const SwClockPart *part = &proposal->parts[k];
      SwCameraClock record = clock_record (trip, number, &part->clock);

      if (part->camera != (int)camera || part->set)
        continue;
      record.from_photo = ((const SwPhoto *)g_ptr_array_index (walk->photos, part->from))->id;
      g_array_append_val (parts, record);
    }
  return sw_camera_clock_put (catalogue, &clock, error)
         && sw_camera_clock_parts_found (catalogue, number, trip,
                                         (const SwCameraClock *)(void *)parts->data, parts->len,
                                         error);
}

gboolean
sw_pairing_store (SwCatalogue *catalogue, gint64 trip, const SwTripWalk *walk,
                  const SwProposal *proposal, GPtrArray *records, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  gboolean changed = FALSE;

  if (!sw_act_begin_plain (&act, catalogue, error))
    return FALSE;
  for (guint c = 0; c < walk->cameras->len; c++)
    {
      gint64 camera = g_array_index (walk->cameras, gint64, c);

      if (camera != 0 && !walk->set_by_person[c]
          && !store_clock (catalogue, trip, walk, c, proposal, error))
        return FALSE;
    }
  return sw_proposal_replace (catalogue, trip, records, &changed, error)
         && sw_act_commit (&act, NULL, error);
}
