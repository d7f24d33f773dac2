# SPDX-License-Identifier: GPL-3.0-or-later
"""The window at 1280x720, beside a browser at 640x720, and with letters twice as large: nothing forced out of view."""

import os
import subprocess
import unittest.mock

from driver import PROGRAM, WindowTest, children, extents, key, make_photo, middle, mirrored, shedwalk, until, xdo
from PIL import Image

NEXT_OF_FOUND = ["Ready", "On hold", "Sold", "Bring home", "For scrap", "Kept", "Given away", "Disposed", "Broken up", "Missing"]


class Sizes(WindowTest):
    def bring_photos(self):
        for shot in range(4):
            make_photo(self.folder / "card" / f"P{shot}.JPG", f"2026:04:04 10:10:{shot * 6:02d}", shot)
        shedwalk("bring-in", self.catalogue, self.folder / "card", "--trip", 1)
        numbers = [photo["photo"] for photo in shedwalk("photos", self.catalogue, "--json")]
        shedwalk("assign", self.catalogue, *numbers, "--item", 1)

    @staticmethod
    def windows(window):
        """Of the program on the screen, by their X numbers."""
        return subprocess.run(["xdotool", "search", "--onlyvisible", "--pid", str(window.process.pid)], check=True,
                              capture_output=True, text=True).stdout.split()

    def size(self, window, width, height):
        """Of the frame as the screen shows it; what the shadow adds is put right by the difference."""
        xdo("windowsize", "--sync", self.windows(window)[-1], width, height)
        until(f"{width}x{height}", lambda: abs(extents(window.frame)[2] - width) <= 60)

    def bottom(self, window):
        bar = window.wait("toggle button", lambda text: text.startswith("Takings "))
        return extents(bar)[1]

    def test_state_fields_and_next_steps_are_in_view(self):
        self.bring_photos()
        window = self.open()
        self.size(window, 1280, 720)
        key("alt+2")
        window.row("Items", "Screw press").do_action(0)
        for step in NEXT_OF_FOUND:
            button = window.wait("push button", step)
            until(f"{step} in view", lambda button=button: 0 < extents(button)[1] + extents(button)[3] <= self.bottom(window))
        for field in ("Name", "Count", "Asking"):
            box = extents(window.wait("text", field))
            self.assertLess(box[1] + box[3], self.bottom(window))
        photo, name = extents(window.wait("list", "Photos of the item")), extents(window.wait("text", "Name"))
        self.assertLessEqual(photo[0] + photo[2], name[0], "the photo stands beside the fields")

    def test_one_column_beside_a_browser(self):
        self.bring_photos()
        window = self.open()
        self.size(window, 640, 720)
        key("ctrl+f")
        window.row("Items", "Screw press").do_action(0)
        name = window.wait("text", "Name")
        photo = window.wait("list", "Photos of the item")
        until("the fields under the photo", lambda: extents(photo)[1] + extents(photo)[3] <= extents(name)[1])

    def test_boxes_of_the_plan_tell_all_on_hover(self):
        window = self.open()
        key("alt+2")
        row = window.row("Plan of the property", "Press house,")
        before = len(self.windows(window))
        xdo("mousemove", *middle(row))
        xdo("mousemove_relative", 3, 2)
        until("its tooltip", lambda: len(self.windows(window)) > before)

    def test_letters_twice_as_large(self):
        for trip in range(2, 9):
            shedwalk("trip", "add", self.catalogue, "--title", f"Trip of many words {trip}", "--first", f"2026-05-{trip:02d}",
                     "--last", f"2026-05-{trip:02d}")
        for width in (1280, 640):
            out = self.folder / f"at-{width}"
            out.mkdir()
            done = subprocess.run([PROGRAM, "--pictures", out, self.catalogue], check=False, capture_output=True, text=True,
                                  env={**os.environ, "GDK_DPI_SCALE": "2", "SHEDWALK_SIZE": f"{width}x720"})
            self.assertEqual(done.returncode, 0, done.stderr)
            sizes = {}
            for path in out.glob("*.png"):
                with Image.open(path) as picture:
                    sizes[path.stem] = picture.size
            self.assertIn("panel", sizes)
            self.assertEqual({name: size for name, size in sizes.items() if size[0] > width or size[1] > 720}, {})

    def test_the_trade_beside_a_browser_with_letters_twice_as_large(self):
        """Offers that close, sales, what did not sell, scrap: 640x720 holds each of them, and no figure is cut for want of room."""
        table = self.folder / "rows.csv"
        table.write_text("what,outlet,kind,ref,item,up,closes,at,amount,result,buyer\noutlet,Hill Road,auction,,,,,,,,\n"
                         "offer,Hill Road,,A1,1,2026-04-14,2099-04-26T20:00,,,,\n"
                         "offer,Hill Road,,A2,2,2026-04-14,2026-04-26T20:00,,,,\nresult,,,A2,,,,2026-04-26,,no sale,\n"
                         "sale,,,S1,3,,,2026-04-20,1204.50,,The neighbour across the road\n", encoding="utf-8")
        shedwalk("book", self.catalogue, table)
        out = self.folder / "out"
        out.mkdir()
        done = subprocess.run([PROGRAM, "--pictures", out, self.catalogue], check=False, capture_output=True, text=True,
                              env={**os.environ, "GDK_DPI_SCALE": "2", "SHEDWALK_SIZE": "640x720",
                                   "SHEDWALK_SCENES": "night,running,unsold,sales,scrap,rounds,outlets,takings"})
        self.assertEqual(done.returncode, 0, done.stderr)
        sizes = {}
        for path in out.glob("*.png"):
            with Image.open(path) as picture:
                sizes[path.stem] = picture.size
        self.assertEqual(len(sizes), 8)
        self.assertEqual({name: size for name, size in sizes.items() if size != (640, 720)}, {})
        os.environ["GDK_DPI_SCALE"] = "2"
        self.addCleanup(os.environ.pop, "GDK_DPI_SCALE", None)
        window = self.open()
        self.size(window, 640, 720)
        # the pages' titles stand on two lines, inside their buttons
        until("room for two lines", lambda: extents(window.wait("radio button", "Photos in"))[3] >= 60)
        key("alt+3")
        window.wait("radio button", "Sales").do_action(0)
        summary = window.wait("label", lambda text: text.startswith("1 sale"))
        # in letters twice as large it is wider than in plain ones, or stands on several lines: nothing of it is left out
        until("all of the summary", lambda: extents(summary)[2] >= 260 or extents(summary)[3] >= 60)

    def test_mirrored_where_one_reads_from_the_right(self):
        self.bring_photos()
        environment = unittest.mock.patch.dict(os.environ, mirrored(self))
        environment.start()
        self.addCleanup(environment.stop)
        window = self.open()

        def stands_right_of(one, other):
            return extents(one)[0] >= extents(other)[0] + extents(other)[2]

        key("alt+2")
        plan, items = window.wait("list", "Plan of the property"), window.wait("list", "Items")
        until("places right of items", lambda: stands_right_of(plan, items))
        self.assertTrue(stands_right_of(window.wait("push button", "Undo"), window.wait("toggle button", "Menu")))
        self.assertTrue(stands_right_of(window.wait("radio button", "Photos in"), window.wait("radio button", "Takings")))
        window.row("Items", "Screw press").do_action(0)
        until("its photos", lambda: window.rows("Photos of the item"))
        window.find("list", "Photos of the item").get_child_at_index(0).do_action(0)
        window.wait("list", "Photos looked at closely")
        key("b")
        sides = until("two", lambda: len(window.rows("Photos looked at closely")) == 2
                      and children(window.find("list", "Photos looked at closely")))
        self.assertTrue(stands_right_of(*sides))
        key("Left")
        until("left goes on", lambda: window.rows("Photos looked at closely")[1].startswith("3 of 4"))
        self.assertTrue(stands_right_of(window.wait("push button", "Photo before"), window.wait("push button", "Next photo")))
