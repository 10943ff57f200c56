#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Scores of beats by mir_eval, for the tests of src/eval. Usage: make_scores.py > scores.json

Needs Debian 12's python3-mir-eval (0.7) and python3-numpy. Each case holds two lists of times in seconds, from when on they
are scored, and what mir_eval.beat gives for them; `p` is null where mir_eval ends with an error. `pairs` is the size
of mir_eval.util.match_events; `offset`, `error` and `worst` are made from its pairs where no other pairs are possible,
else null. The same lists come out each time.
"""
import json
import sys
import warnings

import mir_eval
import numpy

WINDOW_S = 0.07
random = numpy.random.RandomState(20090708)


def evenly(first, interval, n):
    return first + interval * numpy.arange(n)


def wandering(n, first=None, interval=None):
    """Beats of a tempo that wanders as a player's does."""
    interval = interval or random.uniform(0.3, 1.2)
    drift = numpy.cumsum(random.normal(0, 0.02, n))
    steps = interval * numpy.exp(drift - drift.mean())
    return (random.uniform(0, 6) if first is None else first) + numpy.cumsum(steps)


def jittered(times, sigma):
    return times + random.normal(0, sigma, len(times))


def without(times, share):
    return times[random.uniform(size=len(times)) >= share]


def with_more(times, n):
    return numpy.append(times, random.uniform(times.min(), times.max() + 0.01, n))


def split(times, parts):
    """`parts` times as many, evenly between neighbours."""
    at = numpy.arange(0, len(times) - 1 + 1e-9, 1 / parts)
    return numpy.interp(at, numpy.arange(len(times)), times)


def worked():
    """The worked table kept with the project's measurements: beats from 5.5 to 10."""
    truth = evenly(5.5, 0.5, 10)
    yield '50 ms late', truth, truth + 0.050
    yield '69 ms late', truth, truth + 0.069
    yield '71 ms late', truth, truth + 0.071
    yield 'nine off-beats', truth, truth[:9] + 0.25
    yield 'double', truth, split(truth, 2)
    yield 'half', truth, truth[::2]
    yield 'one missing', truth, numpy.delete(truth, 4)
    yield 'one too many', truth, numpy.sort(numpy.append(truth, 7.75))


def edges():
    truth = evenly(6, 0.5, 12)
    none, one, two = numpy.array([]), numpy.array([6.5]), numpy.array([6.5, 7.0])
    for a, first in (('none', none), ('one', one), ('two', two), ('twelve', truth)):
        for b, second in (('none', none), ('one', one), ('two', two), ('twelve', truth)):
            yield f'{a} against {b}', first, second
    yield 'all before the trim', evenly(0.1, 0.4, 10), evenly(0.1, 0.4, 10)
    yield 'truth before the trim', evenly(0.1, 0.4, 10), evenly(6, 0.4, 10)
    yield 'a beat just at the trim', numpy.append(5.0, truth), numpy.append(4.999, truth)
    yield 'across the trim', evenly(0.3, 0.5, 30), evenly(0.33, 0.5, 30)
    yield 'before zero', evenly(-2, 0.5, 30), evenly(-2.02, 0.5, 30)
    yield 'all late', truth, truth + 100
    yield 'three beats to one', numpy.array([6, 6.05, 6.1]), numpy.array([6.05])
    yield 'one beat to three', numpy.array([6.05, 7]), numpy.array([6, 6.05, 6.1, 7])
    yield 'a chain of windows', numpy.array([6, 6.1, 6.2, 6.3]), numpy.array([6.06, 6.16, 6.26, 6.36])
    yield 'a chain the other way', numpy.array([6.06, 6.16, 6.26, 6.36]), numpy.array([6, 6.1, 6.2, 6.3])
    yield 'dense', evenly(6, 0.05, 40), evenly(6.02, 0.03, 60)
    yield 'dense found', truth, evenly(6, 0.01, 500)
    yield 'dense truth', evenly(6, 0.01, 300), truth
    yield 'same time twice in the truth', numpy.sort(numpy.append(truth, truth[3])), truth
    yield 'same time twice in the truth, found late', numpy.sort(numpy.append(truth, truth[3])), truth + 0.02
    yield 'begins with the last', truth, truth[-1] + 0.01 + evenly(0, 0.5, 4)
    yield 'begins with the last, too quick', truth, truth[-1] + 0.01 + evenly(0, 0.3, 4)
    yield 'same time twice found', truth, numpy.sort(numpy.append(truth, truth[3]))
    yield 'all twice', numpy.repeat(truth, 2), numpy.repeat(truth, 2)
    yield 'all found twice', truth, numpy.repeat(truth, 2)
    yield 'all at one time', numpy.array([6.5, 6.5, 6.5]), truth
    yield 'all found at one time', truth, numpy.array([6.5, 6.5, 6.5])
    yield 'within 10 ms', numpy.array([6.503, 6.505, 6.507]), numpy.array([6.5, 6.9])
    yield 'twice at the first', numpy.append(truth[0], truth), numpy.append(truth[0], truth)
    yield 'half-way between two', truth, truth + 0.25
    yield 'nearest to two alike', numpy.array([6.0, 7.0, 8.0, 9.0]), numpy.array([6.5, 7.5, 8.5])
    yield 'window of half pulses', evenly(6, 0.125, 20), evenly(6.03, 0.125, 20)
    yield 'window of a pulse and a half', evenly(6, 0.075, 20), evenly(6.02, 0.075, 20)
    yield 'two true beats', numpy.array([6.0, 6.5]), evenly(6, 0.25, 3)
    yield 'two found beats', evenly(6, 0.5, 9), numpy.array([6.0, 6.5])
    yield 'stops early', truth, truth[:5]
    yield 'starts late', truth, truth[5:]
    yield 'a rest in the middle', numpy.delete(truth, [4, 5, 6]), truth
    for by in (WINDOW_S, -WINDOW_S):
        yield f'just at the window {by:+}', truth, truth + by
        yield f'just in the window {by:+}', truth, truth + by * (1 - 1e-9)
        yield f'just out of the window {by:+}', truth, truth + by * (1 + 1e-9)
        yield f'rounded at the window {by:+}', truth, numpy.round(truth + by, 4)
    for share in (0.174, 0.175, 0.176):
        yield f'{share} of a beat late', truth, truth + 0.5 * share
        yield f'{share} slower', truth, evenly(6, 0.5 * (1 + share), 9)
        yield f'{share} faster', truth, evenly(6, 0.5 * (1 - share), 14)


def levels():
    for _ in range(6):
        truth = wandering(int(random.randint(8, 40)))
        for name, found in (('same', truth), ('double', split(truth, 2)), ('triple', split(truth, 3)),
                            ('odd', truth[::2]), ('even', truth[1::2]), ('third', truth[::3]), ('third, later', truth[1::3]),
                            ('off-beat', split(truth, 2)[1::2]), ('quarter', truth[::4]), ('2 in 3', split(truth[::3], 2)),
                            ('double, then same', numpy.append(split(truth[:9], 2)[:-1], truth[8:]))):
            yield name, truth, numpy.sort(jittered(found, random.choice([0, 0.01, 0.03])))


def at_random():
    for i in range(120):
        truth = wandering(int(random.randint(2, 45)))
        found = with_more(without(jittered(truth, random.choice([0.005, 0.02, 0.04, 0.1])), random.choice([0, 0.05, 0.3])),
                          random.choice([0, 0, 1, 5])) + random.choice([0, 0, 0.03, -0.06])
        yield f'at random {i}', truth, numpy.sort(found)
    for i in range(20):
        yield f'unlike {i}', wandering(int(random.randint(5, 30))), wandering(int(random.randint(5, 30)))
    for i in range(10):
        yield f'no order {i}', *(numpy.sort(random.uniform(4, 9, random.randint(1, 60))) for _ in range(2))


def offsets(truth, found):
    """Mean offset, mean and worst error of mir_eval's pairs; None where other pairs would do as well."""
    near = numpy.abs(numpy.subtract.outer(truth, found)) <= WINDOW_S + 1e-9
    if not near.any() or near.sum(0).max() > 1 or near.sum(1).max() > 1:
        return None, None, None
    by = numpy.array([found[j] - truth[i] for j, i in sorted(match(truth, found))])
    return (by.mean(), abs(by).mean(), abs(by).max()) if len(by) else (None, None, None)


def match(truth, found):
    """mir_eval's pairs as (found, true)."""
    return [(j, i) for i, j in mir_eval.util.match_events(truth, found, WINDOW_S)]


def p_score(truth, found):
    try:
        return float(mir_eval.beat.p_score(truth, found))
    except ValueError:
        return None


def case(name, truth, found, trim_s):
    kept = [mir_eval.beat.trim_beats(numpy.asarray(t, float), trim_s) for t in (truth, found)]
    cemgil, best = mir_eval.beat.cemgil(*kept)
    cml_c, cml_t, aml_c, aml_t = mir_eval.beat.continuity(*kept)
    pairs = len(match(*kept)) if len(kept[0]) and len(kept[1]) else 0
    offset, error, worst = offsets(*kept) if pairs else (None, None, None)
    return {'name': name, 'truth': list(truth), 'found': list(found), 'trim': trim_s, 'pairs': pairs,
            'f': mir_eval.beat.f_measure(*kept), 'cemgil': cemgil, 'cemgil_best': best, 'p': p_score(*kept),
            'cml_c': cml_c, 'cml_t': cml_t, 'aml_c': aml_c, 'aml_t': aml_t,
            'offset': offset, 'error': error, 'worst': worst}


def shortened(value):
    """A number as Python, short enough to be read: what mir_eval gives in 12 digits, times to the last bit."""
    if isinstance(value, list):
        return [float(v) for v in value]
    return float('%.12g' % value) if isinstance(value, (float, numpy.floating)) else value


def main():
    warnings.simplefilter('ignore')
    cases = [case(name, truth, found, trim_s)
             for name, truth, found in [*worked(), *edges(), *levels()] for trim_s in (5.0, 0.0)
             if trim_s or min([*truth, *found, 9]) < 5]
    for name, truth, found in at_random():
        cases.append(case(name, numpy.round(truth, 4), numpy.round(found, 4), float(random.choice([0, 5]))))
    lines = [json.dumps({k: shortened(v) for k, v in one.items()}) for one in cases]
    print('[' + ',\n '.join(lines) + ']')
    print(f'{len(cases)} cases', file=sys.stderr)


main()
