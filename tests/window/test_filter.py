# SPDX-License-Identifier: GPL-3.0-or-later
"""The list of items narrowed down: each filter by itself, several at once, and the search while it is typed."""

import sqlite3

from driver import WindowTest, click, has, key, make_photo, shedwalk, type_text, until

SCREW, TRUCK, POTS = "Screw press", "Sack truck", "Clay pots"


class Filter(WindowTest):
    def setUp(self):
        super().setUp()
        shedwalk("trip", "add", self.catalogue, "--title", "Winter", "--first", "2026-06-05", "--last", "2026-06-07")
        make_photo(self.folder / "card/press.jpg", "2026:04:04 10:05:00", 1)
        shedwalk("bring-in", self.catalogue, self.folder / "card", "--trip", 1)
        shedwalk("assign", self.catalogue, 1, "--item", 1)
        shedwalk("item", "set", self.catalogue, 1, "--mass", "80 kg")
        shedwalk("item", "set", self.catalogue, 3, "--mass", "2 kg")
        shedwalk("item", "set", self.catalogue, 2, "--claim", "open", "--by", "Ina")
        shedwalk("item", "move", self.catalogue, 3, "Kept")
        # what only the window sets
        with sqlite3.connect(f"{self.catalogue}/catalogue.db") as database:
            outlet = database.execute("INSERT INTO outlet (name, kind, rounding) VALUES ('Valley rooms', 'auction', 'half-up')").lastrowid
            database.execute("UPDATE item SET outlet = ? WHERE id = 1", (outlet,))
            database.execute("UPDATE item SET trip = 2, waits = 'later' WHERE id = 3")
            database.execute("UPDATE item SET size_class = 'hand' WHERE id = 2")
            database.execute("INSERT INTO fact (item, kind, text, source, at_us) VALUES (1, 'danger', 'heavy lift', 'seen', 0)")
            database.execute("UPDATE item_search SET facts = 'danger heavy lift' WHERE rowid = 1")
            database.execute("INSERT INTO question (item, text, person) VALUES (2, 'Whose is it?', 'Ina')")
            database.execute("INSERT INTO job (item, kind) VALUES (3, 'photograph')")

    def show(self):
        window = self.open()
        key("alt+2")
        self.until_names(window, SCREW, TRUCK, POTS)
        return window

    @staticmethod
    def until_names(window, *names):
        until(f"{names} alone", lambda: [row.split(",")[0] for row in window.rows("Items")] == list(names))

    @staticmethod
    def choices(window):
        button = window.wait("toggle button", "Narrow down")
        if not has(button, "CHECKED"):
            click(button)
        return until("the choices", lambda: window.find("push button", "Show all"))

    def take_off(self, window, word):
        key("Escape")
        until("the choices gone", lambda: window.find("push button", "Show all") is None)
        click(window.wait("push button", lambda text: text.startswith(word) and text.endswith(", take off")))
        self.until_names(window, SCREW, TRUCK, POTS)

    def test_each_mark_by_itself(self):
        window = self.show()
        for word, names in (("To be priced", [TRUCK]), ("Questions open", [TRUCK]), ("Claimed", [TRUCK]), ("Danger", [SCREW]),
                            ("Job on site", [POTS]), ("No photo", [TRUCK, POTS]), ("No size", [SCREW, POTS]), ("Put off", [POTS])):
            with self.subTest(word):
                self.choices(window)
                click(window.wait("check box", word))
                self.until_names(window, *names)
                self.take_off(window, word)

    def test_state_trip_and_outlet(self):
        window = self.show()
        for name, begins, names in (("State", "Kept", [POTS]), ("Trip", "Trip 2", [POTS]), ("Outlet", "Valley rooms", [SCREW])):
            with self.subTest(name):
                self.choices(window)
                click(window.wait("combo box", name))
                entry = until(begins, lambda: window.find("menu item", lambda text, word=begins: text.startswith(word)))
                click(entry)
                self.until_names(window, *names)
                self.take_off(window, begins)

    def test_price_and_mass(self):
        window = self.show()
        for name, text, names in (("Asking from", "100", [SCREW]), ("Asking to", "100", [POTS]), ("Mass from", "10 kg", [SCREW]),
                                  ("Mass to", "10 kg", [POTS])):
            with self.subTest(name):
                self.choices(window)
                entry = window.wait("text", name)
                click(entry)
                type_text(text)
                self.until_names(window, *names)
                self.take_off(window, name)
        self.choices(window)
        click(window.wait("text", "Mass from"))
        type_text("heavy")
        window.wait("label", lambda text: text.startswith("The mass") and "heavy" in text and "cannot be read" in text)
        self.until_names(window, SCREW, TRUCK, POTS)

    def test_several_at_once_and_all_again(self):
        window = self.show()
        self.choices(window)
        click(window.wait("check box", "No photo"))
        click(window.wait("check box", "Put off"))
        self.until_names(window, POTS)
        click(window.wait("check box", "Danger"))
        window.wait("label", lambda text: text.startswith("Nothing here is like that"))
        click(self.choices(window))
        self.until_names(window, SCREW, TRUCK, POTS)

    def test_found_while_it_is_typed(self):
        window = self.show()
        key("ctrl+f")
        search = window.wait("text", "Search items")
        until("the focus", lambda: has(search, "FOCUSED"))
        for text, names in (("s", [SCREW, TRUCK]), ("sc", [SCREW]), ("glass", [POTS]), ("3", [POTS]), ("heavy", [SCREW]),
                            ("SACK tru", [TRUCK]), ("press h", [SCREW, TRUCK]), ("\"quoted' *", [])):
            with self.subTest(text):
                key("ctrl+a")
                type_text(text)
                if names:
                    self.until_names(window, *names)
                else:
                    window.wait("label", lambda said: said.startswith("Nothing here is like that"))
        key("ctrl+a", "BackSpace")
        self.until_names(window, SCREW, TRUCK, POTS)

    def test_rows_say_what_wants_care(self):
        window = self.show()
        rows = window.rows("Items")
        self.assertIn("1 photo, danger", rows[0])
        self.assertIn("claim, 1 question", rows[1])
        self.assertIn("1 job", rows[2])
