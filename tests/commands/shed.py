# SPDX-License-Identifier: GPL-3.0-or-later
"""Runs the real program for the command tests: a catalogue in a temporary folder, calls, JSON, exit codes."""
import json
import os
import re
import shutil
import sqlite3
import subprocess
import tempfile
import unittest

PROGRAM = os.environ["SHEDWALK"]


class Result:
    def __init__(self, done):
        self.code = done.returncode
        self.out = done.stdout
        self.err = done.stderr

    def json(self):
        return json.loads(self.out)


def run(*args, **options):
    """Runs shedwalk with the arguments; bytes in arguments are passed as they are."""
    environment = dict(os.environ, LC_ALL="C.UTF-8", TZ="UTC")
    environment.pop("DISPLAY", None)
    environment.update(options.pop("env", {}))
    done = subprocess.run([PROGRAM, *args], stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                          stdin=subprocess.DEVNULL, env=environment, timeout=300, **options)
    done.stdout = done.stdout.decode("utf-8", "surrogateescape")
    done.stderr = done.stderr.decode("utf-8", "surrogateescape")
    return Result(done)


def words_on(path, how=None):
    """What a sheet says, as pdftotext reads it (how: "-layout", "-raw", "-bbox")."""
    return subprocess.run(["pdftotext", *([how] if how else []), path, "-"], capture_output=True, text=True, check=True).stdout


class ShedTest(unittest.TestCase):
    """A new catalogue for each test, with a trip and two places."""

    currency = "NZD"
    zone = "Pacific/Auckland"

    def setUp(self):
        self.folder = tempfile.mkdtemp(prefix="shedwalk-test-")
        self.addCleanup(shutil.rmtree, self.folder, ignore_errors=True)
        self.catalogue = os.path.join(self.folder, "Orchard.shedwalk")
        self.good("new", self.catalogue, "--name", "Old cider works", "--currency", self.currency,
                  "--zone", self.zone)

    def path(self, *parts):
        return os.path.join(self.folder, *parts)

    def good(self, *args, **options):
        """Runs and expects exit 0 and a silent stderr."""
        result = run(*args, **options)
        self.assertEqual((result.code, result.err), (0, ""), args)
        return result

    def bad(self, code, *args, says=None, **options):
        """Runs and expects the exit code, one sentence on stderr, and no terminal escapes."""
        result = run(*args, **options)
        self.assertEqual(result.code, code, (args, result.out, result.err))
        lines = result.err.strip("\n").split("\n")
        self.assertEqual(len(lines), 1, result.err)
        self.assertTrue(lines[0].startswith("shedwalk"), result.err)
        self.assertFalse(any(ord(c) < 32 or 127 <= ord(c) < 160 for c in lines[0]), repr(lines[0]))
        if says is not None:
            self.assertIn(says, result.err)
        return result

    def make_older(self):
        """Replaces the database by one that has taken the first schema step alone, as its SQL stands in the source."""
        header = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..", "src", "core", "catalogue",
                              "schema-foundation.h")
        with open(header, encoding="utf-8") as source:
            text = source.read().split("#define SW_SCHEMA_FOUNDATION", 1)[1]
        sql = "".join(re.findall(r'"((?:[^"\\]|\\.)*)"', text)).replace("\\n", "\n").replace('\\"', '"')
        path = os.path.join(self.catalogue, "catalogue.db")
        now = sqlite3.connect(path)
        settings = now.execute("SELECT key, value FROM setting").fetchall()
        application = now.execute("PRAGMA application_id").fetchone()[0]
        now.close()
        os.remove(path)
        older = sqlite3.connect(path)
        older.executescript(sql)
        older.executemany("INSERT INTO setting (key, value) VALUES (?, ?)", settings)
        older.executescript(f"PRAGMA application_id = {application}; PRAGMA user_version = 1;")
        older.commit()
        older.close()

    def add_property(self):
        self.good("trip", "add", self.catalogue, "--title", "First look", "--first", "2026-04-03",
                  "--last", "2026-04-06")
        self.good("place", "add", self.catalogue, "Packing shed > Loft")
        self.good("place", "add", self.catalogue, "Press house")

    def add_item(self, name, place="Press house", *more):
        result = self.good("item", "add", self.catalogue, name, "--place", place, "--trip", "1", *more)
        return int(result.out)

    def items(self, *more):
        return self.good("items", self.catalogue, "--json", *more).json()

    def item(self, number):
        return next(i for i in self.items() if i["number"] == number)
