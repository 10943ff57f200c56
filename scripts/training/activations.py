# SPDX-License-Identifier: GPL-3.0-or-later
"""Turn the logits that train.py kept into activations as the program has them.

  activations.py NAME.act.npz FOLDER

writes FOLDER/RECORDING.npy: float16, 100 rows a second, row i at i / 100 s; probability of beat, of downbeat. The
network gives 50 rows a second; logits are interpolated linearly between.
"""

import sys

import numpy as np


def main():
    logits = np.load(sys.argv[1])
    for name in logits.files:
        rows = logits[name].astype(np.float64)
        fine = np.empty((2 * len(rows), 2))
        fine[0::2] = rows
        fine[1::2] = 0.5 * (rows + np.concatenate([rows[1:], rows[-1:]]))
        np.save(f'{sys.argv[2]}/{name}.npy', (1.0 / (1.0 + np.exp(-fine))).astype(np.float16))


main()
