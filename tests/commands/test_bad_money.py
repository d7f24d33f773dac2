# SPDX-License-Identifier: GPL-3.0-or-later
"""Bad input about money by command: each refused or marked with a sentence that says what to do."""
import unittest

from money_tables import HALL, SALES, MoneyRules


class BadInput(MoneyRules):
    def charge(self, tiers):
        return ("outlet,,Hall,,,,,,,,,,,", f"charge,,Hall,,2026-01-01,x,price,,{tiers},,,,,")

    def test_terms(self):
        self.refused("more than the whole", *self.charge(":110%"))
        self.refused("does not lie above the tier before it", *self.charge("100:10%;50:5%;:1%"))

    def test_terms_that_begin_tomorrow(self):
        """Entered early they wait for their day: an offer put up before it is charged by the old ones."""
        self.book(*HALL, "charge,,Hall,,2026-05-01,commission,price,,:50%,,,,,",
                  "offer,A1,Hall,Press,,,,,,2026-04-30,2026-05-10T20:00,,,", "result,A1,,,,,,,,,,2026-05-10,sold,100.00",
                  "offer,A2,Hall,Scales,,,,,,2026-05-01,2026-05-10T20:00,,,", "result,A2,,,,,,,,,,2026-05-10,sold,100.00")
        self.assertEqual(self.total()["fees"], 200 + 1000 + 200 + 5000)

    def test_results(self):
        up, sold = SALES[0], SALES[1]
        self.refused("with its result stands on line", *HALL, up, sold, "result,A1,,,,,,,,,,2026-05-02,no sale,")
        self.book(*HALL, up, sold, "reversal,A1,,,,,,,,,,2026-05-03,,")
        self.refused("‘A1’ is booked already", "result,A1,,,,,,,,,,2026-05-04,no sale,")
        self.refused("‘A1’ fell through already", "reversal,A1,,,,,,,,,,2026-05-05,,")

    def test_more_sold_than_there_is(self):
        self.add_item("Jars", "Press house", "--count", "3")
        head = "what,ref,item,count,at,amount"
        self.refused("Of Jars only 1 are left", "sale,S1,Jars,2,2026-05-01,5", "sale,S2,Jars,2,2026-05-02,5", head=head)

    def test_dates_in_another_zone(self):
        """Closing night at Hall's own clock: the day in the property's zone counts."""
        self.book(*HALL, SALES[0], "result,A1,,,,,,,,,,2026-04-30T22:00-10:00,sold,80.00")
        self.assertEqual([r["key"] for r in self.takings("--credit", "sold", "--by", "month")["rows"]], ["2026-05"])

    def test_clocks_that_change_in_the_night(self):
        """2026-04-05 03:00 clocks go back in New Zealand, 2026-09-27 02:00 forward (IANA tz database 2025b, zdump)."""
        def put_up(ref, item, up, closes):
            return f"offer,{ref},Hall,{item},,,,,,{up},{closes},,,"

        out = self.book(*HALL, put_up("A1", "Press", "2026-03-20", "2026-04-05T02:30"),
                        put_up("A2", "Crates", "2026-03-20", "2026-04-05T02:30+12:00"))
        self.assertIn("2026-04-05T02:30 happens twice", out)
        self.assertEqual(out.count("Remark"), 1)
        out = self.book(put_up("A3", "Scales", "2026-09-20", "2026-09-27T02:30"))
        self.assertIn("2026-09-27T02:30 never happens", out)
        self.assertIn("2026-09-27T03:30:00+13:00 is taken", out)

    def test_masses(self):
        head = "what,ref,outlet,at,gross,tare,class,net,rate"
        docket = ("outlet,,Hall,,,,,,",)
        self.refused("The tare", *docket, "docket,D1,Hall,2026-05-04,100,160,,,", head=head)
        self.refused("Gross less tare is 60 kg", *docket, "docket,D1,Hall,2026-05-04,160,100,,,",
                     "docket line,D1,,,,,steel,59,1", head=head)
        self.refused("A line of 0 kg of steel", *docket, "docket,D1,Hall,2026-05-04,100,100,,,",
                     "docket line,D1,,,,,steel,0,1", head=head)
        self.good("item", "set", self.catalogue, "Press", "--mass", "0 kg", "--scrap-class", "steel")
        self.good("item", "move", self.catalogue, "Press", "For scrap")
        self.assertIn("without a mass", self.good("scrap", self.catalogue).out)

    def test_sums_that_overflow(self):
        self.refused("grows too large", "sale,S1,,Press,,,,,,,,2026-05-01,,92233720368547758.07",
                     "sale,S2,,Crates,,,,,,,,2026-05-01,,0.01")

    def test_statements(self):
        self.book(*HALL, *SALES[:2], "outlet,,Shop,,,,,,,,,,,")
        path = self.path("statement.csv")
        with open(path, "w", encoding="utf-8") as out:
            out.write("Lot,Day,Price,Fees\nA1,2026-05-02,100.01,12.00\n")
        words = ("--reference", "Lot", "--day", "Day", "--price", "Price", "--fees", "Fees", "--book", "--json")
        self.bad(1, "statement", self.catalogue, "Shop", path, *words, says="another outlet's statement")
        once = self.good("statement", self.catalogue, "Hall", path, *words).json()
        again = self.good("statement", self.catalogue, "Hall", path, *words).json()
        self.assertEqual((once["entered"], again["entered"]), (1, 0))
        # half of it: what it does not list is said
        self.book("offer,A2,Hall,Scales,,,,,,2026-04-20,2026-05-02T20:00,,,", "result,A2,,,,,,,,,,2026-05-02,sold,9.00")
        self.assertEqual(self.good("statement", self.catalogue, "Hall", path, *words).json()["missing"], ["A2"])


if __name__ == "__main__":
    unittest.main()
