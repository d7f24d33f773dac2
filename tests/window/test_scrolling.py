# SPDX-License-Identifier: GPL-3.0-or-later
"""Scrolling over a trip's photos beside scrolling over nothing: both windows get the same turns of the wheel, one after the other,
several times in one run. What counts is the ratio of frames a second; both stand still alike where the machine is busy."""

import os
import statistics
import sys
import time

from driver import Window, extents, key, shedwalk, until, xdo
from many import fill
from watch import Watch
from watched import LIBRARY, Watched

ROUNDS, TURNS = 9, 100
LEAST = 0.85  # of the empty window's frames a second, in the median


class Scrolling(Watched):
    def open_empty(self):
        watch = Watch(self.folder, "empty")
        window = Window.__new__(Window)
        window.start([os.environ["SHEDWALK_EMPTY_WINDOW"]], watch.environment(LIBRARY))
        self.addCleanup(window.close)
        return window, watch

    @staticmethod
    def put(window, title, left):
        """Beside the other one, of the same size."""
        xdo("search", "--sync", "--onlyvisible", "--name", f"^{title}$", "windowsize", 690, 800, "windowmove", left, 20)
        until(f"{title} in its place", lambda: abs(extents(window.frame)[0] - left) < 20 and extents(window.frame)[2] < 710)

    @staticmethod
    def turn(window, watch):
        """Frames a second while the wheel is turned there and back; it goes to the window under the pointer."""
        x, y, width, height = extents(window.frame)
        xdo("mousemove", x + width // 2, y + height // 2)
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
        self.put(window, "Orchard", 0)
        self.put(empty, "Empty", 700)
        ratios = []
        for i in range(ROUNDS):
            # who goes first changes
            if i % 2:
                bare, ours = self.turn(empty, watch), self.turn(window, self.watch)
            else:
                ours, bare = self.turn(window, self.watch), self.turn(empty, watch)
            ratios.append(ours / bare)
            print(f"  {ours:.1f} frames a second beside {bare:.1f}", file=sys.stderr)
        print(f"  median {statistics.median(ratios):.2f} of the empty window's", file=sys.stderr)
        self.assertGreater(statistics.median(ratios), LEAST)
