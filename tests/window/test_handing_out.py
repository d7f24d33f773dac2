# SPDX-License-Identifier: GPL-3.0-or-later
"""What is handed out from the window: the pack of an offer, whose photos are looked at first, and the sheets of the menu."""

import os
import shutil
import subprocess
import unittest

from PIL import Image

from driver import WindowTest, choose, click, has, key, make_photo, name_of, shedwalk, type_text, until

TABLE = """what,outlet,kind,ref,item,start,up
outlet,Board,priced ad,,,,
offer,Board,,P1,Screw press,300.00,2026-04-14
"""


class HandingOut(WindowTest):
    def save(self, window, title, path):
        chooser = window.wait("file chooser", title)
        entry = until("its name entry", lambda: window.find("text", under=chooser))
        until("the focus", lambda: has(entry, "FOCUSED"))
        key("ctrl+a")
        type_text(str(path))
        until("the path", lambda: entry.get_text(0, -1) == str(path))
        key("Return")


class Pack(HandingOut):
    def setUp(self):
        super().setUp()
        for k in range(3):
            make_photo(self.folder / "card" / f"p{k}.jpg", f"2026:04:03 10:00:0{k}", k)
        shedwalk("bring-in", self.catalogue, self.folder / "card")
        shedwalk("assign", self.catalogue, 1, 2, 3, "--item", 1)
        table = self.folder / "money.csv"
        table.write_text(TABLE, encoding="utf-8")
        shedwalk("book", self.catalogue, table)

    def open_pack(self):
        window = self.open()
        key("alt+3")
        click(window.wait("radio button", "Running"))
        until("the offer", lambda: window.rows("Running offers"))
        click(window.row("Running offers", "Screw press"))
        click(window.wait("push button", "Pack…"))
        self.seen(window, 1)
        return window

    @staticmethod
    def seen(window, number):
        """The photo stands there: it can be let go or left out."""
        window.wait("label", f"Photo {number} of 3")
        until("it can be passed", lambda: has(window.find("push button", "It may go"), "SENSITIVE"))

    def look(self, window, keys):
        for k, name in enumerate(keys):
            self.seen(window, k + 1)
            self.assertFalse(has(window.find("push button", "Write…"), "SENSITIVE"))
            key(name)
        button = window.wait("push button", "Write…")
        until("it can be written", lambda: has(button, "SENSITIVE") and has(button, "FOCUSED"))

    def test_nothing_is_written_before_all_are_looked_at(self):
        window = self.open_pack()
        self.assertEqual([name_of(window.find("image", "Photo 1 of 3"))], ["Photo 1 of 3"])
        self.look(window, ("m", "l", "m"))
        window.wait("label", "Each photo is looked at: 2 may go, 1 left out.")
        key("Return")
        self.save(window, "Name a new folder for the pack", self.folder / "pack")
        window.told("pack written: 2 photos, title and text.")
        self.assertEqual(sorted(os.listdir(self.folder / "pack")),
                         ["offer.csv", "offer.html", "offer.txt", "photo-01.jpg", "photo-02.jpg"])
        with Image.open(self.folder / "pack" / "photo-02.jpg") as picture:
            self.assertEqual((picture.format, picture.size, len(picture.getexif())), ("JPEG", (400, 300), 0))

    def test_going_back_and_deciding_otherwise(self):
        window = self.open_pack()
        self.look(window, ("m", "m", "m"))
        key("Left")
        self.seen(window, 3)
        window.wait("label", "May go")
        key("l")
        window.wait("label", "Each photo is looked at: 2 may go, 1 left out.")

    def test_a_folder_that_is_there_can_be_named_anew(self):
        (self.folder / "mine").mkdir()
        (self.folder / "mine" / "kept.txt").write_text("kept", encoding="utf-8")
        window = self.open_pack()
        self.look(window, ("l", "l", "l"))
        key("Return")
        # the chooser steps into a folder that is there: what is named then lies in it
        self.save(window, "Name a new folder for the pack", self.folder / "mine" / "kept.txt")
        window.wait("label", lambda text: "already" in text)
        button = window.wait("push button", "Write…")
        click(button)
        self.save(window, "Name a new folder for the pack", self.folder / "other")
        window.told("other written: 0 photos, title and text.")
        self.assertEqual((self.folder / "mine" / "kept.txt").read_text(encoding="utf-8"), "kept")

    def test_left_by_escape_nothing_is_written(self):
        window = self.open_pack()
        key("m")
        self.seen(window, 2)
        before = sorted(os.listdir(self.folder))
        key("Escape")
        until("the form gone", lambda: window.find("push button", "It may go") is None)
        self.assertEqual(sorted(os.listdir(self.folder)), before)


class BeforeItIsUp(HandingOut):
    """The pack is wanted before the offer: to enter title and photos where it is to be put up."""

    def setUp(self):
        super().setUp()
        for k in range(2):
            make_photo(self.folder / "card" / f"p{k}.jpg", f"2026:04:03 10:00:0{k}", k)
        shedwalk("bring-in", self.catalogue, self.folder / "card")
        shedwalk("assign", self.catalogue, 1, "--item", 1)
        shedwalk("assign", self.catalogue, 2, "--item", 3)
        for item in (1, 3):
            shedwalk("item", "move", self.catalogue, item, "Ready")

    def look_and_write(self, window, photos):
        for number in range(1, photos + 1):
            window.wait("label", f"Photo {number} of {photos}")
            until("it can be passed", lambda: has(window.find("push button", "It may go"), "SENSITIVE"))
            key("m")
        button = window.wait("push button", "Write…")
        until("it can be written", lambda: has(button, "SENSITIVE") and has(button, "FOCUSED"))
        key("Return")
        self.save(window, "Name a new folder for the pack", self.folder / "pack")
        window.told(f"pack written: {photos} photo")
        return (self.folder / "pack" / "offer.txt").read_text(encoding="utf-8")

    def test_from_the_items_sheet(self):
        window = self.open()
        key("ctrl+f")
        window.row("Items", "Screw press").do_action(0)
        until("its photo", lambda: window.rows("Photos of the item"))
        click(window.wait("toggle button", "More for this item"))
        click(window.wait("push button", "Offer pack…"))
        text = self.look_and_write(window, 1)
        self.assertIn("Screw press", text)
        self.assertIn("350.00", text)
        self.assertNotIn("Press house", text)

    def test_of_several_that_are_put_up(self):
        window = self.open()
        key("alt+3")
        click(window.wait("radio button", "Running"))
        click(window.wait("push button", "Put up…"))
        button = window.wait("push button", "Pack…")
        self.assertFalse(has(button, "SENSITIVE"))
        for name in ("Screw press", "Clay pots"):
            click(window.wait("check box", lambda text, name=name: text.startswith(name)))
            until("the tick", lambda name=name: has(window.find("check box", lambda text: text.startswith(name)), "CHECKED"))
        until("it can be asked for", lambda: has(button, "SENSITIVE"))
        click(button)
        text = self.look_and_write(window, 2)
        for words in ("Screw press", "Clay pots", "410.50"):
            self.assertIn(words, text)
        # back where it was asked for: nothing is up yet
        until("the fields again", lambda: has(window.find("check box", lambda text: text.startswith("Clay pots")), "CHECKED"))
        self.assertEqual({self.item(1)["state"], self.item(3)["state"]}, {"Ready"})

    def test_one_about_to_be_put_up_keeps_to_the_outlets_limits(self):
        table = self.folder / "outlets.csv"
        table.write_text("what,outlet,kind\noutlet,Board,priced ad\noutlet,Alley,priced ad\n", encoding="utf-8")
        shedwalk("book", self.catalogue, table)
        # what must stand of the text takes some 140 characters, that a size and a mass are not known 37 more
        shedwalk("outlet", "limits", self.catalogue, "Board", "--title", "9", "--text", "150")
        window = self.open()
        key("alt+3")
        click(window.wait("radio button", "Running"))
        click(window.wait("push button", "Put up…"))
        click(window.wait("check box", lambda text: text.startswith("Screw press")))
        until("the tick", lambda: has(window.find("check box", lambda text: text.startswith("Screw press")), "CHECKED"))
        choose(window, "Alley", "Board")  # a box of choices is named by what is chosen
        window.wait("combo box", "Board")
        button = window.wait("push button", "Pack…")
        until("it can be asked for", lambda: has(button, "SENSITIVE"))
        click(button)
        window.wait("label", "Photo 1 of 1")
        window.wait("label", lambda text: "left out to keep to the outlet's limit" in text)
        text = self.look_and_write(window, 1)
        title, _, rest = text.partition("\n")
        self.assertEqual(title, "Screw")  # cut between words
        self.assertNotIn("Size: not measured.", rest)
        self.assertIn("Condition: not known.", rest)
        self.assertLessEqual(len(rest.partition("Start price")[0].strip()), 150)

    def test_what_is_claimed_has_none(self):
        shedwalk("item", "set", self.catalogue, 3, "--claim", "mine", "--by", "Ruth")
        window = self.open()
        key("ctrl+f")
        window.row("Items", "Clay pots").do_action(0)
        until("its photo", lambda: window.rows("Photos of the item"))
        click(window.wait("toggle button", "More for this item"))
        click(window.wait("push button", "Offer pack…"))
        window.told("Clay pots is claimed: settle that before")
        self.assertIsNone(window.find("push button", "It may go"))


class Stopped(HandingOut):
    """Cancelled while it is written: nothing lies there afterwards, under whatever name."""

    PHOTOS = 6

    def setUp(self):
        super().setUp()
        # large and restless, so that each takes its time to be read, made anew and copied
        grain = os.urandom(3000 * 1000)
        (self.folder / "card").mkdir()
        for k in range(self.PHOTOS):
            picture = Image.frombytes("L", (3000, 1000), grain[k:] + grain[:k]).resize((4500, 3000), Image.NEAREST)
            picture.save(self.folder / "card" / f"p{k}.jpg", "JPEG", quality=95)
        shedwalk("bring-in", self.catalogue, self.folder / "card")
        for k in range(self.PHOTOS):
            shedwalk("assign", self.catalogue, k + 1, "--item", 1 + k % 3)
        shutil.rmtree(self.folder / "card")
        self.out = self.folder / "out"
        self.out.mkdir()

    def stop(self, window, write, is_writing, target):
        """Until once the key came before the end: a fast disk may be done before it."""
        for _ in range(5):
            write()
            until("it is being written", lambda: is_writing() or target.exists())
            key("Escape")
            line = window.told(lambda text: text.startswith("Stopped; ") or f"{target.name} written: " in text)
            said = line if isinstance(line, str) else name_of(line)
            if said.startswith("Stopped; "):
                self.assertEqual(os.listdir(self.out), [])
                return
            shutil.rmtree(target) if target.is_dir() else target.unlink()
            until("it is left", lambda: has(window.frame, "ACTIVE"))
        self.fail("it was never stopped in time")

    def ask(self, window, entry):
        click(window.wait("toggle button", "Menu"))
        click(window.wait("push button", "Hand out"))
        click(window.wait("push button", entry))

    def bar(self, window):
        return window.find("progress bar", "How far it is")

    def test_the_pack(self):
        table = self.folder / "lot.csv"
        table.write_text("what,outlet,kind,ref,item,start,up\noutlet,Board,priced ad,,,,\n"
                         "offer,Board,,P1,Screw press + Sack truck + Clay pots,300.00,2026-04-14\n", encoding="utf-8")
        shedwalk("book", self.catalogue, table)
        window = self.open()
        key("alt+3")
        click(window.wait("radio button", "Running"))
        until("the offer", lambda: window.rows("Running offers"))

        def write():
            click(window.row("Running offers", "Screw press"))
            click(window.wait("push button", "Pack…"))
            for number in range(1, self.PHOTOS + 1):
                window.wait("label", f"Photo {number} of {self.PHOTOS}")
                until("it can be passed", lambda: has(window.find("push button", "It may go"), "SENSITIVE"))
                key("m")
            button = window.wait("push button", "Write…")
            until("it can be written", lambda: has(button, "SENSITIVE") and has(button, "FOCUSED"))
            key("Return")
            self.save(window, "Name a new folder for the pack", self.out / "pack")

        self.stop(window, write, lambda: window.find("label", lambda text: text.startswith("Writing: ")), self.out / "pack")

    def test_the_family_choice(self):
        window = self.open()

        def write():
            self.ask(window, "Family choice…")
            click(window.wait("push button", "As a page…"))
            self.save(window, "Family choice as a page", self.out / "choice.html")

        self.stop(window, write, lambda: self.bar(window), self.out / "choice.html")

    def test_the_archive(self):
        window = self.open()

        def write():
            self.ask(window, "Archive…")
            self.save(window, "Archive: a folder with everything in open formats", self.out / "kept")

        self.stop(window, write, lambda: self.bar(window), self.out / "kept")


class Sheets(HandingOut):
    def test_where_things_stand_and_the_inventory(self):
        window = self.open()
        for entry, title, words in (("Where things stand…", "Where things stand as PDF", "Key is with"),
                                    ("Inventory…", "Inventory as PDF", "valued at 410.50 NZD")):
            path = self.folder / (title + ".pdf")
            click(window.wait("toggle button", "Menu"))
            click(window.wait("push button", "Hand out"))
            click(window.wait("push button", entry))
            self.save(window, title, path)
            window.told(f"{path.name} written: 1 page.")
            text = subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True).stdout
            self.assertIn(words, text)
            until("the chooser gone", lambda title=title: window.find("file chooser", title) is None)


class Slides(HandingOut):
    def setUp(self):
        super().setUp()
        for k in range(2):
            make_photo(self.folder / "card" / f"p{k}.jpg", f"2026:04:03 10:00:0{k}", k)
        shedwalk("bring-in", self.catalogue, self.folder / "card")
        shedwalk("assign", self.catalogue, 1, "--item", 1)
        shedwalk("assign", self.catalogue, 2, "--item", 3)

    def show(self, who=""):
        window = self.open()
        click(window.wait("toggle button", "Menu"))
        click(window.wait("push button", "Hand out"))
        click(window.wait("push button", "Slide show…"))
        entry = window.wait("text", "Who answers")
        entry.grab_focus()
        until("the focus", lambda: has(entry, "FOCUSED"))
        if who:
            type_text(who)
            until("the name", lambda: entry.get_text(0, -1) == who)
        key("Return")
        window.wait("label", "1 of 3")
        until("the keyboard there", lambda: has(window.find("push button", "Next"), "FOCUSED"))
        return window

    def test_shown_by_keys_and_left(self):
        window = self.show()
        window.wait("label", "40 x Clay pots")
        window.wait("label", "Found, in Glasshouse")
        window.wait("image", "Photo of 40 x Clay pots")
        self.assertIsNone(window.find("push button", "Mine"))
        key("Right")
        window.wait("label", "2 of 3")
        key("space")
        window.wait("label", "3 of 3")
        key("Right")
        key("Left")
        window.wait("label", "2 of 3")
        key("m")
        key("Escape")
        until("it is left", lambda: window.find("push button", "Leave") is None)
        self.assertEqual({item["state"] for item in shedwalk("items", self.catalogue, "--json")}, {"Found"})
        self.assertNotIn("mine", str(shedwalk("answers", self.catalogue, "--json")))

    def test_answers_are_taken_on_the_spot(self):
        window = self.show("Ada Orchard")
        window.wait("label", "Ada Orchard says:")
        key("m")
        window.wait("label", "Ada Orchard: mine")
        key("Right")
        window.wait("label", "2 of 3")
        self.assertIsNone(window.find("label", "Ada Orchard: mine"))
        key("s")
        window.wait("label", "Ada Orchard: sell")
        said = shedwalk("answers", self.catalogue, "--json")
        self.assertIn("Ada Orchard", str(said))
        self.assertIn("mine", str(said))
        self.assertIn("sell", str(said))
        key("ctrl+z")
        until("it is taken back", lambda: "sell" not in str(shedwalk("answers", self.catalogue, "--json")))


class Receipt(HandingOut):
    def test_from_a_sale(self):
        table = self.folder / "money.csv"
        table.write_text(TABLE.replace(",up\n", ",up,at,result,amount,buyer\n", 1).replace(
            "2026-04-14\n", "2026-04-14,,,,\nresult,,,P1,,,,2026-04-20,sold,310.00,Bea Buyer\n").replace(
                "priced ad,,,,\n", "priced ad,,,,,,,,\n"), encoding="utf-8")
        shedwalk("book", self.catalogue, table)
        window = self.open()
        key("alt+3")
        click(window.wait("radio button", "Sales"))
        until("the sale", lambda: has(window.find("push button", "Receipt…"), "SENSITIVE"))
        for named in (False, True):
            path = self.folder / f"receipt {named}.pdf"
            click(window.wait("push button", "Receipt…"))
            box = window.wait("check box", "With the buyer's name")
            if named:
                click(box)
                until("the tick", lambda: has(window.find("check box", "With the buyer's name"), "CHECKED"))
            click(window.wait("push button", "Save as PDF…"))
            self.save(window, "Receipt as PDF", path)
            window.told(f"{path.name} written.")
            text = subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True).stdout
            self.assertIn("310.00", text)
            self.assertEqual("Bea Buyer" in text, named)
            until("the chooser gone", lambda: window.find("file chooser", "Receipt as PDF") is None)


class Limits(HandingOut):
    def test_how_long_texts_may_be(self):
        table = self.folder / "money.csv"
        table.write_text("what,outlet,kind\noutlet,Board,priced ad\n", encoding="utf-8")
        shedwalk("book", self.catalogue, table)
        window = self.open()
        key("alt+3")
        click(window.wait("radio button", "Outlets"))
        click(window.wait("push button", "Length of texts…"))
        spin = window.wait("spin button", "Characters of a title")
        spin.grab_focus()
        until("the focus", lambda: has(spin, "FOCUSED"))
        key("ctrl+a")
        type_text("60")
        until("the number", lambda: spin.get_text(0, -1) == "60")
        key("Return")
        window.wait("label", "priced ad, titles of at most 60 characters")
        self.assertEqual(shedwalk("outlet", "limits", self.catalogue, "Board", "--json")["title"], 60)


if __name__ == "__main__":
    unittest.main()
