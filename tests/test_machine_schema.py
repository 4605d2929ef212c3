# SPDX-License-Identifier: GPL-3.0-or-later
"""The schema of machine files against their reader: on every mutated file both must agree, but for
the rules that tie one value to another, which a schema can't say. Those are listed here."""
import copy
import json
import os
import pathlib
import random
import subprocess
import tempfile

import jsonschema
import tap

FILES = 400

# What the reader says where one value contradicts another. The schema may let these through; it may
# never refuse what the reader takes.
BETWEEN_VALUES = [
    ": must be above low_",
    ": must be above the low limit",
    ": must be above min_mm",
    ": must be another point than from_mm",
    ": must be above 0 mm where r_from_mm is 0",
    ": must be four points or more that span a volume",
    ": must be another axis than the one that is limited",
    ": must be an axis of the structure",
    ": must be a word of the structure",
    ": must point along",
    ": must not point along Z",
    ": must be a direction, is zero",
    ": must differ from that of",
    ": must be a place on the table",
    ": puts the last hole beyond",
    ": must be above the rpm of the point before",
    ": must not be below s1_kw",
    ": must name one of the bodies",
    ": must name the table in whose frame",
    ": lies so high in Z",
]
# `axes` is keyed by the letters and primes of `structure`.
AXES_OF_STRUCTURE = [": axes.A: ", ": axes.B: ", ": axes.D: ", ": axes.X: ", ": axes.X': "]


def places(node, path=()):
    """Every (path, value) of a tree but its root."""
    items = node.items() if isinstance(node, dict) else enumerate(node)
    for key, value in items:
        yield path + (key,), value
        if isinstance(value, (dict, list)):
            yield from places(value, path + (key,))


def holder_of(tree, path):
    for key in path[:-1]:
        tree = tree[key]
    return tree


def mutate(tree, chance):
    """One change at a random place; what it was, in words."""
    path, value = chance.choice(list(places(tree)))
    holder, key = holder_of(tree, path), path[-1]
    kind = chance.choice(["drop", "retype", "value", "value", "value", "rename", "extra", "twice"])
    if kind == "drop":
        del holder[key]
    elif kind == "retype":
        holder[key] = chance.choice([None, True, "word", 7, -7, [], {}, [1, 2, 3], {"kind": "box"}])
    elif kind == "value" and isinstance(value, (int, float)):
        holder[key] = chance.choice([0, -value, value + 1, value * 1.5, value + 0.5, 1e9, -1e9, 500,
                                     -200, 10001, 1])
    elif kind == "value" and isinstance(value, str):
        holder[key] = chance.choice(["", "w", "b", "t", "X", "X'", "B", "D", "C", "A", "gauge", "tip",
                                     "yes", "head", "sphere", "w b X Y Z C B t", "w b X Y Z C A t",
                                     "w X' b Y Z C D t", "w b X Y Z B A t", "w C' b X Y Z B t",
                                     "w b X Y Z Z C B t", "w  b  X Y Z C D  (C1) t"])
    elif kind == "rename" and isinstance(holder, dict):
        holder[chance.choice(["x-" + key, key + "_", "low_mm", "solid", "X'", "A"])] = holder.pop(key)
    elif kind == "extra" and isinstance(value, dict):
        value[chance.choice(["x-note", "note", "at_mm", "margin_mm", "below_mm", "table"])] = 1
    elif kind == "twice" and isinstance(value, list) and value:
        value.append(copy.deepcopy(value[0]))
    else:
        return mutate(tree, chance)
    return f"{kind} at {path}"


class MachineSchema(tap.Case):
    def setUp(self):
        schema = json.loads((tap.ROOT / "data/schema/leeway-machine.schema.json").read_text())
        jsonschema.Draft202012Validator.check_schema(schema)
        self.schema = jsonschema.Draft202012Validator(schema)
        self.trees = [json.loads(path.read_text())
                      for path in sorted((tap.ROOT / "data/machines").glob("*.leeway-machine"))]

    def read(self, trees):
        """What the reader says of each: "ok", or its error."""
        program = pathlib.Path(os.environ["G_TEST_BUILDDIR"], "read-machine")
        with tempfile.TemporaryDirectory() as room:
            paths = [pathlib.Path(room, f"{i}.leeway-machine") for i in range(len(trees))]
            for path, tree in zip(paths, trees):
                path.write_text(json.dumps(tree))
            done = subprocess.run([program], input="".join(f"{path}\n" for path in paths),
                                  capture_output=True, text=True, check=True)
        return done.stdout.splitlines()

    def test_shipped_machines(self):
        self.assertEqual(len(self.trees), 3)
        for tree in self.trees:
            self.schema.validate(tree)
        self.assertEqual(self.read(self.trees), ["ok"] * 3)

    def test_mutated(self):
        chance = random.Random(2024)
        trees = [copy.deepcopy(self.trees[i % 3]) for i in range(FILES)]
        what = [mutate(tree, chance) for tree in trees]
        both_take = both_refuse = 0
        for tree, change, answer in zip(trees, what, self.read(trees), strict=True):
            error = next(iter(self.schema.iter_errors(tree)), None)
            if error is None and answer == "ok":
                both_take += 1
            elif error is not None and answer != "ok":
                both_refuse += 1
            elif error is None:
                self.assertTrue(any(rule in answer for rule in BETWEEN_VALUES + AXES_OF_STRUCTURE),
                                f"{change}: only the reader refuses: {answer}")
            else:
                self.fail(f"{change}: only the schema refuses, at {list(error.absolute_path)}: "
                          f"{error.message[:300]}")
        self.assertGreater(both_take, 40)
        self.assertGreater(both_refuse, 150)


tap.main()
