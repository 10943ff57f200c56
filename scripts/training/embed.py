# SPDX-License-Identifier: GPL-3.0-or-later
"""Turn trained weights into the file that becomes part of the library (src/ear/network.h describes it).

  embed.py WEIGHTS.npz OUT.bin      (usually src/ear/network.bin)

The names are as torch gives them (network.py); sizes are read from the shapes. Needs numpy.
"""

import struct
import sys
import zlib

import numpy as np

VERSION = 1
BANDS = 63


def convolution(weight):
    """(out, in, time, band) to (time, band, in; out): as the inputs lie side by side in C."""
    return weight.transpose(2, 3, 1, 0).reshape(-1, weight.shape[0])


def matrices(weights):
    """(inputs by outputs, what is added or None), in the order of the file."""
    for name in ('first', 'second', 'third'):
        yield convolution(weights[f'front.{name}.weight']), weights[f'front.{name}.bias']
    if 'hint.weight' in weights:
        yield weights['hint.weight'].T, None
    for i in range(count_layers(weights)):
        for name in ('near.matrix', 'far.matrix', 'mix'):
            yield weights[f'layers.{i}.{name}.weight'].T, weights[f'layers.{i}.{name}.bias']
    yield weights['last.weight'].T, weights['last.bias']


def count_layers(weights):
    n = 0
    while f'layers.{n}.mix.weight' in weights:
        n += 1
    return n


def network_file(weights):
    """The bytes of the file."""
    hint = weights['hint.weight'].shape[1] if 'hint.weight' in weights else 0
    width = weights['front.first.weight'].shape[0]
    outputs, channels = weights['last.weight'].shape
    checked = struct.pack('<6I', BANDS, width, channels, count_layers(weights), outputs, hint)
    for matrix, bias in matrices(weights):
        checked += np.ascontiguousarray(matrix).astype('<f2').tobytes()
        checked += b'' if bias is None else bias.astype('<f2').tobytes()
    return b'CWEARNET' + struct.pack('<2I', VERSION, zlib.crc32(checked)) + checked


def main():
    source, out = sys.argv[1:]
    with np.load(source) as weights:
        content = network_file(dict(weights))
    with open(out, 'wb') as file:
        file.write(content)


if __name__ == '__main__':
    main()
