# SPDX-License-Identifier: GPL-3.0-or-later
"""Holds the translations to the sources: every sentence that a person reads is marked, every marked one stands in every
language, complete, with its placeholders and with a letter to press wherever the English has one. Where a case fails
because sentences came or went, `ninja -C BUILD shedwalk-update-po` takes them into the catalogues."""
import collections
import os
import pathlib
import re
import subprocess
import tempfile
import unittest
import xml.etree.ElementTree as ET

SOURCE = pathlib.Path(os.environ["SHEDWALK_SOURCE"])
PO = SOURCE / "ui" / "po"
KEYWORDS = ["_", "N_", "C_:1c,2", "NC_:1c,2", "sw_text_count:2,3", "sw_text_counted:2,3"]
MARKED = re.compile(r"\b(?:_|N_|C_|NC_|sw_text_count|sw_text_counted) \(")
# Texts in a format of their own: what is written to files for programs, not read in the window.
FORMATS = {"app/trade-words.c", "core/handout/tables.c", "core/catalogue/archive-write.c",
           "core/catalogue/second-home.c", "core/catalogue/schema.c"}
# For who works on the program, or a help text of the command line.
NOT_SPOKEN = re.compile(r"G_OPTION_ARG_|(g_assert\w*|g_return\w*|g_debug|g_warning|g_critical|g_error|g_log|g_printerr|sqlite3_\w+|sw_db_exec\w*)"
                        r"\s*\([^;]*$|^#define", re.S)


def languages():
    lines = (PO / "LINGUAS").read_text(encoding="utf-8").splitlines()
    return [line for line in lines if line and not line.startswith("#")]


def listed():
    lines = (PO / "POTFILES").read_text(encoding="utf-8").splitlines()
    return [line for line in lines if line and not line.startswith("#")]


def run(*words, **options):
    done = subprocess.run([str(word) for word in words], capture_output=True, text=True, check=False, **options)
    if done.returncode != 0:
        raise AssertionError(done.stdout + done.stderr)
    return done.stdout + done.stderr


Entry = collections.namedtuple("Entry", "context one many said fuzzy")


def entries(path):
    """Of a catalogue in gettext's own form: (context, msgid, plural, [msgstr...], fuzzy)."""
    text = path.read_text(encoding="utf-8")
    for block in text.split("\n\n"):
        fields, key = {}, None
        for line in block.splitlines():
            match = re.match(r'(msgctxt|msgid_plural|msgid|msgstr(?:\[\d\])?) (".*")$', line)
            if match:
                key = match[1]
                fields[key] = match[2][1:-1]
            elif line.startswith('"') and key:
                fields[key] += line[1:-1]
        if fields.get("msgid"):
            said = [value for key, value in fields.items() if key.startswith("msgstr")]
            yield Entry(fields.get("msgctxt"), fields["msgid"], fields.get("msgid_plural"), said, "#, fuzzy" in block)


def mnemonic(text):
    match = re.search(r"_(\w)", text.replace("__", "").replace("_ ", ""))
    return match[1].lower() if match else None


READ = re.compile(r"(?:(?:%\w|[A-Z])[^<{}]* [a-z]{2,}[^<{}]*[.!?]|[A-Z][a-z]*:? (?:[a-z]|%)[^<{}]*|.*[.:] [A-Z][a-z]+:? .*"
                  r"|(?:%s)?: [a-z]{3,}.*|, %s? ?[a-z]{4,}.*| \([a-z ]{4,}\))$")


def unmarked(text):
    """What stands bare in C though a person reads it: sentences (a capital or a placeholder first, words between, a full stop
    last), names of things and what was done ("The table", "Tag %d printed"), and words before a colon ("Undone: %s")."""
    mask = re.sub(r"/\*.*?\*/", lambda m: re.sub(r"[^\n]", " ", m[0]), text, flags=re.S)
    for match in re.finditer(r'"(?:\\.|[^"\\\n])*"(?:\s*(?:PRI\w+|G_G\w+_FORMAT)?\s*"(?:\\.|[^"\\\n])*")*', mask):
        sentence = "".join(re.findall(r'"((?:\\.|[^"\\\n])*)"', match[0]))
        before = re.sub(r'"(?:\\.|[^"\\\n])*"', '""', mask[max(0, match.start() - 800):match.start()])
        if not READ.match(sentence) or "\\n\\n" in sentence:
            continue
        line = before[before.rfind("\n") + 1:]
        call = before[before.rfind(";") + 1:]
        if re.search(r"(?:\b(?:_|N_) \(\s*|\bsw_text_count(?:ed)? \([^;]*)$", before):
            continue
        if NOT_SPOKEN.search(line) or NOT_SPOKEN.search(call):
            continue
        yield mask.count("\n", 0, match.start()) + 1, sentence


class Language(unittest.TestCase):
    maxDiff = None

    @classmethod
    def setUpClass(cls):
        folder = tempfile.TemporaryDirectory(prefix="shedwalk-language-")
        cls.addClassCleanup(folder.cleanup)
        template = pathlib.Path(folder.name) / "shedwalk.pot"
        run("xgettext", "--from-code=UTF-8", *(f"--keyword={word}" for word in KEYWORDS), "-o", template,
            *(name for name in listed()), cwd=SOURCE)
        cls.marked = {(entry.context, entry.one): entry.many for entry in entries(template)}

    def test_the_files_are_listed(self):
        """POTFILES names every source that marks something, and no other."""
        bearing = {str(path.relative_to(SOURCE)) for path in (SOURCE / "src").rglob("*.[ch]")
                   if MARKED.search(path.read_text(encoding="utf-8")) and path.stem != "language"}
        bearing |= {str(path.relative_to(SOURCE)) for path in (SOURCE / "ui").glob("*.ui")}
        bearing |= {str(path.relative_to(SOURCE)) for path in (SOURCE / "ui/desktop").glob("*.in")}
        self.assertEqual(sorted(bearing), listed())

    def test_sentences_are_marked(self):
        for planted in ("The %s was not there.", "Undone: %s", "Tag %d printed", "%s: %s. Caution: %s", "Write 'A > B'; no part is empty."):
            self.assertEqual(len(list(unmarked(f'x (error, "{planted}");'))), 1, planted)
            self.assertEqual(len(list(unmarked(f'x (error, _ ("{planted}"));'))), 0, planted)
        bare = []
        for layer in ("core", "app"):
            for path in sorted((SOURCE / "src" / layer).rglob("*.[ch]")):
                if str(path.relative_to(SOURCE / "src")) not in FORMATS and "statements" not in path.name:
                    bare += [f"{path.name}:{line}: {text}" for line, text in unmarked(path.read_text(encoding="utf-8"))]
        self.assertEqual(bare, [])

    def test_every_label_of_a_template_is_marked(self):
        for path in sorted((SOURCE / "ui").glob("*.ui")):
            root = ET.parse(path).getroot()
            self.assertEqual(root.get("domain"), "shedwalk", path.name)
            for node in root.iter("property"):
                text = node.text or ""
                if node.get("name") in {"label", "tooltip-text", "title", "placeholder-text", "accessible-name"} and \
                        re.search(r"[A-Za-z]{2}", text) and not re.fullmatch(r"[a-z.-]+", text):
                    self.assertEqual(node.get("translatable"), "yes", f"{path.name}: {text}")

    def test_languages_are_complete(self):
        for language in languages():
            known = {(entry.context, entry.one): entry for entry in entries(PO / f"{language}.po")}
            self.assertEqual(sorted(map(str, self.marked.keys() - known.keys())), [], f"{language} lacks")
            self.assertEqual(sorted(map(str, known.keys() - self.marked.keys())), [], f"{language} has no longer")
            for (_, one), entry in known.items():
                self.assertFalse(entry.fuzzy, one)
                self.assertTrue(all(entry.said), one)
                self.assertEqual(len(entry.said), 2 if entry.many else 1, one)
                for said in entry.said:
                    self.assertEqual(one.startswith(" "), said.startswith(" "), one)
                    self.assertEqual(one.endswith(" "), said.endswith(" "), one)

    def test_placeholders(self):
        for language in languages():
            told = run("msgfmt", "--check", "--statistics", "-o", os.devnull, PO / f"{language}.po",
                       env=dict(os.environ, LC_ALL="C.UTF-8", LANGUAGE="en"))
            self.assertNotIn("untranslated", told)
            self.assertNotIn("fuzzy", told)

    def test_letters_to_press(self):
        """A translation has one where the English has one; within a template no more of them clash than in English."""
        for language in languages():
            said = {entry.one: entry.said[0] for entry in entries(PO / f"{language}.po")}
            for one, other in said.items():
                if re.search(r"(^|[^_\w%])_\w|\w_\w", one) and len(one) < 60:
                    self.assertEqual(mnemonic(one) is None, mnemonic(other) is None, f"{one} / {other}")
            for path in sorted((SOURCE / "ui").glob("*.ui")):
                labels = [node.text.replace("\n", "\\n") for node in ET.parse(path).getroot().iter("property")
                          if node.get("name") == "label" and node.get("translatable") and node.text and mnemonic(node.text)]
                clashes = [len(labels) - len({mnemonic(choose(label)) for label in labels})
                           for choose in (lambda text: text, lambda text: said[text.replace('"', '\\"')])]
                self.assertLessEqual(clashes[1], clashes[0], f"{path.name}: {[said[label] for label in labels]}")

    def test_letters_of_the_deciding_round(self):
        """Each field has one of its own, and none is that of a command of the round (B, T, Y)."""
        table = (SOURCE / "src/app/decide-rows.c").read_text(encoding="utf-8").split("specs[SW_N_DECIDE_FIELDS] = {")[1]
        fields = re.findall(r'\[SW_DECIDE_\w+\] = { N_ \("([^"]+)"\)', table.split("};")[0])
        self.assertEqual(len(fields), 11)
        for language in languages():
            said = {entry.one: entry.said[0] for entry in entries(PO / f"{language}.po")}
            letters = [mnemonic(said[field]) for field in fields]
            self.assertEqual(len(set(letters) - {"b", "t", "y"}), len(fields), letters)


if __name__ == "__main__":
    unittest.main()
