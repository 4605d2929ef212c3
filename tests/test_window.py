# SPDX-License-Identifier: GPL-3.0-or-later
"""The window, end to end, through the accessibility tree. Numbers of the demo job: see test_demo.py
(the far end's trim is 34 mm short of X+ with a tool 214 mm long, and fits with one 46 mm shorter:
34 beyond, 10 of reserve, 2 of the placement's tolerance)."""
import json
import pathlib
import shutil
import tempfile

import screen
import tap

DEMO = tap.ROOT / "data/demo"
ALL_HOLD = "Travel and rotary limits hold for every operation. Gaps are not checked."
SHORT = "Trim far end: 34.0 mm short of X+ travel."


class Window(tap.Case):
    def setUp(self):
        self.room = pathlib.Path(tempfile.mkdtemp())
        self.addCleanup(shutil.rmtree, self.room)
        for name in ["trough-mold.leeway", "trough-mold.stl"]:
            shutil.copy(DEMO / name, self.room)
        self.job = self.room / "trough-mold.leeway"

    def start(self, *files):
        window = screen.Window(*files, room=self.room)
        self.addCleanup(window.kill)
        return window

    def saved(self):
        return json.loads(self.job.read_text())

    def saved_tool(self, number):
        return next(tool for tool in self.saved()["tools"] if tool["number"] == number)

    def edit_row(self, window, begins):
        window.click(window.find("list item", begins=begins), right=0.3)
        window.key("F2")

    def close(self, window):
        window.key("ctrl+w")
        self.assertEqual(window.wait_for_end(), 0)

    # ------------------------------------------------------------------------------------------

    def test_opens_turns_edits_saves_and_opens_again(self):
        window = self.start(self.job)
        window.wait_for_verdict(SHORT)
        self.assertEqual(window.frame.name, "Trough mold – Leeway")

        # the failing operation is chosen, and the head stands at its tightest place
        tilt = window.find("slider", name="Tilt")
        screen.poll("the tightest place's tilt", lambda: abs(window.value(tilt) - 90) < 0.05)
        self.assertTrue(window.all("list item", begins="Trim far end: Does not fit"))

        # the tilt by pointer: value, description, entry and the words on the head follow
        window.drag(tilt, 0.87, 0.60)
        screen.poll("the tilt to follow", lambda: 5 < window.value(tilt) < 60)
        said = f"{window.value(tilt):.1f}"
        screen.poll("its words", lambda: tilt.description == f"{said} degrees")
        entry = window.find("text", name="Tilt in degrees")
        screen.poll("its entry", lambda: window.text(entry) == f"{said}°")
        head = window.find("image", name="Head")
        screen.poll("the head inside of travel", lambda: "short by" not in head.description)
        self.assertEqual(window.verdict(), SHORT)  # looking around changes no verdict

        # a tool 54 mm shorter
        self.edit_row(window, "T7")
        length = window.find("text", name="Tip length, mm")
        self.assertEqual(window.text(length), "214")
        window.type_into(length, "160")
        window.wait_for_verdict(ALL_HOLD)
        window.find("list item", begins="Trim far end: Not checked")
        window.find("list item", begins="T7, Router 10 · 160.0 mm")
        self.assertEqual(self.saved_tool(7)["tip_length_mm"], 214)
        self.assertTrue(window.all("label", name="not saved"))

        # undo and redo judge again, from memory
        window.key("ctrl+z")
        window.wait_for_verdict(SHORT)
        window.key("ctrl+y")
        window.wait_for_verdict(ALL_HOLD)

        window.key("ctrl+s")
        window.find("label", name="saved")
        tool = self.saved_tool(7)
        self.assertEqual(tool["tip_length_mm"], 160)
        self.assertEqual(tool["stick_out_mm"], 54)
        self.assertEqual([s["to_mm"] for s in tool["segments"]], [42, 106, 120, 160])
        self.close(window)

        window = self.start(self.job)
        window.wait_for_verdict(ALL_HOLD)
        window.find("list item", begins="T7, Router 10 · 160.0 mm")
        self.close(window)

    def test_refused_values_stay_in_sight_and_out_of_the_job(self):
        window = self.start(self.job)
        window.wait_for_verdict(SHORT)
        self.edit_row(window, "T7")
        length = window.find("text", name="Tip length, mm")
        for wrong, why in [("abc", "“abc” is not a number"),
                           ("160,5", "write 12.5 with a point"),
                           ("20", "can't be given the tip length 20.0 mm")]:
            window.type_into(length, wrong)
            window.find("label", holds=why)
            self.assertEqual(window.text(length), wrong)
            self.assertEqual(window.verdict(), SHORT)
        window.key("Escape")
        screen.poll("the old value", lambda: window.text(length) == "214")
        self.assertFalse(window.all("label", name="not saved"))
        self.close(window)

    def test_inches_are_shown_and_millimeters_kept(self):
        window = self.start(self.job)
        window.wait_for_verdict(SHORT)
        window.key("ctrl+u")
        window.wait_for_verdict("1.339 in short of X+")
        self.edit_row(window, "mold-1")
        at = window.find("text", name="Origin at X, in")
        window.type_into(at, "20")
        window.key("ctrl+s")
        window.find("label", name="saved")
        self.assertEqual(self.saved()["setups"][0]["placed"][0]["at_mm"], [508, 350, 120])
        # a length typed with its unit counts in that unit
        window.type_into(at, "504 mm")
        window.wait_for_verdict(ALL_HOLD)
        window.key("ctrl+s")
        screen.poll("the file", lambda: self.saved()["setups"][0]["placed"][0]["at_mm"]
                    == [504, 350, 120])
        window.key("ctrl+u")
        self.close(window)

    def test_a_mend_does_what_it_says(self):
        window = self.start(self.job)
        window.wait_for_verdict(SHORT)
        window.press(window.find("push button", name="→ move the part 46.0 mm towards X−"))
        window.wait_for_verdict(ALL_HOLD)
        window.find("list item", begins="mold-1, at 504.0, 350.0, 120.0 mm")
        window.find("push button", name="Undo: Move the part 46.0 mm towards X−")
        window.key("ctrl+z")
        window.wait_for_verdict(SHORT)
        self.close(window)

    def test_new_job_asks_for_the_units(self):
        window = self.start(self.room / "trough-mold.stl")
        millimeters = window.find("check box", begins="mm:  2600.0 × 1100.0 × 460.0 mm")
        window.find("check box", begins="in:  66040.0 × 27940.0 × 11684.0 mm")
        create = window.find("push button", name="Create job")
        self.assertFalse(create.getState().contains(screen.pyatspi.STATE_SENSITIVE))
        window.click(millimeters, right=0.1)
        screen.poll("the button", lambda: create.getState().contains(
            screen.pyatspi.STATE_SENSITIVE))
        window.press(create)
        window.wait_for_verdict("There is no operation to check yet.")
        window.find("list item", begins="Part, trough-mold · 2600.0 × 1100.0 × 460.0 mm")
        window.key("ctrl+shift+t")
        window.find("list item", begins="T1, Ball 10")
        window.key("ctrl+shift+o")
        window.find("list item", begins="Operation 1: ")
        screen.poll("a verdict on it", lambda: window.verdict()
                    and "no operation" not in window.verdict())

        # an unsaved job is not closed without a question
        window.key("ctrl+w")
        window.press(window.find("push button", name="Cancel"))
        window.gone("push button", name="Discard")
        self.assertIsNone(window.process.poll())
        window.key("ctrl+w")
        window.press(window.find("push button", name="Discard"))
        self.assertEqual(window.wait_for_end(), 0)

    def test_a_file_changed_by_another_program_is_not_overwritten_unasked(self):
        window = self.start(self.job)
        window.wait_for_verdict(SHORT)
        self.edit_row(window, "T7")
        window.type_into(window.find("text", name="Tip length, mm"), "160")
        window.wait_for_verdict(ALL_HOLD)
        other = self.saved()
        other["title"] = "By another"
        self.job.write_text(json.dumps(other))
        window.key("ctrl+s")
        window.find("push button", name="Overwrite")
        self.assertEqual(self.saved()["title"], "By another")
        window.press(window.find("push button", name="Overwrite"))
        screen.poll("the file", lambda: self.saved()["title"] == "Trough mold")
        self.assertEqual(self.saved_tool(7)["tip_length_mm"], 160)
        self.close(window)

    def test_unsaved_work_survives_the_program(self):
        window = self.start(self.job)
        window.wait_for_verdict(SHORT)
        self.edit_row(window, "T7")
        window.type_into(window.find("text", name="Tip length, mm"), "160")
        window.wait_for_verdict(ALL_HOLD)
        journal = self.room / "state/leeway/journal"
        screen.poll("the journal", lambda: any(
            '"tip_length_mm": 160' in file.read_text() for file in journal.iterdir()
            if file.is_file()))
        window.kill()
        self.assertEqual(self.saved_tool(7)["tip_length_mm"], 214)

        window = self.start()
        window.press(window.find("push button", name="Bring it back"))
        window.wait_for_verdict(ALL_HOLD)
        window.find("label", name="not saved")
        window.key("ctrl+s")
        screen.poll("the file", lambda: self.saved_tool(7)["tip_length_mm"] == 160)
        self.close(window)


if __name__ == "__main__":
    tap.main()
