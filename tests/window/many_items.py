# SPDX-License-Identifier: GPL-3.0-or-later
"""A catalogue of many items, quickly: rows written past the program, in places, states and prices of all kinds, each with a
photo that is on record alone."""

import sqlite3

PLACES = ("Packing shed", "Packing shed > Loft", "Press house", "Press house > Cellar", "Cold store", "Cooperage", "Glasshouse",
          "Machine shed", "Machine shed > Pit", "Office", "Orchard yard", "Pump house")
THINGS = ("Apple crates", "Bottle rack", "Cider barrel", "Drive belt", "Grading table", "Hand cart", "Ladder", "Mill stone",
          "Orchard sprayer", "Pallet truck", "Screw press", "Stencil set", "Tin of nails", "Vine knife", "Wicker basket")
STATES = ("found", "found", "ready", "on-offer", "sold", "no-sale", "at-home", "for-scrap", "handed-over", "kept")


def fill_items(catalogue, n, trip=1):
    """n items of that trip. The name of item i ends in its number, so that a search finds one."""
    with sqlite3.connect(f"{catalogue}/catalogue.db") as database:
        places = []
        for path in PLACES:
            outer, _, name = path.rpartition(" > ")
            parent = database.execute("SELECT id FROM place WHERE path = ?", (outer,)).fetchone()
            row = database.execute("SELECT id FROM place WHERE path = ?", (path,)).fetchone()
            if row is None:
                row = (database.execute("INSERT INTO place (parent, name, path) VALUES (?, ?, ?)",
                                        (parent[0] if parent else None, name, path)).lastrowid,)
            places.append(row[0])
        first = database.execute("SELECT max(coalesce(max(i.id), 0), (SELECT coalesce(max(id), 0) FROM photo)) + 1"
                                 " FROM item i").fetchone()[0]
        database.executemany(
            "INSERT INTO item (id, name, place, trip, state, count, asking, mass_ug, mass_source, added_us)"
            " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, 0)",
            ((i, f"{THINGS[i % len(THINGS)]} {i}", places[i * 7 % len(places)], trip, STATES[i % len(STATES)], 1 + i % 5,
              (i * 37 % 50000) if i % 3 else None, (i * 911 % 90000) * 1000000 if i % 2 else None,
              "typed" if i % 2 else None) for i in range(first, first + n)))
        bring_in = database.execute("INSERT INTO bring_in (opened_us, closed_us, source) VALUES (0, 0, 'card')").lastrowid
        database.executemany(
            "INSERT INTO photo (id, kind, format, file, stored, size, hash, trip, clock_us, time_source, bring_in)"
            " VALUES (?, 'photo', 'jpeg', ?, ?, 3, ?, ?, ?, 'original', ?)",
            ((i, f"P{i}.jpg", f"photos/trip-01/P{i}.jpg", f"{i:032x}", trip, 1775170800000000 + i * 9000000, bring_in)
             for i in range(first, first + n)))
        database.execute("INSERT INTO item_photo (item, photo) SELECT id, id FROM item WHERE id >= ?", (first,))
        database.execute("INSERT INTO item_search (rowid, number, name, place) SELECT i.id, i.id, i.name, p.path FROM item i"
                         " JOIN place p ON p.id = i.place WHERE i.id >= ?", (first,))
