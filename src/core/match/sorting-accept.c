/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A proposal that is accepted: what was thought of the photos becomes what they show. */
#include "core/match/sorting-private.h"

#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/items.h"
#include "core/catalogue/photos.h"
#include "core/catalogue/places.h"
#include "core/catalogue/tags.h"
#include "core/catalogue/trips.h"
#include "core/match/pairing.h"
#include "core/match/signs.h"

gboolean
sw_sorting_make_item (SwCatalogue *catalogue, const SwStopRecord *stop, gint64 *out_item,
                      GError **error)
{
  SwItemNew item = { .trip = stop->trip, .place = stop->place, .neutral = TRUE };
  g_autofree char *name = g_strdup (stop->name);
  g_autoptr (SwPlace) place = NULL;
  gint64 taken = 0;

  if (item.place == 0 && !sw_place_ensure (catalogue, SW_PLACE_UNKNOWN, &item.place, NULL, error))
    return FALSE;
  if ((place = sw_place_get (catalogue, item.place, error)) == NULL
      || !sw_item_in_place (catalogue, item.place, name, &taken, error))
    return FALSE;
  for (int number = sw_neutral_number (name) + 1; taken != 0; number++)
    {
      g_free (name);
      name = stop->place != 0 ? g_strdup_printf (_ ("thing %d in %s"), number, place->name)
                              : g_strdup_printf (_ ("thing %d"), number);
      if (!sw_item_in_place (catalogue, item.place, name, &taken, error))
        return FALSE;
    }
  item.name = name;
  return sw_item_add (catalogue, &item, out_item, error)
         && sw_proposal_set_item (catalogue, sw_stop_key (stop), *out_item, error);
}

/* The first tag that the stop's photos show, 0 for none. */
static gint64
tag_of (const SwStopRecord *stop, const GPtrArray *signs)
{
  for (guint k = 0; k < stop->photos->len; k++)
    {
      const SwSign *sign = sw_signs_find (signs, g_array_index (stop->photos, gint64, k));

      if (sign != NULL && sign->tag != 0)
        return sign->tag;
    }
  return 0;
}

/* The photos show no item; those of a place's card are the place's. */
static gboolean
accept_none (SwCatalogue *catalogue, const GArray *open, const GPtrArray *signs, GError **error)
{
  for (guint k = 0; k < open->len; k++)
    {
      gint64 photo = g_array_index (open, gint64, k);
      const SwSign *sign = sw_signs_find (signs, photo);

      if (sign != NULL && sign->card && !sw_place_add_photo (catalogue, sign->place, photo, error))
        return FALSE;
    }
  return sw_item_assign (catalogue, 0, (const gint64 *)(void *)open->data, open->len, FALSE, error);
}

/* A new thing with a tag that was accepted before is that item. */
static gboolean
find_or_make_item (SwCatalogue *catalogue, const SwStopRecord *stop, gint64 bearer,
                   gint64 *out_item, GError **error)
{
  if (bearer == 0)
    return sw_sorting_make_item (catalogue, stop, out_item, error);
  *out_item = bearer;
  return sw_proposal_set_item (catalogue, sw_stop_key (stop), bearer, error);
}

/* What a person said of the photo, SW_STOP_OPEN where nothing. */
static gint64
said_of (const SwStopRecord *stop, gint64 photo)
{
  for (guint i = 0; i < stop->decided->len; i++)
    if (sw_sorting_photo_at (stop, i) == photo)
      return g_array_index (stop->decided, gint64, i);
  return SW_STOP_OPEN;
}

/* The photos show those things too. What a tag hangs on is an item once its own stop was accepted;
 * until then it is proposed on. */
static gboolean
accept_also (SwCatalogue *catalogue, const SwStopRecord *stop, gint64 own, GError **error)
{
  for (guint k = 0; k < stop->also->len; k++)
    {
      const SwStopAlso *also = g_ptr_array_index (stop->also, k);
      gint64 item = also->item, said = said_of (stop, also->photo);

      if (item == 0 && also->tag != 0 && !sw_tag_item (catalogue, also->tag, &item, error))
        return FALSE;
      if (item != 0 && item != own && said != item && said != SW_STOP_NO_ITEM
          && !sw_item_assign (catalogue, item, &also->photo, 1, TRUE, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
accept_photos (SwCatalogue *catalogue, const SwStopRecord *stop, GHashTable *decided,
               const GPtrArray *signs, gint64 *out_item, GError **error)
{
  gint64 tag = tag_of (stop, signs), bearer = 0;
  g_autoptr (GArray) open = g_array_new (FALSE, FALSE, sizeof (gint64));
  gint64 item = stop->item;

  for (guint k = 0; k < stop->photos->len; k++)
    {
      gint64 *photo = &g_array_index (stop->photos, gint64, k);

      if (!g_hash_table_contains (decided, photo))
        g_array_append_val (open, *photo);
    }
  *out_item = item;
  if (open->len == 0)
    return TRUE;
  if (item == 0 && !stop->is_new)
    return accept_none (catalogue, open, signs, error);
  if (tag != 0 && !sw_tag_item (catalogue, tag, &bearer, error))
    return FALSE;
  if (stop->is_new && !find_or_make_item (catalogue, stop, bearer, &item, error))
    return FALSE;
  *out_item = item;
  if (tag != 0 && bearer == 0 && !sw_tag_set (catalogue, tag, item, error))
    return FALSE;
  return sw_item_assign (catalogue, item, (const gint64 *)(void *)open->data, open->len, FALSE,
                         error);
}

static gboolean
accept_stop (SwCatalogue *catalogue, const SwStopRecord *stop, GHashTable *decided,
             const GPtrArray *signs, gint64 *out_item, GError **error)
{
  return accept_photos (catalogue, stop, decided, signs, out_item, error)
         && accept_also (catalogue, stop, *out_item, error);
}

/* Photos that a person decided, as a set of pointers into shows. */
static GHashTable *
decided_photos (GArray *shows)
{
  GHashTable *decided = g_hash_table_new (g_int64_hash, g_int64_equal);

  for (guint k = 0; k < shows->len; k++)
    {
      SwPhotoShows *row = &g_array_index (shows, SwPhotoShows, k);

      if (!row->also)
        g_hash_table_add (decided, &row->photo);
    }
  return decided;
}

/* What every acceptance reads first. */
typedef struct
{
  GPtrArray *stops, *signs;
  GArray *shows;
  GHashTable *decided;
} Known;

static void
known_clear (Known *known)
{
  g_clear_pointer (&known->decided, g_hash_table_unref);
  g_clear_pointer (&known->shows, g_array_unref);
  g_clear_pointer (&known->signs, g_ptr_array_unref);
  g_clear_pointer (&known->stops, g_ptr_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Known, known_clear)

static gboolean
known_read (Known *known, SwCatalogue *catalogue, gint64 trip_number, GError **error)
{
  g_autoptr (SwTrip) trip = sw_trip_get (catalogue, trip_number, error);

  if (trip == NULL || (known->stops = sw_proposal_list (catalogue, trip_number, error)) == NULL
      || (known->shows = sw_photo_shows_list (catalogue, error)) == NULL
      || (known->signs = sw_signs_load (catalogue, trip_number, error)) == NULL)
    return FALSE;
  known->decided = decided_photos (known->shows);
  return TRUE;
}

gboolean
sw_sorting_accept_band (SwCatalogue *catalogue, gint64 trip, SwBand band, int *out_stops,
                        GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_auto (Known) known = { 0 };
  int count = 0;

  if (!sw_act_begin (&act, catalogue, error) || !known_read (&known, catalogue, trip, error))
    return FALSE;
  for (guint k = 0; k < known.stops->len; k++)
    {
      const SwStopRecord *stop = g_ptr_array_index (known.stops, k);
      gint64 item = 0;

      if (stop->n_open == 0 || g_strcmp0 (stop->band, sw_band_word (band)) != 0)
        continue;
      if (!accept_stop (catalogue, stop, known.decided, known.signs, &item, error))
        return FALSE;
      count += item != 0;
    }
  g_autofree char *sentence = g_strdup_printf (_ ("%d %s stops of trip %" PRId64 " accepted"),
                                               count, _ (sw_band_word (band)), trip);
  if (!sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_stops != NULL)
    *out_stops = count;
  return TRUE;
}

gboolean
sw_sorting_accept (SwCatalogue *catalogue, gint64 trip, gint64 stop, gint64 *out_item,
                   GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_auto (Known) known = { 0 };
  gint64 item = 0;
  int k;

  if (!sw_act_begin (&act, catalogue, error) || !known_read (&known, catalogue, trip, error)
      || (k = sw_sorting_find_stop (known.stops, stop, error)) < 0
      || !accept_stop (catalogue, sw_sorting_stop_at (known.stops, k), known.decided, known.signs,
                       &item, error)
      || !sw_sorting_fence (catalogue, known.stops, k, error))
    return FALSE;
  g_autofree char *sentence
      = g_strdup_printf (_ ("Stop %d of trip %" PRId64 " accepted"), k + 1, trip);
  if (!sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_item != NULL)
    *out_item = item;
  return TRUE;
}
