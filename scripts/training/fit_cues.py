# SPDX-License-Identifier: GPL-3.0-or-later
"""Weigh the plain ear's cues: which weights tell a beat best from the places between it and the next.

  fit_cues.py TO_FIT.tsv TO_HOLD.tsv   (as cues.c prints them)

Logistic choice among the six places, every recording weighing the same. Prints the weights in use (activation.c) and
those fitted, all to a sum of the ones in use, and for both: how often the beat has more than the half, more than both
thirds, and the most of all six, on the music fitted and on that held apart.
"""

import sys

import numpy as np
from scipy.optimize import minimize

CUES = ('all', 'slow', 'low', 'harmonic')
IN_USE = np.array([1.0, 1.0, 0.5, 0.6])


def read(path):
    """Recordings: arrays of pairs, places, cues."""
    found = {}
    with open(path, encoding='utf-8') as lines:
        for line in lines:
            name, pair, place, *cues = line.rstrip('\n').split('\t')
            found.setdefault(name, {}).setdefault(int(pair), {})[int(place)] = [float(c) for c in cues]
    kept = ([[pair[k] for k in range(6)] for pair in pairs.values() if len(pair) == 6] for pairs in found.values())
    return [np.array(pairs) for pairs in kept if len(pairs) > 15]


def fit(recordings, calm=1e-3):
    cues = np.concatenate(recordings)
    share = np.concatenate([np.full(len(r), 1 / len(r)) for r in recordings]) / len(recordings)
    spread = cues.reshape(-1, len(CUES)).std(0)
    cues = cues / spread

    def loss(weights):
        score = cues @ weights
        score -= score.max(1, keepdims=True)
        chance = np.exp(score)
        chance /= chance.sum(1, keepdims=True)
        slope = ((chance[:, :, None] * cues).sum(1) - cues[:, 0])
        return share @ -np.log(chance[:, 0]) + calm * weights @ weights, share @ slope + 2 * calm * weights

    return minimize(loss, np.zeros(len(CUES)), jac=True).x / spread


def told(recordings, weights):
    rows = []
    for cues in recordings:
        score = cues @ weights
        rows.append(((score[:, 0] > score[:, 1]).mean(), (score[:, 0] > score[:, 2:4].max(1)).mean(),
                     (score.argmax(1) == 0).mean()))
    return ' '.join(f'{x:.3f}' for x in np.mean(rows, 0))


def main():
    to_fit, to_hold = map(read, sys.argv[1:3])
    fitted = fit(to_fit)
    fitted *= IN_USE.sum() / fitted.sum()
    print('weights   ', ' '.join(f'{cue:>8}' for cue in CUES), '  fitted: half, thirds, all   held apart')
    for name, weights in (('in use', IN_USE), ('fitted', fitted)):
        print(f'{name:10}', ' '.join(f'{w:8.3f}' for w in weights), f'  {told(to_fit, weights)}'.ljust(30),
              told(to_hold, weights))


if __name__ == '__main__':
    main()
