# SPDX-License-Identifier: GPL-3.0-or-later
"""Ten thousand items: rows and table are as smooth as with a few. Processor time decides, never the clock on the wall."""

from driver import Atspi, click, extents, key, type_text, until, xdo
from many_items import fill_items
from watched import Watched


class ManyItems(Watched):
    @staticmethod
    def sort_by(table, column):
        """By the head of a column, until another item stands first."""
        def first():
            found = Atspi.Table.get_accessible_at(table, 0, 0)
            if found is None:
                return ""
            found.clear_cache()
            return found.get_name()
        before = first()
        click(Atspi.Table.get_column_header(table, column))
        until(f"sorted by column {column}", lambda: first() not in ("", before))

    def test_ten_thousand_items(self):
        """Rows and table scrolled, sorted, searched and narrowed down: as smooth as with a few."""
        fill_items(self.catalogue, 10000)
        window = self.open_watched()
        key("alt+2")
        until("all items", lambda: window.wait("list", "Items").get_child_count() == 10003)
        x, y, width, height = extents(window.wait("list", "Items"))
        xdo("mousemove", x + width // 2, y + height // 2)
        self.phase("scrolling rows", lambda: [xdo("click", "--repeat", 300, "--delay", 8, button) for button in (5, 4)])
        key("ctrl+f")
        self.phase("searching", lambda: (type_text("ladder 50"), until("those found", lambda: 0 < len(
            window.rows("Items")) < 30)))
        key("ctrl+a", "BackSpace")
        until("all items again", lambda: window.wait("list", "Items").get_child_count() == 10003)
        click(window.wait("radio button", "Table"))
        table = until("the table", lambda: window.find("table", "Table of items") or window.find("tree table", "Table of items"))
        self.phase("filling the table", lambda: until("all its rows", lambda: Atspi.Table.get_n_rows(table) == 10003))
        x, y, width, height = extents(table)
        xdo("mousemove", x + width // 2, y + min(height, 400) // 2)
        self.phase("scrolling the table", lambda: [xdo("click", "--repeat", 300, "--delay", 8, button) for button in (5, 4)])
        self.phase("sorting", lambda: [self.sort_by(table, column) for column in (4, 0, 6)])
        key("ctrl+f")
        self.phase("searching the table", lambda: (type_text("ladder 50"), until("those found", lambda: 0 < Atspi.Table.get_n_rows(table) < 30)))
        self.judge()
