/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/catalogue/van.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/length.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/items.h"
#include "core/catalogue/trips.h"

#define TONNE_UG (1000 * SW_UG_PER_KG)
#define PAYLOAD_MOST (100 * TONNE_UG)
#define LENGTH_MOST_MM 30000

/* ---- the van ---- */

gboolean
sw_van_get (SwCatalogue *catalogue, gboolean *out_found, SwVan *out_van, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_VAN_GET, "");

  if (!sw_db_step (catalogue, &use, out_found, error))
    return FALSE;
  if (*out_found)
    *out_van = (SwVan){
      .payload = { sw_col_int (&use, 0) },
      .length_mm = sw_col_int (&use, 1),
      .width_mm = sw_col_int (&use, 2),
      .height_mm = sw_col_int (&use, 3),
      .door_width_mm = sw_col_int (&use, 4),
      .door_height_mm = sw_col_int (&use, 5),
    };
  return TRUE;
}

static gboolean
check_van (const SwVan *van, GError **error)
{
  const gint64 lengths[]
      = { van->length_mm, van->width_mm, van->height_mm, van->door_width_mm, van->door_height_mm };

  if (van->payload.ug <= 0 || van->payload.ug > PAYLOAD_MOST)
    {
      g_set_error (
          error, SW_ERROR, SW_ERROR_BAD_INPUT,
          _ ("A van may carry more than nothing and at most 100 t; its papers say how much."));
      return FALSE;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (lengths); i++)
    if (lengths[i] < 0 || lengths[i] > LENGTH_MOST_MM)
      {
        g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                     _ ("The sides of a van are at most 30 m; measure inside, in metres."));
        return FALSE;
      }
  if ((van->length_mm == 0) != (van->width_mm == 0)
      || (van->door_width_mm == 0) != (van->door_height_mm == 0))
    {
      g_set_error (
          error, SW_ERROR, SW_ERROR_BAD_INPUT,
          _ ("The floor and the door opening have two sides each; give both, or neither."));
      return FALSE;
    }
  return TRUE;
}

static char *
van_sentence (const SwVan *van)
{
  g_autofree char *payload = sw_mass_to_text (van->payload);
  g_autofree char *length = sw_length_to_text (van->length_mm);
  g_autofree char *width = sw_length_to_text (van->width_mm);

  return van->length_mm > 0 ? g_strdup_printf (_ ("The van carries %s on a floor of %s by %s"),
                                               payload, length, width)
                            : g_strdup_printf (_ ("The van carries %s"), payload);
}

gboolean
sw_van_set (SwCatalogue *catalogue, const SwVan *van, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *sentence = NULL;

  if (!check_van (van, error) || !sw_act_begin (&act, catalogue, error)
      || !sw_db_run (catalogue, error, SW_STMT_VAN_PUT, "iiiiii", van->payload.ug, van->length_mm,
                     van->width_mm, van->height_mm, van->door_width_mm, van->door_height_mm))
    return FALSE;
  sentence = van_sentence (van);
  return sw_act_tell (&act, SW_SUBJECT_CATALOGUE, 0, "van.set", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

/* ---- a trip's load ---- */

gboolean
sw_trip_load_get (SwCatalogue *catalogue, gint64 trip, SwTripLoad *out_load, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_TRIP_LOAD_GET, "i", trip);
  gboolean row = FALSE;

  if (!sw_db_step (catalogue, &use, &row, error))
    return FALSE;
  *out_load = row ? (SwTripLoad){ sw_col_int (&use, 0), { sw_col_int (&use, 1) } }
                  : (SwTripLoad){ 1, { 0 } };
  return TRUE;
}

gboolean
sw_trip_load_set (SwCatalogue *catalogue, gint64 trip, const SwTripLoad *load, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwTrip) there = NULL;
  g_autofree char *kept = NULL, *sentence = NULL;

  if (load->runs < 1 || load->runs > SW_VAN_RUNS_MOST || load->kept.ug < 0
      || load->kept.ug > PAYLOAD_MOST)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("The van goes 1 to %d times a trip, and keeps at most 100 t free for scrap."),
                   SW_VAN_RUNS_MOST);
      return FALSE;
    }
  if (!sw_act_begin (&act, catalogue, error)
      || (there = sw_trip_get (catalogue, trip, error)) == NULL
      || !sw_db_run (catalogue, error, SW_STMT_TRIP_LOAD_PUT, "iii", trip, load->runs,
                     load->kept.ug))
    return FALSE;
  kept = sw_mass_to_text (load->kept);
  sentence = sw_text_counted (
      load->runs, "Trip %" PRId64 ": the van goes %" PRId64 " time, %s of it kept free for scrap",
      "Trip %" PRId64 ": the van goes %" PRId64 " times, %s of each kept free for scrap", trip,
      load->runs, kept);
  return sw_act_tell (&act, SW_SUBJECT_TRIP, trip, "trip.load", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

/* ---- wishes ---- */

static const char *const wish_words[] = { NULL, N_ ("must"), N_ ("not this time") };
G_STATIC_ASSERT (G_N_ELEMENTS (wish_words) == SW_N_WISHES);

const char *
sw_wish_word (SwWish wish)
{
  return wish >= 0 && wish < SW_N_WISHES ? wish_words[wish] : NULL;
}

static void
fill_wish (const SwUse *use, gpointer out)
{
  g_autofree char *word = sw_col_text (use, 1);
  SwLoadWishRow *row = out;

  *row = (SwLoadWishRow){ sw_col_int (use, 0), SW_WISH_NONE };
  for (int w = SW_WISH_MUST; w < SW_N_WISHES; w++)
    if (g_strcmp0 (word, wish_words[w]) == 0)
      row->wish = (SwWish)w;
}

GArray *
sw_load_wish_list (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_LOAD_WISH_LIST, "i", trip);

  return sw_db_collect_plain (catalogue, &use, sizeof (SwLoadWishRow), fill_wish, error);
}

static gboolean
write_wish (SwCatalogue *catalogue, gint64 trip, const SwItem *item, SwWish wish, GError **error)
{
  if (wish == SW_WISH_NONE)
    return sw_db_run (catalogue, error, SW_STMT_LOAD_WISH_DROP, "ii", trip, item->id);
  if (wish == SW_WISH_MUST && !sw_state_stands (item->state) && item->state != SW_STATE_SOLD)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("%s is %s and does not stand there any more; it cannot be loaded."),
                   item->name, _ (sw_state_word (item->state)));
      return FALSE;
    }
  return sw_db_run (catalogue, error, SW_STMT_LOAD_WISH_PUT, "iit", trip, item->id,
                    wish_words[wish]);
}

gboolean
sw_load_wish_set (SwCatalogue *catalogue, gint64 trip, gint64 item, SwWish wish, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwTrip) there = NULL;
  g_autoptr (SwItem) thing = NULL;
  g_autofree char *sentence = NULL;

  if (!sw_act_begin (&act, catalogue, error)
      || (there = sw_trip_get (catalogue, trip, error)) == NULL
      || (thing = sw_item_get (catalogue, item, error)) == NULL
      || !write_wish (catalogue, trip, thing, wish, error))
    return FALSE;
  sentence = g_strdup_printf (_ ("%s: %s on trip %" PRId64), thing->name,
                              wish == SW_WISH_MUST            ? _ ("must go in the load")
                              : wish == SW_WISH_NOT_THIS_TIME ? _ ("not in the load")
                                                              : _ ("loaded as it pays"),
                              trip);
  return sw_act_tell (&act, SW_SUBJECT_ITEM, item, "item.load", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}
