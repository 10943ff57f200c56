# SPDX-License-Identifier: GPL-3.0-or-later
"""The PDF samples, read back with poppler: size, pages, title, fonts, margins, overlaps, and every step in order.

Usage: check_pdf.py SAMPLES [language], the word where the program was built to say it. Exit 77 (skipped) without poppler's
programs.
"""
import html
import json
import pathlib
import re
import shutil
import subprocess
import sys
import unicodedata

PAPER = {"a4": (595.28, 841.89), "letter": (612.0, 792.0), "a5": (419.53, 595.28)}
PAPER.update({"wide": PAPER["a4"][::-1], "letterwide": PAPER["letter"][::-1], "a5wide": PAPER["a5"][::-1]})
PAPER.update({"big": PAPER["a4"], "a5big": PAPER["a5"], "a5widebig": PAPER["a5wide"]})


def margin_of(paper):
    return 24 if paper.startswith("a5") else 36


WORD = re.compile(r'<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*?)</word>')


def run(*command):
    return subprocess.run(command, check=True, capture_output=True, text=True, encoding="utf-8").stdout


def pages_of(file):
    """Words of each page: (left, top, right, bottom, text)."""
    text = run("pdftotext", "-bbox", str(file), "-")
    for page in text.split("<page ")[1:]:
        yield [(*map(float, word.groups()[:4]), html.unescape(word.group(5))) for word in WORD.finditer(page)]


def check_places(words, width, height, name, margin=36):
    """Nothing outside the margins, nothing over anything else."""
    core = []
    for left, top, right, bottom, text in words:
        if left < margin - 1 or right > width - margin + 1 or top < margin - 4 or bottom > height - margin + 4:
            yield f"{name}: '{text}' is outside the margins"
        # a line's box is higher than its letters: compare the middle halves
        quarter = (bottom - top) / 4
        core.append((left + 0.3, top + quarter, right - 0.3, bottom - quarter, text))
    core.sort(key=lambda box: box[1])
    for i, one in enumerate(core):
        for other in core[i + 1:]:
            if other[1] >= one[3]:
                break
            if min(one[2], other[2]) - max(one[0], other[0]) > 0 and one[4].strip() and other[4].strip():
                yield f"{name}: '{one[4]}' and '{other[4]}' overlap"


def letters(text):
    """What is comparable of a text: no spaces, hyphens or marks, one form of each character."""
    decomposed = unicodedata.normalize("NFKD", text)
    return "".join(c for c in decomposed if c.isalnum() and not unicodedata.combining(c))


def is_plain(text):
    """Whether poppler gives the text back in its order: left to right, in scripts that the test fonts have."""
    return all(unicodedata.bidirectional(c) not in ("R", "AL") and unicodedata.category(c) != "Co"
               and not 0x900 <= ord(c) <= 0x97F and ord(c) < 0x10000 for c in text)


def same_steps(sheet, phrase):
    number = phrase["like"]
    if not number or number > len(sheet["phrases"]):
        return False
    return not phrase["steps"] or sheet["phrases"][number - 1]["steps"] == phrase["steps"]


def check_long_step(file, text, words):
    """Words that go over several pages: in their order, with the heads and feet of pages between."""
    rest = iter(words)
    for word in text.split():
        if len(word) < 100 and word not in rest:
            yield f"{file.name}: '{word}' is missing or out of order"
            return


def check_steps(file, sheet):
    """Each step stands in the text after the one before it."""
    raw = run("pdftotext", "-raw", str(file), "-")
    found = letters(raw)
    at = 0
    for phrase in sheet["phrases"]:
        if same_steps(sheet, phrase):
            continue
        steps = sorted(phrase["steps"], key=lambda s: float("inf") if s["count"] is None else s["count"])
        for step in steps:
            wanted = letters(step["text"])
            if len(wanted) > 2000:
                yield from check_long_step(file, step["text"], raw.split())
                continue
            if not is_plain(step["text"]):
                continue
            place = found.find(wanted, at)
            if place < 0:
                yield f"{file.name}: phrase {phrase['number']}: '{step['text'][:60]}' is missing or out of order"
            else:
                at = place + len(wanted)


def check_fonts(file):
    lines = run("pdffonts", str(file)).splitlines()[2:]
    if not lines:
        yield f"{file.name}: no fonts"
    for line in lines:
        embedded, _, unicode_map = line.split()[-5:-2]
        if embedded != "yes" or unicode_map != "yes":
            yield f"{file.name}: {line}"


def check_outline(file, sheet, pages):
    """A bookmark for each section, at the page on which its heading stands."""
    marks = json.loads(run("qpdf", "--json=1", "--json-key=outlines", str(file)))["outlines"]
    wanted = [letters(phrase["section"]) for phrase in sheet["phrases"] if phrase["section"]]
    if [letters(mark["title"]) for mark in marks] != wanted:
        yield f"{file.name}: the bookmarks are not its sections"
    for mark in marks:
        first = mark["title"].split()[0]
        if is_plain(first) and first not in [word[4] for word in pages[mark["destpageposfrom1"] - 1]]:
            yield f"{file.name}: '{mark['title']}' is not on the page of its bookmark"


def check_language(file, sheet):
    """The catalogue says the language: that of the notes, else that of the labels."""
    named = re.search("_([a-z]{2})-", file.name)
    wanted = sheet["language"] or (named.group(1) if named else "en")
    if f"/Lang ({wanted})".encode() not in file.read_bytes():
        yield f"{file.name}: its language is not said to be '{wanted}'"


def check_sheet(file, width, height, margin):
    sheet = json.loads(file.with_name(file.name.rsplit("-", 1)[0] + ".sheet.json").read_text(encoding="utf-8"))
    facts = run("pdfinfo", str(file))
    pages = list(pages_of(file))
    in_english = not re.search("_[a-z]{2}-", file.name) or "_en-" in file.name
    title = (sheet["piece"] or ("Count sheet" if in_english else ""))[:40]
    if not re.search(rf"Title: {{11}}(?=\S){re.escape(title)}", facts) or "CreationDate" in facts:
        yield f"{file.name}: wrong title, or a date"
    if f"{width:g} x {height:g} pts" not in facts:
        yield f"{file.name}: wrong paper"
    for number, words in enumerate(pages, 1):
        name = f"{file.name}, page {number}"
        yield from check_places(words, width, height, name, margin)
        if [word[4] for word in words[-3:]] != [str(number), "/", str(len(pages))]:
            yield f"{name}: the page number is missing"
    yield from check_steps(file, sheet)
    if shutil.which("qpdf"):
        yield from check_outline(file, sheet, pages)
    if "language" in sys.argv[2:]:
        yield from check_language(file, sheet)


def main():
    if not all(map(shutil.which, ("pdftotext", "pdffonts", "pdfinfo"))):
        return 77
    samples = pathlib.Path(sys.argv[1])
    wrong = []
    for paper, size in PAPER.items():
        files = sorted(samples.glob(f"*-{paper}.pdf"))
        assert len(files) >= 7
        for file in files:
            wrong += check_sheet(file, *size, margin_of(paper))
            wrong += check_fonts(file)
    for file in sorted(samples.glob("*-chart.pdf")):
        wrong += check_fonts(file)
        for words in pages_of(file):
            wrong += check_places(words, 720, 540, file.name, margin=0)
    print("\n".join(wrong))
    return 1 if wrong else 0


if __name__ == '__main__':
    sys.exit(main())
