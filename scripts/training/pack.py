# SPDX-License-Identifier: GPL-3.0-or-later
"""Pack what spectrogram.c wrote, and the truth, into one small file for training.

  pack.py OUT.npz STEPS SPECTROGRAMS TRUTH [NAMES]   (two folders: NAME.u8; NAME.beats and NAME.json)

Bands are rounded to steps of 1 / STEPS (12 or 8), stored as differences from row to row, each excerpt compressed by
itself. NAMES is a file of names; without it, all.
"""

import json
import lzma
import os
import sys

import numpy as np

BANDS = 63
SCALE = 24  # of spectrogram.c


def pack_rows(path, steps):
    fine = SCALE // steps
    rows = (np.fromfile(path, np.uint8).reshape(-1, BANDS) + fine // 2) // fine
    changes = np.diff(rows, axis=0, prepend=np.zeros((1, BANDS), np.uint8))
    return np.frombuffer(lzma.compress(np.ascontiguousarray(changes).tobytes(), preset=6), np.uint8)


def read_truth(stem):
    """Beats (seconds, whether a downbeat), phrase starts, and (bars known, phrases known, compound)."""
    lines = [line.split() for line in open(f'{stem}.beats') if line.strip()]
    beats = np.array([(float(t), k == 'db') for t, k in (line[:2] for line in lines)], np.float64)
    said = json.load(open(f'{stem}.json')) if os.path.exists(f'{stem}.json') else {}
    phrases = said.get('phrases_s')
    known = said.get('bars_known', True), phrases is not None, said.get('compound', False)
    return beats.reshape(-1, 2), np.array(phrases or [], np.float64), np.array(known, np.uint8)


def main():
    out, steps, folder, truth = sys.argv[1:5]
    names = sorted(name[:-3] for name in os.listdir(folder) if name.endswith('.u8'))
    if len(sys.argv) > 5:
        wanted = set(open(sys.argv[5]).read().split())
        names = [name for name in names if name in wanted]
    arrays = {'steps': np.array(int(steps))}
    for name in names:
        arrays['rows/' + name] = pack_rows(f'{folder}/{name}.u8', int(steps))
        arrays['beats/' + name], arrays['phrases/' + name], arrays['known/' + name] = read_truth(f'{truth}/{name}')
    np.savez(out, **arrays)


if __name__ == '__main__':
    main()
