# SPDX-License-Identifier: GPL-3.0-or-later
"""The deciding round: finds decided by keys alone and through assistive technology, what waits, what comes back."""

import sqlite3

from driver import WindowTest, children, click, has, is_showing, key, make_photo, name_of, shedwalk, type_text, until, walk

MOST_KEYS = 12  # for a find with all its fields, words apart

MONEY = """what,outlet,kind,running_days,pay_days,ref,item,up,closes,at,result,amount
outlet,Tarrow Rooms,auction,7,5,,,,,,,
outlet,Valley Sheet,priced ad,28,2,,,,,,,
offer,Tarrow Rooms,,,,A1,Basket press,2026-04-08,2026-04-15T20:00,,,
result,,,,,A1,,,,2026-04-15T20:00,sold,240.00
"""


class RoundTest(WindowTest):
    def setUp(self):
        super().setUp()
        self.keys = 0
        shedwalk("item", "add", self.catalogue, "Basket press", "--place", "Press house", "--trip", 1)
        money = self.folder / "money.csv"
        money.write_text(MONEY, encoding="utf-8")
        shedwalk("book", self.catalogue, money)
        shedwalk("item", "set", self.catalogue, "3", "--claim", "none", "--by", "Ina", "--place", "Press house > Loft")
        for i in range(5):
            make_photo(self.folder / f"card/p{i}.jpg", f"2026:04:03 10:0{i}:00", i)
        shedwalk("bring-in", self.catalogue, self.folder / "card")
        shedwalk("assign", self.catalogue, 1, 2, 3, "--item", 2)

    def ask(self, sql, *values):
        with sqlite3.connect(f"file:{self.catalogue}/catalogue.db?mode=ro", uri=True) as database:
            return database.execute(sql, values).fetchall()

    def begin(self):
        window = self.open()
        until("the window in front", lambda: has(window.frame, "ACTIVE"))
        key("ctrl+d")
        self.at("Screw press")
        return window

    def press(self, *names):
        self.keys += len(names)
        key(*names)

    def focused(self):
        for node in walk(self.window.app):
            if has(node, "FOCUSED") and is_showing(node) and node.get_role_name() in ("text", "push button", "list", "list item"):
                return name_of(node)
        return None

    def into(self, field):
        """The keyboard has come to the field of that name."""
        until("the keyboard in " + field, lambda: has(self.window.find("text", field), "FOCUSED"))

    def at(self, name):
        """The find of that name is shown."""
        def shown():
            entry = self.window.find("text", "Name")
            return entry is not None and entry.get_text(0, -1) == name
        until("the find " + name, shown)

    def says(self, text):
        return until(text, lambda: self.window.find("label", lambda told: text in told))


class ByKeys(RoundTest):
    def test_a_find_with_all_its_fields_in_twelve_keys(self):
        window = self.begin()
        self.into("Count")  # a name is there; one is what nobody has counted
        self.press("n")  # types: the keyboard is in a field
        key("BackSpace")
        self.keys = 0
        self.press("alt+n")
        self.into("Name")
        type_text("Spindle press")
        self.press("Return")
        type_text("2")
        self.press("Return")
        self.into("Condition")
        self.press("4")
        self.into("What is wrong")
        type_text("one beam split")
        self.press("Return")
        self.into("Lifted by")
        self.press("2", "4")
        self.into("Dangers")
        self.press("1")
        self.into("Ask")
        self.press("1")
        self.into("Outlet")
        self.press("1")
        self.into("Price")
        type_text("240")
        self.press("Return")
        until("the keyboard on Ready", lambda: has(window.find("push button", "Ready"), "FOCUSED"))
        until("the price saved", lambda: self.item(1)["asking"] == 24000)
        self.press("Return")
        window.told("Spindle press: Found to Ready")
        self.assertLessEqual(self.keys, MOST_KEYS)
        self.at("Sack truck")
        print("keys for a find with all its fields:", self.keys)
        item = self.item(1)
        self.assertEqual((item["name"], item["count"], item["state"]), ("Spindle press", 2, "Ready"))
        self.assertEqual(self.ask("SELECT size_class, stows, o.name FROM item i JOIN outlet o ON o.id = i.outlet WHERE i.id = 1"),
                         [("two people", "trailer", "Tarrow Rooms")])
        self.assertEqual(self.ask("SELECT kind, text, source FROM fact WHERE item = 1 ORDER BY id"),
                         [("condition", "worn", "seen"), ("what is wrong", "one beam split", "seen"), ("danger", "heavy lift", "seen")])
        self.assertEqual(self.ask("SELECT person, text FROM question WHERE item = 1"), [("Ina", "What do you know of it?")])

    def test_each_letter_goes_to_its_field(self):
        self.begin()
        for letter, field in (("n", "Name"), ("c", "Count"), ("o", "Condition"), ("w", "What is wrong"), ("l", "Lifted by"),
                              ("r", "Rides on"), ("d", "Dangers"), ("a", "Ask"), ("u", "Outlet"), ("p", "Price"), ("j", "Job on site")):
            key("Escape")
            until("the photos", lambda: has(self.window.find("list", "Photos of the find"), "FOCUSED"))
            key(letter)
            self.into(field)
            key("alt+" + ("w" if letter != "w" else "n"))
            self.into("What is wrong" if letter != "w" else "Name")

    def test_the_hour_is_put_off_in_every_way(self):
        window = self.begin()
        self.says("3 left, by place")
        key("Escape", "b")
        window.told("Screw press: to be priced")
        self.says("2 left, by place. 1 waits: 1 to be priced.")
        key("Page_Down")
        self.at("Sack truck")
        key("a")
        self.into("Ask")
        type_text("Bram: does the brake hold?")
        key("Return")
        self.into("Outlet")
        key("alt+j")
        self.into("Job on site")
        type_text("measure the bed")
        key("Return")
        window.told("Sack truck: jobs on the next trip: measure the bed")
        self.assertEqual(self.ask("SELECT person, text FROM question"), [("Bram", "does the brake hold?")])
        self.assertEqual(self.ask("SELECT kind, text FROM job"), [("measure", "the bed")])
        key("Page_Down")
        self.at("Clay pots")
        key("alt+t")
        window.told("Clay pots: later")
        self.says("Nothing left but what waits. 3 wait: 1 put off till later, 1 to be priced, 1 for an answer.")
        key("Page_Up")
        self.at("Clay pots")
        key("alt+t")
        window.told("Clay pots: put off no more")
        key("ctrl+z")
        window.told("Undone: ")
        until("later again", lambda: self.ask("SELECT waits FROM item WHERE id = 3") == [("later",)])

    def test_a_source_is_one_key(self):
        window = self.begin()
        key("alt+o")
        self.into("Condition")
        key("F5", "4")
        self.into("What is wrong")
        until("guessed", lambda: self.ask("SELECT text, source FROM fact") == [("worn", "guessed")])
        type_text("one stave split")
        key("F4")
        self.into("Told by")
        type_text("Ada")
        key("Return")
        self.into("What is wrong")
        window.told("Screw press: what is wrong: one stave split")
        until("told", lambda: self.ask("SELECT text, source, by_whom FROM fact WHERE kind = 'what is wrong'")
              == [("one stave split", "told", "Ada")])
        self.says("told by Ada")
        key("alt+d")
        self.into("Dangers")
        key("F4")
        self.into("Told by")
        key("1")  # Ada was named by now, after Ina: people come in the order named
        self.into("Dangers")
        key("F3", "1")
        until("tried", lambda: self.ask("SELECT text, source FROM fact WHERE kind = 'danger'") == [("heavy lift", "tried")])
        window.told("Screw press: dangers: heavy lift")
        self.says("heavy lift (tried)")
        key("Escape", "F2")
        window.told("A source belongs to condition, what is wrong and dangers")

    def test_the_one_before_is_repeated(self):
        window = self.begin()
        key("equal")
        window.told("No find was decided before this one")
        key("alt+o", "4")
        self.into("What is wrong")
        key("alt+l", "3", "4")
        self.into("Dangers")
        window.told("Screw press: rides on trailer")
        key("Page_Down")
        self.at("Sack truck")
        self.into("Condition")  # its two were counted
        key("equal")
        window.told("Sack truck: 1 as with Screw press")
        self.into("What is wrong")
        key("Escape", "equal")
        window.told("Sack truck: 2 as with Screw press")
        self.assertEqual(self.ask("SELECT size_class, stows FROM item WHERE id = 2"), [("machine", "trailer")])
        key("ctrl+z", "ctrl+z")
        until("all of it back", lambda: self.ask("SELECT count(*) FROM fact WHERE item = 2 AND withdrawn_us IS NULL") == [(0,)])

    def test_photos_and_like_things_are_beside_it(self):
        window = self.begin()
        self.says("Basket press: 240.00\u00a0NZD, Tarrow Rooms, 7 days up, April 2026")
        key("Page_Down")
        self.at("Sack truck")
        until("its photos", lambda: len(window.rows("Photos of the find")) == 3)
        key("Escape")
        for shown in ("10:01:00", "10:02:00", "10:00:00"):
            key("space")
            self.says(shown)
        key("Return")
        window.wait("push button", "Next photo")
        key("Escape")
        self.at("Sack truck")
        key("Escape")
        window.wait("list", "Items")


class ComesBack(RoundTest):
    def test_it_goes_on_where_it_stood(self):
        window = self.begin()
        combo = window.find("combo box", "Order of the finds")
        self.assertIsNotNone(combo)
        key("Page_Down")
        self.at("Sack truck")
        self.into("Condition")  # its two were counted
        type_text("wheels wobble")
        key("Escape", "Escape")
        window.wait("list", "Items")
        until("the last words saved", lambda: self.ask("SELECT text FROM fact") == [("wheels wobble",)])
        key("ctrl+d")
        self.at("Sack truck")
        window.close()
        self.window = None
        window = self.open()
        until("the window in front", lambda: has(window.frame, "ACTIVE"))
        key("ctrl+d")
        self.at("Sack truck")

    def test_what_another_program_does_is_shown_not_overwritten(self):
        window = self.begin()
        self.into("Count")
        key("ctrl+a")
        type_text("x")  # no count: nothing goes out
        shedwalk("item", "set", self.catalogue, "1", "--count", "9", "--asking", "400")
        price = window.wait("text", "Price")
        until("its price", lambda: price.get_text(0, -1).startswith("400"))
        key("BackSpace")
        type_text("4")
        key("Return")
        window.told("Screw press: its count was changed to 9 meanwhile")
        self.assertEqual(self.item(1)["count"], 9)
        key("alt+c")
        self.into("Count")
        key("Return")
        until("now it counts", lambda: self.item(1)["count"] == 4)
        shedwalk("item", "move", self.catalogue, "2", "Kept")
        self.says("2 left, by place")

    def test_it_says_what_is_lacking_until_the_end(self):
        window = self.begin()
        shedwalk("item", "set", self.catalogue, "1", "--claim", "open", "--by", "Ina")
        self.says("Still lacks an answer to the open claim.")
        key("Escape", "y")
        window.told("Screw press cannot become Ready: the claim of Ina is not settled")
        shedwalk("item", "set", self.catalogue, "1", "--claim", "none", "--by", "Ina")
        self.says("Has all it needs to be Ready.")
        key("y")
        self.at("Sack truck")
        self.says("Still lacks an asking price.")
        key("p")
        self.into("Price")
        type_text("30")
        key("Return", "Return")
        self.at("Clay pots")
        key("alt+y")
        self.says("Every find is decided.")
        key("Page_Up")
        self.at("Clay pots")
        self.says("It is Ready.")

    def test_bad_words_say_what_to_do(self):
        window = self.begin()
        for field, typed, told in (("alt+c", "none", "The count is a whole number"), ("alt+p", "12 EUR", "The amount ‘12 EUR’ cannot be read"),
                                   ("alt+l", "crane", "It is lifted by hand"), ("alt+r", "wings", "It rides on a shelf"),
                                   ("alt+u", "Nowhere", "There is no outlet ‘Nowhere’"), ("alt+j", "polish", "A job begins with one of"),
                                   ("alt+d", "dragons", "A danger is")):
            key(field)
            type_text(typed)
            key("Return")
            window.told(told)
        self.assertEqual(self.item(1)["asking"], 35000)


class WithoutKeysOrPointer(RoundTest):
    """As assistive technology does it: text set and actions taken, by name."""

    def write(self, field, text):
        entry = self.window.wait("text", field)
        entry.grab_focus()
        self.into(field)
        self.assertTrue(entry.set_text_contents(text))

    def choose(self, field, name):
        self.window.wait("text", field).grab_focus()
        self.into(field)
        self.window.wait("push button", name).do_action(0)

    def test_a_whole_round(self):
        window = self.open()
        window.wait("radio button", "Property").do_action(0)
        window.wait("push button", "Decide").do_action(0)
        for number, name, asking in ((1, "Screw press", "310"), (2, "Sack truck", "25"), (3, "Clay pots", "44")):
            self.at(name)
            self.choose("Condition", "worn")
            self.choose("Lifted by", "hand")
            self.choose("Rides on", "floor")
            self.choose("Outlet", "Valley Sheet")
            self.write("Price", asking)
            until("the price", lambda number=number, asking=asking: self.item(number)["asking"] == int(asking) * 100)
            window.wait("push button", "Ready").do_action(0)
            until("it is Ready", lambda number=number: self.item(number)["state"] == "Ready")
        self.says("Every find is decided.")
        window.wait("push button", "Back to the property").do_action(0)
        window.wait("list", "Items")
        self.assertEqual(self.ask("SELECT DISTINCT f.text, size_class, stows FROM item i JOIN fact f ON f.item = i.id WHERE i.state = 'ready'"),
                         [("worn", "hand", "floor")])

    def test_nothing_in_it_is_mute(self):
        window = self.begin()
        mute = [node.get_role_name() for node in walk(window.frame)
                if is_showing(node) and node.get_role_name() in ("push button", "text", "combo box", "toggle button", "list")
                and not name_of(node)]
        self.assertEqual(mute, [])
        names = [name_of(child) for child in children(window.find("list", "Photos of the find"))]
        self.assertEqual([name for name in names if not name], [])
        click(window.wait("toggle button", "Later"))
        self.at("Sack truck")
