# SPDX-License-Identifier: GPL-3.0-or-later
"""Composes dances and slow pieces to perform: melody, bass and harmony that change on bars, in phrases that come again.

The music is plain, yet has what makes beats hard: pick-ups, hemiolas, ties over the bar line, bars without a note on
the beat, bars of another length, introductions of accompaniment alone, chords that change before the bar.
"""
import math
import random
from dataclasses import dataclass, replace

import numpy as np

import accompaniment
import figuration
from bars import Passage, cut
from genres import GENRES
from scores import Note

LONGEST_S = 190
OTHER_SHARE = 0.35  # of pieces that go over into another kind of music
MODES = {'major': (0, 2, 4, 5, 7, 9, 11), 'minor': (0, 2, 3, 5, 7, 8, 11)}
FOLLOWS = {  # degree: degrees that may follow, from 0
    0: [3, 4, 5, 1, 0, 4, 2], 1: [4, 4, 6, 3], 2: [5, 3], 3: [0, 4, 4, 1], 4: [0, 0, 5, 4], 5: [1, 3, 4, 2], 6: [0, 0]}
MELODY, HARMONY, BASS, DRUMS = 1, 2, 3, 9  # voices
BASS_DRUM, SIDE_DRUM, CYMBAL = 36, 38, 49  # General MIDI


@dataclass(frozen=True)
class Chord:
    root: int
    bass: int
    notes: tuple


@dataclass
class Bar:
    beats: int
    chords: list  # (start, length, Chord)
    melody: list  # (start, length, pitch)
    pattern: str
    hemiola: bool = False  # this bar and the next are three groups of two beats
    voices: list = ()  # (start, length, pitch, voice) of those below the melody that imitate it


class Key:
    def __init__(self, tonic, mode):
        self.tonic, self.mode = tonic, mode
        self.scale = [(tonic + step) % 12 for step in MODES[mode]]

    def chord(self, degree, dice, seventh=False):
        degrees = [degree, degree + 2, degree + 4] + ([degree + 6] if seventh else [])
        notes = tuple(self.scale[d % 7] for d in degrees)
        bass = dice.choices(notes[:3], [8, 2, 1])[0]
        return Chord(notes[0], bass, notes)

    def pitch(self, step):
        """The pitch `step` scale steps above the tonic near middle C."""
        octave, degree = divmod(step, 7)
        return 60 + (self.tonic if self.tonic < 7 else self.tonic - 12) + MODES[self.mode][degree] + 12 * octave


class Composer:
    def __init__(self, genre, dice):
        self.genre, self.dice = genre, dice
        self.key = Key(dice.randrange(12), dice.choice(['major', 'major', 'minor']))
        self.pattern = dice.choice(genre.patterns)
        self.tie_share = dice.choice([0, 0, 0, 0.1, 0.25])
        self.rest_share = dice.choice([0, 0, 0.05, 0.15])
        self.early_chord_share = dice.choice([0, 0, 0, 0.15])
        self.hemiola_share = dice.choice([0, 0, 0.25]) if genre.beats == 3 else 0
        self.odd_bar_share = dice.choice([0, 0, 0, 0.15])
        self.held_share = dice.choice([0, 0, 0, 0.2, 0.4])  # bars in which the accompaniment rests on one chord
        self.drummed = genre.percussion and dice.random() < 0.7
        self.centre = dice.choice([4, 7, 9, 11])  # of the melody, in steps above the tonic
        cells = genre.cells or []
        self.cells = dice.sample(cells, min(len(cells), dice.randint(3, 6)))
        self.octaves = genre.cells is not None and genre.voices == 1 and dice.random() < 0.2
        self.delay = dice.choice([1, 1, 2])  # bars by which voices follow each other

    def progression(self, bars, closing, key):
        """One degree a bar; a half close or a full one."""
        degrees = [self.dice.choice([0, 0, 0, 0, 5, 3, 4])]
        while len(degrees) < bars - 2:
            degrees.append(self.dice.choice(FOLLOWS[degrees[-1]]))
        degrees = degrees[:max(bars - 2, 0)] + ([4, 0] if closing else [self.dice.choice([3, 1, 0]), 4])
        return degrees[-bars:]

    def chords_of_bar(self, degree, beats, key, rhythm_rate):
        chord = key.chord(degree, self.dice, seventh=degree == 4 and self.dice.random() < 0.6)
        if rhythm_rate < 2 and (beats < 2 or self.dice.random() > rhythm_rate - 0.9):
            return [(0, beats, chord)]
        if rhythm_rate >= 2:
            chords, at = [], 0
            while at < beats:
                length = 1 if self.dice.random() < 0.7 else min(2, beats - at)
                chords.append((at, length, chord))
                degree = self.dice.choice(FOLLOWS[degree])
                chord, at = key.chord(degree, self.dice), at + length
            return chords
        at = beats - 1 if beats in (2, 3) else beats - 2
        other = key.chord(self.dice.choice(FOLLOWS[degree]), self.dice)
        return [(0, at, chord), (at, beats - at, other)]

    def rhythm(self, beats):
        if self.cells:
            return self.rhythm_of_cells(beats)
        if beats == self.genre.beats and self.genre.rhythms:
            return self.dice.choice(self.genre.rhythms)
        return [1] * beats

    def rhythm_of_cells(self, beats):
        found, left = [], beats
        while left > 0:
            fitting = [cell for cell in self.cells if sum(map(abs, cell)) <= left + 1e-6] or [[1]]
            cell = self.dice.choice(fitting)
            found += cell
            left -= round(sum(map(abs, cell)))
        return found

    def steps(self, rhythm):
        """Where the melody goes: quick notes mostly run on in one direction."""
        found, way = [], self.dice.choice([-1, 1])
        for length in rhythm:
            if 0 < length <= 0.26:
                way = -way if self.dice.random() < 0.2 else way
                found.append(way if self.dice.random() < 0.85 else 2 * way)
            else:
                found.append(self.dice.choice([-2, -1, -1, 0, 1, 1, 2, 4, -3]))
        return found

    def tune(self, rhythm, steps, chords, key, last, centre=None):
        """The bar's notes: chord tones on the beats, steps between; returns them and the last step."""
        centre = self.centre if centre is None else centre
        notes, at = [], 0.0
        for length, step in zip(rhythm, steps):
            if length > 0 and not (self.dice.random() < self.rest_share and at > 0):
                target = min(max(last + step, centre - 7), centre + 7)
                if abs(at - round(at)) < 1e-6:
                    chord = accompaniment.chord_at(chords, at)
                    target = min((target + k for k in (0, 1, -1, 2, -2)),
                                 key=lambda s: (key.pitch(s) % 12 not in chord.notes, abs(s - target)))
                notes.append((at, length, key.pitch(target)))
                last = target
            at += abs(length)
        return notes, last

    def phrase(self, bars, closing, key, motives):
        """Bars of one phrase; `motives` are (rhythm, steps) by letter, kept for phrases that come again."""
        letters = self.dice.choice(['abac', 'aabc', 'abcd', 'abab', 'aaab'])
        last, made = self.centre + self.dice.randint(-2, 2), []
        for k, degree in enumerate(self.progression(bars, closing, key)):
            letter = letters[k % 4] if k < bars - 1 or not closing else 'z'
            beats = self.genre.beats
            if letter == 'z':
                motive = ([beats - 1, -1] if self.dice.random() < 0.5 and beats > 1 else [beats], [0, 0])
            else:
                motive = self.motive(letter, motives)
            chords = self.chords_of_bar(degree, beats, key, self.genre.chords_in_bar)
            melody, last = self.tune(*motive, chords, key, last) if self.genre.tune else ([], last)
            held = self.genre.tune and self.genre.voices == 1 and self.dice.random() < self.held_share
            made.append(Bar(beats, chords, melody, 'held' if held else self.pattern))
        if self.genre.voices > 1:
            self.imitate(made, letters, closing, key, motives)
        if bars >= 4 and self.dice.random() < self.hemiola_share:
            self.make_hemiola(made[-4], made[-3], key, last)
        return made

    def motive(self, letter, motives):
        if letter not in motives:
            rhythm = self.rhythm(self.genre.beats)
            motives[letter] = rhythm, self.steps(rhythm)
        return motives[letter]

    def imitate(self, made, letters, closing, key, motives):
        """Voices below the melody take up its motives some bars later; at the beginning they wait for their turn."""
        for voice in range(1, self.genre.voices):
            centre = self.centre - round(15 * voice / (self.genre.voices - 1))
            last, behind = centre, voice * self.delay
            waits = not motives.get('begun')
            for k, bar in enumerate(made):
                if waits and k < behind and k < len(made) - 2:
                    continue
                if closing and k == len(made) - 1:
                    notes = [(0, bar.beats, key.pitch(min((centre + i for i in (0, 1, -1, 2, -2)),
                                                          key=lambda s: key.pitch(s) % 12 not in bar.chords[0][2].notes)))]
                else:
                    motive = self.motive(letters[(k - behind) % 4], motives)
                    notes, last = self.tune(*motive, bar.chords, key, last, centre)
                bar.voices = [*bar.voices, *((s, n, p, MELODY + 10 + voice) for s, n, p in notes)]
        motives['begun'] = True

    def make_hemiola(self, first, second, key, last):
        first.hemiola = True
        notes, _ = self.tune([2, 2, 2], [1, 1, -1], first.chords, key, last)
        first.melody = [(at, length, pitch) for at, length, pitch in notes if at < 3]
        second.melody = [(at - 3, length, pitch) for at, length, pitch in notes if at >= 3]

    def section(self, key):
        """Two or four phrases that belong together; the later ones answer the first."""
        motives, length = {}, self.dice.choice([4, 4, 8, 8, 6, 5])
        count = self.dice.choice([2, 2, 4])
        phrases = []
        for k in range(count):
            if k == 2 and self.dice.random() < 0.7:
                phrases.append(phrases[0])
            else:
                phrases.append(self.phrase(length, k % 2 == 1, key, motives))
        return phrases

    def phrases(self):
        """A form of sections, the first coming again: phrases as lists of bars."""
        other = Key((self.key.tonic + self.dice.choice([5, 7, 9, 3])) % 12, self.dice.choice(['major', 'minor']))
        first, second = self.section(self.key), self.section(other)
        new_pattern = self.dice.choice(self.genre.patterns)
        for bar in (bar for phrase in second for bar in phrase if bar.pattern != 'held'):
            bar.pattern = new_pattern
        form = self.dice.choice(['aaba', 'abab', 'aababa', 'abaaba'])
        found = [phrase for letter in form for phrase in {'a': first, 'b': second}[letter]]
        if self.dice.random() < 0.4:
            found.insert(0, self.introduction())
        return [self.with_odd_bar(phrase) for phrase in found]

    def introduction(self):
        chords = [(0, self.genre.beats, self.key.chord(0, self.dice))]
        return [Bar(self.genre.beats, chords, [], self.pattern) for _ in range(self.dice.choice([2, 4, 4]))]

    def with_odd_bar(self, phrase):
        """Now and then a bar of two in four, or of four in three, closes a phrase."""
        if self.dice.random() >= self.odd_bar_share or self.genre.compound or phrase[-1].hemiola:
            return phrase
        beats = {4: 2, 3: 4, 2: 3, 5: 4}[self.genre.beats]
        degree = 4 if self.dice.random() < 0.5 else 0
        chords = [(0, beats, self.key.chord(degree, self.dice))]
        rhythm = self.rhythm(beats)
        melody, _ = self.tune(rhythm, self.steps(rhythm), chords, self.key, self.centre)
        pattern = 'block' if phrase[-1].pattern in ('broken', 'wide_broken', 'bolero', 'habanera') else phrase[-1].pattern
        return phrase + [Bar(beats, chords, melody, pattern)]

    def pick_up(self, length):
        """(start, length, pitch) before a bar line, start negative."""
        if not length:
            return []
        parts = [length] if self.dice.random() < 0.5 or length < 0.4 else [length / 2, length / 2]
        at, step, notes = -length, self.centre - len(parts), []
        for part in parts:
            notes.append((at, part, self.key.pitch(step)))
            at, step = at + part, step + 1
        return notes


def tie_over(notes, share, dice):
    """Some notes that begin bars are swallowed by the note before."""
    for before, note in zip(notes, notes[1:]):
        if abs(before.end - note.start) < 1e-3 and abs(note.start - round(note.start)) < 1e-3 and dice.random() < share:
            before.end, note.end = note.end, note.start
    return [note for note in notes if note.end > note.start]


def laid_out(composer, phrases):
    """The piece as a Passage."""
    genre, dice = composer.genre, composer.dice
    rise = math.ceil(max(genre.pick_ups)) if max(genre.pick_ups) else 0
    pick_up = composer.pick_up(dice.choice(genre.pick_ups))
    at = rise if pick_up else 0
    ones, metres, melody, rest, drums, starts, skip = [], [], [], [], [], [], False
    for phrase in phrases:
        starts.append(len(ones))
        if phrase[0].melody:
            melody += [Note(at + s, at + s + n, p, MELODY) for s, n, p in pick_up if at + s > -1 and clear(melody, at + s)]
        for index, bar in enumerate(phrase):
            melody += [Note(at + s, at + s + n, p, MELODY) for s, n, p in bar.melody]
            rest += [Note(at + s, at + s + n, p, voice) for s, n, p, voice in bar.voices]
            if not skip:
                rest += accompanied(bar, phrase[index + 1] if index + 1 < len(phrase) else None, at, dice, composer)
            drums += drummed(bar, at, index == 0) if composer.drummed and bar.melody else []
            skip = bar.hemiola
            ones.append(at)
            metres.append(bar.beats)
            at += bar.beats
    melody = tie_over(sorted(melody), composer.tie_share, dice)
    if composer.octaves:
        melody += [Note(n.start, n.end, n.pitch + 12, MELODY) for n in melody if n.pitch < 84]
    notes = sorted(melody + rest)
    return Passage(notes, ones, at, [1.0] * at, metres, genre.compound, drums, starts)


def drummed(bar, at, cymbal):
    """Bass drum on the first beat, side drum on the others and between; a cymbal where a phrase begins."""
    hits = [(0, BASS_DRUM)] + ([(0, CYMBAL)] if cymbal else [])
    hits += [(k, SIDE_DRUM) for k in range(1, bar.beats)] + [(bar.beats - 0.5, SIDE_DRUM)]
    return [Note(at + k, at + k + 0.2, drum, DRUMS) for k, drum in hits]


def clear(melody, start):
    return not melody or max(note.end for note in melody[-3:]) <= start + 1e-3 or shorten(melody, start)


def shorten(melody, start):
    """Let the last note go early for the pick-up; false where it has only just begun."""
    last = melody[-1]
    if last.start > start - 0.2:
        return False
    last.end = min(last.end, start)
    return True


def accompanied(bar, following, at, dice, composer):
    beats, chords = bar.beats, bar.chords
    if bar.hemiola and following:
        beats = 6
        chords = bar.chords + [(3 + s, n, c) for s, n, c in following.chords]
    name = 'hemiola' if bar.hemiola and following else bar.pattern
    pattern = getattr(accompaniment, name, None) or getattr(figuration, name)
    early = 0.5 if following and dice.random() < composer.early_chord_share else 0
    notes = []
    for start, length, pitches in pattern(chords, beats, dice):
        shift = early if start == 0 and at > 0 else 0
        for pitch in pitches:
            voice = BASS if pitch < 50 and start == int(start) else HARMONY
            notes.append(Note(at + start - shift, at + start + max(length, 0.1), pitch, voice))
    return notes


def movement(genre, dice, longest_s):
    """Music of one kind: (Passage, usual seconds of a beat), at least `longest_s` long or 60 phrases."""
    beat_s = 60 / math.exp(dice.uniform(*(math.log(t) for t in genre.tempo)))
    composer = Composer(genre, dice)
    phrases, beats = [], 0
    while beats * beat_s < longest_s and len(phrases) < 60:
        more = composer.phrases()
        phrases += more
        beats += sum(bar.beats for phrase in more for bar in phrase)
    return laid_out(composer, phrases), beat_s


def beginning(passage, beat_s, seconds):
    """Whole phrases, as many as begin within so many seconds, two at least."""
    starts = [bar for bar in passage.phrase_bars if passage.ones[bar] * beat_s < seconds]
    end = max(starts[-1], passage.phrase_bars[min(2, len(passage.phrase_bars) - 1)])
    return cut(passage, 0, end) if end else passage


def followed(first, second, times_longer):
    """One passage after the other; a beat of the second lasts `times_longer`, which `quarters_per_beat` tells."""
    shift, bars = first.beat_count - second.ones[0], len(first.ones)

    def later(notes):
        return [replace(n, start=n.start + shift, end=n.end + shift) for n in notes]
    return replace(first, notes=sorted(first.notes + later(second.notes)), drums=first.drums + later(second.drums),
                   ones=first.ones + [one + shift for one in second.ones], metres=first.metres + second.metres,
                   beat_count=shift + second.beat_count, phrase_bars=first.phrase_bars + [bars + b for b in second.phrase_bars],
                   quarters_per_beat=[1.0] * first.beat_count + [times_longer] * (shift + second.beat_count - first.beat_count))


def compose(seed):
    """A piece: (name, Passage, usual seconds of a beat, Manner). Some go over into another kind, and back."""
    dice = random.Random(f'compose {seed}')
    names = [name for name in sorted(GENRES) for _ in range(GENRES[name].share)]
    name = names[seed // 2 % len(names)]  # seeds of one batch are two apart
    genre = GENRES[name]
    passage, beat_s = movement(genre, dice, LONGEST_S)
    if dice.random() < OTHER_SHARE:
        other = dice.choice([n for n in names if GENRES[n].compound == genre.compound and n != name])
        part = beginning(passage, beat_s, dice.uniform(20, 60))
        second, second_s = movement(GENRES[other], dice, LONGEST_S)
        second = beginning(second, second_s, dice.uniform(25, 70))
        name, found = f'{name}, {other}', followed(part, second, second_s / beat_s)
        if dice.random() < 0.6:
            found = followed(found, part, 1.0)
        return f'composed {name}', found, float(np.median(found.quarters_per_beat)) * beat_s, genre.manner
    return f'composed {name}', passage, beat_s, genre.manner
