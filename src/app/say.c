/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sayings and their acts. Turns the fields' text into core's arguments; every rule is
 * core's. */
#include "app/say.h"

#include "app/text.h"
#include "app/typed-day.h"
#include "core/base/error.h"
#include "core/base/solid.h"
#include "core/catalogue/act.h"
#include "core/catalogue/claims.h"
#include "core/catalogue/dangers.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/jobs.h"
#include "core/catalogue/lots.h"
#include "core/catalogue/many.h"
#include "core/catalogue/outlets.h"
#include "core/catalogue/parts.h"
#include "core/catalogue/prices.h"
#include "core/catalogue/questions.h"
#include "core/catalogue/yard-rates.h"
#include "core/trade/taking-back.h"

#include <string.h>

/* ---- one saying ---- */

SwSay *
sw_say_new (SwSayKind kind, gint64 item, gint64 id)
{
  SwSay *say = g_new0 (SwSay, 1);

  g_atomic_ref_count_init (&say->count);
  say->kind = kind;
  say->item = item;
  say->id = id;
  return say;
}

SwSay *
sw_say_ref (SwSay *say)
{
  g_atomic_ref_count_inc (&say->count);
  return say;
}

void
sw_say_unref (gpointer data)
{
  SwSay *say = data;

  if (!g_atomic_ref_count_dec (&say->count))
    return;
  for (int i = 0; i < SW_SAY_FIELDS; i++)
    g_free (say->values[i]);
  g_free (say->items);
  g_free (say);
}

/* ---- acts ---- */

static const char *
value (const SwSay *say, int i)
{
  return say->values[i] != NULL ? say->values[i] : "";
}

static gboolean
is_empty (const SwSay *say, int i)
{
  return *value (say, i) == '\0';
}

static gint64
number (const SwSay *say, int i)
{
  return g_ascii_strtoll (value (say, i), NULL, 10);
}

/* NULL where nothing was typed. */
static gboolean
day_of (SwCatalogue *catalogue, const SwSay *say, int i, SwDayLean lean, SwDay *day,
        const SwDay **out, GError **error)
{
  *out = NULL;
  if (is_empty (say, i))
    return TRUE;
  *out = day;
  return sw_typed_day (catalogue, value (say, i), lean, day, error);
}

/* A fact of a kind the item has one of. */
static gboolean
run_single (SwCatalogue *catalogue, const SwSay *say, const char *kind, GError **error)
{
  return sw_fact_set (catalogue, say->item, kind, value (say, 0), value (say, 1), value (say, 2),
                      error);
}

static gboolean
put_fact (SwCatalogue *catalogue, SwSay *say, const char *kind, const char *text, int source,
          GError **error)
{
  if (say->id != 0)
    return sw_fact_edit (catalogue, say->id, text, value (say, source), value (say, source + 1),
                         error);
  return sw_fact_add (catalogue, say->item, kind, text, value (say, source),
                      value (say, source + 1), &say->id, error);
}

static gboolean
run_belongs (SwCatalogue *catalogue, SwSay *say, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *sentence = g_strdup_printf (_ ("What belongs to it: %s"), value (say, 0));

  return sw_act_begin (&act, catalogue, error)
         && put_fact (catalogue, say, SW_FACT_BELONGS, value (say, 0), 2, error)
         && sw_fact_set_place (catalogue, say->id, number (say, 1), error)
         && sw_act_commit (&act, sentence, error);
}

static gboolean
run_size (SwCatalogue *catalogue, const SwSay *say, GError **error)
{
  g_autoptr (SwItem) item = sw_item_get (catalogue, say->item, error);
  SwSize size = sw_size_from_word (value (say, 0));
  SwStows stows = sw_stows_from_word (value (say, 1));
  gint64 length = number (say, 2), width = number (say, 3), height = number (say, 4);
  gboolean guessed = !is_empty (say, 5);
  SwItemChange change = { 0 };

  if (item == NULL)
    return FALSE;
  change.size = size != item->size ? &size : NULL;
  change.stows = stows != item->stows ? &stows : NULL;
  change.length_mm = length != item->length_mm ? &length : NULL;
  change.width_mm = width != item->width_mm ? &width : NULL;
  change.height_mm = height != item->height_mm ? &height : NULL;
  change.size_guessed = guessed != item->size_guessed ? &guessed : NULL;
  return sw_item_change (catalogue, say->item, &change, error);
}

static gboolean
run_mass (SwCatalogue *catalogue, const SwSay *say, GError **error)
{
  g_autoptr (SwItem) item = sw_item_get (catalogue, say->item, error);
  SwItemChange change = { .mass_source = value (say, 0) };
  SwMass mass;

  if (item == NULL)
    return FALSE;
  if (strcmp (value (say, 0), "size class") == 0)
    return sw_item_mass_by_size (catalogue, say->item, error);
  if (is_empty (say, 1))
    change.clear_mass = TRUE;
  else if (!sw_mass_parse (value (say, 1), &mass, error))
    return FALSE;
  else if (item->has_mass && item->mass.ug == mass.ug
           && g_strcmp0 (item->mass_source, value (say, 0)) == 0)
    return TRUE;
  else
    change.mass = &mass;
  return sw_item_change (catalogue, say->item, &change, error);
}

static gboolean
run_shape (SwCatalogue *catalogue, const SwSay *say, GError **error)
{
  g_autoptr (SwItem) item = sw_item_get (catalogue, say->item, error);
  g_autofree char *how = NULL;
  gsize n = 0;
  const SwMaterial *materials = sw_materials (&n), *material = NULL;
  SwShape shape = SW_SHAPE_BLOCK;
  double mm[SW_SHAPE_MEASURES];
  SwMass mass;

  if (item == NULL)
    return FALSE;
  for (int s = 0; s < SW_N_SHAPES; s++)
    if (strcmp (sw_shape_word ((SwShape)s), value (say, 0)) == 0)
      shape = (SwShape)s;
  for (gsize i = 0; i < n; i++)
    if (strcmp (materials[i].word, value (say, 1)) == 0)
      material = &materials[i];
  g_return_val_if_fail (material != NULL, FALSE);
  for (int i = 0; i < SW_SHAPE_MEASURES; i++)
    mm[i] = g_ascii_strtod (value (say, 2 + i), NULL);
  if (!sw_solid_mass (shape, material, mm, item->count, &mass, error))
    return FALSE;
  how = sw_solid_words (shape, material, mm, item->count);
  SwItemChange change = { .mass = &mass, .mass_source = "worked out", .mass_how = how };
  return sw_item_change (catalogue, say->item, &change, error);
}

static gboolean
run_price (SwCatalogue *catalogue, SwSay *say, GError **error)
{
  SwDay day;
  SwPriceSaid said = { .kind = value (say, 0),
                       .amount = sw_money (number (say, 1)),
                       .source = value (say, 3),
                       .remark = value (say, 4) };

  if (!day_of (catalogue, say, 2, SW_DAY_NEAR, &day, &said.day, error))
    return FALSE;
  if (say->id != 0)
    return sw_price_edit (catalogue, say->id, &said, error);
  return sw_price_add (catalogue, say->item, &said, &say->id, error);
}

static gboolean
run_reserve (SwCatalogue *catalogue, const SwSay *say, GError **error)
{
  SwMoney reserve = sw_money (number (say, 0));
  SwItemChange change
      = { .reserve = is_empty (say, 0) ? NULL : &reserve, .clear_reserve = is_empty (say, 0) };

  return sw_item_change (catalogue, say->item, &change, error);
}

static gboolean
run_rate (SwCatalogue *catalogue, const SwSay *say, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *sentence
      = g_strdup_printf (_ ("%s: rate for %s"), value (say, 0), value (say, 1));
  g_autoptr (SwOutlet) outlet = NULL;
  SwOutlet fresh = { .name = (char *)value (say, 0), .has_kind = TRUE };
  gint64 id;
  gint64 rate = is_empty (say, 4) ? number (say, 2) : -number (say, 2);
  SwDay day;

  fresh.kind = SW_OUTLET_SCRAP_YARD;
  fresh.running_days = fresh.pay_days = fresh.collect_days = -1;
  if (!sw_typed_day (catalogue, value (say, 3), SW_DAY_NEAR, &day, error)
      || !sw_act_begin (&act, catalogue, error)
      || !sw_outlet_find (catalogue, value (say, 0), &outlet, error))
    return FALSE;
  if (outlet != NULL)
    id = outlet->id;
  else if (!sw_outlet_put (catalogue, &fresh, &id, error))
    return FALSE;
  return sw_yard_rate_set (catalogue, id, value (say, 1), day, sw_money (rate), error)
         && sw_act_commit (&act, sentence, error);
}

static gboolean
run_question (SwCatalogue *catalogue, const SwSay *say, GError **error)
{
  const SwDay *by;
  SwDay day;

  if (!day_of (catalogue, say, 2, SW_DAY_AHEAD, &day, &by, error))
    return FALSE;
  if (say->n_items > 0)
    return sw_items_ask (catalogue, say->items, say->n_items, value (say, 0), value (say, 1), by,
                         error);
  return sw_question_add (catalogue, say->item, value (say, 0), value (say, 1), by, NULL, error);
}

static gboolean
run_claim (SwCatalogue *catalogue, const SwSay *say, GError **error)
{
  SwClaim says = strcmp (value (say, 1), "mine") == 0   ? SW_CLAIM_MINE
                 : strcmp (value (say, 1), "open") == 0 ? SW_CLAIM_OPEN
                                                        : SW_CLAIM_NONE;

  return sw_claim_set (catalogue, say->item, value (say, 0), says, error);
}

static gboolean
run_job (SwCatalogue *catalogue, const SwSay *say, GError **error)
{
  if (say->n_items > 0)
    return sw_items_job (catalogue, say->items, say->n_items, value (say, 0), value (say, 1),
                         value (say, 2), number (say, 3), error);
  return sw_job_add_with (catalogue, say->item, 0, value (say, 0), value (say, 1), value (say, 2),
                          number (say, 3), NULL, error);
}

/* "2 rollers" is two of them, "Motor" one. */
static gboolean
run_break_up (SwCatalogue *catalogue, const SwSay *say, GError **error)
{
  g_auto (GStrv) lines = g_strsplit (value (say, 0), "\n", -1);
  g_autoptr (GArray) parts = g_array_new (FALSE, TRUE, sizeof (SwPart));

  for (int i = 0; lines[i] != NULL; i++)
    {
      SwPart part = { .name = g_strstrip (lines[i]) };
      char *rest = NULL;
      gint64 count = g_ascii_strtoll (part.name, &rest, 10);
      if (*part.name == '\0')
        continue;
      if (rest != part.name && *rest == ' ' && count > 0)
        {
          part.count = count;
          part.name = rest + 1;
        }
      g_array_append_val (parts, part);
    }
  return sw_item_break_up (catalogue, say->item, (const SwPart *)(gpointer)parts->data, parts->len,
                           NULL, error);
}

static gboolean
run_many_state (SwCatalogue *catalogue, const SwSay *say, GError **error)
{
  SwState to;

  return sw_state_parse (value (say, 0), &to, error)
         && sw_items_step_by_hand (catalogue, say->items, say->n_items, to, error);
}

static gboolean
run_many_place (SwCatalogue *catalogue, const SwSay *say, GError **error)
{
  gint64 place = number (say, 0);
  SwItemChange change = { .place = &place };

  return sw_items_change (catalogue, say->items, say->n_items, &change, error);
}

static gboolean
run_many_outlet (SwCatalogue *catalogue, const SwSay *say, GError **error)
{
  g_autoptr (SwOutlet) outlet = NULL;
  SwItemChange change = { 0 };

  if (!sw_outlet_find (catalogue, value (say, 0), &outlet, error))
    return FALSE;
  if (outlet == NULL)
    {
      g_set_error (
          error, SW_ERROR, SW_ERROR_NOT_FOUND,
          _ ("There is no outlet '%.80s'; write its name as it stands in the money table."),
          value (say, 0));
      return FALSE;
    }
  change.outlet = &outlet->id;
  return sw_items_change (catalogue, say->items, say->n_items, &change, error);
}

static gboolean
run_many_price (SwCatalogue *catalogue, const SwSay *say, GError **error)
{
  SwPriceRule rule = { .step = sw_money (number (say, 1)) };

  return sw_price_rule_parse (value (say, 0), &rule.percent_x100, error)
         && sw_items_reprice (catalogue, say->items, say->n_items, &rule, NULL, error);
}

static gboolean
run_facts (SwCatalogue *catalogue, SwSay *say, GError **error)
{
  switch (say->kind)
    {
    case SW_SAY_CONDITION:
      return run_single (catalogue, say, SW_FACT_CONDITION, error);
    case SW_SAY_WRONG:
      return run_single (catalogue, say, SW_FACT_WRONG, error);
    case SW_SAY_STORY:
      return run_single (catalogue, say, SW_FACT_STORY, error);
    case SW_SAY_BELONGS:
      return run_belongs (catalogue, say, error);
    case SW_SAY_DANGER:
      return sw_danger_add (catalogue, say->item, value (say, 0), value (say, 1), value (say, 2),
                            error);
    default:
      return put_fact (catalogue, say, value (say, 0), value (say, 1), 2, error);
    }
}

static gboolean
run_many (SwCatalogue *catalogue, const SwSay *say, GError **error)
{
  switch (say->kind)
    {
    case SW_SAY_MANY_STATE:
      return run_many_state (catalogue, say, error);
    case SW_SAY_MANY_PLACE:
      return run_many_place (catalogue, say, error);
    case SW_SAY_MANY_OUTLET:
      return run_many_outlet (catalogue, say, error);
    case SW_SAY_MANY_PRICE:
      return run_many_price (catalogue, say, error);
    case SW_SAY_MANY_ASK:
      return run_question (catalogue, say, error);
    case SW_SAY_MANY_JOB:
      return run_job (catalogue, say, error);
    default:
      return sw_lot_make (catalogue, value (say, 0), say->items, say->n_items, NULL, error);
    }
}

static gboolean
say_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  SwSay *say = data;
  SwItemChange class = { .scrap_class = value (say, 0) };

  switch (say->kind)
    {
    case SW_SAY_SIZE:
      return run_size (catalogue, say, error);
    case SW_SAY_MASS:
      return run_mass (catalogue, say, error);
    case SW_SAY_SHAPE:
      return run_shape (catalogue, say, error);
    case SW_SAY_PRICE:
      return run_price (catalogue, say, error);
    case SW_SAY_RESERVE:
      return run_reserve (catalogue, say, error);
    case SW_SAY_SCRAP:
      return sw_item_change (catalogue, say->item, &class, error);
    case SW_SAY_RATE:
      return run_rate (catalogue, say, error);
    case SW_SAY_QUESTION:
      return run_question (catalogue, say, error);
    case SW_SAY_ANSWER:
      return sw_question_answer_by (catalogue, say->id, value (say, 0), value (say, 1), error);
    case SW_SAY_CLAIM:
      return run_claim (catalogue, say, error);
    case SW_SAY_JOB:
      return run_job (catalogue, say, error);
    case SW_SAY_BREAK_UP:
      return run_break_up (catalogue, say, error);
    default:
      return say->kind >= SW_SAY_MANY_STATE ? run_many (catalogue, say, error)
                                            : run_facts (catalogue, say, error);
    }
}

void
sw_say_send (SwStore *store, SwSay *say, GObject *owner, SwActDone done)
{
  sw_store_act (store, say_run, sw_say_ref (say), sw_say_unref, owner, done);
}

/* ---- withdrawing ---- */

static gboolean
withdraw_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const SwSay *say = data;

  switch (say->kind)
    {
    case SW_SAY_PRICE:
      return sw_price_withdraw (catalogue, say->id, error);
    case SW_SAY_ANSWER:
      return sw_question_withdraw (catalogue, say->id, error);
    case SW_SAY_JOB:
      return sw_job_withdraw (catalogue, say->id, error);
    default:
      return sw_fact_withdraw (catalogue, say->id, error);
    }
}

void
sw_say_withdraw (SwStore *store, SwSayKind kind, gint64 id)
{
  sw_store_act (store, withdraw_run, sw_say_new (kind, 0, id), sw_say_unref, NULL, NULL);
}
