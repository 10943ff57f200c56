# SPDX-License-Identifier: GPL-3.0-or-later
"""No line of a text is wider than its terminal, and no control character is in it.

Widths are counted here from Python's Unicode data (East Asian Width of UAX 11, general categories), not with the
library's own code. Usage: check_text.py SAMPLES
"""
import pathlib
import re
import sys
import unicodedata


def width(character):
    if unicodedata.category(character) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1


def main():
    files = [f for f in sorted(pathlib.Path(sys.argv[1]).glob("*-*.txt")) if re.search(r"-\d+$", f.stem)]
    assert len(files) > 10
    wrong = []
    for file in files:
        columns = int(file.stem.rsplit("-", 1)[1])
        for number, line in enumerate(file.read_bytes().decode("utf-8").split("\n"), 1):
            if sum(map(width, line)) > columns:
                wrong.append(f"{file.name}:{number}: wider than {columns} columns: {line}")
            if any(unicodedata.category(c) == "Cc" for c in line) or line != line.rstrip():
                wrong.append(f"{file.name}:{number}: control character or space at the end: {line!r}")
    print("\n".join(wrong))
    return 1 if wrong else 0


sys.exit(main())
