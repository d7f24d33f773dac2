# SPDX-License-Identifier: GPL-3.0-or-later
"""What grows with the catalogue: search, lists, pairing, takings, the window with a hundred thousand photos."""

import math
import os
import pathlib
import re
import subprocess
import sys

from measure import load, run

WINDOW = pathlib.Path(__file__).resolve().parent.parent / "window"
sys.path.insert(0, str(WINDOW))
from many_items import fill_items  # noqa: E402

SIZES = (1000, 10000, 100000)
SEARCHED = ("ladder 50", "press house", "cider barrel")


def output_of(*words, **options):
    """What a command printed, also where it failed: it may say so because it judges."""
    return subprocess.run([str(word) for word in words], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False,
                          **options).stdout


class Catalogue:
    def __init__(self, build, folder, rounds):
        self.build, self.program, self.folder, self.rounds = build, build / "src/shedwalk", folder, rounds

    def with_items(self, n):
        made = self.folder / f"Items-{n}.shedwalk"
        run(self.program, "new", made, "--name", "Items", "--currency", "NZD", "--zone", "Pacific/Auckland")
        run(self.program, "trip", "add", made, "--title", "Autumn", "--first", "2026-04-03", "--last", "2026-04-06")
        fill_items(made, n)
        return made

    def search(self, report):
        rows = [("items", "worst key", "rows found by it", "LIKE scan at its worst key", "ratio", "all items listed", "all photos listed")]
        worst, listed = {}, {}
        for n in SIZES:
            told = output_of(self.build / "tests/bench/search-speed", self.with_items(n), *SEARCHED)
            lines = [line.split("\t") for line in told.splitlines()]
            ours, found, like, _ = max(((float(line[2]), line[3], float(line[4]), line[5]) for line in lines if line[0] == "search"))
            worst[n] = ours
            listed[n], photos = (next(float(line[2]) for line in lines if line[0] == what) for what in ("items", "photos"))
            rows.append((n, f"{ours:.2f} ms", found, f"{like:.2f} ms", f"{ours / like:.2f}", f"{listed[n]:.1f} ms", f"{photos:.1f} ms"))
        report.goal("search among 10,000 items, a keystroke at worst", worst[10000], 8, unit=" ms")
        for what, each in (("search", worst), ("listing all items", listed)):
            limit = SIZES[-1] * math.log(SIZES[-1]) / (SIZES[0] * math.log(SIZES[0]))
            report.goal(f"growth of {what} from 1,000 to 100,000, beside that of n log n", each[SIZES[-1]] / each[SIZES[0]] / limit, 1)
        report.chapter("Search and lists", "Processor time; " + ", ".join(f"`{words}`" for words in SEARCHED)
                       + f" typed letter by letter, each key the numbers found and the rows the list begins with, beside a LIKE scan of the same rows in the same run. The least of 5 for each key; load {load()}.", rows)

    def window(self, report):
        rows, memory = [("photos", "items", "scrolled frame, items", "scrolled frame, strip", "another page, longest turn", "memory of its own")], {}
        environment = {**os.environ, "PYTHONPATH": str(pathlib.Path(__file__).resolve().parent), "SHEDWALK": str(self.program),
                       "SHEDWALK_LOOKED": str(self.build / "tests/window/looked"), "SHEDWALK_TEST_LIMIT": "600",
                       "SHEDWALK_WATCH_LIBRARY": str(self.build / "tests/window/watch.so"),
                       "SHEDWALK_STAND_IN_LIBRARY": str(self.build / "tests/window/libstand-in.so")}
        for photos, items in ((1000, 100), (100000, 10000)):
            told = output_of(WINDOW / "run", "window_figures", env={**environment, "SHEDWALK_PHOTOS": str(photos), "SHEDWALK_ITEMS": str(items)})
            figures = dict(re.findall(r"^FIGURE\t([^\t]+)\t(.*)$", told, re.MULTILINE))
            if "memory" not in figures:
                report.chapter("Window", "Not measured: the window did not get as far.", "```\n" + told[-1500:].strip() + "\n```")
                return
            frames = {name: tuple(map(float, figures[name].split())) for name in ("scrolling items", "scrolling the strip")}
            memory[photos] = int(figures["memory"]) / 1024
            rows.append((photos, items, *(f"{each[0]:.1f} ms, at worst {each[1]:.1f} ({each[2]:.0f} frames)" for each in frames.values()),
                         f"{float(figures['showing a page']):.1f} ms", f"{memory[photos]:.1f} MB"))
        report.goal("scrolled frame with 100,000 photos, median", frames["scrolling items"][0], 2, unit=" ms")
        report.goal("scrolled frame with 100,000 photos, at worst", frames["scrolling items"][1], 8, unit=" ms")
        report.goal("memory with 100,000 photos above that with 1,000", memory[100000] - memory[1000], 64, unit=" MB")
        report.chapter("Window", f"Processor time of the main thread, in half milliseconds, counted in the running program; the wheel turned 300 "
                       f"steps there and back, pages shown 10 times; load {load()}. As many of the longest turns of the main loop as frames were "
                       "painted are taken for frames.", rows)

    def start(self, report):
        told = output_of(pathlib.Path(__file__).resolve().parent / "first-frame", self.build, 3 * self.rounds)
        lines = re.findall(r"^(.+): median of \d+ (\d+) ms \(([\d.]+) x\), main thread at work (\d+) ms \(([\d.]+) x\)", told, re.MULTILINE)
        wall = {name: float(ratio) for name, _, ratio, _, _ in lines}
        report.goal("first frame, x a bare window with header bar", wall.get("first frame"), 1.15)
        rows = [("", "wall", "x", "main thread at work", "x")] + [(name, f"{ms} ms", x, f"{busy} ms", y) for name, ms, x, busy, y in lines]
        report.chapter("First frame", f"A catalogue of 10,000 items, each with a photo on record, beside a bare GTK application window with a header "
                       f"bar, in turn on one screen; medians of {3 * self.rounds}; load {load()}.", rows if lines else told[-800:])

    def pairing(self, report):
        told = output_of(self.build / "tests/bench/proposal-speed")
        curve = {int(n): float(s) for n, s in re.findall(r"^\| (\d+) \| \d+ \| \d+ \| ([\d.]+) s", told, re.MULTILINE)}
        if len(curve) > 1:
            least, most = min(curve), max(curve)
            limit = most * math.log(most) / (least * math.log(least))
            report.goal(f"growth of a proposal from {least} to {most} photos, beside that of n log n", curve[most] / curve[least] / limit, 1)
        report.chapter("Pairing", told.split("\n", 1)[1].strip() + f" Load {load()}.")

    def takings(self, report):
        told = output_of(self.build / "tests/bench/takings-speed", 100000)
        views = re.findall(r"^\s*(\S.*?)\s+([\d.]+) ms  x ([\d.]+)", told, re.MULTILINE)
        report.goal("takings of 100,000 sales: the dearest view, x stepping its rows",
                    max((float(ratio) for _, _, ratio in views), default=None), 2)
        report.chapter("Takings beside their rows", f"100,000 sales with 300,000 postings; processor time, the best of 5; the rows of a view are stepped "
                       f"once, before it, in the same run; load {load()}.",
                       [("view", "processor time", "x its rows")] + [(name, f"{float(ms):.0f} ms", ratio) for name, ms, ratio in views],
                       " ".join(re.findall(r"^book .*$", told, re.MULTILINE)))
