# SPDX-License-Identifier: GPL-3.0-or-later
"""Dense patterns: the beat goes slowly, what is heard goes fast. As in accompaniment.py, a bar at a time.

Most take a beat as four, six or eight parts; some are a whole texture without a tune.
"""
from accompaniment import chord_at, low_note, middle, near

UP_AND_DOWN = [0, 1, 2, 3, 4, 3, 2, 1]


def tones(chord, low, count):
    """`count` tones of the chord from its bass at about `low` up."""
    first = near(chord.bass, low)
    found = [first] + [p for p in range(first + 2, first + 12 * count) if p % 12 in chord.notes]
    return found[:count]


def figured(chords, beats, parts, order, low):
    for k in range(beats * parts):
        pitches = tones(chord_at(chords, k / parts), low, max(order) + 1)
        yield k / parts, 1 / parts, [pitches[order[k % len(order)]]]


def with_bass(chords, beats, figure):
    """The figure, and the lowest note held where the harmony changes."""
    for start, length, chord in chords:
        yield start, length, low_note(chord, 38)
    yield from figure


def sixteenths(chords, beats, dice):
    yield from with_bass(chords, beats, figured(chords, beats, 4, [0, 1, 2, 3], 48))


def sixteenths_turning(chords, beats, dice):
    yield from figured(chords, beats, 4, [0, 2, 1, 2], 48)


def sixteenths_falling(chords, beats, dice):
    yield from with_bass(chords, beats, figured(chords, beats, 4, [3, 2, 1, 2], 50))


def sextuplets(chords, beats, dice):
    yield from figured(chords, beats, 6, [0, 1, 2, 3, 2, 1], 43)


def sextuplets_turning(chords, beats, dice):
    yield from with_bass(chords, beats, figured(chords, beats, 6, [0, 1, 2, 1, 2, 1], 52))


def thirty_seconds(chords, beats, dice):
    yield from figured(chords, beats, 8, UP_AND_DOWN, 43)


def triplets_repeated(chords, beats, dice):
    for start, length, chord in chords:
        yield start, length, low_note(chord)
    for k in range(3 * beats):
        yield k / 3, 0.3, middle(chord_at(chords, k / 3), 58)


def sixteenths_repeated(chords, beats, dice):
    for k in range(beats):
        yield k, 1, low_note(chord_at(chords, k))
        for part in range(4):
            yield k + part / 4, 0.24, middle(chord_at(chords, k), 58)


def after_sixteenths(chords, beats, dice):
    """The bass, and three chords after it."""
    for k in range(beats):
        chord = chord_at(chords, k)
        yield k, 0.3, low_note(chord)
        for part in (1, 2, 3):
            yield k + part / 4, 0.22, middle(chord, 59)


def halved(chords, beats, dice):
    """Bass and chord within each beat: what in a quicker notation would be two beats."""
    for k in range(beats):
        chord = chord_at(chords, k)
        yield k, 0.5, low_note(chord)
        yield k + 0.5, 0.45, middle(chord, 58)


def murmuring(chords, beats, dice):
    """A tremolo between the low note and the rest of the chord."""
    for k in range(8 * beats):
        chord = chord_at(chords, k / 8)
        yield k / 8, 0.13, low_note(chord, 43) if k % 2 == 0 else middle(chord, 55)[1:]


def broken_octaves(chords, beats, dice):
    for k in range(4 * beats):
        low = near(chord_at(chords, k / 4).bass, 40)
        yield k / 4, 0.24, [low + 12 * (k % 2)]


def sweeping(chords, beats, dice):
    """Up over four octaves in a beat, down in the next."""
    for k in range(beats):
        pitches = tones(chord_at(chords, k), 38, 8)
        for part, pitch in enumerate(pitches if k % 2 == 0 else reversed(pitches)):
            yield k + part / 8, 0.2, [pitch]


def octaves_and_chords(chords, beats, dice):
    """The left hand leaps: an octave, chords at each quarter of the beat."""
    for k in range(beats):
        chord = chord_at(chords, k)
        low = near(chord.bass, 36)
        yield k, 0.25, [low, low + 12]
        for part in (1, 2, 3):
            yield k + part / 4, 0.2, middle(chord, 57 + 3 * (part == 2))


def stabs(chords, beats, dice):
    """Short chords under free speech."""
    for start, length, chord in chords:
        yield start, min(0.4, length), low_note(chord) + middle(chord)


def prelude(chords, beats, dice):
    """Broken chords that go on throughout: bass and tenor held, three tones above, twice."""
    for k in range(0, beats):
        pitches = tones(chord_at(chords, k), 45, 5)
        yield k, 1, [pitches[0]]
        yield k + 0.125, 0.875, [pitches[1]]
        for part, which in enumerate((2, 3, 4, 2, 3, 4)):
            yield k + (2 + part) / 8, 0.125, [pitches[which]]


def prelude_in_halves(chords, beats, dice):
    """The same, once in two beats."""
    for k in range(0, beats, 2):
        pitches = tones(chord_at(chords, k), 47, 5)
        wide = min(2, beats - k)
        yield k, wide, [pitches[0]]
        yield k + 0.25, wide - 0.25, [pitches[1]]
        for part in range(2, 4 * wide):
            yield k + part / 4, 0.25, [pitches[2 + (part - 2) % 3]]


def single_line(chords, beats, dice):
    yield from figured(chords, beats, 4, [0, 2, 4, 3, 4, 2, 4, 2], 45)


def neighbours(chords, beats, dice):
    """Each tone with the one below it, over a bass that walks in halves of the beat."""
    for k in range(4 * beats):
        pitches = tones(chord_at(chords, k / 4), 62, 5)
        yield k / 4, 0.25, [pitches[(k // 2) % 4] - (k % 2)]
    for k in range(2 * beats):
        pitches = tones(chord_at(chords, k / 2), 43, 4)
        yield k / 2, 0.45, [pitches[(0, 2, 1, 2)[k % 4]]]


def both_hands(chords, beats, dice):
    """Broken chords in both hands against each other, six to a beat."""
    for k in range(6 * beats):
        chord = chord_at(chords, k / 6)
        up, down = tones(chord, 62, 4), tones(chord, 43, 4)
        yield k / 6, 1 / 6, [up[(3, 2, 1, 0, 1, 2)[k % 6]]]
        yield k / 6, 1 / 6, [down[(0, 1, 2, 3, 2, 1)[k % 6]]]


def six_in_line(chords, beats, dice):
    yield from figured(chords, beats, 6, [0, 1, 2, 4, 3, 2], 48)


def waltz_in_one(chords, beats, dice):
    for k in range(beats):
        chord = chord_at(chords, k)
        yield k, 1 / 3, low_note(chord)
        for part in (1, 2):
            yield k + part / 3, 0.27, middle(chord)


def silent(chords, beats, dice):
    """Nothing: the voices are all there is."""
    return iter(())
