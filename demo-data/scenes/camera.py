# SPDX-License-Identifier: GPL-3.0-or-later
"""Writes what a camera writes: EXIF blocks, and small clips and memos as ISO base media files.

Sources: Exif 2.31 (CIPA DC-008, 2016) for the tags; ISO/IEC 14496-12 and -14 for the boxes.
"""

import struct

BYTE, ASCII, SHORT, LONG, RATIONAL, UNDEFINED = 1, 2, 3, 4, 5, 7
SIZE = {BYTE: 1, ASCII: 1, SHORT: 2, LONG: 4, RATIONAL: 8, UNDEFINED: 1}


class Block:
    """A TIFF block: IFD0, Exif and GPS directories and a thumbnail, in either byte order."""

    def __init__(self, order="<"):
        self.order = order

    def value(self, kind, data):
        if kind == ASCII:
            raw = data.encode("ascii") + b"\0"
            return len(raw), raw
        if kind in (BYTE, UNDEFINED):
            return len(data), bytes(data)
        if kind == RATIONAL:
            pairs = data if isinstance(data, list) else [data]
            return len(pairs), b"".join(struct.pack(self.order + "II", *p) for p in pairs)
        numbers = data if isinstance(data, list) else [data]
        return len(numbers), b"".join(struct.pack(self.order + ("H" if kind == SHORT else "I"), n) for n in numbers)

    def directory(self, entries, offset, following=0):
        """One IFD placed at offset, with its long values behind it."""
        entries = sorted(entries)
        head = struct.pack(self.order + "H", len(entries))
        tail_at = offset + 2 + 12 * len(entries) + 4
        body, tail = b"", b""
        for tag, kind, data in entries:
            count, raw = self.value(kind, data)
            if len(raw) <= 4:
                field = raw.ljust(4, b"\0")
            else:
                field = struct.pack(self.order + "I", tail_at + len(tail))
                tail += raw + (b"\0" if len(raw) % 2 else b"")
            body += struct.pack(self.order + "HHI", tag, kind, count) + field
        return head + body + struct.pack(self.order + "I", following) + tail

    def build(self, ifd0, exif, gps, thumbnail):
        start = (b"II*\0" if self.order == "<" else b"MM\0*") + struct.pack(self.order + "I", 8)
        pointers = [(0x8769, LONG, 0)] + ([(0x8825, LONG, 0)] if gps else [])
        at = 8 + len(self.directory(ifd0 + pointers, 8))
        exif_at = at
        exif_raw = self.directory(exif, exif_at)
        gps_at = exif_at + len(exif_raw)
        gps_raw = self.directory(gps, gps_at) if gps else b""
        second_at = gps_at + len(gps_raw)
        second, first_following = b"", 0
        if thumbnail:
            ifd1 = [(0x0103, SHORT, 6), (0x0201, LONG, 0), (0x0202, LONG, len(thumbnail))]
            picture_at = second_at + len(self.directory(ifd1, second_at))
            ifd1[1] = (0x0201, LONG, picture_at)
            second = self.directory(ifd1, second_at) + thumbnail
            first_following = second_at
        pointers = [(0x8769, LONG, exif_at)] + ([(0x8825, LONG, gps_at)] if gps else [])
        return start + self.directory(ifd0 + pointers, 8, first_following) + exif_raw + gps_raw + second


def degrees(value):
    """Degrees, minutes, seconds to 1/10000 s as rationals."""
    units = round(abs(value) * 3600 * 10000)
    return [(units // 36000000, 1), (units // 600000 % 60, 1), (units % 600000, 10000)]


def exif(camera, clock, size, orientation=1, offset=None, subsec=None, position=None, utc=None, thumbnail=b"", number=0):
    """The APP1 payload without its 'Exif' mark. clock is a datetime as the camera shows it; offset like '+12:00'.

    position is (latitude, longitude, error in m); utc the datetime of the fix.
    """
    stamp = clock.strftime("%Y:%m:%d %H:%M:%S")
    ifd0 = [(0x010F, ASCII, camera["make"]), (0x0110, ASCII, camera["model"]), (0x0112, SHORT, orientation),
            (0x011A, RATIONAL, (72, 1)), (0x011B, RATIONAL, (72, 1)), (0x0128, SHORT, 2), (0x0132, ASCII, stamp)]
    tags = [(0x829A, RATIONAL, (1, [25, 40, 60, 100][number % 4])), (0x829D, RATIONAL, (18, 10)),
            (0x8827, SHORT, [100, 200, 400, 800][number % 4]), (0x9000, UNDEFINED, b"0231"),
            (0x9003, ASCII, stamp), (0x9004, ASCII, stamp), (0xA001, SHORT, 1),
            (0xA002, LONG, size[0]), (0xA003, LONG, size[1])]
    if offset:
        tags += [(0x9010, ASCII, offset), (0x9011, ASCII, offset), (0x9012, ASCII, offset)]
    if subsec:
        tags += [(0x9291, ASCII, subsec)]
    if camera.get("serial"):
        tags += [(0xA431, ASCII, camera["serial"])]
    gps = []
    if position:
        latitude, longitude, error = position
        gps = [(0x0000, BYTE, b"\2\3\0\0"), (0x0001, ASCII, "N" if latitude >= 0 else "S"),
               (0x0002, RATIONAL, degrees(latitude)), (0x0003, ASCII, "E" if longitude >= 0 else "W"),
               (0x0004, RATIONAL, degrees(longitude)), (0x0005, BYTE, b"\0"), (0x0006, RATIONAL, (214, 10)),
               (0x0007, RATIONAL, [(utc.hour, 1), (utc.minute, 1), (utc.second, 1)]),
               (0x001D, ASCII, utc.strftime("%Y:%m:%d")), (0x001F, RATIONAL, (round(error * 100), 100))]
    return Block(camera.get("order", "<")).build(ifd0, tags, gps, thumbnail)


def with_exif(jpeg, block):
    """The JPEG with its EXIF as the first segment, in place of a JFIF one."""
    payload = b"Exif\0\0" + block
    rest = jpeg[2:]
    if rest[:2] == b"\xff\xe0":
        rest = rest[2 + struct.unpack(">H", rest[2:4])[0]:]
    return b"\xff\xd8\xff\xe1" + struct.pack(">H", len(payload) + 2) + payload + rest


# -- clips and memos

def atom(name, *parts):
    body = b"".join(parts)
    return struct.pack(">I", len(body) + 8) + name + body


def full(name, *parts, flags=0):
    return atom(name, struct.pack(">I", flags), *parts)


MATRIX = struct.pack(">9I", 0x10000, 0, 0, 0, 0x10000, 0, 0, 0, 0x40000000)


def descriptor(tag, *parts):
    body = b"".join(parts)
    return bytes([tag, len(body)]) + body


def esds(object_type, stream_type, config):
    decoder = descriptor(4, bytes([object_type, stream_type << 2 | 1]), b"\0" * 3, struct.pack(">II", 64000, 64000),
                         descriptor(5, config) if config else b"")
    return full(b"esds", descriptor(3, b"\0\1\0", decoder, descriptor(6, b"\2")))


def movie(brand, utc, frames, scale, step, entry, media, size=(0, 0)):
    """A file of one track whose frames all last 'step' of 1/scale s."""
    made = int(utc.timestamp()) + 2082844800  # these files count seconds from 1904
    length = len(frames) * step
    stamp = struct.pack(">II", made, made)
    head = atom(b"ftyp", brand, struct.pack(">I", 0), brand, b"isom")
    kind, header = ((b"soun", full(b"smhd", b"\0" * 4)) if media == "sound" else
                    (b"vide", full(b"vmhd", b"\0" * 8, flags=1)))

    def moov(first):
        at, offsets = first, []
        for f in frames:
            offsets.append(at)
            at += len(f)
        table = atom(
            b"stbl", full(b"stsd", struct.pack(">I", 1), entry),
            full(b"stts", struct.pack(">III", 1, len(frames), step)),
            full(b"stsc", struct.pack(">IIII", 1, 1, 1, 1)),
            full(b"stsz", struct.pack(">II", 0, len(frames)), *(struct.pack(">I", len(f)) for f in frames)),
            full(b"stco", struct.pack(">I", len(offsets)), *(struct.pack(">I", o) for o in offsets)))
        return atom(
            b"moov",
            full(b"mvhd", stamp, struct.pack(">II", scale, length), struct.pack(">IH", 0x10000, 0x100), b"\0" * 10,
                 MATRIX, b"\0" * 24, struct.pack(">I", 2)),
            atom(b"trak",
                 full(b"tkhd", stamp, struct.pack(">III", 1, 0, length), b"\0" * 8,
                      struct.pack(">HHHH", 0, 0, 0x100 if media == "sound" else 0, 0), MATRIX,
                      struct.pack(">II", size[0] << 16, size[1] << 16), flags=7),
                 atom(b"mdia", full(b"mdhd", stamp, struct.pack(">IIHH", scale, length, 0x55C4, 0)),
                      full(b"hdlr", b"\0" * 4, kind, b"\0" * 12, b"track\0"),
                      atom(b"minf", header,
                           atom(b"dinf", full(b"dref", struct.pack(">I", 1), full(b"url ", flags=1))), table))))

    index = moov(0)
    return head + moov(len(head) + len(index) + 8) + atom(b"mdat", *frames)


def clip(utc, jpegs, size):
    """A silent clip of JPEG frames, five a second."""
    entry = atom(b"mp4v", b"\0" * 6, struct.pack(">H", 1), b"\0" * 16, struct.pack(">HH", *size),
                 struct.pack(">IIIH", 0x480000, 0x480000, 0, 1), b"\0" * 32, struct.pack(">Hh", 24, -1),
                 esds(0x6C, 4, b""))
    return movie(b"mp42", utc, jpegs, 1000, 200, entry, "picture", size)


def memo(utc, seconds):
    """A voice memo that holds silence: AAC-LC, one channel, 44.1 kHz, 1024 samples a frame."""
    silence = bytes([0x00, 0xC8, 0x00, 0x80, 0x23, 0x80])
    entry = atom(b"mp4a", b"\0" * 6, struct.pack(">H", 1), b"\0" * 8, struct.pack(">HHI", 1, 16, 0),
                 struct.pack(">I", 44100 << 16), esds(0x40, 5, bytes([0x12, 0x08])))
    return movie(b"M4A ", utc, [silence] * (seconds * 44100 // 1024), 44100, 1024, entry, "sound")
