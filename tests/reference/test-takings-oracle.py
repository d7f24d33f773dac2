#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Holds takings-oracle itself to published examples and to a book worked out by hand, so that it may judge others."""

import csv
import importlib.machinery
import importlib.util
import io
import os
import sys
import unittest
from fractions import Fraction

sys.dont_write_bytecode = True
loader = importlib.machinery.SourceFileLoader("oracle", os.path.join(os.path.dirname(os.path.abspath(__file__)), "takings-oracle"))
oracle = importlib.util.module_from_spec(importlib.util.spec_from_loader("oracle", loader))
loader.exec_module(oracle)

# HM Revenue and Customs, Stamp Duty Land Tax: residential property rates, from 1 April 2025.
SDLT = "125000:0%;250000:2%;925000:5%;1500000:10%;:12%"
# Internal Revenue Service, Rev. Proc. 2023-34 (2023), section 3.01, unmarried individuals; bands from memory.
IRS = "11600:10%;47150:12%;100525:22%;191950:24%;243725:32%;609350:35%;:37%"


class Published(unittest.TestCase):
    def test_marginal_tiers(self):
        for text, price, due in ((SDLT, 295000, 4750), (SDLT, 400000, 10000), (SDLT, 925000, 36250), (SDLT, 1500000, 93750),
                                 (IRS, 50000, 6053), (IRS, 191950, Fraction("39110.50")), (IRS, 609350, Fraction("183647.25"))):
            self.assertEqual(oracle.Book.tiered(text, price * 100, 100), due * 100, (price, due))

    def test_largest_remainder(self):
        # Electowiki, "Hamilton method": the census of 1790, 60 seats.
        states = [630560, 475327, 432879, 353523, 331589, 278514, 236841, 206236, 179570, 141822, 85533, 70835, 68705, 68446, 55540]
        self.assertEqual(oracle.share_out(60, states), [11, 8, 7, 6, 6, 5, 4, 3, 3, 2, 1, 1, 1, 1, 1])
        # COMAP, For All Practical Purposes, 10th ed. (2015), chapter 14, exercise 45.
        people = [5576330, 1387342, 3334241, 7512860, 310968]
        self.assertEqual(oracle.share_out(89, people), [27, 7, 16, 37, 2])
        self.assertEqual(oracle.share_out(90, people), [28, 7, 17, 37, 1])
        self.assertEqual(oracle.share_out(10000, [1, 1, 1]), [3334, 3333, 3333])
        self.assertEqual(oracle.share_out(-10000, [1, 1, 1]), [-3334, -3333, -3333])

    def test_rounding(self):
        # ISO 80000-1:2009, annex B, rules A and B, from memory.
        for tie, even, up in (("12.25", "12.2", "12.3"), ("12.35", "12.4", "12.4")):
            x = Fraction(tie) * 10
            self.assertEqual(oracle.round_half_even(x), Fraction(even) * 10)
            self.assertEqual(oracle.round_half_up(x), Fraction(up) * 10)


PROPERTY = {
    "zone": "Pacific/Auckland",
    "trips": [{"number": 1, "first": "2026-04-03", "last": "2026-04-06"}, {"number": 2, "first": "2026-06-19", "last": "2026-06-22"}],
    "items": [
        {"number": 1, "name": "Press", "place": "Press house", "trip": 1, "count": 1, "asking": "500.00", "mass": "240"},
        {"number": 2, "name": "Crates", "place": "Shed", "trip": 1, "count": 3, "asking": "10.00", "mass": "9"},
        {"number": 3, "name": "Jars", "place": "Shed", "trip": 2, "count": 1, "asking": None, "mass": "2"},
        {"number": 4, "name": "Boiler", "place": "Press house", "trip": 2, "count": 1, "asking": None, "mass": "410"},
    ],
}

# Worked by hand. A: press sold for 612.50: 500 at 10% + 112.50 at 4% = 54.50, tax 8.175 -> 8.18, in all 62.68; the
# first listing of the month is free. B: crates 1 of 3, not sold: listing 1.50 + 0.225 -> 1.73. C: press and jars
# after the fall-through, a lot by mass since the jars have no price: 100.01 as 240 to 2 is 99.183 + 0.8265 -> 99.18
# + 0.83; commission 10.001 -> 10.00 + tax 1.50 = 11.50 as 11.405 + 0.095 -> 11.40 + 0.10 (the greater remainder);
# listing free (June's first). D: the docket, 410 kg at 285.00 a tonne = 116.85, loose 12.50 of the shed.
BOOK = """what,ref,outlet,item,count,up,closes,at,result,amount,charge,on,flat,tiers,tax,free,from,net,rate,gross,tare,place
outlet,,Hall,,,,,,,,,,,,,,,,,,,
charge,,Hall,,,,,,,,listing,offer,1.50,,15%,1,2026-01-01,,,,,
charge,,Hall,,,,,,,,commission,price,,500:10%;:4%,15%,,2026-01-01,,,,,
offer,A,Hall,Press,,2026-05-03,2026-05-10T20:30,,,,,,,,,,,,,,,
result,A,,,,,,2026-05-10,sold,612.50,,,,,,,,,,,,
reversal,A,,,,,,2026-06-01,,,,,,,,,,,,,,
offer,B,Hall,Crates,1,2026-05-03,2026-05-10T20:32,,,,,,,,,,,,,,,
result,B,,,,,,2026-05-10,no sale,,,,,,,,,,,,,
offer,C,Hall,Press + Jars,,2026-06-20,2026-06-27T20:30,,,,,,,,,,,,,,,
result,C,,,,,,2026-06-27,sold,100.01,,,,,,,,,,,,
payment,C,,,,,,2026-06-28,,60.00,,,,,,,,,,,,
collected,C,,,,,,2026-07-02,,,,,,,,,,,,,,
docket,D,Hall,,,,,2026-04-20,,,,,,,,,,,,460,0,
docket line,D,,Boiler,,,,,,,,,,,,,,410,285.00,,,
docket line,D,,,,,,,,12.50,,,,,,,,50,,,,Shed
"""


class ByHand(unittest.TestCase):
    def setUp(self):
        self.prop = oracle.Property(PROPERTY)
        self.book = oracle.Book(self.prop, list(csv.DictReader(io.StringIO(BOOK), restval="")))

    def rows(self, credit, group):
        document = oracle.Takings(self.prop, self.book, credit, group).document()
        return {r["key"]: (r["proceeds"], r["fees"], r["owed"]) for r in document["rows"]}

    def test_found(self):
        # Trip 1: press 99.18 and loose scrap 12.50; fees 62.68 + 1.73 + 11.40. Trip 2: jars 0.83 and boiler 116.85.
        # Owed 40.01 as 240 to 2: 39.679 + 0.331 -> 39.68 + 0.33.
        self.assertEqual(self.rows("found", "trip"), {"1": (11168, 7581, 3968), "2": (11768, 10, 33)})

    def test_sold(self):
        self.assertEqual(self.rows("sold", "trip"), {"1": (12935, 6441, 0), "2": (10001, 1150, 4001)})

    def test_handed_over(self):
        # A was never collected: sale, reversal and fees wait; B is a fee without a sale.
        self.assertEqual(self.rows("handed-over", "trip"),
                         {"1": (12935, 173, 0), "2": (10001, 1150, 4001), "waiting": (0, 6268, 0)})

    def test_place(self):
        self.assertEqual(self.rows("found", "place"), {"Press house": (21603, 7408, 3968), "Shed": (1333, 183, 33)})

    def test_split(self):
        part = self.book.deals["B"].items[0]
        self.assertEqual((part.number, part.count, part.asking, part.mass), (5, 1, 333, 3 * 10 ** 9))
        self.assertEqual((self.prop.items[2].count, self.prop.items[2].asking), (2, 667))


if __name__ == "__main__":
    unittest.main()
