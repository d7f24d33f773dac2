# SPDX-License-Identifier: GPL-3.0-or-later
"""A catalogue of many photos, quickly: a few hundred drawings, each file with bytes and a time of its own."""

import datetime
import io
import os
import shutil
import sqlite3
import subprocess

from PIL import Image, ImageDraw

from driver import shedwalk

DRAWINGS = 300
STOP = 4  # photos of one thing
BLANK = "2000:01:01 00:00:00"


def drawing(seed):
    """A JPEG of 160x120 with an Exif time to be filled in, and a comment."""
    picture = Image.new("RGB", (160, 120), ((seed * 37) % 200 + 30, (seed * 91) % 200 + 30, (seed * 53) % 200 + 30))
    pen = ImageDraw.Draw(picture)
    for i in range(8):
        x, y = (seed * 61 + i * 47) % 140, (seed * 29 + i * 83) % 100
        pen.rectangle((x, y, x + 20 + seed % 13, y + 16), fill=((i * 40 + seed * 11) % 255, (seed * 7) % 255, i * 30))
    exif = Image.Exif()
    exif[0x010F], exif[0x0110] = "Orrery", "K2"  # make and model of no real camera
    exif[0x8769] = {0x9003: BLANK}
    out = io.BytesIO()
    picture.save(out, "JPEG", exif=exif, quality=80, comment=b"%010d" % 0)
    return out.getvalue()


def make_photos(folder, first, n, day):
    """n photos into a folder, numbered from first on: stops of four, 6 s apart, a minute and more between them."""
    folder.mkdir(parents=True, exist_ok=True)
    drawings = [drawing(seed) for seed in range(DRAWINGS)]
    when = datetime.datetime.combine(day, datetime.time(8, 0))
    for i in range(first, first + n):
        when += datetime.timedelta(seconds=6 if i % STOP else 70 + i % 90)
        data = drawings[i // STOP % DRAWINGS].replace(BLANK.encode(), when.strftime("%Y:%m:%d %H:%M:%S").encode())
        (folder / f"P{i:06d}.JPG").write_bytes(data.replace(b"%010d" % 0, b"%010d" % i))
    return when


def fill(catalogue, folder, n, a_trip):
    """Trips of a_trip photos each, ten days apart, brought in by command; the first day of the next trip."""
    day = datetime.date(2024, 1, 5)
    for first in range(0, n, a_trip):
        last = make_photos(folder / f"card-{first}", first, min(a_trip, n - first), day)
        number = shedwalk("trip", "add", catalogue, "--title", f"Stay {first}", "--first", day, "--last", last.date())
        shedwalk("bring-in", catalogue, folder / f"card-{first}", "--trip", number)
        shutil.rmtree(folder / f"card-{first}")
        day = last.date() + datetime.timedelta(days=10)
    subprocess.run([os.environ["SHEDWALK_LOOKED"], catalogue], check=True)
    return day


def clone_photos(catalogue, n):
    """Rows of n photos more like those there are, in no trip; their files are not made. For what reads rows alone."""
    with sqlite3.connect(catalogue / "catalogue.db") as database:
        columns = [row[1] for row in database.execute("PRAGMA table_info (photo)")]
        first = dict(zip(columns, database.execute("SELECT * FROM photo ORDER BY id LIMIT 1").fetchone()))
        names = ", ".join(columns)
        marks = ", ".join("?" * len(columns))
        rows = ([{**first, "id": None, "trip": None, "hash": f"{i:032x}", "file": f"card/P{i:06d}.JPG",
                  "stored": f"photos/trip-01/P{i:06d}-{i:08x}.jpg"}[name] for name in columns] for i in range(1000000, 1000000 + n))
        database.executemany(f"INSERT INTO photo ({names}) VALUES ({marks})", rows)
    database.close()
