# SPDX-License-Identifier: GPL-3.0-or-later
"""What is handed out from the window: the pack of an offer, whose photos are looked at first, and the sheets of the menu."""

import os
import subprocess
import unittest

from PIL import Image

from driver import WindowTest, click, has, key, make_photo, name_of, shedwalk, type_text, until

TABLE = """what,outlet,kind,ref,item,start,up
outlet,Board,priced ad,,,,
offer,Board,,P1,Screw press,300.00,2026-04-14
"""


class HandingOut(WindowTest):
    def save(self, window, title, path):
        chooser = window.wait("file chooser", title)
        entry = until("its name entry", lambda: window.find("text", under=chooser))
        until("the focus", lambda: has(entry, "FOCUSED"))
        key("ctrl+a")
        type_text(str(path))
        until("the path", lambda: entry.get_text(0, -1) == str(path))
        key("Return")


class Pack(HandingOut):
    def setUp(self):
        super().setUp()
        for k in range(3):
            make_photo(self.folder / "card" / f"p{k}.jpg", f"2026:04:03 10:00:0{k}", k)
        shedwalk("bring-in", self.catalogue, self.folder / "card")
        shedwalk("assign", self.catalogue, 1, 2, 3, "--item", 1)
        table = self.folder / "money.csv"
        table.write_text(TABLE, encoding="utf-8")
        shedwalk("book", self.catalogue, table)

    def open_pack(self):
        window = self.open()
        key("alt+3")
        click(window.wait("radio button", "Running"))
        until("the offer", lambda: window.rows("Running offers"))
        click(window.row("Running offers", "Screw press"))
        click(window.wait("push button", "Pack…"))
        self.seen(window, 1)
        return window

    @staticmethod
    def seen(window, number):
        """The photo stands there: it can be let go or left out."""
        window.wait("label", f"Photo {number} of 3")
        until("it can be passed", lambda: has(window.find("push button", "It may go"), "SENSITIVE"))

    def look(self, window, keys):
        for k, name in enumerate(keys):
            self.seen(window, k + 1)
            self.assertFalse(has(window.find("push button", "Write the pack…"), "SENSITIVE"))
            key(name)
        button = window.wait("push button", "Write the pack…")
        until("it can be written", lambda: has(button, "SENSITIVE") and has(button, "FOCUSED"))

    def test_nothing_is_written_before_all_are_looked_at(self):
        window = self.open_pack()
        self.assertEqual([name_of(window.find("image", "Photo 1 of 3"))], ["Photo 1 of 3"])
        self.look(window, ("m", "l", "m"))
        window.wait("label", "Each photo is looked at: 2 may go, 1 left out.")
        key("Return")
        self.save(window, "Name a new folder for the pack", self.folder / "pack")
        window.told("pack written: 2 photos, title and text.")
        self.assertEqual(sorted(os.listdir(self.folder / "pack")),
                         ["offer.csv", "offer.html", "offer.txt", "photo-01.jpg", "photo-02.jpg"])
        with Image.open(self.folder / "pack" / "photo-02.jpg") as picture:
            self.assertEqual((picture.format, picture.size, len(picture.getexif())), ("JPEG", (400, 300), 0))

    def test_going_back_and_deciding_otherwise(self):
        window = self.open_pack()
        self.look(window, ("m", "m", "m"))
        key("Left")
        self.seen(window, 3)
        window.wait("label", "May go")
        key("l")
        window.wait("label", "Each photo is looked at: 2 may go, 1 left out.")

    def test_a_folder_that_is_there_can_be_named_anew(self):
        (self.folder / "mine").mkdir()
        (self.folder / "mine" / "kept.txt").write_text("kept", encoding="utf-8")
        window = self.open_pack()
        self.look(window, ("l", "l", "l"))
        key("Return")
        # the chooser steps into a folder that is there: what is named then lies in it
        self.save(window, "Name a new folder for the pack", self.folder / "mine" / "kept.txt")
        window.wait("label", lambda text: "already" in text)
        button = window.wait("push button", "Write the pack…")
        click(button)
        self.save(window, "Name a new folder for the pack", self.folder / "other")
        window.told("other written: 0 photos, title and text.")
        self.assertEqual((self.folder / "mine" / "kept.txt").read_text(encoding="utf-8"), "kept")

    def test_left_by_escape_nothing_is_written(self):
        window = self.open_pack()
        key("m")
        self.seen(window, 2)
        before = sorted(os.listdir(self.folder))
        key("Escape")
        until("the form gone", lambda: window.find("push button", "It may go") is None)
        self.assertEqual(sorted(os.listdir(self.folder)), before)


class Sheets(HandingOut):
    def test_where_things_stand_and_the_inventory(self):
        window = self.open()
        for entry, title, words in (("Where things stand…", "Where things stand as PDF", "Key is with"),
                                    ("Inventory…", "Inventory as PDF", "valued at 410.50 NZD")):
            path = self.folder / (title + ".pdf")
            click(window.wait("toggle button", "Menu"))
            click(window.wait("push button", "Hand out"))
            click(window.wait("push button", entry))
            self.save(window, title, path)
            window.told(f"{path.name} written: 1 page.")
            text = subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True).stdout
            self.assertIn(words, text)
            until("the chooser gone", lambda title=title: window.find("file chooser", title) is None)


if __name__ == "__main__":
    unittest.main()
