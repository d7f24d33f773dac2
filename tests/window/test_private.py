# SPDX-License-Identifier: GPL-3.0-or-later
"""What the program and its helper do to the rest of the machine: no socket of a network is made, nothing is written but the
catalogue, the person's own cache and settings, and what they asked for; temporary files are gone; other people cannot read any
of it, and no buyer's name stands outside the catalogue."""

import os
import pathlib
import socket
import stat
import subprocess
from unittest import mock

from driver import PROGRAM, Window, WindowTest, key, make_photo, type_text, until, has

LIBRARY = os.environ["SHEDWALK_TRACE_LIBRARY"]
BUYER = "Quillon Ashgrove"
BOOK = f"""what,ref,outlet,kind,from,charge,on,tiers,item,up,at,result,amount,buyer
outlet,,Hill Road,auction,,,,,,,,,,
charge,,Hill Road,,2026-01-01,commission,price,10%,,,,,,
offer,A1,Hill Road,,,,,,Screw press,2026-04-14,,,,
result,A1,,,,,,,,,2026-04-26,sold,200.00,{BUYER}
"""


class Private(WindowTest):
    def setUp(self):
        super().setUp()
        self.trace = self.folder / "trace"
        self.trace.touch()
        self.out = self.folder / "asked for"
        self.out.mkdir()
        self.environment = {**os.environ, "LD_PRELOAD": LIBRARY, "SHEDWALK_TRACE": str(self.trace)}

    def command(self, *words):
        done = subprocess.run([PROGRAM, *map(str, words)], capture_output=True, text=True, check=False, env=self.environment)
        self.assertEqual(done.returncode, 0, done.stderr)
        return done.stdout + done.stderr

    def open_traced(self):
        with mock.patch.dict(os.environ, self.environment):
            self.window = Window(self.catalogue)
        self.window.wait("radio button", "Takings")
        return self.window

    def lines(self, what):
        return sorted({line.split(" ", 1)[1] for line in self.trace.read_text(encoding="utf-8", errors="replace").splitlines()
                       if line.startswith(what + " ")})

    def evening(self):
        """An evening's work: photos in, a result booked, a name typed, papers made, a backup, an archive."""
        photos = self.folder / "card" / "DCIM"
        for i in range(6):
            make_photo(photos / f"P{i}.jpg", f"2026:04:03 10:{i:02}:00", i)
        book = self.folder / "book.csv"
        book.write_text(BOOK, encoding="utf-8")
        said = self.command("book", self.catalogue, book)
        window = self.open_traced()
        window.bring_in(photos)
        window.told("The memory card may be cleared now.")
        for page in "12345":
            key("alt+" + page)
        key("alt+2")
        window.row("Items", "Sack truck").do_action(0)
        entry = window.wait("text", "Name")
        until("its sheet", lambda: entry.get_text(0, -1) == "Sack truck")
        entry.grab_focus()
        until("the focus", lambda: has(entry, "FOCUSED"))
        type_text("s")
        until("the name saved", lambda: self.item(2)["name"] != "Sack truck")
        said += window.output()
        window.close()
        self.window = None
        said += self.command("hand-out", self.catalogue, "inventory", "--to", self.out / "inventory.pdf")
        said += self.command("backup", self.catalogue, self.out / "backup")
        said += self.command("hand-out", self.catalogue, "archive", "--to", self.out / "archive")
        said += self.command("check", self.catalogue)
        return said

    def test_an_evening(self):
        said = self.evening()
        with self.subTest("no network"):
            self.assertEqual(set(self.lines("socket")) - {str(int(socket.AF_UNIX))}, set())
        home = [pathlib.Path(os.environ[name]) for name in ("XDG_CACHE_HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_RUNTIME_DIR")]
        allowed = [self.catalogue, self.out, *home, pathlib.Path("/dev"), pathlib.Path("/proc/self")]
        written = self.lines("write")
        with self.subTest("nothing elsewhere"):
            self.assertGreater(sum(path.startswith(str(self.catalogue)) for path in written), 5)
            self.assertEqual([path for path in written if not any(pathlib.Path(path).is_relative_to(place) for place in allowed)], [])
        with self.subTest("nothing taken from the card"):
            self.assertEqual([path for path in self.lines("remove") if "/card/" in path], [])
        with self.subTest("others cannot read it"):
            self.assertEqual([str(path) for path in self.catalogue.rglob("*") if stat.S_IMODE(path.lstat().st_mode) & 0o077], [])
            self.assertEqual(stat.S_IMODE(self.catalogue.stat().st_mode) & 0o077, 0)
        with self.subTest("no temporary file is left"):
            left = [path for path in written if any(mark in pathlib.Path(path).name for mark in (".tmp", ".part", "XXXXXX", "-journal"))]
            self.assertEqual([path for path in left if os.path.exists(path)], [])
        with self.subTest("no buyer's name outside"):
            self.assertNotIn(BUYER, said)
            for place in home:
                for path in (path for path in place.rglob("*") if path.is_file()):
                    self.assertNotIn(BUYER.encode(), path.read_bytes(), path)
