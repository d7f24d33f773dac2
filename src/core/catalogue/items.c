/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Items: rows, making and finding them. Lists are in item-list.c, changes of what is said of one in
 * item-change.c, the steps from state to state in steps.c, the photos in assign.c, what is said of
 * an item in facts.c and its like. */
#include "core/catalogue/items-private.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/near.h"
#include "core/catalogue/places.h"
#include "core/catalogue/trips.h"

#define COUNT_MAX G_GINT64_CONSTANT (1000000000)
/* Ten thousand items at this price still sum without overflow. */
#define ASKING_MAX (G_MAXINT64 / 10000)

static const char *const claim_keys[SW_N_CLAIMS] = { "none", "open", "mine" };

const char *const sw_item_waits_keys[SW_N_WAITS] = { NULL, "price", N_ ("later") };

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

const char *
sw_claim_key (SwClaim claim)
{
  g_return_val_if_fail (claim < SW_N_CLAIMS, "");
  return claim_keys[claim];
}

gboolean
sw_claim_from_key (const char *key, SwClaim *out)
{
  for (int i = 0; i < SW_N_CLAIMS; i++)
    if (g_strcmp0 (claim_keys[i], key) == 0)
      {
        *out = (SwClaim)i;
        return TRUE;
      }
  return FALSE;
}

static void
read_states (SwItem *item, const SwUse *use)
{
  g_autofree char *state = sw_col_text (use, 6);
  g_autofree char *claim = sw_col_text (use, 12);
  if (!sw_state_from_key (state, &item->state))
    item->state = SW_STATE_FOUND; /* check names it as a fault */
  if (!sw_claim_from_key (claim, &item->claim))
    item->claim = SW_CLAIM_OPEN; /* a foreign word: nothing may be sold on the strength of it */
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
    if (g_strcmp0 (sw_item_waits_keys[i], waits) == 0)
      item->waits = (SwWaits)i;
  item->n_dangers = (int)sw_col_int (use, 35);
  item->n_questions = (int)sw_col_int (use, 36);
  item->n_jobs = (int)sw_col_int (use, 37);
  item->clash = sw_col_int (use, 38) != 0;
}

SwItem *
sw_item_from_row (const SwUse *use)
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
    item->mass_source
        = sw_col_is_null (use, 10) ? g_strdup (SW_MASS_GUESSED) : sw_col_text (use, 10);
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

gboolean
sw_item_check_count (gint64 count, GError **error)
{
  if (count >= 1 && count <= COUNT_MAX)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("A count is a whole number from 1 to 1000000000, not %" PRId64 "."), count);
  return FALSE;
}

gboolean
sw_item_check_asking (const SwMoney *asking, GError **error)
{
  if (asking == NULL || (asking->minor >= 0 && asking->minor <= ASKING_MAX))
    return TRUE;
  g_set_error (
      error, SW_ERROR, SW_ERROR_BAD_INPUT,
      _ ("An asking price is not below zero, and not beyond all reason; give it for the whole "
         "count."));
  return FALSE;
}

gboolean
sw_item_place_exists (SwCatalogue *catalogue, gint64 place, GError **error)
{
  g_autoptr (SwPlace) found = sw_place_get (catalogue, place, error);
  return found != NULL;
}

gboolean
sw_item_trip_exists (SwCatalogue *catalogue, gint64 trip, GError **error)
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
      || !sw_item_check_count (count, error) || !sw_item_check_asking (item->asking, error))
    return FALSE;
  g_autofree char *name = sw_text_tidy (item->name);
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error)
      || !sw_item_place_exists (catalogue, item->place, error)
      || !sw_item_trip_exists (catalogue, item->trip, error)
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
  return sw_item_from_row (&use);
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
  gboolean ok = TRUE;
  while (sw_db_next (catalogue, &use, &ok, error))
    {
      g_autofree char *other = sw_col_text (&use, 1);
      Named named = { sw_col_int (&use, 0), sw_col_int (&use, 2) };
      if (strcmp (other, name) == 0)
        g_array_append_val (found, named);
    }
  return ok ? g_steal_pointer (&found) : NULL;
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
    gboolean ok = TRUE;
    while (sw_db_next (catalogue, &use, &ok, error))
      {
        g_autofree char *other = sw_col_text (&use, 0);
        sw_near_consider (near_names, other);
      }
    if (!ok)
      return;
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
