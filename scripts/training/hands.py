# SPDX-License-Identifier: GPL-3.0-or-later
"""From the score to keys and bows: when each note really begins, how loud it is, how long it sounds."""
import bisect
import math
from dataclasses import dataclass

import numpy as np


@dataclass
class Played:
    start_s: float
    end_s: float
    pitch: int
    velocity: int
    role: str  # 'melody', 'inner' or 'bass'
    voice: int
    beat: float  # where the score has it; NaN for an ornament


@dataclass
class TouchStyle:
    loudness: float  # mean velocity
    range: float  # of the dynamics, in velocity
    melody_louder: float
    metre_accent: float
    spread_s: float  # standard deviation of each note
    lead_s: float  # the melody before the rest
    bass_first_s: float  # left hand before the right
    rubato_s: float  # slow wander of the melody against the bass
    roll_share: float  # chords that are rolled
    legato: float  # length of notes, times the written
    staccato_share: float  # of accompaniment bars
    pedal: bool
    ornaments: float  # a beat
    uneven_inside: float  # shift of notes inside a beat, share of the beat


def draw_touch(dice, unevenness):
    free = min(unevenness / 0.12, 2.5)
    return TouchStyle(
        loudness=dice.uniform(42, 84), range=dice.uniform(3, 16), melody_louder=dice.uniform(2, 18),
        metre_accent=dice.gauss(2, 3), spread_s=dice.uniform(0.003, 0.012),
        lead_s=dice.uniform(0, 0.025), bass_first_s=dice.choice([0, 0, 0, dice.uniform(0.01, 0.06) * min(free, 1.5)]),
        rubato_s=dice.choice([0, dice.uniform(0, 0.03) * free]),
        roll_share=dice.choice([0, 0, 0.03, 0.08, dice.uniform(0.1, 0.4)]),
        legato=dice.uniform(0.8, 1.08), staccato_share=dice.choice([0, 0, 0.2, 0.6]),
        pedal=dice.random() < 0.7, ornaments=dice.choice([0, 0, dice.uniform(0.005, 0.05)]),
        uneven_inside=dice.uniform(0.01, 0.05) * min(free, 2))


def roles(notes):
    """'melody' for the highest sounding where it begins, 'bass' for the lowest, 'inner' for the rest."""
    found, sounding, k = [None] * len(notes), [], 0
    while k < len(notes):
        at = notes[k].start
        together = []
        while k < len(notes) and notes[k].start < at + 1e-4:
            together.append(k)
            k += 1
        sounding = [n for n in sounding if n.end > at + 1e-4] + [notes[i] for i in together]
        top, low = max(n.pitch for n in sounding), min(n.pitch for n in sounding)
        for i in together:
            pitch = notes[i].pitch
            found[i] = 'melody' if pitch == top else 'bass' if pitch == low and pitch < 62 else 'inner'
    return found


def smooth_noise(count, generator, width):
    noise = np.convolve(generator.normal(size=count + 2 * width), np.hanning(2 * width + 1), 'valid')
    return noise / (noise.std() + 1e-9)


def dynamics(passage, phrases, touch, dice, generator):
    """Velocity of each beat: a level for each phrase, a hairpin over it, swells."""
    count = passage.beat_count
    level = touch.range * 0.5 * smooth_noise(count, generator, 4)
    edges = phrases.starts + [count]
    for start, end in zip(edges, edges[1:]):
        place = np.linspace(-1, 1, end - start)
        shape = dice.choice([1 - place ** 2, place, -place, 0 * place])
        level[start:end] += touch.range * (dice.gauss(0, 0.6) + dice.uniform(0, 1) * shape)
    if dice.random() < 0.3 and len(phrases.starts) > 3:  # a soft, or a loud, passage
        start = dice.choice(phrases.starts[1:])
        level[start:start + 16] += dice.choice([-1.5, -1.5, 1]) * touch.range
    return level


class Player:
    def __init__(self, passage, phrases, clock, touch, dice, generator):
        self.passage, self.clock, self.touch, self.dice = passage, clock, touch, dice
        count = passage.beat_count
        self.level = dynamics(passage, phrases, touch, dice, generator)
        self.rubato = touch.rubato_s * smooth_noise(count, generator, 3)
        self.inside = {}
        self.ones = set(passage.ones)
        self.dry = {one: dice.random() < touch.staccato_share for one in passage.ones}

    def onset(self, note, role):
        """The hands share what happens inside a beat; the melody goes its own way a little."""
        key = round(note.start, 3)
        if key not in self.inside:
            beat_s = self.clock.at(note.start + 0.5) - self.clock.at(note.start - 0.5)
            on_beat = abs(note.start - round(note.start)) < 1e-3
            self.inside[key] = 0.0 if on_beat else self.dice.gauss(0, self.touch.uneven_inside) * min(beat_s, 1.0)
        at = self.clock.at(note.start) + self.inside[key] + self.dice.gauss(0, self.touch.spread_s)
        if role == 'melody':
            beat = min(max(int(note.start), 0), len(self.rubato) - 1)
            at += self.rubato[beat] - self.touch.lead_s
        elif role == 'bass':
            at -= self.touch.bass_first_s
        return at

    def velocity(self, note, role):
        beat = min(max(int(note.start + 1e-3), 0), len(self.level) - 1)
        value = self.touch.loudness + self.level[beat] + self.dice.gauss(0, 3)
        value += {'melody': self.touch.melody_louder, 'bass': 0.2 * self.touch.melody_louder, 'inner': 0}[role]
        if abs(note.start - round(note.start)) < 1e-3:
            value += self.touch.metre_accent * (1.5 if round(note.start) in self.ones else 0.5)
        return int(min(max(value, 12), 122))

    def end(self, note, role, start_s):
        written = self.clock.at(note.end) - self.clock.at(note.start)
        length = written * self.touch.legato * self.dice.uniform(0.92, 1.05)
        bar = self.passage.ones[max(bisect.bisect_right(self.passage.ones, note.start + 1e-3) - 1, 0)]
        if role != 'melody' and self.dry.get(bar) and note.end - note.start <= 1:
            length = min(length, max(0.07, 0.4 * written))
        return start_s + max(length, 0.05)

    def play(self):
        notes, played = self.passage.notes, []
        for note, role in zip(notes, roles(notes)):
            start = self.onset(note, role)
            played.append(Played(start, self.end(note, role, start), note.pitch, self.velocity(note, role), role,
                                 note.voice, note.start))
        self.roll_chords(played)
        return played + self.ornaments(played) + self.drums()

    def drums(self):
        """Side drum, bass drum and cymbals; they mark no true beat, for not every arrangement has them."""
        played = []
        for note in self.passage.drums:
            start = self.clock.at(note.start) + self.dice.gauss(0, self.touch.spread_s)
            velocity = int(min(max(self.velocity(note, 'inner') * self.dice.uniform(0.6, 0.9), 10), 110))
            played.append(Played(start, start + 0.1, note.pitch, velocity, 'drum', note.voice, math.nan))
        return played

    def roll_chords(self, played):
        groups = {}
        for note in played:
            groups.setdefault(round(note.beat, 3), []).append(note)
        for group in groups.values():
            if len(group) >= 3 and self.dice.random() < self.touch.roll_share:
                step = self.dice.uniform(0.012, 0.05)
                before = self.dice.choice([0, 0.5, 1]) * step * (len(group) - 1)
                first = float(np.mean([n.start_s for n in group]))
                for k, note in enumerate(sorted(group, key=lambda n: n.pitch)):
                    note.start_s = first - before + k * step
                    note.end_s = max(note.end_s, note.start_s + 0.05)

    def ornaments(self, played):
        added = []
        for note in played:
            if note.role != 'melody' or self.dice.random() >= self.touch.ornaments * 2:
                continue
            length = note.end_s - note.start_s
            neighbour = note.pitch + self.dice.choice([1, 2, 2])
            if length > 0.7 and self.dice.random() < 0.5:
                added += self.trill(note, neighbour)
            elif length > 0.25 and self.dice.random() < 0.3:
                added += self.mordent(note, neighbour)
            else:
                start = note.start_s - self.dice.uniform(0.04, 0.09)
                added.append(Played(start, note.start_s, neighbour - self.dice.choice([0, 3]), note.velocity - 8,
                                    'melody', note.voice, math.nan))
        return added

    def mordent(self, note, neighbour):
        """The note, its neighbour, the note again: on the beat."""
        step, end = self.dice.uniform(0.05, 0.08), note.end_s
        note.end_s = note.start_s + step
        return [Played(note.start_s + step, note.start_s + 2 * step, neighbour, note.velocity - 8, 'melody', note.voice,
                       math.nan),
                Played(note.start_s + 2 * step, end, note.pitch, note.velocity - 4, 'melody', note.voice, math.nan)]

    def trill(self, note, neighbour):
        step, at, k = self.dice.uniform(0.055, 0.09), note.start_s, 0
        stop, added = note.end_s - 0.1, []
        note.end_s = at + step
        while at + step < stop:
            at, k = at + step * self.dice.uniform(0.9, 1.1), k + 1
            added.append(Played(at, at + step, neighbour if k % 2 else note.pitch, note.velocity - 10, 'melody',
                                note.voice, math.nan))
        return added


def pedals(played, passage, clock, dice):
    """Times at which the pedal is changed: on bars, on half bars, or where the bass moves."""
    kind = dice.choice(['bar', 'bass', 'beats'])
    if kind == 'bass':
        times = sorted({round(n.beat, 3) for n in played if n.role == 'bass'})
    elif kind == 'bar':
        times = passage.ones
    else:
        times = list(range(0, passage.beat_count, 2 if passage.metres[0] % 2 == 0 else 1))
    return [clock.at(t) for t in times]


def true_beats(played, passage, clock):
    """(seconds, whether a downbeat, which beat): the mean of the notes that begin on it, or where the clock has it."""
    on_beat = {}
    for note in played:
        if not math.isnan(note.beat) and abs(note.beat - round(note.beat)) < 1e-3:
            on_beat.setdefault(round(note.beat), []).append(note.start_s)
    ones = set(passage.ones)
    return [(float(np.mean(on_beat[beat])) if beat in on_beat else clock.at(beat), beat in ones, beat)
            for beat in range(passage.beat_count)]
