/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The model's proposal for a trip, and what is told of it. Must not know SQL, nor how the proposal
 * comes about (stops.c). */
#include "core/match/pairing.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/trips.h"
#include "core/match/camera-series.h"
#include "core/match/pairing-private.h"

static void
clock_free (gpointer data)
{
  SwPairingClock *clock = data;

  g_clear_pointer (&clock->parts, g_array_unref);
  g_clear_pointer (&clock->faces, g_array_unref);
  g_free (clock->label);
  g_free (clock);
}

static void
stop_free (gpointer data)
{
  SwPairingStop *stop = data;

  g_array_unref (stop->photos);
  g_ptr_array_unref (stop->files);
  g_ptr_array_unref (stop->also);
  g_free (stop->place);
  g_free (stop->item);
  g_free (stop->reason);
  g_free (stop);
}

static void
remark_free (gpointer data)
{
  SwPairingRemark *remark = data;

  g_free (remark->file);
  g_free (remark->text);
  g_free (remark);
}

void
sw_pairing_free (SwPairing *pairing)
{
  if (pairing == NULL)
    return;
  g_clear_pointer (&pairing->clocks, g_ptr_array_unref);
  g_clear_pointer (&pairing->stops, g_ptr_array_unref);
  g_clear_pointer (&pairing->remarks, g_ptr_array_unref);
  g_free (pairing->explanation);
  g_free (pairing);
}

/* --- the answer --- */

static char *
camera_label (const GPtrArray *cameras, gint64 number)
{
  for (guint k = 0; k < cameras->len; k++)
    {
      const SwCamera *camera = g_ptr_array_index (cameras, k);

      if (camera->id == number)
        return g_strdup (camera->label);
    }
  return g_strdup (_ ("no camera named"));
}

static void
fill_clock_parts (SwPairingClock *clock, const SwTripWalk *walk, const SwProposal *proposal,
                  guint camera)
{
  clock->parts = g_array_new (FALSE, FALSE, sizeof (SwPairingClockPart));
  clock->faces = g_array_new (FALSE, FALSE, sizeof (SwClockFace));
  for (gsize k = 0; k < proposal->n_parts; k++)
    {
      const SwClockPart *found = &proposal->parts[k];
      SwPairingClockPart part = { .from_us = proposal->views[found->from].t_us,
                                  .shift_s = sw_pairing_rounded (found->clock.shift_s, 0.5),
                                  .step_s = sw_pairing_rounded (found->step_s, 0.5),
                                  .set_by_person = found->set };

      if (found->camera != (int)camera)
        continue;
      part.from_photo = ((const SwPhoto *)g_ptr_array_index (walk->photos, found->from))->id;
      g_array_append_val (clock->parts, part);
    }
  for (guint k = 0; k < walk->faces->len; k++)
    {
      int at = sw_trip_walk_find (walk, g_array_index (walk->faces, SwClockFace, k).photo);

      if (at >= 0 && walk->walk_photos[at].camera == (int)camera)
        g_array_append_val (clock->faces, g_array_index (walk->faces, SwClockFace, k));
    }
}

static gboolean
fill_clocks (SwPairing *pairing, SwCatalogue *catalogue, const SwTripWalk *walk,
             const SwProposal *proposal, GError **error)
{
  g_autoptr (GPtrArray) cameras = sw_camera_list (catalogue, error);

  if (cameras == NULL)
    return FALSE;
  for (guint c = 0; c < walk->cameras->len; c++)
    {
      const SwClockResult *found = &proposal->clocks[c];
      SwPairingClock *clock = g_new0 (SwPairingClock, 1);

      clock->camera = g_array_index (walk->cameras, gint64, c);
      clock->label = camera_label (cameras, clock->camera);
      clock->known = found->known;
      clock->shift_s
          = walk->set_by_person[c] ? found->shift_s : sw_pairing_rounded (found->shift_s, 0.5);
      clock->spread_s = sw_pairing_rounded (found->spread_s, 0.125);
      clock->evidence = found->evidence;
      clock->set_by_person = walk->set_by_person[c];
      clock->other_s = sw_pairing_rounded (found->other_s, 0.5);
      clock->other_share = found->other_share;
      clock->counts = found->counts;
      clock->beside = found->beside_s > 0;
      clock->drift_s_day = sw_pairing_rounded (found->drift_s_day, 0.125);
      fill_clock_parts (clock, walk, proposal, c);
      g_ptr_array_add (pairing->clocks, clock);
    }
  return TRUE;
}

static const SwItem *
item_by_number (const SwTripWalk *walk, gint64 number)
{
  guint low = 0, high = walk->items->len;

  while (low < high)
    {
      guint mid = (low + high) / 2;
      const SwItem *item = g_ptr_array_index (walk->items, mid);

      if (item->id == number)
        return item;
      if (item->id < number)
        low = mid + 1;
      else
        high = mid;
    }
  return NULL;
}

static gboolean
is_named (const GPtrArray *names, const char *name)
{
  for (guint k = 0; k < names->len; k++)
    if (g_str_equal (g_ptr_array_index (names, k), name))
      return TRUE;
  return FALSE;
}

/* Other items that one of the stop's photos is known to show, then those it is proposed to, each
 * once. */
static void
fill_also (SwPairingStop *stop, const SwStopRecord *record, const SwTripWalk *walk,
           GHashTable *also)
{
  g_autoptr (GHashTable) named = g_hash_table_new (g_int64_hash, g_int64_equal);

  for (guint k = 0; k < stop->photos->len; k++)
    {
      gint64 photo = g_array_index (stop->photos, gint64, k);
      const GArray *items = g_hash_table_lookup (also, &photo);

      for (guint j = 0; items != NULL && j < items->len; j++)
        {
          gint64 *number = &g_array_index (items, gint64, j);
          const SwItem *item = item_by_number (walk, *number);

          if (*number != stop->item_number && item != NULL && g_hash_table_add (named, number))
            g_ptr_array_add (stop->also, g_strdup (item->name));
        }
    }
  for (guint k = 0; k < record->also->len; k++)
    {
      SwStopAlso *proposed = g_ptr_array_index (record->also, k);

      if (proposed->item != 0 ? g_hash_table_add (named, &proposed->item)
                              : !is_named (stop->also, proposed->name))
        g_ptr_array_add (stop->also, g_strdup (proposed->name));
    }
}

/* photo -> GArray of the items it shows. */
static GHashTable *
shown_items (const SwTripWalk *walk)
{
  GHashTable *table
      = g_hash_table_new_full (g_int64_hash, g_int64_equal, NULL, (GDestroyNotify)g_array_unref);

  for (guint k = 0; k < walk->shows->len; k++)
    {
      SwPhotoShows *row = &g_array_index (walk->shows, SwPhotoShows, k);
      GArray *items = g_hash_table_lookup (table, &row->photo);

      if (row->item == 0)
        continue;
      if (items == NULL)
        {
          items = g_array_new (FALSE, FALSE, sizeof (gint64));
          g_hash_table_insert (table, &row->photo, items);
        }
      g_array_append_val (items, row->item);
    }
  return table;
}

static void
fill_stops (SwPairing *pairing, const SwTripWalk *walk, const SwProposal *proposal,
            const GPtrArray *records)
{
  g_autoptr (GHashTable) also = shown_items (walk);

  for (guint k = 0; k < records->len; k++)
    {
      const SwStopRecord *record = g_ptr_array_index (records, k);
      const SwStop *found = &proposal->stops[k];
      SwPairingStop *stop = g_new0 (SwPairingStop, 1);

      stop->position = (int)k + 1;
      stop->photos = g_array_ref (record->photos);
      stop->files = g_ptr_array_new_with_free_func (g_free);
      for (gsize i = 0; i < found->n_photos; i++)
        {
          const SwPhoto *photo = g_ptr_array_index (walk->photos, found->photos[i]);

          g_ptr_array_add (stop->files, g_strdup (photo->file));
        }
      stop->place = g_strdup (record->place_path);
      stop->item = g_strdup (record->name);
      stop->item_number = record->item;
      stop->is_new = record->is_new;
      stop->probability = record->probability;
      stop->band = found->band;
      stop->reason = g_strdup (record->reason);
      stop->also = g_ptr_array_new_with_free_func (g_free);
      fill_also (stop, record, walk, also);
      g_ptr_array_add (pairing->stops, stop);
    }
}

/* 'at' is the photo's index in the walk. */
static void
add_remark (SwPairing *pairing, const SwTripWalk *walk, int at, const char *text)
{
  const SwPhoto *photo = g_ptr_array_index (walk->photos, at);
  SwPairingRemark *remark = g_new0 (SwPairingRemark, 1);

  remark->photo = photo->id;
  remark->file = g_strdup (photo->file);
  remark->text = g_strdup (text);
  g_ptr_array_add (pairing->remarks, remark);
}

/* Two cameras of one model that write no serial number: said, since one clock is found for both. */
static void
remark_on_camera (SwPairing *pairing, const SwTripWalk *walk, const SwCamera *camera)
{
  g_autoptr (GArray) photos = g_array_new (FALSE, FALSE, sizeof (SwSeriesPhoto));
  g_autoptr (GArray) indices = g_array_new (FALSE, FALSE, sizeof (int));
  g_autofree char *text = NULL;
  int second;

  for (int k = 0; k < (int)walk->photos->len; k++)
    {
      const SwPhoto *photo = g_ptr_array_index (walk->photos, k);
      SwSeriesPhoto entry = { photo->bring_in, photo->file, photo->clock_us };

      if (photo->camera != camera->id || walk->walk_photos[k].time_kind != SW_WALK_TIME_OWN)
        continue;
      g_array_append_val (photos, entry);
      g_array_append_val (indices, k);
    }
  second = sw_camera_series_second ((const SwSeriesPhoto *)(void *)photos->data, photos->len);
  if (second < 0)
    return;
  text = g_strdup_printf (
      _ ("begins a second row of file numbers of '%s', which names no serial "
         "number: perhaps another camera of that model, taken as one camera here"),
      camera->label);
  add_remark (pairing, walk, g_array_index (indices, int, second), text);
}

static gboolean
fill_remarks (SwPairing *pairing, SwCatalogue *catalogue, const SwTripWalk *walk, GError **error)
{
  g_autoptr (GPtrArray) cameras = sw_camera_list (catalogue, error);

  if (cameras == NULL)
    return FALSE;
  for (guint k = 0; k < walk->signs->len; k++)
    {
      const SwSign *sign = g_ptr_array_index (walk->signs, k);
      int at = sign->remark ? sw_trip_walk_find (walk, sign->photo) : -1;

      if (at >= 0)
        add_remark (pairing, walk, at, sign->remark);
    }
  for (guint k = 0; k < cameras->len; k++)
    {
      const SwCamera *camera = g_ptr_array_index (cameras, k);

      if (*camera->serial == '\0')
        remark_on_camera (pairing, walk, camera);
    }
  return TRUE;
}

static gboolean
fill_explanation (SwPairing *pairing, const SwTripWalk *walk, const SwProposal *proposal,
                  gint64 trip, gint64 photo, GError **error)
{
  int at = sw_trip_walk_find (walk, photo);

  if (at < 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
                   _ ("Photo %" PRId64 " is not among the photos of trip %" PRId64
                      "; the list of photos shows which are."),
                   photo, trip);
      return FALSE;
    }
  pairing->explanation = sw_stops_explain (&walk->walk, proposal, (guint)at);
  return TRUE;
}

/* --- in three steps --- */

struct _SwPairingDraft
{
  gint64 trip, act;
  SwTripWalk *walk;
  SwProposal *proposal;
};

void
sw_pairing_draft_free (SwPairingDraft *draft)
{
  if (draft == NULL)
    return;
  g_clear_pointer (&draft->walk, sw_trip_walk_free);
  g_clear_pointer (&draft->proposal, sw_proposal_free);
  g_free (draft);
}

SwPairingDraft *
sw_pairing_draft_new (SwCatalogue *catalogue, gint64 trip_number, GError **error)
{
  g_autoptr (SwTrip) trip = sw_trip_get (catalogue, trip_number, error);
  g_autoptr (SwPairingDraft) draft = g_new0 (SwPairingDraft, 1);

  draft->trip = trip_number;
  if (trip == NULL || !sw_act_latest (catalogue, &draft->act, error)
      || (draft->walk = sw_trip_walk_load (catalogue, trip_number, error)) == NULL)
    return NULL;
  return g_steal_pointer (&draft);
}

void
sw_pairing_draft_think (SwPairingDraft *draft)
{
  g_return_if_fail (draft->proposal == NULL);
  draft->proposal = sw_stops_propose (&draft->walk->walk);
}

void
sw_pairing_other_free (SwPairingOther *other)
{
  if (other == NULL)
    return;
  g_free (other->name);
  g_free (other);
}

#define OTHER_LEAST_SHARE 0.05

/* Index of the item, -1 for none: the likeliest of its photos' labels but for the stop's own. */
static int
other_label (const SwProposal *proposal, const SwStop *stop, gsize n_items)
{
  g_autofree double *shares = g_new0 (double, n_items + 1);
  int best = -1;

  for (gsize k = 0; k < stop->n_photos; k++)
    {
      const SwPhotoView *view = &proposal->views[stop->photos[k]];

      for (guint i = 0; i < G_N_ELEMENTS (view->labels); i++)
        if (view->label_p[i] > 0 && view->labels[i] >= 0 && view->labels[i] != stop->label)
          {
            shares[view->labels[i]] += view->label_p[i] / (double)stop->n_photos;
            if (best < 0 || shares[view->labels[i]] > shares[best])
              best = view->labels[i];
          }
    }
  return best >= 0 && shares[best] >= OTHER_LEAST_SHARE ? best : -1;
}

GHashTable *
sw_pairing_draft_others (const SwPairingDraft *draft)
{
  GHashTable *others = g_hash_table_new_full (g_int64_hash, g_int64_equal, NULL,
                                              (GDestroyNotify)sw_pairing_other_free);

  for (gsize k = 0; draft->proposal != NULL && k < draft->proposal->n_stops; k++)
    {
      const SwStop *stop = &draft->proposal->stops[k];
      int label = stop->decided ? -1 : other_label (draft->proposal, stop, draft->walk->items->len);
      SwPairingOther *other;

      if (label < 0)
        continue;
      other = g_new0 (SwPairingOther, 1);
      other->stop = ((const SwPhoto *)g_ptr_array_index (draft->walk->photos, stop->photos[0]))->id;
      other->item = ((const SwItem *)g_ptr_array_index (draft->walk->items, (guint)label))->id;
      other->name
          = g_strdup (((const SwItem *)g_ptr_array_index (draft->walk->items, (guint)label))->name);
      g_hash_table_insert (others, &other->stop, other);
    }
  return others;
}

gboolean
sw_pairing_draft_store (SwPairingDraft *draft, SwCatalogue *catalogue, gboolean *out_stored,
                        GError **error)
{
  g_autoptr (GPtrArray) records = NULL;
  gint64 act = 0;

  g_return_val_if_fail (draft->proposal != NULL, FALSE);
  if (!sw_act_latest (catalogue, &act, error))
    return FALSE;
  *out_stored = act == draft->act && !sw_catalogue_is_read_only (catalogue);
  if (!*out_stored)
    return TRUE;
  records = sw_pairing_records (draft->walk, draft->proposal);
  return sw_pairing_store (catalogue, draft->trip, draft->walk, draft->proposal, records, error);
}

SwPairing *
sw_pairing_run (SwCatalogue *catalogue, gint64 trip_number, const SwPairingOptions *options,
                GError **error)
{
  g_autoptr (SwPairing) pairing = NULL;
  g_autoptr (SwPairingDraft) draft = NULL;
  g_autoptr (GPtrArray) records = NULL;

  if (options != NULL && options->thumbs != NULL && !sw_catalogue_is_read_only (catalogue)
      && !sw_thumbs_make_missing (options->thumbs, catalogue, trip_number, NULL, NULL,
                                  options->cancellable, NULL, error))
    return NULL;
  if ((draft = sw_pairing_draft_new (catalogue, trip_number, error)) == NULL)
    return NULL;
  sw_pairing_draft_think (draft);
  records = sw_pairing_records (draft->walk, draft->proposal);
  pairing = g_new0 (SwPairing, 1);
  pairing->clocks = g_ptr_array_new_with_free_func (clock_free);
  pairing->stops = g_ptr_array_new_with_free_func (stop_free);
  if (!fill_clocks (pairing, catalogue, draft->walk, draft->proposal, error))
    return NULL;
  fill_stops (pairing, draft->walk, draft->proposal, records);
  pairing->remarks = g_ptr_array_new_with_free_func (remark_free);
  if (!fill_remarks (pairing, catalogue, draft->walk, error))
    return NULL;
  if (options != NULL && options->explain != 0
      && !fill_explanation (pairing, draft->walk, draft->proposal, trip_number, options->explain,
                            error))
    return NULL;
  if (!sw_catalogue_is_read_only (catalogue)
      && !sw_pairing_store (catalogue, trip_number, draft->walk, draft->proposal, records, error))
    return NULL;
  return g_steal_pointer (&pairing);
}
