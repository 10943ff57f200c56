# SPDX-License-Identifier: GPL-3.0-or-later
"""Turn the logits that train.py kept into activations at the rate of the program's frames.

  activations.py NAME.act.npz FOLDER [PART]

writes FOLDER/RECORDING.npy: float32, 100 rows a second, row i at i / 100 s; logits of beat, downbeat, phrase. The
network gives 50 rows a second; logits are interpolated linearly between. With PART only what train.py kept of it.
"""

import sys

import numpy as np


def doubled(rows):
    fine = np.empty((2 * len(rows), rows.shape[1]), np.float32)
    fine[0::2] = rows
    fine[1::2] = 0.5 * (rows + np.concatenate([rows[1:], rows[-1:]]))
    return fine


def main():
    logits = np.load(sys.argv[1])
    for key in logits.files:
        part, name = key.split('.', 1)
        if len(sys.argv) < 4 or part == sys.argv[3]:
            np.save(f'{sys.argv[2]}/{name}.npy', doubled(logits[key].astype(np.float32)))


main()
