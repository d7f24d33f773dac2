# SPDX-License-Identifier: GPL-3.0-or-later
"""The main thread never blocks: while photos come in, are looked at, sorted, scrolled over and decided, each of its turns is
short, and none makes a file or SQL call. Processor time and counts decide, never the clock on the wall: the machine may be busy.

SHEDWALK_PHOTOS says how many photos there are (tests/bench/main-loop: 20,000).
"""

import datetime
import os
import pathlib
import sys
import unittest

from driver import key, shedwalk, until
from many import clone_photos, fill, make_photos
from watched import Watched

PHOTOS = int(os.environ.get("SHEDWALK_PHOTOS", "1200"))
A_TRIP = 2000
NEW = 200
MANY, ROW = 20000, 500  # photos, and the bytes that each may take


def resident(pid):
    """Kilobytes of the process that are its own: also those that a helper shares while it is being started."""
    for line in pathlib.Path(f"/proc/{pid}/smaps_rollup").read_text(encoding="ascii").splitlines():
        if line.startswith("Anonymous:"):
            return int(line.split()[1])
    raise AssertionError("no memory figures")


class NeverBlocked(Watched):
    def bring_in(self):
        window = self.window
        window.bring_in(self.card)
        # what goes on, what came of it, the strip
        self.phase("bringing in and proposing", lambda: (window.told("The memory card may be cleared now."), self.rest()), shown=3)

    def test_long_work_and_short_turns(self):
        day = fill(self.catalogue, self.folder, PHOTOS, A_TRIP)
        self.card = self.folder / "card-new"
        last = make_photos(self.card, PHOTOS, NEW, day)
        shedwalk("trip", "add", self.catalogue, "--title", "The new stay", "--first", day, "--last", last.date())
        window = self.open_watched()
        key("alt+1")
        window.wait("push button", "Bring photos in…")
        self.bring_in()
        window.wait("list", "Stops").grab_focus()
        self.phase("scrolling photos", lambda: (self.wheel(300, 5), self.wheel(300, 4)))
        self.phase("deciding", lambda: [key("a") for _ in range(20)])
        key("alt+2")
        window.wait("list", "Items")
        self.phase("scrolling items", lambda: (self.wheel(200, 5), self.wheel(200, 4)))
        self.phase("going through pages", lambda: [key(f"alt+{page}") for page in (1, 2, 3) * 5], shown=15)
        print(f"  memory: {resident(window.process.pid)} kB with {PHOTOS + NEW} photos", file=sys.stderr)
        self.judge()

    def test_a_photo_takes_the_memory_of_its_row(self):
        """Twenty thousand rows more than the forty photos that there are: what the window keeps of each is counted in bytes."""
        make_photos(self.folder / "card", 0, 40, datetime.date(2026, 4, 3))
        shedwalk("bring-in", self.catalogue, self.folder / "card", "--trip", 1)
        shedwalk("pair", self.catalogue, "--trip", 1)
        self.memory_open()  # makes the small pictures
        few = self.memory_open()
        clone_photos(self.catalogue, MANY)
        many = self.memory_open()
        each = (many - few) * 1024 / MANY
        print(f"  memory: {few} kB with 40 photos, {many} kB with {MANY} more: {each:.0f} bytes a photo", file=sys.stderr)
        self.assertLess(each, ROW)

    def memory_open(self):
        window = self.open()
        key("alt+1")
        until("the stops", lambda: len(window.stops()) > 5)
        key("alt+2")
        window.row("Places", "Glasshouse")
        used = resident(window.process.pid)
        window.close()
        self.window = None
        return used


if __name__ == "__main__":
    unittest.main()
