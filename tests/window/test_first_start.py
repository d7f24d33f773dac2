# SPDX-License-Identifier: GPL-3.0-or-later
"""The first start: from nothing to photos in by keys alone, left and taken up again, and what is refused on the way."""

import contextlib
import pathlib
import shutil
import sqlite3

import gi

gi.require_version("Gtk", "3.0")
gi.require_version("Gdk", "3.0")
from gi.repository import Gdk, Gtk

from driver import Window, WindowTest, click, extents, has, key, make_photo, shedwalk, type_text, until


def paste(text):
    """From another program (this one), as by the person's own Ctrl+C."""
    Gtk.Clipboard.get(Gdk.SELECTION_CLIPBOARD).set_text(text, -1)
    key("ctrl+v")


class FirstStart(WindowTest):
    def make_card(self):
        """Two days of a trip, a day without one, a note that is no photo."""
        card = self.folder / "card"
        for number, taken in enumerate(("2026:04:03 10:10:00", "2026:04:03 10:10:06", "2026:04:04 11:00:00", "2026:06:20 12:00:00")):
            make_photo(card / f"P{number}.JPG", taken, number)
        (card / "index.txt").write_text("shots")
        return card

    def begin(self):
        """The first step, filled in by keys; where the catalogue will be."""
        window = self.open_start()
        key("ctrl+n")
        name = window.wait("text", "Name")
        until("the focus", lambda: has(name, "FOCUSED"))
        type_text("Hallowby Orchard")
        key("Tab")
        type_text("nzd")
        key("Tab", "ctrl+a")
        type_text("auckland")
        key("Escape")  # the list of zones that fit
        catalogue = pathlib.Path(window.wait("label", lambda text: text.endswith("Hallowby-Orchard.shedwalk")).get_name())
        self.addCleanup(shutil.rmtree, catalogue, ignore_errors=True)
        return window, catalogue

    @staticmethod
    def sql(catalogue, query):
        with contextlib.closing(sqlite3.connect(f"file:{catalogue}/catalogue.db?mode=ro", uri=True)) as database:
            return [row[0] for row in database.execute(query)]

    def setting(self, catalogue, name):
        return self.sql(catalogue, f"SELECT value FROM setting WHERE key = '{name}'")

    def focused(self, window, role, name):
        node = window.wait(role, name)
        until(f"the focus on {name}", lambda: has(node, "FOCUSED"))
        return node

    def test_from_nothing_to_photos_by_keys_alone(self):
        card = self.make_card()
        window, catalogue = self.begin()
        key("Return")
        window.wait("frame", "Hallowby Orchard")
        self.assertEqual(self.sql(catalogue, "SELECT value FROM setting WHERE key IN ('currency', 'zone') ORDER BY key"),
                         ["NZD", "Pacific/Auckland"])
        # places
        self.focused(window, "text", "One place a line")
        type_text("Packing shed")
        key("Return", "Tab")
        type_text("Loft")
        key("Return")
        type_text("Cold store")
        key("Return", "shift+Tab")
        type_text("Press house")
        window.wait("label", "4 places")
        key("ctrl+Return")
        # a trip
        self.focused(window, "text", "Title")
        self.assertEqual(self.sql(catalogue, "SELECT name FROM place ORDER BY id"), ["Packing shed", "Loft", "Cold store", "Press house"])
        type_text("Autumn")
        key("Tab")
        type_text("2026-04-03")
        key("Tab")
        type_text("2026-04-04")
        key("Return")
        # photos
        self.focused(window, "push button", "Choose a folder…")
        self.assertEqual(self.sql(catalogue, "SELECT title FROM trip"), ["Autumn"])
        key("Return")
        window.choose_folder("Folder with the photos", card)
        window.wait("label", "4 photos to bring in")
        window.wait("label", "Trip 1, Autumn: 3 photos of 3 to 4 April 2026")
        window.wait("label", "No trip yet: 1 photo of 20 June 2026")
        window.wait("label", "Orrery K2 (4)")
        window.wait("label", "1 other file is left where it is")
        self.assertEqual(self.sql(catalogue, "SELECT COUNT(*) FROM photo"), [0])
        self.focused(window, "push button", "Bring them in")
        # the day without a trip gets one
        key("alt+t")
        window.wait("label", "Trip 2, June 2026: 1 photo of 20 June 2026")
        self.focused(window, "push button", "Bring them in")
        key("Return")
        window.told("The memory card may be cleared now.")
        photos = shedwalk("photos", catalogue, "--json")
        self.assertEqual(sorted((photo["file"], photo["trip"]) for photo in photos),
                         [("P0.JPG", 1), ("P1.JPG", 1), ("P2.JPG", 1), ("P3.JPG", 2)])
        shedwalk("check", catalogue)
        until("the set-up through", lambda: self.setting(catalogue, "set-up") == ["done"])

    def reopen(self, catalogue):
        self.window.close()
        self.window = Window(catalogue)
        return self.window

    def test_it_is_left_at_every_step_and_taken_up_again(self):
        window, catalogue = self.begin()
        key("Return")
        self.focused(window, "text", "One place a line")
        type_text("Press house")
        until("what is typed is kept", lambda: self.setting(catalogue, "set-up-places") == ["Press house"])
        window = self.reopen(catalogue)
        places = self.focused(window, "text", "One place a line")
        until("what was typed", lambda: places.get_text(0, -1) == "Press house")
        key("ctrl+Return")
        self.focused(window, "text", "Title")
        type_text("Autumn")
        until("what is typed is kept", lambda: self.setting(catalogue, "set-up-trip-title") == ["Autumn"])
        window = self.reopen(catalogue)
        title = self.focused(window, "text", "Title")
        until("what was typed", lambda: title.get_text(0, -1) == "Autumn")
        key("alt+b")
        window.wait("label", "There already: Press house")
        self.focused(window, "text", "One place a line")
        key("alt+l")
        self.focused(window, "text", "Title")
        key("alt+l")
        self.focused(window, "push button", "Choose a folder…")
        until("kept", lambda: self.setting(catalogue, "set-up") == ["photos"])
        window = self.reopen(catalogue)
        self.focused(window, "push button", "Choose a folder…")
        key("Escape")
        window.wait("push button", "Bring photos in…")
        until("through", lambda: self.setting(catalogue, "set-up") == ["done"])
        window = self.reopen(catalogue)
        window.wait("push button", "Bring photos in…")
        # and once more, by the menu
        key("F10")
        click(window.wait("push button", "Set up places and trips…"))
        self.focused(window, "text", "One place a line")

    def test_what_cannot_stand_is_refused_in_place(self):
        window, catalogue = self.begin()
        until("the list of zones gone", lambda: window.wait("text", "Time zone"))
        for field, bad, says, good in (("Time zone", "Atlantis", "Atlantis", "Pacific/Auckland"),
                                       ("Currency", "ABC", "The currency ‘ABC’ is not known", "NZD"),
                                       ("Name", "", "Give the property a name.", "Hallowby Orchard")):
            entry = window.wait("text", field)
            entry.grab_focus()
            until("the focus", lambda: has(entry, "FOCUSED"))
            key("ctrl+a", "BackSpace")
            type_text(bad)
            key("alt+m")
            window.wait("label", lambda text: says in text)
            self.assertFalse(catalogue.exists())
            until("the focus there", lambda: has(window.wait("text", field), "FOCUSED"))
            key("ctrl+a")
            type_text(good)
            key("Escape")
        name = window.wait("text", "Name")
        for bad, says in (("Hallowby\x02 Orchard", "holds a control character"), ("n" * 10001, "too long")):
            key("ctrl+a")
            paste(bad)
            until("it pasted", lambda: len(name.get_text(0, -1)) == len(bad))
            key("Return")
            window.wait("label", lambda text: says in text)
        key("ctrl+a")
        paste("Hallowby\nOrchard")  # two lines pasted are one name
        until("it pasted", lambda: name.get_text(0, -1) == "Hallowby\nOrchard")
        key("Return")
        self.focused(window, "text", "One place a line")
        self.assertEqual(self.setting(catalogue, "name"), ["Hallowby Orchard"])
        places = window.wait("text", "One place a line")
        paste("Press house\n  Loft\n  Loft")
        window.wait("label", "3 places")
        key("ctrl+Return")
        window.wait("label", lambda text: text.startswith("Line 3: ‘Press house > Loft’ stands in line 2 already"))
        key("ctrl+a")
        paste("Press house\r\n\tLo\x1bft")
        until("it pasted", lambda: "\x1bft" in places.get_text(0, -1))
        key("ctrl+Return")
        window.wait("label", lambda text: text.startswith("Line 2: the name holds a control character"))
        key("ctrl+a")
        paste("n" * 10001)
        until("it pasted", lambda: len(places.get_text(0, -1)) == 10001)
        key("ctrl+Return")
        window.wait("label", lambda text: text.startswith("Line 1: the name is too long"))
        self.assertEqual(self.sql(catalogue, "SELECT COUNT(*) FROM place"), [0])
        key("ctrl+a")
        paste("n" * 10000)
        until("it pasted", lambda: len(places.get_text(0, -1)) == 10000)
        key("ctrl+Return")
        self.focused(window, "text", "Title")
        self.assertLessEqual(extents(window.frame)[2], 1400)  # a long name makes no wide window
        for title, first, last, says in (("", "2026-04-03", "2026-04-04", "title"), ("Autumn", "3 April", "2026-04-04", "3 April"),
                                         ("Autumn", "2026-04-04", "2026-04-03", "before the first day"),
                                         ("Autumn", "2026-02-30", "2026-04-03", "2026-02-30")):
            for field, text in (("Title", title), ("First day", first), ("Last day", last)):
                entry = window.wait("text", field)
                entry.grab_focus()
                until("the focus", lambda: has(entry, "FOCUSED"))
                key("ctrl+a", "BackSpace")
                type_text(text)
            key("Return")
            window.wait("label", lambda text: says in text and text.endswith("."))
        self.assertEqual(self.sql(catalogue, "SELECT COUNT(*) FROM trip"), [0])

    def test_a_new_catalogue_leaves_the_open_one_open(self):
        window = self.open()
        key("ctrl+n")
        name = window.wait("text", "Name")
        until("the focus", lambda: has(name, "FOCUSED"))
        frames = until("two windows", lambda: sorted(
            frame.get_name() for frame in (window.app.get_child_at_index(i) for i in range(window.app.get_child_count()))) == ["Orchard", "Shedwalk"])
        self.assertTrue(frames)
        key("alt+b", "ctrl+w")
        until("one window", lambda: window.app.get_child_count() == 1)
        window.wait("radio button", "Takings")

    def test_forms_say_in_place_what_is_wrong(self):
        window = self.open()
        key("alt+2")
        key("F10")
        click(window.wait("push button", "Add a trip…"))
        self.focused(window, "text", "Title")
        for text, then in (("Winter", "Tab"), ("2026-04-05", "Tab"), ("2026-04-04", "Return")):
            type_text(text)
            key(then)
        window.wait("label", lambda text: text.startswith("The last day 4 April 2026 is before the first day"))
        self.focused(window, "text", "Last day")
        key("ctrl+a")
        type_text("2026-04-08")
        key("Return")
        window.wait("label", lambda text: "overlap" in text or "Autumn" in text)
        self.assertEqual(self.sql(self.catalogue, "SELECT COUNT(*) FROM trip"), [1])
