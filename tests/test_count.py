# SPDX-License-Identifier: GPL-3.0-or-later
"""The closing line of ./dev test must not be able to hide a failure."""
import contextlib
import io
import json
import pathlib
import tempfile

import count
import tap


def record(stdout, result="OK", name="leeway / x"):
    return {"name": name, "stdout": stdout, "result": result}


class Count(tap.Case):
    def close(self, *logs, status=0):
        """Exit status and last line for logs given as lists of records (None: no such file)."""
        with tempfile.TemporaryDirectory() as room:
            paths = []
            for number, records in enumerate(logs):
                path = pathlib.Path(room, f"{number}.json")
                paths.append(str(path))
                if records is not None:
                    path.write_text("".join(json.dumps(r) + "\n" for r in records))
            out = io.StringIO()
            with contextlib.redirect_stdout(out):
                answer = count.main(["--status", str(status), *paths])
        return answer, out.getvalue().splitlines()[-1]

    def test_cases_of_all_programs_and_logs_add_up(self):
        text = "TAP version 13\n# random seed: R02S\n1..2\n# Start of a tests\nok 1 /a/b\nok 2 /a/c\n"
        self.assertEqual(self.close([record(text), record(text)], [record(text)]),
                         (0, "6 passed, 0 failed"))

    def test_a_failed_case(self):
        self.assertEqual(self.close([record("ok 1 /a\nnot ok 2 /b - why\n1..2\n", "FAIL")], status=1),
                         (1, "1 passed, 1 failed"))

    def test_a_skip_is_a_failure(self):
        self.assertEqual(self.close([record("ok 1 /a\nok 2 /b # SKIP no display\n1..2\n")]),
                         (1, "1 passed, 1 failed"))
        self.assertEqual(self.close([record("1..1\nnot ok 1 /b # TODO later\n")]),
                         (1, "0 passed, 1 failed"))

    def test_a_crash_after_a_passed_case(self):
        self.assertEqual(self.close([record("ok 1 /a\n", "ERROR")], status=1),
                         (1, "1 passed, 1 failed"))

    def test_a_time_out_before_the_first_case(self):
        self.assertEqual(self.close([record("", "TIMEOUT"), record("ok 1 /a\n1..1\n")], status=1),
                         (1, "1 passed, 1 failed"))

    def test_a_program_without_cases(self):
        self.assertEqual(self.close([record("1..0\n")])[0], 1)
        self.assertEqual(self.close([{"name": "x", "result": "SKIP"}])[0], 1)

    def test_no_log_and_empty_log(self):
        good = [record("ok 1 /a\n1..1\n")]
        self.assertEqual(self.close(good, None), (1, "1 passed, 1 failed"))
        self.assertEqual(self.close(good, []), (1, "1 passed, 1 failed"))

    def test_meson_failed_though_every_case_passed(self):
        self.assertEqual(self.close([record("ok 1 /a\n1..1\n")], status=1),
                         (1, "1 passed, 1 failed"))

    def test_what_looks_like_a_case_but_is_none(self):
        self.assertEqual(list(count.cases("# ok 3\n  ok 4 nested\nokay\nnotok\n")), [])


tap.main()
