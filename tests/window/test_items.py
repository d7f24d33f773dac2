# SPDX-License-Identifier: GPL-3.0-or-later
"""Items on the Property page: the sheet saved as it is typed, facts and questions, several at once, a call's answers."""

import os
import signal
import sqlite3

from driver import WindowTest, cell, children, click, drag, extents, has, key, make_photo, middle, shedwalk, type_over, type_text, until
from screen import grab


class ItemsTest(WindowTest):
    def show_item(self, name):
        window = self.open()
        key("alt+2")
        window.row("Items", name).do_action(0)
        entry = window.wait("text", "Name")
        until("the sheet of " + name, lambda: entry.get_text(0, -1) == name)
        return window

    def ask(self, sql, *values):
        with sqlite3.connect(f"file:{self.catalogue}/catalogue.db?mode=ro", uri=True) as database:
            return database.execute(sql, values).fetchall()

    def begin(self, window, title, field, text):
        """Opens the form of that title and types into a field of it."""
        window.hidden("push button", "+ " + title).do_action(0)
        self.into(window, field, text)

    @staticmethod
    def into(window, field, text):
        entry = window.hidden("text", field)
        entry.grab_focus()
        until("the focus in " + field, lambda: has(entry, "FOCUSED"))
        type_text(text)

    @staticmethod
    def line(window, begins):
        return until(begins, lambda: window.find("push button", lambda text: text.startswith(begins), showing=False))

    def gone(self, window, begins):
        until("no " + begins, lambda: window.find("push button", lambda text: text.startswith(begins), showing=False) is None)


class Sheet(ItemsTest):
    def test_a_picture_that_came_twice_says_so(self):
        for name, model, minute in (("a", "K2", 0), ("b", "K3", 0), ("c", "K2", 5)):
            make_photo(self.folder / f"card/{name}.jpg", f"2026:04:03 10:0{minute}:00", 1 + minute, model)
        shedwalk("bring-in", self.catalogue, self.folder / "card")
        shedwalk("assign", self.catalogue, 1, 2, 3, "--item", 1)
        window = self.show_item("Screw press")
        until("the captions", lambda: [name.split(", ", 1)[1] for name in window.rows("Photos of the item")] == [
            "a.jpg, looks the same as b.jpg", "b.jpg, looks the same as a.jpg", "c.jpg"])
        window.wait("label", "10:00:00 on 3 April 2026, a.jpg, looks the same as b.jpg")

    def test_what_is_typed_outlives_a_kill(self):
        window = self.show_item("Screw press")
        entry = window.wait("text", "Name")
        click(entry)
        type_over(entry, "Basket press")
        until("the name saved", lambda: self.ask("SELECT name FROM item WHERE id = 1") == [("Basket press",)])
        self.begin(window, "Condition", "Condition", "one stave cracked")
        until("the fact saved", lambda: self.ask("SELECT text, source FROM fact") == [("one stave cracked", "seen")])
        os.kill(window.process.pid, signal.SIGKILL)
        window.process.wait()
        self.window = None
        self.assertEqual(self.ask("SELECT name FROM item WHERE id = 1"), [("Basket press",)])
        shedwalk("check", self.catalogue)

    def test_a_fact_is_changed_while_typed_and_stays_one(self):
        window = self.show_item("Screw press")
        self.begin(window, "Condition", "Condition", "worn")
        until("it saved", lambda: self.ask("SELECT text FROM fact") == [("worn",)])
        type_text(" on one side")
        until("it changed", lambda: self.ask("SELECT text FROM fact") == [("worn on one side",)])
        key("Return")
        until("the form closed", lambda: window.find("text", "Condition", showing=False) is None)
        self.line(window, "Condition: worn on one side  (seen)").do_action(0)
        window.hidden("push button", "Withdraw").do_action(0)
        self.gone(window, "Condition: ")
        history = [row[0] for row in self.ask("SELECT sentence FROM event WHERE subject = 'item' AND subject_id = 1")]
        self.assertIn("Screw press: withdrawn: condition: worn on one side", history)
        key("ctrl+z")
        self.line(window, "Condition: worn on one side")

    def test_told_needs_who_told_it(self):
        window = self.show_item("Screw press")
        self.begin(window, "What is wrong", "What is wrong", "the screw binds")
        key("Tab", "Down", "Down")
        until("the field for who told it", lambda: has(window.hidden("text", "By"), "VISIBLE"))
        self.into(window, "By", "Ina")
        key("Return")
        self.line(window, "What is wrong: the screw binds  (told by Ina)")
        self.assertEqual(self.ask("SELECT source, by_whom FROM fact WHERE withdrawn_us IS NULL"), [("told", "Ina")])

    def test_a_danger_shows_its_caution_and_marks_the_item(self):
        window = self.show_item("Clay pots")
        window.hidden("push button", "+ Danger").do_action(0)
        window.hidden("combo box", "Danger")
        key(*["Down"] * 6)
        window.hidden("push button", "Danger").do_action(0)
        line = self.line(window, "Danger: asbestos")
        self.assertIn("licensed people", line.get_name())
        said = window.hidden("label", lambda text: text.startswith("Never offer before it is cleared"))
        name = window.hidden("text", "Name")
        until("the warning above the fields", lambda: extents(said)[1] + extents(said)[3] <= extents(name)[1])
        self.assertEqual(self.ask("SELECT never_offer FROM item WHERE id = 3"), [(1,)])
        window.told("Clay pots: danger: asbestos")
        key("ctrl+z")
        window.told("Undone: ")
        self.assertEqual(self.ask("SELECT never_offer FROM item WHERE id = 3"), [(0,)])

    def test_money_of_another_country_is_refused_by_name(self):
        window = self.show_item("Screw press")
        asking = window.wait("text", "Asking")
        click(asking)
        type_over(asking, "120 EUR")
        key("Return")
        window.told("The amount ‘120 EUR’ cannot be read: this catalogue keeps its money in NZD")
        self.assertEqual(self.item(1)["asking"], 35000)

    def test_another_program_changes_the_item_meanwhile(self):
        window = self.show_item("Screw press")
        count = window.wait("text", "Count")
        row = extents(window.row("Items", "Sack truck"))
        drawn = grab(row).tobytes()
        shedwalk("item", "set", self.catalogue, "2", "--name", "Hand truck")
        until("the row of the other item drawn anew", lambda: grab(row).tobytes() != drawn)
        shedwalk("item", "set", self.catalogue, "1", "--name", "Basket press")
        name = window.wait("text", "Name")
        until("the other program's name", lambda: name.get_text(0, -1) == "Basket press")
        click(count)
        type_over(count, "4")
        key("Return")
        window.told("Basket press: count 4")
        self.assertEqual((self.item(1)["name"], self.item(1)["count"]), ("Basket press", 4))

    def test_a_photo_is_split_off(self):
        for i in range(2):
            make_photo(self.folder / f"card/p{i}.jpg", f"2026:04:03 10:0{i}:00", i)
        shedwalk("bring-in", self.catalogue, self.folder / "card")
        shedwalk("assign", self.catalogue, 1, 2, "--item", 2)
        window = self.show_item("Sack truck")
        until("its photos", lambda: len(window.rows("Photos of the item")) == 2)
        click(window.wait("push button", "Split off"))
        window.told("Sack truck: 1 photo split off as item 4")
        self.assertEqual([item["photos"] for item in shedwalk("items", self.catalogue, "--json") if item["number"] in (2, 4)], [[2], [1]])

    def test_photos_are_put_in_order(self):
        for i in range(4):
            make_photo(self.folder / f"card/p{i}.jpg", f"2026:04:03 10:0{i}:00", i)
        shedwalk("bring-in", self.catalogue, self.folder / "card")
        shedwalk("assign", self.catalogue, 1, 2, 3, 4, "--item", 2)
        window = self.show_item("Sack truck")
        photos = window.hidden("list", "Photos of the item")
        order = lambda: [name[:5] for name in window.rows("Photos of the item")]
        until("its photos", lambda: order() == ["10:00", "10:01", "10:02", "10:03"])
        photos.grab_focus()
        until("the focus on them", lambda: has(photos, "FOCUSED"))
        key("Right", "shift+Right")
        window.told("Sack truck: photo 2 is now photo 3 of 4")
        until("it behind the next", lambda: order() == ["10:00", "10:02", "10:01", "10:03"])
        key("shift+Right")  # the chosen one is the same: it goes on
        until("it the last", lambda: order() == ["10:00", "10:02", "10:03", "10:01"])
        key("shift+Home")
        until("it the first", lambda: order() == ["10:01", "10:00", "10:02", "10:03"])
        cells = [middle(node) for node in children(photos)]
        drag(cells[3], cells[1])
        until("the last dragged to the second", lambda: order() == ["10:01", "10:03", "10:00", "10:02"])
        self.assertEqual(self.item(2)["photos"], [2, 4, 1, 3])
        for _ in range(4):
            key("ctrl+z")
            window.told("Undone: ")
        until("the first order", lambda: order() == ["10:00", "10:01", "10:02", "10:03"])

    def test_photos_of_the_trip_are_added(self):
        for i in range(4):
            make_photo(self.folder / f"card/p{i}.jpg", f"2026:04:03 10:{i * i:02}:00", i)
        shedwalk("bring-in", self.catalogue, self.folder / "card")
        shedwalk("assign", self.catalogue, 3, "--item", 2)
        window = self.show_item("Sack truck")
        until("its photo", lambda: len(window.rows("Photos of the item")) == 1)
        window.hidden("push button", "Add…").do_action(0)
        # taken at 10:04; those at 10:01, 10:00 and 10:09 are open
        until("the open ones, the nearest first", lambda: [row[:8] for row in window.rows("Open photos of its trip")]
              == ["10:01:00", "10:00:00", "10:09:00"])
        the_list = window.wait("list", "Open photos of its trip")
        until("the focus", lambda: has(the_list, "FOCUSED"))
        key("Return")
        until("it in", lambda: self.item(2)["photos"] == [3, 2])
        until("two left", lambda: len(window.rows("Open photos of its trip")) == 2)
        key("Return")
        until("the next in", lambda: sorted(self.item(2)["photos"]) == [1, 2, 3])
        key("Escape")
        until("the list closed", lambda: window.find("list", "Open photos of its trip") is None)
        key("ctrl+z")
        until("one taken back", lambda: self.item(2)["photos"] == [3, 2])

    def test_it_is_broken_up(self):
        window = self.show_item("Screw press")
        click(window.wait("toggle button", "More for this item"))
        click(window.wait("push button", "Break it up into parts…"))
        parts = window.hidden("text", "Parts, one a line, a count before it")
        until("the focus", lambda: has(parts, "FOCUSED"))
        type_text("Spindle")
        key("Return")
        type_text("2 beams")
        window.hidden("push button", "Break up").do_action(0)
        window.told("Screw press: broken up into 2 parts")
        found = {item["name"]: item["count"] for item in shedwalk("items", self.catalogue, "--json", "--state", "Found")}
        self.assertEqual((found["Spindle"], found["beams"]), (1, 2))


class Several(ItemsTest):
    def show_table(self):
        window = self.open()
        key("alt+2")
        click(window.wait("radio button", "Table"))
        table = until("the table", lambda: window.find("table", "Table of items") or window.find("tree table", "Table of items"))
        return window, table

    @staticmethod
    def names(table):
        return [cell(table, row, 0) for row in range(table.get_n_rows())]

    def test_columns_sort(self):
        window, table = self.show_table()
        until("the rows", lambda: self.names(table) == ["Screw press", "Sack truck", "Clay pots"])
        click(window.find("table column header", "Asking") or window.find("push button", "Asking"))
        until("by price, none last", lambda: self.names(table) == ["Clay pots", "Screw press", "Sack truck"])
        click(window.find("table column header", "Asking") or window.find("push button", "Asking"))
        until("dearest first, none last", lambda: self.names(table) == ["Screw press", "Clay pots", "Sack truck"])

    def test_prices_by_rule_are_one_act(self):
        window, table = self.show_table()
        table.grab_focus()
        until("the focus", lambda: has(table, "FOCUSED"))
        key("ctrl+a")
        window.wait("label", "3 chosen")
        click(window.wait("push button", "Price by rule…"))
        percent = window.wait("text", "Percent")
        until("the focus", lambda: has(percent, "FOCUSED"))
        type_text("-10")
        key("Tab")
        type_text("5")
        key("Return")
        window.told("2 items: asking prices -10.00%")
        # 350.00 - 10 % = 315.00; 60.50 - 10 % = 54.45, to the next 5.00: 55.00; worked by hand
        self.assertEqual([self.item(i)["asking"] for i in (1, 2, 3)], [31500, None, 5500])
        key("ctrl+z")
        window.told("Undone: ")
        self.assertEqual([self.item(i)["asking"] for i in (1, 2, 3)], [35000, None, 6050])

    def test_what_one_may_not_none_does(self):
        window, table = self.show_table()
        table.grab_focus()
        until("the focus", lambda: has(table, "FOCUSED"))
        key("ctrl+a")
        click(window.wait("push button", "State…"))
        window.wait("combo box", "State")
        key("Down")
        click(until("its button", lambda: window.find("push button", "State")))
        window.told("Sack truck cannot become Ready: it has no asking price")
        self.assertEqual({item["state"] for item in shedwalk("items", self.catalogue, "--json")}, {"Found"})

    def test_the_list_is_narrowed_and_widened(self):
        window, table = self.show_table()
        click(window.wait("toggle button", "Narrow down"))
        click(window.wait("check box", "To be priced"))
        key("Escape")
        until("what is to be priced", lambda: self.names(table) == ["Sack truck"])
        click(window.wait("push button", "To be priced, take off"))
        until("everything", lambda: len(self.names(table)) == 3)


class Asking(ItemsTest):
    def test_answers_in_one_pass(self):
        window = self.show_item("Screw press")
        for text in ("Does it turn?", "Do you want it?"):
            self.begin(window, "Question", "Question", text)
            self.into(window, "Ask", "Bram")
            key("Return")
            self.line(window, "Question: " + text)
        shedwalk("item", "set", self.catalogue, "1", "--claim", "mine", "--by", "Ina")
        window.hidden("label", "Ina wants it.")
        if window.find("radio button", "To ask") is None:
            key("alt+Left")
        click(window.wait("radio button", "To ask"))
        click(window.wait("check box", "Asked: Screw press: Does it turn?"))
        window.told("Screw press: Bram was asked: Does it turn?")
        until("it is checked", lambda: has(window.find("check box", "Asked: Screw press: Does it turn?"), "CHECKED"))
        self.assertEqual(self.ask("SELECT asked_us IS NOT NULL FROM question ORDER BY id"), [(1,), (0,)])
        first = window.wait("text", "Answer to: Screw press: Does it turn?")
        click(first)
        until("the focus", lambda: has(first, "FOCUSED"))
        type_text("since spring")
        key("Return")
        second = window.wait("text", "Answer to: Screw press: Do you want it?")
        until("the next one", lambda: has(window.find("text", "Answer to: Screw press: Do you want it?"), "FOCUSED"))
        type_text("mine")
        key("Return")
        window.wait("label", "Screw press: Ina and Bram both say it is theirs.")
        self.assertEqual(self.ask("SELECT answer, answered_by FROM question ORDER BY id"),
                         [("since spring", "Bram"), ("mine", "Bram")])
        key("ctrl+z")
        window.told("Undone: ")
        window.wait("text", "Answer to: Screw press: Do you want it?")
