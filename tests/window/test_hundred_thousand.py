# SPDX-License-Identifier: GPL-3.0-or-later
"""A folder of a hundred thousand photos: looked at, brought in, its trip proposed and scrolled, and the window answers all
the while. Takes minutes, so it is run by tests/long/hundred-thousand."""

import datetime
import io
import sqlite3
import unittest

from PIL import Image

from driver import key, shedwalk, until
from test_never_blocked import resident
from watched import Watched

PHOTOS = 100000
FIRST = datetime.datetime(2026, 4, 3, 9)


def make_card(folder):
    """One drawing, each file with a time of its own, 2 s after the one before: two and a half days."""
    folder.mkdir()
    exif = Image.Exif()
    exif[0x010F], exif[0x0110] = "Orrery", "K2"  # make and model of no real camera
    blank = "2000:01:01 00:00:00"
    exif[0x8769] = {0x9003: blank}
    out = io.BytesIO()
    Image.new("RGB", (160, 120), (90, 120, 60)).save(out, "JPEG", exif=exif, quality=40)
    drawing = out.getvalue()
    for i in range(PHOTOS):
        when = (FIRST + datetime.timedelta(seconds=2 * i)).strftime("%Y:%m:%d %H:%M:%S")
        (folder / f"P{i:06d}.JPG").write_bytes(drawing.replace(blank.encode(), when.encode()) + b"%06d" % i)


class HundredThousand(Watched):
    def count(self):
        records = sqlite3.connect(f"file:{self.catalogue}/catalogue.db?mode=ro", uri=True)
        try:
            return records.execute("SELECT count (*) FROM photo").fetchone()[0]
        finally:
            records.close()

    def test_a_folder_of_a_hundred_thousand(self):
        card = self.folder / "card"
        make_card(card)
        window = self.open_watched()
        key("alt+1")
        window.wait("push button", "Bring photos in…")
        key("ctrl+b")
        window.choose_folder("Folder with the photos", card)
        # GTK's chooser lists the folder itself
        until("the chooser gone", lambda: not window.find("file chooser", "Folder with the photos"))
        self.phase("looking at it", lambda: window.wait("push button", "Bring them in"), shown=1)
        window.wait("label", lambda text: text.startswith(f"{PHOTOS} photos"))
        window.confirm_bring_in()
        self.phase("bringing in", lambda: window.told("The memory card may be cleared now."), shown=3)
        self.assertEqual(self.count(), PHOTOS)
        shedwalk("check", self.catalogue)
        key("alt+2")
        window.wait("list", "Items")
        key("alt+1")
        self.phase("going on while pictures are looked at", lambda: (
            window.wait("push button", "Bring photos in…"), [key("alt+2", "alt+1") for _ in range(5)],
            until("the page", lambda: window.find("push button", "Bring photos in…"))), shown=10)
        print(f"  memory: {resident(window.process.pid)} kB with {PHOTOS} photos")
        self.judge()


if __name__ == "__main__":
    unittest.main()
