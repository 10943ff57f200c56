#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The performer of training data: truth on the notes, whole bars, pick-ups found, the same bytes from the same seed."""
import pathlib
import random
import sys
import tempfile
import unittest

try:
    import mido
    import numpy as np
    import scipy  # noqa: F401
except ImportError as error:
    print(f'skipped: {error}')
    sys.exit(77)

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[2] / 'scripts' / 'training'))
import accompaniment  # noqa: E402
import bars  # noqa: E402
import compose  # noqa: E402
import figuration  # noqa: E402
import genres  # noqa: E402
import hands  # noqa: E402
import perform  # noqa: E402
import scores  # noqa: E402
import sound  # noqa: E402
import timing  # noqa: E402

STRICT = hands.TouchStyle(loudness=60, range=5, melody_louder=5, metre_accent=2, spread_s=0, lead_s=0, bass_first_s=0,
                          rubato_s=0, roll_share=0, legato=1, staccato_share=0, pedal=False, ornaments=0, uneven_inside=0)


def piece(genre, seed=0):
    """A composed passage of this genre."""
    return compose.compose(2 * (seed * len(genres.GENRES) + sorted(genres.GENRES).index(genre)))[1]


def note_ons(midi):
    """Seconds at which a file's notes begin; one tick is a millisecond."""
    at, found = 0, set()
    for event in midi.tracks[0]:
        at += event.time
        if event.type == 'note_on' and event.velocity:
            found.add(at / 1000)
    return sorted(found)


def write_score(path, passage, numerator, denominator, quarters_per_beat):
    """As LilyPond writes it: the file begins with the pick-up, and only the signature tells of bars."""
    first = min(note.start for note in passage.notes)
    events = []
    for note in passage.notes:
        for at, kind in ((note.start, 'note_on'), (note.end, 'note_off')):
            events.append((round((at - first) * quarters_per_beat * 384), kind == 'note_on', kind, note.pitch))
    track, now = mido.MidiTrack(), 0
    track.append(mido.MetaMessage('time_signature', numerator=numerator, denominator=denominator))
    for at, _, kind, pitch in sorted(events):
        track.append(mido.Message(kind, note=pitch, velocity=64 if kind == 'note_on' else 0, time=at - now))
        now = at
    midi = mido.MidiFile(ticks_per_beat=384)
    midi.tracks.append(track)
    midi.save(path)
    return first


class Composing(unittest.TestCase):
    def test_every_rhythm_fills_its_bar(self):
        for name, genre in genres.GENRES.items():
            for rhythm in genre.rhythms:
                self.assertAlmostEqual(sum(map(abs, rhythm)), genre.beats, msg=f'{name}: {rhythm}')

    def test_every_pattern_begins_and_stays_in_its_bar(self):
        chord = compose.Key(0, 'major').chord(0, random.Random(1))
        for name, genre in genres.GENRES.items():
            for pattern in genre.patterns:
                for start, length, pitches in (getattr(accompaniment, pattern, None) or getattr(figuration, pattern))([(0, genre.beats, chord)], genre.beats,
                                                                             random.Random(2)):
                    self.assertTrue(0 <= start < genre.beats and length > 0 and pitches, f'{name}: {pattern}')

    def test_bars_add_up(self):
        for genre in genres.GENRES:
            passage = piece(genre)
            ends = [one + beats for one, beats in zip(passage.ones, passage.metres)]
            self.assertEqual(ends, passage.ones[1:] + [passage.beat_count], genre)

    def test_a_cut_keeps_bars_and_notes(self):
        passage = piece('march')
        part = bars.cut(passage, 5, 13)
        start = passage.ones[5]
        self.assertEqual(part.ones, [one - start for one in passage.ones[5:13]])
        self.assertEqual(part.beat_count, passage.ones[13] - start)
        wanted = sorted((n.start - start, n.pitch) for n in passage.notes if start <= n.start < passage.ones[13])
        self.assertEqual(sorted((n.start, n.pitch) for n in part.notes), wanted)


class Truth(unittest.TestCase):
    def test_an_even_clock_gives_even_beats(self):
        clock = timing.Clock(np.full(20, 0.5), np.full(20, 0.1))
        for beat in range(21):
            self.assertAlmostEqual(clock.at(beat), beat / 2)
        self.assertGreater(clock.at(3.5), 1.75)

    def test_beats_lie_on_note_ons_of_the_file_played(self):
        for genre in ('waltz', 'adagio', 'tarantella', 'in five'):
            passage = bars.cut(piece(genre), 0, 24)
            dice, generator = random.Random(3), np.random.default_rng(3)
            lengths = generator.uniform(0.4, 0.8, passage.beat_count)
            clock = timing.Clock(lengths)
            phrases = timing.find_phrases(passage, dice)
            notes = hands.Player(passage, phrases, clock, STRICT, dice, generator).play()
            truth = hands.true_beats(notes, passage, clock)
            instruments = {'kind': 'piano', 'program': 0, 'font': 'fluid'}
            ons = np.array(note_ons(sound.midi_file(notes, [], instruments, 2.0, random.Random(1))))
            written = {round(n.start) for n in passage.notes if abs(n.start - round(n.start)) < 1e-3}
            self.assertGreater(len(written), 0.5 * passage.beat_count)
            for beat, (at, one, *_) in enumerate(truth):
                self.assertAlmostEqual(at, sum(lengths[:beat]), places=6)
                self.assertEqual(one, beat in passage.ones)
                if beat in written:
                    self.assertLess(np.abs(ons - 2.0 - at).min(), 0.0011, f'{genre}, beat {beat}')

    def test_a_free_player_keeps_beats_amid_their_notes(self):
        for seed in range(6):
            _, passage, beat_s, dance = compose.compose(seed * 2)
            notes, _, beats, _ = perform.perform(passage, beat_s, seed, dance)
            times = np.array([at for at, *_ in beats])
            self.assertTrue((np.diff(times) > 0.05).all())
            starts = np.array([n.start_s for n in notes])
            near = np.array([np.abs(starts - at).min() for at in times])
            self.assertLess(np.median(near), 0.04)

    def test_seconds_stay_within_what_was_asked(self):
        for seed in range(0, 12, 2):
            _, passage, beat_s, dance = compose.compose(seed)
            _, _, beats, _ = perform.perform(passage, beat_s, seed, dance)
            self.assertTrue(35 < beats[-1][0] - beats[0][0] < 260)


class Reading(unittest.TestCase):
    def read_back(self, genre, seed, signature, quarters_per_beat):
        passage = piece(genre, seed)
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder) / 'score.midi'
            first = write_score(path, passage, *signature, quarters_per_beat)
            score = scores.read_midi(path)
        return passage, first, bars.passages(score, 100)

    def test_pick_ups_are_found_by_the_accents(self):
        found, wrong = 0, 0
        for genre, signature, quarters in (('waltz', (3, 4), 1), ('polka', (2, 4), 1), ('march', (4, 4), 1),
                                           ('tarantella', (6, 8), 1.5), ('mazurka', (3, 4), 1)):
            for seed in range(8):
                passage, first, read = self.read_back(genre, seed, signature, quarters)
                if len(set(passage.metres)) > 1 or not read or not read[0].bars_known:
                    continue
                longest = read[0]
                bar = passage.metres[0]
                lead = (passage.ones[0] - first) % bar
                notes_lead = (longest.ones[0] - longest.notes[0].start) % bar
                if len(read) == 1:
                    right = abs(notes_lead - lead) < 0.01
                    found, wrong = found + right, wrong + (not right)
        self.assertGreater(found, 6)
        self.assertLess(wrong, 0.2 * found)

    def test_a_score_without_a_signature_is_refused(self):
        midi = mido.MidiFile()
        track = mido.MidiTrack()
        for _ in range(40):
            track += [mido.Message('note_on', note=60, velocity=64, time=0), mido.Message('note_off', note=60, time=120)]
        midi.tracks.append(track)
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder) / 'score.midi'
            midi.save(path)
            with self.assertRaises(scores.BadScore):
                scores.read_midi(path)

    def test_compound_bars_have_dotted_beats(self):
        self.assertEqual(bars.metre_of(scores.Signature(0, 6, 8), 60).beats_in_bar, 2)
        self.assertEqual(bars.metre_of(scores.Signature(0, 12, 8), 60).quarters_in_beat, 1.5)
        self.assertEqual(bars.metre_of(scores.Signature(0, 2, 2), 100).quarters_in_beat, 2)
        self.assertEqual(bars.metre_of(scores.Signature(0, 3, 8), 60).beats_in_bar, 3)
        self.assertEqual(bars.metre_of(scores.Signature(0, 3, 8), 140).beats_in_bar, 1)
        self.assertIsNone(bars.metre_of(scores.Signature(0, 2, 1), 100))


class Repeating(unittest.TestCase):
    def played(self, seed):
        name, passage, beat_s, dance = compose.compose(4)
        notes, pedal_s, beats, _ = perform.perform(passage, beat_s, seed, dance)
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder) / 'a.mid'
            instruments = {'kind': 'orchestra', 'program': None, 'font': 'fluid'}
            sound.midi_file(notes, pedal_s, instruments, 1.0, random.Random(5)).save(path)
            return path.read_bytes(), beats

    def test_the_same_seed_gives_the_same_bytes_and_another_does_not(self):
        self.assertEqual(self.played(7), self.played(7))
        self.assertNotEqual(self.played(7)[0], self.played(8)[0])

    def test_damage_repeats_and_keeps_the_length(self):
        samples = np.sin(np.arange(sound.RATE) * 0.05)
        damage = {'level_db': -6, 'room_s': 0.5, 'room_db': -6, 'noise_db': -30, 'noise_colour': 1, 'hum_hz': 50,
                  'hum_db': -30, 'band_hz': [100, 4000], 'clip_db': 3, 'noises': {'steps': -10, 'knocks': -12}}
        first, second = (sound.damaged(samples, damage, random.Random(1), np.random.default_rng(1)) for _ in range(2))
        self.assertEqual(len(first), len(samples))
        self.assertTrue((first == second).all())
        self.assertAlmostEqual(np.abs(first).max(), 10 ** (-6 / 20), places=6)


if __name__ == '__main__':
    unittest.main()
