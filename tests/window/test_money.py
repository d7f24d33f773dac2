# SPDX-License-Identifier: GPL-3.0-or-later
"""What is said of offers and sales beside the closing night: texts, prices, enquiries, statements, scrap; sheets for others."""

import datetime

from driver import choose, click, has, is_showing, key, shedwalk, type_over, type_text, until, walk
from test_offer import FIRST, ZONE, OfferTest, clipboard

NBSP = "\N{NO-BREAK SPACE}"


def put(entry, text):
    """Typed over whatever stands in the entry."""
    entry.grab_focus()
    type_over(entry, text)


class MoneyTest(OfferTest):
    def section(self, name):
        window = self.open()
        key("alt+3")
        window.wait("radio button", name).do_action(0)
        return window

    def press(self, window, button):
        found = window.wait("push button", button)
        until(f"{button} to be had", lambda: has(found, "SENSITIVE"))
        click(found)

    def choose_file(self, window, title, path, accept, location=None):
        """Types a path over the name in a file chooser of that title; one that saves stands in its name already."""
        chooser = window.wait("file chooser", title)
        if location is not None:
            key(location)
        entry = until("its name", lambda: next((node for node in texts(chooser) if has(node, "FOCUSED")), None))
        key("ctrl+a")
        type_text(str(path))
        until("the path", lambda: entry.get_text(0, -1) == str(path))
        self.press(window, accept)


def texts(node):
    return [each for each in walk(node) if each.get_role_name() == "text" and is_showing(each) and has(each, "EDITABLE")]


class Running(MoneyTest):
    def test_the_text_is_made_of_the_facts_and_each_field_is_copied(self):
        self.put_up(1, 60)
        shedwalk("item", "set", self.catalogue, 1, "--mass", "480 kg")
        window = self.section("Running")
        text = window.wait("text", "Text")
        until("the text", lambda: text.get_text(0, -1).startswith("Condition: not known.\nFaults: none noted"))
        self.assertIn("Mass: 480 kg.", text.get_text(0, -1))
        made = text.get_text(0, -1)
        click(window.wait("push button", "Copy the text"))
        window.told("The text is copied.")
        self.assertEqual(clipboard(), made)
        click(window.wait("push button", "Copy the price"))
        window.told("The price is copied.")
        self.assertEqual(clipboard(), "10.00")
        extra = window.wait("text", "Also to be had")
        put(extra, "two spare screws")
        click(window.wait("push button", "Copy what is also to be had"))
        until("it is copied", lambda: clipboard() == "two spare screws")
        until("the text follows", lambda: "Also to be had with it: two spare screws." in text.get_text(0, -1))
        # what the person writes stays, until it is asked to be made anew
        put(text, "My own words.")
        click(window.wait("push button", "Copy the title"))
        until("the title is copied", lambda: clipboard() == "Screw press")
        shedwalk("item", "set", self.catalogue, 1, "--mass", "490 kg")
        again = window.wait("push button", "Write the text by the facts")
        until("it can be made anew", lambda: has(again, "SENSITIVE"))
        self.assertEqual(text.get_text(0, -1), "My own words.")
        until("the mass was read", lambda: (click(again), "Mass: 490 kg." in text.get_text(0, -1))[1])

    def test_a_changed_price_an_enquiry_a_hold_and_a_no_show(self):
        self.put_up(1, 60)
        window = self.section("Running")
        self.press(window, "Price…")
        put(window.wait("text", "Price"), "7.50")
        key("Return")
        window.told("Offer A1: price from 10.00 to 7.50")
        window.row("Running offers", "Screw press, closes in 1 minute 0 seconds, Running, Hill Road, starts at 7.50")
        self.press(window, "Enquiry…")
        put(window.wait("text", "Who"), "A. Caller")
        put(window.wait("text", "Offers"), "6")
        key("Return")
        window.wait("label", "A. Caller, 6.00")
        self.press(window, "Hold for… A. Caller")
        until_entry = window.wait("text", "Until the end of")
        put(until_entry, "2020-01-01")
        key("Return")
        window.wait("label", lambda text: "give a later day" in text)
        put(until_entry, str(datetime.date.today() + datetime.timedelta(days=3)))
        key("Return")
        until("it is held", lambda: self.states()[0] == "On hold")
        last = datetime.date.today() + datetime.timedelta(days=3)
        said = f"{last.day} {last:%B %Y}"
        window.wait("label", f"A. Caller, 6.00, held until {said}")
        self.says_running(window, f"1 enquiry, held until {said}")
        # a hold whose day has passed says so by itself
        self.set_clock(datetime.datetime.combine(last + datetime.timedelta(days=1), datetime.time(0, 0, 1), tzinfo=ZONE))
        self.says_running(window, f"1 enquiry, the hold ran out on {said}")
        self.press(window, "Did not come A. Caller")
        window.told("Offer A1: did not come")
        window.wait("label", "A. Caller, 6.00, did not come")
        self.assertEqual(self.states()[0], "On offer")
        key("ctrl+z")
        until("held again", lambda: self.states()[0] == "On hold")

    @staticmethod
    def says_running(window, what):
        until(what, lambda: any(what in row for row in window.rows("Running offers")))

    def test_one_who_only_asked_is_removed_for_good(self):
        self.put_up(1, 60)
        window = self.section("Running")
        self.press(window, "Enquiry…")
        put(window.wait("text", "Who"), "A. Caller")
        put(window.wait("text", "Offers"), "6")
        key("Return")
        window.wait("label", "A. Caller, 6.00")
        self.press(window, "Remove the name… A. Caller")
        window.wait("label", "No safety copy holds the name.")
        self.press(window, "Remove")
        until("nobody asked", lambda: window.find("label", "A. Caller, 6.00") is None)
        self.assertNotIn(b"A. Caller", (self.catalogue / "catalogue.db").read_bytes())

    def test_taken_back_by_hand_the_offer_is_to_be_withdrawn(self):
        self.put_up(1, 60)
        window = self.section("Running")
        window.wait("label", "1 running offer")
        shedwalk("item", "move", self.catalogue, 1, "Found" if self.states()[0] != "On offer" else "Ready")
        window.wait("label", lambda text: text in ("1 running offer, 1 to withdraw", "Nothing is on offer"))


class Outlets(MoneyTest):
    def test_a_charge_shows_what_it_would_cost_while_it_is_typed(self):
        """Nothing is kept before it is confirmed."""
        window = self.section("Outlets")
        self.press(window, "Add a charge…")
        window.wait("label", lambda text: text.startswith("With a name and a flat sum or percent"))
        put(window.wait("text", "Name"), "listing")
        put(window.wait("text", "Flat"), "1.50")
        # 10% of the price stands already
        window.wait("label", "A sale for 30.00 would cost 4.50 and leave 25.50.\n"
                             "A sale for 150.00 would cost 16.50 and leave 133.50.\n"
                             "A sale for 800.00 would cost 81.50 and leave 718.50.\nNo sale would cost 1.50.")
        choose(window, "offer", "sale")
        window.wait("label", lambda text: text.endswith("No sale would cost 0.00."))
        # what is wrong is said before it is confirmed
        choose(window, "sale", "price")
        window.wait("label", lambda text: "'tiers'" in text)
        key("Escape")
        until("closed", lambda: window.find("text", "Flat") is None)
        self.assertIsNone(window.find("label", "listing"))
        self.press(window, "Add a charge…")
        put(window.wait("text", "Name"), "listing")
        put(window.wait("text", "Flat"), "1.50")
        key("Return")
        window.told("Terms of Hill Road")
        window.wait("label", "listing")


class Sales(MoneyTest):
    def test_fees_as_charged_stand_beside_those_worked_out(self):
        self.put_up(1, 60)
        self.book({"what": "result", "ref": "A1", "at": "2026-04-26T20:00", "result": "sold", "amount": 100})
        window = self.section("Sales")
        window.row("Sales", "Screw press, Sold, 100.00").do_action(0)
        window.wait("label", "not charged yet")
        self.press(window, "Fee as charged…")
        put(window.wait("text", "Charge"), "commission")
        put(window.wait("text", "Amount"), "12")
        key("Return")
        window.told("Fee as charged for A1")
        window.wait("label", "+2.00")
        self.assertEqual(shedwalk("takings", self.catalogue, "--json")["total"]["fees"], 1200)

    def test_a_deposit_with_how_and_to_whom(self):
        self.book({"what": "sale", "ref": "S7", "item": 1, "at": "2026-04-20", "amount": 100})
        window = self.section("Sales")
        self.press(window, "Payment…")
        put(window.wait("text", "Amount"), "30")
        put(window.wait("text", "How"), "cash")
        put(window.wait("text", "To whom"), "Bea")
        key("Return")
        window.told("Payment of S7")
        window.wait("label", "Paid 30.00 on 26 April 2026, cash, to Bea")
        window.row("Sales", "Screw press, Sold, 100.00, 70.00 owed")
        # more than is owed is what a buyer may well pay: it stands in the row, to be given back
        self.press(window, "Payment…")
        put(window.wait("text", "Amount"), "75")
        key("Return")
        window.row("Sales", "Screw press, Sold, 100.00, 5.00 paid too much, not collected")
        self.press(window, "Give back…")
        back, day = window.wait("text", "Amount"), window.wait("text", "On day")
        until("all of it", lambda: back.get_text(0, -1) == "5.00")
        put(day, "31 Nov")
        key("Return")
        window.wait("label", lambda text: text.startswith("‘31 Nov’ is a day that no calendar has"))
        put(day, "27 Apr")
        window.wait("check box", "Out of the cash box").do_action(0)
        put(back, "5.01")
        key("Return")
        window.wait("label", lambda text: text.startswith("5.00 was paid too much for ‘S7’"))
        put(back, "5")
        key("Return")
        window.told("Paid too much for S7: given back")
        window.row("Sales", "Screw press, Sold, 100.00, not collected")
        window.wait("label", "Paid too much, given back on 27 April 2026: 5.00")
        self.assertEqual(shedwalk("takings", self.catalogue, "--json")["total"]["owed"], 0)
        key("ctrl+z")
        window.row("Sales", "Screw press, Sold, 100.00, 5.00 paid too much, not collected")
        key("ctrl+z")
        window.row("Sales", "Screw press, Sold, 100.00, 70.00 owed")
        self.press(window, "Refund…")
        put(window.wait("text", "Amount"), "30")
        key("Return")
        window.row("Sales", "Screw press, Sold, 100.00, 40.00 owed, 30.00 given back, not collected")

    def test_what_was_also_to_be_had_is_sold_with_it(self):
        table = self.folder / "sold.csv"
        self.put_up(1, 60)
        window = self.section("Running")
        put(window.wait("text", "Also to be had"), "the clay pots, 40")
        key("Tab")
        window.told("Offer ‘A1’ described")
        table.write_text("what,ref,at,result,amount,buyer\nresult,A1,2026-04-26T20:00,sold,100,Q. Buyerson\n", encoding="utf-8")
        shedwalk("book", self.catalogue, table)
        window.wait("radio button", "Sales").do_action(0)
        window.wait("label", "Also to be had with it: the clay pots, 40")
        self.press(window, "Sold with it…")
        window.wait("label", "Also to be had with Screw press: the clay pots, 40")
        buyer = window.wait("text", "Buyer")
        until("the same buyer", lambda: buyer.get_text(0, -1) == "Q. Buyerson")
        put(window.wait("text", "Item"), "Clay pots")
        put(window.wait("text", "Amount"), "40")
        key("Return")
        window.told("Sale Clay pots")
        window.row("Sales", "Clay pots, Sold, 40.00")
        self.assertEqual(shedwalk("takings", self.catalogue, "--json")["total"]["proceeds"], 14000)
        key("ctrl+z")
        until("it is taken back", lambda: shedwalk("takings", self.catalogue, "--json")["total"]["proceeds"] == 10000)

    def test_what_cannot_be_is_refused_in_words(self):
        """The form stays, with a sentence that says what to do, and nothing is booked."""
        window = self.section("Sales")
        click(window.wait("push button", "Sale without an offer…"))
        put(window.wait("text", "Item"), "Sack truck")
        count, amount = window.wait("text", "Count"), window.wait("text", "Amount")
        for how_many, price, says in (("3", "10", "only 2 are left"), ("1", "10.001", "two amounts"),
                                      ("1", "99999999999999999999", "too large"), ("1", "-5", "negative"), ("0", "5", "at least 1")):
            put(count, how_many)
            put(amount, price)
            key("Return")
            window.wait("label", lambda text, says=says: says in text and text.endswith("."))
        self.assertEqual(shedwalk("takings", self.catalogue, "--json")["rows"], [])
        put(count, "1")
        put(amount, "5")
        key("Return")
        window.told("Sale Sack truck")
        window.row("Sales", "Sack truck, Sold, 5.00").do_action(0)
        # a sale falls through once
        self.press(window, "Refund…")
        window.wait("text", "On day")
        key("Return")
        window.told("Taken back: S")
        window.row("Sales", "Sack truck, Fell through, 5.00")
        until("it is over", lambda: not has(window.wait("push button", "Refund…"), "SENSITIVE"))

    def test_it_falls_through_and_goes_to_the_underbidder(self):
        self.put_up(1, 60)
        window = self.section("Running")
        self.press(window, "Enquiry…")
        put(window.wait("text", "Who"), "B. Next")
        put(window.wait("text", "Offers"), "90")
        key("Return")
        window.wait("label", "B. Next, 90.00")
        self.book({"what": "result", "ref": "A1", "at": "2026-04-26T20:00", "result": "sold", "amount": 100})
        window.wait("radio button", "Sales").do_action(0)
        window.wait("label", "Next best: B. Next, 90.00")
        self.press(window, "Sell to the next…")
        amount = window.wait("text", "Amount")
        until("what was named", lambda: amount.get_text(0, -1) == "90.00")
        key("Return")
        window.told(lambda text: text.startswith("A1 fell through; sold to the next as S") and text.endswith(" for 90.00"))
        window.row("Sales", "Screw press, Fell through, 100.00")
        self.assertEqual(self.states()[0], "Sold")
        self.assertEqual(shedwalk("takings", self.catalogue, "--json")["total"]["proceeds"], 9000)
        key("ctrl+z")
        until("the first sale stands again", lambda: shedwalk("takings", self.catalogue, "--json")["total"]["proceeds"] == 10000)

    def test_a_buyer_is_removed_for_good(self):
        table = self.folder / "buyer.csv"
        table.write_text("what,ref,item,at,amount,buyer\nsale,S7,1,2026-04-20,100,Q. Buyerson\n", encoding="utf-8")
        shedwalk("book", self.catalogue, table)
        home = self.folder / "second home"
        shedwalk("backup", self.catalogue, home)
        window = self.section("Sales")
        window.wait("label", "Bought by Q. Buyerson")
        self.press(window, "Remove the name…")
        window.wait("label", f"These copies hold the name now:\n{home / 'catalogue.db'}")
        self.press(window, "Remove")
        until("nobody is named", lambda: window.find("label", "Bought by Q. Buyerson") is None)
        self.assertNotIn(b"Q. Buyerson", (self.catalogue / "catalogue.db").read_bytes())
        self.assertEqual(shedwalk("takings", self.catalogue, "--json")["total"]["proceeds"], 10000)
        shedwalk("check", self.catalogue)

    def test_a_statement_is_held_against_the_books_and_entered_once(self):
        self.put_up(2, 60)
        self.book(*({"what": "result", "ref": f"A{i}", "at": "2026-04-26T20:00", "result": "sold", "amount": 100} for i in (1, 2)))
        self.book({"what": "outlet", "outlet": "Attic Sales", "kind": "dealer"})
        file = self.folder / "statement.csv"
        file.write_text("Lot No;Sold on;Hammer;We keep\nA1;2026-04-26;100.00;12.50\nZ9;2026-04-26;5.00;1.00\n", encoding="utf-8")
        window = self.section("Sales")
        self.press(window, "Statement…")
        self.choose_file(window, "Statement of an outlet, as CSV", file, "Read it", "ctrl+l")
        self.assertFalse(has(window.wait("push button", "Enter it"), "SENSITIVE"), "nothing to match by yet")
        for field, heading in (("Reference", "Lot No"), ("Day", "Sold on"), ("Price", "Hammer"), ("Fees", "We keep")):
            choose(window, field, heading)
        # of another outlet nothing is remembered: what is chosen stays, and the statement is none of its own
        choose(window, "Outlet", "Attic Sales")
        window.wait("label", lambda text: "2 rows is a sale through ‘Attic Sales’" in text)
        choose(window, "Outlet", "Hill Road")
        window.wait("label", "1 of 2 rows matched. Sold for 100.00, in the books 100.00. Fees 12.50, in the books 10.00.")
        window.wait("label", lambda text: text.startswith("Line 3, Z9: "))
        window.wait("label", "A2 was sold there in those days, and is not in the statement.")
        self.press(window, "Enter it")
        window.told("Statement of Hill Road: 1 settled")
        self.assertEqual(shedwalk("takings", self.catalogue, "--json")["total"]["fees"], 2250)
        # the columns are remembered, and nothing is entered twice
        self.press(window, "Statement…")
        self.choose_file(window, "Statement of an outlet, as CSV", file, "Read it", "ctrl+l")
        window.wait("label", "1 of 2 rows matched. Sold for 100.00, in the books 100.00. Fees 12.50, in the books 12.50.")
        self.press(window, "Enter it")
        until("the form closed", lambda: window.find("push button", "Enter it") is None)
        self.assertEqual(shedwalk("takings", self.catalogue, "--json")["total"]["fees"], 2250)


class Scrap(MoneyTest):
    def test_the_pile_grows_until_it_is_fetched_and_a_docket_takes_it(self):
        shedwalk("item", "set", self.catalogue, 1, "--mass", "480 kg")
        self.book({"what": "outlet", "outlet": "Yard", "kind": "scrap yard"})
        window = self.section("Scrap")
        window.wait("label", "Nothing is marked for scrap")
        shedwalk("item", "move", self.catalogue, 1, "For scrap")
        window.row("Scrap pile and dockets", "Screw press, For scrap, no floor, class not said, 480 kg")
        self.press(window, "Yard rate…")
        put(window.wait("text", "Class"), "cast iron")
        put(window.wait("text", "Rate a tonne"), "200")
        window.wait("check box", "The yard fetches it").do_action(0)
        put(window.wait("text", "From at least"), "1 t")
        key("Return")
        until("the form closed", lambda: window.find("text", "Rate a tonne") is None)
        self.press(window, "Load…")
        put(window.wait("text", "Cartage"), "45")
        put(window.wait("text", "Mass of a load"), "1.5 t")
        key("Return")
        window.wait("label", lambda text: text.startswith("A load to the gate takes 1.5 t") or "1500 kg" in text)
        # weighed at the yard: lines that do not add up are refused in words
        self.press(window, "Docket…")
        put(window.wait("text", "Docket number"), "W12")
        put(window.wait("text", "Gross, kg"), "2000")
        put(window.wait("text", "Tare, kg"), "2480")
        put(window.wait("text", "Class, line 1"), "cast iron")
        put(window.wait("text", "Net, line 1"), "400")
        put(window.wait("text", "Rate, line 1"), "200")
        key("Return")
        window.wait("label", lambda text: text.startswith("The tare"))
        put(window.wait("text", "Gross, kg"), "2480")
        put(window.wait("text", "Tare, kg"), "2000")
        key("Return")
        window.wait("label", lambda text: text.startswith("Gross less tare is 480 kg"))
        put(window.wait("text", "Net, line 1"), "480")
        window.wait("toggle button", "Of what, line 1").do_action(0)
        window.wait("check box", "Screw press").do_action(0)
        key("Escape")
        until("the list of things closed", lambda: window.find("check box", "Screw press") is None)
        self.press(window, "Book")
        window.told("Docket W12 of Yard")
        window.row("Scrap pile and dockets", "Docket W12, Scrapped, 96.00, Yard, 26 April 2026")
        self.assertEqual(self.states()[0], "Scrapped")
        self.assertEqual(shedwalk("takings", self.catalogue, "--json")["total"]["proceeds"], 9600)


    def docket(self, window, **fields):
        self.press(window, "Docket…")
        for field, text in fields.items():
            put(window.wait("text", field.replace("_", " ")), text)

    def tick(self, window, line, *things):
        """Exactly these are of the line."""
        window.wait("toggle button", f"Of what, line {line}").do_action(0)
        until("the list of things", lambda: window.find("check box"))
        for box in [node for node in walk(window.app) if node.get_role_name() == "check box" and is_showing(node)]:
            if has(box, "CHECKED") != (box.get_name() in things):
                box.do_action(0)
                until("it turned", lambda box=box: has(box, "CHECKED") == (box.get_name() in things))
        key("Escape")
        until("the list closed", lambda: window.find("check box") is None)

    def test_the_yard_takes_one_as_another_class_refuses_one_and_charges_for_one(self):
        self.book({"what": "outlet", "outlet": "Yard", "kind": "scrap yard"})
        for number, mass, scrap_class in ((1, "480 kg", "heavy steel"), (2, "60 kg", "tyres"), (3, "90 kg", "heavy steel")):
            shedwalk("item", "set", self.catalogue, number, "--mass", mass, "--scrap-class", scrap_class)
            shedwalk("item", "move", self.catalogue, number, "For scrap")
        window = self.section("Scrap")
        self.press(window, "Yard rate…")
        put(window.wait("text", "Class"), "tyres")
        put(window.wait("text", "Rate a tonne"), "120")
        window.wait("check box", "The yard charges that to take it").do_action(0)
        key("Return")
        until("the form closed", lambda: window.find("text", "Rate a tonne") is None)
        # 60 kg at a charge of 120.00 a tonne
        window.row("Scrap pile and dockets", "Sack truck, For scrap, -7.20, tyres, 60 kg")
        self.docket(window, Docket_number="W13", Charged="7.20")
        put(window.wait("text", "Gross, kg"), "2540")
        put(window.wait("text", "Tare, kg"), "2000")
        for line, (scrap_class, net, rate, things) in enumerate((("light steel", "480", "60", ("Screw press",)),
                                                                 ("tyres", "60", "0", ("Sack truck",))), 1):
            put(window.wait("text", f"Class, line {line}"), scrap_class)
            put(window.wait("text", f"Net, line {line}"), net)
            put(window.wait("text", f"Rate, line {line}"), rate)
            self.tick(window, line, *things)
        self.press(window, "Book")
        window.told("Docket W13 of Yard")
        window.row("Scrap pile and dockets", "Docket W13, Scrapped, 28.80, Yard, 26 April 2026, 7.20 charged, Other class, "
                   "Screw press marked as heavy steel, taken as light steel")
        # the pots were refused: they are still to be scrapped
        window.row("Scrap pile and dockets", "Clay pots, For scrap, no floor, heavy steel, 90 kg")
        self.assertEqual(self.states(), ["Scrapped", "Scrapped", "For scrap"])
        total = shedwalk("takings", self.catalogue, "--json")["total"]
        self.assertEqual((total["proceeds"], total["fees"]), (2880, 720))
        key("ctrl+z")
        window.told("Undone: Docket W13 of Yard")
        window.row("Scrap pile and dockets", "Screw press, For scrap, no floor, heavy steel, 480 kg")
        self.assertEqual(self.states(), ["For scrap"] * 3)
        self.assertEqual(shedwalk("takings", self.catalogue, "--json")["rows"], [])


class Night(MoneyTest):
    def test_one_alone_is_confirmed_and_the_next_night_comes_up(self):
        self.put_up(2, 60)
        later = (FIRST + datetime.timedelta(days=7)).replace(tzinfo=None).isoformat()
        self.book({"what": "offer", "outlet": "Hill Road", "ref": "B1", "item": 3, "start": 10, "up": "2026-04-14", "closes": later})
        window = self.open_night()
        self.price_field(window, "Screw press")
        type_text("120")
        key("Return", "n")
        window.wait("label", "1 sold, 1 no sale, 0 to come")
        key("Up", "Up")
        self.price_field(window, "Screw press")
        self.press(window, "Confirm one")
        window.told("1 result confirmed")
        self.assertEqual(self.states()[:2], ["Sold", "On offer"])
        window.wait("push button", "Confirm 1")
        # beside the verdict: mass, floor, and what is known of the van
        self.says(window, "Sack truck", "fits the van: not known")
        key("Down", "ctrl+Return")
        window.told("1 result confirmed")
        until("both are booked", lambda: self.states()[:2] == ["Sold", "No sale"])
        self.press(window, "Next night")
        window.wait("label", "Closing from 3 May 2026")
        self.says(window, "Clay pots", "closes in 7 days")


class Takings(MoneyTest):
    def test_a_sheet_and_a_table_for_others(self):
        self.put_up(1, 60)
        shedwalk("item", "set", self.catalogue, 1, "--mass", "480 kg")
        self.book({"what": "result", "ref": "A1", "at": "2026-04-26T20:00", "result": "sold", "amount": 100})
        window = self.open()
        key("alt+5")
        window.wait("toggle button", "For others").do_action(0)
        self.press(window, "Table as CSV…")
        self.choose_file(window, "Takings as a table", self.folder / "t.csv", "Save")
        window.told("t.csv written.")
        self.assertIn("100.00,10.00,90.00", (self.folder / "t.csv").read_text(encoding="utf-8"))
        window.wait("toggle button", "For others").do_action(0)
        self.press(window, "Sheet as PDF…")
        self.choose_file(window, "Takings as a sheet", self.folder / "sheet", "Save")
        window.told("sheet.pdf written.")
        self.assertEqual((self.folder / "sheet.pdf").read_bytes()[:5], b"%PDF-")
        window.wait("toggle button", "For others").do_action(0)
        self.press(window, "Print the sheet…")
        window.wait("dialog", "Print")
        key("Escape")
        until("the print window closed", lambda: window.find("dialog", "Print") is None)
