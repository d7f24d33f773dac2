/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Items: rows, finding and listing them, and changes of what is said of one. The steps from state
 * to state are in steps.c, the photos in assign.c, facts, questions and jobs in facts.c. */
#include "core/catalogue/items.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/near.h"
#include "core/catalogue/places.h"
#include "core/catalogue/trips.h"

#define COUNT_MAX G_GINT64_CONSTANT (1000000000)
/* Ten thousand items at this price still sum without overflow. */
#define ASKING_MAX (G_MAXINT64 / 10000)

/* In the order of SwClaim: the word in the database and in sentences. */
static const char *const claim_keys[SW_N_CLAIMS] = { "none", "open", "mine" };

static const char *const mass_sources[] = { "weighed", "typed", "worked out", "size class" };

void
sw_item_free (SwItem *item)
{
  if (item == NULL)
    return;
  g_free (item->name);
  g_free (item->place_path);
  g_free (item->mass_source);
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
  item->mass_source = sw_col_text (use, 10);
  item->origin = sw_col_int (use, 11);
  item->cover = sw_col_int (use, 17);
  item->n_photos = (int)sw_col_int (use, 18);
  item->first_photo = sw_col_int (use, 19);
  item->revision = sw_col_int (use, 20);
  return item;
}

/* --- checks --- */

static gboolean
check_count (gint64 count, GError **error)
{
  if (count >= 1 && count <= COUNT_MAX)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               "A count is a whole number from 1 to 1000000000, not %" G_GINT64_FORMAT ".", count);
  return FALSE;
}

static gboolean
check_asking (const SwMoney *asking, GError **error)
{
  if (asking == NULL || (asking->minor >= 0 && asking->minor <= ASKING_MAX))
    return TRUE;
  g_set_error (
      error, SW_ERROR, SW_ERROR_BAD_INPUT,
      "An asking price is not below zero, and not beyond all reason; give it for the whole "
      "count.");
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
  if (!sw_text_check (item->name, "The name of the item", FALSE, FALSE, error)
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
  g_autofree char *sentence
      = g_strdup_printf ("Item %" G_GINT64_FORMAT " '%s' added", number, name);
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
  gint64 last = 0;
  gboolean found = FALSE;
  if (!sw_db_get_int (catalogue, &last, &found, error, SW_STMT_ITEM_LAST, ""))
    return;
  if (!found || last == 0)
    g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
                 "There is no item %" G_GINT64_FORMAT ": the catalogue has no items yet.", number);
  else
    g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
                 "There is no item %" G_GINT64_FORMAT
                 "; the last one has the number %" G_GINT64_FORMAT ".",
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
    g_string_append (numbers, " and more");
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               "The name '%s' is borne by several items: %s; give the number instead.", name,
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
                 "There is no item '%s'; did you mean %s? Else give its number.", shown, words);
  else
    g_set_error (
        error, SW_ERROR, SW_ERROR_NOT_FOUND,
        "There is no item '%s'; give its number, or its name as it stands in the list of items.",
        shown);
}

SwItem *
sw_item_find (SwCatalogue *catalogue, const char *number_or_name, GError **error)
{
  if (!sw_text_check (number_or_name, "The item", FALSE, FALSE, error))
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

/* The words of a search, folded; NULL where there is nothing to search for. */
static char **
search_words (const char *search)
{
  if (search == NULL)
    return NULL;
  g_autofree char *valid = g_utf8_make_valid (search, -1);
  g_autofree char *tidy = sw_text_tidy (valid);
  if (*tidy == '\0')
    return NULL;
  g_autofree char *folded = g_utf8_casefold (tidy, -1);
  return g_strsplit (folded, " ", -1);
}

static gboolean
name_has_words (const char *name, char **words)
{
  g_autofree char *folded = g_utf8_casefold (name, -1);
  for (int i = 0; words[i] != NULL; i++)
    if (strstr (folded, words[i]) == NULL)
      return FALSE;
  return TRUE;
}

static GPtrArray *
list_rows (SwCatalogue *catalogue, const SwItemFilter *filter, const char *inside, char **words,
           GError **error)
{
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_item_free);
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ITEM_LIST, "iitit", filter->place,
                                  (gint64)(inside != NULL), inside, filter->trip,
                                  filter->state != NULL ? sw_state_key (*filter->state) : NULL);
  for (;;)
    {
      gboolean row = FALSE;
      if (!sw_db_step (catalogue, &use, &row, error))
        return NULL;
      if (!row)
        return g_steal_pointer (&items);
      g_autofree char *name = words != NULL ? sw_col_text (&use, 1) : NULL;
      if (words == NULL || name_has_words (name, words))
        g_ptr_array_add (items, item_from_row (&use));
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
  g_auto (GStrv) words = search_words (filter->search);
  return list_rows (catalogue, filter, inside, words, error);
}

/* --- changes --- */

static gboolean
check_mass (const SwItemChange *change, GError **error)
{
  if (change->mass != NULL && change->mass->ug < 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, "A mass is not below zero.");
      return FALSE;
    }
  if (change->mass == NULL || change->mass_source == NULL)
    return TRUE;
  for (gsize i = 0; i < G_N_ELEMENTS (mass_sources); i++)
    if (strcmp (mass_sources[i], change->mass_source) == 0)
      return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               "A mass is weighed, typed, worked out or from its size class.");
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
               "Photo %" G_GINT64_FORMAT " is none of the photos of item %" G_GINT64_FORMAT
               "; assign it first.",
               *cover, number);
  return FALSE;
}

static gboolean
check_change (SwCatalogue *catalogue, gint64 number, const SwItemChange *change, GError **error)
{
  if (change->name != NULL
      && !sw_text_check (change->name, "The name of the item", FALSE, FALSE, error))
    return FALSE;
  if (change->claim_by != NULL
      && !sw_text_check (change->claim_by, "The name of the person", FALSE, TRUE, error))
    return FALSE;
  return (change->count == NULL || check_count (*change->count, error))
         && check_asking (change->asking, error) && check_mass (change, error)
         && (change->place == NULL || place_exists (catalogue, *change->place, error))
         && (change->trip == NULL || trip_exists (catalogue, *change->trip, error))
         && check_cover (catalogue, number, change->cover, error);
}

static void
take_text (char **field, const char *text)
{
  g_autofree char *tidy = sw_text_tidy (text);
  g_free (*field);
  *field = *tidy != '\0' ? g_steal_pointer (&tidy) : NULL;
}

static void
take_claim (SwItem *item, const SwItemChange *change, GString *told)
{
  if (change->claim == NULL && change->claim_by == NULL)
    return;
  if (change->claim != NULL)
    item->claim = *change->claim;
  if (change->claim_by != NULL)
    take_text (&item->claim_by, change->claim_by);
  if (item->claim == SW_CLAIM_NONE)
    g_clear_pointer (&item->claim_by, g_free);
  g_string_append_printf (told, ", claim %s", claim_keys[item->claim]);
  if (item->claim_by != NULL)
    g_string_append_printf (told, " by %s", item->claim_by);
  if (item->claim != SW_CLAIM_NONE && item->state == SW_STATE_ON_OFFER)
    g_string_append (told, " while it is on offer (settle it before the offer closes)");
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
      g_string_append_printf (told, ", asking %s", text);
    }
  else if (change->clear_asking)
    {
      item->has_asking = FALSE;
      g_string_append (told, ", no asking price");
    }
}

static void
take_mass (SwItem *item, const SwItemChange *change, GString *told)
{
  if (change->mass == NULL)
    return;
  const char *source = change->mass_source != NULL ? change->mass_source : "typed";
  g_autofree char *text = sw_mass_to_text (*change->mass);
  item->has_mass = TRUE;
  item->mass = *change->mass;
  take_text (&item->mass_source, source);
  g_string_append_printf (told, ", mass %s (%s)", text, source);
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
  g_string_append_printf (told, ", place %s", found->path);
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
      g_string_append_printf (told, ", now called '%s'", item->name);
    }
  if (!take_place (catalogue, item, change->place, told, error))
    return FALSE;
  if (change->trip != NULL)
    {
      item->trip = *change->trip;
      if (item->trip != 0)
        g_string_append_printf (told, ", found on trip %" G_GINT64_FORMAT, item->trip);
      else
        g_string_append (told, ", found on no trip");
    }
  if (change->count != NULL)
    {
      item->count = *change->count;
      g_string_append_printf (told, ", count %" G_GINT64_FORMAT, item->count);
    }
  take_asking (catalogue, item, change, told);
  take_mass (item, change, told);
  take_claim (item, change, told);
  if (change->never_offer != NULL)
    {
      item->never_offer = *change->never_offer;
      g_string_append (told, item->never_offer ? ", never to be offered before it is cleared"
                                               : ", cleared to be offered");
    }
  if (change->cover != NULL)
    {
      item->cover = *change->cover;
      g_string_append (told, ", another first photo");
    }
  return TRUE;
}

static gboolean
write_item (SwCatalogue *catalogue, const SwItem *item, GError **error)
{
  return sw_db_run (catalogue, error, SW_STMT_ITEM_UPDATE, "itiiiIItttiII", item->id, item->name,
                    (gint64)item->neutral, item->place, item->count, item->has_asking,
                    item->asking.minor, item->has_mass, item->mass.ug, item->mass_source,
                    claim_keys[item->claim], item->claim_by, (gint64)item->never_offer,
                    item->cover != 0, item->cover, item->trip != 0, item->trip);
}

/* Ready means priced and with no claim open; what loses that is Found again, so that nobody offers
 * it by its state alone. */
static gboolean
fall_back_to_found (SwCatalogue *catalogue, const SwItem *item, GString *told, GError **error)
{
  if (item->state != SW_STATE_READY
      || (item->has_asking && item->claim != SW_CLAIM_OPEN && !item->neutral))
    return TRUE;
  g_string_append (told, ", so Ready no more: back to Found");
  return sw_db_run (catalogue, error, SW_STMT_ITEM_SET_STATE, "itIt", item->id,
                    sw_state_key (SW_STATE_FOUND), FALSE, (gint64)0, NULL);
}

static gboolean
check_revision (const SwItem *item, gint64 seen, GError **error)
{
  if (seen == 0 || seen == item->revision)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BUSY,
               "Item %" G_GINT64_FORMAT " '%s' was changed meanwhile; look again.", item->id,
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
