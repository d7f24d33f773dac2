# SPDX-License-Identifier: GPL-3.0-or-later
"""fact, danger, ask and job: what is said of an item stands in its offer's text and on the next trip's sheet; undo takes it
back; what is wrong is refused in a sentence."""
import datetime
import pathlib
import unittest

from shed import ShedTest, words_on


class Said(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        self.add_item("Belt pump", "Packing shed", "--asking", "130")

    def sheet(self):
        """The words of the next trip's sheet, a fortnight ahead."""
        first = datetime.date.today() + datetime.timedelta(days=14)
        trip = self.good("trip", "add", self.catalogue, "--title", "Next stay", "--first", str(first),
                         "--last", str(first + datetime.timedelta(days=3))).out.strip()
        target = self.path("sheet.pdf")
        self.good("hand-out", self.catalogue, "sheet", "--trip", trip, "--to", target)
        return " ".join(words_on(target, "-layout").split())

    def pack(self):
        """The plain text of the item's offer pack."""
        target = pathlib.Path(self.path("pack"))
        self.good("hand-out", self.catalogue, "pack", "--item", "Belt pump", "--looked", "--to", str(target))
        return next(target.glob("*.txt")).read_text(encoding="utf-8")

    def test_facts_and_dangers_stand_in_the_offer(self):
        self.good("fact", self.catalogue, "Belt pump", "condition", "turns freely", "--source", "tried")
        told = self.good("danger", self.catalogue, "Belt pump", "driven shafts").out
        self.assertIn("Local codes and licensed people have the last word.", told)
        self.good("fact", self.catalogue, "Belt pump", "story", "from the upper spring", "--source", "guessed")
        text = self.pack()
        self.assertIn("turns freely", text)
        self.assertIn("haft", text)
        self.assertNotIn("upper spring", text)  # a guess is no claim

    def test_a_question_and_a_job_stand_on_the_sheet(self):
        self.good("ask", self.catalogue, "Belt pump", "Where is the belt?", "--whom", "Ines", "--until", "2030-01-05")
        self.good("job", self.catalogue, "Belt pump", "take off", "from its bed", "--tools", "19 mm spanner, slings",
                  "--hands", "3")
        words = self.sheet()
        for expected in ("Where is the belt?", "Ines", "from its bed", "19 mm spanner", "slings"):
            self.assertIn(expected, words)
        undone = [self.good("undo", self.catalogue).out for _ in range(4)]  # the sheet kept, its trip, the job, the question
        for sentence in undone[2:]:
            self.assertIn("Belt pump", sentence)

    def test_refused_in_a_sentence(self):
        self.bad(1, "fact", self.catalogue, "Belt pump", "condition", "worn", "--source", "dreamt", says="dreamt")
        self.bad(1, "fact", self.catalogue, "Belt pump", "condition", "worn", "--source", "told", says="who told")
        self.bad(1, "danger", self.catalogue, "Belt pump", "bees", says="asbestos")
        self.bad(1, "job", self.catalogue, "Belt pump", "polish", says="photograph")
        self.bad(2, "job", self.catalogue, "Belt pump", "clean", "--hands", "none", says="number")
        self.bad(1, "ask", self.catalogue, "Belt pump", "", says="question")
        self.bad(1, "ask", self.catalogue, "No such thing", "What is it?", says="No such thing")
        self.bad(1, "ask", self.catalogue, "Belt pump", "What is it?", "--until", "tomorrow", says="tomorrow")


if __name__ == "__main__":
    unittest.main()
