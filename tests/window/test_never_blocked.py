# SPDX-License-Identifier: GPL-3.0-or-later
"""The main thread never blocks: while photos come in, are looked at, sorted, scrolled over and decided, each of its turns is
short, and none makes a file or SQL call. Processor time and counts decide, never the clock on the wall: the machine may be busy.

SHEDWALK_PHOTOS says how many photos there are (tests/bench/main-loop: 20,000).
"""

import os
import pathlib
import sys
import unittest

from driver import Window, WindowTest, click, extents, key, shedwalk, type_text, until, xdo
from many import fill, make_photos
from watch import Phase, Watch, names_of

PHOTOS = int(os.environ.get("SHEDWALK_PHOTOS", "1200"))
LIBRARY = os.environ["SHEDWALK_WATCH_LIBRARY"]
A_TRIP = 2000
NEW = 200
TURN, MOST = 16, 50  # ms of processor time
SHARE = 0.999

def resident(pid):
    """Kilobytes of the process that are its own."""
    for line in pathlib.Path(f"/proc/{pid}/smaps_rollup").read_text(encoding="ascii").splitlines():
        if line.startswith("Private_Dirty:"):
            return int(line.split()[1])
    raise AssertionError("no memory figures")


class NeverBlocked(WindowTest):
    def setUp(self):
        super().setUp()
        self.watch = Watch(self.folder)
        self.phases = {}
        self.addCleanup(self.report)

    def open_watched(self):
        environment = dict(os.environ)
        os.environ.update(self.watch.environment(LIBRARY))
        try:
            self.window = Window(self.catalogue)
        finally:
            for name in ("LD_PRELOAD", "SHEDWALK_WATCH"):
                os.environ.pop(name, None)
            os.environ.update(environment)
        self.window.wait("radio button", "Takings")
        # the last of starting up: GTK writes its list of what was opened lately
        until("the list of recent catalogues", (pathlib.Path(os.environ["XDG_DATA_HOME"]) / "recently-used.xbel").exists)
        return self.window

    def phase(self, name, work):
        before = self.watch.now()
        work()
        self.phases[name] = Phase(self.watch, before, self.watch.now())

    def report(self):
        for name, phase in self.phases.items():
            print(f"  {name}: {phase.stalls} turns, {100 * phase.share_under(TURN):.3f} % under {TURN} ms of processor time, "
                  f"longest {phase.longest(phase.cpu):.1f} ms (on the wall {phase.longest(phase.wall):.1f} ms), "
                  f"{phase.frames} frames, {len(phase.calls)} file or SQL calls ({phase.excused} of GTK's own)", file=sys.stderr)

    def judge(self):
        faults = []
        for name, phase in self.phases.items():
            if phase.longest(phase.cpu) >= MOST:
                faults.append(f"{name}: a turn of {phase.longest(phase.cpu)} ms")
            for what, path, frames in phase.calls[:20]:
                callers = names_of(frames, self.window.process.pid)
                if callers[:1] == ["sw_app_main"]:
                    continue  # nothing of Shedwalk's between the main loop and the call: GTK by itself, from an idle or a monitor
                faults.append(f"{name}: {what} {path} by {' < '.join(callers[:8])}")
        turns = sum(phase.stalls for phase in self.phases.values())
        long_ones = sum(phase.over(phase.cpu, TURN) for phase in self.phases.values())
        if long_ones > turns * (1 - SHARE):
            faults.append(f"{long_ones} of {turns} turns took {TURN} ms or more")
        self.assertEqual(faults, [], "\n" + "\n".join(faults))

    def wheel(self, times, button):
        x, y, width, height = extents(self.window.frame)
        xdo("mousemove", x + width // 4, y + height // 2)
        xdo("click", "--repeat", times, "--delay", 8, button)

    def rest(self):
        """Nothing works in the background any more."""
        until("all is at rest", lambda: self.window.find("progress bar") is None)

    def bring_in(self):
        window = self.window
        window.bring_in(self.card)
        self.phase("bringing in and proposing", lambda: (window.told("The memory card may be cleared now."), self.rest()))

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
        self.phase("going through pages", lambda: [key(f"alt+{page}") for page in (1, 2, 3) * 5])
        print(f"  memory: {resident(window.process.pid)} kB with {PHOTOS + NEW} photos", file=sys.stderr)
        self.judge()


if __name__ == "__main__":
    unittest.main()
