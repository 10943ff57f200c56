# SPDX-License-Identifier: GPL-3.0-or-later
"""A dance found in a long recording: speech, another run of it, part of it faster, other music."""
import shutil
import subprocess

import harness

REHEARSAL = harness.FIXTURES / 'demo-rehearsal.ogg'
PERFORMANCE = harness.FIXTURES / 'demo-performance.ogg'
SPEECH = harness.FIXTURES / 'speech.ogg'


def sox(*words):
    subprocess.run(['sox', '-V1', *map(str, words)], check=True, capture_output=True)


def seconds(path):
    return float(subprocess.run(['soxi', '-D', str(path)], check=True, capture_output=True, text=True).stdout)


class Day(harness.Case):
    def setUp(self):
        super().setUp()
        if not shutil.which('sox'):
            self.skipTest('there is no sox here')

    def make_day(self):
        """Gives where the runs begin and end."""
        mono = ('-r', harness.RATE, '-c', 1)
        parts = [self.folder / f'{i}.wav' for i in range(5)]
        sox(SPEECH, *mono, parts[0])
        sox(PERFORMANCE, *mono, parts[1])
        sox(SPEECH, *mono, parts[2], 'repeat', 1)
        sox(REHEARSAL, *mono, parts[3], 'trim', 0, '=54', 'tempo', 1.08)
        sox(SPEECH, *mono, parts[4])
        sox(*parts, self.folder / 'day.wav')
        ends = [sum(map(seconds, parts[:i + 1])) for i in range(5)]
        last_s = float((harness.FIXTURES / 'demo-performance.ones').read_text().split()[-1]) # applause follows
        return [(ends[0], ends[0] + last_s), (ends[2], ends[3])]

    def test_each_run_is_found_and_can_be_carried_to(self):
        truth = self.make_day()
        shutil.copy(harness.FIXTURES / 'demo.txt', self.folder / 'notes.txt')
        shutil.copy(REHEARSAL, self.folder / 'demo-rehearsal.ogg')
        day = self.json_like(self.good('carry', 'notes.txt', 'day.wav', '--runs', '--json'), 'print/schema/day.json')
        self.assertEqual(len(day['runs']), 2)
        for run, (begin, end) in zip(day['runs'], truth):
            self.assertAlmostEqual(run['start_s'], begin, delta=6)
            self.assertAlmostEqual(run['end_s'], end, delta=4) # a last chord has no attack to go by
        whole, part = day['runs']
        self.assertEqual((whole['first_phrase'], whole['last_phrase']), (1, 19))
        self.assertEqual(part['first_phrase'], 1)
        self.assertIn(part['last_phrase'], (8, 9)) # 54 s are into the ninth
        self.assertAlmostEqual(part['faster_percent'], 8, delta=0.5)
        told = self.good('carry', 'notes.txt', 'day.wav', '--runs')
        self.assertIn('was run 2 times', told)
        self.assertRegex(told, r'\n  2  \d+:\d\d\.\d to \d+:\d\d\.\d · phrases 1-[89] · faster \(\+[78]\.\d %\)\n')

        sheet = self.json_like(self.good('carry', 'notes.txt', 'day.wav', '--run', 2, '--json'), 'print/schema/sheet.json')
        ones = [float(line.split()[0]) for line in
                (harness.FIXTURES / 'demo-rehearsal.ones').read_text().splitlines()]
        timed = [phrase['start_s'] for phrase in sheet['phrases'] if phrase['timed']]
        for found, one in zip(timed[:8], ones):
            self.assertAlmostEqual(found, truth[1][0] + one / 1.08, delta=0.07)
        self.fails('carry', 'notes.txt', 'day.wav', '--run', 3,
                   message="countwright: 'day.wav': the dance was run 2 times in it; '--runs' prints when\n")

    def test_a_day_without_the_dance_has_no_run(self):
        sox(SPEECH, self.folder / 'day.wav', 'repeat', 3)
        shutil.copy(harness.FIXTURES / 'demo.txt', self.folder / 'notes.txt')
        shutil.copy(REHEARSAL, self.folder / 'demo-rehearsal.ogg')
        self.assertIn('the music of demo-rehearsal.ogg is not in it', self.good('carry', 'notes.txt', 'day.wav', '--runs'))

    def test_options_that_do_not_go_together(self):
        for words in (('--runs', '--list', 'ones'), ('--runs', '-o', 'sheet.pdf'), ('--runs', '--run', '2')):
            status, out, err = self.run_it('carry', 'notes.txt', 'day.wav', *words)
            self.assertEqual((status, out), (2, ''), err)
            self.assertIn('--runs', err)


if __name__ == '__main__':
    harness.main()
