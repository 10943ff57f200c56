#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Two performances of each of many pieces, with exact truth, to hold alignment against.

Usage: pairs.py SCORES OUT [--pairs N] [--seed N] [--jobs N]

Writes OUT/recordings/NAME.a.wav, NAME.b.wav and OUT/pairs/NAME/beats.tsv, meta.json, as scripts/bench-align reads them.
Both players take much the same tempo, as two performances of a piece do. Every other pair differs in structure: b leaves
bars out, plays bars twice, stops and goes on, or stops and starts again
from an earlier bar. `where` in meta.json has the seconds in a and in b at which it jumps.
"""
import argparse
import json
import math
import multiprocessing
import pathlib
import random
from dataclasses import replace

import numpy as np

import arrange
import bars
import compose
import hands
import perform
import sound
import timing

KINDS = ('plain', 'cut', 'plain', 'repeat', 'plain', 'pause', 'plain', 'restart')
LEAST_BARS_APART_S = 12
TEMPO_SPREAD = 0.15  # standard deviation of the logarithm of b's tempo over a's, and of a middle section's over the rest


def joined(first, second):
    """One passage after the other."""
    shift = first.beat_count
    notes = first.notes + [replace(n, start=n.start + shift, end=n.end + shift) for n in second.notes]
    drums = first.drums + [replace(n, start=n.start + shift, end=n.end + shift) for n in second.drums]
    return replace(first, notes=sorted(notes), drums=sorted(drums), beat_count=shift + second.beat_count,
                   ones=first.ones + [one + shift for one in second.ones], metres=first.metres + second.metres,
                   quarters_per_beat=first.quarters_per_beat + second.quarters_per_beat, phrase_bars=None)


def restructured(part, kind, beat_s, dice):
    """b's passage, the beat of a for each of its beats, the beat of b at which it jumps (None: nowhere)."""
    n = len(part.ones)
    apart = max(2, math.ceil(LEAST_BARS_APART_S / (beat_s * part.metres[0])))
    if kind == 'plain' or n < 3 * apart:
        return part, list(range(part.beat_count)), None
    early = dice.randint(apart, n - 2 * apart)
    late = dice.randint(early + apart, min(n - apart, early + 3 * apart))
    end, start = {'cut': (early, late), 'repeat': (late, early), 'pause': (late, late), 'restart': (late, early)}[kind]
    passage = joined(bars.cut(part, 0, end), bars.cut(part, start, n))
    beats = list(range(part.ones[end])) + list(range(part.ones[start], part.beat_count))
    return passage, beats, part.ones[end]


def draw_beat_s(passage, usual_beat_s, manner, dice):
    """Seconds of a beat for the first of two players, somewhere about the usual."""
    least_s, greatest_s = timing.playable(passage)
    return min(max(usual_beat_s * math.exp(dice.gauss(0, manner.tempo_spread)), least_s), greatest_s)


def play(part, beat_s, manner, seed, jump_beat=None, pause_s=0.0):
    """Notes, pedals and beats of a performance."""
    dice, generator = random.Random(seed), np.random.default_rng(seed)
    style = replace(timing.draw_style(dice, beat_s, part, replace(manner, tempo_spread=TEMPO_SPREAD / math.sqrt(2))),
                    new_tempo=math.exp(dice.gauss(0, TEMPO_SPREAD)) if dice.random() < 0.3 else 1.0)
    phrases = timing.find_phrases(part, dice)
    lengths = timing.beat_lengths(part, phrases, style, dice, generator)
    clock = timing.Clock(lengths, style.skew * generator.normal(size=len(lengths)),
                         timing.shares_inside(lengths, style.unevenness, generator))
    touch = hands.draw_touch(dice, style.unevenness)
    notes = hands.Player(part, phrases, clock, touch, dice, generator).play()
    pedal_s = hands.pedals(notes, part, clock, dice) if touch.pedal else []
    beats = [at for at, _, _ in hands.true_beats(notes, part, clock)]
    if jump_beat is not None and pause_s > 0:
        from_s = beats[jump_beat] - 0.02
        late = lambda at: at + (pause_s if at >= from_s else 0)
        notes = [replace(n, start_s=late(n.start_s), end_s=max(late(n.start_s) + 0.05, min(n.end_s, from_s)
                                                               if n.start_s < from_s else n.end_s + pause_s)) for n in notes]
        beats, pedal_s = [late(b) for b in beats], [p for p in pedal_s if p < from_s - 1]
    return notes, pedal_s, beats


def render(path, notes, pedal_s, instruments, seed):
    dice, generator = random.Random(f'{seed} sound'), np.random.default_rng(seed + 1)
    if instruments['kind'] != 'piano':
        pedal_s = []
    lead_in_s = 0.3 + dice.random() * 1.5 - min(0, min(n.start_s for n in notes))
    midi = sound.midi_file(notes, pedal_s, instruments, lead_in_s, dice)
    samples = sound.render(midi, instruments['font'], dice.uniform(0.1, 0.9) if dice.random() < 0.6 else 0)
    damage = sound.draw_damage(dice)
    sound.write_wav(path, sound.damaged(samples, damage, dice, generator))
    return lead_in_s, damage


def make(task):
    out, name, piece, passage, usual_beat_s, manner, seed, kind = task
    dice = random.Random(f'{seed} pair')
    passage = replace(passage, usual_quarters=float(np.median(passage.quarters_per_beat)))
    part = perform.excerpt(passage, usual_beat_s, dice)
    transpose = dice.randint(-3, 3)
    part.notes = [replace(n, pitch=min(max(n.pitch + transpose, 24), 104)) for n in part.notes]
    b_part, a_of_b, jump = restructured(part, kind, usual_beat_s, dice)
    kind = 'plain' if jump is None else kind
    pause_s = dice.uniform(5, 9) if kind in ('pause', 'restart') else 0.0
    beat_s = draw_beat_s(part, usual_beat_s, manner, dice)
    a = play(part, beat_s, manner, seed + 1)
    b = play(b_part, beat_s, manner, seed + 2, jump, pause_s)
    first = sound.draw_instruments(dice)
    second = sound.draw_instruments(dice)
    while first['kind'] != 'piano':
        first = sound.draw_instruments(dice)
    a_lead_s, a_damage = render(out / 'recordings' / f'{name}.a.wav', a[0], a[1], first, seed + 1)
    b_lead_s, b_damage = render(out / 'recordings' / f'{name}.b.wav', b[0], b[1], second, seed + 2)
    folder = out / 'pairs' / name
    folder.mkdir(parents=True, exist_ok=True)
    played = set(a_of_b)
    rows = [(a_of_b[k], b[2][k] + b_lead_s) for k in range(len(a_of_b))]
    at = jump if kind == 'cut' else len(rows)
    rows[at:at] = [(k, None) for k in range(part.beat_count) if k not in played]
    ones = set(part.ones)
    with open(folder / 'beats.tsv', 'w', encoding='ascii') as file:
        file.write('beat\tlabel\ttA\ttB\n')
        for k, b_s in rows:
            file.write(f'{k}\t{"db" if k in ones else "b"}\t{a[2][k] + a_lead_s:.4f}\t'
                       f'{"-" if b_s is None else format(b_s, ".4f")}\n')
    where = None if jump is None else {'a_from_s': a[2][min(a_of_b[jump - 1] + 1, part.beat_count - 1)] + a_lead_s,
                                       'a_to_s': a[2][a_of_b[jump]] + a_lead_s,
                                       'b_s': b[2][jump] + b_lead_s - pause_s, 'pause_s': pause_s}
    about = {'piece': piece, 'kind': kind, 'where': where, 'a': first, 'b': second, 'a_damage': a_damage,
             'b_damage': b_damage}
    (folder / 'meta.json').write_text(json.dumps(about, indent=1, sort_keys=True) + '\n', encoding='ascii')
    return name


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument('scores', help='folder of the unpacked scores')
    parser.add_argument('out')
    parser.add_argument('--pairs', type=int, default=48)
    parser.add_argument('--seed', type=int, default=1)
    parser.add_argument('--jobs', type=int, default=2)
    arguments = parser.parse_args()
    out = pathlib.Path(arguments.out)
    (out / 'recordings').mkdir(parents=True, exist_ok=True)
    own = arguments.pairs // 3
    pieces = [(name, sure, tempo) for name, usable, tempo in perform.read_all(arguments.scores)
              if (sure := [passage for passage in usable if passage.bars_known])]
    tasks = [task[1:] for task in perform.plan(pieces, arguments.pairs - own, out, 'f', arguments.seed)]
    tasks += [task[1:] for task in perform.composed(own, out, 'c', arguments.seed)]
    tasks = [(out, f'p{k:02d}', *task[1:-1], 7000 * arguments.seed + 10 * k, KINDS[k % len(KINDS)])
             for k, task in enumerate(tasks)]
    with multiprocessing.Pool(arguments.jobs) as pool:
        for name in pool.imap_unordered(make, tasks):
            print(name, flush=True)


if __name__ == '__main__':
    main()
