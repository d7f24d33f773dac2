# SPDX-License-Identifier: GPL-3.0-or-later
"""Back home: the sheet of the last trip ticked off by keys, the cash, a refusal, undo."""

from driver import WindowTest, cell, has, key, shedwalk, type_text, until

TABLE = "To tick off"
SOLD = """what,ref,outlet,kind,item,at,amount,buyer
outlet,,Iron Lane,scrap yard,,,,
sale,S1,,,Cider barrel,2026-03-01,60,Ann Alder
sale,S2,,,Apple ladder,2026-03-02,25,Bo Birch
"""


class Ticks(WindowTest):
    def prepare(self):
        for name in ("Cider barrel", "Apple ladder", "Copper still", "Iron frame"):
            shedwalk("item", "add", self.catalogue, name, "--place", "Press house", "--trip", 1, "--asking", 50)
        shedwalk("item", "move", self.catalogue, "Copper still", "Bring home")
        shedwalk("item", "move", self.catalogue, "Iron frame", "For scrap")
        shedwalk("item", "set", self.catalogue, "Iron frame", "--mass", "40 kg")
        table = self.folder / "sold.csv"
        table.write_text(SOLD, encoding="utf-8")
        shedwalk("book", self.catalogue, table)
        shedwalk("hand-out", self.catalogue, "sheet", "--trip", 1, "--to", self.folder / "sheet.pdf")

    def show(self):
        window = self.open()
        key("alt+4")
        window.wait("push button", "Tick off the last trip").do_action(0)
        window.wait("label", lambda text: text.startswith("Back from Autumn, "))
        until("the keyboard on the table", lambda: has(self.table(window), "FOCUSED"))
        return window

    @staticmethod
    def table(window):
        return window.find("tree table", TABLE) or window.find("table", TABLE)

    def signs(self, window):
        """What stands before each line: {what: sign}."""
        table = self.table(window)
        cells = [[cell(table, row, column) for column in range(3)] for row in range(table.get_n_rows())]
        return {what: sign for sign, number, what in cells if number}

    def states(self):
        return {item["name"]: item["state"] for item in shedwalk("items", self.catalogue, "--json")}

    def chosen(self, window, what):
        window.wait("label", lambda text: text[:1].isdigit() and what in text)

    def test_one_pass(self):
        self.prepare()
        window = self.show()
        self.chosen(window, "Cider barrel: Ann Alder, 60")
        key("h")
        entry = until("the cash", lambda: window.find("text", "Taken in cash, of 60.00 due:"))
        until("the keyboard in it", lambda: has(entry, "FOCUSED"))
        type_text("45")
        key("Return")
        window.told("Cider barrel: handed over, 45.00 taken, 15.00 still owed")
        self.chosen(window, "Apple ladder: Bo Birch")
        key("n")
        window.told("Apple ladder: not found, its sale fell through")
        self.chosen(window, "Copper still")
        key("b")
        entry = until("what is broken", lambda: window.find("text", "What is broken:"))
        until("the keyboard in it", lambda: has(entry, "FOCUSED"))
        type_text("lid cracked")
        key("Return")
        window.told("Copper still: broken")
        self.chosen(window, "Copper still: broken")  # it is open still
        key("l")
        window.told("Copper still: brought home")
        self.chosen(window, "Iron frame")
        key("s")
        window.told("Iron frame: scrapped, its docket to be entered")
        until("their signs", lambda: self.signs(window)["Iron frame"] == "\u2611 scrapped")
        signs = self.signs(window)
        self.assertEqual([signs[what] for what in ("Cider barrel", "Apple ladder", "Copper still")],
                         ["\u2611 handed over", "\u2611 not found", "\u2611 brought home"])
        states = self.states()
        self.assertEqual([states[what] for what in ("Cider barrel", "Apple ladder", "Copper still", "Iron frame")],
                         ["Handed over", "Missing", "At home", "For scrap"])
        key("c")
        entry = until("the cash box", lambda: window.find("text", "Counted in the cash box:"))
        until("the keyboard in it", lambda: has(entry, "FOCUSED"))
        type_text("44.50")
        key("Return")
        window.told("Trip 1: 44.50 in cash counted")
        window.wait("label", lambda text: "Taken 45.00 NZD of 60.00 NZD due. The cash box holds 44.50 NZD: 0.50 NZD less"
                    in text.replace("\u00a0", " "))
        window.wait("push button", "Docket…").do_action(0)
        window.wait("text", "Gross, kg")

    def test_keys_pressed_fast_count(self):
        """Each line is ticked once, however fast the next key comes."""
        for place in ("Cold store", "Machine shed", "Cooperage", "Bottle loft"):
            shedwalk("place", "add", self.catalogue, place)
        window = self.show()
        until("the lines", lambda: "Cold store" in self.signs(window))
        n = len(self.signs(window))
        key(*["d"] * n)
        window.wait("label", lambda text: text.startswith("Every line is seen to."))
        self.assertEqual({sign for sign in self.signs(window).values()}, {"\u2611 done"})
        self.assertEqual(shedwalk("tick", self.catalogue, "--json")["open"], 0)

    def test_refused_and_taken_back(self):
        self.prepare()
        window = self.show()
        self.chosen(window, "Cider barrel")
        key("h")
        entry = until("the cash", lambda: window.find("text", "Taken in cash, of 60.00 due:"))
        until("the keyboard in it", lambda: has(entry, "FOCUSED"))
        type_text("much")
        key("Return")
        window.told(lambda text: "much" in text)
        key("Escape")
        until("the keyboard back", lambda: has(self.table(window), "FOCUSED"))
        self.assertEqual(self.states()["Cider barrel"], "Sold")
        self.chosen(window, "Cider barrel")
        # another program is faster: the line is open here still, and the act is refused there
        shedwalk("tick", self.catalogue, "1", "handed-over")
        until("it shows", lambda: self.signs(window)["Cider barrel"] == "\u2611 handed over")
        key("Down")
        self.chosen(window, "Apple ladder")
        key("n")
        window.told("Apple ladder: not found, its sale fell through")
        until("it shows", lambda: self.signs(window)["Apple ladder"] == "\u2611 not found")
        key("ctrl+z")
        window.told("Undone: ")
        until("it is open again", lambda: self.signs(window)["Apple ladder"] == "\u2610 open")
        self.assertEqual(self.states()["Apple ladder"], "Sold")
        key("Escape")
        window.wait("label", "No trip lies ahead")
