# SPDX-License-Identifier: GPL-3.0-or-later
"""Expressive timing: how long each beat of a passage lasts.

Lengths are logarithms, so that what slows adds up: arcs over phrases, slowing into ends, the shape of the bar, holds,
and wander from beat to beat. Slowing into an end follows Friberg and Sundberg (1999), 'Does music performance allude to
locomotion?'.
"""
import math
from dataclasses import dataclass, field

import numpy as np
from scipy.interpolate import PchipInterpolator

LEAST_BEAT_S, GREATEST_BEAT_S = 0.25, 3.0
QUICKEST_HZ, SLOWEST_HZ = 13.0, 0.8  # onsets a second: of the busy beats of a quick player, of all beats of a slow one


@dataclass
class TimingStyle:
    beat_s: float
    unevenness: float  # standard deviation of ln(beat / beat before) aimed at
    arc: float  # how much slower the ends of a phrase are than its middle, as a logarithm
    slowing: float  # the last beat of a section, times the usual one
    dance: str  # '', 'waltz', 'mazurka', 'first', 'last'
    hold_share: float  # holds a phrase
    new_tempo: float  # times the tempo from about the middle on; 1 for none
    breath: float  # share of a beat waited before a new phrase
    drift: float  # slow wander of tempo, standard deviation of a logarithm
    skew: float  # how unevenly a beat is divided, share of the beat
    hurry: float  # how far a hurrying, or a broadening, of some phrases goes, as a logarithm


@dataclass(frozen=True)
class Manner:
    """What the kind of music says about how it is played."""
    dance: str = ''
    tempo_spread: float = 0.25  # standard deviation of the logarithm of the tempo
    freedom: float = 1.0  # times the usual unevenness


@dataclass
class Phrases:
    starts: list  # beats
    ends_section: set = field(default_factory=set)  # indices of phrases


def playable(passage):
    """The least and the greatest seconds of a beat at which somebody would play this."""
    onsets = sorted({round(note.start, 3) for note in passage.notes})
    each = np.bincount(np.clip(np.floor(onsets), 0, passage.beat_count - 1).astype(int), minlength=passage.beat_count)
    each = each / passage.relative_beats()
    least = max(float(np.percentile(each, 90)) / QUICKEST_HZ, LEAST_BEAT_S * 1.1)
    return least, max(min(float(each.mean()) / SLOWEST_HZ, GREATEST_BEAT_S * 0.9), 1.1 * least)


def draw_style(dice, usual_beat_s, passage, manner):
    """A player for one excerpt. `manner` is the genre's (see Manner)."""
    metre, dance = passage.metres[0], manner.dance
    beat_s = usual_beat_s * math.exp(dice.gauss(0, manner.tempo_spread))
    least_s, greatest_s = playable(passage)
    unevenness = min(max(0.12 * manner.freedom * math.exp(dice.gauss(0, 0.55)), 0.035), 0.42)
    dances = ['', '', 'first', 'last'] + (['waltz', 'mazurka', 'waltz'] if metre == 3 else [])
    scale = unevenness / 0.12
    return TimingStyle(
        beat_s=min(max(beat_s, least_s), greatest_s),
        unevenness=unevenness,
        arc=min(dice.uniform(0.02, 0.18) * scale ** 0.7, 0.4),
        slowing=1 + dice.uniform(0.05, 0.35) * min(scale, 1.8),
        dance=dance if dance and dice.random() < 0.8 else dice.choice(dances) if dice.random() < 0.6 else '',
        hold_share=dice.choice([0, 0, 0.03, 0.1]) * min(scale, 2),
        new_tempo=math.exp(dice.gauss(0, 0.4)) if dice.random() < 0.3 else 1.0,
        breath=dice.choice([0, 0, dice.uniform(0.03, 0.3)]),
        drift=dice.uniform(0.0, 0.06) * min(scale, 2),
        skew=dice.uniform(0, 0.05) * min(scale, 2),
        hurry=dice.uniform(0, 0.25) * min(scale, 1.5) if dice.random() < 0.4 else 0.0)


def find_phrases(passage, dice):
    """Groups of bars, mostly four: cut where a long note or a rest lies before the bar line, unless they are known."""
    if passage.phrase_bars is not None:
        return grouped([passage.ones[bar] for bar in [0] + [b for b in passage.phrase_bars if b > 0]], dice)
    usual = dice.choice([4, 4, 4, 8, 2])
    bars = len(passage.ones)
    gaps = gaps_before(passage)
    cost, origin = [0.0] + [math.inf] * bars, [0] * (bars + 1)
    for end in range(1, bars + 1):
        for length in range(1, min(end, 12) + 1):
            oddness = 1.2 * abs(math.log2(length / usual)) + (0.4 if length % 2 else 0)
            total = cost[end - length] + oddness - (gaps[end] if end < bars else 0)
            if total < cost[end]:
                cost[end], origin[end] = total, end - length
    cuts, at = [], bars
    while at > 0:
        at = origin[at]
        cuts.append(at)
    return grouped([passage.ones[bar] for bar in reversed(cuts)], dice)


def grouped(starts, dice):
    """Every second to fourth phrase ends a section."""
    group = dice.choice([2, 2, 4, 4, 3])
    return Phrases(starts, set(range(group - 1, len(starts), group)) | {len(starts) - 1})


def gaps_before(passage):
    """How much each bar line looks like the end of a phrase: the longest note of the top voice just before it."""
    bars = len(passage.ones)
    gaps = np.zeros(bars)
    onsets = np.array(sorted({round(note.start, 3) for note in passage.notes}))
    distances = np.diff(onsets, append=onsets[-1] + 1)
    usual = np.median(distances)
    for bar in range(1, bars):
        near = (onsets > passage.ones[bar] - passage.metres[bar] * 0.8) & (onsets < passage.ones[bar])
        if near.any():
            gaps[bar] = min(max(math.log2(distances[near].max() / usual), 0), 2) * 0.5
    return gaps


def pink(count, generator):
    """Noise of 1/f, of unit variance."""
    size = max(64, 1 << (count - 1).bit_length())
    spectrum = generator.normal(size=size // 2 + 1) + 1j * generator.normal(size=size // 2 + 1)
    spectrum[0] = 0
    spectrum[1:] /= np.sqrt(np.arange(1, size // 2 + 1))
    noise = np.fft.irfft(spectrum)[:count]
    return (noise - noise.mean()) / (noise.std() + 1e-9)


def phrase_shape(count, phrases, style, dice):
    """Slower at both ends of a phrase, more at its end; slowing into the ends of sections; breaths."""
    shape = np.zeros(count)
    edges = phrases.starts + [count]
    for k, (start, end) in enumerate(zip(edges, edges[1:])):
        place = (np.arange(start, end) + 0.5 - start) / max(end - start, 1)
        depth = style.arc * dice.uniform(0.5, 1.4)
        peak = dice.uniform(0.35, 0.6)
        before, after = np.clip(1 - place / peak, 0, None), np.clip((place - peak) / (1 - peak), 0, None)
        shape[start:end] += depth * (0.7 * before ** 2 + 1.2 * after ** 2 - 0.35)
        if style.breath and k + 1 < len(phrases.starts):
            shape[end - 1] += math.log1p(style.breath * dice.uniform(0.3, 1.5))
        if k in phrases.ends_section:
            last = end == count
            slow_into(shape, end, style.slowing * (dice.uniform(1.1, 1.5) if last else dice.uniform(0.85, 1.15)), dice)
    return shape


def slow_into(shape, end, factor, dice):
    """The velocity falls as a runner's who stops: v(x) = (1 + (w^q - 1) x)^(1/q), with q between 2 and 3."""
    if factor <= 1.01:
        return
    beats = min(dice.randint(2, 8), end)
    q, w = dice.uniform(2, 3), 1 / factor
    x = (np.arange(beats) + 0.5) / beats
    shape[end - beats:end] -= np.log((1 + (w ** q - 1) * x) ** (1 / q))


def bar_shape(count, passage, style, dice, generator):
    """What the dance, or a habit of the player, does within a bar."""
    shape = np.zeros(count)
    strength = dice.uniform(0.4, 1.0) * min(0.5 + style.unevenness / 0.2, 1.3)
    habit = {'waltz': [-0.14, 0.09, 0.05], 'mazurka': [-0.05, 0.13, -0.08]}.get(style.dance)
    for bar, (one, beats) in enumerate(zip(passage.ones, passage.metres)):
        pattern = np.zeros(beats)
        if habit and beats == 3:
            pattern = np.array(habit)
        elif style.dance == 'first':
            pattern[0] = 0.07
        elif style.dance == 'last':
            pattern[-1] = 0.08
        end = min(one + beats, count)
        shape[one:end] += (pattern * strength * generator.uniform(0.6, 1.4))[:end - one]
    return shape


def leaning(count, passage, phrases):
    """What agogic accents lean on: long notes, and the highest note of each phrase."""
    weight, top = np.zeros(count), np.zeros(count)
    for note in passage.notes:
        beat = int(math.floor(note.start + 1e-3))
        if 0 <= beat < count:
            weight[beat] = max(weight[beat], min(note.end - note.start, 3) / 3)
            top[beat] = max(top[beat], note.pitch)
    for start, end in zip(phrases.starts, phrases.starts[1:] + [count]):
        if end > start:
            weight[start + int(top[start:end].argmax())] += 0.5
    return weight


def long_shape(count, phrases, style, dice):
    """Over several phrases: slow wander, a middle section at its own tempo, hurrying towards a climax."""
    shape, starts = np.zeros(count), phrases.starts + [count]
    if len(phrases.starts) > 3 and style.new_tempo != 1.0:
        first = dice.randrange(1, len(phrases.starts) - 1)
        last = dice.choice([len(phrases.starts), min(first + dice.randint(1, 4), len(phrases.starts))])
        shape[starts[first]:starts[last]] += math.log(style.new_tempo)
    if style.hurry:
        for k in range(len(phrases.starts)):
            if dice.random() < 0.35:
                ramp = np.linspace(0, 1, starts[k + 1] - starts[k]) * dice.choice([-1, -1, 0.6])
                shape[starts[k]:starts[k + 1]] += style.hurry * ramp
    return shape


def wander(count, weight, dice, generator):
    """Unevenness from beat to beat; larger where the music itself leans: on long notes, at random moments."""
    colour = dice.uniform(0.3, 0.9)
    noise = colour * pink(count, generator) + (1 - colour) * generator.normal(size=count)
    burst = np.exp(0.5 * pink(count, generator))
    return noise * burst * (0.6 + 0.8 * weight)


def steps_sd(lengths):
    return float(np.diff(lengths).std()) if len(lengths) > 2 else 0.0


def beat_lengths(passage, phrases, style, dice, generator):
    """Seconds of each beat."""
    count = passage.beat_count
    weight = leaning(count, passage, phrases)
    shaped = phrase_shape(count, phrases, style, dice) + bar_shape(count, passage, style, dice, generator)
    shaped += style.drift * pink(count, generator)
    agogic = dice.uniform(0, 0.12) * min(style.unevenness / 0.12, 2) * (weight - 0.3)
    shaped += agogic
    if steps_sd(shaped) > 0.85 * style.unevenness:
        shaped *= 0.85 * style.unevenness / steps_sd(shaped)
    loose = wander(count, weight, dice, generator)
    rest = math.sqrt(max(style.unevenness ** 2 - steps_sd(shaped) ** 2, 0))
    shaped += loose * rest / (steps_sd(loose) + 1e-9)
    shaped += holds(count, phrases, style, dice) + long_shape(count, phrases, style, dice)
    usual = np.log(passage.relative_beats()) * dice.choice([1, 1, 0.5])
    return np.clip(style.beat_s * np.exp(shaped + usual), LEAST_BEAT_S * 0.8, GREATEST_BEAT_S * 2.5)


def holds(count, phrases, style, dice):
    """A beat held, mostly the last of a phrase, now and then any."""
    shape = np.zeros(count)
    for start in phrases.starts[1:]:
        if dice.random() < style.hold_share:
            shape[max(start - dice.choice([1, 1, 1, 2]), 0)] += math.log(dice.uniform(1.4, 2.8))
    if style.hold_share and dice.random() < 0.3:
        shape[dice.randrange(count)] += math.log(dice.uniform(1.3, 2.2))
    return shape


def shares_inside(lengths, unevenness, generator):
    """How long beats are divided: each of four parts as a share of its beat. Short ones are played as one gesture."""
    loose = 0.6 * unevenness * np.clip((lengths - 0.5) / 0.7, 0, 1)
    shares = np.exp(loose[:, None] * generator.normal(size=(len(lengths), 4)))
    return shares / shares.sum(1, keepdims=True)


class Clock:
    """Seconds from beats: smooth between beats (monotone cubic), straight beyond both ends.

    `skew`, one for each beat, delays or hurries what lies between beats and leaves the beats themselves, and so does
    `shares`, the parts of each beat.
    """

    def __init__(self, lengths, skew=None, shares=None):
        self.lengths = lengths
        self.skew = np.zeros(len(lengths)) if skew is None else np.clip(skew, -0.2, 0.2)
        shares = np.ones((len(lengths), 1)) if shares is None else shares
        parts = shares.shape[1]
        times = np.concatenate([[0.0], np.cumsum((lengths[:, None] * shares).ravel())])
        self.times = times[::parts]
        self.curve = PchipInterpolator(np.arange(len(times)) / parts, times)

    def at(self, beat):
        last = len(self.lengths)
        if beat < 0:
            return float(beat * self.lengths[0])
        if beat > last:
            return float(self.times[-1] + (beat - last) * self.lengths[-1])
        whole = min(int(beat), last - 1)
        return float(self.curve(beat + self.skew[whole] * math.sin(math.pi * (beat - whole))))
