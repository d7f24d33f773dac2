/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/trip/last-day.h"
#include "core/base/language.h"

#include "core/catalogue/deals.h"
#include "core/catalogue/outlets.h"
#include "core/catalogue/places.h"
#include "core/catalogue/site.h"
#include "core/trade/scrap.h"

static void
thing_free (gpointer data)
{
  SwLastThing *thing = data;

  sw_item_free (thing->item);
  g_free (thing->outlet);
  g_free (thing);
}

void
sw_last_day_free (SwLastDay *last)
{
  if (last == NULL)
    return;
  g_clear_pointer (&last->things, g_ptr_array_unref);
  g_free (last);
}

gboolean
sw_falling_price (SwMoney asking, SwMoney least, int k, int n, SwMoney *out_price, GError **error)
{
  SwMoney off;

  if (asking.minor <= least.minor)
    {
      *out_price = asking;
      return TRUE;
    }
  if (!sw_money_scale (sw_money (asking.minor - least.minor), n - k, n, SW_ROUND_HALF_UP, &off,
                       error))
    return FALSE;
  *out_price = sw_money (least.minor + off.minor);
  return TRUE;
}

/* ---- the calendar and the rate ---- */

static void
count_trips (SwLastDay *last, const GPtrArray *trips, SwDay today)
{
  gboolean any = FALSE;

  last->fetched_by = last->day;
  for (guint i = 0; i < trips->len; i++)
    {
      const SwTrip *trip = g_ptr_array_index (trips, i);

      if (trip->last.n < today.n || trip->last.n > last->day.n)
        continue;
      last->trips_left++;
      if (!any || trip->last.n > last->fetched_by.n)
        last->fetched_by = trip->last;
      any = TRUE;
    }
}

static void
find_rate_days (SwLastDay *last, const GPtrArray *trips, SwDay today)
{
  gint32 first = today.n;

  for (guint i = 0; i < trips->len; i++)
    first = MIN (first, ((const SwTrip *)g_ptr_array_index (trips, i))->first.n);
  last->rate_days = CLAMP (today.n - first, 1, SW_LAST_RATE_DAYS);
}

static gboolean
count_gone (SwLastDay *last, SwCatalogue *catalogue, SwDay today, GError **error)
{
  g_autoptr (GPtrArray) gone = sw_deal_gone_items (catalogue, error);

  for (guint i = 0; gone != NULL && i < gone->len; i++)
    {
      const SwGoneItem *item = g_ptr_array_index (gone, i);

      last->gone += item->day.n <= today.n && item->day.n > today.n - last->rate_days;
    }
  return gone != NULL;
}

/* ---- things ---- */

typedef struct
{
  SwLastDay *last;
  GPtrArray *outlets;
  GHashTable *off; /* places off the property */
  SwScrapRates *rates;
  SwDay today;
} Gather;

/* Days that are not said count as none; running_days not said: the outlet has no terms to count by.
 */
static int
days_of (const SwOutlet *outlet)
{
  return outlet->running_days < 0 ? -1
                                  : (int)(outlet->running_days + MAX (0, outlet->pay_days)
                                          + MAX (0, outlet->collect_days));
}

/* Its own outlet, else the quickest with terms. */
static const SwOutlet *
outlet_for (const Gather *gather, const SwItem *item)
{
  const SwOutlet *best = NULL;

  for (guint i = 0; i < gather->outlets->len; i++)
    {
      const SwOutlet *outlet = g_ptr_array_index (gather->outlets, i);

      if (days_of (outlet) < 0 || outlet->kind == SW_OUTLET_SCRAP_YARD
          || outlet->kind == SW_OUTLET_GIFT)
        continue;
      if (outlet->id == item->outlet)
        return outlet;
      if (best == NULL || days_of (outlet) < days_of (best))
        best = outlet;
    }
  return best;
}

static gboolean
find_money (const Gather *gather, SwLastThing *thing, GError **error)
{
  const SwItem *item = thing->item;
  SwMoney least = SW_MONEY_ZERO;

  if (item->scrap_class != NULL && item->has_mass
      && !sw_scrap_rates_floor (gather->rates, item->scrap_class, item->mass, gather->today,
                                &thing->has_floor, &thing->floor, error))
    return FALSE;
  if (thing->has_floor && thing->floor.minor > 0)
    least = thing->floor;
  thing->has_price = item->has_asking && gather->last->trips_left > 0;
  return !thing->has_price
         || sw_falling_price (item->asking, least, 1, gather->last->trips_left + 1, &thing->price,
                              error);
}

/* Takes the item. */
static gboolean
add_thing (const Gather *gather, SwItem *item, GError **error)
{
  SwLastThing *thing = g_new0 (SwLastThing, 1);
  const SwOutlet *outlet = outlet_for (gather, item);

  thing->item = item;
  g_ptr_array_add (gather->last->things, thing);
  thing->days = outlet != NULL ? days_of (outlet) : 0;
  thing->outlet = outlet != NULL ? g_strdup (outlet->name) : NULL;
  thing->decide_by = (SwDay){ gather->last->fetched_by.n - thing->days };
  thing->too_late = thing->decide_by.n < gather->today.n;
  return find_money (gather, thing, error);
}

static gboolean
add_state (const Gather *gather, SwCatalogue *catalogue, SwState state, GError **error)
{
  const SwItemFilter filter = { .state = &state };
  gboolean to_decide
      = state == SW_STATE_FOUND || state == SW_STATE_READY || state == SW_STATE_NO_SALE;
  g_autoptr (GPtrArray) items = sw_item_list (catalogue, &filter, error);

  if (items == NULL)
    return FALSE;
  g_ptr_array_set_free_func (items, NULL);
  for (guint i = 0; i < items->len; i++)
    {
      SwItem *item = g_ptr_array_index (items, i);
      gboolean here = !g_hash_table_contains (gather->off, &item->place);

      gather->last->standing += here;
      if (!here || !to_decide)
        sw_item_free (item);
      else if (!add_thing (gather, item, error))
        {
          while (++i < items->len)
            sw_item_free (g_ptr_array_index (items, i));
          return FALSE;
        }
    }
  return TRUE;
}

static int
compare_things (gconstpointer a, gconstpointer b)
{
  const SwLastThing *one = *(SwLastThing *const *)a, *other = *(SwLastThing *const *)b;

  if (one->decide_by.n != other->decide_by.n)
    return one->decide_by.n < other->decide_by.n ? -1 : 1;
  return one->item->id < other->item->id ? -1 : one->item->id > other->item->id;
}

static GHashTable *
places_off (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GPtrArray) places = sw_place_list (catalogue, error);
  GHashTable *off;

  if (places == NULL)
    return NULL;
  off = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  for (guint i = 0; i < places->len; i++)
    {
      const SwPlace *place = g_ptr_array_index (places, i);

      if (place->off_property)
        g_hash_table_add (off, g_memdup2 (&place->id, sizeof place->id));
    }
  return off;
}

static gboolean
gather_things (SwLastDay *last, SwCatalogue *catalogue, SwDay today, GError **error)
{
  g_autoptr (GPtrArray) outlets = sw_outlet_list (catalogue, error);
  g_autoptr (GHashTable) off = outlets != NULL ? places_off (catalogue, error) : NULL;
  g_autoptr (SwScrapRates) rates = off != NULL ? sw_scrap_rates_new (catalogue, error) : NULL;
  const Gather gather = { last, outlets, off, rates, today };

  if (rates == NULL)
    return FALSE;
  for (int state = 0; state < SW_N_STATES; state++)
    if (sw_state_stands ((SwState)state) && state != SW_STATE_SOLD && state != SW_STATE_AT_HOME
        && !add_state (&gather, catalogue, (SwState)state, error))
      return FALSE;
  g_ptr_array_sort (last->things, compare_things);
  return TRUE;
}

SwLastDay *
sw_last_day (SwCatalogue *catalogue, SwDay today, GError **error)
{
  g_autoptr (SwLastDay) last = g_new0 (SwLastDay, 1);
  g_autoptr (GPtrArray) trips = NULL;
  guint goes;

  last->things = g_ptr_array_new_with_free_func (thing_free);
  if (!sw_site_last_day (catalogue, &last->known, &last->day, error))
    return NULL;
  if (!last->known)
    return g_steal_pointer (&last);
  if ((trips = sw_trip_list (catalogue, error)) == NULL)
    return NULL;
  last->days_left = MAX (0, last->day.n - today.n);
  count_trips (last, trips, today);
  find_rate_days (last, trips, today);
  if (!count_gone (last, catalogue, today, error) || !gather_things (last, catalogue, today, error))
    return NULL;
  goes = (guint)((gint64)last->gone * last->days_left / last->rate_days);
  last->left = last->standing > goes ? last->standing - goes : 0;
  return g_steal_pointer (&last);
}

/* ---- words ---- */

char *
sw_last_day_sentence (const SwLastDay *last)
{
  g_autofree char *day = sw_day_to_person (last->day);
  g_autofree char *days = sw_text_count (last->days_left, "%d day", "%d days");
  g_autofree char *trips = sw_text_count (last->trips_left, "%d trip", "%d trips");
  g_autofree char *things
      = sw_text_count (last->standing, "%d thing stands unsold", "%d things stand unsold");

  if (!last->known)
    return NULL;
  return g_strdup_printf (_ ("Last day %s: %s and %s left. %s, %u went in the last %d days: at "
                             "that rate %u will be left."),
                          day, days, trips, things, last->gone, last->rate_days, last->left);
}

static char *
last_resort (const SwLastThing *thing, SwCurrency currency)
{
  g_autofree char *floor = sw_money_to_person (thing->floor, currency);

  return thing->has_floor && thing->floor.minor > 0
             ? g_strdup_printf (_ ("too late for a sale through an outlet; as scrap it brings %s"),
                                floor)
             : g_strdup (
                 _ ("too late for a sale through an outlet; sell it by hand, bring it home, "
                    "give it away or dispose of it"));
}

char *
sw_last_thing_words (const SwLastThing *thing, SwCurrency currency)
{
  g_autofree char *day = sw_day_to_person (thing->decide_by);
  g_autofree char *price = sw_money_to_person (thing->price, currency);
  gboolean cheaper = thing->has_price && thing->price.minor < thing->item->asking.minor;

  if (thing->too_late)
    return last_resort (thing, currency);
  if (thing->outlet == NULL)
    return g_strdup_printf (cheaper ? _ ("up by %s; from the next trip on ask %s") : _ ("up by %s"),
                            day, price);
  if (!cheaper)
    return sw_text_counted (thing->days, "up by %s (%d day at %s)", "up by %s (%d days at %s)", day,
                            thing->days, thing->outlet);
  return sw_text_counted (thing->days, "up by %s (%d day at %s); from the next trip on ask %s",
                          "up by %s (%d days at %s); from the next trip on ask %s", day,
                          thing->days, thing->outlet, price);
}
