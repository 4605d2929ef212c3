# SPDX-License-Identifier: GPL-3.0-or-later
"""Proves the order of the layers from what the compiler read.

    layers.py BUILDFOLDER

The one table is the list of subdir() in src/meson.build, lowest layer first. From the dependency
file of every object (`ninja -t deps`):
  - a file of a layer reads its own layer and those before it, none after;
  - batch and desktop are siblings: neither reads the other;
  - GTK's headers (gtk, gdk, gsk) are read in desktop only;
  - cairo's and Pango's from draw on only;
  - every C file under src/ was compiled, so that nothing passes by not being looked at.
And from the sources below desktop: no double goes through the printf family, and no text becomes
a number by the C library, since both follow the locale's decimal sign; base/text.c alone may.
(g_ascii_strtod does not follow it, but takes too much as a number: only base and files, with scanners
of their own before it, may call it.)
"""
import os
import pathlib
import re
import subprocess
import sys

SIBLINGS = {"batch": "desktop", "desktop": "batch"}
# a library by the path of its headers, and the layers that may read them
LIBRARIES = [
    (re.compile(r"/gtk-4\.0/(gtk|gdk|gsk|unix-print)/"), "GTK", ["desktop"]),
    (re.compile(r"/(cairo|pango-1\.0)/"), "cairo or Pango", ["draw", "session", "batch", "desktop"]),
]
NUMBERS_ALLOWED = "src/base/text.c"


def read_table(text):
    """The layers in order, of the text of src/meson.build."""
    return re.findall(r"^subdir\('([a-z]+)'\)", text, re.M)


def read_deps(text, build):
    """{object: [absolute paths read, the source first]} of the output of `ninja -t deps`."""
    objects, current = {}, None
    for line in text.splitlines():
        if line.startswith(" "):
            current.append(str((build / line.strip()).resolve()))
        elif ": #deps" in line and line.rstrip().endswith("(VALID)"):
            current = objects.setdefault(line.split(": #deps")[0], [])
        else:
            current = []
    return objects


def layer_of(path, root, table):
    """The layer that a file belongs to, or None for a file that is not under src/."""
    try:
        parts = pathlib.PurePath(path).relative_to(root / "src").parts
    except ValueError:
        return None
    if len(parts) < 2 or parts[0] not in table:
        raise SystemExit(f"layers: {path} belongs to no layer of src/meson.build")
    return parts[0]


def check_object(read, root, table):
    """Yields a complaint for each file that an object should not have read."""
    source = next((path for path in read if path.endswith(".c")), None)
    here = layer_of(source, root, table) if source else None
    if here is None:
        return  # a test, or a file that the build made
    name = pathlib.PurePath(source).relative_to(root)
    for path in read:
        there = layer_of(path, root, table)
        if there is not None:
            if table.index(there) > table.index(here) or SIBLINGS.get(here) == there:
                yield f"{name} ({here}) reads {pathlib.PurePath(path).relative_to(root)} ({there})"
            continue
        for pattern, library, allowed in LIBRARIES:
            if pattern.search(path) and here not in allowed:
                yield f"{name} ({here}) reads a header of {library}: {path}"


def check_objects(objects, sources, root, table):
    """Yields every complaint about the objects; sources: the C files that must be among them."""
    compiled = set()
    for read in objects.values():
        compiled.update(path for path in read if path.endswith(".c"))
        yield from check_object(read, root, table)
    for source in sorted(set(sources) - compiled):
        yield f"{source} was not compiled, so it is not proven"


COMMENT_OR_STRING = re.compile(r'//[^\n]*|/\*.*?\*/|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])+\'', re.S)
DOUBLE_FORMAT = re.compile(r"(?<!%)(?:%%)*%[-+#0']*(?:\d+|\*)?(?:\.(?:\d+|\*)?)?(?:[lL])?[aefgAEFG]")
READERS = re.compile(r"\b(strtod|strtof|strtold|atof|g_strtod|g_ascii_strtod|v?f?s?scanf)\s*\(")


def check_numbers(name, text):
    """Yields a complaint for each place in a C source where a number meets the C library's text."""
    if name == NUMBERS_ALLOWED:
        return

    def without_comment(match):
        return re.sub(r"[^\n]", " ", match[0]) if match[0].startswith("/") else match[0]

    for number, line in enumerate(COMMENT_OR_STRING.sub(without_comment, text).splitlines(), 1):
        strings = " ".join(m[0] for m in COMMENT_OR_STRING.finditer(line) if m[0].startswith('"'))
        if DOUBLE_FORMAT.search(strings):
            yield f"{name}:{number}: a double in a format: use base/text.h"
        reader = READERS.search(COMMENT_OR_STRING.sub('""', line))
        scanned = name.startswith(("src/base/", "src/files/"))
        if reader and not (reader[1] == "g_ascii_strtod" and scanned):
            yield f"{name}:{number}: {reader[1]}: use lw_number_from_text"


def main(words):
    root = pathlib.Path(__file__).resolve().parent.parent
    build = pathlib.Path(words[0]).resolve()
    table = read_table((root / "src/meson.build").read_text(encoding="utf-8"))
    deps = subprocess.run(["ninja", "-C", str(build), "-t", "deps"], check=True,
                          capture_output=True, text=True).stdout
    objects = read_deps(deps, build)
    # a build folder remembers objects whose source has since gone
    objects = {name: read for name, read in objects.items() if all(map(os.path.exists, read))}
    sources = [str(path) for path in (root / "src").rglob("*.c")]
    complaints = list(check_objects(objects, sources, root, table))
    for path in sorted((root / "src").rglob("*.[ch]")):
        name = path.relative_to(root).as_posix()
        if layer_of(path, root, table) != "desktop":
            complaints += check_numbers(name, path.read_text(encoding="utf-8"))
    for complaint in complaints:
        print("layers:", complaint)
    print(f"layers: {len(table)} layers, {len(sources)} sources, {len(complaints)} complaints")
    return 1 if complaints or not table or not sources else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
