# SPDX-License-Identifier: GPL-3.0-or-later
"""A window whose main thread is watched while something goes on. Processor time and counts decide, never the clock on the wall:
the machine may be busy."""

import os
import pathlib
import sys
from unittest import mock

from driver import Window, WindowTest, extents, until, xdo
from watch import Phase, Watch, names_of

LIBRARY = os.environ["SHEDWALK_WATCH_LIBRARY"]
TURN, MOST = 16, 50  # ms of processor time
SHARE = 0.999  # of the turns under TURN; those that only answered our looks are not among them
SHOWING = 2  # turns of TURN or more that showing another page may take: it is filled in one, laid out and drawn in another


class Watched(WindowTest):
    """Its window is watched in phases; judge() fails where a turn was long or a call was made."""

    def setUp(self):
        super().setUp()
        self.watch = Watch(self.folder)
        self.phases = {}
        self.addCleanup(self.report)

    def open_watched(self):
        with mock.patch.dict(os.environ, self.watch.environment(LIBRARY)):
            self.window = Window(self.catalogue)
        self.window.wait("radio button", "Takings")
        # the last of starting up: GTK writes its list of what was opened lately
        until("the list of recent catalogues", (pathlib.Path(os.environ["XDG_DATA_HOME"]) / "recently-used.xbel").exists)
        return self.window

    def phase(self, name, work, shown=0):
        """shown: how many times another page, thing or view fills the window. In so few turns a share would say nothing."""
        before = self.watch.now()
        work()
        self.phases[name] = Phase(self.watch, before, self.watch.now())
        self.phases[name].shown = shown
        self.phases[name].at = [(took, " < ".join(names_of(frames, self.window.process.pid)) or "GTK alone")
                                for took, frames in self.phases[name].long_turns]

    def report(self):
        for name, phase in self.phases.items():
            print(f"  {name}: {phase.stalls} turns beside {phase.looks} looks at it, {100 * phase.share_under(TURN):.3f} % under {TURN} ms of processor time, "
                  f"longest {phase.longest(phase.cpu):.1f} ms (on the wall {phase.longest(phase.wall):.1f} ms), "
                  f"{phase.frames} frames, {len(phase.calls)} file or SQL calls ({phase.excused} of GTK's own)", file=sys.stderr)
            for took, at in phase.at:
                print(f"    a turn of {took:.1f} ms was at {at}", file=sys.stderr)

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
        shown = sum(phase.shown for phase in self.phases.values())
        long_ones = sum(phase.over(phase.cpu, TURN) for phase in self.phases.values())
        if long_ones > turns * (1 - SHARE) + shown * SHOWING:
            faults.append(f"{long_ones} of {turns} turns took {TURN} ms or more, while another page was shown {shown} times")
        self.assertEqual(faults, [], "\n" + "\n".join(faults))

    def wheel(self, times, button):
        x, y, width, height = extents(self.window.frame)
        xdo("mousemove", x + width // 4, y + height // 2)
        xdo("click", "--repeat", times, "--delay", 8, button)

    def rest(self):
        """Nothing works in the background any more."""
        until("all is at rest", lambda: self.window.find("progress bar") is None)
