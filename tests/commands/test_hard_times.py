# SPDX-License-Identifier: GPL-3.0-or-later
"""Kills, full disks, permissions, two programs at once, odd surroundings: the catalogue stays sound and a second run
completes what the first began."""
import json
import os
import shutil
import sqlite3
import stat
import subprocess
import sys
import time
import unittest

import pictures
from shed import PROGRAM, ShedTest, run

FULL_DISK = os.path.join(os.path.dirname(os.path.abspath(__file__)), "full_disk.py")


class HardTest(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        self.card = self.path("card")

    def start(self, *args):
        return subprocess.Popen([PROGRAM, *args], stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                                env=dict(os.environ, LC_ALL="C.UTF-8"))

    def sound(self, catalogue=None):
        result = run("check", catalogue or self.catalogue)
        self.assertEqual(result.code, 0, result.out + result.err)


class Killed(HardTest):
    """Each command is killed at a dozen moments spread over the time that it takes; then it is run to its end."""

    MOMENTS = 12

    def kill_often(self, *args, after=lambda: None):
        began = time.monotonic()
        scratch = self.path("Scratch.shedwalk")
        shutil.copytree(self.catalogue, scratch)
        run(args[0], *[scratch if a == self.catalogue else a for a in args[1:]])
        whole = time.monotonic() - began
        shutil.rmtree(scratch, ignore_errors=True)
        killed = 0
        for moment in range(self.MOMENTS):
            process = self.start(*args)
            try:
                process.communicate(timeout=whole * (moment + 0.5) / self.MOMENTS)
            except subprocess.TimeoutExpired:
                process.kill()
                process.communicate()
                killed += 1
            self.sound()
            after()
        self.assertGreater(killed, 0)

    def sales(self, number):
        rows = ["what,ref,item,at,amount"] + [f"sale,S{i},Thing {i},2026-04-05,{i}.25" for i in range(1, number + 1)]
        return pictures.write(self.folder, "money.csv", "\n".join(rows).encode())

    def things(self, number):
        rows = ["time,place,item"] + [f"{9 + i // 60:02d}:{i % 60:02d},Press house,Thing {i}" for i in range(1, number + 1)]
        return pictures.write(self.folder, "notebook.csv", "\n".join(rows).encode())

    def test_notes_book_undo(self):
        notebook, money = self.things(60), self.sales(60)
        self.kill_often("notes", self.catalogue, notebook, "--trip", "1")
        self.good("notes", self.catalogue, notebook, "--trip", "1")
        self.assertEqual(len(self.items()), 60)
        self.kill_often("book", self.catalogue, money)
        self.good("book", self.catalogue, money)
        proceeds = sum(100 * i + 25 for i in range(1, 61))
        self.assertEqual(self.good("takings", self.catalogue, "--json").json()["total"]["proceeds"], proceeds)
        # each kill left the act undone whole or not at all: what was undone is redone to the last
        self.kill_often("undo", self.catalogue)
        while run("redo", self.catalogue).code == 0:
            pass
        self.assertEqual(self.good("takings", self.catalogue, "--json").json()["total"]["proceeds"], proceeds)
        self.sound()

    def test_pair_accept(self):
        pictures.walk(self.card, [4] * 10)
        self.good("bring-in", self.catalogue, self.card)
        self.good("notes", self.catalogue, self.things(3), "--trip", "1")
        self.kill_often("pair", self.catalogue, "--trip", "1", "--accept", "sure")
        stops = self.good("pair", self.catalogue, "--trip", "1", "--accept", "sure", "--json").json()["stops"]
        self.assertEqual(sorted(p for s in stops for p in s["photos"]), list(range(1, 41)))
        self.sound()

    def test_backup_and_restore(self):
        pictures.walk(self.card, [5] * 8)
        self.good("bring-in", self.catalogue, self.card)
        home, copy = self.path("home"), self.path("Copy.shedwalk")
        self.kill_often("backup", self.catalogue, home)
        self.good("backup", self.catalogue, home)

        def start_anew():
            if os.path.exists(copy):  # it was done before it could be killed, and then it is whole
                self.sound(copy)
                shutil.rmtree(copy)

        for moment in range(self.MOMENTS):
            process = self.start("restore", home, copy)
            try:
                process.communicate(timeout=0.004 * moment)
            except subprocess.TimeoutExpired:
                process.kill()
                process.communicate()
            start_anew()
        self.good("restore", home, copy)
        self.sound(copy)
        self.assertEqual(self.good("photos", copy, "--json").json(), self.good("photos", self.catalogue, "--json").json())
        # what the killed ones left beside it is gone
        self.assertEqual(sorted(os.listdir(self.folder)), ["Copy.shedwalk", "Orchard.shedwalk", "card", "home"])


class FullDisk(HardTest):
    def test_a_disk_that_fills_up(self):
        """In a name space of its own with a disk of 6 MB; where none can be made, the tests of faults stand alone."""
        namespace = ["unshare", "-m"] if os.geteuid() == 0 else ["unshare", "-Urm"]
        disk = self.path("disk")
        os.mkdir(disk)
        mount = ["mount", "-t", "tmpfs", "-o", "size=6m", "none", disk]
        if subprocess.run([*namespace, *mount], stderr=subprocess.DEVNULL).returncode != 0:
            self.skipTest("no disk can be mounted here")
        for number in range(120):
            pictures.write(self.card, f"p{number:03}.jpg", pictures.jpeg(
                number, f"2026:04:03 10:{number // 60:02}:{number % 60:02}") + bytes([number]) * 60000)
        done = subprocess.run([*namespace, sys.executable, "-B", FULL_DISK, disk, self.card], timeout=300,
                              stdout=subprocess.PIPE, stderr=subprocess.STDOUT, env=dict(os.environ, LC_ALL="C.UTF-8"))
        self.assertEqual(done.returncode, 0, done.stdout.decode())


class Permissions(HardTest):
    """Root may do everything: then the program is run as a user who may not."""

    def setUp(self):
        super().setUp()
        pictures.walk(self.card, [3, 2])
        self.good("bring-in", self.catalogue, self.card)
        os.chmod(self.folder, 0o755)
        self.program = shutil.copy(PROGRAM, self.path("program"))
        self.other = {"user": 65534, "group": 65534, "extra_groups": []} if os.geteuid() == 0 else {}
        self.addCleanup(subprocess.run, ["chmod", "-R", "u+rwX", self.folder])

    def as_other(self, code, *args, says=None):
        done = subprocess.run([self.program, *args], stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                              stderr=subprocess.PIPE, timeout=120, env=dict(os.environ, LC_ALL="C.UTF-8"), **self.other)
        error = done.stderr.decode()
        self.assertEqual(done.returncode, code, (args, done.stdout, error))
        if code == 1 and args[0] != "check":
            self.assertEqual(error.count("\n"), 1, error)
        if says is not None:
            self.assertIn(says, error)
        return done

    def state(self):
        return sorted((os.path.join(r, f), os.stat(os.path.join(r, f)).st_mtime_ns)
                      for r, _, names in os.walk(self.catalogue) for f in names)

    def make_read_only(self):
        for root, folders, names in os.walk(self.catalogue):
            for name in folders + names:
                path = os.path.join(root, name)
                # another person reads it here, so its owner has let others look into it
                os.chmod(path, stat.S_IMODE(os.stat(path).st_mode) & ~0o222 | 0o444 | (0o111 if name in folders else 0))
        os.chmod(self.catalogue, 0o555)

    def test_read_only_catalogue(self):
        self.make_read_only()
        before = self.state()
        home = self.path("home")
        os.mkdir(home)
        os.chmod(home, 0o777)
        money = pictures.write(self.folder, "money.csv", b"what,trip,at,amount\ncost,1,2026-04-04,5.00\n")
        for args in (["items"], ["photos", "--json"], ["takings"], ["check"]):
            with self.subTest(args[0]):
                self.as_other(0, args[0], self.catalogue, *args[1:])
        self.as_other(0, "backup", self.catalogue, home)
        for args in (["place", "add", self.catalogue, "A"], ["undo", self.catalogue], ["bring-in", self.catalogue, self.card],
                     ["pair", self.catalogue, "--trip", "1"], ["book", self.catalogue, money],
                     ["item", "add", self.catalogue, "Vat", "--place", "Press house", "--trip", "1"]):
            with self.subTest(args):
                self.as_other(1, *args, says="read-only")
        self.assertEqual(self.state(), before)

    def test_older_catalogue_on_a_read_only_disk(self):
        self.make_older()
        self.make_read_only()
        before = self.state()
        self.as_other(1, "items", self.catalogue, says="older Shedwalk")
        self.assertEqual(self.state(), before)

    def test_no_permission(self):
        locked = os.path.join(self.card, "locked")
        pictures.write(locked, "b.jpg", pictures.jpeg(98, "2026:04:03 10:00:00"))
        secret = pictures.write(self.card, "secret.jpg", pictures.jpeg(99, "2026:04:03 10:00:00"))
        os.chmod(locked, 0)
        os.chmod(secret, 0)
        mine = self.path("Mine.shedwalk")
        shutil.copytree(self.catalogue, mine)
        if self.other:
            subprocess.run(["chown", "-R", "65534:65534", mine], check=True)
        report = json.loads(self.as_other(0, "bring-in", mine, self.card, "--json").stdout)
        self.assertEqual(sorted(r["file"] for r in report["refused"]), ["locked", "secret.jpg"])
        self.assertFalse(report["card_may_be_cleared"])
        self.as_other(1, "bring-in", mine, locked, says="not allowed")
        self.as_other(0, "check", mine)
        os.chmod(self.folder, 0o555)
        self.as_other(1, "new", self.path("N.shedwalk"), "--name", "A", "--currency", "NZD", "--zone", "UTC",
                      says="not allowed")
        self.as_other(1, "backup", mine, self.path("home"), says="not allowed")
        os.chmod(self.catalogue, 0)
        for args in (["items", self.catalogue], ["check", self.catalogue], ["place", "add", self.catalogue, "A"]):
            self.as_other(1, *args, says="not allowed")
        os.chmod(self.folder, 0o755)


class TwoAtOnce(HardTest):
    def test_bring_in_beside_other_commands(self):
        pictures.walk(self.card, [10] * 10)
        pictures.walk(self.path("card2"), [10] * 10, day="2026:04:04")
        brings = [self.start("bring-in", self.catalogue, c) for c in (self.card, self.path("card2"))]
        adds = [self.start("item", "add", self.catalogue, f"Crate {n}", "--place", "Press house", "--trip", "1")
                for n in range(8)]
        codes = []
        for process in brings:
            error = process.communicate()[1].decode()
            codes.append(process.returncode)
            # one at a time: a second one is told so, and can be run again
            self.assertTrue(process.returncode == 0 or "already" in error or "another program" in error, error)
        self.assertIn(0, codes)
        numbers = sorted(int(process.communicate()[0]) for process in adds)
        self.assertEqual(numbers, list(range(1, 9)))
        self.sound()
        for card in (self.card, self.path("card2")):
            self.good("bring-in", self.catalogue, card)
        self.assertEqual(len(self.good("photos", self.catalogue, "--json").json()), 200)
        self.sound()

    def test_two_backups_to_one_folder(self):
        pictures.walk(self.card, [10] * 10)
        self.good("bring-in", self.catalogue, self.card)
        backups = [self.start("backup", self.catalogue, self.path("home")) for _ in range(4)]
        for process in backups:
            error = process.communicate()[1].decode()
            self.assertNotIn("damaged", error)
            self.assertTrue(process.returncode == 0 or "wait" in error or "try again" in error, error)
        self.good("backup", self.catalogue, self.path("home"))
        self.good("restore", self.path("home"), self.path("Copy.shedwalk"))
        self.sound(self.path("Copy.shedwalk"))

    def test_another_program_holds_it(self):
        db = sqlite3.connect(os.path.join(self.catalogue, "catalogue.db"), isolation_level=None)
        self.addCleanup(db.close)
        db.execute("BEGIN IMMEDIATE")
        self.bad(1, "place", "add", self.catalogue, "A", says="another program")
        self.good("items", self.catalogue)
        self.good("check", self.catalogue)
        db.execute("ROLLBACK")
        self.good("place", "add", self.catalogue, "A")

    def test_moved_meanwhile(self):
        pictures.walk(self.card, [10] * 12)
        process = self.start("bring-in", self.catalogue, self.card)
        photos, moved = os.path.join(self.catalogue, "photos"), self.path("Moved.shedwalk")
        while process.poll() is None and not os.listdir(photos):
            os.sched_yield()
        os.rename(self.catalogue, moved)
        error = process.communicate()[1].decode()
        self.assertTrue(process.returncode == 0 or "moved" in error, error)
        self.assertFalse(os.path.exists(self.catalogue))
        self.sound(moved)
        self.good("bring-in", moved, self.card)
        self.assertEqual(len(self.good("photos", moved, "--json").json()), 120)
        self.sound(moved)

    def test_card_taken_out(self):
        pictures.walk(self.card, [10] * 12)
        process = self.start("bring-in", self.catalogue, self.card, "--json")
        photos = os.path.join(self.catalogue, "photos")
        while process.poll() is None and not os.listdir(photos):
            os.sched_yield()
        os.rename(self.card, self.path("out"))
        out, error = (text.decode() for text in process.communicate())
        if process.returncode != 0:
            self.assertIn("went away", error)
            self.assertFalse(json.loads(out)["card_may_be_cleared"])
        self.sound()
        self.assertTrue(self.good("bring-in", self.catalogue, self.path("out"), "--json").json()["card_may_be_cleared"])
        self.assertEqual(len(self.good("photos", self.catalogue, "--json").json()), 120)


class Surroundings(HardTest):
    def test_locales(self):
        for number, name in enumerate(("C", "POSIX", "C.UTF-8", "de_DE.ISO-8859-1", "xx_XX", "")):
            with self.subTest(name):
                env = {"LC_ALL": name}
                place = f"K\u00fchlhaus {number}"
                self.assertEqual(self.good("place", "add", self.catalogue, place, env=env).out, f"{place} added.\n")
                number = self.good("item", "add", self.catalogue, "F\u00e4sser", "--place", place, "--trip", "1",
                                   "--asking", "1.50", env=env).out.strip()
                item = next(i for i in self.good("items", self.catalogue, "--json", env=env).json()
                            if i["number"] == int(number))
                self.assertEqual((item["place"], item["name"], item["asking"]), (place, "F\u00e4sser", 150))
                self.bad(1, "items", self.path("g\u00fcne"), says="g\u00fcne", env=env)

    def test_no_home(self):
        pictures.walk(self.card, [3])
        env = {name: "/nonexistent/x" for name in ("HOME", "XDG_CACHE_HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME",
                                                   "XDG_RUNTIME_DIR", "XDG_STATE_HOME")}
        self.good("bring-in", self.catalogue, self.card, env=env)
        self.good("pair", self.catalogue, "--trip", "1", env=env)
        self.sound()

    def test_closed_streams(self):
        pictures.walk(self.card, [3])
        for streams, code in (("<&-", 0), ("2>&-", 0), (">&-", 1), ("<&- >&- 2>&-", 1)):
            for args in (f"items '{self.catalogue}'", f"bring-in '{self.catalogue}' '{self.card}'"):
                with self.subTest((streams, args)):
                    self.assertEqual(subprocess.run(f"'{PROGRAM}' {args} {streams}", shell=True, stdout=subprocess.DEVNULL,
                                                    stderr=subprocess.DEVNULL).returncode, code)
        self.assertEqual(len(self.good("photos", self.catalogue, "--json").json()), 3)
        self.sound()

    def test_many_small_photos(self):
        pictures.walk(self.card, [4, 6] * 50, start=8 * 3600, gap=60)
        self.assertEqual(self.good("bring-in", self.catalogue, self.card, "--json").json()["taken"], 500)
        stops = self.good("pair", self.catalogue, "--trip", "1", "--json").json()["stops"]
        self.assertEqual(sum(len(s["photos"]) for s in stops), 500)
        self.sound()


class Json(HardTest):
    """One document and nothing else, on each command; on a refusal the sentence stands on stderr."""

    def test_each_command(self):
        pictures.walk(self.card, [2])
        c, home = self.catalogue, self.path("home")
        notes = pictures.write(self.folder, "notes.csv", b"time,place,item\n10:00,Press house,Vat\n")
        money = pictures.write(self.folder, "money.csv", b"what,trip,at,amount\ncost,1,2026-04-04,5.00\n")
        calls = (["new", self.path("N.shedwalk"), "--name", "A", "--currency", "NZD", "--zone", "UTC"],
                 ["trip", "add", c, "--title", "T", "--first", "2026-05-03", "--last", "2026-05-04"],
                 ["place", "add", c, "Shed"], ["bring-in", c, self.card], ["photos", c],
                 ["notes", c, notes, "--trip", "1"], ["pair", c, "--trip", "1"], ["items", c],
                 ["item", "add", c, "Jar", "--place", "Shed", "--trip", "1"], ["item", "set", c, "1", "--count", "2"],
                 ["item", "move", c, "1", "Kept", "--count", "1"], ["assign", c, "1", "--item", "1"],
                 ["assign", c, "1", "--item", "none"], ["clock", c, "Lumora P5", "--trip", "1", "--shift", "60"],
                 ["undo", c], ["redo", c], ["book", c, money], ["takings", c], ["check", c], ["backup", c, home],
                 ["restore", home, self.path("R.shedwalk")])
        for args in calls:
            with self.subTest(args[:2]):
                self.good(*args, "--json").json()
        gone = self.path("gone")
        for args in calls[1:]:
            args = [gone if a in (c, home) else a for a in args]
            with self.subTest(["refused", *args[:2]]):
                self.assertEqual(self.bad(1, *args, "--json").out, "")
        for args in (["items"], ["bring-in", c], ["no-such"], ["pair", c], ["undo", c, "more"]):
            with self.subTest(["malformed", *args[:2]]):
                self.assertEqual(self.bad(2, *args, "--json").out, "")

    def test_exit_codes_of_what_stands_already(self):
        pictures.walk(self.card, [2])
        notes = pictures.write(self.folder, "notes.csv", b"time,place,item\n10:00,Press house,Vat\n")
        money = pictures.write(self.folder, "money.csv", b"what,trip,at,amount\ncost,1,2026-04-04,5.00\n")
        c = self.catalogue
        for args in (["bring-in", c, self.card, "--strict"], ["notes", c, notes, "--trip", "1", "--strict"],
                     ["book", c, money, "--strict"], ["place", "add", c, "Shed"], ["item", "move", c, "1", "Kept"],
                     ["backup", c, self.path("home")]):
            with self.subTest(args[:2]):
                self.good(*args)
                self.good(*args)
        self.sound()


if __name__ == "__main__":
    unittest.main()
