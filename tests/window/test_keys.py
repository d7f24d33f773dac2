# SPDX-License-Identifier: GPL-3.0-or-later
"""The demo's trips sorted by keys alone, as somebody would who knows what each photo shows; the keys are counted.

SHEDWALK_DEMO names a folder that demo-data/make-photos filled before; without it the photos are drawn first.
"""

import csv
import datetime
import json
import os
import pathlib
import re
import subprocess

from driver import WindowTest, children, has, key, shedwalk, type_text, until

DEMO = pathlib.Path(__file__).resolve().parents[2] / "demo-data"
CHOSEN = re.compile(r"Photo (\d+) of (\d+) of stop (\d+), ")
MOST = 0.4  # keys a photo, names apart


class Keys(WindowTest):
    def setUp(self):
        super().setUp()
        self.keys = self.letters = 0
        self.photos = pathlib.Path(os.environ.get("SHEDWALK_DEMO", self.folder / "demo"))
        if not (self.photos / "truth.json").exists():
            subprocess.run([DEMO / "make-photos", self.photos], check=True, capture_output=True)
        self.truth = self.read_truth()
        self.catalogue = self.folder / "Demo.shedwalk"
        shedwalk("new", self.catalogue, "--name", "Hallowby Orchard", "--currency", "NZD", "--zone", "Pacific/Auckland")
        for trip in self.rows("trips.csv"):
            shedwalk("trip", "add", self.catalogue, "--title", trip["title"], "--first", trip["first"], "--last", trip["last"])
        for place in self.rows("places.csv"):
            shedwalk("place", "add", self.catalogue, place["place"],
                     *(("--position", f"{place['latitude']},{place['longitude']}") if place["latitude"] else ("--off-property",)))

    @staticmethod
    def rows(table):
        with open(DEMO / "tables" / table, encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file))

    def read_truth(self):
        """What each file of a trip shows: (item or None, kind)."""
        told = json.loads((self.photos / "truth.json").read_text(encoding="utf-8"))
        shows = {photo["file"]: (photo["item"], photo["kind"]) for photo in told["photos"]}
        for double in told["doubles"]:
            shows[double["file"]] = shows[double["same_as"]]
        return shows

    # ---- one hand on the keyboard ----

    def press(self, *names):
        self.keys += len(names)
        key(*names)

    def write_name(self, name):
        """Counted apart, with the key that ends it."""
        self.letters += len(name) + 1
        type_text(name)
        key("Return")

    def write(self, text):
        self.letters += len(text)
        type_text(text)

    # ---- what is seen ----

    def settled(self, window):
        """The stops as they are proposed, once the strip shows them."""
        def look():
            stops = shedwalk("pair", self.catalogue, "--trip", self.trip, "--json")["stops"]
            seen = window.stops()
            same = len(seen) == len(stops) and all(
                f", {len(stop['photos'])} photo" in sentence for stop, sentence in zip(stops, seen, strict=True))
            return (stops, seen) if same else None
        return until("the strip as proposed", look)

    def chosen(self, window):
        """Photo and stop, from 1."""
        def look():
            for row in children(window.find("list", "Stops")):
                found = has(row, "SELECTED") and CHOSEN.match(row.get_name())
                if found:
                    return int(found[1]), int(found[3])
            return None
        return until("a chosen photo", look)

    def longest_pause(self, stop):
        """Which photo of the stop comes after it, as the times beside the photos tell."""
        times = {photo["photo"]: datetime.datetime.fromisoformat(photo["property_time"])
                 for photo in shedwalk("photos", self.catalogue, "--trip", self.trip, "--json") if photo["property_time"]}
        seen = [times.get(photo) for photo in stop["photos"]]
        pauses = [(after - before).total_seconds() if before and after else -1 for before, after in zip(seen, seen[1:], strict=False)]
        return pauses.index(max(pauses)) + 1

    def shown(self, stop):
        return [self.truth.get(f"trip-{self.trip}/{file}", (None, "mistake")) for file in stop["files"]]

    # ---- one decision ----

    def decide(self, window, stops, seen, at, number):
        stop, shows = stops[number - 1], self.shown(stops[number - 1])
        item, kind = shows[0]
        other = next((i for i, show in enumerate(shows) if show[0] != item), None)
        if other is not None:  # two things in one stop
            if other == self.longest_pause(stop):
                self.press("shift+s")
            else:
                self.press(*["Right" if other + 1 > at else "Left"] * abs(other + 1 - at), "s")
            return
        before = self.shown(stops[number - 2])[-1][0] if number > 1 else None
        if item is not None and item == before and stop["item"] != item and ", Decided," in seen[number - 2]:
            self.press("j")
        elif item is None:
            self.press("a" if stop["item"] is None else {"place": "b", "paper": "p"}.get(kind, "x"))
        elif stop["item"] == item:
            self.press("a")
        elif window.find("push button", f"Or {item} (E)"):
            self.press("e")
        elif window.find("push button", f"Or {item} (Shift+E)"):
            self.press("shift+e")
        elif item in {each["name"] for each in shedwalk("items", self.catalogue, "--json")}:
            self.press("g")
            window.wait("text", "Name of the item")
            self.write(item)
            until("the item", lambda: [row.split(",")[0] for row in window.rows("Items of that name")] == [item])
            self.press("Return")
        else:
            self.press("n")
            window.wait("text", "Name of the new item")
            self.write_name(item)

    def wrong(self):
        """Photos that are decided as another thing than they show. A thing may still be without its name."""
        shows, counts = {}, {}
        for photo in shedwalk("photos", self.catalogue, "--trip", self.trip, "--json"):
            thing = self.truth.get(f"trip-{self.trip}/{photo['file']}", (None, ""))[0]
            items = tuple(photo["items"])
            shows[photo["file"]] = (thing, items)
            counts.setdefault(thing, {}).setdefault(items, 0)
            counts[thing][items] += 1
        best = {thing: max(items, key=items.get) for thing, items in counts.items()}
        best[None] = ()
        owned = {}
        for thing, items in best.items():
            owned.setdefault(items, thing)
        return [(file, thing, items) for file, (thing, items) in shows.items()
                if items != best[thing] or owned[items] != thing]

    def sort_trip(self, trip):
        self.trip = trip
        folder = self.photos / f"trip-{trip}"
        shedwalk("bring-in", self.catalogue, folder, "--trip", trip)
        for notes in folder.glob("notes.*"):
            shedwalk("notes", self.catalogue, notes, "--trip", trip)
        shedwalk("pair", self.catalogue, "--trip", trip)
        window = self.open()
        key("alt+1")
        until("the stops", window.stops)
        window.wait("list", "Stops").grab_focus()
        until("the focus", lambda: has(window.find("list", "Stops"), "FOCUSED"))
        if any(", Sure," in stop for stop in until("the stops", window.stops)):
            self.press("shift+a")
            until("the sure ones", lambda: not any(", Sure," in stop for stop in window.stops()[:1]))
        for _ in range(300):
            stops, seen = self.settled(window)
            if all(", Decided," in stop for stop in seen):
                break
            at, number = self.chosen(window)
            if ", Decided," in seen[number - 1]:
                self.press("d")
                until("another stop", lambda number=number: self.chosen(window)[1] != number)
                continue
            self.decide(window, stops, seen, at, number)
            until("the decision", lambda seen=seen: window.stops() != seen)
        count = len([photo for photo in shedwalk("photos", self.catalogue, "--trip", trip, "--json")])
        wrong = self.wrong()
        window.close()
        self.window = None
        return count, wrong

    def test_the_demo_is_sorted_by_keys(self):
        all_keys = all_photos = 0
        for trip in (1, 2, 3):
            self.keys = self.letters = 0
            photos, wrong = self.sort_trip(trip)
            print(f"\ntrip {trip}: {self.keys} keys for {photos} photos, {self.keys / photos:.2f} a photo; "
                  f"{self.letters} letters of names apart, {self.letters / photos:.2f} a photo; {len(wrong)} wrong", flush=True)
            self.assertLessEqual(len(wrong), photos * 0.04, wrong)  # what "sure" promises is right in 96 of 100
            all_keys, all_photos = all_keys + self.keys, all_photos + photos
        print(f"the demo's trips together: {all_keys / all_photos:.2f} keys a photo")
        self.assertLessEqual(all_keys / all_photos, MOST)
