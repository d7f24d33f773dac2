/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sorts the open photos of a trip by how far in time they are from those of an item. */
#include "core/catalogue/open-photos.h"

#include <string.h>

#include "core/catalogue/items.h"

/* How far a photo is from the item's, in microseconds. */
typedef struct
{
  SwPhoto *photo; /* owned until it is taken */
  gint64 far;
} Open;

static void
open_clear (gpointer data)
{
  g_clear_pointer (&((Open *)data)->photo, sw_photo_free);
}

static int
compare_open (gconstpointer a, gconstpointer b)
{
  const Open *x = a, *y = b;

  if (x->far != y->far)
    return x->far < y->far ? -1 : 1;
  return x->photo->id < y->photo->id ? -1 : x->photo->id > y->photo->id;
}

/* G_MAXINT64 where the photo has no time. */
static gint64
time_of (SwCatalogue *catalogue, const GArray *clocks, const SwPhoto *photo)
{
  SwInstant at;
  SwCivilKind kind;

  return sw_photo_property_time (catalogue, clocks, photo, &at, &kind) ? at.us : G_MAXINT64;
}

/* Photos that show a thing, or that a person said show none: a set of their numbers. */
static GHashTable *
decided_photos (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GArray) shows = sw_photo_shows_list (catalogue, error);
  GHashTable *decided;

  if (shows == NULL)
    return NULL;
  decided = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  for (guint i = 0; i < shows->len; i++)
    {
      const SwPhotoShows *row = &g_array_index (shows, SwPhotoShows, i);
      g_hash_table_add (decided, g_memdup2 (&row->photo, sizeof row->photo));
    }
  return decided;
}

/* When the item was photographed: sorted GArray of gint64. */
static GArray *
times_of (SwCatalogue *catalogue, const GArray *clocks, gint64 item, GError **error)
{
  g_autoptr (GArray) photos = sw_item_photos (catalogue, item, error);
  g_autoptr (GArray) times = g_array_new (FALSE, FALSE, sizeof (gint64));

  if (photos == NULL)
    return NULL;
  for (guint i = 0; i < photos->len; i++)
    {
      g_autoptr (SwPhoto) photo
          = sw_photo_get (catalogue, g_array_index (photos, gint64, i), error);
      gint64 at;

      if (photo == NULL)
        return NULL;
      at = time_of (catalogue, clocks, photo);
      if (at != G_MAXINT64)
        g_array_append_val (times, at);
    }
  return g_steal_pointer (&times);
}

static gint64
distance (const GArray *times, gint64 at)
{
  gint64 least = G_MAXINT64;

  if (at == G_MAXINT64)
    return at;
  for (guint i = 0; i < times->len; i++)
    least = MIN (least, ABS (g_array_index (times, gint64, i) - at));
  return times->len > 0 ? least : at;
}

GPtrArray *
sw_open_photos_near (SwCatalogue *catalogue, gint64 item, guint most, GError **error)
{
  g_autoptr (SwItem) row = sw_item_get (catalogue, item, error);
  g_autoptr (GHashTable) decided = row != NULL ? decided_photos (catalogue, error) : NULL;
  g_autoptr (GArray) clocks = decided != NULL ? sw_camera_clock_list (catalogue, error) : NULL;
  g_autoptr (GArray) times = clocks != NULL ? times_of (catalogue, clocks, item, error) : NULL;
  g_autoptr (GPtrArray) photos
      = times != NULL ? sw_photo_list (catalogue, row->trip, FALSE, error) : NULL;
  g_autoptr (GArray) found = g_array_new (FALSE, FALSE, sizeof (Open));
  g_autoptr (GPtrArray) open = NULL;

  if (photos == NULL)
    return NULL;
  g_array_set_clear_func (found, open_clear);
  for (guint i = 0; i < photos->len; i++)
    {
      SwPhoto **photo = (SwPhoto **)&g_ptr_array_index (photos, i);
      Open entry = { .far = 0 };

      if (strcmp ((*photo)->kind, "photo") != 0 || g_hash_table_contains (decided, &(*photo)->id))
        continue;
      entry.far = distance (times, time_of (catalogue, clocks, *photo));
      entry.photo = g_steal_pointer (photo);
      g_array_append_val (found, entry);
    }
  g_array_sort (found, compare_open);
  open = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_photo_free);
  for (guint i = 0; i < MIN (found->len, most); i++)
    g_ptr_array_add (open, g_steal_pointer (&g_array_index (found, Open, i).photo));
  return g_steal_pointer (&open);
}
