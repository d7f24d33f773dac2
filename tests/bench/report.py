# SPDX-License-Identifier: GPL-3.0-or-later
"""RESULTS.md as the bench writes it: what was to be reached at the top, then a chapter each."""

import os
import platform
import subprocess
import time


class Report:
    def __init__(self):
        self.goals, self.chapters = [], []

    def goal(self, what, value, limit, at_least=False, unit=""):
        """One line of what is to be reached. 'value' None: not measured."""
        if value is None:
            told, verdict = "", "not measured"
        else:
            told = f"{value:.3g}{unit}" if value < 1000 else f"{value:.0f}{unit}"
            verdict = "reached" if (value >= limit if at_least else value <= limit) else "**missed**"
        self.goals.append((what, told, f"{'at least' if at_least else 'at most'} {limit:g}{unit}", verdict))
        print(f"    {what}: {told} ({self.goals[-1][2]}): {verdict}", flush=True)

    def chapter(self, title, *blocks):
        """Blocks are texts, or tables as a list of rows of which the first is the head."""
        self.chapters.append("\n\n".join([f"## {title}", *(block if isinstance(block, str) else table(block) for block in blocks if block)]))
        print("\n".join(f"    {line}" for line in self.chapters[-1].split("\n") if line), flush=True)

    def write(self, path, about):
        rows = [("to reach", "measured", "limit", ""), *self.goals]
        text = ["# What the bench measured",
                f"Made by `tests/bench/run`; not written by hand. {about} Ratios hold; the times themselves are the machine's.",
                table(rows), *self.chapters]
        path.write_text("\n\n".join(text) + "\n", encoding="utf-8")


def table(rows):
    head, *others = [[str(cell) for cell in row] for row in rows]
    return "\n".join("| " + " | ".join(row) + " |" for row in (head, ["---"] * len(head), *others))


def machine():
    """What it ran on, without names of its own."""
    with open("/proc/cpuinfo", encoding="utf-8") as told:
        kind = next((line.split(":")[1].strip() for line in told if line.startswith("model name")), platform.machine())
    with open("/proc/meminfo", encoding="ascii") as told:
        memory = int(told.readline().split()[1]) / 1e6
    return f"{time.strftime('%Y-%m-%d')}, {os.cpu_count()} cores ({kind}), {memory:.0f} GB of memory"


def version_of(*words):
    told = subprocess.run(words, capture_output=True, text=True, check=False)
    return (told.stdout or told.stderr).split("\n")[0].strip()
