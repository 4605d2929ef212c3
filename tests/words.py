# SPDX-License-Identifier: GPL-3.0-or-later
"""Holds the translations against the sources.

    words.py [ROOT]            checks
    words.py --update [ROOT]   writes POTFILES anew and brings new strings, empty, into the catalogs

  - every source with a string for people (_() and its kin, or translatable="yes" in a .ui) is
    listed in po/POTFILES, and nothing else is;
  - every language of po/LINGUAS has each of these strings, none fuzzy, none left out, and no
    string that the sources have dropped;
  - formats fit each other (msgfmt --check).
"""
import pathlib
import re
import subprocess
import sys
import tempfile

MARK = re.compile(r'\b(_|N_|C_|NC_|Q_|ngettext|g_dngettext|g_dpgettext2)\s*\(\s*"|translatable="yes"'
                  r"|translatable='yes'")
ENTRY_LINE = re.compile(r"^(Name|GenericName|Comment|Keywords)=", re.M)


def strip_comments(text):
    return re.sub(r"/\*.*?\*/|//[^\n]*", "", text, flags=re.S)


def has_words(path):
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".ui":
        return bool(MARK.search(re.sub(r"<!--.*?-->", "", text, flags=re.S)))
    if path.name.endswith(".desktop.in"):
        return bool(ENTRY_LINE.search(text))
    return bool(MARK.search(strip_comments(text)))


def listed_in(path):
    lines = path.read_text(encoding="utf-8").splitlines()
    return [line.strip() for line in lines if line.strip() and not line.startswith("#")]


def find_files(root):
    """The files with strings for people, as POTFILES names them."""
    return {
        path.relative_to(root).as_posix()
        for folder in ["src", "ui", "data"] if (root / folder).is_dir()
        for path in (root / folder).rglob("*")
        if path.is_file() and path.name.endswith((".c", ".h", ".ui", ".desktop.in"))
        and has_words(path)
    }


def check_list(root):
    """Yields what POTFILES has too few or too many."""
    found = find_files(root)
    listed = listed_in(root / "po/POTFILES")
    for name in sorted(found - set(listed)):
        yield f"po/POTFILES lacks {name}"
    for name in sorted(set(listed) - found):
        yield f"po/POTFILES lists {name}, which has no string for people"
    if listed != sorted(set(listed)):
        yield "po/POTFILES is not sorted, or lists a file twice"


def run(*words, **more):
    return subprocess.run(words, capture_output=True, text=True, env={"LC_ALL": "C.UTF-8",
                          "PATH": "/usr/local/bin:/usr/bin:/bin"}, **more)


def extract(root, target):
    """Writes the template of all strings."""
    done = run("xgettext", "--from-code=UTF-8", "--add-comments=Translators", "--keyword=_",
               "--keyword=N_", "--keyword=C_:1c,2", "--keyword=NC_:1c,2", "--keyword=Q_:1g",
               "--keyword=g_dngettext:2,3", "--keyword=g_dpgettext2:2c,3",
               "--flag=g_strdup_printf:1:c-format", "--flag=g_string_append_printf:2:c-format",
               "--flag=g_set_error:4:c-format", "--files-from=po/POTFILES", "-o", str(target),
               cwd=root)
    if done.returncode != 0:
        raise SystemExit(f"words: {done.stderr}")


def check_language(root, language, template, room):
    """Yields what one translation lacks."""
    catalog = root / "po" / f"{language}.po"
    if not catalog.exists():
        yield f"{catalog.name} does not exist"
        return
    merged = room / catalog.name
    done = run("msgmerge", "--quiet", "--no-fuzzy-matching", "-o", str(merged), str(catalog),
               str(template))
    if done.returncode != 0:
        yield f"{catalog.name}: {done.stderr.strip()}"
        return
    done = run("msgfmt", "--check", "--statistics", "-o", "/dev/null", str(merged))
    if done.returncode != 0:
        yield f"{catalog.name}: {done.stderr.strip()}"
    for kind in ["--untranslated", "--only-fuzzy", "--only-obsolete"]:
        texts = run("msgattrib", kind, "--no-wrap", str(merged)).stdout
        for text in re.findall(r'^(?:#~ )?msgid (".+")$', texts, re.M):
            if text != '""':
                yield f"{catalog.name}: {kind[2:]}: {text}"


def update(root):
    """Brings POTFILES and the catalogs up to the sources; translating is left to people."""
    potfiles = root / "po/POTFILES"
    notes = [line for line in potfiles.read_text(encoding="utf-8").splitlines()
             if line.startswith("#")]
    potfiles.write_text("\n".join(notes + sorted(find_files(root))) + "\n", encoding="utf-8")
    with tempfile.TemporaryDirectory() as folder:
        template = pathlib.Path(folder, "leeway.pot")
        extract(root, template)
        for language in listed_in(root / "po/LINGUAS"):
            catalog = root / "po" / f"{language}.po"
            run("msgmerge", "--quiet", "--no-fuzzy-matching", "--no-location", "--update",
                "--backup=none", str(catalog), str(template), check=True)
            run("msgattrib", "--no-obsolete", "--no-location", "-o", str(catalog), str(catalog),
                check=True)


def main(words):
    updating = words[:1] == ["--update"]
    words = words[1:] if updating else words
    root = pathlib.Path(words[0] if words else pathlib.Path(__file__).parent.parent).resolve()
    if updating:
        update(root)
    complaints = list(check_list(root))
    with tempfile.TemporaryDirectory() as folder:
        room = pathlib.Path(folder)
        template = room / "leeway.pot"
        if listed_in(root / "po/POTFILES"):
            extract(root, template)
            for language in listed_in(root / "po/LINGUAS"):
                complaints += check_language(root, language, template, room)
    for complaint in complaints:
        print("words:", complaint)
    print(f"words: {len(complaints)} complaints")
    return 1 if complaints else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
