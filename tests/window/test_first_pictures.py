# SPDX-License-Identifier: GPL-3.0-or-later
"""Cells before their photos are decoded: the small picture that the camera left in the header shows at once, and gives way to the
photo's own without a blank in between. The photos are blue, the small pictures in their headers orange, so that a pixel tells which
of both is seen. The helpers that decode the photos are halted until the small pictures were."""

import datetime
import io
import os
import pathlib
import signal
import sqlite3
import threading

from PIL import Image, ImageGrab

from driver import WindowTest, extents, key, shedwalk, until

PHOTOS = 12
SIZE, SMALL = (4000, 3000), (160, 120)
BLUE, ORANGE = (30, 60, 200), (240, 140, 20)
FIRST = datetime.datetime(2026, 4, 3, 9)


def jpeg(size, colour, **how):
    out = io.BytesIO()
    Image.new("RGB", size, colour).save(out, "JPEG", quality=60, **how)
    return out.getvalue()


def exif_block(taken, small):
    """A time, and the small picture; Exif 2.32, 4.5.5."""
    def entry(tag, kind, count, value):
        return tag.to_bytes(2, "little") + kind.to_bytes(2, "little") + count.to_bytes(4, "little") + value.to_bytes(4, "little")
    exif_at, second_at = 8 + 2 + 12 + 4, 8 + 2 + 12 + 4 + 2 + 12 + 4 + 20
    small_at = second_at + 2 + 24 + 4
    stamp = taken.strftime("%Y:%m:%d %H:%M:%S").encode() + b"\0"
    return (b"II*\0" + (8).to_bytes(4, "little")
            + b"\1\0" + entry(0x8769, 4, 1, exif_at) + second_at.to_bytes(4, "little")
            + b"\1\0" + entry(0x9003, 2, 20, exif_at + 18) + bytes(4) + stamp
            + b"\2\0" + entry(0x0201, 4, 1, small_at) + entry(0x0202, 4, 1, len(small)) + bytes(4) + small)


class Halt(threading.Thread):
    """Halts the helpers of the window that has the catalogue open, but for the first, which reads the small pictures; they start one
    after the other, and take some time to."""

    def __init__(self, catalogue):
        super().__init__(daemon=True)
        self.catalogue, self.halted, self.over = os.fsencode(catalogue), set(), threading.Event()

    def helpers(self):
        """Their numbers, the first started first."""
        found = []
        for each in pathlib.Path("/proc").glob("[0-9]*"):
            try:
                words = (each / "stat").read_text(encoding="ascii", errors="replace").rsplit(")", 1)[1].split()
                if (each / "comm").read_text(encoding="ascii").strip() == "shedwalk-decode" and self.catalogue in (
                        each.parent / words[1] / "cmdline").read_bytes():
                    found.append((int(words[19]), int(each.name)))
            except OSError:
                continue  # it ended meanwhile
        return [number for _, number in sorted(found)]

    def run(self):
        while not self.over.wait(0.002):
            for number in self.helpers()[1:]:
                if number not in self.halted:
                    self.halted.add(number)
                    os.kill(number, signal.SIGSTOP)

    def release(self):
        self.over.set()
        self.join()
        for number in self.halted:
            os.kill(number, signal.SIGCONT)


def like(pixel, colour):
    return all(abs(a - b) < 30 for a, b in zip(pixel, colour))


class FirstPictures(WindowTest):
    def bring(self, with_small):
        body, small, card = jpeg(SIZE, BLUE, progressive=True)[2:], jpeg(SMALL, ORANGE), self.folder / "card"
        card.mkdir()
        for i in range(PHOTOS):
            block = b"Exif\0\0" + exif_block(FIRST + datetime.timedelta(seconds=5 * i), small)
            header = b"\xff\xe1" + (len(block) + 2).to_bytes(2, "big") + block if with_small else b""
            comment = b"\xff\xfe\0\6" + i.to_bytes(4, "big")
            (card / f"P{i:03d}.JPG").write_bytes(b"\xff\xd8" + header + comment + body)
        shedwalk("bring-in", self.catalogue, card, "--trip", 1)
        shedwalk("pair", self.catalogue, "--trip", 1)  # the stops; and all thumbnails
        (self.catalogue / "thumbs.db").unlink()

    def count(self, node):
        """Pixels there that are of the small pictures, and of the photos'."""
        keep = os.environ.get("SHEDWALK_KEEP_PICTURES")
        x, y, width, height = extents(node)
        whole = ImageGrab.grab()
        picture = whole.crop((x, y, x + width, y + height)).convert("RGB").resize((width // 4, height // 4), Image.NEAREST)
        if keep:
            self.seen = getattr(self, "seen", 0) + 1
            whole.save(os.path.join(keep, f"first-{self.id().split('.')[-1]}-{self.seen:03d}.png"))
        pixels = list(picture.getdata())
        return sum(like(p, ORANGE) for p in pixels), sum(like(p, BLUE) for p in pixels)

    def strip(self):
        window = self.open()
        key("alt+1")
        return window.wait("list", "Stops")

    def stored(self):
        with sqlite3.connect(self.catalogue / "thumbs.db", timeout=20) as store:
            return store.execute("SELECT count(*) FROM thumb").fetchone()[0]

    def test_small_pictures_stand_in_and_give_way(self):
        self.bring(with_small=True)
        halt = Halt(self.catalogue)
        halt.start()
        strip = self.strip()
        seen = [until("small pictures in the cells", lambda: next((c for c in [self.count(strip)] if c[0] > 0 and c[1] == 0), None))]
        until("helpers to halt", lambda: halt.halted)
        halt.release()

        def all_blue():
            seen.append(self.count(strip))
            return seen[-1][0] == 0 and seen[-1][1] > 0
        until("the photos' own in their place", all_blue)
        most = max(sum(each) for each in seen)
        full = [i for i, each in enumerate(seen) if sum(each) >= 0.9 * most][0]
        for orange, blue in seen[full:]:  # no cell was blank once it had shown something
            self.assertGreaterEqual(orange + blue, 0.9 * most, seen)
        blues = [blue for _, blue in seen]
        self.assertEqual(blues, sorted(blues), "a photo gave way to its small picture again")
        until("no small picture anywhere", lambda: self.count(self.window.frame)[0] == 0)
        self.assertGreaterEqual(self.stored(), 2)

    def test_without_them_cells_wait(self):
        self.bring(with_small=False)
        strip = self.strip()
        seen = []

        def blue():
            seen.append(self.count(strip))
            return seen[-1][1] > 0
        until("the photos' own", blue)
        self.assertEqual([orange for orange, _ in seen if orange > 0], [])
