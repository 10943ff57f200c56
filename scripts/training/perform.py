#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Perform quantised scores expressively and render them, with exact truth, as data to fit weights on.

For each excerpt NAME: NAME.wav (mono), NAME.beats ("seconds TAB db|b" a line) and NAME.json (how it was made; where
phrases begin, if that is known; whether bars are known). The same seed makes the same bytes.
"""
import argparse
import json
import math
import multiprocessing
import pathlib
import random
import sys
from dataclasses import asdict, replace

import numpy as np

import arrange
import bars
import compose
import hands
import scores
import sound
import timing

LEAST_S, GREATEST_S = 60, 150
EACH_SONG = 5  # of POP909, one in so many; most of them have odd bars and are left out
APART_SHARE = 0.17  # of the pieces, kept for `valid`
OF_SCORES = timing.Manner(tempo_spread=0.45)
LEFT_OUT = ('timing', 'damage', 'fonts')  # what --without can leave out, to learn what it is worth


def repeated(passage, times):
    """The passage again, as further verses; the pick-up lies in the last bar before, or in a bar of its own."""
    usual, usual_quarters = passage.metres[-1], passage.quarters_per_beat[-1]
    ones, metres = list(passage.ones), list(passage.metres)
    if passage.notes[0].start + ones[-1] + usual - ones[0] < max(n.start for n in passage.notes) + 0.4:
        ones.append(ones[-1] + usual)
        metres.append(usual)
    shift = ones[-1] + usual - ones[0]
    count = (times - 1) * shift + passage.beat_count
    quarters = (passage.quarters_per_beat + [usual_quarters] * 2 * usual)[:shift] * times
    notes = [replace(n, start=n.start + k * shift, end=n.end + k * shift) for k in range(times) for n in passage.notes]
    bar_lines = [(one + k * shift, beats) for k in range(times) for one, beats in zip(ones, metres)]
    return replace(passage, notes=sorted(notes), beat_count=count, phrase_bars=None,
                   ones=[one for one, _ in bar_lines if one < count],
                   metres=[beats for one, beats in bar_lines if one < count],
                   quarters_per_beat=(quarters + [usual_quarters] * usual)[:count])


def excerpt(passage, beat_s, dice):
    """Of a length between LEAST_S and GREATEST_S, as far as the music goes round."""
    wanted_s = dice.uniform(LEAST_S + 5, GREATEST_S - 10)
    at_s = beat_s * np.concatenate([[0], np.cumsum(passage.relative_beats())])
    if at_s[-1] < LEAST_S:
        passage = repeated(passage, min(math.ceil((LEAST_S + 10) / at_s[-1]), 5))
        at_s = beat_s * np.concatenate([[0], np.cumsum(passage.relative_beats())])
    latest = [k for k, one in enumerate(passage.ones) if at_s[-1] - at_s[one] >= wanted_s]
    first = dice.choice(latest) if latest and dice.random() < 0.6 else 0
    stop_s = at_s[passage.ones[first]] + wanted_s
    return bars.cut(passage, first, sum(at_s[one] < stop_s for one in passage.ones))


def spaced(beats):
    """Beats in order, without those that fall together: notes played far from the clock could swap two quick ones."""
    kept = []
    for beat in beats:
        if not kept or beat[0] > kept[-1][0] + 0.05:
            kept.append(beat)
    return kept


def made_even(style, touch):
    """Leave out all that is expressive in time; fingers stay as uneven as they are."""
    for name in ('rubato_s', 'lead_s', 'bass_first_s', 'roll_share', 'uneven_inside'):
        setattr(touch, name, 0.0)
    style.unevenness = 0.0


def phrase_times(part, beats):
    """Seconds of the first downbeat of each phrase, or None where nobody knows."""
    if part.phrase_bars is None:
        return None
    firsts = {part.ones[bar] for bar in part.phrase_bars}
    return [round(at, 4) for at, _, beat in beats if beat in firsts]


def perform(passage, usual_beat_s, seed, manner, without=()):
    """Play one excerpt. Returns notes, times of pedal changes, true beats, and how it was played."""
    dice, generator = random.Random(seed), np.random.default_rng(seed)
    passage = replace(passage, usual_quarters=float(np.median(passage.quarters_per_beat)))
    style = timing.draw_style(dice, usual_beat_s, passage, manner)
    part = excerpt(passage, style.beat_s, dice)
    transpose = dice.randint(-4, 4)
    part.notes, arranged = arrange.vary(part.notes, dice)
    part.notes = [replace(n, pitch=min(max(n.pitch + transpose, 24), 104)) for n in part.notes]
    phrases = timing.find_phrases(part, dice)
    lengths = timing.beat_lengths(part, phrases, style, dice, generator)
    skew = style.skew * generator.normal(size=len(lengths))
    shares = timing.shares_inside(lengths, style.unevenness, generator)
    touch = hands.draw_touch(dice, style.unevenness)
    if not part.bars_known:
        touch.metre_accent = 0.0
    if 'timing' in without:
        made_even(style, touch)
        lengths, skew, shares = np.full(len(lengths), float(np.median(lengths))), None, None
    clock = timing.Clock(lengths, skew, shares)
    notes = hands.Player(part, phrases, clock, touch, dice, generator).play()
    pedal_s = hands.pedals(notes, part, clock, dice) if touch.pedal else []
    written = [n.start_s for n in notes if not math.isnan(n.beat)]
    beats = [beat for beat in spaced(hands.true_beats(notes, part, clock))
             if min(written) - 0.05 <= beat[0] <= max(written) + 0.05]
    return notes, pedal_s, beats, {'timing': asdict(style), 'touch': asdict(touch), 'transpose': transpose,
                                   'arranged': arranged, 'beats_in_bar': sorted(set(part.metres)),
                                   'compound': part.compound, 'bars_known': part.bars_known,
                                   'phrases_s': phrase_times(part, beats)}


def make(task):
    """One excerpt from plan to files."""
    out, name, piece, passage, usual_beat_s, manner, seed, without = task
    dice, generator = random.Random(f'{seed} sound'), np.random.default_rng(seed + 1)
    notes, pedal_s, beats, style = perform(passage, usual_beat_s, seed, manner, without)
    instruments = sound.draw_instruments(dice)
    if 'fonts' in without:
        instruments['font'] = 'fluid'
    if instruments['kind'] != 'piano':
        pedal_s = []
    lead_in_s = 0.3 + dice.random() * 1.5 - min(0, min(n.start_s for n in notes))
    midi = sound.midi_file(notes, pedal_s, instruments, lead_in_s, dice)
    damage = sound.draw_damage(dice)
    reverb = dice.uniform(0.1, 0.9) if dice.random() < 0.6 else 0
    if 'damage' in without:
        damage, reverb = {'level_db': damage['level_db']}, 0
    samples = sound.damaged(sound.render(midi, instruments['font'], reverb), damage, dice, generator)
    sound.write_wav(out / f'{name}.wav', samples)
    with open(out / f'{name}.beats', 'w', encoding='ascii') as file:
        file.writelines(f'{at + lead_in_s:.4f}\t{"db" if one and style["bars_known"] else "b"}\n' for at, one, _ in beats)
    if style['phrases_s'] is not None:
        style['phrases_s'] = [round(at + lead_in_s, 4) for at in style['phrases_s']]
    about = {'piece': piece, 'seed': seed, 'seconds': round(len(samples) / sound.RATE, 2), 'beats': len(beats), **style,
             'instruments': instruments, 'damage': damage}
    (out / f'{name}.json').write_text(json.dumps(about, indent=1, sort_keys=True) + '\n', encoding='ascii')
    return about['seconds']


def read_all(folder):
    """Every usable piece: (name, passages, quarters a minute)."""
    folder, found = pathlib.Path(folder), []
    songs = sorted((folder / 'POP909').glob('[0-9]*'))[::EACH_SONG]
    readers = [(scores.read_midi, path) for path in sorted(folder.glob('*.midi'))] + [(scores.read_song, s) for s in songs]
    for reader, path in readers:
        try:
            score = reader(path)
        except scores.BadScore as error:
            print(f'{path.name}: left out: {error}', file=sys.stderr)
            continue
        tempo = scores.likely_tempo(score)
        usable = [p for p in bars.passages(score, tempo) if p.beat_count * 60 / tempo > 8]
        if usable:
            found.append((score.name, usable, tempo))
        else:
            print(f'{path.name}: left out: bar lines not sure', file=sys.stderr)
    return found


def group_of(name):
    """Pieces that must not be parted between fit and valid: one composer's work number."""
    if 'iegenlied' in name or 'Lullaby' in name:
        return 'BrahmsJ_O49'
    return '_'.join(name.split('_')[:2])


def parted(pieces, seed):
    """(fit, valid), by groups. Those of sure bars are parted first, so that the others change nothing there."""
    sure = sorted({group_of(name) for name, usable, _ in pieces if any(p.bars_known for p in usable)})
    others = sorted({group_of(name) for name, _, _ in pieces} - set(sure))
    apart = set()
    for groups in (sure, others):
        random.Random(seed).shuffle(groups)
        apart |= set(groups[:round(APART_SHARE * len(groups))])
    return [p for p in pieces if group_of(p[0]) not in apart], [p for p in pieces if group_of(p[0]) in apart]


def plan(pieces, count, out, prefix, seed):
    """Tasks: composers in turn as evenly as their number of pieces allows, each piece's longest passages first."""
    dice = random.Random(f'{seed} {prefix}')
    composers = {}
    for piece in pieces:
        composers.setdefault(piece[0].split('_')[0].split('-')[0], []).append(piece)
    names = sorted(composers)
    weights = [len(composers[name]) ** 0.6 for name in names]
    played, tasks = {}, []
    while len(tasks) < count:
        composer = dice.choices(names, weights)[0]
        least = min(played.get(p[0], 0) for p in composers[composer])
        if least > 5 and len(names) > 1:
            weights[names.index(composer)] *= 0.5
        name, usable, tempo = dice.choice([p for p in composers[composer] if played.get(p[0], 0) == least])
        played[name] = least + 1
        passage = dice.choices(usable, [p.beat_count for p in usable])[0]
        usual_beat_s = 60 / tempo * float(np.median(passage.quarters_per_beat))
        k = len(tasks)
        tasks.append((out, f'{prefix}{k:03d}', name, passage, usual_beat_s, OF_SCORES, number(seed, prefix, k)))
    return tasks


def composed(count, out, prefix, seed):
    """Tasks of music of our own; numbers of other pieces for other prefixes."""
    for k in range(count):
        one = number(seed, prefix, k)
        name, passage, usual_beat_s, manner = compose.compose(one)
        yield out, f'{prefix}{k:03d}', name, passage, usual_beat_s, manner, one


def number(seed, prefix, k):
    """Another for each excerpt."""
    return seed * 100000 + 'fvcd'.index(prefix) * 20000 + 2 * k


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument('scores', help='folder of the unpacked scores')
    parser.add_argument('out', help='folder to write fit/ and valid/ to')
    parser.add_argument('--seed', type=int, default=1)
    parser.add_argument('--fit', type=int, default=250, help='excerpts to fit on')
    parser.add_argument('--valid', type=int, default=50, help='excerpts to check with')
    parser.add_argument('--composed', type=int, default=100, help='excerpts of our own music to fit on')
    parser.add_argument('--composed-valid', type=int, default=20, help='excerpts of our own music to check with')
    parser.add_argument('--parts-seed', type=int, help='parts fit from valid (default: --seed)')
    parser.add_argument('--without', default='', help=f'leave out some of {", ".join(LEFT_OUT)}')
    parser.add_argument('--only', default='', help='only these names, with commas')
    parser.add_argument('--resume', action='store_true', help='leave what is already there')
    parser.add_argument('--jobs', type=int, default=2)
    arguments = parser.parse_args()
    pieces = read_all(arguments.scores) if arguments.fit + arguments.valid else []
    fit, valid = parted(pieces, arguments.seed if arguments.parts_seed is None else arguments.parts_seed)
    tasks = []
    for part, pieces, count, own in (('fit', fit, arguments.fit, arguments.composed),
                                     ('valid', valid, arguments.valid, arguments.composed_valid)):
        out = pathlib.Path(arguments.out) / part
        out.mkdir(parents=True, exist_ok=True)
        tasks[:0] = plan(pieces, count, out, part[0], arguments.seed)
        tasks += composed(own, out, {'fit': 'c', 'valid': 'd'}[part], arguments.seed)
        print(f'{part}: {count} excerpts of {len(pieces)} pieces, {own} of our own music')
    if arguments.only:
        tasks = [task for task in tasks if task[1] in set(arguments.only.split(','))]
    tasks = [(*task, tuple(filter(None, arguments.without.split(',')))) for task in tasks]
    if arguments.resume:
        tasks = [task for task in tasks if not (task[0] / f'{task[1]}.json').exists()]
    with multiprocessing.Pool(arguments.jobs) as pool:
        seconds = sum(pool.imap_unordered(make, tasks))
    print(f'{len(tasks)} excerpts, {seconds / 60:.0f} minutes')


if __name__ == '__main__':
    main()
