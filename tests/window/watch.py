# SPDX-License-Identifier: GPL-3.0-or-later
"""Reads what watch.c counts in a running program: processor time of the main thread between two polls (half milliseconds),
turns that only answered a look of ours (apart, never among the others), frames painted, file and SQL calls made on the main
thread with their callers."""

import mmap
import os
import pathlib
import re
import struct
import subprocess

BUCKETS, CALLS, DEPTH, SAMPLES = 2048, 512, 24, 64
HEAD = struct.Struct("<6Q")
CALL = struct.Struct(f"<24s232s{DEPTH}Q")
SAMPLE = struct.Struct(f"<Q{DEPTH}Q")
CALLS_AT = HEAD.size + 2 * 8 * BUCKETS
SAMPLES_AT = CALLS_AT + CALLS * CALL.size
SIZE = SAMPLES_AT + SAMPLES * SAMPLE.size

# What GTK itself does on the main thread, by the path it touches, and why it is let be.
EXCUSED = (
    (re.compile(r"/(\.?icons|pixmaps)(/[^/]*)*$"), "the icon theme: GTK looks whether it changed, and loads each icon once"),
    (re.compile(r"^/usr/share/themes/"), "the theme's pictures: loaded once, by GTK"),
    (re.compile(r"^/usr/share/fonts/|/fontconfig(/|$)"), "a font that was not needed before: loaded once, by Pango"),
    (re.compile(r"/gtk-3\.0/bookmarks$|^/run/mount/utab$|^/etc/fstab$|^/proc/self/mountinfo$"), "GTK's file chooser: bookmarks, mounts"),
    (re.compile(r"/recently-used\.xbel"), "GTK's list of what was opened lately: read when another program wrote it"),
    (re.compile(r"/mime/+(mime\.cache|globs|magic)$"), "gdk-pixbuf telling of which format a symbolic icon is"),
    (re.compile(r"^/\.flatpak-info$"), "GTK asking whether it is in a sandbox: once for each field to type in"),
    (re.compile(r"/gdk-pixbuf-2\.0/"), "the loader of symbolic icons: once, by GTK"),
)


class Watch:
    """The counts of one program."""

    def __init__(self, folder, name="watch"):
        self.path = pathlib.Path(folder) / name
        self.path.write_bytes(b"\0" * SIZE)
        with open(self.path, "r+b") as file:
            self.map = mmap.mmap(file.fileno(), SIZE)

    def environment(self, library):
        return {**os.environ, "LD_PRELOAD": str(library), "SHEDWALK_WATCH": str(self.path)}

    def now(self):
        """All counts at this moment."""
        _, stalls, frames, calls, looks, samples = HEAD.unpack_from(self.map, 0)
        cpu = struct.unpack_from(f"<{BUCKETS}Q", self.map, HEAD.size)
        wall = struct.unpack_from(f"<{BUCKETS}Q", self.map, HEAD.size + 8 * BUCKETS)
        return {"stalls": stalls, "looks": looks, "frames": frames, "calls": calls, "samples": samples, "cpu": cpu, "wall": wall}

    def calls(self, first, last):
        """(what, path, frames) of the calls numbered so."""
        for i in range(first, min(last, CALLS)):
            what, path, *frames = CALL.unpack_from(self.map, CALLS_AT + i * CALL.size)
            yield what.rstrip(b"\0").decode(), path.split(b"\0")[0].decode(errors="replace"), [f for f in frames if f]

    def samples(self, first, last):
        """(milliseconds of the turn, frames) of what the long turns numbered so were at."""
        for i in range(max(first, last - SAMPLES), last):
            us, *frames = SAMPLE.unpack_from(self.map, SAMPLES_AT + i % SAMPLES * SAMPLE.size)
            yield us / 1000, [f for f in frames if f]


class Phase:
    """What happened between two moments."""

    def __init__(self, watch, before, after):
        self.stalls = after["stalls"] - before["stalls"]
        self.looks = after["looks"] - before["looks"]
        self.frames = after["frames"] - before["frames"]
        self.cpu = [b - a for a, b in zip(before["cpu"], after["cpu"])]
        self.wall = [b - a for a, b in zip(before["wall"], after["wall"])]
        made = list(watch.calls(before["calls"], after["calls"]))
        self.calls = [call for call in made if excuse(call[1]) is None]
        self.excused = len(made) - len(self.calls)
        self.long_turns = list(watch.samples(before["samples"], after["samples"]))
        self.unseen = max(0, after["calls"] - CALLS)

    @staticmethod
    def longest(buckets):
        """In milliseconds, rounded up to the half."""
        return max((i + 1 for i, n in enumerate(buckets) if n), default=0) / 2

    @staticmethod
    def over(buckets, milliseconds):
        return sum(buckets[int(milliseconds * 2):])

    def share_under(self, milliseconds):
        return 1 - self.over(self.cpu, milliseconds) / max(self.stalls, 1)


def excuse(path):
    return next((why for pattern, why in EXCUSED if pattern.search(path)), None)


def names_of(frames, pid):
    """Functions of the program among the frames, innermost first."""
    for line in pathlib.Path(f"/proc/{pid}/maps").read_text(encoding="utf-8").splitlines():
        span, _, offset, _, _, *path = line.split()
        if path and path[0].endswith("/shedwalk") and offset == "00000000":
            base, program = int(span.split("-")[0], 16), path[0]
            break
    else:
        return []
    size = os.path.getsize(program)
    ours = [hex(frame - base - 1) for frame in frames if 0 <= frame - base < size * 2]
    if not ours:
        return []
    told = subprocess.run(["addr2line", "-f", "-e", program, *ours], capture_output=True, text=True, check=False).stdout.split("\n")
    return [name for name in told[::2] if name not in ("", "??")]
