# SPDX-License-Identifier: GPL-3.0-or-later
"""Cards and tags from the window: saved as a PDF, sent to the printer's dialog, and the tag on an item's sheet."""

import unittest

from driver import WindowTest, click, has, key, shedwalk, type_text, until


class Cards(WindowTest):
    def form(self, window):
        click(window.wait("toggle button", "Menu"))
        click(window.wait("push button", "Cards and tags…"))
        return window.wait("spin button", "New tags")

    def save(self, window, path):
        click(window.wait("push button", "Save as PDF…"))
        chooser = window.wait("file chooser", "Cards and tags as PDF")
        entry = until("its name entry", lambda: window.find("text", under=chooser))
        until("the focus", lambda: has(entry, "FOCUSED"))
        key("ctrl+a")
        type_text(str(path))
        until("the path", lambda: entry.get_text(0, -1) == str(path))
        key("Return")

    def test_saved_as_a_file(self):
        window = self.open()
        tags = self.form(window)
        tags.grab_focus()
        until("the focus", lambda: has(tags, "FOCUSED"))
        key("ctrl+a")
        type_text("24")
        self.save(window, self.folder / "for the doors")
        window.told("for the doors.pdf written: 3 place cards, tags 1 to 24")
        self.assertTrue((self.folder / "for the doors.pdf").read_bytes().startswith(b"%PDF"))
        self.form(window)
        self.save(window, self.folder / "no" / "such" / "x.pdf")
        until("a word on it", lambda: window.find("status bar", lambda text: "x.pdf" in text or "folder" in text)
              or window.find("alert"))

    def test_tags_alone_on_a_sheet_of_labels(self):
        window = self.open()
        self.form(window)
        labels = window.wait("combo box", "Plain paper, with the cards")
        click(labels)
        click(window.wait("menu item", "Labels of 63.5 x 38.1 mm, tags alone"))
        window.wait("combo box", "Labels of 63.5 x 38.1 mm, tags alone")
        self.save(window, self.folder / "labels.pdf")
        window.told(lambda text: text == "labels.pdf written: tags 1 to 21")

    def test_the_printer_is_asked_and_the_form_left(self):
        window = self.open()
        self.form(window)
        key("Escape")
        until("the form gone", lambda: window.find("spin button", "New tags") is None)
        self.form(window)
        click(window.wait("push button", "Print…"))
        window.wait("dialog", "Print")
        key("Escape")
        until("the dialog gone", lambda: window.find("dialog", "Print") is None or not has(dialog, "SHOWING"))
        window.wait("radio button", "Takings")

    def test_a_tag_stands_on_the_sheet_and_is_searched_for(self):
        shedwalk("item", "set", self.catalogue, 1, "--tag", 17)
        window = self.open()
        key("ctrl+f")
        window.wait("text", "Search items")
        type_text("tag 17")
        until("the item", lambda: [row.split(",")[0] for row in window.rows("Items")] == ["Screw press"])
        click(window.row("Items", "Screw press"))
        window.wait("label", "Item 1, tag 17")


if __name__ == "__main__":
    unittest.main()
