# SPDX-License-Identifier: GPL-3.0-or-later
"""Runs the test cases of a Python program and prints TAP.

    import tap

    class Gap(tap.Case):
        def test_something(self): ...

    tap.main()

Case is unittest's TestCase with the paths of the checkout and of the programs. A skip is a failure.
"""
import locale
import os
import pathlib
import subprocess
import sys
import unittest

ROOT = pathlib.Path(__file__).resolve().parent.parent
SHARED = pathlib.Path(os.environ.get("LEEWAY_SHARED", ROOT.parent / "shared"))


class Case(unittest.TestCase):
    maxDiff = None

    def batch(self, *words, status=0):
        """Runs leeway-batch; answers its standard output, or its error text where status is 64 or
        more, after checking the exit status."""
        done = subprocess.run([os.environ["LEEWAY_BATCH"], *map(str, words)],
                              stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=120)
        self.assertEqual(done.returncode, status, f"{words}: {done.stdout}{done.stderr}")
        return done.stderr if status >= 64 else done.stdout


class _Result(unittest.TestResult):
    def __init__(self):
        super().__init__()
        self.number = 0
        self.all_passed = True

    def _say(self, test, passed, why=""):
        self.number += 1
        self.all_passed &= passed
        print(f"{'ok' if passed else 'not ok'} {self.number} {test.id()}")
        for line in why.splitlines():
            print("#", line)
        sys.stdout.flush()

    def addSuccess(self, test):
        self._say(test, True)

    def addFailure(self, test, err):
        self._say(test, False, self._exc_info_to_string(err, test))

    addError = addFailure

    def addSkip(self, test, reason):
        self._say(test, False, "skipped: " + reason)

    def addExpectedFailure(self, test, err):
        self._say(test, False, "a test must not be expected to fail")

    def addUnexpectedSuccess(self, test):
        self._say(test, False, "a test must not be expected to fail")

    def addSubTest(self, test, subtest, err):
        super().addSubTest(test, subtest, err)
        if err is not None:
            self._say(subtest, False, self._exc_info_to_string(err, subtest))


def main(module="__main__"):
    locale.setlocale(locale.LC_ALL, "")
    wanted = os.environ.get("LEEWAY_TEST_DECIMAL")
    if wanted and locale.localeconv()["decimal_point"] != wanted:
        sys.exit(f"Bail out! this run needs a locale with decimal {wanted!r}")
    result = _Result()
    unittest.defaultTestLoader.loadTestsFromName(module).run(result)
    print(f"1..{result.number}")
    sys.exit(0 if result.all_passed and result.number else 1)
