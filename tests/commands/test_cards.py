# SPDX-License-Identifier: GPL-3.0-or-later
"""hand-out cards by command: what is printed, and what it does to the walk it is photographed on."""
import os
import subprocess
import unittest

from shed import ShedTest


class CardsTest(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        self.good("place", "add", self.catalogue, "Home", "--off-property")

    def print_cards(self, *more, catalogue=None, name="cards.pdf"):
        """Prints; the report and the path."""
        path = self.path(name)
        return self.good("hand-out", catalogue or self.catalogue, "cards", "--to", path, "--json",
                         *more).json(), path


class Printing(CardsTest):
    def test_one_card_a_place_on_the_property(self):
        report, path = self.print_cards()
        self.assertEqual((report["cards"], report["tags"], report["first_tag"], report["pages"]), (3, 0, None, 2))
        text = subprocess.run(["pdftotext", path, "-"], capture_output=True, text=True, check=True).stdout
        for words in ("Packing shed", "Loft", "in Packing shed", "Press house", "Photograph this", "Old cider works"):
            self.assertIn(words, text)
        self.assertNotIn("Home", text)

    def test_tag_numbers_are_never_printed_twice(self):
        first, path = self.print_cards("--tags", "30")
        self.assertEqual((first["first_tag"], first["tags"], first["pages"]), (1, 30, 4))
        self.good("undo", self.catalogue)
        self.assertEqual(self.print_cards("--tags", "2")[0]["first_tag"], 31)
        self.assertEqual(self.print_cards("--tags", "1")[0]["first_tag"], 33)
        self.good("check", self.catalogue)

    def test_the_same_again_is_the_same_file(self):
        with open(self.print_cards(name="a.pdf")[1], "rb") as one, open(self.print_cards(name="b.pdf")[1], "rb") as two:
            self.assertEqual(one.read(), two.read())

    def test_bad_calls(self):
        self.bad(2, "hand-out", self.catalogue, "banners", "--to", self.path("x.pdf"), says="cards")
        self.bad(2, "hand-out", self.catalogue, "cards", says="--to")
        self.bad(2, "hand-out", self.catalogue, "cards", "--to", self.path("x.pdf"), "--tags", "none")
        self.bad(2, "hand-out", self.catalogue, "cards", "--to", self.path("x.pdf"), "--tags", "0")
        self.bad(1, "hand-out", self.catalogue, "cards", "--to", self.path("x.pdf"), "--tags", "100000", says="2400")
        self.bad(1, "hand-out", self.catalogue, "cards", "--to", self.path("x.txt"), says=".pdf")
        self.bad(1, "hand-out", self.catalogue, "cards", "--to", self.path("no", "x.pdf"), "--tags", "3")
        self.bad(1, "hand-out", self.path("missing.shedwalk"), "cards", "--to", self.path("x.pdf"))
        self.assertEqual(self.print_cards("--tags", "1")[0]["first_tag"], 1)
        self.assertFalse(os.path.exists(self.path("x.pdf")))


if __name__ == "__main__":
    unittest.main()
