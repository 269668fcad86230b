"""Holds scenario files against the published schema, with PyPI `jsonschema` (draft 2020-12).

Reads {"schema": ..., "right": [...], "wrong": [...]} from the standard input. Ends with 0 when the schema is
one and tells right from wrong, with 1 when not, with 77 when the package isn't there.
"""

import json
import sys

try:
    from jsonschema import Draft202012Validator
except ImportError:
    sys.exit(77)

given = json.load(sys.stdin)
Draft202012Validator.check_schema(given["schema"])
validator = Draft202012Validator(given["schema"])
failed = [f"refused: {case}: {error.message}" for case in given["right"] for error in validator.iter_errors(case)]
failed += [f"taken: {case}" for case in given["wrong"] if validator.is_valid(case)]
print("\n".join(failed))
sys.exit(1 if failed else 0)
