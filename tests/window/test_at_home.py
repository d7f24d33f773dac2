# SPDX-License-Identifier: GPL-3.0-or-later
"""The window among the desktop's others: what it takes over from the last one, and what a file manager hands it."""

import os
import pathlib

from driver import PROGRAM, Window, WindowTest, extents, has, key, until, xdo

SCHEMAS = pathlib.Path(PROGRAM).parent.parent / "ui" / "desktop"


class AtHome(WindowTest):
    def open_with(self, *arguments):
        """With settings that last from one start to the next, as a desktop has them."""
        self.window = Window.__new__(Window)
        self.window.start([PROGRAM, *map(str, arguments)],
                          dict(os.environ, GSETTINGS_BACKEND="keyfile", GSETTINGS_SCHEMA_DIR=str(SCHEMAS)))
        self.window.wait("radio button", "Takings")
        until("the window in front", lambda: has(self.window.frame, "ACTIVE"))
        return self.window

    def leave(self):
        key("ctrl+q")
        until("the program gone", lambda: self.window.process.poll() == 0)
        self.window.close()

    @staticmethod
    def takings_are_open(window):
        return window.find("label", "Credit to the trip that") is not None

    def test_size_and_takings_stay(self):
        window = self.open_with(self.catalogue)
        before = extents(window.frame)[2]
        self.assertFalse(self.takings_are_open(window))
        key("F9")
        until("the takings open", lambda: self.takings_are_open(window))
        xdo("search", "--onlyvisible", "--class", "org.shedwalk.Shedwalk", "windowsize", 900, 700)
        until("the size", lambda: extents(window.frame)[2] < before - 300)
        width = extents(window.frame)[2]
        self.leave()
        window = self.open_with(self.catalogue)
        until("the takings open again", lambda: self.takings_are_open(window))
        until("the size again", lambda: extents(window.frame)[2] == width)
        key("F9")
        until("the takings folded", lambda: not self.takings_are_open(window))
        self.leave()
        window = self.open_with(self.catalogue)
        until("the size once more", lambda: extents(window.frame)[2] == width)
        self.assertFalse(self.takings_are_open(window))

    def test_the_records_open_their_catalogue(self):
        """A file manager goes by the type of a file, and hands over catalogue.db."""
        window = self.open_with(self.catalogue / "catalogue.db")
        until("the catalogue's name", lambda: window.find("frame", "Orchard"))
