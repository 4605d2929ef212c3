# SPDX-License-Identifier: GPL-3.0-or-later
"""Says of each file whether a JSON Schema accepts it.

    schema_verdicts.py SCHEMA FILE...

One line a file: "accepts", or "refuses" and the first reason. Schemas that SCHEMA refers to lie
beside it.
"""
import json
import pathlib
import sys

import jsonschema


def load_beside(schema_path):
    """Every schema of the folder by its file name, as references name them."""
    return {path.name: json.loads(path.read_text(encoding="utf-8"))
            for path in schema_path.parent.glob("*.schema.json")}


def main(words):
    schema_path = pathlib.Path(words[0])
    store = load_beside(schema_path)
    schema = store[schema_path.name]
    jsonschema.Draft202012Validator.check_schema(schema)
    resolver = jsonschema.RefResolver(schema_path.name, schema, store=store)
    validator = jsonschema.Draft202012Validator(schema, resolver=resolver)
    for name in words[1:]:
        content = json.loads(pathlib.Path(name).read_text(encoding="utf-8"))
        error = next(validator.iter_errors(content), None)
        print("accepts" if error is None else
              f"refuses {error.json_path}: {' '.join(error.message.split())[:200]}")


main(sys.argv[1:])
