/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Puts what was seen of a trip in time order and draws together what is in one place. */
#include "core/catalogue/walk-line.h"

#include "core/catalogue/db.h"
#include "core/catalogue/notes.h"
#include "core/catalogue/photos.h"

typedef struct
{
  gint64 place;
  SwInstant at;
  int photos; /* 1, or 0 for a note */
} Trace;

/* photo -> its place; the first row of a photo counts. */
static GHashTable *
places_of_photos (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_autoptr (GHashTable) places
      = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_WALK_PHOTO_PLACES, "i", trip);
  gboolean ok = TRUE;
  while (sw_db_next (catalogue, &use, &ok, error))
    {
      gint64 photo = sw_col_int (&use, 0), place = sw_col_int (&use, 1);
      if (!g_hash_table_contains (places, &photo))
        g_hash_table_insert (places, g_memdup2 (&photo, sizeof photo),
                             g_memdup2 (&place, sizeof place));
    }
  return ok ? g_steal_pointer (&places) : NULL;
}

static gboolean
add_photos (SwCatalogue *catalogue, gint64 trip, GArray *traces, GError **error)
{
  g_autoptr (GHashTable) places = places_of_photos (catalogue, trip, error);
  g_autoptr (GArray) clocks = places != NULL ? sw_camera_clock_list (catalogue, error) : NULL;
  g_autoptr (GPtrArray) photos
      = clocks != NULL ? sw_photo_list (catalogue, trip, FALSE, error) : NULL;
  for (guint i = 0; photos != NULL && i < photos->len; i++)
    {
      const SwPhoto *photo = g_ptr_array_index (photos, i);
      const gint64 *place = g_hash_table_lookup (places, &photo->id);
      SwCivilKind kind;
      Trace trace = { .photos = 1 };
      if (place == NULL || !sw_photo_property_time (catalogue, clocks, photo, &trace.at, &kind))
        continue;
      trace.place = *place;
      g_array_append_val (traces, trace);
    }
  return photos != NULL;
}

static gboolean
add_notes (SwCatalogue *catalogue, gint64 trip, GArray *traces, GError **error)
{
  g_autoptr (GPtrArray) notes = sw_note_list (catalogue, trip, error);
  for (guint i = 0; notes != NULL && i < notes->len; i++)
    {
      const SwNote *note = g_ptr_array_index (notes, i);
      Trace trace = { note->place, note->at, 0 };
      if (note->place != 0)
        g_array_append_val (traces, trace);
    }
  return notes != NULL;
}

static int
compare_traces (gconstpointer a, gconstpointer b)
{
  const Trace *x = a, *y = b;
  if (x->at.us != y->at.us)
    return x->at.us < y->at.us ? -1 : 1;
  return (x->place > y->place) - (x->place < y->place);
}

GArray *
sw_walk_line (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_autoptr (GArray) traces = g_array_new (FALSE, FALSE, sizeof (Trace));
  g_autoptr (GArray) legs = g_array_new (FALSE, FALSE, sizeof (SwWalkLeg));
  SwWalkLeg *leg = NULL;
  if (!add_photos (catalogue, trip, traces, error) || !add_notes (catalogue, trip, traces, error))
    return NULL;
  g_array_sort (traces, compare_traces);
  for (guint i = 0; i < traces->len; i++)
    {
      const Trace *trace = &g_array_index (traces, Trace, i);
      if (leg == NULL || leg->place != trace->place)
        {
          SwWalkLeg next = { trace->place, trace->at, trace->at, 0 };
          g_array_append_val (legs, next);
          leg = &g_array_index (legs, SwWalkLeg, legs->len - 1);
        }
      leg->to = trace->at;
      leg->photos += trace->photos;
    }
  return g_steal_pointer (&legs);
}
