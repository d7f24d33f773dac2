# SPDX-License-Identifier: GPL-3.0-or-later
"""A hundred thousand photos in one folder: the look goes through them and the window answers meanwhile, copying begins, and a stop
leaves what was taken. Counts and processor time decide, never the clock on the wall."""

import datetime
import os

from driver import key, shedwalk, until
from many import make_photos
from watched import Watched

PHOTOS = int(os.environ.get("SHEDWALK_PHOTOS", "100000"))


class LargeFolder(Watched):
    def test_a_hundred_thousand(self):
        card = self.folder / "card"
        make_photos(card, 0, PHOTOS, datetime.date(2026, 4, 3))
        window = self.open_watched()
        key("alt+1")
        window.wait("push button", "Bring photos in…")

        def look():
            key("ctrl+b")
            window.choose_folder("Folder with the photos", card)
            window.wait("push button", "Cancel")
            # pages are gone through while it looks
            for page in (2, 1) * 5:
                key(f"alt+{page}")
            until("the look", lambda: window.find("push button", "Bring them in"))
        self.phase("looking", look)
        window.wait("label", lambda text: text.startswith(f"{PHOTOS} photos"))

        def begin():
            window.confirm_bring_in()
            photos = self.catalogue / "photos"
            until("some photos there", lambda: photos.exists() and any(path.is_dir() and any(path.iterdir())
                                                                       for path in photos.iterdir()))
            for page in (2, 1) * 5:
                key(f"alt+{page}")
            until("it goes on", lambda: window.find("push button", "Stop"))
        self.phase("beginning to copy", begin)
        self.phase("stopping", lambda: (window.find("push button", "Stop").do_action(0), window.wait("push button", "Bring photos in…")))
        until("at rest", lambda: not window.find("push button", "Stop"))
        taken = len(shedwalk("photos", self.catalogue, "--json"))
        self.assertGreater(taken, 0)
        self.assertLess(taken, PHOTOS)
        shedwalk("check", self.catalogue)
        self.judge()
