# SPDX-License-Identifier: GPL-3.0-or-later
"""bring-in and photos: what is taken, refused, doubled, and survives."""
import os
import signal
import subprocess
import unittest

import pictures
from shed import PROGRAM, ShedTest, run


class BringIn(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        self.card = self.path("card")
        os.mkdir(self.card)

    def bring(self, *more, folder=None):
        return self.good("bring-in", self.catalogue, folder or self.card, "--json", *more).json()

    def stored(self):
        return sorted(os.path.join(root, name) for root, _, names in
                      os.walk(os.path.join(self.catalogue, "photos")) for name in names)

    def test_a_card(self):
        pictures.write(self.card, "DCIM/IMG_1.jpg", pictures.jpeg(
            1, "2026:04:03 10:00:00", "+13:00", position=(-41.25, 174.5), orientation=6))
        pictures.write(self.card, "DCIM/IMG_2.jpg", pictures.jpeg(2, "2026:04:05 02:30:00"))
        pictures.write(self.card, "DCIM/again/copy.jpg", pictures.jpeg(2, "2026:04:05 02:30:00"))
        pictures.write(self.card, "DCIM/zero.jpg", b"")
        pictures.write(self.card, "notes.txt", b"10:00 Press house\n")
        before = {name: os.stat(name).st_mtime_ns for name in
                  (os.path.join(r, f) for r, _, fs in os.walk(self.card) for f in fs)}
        report = self.bring()
        self.assertEqual((report["taken"], report["already_there"], report["not_photos"]), (2, 1, 1))
        self.assertEqual([r["file"] for r in report["refused"]], ["DCIM/zero.jpg"])
        self.assertEqual(before, {name: os.stat(name).st_mtime_ns for name in before})
        first, second = self.good("photos", self.catalogue, "--json").json()
        self.assertEqual(first["clock_time"], "2026-04-03T10:00:00")
        self.assertEqual(first["zone_offset"], "+13:00")
        self.assertEqual(first["property_time"], "2026-04-03T10:00:00+13:00")
        self.assertEqual((first["orientation"], first["time_source"], first["trip"]), (6, "original", 1))
        self.assertAlmostEqual(first["latitude"], -41.25, places=5)
        self.assertAlmostEqual(first["longitude"], 174.5, places=5)
        # of equal bytes the first path in byte order names the photo
        self.assertEqual(second["file"], "DCIM/IMG_2.jpg")
        # 02:30 happened twice on the day the clocks went back (IANA tz, Pacific/Auckland, 2026-04-05): the first is taken
        self.assertEqual(second["property_time"], "2026-04-05T02:30:00+13:00")
        self.good("check", self.catalogue)

    def test_there_already_with_another_trip(self):
        pictures.write(self.card, "IMG_1.jpg", pictures.jpeg(1, "2026:04:03 10:00:00"))
        self.good("trip", "add", self.catalogue, "--title", "Second look", "--first", "2026-05-01", "--last", "2026-05-04")
        self.assertEqual(self.bring()["taken"], 1)
        again = self.bring("--trip", "2")
        self.assertEqual((again["taken"], again["already_there"]), (0, 1))
        self.assertEqual([r["remark"] for r in again["remarked"]], ["It is in the catalogue already, with trip 1."])
        self.assertEqual([p["trip"] for p in self.good("photos", self.catalogue, "--json").json()], [1])

    def test_card_may_be_cleared(self):
        pictures.walk(self.card, [2, 1])
        self.assertTrue(self.bring()["card_may_be_cleared"])
        self.assertIn("memory card may be cleared", self.good("bring-in", self.catalogue, self.card).out)

    def test_again_takes_nothing(self):
        pictures.walk(self.card, [3, 2])
        self.assertEqual(self.bring()["taken"], 5)
        stored = self.stored()
        report = self.bring()
        self.assertEqual((report["taken"], report["already_there"]), (0, 5))
        self.assertEqual(self.stored(), stored)

    def test_renamed_on_another_card(self):
        pictures.write(self.card, "a.jpg", pictures.jpeg(1, "2026:04:03 10:00:00"))
        self.bring()
        pictures.write(self.path("other"), "b.jpg", pictures.jpeg(1, "2026:04:03 10:00:00"))
        self.assertEqual(self.bring(folder=self.path("other"))["already_there"], 1)

    def test_undo_and_again(self):
        pictures.walk(self.card, [3])
        self.bring()
        self.good("undo", self.catalogue)
        self.assertEqual(self.good("photos", self.catalogue, "--json").json(), [])
        self.good("check", self.catalogue)
        self.assertEqual(self.bring()["taken"], 3)
        self.assertEqual(len(self.good("photos", self.catalogue, "--json").json()), 3)

    def test_undone_from_the_wrong_trip(self):
        self.good("trip", "add", self.catalogue, "--title", "Second", "--first", "2026-06-19", "--last", "2026-06-22")
        pictures.write(self.card, "a.jpg", pictures.jpeg(1, "2026:04:03 10:00:00"))
        pictures.write(self.card, "a.wav", b"RIFF\x24\0\0\0WAVEfmt " + bytes(40))
        pictures.write(self.card, "b.jpg", pictures.jpeg(2, "2026:05:03 10:00:00"))
        for more, trips in (("2", [2, 2]), ("1", [1, 1]), (None, [1, None])):
            report = self.bring(*(("--trip", more) if more else ()))
            self.assertEqual((report["taken"], report["companions"], report["already_there"]), (2, 1, 0))
            photos = self.good("photos", self.catalogue, "--json").json()
            self.assertEqual([p["trip"] for p in photos], trips)
            outside = [r["file"] for r in report["remarked"] if "outside the days" in r["remark"]]
            self.assertEqual("b.jpg" in outside, more is not None)
            self.good("check", self.catalogue)
            self.good("undo", self.catalogue)

    def test_trip(self):
        pictures.write(self.card, "a.jpg", pictures.jpeg(1, "2026:05:03 10:00:00"))
        self.assertEqual(self.bring()["taken"], 1)
        self.assertIsNone(self.good("photos", self.catalogue, "--json").json()[0]["trip"])
        pictures.write(self.card, "b.jpg", pictures.jpeg(2, "2026:05:03 10:01:00"))
        report = self.bring("--trip", "1")
        self.assertIn("b.jpg", [r["file"] for r in report["remarked"]])
        self.bad(1, "bring-in", self.catalogue, self.card, "--trip", "9", says="9")

    def test_strict(self):
        pictures.write(self.card, "a.jpg", pictures.jpeg(1, "2026:04:03 10:00:00"))
        pictures.write(self.card, "zero.jpg", b"")
        self.assertEqual(run("bring-in", self.catalogue, self.card).code, 0)
        self.assertEqual(run("bring-in", self.catalogue, self.card, "--strict").code, 1)

    def test_folders_that_are_none(self):
        self.bad(1, "bring-in", self.catalogue, self.path("missing"), says="missing")
        self.bad(1, "bring-in", self.catalogue, self.card)
        self.bad(1, "bring-in", self.catalogue, os.path.join(self.catalogue, "photos"))
        self.bad(1, "bring-in", self.catalogue, self.folder + "/Orchard.shedwalk")

    def test_odd_entries(self):
        os.symlink(self.card, os.path.join(self.card, "loop"))
        os.symlink("/nowhere/at/all", os.path.join(self.card, "dangling.jpg"))
        os.mkfifo(os.path.join(self.card, "pipe.jpg"))
        pictures.write(self.card, "two\nlines \"quoted\" 🍎.jpg", pictures.jpeg(1, "2026:04:03 10:00:00"))
        pictures.write(self.card, "n" * 251 + ".jpg", pictures.jpeg(2, "2026:04:03 10:00:10"))
        pictures.write(self.card, "\x1b[31mred.jpg", pictures.jpeg(3, "2026:04:03 10:00:20"))
        with open(os.path.join(self.card.encode(), b"latin\xe9.jpg"), "wb") as out:
            out.write(pictures.jpeg(4, "2026:04:03 10:00:30"))
        report = self.bring()
        self.assertEqual(report["taken"], 4)
        shown = run("photos", self.catalogue).out
        self.assertNotIn("\x1b", shown)
        self.good("check", self.catalogue)
        for name in self.stored():
            self.assertTrue(os.path.basename(name).isascii(), name)

    def test_damaged_pictures(self):
        whole = pictures.jpeg(1, "2026:04:03 10:00:00", size=(640, 480))
        pictures.write(self.card, "cut.jpg", whole[:len(whole) // 2])
        pictures.write(self.card, "noise.jpg", bytes(range(256)) * 40)
        pictures.write(self.card, "good.jpg", pictures.jpeg(2, "2026:04:03 10:00:05"))
        report = self.bring()
        self.assertEqual(report["taken"], 2)
        times = {p["file"]: p["clock_time"] for p in self.good("photos", self.catalogue, "--json").json()}
        self.assertEqual(times["cut.jpg"], "2026-04-03T10:00:00")

    def test_killed_half_way(self):
        pictures.walk(self.card, [12] * 8)
        for wait in range(6):
            process = subprocess.Popen([PROGRAM, "bring-in", self.catalogue, self.card],
                                       stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
            # killed at another number of copied files each round, as seen in the folder
            while process.poll() is None and len(self.stored()) < wait * 16:
                os.sched_yield()
            process.send_signal(signal.SIGKILL)
            process.wait()
            self.good("check", self.catalogue)
        self.bring()
        photos = self.good("photos", self.catalogue, "--json").json()
        self.assertEqual(len(photos), 96)
        self.assertEqual(len(self.stored()), 96)
        self.good("check", self.catalogue)

    def test_changed_and_missing_photos_are_found(self):
        pictures.walk(self.card, [3])
        self.bring()
        first, second, _ = self.stored()
        os.chmod(first, 0o644)
        with open(first, "r+b") as photo:
            photo.seek(200)
            photo.write(b"\xff\x00")
        os.remove(second)
        result = run("check", self.catalogue)
        self.assertEqual(result.code, 1)
        self.assertIn(os.path.basename(first), result.out)
        self.assertIn(os.path.basename(second), result.out)

    def test_assign(self):
        pictures.walk(self.card, [3])
        self.bring()
        number = self.add_item("Screw press")
        photos = [p["photo"] for p in self.good("photos", self.catalogue, "--json").json()]
        self.good("assign", self.catalogue, str(photos[0]), str(photos[1]), "--item", str(number))
        self.assertEqual(self.item(number)["photos"], photos[:2])
        self.good("assign", self.catalogue, str(photos[1]), "--item", "none")
        self.assertEqual(self.item(number)["photos"], photos[:1])
        self.good("undo", self.catalogue)
        self.assertEqual(self.item(number)["photos"], photos[:2])
        self.bad(1, "assign", self.catalogue, "999", "--item", str(number), says="999")


if __name__ == "__main__":
    unittest.main()
