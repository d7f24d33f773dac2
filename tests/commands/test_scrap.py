# SPDX-License-Identifier: GPL-3.0-or-later
"""Scrap by command: rates at the gate and fetched, the load planned, the growing pile, dockets, raised against scrap."""
import unittest

from shed import ShedTest


class Scrap(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        self.book("what,outlet,kind", "outlet,Mill Lane yard,scrap yard", "outlet,Far yard,scrap yard")

    def book(self, *lines):
        path = self.path("table.csv")
        with open(path, "w", encoding="utf-8") as out:
            out.write("\n".join(lines) + "\n")
        self.good("book", self.catalogue, path)

    def rate(self, yard, scrap_class, money, *more):
        self.good("yard", "rate", self.catalogue, yard, scrap_class, money, *more)

    def scrap(self, *more):
        return self.good("scrap", self.catalogue, "--json", *more).json()

    def marked(self, name, mass, scrap_class="cast iron", *more):
        number = self.add_item(name, *more)
        words = ["--mass", mass] if mass else []
        self.good("item", "set", self.catalogue, str(number), "--scrap-class", scrap_class, *words)
        self.good("item", "move", self.catalogue, str(number), "For scrap")
        return number

    def test_a_growing_pile(self):
        self.rate("Mill Lane yard", "cast iron", "180.00", "--from", "2026-01-01")
        self.rate("Mill Lane yard", "cast iron", "150.00", "--from", "2026-01-01", "--fetched-from", "2 t")
        self.rate("Mill Lane yard", "light steel", "60.00", "--from", "2026-01-01", "--fetched-from", "2 t")
        self.marked("Old press bed", "900 kg")
        row = self.scrap()["classes"][0]
        # 900 kg at 180.00 = 162.00; fetched at 150.00 = 135.00
        self.assertEqual((row["at_gate"], row["fetched"], row["lacking_g"]), (16200, 13500, 1100000))
        self.assertIn("1100 kg more are needed", self.good("scrap", self.catalogue).out)
        # what the yard would fetch at one go counts together
        self.marked("Roof sheets", "1100 kg", "light steel")
        rows = {r["class"]: r for r in self.scrap()["classes"]}
        self.assertEqual([r["lacking_g"] for r in rows.values()], [0, 0])
        self.assertIsNone(rows["light steel"]["at_gate"])
        self.assertIn("Enough to have it collected by Mill Lane yard.", self.good("scrap", self.catalogue).out)
        # a yard that pays more but has not enough to come for does not win
        self.rate("Far yard", "cast iron", "170.00", "--from", "2026-01-01", "--fetched-from", "5 t")
        rows = {r["class"]: r for r in self.scrap()["classes"]}
        self.assertEqual((rows["cast iron"]["fetched_by"], rows["cast iron"]["fetched"]), ("Mill Lane yard", 13500))
        self.good("undo", self.catalogue)
        self.good("check", self.catalogue)

    def test_floors_below_zero(self):
        self.rate("Mill Lane yard", "light steel", "60.00", "--from", "2026-01-01")
        self.marked("Roof sheets", "300 kg", "light steel")
        self.marked("Old tank", None, "light steel")
        self.assertEqual(self.scrap()["at_gate"], 1800)
        # 150.00 for half a tonne: 90.00 for these 300 kg, more than the 18.00 they bring
        self.good("yard", "load", self.catalogue, "500 kg", "150.00")
        document = self.scrap()
        self.assertEqual((document["at_gate"], document["unvalued"]), (-7200, 1))
        out = self.good("scrap", self.catalogue).out
        self.assertIn("-72.00 at the gate", out)
        self.assertIn("1 of them without a mass", out)

    def test_a_place(self):
        self.rate("Mill Lane yard", "cast iron", "200.00", "--from", "2026-01-01")
        number = self.add_item("Mangle", "Packing shed > Loft")
        self.good("item", "set", self.catalogue, str(number), "--scrap-class", "cast iron", "--mass", "50 kg")
        self.assertEqual(self.scrap()["things"], 0)
        self.assertEqual(self.scrap("--place", "Packing shed")["at_gate"], 1000)
        self.assertEqual(self.scrap("--place", "Press house")["things"], 0)
        self.bad(1, "scrap", self.catalogue, "--place", "Moon")

    def test_raised_against_scrap(self):
        self.rate("Mill Lane yard", "cast iron", "187.50", "--from", "2026-01-01")
        number = self.add_item("Castings", "Press house", "--count", "12")
        self.good("item", "set", self.catalogue, str(number), "--scrap-class", "cast iron", "--mass", "480 kg")
        self.book("what,ref,item,at,amount", "sale,S1,Castings,2026-05-02,100.00")
        # 480 kg at 187.50 a tonne are 90.00
        sums = self.scrap()["raised_against_scrap"]
        self.assertEqual((sums["things"], sums["raised"], sums["scrap"], sums["more"]), (1, 10000, 9000, 1000))
        self.assertIn("as scrap they would have brought 90.00, so 10.00 more", self.good("scrap", self.catalogue).out)

    def test_a_docket(self):
        """A line by item, one refused by the yard (no net), a class downgraded (its own, lower rate), loose scrap."""
        for name, mass in (("Boiler", "400 kg"), ("Pump", "100 kg"), ("Tank", "60 kg")):
            self.marked(name, mass, "heavy steel")
        self.book("what,ref,outlet,at,gross,tare,class,net,rate,item,place",
                  "docket,D1,Mill Lane yard,2026-05-04,1500,930,,,,,",
                  "docket line,D1,,,,,heavy steel,410,180.00,Boiler,",
                  "docket line,D1,,,,,light steel,100,60.00,Pump,",
                  "docket line,D1,,,,,light steel,60,60.00,,Press house")
        # 73.80 + 6.00 + 3.60; the tank came back: it is still For scrap
        rows = self.good("takings", self.catalogue, "--json", "--by", "place").json()
        self.assertEqual(rows["total"]["takings"], 8340)
        self.assertEqual({i["name"]: i["state"] for i in self.items()},
                         {"Boiler": "Scrapped", "Pump": "Scrapped", "Tank": "For scrap"})
        self.assertEqual(self.scrap()["raised_against_scrap"]["as_scrap"], 8340)

    def test_what_costs_money_to_be_rid_of(self):
        out = self.good("yard", "rate", self.catalogue, "Mill Lane yard", "tyres", "120.00", "--charged", "--from", "2026-01-01").out
        self.assertIn("charges 120.00 a tonne of tyres", out)
        self.marked("Tyres", "60 kg", "tyres")
        self.assertEqual(self.scrap()["at_gate"], -720)
        # on the docket the line brings nothing and what was charged is a fee
        self.book("what,ref,outlet,at,gross,tare,class,net,rate,item,charge,amount",
                  "docket,D1,Mill Lane yard,2026-05-04,990,930,,,,,,",
                  "docket line,D1,,,,,tyres,60,0,Tyres,,",
                  "fee,D1,,2026-05-04,,,,,,,disposal,7.20")
        total = self.good("takings", self.catalogue, "--json").json()["total"]
        self.assertEqual((total["proceeds"], total["fees"], total["takings"]), (0, 720, -720))

    def test_dockets_that_do_not_add_up(self):
        head = "what,ref,outlet,at,gross,tare,class,net,rate"
        for lines, says in ((("docket,D1,Far yard,2026-05-04,100,160,,,",), "The tare"),
                            (("docket,D1,Far yard,2026-05-04,160,100,,,", "docket line,D1,,,,,steel,59,1"),
                             "Gross less tare is 60 kg"),
                            (("docket,D1,Far yard,2026-05-04,160,160,,,",), "has no lines")):
            path = self.path("bad.csv")
            with open(path, "w", encoding="utf-8") as out:
                out.write("\n".join((head, *lines)) + "\n")
            self.bad(1, "book", self.catalogue, path, says=says)
        self.assertEqual(self.good("takings", self.catalogue, "--json").json()["rows"], [])

    def test_refused(self):
        self.bad(1, "yard", "rate", self.catalogue, "No yard", "steel", "10", says="There is no outlet 'No yard'")
        self.bad(2, "yard", "rate", self.catalogue, "Far yard", "steel", "-10")
        self.bad(1, "yard", "rate", self.catalogue, "Far yard", "steel", "10", "--from", "2026-02-30")
        self.bad(1, "yard", "rate", self.catalogue, "Far yard", "steel", "10", "--fetched-from", "2 bags")
        self.bad(1, "yard", "load", self.catalogue, "0 kg", "10")
        self.bad(2, "yard", "load", self.catalogue)


if __name__ == "__main__":
    unittest.main()
