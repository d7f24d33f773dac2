# SPDX-License-Identifier: GPL-3.0-or-later
"""The page On offer: the closing night by keys alone, with a clock that the test sets."""

import datetime
import os
import signal
import struct
import zoneinfo

import gi

gi.require_version("Gtk", "3.0")
gi.require_version("Gdk", "3.0")
from driver import WindowTest, click, extents, has, key, shedwalk, type_over, type_text, until  # noqa: E402
from gi.repository import Gdk, Gtk  # noqa: E402
from screen import grab  # noqa: E402

ZONE = zoneinfo.ZoneInfo("Pacific/Auckland")
COLUMNS = ("what", "outlet", "kind", "running_days", "pay_days", "from", "charge", "on", "flat", "tiers", "ref", "item", "start",
           "reserve", "up", "closes", "at", "looks", "followers", "bids", "amount", "result")
FIRST = datetime.datetime(2026, 4, 26, 20, 0, 0, tzinfo=ZONE)


def clipboard():
    return Gtk.Clipboard.get(Gdk.SELECTION_CLIPBOARD).wait_for_text()


def copy(text):
    Gtk.Clipboard.get(Gdk.SELECTION_CLIPBOARD).set_text(text, -1)


class OfferTest(WindowTest):
    def setUp(self):
        super().setUp()
        self.clock = self.folder / "clock"
        self.set_clock(FIRST - datetime.timedelta(minutes=1))
        os.environ["SHEDWALK_CLOCK"] = str(self.clock)
        self.addCleanup(os.environ.pop, "SHEDWALK_CLOCK", None)
        self.book({"what": "outlet", "outlet": "Hill Road", "kind": "auction", "running_days": 10, "pay_days": 3},
                  {"what": "charge", "outlet": "Hill Road", "from": "2026-01-01", "charge": "commission", "on": "price", "tiers": "10%"})

    def set_clock(self, moment):
        """Written in place: the program has the file mapped."""
        with open(self.clock, "r+b" if self.clock.exists() else "wb") as file:
            file.write(struct.pack("=q", round(moment.timestamp() * 1_000_000)))

    def book(self, *rows):
        table = self.folder / "rows.csv"
        lines = [",".join(COLUMNS)] + [",".join(str(row.get(column, "")) for column in COLUMNS) for row in rows]
        table.write_text("\n".join(lines) + "\n", encoding="utf-8")
        shedwalk("book", self.catalogue, table)

    def put_up(self, n, step):
        """Items 1 to n (made where there are too few), closing 'step' seconds apart."""
        have = len(shedwalk("items", self.catalogue, "--json"))
        for i in range(have + 1, n + 1):
            shedwalk("item", "add", self.catalogue, f"Thing {i}", "--place", "Glasshouse", "--trip", 1, "--asking", "20")
        self.book(*({"what": "offer", "outlet": "Hill Road", "ref": f"A{i + 1}", "item": i + 1, "start": 10, "up": "2026-04-14",
                     "closes": (FIRST + datetime.timedelta(seconds=step * i)).replace(tzinfo=None).isoformat()} for i in range(n)))

    def states(self):
        return [item["state"] for item in shedwalk("items", self.catalogue, "--json")]

    def open_night(self):
        window = self.open()
        key("alt+3")
        window.wait("list", "Offers of the night")
        return window

    @staticmethod
    def price_field(window, item):
        field = window.wait("text", f"Price for {item}")
        until("the keyboard there", lambda: has(field, "FOCUSED"))
        return field

    @staticmethod
    def says(window, begins, what):
        until(f"{begins}: {what}", lambda: any(row.startswith(begins) and what in row for row in window.rows("Offers of the night")))


class Night(OfferTest):
    def test_a_night_by_keys_alone(self):
        self.put_up(3, 60)
        window = self.open_night()
        self.price_field(window, "Screw press")
        self.says(window, "Screw press", "closes in 1 minute 0 seconds")
        type_text("120.50")
        key("Return")
        self.price_field(window, "Sack truck")
        self.says(window, "Screw press", "Sold for 120.50")
        key("n")
        self.price_field(window, "Clay pots")
        key("s")
        self.says(window, "Clay pots", "No sale, for scrap")
        window.wait("label", "1 sold, 2 no sale, 0 to come")
        # 10% of 120.50 is 12.05; nothing is booked yet
        window.wait("label", "120.50\N{NO-BREAK SPACE}NZD before fees, 108.45\N{NO-BREAK SPACE}NZD after")
        self.assertEqual(self.states(), ["On offer"] * 3)
        click(window.wait("push button", "Confirm 3"))
        window.told("3 results confirmed")
        self.assertEqual(self.states(), ["Sold", "No sale", "For scrap"])
        total = shedwalk("takings", self.catalogue, "--json")["total"]
        self.assertEqual((total["proceeds"], total["fees"]), (12050, 1205))
        self.says(window, "Screw press", "Sold for 120.50")
        key("ctrl+z")
        window.told("Undone: 3 results confirmed")
        self.assertEqual(self.states(), ["On offer"] * 3)
        window.wait("push button", "Confirm 3")

    def test_a_wrong_entry_is_one_key_to_take_back(self):
        self.put_up(2, 60)
        window = self.open_night()
        self.price_field(window, "Screw press")
        type_text("99")
        key("Return")
        self.price_field(window, "Sack truck")
        key("Up")
        self.price_field(window, "Screw press")
        key("BackSpace")
        self.says(window, "Screw press", "Running")
        window.wait("label", "0 sold, 0 no sale, 2 to come")
        # a price may rise in the last seconds: the later one counts
        type_text("80")
        key("Return", "Up")
        self.price_field(window, "Screw press")
        type_text("95")
        key("Return")
        self.says(window, "Screw press", "Sold for 95.00")
        key("Up", "b")
        window.told("That says nothing of this row")
        click(window.wait("push button", "Confirm 1"))
        window.told("1 result confirmed")
        self.assertEqual(shedwalk("takings", self.catalogue, "--json")["total"]["proceeds"], 9500)

    def test_letters_behind_figures_do_nothing_by_mistake(self):
        self.put_up(2, 60)
        window = self.open_night()
        field = self.price_field(window, "Screw press")
        type_text("12n")
        window.told("Enter catches the price typed")
        self.assertEqual(field.get_text(0, -1), "12")
        key("Escape")
        until("nothing typed", lambda: field.get_text(0, -1) == "")
        key("Return")
        window.told("Type the price it sold for")
        type_text("1,2,3")
        key("Return")
        window.told(lambda text: "cannot be read" in text or "can mean" in text)
        window.wait("label", "0 sold, 0 no sale, 2 to come")

    def test_what_was_typed_outlives_a_kill(self):
        self.put_up(3, 60)
        window = self.open_night()
        self.price_field(window, "Screw press")
        type_text("120")
        key("Return", "n", "k")
        window.told("A3 caught as no sale, keep")
        os.kill(window.process.pid, signal.SIGKILL)
        window.process.wait()
        window = self.open_night()
        for begins, what in (("Screw press", "Sold for 120.00"), ("Sack truck", "No sale"), ("Clay pots", "No sale, keep")):
            self.says(window, begins, what)
        shedwalk("check", self.catalogue)

    def test_the_clock_is_read_anew(self):
        self.put_up(3, 60)
        window = self.open_night()
        self.says(window, "Screw press", "closes in 1 minute 0 seconds")
        row = extents(window.row("Offers of the night", "Clay pots"))  # neither chosen nor under the pointer
        drawn = until("the row without a change", lambda: (lambda now: now if now.tobytes() == grab(row).tobytes() else None)(grab(row)))
        self.set_clock(FIRST + datetime.timedelta(seconds=30))
        until("the row drawn anew", lambda: grab(row).tobytes() != drawn.tobytes())
        self.says(window, "Screw press", "closed")
        self.says(window, "Sack truck", "closes in 30 seconds")
        self.set_clock(FIRST - datetime.timedelta(hours=2))
        self.says(window, "Screw press", "closes in 2 h 00 min")

    def test_clocks_are_put_back_in_the_middle_of_the_night(self):
        """2026-04-05 at 03:00 New Zealand's clocks go back to 02:00 (IANA tz database 2025b, zdump): half past two comes twice. The
        program runs in the zone of somebody far away; the property's counts."""
        for ref, item, closes in (("B1", 1, "2026-04-05T02:30+13:00"), ("B2", 2, "2026-04-05T02:30+12:00"), ("B3", 3, "2026-04-05T03:10")):
            self.book({"what": "offer", "outlet": "Hill Road", "ref": ref, "item": item, "start": 10, "up": "2026-03-26", "closes": closes})
        first = datetime.datetime(2026, 4, 5, 2, 30, tzinfo=datetime.timezone(datetime.timedelta(hours=13)))
        self.set_clock(first - datetime.timedelta(minutes=10))
        window = self.open_night()
        window.wait("label", "Closing from 4 April 2026")  # the night of the 4th
        for begins, what in (("Screw press", "closes in 10 minutes 0 seconds"), ("Sack truck", "closes in 1 h 10 min"),
                             ("Clay pots", "closes in 1 h 50 min")):
            self.says(window, begins, what)
        rows = [row.split(",")[0] for row in window.rows("Offers of the night")]
        self.assertEqual(rows, ["Screw press", "Sack truck", "Clay pots"])
        self.set_clock(first + datetime.timedelta(minutes=59, seconds=30))
        self.says(window, "Screw press", "closed")
        self.says(window, "Sack truck", "closes in 30 seconds")
        self.price_field(window, "Screw press")
        type_text("40")
        key("Return", "n", "n")
        window.wait("label", "1 sold, 2 no sale, 0 to come")
        click(window.wait("push button", "Confirm 3"))
        window.told("3 results confirmed")
        self.assertEqual([row["key"] for row in shedwalk("takings", self.catalogue, "--credit", "sold", "--by", "month", "--json")["rows"]],
                         ["2026-04"])

    def test_another_program_books_a_row_meanwhile(self):
        self.put_up(2, 60)
        window = self.open_night()
        self.price_field(window, "Screw press")
        self.book({"what": "result", "ref": "A1", "at": "2026-04-26T20:00", "result": "sold", "amount": "77"})
        self.says(window, "Screw press", "Sold for 77.00")
        type_text("5")
        key("Return")
        window.told("That says nothing of this row")
        self.assertEqual(shedwalk("takings", self.catalogue, "--json")["total"]["proceeds"], 7700)

    def test_sixty_rows_twenty_seconds_apart(self):
        """A quarter of a second a key by the program's own clock; nobody waits for an answer in between."""
        self.put_up(60, 20)
        names = [item["name"] for item in shedwalk("items", self.catalogue, "--json")]
        window = self.open_night()
        self.price_field(window, names[0])
        now, keys_of = FIRST, []
        for i in range(60):
            closes = FIRST + datetime.timedelta(seconds=20 * i)
            now = max(now, closes)
            keys = (["3", "7", "Return"], ["1", "2", "0", "4", "period", "5", "Return"], ["n"])[i % 3]
            now += datetime.timedelta(seconds=0.25 * len(keys))
            self.set_clock(now)
            key(*keys)
            keys_of.append(len(keys))
            self.assertLessEqual(now, closes + datetime.timedelta(seconds=20), "a row behind")
        self.assertLessEqual(max(keys_of), 7)
        window.wait("label", "40 sold, 20 no sale, 0 to come")
        click(window.wait("push button", "Confirm 60"))
        window.told("60 results confirmed")
        self.assertEqual(shedwalk("takings", self.catalogue, "--json")["total"]["proceeds"], 20 * 3700 + 20 * 120450)
        self.assertEqual(self.states(), ["Sold", "Sold", "No sale"] * 20)


class EarlierNight(OfferTest):
    def test_a_night_that_passed_without_results_is_reached_from_the_later_one(self):
        self.put_up(2, 7 * 24 * 3600)
        self.set_clock(FIRST + datetime.timedelta(days=6, hours=23))
        window = self.open_night()
        self.price_field(window, "Sack truck")
        click(window.wait("push button", lambda name: name.startswith("1 without a result from ")))
        self.price_field(window, "Screw press")
        type_text("25")
        key("Return")
        window.wait("label", "1 sold, 0 no sale, 0 to come")
        click(window.wait("push button", "Confirm 1"))
        window.told("1 result confirmed")
        click(window.wait("push button", "Next night"))
        self.price_field(window, "Sack truck")
        until("nothing is left behind", lambda: window.find("push button", lambda name: name.startswith("1 without a result")) is None)


class Interest(OfferTest):
    def test_it_is_typed_row_by_row(self):
        self.put_up(2, 60)
        window = self.open_night()
        self.price_field(window, "Screw press")
        key("i")
        window.wait("text", "Interest in Screw press")
        type_text("120 8 3 45.50")
        key("Return")
        window.wait("text", "Interest in Sack truck")
        self.says(window, "Screw press", "120 looks, 8 followers, 3 bids at 45.50")
        type_text("many")
        key("Return")
        window.told("‘many’ is no count of looks")
        key("Escape", "Escape")
        self.price_field(window, "Sack truck")
        key("ctrl+z")
        self.says(window, "Screw press", "no interest noted")

    def test_the_next_night_begins_with_prices(self):
        """A row that is booked takes no interest; the next night has the keyboard where prices are typed, whatever was on last."""
        self.put_up(2, 24 * 3600)
        window = self.open_night()
        self.price_field(window, "Screw press")
        type_text("25")
        key("Return")
        click(window.wait("push button", "Confirm 1"))
        window.told("1 result confirmed")
        field = self.price_field(window, "Screw press")
        key("i")
        window.told("That says nothing of this row")
        self.assertEqual(field.get_name(), "Price for Screw press")
        click(window.wait("push button", "Next night"))
        self.price_field(window, "Sack truck")
        type_text("30")
        key("Return")
        self.says(window, "Sack truck", "Sold for 30.00")

    def test_a_copied_table_is_shown_before_it_is_taken(self):
        self.put_up(2, 60)
        window = self.open_night()
        self.price_field(window, "Screw press")
        copy("Reference\tBids\tSeen\tFans\nA2\t3\t1,204\t7\nZ9\t1\t4\t7\n")
        key("ctrl+v")
        window.wait("label", "A2, Sack truck: 1204 looks, 3 bids")
        window.wait("label", "Left out, line 3, Z9: no running offer bears this reference")
        window.wait("label", "Columns not read: Fans. What is read is called looks, followers, bids or price.")
        self.says(window, "Sack truck", "no interest noted")
        take = window.wait("push button", "Take 1")
        until("the focus", lambda: has(take, "FOCUSED"))
        key("Return")
        self.says(window, "Sack truck", "1204 looks, 3 bids")
        self.price_field(window, "Screw press")
        copy("just\nwords\n")
        click(window.wait("push button", "Paste"))
        window.told("The first line must name the columns")


class Floor(OfferTest):
    def test_asked_under_the_floor_is_said_in_words(self):
        """Common practice, no source: twelve castings of 40 kg make 480 kg; 90 asked for all lies under what a yard pays that
        gives more than 187.50 a tonne."""
        shedwalk("item", "add", self.catalogue, "Castings", "--place", "Glasshouse", "--trip", 1, "--count", 12, "--asking", "90")
        shedwalk("item", "set", self.catalogue, 4, "--mass", "480 kg")
        self.book({"what": "outlet", "outlet": "Yard", "kind": "scrap yard"},
                  {"what": "offer", "outlet": "Hill Road", "ref": "C1", "item": 4, "start": 90, "up": "2026-04-14",
                   "closes": "2026-04-26T20:00"})
        window = self.open()
        self.say(window, "Scrap class", "cast iron")
        self.say(window, "Yard rate", "Yard\tcast iron\t187.50\t2026-01-01")
        key("alt+3")
        self.says(window, "Castings", "480 kg, floor 90.00")
        self.assertNotIn("Under the floor", window.rows("Offers of the night")[0])
        self.say(window, "Yard rate", "Yard\tcast iron\t187.60\t2026-02-01")
        key("alt+3")
        self.says(window, "Castings", "Under the floor, Hill Road")
        self.says(window, "Castings", "480 kg, floor 90.05")

    @staticmethod
    def say(window, title, text):
        key("alt+2")
        window.row("Items", "Castings").do_action(0)
        window.hidden("push button", "+ " + title).do_action(0)
        first = window.hidden("text", {"Yard rate": "Yard"}.get(title, title))
        until("the focus", lambda: has(first, "FOCUSED"))
        type_text(text)
        key("Return")
        until("the form closed", lambda: window.find("text", {"Yard rate": "Yard"}.get(title, title), showing=False) is None)

    def test_what_a_yard_charges_to_take_it_is_entered_with_the_item(self):
        """A floor below zero: 90 kg at 120.00 a tonne cost 10.80 to be rid of."""
        shedwalk("item", "add", self.catalogue, "Castings", "--place", "Glasshouse", "--trip", 1)
        shedwalk("item", "set", self.catalogue, 4, "--mass", "90 kg")
        self.book({"what": "outlet", "outlet": "Yard", "kind": "scrap yard"})
        window = self.open()
        self.say(window, "Scrap class", "tyres")
        key("alt+2")
        window.row("Items", "Castings").do_action(0)
        window.hidden("push button", "+ Yard rate").do_action(0)
        first = window.hidden("text", "Yard")
        until("the focus", lambda: has(first, "FOCUSED"))
        type_text("Yard\ttyres\t120\t2026-01-01")
        charges = window.hidden("check box", "The yard charges that to take it")
        charges.do_action(0)
        until("it is ticked", lambda: has(charges, "CHECKED"))
        window.hidden("text", "Yard").grab_focus()
        until("the focus", lambda: has(window.hidden("text", "Yard"), "FOCUSED"))
        key("Return")
        until("the form closed", lambda: window.find("text", "Yard", showing=False) is None)
        until("the floor", lambda: any("floor -10.80" in row for row in window.rows("Items")))


class PuttingUp(OfferTest):
    def running(self, window):
        key("alt+3")
        window.wait("radio button", "Running").do_action(0)
        return window.wait("list", "Running offers")

    def test_from_the_page_with_closing_times_and_a_step(self):
        shedwalk("item", "set", self.catalogue, 2, "--asking", "80")
        for number in (1, 2):
            shedwalk("item", "move", self.catalogue, number, "Ready")
        window = self.open()
        key("alt+3")
        window.wait("radio button", "Running").do_action(0)
        click(window.wait("push button", "Put up…"))
        for name in ("Screw press, 350.00", "Sack truck, 80.00"):
            window.wait("check box", name).do_action(0)
        self.into(window, "Closes", "sunday")
        key("Return")
        window.wait("label", "‘sunday’ has no time of day; type it as Sunday 20:00, 12 Apr 20:00 or 2026-04-12 20:00.")
        self.into(window, "Closes", " 21:00")
        self.into(window, "Then every", "90 s")
        self.into(window, "Round", "April")
        key("Return")
        window.told("2 offers put up through Hill Road")
        self.assertEqual(self.states()[:2], ["On offer"] * 2)
        window.wait("label", "2 running offers")
        rows = window.rows("Running offers")
        # the clock stands at 19:59, and the items are put up as they were listed, by name
        self.assertTrue(rows[0].startswith("Sack truck, closes in 1 h 01 min"), rows)
        self.assertTrue(rows[1].startswith("Screw press, closes in 1 h 02 min"), rows)
        self.assertIn("starts at 80.00, hoped 80.00", rows[0])
        click(window.wait("radio button", "Rounds"))
        until("the round", lambda: window.find("table cell", "April"))

    def test_in_two_outlets_at_once_is_one_act(self):
        self.book({"what": "outlet", "outlet": "Noticeboard", "kind": "priced ad"})
        shedwalk("item", "move", self.catalogue, 1, "Ready")
        window = self.open()
        key("alt+3")
        window.wait("radio button", "Running").do_action(0)
        click(window.wait("push button", "Put up…"))
        window.wait("check box", "Screw press, 350.00").do_action(0)
        self.into(window, "At once through", "Notice board")
        key("Return")
        window.wait("label", lambda text: "Notice board" in text and text.endswith("."))
        self.assertEqual(self.states()[0], "Ready", "all or nothing")
        entry = window.wait("text", "At once through")
        entry.grab_focus()
        key("ctrl+a")
        type_text("Noticeboard")
        until("what was typed", lambda: entry.get_text(0, -1) == "Noticeboard")
        key("Return")
        window.told("Put up through Hill Road and Noticeboard")
        window.wait("label", "2 running offers")
        self.assertEqual(self.states()[0], "On offer")
        key("ctrl+z")
        window.wait("label", "Nothing is on offer")
        self.assertEqual(self.states()[0], "Ready")

    def test_what_is_not_ready_says_why(self):
        window = self.open()
        key("alt+2")
        window.row("Items", "Sack truck").do_action(0)
        click(window.wait("toggle button", "More for this item"))
        click(window.wait("push button", "Put it up…"))
        left_out = window.wait("check box", lambda text: text.startswith("Sack truck "))
        self.assertIn("price", left_out.get_name())
        self.assertEqual(left_out.get_name().count("Sack truck"), 1)
        self.assertFalse(has(left_out, "SENSITIVE"))
        key("Return")
        window.wait("label", "Nothing is chosen; tick what is to be put up.")

    def test_the_outlets_reference_and_what_is_copied(self):
        self.put_up(2, 60)
        window = self.open()
        the_list = self.running(window)
        until("the keyboard in the list", lambda: has(the_list, "FOCUSED"))
        key("Home", "Return")
        field = window.wait("text", "Outlet's reference")
        until("the keyboard there", lambda: has(field, "FOCUSED"))
        type_text("HR-77")
        key("Return")
        window.row("Running offers", "Screw press, closes in 1 minute 0 seconds, Running, Hill Road, HR-77")
        until("the next offer", lambda: has(field, "FOCUSED") and field.get_text(0, -1) == "")
        click(window.wait("push button", "Copy the title"))
        window.told("The title is copied.")
        self.assertEqual(clipboard(), "Sack truck (2)")  # two of them

    def test_what_is_up_already_is_put_into_a_round(self):
        self.put_up(2, 60)
        window = self.open()
        self.running(window)
        window.row("Running offers", "Screw press").do_action(0)
        window.wait("push button", "Round…").do_action(0)
        self.into(window, "Round", "Spring")
        key("Return")
        window.told("Offer ‘A1’ put into the round Spring")
        window.wait("label", "Round: Spring")
        # the round begun last is offered for the next one
        window.row("Running offers", "Sack truck").do_action(0)
        until("no round said", lambda: window.find("label", "Round: Spring") is None)
        window.wait("push button", "Round…").do_action(0)
        title = window.wait("text", "Round")
        until("the latest round", lambda: title.get_text(0, -1) == "Spring")
        key("Return")
        window.told("Offer ‘A2’ put into the round Spring")
        self.assertEqual(self.offered(), {"Spring": 2})
        key("ctrl+z")
        window.told("Undone: Offer ‘A2’ put into the round Spring")
        self.assertEqual(self.offered(), {"Spring": 1})
        # an empty title takes it out again
        window.row("Running offers", "Screw press").do_action(0)
        window.wait("label", "Round: Spring")
        window.wait("push button", "Round…").do_action(0)
        title = window.wait("text", "Round")
        until("its round", lambda: title.get_text(0, -1) == "Spring")
        title.set_text_contents("")
        key("Return")
        window.told("Offer ‘A1’ taken out of its round")
        self.assertEqual(self.offered(), {"Spring": 0})

    def offered(self):
        return {row["round"]: row["offered"] for row in shedwalk("rounds", self.catalogue, "--json")}

    def test_sold_elsewhere_is_to_be_withdrawn_by_one_key(self):
        self.put_up(1, 60)
        self.book({"what": "outlet", "outlet": "Noticeboard", "kind": "priced ad"},
                  {"what": "offer", "outlet": "Noticeboard", "ref": "N1", "item": 1, "start": 300, "up": "2026-04-14"},
                  {"what": "result", "ref": "A1", "at": "2026-04-20", "result": "sold", "amount": 310})
        window = self.open()
        the_list = self.running(window)
        window.wait("label", "1 running offer, 1 to withdraw")
        window.row("Running offers", "Screw press, running, Running, To withdraw, Noticeboard")
        until("the keyboard in the list", lambda: has(the_list, "FOCUSED"))
        key("w")
        window.told("Offer N1 withdrawn")
        window.wait("label", "Nothing is on offer")
        self.assertEqual(self.states()[0], "Sold")

    def into(self, window, field, text):
        entry = window.hidden("text", field)
        entry.grab_focus()
        until("the focus in " + field, lambda: has(entry, "FOCUSED"))
        key("End")
        type_text(text)


class Unsold(OfferTest):
    def test_one_by_one_by_keys(self):
        self.put_up(3, 60)
        self.book(*({"what": "result", "ref": f"A{i}", "at": "2026-04-26T20:10", "result": "no sale"} for i in (1, 2, 3)))
        window = self.open()
        key("alt+3")
        window.wait("radio button", "Unsold").do_action(0)
        window.wait("label", "1 of 3")
        window.wait("label", "Asked 10.00\N{NO-BREAK SPACE}NZD, Hill Road, ended 26 April 2026")
        window.wait("label", "3, too few to tell")
        name = window.wait("label", "Screw press")
        until("the keyboard", lambda: has(window.wait("push button", "Next"), "FOCUSED"))
        key("h")
        window.told("Screw press: bring home")
        window.wait("label", "1 of 2")
        until("the next", lambda: not is_there(name, "Screw press"))
        key("l")
        window.wait("label", "2 of 2")
        key("s")
        window.told("Clay pots: for scrap")
        window.wait("label", "1 of 1")
        self.assertEqual(self.states(), ["Bring home", "No sale", "For scrap"])
        key("ctrl+z")
        window.wait("label", lambda text: text.endswith(" of 2"))


def is_there(label, text):
    return label.get_name() == text


class Sales(OfferTest):
    def open_sales(self):
        window = self.open()
        key("alt+3")
        window.wait("radio button", "Sales").do_action(0)
        return window

    def test_cash_in_the_yard(self):
        window = self.open_sales()
        click(window.wait("push button", "Sale without an offer…"))
        item = window.wait("text", "Item")
        until("the keyboard there", lambda: has(item, "FOCUSED"))
        type_text("Clay pots\t55\t10")
        key("Return")
        window.told("Sale Clay pots")
        window.row("Sales", "Clay pots, Sold, 55.00, 55.00 owed, not collected")
        self.assertEqual(sorted(item["count"] for item in shedwalk("items", self.catalogue, "--json") if item["name"] == "Clay pots"),
                         [10, 30])

    def test_paid_in_two_parts_collected_and_refunded(self):
        self.book({"what": "sale", "ref": "S7", "item": 1, "at": "2026-04-20", "amount": 100})
        window = self.open_sales()
        window.row("Sales", "Screw press, Sold, 100.00, 100.00 owed, not collected")
        for minute, (amount, left) in enumerate((("40", "60.00 owed"), ("40", "20.00 owed"))):  # twice the same on one day are two
            self.set_clock(FIRST + datetime.timedelta(minutes=minute))
            click(window.wait("push button", "Payment…"))
            field = window.wait("text", "Amount")
            until("what is owed", lambda field=field: field.get_text(0, -1) != "")
            click(field)
            type_over(field, amount)
            key("Return")
            window.row("Sales", f"Screw press, Sold, 100.00, {left}")
        click(window.wait("push button", "Collected…"))
        window.wait("text", "On day")
        key("Return")
        window.told("Collected: S7")
        self.assertEqual(self.states()[0], "Handed over")
        click(window.wait("push button", "Refund…"))
        window.wait("text", "Amount")
        type_text("15")
        key("Return")
        window.told("Taken back: S7")
        self.assertEqual(shedwalk("takings", self.catalogue, "--json")["total"]["proceeds"], 8500)


class Outlets(OfferTest):
    def test_terms_show_what_sales_would_leave_and_old_ones_stay(self):
        window = self.open()
        key("alt+3")
        window.wait("radio button", "Outlets").do_action(0)
        window.wait("label", "auction, 10 days running, 3 days to pay")
        for text in ("3.00", "27.00", "15.00", "135.00", "80.00", "720.00", "from 1 January 2026, in force"):
            window.wait("label", text)
        window.wait("label", "No trip lies ahead; add one to see until when things must be up.")
        shedwalk("trip", "add", self.catalogue, "--title", "Winter", "--first", "2026-06-12", "--last", "2026-06-15")
        window.wait("label", "To be paid and collected on the trip of 12 June 2026: up by 30 May 2026, in 34 days.")
        window.wait("label", lambda text: text.startswith("Sack truck cannot become "))
        click(window.wait("push button", "Change commission"))
        percent = window.wait("text", "Percent")
        click(percent)
        type_over(percent, "120%")
        key("Return")
        window.wait("label", "Percent: ‘120%’ is more than the whole; give a percentage from 0% to 100%.")
        type_over(percent, "20%")
        key("Return")
        window.told("Terms of Hill Road")
        for text in ("6.00", "24.00", "160.00", "640.00", "from 1 January 2026, earlier", "from 26 April 2026, in force"):
            window.wait("label", text)
        # an offer that was up before pays by the earlier terms
        self.put_up(1, 60)
        self.book({"what": "result", "ref": "A1", "at": "2026-04-27", "result": "sold", "amount": 100})
        self.assertEqual(shedwalk("takings", self.catalogue, "--json")["total"]["fees"], 1000)

    def test_a_new_outlet(self):
        window = self.open()
        key("alt+3")
        window.wait("radio button", "Outlets").do_action(0)
        click(window.wait("push button", "New outlet…"))
        name = window.wait("text", "Name")
        until("the keyboard there", lambda: has(name, "FOCUSED"))
        type_text("Noticeboard")
        key("Return")
        window.told("Outlet Noticeboard")
