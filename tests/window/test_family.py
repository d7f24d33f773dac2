# SPDX-License-Identifier: GPL-3.0-or-later
"""What leaves as a whole, from the window: the family choice, its answers taken in, tables, an archive."""

import json
import unittest

from driver import Atspi, WindowTest, click, has, key, make_photo, name_of, shedwalk, type_text, until, walk


class Family(WindowTest):
    def menu(self, window, name):
        click(window.wait("toggle button", "Menu"))
        click(window.wait("push button", "Hand out"))
        click(window.wait("push button", name))

    def save(self, window, title, path):
        chooser = window.wait("file chooser", title)
        entry = until("its name entry", lambda: window.find("text", under=chooser))
        until("the focus", lambda: has(entry, "FOCUSED"))
        key("ctrl+a")
        type_text(str(path))
        until("the path", lambda: entry.get_text(0, -1) == str(path))
        key("Return")

    def with_photo(self):
        make_photo(self.folder / "card" / "IMG_1.jpg", "2026:04:03 10:00:00", 3)
        shedwalk("bring-in", self.catalogue, self.folder / "card", "--trip", 1)
        shedwalk("assign", self.catalogue, 1, "--item", 1)

    def rows(self, window):
        table = window.find("table", "Who said what") or window.find("tree table", "Who said what")
        if table is None:
            return []
        width = Atspi.Table.get_n_columns(table)
        cells = [[Atspi.Table.get_accessible_at(table, row, column) for column in range(width)]
                 for row in range(Atspi.Table.get_n_rows(table))]
        # a row may go away meanwhile
        return [["".join(name_of(part) for part in walk(node)) if node is not None else "" for node in row] for row in cells]

    def type_into(self, window, node, text):
        node.grab_focus()
        until("the focus", lambda: has(node, "FOCUSED"))
        type_text(text)
        until("the text", lambda: node.get_text(0, -1) == text)

    def test_the_choice_as_a_page_and_on_paper(self):
        self.with_photo()
        window = self.open()
        self.menu(window, "Family choice…")
        self.type_into(window, window.wait("text", "Put questions to"), "Ruth")
        click(window.wait("check box", "With asking prices"))
        until("the tick", lambda: has(window.find("check box", "With asking prices"), "CHECKED"))
        click(window.wait("push button", "As a page…"))
        self.save(window, "Family choice as a page", self.folder / "choice")
        window.told("choice.html written: 3 items, 1 picture")
        page = (self.folder / "choice.html").read_text(encoding="utf-8")
        for words in ("Screw press", 'value="Ruth"', "350.00 NZD", "data:image/jpeg"):
            self.assertIn(words, page)
        self.menu(window, "Family choice…")
        click(window.wait("push button", "On paper…"))
        self.save(window, "Family choice on paper", self.folder / "choice.pdf")
        window.told("choice.pdf written: 3 items")
        self.assertTrue((self.folder / "choice.pdf").read_bytes().startswith(b"%PDF"))

    def test_inside_the_catalogue_it_is_refused(self):
        window = self.open()
        self.menu(window, "Family choice…")
        click(window.wait("push button", "As a page…"))
        self.save(window, "Family choice as a page", self.catalogue / "choice.html")
        window.told(lambda text: "inside the catalogue" in text)
        self.assertFalse((self.catalogue / "choice.html").exists())

    def test_answers_are_pasted_shown_and_taken_back(self):
        window = self.open()
        self.menu(window, "Answers of the family…")
        window.wait("label", "Nobody has answered yet.")
        text = window.wait("text", "Answers as text")
        until("the focus", lambda: has(text, "FOCUSED"))
        type_text("1 mine: blue wheel, 2 keep")
        until("the text", lambda: text.get_text(0, -1) == "1 mine: blue wheel, 2 keep")
        click(window.wait("push button", "Take in"))
        window.wait("label", lambda told: "name the person" in told)
        self.type_into(window, window.wait("text", "Whose"), "Ruth")
        click(window.wait("push button", "Take in"))
        window.wait("label", "Answers of Ruth: 2 of 2 new.")
        until("the rows", lambda: [r[:4] for r in self.rows(window)] == [
            ["1  Screw press", "Ruth", "mine", "blue wheel"], ["2  Sack truck", "Ruth", "keep", ""]])
        self.assertEqual(text.get_text(0, -1), "")

        # a second one says the same of one thing: both stand, and it shows
        (self.folder / "answers.txt").write_text("1 mine\n", encoding="utf-8")
        by = window.wait("text", "Whose")
        by.grab_focus()
        until("the focus", lambda: has(by, "FOCUSED"))
        key("ctrl+a")
        type_text("Tom")
        until("the name", lambda: by.get_text(0, -1) == "Tom")
        click(window.wait("push button", "Choose a file…"))
        window.choose_folder("Answers of the family", self.folder / "answers.txt")
        window.wait("label", lambda told: "1 clash with somebody" in told and "'mine' was said by Ruth" in told)
        until("both", lambda: [(r[1], r[-1]) for r in self.rows(window) if r[0].startswith("1 ")]
              == [("Ruth", "clash"), ("Tom", "clash")])

        # told twice is told once, and undo takes back one act
        shedwalk("undo", self.catalogue)
        until("one", lambda: [r[1] for r in self.rows(window)] == ["Ruth", "Ruth"])
        shedwalk("undo", self.catalogue)
        window.wait("label", "Nobody has answered yet.")
        key("Escape")
        until("it closed", lambda: window.find("text", "Answers as text") is None)

    def test_tables_and_an_archive(self):
        self.with_photo()
        window = self.open()
        self.menu(window, "Tables…")
        click(window.wait("push button", "Write…"))
        self.save(window, "Folder of tables", self.folder / "tables")
        window.told("tables written: 3 items, 0 sales")
        self.assertEqual(len(json.loads((self.folder / "tables" / "items.json").read_text())["rows"]), 3)
        self.menu(window, "Archive…")
        self.save(window, "Archive: a folder with everything in open formats", self.folder / "kept")
        window.told("kept written: ")
        shedwalk("new", self.folder / "Again.shedwalk", "--from-archive", self.folder / "kept")
        self.assertEqual(shedwalk("items", self.folder / "Again.shedwalk"), shedwalk("items", self.catalogue))


if __name__ == "__main__":
    unittest.main()
