# SPDX-License-Identifier: GPL-3.0-or-later
"""van and load by command: what is brought home, what must go, what cannot, and how much of it is a guess."""
import math
import random
import re
import subprocess
import unittest

from shed import ShedTest, words_on


class Load(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        for name, asking, mass in (("Screw press", "400", "120 kg"), ("Copper still", "350", "60 kg"),
                                   ("Crates", "90", "30 kg"), ("Scales", "80", None)):
            self.add_item(name, "Packing shed", "--asking", asking)
            if mass:
                self.good("item", "set", self.catalogue, name, "--mass", mass)
            self.good("item", "move", self.catalogue, name, "Bring home")

    def load(self, *more):
        return self.good("load", self.catalogue, "--trip", "1", *more, "--json").json()

    def taken(self, *more):
        return {thing["name"]: thing["taken"] for thing in self.load(*more)["things"]}

    def test_the_load_that_leaves_most(self):
        self.assertEqual(self.load()["leaves"], 0)
        self.assertIn("No van is entered yet", self.good("load", self.catalogue, "--trip", "1").out)
        self.good("van", self.catalogue, "--payload", "130 kg")
        # 60 + 30 + an assumed 40 kg leave 520.00, the press alone 400.00
        load = self.load()
        self.assertEqual((load["leaves"], load["best"], load["refused"]), (52000, True, None))
        self.assertEqual(self.taken(), {"Screw press": [0], "Copper still": [1], "Crates": [1], "Scales": [1]})
        self.assertEqual({t["name"]: t["mass"] for t in load["things"]},
                         {"Screw press": "known", "Copper still": "known", "Crates": "known", "Scales": "assumed"})
        told = self.good("load", self.catalogue, "--trip", "1").out
        self.assertIn("weigh first: Scales.", told)
        self.assertIn("Stays: Screw press, 120 kg", told)
        self.assertIn("Caution: ", told)

    def test_must_and_not_this_time(self):
        self.good("van", self.catalogue, "--payload", "130 kg")
        self.assertEqual(self.taken("--must", "Screw press"),
                         {"Screw press": [1], "Copper still": [0], "Crates": [0], "Scales": [0]})
        self.assertEqual([sum(taken) for taken in self.taken("--runs", "2").values()], [1, 1, 1, 1])
        self.assertEqual(sum(self.taken("--not-this-time", "Crates")["Crates"]), 0)
        self.good("undo", self.catalogue)
        self.assertEqual(sum(self.taken()["Crates"]), 1)
        self.assertEqual(self.taken("--runs", "1", "--keep", "100 kg")["Crates"], [1])  # just the 30 kg left
        load = self.load()  # the press must go, and 30 kg are left
        self.assertEqual(load["refused"], "Screw press must go, but one piece is heavier than the van may carry: "
                                          "find another way for it, or let it wait.")
        self.assertEqual(self.taken("--as-it-pays", "Screw press")["Crates"], [1])

    def test_doors_and_floors(self):
        self.good("van", self.catalogue, "--payload", "1 t", "--length", "2.4 m", "--width", "1.2 m",
                  "--door-width", "1.1 m", "--door-height", "1.2 m")
        van = self.good("van", self.catalogue, "--json").json()
        self.assertEqual((van["payload_g"], van["length_mm"], van["door_height_mm"]), (1000000, 2400, 1200))
        # by its mass the press takes 1.5 m2, each of the others 0.6: 3.3 of the 2.88 there are
        self.assertEqual(self.taken(), {"Screw press": [1], "Copper still": [1], "Crates": [1], "Scales": [0]})
        self.good("van", self.catalogue, "--length", "2.8 m")
        self.assertEqual([sum(taken) for taken in self.taken().values()], [1, 1, 1, 1])

    def test_the_trip_sheet(self):
        """Each thing to do has its line, its number and its box; pdftotext reads them back."""
        table = self.path("sold.csv")
        with open(table, "w", encoding="utf-8") as out:
            out.write("what,ref,outlet,item,at,amount,buyer,collect_days,kind,delivery\n"
                      "outlet,,Hill Road,,,,,10,dealer,\n"
                      "sale,S1,Hill Road,Cider barrel,2026-03-01,60,Ann Alder,,,\n"
                      "sale,S2,,Apple ladder,2026-03-02,25,ann alder,,,5\n"
                      "payment,S2,,,2026-03-03,10,,,,\n")
        for name in ("Cider barrel", "Apple ladder"):
            self.add_item(name, "Packing shed > Loft")
        self.add_item("Iron frame")
        self.good("item", "move", self.catalogue, "Iron frame", "For scrap")
        self.good("book", self.catalogue, table)
        self.good("van", self.catalogue, "--payload", "130 kg")
        sheet = self.path("trip.pdf")
        made = self.good("hand-out", self.catalogue, "sheet", "--trip", "1", "--to", sheet, "--json").json()
        self.assertEqual(made, {"file": sheet, "pages": 1})
        text = " ".join(words_on(sheet, "-raw").split())
        # 60.00 and 25.00 + 5.00 - 10.00: one buyer, named as in the latest sale; 10 days from 1 March end before the trip
        for part in ("Trip 1: First look", "To be paid at hand-overs: 80.00.",
                     "\u2610 1 Cider barrel: ann alder, 80.00 due, to be fetched by 2026-03-11 (before the trip",
                     "\u2610 2 Apple ladder: ann alder, to be brought to the buyer", "Packing shed > Loft",
                     "\u2610 3 Apple ladder: 40 kg or so", "\u2610 4 Copper still", "\u2610 6 Iron frame",
                     "Before you drive"):
            self.assertIn(part, text)
        self.assertNotIn("Screw press", text)  # it stays
        self.assertNotIn("Jobs", text)  # there is none
        self.bad(1, "hand-out", self.catalogue, "sheet", "--trip", "1", "--to", self.path("trip.txt"), says=".pdf")
        self.bad(1, "hand-out", self.catalogue, "sheet", "--trip", "7", "--to", sheet, says="trip 7")

    def write_sheet(self):
        """The sheet of trip 1: its number of pages, and its text page by page."""
        sheet = self.path("trip.pdf")
        pages = self.good("hand-out", self.catalogue, "sheet", "--trip", "1", "--to", sheet, "--json").json()["pages"]
        text = words_on(sheet, "-raw")
        return pages, [" ".join(page.split()) for page in text.split("\f")]

    def test_what_is_delivered_goes_along(self):
        """Sold with money for delivery: a must in the load, unless it waits this time."""
        table = self.path("sold.csv")
        with open(table, "w", encoding="utf-8") as out:
            out.write("what,ref,item,at,amount,delivery\nsale,S1,Cider barrel,2026-04-07,60,25\nsale,S2,Apple ladder,2026-04-07,60,\n")
        for name in ("Cider barrel", "Apple ladder"):
            self.add_item(name, "Packing shed")
        self.good("item", "set", self.catalogue, "Cider barrel", "--mass", "70 kg")
        self.good("book", self.catalogue, table)
        self.good("van", self.catalogue, "--payload", "130 kg")
        # beside it 60 kg are left: the still (350.00), not the press (400.00, 120 kg)
        self.assertEqual({name for name, taken in self.taken().items() if sum(taken)}, {"Cider barrel", "Copper still"})
        self.assertEqual(self.load()["leaves"], 35000)
        number = next(item["number"] for item in self.items() if item["name"] == "Cider barrel")
        self.good("load", self.catalogue, "--trip", "1", "--not-this-time", str(number))
        self.assertEqual(sum(self.taken()["Cider barrel"]), 0)
        self.good("item", "set", self.catalogue, "Copper still", "--mass", "60 kg")
        self.assertGreater(self.load()["leaves"], 35000)

    def test_the_scrap_run(self):
        """Class by class what it brings, and what must not go with it."""
        table = self.path("yard.csv")
        with open(table, "w", encoding="utf-8") as out:
            out.write("what,outlet,kind\noutlet,Iron Lane,scrap yard\n")
        self.good("book", self.catalogue, table)
        self.good("yard", "rate", self.catalogue, "Iron Lane", "iron", "200.00")
        for name in ("Iron frame", "Iron wheel", "Iron gate"):
            self.add_item(name, "Packing shed")
            self.good("item", "set", self.catalogue, name, "--mass", "150 kg", "--scrap-class", "iron")
            self.good("item", "move", self.catalogue, name, "For scrap")
        text = " ".join(self.write_sheet()[1])
        self.assertIn("iron: 3 things, 450 kg, 90.00 at the gate after cartage", text)
        for word in ("Closed drums", "asbestos", "Batteries", "refrigerant", "ask the yard"):
            self.assertIn(word, text)

    def test_long_sheets(self):
        """60 lines go on two pages; the 61st and more are continued, numbered through."""
        there = len(self.good("tick", self.catalogue, "--trip", "1", "--json").json()["lines"])
        for i in range(60 - there):
            self.good("place", "add", self.catalogue, f"Shed {i}")
        pages, texts = self.write_sheet()
        self.assertEqual(pages, 2)
        self.assertIn("\u2610 60 ", " ".join(texts))
        for i in range(30):
            self.good("place", "add", self.catalogue, f"Kiln {i}")
        pages, texts = self.write_sheet()
        self.assertEqual(pages, 3)
        numbers = [int(n) for n in re.findall("\u2610 (\\d+) ", " ".join(texts))]
        self.assertEqual(numbers, list(range(1, 91)))
        # the box of a word is a line of its font high, which is never less than the font's size
        boxes = words_on(self.path("trip.pdf"), "-bbox")
        heights = [float(y2) - float(y1) for y1, y2 in re.findall('yMin="([0-9.]+)" xMax="[0-9.]+" yMax="([0-9.]+)">Kiln<', boxes)]
        self.assertEqual(len(heights), 30)
        self.assertTrue(all(11 <= height <= 15 for height in heights), heights)

    def test_the_walk(self):
        """Three sheds along a meridian, the far one in the middle of the own order (by name). An arc of the meridian is
        M dphi with M = a (1 - e2) / (1 - e2 sin2 phi)^1.5 (Snyder, Map projections, USGS PP 1395, 1987, eq. 4-18)."""
        for name, latitude in (("A shed", -41.0), ("B shed", -41.002), ("C shed", -41.001)):
            self.good("place", "add", self.catalogue, name, "--position", f"{latitude},173.0")
        e2 = (2 - 1 / 298.257223563) / 298.257223563
        arc = 6378137 * (1 - e2) / (1 - e2 * math.sin(math.radians(41.001)) ** 2) ** 1.5 * math.radians(0.001)
        walk = self.good("walk", self.catalogue, "--trip", "1", "--json").json()
        # what is to do: these were never walked, and things to load stand in the packing shed, which nobody located
        self.assertEqual(walk["own"][:3], ["A shed", "B shed", "C shed"])
        self.assertEqual((walk["shortest"], walk["basis"]), (["A shed", "C shed", "B shed"], "by the positions"))
        self.assertAlmostEqual(walk["own_mm"] / 1000, 3 * arc, 2)
        self.assertAlmostEqual(walk["shortest_mm"] / 1000, 2 * arc, 2)
        self.assertIn("Shortest by the positions: A shed, C shed, B shed (222 m).",
                      self.good("walk", self.catalogue, "--trip", "1").out)
        self.good("walk", self.catalogue, "--trip", "1", "--take")
        taken = self.good("walk", self.catalogue, "--trip", "1", "--json").json()
        self.assertEqual((taken["own_mm"], taken["own"][:3]), (walk["shortest_mm"], walk["shortest"]))
        self.bad(1, "walk", self.catalogue, "--trip", "1", "--take", says="No shorter walk")
        self.good("undo", self.catalogue)
        self.assertEqual(self.good("walk", self.catalogue, "--trip", "1", "--json").json(), walk)

    def test_the_last_day(self):
        self.assertIn("No last day is entered yet.", self.good("last-day", self.catalogue).out)
        self.add_item("Bottle rack")
        last = self.good("last-day", self.catalogue, "2199-12-01", "--json").json()
        self.assertEqual((last["last_day"], last["standing"], [t["name"] for t in last["things"]]),
                         ("2199-12-01", 5, ["Bottle rack"]))  # what comes home is decided, but stands
        self.assertIn("Last day 2199-12-01: ", self.good("last-day", self.catalogue).out)
        self.bad(1, "last-day", self.catalogue, "soon", says="soon")
        self.assertIsNone(self.good("last-day", self.catalogue, "none", "--json").json()["last_day"])
        self.good("undo", self.catalogue)
        self.assertEqual(self.good("last-day", self.catalogue, "--json").json()["last_day"], "2199-12-01")

    def test_bad_input(self):
        self.bad(1, "van", self.catalogue, "--payload", "0 kg", says="more than nothing")
        self.bad(1, "van", self.catalogue, "--payload", "900 t", says="at most 100 t")
        self.bad(1, "van", self.catalogue, "--payload", "1 t", "--length", "2 m", says="two sides each")
        self.bad(1, "van", self.catalogue, "--payload", "heavy", says="heavy")
        self.bad(1, "load", self.catalogue, says="No trip lies ahead")
        self.bad(1, "load", self.catalogue, "--trip", "9", says="trip 9")
        self.bad(2, "load", self.catalogue, "--trip", "1", "--runs", "0", says="at least 1")
        self.bad(1, "load", self.catalogue, "--trip", "1", "--runs", "21", says="1 to 20 times")
        self.good("item", "move", self.catalogue, "Crates", "Kept")
        self.bad(1, "load", self.catalogue, "--trip", "1", "--must", "Crates", says="does not stand there any more")
        self.good("check", self.catalogue)


class AgainstGlpsol(ShedTest):
    """Drawn loads against GLPK's own solver (GNU Linear Programming Kit 5.0, glpsol), to which each is written anew in CPLEX LP
    format from what the command tells of the things: the same whole-number problem, stated by another hand."""

    def setUp(self):
        super().setUp()
        self.add_property()
        dice = random.Random(20)
        for k in range(24):
            count = dice.choice((1, 1, 1, 2, 5))
            self.add_item(f"Thing {k}", "Packing shed", "--asking", str(count * dice.randint(5, 400)), "--count", str(count))
            self.good("item", "set", self.catalogue, f"Thing {k}", "--mass", f"{count * dice.randint(3, 160)} kg")
            self.good("item", "move", self.catalogue, f"Thing {k}", "Bring home")

    def best_of_glpsol(self, things, runs, grams, floor_cm2):
        """The most that can be left."""
        lp, solution = self.path("load.lp"), self.path("load.sol")
        pieces = [[f"x{i}r{r}" for r in range(runs)] for i in range(len(things))]

        def over_all(per_piece, at=range(runs)):
            return " + ".join(f"{thing[per_piece]} {pieces[i][r]}" for i, thing in enumerate(things) for r in at)

        lines = ["Maximize", " left: " + over_all("leaves"), "Subject To"]
        lines += [f" n{i}: {' + '.join(pieces[i])} <= {thing['count']}" for i, thing in enumerate(things)]
        lines += [f" m{r}: {over_all('grams_each', [r])} <= {grams}" for r in range(runs)]
        if floor_cm2 is not None:
            lines += [f" f{r}: {over_all('floor_cm2_each', [r])} <= {floor_cm2}" for r in range(runs)]
        lines += ["General"] + [" " + " ".join(row) for row in pieces] + ["End", ""]
        with open(lp, "w", encoding="utf-8") as out:
            out.write("\n".join(lines))
        subprocess.run(["glpsol", "--lp", lp, "--write", solution], check=True, capture_output=True)
        with open(solution, encoding="utf-8") as read:
            head = next(line for line in read if line.startswith("s mip")).split()
        self.assertEqual(head[4], "o", "glpsol found the best")
        return round(float(head[5]))

    def test_what_it_leaves(self):
        dice = random.Random(21)
        for instance in range(8):
            payload, runs, square = dice.randint(40, 900), dice.choice((1, 1, 2)), instance >= 4  # a floor stays
            length, width = (dice.randint(12, 40) * 10, dice.randint(10, 20) * 10) if square else (None, None)
            self.good("van", self.catalogue, "--payload", f"{payload} kg",
                      *(("--length", f"{length} cm", "--width", f"{width} cm") if square else ()))
            load = self.good("load", self.catalogue, "--trip", "1", "--runs", str(runs), "--json").json()
            self.assertTrue(load["best"])
            may = [{**thing, "leaves": thing["leaves"] // thing["count"]} for thing in load["things"]
                   if thing["leaves"] > 0 and thing["obstacle"] is None]
            self.assertGreater(len(may), 10)
            self.assertEqual(load["leaves"], self.best_of_glpsol(may, runs, payload * 1000, length * width if square else None),
                             (payload, runs, length, width))


if __name__ == "__main__":
    unittest.main()
