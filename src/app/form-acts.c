/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Acts of forms, run on the catalogue thread, with their refusal handed back to the form. */
#include "app/form-acts.h"

#include "app/text.h"
#include "app/typed-day.h"
#include "core/base/error.h"
#include "core/base/outline.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"

/* ---- places ---- */

static gboolean
places_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  g_autoptr (GPtrArray) entries = sw_outline_parse (data, error);
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *sentence = NULL;
  int n = 0;

  if (entries == NULL || !sw_act_begin (&act, catalogue, error))
    return FALSE;
  for (guint i = 0; i < entries->len; i++)
    {
      const SwOutlineEntry *entry = g_ptr_array_index (entries, i);
      gboolean made = FALSE;
      if (!sw_place_ensure (catalogue, entry->path, NULL, &made, error))
        {
          g_prefix_error (error, _ ("Line %d: "), entry->line);
          return FALSE;
        }
      n += made;
    }
  if (n == 0)
    return TRUE; /* nothing new: no act */
  sentence = sw_text_count (n, "%d place added", "%d places added");
  return sw_act_commit (&act, sentence, error);
}

void
sw_form_act_places (SwStore *store, const char *outline, GObject *owner, SwTryDone done)
{
  sw_store_try (store, places_run, g_strdup (outline), g_free, owner, done);
}

typedef struct
{
  char *path;
  gboolean off_property;
} Place;

static void
place_free (gpointer data)
{
  g_free (((Place *)data)->path);
  g_free (data);
}

static gboolean
place_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Place *place = data;

  return sw_place_add (catalogue, place->path, place->off_property, NULL, NULL, NULL, error);
}

void
sw_form_act_place (SwStore *store, const char *path, gboolean off_property, GObject *owner,
                   SwTryDone done)
{
  Place *place = g_new0 (Place, 1);

  place->path = g_strdup (path);
  place->off_property = off_property;
  sw_store_try (store, place_run, place, place_free, owner, done);
}

/* ---- a trip ---- */

typedef struct
{
  gint64 number; /* 0: a new one */
  char *title, *first, *last;
} Trip;

static void
trip_free (gpointer data)
{
  Trip *trip = data;

  g_free (trip->title);
  g_free (trip->first);
  g_free (trip->last);
  g_free (trip);
}

/* Photos of those days that were brought in before the trip was known belong to it. */
static gboolean
take_photos (SwCatalogue *catalogue, SwDay first, SwDay last, gint64 number, GError **error)
{
  g_autoptr (GArray) clocks = sw_camera_clock_list (catalogue, error);
  g_autoptr (GPtrArray) photos
      = clocks != NULL ? sw_photo_list (catalogue, -1, FALSE, error) : NULL;

  for (guint i = 0; photos != NULL && i < photos->len; i++)
    {
      const SwPhoto *photo = g_ptr_array_index (photos, i);
      SwInstant at;
      SwCivilKind kind;
      SwDay day;
      if (!sw_photo_property_time (catalogue, clocks, photo, &at, &kind))
        continue;
      day = sw_day_of_instant (at, sw_catalogue_zone (catalogue));
      if (day.n >= first.n && day.n <= last.n
          && !sw_photo_set_trip (catalogue, photo->id, number, error))
        return FALSE;
    }
  return photos != NULL;
}

static gboolean
put_trip (SwCatalogue *catalogue, gint64 *number, const char *title, SwDay first, SwDay last,
          GError **error)
{
  const SwTripChange change = { .title = title, .first = &first, .last = &last };

  return *number == 0 ? sw_trip_add (catalogue, title, first, last, number, error)
                      : sw_trip_change (catalogue, *number, &change, error);
}

static gboolean
trip_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Trip *trip = data;
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *title = sw_text_tidy (trip->title);
  g_autofree char *sentence
      = g_strdup_printf (trip->number == 0 ? _ ("%s: trip added") : _ ("%s: trip changed"), title);
  SwDay first, last;
  gint64 number = trip->number;

  if (!sw_typed_day (catalogue, trip->first, SW_DAY_NEAR, &first, error)
      || !sw_typed_day (catalogue, trip->last, SW_DAY_NEAR, &last, error))
    return FALSE;
  return sw_act_begin (&act, catalogue, error)
         && put_trip (catalogue, &number, title, first, last, error)
         && take_photos (catalogue, first, last, number, error)
         && sw_act_commit (&act, sentence, error);
}

void
sw_form_act_trip (SwStore *store, gint64 number, const char *title, const char *first,
                  const char *last, GObject *owner, SwTryDone done)
{
  Trip *trip = g_new0 (Trip, 1);

  trip->number = number;
  trip->title = g_strdup (title);
  trip->first = g_strdup (first);
  trip->last = g_strdup (last);
  sw_store_try (store, trip_run, trip, trip_free, owner, done);
}

/* ---- how far it has come ---- */

static gpointer
keep_run (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  return GINT_TO_POINTER (sw_set_up_put (catalogue, data, error));
}

static void
on_kept (GObject *object, GAsyncResult *result, gpointer store)
{
  sw_store_finish (store, result, NULL); /* a draft that could not be kept is still on the screen */
  g_object_unref (store);
}

void
sw_form_keep_set_up (SwStore *store, const SwSetUp *set_up)
{
  SwSetUp *copy = g_new0 (SwSetUp, 1);

  copy->step = set_up->step;
  copy->places = g_strdup (set_up->places);
  copy->title = g_strdup (set_up->title);
  copy->first = g_strdup (set_up->first);
  copy->last = g_strdup (set_up->last);
  sw_store_read (store, SW_RANK_KEY, keep_run, copy, (GDestroyNotify)sw_set_up_free, NULL, NULL,
                 on_kept, g_object_ref (store));
}
