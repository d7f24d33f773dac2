# SPDX-License-Identifier: GPL-3.0-or-later
"""new, trip, place, undo, redo, check, backup, restore, and the command line itself."""
import os
import shutil
import stat
import unittest

from pictures import jpeg
from shed import ShedTest, run

COMMANDS = ["new", "trip add", "place add", "bring-in", "photos", "notes", "pair", "items", "item add",
            "item set", "item move", "assign", "clock", "undo", "redo", "book", "takings", "check",
            "backup", "restore"]


class CommandLine(ShedTest):
    def test_every_command_has_help(self):
        for command in COMMANDS:
            with self.subTest(command):
                result = self.good(*command.split(), "--help")
                self.assertIn("shedwalk " + command, result.out)
                self.assertIn("--json", result.out)

    def test_overview_names_every_command(self):
        out = self.good("--help").out
        for command in COMMANDS:
            self.assertIn("\n  " + command, out)

    def test_malformed_lines_exit_2(self):
        for args in (["no-such"], ["trip"], ["new"], ["new", self.path("A.shedwalk")],
                     ["items"], ["items", self.catalogue, "--no-such"], ["items", "a", "b"],
                     ["item", "add", self.catalogue, "Vat"],
                     ["assign", self.catalogue, "x", "--item", "none"],
                     ["item", "set", self.catalogue, "1", "--claim", "perhaps"]):
            with self.subTest(args):
                self.bad(2, *args)

    def test_full_output_is_an_error(self):
        with open("/dev/full", "w") as full:
            import subprocess
            from shed import PROGRAM
            done = subprocess.run([PROGRAM, "items", self.catalogue], stdout=full, stderr=subprocess.PIPE,
                                  timeout=60)
        self.assertEqual(done.returncode, 1)
        self.assertIn(b"full", done.stderr)


class New(ShedTest):
    def test_layout(self):
        self.assertTrue(os.path.exists(os.path.join(self.catalogue, "catalogue.db")))
        self.assertTrue(os.path.isdir(os.path.join(self.catalogue, "photos")))
        with open(os.path.join(self.catalogue, "catalogue.db"), "rb") as db:
            head = db.read(72)
        self.assertEqual(head[68:72], b"Shwk")

    def test_only_its_owner_may_look_into_it(self):
        """Whatever the umask allows others: the photos show a property that stands empty."""
        before = os.umask(0)
        self.addCleanup(os.umask, before)
        catalogue, home, card = self.path("Own.shedwalk"), self.path("home"), self.path("card")
        os.mkdir(card)
        with open(os.path.join(card, "a.jpg"), "wb") as out:
            out.write(jpeg(1, "2026:04:04 10:00:00"))
        self.good("new", catalogue, "--name", "A", "--currency", "NZD", "--zone", "Pacific/Auckland")
        self.good("bring-in", catalogue, card)
        self.good("backup", catalogue, home)
        for root in (catalogue, home):
            modes = {path: stat.S_IMODE(os.stat(path).st_mode) for folder, _, files in os.walk(root)
                     for path in [folder, *(os.path.join(folder, name) for name in files)]}
            self.assertEqual(modes[root], 0o700)
            photos = [path for path in modes if path.endswith(".jpg")]
            self.assertEqual(len(photos), 1, modes)
            for path in [*photos, os.path.join(root, "catalogue.db"), os.path.join(root, "photos")]:
                self.assertEqual(modes[path] & 0o077, 0, path)

    def test_refusals(self):
        other = self.path("Other.shedwalk")
        self.bad(1, "new", self.catalogue, "--name", "A", "--currency", "NZD", "--zone", "Pacific/Auckland")
        self.bad(1, "new", other, "--name", "A", "--currency", "XYZ", "--zone", "Pacific/Auckland", says="XYZ")
        self.bad(1, "new", other, "--name", "A", "--currency", "NZD", "--zone", "Mars/Olympus", says="Mars")
        self.bad(1, "new", other, "--name", "A", "--currency", "NZD", "--zone", "../../etc/passwd")
        self.bad(1, "new", other, "--name", " ", "--currency", "NZD", "--zone", "UTC")
        self.assertFalse(os.path.exists(other))
        self.bad(1, "new", self.path("gone", "A.shedwalk"), "--name", "A", "--currency", "NZD",
                 "--zone", "Pacific/Auckland")

    def test_what_is_no_catalogue(self):
        self.bad(1, "items", self.path("Missing.shedwalk"))
        os.mkdir(self.path("Empty.shedwalk"))
        self.bad(1, "items", self.path("Empty.shedwalk"))
        for name, content in (("Zero", b""), ("Noise", b"x" * 5000)):
            folder = self.path(name + ".shedwalk")
            os.mkdir(folder)
            with open(os.path.join(folder, "catalogue.db"), "wb") as db:
                db.write(content)
            self.bad(1, "items", folder)
            self.bad(1, "check", folder)

    def test_newer_schema(self):
        database = os.path.join(self.catalogue, "catalogue.db")
        with open(database, "r+b") as db:
            db.seek(60)
            db.write((9999).to_bytes(4, "big"))
        self.bad(1, "items", self.catalogue, says="newer")

    def test_damaged_database(self):
        self.add_property()
        database = os.path.join(self.catalogue, "catalogue.db")
        size = os.path.getsize(database)
        with open(database, "r+b") as db:
            db.seek(4096)
            db.write(b"\xa5" * (size - 4096))
        self.bad(1, "check", self.catalogue)


class Property(ShedTest):
    def test_trips_are_numbered(self):
        for n, (first, last) in enumerate((("2026-04-03", "2026-04-06"), ("2026-06-19", "2026-06-22")), 1):
            out = self.good("trip", "add", self.catalogue, "--title", "Again", "--first", first, "--last", last).out
            self.assertEqual(out, f"{n}\n")

    def test_trip_refusals(self):
        self.add_property()
        add = ("trip", "add", self.catalogue, "--title", "T")
        self.bad(1, *add, "--first", "2026-05-06", "--last", "2026-05-03")
        self.bad(1, *add, "--first", "2026-04-06", "--last", "2026-04-09", says="First look")
        self.bad(1, *add, "--first", "2026-02-30", "--last", "2026-03-03")
        self.bad(1, *add, "--first", "yesterday", "--last", "2026-03-03")

    def test_places(self):
        self.good("place", "add", self.catalogue, "Packing shed>Loft", "--position=-41.32,174.81")
        again = self.good("place", "add", self.catalogue, "Packing shed > Loft", "--json").json()
        self.assertEqual(again, {"place": "Packing shed > Loft", "made": False})
        self.bad(1, "place", "add", self.catalogue, "A > ")
        # one that is there gets its position, as one act
        self.good("place", "add", self.catalogue, "Packing shed", "--position=-41.32,174.81")
        self.assertIn("Packing shed", self.good("undo", self.catalogue).out)
        self.good("place", "add", self.catalogue, "Packing shed")
        self.bad(1, "place", "add", self.catalogue, "A", "--position", "91,0")
        self.bad(1, "place", "add", self.catalogue, "A", "--position", "here")
        self.good("place", "add", self.catalogue, "Yard", "--off-property")


class UndoRedo(ShedTest):
    def test_over_runs(self):
        self.add_property()
        number = self.add_item("Screw press")
        self.good("item", "set", self.catalogue, str(number), "--name", "Hand press")
        self.good("undo", self.catalogue)
        self.assertEqual(self.item(number)["name"], "Screw press")
        self.good("redo", self.catalogue)
        self.assertEqual(self.item(number)["name"], "Hand press")
        self.good("undo", self.catalogue)
        self.good("undo", self.catalogue)
        self.assertEqual(self.items(), [])
        self.good("redo", self.catalogue)
        self.assertEqual(self.items()[0]["number"], number)
        self.good("check", self.catalogue)

    def test_numbers_are_never_given_twice(self):
        self.add_property()
        first = self.add_item("Vat")
        self.good("undo", self.catalogue)
        self.assertGreater(self.add_item("Barrel"), first)

    def test_nothing_to_undo(self):
        self.bad(1, "undo", self.catalogue)
        self.bad(1, "redo", self.catalogue)


class Safety(ShedTest):
    def test_check_finds_an_extra_file(self):
        self.good("check", self.catalogue)
        with open(os.path.join(self.catalogue, "photos", "stray.jpg"), "wb") as stray:
            stray.write(b"x")
        result = run("check", self.catalogue)
        self.assertEqual(result.code, 1)
        self.assertIn("stray.jpg", result.out)

    def test_backup_and_restore(self):
        self.add_property()
        self.add_item("Screw press")
        self.good("backup", self.catalogue, self.path("second home"))
        self.good("backup", self.catalogue, self.path("second home"))
        copy = self.path("Copy.shedwalk")
        self.good("restore", self.path("second home"), copy)
        self.assertEqual(self.good("items", copy, "--json").out, self.good("items", self.catalogue, "--json").out)
        self.good("check", copy)
        self.bad(1, "restore", self.path("second home"), copy)
        self.bad(1, "restore", self.path("nowhere"), self.path("B.shedwalk"))
        self.bad(1, "backup", self.catalogue, os.path.join(self.catalogue, "inside"))
        # a disk that is not plugged in
        self.bad(1, "backup", self.catalogue, self.path("stick", "home"), says="plug in")
        self.assertFalse(os.path.exists(self.path("stick")))

    def test_moved_folder_still_opens(self):
        self.add_property()
        moved = self.path("Moved.shedwalk")
        shutil.move(self.catalogue, moved)
        self.good("items", moved)
        self.good("check", moved)


if __name__ == "__main__":
    unittest.main()
