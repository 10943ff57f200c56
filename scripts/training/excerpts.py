# SPDX-License-Identifier: GPL-3.0-or-later
"""Packed excerpts, and crops of them with their targets and hints, on the device that trains.

Levels: the truth as it is (0), marked more coarsely (1: every second beat in bars of two and four, the bar in bars of
three), more finely (2: halves of beats, or thirds in compound metres). Hints at levels 1 and 2 teach that the hint is
obeyed.
"""

import lzma
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
import torch

import network

BANDS = network.BANDS
RATE = network.RATE_HZ
LEVELS = 3
FAR = 1e9


@dataclass
class Excerpt:
    name: str
    rows: np.ndarray  # uint8, steps of 1 / steps
    steps: int
    beats: np.ndarray  # seconds, whether a downbeat
    phrases: np.ndarray  # seconds
    bars_known: bool
    phrases_known: bool
    compound: bool

    @property
    def downbeats(self):
        return self.beats[self.beats[:, 1] > 0, 0]

    @property
    def beats_in_bar(self):
        """The usual number, or 0 where it is not known."""
        ones = np.flatnonzero(self.beats[:, 1] > 0)
        if not self.bars_known or len(ones) < 2:
            return 0
        return int(np.bincount(np.diff(ones)).argmax())

    @property
    def usual_period_s(self):
        return float(np.median(np.diff(self.beats[:, 0])))


def unpack(path):
    """The excerpts of one file of pack.py."""
    packed = np.load(path)
    names = sorted(k[5:] for k in packed.files if k.startswith('rows/'))
    steps = int(packed['steps'])
    parts = [(n, packed['rows/' + n].tobytes(), packed['beats/' + n], packed['phrases/' + n], packed['known/' + n])
             for n in names]

    def one(part):
        name, blob, beats, phrases, known = part
        changes = np.frombuffer(lzma.decompress(blob), np.uint8).reshape(-1, BANDS)
        return Excerpt(name, np.cumsum(changes, axis=0, dtype=np.uint8), steps, beats, phrases, *map(bool, known))

    with ThreadPoolExecutor() as pool:
        return list(pool.map(one, parts))


def nearest(times_s, n):
    """For each of n rows, the row (not whole) of the nearest time; far away when there is none."""
    if len(times_s) == 0:
        return np.full(n, FAR, np.float32)
    rows = np.sort(times_s) * RATE
    right = np.clip(np.searchsorted(rows, np.arange(n)), 1, max(len(rows) - 1, 1))
    left = rows[right - 1]
    right = rows[np.minimum(right, len(rows) - 1)]
    here = np.arange(n)
    return np.where(np.abs(left - here) <= np.abs(right - here), left, right).astype(np.float32)


def relabelled(excerpt):
    """Beats at each level, and beats of the truth a beat of that level; None where a level has no sense."""
    times, ones = excerpt.beats[:, 0], np.flatnonzero(excerpt.beats[:, 1] > 0)
    finer = 3 if excerpt.compound else 2
    index = np.arange(finer * (len(times) - 1) + 1) / finer
    fine = np.interp(index, np.arange(len(times)), times), 1 / finer
    wide = {2: 2, 4: 2, 3: 3}.get(excerpt.beats_in_bar)
    if not wide:
        return [(times, 1.0), None, fine]
    place = np.arange(len(times)) - ones[np.clip(np.searchsorted(ones, np.arange(len(times)), 'right') - 1, 0, None)]
    return [(times, 1.0), (times[place % wide == 0], float(wide)), fine]


class Music:
    """Excerpts laid end to end on the device; for every row, where the nearest beats are and how many were before."""

    def __init__(self, excerpts, device):
        lengths = np.array([len(e.rows) for e in excerpts])
        self.begin = torch.tensor(np.concatenate([[0], np.cumsum(lengths)[:-1]]), device=device)
        self.length = torch.tensor(lengths, device=device)
        self.rows = torch.tensor(np.concatenate([e.rows for e in excerpts]), device=device)
        self.step = torch.tensor([1.0 / e.steps for e in excerpts], device=device)
        near, count, per, span, bar = [], [], [], [], []
        for e in excerpts:
            n, levels = len(e.rows), relabelled(e)
            near.append(np.stack([nearest(level[0], n) if level else np.full(n, FAR, np.float32) for level in levels]
                                 + [nearest(e.downbeats, n), nearest(e.phrases, n)], 1))
            count.append(np.interp(np.arange(n), e.beats[:, 0] * RATE, np.arange(len(e.beats))).astype(np.float32))
            per.append([level[1] if level else 0.0 for level in levels])
            span.append(e.beats[[0, -1], 0] * RATE)
            bar.append(e.beats_in_bar)
        self.near = torch.tensor(np.concatenate(near), device=device)
        self.count = torch.tensor(np.concatenate(count), device=device)
        self.per = torch.tensor(np.array(per), dtype=torch.float32, device=device)
        self.span = torch.tensor(np.array(span), dtype=torch.float32, device=device)
        self.bar = torch.tensor(bar, dtype=torch.float32, device=device)
        self.known = torch.tensor([[1.0, e.bars_known, e.phrases_known] for e in excerpts], device=device)
        self.share = (self.length.double() / self.length.sum())

    def draw(self, n, length, stretch, hints=True):
        """n crops of `length` rows, each `stretch[i]` source rows a row. @return bands, targets, weights, hints."""
        device = self.rows.device
        which = torch.multinomial(self.share, n, replacement=True)
        span = length * stretch
        room = (self.length[which] - span).clamp(min=0)
        begin = torch.rand(n, device=device) * (room + 0.2 * span) - 0.1 * span
        at = begin[:, None] + torch.arange(length, device=device)[None] * stretch[:, None]
        last = (self.length[which] - 1)[:, None]
        inside = (at >= 0) & (at <= last)
        base = self.begin[which][:, None]
        x = self.bands_at(base, at, last) * (self.step[which][:, None, None] * inside[:, :, None])
        level, hint = self.draw_hints(which, at, stretch) if hints else (torch.zeros_like(which), None)
        near = self.near[base + at.round().clamp(min=0).minimum(last).long()]
        chosen = torch.cat([near.gather(2, level[:, None, None].expand(-1, length, 1)), near[:, :, LEVELS:]], 2)
        target = bump((chosen - at[:, :, None]).abs() / stretch[:, None, None])
        return x, target, inside[:, :, None] * self.known[which][:, None], hint

    def bands_at(self, base, at, last):
        low = at.floor().clamp(min=0).minimum(last).long()
        high = (low + 1).minimum(last)
        part = (at - low).clamp(0, 1)[:, :, None]
        return self.rows[base + low].float() * (1 - part) + self.rows[base + high].float() * part

    def draw_hints(self, which, at, stretch):
        """Levels and hints. Half of the crops know the period, half the bar; a third of the former are relabelled."""
        n, device = len(which), at.device
        told, bar_told = torch.rand(n, device=device) < 0.5, torch.rand(n, device=device) < 0.5
        level = torch.randint(1, LEVELS, (n,), device=device) * (told & (torch.rand(n, device=device) < 1 / 3))
        per = self.per[which].gather(1, level[:, None])[:, 0]
        level = level * (per > 0)
        per = torch.where(per > 0, per, 1.0)
        longest = (self.length[which] / RATE).clamp(min=6.0)
        window = RATE * 5.0 * (longest / 5.0) ** torch.rand(n, device=device)
        period = self.period_s(which, at, window) * (per / stretch)[:, None]
        period = period * torch.exp(0.05 * torch.randn(n, 1, device=device))
        bar = torch.where(bar_told, self.bar[which] / per, 0.0)
        return level, network.hints(torch.where(told[:, None], period, 0.0), bar[:, None].expand_as(at))

    def period_s(self, which, at, window):
        """Mean seconds of a beat in the window (in rows) around each row, as far as there are beats."""
        first, last = self.span[which, 0, None], self.span[which, 1, None]
        half = torch.minimum(0.5 * window[:, None], 0.45 * (last - first))
        middle = torch.maximum(torch.minimum(at, last - half), first + half)
        base, end = self.begin[which][:, None], (self.length[which] - 1)[:, None]

        def beats_before(row):
            return self.count[base + row.round().clamp(min=0).minimum(end).long()]

        low, high = (middle - half).round(), (middle + half).round()
        return (high - low) / RATE / (beats_before(high) - beats_before(low)).clamp(min=0.1)


def bump(away):
    """The target, `away` rows from a beat: 1, 0.6 a row away, 0.14 two rows away."""
    return torch.exp(-0.5 * away ** 2) * (away < 3.0)


def whole_hint(excerpt):
    """What notes would tell about a whole excerpt: its mean beat, and its bar. (rows, HINTS)"""
    period = (excerpt.beats[-1, 0] - excerpt.beats[0, 0]) / (len(excerpt.beats) - 1)
    n = len(excerpt.rows)
    return network.hints(torch.full((1, n), period), torch.full((1, n), float(excerpt.beats_in_bar)))[0]
