# SPDX-License-Identifier: GPL-3.0-or-later
"""hand-out cards by command: what is printed, and what it does to the walk it is photographed on."""
import ctypes
import os
import subprocess
import unittest

from PIL import Image, ImageChops, ImageFilter

import pictures
from shed import ShedTest, words_on


class CardsTest(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        self.good("place", "add", self.catalogue, "Home", "--off-property")

    def print_cards(self, *more, catalogue=None, name="cards.pdf"):
        """Prints; the report and the path."""
        path = self.path(name)
        return self.good("hand-out", catalogue or self.catalogue, "cards", "--to", path, "--json",
                         *more).json(), path


class Printing(CardsTest):
    def test_one_card_a_place_on_the_property(self):
        report, path = self.print_cards()
        self.assertEqual((report["cards"], report["tags"], report["first_tag"], report["pages"]), (3, 0, None, 2))
        text = words_on(path)
        for words in ("Packing shed", "Loft", "in Packing shed", "Press house", "Photograph this", "Old cider works"):
            self.assertIn(words, text)
        self.assertNotIn("Home", text)

    def test_tag_numbers_are_never_printed_twice(self):
        first, path = self.print_cards("--tags", "30")
        self.assertEqual((first["first_tag"], first["tags"], first["pages"]), (1, 30, 4))
        self.good("undo", self.catalogue)
        self.assertEqual(self.print_cards("--tags", "2")[0]["first_tag"], 31)
        self.assertEqual(self.print_cards("--tags", "1")[0]["first_tag"], 33)
        self.good("check", self.catalogue)

    def test_the_same_again_is_the_same_file(self):
        with open(self.print_cards(name="a.pdf")[1], "rb") as one, open(self.print_cards(name="b.pdf")[1], "rb") as two:
            self.assertEqual(one.read(), two.read())

    def test_bad_calls(self):
        self.bad(2, "hand-out", self.catalogue, "banners", "--to", self.path("x.pdf"), says="cards")
        self.bad(2, "hand-out", self.catalogue, "cards", says="--to")
        self.bad(2, "hand-out", self.catalogue, "cards", "--to", self.path("x.pdf"), "--tags", "none")
        self.bad(2, "hand-out", self.catalogue, "cards", "--to", self.path("x.pdf"), "--tags", "0")
        self.bad(1, "hand-out", self.catalogue, "cards", "--to", self.path("x.pdf"), "--tags", "100000", says="2400")
        self.bad(1, "hand-out", self.catalogue, "cards", "--to", self.path("x.txt"), says=".pdf")
        self.bad(1, "hand-out", self.catalogue, "cards", "--to", self.path("no", "x.pdf"), "--tags", "3")
        self.bad(1, "hand-out", self.path("missing.shedwalk"), "cards", "--to", self.path("x.pdf"))
        self.assertEqual(self.print_cards("--tags", "1")[0]["first_tag"], 1)
        self.assertFalse(os.path.exists(self.path("x.pdf")))


DOTS_A_MM = 100 / 25.4


class Walk(CardsTest):
    """Cards and tags are printed, their pages made pictures, and those photographed between the things of a walk."""

    def setUp(self):
        super().setUp()
        self.card = self.path("card")
        self.number = 0
        self.clock = 10 * 3600

    def printed(self, path, dpi=100):
        """The pages of a PDF as pictures."""
        stem = path[:-4]
        subprocess.run(["pdftoppm", "-r", str(dpi), "-png", path, stem], check=True)
        folder, base = os.path.split(stem)
        names = sorted(n for n in os.listdir(folder) if n.startswith(base + "-") and n.endswith(".png"))
        return [Image.open(os.path.join(folder, n)).convert("RGB") for n in names]

    def card_of(self, pages, index):
        page = pages[index // 2]
        height = page.height // 2
        return page.crop((0, index % 2 * height, page.width, (index % 2 + 1) * height))

    def tag_of(self, page, index):
        width, height = page.width / 3, page.height / 8
        left, top = index % 3 * width, index // 3 * height
        return page.crop((int(left), int(top), int(left + width), int(top + height)))

    def photo(self, wait, showing=None, model="P5", quality=None, folder="", share=0.6):
        """A photo 'wait' seconds after the last one; 'showing' lies on the ground of a drawing, askew."""
        self.number += 1
        self.clock += wait
        stamp = f"2026:04:03 {self.clock // 3600:02d}:{self.clock // 60 % 60:02d}:{self.clock % 60:02d}"
        name = os.path.join(folder, f"IMG_{self.number:04d}.jpg")
        picture = None
        if showing is not None:
            picture = pictures.drawing(self.number, (1600, 1200))
            width = int(1600 * share)
            paper = showing.resize((width, width * showing.height // showing.width), Image.LANCZOS)
            mask = Image.new("L", paper.size, 255).rotate(7, expand=True)
            picture.paste(paper.rotate(7, expand=True, resample=Image.BICUBIC), (200, 150), mask)
            picture = picture.filter(ImageFilter.GaussianBlur(1))
        pictures.write(self.card, name, pictures.jpeg(7000 + self.number, stamp, model=model, picture=picture))
        return name

    def thing(self, count, wait=60, **options):
        return [self.photo(wait if k == 0 else 5, **options) for k in range(count)]

    def bring(self):
        self.good("bring-in", self.catalogue, self.card)

    def pair(self, *more):
        return self.good("pair", self.catalogue, "--trip", "1", "--json", *more).json()

    def stop_with(self, pairing, name):
        return next(s for s in pairing["stops"] if name in s["files"])

    def place_order(self):
        """Places in the order of their cards: without a walking order, by path."""
        return ["Packing shed", "Packing shed > Loft", "Press house"]


class Places(Walk):
    def test_what_follows_a_card_is_there(self):
        pages = self.printed(self.print_cards()[1])
        before = self.thing(3)
        loft = self.photo(90, self.card_of(pages, 1))
        in_loft = [self.thing(3, wait=40), self.thing(4)]
        press = self.photo(120, self.card_of(pages, 2))
        in_press = [self.thing(2, wait=9), self.thing(5)]
        self.bring()
        pairing = self.pair()
        self.assertNotIn("remarks", pairing)
        for name, place in ((loft, "Packing shed > Loft"), (press, "Press house")):
            stop = self.stop_with(pairing, name)
            self.assertEqual((stop["files"], stop["place"], stop["item"], stop["is_new"], stop["band"]),
                             ([name], place, None, False, "sure"))
            self.assertIn(f"the card of {place}", stop["reason"])
        for things, place in ((in_loft, "Packing shed > Loft"), (in_press, "Press house")):
            for names in things:
                stop = self.stop_with(pairing, names[0])
                self.assertEqual((stop["files"], stop["place"], stop["is_new"]), (names, place, True))
                self.assertIn(f"the card of {place}, ", stop["reason"])
                self.assertIn(" before", stop["reason"])
                self.assertIn(place.split(" > ")[-1], stop["item"])
        self.assertIn("40 s before", self.stop_with(pairing, in_loft[0][0])["reason"])
        self.assertEqual(self.stop_with(pairing, before[0])["files"], before)
        self.assertEqual(self.pair(), pairing)

    def test_another_camera_is_not_moved_by_it(self):
        pages = self.printed(self.print_cards()[1])
        self.photo(60, self.card_of(pages, 2))
        mine = self.thing(3)
        other = [self.photo(600, model="C2") for _ in range(3)]
        self.bring()
        pairing = self.pair()
        self.assertEqual(self.stop_with(pairing, mine[0])["place"], "Press house")
        self.assertNotIn("the card of", self.stop_with(pairing, other[0])["reason"])

    def test_accepted_the_card_is_a_photo_of_the_place_and_shows_no_item(self):
        pages = self.printed(self.print_cards()[1])
        card = self.photo(60, self.card_of(pages, 0))
        self.thing(3)
        self.bring()
        self.pair("--accept", "sure")
        photos = {p["file"]: p for p in self.good("photos", self.catalogue, "--json").json()}
        self.assertEqual(photos[card]["items"], [])
        stop = self.stop_with(self.pair(), card)
        self.assertIn("decided before", stop["reason"])
        self.good("check", self.catalogue)

    def test_a_person_overrules_a_card(self):
        pages = self.printed(self.print_cards()[1])
        card = self.photo(60, self.card_of(pages, 0))
        self.bring()
        number = self.add_item("Door", "Press house")
        photo = self.good("photos", self.catalogue, "--json").json()[0]["photo"]
        self.good("assign", self.catalogue, str(photo), "--item", str(number))
        stop = self.stop_with(self.pair("--accept", "sure"), card)
        self.assertEqual((stop["item"], stop["place"]), ("Door", "Press house"))

    def test_a_card_far_behind_a_thing_is_no_card_photo(self):
        pages = self.printed(self.print_cards()[1])
        names = [self.photo(60, self.card_of(pages, 2), share=0.14)] + self.thing(2, wait=5)
        self.bring()
        stop = self.stop_with(self.pair(), names[0])
        self.assertEqual((stop["files"], stop["is_new"]), (names, True))


class Tags(Walk):
    def setUp(self):
        super().setUp()
        path = self.print_cards("--tags", "30")[1]
        self.sheet = self.printed(path)[2]

    def test_a_tag_makes_the_item(self):
        first = [self.photo(60, self.tag_of(self.sheet, 11))] + self.thing(2, wait=6)
        second = [self.photo(8, self.tag_of(self.sheet, 4))] + self.thing(3, wait=6)
        plain = self.thing(3, wait=120)
        self.bring()
        pairing = self.pair()
        for names, tag in ((first, "tag 12"), (second, "tag 5")):
            stop = self.stop_with(pairing, names[0])
            self.assertEqual((stop["files"], stop["item"], stop["item_number"], stop["is_new"]),
                             (names, tag, None, True))
            self.assertIn(f"{tag} in the first photo", stop["reason"])
        self.assertNotIn("tag", self.stop_with(pairing, plain[0])["item"])

    def test_the_item_keeps_its_tag(self):
        names = [self.photo(60, self.tag_of(self.sheet, 11))] + self.thing(3, wait=6)
        self.thing(3, wait=200)
        self.bring()
        self.pair("--accept", "sure")
        item = next(i for i in self.items() if i["name"] == "tag 12")
        self.good("item", "set", self.catalogue, str(item["number"]), "--name", "Screw press")
        # the same tag once more, hours later, and a plain photo with it
        again = [self.photo(7200, self.tag_of(self.sheet, 11))] + self.thing(2, wait=6)
        self.thing(2, wait=300)
        self.bring()
        pairing = self.pair()
        stop = self.stop_with(pairing, again[0])
        self.assertEqual((stop["files"], stop["item"], stop["item_number"], stop["band"]),
                         (again, "Screw press", item["number"], "sure"))
        self.assertEqual(self.stop_with(pairing, names[0])["item"], "Screw press")
        self.pair("--accept", "sure")
        self.assertEqual(len(self.item(item["number"])["photos"]), len(names) + len(again))
        self.good("check", self.catalogue)

    def test_an_item_is_found_by_its_tag(self):
        names = [self.photo(60, self.tag_of(self.sheet, 11))] + self.thing(3, wait=6)
        self.thing(3, wait=200)
        self.bring()
        self.pair("--accept", "sure")
        number = next(i["number"] for i in self.items() if i["name"] == "tag 12")
        self.good("item", "set", self.catalogue, str(number), "--name", "Screw press", "--tag", "20")
        self.assertEqual(self.item(number)["tags"], [12, 20])
        self.assertEqual(len(self.item(number)["photos"]), len(names))
        for tag in ("12", "20"):
            self.assertEqual([i["number"] for i in self.items("--tag", tag)], [number])
        self.assertEqual(self.items("--tag", "13"), [])
        other = self.add_item("Vat")
        self.bad(1, "item", "set", self.catalogue, str(other), "--name", "Tub", "--tag", "12", says="already")
        self.assertEqual(self.item(other)["name"], "Vat")
        self.bad(1, "item", "set", self.catalogue, str(other), "--tag-off", "12", says="does not bear tag 12")
        self.bad(2, "item", "set", self.catalogue, str(other), "--tag", "no")
        self.bad(2, "items", self.catalogue, "--tag", "-1")
        self.good("item", "set", self.catalogue, str(number), "--tag-off", "12")
        self.good("item", "set", self.catalogue, str(other), "--tag", "12")
        self.assertEqual([i["name"] for i in self.items("--tag", "12")], ["Vat"])
        self.good("undo", self.catalogue)
        self.good("undo", self.catalogue)
        self.assertEqual(self.item(number)["tags"], [12, 20])
        self.assertNotIn("tags", self.item(other))
        self.good("check", self.catalogue)

    def test_twice_photographed_before_it_is_accepted_is_one_item(self):
        for wait in (60, 3000):
            self.photo(wait, self.tag_of(self.sheet, 2))
            self.thing(3, wait=5)
            self.thing(3, wait=400)
        self.bring()
        self.pair("--accept", "sure")
        self.assertEqual(len([i for i in self.items() if i["name"].startswith("tag")]), 1)
        self.good("undo", self.catalogue)
        self.good("check", self.catalogue)

    def test_a_noted_item_gets_the_tag(self):
        notes = self.path("notes.csv")
        with open(notes, "w", encoding="utf-8") as out:
            out.write("time,place,item\n10:00:40,Press house,Screw press\n10:09:50,Press house,Vat\n")
        self.photo(60, self.tag_of(self.sheet, 6))
        self.thing(3, wait=6)
        self.thing(4, wait=520)
        self.bring()
        self.good("notes", self.catalogue, notes, "--trip", "1")
        stop = self.pair()["stops"][0]
        self.assertEqual(stop["item"], "Screw press")
        self.assertIn("tag 7 in the first photo", stop["reason"])


class Wide(Walk):
    """A photo that shows a second tag shows a second thing."""

    def setUp(self):
        super().setUp()
        self.sheet = self.printed(self.print_cards("--tags", "24")[1], dpi=150)[2]

    def two_tags(self, near, far):
        """Tag 'near' in front, tag 'far' smaller behind it."""
        front, back = self.tag_of(self.sheet, near), self.tag_of(self.sheet, far)
        back = back.resize((back.width * 3 // 5, back.height * 3 // 5), Image.LANCZOS)
        both = Image.new("RGB", (front.width + back.width, front.height), "white")
        both.paste(front, (0, 0))
        both.paste(back, (front.width, 0))
        return both

    def walk(self):
        """Two things with tags 6 and 9; the second one's second photo has the first one's tag behind its own."""
        first = [self.photo(60, self.tag_of(self.sheet, 5))] + self.thing(3, wait=6)
        second = [self.photo(90, self.tag_of(self.sheet, 8)), self.photo(7, self.two_tags(8, 5), share=0.9)]
        second += self.thing(2, wait=6)
        self.thing(3, wait=300)
        self.bring()
        return first, second

    def number_of(self, name):
        return next(i["number"] for i in self.items() if i["name"] == name)

    def items_of(self, file):
        return next(p["items"] for p in self.good("photos", self.catalogue, "--json").json() if p["file"] == file)

    def test_it_is_proposed_taken_over_and_taken_back(self):
        first, second = self.walk()
        pairing = self.pair()
        self.assertNotIn("remarks", pairing)
        self.assertEqual((self.stop_with(pairing, first[0])["files"], self.stop_with(pairing, first[0])["also"]),
                         (first, []))
        stop = self.stop_with(pairing, second[0])
        self.assertEqual((stop["files"], stop["item"], stop["also"]), (second, "tag 9", ["tag 6"]))
        self.assertIn("tag 6", self.good("pair", self.catalogue, "--trip", "1").out)
        self.assertEqual(self.pair(), pairing)
        accepted = self.pair("--accept", "sure")
        self.assertEqual(self.stop_with(accepted, second[0])["also"], ["tag 6"])
        one, two = self.number_of("tag 6"), self.number_of("tag 9")
        self.assertEqual(self.items_of(second[1]), [two, one])
        for name in [second[0]] + second[2:]:
            self.assertEqual(self.items_of(name), [two])
        self.assertEqual(len(self.item(one)["photos"]), len(first) + 1)
        self.good("check", self.catalogue)
        self.good("undo", self.catalogue)
        self.assertEqual(self.items_of(second[1]), [])
        self.assertEqual(self.pair(), pairing)

    def test_what_a_person_said_of_the_photo_stands(self):
        _, second = self.walk()
        self.pair("--accept", "sure")
        one, two = self.number_of("tag 6"), self.number_of("tag 9")
        photo = next(p["photo"] for p in self.good("photos", self.catalogue, "--json").json() if p["file"] == second[1])
        self.good("assign", self.catalogue, str(photo), "--item", "none")
        self.assertEqual(self.items_of(second[1]), [])
        self.pair("--accept", "sure")
        self.assertEqual(self.items_of(second[1]), [])
        self.good("assign", self.catalogue, str(photo), "--item", str(one))
        self.pair("--accept", "sure")
        self.assertEqual(self.items_of(second[1])[0], one)
        self.good("check", self.catalogue)
        self.assertNotEqual(one, two)


def solve(rows):
    """Gauss: rows of coefficients with the right side last."""
    n = len(rows)
    for i in range(n):
        best = max(range(i, n), key=lambda r: abs(rows[r][i]))
        rows[i], rows[best] = rows[best], rows[i]
        rows[i] = [v / rows[i][i] for v in rows[i]]
        for r in range(n):
            if r != i:
                rows[r] = [a - rows[r][i] * b for a, b in zip(rows[r], rows[i])]
    return [row[-1] for row in rows]


def lay(picture, paper, corners):
    """The paper with its corners (from the top left, clockwise) at those pixels of the picture."""
    width, height = paper.size
    rows = []
    for (x, y), (u, v) in zip(corners, ((0, 0), (width, 0), (width, height), (0, height))):
        rows.append([x, y, 1, 0, 0, 0, -u * x, -u * y, u])
        rows.append([0, 0, 0, x, y, 1, -v * x, -v * y, v])
    seen = solve(rows)
    laid = paper.transform(picture.size, Image.PERSPECTIVE, seen, Image.BICUBIC)
    mask = Image.new("L", paper.size, 255).transform(picture.size, Image.PERSPECTIVE, seen)
    picture.paste(laid, (0, 0), mask)
    return picture


def lit(picture, brightness):
    """Multiplied by brightness (x, y), both from 0 to 1, in small steps."""
    light = Image.new("L", (80, 60))
    light.putdata([int(255 * brightness(k % 80 / 79, k // 80 / 59)) for k in range(80 * 60)])
    return ImageChops.multiply(picture, light.resize(picture.size, Image.BILINEAR).convert("RGB"))


class Distorted(Walk):
    """Cards and tags as they are really photographed: 150 dots an inch on paper, 1600 x 1200 pixels in the photo. Each row
    is still read; beyond them nothing is promised."""

    STRAIGHT = ((300, 150), (1300, 150), (1300, 1050), (300, 1050))
    ROWS = [
        ("straight on", STRAIGHT, None),
        ("from the side: the far edge half as high", ((350, 150), (1150, 375), (1150, 825), (350, 1050)), None),
        ("from below and the side", ((500, 250), (1250, 330), (1400, 1100), (250, 900)), None),
        ("turned by a quarter", ((1250, 100), (1250, 1100), (350, 1100), (350, 100)), None),
        ("upside down", STRAIGHT[2:] + STRAIGHT[:2], None),
        ("aslant by 15 degrees", ((350, 150), (1300, 405), (1090, 1190), (140, 935)), None),
        ("aslant by 30 degrees", ((507, 5), (1373, 505), (973, 1198), (107, 698)), None),
        ("light that falls off to a fifth", STRAIGHT, lambda p: lit(p, lambda x, y: 1 - 0.8 * x)),
        ("dark, a quarter of the light", STRAIGHT, lambda p: lit(p, lambda x, y: 0.25)),
        ("half in a hard shadow", STRAIGHT, lambda p: lit(p, lambda x, y: 0.35 if x + 0.4 * y < 0.62 else 1)),
        ("out of focus", STRAIGHT, lambda p: p.filter(ImageFilter.GaussianBlur(4))),
        ("moved while pressing", STRAIGHT, lambda p: p.filter(ImageFilter.BoxBlur(3))),
        ("aslant, blurred, in uneven light", ((420, 200), (1200, 330), (1130, 930), (330, 1050)),
         lambda p: lit(p, lambda x, y: 0.9 - 0.6 * y).filter(ImageFilter.GaussianBlur(2))),
    ]

    def shot(self, paper, corners, spoil, k):
        picture = lay(pictures.drawing(300 + k, (1600, 1200)), paper, corners)
        self.clock += 900
        stamp = f"2026:04:03 {self.clock // 3600:02d}:{self.clock // 60 % 60:02d}:00"
        name = f"IMG_{self.clock}.jpg"
        pictures.write(self.card, name, pictures.jpeg(0, stamp, picture=spoil(picture) if spoil else picture))
        return name

    def test_place_cards(self):
        pages = self.printed(self.print_cards(name="fine.pdf")[1], dpi=150)
        names = [self.shot(self.card_of(pages, 2), corners, spoil, k)
                 for k, (_, corners, spoil) in enumerate(self.ROWS)]
        self.bring()
        pairing = self.pair()
        for (label, _, _), name in zip(self.ROWS, names):
            with self.subTest(label):
                stop = self.stop_with(pairing, name)
                self.assertEqual((stop["files"], stop["place"], stop["item"], stop["band"]),
                                 ([name], "Press house", None, "sure"))

    def test_tags(self):
        report, path = self.print_cards("--tags", "24", name="fine.pdf")
        sheet = self.printed(path, dpi=150)[report["pages"] - 1]
        names = [self.shot(self.tag_of(sheet, k), corners, spoil, k)
                 for k, (_, corners, spoil) in enumerate(self.ROWS)]
        self.bring()
        pairing = self.pair()
        for k, ((label, _, _), name) in enumerate(zip(self.ROWS, names)):
            with self.subTest(label):
                stop = self.stop_with(pairing, name)
                self.assertEqual((stop["files"], stop["item"], stop["is_new"]), ([name], f"tag {k + 1}", True))


class QrCode(ctypes.Structure):
    """libqrencode's QRcode: width squares, each a byte whose lowest bit is black."""

    _fields_ = [("version", ctypes.c_int), ("width", ctypes.c_int), ("data", ctypes.POINTER(ctypes.c_ubyte))]


def code_of_others(text, square=12):
    """A code that says the text, on white with the quiet zone of four squares (ISO/IEC 18004:2015, 9.1; from memory)."""
    library = ctypes.CDLL("libqrencode.so.4")
    library.QRcode_encodeString8bit.restype = ctypes.POINTER(QrCode)
    code = library.QRcode_encodeString8bit(text.encode(), 0, 1).contents
    picture = Image.new("L", (code.width + 8, code.width + 8), 255)
    for k in range(code.width * code.width):
        if code.data[k] & 1:
            picture.putpixel((4 + k % code.width, 4 + k // code.width), 0)
    return picture.resize((picture.width * square, picture.height * square), Image.NEAREST).convert("RGB")


class Others(Walk):
    def test_codes_on_the_things_themselves(self):
        """The maker's code on a pump's plate says nothing of places and items: the walk goes on as if it were not there."""
        first = [self.photo(60, code_of_others("https://pumps.example/manual?type=7"), share=0.45)]
        first += self.thing(2, wait=5)
        second = [self.photo(200, code_of_others("PUMP 7 / 1962"), share=0.45)] + self.thing(2, wait=5)
        self.bring()
        pairing = self.pair()
        self.assertEqual([(r["file"], r["remark"]) for r in pairing["remarks"]],
                         [(names[0], "shows a code that is not one of ours; it is ignored")
                          for names in (first, second)])
        for names in (first, second):
            stop = self.stop_with(pairing, names[0])
            self.assertEqual((stop["files"], stop["is_new"], stop["item_number"]), (names, True, None))
            self.assertNotIn("pumps.example", str(pairing))
        self.assertIn("not one of ours", self.good("pair", self.catalogue, "--trip", "1").out)

    def test_cards_and_tags_of_another_property(self):
        other = self.path("Other.shedwalk")
        self.good("new", other, "--name", "Elsewhere", "--currency", "NZD", "--zone", self.zone)
        self.good("place", "add", other, "Barn")
        pages = self.printed(self.print_cards("--tags", "3", catalogue=other, name="other.pdf")[1])
        first = [self.photo(60, self.card_of(pages, 0))] + self.thing(2, wait=5)
        second = [self.photo(200, self.tag_of(pages[1], 0))] + self.thing(2, wait=5)
        self.bring()
        pairing = self.pair()
        self.assertEqual([(r["file"], r["remark"].split(";")[0]) for r in pairing["remarks"]],
                         [(first[0], "shows a place card of another property"),
                          (second[0], "shows a tag of another property")])
        for names in (first, second):
            stop = self.stop_with(pairing, names[0])
            self.assertEqual((stop["files"], stop["is_new"]), (names, True))
            self.assertNotIn("Barn", str(stop))
            self.assertNotIn("tag", stop["reason"])
        self.assertIn("another property", self.good("pair", self.catalogue, "--trip", "1").out)

    def test_two_tags_on_one_photo_are_nobodys(self):
        sheet = self.printed(self.print_cards("--tags", "24")[1])[2]
        two = sheet.crop((0, 0, sheet.width * 2 // 3, sheet.height // 8))
        name = self.photo(60, two, share=0.8)
        self.bring()
        pairing = self.pair()
        self.assertEqual([r["file"] for r in pairing["remarks"]], [name])
        self.assertIn("several tags", pairing["remarks"][0]["remark"])


if __name__ == "__main__":
    unittest.main()
