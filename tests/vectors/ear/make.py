# SPDX-License-Identifier: GPL-3.0-or-later
"""Vectors for the learned ear, computed by numpy in double precision from what scripts/training/network.py says, without
any of the C code. Run in this folder; needs numpy.

  make.py                      writes vectors.json and small.bin
  make.py WEIGHTS.npz V.npz    holds this reference against torch's own output: V.npz has `rows` and `logits`

A vector's bytes come from a short generator (noise, slow waves and a pulse), so that none need be kept: see sound().
small.bin is a network of odd sizes with three outputs and a hint, its weights random.
"""

import json
import sys

import numpy as np

sys.path.insert(0, '../../../scripts/training')
from embed import network_file  # noqa: E402

BANDS = 63
TRAINED = '../../../scripts/training/trained/hinted.npz'  # what src/ear/network.bin is made of


def sound(n, seed):
    """n rows of bytes from 0 to 111: whole numbers only, so that C makes the same."""
    rows = np.zeros((n, BANDS), np.uint8)
    state = seed
    for t in range(n):
        for b in range(BANDS):
            state = (state * 1103515245 + 12345) % 2 ** 31
            pulse = 48 if (t + 3 * (b % 5)) % 27 < 4 else 0
            wave = abs((t * (b % 7 + 1)) % 128 - 64) // 3
            rows[t, b] = min(111, (state >> 16) % 24 + pulse + wave)
    return rows


def elu(x):
    return np.where(x > 0, x, np.expm1(np.minimum(x, 0)))


def pad(x, rows):
    """Zeros before and after, in time."""
    return np.concatenate([np.zeros((rows,) + x.shape[1:]), x, np.zeros((rows,) + x.shape[1:])])


def convolve(x, weight, bias):
    """x: time, band, channel; weight: out, in, time, band. Time is padded to keep its length, bands are not."""
    times, bands = weight.shape[2:]
    x = pad(x, times // 2)
    n, wide = len(x) - times + 1, x.shape[1] - bands + 1
    y = np.zeros((n, wide, len(weight))) + bias
    for i in range(times):
        for j in range(bands):
            y += x[i:i + n, j:j + wide] @ weight[:, :, i, j].T
    return y


def pool(x):
    n = x.shape[1] // 3
    return x[:, :3 * n].reshape(len(x), n, 3, -1).max(2)


def dilated(x, weight, bias, dilation):
    padded = pad(x, 2 * dilation)
    return np.concatenate([padded[k * dilation:k * dilation + len(x)] for k in range(5)], 1) @ weight.T + bias


def hint_values(period_s, beats):
    h = np.zeros(21)
    if period_s > 0:
        centres = -2.25 + 0.35 * np.arange(16)
        h[:16] = np.exp(-0.5 * ((np.log2(period_s) - centres) / 0.25) ** 2)
    if 2 <= beats <= 6:
        h[14 + beats] = 1
    return h


def network(w, x, hint=None):
    """Logits of rows of bands (not bytes)."""
    w = {name: value.astype(np.float64) for name, value in w.items()}
    x = (0.5 * x - 0.6)[:, :, None]
    x = pool(elu(convolve(x, w['front.first.weight'], w['front.first.bias'])))
    x = pool(elu(convolve(x, w['front.second.weight'], w['front.second.bias'])))
    x = elu(convolve(x, w['front.third.weight'], w['front.third.bias']))[:, 0]
    if hint is not None:
        x = x + hint @ w['hint.weight'].T
    skipped = 0
    i = 0
    while f'layers.{i}.mix.weight' in w:
        name = f'layers.{i}.'
        near = dilated(x, w[name + 'near.matrix.weight'], w[name + 'near.matrix.bias'], 1 << i)
        far = dilated(x, w[name + 'far.matrix.weight'], w[name + 'far.matrix.bias'], 2 << i)
        y = elu(np.concatenate([near, far], 1)) @ w[name + 'mix.weight'].T + w[name + 'mix.bias']
        x, skipped, i = x + y, skipped + y, i + 1
    return elu(skipped) @ w['last.weight'].T + w['last.bias']


def small_weights():
    """Random weights of odd sizes: width 5, 7 channels, 4 layers, 3 outputs, a hint."""
    random = np.random.default_rng(4)
    width, channels, outputs = 5, 7, 3
    shapes = {'front.first': (width, 1, 3, 3), 'front.second': (width, width, 1, 8),
              'front.third': (channels, width, 3, 4), 'last': (outputs, channels)}
    for i in range(4):
        shapes |= {f'layers.{i}.near.matrix': (channels, 5 * channels),
                   f'layers.{i}.far.matrix': (channels, 5 * channels), f'layers.{i}.mix': (channels, 2 * channels)}
    w = {'hint.weight': random.normal(0, 0.5, (channels, 21))}
    for name, shape in shapes.items():
        w[name + '.weight'] = random.normal(0, 1.2 / np.sqrt(np.prod(shape[1:])), shape)
        w[name + '.bias'] = random.normal(0, 0.2, shape[0])
    return {name: value.astype(np.float16) for name, value in w.items()}


def vector(w, network_name, n, seed, keep, hint=None):
    """@param keep Rows whose logits are kept. @param hint Period and beats in a bar, from the first row of `from` on."""
    values = None
    if hint:
        values = np.stack([hint_values(*([(p, b) for f, p, b in hint if f <= t] or [(0, 0)])[-1]) for t in range(n)])
    logits = network(w, sound(n, seed) / 24.0, values)
    return {'network': network_name, 'rows': n, 'seed': seed,
            'hint': [{'from': f, 'period_s': p, 'beats': b} for f, p, b in hint or []],
            'kept': [{'row': int(t), 'logits': [round(float(v), 7) for v in logits[t]]} for t in keep]}


def make():
    trained = dict(np.load(TRAINED))
    small = small_weights()
    with open('small.bin', 'wb') as file:
        file.write(network_file(small))
    steps = ((0, 0.5, 4), (100, 0.0, 4), (150, 1.3, 0), (220, 0.31, 6))
    vectors = [
        vector(trained, 'embedded', 1, 1, [0]),
        vector(trained, 'embedded', 2, 2, [0, 1]),
        vector(trained, 'embedded', 300, 3, range(0, 300, 4)),
        vector(trained, 'embedded', 5000, 4, list(range(0, 5000, 61)) + [4998, 4999]),
        vector(trained, 'embedded', 400, 6, range(0, 400, 8), steps),
        vector(small, 'small', 260, 5, range(0, 260, 5)),
        vector(small, 'small', 260, 5, range(0, 260, 5), steps),
    ]
    with open('vectors.json', 'w') as file:
        file.write('[\n' + ',\n'.join(json.dumps(v) for v in vectors) + '\n]\n')


def compare(weights, torch):
    v = np.load(torch)
    ours = network(dict(np.load(weights)), v['rows'].astype(np.float64))
    print('greatest difference from torch', np.abs(ours - v['logits']).max())


if __name__ == '__main__':
    compare(*sys.argv[1:]) if len(sys.argv) > 1 else make()
