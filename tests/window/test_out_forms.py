# SPDX-License-Identifier: GPL-3.0-or-later
"""The windows of what is handed out: on a screen as small as 640x720 and as large as 1920x1080, with letters twice as large, light,
dark and mirrored. Nothing is forced out of view, nothing overlaps, nothing is too faint, nothing is mute.

SHEDWALK_SCREEN is the screen's size; SHEDWALK_KEEP_TREES=1 writes the trees anew, SHEDWALK_KEEP_PICTURES=DIR a picture of each.
"""

import os
import pathlib
import re
import unittest
from unittest import mock

from driver import WindowTest, click, extents, has, is_showing, key, make_photo, mirrored, name_of, shedwalk, type_text, until, walk
from test_contrast import grab, look
from test_tree import MUST_HAVE_A_NAME, TREES, lines

SCREEN = tuple(int(side) for side in os.environ.get("SHEDWALK_SCREEN", "1400x900").split("x"))
ANSWERS = """shedwalk answers 1
catalogue {}
at 2026-05-01T08:30:00Z
by {}
1 {}
2 keep: one of the two is enough for the shed at the lower gate
"""
MONEY = """what,outlet,kind,ref,item,start,up,at,result,amount,buyer
outlet,Board by the orchard road,priced ad,,,,,,,,
offer,Board by the orchard road,,P1,Screw press,300.00,2026-04-14,,,,
result,,,P1,,,,2026-04-20,sold,310.00,Bea Buyer
"""
# What a person acts on or reads whole; what scrolls may reach past the lower edge of its pane.
WHOLE = {"push button", "toggle button", "check box", "radio button", "text", "combo box", "spin button", "label", "image"}
APART = {"push button", "toggle button", "check box", "radio button", "text", "combo box", "spin button"}


def meet(one, other):
    """More than their rounded edges."""
    return (min(one[0] + one[2], other[0] + other[2]) - max(one[0], other[0]) > 2
            and min(one[1] + one[3], other[1] + other[3]) - max(one[1], other[1]) > 2)


def scrolls(node):
    """The pane that it can be scrolled in, if any."""
    while node is not None and node.get_role_name() != "scroll pane":
        node = node.get_parent()
    return node


def moves_sideways(pane):
    """Such a pane has a bar for it, and what does not fit may lie beside what is seen."""
    return any(node.get_role_name() == "scroll bar" and has(node, "HORIZONTAL") and is_showing(node) for node in walk(pane, 2))


def inside(box, frame):
    return (box[0] >= frame[0] - 1 and box[1] >= frame[1] - 1 and box[0] + box[2] <= frame[0] + frame[2] + 1
            and box[1] + box[3] <= frame[1] + frame[3] + 1)


class Forms(WindowTest):
    TREE = "out"  # before the names of the trees kept

    def setUp(self):
        super().setUp()
        for k in range(3):
            make_photo(self.folder / "card" / f"p{k}.jpg", f"2026:04:03 10:00:0{k}", k)
        shedwalk("bring-in", self.catalogue, self.folder / "card")
        shedwalk("assign", self.catalogue, 1, 2, "--item", 1)
        shedwalk("assign", self.catalogue, 3, "--item", 3)
        shedwalk("hand-out", self.catalogue, "family", "--to", self.folder / "choice.html")
        page = (self.folder / "choice.html").read_text(encoding="utf-8")
        catalogue = re.search(r'data-catalogue="([-0-9a-f]{36})"', page).group(1)
        for person, says in (("Ruth of the upper house", "mine: the blue wheel was grandmother's"), ("Tom", "sell")):
            answers = self.folder / "answers.txt"
            answers.write_text(ANSWERS.format(catalogue, person, says), encoding="utf-8")
            shedwalk("answers", self.catalogue, answers)
        shedwalk("item", "set", self.catalogue, 1, "--claim", "none", "--by", "Ruth of the upper house")

    def menu(self, window, name):
        click(window.wait("toggle button", "Menu"))
        click(window.wait("push button", "Hand out"))
        window.wait("push button", name).do_action(0)

    def dialog(self, window, title):
        """By its title bar: a dialog with one has no name of its own."""
        return until(title, lambda: next((node for node in (window.app.get_child_at_index(i)
                                                            for i in range(window.app.get_child_count()))
                                          if node is not None and is_showing(node) and node != window.frame
                                          and (name_of(node) == title or window.find("label", title, under=node))), None))

    # ---- each of them opened ----

    def open_pack(self, window):
        key("ctrl+f")
        window.row("Items", "Clay pots").do_action(0)
        until("its photo", lambda: window.rows("Photos of the item"))
        window.wait("toggle button", "More for this item").do_action(0)
        window.wait("push button", "Offer pack…").do_action(0)
        window.wait("label", "Photo 1 of 1")
        until("it can be passed", lambda: has(window.find("push button", "It may go"), "SENSITIVE"))
        return self.dialog(window, "Offer pack")

    def open_put_up(self, window):
        shedwalk("item", "move", self.catalogue, 3, "Ready")
        key("alt+3")
        window.wait("radio button", "Running").do_action(0)
        window.wait("push button", "Put up…").do_action(0)
        window.wait("check box", lambda text: text.startswith("Clay pots"))
        return self.dialog(window, "Put up")

    def open_family(self, window):
        self.menu(window, "Family choice…")
        window.wait("text", "Put questions to")
        return self.dialog(window, "Family choice")

    def open_answers(self, window):
        self.menu(window, "Answers of the family…")
        until("what was said", lambda: window.find("table cell", "clash") or window.find("table cell", "Tom"))
        return self.dialog(window, "Answers of the family")

    def open_tables(self, window):
        self.menu(window, "Tables…")
        window.wait("check box", "With the names of buyers")
        return self.dialog(window, "Tables")

    def open_ask_slides(self, window):
        self.menu(window, "Slide show…")
        window.wait("text", "Who answers")
        return self.dialog(window, "Slide show")

    def open_slides(self, window):
        self.open_ask_slides(window)
        entry = window.wait("text", "Who answers")
        entry.grab_focus()
        until("the focus", lambda: has(entry, "FOCUSED"))
        type_text("Ruth of the upper house")
        until("the name", lambda: entry.get_text(0, -1) == "Ruth of the upper house")
        key("Return")
        window.wait("label", "1 of 3")
        until("the keyboard there", lambda: has(window.find("push button", "Next"), "FOCUSED"))
        show = self.dialog(window, "Ruth of the upper house says:")
        until("the whole screen", lambda: extents(show)[2:] == SCREEN)
        return show

    def open_receipt(self, window):
        table = self.folder / "money.csv"
        table.write_text(MONEY, encoding="utf-8")
        shedwalk("book", self.catalogue, table)
        key("alt+3")
        window.wait("radio button", "Sales").do_action(0)
        until("the sale", lambda: has(window.find("push button", "Receipt…"), "SENSITIVE"))
        window.find("push button", "Receipt…").do_action(0)
        window.wait("check box", "With the buyer's name")
        return self.dialog(window, "Receipt")

    def open_limits(self, window):
        key("alt+3")
        window.wait("radio button", "Outlets").do_action(0)
        window.wait("push button", "Length of texts…").do_action(0)
        window.wait("spin button", "Characters of a title")
        return self.dialog(window, "Length of texts")

    EACH = (("family", open_family), ("answers", open_answers), ("tables", open_tables), ("ask-slides", open_ask_slides),
            ("slides", open_slides), ("pack", open_pack), ("put-up", open_put_up), ("receipt", open_receipt), ("limits", open_limits))

    # ---- what is looked at ----

    def at_rest(self, box):
        return list(grab(box).getdata()) == list(grab(box).getdata())

    def visible(self, dialog):
        for node in walk(dialog):
            if is_showing(node) and has(node, "VISIBLE") and node.get_role_name() in WHOLE:
                box = extents(node)
                if box[2] > 1 and box[3] > 1:
                    yield node, box

    def check_form(self, name, dialog):
        """What is wrong, a line each."""
        frame = extents(dialog)
        if not inside(frame, (0, 0, *SCREEN)):
            yield f"{name} reaches from the screen: {frame}"
        held = []
        for node, box in self.visible(dialog):
            told, pane = f"{node.get_role_name()} {name_of(node)!r} {box}", scrolls(node)
            across = (box[0], frame[1], box[2], 1)
            if pane is None and not inside(box, frame):
                yield f"{name}: {told} reaches from its window {frame}"
            elif pane is not None and not moves_sideways(pane) and not inside(across, (extents(pane)[0], frame[1], extents(pane)[2], 1)):
                yield f"{name}: {told} reaches sideways from its pane {extents(pane)}"
            if node.get_role_name() in APART and pane is None:
                yield from (f"{name}: {told} covers {other}" for other, where in held if meet(box, where))
                held.append((told, box))
        yield from (f"{name}: {told}" for told in look(dialog))

    def keep(self, name, dialog):
        folder = os.environ.get("SHEDWALK_KEEP_PICTURES")
        if folder:
            pathlib.Path(folder).mkdir(parents=True, exist_ok=True)
            x, y, width, height = extents(dialog)
            grab((max(x, 0), max(y, 0), min(width, SCREEN[0]), min(height, SCREEN[1]))).save(f"{folder}/{name}.png")

    def check(self, label, seen=None, **environment):
        with mock.patch.dict(os.environ, environment):
            window = self.open()
        wrong = []
        for name, open_it in self.EACH:
            dialog = open_it(self, window)
            until(f"{name} drawn", lambda dialog=dialog: self.at_rest(extents(dialog)))
            self.keep(f"{name}-{SCREEN[0]}-{label}", dialog)
            wrong += self.check_form(name, dialog)
            if seen is not None:
                seen(name, dialog)
            key("Escape")
            until(f"{name} left", lambda dialog=dialog: not self.is_there(window, dialog))
            until("the keyboard back", lambda: has(window.frame, "ACTIVE"))
        self.assertEqual(wrong, [], "\n" + "\n".join(wrong))

    @staticmethod
    def is_there(window, dialog):
        window.app.clear_cache()
        return any(window.app.get_child_at_index(i) == dialog for i in range(window.app.get_child_count()))

    def check_tree(self, name, dialog):
        told = list(lines(dialog))
        self.assertEqual([line for line in told if line.strip().rstrip(":") in MUST_HAVE_A_NAME], [], f"mute widgets of {name}")
        stored = TREES / f"{self.TREE}-{name}.txt"
        if os.environ.get("SHEDWALK_KEEP_TREES"):
            stored.write_text("\n".join(told) + "\n", encoding="utf-8")
        self.assertEqual(told, stored.read_text(encoding="utf-8").splitlines())

    def check_mirrored(self, name, dialog):
        """Names stand right of their fields, and what goes on stands left of what goes back."""
        pairs = {"slides": ("Back", "Next"), "pack": ("Back", "It may go")}
        if name in pairs:
            back, on = (extents(self.window.find("push button", word, under=dialog)) for word in pairs[name])
            self.assertGreaterEqual(back[0], on[0] + on[2], name)
        if name == "family":
            label, field = (extents(self.window.find(role, "Put questions to", under=dialog)) for role in ("label", "text"))
            self.assertGreaterEqual(label[0], field[0] + field[2])

    def test_light_and_what_they_tell(self):
        self.check("light", self.check_tree if SCREEN[0] > 640 else None)

    def test_dark(self):
        self.check("dark", SHEDWALK_THEME="dark")

    def test_letters_twice_as_large(self):
        self.check("large", GDK_DPI_SCALE="2")

    def test_mirrored(self):
        self.check("mirrored", self.check_mirrored, **mirrored(self))


if __name__ == "__main__":
    unittest.main()
