/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Commands for the next trip: the van, and what it brings home. */
#include "cli/command.h"
#include "cli/output.h"
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/length.h"
#include "core/catalogue/act.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/site.h"
#include "core/catalogue/trips.h"
#include "core/trip/buyer-text.h"
#include "core/trip/trip-sheet.h"

#define PLAN_MS 5000

/* ---- van ---- */

static char *van_payload, *van_length, *van_width, *van_height, *van_door_width, *van_door_height;

static const GOptionEntry van_options[] = {
  { "payload", 0, 0, G_OPTION_ARG_FILENAME, &van_payload,
    N_ ("What it may carry, as its papers say"), "MASS" },
  { "length", 0, 0, G_OPTION_ARG_FILENAME, &van_length, N_ ("Of the floor for the load"),
    "LENGTH" },
  { "width", 0, 0, G_OPTION_ARG_FILENAME, &van_width, N_ ("Of the floor, between the wheel arches"),
    "LENGTH" },
  { "height", 0, 0, G_OPTION_ARG_FILENAME, &van_height, N_ ("Inside"), "LENGTH" },
  { "door-width", 0, 0, G_OPTION_ARG_FILENAME, &van_door_width, N_ ("Of the opening"), "LENGTH" },
  { "door-height", 0, 0, G_OPTION_ARG_FILENAME, &van_door_height, N_ ("Of the opening"), "LENGTH" },
  { NULL },
};

static gboolean
take_length (const char *text, gint64 *mm, GError **error)
{
  return text == NULL || sw_length_parse (text, mm, error);
}

static gboolean
take_van (SwVan *van, GError **error)
{
  return (van_payload == NULL || sw_mass_parse (van_payload, &van->payload, error))
         && take_length (van_length, &van->length_mm, error)
         && take_length (van_width, &van->width_mm, error)
         && take_length (van_height, &van->height_mm, error)
         && take_length (van_door_width, &van->door_width_mm, error)
         && take_length (van_door_height, &van->door_height_mm, error);
}

static gboolean
van_is_asked (void)
{
  return van_payload == NULL && van_length == NULL && van_width == NULL && van_height == NULL
         && van_door_width == NULL && van_door_height == NULL;
}

static void
print_van (const SwVan *van)
{
  g_autofree char *payload = sw_mass_to_text (van->payload);

  sw_out_line (_ ("The van carries %s."), payload);
  if (van->length_mm > 0)
    {
      g_autofree char *length = sw_length_to_text (van->length_mm);
      g_autofree char *width = sw_length_to_text (van->width_mm);
      sw_out_line (_ ("Floor: %s by %s."), length, width);
    }
  if (van->height_mm > 0)
    {
      g_autofree char *height = sw_length_to_text (van->height_mm);
      sw_out_line (_ ("Height inside: %s."), height);
    }
  if (van->door_width_mm > 0)
    {
      g_autofree char *width = sw_length_to_text (van->door_width_mm);
      g_autofree char *height = sw_length_to_text (van->door_height_mm);
      sw_out_line (_ ("Door opening: %s wide, %s high."), width, height);
    }
}

static void
van_to_json (gboolean found, const SwVan *van)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  sw_json_int_or_null (builder, "payload_g", found, van->payload.ug / SW_UG_PER_GRAM);
  sw_json_int (builder, "length_mm", van->length_mm);
  sw_json_int (builder, "width_mm", van->width_mm);
  sw_json_int (builder, "height_mm", van->height_mm);
  sw_json_int (builder, "door_width_mm", van->door_width_mm);
  sw_json_int (builder, "door_height_mm", van->door_height_mm);
  json_builder_end_object (builder);
  sw_out_json (builder);
}

static int
run_van (SwCall *call, GError **error)
{
  gboolean asked = van_is_asked (), found = FALSE;
  SwVan van = { 0 };
  g_autoptr (SwCatalogue) catalogue
      = sw_call_open (call, asked ? SW_OPEN_READ_ONLY : SW_OPEN_READ_WRITE, error);

  if (catalogue == NULL || !sw_van_get (catalogue, &found, &van, error) || !take_van (&van, error)
      || (!asked && !sw_van_set (catalogue, &van, error)))
    return SW_EXIT_REFUSED;
  found = found || !asked;
  if (call->json)
    van_to_json (found, &van);
  else if (found)
    print_van (&van);
  else
    sw_out_line (_ ("No van is entered yet; give its --payload."));
  return SW_EXIT_STANDS;
}

/* ---- load ---- */

static char *load_trip, *load_runs, *load_keep, *load_must, *load_not, *load_free;

static const GOptionEntry load_options[] = {
  { "trip", 0, 0, G_OPTION_ARG_FILENAME, &load_trip, N_ ("The trip; else the next one"), "N" },
  { "runs", 0, 0, G_OPTION_ARG_FILENAME, &load_runs, N_ ("How often the van goes"), "N" },
  { "keep", 0, 0, G_OPTION_ARG_FILENAME, &load_keep, N_ ("Kept free on each run for scrap"),
    "MASS" },
  { "must", 0, 0, G_OPTION_ARG_FILENAME, &load_must, N_ ("This item goes whatever it brings"),
    "ITEM" },
  { "not-this-time", 0, 0, G_OPTION_ARG_FILENAME, &load_not, N_ ("This one waits"), "ITEM" },
  { "as-it-pays", 0, 0, G_OPTION_ARG_FILENAME, &load_free, N_ ("Takes back what was said of it"),
    "ITEM" },
  { NULL },
};

static gboolean
change_load (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  SwTripLoad load;

  if (load_runs == NULL && load_keep == NULL)
    return TRUE;
  return sw_trip_load_get (catalogue, trip, &load, error)
         && (load_runs == NULL || sw_call_number (load_runs, _ ("The runs"), 1, &load.runs, error))
         && (load_keep == NULL || sw_mass_parse (load_keep, &load.kept, error))
         && sw_trip_load_set (catalogue, trip, &load, error);
}

static gboolean
wish (SwCatalogue *catalogue, gint64 trip, const char *which, SwWish wish, GError **error)
{
  g_autoptr (SwItem) item = NULL;

  if (which == NULL)
    return TRUE;
  item = sw_item_find (catalogue, which, error);
  return item != NULL && sw_load_wish_set (catalogue, trip, item->id, wish, error);
}

/* All that is asked for, as one act. */
static gboolean
change_all_of_load (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *sentence
      = g_strdup_printf (_ ("What to load on trip %" PRId64 " changed"), trip);

  return sw_act_begin (&act, catalogue, error) && change_load (catalogue, trip, error)
         && wish (catalogue, trip, load_must, SW_WISH_MUST, error)
         && wish (catalogue, trip, load_not, SW_WISH_NOT_THIS_TIME, error)
         && wish (catalogue, trip, load_free, SW_WISH_NONE, error)
         && sw_act_commit (&act, sentence, error);
}

static const char *const basis_words[] = {
  [SW_BASIS_KNOWN] = "known",
  [SW_BASIS_GUESSED] = "guessed",
  [SW_BASIS_ASSUMED] = "assumed",
};

static void
thing_to_json (JsonBuilder *builder, const SwLoadThing *thing, gint64 n_runs)
{
  json_builder_begin_object (builder);
  sw_json_int (builder, "item", thing->item->id);
  sw_json_text (builder, "name", thing->item->name);
  sw_json_int (builder, "count", thing->item->count);
  sw_json_text (builder, "wish", sw_wish_word (thing->wish));
  sw_json_text (builder, "obstacle", sw_load_obstacle_words (thing->obstacle));
  sw_json_int (builder, "grams_each", sw_mass_to_grams_up (thing->each));
  sw_json_text (builder, "mass", basis_words[thing->mass_basis]);
  sw_json_int (builder, "floor_cm2_each", thing->floor_cm2);
  sw_json_text (builder, "floor", basis_words[thing->floor_basis]);
  sw_json_int (builder, "leaves", thing->leaves.minor);
  sw_json_text (builder, "outlet", thing->outlet);
  json_builder_set_member_name (builder, "taken");
  json_builder_begin_array (builder);
  for (gint64 r = 0; r < n_runs; r++)
    json_builder_add_int_value (builder, thing->taken[r]);
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

static void
load_to_json (const SwLoadSheet *sheet)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  sw_json_int (builder, "trip", sheet->trip);
  sw_json_int (builder, "runs", sheet->load.runs);
  sw_json_int (builder, "leaves", sheet->leaves.minor);
  sw_json_int (builder, "may_leave", sheet->may_leave.minor);
  sw_json_bool (builder, "best", sheet->best);
  sw_json_text (builder, "refused", sheet->refused);
  json_builder_set_member_name (builder, "things");
  json_builder_begin_array (builder);
  for (guint i = 0; i < sheet->things->len; i++)
    thing_to_json (builder, g_ptr_array_index (sheet->things, i), sheet->load.runs);
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  sw_out_json (builder);
}

static char *
thing_line (const SwLoadThing *thing, gint64 pieces, SwCurrency currency)
{
  g_autofree char *heavy = sw_mass_to_rough_text (thing->each);
  g_autofree char *money = sw_money_to_plain (thing->leaves, currency);
  GString *line = g_string_new (NULL);

  if (thing->item->count > 1)
    g_string_append_printf (line, _ ("%" PRId64 " of %" PRId64 " "), pieces, thing->item->count);
  g_string_append_printf (line, "%s, %s%s%s", thing->item->name, heavy,
                          thing->item->count > 1 ? _ (" each") : "",
                          thing->mass_basis == SW_BASIS_KNOWN     ? ""
                          : thing->mass_basis == SW_BASIS_GUESSED ? _ (" (guessed)")
                                                                  : _ (" (not known, assumed)"));
  if (thing->leaves.minor != 0)
    g_string_append_printf (line, _ (", expected to leave %s%s"), money,
                            thing->item->count > 1 ? _ (" for all") : "");
  if (thing->wish == SW_WISH_MUST)
    g_string_append (line, _ ("; must go"));
  if (thing->heavy)
    g_string_append (line, _ ("; heavy: two people or a machine"));
  return g_string_free (line, FALSE);
}

static void
print_run (const SwLoadSheet *sheet, gint64 r, SwCurrency currency)
{
  const SwLoadRunSum *run = &g_array_index (sheet->runs, SwLoadRunSum, r);
  g_autofree char *mass = sw_mass_to_rough_text (run->mass);

  sw_out_line (run->pieces == 1 ? _ ("Run %" PRId64 ": %" PRId64 " piece, %s, %.1f m2 of floor.")
                                : _ ("Run %" PRId64 ": %" PRId64 " pieces, %s, %.1f m2 of floor."),
               r + 1, run->pieces, mass, (double)run->floor_cm2 / 10000);
  for (guint i = 0; i < sheet->things->len; i++)
    {
      const SwLoadThing *thing = g_ptr_array_index (sheet->things, i);
      g_autofree char *line = NULL;

      if (thing->taken[r] == 0)
        continue;
      line = thing_line (thing, thing->taken[r], currency);
      sw_out_line ("  %s", line);
    }
}

static void
print_left (const SwLoadSheet *sheet, SwCurrency currency)
{
  for (guint i = 0; i < sheet->things->len; i++)
    {
      const SwLoadThing *thing = g_ptr_array_index (sheet->things, i);
      const char *why = sw_load_obstacle_words (thing->obstacle);
      g_autofree char *line = NULL;

      if (thing->pieces >= thing->item->count)
        continue;
      line = thing_line (thing, thing->item->count - thing->pieces, currency);
      sw_out_line (_ ("Stays: %s%s%s."), line, why != NULL ? "; " : "", why != NULL ? why : "");
    }
}

static void
print_basis (const SwLoadSheet *sheet)
{
  g_autofree char *guessed = sw_mass_to_rough_text (sheet->guessed);
  g_autofree char *assumed = sw_mass_to_rough_text (sheet->assumed);
  g_autoptr (GString) weigh = g_string_new (NULL);

  if (sheet->guessed.ug == 0 && sheet->assumed.ug == 0)
    return;
  for (guint i = 0; i < sheet->weigh->len; i++)
    g_string_append_printf (weigh, "%s%s", i == 0 ? "" : ", ",
                            ((SwLoadThing *)g_ptr_array_index (sheet->weigh, i))->item->name);
  sw_out_line (_ ("Of its mass %s is guessed and %s assumed; weigh first: %s."), guessed, assumed,
               weigh->str);
}

static void
print_load (const SwLoadSheet *sheet, SwCurrency currency)
{
  g_autofree char *leaves = sw_money_to_plain (sheet->leaves, currency);
  g_autofree char *most = sw_money_to_plain (sheet->may_leave, currency);

  if (sheet->things->len == 0)
    sw_out_line (_ ("Nothing is to be brought home."));
  else if (!sheet->has_van)
    sw_out_line (_ ("No van is entered yet; say with 'shedwalk van' what it may carry."));
  if (sheet->refused != NULL)
    sw_out_line ("%s", sheet->refused);
  for (guint r = 0; r < sheet->runs->len; r++)
    print_run (sheet, r, currency);
  print_left (sheet, currency);
  if (sheet->leaves.minor != 0)
    sw_out_line (sheet->best ? _ ("Expected to leave %s; no load is expected to leave more.")
                             : _ ("Expected to leave %s; no load more than %s."),
                 leaves, most);
  print_basis (sheet);
  for (const char *const *caution = sw_load_cautions (); sheet->things->len > 0 && *caution != NULL;
       caution++)
    sw_out_line (_ ("Caution: %s"), _ (*caution));
}

static int
run_load (SwCall *call, GError **error)
{
  gboolean changes = load_runs != NULL || load_keep != NULL || load_must != NULL || load_not != NULL
                     || load_free != NULL;
  g_autoptr (SwCatalogue) catalogue
      = sw_call_open (call, changes ? SW_OPEN_READ_WRITE : SW_OPEN_READ_ONLY, error);
  g_autoptr (SwLoadSheet) sheet = NULL;
  gint64 trip = 0;

  if (catalogue == NULL || !sw_call_trip (catalogue, load_trip, &trip, error)
      || (changes && !change_all_of_load (catalogue, trip, error))
      || (sheet = sw_load_sheet (catalogue, trip, PLAN_MS, NULL, error)) == NULL)
    return SW_EXIT_REFUSED;
  if (call->json)
    load_to_json (sheet);
  else
    print_load (sheet, sw_catalogue_currency (catalogue));
  return SW_EXIT_STANDS;
}

/* ---- walk ---- */

static char *walk_trip;
static gboolean walk_take;

static const GOptionEntry walk_options[] = {
  { "trip", 0, 0, G_OPTION_ARG_FILENAME, &walk_trip, N_ ("The trip; else the next one"), "N" },
  { "take", 0, 0, G_OPTION_ARG_NONE, &walk_take, N_ ("Walk the shortest from now on"), NULL },
  { NULL },
};

static void
stops_to_json (JsonBuilder *builder, const char *name, const GPtrArray *stops)
{
  json_builder_set_member_name (builder, name);
  json_builder_begin_array (builder);
  for (guint i = 0; i < stops->len; i++)
    json_builder_add_string_value (builder,
                                   ((const SwWalkStop *)g_ptr_array_index (stops, i))->name);
  json_builder_end_array (builder);
}

static void
walk_to_json (const SwWalk *walk)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  stops_to_json (builder, "own", walk->own);
  stops_to_json (builder, "shortest", walk->shortest);
  sw_json_text (builder, "basis", sw_walk_basis_words (walk->basis));
  sw_json_int_or_null (builder, "own_mm", walk->has_metres, walk->own_mm);
  sw_json_int_or_null (builder, "shortest_mm", walk->has_metres, walk->shortest_mm);
  json_builder_end_object (builder);
  sw_out_json (builder);
}

static int
run_walk (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue
      = sw_call_open (call, walk_take ? SW_OPEN_READ_WRITE : SW_OPEN_READ_ONLY, error);
  g_autoptr (SwTripSheet) sheet = NULL;
  g_autofree char *sentence = NULL;
  gint64 trip = 0;

  if (catalogue == NULL || !sw_call_trip (catalogue, walk_trip, &trip, error)
      || (sheet = sw_trip_sheet (catalogue, trip, PLAN_MS, NULL, error)) == NULL
      || (walk_take && !sw_walk_take (catalogue, sheet->walk, error)))
    return SW_EXIT_REFUSED;
  sentence = sw_walk_sentence (sheet->walk);
  if (call->json)
    walk_to_json (sheet->walk);
  else
    sw_out_line ("%s",
                 sentence != NULL
                     ? sentence
                     : _ ("Nothing is to do there, or nobody knows where the buildings stand."));
  return SW_EXIT_STANDS;
}

/* ---- on site, and what a buyer is written ---- */

static char *site_trip, *site_hours, *site_way;

static const GOptionEntry site_options[] = {
  { "trip", 0, 0, G_OPTION_ARG_FILENAME, &site_trip, N_ ("The trip; else the next one"), "N" },
  { "hours", 0, 0, G_OPTION_ARG_FILENAME, &site_hours,
    N_ ("When somebody is there; '' for not said"), "TEXT" },
  { "way", 0, 0, G_OPTION_ARG_FILENAME, &site_way, N_ ("The way to the gate; '' for not said"),
    "TEXT" },
  { NULL },
};

/* All that is asked for, as one act. */
static gboolean
change_site (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *sentence
      = g_strdup_printf (_ ("What buyers are told for trip %" PRId64 " changed"), trip);

  return sw_act_begin (&act, catalogue, error)
         && (site_hours == NULL || sw_site_set_hours (catalogue, trip, site_hours, error))
         && (site_way == NULL || sw_site_set_way (catalogue, site_way, error))
         && sw_act_commit (&act, sentence, error);
}

static int
run_site (SwCall *call, GError **error)
{
  gboolean changes = site_hours != NULL || site_way != NULL;
  g_autoptr (SwCatalogue) catalogue
      = sw_call_open (call, changes ? SW_OPEN_READ_WRITE : SW_OPEN_READ_ONLY, error);
  g_autofree char *hours = NULL, *way = NULL;
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  gint64 trip = 0;

  if (catalogue == NULL || !sw_call_trip (catalogue, site_trip, &trip, error)
      || (changes && !change_site (catalogue, trip, error))
      || (hours = sw_site_hours (catalogue, trip, error)) == NULL
      || (way = sw_site_way (catalogue, error)) == NULL)
    return SW_EXIT_REFUSED;
  if (!call->json)
    {
      sw_out_line (_ ("On site on trip %" PRId64 ": %s."), trip,
                   *hours != '\0' ? hours : _ ("not said"));
      sw_out_line (_ ("The way to the gate: %s"), *way != '\0' ? way : _ ("not said."));
      return SW_EXIT_STANDS;
    }
  json_builder_begin_object (builder);
  sw_json_int (builder, "trip", trip);
  sw_json_text (builder, "hours", hours);
  sw_json_text (builder, "way", way);
  json_builder_end_object (builder);
  sw_out_json (builder);
  return SW_EXIT_STANDS;
}

static int
run_buyer_text (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  g_autoptr (SwDeal) deal = NULL;
  g_autofree char *text = NULL;
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  gint64 trip = 0;

  if (catalogue == NULL || !sw_call_trip (catalogue, site_trip, &trip, error)
      || !sw_deal_find (catalogue, call->operands[1], &deal, error))
    return SW_EXIT_REFUSED;
  if (deal == NULL)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("No sale has the ref '%s'."),
                   call->operands[1]);
      return SW_EXIT_REFUSED;
    }
  text = sw_buyer_text_of_deal (catalogue, trip, deal->id, error);
  if (text == NULL)
    return SW_EXIT_REFUSED;
  if (call->json)
    {
      json_builder_begin_object (builder);
      sw_json_text (builder, "text", text);
      json_builder_end_object (builder);
      sw_out_json (builder);
      return SW_EXIT_STANDS;
    }
  g_auto (GStrv) lines = g_strsplit (g_strchomp (text), "\n", -1);
  for (char **line = lines; *line != NULL; line++)
    sw_out_line ("%s", *line);
  return SW_EXIT_STANDS;
}

/* ---- the last day ---- */

static void
last_day_to_json (const SwLastDay *last, SwCurrency currency)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autofree char *day = last->known ? sw_day_to_text (last->day) : NULL;

  json_builder_begin_object (builder);
  sw_json_text (builder, "last_day", day);
  sw_json_int_or_null (builder, "days_left", last->known, last->days_left);
  sw_json_int_or_null (builder, "trips_left", last->known, last->trips_left);
  sw_json_int_or_null (builder, "standing", last->known, last->standing);
  sw_json_int_or_null (builder, "left", last->known, last->left);
  json_builder_set_member_name (builder, "things");
  json_builder_begin_array (builder);
  for (guint i = 0; i < last->things->len; i++)
    {
      const SwLastThing *thing = g_ptr_array_index (last->things, i);
      g_autofree char *by = sw_day_to_text (thing->decide_by);
      g_autofree char *words = sw_last_thing_words (thing, currency);

      json_builder_begin_object (builder);
      sw_json_int (builder, "item", thing->item->id);
      sw_json_text (builder, "name", thing->item->name);
      sw_json_text (builder, "decide_by", by);
      sw_json_bool (builder, "too_late", thing->too_late);
      sw_json_int_or_null (builder, "price", thing->has_price, thing->price.minor);
      sw_json_text (builder, "words", words);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  sw_out_json (builder);
}

static void
print_last_day (const SwLastDay *last, SwCurrency currency)
{
  g_autofree char *sentence = sw_last_day_sentence (last);

  sw_out_line ("%s", sentence != NULL ? sentence : _ ("No last day is entered yet."));
  for (guint i = 0; i < last->things->len; i++)
    {
      const SwLastThing *thing = g_ptr_array_index (last->things, i);
      g_autofree char *words = sw_last_thing_words (thing, currency);

      sw_out_line ("  %s: %s", thing->item->name, words);
    }
}

static int
run_last_day (SwCall *call, GError **error)
{
  gboolean sets = call->n_operands == 2;
  gboolean ends = sets && g_str_equal (call->operands[1], "none");
  g_autoptr (SwCatalogue) catalogue
      = sw_call_open (call, sets ? SW_OPEN_READ_WRITE : SW_OPEN_READ_ONLY, error);
  g_autoptr (SwLastDay) last = NULL;
  SwDay today, day;

  if (catalogue == NULL || !sw_call_day (catalogue, NULL, &today, error)
      || (sets && !ends && !sw_day_parse (call->operands[1], &day, error))
      || (sets && !sw_site_set_last_day (catalogue, ends ? NULL : &day, error))
      || (last = sw_last_day (catalogue, today, error)) == NULL)
    return SW_EXIT_REFUSED;
  if (call->json)
    last_day_to_json (last, sw_catalogue_currency (catalogue));
  else
    print_last_day (last, sw_catalogue_currency (catalogue));
  return SW_EXIT_STANDS;
}

const SwCommand sw_trip_commands[] = {
  { "van", "CAT", 1, 1, N_ ("What the van may carry and what goes through its door"),
    N_ ("Without options it tells what is entered. A load's length and width are the floor it "
        "takes.\n"
        "Example: shedwalk van CAT --payload '850 kg' --length 2.6m --width 1.3m --door-width 1.4m "
        "--door-height 1.5m"),
    run_van, van_options },
  { "load", "CAT", 1, 1, N_ ("What to bring home on a trip"),
    N_ ("Of what is to be brought home the load that is expected to leave most, within what the "
        "van\n"
        "may carry; what must go comes first. It proposes; nothing is moved."),
    run_load, load_options },
  { "walk", "CAT", 1, 1, N_ ("The shortest walk past what is to do on a trip"),
    N_ ("Past the buildings where something is to do, from the first in your own order, from "
        "middle "
        "to\n"
        "middle on the plan or by their positions. --take makes it your order; the rest of it "
        "stays."),
    run_walk, walk_options },
  { "last-day", "CAT [YYYY-MM-DD|none]", 1, 2,
    N_ ("What still stands, counted back from the property's last day"),
    N_ ("With a day it is entered. Told: what will be left at the present rate, by when each thing "
        "has "
        "to\nbe up to be fetched on the last trip, a price that falls trip by trip. It proposes; "
        "nothing "
        "is\ndecided."),
    run_last_day, NULL },
  { "on-site", "CAT", 1, 1, N_ ("When somebody is on site during a trip, and the way to the gate"),
    N_ ("Both stay at home, but for the text to a buyer: the hours where they were entered, the "
        "way "
        "only\nwhere nothing is due any more."),
    run_site, site_options },
  { "buyer-text", "CAT REF", 2, 2, N_ ("What to write to a buyer whose things wait to be fetched"),
    N_ ("For the sale of that ref and all else that the same buyer fetches. It is printed, never "
        "sent."),
    run_buyer_text, site_options },
  { NULL },
};
