# SPDX-License-Identifier: GPL-3.0-or-later
"""Contrast of what is drawn, light, dark and in high contrast, by the formula of WCAG 2.1 (W3C 2018: relative luminance, contrast ratio).

1.4.3 asks 4.5:1 of text, 1.4.11 asks 3:1 of symbols and of edges that tell something. What cannot be used is exempt (both).
"""

import os
import pathlib
import re
import unittest
from collections import Counter

import cairo
import gi

gi.require_version("Gtk", "3.0")
from gi.repository import Gdk, Gtk  # noqa: E402

from driver import WindowTest, extents, has, is_showing, key, make_photo, shedwalk, until, walk  # noqa: E402
from screen import grab  # noqa: E402

TEXT, EDGE = 4.5, 3.0
STYLE = pathlib.Path(__file__).parents[2] / "ui" / "style.css"


def to_section(window, name):
    """Of On offer; somebody asked for the offer that runs without a closing time."""
    key("alt+3")
    window.wait("radio button", name).do_action(0)
    if name != "Running" or window.find("label", lambda text: text.startswith("A. Caller")):
        return
    window.wait("push button", "Enquiry…").do_action(0)
    for field, text in (("Who", "A. Caller"), ("Offers", "6")):
        window.wait("text", field).set_text_contents(text)
    window.wait("push button", "Note").do_action(0)
    until("noted", lambda: window.find("push button", "Note") is None)


def luminance(colour):
    """Relative luminance of 8-bit sRGB."""
    linear = [c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in (v / 255 for v in colour[:3])]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def ratio(one, other):
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


# What the window draws itself: its nodes from the outside in ('name.class:state'), what of it, the least ratio.
DRAWN = [
    *((f"window.background rowlist.sw-row{row}{part}", "text", TEXT)
      for row in ("", ":hover", ":selected", ":selected:backdrop", ".sw-done", ".sw-done:selected") for part in ("", ".dim-label")),
    *((f"window.background plan plan.sw-box{kind}{part}", "text", TEXT)
      for kind in ("", ".sw-inside", ".sw-off", ":selected", ".sw-off:selected") for part in ("", ".dim-label")),
    *((f"window.background plan plan.sw-box{kind}", "edge", EDGE)
      for kind in ("", ".sw-inside", ".sw-off", ".sw-into", ".sw-sketch:selected", ":hover", ":selected")),
    ("window.background plan plan.sw-walk", "text", EDGE),
    *((f"window.background plan{part}", "text", TEXT) for part in ("", " plan.dim-label")),
    *((f"window.background plan plan.sw-box{kind} plan.sw-box.sw-bar", "edge", EDGE)
      for kind in ("", ".sw-inside", ".sw-off", ":selected")),
    *((f"window.background plan plan.sw-box{kind} plan.sw-box.sw-bar.sw-left", "ground", EDGE)
      for kind in ("", ".sw-inside", ".sw-off", ":selected")),
    ("window.background treeview.view.sw-takings treeview.view.sw-takings.sw-bar-whole", "edge", EDGE),
    ("window.background treeview.view.sw-takings treeview.view.sw-takings.sw-bar-solid", "ground", EDGE),
    ("window.background takingschart takingschart.sw-bar-whole", "edge", EDGE),
    ("window.background takingschart takingschart.sw-bar-solid", "ground", EDGE),
    ("window.background takingschart takingschart.dim-label", "text", TEXT),
    ("window.background treeview.view.sw-takings header button", "text", TEXT),
    ("window.background treeview.view.sw-takings:selected", "text", TEXT),
    ("window.background photoview.sw-chosen", "edge", EDGE),
    ("window.background closer", "text", TEXT),
    ("window.background closer:backdrop", "text", TEXT),
    ("window.background closer closer.sw-chosen", "edge", EDGE),
    ("window.background photoview.dim-label", "text", TEXT),
    *((f"window.background{back} strip strip.sw-stop{stop}{part}", "text", TEXT)
      for back in ("", ":backdrop") for stop in ("", ":selected", ".sw-done", ".sw-done:selected") for part in ("", ".dim-label")),
    ("window.background strip strip.dim-label", "text", TEXT),
    ("window.background strip strip.sw-band", "text", TEXT),
    ("window.background strip strip.sw-file", "text", TEXT),
    ("window.background strip strip.sw-badge", "text", TEXT),
    *((f"window.background strip strip.{what}", "edge", EDGE)
      for what in ("sw-stop:selected", "sw-drop-here:selected", "sw-file", "sw-cursor", "sw-cursor:focus", "sw-picked", "sw-badge")),
    *((f"window.background{back} orderview{part}", "text", TEXT) for back in ("", ":backdrop") for part in ("", " orderview.dim-label")),
    ("window.background orderview orderview.sw-chosen", "edge", EDGE),
    *((f"window.background{back} list.sw-cameras row{row} label", "text", TEXT)
      for back in ("", ":backdrop") for row in ("", ":selected", ":hover", ":selected:hover")),
    ("window.background box.sw-drop", "edge", EDGE),
    *((f"window.background{back} label{part}", "text", TEXT)
      for back in ("", ":backdrop") for part in ("", ".dim-label", ".sw-problem", ".sw-safe")),
    ("window.background box.sw-line-bar.sw-refused image", "text", EDGE),
    ("window.background button.suggested-action", "text", TEXT),
    ("window.background button.suggested-action:hover", "text", TEXT),
]
STATES = {"hover": Gtk.StateFlags.PRELIGHT, "selected": Gtk.StateFlags.SELECTED, "backdrop": Gtk.StateFlags.BACKDROP,
          "focus": Gtk.StateFlags.FOCUSED}


def context_of(node, parent):
    name = re.match(r"\w+", node).group()
    classes, states = re.findall(r"\.([\w-]+)", node), re.findall(r":(\w+)", node)
    path = parent.get_path().copy() if parent is not None else Gtk.WidgetPath.new()
    path.append_type(Gtk.Widget)
    path.iter_set_object_name(-1, name)
    flags = Gtk.StateFlags.DIR_LTR
    for state in states:
        flags |= STATES[state]
    if parent is not None:
        flags |= parent.get_state() & Gtk.StateFlags.BACKDROP
    for one in classes:
        path.iter_add_class(-1, one)
    path.iter_set_state(-1, flags)
    context = Gtk.StyleContext()
    context.set_screen(Gdk.Screen.get_default())
    context.set_path(path)
    context.set_state(flags)
    if parent is not None:
        context.set_parent(parent)
    return context


def over(colour, opacity, below):
    alpha = colour.alpha * opacity
    return [round(255 * getattr(colour, part) * alpha + below[i] * (1 - alpha)) for i, part in enumerate(("red", "green", "blue"))]


def pixel(surface):
    surface.flush()
    at = surface.get_stride() * (surface.get_height() // 2) + 4 * (surface.get_width() // 2)
    blue, green, red = bytes(surface.get_data())[at:at + 3]
    return red, green, blue


def measure(nodes, what):
    """The ratio of that part of the innermost node to what lies around it: text to its own ground, an edge or a ground to what is under."""
    surface = cairo.ImageSurface(cairo.FORMAT_RGB24, 60, 60)
    pen = cairo.Context(surface)
    context, below = None, None
    for node in nodes.split():
        context = context_of(node, context)
        below = pixel(surface)
        Gtk.render_background(context, pen, 0, 0, 60, 60)
    if what == "ground":
        return ratio(pixel(surface), below)
    state = context.get_state()
    ground = pixel(surface) if what == "text" else below
    drawn = context.get_color(state) if what == "text" else context.get_border_color(state)
    opacity = Gtk.StyleContext.get_property(context, "opacity", state)
    return ratio(over(drawn, opacity, ground), ground)


class Styles(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        Gtk.init([])
        provider = Gtk.CssProvider()
        provider.load_from_path(str(STYLE))
        Gtk.StyleContext.add_provider_for_screen(Gdk.Screen.get_default(), provider, Gtk.STYLE_PROVIDER_PRIORITY_APPLICATION)

    def check(self, dark=False, theme="Adwaita"):
        settings = Gtk.Settings.get_default()
        settings.set_property("gtk-theme-name", theme)
        settings.set_property("gtk-application-prefer-dark-theme", dark)
        faint = [f"{measure(nodes, what):.2f} < {least}: {what} of {nodes}" for nodes, what, least in DRAWN
                 if measure(nodes, what) < least]
        self.assertEqual(faint, [], "\n" + "\n".join(faint))

    def test_light(self):
        self.check(False)

    def test_dark(self):
        self.check(True)

    def test_high_contrast(self):
        self.check(theme="HighContrast")

    def test_high_contrast_inverse(self):
        self.check(theme="HighContrastInverse")

    def test_the_formula(self):
        # WCAG 2.1: black on white is 21:1; #767676 on white is the lightest grey that passes 4.5:1 (common practice)
        self.assertAlmostEqual(ratio((0, 0, 0), (255, 255, 255)), 21.0, places=3)
        self.assertGreaterEqual(ratio((0x76,) * 3, (255,) * 3), TEXT)
        self.assertLess(ratio((0x77,) * 3, (255,) * 3), TEXT)


def look(frame, under=None):
    """Of each piece of text in the window 'frame' (or a part of it) what is too faint."""
    outside = extents(frame)
    for node in walk(under or frame):
        text = node.get_name() or ""
        if node.get_role_name() not in READ or not text or not is_showing(node) or not has(node, "SENSITIVE"):
            continue
        box = extents(node)
        if text == "Proceeds and takings as bars":
            continue  # for readers alone; nothing is written over the bars
        if box[2] < 6 or box[3] < 6 or box[0] < outside[0] or box[0] + box[2] > outside[0] + outside[2]:
            continue
        if cut_by_the_fold(node, box):
            continue  # half of its letters are not on the screen
        counted = Counter(grab(box).getdata())
        ground = counted.most_common(1)[0][0]
        most = max(ratio(colour, ground) for colour in counted)
        if len(counted) > 1 and most < TEXT:
            yield f"{most:.2f} {node.get_role_name()} {text!r}"


READ = {"label", "push button", "radio button", "toggle button", "table cell", "table column header", "status bar", "check box"}


def cut_by_the_fold(node, box):
    while node is not None:
        if node.get_role_name() == "scroll pane":
            pane = extents(node)
            if box[1] < pane[1] or box[1] + box[3] > pane[1] + pane[3]:
                return True
        node = node.get_parent()
    return False


class Pages(WindowTest):
    """Off the screen: of each piece of text the pixel that stands out most against the commonest one."""

    def bring_photos(self):
        for shot in range(6):
            make_photo(self.folder / "card" / f"P{shot}.JPG", f"2026:04:04 10:{10 + shot // 3 * 20}:{shot * 6:02d}", shot)
        shedwalk("bring-in", self.catalogue, self.folder / "card", "--trip", 1)
        shedwalk("pair", self.catalogue, "--trip", 1)
        shedwalk("assign", self.catalogue, 1, 2, 3, "--item", 1)

    def check(self, theme="light", **more):
        self.bring_photos()
        self.trade()
        environment = dict(os.environ)
        os.environ.update(SHEDWALK_THEME=theme, **more)
        try:
            window = self.open()
        finally:
            os.environ.clear()
            os.environ.update(environment)
        faint = []
        for state, press, ready in (
                ("photos", "alt+1", lambda: len(window.stops()) == 2),
                ("the clocks", self.to_clocks, lambda: window.find("image", lambda text: text.startswith("Now "))),
                ("a change of a clock", self.change_clock, lambda: window.find("label", lambda text: "another time" in text)),
                ("no change of a clock", self.no_clock, lambda: window.find("label", lambda text: text.startswith("Write what is added"))),
                ("photos again", "alt+p", lambda: len(window.stops()) == 2),
                ("all decided", self.accept_all, lambda: window.find("label", "2 stops, all decided")),
                ("places and items", self.to_items, lambda: any(row.startswith("Screw press,") for row in window.rows("Items"))),
                ("an item", "Return", lambda: window.find("list", "Photos of the item")),
                ("an item closer", None, lambda: window.find("list", "Photos looked at closely")),
                ("two closer", "b", lambda: len(window.rows("Photos looked at closely")) == 2),
                ("the deciding round", "ctrl+d", lambda: window.find("text", "Price")),
                ("a field of the round", "alt+o", lambda: window.find("push button", "as new")),
                *((f"on offer, {section}", lambda window, section=section: to_section(window, section), ready)
                  for section, ready in (
                      ("Closing night", lambda: window.rows("Offers of the night")),
                      ("Running", lambda: window.find("label", lambda text: text.startswith("A. Caller, 6.00"))),
                      ("Unsold", lambda: window.find("label", lambda text: text.startswith("Asked 20.00"))),
                      ("Sales", lambda: window.find("label", "+2.00")),
                      ("Scrap", lambda: window.rows("Scrap pile and dockets")),
                      ("Rounds", lambda: window.find("label", lambda text: "round" in text.lower())),
                      ("Outlets", lambda: window.find("label", "auction, 10 days running")))),
                ("next trip", "alt+4", lambda: window.find("label", "No trip lies ahead")),
                ("takings", "alt+5", lambda: window.find("table", "Takings") or window.find("tree table", "Takings")),
                ("what a row is made of", self.to_entries, lambda: window.find("label", "The sales and costs behind this row")),
                ("shares", lambda window: window.wait("radio button", "Shares").do_action(0),
                 lambda: window.find("push button", "Keep the share") or window.find("label", lambda text: "hare" in text)),
                ("the panel", "F9", lambda: window.find("combo box")),
                ("set-up, places", self.to_set_up, lambda: window.find("text", "One place a line")),
                ("set-up, trip", "ctrl+Return", lambda: window.find("text", "Title"))):
            if callable(press):
                press(window)
            elif press == "Return":
                window.row("Items", "Screw press").do_action(0)
            elif press is None:
                until("the photos", lambda: window.rows("Photos of the item"))
                window.find("list", "Photos of the item").get_child_at_index(0).do_action(0)
            else:
                key(press)
            until(state, ready)
            until(f"{state} drawn", lambda: self.at_rest(window))
            faint += [f"{state}: {told}" for told in look(window.frame)]
        self.assertEqual(faint, [], "\n" + "\n".join(faint))

    def trade(self):
        """Something of each kind, in the sections of On offer."""
        for name in ("Vat", "Pump", "Bench", "Grate"):
            shedwalk("item", "add", self.catalogue, name, "--place", "Glasshouse", "--trip", 1, "--asking", "20")
        shedwalk("item", "set", self.catalogue, 7, "--mass", "480 kg")
        shedwalk("item", "move", self.catalogue, 7, "For scrap")
        table = self.folder / "trade.csv"
        table.write_text(
            "what,outlet,kind,running_days,from,charge,on,tiers,ref,item,start,up,closes,at,result,amount,buyer\n"
            "outlet,Hill Road,auction,10,,,,,,,,,,,,,\ncharge,Hill Road,,,2026-01-01,commission,price,10%,,,,,,,,,\n"
            "offer,Hill Road,,,,,,,A1,4,20,2026-04-14,2026-04-26T20:00,,,,\noffer,Hill Road,,,,,,,A2,5,20,2026-04-14,,,,,\n"
            "offer,Hill Road,,,,,,,A3,6,20,2026-04-14,2026-04-20T20:00,,,,\nresult,,,,,,,,A1,,,,,2026-04-26T20:00,sold,100,A. Buyer\n"
            "result,,,,,,,,A3,,,,,2026-04-20T20:00,no sale,,\nfee,,,,,commission,,,A1,,,,,2026-05-02,,12,\n"
            "offer,Hill Road,,,,,,,A4,2,20,2026-04-14,2099-04-26T20:00,,,,\n", encoding="utf-8")
        shedwalk("book", self.catalogue, table)

    @staticmethod
    def to_entries(window):
        table = window.find("table", "Takings") or window.find("tree table", "Takings")
        table.grab_focus()
        until("the focus", lambda: has(table, "FOCUSED"))
        key("Home")

    @staticmethod
    def to_clocks(window):
        window.wait("push button", "Clocks…").do_action(0)

    @staticmethod
    def change_clock(window):
        window.wait("text", "Add to its clock").set_text_contents("+1:00:00")

    @staticmethod
    def no_clock(window):
        entry = window.wait("text", "Add to its clock")
        entry.set_text_contents("late")
        entry.grab_focus()
        until("the focus", lambda: has(entry, "FOCUSED"))
        key("Return")

    @staticmethod
    def accept_all(window):
        for k in range(2):
            if ", Decided," not in window.stops()[k]:
                window.row("Stops", f"Stop {k + 1},").grab_focus()
                until("the stop", lambda: has(window.find("push button", "Accept (A)"), "SENSITIVE"))
                window.find("push button", "Accept (A)").do_action(0)
                until("decided", lambda k=k: ", Decided," in window.stops()[k])

    @staticmethod
    def to_items(window):
        key("alt+2")
        until("a place", lambda: window.rows("Items"))
        if not any(row.startswith("Screw press,") for row in window.rows("Items")):
            window.wait("push button", "All places").do_action(0)

    @staticmethod
    def to_set_up(window):
        key("F9", "F10")
        window.wait("push button", "Set up places and trips…").do_action(0)

    @staticmethod
    def at_rest(window):
        box = extents(window.frame)
        return list(grab(box).getdata()) == list(grab(box).getdata())

    def test_light(self):
        self.check()

    def test_dark(self):
        self.check("dark")

    def test_high_contrast(self):
        self.check(GTK_THEME="HighContrast")

    def test_high_contrast_inverse(self):
        self.check(GTK_THEME="HighContrastInverse")
