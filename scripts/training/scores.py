# SPDX-License-Identifier: GPL-3.0-or-later
"""Quantised scores from MIDI files: notes and signatures in quarters, as they are written."""
import bisect
import math
import pathlib
from dataclasses import dataclass, field

import mido

LILYPOND_DEFAULT = 60  # quarters a minute where the typesetter gave no tempo


@dataclass(order=True)
class Note:
    start: float  # in quarters or beats, as said by what holds it
    end: float
    pitch: int
    voice: int


@dataclass
class Signature:
    start: float  # in quarters
    numerator: int
    denominator: int


@dataclass
class Score:
    name: str
    notes: list
    signatures: list
    tempo: float  # quarters a minute, as notated; None where nobody said
    known_bars: bool = False  # true where bar lines need no checking
    programs: dict = field(default_factory=dict)

    @property
    def end(self):
        return max(note.end for note in self.notes)


class BadScore(Exception):
    pass


def read_midi(path):
    """A score typeset with LilyPond. Raises BadScore where it has no usable notes or signatures."""
    try:
        midi = mido.MidiFile(path)
    except (OSError, ValueError, EOFError, IndexError, KeyError) as error:
        raise BadScore(str(error)) from error
    notes, signatures, tempi = [], [], []
    for voice, track in enumerate(midi.tracks):
        sounding, at = {}, 0
        for event in track:
            at += event.time
            quarter = at / midi.ticks_per_beat
            if event.type == 'time_signature':
                signatures.append(Signature(quarter, event.numerator, event.denominator))
            elif event.type == 'set_tempo':
                tempi.append((quarter, 60e6 / event.tempo))
            elif event.type == 'note_on' and event.velocity and event.channel != 9:
                sounding.setdefault((event.channel, event.note), []).append(quarter)
            elif event.type in ('note_on', 'note_off') and sounding.get((event.channel, event.note)):
                start = sounding[event.channel, event.note].pop(0)
                if quarter > start:
                    notes.append(Note(start, quarter, event.note, voice))
    if len(notes) < 30:
        raise BadScore('fewer than 30 notes')
    if not signatures or signatures[0].start > 0:
        raise BadScore('no time signature at its beginning')
    tempo = usual_tempo(tempi, max(note.end for note in notes))
    return Score(pathlib.Path(path).stem, without_doubles(notes), signatures, tempo)


def without_doubles(notes):
    """One note where two voices meet on a key: the longer."""
    longest = {}
    for note in notes:
        key = (round(note.start, 4), note.pitch)
        if key not in longest or longest[key].end < note.end:
            longest[key] = note
    return sorted(longest.values())


def usual_tempo(tempi, end):
    """The tempo that holds longest, or None where only the default is there."""
    lengths = {}
    for (start, tempo), (following, _) in zip(tempi, tempi[1:] + [(end, 0)]):
        lengths[tempo] = lengths.get(tempo, 0) + max(0, following - start)
    if not lengths or (len(lengths) == 1 and round(max(lengths)) == LILYPOND_DEFAULT):
        return None
    return max(lengths, key=lengths.get)


def read_song(folder):
    """A song of POP909: played notes, brought back to the score by the beats that lie beside them."""
    folder = pathlib.Path(folder)
    rows = [[float(x) for x in line.split()] for line in (folder / 'beat_midi.txt').read_text().splitlines() if line]
    times = [row[0] for row in rows]
    ones = [k for k, row in enumerate(rows) if row[1] and row[2]]
    if len(ones) < 8 or any(b - a != 4 for a, b in zip(ones, ones[1:])):
        raise BadScore('bars that are not all of four beats')
    midi = mido.MidiFile(folder / f'{folder.name}.mid')
    notes = []
    for voice, track in enumerate(midi.tracks):
        if track.name in ('MELODY', 'PIANO'):
            notes += played_notes(midi, track, voice, times, ones[0])
    if len(notes) < 100:
        raise BadScore('fewer than 100 notes')
    tempo = 60 * (len(times) - 1) / (times[-1] - times[0])
    return Score(f'POP909-{folder.name}', without_doubles(notes), [Signature(0.0, 4, 4)], tempo, known_bars=True)


def played_notes(midi, track, voice, times, first_one):
    """The notes of one track, on a grid of a sixth and a quarter of a beat, from the first downbeat on."""
    def to_beats(second):
        k = min(max(bisect.bisect_right(times, second) - 1, 0), len(times) - 2)
        beat = k + (second - times[k]) / (times[k + 1] - times[k]) - first_one
        return min((round(beat * grid) / grid for grid in (4, 3)), key=lambda near: abs(near - beat))

    sounding, at, notes = {}, 0, []
    seconds_per_tick = tick_clock(midi)
    for event in track:
        at += event.time
        if event.type not in ('note_on', 'note_off'):
            continue
        if event.type == 'note_on' and event.velocity:
            sounding[event.note] = seconds_per_tick(at)
        elif event.note in sounding:
            start, end = to_beats(sounding.pop(event.note)), to_beats(seconds_per_tick(at))
            if start >= 0:
                notes.append(Note(start, max(end, start + 0.25), event.note, voice))
    return notes


def tick_clock(midi):
    """A function from ticks to seconds."""
    changes, at, second, tempo = [], 0, 0.0, 500000
    for event in mido.merge_tracks(midi.tracks):
        if event.time:
            second += mido.tick2second(event.time, midi.ticks_per_beat, tempo)
            at += event.time
        if event.type == 'set_tempo':
            tempo = event.tempo
            changes.append((at, second, tempo))
    changes = changes or [(0, 0.0, tempo)]
    ticks = [change[0] for change in changes]

    def clock(tick):
        start, base, rate = changes[max(bisect.bisect_right(ticks, tick) - 1, 0)]
        return base + mido.tick2second(tick - start, midi.ticks_per_beat, rate)
    return clock


def likely_tempo(score):
    """Quarters a minute: as notated, drawn towards a usual rate of notes, for many typesetters never chose a tempo."""
    onsets = sorted({round(note.start, 3) for note in score.notes})
    gaps = sorted(b - a for a, b in zip(onsets, onsets[1:]))
    usual_gap = gaps[len(gaps) // 2] if gaps else 0.5
    busy = len(onsets) / max(score.end - onsets[0], 1)
    onsets_per_quarter = math.sqrt(busy / max(usual_gap, 0.1))
    by_density = min(max(60 * 5.0 / onsets_per_quarter, 44), 144)
    trust = 0.2 if score.tempo is None else 0.7
    return math.exp(trust * math.log(score.tempo or 80) + (1 - trust) * math.log(by_density))
