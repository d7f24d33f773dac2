# SPDX-License-Identifier: GPL-3.0-or-later
"""Scrolling over a trip's photos beside scrolling over nothing: both windows get the same turns of the wheel, one after the other,
several times in one run. What counts is the ratio of frames a second; both stand still alike where the machine is busy."""

import os
import statistics
import sys
import time

import test_never_blocked
from driver import Window, extents, has, key, shedwalk, until, xdo
from many import fill
from watch import Watch

ROUNDS, TURNS = 7, 150
LEAST = 0.9  # of the empty window's frames a second


class Scrolling(test_never_blocked.NeverBlocked):
    test_long_work_and_short_turns = None

    def open_empty(self):
        watch = Watch(self.folder, "empty")
        window = Window.__new__(Window)
        window.start([os.environ["SHEDWALK_EMPTY_WINDOW"]], watch.environment(test_never_blocked.LIBRARY))
        self.addCleanup(window.close)
        return window, watch

    def turn(self, window, watch):
        """Frames a second while the wheel is turned there and back."""
        xdo("search", "--sync", "--onlyvisible", "--pid", window.process.pid, "windowactivate", "--sync")
        until("the window in front", lambda: has(window.frame, "ACTIVE"))
        x, y, width, height = extents(window.frame)
        xdo("mousemove", x + width // 4, y + height // 2)
        before, begun = watch.now()["frames"], time.monotonic()
        xdo("click", "--repeat", TURNS, "--delay", 8, 5, "click", "--repeat", TURNS, "--delay", 8, 4)
        return (watch.now()["frames"] - before) / (time.monotonic() - begun)

    def test_it_holds_the_frames_of_an_empty_window(self):
        fill(self.catalogue, self.folder, 400, 400)
        shedwalk("pair", self.catalogue, "--trip", 2)
        window = self.open_watched()
        key("alt+1")
        until("the strip", lambda: len(window.stops()) > 50)
        self.rest()
        empty, watch = self.open_empty()
        ratios = []
        for _ in range(ROUNDS):
            bare = self.turn(empty, watch)
            ours = self.turn(window, self.watch)
            ratios.append(ours / bare)
            print(f"  {ours:.1f} frames a second beside {bare:.1f}", file=sys.stderr)
        print(f"  median {statistics.median(ratios):.2f} of the empty window's", file=sys.stderr)
        self.assertGreater(statistics.median(ratios), LEAST)
