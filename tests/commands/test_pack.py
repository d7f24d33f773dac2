# SPDX-License-Identifier: GPL-3.0-or-later
"""hand-out pack by command: what leaves with an offer, and what must not."""
import csv
import html.parser
import os
import subprocess
import unittest

from PIL import Image

import pictures
from shed import PROGRAM, ShedTest

TABLE = """what,outlet,kind,ref,item,start,up,closes,pay_days,collect_days
outlet,Board,priced ad,,,,,,3,14
offer,Board,,P1,{item},60.00,2026-05-01,,,
"""


class Elements(html.parser.HTMLParser):
    def __init__(self, text):
        super().__init__()
        self.tags, self.words = [], ""
        self.feed(text)

    def handle_starttag(self, tag, attributes):
        self.tags.append((tag, dict(attributes)))

    def handle_data(self, data):
        self.words += data


class PackTest(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        self.number = self.add_item("Ladder", "Press house", "--count", "1", "--asking", "75.00")
        card = self.path("card")
        for k in range(3):
            pictures.write(card, f"IMG_{k}.jpg", pictures.jpeg(k, f"2026:04:03 10:00:0{k}", size=(300, 200),
                                                                position=(-44.5, 170.2), orientation=6))
        self.good("bring-in", self.catalogue, card)
        self.good("assign", self.catalogue, "1", "2", "3", "--item", str(self.number))

    def pack(self, *more, name="pack", **options):
        to = self.path(name)
        more = more or ("--item", str(self.number))
        return self.good("hand-out", self.catalogue, "pack", "--to", to, *more, "--json", **options).json(), to

    def read(self, *parts):
        with open(os.path.join(*parts), encoding="utf-8", newline="") as file:
            return file.read()


class Contents(PackTest):
    def test_photos_text_html_and_table(self):
        report, to = self.pack()
        self.assertEqual((report["photos"], report["missing"], report["title"], report["looked"]),
                         (3, 0, "Ladder", False))
        self.assertEqual(sorted(os.listdir(to)), ["offer.csv", "offer.html", "offer.txt", "photo-01.jpg",
                                                  "photo-02.jpg", "photo-03.jpg"])
        text = self.read(to, "offer.txt")
        for line in ("Condition: not known.", "Size: not measured.", "Mass: not known.", "Asking price: 75.00 NZD"):
            self.assertIn(line, text)
        for private in ("Press house", "Packing shed", "First look", "2026", "Old cider works"):
            self.assertNotIn(private, text)
        with open(os.path.join(to, "offer.csv"), encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
        self.assertEqual([(row["title"], row["price"], row["currency"]) for row in rows], [("Ladder", "75.00", "NZD")])
        self.assertEqual(rows[0]["photos"].split(), ["photo-01.jpg", "photo-02.jpg", "photo-03.jpg"])
        self.assertTrue(text.startswith("Ladder\n\n" + rows[0]["text"]))
        page = Elements(self.read(to, "offer.html"))
        self.assertEqual([a["src"] for tag, a in page.tags if tag == "img"], rows[0]["photos"].split())
        self.assertIn("Condition: not known.", page.words)

    def test_photos_stand_upright_and_are_sized(self):
        with Image.open(os.path.join(self.pack()[1], "photo-01.jpg")) as picture:
            self.assertEqual(picture.size, (200, 300))
        card = self.path("large")
        pictures.write(card, "wide.jpg", pictures.jpeg(9, "2026:04:03 11:00:00", size=(4000, 1000)))
        self.good("bring-in", self.catalogue, card)
        wide = self.add_item("Bench")
        self.good("assign", self.catalogue, "4", "--item", str(wide))
        with Image.open(os.path.join(self.pack("--item", "Bench", name="two")[1], "photo-01.jpg")) as picture:
            self.assertEqual(picture.size, (2048, 512))

    def test_of_an_offer(self):
        table = pictures.write(self.folder, "money.csv", TABLE.format(item="Ladder").encode())
        self.good("book", self.catalogue, table)
        report, to = self.pack("--offer", "P1")
        self.assertEqual(report["photos"], 3)
        self.assertIn("To be paid within 3 days.", self.read(to, "offer.txt"))
        self.assertIn("Asking price: 60.00 NZD", self.read(to, "offer.txt"))

    def test_says_that_nobody_looked(self):
        told = self.good("hand-out", self.catalogue, "pack", "--item", "Ladder", "--to", self.path("a")).out
        self.assertIn("house numbers, plates and faces", told)
        told = self.good("hand-out", self.catalogue, "pack", "--item", "Ladder", "--to", self.path("b"), "--looked").out
        self.assertNotIn("house numbers", told)

    def test_markup_and_formulas_are_inert(self):
        name = "=HYPERLINK(\"http://x\")<script>alert(1)</script>&"
        self.good("item", "set", self.catalogue, str(self.number), "--name", name)
        _, to = self.pack()
        page = self.read(to, "offer.html")
        self.assertNotIn("<script", page)
        self.assertNotIn("script", [tag for tag, _ in Elements(page).tags])
        self.assertIn(name, Elements(page).words)
        table = self.read(to, "offer.csv")
        self.assertEqual(next(csv.DictReader(table.splitlines(True)))["title"], "'" + name)
        # RFC 4180, 2.1: each record ends with CRLF
        self.assertTrue(table.endswith("\r\n"))
        self.assertTrue(table.startswith("title,text,price,currency,photos\r\n"))

    def test_a_name_with_slashes(self):
        self.good("item", "set", self.catalogue, str(self.number), "--name", "Pump 1/2\" ../../x")
        self.assertEqual(len(os.listdir(self.pack()[1])), 6)
        self.assertEqual(sorted(os.listdir(self.folder)), ["Orchard.shedwalk", "card", "pack"])


class Limits(PackTest):
    def setUp(self):
        super().setUp()
        table = pictures.write(self.folder, "money.csv", TABLE.format(item="Ladder").encode())
        self.good("book", self.catalogue, table)

    def test_a_title_is_cut_between_words(self):
        self.good("item", "set", self.catalogue, str(self.number), "--name", "Orchard ladder with nine rungs")
        self.good("outlet", "limits", self.catalogue, "Board", "--title", "20")
        self.assertEqual(self.pack("--offer", "P1")[0]["title"], "Orchard ladder with")

    def test_the_text_loses_what_says_least(self):
        _, to = self.pack("--offer", "P1", name="whole")
        whole = self.read(to, "offer.txt").split("\n\n")[1]
        self.good("outlet", "limits", self.catalogue, "Board", "--text", str(len(whole) - 1))
        report, to = self.pack("--offer", "P1")
        text = self.read(to, "offer.txt").split("\n\n")[1]
        self.assertEqual(report["lines_left_out"], 2)
        self.assertLess(len(text), len(whole))
        for kept in ("Condition: not known.", "Faults: none noted", "Sold as it stands."):
            self.assertIn(kept, text)
        self.assertNotIn("Mass: not known", text)

    def test_cautions_are_never_left_out(self):
        self.good("outlet", "limits", self.catalogue, "Board", "--text", "40")
        self.bad(1, "hand-out", self.catalogue, "pack", "--offer", "P1", "--to", self.path("pack"), says="40")
        self.assertFalse(os.path.exists(self.path("pack")))

    def test_limits_by_command(self):
        limits = lambda *more: self.good("outlet", "limits", self.catalogue, "Board", "--json", *more).json()  # noqa: E731
        self.assertEqual(limits(), {"outlet": "Board", "title": 0, "text": 0})
        self.assertEqual(limits("--title", "60", "--text", "2000"), {"outlet": "Board", "title": 60, "text": 2000})
        self.assertEqual(limits("--title", "0")["text"], 2000)
        self.good("undo", self.catalogue)
        self.assertEqual(limits()["title"], 60)
        self.bad(1, "outlet", "limits", self.catalogue, "Nobody", says="Nobody")
        self.bad(1, "outlet", "limits", self.catalogue, "Board", "--title", "100000", says="1000")
        self.bad(2, "outlet", "limits", self.catalogue, "Board", "--title", "long")


class BadTargets(PackTest):
    def refuse(self, to, says, code=1, **options):
        before = sorted(os.listdir(os.path.dirname(to))) if os.path.isdir(os.path.dirname(to)) else None
        self.bad(code, "hand-out", self.catalogue, "pack", "--item", "Ladder", "--to", to, says=says, **options)
        if before is not None:
            self.assertEqual(sorted(os.listdir(os.path.dirname(to))), before)

    def test_there_already(self):
        os.mkdir(self.path("there"))
        kept = pictures.write(self.folder, "there/mine.txt", b"mine")
        self.refuse(self.path("there"), "already")
        self.refuse(kept, "already")
        self.assertEqual(self.read(kept), "mine")
        os.mkdir(self.path("empty"))
        self.pack("--item", "Ladder", name="empty")
        os.symlink("nowhere", self.path("link"))
        self.refuse(self.path("link"), "already")

    def test_inside_the_catalogue(self):
        self.refuse(os.path.join(self.catalogue, "pack"), "inside the catalogue")
        os.symlink(self.catalogue, self.path("other-name"))
        self.refuse(self.path("other-name", "photos", "pack"), "inside the catalogue")
        self.refuse(self.path("card", "..", "Orchard.shedwalk", "x"), "inside the catalogue")

    def test_no_folder_above(self):
        self.refuse(self.path("no", "such", "pack"), "could not be made")

    def mounted(self, options, name):
        """Runs the hand-out onto a disk mounted with these options, in a name space of its own; the exit code, what it said, and what the
        disk holds afterwards."""
        disk = self.path(name)
        os.mkdir(disk)
        script = ('mount -t tmpfs -o "$1" none "$2" || exit 77; shift 2; disk=$1; shift; "$@" 2>&1; code=$?; '
                  'ls -A "$disk"; exit $code')
        done = subprocess.run([*(["unshare", "-m"] if os.geteuid() == 0 else ["unshare", "-Urm"]), "sh", "-c", script,
                               "sh", options, disk, disk, PROGRAM, "hand-out", self.catalogue, "pack", "--item", "Ladder",
                               "--to", os.path.join(disk, "pack")],
                              stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, timeout=120)
        if done.returncode == 77 or "unshare" in done.stdout:
            self.skipTest("no disk can be mounted here")
        return done.returncode, done.stdout

    def test_a_full_disk_is_left_as_it_was(self):
        self.assertEqual(self.mounted("size=4m", "roomy")[0], 0)
        code, said = self.mounted("size=16k", "small")
        self.assertEqual(code, 1, said)
        self.assertEqual(len(said.strip().split("\n")), 1, said)
        self.assertRegex(said, "full|space")

    def test_a_disk_that_cannot_be_written(self):
        code, said = self.mounted("ro", "read-only")
        self.assertEqual((code, len(said.strip().split("\n"))), (1, 1), said)
        self.assertRegex(said, "could not be made|read-only")

    def test_bad_calls(self):
        to = self.path("pack")
        self.bad(2, "hand-out", self.catalogue, "pack", "--to", to, says="--offer or --item")
        self.bad(2, "hand-out", self.catalogue, "pack", "--to", to, "--item", "1", "--offer", "P1", says="--item")
        self.bad(1, "hand-out", self.catalogue, "pack", "--to", to, "--item", "99")
        self.bad(1, "hand-out", self.catalogue, "pack", "--to", to, "--offer", "P9", says="P9")
        self.assertFalse(os.path.exists(to))


class StaysAtHome(PackTest):
    def test_what_must_not_be_offered(self):
        self.good("item", "set", self.catalogue, str(self.number), "--never-offer")
        self.bad(1, "hand-out", self.catalogue, "pack", "--item", "Ladder", "--to", self.path("p"), says="cleared")
        self.good("item", "set", self.catalogue, str(self.number), "--cleared", "--claim", "mine", "--by", "Ada Orchard")
        self.bad(1, "hand-out", self.catalogue, "pack", "--item", "Ladder", "--to", self.path("p"), says="claimed")

    def test_a_name_in_the_text_is_pointed_at(self):
        self.good("item", "set", self.catalogue, str(self.number), "--claim", "mine", "--by", "Ada Orchard")
        self.good("item", "set", self.catalogue, str(self.number), "--claim", "none", "--by", "Ada Orchard")
        self.assertEqual(self.pack()[0]["names"], [])
        self.good("item", "set", self.catalogue, str(self.number), "--name", "Ladder of ada orchard")
        self.assertEqual(self.pack(name="two")[0]["names"], ["Ada Orchard"])


if __name__ == "__main__":
    unittest.main()
