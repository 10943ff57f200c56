# SPDX-License-Identifier: GPL-3.0-or-later
"""The learned ear: a small offline network from reduced bands (see spectrogram.c) to beats, downbeats and phrases.

Front: three convolutions over time and bands, the bands pooled away (after Davies and Boeck, Temporal convolutional
networks for musical audio beat tracking, EUSIPCO 2019). What is known beforehand (how long beats are, how many make a
bar) is added as a hint. Then residual layers, each of two dilated convolutions over time side by side (after Boeck and
Davies, Deconstruct, analyse, reconstruct, ISMIR 2020), their outputs summed (skip) before the last layer.

Everything is (batch, time, values), and each convolution is shifted copies side by side and one matrix: the form in
which the C code computes it, and the quickest on a GPU too. Weights have the shapes of torch's own convolutions.
"""

import torch
from torch import nn
from torch.nn import functional as F

BANDS = 63
RATE_HZ = 50
PERIODS = 16  # values of a hint that tell the length of a beat; BARS tell how many make a bar
BARS = (2, 3, 4, 5, 6)
HINTS = PERIODS + len(BARS)
OUTPUTS = ('beat', 'downbeat', 'phrase')


def hints(period_s, beats_in_bar):
    """(..., HINTS) of seconds of a beat and beats in a bar, both 0 (or not in BARS) where nothing is known."""
    centres = -2.25 + 0.35 * torch.arange(PERIODS, device=period_s.device)
    away = (torch.log2(period_s.clamp(min=1e-3))[..., None] - centres) / 0.25
    periods = torch.exp(-0.5 * away ** 2) * (period_s > 0)[..., None]
    bars = torch.tensor(BARS, device=period_s.device)
    return torch.cat([periods, ((beats_in_bar[..., None] - bars).abs() < 1e-3).float()], -1)


def shifted(x, offsets):
    """Copies of x, each as it is `offset` rows later, side by side; 0 outside."""
    reach = max(abs(offset) for offset in offsets)
    padded = F.pad(x, (0, 0, reach, reach))
    n = x.shape[1]
    return torch.cat([padded[:, reach + offset:reach + offset + n] for offset in offsets], 2)


class Dilated(nn.Module):
    """A convolution over time, kernel 5: five copies shifted by `dilation` side by side, then one matrix."""

    def __init__(self, channels, dilation):
        super().__init__()
        self.offsets = [k * dilation for k in (-2, -1, 0, 1, 2)]
        self.matrix = nn.Linear(5 * channels, channels)

    def forward(self, x):
        return self.matrix(shifted(x, self.offsets))


class Layer(nn.Module):
    """Two dilations side by side, and back to the width of the network. @return (what goes on, what is skipped)"""

    def __init__(self, channels, dilation, dropout):
        super().__init__()
        self.near = Dilated(channels, dilation)
        self.far = Dilated(channels, 2 * dilation)
        self.drop = nn.Dropout(dropout)
        self.mix = nn.Linear(2 * channels, channels)

    def forward(self, x):
        y = F.elu(torch.cat([self.near(x), self.far(x)], 2))
        y = self.mix(self.drop(y))
        return x + y, y


def banded(weight, bands, places):
    """The matrix of a convolution over bands: (time * bands * in, places * out)."""
    n_out, n_in, times, wide = weight.shape
    kernel = weight.permute(2, 3, 1, 0)  # time, band, in, out
    columns = [F.pad(kernel, (0, 0, 0, 0, p, bands - wide - p)) for p in range(places)]
    return torch.stack(columns, 3).reshape(times * bands * n_in, places * n_out)


def pooled(x, places, width):
    """The greatest of each three neighbouring bands."""
    return x.reshape(*x.shape[:2], places // 3, 3, width).amax(3)


class Front(nn.Module):
    """Bands to `channels` values a row: 63 bands, 60 places pooled to 20, 12 pooled to 4, 1.

    Pooled before what bends (ELU rises everywhere, so the order makes no difference).
    """

    def __init__(self, width, channels, dropout):
        super().__init__()
        self.width = width
        self.first = nn.Conv2d(1, width, (3, 3))
        self.second = nn.Conv2d(width, width, (1, 8))
        self.third = nn.Conv2d(width, channels, (3, 4))
        self.drop = nn.Dropout(dropout)

    def forward(self, x):
        y = shifted(x, (-1, 0, 1)) @ banded(self.first.weight, BANDS, 60)
        y = self.drop(F.elu(pooled(y, 60, self.width) + self.first.bias)).flatten(2)
        y = y @ banded(self.second.weight, 20, 12)
        y = self.drop(F.elu(pooled(y, 12, self.width) + self.second.bias)).flatten(2)
        y = shifted(y, (-1, 0, 1)) @ banded(self.third.weight, 4, 1)
        return self.drop(F.elu(y + self.third.bias))


class Network(nn.Module):
    """(batch, time, BANDS) compressed bands, perhaps (batch, time, HINTS), to (batch, time, OUTPUTS) logits."""

    def __init__(self, width=32, channels=48, layers=9, dropout=0.15):
        super().__init__()
        self.front = Front(width, channels, dropout)
        self.hint = nn.Linear(HINTS, channels, bias=False)
        self.layers = nn.ModuleList(Layer(channels, 1 << i, dropout) for i in range(layers))
        self.drop = nn.Dropout(dropout)
        self.last = nn.Linear(channels, len(OUTPUTS))

    def forward(self, x, hint=None):
        x = self.front(x * 0.5 - 0.6)
        if hint is not None:
            x = x + self.hint(hint)
        skipped = 0
        for layer in self.layers:
            x, y = layer(x)
            skipped = skipped + y
        x = self.drop(F.elu(skipped))
        with torch.autocast(x.device.type, enabled=False):
            return self.last(x.float())
