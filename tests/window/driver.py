# SPDX-License-Identifier: GPL-3.0-or-later
"""Drives the real window with key and pointer events (xdotool) and reads what it tells assistive technology (AT-SPI).

Nothing here waits for a time: until() asks again and again for a state, up to a limit that only ends a hung test. It rests
between two looks, so that the window under test works for itself and not for who watches it.
"""

import json
import os
import pathlib
import shutil
import subprocess
import tempfile
import time
import unittest

import gi

gi.require_version("Atspi", "2.0")
from gi.repository import Atspi, GLib  # noqa: E402
from PIL import Image, ImageDraw  # noqa: E402

PROGRAM = os.environ["SHEDWALK"]
LIMIT = float(os.environ.get("SHEDWALK_TEST_LIMIT", "40"))  # seconds after which a state is taken never to come

REST = 0.005  # seconds between two looks

# On a busy machine the program may take long to answer; the default gives up after 0.8 s.
Atspi.set_timeout(20000, 20000)

# GTK 3.24's own folder chooser says the first two when a typed slash opens its location entry and while it completes a
# path; its print dialog the others, where no system bus runs.
KNOWN = (
    "gtk_widget_event: assertion 'WIDGET_REALIZED_FOR_EVENT (widget, event)' failed",
    "gtk_tree_model_get_iter_first: assertion 'GTK_IS_TREE_MODEL (tree_model)' failed",
    "gtk_notebook_get_tab_label: assertion 'list != NULL' failed",
    "Couldn't connect to D-Bus system bus, Could not connect: No such file or directory",
)


def spin():
    """Lets AT-SPI events in."""
    context = GLib.MainContext.default()
    while context.pending():
        context.iteration(False)


def rest():
    """A moment without a look; events are let in as they come."""
    over = []
    GLib.timeout_add(round(REST * 1000), lambda: over.append(True))
    while not over:
        GLib.MainContext.default().iteration(True)


def until(what, probe):
    """The first true answer of probe; a defunct object on the way counts as no answer yet."""
    end = time.monotonic() + LIMIT
    while time.monotonic() < end:
        spin()
        try:
            answer = probe()
        except GLib.Error:
            answer = None
        if answer:
            return answer
        rest()
    raise AssertionError("never came: " + what)


def child_at(node, i):
    """None where it, or the node itself, went away meanwhile."""
    try:
        return node.get_child_at_index(i)
    except GLib.Error:
        return None


def children(node):
    node.clear_cache()
    try:
        count = node.get_child_count()
    except GLib.Error:
        return []
    return [child for child in (child_at(node, i) for i in range(count)) if child is not None]


def is_long(node):
    """A list or table nobody asks for all of: it may have a hundred thousand rows, a table a child for each cell."""
    try:
        most = {"list": 100, "table": 2000, "tree table": 2000}.get(node.get_role_name())
        return most is not None and node.get_child_count() > most
    except GLib.Error:
        return True  # it went away: nothing is in it


def walk(node, depth=40):
    """A long list is not gone into. rows() asks for its rows."""
    yield node
    if depth > 0 and not is_long(node):
        for child in children(node):
            yield from walk(child, depth - 1)


def is_showing(node):
    return node.get_state_set().contains(Atspi.StateType.SHOWING)


def has(node, state):
    """Whether it is there and in that state; a widget may be away for a moment while its page is filled anew."""
    return node is not None and node.get_state_set().contains(getattr(Atspi.StateType, state))


def name_of(node):
    """Its own name, or that of the label that names it."""
    if node.get_name():
        return node.get_name()
    for relation in node.get_relation_set():
        if relation.get_relation_type() == Atspi.RelationType.LABELLED_BY:
            return relation.get_target(0).get_name() or ""
    return ""


def extents(node):
    box = node.get_extents(Atspi.CoordType.SCREEN)
    return box.x, box.y, box.width, box.height


def cell(table, row, column):
    """What a cell of a table says; None where its row went away meanwhile."""
    node = table.get_accessible_at(row, column)
    return node.get_name() if node is not None else None


def middle(node):
    x, y, width, height = extents(node)
    return x + width // 2, y + height // 2


def xdo(*words):
    subprocess.run(["xdotool", *map(str, words)], check=True)


def key(*names):
    xdo("key", "--clearmodifiers", *names)


def type_text(text):
    xdo("type", "--clearmodifiers", "--delay", "1", "--", text)


def type_over(entry, text):
    """In place of whatever stands there, once the keyboard is; three clicks in a row may come apart where the machine is busy."""
    until("the keyboard there", lambda: has(entry, "FOCUSED"))
    key("ctrl+a")
    type_text(text)
    until("what was typed", lambda: entry.get_text(0, -1) == text)


def click(node):
    x, y = middle(node)
    xdo("mousemove", x, y, "click", 1)


def drag(start, end):
    """Three small moves past the threshold first, then the way, in steps."""
    (x, y), (to_x, to_y) = start, end
    xdo("mousemove", x, y, "mousedown", 1)
    for step in (4, 8, 12):
        xdo("mousemove", x + step, y + step)
    for part in (1, 2, 3, 4):
        xdo("mousemove", x + (to_x - x) * part // 4, y + (to_y - y) * part // 4)
    xdo("mousemove", to_x, to_y, "mouseup", 1)


class Heard:
    """Names and values that change while a block runs, as a screen reader hears them."""

    KINDS = ("object:property-change:accessible-name", "object:property-change:accessible-value", "object:text-changed:insert")

    def __enter__(self):
        self.texts = set()
        self.values = 0
        self.listener = Atspi.EventListener.new(self.hear)
        for kind in self.KINDS:
            self.listener.register(kind)
        return self

    def hear(self, event):
        if event.type.endswith("accessible-value"):
            self.values += 1
        elif isinstance(event.any_data, str):
            self.texts.add(event.any_data)

    def __exit__(self, *_):
        for kind in self.KINDS:
            self.listener.deregister(kind)


def make_photo(path, taken, seed, model="K2"):
    """A JPEG of 400x300 with a drawing that no other seed has; taken: 'YYYY:MM:DD HH:MM:SS'."""
    picture = Image.new("RGB", (400, 300), ((seed * 37) % 200 + 30, (seed * 91) % 200 + 30, (seed * 53) % 200 + 30))
    pen = ImageDraw.Draw(picture)
    for i in range(8):
        x, y = (seed * 61 + i * 47) % 360, (seed * 29 + i * 83) % 260
        pen.rectangle((x, y, x + 40 + seed % 30, y + 36), fill=((i * 40 + seed * 11) % 255, (seed * 7) % 255, i * 30))
    exif = Image.Exif()
    exif[0x010F], exif[0x0110] = "Orrery", model  # make and model of no real camera
    exif[0x8769] = {0x9003: taken}
    path.parent.mkdir(parents=True, exist_ok=True)
    picture.save(path, "JPEG", exif=exif, quality=85)


def shedwalk(*words):
    """A command; its answer as text, or parsed where it was asked for as JSON."""
    done = subprocess.run([PROGRAM, *map(str, words)], capture_output=True, text=True, check=False)
    if done.returncode != 0:
        raise AssertionError(f"{words}: {done.returncode} {done.stderr}")
    return json.loads(done.stdout) if "--json" in words else done.stdout.strip()


class Window:
    """The program with its window open."""

    def __init__(self, *arguments):
        self.start([PROGRAM, *map(str, arguments)])

    def start(self, words, environment=None):
        """By these words, which end in being the program."""
        self.log = tempfile.NamedTemporaryFile("w+", suffix=".log", dir=os.environ["SHEDWALK_TEST_FOLDER"], delete=False)
        self.said = []
        self.listener = Atspi.EventListener.new(lambda event: self.said.append(event.any_data))
        self.listener.register("object:announcement")
        self.process = subprocess.Popen(words, stdout=self.log, stderr=subprocess.STDOUT, env=environment)
        self.app = until("the program on the accessibility bus", self.find_app)
        self.frame = until("its window", lambda: self.find("frame"))

    def find_app(self):
        if self.process.poll() is not None:
            raise AssertionError("the program ended: " + self.output())
        desktop = Atspi.get_desktop(0)
        desktop.clear_cache()
        for i in range(desktop.get_child_count()):
            app = desktop.get_child_at_index(i)
            if app is not None and app.get_process_id() == self.process.pid:
                return app
        return None

    def output(self):
        self.log.flush()
        return pathlib.Path(self.log.name).read_text(encoding="utf-8", errors="replace")

    def find(self, role, name=None, under=None, showing=True):
        """The first node of that role whose name is, or (a function) fulfils, name."""
        return next((node for node in walk(under or self.app) if self.fits(node, role, name, showing)), None)

    @staticmethod
    def fits(node, role, name, showing):
        """What went away while it was read fits nothing."""
        try:
            if node.get_role_name() != role or (showing and not is_showing(node)):
                return False
            told = name_of(node)
        except GLib.Error:
            return False
        return name is None or (name(told) if callable(name) else told == name)

    def wait(self, role, name=None, under=None):
        return until(f"{role} {name!r}", lambda: self.find(role, name, under))

    def hidden(self, role, name):
        """The same, also where it is scrolled out of view."""
        return until(f"{role} {name!r}", lambda: self.find(role, name, showing=False))

    def rows(self, list_name):
        """Sentences of a drawn list's rows."""
        the_list = self.find("list", list_name)
        return [row.get_name() for row in children(the_list)] if the_list is not None else []

    def row(self, list_name, begins):
        return until(f"row {begins!r} of {list_name}", lambda: next(
            (row for row in children(self.wait("list", list_name)) if (row.get_name() or "").startswith(begins)), None))

    def stops(self):
        """Sentences of the strip's stops, without the photos between them."""
        return [row for row in self.rows("Stops") if row.startswith("Stop ")]

    def choose_folder(self, title, folder):
        """Types the path of a folder into the folder chooser of that title."""
        chooser = self.wait("file chooser", title)
        key("slash")
        entry = until("its location entry", lambda: next(
            (node for node in walk(chooser) if node.get_role_name() == "text" and is_showing(node)
             and node.get_text(0, -1).startswith("/")), None))
        type_text(str(folder)[1:])
        until("the path", lambda: entry.get_text(0, -1).rstrip("/") == str(folder))
        key("Return")

    def bring_in(self, folder):
        """Ctrl+B, the folder, and the word to copy what the look found there."""
        key("ctrl+b")
        self.choose_folder("Folder with the photos", folder)
        self.confirm_bring_in()

    def confirm_bring_in(self):
        button = until("the look", lambda: self.find("push button", "Bring them in") or self.find("push button", "Compare every byte"))
        until("the focus", lambda: has(button, "FOCUSED") and has(self.frame, "ACTIVE"))
        key("Return")

    def told(self, begins):
        """The line at the foot of the window."""
        fits = begins if callable(begins) else lambda text: text.startswith(begins)
        try:
            line = until(f"the line {begins!r}", lambda: self.find("status bar", fits) or self.was_said(fits))
        except AssertionError as never:
            raise AssertionError(f"{never}; it said {self.said}") from None
        self.said.clear()
        return line

    def was_said(self, fits):
        """A line that another took the place of before it was read (another program changed the catalogue)."""
        return next((text for text in self.said if fits(text)), None)

    def close(self):
        self.listener.deregister("object:announcement")
        self.process.terminate()
        self.process.wait()
        self.log.close()


def mirrored(case):
    """What makes a window be read from the right. GTK's own catalogue says which way a language runs. GLib looks into it where the
    program's speaks that language too, or where the locale is English; one is made, as the machine need not have it."""
    locales = tempfile.TemporaryDirectory(prefix="shedwalk-locale-")
    case.addCleanup(locales.cleanup)
    subprocess.run(["localedef", "--no-archive", "-i", "en_GB", "-f", "UTF-8", locales.name + "/en_GB.UTF-8"], check=False,
                   capture_output=True)
    return {"LANGUAGE": "ar", "LANG": "C.UTF-8", "LC_MESSAGES": "en_GB.UTF-8", "LOCPATH": locales.name, "LC_ALL": ""}


def choose(window, combo_name, entry):
    combo = window.wait("combo box", combo_name)
    menu = combo.get_child_at_index(0)
    index = until(f"{entry} in {combo_name}", lambda: next(
        (i + 1 for i in range(menu.get_child_count()) if menu.get_child_at_index(i).get_name() == entry), None))
    combo.select_child(index - 1)


class WindowTest(unittest.TestCase):
    """A catalogue of its own for each test: an orchard with three places, a trip and a few things."""

    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp(dir=os.environ["SHEDWALK_TEST_FOLDER"]))
        self.addCleanup(shutil.rmtree, self.folder)
        self.catalogue = self.folder / "Orchard.shedwalk"
        self.window = None
        shedwalk("new", self.catalogue, "--name", "Orchard", "--currency", "NZD", "--zone", "Pacific/Auckland")
        shedwalk("trip", "add", self.catalogue, "--title", "Autumn", "--first", "2026-04-03", "--last", "2026-04-06")
        for place in ("Press house", "Press house > Loft", "Glasshouse"):
            shedwalk("place", "add", self.catalogue, place)
        for name, place, count, asking in (("Screw press", "Press house", 1, "350"), ("Sack truck", "Press house", 2, None),
                                           ("Clay pots", "Glasshouse", 40, "60.50")):
            shedwalk("item", "add", self.catalogue, name, "--place", place, "--trip", 1, "--count", count,
                     *(("--asking", asking) if asking else ()))

    def tearDown(self):
        if self.window is None:
            return
        alive, output = self.window.process.poll() is None, self.window.output()
        self.window.close()
        self.assertTrue(alive, "the program ended by itself: " + output)
        complaints = [line for line in output.splitlines()
                      if ("CRITICAL" in line or "WARNING" in line or "runtime error" in line) and not line.endswith(KNOWN)]
        self.assertEqual(complaints, [])

    def open(self):
        self.window = Window(self.catalogue)
        self.window.wait("radio button", "Takings")
        return self.window

    def open_start(self):
        self.window = Window()
        self.window.wait("push button", "New catalogue…")
        until("the window in front", lambda: has(self.window.frame, "ACTIVE"))
        return self.window

    def item(self, number):
        return next(item for item in shedwalk("items", self.catalogue, "--json") if item["number"] == number)
