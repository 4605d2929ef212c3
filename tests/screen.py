# SPDX-License-Identifier: GPL-3.0-or-later
"""Drives the real window as a person would: found by what a screen reader is told, moved by pointer
and keys. Nothing waits longer than what it waits for; what does not come in WAIT seconds fails."""
import os
import signal
import subprocess
import time

import pyatspi

WAIT = float(os.environ.get("LEEWAY_TEST_WAIT", 60))


def take_picture(what):
    """For whoever looks at a failure: the screen, in the folder LEEWAY_TEST_PICTURES if it is given."""
    folder = os.environ.get("LEEWAY_TEST_PICTURES")
    if folder:
        name = "".join(c if c.isalnum() else "-" for c in what)[:60]
        subprocess.run(["import", "-window", "root", f"{folder}/{name}.png"], check=False)


def poll(what, question, wait=WAIT):
    """Asks until the answer is true and returns it."""
    end = time.monotonic() + wait
    while True:
        try:
            answer = question()
        except Exception as error:  # the tree changes while it is read
            answer, what_last = None, error
        else:
            what_last = answer
        if answer:
            return answer
        if time.monotonic() > end:
            take_picture(what)
            raise AssertionError(f"waited {wait} s for {what}; last: {what_last!r}")
        time.sleep(0.1)


def walk(node):
    yield node
    for i in range(node.childCount):
        child = node.getChildAtIndex(i)
        if child is not None:
            yield from walk(child)


class Window:
    """One run of the program on files, with its settings and journals in a room of its own."""

    def __init__(self, *files, room):
        homes = {"XDG_CONFIG_HOME": f"{room}/config", "XDG_STATE_HOME": f"{room}/state",
                 "XDG_DATA_HOME": f"{room}/data"}
        self.process = subprocess.Popen([os.environ["LEEWAY"], *map(str, files)],
                                        env=os.environ | homes)
        try:
            self.frame = poll("the window", self._find_frame)
        except BaseException:
            self.kill()
            raise

    def _find_frame(self):
        if self.process.poll() is not None:
            raise AssertionError(f"the program ended with status {self.process.returncode}")
        desktop = pyatspi.Registry.getDesktop(0)
        for i in range(desktop.childCount):
            application = desktop.getChildAtIndex(i)
            if application and application.get_process_id() == self.process.pid \
                    and application.childCount:
                return application.getChildAtIndex(0)
        return None

    def _find_offset(self, frame):
        """Where a window's content begins on the screen: places that the tree tells leave out its
        shadow."""
        found = subprocess.run(["xdotool", "search", "--onlyvisible", "--pid",
                                str(self.process.pid)], capture_output=True, text=True)
        box = frame.queryComponent().getExtents(pyatspi.WINDOW_COORDS)
        fitting = []
        for window in found.stdout.split():
            told = subprocess.run(["xdotool", "getwindowgeometry", "--shell", window],
                                  capture_output=True, text=True, check=True).stdout
            shape = {key: int(value) for key, value in (line.split("=") for line in told.split())}
            right, down = shape["WIDTH"] - box.width, shape["HEIGHT"] - box.height
            if right >= 0 and down >= 0:
                fitting.append((right + down, shape["X"] + right // 2, shape["Y"] + down // 2))
        return min(fitting)[1:] if fitting else None

    # -- finding

    def roots(self):
        """The window and its dialogs."""
        application = self.frame.getApplication()
        return [application.getChildAtIndex(i) for i in range(application.childCount)]

    def all(self, role, name=None, begins=None, holds=None):
        return [node for root in self.roots() if root for node in walk(root)
                if node.getRoleName() == role
                and (name is None or node.name == name)
                and (begins is None or node.name.startswith(begins))
                and (holds is None or holds in node.name)
                and self.is_shown(node)]

    @staticmethod
    def is_shown(node):
        box = node.queryComponent().getExtents(pyatspi.WINDOW_COORDS)
        return box.width > 0 and box.height > 0 \
            and node.getState().contains(pyatspi.STATE_VISIBLE)

    def find(self, role, **how):
        return poll(f"a {role} with {how}", lambda: next(iter(self.all(role, **how)), None))

    def gone(self, role, **how):
        poll(f"no {role} with {how}", lambda: not self.all(role, **how))

    def verdict(self):
        return "".join(node.name for node in self.all("status bar"))

    def wait_for_verdict(self, part):
        return poll(f"a verdict with {part!r}",
                    lambda: part in self.verdict() and self.verdict())

    # -- doing

    @staticmethod
    def do(*words):
        subprocess.run(["xdotool", *map(str, words)], check=True)

    def place(self, node, right=0.5, down=0.5):
        """Where a share of a node's width and height lies on the screen, once it stands still."""
        def still():
            before = node.queryComponent().getExtents(pyatspi.WINDOW_COORDS)
            time.sleep(0.1)
            now = node.queryComponent().getExtents(pyatspi.WINDOW_COORDS)
            same = (before.x, before.y, before.width, before.height) \
                == (now.x, now.y, now.width, now.height)
            return now if same and now.width > 0 else None
        box = poll(f"{node.name} to stand still", still)
        frame = node
        while frame.parent.getRole() != pyatspi.ROLE_APPLICATION:
            frame = frame.parent
        x, y = poll("the window's place", lambda: self._find_offset(frame))
        return round(x + box.x + right * box.width), round(y + box.y + down * box.height)

    def click(self, node, **where):
        x, y = self.place(node, **where)
        self.do("mousemove", x, y)
        self.do("click", 1)

    def press(self, node):
        """A button, wherever it has scrolled to: by the action that a screen reader would use."""
        node.queryAction().doAction(0)

    def drag(self, node, right, to_right):
        x, y = self.place(node, right=right)
        to_x, _ = self.place(node, right=to_right)
        self.do("mousemove", x, y)
        self.do("mousedown", 1)
        for step in range(1, 9):
            self.do("mousemove", round(x + (to_x - x) * step / 8), y)
        self.do("mouseup", 1)

    def key(self, *keys):
        self.do("key", *keys)

    def type_into(self, node, text):
        self.click(node)
        self.key("ctrl+a")
        self.do("type", text)
        self.key("Return")

    @staticmethod
    def text(node):
        text = node.queryText()
        return text.getText(0, text.characterCount)

    @staticmethod
    def value(node):
        return node.queryValue().currentValue

    # -- leaving

    def wait_for_end(self):
        return self.process.wait(timeout=WAIT)

    def kill(self):
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGKILL)
        self.process.wait()
