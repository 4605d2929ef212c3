# SPDX-License-Identifier: GPL-3.0-or-later
"""Forward and inverse of the head against an outside judge: the Orocos Kinematics and Dynamics
Library, which builds the chain C, e, tilt axis, s − (P + L) ez from the stated numbers."""
import os
import pathlib
import subprocess

import PyKDL
import tap

POSES = 10000
LENGTH = 1e-9  # mm, on lengths of some hundred
DIRECTION = 1e-12


def chain(n, e, s, pivot_length, tip_length):
    """From the pivot to the tip; the tool axis is the tip frame's z."""
    kdl = PyKDL.Chain()
    kdl.addSegment(PyKDL.Segment(PyKDL.Joint(PyKDL.Joint.RotZ), PyKDL.Frame(PyKDL.Vector(*e))))
    tilt = PyKDL.Joint("tilt", PyKDL.Vector(0, 0, 0), PyKDL.Vector(*n), PyKDL.Joint.RotAxis)
    arm = PyKDL.Vector(s[0], s[1], s[2] - pivot_length - tip_length)
    kdl.addSegment(PyKDL.Segment(tilt, PyKDL.Frame(arm)))
    return kdl


def pose(kdl, c, t):
    joints = PyKDL.JntArray(2)
    joints[0], joints[1] = c, t
    frame = PyKDL.Frame()
    assert PyKDL.ChainFkSolverPos_recursive(kdl).JntToCart(joints, frame) == 0
    return list(frame.p), list(frame.M.UnitZ())


def furthest(a, b):
    return max(abs(x - y) for x, y in zip(a, b))


class Kdl(tap.Case):
    def rows(self):
        program = pathlib.Path(os.environ["G_TEST_BUILDDIR"], "head-rows")
        done = subprocess.run([program], capture_output=True, text=True, check=True)
        return [[float(cell) for cell in line.split(",")] for line in done.stdout.splitlines()]

    def test_forward_and_every_branch(self):
        rows = self.rows()
        self.assertEqual(len(rows), 4 * POSES)
        worst_tip = worst_axis = worst_branch = branches = 0
        for row in rows:
            n, e, s = row[1:4], row[4:7], row[7:10]
            pivot_length, tip_length, c, t = row[10:14]
            kdl = chain(n, e, s, pivot_length, tip_length)
            tip, axis = pose(kdl, c, t)
            worst_tip = max(worst_tip, furthest(tip, row[14:17]))
            worst_axis = max(worst_axis, furthest(axis, row[17:20]))
            for at in range(20, len(row), 5):
                tip, branch_axis = pose(kdl, row[at], row[at + 1])
                worst_tip = max(worst_tip, furthest(tip, row[at + 2:at + 5]))
                worst_branch = max(worst_branch, furthest(branch_axis, axis))
                branches += 1
        self.assertLess(worst_tip, LENGTH)
        self.assertLess(worst_axis, DIRECTION)
        self.assertLess(worst_branch, DIRECTION)
        self.assertEqual(branches, 8 * POSES)


tap.main()
