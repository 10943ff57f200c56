# SPDX-License-Identifier: GPL-3.0-or-later
"""Train the learned ear (network.py) on packed music (pack.py), for a given time.

  train.py --data FOLDER --fit fit1,fit2 --valid valid --measure rec --out FOLDER --seconds 500 --kind tcn --seed 1

Weights are an exponential mean of those along the way; the last are kept: nothing is chosen by `--measure`, which is
only run through at the end. Writes into FOLDER, for NAME: NAME.npz (weights), NAME.act.npz (logits of valid and
measured recordings, float16, RATE_HZ a second), NAME.log.
"""

import argparse
import bz2
import copy
import math
import time
from concurrent.futures import ThreadPoolExecutor

import numpy as np
import torch
from torch.nn import functional as F

import network

BANDS = network.BANDS
RATE = network.RATE_HZ


def unpack(path):
    """The excerpts of one file of pack.py: name, rows (uint8, steps of 1/12), beats (seconds, whether a downbeat)."""
    packed = np.load(path)
    names = sorted(k[5:] for k in packed.files if k.startswith('rows/'))
    blobs = [(n, packed['rows/' + n].tobytes(), packed['beats/' + n]) for n in names]

    def one(item):
        name, blob, beats = item
        steps = np.frombuffer(bz2.decompress(blob), np.uint8).reshape(-1, BANDS)
        return name, np.cumsum(steps, axis=0, dtype=np.uint8), beats

    with ThreadPoolExecutor() as pool:
        return list(pool.map(one, blobs))


def nearest(times_s, n):
    """For each of n rows, the row (not whole) of the nearest time; far away when there is none."""
    if len(times_s) == 0:
        return np.full(n, 1e9, np.float32)
    rows = np.sort(times_s) * RATE
    right = np.clip(np.searchsorted(rows, np.arange(n)), 1, max(len(rows) - 1, 1))
    left = rows[right - 1]
    right = rows[np.minimum(right, len(rows) - 1)]
    here = np.arange(n)
    return np.where(np.abs(left - here) <= np.abs(right - here), left, right).astype(np.float32)


class Music:
    """Excerpts laid end to end on the device, and the nearest beat and downbeat of every row."""

    def __init__(self, excerpts, device):
        lengths = np.array([len(rows) for _, rows, _ in excerpts])
        self.begin = torch.tensor(np.concatenate([[0], np.cumsum(lengths)[:-1]]), device=device)
        self.length = torch.tensor(lengths, device=device)
        self.rows = torch.tensor(np.concatenate([rows for _, rows, _ in excerpts]), device=device)
        near = []
        for _, rows, beats in excerpts:
            down = beats[beats[:, 1] > 0, 0]
            near.append(np.stack([nearest(beats[:, 0], len(rows)), nearest(down, len(rows))], 1))
        self.near = torch.tensor(np.concatenate(near), device=device)
        self.share = (self.length.double() / self.length.sum())

    def draw(self, n, length, stretch, generator=None):
        """n crops of `length` rows, each `stretch[i]` source rows a row. @return bands, targets, what counts."""
        device = self.rows.device
        which = torch.multinomial(self.share, n, replacement=True)
        span = length * stretch
        room = (self.length[which] - span).clamp(min=0)
        begin = torch.rand(n, device=device) * (room + 0.2 * span) - 0.1 * span
        at = begin[:, None] + torch.arange(length, device=device)[None] * stretch[:, None]
        last = (self.length[which] - 1)[:, None]
        inside = (at >= 0) & (at <= last)
        low = at.floor().clamp(min=0).minimum(last).long()
        high = (low + 1).minimum(last)
        part = (at - low).clamp(0, 1)[:, :, None]
        base = self.begin[which][:, None]
        x = self.rows[base + low].float() * (1 - part) + self.rows[base + high].float() * part
        x = x / 12.0 * inside[:, :, None]
        middle = at.round().clamp(min=0).minimum(last).long()
        away = (self.near[base + middle] - at[:, :, None]).abs() / stretch[:, None, None]
        return x, bump(away), inside


def bump(away):
    """The target, `away` rows from a beat: 1, 0.6 a row away, 0.14 two rows away."""
    return torch.exp(-0.5 * away ** 2) * (away < 3.0)


def pitch_shifts(device):
    """Matrices that move the bands by -6 ... 6 half semitones (fewer bands a semitone where bands are wide)."""
    hz = np.array([float(line) for line in open(__file__.replace('train.py', 'bands.txt'))])
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
    """Vary crops as recordings vary: key, filters, narrow band, noise, level, lost bands and moments."""
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


def balanced_loss(logits, target, inside):
    """Cross entropy; beats weigh more than the rows between, downbeats, which are fewer, more still."""
    weight = (1 + target * torch.tensor([4.0, 8.0], device=target.device)) * inside[:, :, None]
    loss = F.binary_cross_entropy_with_logits(logits.float(), target, reduction='none')
    return (loss * weight).sum() / inside.sum() / 2


def activate(model, rows, device):
    """Logits of one whole recording, in full precision."""
    x = torch.tensor(rows, device=device)[None].float() / 12.0
    with torch.no_grad():
        return model(x)[0].float().cpu().numpy()


def peaks(logits, threshold):
    """Times (s) of local maxima of one activation within 5 rows on either side, placed between rows by a parabola."""
    a = 1.0 / (1.0 + np.exp(-logits.astype(np.float64)))
    padded = np.pad(a, 5, mode='constant')
    highest = np.lib.stride_tricks.sliding_window_view(padded, 11).max(1)
    at = np.flatnonzero((a >= highest) & (a > threshold))
    left, here, right = a[np.maximum(at - 1, 0)], a[at], a[np.minimum(at + 1, len(a) - 1)]
    bend = left - 2 * here + right
    return (at + np.where(bend < 0, 0.5 * (left - right) / np.minimum(bend, -1e-9), 0).clip(-0.5, 0.5)) / RATE


def f_measure(found, true, window_s=0.07):
    if len(found) == 0 or len(true) == 0:
        return 0.0
    hits, j = 0, 0
    for t in true:
        while j < len(found) and found[j] < t - window_s:
            j += 1
        if j < len(found) and found[j] <= t + window_s:
            hits, j = hits + 1, j + 1
    return 2 * hits / (len(found) + len(true))


THRESHOLDS = (0.2, 0.3, 0.4, 0.5, 0.6)


def judge(logits, excerpts):
    """Mean F of beats and of downbeats by plain peak picking, a row for each threshold."""
    table = []
    for threshold in THRESHOLDS:
        row = []
        for column in (0, 1):
            row.append(np.mean([f_measure(peaks(logits[name][:, column], threshold),
                                          np.sort(b[:, 0] if column == 0 else b[b[:, 1] > 0, 0]))
                                for name, _, b in excerpts]))
        table.append(row)
    return np.array(table)


def valid_loss(logits, excerpts):
    total, n = 0.0, 0
    for name, rows, beats in excerpts:
        down = beats[beats[:, 1] > 0, 0]
        near = np.stack([nearest(beats[:, 0], len(rows)), nearest(down, len(rows))], 1)
        away = torch.tensor(np.abs(near - np.arange(len(rows))[:, None]))
        inside = torch.ones(1, len(rows))
        total += float(balanced_loss(torch.tensor(logits[name])[None], bump(away)[None], inside)) * len(rows)
        n += len(rows)
    return total / n


class Trainer:
    def __init__(self, args):
        self.args = args
        self.device = 'cuda' if torch.cuda.is_available() else 'cpu'
        torch.manual_seed(args.seed)
        load = lambda names: sum((unpack(f'{args.data}/{n}.npz') for n in names.split(',') if n), [])
        self.fit, self.valid, self.measure = load(args.fit), load(args.valid), load(args.measure)
        if args.leave:
            self.fit = [e for e in self.fit if not e[0].startswith(tuple(args.leave.split(',')))]
        self.music = Music(self.fit, self.device)
        self.shifts = pitch_shifts(self.device)
        self.model = network.Network(args.kind, args.width, args.channels, args.layers, args.hidden,
                                     args.dropout).to(self.device)
        self.mean = copy.deepcopy(self.model).eval()
        self.optimizer = torch.optim.AdamW(self.model.parameters(), args.rate, weight_decay=0.01)
        self.log = open(f'{args.out}/{args.name}.log', 'w')
        self.steps = 0

    def tell(self, text):
        print(self.args.name, text, flush=True)
        self.log.write(text + '\n')
        self.log.flush()

    def step(self, done):
        args = self.args
        warm = min(1.0, (self.steps + 1) / 200)
        for group in self.optimizer.param_groups:
            group['lr'] = args.rate * warm * (0.5 + 0.5 * math.cos(math.pi * min(done, 1.0)))
        stretch = torch.exp(torch.empty(args.batch, device=self.device).uniform_(math.log(0.7), math.log(1.4)))
        if args.plain:
            stretch = torch.ones_like(stretch)
        x, target, inside = self.music.draw(args.batch, args.rows, stretch)
        if not args.plain:
            x = spoil(x, self.shifts)
        with torch.autocast(self.device, dtype=torch.bfloat16):
            logits = self.model(x)
        loss = balanced_loss(logits, target, inside)
        self.optimizer.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(self.model.parameters(), 1.0)
        self.optimizer.step()
        self.steps += 1
        keep = min(0.998, self.steps / (self.steps + 10))
        with torch.no_grad():
            torch._foreach_mul_(list(self.mean.parameters()), keep)
            torch._foreach_add_(list(self.mean.parameters()), list(self.model.parameters()), alpha=1 - keep)
        return loss.detach()

    def look(self, running, begun):
        logits = {n: activate(self.mean, rows, self.device) for n, rows, _ in self.valid}
        table = judge(logits, self.valid).max(0)
        self.tell(f'{time.time() - begun:6.1f} s  step {self.steps}  fit {running:.4f}  '
                  f'valid {valid_loss(logits, self.valid):.4f}  beat F {table[0]:.4f}  downbeat F {table[1]:.4f}')
        return logits

    def run(self):
        args = self.args
        self.tell(f'{vars(args)}')
        self.tell(f'{sum(p.numel() for p in self.model.parameters())} parameters; fit {len(self.fit)} excerpts, '
                  f'{int(self.music.length.sum()) / RATE / 60:.0f} minutes; {self.device}')
        begun, looked, running = time.time(), time.time(), None
        while time.time() - begun < args.seconds and self.steps < args.steps:
            loss = self.step((time.time() - begun) / args.seconds)
            if running is None:
                running = loss
            running = 0.99 * running + 0.01 * loss
            if time.time() - looked > args.every:
                self.look(float(running), begun)
                looked = time.time()
        logits = self.look(float(running), begun)
        self.finish(logits)

    def finish(self, logits):
        args = self.args
        np.savez(f'{args.out}/{args.name}.npz', **{k: v.cpu().numpy() for k, v in self.mean.state_dict().items()})
        table = judge(logits, self.valid)
        chosen = table.argmax(0)
        for threshold, row in zip(THRESHOLDS, table):
            self.tell(f'valid, threshold {threshold}: beat F {row[0]:.4f}, downbeat F {row[1]:.4f}')
        if self.measure:
            other = {n: activate(self.mean, rows, self.device) for n, rows, _ in self.measure}
            table = judge(other, self.measure)
            self.tell(f'measured only, at the thresholds chosen on valid {[THRESHOLDS[i] for i in chosen]}: '
                      f'beat F {table[chosen[0], 0]:.4f}, downbeat F {table[chosen[1], 1]:.4f}')
            logits = {**logits, **other}
        np.savez_compressed(f'{args.out}/{args.name}.act.npz', **{n: a.astype(np.float16) for n, a in logits.items()})


def arguments():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    for name, default in dict(data='.', fit='fit1,fit2', valid='valid', measure='', out='.', name='net', kind='tcn',
                              leave='').items():
        parser.add_argument('--' + name, default=default)
    for name, default in dict(seed=1, width=24, channels=32, layers=10, hidden=48, batch=64, rows=2000,
                              steps=10 ** 9).items():
        parser.add_argument('--' + name, type=int, default=default)
    for name, default in dict(seconds=500.0, every=60.0, rate=2e-3, dropout=0.1).items():
        parser.add_argument('--' + name, type=float, default=default)
    parser.add_argument('--plain', action='store_true', help='do not vary the crops')
    return parser.parse_args()


if __name__ == '__main__':
    Trainer(arguments()).run()
