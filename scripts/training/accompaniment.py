# SPDX-License-Identifier: GPL-3.0-or-later
"""Patterns of accompaniment. Each yields (start, length, pitches) for one bar, in beats from the bar line.

A pattern gets the bar's chord pieces [(start, length, Chord)], the number of beats, and the dice of the piece.
"""


def near(pitch_class, centre):
    """The pitch of this class nearest to `centre`."""
    return centre + (pitch_class - centre + 6) % 12 - 6


def middle(chord, centre=57):
    return sorted(near(p, centre) for p in chord.notes)


def upward(chord, low):
    """Four pitches from `low` up."""
    first = near(chord.bass, low)
    found = [first]
    for pitch in range(first + 3, first + 30):
        if pitch % 12 in chord.notes and len(found) < 4 and pitch - found[-1] >= 3:
            found.append(pitch)
    return found


def low_note(chord, low=42):
    return [near(chord.bass, low)]


def chord_at(chords, beat):
    return next(chord for start, length, chord in reversed(chords) if start <= beat + 1e-6)


def oom_pah_pah(chords, beats, dice):
    for start, length, chord in chords:
        yield start, 1, low_note(chord)
        for k in range(1, int(length)):
            yield start + k, 0.8, middle(chord)


def bass_and_one(chords, beats, dice):
    """A low note, and one chord on the second or third beat."""
    yield 0, beats, low_note(chords[0][2])
    at = dice.choice([1, 1, 2])
    yield at, beats - at, middle(chord_at(chords, at))


def after_beats(chords, beats, dice):
    """No low note: chords after the first beat only, as where the tune itself has the bass."""
    for k in range(1, beats):
        yield k, 0.7, middle(chord_at(chords, k))


def drone(chords, beats, dice):
    first = chords[0][2]
    yield 0, beats, [near(first.bass, 40), near(first.bass + 7, 47)]
    for k in range(beats):
        yield k, 0.9, middle(chord_at(chords, k))[1:]


def block(chords, beats, dice):
    step = 1 if beats > 2 or len(chords) > 1 else 2
    for k in range(0, beats, step):
        chord = chord_at(chords, k)
        yield k, step, low_note(chord, 45) + middle(chord, 60)


def held(chords, beats, dice):
    """Whole bars: nothing moves but the tune."""
    for start, length, chord in chords:
        yield start, length, low_note(chord) + middle(chord)


def pulsing(chords, beats, dice):
    for start, length, chord in chords:
        yield start, length, low_note(chord)
    for k in range(2 * beats):
        yield k / 2, 0.5, middle(chord_at(chords, k / 2), 60)


def quavers(chords, beats, dice):
    for k in range(2 * beats):
        chord = chord_at(chords, k / 2)
        yield k / 2, 0.4, low_note(chord) if k % 2 == 0 else middle(chord)


def syncopated(chords, beats, dice):
    for start, length, chord in chords:
        yield start, length, low_note(chord)
        yield start + 0.5, 1, middle(chord)
        for k in range(1, int(length) - 1):
            yield start + k + 0.5, 1, middle(chord)


def oom_pah(chords, beats, dice):
    """Bass on the beats, chords after them: by halves in two, by beats in four."""
    step = 1 if beats == 2 else 2
    for k in range(0, beats, step):
        chord = chord_at(chords, k)
        fifth = k and len(chords) == 1
        yield k, step / 2, [near(chord.root + 7, 40)] if fifth else low_note(chord)
        yield k + step / 2, step / 2 * 0.8, middle(chord)


def march_bass(chords, beats, dice):
    for k in range(beats):
        chord = chord_at(chords, k)
        yield k, 0.7, low_note(chord) if k % 2 == 0 else [near(chord.root + 7, 40)]
        if k % 2:
            yield k, 0.5, middle(chord)


def oom_pah_compound(chords, beats, dice):
    for k in range(beats):
        chord = chord_at(chords, k)
        yield k, 1 / 3, low_note(chord)
        yield k + 1 / 3, 1 / 3, middle(chord)
        yield k + 2 / 3, 1 / 3, middle(chord)


def jig_bass(chords, beats, dice):
    for k in range(beats):
        chord = chord_at(chords, k)
        yield k, 2 / 3, low_note(chord) + (middle(chord) if k % 2 else [])
        yield k + 2 / 3, 1 / 3, middle(chord)


def figure(chords, beats, parts, order, low):
    for k in range(beats * parts):
        chord = chord_at(chords, k / parts)
        pitches = upward(chord, low)
        within = k % len(order)
        yield k / parts, 1 / parts, [pitches[order[within] % len(pitches)]]


def broken(chords, beats, dice):
    for start, length, chord in chords:
        yield start, length, low_note(chord)
    yield from ((s, n, p) for s, n, p in figure(chords, beats, 2, [0, 1, 2, 1], 52) if s > 0)


def wide_broken(chords, beats, dice):
    yield from figure(chords, beats, 2, [0, 1, 2, 3, 2, 1] if beats == 3 else [0, 1, 2, 3], 40)


def triplets(chords, beats, dice):
    yield from figure(chords, beats, 3, [0, 1, 2], 44)


def wide_compound(chords, beats, dice):
    yield from figure(chords, beats, 3, [0, 1, 2, 3, 2, 1], 42)


def rocking(chords, beats, dice):
    for k in range(beats):
        chord = chord_at(chords, k)
        yield k, 1, low_note(chord) if k % 2 == 0 else [near(chord.root + 7, 45)]
        yield k + 1 / 3, 1 / 3, middle(chord)
        yield k + 2 / 3, 1 / 3, middle(chord)[-1:]


def alberti(chords, beats, dice):
    parts = 2 if beats > 2 else 4
    yield from figure(chords, beats, parts, [0, 2, 1, 2], 48)


def walking(chords, beats, dice):
    """A bass that moves on every beat, by steps where it can."""
    for k in range(beats):
        chord = chord_at(chords, k)
        pitches = upward(chord, 41)
        yield k, 0.9, [pitches[0] if k == 0 else pitches[dice.choice([0, 1, 2])]]
        if k and dice.random() < 0.3:
            yield k, 0.9, middle(chord, 60)[1:]


def two_voices(chords, beats, dice):
    """One low voice, in long notes and a few short ones."""
    at = 0
    while at < beats:
        length = min(dice.choice([1, 1, 2, 0.5, 0.5]), beats - at)
        pitches = upward(chord_at(chords, at), 45)
        yield at, length, [pitches[0] if at == 0 else dice.choice(pitches)]
        at += length


def three_and_two(chords, beats, dice):
    for k in range(beats):
        chord = chord_at(chords, k)
        yield k, 0.9, low_note(chord) if k in (0, 3) else middle(chord)


def bolero(chords, beats, dice):
    chord = chords[0][2]
    yield 0, 0.5, low_note(chord)
    for at in (0.5, 0.5 + 1 / 6, 0.5 + 2 / 6, 1, 1.5, 2, 2.5):
        yield at, 0.3, middle(chord_at(chords, at))


def habanera(chords, beats, dice):
    chord = chords[0][2]
    yield 0, 0.75, low_note(chord)
    yield 0.75, 0.25, [near(chord.root + 7, 45)]
    yield 1, 0.5, middle(chord)
    yield 1.5, 0.5, [near(chord.root + 7, 45)]


def hemiola(chords, beats, dice):
    """Two bars of three as three of two: called with six beats."""
    for k in range(0, beats, 2):
        chord = chord_at(chords, k)
        yield k, 1, low_note(chord)
        yield k + 1, 0.8, middle(chord)
