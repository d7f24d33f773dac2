# SPDX-License-Identifier: GPL-3.0-or-later
"""What a clumsy or a hostile hand gives to the commands: each has one sentence, its exit code, and nothing is lost."""
import os
import socket
import sqlite3
import struct
import unittest
import zlib

import pictures
from shed import ShedTest, run

NOON = "2026:04:03 12:00:00"
HEADER = "what,ref,outlet,kind,item,trip,at,amount,remark,buyer\n"


def harmless(text):
    """Whether a terminal takes the text as letters alone."""
    return all(c == "\n" or 32 <= ord(c) < 127 or ord(c) >= 160 for c in text)


class InputTest(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        self.card = self.path("card")
        os.mkdir(self.card)

    def table(self, content, name="table.csv"):
        return pictures.write(self.folder, name, content if isinstance(content, bytes) else content.encode())

    def nothing_came_in(self):
        """No item, no photo, no money, and the catalogue is sound."""
        self.assertEqual(self.items(), [])
        self.assertEqual(self.good("photos", self.catalogue, "--json").json(), [])
        takings = self.good("takings", self.catalogue, "--json").json()
        self.assertEqual((takings["rows"], set(takings["total"].values())), ([], {0}))
        self.good("check", self.catalogue)


class Folders(InputTest):
    def test_missing_folder(self):
        for args in (["bring-in", self.catalogue, self.path("gone")],
                     ["bring-in", self.catalogue, self.card, self.path("gone")],
                     ["notes", self.catalogue, self.path("gone"), "--trip", "1"],
                     ["book", self.catalogue, self.path("gone")],
                     ["restore", self.path("gone"), self.path("B.shedwalk")],
                     ["items", self.path("gone")], ["check", self.path("gone")], ["undo", self.path("gone")],
                     ["backup", self.path("gone"), self.path("home")]):
            with self.subTest(args[0]):
                self.bad(1, *args, says="gone")
        self.assertEqual(sorted(os.listdir(self.folder)), ["Orchard.shedwalk", "card"])
        self.nothing_came_in()

    def test_folder_without_photos(self):
        self.bad(1, "bring-in", self.catalogue, self.card, says="no photos")
        self.table("hello", "card/sub/readme.txt")
        self.bad(1, "bring-in", self.catalogue, self.card, says="no photos")
        self.bad(1, "bring-in", self.catalogue, "/dev/null")
        self.nothing_came_in()

    def test_folder_inside_the_catalogue(self):
        pictures.write(self.card, "a.jpg", pictures.jpeg(1, NOON))
        self.good("bring-in", self.catalogue, self.card)
        os.symlink(os.path.join(self.catalogue, "photos"), self.path("link"))
        for folder in (self.catalogue, os.path.join(self.catalogue, "photos"), self.path("link"),
                       self.path("card", "..", "Orchard.shedwalk", "photos", "trip-01")):
            with self.subTest(folder):
                self.bad(1, "bring-in", self.catalogue, folder, says="inside the catalogue")
        # the folder around the catalogue is fine; what lies in the catalogue is not looked at
        report = self.good("bring-in", self.catalogue, self.folder, "--json").json()
        self.assertEqual((report["taken"], report["already_there"]), (0, 1))
        self.bad(1, "backup", self.catalogue, os.path.join(self.catalogue, "home"), says="inside the catalogue")
        self.good("check", self.catalogue)

    def test_catalogue_behind_a_link(self):
        os.symlink(self.catalogue, self.path("Link.shedwalk"))
        pictures.write(self.card, "a.jpg", pictures.jpeg(1, NOON))
        self.good("bring-in", self.path("Link.shedwalk"), self.card)
        self.assertEqual(len(self.good("photos", self.catalogue, "--json").json()), 1)
        self.good("check", self.path("Link.shedwalk"))

    def test_links_pipes_and_devices(self):
        pictures.write(self.card, "a.jpg", pictures.jpeg(1, NOON))
        os.symlink(".", os.path.join(self.card, "loop"))
        os.symlink("self", os.path.join(self.card, "self"))
        os.symlink("/dev/zero", os.path.join(self.card, "zero.jpg"))
        os.mkfifo(os.path.join(self.card, "pipe.jpg"))
        with socket.socket(socket.AF_UNIX) as talk:
            talk.bind(os.path.join(self.card, "socket.jpg"))
            passed = ["loop", "pipe.jpg", "self", "socket.jpg", "zero.jpg"]
            if os.geteuid() == 0:
                os.mknod(os.path.join(self.card, "device.jpg"), 0o20666, os.makedev(1, 5))
                passed.insert(0, "device.jpg")
            report = self.good("bring-in", self.catalogue, self.card, "--json").json()
        self.assertEqual(report["taken"], 1)
        self.assertEqual(sorted(r["file"] for r in report["remarked"]), passed)
        self.good("check", self.catalogue)

    def test_deep_folders(self):
        deep = os.path.join(*["d" * 20] * 30)
        pictures.write(self.card, os.path.join(deep, "a.jpg"), pictures.jpeg(1, NOON))
        self.assertEqual(self.good("bring-in", self.catalogue, self.card, "--json").json()["taken"], 1)
        self.assertEqual(self.good("photos", self.catalogue, "--json").json()[0]["file"], os.path.join(deep, "a.jpg"))

    def test_names(self):
        names = [b"two\nlines.jpg", b"\"quoted\" 'and' `so`.jpg", "apple \U0001f34e.jpg".encode(), b"a" * 251 + b".jpg",
                 b"\x1b[2J\x1b]0;gone\x07.jpg", b"latin\xe9.jpg", b"-rf.jpg", b"%s%n.jpg", "\u202egpj.exe.jpg".encode()]
        for seed, name in enumerate(names):
            with open(os.path.join(self.card.encode(), name), "wb") as out:
                out.write(pictures.jpeg(seed, NOON))
        shown = self.good("bring-in", self.catalogue, self.card).out
        self.assertIn(f"Taken: {len(names)} photos", shown)
        shown += self.good("photos", self.catalogue).out + self.good("pair", self.catalogue, "--trip", "1").out
        self.assertTrue(harmless(shown), repr(shown))
        self.assertNotIn("\u202e", shown)
        photos = self.good("photos", self.catalogue, "--json")
        photos.out.encode("utf-8")  # raises where JSON holds anything but UTF-8
        files = {p["file"] for p in photos.json()}
        for name in (b"two\nlines.jpg", b"a" * 251 + b".jpg", "apple \U0001f34e.jpg".encode()):
            self.assertIn(name.decode(), files)
        self.good("pair", self.catalogue, "--trip", "1", "--json").json()
        self.good("check", self.catalogue)
        self.good("backup", self.catalogue, self.path("home"))
        self.good("restore", self.path("home"), self.path("Copy.shedwalk"))
        self.good("check", self.path("Copy.shedwalk"))

    def test_odd_catalogue_names(self):
        for name in (b"two\nlines\x1b[31m.shedwalk", b"latin\xe9.shedwalk", b"x" * 246 + b".shedwalk"):
            with self.subTest(name):
                path = os.path.join(self.folder.encode(), name)
                self.assertTrue(harmless(self.good("new", path, "--name", "A", "--currency", "NZD",
                                                   "--zone", "UTC").out))
                self.assertEqual(self.good("items", path, "--json").json(), [])
                self.good("check", path)
        self.bad(1, "items", self.path("no\x1b[31m\nsuch.shedwalk"), says="\\x1B")


class Pictures(InputTest):
    """Lengths and sizes that lie: Exif as TIFF 6.0 (Adobe, 1992), section 2; PNG as ISO/IEC 15948:2004, 5.3."""

    def png(self, width, height, data):
        chunks = ((b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 6, 0, 0, 0)), (b"IDAT", zlib.compress(data, 9)),
                  (b"IEND", b""))
        return b"\x89PNG\r\n\x1a\n" + b"".join(
            struct.pack(">I", len(d)) + t + d + struct.pack(">I", zlib.crc32(t + d)) for t, d in chunks)

    def jpeg(self, *entries, following=0, first=8):
        """A JPEG whose block has these entries (tag, type, count, value or offset) in its first directory."""
        block = b"II*\0" + struct.pack("<IH", first, len(entries)) + b"".join(
            struct.pack("<HHII", *e) for e in entries) + struct.pack("<I", following)
        return b"\xff\xd8\xff\xe1" + struct.pack(">H", len(block) + 8) + b"Exif\0\0" + block + pictures.jpeg(1)[2:]

    def test_lies(self):
        whole = pictures.jpeg(1, NOON)
        sized = bytearray(whole)
        frame = sized.find(b"\xff\xc0")
        sized[frame + 5:frame + 9] = b"\xff\xff\xff\xff"
        files = {
            "bomb.png": self.png(60000, 60000, bytes(20_000_000)), "vast.png": self.png(0x7fffffff, 0x7fffffff, b""),
            "vast.jpg": bytes(sized), "loop.jpg": self.jpeg((0x8769, 4, 1, 8), following=8),
            "count.jpg": self.jpeg((0x0132, 2, 0xffffffff, 26), (0x8769, 4, 0xffffffff, 26)),
            "outside.jpg": self.jpeg((0x0132, 2, 20, 0xfffffff0), (0x8825, 4, 1, 0xffffffff)),
            "first.jpg": self.jpeg(first=0xffffffff), "cut.jpg": whole[:len(whole) // 2], "head.jpg": b"\xff\xd8\xff\xe1\xff\xff",
            "two.jpg": whole + pictures.jpeg(2, NOON), "odd.heic": b"\0\0\0\x18ftypheic\0\0\0\0mif1heic\0\0\0\4meta",
            "zero.jpg": b"", "text.jpg": b"no picture\n"}
        for stamp in ("1980:01:01 00:00:00", "2099:12:31 23:59:59", "9999:99:99 99:99:99", "0000:00:00 00:00:00"):
            files[stamp[:4] + "-clock.jpg"] = pictures.jpeg(int(stamp[:4]), stamp)
        for name, content in files.items():
            pictures.write(self.card, name, content)
        report = self.good("bring-in", self.catalogue, self.card, "--trip", "1", "--json").json()
        self.assertEqual(sorted(r["file"] for r in report["refused"]), ["text.jpg", "zero.jpg"])
        self.assertEqual(report["taken"], len(files) - 2)
        for name in ("bomb.png", "vast.png", "vast.jpg"):
            self.assertTrue(any(r["file"] == name and "too large" in r["remark"] for r in report["remarked"]), name)
        photos = {p["file"]: p for p in self.good("photos", self.catalogue, "--json").json()}
        self.assertEqual(photos["cut.jpg"]["clock_time"], "2026-04-03T12:00:00")
        self.assertEqual(photos["1980-clock.jpg"]["clock_time"], "1980-01-01T00:00:00")
        for name in ("2099-clock.jpg", "9999-clock.jpg", "0000-clock.jpg"):
            self.assertEqual(photos[name]["time_source"], "file")
        # likenesses are made of what can be decoded, and of nothing else
        self.good("pair", self.catalogue, "--trip", "1")
        self.good("check", self.catalogue)


class Catalogues(InputTest):
    def database(self, folder=None):
        return os.path.join(folder or self.catalogue, "catalogue.db")

    def every_command(self):
        c = self.catalogue
        return (["items", c], ["photos", c], ["takings", c], ["check", c], ["undo", c], ["place", "add", c, "A"],
                ["bring-in", c, self.card], ["backup", c, self.path("home")])

    def test_newer_schema(self):
        with open(self.database(), "r+b") as db:
            db.seek(60)
            db.write((9999).to_bytes(4, "big"))
            db.seek(0)
            before = db.read()
        for args in self.every_command():
            with self.subTest(args[0]):
                self.bad(1, *args, says="newer")
        with open(self.database(), "rb") as db:
            self.assertEqual(db.read(), before)

    def test_older_schema_is_brought_up_by_any_command(self):
        for command in ("items", "photos", "takings", "check"):
            with self.subTest(command):
                self.make_older()
                # of many safety copies only the last ten are kept: those of the round before make no part of this one
                backups = os.path.join(self.catalogue, "backups")
                for name in os.listdir(backups) if os.path.isdir(backups) else []:
                    os.remove(os.path.join(backups, name))
                self.good(command, self.catalogue)
                self.assertTrue(any("before-step-2" in name for name in os.listdir(backups)))
        self.add_property()
        self.good("pair", self.catalogue, "--trip", "1")

    def test_no_catalogue(self):
        self.table("hello", "Other.shedwalk/readme.txt")
        other = self.path("Other.shedwalk")
        for args in (["items", other], ["check", other], ["place", "add", other, "A"], ["bring-in", other, self.card]):
            self.bad(1, *args, says="no catalogue")
        self.bad(1, "items", self.path("Other.shedwalk", "readme.txt"), says="folder")
        self.assertEqual(os.listdir(other), ["readme.txt"])
        db = sqlite3.connect(self.database(other))
        db.executescript("CREATE TABLE theirs (a); PRAGMA application_id = 77;")
        db.close()
        self.bad(1, "items", other, says="another program")
        self.bad(1, "place", "add", other, "A", says="another program")

    def test_damaged_or_empty_database(self):
        with open(self.database(), "rb") as db:
            whole = db.read()
        damages = {"empty": b"", "noise": b"\xa5" * len(whole), "cut": whole[:len(whole) // 2 + 100],
                   "inner": whole[:4096] + b"\xa5" * (len(whole) - 4096), "text": b"hello\n"}
        for name, content in damages.items():
            with self.subTest(name):
                with open(self.database(), "wb") as db:
                    db.write(content)
                for args in (["check", self.catalogue], ["place", "add", self.catalogue, "A"]):
                    result = run(*args)
                    self.assertEqual(result.code, 1, args)
                    self.assertIn("damaged", result.err + result.out)
                with open(self.database(), "rb") as db:
                    self.assertEqual(db.read(), content)
        os.remove(self.database())
        self.bad(1, "items", self.catalogue, says="missing")
        self.assertFalse(os.path.exists(self.database()))


class Words(InputTest):
    def test_unknown_things(self):
        number = str(self.add_item("Vat"))
        c = self.catalogue
        for says, args in (
                ("9", ["bring-in", c, self.card, "--trip", "9"]), ("9", ["photos", c, "--trip", "9"]),
                ("9", ["pair", c, "--trip", "9"]),
                ("9", ["notes", c, self.table("10:00 Press house\n"), "--trip", "9"]),
                ("X", ["clock", c, "X", "--trip", "9", "--shift", "1"]),
                ("9", ["item", "add", c, "A", "--place", "Press house", "--trip", "9"]),
                ("Cellar", ["item", "add", c, "A", "--place", "Cellar", "--trip", "1"]),
                ("Cellar", ["item", "set", c, number, "--place", "Cellar"]), ("Cellar", ["items", c, "--place", "Cellar"]),
                ("99", ["item", "set", c, "99", "--name", "A"]), ("Vatt", ["item", "move", c, "Vatt", "Kept"]),
                ("99", ["assign", c, "1", "--item", "99"]),
                ("Lost", ["items", c, "--state", "Lost"]), ("Lost", ["item", "move", c, number, "Lost"]),
                ("ABC", ["new", self.path("N.shedwalk"), "--name", "A", "--currency", "ABC", "--zone", "UTC"]),
                ("nzd", ["new", self.path("N.shedwalk"), "--name", "A", "--currency", "nzd", "--zone", "UTC"]),
                ("Mars/Sea", ["new", self.path("N.shedwalk"), "--name", "A", "--currency", "NZD", "--zone", "Mars/Sea"]),
                ("passwd", ["new", self.path("N.shedwalk"), "--name", "A", "--currency", "NZD",
                            "--zone", "../../../etc/passwd"])):
            with self.subTest(args):
                self.bad(1, *args, says=says)
        self.assertFalse(os.path.exists(self.path("N.shedwalk")))
        self.assertEqual([i["name"] for i in self.items()], ["Vat"])
        self.good("check", c)

    def test_days(self):
        add = ("trip", "add", self.catalogue, "--title", "T")
        for first, last in (("2026-05-06", "2026-05-03"), ("2026-04-06", "2026-04-09"), ("2026-04-01", "2026-04-03"),
                            ("2026-04-04", "2026-04-05"), ("2026-01-01", "2026-12-31"), ("2026-02-30", "2026-03-01"),
                            ("0000-00-00", "2026-03-01"), ("20260301", "20260302"), ("", "2026-03-01"),
                            ("99999-01-01", "99999-01-02"), ("2026-03-01\n", "2026-03-02")):
            with self.subTest((first, last)):
                self.bad(1, *add, "--first", first, "--last", last)
        self.assertEqual(self.good(*add, "--first", "2026-04-07", "--last", "2026-04-07").out, "2\n")

    def test_money(self):
        add = ("item", "add", self.catalogue, "Vat", "--place", "Press house", "--trip", "1")
        wrong = ("1.234", "-5", "1e5", "abc", "", " 5", "1,50", "1 000", "NaN", "inf", "0x10", "+5", ".5", "5.", "\u0663",
                 "92233720368547758.07", "92233720368547758.08", "9" * 40, "9" * 9000, "5\x1b[1m")
        for amount in wrong:
            with self.subTest(amount[:30]):
                self.bad(1, *add, "--asking=" + amount)
        number = self.add_item("Crate")
        for n, amount in enumerate(wrong):
            with self.subTest("table " + amount[:30]):
                row = f"sale,S{n},,,{number},,2026-04-04,\"{amount}\",,\n"
                if amount != " 5":  # blanks around a cell are none of its content
                    self.bad(1, "book", self.catalogue, self.table(HEADER + row), says="2")
        self.assertEqual([i["state"] for i in self.items()], ["Found"])

    def test_what_is_booked_can_be_summed(self):
        most = "9223372036854.77"
        rows = "".join(f"cost,,,,,1,2026-04-04,{most},n{n},\n" for n in range(20))
        self.good("book", self.catalogue, self.table(HEADER + rows))
        self.assertEqual(self.good("takings", self.catalogue, "--json").json()["total"]["costs"], 20 * 922337203685477)
        self.good("check", self.catalogue)

    def test_options_that_do_not_go_together(self):
        number = str(self.add_item("Vat"))
        c = self.catalogue
        self.bad(2, "item", "move", c, number, "Kept", "--until", "2026-05-01", "--for", "Ada", says="On hold")
        self.bad(2, "item", "set", c, number, "--claim", "open", "--by", "")
        self.bad(2, "item", "set", c, number, "--never-offer", "--cleared")
        self.bad(1, "item", "move", c, number, "On hold")
        self.bad(1, "item", "move", c, number, "Kept", "--count", "2")
        self.assertEqual(self.item(int(number))["state"], "Found")
        self.good("item", "move", c, number, "Found")

    def test_texts(self):
        c = self.catalogue
        for text in ("", "  ", "a\nb", "\x1b[31m", "x" * 100000, b"\xff\xfe", "\x7f", "\x9b31m", "a\tb"):
            with self.subTest(text[:10]):
                self.bad(1, "item", "add", c, text, "--place", "Press house", "--trip", "1")
                self.bad(1, "place", "add", c, text)
                self.bad(1, "trip", "add", c, "--title", text, "--first", "2026-05-03", "--last", "2026-05-04")
                self.bad(1, "new", self.path("N.shedwalk"), "--name", text, "--currency", "NZD", "--zone", "UTC")
        self.assertFalse(os.path.exists(self.path("N.shedwalk")))
        self.nothing_came_in()
        for name in ("\"quoted\" 'and' `so`", "apple \U0001f34e", "x" * 255, "a\u202eb", "'; DROP TABLE item; --", "%s%n"):
            number = self.add_item(name)
            self.assertEqual(self.item(number)["name"], name)
            self.good("item", "set", c, str(number), "--count", "2")
        shown = self.good("items", c).out
        self.assertTrue(harmless(shown))
        self.assertNotIn("\u202e", shown)
        # one long name does not push the other rows apart
        self.assertLess(min(len(line) for line in shown.splitlines()), 140)


class Tables(InputTest):
    def wrong(self):
        cost = "cost,,,,,1,2026-04-04,5.00,"
        return {
            "empty": b"", "zero bytes": b"\0" * 500, "a zero byte": HEADER.encode() + cost.encode() + b"a\0b,\n",
            "not UTF-8": HEADER.encode() + cost.encode() + b"\xff\xfe\xfd,\n",
            "1 MB cell": HEADER + cost + "x" * (1 << 20) + ",\n", "1 MB word": HEADER + "y" * (1 << 20) + "\n",
            "escape code": HEADER + cost + "\x1b[31mred,\n", "escape in what": HEADER + "\x1b]0;x\x07,,,,,,,,,\n",
            "never closed": HEADER + cost + "\"diesel\n", "no column what": "a,b\n1,2\n", "column twice": "what,what\n1,2\n",
            "unknown kind": HEADER + "gift,,,,,,,,,\n", "unknown outlet": HEADER + "sale,S,Moon,,Vat,,2026-04-04,5,,\n",
            "unknown item": HEADER + "sale,S,,,Moon,,2026-04-04,5,,\n", "unknown trip": HEADER + "cost,,,,,9,2026-04-04,5,,\n",
            "no such day": HEADER + "cost,,,,,1,2026-02-30,5,,\n", "ref of nothing": HEADER + "payment,Z,,,,,2026-04-04,5,,\n",
            "cut UTF-16": b"\xff\xfew\0h", "one good, one bad": HEADER + cost + ",\ncost,,,,,1,never,5,,\n",
            "5000 bad rows": HEADER + "bad,,,,,,,,,\n" * 5000,
        }

    def test_book_takes_all_or_nothing(self):
        for name, content in self.wrong().items():
            with self.subTest(name):
                path = self.table(content)
                error = self.bad(1, "book", self.catalogue, path).err
                self.assertLess(len(error), 5000)
                result = run("book", self.catalogue, path, "--json")
                self.assertEqual(result.code, 1)
                if result.out:
                    result.json()
        self.bad(1, "book", self.catalogue, self.card)
        self.nothing_came_in()

    def test_notes(self):
        head = "time,place,item,remark\n"
        bad_rows = {"escape code": head + "10:00,Press house,V\x1b[31mat,\n", "no such time": head + "29:99,Press house,Vat,\n",
                    "no time": head + ",Press house,Vat,\n"}
        whole = {"empty": b"", "zero bytes": b"\0" * 500, "not UTF-8": head.encode() + b"10:00,\xff\xfe,Vat,\n",
                 "1 MB cell": head + "10:00,Press house," + "x" * (1 << 20) + ",\n", "never closed": head + "10:00,\"Press\n",
                 "no times at all": "hello\nworld\n"}
        for name, content in whole.items():
            with self.subTest(name):
                self.bad(1, "notes", self.catalogue, self.table(content), "--trip", "1")
        for name, content in bad_rows.items():
            with self.subTest(name):
                path = self.table(content)
                result = run("notes", self.catalogue, path, "--trip", "1")
                self.assertIn("2", result.out + result.err)
                self.assertTrue(harmless(result.out + result.err))
                self.bad(1, "notes", self.catalogue, path, "--trip", "1", "--strict", says="2")
        self.bad(1, "notes", self.catalogue, self.card, "--trip", "1")
        self.nothing_came_in()


if __name__ == "__main__":
    unittest.main()
