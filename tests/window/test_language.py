# SPDX-License-Identifier: GPL-3.0-or-later
"""The window in another language: German, with its dates, its money and its letters to press."""

import os
import pathlib
import re
import subprocess
import tempfile

from driver import Window, WindowTest, children, click, has, is_showing, key, name_of, shedwalk, until

PO = pathlib.Path(__file__).parents[2] / "ui" / "po" / "de.po"
# Words that are the same in both languages, and what a person typed.
SAME = {"Name", "Shedwalk", "Orchard", "Loft", "Packing shed", "Screw press", "Autumn", "Home", "Trip 1"}


def english_of_german():
    """Every English sentence without a placeholder whose German is another one."""
    text = PO.read_text(encoding="utf-8")
    pairs = re.findall(r'^msgid "((?:[^"\\]|\\.)+)"\nmsgstr "((?:[^"\\]|\\.)+)"$', text, re.M)
    return {one.replace("_", "") for one, other in pairs
            if "%" not in one and one.replace("_", "") != other.replace("_", "")} - SAME


class German(WindowTest):
    def setUp(self):
        super().setUp()
        self.locales = tempfile.TemporaryDirectory(prefix="shedwalk-locale-")
        self.addCleanup(self.locales.cleanup)
        # from the locale sources of the GNU C Library, as the machine need not have it made
        subprocess.run(["localedef", "--no-archive", "-i", "de_DE", "-f", "UTF-8", self.locales.name + "/de_DE.UTF-8"],
                       check=False, capture_output=True)
        kept = {name: os.environ.get(name) for name in ("LC_ALL", "LOCPATH")}
        self.addCleanup(self.put_back, kept)
        shedwalk("item", "add", self.catalogue, "Screw press", "--place", "Press house > Loft", "--trip", 1, "--asking", "1234.50")
        os.environ.update(LC_ALL="de_DE.UTF-8", LOCPATH=self.locales.name)

    @staticmethod
    def put_back(kept):
        for name, value in kept.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value

    def names(self, node):
        yield name_of(node)
        for child in children(node):
            if is_showing(child):
                yield from self.names(child)

    def test_pages(self):
        """Nothing on any page says in English what German has other words for; money and dates are written as there."""
        window = self.window = Window(self.catalogue)
        window.wait("radio button", "Erlös")
        english = english_of_german()
        self.assertIn("Property", english)
        for letter, page in enumerate(("Foto-Eingang", "Anwesen", "Im Angebot", "Nächste Fahrt", "Erlös"), 1):
            key(f"alt+{letter}")
            until(page, lambda: window.find("radio button", page))
            until("the page chosen", lambda: has(window.find("radio button", page), "CHECKED"))
            left = sorted({name for name in self.names(window.frame) if name in english})
            self.assertEqual(left, [], page)
        key("alt+2")
        until("the price", lambda: any("1.234,50" in name for name in self.names(window.frame)))

    def test_money_and_days_within_sentences(self):
        """What the records say of money and days is written as the window writes it; files and commands keep theirs."""
        table = self.folder / "money.csv"
        table.write_text("what,outlet,kind,ref,item,up,at,result\noutlet,Yard,scrap yard,,,,,\noutlet,Hill Road,auction,,,,,\n"
                         "offer,Hill Road,,A1,1,2026-04-14,,\nresult,,,A1,,,2026-04-20,no sale\n", encoding="utf-8")
        shedwalk("item", "set", self.catalogue, 1, "--mass", "2 t", "--scrap-class", "cast iron")
        shedwalk("book", self.catalogue, table)
        shedwalk("yard", "rate", self.catalogue, "Yard", "cast iron", "1234.50", "--from", "2026-01-01")
        window = self.window = Window(self.catalogue)
        window.wait("radio button", "Erlös")
        key("alt+3")
        click(window.wait("radio button", "Unverkauft"))
        # the window's own figure, and what the records say of it
        window.wait("label", lambda text: "2.469,00" in text and "1.234,50 je Tonne" in text and "1. Januar 2026" in text)
        self.assertIn("1234.50", shedwalk("yard", "rate", self.catalogue, "Yard", "cast iron", "1234.50", "--from", "2026-01-02"))

    def test_letters(self):
        """The menu's letters are the German ones."""
        window = self.window = Window(self.catalogue)
        window.wait("radio button", "Erlös")
        key("F10")
        until("the menu", lambda: any(name.startswith("Info zu Shedwalk") for name in self.names(window.app)))


if __name__ == "__main__":
    import unittest

    unittest.main()
