# SPDX-License-Identifier: GPL-3.0-or-later
"""The Takings page: what a figure is made of, months, and the family's account, by real events."""

import sqlite3

from driver import WindowTest, cell, click, has, key, shedwalk, type_text, until

BOOK = """what,ref,outlet,kind,from,charge,on,tiers,item,up,at,result,amount,trip,remark
outlet,,Hill Road,auction,,,,,,,,,,,
charge,,Hill Road,,2026-01-01,commission,price,10%,,,,,,,
offer,A1,Hill Road,,,,,,Screw press,2026-04-14,,,,,
result,A1,,,,,,,,,2026-04-26,sold,200.00,,
cost,,,,,,,,,,2026-04-11,,20.00,1,fuel
"""


class TakingsTest(WindowTest):
    def show(self):
        book = self.folder / "book.csv"
        book.write_text(BOOK, encoding="utf-8")
        shedwalk("book", self.catalogue, book)
        window = self.open()
        click(window.wait("radio button", "Takings"))
        window.wait("radio button", "found it")
        return window

    @staticmethod
    def cells(window, name):
        table = window.find("table", name) or window.find("tree table", name)
        if table is None:
            return []
        return [[cell(table, row, column) for column in range(table.get_n_columns())]
                for row in range(table.get_n_rows())]

    def ask(self, sql):
        with sqlite3.connect(f"file:{self.catalogue}/catalogue.db?mode=ro", uri=True) as database:
            return database.execute(sql).fetchall()


class Figures(TakingsTest):
    def test_a_row_opens_into_its_sales_and_costs(self):
        window = self.show()
        until("the rows", lambda: len(self.cells(window, "Takings")) >= 2)
        table = window.find("table", "Takings") or window.find("tree table", "Takings")
        self.assertEqual(self.cells(window, "Sales and costs"), [])
        table.grab_focus()
        until("the focus", lambda: has(table, "FOCUSED"))
        key("Home")
        until("what the row is made of", lambda: len(self.cells(window, "Sales and costs")) == 2)
        cost, sale = self.cells(window, "Sales and costs")
        self.assertEqual((cost[1], cost[6]), ("fuel", "20.00"))
        self.assertEqual((sale[1], sale[2], sale[3], sale[4], sale[5]), ("Screw press", "A1", "200.00", "20.00", "180.00"))
        key("End")  # the total is made of all rows
        until("nothing behind the total", lambda: self.cells(window, "Sales and costs") == [])

    def test_months_and_the_chart_agree_with_the_table(self):
        window = self.show()
        click(window.wait("radio button", "month"))
        until("the month", lambda: any(row[0].startswith("April") for row in self.cells(window, "Takings")))
        chart = window.wait("image", "Takings as bars, with the running total as a line")
        until("the chart in words", lambda: "April 2026: takings 180.00, running total 180.00." in chart.get_description())


class Shares(TakingsTest):
    def share(self, window, person, percent):
        entry = window.wait("text", "Share in percent")
        name = window.wait("text", "Whose share")
        click(name, times=3)
        type_text(person)
        click(entry, times=3)
        type_text(percent)
        key("Return")
        until(f"the share of {person}", lambda: self.ask(f"SELECT count(*) FROM share WHERE person = '{person}'") == [(1,)])
        until("an empty form", lambda: entry.get_text(0, -1) == "")

    def test_shares_entries_and_undo(self):
        window = self.show()
        click(window.wait("radio button", "Shares"))
        window.wait("label", lambda text: text.startswith("Nobody has a share yet"))
        self.share(window, "Ina", "60")
        window.wait("label", lambda text: text.startswith("The shares add up to 60 %"))
        self.share(window, "Per", "40")
        until("the account", lambda: [row[:3] for row in self.cells(window, "Account of each person")]
              == [["Ina", "60 %", "96.00"], ["Per", "40 %", "64.00"]])
        click(window.wait("text", "Who paid, took or holds"))
        type_text("Per")
        click(window.wait("text", "Amount"))
        type_text("14.00")
        key("Return")
        until("the advance", lambda: self.ask("SELECT person, kind, amount FROM family_entry") == [("Per", "advance", 1400)])
        until("the due", lambda: [row[7] for row in self.cells(window, "Account of each person")] == ["96.00", "50.00"])
        told = shedwalk("account", self.catalogue, "--json")
        self.assertEqual([row["due"] for row in told["rows"]], [9600, 5000])
        # a figure that makes no sense is said in one sentence, and what was typed stays
        click(window.wait("text", "Amount"))
        type_text("lots")
        key("Return")
        window.wait("label", lambda text: "lots" in text)
        self.assertEqual(window.find("text", "Amount").get_text(0, -1), "lots")
        click(window.wait("push button", lambda text: text.startswith("Withdraw:")))
        until("withdrawn", lambda: [row[7] for row in self.cells(window, "Account of each person")] == ["96.00", "64.00"])
        key("ctrl+z")
        until("undone", lambda: [row[7] for row in self.cells(window, "Account of each person")] == ["96.00", "50.00"])
