# SPDX-License-Identifier: GPL-3.0-or-later
"""The family choice: what leaves in it, what it looks like to a browser, and how its answers come back."""
import base64
import json
import os
import re
import sqlite3
import subprocess
import unittest

import pictures
from browser import Browser
from shed import ShedTest, words_on

HOSTILE = "Belt pump </script><script>alert(1)</script> \"'& =1+1"


class FamilyTest(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        self.press = self.add_item("Screw press")
        self.pump = self.add_item(HOSTILE, "Packing shed", "--count", "3", "--asking", "120.00")
        self.kettle = self.add_item("Copper kettle", "Packing shed > Loft")

    def photos_of(self, item, *seeds):
        card = self.path("card")
        for seed in seeds:
            pictures.write(card, f"P{seed}.jpg", pictures.jpeg(seed, f"2026:04:03 10:00:{seed:02d}", size=(1200, 900),
                                                               position=(-39.5, 176.8), model="Kestrel Nine"))
        self.good("bring-in", self.catalogue, card, "--trip", "1")
        numbers = {p["file"]: p["photo"] for p in self.good("photos", self.catalogue, "--json").json()}
        self.good("assign", self.catalogue, *[str(numbers[f"P{seed}.jpg"]) for seed in seeds], "--item", str(item))

    def database(self):
        return sqlite3.connect(os.path.join(self.catalogue, "catalogue.db"))

    def question(self, item, text, person):
        with self.database() as base:
            number = base.execute("INSERT INTO question (item, text, person) VALUES (?, ?, ?)",
                                  (item, text, person)).lastrowid
        base.close()
        return number

    def page(self, *more, name="choice.html"):
        path = self.path(name)
        report = self.good("hand-out", self.catalogue, "family", "--to", path, "--json", *more).json()
        return path, report

    def text(self, *more):
        with open(self.page(*more)[0], encoding="utf-8") as page:
            return page.read()

    def answer(self, text, *more):
        path = self.path("answers.txt")
        with open(path, "wb") as file:
            file.write(text if isinstance(text, bytes) else text.encode())
        return self.good("answers", self.catalogue, path, "--json", *more).json()

    def outcomes(self, text, *more):
        return [a["outcome"] for a in self.answer(text, *more)["answers"]]

    def refuse(self, text, *more, says):
        path = self.path("answers.txt")
        with open(path, "wb") as file:
            file.write(text if isinstance(text, bytes) else text.encode())
        before = self.said()
        self.bad(1, "answers", self.catalogue, path, *more, says=says)
        self.assertEqual(self.said(), before)

    def said(self):
        return self.good("answers", self.catalogue, "--json").json()

    def identity(self):
        return re.search(r'data-catalogue="([-0-9a-f]{36})"', self.text()).group(1)

    def head(self, *lines, by="Ruth", at="2026-05-01T08:30:00Z"):
        return "\n".join(["shedwalk answers 1", "catalogue " + self.identity(), "at " + at, "by " + by, *lines]) + "\n"

    def claims(self):
        with self.database() as base:
            rows = base.execute("SELECT item, person, says FROM claim ORDER BY item, person").fetchall()
        base.close()
        return rows


class Leaving(FamilyTest):
    def test_what_is_asked_about(self):
        self.good("item", "move", self.catalogue, str(self.kettle), "Kept")
        text = self.text()
        self.assertIn("Screw press", text)
        self.assertNotIn("Copper kettle", text)
        self.assertIn("3 pieces", text)
        self.assertNotIn("120.00", text)
        self.assertIn("120.00 NZD", self.text("--prices"))
        loft = self.page("--place", "Press house")[1]
        self.assertEqual((loft["items"], loft["questions"], loft["pages"]), (1, 0, 0))

    def test_names_are_escaped(self):
        text = self.text()
        self.assertEqual(text.count("<script>"), 1)
        self.assertNotIn("alert(1)</script>", text)
        self.assertIn("Belt pump &lt;/script&gt;&lt;script&gt;alert(1)&lt;/script&gt; &quot;&#39;&amp; =1+1", text)

    def test_only_the_questions_of_that_person(self):
        self.question(self.press, "Who made it?", "Ruth")
        self.question(self.press, "What did it cost?", "Tom")
        self.assertNotIn("Who made it?", self.text())
        text = self.text("--for", "Ruth")
        self.assertIn("Who made it?", text)
        self.assertNotIn("What did it cost?", text)
        self.assertNotIn("Tom", text)

    def test_a_held_item_and_its_buyer_stay_at_home(self):
        self.good("item", "move", self.catalogue, str(self.press), "On hold", "--until", "2099-06-01", "--for", "Mara Quill")
        text = self.text("--prices", "--for", "Ruth")
        for word in ("Mara", "Screw press", "2099-06-01", "2026-04-03"):
            self.assertNotIn(word, text)

    def test_pictures_hold_no_metadata(self):
        self.photos_of(self.press, 1, 2)
        folder = self.path("out")
        os.mkdir(folder)
        text = self.text()
        found = re.findall(r"data:image/jpeg;base64,([^\"]+)\"", text)
        self.assertEqual(len(found), 2)
        for k, one in enumerate(found):
            with open(os.path.join(folder, f"{k}.jpg"), "wb") as out:
                out.write(base64.b64decode(one))
        told = json.loads(subprocess.run(["exiftool", "-j", "-a", "-G", folder], capture_output=True, text=True,
                                         check=True).stdout)
        self.assertEqual(len(told), 2)
        for one in told:
            groups = {key.split(":")[0] for key in one if ":" in key}
            self.assertLessEqual(groups, {"File", "ExifTool", "Composite", "JFIF"}, one)
        self.assertNotIn("Kestrel", text)
        pdf = self.page(name="choice.pdf")[0]
        with open(pdf, "rb") as paper:
            content = paper.read()
        for trace in (b"Kestrel", b"Exif", b"Lumora"):
            self.assertNotIn(trace, content)

    def test_on_paper(self):
        self.photos_of(self.press, 1)
        self.question(self.press, "Who made it?", "Ruth")
        path, report = self.page("--for", "Ruth", name="choice.pdf")
        info = subprocess.run(["pdfinfo", path], capture_output=True, text=True, check=True).stdout
        self.assertIn(f"Pages:           {report['pages']}\n", info)
        text = words_on(path, "-layout")
        for words in (f"{self.press} Screw press", "mine", "keep", "sell", "don't know", "Who made it?", "Name: Ruth"):
            self.assertIn(words, re.sub(r" +", " ", text))
        images = subprocess.run(["pdfimages", "-list", path], capture_output=True, text=True, check=True).stdout
        self.assertEqual(images.count(" jpeg "), 1)

    def test_targets(self):
        self.bad(1, "hand-out", self.catalogue, "family", "--to", self.path("choice.txt"), says=".html")
        inside = os.path.join(self.catalogue, "photos", "choice.html")
        self.bad(1, "hand-out", self.catalogue, "family", "--to", inside, says="inside the catalogue")
        os.symlink(self.catalogue, self.path("door"))
        self.bad(1, "hand-out", self.catalogue, "family", "--to", self.path("door", "choice.html"), says="inside the catalogue")
        os.mkdir(self.path("folder.html"))
        self.bad(1, "hand-out", self.catalogue, "family", "--to", self.path("folder.html"), says="is a folder")
        self.bad(1, "hand-out", self.catalogue, "family", "--to", self.path("nowhere", "choice.html"))
        with open(self.path("choice.html"), "w", encoding="utf-8") as old:
            old.write("old")
        self.assertIn("Screw press", self.text())
        left = sorted(os.listdir(self.folder))
        self.assertEqual(left, ["Orchard.shedwalk", "choice.html", "door", "folder.html"])

    def test_nothing_to_ask_about(self):
        for item in (self.press, self.pump, self.kettle):
            self.good("item", "move", self.catalogue, str(item), "Kept")
        self.bad(1, "hand-out", self.catalogue, "family", "--to", self.path("choice.html"), says="nothing to ask about")
        self.assertFalse(os.path.exists(self.path("choice.html")))


class Answers(FamilyTest):
    def test_they_set_claims_once(self):
        text = self.head(f"{self.press} mine: the blue wheel", f"{self.pump} keep", f"{self.kettle} sell")
        self.assertEqual(self.outcomes(text), ["taken"] * 3)
        self.assertEqual(self.claims(), [(self.press, "Ruth", "mine"), (self.pump, "Ruth", "open")])
        self.assertEqual([(s["item"], s["person"], s["says"], s["text"]) for s in self.said()],
                         [(self.press, "Ruth", "mine", "the blue wheel"), (self.pump, "Ruth", "keep", ""),
                          (self.kettle, "Ruth", "sell", "")])
        self.assertEqual(self.outcomes(text), ["told already"] * 3)
        self.assertEqual(len(self.said()), 3)
        self.good("check", self.catalogue)

    def test_one_act_takes_all_back(self):
        self.answer(self.head(f"{self.press} mine", f"{self.pump} keep"))
        self.assertIn("Answers of Ruth", self.good("undo", self.catalogue).out)
        self.assertEqual((self.said(), self.claims()), ([], []))
        self.good("redo", self.catalogue)
        self.assertEqual(len(self.said()), 2)

    def test_a_clash_overwrites_nobody(self):
        self.answer(self.head(f"{self.press} mine"))
        taken = self.answer(self.head(f"{self.press} mine", by="Tom"))
        self.assertEqual(taken["answers"][0]["outcome"], "clash")
        self.assertIn("'mine' was said by Ruth", taken["answers"][0]["sentence"])
        self.assertEqual(self.claims(), [(self.press, "Ruth", "mine"), (self.press, "Tom", "mine")])
        self.assertEqual([s["clash"] for s in self.said()], [True, True])
        self.assertIn("clash", self.good("answers", self.catalogue).out)

    def test_who_contradicts_whom_is_marked(self):
        """One 'mine' blocks every offer of it: whoever would keep or sell it contradicts; others do not."""
        for says, marked in (("mine", True), ("keep", True), ("sell", True), ("unsure", False), (": a remark", False)):
            self.answer(self.head(f"{self.press} mine"))
            self.answer(self.head(f"{self.press} {says}", by="Tom"))
            self.assertEqual([s["clash"] for s in self.said()], [marked, marked], says)
            for _ in range(2):
                self.good("undo", self.catalogue)
            self.assertEqual(self.said(), [])
        for one, other in (("keep", "keep"), ("keep", "sell"), ("sell", "sell")):
            self.answer(self.head(f"{self.press} {one}"))
            self.answer(self.head(f"{self.press} {other}", by="Tom"))
            self.assertEqual([s["clash"] for s in self.said()], [False, False], (one, other))
            for _ in range(2):
                self.good("undo", self.catalogue)
        # a change of mind ends it
        self.answer(self.head(f"{self.press} mine", at="2026-05-01T08:00:00Z"))
        self.answer(self.head(f"{self.press} sell", by="Tom", at="2026-05-01T09:00:00Z"))
        self.answer(self.head(f"{self.press} sell", at="2026-05-02T08:00:00Z"))
        self.assertEqual([s["clash"] for s in self.said()], [False] * 3)

    def test_a_change_of_mind_and_an_old_file(self):
        first = self.head(f"{self.press} mine", at="2026-05-01T08:00:00Z")
        self.answer(first)
        self.assertEqual(self.outcomes(self.head(f"{self.press} sell", at="2026-05-03T08:00:00Z")), ["taken"])
        self.assertEqual(self.claims(), [(self.press, "Ruth", "none")])
        self.assertEqual(self.outcomes(first), ["told already"])
        self.assertEqual(self.outcomes(self.head(f"{self.press} keep", at="2026-05-02T08:00:00Z")), ["older"])
        self.assertEqual(self.claims(), [(self.press, "Ruth", "none")])
        self.assertEqual([(s["says"], s["latest"]) for s in self.said()],
                         [("mine", False), ("keep", False), ("sell", True)])

    def test_said_later_by_another_way(self):
        """Told to the person since, or answered since: what an older file says is kept, and changes nothing."""
        self.good("item", "set", self.catalogue, str(self.press), "--claim", "mine", "--by", "Ruth")
        old = self.answer(self.head(f"{self.press} sell", at="2026-05-01T08:00:00Z"))["answers"]
        self.assertEqual([a["outcome"] for a in old], ["older"])
        self.assertEqual(self.claims(), [(self.press, "Ruth", "mine")])
        number = self.question(self.press, "Who made it?", "Ruth")
        self.answer(self.head(f"q{number}: a smith", at="2026-05-03T08:00:00Z"))
        self.assertEqual(self.outcomes(self.head(f"q{number}: nobody knows", at="2026-05-02T08:00:00Z")), ["older"])
        with self.database() as base:
            self.assertEqual(base.execute("SELECT answer FROM question").fetchall(), [("a smith",)])
        base.close()

    def test_dictated_by_number(self):
        self.assertEqual(self.outcomes(f"{self.press} mine, {self.pump} keep: blue, red; {self.kettle} Don't know.",
                                       "--by", "Ruth"), ["taken"] * 3)
        self.assertEqual([(s["says"], s["text"]) for s in self.said()],
                         [("mine", ""), ("keep", "blue, red"), ("unsure", "")])
        self.refuse(f"{self.press} mine", says="name the person")

    def test_in_the_language_of_the_house(self):
        """The page says all in the person's language, and what is read out in its words is understood."""
        folder = self.path("locales")
        os.mkdir(folder)
        # from the locale sources of the GNU C Library, as the machine need not have it made
        subprocess.run(["localedef", "--no-archive", "-i", "de_DE", "-f", "UTF-8", os.path.join(folder, "de_DE.UTF-8")], check=False,
                       capture_output=True)
        german = {"LC_ALL": "de_DE.UTF-8", "LANGUAGE": "", "LOCPATH": folder}
        page = self.path("wahl.html")
        self.good("hand-out", self.catalogue, "family", "--to", page, env=german)
        with open(page, encoding="utf-8") as file:
            text = file.read()
        self.assertIn('<html lang="de">', text)
        self.assertIn("Was soll daraus werden?", text)
        self.assertNotIn("What should become of it?", text)
        self.assertIn('value="mine"', text)
        told = self.path("telefon.txt")
        with open(told, "w", encoding="utf-8") as file:
            file.write(f"{self.press} meins, {self.pump} behalten: blau; {self.kettle} weiß nicht")
        self.good("answers", self.catalogue, told, "--by", "Ruth", env=german)
        self.assertEqual([(s["says"], s["text"]) for s in self.said()], [("mine", ""), ("keep", "blau"), ("unsure", "")])

    def test_a_pasted_line_in_a_message(self):
        line = self.head(f"{self.press} mine: a%3B b%0Ac 50%25 100%").strip().replace("\n", "; ")
        self.assertEqual(self.outcomes("Hello,\r\n> here they are:\r\n> " + line + "\r\n"), ["taken"])
        self.assertEqual(self.said()[0]["text"], "a; b c 50% 100%")

    def test_the_name_that_is_known(self):
        self.answer(self.head(f"{self.press} mine"))
        self.assertEqual(self.answer(f"{self.pump} keep", "--by", "  ruth ")["by"], "Ruth")

    def test_questions(self):
        number = self.question(self.press, "Who made it?", "Ruth")
        self.assertEqual(self.outcomes(self.head(f"q{number}: A smith in the valley")), ["taken"])
        self.assertEqual(self.outcomes(self.head(f"q{number}: My uncle", by="Tom", at="2026-05-04T08:00:00Z")), ["clash"])
        with self.database() as base:
            self.assertEqual(base.execute("SELECT answer, answered_by FROM question").fetchone(),
                             ("A smith in the valley", "Ruth"))
        base.close()
        self.assertEqual([said["clash"] for said in self.said()], [True, True])
        self.answer(self.head(f"q{number}: a smith in the VALLEY", by="Tom", at="2026-05-05T08:00:00Z"))
        self.assertEqual([said["clash"] for said in self.said()], [False] * 3)  # he came to say the same
        self.assertEqual(self.outcomes(self.head("q99: No")), ["unknown"])

    def test_items_that_went_on_since(self):
        text = self.head(f"{self.press} mine", f"{self.pump} mine", f"{self.kettle} mine", "99 mine")
        with open(self.path("sale.csv"), "w", encoding="utf-8") as table:
            table.write(f"what,item,ref,at,amount\nsale,{self.press},s1,2026-05-02,90.00\n")
        self.good("book", self.catalogue, self.path("sale.csv"))
        self.good("item", "move", self.catalogue, str(self.pump), "Given away")
        self.good("item", "move", self.catalogue, str(self.kettle), "On hold", "--until", "2099-06-01", "--for", "Mara")
        self.assertEqual(self.outcomes(text), ["gone", "gone", "on its way", "unknown"])
        self.assertEqual(self.claims(), [(self.kettle, "Ruth", "mine")])
        self.assertEqual([s["item"] for s in self.said()], [self.press, self.pump, self.kettle])

    def test_bad_input(self):
        good = f"{self.press} mine"
        identity = self.identity()
        for label, text, says in (
                ("another property", self.head(good).replace(identity, "00000000-0000-4000-8000-000000000000"),
                 "another property"),
                ("no property", self.head(good).replace("catalogue " + identity + "\n", ""), "which property"),
                ("not an id", self.head(good).replace(identity, "../../etc/passwd"), "no catalogue's id"),
                ("a later version", self.head(good).replace("answers 1", "answers 2"), "newer Shedwalk"),
                ("no version", self.head(good).replace("answers 1", "answers x"), "number of the format"),
                ("a word that is none", self.head(f"{self.press} burn it"), "mine, keep, sell or unsure"),
                ("a number too long", self.head("1" * 40 + " mine"), "mine, keep, sell or unsure"),
                ("no number", self.head("mine"), "mine, keep, sell or unsure"),
                ("a negative one", self.head("-1 mine"), "mine, keep, sell or unsure"),
                ("answered twice", self.head(good, f"{self.press} sell"), "answered otherwise above"),
                ("a script", self.head(f"<script>{self.press} mine</script>"), "mine, keep, sell or unsure"),
                ("control characters", self.head(f"{self.press} mine: a\x1b[2Jb"), "control characters"),
                ("a NUL byte", self.head(good).encode() + b"\0", "as text"),
                ("no text at all", b"\xff\xfe\x00\xd8\x00\xd8" * 3, ""),
                ("a picture", b"\xff\xd8\xff\xe0\x00\x10JFIF\x00", ""),
                ("no answer", self.head(), "no answer in it"),
                ("empty", "", ""),
                ("a strange time", self.head(good, at="yesterday"), "ISO 8601"),
                ("too long a remark", self.head(f"{self.press} mine: " + "x" * 10001), "too long"),
                ("another heading twice", self.head("by Tom"), "mine, keep, sell or unsure")):
            with self.subTest(label):
                self.refuse(text, "--by", "Ruth", says=says)
        with self.subTest("50 MB"):
            self.refuse((f"{self.press} mine\n" * 10).encode() + b"x" * 50_000_000, says="too long")
        with self.subTest("no file"):
            self.bad(1, "answers", self.catalogue, self.path("nothing.txt"))
        with self.subTest("an endless one"):
            self.bad(1, "answers", self.catalogue, "/dev/zero", says="too long")

    def test_a_remark_is_never_a_command(self):
        text = "=cmd|' /C calc'!A0 <img src=x onerror=alert(1)> ../../../x \u202e"
        self.answer(self.head(f"{self.press} mine: {text}"))
        self.assertEqual(self.said()[0]["text"], text.strip())
        self.assertNotIn("<img src=x", self.text())
        self.assertNotIn("\u202e", self.good("answers", self.catalogue).out)


def luminance(colour):
    """WCAG 2.1 (W3C 2018), relative luminance."""
    colour = colour.lstrip("#")
    if len(colour) == 3:
        colour = "".join(c * 2 for c in colour)
    parts = [int(colour[i:i + 2], 16) / 255 for i in (0, 2, 4)]
    parts = [c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


def contrast(a, b):
    """WCAG 2.1 (W3C 2018), contrast ratio."""
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


class InABrowser(FamilyTest):
    def test_the_browser_tells_of_requests_and_errors(self):
        """The measure itself: a page that loads something and fails is seen to."""
        with open(self.path("bad.html"), "w", encoding="utf-8") as page:
            page.write("<img src='http://127.0.0.1:9/x.png'><script>throw new Error('planted')</script>")
        browser = Browser(self)
        browser.open("file://" + self.path("bad.html"))
        self.assertIn("http://127.0.0.1:9/x.png", browser.requests())
        self.assertIn("planted", str(browser.complaints()))

    def test_the_whole_way_and_back(self):
        self.photos_of(self.press, 1, 2)
        number = self.question(self.pump, "Does it turn?", "Ruth")
        path = self.page("--for", "Ruth")[0]
        url = "file://" + path
        browser = Browser(self)
        browser.open(url)
        self.assertEqual(browser.run("document.body.dataset.ready"), "yes")
        self.assertEqual(browser.run("document.getElementById('by').value"), "Ruth")
        self.assertEqual(browser.run("Array.from(document.images).map(i => i.complete && i.naturalWidth > 0)"), [True, True])
        remark = "blue; or 50% red\nsecond line, <b>\u00e9\u4e16</b> %3B"
        browser.run(f"document.getElementById('i{self.press}-mine').click()")
        browser.type(f"#r{self.press}", remark)
        browser.run(f"document.getElementById('i{self.kettle}-unsure').click()")
        browser.type(f"#q{number}", "Yes, by hand")
        browser.type(f"#r{self.pump}", "leaks")
        self.assertEqual(browser.run("document.getElementById('count').textContent"), "3 of 3 answered")
        self.assertEqual((browser.requests(), browser.complaints()), ([url], []))

        # closed and opened again: what was entered is still there
        browser.load("Page.reload")
        self.assertTrue(browser.run(f"document.getElementById('i{self.press}-mine').checked"))
        self.assertEqual(browser.run(f"document.getElementById('r{self.press}').value"), remark)
        browser.run("document.getElementById('save').click()")
        saved = browser.downloaded()
        self.assertEqual(os.path.basename(saved), "answers-Ruth.txt")
        line = browser.run("document.getElementById('line').value")
        self.assertEqual((browser.requests(), browser.complaints()), ([url], []))

        taken = self.good("answers", self.catalogue, saved, "--json").json()
        self.assertEqual(sorted(a["outcome"] for a in taken["answers"]), ["taken"] * 4)
        said = {(s["item"], s["question"]): (s["person"], s["says"], s["text"]) for s in self.said()}
        self.assertEqual(said, {
            (self.press, None): ("Ruth", "mine", "blue; or 50% red second line, <b>\u00e9\u4e16</b> %3B"),
            (self.kettle, None): ("Ruth", "unsure", ""),
            (self.pump, None): ("Ruth", "", "leaks"),
            (self.pump, number): ("Ruth", "", "Yes, by hand")})
        # the pasted line says the same
        self.assertNotIn("\n", line)
        self.assertEqual(set(self.outcomes(line)), {"told already"})

    def test_it_asks_for_a_name_and_clears_an_answer(self):
        browser = Browser(self)
        browser.open("file://" + self.page()[0], width=1280, height=800)
        browser.run(f"document.getElementById('i{self.press}-sell').click()")
        browser.run("document.getElementById('save').click()")
        self.assertIn("name", browser.run("document.getElementById('told').textContent"))
        self.assertEqual(browser.run("document.activeElement.id"), "by")
        browser.run("document.querySelector('article .clear').click()")
        browser.run("Array.from(document.querySelectorAll('article .clear')).forEach(b => b.click())")
        self.assertEqual(browser.run("document.querySelectorAll('input:checked').length"), 0)
        browser.type("#by", "Tom")
        browser.run("document.getElementById('save').click()")
        self.assertEqual(browser.run("document.getElementById('told').textContent"), "There is no answer yet.")

    def test_names_roles_and_keys(self):
        self.photos_of(self.press, 1)
        browser = Browser(self)
        browser.open("file://" + self.page()[0])
        nodes = browser.call("Accessibility.getFullAXTree")["nodes"]
        told = [(n["role"]["value"], n.get("name", {}).get("value", "")) for n in nodes if not n["ignored"]]
        for role, wanted in (("radio", 12), ("image", 1), ("textbox", 5), ("button", 5)):
            names = [name for r, name in told if r == role]
            self.assertEqual(len(names), wanted, (role, names))
            self.assertTrue(all(names), (role, names))
        self.assertIn(("image", "Screw press, picture 1 of 1"), told)
        # by keys alone: into the first group, and on by an arrow
        browser.run("document.querySelector('article input').focus()")
        for kind in ("keyDown", "keyUp"):
            browser.call("Input.dispatchKeyEvent", type=kind, key="ArrowRight", code="ArrowRight",
                         windowsVirtualKeyCode=39)
        self.assertEqual(browser.run("document.querySelector('article input:checked').value"), "keep")
        # nothing is wider than a phone
        self.assertLessEqual(browser.run("document.documentElement.scrollWidth"), 390)
        self.assertEqual(browser.complaints(), [])

    def test_contrast_in_light_and_dark(self):
        """WCAG 2.1 (W3C 2018), 1.4.3: 4.5 for text; 1.4.11: 3 for what bounds a field."""
        text = self.text()
        themes = re.findall(r":root\{([^}]*)\}", text)
        self.assertEqual(len(themes), 2)
        for theme in themes:
            colour = dict(re.findall(r"--(\w+):(#\w+)", theme))
            for ink, under, least in (("ink", "paper", 4.5), ("ink", "card", 4.5), ("soft", "paper", 4.5),
                                      ("soft", "card", 4.5), ("accent", "card", 4.5), ("accent", "paper", 4.5),
                                      ("warn", "card", 4.5), ("warn", "paper", 4.5), ("on", "accent", 4.5),
                                      ("edge", "card", 3), ("edge", "paper", 3)):
                self.assertGreaterEqual(contrast(colour[ink], colour[under]), least, (ink, under, theme))


if __name__ == "__main__":
    unittest.main()
