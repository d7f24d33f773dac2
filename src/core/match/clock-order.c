/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One pass over the photos an answer: a trip's thousands are asked again at each key typed. */
#include "core/match/clock-order.h"

#include <math.h>
#include <string.h>

#include "core/catalogue/photos.h"
#include "core/catalogue/trips.h"
#include "core/match/clock-words.h"

#define DAY_S 86400.0

static void
photo_free (gpointer data)
{
  SwOrderPhoto *photo = data;

  g_free (photo->file);
  g_free (photo);
}

static void
camera_free (gpointer data)
{
  SwOrderCamera *camera = data;

  g_free (camera->clock.label);
  g_clear_pointer (&camera->clock.parts, g_array_unref);
  g_clear_pointer (&camera->clock.faces, g_array_unref);
  g_clear_pointer (&camera->photos, g_array_unref);
  g_free (camera);
}

void
sw_clock_order_free (SwClockOrder *order)
{
  if (order == NULL)
    return;
  g_clear_pointer (&order->photos, g_ptr_array_unref);
  g_clear_pointer (&order->cameras, g_ptr_array_unref);
  g_clear_pointer (&order->zone, sw_zone_free);
  g_free (order);
}

static const SwOrderPhoto *
photo_at (const SwClockOrder *order, guint index)
{
  return g_ptr_array_index (order->photos, index);
}

/* --- reading --- */

static int
camera_index (SwClockOrder *order, const SwPhoto *photo)
{
  SwOrderCamera *camera;

  for (guint k = 0; k < order->cameras->len; k++)
    if (((SwOrderCamera *)g_ptr_array_index (order->cameras, k))->clock.camera == photo->camera)
      return (int)k;
  camera = g_new0 (SwOrderCamera, 1);
  camera->clock.camera = photo->camera;
  camera->clock.label = g_strdup (photo->camera_label);
  camera->clock.parts = g_array_new (FALSE, FALSE, sizeof (SwPairingClockPart));
  camera->clock.faces = g_array_new (FALSE, FALSE, sizeof (SwClockFace));
  camera->photos = g_array_new (FALSE, FALSE, sizeof (guint));
  g_ptr_array_add (order->cameras, camera);
  return (int)order->cameras->len - 1;
}

static gint64
civil_us (SwInstant instant, const SwZone *zone)
{
  return sw_civil_to_us (sw_civil_from_instant (instant, zone, NULL));
}

static gboolean
read_photos (SwClockOrder *order, SwCatalogue *catalogue, const GArray *clocks, GError **error)
{
  g_autoptr (GPtrArray) photos = sw_photo_list (catalogue, order->trip, FALSE, error);

  for (guint i = 0; photos != NULL && i < photos->len; i++)
    {
      const SwPhoto *photo = g_ptr_array_index (photos, i);
      const SwCameraClock *clock
          = sw_camera_clock_for (clocks, photo->camera, photo->trip, photo->file, photo->id);
      SwOrderPhoto *kept;

      if (!photo->has_clock || photo->camera == 0 || strcmp (photo->kind, "photo") != 0)
        continue;
      kept = g_new0 (SwOrderPhoto, 1);
      kept->photo = photo->id;
      kept->camera = camera_index (order, photo);
      kept->file = g_strdup (photo->file);
      kept->clock_us = photo->clock_us;
      kept->t_us = civil_us (sw_photo_time_by (photo, clock, order->zone, NULL), order->zone);
      g_ptr_array_add (order->photos, kept);
    }
  return photos != NULL;
}

/* Clocks change in the order of files. */
static int
compare_files (gconstpointer a, gconstpointer b, gpointer order)
{
  const SwOrderPhoto *x = photo_at (order, *(const guint *)a);
  const SwOrderPhoto *y = photo_at (order, *(const guint *)b);
  int by_file = strcmp (x->file, y->file);

  return by_file != 0 ? by_file : (x->photo > y->photo) - (x->photo < y->photo);
}

static int
compare_cameras (gconstpointer a, gconstpointer b)
{
  const SwOrderCamera *x = *(SwOrderCamera *const *)a, *y = *(SwOrderCamera *const *)b;

  return (x->clock.camera > y->clock.camera) - (x->clock.camera < y->clock.camera);
}

static void
sort_cameras (SwClockOrder *order)
{
  g_autoptr (GPtrArray) met = g_ptr_array_new ();

  for (guint c = 0; c < order->cameras->len; c++)
    g_ptr_array_add (met, g_ptr_array_index (order->cameras, c));
  g_ptr_array_sort (order->cameras, compare_cameras);
  for (guint i = 0; i < order->photos->len; i++)
    {
      SwOrderPhoto *photo = g_ptr_array_index (order->photos, i);
      SwOrderCamera *camera = g_ptr_array_index (met, photo->camera);
      guint at = 0;

      g_ptr_array_find (order->cameras, camera, &at);
      photo->camera = (int)at;
      g_array_append_val (camera->photos, i);
    }
  for (guint c = 0; c < order->cameras->len; c++)
    g_array_sort_with_data (((SwOrderCamera *)g_ptr_array_index (order->cameras, c))->photos,
                            compare_files, order);
}

static void
fill_shift (SwPairingClock *clock, const SwCameraClock *row)
{
  clock->known = TRUE;
  clock->shift_s = row->shift_s;
  clock->spread_s = row->spread_s;
  clock->evidence = row->evidence;
  clock->set_by_person = row->set_by_person;
  clock->other_s = row->other_s;
  clock->other_share = row->other_share;
  clock->drift_s_day = row->drift_s_day;
  clock->counts = (SwClockCounts){
    .notes = row->notes, .faces = row->faces, .fixes = row->fixes, .beside = row->beside
  };
}

/* From its first photo on, then where it changes, as the rows come. */
static void
fill_clock (SwClockOrder *order, SwPairingClock *clock, const GArray *rows)
{
  double before = 0;

  for (guint k = 0; k < rows->len; k++)
    {
      const SwCameraClock *row = &g_array_index (rows, SwCameraClock, k);
      int at;

      if (row->camera != clock->camera || row->trip != order->trip)
        continue;
      if (row->from_photo == 0)
        fill_shift (clock, row);
      else if ((at = sw_clock_order_find (order, row->from_photo)) >= 0)
        {
          SwPairingClockPart part = { .from_photo = row->from_photo,
                                      .from_us = photo_at (order, (guint)at)->t_us,
                                      .shift_s = row->shift_s,
                                      .step_s = row->shift_s - before,
                                      .set_by_person = row->set_by_person };
          g_array_append_val (clock->parts, part);
        }
      before = row->shift_s;
    }
}

/* Nothing but other cameras speaks for it, and none of those is known by more. */
static void
mark_beside (SwClockOrder *order)
{
  gboolean lead_known = FALSE;

  for (guint c = 0; c < order->cameras->len; c++)
    {
      const SwPairingClock *clock
          = &((SwOrderCamera *)g_ptr_array_index (order->cameras, c))->clock;
      lead_known
          |= clock->known && (clock->set_by_person || clock->evidence > clock->counts.beside);
    }
  for (guint c = 0; !lead_known && c < order->cameras->len; c++)
    {
      SwPairingClock *clock = &((SwOrderCamera *)g_ptr_array_index (order->cameras, c))->clock;
      clock->beside = clock->known && clock->counts.beside > 0;
    }
}

static gboolean
read_clocks (SwClockOrder *order, SwCatalogue *catalogue, const GArray *rows, GError **error)
{
  g_autoptr (GArray) faces = sw_clock_face_list (catalogue, order->trip, error);

  if (faces == NULL)
    return FALSE;
  for (guint c = 0; c < order->cameras->len; c++)
    fill_clock (order, &((SwOrderCamera *)g_ptr_array_index (order->cameras, c))->clock, rows);
  for (guint k = 0; k < faces->len; k++)
    {
      const SwClockFace *face = &g_array_index (faces, SwClockFace, k);
      int at = sw_clock_order_find (order, face->photo);
      if (at >= 0)
        g_array_append_val (((SwOrderCamera *)g_ptr_array_index (
                                 order->cameras, photo_at (order, (guint)at)->camera))
                                ->clock.faces,
                            *face);
    }
  mark_beside (order);
  return TRUE;
}

SwClockOrder *
sw_clock_order_read (SwCatalogue *catalogue, gint64 number, GError **error)
{
  g_autoptr (SwClockOrder) order = g_new0 (SwClockOrder, 1);
  g_autoptr (SwTrip) trip = sw_trip_get (catalogue, number, error);
  g_autoptr (GArray) rows = trip != NULL ? sw_camera_clock_list (catalogue, error) : NULL;

  order->trip = number;
  order->photos = g_ptr_array_new_with_free_func (photo_free);
  order->cameras = g_ptr_array_new_with_free_func (camera_free);
  /* its own: the answer may outlast the catalogue */
  order->zone = sw_zone_new (sw_zone_name (sw_catalogue_zone (catalogue)), error);
  if (rows == NULL || order->zone == NULL || !read_photos (order, catalogue, rows, error))
    return NULL;
  order->first = trip->first;
  order->last = trip->last;
  sort_cameras (order);
  return read_clocks (order, catalogue, rows, error) ? g_steal_pointer (&order) : NULL;
}

int
sw_clock_order_find (const SwClockOrder *order, gint64 photo)
{
  for (guint i = 0; i < order->photos->len; i++)
    if (photo_at (order, i)->photo == photo)
      return (int)i;
  return -1;
}

double
sw_clock_order_shift (const SwClockOrder *order, guint photo)
{
  const SwOrderPhoto *at = photo_at (order, photo);

  return (double)(at->t_us - at->clock_us) / 1e6;
}

/* --- a change --- */

/* One of the camera's photos, by file: TRUE in *out_first where the clock has no earlier one. */
static gboolean
begins_part (const SwPairingClock *clock, gint64 photo)
{
  for (guint k = 0; k < clock->parts->len; k++)
    if (g_array_index (clock->parts, SwPairingClockPart, k).from_photo == photo)
      return TRUE;
  return FALSE;
}

/* New times of those that the change touches, G_MININT64 for the others: an array over photos. */
static gint64 *
changed_times (const SwClockOrder *order, const SwClockChange *change)
{
  gint64 *times = g_new (gint64, order->photos->len + 1);
  const SwOrderCamera *camera;
  gboolean on = FALSE;

  for (guint i = 0; i < order->photos->len; i++)
    times[i] = G_MININT64;
  if (change == NULL)
    return times;
  camera = g_ptr_array_index (order->cameras, (guint)change->camera);
  for (guint k = 0; k < camera->photos->len; k++)
    {
      guint at = g_array_index (camera->photos, guint, k);
      const SwOrderPhoto *photo = photo_at (order, at);
      /* from the camera's first photo on is all of them */
      gboolean all
          = change->from < 0 || g_array_index (camera->photos, guint, 0) == (guint)change->from;
      SwInstant instant;

      if (!all && on && begins_part (&camera->clock, photo->photo))
        break;
      on |= all || (int)at == change->from;
      if (!on)
        continue;
      instant = sw_civil_to_instant (
          sw_civil_from_us (photo->clock_us + (gint64)llround (change->shift_s * 1e6)), order->zone,
          NULL);
      times[at] = civil_us (instant, order->zone);
    }
  return times;
}

/* Puts an index where it belongs among the nearest so far. */
static void
keep_near (int *near, gint64 *near_us, int at, gint64 t_us, gboolean later)
{
  for (int k = 0; k < SW_ORDER_NEAR; k++)
    if (near[k] < 0 || (later ? t_us < near_us[k] : t_us > near_us[k]))
      {
        memmove (near + k + 1, near + k, sizeof *near * (SW_ORDER_NEAR - 1 - (gsize)k));
        memmove (near_us + k + 1, near_us + k, sizeof *near_us * (SW_ORDER_NEAR - 1 - (gsize)k));
        near[k] = at;
        near_us[k] = t_us;
        return;
      }
}

SwOrderPlace
sw_clock_order_place (const SwClockOrder *order, guint photo, const SwClockChange *change)
{
  g_autofree gint64 *times = changed_times (order, change);
  const SwOrderPhoto *middle = photo_at (order, photo);
  SwOrderPlace place = { .t_us = times[photo] != G_MININT64 ? times[photo] : middle->t_us };

  for (int k = 0; k < SW_ORDER_NEAR; k++)
    place.before[k] = place.after[k] = -1;
  for (guint i = 0; i < order->photos->len; i++)
    {
      const SwOrderPhoto *other = photo_at (order, i);
      gint64 t_us = times[i] != G_MININT64 ? times[i] : other->t_us;
      gboolean later = t_us != place.t_us ? t_us > place.t_us : other->photo > middle->photo;

      if (i != photo)
        keep_near (later ? place.after : place.before, later ? place.after_us : place.before_us,
                   (int)i, t_us, later);
    }
  return place;
}

/* How many of the sorted times lie before that one. */
static guint
rank_of (const GArray *sorted, gint64 t_us)
{
  guint low = 0, high = sorted->len;

  while (low < high)
    {
      guint middle = (low + high) / 2;
      if (g_array_index (sorted, gint64, middle) < t_us)
        low = middle + 1;
      else
        high = middle;
    }
  return low;
}

SwOrderEffect
sw_clock_order_effect (const SwClockOrder *order, const SwClockChange *change)
{
  g_autofree gint64 *times = changed_times (order, change);
  g_autoptr (GArray) kept = g_array_new (FALSE, FALSE, sizeof (gint64));
  SwOrderEffect effect = { 0 };

  for (guint i = 0; i < order->photos->len; i++)
    if (times[i] == G_MININT64)
      g_array_append_val (kept, photo_at (order, i)->t_us);
  for (guint i = 0; i < order->photos->len; i++)
    {
      SwDay day;

      if (times[i] == G_MININT64)
        continue;
      day = sw_day_of_instant (sw_civil_to_instant (sw_civil_from_us (times[i]), order->zone, NULL),
                               order->zone);
      effect.n_outside += day.n < order->first.n || day.n > order->last.n;
      effect.n_changed += times[i] != photo_at (order, i)->t_us;
      effect.n_passing += rank_of (kept, times[i]) != rank_of (kept, photo_at (order, i)->t_us);
    }
  return effect;
}

gboolean
sw_clock_order_seen (const SwClockOrder *order, guint photo, const char *text, double *out_shift_s,
                     GError **error)
{
  SwClockFace face = { 0 };
  const SwOrderPhoto *at = photo_at (order, photo);
  double shift;

  if (!sw_clock_face_parse (text, order->zone, &face, error))
    return FALSE;
  shift = (double)(face.seen_us - at->clock_us) / 1e6 + (face.resolution_s > 1 ? 30 : 0);
  if (!face.dated)
    {
      double now = sw_clock_order_shift (order, photo);
      shift = now + remainder (shift - now, DAY_S);
    }
  *out_shift_s = shift;
  return TRUE;
}
