/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Splitting by photos, joining and breaking up. Sums of counts, prices and masses are exact or
 * refused. */
#include "core/catalogue/parts.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/claims.h"
#include "core/catalogue/db.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/said.h"
#include "core/catalogue/steps.h"

/* --- split by photos --- */

static gboolean
has_photo (const GArray *photos, gint64 photo)
{
  for (guint i = 0; i < photos->len; i++)
    if (g_array_index (photos, gint64, i) == photo)
      return TRUE;
  return FALSE;
}

static gboolean
check_photos (SwCatalogue *catalogue, const SwItem *item, const gint64 *photos, gsize n,
              GError **error)
{
  g_autoptr (GArray) all = sw_item_photos (catalogue, item->id, error);
  if (all == NULL)
    return FALSE;
  for (gsize i = 0; i < n; i++)
    if (!has_photo (all, photos[i]))
      {
        g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                     _ ("Photo %" PRId64 " is none of %s; look again."), photos[i], item->name);
        return FALSE;
      }
  if (n > 0 && n < all->len)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("Choose some of the photos of %s to split off, and leave it at least one."),
               item->name);
  return FALSE;
}

/* Of a count of 1: a thing of its own, of which only what was said of both is known. */
static gboolean
split_single (SwCatalogue *catalogue, const SwItem *item, gint64 *out_part, GError **error)
{
  if (!sw_db_run (catalogue, error, SW_STMT_ITEM_INSERT_PART, "iiIIIi", item->id, (gint64)1, FALSE,
                  (gint64)0, FALSE, (gint64)0, FALSE, (gint64)0, sw_catalogue_now (catalogue).us))
    return FALSE;
  *out_part = sw_db_last_id (catalogue);
  return sw_db_run (catalogue, error, SW_STMT_ITEM_COPY_FACTS, "ii", item->id, *out_part)
         && sw_db_run (catalogue, error, SW_STMT_ITEM_COPY_CLAIMS, "ii", item->id, *out_part);
}

/* The part shows the chosen photos alone, and they show it alone. */
static gboolean
part_photos (SwCatalogue *catalogue, gint64 part, const gint64 *photos, gsize n, GError **error)
{
  return sw_db_run (catalogue, error, SW_STMT_ITEM_PHOTOS_DROP, "i", part)
         && sw_db_run (catalogue, error, SW_STMT_ITEM_NO_COVER, "i", part)
         && sw_item_assign (catalogue, part, photos, n, FALSE, error);
}

gboolean
sw_item_split_photos (SwCatalogue *catalogue, gint64 number, const gint64 *photos, gsize n,
                      gint64 count, gint64 *out_number, GError **error)
{
  gint64 part = 0;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  if (item == NULL || !check_photos (catalogue, item, photos, n, error))
    return FALSE;
  if (!(item->count > 1 ? sw_item_split (catalogue, number, count, &part, error)
                        : split_single (catalogue, item, &part, error))
      || !part_photos (catalogue, part, photos, n, error))
    return FALSE;
  g_autofree char *sentence
      = sw_text_counted ((gint64)n, "%s: %zu photo split off as item %" PRId64,
                         "%s: %zu photos split off as item %" PRId64, item->name, n, part);
  if (!sw_act_tell (&act, SW_SUBJECT_ITEM, number, "item.split", NULL, sentence, error)
      || !sw_act_tell (&act, SW_SUBJECT_ITEM, part, "item.split", NULL, sentence, error)
      || !sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_number != NULL)
    *out_number = part;
  return TRUE;
}

/* --- join --- */

static gboolean
refuse_join (GError **error, const SwItem *item, const SwItem *other, const char *why)
{
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("%s (%" PRId64 ") and %s (%" PRId64 ") cannot be joined: %s."), item->name,
               item->id, other->name, other->id, why);
  return FALSE;
}

static gboolean
check_join (SwCatalogue *catalogue, const SwItem *item, const SwItem *other, GError **error)
{
  gint64 deals = 0;
  if (item->id == other->id)
    return refuse_join (error, item, other, _ ("they are the same item"));
  if (item->place != other->place)
    {
      g_autofree char *why = g_strdup_printf (_ ("one is in %s, the other in %s; move one first"),
                                              item->place_path, other->place_path);
      return refuse_join (error, item, other, why);
    }
  if (item->state != other->state)
    {
      g_autofree char *why
          = g_strdup_printf (_ ("one is %s, the other %s"), _ (sw_state_word (item->state)),
                             _ (sw_state_word (other->state)));
      return refuse_join (error, item, other, why);
    }
  if (!sw_state_stands (item->state) || item->state == SW_STATE_SOLD
      || item->state == SW_STATE_ON_OFFER)
    {
      g_autofree char *why = g_strdup_printf (_ ("they are %s"), _ (sw_state_word (item->state)));
      return refuse_join (error, item, other, why);
    }
  if (!sw_db_get_int (catalogue, &deals, NULL, error, SW_STMT_ITEM_DEALINGS, "i", other->id))
    return FALSE;
  return deals == 0
         || refuse_join (error, item, other,
                         _ ("the second was offered or sold before, and its record stays its own"));
}

/* What both have adds up; what one lacks is not known of both together. */
static gboolean
join_amounts (SwItem *item, const SwItem *other, GError **error)
{
  item->count += other->count;
  item->has_asking = item->has_asking && other->has_asking;
  item->has_mass = item->has_mass && other->has_mass;
  item->has_reserve = item->has_reserve && other->has_reserve;
  SwMoney mass = { 0 };
  if ((item->has_asking && !sw_money_add (item->asking, other->asking, &item->asking, error))
      || (item->has_reserve && !sw_money_add (item->reserve, other->reserve, &item->reserve, error))
      || (item->has_mass
          && !sw_money_add (sw_money (item->mass.ug), sw_money (other->mass.ug), &mass, error)))
    return FALSE;
  item->mass = (SwMass){ mass.minor };
  return TRUE;
}

static gboolean
join_rows (SwCatalogue *catalogue, gint64 number, gint64 other, GError **error)
{
  static const SwStatementId moves[] = {
    SW_STMT_JOIN_PHOTOS, SW_STMT_JOIN_FACTS,  SW_STMT_JOIN_QUESTIONS,
    SW_STMT_JOIN_JOBS,   SW_STMT_JOIN_PRICES, SW_STMT_JOIN_CLAIMS,
    SW_STMT_JOIN_TAGS,   SW_STMT_JOIN_NOTES,  SW_STMT_JOIN_ORIGIN,
  };
  for (gsize i = 0; i < G_N_ELEMENTS (moves); i++)
    if (!sw_db_run (catalogue, error, moves[i], "ii", number, other))
      return FALSE;
  return sw_db_run (catalogue, error, SW_STMT_ITEM_PHOTOS_DROP, "i", other)
         && sw_db_run (catalogue, error, SW_STMT_CLAIMS_DROP, "i", other)
         && sw_db_run (catalogue, error, SW_STMT_ITEM_DELETE, "i", other)
         && sw_db_run (catalogue, error, SW_STMT_ITEM_JOINED_ADD, "ii", other, number);
}

/* The strongest claim of both is the claim of the joined one. */
static gboolean
join_claim (SwCatalogue *catalogue, gint64 number, const SwItem *item, const SwItem *other,
            GError **error)
{
  const SwItem *stronger = other->claim > item->claim ? other : item;
  if (other->claim == SW_CLAIM_NONE)
    return TRUE;
  return sw_claim_set (catalogue, number, stronger->claim_by, stronger->claim, error);
}

gboolean
sw_item_join (SwCatalogue *catalogue, gint64 number, gint64 other_number, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  g_autoptr (SwItem) other = item != NULL ? sw_item_get (catalogue, other_number, error) : NULL;
  if (other == NULL || !check_join (catalogue, item, other, error)
      || !join_amounts (item, other, error))
    return FALSE;
  const gboolean never = item->never_offer || other->never_offer;
  SwItemChange change = { .count = &item->count, .never_offer = never ? &never : NULL };
  if (!sw_item_change (catalogue, number, &change, error)
      || !sw_db_run (catalogue, error, SW_STMT_ITEM_SET_REST, "iiIII", number, item->count,
                     item->has_asking, item->asking.minor, item->has_mass, item->mass.ug,
                     item->has_reserve, item->reserve.minor)
      || !join_rows (catalogue, number, other_number, error)
      || !join_claim (catalogue, number, item, other, error))
    return FALSE;
  g_autofree char *sentence
      = g_strdup_printf (_ ("%s: item %" PRId64 " '%s' joined into it, count %" PRId64), item->name,
                         other_number, other->name, item->count);
  return sw_act_tell (&act, SW_SUBJECT_ITEM, other_number, "item.joined", NULL, sentence, error)
         && sw_said_commit (&act, number, "item.joined", sentence, error);
}

/* --- break up --- */

static gboolean
add_part (SwCatalogue *catalogue, const SwItem *whole, const SwPart *part, gint64 *out_number,
          GError **error)
{
  SwItemNew fresh
      = { .name = part->name, .place = whole->place, .trip = whole->trip, .count = part->count };
  g_autoptr (GArray) photos = sw_item_photos (catalogue, whole->id, error);
  g_autoptr (GPtrArray) facts = photos != NULL ? sw_fact_list (catalogue, whole->id, error) : NULL;
  if (facts == NULL || !sw_item_add (catalogue, &fresh, out_number, error)
      || !sw_db_run (catalogue, error, SW_STMT_ITEM_SET_ORIGIN, "ii", *out_number, whole->id))
    return FALSE;
  if (photos->len > 0
      && !sw_item_assign (catalogue, *out_number, (const gint64 *)(gpointer)photos->data,
                          photos->len, TRUE, error))
    return FALSE;
  for (guint i = 0; i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      if (strcmp (fact->kind, SW_FACT_DANGER) == 0
          && !sw_fact_add (catalogue, *out_number, fact->kind, fact->text, fact->source,
                           fact->by_whom, NULL, error))
        return FALSE;
    }
  const gboolean never = TRUE;
  SwItemChange change = { .never_offer = &never };
  return !whole->never_offer || sw_item_change (catalogue, *out_number, &change, error);
}

/* A step to where it is already is no refusal elsewhere; here the parts would be there twice. */
static gboolean
check_whole (SwCatalogue *catalogue, const SwItem *whole, GError **error)
{
  g_autofree char *why = sw_item_why_not (catalogue, whole, SW_STATE_BROKEN_UP, TRUE);
  if (why != NULL)
    g_set_error_literal (error, SW_ERROR, SW_ERROR_REFUSED, why);
  return why == NULL;
}

gboolean
sw_item_break_up (SwCatalogue *catalogue, gint64 number, const SwPart *parts, gsize n,
                  GArray **out_numbers, GError **error)
{
  g_autoptr (GArray) numbers = g_array_new (FALSE, FALSE, sizeof (gint64));
  if (n == 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("Name what it was broken up into, one part at least."));
      return FALSE;
    }
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwItem) whole = sw_item_get (catalogue, number, error);
  if (whole == NULL || !check_whole (catalogue, whole, error)
      || !sw_item_move (catalogue, number, SW_STATE_BROKEN_UP, NULL, NULL, NULL, error))
    return FALSE;
  for (gsize i = 0; i < n; i++)
    {
      gint64 part = 0;
      if (!add_part (catalogue, whole, &parts[i], &part, error))
        return FALSE;
      g_array_append_val (numbers, part);
    }
  g_autofree char *sentence = sw_text_counted ((gint64)n, "%s: broken up into %zu part",
                                               "%s: broken up into %zu parts", whole->name, n);
  if (!sw_said_commit (&act, number, "item.broken-up", sentence, error))
    return FALSE;
  if (out_numbers != NULL)
    *out_numbers = g_steal_pointer (&numbers);
  return TRUE;
}
