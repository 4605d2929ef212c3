# SPDX-License-Identifier: GPL-3.0-or-later
"""Makes the pictures of docs/ from the real window on the demo job: ./dev pictures.

Each picture is a window of its own on a virtual screen. A picture is taken once the screen has
stood still for a second.
"""
import os
import pathlib
import subprocess
import sys
import time

ROOT = pathlib.Path(__file__).resolve().parent.parent

# file name under docs/, further environment, keys to press (xdotool's names) before the picture
PICTURES = [
    ("plan.png", {}, []),
    ("plan-inch.png", {}, ["ctrl+u"]),
]


def screen():
    """The screen as PNG bytes."""
    return subprocess.run(["import", "-window", "root", "png:-"], check=True,
                          capture_output=True).stdout


def pixels(png):
    return subprocess.run(["convert", "png:-", "rgb:-"], input=png, check=True,
                          capture_output=True).stdout


def wait_for_window(program):
    for _ in range(200):
        if program.poll() is not None:
            raise SystemExit(f"pictures: the program ended with status {program.returncode}")
        if subprocess.run(["xdotool", "search", "--onlyvisible", "--pid", str(program.pid)],
                          capture_output=True).returncode == 0:
            return
        time.sleep(0.1)
    raise SystemExit("pictures: no window came up in 20 s")


def wait_until_still():
    """The screen once it has not changed for a second and is not of one color."""
    before = None
    for _ in range(60):
        png = screen()
        now = pixels(png)
        if now == before and len(set(now[:: len(now) // 5000])) > 4:
            return png
        before = now
        time.sleep(1)
    raise SystemExit("pictures: the screen does not come to rest")


def take(name, keys):
    job = sorted((ROOT / "data/demo").glob("*.leeway"))[0]
    program = subprocess.Popen([ROOT / "build/leeway", str(job)])
    try:
        wait_for_window(program)
        wait_until_still()
        for key in keys:
            subprocess.run(["xdotool", "key", key], check=True)
        (ROOT / "docs" / name).write_bytes(wait_until_still())
        print("pictures: docs/" + name)
    finally:
        program.terminate()
        program.wait()


def main(words):
    if words:
        name = words[0]
        take(name, next(keys for other, _, keys in PICTURES if other == name))
        return
    for name, settings, _ in PICTURES:
        subprocess.run([ROOT / "tests/on-a-screen", sys.executable, __file__, name], check=True,
                       env=os.environ | settings | {"LC_ALL": "C.UTF-8", "LANGUAGE": "C"})


if __name__ == "__main__":
    main(sys.argv[1:])
