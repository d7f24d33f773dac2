# SPDX-License-Identifier: GPL-3.0-or-later
"""The window's main job: see the property, change an item, move a box, undo, bring photos in, decide, read takings."""

import sqlite3

from driver import (Heard, WindowTest, cell, children, click, drag, extents, has, key, make_photo, middle, shedwalk, type_over, type_text, until)


def plain(minor):
    """An amount of minor units as the window writes it in the C locale; the currency has two digits."""
    return f"{minor // 100}.{minor % 100:02d}"


class Property(WindowTest):
    def show_property(self):
        window = self.open()
        key("alt+2")
        window.wait("list", "Plan of the property")
        return window

    def test_plan_and_list_say_the_same(self):
        window = self.show_property()
        plan = until("the plan's places", lambda: window.rows("Plan of the property"))
        self.assertEqual(sorted(plan), sorted(window.rows("Places")))
        self.assertIn("Press house, walked, 2 of 2 still stand, asking 350.00\u00a0NZD, 2 to decide, 2 to photograph", plan)
        self.assertIn("Press house > Loft, not walked yet", plan)

    def test_items_of_a_place_with_their_states(self):
        window = self.show_property()
        click(window.row("Places", "Glasshouse"))
        until("the items of the Glasshouse", lambda: len(window.rows("Items")) == 1)
        self.assertEqual(window.rows("Items"), ["Clay pots, Found, 60.50\u00a0NZD, 40 pieces, no photo"])
        plan = window.wait("list", "Plan of the property")
        chosen = [row.get_name() for row in children(plan) if has(row, "SELECTED")]
        self.assertEqual([name.split(",")[0] for name in chosen], ["Glasshouse"])

    def open_item(self, window, name):
        click(window.row("Items", name))
        return window.wait("text", "Name")

    def test_a_name_is_typed_and_taken_back(self):
        window = self.show_property()
        entry = self.open_item(window, "Screw press")
        click(entry)
        type_over(entry, "Cider press")
        key("Return")
        window.told("Screw press")
        self.assertEqual(self.item(1)["name"], "Cider press")
        window.wait("push button", "Undo")
        key("ctrl+z")
        window.told("Undone: ")
        self.assertEqual(self.item(1)["name"], "Screw press")
        key("ctrl+shift+z")
        window.told("Done again: ")
        self.assertEqual(self.item(1)["name"], "Cider press")

    def test_a_step_is_taken_and_another_is_refused_with_its_reason(self):
        window = self.show_property()
        self.open_item(window, "Sack truck")
        ready = window.wait("push button", "Ready")
        self.assertFalse(has(ready, "SENSITIVE"))
        self.assertIn("asking price", ready.get_description())
        click(window.wait("push button", "Kept"))
        window.told("Sack truck")
        self.assertEqual(self.item(2)["state"], "Kept")

    def test_an_amount_that_is_none_is_refused_and_put_back(self):
        window = self.show_property()
        self.open_item(window, "Screw press")
        asking = window.wait("text", "Asking")
        click(asking)
        type_over(asking, "twelve")
        key("Return")
        until("the old amount", lambda: asking.get_text(0, -1) == "350.00")
        self.assertEqual(self.item(1)["asking"], 35000)

    def test_a_box_is_dragged_and_stays(self):
        window = self.show_property()
        box = window.row("Plan of the property", "Glasshouse")
        before = extents(box)
        x, y = middle(box)
        drag((x, y - 12), (x + 90, y + 108))
        window.told("Glasshouse")
        after = extents(window.row("Plan of the property", "Glasshouse"))
        self.assertLessEqual(abs(after[0] - before[0] - 90), 5)
        self.assertLessEqual(abs(after[1] - before[1] - 120), 5)
        with sqlite3.connect(f"file:{self.catalogue}/catalogue.db?mode=ro", uri=True) as database:
            stored = database.execute("SELECT box_x, box_y FROM place WHERE name = 'Glasshouse'").fetchone()
        self.assertNotIn(None, stored)
        key("ctrl+z")
        window.told("Undone: ")
        until("the box where it was", lambda: extents(window.row("Plan of the property", "Glasshouse")) == before)

    def test_arrows_choose_and_shift_moves_the_box(self):
        window = self.show_property()
        plan = window.wait("list", "Plan of the property")
        plan.grab_focus()
        until("the focus", lambda: has(plan, "FOCUSED"))
        key("Right")
        chosen = until("a chosen place", lambda: next((row for row in children(plan) if has(row, "SELECTED")), None))
        name, before = chosen.get_name().split(",")[0], extents(chosen)
        key("shift+Down")
        window.told(name)
        until("the box further down", lambda: extents(window.row("Plan of the property", name))[1] > before[1])


    def test_a_part_is_sold_by_hand(self):
        window = self.show_property()
        self.open_item(window, "Sack truck")
        window.wait("spin button").grab_focus()
        key("ctrl+a")
        type_text("1")
        click(window.wait("push button", "Sold"))
        click(window.wait("text", "Amount"))
        type_text("12.50")
        key("Return")
        until("the sale", lambda: shedwalk("takings", self.catalogue, "--json")["total"]["proceeds"] == 1250)
        states = sorted((item["name"], item["count"], item["state"]) for item in shedwalk("items", self.catalogue, "--json")
                        if item["name"] == "Sack truck")
        self.assertEqual(states, [("Sack truck", 1, "Found"), ("Sack truck", 1, "Sold")])
        key("ctrl+z")
        window.told("Undone: ")
        self.assertEqual(shedwalk("takings", self.catalogue, "--json")["total"]["proceeds"], 0)

    def test_a_hold_asks_for_whom_and_until_when(self):
        window = self.show_property()
        self.open_item(window, "Screw press")
        click(window.wait("push button", "On hold"))
        who = window.wait("text", "For")
        click(who)
        type_text("Ina")
        key("Return")
        window.wait("label", lambda text: text.startswith("Type a day, like "))
        self.assertEqual(self.item(1)["state"], "Found")
        click(window.wait("text", "Until"))
        type_text("2027-03-01")
        key("Return")
        window.told("Screw press")
        self.assertEqual(self.item(1)["state"], "On hold")
        window.wait("label", "Kept back for Ina until 1 March 2027.")

    def test_search_finds_over_all_places(self):
        window = self.show_property()
        click(window.row("Places", "Glasshouse"))
        until("the items of the Glasshouse", lambda: len(window.rows("Items")) == 1)
        click(window.wait("push button", "All places"))
        key("ctrl+f")
        type_text("scr pr")  # beginnings of words, also of the place
        until("what was searched for", lambda: [row.split(",")[0] for row in window.rows("Items")] == ["Screw press"])


class PhotosIn(WindowTest):
    def make_card(self):
        """Three stops of four photos, minutes apart, on a day of the trip."""
        card = self.folder / "card"
        for stop in range(3):
            for shot in range(4):
                make_photo(card / "DCIM" / f"P{stop}{shot}.JPG", f"2026:04:04 10:{10 + stop * 9:02d}:{shot * 6:02d}",
                           stop * 100 + shot)
        return card

    def bring_in(self, window, card):
        window.bring_in(card)
        window.told("The memory card may be cleared now.")
        return until("the stops", window.stops)

    def test_photos_come_in_and_are_decided(self):
        window = self.open()
        card = self.make_card()
        with Heard() as heard:
            stops = self.bring_in(window, card)
        self.assertTrue([text for text in heard.texts if text.startswith(("Looking", "Copying", "Comparing", "Sorting"))],
                        heard.texts)
        self.assertEqual(len(shedwalk("photos", self.catalogue, "--json")), 12)
        proposed = shedwalk("pair", self.catalogue, "--trip", 1, "--json")["stops"]
        self.assertEqual(len(stops), len(proposed))
        self.assertTrue(stops[0].startswith("Stop 1, "), stops[0])
        self.decide_first(window, proposed)
        self.give_and_open_again(window, proposed)

    def photos_of(self, number):
        return sorted(self.item(number)["photos"])

    def decide_first(self, window, proposed):
        before = len(shedwalk("items", self.catalogue, "--json"))
        window.wait("list", "Stops").grab_focus()
        key("Home", "a")
        until("the first stop decided", lambda: "Decided" in window.stops()[0])
        items = shedwalk("items", self.catalogue, "--json")
        made = [item for item in items if sorted(item["photos"]) == sorted(proposed[0]["photos"])]
        self.assertEqual(len(made), 1)
        self.assertEqual(len(items), before + (1 if proposed[0]["is_new"] else 0))

    def give_and_open_again(self, window, proposed):
        window.wait("list", "Stops").grab_focus()
        key("End", "g")
        window.wait("text", "Name of the item")
        type_text("Screw")
        until("the item searched for", lambda: [row.split(",")[0] for row in window.rows("Items of that name")] == ["Screw press"])
        key("Return")
        window.told("Screw press: ")
        self.assertEqual(self.photos_of(1), sorted(proposed[-1]["photos"]))
        window.wait("list", "Stops").grab_focus()
        key("End", "u")
        window.told(f"{len(proposed[-1]['photos'])} photos open again")
        self.assertEqual(self.photos_of(1), [])
        key("ctrl+z")
        window.told("Undone: ")
        until("the photos back", lambda: self.photos_of(1) == sorted(proposed[-1]["photos"]))
        self.give_one(window, proposed)

    def give_one(self, window, proposed):
        """Only the photo shown goes; the rest of the stop stays with its item."""
        click(window.row("Stops", f"Stop {len(window.stops())},"))
        window.wait("list", "Stops").grab_focus()
        key("o")
        window.wait("label", "Decides on the 1 photo picked alone")
        click(window.wait("push button", "Give to… (G)"))
        window.wait("text", "Name of the item")
        type_text("Clay")
        until("the item searched for", lambda: [row.split(",")[0] for row in window.rows("Items of that name")] == ["Clay pots"])
        key("Return")
        window.told("Clay pots: 1 photo given to it")
        self.assertEqual(self.photos_of(3), [proposed[-1]["photos"][0]])
        self.assertEqual(self.photos_of(1), sorted(proposed[-1]["photos"][1:]))

    def test_the_same_card_again_takes_nothing(self):
        window = self.open()
        card = self.make_card()
        self.bring_in(window, card)
        window.bring_in(card)
        window.wait("label", lambda text: text.startswith("0 photos taken") and "12 there already" in text)
        self.assertEqual(len(shedwalk("photos", self.catalogue, "--json")), 12)


BOOK = """what,outlet,kind,from,charge,on,flat,tiers,ref,item,start,up,closes,at,result,amount,buyer
outlet,Old Lane Rooms,auction,,,,,,,,,,,,,,
charge,Old Lane Rooms,,2026-01-01,commission,price,,100:10%;:5%,,,,,,,,,
offer,Old Lane Rooms,,,,,,,A1,Screw press,50,2026-04-20,2026-05-01,,,,
result,,,,,,,,A1,,,,,2026-05-01,sold,333.33,Ina
"""


class Takings(WindowTest):
    def cells(self, window):
        """The table as rows of text, header first."""
        table = window.find("table", "Takings") or window.find("tree table", "Takings")
        if table is None:
            return []
        grid = table
        return [[cell(grid, row, column) for column in range(grid.get_n_columns())]
                for row in range(grid.get_n_rows())]

    def expected(self, *how):
        told = shedwalk("takings", self.catalogue, "--json", *how)
        return [[plain(row[column]) for column in ("proceeds", "fees", "takings", "costs", "owed")]
                for row in [*told["rows"], told["total"]]]

    def figures(self, window):
        # the running total stands behind the takings
        return [row[-6:-3] + row[-2:] for row in self.cells(window)]

    def test_another_program_books_and_the_window_follows(self):
        window = self.open()
        key("alt+5")
        window.wait("label", "Nothing sold yet")
        book = self.folder / "book.csv"
        book.write_text(BOOK, encoding="utf-8")
        shedwalk("book", self.catalogue, book)
        # 10% of the first 100, 5% of the rest: 10.00 + 11.67 (11.6665 half-up), worked by hand
        until("what was booked", lambda: self.figures(window) == self.expected())
        self.assertEqual(self.figures(window)[-1][:3], ["333.33", "21.67", "311.66"])
        window.wait("toggle button", lambda text: "311.66" in text)
        for view, words in (("sold it", ("--credit", "sold")), ("handed it over", ("--credit", "handed-over"))):
            click(window.wait("radio button", view))
            until(view, lambda words=words: self.figures(window) == self.expected(*words))
        click(window.wait("radio button", "outlet"))
        until("rows by outlet", lambda: self.cells(window) and self.cells(window)[0][0] == "Old Lane Rooms")
        key("F9")
        window.wait("combo box", lambda text: True)
