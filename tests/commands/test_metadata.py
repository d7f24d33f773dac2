# SPDX-License-Identifier: GPL-3.0-or-later
"""Whatever a photo's file says of camera, owner and position stays at home: planted in every format by exiftool, looked for by exiftool
in every picture that leaves. Tag names are those of Exif 2.32 (CIPA DC-008-2019), XMP (ISO 16684-1:2019), IPTC-IIM 4.2 (2014) and ICC.1:2010."""
import base64
import json
import os
import re
import subprocess
import unittest

from PIL import Image, ImageCms

import pictures
from shed import ShedTest

# What is planted; none of these words may leave in any byte of a file.
SECRETS = {
    "Make": "Lumora", "Model": "PlantedModel", "SerialNumber": "PLANTED-SERIAL-4711", "LensSerialNumber": "PLANTED-LENS-0815",
    "OwnerName": "Planted Owner", "Artist": "Planted Artist", "Copyright": "Planted Copyright", "Software": "PlantedSoftware 7",
    "ImageDescription": "Planted description", "UserComment": "Planted comment", "HostComputer": "PlantedHost",
    "ImageUniqueID": "00112233445566778899aabbccddeeff",
    "GPSLatitude": "44.5123", "GPSLatitudeRef": "S", "GPSLongitude": "170.2456", "GPSLongitudeRef": "E", "GPSAltitude": "321",
    "XMP-dc:Creator": "Planted Creator", "XMP-dc:Rights": "Planted Rights", "XMP-photoshop:City": "Plantedville",
    "XMP-xmp:CreatorTool": "PlantedTool",
}
IPTC = {"IPTC:By-line": "Planted Byline", "IPTC:City": "Plantedtown", "IPTC:Caption-Abstract": "Planted caption"}
WORDS = (b"Planted", b"PLANTED", b"Lumora", b"00112233445566778899")
# What every JPEG has to say of itself, and what the file system says of it.
PLAIN = re.compile(r"^(SourceFile|ExifTool:.*|File:.*|System:.*|JFIF:.*|Composite:(ImageSize|Megapixels))$")


def exiftool(*args):
    return subprocess.run(["exiftool", *args], check=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def profile():
    """An ICC profile whose texts are planted."""
    icc = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    for old in (b"sRGB", "sRGB".encode("utf-16-be")):
        new = b"Plnt" if len(old) == 4 else "Plnt".encode("utf-16-be")
        icc[:] = bytes(icc).replace(old, new)
    return bytes(icc)


def maker_notes():
    """Maker notes with a serial, as their maker alone can read them: a block that readers hand on as it is."""
    return b"PLANTED-MAKER\0" + b"PLANTED-SERIAL-IN-MAKER-NOTE" + bytes(range(64))


class MetadataTest(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        self.card = self.path("card")
        os.mkdir(self.card)

    def save(self, name, seed):
        path = os.path.join(self.card, name)
        drawing = pictures.drawing(seed, (640, 480))
        if name.endswith(".heic"):
            plain = self.path("plain.png")
            drawing.save(plain)
            subprocess.run(["heif-enc", "-q", "80", plain, "-o", path], check=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
            return path
        options = {"exif": self.exif()} if name.endswith((".jpg", ".png")) else {}
        if name.endswith(".tif"):
            # a thumbnail in a TIFF is a second picture behind the first
            options = {"save_all": True, "append_images": [pictures.drawing(77, (160, 120))]}
        drawing.save(path, icc_profile=profile(), **options)
        return path

    def exif(self):
        """Exif with maker notes."""
        exif = Image.Exif()
        exif[0x010F], exif[0x0110] = "Lumora", "PlantedModel"
        exif[0x8769] = {0x9003: "2026:04:03 10:00:00", 0x927C: maker_notes()}
        return exif.tobytes()

    def plant(self, path):
        small = self.path("thumbnail.jpg")
        pictures.drawing(77, (160, 120)).save(small, comment=b"Planted thumbnail")
        tags = dict(SECRETS, DateTimeOriginal="2026:04:03 10:00:00")
        if not path.endswith((".heic", ".png")):
            tags.update(IPTC)
        exiftool("-overwrite_original", "-m", *[f"-{tag}={value}" for tag, value in tags.items()], path)
        if path.endswith(".jpg"):
            exiftool("-overwrite_original", "-m", f"-ThumbnailImage<={small}", "-Comment=Planted JPEG comment", path)

    def tags(self, path, *options):
        done = exiftool("-j", "-G", "-a", "-u", "-ee", *options, path)
        return json.loads(done.stdout)[0]

    def bring_all_in(self):
        names = ["one.jpg", "two.heic", "three.png", "four.tif"]
        for seed, name in enumerate(names):
            path = self.save(name, seed)
            self.plant(path)
            self.check_planted(path)
        report = self.good("bring-in", self.catalogue, self.card, "--json").json()
        self.assertEqual(report["taken"], len(names), report)
        return names

    def check_planted(self, path):
        """The plants are there, else their absence later would say nothing."""
        found = self.tags(path)
        words = json.dumps(found)
        for word in ("PLANTED-SERIAL-4711", "Planted Owner", "Plantedville", "GPSLatitude"):
            self.assertIn(word, words, path)
        if path.endswith((".jpg", ".tif")):
            self.assertIn("Planted Byline", words, path)
        if path.endswith(".jpg"):
            self.assertIn("ThumbnailImage", words, path)
        if path.endswith(".tif"):
            with Image.open(path) as picture:
                self.assertEqual(picture.n_frames, 2)
        if not path.endswith(".heic"):
            self.assertIn("Plnt", words, path)
        if path.endswith((".jpg", ".png")):
            with open(path, "rb") as file:
                self.assertIn(b"PLANTED-SERIAL-IN-MAKER-NOTE", file.read(), path)

    def assert_clean(self, path):
        for tag in self.tags(path):
            self.assertRegex(tag, PLAIN, path)
        with open(path, "rb") as file:
            content = file.read()
        for word in (*WORDS, b"Plnt"):
            self.assertNotIn(word, content, path)
        self.assertEqual(content.count(b"\xff\xd8\xff"), 1, "a picture within the picture: " + path)

    def assert_pdf_clean(self, path, pictures_least):
        """The pictures in a PDF, as they stand in it; and the PDF's own metadata."""
        folder = self.path("images")
        os.makedirs(folder, exist_ok=True)
        for old in os.listdir(folder):
            os.remove(os.path.join(folder, old))
        subprocess.run(["pdfimages", "-all", path, os.path.join(folder, "p")], check=True)
        images = sorted(os.listdir(folder))
        self.assertGreaterEqual(len(images), pictures_least)
        for image in images:
            self.assertTrue(image.endswith(".jpg"), image)
            self.assert_clean(os.path.join(folder, image))
        with open(path, "rb") as file:
            content = file.read()
        for word in WORDS:
            self.assertNotIn(word, content)
        found = self.tags(path)
        self.assertFalse([tag for tag in found if re.search("Date|Author|Creator$|XMP|GPS", tag) and not tag.startswith("File:")],
                         found)


class Pack(MetadataTest):
    def test_no_picture_says_where_it_comes_from(self):
        names = self.bring_all_in()
        number = self.add_item("Press")
        self.good("assign", self.catalogue, *[str(k + 1) for k in range(len(names))], "--item", str(number))
        to = self.path("pack")
        report = self.good("hand-out", self.catalogue, "pack", "--item", "Press", "--to", to, "--json").json()
        self.assertEqual((report["photos"], report["missing"]), (len(names), 0))
        for name in os.listdir(to):
            if name.endswith(".jpg"):
                self.assert_clean(os.path.join(to, name))
                with Image.open(os.path.join(to, name)) as picture:
                    self.assertEqual(picture.size, (640, 480))


class Family(MetadataTest):
    def test_no_picture_of_the_family_choice_does(self):
        names = self.bring_all_in()
        for k, name in enumerate(names):
            self.good("assign", self.catalogue, str(k + 1), "--item", str(self.add_item(name)))
        page, paper = self.path("family.html"), self.path("family.pdf")
        for to in (page, paper):
            self.good("hand-out", self.catalogue, "family", "--to", to)
        with open(page, encoding="utf-8") as file:
            inside = re.findall(r"data:image/jpeg;base64,([A-Za-z0-9+/=]+)", file.read())
        self.assertEqual(len(inside), len(names))
        for text in inside:
            self.assert_clean(pictures.write(self.folder, "inside.jpg", base64.b64decode(text)))
        self.assert_pdf_clean(paper, len(names))


class Inventory(MetadataTest):
    def test_no_picture_of_the_inventory_does(self):
        names = self.bring_all_in()
        for k, name in enumerate(names):
            self.good("assign", self.catalogue, str(k + 1), "--item", str(self.add_item(name)))
        paper = self.path("inventory.pdf")
        report = self.good("hand-out", self.catalogue, "inventory", "--to", paper, "--json").json()
        self.assertEqual((report["items"], report["pictures"], report["missing"]), (4, 4, 0))
        self.assert_pdf_clean(paper, len(names))


if __name__ == "__main__":
    unittest.main()
