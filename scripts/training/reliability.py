# SPDX-License-Identifier: GPL-3.0-or-later
"""How far logits can be taken as log-odds: logistic regression of 'a true one within 70 ms' on the logit of a peak.

  reliability.py NAME.act.npz PART FOLDER   (logits that train.py kept; NAME.beats, NAME.json)

For each output: a and b of log-odds = a + b * logit, fitted to all peaks above a probability of 0.01; then, by bins of
the logit, the mean logit and the observed log-odds.
"""

import sys

import numpy as np

import judge
from pack import read_truth

EDGES = (-4.6, -3, -2, -1, 0, 1, 2, 3, 99)


def is_near(times, true, window_s=0.07):
    at = np.clip(np.searchsorted(true, times), 1, len(true) - 1)
    return np.minimum(np.abs(times - true[at - 1]), np.abs(times - true[at])) <= window_s


def peaks_of(logits, true):
    """(logit, whether true) of each peak."""
    times = judge.peaks(logits, 0.01)
    rows = np.clip(np.round(times * judge.RATE).astype(int), 0, len(logits) - 1)
    return np.stack([logits[rows].astype(np.float64), is_near(times, np.sort(true))], 1)


def fitted(pairs):
    """Logistic regression by Newton's method."""
    x, y, w = np.stack([np.ones(len(pairs)), pairs[:, 0]], 1), pairs[:, 1], np.array([0.0, 1.0])
    for _ in range(30):
        p = 1 / (1 + np.exp(-(x @ w)))
        w = w + np.linalg.solve((x * (p * (1 - p))[:, None]).T @ x, x.T @ (y - p))
    return w


def main():
    logits, part, folder = np.load(sys.argv[1]), sys.argv[2], sys.argv[3]
    found = ([], [], [])
    for key in logits.files:
        if key.split('.', 1)[0] != part:
            continue
        beats, phrases, known = read_truth(f'{folder}/{key.split(".", 1)[1]}')
        for column, true in enumerate((beats[:, 0], beats[beats[:, 1] > 0, 0], phrases)):
            if len(true) > 1 and (column == 0 or known[column - 1]):
                found[column].append(peaks_of(logits[key][:, column], true))
    for name, pairs in zip(judge.COLUMNS, map(np.concatenate, found)):
        a, b = fitted(pairs)
        print(f'{name}: log-odds = {a:.2f} + {b:.2f} logit, {len(pairs)} peaks')
        for low, high in zip(EDGES, EDGES[1:]):
            inside = pairs[(pairs[:, 0] >= low) & (pairs[:, 0] < high)]
            if len(inside) > 30:
                share = np.clip(inside[:, 1].mean(), 1e-3, 1 - 1e-3)
                print(f'  logit {inside[:, 0].mean():5.2f}: {np.log(share / (1 - share)):5.2f} ({len(inside)})')


main()
