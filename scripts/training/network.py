# SPDX-License-Identifier: GPL-3.0-or-later
"""The learned ear: a small offline network from reduced bands (see spectrogram.c) to beat and downbeat activation.

Front: three convolutions over time and bands, the bands pooled away (after Davies and Boeck, Temporal convolutional
networks for musical audio beat tracking, EUSIPCO 2019). Then, by `kind`:
  tcn     residual layers, each of two dilated convolutions over time side by side (after Boeck and Davies, Deconstruct,
          analyse, reconstruct, ISMIR 2020), their outputs summed (skip) before the last layer
  gru     two bidirectional gated recurrent layers
  hybrid  tcn, and one bidirectional gated recurrent layer on its sum
Everything is (batch, time, channels) between the front and the end, so that each dilated convolution is five shifted
copies side by side and one matrix: the form in which the C code computes it.
"""

import torch
from torch import nn
from torch.nn import functional as F

BANDS = 63
INPUT_SCALE = 24.0  # of the bytes of spectrogram.c
RATE_HZ = 50


class Dilated(nn.Module):
    """A convolution over time, kernel 5: five copies shifted by `dilation` side by side, then one matrix."""

    def __init__(self, channels, dilation):
        super().__init__()
        self.dilation = dilation
        self.matrix = nn.Linear(5 * channels, channels)

    def forward(self, x):
        reach = 2 * self.dilation
        padded = F.pad(x, (0, 0, reach, reach))
        n = x.shape[1]
        copies = [padded[:, k * self.dilation:k * self.dilation + n] for k in range(5)]
        return self.matrix(torch.cat(copies, 2))


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


class Front(nn.Module):
    """Bands to `channels` values a frame: 63 bands, 61, pooled 20, 13, pooled 4, 1."""

    def __init__(self, width, channels, dropout):
        super().__init__()
        self.first = nn.Conv2d(1, width, (3, 3), padding=(1, 0))
        self.second = nn.Conv2d(width, width, (1, 8))
        self.third = nn.Conv2d(width, channels, (3, 4), padding=(1, 0))
        self.drop = nn.Dropout(dropout)

    def forward(self, x):
        y = F.max_pool2d(F.elu(self.first(x[:, None])), (1, 3))
        y = F.max_pool2d(F.elu(self.second(self.drop(y))), (1, 3))
        y = F.elu(self.third(self.drop(y)))
        return self.drop(y[:, :, :, 0].transpose(1, 2).contiguous())


class Network(nn.Module):
    """(batch, time, BANDS) compressed bands, not scaled to bytes, to (batch, time, 2) logits: beat, downbeat."""

    def __init__(self, kind='tcn', width=24, channels=32, layers=10, hidden=48, dropout=0.1):
        super().__init__()
        self.kind = kind
        self.front = Front(width, channels, dropout)
        if kind != 'gru':
            self.layers = nn.ModuleList(Layer(channels, 1 << i, dropout) for i in range(layers))
        last = channels
        if kind != 'tcn':
            self.recurrent = nn.GRU(channels, hidden, 2 if kind == 'gru' else 1, batch_first=True, bidirectional=True)
            last = 2 * hidden + channels
        self.drop = nn.Dropout(dropout)
        self.last = nn.Linear(last, 2)

    def forward(self, x):
        x = self.front(x * 0.5 - 0.6)
        if self.kind != 'gru':
            skipped = 0
            for layer in self.layers:
                x, y = layer(x)
                skipped = skipped + y
            x = F.elu(skipped)
        if self.kind != 'tcn':
            x = torch.cat([self.recurrent(x)[0], x], 2)
        return self.last(self.drop(x))
