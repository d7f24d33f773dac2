# SPDX-License-Identifier: GPL-3.0-or-later
"""A small catalogue made by the program itself, in each of the states that the jobs begin from, and what is in one."""
import hashlib
import os
import shutil
import sqlite3
import subprocess
import sys
import tarfile
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
COMMANDS = os.path.join(HERE, "..", "commands")
sys.path.insert(0, COMMANDS)
import pictures  # noqa: E402

CATALOGUE = "Orchard.shedwalk"
NOTES = """time,place,item,count,remark
09:59:50,Press house,Screw press,1,spindle turns
10:01:30,Press house,Copper kettle,2,
10:03:05,Packing shed > Loft,Fruit ladder,3,one rung gone
"""
MONEY = """what,ref,outlet,kind,item,up,closes,at,result,amount,delivery,buyer,trip,charge,from,on,flat
outlet,,Saleroom,auction,,,,,,,,,,,,,
charge,,Saleroom,,,,,,,,,,,Listing,2026-01-01,sale,5.00
offer,o1,Saleroom,,Screw press,2026-04-10,2026-04-20,,,,,,,,,,
result,o1,,,,,,2026-04-20,sold,210.00,12.50,Mara Quill,,,,,
payment,o1,,,,,,2026-04-22,,222.50,,,,,,,
sale,s1,,,Copper kettle,,,2026-04-05,,40.00,,Ash Tarn,,,,,
cost,,,,,,,2026-04-04,,61.20,,,1,,,,
"""


def environment(**more):
    env = {k: v for k, v in os.environ.items() if not k.startswith("FAULT_") and k not in ("DISPLAY", "LD_PRELOAD")}
    return dict(env, LC_ALL="C.UTF-8", TZ="America/St_Johns", **more)


class Bed:
    """Folders named by their state below one folder: 'card' (photos not brought in), 'photos', 'sorted', 'booked', 'home',
    'archive', 'older'. Each holds the catalogue and what the commands read."""

    def __init__(self, program, folder):
        self.program, self.folder = program, folder
        self.make()

    def state(self, name):
        return os.path.join(self.folder, name)

    def run(self, where, *args):
        done = subprocess.run([self.program, *args], cwd=self.state(where), stdin=subprocess.DEVNULL, capture_output=True,
                              env=environment(), timeout=120, check=False)
        if done.returncode != 0:
            raise RuntimeError(f"{args}: {done.stderr.decode()}")
        return done.stdout.decode()

    def next(self, old, new, *args):
        shutil.copytree(self.state(old), self.state(new))
        self.run(new, *args)

    def make(self):
        card = self.state("card")
        os.makedirs(card)
        for name, text in (("notes.csv", NOTES), ("money.csv", MONEY)):
            pictures.write(card, name, text.encode())
        pictures.walk(os.path.join(card, "memory card"), [4, 3, 5])
        pictures.write(os.path.join(card, "memory card"), "IMG_0001.mov", b"\0\0\0\x14ftypqt  \0\0\0\0qt  moving")
        self.run("card", "new", CATALOGUE, "--name", "Old cider works", "--currency", "NZD", "--zone", "Pacific/Auckland")
        self.run("card", "trip", "add", CATALOGUE, "--title", "First look", "--first", "2026-04-03", "--last", "2026-04-06")
        self.run("card", "notes", CATALOGUE, "notes.csv", "--trip", "1")
        self.next("card", "photos", "bring-in", CATALOGUE, "memory card", "--trip", "1")
        self.next("photos", "sorted", "pair", CATALOGUE, "--trip", "1", "--accept", "sure")
        self.next("sorted", "booked", "book", CATALOGUE, "money.csv")
        self.next("booked", "home", "backup", CATALOGUE, "home")
        self.next("booked", "archive", "hand-out", CATALOGUE, "archive", "--to", "archive")
        self.make_older()

    def make_older(self):
        """The program reads an archive of an older schema, and is killed when it begins with the first step that is missing: what
        stands there then is a whole catalogue of that schema."""
        older = self.state("older")
        os.makedirs(older)
        with tarfile.open(os.path.join(COMMANDS, "archive-of-step-18.tar.gz")) as kept:
            kept.extractall(older)
        env = environment(LD_PRELOAD=os.environ["FAULT_LIBRARY"], FAULT_ROOT=older, FAULT_KIND="kill", FAULT_AT="1",
                          FAULT_ONLY="-before-step-")
        subprocess.run([self.program, "new", CATALOGUE, "--from-archive", "archive"], cwd=older, env=env, capture_output=True,
                       stdin=subprocess.DEVNULL, timeout=120, check=False)
        (half,) = [name for name in os.listdir(older) if name.startswith(".new-")]
        os.rename(os.path.join(older, half), os.path.join(older, CATALOGUE))
        shutil.rmtree(os.path.join(older, "archive"))
        database = sqlite3.connect(os.path.join(older, CATALOGUE, "catalogue.db"))
        assert database.execute("PRAGMA user_version").fetchone()[0] == 18
        database.close()

    def copy(self, name, to):
        """Photos are never written to in place, so that a name more of the same file will do."""
        def take(source, target):
            if source.endswith((".jpg", ".mov")):
                os.link(source, target)
            else:
                shutil.copyfile(source, target)
        shutil.copytree(self.state(name), to, copy_function=take)


# When something was written and by whom, and the numbers that a try which came to nothing uses up, differ from run to run.
# A photo that one run could not read is brought in by the next, behind the others: it is its name that counts.
NAMED_ROWS = {"photo": "stored"}
VOLATILE_TABLES = {"act", "event", "changeset", "sqlite_sequence", "bring_in", "sqlite_stat1"}
VOLATILE_COLUMNS = {"act", "bring_in", "event"}
VOLATILE_SETTINGS = {"id", "second-home-us", "second-home"}


def rows_of(database):
    """Every row that counts, as (table, values)."""
    if os.path.exists(database + "-journal"):  # it is the program's to roll back, and a copy's alone to be looked into
        with tempfile.TemporaryDirectory() as copy:
            for end in ("", "-journal"):
                shutil.copyfile(database + end, os.path.join(copy, "catalogue.db" + end))
            mended = sqlite3.connect(os.path.join(copy, "catalogue.db"))
            mended.execute("SELECT count (*) FROM sqlite_schema").fetchall()
            mended.close()
            if os.path.exists(os.path.join(copy, "catalogue.db-journal")):  # it was none that counts
                os.remove(os.path.join(copy, "catalogue.db-journal"))
            return rows_of(os.path.join(copy, "catalogue.db"))
    base = sqlite3.connect(f"file:{database}?mode=ro", uri=True)
    rows = set()
    named = {table: dict(base.execute(f"SELECT id, {name} FROM {table}")) for table, name in NAMED_ROWS.items()}
    names = [n for (n,) in base.execute("SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table'")]
    for name in names:
        if name in VOLATILE_TABLES or name.startswith("item_search"):
            continue
        columns = [c for (c,) in base.execute(f"SELECT name FROM pragma_table_info('{name}')")
                   if c not in VOLATILE_COLUMNS and not c.endswith("_us")]
        quoted = ", ".join(f'"{c}"' for c in columns)
        points = {c: named[t] for c, t in base.execute(f"SELECT \"from\", \"table\" FROM pragma_foreign_key_list('{name}')") if t in named}
        points.update({"id": named[name]} if name in named else {})
        for row in base.execute(f'SELECT {quoted} FROM "{name}"'):
            row = tuple(points[c].get(v, v) if c in points else v for c, v in zip(columns, row))
            if name != "setting" or row[0] not in VOLATILE_SETTINGS:
                rows.add((name, row))
    base.close()
    return rows


def is_database(name):
    return name.endswith((".db", ".db-journal"))


def files_of(folder):
    """What lies there, but databases and safety copies; photos with their bytes."""
    files = set()
    for inside, folders, names in os.walk(folder):
        here = os.path.relpath(inside, folder)
        folders[:] = [f for f in folders if f not in ("backups", "memory card")]
        for name in names:
            path = os.path.join(inside, name)
            if is_database(name):
                continue
            digest = ""
            if name.endswith(".jpg"):
                with open(path, "rb") as file:
                    digest = hashlib.sha256(file.read()).hexdigest()
            files.add((os.path.join(here, name), digest))
        files.update((os.path.join(here, f) + "/", "") for f in folders)
    return files


def fingerprint(folder, exact=False):
    """Of every byte that lies there. Not exact: of what is half made only that it is there, of what a check reads by itself and of
    what is only kept to be quick how long it is."""
    whole = hashlib.sha256()
    for inside, folders, names in sorted(os.walk(folder)):
        half = "/.new-" in inside
        here = "half" + inside.partition("/.new-")[2].partition("/")[2] if half else inside[len(folder):]
        if half and not exact:
            folders.clear()
            names = []
        for name in sorted(names):
            path = os.path.join(inside, name)
            whole.update(f"{here}/{name}\0".encode())
            if exact or not name.endswith((".part", ".jpg", ".mov")) and not name.startswith("thumbs.db"):
                with open(path, "rb") as file:
                    whole.update(hashlib.file_digest(file, "sha256").digest())
            elif not name.endswith(".part"):
                whole.update(str(os.path.getsize(path)).encode())
        whole.update(f"{here}/\0".encode())
    return whole.digest()


def content(folder):
    """All that counts in the catalogues and their second homes below 'folder', as a set."""
    found = {("file", file) for file in files_of(folder)}
    for inside, folders, names in os.walk(folder):
        # what is still being made beside its place is nothing yet
        folders[:] = [f for f in folders if not f.startswith(".")]
        if "catalogue.db" in names:
            here = os.path.relpath(inside, folder)
            found.update((here, row) for row in rows_of(os.path.join(inside, "catalogue.db")))
    return found
