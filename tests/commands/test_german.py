# SPDX-License-Identifier: GPL-3.0-or-later
"""The command line in another language: sentences and help in German; what programs read stays as it is."""
import pathlib
import re
import subprocess
import tempfile
import unittest

from shed import ShedTest, run

PO = pathlib.Path(__file__).parents[2] / "ui" / "po" / "de.po"


def english_of_german():
    """Every English sentence of several words, without a placeholder, whose German is another one."""
    entry = re.compile(r'^msgid ((?:"(?:[^"\\]|\\.)*"\n?)+)msgstr ((?:"(?:[^"\\]|\\.)*"\n?)+)', re.M)
    whole = [["".join(re.findall(r'"((?:[^"\\]|\\.)*)"', part)) for part in match.groups()]
             for match in entry.finditer(PO.read_text(encoding="utf-8"))]
    return {one.split("\\n")[0] for one, other in whole if "%" not in one and one.count(" ") > 2 and one != other and one.split("\\n")[0]}


class German(ShedTest):
    def setUp(self):
        super().setUp()
        locales = tempfile.TemporaryDirectory(prefix="shedwalk-locale-")
        self.addCleanup(locales.cleanup)
        # from the locale sources of the GNU C Library, as the machine need not have it made
        subprocess.run(["localedef", "--no-archive", "-i", "de_DE", "-f", "UTF-8", locales.name + "/de_DE.UTF-8"], check=False,
                       capture_output=True)
        self.german = {"LC_ALL": "de_DE.UTF-8", "LOCPATH": locales.name, "LANGUAGE": ""}

    def say(self, *args):
        return run(*map(str, args), env=self.german)

    def test_no_help_is_english(self):
        overview = self.say("--help").out
        self.assertIn("Aufruf: shedwalk", overview)
        commands = [line[2:15].rstrip() if line[15] == " " else re.match(r"  (\S+ \S+)", line)[1]
                    for line in overview.splitlines() if re.match(r"  [a-z]", line)]
        self.assertGreater(len(commands), 40)
        english = english_of_german()
        self.assertGreater(len(english), 1000)
        for words in commands:
            told = self.say(*words.split(), "--help")
            self.assertEqual((told.code, told.err), (0, ""), words)
            lines = [re.sub(r"^--\S+ +", "", line.strip()) for line in told.out.splitlines()]
            self.assertEqual([line for line in lines if line in english], [], words)

    def test_sentences_are_german_and_what_programs_read_is_not(self):
        for args, says in ((("share", self.catalogue, "Ada", "50"), "Ada hat einen Anteil von 50 %.\n"),
                           (("items", self.catalogue), "Keine Posten.\n"),
                           (("van", self.catalogue), "Noch ist kein Wagen eingetragen; nennen Sie seine --payload.\n")):
            told = self.say(*args)
            self.assertEqual((told.code, told.out, told.err), (0, says, ""))
        refused = self.say("items", self.catalogue, "--tag", "x")
        self.assertEqual(refused.code, 2)
        self.assertIn("Der Anhänger muss eine ganze Zahl von mindestens 1 sein, nicht „x“.", refused.err)
        self.assertEqual(self.say("van", self.catalogue, "--json").out, run("van", self.catalogue, "--json").out)
        self.assertIn("proceeds", self.say("takings", self.catalogue).out)
