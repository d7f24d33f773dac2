# SPDX-License-Identifier: GPL-3.0-or-later
"""The sorting strip: every key and drag with real events, what the screen says after it and what the catalogue holds."""

import sqlite3

from driver import (WindowTest, children, click, drag, has, key, make_photo, middle, shedwalk, type_text, until, xdo)


class Sorting(WindowTest):
    """A walk of four stops of three photos, minutes apart."""

    def setUp(self):
        super().setUp()
        card = self.folder / "card"
        for stop in range(4):
            for shot in range(3):
                make_photo(card / "DCIM" / f"P{stop}{shot}.JPG", f"2026:04:04 10:{10 + stop * 3:02d}:{shot * 6:02d}",
                           stop * 100 + shot)
        shedwalk("bring-in", self.catalogue, card, "--trip", 1)
        shedwalk("pair", self.catalogue, "--trip", 1)

    def open_strip(self, stops=4):
        window = self.open()
        key("alt+1")
        until(f"{stops} stops", lambda: len(window.stops()) == stops)
        window.wait("list", "Stops").grab_focus()
        until("the focus", lambda: has(window.find("list", "Stops"), "FOCUSED"))
        return window

    def proposed(self):
        return shedwalk("pair", self.catalogue, "--trip", 1, "--json")["stops"]

    def stops_of(self):
        """The photos of each stop, as the command line proposes them."""
        return [stop["photos"] for stop in self.proposed()]

    def items(self):
        return shedwalk("items", self.catalogue, "--json")

    def owner(self, photo):
        """Numbers of the items that show the photo."""
        return [item["number"] for item in self.items() if photo in item["photos"]]

    @staticmethod
    def chosen(window):
        return next((row.get_name() for row in children(window.find("list", "Stops")) if has(row, "SELECTED")), "")

    def wait_chosen(self, window, begins):
        until(f"chosen: {begins}", lambda: self.chosen(window).startswith(begins))

    def go_to(self, window, photo, stop):
        """By keys alone: to the first stop, then on by stops and photos."""
        key("Home")
        key(*["Down"] * (stop - 1)) if stop > 1 else None
        key(*["Right"] * (photo - 1)) if photo > 1 else None
        self.wait_chosen(window, f"Photo {photo} of 3 of stop {stop}")

    def test_it_opens_at_the_first_doubt_and_goes_along(self):
        make_photo(self.folder / "more" / "P90.JPG", "2026:04:04 10:30:00", 900)  # a photo alone is never sure
        shedwalk("bring-in", self.catalogue, self.folder / "more", "--trip", 1)
        shedwalk("pair", self.catalogue, "--trip", 1)
        window = self.open_strip(5)
        first = next(k for k, stop in enumerate(self.proposed(), 1) if stop["band"] != "sure")
        self.wait_chosen(window, f"Photo 1 of {len(self.stops_of()[first - 1])} of stop {first}")
        key("Home")
        self.wait_chosen(window, "Photo 1 of 3 of stop 1")
        key("Right")
        self.wait_chosen(window, "Photo 2 of 3 of stop 1")
        key("Down")
        self.wait_chosen(window, "Photo 1 of 3 of stop 2")
        key("End")
        self.wait_chosen(window, "Photo 1 of 1 of stop 5")
        key("Up")
        self.wait_chosen(window, "Photo 1 of 3 of stop 4")
        doubts = [k for k, stop in enumerate(self.proposed(), 1) if stop["band"] != "sure"]
        key("d")
        self.wait_chosen(window, f"Photo 1 of 1 of stop {next(k for k in doubts if k > 4)}")
        key("d")  # round the end
        self.wait_chosen(window, f"Photo 1 of {len(self.stops_of()[doubts[0] - 1])} of stop {doubts[0]}")

    def test_accept_undo_redo(self):
        window = self.open_strip()
        photos = self.stops_of()[1]
        self.go_to(window, 1, 2)
        key("a")
        until("decided", lambda: "Decided" in window.stops()[1])
        self.assertEqual(len({tuple(self.owner(photo)) for photo in photos}), 1)
        self.assertEqual(len(self.owner(photos[0])), 1)
        key("z")
        window.told("Undone: ")
        until("open again", lambda: "Decided" not in window.stops()[1])
        self.assertEqual(self.owner(photos[0]), [])
        key("y")
        window.told("Done again: ")
        until("decided again", lambda: "Decided" in window.stops()[1])
        self.assertEqual(len(self.owner(photos[0])), 1)
        key("shift+a")
        until("the sure ones", lambda: not any("Sure" in stop for stop in window.stops()))

    def test_what_undo_leaves_is_proposed_again(self):
        window = self.open_strip()
        stops, before = window.stops(), self.proposed()
        self.go_to(window, 2, 2)
        key("s")
        until("five stops", lambda: len(window.stops()) == 5)
        self.go_to(window, 1, 1)
        key("a")
        until("decided", lambda: "Decided" in window.stops()[0])
        # once by key, once by another program: the strip says what is proposed now, not what it said of the cut
        key("z")
        until("open", lambda: "Decided" not in window.stops()[0] and len(window.stops()) == 5)
        shedwalk("undo", self.catalogue)
        until("as it was", lambda: window.stops() == stops)
        self.assertEqual(self.proposed(), before)
        shedwalk("redo", self.catalogue)
        until("cut again", lambda: len(window.stops()) == 5)
        until("proposed again", lambda: [s["band"].capitalize() in row for s, row in
                                         zip(self.proposed(), window.stops())] == [True] * 5)
        shedwalk("undo", self.catalogue)
        until("as it was", lambda: window.stops() == stops)

    def test_all_sure_ones_at_once(self):
        window, items = self.open_strip(), self.items()
        sure = [stop for stop in self.proposed() if stop["band"] == "sure"]
        rest = [stop for stop in self.proposed() if stop["band"] != "sure"]
        self.go_to(window, 1, 1)
        key("shift+a")
        until("the sure ones", lambda: sum("Decided" in stop for stop in window.stops()) == len(sure))
        for stop in sure:
            self.assertEqual([len(self.owner(photo)) for photo in stop["photos"]], [1] * len(stop["photos"]))
        for stop in rest:
            self.assertEqual([self.owner(photo) for photo in stop["photos"]], [[]] * len(stop["photos"]))
        key("z")
        until("all open", lambda: not any("Decided" in stop for stop in window.stops()))
        self.assertEqual(self.items(), items)

    def test_split_and_join(self):
        window = self.open_strip()
        before = self.stops_of()
        self.go_to(window, 2, 2)
        key("s")
        until("five stops", lambda: len(window.stops()) == 5)
        window.told("Stop 2 cut in two")
        self.assertEqual(self.stops_of(), [before[0], before[1][:1], before[1][1:], *before[2:]])
        self.wait_chosen(window, "Photo 1 of 2 of stop 3")  # the photo under the hands is still the chosen one
        key("j")
        until("four stops", lambda: len(window.stops()) == 4)
        self.assertEqual(self.stops_of(), before)
        self.wait_chosen(window, "Photo 2 of 3 of stop 2")
        key("Home", "j")
        window.told("This is the first stop")
        key("s")
        window.told("A stop begins with this photo already")
        self.assertEqual(self.stops_of(), before)

    def test_split_at_the_longest_pause(self):
        make_photo(self.folder / "more" / "P90.JPG", "2026:04:04 10:13:30", 900)  # 18 s after the third of stop 2
        shedwalk("bring-in", self.catalogue, self.folder / "more", "--trip", 1)
        window = self.open_strip()
        until("four of them", lambda: "4 photos" in window.stops()[1])
        stops = self.stops_of()
        self.go_to_stop(window, 2)
        key("shift+s")
        window.told("Stop 2 cut in two")
        until("five stops", lambda: len(window.stops()) == 5)
        self.assertEqual(self.stops_of()[1:3], [stops[1][:3], stops[1][3:]])
        self.wait_chosen(window, "Photo 1 of 1 of stop 3")
        key("shift+s")
        window.told("This stop has one photo alone")
        key("j")
        until("four stops", lambda: len(window.stops()) == 4)
        self.assertEqual(self.stops_of(), stops)

    def go_to_stop(self, window, stop):
        key("Home", *["Down"] * (stop - 1))
        until(f"stop {stop}", lambda: f" of stop {stop}," in self.chosen(window))

    def test_give_new_another_and_also(self):
        window = self.open_strip()
        stops = self.stops_of()
        self.go_to(window, 1, 1)
        key("g")
        window.wait("text", "Name of the item")
        type_text("Screw")
        until("the item", lambda: [row.split(",")[0] for row in window.rows("Items of that name")] == ["Screw press"])
        key("Return")
        window.told("Screw press: 3 photos given to it")
        self.assertEqual(self.item(1)["photos"], stops[0])
        self.go_to(window, 1, 2)
        key("m")
        window.told("Screw press: one more, now 2")
        self.assertEqual((self.item(1)["count"], self.item(1)["photos"]), (2, stops[0] + stops[1]))
        self.go_to(window, 1, 3)
        key("n")
        window.wait("text", "Name of the new item")
        type_text("Fruit grader")
        key("Return")
        window.told("Fruit grader: new, with 3 photos")
        made = next(item for item in self.items() if item["name"] == "Fruit grader")
        self.assertEqual(made["photos"], stops[2])
        self.go_to(window, 2, 3)
        key("w")
        window.wait("text", "Name of the item")
        type_text("Sack")
        until("the item", lambda: [row.split(",")[0] for row in window.rows("Items of that name")] == ["Sack truck"])
        key("Return")
        window.told("Photo ")
        self.assertEqual(sorted(self.owner(stops[2][1])), sorted([2, made["number"]]))
        self.go_to(window, 1, 4)
        key("n")
        window.wait("text", "Name of the new item")
        key("Return")  # no name yet
        window.told("thing ")
        until("all decided", lambda: window.find("label", lambda text: text == "4 stops, all decided"))
        window.wait("label", lambda text: text.startswith("3 new items (1 without a name yet)"))
        click(window.wait("push button", "On to Property"))
        until("the items", lambda: window.rows("Items"))

    def test_no_item_in_four_kinds_and_open_again(self):
        window = self.open_strip()
        stops = self.stops_of()
        for stop, (letter, word) in enumerate((("b", "Building"), ("p", "Paper"), ("r", "Receipt"), ("x", "Mistake")), 1):
            self.go_to(window, 1, stop)
            key(letter)
            until(word, lambda: window.stops()[stop - 1].startswith(f"Stop {stop}, {word}, Decided"))
        self.assertEqual([stop["item"] for stop in self.proposed()], [None] * 4)
        self.go_to(window, 1, 3)
        key("u")
        until("open again", lambda: "Decided" not in window.stops()[2])
        self.assertEqual(self.stops_of(), stops)

    def costs(self):
        return shedwalk("takings", self.catalogue, "--json")["total"]["costs"]

    def enter_cost(self, window, amount, remark):
        until("the amount", lambda: has(window.wait("text", "Amount"), "FOCUSED"))
        type_text(amount)
        key("Tab")
        until("what it is for", lambda: has(window.find("text", "What for"), "FOCUSED"))
        type_text(remark)
        key("Return")

    def test_a_receipt_and_its_cost(self):
        """One key and the amount: the photos are a receipt, and the trip has the cost."""
        window = self.open_strip()
        self.go_to(window, 1, 2)
        key("k")
        self.enter_cost(window, "42.50", "diesel")
        window.told("Cost of 42.50: diesel, from its receipt")
        until("a receipt", lambda: window.stops()[1].startswith("Stop 2, Receipt with its cost, Decided"))
        self.assertEqual(self.costs(), 4250)
        self.assertEqual([stop["item"] for stop in self.proposed()][1], None)
        until("on the strip again", lambda: has(window.find("list", "Stops"), "FOCUSED"))
        key("z")
        window.told("Undone: Cost of 42.50")
        until("open again", lambda: "Decided" not in window.stops()[1])
        self.assertEqual(self.costs(), 0)

    def test_receipts_left_for_the_end(self):
        window = self.open_strip()
        for stop, letter in enumerate("xrrx", 1):
            self.go_to(window, 1, stop)
            key(letter)
            until("decided", lambda: ", Decided," in window.stops()[stop - 1])
        window.wait("label", lambda text: text.startswith("0 new items, 0 known before. 12 photos show no item."))
        click(window.wait("push button", "Enter costs of receipts (2)"))
        self.enter_cost(window, "about ten", "skip")
        until("why not", lambda: window.find("label", lambda text: "about ten" in text))
        self.assertEqual(self.costs(), 0)
        key("ctrl+a")
        self.enter_cost(window, "10", "")
        window.told("Cost of 10.00: skip")
        click(window.wait("push button", "Enter costs of receipts (1)"))
        self.enter_cost(window, "7.25", "ferry")
        until("no receipt left", lambda: window.find("push button", lambda text: text.startswith("Enter costs")) is None)
        self.assertEqual(self.costs(), 1725)
        self.go_to(window, 1, 3)
        key("k")
        window.told("The cost of this receipt is entered already")

    def test_cover_and_turn(self):
        window = self.open_strip()
        stops = self.stops_of()
        self.go_to(window, 3, 1)
        key("c")
        window.told("This photo is no item's yet")
        key("Home", "a")
        until("decided", lambda: "Decided" in window.stops()[0])
        self.go_to(window, 3, 1)
        key("c")
        window.told("thing ")
        key("t")
        window.told(f"Photo {stops[0][2]} turned")
        self.assertEqual(self.stops_of(), stops)

    def turns(self):
        """Quarters that a person turned each photo by."""
        with sqlite3.connect(f"file:{self.catalogue}/catalogue.db?mode=ro", uri=True) as database:
            return [row[0] for row in database.execute("SELECT turn FROM photo ORDER BY id")]

    def test_turned_left_and_looked_at_closely(self):
        window = self.open_strip()
        photo = self.stops_of()[1][1]
        self.go_to(window, 2, 2)
        key("shift+t")
        window.told(f"Photo {photo} turned")
        until("three quarters on", lambda: self.turns()[photo - 1] == 3)
        key("t")
        until("upright again", lambda: self.turns()[photo - 1] == 0)
        key("shift+t")
        until("turned left", lambda: self.turns()[photo - 1] == 3)
        key("z")
        until("undone", lambda: sum(self.turns()) == 0)
        key("l")
        until("the stop's photos", lambda: window.find("list", "Photos looked at closely"))
        until("the second", lambda: window.rows("Photos looked at closely")[0].startswith("2 of 3"))
        key("Right")
        until("the third", lambda: window.rows("Photos looked at closely")[0].startswith("3 of 3"))
        key("Escape")
        self.wait_chosen(window, "Photo 3 of 3 of stop 2")  # the one looked at last
        until("the focus", lambda: has(window.find("list", "Stops"), "FOCUSED"))

    def test_clips_and_memos_stand_at_their_time(self):
        movie = self.folder / "more" / "VID_20260404_101130.mp4"
        memo = self.folder / "more" / "REC_20260404_101730.m4a"
        movie.parent.mkdir()
        for path, brand in ((movie, b"mp42"), (memo, b"M4A ")):
            path.write_bytes(b"\0\0\0\x18ftyp" + brand + b"\0\0\0\0" + brand + b"isom" + b"\0\0\0\x0cmdat" + brand)
        shedwalk("bring-in", self.catalogue, movie.parent, "--trip", 1)
        stops = self.stops_of()
        window = self.open_strip()
        rows = until("both", lambda: [row for row in window.rows("Stops") if row.startswith(("Clip ", "Voice memo "))][1:]
                     and window.rows("Stops"))
        clip, spoken = (next(row for row in rows if row.startswith(word)) for word in ("Clip ", "Voice memo "))
        self.assertTrue(clip.startswith("Clip VID_20260404_101130.mp4, 10:11:30"), clip)
        self.assertTrue(spoken.startswith("Voice memo REC_20260404_101730.m4a, 10:17:30"), spoken)
        order = [row for row in rows if row.startswith(("Stop ", "Clip ", "Voice memo "))]
        self.assertLess(order.index(clip), order.index(next(row for row in order if row.startswith("Stop 2,"))))
        self.assertLess(order.index(spoken), order.index(next(row for row in order if row.startswith("Stop 4,"))))
        window.row("Stops", "Clip ").grab_focus()
        self.wait_chosen(window, "Clip ")
        key("Return")
        window.told("No program here plays this file")
        self.assertEqual(self.stops_of(), stops)  # they belong to no stop

    def test_a_photo_is_dragged_onto_an_item(self):
        stops = self.stops_of()
        shedwalk("assign", self.catalogue, *stops[1], "--item", 1)
        window = self.open_strip()
        until("an item's stop", lambda: ", Decided," in window.stops()[1])
        self.go_to(window, 3, 1)
        drag(middle(window.row("Stops", "Photo 3 of 3 of stop 1")), middle(window.row("Stops", "Stop 2,")))
        until("it shows the item", lambda: self.owner(stops[0][2]) == [1])
        self.assertEqual(self.owner(stops[0][0]), [])
        key("z")
        until("undone", lambda: self.owner(stops[0][2]) == [])
        until("as before", lambda: [", 3 photos" in stop for stop in window.stops()] == [True] * 4)

    def test_several_stops_one_after_another_without_waiting(self):
        """Keys pressed faster than anything is read: each counts for the stop it was pressed on."""
        window = self.open_strip()
        self.go_to(window, 1, 1)
        key("a", "Home", "Down", "a", "Home", "Down", "Down", "x")
        until("three decided", lambda: sum(", Decided," in stop for stop in window.stops()) == 3)
        decided = [stop for stop in window.stops() if ", Decided," in stop]
        self.assertEqual([stop.split(",")[0] for stop in decided], ["Stop 1", "Stop 2", "Stop 3"])
        self.assertIn("Mistake", decided[2])
        self.assertEqual(len({tuple(self.owner(stop[0])) for stop in self.stops_of()[:2]}), 2)

    def test_photos_are_picked_and_decided_alone(self):
        window = self.open_strip()
        stops = self.stops_of()
        self.go_to(window, 1, 2)
        key("shift+Right")
        window.wait("label", "Decides on the 2 photos picked alone")
        key("Escape")
        until("none picked", lambda: window.find("label", lambda text: text.endswith("picked alone")) is None)
        self.go_to(window, 2, 2)
        key("o", "x")
        until("one photo of no item", lambda: any(
            stop["photos"] == [stops[1][1]] and stop["item"] is None for stop in self.proposed()))
        self.assertIn([stops[1][0], stops[1][2]], self.stops_of())  # the stop goes on around it

    def test_photos_are_dragged(self):
        window = self.open_strip()
        stops = self.stops_of()
        self.go_to(window, 3, 1)
        photo = window.row("Stops", "Photo 3 of 3 of stop 1")
        target = window.row("Stops", "Stop 2,")
        drag(middle(photo), middle(target))
        until("it lies in the next stop", lambda: self.stops_of()[:2] == [stops[0][:2], [stops[0][2], *stops[1]]])
        until("on the strip too", lambda: "4 photos" in window.stops()[1])
        key("z")
        until("back", lambda: self.stops_of() == stops)
        until("on the strip", lambda: "3 photos" in window.stops()[1])
        self.go_to(window, 1, 1)
        key("shift+Right")  # a run of two, dragged to where no stop is
        window.wait("label", "Decides on the 2 photos picked alone")
        photo = window.row("Stops", "Photo 1 of 3 of stop 1")
        x, y, width, height = self.between(window, 1, 2)
        drag(middle(photo), (x + width // 2, y + height // 2))
        until("a stop of its own", lambda: self.stops_of()[:2] == [stops[0][:2], stops[0][2:]])
        until("five on the strip", lambda: len(window.stops()) == 5)

    @staticmethod
    def between(window, first, second):
        """The gap between two stops, on the screen."""
        def box(stop):
            rect = window.row("Stops", f"Stop {stop},").get_extents(0)
            return rect.x, rect.y, rect.width, rect.height
        x, y, width, height = box(first)
        return x + width, y, box(second)[0] - (x + width), height

    def test_another_program_changes_it_meanwhile(self):
        window = self.open_strip()
        stops = self.stops_of()
        self.go_to(window, 2, 3)
        shedwalk("assign", self.catalogue, *stops[0], "--item", 3)
        window.told("Another program changed the catalogue")
        until("the strip follows", lambda: window.stops()[0].startswith("Stop 1, Clay pots, Decided"))
        self.wait_chosen(window, "Photo 2 of 3 of stop 3")
        moved = self.folder / "Elsewhere.shedwalk"
        self.catalogue.rename(moved)
        key("a")
        window.told("The catalogue is no longer at ")
        moved.rename(self.catalogue)
        key("a")
        until("decided", lambda: any("Decided" in stop for stop in window.stops()[1:]))

    def test_names_that_cannot_be(self):
        window = self.open_strip()
        self.go_to(window, 1, 1)
        items = self.items()
        key("n")
        entry = window.wait("text", "Name of the new item")
        entry.set_text_contents("x" * 10001)
        key("Return")
        window.told("The name of the item is too long")
        window.wait("list", "Stops").grab_focus()
        self.go_to(window, 1, 1)
        key("n")
        entry = window.wait("text", "Name of the new item")
        entry.set_text_contents("press\x07bell")
        key("Return")
        window.told("The name of the item holds a control character")
        self.assertEqual(self.items(), items)
        window.wait("list", "Stops").grab_focus()
        self.go_to(window, 1, 1)
        key("n")
        entry = window.wait("text", "Name of the new item")
        entry.set_text_contents("y" * 10000)  # as long as a name may be: it is one, and the window goes on
        key("Return")
        until("decided", lambda: "Decided" in window.stops()[0])
        self.go_to(window, 1, 2)


class ByReaderAlone(Sorting):
    """A whole trip without pointer, pixels or keys: what a reader of the screen can do."""

    def test_a_trip_is_sorted_through_the_accessible_tree(self):
        window = self.open()
        window.wait("radio button", "Photos in").do_action(0)
        until("four stops", lambda: len(window.stops()) == 4)
        before = {item["number"] for item in self.items()}
        while True:
            left = until("the stops", lambda: [[(row, row.get_name()) for row in children(window.find("list", "Stops"))
                                                if row.get_name().startswith("Stop ")
                                                and ", Decided," not in row.get_name()]])[0]
            if not left:
                break
            row, name = left[0]
            row.grab_focus()
            self.wait_chosen(window, "Photo 1 of 3 of " + name.split(",")[0].lower())
            until("Accept can be pressed", lambda: has(window.find("push button", "Accept (A)"), "SENSITIVE"))
            window.find("push button", "Accept (A)").do_action(0)
            until(name + " decided", lambda: next(
                (stop for stop in window.stops() if stop.startswith(name.split(",")[0] + ",")), "").count(", Decided,"))
        window.wait("label", "4 stops, all decided")
        self.assertEqual(len({item["number"] for item in self.items()} - before), 4)


# The tests of the walk run once.
for name in [name for name in dir(Sorting) if name.startswith("test_")]:
    setattr(ByReaderAlone, name, None)
