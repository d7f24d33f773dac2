/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads a trip into arrays: numbers become indices, instants the civil time of the property counted
 * as if in UTC. Must not propose anything. */
#include "core/match/trip-walk.h"

#include "core/catalogue/notes.h"
#include "core/catalogue/proposals.h"
#include "core/catalogue/tags.h"
#include "core/intake/decoder.h"

#include <stdlib.h>

void
sw_trip_walk_free (SwTripWalk *walk)
{
  if (walk == NULL)
    return;
  g_clear_pointer (&walk->photos, g_ptr_array_unref);
  g_clear_pointer (&walk->cameras, g_array_unref);
  g_clear_pointer (&walk->items, g_ptr_array_unref);
  g_clear_pointer (&walk->places, g_ptr_array_unref);
  g_clear_pointer (&walk->shows, g_array_unref);
  g_clear_pointer (&walk->signs, g_ptr_array_unref);
  g_free (walk->set_by_person);
  g_clear_pointer (&walk->clock_rows, g_array_unref);
  g_clear_pointer (&walk->clock_sets, g_array_unref);
  g_clear_pointer (&walk->faces, g_array_unref);
  g_clear_pointer (&walk->zone_steps, g_array_unref);
  g_clear_pointer (&walk->sights, g_array_unref);
  g_free (walk->walk_photos);
  g_free (walk->walk_notes);
  g_free (walk->walk_items);
  g_free (walk->walk_places);
  g_free (walk->walk_cameras);
  g_free (walk);
}

/* By file name: cameras count their files up, so that a photo without a time lies between its
 * neighbours. */
static int
compare_files (gconstpointer a, gconstpointer b)
{
  const SwPhoto *x = *(SwPhoto *const *)a, *y = *(SwPhoto *const *)b;
  int order = g_strcmp0 (x->file, y->file);

  return order != 0 ? order : (x->id > y->id) - (x->id < y->id);
}

static GPtrArray *
read_photos (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_autoptr (GPtrArray) all = sw_photo_list (catalogue, trip, FALSE, error);
  GPtrArray *photos;

  if (all == NULL)
    return NULL;
  photos = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_photo_free);
  for (guint k = 0; k < all->len; k++)
    {
      SwPhoto *photo = g_ptr_array_index (all, k);

      if (g_strcmp0 (photo->kind, "photo") == 0)
        {
          g_ptr_array_add (photos, photo);
          all->pdata[k] = NULL;
        }
    }
  /* What is left are clips, memos and companions, with holes where photos were. */
  g_ptr_array_set_free_func (all, NULL);
  for (guint k = 0; k < all->len; k++)
    sw_photo_free (g_ptr_array_index (all, k));
  g_ptr_array_sort (photos, compare_files);
  return photos;
}

static int
compare_numbers (gconstpointer a, gconstpointer b)
{
  gint64 x = *(const gint64 *)a, y = *(const gint64 *)b;

  return (x > y) - (x < y);
}

static int
index_of (const GArray *numbers, gint64 number)
{
  guint at = 0;

  return g_array_binary_search ((GArray *)numbers, &number, compare_numbers, &at) ? (int)at : -1;
}

static GArray *
camera_numbers (const GPtrArray *photos)
{
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (gint64));
  GArray *numbers = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (guint k = 0; k < photos->len; k++)
    g_array_append_val (all, ((SwPhoto *)g_ptr_array_index (photos, k))->camera);
  g_array_sort (all, compare_numbers);
  for (guint k = 0; k < all->len; k++)
    if (k == 0 || g_array_index (all, gint64, k) != g_array_index (all, gint64, k - 1))
      g_array_append_val (numbers, g_array_index (all, gint64, k));
  return numbers;
}

/* Index by number, in a hash of gint64 pointers into the records. */
static int
look_up (GHashTable *indices, gint64 number)
{
  gpointer value = NULL;

  return g_hash_table_lookup_extended (indices, &number, NULL, &value) ? GPOINTER_TO_INT (value)
                                                                       : -1;
}

static void
fill_places (SwTripWalk *walk, GHashTable *indices)
{
  walk->walk_places = g_new0 (SwWalkPlace, walk->places->len + 1);
  for (guint k = 0; k < walk->places->len; k++)
    {
      SwPlace *place = g_ptr_array_index (walk->places, k);

      g_hash_table_insert (indices, &place->id, GINT_TO_POINTER (k));
    }
  for (guint k = 0; k < walk->places->len; k++)
    {
      SwPlace *place = g_ptr_array_index (walk->places, k);

      walk->walk_places[k] = (SwWalkPlace){ .name = place->path,
                                            .parent = look_up (indices, place->parent),
                                            .has_position = place->has_position,
                                            .latitude = place->latitude,
                                            .longitude = place->longitude };
    }
}

static void
fill_items (SwTripWalk *walk, GHashTable *indices, GHashTable *place_indices)
{
  walk->walk_items = g_new0 (SwWalkItem, walk->items->len + 1);
  for (guint k = 0; k < walk->items->len; k++)
    {
      SwItem *item = g_ptr_array_index (walk->items, k);

      g_hash_table_insert (indices, &item->id, GINT_TO_POINTER (k));
      walk->walk_items[k] = (SwWalkItem){ item->name, look_up (place_indices, item->place) };
    }
}

/* Civil time on the property, counted as if in UTC. */
static gint64
civil_us (SwInstant instant, const SwZone *zone)
{
  return sw_civil_to_us (sw_civil_from_instant (instant, zone, NULL));
}

static gboolean
fill_notes (SwTripWalk *walk, SwCatalogue *catalogue, gint64 trip, GHashTable *item_indices,
            GHashTable *place_indices, GError **error)
{
  const SwZone *zone = sw_catalogue_zone (catalogue);
  g_autoptr (GPtrArray) notes = sw_note_list (catalogue, trip, error);

  if (notes == NULL)
    return FALSE;
  walk->walk_notes = g_new0 (SwWalkNote, notes->len + 1);
  walk->walk.n_notes = notes->len;
  for (guint k = 0; k < notes->len; k++)
    {
      const SwNote *note = g_ptr_array_index (notes, k);

      walk->walk_notes[k]
          = (SwWalkNote){ civil_us (note->at, zone), note->resolution_s * SW_US_PER_SECOND,
                          look_up (place_indices, note->place),
                          note->item ? look_up (item_indices, note->item) : -1 };
    }
  return TRUE;
}

/* Photo numbers are looked up before photo_of fills the arrays: by their order. */
static int
photo_index (const SwTripWalk *walk, gint64 number)
{
  for (guint k = 0; k < walk->photos->len; k++)
    if (((SwPhoto *)g_ptr_array_index (walk->photos, k))->id == number)
      return (int)k;
  return -1;
}

/* Shifts that a person set from some photo of the camera on. */
static void
fill_sets (SwTripWalk *walk, gint64 camera, gint64 trip, gsize *out_n)
{
  *out_n = 0;
  for (guint k = 0; k < walk->clock_rows->len; k++)
    {
      const SwCameraClock *row = &g_array_index (walk->clock_rows, SwCameraClock, k);
      int from
          = row->camera == camera && row->trip == trip && row->set_by_person && row->from_photo != 0
                ? photo_index (walk, row->from_photo)
                : -1;
      SwWalkClockSet set = { (guint)MAX (from, 0), row->shift_s };

      if (from < 0)
        continue;
      g_array_append_val (walk->clock_sets, set);
      ++*out_n;
    }
}

static gboolean
fill_cameras (SwTripWalk *walk, SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_autofree gsize *first = g_new0 (gsize, walk->cameras->len + 1);

  if ((walk->clock_rows = sw_camera_clock_list (catalogue, error)) == NULL)
    return FALSE;
  walk->clock_sets = g_array_new (FALSE, FALSE, sizeof (SwWalkClockSet));
  walk->walk_cameras = g_new0 (SwWalkCamera, walk->cameras->len + 1);
  walk->set_by_person = g_new0 (gboolean, walk->cameras->len + 1);
  for (guint k = 0; k < walk->cameras->len; k++)
    {
      gint64 camera = g_array_index (walk->cameras, gint64, k);
      const SwCameraClock *clock = sw_camera_clock_in (walk->clock_rows, camera, trip);

      walk->walk_cameras[k].nameless = camera == 0;
      first[k] = walk->clock_sets->len;
      fill_sets (walk, camera, trip, &walk->walk_cameras[k].n_sets);
      if (clock == NULL || !clock->set_by_person)
        continue;
      walk->set_by_person[k] = TRUE;
      walk->walk_cameras[k].fixed = TRUE;
      walk->walk_cameras[k].shift_s = clock->shift_s;
    }
  for (guint k = 0; k < walk->cameras->len; k++)
    walk->walk_cameras[k].sets = (const SwWalkClockSet *)(void *)walk->clock_sets->data + first[k];
  return TRUE;
}

static SwWalkTimeKind
time_kind (const SwPhoto *photo)
{
  if (!photo->has_clock)
    return SW_WALK_TIME_NONE;
  return g_strcmp0 (photo->time_source, "file") == 0 ? SW_WALK_TIME_WEAK : SW_WALK_TIME_OWN;
}

static SwWalkPhoto
photo_of (const SwTripWalk *walk, const SwPhoto *photo, const SwZone *zone)
{
  int camera = index_of (walk->cameras, photo->camera);
  SwWalkPhoto out = { .id = photo->id,
                      .camera = camera,
                      .time_kind = time_kind (photo),
                      .decided = SW_WALK_OPEN,
                      .place = -1,
                      .has_position = photo->has_position,
                      .latitude = photo->latitude,
                      .longitude = photo->longitude,
                      .error_m = photo->position_error_m };
  guint8 grid[64];

  const SwCameraClock *clock
      = sw_camera_clock_for (walk->clock_rows, photo->camera, photo->trip, photo->file, photo->id);

  /* A written offset tells the moment; the property's own clock then showed its civil time. A shift
   * that a person set counts on the bare clock. */
  if (photo->has_clock)
    out.clock_us = photo->has_offset && !(clock != NULL && clock->set_by_person)
                       ? civil_us (sw_photo_time_by (photo, NULL, zone, NULL), zone)
                       : photo->clock_us;
  out.resolution_us
      = photo->clock_us % SW_US_PER_SECOND != 0 ? SW_US_PER_SECOND / 100 : SW_US_PER_SECOND;
  if (photo->has_gps_time)
    {
      out.has_fix = TRUE;
      out.fix_us = civil_us ((SwInstant){ photo->gps_us }, zone);
    }
  if (photo->likeness != NULL)
    out.has_likeness = sw_likeness_unpack (photo->likeness, &out.dhash, grid);
  return out;
}

static gboolean
fill_photos (SwTripWalk *walk, SwCatalogue *catalogue, gint64 trip, GHashTable *item_indices,
             GError **error)
{
  const SwZone *zone = sw_catalogue_zone (catalogue);
  g_autoptr (GArray) cuts = sw_cut_list (catalogue, trip, error);
  g_autoptr (GHashTable) indices = g_hash_table_new (g_int64_hash, g_int64_equal);

  if (cuts == NULL)
    return FALSE;
  walk->walk_photos = g_new0 (SwWalkPhoto, walk->photos->len + 1);
  for (guint k = 0; k < walk->photos->len; k++)
    {
      SwPhoto *photo = g_ptr_array_index (walk->photos, k);

      walk->walk_photos[k] = photo_of (walk, photo, zone);
      g_hash_table_insert (indices, &photo->id, GINT_TO_POINTER (k));
    }
  for (guint k = 0; k < walk->faces->len; k++)
    {
      const SwClockFace *face = &g_array_index (walk->faces, SwClockFace, k);
      int at = look_up (indices, face->photo);

      if (at < 0)
        continue;
      walk->walk_photos[at].has_seen = TRUE;
      walk->walk_photos[at].seen_us = face->seen_us;
      walk->walk_photos[at].seen_resolution_us
          = face->resolution_s > 1 ? face->resolution_s * SW_US_PER_SECOND : 0;
      walk->walk_photos[at].seen_dateless = !face->dated;
    }
  /* Wide views come last; the first plain row decides. */
  for (guint k = 0; k < walk->shows->len; k++)
    {
      const SwPhotoShows *row = &g_array_index (walk->shows, SwPhotoShows, k);
      int at = look_up (indices, row->photo);

      if (at >= 0 && !row->also && walk->walk_photos[at].decided == SW_WALK_OPEN)
        walk->walk_photos[at].decided
            = row->item == 0 ? SW_WALK_NONE : look_up (item_indices, row->item);
    }
  for (guint k = 0; k < cuts->len; k++)
    {
      const SwCut *cut = &g_array_index (cuts, SwCut, k);
      int at = look_up (indices, cut->photo);

      if (at >= 0)
        {
          walk->walk_photos[at].cut = (int)cut->cut;
          walk->walk_photos[at].beside = (guint)(look_up (indices, cut->before) + 1);
        }
    }
  return TRUE;
}

/* --- changes of the zone --- */

#define DAY_US (86400 * SW_US_PER_SECOND)
/* Trips are days or weeks; more than that of odd times is not walked through. */
#define ZONE_DAYS_MOST 400

static int
offset_at (gint64 us, const SwZone *zone)
{
  int offset_s = 0;

  sw_civil_from_instant ((SwInstant){ us }, zone, &offset_s);
  return offset_s;
}

/* The change between two instants with different offsets, to the second. */
static SwWalkZoneStep
find_step (gint64 before, gint64 after, const SwZone *zone)
{
  int old = offset_at (before, zone);

  while (after - before > SW_US_PER_SECOND)
    {
      gint64 mid = before + (after - before) / 2;

      if (offset_at (mid, zone) == old)
        before = mid;
      else
        after = mid;
    }
  after = after / SW_US_PER_SECOND * SW_US_PER_SECOND;
  return (SwWalkZoneStep){ civil_us ((SwInstant){ after }, zone),
                           (double)(offset_at (after, zone) - old) };
}

/* The changes of the property's own time between the first and the last moment that is told: of
 * notes and fixes. */
static void
fill_zone_steps (SwTripWalk *walk, const SwZone *zone)
{
  gint64 from = G_MAXINT64, upto = G_MININT64;

  walk->zone_steps = g_array_new (FALSE, FALSE, sizeof (SwWalkZoneStep));
  for (gsize k = 0; k < walk->walk.n_notes; k++)
    {
      from = MIN (from, walk->walk_notes[k].time_us);
      upto = MAX (upto, walk->walk_notes[k].time_us);
    }
  for (guint k = 0; k < walk->photos->len; k++)
    if (walk->walk_photos[k].has_fix)
      {
        from = MIN (from, walk->walk_photos[k].fix_us);
        upto = MAX (upto, walk->walk_photos[k].fix_us);
      }
  if (from > upto || upto - from > ZONE_DAYS_MOST * DAY_US)
    return;
  /* Civil time counted as if in UTC is a day from the instant at most. */
  for (gint64 t = from - DAY_US; t < upto + DAY_US; t += DAY_US)
    if (offset_at (t, zone) != offset_at (t + DAY_US, zone))
      {
        SwWalkZoneStep step = find_step (t, t + DAY_US, zone);

        g_array_append_val (walk->zone_steps, step);
      }
}

/* --- cards and tags --- */

/* A card tells nothing of what comes after such a pause: that is another walk. */
#define CARD_HOLDS_US (8 * 3600 * SW_US_PER_SECOND)
/* A building is photographed on arriving, mostly, and now and then on leaving or in passing: a
 * judgement. */
#define FRONT_HOLDS_US (20 * 60 * SW_US_PER_SECOND)

typedef struct
{
  const SwTripWalk *walk;
} Order;

/* Camera by camera, by its own clock; photos without a time last. */
static int
compare_taken (gconstpointer a, gconstpointer b, gpointer data)
{
  const SwTripWalk *walk = ((Order *)data)->walk;
  guint i = *(const guint *)a, j = *(const guint *)b;
  const SwWalkPhoto *x = &walk->walk_photos[i], *y = &walk->walk_photos[j];

  if (x->camera != y->camera)
    return x->camera < y->camera ? -1 : 1;
  if ((x->time_kind == SW_WALK_TIME_NONE) != (y->time_kind == SW_WALK_TIME_NONE))
    return x->time_kind == SW_WALK_TIME_NONE ? 1 : -1;
  if (x->time_kind != SW_WALK_TIME_NONE && x->clock_us != y->clock_us)
    return x->clock_us < y->clock_us ? -1 : 1;
  return (i > j) - (i < j);
}

/* What the photos of that camera after a card have of it, up to the next card. */
static void
carry_cards (SwTripWalk *walk)
{
  gsize n = walk->photos->len;
  g_autofree guint *order = g_new (guint, n + 1);
  Order how = { walk };
  const SwWalkPhoto *card = NULL, *last = NULL;

  for (guint k = 0; k < n; k++)
    order[k] = k;
  g_qsort_with_data (order, (int)n, sizeof (guint), compare_taken, &how);
  for (gsize k = 0; k < n; k++)
    {
      SwWalkPhoto *photo = &walk->walk_photos[order[k]];

      if (photo->card != 0)
        card = photo;
      else if (card != NULL
               && (photo->camera != card->camera || photo->time_kind == SW_WALK_TIME_NONE
                   || photo->clock_us - last->clock_us > CARD_HOLDS_US
                   || (card->of_place && photo->clock_us - card->clock_us > FRONT_HOLDS_US)))
        card = NULL;
      last = photo;
      if (card == NULL || photo->place >= 0)
        continue;
      photo->place = card->place;
      photo->card = card->card;
    }
}

/* Photos without a time lie between their neighbours by name: what went before holds. */
static void
carry_past_untimed (SwTripWalk *walk)
{
  for (guint k = 1; k < walk->photos->len; k++)
    {
      SwWalkPhoto *photo = &walk->walk_photos[k], *before = &walk->walk_photos[k - 1];

      if (photo->time_kind != SW_WALK_TIME_NONE || photo->card != 0 || photo->place >= 0
          || before->card == 0 || before->camera != photo->camera)
        continue;
      photo->place = before->place;
      photo->card = before->card;
    }
}

static void
add_seen_tags (SwTripWalk *walk, guint photo, const SwSign *sign, GHashTable *bearers)
{
  for (guint k = 0; k < sign->seen->len; k++)
    {
      gint64 tag = g_array_index (sign->seen, gint64, k);
      SwWalkSight sight
          = { photo, (int)tag, GPOINTER_TO_INT (g_hash_table_lookup (bearers, &tag)) - 1 };

      g_array_append_val (walk->sights, sight);
    }
}

static int
compare_sights (gconstpointer a, gconstpointer b)
{
  const SwWalkSight *x = a, *y = b;

  if (x->photo != y->photo)
    return x->photo < y->photo ? -1 : 1;
  if (x->tag != y->tag)
    return x->tag < y->tag ? -1 : 1;
  return (x->item > y->item) - (x->item < y->item);
}

/* What a person said that photos show beside their thing. */
static void
add_said_sights (SwTripWalk *walk, GHashTable *item_indices)
{
  g_autoptr (GHashTable) indices = g_hash_table_new (g_int64_hash, g_int64_equal);

  for (guint k = 0; k < walk->photos->len; k++)
    g_hash_table_insert (indices, &walk->walk_photos[k].id, GINT_TO_POINTER (k));
  for (guint k = 0; k < walk->shows->len; k++)
    {
      const SwPhotoShows *row = &g_array_index (walk->shows, SwPhotoShows, k);
      int at = row->also ? look_up (indices, row->photo) : -1;
      SwWalkSight sight = { (guint)MAX (at, 0), 0, look_up (item_indices, row->item) };

      if (at >= 0 && sight.item >= 0)
        g_array_append_val (walk->sights, sight);
    }
}

/* Photos that show a place itself by a person's word; before the cards, which say the same of
 * theirs. */
static gboolean
fill_place_photos (SwTripWalk *walk, SwCatalogue *catalogue, gint64 trip, GHashTable *place_indices,
                   GError **error)
{
  g_autoptr (GArray) rows = sw_place_photo_list (catalogue, trip, error);
  g_autoptr (GHashTable) indices = g_hash_table_new (g_int64_hash, g_int64_equal);

  if (rows == NULL)
    return FALSE;
  for (guint k = 0; k < walk->photos->len; k++)
    g_hash_table_insert (indices, &walk->walk_photos[k].id, GINT_TO_POINTER (k));
  for (guint k = 0; k < rows->len; k++)
    {
      const SwPlacePhoto *row = &g_array_index (rows, SwPlacePhoto, k);
      int at = look_up (indices, row->photo);

      if (at < 0)
        continue;
      walk->walk_photos[at].place = look_up (place_indices, row->place);
      walk->walk_photos[at].card = (guint)at + 1;
      walk->walk_photos[at].of_place = TRUE;
    }
  return TRUE;
}

static gboolean
fill_signs (SwTripWalk *walk, SwCatalogue *catalogue, GHashTable *item_indices,
            GHashTable *place_indices, GError **error)
{
  g_autoptr (GArray) tags = sw_tag_list (catalogue, error);
  g_autoptr (GHashTable) bearers = g_hash_table_new (g_int64_hash, g_int64_equal);

  if (tags == NULL)
    return FALSE;
  walk->sights = g_array_new (FALSE, FALSE, sizeof (SwWalkSight));
  for (guint k = 0; k < tags->len; k++)
    {
      SwTag *tag = &g_array_index (tags, SwTag, k);

      g_hash_table_insert (bearers, &tag->tag,
                           GINT_TO_POINTER (look_up (item_indices, tag->item) + 1));
    }
  for (guint k = 0; k < walk->photos->len; k++)
    {
      SwWalkPhoto *photo = &walk->walk_photos[k];
      const SwSign *sign = sw_signs_find (walk->signs, photo->id);

      if (sign == NULL)
        continue;
      if (sign->place != 0)
        {
          photo->place = look_up (place_indices, sign->place);
          photo->card = k + 1;
          photo->of_place = FALSE;
          photo->is_card = sign->card && sign->tag == 0;
        }
      add_seen_tags (walk, k, sign, bearers);
      photo->tag = (int)sign->tag;
      photo->bearer
          = sign->tag != 0 ? GPOINTER_TO_INT (g_hash_table_lookup (bearers, &sign->tag)) : 0;
    }
  add_said_sights (walk, item_indices);
  g_array_sort (walk->sights, compare_sights);
  carry_cards (walk);
  carry_past_untimed (walk);
  return TRUE;
}

SwTripWalk *
sw_trip_walk_load (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_autoptr (SwTripWalk) walk = g_new0 (SwTripWalk, 1);
  g_autoptr (GHashTable) items = g_hash_table_new (g_int64_hash, g_int64_equal);
  g_autoptr (GHashTable) places = g_hash_table_new (g_int64_hash, g_int64_equal);

  if ((walk->photos = read_photos (catalogue, trip, error)) == NULL
      || (walk->items = sw_item_list (catalogue, NULL, error)) == NULL
      || (walk->places = sw_place_list (catalogue, error)) == NULL
      || (walk->shows = sw_photo_shows_list (catalogue, error)) == NULL
      || (walk->signs = sw_signs_load (catalogue, trip, error)) == NULL)
    return NULL;
  walk->cameras = camera_numbers (walk->photos);
  fill_places (walk, places);
  fill_items (walk, items, places);
  if (!fill_notes (walk, catalogue, trip, items, places, error)
      || !fill_cameras (walk, catalogue, trip, error)
      || (walk->faces = sw_clock_face_list (catalogue, trip, error)) == NULL
      || !fill_photos (walk, catalogue, trip, items, error)
      || !fill_place_photos (walk, catalogue, trip, places, error)
      || !fill_signs (walk, catalogue, items, places, error))
    return NULL;
  fill_zone_steps (walk, sw_catalogue_zone (catalogue));
  walk->walk.photos = walk->walk_photos;
  walk->walk.n_photos = walk->photos->len;
  walk->walk.notes = walk->walk_notes;
  walk->walk.items = walk->walk_items;
  walk->walk.n_items = walk->items->len;
  walk->walk.places = walk->walk_places;
  walk->walk.n_places = walk->places->len;
  walk->walk.cameras = walk->walk_cameras;
  walk->walk.n_cameras = walk->cameras->len;
  walk->walk.zone_steps = (const SwWalkZoneStep *)(void *)walk->zone_steps->data;
  walk->walk.n_zone_steps = walk->zone_steps->len;
  walk->walk.sights = (const SwWalkSight *)(void *)walk->sights->data;
  walk->walk.n_sights = walk->sights->len;
  return g_steal_pointer (&walk);
}

int
sw_trip_walk_find (const SwTripWalk *walk, gint64 photo)
{
  for (gsize k = 0; k < walk->walk.n_photos; k++)
    if (walk->walk_photos[k].id == photo)
      return (int)k;
  return -1;
}
