# SPDX-License-Identifier: GPL-3.0-or-later
"""Vary crops as recordings vary, on the device that trains."""

import math
import os

import numpy as np
import torch
from torch.nn import functional as F

from network import BANDS


def pitch_shifts(device):
    """Matrices that move the bands by -6 ... 6 half semitones (fewer bands a semitone where bands are wide)."""
    hz = np.array([float(line) for line in open(os.path.join(os.path.dirname(os.path.abspath(__file__)), 'bands.txt'))])
    position = np.log2(hz)
    matrices = []
    for half in range(-6, 7):
        source = np.interp(position - half / 24.0, position, np.arange(BANDS))
        low = np.minimum(np.floor(source).astype(int), BANDS - 2)
        m = np.zeros((BANDS, BANDS), np.float32)
        m[low, np.arange(BANDS)] = 1 - (source - low)
        m[low + 1, np.arange(BANDS)] += source - low
        matrices.append(m)
    return torch.tensor(np.stack(matrices), device=device)


def smooth_gain(n, device, spread):
    """A smooth random curve over the bands, in natural log."""
    nodes = torch.randn(n, 1, 7, device=device) * spread
    return F.interpolate(nodes, size=BANDS, mode='linear', align_corners=True)


def spoil(x, shifts):
    """Key, filters, narrow band, noise, level, lost bands and moments."""
    n, length, _ = x.shape
    device = x.device

    def some(share):
        return (torch.rand(n, 1, 1, device=device) < share).float()

    x = torch.bmm(x, shifts[torch.randint(len(shifts), (n,), device=device)])
    loud = torch.expm1(x)
    loud = loud * torch.exp(smooth_gain(n, device, 0.5) * some(0.7))
    band = torch.arange(BANDS, device=device)[None, None]
    cut = 30 + 33 * torch.rand(n, 1, 1, device=device)
    loud = loud * torch.exp(-(band - cut).clamp(min=0) * 0.5 * some(0.25))
    cut = 15 * torch.rand(n, 1, 1, device=device)
    loud = loud * torch.exp(-(cut - band).clamp(min=0) * 0.5 * some(0.15))
    floor = torch.exp(torch.empty(n, 1, 1, device=device).uniform_(math.log(0.05), math.log(4.0)))
    noise = torch.randn_like(x).abs() * floor * torch.exp(smooth_gain(n, device, 0.7)) * some(0.4)
    loud = (loud ** 2 + noise ** 2).sqrt()
    level = torch.exp(torch.empty(n, 1, 1, device=device).uniform_(math.log(0.4), math.log(2.0)))
    x = torch.log1p(loud * level)
    x = x * (1 + 0.1 * torch.randn(n, 1, 1, device=device))
    for _ in range(2):
        first = torch.randint(BANDS, (n, 1, 1), device=device)
        wide = torch.randint(9, (n, 1, 1), device=device) * some(0.5)
        x = x * (1 - ((band >= first) & (band < first + wide)).float())
    for _ in range(3):
        row = torch.arange(length, device=device)[None, :, None]
        first = torch.randint(length, (n, 1, 1), device=device)
        wide = torch.randint(25, (n, 1, 1), device=device) * some(0.5)
        x = x * (1 - ((row >= first) & (row < first + wide)).float())
    return x
