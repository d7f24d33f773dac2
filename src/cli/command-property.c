/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Commands on places and trips. */
#include <math.h>
#include <string.h>

#include "cli/command.h"
#include "cli/output.h"
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/position.h"
#include "core/base/text.h"
#include "core/catalogue/places.h"
#include "core/catalogue/trips.h"

static char *trip_title, *trip_first, *trip_last;

static const GOptionEntry trip_options[] = {
  { "title", 0, 0, G_OPTION_ARG_FILENAME, &trip_title, N_ ("What the trip is called"), "T" },
  { "first", 0, 0, G_OPTION_ARG_FILENAME, &trip_first, N_ ("First day"), "YYYY-MM-DD" },
  { "last", 0, 0, G_OPTION_ARG_FILENAME, &trip_last, N_ ("Last day"), "YYYY-MM-DD" },
  { NULL },
};

static void
print_trip_number (SwCall *call, gint64 number)
{
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_int (builder, "trip", number);
      json_builder_end_object (builder);
      sw_out_json (builder);
    }
  else
    sw_out_line ("%" G_GINT64_FORMAT, number);
}

static int
run_trip_add (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  SwDay first, last;
  gint64 number = 0;

  if (trip_title == NULL || trip_first == NULL || trip_last == NULL)
    return sw_usage (error, _ ("It needs --title, --first and --last."));
  if (!sw_day_parse (trip_first, &first, error) || !sw_day_parse (trip_last, &last, error))
    return SW_EXIT_REFUSED;
  catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  if (catalogue == NULL || !sw_trip_add (catalogue, trip_title, first, last, &number, error))
    return SW_EXIT_REFUSED;
  print_trip_number (call, number);
  return SW_EXIT_STANDS;
}

static char *place_position;
static gboolean place_off_property;

static const GOptionEntry place_options[] = {
  { "position", 0, 0, G_OPTION_ARG_FILENAME, &place_position, N_ ("Where it stands, in degrees"),
    "LAT,LON" },
  { "off-property", 0, 0, G_OPTION_ARG_NONE, &place_off_property,
    N_ ("It is off the property: home, the shop, the yard"), NULL },
  { NULL },
};

/* An earlier run may have added it, or a notebook: then it gets its position, if one is given. NULL
 * without error where it has to be added. */
static SwPlace *
place_there (SwCatalogue *catalogue, const char *path)
{
  g_autoptr (SwPlace) place = sw_place_find (catalogue, path, NULL);

  if (place == NULL || place->off_property != place_off_property)
    return NULL;
  return g_steal_pointer (&place);
}

static gboolean
same_position (const SwPlace *place, double latitude, double longitude)
{
  return place->has_position && fabs (place->latitude - latitude) < 1e-9
         && fabs (place->longitude - longitude) < 1e-9;
}

static void
print_place (SwCall *call, SwCatalogue *catalogue, const char *path, gboolean made)
{
  g_autoptr (SwPlace) place = sw_place_find (catalogue, path, NULL);
  const char *shown = place != NULL ? place->path : path;

  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_text (builder, "place", shown);
      sw_json_bool (builder, "made", made);
      json_builder_end_object (builder);
      sw_out_json (builder);
    }
  else
    sw_out_line (made ? _ ("%s added.") : _ ("%s is there already."), shown);
}

static int
run_place_add (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (SwPlace) place = NULL;
  const char *path = call->operands[1];
  double latitude = 0, longitude = 0;
  gboolean has = place_position != NULL;

  if (has && !sw_position_parse (place_position, &latitude, &longitude, error))
    return SW_EXIT_REFUSED;
  catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  if (catalogue == NULL)
    return SW_EXIT_REFUSED;
  place = place_there (catalogue, path);
  if (place != NULL)
    {
      if (has && !same_position (place, latitude, longitude)
          && !sw_place_set_position (catalogue, place->id, latitude, longitude, error))
        return SW_EXIT_REFUSED;
      print_place (call, catalogue, path, FALSE);
      return SW_EXIT_STANDS;
    }
  if (!sw_place_add (catalogue, path, place_off_property, has ? &latitude : NULL,
                     has ? &longitude : NULL, NULL, error))
    return SW_EXIT_REFUSED;
  print_place (call, catalogue, path, TRUE);
  return SW_EXIT_STANDS;
}

const SwCommand sw_property_commands[] = {
  { "trip add", "CAT", 1, 1, N_ ("Add a trip and print its number"),
    N_ ("Days of trips do not overlap. Example: shedwalk trip add CAT --title 'First look' "
        "--first 2026-04-03 --last 2026-04-06"),
    run_trip_add, trip_options },
  { "place add", "CAT 'A > B'", 2, 2,
    N_ ("Add a place; 'Packing shed > Loft' is the loft in the packing shed"), NULL, run_place_add,
    place_options },
  { NULL },
};
