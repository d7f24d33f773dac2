/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Commands on scrap: what yards pay, the load planned, the pile, and what was raised against it. */
#include "cli/command.h"
#include "cli/output.h"
#include "core/base/civil.h"
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/outlets.h"
#include "core/catalogue/places.h"
#include "core/catalogue/yard-rates.h"
#include "core/trade/against-scrap.h"
#include "core/trade/scrap-pile.h"

/* ---- yard rate ---- */

static char *rate_from, *rate_fetched;
static gboolean rate_charged;

static const GOptionEntry rate_options[] = {
  { "from", 0, 0, G_OPTION_ARG_FILENAME, &rate_from, N_ ("From this day on (today)"),
    "YYYY-MM-DD" },
  { "fetched-from", 0, 0, G_OPTION_ARG_FILENAME, &rate_fetched,
    N_ ("The yard fetches it itself, from this mass on of all that it would fetch"), "MASS" },
  { "charged", 0, 0, G_OPTION_ARG_NONE, &rate_charged,
    N_ ("The yard charges that to take it, instead of paying it"), NULL },
  { NULL },
};

static gboolean
set_rate (SwCatalogue *catalogue, SwCall *call, SwMoney rate, SwDay from, GError **error)
{
  const char *yard = call->operands[1], *scrap_class = call->operands[2];
  g_autoptr (SwOutlet) outlet = NULL;
  SwMass least;

  if (!sw_outlet_find (catalogue, yard, &outlet, error))
    return FALSE;
  if (outlet == NULL)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no outlet '%s'."), yard);
      return FALSE;
    }
  if (rate_fetched == NULL)
    return sw_yard_rate_set (catalogue, outlet->id, scrap_class, from, rate, error);
  return sw_mass_parse (rate_fetched, &least, error)
         && sw_collected_rate_set (catalogue, outlet->id, scrap_class, from, rate, least, error);
}

static int
run_yard_rate (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  SwMoney typed, rate;
  SwDay from;

  if (catalogue == NULL
      || !sw_money_parse_plain (call->operands[3], sw_catalogue_currency (catalogue), FALSE, &typed,
                                error)
      || !sw_money_sub (SW_MONEY_ZERO, typed, &rate, error)
      || !sw_call_day (catalogue, rate_from, &from, error)
      || !set_rate (catalogue, call, rate_charged ? rate : typed, from, error))
    return SW_EXIT_REFUSED;
  if (!call->json)
    sw_out_line (rate_charged ? _ ("%s charges %s a tonne of %s.")
                              : _ ("%s pays %s a tonne of %s."),
                 call->operands[1], call->operands[3], call->operands[2]);
  return SW_EXIT_STANDS;
}

/* ---- yard load ---- */

static int
run_yard_load (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  SwMoney cartage;
  SwMass mass;

  if (catalogue == NULL || !sw_mass_parse (call->operands[1], &mass, error)
      || !sw_money_parse_plain (call->operands[2], sw_catalogue_currency (catalogue), FALSE,
                                &cartage, error)
      || !sw_scrap_load_set (catalogue, cartage, mass, error))
    return SW_EXIT_REFUSED;
  if (!call->json)
    sw_out_line (_ ("Floors take off their part of %s for a load of %s."), call->operands[2],
                 call->operands[1]);
  return SW_EXIT_STANDS;
}

/* ---- scrap ---- */

static char *scrap_place;

static const GOptionEntry scrap_options[] = {
  { "place", 0, 0, G_OPTION_ARG_FILENAME, &scrap_place,
    N_ ("Of all that stands unsold there, not only of what is marked for scrap"), "P" },
  { NULL },
};

static void
class_to_json (JsonBuilder *builder, const SwScrapClass *of_class)
{
  json_builder_begin_object (builder);
  sw_json_text (builder, "class", of_class->scrap_class);
  sw_json_int (builder, "things", of_class->things);
  sw_json_int (builder, "unweighed", of_class->unweighed);
  sw_json_int (builder, "mass_g", of_class->mass.ug / (SW_UG_PER_KG / 1000));
  sw_json_int_or_null (builder, "at_gate", of_class->has_gate, of_class->at_gate.minor);
  sw_json_text (builder, "fetched_by", of_class->yard);
  sw_json_int_or_null (builder, "fetched", of_class->has_fetched, of_class->fetched.minor);
  sw_json_int_or_null (builder, "lacking_g", of_class->has_fetched,
                       of_class->lacking.ug / (SW_UG_PER_KG / 1000));
  json_builder_end_object (builder);
}

static void
against_to_json (JsonBuilder *builder, const SwAgainstScrap *sums)
{
  json_builder_set_member_name (builder, "raised_against_scrap");
  json_builder_begin_object (builder);
  sw_json_int (builder, "things", sums->things);
  sw_json_int (builder, "raised", sums->raised.minor);
  sw_json_int (builder, "scrap", sums->scrap.minor);
  sw_json_int (builder, "more", sums->more.minor);
  sw_json_int (builder, "unknown", sums->unknown);
  sw_json_int (builder, "unknown_raised", sums->unknown_raised.minor);
  sw_json_int (builder, "as_scrap", sums->as_scrap.minor);
  sw_json_int (builder, "unsold", sums->unsold.minor);
  json_builder_end_object (builder);
}

static void
scrap_to_json (const SwScrapPile *pile, const SwAgainstScrap *sums)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  json_builder_set_member_name (builder, "classes");
  json_builder_begin_array (builder);
  for (guint i = 0; i < pile->classes->len; i++)
    class_to_json (builder, g_ptr_array_index (pile->classes, i));
  json_builder_end_array (builder);
  sw_json_int (builder, "things", pile->things);
  sw_json_int (builder, "unvalued", pile->unvalued);
  sw_json_int (builder, "at_gate", pile->at_gate.minor);
  against_to_json (builder, sums);
  json_builder_end_object (builder);
  sw_out_json (builder);
}

static void
print_class (const SwScrapClass *of_class, SwCurrency currency)
{
  g_autofree char *heavy = sw_mass_to_text (of_class->mass);
  g_autofree char *floor = sw_money_to_plain (of_class->at_gate, currency);
  g_autofree char *gate = of_class->has_gate ? g_strdup_printf (_ ("%s at the gate"), floor)
                                             : g_strdup (_ ("no rate at the gate"));
  g_autofree char *money = sw_money_to_plain (of_class->fetched, currency);
  g_autofree char *fetched
      = of_class->has_fetched ? g_strdup_printf (_ ("; fetched %s"), money) : g_strdup ("");
  g_autofree char *sentence = sw_scrap_class_fetch_sentence (of_class);

  sw_out_line ("%s: %u, %s, %s%s.",
               of_class->scrap_class != NULL ? of_class->scrap_class : _ ("Class not said"),
               of_class->things, heavy, gate, fetched);
  if (of_class->unweighed > 0)
    sw_out_line (_ ("  %u of them without a mass."), of_class->unweighed);
  if (sentence != NULL)
    sw_out_line ("  %s", sentence);
}

static void
print_scrap (const SwScrapPile *pile, const SwAgainstScrap *sums, SwCurrency currency)
{
  g_autofree char *heavy = sw_mass_to_text (pile->mass);
  g_autofree char *gate = sw_money_to_plain (pile->at_gate, currency);
  g_autofree char *raised = sw_money_to_plain (sums->raised, currency);
  g_autofree char *scrap = sw_money_to_plain (sums->scrap, currency);
  g_autofree char *more = sw_money_to_plain (sums->more, currency);
  g_autofree char *unknown = sw_money_to_plain (sums->unknown_raised, currency);

  for (guint i = 0; i < pile->classes->len; i++)
    print_class (g_ptr_array_index (pile->classes, i), currency);
  sw_out_line (_ ("In all %u, %s, %s at the gate less cartage; %u without a value."), pile->things,
               heavy, gate, pile->unvalued);
  sw_out_line (
      _ ("Sold things raised %s after fees; as scrap they would have brought %s, so %s more "
         "(%u things)."),
      raised, scrap, more, sums->things);
  if (sums->unknown > 0)
    sw_out_line (
        _ ("Not compared: %u sold things whose scrap value is not known, which raised %s."),
        sums->unknown, unknown);
}

static gboolean
find_place (SwCatalogue *catalogue, gint64 *out_place, GError **error)
{
  *out_place = 0;
  if (scrap_place == NULL)
    return TRUE;
  g_autoptr (SwPlace) place = sw_place_find (catalogue, scrap_place, error);
  if (place != NULL)
    *out_place = place->id;
  return place != NULL;
}

static int
run_scrap (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  g_auto (SwScrapPile) pile = { NULL };
  SwAgainstScrap sums;
  gint64 place;

  if (catalogue == NULL || !find_place (catalogue, &place, error)
      || !sw_scrap_pile_read (catalogue, place, &pile, error)
      || !sw_against_scrap_read (catalogue, &sums, error))
    return SW_EXIT_REFUSED;
  if (call->json)
    scrap_to_json (&pile, &sums);
  else
    print_scrap (&pile, &sums, sw_catalogue_currency (catalogue));
  return SW_EXIT_STANDS;
}

const SwCommand sw_scrap_commands[] = {
  { "yard rate", "CAT YARD CLASS MONEY", 4, 4, N_ ("Enter what a yard pays for a tonne of a class"),
    N_ ("At the gate; with --fetched-from for what the yard fetches itself, which costs no "
        "cartage;\n"
        "with --charged for what it takes only against money (tyres, refuse): a floor below zero.\n"
        "Example: shedwalk yard rate CAT 'Mill Lane yard' 'cast iron' 187.50 --from 2026-04-01"),
    run_yard_rate, rate_options },
  { "yard load", "CAT MASS MONEY", 3, 3,
    N_ ("Say how heavy a load to the yard will be, and its cartage"),
    N_ ("Scrap floors take off each thing's part of the cartage, by mass.\n"
        "Example: shedwalk yard load CAT '1500 kg' 90.00"),
    run_yard_load, NULL },
  { "scrap", "CAT", 1, 1,
    N_ ("What is marked for scrap, class by class, and what was raised against it"),
    N_ ("Floors are mass x rate less the thing's part of the cartage; below zero it costs money to "
        "be\n"
        "rid of. What was sold is held against what the yards would have paid for the same "
        "things."),
    run_scrap, scrap_options },
  { NULL },
};
