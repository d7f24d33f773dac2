# SPDX-License-Identifier: GPL-3.0-or-later
"""The page Next trip: what is to do there, the van and its load, and the sheet, by real events."""

import datetime
import sqlite3
import subprocess

from driver import WindowTest, cell, click, has, key, shedwalk, type_text, until

TABLE = "To do on the trip"


class Trip(WindowTest):
    def prepare(self):
        today = datetime.date.today()
        self.trip = int(shedwalk("trip", "add", self.catalogue, "--title", "Autumn run", "--first", today + datetime.timedelta(10),
                                 "--last", today + datetime.timedelta(13)))
        for name, asking, mass in (("Copper still", 350, "60 kg"), ("Barrel rack", 400, "120 kg"), ("Sugar scales", 80, "9 kg")):
            shedwalk("item", "add", self.catalogue, name, "--place", "Press house", "--trip", 1, "--asking", asking)
            shedwalk("item", "set", self.catalogue, name, "--mass", mass)
            shedwalk("item", "move", self.catalogue, name, "Bring home")

    def last_day(self):
        with sqlite3.connect(f"file:{self.catalogue}/catalogue.db?mode=ro", uri=True) as database:
            return datetime.date(1970, 1, 1) + datetime.timedelta(*database.execute("SELECT last_day FROM trip WHERE id = ?", [self.trip]).fetchone())

    def show(self):
        window = self.open()
        key("alt+4")
        return window

    @staticmethod
    def lines(window):
        """The rows as (number, what, what to know), parts too."""
        table = window.find("tree table", TABLE) or window.find("table", TABLE)
        if table is None:
            return []
        return [tuple(cell(table, row, column) for column in range(3)) for row in range(table.get_n_rows())]

    def load(self):
        return {thing["name"]: (sum(thing["taken"]), thing["wish"])
                for thing in shedwalk("load", self.catalogue, "--trip", self.trip, "--json")["things"]}

    def test_no_trip_lies_ahead(self):
        window = self.show()
        window.wait("label", "No trip lies ahead")
        window.wait("push button", "Add a trip…").do_action(0)
        until("the form", lambda: window.find("text", "Title"))
        today = datetime.date.today()
        type_text("Autumn run")
        key("Tab")
        type_text(str(today + datetime.timedelta(3)))
        key("Tab")
        type_text(str(today + datetime.timedelta(5)))
        key("Return")
        window.wait("label", lambda text: text.startswith("Autumn run, "))

    def test_its_days_are_changed(self):
        self.prepare()
        window = self.show()
        window.wait("label", lambda text: text.startswith("Autumn run, "))
        click(window.wait("toggle button", "Menu"))
        click(window.wait("push button", "Change a trip…"))
        until("the form with the last one", lambda: window.find("text", "Title") and window.find("text", "Title").get_text(0, -1) == "Autumn run")
        today = datetime.date.today()
        last = window.find("text", "Last day")
        last.grab_focus()
        until("the keyboard in it", lambda: has(last, "FOCUSED"))
        key("ctrl+a")
        type_text(str(today + datetime.timedelta(2)))
        key("Return")
        window.wait("label", lambda text: text.startswith("The last day ") and "is before the first day" in text)
        key("ctrl+a")
        type_text(str(today + datetime.timedelta(12)))
        key("Return")
        window.told("Autumn run: trip changed")
        until("the form gone", lambda: not window.find("text", "Last day"))
        self.assertEqual(self.last_day(), today + datetime.timedelta(12))
        key("ctrl+z")
        window.told("Undone: Autumn run: trip changed")
        self.assertEqual(self.last_day(), today + datetime.timedelta(13))

    def test_the_van_and_its_load(self):
        self.prepare()
        window = self.show()
        window.wait("label", lambda text: text.startswith("Autumn run, "))
        until("all of them, no van is known", lambda: [what for _, what, _ in self.lines(window)][:4] ==
              ["To load (3)", "Barrel rack", "Copper still", "Sugar scales"])
        window.wait("push button", "Van…").do_action(0)
        until("the form", lambda: window.find("text", "It may carry"))
        until("the keyboard in it", lambda: has(window.find("text", "It may carry"), "FOCUSED"))
        type_text("much")
        key("Return")
        window.wait("label", lambda text: "much" in text)
        key("ctrl+a")
        type_text("125 kg")
        key("Return")
        # the rack leaves 400.00; the still and the scales leave 430.00 and weigh 69 kg
        until("the best load", lambda: [what for _, what, _ in self.lines(window)][:5] ==
              ["To load (2)", "Copper still", "Sugar scales", "Stays this time (1)", "Barrel rack"])
        window.wait("label", lambda text: "Run 1: 2 to load, 69 kg. Expected to leave 430" in text)
        self.assertIn(("", "Barrel rack", "others leave more"), self.lines(window))

    def choose(self, window, what):
        """By the keyboard: from the first row on."""
        table = window.find("tree table", TABLE) or window.find("table", TABLE)
        table.grab_focus()
        until("the keyboard on the table", lambda: has(table, "FOCUSED"))
        key("Home")
        key(*["Down"] * [row[1] for row in self.lines(window)].index(what))
        window.wait("label", lambda text: text.startswith(what + ":"))

    def test_must_and_not_this_time(self):
        self.prepare()
        shedwalk("van", self.catalogue, "--payload", "125 kg")
        window = self.show()
        until("the load", lambda: len(self.lines(window)) >= 5)
        self.choose(window, "Barrel rack")
        key("m")
        window.told("Barrel rack: must go in the load")
        until("it loaded", lambda: [what for _, what, _ in self.lines(window)][:3] == ["To load (1)", "Barrel rack", "Stays this time (2)"])
        self.assertEqual(self.load(), {"Barrel rack": (1, "must"), "Copper still": (0, None), "Sugar scales": (0, None)})
        window.wait("label", lambda text: text.startswith("Barrel rack: 120 kg") and "You said that it must go" in text)
        key("ctrl+z")
        window.told("Undone: ")
        until("the best again", lambda: [what for _, what, _ in self.lines(window)][:2] == ["To load (2)", "Copper still"])
        self.choose(window, "Copper still")
        key("n")
        window.told("Copper still: not in the load")
        until("it stays", lambda: ("", "Copper still", "not this time") in self.lines(window))
        self.assertEqual(self.load()["Barrel rack"], (1, None))
        self.choose(window, "Copper still")
        key("p")
        window.told("Copper still: loaded as it pays")
        until("the best again", lambda: [what for _, what, _ in self.lines(window)][:2] == ["To load (2)", "Copper still"])

    def test_the_shortest_walk(self):
        self.prepare()
        for name, latitude in (("A shed", -41.0), ("B shed", -41.002), ("C shed", -41.001)):
            shedwalk("place", "add", self.catalogue, name, "--position", f"{latitude},173.0")
        window = self.show()
        window.wait("label", lambda text: "Shortest by the positions: A shed, C shed, B shed (222 m)." in text)
        window.wait("push button", "Walk it so").do_action(0)
        window.told("The walk goes: A shed, C shed, B shed")
        window.wait("label", lambda text: "Walk: A shed, C shed, B shed, " in text)
        until("the button gone", lambda: window.find("push button", "Walk it so") is None)
        key("ctrl+z")
        window.told("Undone: The walk goes")
        window.wait("push button", "Walk it so")

    def test_the_text_to_a_buyer(self):
        self.prepare()
        shedwalk("item", "add", self.catalogue, "Cider barrel", "--place", "Press house", "--trip", 1)
        table = self.folder / "sold.csv"
        table.write_text("what,ref,item,at,amount,buyer\nsale,S1,Cider barrel,2026-03-01,60,Ann Alder\n", encoding="utf-8")
        shedwalk("book", self.catalogue, table)
        window = self.show()
        window.wait("label", lambda text: text.startswith("Cider barrel: Ann Alder, 60.00 due"))
        table = window.find("tree table", TABLE)
        until("the keyboard on the table", lambda: has(table, "FOCUSED"))
        key("o")
        entry = until("the hours", lambda: window.find("text", "When somebody is there"))
        until("the keyboard in it", lambda: has(entry, "FOCUSED"))
        type_text("Saturday 10 to 16")
        window.wait("push button", "Keep").do_action(0)
        window.told("Hours on site and the way to the gate entered")
        until("the keyboard back", lambda: has(window.find("tree table", TABLE), "FOCUSED"))
        key("t")
        window.told("The text to the buyer is on the clipboard; nothing was sent.")
        self.assertEqual(shedwalk("on-site", self.catalogue, "--trip", self.trip, "--json")["hours"], "Saturday 10 to 16")
        key("s")
        chooser = window.wait("file chooser", "Write the slip for a neighbour")
        entry = until("its name", lambda: window.find("text", "Name:", under=chooser) or window.find("text", None, under=chooser))
        until("the keyboard in it", lambda: has(entry, "FOCUSED"))
        key("ctrl+a")
        type_text(str(self.folder / "slip.pdf"))
        key("Return")
        window.told("slip.pdf written: the slip for a neighbour, 1 page")

    def test_the_last_day(self):
        self.prepare()
        window = self.show()
        until("the lines", lambda: len(self.lines(window)) >= 4)
        window.wait("push button", "Last day…").do_action(0)
        entry = until("the day", lambda: window.find("text", "Everything gone by"))
        until("the keyboard in it", lambda: has(entry, "FOCUSED"))
        type_text("2199-12-01")
        key("Return")
        window.told("The property's last day is 1 December 2199")
        window.wait("label", lambda text: "Last day 1 December 2199: " in text and "1 trip left. 6 things stand unsold" in text)
        # the three that are to come home are decided
        self.assertIn(("", "Before the last day (3)"), [line[:2] for line in self.lines(window)])
        key("ctrl+z")
        window.told("Undone: The property's last day")
        until("gone again", lambda: not any(line[1].startswith("Before the") for line in self.lines(window)))

    def test_the_sheet_is_written(self):
        self.prepare()
        window = self.show()
        until("the lines", lambda: len(self.lines(window)) >= 4)
        window.wait("push button", "Trip sheet…").do_action(0)
        chooser = window.wait("file chooser", "Write the trip sheet")
        entry = until("its name", lambda: window.find("text", "Name:", under=chooser) or window.find("text", None, under=chooser))
        until("the keyboard in it", lambda: has(entry, "FOCUSED"))
        key("ctrl+a")
        target = self.folder / "sheet.pdf"
        type_text(str(target))
        key("Return")
        window.told("sheet.pdf written: the trip sheet, 1 page")
        text = subprocess.run(["pdftotext", target, "-"], check=True, capture_output=True, text=True).stdout
        self.assertIn("Copper still", text)
