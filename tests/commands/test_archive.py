# SPDX-License-Identifier: GPL-3.0-or-later
"""hand-out archive and new --from-archive: the whole way there and back, and archives that are not what they say."""
import base64
import hashlib
import json
import os
import shutil
import sqlite3
import subprocess
import tarfile
import unittest

import pictures
from shed import ShedTest


class ArchiveTest(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        card = self.path("card")
        for seed in range(4):
            pictures.write(card, f"P{seed}.jpg", pictures.jpeg(seed, f"2026:04:03 10:00:{seed:02d}", position=(-39.5, 176.8)))
        self.good("bring-in", self.catalogue, card, "--trip", "1")
        shutil.rmtree(card)
        self.press = self.add_item("Screw press \U0001f34f \"quoted\" \\ \u00fc", "Press house", "--asking", "240.50")
        self.kettle = self.add_item("Copper kettle", "Packing shed > Loft", "--count", "3")
        numbers = [str(p["photo"]) for p in self.good("photos", self.catalogue, "--json").json()]
        self.good("assign", self.catalogue, *numbers[:2], "--item", str(self.press))
        self.good("pair", self.catalogue, "--trip", "1")
        with open(self.path("sale.csv"), "w", encoding="utf-8") as table:
            table.write("what,outlet,kind,item,ref,charge,on,flat,from,at,amount,buyer,trip\n"
                        "outlet,Saleroom,auction,,,,,,,,,,\n"
                        "charge,Saleroom,,,,Fee,sale,5.00,2026-01-01,,,,\n"
                        f"sale,Saleroom,,{self.press},s1,,,,,2026-05-02,210.00,Mara Quill,\n"
                        "cost,,,,,,,,,2026-04-04,61.20,,1\n")
        self.good("book", self.catalogue, self.path("sale.csv"))
        os.remove(self.path("sale.csv"))
        self.good("item", "set", self.catalogue, str(self.kettle), "--count", "4")
        self.good("undo", self.catalogue)
        self.archive = self.path("archive")

    def make(self):
        return self.good("hand-out", self.catalogue, "archive", "--to", self.archive, "--json").json()

    def read(self, name="Again.shedwalk"):
        self.good("new", self.path(name), "--from-archive", self.archive)
        return self.path(name)

    def refuse(self, says):
        before = sorted(os.listdir(self.folder))
        self.bad(1, "new", self.path("Again.shedwalk"), "--from-archive", self.archive, says=says)
        self.assertEqual(sorted(os.listdir(self.folder)), before)

    def tables_of(self, catalogue):
        base = sqlite3.connect(f"file:{catalogue}/catalogue.db?mode=ro", uri=True)
        names = [n for (n,) in base.execute("SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table'"
                                            " AND name NOT LIKE 'sqlite_s%' AND name <> 'changeset' ORDER BY name")]
        tables = {name: base.execute(f'SELECT * FROM "{name}"').fetchall() for name in names}
        tables["sqlite_sequence"] = sorted(base.execute("SELECT name, seq FROM sqlite_sequence").fetchall())
        tables["search"] = base.execute("SELECT rowid, number, name, place, facts, tags FROM item_search").fetchall()
        tables["version"] = base.execute("PRAGMA user_version").fetchall()
        base.close()
        return tables

    def files_of(self, catalogue):
        files = {}
        for folder, _, names in os.walk(os.path.join(catalogue, "photos")):
            for name in names:
                path = os.path.join(folder, name)
                with open(path, "rb") as file:
                    files[os.path.relpath(path, catalogue)] = file.read()
        return files

    def table(self, name):
        return os.path.join(self.archive, "tables", name + ".jsonl")

    def change(self, name, function, sum_too=True):
        """Writes a file of the archive anew; its checksum too, as somebody would who means harm."""
        path = os.path.join(self.archive, name)
        with open(path, "rb") as file:
            content = function(file.read())
        with open(path, "wb") as file:
            file.write(content)
        if sum_too:
            self.sum_again(name)

    def sum_again(self, name):
        sums = os.path.join(self.archive, "checksums.sha256")
        with open(sums, encoding="utf-8") as file:
            lines = [line for line in file.read().splitlines() if not line.endswith("  " + name)]
        with open(os.path.join(self.archive, name), "rb") as file:
            lines.append(hashlib.sha256(file.read()).hexdigest() + "  " + name)
        with open(sums, "w", encoding="utf-8") as file:
            file.write("\n".join(lines) + "\n")


class RoundTrip(ArchiveTest):
    def test_everything_comes_back(self):
        report = self.make()
        self.assertEqual(report["photos"], 4)
        again = self.read()
        before, after = self.tables_of(self.catalogue), self.tables_of(again)
        self.assertEqual(before.keys(), after.keys())
        # one entry is new: what was done before cannot be undone, and it says so
        self.assertEqual(after["act"][:-1], before["act"])
        self.assertEqual((after["act"][-1][3], after["act"][-1][4]), ("barrier", "The catalogue was made from an archive"))
        for name in before:
            if name not in ("act", "sqlite_sequence"):
                self.assertEqual(after[name], before[name], name)
        bumped = [(name, seq + (name == "act")) for name, seq in before["sqlite_sequence"]]
        self.assertEqual(after["sqlite_sequence"], bumped)
        self.assertEqual(self.files_of(again), self.files_of(self.catalogue))
        for credit in ("found", "sold", "handed-over"):
            for by in ("trip", "place", "outlet", "month", "round"):
                words = ("--credit", credit, "--by", by, "--json")
                self.assertEqual(self.good("takings", again, *words).out, self.good("takings", self.catalogue, *words).out)
        self.good("check", again)
        self.bad(1, "undo", again)
        self.assertEqual(self.good("items", again).out, self.good("items", self.catalogue).out)
        # and numbers go on where they were
        add = ("item", "add", again, "Fruit ladder", "--place", "Press house", "--trip", "1")
        self.assertEqual(int(self.good(*add).out), self.kettle + 1)
        self.good("undo", again)

    def test_others_can_read_it(self):
        """RFC 8259 by python's json, checksums by coreutils' sha256sum."""
        self.make()
        done = subprocess.run(["sha256sum", "-c", "--strict", "--quiet", "checksums.sha256"], cwd=self.archive,
                              capture_output=True, text=True, check=False)
        self.assertEqual((done.returncode, done.stdout), (0, ""))
        with open(os.path.join(self.archive, "checksums.sha256"), encoding="utf-8") as file:
            listed = {line.split("  ", 1)[1] for line in file.read().splitlines()}
        there = {os.path.relpath(os.path.join(folder, name), self.archive)
                 for folder, _, names in os.walk(self.archive) for name in names}
        self.assertEqual(there - listed, {"checksums.sha256"})
        base = sqlite3.connect(os.path.join(self.catalogue, "catalogue.db"))
        for name in sorted(os.listdir(os.path.join(self.archive, "tables"))):
            table = name[:-len(".jsonl")]
            with open(self.table(table), encoding="utf-8") as file:
                rows = [json.loads(line) for line in file.read().split("\n") if line]
            columns = [c for (c,) in base.execute(f"SELECT name FROM pragma_table_info('{table}')")]
            stored = [dict(zip(columns, row)) for row in base.execute(f'SELECT * FROM "{table}"')]
            told = [{k.removesuffix(":base64"): base64.b64decode(v) if k.endswith(":base64") else v
                     for k, v in row.items()} for row in rows]
            self.assertEqual(told, stored, table)
        base.close()
        with open(os.path.join(self.archive, "archive.json"), encoding="utf-8") as file:
            head = json.load(file)
        self.assertEqual((head["format"], head["version"], head["name"], head["currency"], head["zone"]),
                         ("shedwalk archive", 1, "Old cider works", "NZD", "Pacific/Auckland"))

    def test_an_archive_of_an_older_schema(self):
        """One that was kept, from before the family's answers: brought up to date on the way in."""
        with tarfile.open(os.path.join(os.path.dirname(os.path.abspath(__file__)), "archive-of-step-18.tar.gz")) as kept:
            kept.extractall(self.folder)
        again = self.read()
        self.good("check", again)
        self.assertEqual(self.tables_of(again)["version"], self.tables_of(self.catalogue)["version"])
        self.assertEqual([(i["name"], i["state"], i["asking"]) for i in self.good("items", again, "--json").json()],
                         [("Screw press \U0001f34f \"quoted\" \\ \u00fc", "Sold", 24050), ("Copper kettle", "Found", None)])
        self.assertEqual(self.good("takings", again, "--json").json()["total"]["takings"], 20500)
        self.assertEqual(len(self.files_of(again)), 4)

    def test_targets(self):
        self.make()
        before = sorted(os.listdir(self.folder))
        for target, says in ((self.archive, "something at"), (os.path.join(self.catalogue, "photos", "a"), "inside the catalogue"),
                             (self.path("no", "where", "a"), "")):
            self.bad(1, "hand-out", self.catalogue, "archive", "--to", target, says=says)
        self.bad(1, "new", self.catalogue, "--from-archive", self.archive, says="something at")
        self.bad(1, "new", self.path("Name"), "--from-archive", self.archive, says=".shedwalk")
        self.bad(2, "new", self.path("A.shedwalk"), "--from-archive", self.archive, "--name", "x")
        self.assertEqual(sorted(os.listdir(self.folder)), before)

    def test_a_photo_that_is_gone_stops_it(self):
        (first, *_) = self.files_of(self.catalogue)
        os.remove(os.path.join(self.catalogue, first))
        self.bad(1, "hand-out", self.catalogue, "archive", "--to", self.archive, says="missing or damaged")
        self.assertEqual(os.listdir(self.folder), ["Orchard.shedwalk"])


class NotWhatTheySay(ArchiveTest):
    def setUp(self):
        super().setUp()
        self.make()

    def test_no_archive(self):
        shutil.rmtree(self.archive)
        self.refuse("not there")
        os.mkdir(self.archive)
        self.refuse("no archive")

    def test_newer(self):
        for key, value in (("version", 2), ("schema", 9999)):
            with self.subTest(key):
                with open(os.path.join(self.archive, "archive.json"), "rb") as file:
                    good = file.read()
                self.change("archive.json", lambda b, k=key, v=value: json.dumps(dict(json.loads(b), **{k: v})).encode())
                self.refuse("newer Shedwalk")
                self.change("archive.json", lambda b, g=good: g)

    def test_heads_that_are_none(self):
        for content in (b"", b"[]", b"{", b"{}", b"[" * 60000, b"\xff\xfe", b'{"format": "other", "version": 1, "schema": 1}',
                        b'{"format": "shedwalk archive", "version": 1, "schema": 0}', b"x" * 100000):
            with self.subTest(content[:20]):
                self.change("archive.json", lambda b, c=content: c)
                self.refuse("archive")

    def test_half_an_archive(self):
        photo = next(iter(self.files_of(self.archive)))
        for name in ("checksums.sha256", "tables/item.jsonl", "tables/posting.jsonl", "tables/sqlite_sequence.jsonl", photo):
            with self.subTest(name):
                os.rename(os.path.join(self.archive, name), self.path("away"))
                before = sorted(os.listdir(self.folder))
                self.bad(1, "new", self.path("Again.shedwalk"), "--from-archive", self.archive, says="is missing")
                self.assertEqual(sorted(os.listdir(self.folder)), before)
                os.rename(self.path("away"), os.path.join(self.archive, name))
        self.read()

    def test_changed_bytes(self):
        photo = next(iter(self.files_of(self.archive)))
        self.change(photo, lambda b: b[:-1] + bytes([b[-1] ^ 1]), sum_too=False)
        self.refuse("is not what it was")
        self.change(photo, lambda b: b[:-1] + bytes([b[-1] ^ 1]), sum_too=False)
        self.change("tables/place.jsonl", lambda b: b.replace(b"Loft", b"Lift"), sum_too=False)
        self.refuse("is not what it was")
        self.change("tables/place.jsonl", lambda b: b.replace(b"Lift", b"Loft"), sum_too=False)
        self.change("tables/item.jsonl", lambda b: b[:len(b) // 2], sum_too=False)
        self.refuse("damaged")

    def test_hostile_rows(self):
        """Sums that fit, so that it is the rows that are refused."""
        def photo_at(path):
            return lambda b: b"".join(json.dumps(dict(json.loads(line), stored=path)).encode() + b"\n"
                                      for line in b.splitlines()[:1])

        secret = self.path("secret")
        with open(secret, "w", encoding="utf-8") as file:
            file.write("secret")
        for label, name, function, says in (
                ("out of the folder", "photo", photo_at("photos/../../secret"), ""),
                ("absolute", "photo", photo_at("/etc/passwd"), ""),
                ("the database", "photo", photo_at("catalogue.db"), ""),
                ("unknown column", "trip", lambda b: b.replace(b'"title"', b'"titel"'), "no row of it"),
                ("a column more", "trip", lambda b: b.replace(b'"title"', b'"x": 1, "title"'), "no row of it"),
                ("a column twice", "trip", lambda b: b.replace(b'"title"', b'"id": 1, "title"'), "no row of it"),
                ("nested", "trip", lambda b: b'{"id": ' + b"[" * 100000 + b"}\n", "no row of it"),
                ("no end", "trip", lambda b: b + b"{", ""),
                ("a NUL", "trip", lambda b: b + b"\0\n", ""),
                ("wrong kind", "trip", lambda b: b.replace(b'"first_day": ', b'"first_day": 1.5, "x": '), ""),
                ("text for a number", "trip", lambda b: json.dumps(dict(json.loads(b), first_day="soon")).encode() + b"\n",
                 "cannot be"),
                ("a rule broken", "trip", lambda b: json.dumps(dict(json.loads(b), last_day=0)).encode() + b"\n", "cannot be"),
                ("a link to nothing", "item", lambda b: b.replace(b'"trip": 1', b'"trip": 77'), "points to what is not there"),
                ("twice the same", "trip", lambda b: b + b, "cannot be"),
                ("a line of 70 MB", "trip", lambda b: b'{"title": "' + b"x" * 70_000_000 + b'"}\n', "without an end"),
                ("not UTF-8", "trip", lambda b: b.replace(b"First", b"\xff\xfe"), "no row of it"),
                ("SQL", "trip", lambda b: b.replace(b'"title"', b'"title) VALUES (1); DROP TABLE item; --"'), "no row of it")):
            with self.subTest(label):
                file = f"tables/{name}.jsonl"
                with open(os.path.join(self.archive, file), "rb") as was:
                    good = was.read()
                self.change(file, function)
                self.refuse(says)
                self.change(file, lambda b, g=good: g)
        with open(secret, encoding="utf-8") as file:
            self.assertEqual(file.read(), "secret")
        self.read()

    def test_hostile_files(self):
        for label, make in (("a link", lambda path: os.symlink("/etc/passwd", path)),
                            ("a pipe", os.mkfifo),
                            ("a folder", os.mkdir)):
            with self.subTest(label):
                path = self.table("trip")
                os.rename(path, self.path("away"))
                make(path)
                before = sorted(os.listdir(self.folder))
                self.bad(1, "new", self.path("Again.shedwalk"), "--from-archive", self.archive, says="is missing")
                self.assertEqual(sorted(os.listdir(self.folder)), before)
                (os.rmdir if os.path.isdir(path) else os.remove)(path)
                os.rename(self.path("away"), path)
        with open(os.path.join(self.archive, "checksums.sha256"), "a", encoding="utf-8") as file:
            file.write("0" * 64 + "  tables/../../x.jsonl\n")
        self.refuse("no table that this schema knows")


if __name__ == "__main__":
    unittest.main()
