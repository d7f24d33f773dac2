# SPDX-License-Identifier: GPL-3.0-or-later
"""What is known of a thing, on whatever leaves the house: a guess and hearsay are named as such, nobody who said it is,
and the caution of a danger is on every paper that goes with the thing."""
import datetime
import os
import re
import shutil
import sqlite3
import unittest

import pictures
from shed import ShedTest, words_on

SHAFTS = "Stop the drive and take the key before reaching near"
WIRING = "Do not plug it in"


def words(path):
    """The text of a paper or a page, in one line."""
    if path.endswith(".pdf"):
        text = words_on(path, "-raw")
    else:
        with open(path, encoding="utf-8") as page:
            text = re.sub(r"<[^>]*>", " ", page.read())
    return " ".join(text.split())


class KnownTest(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        self.add_item("Belt pump", "Packing shed", "--asking", "130")
        self.add_item("Crates", "Press house", "--count", "10", "--asking", "50")
        for danger, *more in (("driven shafts",), ("old wiring", "--source", "guessed")):
            self.good("danger", self.catalogue, "Belt pump", danger, *more)
        for kind, text, *more in (("condition", "turns freely", "--source", "tried"),
                                  ("what is wrong", "the seal weeps", "--source", "told", "--by", "Ines"),
                                  ("belongs to it", "a long spanner"),
                                  ("story", "from the upper spring", "--source", "guessed")):
            self.good("fact", self.catalogue, "Belt pump", kind, text, *more)
        self.measure("Belt pump", "two people", 1200, 600, 905, guessed=True)
        self.measure("Crates", "hand", 600, 400, None, guessed=False)

    def measure(self, name, lifted, length, width, height, guessed):
        """By SQL, for the sides are entered in the window alone."""
        base = sqlite3.connect(os.path.join(self.catalogue, "catalogue.db"))
        with base:
            base.execute("UPDATE item SET size_class = ?, length_mm = ?, width_mm = ?, height_mm = ?, size_guessed = ?"
                         " WHERE name = ?", (lifted, length, width, height, guessed, name))
        base.close()

    def hand_out(self, what, name, *more):
        to = self.path(name)
        self.good("hand-out", self.catalogue, what, "--to", to, *more)
        return words(to)

    def sell(self):
        table = """what,outlet,kind,ref,item,collect_days,at,amount,buyer
outlet,Board,priced ad,,,14,,,
sale,Board,,S1,Belt pump,,2026-04-05,60,Ann Alder
"""
        self.good("book", self.catalogue, pictures.write(self.folder, "sold.csv", table.encode()))

    def pay(self):
        table = "what,ref,at,amount\npayment,S1,2026-04-06,60\n"
        self.good("book", self.catalogue, pictures.write(self.folder, "paid.csv", table.encode()))

    def check(self, text, *expected):
        for one in expected:
            self.assertIn(one, text)
        self.assertNotIn("Ines", text)


class Known(KnownTest):
    def test_the_family_is_told_what_rests_on_what(self):
        for name in ("choice.html", "choice.pdf"):
            self.check(self.hand_out("family", name), "Condition: turns freely", "What is wrong: the seal weeps (so it is said)",
                       "Belongs to it: a long spanner", "Its story: from the upper spring (a guess)",
                       "Size: about 1.2 m x 0.6 m x 0.91 m", "Size: 0.6 m x 0.4 m each",
                       "Caution, driven shafts: " + SHAFTS, "Caution, old wiring: " + WIRING)

    def test_the_family_choice_goes_over_pages(self):
        for k in range(30):
            self.add_item(f"Demijohn {k}", "Press house")
        path = self.path("long.pdf")
        report = self.good("hand-out", self.catalogue, "family", "--to", path, "--json").json()
        self.assertGreater(report["pages"], 1)
        pages = [" ".join(page.split()) for page in
                 words_on(path, "-layout").rstrip("\f").split("\f")]
        self.assertEqual(len(pages), report["pages"])
        for k in range(30):
            self.assertEqual(sum(f"Demijohn {k} " in page + " " for page in pages), 1)

    def test_the_inventory(self):
        text = self.hand_out("inventory", "inventory.pdf")
        self.check(text, "Condition: turns freely", "What is wrong: the seal weeps (so it is said)",
                   "Size: about 1.2 m x 0.6 m x 0.91 m", "Danger: driven shafts", "Danger: old wiring (a guess)",
                   "2 Crates (10 pieces)", "Size: 0.6 m x 0.4 m each")
        self.assertNotIn("upper spring", text)

    def test_a_name_too_long_for_the_family(self):
        self.bad(1, "hand-out", self.catalogue, "family", "--to", self.path("c.html"), "--for", "R" * 121, says="120 bytes")


class Offered(KnownTest):
    """The text of a pack: what was heard is told as heard, what was worked out as worked out."""

    def pack(self, item):
        to = self.path("pack")
        shutil.rmtree(to, ignore_errors=True)
        self.good("hand-out", self.catalogue, "pack", "--item", item, "--looked", "--to", to)
        with open(os.path.join(to, "offer.txt"), encoding="utf-8") as text:
            return text.read()

    def test_what_was_seen_and_heard(self):
        self.check(self.pack("Belt pump"), "Condition: turns freely, as tried.", "Wrong with it, it is said: the seal weeps.",
                   "With it: a long spanner.", "Size: not measured.", "Mass: not known.", "Takes two people to lift.",
                   "Caution, driven shafts: " + SHAFTS, "Caution, old wiring (may be, not checked): " + WIRING)
        self.good("fact", self.catalogue, "Crates", "condition", "dry", "--source", "told", "--by", "Ines")
        self.good("fact", self.catalogue, "Crates", "belongs to it", "the lids", "--source", "told", "--by", "Ines")
        self.check(self.pack("Crates"), "10 pieces.", "Condition: said to be dry; not checked.",
                   "With it: the lids (said to belong to it).", "Size: 0.6 m x 0.4 m each.")

    def test_what_it_weighs(self):
        self.measure("Belt pump", "machine", None, None, None, guessed=False)
        for item, mass, told in (("Belt pump", "84", "Mass: 84 kg."), ("Crates", "50", "Mass: 50 kg in all.")):
            self.good("item", "set", self.catalogue, item, "--mass", mass)
            self.assertIn(told, self.pack(item))
        self.assertIn("Needs a machine to lift; the buyer brings machine and driver.", self.pack("Belt pump"))


class Sold(KnownTest):
    def setUp(self):
        super().setUp()
        self.sell()

    def test_the_receipt(self):
        self.check(self.hand_out("receipt", "receipt.pdf", "--offer", "S1"), "Cautions",
                   "Belt pump, driven shafts: " + SHAFTS, "Belt pump, old wiring: " + WIRING)

    def test_the_slip_of_the_neighbour(self):
        self.check(self.hand_out("slip", "slip.pdf", "--trip", "1"), "Belt pump, two people", "Ann Alder",
                   "To be taken: 60.00 NZD.", "Caution, Belt pump: driven shafts: " + SHAFTS)
        self.pay()
        self.check(self.hand_out("slip", "slip.pdf", "--trip", "1"), "Paid: nothing is to be taken.")

    def buyer_text(self):
        return self.good("buyer-text", self.catalogue, "S1", "--trip", "1").out

    def test_what_the_buyer_is_written(self):
        self.good("on-site", self.catalogue, "--trip", "1", "--hours", "Saturday 9 to 12", "--way", "past the mill")
        text = self.buyer_text()
        self.check(text, "Hello Ann Alder,", "- Belt pump: please bring a second person\n",
                   "60.00 NZD is due in cash when you fetch it.", "Somebody is there: Saturday 9 to 12.",
                   "By the terms it is to be fetched by 2026-04-19.\n", "Caution, Belt pump: driven shafts: " + SHAFTS)
        self.assertNotIn("the mill", text)  # the way is told once nothing is due any more
        self.pay()
        self.measure("Belt pump", "machine", None, None, None, guessed=False)
        self.check(self.buyer_text(), "- Belt pump: please bring, or agree on, a machine to lift it\n", "It is paid; thank you.",
                   "The way: past the mill")

    def test_a_deadline_before_the_trip(self):
        self.good("trip", "add", self.catalogue, "--title", "Later", "--first", "2026-06-01", "--last", "2026-06-03")
        text = self.good("buyer-text", self.catalogue, "S1", "--trip", "2").out
        self.assertIn("By the terms it is to be fetched by 2026-04-19: if that cannot be, let us agree on a day.", text)

    def test_nothing_waits_any_more(self):
        table = "what,ref,at\ncollected,S1,2026-04-06\n"
        self.good("book", self.catalogue, pictures.write(self.folder, "gone.csv", table.encode()))
        self.bad(1, "buyer-text", self.catalogue, "S1", "--trip", "1", says="Nothing of that sale waits")

    def test_the_sheet_of_the_trip(self):
        self.check(self.hand_out("sheet", "sheet.pdf", "--trip", "1"), "driven shafts: " + SHAFTS, "old wiring: " + WIRING,
                   "two people", "60.00 due", "to be fetched by 2026-04-19")


class ErrandTest(KnownTest):
    days = 14

    def setUp(self):
        super().setUp()
        first = datetime.date.today() + datetime.timedelta(days=self.days)
        self.good("trip", "add", self.catalogue, "--title", "Next stay", "--first", str(first),
                  "--last", str(first + datetime.timedelta(days=3)))
        self.good("ask", self.catalogue, "Belt pump", "Where is the belt?", "--whom", "Ruth", "--until", str(first))
        self.good("ask", self.catalogue, "Belt pump", "Who built it?")
        self.good("job", self.catalogue, "Belt pump", "take off", "from its bed", "--tools", "slings", "--hands", "3")
        self.good("job", self.catalogue, "Crates", "clean")


class Ahead(ErrandTest):
    """What is to do: on the sheet of who stands in, and on that of the trip."""

    def test_who_stands_in(self):
        text = self.hand_out("standing", "standing.pdf")
        self.check(text, "2 Next stay", "1 Belt pump: Where is the belt?", "Ruth", "1 Belt pump: Who built it? nobody named",
                   "take off: from its bed Belt pump slings", "clean Crates")
        self.assertNotIn("clean:", text)

    def test_what_is_held_and_what_to_pack(self):
        until = str(datetime.date.today() + datetime.timedelta(days=15))
        self.good("item", "move", self.catalogue, "Crates", "On hold", "--until", until, "--for", "Cal Caller")
        text = self.hand_out("sheet", "sheet.pdf", "--trip", "2")
        self.check(text, "Held back", "Crates (Press house): ", "To pack", "slings", "3 people for one of the jobs")

    def test_a_sheet_with_nothing_on_it(self):
        for _ in range(4):
            self.good("undo", self.catalogue)  # the jobs and the questions
        for number in (1, 2):
            self.good("item", "move", self.catalogue, str(number), "Kept")
        base = sqlite3.connect(os.path.join(self.catalogue, "catalogue.db"))
        with base:
            base.execute("UPDATE place SET walked = 1")  # the window's to say, like a tick of the sheet
        base.close()
        self.check(self.hand_out("sheet", "sheet.pdf", "--trip", "2"), "Nothing is planned for this trip yet.")


class Ticked(ErrandTest):
    """The same on a trip that has begun."""

    days = -1

    def tick(self, line, *more):
        return self.good("tick", self.catalogue, line, "done", "--trip", "2", *more)

    def test_jobs_and_questions_are_ticked(self):
        sheet = self.good("tick", self.catalogue, "--trip", "2", "--json").json()
        lines = {(line["part"], line["what"], line["detail"]): str(line["line"]) for line in sheet["lines"]}
        job = next(n for (_, what, who), n in lines.items() if what == "Belt pump" and who == "take off: from its bed")
        bare = next(n for (_, what, who), n in lines.items() if what == "Crates" and who == "clean")
        ruth = next(n for (_, _, who), n in lines.items() if who == "Ruth: Where is the belt?")
        look = next(n for (_, what, _), n in lines.items() if what == "Packing shed > Loft")
        next(n for (_, _, who), n in lines.items() if who == "whoever knows: Who built it?")
        self.tick(job)
        self.tick(bare)
        self.tick(look)
        self.bad(1, "tick", self.catalogue, ruth, "done", "--trip", "2", says="what the answer is")
        self.tick(ruth, "--text", "in the loft")
        self.bad(1, "tick", self.catalogue, job, "done", "--trip", "2", says="ticked already: done")
        text = self.hand_out("standing", "standing.pdf")
        for gone in ("Where is the belt?", "from its bed", "clean"):
            self.assertNotIn(gone, text)
        for sentence in ("Belt pump: answered", "Packing shed > Loft: walked", "Crates: job done", "Belt pump: job done"):
            self.assertIn(sentence, self.good("undo", self.catalogue).out)
        self.assertIn("Where is the belt?", self.hand_out("standing", "standing.pdf"))


if __name__ == "__main__":
    unittest.main()
