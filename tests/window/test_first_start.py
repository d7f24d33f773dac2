# SPDX-License-Identifier: GPL-3.0-or-later
"""The first start: from nothing to photos in by keys alone, left and taken up again, and what is refused on the way."""

import pathlib

from driver import Window, WindowTest, has, key, make_photo, shedwalk, type_text, until


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
        return window, pathlib.Path(window.wait("label", lambda text: text.endswith("Hallowby-Orchard.shedwalk")).get_name())

    def places(self, catalogue):
        return [place["path"] if isinstance(place, dict) else place for place in self.sql(catalogue, "SELECT name FROM place ORDER BY id")]

    @staticmethod
    def sql(catalogue, query):
        import sqlite3
        with sqlite3.connect(f"file:{catalogue}/catalogue.db?mode=ro", uri=True) as database:
            return [row[0] for row in database.execute(query)]

    def focused(self, window, role, name):
        node = window.wait(role, name)
        until(f"the focus on {name}", lambda: has(node, "FOCUSED"))
        return node

    def test_from_nothing_to_photos_by_keys_alone(self):
        card = self.make_card()
        window, catalogue = self.begin()
        self.addCleanup(lambda: __import__("shutil").rmtree(catalogue, ignore_errors=True))
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
        self.assertEqual(self.places(catalogue), ["Packing shed", "Loft", "Cold store", "Press house"])
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
        until("the set-up through", lambda: self.sql(catalogue, "SELECT value FROM setting WHERE key = 'set-up'") == ["done"])
