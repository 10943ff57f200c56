# SPDX-License-Identifier: GPL-3.0-or-later
"""What makes a waltz a waltz: metre, tempo, rhythms of the melody, patterns of the accompaniment, for compose.py.

Lengths are in beats; a negative one is a rest. In compound metres a beat is a dotted note and thirds are its eighths.
"""
from dataclasses import dataclass, field

T = 1 / 3


@dataclass
class Genre:
    beats: int  # in a bar
    tempo: tuple  # beats a minute, least and greatest
    rhythms: list  # bars of the melody
    patterns: list  # names of functions in accompaniment.py
    compound: bool = False
    pick_ups: list = field(default_factory=lambda: [0])  # beats before the first bar
    chords_in_bar: float = 1.0  # mean
    dance: str = ''
    percussion: bool = False


GENRES = {
    'waltz': Genre(3, (100, 200), [[2, 1], [1, 1, 1], [3], [1.5, .5, 1], [2, .5, .5], [.5] * 6, [1, 2], [-1, 1, 1],
                                   [1, .5, .5, .5, .5]],
                   ['oom_pah_pah', 'oom_pah_pah', 'bass_and_one', 'after_beats'], pick_ups=[0, 0, 1, .5], chords_in_bar=0.8,
                   dance='waltz'),
    'slow waltz': Genre(3, (55, 105), [[2, 1], [1, 1, 1], [3], [1.5, .5, 1], [2, .5, .5], [.5, .5, 2], [-.5, .5, 1, 1]],
                        ['oom_pah_pah', 'broken', 'wide_broken', 'block'], pick_ups=[0, 0, 1], dance='waltz'),
    'mazurka': Genre(3, (95, 170), [[.75, .25, 1, 1], [.5, .5, 1, 1], [.5, .5, 2], [1, 2], [.75, .25, 2], [T, T, T, 1, 1],
                                    [1, 1.5, .5]],
                     ['oom_pah_pah', 'bass_and_one', 'drone'], pick_ups=[0, .25, 1], dance='mazurka'),
    'minuet': Genre(3, (90, 150), [[1, 1, 1], [1, .5, .5, .5, .5], [2, 1], [.5] * 6, [3], [1, 2], [1.5, .5, 1]],
                    ['walking', 'two_voices', 'oom_pah_pah', 'alberti'], pick_ups=[0, 0, 1]),
    'bolero': Genre(3, (75, 115), [[.5, .5, .5, .5, 1], [1.5, .5, .5, .5], [1, 1, 1], [3], [.75, .25, 1, .5, .5]],
                    ['bolero', 'oom_pah_pah'], percussion=True),
    'polka': Genre(2, (95, 135), [[.5, .5, .5, .5], [.5, .25, .25, .5, .5], [.25] * 4 + [.5, .5], [1, 1], [.5, .5, 1],
                                  [.75, .25, .5, .5], [.25, .5, .25, 1]],
                   ['oom_pah', 'oom_pah', 'alberti'], pick_ups=[0, .5, .25], percussion=True),
    'galop': Genre(2, (130, 172), [[.5, .5, .5, .5], [1, .5, .5], [1, 1], [.5, .25, .25, .5, .5], [2], [.25] * 8],
                   ['oom_pah', 'quavers'], pick_ups=[0, .5, 1], chords_in_bar=0.7, percussion=True),
    'march': Genre(4, (84, 132), [[1.5, .5, 1, 1], [1, 1, 1, 1], [.75, .25, .75, .25, 1, 1], [2, 1.5, .5], [2, 2],
                                  [1, .5, .5, 1, 1], [1, 1, 2]],
                   ['oom_pah', 'block', 'march_bass'], pick_ups=[0, 1, .25, .5], percussion=True),
    'tarantella': Genre(2, (120, 168), [[T] * 6, [2 * T, T, 2 * T, T], [1, 2 * T, T], [1, 1], [T, T, T, 1], [2 * T, T, 1]],
                        ['jig_bass', 'oom_pah_compound'], compound=True, pick_ups=[0, T], chords_in_bar=0.7),
    'barcarolle': Genre(2, (38, 72), [[2 * T, T, 2 * T, T], [1, 2 * T, T], [2], [5 * T, T], [1 + T, T, T], [T] * 6],
                        ['rocking', 'wide_compound'], compound=True, pick_ups=[0, T, 2 * T]),
    'siciliano': Genre(4, (50, 84), [[.5, 1 / 6, T] * 4, [.5, 1 / 6, T, 1, .5, 1 / 6, T, 1], [2, 2], [1, 1, 2],
                                     [2 * T, T, 2 * T, T, 1, 1]],
                       ['rocking', 'block'], compound=True, pick_ups=[0, T]),
    'adagio': Genre(4, (38, 76), [[2, 1, 1], [3, 1], [1.5, .5, 2], [4], [2, 2], [1, .5, .5, 1, 1], [1, 1, 1, .5, .5],
                                  [2.5, .5, .5, .5], [-1, 1, 1, 1]],
                    ['broken', 'wide_broken', 'block', 'pulsing', 'held'], pick_ups=[0, 0, 1, .5], chords_in_bar=1.4),
    'nocturne': Genre(4, (52, 96), [[2, 1, 1], [3, .5, .5], [1.5, .5, 1.5, .5], [4], [1, T, T, T, 2], [1, .5, .5, 2],
                                    [.5, 1, .5, 2]],
                      ['wide_broken', 'triplets', 'oom_pah'], pick_ups=[0, 1, .5], chords_in_bar=1.3),
    'allegro': Genre(4, (105, 165), [[1, 1, 1, 1], [2, 1, 1], [.5] * 8, [1.5, .5, 1, 1], [2, 2], [.5, .5, 1, .5, .5, 1],
                                     [1, -1, 1, -1], [.5, 1, 1, 1, .5]],
                     ['alberti', 'quavers', 'block', 'syncopated', 'walking'], pick_ups=[0, 0, 1, .5, 1.5], chords_in_bar=1.3),
    'gavotte': Genre(2, (62, 90), [[.5, .5, .5, .5], [1, .5, .5], [.5, .5, 1], [1, 1], [.5, .25, .25, .5, .5], [.25] * 4 + [1]],
                     ['walking', 'oom_pah', 'two_voices'], pick_ups=[1, 1, 0]),
    'habanera': Genre(2, (52, 78), [[T, T, T, .5, .5], [.75, .25, .5, .5], [1, 1], [.5, .5, 1], [-.5, .5, .5, .5], [2]],
                      ['habanera'], pick_ups=[0, .5]),
    'in five': Genre(5, (84, 168), [[3, 2], [1, 1, 1, 2], [1, 1, 1, 1, 1], [1.5, .5, 1, 1, 1], [2, 1, 2], [1, .5, .5, 1, 1, 1],
                                    [5]],
                     ['three_and_two', 'block', 'walking'], pick_ups=[0, 0, 1]),
    'chorale': Genre(4, (52, 96), [[1, 1, 1, 1], [2, 2], [1, 1, 2], [1, .5, .5, 1, 1], [4], [3, 1]],
                     ['block', 'block', 'two_voices'], pick_ups=[0, 1, 1], chords_in_bar=3),
    'ragged': Genre(2, (70, 108), [[.25, .5, .25, .5, .5], [.25, .5, .5, .5, .25], [.5, .5, .25, .5, .25], [1, 1],
                                   [.25, .25, .5, .25, .5, .25]],
                    ['oom_pah'], pick_ups=[0, .5, .25]),
}
