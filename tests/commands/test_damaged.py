# SPDX-License-Identifier: GPL-3.0-or-later
"""A damaged database: what check says of it, and what restore makes of what is left."""
import os
import sqlite3
import unittest

import pictures
from shed import ShedTest, run


class Damaged(ShedTest):
    """A bring-in (and its safety copy), things entered, another bring-in and its copy, more entered."""

    def setUp(self):
        super().setUp()
        self.add_property()
        self.back = self.path("Back.shedwalk")
        pictures.walk(self.path("first"), [2, 2])
        self.good("bring-in", self.catalogue, self.path("first"))
        self.add_item("Screw press")
        pictures.walk(self.path("second"), [3], day="2026:04:04")
        self.good("bring-in", self.catalogue, self.path("second"))
        self.add_item("Copper kettle")
        self.photos = self.good("photos", self.catalogue, "--json").json()
        self.copies = sorted(os.listdir(os.path.join(self.catalogue, "backups")))
        self.assertEqual(len(self.copies), 2)

    def spoil(self, *parts):
        """All but the first page, which says what it is."""
        path = os.path.join(self.catalogue, *parts)
        size = os.path.getsize(path)
        with open(path, "r+b") as file:
            file.seek(4096)
            file.write(b"\xa5" * (size - 4096))

    def stored(self):
        """Where the photos lie, in the order in which they came."""
        base = sqlite3.connect(os.path.join(self.catalogue, "catalogue.db"))
        paths = [os.path.join(self.catalogue, path) for (path,) in base.execute("SELECT stored FROM photo ORDER BY id")]
        base.close()
        return paths

    def shots(self, catalogue):
        return sorted((p["clock_time"], p["trip"]) for p in self.good("photos", catalogue, "--json").json())

    def test_check_says_what_is_wrong(self):
        self.spoil("catalogue.db")
        result = run("check", self.catalogue)
        self.assertEqual(result.code, 1)
        said = result.out + result.err
        self.assertIn("damaged", said)
        self.assertIn("safety copies (shedwalk restore)", said)

    def test_check_names_one_bad_page(self):
        """SQLite's file format document: the root pages of tables stand in sqlite_schema. An index is spoilt, the rest is read."""
        database = os.path.join(self.catalogue, "catalogue.db")
        base = sqlite3.connect(database)
        (page,) = base.execute("SELECT rootpage FROM sqlite_schema WHERE name = 'photo_path'").fetchone()
        base.close()
        with open(database, "r+b") as file:
            file.seek((page - 1) * 4096)
            file.write(b"\x5a" * 4096)
        result = run("check", self.catalogue)
        self.assertEqual(result.code, 1)
        self.assertIn("damaged", result.out)

    def test_restore_from_the_newest_copy(self):
        before = self.shots(self.catalogue)
        self.spoil("catalogue.db")
        result = self.good("restore", self.catalogue, self.back)
        self.assertIn(self.copies[1], result.out)
        later = [line for line in result.out.splitlines() if line.startswith("Came later: ")]
        self.assertEqual(len(later), 3, result.out)
        self.assertIn("3 were brought in again", result.out)
        self.assertEqual([i["name"] for i in self.good("items", self.back, "--json").json()], ["Screw press"])
        self.assertEqual(self.shots(self.back), before)
        self.good("check", self.back)
        self.bad(1, "check", self.catalogue)

    def test_a_copy_that_is_damaged_too_is_passed_over(self):
        self.spoil("catalogue.db")
        self.spoil("backups", self.copies[1])
        with open(os.path.join(self.catalogue, "backups", "99990101T000000Z-00-x.db"), "wb") as file:
            file.write(b"no database")
        report = self.good("restore", self.catalogue, self.back, "--json").json()
        self.assertEqual((report["safety_copy"], report["photos_copied"], report["brought_in_again"], len(report["later"])),
                         (self.copies[0], 0, 7, 7))
        self.assertEqual(self.shots(self.back), sorted((p["clock_time"], p["trip"]) for p in self.photos))
        self.good("check", self.back)

    def test_no_sound_copy(self):
        self.spoil("catalogue.db")
        for copy in self.copies:
            self.spoil("backups", copy)
        before = sorted(os.listdir(self.folder))
        self.bad(1, "restore", self.catalogue, self.back, says="no safety copy that is sound")
        self.assertEqual(sorted(os.listdir(self.folder)), before)

    def test_the_database_is_gone(self):
        os.remove(os.path.join(self.catalogue, "catalogue.db"))
        self.bad(1, "check", self.catalogue, says="its database is missing")
        self.good("restore", self.catalogue, self.back)
        self.assertEqual(len(self.shots(self.back)), 7)

    def test_missing_and_changed_photos_are_named(self):
        first, second = self.stored()[:2]
        os.remove(first)
        with open(second, "ab") as file:
            file.write(b"x")
        result = run("check", self.catalogue)
        self.assertEqual(result.code, 1)
        for path, word in ((first, "is missing"), (second, "was changed")):
            self.assertIn(f"{os.path.relpath(path, self.catalogue)} {word}", result.out)
        # all else comes back, what later ones there are too, and the two are named
        self.spoil("catalogue.db")
        result = run("restore", self.catalogue, self.back)
        self.assertEqual(result.code, 1)
        self.assertIn("2 of 4 photos are missing or damaged", result.err)
        self.assertIn("IMG_0001.jpg", result.err)
        self.assertIn("3 were brought in again", result.out)
        found = run("check", self.back)
        self.assertEqual(found.out.count("is missing"), 2, found.out)
        # the memory card still has them
        self.good("bring-in", self.back, self.path("first"))
        self.good("check", self.back)

    def test_a_second_home_is_taken_as_before(self):
        self.good("backup", self.catalogue, self.path("home"))
        self.good("restore", self.path("home"), self.back)
        self.assertEqual(self.good("items", self.back).out, self.good("items", self.catalogue).out)
        self.bad(1, "restore", self.path("first"), self.path("C.shedwalk"), says="no whole second home")


if __name__ == "__main__":
    unittest.main()
