/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Commands on items: list, add, change, take a step, assign photos. */
#include <string.h>

#include "cli/command.h"
#include "cli/output.h"
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/items.h"
#include "core/catalogue/places.h"
#include "core/catalogue/tags.h"
#include "core/catalogue/trips.h"
#include "core/trade/taking-back.h"

static char *list_place, *list_state, *list_tag;

static const GOptionEntry list_options[] = {
  { "place", 0, 0, G_OPTION_ARG_FILENAME, &list_place,
    N_ ("Only of this place and the places inside it"), "P" },
  { "state", 0, 0, G_OPTION_ARG_FILENAME, &list_state, N_ ("Only in this state"), "S" },
  { "tag", 0, 0, G_OPTION_ARG_FILENAME, &list_tag, N_ ("Only the one that bears this tag"), "N" },
  { NULL },
};

/* Left out where it bears none. */
static void
tags_to_json (JsonBuilder *builder, const GArray *tags, gint64 item)
{
  g_autoptr (GArray) borne = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (guint i = 0; i < tags->len; i++)
    {
      SwTag *tag = &g_array_index (tags, SwTag, i);
      if (tag->item == item)
        g_array_append_val (borne, tag->tag);
    }
  if (borne->len > 0)
    sw_json_ints (builder, "tags", borne);
}

/* tags: all that items bear. */
static gboolean
item_to_json (SwCatalogue *catalogue, JsonBuilder *builder, const SwItem *item, const GArray *tags,
              GError **error)
{
  g_autoptr (GArray) photos = sw_item_photos (catalogue, item->id, error);

  if (photos == NULL)
    return FALSE;
  json_builder_begin_object (builder);
  sw_json_int (builder, "number", item->id);
  sw_json_text (builder, "name", item->name);
  sw_json_text (builder, "place", item->place_path);
  sw_json_text (builder, "state", sw_state_word (item->state));
  sw_json_int (builder, "count", item->count);
  sw_json_int_or_null (builder, "asking", item->has_asking, item->asking.minor);
  sw_json_int_or_null (builder, "trip", item->trip != 0, item->trip);
  sw_json_ints (builder, "photos", photos);
  tags_to_json (builder, tags, item->id);
  json_builder_end_object (builder);
  return TRUE;
}

static int
print_items_json (SwCatalogue *catalogue, GPtrArray *items, GError **error)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autoptr (GArray) tags = sw_tag_list (catalogue, error);

  if (tags == NULL)
    return SW_EXIT_REFUSED;
  json_builder_begin_array (builder);
  for (guint i = 0; i < items->len; i++)
    if (!item_to_json (catalogue, builder, g_ptr_array_index (items, i), tags, error))
      return SW_EXIT_REFUSED;
  json_builder_end_array (builder);
  sw_out_json (builder);
  return SW_EXIT_STANDS;
}

static char **
item_cells (SwCatalogue *catalogue, const SwItem *item)
{
  char **cells = g_new0 (char *, 8);

  cells[0] = g_strdup_printf ("%" G_GINT64_FORMAT, item->id);
  cells[1] = g_strdup (item->name);
  cells[2] = g_strdup (item->place_path);
  cells[3] = g_strdup (sw_state_word (item->state));
  cells[4] = g_strdup_printf ("%" G_GINT64_FORMAT, item->count);
  cells[5] = item->has_asking ? sw_money_to_plain (item->asking, sw_catalogue_currency (catalogue))
                              : g_strdup ("");
  cells[6] = item->trip != 0 ? g_strdup_printf ("%" G_GINT64_FORMAT, item->trip) : g_strdup ("");
  return cells;
}

static void
print_items (SwCatalogue *catalogue, GPtrArray *items)
{
  static const char *const header[]
      = { "number", "name", "place", "state", "count", "asking", "trip", NULL };
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);

  if (items->len == 0)
    {
      sw_out_line (_ ("No items."));
      return;
    }
  g_ptr_array_add (rows, g_strdupv ((char **)header));
  for (guint i = 0; i < items->len; i++)
    g_ptr_array_add (rows, item_cells (catalogue, g_ptr_array_index (items, i)));
  sw_out_table (rows, 1u << 0 | 1u << 4 | 1u << 5 | 1u << 6);
}

static int
run_items (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (GPtrArray) items = NULL;
  SwItemFilter filter = { .places_inside = TRUE };
  gint64 tag = 0, bearer = 0;
  SwState state;

  if (list_tag != NULL && !sw_call_number (list_tag, _ ("The tag"), 1, &tag, error))
    return SW_EXIT_MALFORMED;
  catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  if (catalogue == NULL || (tag != 0 && !sw_tag_item (catalogue, tag, &bearer, error)))
    return SW_EXIT_REFUSED;
  if (list_place != NULL)
    {
      g_autoptr (SwPlace) place = sw_place_find (catalogue, list_place, error);
      if (place == NULL)
        return SW_EXIT_REFUSED;
      filter.place = place->id;
    }
  if (list_state != NULL)
    {
      if (!sw_state_parse (list_state, &state, error))
        return SW_EXIT_REFUSED;
      filter.state = &state;
    }
  items = sw_item_list (catalogue, &filter, error);
  if (items == NULL)
    return SW_EXIT_REFUSED;
  for (guint i = items->len; tag != 0 && i-- > 0;)
    if (((SwItem *)g_ptr_array_index (items, i))->id != bearer)
      g_ptr_array_remove_index (items, i);
  if (call->json)
    return print_items_json (catalogue, items, error);
  print_items (catalogue, items);
  return SW_EXIT_STANDS;
}

/* What add and set print: the item as it stands now. */
static int
print_item (SwCall *call, SwCatalogue *catalogue, gint64 number, gboolean number_only,
            GError **error)
{
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);

  if (item == NULL)
    return SW_EXIT_REFUSED;
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      g_autoptr (GArray) tags = sw_tag_list (catalogue, error);
      if (tags == NULL || !item_to_json (catalogue, builder, item, tags, error))
        return SW_EXIT_REFUSED;
      sw_out_json (builder);
    }
  else if (number_only)
    sw_out_line ("%" G_GINT64_FORMAT, number);
  else
    sw_out_line ("%" G_GINT64_FORMAT " %s, %s: %s", item->id, item->name, item->place_path,
                 sw_state_word (item->state));
  return SW_EXIT_STANDS;
}

static char *item_scrap_class;
static char *item_name, *item_place, *item_trip, *item_count, *item_asking, *item_mass, *item_claim,
    *item_by, *item_tag, *item_tag_off;
static gboolean item_never_offer, item_cleared;

static const GOptionEntry add_options[] = {
  { "place", 0, 0, G_OPTION_ARG_FILENAME, &item_place, N_ ("Where it stands"), "P" },
  { "trip", 0, 0, G_OPTION_ARG_FILENAME, &item_trip, N_ ("The trip that found it"), "N" },
  { "count", 0, 0, G_OPTION_ARG_FILENAME, &item_count, N_ ("How many"), "K" },
  { "asking", 0, 0, G_OPTION_ARG_FILENAME, &item_asking, N_ ("Asking price for the whole count"),
    "MONEY" },
  { NULL },
};

static int
run_item_add (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (SwPlace) place = NULL;
  g_autoptr (SwTrip) trip = NULL;
  SwItemNew item = { .name = call->operands[1], .count = 1 };
  SwMoney asking;
  gint64 number = 0;

  if (item_place == NULL || item_trip == NULL)
    return sw_usage (error, _ ("It needs --place and --trip."));
  if (!sw_call_number (item_trip, _ ("The trip"), 1, &item.trip, error)
      || (item_count != NULL
          && !sw_call_number (item_count, _ ("The count"), 1, &item.count, error)))
    return SW_EXIT_MALFORMED;
  catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  if (catalogue == NULL)
    return SW_EXIT_REFUSED;
  if (item_asking != NULL)
    {
      if (!sw_money_parse_plain (item_asking, sw_catalogue_currency (catalogue), FALSE, &asking,
                                 error))
        return SW_EXIT_REFUSED;
      item.asking = &asking;
    }
  place = sw_place_find (catalogue, item_place, error);
  if (place == NULL)
    return SW_EXIT_REFUSED;
  trip = sw_trip_get (catalogue, item.trip, error);
  if (trip == NULL)
    return SW_EXIT_REFUSED;
  item.place = place->id;
  if (!sw_item_add (catalogue, &item, &number, error))
    return SW_EXIT_REFUSED;
  return print_item (call, catalogue, number, TRUE, error);
}

static const GOptionEntry set_options[] = {
  { "name", 0, 0, G_OPTION_ARG_FILENAME, &item_name, N_ ("What it is called"), "N" },
  { "place", 0, 0, G_OPTION_ARG_FILENAME, &item_place, N_ ("Where it stands"), "P" },
  { "count", 0, 0, G_OPTION_ARG_FILENAME, &item_count, N_ ("How many"), "K" },
  { "asking", 0, 0, G_OPTION_ARG_FILENAME, &item_asking, N_ ("Asking price for the whole count"),
    "MONEY" },
  { "mass", 0, 0, G_OPTION_ARG_FILENAME, &item_mass,
    N_ ("Mass of the whole count: 85 kg, 1.2 t, 40 lb, 3 cwt"), "MASS" },
  { "scrap-class", 0, 0, G_OPTION_ARG_FILENAME, &item_scrap_class,
    N_ ("Which class of scrap it would be, as yards name it; empty: not said"), "CLASS" },
  { "claim", 0, 0, G_OPTION_ARG_FILENAME, &item_claim,
    N_ ("Whether somebody has to say, or wants it"), "open|mine|none" },
  { "by", 0, 0, G_OPTION_ARG_FILENAME, &item_by, N_ ("Who"), "NAME" },
  { "never-offer", 0, 0, G_OPTION_ARG_NONE, &item_never_offer,
    N_ ("Never offer it before it is cleared"), NULL },
  { "cleared", 0, 0, G_OPTION_ARG_NONE, &item_cleared, N_ ("It is cleared: it may be offered"),
    NULL },
  { "tag", 0, 0, G_OPTION_ARG_FILENAME, &item_tag, N_ ("It bears this tag"), "N" },
  { "tag-off", 0, 0, G_OPTION_ARG_FILENAME, &item_tag_off, N_ ("It bears this tag no more"), "N" },
  { NULL },
};

static gboolean
parse_claim (const char *text, SwClaim *out, GError **error)
{
  if (sw_claim_from_key (text, out))
    return TRUE;
  sw_usage (error, _ ("--claim is open, mine or none, not '%s'."), text);
  return FALSE;
}

/* What of the options needs no catalogue. */
static gboolean
parse_set_words (SwClaim *claim, gint64 *count, GError **error)
{
  if (item_never_offer && item_cleared)
    {
      sw_usage (error, _ ("--never-offer and --cleared contradict each other."));
      return FALSE;
    }
  if (item_claim == NULL && item_by != NULL)
    {
      sw_usage (error, _ ("--by goes with --claim."));
      return FALSE;
    }
  if (item_claim != NULL && !parse_claim (item_claim, claim, error))
    return FALSE;
  if (item_claim != NULL && *claim != SW_CLAIM_NONE && (item_by == NULL || *item_by == '\0'))
    {
      sw_usage (error, _ ("--claim %s needs --by NAME."), item_claim);
      return FALSE;
    }
  return item_count == NULL || sw_call_number (item_count, _ ("The count"), 1, count, error);
}

/* 0: not asked for. */
static gboolean
parse_tags (gint64 *tag, gint64 *off, GError **error)
{
  return (item_tag == NULL || sw_call_number (item_tag, _ ("The tag"), 1, tag, error))
         && (item_tag_off == NULL || sw_call_number (item_tag_off, _ ("The tag"), 1, off, error));
}

static gboolean
take_off_tag (SwCatalogue *catalogue, const SwItem *item, gint64 tag, GError **error)
{
  gint64 bearer = 0;

  if (!sw_tag_item (catalogue, tag, &bearer, error))
    return FALSE;
  if (bearer == item->id)
    return sw_tag_drop (catalogue, tag, error);
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED, _ ("%s does not bear tag %" PRId64 "."),
               item->name, tag);
  return FALSE;
}

/* With its tags, as one act. */
static gboolean
change_item (SwCatalogue *catalogue, const SwItem *item, const SwItemChange *change, gint64 tag,
             gint64 off, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *sentence = g_strdup_printf (_ ("%s changed"), item->name);

  if (tag == 0 && off == 0)
    return sw_item_change (catalogue, item->id, change, error);
  return sw_act_begin (&act, catalogue, error)
         && sw_item_change (catalogue, item->id, change, error)
         && (off == 0 || take_off_tag (catalogue, item, off, error))
         && (tag == 0 || sw_tag_set (catalogue, tag, item->id, error))
         && sw_act_commit (&act, sentence, error);
}

static int
run_item_set (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (SwItem) item = NULL;
  SwItemChange change = { .name = item_name, .claim_by = item_by, .scrap_class = item_scrap_class };
  SwClaim claim = SW_CLAIM_NONE;
  SwMoney asking;
  SwMass mass;
  gint64 count = 0, place_id = 0, tag = 0, off = 0;
  gboolean never = item_never_offer;

  if (!parse_set_words (&claim, &count, error) || !parse_tags (&tag, &off, error))
    return SW_EXIT_MALFORMED;
  if (item_mass != NULL && !sw_mass_parse (item_mass, &mass, error))
    return SW_EXIT_REFUSED;
  catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  if (catalogue == NULL)
    return SW_EXIT_REFUSED;
  if (item_asking != NULL
      && !sw_money_parse_plain (item_asking, sw_catalogue_currency (catalogue), FALSE, &asking,
                                error))
    return SW_EXIT_REFUSED;
  if (item_place != NULL)
    {
      g_autoptr (SwPlace) place = sw_place_find (catalogue, item_place, error);
      if (place == NULL)
        return SW_EXIT_REFUSED;
      place_id = place->id;
    }
  item = sw_item_find (catalogue, call->operands[1], error);
  if (item == NULL)
    return SW_EXIT_REFUSED;
  change.place = item_place != NULL ? &place_id : NULL;
  change.count = item_count != NULL ? &count : NULL;
  change.asking = item_asking != NULL ? &asking : NULL;
  change.mass = item_mass != NULL ? &mass : NULL;
  change.claim = item_claim != NULL ? &claim : NULL;
  change.never_offer = item_never_offer || item_cleared ? &never : NULL;
  if (!change_item (catalogue, item, &change, tag, off, error))
    return SW_EXIT_REFUSED;
  if (!call->json && claim != SW_CLAIM_NONE && item->state == SW_STATE_ON_OFFER)
    sw_out_line (_ ("Remark: %s is on offer; settle the claim before the offer closes."),
                 item->name);
  return print_item (call, catalogue, item->id, FALSE, error);
}

static char *move_count, *move_date, *move_until, *move_for;

static const GOptionEntry move_options[] = {
  { "count", 0, 0, G_OPTION_ARG_FILENAME, &move_count,
    N_ ("Only so many: they split off with a number of their own"), "K" },
  { "date", 0, 0, G_OPTION_ARG_FILENAME, &move_date, N_ ("The day it counts for (today)"),
    "YYYY-MM-DD" },
  { "until", 0, 0, G_OPTION_ARG_FILENAME, &move_until, N_ ("On hold: until when"), "YYYY-MM-DD" },
  { "for", 0, 0, G_OPTION_ARG_FILENAME, &move_for, N_ ("On hold: for whom"), "NAME" },
  { NULL },
};

static gboolean
parse_day_option (const char *text, SwDay *day, const SwDay **out, GError **error)
{
  if (text == NULL)
    return TRUE;
  if (!sw_day_parse (text, day, error))
    return FALSE;
  *out = day;
  return TRUE;
}

static int
run_item_move (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (SwItem) item = NULL;
  SwStepOptions options = { .hold_for = move_for };
  SwDay day, until;
  SwState to;
  gint64 number = 0;

  if (move_count != NULL && !sw_call_number (move_count, _ ("The count"), 1, &options.count, error))
    return SW_EXIT_MALFORMED;
  if (!sw_state_parse (call->operands[2], &to, error))
    return SW_EXIT_REFUSED;
  if (to != SW_STATE_ON_HOLD && (move_until != NULL || move_for != NULL))
    return sw_usage (error, _ ("--until and --for go with 'On hold', not with '%s'."),
                     sw_state_word (to));
  if (!parse_day_option (move_date, &day, &options.day, error)
      || !parse_day_option (move_until, &until, &options.until, error))
    return SW_EXIT_REFUSED;
  catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  if (catalogue == NULL)
    return SW_EXIT_REFUSED;
  item = sw_item_find (catalogue, call->operands[1], error);
  if (item == NULL)
    return SW_EXIT_REFUSED;
  /* Asked for again, it stands already; a hold may be asked for with another day. */
  if (item->state == to && options.count == 0 && move_until == NULL)
    return print_item (call, catalogue, item->id, FALSE, error);
  if (!sw_item_step_by_hand (catalogue, item->id, to, &options, &number, error))
    return SW_EXIT_REFUSED;
  return print_item (call, catalogue, number, FALSE, error);
}

static char *assign_item, *assign_place;

static const GOptionEntry assign_options[] = {
  { "item", 0, 0, G_OPTION_ARG_FILENAME, &assign_item,
    N_ ("The item they show, or that they show none"), "ITEM|none" },
  { "place", 0, 0, G_OPTION_ARG_FILENAME, &assign_place,
    N_ ("Instead of --item: the place that they show from outside or as a whole"), "PLACE" },
  { NULL },
};

static int
assign_to_place (SwCall *call, SwCatalogue *catalogue, const GArray *photos, GError **error)
{
  g_autoptr (SwPlace) place = sw_place_find (catalogue, assign_place, error);

  if (place == NULL
      || !sw_place_give_photos (catalogue, place->id, (const gint64 *)(void *)photos->data,
                                photos->len, error))
    return SW_EXIT_REFUSED;
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_text (builder, "place", place->path);
      sw_json_ints (builder, "photos", photos);
      json_builder_end_object (builder);
      sw_out_json (builder);
    }
  else
    sw_out_line (_ ("%u photos show %s."), photos->len, place->path);
  return SW_EXIT_STANDS;
}

static int
run_assign (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (GArray) photos = g_array_new (FALSE, FALSE, sizeof (gint64));
  gint64 number = 0;

  if ((assign_item == NULL) == (assign_place == NULL))
    return sw_usage (error, _ ("It needs --item ITEM, --item none or --place PLACE, one of them."));
  for (int i = 1; i < call->n_operands; i++)
    {
      gint64 photo;
      if (!sw_call_number (call->operands[i], _ ("A photo"), 1, &photo, error))
        return SW_EXIT_MALFORMED;
      g_array_append_val (photos, photo);
    }
  catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  if (catalogue == NULL)
    return SW_EXIT_REFUSED;
  if (assign_place != NULL)
    return assign_to_place (call, catalogue, photos, error);
  if (strcmp (assign_item, "none") != 0)
    {
      g_autoptr (SwItem) item = sw_item_find (catalogue, assign_item, error);
      if (item == NULL)
        return SW_EXIT_REFUSED;
      number = item->id;
    }
  if (!sw_item_assign (catalogue, number, (const gint64 *)(void *)photos->data, photos->len, FALSE,
                       error))
    return SW_EXIT_REFUSED;
  if (number != 0)
    return print_item (call, catalogue, number, FALSE, error);
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_ints (builder, "no_item", photos);
      json_builder_end_object (builder);
      sw_out_json (builder);
    }
  else
    sw_out_line (_ ("%u photos show no item."), photos->len);
  return SW_EXIT_STANDS;
}

const SwCommand sw_item_commands[] = {
  { "items", "CAT", 1, 1, N_ ("List items"), NULL, run_items, list_options },
  { "item add", "CAT NAME", 2, 2, N_ ("Add an item and print its number"), NULL, run_item_add,
    add_options },
  { "item set", "CAT ITEM", 2, 2, N_ ("Change an item; ITEM is its number or its exact name"), NULL,
    run_item_set, set_options },
  { "item move", "CAT ITEM STATE", 3, 3, N_ ("Take an item to another state"),
    N_ ("On offer, Sold, No sale, Handed over and Scrapped need a row of shedwalk book, or the "
        "window."),
    run_item_move, move_options },
  { "assign", "CAT PHOTO...", 2, -1,
    N_ ("Say which item photos show; the machine never changes it"), NULL, run_assign,
    assign_options },
  { NULL },
};
