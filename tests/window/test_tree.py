# SPDX-License-Identifier: GPL-3.0-or-later
"""What each page tells assistive technology, line by line, against the stored trees/*.txt: a mute button fails here.

SHEDWALK_KEEP_TREES=1 writes the files anew; a person reads the difference before it is kept.
"""

import os
import pathlib
import re

from driver import WindowTest, children, is_showing, key, make_photo, name_of, shedwalk, until

TREES = pathlib.Path(__file__).parent / "trees"
# Roles that a person acts on or reads; panes and fillers in between only bear the indent.
SILENT = {"filler", "panel", "scroll pane", "split pane", "viewport", "layered pane", "scroll bar", "separator", "icon"}
MUST_HAVE_A_NAME = {"push button", "toggle button", "radio button", "check box", "text", "combo box", "list", "table",
                    "tree table", "spin button", "progress bar", "list item"}


# Entered today, whenever that is.
DAY = re.compile(r"\b\d{1,2} [A-Z][a-z]+ \d{4}\b")


def lines(node, depth=0):
    role, name = node.get_role_name(), name_of(node)
    silent = role in SILENT and not name
    if not silent:
        yield DAY.sub("DAY", f"{'  ' * depth}{role}: {name}").rstrip().replace("\n", " / ")
    for child in children(node):
        if is_showing(child) and role != "combo box":
            yield from lines(child, depth + (0 if silent else 1))


class Tree(WindowTest):
    def check_page(self, page, shortcut, ready):
        window = self.open()
        key(shortcut)
        until(page, lambda: ready(window))
        # the tree of a page at rest: the same twice in a row
        told = until("a page at rest", lambda: self.at_rest(window))
        self.assertEqual([line for line in told if line.strip().rstrip(":") in MUST_HAVE_A_NAME], [], "mute widgets")
        stored = TREES / f"{page}.txt"
        if os.environ.get("SHEDWALK_KEEP_TREES"):
            TREES.mkdir(exist_ok=True)
            stored.write_text("\n".join(told) + "\n", encoding="utf-8")
        self.assertEqual(told, stored.read_text(encoding="utf-8").splitlines())

    @staticmethod
    def at_rest(window):
        once = list(lines(window.frame))
        return once if once == list(lines(window.frame)) else None

    def test_photos(self):
        self.check_page("photos", "alt+1", lambda window: window.find("push button", "Bring photos in…"))

    def test_strip_and_clocks(self):
        for shot in range(6):
            make_photo(self.folder / "card" / f"P{shot}.JPG", f"2026:04:04 10:{10 + shot // 3 * 20}:{shot * 6:02d}", shot,
                       "K2" if shot < 4 else "K7")
        shedwalk("bring-in", self.catalogue, self.folder / "card", "--trip", 1)
        shedwalk("pair", self.catalogue, "--trip", 1)
        for camera in ("Orrery K2", "Orrery K7"):
            shedwalk("clock", self.catalogue, camera, "--trip", 1, "--shift", 0)
        self.check_page("strip", "alt+1", lambda window: len(window.stops()) == 2)
        self.window.close()

        def open_clocks(window):
            if window.find("push button", "Back to the photos") is None and window.stops():
                window.find("push button", "Clocks…").do_action(0)
            return window.find("image", lambda text: text.startswith("Now "))
        self.check_page("clocks", "alt+1", open_clocks)

    def test_property(self):
        self.check_page("property", "alt+2", lambda window: len(window.rows("Items")) == 3)

    def test_offer(self):
        self.check_page("offer", "alt+3", lambda window: window.find("label", "Nothing closes"))

    def test_trip(self):
        self.check_page("trip", "alt+4", lambda window: window.find("push button", "Tick off the last trip"))

    def test_ticks(self):
        shedwalk("item", "move", self.catalogue, "Screw press", "Bring home")

        def open_ticks(window):
            button = window.find("push button", "Tick off the last trip")
            if button is not None:
                button.do_action(0)
            return window.find("push button", "Brought home (L)")
        self.check_page("ticks", "alt+4", open_ticks)

    def test_takings(self):
        self.check_page("takings", "alt+5", lambda window: window.find("label", "Nothing sold yet"))

    def test_item(self):
        def open_sheet(window):
            if window.find("text", "Asking") is None and window.rows("Items"):
                window.row("Items", "Screw press").do_action(0)
            return window.find("push button", "Kept")
        self.check_page("item", "alt+2", open_sheet)

    def test_panel(self):
        self.check_page("panel", "F9", lambda window: window.find("table", "Takings by trip")
                        or window.find("tree table", "Takings by trip"))


class Start(WindowTest):
    def test_start(self):
        self.catalogue = None
        window = self.open_start()
        told = until("the start view at rest", lambda: Tree.at_rest(window))
        self.assertIn("push button: New catalogue…", [line.strip() for line in told])
        self.assertIn("push button: Open…", [line.strip() for line in told])
