/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Booking: each rule by which rows of the money table count, as a table with figures worked by hand
 * (the working stands in the row), undo, and tables booked again. What is refused is in
 * test-book-refused.c; the property is that of sw-test-money.h. */
#include "sw-test-money.h"

#include "core/catalogue/check.h"
#include "core/catalogue/deals.h"

typedef struct
{
  const char *label;
  const char *table;  /* booked first */
  const char *second; /* booked after it, or NULL */
  SwCredit credit;
  SwGrouping by;
  const char *rows;
  const char *items; /* "1 Sold x1 30000, ..."; NULL: not looked at */
} Row;

/* One offer of a month is free: A closes after B. */
#define FREE_SCALES                                                                                \
  "outlet|outlet=Shop\n"                                                                           \
  "charge|outlet=Shop|charge=listing|from=2026-01-01|on=offer|flat=1.00|free=1\n"                  \
  "offer|ref=A|outlet=Shop|item=Scales|up=2026-04-01|closes=2026-04-20T20:00\n"                    \
  "result|ref=A|at=2026-05-02|result=no sale\n"
#define FREE_LADDER "offer|ref=B|outlet=Shop|item=Ladder|up=2026-04-01|closes=2026-04-19T20:00\n"

static const Row rows[] = {
  /* --- joined by ref, in any order; steps in between are taken by themselves --- */
  { "offer and result", HILL PRESS, NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "1 20000 1730 0 20000",
    "1 Sold x1 30000" },
  { "rows in any order", PRESS_SOLD PRESS_UP HILL, NULL, SW_CREDIT_FOUND, SW_BY_TRIP,
    "1 20000 1730 0 20000", "1 Sold x1 30000" },
  { "result in a later table", HILL PRESS_UP, PRESS_SOLD, SW_CREDIT_FOUND, SW_BY_TRIP,
    "1 20000 1730 0 20000", "1 Sold x1 30000" },
  { "a running offer has no fee", HILL PRESS_UP, NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "",
    "1 On offer x1 30000" },
  { "collected while money is owed is a stated debt", HILL PRESS "collected|ref=A1|at=2026-05-09\n",
    NULL, SW_CREDIT_HANDED_OVER, SW_BY_TRIP, "2 20000 1730 0 20000", "1 Handed over x1 30000" },
  { "an item without an asking price is put up",
    HILL "offer|ref=A1|outlet=Hill Road|item=Vat|up=2026-04-14\n", NULL, SW_CREDIT_FOUND,
    SW_BY_TRIP, "", "4 On offer x1 -1" },
  { "sold to somebody while on hold",
    YARD "hold|item=Ladder|at=2026-04-12|until=2026-04-20|buyer=A. Neighbour\n"
         "sale|ref=S1|item=Ladder|at=2026-04-15|amount=40.00\n",
    NULL, SW_CREDIT_FOUND, SW_BY_OUTLET, "none 4000 0 0 4000", "5 Sold x1 5000" },
  { "a hold goes before a running offer",
    HILL "hold|item=Screw press|at=2026-04-13|until=2026-05-20|buyer=A. Neighbour\n" PRESS_UP, NULL,
    SW_CREDIT_FOUND, SW_BY_TRIP, "", "1 On hold x1 30000" },
  { "a hold on the day its item fell through",
    YARD "sale|ref=S1|item=Ladder|at=2026-04-12|amount=40.00\nreversal|ref=S1|at=2026-04-14\n"
         "hold|item=Ladder|at=2026-04-14|until=2026-04-20|buyer=B. Neighbour\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "", "5 On hold x1 5000" },

  /* --- terms by day --- */
  /* up 19 April: 10% of 50.00 = 5.00; up 20 April: 20% of 50.00 = 10.00; listing 2.30 each */
  { "a charge replaces the earlier one from its day on",
    HILL "charge|outlet=Hill Road|charge=commission|from=2026-04-20|on=price|tiers=:20%\n"
         "offer|ref=A|outlet=Hill Road|item=Scales|up=2026-04-19\n"
         "offer|ref=B|outlet=Hill Road|item=Vat|up=2026-04-20\n"
         "result|ref=A|at=2026-04-28|result=sold|amount=50\nresult|ref=B|at=2026-04-28|result=sold|"
         "amount=50\n",
    NULL, SW_CREDIT_FOUND, SW_BY_PLACE,
    "Packing shed > Loft 5000 730 0 5000 | Press house 5000 1230 0 5000" },
  { "a charge without flat and tiers ends it",
    HILL "charge|outlet=Hill Road|charge=commission|from=2026-04-14\n" PRESS, NULL, SW_CREDIT_FOUND,
    SW_BY_TRIP, "1 20000 230 0 20000" },
  { "an ended charge still falls on what was up before",
    HILL "charge|outlet=Hill Road|charge=commission|from=2026-04-15\n" PRESS, NULL, SW_CREDIT_FOUND,
    SW_BY_TRIP, "1 20000 1730 0 20000" },
  /* 10% of 40.00; no listing */
  { "a sale without an offer owes no offer charge",
    HILL "sale|ref=S1|outlet=Hill Road|item=Ladder|at=2026-04-20|amount=40\n", NULL,
    SW_CREDIT_FOUND, SW_BY_TRIP, "none 4000 400 0 4000" },
  { "a sale without an offer goes by the terms of its own day",
    HILL "charge|outlet=Hill Road|charge=commission|from=2026-04-20|on=price|tiers=:20%\n"
         "sale|ref=S1|outlet=Hill Road|item=Ladder|at=2026-04-20|amount=40\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "none 4000 800 0 4000" },
  { "terms that come later change no booked fee", HILL PRESS,
    "charge|outlet=Hill Road|charge=commission|from=2026-01-01|on=price|tiers=:50%\n",
    SW_CREDIT_FOUND, SW_BY_TRIP, "1 20000 1730 0 20000" },

  /* --- when fees arise --- */
  { "no sale: offer charges alone, on its day",
    HILL PRESS_UP "result|ref=A1|at=2026-05-20|result=no sale\n", NULL, SW_CREDIT_SOLD, SW_BY_TRIP,
    "2 0 230 0 0", "1 No sale x1 30000" },
  { "withdrawn: fees as for no sale, on its day",
    HILL PRESS_UP "result|ref=A1|at=2026-04-16|result=withdrawn\n", NULL, SW_CREDIT_SOLD,
    SW_BY_TRIP, "1 0 230 0 0", "1 Ready x1 30000" },
  { "a fee without a sale counts with the finding trip",
    HILL PRESS_UP "result|ref=A1|at=2026-05-20|result=no sale\n", NULL, SW_CREDIT_FOUND, SW_BY_TRIP,
    "1 0 230 0 0" },
  { "a fee without a sale is not waiting",
    HILL PRESS_UP "result|ref=A1|at=2026-05-20|result=no sale\n", NULL, SW_CREDIT_HANDED_OVER,
    SW_BY_TRIP, "2 0 230 0 0" },

  /* --- fee rows --- */
  /* commission charged 12.00 in place of 15.00; listing 2.30 stays; the date stays 26 April */
  { "a fee row replaces the charge and keeps the date of the result",
    HILL PRESS "fee|ref=A1|charge=commission|at=2026-05-20|amount=12.00\n", NULL, SW_CREDIT_SOLD,
    SW_BY_TRIP, "1 20000 1430 0 20000" },
  { "a fee row replaces the tax too",
    HILL PRESS "fee|ref=A1|charge=listing|at=2026-05-20|amount=2.00\n", NULL, SW_CREDIT_SOLD,
    SW_BY_TRIP, "1 20000 1700 0 20000" },
  { "a fee that was not computed is one more",
    HILL PRESS "fee|ref=A1|charge=photographs|at=2026-05-20|amount=3.00\n", NULL, SW_CREDIT_FOUND,
    SW_BY_TRIP, "1 20000 2030 0 20000" },
  { "0 gives a fee back", HILL PRESS "fee|ref=A1|charge=commission|at=2026-05-20|amount=0\n", NULL,
    SW_CREDIT_FOUND, SW_BY_TRIP, "1 20000 230 0 20000" },
  { "of two fee rows the later counts",
    HILL PRESS "fee|ref=A1|charge=commission|at=2026-05-21|amount=11.00\n"
               "fee|ref=A1|charge=commission|at=2026-05-20|amount=12.00\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "1 20000 1330 0 20000" },
  { "a fee row in a later table", HILL PRESS,
    "fee|ref=A1|charge=commission|at=2026-05-20|amount=12.00\n", SW_CREDIT_SOLD, SW_BY_TRIP,
    "1 20000 1430 0 20000" },
  { "an earlier fee row in a later table counts no more",
    HILL PRESS "fee|ref=A1|charge=commission|at=2026-05-21|amount=11.00\n",
    "fee|ref=A1|charge=commission|at=2026-05-20|amount=12.00\n", SW_CREDIT_SOLD, SW_BY_TRIP,
    "1 20000 1330 0 20000" },
  { "without a result yet a fee bears its own day",
    HILL PRESS_UP "fee|ref=A1|charge=listing|at=2026-05-20|amount=2.50\n", NULL, SW_CREDIT_SOLD,
    SW_BY_TRIP, "2 0 250 0 0" },
  { "and moves to the day of the result with it",
    HILL PRESS_UP "fee|ref=A1|charge=listing|at=2026-05-20|amount=2.50\n", PRESS_SOLD,
    SW_CREDIT_SOLD, SW_BY_TRIP, "1 20000 1750 0 20000" },

  /* --- a charge: tiers, least and most, rounding, tax --- */
  /* 10% of 1.25 = 0.125: half-up 0.13 + 15% of it 0.0195 = 0.02; half-even 0.12 + 0.018 = 0.02 */
  { "rounding without a cell is half-up",
    "outlet|outlet=Shop\n"
    "charge|outlet=Shop|charge=share|from=2026-01-01|on=price|tiers=:10%|tax=15%\n"
    "sale|ref=S|outlet=Shop|item=Ladder|at=2026-04-20|amount=1.25\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "none 125 15 0 125" },
  { "half-even",
    "outlet|outlet=Shop|rounding=half-even\n"
    "charge|outlet=Shop|charge=share|from=2026-01-01|on=price|tiers=:10%|tax=15%\n"
    "sale|ref=S|outlet=Shop|item=Ladder|at=2026-04-20|amount=1.25\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "none 125 14 0 125" },
  /* 5% of 30.00 + 10.00 delivery = 2.00, raised to 3.00, 20% tax 0.60 */
  { "price and delivery, least, tax on it",
    "outlet|outlet=Shop\n"
    "charge|outlet=Shop|charge=share|from=2026-01-01|on=price+delivery|tiers=:5%|least=3|tax=20%\n"
    "sale|ref=S|outlet=Shop|item=Ladder|at=2026-04-20|amount=30|delivery=10\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "none 4000 360 0 4000" },
  { "most",
    "outlet|outlet=Shop\n"
    "charge|outlet=Shop|charge=share|from=2026-01-01|on=price+delivery|tiers=:5%|most=1.50\n"
    "charge|outlet=Shop|charge=per sale|from=2026-01-01|on=sale|flat=0.99\n"
    "sale|ref=S|outlet=Shop|item=Ladder|at=2026-04-20|amount=30|delivery=10\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "none 4000 249 0 4000" },
  /* April: three offers, first by closing time free: B (20 April) is free, A and C pay 1.00; May: D
     is free again */
  { "free offers of a calendar month, by closing time",
    "outlet|outlet=Shop\n"
    "charge|outlet=Shop|charge=listing|from=2026-01-01|on=offer|flat=1.00|free=1\n"
    "offer|ref=A|outlet=Shop|item=Screw press|up=2026-04-01|closes=2026-04-30T23:59\n"
    "offer|ref=B|outlet=Shop|item=Scales|up=2026-04-01|closes=2026-04-20T20:00\n"
    "offer|ref=C|outlet=Shop|item=Vat|up=2026-04-01|closes=2026-04-20T20:01\n"
    "offer|ref=D|outlet=Shop|item=Ladder|up=2026-04-01|closes=2026-05-01T00:00\n"
    "result|ref=A|at=2026-05-02|result=no sale\nresult|ref=B|at=2026-05-02|result=no sale\n"
    "result|ref=C|at=2026-05-02|result=no sale\nresult|ref=D|at=2026-05-02|result=no sale\n",
    NULL, SW_CREDIT_FOUND, SW_BY_PLACE, "Press house 0 200 0 0" },
  { "free offers, equal closing times go by item number",
    "outlet|outlet=Shop\n"
    "charge|outlet=Shop|charge=listing|from=2026-01-01|on=offer|flat=1.00|free=1\n"
    "offer|ref=A|outlet=Shop|item=Ladder|up=2026-04-01|closes=2026-04-20T20:00\n"
    "offer|ref=B|outlet=Shop|item=Scales|up=2026-04-01|closes=2026-04-20T20:00\n"
    "result|ref=A|at=2026-05-02|result=no sale\nresult|ref=B|at=2026-05-02|result=no sale\n",
    NULL, SW_CREDIT_FOUND, SW_BY_PLACE, "Packing shed 0 100 0 0" },
  /* A (the Loft) was free when it was booked; then B, which closed before it, is entered */
  { "free offers, one that closed earlier is entered later", FREE_SCALES,
    FREE_LADDER "result|ref=B|at=2026-05-02|result=no sale\n", SW_CREDIT_FOUND, SW_BY_PLACE,
    "Packing shed > Loft 0 100 0 0" },
  { "free offers, a running one that closed earlier counts", FREE_SCALES, FREE_LADDER,
    SW_CREDIT_FOUND, SW_BY_PLACE, "Packing shed > Loft 0 100 0 0" },
  { "free offers, one that closed later changes nothing", FREE_SCALES,
    "offer|ref=C|outlet=Shop|item=Ladder|up=2026-04-01|closes=2026-04-21T20:00\n"
    "result|ref=C|at=2026-05-02|result=no sale\n",
    SW_CREDIT_FOUND, SW_BY_PLACE, "Packing shed 0 100 0 0" },
  /* what A would cost was fixed when it ended: 1.00, and one free; B ends under the new terms */
  { "free offers, by the terms of then", FREE_SCALES,
    "charge|outlet=Shop|charge=listing|from=2026-01-01|on=offer|flat=9.00|free=0\n" FREE_LADDER
    "result|ref=B|at=2026-05-02|result=no sale\n",
    SW_CREDIT_FOUND, SW_BY_PLACE, "Packing shed 0 900 0 0 | Packing shed > Loft 0 100 0 0" },
  { "free offers, what was charged counts before what is worked out",
    FREE_SCALES "fee|ref=A|charge=listing|at=2026-05-03|amount=0.70\n", FREE_LADDER,
    SW_CREDIT_FOUND, SW_BY_PLACE, "Packing shed > Loft 0 70 0 0" },

  /* --- lots --- */
  /* asking 300 : 100. 100.01: 75.0075 and 25.0025, the odd cent to the press; listing 2.30: 1.725
   * and 0.575, tie to the lower number: 1.73 and 0.57; commission 10.00 + 0.0005 = 10.00: 7.50
   * and 2.50 */
  { "a lot by asking price, each fee by itself",
    HILL "offer|ref=L|outlet=Hill Road|item=Crates + Screw press|up=2026-04-14\n"
         "result|ref=L|at=2026-04-20|result=sold|amount=100.01\n",
    NULL, SW_CREDIT_FOUND, SW_BY_PLACE,
    "Packing shed 2500 307 0 2500 | Press house 7501 923 0 7501" },
  /* 400 kg : 100 kg of 100.01: 80.008 and 20.002, the odd cent to the press; the vat has no price
   */
  { "a lot by mass where one has no asking price",
    YARD "sale|ref=L|outlet=Yard|item=1 + 4|at=2026-04-20|amount=100.01\n", NULL, SW_CREDIT_FOUND,
    SW_BY_TRIP, "1 8001 0 0 8001 | 2 2000 0 0 2000" },
  { "a lot equally where a mass is missing too",
    YARD "sale|ref=L|outlet=Yard|item=Vat + Ladder|at=2026-04-20|amount=100.01\n", NULL,
    SW_CREDIT_FOUND, SW_BY_TRIP, "2 5001 0 0 5001 | none 5000 0 0 5000" },
  /* price 1.00: 0.75, 0.25; delivery 0.01: 0.0075, 0.0025: the press */
  { "price and delivery are split one by one",
    YARD
    "sale|ref=L|outlet=Yard|item=Screw press + Crates|at=2026-04-20|amount=1.00|delivery=0.01\n",
    NULL, SW_CREDIT_FOUND, SW_BY_PLACE, "Packing shed 25 0 0 25 | Press house 76 0 0 76" },

  /* --- counts --- */
  /* 3 of 10 crates at 100.00: the part 7 has 30.00 */
  { "a count splits in proportion", "sale|ref=S|item=Crates|count=3|at=2026-04-20|amount=20\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "1 2000 0 0 2000", "2 Found x7 7000, 8 Sold x3 3000" },
  { "the odd cent of a split stays", "sale|ref=S|item=Bottles|count=1|at=2026-04-20|amount=20\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "2 2000 0 0 2000", "7 Found x1 1, 8 Sold x1 0" },
  { "parts are numbered by date, then ref; the name means what is left",
    "sale|ref=S2|item=Crates|count=2|at=2026-04-20|amount=2\nsale|ref=S1|item=Crates|count=3|at="
    "2026-04-20|amount=3\n"
    "sale|ref=S0|item=Crates|count=1|at=2026-04-21|amount=1\nsale|ref=S9|item=Crates|at=2026-04-22|"
    "amount=4\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "1 1000 0 0 1000",
    "2 Sold x4 4000, 8 Sold x3 3000, 9 Sold x2 2000, 10 Sold x1 1000" },
  { "parts of one day go by ref, whatever takes them",
    HILL "sale|ref=Z|item=Crates|count=3|at=2026-04-20|amount=3\n"
         "offer|ref=A|outlet=Hill Road|item=Crates|count=2|up=2026-04-20\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "1 300 0 0 300",
    "2 Found x5 5000, 8 On offer x2 2000, 9 Sold x3 3000" },
  { "the whole count splits nothing", "sale|ref=S|item=Crates|count=10|at=2026-04-20|amount=20\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "1 2000 0 0 2000", "2 Sold x10 10000" },
  { "a part is reached by its ref",
    HILL "offer|ref=A|outlet=Hill Road|item=Crates|count=4|up=2026-04-14\n",
    "result|ref=A|at=2026-04-20|result=sold|amount=10\ncollected|ref=A|at=2026-04-21\n",
    SW_CREDIT_FOUND, SW_BY_TRIP, "1 1000 330 0 1000", "2 Found x6 6000, 8 Handed over x4 4000" },

  /* --- payments and what is owed --- */
  { "owed is what is not paid yet", HILL PRESS "payment|ref=A1|at=2026-04-28|amount=150.00\n", NULL,
    SW_CREDIT_FOUND, SW_BY_TRIP, "1 20000 1730 0 5000" },
  { "paid in a later table", HILL PRESS "payment|ref=A1|at=2026-04-28|amount=150.00\n",
    "payment|ref=A1|at=2026-05-28|amount=50.00\n", SW_CREDIT_FOUND, SW_BY_TRIP,
    "1 20000 1730 0 0" },
  { "owed is never below zero, ref by ref",
    YARD
    "sale|ref=S1|item=Ladder|at=2026-04-20|amount=40\npayment|ref=S1|at=2026-04-20|amount=100\n"
    "sale|ref=S2|item=Scales|at=2026-04-20|amount=60\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "2 6000 0 0 6000 | none 4000 0 0 0" },
  { "owed stands in the sale's row, not in the payment's",
    HILL PRESS "payment|ref=A1|at=2026-05-20|amount=150.00\n", NULL, SW_CREDIT_SOLD, SW_BY_TRIP,
    "1 20000 1730 0 5000" },
  { "a deposit before the sale",
    "payment|ref=S1|at=2026-04-01|amount=10\nsale|ref=S1|item=Ladder|at=2026-04-20|amount=40\n",
    NULL, SW_CREDIT_SOLD, SW_BY_TRIP, "1 4000 0 0 3000" },

  /* --- reversals --- */
  { "the whole falls through; fees stay with the sale",
    HILL PRESS "reversal|ref=A1|at=2026-05-20\n", NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "1 0 1730 0 0",
    "1 No sale x1 30000" },
  { "under sold on its own day", HILL PRESS "reversal|ref=A1|at=2026-05-20\n", NULL, SW_CREDIT_SOLD,
    SW_BY_TRIP, "1 20000 1730 0 0 | 2 -20000 0 0 0" },
  { "under handed-over waiting where nothing was collected",
    HILL PRESS "reversal|ref=A1|at=2026-05-20\n", NULL, SW_CREDIT_HANDED_OVER, SW_BY_TRIP,
    "waiting 0 1730 0 0" },
  { "under handed-over on its own day after the collection",
    HILL PRESS "collected|ref=A1|at=2026-04-30\nreversal|ref=A1|at=2026-05-20\n", NULL,
    SW_CREDIT_HANDED_OVER, SW_BY_TRIP, "1 20000 1730 0 0 | 2 -20000 0 0 0", "1 No sale x1 30000" },
  { "under handed-over on its own day even before the collection",
    HILL PRESS "reversal|ref=A1|at=2026-04-30|amount=20\ncollected|ref=A1|at=2026-05-20\n", NULL,
    SW_CREDIT_HANDED_OVER, SW_BY_TRIP, "1 -2000 0 0 0 | 2 20000 1730 0 18000",
    "1 Handed over x1 30000" },
  { "a part is split like the price",
    YARD "sale|ref=L|outlet=Yard|item=Screw press + "
         "Crates|at=2026-04-20|amount=40\nreversal|ref=L|at=2026-04-25|amount=10\n",
    NULL, SW_CREDIT_FOUND, SW_BY_PLACE, "Packing shed 750 0 0 750 | Press house 2250 0 0 2250" },
  /* equal shares of 3, 4, 5: price 0.01 and delivery 0.01 both to 3; 0.02 back: one each from 3 and
     4; owed 0 */
  { "an item may go below zero by a part",
    YARD "sale|ref=L|item=Scales + Vat + Ladder|at=2026-04-20|amount=0.01|delivery=0.01\n"
         "reversal|ref=L|at=2026-04-25|amount=0.02\n",
    NULL, SW_CREDIT_FOUND, SW_BY_PLACE, "Packing shed > Loft 1 0 0 0 | Press house -1 0 0 0" },
  { "and the whole reversal brings it to zero",
    YARD "sale|ref=L|item=Scales + Vat + Ladder|at=2026-04-20|amount=0.01|delivery=0.01\n"
         "reversal|ref=L|at=2026-04-25|amount=0.02\nreversal|ref=L|at=2026-04-25\n",
    NULL, SW_CREDIT_FOUND, SW_BY_PLACE, "" },
  { "sold again after it fell through, on one day",
    HILL PRESS
    "reversal|ref=A1|at=2026-05-02\nsale|ref=S1|item=Screw press|at=2026-05-03|amount=150\n"
    "payment|ref=S1|at=2026-05-03|amount=150\n",
    NULL, SW_CREDIT_SOLD, SW_BY_TRIP, "1 15000 1730 0 0", "1 Sold x1 30000" },
  { "a fee row takes the fee of a fallen sale back",
    HILL PRESS
    "reversal|ref=A1|at=2026-05-20\nfee|ref=A1|charge=commission|at=2026-05-22|amount=0\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "1 0 230 0 0" },

  /* --- views --- */
  { "not yet handed over is waiting", HILL PRESS, NULL, SW_CREDIT_HANDED_OVER, SW_BY_TRIP,
    "waiting 20000 1730 0 20000" },
  { "before the first trip", "sale|ref=S1|item=Ladder|at=2026-04-09|amount=40\n", NULL,
    SW_CREDIT_SOLD, SW_BY_TRIP, "before 4000 0 0 4000" },
  { "a trip's period lasts to the day before the next trip's first",
    "sale|ref=S1|item=Ladder|at=2026-05-07|amount=1\nsale|ref=S2|item=Scales|at=2026-05-08|amount="
    "2\n",
    NULL, SW_CREDIT_SOLD, SW_BY_TRIP, "1 100 0 0 100 | 2 200 0 0 200" },
  { "the period of the last trip has no end", "sale|ref=S1|item=Ladder|at=2031-01-01|amount=1\n",
    NULL, SW_CREDIT_SOLD, SW_BY_TRIP, "2 100 0 0 100" },
  { "an item of no trip", "sale|ref=S1|item=Ladder|at=2026-05-07|amount=1\n", NULL, SW_CREDIT_FOUND,
    SW_BY_TRIP, "none 100 0 0 100" },
  /* 13:00Z is 01:00 the next day in Auckland (+12) */
  { "a time with an offset counts by the catalogue's day",
    "sale|ref=S1|item=Ladder|at=2026-05-07T13:00:00Z|amount=1\n", NULL, SW_CREDIT_SOLD, SW_BY_TRIP,
    "2 100 0 0 100" },
  { "by place: full path, without the places inside it",
    "sale|ref=S1|item=Ladder|at=2026-05-07|amount=1\nsale|ref=S2|item=Scales|at=2026-05-07|amount="
    "2\n",
    NULL, SW_CREDIT_SOLD, SW_BY_PLACE,
    "Packing shed 100 0 0 100 | Packing shed > Loft 200 0 0 200" },
  { "by outlet: names sorted, none last",
    HILL PRESS YARD "sale|ref=S1|outlet=Yard|item=Scales|at=2026-05-07|amount=2\n"
                    "sale|ref=S2|item=Ladder|at=2026-05-07|amount=1\n",
    NULL, SW_CREDIT_SOLD, SW_BY_OUTLET,
    "Hill Road 20000 1730 0 20000 | Yard 200 0 0 200 | none 100 0 0 100" },
  { "costs stand in their trip's row",
    "cost|trip=2|at=2026-04-10|amount=50|remark=diesel\ncost|at=2026-04-10|amount=7\n", NULL,
    SW_CREDIT_SOLD, SW_BY_TRIP, "2 0 0 5000 0 | none 0 0 700 0" },
  { "costs by place stand under none", "cost|trip=2|at=2026-04-10|amount=50\n", NULL,
    SW_CREDIT_FOUND, SW_BY_PLACE, "none 0 0 5000 0" },

  /* --- dockets --- */
  /* 500 kg at 200.00 a tonne = 100.00 over 400 and 100 kg: 80.00, 20.00; 10 kg at 1234.50 = 12.345
     -> 12.35 loose */
  { "a docket: lines by mass, loose scrap of a place",
    YARD "docket|ref=D|outlet=Yard|at=2026-05-09|gross=1510|tare=1000\n"
         "docket line|ref=D|class=cast iron|net=500|rate=200|item=Vat + Screw press\n"
         "docket line|ref=D|class=brass|net=10|rate=1234.50|place=Packing shed\n",
    NULL, SW_CREDIT_FOUND, SW_BY_PLACE, "Packing shed 1235 0 0 0 | Press house 10000 0 0 0",
    "1 Scrapped x1 30000, 4 Scrapped x1 -1" },
  { "a docket by finding trip; loose scrap by the period of its day",
    YARD "docket|ref=D|outlet=Yard|at=2026-05-09|gross=1510|tare=1000\n"
         "docket line|ref=D|class=cast iron|net=500|rate=200|item=Vat + Screw press\n"
         "docket line|ref=D|class=brass|net=10|rate=1234.50\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "1 8000 0 0 0 | 2 3235 0 0 0" },
  { "a docket is collected on its day",
    YARD "docket|ref=D|outlet=Yard|at=2026-05-09|gross=100|tare=0\ndocket line|ref=D|class=cast "
         "iron|net=100|amount=20|item=Screw press\n",
    NULL, SW_CREDIT_HANDED_OVER, SW_BY_TRIP, "2 2000 0 0 0" },
  { "where a mass is missing a line is split equally",
    YARD "docket|ref=D|outlet=Yard|at=2026-05-09|gross=100|tare=0\n"
         "docket line|ref=D|class=mixed|net=100|amount=10.01|item=Ladder + Screw press\n",
    NULL, SW_CREDIT_FOUND, SW_BY_PLACE, "Packing shed 500 0 0 0 | Press house 501 0 0 0" },
  { "a docket bears no computed charge, only fee rows, on its day",
    HILL "docket|ref=D|outlet=Hill Road|at=2026-04-20|gross=100|tare=0\n"
         "docket line|ref=D|class=mixed|net=75|amount=30|item=Screw press\ndocket "
         "line|ref=D|class=mixed|net=25|amount=10|place=Packing shed\n"
         "fee|ref=D|charge=weighing|at=2026-05-20|amount=4\n",
    NULL, SW_CREDIT_SOLD, SW_BY_PLACE, "Packing shed 1000 100 0 0 | Press house 3000 300 0 0" },
  { "a fee on a docket bears the docket's day",
    YARD "docket|ref=D|outlet=Yard|at=2026-04-20|gross=100|tare=0\ndocket "
         "line|ref=D|class=mixed|net=100|amount=30|item=Screw press\n"
         "fee|ref=D|charge=weighing|at=2026-05-20|amount=4\n",
    NULL, SW_CREDIT_SOLD, SW_BY_TRIP, "1 3000 400 0 0" },
  /* half-even: 10 kg at 1234.50 = 12.345 -> 12.34 */
  { "a line's money is rounded as the outlet does",
    "outlet|outlet=Yard|rounding=half-even\n"
    "docket|ref=D|outlet=Yard|at=2026-04-20|gross=10|tare=0\ndocket "
    "line|ref=D|class=brass|net=10|rate=1234.50\n",
    NULL, SW_CREDIT_SOLD, SW_BY_OUTLET, "Yard 1234 0 0 0" },
  { "loose scrap of no place stands under none",
    YARD "docket|ref=D|outlet=Yard|at=2026-04-20|gross=10.5|tare=0.25\ndocket "
         "line|ref=D|class=brass|net=10.25|amount=5\n",
    NULL, SW_CREDIT_SOLD, SW_BY_PLACE, "none 500 0 0 0" },

  /* --- two offers of one item --- */
  { "one running offer is enough to be On offer",
    HILL YARD PRESS_UP "offer|ref=B1|outlet=Yard|item=Screw "
                       "press|up=2026-04-15\nresult|ref=A1|at=2026-04-26|result=no sale\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "1 0 230 0 0", "1 On offer x1 30000" },
  { "sold in one outlet, withdrawn from the other",
    HILL YARD PRESS "offer|ref=B1|outlet=Yard|item=Screw "
                    "press|up=2026-04-15\nresult|ref=B1|at=2026-04-27|result=withdrawn\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "1 20000 1730 0 20000", "1 Sold x1 30000" },
  { "no sale and up again on one day",
    HILL PRESS_UP "result|ref=A1|at=2026-04-26|result=no sale\n"
                  "offer|ref=A0|outlet=Hill Road|item=Screw press|up=2026-04-26\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "1 0 230 0 0", "1 On offer x1 30000" },
  { "up and sold on one day",
    HILL "offer|ref=A1|outlet=Hill Road|item=Screw press|up=2026-04-26\n" PRESS_SOLD, NULL,
    SW_CREDIT_FOUND, SW_BY_TRIP, "1 20000 1730 0 20000", "1 Sold x1 30000" },
  { "zero is an amount", HILL PRESS_UP "result|ref=A1|at=2026-04-26|result=sold|amount=0\n", NULL,
    SW_CREDIT_FOUND, SW_BY_TRIP, "1 0 230 0 0", "1 Sold x1 30000" },
  { "before the item's own trip is no fault", "sale|ref=S|item=Scales|at=2025-01-01|amount=5\n",
    NULL, SW_CREDIT_FOUND, SW_BY_TRIP, "2 500 0 0 500" },
};

static void
assert_items (SwCatalogue *catalogue, const char *items)
{
  g_auto (GStrv) expected = g_strsplit (items, ", ", -1);
  for (guint i = 0; expected[i] != NULL; i++)
    {
      g_autofree char *actual = sw_test_item (catalogue, g_ascii_strtoll (expected[i], NULL, 10));
      assert_string_equal (actual, expected[i]);
    }
}

/* Sums as `check` sees them. */
static void
assert_sound (SwCatalogue *catalogue)
{
  g_autoptr (GError) error = NULL;
  g_auto (SwCheckReport) report = { 0 };
  sw_check_run (catalogue, NULL, &report, &error);
  assert_no_error (error);
  for (guint i = 0; i < report.faults->len; i++)
    print_error ("%s\n", (char *)g_ptr_array_index (report.faults, i));
  assert_int_equal (report.faults->len, 0);
  assert_true (report.sums >= 9);
}

static void
test_rule (void **state)
{
  const Row *row = *state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, row->table, NULL);
  if (row->second != NULL)
    sw_test_book (bed.catalogue, row->second, NULL);
  SwTakingsRow total;
  g_autofree char *actual = sw_test_takings (bed.catalogue, row->credit, row->by, &total);
  assert_string_equal (actual, row->rows);
  sw_test_totals_agree (bed.catalogue);
  if (row->items != NULL)
    assert_items (bed.catalogue, row->items);
  assert_sound (bed.catalogue);
  /* The same again enters nothing. */
  g_auto (SwBookReport) report = { 0 };
  sw_test_book (bed.catalogue, row->table, &report);
  assert_int_equal (report.booked + report.already, report.rows);
  g_autofree char *again = sw_test_takings (bed.catalogue, row->credit, row->by, &total);
  assert_string_equal (again, row->rows);
}

/* --- acts --- */

static void
test_undo (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue,
                HILL PRESS "sale|ref=S|item=Crates|count=3|at=2026-04-20|amount=20\n", NULL);
  g_autofree char *crates = sw_test_item (bed.catalogue, 2);
  assert_string_equal (crates, "2 Found x7 7000");
  sw_test_undo (bed.catalogue, "table.csv booked (6 rows)");
  SwTakingsRow total;
  g_autofree char *none = sw_test_takings (bed.catalogue, SW_CREDIT_FOUND, SW_BY_TRIP, &total);
  assert_string_equal (none, "");
  g_autofree char *press = sw_test_item (bed.catalogue, 1);
  assert_string_equal (press, "1 Found x1 30000");
  g_autofree char *whole = sw_test_item (bed.catalogue, 2);
  assert_string_equal (whole, "2 Found x10 10000");
  static const char *const empty[]
      = { "deal", "posting", "outlet", "charge", "booked", "fee_computed" };
  for (gsize i = 0; i < G_N_ELEMENTS (empty); i++)
    {
      g_autofree char *sql = g_strdup_printf ("SELECT count (*) FROM %s", empty[i]);
      assert_i64_equal (sw_test_ask (bed.catalogue, sql), 0);
    }
  sw_test_redo (bed.catalogue, "table.csv booked (6 rows)");
  g_autofree char *again = sw_test_takings (bed.catalogue, SW_CREDIT_FOUND, SW_BY_TRIP, &total);
  assert_string_equal (again, "1 22000 1730 0 22000");
}

static void
test_same_table_again (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, HILL PRESS, NULL);
  g_autofree char *before = sw_test_dump (bed.catalogue);
  g_auto (SwBookReport) report = { 0 };
  sw_test_book (bed.catalogue, HILL PRESS, &report);
  assert_int_equal (report.rows, 5);
  assert_int_equal (report.already, 5);
  assert_int_equal (report.booked, 0);
  g_autofree char *after = sw_test_dump (bed.catalogue);
  assert_string_equal (after, before);
}

/* A table that grew: what is there is passed over, however it is written; two equal payments are
 * two. */
static void
test_table_that_grew (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, HILL PRESS "payment|ref=A1|at=2026-05-01|amount=50\n", NULL);
  g_auto (SwBookReport) report = { 0 };
  sw_test_book (
      bed.catalogue,
      HILL PRESS
      "payment|ref=A1|at=2026-05-01|amount=50.00\npayment|ref=A1|at=2026-05-01|amount=50.0\n",
      &report);
  assert_int_equal (report.already, 6);
  assert_int_equal (report.booked, 1);
  SwTakingsRow total;
  g_autofree char *text = sw_test_takings (bed.catalogue, SW_CREDIT_FOUND, SW_BY_TRIP, &total);
  assert_string_equal (text, "1 20000 1730 0 10000");
}

/* Weights of a split stand when its result is booked: a fee months later is split by them. */
static void
test_weights_stay (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, "sale|ref=L|item=Screw press + Crates|at=2026-04-20|amount=40\n",
                NULL);
  SwMoney asking = sw_money (10);
  SwItemChange change = { .asking = &asking };
  g_autoptr (GError) error = NULL;
  sw_item_change (bed.catalogue, 1, &change, &error);
  assert_no_error (error);
  sw_test_book (
      bed.catalogue,
      "fee|ref=L|charge=cartage|at=2026-06-01|amount=4\npayment|ref=L|at=2026-06-01|amount=20\n",
      NULL);
  SwTakingsRow total;
  g_autofree char *text = sw_test_takings (bed.catalogue, SW_CREDIT_FOUND, SW_BY_PLACE, &total);
  assert_string_equal (text, "Packing shed 1000 100 0 500 | Press house 3000 300 0 1500");
  assert_sound (bed.catalogue);
}

typedef struct
{
  const char *label;
  SwClaim claim;
  gboolean never_offer;
  const char *says;
} BlockedRow;

static const BlockedRow blocked_rows[] = {
  { "asked of somebody", SW_CLAIM_OPEN, FALSE,
    "line 2: Ladder became Sold although whether an aunt wants it is still open." },
  { "claimed", SW_CLAIM_MINE, FALSE,
    "line 2: Ladder became Sold although an aunt has claimed it." },
  { "never to be offered", SW_CLAIM_NONE, TRUE,
    "line 2: Ladder became Sold although it is marked never to be offered before it is cleared." },
  { "asked, and never to be offered", SW_CLAIM_OPEN, TRUE,
    "line 2: Ladder became Sold although whether an aunt wants it is still open, and it is marked "
    "never to be offered before it is cleared." },
  { "claimed, and never to be offered", SW_CLAIM_MINE, TRUE,
    "line 2: Ladder became Sold although an aunt has claimed it, and it is marked never to be "
    "offered before it is cleared." },
};

/* It happened all the same: the books take it, and say what stood against it. */
static void
test_blocked_items_are_remarked (void **state)
{
  const BlockedRow *row = *state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  SwItemChange change = { .never_offer = &row->never_offer };
  g_autoptr (GError) error = NULL;
  if (row->claim != SW_CLAIM_NONE)
    {
      change.claim = &row->claim;
      change.claim_by = "an aunt";
    }
  sw_item_change (bed.catalogue, 5, &change, &error);
  assert_no_error (error);
  g_auto (SwBookReport) report = { 0 };
  sw_test_book (bed.catalogue, "sale|ref=S|item=Ladder|at=2026-04-20|amount=40\n", &report);
  assert_int_equal (report.remarks->len, 1);
  assert_string_equal (g_ptr_array_index (report.remarks, 0), row->says);
}

/* Two outlets sold one thing: both sales are booked, and one is to fall through. */
static void
test_sold_twice_is_remarked (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_auto (SwBookReport) report = { 0 };
  sw_test_book (bed.catalogue,
                HILL YARD PRESS "offer|ref=B1|outlet=Yard|item=Screw press|up=2026-04-14\n"
                                "result|ref=B1|at=2026-04-27|result=sold|amount=210.00\n",
                &report);
  assert_int_equal (report.remarks->len, 1);
  assert_contains (g_ptr_array_index (report.remarks, 0),
                   "Screw press is sold already; one of the two sales has to fall through.");
}

static void
test_end_of_no_charge_is_remarked (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_auto (SwBookReport) report = { 0 };
  sw_test_book (bed.catalogue, YARD "charge|outlet=Yard|charge=a|from=2026-01-01\n", &report);
  assert_int_equal (report.remarks->len, 1);
  assert_contains (g_ptr_array_index (report.remarks, 0), "line 3: the charge ‘a’");
}

/* What a person wrote beside a row is not lost: it stands in the history. */
static void
test_remarks_are_kept (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  static const char table[] = HILL PRESS "reversal|ref=A1|at=2026-05-20|remark=never paid\n";
  sw_test_book (bed.catalogue, table, NULL);
  assert_i64_equal (sw_test_ask (bed.catalogue,
                                 "SELECT count (*) FROM event WHERE sentence LIKE '%(never paid)'"),
                    1);
  g_auto (SwBookReport) report = { 0 };
  sw_test_book (bed.catalogue, HILL PRESS "reversal|ref=A1|at=2026-05-20|remark=at all\n", &report);
  assert_int_equal (report.already, 6);
}

static void
test_other_columns_are_remarked (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  static const char table[]
      = "what,at,amount,mood,result,remark\ncost,2026-04-20,5,glad,sold,diesel\n";
  g_autoptr (GBytes) bytes = g_bytes_new_static (table, sizeof table - 1);
  g_autoptr (GError) error = NULL;
  g_auto (SwBookReport) report = { 0 };
  assert_true (sw_book_bytes (bed.catalogue, bytes, "table.csv", &report, &error));
  assert_int_equal (report.remarks->len, 2);
  assert_contains (g_ptr_array_index (report.remarks, 0), "line 1: the column ‘mood’");
  assert_contains (g_ptr_array_index (report.remarks, 1), "line 2: ");
}

/* The example of the help, with the sums that the help gives. */
static void
test_example (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  static const SwTestItem more[] = { { "Press cloths", "Press house", 1, 1, 2000, NULL },
                                     { "Straining hoop", "Press house", 1, 1, 1000, NULL },
                                     { "Apple ladder", "Packing shed", 1, 1, 3000, NULL } };
  for (gsize i = 0; i < G_N_ELEMENTS (more); i++)
    sw_test_add_item (bed.catalogue, &more[i]);
  g_autofree char *path = g_build_filename (bed.folder, "example.csv", NULL);
  assert_true (g_file_set_contents (path, sw_book_example (), -1, NULL));
  g_autoptr (GError) error = NULL;
  g_auto (SwBookReport) report = { 0 };
  sw_book_file (bed.catalogue, path, &report, &error);
  assert_no_error (error);
  assert_int_equal (report.remarks->len, 0);
  SwTakingsRow total;
  g_autofree char *text = sw_test_takings (bed.catalogue, SW_CREDIT_FOUND, SW_BY_TRIP, &total);
  assert_string_equal (text, "1 67500 6360 0 7500 | none 0 0 4820 0");
  assert_contains (sw_book_help_text (), sw_book_example ());
  assert_contains (sw_book_help_text (), "takings 611.40");
}

/* Each row kind, and each column, stands in the help. */
static void
test_help_is_complete (void **state)
{
  for (int i = 0; i < SW_N_ROW_KINDS; i++)
    {
      g_autofree char *line = g_strdup_printf ("\n%s ", sw_row_kind_word ((SwRowKind)i));
      assert_contains (sw_book_help_text (), line);
    }
  for (int i = 0; i < SW_N_COLUMNS; i++)
    assert_contains (sw_book_help_text (), sw_column_name ((SwColumn)i));
}

static void
assert_takings (SwCatalogue *catalogue, const char *expected)
{
  SwTakingsRow total;
  g_autofree char *text = sw_test_takings (catalogue, SW_CREDIT_FOUND, SW_BY_PLACE, &total);
  assert_string_equal (text, expected);
}

/* The fee of an offer that ended earlier changes with the act that enters the other one: its own
 * history says why, and undo takes both back. */
static void
test_free_offers_undo (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, FREE_SCALES, NULL);
  assert_takings (bed.catalogue, "");
  sw_test_book (bed.catalogue, FREE_LADDER, NULL);
  assert_takings (bed.catalogue, "Packing shed > Loft 0 100 0 0");
  assert_i64_equal (sw_test_ask (bed.catalogue,
                                 "SELECT count (*) FROM event WHERE verb = 'offer.fee' AND"
                                 " sentence LIKE 'A: listing is due%'"),
                    1);
  assert_true (sw_undo (bed.catalogue, NULL, &error));
  assert_no_error (error);
  assert_takings (bed.catalogue, "");
  assert_sound (bed.catalogue);
  assert_true (sw_redo (bed.catalogue, NULL, &error));
  assert_no_error (error);
  assert_takings (bed.catalogue, "Packing shed > Loft 0 100 0 0");
  assert_sound (bed.catalogue);
}

/* A catalogue from before the free offers were kept: what was waived then stays free, and counts.
 */
static void
test_free_offers_of_older_catalogue (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue,
                FREE_SCALES FREE_LADDER "result|ref=B|at=2026-05-02|result=no sale\n", NULL);
  sw_test_exec (bed.catalogue, "ALTER TABLE photo_cut DROP COLUMN beside;"
                               "DROP TABLE paid_back;"
                               "DROP INDEX fee_computed_free;"
                               "DELETE FROM fee_computed WHERE due = 0 OR waived = 1;"
                               "ALTER TABLE fee_computed DROP COLUMN due;"
                               "ALTER TABLE fee_computed DROP COLUMN waived;"
                               "ALTER TABLE fee_computed DROP COLUMN free_offers;"
                               "PRAGMA user_version = 23");
  sw_test_reopen (&bed);
  assert_takings (bed.catalogue, "Packing shed > Loft 0 100 0 0");
  assert_sound (bed.catalogue);
  sw_test_book (bed.catalogue,
                "offer|ref=C|outlet=Shop|item=Vat|up=2026-04-01|closes=2026-04-19T21:00\n"
                "result|ref=C|at=2026-05-02|result=no sale\n",
                NULL);
  assert_takings (bed.catalogue, "Packing shed > Loft 0 100 0 0 | Press house 0 100 0 0");
  assert_sound (bed.catalogue);
}

static void
test_wrong_free_offers_are_found (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, FREE_SCALES, NULL);
  sw_test_exec (bed.catalogue, "UPDATE fee_computed SET amount = 0, waived = 0");
  g_auto (SwCheckReport) report = { 0 };
  g_autoptr (GError) error = NULL;
  sw_check_run (bed.catalogue, NULL, &report, &error);
  assert_no_error (error);
  assert_int_equal (report.faults->len, 1);
  assert_contains (g_ptr_array_index (report.faults, 0), "Shop");
}

static void
check_damage (const char *damage)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, HILL PRESS, NULL);
  assert_sound (bed.catalogue);
  sw_test_exec (bed.catalogue, damage);
  g_auto (SwCheckReport) report = { 0 };
  g_autoptr (GError) error = NULL;
  sw_check_run (bed.catalogue, NULL, &report, &error);
  assert_no_error (error);
  assert_int_equal (report.faults->len, 1);
  assert_contains (g_ptr_array_index (report.faults, 0), "A1");
}

static void
test_damaged_sums_are_found (void **state)
{
  check_damage ("UPDATE posting SET minor = minor + 1 WHERE kind = 0");
  check_damage ("DELETE FROM deal_item");
}

int
main (void)
{
  sw_takings_register_check ();
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, test_rule, rows);
  SW_TEST (tests, test_undo);
  SW_TEST (tests, test_same_table_again);
  SW_TEST (tests, test_table_that_grew);
  SW_TEST (tests, test_weights_stay);
  SW_TEST_ROWS (tests, test_blocked_items_are_remarked, blocked_rows);
  SW_TEST (tests, test_sold_twice_is_remarked);
  SW_TEST (tests, test_end_of_no_charge_is_remarked);
  SW_TEST (tests, test_remarks_are_kept);
  SW_TEST (tests, test_other_columns_are_remarked);
  SW_TEST (tests, test_example);
  SW_TEST (tests, test_help_is_complete);
  SW_TEST (tests, test_free_offers_undo);
  SW_TEST (tests, test_free_offers_of_older_catalogue);
  SW_TEST (tests, test_wrong_free_offers_are_found);
  SW_TEST (tests, test_damaged_sums_are_found);
  int failures = sw_tests_run (tests, "book");
  sw_test_property_end ();
  return failures;
}
