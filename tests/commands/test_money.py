# SPDX-License-Identifier: GPL-3.0-or-later
"""book and takings by command: a worked example in cents, all or nothing, views that agree, bad tables."""
import csv
import itertools
import unittest

from shed import ShedTest, run, words_on

# Worked by hand. Terms: 2.50 an offer, 10 % to 500.00 and 4 % above, tax 20 % on each charge.
#   Screw press, sold at 640.00: charge 50.00 + 5.60 = 55.60, tax 11.12; offer 2.50 + 0.50: fees 69.72.
#   Crates, no sale: offer 2.50 + 0.50: fees 3.00.
#   Scales, sold in the yard: 35.00, no fee; no payment is booked, so they are owed with the press's 40.00.
TABLE = """what,ref,outlet,kind,from,charge,on,flat,tiers,tax,item,up,closes,at,result,amount,start
outlet,,Hill Road auction,auction,,,,,,,,,,,,,
charge,,Hill Road auction,,2026-01-01,listing,offer,2.50,,20%,,,,,,,
charge,,Hill Road auction,,2026-01-01,commission,price,,500:10%;:4%,20%,,,,,,,
offer,A1,Hill Road auction,,,,,,,,Screw press,2026-04-20,2026-05-01T20:00,,,,100
offer,A2,Hill Road auction,,,,,,,,Crates,2026-04-20,2026-05-01T20:05,,,,20
result,A1,,,,,,,,,,,,2026-05-01T20:00,sold,640,
result,A2,,,,,,,,,,,,2026-05-01T20:05,no sale,,
sale,B1,,,,,,,,,Scales,,,2026-05-02,,35,
payment,A1,,,,,,,,,,,,2026-05-03,,600,
"""


class Money(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        for name in ("Screw press", "Crates", "Scales"):
            self.add_item(name)

    def table(self, text, name="table.csv"):
        path = self.path(name)
        with open(path, "wb") as out:
            out.write(text if isinstance(text, bytes) else text.encode())
        return path

    def takings(self, *more):
        return self.good("takings", self.catalogue, "--json", *more).json()

    def test_worked_example(self):
        self.good("book", self.catalogue, self.table(TABLE))
        total = {"proceeds": 67500, "fees": 7272, "takings": 60228, "costs": 0, "owed": 7500}
        self.assertEqual(self.takings(), {"rows": [{"key": "1", **total}], "total": total})
        outlets = {r["key"]: (r["proceeds"], r["fees"]) for r in self.takings("--by", "outlet")["rows"]}
        self.assertEqual(outlets, {"Hill Road auction": (64000, 7272), "none": (3500, 0)})
        self.assertEqual({i["name"]: i["state"] for i in self.items()},
                         {"Screw press": "Sold", "Crates": "No sale", "Scales": "Sold"})
        self.good("check", self.catalogue)

    def test_views_agree(self):
        self.good("book", self.catalogue, self.table(TABLE))
        totals = [self.takings("--credit", credit, "--by", by)["total"] for credit, by in itertools.product(
            ("found", "sold", "handed-over"), ("trip", "place", "outlet", "month", "round"))]
        self.assertEqual([t for t in totals if t != totals[0]], [])

    def test_shares_to_the_cent(self):
        self.good("book", self.catalogue, self.table(TABLE))
        self.assertIn("Nobody has a share", self.bad(1, "account", self.catalogue).err)
        for person, percent in (("Ina", "33.3333"), ("Per", "33.3333 %"), ("Una", "33.3334")):
            self.good("share", self.catalogue, person, percent)
        told = self.good("account", self.catalogue, "--json").json()
        self.assertEqual(told["to_share"], 60228)
        # 602.28 x 0.333333 = 200.7597..., twice, and 200.7605...: two cents are left for the largest remainders
        self.assertEqual([row["part"] for row in told["rows"]], [20076, 20076, 20076])
        self.assertIn("no share", self.bad(1, "share", self.catalogue, "Ina", "half").err)
        self.good("share", self.catalogue, "Una", "30")
        self.assertIn("96.6666 %", self.bad(1, "account", self.catalogue).err)

    def test_statement_settles_once(self):
        self.good("book", self.catalogue, self.table(TABLE))
        # the outlet charged 70.00 where 69.72 was worked out; 40.00 were still owed
        path = self.table("Lot,Paid on,Hammer,Charges\nA1,2026-05-10,640.00,-70.00\n", "statement.csv")
        words = ("statement", self.catalogue, "Hill Road auction", path)
        self.good(*words, "--reference", "Lot", "--day", "Paid on", "--price", "Hammer", "--fees", "Charges")
        self.assertEqual(self.takings()["total"]["fees"], 7272)
        told = self.good(*words, "--book", "--json").json()
        self.assertEqual((told["matched"], told["differing"], told["entered"]), (1, 1, 1))
        self.assertEqual(self.takings()["total"], {"proceeds": 67500, "fees": 7300, "takings": 60200, "costs": 0, "owed": 3500})
        self.assertEqual(self.good(*words, "--book", "--json").json()["entered"], 0)
        self.good("check", self.catalogue)
        other = self.table("Lot,Paid on,Hammer,Charges\nQ7,2026-05-10,1.00,0.10\n", "other.csv")
        self.assertIn("another outlet", self.bad(1, "statement", self.catalogue, "Hill Road auction", other).err)

    def test_takings_handed_out(self):
        self.good("book", self.catalogue, self.table(TABLE))
        self.good("share", self.catalogue, "Ina", "100")
        sheet, table = self.path("takings.pdf"), self.path("takings.csv")
        self.assertEqual(self.good("hand-out", self.catalogue, "takings", "--to", sheet, "--json").json()["pages"], 1)
        text = words_on(sheet, "-layout")
        for words in ("675.00", "72.72", "602.28", "Trip 1", "Ina", "100 %", "counts with the trip"):
            self.assertIn(words, text)
        self.good("hand-out", self.catalogue, "takings", "--to", table, "--by", "outlet")
        with open(table, encoding="utf-8", newline="") as lines:
            rows = list(csv.reader(lines))
        self.assertEqual(rows[0], ["Outlet", "Proceeds", "Fees", "Takings", "Running total", "Trip costs", "Owed"])
        self.assertEqual(rows[-1], ["Total", "675.00", "72.72", "602.28", "602.28", "0.00", "75.00"])
        self.assertEqual(self.takings("--by", "outlet")["total"]["proceeds"], 67500)
        self.bad(1, "hand-out", self.catalogue, "takings", "--to", self.path("takings.txt"), says=".pdf")
        self.bad(1, "hand-out", self.catalogue, "takings", "--to", self.path("nowhere", "t.pdf"), says="takings")
        self.bad(2, "hand-out", self.catalogue, "nothing", "--to", sheet, says="takings")

    def test_an_outlet_like_a_formula_is_made_harmless(self):
        self.good("book", self.catalogue, self.table(TABLE.replace("Hill Road auction", "=Hill Road")))
        self.good("hand-out", self.catalogue, "takings", "--to", self.path("t.csv"), "--by", "outlet")
        with open(self.path("t.csv"), encoding="utf-8", newline="") as lines:
            self.assertIn("'=Hill Road", [row[0] for row in csv.reader(lines)])

    def test_outlook_shows_its_cases(self):
        self.good("book", self.catalogue, self.table(TABLE))
        told = self.good("outlook", self.catalogue, "Crates", "--json").json()
        self.assertEqual([(o["outlet"], o["cases"], o["sold"], o["price"]) for o in told], [("Hill Road auction", 2, 1, None)])
        self.assertTrue(0 < told[0]["low"] < told[0]["chance"] < told[0]["high"] < 1)
        self.assertIn("too few to tell", self.good("outlook", self.catalogue, "Crates").out)

    def test_claim_on_a_running_offer_warns(self):
        self.good("book", self.catalogue, self.table("".join(TABLE.splitlines(True)[:5])))
        out = self.good("item", "set", self.catalogue, "Screw press", "--claim", "mine", "--by", "An aunt").out
        self.assertIn("settle the claim", out)
        self.assertIn("On offer", out)
        self.assertNotIn("claim", self.good("item", "set", self.catalogue, "Scales", "--claim", "open", "--by", "An aunt").out)

    def test_undo(self):
        self.good("book", self.catalogue, self.table(TABLE))
        self.good("undo", self.catalogue)
        self.assertEqual(self.takings()["rows"], [])
        self.assertEqual({i["state"] for i in self.items()}, {"Found"})
        self.good("redo", self.catalogue)
        self.assertEqual(self.takings()["total"]["takings"], 60228)

    def test_same_table_again(self):
        self.good("book", self.catalogue, self.table(TABLE))
        self.good("book", self.catalogue, self.table(TABLE))
        self.assertEqual(self.takings()["total"]["takings"], 60228)

    def test_a_collected_sale(self):
        more = "what,ref,at,amount\npayment,A1,2026-06-19,40\npayment,B1,2026-05-02,35\ncollected,A1,2026-06-20,\n"
        self.good("trip", "add", self.catalogue, "--title", "Second", "--first", "2026-06-19", "--last", "2026-06-22")
        self.good("book", self.catalogue, self.table(TABLE))
        self.good("book", self.catalogue, self.table(more, "more.csv"))
        rows = {r["key"]: r["proceeds"] for r in self.takings("--credit", "handed-over")["rows"]}
        self.assertEqual(rows, {"1": 0, "2": 64000, "waiting": 3500})
        self.assertEqual(self.takings()["total"]["owed"], 0)

    def test_all_or_nothing(self):
        for row in ("result,NoSuch,,,,,,,,,,,,2026-05-01,sold,5,", "sale,B2,,,,,,,,,Anvil,,,2026-05-02,,35,",
                    "sale,B2,,,,,,,,,Scales,,,2026-05-02,,35.999,", "sale,B2,,,,,,,,,Scales,,,2026-05-02,,-3,",
                    "sale,B2,,,,,,,,,Scales,,,2026-05-02,,99999999999999999999,",
                    "sale,B2,,,,,,,,,Scales,,,2026-05-02,,dear,", "sale,B2,,,,,,,,,Scales,,,2026-13-02,,3,",
                    "gossip,B2,,,,,,,,,Scales,,,2026-05-02,,3,",
                    "offer,A3,No such outlet,,,,,,,,Scales,2026-05-02,,,,,"):
            with self.subTest(row):
                self.bad(1, "book", self.catalogue, self.table(TABLE + row + "\n"), says="line 11")
                self.assertEqual(self.takings()["rows"], [])
        self.assertEqual({i["state"] for i in self.items()}, {"Found"})

    def test_hostile_tables(self):
        for content in (b"", b"\x00\x01\x02", b"what,ref\nsale,\xff\xfe\n", b"what\n" + b"x" * 1_100_000,
                        b"what,at\n\x1b[31m,2026-01-01\n", b'what,at\n"unclosed', "höhe\n".encode()):
            with self.subTest(content[:20]):
                self.bad(1, "book", self.catalogue, self.table(content))
        self.bad(1, "book", self.catalogue, self.path("missing.csv"))
        self.bad(1, "book", self.catalogue, self.folder)

    def test_other_encodings(self):
        self.good("book", self.catalogue, self.table(TABLE.encode("utf-16")))
        self.assertEqual(self.takings()["total"]["takings"], 60228)

    def test_plain_output(self):
        self.good("book", self.catalogue, self.table(TABLE))
        out = run("takings", self.catalogue).out
        self.assertIn("602.28", out)
        self.assertIn("trip 1", out)


if __name__ == "__main__":
    unittest.main()
