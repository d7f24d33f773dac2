# SPDX-License-Identifier: GPL-3.0-or-later
"""Start of the window on a catalogue of 10,000 items, beside a bare GTK application window in the same run.

Both are started in turn, ROUNDS times after two that do not count; medians of the time from the start of the process to its
first painted frame, and to the first that shows the items. Fails where the first frame takes more than 1.3 times as long.
"""

import os
import pathlib
import statistics
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent / "window"))
from many_items import fill_items  # noqa: E402

BUILD = pathlib.Path(sys.argv[1]).resolve()
ROUNDS = int(sys.argv[2]) if len(sys.argv) > 2 else 15
MOST = 1.3
PROGRAM, BARE, MARKS = BUILD / "src/shedwalk", BUILD / "tests/bench/bare-window", BUILD / "tests/bench/first-frame.so"


def start(words, scratch, with_list):
    """Milliseconds to the first frame (or the first with the list), and of them those its main thread was at work."""
    marks = scratch / "marks"
    marks.unlink(missing_ok=True)
    environment = dict(os.environ, LD_PRELOAD=str(MARKS), SHEDWALK_FRAMES=str(marks))
    if with_list:
        environment["SHEDWALK_FRAMES_LIST"] = "1"
    begun = time.monotonic_ns() // 1000
    done = subprocess.run([str(word) for word in words], env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
                          check=False, timeout=120)
    if not marks.exists():
        raise SystemExit(f"{words[0]} painted nothing: {done.stderr.decode()[-500:]}")
    first, shown, busy = map(int, marks.read_text(encoding="ascii").split())
    return ((shown if with_list else first) - begun) / 1000, busy / 1000


def main():
    with tempfile.TemporaryDirectory() as folder:
        scratch = pathlib.Path(folder)
        catalogue = scratch / "Orchard.shedwalk"
        subprocess.run([PROGRAM, "new", catalogue, "--name", "Orchard", "--currency", "NZD", "--zone", "Pacific/Auckland"],
                       check=True, stdout=subprocess.DEVNULL)
        subprocess.run([PROGRAM, "trip", "add", catalogue, "--title", "Autumn", "--first", "2026-04-03", "--last", "2026-04-06"],
                       check=True, stdout=subprocess.DEVNULL)
        fill_items(catalogue, 10000)
        runs = {"bare window": ([BARE], False), "first frame": ([PROGRAM, catalogue], False),
                "first frame with the items": ([PROGRAM, catalogue], True)}
        times = {name: [] for name in runs}
        for i in range(ROUNDS + 2):
            for name, (words, with_list) in runs.items():
                taken = start(words, scratch, with_list)
                if i >= 2:
                    times[name].append(taken)
    wall, busy = ({name: statistics.median(each[k] for each in taken) for name, taken in times.items()} for k in (0, 1))
    for name in runs:
        print(f"{name}: median of {ROUNDS} {wall[name]:.0f} ms ({wall[name] / wall['bare window']:.2f} x), "
              f"main thread at work {busy[name]:.0f} ms ({busy[name] / busy['bare window']:.2f} x)")
    return 0 if wall["first frame"] <= MOST * wall["bare window"] else 1


sys.exit(main())
