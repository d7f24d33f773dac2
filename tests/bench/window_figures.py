# SPDX-License-Identifier: GPL-3.0-or-later
"""For tests/bench/run, by way of tests/window/run: processor time of scrolled frames and of showing another page, and memory, with
SHEDWALK_PHOTOS photos on record and SHEDWALK_ITEMS items. Judges nothing; prints 'FIGURE name value'."""

import datetime
import os

from driver import extents, key, shedwalk, until, xdo
from many import clone_photos, make_photos
from many_items import fill_items
from test_never_blocked import resident
from watched import Watched

PHOTOS, ITEMS = int(os.environ["SHEDWALK_PHOTOS"]), int(os.environ["SHEDWALK_ITEMS"])
ROUNDS = 5


def tell(name, value):
    print(f"FIGURE\t{name}\t{value}", flush=True)


def middle(buckets, frames):
    """Milliseconds of the frame in the middle: a frame is painted in one turn, and the longest turns are taken for those that did."""
    left = frames / 2
    for i in range(len(buckets) - 1, -1, -1):
        left -= buckets[i]
        if left <= 0:
            return (i + 1) / 2
    return 0.5


class WindowFigures(Watched):
    def scroll(self, name, widget):
        x, y, width, height = extents(widget)
        xdo("mousemove", x + width // 2, y + min(height, 400) // 2)
        self.phase(name, lambda: [xdo("click", "--repeat", 300, "--delay", 8, button) for button in (5, 4)])
        phase = self.phases[name]
        tell(name, f"{middle(phase.cpu, phase.frames)} {phase.longest(phase.cpu)} {phase.frames}")

    def test_figures(self):
        make_photos(self.folder / "card", 0, 40, datetime.date(2026, 4, 3))
        shedwalk("bring-in", self.catalogue, self.folder / "card", "--trip", 1)
        clone_photos(self.catalogue, PHOTOS - 40 - ITEMS)
        fill_items(self.catalogue, ITEMS)
        shedwalk("pair", self.catalogue, "--trip", 1)
        window = self.open_watched()
        key("alt+2")
        until("all items", lambda: window.wait("list", "Items").get_child_count() >= ITEMS)
        self.scroll("scrolling items", window.wait("list", "Items"))
        key("alt+1")
        self.scroll("scrolling the strip", window.wait("list", "Stops"))
        shown = []
        for page, waited in ((2, ("list", "Items")), (1, ("list", "Stops"))) * ROUNDS:
            name = f"page {page} {len(shown)}"
            self.phase(name, lambda: (key(f"alt+{page}"), window.wait(*waited)))
            shown.append(self.phases.pop(name).cpu)
        tell("showing a page", max(self.phases["scrolling items"].longest(cpu) for cpu in shown))
        tell("memory", resident(window.process.pid))
