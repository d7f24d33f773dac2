# SPDX-License-Identifier: GPL-3.0-or-later
"""The list of keys. Pictures of the window: of a catalogue that opens, and a plain sentence about one that does not."""

import subprocess

from driver import LIMIT, PROGRAM, WindowTest, click, has, key, until

PAGES = ("Photos in", "Property", "On offer", "Next trip", "Takings")


class Pictures(WindowTest):
    def take(self, catalogue):
        out = self.folder / "out"
        out.mkdir()
        done = subprocess.run([PROGRAM, "--pictures", out, catalogue], check=False, capture_output=True, text=True,
                              timeout=4 * LIMIT)
        return done, out

    def test_of_a_catalogue(self):
        done, out = self.take(self.catalogue)
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertTrue((out / "property.png").stat().st_size > 1000)

    def test_of_a_damaged_one(self):
        (self.catalogue / "catalogue.db").write_bytes(b"no database at all" * 500)
        done, out = self.take(self.catalogue)
        self.assertEqual(done.returncode, 1)
        self.assertEqual(list(out.iterdir()), [])
        said = [line for line in done.stderr.splitlines() if line.startswith("There are no pictures of ")]
        self.assertEqual(len(said), 1, done.stderr)
        self.assertTrue(said[0].endswith("."))

    def test_of_none(self):
        done, _ = self.take(self.folder / "Nowhere.shedwalk")
        self.assertEqual(done.returncode, 1)
        self.assertIn("There are no pictures of ", done.stderr)


class Shortcuts(WindowTest):
    def test_the_list_of_keys_comes_when_asked_for(self):
        window = self.open()
        key("ctrl+question")
        window.wait("label", "Fold the takings out or in")
        key("Escape")
        until("it gone again", lambda: window.find("label", "Fold the takings out or in") is None)

    def test_each_page_says_what_its_words_mean(self):
        window = self.open()
        for number, words in enumerate(("Stop", "Floor", "Closing night", "Last day", "Proceeds"), 1):
            key(f"alt+{number}")
            until("the page", lambda: has(window.find("radio button", PAGES[number - 1]), "CHECKED"))
            key("F1")
            window.wait("label", f"{PAGES[number - 1]}: what it means")
            self.assertIsNotNone(window.find("label", words))
            until("the focus in it", lambda: has(window.find("push button", "Keyboard shortcuts"), "FOCUSED"))
            key("Escape")
            until("it gone again", lambda: window.find("label", f"{PAGES[number - 1]}: what it means") is None)
        window.find("push button", "What does this mean?").do_action(0)
        window.wait("label", "Takings: what it means")
        window.find("push button", "Keyboard shortcuts").do_action(0)
        window.wait("label", "Fold the takings out or in")

    def test_a_walk_through_the_pages(self):
        """Its steps show the pages in their order; the page can be used meanwhile, and one may leave or go back."""
        window = self.open()
        click(window.wait("toggle button", "Menu"))
        window.wait("push button", "Walk through the pages").do_action(0)
        window.wait("label", "1 of 8")
        seen = []
        for step in range(1, 9):
            window.wait("label", f"{step} of 8")
            until("the focus on the way on", lambda: has(window.find("push button", "Next") or window.find("push button", "Done"), "FOCUSED"))
            seen.append(next(page for page in PAGES if has(window.find("radio button", page), "CHECKED")))
            if step == 2:
                key("shift+Tab")
                until("the focus on the way back", lambda: has(window.find("push button", "Back"), "FOCUSED"))
                key("Return")
                window.wait("label", "1 of 8")
                until("the focus on the way on", lambda: has(window.find("push button", "Next"), "FOCUSED"))
                key("Return")
                window.wait("label", "2 of 8")
                until("the focus on the way on", lambda: has(window.find("push button", "Next"), "FOCUSED"))
            key("Return")
        until("it gone", lambda: window.find("label", "8 of 8") is None)
        self.assertEqual(list(dict.fromkeys(seen)), list(PAGES))
