# SPDX-License-Identifier: GPL-3.0-or-later
"""The Takings page: what a figure is made of, months, and the family's account, by real events."""

import csv
import datetime
import os
import re
import sqlite3
import struct
import subprocess

from driver import WindowTest, cell, click, has, key, shedwalk, type_over, type_text, until

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

    def test_what_is_still_on_offer_of_each_trip(self):
        window = self.show()
        until("the rows", lambda: self.cells(window, "Takings"))
        self.assertIsNone(window.find("label", lambda text: text.startswith("Still on offer")))
        (self.folder / "up.csv").write_text("what,ref,outlet,item,up,at,result\noffer,B1,Hill Road,Clay pots,2026-05-01,,\n"
                                            "offer,B2,Hill Road,Sack truck,2026-05-01,,\n", encoding="utf-8")
        shedwalk("book", self.catalogue, self.folder / "up.csv")
        window.wait("label", "Still on offer. Trip 1: 2 things, 60.50 asked, 1 without a price.")
        (self.folder / "down.csv").write_text("what,ref,at,result\nresult,B2,2026-05-09,no sale\n", encoding="utf-8")
        shedwalk("book", self.catalogue, self.folder / "down.csv")
        window.wait("label", "Still on offer. Trip 1: 1 thing, 60.50 asked.")

    def test_months_and_the_chart_agree_with_the_table(self):
        window = self.show()
        click(window.wait("radio button", "month"))
        until("the month", lambda: any(row[0].startswith("April") for row in self.cells(window, "Takings")))
        chart = window.wait("image", "Takings as bars, with the running total as a line")
        until("the chart in words", lambda: "April 2026: takings 180.00, running total 180.00." in chart.get_description())


    def test_beside_a_browser_the_running_total_stands_below_the_takings(self):
        window = self.show()
        until("the rows", lambda: any("180.00" in row for row in self.cells(window, "Takings")))
        found = subprocess.run(["xdotool", "search", "--onlyvisible", "--pid", str(window.process.pid)], check=True,
                               capture_output=True, text=True).stdout.split()
        subprocess.run(["xdotool", "windowsize", "--sync", found[-1], "640", "720"], check=True)
        until("both in one cell", lambda: any("180.00\nso far 180.00" in row for row in self.cells(window, "Takings")))
        subprocess.run(["xdotool", "windowsize", "--sync", found[-1], "1280", "720"], check=True)
        until("each its own", lambda: any(row.count("180.00") == 2 for row in self.cells(window, "Takings")))


class OneAccount(TakingsTest):
    """What the screen, its chart, the table for others, the sheet and the command say is one thing, figure by figure."""

    MORE = """what,ref,outlet,item,count,up,at,result,amount,delivery,trip,remark
offer,A2,Hill Road,Clay pots + Sack truck,,2026-05-20,,,,,,
result,A2,,,,,2026-06-02,sold,1234.55,20.00,,
payment,A2,,,,,2026-06-03,,500.00,,,
payment,A1,,,,,2026-05-14,,200.00,,,
collected,A1,,,,,2026-05-14,,,,,
reversal,A2,,,,,2026-06-05,,33.33,,,
sale,S1,,Ladder,,,2026-03-20,,17.05,,,
cost,,,,,,2026-05-13,,61.40,,2,fuel and food
cost,,,,,,2026-05-13,,9.99,,,stamps
"""

    def setUp(self):
        super().setUp()
        shedwalk("trip", "add", self.catalogue, "--title", "May", "--first", "2026-05-12", "--last", "2026-05-15")
        shedwalk("item", "add", self.catalogue, "Ladder", "--place", "Glasshouse", "--trip", 1)

    def on_screen(self, window):
        """Names and figures of the table, the empty cells of bars left out."""
        return [(row[0], [text for text in row[1:] if text]) for row in self.cells(window, "Takings")]

    def handed_out(self, name, credit, by):
        path = self.folder / name
        shedwalk("hand-out", self.catalogue, "takings", "--to", path, "--credit", credit, "--by", by)
        return path

    def in_a_file(self, credit, by):
        with open(self.handed_out("takings.csv", credit, by), encoding="utf-8", newline="") as lines:
            return list(csv.reader(lines))[1:]

    def on_paper(self, credit, by):
        path = self.handed_out("takings.pdf", credit, by)
        return subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True).stdout

    def by_command(self, credit, by):
        told = shedwalk("takings", self.catalogue, "--credit", credit, "--by", by, "--json")
        return [[f"{row[figure] / 100:.2f}" for figure in ("proceeds", "fees", "takings", "costs", "owed")]
                for row in (*told["rows"], told["total"])]

    def agree(self, window, credit, by):
        rows = self.in_a_file(credit, by)
        # the total has no running total on the screen
        wanted = [row[1:] for row in rows[:-1]] + [rows[-1][1:4] + rows[-1][5:]]
        until(f"the screen by {by} of {credit} as in the file", lambda: [row[1] for row in self.on_screen(window)] == wanted)
        self.assertEqual([row[1:4] + row[5:] for row in rows], self.by_command(credit, by))
        paper = self.on_paper(credit, by)
        for row in rows:
            self.assertRegex(paper, r"(?m)" + r"\s+".join(re.escape(figure) for figure in row[1:]) + r"\s*$")
        names = [name for name, _ in self.on_screen(window)[:-1]]
        chart = window.wait("image", "Takings as bars, with the running total as a line")
        self.assertNotIn("None", [row[0] for row in rows])
        self.assertEqual([name for name in names if name.startswith("No ")], [row[0] for row in rows if row[0].startswith("No ")])
        said = "".join(f"{name}: takings {row[3]}, running total {row[4]}. " for name, row in zip(names, rows))
        until("the chart in words", lambda: chart.get_description().strip().endswith(said.strip()))
        return rows[-1][1:]

    def test_every_view(self):
        window = self.show()
        (self.folder / "more.csv").write_text(self.MORE, encoding="utf-8")
        shedwalk("book", self.catalogue, self.folder / "more.csv")
        totals = set()
        for button, credit in (("found it", "found"), ("sold it", "sold"), ("handed it over", "handed-over")):
            window.wait("radio button", button).do_action(0)
            for by in ("trip", "place", "outlet", "month", "round"):
                window.wait("radio button", by).do_action(0)
                totals.add(tuple(self.agree(window, credit, by)))
        self.assertEqual(len(totals), 1, "all views have one total")
        # 200.00 + 1234.55 + 20.00 - 33.33 + 17.05
        self.assertEqual(totals.pop()[0], "1438.27")


class Shares(TakingsTest):
    def share(self, window, person, percent):
        entry = window.wait("text", "Share in percent")
        name = window.wait("text", "Whose share")
        click(name)
        type_over(name, person)
        click(entry)
        type_over(entry, percent)
        key("Return")
        until(f"the share of {person}", lambda: self.ask(f"SELECT count(*) FROM share WHERE person = '{person}'") == [(1,)])
        until("an empty form", lambda: entry.get_text(0, -1) == "")

    def test_the_day_proposed_is_the_propertys(self):
        """At 18:00 UTC it is the next day already where the property is; the system's own zone says nothing of it."""
        clock = self.folder / "clock"
        clock.write_bytes(struct.pack("=q", round(datetime.datetime(2026, 5, 3, 18, tzinfo=datetime.timezone.utc).timestamp() * 1_000_000)))
        os.environ["SHEDWALK_CLOCK"] = str(clock)
        self.addCleanup(os.environ.pop, "SHEDWALK_CLOCK", None)
        window = self.show()
        click(window.wait("radio button", "Shares"))
        until("the day", lambda: window.find("text", "Day").get_text(0, -1) == "4 May 2026")

    def test_shares_entries_and_undo(self):
        window = self.show()
        click(window.wait("radio button", "Shares"))
        window.wait("label", lambda text: text.startswith("Enter each person with their percentage"))
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
        # the sheet for others has every step from a part to what is due
        sheet = self.folder / "sheet.pdf"
        shedwalk("hand-out", self.catalogue, "takings", "--to", sheet)
        paper = subprocess.run(["pdftotext", "-layout", sheet, "-"], capture_output=True, text=True, check=True).stdout
        self.assertRegex(paper, r"Per\s+40 %\s+64\.00\s+0\.00\s+14\.00\s+0\.00\s+0\.00\s+50\.00")
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
