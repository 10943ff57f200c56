# SPDX-License-Identifier: GPL-3.0-or-later
"""What else a microphone in a studio hears: steps, claps, coughs and talk, none of them on the beat."""
import os
import subprocess
import tempfile
import wave

import numpy as np
from scipy import signal

SENTENCES = [
    'and one, two, three', 'shoulders down, please', 'again from the second phrase', 'five, six, seven, eight',
    'wait for the music', 'a little softer there', 'now the other side', 'keep the arms long', 'and turn',
    'thank you, once more', 'listen to the left hand', 'where is the corner', 'from the top, everyone',
]


def draw_noises(dice):
    """None for most recordings."""
    kinds = [kind for kind, share in (('steps', 0.12), ('talk', 0.08), ('knocks', 0.06)) if dice.random() < share]
    return {kind: round(dice.uniform(-26, -6), 1) for kind in kinds}


def with_noises(samples, noises, rate, dice, generator):
    """`noises`: kind to its peak in dB against the peak of the music."""
    peak = np.abs(samples).max() + 1e-9
    x = samples.copy()
    for kind, level_db in sorted(noises.items()):
        added = {'steps': steps, 'knocks': knocks, 'talk': talk}[kind](len(x), rate, dice, generator)
        size = np.abs(added).max()
        if size > 0:
            x += added * (peak * 10 ** (level_db / 20) / size)
    return x


def scattered(length, rate, dice, rate_hz, make):
    """Sounds at random times, by bursts: someone crosses the floor and is quiet again."""
    x, at = np.zeros(length), dice.uniform(0, 4)
    while at * rate < length:
        for _ in range(dice.randint(1, 12)):
            sound = make() * dice.uniform(0.3, 1)
            start = int(at * rate)
            stop = min(start + len(sound), length)
            if start < length:
                x[start:stop] += sound[:stop - start]
            at += dice.expovariate(rate_hz) + 0.12
        at += dice.expovariate(0.15)
    return x


def steps(length, rate, dice, generator):
    """Low thuds, duller than any drum."""
    def thud():
        t = np.arange(int(0.12 * rate)) / rate
        return np.exp(-t / 0.025) * (np.sin(2 * np.pi * dice.uniform(45, 110) * t) + 0.3 * generator.normal(size=len(t)))
    return scattered(length, rate, dice, 2.0, thud)


def knocks(length, rate, dice, generator):
    """Claps, coughs, a dropped thing: short noise in a band."""
    def knock():
        t = np.arange(int(dice.uniform(0.03, 0.25) * rate)) / rate
        low = dice.uniform(200, 1500)
        band = signal.butter(2, [low, min(low * 4, 0.45 * rate)], 'band', fs=rate, output='sos')
        return signal.sosfilt(band, generator.normal(size=len(t))) * np.exp(-t / (t[-1] / 3))
    return scattered(length, rate, dice, 1.0, knock)


def talk(length, rate, dice, generator):
    voice = dice.choice(['en', 'en+f3', 'en+m3', 'en+f2'])
    spoken = {sentence: speak(sentence, voice, dice.randint(120, 190), rate)
              for sentence in dice.sample(SENTENCES, 4)}
    return scattered(length, rate, dice, 0.6, lambda: spoken[dice.choice(sorted(spoken))])


def speak(sentence, voice, words_a_minute, rate):
    with tempfile.TemporaryDirectory(prefix='perform-') as folder:
        path = os.path.join(folder, 'a.wav')
        subprocess.run(['espeak-ng', '-v', voice, '-s', str(words_a_minute), '-w', path, sentence], check=True)
        with wave.open(path) as file:
            samples = np.frombuffer(file.readframes(file.getnframes()), '<i2') / 32768
            return signal.resample_poly(samples, rate, file.getframerate())
