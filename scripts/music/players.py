# SPDX-License-Identifier: GPL-3.0-or-later
"""From the score to played notes: what a rehearsal pianist and an orchestra make of it."""
import random
from dataclasses import dataclass


@dataclass
class Event:
    role: str  # 'melody', 'bass' or 'chord'
    phrase: int
    number: int  # phrase as the dancers number it; 0 in the introduction
    position: float  # in beats from the first full bar
    length: float  # in beats
    pitches: list
    weight: float  # 1 on the first of a bar, less elsewhere


@dataclass
class Instrument:
    channel: int
    program: int  # General MIDI, from 0
    volume: int
    pan: int


@dataclass
class Note:
    channel: int
    pitch: int
    start_s: float
    end_s: float
    velocity: int


def nearest(pitch_class, centre):
    """The pitch of this class nearest to `centre`."""
    return centre + (pitch_class - centre + 6) % 12 - 6


def waltz_bar(bar, at):
    chord = bar.chords[0]
    middle = sorted(nearest(p, 57) for p in chord.pitch_classes)
    yield 'bass', at, 1.0, [nearest(chord.bass, 42)], 1.0
    yield 'chord', at + 1, 0.8, middle, 0.6
    yield 'chord', at + 2, 0.8, middle, 0.55


def ropes_bar(bar, at):
    for half, chord in ((0, bar.chords[0]), (2, bar.chords[-1])):
        changes = half == 0 or len(bar.chords) > 1
        middle = sorted(nearest(p, 57) for p in chord.pitch_classes)
        low = nearest(chord.bass, 41)
        yield 'bass', at + half, 0.9, [low if changes else nearest((chord.root + 7) % 12, 41)], 1.0 if half == 0 else 0.8
        yield 'chord', at + half + 1, 0.45, middle, 0.65
        yield 'chord', at + half + 1.5, 0.4, middle, 0.45


def lanterns_bar(bar, at):
    for half, chord in ((0, bar.chords[0]), (2, bar.chords[-1])):
        if half == 0 or len(bar.chords) > 1:
            yield 'bass', at + half, 4.0 - half, [nearest(chord.bass, 42)], 0.9
        upward = sorted(nearest(p, 57) for p in chord.pitch_classes)
        for k in range(4):
            yield 'chord', at + half + 0.5 * k, 0.5, [upward[k % len(upward)]], 0.6 if k % 2 == 0 else 0.4


def closing_bar(bar, at):
    """The last bar: broken chord, full chord, and the chord again over the low octave on its last beat."""
    chord = bar.chords[0]
    upward = sorted(nearest(p, 57) for p in chord.pitch_classes)
    yield 'bass', at, 4.0, [nearest(chord.bass, 42)], 0.9
    for k in range(4):
        yield 'chord', at + 0.5 * k, 0.5, [upward[k % len(upward)]], 0.5
    yield 'chord', at + 2, 0.9, upward, 0.7
    yield 'chord', at + 3, 3.0, upward, 0.7
    yield 'bass', at + 3, 3.0, [nearest(chord.bass, 42), nearest(chord.bass, 30)], 0.8


ACCOMPANIMENT = {'introduction': waltz_bar, 'waltz': waltz_bar, 'ropes': ropes_bar, 'lanterns': lanterns_bar}


def events(piece):
    """The score as events in the order of the music."""
    for pitch, start, length in piece.pick_up:
        yield Event('melody', 0, 0, start - 1, length, [pitch], 0.6)
    at, number = 0, 0
    for index, phrase in enumerate(piece.phrases):
        number += phrase.counted
        for k, bar in enumerate(phrase.bars):
            last = phrase is piece.phrases[-1] and bar is phrase.bars[-1]
            pattern = closing_bar if last else ACCOMPANIMENT[phrase.section]
            for role, position, length, pitches, weight in pattern(bar, at):
                yield Event(role, index, number, position, length, pitches, weight)
            for pitch, start, length in bar.melody:
                if pitch is not None:
                    weight = 1.0 if start == 0 else 0.8 if start == int(start) else 0.65
                    yield Event('melody', index, number, at + start, length + (2 if last and start == 2 else 0), [pitch], weight)
            at += phrase.beats_in_bar


# loudness of each phrase as the dancers number them; 0 is the introduction
DYNAMICS = [0.90, 0.88, 0.96, 0.84, 0.94, 1.06, 0.98, 1.04, 1.06, 1.10, 1.14, 0.90, 0.94, 1.10, 1.16, 0.98, 0.80, 0.84,
            0.96, 0.90]


class Performer:
    """Turns events into notes by a clock, with the small unevenness of hands."""

    LOUDNESS = {'melody': 84, 'bass': 72, 'chord': 60}
    LEAD_S = {'melody': -0.006, 'bass': 0.003, 'chord': 0.003}

    def __init__(self, piece, clock, seed, spread_s):
        self.piece, self.clock, self.spread_s = piece, clock, spread_s
        self.dice = random.Random(seed)
        self.notes = []

    def play(self, event, instrument, transpose=0, loudness=1.0):
        start = self.clock.at(event.position) + self.LEAD_S[event.role]
        start += self.dice.gauss(0, self.spread_s)
        end = self.clock.end(event.position + event.length)
        base = self.LOUDNESS[event.role] * (0.75 + 0.25 * event.weight) * loudness * DYNAMICS[event.number]
        velocity = max(8, min(120, round(base + self.dice.gauss(0, 2.5))))
        for pitch in event.pitches:
            self.notes.append(Note(instrument.channel, pitch + transpose, start, max(end, start + 0.08), velocity))


def without_overlap(notes):
    """End each note before the same one begins again: a late note-off would end the new one."""
    following = {}
    for note in sorted(notes, key=lambda n: n.start_s, reverse=True):
        again = following.get((note.channel, note.pitch))
        if again is not None:
            note.end_s = min(note.end_s, again.start_s - 0.01)
        following[note.channel, note.pitch] = note
    return [note for note in notes if note.end_s > note.start_s]


PIANO = {'piano': Instrument(0, 0, 110, 64)}


def rehearsal_pianist(piece, clock, seed):
    """One piano. Returns notes and the times at which the pedal is changed."""
    performer = Performer(piece, clock, seed, 0.003)
    pedals = []
    for event in events(piece):
        performer.play(event, PIANO['piano'])
        if event.role == 'bass':
            pedals.append(clock.at(event.position))
            if event.number and piece.phrases[event.phrase].section != 'lanterns' and event.weight == 1.0:
                performer.play(event, PIANO['piano'], -12, 0.85)
    return without_overlap(performer.notes), pedals


ORCHESTRA = {
    'flute': Instrument(0, 73, 84, 54), 'oboe': Instrument(1, 68, 92, 70),
    'clarinet': Instrument(2, 71, 76, 60), 'horns': Instrument(3, 60, 74, 80),
    'violins': Instrument(4, 48, 127, 44), 'plucked': Instrument(5, 45, 118, 60),
    'celli': Instrument(6, 42, 110, 84), 'basses': Instrument(7, 43, 108, 90),
    'harp': Instrument(8, 46, 127, 40), 'timpani': Instrument(10, 47, 86, 74),
}

# phrase number: instruments of the melody, with transposition
TUNE = {
    0: [('clarinet', 0)], 1: [('violins', 0)], 2: [('violins', 0), ('flute', 12)], 3: [('oboe', 0), ('clarinet', -12)],
    4: [('flute', 0), ('clarinet', 0)], 5: [('violins', 0), ('flute', 12)], 6: [('violins', 0), ('celli', -12)],
    7: [('horns', -12), ('violins', 0)], 8: [('violins', 0), ('oboe', 0)], 11: [('oboe', 0), ('celli', -12)],
    12: [('flute', 0), ('celli', -12)], 16: [('clarinet', 0)], 17: [('violins', 0)],
    18: [('violins', 0), ('flute', 0)], 19: [('violins', 0), ('oboe', 0)],
}
TUTTI = [('violins', 0), ('horns', -12), ('flute', 12)]
LAST = 19
TIMPANI_SILENT = (0, 3, 4)
CHORDS = {'introduction': ['plucked'], 'waltz': ['plucked', 'horns'], 'ropes': ['plucked', 'horns'], 'lanterns': ['harp']}


def orchestra(piece, clock, seed):
    """Strings, winds, horns, harp and a little timpani. Returns notes and no pedal."""
    performer = Performer(piece, clock, seed, 0.006)
    for event in events(piece):
        section = piece.phrases[event.phrase].section
        if event.role == 'melody':
            for name, transpose in TUNE.get(event.number, TUTTI):
                performer.play(event, ORCHESTRA[name], transpose)
        elif event.role == 'bass':
            performer.play(event, ORCHESTRA['basses'])
            performer.play(event, ORCHESTRA['celli'], 12 if section == 'ropes' else 0, 0.8)
            performer.play(event, ORCHESTRA['plucked'], 0, 0.9)
            if event.number == LAST or (event.weight == 1.0 and event.number not in TIMPANI_SILENT):
                performer.play(event, ORCHESTRA['timpani'], 0, 0.6)
        else:
            for name in CHORDS[section]:
                performer.play(event, ORCHESTRA[name], 0, 0.7 if name == 'horns' else 1.1)
    return without_overlap(performer.notes), []
