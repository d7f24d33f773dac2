# SPDX-License-Identifier: GPL-3.0-or-later
"""A memory card of camera-sized photos, quickly: a few real 12 megapixel pictures, each file with an Exif block of its own
(time, position, the camera's notes, an embedded picture of 160 x 120) and a segment of random bytes, so that neither bytes nor
sizes are equal. Exif 2.32 (CIPA DC-008, 2019), 4.5 and 4.6: the directories, IFD1 with the embedded picture."""

import datetime
import io
import random
import struct

from PIL import Image

PICTURES = 6
SIZE, SMALL = (4000, 3000), (160, 120)
FIRST = datetime.datetime(2026, 4, 3, 8)
BYTE, ASCII, SHORT, LONG, RATIONAL, UNDEFINED = 1, 2, 3, 4, 5, 7
WIDTHS = {BYTE: 1, ASCII: 1, SHORT: 2, LONG: 4, RATIONAL: 8, UNDEFINED: 1}


def picture(seed):
    """Smooth fields with grain, as a sensor gives them; some 3 MB as a JPEG."""
    noise = random.Random(seed)
    small = Image.new("RGB", (80, 60))
    small.putdata([tuple(noise.randrange(256) for _ in range(3)) for _ in range(80 * 60)])
    return Image.blend(small.resize(SIZE, Image.BICUBIC), Image.effect_noise(SIZE, 22).convert("RGB"), 0.25)


def jpeg(image, quality):
    out = io.BytesIO()
    image.save(out, "JPEG", quality=quality)
    return out.getvalue()


def directory(at, entries, following=0):
    """One directory of a TIFF file that begins at 'at': (tag, type, value as bytes) in order, values behind it."""
    table, values = struct.pack("<H", len(entries)), b""
    values_at = at + 2 + 12 * len(entries) + 4
    for tag, kind, value in entries:
        field = value
        if len(value) > 4:
            field = struct.pack("<I", values_at + len(values))
            values += value + b"\0" * (len(value) & 1)
        table += struct.pack("<HHI", tag, kind, len(value) // WIDTHS[kind]) + field.ljust(4, b"\0")
    return table + struct.pack("<I", following) + values


def text(value):
    return value.encode("ascii") + b"\0"


def rationals(*pairs):
    return struct.pack(f"<{len(pairs)}I", *pairs)


def exif_block(n, small):
    """The block of photo n. 'small' is the embedded picture. The maker is invented."""
    stamp = text((FIRST + datetime.timedelta(seconds=20 * n)).strftime("%Y:%m:%d %H:%M:%S"))
    exif = ((0x829A, RATIONAL, rationals(1, 250)), (0x9003, ASCII, stamp), (0x9004, ASCII, stamp), (0x9011, ASCII, text("+12:00")),
            (0x927C, UNDEFINED, random.Random(n).randbytes(6000)), (0x9291, ASCII, text(f"{n % 1000:03d}")),
            (0xA002, LONG, struct.pack("<I", SIZE[0])), (0xA003, LONG, struct.pack("<I", SIZE[1])),
            (0xA420, ASCII, text(f"{n:032x}")), (0xA431, ASCII, text("0000417")))
    gps = ((1, ASCII, text("S")), (2, RATIONAL, rationals(41, 1, 10, 1, 3000 + n % 60, 100)), (3, ASCII, text("E")),
           (4, RATIONAL, rationals(173, 1, 5, 1, 1200 + n % 60, 100)))

    def main(exif_at, gps_at):
        return ((0x010F, ASCII, text("Kettle & Lamp")), (0x0110, ASCII, text("KL-7")), (0x0112, SHORT, struct.pack("<H", 1)),
                (0x0132, ASCII, stamp), (0x8769, LONG, struct.pack("<I", exif_at)), (0x8825, LONG, struct.pack("<I", gps_at)))

    def second(small_at):
        return ((0x0103, SHORT, struct.pack("<H", 6)), (0x0201, LONG, struct.pack("<I", small_at)),
                (0x0202, LONG, struct.pack("<I", len(small))))

    exif_at = 8 + len(directory(8, main(0, 0)))
    gps_at = exif_at + len(directory(exif_at, exif))
    second_at = gps_at + len(directory(gps_at, gps))
    small_at = second_at + len(directory(second_at, second(0)))
    return (b"II*\0" + struct.pack("<I", 8) + directory(8, main(exif_at, gps_at), second_at) + directory(exif_at, exif)
            + directory(gps_at, gps) + directory(second_at, second(small_at)) + small)


def segment(marker, body):
    return bytes((0xFF, marker)) + struct.pack(">H", len(body) + 2) + body


def write_card(folder, photos):
    """Files of a new folder; the bytes of all."""
    folder.mkdir()
    pictures = [picture(seed) for seed in range(min(PICTURES, photos))]
    bodies = [(jpeg(each, 88)[2:], jpeg(each.resize(SMALL, Image.BOX), 75)) for each in pictures]
    total = 0
    for n in range(photos):
        body, small = bodies[n % len(bodies)]
        own = random.Random(f"segment {n}")
        data = (b"\xFF\xD8" + segment(0xE1, b"Exif\0\0" + exif_block(n, small))
                + segment(0xEA, own.randbytes(own.randrange(1000, 65000))) + body)
        (folder / f"IMG_{n:05d}.JPG").write_bytes(data)
        total += len(data)
    return total
