# SPDX-License-Identifier: GPL-3.0-or-later
"""The list of keys. Pictures of the window: of a catalogue that opens, and a plain sentence about one that does not."""

import subprocess

from driver import LIMIT, PROGRAM, WindowTest, key, until


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
        key("F1")
        window.wait("label", "Fold the takings out or in")
        key("Escape")
        until("it gone again", lambda: window.find("label", "Fold the takings out or in") is None)
        key("ctrl+question")
        window.wait("label", "Fold the takings out or in")
