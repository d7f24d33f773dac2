# SPDX-License-Identifier: GPL-3.0-or-later
"""Surroundings that are not as they should be: a disk without locks, one that grants every lock, one that became read-only after a
crash, a clock that was set back, no fonts, a folder of the person that is not there."""
import os
import shutil
import subprocess
import sys
import unittest

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "commands"))
import pictures  # noqa: E402
from shed import PROGRAM, ShedTest, run  # noqa: E402

LIBRARY = os.environ["FAULT_LIBRARY"]
NO_FONTS = """<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig><cachedir>%s</cachedir></fontconfig>
"""


def odd(**more):
    return {"env": dict({f"FAULT_{k.upper()}": v for k, v in more.items()}, LD_PRELOAD=LIBRARY)}


class OddTest(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        pictures.walk(self.path("card"), [2, 1])
        self.good("bring-in", self.catalogue, self.path("card"))
        self.add_item("Screw press")


class Locks(OddTest):
    def test_none(self):
        """It is no other program that holds it, and waiting helps nothing: said as what it is."""
        for args in (["items", self.catalogue], ["place", "add", self.catalogue, "A"], ["check", self.catalogue],
                     ["bring-in", self.catalogue, self.path("card")],
                     ["new", self.path("N.shedwalk"), "--name", "A", "--currency", "NZD", "--zone", "UTC"]):
            with self.subTest(args[0]):
                self.bad(1, *args, says="knows no locks", **odd(locks="none"))
        self.assertEqual(sorted(os.listdir(self.folder)), ["Orchard.shedwalk", "card"])
        self.good("check", self.catalogue)

    def test_every_one_is_granted(self):
        for args in (["place", "add", self.catalogue, "Cold store"], ["undo", self.catalogue], ["redo", self.catalogue],
                     ["pair", self.catalogue, "--trip", "1"], ["backup", self.catalogue, self.path("home")],
                     ["restore", self.path("home"), self.path("Back.shedwalk")]):
            self.good(*args, **odd(locks="lie"))
        self.good("check", self.catalogue)
        self.good("check", self.path("Back.shedwalk"))


class ReadOnlyAfterACrash(OddTest):
    def test_hot_journal(self):
        """SQLite's manual, 'Atomic Commit': a journal that is hot must be rolled back before anything is read, which needs to
        write. Root may write everywhere: then it is run as a user who may not."""
        self.die_in_the_middle()
        journal = os.path.join(self.catalogue, "catalogue.db-journal")
        self.assertTrue(os.path.exists(journal))
        os.chmod(self.folder, 0o755)
        subprocess.run(["chmod", "-R", "a+rX,a-w", self.catalogue], check=True)
        self.addCleanup(subprocess.run, ["chmod", "-R", "u+rwX", self.catalogue], check=False)
        before = self.bytes()
        program = shutil.copy(PROGRAM, self.path("program"))
        other = {"user": 65534, "group": 65534, "extra_groups": []} if os.geteuid() == 0 else {}
        for args in (["items"], ["check"], ["takings"]):
            done = subprocess.run([program, *args, self.catalogue], capture_output=True, text=True, timeout=120, check=False,
                                  env=dict(os.environ, LC_ALL="C.UTF-8"), **other)
            self.assertEqual(done.returncode, 1, done.stdout + done.stderr)
            self.assertEqual(done.stderr.count("\n"), 1, done.stderr)
            self.assertIn("can be written", done.stderr)
        self.assertEqual(self.bytes(), before)
        subprocess.run(["chmod", "-R", "u+rwX", self.catalogue], check=True)
        self.good("check", self.catalogue)
        self.assertEqual(self.items()[0]["name"], "Screw press")

    def die_in_the_middle(self):
        """When the second page goes into the database; which call that is, a run on a copy tells."""
        stash, report, copy = self.path("stash"), self.path("report"), self.path("Copy.shedwalk")
        os.mkdir(stash)
        shutil.copytree(self.catalogue, copy)
        rename = ("item", "set")
        run(*rename, copy, "1", "--name", "Hand press", **odd(root=copy, kind="count", stash=stash, report=report))
        with open(report, encoding="utf-8") as file:
            calls = file.read().splitlines()
        at = [number for number, call in enumerate(calls, 1) if call == "write catalogue.db"][1]
        killed = run(*rename, self.catalogue, "1", "--name", "Hand press",
                     **odd(root=self.catalogue, kind="kill", at=str(at), stash=stash))
        self.assertEqual(killed.code, -9)

    def bytes(self):
        found = {}
        for name in ("catalogue.db", "catalogue.db-journal"):
            with open(os.path.join(self.catalogue, name), "rb") as file:
                found[name] = file.read()
        return found


class Clock(OddTest):
    def test_set_back(self):
        """Acts are in the order in which they were done, whatever the clock said; the newest safety copy stays."""
        self.good("item", "set", self.catalogue, "1", "--name", "Hand press", **odd(clock="1796000000"))
        self.good("item", "set", self.catalogue, "1", "--name", "Cider press", **odd(clock="86400"))
        self.good("place", "add", self.catalogue, "Cold store", **odd(clock="1"))
        self.assertIn("Cold store", self.good("undo", self.catalogue, **odd(clock="1700000000")).out)
        self.good("undo", self.catalogue, **odd(clock="5"))
        self.assertEqual(self.items()[0]["name"], "Hand press")
        self.good("redo", self.catalogue, **odd(clock="4"))
        self.assertEqual(self.items()[0]["name"], "Cider press")
        pictures.walk(self.path("more"), [2], day="2026:04:04")
        self.good("bring-in", self.catalogue, self.path("more"), **odd(clock="86400"))
        copies = sorted(os.listdir(os.path.join(self.catalogue, "backups")))
        self.assertTrue(copies[0].startswith("19700102T000000Z"), copies)
        self.good("backup", self.catalogue, self.path("home"), **odd(clock="86400"))
        self.good("backup", self.catalogue, self.path("home"), **odd(clock="1"))
        self.good("check", self.catalogue)
        self.assertEqual(len(self.good("photos", self.catalogue, "--json").json()), 5)


class NoFonts(OddTest):
    def test_paper_is_refused(self):
        config = pictures.write(self.folder, "fonts.conf", (NO_FONTS % self.path("cache")).encode())
        env = {"env": {"FONTCONFIG_FILE": config}}
        for what, more in (("cards", ["--trip", "1"]), ("family", []), ("standing", []), ("sheet", ["--trip", "1"])):
            with self.subTest(what):
                self.bad(1, "hand-out", self.catalogue, what, "--to", self.path("out.pdf"), *more, says="No font is installed", **env)
                self.assertFalse(os.path.exists(self.path("out.pdf")))
        # what needs no letters of ours is handed out all the same
        self.good("hand-out", self.catalogue, "family", "--to", self.path("family.html"), **env)
        self.good("hand-out", self.catalogue, "tables", "--to", self.path("tables"), **env)


if __name__ == "__main__":
    unittest.main()
