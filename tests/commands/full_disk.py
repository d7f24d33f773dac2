# SPDX-License-Identifier: GPL-3.0-or-later
"""Run by test_hard_times.py in a name space of its own: mounts a disk of 6 MB and works until it is full and after."""
import os
import subprocess
import sys

from shed import run


def expect(code, *args, says=""):
    result = run(*args)
    assert result.code == code, (args, result.code, result.out, result.err)
    assert says in result.err, (says, result.err)
    return result


def mount(disk, options):
    subprocess.run(["mount", "-t", "tmpfs", "-o", options, "none", disk], check=True)


def main(disk, card):
    mount(disk, "size=6m")
    catalogue = os.path.join(disk, "Orchard.shedwalk")
    expect(0, "new", catalogue, "--name", "A", "--currency", "NZD", "--zone", "Pacific/Auckland")
    expect(0, "trip", "add", catalogue, "--title", "T", "--first", "2026-04-03", "--last", "2026-04-06")
    expect(1, "bring-in", catalogue, card, says="disk is full")
    expect(0, "check", catalogue)
    # trying again neither helps nor harms: what is there stays usable
    for _ in range(3):
        assert "card may be cleared" not in expect(1, "bring-in", catalogue, card, says="disk is full").out
        expect(0, "check", catalogue)
    expect(0, "place", "add", catalogue, "Press house")
    expect(0, "item", "add", catalogue, "Screw press", "--place", "Press house", "--trip", "1")
    expect(0, "photos", catalogue)
    free = os.path.join(disk, "filler")
    filler = os.open(free, os.O_WRONLY | os.O_CREAT)
    try:
        while os.write(filler, bytes(4096)):
            pass
    except OSError:
        os.close(filler)
    items = expect(0, "items", catalogue).out
    for args in (["place", "add", catalogue, "Loft"], ["undo", catalogue], ["pair", catalogue, "--trip", "1"],
                 ["new", os.path.join(disk, "B.shedwalk"), "--name", "B", "--currency", "NZD", "--zone", "UTC"],
                 ["backup", catalogue, os.path.join(disk, "home")], ["bring-in", catalogue, card]):
        expect(1, *args, says="disk is full")
    expect(0, "photos", catalogue)
    before = sorted(os.listdir(disk))
    for what, name in (("family", "f.html"), ("family", "f.pdf"), ("tables", "t"), ("archive", "a")):
        expect(1, "hand-out", catalogue, what, "--to", os.path.join(disk, name), says="disk is full")
        assert sorted(os.listdir(disk)) == before, (what, os.listdir(disk))
    assert expect(0, "items", catalogue).out == items
    expect(0, "check", catalogue)
    os.remove(free)
    subprocess.run(["mount", "-o", "remount,size=60m", disk], check=True)
    assert "card may be cleared" in expect(0, "bring-in", catalogue, card).out
    assert len(expect(0, "photos", catalogue, "--json").json()) == 120
    expect(0, "check", catalogue)
    assert not [name for name in os.listdir(disk) if name.startswith(".")], os.listdir(disk)


if __name__ == "__main__":
    main(*sys.argv[1:])
