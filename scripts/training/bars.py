# SPDX-License-Identifier: GPL-3.0-or-later
"""Beats and bars of a score, pick-ups found and bar lines checked against the accents of the notes.

A LilyPond file begins with its pick-up and does not say so, and a repeat that begins inside a bar shifts all bars after
it. So each bar votes: low notes, long notes and new harmony sit on downbeats. A Viterbi search over the bars finds
stretches with one place of the bar line; stretches where the vote is close are left out.
"""
import math
from dataclasses import dataclass, field, replace

import numpy as np

from scores import Note

CHANGE_COST = 14.0
LEAST_BARS = 8
LEAST_SURENESS = 2.0  # standard errors between the best and the next place of the bar line


@dataclass
class Metre:
    quarters_in_bar: float
    beats_in_bar: int
    grid: int  # steps of a beat at which a bar line may lie: 4, or 6 in compound metres

    @property
    def quarters_in_beat(self):
        return self.quarters_in_bar / self.beats_in_bar


@dataclass
class Passage:
    """Notes in beats from the first whole beat. Beats are 0 .. beat_count - 1; `ones` are the downbeats among them."""
    notes: list
    ones: list
    beat_count: int
    quarters_per_beat: list
    metres: list  # one for each of `ones`: beats in the bar
    compound: bool = False
    drums: list = field(default_factory=list)  # their pitches are keys of the General MIDI drum map
    phrase_bars: list = None  # bars at which phrases begin, where that is known
    bars_known: bool = True  # false where only the beats are sure
    usual_quarters: float = 1.0  # of a beat that goes at the usual tempo

    def relative_beats(self):
        """How long each beat is, times the usual one."""
        return np.array(self.quarters_per_beat[:self.beat_count]) / self.usual_quarters


def metre_of(signature, quarters_per_minute):
    """Beats of a signature, or None for one that nobody would beat."""
    n, d = signature.numerator, signature.denominator
    if d not in (2, 4, 8, 16) or n < 2 or n > 12:
        return None
    quarters = 4.0 * n / d
    if n in (6, 9, 12):
        return Metre(quarters, n // 3, 6)
    if (n, d) == (3, 8) and 30 / quarters_per_minute < 0.28:
        return Metre(quarters, 1, 6)
    return Metre(quarters, n, 4)


def accents(notes, start, end, step, reach):
    """How accented each point of the grid is; `reach` is a beat's steps."""
    count = int(round((end - start) / step)) + 1
    bass, long, harmony, many = (np.zeros(count) for _ in range(4))
    chroma = np.zeros((count, 12))
    for note in notes:
        first = (note.start - start) / step
        if note.start < start - 1e-6 or note.start > end:
            continue
        k = int(round(first))
        if abs(first - k) < 0.02 and k < count:
            length = min((note.end - note.start) / step, 6 * reach)
            long[k] = max(long[k], math.sqrt(length / reach))
            many[k] += 1
            bass[k] = max(bass[k], (60 - note.pitch) / 12 + 3)
        last = min(count, max(int(round((note.end - start) / step)), k + 1))
        chroma[max(k, 0):last, note.pitch % 12] += 1
    lowest = np.where(bass > 0, bass, np.nan)
    for k in range(count):
        near = lowest[max(0, k - 2 * reach):k + 2 * reach + 1]
        if not np.isnan(lowest[k]):
            bass[k] = (lowest[k] >= np.nanmax(near) - 0.5) + (lowest[k] - np.nanmean(near)) / 2
    for k in range(1, count):
        before, after = chroma[max(0, k - reach):k].sum(0), chroma[k:k + reach].sum(0)
        size = np.linalg.norm(before) * np.linalg.norm(after)
        harmony[k] = 1 - before @ after / size if size else 0

    def even(x):
        return (x - x.mean()) / (x.std() + 1e-9)
    return 0.8 * even(bass) + even(long) + 0.8 * even(harmony) + 0.4 * even(many)


def votes(accent, grid_in_bar, beats_in_bar):
    """[bar, place]: for the bar line lying `place` grid steps into each bar of the file."""
    grid_in_beat = grid_in_bar // beats_in_bar
    bars = max((len(accent) - 1) // grid_in_bar, 0)
    padded = np.concatenate([accent, np.zeros(2 * grid_in_bar)])
    vote = np.zeros((bars, grid_in_bar))
    for bar in range(bars):
        for place in range(grid_in_bar):
            inside = padded[bar * grid_in_bar + place:][:grid_in_bar]
            on_beats = inside[::grid_in_beat]
            vote[bar, place] = inside[0] + 0.7 * (on_beats.mean() - inside.mean())
    return vote


def places_of_bar_lines(vote, grid_in_beat, first_region):
    """The best place for each bar (Viterbi), and where it changes."""
    bars, places = vote.shape
    prior = np.full(places, -10.0)
    prior[::2] = -7.0
    prior[::grid_in_beat] = -3.0 if first_region else -6.0
    prior[0] = 0.0
    best, back = prior + vote[0], np.zeros((bars, places), int)
    for bar in range(1, bars):
        moved = best.argmax()
        stay = best >= best[moved] - CHANGE_COST
        back[bar] = np.where(stay, np.arange(places), moved)
        best = np.where(stay, best, best[moved] - CHANGE_COST) + vote[bar]
    path = [int(best.argmax())]
    for bar in range(bars - 1, 0, -1):
        path.append(int(back[bar, path[-1]]))
    return path[::-1]


def is_sure(vote, place):
    """Whether the bars prefer this place to every other by enough."""
    for other in range(vote.shape[1]):
        difference = vote[:, place] - vote[:, other]
        error = difference.std() / math.sqrt(len(difference)) + 1e-9
        least = (LEAST_SURENESS if place else LEAST_SURENESS / 2) * (1 + 5 / len(difference))
        if other != place and difference.mean() / error < least:
            return False
    return True


def stretches_of_region(score, start, end, metre, first_region):
    """Stretches (from, to, metre) in quarters whose bar lines are sure; `from` is a bar line."""
    bar = metre.quarters_in_bar
    if score.known_bars:
        return [(start, start + math.floor((end - start) / bar + 1e-6) * bar, metre)]
    grid_in_beat = metre.grid
    grid_in_bar = grid_in_beat * metre.beats_in_bar
    accent = accents(score.notes, start, end, bar / grid_in_bar, grid_in_beat)
    vote = votes(accent, grid_in_bar, metre.beats_in_bar)
    if len(vote) < LEAST_BARS:
        return []
    path = places_of_bar_lines(vote, grid_in_beat, first_region)
    stretches, first = [], 0
    for k in range(1, len(path) + 1):
        if k == len(path) or path[k] != path[first]:
            if k - first >= LEAST_BARS and is_sure(vote[first:k], path[first]):
                at = start + path[first] * bar / grid_in_bar
                last = end if k == len(path) else at + k * bar
                stretches.append((at + first * bar, last, metre))
            first = k
    return stretches


def beats_of_region(score, start, end, metre, first_region):
    """Stretches as above where only the beats are sure; bar lines are put anywhere on beats."""
    beat, bar = metre.quarters_in_beat, metre.quarters_in_bar
    step = beat / metre.grid
    accent = accents(score.notes, start, end, step, metre.grid)
    in_bar = metre.grid * metre.beats_in_bar
    bars = (len(accent) - 1) // in_bar - 1
    if bars < LEAST_BARS:
        return []
    vote = np.array([[accent[k * in_bar + phase:][:in_bar:metre.grid].mean() for phase in range(metre.grid)]
                     for k in range(bars)])
    path = places_of_bar_lines(vote, metre.grid, first_region)
    if len(set(path)) > 1 or not is_sure(vote, path[0]):
        return []
    at = start + path[0] * step
    return [(at, at + bars * bar, metre)]


def regions(score, quarters_per_minute):
    """(from, to, metre) for each stretch of one signature."""
    merged = []
    for signature in score.signatures:
        same = merged and (signature.numerator, signature.denominator) == (merged[-1].numerator, merged[-1].denominator)
        if not same:
            merged.append(signature)
    for signature, following in zip(merged, merged[1:] + [None]):
        end = following.start if following else score.end
        yield signature.start, end, metre_of(signature, quarters_per_minute)


def passages(score, quarters_per_minute):
    """All passages with sure beats and bars, the longest first."""
    stretches, beats_only = [], []
    for k, (start, end, metre) in enumerate(regions(score, quarters_per_minute)):
        sure = stretches_of_region(score, start, end, metre, k == 0) if metre else []
        stretches += sure
        if metre and not sure:
            beats_only += beats_of_region(score, start, end, metre, k == 0)
    return sorted(joined(score, stretches) + [replace(p, bars_known=False) for p in joined(score, beats_only)],
                  key=lambda p: -p.beat_count)


def joined(score, stretches):
    """Passages of stretches, those that follow each other on a bar line made one."""
    groups = []
    for stretch in stretches:
        joins = groups and abs(groups[-1][-1][1] - stretch[0]) < 1e-3
        previous = groups[-1][-1] if groups else None
        whole = joins and abs(((previous[1] - previous[0]) / previous[2].quarters_in_bar + 0.5) % 1 - 0.5) < 1e-3
        if whole:
            groups[-1].append(stretch)
        else:
            groups.append([stretch])
    found = [part for group in groups
             for part in without_silences(passage_of(score, group, first_bar_line(score, group)))]
    return [p for p in found if len(p.ones) >= LEAST_BARS]


def without_silences(passage):
    """Parts of the passage between silences of more than a bar, for nobody can tell the beat in those."""
    parts, first = [], 0
    sounding = np.zeros(passage.beat_count, bool)
    for note in passage.notes:
        sounding[max(int(note.start + 1e-3), 0):max(int(math.ceil(note.end - 1e-3)), 0)] = True
    silent = [not sounding[one:one + beats].any() for one, beats in zip(passage.ones, passage.metres)]
    for k, empty in enumerate(silent + [True]):
        if empty:
            if k > first:
                parts.append(cut(passage, first, k))
            first = k + 1
    return parts


def cut(passage, first_bar, end_bar):
    """Bars `first_bar` to before `end_bar`; with the pick-up where it is the beginning."""
    start = 0 if first_bar == 0 else passage.ones[first_bar]
    end = passage.ones[end_bar] if end_bar < len(passage.ones) else passage.beat_count
    low = -math.inf if first_bar == 0 else start - 1e-6

    def within(notes):
        return [replace(n, start=n.start - start, end=min(n.end, end) - start) for n in notes
                if low <= n.start < end - 1e-3]
    starts = passage.phrase_bars
    return replace(passage, notes=within(passage.notes), drums=within(passage.drums),
                   ones=[one - start for one in passage.ones[first_bar:end_bar]], metres=passage.metres[first_bar:end_bar],
                   beat_count=end - start,
                   quarters_per_beat=passage.quarters_per_beat[start:end],
                   phrase_bars=None if starts is None else [b - first_bar for b in starts if first_bar <= b < end_bar])


def first_bar_line(score, group):
    """Quarters of pick-up before the passage that belong to it: only at the beginning of the score."""
    start, _, metre = group[0]
    return start if start < metre.quarters_in_bar - 1e-6 and group[0][0] > 0 else 0.0


def passage_of(score, group, pick_up):
    """Notes in beats; whole beats of a pick-up are beats too."""
    beats, ones, metres = [], [], []
    metre = group[0][2]
    whole = int(pick_up / metre.quarters_in_beat + 1e-6)
    for k in range(whole, 0, -1):
        beats.append(group[0][0] - k * metre.quarters_in_beat)
    for start, end, metre in group:
        count = max(1, math.ceil((end - start) / metre.quarters_in_beat - 1e-3))
        for k in range(count):
            if k % metre.beats_in_bar == 0:
                ones.append(len(beats))
                metres.append(metre.beats_in_bar)
            beats.append(start + k * metre.quarters_in_beat)
    points = np.array(beats + [beats[-1] + metre.quarters_in_beat])

    def to_beats(quarter):
        if quarter < points[0]:
            return (quarter - points[0]) / (points[1] - points[0])
        return float(np.interp(quarter, points, np.arange(len(points))))
    low = group[0][0] - pick_up - 1e-6
    high = points[-1] - 1e-6
    notes = [Note(to_beats(n.start), max(to_beats(n.end), to_beats(n.start) + 0.05), n.pitch, n.voice)
             for n in score.notes if low <= n.start < high]
    compound = group[0][2].grid == 6
    return Passage(sorted(notes), ones, len(beats), list(np.diff(points)), metres, compound)
