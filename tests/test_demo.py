# SPDX-License-Identifier: GPL-3.0-or-later
"""The demo job: its part is what its maker makes, and its verdict is what a planner can work out by
hand."""
import json
import os
import shutil
import subprocess
import tempfile

import tap

DEMO = tap.ROOT / "data/demo/trough-mold.leeway"


class Demo(tap.Case):
    def check(self, path=DEMO, status=1):
        return json.loads(self.batch("check", path, "--json", status=status))

    def operation(self, answer, name):
        return next(o for o in answer["operations"] if o["name"] == name)

    def test_part_is_what_its_maker_makes(self):
        made = subprocess.run([os.environ["LEEWAY_DEMO_MOLD"]], capture_output=True, check=True)
        self.assertEqual(made.stdout, DEMO.with_name("trough-mold.stl").read_bytes())

    def test_machine_is_the_shipped_one(self):
        shipped = json.loads((tap.ROOT / "data/machines/alder.leeway-machine").read_text())
        self.assertEqual(json.loads(DEMO.read_text())["machine"], shipped)

    def test_one_operation_does_not_fit_and_says_why(self):
        answer = self.check()
        self.assertEqual(answer["verdict"], "does-not-fit")
        self.assertEqual(len(answer["operations"]), 7)
        failing = [o for o in answer["operations"] if o["verdict"] == "does-not-fit"]
        self.assertEqual([o["name"] for o in failing], ["Trim far end"])
        trim = failing[0]
        # The far end stands at X 550 + 2600; the tool lies along X with P + L = 250 + 214 and retreats
        # by 20: the pivot would go to 3634, travel ends at 3600.
        self.assertAlmostEqual(trim["leeway_mm"], 3600 - (550 + 2600 + 250 + 214 + 20), delta=1e-6)
        self.assertEqual(trim["limit"], "X+")
        self.assertEqual(trim["reachable_share"], 0)
        self.assertEqual(trim["travel_at"]["at"][3:], [0, 90])
        self.assertIn("X+", trim["reason"])

    def test_nothing_fits_while_gaps_are_not_computed(self):
        for operation in self.check()["operations"]:
            self.assertIn(operation["verdict"], ("does-not-fit", "not-checked"))
            self.assertIsNone(operation["gap_mm"])

    def test_following_a_mend_mends(self):
        """Each mend that is offered as enough, followed in the file, turns the verdict."""
        trim = self.operation(self.check(), "Trim far end")
        enough = [m for m in trim["mends"] if m["enough"]]
        self.assertTrue(any(m["kind"] == "move" for m in enough), trim["mends"])
        for mend in enough:
            with tempfile.TemporaryDirectory() as folder:
                shutil.copy(DEMO.with_name("trough-mold.stl"), folder)
                job = json.loads(DEMO.read_text())
                place = job
                *way, last = mend["set"].replace("[", ".").replace("]", "").split(".")
                for key in way:
                    place = place[int(key) if key.isdigit() else key]
                place[int(last) if last.isdigit() else last] = mend["to"]
                path = os.path.join(folder, "mended.leeway")
                with open(path, "w", encoding="utf-8") as file:
                    json.dump(job, file)
                again = self.operation(self.check(path, status=2), "Trim far end")
                self.assertEqual(again["reachable_share"], 1)
                # The reserve of 10 and the placement's 2 are kept.
                self.assertGreaterEqual(again["leeway_mm"], 12 - 1e-9)

    def test_same_answer_for_one_thread_and_two(self):
        answers = {self.batch("check", DEMO, "--json", "--threads", n, status=1) for n in (1, 2, 3)}
        self.assertEqual(len(answers), 1)


tap.main()
