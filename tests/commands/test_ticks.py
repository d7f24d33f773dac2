# SPDX-License-Identifier: GPL-3.0-or-later
"""tick by command: back home the sheet's lines are ticked by their numbers, with their steps, their cash and their undo."""
import unittest

from shed import ShedTest, words_on

TABLE = """what,ref,outlet,item,at,amount,buyer
outlet,,Hill Road,,,,
sale,S1,Hill Road,Cider barrel,2026-03-01,60,Ann Alder
sale,S2,,Apple ladder + Picking bags,2026-03-02,25,Bo Birch
sale,S3,,Grafting bench,2026-03-02,30,Cy Cedar
"""


class Ticks(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()  # trip 1 in April 2026
        for name in ("Cider barrel", "Apple ladder", "Picking bags", "Grafting bench", "Copper still", "Iron frame"):
            self.add_item(name, "Packing shed", "--asking", "50")
        self.good("item", "move", self.catalogue, "Copper still", "Bring home")
        self.good("item", "move", self.catalogue, "Iron frame", "For scrap")
        table = self.path("sold.csv")
        with open(table, "w", encoding="utf-8") as out:
            out.write(TABLE)
        self.good("book", self.catalogue, table)
        self.sheet = self.path("trip.pdf")
        self.good("hand-out", self.catalogue, "sheet", "--trip", "1", "--to", self.sheet)

    def tick(self, *more):
        return self.good("tick", self.catalogue, "--trip", "1", *more, "--json").json()

    def number(self, what):
        return str(next(line["line"] for line in self.tick()["lines"] if line["what"] == what))

    def state(self, name):
        return next(item["state"] for item in self.good("items", self.catalogue, "--json").json() if item["name"] == name)

    def line(self, what):
        return next(line for line in self.tick()["lines"] if line["what"] == what)

    def test_the_numbers_are_those_on_paper(self):
        text = words_on(self.sheet, "-layout")
        sheet = self.tick()
        self.assertTrue(sheet["kept"])
        for line in sheet["lines"]:
            self.assertIn(f"\u2610 {line['line']} {line['what']}", " ".join(text.split()))
        # what is sold later stands on no line of the sheet that was written
        self.add_item("Bottle rack", "Packing shed", "--asking", "9")
        self.good("item", "move", self.catalogue, "Bottle rack", "For scrap")
        self.assertEqual([line["what"] for line in self.tick()["lines"]], [line["what"] for line in sheet["lines"]])

    def test_handed_over_with_its_cash(self):
        n = self.number("Cider barrel")
        sheet = self.tick(n, "handed-over", "--taken", "45")
        self.assertEqual((sheet["due"], sheet["taken"], self.state("Cider barrel")), (6000, 4500, "Handed over"))
        self.assertEqual(self.line("Cider barrel")["tick"], "handed over")
        owed = self.good("takings", self.catalogue, "--json").json()["total"]["owed"]
        self.assertEqual(owed, 1500 + 2500 + 3000)  # the rest is a stated debt
        self.bad(1, "tick", self.catalogue, n, "handed-over", "--trip", "1", says="ticked already")
        self.assertIn("45.00 taken, 15.00 still owed", self.good("undo", self.catalogue).out)
        self.assertEqual((self.state("Cider barrel"), self.tick()["taken"], self.line("Cider barrel")["tick"]), ("Sold", 0, None))
        self.assertEqual(self.tick(n, "handed-over")["taken"], 6000)  # what is due, where nothing was said
        self.assertEqual(self.tick("--counted", "59.50")["counted"], 5950)
        self.assertIn("Counted: 59.50.", self.good("tick", self.catalogue, "--trip", "1").out)

    def test_a_lot_goes_as_one(self):
        sheet = self.tick(self.number("Picking bags"), "handed-over")
        self.assertEqual((sheet["due"], sheet["taken"]), (2500, 2500))
        self.assertEqual([self.line(what)["tick"] for what in ("Apple ladder", "Picking bags")], ["handed over"] * 2)
        self.assertEqual([self.state(what) for what in ("Apple ladder", "Picking bags")], ["Handed over"] * 2)
        self.good("undo", self.catalogue)
        self.assertEqual([self.state(what) for what in ("Apple ladder", "Picking bags")], ["Sold"] * 2)
        self.bad(1, "tick", self.catalogue, self.number("Apple ladder"), "not-found", "--trip", "1", says="sold together with others")
        self.assertEqual(self.state("Apple ladder"), "Sold")

    def test_a_sold_thing_that_is_not_found(self):
        self.tick(self.number("Grafting bench"), "not-found")
        self.assertEqual(self.state("Grafting bench"), "Missing")  # its sale fell through first
        self.assertEqual(self.good("takings", self.catalogue, "--json").json()["total"]["proceeds"], 8500)
        self.good("undo", self.catalogue)
        self.assertEqual(self.state("Grafting bench"), "Sold")
        self.assertEqual(self.good("takings", self.catalogue, "--json").json()["total"]["proceeds"], 11500)

    def test_brought_home_scrapped_and_broken(self):
        n = self.number("Copper still")
        self.bad(1, "tick", self.catalogue, n, "broken", "--trip", "1", says="say what is broken")
        self.tick(n, "broken", "--text", "the lid has a crack")
        line = self.line("Copper still")
        self.assertEqual((line["broken"], line["tick"], line["open"], self.state("Copper still")), (True, None, True, "Bring home"))
        self.tick(n, "brought-home")
        still = next(i for i in self.good("items", self.catalogue, "--json").json() if i["name"] == "Copper still")
        self.assertEqual((still["state"], still["place"]), ("At home", "Home"))
        n = self.number("Iron frame")
        self.assertEqual(self.tick(n, "scrapped")["dockets"], 1)
        self.assertEqual(self.state("Iron frame"), "For scrap")  # the docket takes the step
        table = self.path("docket.csv")
        with open(table, "w", encoding="utf-8") as out:
            out.write("what,ref,outlet,at,gross,tare,class,net,rate,item\ndocket,D1,Hill Road,2026-03-06,90,50,,,,\n"
                      "docket line,D1,,,,,iron,40,200,Iron frame\n")
        self.good("book", self.catalogue, table)
        self.assertEqual((self.tick()["dockets"], self.state("Iron frame")), (0, "Scrapped"))

    def test_home_is_where_things_were_brought_before(self):
        """Whatever it is called: the place off the property with most things At home. No shop or yard is taken for it."""
        for place in ("Cousin's shop", "Flat"):
            self.good("place", "add", self.catalogue, place, "--off-property")
        self.tick(self.number("Copper still"), "brought-home")
        self.assertEqual(self.place("Copper still"), "Home")
        self.assertIn("brought home to Home", self.good("undo", self.catalogue).out)
        self.add_item("Bottle rack", "Packing shed", "--asking", "9")
        self.good("item", "move", self.catalogue, "Bottle rack", "Bring home")
        self.good("item", "move", self.catalogue, "Bottle rack", "At home")
        self.good("item", "set", self.catalogue, "Bottle rack", "--place", "Flat")
        self.tick(self.number("Copper still"), "brought-home")
        self.assertEqual(self.place("Copper still"), "Flat")

    def test_a_home_on_the_property_is_another(self):
        self.good("place", "add", self.catalogue, "home")
        self.tick(self.number("Copper still"), "brought-home")
        self.assertEqual(self.place("Copper still"), "Home, away from here")

    def place(self, name):
        return next(item["place"] for item in self.good("items", self.catalogue, "--json").json() if item["name"] == name)

    def test_written_again_no_tick_is_lost(self):
        """'scrapped' and 'broken' stay with their lines; what is handed over or home stands after the new lines, cash and all."""
        self.tick(self.number("Cider barrel"), "handed-over", "--taken", "45")
        self.tick(self.number("Copper still"), "brought-home")
        self.tick(self.number("Iron frame"), "scrapped")
        self.tick(self.number("Iron frame"), "broken", "--text", "a weld gave way")
        self.good("hand-out", self.catalogue, "sheet", "--trip", "1", "--to", self.sheet)
        sheet = self.tick()
        printed = words_on(self.sheet, "-layout")
        on_paper = [line["line"] for line in sheet["lines"] if f"\u2610 {line['line']} {line['what']}" in " ".join(printed.split())]
        self.assertEqual(on_paper, list(range(1, len(on_paper) + 1)))
        self.assertEqual([(line["what"], line["tick"]) for line in sheet["lines"][len(on_paper):]],
                         [("Cider barrel", "handed over"), ("Copper still", "brought home")])
        frame = self.line("Iron frame")
        self.assertEqual((frame["tick"], frame["broken"], frame["line"] in on_paper), ("scrapped", True, True))
        self.assertEqual((sheet["due"], sheet["taken"], sheet["dockets"]), (6000, 4500, 1))
        # and again: nothing doubles
        self.good("hand-out", self.catalogue, "sheet", "--trip", "1", "--to", self.sheet)
        self.assertEqual(self.tick(), sheet)

    def test_a_thing_that_is_to_be_loaded_once_more_is_open(self):
        self.tick(self.number("Copper still"), "not-found")
        self.good("item", "move", self.catalogue, "Copper still", "Found")
        self.good("item", "move", self.catalogue, "Copper still", "Bring home")
        self.good("hand-out", self.catalogue, "sheet", "--trip", "1", "--to", self.sheet)
        self.assertEqual([line["tick"] for line in self.tick()["lines"] if line["what"] == "Copper still"], [None, "not found"])

    def text(self, ref):
        return self.good("buyer-text", self.catalogue, ref, "--trip", "1").out

    def test_the_text_to_a_buyer(self):
        """Hours only once they are entered, the way only once it is paid; no place and no other buyer."""
        self.good("on-site", self.catalogue, "--trip", "1", "--way", "the green gate behind the chapel")
        text = self.text("S1")
        for word in ("Hello Ann Alder", "- Cider barrel", "60.00 NZD is due in cash", "Please say when you could come"):
            self.assertIn(word, text)
        for word in ("green gate", "Packing shed", "Bo Birch", "Apple ladder", "2026"):
            self.assertNotIn(word, text)
        self.good("on-site", self.catalogue, "--trip", "1", "--hours", "Saturday 10 to 16")
        self.assertIn("Somebody is there: Saturday 10 to 16.", self.text("S1"))
        table = self.path("paid.csv")
        with open(table, "w", encoding="utf-8") as out:
            out.write("what,ref,at,amount\npayment,S1,2026-03-20,60\n")
        self.good("book", self.catalogue, table)
        text = self.text("S1")
        self.assertIn("The way: the green gate behind the chapel", text)
        self.assertNotIn("is due", text)
        self.assertIn("- Apple ladder\n- Picking bags\n", self.text("S2"))  # one buyer, several things
        self.good("undo", self.catalogue)
        self.bad(1, "buyer-text", self.catalogue, "S9", "--trip", "1", says="S9")
        self.good("hand-out", self.catalogue, "sheet", "--trip", "1", "--to", self.sheet)
        paper = words_on(self.sheet)
        self.assertNotIn("green gate", paper)
        self.assertNotIn("Saturday", paper)

    def test_the_slip_for_a_neighbour(self):
        slip = self.path("slip.pdf")
        self.good("hand-out", self.catalogue, "slip", "--trip", "1", "--to", slip)
        text = " ".join(words_on(slip, "-raw").split())
        for word in ("Ann Alder", "\u2610 Cider barrel Packing shed", "To be taken: 60.00 NZD.", "Bo Birch", "\u2610 Picking bags",
                     "To be taken: 25.00 NZD.", "Fetched by:", "First the money"):
            self.assertIn(word, text)
        self.assertNotIn("Copper still", text)
        for _ in range(3):
            self.tick(next(str(line["line"]) for line in self.tick()["lines"] if line["part"] == "hand over" and line["open"]), "handed-over")
        self.bad(1, "hand-out", self.catalogue, "slip", "--trip", "1", "--to", slip, says="Nothing that is sold")

    def written_again(self):
        again = self.path("again.pdf")
        self.good("hand-out", self.catalogue, "sheet", "--trip", "1", "--to", again)
        return words_on(again, "-layout")

    def open_lines(self, part):
        return [(line["what"], line["detail"]) for line in self.tick()["lines"] if line["part"] == part and line["open"]]

    def test_jobs(self):
        self.good("job", self.catalogue, "Copper still", "take off", "from its hearth")
        self.good("job", self.catalogue, "Iron frame", "measure")
        self.written_again()
        self.assertEqual(self.open_lines("job"), [("Copper still", "take off: from its hearth"), ("Iron frame", "measure")])
        n = next(str(line["line"]) for line in self.tick()["lines"] if line["part"] == "job")
        self.assertEqual((self.tick(n, "done")["lines"][int(n) - 1]["tick"], self.open_lines("job")), ("done", [("Iron frame", "measure")]))
        self.bad(1, "tick", self.catalogue, n, "done", "--trip", "1", says="ticked already")
        self.assertIn("Copper still: job done", self.good("undo", self.catalogue).out)
        self.assertEqual(len(self.open_lines("job")), 2)
        self.assertEqual(self.state("Copper still"), "Bring home")  # a job done moves nothing

    def test_places_that_were_not_walked(self):
        self.written_again()
        self.assertEqual([what for what, detail in self.open_lines("look")], ["Packing shed > Loft", "Press house"])
        self.tick(self.number("Press house"), "done")
        self.assertEqual([what for what, detail in self.open_lines("look")], ["Packing shed > Loft"])
        self.assertIn("Press house: walked", self.good("undo", self.catalogue).out)
        self.assertEqual(len(self.open_lines("look")), 2)

    def test_questions(self):
        self.good("ask", self.catalogue, "Copper still", "Whose initials are on it?", "--whom", "Aunt Merle")
        self.good("ask", self.catalogue, "Iron frame", "How wide?")
        self.written_again()
        asked = [("Copper still", "Aunt Merle: Whose initials are on it?"), ("Iron frame", "whoever knows: How wide?")]
        self.assertEqual(self.open_lines("ask"), asked)
        n = next(str(line["line"]) for line in self.tick()["lines"] if line["part"] == "ask")
        self.bad(1, "tick", self.catalogue, n, "done", "--trip", "1", says="what the answer is")
        self.assertEqual(self.open_lines("ask"), asked)
        self.tick(n, "done", "--text", "her father's")
        self.assertEqual(self.open_lines("ask"), asked[1:])
        self.assertIn("Copper still: answered", self.good("undo", self.catalogue).out)
        self.assertEqual(self.open_lines("ask"), asked)

    def test_what_can_hurt_stands_on_the_sheet(self):
        self.good("danger", self.catalogue, "Copper still", "pressure")
        text = " ".join(self.written_again().split())
        self.assertRegex(text, r"Copper still[^\u2610]*Caution: pressure: ")
        self.assertEqual(text.count("Caution: pressure"), 1)

    def test_refused(self):
        self.bad(2, "tick", self.catalogue, "1", says="needs its tick")
        self.bad(1, "tick", self.catalogue, "1", "eaten", "--trip", "1", says="handed over, brought home, scrapped")
        self.bad(1, "tick", self.catalogue, "99", "done", "--trip", "1", says="no line 99")
        self.bad(1, "tick", self.catalogue, "1", "done", "--trip", "1", says="not for a line")
        self.bad(1, "tick", self.catalogue, "1", "handed-over", "--taken", "-4", "--trip", "1", says="-4")
        self.bad(1, "tick", self.catalogue, "1", "done", "--trip", "8", says="trip 8")
        self.good("trip", "add", self.catalogue, "--title", "Later", "--first", "2199-01-02", "--last", "2199-01-03")
        self.bad(1, "tick", self.catalogue, "1", "handed-over", "--trip", "2", says="not begun yet")
        self.good("check", self.catalogue)

    def test_nothing_was_written(self):
        """Without a kept sheet the first tick keeps that of today, in the same act."""
        self.good("trip", "add", self.catalogue, "--title", "Second look", "--first", "2026-04-12", "--last", "2026-04-14")
        sheet = self.good("tick", self.catalogue, "--trip", "2", "--json").json()
        self.assertFalse(sheet["kept"])
        n = next(line["line"] for line in sheet["lines"] if line["what"] == "Copper still")
        self.assertTrue(self.good("tick", self.catalogue, str(n), "brought-home", "--trip", "2", "--json").json()["kept"])
        self.good("undo", self.catalogue)
        self.assertFalse(self.good("tick", self.catalogue, "--trip", "2", "--json").json()["kept"])


if __name__ == "__main__":
    unittest.main()
