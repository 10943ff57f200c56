# SPDX-License-Identifier: GPL-3.0-or-later
"""Train the learned ear on packed excerpts; see NETWORK.md.

  train.py --data FOLDER --fit fit1,fit2 --valid valid1,valid2 [--measure rec] --out FOLDER --name NAME [--seconds 540]

Writes OUT/NAME.npz (the weights' running mean, float32), OUT/NAME.log (F of plain peaks), OUT/NAME.curve (seconds,
step, loss on what it is fitted to), with --keep-logits also OUT/NAME.act.npz and OUT/NAME.hinted.npz (logits of valid
and measured excerpts, 50 rows a second, without and with hint).
Music named by --measure is only measured, at thresholds chosen on valid; nothing is chosen by it.
"""

import argparse
import copy
import math
import time

import numpy as np
import torch
from torch.nn import functional as F

import judge
import network
from excerpts import RATE, Music, unpack, whole_hint
from spoil import pitch_shifts, spoil


def loss_of(logits, target, counted, more, share):
    """Cross entropy where the truth is known. `more`: how much more rows on a beat count; `share`: of each output."""
    weight = (1 + target * more) * counted * share
    loss = F.binary_cross_entropy_with_logits(logits.float(), target, reduction='none')
    return (loss * weight).sum() / counted.sum() * 3


def activate(model, excerpt, device, hinted=False):
    """Logits of one whole recording, in full precision."""
    x = torch.tensor(excerpt.rows, device=device)[None].float() / excerpt.steps
    hint = whole_hint(excerpt).to(device)[None] if hinted else None
    with torch.no_grad():
        return model(x, hint)[0].float().cpu().numpy()


class Trainer:
    def __init__(self, args):
        self.args = args
        self.device = 'cuda' if torch.cuda.is_available() else 'cpu'
        torch.manual_seed(args.seed)
        fit = self.load(args.fit)
        if args.names:
            wanted = set(open(args.names).read().split())
            fit = [e for e in fit if e.name in wanted]
        self.valid = {part: self.load(part) for part in args.valid.split(',')}
        self.measure = self.load(args.measure)
        self.truths = {part: {e.name: judge.truth_of(e) for e in some} for part, some in self.parts().items()}
        self.music = Music(fit, self.device)
        self.shifts = pitch_shifts(self.device)
        self.model = network.Network(args.width, args.channels, args.layers, args.dropout).to(self.device)
        if args.begin:
            begun = np.load(args.begin)
            self.model.load_state_dict({k: torch.tensor(begun[k]) for k in begun.files})
        self.mean = copy.deepcopy(self.model).eval()
        self.run_model = torch.compile(self.model) if args.compile else self.model
        self.spoil = torch.compile(spoil) if args.compile else spoil
        self.optimizer = torch.optim.AdamW(self.model.parameters(), args.rate, weight_decay=args.decay,
                                           **({'fused': True} if self.device == 'cuda' else {}))
        self.more = torch.tensor([float(v) for v in args.more.split(',')], device=self.device)
        self.share = torch.tensor([float(v) for v in args.share.split(',')], device=self.device)
        self.log, self.curve = (open(f'{args.out}/{args.name}.{kind}', 'w') for kind in ('log', 'curve'))
        self.steps, self.fitted = 0, len(fit)

    def load(self, names):
        return sum((unpack(f'{self.args.data}/{n}.npz') for n in names.split(',') if n), [])

    def parts(self):
        return {**self.valid, **({'measured only': self.measure} if self.measure else {})}

    def tell(self, text):
        print(self.args.name, text, flush=True)
        self.log.write(text + '\n')
        self.log.flush()

    def step(self, done):
        args = self.args
        warm = min(1.0, (self.steps + 1) / 300)
        for group in self.optimizer.param_groups:
            group['lr'] = args.rate * warm * (0.5 + 0.5 * math.cos(math.pi * min(done, 1.0)))
        stretch = torch.exp(torch.empty(args.batch, device=self.device).uniform_(math.log(0.7), math.log(1.4)))
        x, target, counted, hint = self.music.draw(args.batch, args.rows, stretch, hints=not args.unhinted)
        x = self.spoil(x, self.shifts)
        with torch.autocast(self.device, dtype=torch.bfloat16):
            logits = self.run_model(x, hint)
        loss = loss_of(logits, target, counted, self.more, self.share)
        self.optimizer.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(self.model.parameters(), 1.0)
        self.optimizer.step()
        self.steps += 1
        keep = min(args.keep, self.steps / (self.steps + 10))
        with torch.no_grad():
            torch._foreach_mul_(list(self.mean.parameters()), keep)
            torch._foreach_add_(list(self.mean.parameters()), list(self.model.parameters()), alpha=1 - keep)
        return loss.detach()

    def look(self, running, begun):
        said = []
        for part, excerpts in self.valid.items():
            logits = {e.name: activate(self.mean, e, self.device) for e in excerpts}
            table = judge.judge(logits, self.truths[part])
            value = judge.at_thresholds(table, judge.chosen(table))
            said.append(f'{part}: loss {self.valid_loss(logits, excerpts):.4f} F {value[0]:.4f} {value[1]:.4f} {value[2]:.4f}')
        self.tell(f'{time.time() - begun:6.1f} s  step {self.steps}  fit {running:.4f}  ' + '  '.join(said))

    def valid_loss(self, logits, excerpts):
        total, n = 0.0, 0
        for e in excerpts:
            music = Music([e], 'cpu')
            at = torch.arange(len(e.rows))[None, :, None]
            target = torch.exp(-0.5 * (music.near[None][:, :, [0, 3, 4]] - at) ** 2)
            counted = music.known[:, None].expand_as(target)
            total += float(loss_of(torch.tensor(logits[e.name])[None], target, counted, torch.zeros(3),
                                   torch.ones(3))) * len(e.rows)
            n += len(e.rows)
        return total / n

    def run(self):
        args = self.args
        self.tell(f'{vars(args)}')
        self.tell(f'{sum(p.numel() for p in self.model.parameters())} parameters; fit {self.fitted} excerpts, '
                  f'{int(self.music.length.sum()) / RATE / 60:.0f} minutes; {self.device}')
        started = time.time()
        running = self.step(0.0)
        begun, looked = time.time(), time.time()
        left = args.seconds - (begun - started)
        self.tell(f'first step took {begun - started:.1f} s')
        while time.time() - begun < left and self.steps < args.steps:
            loss = self.step(max((time.time() - begun) / left, self.steps / args.steps))
            running = 0.995 * running + 0.005 * loss
            if self.steps % 200 == 0:
                self.curve.write(f'{time.time() - begun:.1f}\t{self.steps}\t{float(running):.4f}\n')
            if time.time() - looked > args.every:
                self.look(float(running), begun)
                looked = time.time()
        self.look(float(running), begun)
        self.finish()

    def finish(self):
        args, plain, hinted = self.args, {}, {}
        np.savez(f'{args.out}/{args.name}.npz', **{k: v.cpu().numpy() for k, v in self.mean.state_dict().items()})
        which = None
        for part, excerpts in self.parts().items():
            plain[part] = {e.name: activate(self.mean, e, self.device) for e in excerpts}
            hinted[part] = {e.name: activate(self.mean, e, self.device, True) for e in excerpts}
            if which is None:
                which = judge.chosen(judge.judge(plain[part], self.truths[part]))
            for title, logits in ((part, plain[part]), (f'{part}, with hints', hinted[part])):
                for line in judge.lines_of(title, logits, self.truths[part], which):
                    self.tell(line)
        if args.keep_logits:
            for name, logits in (('act', plain), ('hinted', hinted)):
                kept = {f'{part}.{n}'.replace(' ', '-'): a.astype(np.float16) for part, some in logits.items()
                        for n, a in some.items()}
                np.savez_compressed(f'{args.out}/{args.name}.{name}.npz', **kept)


def arguments():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    for name, default in dict(data='.', fit='fit', valid='valid', measure='', out='.', name='net', names='', begin='',
                              more='0,0,0', share='1,1.5,2').items():
        parser.add_argument('--' + name, default=default)
    for name, default in dict(seed=1, width=32, channels=48, layers=9, batch=48, rows=2600, steps=10 ** 9).items():
        parser.add_argument('--' + name, type=int, default=default)
    for name, default in dict(seconds=500.0, every=75.0, rate=3e-3, dropout=0.15, keep=0.998, decay=0.01).items():
        parser.add_argument('--' + name, type=float, default=default)
    parser.add_argument('--unhinted', action='store_true', help='train without hints')
    parser.add_argument('--compile', action='store_true', help='let torch compile the network')
    parser.add_argument('--keep-logits', action='store_true')
    return parser.parse_args()


if __name__ == '__main__':
    Trainer(arguments()).run()
