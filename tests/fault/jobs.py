# SPDX-License-Identifier: GPL-3.0-or-later
"""The commands that are put under faults. A new one is a row of JOBS."""
import os
from dataclasses import dataclass

from bed import CATALOGUE


@dataclass(frozen=True)
class Job:
    name: str
    state: str  # of the bed, see bed.py
    args: tuple
    # one act: at any moment all of it is there, or nothing
    whole: bool = True
    # what is there once it is done and is refused, or means another thing, when it is run again
    makes: str = ""
    once: bool = False
    # a command that makes Mid.shedwalk, and must at any moment
    meanwhile: tuple = ()
    # a second command whose result must stand too: what the job has made must be good for something
    then: tuple = ()


JOBS = (
    Job("new", "card", ("new", "Other.shedwalk", "--name", "Other", "--currency", "NZD", "--zone", "Pacific/Auckland"),
        makes="Other.shedwalk"),
    Job("bring-in", "card", ("bring-in", CATALOGUE, "memory card", "--trip", "1"), whole=False),
    Job("pair", "photos", ("pair", CATALOGUE, "--trip", "1", "--accept", "sure"), whole=False),
    Job("book", "sorted", ("book", CATALOGUE, "money.csv")),
    Job("item", "photos", ("item", "add", CATALOGUE, "Vat", "--place", "Press house", "--trip", "1"), once=True),
    Job("undo", "booked", ("undo", CATALOGUE), once=True),
    Job("backup", "booked", ("backup", CATALOGUE, "home"), whole=False, then=("restore", "home", "Back.shedwalk")),
    Job("backup again", "home", ("backup", CATALOGUE, "home"), whole=False,
        meanwhile=("restore", "home", "Mid.shedwalk"), then=("restore", "home", "Back.shedwalk")),
    Job("restore", "home", ("restore", "home", "Back.shedwalk"), makes="Back.shedwalk"),
    Job("schema step", "older", ("place", "add", CATALOGUE, "Cold store"), whole=False),
    Job("hand-out family", "sorted", ("hand-out", CATALOGUE, "family", "--to", "family.html"), makes="family.html"),
    Job("hand-out pack", "booked", ("hand-out", CATALOGUE, "pack", "--item", "3", "--to", "pack"), makes="pack"),
    Job("hand-out tables", "booked", ("hand-out", CATALOGUE, "tables", "--to", "tables"), makes="tables"),
    Job("archive", "booked", ("hand-out", CATALOGUE, "archive", "--to", "archive"), makes="archive",
        then=("new", "Back.shedwalk", "--from-archive", "archive")),
    Job("from archive", "archive", ("new", "Back.shedwalk", "--from-archive", "archive"), makes="Back.shedwalk"),
)


def is_made(job, folder):
    return bool(job.makes) and os.path.exists(os.path.join(folder, job.makes))
