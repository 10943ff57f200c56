# SPDX-License-Identifier: GPL-3.0-or-later
"""What makes a waltz a waltz: metre, tempo, rhythms of the melody, patterns of the accompaniment, for compose.py.

Lengths are in beats; a negative one is a rest. In compound metres a beat is a dotted note and thirds are its eighths.
"""
from dataclasses import dataclass, field

from timing import Manner

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
    freedom: float = 1.0  # of the player, times the usual unevenness
    cells: list = None  # instead of `rhythms`: beats, or a few beats, that bars of the melody are put together from
    tune: bool = True  # false where the pattern is all there is
    voices: int = 1  # that imitate each other
    share: int = 1  # how many of its kind are composed for one of the others

    @property
    def manner(self):
        return Manner(dance=self.dance, freedom=self.freedom)


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

SLOW = [[1], [1], [.5, .5], [.75, .25], [.5, .25, .25], [.25] * 4, [1.5, .5], [2], [.75, .125, .125], [.25, .125, .125, .5],
        [.125] * 8, [1 / 6] * 6, [T] * 3, [-.25, .25, .25, .25], [.875, .125], [.625, .125, .125, .125], [1.75, .25],
        [.125, .375, .5], [1 + T, T, T]]
SLOW_COMPOUND = [[1], [2 * T, T], [T] * 3, [1 / 6] * 6, [.5, 1 / 6, T], [5 / 6, 1 / 6], [T, 1 / 6, 1 / 6, T], [2], [1 + T, 2 * T],
                 [2 * T, 1 / 6, 1 / 6], [1 / 6, 1 / 6, 1 / 6, 1 / 6, T], [1 / 12] * 12, [.5, 1 / 12, 1 / 12, T]]
SINGING = [[1], [2], [1.5, .5], [.75, .25], [.5, .5], [1], [-1], [T, T, T], [.5, .25, .25], [3]]
RUNNING = [[.25] * 4, [.25] * 4, [.5, .25, .25], [.5, .5], [1], [.25, .25, .5], [-.25, .25, .25, .25], [.75, .25]]
RUNNING_COMPOUND = [[T] * 3, [1 / 6] * 6, [T, 1 / 6, 1 / 6, T], [2 * T, T], [1], [.5, 1 / 6, T]]
SPEAKING = [[-.5, .25, .25], [.25] * 4, [.75, .25], [-1], [1], [1.5, .5], [.5, .125, .125, .125, .125], [-.75, .25],
            [1 / 6] * 6, [2], [.125] * 8]
HYMN = [[1], [1], [.5, .5], [2], [1.5, .5]]
DENSE = ['sixteenths', 'sixteenths_turning', 'sixteenths_falling', 'sextuplets', 'sextuplets_turning', 'triplets_repeated',
         'sixteenths_repeated', 'after_sixteenths', 'halved', 'thirty_seconds']
SPARSE = ['halved', 'block', 'held', 'pulsing', 'triplets']
SIX = ['sextuplets', 'sextuplets_turning', 'rocking', 'wide_compound', 'triplets_repeated', 'six_in_line']
BRILLIANT = ['sweeping', 'thirty_seconds', 'broken_octaves', 'murmuring', 'octaves_and_chords', 'sextuplets', 'both_hands']


def of(beats, tempo, cells, patterns, **more):
    return Genre(beats, tempo, [], patterns, cells=cells, **{'share': 2, 'pick_ups': [0, 0, 0, 1, .5, .25], **more})


# The beat goes slowly beneath quick notes: what is written large must not be heard at twice its pace, or four times.
GENRES |= {
    'slow in four': of(4, (24, 54), SLOW, DENSE + SPARSE, chords_in_bar=2),
    'slow in three': of(3, (26, 58), SLOW, DENSE + SPARSE, chords_in_bar=1.5),
    'slow in two': of(2, (22, 60), SLOW, DENSE, chords_in_bar=1.5),
    'slow in six': of(2, (20, 46), SLOW_COMPOUND, SIX, compound=True, chords_in_bar=1.4, pick_ups=[0, T, 1 / 6]),
    'slow in nine': of(3, (22, 52), SLOW_COMPOUND, SIX, compound=True, chords_in_bar=1.4, pick_ups=[0, T]),
    'slow in twelve': of(4, (24, 56), SLOW_COMPOUND, SIX, compound=True, chords_in_bar=2, pick_ups=[0, T]),
    'song in two': of(2, (34, 80), SINGING, DENSE, chords_in_bar=1.4),
    'song in four': of(4, (36, 84), SINGING, DENSE, chords_in_bar=1.6),
    'prelude': of(4, (44, 112), None, ['prelude', 'prelude_in_halves', 'single_line', 'neighbours', 'both_hands'], tune=False,
                  chords_in_bar=1.5, pick_ups=[0]),
    'prelude in three': of(3, (44, 116), None, ['prelude', 'single_line', 'neighbours', 'both_hands'], tune=False, pick_ups=[0]),
    'prelude in six': of(2, (36, 100), None, ['both_hands', 'six_in_line'], tune=False, compound=True, pick_ups=[0]),
    'invention': of(4, (46, 100), RUNNING, ['silent'], voices=2, chords_in_bar=2, pick_ups=[0]),
    'invention in three': of(3, (42, 104), RUNNING, ['silent'], voices=2, chords_in_bar=1.5, pick_ups=[0]),
    'invention in six': of(2, (46, 104), RUNNING_COMPOUND, ['silent'], compound=True, voices=2, pick_ups=[0]),
    'fugue': of(4, (42, 88), RUNNING + SINGING, ['silent'], voices=3, chords_in_bar=2.5, pick_ups=[0]),
    'sarabande': of(3, (30, 64), SLOW, ['silent', 'block'], voices=3, chords_in_bar=1.8, pick_ups=[0]),
    'hymn': of(4, (34, 72), HYMN, ['silent'], voices=4, chords_in_bar=3, pick_ups=[0, 1]),
    'study': of(4, (54, 126), SINGING, BRILLIANT + DENSE, chords_in_bar=1.5),
    'study in three': of(3, (50, 120), SINGING, BRILLIANT + DENSE, chords_in_bar=1.3),
    'rhapsody': of(2, (38, 96), SLOW + SINGING, BRILLIANT, chords_in_bar=1.4, freedom=1.4),
    'fantasia': of(4, (34, 84), SPEAKING, ['held', 'stabs', 'murmuring', 'sweeping', 'held'], chords_in_bar=1.3, freedom=1.9),
    'quick three': of(3, (150, 236), [[1], [1], [.5, .5], [2], [3], [1.5, .5]], ['oom_pah_pah', 'broken', 'block', 'walking'],
                      share=1, chords_in_bar=0.7, pick_ups=[0, 1, .5]),
    'presto': of(2, (116, 190), [[1], [.5, .5], [.25] * 4, [.5, .25, .25], [2]],
                 ['quavers', 'oom_pah', 'sixteenths_turning', 'alberti'], share=1, pick_ups=[0, .5]),
    'scherzo in one': of(1, (54, 104), [[T] * 3, [2 * T, T], [1], [T, 2 * T], [1 / 6] * 6, [.5, 1 / 6, T]], ['waltz_in_one'],
                         share=1, compound=True, chords_in_bar=0.6, pick_ups=[0, T]),
}
