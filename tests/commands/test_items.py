# SPDX-License-Identifier: GPL-3.0-or-later
"""items, item add, item set, item move: the steps, their refusals, bad input."""
import unittest

from shed import ShedTest, run


class Items(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()

    def test_fields(self):
        number = self.add_item("Screw press", "Packing shed > Loft", "--count", "3", "--asking", "120.50")
        self.assertEqual(self.item(number), {
            "number": number, "name": "Screw press", "place": "Packing shed > Loft", "state": "Found",
            "count": 3, "asking": 12050, "trip": 1, "photos": []})

    def test_lists(self):
        self.add_item("Screw press")
        self.add_item("Crates", "Packing shed > Loft")
        self.assertEqual([i["name"] for i in self.items("--place", "Packing shed")], ["Crates"])
        self.assertEqual(self.items("--state", "Sold"), [])
        self.bad(1, "items", self.catalogue, "--place", "Cold store", says="Cold store")
        self.bad(1, "items", self.catalogue, "--state", "Lost", says="Found")

    def test_unknown_things(self):
        self.bad(1, "item", "add", self.catalogue, "Vat", "--place", "Cellar", "--trip", "1", says="Cellar")
        self.bad(1, "item", "add", self.catalogue, "Vat", "--place", "Press house", "--trip", "9", says="9")
        self.bad(1, "item", "set", self.catalogue, "77", "--name", "Vat", says="77")
        self.bad(1, "item", "move", self.catalogue, "Nothing", "Kept")

    def test_steps(self):
        number = str(self.add_item("Screw press"))
        self.bad(1, "item", "move", self.catalogue, number, "Ready", says="price")
        self.good("item", "set", self.catalogue, number, "--asking", "80")
        self.good("item", "move", self.catalogue, number, "Ready")
        self.good("item", "move", self.catalogue, number, "Ready")
        for state in ("On offer", "Sold", "No sale", "Handed over", "Scrapped"):
            self.bad(1, "item", "move", self.catalogue, number, state)
        self.bad(1, "item", "move", self.catalogue, number, "At home", says="Kept")
        self.bad(1, "item", "move", self.catalogue, number, "On hold")
        self.good("item", "move", self.catalogue, number, "On hold", "--date", "2026-04-20",
                  "--until", "2026-05-01", "--for", "A neighbour")
        self.good("item", "move", self.catalogue, number, "Kept")
        self.bad(1, "item", "move", self.catalogue, number, "Found")

    def test_claims_block(self):
        number = str(self.add_item("Still", "Press house", "--asking", "300"))
        self.good("item", "set", self.catalogue, number, "--claim", "open", "--by", "Aunt")
        self.bad(1, "item", "move", self.catalogue, number, "Ready")
        self.bad(1, "item", "move", self.catalogue, number, "Given away")
        self.good("item", "set", self.catalogue, number, "--claim", "none")
        self.good("item", "move", self.catalogue, number, "Ready")
        self.good("item", "set", self.catalogue, number, "--never-offer")
        self.bad(1, "item", "move", self.catalogue, number, "Given away")
        self.good("item", "set", self.catalogue, number, "--cleared")
        self.good("item", "move", self.catalogue, number, "Given away")

    def test_part_of_a_count(self):
        number = self.add_item("Crates", "Press house", "--count", "3", "--asking", "100.00")
        out = self.good("item", "move", self.catalogue, str(number), "Kept", "--count", "1", "--json").json()
        self.assertNotEqual(out["number"], number)
        self.assertEqual((out["count"], out["asking"], out["state"]), (1, 3333, "Kept"))
        rest = self.item(number)
        self.assertEqual((rest["count"], rest["asking"], rest["state"]), (2, 6667, "Found"))
        self.bad(1, "item", "move", self.catalogue, str(number), "Kept", "--count", "5")
        self.good("undo", self.catalogue)
        self.assertEqual(self.item(number)["count"], 3)

    def test_bad_money(self):
        number = str(self.add_item("Vat"))
        for money in ("1.234", "-1", "1,50", "abc", "99999999999999999999", "", "1e3", "0x10", "٣"):
            with self.subTest(money):
                self.bad(1, "item", "set", self.catalogue, number, "--asking=" + money)
        self.assertIsNone(self.item(int(number))["asking"])

    def test_names(self):
        for name in ("Press \"A\" 'B'", "Apfelmühle 🍎", "n" * 255, "=1+1", "; DROP TABLE item"):
            with self.subTest(name):
                self.assertEqual(self.item(self.add_item(name))["name"], name)
        for name in ("", "   ", "two\nlines", "esc\x1b[31m", "n" * 1_00_000, b"bad\xffbytes"):
            with self.subTest(name=name[:20]):
                self.bad(1, "item", "add", self.catalogue, name, "--place", "Press house", "--trip", "1")

    def test_same_name_needs_the_number(self):
        first = self.add_item("Barrel")
        second = self.add_item("Barrel", "Packing shed > Loft")
        result = self.bad(1, "item", "set", self.catalogue, "Barrel", "--count", "2")
        self.assertIn(str(first), result.err)
        self.assertIn(str(second), result.err)


class Currencies(ShedTest):
    currency = "JPY"
    zone = "Asia/Tokyo"

    def test_no_decimals(self):
        self.add_property()
        number = self.add_item("Vat", "Press house", "--asking", "1200")
        self.assertEqual(self.item(number)["asking"], 1200)
        self.bad(1, "item", "set", self.catalogue, str(number), "--asking", "1200.5")
        self.assertIn(" 1200 ", run("items", self.catalogue).out)


if __name__ == "__main__":
    unittest.main()
