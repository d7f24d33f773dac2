# SPDX-License-Identifier: GPL-3.0-or-later
"""Longer walks: a folder dropped, a bring-in stopped, the desktop's light and dark, another program at work, keys alone."""

import os
import signal

from gi.repository import Gio, GLib

import gi

gi.require_version("Gtk", "3.0")
gi.require_version("Gdk", "3.0")
from gi.repository import Gdk, Gtk  # noqa: E402

from driver import WindowTest, click, extents, has, key, make_photo, middle, shedwalk, spin, until, xdo  # noqa: E402


def make_card(folder, stops=3, shots=4):
    """Stops of photos, minutes apart, on a day of the trip."""
    for stop in range(stops):
        for shot in range(shots):
            make_photo(folder / "DCIM" / f"P{stop:02d}{shot:02d}.JPG",
                       f"2026:04:04 {10 + stop // 6}:{stop % 6 * 9:02d}:{shot * 2:02d}", stop * 100 + shot)
    return folder


class Photos(WindowTest):
    def count(self):
        return len(shedwalk("photos", self.catalogue, "--json"))

    def test_a_folder_is_dropped(self):
        """From a window of another program (this one), with the pointer, as from a file manager."""
        card = make_card(self.folder / "card")
        window = self.open()
        key("alt+1")
        window.wait("push button", "Bring photos in…")
        source = Gtk.Window(type=Gtk.WindowType.POPUP)
        box = Gtk.EventBox()
        source.add(box)
        source.resize(60, 60)
        source.move(1330, 20)
        box.drag_source_set(Gdk.ModifierType.BUTTON1_MASK, [], Gdk.DragAction.COPY)
        box.drag_source_add_uri_targets()
        given = []
        box.connect("drag-data-get", lambda widget, context, data, info, time: (
            data.set_uris([card.as_uri()]), given.append(True)))
        source.show_all()
        self.addCleanup(source.destroy)
        until("the source on the screen", source.get_mapped)
        self.carry((1355, 45), middle(window.frame), given)
        window.confirm_bring_in()
        window.told("The memory card may be cleared now.")
        self.assertEqual(self.count(), 12)

    @staticmethod
    def carry(start, end, given):
        """The source lives in this process, so its events are let in between the moves."""
        steps = [start] + [(start[0] - 14 * i, start[1] + 6 * i) for i in range(1, 5)] + [
            (start[0] + (end[0] - start[0]) * i // 8, start[1] + (end[1] - start[1]) * i // 8) for i in range(1, 9)]
        xdo("mousemove", *start, "mousedown", 1)
        for step in steps:
            xdo("mousemove", *step)
            for _ in range(40):
                spin()
        # the drop counts once the target has said that it will take it
        pointer = [0]

        def taken():
            if given:
                return True
            pointer[0] += 1
            xdo("mousemove", end[0] + pointer[0] % 5, end[1])
            spin()
            if pointer[0] % 6 == 5:
                xdo("mouseup", 1)
            return bool(given)
        until("the drop taken", taken)

    def test_a_bring_in_is_stopped_and_run_again(self):
        card = make_card(self.folder / "card", 5, 10)
        for photo in list(card.rglob("*.JPG")):
            for copy in range(29):  # other bytes after the picture's end: another photo, enough of them to be in the middle
                photo.with_name(f"{photo.stem}-{copy:02d}.JPG").write_bytes(photo.read_bytes() + bytes([copy]) * 4096)
        window = self.open()
        window.bring_in(card)
        stop = middle(window.wait("push button", "Stop"))
        until("some photos there", lambda: len([path for path in (self.catalogue / "photos").rglob("*") if path.is_file()]) > 20)
        # held still while the pointer is on its way, so that the click comes in the middle of copying on any machine
        window.process.send_signal(signal.SIGSTOP)
        xdo("mousemove", *stop, "click", 1)
        window.process.send_signal(signal.SIGCONT)
        window.wait("label", lambda text: "photos taken" in text)
        self.assertIsNone(window.find("label", "The memory card may be cleared now."), f"{self.count()} photos taken")
        until("the window at rest", lambda: window.find("push button", "Bring photos in…"))
        some = self.count()
        self.assertGreater(some, 0)
        self.assertLess(some, 1500)
        told = window.wait("label", lambda text: text.startswith(f"{some} photos taken"))
        self.assertTrue(told)
        window.bring_in(card)
        window.wait("label", lambda text: text.startswith(f"{1500 - some} photos taken") and f"{some} there already" in text)
        window.told("The memory card may be cleared now.")
        self.assertEqual(self.count(), 1500)
        self.assertEqual(shedwalk("check", self.catalogue, "--json").get("faults", []), [])


PORTAL = """<node><interface name="org.freedesktop.portal.Settings">
<method name="Read"><arg type="s" direction="in"/><arg type="s" direction="in"/><arg type="v" direction="out"/></method>
<signal name="SettingChanged"><arg type="s"/><arg type="s"/><arg type="v"/></signal>
</interface></node>"""


class Desktop(WindowTest):
    """A settings portal of our own on the test's bus (XDG desktop portal documentation, Settings: 1 dark, 2 light)."""

    def setUp(self):
        super().setUp()
        self.scheme = 1
        self.bus = Gio.bus_get_sync(Gio.BusType.SESSION)
        described = Gio.DBusNodeInfo.new_for_xml(PORTAL).interfaces[0]
        self.asked = []
        number = self.bus.register_object("/org/freedesktop/portal/desktop", described, self.on_call, None, None)
        self.addCleanup(self.bus.unregister_object, number)
        owned = []
        owner = Gio.bus_own_name_on_connection(self.bus, "org.freedesktop.portal.Desktop", Gio.BusNameOwnerFlags.NONE,
                                               lambda *_: owned.append(True), None)
        self.addCleanup(Gio.bus_unown_name, owner)
        until("the portal's name", lambda: owned)
        forced = os.environ.pop("SHEDWALK_THEME")
        self.addCleanup(os.environ.update, SHEDWALK_THEME=forced)

    def on_call(self, bus, sender, path, interface, method, parameters, invocation):
        self.asked.append(parameters.unpack())
        if parameters.unpack() != ("org.freedesktop.appearance", "color-scheme"):
            invocation.return_dbus_error("org.freedesktop.portal.Error.NotFound", "no such setting")
            return
        invocation.return_value(GLib.Variant("(v)", (GLib.Variant("v", GLib.Variant("u", self.scheme)),)))

    def change(self, scheme):
        self.bus.emit_signal(None, "/org/freedesktop/portal/desktop", "org.freedesktop.portal.Settings", "SettingChanged",
                             GLib.Variant("(ssv)", ("org.freedesktop.appearance", "color-scheme", GLib.Variant("u", scheme))))

    @staticmethod
    def brightness(window):
        """Of a corner of the line at the foot of the window, where nothing is written."""
        bar = extents(window.wait("toggle button", lambda text: text.startswith("Takings ")))
        pixels = Gdk.pixbuf_get_from_window(Gdk.get_default_root_window(), bar[0] - 60, bar[1] + bar[3] // 2, 1, 1)
        return sum(pixels.get_pixels()[:3]) / 3

    def test_the_window_follows_the_desktop(self):
        window = self.open()
        until("the question", lambda: self.asked)
        until("dark", lambda: self.brightness(window) < 90)
        self.change(2)
        until("light", lambda: self.brightness(window) > 200)
        self.change(1)
        until("dark again", lambda: self.brightness(window) < 90)
        self.change(0)  # no preference: the program's own, light
        until("light again", lambda: self.brightness(window) > 200)


class Meanwhile(WindowTest):
    def test_another_program_adds_and_changes(self):
        window = self.open()
        key("alt+2")
        until("the items", lambda: len(window.rows("Items")) == 3)
        shedwalk("item", "add", self.catalogue, "Copper still", "--place", "Press house > Loft", "--trip", 1)
        until("the new item", lambda: [row for row in window.rows("Items") if row.startswith("Copper still, Found")])
        until("its place on the plan", lambda: [row for row in window.rows("Plan of the property")
                                                if row.startswith("Press house > Loft, walked, 1 of 1 still stand")])
        window.row("Items", "Copper still").do_action(0)
        window.wait("text", "Name")
        shedwalk("item", "move", self.catalogue, 4, "Kept")
        until("its state on the sheet", lambda: window.find("label", "Kept"))
        shedwalk("place", "add", self.catalogue, "Cooperage")
        shedwalk("trip", "add", self.catalogue, "--title", "Winter", "--first", "2026-07-01", "--last", "2026-07-02")
        key("alt+5")
        shedwalk("undo", self.catalogue)
        key("alt+2")
        click(window.wait("push button", "Back"))
        until("the new place", lambda: [row for row in window.rows("Places") if row.startswith("Cooperage")])


class Keys(WindowTest):
    def tab_to(self, window, role, name):
        for _ in range(60):
            node = window.find(role, name)
            if node is not None and has(node, "FOCUSED"):
                return node
            key("Tab")
        raise AssertionError(f"Tab never came to {role} {name}")

    def test_undo_goes_back_over_pages(self):
        window = self.open()
        key("alt+2")
        until("the items", lambda: len(window.rows("Items")) == 3)
        window.row("Items", "Screw press").do_action(0)
        click(window.wait("push button", "Kept"))
        window.told("Screw press")
        self.assertEqual(self.item(1)["state"], "Kept")
        key("alt+5")
        window.wait("label", "Nothing sold yet")
        key("ctrl+z")
        window.told("Undone: ")
        self.assertEqual(self.item(1)["state"], "Found")
        key("alt+1")
        window.wait("push button", "Bring photos in…")
        key("ctrl+shift+z")
        window.told("Done again: ")
        self.assertEqual(self.item(1)["state"], "Kept")

    def test_the_main_job_by_keys_alone(self):
        card = make_card(self.folder / "card")
        window = self.open()
        window.bring_in(card)
        window.told("The memory card may be cleared now.")
        until("the stops", window.stops)
        before = len(shedwalk("items", self.catalogue, "--json"))
        self.tab_to(window, "list", "Stops")
        key("Home", "a")
        until("the first stop decided", lambda: "Decided" in window.stops()[0])
        after = shedwalk("items", self.catalogue, "--json")
        self.assertGreaterEqual(len(after), before)
        key("alt+2")
        until("the items", lambda: window.rows("Items"))
        self.tab_to(window, "list", "Items")
        key("Home", "Return")
        name = window.wait("text", "Name")
        opened = until("the item's name", lambda: name.get_text(0, -1))
        number = next(item["number"] for item in after if item["name"] == opened)
        self.tab_to(window, "push button", "Kept")
        key("space")
        window.told(opened)
        until("the step taken", lambda: self.item(number)["state"] == "Kept")
        key("ctrl+z")
        window.told("Undone: ")
        self.assertEqual(self.item(number)["state"], "Found")
