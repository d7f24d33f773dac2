# SPDX-License-Identifier: GPL-3.0-or-later
"""Pairing what nobody expects: few photos, strange gaps, strange clocks, notes that contradict. Each catalogue stays
whole, says the same twice, and checks clean."""
import unittest

import pictures
from shed import run
from test_pair import NOTEBOOK, PairTest


def stamp(second, day="2026:04:03"):
    return f"{day} {second // 3600:02d}:{second // 60 % 60:02d}:{second % 60:02d}"


class OddTest(PairTest):
    def photos_at(self, seconds, start=10 * 3600, day="2026:04:03", folder="", model="P5", first=1, **options):
        """One photo at each of these seconds after 'start'; their names."""
        names = []
        for k, second in enumerate(seconds):
            name = f"{folder}IMG_{first + k:04d}.jpg"
            self.seed = getattr(self, "seed", 500) + 1
            pictures.write(self.card, name, pictures.jpeg(self.seed, stamp(start + second, day), model=model, **options))
            names.append(name)
        return names

    def settle(self, notes=None):
        """Brings in, notes, pairs twice the same, checks; the pairing."""
        self.good("bring-in", self.catalogue, self.card, "--trip", "1")
        if notes is not None:
            self.good("notes", self.catalogue, self.notebook(notes), "--trip", "1")
        first = self.good("pair", self.catalogue, "--trip", "1", "--json").out
        self.assertEqual(self.good("pair", self.catalogue, "--trip", "1", "--json").out, first)
        pairing = self.pair()
        self.assert_whole(pairing)
        self.good("check", self.catalogue)
        return pairing

    def files(self, pairing):
        return [s["files"] for s in pairing["stops"]]


class Gaps(OddTest):
    ROWS = [
        ("one photo", [0], [1]),
        ("two close", [0, 4], [2]),
        ("two far apart", [0, 3000], [1, 1]),
        ("five of one thing", [0, 5, 9, 15, 21], [5]),
        ("all gaps equal", [8 * k for k in range(12)], None),
        ("a burst without gaps", [0] * 9, [9]),
        ("two bursts", [0] * 5 + [180] * 4, [5, 4]),
    ]

    def test_few_and_even(self):
        for label, seconds, stops in self.ROWS:
            with self.subTest(label):
                self.doCleanups()
                self.setUp()
                names = self.photos_at(seconds)
                pairing = self.settle()
                if stops is not None:
                    self.assertEqual([len(s["photos"]) for s in pairing["stops"]], stops)
                self.assertEqual(sorted(sum(self.files(pairing), [])), names)
                self.assertEqual(run("pair", self.catalogue, "--trip", "1", "--strict").code,
                                 0 if all(s["band"] == "sure" for s in pairing["stops"]) else 1)

    def test_one_photo_a_day(self):
        for day in range(3, 7):
            self.photos_at([0], day=f"2026:04:{day:02d}", first=day)
        self.assertEqual([len(f) for f in self.files(self.settle())], [1, 1, 1, 1])


class Clocks(OddTest):
    def test_weak_and_missing_times(self):
        names = self.photos_at([0, 6, 12, 200, 206])
        pictures.write(self.card, "IMG_0003b.jpg", pictures.jpeg(901))
        pairing = self.settle()
        self.assertIn("IMG_0003b.jpg", sum(self.files(pairing), []))
        self.assertEqual(sorted(sum(self.files(pairing), [])), sorted(names + ["IMG_0003b.jpg"]))

    def test_no_time_at_all(self):
        for k in range(3):
            pictures.write(self.card, f"PIC_{k}.jpg", pictures.jpeg(910 + k))
        pairing = self.settle(NOTEBOOK)
        self.assertEqual(sum(len(s["photos"]) for s in pairing["stops"]), 3)
        self.assertTrue(all(s["band"] != "sure" for s in pairing["stops"]))

    def test_1980_and_2099(self):
        old = self.photos_at([0, 5, 300, 306], day="1980:01:01", model="Old", folder="a/")
        late = self.photos_at([0, 5, 300, 306], day="2099:12:31", model="Late", folder="b/")
        right = self.photos_at([0, 5, 240, 246], folder="c/")
        pairing = self.settle(NOTEBOOK)
        stops = self.files(pairing)
        for names in (old[:2], old[2:], right[:2], right[2:]):
            self.assertIn(names, stops)
        # a time to come is none: those photos have no time but their files'
        for stop in pairing["stops"]:
            self.assertFalse(set(stop["files"]) & set(late) and stop["band"] == "sure", stop)

    def test_an_override_that_contradicts_everything(self):
        names = self.photos_at([0, 6, 240, 246, 540, 546])
        self.settle(NOTEBOOK)
        camera = self.pair()["clocks"][0]["camera"]
        for shift in ("86400", "-31536000", "1000000000"):
            self.good("clock", self.catalogue, camera, "--trip", "1", "--shift", shift)
            pairing = self.settle()
            self.assertEqual(pairing["clocks"][0]["shift_s"], float(shift))
            self.assertEqual(self.files(pairing), [names[:2], names[2:4], names[4:]])
            self.assertFalse(any(s["item"] in ("Screw press", "Apple mill", "Vat") and s["band"] == "sure"
                                 for s in pairing["stops"]))
        self.good("clock", self.catalogue, camera, "--trip", "1", "--shift", "auto")
        self.assertEqual([s["item"] for s in self.pair()["stops"]], ["Screw press", "Apple mill", "Vat"])

    def test_two_cameras_that_cannot_be_told_apart_are_said_to_be_one(self):
        self.photos_at([0, 6, 12, 120, 126, 400, 405], folder="one/", first=212)
        self.photos_at([40, 47, 160, 166, 300, 306, 500], folder="two/", first=7841)
        pairing = self.settle()
        self.assertEqual(len(pairing["clocks"]), 1)
        self.assertEqual(len(pairing["remarks"]), 1)
        self.assertIn("as one camera", pairing["remarks"][0]["remark"])
        self.assertTrue(pairing["remarks"][0]["file"].startswith("two/"))

    def test_one_camera_sorted_into_folders_is_no_riddle(self):
        self.photos_at([0, 6, 12], folder="press/", first=1)
        self.photos_at([120, 126], folder="loft/", first=4)
        self.photos_at([300, 306], folder="press/", first=6)
        self.photos_at([400, 405], folder="loft/", first=8)
        self.assertNotIn("remarks", self.settle())


class Decisions(OddTest):
    def test_a_decision_costs_no_neighbour_its_band(self):
        names = self.photos_at([k * 95 + j * (6 + k % 3) for k in range(9) for j in range(5)])
        before = self.settle()
        sure = {tuple(s["files"]) for s in before["stops"] if s["band"] == "sure"}
        self.assertGreaterEqual(len(sure), 5)
        number = str(self.add_item("Cask"))
        for stop in before["stops"]:
            with self.subTest(stop["files"][0]):
                self.good("assign", self.catalogue, *map(str, stop["photos"]), "--item", number)
                after = self.pair()
                self.assertEqual(self.files(after), self.files(before))
                now = {tuple(s["files"]) for s in after["stops"] if s["band"] == "sure"}
                self.assertEqual(sure | {tuple(stop["files"])}, now)
                self.good("undo", self.catalogue)
        self.assertEqual(self.pair(), before)
        self.assertEqual(len(names), 45)

    def test_undone_and_done_again_it_is_proposed_anew(self):
        self.photos_at([60 + 240 * k + 6 * shot for k in range(8) for shot in range(3)])
        rows = [f"10:{4 * k:02d}:48,Press house,Vat {k + 1}" for k in range(8)]
        before = self.settle("\n".join(["time,place,item", *rows, ""]))
        accepted = self.good("pair", self.catalogue, "--trip", "1", "--accept", "sure", "--json").json()
        self.assertNotEqual(accepted, before)
        for _ in range(2):
            self.good("undo", self.catalogue)
            self.assertEqual(self.pair(), before)
            self.good("redo", self.catalogue)
            self.assertEqual(self.pair(), accepted)
        self.good("check", self.catalogue)


class Notes(OddTest):
    WALK = [0, 6, 12, 240, 246, 540, 546]

    def test_before_all_photos_and_after_all(self):
        names = self.photos_at(self.WALK)
        for hour in ("07", "16"):
            with self.subTest(hour):
                pairing = self.settle(NOTEBOOK.replace("10:", f"{hour}:").replace("09:", f"{hour}:"))
                self.assertEqual(self.files(pairing), [names[:3], names[3:5], names[5:]])

    def test_one_thing_noted_twice(self):
        names = self.photos_at(self.WALK)
        pairing = self.settle("time,place,item\n10:00:20,Press house,Screw press\n10:00:30,Press house,Screw press\n"
                              "10:04:10,Press house,Vat\n")
        self.assertEqual([(s["item"], s["files"]) for s in pairing["stops"][:2]],
                         [("Screw press", names[:3]), ("Vat", names[3:5])])
        self.assertEqual([i["name"] for i in self.items()], ["Screw press", "Vat"])

    def test_one_name_in_two_places_is_two_things(self):
        names = self.photos_at(self.WALK)
        pairing = self.settle("time,place,item\n10:00:20,Press house,Crate\n10:04:12,Packing shed > Loft,Crate\n")
        first, second = pairing["stops"][:2]
        self.assertEqual((first["item"], first["place"], first["files"]), ("Crate", "Press house", names[:3]))
        self.assertEqual((second["item"], second["place"]), ("Crate", "Packing shed > Loft"))
        self.assertNotEqual(first["item_number"], second["item_number"])

    def test_two_items_with_one_name_in_one_place(self):
        self.add_item("Crate")
        self.add_item("Crate")
        self.photos_at(self.WALK)
        pairing = self.settle("time,place,item\n10:00:20,Press house,Crate\n")
        self.assertEqual(pairing["stops"][0]["item"], "Crate")
        self.assertEqual(len(self.items()), 2)

    def test_in_another_zone(self):
        names = self.photos_at(self.WALK)
        pairing = self.settle("time,place,item\n2026-04-02T21:00:20Z,Press house,Screw press\n"
                              "2026-04-03T07:04:12+10:00,Press house,Vat\n")
        self.assertEqual([(s["item"], s["files"]) for s in pairing["stops"][:2]],
                         [("Screw press", names[:3]), ("Vat", names[3:5])])

    def test_to_the_minute(self):
        names = self.photos_at(self.WALK)
        pairing = self.settle("time,place,item\n10:00,Press house,Screw press\n10:04,Press house,Vat\n"
                              "10:09,Press house,Mill\n")
        self.assertEqual([(s["item"], s["files"]) for s in pairing["stops"]],
                         [("Screw press", names[:3]), ("Vat", names[3:5]), ("Mill", names[5:])])
        self.assertIn("in the minute of your note", pairing["stops"][0]["reason"])

    def test_photos_of_no_trip_stay_out(self):
        self.photos_at(self.WALK)
        self.good("trip", "add", self.catalogue, "--title", "Second", "--first", "2026-05-01", "--last", "2026-05-02")
        self.settle(NOTEBOOK)
        self.assertEqual(self.good("pair", self.catalogue, "--trip", "2", "--json").json(), {"clocks": [], "stops": []})


if __name__ == "__main__":
    unittest.main()
