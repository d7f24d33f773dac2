# SPDX-License-Identifier: GPL-3.0-or-later
"""Bring-in beside cp and sync, metadata beside exiftool and exiv2, thumbnails beside vipsthumbnail: all on one card."""

import shutil
import statistics

from card import write_card
from measure import drop_caches, fill_caches, in_turn, load, missing, output, run, timed
from report import version_of


class Photos:
    def __init__(self, build, folder, photos, rounds):
        self.program, self.decoder, self.reader = build / "src/shedwalk", build / "src/shedwalk-decode", build / "tests/bench/read-metadata"
        self.folder, self.card, self.n, self.rounds = folder, folder / "card", photos, rounds
        self.bytes = write_card(self.card, photos)
        self.size = f"{photos} photos of {self.bytes / photos / 1e6:.1f} MB, 12 megapixels"

    def catalogue(self):
        """A new one, with the card brought in."""
        made = self.folder / "Bench.shedwalk"
        run(self.program, "new", made, "--name", "Bench", "--currency", "NZD", "--zone", "Pacific/Auckland")
        run(self.program, "bring-in", made, self.card)
        return made

    def bring_in(self, report):
        copy = self.folder / "copy"
        rows = [("", "bring-in", "cp -r --reflink=never, sync", "ratio", "load")]
        for kind, before, limit in (("from cache", lambda: fill_caches(self.card), 1.1), ("uncached", lambda: drop_caches(self.card), 0.9)):
            def plain():
                run("cp", "-r", "--reflink=never", self.card, copy)
                run("sync")

            def clean():
                for made in (self.folder / "Bench.shedwalk", copy):
                    shutil.rmtree(made, ignore_errors=True)
                run("sync")
            times = in_turn(self.rounds, {"ours": self.catalogue, "theirs": plain}, before, clean)
            ratio = times["ours"].median / times["theirs"].median
            rows.append((kind, times["ours"].told(), times["theirs"].told(), f"{ratio:.2f}", load()))
            report.goal(f"bring-in until the memory card may be cleared, {kind}, x `cp -r` + sync", ratio, limit)
        made = self.catalogue()
        again = timed(lambda: run(self.program, "bring-in", made, self.card))
        shutil.rmtree(made)
        report.chapter("Bring-in", f"{self.size}: a new catalogue and `bring-in`, until it says that the memory card may be cleared "
                       f"(copied, fingerprinted, metadata read, on the disk, rows written), beside a plain copy of the same card; in turn, "
                       f"medians of {self.rounds} and between which all lay. Uncached: {drop_caches(self.card)} before each.", rows,
                       f"The same card again, every byte compared: {again:.1f} s.")

    def metadata(self, report):
        tools = {"exiftool": "libimage-exiftool-perl", "exiv2": "exiv2"}
        files = sorted(self.card.iterdir())
        contenders = {"ours": lambda: run(self.reader, self.card)}
        if shutil.which("exiftool"):
            contenders["exiftool"] = lambda: run("exiftool", "-q", "-T", "-n", "-fast2", "-FileName", "-DateTimeOriginal", "-OffsetTimeOriginal",
                                                 "-Make", "-Model", "-Orientation", "-GPSLatitude", "-GPSLongitude", self.card)
        if shutil.which("exiv2"):
            names = ("Photo.DateTimeOriginal", "Photo.OffsetTimeOriginal", "Image.Make", "Image.Model", "Image.Orientation",
                     "GPSInfo.GPSLatitude", "GPSInfo.GPSLongitude")
            wanted = [word for name in names for word in ("-K", f"Exif.{name}")]
            contenders["exiv2"] = lambda: run("exiv2", "-q", *wanted, "-P", "v", "pr", *files)
        rows = [("", "Shedwalk", "exiftool", "exiv2", "x exiftool's rate", "x exiv2's rate", "load")]
        for kind, before, limit in (("from cache", lambda: fill_caches(self.card), 100), ("uncached", lambda: drop_caches(self.card), 40)):
            times = in_turn(self.rounds, contenders, before)
            ratios = {name: each.median / times["ours"].median for name, each in times.items()}
            rows.append((kind, *(f"{times[name].told()}, {self.n / times[name].median:.0f}/s" if name in times else ""
                                 for name in ("ours", "exiftool", "exiv2")),
                         *(f"{ratios[name]:.1f}" if name in ratios else "" for name in ("exiftool", "exiv2")), load()))
            report.goal(f"metadata as a whole command, {kind}, x exiftool's rate", ratios.get("exiftool"), limit, at_least=True)
        report.chapter("Metadata", f"{self.size}: time and offset, camera, orientation, position of every photo of the card, a line each; whole "
                       f"processes, in turn, medians of {self.rounds}. exiftool {version_of('exiftool', '-ver')} with `-fast2`, "
                       f"{version_of('exiv2', '--version')}.", rows, missing(tools))

    def thumbnails(self, report):
        made, out = self.catalogue(), self.folder / "thumbnails"
        out.mkdir()
        files = sorted((made / "photos").rglob("*.jpg"))

        def forget():
            for name in ("thumbs.db", "thumbs.db-journal"):
                (made / name).unlink(missing_ok=True)

        def vips(side):
            run("vipsthumbnail", "--size", side, "-o", f"{out}/%s-{side}.jpg[Q=80]", *files)
        fill_caches(made)
        contenders = {"full": lambda: run(self.reader, "--thumbs", self.decoder, made)}
        if shutil.which("vipsthumbnail"):
            contenders["vips"] = lambda: vips(640)
        rates = []
        for _ in range(self.rounds):
            forget()
            rates.append(float(output(self.reader, "--first", self.decoder, made)))
        first = statistics.median(rates)
        times = in_turn(max(1, self.rounds // 2), contenders, forget)
        rows = [("", "time", "photos/s", "x vipsthumbnail's rate"),
                ("first picture in every cell, out of the headers", f"{1000 / first:.2f} s for 1,000", f"{first:.0f} ({min(rates):.0f} to {max(rates):.0f})", "")]
        for name, words in (("vips", "vipsthumbnail, 640 alone"), ("full", "full pass: 160 and 640, likeness, quality, codes")):
            if name in times:
                rows.append((words, times[name].told(), f"{self.n / times[name].median:.1f}",
                             f"{times['vips'].median / times[name].median:.2f}" if "vips" in times else ""))
        report.goal("first picture in every cell, embedded thumbnails", first, 1000, at_least=True, unit="/s")
        report.goal("full pass of thumbnails, x vipsthumbnail's rate", times["vips"].median / times["full"].median if "vips" in times else None,
                    1.5, at_least=True)
        report.chapter("Thumbnails", f"{self.size}, from cache; in turn, medians of {max(1, self.rounds // 2)}, of the first pictures "
                       f"{self.rounds}; load {load()}. "
                       f"{version_of('vipsthumbnail', '--vips-version')}.", rows,
                       "The first pictures as the window gets them: the store asked in vain, then the small picture in each header read and "
                       "decoded in the fenced helper, sixteen to an exchange; the start of the helper counts. Fewer than 1,000 photos are shown again and again.",
                       missing({"vipsthumbnail": "libvips-tools"}))
        shutil.rmtree(made)
        shutil.rmtree(out)
