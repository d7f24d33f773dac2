/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sentences of offers. */
#include "app/offer-words.h"

#include "app/clock.h"
#include "app/text.h"

static void
add (GString *text, const char *part)
{
  if (part != NULL && *part != '\0')
    g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", part);
}

/* Takes the text over; a count below zero is one nobody noted. */
static void
add_count (GString *text, gint64 n, char *part)
{
  if (n >= 0)
    add (text, part);
  g_free (part);
}

char *
sw_words_interest (SwStore *store, const SwInterest *interest)
{
  GString *text = g_string_new (NULL);

  add_count (text, interest->looks, sw_text_count (interest->looks, "%d look", "%d looks"));
  add_count (text, interest->followers,
             sw_text_count (interest->followers, "%d follower", "%d followers"));
  add_count (text, interest->bids, sw_text_count (interest->bids, "%d bid", "%d bids"));
  if (interest->has_amount)
    {
      g_autofree char *amount = sw_store_money (store, interest->amount);
      g_string_append_printf (text, text->len > 0 ? _ (" at %s") : _ ("at %s"), amount);
    }
  return g_string_free (text, FALSE);
}

char *
sw_words_hold (SwDay until, SwInstant end)
{
  g_autofree char *day = sw_day_written (until);

  return sw_clock_now ().us < end.us ? g_strdup_printf (_ ("held until %s"), day)
                                     : g_strdup_printf (_ ("the hold ran out on %s"), day);
}

char *
sw_words_drawn (SwStore *store, const SwRunRow *row)
{
  GString *text = g_string_new (NULL);
  g_autofree char *interest = sw_words_interest (store, &row->interest);
  g_autofree char *enquiries = sw_text_count (row->enquiries, "%d enquiry", "%d enquiries");
  g_autofree char *held = row->is_held ? sw_words_hold (row->held, row->held_end) : NULL;

  if (row->has_interest)
    add (text, interest);
  if (row->enquiries > 0)
    add (text, enquiries);
  add (text, held);
  if (text->len == 0)
    add (text, _ ("no interest noted"));
  return g_string_free (text, FALSE);
}

static void
add_money (SwStore *store, GString *text, const char *word, gboolean has, SwMoney amount)
{
  g_autofree char *money = has ? sw_store_money (store, amount) : NULL;
  g_autofree char *part = has ? g_strdup_printf ("%s %s", word, money) : NULL;
  add (text, part);
}

char *
sw_words_asked (SwStore *store, const SwRunRow *row)
{
  GString *text = g_string_new (NULL);

  add_money (store, text, _ ("starts at"), row->has_start, row->start);
  add_money (store, text, _ ("reserve"), row->has_reserve, row->reserve);
  add_money (store, text, _ ("hoped"), row->has_hoped, row->hoped);
  return g_string_free (text, FALSE);
}

char *
sw_words_weight (SwStore *store, const SwRunRow *row)
{
  GString *text = g_string_new (NULL);
  g_autofree char *mass = row->has_mass ? sw_mass_to_text (row->mass) : NULL;

  add (text, mass);
  add_money (store, text, _ ("floor"), row->has_floor, row->floor);
  if (row->needs_machine)
    add (text, _ ("needs a machine to lift"));
  return g_string_free (text, FALSE);
}

char *
sw_words_van (SwVanFit fit)
{
  const char *why = sw_van_fit_words (fit);

  return fit == SW_VAN_FIT_YES       ? g_strdup (_ ("fits the van"))
         : fit == SW_VAN_FIT_UNKNOWN ? g_strdup (_ ("fits the van: not known"))
                                     : g_strdup_printf (_ ("not in the van: %s"), _ (why));
}

static const struct
{
  const char *icon, *word;
} results[SW_N_RESULTS] = {
  [SW_RESULT_RUNNING] = { "sw-on-offer-symbolic", N_ ("Running") },
  [SW_RESULT_SOLD] = { "sw-sold-symbolic", N_ ("Sold") },
  [SW_RESULT_NO_SALE] = { "sw-no-sale-symbolic", N_ ("No sale") },
  [SW_RESULT_WITHDRAWN] = { "sw-ready-symbolic", N_ ("Withdrawn") },
};

const char *
sw_words_stand_icon (SwNightStand stand)
{
  return results[stand.result].icon;
}

const char *
sw_words_stand_word (SwNightStand stand)
{
  return _ (results[stand.result].word);
}

char *
sw_words_stand (SwStore *store, SwNightStand stand)
{
  g_autofree char *money
      = stand.result == SW_RESULT_SOLD ? sw_store_money (store, stand.amount) : NULL;
  if (money != NULL)
    return g_strdup_printf (_ ("Sold for %s"), money);
  if (stand.has_verdict)
    return g_strdup_printf (_ ("No sale, %s"), _ (sw_verdict_word (stand.verdict)));
  return g_strdup (sw_words_stand_word (stand));
}
