# SPDX-License-Identifier: GPL-3.0-or-later
"""The CSV of a sheet, read by Python's csv module, says what its JSON says, and no field can be taken for a formula.

Usage: check_csv.py SAMPLES
"""
import csv
import json
import pathlib
import re
import sys

FORMULA = re.compile(r"[' ]*[=+@-]")
NUMBER = re.compile(r"-?[0-9.]+")


def unguarded(text):
    """Undo the guard, as src/print/csv.h says."""
    return text[1:] if text.startswith("'") and FORMULA.match(text) else text


def clean(text):
    """What a text of the JSON looks like on one line."""
    text = re.sub(r"[\t-\r\x85\u2028\u2029]", " ", text or "")
    text = re.sub(r"[\u202a-\u202e\u2066-\u2069\ufeff]", "", text)
    return re.sub(r"[\x00-\x1f\x7f-\x9f]", "\ufffd", text)


def near(field, value):
    return field == "" if value is None else abs(float(field) - value) < 6e-4


def records_of(sheet):
    section = None
    for phrase in sheet["phrases"]:
        section = phrase["section"] or section
        for step in phrase["steps"] or [None]:
            yield phrase, section, step


def compare(record, phrase, section, step):
    for name in ("counts", "start_s", "end_s", "confidence", "hold_s", "count_in", "like"):
        assert near(record[name], phrase[name]), (name, record[name], phrase[name])
    for name in ("check_by_ear", "pinned", "other_side"):
        assert record[name] == ("yes" if phrase[name] else "no"), name
    assert unguarded(record["section"]) == clean(section)
    assert unguarded(record["role"]) == clean(phrase["role"])
    assert unguarded(record["remark"]) == clean(phrase["remark"]), (record["remark"], phrase["remark"])
    assert unguarded(record["step"]) == clean(step["text"] if step else "")
    assert near(record["count"], step["count"] if step else None)
    assert near(record["until"], step["until"] if step else None)


def main():
    files = sorted(pathlib.Path(sys.argv[1]).glob("*.sheet.csv"))
    assert files
    for file in files:
        raw = file.read_bytes()
        assert raw.endswith(b"\r\n") and raw.count(b"\n") == raw.count(b"\r\n"), file
        rows = list(csv.DictReader(raw.decode("utf-8").splitlines(keepends=True), strict=True))
        sheet = json.loads(file.with_suffix(".json").read_text(encoding="utf-8"))
        wanted = list(records_of(sheet))
        assert len(rows) == len(wanted), file
        for record, parts in zip(rows, wanted):
            compare(record, *parts)
            for field in record.values():
                assert not field[:1] in tuple("=+-@") or NUMBER.fullmatch(field), field
    return 0


sys.exit(main())
