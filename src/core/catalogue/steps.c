/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps of items: the rules around the table of states.h, and splitting. The table says where a
 * state leads; here is what a step needs besides. Knows no offer and no money but the asking price:
 * which offer runs is the trade layer's. */
#include "core/catalogue/steps.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/ready.h"

/* These tell of money, a yard or a buyer: a row of the money table or the window's booking brings
 * them. */
#define ONLY_BY_BOOKS                                                                              \
  (SW_TO (ON_OFFER) | SW_TO (SOLD) | SW_TO (NO_SALE) | SW_TO (HANDED_OVER) | SW_TO (SCRAPPED))

/* Not while somebody else may have a say in it, nor before it is cleared. */
#define BLOCKED_BY_CLAIM (SW_TO (ON_OFFER) | SW_TO (SOLD) | SW_TO (GIVEN_AWAY))

/* What a told fact implies on its way, by target; everything else may pass READY, and FOUND out of
 * MISSING. */
static const struct
{
  SwState target;
  guint between;
} ways[] = {
  { SW_STATE_NO_SALE, SW_TO (READY) | SW_TO (FOUND) | SW_TO (ON_OFFER) },
  { SW_STATE_HANDED_OVER, SW_TO (READY) | SW_TO (FOUND) | SW_TO (SOLD) },
  { SW_STATE_SCRAPPED, SW_TO (READY) | SW_TO (FOUND) | SW_TO (FOR_SCRAP) },
  { SW_STATE_MISSING, SW_TO (READY) | SW_TO (FOUND) | SW_TO (NO_SALE) },
};
#define EVERY_WAY (SW_TO (READY) | SW_TO (FOUND))

/* Of two ways of one length the one through the earlier state here is taken. */
static const SwState search_order[] = {
  SW_STATE_READY, SW_STATE_ON_OFFER,  SW_STATE_NO_SALE,
  SW_STATE_SOLD,  SW_STATE_FOR_SCRAP, SW_STATE_FOUND,
};

/* --- what a step needs --- */

/* What blocks, with the way out of it; NULL where nothing does. */
static char *
why_blocked (const SwItem *item, SwState to)
{
  const char *state = _ (sw_state_word (to));
  if ((BLOCKED_BY_CLAIM & (1u << to)) == 0)
    return NULL;
  const char *by = item->claim_by != NULL ? item->claim_by : _ ("somebody");
  if (item->claim == SW_CLAIM_OPEN)
    return g_strdup_printf (
        _ ("%s cannot become %s: whether %s wants it is still open; settle the claim first."),
        item->name, state, by);
  if (item->claim == SW_CLAIM_MINE)
    return g_strdup_printf (_ ("%s cannot become %s: %s has claimed it; settle the claim first."),
                            item->name, state, by);
  if (!item->never_offer)
    return NULL;
  return g_strdup_printf (
      _ ("%s cannot become %s: it is marked never to be offered before it is cleared; have it "
         "cleared by somebody licensed first."),
      item->name, state);
}

/* By the books it happened all the same. */
static char *
remark_on (const SwItem *item, SwState to)
{
  const char *state = _ (sw_state_word (to));
  if ((BLOCKED_BY_CLAIM & (1u << to)) == 0)
    return NULL;
  const char *by = item->claim_by != NULL ? item->claim_by : _ ("somebody");
  if (item->claim == SW_CLAIM_OPEN)
    return item->never_offer
               ? g_strdup_printf (_ ("%s became %s although whether %s wants it is still open, and "
                                     "it is marked never to be offered before it is cleared."),
                                  item->name, state, by)
               : g_strdup_printf (_ ("%s became %s although whether %s wants it is still open."),
                                  item->name, state, by);
  if (item->claim == SW_CLAIM_MINE)
    return item->never_offer
               ? g_strdup_printf (_ ("%s became %s although %s has claimed it, and it is marked "
                                     "never to be offered before it is cleared."),
                                  item->name, state, by)
               : g_strdup_printf (_ ("%s became %s although %s has claimed it."), item->name, state,
                                  by);
  if (!item->never_offer)
    return NULL;
  return g_strdup_printf (
      _ ("%s became %s although it is marked never to be offered before it is cleared."),
      item->name, state);
}

/* The first of what it lacks, with what to do about it. */
static char *
why_not_ready (const SwItem *item, SwState to)
{
  static const char *const remedies[SW_N_READY_NEEDS] = {
    [SW_READY_NAME] = N_ ("it has no name of its own yet; say what it is"),
    [SW_READY_PLACE] = N_ ("it has no place; say where it is"),
    [SW_READY_COUNT] = N_ ("it has no count; say how many there are"),
    [SW_READY_ASKING] = N_ ("it has no asking price; set one first"),
  };
  guint lacks = sw_item_lacks (item);
  SwReadyNeed first = (SwReadyNeed)g_bit_nth_lsf (lacks, -1);
  if (lacks == 0)
    return NULL;
  if (remedies[first] != NULL)
    return g_strdup_printf (_ ("%s cannot become %s: %s."), item->name, _ (sw_state_word (to)),
                            _ (remedies[first]));
  return g_strdup_printf (
      _ ("%s cannot become %s: the claim of %s is not settled; settle it first."), item->name,
      _ (sw_state_word (to)), item->claim_by != NULL ? item->claim_by : _ ("somebody"));
}

static char *
why_not_in_table (const SwItem *item, SwState to)
{
  if (sw_state_next (item->state) & (1u << to))
    return NULL;
  const char *from = _ (sw_state_word (item->state));
  if (to == item->state)
    return g_strdup_printf (_ ("%s is %s already."), item->name, from);
  if (sw_state_next (item->state) == 0)
    return g_strdup_printf (
        _ ("%s is %s, which is the end of it: it cannot become %s; only undo leads back."),
        item->name, from, _ (sw_state_word (to)));
  g_autofree char *words = sw_state_next_words (item->state);
  return g_strdup_printf (_ ("%s is %s and cannot become %s; it can become %s."), item->name, from,
                          _ (sw_state_word (to)), words);
}

static char *
why_not_by_hand (const SwItem *item, SwState to)
{
  if ((ONLY_BY_BOOKS & (1u << to)) == 0)
    return NULL;
  return g_strdup_printf (
      _ ("%s cannot become %s by a move: that needs a row of the money table (book) or "
         "a booking in the window."),
      item->name, _ (sw_state_word (to)));
}

/* What lies in the item itself. */
static char *
why_not_yet (const SwItem *item, SwState to)
{
  char *why = why_blocked (item, to);
  if (why != NULL)
    return why;
  if (to == SW_STATE_READY || (to == SW_STATE_ON_OFFER && item->state == SW_STATE_AT_HOME))
    return why_not_ready (item, to);
  return NULL;
}

char *
sw_item_why_not (SwCatalogue *catalogue, const SwItem *item, SwState to, gboolean by_person)
{
  char *why = why_not_in_table (item, to);
  if (why == NULL && by_person)
    why = why_not_by_hand (item, to);
  return why != NULL ? why : why_not_yet (item, to);
}

static gboolean
refuse (char *why, GError **error)
{
  g_set_error_literal (error, SW_ERROR, SW_ERROR_REFUSED, why);
  g_free (why);
  return FALSE;
}

/* --- splitting --- */

/* Largest remainder over what stays (first, so that ties go to it) and what goes. */
static void
split_amount (gint64 total, gint64 stays, gint64 goes, gint64 *out_stays, gint64 *out_goes)
{
  const gint64 weights[] = { stays, goes };
  SwMoney parts[2];
  sw_money_split (sw_money (total), weights, 2, parts);
  *out_stays = parts[0].minor;
  *out_goes = parts[1].minor;
}

typedef struct
{
  gint64 count, asking, mass, reserve;
} Share;

static gboolean
write_split (SwCatalogue *catalogue, const SwItem *item, Share stays, Share goes, gint64 *out_part,
             GError **error)
{
  if (!sw_db_run (catalogue, error, SW_STMT_ITEM_INSERT_PART, "iiIIIi", item->id, goes.count,
                  item->has_asking, goes.asking, item->has_mass, goes.mass, item->has_reserve,
                  goes.reserve, sw_catalogue_now (catalogue).us))
    return FALSE;
  gint64 part = sw_db_last_id (catalogue);
  if (!sw_db_run (catalogue, error, SW_STMT_ITEM_SET_REST, "iiIII", item->id, stays.count,
                  item->has_asking, stays.asking, item->has_mass, stays.mass, item->has_reserve,
                  stays.reserve)
      || !sw_db_run (catalogue, error, SW_STMT_ITEM_COPY_PHOTOS, "ii", item->id, part)
      || !sw_db_run (catalogue, error, SW_STMT_ITEM_COPY_FACTS, "ii", item->id, part)
      || !sw_db_run (catalogue, error, SW_STMT_ITEM_COPY_CLAIMS, "ii", item->id, part)
      || !sw_db_run (catalogue, error, SW_STMT_ITEM_COPY_PRICES, "ii", item->id, part))
    return FALSE;
  *out_part = part;
  return TRUE;
}

gboolean
sw_item_split (SwCatalogue *catalogue, gint64 number, gint64 count, gint64 *out_number,
               GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  if (item == NULL)
    return FALSE;
  if (count < 1 || count >= item->count)
    return refuse (g_strdup_printf (_ ("%s counts %" PRId64 ": a part of it is at least 1 and less "
                                       "than that, not %" PRId64 "."),
                                    item->name, item->count, count),
                   error);
  Share stays = { .count = item->count - count }, goes = { .count = count };
  split_amount (item->asking.minor, stays.count, goes.count, &stays.asking, &goes.asking);
  split_amount (item->reserve.minor, stays.count, goes.count, &stays.reserve, &goes.reserve);
  split_amount (item->mass.ug, stays.count, goes.count, &stays.mass, &goes.mass);
  gint64 part = 0;
  if (!write_split (catalogue, item, stays, goes, &part, error))
    return FALSE;
  g_autofree char *sentence
      = g_strdup_printf (_ ("%s: %" PRId64 " of %" PRId64 " split off as item %" PRId64),
                         item->name, count, item->count, part);
  if (!sw_act_tell (&act, SW_SUBJECT_ITEM, number, "item.split", NULL, sentence, error)
      || !sw_act_tell (&act, SW_SUBJECT_ITEM, part, "item.split", NULL, sentence, error)
      || !sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_number != NULL)
    *out_number = part;
  return TRUE;
}

/* --- moving --- */

static const SwStepOptions no_options = { 0 };

static SwDay
day_of (SwCatalogue *catalogue, const SwStepOptions *options)
{
  if (options->day != NULL)
    return *options->day;
  return sw_day_of_instant (sw_catalogue_now (catalogue), sw_catalogue_zone (catalogue));
}

static gboolean
check_hold (SwCatalogue *catalogue, const SwItem *item, const SwStepOptions *options,
            GError **error)
{
  if (options->hold_for != NULL
      && !sw_text_check (options->hold_for, _ ("The name of the person"), FALSE, TRUE, error))
    return FALSE;
  g_autofree char *hold_for = options->hold_for != NULL ? sw_text_tidy (options->hold_for) : NULL;
  gboolean named = hold_for != NULL && *hold_for != '\0';
  /* A told hold may leave the person out; the day it ends is needed always. */
  if (options->until == NULL || (!named && !options->by_books))
    return refuse (
        g_strdup_printf (_ ("%s cannot become On hold without a day until when and a person for "
                            "whom; give both."),
                         item->name),
        error);
  SwDay day = day_of (catalogue, options);
  if (options->until->n >= day.n)
    return TRUE;
  g_autofree char *until = sw_day_to_person (*options->until);
  g_autofree char *from = sw_day_to_person (day);
  return refuse (
      g_strdup_printf (_ ("%s cannot be held until %s: the hold begins on %s; give a later day."),
                       item->name, until, from),
      error);
}

/* "2 of 5 Crates: Found to On hold until 1 December 2026 for Ada". count is that before the split.
 */
static char *
step_sentence (const SwItem *item, gint64 count, SwState to, const SwStepOptions *options)
{
  const char *before = _ (sw_state_word (item->state)), *after = _ (sw_state_word (to));
  g_autofree char *what
      = item->count < count
            ? g_strdup_printf (_ ("%" PRId64 " of %" PRId64 " %s"), item->count, count, item->name)
            : g_strdup (item->name);
  if (to != SW_STATE_ON_HOLD)
    return to == item->state ? g_strdup_printf (_ ("%s: still %s"), what, after)
                             : g_strdup_printf (_ ("%s: %s to %s"), what, before, after);
  g_autofree char *until = sw_day_to_person (*options->until);
  gboolean named = options->hold_for != NULL && *options->hold_for != '\0';
  if (to == item->state)
    return named ? g_strdup_printf (_ ("%s: still %s until %s for %s"), what, after, until,
                                    options->hold_for)
                 : g_strdup_printf (_ ("%s: still %s until %s"), what, after, until);
  return named ? g_strdup_printf (_ ("%s: %s to %s until %s for %s"), what, before, after, until,
                                  options->hold_for)
               : g_strdup_printf (_ ("%s: %s to %s until %s"), what, before, after, until);
}

static gboolean
write_step (SwCatalogue *catalogue, const SwItem *item, SwState to, const SwStepOptions *options,
            GError **error)
{
  gboolean held = to == SW_STATE_ON_HOLD;
  g_autofree char *hold_for
      = held && options->hold_for != NULL ? sw_text_tidy (options->hold_for) : NULL;
  return sw_db_run (catalogue, error, SW_STMT_ITEM_SET_STATE, "itIt", item->id, sw_state_key (to),
                    held, (gint64)(held ? options->until->n : 0),
                    hold_for != NULL && *hold_for != '\0' ? hold_for : NULL);
}

/* *out_remark gets what passes by the books alone. */
static gboolean
check_step (SwCatalogue *catalogue, const SwItem *item, SwState to, const SwStepOptions *options,
            char **out_remark, GError **error)
{
  gboolean held_again = to == SW_STATE_ON_HOLD && item->state == SW_STATE_ON_HOLD;
  char *why = held_again ? NULL : why_not_in_table (item, to);
  if (why == NULL && !options->by_books)
    why = why_not_by_hand (item, to);
  if (why != NULL)
    return refuse (why, error);
  if (to == SW_STATE_ON_HOLD && !check_hold (catalogue, item, options, error))
    return FALSE;
  why = options->by_books ? NULL : why_not_yet (item, to);
  if (why != NULL)
    return refuse (why, error);
  *out_remark = options->by_books ? remark_on (item, to) : NULL;
  return TRUE;
}

/* The part that takes the step, split off where 'count' is below the item's. */
static SwItem *
part_of (SwCatalogue *catalogue, const SwItem *item, gint64 count, GError **error)
{
  if (count < 0 || count > item->count)
    {
      refuse (g_strdup_printf (_ ("%s counts only %" PRId64 ", not %" PRId64 "."), item->name,
                               item->count, count),
              error);
      return NULL;
    }
  gint64 number = item->id;
  if (count != 0 && count < item->count
      && !sw_item_split (catalogue, item->id, count, &number, error))
    return NULL;
  return sw_item_get (catalogue, number, error);
}

static gboolean
take_step (SwCatalogue *catalogue, SwAct *act, const SwItem *item, SwState to,
           const SwStepOptions *options, gint64 *out_number, char **out_sentence, GError **error)
{
  g_autoptr (SwItem) part = part_of (catalogue, item, options->count, error);
  if (part == NULL || !write_step (catalogue, part, to, options, error))
    return FALSE;
  g_autofree char *sentence = step_sentence (part, item->count, to, options);
  SwDay day = day_of (catalogue, options);
  if (!sw_act_tell (act, SW_SUBJECT_ITEM, part->id, "item.moved", &day, sentence, error))
    return FALSE;
  *out_number = part->id;
  *out_sentence = g_steal_pointer (&sentence);
  return TRUE;
}

/* Nothing to do: asked for what is so already. A part of it cannot be meant, for no step would set
 * it apart. */
static gboolean
is_there_already (const SwItem *item, SwState to, const SwStepOptions *options)
{
  return to == item->state && to != SW_STATE_ON_HOLD && !options->by_books
         && (options->count == 0 || options->count == item->count);
}

gboolean
sw_item_move (SwCatalogue *catalogue, gint64 number, SwState to, const SwStepOptions *options,
              gint64 *out_number, char **out_remark, GError **error)
{
  if (options == NULL)
    options = &no_options;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  if (item == NULL)
    return FALSE;
  gint64 taker = number;
  g_autofree char *remark = NULL, *sentence = NULL;
  if (!is_there_already (item, to, options))
    {
      if (!check_step (catalogue, item, to, options, &remark, error)
          || !take_step (catalogue, &act, item, to, options, &taker, &sentence, error)
          || !sw_act_commit (&act, sentence, error))
        return FALSE;
    }
  if (out_number != NULL)
    *out_number = taker;
  if (out_remark != NULL)
    *out_remark = g_steal_pointer (&remark);
  return TRUE;
}

/* --- walking by the books --- */

/* Goods that went and are missing: nothing told implies that they were taken back first. */
static guint
between_for (SwState from, SwState target)
{
  if (from == SW_STATE_HANDED_OVER)
    return 0;
  for (gsize i = 0; i < G_N_ELEMENTS (ways); i++)
    if (ways[i].target == target)
      return ways[i].between;
  return EVERY_WAY;
}

/* Breadth first; previous[s] is where the shortest way to s comes from, SW_N_STATES where there is
 * none. */
static void
search_way (SwState from, SwState target, SwState previous[SW_N_STATES])
{
  guint between = between_for (from, target);
  SwState queue[SW_N_STATES];
  guint head = 0, tail = 0;
  for (int s = 0; s < SW_N_STATES; s++)
    previous[s] = SW_N_STATES;
  queue[tail++] = from;
  while (head < tail && previous[target] == SW_N_STATES)
    {
      SwState at = queue[head++];
      guint next = sw_state_next (at);
      if (next & (1u << target))
        previous[target] = at;
      for (gsize i = 0; i < G_N_ELEMENTS (search_order); i++)
        {
          SwState via = search_order[i];
          if (via == from || via == target || previous[via] != SW_N_STATES
              || (next & between & (1u << via)) == 0)
            continue;
          previous[via] = at;
          queue[tail++] = via;
        }
    }
}

/* Fills way[] with the states to take, the target last; 0 where there is no way. On hold leads to a
 * new hold. */
static guint
find_way (SwState from, SwState target, SwState way[SW_N_STATES])
{
  if (from == target)
    {
      way[0] = target;
      return target == SW_STATE_ON_HOLD ? 1 : 0;
    }
  SwState previous[SW_N_STATES];
  search_way (from, target, previous);
  if (previous[target] == SW_N_STATES)
    return 0;
  guint n = 0;
  for (SwState s = target; s != from; s = previous[s])
    n++;
  guint at = n;
  for (SwState s = target; s != from; s = previous[s])
    way[--at] = s;
  return n;
}

static char *
why_no_way (const SwItem *item, SwState target)
{
  if (item->state == SW_STATE_SOLD || item->state == SW_STATE_HANDED_OVER)
    return g_strdup_printf (
        _ ("%s is %s: it cannot become %s before that sale falls through (a reversal)."),
        item->name, _ (sw_state_word (item->state)), _ (sw_state_word (target)));
  return why_not_in_table (item, target);
}

/* Adds a remark that was not made yet. */
static void
join_remark (GString *remarks, const char *remark)
{
  if (remark == NULL || strstr (remarks->str, remark) != NULL)
    return;
  if (remarks->len > 0)
    g_string_append_c (remarks, ' ');
  g_string_append (remarks, remark);
}

static gboolean
walk (SwCatalogue *catalogue, gint64 *number, const SwState *way, guint n,
      const SwStepOptions *options, GString *remarks, GError **error)
{
  SwStepOptions step = *options;
  step.by_books = TRUE;
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *remark = NULL;
      if (!sw_item_move (catalogue, *number, way[i], &step, number, &remark, error))
        return FALSE;
      join_remark (remarks, remark);
      step.count = 0; /* what took the first step takes the others whole */
    }
  return TRUE;
}

/* A second offer while the first one runs, or its end after another one's, changes nothing. */
static gboolean
stays_by_books (const SwItem *item, SwState target, const SwStepOptions *options)
{
  return item->state == target && (options->count == 0 || options->count == item->count)
         && (target == SW_STATE_ON_OFFER || target == SW_STATE_NO_SALE);
}

gboolean
sw_item_walk_to (SwCatalogue *catalogue, gint64 number, SwState target,
                 const SwStepOptions *options, gint64 *out_number, char **out_remark,
                 GError **error)
{
  if (options == NULL)
    options = &no_options;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  if (item == NULL)
    return FALSE;
  SwState way[SW_N_STATES] = { target };
  gboolean stays = stays_by_books (item, target, options);
  guint n = stays ? 0 : find_way (item->state, target, way);
  if (n == 0 && !stays)
    return refuse (why_no_way (item, target), error);
  g_autoptr (GString) remarks = g_string_new (NULL);
  g_autofree char *sentence = g_strdup_printf (
      _ ("%s: %s to %s"), item->name, _ (sw_state_word (item->state)), _ (sw_state_word (target)));
  if (!walk (catalogue, &number, way, n, options, remarks, error)
      || (n > 0 && !sw_act_commit (&act, sentence, error)))
    return FALSE;
  if (out_number != NULL)
    *out_number = number;
  if (out_remark != NULL)
    *out_remark = remarks->len > 0 ? g_strdup (remarks->str) : NULL;
  return TRUE;
}
