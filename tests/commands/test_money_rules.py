# SPDX-License-Identifier: GPL-3.0-or-later
"""Money by command: what holds of every table, and facts of the trade."""
import itertools
import os
import random
import shutil
import sqlite3
import unittest

from money_tables import HALL, SALES, MoneyRules

CREDITS = ("found", "sold", "handed-over")
GROUPINGS = ("trip", "place", "outlet", "month", "round")


class Properties(MoneyRules):
    def views(self):
        return {(c, b): self.takings("--credit", c, "--by", b) for c, b in itertools.product(CREDITS, GROUPINGS)}

    def test_order_of_rows_and_undo(self):
        """All on one day: whichever way the rows stand, every figure of every view is the same; undo takes it back."""
        self.book(*HALL, *SALES)
        first = self.views()
        self.assertEqual({str(view["total"]) for view in first.values()}, {str(first["found", "trip"]["total"])})
        shuffled = random.Random(7).sample(HALL + SALES, len(HALL + SALES))
        for rows in (reversed(HALL + SALES), shuffled):
            self.good("undo", self.catalogue)
            for credit in CREDITS:
                self.assertEqual(self.takings("--credit", credit)["rows"], [])
            self.book(*rows)
            self.assertEqual(self.views(), first)

    def test_free_offers_by_closing_time_whatever_the_order_of_entry(self):
        """Two offers a month are free. By closing time: Scales (1 April), Press and Crates at one time (Press has the lower
        number, so it is free and Crates is not), Vat last; whichever way they are put up and their results come."""
        self.add_item("Vat", "Press house", "--asking", "50")
        self.book("outlet,Shop,,,,,", "charge,Shop,2026-01-01,listing,offer,1.00,2", head="what,outlet,from,charge,on,flat,free")
        bare = self.path("Bare.shedwalk")
        os.rename(self.catalogue, bare)
        closes = {"Press": "2026-04-20T20:00", "Crates": "2026-04-20T20:00", "Scales": "2026-04-01T09:00", "Vat": "2026-04-30T23:59"}
        for seed in range(4):
            shutil.copytree(bare, self.catalogue)
            chance = random.Random(seed)
            for item in chance.sample(sorted(closes), len(closes)):
                self.book(f"offer,{item[0]},Shop,{item},,,,,,2026-03-28,{closes[item]},,,")
            for item in chance.sample(sorted(closes), len(closes)):
                self.book(f"result,{item[0]},,,,,,,,,,2026-05-02,no sale,")
            with self.subTest(seed=seed):
                self.assertEqual(self.fees(), {"C": 100, "V": 100})
            shutil.rmtree(self.catalogue)
        os.rename(bare, self.catalogue)

    def fees(self):
        """What fell on each offer that paid anything."""
        with sqlite3.connect(f"file:{self.catalogue}/catalogue.db?mode=ro", uri=True) as base:
            return dict(base.execute("SELECT d.ref, sum(p.minor) FROM posting p JOIN deal d ON d.id = p.deal"
                                     " WHERE p.kind = 3 GROUP BY d.ref HAVING sum(p.minor) <> 0"))

    def test_a_sale_and_its_reversal_leave_the_fees(self):
        self.book(*HALL, *SALES[:2])
        # listing 2.00, commission 10.001
        self.assertEqual(self.total()["fees"], 1200)
        self.book("reversal,A1,,,,,,,,,,2026-05-09,,")
        for view in self.views().values():
            total = view["total"]
            self.assertEqual((total["proceeds"], total["fees"], total["takings"], total["owed"]), (0, 1200, -1200, 0))
        # the outlet gives the commission back
        self.book("fee,A1,,,,commission,,,,,,2026-05-10,,0.00")
        self.assertEqual(self.total()["takings"], -200)
        self.assertEqual({i["name"]: i["state"] for i in self.items()},
                         {"Press": "No sale", "Crates": "No sale", "Scales": "Found"})


class Trade(MoneyRules):
    """Common practice, no source."""

    def test_a_local_classified_takes_no_fee(self):
        self.book("outlet,Local paper,priced ad", head="what,outlet,kind")
        self.book("offer,A1,Local paper,Press,,,,,,2026-04-20,,,,", "result,A1,,,,,,,,,,2026-05-01,sold,80.00")
        self.assertEqual((self.total()["fees"], self.total()["takings"]), (0, 8000))

    def test_bids_grow_with_the_price_standing(self):
        self.book(*HALL, SALES[0])
        self.book("interest,A1,2026-05-01T19:00,40,3,4,55.00", "interest,A1,2026-05-01T19:50,90,5,9,55.00",
                  head="what,ref,at,looks,followers,bids,amount")

    def test_sold_elsewhere(self):
        """In two outlets at once: sold in one, withdrawn in the other; no fee of a sale arises there."""
        self.book(*HALL, SALES[0], "outlet,,Shop,,,,,,,,,,,", "offer,B1,Shop,Press,,,,,,2026-04-21,,,,",
                  "result,B1,,,,,,,,,,2026-04-25,sold,70.00", "result,A1,,,,,,,,,,2026-04-26,withdrawn,")
        self.assertEqual((self.total()["proceeds"], self.total()["fees"]), (7000, 200))
        self.assertEqual({i["name"]: i["state"] for i in self.items()},
                         {"Press": "Sold", "Crates": "Ready", "Scales": "Found"})

    def test_taken_back_by_hand(self):
        self.book(*HALL, SALES[0])
        self.good("item", "move", self.catalogue, "Press", "Ready", "--date", "2026-04-25")
        self.assertEqual({i["name"]: i["state"] for i in self.items()},
                         {"Press": "Ready", "Crates": "Ready", "Scales": "Found"})
        self.assertEqual(self.total()["fees"], 200)
        self.good("undo", self.catalogue)
        self.assertEqual({i["state"] for i in self.items()}, {"On offer", "Found"})
        self.assertEqual(self.total()["fees"], 0)
        self.good("check", self.catalogue)

    def test_rounds_side_by_side(self):
        self.book(*HALL, *SALES[:2], "offer,A2,Hall,Scales,,,,,,2026-05-20,2026-06-01T20:00,,,",
                  "result,A2,,,,,,,,,,2026-06-01,no sale,")
        self.good("round", self.catalogue, "Spring", "A1")
        self.good("round", self.catalogue, "Summer", "A2")
        rounds = self.good("rounds", self.catalogue, "--json").json()
        self.assertEqual([(r["round"], r["offered"], r["sold"], r["proceeds"], r["takings"]) for r in rounds],
                         [("Summer", 1, 0, 0, -200), ("Spring", 1, 1, 10001, 8801)])
        self.assertIn("88.01", self.good("rounds", self.catalogue).out)
        self.bad(1, "round", self.catalogue, "Autumn", "A1", "A9", says="There is no offer 'A9'")
        self.assertEqual(len(self.good("rounds", self.catalogue, "--json").json()), 2)

    def test_the_account(self):
        self.book(*SALES[3:6])
        self.good("share", self.catalogue, "Ina", "60")
        self.good("share", self.catalogue, "Per", "40")
        for kind, name, minor in (("advance", "Per", "4.00"), ("cost", "Ina", "2.50"), ("holds", "Per", "35.00")):
            self.good("account", "entry", self.catalogue, kind, name, minor)
        told = self.good("account", self.catalogue, "--json").json()
        # 60 % of 35.00 and 2.50; 40 % less 4.00
        self.assertEqual([(r["person"], r["due"], r["holds"]) for r in told["rows"]], [("Ina", 2350, 0), ("Per", 1000, 3500)])
        self.bad(2, "account", "entry", self.catalogue, "gift", "Ina", "1", says="KIND is advance")
        self.bad(1, "account", "entry", self.catalogue, "advance", "Ina", "much")


if __name__ == "__main__":
    unittest.main()
