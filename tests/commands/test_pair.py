# SPDX-License-Identifier: GPL-3.0-or-later
"""notes, pair, clock by command: stops, clocks, what a person decided, odd notebooks."""
import unittest

import pictures
from shed import ShedTest, run

NOTEBOOK = """time,place,item,count,remark
09:58,Press house,,,here now
10:00,Press house,Screw press,1,
10:04,Press house,Apple mill,1,handle bent
10:09,Press house,Vat,2,"oak,
leaks"
"""


class PairTest(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        self.card = self.path("card")

    def notebook(self, text, name="notes.csv"):
        path = self.path(name)
        with open(path, "wb") as out:
            out.write(text if isinstance(text, bytes) else text.encode())
        return path

    def pair(self, *more):
        return self.good("pair", self.catalogue, "--trip", "1", "--json", *more).json()

    def bring_walk(self, stops, **options):
        names = pictures.walk(self.card, stops, **options)
        self.good("bring-in", self.catalogue, self.card)
        return names

    def assert_whole(self, pairing):
        """Each photo of the trip in exactly one stop; the contract's fields."""
        photos = [p["photo"] for p in self.good("photos", self.catalogue, "--trip", "1", "--json").json()]
        self.assertEqual(sorted(n for s in pairing["stops"] for n in s["photos"]), sorted(photos))
        for stop in pairing["stops"]:
            self.assertEqual(set(stop), {"photos", "files", "place", "item", "item_number", "is_new", "probability",
                                         "band", "reason", "also"})
            self.assertTrue(0 <= stop["probability"] <= 1)
            self.assertIn(stop["band"], ("sure", "doubtful", "unknown"))
            self.assertEqual(len(stop["photos"]), len(stop["files"]))
            self.assertTrue(stop["reason"])
            self.assertNotIn("\n", stop["reason"])


class Pair(PairTest):
    def test_without_notes(self):
        names = self.bring_walk([3, 4, 2, 5], gap=120)
        pairing = self.pair()
        self.assert_whole(pairing)
        self.assertEqual([s["files"] for s in pairing["stops"]], names)
        self.assertTrue(all(s["is_new"] and s["item_number"] is None for s in pairing["stops"]))

    def test_with_notes(self):
        names = self.bring_walk([3, 4, 2], gap=240, step=5)
        self.good("notes", self.catalogue, self.notebook(NOTEBOOK), "--trip", "1")
        pairing = self.pair()
        self.assert_whole(pairing)
        self.assertEqual([(s["item"], s["files"]) for s in pairing["stops"]],
                         list(zip(("Screw press", "Apple mill", "Vat"), names)))

    def test_accept_sure_and_undo(self):
        # three notes prove little: eight things, each noted seconds before its first photo
        self.bring_walk([3] * 8, start=10 * 3600 + 60, gap=230, step=5)
        rows = [f"10:{4 * k:02d}:48,Press house,Vat {k + 1}" for k in range(8)]
        self.good("notes", self.catalogue, self.notebook("\n".join(["time,place,item", *rows, ""])), "--trip", "1")
        before = self.pair()
        sure = sum(len(s["photos"]) for s in before["stops"] if s["band"] == "sure")
        self.assert_whole(self.pair("--accept", "sure"))
        self.assertEqual(sum(len(i["photos"]) for i in self.items()), sure)
        self.assertGreater(sure, 0)
        # one command, one undo
        photos = self.good("photos", self.catalogue, "--json").json()
        self.good("undo", self.catalogue)
        self.assertEqual([i["photos"] for i in self.items()], [[]] * 8)
        self.good("redo", self.catalogue)
        self.assertEqual(self.good("photos", self.catalogue, "--json").json(), photos)
        self.good("check", self.catalogue)

    def test_decided_stays(self):
        self.bring_walk([3, 3], gap=240)
        number = self.add_item("Cider jars", "Packing shed > Loft")
        photos = [p["photo"] for p in self.good("photos", self.catalogue, "--json").json()]
        self.good("assign", self.catalogue, str(photos[1]), "--item", str(number))
        self.good("notes", self.catalogue, self.notebook(NOTEBOOK), "--trip", "1")
        self.pair("--accept", "sure")
        self.pair("--accept", "sure")
        self.assertIn(photos[1], self.item(number)["photos"])
        stop = next(s for s in self.pair()["stops"] if photos[1] in s["photos"])
        self.assertEqual((stop["item_number"], stop["item"]), (number, "Cider jars"))

    def test_again_is_the_same(self):
        self.bring_walk([2, 5, 1, 3], gap=100)
        self.good("notes", self.catalogue, self.notebook(NOTEBOOK), "--trip", "1")
        self.assertEqual(self.pair(), self.pair())

    def test_explain(self):
        self.bring_walk([3, 2], gap=240)
        self.good("notes", self.catalogue, self.notebook(NOTEBOOK), "--trip", "1")
        self.assertTrue(self.good("pair", self.catalogue, "--trip", "1", "--explain", "2").out.strip())
        self.bad(1, "pair", self.catalogue, "--trip", "1", "--explain", "999", says="999")

    def explain(self, photo):
        """The lines behind one photo; the same in JSON."""
        out = self.good("pair", self.catalogue, "--trip", "1", "--explain", str(photo)).out
        again = self.good("pair", self.catalogue, "--trip", "1", "--explain", str(photo), "--json").json()
        self.assertEqual(again["explanation"], out)
        return out.strip().split("\n")

    def line(self, lines, begin):
        found = [x.strip() for x in lines if x.strip().startswith(begin)]
        self.assertEqual(len(found), 1, (begin, lines))
        return found[0]

    def test_explain_says_what_weighed(self):
        self.bring_walk([3, 4, 2], gap=240, step=5)
        self.good("notes", self.catalogue, self.notebook(NOTEBOOK), "--trip", "1")
        pairing = self.pair()
        first = pairing["stops"][1]["photos"][0]
        lines = self.explain(first)
        self.assertIn(f"Apple mill: {pairing['stops'][1]['probability'] * 100:.0f}%, {pairing['stops'][1]['band']}", lines[0])
        self.assertIn("clock shift", self.line(lines, "Taken at"))
        self.assertRegex(self.line(lines, "4 min to the photo before"), r"\d+\.\d% that another thing ended there")
        self.assertRegex(self.line(lines, "5 s to the photo after"), r"\d+\.\d% that another thing begins there")
        pauses = [x for x in lines if x.strip().startswith("the pause, for the same thing")]
        self.assertRegex(pauses[0], "to 1 against|million")
        self.assertRegex(pauses[1], "to 1 for")
        self.assertEqual(len([x for x in lines if "of 64 bits differ" in x]), 2)
        self.line(lines, "Note 'Apple mill' of 10:04 in Press house")
        self.assertRegex(self.line(lines, "its time, against a note without photos"), "to 1 for")
        self.assertRegex(self.line(lines, "Runner-up:"), r"Runner-up: \d+\.\d% ")
        self.line(lines, "Nobody decided it.")
        chances = [float(x.replace("Runner-up: ", "").split("%")[0]) for x in lines
                   if x.replace("Runner-up: ", "").split("%")[0].replace(".", "").isdigit()]
        self.assertLessEqual(sum(chances), 100.1)

    def test_explain_what_a_person_decided(self):
        self.bring_walk([3, 4], gap=240, step=5)
        number = self.add_item("Vat")
        photo = self.pair()["stops"][0]["photos"][1]
        self.good("assign", self.catalogue, str(photo), "--item", str(number))
        self.line(self.explain(photo), "You decided it: Vat.")
        self.assertRegex(self.line(self.explain(photo - 1), "100.0% Vat"), "Vat")
        self.good("assign", self.catalogue, str(photo), "--item", "none")
        self.line(self.explain(photo), "You decided it: no item.")

    def test_a_photo_of_the_place_tells_where_the_next_things_are(self):
        names = self.bring_walk([1, 4, 4], gap=60, step=5)
        before = self.pair()
        photos = {p["file"]: p["photo"] for p in self.good("photos", self.catalogue, "--json").json()}
        door = str(photos[names[0][0]])
        self.bad(2, "assign", self.catalogue, door, says="--place")
        self.bad(2, "assign", self.catalogue, door, "--place", "Press house", "--item", "none")
        self.bad(1, "assign", self.catalogue, door, "--place", "Nowhere", says="Nowhere")
        self.good("assign", self.catalogue, door, "--place", "Press house")
        pairing = self.pair()
        self.assertEqual([(s["item"], s["place"]) for s in pairing["stops"][:2]],
                         [(None, "Press house"), ("thing 1 in Press house", "Press house")])
        self.assertIn("your photo of Press house, 60 s before", pairing["stops"][1]["reason"])
        self.line(self.explain(photos[names[1][0]]), "Place: your photo of the place says Press house.")
        self.good("assign", self.catalogue, door, "--place", "Packing shed > Loft")
        self.assertEqual(self.pair()["stops"][1]["place"], "Packing shed > Loft")
        self.good("check", self.catalogue)
        self.good("undo", self.catalogue)
        self.assertEqual(self.pair(), pairing)
        self.good("undo", self.catalogue)
        self.assertEqual(self.pair(), before)

    def test_clock_an_hour_off(self):
        # the camera was left on summer time: an hour ahead of the notebook
        names = self.bring_walk([3, 4, 2], gap=240, step=5, start=11 * 3600)
        self.good("notes", self.catalogue, self.notebook(NOTEBOOK), "--trip", "1")
        pairing = self.pair()
        self.assertEqual(len(pairing["clocks"]), 1)
        camera = pairing["clocks"][0]["camera"]
        self.assertAlmostEqual(pairing["clocks"][0]["shift_s"], -3600, delta=180)
        self.assertEqual([s["files"] for s in pairing["stops"]], names)
        self.good("clock", self.catalogue, camera, "--trip", "1", "--shift", "-3600")
        times = [p["property_time"] for p in self.good("photos", self.catalogue, "--json").json()]
        self.assertEqual(times[0], "2026-04-03T10:00:00+13:00")
        self.assertEqual(self.pair()["clocks"][0]["shift_s"], -3600)
        self.good("clock", self.catalogue, camera, "--trip", "1", "--shift", "auto")
        self.bad(1, "clock", self.catalogue, "No such camera", "--trip", "1", "--shift", "5")
        self.bad(2, "clock", self.catalogue, camera, "--trip", "1", "--shift", "soon")

    def test_clock_seen_in_a_picture(self):
        self.bring_walk([3, 4, 2], gap=240, step=5)
        photos = self.good("photos", self.catalogue, "--json").json()
        camera, photo = photos[1]["camera"], photos[1]["photo"]
        self.good("clock", self.catalogue, camera, "--trip", "1", "--seen", str(photo), "10:02:05")
        clock = self.pair()["clocks"][0]
        self.assertAlmostEqual(clock["shift_s"], 120, delta=3)
        self.assertEqual(clock["seen"], [{"photo": photo, "time": "10:02:05"}])
        self.good("undo", self.catalogue)
        self.assertEqual(self.pair()["clocks"][0]["seen"], [])
        self.bad(1, "clock", self.catalogue, camera, "--trip", "1", "--seen", str(photo), "25:00")
        self.bad(2, "clock", self.catalogue, camera, "--trip", "1", "--seen", str(photo))
        self.bad(1, "clock", self.catalogue, camera, "--trip", "1", "--seen", "99", "10:00")

    def test_clock_set_from_a_photo_on(self):
        self.bring_walk([3, 4, 2], gap=240, step=5)
        photos = self.good("photos", self.catalogue, "--json").json()
        camera, photo = photos[4]["camera"], photos[4]["photo"]
        self.good("clock", self.catalogue, camera, "--trip", "1", "--from", str(photo), "--shift", "60")
        after = self.good("photos", self.catalogue, "--json").json()
        self.assertEqual([a["property_time"] == b["property_time"] for a, b in zip(photos, after)],
                         [True] * 4 + [False] * 5)
        self.assertEqual([p["from_photo"] for p in self.pair()["clocks"][0]["parts"]], [photo])
        self.good("undo", self.catalogue)
        self.assertEqual(self.good("photos", self.catalogue, "--json").json(), photos)

    def test_no_photos(self):
        self.assertEqual(self.pair(), {"clocks": [], "stops": []})
        self.bad(1, "pair", self.catalogue, "--trip", "9", says="9")
        self.bad(2, "pair", self.catalogue, "--trip", "1", "--accept", "all")


class Notebooks(PairTest):
    def read(self, text, *more):
        return self.good("notes", self.catalogue, self.notebook(text), "--trip", "1", "--json", *more).json()

    def test_the_same_file_again_adds_nothing(self):
        first, again = self.read(NOTEBOOK), self.read(NOTEBOOK)
        self.assertEqual((first["notes_added"], first["items_added"]), (4, 3))
        self.assertEqual((again["notes_added"], again["items_added"], again["already_there"]), (0, 0, 4))
        self.assertEqual([(i["name"], i["count"]) for i in self.items()],
                         [("Screw press", 1), ("Apple mill", 1), ("Vat", 2)])

    def test_an_item_of_the_place_is_not_doubled(self):
        self.add_item("Vat")
        self.assertEqual(self.read(NOTEBOOK)["items_added"], 2)

    def test_other_encodings_and_separators(self):
        variants = [NOTEBOOK.encode("utf-8-sig"), NOTEBOOK.encode("utf-16"),
                    NOTEBOOK.replace('"oak,\nleaks"', "oak").replace(",", ";").encode(),
                    NOTEBOOK.replace('"oak,\nleaks"', "oak").replace(",", "\t").encode()]
        self.assertEqual(self.read(variants[0])["notes_added"], 4)
        self.assertEqual(self.read(variants[1])["already_there"], 4)
        for text in variants[2:]:
            self.assertEqual(self.read(text)["rows"], 4)

    def test_times(self):
        self.read("time,place,item\n2026-04-03T10:00,Press house,A\n2026-04-03T10:01:07+13:00,Press house,B\n"
                  "10:02:07,Press house,C\n2026-04-02T21:03:00Z,Press house,D\n")
        self.assertEqual([i["name"] for i in self.items()], ["A", "B", "C", "D"])

    def test_plain_lines(self):
        self.assertGreater(self.read("10:00 Press house: Screw press\n10:05 Press house: Vat\n")["notes_added"], 1)

    def test_unknown_places_are_made_and_said(self):
        self.assertEqual(self.read("time,place,item\n10:00,Cooperage,Anvil\n")["places_made"], ["Cooperage"])

    def test_bad_rows(self):
        text = "time,place,item,count\n10:00,Press house,Vat,1\nnoon,Press house,Mill,1\n10:05,Press house,Jar,many\n"
        report = self.read(text)
        self.assertEqual(report["notes_added"], 1)
        self.assertEqual([r["line"] for r in report["remarked"]], [3, 4])

    def test_strict_takes_none(self):
        text = "time,place,item\n10:00,Press house,Vat\nnoon,Press house,Mill\n"
        self.bad(1, "notes", self.catalogue, self.notebook(text), "--trip", "1", "--strict", says="3")
        self.assertEqual(self.items(), [])

    def test_hostile(self):
        for content in (b"", b"\x00" * 100, b"\xff\xfe\x00", b"hello\n", b"time,place\n\xff\xff,x\n"):
            with self.subTest(content[:12]):
                self.assertEqual(run("notes", self.catalogue, self.notebook(content), "--trip", "1").code, 1)
        self.bad(1, "notes", self.catalogue, self.path("missing.csv"), "--trip", "1")
        self.bad(1, "notes", self.catalogue, self.notebook(NOTEBOOK), "--trip", "7", says="7")
        result = self.read("time,place,item\n10:00,Press house,Esc\x1b[31mVat\n10:01,Press house,Vat\n")
        self.assertEqual([r["line"] for r in result["remarked"]], [2])


if __name__ == "__main__":
    unittest.main()
