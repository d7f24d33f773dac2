/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The help of booking: its example is a table that can be booked as it stands, and a test does. */
#include "core/trade/book.h"

#include "core/base/language.h"

/* The sums that the text below the example gives are those of this table. */
#define EXAMPLE                                                                                    \
  "what,ref,outlet,item,kind,from,charge,on,flat,tiers,tax,up,closes,at,result,amount,remark\n"    \
  "outlet,,Hill Road auction,,auction,,,,,,,,,,,,\n"                                               \
  "charge,,Hill Road auction,,,2026-01-01,listing,offer,1.50,,20%,,,,,,\n"                         \
  "charge,,Hill Road auction,,,2026-01-01,commission,price,,500:10%;:4%,20%,,,,,,\n"               \
  "offer,A1,Hill Road auction,Screw press,,,,,,,,2026-04-12,2026-04-26T20:00,,,,\n"                \
  "offer,A2,Hill Road auction,Press cloths + Straining "                                           \
  "hoop,,,,,,,,2026-04-12,2026-04-26T20:05,,,,\n"                                                  \
  "result,A1,,,,,,,,,,,,2026-04-26T20:00,sold,640.00,\n"                                           \
  "result,A2,,,,,,,,,,,,2026-04-26T20:05,no sale,,\n"                                              \
  "payment,A1,,,,,,,,,,,,2026-04-28,,600.00,\n"                                                    \
  "fee,A1,,,,,commission,,,,,,,2026-05-02,,60.00,\n"                                               \
  "collected,A1,,,,,,,,,,,,2026-05-09,,,\n"                                                        \
  "sale,S1,,Apple ladder,,,,,,,,,,2026-05-09,,35.00,\n"                                            \
  "cost,,,,,,,,,,,,,2026-05-09,,48.20,diesel\n"

static const char *const before_example = N_ (
    "The table is UTF-8 CSV with a header line; columns in any order, unused cells empty. Each "
    "row\n"
    "is a fact, and 'what' says which. Rows may stand in any order: what belongs together is "
    "joined\n"
    "by 'ref'. All of the table is booked, in one act that undo takes back, or nothing. Rows "
    "that\n"
    "are booked already are passed over, so a table that grew can be booked again.\n"
    "\n"
    "what         columns read\n"
    "outlet       outlet, kind, running_days, pay_days, collect_days, rounding (half-up, "
    "half-even)\n"
    "charge       outlet, from, charge (its name), on (offer or sale: with flat; price or\n"
    "             price+delivery: with tiers), flat, tiers, least, most, tax, free (offers of a\n"
    "             calendar month not charged: by closing time, then item number, in whatever\n"
    "             order they are entered); without flat and tiers it ends the charge\n"
    "offer        ref, outlet, item (number or exact name; several with ' + ' between are a "
    "lot),\n"
    "             count, start, reserve, up, closes\n"
    "interest     ref, at, looks, followers, bids, amount\n"
    "result       ref, at, result (sold, no sale, withdrawn), amount, delivery, buyer\n"
    "hold         item, at, until, buyer\n"
    "sale         ref, item, count, outlet (may be empty), at, amount, delivery, buyer\n"
    "payment      ref, at, amount\n"
    "paid back    ref, at, amount: given back of what was paid beyond price and delivery\n"
    "collected    ref, at\n"
    "reversal     ref, at, amount (empty: the whole sale falls through)\n"
    "fee          ref, charge, at, amount: as charged, in place of the computed one\n"
    "cost         trip, at, amount, remark\n"
    "docket       ref, outlet, at, gross, tare (kg)\n"
    "docket line  ref, class, net (kg), rate (per 1000 kg), amount, item (may be empty), place\n"
    "\n"
    "Money has a decimal point and no grouping, percentages their sign: tiers '500:10%;:4%' are "
    "10%\n"
    "of what lies up to 500.00 and 4% of what lies above. Days are written 2026-04-26, times\n"
    "2026-04-26T20:00, of the property or with an offset.\n"
    "\n"
    "An example:\n");

static const char *const after_example = N_ (
    "The screw press brought 640.00, of which 40.00 are still owed. The commission would be "
    "50.00 +\n"
    "4% of 140.00 = 55.60 and 20% tax on it = 11.12; the outlet charged 60.00 instead, and that\n"
    "counts. Each offer costs 1.50 and 0.30 tax, sold or not. So proceeds are 675.00, fees "
    "63.60,\n"
    "takings 611.40; the diesel stands beside them as a cost.\n");

const char *
sw_book_help_text (void)
{
  static char *text;

  if (text == NULL)
    text = g_strconcat (_ (before_example), "\n", EXAMPLE, "\n", _ (after_example), NULL);
  return text;
}

const char *
sw_book_example (void)
{
  return EXAMPLE;
}
