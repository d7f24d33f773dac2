# SPDX-License-Identifier: GPL-3.0-or-later
"""What goes wrong while photos come in: the window says it in one sentence and goes on, and run again it ends as if nothing
had been."""

import mmap
import os
import pathlib
import signal
import struct
import subprocess
import sys

from driver import PROGRAM, Window, WindowTest, click, has, key, make_photo, shedwalk, until

SPACE = ["unshare", "-m"] if os.geteuid() == 0 else ["unshare", "-Urm"]


def can_mount(folder):
    return subprocess.run([*SPACE, "mount", "-t", "tmpfs", "-o", "size=1m", "none", folder], stderr=subprocess.DEVNULL,
                          check=False).returncode == 0


class BadCards(WindowTest):
    def make_card(self, copies=0):
        """Twelve photos, each with so many others that differ behind the picture's end."""
        card = self.folder / "card"
        for number in range(12):
            path = card / f"P{number:02d}.JPG"
            make_photo(path, f"2026:04:04 10:{number:02d}:00", number)
            whole = path.read_bytes()
            for copy in range(copies):
                path.with_name(f"{path.stem}-{copy:03d}.JPG").write_bytes(whole + bytes([copy]) * 4096)
        return card

    def count(self, catalogue=None):
        return len(shedwalk("photos", catalogue or self.catalogue, "--json"))

    def look(self, window, card):
        key("ctrl+b")
        window.choose_folder("Folder with the photos", card)
        return window.wait("push button", lambda text: text in ("Bring them in", "Compare every byte"))

    def held_in_mid_copy(self, window):
        """Stops the program when some photos are there and some are not."""
        photos = self.catalogue / "photos"
        until("some photos there", lambda: sum(path.is_file() for path in photos.rglob("*")) > 20)
        window.process.send_signal(signal.SIGSTOP)

    def goes_on(self, window, card, total):
        window.wait("push button", "Bring photos in…")
        until("at rest", lambda: not window.find("push button", "Stop"))
        window.bring_in(card)
        window.told("The memory card may be cleared now.")
        self.assertEqual(self.count(), total)
        shedwalk("check", self.catalogue)

    def test_the_card_is_pulled_out_while_it_is_copied(self):
        card, away = self.make_card(99), self.folder / "away"
        window = self.open()
        self.look(window, card)
        key("Return")
        self.held_in_mid_copy(window)
        card.rename(away)
        window.process.send_signal(signal.SIGCONT)
        window.told("The folder with the photos went away: ")
        self.assertLess(self.count(), 1200)
        away.rename(card)
        self.goes_on(window, card, 1200)

    def test_the_card_is_pulled_out_while_it_is_looked_at(self):
        card, away = self.make_card(199), self.folder / "away"
        window = self.open()
        key("ctrl+b")
        window.choose_folder("Folder with the photos", card)
        window.wait("push button", "Cancel")
        card.rename(away)
        # it may just have been through
        said = until("an end", lambda: window.find("label", lambda text: "nothing was taken" in text.lower() or "2400 photos" in text
                                                    or "could not be read" in text))
        if "2400 photos" in said.get_name():
            window.confirm_bring_in()
            window.told(lambda text: text.startswith("The photos in") or "went away" in text)
        else:
            key("alt+a")
            window.wait("push button", "Choose a folder…")
            key("Escape")
        self.assertEqual(self.count(), 0)
        away.rename(card)
        self.goes_on(window, card, 2400)

    def test_the_same_card_twice(self):
        card = self.make_card(1)
        window = self.open()
        window.bring_in(card)
        window.told("The memory card may be cleared now.")
        until("at rest", lambda: not window.find("push button", "Stop"))
        window.wait("push button", "Bring photos in…")
        self.look(window, card)
        window.wait("label", "All of it is here already")
        window.wait("label", "24 are in the catalogue already")
        key("Return")
        window.wait("label", lambda text: text.startswith("0 photos taken") and "24 there already" in text)
        window.told("The memory card may be cleared now.")
        self.assertEqual(self.count(), 24)

    def test_why_the_card_may_not_be_cleared(self):
        card = self.make_card()
        (card / "P98.JPG").write_bytes(b"")
        (card / "P99.JPG").write_bytes(b"no picture")
        window = self.open()
        self.look(window, card)
        window.wait("label", "2 files cannot be taken")
        window.wait("label", "P98.JPG: The file is empty.")
        key("Return")
        window.told("Keep the memory card: P98.JPG and P99.JPG could not be taken.")
        window.wait("label", lambda text: text.startswith("P99.JPG: refused: "))
        self.assertEqual(self.count(), 12)

    def test_a_command_changes_the_catalogue_meanwhile(self):
        card = self.make_card(99)
        window = self.open()
        self.look(window, card)
        key("Return")
        self.held_in_mid_copy(window)
        window.process.send_signal(signal.SIGCONT)
        shedwalk("place", "add", self.catalogue, "Cooperage")
        shedwalk("item", "add", self.catalogue, "Cask", "--place", "Cooperage", "--trip", 1)
        window.told("The memory card may be cleared now.")
        self.assertEqual(self.count(), 1200)
        key("alt+2")
        window.row("Places", "Cooperage")
        shedwalk("check", self.catalogue)

    def test_the_catalogue_is_moved_meanwhile(self):
        card, moved = self.make_card(99), self.folder / "Moved.shedwalk"
        window = self.open()
        self.look(window, card)
        key("Return")
        self.held_in_mid_copy(window)
        self.catalogue.rename(moved)
        window.process.send_signal(signal.SIGCONT)
        window.told(lambda text: "moved" in text)
        self.assertFalse(self.catalogue.exists())
        window.wait("push button", "Bring photos in…")
        window.close()
        self.catalogue = moved
        window = self.open()
        self.goes_on(window, card, 1200)

    def test_the_clock_leaps_meanwhile(self):
        """Hours on, as after a sleep of the machine, and then back before the day it began."""
        leap, hour = self.folder / "leap", 3600 * 10**6
        leap.write_bytes(struct.pack("=q", 0))
        card = self.make_card(99)
        with open(leap, "r+b") as file, mmap.mmap(file.fileno(), 8) as clock:
            os.environ.update(LD_PRELOAD=os.environ["SHEDWALK_LEAP_LIBRARY"], SHEDWALK_LEAP=str(leap))
            try:
                window = self.open()
            finally:
                del os.environ["LD_PRELOAD"], os.environ["SHEDWALK_LEAP"]
            self.look(window, card)
            key("Return")
            self.held_in_mid_copy(window)
            clock[:] = struct.pack("=q", 9 * hour)
            window.process.send_signal(signal.SIGCONT)
            window.told("The memory card may be cleared now.")
            until("at rest", lambda: not window.find("push button", "Stop"))
            self.assertEqual(self.count(), 1200)
            clock[:] = struct.pack("=q", -48 * hour)
            window.wait("list", "Stops").grab_focus()
            until("the focus", lambda: has(window.find("list", "Stops"), "FOCUSED"))
            key("Home", "a")
            until("decided", lambda: any(", Decided," in stop for stop in window.stops()[:1]))
            key("z")
            window.told("Undone: ")
            until("open again", lambda: not any(", Decided," in stop for stop in window.stops()[:1]))
            key("ctrl+z")
            window.told("Undone: ")
            until("the photos aside", lambda: self.count() == 0)
            key("ctrl+y")
            window.told("Done again: ")
            until("the photos back", lambda: self.count() == 1200)
            shedwalk("check", self.catalogue)

    def helpers(self, window):
        """Processes that decode pictures for the window."""
        found = []
        for each in pathlib.Path("/proc").glob("[0-9]*"):
            try:
                words = (each / "cmdline").read_bytes().split(b"\0")
                parent = int((each / "stat").read_text(encoding="ascii").rsplit(")", 1)[1].split()[1])
            except (OSError, IndexError, ValueError):
                continue
            if b"--decode" in words and parent == window.process.pid:
                found.append(int(each.name))
        return found

    def test_a_picture_that_takes_a_decoder_minutes(self):
        """The helpers stand still: what waits for them waits, and what does not goes on."""
        card, stopped = self.make_card(), set()
        window = self.open()
        self.look(window, card)
        key("Return")

        def hold():
            for helper in self.helpers(window):
                if helper not in stopped:
                    os.kill(helper, signal.SIGSTOP)
                    stopped.add(helper)
            return stopped
        until("a helper at work", hold)
        self.addCleanup(lambda: [os.kill(helper, signal.SIGCONT) for helper in self.helpers(window)])
        window.told("The memory card may be cleared now.")
        until("still looking", lambda: hold() and window.find("push button", "Stop"))
        key("alt+2")
        window.row("Places", "Glasshouse")
        key("alt+1")
        shedwalk("item", "add", self.catalogue, "Cask", "--place", "Glasshouse", "--trip", 1)
        window.told("Another program changed the catalogue")
        self.assertTrue(window.find("push button", "Stop"))  # the picture is not there yet
        window.find("push button", "Stop").do_action(0)
        until("stopped", lambda: window.find("push button", "Stop") is None)
        for helper in self.helpers(window):
            os.kill(helper, signal.SIGCONT)
        self.assertEqual(self.count(), 12)
        window.wait("push button", "Bring photos in…")
        window.bring_in(card)
        until("stops", lambda: window.stops())

    def test_the_disk_fills_up(self):
        disk, card = self.folder / "disk", self.make_card(39)
        disk.mkdir()
        if not can_mount(disk):
            self.skipTest("no disk can be mounted here")
        inside = disk / "Orchard.shedwalk"
        script = f"mount -t tmpfs -o size=16m none '{disk}' && cp -a '{self.catalogue}' '{inside}' && exec '{PROGRAM}' '{inside}'"
        self.window = window = Window.__new__(Window)
        window.start([*SPACE, "sh", "-c", script])
        window.wait("radio button", "Takings")
        self.look(window, card)
        enter = ["nsenter", "-t", str(window.process.pid), "-m", *(["-U", "--preserve-credentials"] if os.geteuid() else [])]
        filler = f"import os; fd = os.open('{disk}/filler', os.O_CREAT | os.O_WRONLY); os.posix_fallocate(fd, 0, 9 << 20)"
        subprocess.run([*enter, sys.executable, "-c", filler], check=True)
        key("Return")
        window.told("The disk is full: ")
        subprocess.run([*enter, "rm", str(disk / "filler")], check=True)
        until("at rest", lambda: not window.find("push button", "Stop"))
        window.wait("push button", "Bring photos in…")
        window.bring_in(card)
        window.told("The memory card may be cleared now.")
        subprocess.run([*enter, PROGRAM, "check", str(inside)], check=True, stdout=subprocess.DEVNULL)

    def test_a_look_at_a_card_too_large_for_the_disk(self):
        disk, card = self.folder / "disk", self.make_card(39)
        disk.mkdir()
        if not can_mount(disk):
            self.skipTest("no disk can be mounted here")
        inside = disk / "Orchard.shedwalk"
        script = f"mount -t tmpfs -o size=6m none '{disk}' && cp -a '{self.catalogue}' '{inside}' && exec '{PROGRAM}' '{inside}'"
        self.window = window = Window.__new__(Window)
        window.start([*SPACE, "sh", "-c", script])
        window.wait("radio button", "Takings")
        key("ctrl+b")
        window.choose_folder("Folder with the photos", card)
        window.wait("label", lambda text: "are needed and only" in text and text.endswith("then look again."))
        until("the focus", lambda: has(window.wait("push button", "Cancel"), "FOCUSED") and has(window.frame, "ACTIVE"))
        key("Escape")
        window.wait("push button", "Bring photos in…")

    def test_a_long_look_is_stopped(self):
        card = self.make_card(199)
        window = self.open()
        key("ctrl+b")
        window.choose_folder("Folder with the photos", card)
        window.wait("push button", "Cancel")
        until("the window in front again", lambda: has(window.frame, "ACTIVE") and window.find("push button", "Cancel"))
        key("alt+c")  # the same key where the look has just been through
        window.wait("push button", "Bring photos in…")
        self.assertEqual(self.count(), 0)
        self.goes_on(window, card, 2400)

    def test_another_page_while_it_is_looked_at(self):
        """The look goes on behind the other page, says when it is through, and is there when one comes back."""
        card = self.make_card(199)
        window = self.open()
        key("ctrl+b")
        window.choose_folder("Folder with the photos", card)
        window.wait("push button", "Cancel")
        until("the window in front again", lambda: has(window.frame, "ACTIVE"))
        key("alt+2")
        window.row("Places", "Glasshouse")
        key("alt+1")
        until("the look", lambda: window.find("push button", "Cancel") or window.find("push button", "Bring them in"))
        key("alt+2")
        window.row("Places", "Glasshouse")
        click(window.wait("radio button", "Photos in"))
        window.wait("label", lambda text: text.startswith("2400 photos"))
        until("the focus", lambda: has(window.wait("push button", "Bring them in"), "FOCUSED"))
        key("alt+2")  # also when it is through
        window.row("Places", "Glasshouse")
        key("alt+1")
        window.confirm_bring_in()
        window.told("The memory card may be cleared now.")
        self.assertEqual(self.count(), 2400)
        key("alt+2")
        window.row("Places", "Glasshouse")
        key("alt+1")
        window.wait("push button", "Bring photos in…")  # the photos of the trip, and no look is left
        self.assertIsNone(window.find("push button", "Compare every byte"))

    def test_a_look_ends_behind_another_page(self):
        card = self.make_card()
        # the same photos under many names: more than the busiest machine looks at before the words are seen
        for i in range(60000):
            (card / f"Q{i:05d}.JPG").hardlink_to(card / f"P{i % 2:02d}.JPG")
        window = self.open()
        key("ctrl+b")
        window.choose_folder("Folder with the photos", card)
        window.wait("label", "Looking at what is there")
        until("the window in front again", lambda: has(window.frame, "ACTIVE"))
        key("alt+2")
        window.told("The folder is looked at: see Photos in.")
        key("alt+1")
        window.wait("push button", "Bring them in")
        key("Escape")
        window.wait("push button", "Bring photos in…")
        self.assertEqual(self.count(), 0)

    def test_photos_of_an_earlier_trip_than_the_next(self):
        """The next stay is on record already: what is shown is the trip whose photos came."""
        shedwalk("trip", "add", self.catalogue, "--title", "Winter", "--first", "2026-07-03", "--last", "2026-07-06")
        window = self.open()
        key("alt+1")
        window.wait("push button", "Bring photos in…")
        window.bring_in(self.make_card())
        window.told("The memory card may be cleared now.")
        until("the stops of the first trip", window.stops)
