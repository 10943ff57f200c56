# SPDX-License-Identifier: GPL-3.0-or-later
"""The score of 'The Ferrymen' from the invented ballet 'The Paper Harbour': our own music, written for this project.

A line of a phrase is one bar: chords, then the melody as note/beats. A bar with two chords changes in its middle.
"""
import re
from dataclasses import dataclass, field

STEPS = {'c': 0, 'd': 2, 'e': 4, 'f': 5, 'g': 7, 'a': 9, 'b': 11}
QUALITIES = {'': (0, 4, 7), 'm': (0, 3, 7), '7': (0, 4, 7, 10), 'm7': (0, 3, 7, 10), 'm6': (0, 3, 7, 9)}

INTRODUCTION = """
G  | b4/1 d5/1 g5/1
G  | b5/2 a5/1
D7 | f#5/1 g5/1 a5/1
D7 | d5/2 d5/1
"""
# the theme, ending open
WALTZ_1 = """
G   | b4/2 d5/1
G/B | g5/2 f#5/0.5 e5/0.5
C   | e5/2 c5/1
Am  | a4/1 b4/1 c5/1
G/D | b4/2 d5/1
Em  | g5/2 e5/1
A7  | c#5/1 d5/1 e5/1
D7  | d5/2 d5/1
"""
# the theme again, closing
WALTZ_2 = """
G   | b4/2 d5/1
G/B | g5/2 f#5/0.5 e5/0.5
C   | e5/2 c5/1
Cm  | eb5/2 c5/1
G/D | d5/1 g5/1 b5/1
Am  | a5/2 c5/1
D7  | f#5/1 e5/1 a4/1
G   | g4/2 r/1
"""
WALTZ_3 = """
Em    | e5/1 f#5/1 g5/1
B7/D# | a5/2 f#5/1
Em    | g5/1 f#5/1 e5/1
B7    | d#5/2 b4/1
Am    | c5/1 d5/1 e5/1
Em/G  | g5/2 e5/1
A7    | e5/1 c#5/1 a4/1
D7    | d5/2 c5/1
"""
# four bars over the dominant
WALTZ_4 = """
D7    | c5/1 b4/1 c5/1
D7/F# | d5/1 c#5/1 d5/1
D7/A  | f#5/1 e5/1 f#5/1
D7    | a5/2 d5/1
"""
# the theme, turning aside at its end
WALTZ_5 = """
G   | b4/2 d5/1
G/B | g5/2 f#5/0.5 e5/0.5
C   | e5/2 c5/1
Cm  | eb5/2 c5/1
G/D | d5/1 g5/1 b5/1
Am  | a5/2 c5/1
D7  | f#5/1 e5/1 d5/1
Em  | e5/2 b4/1
"""
# six bars that close the waltz and lead to C
WALTZ_6 = """
C   | e5/2 g5/1
Am  | a5/2 e5/1
G/D | d5/2 b5/1
D7  | a5/1 f#5/1 d5/1
G   | g5/2 g4/1
G7  | f5/1 d5/1 b4/1
"""
ROPES_1 = """
C | c5/1 e5/0.5 g5/0.5 g5/1 e5/1
F | f5/0.5 e5/0.5 d5/0.5 c5/0.5 a4/1 c5/1
"""
ROPES_2 = """
Dm | d5/1 f5/0.5 a5/0.5 a5/1 f5/1
G  | g5/0.5 f5/0.5 e5/0.5 d5/0.5 b4/1 g4/1
"""
ROPES_4 = """
Dm7  | d5/1 f5/0.5 a5/0.5 c6/1 a5/1
G7 C | b5/0.5 a5/0.5 g5/0.5 f5/0.5 e5/1 c5/1
"""
ROPES_5 = """
Am | a4/0.5 b4/0.5 c5/1 e5/1.5 d5/0.5
E7 | b4/0.5 c5/0.5 d5/1 g#4/1 b4/1
"""
ROPES_6 = """
F      | c5/0.5 d5/0.5 f5/1 a5/1.5 g5/0.5
C/G G7 | e5/1 c5/1 d5/1 b4/1
"""
ROPES_8 = """
F G7 | a5/1 f5/1 g5/1 b4/1
C    | c5/1 e5/1 c5/2
"""
# one bar of four that leads to G
ROPES_9 = """
D7 | d5/1 f#5/1 a5/1 c6/1
"""
LANTERNS_1 = """
G   | b4/2 d5/1 g5/1
C/G | g5/1 f#5/0.5 e5/0.5 e5/2
"""
LANTERNS_2 = """
Am | c5/2 e5/1 a5/1
D7 | a5/1 f#5/1 d5/2
"""
LANTERNS_3 = """
G/B   | d5/1 g5/1 b5/2
Cm6 D7 | c6/1 a5/1 eb5/1 d5/1
"""
LANTERNS_4 = """
G D7 | d5/1 e5/1 c5/1 a4/1
G    | b4/1 d5/1 g5/2
"""


@dataclass
class Chord:
    root: int  # pitch class
    bass: int  # pitch class
    pitch_classes: tuple


@dataclass
class Bar:
    chords: list  # one or two
    melody: list  # (pitch or None, start in beats, length in beats)


@dataclass
class Phrase:
    section: str
    beats_in_bar: int
    beats_per_count: int
    bars: list
    counted: bool = True
    hold_after: bool = False
    ends_section: bool = False


@dataclass
class Piece:
    pick_up: list = field(default_factory=list)  # the melody of the last beat before the first bar
    phrases: list = field(default_factory=list)


def pitch_class(name):
    return (STEPS[name[0].lower()] + name.count('#') - name[1:].count('b')) % 12


def parse_chord(text):
    upper, _, bass = text.partition('/')
    root, quality = re.fullmatch(r'([A-G][#b]?)(.*)', upper).groups()
    notes = tuple((pitch_class(root) + i) % 12 for i in QUALITIES[quality])
    return Chord(pitch_class(root), pitch_class(bass or root), notes)


def parse_melody(text):
    melody, start = [], 0.0
    for token in text.split():
        note, length = token.split('/')
        pitch = None if note == 'r' else 12 * (int(note[-1]) + 1) + pitch_class(note[:-1])
        melody.append((pitch, start, float(length)))
        start += float(length)
    return melody, start


def parse_bars(text, beats_in_bar):
    bars = []
    for line in text.strip().splitlines():
        chords, _, melody = line.partition('|')
        notes, length = parse_melody(melody)
        assert length == beats_in_bar, f'a bar of {length} beats: {line}'
        bars.append(Bar([parse_chord(c) for c in chords.split()], notes))
    return bars


def the_ferrymen():
    piece = Piece(pick_up=parse_melody('a4/0.5 c5/0.5')[0])

    def add(section, beats_in_bar, beats_per_count, *texts, **marks):
        for text in texts:
            piece.phrases.append(Phrase(section, beats_in_bar, beats_per_count, parse_bars(text, beats_in_bar), **marks))
        piece.phrases[-1].ends_section = True

    add('introduction', 3, 3, INTRODUCTION, counted=False)
    add('waltz', 3, 3, WALTZ_1, WALTZ_2, WALTZ_3, WALTZ_4, WALTZ_5, WALTZ_6)
    add('ropes', 4, 1, ROPES_1, ROPES_2, ROPES_1, ROPES_4, ROPES_5, ROPES_6, ROPES_1, ROPES_8, ROPES_9)
    add('lanterns', 4, 1, LANTERNS_1, LANTERNS_2, LANTERNS_3, LANTERNS_4)
    piece.phrases[-2].hold_after = True
    return piece
