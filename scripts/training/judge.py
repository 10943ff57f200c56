# SPDX-License-Identifier: GPL-3.0-or-later
"""How good activations are by plain peaks: F of beats and downbeats within 70 ms, by tempo.

  judge.py NAME.act.npz FOLDER_OF_BEATS   (the table of one network's logits)
"""

import sys
from dataclasses import dataclass

import numpy as np

RATE = 50
THRESHOLDS = (0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.5, 0.6)
CLASSES = (('slow', 1.0, 99.0), ('middle', 0.5, 1.0), ('quick', 0.0, 0.5))  # usual seconds of a beat
COLUMNS = ('beat', 'downbeat', 'phrase')


@dataclass
class Truth:
    """True times of one excerpt: beats, downbeats and phrases; None where they are not known."""
    times: tuple
    usual_period_s: float


def truth_of(excerpt):
    return Truth((np.sort(excerpt.beats[:, 0]), excerpt.downbeats if excerpt.bars_known else None,
                  excerpt.phrases if excerpt.phrases_known else None), excerpt.usual_period_s)


def peaks(logits, threshold):
    """Times (s) of local maxima of one activation within 5 rows on either side, placed between rows by a parabola."""
    a = 1.0 / (1.0 + np.exp(-logits.astype(np.float64)))
    padded = np.pad(a, 5, mode='constant')
    highest = np.lib.stride_tricks.sliding_window_view(padded, 11).max(1)
    at = np.flatnonzero((a >= highest) & (a > threshold))
    left, here, right = a[np.maximum(at - 1, 0)], a[at], a[np.minimum(at + 1, len(a) - 1)]
    bend = left - 2 * here + right
    return (at + np.where(bend < 0, 0.5 * (left - right) / np.minimum(bend, -1e-9), 0).clip(-0.5, 0.5)) / RATE


def hits(found, true, window_s=0.07):
    count, j = 0, 0
    for t in true:
        while j < len(found) and found[j] < t - window_s:
            j += 1
        if j < len(found) and found[j] <= t + window_s:
            count, j = count + 1, j + 1
    return count


def f_measure(found, true):
    return 2 * hits(found, true) / (len(found) + len(true)) if len(found) and len(true) else 0.0


def judge(logits, truths):
    """F by [excerpt, threshold, column], NaN where nothing is known."""
    table = np.full((len(truths), len(THRESHOLDS), len(COLUMNS)), np.nan)
    for i, (name, truth) in enumerate(truths.items()):
        for column in range(min(logits[name].shape[1], len(COLUMNS))):
            if truth.times[column] is not None and len(truth.times[column]):
                table[i, :, column] = [f_measure(peaks(logits[name][:, column], threshold), truth.times[column])
                                       for threshold in THRESHOLDS]
    return table


def means(table):
    """F by [threshold, column]."""
    known = ~np.isnan(table)
    return np.where(known, table, 0).sum(0) / np.maximum(known.sum(0), 1)


def chosen(table):
    """Index of the best threshold for each column."""
    return means(table).argmax(0)


def at_thresholds(table, which):
    """Mean F of each column at thresholds by index."""
    return np.array([means(table)[which[c], c] for c in range(table.shape[2])])


def precision_recall(logits, truths, threshold):
    """Of beats, over all excerpts alike."""
    rows = []
    for name, truth in truths.items():
        found = peaks(logits[name][:, 0], threshold)
        count = hits(found, truth.times[0])
        rows.append((count / max(len(found), 1), count / max(len(truth.times[0]), 1)))
    return np.mean(rows, 0)


def lines_of(title, logits, truths, which=None):
    """A line for all and one for each class of tempo, at the best thresholds or those given."""
    table = judge(logits, truths)
    which = chosen(table) if which is None else which
    yield f'{title} ({len(truths)}), thresholds {[THRESHOLDS[i] for i in which]}: {said(table, which)}'
    precision, recall = precision_recall(logits, truths, THRESHOLDS[which[0]])
    yield f'  beats: precision {precision:.3f}, recall {recall:.3f}'
    periods = np.array([truth.usual_period_s for truth in truths.values()])
    for name, least, most in CLASSES:
        inside = (periods >= least) & (periods < most)
        if inside.any():
            yield f'  {name} ({inside.sum()}): {said(table[inside], which)}'


def said(table, which):
    return ', '.join(f'{name} F {value:.4f}' for name, value in zip(COLUMNS, at_thresholds(table, which)))


def main():
    logits, truths = np.load(sys.argv[1]), {}
    for name in logits.files:
        try:
            lines = [line.split()[:2] for line in open(f'{sys.argv[2]}/{name}.beats')]
        except FileNotFoundError:
            continue
        times = np.array([float(t) for t, _ in lines])
        ones = np.array([float(t) for t, kind in lines if kind == 'db'])
        truths[name] = Truth((times, ones if len(ones) else None, None), float(np.median(np.diff(times))))
    print('\n'.join(lines_of(sys.argv[2], logits, truths)))


if __name__ == '__main__':
    main()
