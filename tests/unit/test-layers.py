#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Holds the layers of the source tree: which folder may include which, who may speak SQL or GTK, who may print, that every
file names its licence and that every header compiles alone.

Usage: test-layers.py SOURCE_ROOT COMPILER...

Reads the tree and changes nothing. Before it judges the tree, it judges planted faults, so that a rule that has stopped
working is a failure too.
"""

import concurrent.futures
import os
import pathlib
import re
import shlex
import subprocess
import sys

# Folder below src/ -> folders it may include from. Arrows go one way.
ARROWS = {
    "core/base": {"core/base"},
    "core/catalogue": {"core/base", "core/catalogue"},
    "core/intake": {"core/base", "core/catalogue", "core/intake"},
    "core/match": {"core/base", "core/catalogue", "core/intake", "core/match"},
    "core/trade": {"core/base", "core/catalogue", "core/trade"},
    "core/trip": {"core/base", "core/catalogue", "core/trade", "core/trip"},
    "core/handout": {"core/base", "core/catalogue", "core/intake", "core/match", "core/trade", "core/trip", "core/handout"},
    "cli": {"cli", "core/*"},
    "app": {"app", "core/*"},
}

# The program's first lines choose between the command line and the window, so these files alone may see both.
ENTRY_FILES = {"main.c", "decode-main.c", "app/main.c"}

# What headers of a layer may need from outside. The base layer gets GLib and nothing else.
PACKAGES = {
    "core/base": ["glib-2.0"],
    "core/handout": ["glib-2.0", "gio-2.0", "cairo"],
    "core": ["glib-2.0", "gio-2.0", "gio-unix-2.0", "gdk-pixbuf-2.0", "json-glib-1.0", "sqlite3", "libexif"],
    "cli": ["glib-2.0", "gio-2.0", "gio-unix-2.0", "json-glib-1.0"],
    "app": ["gtk+-3.0", "gio-unix-2.0"],
}

INCLUDE = re.compile(r'^[ \t]*#[ \t]*include[ \t]*([<"])([^>"]+)[>"]', re.M)
TOOLKIT = re.compile(r"^(gtk|gdk)/")
SQL = re.compile(r"\bSELECT\b.*\bFROM\b|\bINSERT (OR \w+ )?INTO\b|\bUPDATE\b.*\bSET\b|\bDELETE FROM\b", re.S)
TERMINAL = re.compile(
    r"(?<!\w)(printf|vprintf|fprintf|vfprintf|dprintf|puts|putchar|fputs|perror|g_print|g_printerr|exit|_exit|quick_exit)\s*\("
)
FLOATING = re.compile(r"(?<!\w)(double|float|strtod|g_ascii_strtod|atof)(?!\w)")
# Sums of money and masses, where a float would lose a cent.
EXACT = {"core/base/money", "core/base/mass", "core/trade/split", "core/trade/terms"}

TOKEN = re.compile(
    r"""(?P<comment>/\*.*?\*/|//[^\n]*)
      | (?P<string>"(?:\\.|[^"\\\n])*")
      | (?P<char>'(?:\\.|[^'\\\n])*')""",
    re.S | re.X,
)


def parts_of(text):
    """The code without comments and literals, and the literals, neighbours joined as the compiler joins them."""
    code, strings, end, joined = [], [], 0, False
    for match in TOKEN.finditer(text):
        between = text[end : match.start()]
        code.append(between)
        if between.strip():
            joined = False
        if match.lastgroup == "string":
            literal = match.group()[1:-1].replace("\\n", "\n")
            if joined:
                strings[-1] += literal
            else:
                strings.append(literal)
            joined = True
            code.append('""')
        elif match.lastgroup == "char":
            code.append("' '")
        else:
            code.append(" ")
        end = match.end()
    code.append(text[end:])
    return "".join(code), strings


def folder_of(path):
    """core/base/money.c -> core/base; app/pages/found.c -> app."""
    pieces = path.split("/")
    return "/".join(pieces[:2]) if pieces[0] == "core" else pieces[0]


def may_include(path, target):
    if path in ENTRY_FILES:
        return True
    allowed = ARROWS.get(folder_of(path))
    if allowed is None:
        return False
    to = folder_of(target)
    return to in allowed or (to.startswith("core/") and "core/*" in allowed)


def include_faults(path, text):
    for kind, target in INCLUDE.findall(text):
        if kind == "<" and TOOLKIT.match(target) and not path.startswith("app/"):
            yield f"{path}: includes <{target}>; only src/app knows the toolkit"
        if kind == '"' and folder_of(path) in ARROWS and "/" not in target:
            yield f'{path}: includes "{target}"; write the path from src/'
        elif kind == '"' and not may_include(path, target):
            yield f'{path}: includes "{target}"; {folder_of(path)} may not'


def code_faults(path, text):
    code, strings = parts_of(text)
    if not path.startswith("core/catalogue/"):
        for string in strings:
            if SQL.search(string):
                yield f"{path}: holds SQL ({string[:40]!r}); it belongs into src/core/catalogue"
    if path.startswith("core/"):
        for match in TERMINAL.finditer(code):
            yield f"{path}: calls {match.group(1)}; core neither prints nor ends the program"
    if path.rsplit(".", 1)[0] in EXACT:
        for match in FLOATING.finditer(code):
            yield f"{path}: uses {match.group(1)}; sums here are exact"


def licence_faults(path, text):
    first = text.split("\n", 2)[:2]
    if not any("SPDX-License-Identifier: GPL-3.0-or-later" in line for line in first):
        yield f"{path}: its first lines do not name the licence"


def source_faults(path, text):
    """All faults of one file below src/."""
    known = folder_of(path) in ARROWS or path in ENTRY_FILES
    if not known:
        yield f"{path}: lies in no known layer"
    yield from include_faults(path, text)
    yield from code_faults(path, text)
    yield from licence_faults(path, text)


SPDX = "/* SPDX-License-Identifier: GPL-3.0-or-later */\n"

# A path, a text, and whether it is a fault.
PLANTED = [
    ("core/base/a.c", '#include "core/base/b.h"\n', False),
    ("core/base/a.c", '#include "core/catalogue/b.h"\n', True),
    ("core/catalogue/a.c", '#include "core/intake/b.h"\n', True),
    ("core/intake/a.c", '#include "core/match/b.h"\n', True),
    ("core/match/a.c", '#include "core/intake/b.h"\n', False),
    ("core/match/a.c", '#include "core/trade/b.h"\n', True),
    ("core/trade/a.c", '#  include "core/match/b.h"\n', True),
    ("core/trip/a.c", '#include "core/trade/b.h"\n', False),
    ("core/trade/a.c", '#include "core/trip/b.h"\n', True),
    ("core/handout/a.c", '#include "core/match/b.h"\n', False),
    ("core/base/a.c", '#include "cli/b.h"\n', True),
    ("core/trade/a.c", '#include "app/b.h"\n', True),
    ("cli/a.c", '#include "core/trade/b.h"\n', False),
    ("cli/a.c", '#include "app/b.h"\n', True),
    ("app/a.c", '#include "core/match/b.h"\n', False),
    ("app/pages/a.c", '#include "app/b.h"\n', False),
    ("app/a.c", '#include "cli/b.h"\n', True),
    ("app/main.c", '#include "cli/b.h"\n', False),
    ("core/base/a.c", '#include "b.h"\n', True),
    ("core/other/a.c", "", True),
    ("core/intake/a.c", "#include <gtk/gtk.h>\n", True),
    ("core/intake/a.c", "#include <gdk/gdk.h>\n", True),
    ("cli/a.c", "#include <gtk/gtk.h>\n", True),
    ("core/intake/a.c", "#include <gdk-pixbuf/gdk-pixbuf.h>\n", False),
    ("app/a.c", "#include <gtk/gtk.h>\n", False),
    ("core/trade/a.c", 'x ("SELECT a FROM b");\n', True),
    ("core/trade/a.c", 'x ("SELECT a "\n   "FROM b");\n', True),
    ("core/trade/a.c", 'x ("SELECT a\\n"  /* why */ "FROM b");\n', True),
    ("core/trade/a.c", 'x ("INSERT OR REPLACE INTO b");\n', True),
    ("cli/a.c", 'x ("UPDATE a SET b = 1");\n', True),
    ("app/a.c", 'x ("DELETE FROM a");\n', True),
    ("core/catalogue/a.c", 'x ("SELECT a FROM b");\n', False),
    ("core/trade/a.c", "/* SELECT a FROM b */\n", False),
    ("core/trade/a.c", 'x ("SELECT"); y ("FROM");\n', False),
    ("core/trade/a.c", 'x ("Select photos from the strip");\n', False),
    ("core/trade/a.c", 'printf ("x");\n', True),
    ("core/trade/a.c", 'g_print ("x");\n', True),
    ("core/trade/a.c", 'fprintf (stderr, "x");\n', True),
    ("core/trade/a.c", "exit (1);\n", True),
    ("core/trade/a.c", 'x = g_strdup_printf ("x"); on_exit_do (y);\n', False),
    ("core/trade/a.c", 'x ("printf (y)"); /* exit (1) */\n', False),
    ("core/trade/a.c", "x ('\"'); exit (1); y ('\"');\n", True),
    ("cli/a.c", 'g_print ("x");\n', False),
    ("core/base/money.c", "double x;\n", True),
    ("core/base/money.c", "/* double */ int doubled;\n", False),
    ("core/match/a.c", "double x;\n", False),
]


def self_faults():
    for path, text, is_fault in PLANTED:
        found = list(source_faults(path, SPDX + text))
        if bool(found) != is_fault:
            yield f"a rule is broken: {path} with {text!r} gives {found}"
    if not list(source_faults("core/base/a.c", "int x;\n")):
        yield "a rule is broken: a file without a licence line passes"


def package_flags(names):
    flags = subprocess.run(["pkg-config", "--cflags", *names], capture_output=True, text=True, check=True)
    return shlex.split(flags.stdout)


def header_fault(compiler, flags, root, path):
    """The header twice over: alone, and guarded against a second reading."""
    text = f'#include "{path}"\n#include "{path}"\n'
    command = [
        *compiler, "-std=c17", "-D_GNU_SOURCE", "-DSQLITE_ENABLE_SESSION", "-DSQLITE_ENABLE_PREUPDATE_HOOK",
        "-Wall", "-Wextra", "-Wno-unused-function", "-Wno-unused-parameter", "-Werror", *flags,
        "-I", str(root / "src"), "-fsyntax-only", "-x", "c", "-",
    ]
    run = subprocess.run(command, input=text, capture_output=True, text=True)
    return None if run.returncode == 0 else f"{path}: does not compile alone:\n{run.stderr}"


def layer_packages(path):
    folder = folder_of(path)
    return PACKAGES.get(folder) or PACKAGES[folder.split("/")[0]]


def header_faults(compiler, root, headers):
    flags = {}
    for path in headers:
        key = tuple(layer_packages(path))
        flags[key] = flags.get(key) or package_flags(key)
    if header_fault(compiler, [], root, "core/base/no-such-header.h") is None:
        yield "a rule is broken: a header that does not compile passes"
    with concurrent.futures.ThreadPoolExecutor(max_workers=os.cpu_count()) as pool:
        jobs = [pool.submit(header_fault, compiler, flags[tuple(layer_packages(p))], root, p) for p in headers]
        yield from (fault for fault in (job.result() for job in jobs) if fault)


def main():
    root, compiler = pathlib.Path(sys.argv[1]), sys.argv[2:]
    if os.path.basename(compiler[0]) == "ccache":
        compiler = compiler[1:]
    faults = list(self_faults())
    sources = sorted(p for p in (root / "src").rglob("*.[ch]"))
    for file in sources:
        faults += source_faults(file.relative_to(root / "src").as_posix(), file.read_text("utf-8"))
    tests = sorted(p for suffix in ("*.[ch]", "*.py") for p in (root / "tests").rglob(suffix))
    for file in tests:
        faults += licence_faults(file.relative_to(root).as_posix(), file.read_text("utf-8"))
    headers = [p.relative_to(root / "src").as_posix() for p in sources if p.suffix == ".h"]
    faults += header_faults(compiler, root, [p for p in headers if folder_of(p) in ARROWS])
    if len(sources) < 10 or len(tests) < 5 or len(headers) < 5:
        faults.append("hardly any file was found; is the first argument the root of the source tree?")
    for fault in faults:
        print(fault)
    print(f"{len(sources)} sources, {len(headers)} headers, {len(tests)} tests read; {len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
