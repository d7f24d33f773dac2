/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Turns what the catalogue knows of things into pieces for the load, and the load back into a
 * sheet. */
#include "core/trip/load-sheet.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/trips.h"
#include "core/trade/outlook.h"
#include "core/trade/van-fit.h"
#include "core/trip/hand-overs.h"
#include "core/trip/load.h"

/* Where neither mass nor class is known. */
#define ASSUMED_SIZE SW_SIZE_TWO_PEOPLE
#define LIFT_FILTER_KG 25

/* The floor that one piece takes where it was not measured, by its class. Common practice, with no
 * source: a box, a pallet's half, a pallet and a half. */
static const gint64 floor_by_size[SW_N_SIZES] = {
  [SW_SIZE_HAND] = 1500,
  [SW_SIZE_TWO_PEOPLE] = 6000,
  [SW_SIZE_MACHINE] = 15000,
};

static const char *const obstacle_words[] = {
#define AS_WORDS(tag, words) words,
  SW_LOAD_OBSTACLES (AS_WORDS)
#undef AS_WORDS
};

static const char *const cautions[] = {
  N_ ("Load what is heavy low and against the bulkhead, and lash it: restraint has to hold eight "
      "tenths "
      "of the load's weight forwards, half of it to the sides and backwards (Load Restraint Guide, "
      "National Transport Commission, 2018; the rules of your roads come first)."),
  N_ ("Stay within the van's payload and each axle's load as its plate and papers give them; a "
      "weighbridge tells."),
  N_ ("Lifts beyond 25 kg close to the body, or less at arm's length, above the shoulder or from "
      "the "
      "floor, need a second person or a machine (HSE, L23, Manual handling, 2016: a filter, no "
      "limit)."),
  N_ ("On a trailer spread the load, and check coupling, breakaway cable, lights, tyres and wheel "
      "nuts "
      "before you drive (DVSA, guidance on towing)."),
  NULL,
};

const char *const *
sw_load_cautions (void)
{
  return cautions;
}

/* 25 kg: the HSE's risk filter for lifting close to the body between knuckle and elbow height (HSE,
 * L23, Manual handling, 4th edition 2016, figure 20); a filter, no legal limit, and lower elsewhere
 * and for many people. */
static SwMass
lift_filter (void)
{
  return (SwMass){ LIFT_FILTER_KG * SW_UG_PER_KG };
}

static void
thing_free (gpointer data)
{
  SwLoadThing *thing = data;

  sw_item_free (thing->item);
  g_free (thing->outlet);
  g_free (thing->taken);
  g_free (thing);
}

void
sw_load_sheet_free (SwLoadSheet *sheet)
{
  if (sheet == NULL)
    return;
  g_clear_pointer (&sheet->weigh, g_ptr_array_unref);
  g_clear_pointer (&sheet->things, g_ptr_array_unref);
  g_clear_pointer (&sheet->runs, g_array_unref);
  g_free (sheet->refused);
  g_free (sheet);
}

/* ---- one thing ---- */

static void
find_mass (SwLoadThing *thing)
{
  const SwItem *item = thing->item;
  const char *source = item->mass_source;

  if (item->has_mass)
    {
      thing->each.ug = item->mass.ug / item->count;
      thing->mass_basis
          = g_strcmp0 (source, "guessed") == 0 || g_strcmp0 (source, "size class") == 0
                ? SW_BASIS_GUESSED
                : SW_BASIS_KNOWN;
      return;
    }
  thing->mass_basis = item->size != SW_SIZE_UNKNOWN ? SW_BASIS_GUESSED : SW_BASIS_ASSUMED;
  thing->each = sw_size_mass (item->size != SW_SIZE_UNKNOWN ? item->size : ASSUMED_SIZE);
}

/* Rounded up: what is loaded must fit. */
static gint64
mm2_to_cm2 (gint64 mm2)
{
  return (mm2 + 99) / 100;
}

/* What weighs like a thing of that class most often takes the floor of one. */
static SwSize
size_by_mass (SwMass each)
{
  return each.ug <= lift_filter ().ug       ? SW_SIZE_HAND
         : each.ug <= 4 * lift_filter ().ug ? SW_SIZE_TWO_PEOPLE
                                            : SW_SIZE_MACHINE;
}

static void
find_floor (SwLoadThing *thing)
{
  const SwItem *item = thing->item;

  if (item->stows == SW_STOWS_SHELF || item->stows == SW_STOWS_ROOF)
    thing->floor_basis = SW_BASIS_KNOWN;
  else if (item->length_mm > 0 && item->width_mm > 0)
    {
      thing->floor_cm2 = mm2_to_cm2 (item->length_mm * item->width_mm);
      thing->floor_basis = item->size_guessed ? SW_BASIS_GUESSED : SW_BASIS_KNOWN;
    }
  else if (item->size != SW_SIZE_UNKNOWN)
    {
      thing->floor_cm2 = floor_by_size[item->size];
      thing->floor_basis = SW_BASIS_GUESSED;
    }
  else if (item->has_mass)
    {
      thing->floor_cm2 = floor_by_size[size_by_mass (thing->each)];
      thing->floor_basis = SW_BASIS_GUESSED;
    }
  else
    {
      thing->floor_cm2 = floor_by_size[ASSUMED_SIZE];
      thing->floor_basis = SW_BASIS_ASSUMED;
    }
}

/* What is sold leaves no more, wherever it goes. */
static gboolean
find_money (SwLoadThing *thing, SwOutlookBook *book, GError **error)
{
  g_autoptr (GPtrArray) outlooks = NULL;
  const SwOutlook *best = NULL;

  if (thing->item->state == SW_STATE_SOLD)
    {
      thing->money_basis = SW_BASIS_KNOWN;
      return TRUE;
    }
  outlooks = sw_outlook_of (book, thing->item, error);
  if (outlooks == NULL)
    return FALSE;
  if (outlooks->len > 0)
    best = g_ptr_array_index (outlooks, 0);
  if (best != NULL && best->has_money)
    {
      thing->leaves = best->expected;
      thing->outlet = g_strdup (best->name);
      thing->money_basis = best->few ? SW_BASIS_GUESSED : SW_BASIS_KNOWN;
    }
  else if (thing->item->has_asking)
    {
      thing->leaves = thing->item->asking;
      thing->money_basis = SW_BASIS_GUESSED;
    }
  else
    thing->money_basis = SW_BASIS_ASSUMED;
  return TRUE;
}

/* What kind of misfit is an obstacle; of what is not known the load takes its chance. */
static const SwLoadObstacle obstacle_by_fit[SW_N_VAN_FITS] = {
  [SW_VAN_FIT_DOOR] = SW_OBSTACLE_DOOR,
  [SW_VAN_FIT_SPACE] = SW_OBSTACLE_SPACE,
  [SW_VAN_FIT_PAYLOAD] = SW_OBSTACLE_PAYLOAD,
  [SW_VAN_FIT_TRAILER] = SW_OBSTACLE_TRAILER,
};

const char *
sw_load_obstacle_words (SwLoadObstacle obstacle)
{
  if (obstacle < 0 || obstacle >= SW_N_OBSTACLES)
    return NULL;
  for (int fit = 0; fit < SW_N_VAN_FITS && obstacle != SW_OBSTACLE_NONE; fit++)
    if (obstacle_by_fit[fit] == obstacle)
      return _ (sw_van_fit_words ((SwVanFit)fit));
  return obstacle_words[obstacle];
}

static SwLoadObstacle
find_obstacle (const SwLoadThing *thing, const SwLoadSheet *sheet)
{
  SwVan van = sheet->van;

  if (thing->wish == SW_WISH_NOT_THIS_TIME)
    return SW_OBSTACLE_NOT_THIS_TIME;
  if (thing->item->never_offer)
    return SW_OBSTACLE_DANGER;
  van.payload.ug -= sheet->load.kept.ug;
  return obstacle_by_fit[sw_van_fit (sheet->has_van ? &van : NULL, thing->item, thing->each)];
}

/* ---- which things ---- */

static gboolean
add_thing (SwLoadSheet *sheet, SwItem *item, SwWish wish, SwOutlookBook *book, GError **error)
{
  SwLoadThing *thing = g_new0 (SwLoadThing, 1);

  g_ptr_array_add (sheet->things, thing);
  thing->item = item;
  thing->wish = wish;
  thing->taken = g_new0 (gint64, (gsize)sheet->load.runs);
  find_mass (thing);
  find_floor (thing);
  thing->heavy = thing->each.ug > lift_filter ().ug;
  thing->obstacle = find_obstacle (thing, sheet);
  return find_money (thing, book, error);
}

static SwWish
wish_of (GArray *wishes, gint64 item)
{
  for (guint i = 0; i < wishes->len; i++)
    {
      SwLoadWishRow *row = &g_array_index (wishes, SwLoadWishRow, i);

      if (row->item == item)
        return row->wish;
    }
  return SW_WISH_NONE;
}

/* What is to come home, whatever was wished of it. */
static gboolean
add_bring_home (SwLoadSheet *sheet, SwCatalogue *catalogue, GArray *wishes, SwOutlookBook *book,
                GError **error)
{
  SwState bring_home = SW_STATE_BRING_HOME;
  SwItemFilter filter = { .state = &bring_home };
  g_autoptr (GPtrArray) items = sw_item_list (catalogue, &filter, error);

  if (items == NULL)
    return FALSE;
  while (items->len > 0)
    {
      SwItem *item = g_ptr_array_steal_index (items, items->len - 1);

      if (!add_thing (sheet, item, wish_of (wishes, item->id), book, error))
        return FALSE;
    }
  return TRUE;
}

/* What must go in another state: sold and carried home for its buyer, say. */
static gboolean
add_other_musts (SwLoadSheet *sheet, SwCatalogue *catalogue, GArray *wishes, SwOutlookBook *book,
                 GError **error)
{
  for (guint i = 0; i < wishes->len; i++)
    {
      SwLoadWishRow *row = &g_array_index (wishes, SwLoadWishRow, i);
      g_autoptr (SwItem) item = sw_item_get (catalogue, row->item, error);

      if (item == NULL)
        return FALSE;
      if (row->wish == SW_WISH_MUST && item->state != SW_STATE_BRING_HOME
          && item->state != SW_STATE_AT_HOME && sw_state_stands (item->state)
          && !add_thing (sheet, g_steal_pointer (&item), row->wish, book, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
has_thing (const SwLoadSheet *sheet, gint64 item)
{
  for (guint i = 0; i < sheet->things->len; i++)
    if (((SwLoadThing *)g_ptr_array_index (sheet->things, i))->item->id == item)
      return TRUE;
  return FALSE;
}

/* Sold with money for delivery: it goes along unless the person says not this time. */
static gboolean
add_delivered (SwLoadSheet *sheet, SwCatalogue *catalogue, GArray *wishes, SwOutlookBook *book,
               GError **error)
{
  g_autoptr (GPtrArray) list = sw_hand_over_list (catalogue, (SwDay){ 0 }, error);

  for (guint h = 0; list != NULL && h < list->len; h++)
    {
      const GPtrArray *things = ((SwHandOver *)g_ptr_array_index (list, h))->things;

      for (guint i = 0; i < things->len; i++)
        {
          const SwHandOverThing *thing = g_ptr_array_index (things, i);
          SwWish wish = wish_of (wishes, thing->item->id);
          SwItem *item;

          if (!thing->delivered || has_thing (sheet, thing->item->id))
            continue;
          item = sw_item_get (catalogue, thing->item->id, error);
          if (item == NULL
              || !add_thing (sheet, item, wish == SW_WISH_NONE ? SW_WISH_MUST : wish, book, error))
            return FALSE;
        }
    }
  return list != NULL;
}

static int
rank (const SwLoadThing *thing)
{
  return thing->obstacle != SW_OBSTACLE_NONE ? 3
         : thing->wish == SW_WISH_MUST       ? 0
         : thing->pieces > 0                 ? 1
                                             : 2;
}

static int
compare_things (gconstpointer a, gconstpointer b)
{
  const SwLoadThing *one = *(SwLoadThing *const *)a, *other = *(SwLoadThing *const *)b;

  if (rank (one) != rank (other))
    return rank (one) - rank (other);
  if (one->leaves.minor != other->leaves.minor)
    return one->leaves.minor > other->leaves.minor ? -1 : 1;
  return one->item->id < other->item->id ? -1 : one->item->id > other->item->id;
}

static int
compare_masses (gconstpointer a, gconstpointer b)
{
  const SwLoadThing *one = *(SwLoadThing *const *)a, *other = *(SwLoadThing *const *)b;
  gint64 heavy = one->each.ug / 1000 * one->item->count;
  gint64 heavy_too = other->each.ug / 1000 * other->item->count;

  if (heavy != heavy_too)
    return heavy > heavy_too ? -1 : 1;
  return one->item->id < other->item->id ? -1 : one->item->id > other->item->id;
}

/* Weighing the heaviest guesses says most. */
static void
find_what_to_weigh (SwLoadSheet *sheet)
{
  for (guint i = 0; i < sheet->things->len; i++)
    {
      SwLoadThing *thing = g_ptr_array_index (sheet->things, i);

      if (thing->mass_basis != SW_BASIS_KNOWN
          && (thing->obstacle == SW_OBSTACLE_NONE || thing->obstacle == SW_OBSTACLE_PAYLOAD))
        g_ptr_array_add (sheet->weigh, thing);
    }
  g_ptr_array_sort (sheet->weigh, compare_masses);
  if (sheet->weigh->len > SW_LOAD_WEIGH_MOST)
    g_ptr_array_set_size (sheet->weigh, SW_LOAD_WEIGH_MOST);
}

/* ---- the plan ---- */

static SwLoadPiece
to_piece (const SwLoadThing *thing, gboolean has_floor)
{
  const SwItem *item = thing->item;

  return (SwLoadPiece){
    .count = item->count,
    .grams = sw_mass_to_grams_up (thing->each),
    .floor_cm2 = has_floor ? thing->floor_cm2 : 0,
    .value = thing->leaves.minor / item->count,
    .wish = thing->wish == SW_WISH_MUST ? SW_LOAD_MUST : SW_LOAD_FREE,
  };
}

/* 'movable': SwLoadThing without an obstacle. */
static SwLoadPlan *
plan_load (const SwLoadSheet *sheet, const GPtrArray *movable, int milliseconds,
           GCancellable *cancellable, GError **error)
{
  g_autofree SwLoadPiece *pieces = g_new0 (SwLoadPiece, movable->len + 1);
  SwLoadRun runs[SW_VAN_RUNS_MOST];
  gint64 room = MAX (0, sheet->van.payload.ug - sheet->load.kept.ug) / SW_UG_PER_GRAM;
  gint64 floor = sheet->van.length_mm * sheet->van.width_mm / 100;

  for (guint i = 0; i < movable->len; i++)
    pieces[i] = to_piece (g_ptr_array_index (movable, i), floor > 0);
  for (gint64 r = 0; r < sheet->load.runs; r++)
    runs[r] = (SwLoadRun){ room, floor };
  return sw_load_solve (pieces, movable->len, runs, (gsize)sheet->load.runs, milliseconds,
                        cancellable, error);
}

static void
take_thing (SwLoadSheet *sheet, SwLoadThing *thing, const SwLoadPlan *plan, gsize i)
{
  for (gsize r = 0; r < plan->n_runs; r++)
    {
      SwLoadRunSum *run = &g_array_index (sheet->runs, SwLoadRunSum, r);
      gint64 taken = plan->taken[r * plan->n + i];
      gint64 ug = taken * thing->each.ug;

      thing->taken[r] = taken;
      thing->pieces += taken;
      run->pieces += taken;
      run->mass.ug += ug;
      run->floor_cm2 += taken * thing->floor_cm2;
      if (thing->mass_basis != SW_BASIS_KNOWN)
        sheet->unsure.ug += ug;
      if (thing->mass_basis == SW_BASIS_GUESSED)
        sheet->guessed.ug += ug;
      else if (thing->mass_basis == SW_BASIS_ASSUMED)
        sheet->assumed.ug += ug;
    }
}

/* The rest is planned all the same. */
static void
note_stuck_must (SwLoadSheet *sheet)
{
  for (guint i = 0; i < sheet->things->len && sheet->refused == NULL; i++)
    {
      SwLoadThing *thing = g_ptr_array_index (sheet->things, i);

      if (thing->wish == SW_WISH_MUST && thing->obstacle != SW_OBSTACLE_NONE)
        sheet->refused
            = g_strdup_printf (_ ("%s must go, but %s: find another way for it, or let it wait."),
                               thing->item->name, _ (sw_load_obstacle_words (thing->obstacle)));
    }
}

static gboolean
plan_sheet (SwLoadSheet *sheet, int milliseconds, GCancellable *cancellable, GError **error)
{
  g_autoptr (GPtrArray) movable = g_ptr_array_new ();
  g_autoptr (GError) why = NULL;
  g_autoptr (SwLoadPlan) plan = NULL;

  for (guint i = 0; i < sheet->things->len; i++)
    {
      SwLoadThing *thing = g_ptr_array_index (sheet->things, i);

      if (thing->obstacle == SW_OBSTACLE_NONE)
        g_ptr_array_add (movable, thing);
    }
  plan = plan_load (sheet, movable, milliseconds, cancellable, &why);
  if (plan == NULL && why->code == SW_ERROR_CANCELLED)
    {
      g_propagate_error (error, g_steal_pointer (&why));
      return FALSE;
    }
  g_array_set_size (sheet->runs, (guint)sheet->load.runs);
  if (plan == NULL)
    {
      sheet->refused = g_strdup (why->message);
      return TRUE;
    }
  note_stuck_must (sheet);
  for (guint i = 0; i < movable->len; i++)
    take_thing (sheet, g_ptr_array_index (movable, i), plan, i);
  sheet->leaves = sw_money (plan->value);
  sheet->may_leave = sw_money (plan->bound);
  sheet->best = plan->best;
  return TRUE;
}

SwLoadSheet *
sw_load_sheet (SwCatalogue *catalogue, gint64 trip, int milliseconds, GCancellable *cancellable,
               GError **error)
{
  g_autoptr (SwLoadSheet) sheet = g_new0 (SwLoadSheet, 1);
  g_autoptr (SwTrip) there = sw_trip_get (catalogue, trip, error);
  g_autoptr (GArray) wishes = there != NULL ? sw_load_wish_list (catalogue, trip, error) : NULL;
  g_autoptr (SwOutlookBook) book = wishes != NULL ? sw_outlook_learn (catalogue, error) : NULL;

  sheet->trip = trip;
  sheet->things = g_ptr_array_new_with_free_func (thing_free);
  sheet->weigh = g_ptr_array_new ();
  sheet->runs = g_array_new (FALSE, TRUE, sizeof (SwLoadRunSum));
  if (book == NULL || !sw_van_get (catalogue, &sheet->has_van, &sheet->van, error)
      || !sw_trip_load_get (catalogue, trip, &sheet->load, error)
      || !add_bring_home (sheet, catalogue, wishes, book, error)
      || !add_other_musts (sheet, catalogue, wishes, book, error)
      || !add_delivered (sheet, catalogue, wishes, book, error)
      || (sheet->has_van && !plan_sheet (sheet, milliseconds, cancellable, error)))
    return NULL;
  g_ptr_array_sort (sheet->things, compare_things);
  find_what_to_weigh (sheet);
  return g_steal_pointer (&sheet);
}
