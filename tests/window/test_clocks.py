# SPDX-License-Identifier: GPL-3.0-or-later
"""The clocks of a trip's cameras: what is known, what a change would do before it is taken, the three ways to say it, changes on the way."""

from driver import WindowTest, children, click, has, key, make_photo, shedwalk, type_text, until


class Clocks(WindowTest):
    """A phone with a right clock, and a second camera an hour behind, both at the same four things."""

    def setUp(self):
        super().setUp()
        card = self.folder / "card"
        for stop in range(4):
            for shot in range(3):
                make_photo(card / "phone" / f"P{stop}{shot}.JPG", f"2026:04:04 10:{10 + stop * 9:02d}:{shot * 6:02d}",
                           stop * 100 + shot)
                make_photo(card / "second" / f"S{stop}{shot}.JPG", f"2026:04:04 09:{10 + stop * 9:02d}:{shot * 6 + 3:02d}",
                           stop * 100 + shot + 50, "K7")
        shedwalk("bring-in", self.catalogue, card, "--trip", 1)
        shedwalk("pair", self.catalogue, "--trip", 1)
        # what the program found by itself is no business of these tests
        for camera in ("Orrery K2", "Orrery K7"):
            shedwalk("clock", self.catalogue, camera, "--trip", 1, "--shift", 0)

    def open_clocks(self):
        window = self.open()
        key("alt+1")
        until("the stops", window.stops)
        click(window.wait("push button", "Clocks…"))
        until("both cameras", lambda: len(self.cameras(window)) == 2)
        return window

    @staticmethod
    def cameras(window):
        the_list = window.find("list box", "Cameras") or window.find("list", "Cameras")
        return children(the_list) if the_list is not None else []

    def choose(self, window, label):
        row = until(label, lambda: next((row for row in self.cameras(window) if row.get_name().startswith(label)), None))
        click(row)
        until(f"{label} chosen", lambda: has(self.row_of(window, label), "SELECTED"))

    def row_of(self, window, label):
        return until(label, lambda: next((row for row in self.cameras(window) if row.get_name().startswith(label)), None))

    def known(self, window, label, words):
        until(f"{label}: {words}", lambda: words in self.row_of(window, label).get_name())

    @staticmethod
    def order(window):
        return next((node for node in [window.find("image", lambda text: text.startswith("Now "))] if node is not None), None)

    def wait_order(self, window, *parts):
        until(f"the order {parts}", lambda: self.order(window) is not None
              and all(part in self.order(window).get_name() for part in parts))

    def type_into(self, window, name, text):
        entry = window.wait("text", name)
        entry.grab_focus()
        until("the focus", lambda: has(entry, "FOCUSED"))
        key("ctrl+a")
        type_text(text)
        until("typed", lambda: entry.get_text(0, -1) == text)

    def times(self):
        return {photo["file"].split("/")[-1]: photo["property_time"][:19] for photo in shedwalk("photos", self.catalogue, "--json")}

    def clock(self, label):
        return next(clock for clock in shedwalk("pair", self.catalogue, "--trip", 1, "--json")["clocks"] if clock["camera"] == label)

    def test_a_change_is_seen_before_it_is_taken_and_undone_after(self):
        window = self.open_clocks()
        self.choose(window, "Orrery K7")
        self.known(window, "Orrery K7", "12 photos; left as it is, as you set it")
        self.wait_order(window, "Now Sat 4 Apr 09:10, before S01.JPG of Orrery K7")
        before = self.times()
        self.type_into(window, "Add to its clock", "+1:00:00")
        # drawn by hand: S00 then lies between P00 and P01 of the phone; all twelve go past some of its photos
        self.wait_order(window, "Then Sat 4 Apr 10:10, after P00.JPG of Orrery K2, before P01.JPG of Orrery K2")
        window.wait("label", "12 photos get another time; 12 go past photos that keep theirs.")
        self.assertEqual(self.times(), before)
        key("Return")
        window.told("Orrery K7 on trip 1: clock put forward 1 h")
        self.known(window, "Orrery K7", "put forward 1 h, as you set it")
        until("the times", lambda: self.times()["S00.JPG"] == "2026-04-04T10:10:03")
        self.assertEqual(self.clock("Orrery K7")["shift_s"], 3600)
        self.assertEqual({name: time for name, time in self.times().items() if name[0] == "P"},
                         {name: time for name, time in before.items() if name[0] == "P"})
        self.order(window).grab_focus()
        key("ctrl+z")
        window.told("Undone: ")
        self.known(window, "Orrery K7", "left as it is, as you set it")
        until("the times of before", lambda: self.times() == before)
        key("Escape")
        until("the strip", lambda: has(window.wait("list", "Stops"), "FOCUSED"))

    def test_days_outside_the_trip_are_said(self):
        window = self.open_clocks()
        self.choose(window, "Orrery K7")
        self.type_into(window, "Add to its clock", "-48:00:00")
        window.wait("label", lambda text: text.endswith("12 lie outside the trip’s days then."))

    def test_a_clock_in_a_photo_is_read(self):
        window = self.open_clocks()
        self.choose(window, "Orrery K7")
        self.type_into(window, "A clock in this photo says", "10:10:05")
        self.wait_order(window, "Then Sat 4 Apr 10:10, after P00.JPG of Orrery K2")
        self.assertEqual(self.clock("Orrery K7")["evidence"], 0)
        key("Return")
        window.told("Photo ")
        self.known(window, "Orrery K7", "1 clock read in a picture")
        clock = self.clock("Orrery K7")
        self.assertFalse(clock["set_by_person"])
        self.assertLess(abs(clock["shift_s"] - 3602), 6)
        click(window.wait("push button", "Leave this clock out"))
        window.told("The clock in photo ")
        until("left out", lambda: "read in a picture" not in self.row_of(window, "Orrery K7").get_name())

    def test_a_clock_that_stands_still_is_left_out_and_said(self):
        shedwalk("clock", self.catalogue, "Orrery K7", "--trip", 1, "--shift", "auto")
        number = {photo["file"].split("/")[-1]: photo["photo"] for photo in shedwalk("photos", self.catalogue, "--json")}
        for file, seen in (("S00.JPG", "10:10:03"), ("S10.JPG", "10:19:03"), ("S30.JPG", "10:37:03")):
            shedwalk("clock", self.catalogue, "Orrery K7", f"2026-04-04T{seen}", "--trip", 1, "--seen", number[file])
        shedwalk("pair", self.catalogue, "--trip", 1)
        window = self.open_clocks()
        self.known(window, "Orrery K7", "3 clocks read in pictures")
        self.choose(window, "Orrery K7")
        self.order(window).grab_focus()
        key(*["Right"] * 6)
        window.wait("label", lambda text: "S20.JPG: its camera wrote" in text)
        self.type_into(window, "A clock in this photo says", "4:40")
        key("Return")
        window.told("Photo ")
        self.known(window, "Orrery K7", "1 clock read in a picture speaks against that and is left out")
        self.assertLess(abs(self.clock("Orrery K7")["shift_s"] - 3600), 6)

    def test_off_by_the_same_as_another(self):
        shedwalk("clock", self.catalogue, "Orrery K2", "--trip", 1, "--shift", -600)
        window = self.open_clocks()
        self.choose(window, "Orrery K7")
        click(window.wait("combo box", "Other camera"))
        click(window.wait("menu item", "Orrery K2"))
        window.wait("label", lambda text: text.startswith("12 photos get another time"))
        self.assertEqual(self.clock("Orrery K7")["shift_s"], 0)
        click(window.wait("push button", "Set so"))
        window.told("Orrery K7 on trip 1: clock put back 10 min")
        self.assertEqual(self.clock("Orrery K7")["shift_s"], -600)

    def test_a_clock_put_right_on_the_way(self):
        window = self.open_clocks()
        self.choose(window, "Orrery K7")
        self.order(window).grab_focus()
        key("Right", "Right", "Right")
        self.wait_order(window, "Now Sat 4 Apr 09:19, after S02.JPG")
        click(window.wait("check box", "Only from this photo on"))
        self.type_into(window, "Add to its clock", "3600")
        window.wait("label", "9 photos get another time; 9 go past photos that keep theirs.")
        key("Return")
        window.told("Orrery K7 from photo ")
        until("from there on", lambda: (self.times()["S02.JPG"], self.times()["S10.JPG"])
              == ("2026-04-04T09:10:15", "2026-04-04T10:19:03"))
        self.known(window, "Orrery K7", "put forward 1 h from 10:19 on")
        click(window.wait("push button", "Leave its clock to the program"))
        window.told("Orrery K7 on trip 1: clock shift open again")
        until("the program's", lambda: "as you set it" not in self.row_of(window, "Orrery K7").get_name())
        self.assertFalse(self.clock("Orrery K7")["set_by_person"])

    def test_what_is_no_time(self):
        window = self.open_clocks()
        before = self.times()
        for entry, text, problem in (
                ("Add to its clock", "an hour", "Write what is added as +1:00:00"),
                ("Add to its clock", "1:75:00", "Write what is added as +1:00:00"),
                ("A clock in this photo says", "25:61", "The time on the clock is written as 14:05"),
                ("A clock in this photo says", "late", "The time on the clock is written as 14:05")):
            self.type_into(window, entry, text)
            key("Return")
            window.wait("label", lambda told, problem=problem: told.startswith(problem))
        for name in ("Add to its clock", "A clock in this photo says"):
            field = window.wait("text", name)
            field.set_text_contents("9" * 10000)
            field.grab_focus()
            until("the focus", lambda field=field: has(field, "FOCUSED"))
            key("Return")
            window.wait("label", lambda told: told.startswith(("Write what is added", "The time on the clock")))
            field.set_text_contents("1:\x07 2")
            key("Return")
            window.wait("label", lambda told: told.startswith(("Write what is added", "The time on the clock")))
        self.assertEqual(self.times(), before)

    def test_without_pointer_or_keys(self):
        window = self.open()
        window.wait("radio button", "Photos in").do_action(0)
        window.wait("push button", "Clocks…").do_action(0)
        until("both cameras", lambda: len(self.cameras(window)) == 2)
        window.wait("push button", "Later photo of this camera").do_action(0)
        self.wait_order(window, "Now Sat 4 Apr 10:10, after P00.JPG")
        window.wait("text", "Add to its clock").set_text_contents("-0:00:40")
        self.wait_order(window, "Then Sat 4 Apr 10:09")
        window.wait("push button", "Set it").do_action(0)
        window.told("Orrery K2 on trip 1: clock put back 40 s")
        self.assertEqual(self.clock("Orrery K2")["shift_s"], -40)
        window.wait("push button", "Back to the photos").do_action(0)
        window.wait("list", "Stops")

    def test_another_program_changes_it_meanwhile(self):
        window = self.open_clocks()
        self.choose(window, "Orrery K7")
        shedwalk("clock", self.catalogue, "Orrery K7", "--trip", 1, "--shift", 90)
        self.known(window, "Orrery K7", "put forward 1 min 30 s, as you set it")
        until("in the entry", lambda: window.wait("text", "Add to its clock").get_text(0, -1) == "+0:01:30")
