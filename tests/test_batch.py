# SPDX-License-Identifier: GPL-3.0-or-later
"""leeway-batch as a script sees it: pose, solve and import, options, exit statuses."""
import json
import math
import pathlib
import tempfile

import tap

MACHINES = tap.ROOT / "data/machines"
ALDER, BIRCH, ROWAN = (MACHINES / f"{id}.leeway-machine" for id in ("alder", "birch", "rowan"))
AT = ["--at", 1000, 1000, 800, 30, 45]
FITS, DOES_NOT_FIT, USAGE, DATA, NO_INPUT = 0, 1, 64, 65, 66


class Batch(tap.Case):
    def near(self, got, want, within=1e-8):
        self.assertEqual(len(got), len(want))
        for a, b in zip(got, want):
            self.assertLessEqual(abs(a - b), within, f"{got} is not {want}")

    def json(self, *words, status=0):
        return json.loads(self.batch(*words, "--json", status=status))

    # pose

    def test_pose_worked_check(self):
        # DESIGN's check: P = 250, L = 200; the table stands at (0, 200, -180)
        answer = self.json("pose", ALDER, "--length", 200, *AT)
        self.near(answer["tip_mm"], [724.4324, 640.9010, 661.8019], 5e-5)
        self.near(answer["tip_machine_mm"], [724.4324, 840.9010, 481.8019], 5e-5)
        self.near(answer["axis"], [0.612372436, 0.353553391, 0.707106781], 1e-9)
        self.assertEqual(answer["leeway"],
                         {"mm": 200, "limit": "Z+", "deg": 65, "rotary_limit": "B+"})
        self.assertEqual(answer["table"], "main")

    def test_pose_signs(self):
        # ISO 841: C = 90, B = 30 lean the tool axis towards +Y
        answer = self.json("pose", ALDER, "--length", 0, "--at", 1000, 1000, 800, 90, 30)
        self.near(answer["axis"], [0, 0.5, 0.866025404], 1e-9)
        answer = self.json("pose", BIRCH, "--length", 0, "--at", 1000, 1000, 800, 90, 30)
        self.near(answer["axis"], [0.5, 0, 0.866025404], 1e-9)

    def test_pose_beyond(self):
        answer = self.json("pose", ALDER, "--length", 200, "--at", -20, 1000, 800, 0, 111,
                           status=DOES_NOT_FIT)
        self.assertEqual(answer["leeway"],
                         {"mm": -20, "limit": "X-", "deg": -1, "rotary_limit": "B+"})

    def test_pose_under_a_coupled_limit(self):
        answer = self.json("pose", ALDER, "--length", 200, "--at", 1000, 1000, 990, 0, -70,
                           status=DOES_NOT_FIT)
        self.assertEqual(answer["leeway"]["limit"], "Z+")
        self.assertEqual(answer["leeway"]["rotary_limit"], "B- (hose loop at the top)")
        self.assertEqual(answer["leeway"]["deg"], -10)

    def test_pose_at_display(self):
        # Rowan's travels are the gauge face's: straight down, the tip is L below what is shown
        shown = [1500, 900, 400]
        answer = self.json("pose", ROWAN, "--length", 120, "--table", "right", "--at-display", *shown,
                           0, 0)
        self.near(answer["tip_machine_mm"], [1500, 900, 280])
        self.near(answer["tip_mm"], [1500 - 2690.8, 900 - 380, 280 + 160])
        self.near(answer["at_display"], shown + [0, 0])
        self.assertEqual(answer["leeway"]["mm"], 400)
        again = self.json("pose", ROWAN, "--length", 120, "--table", "right", "--at", *answer["at"])
        self.assertEqual(again, answer)

    def test_pose_in_inches(self):
        metric = self.json("pose", ALDER, "--length", 254, "--at", 1016, 1016, 762, 30, 45)
        inch = self.json("pose", ALDER, "--unit", "inch", "--length", 10, "--at", 40, 40, 30, 30, 45)
        self.assertEqual(inch, metric)
        words = self.batch("pose", ALDER, "--unit", "inch", "--length", 10, "--at", 40, 40, 30, 30, 45)
        self.assertIn(" in", words)
        self.assertNotIn("mm", words)

    def test_pose_in_words(self):
        words = self.batch("pose", ALDER, "--length", 200, *AT)
        self.assertIn("724", words)
        self.assertIn("Z+", words)
        self.assertIn("mm", words)

    def test_notes_are_said(self):
        self.assertIn("gauge face", self.batch("pose", ROWAN, "--length", 120, *AT))

    # solve

    def test_solve_worked_check(self):
        tip = self.json("pose", ALDER, "--length", 200, *AT)["tip_mm"]
        axis = [math.cos(math.radians(30)) * math.sqrt(0.5), 0.5 * math.sqrt(0.5), math.sqrt(0.5)]
        answer = self.json("solve", ALDER, "--length", 200, "--tip", *tip, "--axis", *axis)
        self.assertEqual(len(answer["solutions"]), 3)
        for solution, (c, t) in zip(answer["solutions"], [(30, 45), (-150, -45), (210, -45)]):
            self.near(solution["at"], [1000, 1000, 800, c, t], 1e-6)
            self.assertEqual(solution["limit"], "Z+")
            self.assertFalse(solution["c_free"])
        self.assertFalse(answer["c_free"])

    def test_every_solution_poses_back(self):
        for machine in (ALDER, BIRCH, ROWAN):
            tip, axis = [500, 400, 150], [-0.3, 0.5, 0.6]
            answer = self.json("solve", machine, "--length", 150, "--tip", *tip, "--axis", *axis)
            self.assertGreaterEqual(len(answer["solutions"]), 2)
            size = math.hypot(*axis)
            for solution in answer["solutions"]:
                pose = self.json("pose", machine, "--length", 150, "--at", *solution["at"])
                self.near(pose["tip_mm"], tip, 1e-6)
                self.near(pose["axis"], [a / size for a in axis], 1e-8)
                self.assertEqual(pose["leeway"]["limit"], solution["limit"])
                self.near([pose["leeway"]["mm"]], [solution["leeway_mm"]], 1e-6)

    def test_solve_straight_down(self):
        answer = self.json("solve", ALDER, "--length", 200, "--tip", 500, 500, 100, "--axis", 0, 0, 1)
        self.assertTrue(answer["c_free"])
        self.assertEqual([s["at"][3:] for s in answer["solutions"]], [[0, 0]])

    def test_solve_beyond_travel(self):
        answer = self.json("solve", ALDER, "--length", 200, "--tip", -20, 500, 100, "--axis", 0, 0, 1,
                           status=DOES_NOT_FIT)
        self.assertEqual(answer["solutions"][0]["leeway_mm"], -20)
        self.assertEqual(answer["solutions"][0]["limit"], "X-")

    def test_solve_out_of_reach(self):
        answer = self.json("solve", ROWAN, "--length", 200, "--tip", 500, 500, 100, "--axis", 1, 0,
                           -0.5, status=DOES_NOT_FIT)
        self.assertEqual(answer["solutions"], [])
        self.assertIn("90 degrees", answer["reason"])
        answer = self.json("solve", ALDER, "--length", 200, "--tip", 500, 500, 100, "--axis", 1, 0,
                           -2, status=DOES_NOT_FIT)
        self.assertIn("rotary limits", answer["reason"])

    # options and statuses

    def test_usage(self):
        length, at = ["--length", 200], AT
        for words, says in [
                ([], "Usage"),
                (["nonsense"], "nonsense"),
                (["pose"], "pose"),
                (["pose", ALDER], "--length"),
                (["pose", ALDER, *length], "--at"),
                (["pose", *length, *at], "file name"),
                (["pose", ALDER, BIRCH, *length, *at], "file name"),
                (["pose", ALDER, *length, "--at", 1, 2, 3, 4], "--at takes 5 values"),
                (["pose", ALDER, *length, *at, "--at-display", 1, 2, 3, 4, 5], "one of them"),
                (["pose", ALDER, *length, *length, *at], "twice"),
                (["pose", ALDER, *length, *at, "--speed", 3], "--speed"),
                (["pose", ALDER, "--length", "1,5", *at], "not a number"),
                (["pose", ALDER, "--length", "0x10", *at], "not a number"),
                (["pose", ALDER, "--length", "nan", *at], "not a number"),
                (["pose", ALDER, "--length", -1, *at], "between"),
                (["pose", ALDER, *length, *at, "--table", "left"], "no table"),
                (["pose", ALDER, *length, *at, "--unit", "ell"], "mm or inch"),
                (["pose", ALDER, *length, *at, "--threads", 0], "--threads"),
                (["pose", ALDER, *length, *at, "--threads", 1.5], "whole"),
                (["solve", ALDER, *length, "--tip", 1, 2, 3], "--axis"),
                (["solve", ALDER, *length, "--tip", 1, 2, 3, "--axis", 0, 0, 0], "direction")]:
            self.assertIn(says, self.batch(*words, status=USAGE), words)

    def test_options_in_any_order(self):
        self.assertEqual(self.json("pose", *AT, "--threads", 2, ALDER, "--length", 200),
                         self.json("pose", ALDER, "--length", 200, *AT))

    def test_bad_machine(self):
        tree = json.loads(ALDER.read_text())
        tree["axes"]["B"]["high_deg"] = "ninety"
        with tempfile.TemporaryDirectory() as room:
            path = pathlib.Path(room, "bad.leeway-machine")
            path.write_text(json.dumps(tree))
            said = self.batch("pose", path, "--length", 200, *AT, status=DATA)
            path.write_text("{")
            broken = self.batch("solve", path, "--length", 1, "--tip", 1, 1, 1, "--axis", 0, 0, 1,
                                status=DATA)
        self.assertRegex(said, r"^leeway-batch: .*bad\.leeway-machine: axes\.B\.high_deg: ")
        self.assertIn("ninety", said)
        self.assertIn("bad.leeway-machine", broken)

    def test_missing_machine(self):
        said = self.batch("pose", "no-such.leeway-machine", "--length", 200, *AT, status=NO_INPUT)
        self.assertIn("no-such.leeway-machine", said)

    # import

    def write(self, folder, name, text):
        path = pathlib.Path(folder, name)
        path.write_bytes(text.encode() if isinstance(text, str) else text)
        return path

    def test_import_mesh(self):
        # a tetrahedron of edge 2 on the axes: area 3 · 2 + √3 · 2, volume 8 / 6
        corners = [(0, 0, 0), (2, 0, 0), (0, 2, 0), (0, 0, 2)]
        facets = [(0, 2, 1), (0, 1, 3), (0, 3, 2), (1, 2, 3)]
        text = "solid t\n" + "".join(
            "facet normal 0 0 0\nouter loop\n"
            + "".join("vertex {} {} {}\n".format(*corners[i]) for i in facet)
            + "endloop\nendfacet\n" for facet in facets) + "endsolid t\n"
        with tempfile.TemporaryDirectory() as room:
            path = self.write(room, "t.stl", text)
            bare = self.json("import", path)
            told = self.json("import", path, "--units", "in")
            words = self.batch("import", path, "--units", "in", "--unit", "inch")
            self.batch("import", path, "--units", "parsec", status=USAGE)
        self.assertEqual((bare["triangles"], bare["points"]), (4, 4))
        self.assertIsNone(bare["units"])
        self.assertIsNone(bare["box_mm"])
        self.assertIsNone(bare["volume_mm3"])
        self.assertEqual(bare["box_file_units"], {"min": [0, 0, 0], "max": [2, 2, 2]})
        self.assertTrue(any("--units" in w for w in bare["warnings"]), bare["warnings"])
        self.assertEqual(told["units"], "in")
        self.assertEqual(told["warnings"], [])
        self.assertNotIn("box_file_units", told)
        self.near(told["box_mm"]["max"], [50.8] * 3)
        self.near([told["volume_mm3"]], [8 / 6 * 25.4**3], 1e-6)
        self.near([told["area_mm2"]], [(6 + 2 * math.sqrt(3)) * 25.4**2], 1e-3)
        self.assertIn("X 0.000 to 2.000: 2.000 in", words)

    def test_import_program(self):
        text = ("PARTNO RIB\nUNITS/INCHES\nLOADTL/3,LENGTH,6\nGOTO/0,0,1\nRAPID\nGOTO/1,2,1\n"
                "CIRCLE/2,2,1,0,0,1,1\nGOTO/3,2,1\nINSERT G0 Z9\nFINI\n")
        with tempfile.TemporaryDirectory() as room:
            path = self.write(room, "rib.apt", text)
            answer = self.json("import", path)
            words = self.batch("import", path)
            contrary = self.batch("import", path, "--units", "mm", status=DATA)
            bare = self.write(room, "bare.apt", "GOTO/1,2,3\nFINI\n")
            unsaid = self.batch("import", bare, status=DATA)
            said = self.json("import", bare, "--units", "in")
        self.assertEqual((answer["title"], answer["records"], answer["units"]), ("RIB", 3, "in"))
        self.assertGreater(answer["points"], 10)
        self.assertEqual(answer["tools"], [{"number": 3, "length_mm": 152.4, "diameter_mm": None,
                                            "corner_radius_mm": None, "line": 3}])
        self.assertEqual(answer["box_mm"]["min"][0], 0)
        # the arc goes right-handed about +Z from (1, 2) to (3, 2): under its center
        self.near(answer["box_mm"]["max"], [76.2, 50.8, 25.4])
        self.assertIs(answer["followed"], False)
        self.assertTrue(any("Line 9: INSERT" in w for w in answer["warnings"]), answer["warnings"])
        self.assertIn("tool 3, length 152.4 mm", words)
        self.assertRegex(contrary, r"rib\.apt:2: UNITS/INCHES")
        self.assertRegex(unsaid, r"bare\.apt:1: .*must be told")
        self.near(said["box_mm"]["min"], [25.4, 50.8, 76.2])

    def test_import_refuses(self):
        with tempfile.TemporaryDirectory() as room:
            other = self.write(room, "notes.txt", "a shopping list\n")
            empty = self.write(room, "empty.stl", "")
            broken = self.write(room, "broken.apt", "UNITS/MM\nGOTO/1,2\n")
            said = self.batch("import", other, status=DATA)
            self.batch("import", empty, status=DATA)
            where = self.batch("import", broken, status=DATA)
            self.batch("import", pathlib.Path(room, "none.stl"), status=NO_INPUT)
            self.batch("import", status=USAGE)
        self.assertIn("notes.txt", said)
        self.assertIn("STL", said)
        self.assertIn("CL data", said)
        self.assertRegex(where, r"broken\.apt:2: GOTO")

    def test_import_sample(self):
        path = tap.SHARED / "samples/cldata/own_iso4343_words.apt"
        if not path.exists():
            return  # what it must prove is proven by a file of our own in test-cldata.c
        answer = self.json("import", path)
        self.assertEqual(answer["records"], 13)
        self.assertEqual([tool["number"] for tool in answer["tools"]], [3, 4])

    def test_help_and_version(self):
        self.assertIn("solve MACHINE", self.batch("--help"))
        self.assertRegex(self.batch("--version"), r"^leeway-batch \d")


tap.main()
