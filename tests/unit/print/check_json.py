# SPDX-License-Identifier: GPL-3.0-or-later
"""Every JSON sample follows its schema, and the schemas describe every member.

Usage: check_json.py SCHEMAS SAMPLES. Exit 77 (skipped) without the jsonschema package.
"""
import json
import pathlib
import sys

try:
    import jsonschema
except ImportError:
    sys.exit(77)


def undescribed(schema, path):
    """Paths of the parts of a schema that carry no description."""
    if "description" not in schema:
        yield path
    for name, part in schema.get("properties", {}).items():
        yield from undescribed(part, f"{path}/{name}")
    if "items" in schema:
        yield from undescribed(schema["items"], f"{path}[]")


def main():
    folder, samples = map(pathlib.Path, sys.argv[1:])
    wrong = []
    for kind in ("sheet", "count-line", "drift"):
        schema = json.loads((folder / f"{kind}.json").read_text(encoding="utf-8"))
        jsonschema.Draft202012Validator.check_schema(schema)
        wrong += undescribed(schema, kind)
        validator = jsonschema.Draft202012Validator(schema)
        files = sorted(samples.glob(f"*.{kind}.json"))
        if not files:
            wrong.append(f"no samples of {kind}")
        for file in files:
            instance = json.loads(file.read_text(encoding="utf-8"))
            wrong += [f"{file.name}: {e.json_path}: {e.message}" for e in validator.iter_errors(instance)]
            if validator.is_valid({**instance, "phrases": [{}]}) or validator.is_valid({**instance, "version": 99}):
                wrong.append(f"{kind}: the schema lets anything pass")
    print("\n".join(wrong))
    return 1 if wrong else 0


sys.exit(main())
