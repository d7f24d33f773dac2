# SPDX-License-Identifier: GPL-3.0-or-later
"""The window where not all is as it should be: the catalogue's folder is renamed while it is open; a person without a home folder,
in a locale that is not UTF-8; a page that cannot be read."""

import os
import sqlite3
import subprocess

from driver import PROGRAM, Window, WindowTest, click, has, key, shedwalk, type_text, until


class OddSurroundings(WindowTest):
    def open_press(self, window):
        key("alt+2")
        window.wait("list", "Plan of the property")
        click(window.row("Items", "Screw press"))

    def name_it(self, window, name):
        entry = window.wait("text", "Name")
        until("its name", lambda: entry.get_text(0, -1) == "Screw press")
        click(entry)
        until("the focus", lambda: has(entry, "FOCUSED"))
        key("ctrl+a")
        until("all of it chosen", lambda: entry.get_n_selections() == 1)
        type_text(name)
        until("the typed name", lambda: entry.get_text(0, -1) == name)
        key("Return")

    def test_the_folder_is_renamed_meanwhile(self):
        """What is entered then is refused with a sentence: nothing is written where it was, nor where it is."""
        window = self.open()
        moved = self.folder / "Moved.shedwalk"
        os.rename(self.catalogue, moved)
        self.open_press(window)
        self.name_it(window, "Cider press")
        window.told(lambda text: "moved" in text)
        self.assertFalse(self.catalogue.exists())
        self.assertEqual(next(i["name"] for i in shedwalk("items", moved, "--json") if i["number"] == 1), "Screw press")

    def test_a_page_that_cannot_be_read_says_so(self):
        """In place of an empty list that looks as if there were nothing."""
        window = self.open()
        self.open_press(window)
        database = sqlite3.connect(self.catalogue / "catalogue.db")
        database.execute("DROP TABLE collected_rate")
        database.commit()
        database.close()
        window.told("Another program changed the catalogue")
        key("alt+3")
        click(window.wait("radio button", "Scrap"))
        window.told(lambda text: "collected_rate" in text)
        key("alt+2")
        window.row("Items", "Screw press")

    def test_no_home_and_a_locale_of_one_byte(self):
        nowhere = {name: "/nonexistent/x" for name in ("HOME", "XDG_CACHE_HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME")}
        locales = self.folder / "locales"
        locales.mkdir()
        subprocess.run(["localedef", "--no-archive", "-i", "en_GB", "-f", "ISO-8859-1", locales / "en_GB.ISO-8859-1"], check=False,
                       capture_output=True)
        self.assertTrue((locales / "en_GB.ISO-8859-1").exists())
        self.window = Window.__new__(Window)
        self.window.start([PROGRAM, str(self.catalogue)],
                          dict(os.environ, LC_ALL="en_GB.ISO-8859-1", LOCPATH=str(locales), **nowhere))
        self.window.wait("radio button", "Takings")
        self.open_press(self.window)
        self.name_it(self.window, "Cider press")
        self.window.told("Screw press")
        self.assertEqual(self.item(1)["name"], "Cider press")
