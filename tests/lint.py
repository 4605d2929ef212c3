# SPDX-License-Identifier: GPL-3.0-or-later
"""Runs clang-tidy (.clang-tidy says with which checks) over every C file that a build compiled.

    lint.py BUILDFOLDER

A file that was clean is looked at again only once it, something that it includes, or .clang-tidy
has changed; the stamps are kept in BUILDFOLDER/lint.
"""
import concurrent.futures
import hashlib
import json
import os
import pathlib
import subprocess
import sys

import layers

ROOT = pathlib.Path(__file__).resolve().parent.parent


def stamp_of(read, settings):
    """One hash over the settings, and over name, size and time of each file read."""
    digest = hashlib.sha256(settings)
    for path in sorted(read):
        about = os.stat(path)
        digest.update(f"{path} {about.st_size} {about.st_mtime_ns}\n".encode())
    return digest.hexdigest()


def tidy(build, source):
    """(is clean, what clang-tidy said) about one source."""
    done = subprocess.run(["clang-tidy", "-p", str(build), "--quiet", source],
                          capture_output=True, text=True)
    said = done.stdout if done.returncode == 0 else done.stdout + done.stderr
    return done.returncode == 0, said


def main(words):
    build = pathlib.Path(words[0]).resolve()
    stamps = build / "lint"
    stamps.mkdir(exist_ok=True)
    deps = subprocess.run(["ninja", "-C", str(build), "-t", "deps"], check=True,
                          capture_output=True, text=True).stdout
    objects = layers.read_deps(deps, build)
    settings = (ROOT / ".clang-tidy").read_bytes()
    commands = json.loads((build / "compile_commands.json").read_text())

    waiting = {}
    looked_at = 0
    for command in commands:
        source = str((build / command["file"]).resolve())
        read = objects.get(command["output"])
        if not source.endswith(".c") or not source.startswith((f"{ROOT}/src/", f"{ROOT}/tests/",
                                                               f"{ROOT}/data/")):
            continue
        looked_at += 1
        if read is None:
            print(f"lint: {source} was not built, so it was not looked at")
            return 1
        stamp = stamp_of(read, settings + command["command"].encode())
        place = stamps / command["output"].replace("/", "_")
        if not place.exists() or place.read_text() != stamp:
            waiting[source] = (place, stamp)

    faulty = 0
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        for source, (clean, said) in zip(waiting, pool.map(lambda s: tidy(build, s), waiting)):
            if clean:
                place, stamp = waiting[source]
                place.write_text(stamp)
            else:
                faulty += 1
                print(said.strip())
    print(f"lint: {looked_at} sources, {len(waiting)} looked at anew, {faulty} with complaints")
    return 1 if faulty or not looked_at else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
