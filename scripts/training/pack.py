# SPDX-License-Identifier: GPL-3.0-or-later
"""Pack what spectrogram.c wrote, and the true beats, into one small file for training.

  pack.py OUT.npz SPECTROGRAMS BEATS      (two folders: NAME.u8, NAME.beats)

Bands are halved to steps of 1/12, stored as differences from row to row, each excerpt compressed by itself.
"""

import bz2
import os
import sys

import numpy as np

BANDS = 63


def pack(path, beats_path):
    rows = np.fromfile(path, np.uint8).reshape(-1, BANDS)
    rows = (rows + 1) // 2
    steps = np.diff(rows, axis=0, prepend=np.zeros((1, BANDS), np.uint8))
    lines = [line.split() for line in open(beats_path) if line.strip()]
    beats = np.array([(float(t), k == 'db') for t, k in (line[:2] for line in lines)], np.float64)
    return np.frombuffer(bz2.compress(np.ascontiguousarray(steps).tobytes()), np.uint8), beats.reshape(-1, 2)


def main():
    out, folder, truth = sys.argv[1:]
    arrays = {}
    for name in sorted(os.listdir(folder)):
        stem = name[:-3]
        arrays['rows/' + stem], arrays['beats/' + stem] = pack(f'{folder}/{name}', f'{truth}/{stem}.beats')
    np.savez(out, **arrays)


main()
