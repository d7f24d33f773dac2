# SPDX-License-Identifier: GPL-3.0-or-later
"""Looking closer with real keys, wheel and drags: through the photos, to the pixels and back, two beside each other, turned,
made the cover, and out again to where the focus was. What is poor is told by a word. Memory stays bounded."""

import pathlib

from PIL import Image, ImageFilter

from driver import WindowTest, children, drag, extents, has, key, make_photo, middle, shedwalk, until, xdo

LIST, OPENER = "Photos looked at closely", "Photos of the item"


class Closer(WindowTest):
    def setUp(self):
        super().setUp()
        card = self.folder / "card"
        for shot in range(4):
            make_photo(card / f"P{shot}.JPG", f"2026:04:04 10:10:{shot * 6:02d}", 5 + shot)
        with Image.open(card / "P2.JPG") as sharp:
            exif = sharp.getexif()
            sharp.filter(ImageFilter.GaussianBlur(5)).save(card / "P2.JPG", exif=exif)
        with Image.open(card / "P3.JPG") as light:
            exif = light.getexif()
            light.point(lambda value: value // 12).save(card / "P3.JPG", exif=exif)
        self.bring(card)

    def bring(self, card):
        shedwalk("bring-in", self.catalogue, card, "--trip", 1)
        numbers = [photo["photo"] for photo in shedwalk("photos", self.catalogue, "--json")]
        shedwalk("assign", self.catalogue, *numbers, "--item", 1)
        shedwalk("pair", self.catalogue, "--trip", 1)  # looks at the photos

    def open_closer(self):
        window = self.open()
        key("alt+2")
        window.row("Items", "Screw press").do_action(0)
        until("its photos", lambda: window.rows(OPENER))
        window.find("list", OPENER).grab_focus()
        until("the focus", lambda: has(window.find("list", OPENER), "FOCUSED"))
        key("Return")
        self.shown("1 of ")
        return window

    def shown(self, begins, side=0):
        return until(f"{begins!r} closer", lambda: next(
            (row for row in self.window.rows(LIST)[side:side + 1] if row.startswith(begins)), None))

    def zoom(self, text):
        until(f"{text!r} told", lambda: self.window.find("label", text))

    def test_through_the_photos_and_back_to_the_focus(self):
        window = self.open_closer()
        key("Right")
        self.shown("2 of 4")
        key("End")
        self.assertTrue(self.shown("4 of 4").endswith(", too dark"))
        key("Left")
        self.assertTrue(self.shown("3 of 4").endswith(", blurred"))
        key("Home")
        self.assertFalse(self.shown("1 of 4").endswith(("dark", "blurred", "covered")))
        key("Next", "Next", "Prior")
        self.shown("2 of 4")
        key("Escape")
        opener = window.wait("list", OPENER)
        until("the focus where it was", lambda: has(opener, "FOCUSED"))
        until("the photo looked at last", lambda: has(children(opener)[1], "SELECTED"))

    def test_to_the_pixels_and_back(self):
        window = self.open_closer()
        self.zoom("100 %")  # the photo is smaller than the view: it is not enlarged
        key("2")
        self.zoom("200 %")
        key("plus")
        self.zoom("283 %")
        key("minus", "minus")
        self.zoom("141 %")
        key("1")
        self.zoom("100 %")
        xdo("mousemove", *middle(window.find("list", LIST)), "click", "--repeat", 2, "--delay", 20, 4)
        self.zoom("200 %")
        key("Right", "Up")  # moves over the photo, not on
        self.shown("1 of 4")
        key("0")
        self.zoom("100 %")
        key("Right")
        self.shown("2 of 4")

    def screen(self, node):
        from test_contrast import grab
        return list(grab(extents(node)).getdata())

    def test_a_drag_moves_over_the_photo(self):
        window = self.open_closer()
        self.zoom("100 %")
        for _ in range(6):
            key("plus")
        self.zoom("800 %")
        photo = window.find("list", LIST)
        before = until("it at rest", lambda: (lambda seen: seen if seen == self.screen(photo) else None)(self.screen(photo)))
        x, y = middle(photo)
        drag((x, y), (x - 200, y - 100))
        until("another part of it", lambda: self.screen(photo) != before)

    def test_two_beside_each_other(self):
        window = self.open_closer()
        key("b")
        self.shown("1 of 4")
        self.shown("2 of 4", 1)
        until("the right one is turned to", lambda: has(children(window.find("list", LIST))[1], "SELECTED"))
        key("Right")
        self.shown("3 of 4", 1)
        self.shown("1 of 4")
        key("x")
        until("the left one", lambda: has(children(window.find("list", LIST))[0], "SELECTED"))
        key("Next")
        self.shown("2 of 4")
        key("b")
        until("one again", lambda: len(window.rows(LIST)) == 1)
        self.shown("2 of 4")

    def test_turned_and_made_the_cover(self):
        window = self.open_closer()
        photo = window.find("list", LIST)
        self.zoom("100 %")
        upright = self.screen(photo)
        key("t")
        window.told("Photo 1 turned")
        until("it turned on the screen", lambda: self.screen(photo) != upright)
        self.assertEqual({one["orientation"] for one in shedwalk("photos", self.catalogue, "--json")}, {1})
        key("ctrl+z")
        window.told("Undone: Photo 1 turned")
        until("it upright again", lambda: self.screen(photo) == upright)
        key("Right")
        self.shown("2 of 4, Screw press")
        key("c")
        self.shown("2 of 4, cover of Screw press")
        until("the button says so", lambda: has(window.find("toggle button", "Cover"), "CHECKED"))
        key("c")  # proposed again: the first good one
        self.shown("2 of 4, Screw press")
        key("Left")
        self.shown("1 of 4, cover of Screw press")
        shedwalk("check", self.catalogue)

    def test_a_large_photo_costs_no_more_than_the_budget(self):
        card = self.folder / "large"
        card.mkdir()
        exif = Image.Exif()
        exif[0x8769] = {0x9003: "2026:04:03 09:00:00"}
        Image.effect_mandelbrot((8000, 6000), (-2, -1.5, 1, 1.5), 12).convert("RGB").save(card / "L.JPG", quality=70, exif=exif)
        self.bring(card)
        window = self.open_closer()
        key("End")
        self.shown("5 of 5")
        until("its size known", lambda: not window.find("label", "100 %"))
        key("1")
        self.zoom("100 %")
        key(*["Right"] * 12)
        key("b")
        self.shown("4 of 5", 1)
        key("0")
        pid = window.process.pid
        kilobytes = next(int(line.split()[1]) for line in pathlib.Path(f"/proc/{pid}/status").read_text().splitlines()
                         if line.startswith("VmHWM:"))
        self.assertLess(kilobytes, 420_000)  # 260 MB of pixels at most (closer-pixels.h) over the window itself
