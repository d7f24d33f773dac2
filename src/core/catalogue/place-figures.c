/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Adds up each place by itself, then hands every place's figures up to those it lies in. */
#include "core/catalogue/place-figures.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/db.h"
#include "core/catalogue/places.h"
#include "core/catalogue/states.h"

G_STATIC_ASSERT (SW_N_STATES <= G_N_ELEMENTS (((SwPlaceSummary *)NULL)->by_state));

static const struct
{
  const char *word, *icon;
} statuses[SW_N_PLACE_STATUS] = {
  [SW_PLACE_NOT_WALKED] = { N_ ("Not walked yet"), "sw-not-walked-symbolic" },
  [SW_PLACE_WALKED] = { N_ ("Walked"), "sw-walked-symbolic" },
  [SW_PLACE_EMPTY] = { N_ ("Empty"), "sw-empty-symbolic" },
  [SW_PLACE_ELSEWHERE] = { N_ ("Off the property"), "sw-at-home-symbolic" },
};

const char *
sw_place_status_word (SwPlaceStatus status)
{
  return statuses[status].word;
}

const char *
sw_place_status_icon (SwPlaceStatus status)
{
  return statuses[status].icon;
}

static int
compare_places (gconstpointer a, gconstpointer b)
{
  gint64 left = ((const SwPlaceSummary *)a)->place, right = ((const SwPlaceSummary *)b)->place;
  return left < right ? -1 : left > right;
}

static SwPlaceSummary *
summary_of (GArray *summaries, gint64 place)
{
  SwPlaceSummary key = { .place = place };
  guint at = 0;
  if (!g_array_binary_search (summaries, &key, compare_places, &at))
    return NULL;
  return &g_array_index (summaries, SwPlaceSummary, at);
}

static gboolean
add_mass (SwPlaceSummary *summary, gint64 ug, GError **error)
{
  if (!__builtin_add_overflow (summary->mass.ug, ug, &summary->mass.ug))
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("The masses of a place are too large to be added up; correct the heaviest."));
  return FALSE;
}

/* n items of a place that are in one state. */
static gboolean
count_state (SwPlaceSummary *summary, SwState state, const SwUse *use, GError **error)
{
  int n = (int)sw_col_int (use, 2);
  summary->items += n;
  summary->by_state[state] += n;
  if (state == SW_STATE_FOUND || state == SW_STATE_NO_SALE)
    summary->to_decide += n;
  if (state == SW_STATE_SOLD)
    summary->to_collect += n;
  if (!sw_state_stands (state))
    return TRUE;
  summary->standing += n;
  if (state != SW_STATE_SOLD) /* what is sold needs no picture any more */
    summary->to_photograph += (int)sw_col_int (use, 5);
  return sw_money_add (summary->asking, sw_money (sw_col_int (use, 3)), &summary->asking, error)
         && add_mass (summary, sw_col_int (use, 4), error);
}

static gboolean
count_items (SwCatalogue *catalogue, GArray *summaries, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_FIGURES_ITEMS, "");
  gboolean ok = TRUE;
  while (sw_db_next (catalogue, &use, &ok, error))
    {
      SwPlaceSummary *summary = summary_of (summaries, sw_col_int (&use, 0));
      g_autofree char *key = sw_col_text (&use, 1);
      SwState state = SW_STATE_FOUND;
      if (summary == NULL || !sw_state_from_key (key, &state))
        continue; /* a foreign state is a fault that check names; the plan shows the rest */
      if (!count_state (summary, state, &use, error))
        return FALSE;
    }
  return ok;
}

static gboolean
count_photos (SwCatalogue *catalogue, GArray *summaries, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_FIGURES_PHOTOS, "");
  gboolean ok = TRUE;
  while (sw_db_next (catalogue, &use, &ok, error))
    {
      SwPlaceSummary *summary = summary_of (summaries, sw_col_int (&use, 0));
      if (summary != NULL)
        summary->photos = (int)sw_col_int (&use, 1);
    }
  return ok;
}

/* Traces besides its items. */
static gboolean
see_who_was_there (SwCatalogue *catalogue, GArray *summaries, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_FIGURES_WALKED, "");
  g_autoptr (GArray) walked = sw_db_collect_ids (catalogue, &use, error);
  for (guint i = 0; walked != NULL && i < walked->len; i++)
    {
      SwPlaceSummary *summary = summary_of (summaries, g_array_index (walked, gint64, i));
      if (summary != NULL)
        summary->status = SW_PLACE_WALKED;
    }
  return walked != NULL;
}

static gboolean
add_up (SwPlaceSummary *outer, const SwPlaceSummary *inner, GError **error)
{
  outer->items += inner->items;
  outer->standing += inner->standing;
  for (gsize i = 0; i < G_N_ELEMENTS (outer->by_state); i++)
    outer->by_state[i] += inner->by_state[i];
  outer->to_decide += inner->to_decide;
  outer->to_photograph += inner->to_photograph;
  outer->to_collect += inner->to_collect;
  outer->photos += inner->photos;
  if (inner->status == SW_PLACE_WALKED)
    outer->status = SW_PLACE_WALKED;
  return sw_money_add (outer->asking, inner->asking, &outer->asking, error)
         && add_mass (outer, inner->mass.ug, error);
}

/* The list has every place after the one it lies in, so from its end each is whole when its turn
 * comes. */
static gboolean
hand_up (const GPtrArray *places, GArray *summaries, GError **error)
{
  for (guint i = places->len; i-- > 0;)
    {
      const SwPlace *place = g_ptr_array_index (places, i);
      SwPlaceSummary *outer = place->parent != 0 ? summary_of (summaries, place->parent) : NULL;
      const SwPlaceSummary *inner = summary_of (summaries, place->id);
      if (outer != NULL && inner != NULL && !add_up (outer, inner, error))
        return FALSE;
    }
  return TRUE;
}

/* A person's word that it was looked through makes a place without items an empty one; a photo or a
 * stop alone does not, its items may still come. */
static void
settle_status (const GPtrArray *places, GArray *summaries)
{
  for (guint i = 0; i < places->len; i++)
    {
      const SwPlace *place = g_ptr_array_index (places, i);
      SwPlaceSummary *summary = summary_of (summaries, place->id);
      if (summary == NULL)
        continue;
      if (place->off_property)
        summary->status = SW_PLACE_ELSEWHERE;
      else if (summary->items > 0)
        summary->status = summary->standing > 0 ? SW_PLACE_WALKED : SW_PLACE_EMPTY;
      else if (place->walked)
        summary->status = SW_PLACE_EMPTY;
    }
}

GArray *
sw_place_summaries (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GPtrArray) places = sw_place_list (catalogue, error);
  if (places == NULL)
    return NULL;
  g_autoptr (GArray) summaries
      = g_array_sized_new (FALSE, TRUE, sizeof (SwPlaceSummary), places->len);
  for (guint i = 0; i < places->len; i++)
    {
      SwPlaceSummary summary = { .place = ((const SwPlace *)g_ptr_array_index (places, i))->id };
      g_array_append_val (summaries, summary);
    }
  g_array_sort (summaries, compare_places);
  if (!count_items (catalogue, summaries, error) || !count_photos (catalogue, summaries, error)
      || !see_who_was_there (catalogue, summaries, error) || !hand_up (places, summaries, error))
    return NULL;
  settle_status (places, summaries);
  return g_steal_pointer (&summaries);
}
