# SPDX-License-Identifier: GPL-3.0-or-later
"""A stick and a phone that are plugged in and pulled out, by a volume monitor of the tests' own (stand-in.c)."""

import os
import pathlib
import shutil

from driver import WindowTest, has, key, make_photo, shedwalk, until

MODULE = pathlib.Path(os.environ["SHEDWALK_STAND_IN_LIBRARY"])


class Media(WindowTest):
    def setUp(self):
        super().setUp()
        self.media = self.folder / "media"
        self.media.mkdir()
        modules = self.folder / "modules"
        modules.mkdir()
        shutil.copy(MODULE, modules / "libstand-in.so")
        for name, value in (("SHEDWALK_STAND_IN", self.media), ("GIO_EXTRA_MODULES", modules)):
            before = os.environ.get(name)
            os.environ[name] = str(value)
            self.addCleanup(lambda name=name, before=before: os.environ.pop(name) if before is None
                            else os.environ.__setitem__(name, before))

    def plug_in(self, name, inner=""):
        """Whole at once, as a mount comes."""
        card = self.folder / "made" / name
        (card / inner).mkdir(parents=True)
        for shot in range(3):
            make_photo(card / inner / "DCIM" / f"P{shot}.JPG", f"2026:04:04 10:10:{shot * 6:02d}", shot)
        card.rename(self.media / name)

    def test_a_phone_is_plugged_in_and_brought_in(self):
        (self.folder / "made" / "EMPTY").mkdir(parents=True)
        (self.folder / "made" / "EMPTY").rename(self.media / "EMPTY")
        window = self.open()
        key("alt+1", "ctrl+b")
        window.wait("push button", "EMPTY")
        self.assertIsNone(window.find("push button", "Phone, with photos"))
        self.plug_in("Phone", "Internal storage")  # phones have a folder for each of their stores
        button = window.wait("push button", "Phone, with photos")
        until("the focus", lambda: has(button, "FOCUSED"))
        key("Return")
        window.confirm_bring_in()
        window.told("The memory card may be cleared now.")
        self.assertEqual(len(shedwalk("photos", self.catalogue, "--json")), 3)

    def test_what_is_pulled_out_is_no_longer_offered(self):
        self.plug_in("STICK")
        window = self.open()
        key("alt+1", "ctrl+b")
        window.wait("push button", "STICK, with photos")
        (self.media / "STICK").rename(self.folder / "gone")
        until("it gone", lambda: window.find("push button", "STICK, with photos") is None)
        (self.folder / "gone").rename(self.media / "STICK")
        window.wait("push button", "STICK, with photos")

    def test_pulled_out_after_the_look(self):
        self.plug_in("STICK")
        window = self.open()
        key("alt+1", "ctrl+b")
        button = window.wait("push button", "STICK, with photos")
        until("the focus", lambda: has(button, "FOCUSED"))
        key("Return")
        until("the look", lambda: window.find("push button", "Bring them in"))
        (self.media / "STICK").rename(self.folder / "gone")
        window.confirm_bring_in()
        window.wait("label", lambda text: "STICK" in text and text.endswith("."))
        self.assertEqual(shedwalk("photos", self.catalogue, "--json"), [])
