# SPDX-License-Identifier: GPL-3.0-or-later
"""Small JPEGs with Exif for the command tests."""
import io
import os
import random

from PIL import Image


def drawing(seed, size):
    noise = random.Random(seed)
    picture = Image.new("RGB", size, tuple(noise.randrange(256) for _ in range(3)))
    for _ in range(12):
        x, y = noise.randrange(size[0]), noise.randrange(size[1])
        picture.paste(tuple(noise.randrange(256) for _ in range(3)),
                      (x, y, min(x + noise.randrange(10, 60), size[0]), min(y + noise.randrange(10, 60), size[1])))
    return picture


def jpeg(seed, time=None, offset=None, model="P5", size=(160, 120), position=None, orientation=None,
         picture=None):
    """JPEG bytes: a picture that only this seed has, or the one given. time as '2026:04-03 10:00:00' in Exif's layout, or None."""
    if picture is None:
        picture = drawing(seed, size)
    exif = Image.Exif()
    exif[0x010F] = "Lumora"
    exif[0x0110] = model
    if orientation:
        exif[0x0112] = orientation
    details = {}
    if time:
        details[0x9003] = time
    if offset:
        details[0x9011] = offset
    if position:
        gps = exif[0x8825] = {}
        gps[1], gps[2] = position[0] < 0 and "S" or "N", degrees(abs(position[0]))
        gps[3], gps[4] = position[1] < 0 and "W" or "E", degrees(abs(position[1]))
    if details:
        exif[0x8769] = details
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=85, exif=exif.tobytes())
    return out.getvalue()


def degrees(value):
    whole = int(value)
    minutes = (value - whole) * 60
    return (float(whole), float(int(minutes)), round((minutes - int(minutes)) * 60, 4))


def write(folder, name, content):
    path = os.path.join(folder, name)
    os.makedirs(os.path.dirname(path), exist_ok=True)
    with open(path, "wb") as out:
        out.write(content)
    return path


def walk(folder, stops, start=10 * 3600, day="2026:04:03", gap=90, step=6):
    """Writes stops (numbers of photos) as IMG_nnnn.jpg: 'step' seconds within, 'gap' between. Returns names by stop."""
    clock, number, names = start, 0, []
    for stop, photos in enumerate(stops):
        here = []
        for _ in range(photos):
            number += 1
            stamp = f"{day} {clock // 3600:02d}:{clock // 60 % 60:02d}:{clock % 60:02d}"
            name = f"IMG_{number:04d}.jpg"
            write(folder, name, jpeg(1000 * stop + number, stamp))
            here.append(name)
            clock += step
        names.append(here)
        clock += gap - step
    return names
