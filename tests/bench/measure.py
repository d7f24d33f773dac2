# SPDX-License-Identifier: GPL-3.0-or-later
"""Timing in turn, medians and spread, and what is said of them: a target is reached or missed in the report, never a failed test."""

import os
import shutil
import statistics
import subprocess
import tempfile
import time


class Times:
    """Seconds of one thing, round after round."""

    def __init__(self, seconds):
        self.seconds = list(seconds)

    @property
    def median(self):
        return statistics.median(self.seconds)

    def told(self):
        """Median, and between which times all rounds lay."""
        unit, factor = ("s", 1) if self.median >= 1 else ("ms", 1000)
        digits = 1 if self.median * factor < 100 else 0
        return f"{self.median * factor:.{digits}f} {unit} ({min(self.seconds) * factor:.{digits}f} to {max(self.seconds) * factor:.{digits}f})"


def touch_memory():
    """A fresh virtual machine hands out its memory slowly: ask for it once, before anything is timed."""
    with open("/proc/meminfo", encoding="ascii") as told:
        free = int(next(line.split()[1] for line in told if line.startswith("MemAvailable"))) * 1024
    room = os.statvfs("/dev/shm")
    with tempfile.TemporaryFile(dir="/dev/shm") as out:
        for _ in range(min(free // 2, room.f_bavail * room.f_bsize - (1 << 28)) >> 24):
            out.write(b"x" * (1 << 24))


def drop_caches(folder):
    """What was read of the folder leaves memory. How that was done: by the system's own switch, which only root may use, else file
    by file."""
    os.sync()
    try:
        with open("/proc/sys/vm/drop_caches", "w", encoding="ascii") as out:
            out.write("3")
        return "all caches dropped"
    except OSError:
        for where, _, names in os.walk(folder):
            for name in names:
                file = os.open(os.path.join(where, name), os.O_RDONLY)
                os.posix_fadvise(file, 0, 0, os.POSIX_FADV_DONTNEED)
                os.close(file)
        return "the files' bytes given up with posix_fadvise, their names still in memory"


def fill_caches(folder):
    for where, _, names in os.walk(folder):
        for name in names:
            with open(os.path.join(where, name), "rb", buffering=0) as file:
                while file.read(1 << 20):
                    pass


def run(*words):
    """Runs a command to its end; what it prints is thrown away, what it says on stderr ends the bench if it fails."""
    done = subprocess.run([str(word) for word in words], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, check=False)
    if done.returncode != 0:
        raise SystemExit(f"{words[0]} failed: {done.stderr.decode(errors='replace')[-500:]}")


def output(*words):
    """What a command prints; what it says on stderr ends the bench if it fails."""
    done = subprocess.run([str(word) for word in words], capture_output=True, text=True, check=False)
    if done.returncode != 0:
        raise SystemExit(f"{words[0]} failed: {done.stderr[-500:]}")
    return done.stdout


def timed(work):
    begun = time.monotonic()
    work()
    return time.monotonic() - begun


def in_turn(rounds, contenders, before=lambda: None, after=lambda: None):
    """Each of the contenders (name to function) once a round, the first of the next round another one; Times by name."""
    seconds = {name: [] for name in contenders}
    names = list(contenders)
    for i in range(rounds):
        for name in names[i % len(names):] + names[:i % len(names)]:
            before()
            seconds[name].append(timed(contenders[name]))
            after()
    return {name: Times(each) for name, each in seconds.items()}


def missing(tools):
    """Those of the tools (program to Debian package) that are not here, as a sentence; empty where all are."""
    packages = sorted({package for tool, package in tools.items() if shutil.which(tool) is None})
    return f"Not here, so not measured; apt install {' '.join(packages)}" if packages else ""


def load():
    return f"{os.getloadavg()[0]:.1f}"
