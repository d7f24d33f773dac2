# SPDX-License-Identifier: GPL-3.0-or-later
"""What is done to several items at once, each one act; and what the sheet does to one besides its facts: counted again, joined,
with what it may be worth."""

from driver import click, has, key, shedwalk, type_over, type_text, until
from test_items import ItemsTest


class AtOnce(ItemsTest):
    def setUp(self):
        super().setUp()
        book = self.folder / "book.csv"
        book.write_text("what,outlet,kind\noutlet,Hill Road,auction\n", encoding="utf-8")
        shedwalk("book", self.catalogue, book)

    def choose_all(self):
        window = self.open()
        key("alt+2")
        click(window.wait("radio button", "Table"))
        table = until("the table", lambda: window.find("table", "Table of items") or window.find("tree table", "Table of items"))
        table.grab_focus()
        until("the focus", lambda: has(table, "FOCUSED"))
        key("ctrl+a")
        window.wait("label", "3 chosen")
        return window

    def form(self, window, button, role, field):
        """Opens the form of a button; its first field has the focus (of a list to choose from its button has it)."""
        click(window.wait("push button", button, under=window.wait("panel", "Do to all chosen")))
        first = window.wait(role, field)
        if role == "text":
            until("the focus", lambda: has(first, "FOCUSED"))
        return first

    def undone(self, window, sql, before):
        """One undo takes all of it back."""
        key("ctrl+z")
        window.told("Undone: ")
        self.assertEqual(self.ask(sql), before)

    @staticmethod
    def chosen(combo):
        child = combo.get_selected_child(0)
        return child.get_name() if child is not None else None

    def do(self, window, title):
        click(until("its button", lambda: window.find("push button", title)))

    def test_a_place_for_all(self):
        sql = "SELECT place FROM item ORDER BY id"
        before = self.ask(sql)
        window = self.choose_all()
        self.form(window, "Place…", "combo box", "Place")
        key("End")
        self.do(window, "Place")
        window.told("3 items: ")
        places = {item["place"] for item in shedwalk("items", self.catalogue, "--json")}
        self.assertEqual(places, {"Press house > Loft"})
        self.undone(window, sql, before)

    def test_an_outlet_for_all(self):
        window = self.choose_all()
        outlet = self.form(window, "Outlet…", "combo box", "Outlet")
        # its outlets are read once it is open
        until("the outlet chosen", lambda: key("Down") or self.chosen(outlet) == "Hill Road")
        self.do(window, "Outlet")
        window.told("3 items: ")
        self.assertEqual({row[0] for row in self.ask("SELECT outlet.name FROM item JOIN outlet ON outlet.id = item.outlet")}, {"Hill Road"})

    def test_one_person_is_asked_about_all(self):
        sql = "SELECT item, text, person FROM question ORDER BY item"
        window = self.choose_all()
        self.form(window, "Ask…", "text", "Question")
        type_text("Whose was it?")
        key("Tab")
        type_text("Bram")
        key("Return")
        window.told("3 items: ")
        self.assertEqual(self.ask(sql), [(i, "Whose was it?", "Bram") for i in (1, 2, 3)])
        self.undone(window, sql, [])

    def test_one_job_for_all(self):
        sql = "SELECT item, kind, text, tools, hands FROM job ORDER BY item"
        window = self.choose_all()
        self.form(window, "Job…", "combo box", "To do")
        key("Down")
        key("Tab")
        type_text("from all sides")
        key("Tab")
        type_text("lamp")
        key("Tab")
        type_text("2")
        key("Return")
        window.told("3 items: ")
        self.assertEqual(self.ask(sql), [(i, "photograph", "from all sides", "lamp", 2) for i in (1, 2, 3)])
        self.undone(window, sql, [])

    def test_a_lot_of_all(self):
        window = self.choose_all()
        self.form(window, "Lot…", "text", "Name of the lot")
        type_text("Pressing things")
        key("Return")
        window.told(lambda text: "Pressing things" in text)
        self.assertEqual(self.ask("SELECT lot.name, count(*) FROM item JOIN lot ON lot.id = item.lot GROUP BY 1"), [("Pressing things", 3)])
        self.undone(window, "SELECT count(*) FROM item WHERE lot IS NOT NULL", [(0,)])


class One(ItemsTest):
    def test_counted_again_it_keeps_both_counts(self):
        window = self.show_item("Clay pots")
        count = window.wait("text", "Count")
        click(count)
        type_over(count, "37")
        key("Return")
        window.told("Clay pots: count 37")
        self.assertEqual(self.item(3)["count"], 37)
        history = [row[0] for row in self.ask("SELECT sentence FROM event WHERE subject = 'item' AND subject_id = 3")]
        self.assertTrue(any("37" in line and "40" in line for line in history), history)
        window.hidden("label", lambda text: "37" in text and "40" in text)

    def test_what_it_may_be_worth(self):
        window = self.show_item("Screw press")
        window.hidden("push button", "+ Price evidence").do_action(0)
        window.hidden("combo box", "Price")
        key("Down")
        self.into(window, "Amount", "420.00")
        self.into(window, "Known from", "bill of the maker")
        key("Return")
        self.line(window, "Paid: ")
        self.assertEqual(self.ask("SELECT kind, amount, source FROM price"), [("paid", 42000, "bill of the maker")])

    def test_two_that_are_one_are_joined(self):
        shedwalk("item", "add", self.catalogue, "Screw press, back", "--place", "Press house", "--trip", 1)
        window = self.show_item("Screw press")
        click(window.wait("toggle button", "More for this item"))
        window.wait("push button", "Join another item into it…").do_action(0)
        field = window.wait("text", "Name of the item")
        until("the focus", lambda: has(field, "FOCUSED"))
        type_text("pots")
        key("BackSpace", "BackSpace", "BackSpace", "BackSpace")
        type_text("back")
        key("Return")  # before the rows are read: what fits is taken all the same
        window.told("Screw press: item 4 'Screw press, back' joined into it")
        self.assertEqual([item["name"] for item in shedwalk("items", self.catalogue, "--json")],
                         ["Screw press", "Sack truck", "Clay pots"])
        key("ctrl+z")
        window.told("Undone: ")
        self.assertEqual(len(shedwalk("items", self.catalogue, "--json")), 4)
