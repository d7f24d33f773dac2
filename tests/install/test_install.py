# SPDX-License-Identifier: GPL-3.0-or-later
"""Installs into a folder of its own and reads what lies there with the tools of the desktop: the entry, the
description, the type of a catalogue, icons, settings, manual page, completions. It runs from wherever it is moved to,
and uninstalling leaves nothing."""
import os
import pathlib
import re
import shutil
import subprocess
import tempfile
import unittest

from PIL import Image

BUILD = os.environ["SHEDWALK_BUILD"]
ID = "org.shedwalk.Shedwalk"


def run(*words, **options):
    environment = dict(os.environ, **options.pop("env", {}))
    return subprocess.run([str(word) for word in words], capture_output=True, text=True, check=False, env=environment,
                          stdin=subprocess.DEVNULL, **options)


def install(folder):
    done = run("meson", "install", "-C", BUILD, "--no-rebuild", "--destdir", folder)
    if done.returncode != 0:
        raise AssertionError(done.stdout + done.stderr)


class Installed(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = pathlib.Path(tempfile.mkdtemp(prefix="shedwalk-install-"))
        install(cls.folder / "staged")
        staged = next((cls.folder / "staged").rglob("bin/shedwalk")).parent.parent
        # from any prefix: moved to where nobody said it would be
        cls.prefix = cls.folder / "moved"
        staged.rename(cls.prefix)
        cls.share = cls.prefix / "share"

    @classmethod
    def tearDownClass(cls):
        shutil.rmtree(cls.folder)

    def good(self, *words, **options):
        done = run(*words, **options)
        self.assertEqual(done.returncode, 0, f"{words}: {done.stdout}{done.stderr}")
        return done.stdout

    def commands(self):
        """Words of every command, as the program's own overview lists them."""
        overview = self.good(self.prefix / "bin/shedwalk", "--help")
        found = re.findall(r"^  ([a-z-]+(?: [a-z-]+)?) +[A-Z]", overview, re.M)
        self.assertGreater(len(found), 30)
        return found

    def test_pictures_are_decoded(self):
        """The helper that decodes them is found from wherever the whole was moved to."""
        folder, catalogue, choice = self.folder / "card", self.folder / "Pictures.shedwalk", self.folder / "choice.html"
        folder.mkdir()
        with Image.open(self.share / f"icons/hicolor/512x512/apps/{ID}.png") as icon:
            icon.convert("RGB").save(folder / "crate.png")
        for words in (("new", catalogue, "--name", "Orchard", "--currency", "NZD", "--zone", "Pacific/Auckland"),
                      ("trip", "add", catalogue, "--title", "Autumn", "--first", "2026-04-03", "--last", "2026-04-06"),
                      ("place", "add", catalogue, "Loft"), ("item", "add", catalogue, "Crate", "--place", "Loft", "--trip", 1),
                      ("bring-in", catalogue, folder, "--trip", 1), ("assign", catalogue, 1, "--item", 1),
                      ("hand-out", catalogue, "family", "--to", choice)):
            self.good(self.prefix / "bin/shedwalk", *words)
        self.assertIn("data:image/jpeg;base64,", choice.read_text(encoding="utf-8"))

    def test_desktop_entry(self):
        path = self.share / f"applications/{ID}.desktop"
        self.assertEqual(self.good("desktop-file-validate", path), "")
        entry = path.read_text(encoding="utf-8")
        self.assertIn("MimeType=application/x-shedwalk;", entry)
        self.assertTrue((self.prefix / "bin" / re.search(r"^Exec=(\S+)", entry, re.M)[1]).exists())

    def test_languages(self):
        """Found from wherever the whole was moved to. With --json nothing depends on the person's language, as nothing does
        that another program reads."""
        german = {"LC_ALL": "C.UTF-8", "LANGUAGE": "de"}
        done = run(self.prefix / "bin/shedwalk", "items", self.folder / "none.shedwalk", env=german)
        self.assertIn("ist nicht da", done.stdout + done.stderr)
        done = run(self.prefix / "bin/shedwalk", "items", self.folder / "none.shedwalk", "--json", env=german)
        self.assertIn("it is not there", done.stdout + done.stderr)
        entry = (self.share / f"applications/{ID}.desktop").read_text(encoding="utf-8")
        self.assertIn("\nComment[de]=", entry)
        self.assertIn('xml:lang="de"', (self.share / f"metainfo/{ID}.metainfo.xml").read_text(encoding="utf-8"))

    def test_description(self):
        self.good("appstreamcli", "validate", "--no-net", self.share / f"metainfo/{ID}.metainfo.xml")

    def test_type_of_a_catalogue(self):
        """By its application id: SQLite, Database File Format, 1.3 (offset 68)."""
        self.good("update-mime-database", self.share / "mime")
        catalogue = self.folder / "Orchard.shedwalk"
        self.good(self.prefix / "bin/shedwalk", "new", catalogue, "--name", "Orchard", "--currency", "NZD",
                  "--zone", "Pacific/Auckland")
        other = self.folder / "other.db"
        header = bytearray((catalogue / "catalogue.db").read_bytes()[:4096])
        header[68:72] = bytes(4)
        other.write_bytes(header)
        plain = self.folder / "records"  # no suffix to go by
        shutil.copy(catalogue / "catalogue.db", plain)
        for path, expected in ((plain, True), (other, False)):
            told = self.good("gio", "info", "-a", "standard::content-type", path,
                             env={"XDG_DATA_DIRS": f"{self.share}:/usr/share", "LC_ALL": "C.UTF-8"})
            self.assertEqual("application/x-shedwalk" in told, expected, told)

    def test_icons(self):
        icons = self.share / "icons/hicolor"
        for size in (16, 22, 24, 32, 48, 64, 128, 256, 512):
            with Image.open(icons / f"{size}x{size}/apps/{ID}.png") as picture:
                self.assertEqual(picture.size, (size, size))
                self.assertGreater(len(picture.convert("RGBA").getcolors(1 << 20)), 20)
        for path in (f"scalable/apps/{ID}.svg", f"symbolic/apps/{ID}-symbolic.svg"):
            self.good("rsvg-convert", "--output", self.folder / "icon.png", icons / path)

    def test_settings(self):
        self.good("glib-compile-schemas", "--strict", self.share / "glib-2.0/schemas")
        told = self.good("gsettings", "list-recursively", ID,
                         env={"GSETTINGS_SCHEMA_DIR": str(self.share / "glib-2.0/schemas"), "GSETTINGS_BACKEND": "memory"})
        self.assertIn("takings-open false", told)

    def test_manual_page(self):
        path = self.share / "man/man1/shedwalk.1"
        self.assertEqual(self.good("mandoc", "-T", "lint", "-W", "warning", path), "")
        page = re.sub(r".\x08", "", self.good("mandoc", "-T", "utf8", "-O", "width=200", path))
        for words in self.commands():
            self.assertIn(f"shedwalk {words} ", page)
            told = self.good(self.prefix / "bin/shedwalk", *words.split(), "--help")
            for option in re.findall(r"^  --([a-z-]+)", told, re.M):
                self.assertIn(f"--{option}", page)

    def complete_in_bash(self, *words):
        script = (f"source {self.share}/bash-completion/completions/shedwalk; COMP_WORDS=(\"$@\"); COMP_CWORD=$(($# - 1));"
                  " _shedwalk; printf '%s\\n' \"${COMPREPLY[@]}\"")
        return self.good("bash", "-c", script, "bash", "shedwalk", *words).split()

    def complete_in_fish(self, *words):
        told = self.good("fish", "--no-config", "-c", f"source {self.share}/fish/vendor_completions.d/shedwalk.fish;"
                         f" complete -C 'shedwalk {' '.join(words)}'", env={"HOME": str(self.folder)})
        return [line.split("\t")[0] for line in told.splitlines()]

    def test_completions(self):
        zsh = self.share / "zsh/site-functions/_shedwalk"
        self.good("zsh", "-n", zsh)
        for words in self.commands():
            first, *second = words.split()
            self.assertIn(first, self.complete_in_bash(first))
            self.assertEqual(self.complete_in_bash(*words.split(), "--jso"), ["--json"])
            if second:
                self.assertIn(second[0], self.complete_in_bash(first, ""))
            self.assertIn(f"('{words}'", zsh.read_text(encoding="utf-8"))
        for complete in (self.complete_in_bash, self.complete_in_fish):
            self.assertEqual(complete("taki"), ["takings"])
            self.assertEqual(complete("trip", "add", "--la"), ["--last"])
            self.assertEqual(complete("takings", "Orchard.shedwalk", "--cre"), ["--credit"])
            self.assertNotIn("--currency", complete("takings", "Orchard.shedwalk", "--"))


class Uninstalled(unittest.TestCase):
    def test_nothing_is_left(self):
        folder = pathlib.Path(tempfile.mkdtemp(prefix="shedwalk-install-"))
        self.addCleanup(shutil.rmtree, folder)
        (folder / "staged").mkdir()
        install(folder / "staged")
        self.assertGreater(len([path for path in (folder / "staged").rglob("*") if path.is_file()]), 15)
        done = run("ninja", "-C", BUILD, "uninstall")
        self.assertEqual(done.returncode, 0, done.stdout + done.stderr)
        self.assertEqual([path for path in (folder / "staged").rglob("*") if path.is_file()], [])


if __name__ == "__main__":
    unittest.main()
