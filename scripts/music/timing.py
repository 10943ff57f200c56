# SPDX-License-Identifier: GPL-3.0-or-later
"""A living tempo: from the score's beats to seconds.

Each phrase hurries a little towards its middle and slows into its end; the slowing follows the model of a runner who
comes to a stop (Friberg and Sundberg 1999, 'Does music performance allude to locomotion?').
"""
import random
from dataclasses import dataclass, field


@dataclass
class Interpretation:
    seed: int
    beats_per_minute: dict  # by section
    arc: float  # how much quicker the middle of a phrase is, as a part of the tempo
    phrase_end: float  # tempo at the end of a phrase, as a part of the tempo before
    section_end: float
    last_end: float
    hold_s: float
    early_second: float  # how early the second beat of a waltz bar comes, in beats
    unsteadiness: float  # spread of single beats, as a part of their length
    lead_s: float = 0.8  # silence before the first note
    phrase_pace: dict = field(default_factory=dict)  # phrase number: tempo, as a part of the section's


@dataclass
class Beat:
    time_s: float
    phrase: int  # index into the piece's phrases; -1 is the pick-up
    bar: int  # in the phrase
    beat: int  # in the bar, from 0
    length_s: float = 0.0  # without a hold
    hold_s: float = 0.0  # after it


def slowing(end, x):
    """Tempo at x (0 to 1) of a way from tempo 1 to tempo `end`: cubic in speed, as runners stop."""
    return (1 + (end ** 3 - 1) * x) ** (1 / 3)


def pace(interpretation, phrase, is_last, x):
    """Tempo at x (0 to 1) of a phrase, as a part of the section's tempo."""
    end, begin = interpretation.phrase_end, 0.75
    if phrase.ends_section:
        end, begin = interpretation.section_end, 0.6
    if is_last:
        end, begin = interpretation.last_end, 0.35
    arc = 1 + interpretation.arc * (4 * x * (1 - x) - 0.5)
    return arc * (slowing(end, (x - begin) / (1 - begin)) if x > begin else 1)


def beat_times(piece, interpretation):
    """Every beat of the piece with its time; the last entry is the end of the music."""
    dice = random.Random(interpretation.seed)
    tempo = interpretation.beats_per_minute
    beats, now = [], interpretation.lead_s
    length = 60 / tempo[piece.phrases[0].section]
    beats.append(Beat(now, -1, 0, piece.phrases[0].beats_in_bar - 1, length))
    now += length
    wander = 0.0
    number = 0
    for index, phrase in enumerate(piece.phrases):
        number += phrase.counted
        n = len(phrase.bars) * phrase.beats_in_bar
        factor = interpretation.phrase_pace.get(number, 1.0) if phrase.counted else 1.0
        for k in range(n):
            x = (k + 0.5) / n
            is_last = index == len(piece.phrases) - 1
            wander = 0.5 * wander + dice.gauss(0, interpretation.unsteadiness)
            speed = tempo[phrase.section] * factor * pace(interpretation, phrase, is_last, x)
            length = 60 / speed * (1 + wander)
            beat = k % phrase.beats_in_bar
            early = interpretation.early_second * length if phrase.beats_in_bar == 3 and beat == 1 else 0
            beats.append(Beat(now - early, index, k // phrase.beats_in_bar, beat, length))
            now += length
        if phrase.hold_after:
            beats[-1].hold_s = interpretation.hold_s
            now += interpretation.hold_s
    beats.append(Beat(now, len(piece.phrases), 0, 0))
    return beats


class Clock:
    """Seconds of any place in the score, counted in beats from the first full bar."""

    BREATH_S = 0.3  # silence between a hold and what follows

    def __init__(self, beats):
        self.beats = beats

    def at(self, position):
        """When a note there begins: a beat before a hold keeps its length, and the hold follows it."""
        place = position + 1  # the pick-up is beat -1
        i = min(max(int(place // 1), 0), len(self.beats) - 2)
        beat = self.beats[i]
        length_s = beat.length_s if beat.hold_s else self.beats[i + 1].time_s - beat.time_s
        return beat.time_s + (place - i) * length_s

    def end(self, position):
        """When a note that lasts until there ends: after a hold, if there is one, but for a breath."""
        i = int(position)
        after_hold = position == i and i < len(self.beats) and self.beats[i].hold_s
        return self.at(position) - (self.BREATH_S if after_hold else 0.02)
