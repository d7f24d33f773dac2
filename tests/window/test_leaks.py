# SPDX-License-Identifier: GPL-3.0-or-later
"""One round through the window that ends in order: nothing is said on stderr and, in a sanitizer build, nothing of ours leaks.

lsan.supp names what GTK, Pango and fontconfig keep for the process's life.
"""

import os
import pathlib

from driver import WindowTest, click, has, key, make_photo, shedwalk, type_text, until

SUPPRESSED = pathlib.Path(__file__).with_name("lsan.supp")


class Leaks(WindowTest):
    def test_a_round_ends_in_order(self):
        for shot in range(3):
            make_photo(self.folder / "card" / f"P{shot}.JPG", f"2026:04:04 10:10:{shot * 6:02d}", shot)
        shedwalk("bring-in", self.catalogue, self.folder / "card", "--trip", 1)
        shedwalk("pair", self.catalogue, "--trip", 1)
        os.environ["ASAN_OPTIONS"] = "detect_leaks=1:exitcode=97:fast_unwind_on_malloc=0"
        os.environ["LSAN_OPTIONS"] = f"suppressions={SUPPRESSED}:print_suppressions=0"
        os.environ["G_DEBUG"] = "fatal-criticals"
        for name in ("ASAN_OPTIONS", "LSAN_OPTIONS", "G_DEBUG"):
            self.addCleanup(os.environ.pop, name)
        window = self.open()
        key("alt+1")
        until("the stops", lambda: window.rows("Stops"))
        click(window.wait("push button", "Clocks…"))
        window.wait("text", "Add to its clock")
        key("Escape")
        window.wait("list", "Stops")
        key("alt+2")
        until("the items", lambda: window.rows("Items"))
        name = window.rows("Items")[0].split(",")[0]
        window.row("Items", name).do_action(0)
        window.hidden("push button", "+ Condition").do_action(0)
        entry = window.hidden("text", "Condition")
        until("the focus", lambda: has(entry, "FOCUSED"))
        type_text("stands by itself")
        key("Return")
        window.hidden("push button", "Condition: stands by itself  (seen)")
        click(window.wait("radio button", "Table"))
        until("the table", lambda: window.find("table", "Table of items") or window.find("tree table", "Table of items"))
        click(window.wait("radio button", "To ask"))
        window.wait("push button", "Copy call list")
        click(window.wait("radio button", "Rows"))
        click(window.wait("push button", "Kept"))
        window.told(name)
        key("ctrl+z")
        window.told("Undone: ")
        key("alt+5", "F9")
        window.wait("combo box")
        key("ctrl+q")
        until("the end of the program", lambda: window.process.poll() is not None)
        self.window = None
        self.assertEqual(window.process.returncode, 0, window.output())
        self.assertEqual([line for line in window.output().splitlines() if "CRITICAL" in line or "ERROR" in line], [])
