# SPDX-License-Identifier: GPL-3.0-or-later
"""hand-out standing and inventory by command: read back from the pages."""
import os
import re
import subprocess
import unittest

import pictures
from shed import ShedTest, words_on

TABLE = """what,outlet,kind,ref,item,start,up,closes,collect_days,at,result,amount,buyer,until
outlet,Board,priced ad,,,,,,14,,,,,
offer,Board,,P1,Ladder,60.00,2026-05-01,,,,,,,
result,,,P1,,,,,,2026-05-03,sold,55.00,Bea Buyer,
offer,Board,,P2,Bench,40.00,2026-05-01,2026-05-20,,,,,,
hold,,,,Crates,,,,,2026-05-02,,,Cal Caller,2026-05-09
"""


def pages(path):
    """The text of each page."""
    text = words_on(path, "-layout")
    return text.rstrip("\f").split("\f")


class SheetTest(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()

    def write(self, kind, name="sheet.pdf"):
        to = self.path(name)
        report = self.good("hand-out", self.catalogue, kind, "--to", to, "--json").json()
        text = pages(to)
        self.assertEqual(report["pages"], len(text))
        info = subprocess.run(["pdfinfo", to], capture_output=True, text=True, check=True).stdout
        self.assertIn(f"Pages:           {len(text)}", info)
        return report, "\n".join(text)


class Standing(SheetTest):
    def test_an_empty_catalogue_says_that_nothing_waits(self):
        _, text = self.write("standing")
        for sentence in ("Nothing sold waits", "Nothing is held", "Nobody owes anything", "No offer runs", "No question is open"):
            self.assertIn(sentence, re.sub(r"\s+", " ", text))
        self.assertIn("Packing shed > Loft", text)
        self.assertIn("Key is with", text)

    def test_promises_holds_dues_offers(self):
        for name in ("Ladder", "Bench", "Crates"):
            self.add_item(name, "Packing shed > Loft", "--asking", "70.00")
        self.good("book", self.catalogue, pictures.write(self.folder, "money.csv", TABLE.encode()))
        _, text = self.write("standing")
        promised = re.search("Promised(.*?)On hold", text, re.S).group(1)
        for words in ("Bea Buyer", "1 Ladder, in Packing shed > Loft", "2026-05-17", "55.00"):
            self.assertIn(words, re.sub(" +", " ", promised))
        self.assertRegex(text, r"3\s+Crates\s+Cal Caller\s+2026-05-09")
        self.assertRegex(text, r"P1\s+Ladder\s+Bea Buyer\s+55.00")
        self.assertRegex(text, r"P2\s+Bench\s+Board\s+2026-05-20")
        self.assertNotIn("Nobody owes", text)

    def test_claims(self):
        number = self.add_item("Wall clock")
        for name in ("Ada", "Ben"):
            self.good("item", "set", self.catalogue, str(number), "--claim", "mine", "--by", name)
        _, text = self.write("standing")
        self.assertRegex(text, r"Wall clock\s+Ada\s+mine; so says another")
        self.assertRegex(text, r"Wall clock\s+Ben\s+mine; so says another")

    def test_long_names_stay_on_the_page(self):
        words = "A very long name of a thing that nobody would ever give, " * 4
        number = self.add_item(words.strip())
        self.good("item", "set", self.catalogue, str(number), "--claim", "open", "--by", "A person with a name " * 9)
        self.write("standing")
        box = words_on(self.path("sheet.pdf"), "-bbox")
        right = max(float(x) for x in re.findall(r'xMax="([0-9.]+)"', box))
        self.assertLess(right, 595.28 - 40)

    def test_bad_targets(self):
        for kind in ("standing", "inventory"):
            self.bad(1, "hand-out", self.catalogue, kind, "--to", self.path("x.txt"), says=".pdf")
            self.bad(1, "hand-out", self.catalogue, kind, "--to", self.path("no", "x.pdf"), says="written")
            self.bad(1, "hand-out", self.catalogue, kind, "--to", os.path.join(self.catalogue, "x.pdf"), says="inside")
            os.mkdir(self.path(kind + ".pdf"))
            self.bad(1, "hand-out", self.catalogue, kind, "--to", self.path(kind + ".pdf"), says="folder")


class Inventory(SheetTest):
    def test_values_and_what_they_rest_on(self):
        self.add_item("Ladder", "Packing shed > Loft", "--asking", "70.25")
        self.add_item("Bench", "Press house", "--asking", "10.05", "--count", "3")
        self.add_item("Vat", "Press house")
        gone = self.add_item("Stool", "Press house", "--asking", "500.00")
        self.good("item", "move", self.catalogue, str(gone), "Kept")
        self.good("item", "set", self.catalogue, "1", "--claim", "open", "--by", "Ada Orchard")
        report, text = self.write("inventory")
        self.assertEqual((report["items"], report["pictures"]), (3, 0))
        self.assertIn("3 items that still stand, valued at 80.30 NZD", text)
        self.assertIn("1 of them are not valued", text)
        self.assertRegex(text, r"2\s+Bench \(3 pieces\)\s+10.05")
        self.assertEqual(text.count("asking price"), 2)
        for private in ("Stool", "Ada"):
            self.assertNotIn(private, text)
        self.assertLess(text.index("Packing shed > Loft"), text.index("Press house"))

    def test_many_items_go_over_pages_and_none_is_parted(self):
        for k in range(25):
            self.add_item(f"Thing {k}")
        report, _ = self.write("inventory")
        self.assertGreaterEqual(report["pages"], 3)
        whole = pages(self.path("sheet.pdf"))
        for k in range(25):
            page = [t for t in whole if re.search(rf"Thing {k}\b", t)]
            self.assertEqual(len(page), 1)
            self.assertEqual(sum(t.count("not valued") for t in page) >= 1, True)


if __name__ == "__main__":
    unittest.main()
