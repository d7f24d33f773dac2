# SPDX-License-Identifier: GPL-3.0-or-later
"""The plan is sketched: boxes drawn, named, nested, moved and sized, by the pointer and by keys alone, and all taken back."""

import sqlite3
import time

from driver import (WindowTest, children, click, drag, extents, has, key, make_photo, middle, shedwalk, spin, type_text, until, walk,
                    xdo)

PLAN = "Plan of the property"


class Plan(WindowTest):
    def show_plan(self):
        window = self.open()
        key("alt+2")
        window.row(PLAN, "Glasshouse")
        return window

    def ask(self, sql, *values):
        with sqlite3.connect(f"file:{self.catalogue}/catalogue.db?mode=ro", uri=True) as database:
            return database.execute(sql, values).fetchall()

    def paths(self):
        return [row[0] for row in self.ask("SELECT path FROM place ORDER BY path")]

    @staticmethod
    def agree(window):
        """The plan and the list have the same places in the same order, and say the same of each."""
        return until("plan and list agreeing", lambda: window.rows(PLAN) and window.rows(PLAN) == window.rows("Places"))

    @staticmethod
    def ground(window):
        """A spot of the plan to the right of and below all boxes, and one a box away from it."""
        x, y, width, _ = extents(window.wait("list", PLAN))
        bottom = max(top + height for _, top, _, height in (extents(row) for row in children(window.wait("list", PLAN))))
        view = until("the plan's view", lambda: window.find("scroll pane", under=window.frame))
        _, view_y, _, view_height = extents(view)
        top = min(bottom + 12, view_y + view_height - 90)
        return (x + width - 200, top), (x + width - 40, top + 76)

    @staticmethod
    def name_it(window, words, name):
        entry = window.wait("text", words)
        until("the focus in it", lambda: has(entry, "FOCUSED"))
        type_text(name)
        key("Return")
        until("the popover gone", lambda: window.find("text", words) is None)

    def draw(self, window, name, start, end, words="New place"):
        drag(start, end)
        self.name_it(window, words, name)
        return window.row(PLAN, name)

    def choose(self, window, name):
        """Chooses by arrow keys, the focus on the plan."""
        plan = window.wait("list", PLAN)
        plan.grab_focus()
        until("the focus", lambda: has(plan, "FOCUSED"))
        window.row(PLAN, name)
        for step in ("Down", "Right", "Up", "Left") * 3:
            if has(window.row(PLAN, name), "SELECTED"):
                break
            before = self.chosen(window)
            key(step)
            self.wait_moved(window, before)
        until(name + " chosen", lambda: has(window.row(PLAN, name), "SELECTED"))
        return plan


    @staticmethod
    def chosen(window):
        return next((row.get_name() for row in children(window.find("list", PLAN)) if has(row, "SELECTED")), "")

    def wait_moved(self, window, before):
        """An arrow key that points at nothing moves nothing; the next is not pressed while this one may still be under way."""
        end = time.monotonic() + 2
        while time.monotonic() < end and self.chosen(window) == before:
            spin()


class Pointer(Plan):
    def test_a_box_is_drawn_and_named_at_once(self):
        window = self.show_plan()
        start, end = self.ground(window)
        box = self.draw(window, "Cooperage", start, end)
        x, y, width, height = extents(box)
        self.assertLessEqual(abs(x - start[0]), 6)
        self.assertLessEqual(abs(width - (end[0] - start[0])), 6)
        self.assertLessEqual(abs(height - (end[1] - start[1])), 6)
        window.told("Cooperage drawn on the plan")
        self.assertIn("Cooperage, not walked yet", window.rows("Places"))
        self.agree(window)
        key("ctrl+z")
        window.told("Undone: ")
        until("it gone again", lambda: not any(row.startswith("Cooperage") for row in window.rows(PLAN)))
        key("ctrl+shift+z")
        window.row(PLAN, "Cooperage")
        self.agree(window)

    def test_it_is_given_up_and_a_name_that_is_taken_is_refused_in_place(self):
        window = self.show_plan()
        start, end = self.ground(window)
        drag(start, end)
        entry = window.wait("text", "New place")
        until("the focus in it", lambda: has(entry, "FOCUSED"))
        type_text("glasshouse")
        key("Return")
        window.wait("label", lambda text: text.startswith("There is a place 'Glasshouse' already"))
        self.assertTrue(has(window.wait("text", "New place"), "FOCUSED"))
        key("Escape")
        until("the popover gone", lambda: window.find("text", "New place") is None)
        self.assertEqual(self.paths(), ["Glasshouse", "Press house", "Press house > Loft"])
        self.assertEqual(len(window.rows(PLAN)), 3)

    def test_a_room_is_drawn_in_a_building(self):
        window = self.show_plan()
        switch = window.wait("toggle button", "Draw rooms")
        switch.do_action(0)
        until("drawing on", lambda: has(switch, "CHECKED"))
        x, y, width, height = extents(window.row(PLAN, "Glasshouse"))
        drag((x + width // 3, y + height // 3), (x + width - 12, y + height - 12))
        self.name_it(window, "New place in Glasshouse", "Bench")
        room = window.row(PLAN, "Glasshouse > Bench")
        inner = extents(room)
        self.assertTrue(inner[0] >= x and inner[1] >= y and inner[0] + inner[2] <= x + width and inner[1] + inner[3] <= y + height)
        self.agree(window)
        # the same with Shift, drawing switched off
        switch.do_action(0)
        until("drawing off", lambda: not has(switch, "CHECKED"))
        x, y, width, height = extents(window.row(PLAN, "Press house"))
        xdo("keydown", "shift")
        try:
            drag((x + width - 150, y + 10), (x + width - 10, y + 70))
        finally:
            xdo("keyup", "shift")
        self.name_it(window, "New place in Press house", "Porch")
        window.row(PLAN, "Press house > Porch")

    def test_a_box_is_dragged_into_another_and_out_again(self):
        window = self.show_plan()
        start, _ = self.ground(window)
        box = self.draw(window, "Store", start, (start[0] + 70, start[1] + 50))
        x, y, width, height = extents(window.row(PLAN, "Glasshouse"))
        drag(middle(box), (x + width - 45, y + height - 35))
        window.told("Store is now Glasshouse > Store")
        box = window.row(PLAN, "Glasshouse > Store")
        self.agree(window)
        # its building takes it along
        before = extents(box)
        drag((x + 20, y + 12), (x + 20, y + 62))
        window.told("Glasshouse: moved on the plan")
        until("the room moved along", lambda: abs(extents(window.row(PLAN, "Glasshouse > Store"))[1] - before[1] - 50) <= 6)
        drag(middle(window.row(PLAN, "Glasshouse > Store")), (start[0] + 40, start[1] + 30))
        window.told("Glasshouse > Store is now Store")
        window.row(PLAN, "Store")
        for _ in range(3):
            key("ctrl+z")
        until("all taken back", lambda: [row.split(",")[0] for row in window.rows(PLAN)][-1] == "Store"
              and extents(window.row(PLAN, "Glasshouse"))[:2] == (x, y))

    def test_the_corner_sizes_it(self):
        window = self.show_plan()
        x, y, width, height = extents(window.row(PLAN, "Glasshouse"))
        corner = (x + width - 5, y + height - 5)
        drag(corner, (corner[0] - 60, corner[1] + 30))
        window.told("Glasshouse: moved on the plan")
        after = extents(window.row(PLAN, "Glasshouse"))
        self.assertEqual(after[:2], (x, y))
        self.assertLessEqual(abs(after[2] - (width - 60)), 6)
        self.assertLessEqual(abs(after[3] - (height + 30)), 6)

    def test_those_off_the_property_stand_aside(self):
        shedwalk("place", "add", self.catalogue, "Home", "--off-property")
        window = self.show_plan()
        home = window.row(PLAN, "Home")
        self.assertIn("off the property", home.get_name())
        lowest = max(y + height for _, y, _, height in (extents(row) for row in children(window.wait("list", PLAN))
                                                        if not row.get_name().startswith("Home")))
        until("it below all others", lambda: extents(home)[1] > lowest)


class ByKeys(Plan):
    def test_a_plan_by_keys_alone(self):
        window = self.show_plan()
        self.choose(window, "Glasshouse")
        key("n")
        self.name_it(window, "New place", "Cooperage")
        window.row(PLAN, "Cooperage")
        self.choose(window, "Cooperage")
        key("r")
        self.name_it(window, "New place in Cooperage", "Cellar")
        window.row(PLAN, "Cooperage > Cellar")
        self.choose(window, "Cooperage")
        before, inside = extents(window.row(PLAN, "Cooperage")), extents(window.row(PLAN, "Cooperage > Cellar"))
        key("ctrl+Down")
        until("it sized", lambda: extents(window.row(PLAN, "Cooperage"))[3] > before[3])
        key("shift+Left")
        until("it moved", lambda: extents(window.row(PLAN, "Cooperage"))[0] < before[0])
        until("its room moved along", lambda: extents(window.row(PLAN, "Cooperage > Cellar"))[0] < inside[0])
        key("alt+Up")
        window.told("Cooperage: earlier in the walk")
        until("it before the press house", lambda: [row.split(",")[0] for row in window.rows("Places")][:2] == ["Glasshouse", "Cooperage"])
        self.agree(window)
        for _ in range(5):
            key("ctrl+z")
        until("all taken back", lambda: self.paths() == ["Glasshouse", "Press house", "Press house > Loft"])

    def test_a_run_of_keys_is_one_act(self):
        window = self.show_plan()
        self.choose(window, "Glasshouse")
        before = extents(window.row(PLAN, "Glasshouse"))
        presses = 8
        key(*["shift+Down"] * presses)
        # a slow machine may let time pass between two presses, but not between all of them
        until("all of them in", lambda: len(self.stood()) > 0 and self.box() == self.drawn(window))
        moved = extents(window.row(PLAN, "Glasshouse"))
        self.assertGreaterEqual(moved[1] - before[1], presses * 6)
        acts = len(self.stood())
        self.assertLess(acts, presses)
        key("ctrl+Right", "ctrl+z")  # undo does not wait for the keys to rest
        window.told("Undone: Glasshouse: moved on the plan")
        until("the size taken back, not the move", lambda: extents(window.row(PLAN, "Glasshouse")) == moved)
        self.assertEqual(len(self.stood()), acts)
        key(*["ctrl+z"] * acts)
        until("all taken back", lambda: extents(window.row(PLAN, "Glasshouse")) == before)

    def stood(self):
        """Acts that moved a box and were not taken back."""
        return self.ask("SELECT id FROM act WHERE undone_by IS NULL AND kind = 'act' AND sentence GLOB '*on the plan'")

    def box(self):
        return self.ask("SELECT box_y FROM place WHERE name = 'Glasshouse'")[0][0]

    @staticmethod
    def drawn(window):
        """Where the box of the Glasshouse begins, in the plan's units."""
        width = extents(window.wait("list", PLAN))[2]
        top = extents(window.wait("list", PLAN))[1]
        return round((extents(window.row(PLAN, "Glasshouse"))[1] - top) * 1000 / width / 4) * 4

    def test_the_form_says_all_of_a_place(self):
        window = self.show_plan()
        self.choose(window, "Glasshouse")
        key("F2")
        name = window.wait("text", "Name")
        until("the focus in its name", lambda: has(name, "FOCUSED"))
        key("ctrl+a")
        type_text("Vine house")
        key("Return")
        window.row(PLAN, "Vine house")
        length = window.wait("text", "Longer side")
        length.grab_focus()
        type_text("24 m")
        key("Return")
        window.told("Vine house is 24 m long: the plan's scale")
        position = window.wait("text", "Position")
        position.grab_focus()
        type_text("somewhere")
        key("Return")
        window.wait("label", lambda text: text.startswith("'somewhere' is no position"))
        key("ctrl+a")
        type_text("-41.32, 174.81")
        key("Return")
        until("the position", lambda: self.ask("SELECT latitude, longitude FROM place WHERE name = 'Vine house'") == [(-41.32, 174.81)])
        window.wait("check box", "Looked through").do_action(0)
        until("it looked through", lambda: self.ask("SELECT walked FROM place WHERE name = 'Vine house'") == [(1,)])
        key("Escape")
        plan = window.wait("list", PLAN)
        until("the focus on the plan again", lambda: has(plan, "FOCUSED"))

    def test_a_place_into_its_own_room_is_refused_in_one_sentence(self):
        window = self.show_plan()
        self.choose(window, "Press house,")
        key("F2")
        name = window.wait("text", "Name")
        until("the focus", lambda: has(name, "FOCUSED"))
        key("Tab", "End")  # by itself, the Glasshouse, the Loft
        window.wait("label", lambda text: "that is one of its own rooms" in text)
        window.wait("combo box", "By itself")  # the choice went back
        key("Down")
        window.told("Press house is now Glasshouse > Press house")
        until("no room of its own lost", lambda: "Glasshouse > Press house > Loft" in self.paths())
        until("no refusal any more", lambda: not window.find("label", lambda text: "that is one of its own rooms" in text))
        window.wait("combo box", "Glasshouse")
        key("Up", "Escape")  # a choice counts although the form is left before the keys have rested
        window.told("Glasshouse > Press house is now Press house")
        self.assertEqual(self.paths(), ["Glasshouse", "Press house", "Press house > Loft"])
        key("ctrl+z")
        window.told("Undone: ")
        until("one act taken back", lambda: "Glasshouse > Press house > Loft" in self.paths())

    def test_only_an_empty_place_is_deleted(self):
        window = self.show_plan()
        self.choose(window, "Press house > Loft")
        key("Delete")
        window.told("Place 'Press house > Loft' deleted")
        until("it gone", lambda: len(window.rows(PLAN)) == 2)
        self.choose(window, "Press house")
        key("Delete")
        window.told("Press house is not empty: it has items")
        self.assertEqual(len(window.rows(PLAN)), 2)
        key("ctrl+z")
        window.row(PLAN, "Press house > Loft")
        self.agree(window)

    def test_the_list_has_the_same_keys(self):
        window = self.show_plan()
        places = window.wait("list", "Places")
        places.grab_focus()
        until("the focus", lambda: has(places, "FOCUSED"))
        self.assertFalse([row for row in children(places) if has(row, "SELECTED")])
        key("n")
        self.name_it(window, "New place", "Shed")
        window.row("Places", "Shed")
        places.grab_focus()
        key("Home", "Delete")
        window.told("Glasshouse is not empty")
        key("Escape")
        until("the whole property", lambda: len(window.rows("Items")) == 3)
        self.agree(window)


class Focus(Plan):
    def test_focus_chooses_no_place(self):
        """The page shows the whole property until somebody chooses, wherever the focus lands."""
        window = self.show_plan()
        until("all items", lambda: len(window.rows("Items")) == 3)
        seen = set()
        for _ in range(14):
            key("Tab")
            focused = until("a focus", lambda: next((node.get_name() for node in self.nodes(window) if has(node, "FOCUSED")), None) or "?")
            seen.add(focused)
            if focused == "Items":
                break
            self.assertFalse([row for name in (PLAN, "Places") for row in children(window.wait("list", name)) if has(row, "SELECTED")])
            self.assertEqual(len(window.rows("Items")), 3)
        self.assertTrue({PLAN, "Places"} <= seen, seen)
        key("alt+1", "alt+2", "alt+3", "alt+2")
        until("all items still", lambda: len(window.rows("Items")) == 3)
        window.wait("label", "All places")

    @staticmethod
    def nodes(window):
        return walk(window.frame)


class Walk(Plan):
    def test_the_walk_is_drawn_and_said(self):
        card = self.folder / "card"
        for i, minute in enumerate((5, 6, 40, 41)):
            make_photo(card / f"P{i}.jpg", f"2026:04:04 10:{minute:02d}:00", i)
        shedwalk("bring-in", self.catalogue, card, "--trip", 1)
        shedwalk("assign", self.catalogue, 1, 2, "--item", 3)
        shedwalk("assign", self.catalogue, 3, 4, "--item", 1)
        window = self.show_plan()
        self.assertFalse([row for row in window.rows(PLAN) if "walk at" in row])
        combo = window.wait("combo box", "Walk on the plan")
        click(combo)
        until("its list", lambda: window.find("menu item", lambda text: text.startswith("Walk of Trip 1")))
        key("Down", "Return")
        until("the walk", lambda: [row.rsplit(", ", 1)[1] for row in window.rows(PLAN) if "walk at" in row]
              == ["walk at Sat 10:05", "walk at Sat 10:40"])
        self.agree(window)
