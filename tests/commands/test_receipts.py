# SPDX-License-Identifier: GPL-3.0-or-later
"""hand-out tags on sheets of labels, read back by zbar as a printer of 150 dots an inch sets them; hand-out receipt read back from its page."""
import ctypes
import os
import subprocess
import unittest

from PIL import Image

import pictures
from shed import ShedTest, words_on

DPI = 150
TABLE = """what,outlet,kind,ref,item,start,up,at,result,amount,delivery,buyer
outlet,Board,priced ad,,,,,,,,,
offer,Board,,P1,Still,60.00,2026-05-01,,,,,
result,,,P1,,,,2026-05-03,sold,55.00,5.00,Bea Buyer
payment,,,P1,,,,2026-05-04,,20.00,,
"""


class Zbar:
    """zbar's C interface, as zbar.h declares it."""

    def __init__(self):
        self.library = ctypes.CDLL("libzbar.so.0")
        for name in ("zbar_image_scanner_create", "zbar_image_create", "zbar_image_first_symbol", "zbar_symbol_next"):
            getattr(self.library, name).restype = ctypes.c_void_p
        self.library.zbar_symbol_get_data.restype = ctypes.c_char_p
        self.scanner = ctypes.c_void_p(self.library.zbar_image_scanner_create())

    def read(self, picture):
        """The codes on a picture."""
        library, data = self.library, picture.convert("L").tobytes()
        image = ctypes.c_void_p(library.zbar_image_create())
        library.zbar_image_set_format(image, ctypes.c_ulong(int.from_bytes(b"Y800", "little")))
        library.zbar_image_set_size(image, *picture.size)
        library.zbar_image_set_data(image, data, ctypes.c_ulong(len(data)), None)
        library.zbar_scan_image(self.scanner, image)
        codes, symbol = set(), library.zbar_image_first_symbol(image)
        while symbol:
            codes.add(library.zbar_symbol_get_data(ctypes.c_void_p(symbol)).decode())
            symbol = library.zbar_symbol_next(ctypes.c_void_p(symbol))
        library.zbar_image_destroy(image)
        return codes


class Tags(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()

    def pages(self, path):
        subprocess.run(["pdftoppm", "-r", str(DPI), "-gray", "-png", path, self.path("page")], check=True)
        return [Image.open(self.path(name)) for name in sorted(os.listdir(self.folder)) if name.startswith("page")]

    def print_tags(self, *more):
        to = self.path("tags.pdf")
        return self.good("hand-out", self.catalogue, "tags", "--to", to, "--json", *more).json(), to

    def check_sheet(self, labels, columns, rows, left, top, pitch_x, pitch_y, width, height):
        """The code of every label is read, each another."""
        report, path = self.print_tags("--labels", labels)
        self.assertEqual((report["cards"], report["tags"], report["pages"]), (0, columns * rows, 1))
        (page,) = self.pages(path)
        self.addCleanup(page.close)
        zbar, taken = Zbar(), set()
        for column in range(columns):
            for row in range(rows):
                x, y = left + column * pitch_x, top + row * pitch_y
                # the label as it is taken off its sheet: what it bears lies within it
                label = page.crop([round(mm * DPI / 25.4) for mm in (x, y, x + width, y + height)])
                codes = zbar.read(label)
                self.assertEqual(len(codes), 1, (column, row))
                taken |= codes
        self.assertEqual(len(taken), columns * rows)
        text = words_on(path)
        for number in range(report["first_tag"], report["first_tag"] + report["tags"]):
            self.assertRegex(text, rf"(?m)^{number}$")

    def test_by_name(self):
        self.check_sheet("63.5 x 38.1 mm", 3, 7, 7.2, 15.15, 66, 38.1, 63.5, 38.1)

    def test_the_smallest_by_name(self):
        self.check_sheet("48.5 x 25.4 mm", 4, 11, 8, 8.8, 48.5, 25.4, 48.5, 25.4)

    def test_by_measure(self):
        self.check_sheet("4x10,6.5,13.5,50,27,38,20", 4, 10, 6.5, 13.5, 50, 27, 38, 20)

    def test_numbers_go_on_and_are_never_given_twice(self):
        self.assertEqual(self.print_tags("--tags", "5")[0]["first_tag"], 1)
        self.assertEqual(self.print_tags("--tags", "30")[0]["pages"], 2)
        self.assertEqual(self.print_tags()[0]["first_tag"], 36)

    def test_bad_measures_cost_no_number(self):
        for labels, says in (("small", "63.5 x 38.1 mm"), ("3x8", "COLUMNSxROWS"), ("3x8,0,0,70,37", "COLUMNSxROWS"),
                             ("3x8,0,0,80,37,70,37", "fit"), ("3x8,0,0,60,37,70,37", "overlap"), ("3x9,0,0,70,37,70,37", "fit"),
                             ("9x20,0,0,20,12,20,12", "38 mm"), ("0x8,0,0,70,37,70,37", "columns"), ("3x8,-1,0,70,37,70,37", "fit"),
                             ("3x8,nan,0,70,37,70,37", "COLUMNSxROWS"), ("3x8,0,0,70,37,inf,37", "COLUMNSxROWS")):
            self.bad(1, "hand-out", self.catalogue, "tags", "--to", self.path("t.pdf"), "--labels", labels, says=says)
        self.assertEqual(self.print_tags()[0]["first_tag"], 1)


class Receipt(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        self.add_item("Still", "Press house", "--count", "2", "--asking", "70.00")
        self.good("book", self.catalogue, pictures.write(self.folder, "money.csv", TABLE.encode()))

    def receipt(self, *more):
        to = self.path("receipt.pdf")
        report = self.good("hand-out", self.catalogue, "receipt", "--offer", "P1", "--to", to, "--json", *more).json()
        self.assertEqual(report["pages"], 1)
        return words_on(to, "-layout")

    def test_what_it_says(self):
        text = self.receipt()
        for words in (r"Receipt P1", r"1\s+Still\s+2", r"Amount\s+60.00", r"Paid\s+20.00", r"Still owed\s+40.00",
                      r"Handed over on: _+", r"Buyer: _+", r"Signed, who hands over: _+", r"Signed, who receives: _+"):
            self.assertRegex(text, words)
        for private in ("Bea", "Press house", "Old cider works"):
            self.assertNotIn(private, text)

    def test_the_buyer_only_when_asked(self):
        self.assertRegex(self.receipt("--buyers"), "Buyer: Bea Buyer")

    def test_the_day_once_it_is_handed_over(self):
        table = "what,ref,at\ncollected,P1,2026-05-09\n"
        self.good("book", self.catalogue, pictures.write(self.folder, "more.csv", table.encode()))
        self.assertIn("Handed over on: 2026-05-09", self.receipt())

    def test_bad_calls(self):
        to = self.path("receipt.pdf")
        self.bad(2, "hand-out", self.catalogue, "receipt", "--to", to, says="--offer")
        self.bad(1, "hand-out", self.catalogue, "receipt", "--offer", "P9", "--to", to, says="P9")
        self.bad(1, "hand-out", self.catalogue, "receipt", "--offer", "P1", "--to", self.path("x.txt"), says=".pdf")
        self.bad(1, "hand-out", self.catalogue, "receipt", "--offer", "P1", "--to", os.path.join(self.catalogue, "x.pdf"),
                 says="inside")
        table = "what,ref,at,amount\nreversal,P1,2026-05-10,\n"
        self.good("book", self.catalogue, pictures.write(self.folder, "more.csv", table.encode()))
        self.bad(1, "hand-out", self.catalogue, "receipt", "--offer", "P1", "--to", to, says="fell through")
        self.assertFalse(os.path.exists(to))


if __name__ == "__main__":
    unittest.main()
