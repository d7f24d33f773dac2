/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Items: rows, finding and listing them, and changes of what is said of one. The steps from state
 * to state are in steps.c, the photos in assign.c, what is said of an item in facts.c and its
 * like. */
#include "core/catalogue/items.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/claims.h"
#include "core/catalogue/db.h"
#include "core/catalogue/ready.h"
#include "core/catalogue/near.h"
#include "core/catalogue/places.h"
#include "core/catalogue/search.h"
#include "core/catalogue/trips.h"

#define COUNT_MAX G_GINT64_CONSTANT (1000000000)
/* Ten thousand items at this price still sum without overflow. */
#define ASKING_MAX (G_MAXINT64 / 10000)

/* In the order of SwClaim: the word in the database and in sentences. */
static const char *const claim_keys[SW_N_CLAIMS] = { "none", "open", "mine" };

/* The last has no word in the database: a mass without a source is a guess. */
static const char *const mass_sources[]
    = { N_ ("weighed"), N_ ("typed"), N_ ("worked out"), N_ ("size class"), N_ ("guessed") };
#define GUESSED "guessed"

/* In the order of SwWaits. */
static const char *const waits_keys[SW_N_WAITS] = { NULL, "price", N_ ("later") };

/* A hundred metres: beyond that it was mistyped. */
#define LENGTH_MAX G_GINT64_CONSTANT (100000)

void
sw_item_free (SwItem *item)
{
  if (item == NULL)
    return;
  g_free (item->name);
  g_free (item->place_path);
  g_free (item->mass_source);
  g_free (item->mass_how);
  g_free (item->outlet_name);
  g_free (item->lot_name);
  g_free (item->scrap_class);
  g_free (item->claim_by);
  g_free (item->hold_for);
  g_free (item);
}

static SwClaim
claim_from_key (const char *key)
{
  for (int i = 0; i < SW_N_CLAIMS; i++)
    if (strcmp (claim_keys[i], key) == 0)
      return (SwClaim)i;
  return SW_CLAIM_OPEN; /* a foreign word: nothing may be sold on the strength of it */
}

static void
read_states (SwItem *item, const SwUse *use)
{
  g_autofree char *state = sw_col_text (use, 6);
  g_autofree char *claim = sw_col_text (use, 12);
  if (!sw_state_from_key (state, &item->state))
    item->state = SW_STATE_FOUND; /* check names it as a fault */
  item->claim = claim_from_key (claim);
  item->claim_by = sw_col_text (use, 13);
  item->never_offer = sw_col_int (use, 14) != 0;
  item->has_hold = !sw_col_is_null (use, 15);
  if (item->has_hold)
    item->hold_until = (SwDay){ (gint32)sw_col_int (use, 15) };
  item->hold_for = sw_col_text (use, 16);
}

static void
read_size (SwItem *item, const SwUse *use)
{
  g_autofree char *size = sw_col_text (use, 22);
  g_autofree char *stows = sw_col_text (use, 23);
  item->size = sw_size_from_word (size);
  item->stows = sw_stows_from_word (stows);
  item->length_mm = sw_col_int (use, 24);
  item->width_mm = sw_col_int (use, 25);
  item->height_mm = sw_col_int (use, 26);
  item->size_guessed = sw_col_int (use, 27) != 0;
}

static void
read_plans (SwItem *item, const SwUse *use)
{
  g_autofree char *waits = sw_col_text (use, 34);
  item->has_reserve = !sw_col_is_null (use, 28);
  if (item->has_reserve)
    item->reserve = sw_money (sw_col_int (use, 28));
  item->outlet = sw_col_int (use, 29);
  item->outlet_name = sw_col_text (use, 30);
  item->lot = sw_col_int (use, 31);
  item->lot_name = sw_col_text (use, 32);
  item->scrap_class = sw_col_text (use, 33);
  for (int i = 1; i < SW_N_WAITS; i++)
    if (g_strcmp0 (waits_keys[i], waits) == 0)
      item->waits = (SwWaits)i;
  item->n_dangers = (int)sw_col_int (use, 35);
  item->n_questions = (int)sw_col_int (use, 36);
  item->n_jobs = (int)sw_col_int (use, 37);
  item->clash = sw_col_int (use, 38) != 0;
}

static SwItem *
item_from_row (const SwUse *use)
{
  SwItem *item = g_new0 (SwItem, 1);
  item->id = sw_col_int (use, 0);
  item->name = sw_col_text (use, 1);
  item->neutral = sw_col_int (use, 2) != 0;
  item->place = sw_col_int (use, 3);
  item->trip = sw_col_int (use, 4);
  item->place_path = sw_col_text (use, 5);
  read_states (item, use);
  item->count = sw_col_int (use, 7);
  item->has_asking = !sw_col_is_null (use, 8);
  if (item->has_asking)
    item->asking = sw_money (sw_col_int (use, 8));
  item->has_mass = !sw_col_is_null (use, 9);
  if (item->has_mass)
    item->mass = (SwMass){ sw_col_int (use, 9) };
  if (item->has_mass)
    item->mass_source = sw_col_is_null (use, 10) ? g_strdup (GUESSED) : sw_col_text (use, 10);
  item->mass_how = sw_col_text (use, 21);
  item->origin = sw_col_int (use, 11);
  item->cover = sw_col_int (use, 17);
  item->n_photos = (int)sw_col_int (use, 18);
  item->first_photo = sw_col_int (use, 19);
  item->revision = sw_col_int (use, 20);
  read_size (item, use);
  read_plans (item, use);
  return item;
}

/* --- checks --- */

static gboolean
check_count (gint64 count, GError **error)
{
  if (count >= 1 && count <= COUNT_MAX)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("A count is a whole number from 1 to 1000000000, not %" PRId64 "."), count);
  return FALSE;
}

static gboolean
check_asking (const SwMoney *asking, GError **error)
{
  if (asking == NULL || (asking->minor >= 0 && asking->minor <= ASKING_MAX))
    return TRUE;
  g_set_error (
      error, SW_ERROR, SW_ERROR_BAD_INPUT,
      _ ("An asking price is not below zero, and not beyond all reason; give it for the whole "
         "count."));
  return FALSE;
}

static gboolean
place_exists (SwCatalogue *catalogue, gint64 place, GError **error)
{
  g_autoptr (SwPlace) found = sw_place_get (catalogue, place, error);
  return found != NULL;
}

static gboolean
trip_exists (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  if (trip == 0)
    return TRUE;
  g_autoptr (SwTrip) found = sw_trip_get (catalogue, trip, error);
  return found != NULL;
}

/* --- rows --- */

gboolean
sw_item_add (SwCatalogue *catalogue, const SwItemNew *item, gint64 *out_number, GError **error)
{
  gint64 count = item->count == 0 ? 1 : item->count;
  if (!sw_text_check (item->name, _ ("The name of the item"), FALSE, FALSE, error)
      || !check_count (count, error) || !check_asking (item->asking, error))
    return FALSE;
  g_autofree char *name = sw_text_tidy (item->name);
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error) || !place_exists (catalogue, item->place, error)
      || !trip_exists (catalogue, item->trip, error)
      || !sw_db_run (catalogue, error, SW_STMT_ITEM_INSERT, "tiiIiIi", name, (gint64)item->neutral,
                     item->place, item->trip != 0, item->trip, count, item->asking != NULL,
                     item->asking != NULL ? item->asking->minor : (gint64)0,
                     sw_catalogue_now (catalogue).us))
    return FALSE;
  gint64 number = sw_db_last_id (catalogue);
  g_autofree char *sentence = g_strdup_printf (_ ("Item %" PRId64 " '%s' added"), number, name);
  if (!sw_act_tell (&act, SW_SUBJECT_ITEM, number, "item.added", NULL, sentence, error)
      || !sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_number != NULL)
    *out_number = number;
  return TRUE;
}

/* NULL without error where there is none. */
static SwItem *
get_or_null (SwCatalogue *catalogue, gint64 number, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ITEM_GET, "i", number);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error) || !row)
    return NULL;
  return item_from_row (&use);
}

static void
set_no_number (SwCatalogue *catalogue, gint64 number, GError **error)
{
  gint64 last = 0, into = 0;
  gboolean found = FALSE;
  if (!sw_db_get_int (catalogue, &into, &found, error, SW_STMT_ITEM_JOINED_INTO, "i", number))
    return;
  if (found)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
                   _ ("Item %" PRId64 " was joined into item %" PRId64 "; give that number."),
                   number, into);
      return;
    }
  if (!sw_db_get_int (catalogue, &last, &found, error, SW_STMT_ITEM_LAST, ""))
    return;
  if (!found || last == 0)
    g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
                 _ ("There is no item %" PRId64 ": the catalogue has no items yet."), number);
  else
    g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
                 _ ("There is no item %" PRId64 "; the last one has the number %" PRId64 "."),
                 number, last);
}

SwItem *
sw_item_get (SwCatalogue *catalogue, gint64 number, GError **error)
{
  GError *local = NULL;
  SwItem *item = get_or_null (catalogue, number, &local);
  if (local != NULL)
    g_propagate_error (error, local);
  else if (item == NULL)
    set_no_number (catalogue, number, error);
  return item;
}

typedef struct
{
  gint64 id, origin;
} Named;

/* The items of exactly that name, by number. */
static GArray *
items_named (SwCatalogue *catalogue, const char *name, GError **error)
{
  g_autoptr (GArray) found = g_array_new (FALSE, FALSE, sizeof (Named));
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ITEM_NAMED, "t", name);
  for (;;)
    {
      gboolean row = FALSE;
      if (!sw_db_step (catalogue, &use, &row, error))
        return NULL;
      if (!row)
        return g_steal_pointer (&found);
      g_autofree char *other = sw_col_text (&use, 1);
      Named named = { sw_col_int (&use, 0), sw_col_int (&use, 2) };
      if (strcmp (other, name) == 0)
        g_array_append_val (found, named);
    }
}

static gboolean
among (const GArray *found, gint64 id)
{
  for (guint i = 0; i < found->len; i++)
    if (g_array_index (found, Named, i).id == id)
      return TRUE;
  return FALSE;
}

/* A part that split off bears its origin's name; the name means what is left, so the parts are
 * dropped. */
static void
drop_parts (GArray *found)
{
  g_autoptr (GArray) kept = g_array_new (FALSE, FALSE, sizeof (Named));
  for (guint i = 0; i < found->len; i++)
    {
      Named named = g_array_index (found, Named, i);
      if (named.origin == 0 || !among (found, named.origin))
        g_array_append_val (kept, named);
    }
  g_array_set_size (found, 0);
  g_array_append_vals (found, kept->data, kept->len);
}

static void
set_several (const char *name, const GArray *found, GError **error)
{
  g_autoptr (GString) numbers = g_string_new (NULL);
  for (guint i = 0; i < found->len && i < 12; i++)
    g_string_append_printf (numbers, "%s%" G_GINT64_FORMAT, i == 0 ? "" : ", ",
                            g_array_index (found, Named, i).id);
  if (found->len > 12)
    g_string_append (numbers, _ (" and more"));
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("The name '%s' is borne by several items: %s; give the number instead."), name,
               numbers->str);
}

static void
set_no_name (SwCatalogue *catalogue, const char *name, GError **error)
{
  g_autoptr (SwNear) near_names = sw_near_new (name);
  {
    g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ITEM_NAMES, "");
    for (;;)
      {
        gboolean row = FALSE;
        if (!sw_db_step (catalogue, &use, &row, error))
          return;
        if (!row)
          break;
        g_autofree char *other = sw_col_text (&use, 0);
        sw_near_consider (near_names, other);
      }
  }
  g_autofree char *words = sw_near_words (near_names);
  g_autofree char *shown = sw_text_printable (name, -1);
  if (words != NULL)
    g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
                 _ ("There is no item '%s'; did you mean %s? Else give its number."), shown, words);
  else
    g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
                 _ ("There is no item '%s'; give its number, or its name as it stands in the list "
                    "of items."),
                 shown);
}

SwItem *
sw_item_find (SwCatalogue *catalogue, const char *number_or_name, GError **error)
{
  if (!sw_text_check (number_or_name, _ ("The item"), FALSE, FALSE, error))
    return NULL;
  g_autofree char *name = sw_text_tidy (number_or_name);
  gint64 number = 0;
  gboolean is_number = sw_near_is_number (name, &number);
  if (is_number)
    {
      GError *local = NULL;
      SwItem *item = get_or_null (catalogue, number, &local);
      if (local != NULL)
        g_propagate_error (error, local);
      if (item != NULL || local != NULL)
        return item;
    }
  g_autoptr (GArray) found = items_named (catalogue, name, error);
  if (found == NULL)
    return NULL;
  drop_parts (found);
  if (found->len == 1)
    return sw_item_get (catalogue, g_array_index (found, Named, 0).id, error);
  if (found->len > 1)
    set_several (name, found, error);
  else if (is_number)
    set_no_number (catalogue, number, error);
  else
    set_no_name (catalogue, name, error);
  return NULL;
}

gboolean
sw_item_in_place (SwCatalogue *catalogue, gint64 place, const char *name, gint64 *out_number,
                  GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ITEM_NAMES_IN_PLACE, "i", place);
  for (;;)
    {
      gboolean row = FALSE;
      if (!sw_db_step (catalogue, &use, &row, error))
        return FALSE;
      g_autofree char *other = row ? sw_col_text (&use, 1) : NULL;
      if (row && !sw_text_same_name (other, name))
        continue;
      *out_number = row ? sw_col_int (&use, 0) : 0;
      return TRUE;
    }
}

/* --- lists --- */

static gboolean
within (gboolean has, gint64 value, const gint64 *least, const gint64 *most)
{
  if (least == NULL && most == NULL)
    return TRUE;
  return has && (least == NULL || value >= *least) && (most == NULL || value <= *most);
}

static guint
needs_met (const SwItem *item)
{
  gboolean stands = sw_state_stands (item->state);
  gboolean sized = item->size != SW_SIZE_UNKNOWN || item->length_mm != 0 || item->width_mm != 0
                   || item->height_mm != 0;
  return (item->n_dangers > 0 ? SW_ITEM_WITH_DANGER : 0u)
         | (item->n_questions > 0 ? SW_ITEM_WITH_QUESTION : 0u)
         | (item->n_jobs > 0 ? SW_ITEM_WITH_JOB : 0u)
         | (stands && !item->has_asking ? SW_ITEM_TO_BE_PRICED : 0u)
         | (item->n_photos == 0 ? SW_ITEM_WITHOUT_PHOTO : 0u) | (!sized ? SW_ITEM_WITHOUT_SIZE : 0u)
         | (item->claim != SW_CLAIM_NONE ? SW_ITEM_WITH_CLAIM : 0u)
         | (item->waits == SW_WAITS_LATER ? SW_ITEM_LATER : 0u);
}

static gboolean
is_listed (const SwItem *item, const SwItemFilter *filter)
{
  return (needs_met (item) & filter->needs) == filter->needs
         && within (item->has_asking, item->asking.minor,
                    filter->asking_least != NULL ? &filter->asking_least->minor : NULL,
                    filter->asking_most != NULL ? &filter->asking_most->minor : NULL)
         && within (item->has_mass, item->mass.ug,
                    filter->mass_least != NULL ? &filter->mass_least->ug : NULL,
                    filter->mass_most != NULL ? &filter->mass_most->ug : NULL);
}

static int
compare_numbers (gint64 a, gint64 b)
{
  return a < b ? -1 : a > b;
}

/* What is missing comes last either way: *out_last says so. */
static int
compare_by (const SwItem *a, const SwItem *b, SwItemOrder order, gboolean *out_last)
{
  *out_last = FALSE;
  switch (order)
    {
    case SW_ITEMS_BY_STATE:
      return compare_numbers (a->state, b->state);
    case SW_ITEMS_BY_NAME:
      return g_utf8_collate (a->name, b->name);
    case SW_ITEMS_BY_PLACE:
      return g_utf8_collate (a->place_path, b->place_path);
    case SW_ITEMS_BY_COUNT:
      return compare_numbers (a->count, b->count);
    case SW_ITEMS_BY_ASKING:
      *out_last = a->has_asking != b->has_asking;
      return *out_last ? b->has_asking - a->has_asking
                       : compare_numbers (a->asking.minor, b->asking.minor);
    case SW_ITEMS_BY_MASS:
      *out_last = a->has_mass != b->has_mass;
      return *out_last ? b->has_mass - a->has_mass : compare_numbers (a->mass.ug, b->mass.ug);
    case SW_ITEMS_BY_TRIP:
      *out_last = (a->trip == 0) != (b->trip == 0);
      return *out_last ? (a->trip == 0) - (b->trip == 0) : compare_numbers (a->trip, b->trip);
    default:
      return 0;
    }
}

static int
compare_items (gconstpointer left, gconstpointer right, gpointer data)
{
  const SwItem *a = *(SwItem *const *)left, *b = *(SwItem *const *)right;
  const SwItemFilter *filter = data;
  gboolean last = FALSE;
  int found = compare_by (a, b, filter->order, &last);
  if (found == 0)
    found = compare_numbers (a->id, b->id);
  return filter->descending && !last ? -found : found;
}

static GPtrArray *
list_rows (SwCatalogue *catalogue, const SwItemFilter *filter, const char *inside,
           const char *query, GError **error)
{
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_item_free);
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ITEM_LIST, "iitittii", filter->place,
                                  (gint64)(inside != NULL), inside, filter->trip,
                                  filter->state != NULL ? sw_state_key (*filter->state) : NULL,
                                  query, filter->outlet, filter->lot);
  for (;;)
    {
      gboolean row = FALSE;
      if (!sw_db_step (catalogue, &use, &row, error))
        return NULL;
      if (!row)
        return g_steal_pointer (&items);
      g_autoptr (SwItem) item = item_from_row (&use);
      if (is_listed (item, filter))
        g_ptr_array_add (items, g_steal_pointer (&item));
    }
}

GPtrArray *
sw_item_list (SwCatalogue *catalogue, const SwItemFilter *filter, GError **error)
{
  static const SwItemFilter all = { 0 };
  if (filter == NULL)
    filter = &all;
  g_autofree char *inside = NULL;
  if (filter->place != 0 && filter->places_inside)
    {
      g_autoptr (SwPlace) place = sw_place_get (catalogue, filter->place, error);
      if (place == NULL)
        return NULL;
      inside = g_strconcat (place->path, " > ", NULL);
    }
  g_autofree char *query = sw_search_query (filter->search);
  g_autoptr (GPtrArray) items = list_rows (catalogue, filter, inside, query, error);
  if (items != NULL && (filter->order != SW_ITEMS_BY_NUMBER || filter->descending))
    g_ptr_array_sort_with_data (items, compare_items, (gpointer)filter);
  return g_steal_pointer (&items);
}

gboolean
sw_item_count_standing (SwCatalogue *catalogue, gint64 *out_n, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ITEM_STATES, "");
  gboolean row = FALSE;

  *out_n = 0;
  while (sw_db_step (catalogue, &use, &row, error))
    {
      g_autofree char *key = row ? sw_col_text (&use, 0) : NULL;
      SwState state = SW_STATE_FOUND; /* a foreign word, as read_states has it */

      if (!row)
        return TRUE;
      sw_state_from_key (key, &state);
      if (sw_state_stands (state))
        *out_n += sw_col_int (&use, 1);
    }
  return FALSE;
}

/* --- changes --- */

static gboolean
check_mass (const SwItemChange *change, GError **error)
{
  if (change->mass != NULL && change->mass->ug < 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("A mass is not below zero."));
      return FALSE;
    }
  if (change->mass == NULL || change->mass_source == NULL)
    return TRUE;
  for (gsize i = 0; i < G_N_ELEMENTS (mass_sources); i++)
    if (strcmp (mass_sources[i], change->mass_source) == 0)
      return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("A mass is weighed, typed, worked out, from its size class or guessed."));
  return FALSE;
}

static gboolean
check_cover (SwCatalogue *catalogue, gint64 number, const gint64 *cover, GError **error)
{
  if (cover == NULL || *cover == 0)
    return TRUE;
  gint64 one = 0;
  gboolean found = FALSE;
  if (!sw_db_get_int (catalogue, &one, &found, error, SW_STMT_ITEM_PHOTO_HAS, "ii", number, *cover))
    return FALSE;
  if (found)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("Photo %" PRId64 " is none of the photos of item %" PRId64 "; assign it first."),
               *cover, number);
  return FALSE;
}

static gboolean
check_length (const gint64 *mm, GError **error)
{
  if (mm == NULL || (*mm >= 0 && *mm <= LENGTH_MAX))
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("A measure is from 1 mm to 100 m; give it in millimetres."));
  return FALSE;
}

static gboolean
outlet_exists (SwCatalogue *catalogue, gint64 outlet, GError **error)
{
  if (outlet == 0)
    return TRUE;
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_OUTLET_NAME, "i", outlet);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error) || row)
    return row;
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no outlet %" PRId64 "."), outlet);
  return FALSE;
}

static gboolean
check_more (SwCatalogue *catalogue, const SwItemChange *change, GError **error)
{
  return check_length (change->length_mm, error) && check_length (change->width_mm, error)
         && check_length (change->height_mm, error) && check_asking (change->reserve, error)
         && (change->outlet == NULL || outlet_exists (catalogue, *change->outlet, error))
         && (change->scrap_class == NULL
             || sw_text_check (change->scrap_class, _ ("The class of scrap"), FALSE, TRUE, error))
         && (change->mass_how == NULL
             || sw_text_check (change->mass_how, _ ("What the mass was worked out from"), FALSE,
                               TRUE, error));
}

static gboolean
check_change (SwCatalogue *catalogue, gint64 number, const SwItemChange *change, GError **error)
{
  if (change->name != NULL
      && !sw_text_check (change->name, _ ("The name of the item"), FALSE, FALSE, error))
    return FALSE;
  if (change->claim_by != NULL
      && !sw_text_check (change->claim_by, _ ("The name of the person"), FALSE, TRUE, error))
    return FALSE;
  return (change->count == NULL || check_count (*change->count, error))
         && check_asking (change->asking, error) && check_mass (change, error)
         && (change->place == NULL || place_exists (catalogue, *change->place, error))
         && (change->trip == NULL || trip_exists (catalogue, *change->trip, error))
         && check_cover (catalogue, number, change->cover, error)
         && check_more (catalogue, change, error);
}

static void
take_text (char **field, const char *text)
{
  g_autofree char *tidy = sw_text_tidy (text);
  g_free (*field);
  *field = *tidy != '\0' ? g_steal_pointer (&tidy) : NULL;
}

/* What this person says now; the item's claim is the summary of what all say. */
static gboolean
take_claim (SwCatalogue *catalogue, SwItem *item, const SwItemChange *change, GString *told,
            GError **error)
{
  if (change->claim == NULL && change->claim_by == NULL)
    return TRUE;
  SwClaim says = change->claim != NULL ? *change->claim : item->claim;
  g_autofree char *by = change->claim_by != NULL ? sw_text_tidy (change->claim_by) : NULL;
  g_autofree char *others = NULL;
  if (by == NULL && says != SW_CLAIM_NONE)
    by = g_strdup (item->claim_by != NULL ? item->claim_by : "");
  g_clear_pointer (&item->claim_by, g_free);
  if (!sw_claim_write (catalogue, item->id, by, says, &item->claim, &item->claim_by, &others,
                       error))
    return FALSE;
  g_string_append_printf (told, _ (", claim %s"), claim_keys[says]);
  if (by != NULL && *by != '\0')
    g_string_append_printf (told, " by %s", by);
  if (others != NULL)
    g_string_append_printf (told, _ (" although %s and %s both say it is theirs"),
                            item->claim_by != NULL ? item->claim_by : _ ("somebody"), others);
  if (item->claim != SW_CLAIM_NONE && item->state == SW_STATE_ON_OFFER)
    g_string_append (told, _ (" while it is on offer (settle it before the offer closes)"));
  return TRUE;
}

static void
take_asking (SwCatalogue *catalogue, SwItem *item, const SwItemChange *change, GString *told)
{
  if (change->asking != NULL)
    {
      g_autofree char *text
          = sw_money_to_plain (*change->asking, sw_catalogue_currency (catalogue));
      item->has_asking = TRUE;
      item->asking = *change->asking;
      if (item->waits == SW_WAITS_PRICE)
        item->waits = SW_WAITS_NOT;
      g_string_append_printf (told, _ (", asking %s"), text);
    }
  else if (change->clear_asking)
    {
      item->has_asking = FALSE;
      g_string_append (told, _ (", no asking price"));
    }
}

static void
take_reserve (SwCatalogue *catalogue, SwItem *item, const SwItemChange *change, GString *told)
{
  if (change->reserve != NULL)
    {
      g_autofree char *text
          = sw_money_to_plain (*change->reserve, sw_catalogue_currency (catalogue));
      item->has_reserve = TRUE;
      item->reserve = *change->reserve;
      g_string_append_printf (told, _ (", reserve %s"), text);
    }
  else if (change->clear_reserve && item->has_reserve)
    {
      item->has_reserve = FALSE;
      g_string_append (told, _ (", no reserve"));
    }
}

static void
take_mass (SwItem *item, const SwItemChange *change, GString *told)
{
  if (change->mass == NULL)
    {
      if (change->clear_mass && item->has_mass)
        g_string_append (told, _ (", mass not known"));
      item->has_mass = item->has_mass && !change->clear_mass;
      return;
    }
  const char *source = change->mass_source != NULL ? change->mass_source : "typed";
  g_autofree char *text = sw_mass_to_text (*change->mass);
  item->has_mass = TRUE;
  item->mass = *change->mass;
  take_text (&item->mass_source, source);
  take_text (&item->mass_how, change->mass_how != NULL ? change->mass_how : "");
  g_string_append_printf (told, _ (", mass %s (%s%s%s)"), text, source,
                          item->mass_how != NULL ? ": " : "",
                          item->mass_how != NULL ? item->mass_how : "");
}

static void
take_length (gint64 *field, const gint64 *value, const char *what, GString *told)
{
  if (value == NULL)
    return;
  *field = *value;
  if (*value != 0)
    g_string_append_printf (told, ", %s %" G_GINT64_FORMAT " mm", what, *value);
  else
    g_string_append_printf (told, _ (", %s not known"), what);
}

static void
take_size (SwItem *item, const SwItemChange *change, GString *told)
{
  if (change->size != NULL)
    {
      const char *word = sw_size_word (*change->size);
      item->size = *change->size;
      g_string_append_printf (told, _ (", size %s"), word != NULL ? word : _ ("not known"));
    }
  if (change->stows != NULL)
    {
      const char *word = sw_stows_word (*change->stows);
      item->stows = *change->stows;
      g_string_append_printf (told, _ (", rides %s%s"),
                              word != NULL ? _ ("on ") : _ ("nobody knows where"),
                              word != NULL ? word : "");
    }
  take_length (&item->length_mm, change->length_mm, "length", told);
  take_length (&item->width_mm, change->width_mm, "width", told);
  take_length (&item->height_mm, change->height_mm, "height", told);
  if (change->size_guessed != NULL && item->size_guessed != *change->size_guessed)
    {
      item->size_guessed = *change->size_guessed;
      g_string_append (told, item->size_guessed ? _ (", size guessed") : _ (", size measured"));
    }
}

/* What the person means to do with it. */
static void
take_plans (SwItem *item, const SwItemChange *change, GString *told)
{
  static const char *const words[SW_N_WAITS]
      = { N_ ("put off no more"), N_ ("to be priced"), N_ ("later") };
  if (change->outlet != NULL)
    {
      item->outlet = *change->outlet;
      g_string_append (told,
                       item->outlet != 0 ? _ (", meant for another outlet") : _ (", no outlet"));
    }
  if (change->scrap_class != NULL)
    {
      take_text (&item->scrap_class, change->scrap_class);
      g_string_append_printf (told, _ (", scrap class %s"),
                              item->scrap_class != NULL ? item->scrap_class : _ ("not known"));
    }
  if (change->waits != NULL && *change->waits != item->waits)
    {
      item->waits = *change->waits;
      g_string_append_printf (told, ", %s", _ (words[item->waits]));
    }
}

static gboolean
take_place (SwCatalogue *catalogue, SwItem *item, const gint64 *place, GString *told,
            GError **error)
{
  if (place == NULL)
    return TRUE;
  g_autoptr (SwPlace) found = sw_place_get (catalogue, *place, error);
  if (found == NULL)
    return FALSE;
  item->place = *place;
  g_string_append_printf (told, _ (", place %s"), found->path);
  return TRUE;
}

/* Takes the fields into 'item' and tells them in 'told' (", asking 12.00"). */
static gboolean
take_change (SwCatalogue *catalogue, SwItem *item, const SwItemChange *change, GString *told,
             GError **error)
{
  if (change->name != NULL)
    {
      take_text (&item->name, change->name);
      item->neutral = FALSE;
      g_string_append_printf (told, _ (", now called '%s'"), item->name);
    }
  if (!take_place (catalogue, item, change->place, told, error))
    return FALSE;
  if (change->trip != NULL)
    {
      item->trip = *change->trip;
      if (item->trip != 0)
        g_string_append_printf (told, _ (", found on trip %" PRId64), item->trip);
      else
        g_string_append (told, _ (", found on no trip"));
    }
  if (change->count != NULL)
    {
      g_string_append_printf (told, _ (", count %" PRId64), *change->count);
      if (*change->count != item->count)
        g_string_append_printf (told, _ (", was %" PRId64), item->count);
      item->count = *change->count;
    }
  take_asking (catalogue, item, change, told);
  take_reserve (catalogue, item, change, told);
  take_mass (item, change, told);
  take_size (item, change, told);
  take_plans (item, change, told);
  if (!take_claim (catalogue, item, change, told, error))
    return FALSE;
  if (change->never_offer != NULL)
    {
      item->never_offer = *change->never_offer;
      g_string_append (told, item->never_offer ? _ (", never to be offered before it is cleared")
                                               : _ (", cleared to be offered"));
    }
  if (change->cover != NULL)
    {
      item->cover = *change->cover;
      g_string_append (told, _ (", another first photo"));
    }
  return TRUE;
}

static gboolean
write_more (SwCatalogue *catalogue, const SwItem *item, GError **error)
{
  return sw_db_run (catalogue, error, SW_STMT_ITEM_UPDATE_MORE, "itttIIIiIItt", item->id,
                    item->has_mass ? item->mass_how : NULL, sw_size_word (item->size),
                    sw_stows_word (item->stows), item->length_mm != 0, item->length_mm,
                    item->width_mm != 0, item->width_mm, item->height_mm != 0, item->height_mm,
                    (gint64)item->size_guessed, item->has_reserve, item->reserve.minor,
                    item->outlet != 0, item->outlet, item->scrap_class, waits_keys[item->waits]);
}

static gboolean
write_item (SwCatalogue *catalogue, const SwItem *item, GError **error)
{
  gboolean guessed = g_strcmp0 (item->mass_source, GUESSED) == 0;
  return sw_db_run (catalogue, error, SW_STMT_ITEM_UPDATE, "itiiiIItttiII", item->id, item->name,
                    (gint64)item->neutral, item->place, item->count, item->has_asking,
                    item->asking.minor, item->has_mass, item->mass.ug,
                    item->has_mass && !guessed ? item->mass_source : NULL, claim_keys[item->claim],
                    item->claim_by, (gint64)item->never_offer, item->cover != 0, item->cover,
                    item->trip != 0, item->trip)
         && write_more (catalogue, item, error);
}

/* What loses something that Ready needs is Found again, so that nobody offers it by its state
 * alone. */
static gboolean
fall_back_to_found (SwCatalogue *catalogue, const SwItem *item, GString *told, GError **error)
{
  if (item->state != SW_STATE_READY || sw_item_lacks (item) == 0)
    return TRUE;
  g_string_append (told, _ (", so Ready no more: back to Found"));
  return sw_db_run (catalogue, error, SW_STMT_ITEM_SET_STATE, "itIt", item->id,
                    sw_state_key (SW_STATE_FOUND), FALSE, (gint64)0, NULL);
}

static gboolean
check_revision (const SwItem *item, gint64 seen, GError **error)
{
  if (seen == 0 || seen == item->revision)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BUSY,
               _ ("Item %" PRId64 " '%s' was changed meanwhile; look again."), item->id,
               item->name);
  return FALSE;
}

gboolean
sw_item_change (SwCatalogue *catalogue, gint64 number, const SwItemChange *change, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  if (item == NULL || !check_revision (item, change->revision, error)
      || !check_change (catalogue, number, change, error))
    return FALSE;
  g_autofree char *old_name = g_strdup (item->name);
  g_autoptr (GString) told = g_string_new (NULL);
  if (!take_change (catalogue, item, change, told, error))
    return FALSE;
  if (told->len == 0)
    return TRUE;
  if (!write_item (catalogue, item, error) || !fall_back_to_found (catalogue, item, told, error))
    return FALSE;
  g_autofree char *sentence = g_strdup_printf ("%s: %s", old_name, told->str + strlen (", "));
  return sw_act_tell (&act, SW_SUBJECT_ITEM, number, "item.changed", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

gboolean
sw_item_mass_by_size (SwCatalogue *catalogue, gint64 number, GError **error)
{
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  SwMass mass = { 0 };
  if (item == NULL)
    return FALSE;
  if (item->size == SW_SIZE_UNKNOWN
      || __builtin_mul_overflow (sw_size_mass (item->size).ug, item->count, &mass.ug))
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("%s has no size class to guess a mass from; say who lifts it first."),
                   item->name);
      return FALSE;
    }
  SwItemChange change
      = { .mass = &mass, .mass_source = "size class", .mass_how = sw_size_word (item->size) };
  return sw_item_change (catalogue, number, &change, error);
}
