/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Changes of an item's row: each is checked, taken, written and told in one sentence. */
#include "core/catalogue/items-private.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/claims.h"
#include "core/catalogue/places.h"
#include "core/catalogue/ready.h"

/* The last has no word in the database: a mass without a source is a guess. */
static const char *const mass_sources[]
    = { N_ ("weighed"), N_ ("typed"), N_ ("worked out"), N_ ("size class"), N_ ("guessed") };
/* A hundred metres: beyond that it was mistyped. */
#define LENGTH_MAX G_GINT64_CONSTANT (100000)

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
         && check_length (change->height_mm, error) && sw_item_check_asking (change->reserve, error)
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
  return (change->count == NULL || sw_item_check_count (*change->count, error))
         && sw_item_check_asking (change->asking, error) && check_mass (change, error)
         && (change->place == NULL || sw_item_place_exists (catalogue, *change->place, error))
         && (change->trip == NULL || sw_item_trip_exists (catalogue, *change->trip, error))
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
  static const char *const claimed[SW_N_CLAIMS]
      = { N_ (", claim none"), N_ (", claim open"), N_ (", claim mine") };

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
  g_string_append (told, _ (claimed[says]));
  if (by != NULL && *by != '\0')
    g_string_append_printf (told, _ (" by %s"), by);
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
  g_string_append_printf (told, _ (", mass %s (%s%s%s)"), text, _ (source),
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
    g_string_append_printf (told, _ (", %s %" PRId64 " mm"), what, *value);
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
      g_string_append_printf (told, _ (", size %s"), word != NULL ? _ (word) : _ ("not known"));
    }
  if (change->stows != NULL)
    {
      const char *word = sw_stows_word (*change->stows);
      item->stows = *change->stows;
      if (word != NULL)
        g_string_append_printf (told, _ (", rides on %s"), _ (word));
      else
        g_string_append (told, _ (", rides nobody knows where"));
    }
  take_length (&item->length_mm, change->length_mm, _ ("length"), told);
  take_length (&item->width_mm, change->width_mm, _ ("width"), told);
  take_length (&item->height_mm, change->height_mm, _ ("height"), told);
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
                    item->outlet != 0, item->outlet, item->scrap_class,
                    sw_item_waits_keys[item->waits]);
}

static gboolean
write_item (SwCatalogue *catalogue, const SwItem *item, GError **error)
{
  gboolean guessed = g_strcmp0 (item->mass_source, SW_MASS_GUESSED) == 0;
  return sw_db_run (catalogue, error, SW_STMT_ITEM_UPDATE, "itiiiIItttiII", item->id, item->name,
                    (gint64)item->neutral, item->place, item->count, item->has_asking,
                    item->asking.minor, item->has_mass, item->mass.ug,
                    item->has_mass && !guessed ? item->mass_source : NULL,
                    sw_claim_key (item->claim), item->claim_by, (gint64)item->never_offer,
                    item->cover != 0, item->cover, item->trip != 0, item->trip)
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
