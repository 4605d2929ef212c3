# SPDX-License-Identifier: GPL-3.0-or-later
"""Counts single test cases in the logs that `meson test` leaves, and closes with

    N passed, N failed

as its last line. A skipped case is a failed one. So is a program that ended badly without a failed
case to show for it (crash, time out, wrong plan), one that ran no case, and a log that is missing.
Exit status 0 only where something passed and nothing failed.

    count.py [--status N] testlog.json…      N: what meson itself answered
"""
import argparse
import json
import re
import sys

CASE = re.compile(r"^(not )?ok\b(?:\s+\d+)?(?:\s+-)?\s*([^#]*?)\s*(?:#\s*(skip|todo)\b.*)?$", re.I)


def cases(tap):
    """Yields (name, passed) of each top-level test case in a TAP text."""
    for line in tap.splitlines():
        match = CASE.match(line)
        if match:
            yield match[2], not match[1] and not match[3]


def count_program(record):
    """(passed, names of what failed) of one record of meson's testlog.json."""
    found = list(cases(record.get("stdout", "")))
    failed = [name for name, passed in found if not passed]
    if not found:
        failed.append(f"(ran no test case: {record['result']})")
    elif record["result"] != "OK" and not failed:
        failed.append(f"(the program itself: {record['result']})")
    return sum(passed for _, passed in found), failed


def count_log(path):
    """The same over a whole log."""
    try:
        with open(path, encoding="utf-8") as file:
            records = [json.loads(line) for line in file if line.strip()]
    except (OSError, ValueError) as error:
        return 0, [f"{path}: no readable log ({error})"]
    if not records:
        return 0, [f"{path}: no test ran"]
    total, all_failed = 0, []
    for record in records:
        passed, failed = count_program(record)
        total += passed
        all_failed += [f"{record['name']}: {name}" for name in failed]
    return total, all_failed


def main(words):
    parser = argparse.ArgumentParser()
    parser.add_argument("--status", type=int, default=0)
    parser.add_argument("logs", nargs="+")
    asked = parser.parse_args(words)
    total, failed = 0, []
    for path in asked.logs:
        passed, bad = count_log(path)
        total += passed
        failed += bad
    if asked.status != 0 and not failed:
        failed.append(f"meson ended with status {asked.status}")
    if total == 0 and not failed:
        failed.append("no test ran")
    for name in failed:
        print("failed:", name)
    print(f"{total} passed, {len(failed)} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
