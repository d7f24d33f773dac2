# SPDX-License-Identifier: GPL-3.0-or-later
"""hand-out tables: items, sales and events, read back by python's csv and json."""
import csv
import json
import os
import unittest

from shed import ShedTest

FORMULA = "=HYPERLINK(\"x\"),'a'\t+1; \u00fc"


class TablesTest(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        self.press = self.add_item("Screw press", "Press house", "--asking", "240.50")
        self.odd = self.add_item(FORMULA.replace("\t", " "), "Packing shed > Loft", "--count", "3")
        with open(self.path("sale.csv"), "w", encoding="utf-8") as table:
            table.write("what,outlet,kind,item,ref,charge,on,flat,from,at,amount,buyer\n"
                        "outlet,Saleroom,auction,,,,,,,,,\n"
                        "charge,Saleroom,,,,Fee,sale,5.00,2026-01-01,,,\n"
                        f"sale,Saleroom,,{self.press},s1,,,,,2026-05-02,210.00,Mara Quill\n")
        self.good("book", self.catalogue, self.path("sale.csv"))

    def tables(self, *more, name="out"):
        self.good("hand-out", self.catalogue, "tables", "--to", self.path(name), *more)
        read = {}
        for table in ("items", "sales", "events"):
            with open(self.path(name, table + ".csv"), encoding="utf-8", newline="") as file:
                rows = list(csv.DictReader(file, strict=True))
            with open(self.path(name, table + ".json"), encoding="utf-8") as file:
                whole = json.load(file)
            read[table] = (rows, whole)
        return read

    def test_both_forms_say_the_same(self):
        for name, (rows, whole) in self.tables().items():
            self.assertEqual((whole["table"], whole["currency"], whole["minor_digits"]), (name, "NZD", 2))
            self.assertEqual(len(rows), len(whole["rows"]))
            self.assertGreater(len(rows), 0)
            for row, other in zip(rows, whole["rows"]):
                self.assertEqual(list(row), list(other))
                for column, value in other.items():
                    if value is None:
                        self.assertEqual(row[column], "")
                    elif column in ("asking", "reserve", "amount", "delivery", "fees", "paid", "taken_back", "owed"):
                        self.assertEqual(row[column], f"{value // 100}.{value % 100:02d}")
                    else:
                        self.assertEqual(row[column].lstrip("'"), str(value).lstrip("'"))

    def test_items_and_sales(self):
        read = self.tables()
        items = read["items"][1]["rows"]
        self.assertEqual([(i["number"], i["state"], i["count"], i["asking"]) for i in items],
                         [(self.press, "Sold", 1, 24050), (self.odd, "Found", 3, None)])
        (sale,) = read["sales"][1]["rows"]
        self.assertEqual((sale["ref"], sale["day"], sale["items"], sale["outlet"], sale["amount"], sale["fees"],
                          sale["owed"], sale["fell_through"]),
                         ("s1", "2026-05-02", "Screw press", "Saleroom", 21000, 500, 21000, 0))

    def test_formula_characters_are_inert(self):
        (_, odd) = self.tables()["items"][0]
        self.assertEqual(odd["name"], "'" + FORMULA.replace("\t", " "))
        with open(self.path("out", "items.csv"), "rb") as file:
            for line in file.read().split(b"\r\n"):
                self.assertNotIn(b",=", line)

    def test_buyers_only_where_asked_for(self):
        self.good("item", "move", self.catalogue, str(self.odd), "On hold", "--until", "2099-01-01", "--for", "Otto Vane")
        self.tables()
        for name in os.listdir(self.path("out")):
            with open(self.path("out", name), encoding="utf-8") as file:
                text = file.read()
            self.assertNotIn("Mara", text, name)
            self.assertNotIn("Otto", text, name)
        read = self.tables("--buyers", name="with")
        self.assertEqual(read["sales"][0][0]["buyer"], "Mara Quill")
        self.assertTrue(any("Otto Vane" in e["sentence"] for e in read["events"][0]))

    def test_targets(self):
        self.tables()
        self.bad(1, "hand-out", self.catalogue, "tables", "--to", self.path("out"), says="something at")
        self.bad(1, "hand-out", self.catalogue, "tables", "--to", os.path.join(self.catalogue, "out"),
                 says="inside the catalogue")
        self.bad(1, "hand-out", self.catalogue, "tables", "--to", self.path("no", "where", "out"))
        self.bad(1, "hand-out", self.catalogue, "tables", "--to", self.path("sale.csv"), says="something at")
        self.assertEqual(sorted(os.listdir(self.folder)), ["Orchard.shedwalk", "out", "sale.csv"])

    def test_an_empty_catalogue(self):
        other = self.path("Other.shedwalk")
        self.good("new", other, "--name", "Elsewhere", "--currency", "JPY", "--zone", self.zone)
        self.good("hand-out", other, "tables", "--to", self.path("none"))
        with open(self.path("none", "sales.json"), encoding="utf-8") as file:
            self.assertEqual(json.load(file), {"table": "sales", "currency": "JPY", "minor_digits": 0, "rows": []})


if __name__ == "__main__":
    unittest.main()
