# SPDX-License-Identifier: GPL-3.0-or-later
"""A quick look at what activations are worth under decoding: the best path of bars of 2, 3 or 4 beats.

  look.py NAME.act.npz BEATS_FOLDER STEADINESS RECORDING...

A beat lasts 0.3 to 2.6 s; a change of its length by the share r costs STEADINESS * r. Not the program's decoding.
"""

import sys

import numpy as np

import train

LENGTHS = np.concatenate([np.arange(15, 50), np.arange(50, 131, 2)])


def best_path(beat, down, metre, change):
    """Viterbi over (beat of the bar, length of the beat now beginning). @return score, [(row, beat of the bar)]"""
    n, k = len(beat), len(LENGTHS)
    rest = np.concatenate([[0], np.cumsum(np.log(1 - beat))])
    other = np.log(np.maximum(beat - down, 0.05 * beat)) - np.log(1 - beat)
    first = np.log(down) - np.log(1 - beat)
    score = np.full((n, metre, k), -1e9)
    came = np.zeros((n, metre, k), np.int16)
    reward = np.tile(other[:, None], (1, metre))
    reward[:, 0] = first
    for t in range(n):
        start = t - LENGTHS
        ended = np.where(start >= 0, score[np.maximum(start, 0), :, np.arange(k)].T + 0, -1e9)
        ended = ended + rest[t] - rest[np.maximum(start, 0)]
        ended = np.roll(ended, 1, axis=0)
        step = ended[:, :, None] + change[None]
        came[t] = step.argmax(1)
        score[t] = np.take_along_axis(step, came[t][:, None], 1)[:, 0] + reward[t][:, None]
        if t < LENGTHS[-1]:
            fresh = rest[t] + reward[t][:, None]
            came[t] = np.where(score[t] < fresh, -1, came[t])
            score[t] = np.maximum(score[t], fresh)
    final = [(score[t, b, i] + rest[n] - rest[t], t, b, i) for i, length in enumerate(LENGTHS)
             for t in range(max(n - length, 0), n) for b in range(metre)]
    value, t, b, i = max(final)
    path = []
    while True:
        path.append((t, b))
        j = came[t, b, i]
        if j < 0:
            return value, path[::-1]
        t, b, i = t - LENGTHS[j], (b - 1) % metre, j


def decode(logits, steadiness):
    p = np.clip(1 / (1 + np.exp(-logits.astype(np.float64))), 0.002, 0.98)
    change = -steadiness * np.abs(LENGTHS[None] / LENGTHS[:, None] - 1)
    paths = [best_path(p[:, 0], np.minimum(p[:, 1], 0.97 * p[:, 0]), metre, change) for metre in (2, 3, 4)]
    path = max(paths)[1]
    return (np.array([t for t, _ in path]) / train.RATE, np.array([t for t, b in path if b == 0]) / train.RATE)


def main():
    logits = np.load(sys.argv[1])
    table = []
    for name in sys.argv[4:]:
        lines = [line.split() for line in open(f'{sys.argv[2]}/{name}.beats')]
        true = np.array([float(t[0]) for t in lines])
        down = np.array([float(t[0]) for t in lines if t[1] == 'db'])
        found, found_down = decode(logits[name], float(sys.argv[3]))
        table.append((train.f_measure(found, true), train.f_measure(found_down, down)))
        print(f'{name}\t{table[-1][0]:.3f}\t{table[-1][1]:.3f}', flush=True)
    print(f'mean of {len(table)}\t{np.mean(table, 0)[0]:.4f}\t{np.mean(table, 0)[1]:.4f}')


if __name__ == '__main__':
    main()
