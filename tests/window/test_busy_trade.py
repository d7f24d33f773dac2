# SPDX-License-Identifier: GPL-3.0-or-later
"""A property well under way, two thousand items, as many to load, and hundreds of offers: on the pages of the trade, the trip and the takings, in
the deciding round and on a closing night each turn of the main thread is short. Processor time decides, never the clock on the
wall."""

import csv
import datetime
import os
import sqlite3
import struct
import zoneinfo

from driver import click, has, key, shedwalk, type_text, until
from many_items import fill_items
from watched import Watched

NIGHT = datetime.datetime(2026, 5, 24, 20, 0, 0, tzinfo=zoneinfo.ZoneInfo("Pacific/Auckland"))
ITEMS, CLOSING, TO_LOAD = 2000, 60, 2000
COLUMNS = ("what", "outlet", "kind", "running_days", "pay_days", "from", "charge", "on", "tiers", "ref", "item", "start", "up",
           "closes", "at", "amount", "result", "buyer")
SECTIONS = ("Running", "Unsold", "Sales", "Scrap", "Rounds", "Outlets", "Closing night")


class BusyTrade(Watched):
    def setUp(self):
        super().setUp()
        clock = self.folder / "clock"
        clock.write_bytes(struct.pack("=q", round((NIGHT - datetime.timedelta(minutes=1)).timestamp() * 1_000_000)))
        os.environ["SHEDWALK_CLOCK"] = str(clock)
        self.addCleanup(os.environ.pop, "SHEDWALK_CLOCK", None)
        fill_items(self.catalogue, ITEMS + TO_LOAD)
        today = datetime.date.today()
        shedwalk("trip", "add", self.catalogue, "--title", "Winter", "--first", today + datetime.timedelta(10), "--last", today + datetime.timedelta(13))
        shedwalk("van", self.catalogue, "--payload", "900 kg")
        with sqlite3.connect(self.catalogue / "catalogue.db") as database:
            # what is sold or on offer got there by rows of the table alone
            database.execute("UPDATE item SET state = 'found' WHERE state IN ('on-offer', 'sold', 'no-sale', 'handed-over')")
            database.execute("UPDATE item SET state = 'bring-home', asking = coalesce(asking, 900) WHERE id > ?", (ITEMS + 3,))
            offered = [row[0] for row in database.execute("SELECT id FROM item WHERE state = 'found' AND id > 3 ORDER BY id")]
        self.book(offered)

    def book(self, offered):
        """The first sixty close tonight; of the others two of three are sold, to a buyer for each ten."""
        rows = [{"what": "outlet", "outlet": "Hill Road", "kind": "auction", "running_days": 10, "pay_days": 3},
                {"what": "charge", "outlet": "Hill Road", "from": "2026-01-01", "charge": "commission", "on": "price", "tiers": "500:10%;:4%"}]
        for i, item in enumerate(offered[:CLOSING]):
            rows.append({"what": "offer", "outlet": "Hill Road", "ref": f"N{i}", "item": item, "start": 10, "up": "2026-05-14",
                         "closes": (NIGHT + datetime.timedelta(seconds=20 * i)).replace(tzinfo=None).isoformat()})
        for i, item in enumerate(offered[CLOSING:len(offered) * 3 // 4]):
            up = datetime.date(2026, 4, 10) + datetime.timedelta(days=i % 20)
            closes = up + datetime.timedelta(days=10)
            rows.append({"what": "offer", "outlet": "Hill Road", "ref": f"A{i}", "item": item, "start": 10, "up": up, "closes": closes})
            rows.append({"what": "result", "ref": f"A{i}", "at": closes, "result": "no sale"} if i % 3 == 0 else
                        {"what": "result", "ref": f"A{i}", "at": closes, "result": "sold", "amount": 20 + i % 400, "buyer": f"Buyer {i // 10}"})
        with open(self.folder / "rows.csv", "w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, COLUMNS)
            writer.writeheader()
            writer.writerows(rows)
        shedwalk("book", self.catalogue, self.folder / "rows.csv")

    def section(self, window, name):
        button = window.wait("radio button", name)
        click(button)
        until(f"{name} chosen", lambda: has(button, "CHECKED"))
        self.rest()

    def sell(self, window, n):
        """The first n of the night, each with a price; the cursor goes on by itself."""
        before = None
        for i in range(n):
            def moved(last=before):
                field = window.find("text", lambda name: name.startswith("Price for "))
                return field if field is not None and has(field, "FOCUSED") and field.get_name() != last else None
            before = until(f"price field {i}", moved).get_name()
            type_text("30")
            key("Return")

    @staticmethod
    def find_shown(window):
        entry = window.find("text", "Name")
        return entry.get_text(0, -1) if entry is not None else ""

    def next_find(self, window):
        before = self.find_shown(window)
        key("Page_Down")
        until("the next find", lambda: self.find_shown(window) not in ("", before))

    @staticmethod
    def says(window, begins):
        return window.find("label", lambda text: begins in text)

    def test_pages(self):
        window = self.open_watched()
        key("alt+3")
        until("the night", lambda: len(window.rows("Offers of the night")) >= CLOSING)
        self.phase("a closing night of sixty rows", lambda: self.sell(window, CLOSING))
        for name in SECTIONS:
            self.phase(f"On offer: {name}", lambda section=name: self.section(window, section), shown=1)
        self.phase("opening Takings with hundreds of sales", lambda: (key("alt+5"), window.wait("radio button", "found it"), self.rest()), shown=1)
        self.phase("Takings by month, outlet, place", lambda: [self.section(window, by) for by in ("month", "outlet", "place", "trip")], shown=4)
        self.phase("Takings by what is credited", lambda: [self.section(window, view) for view in ("sold it", "handed it over", "found it")], shown=3)
        self.phase("Next trip", lambda: (key("alt+4"), until("the load", lambda: self.says(window, "Run 1: "))), shown=1)
        self.phase("scrolling the load", lambda: (self.wheel(100, 5), self.wheel(100, 4)))
        self.phase("entering the deciding round", lambda: (key("ctrl+d"), until("a find", lambda: self.find_shown(window))), shown=1)
        self.phase("deciding round", lambda: [self.next_find(window) for _ in range(10)], shown=10)
        self.judge()
