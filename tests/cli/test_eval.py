# SPDX-License-Identifier: GPL-3.0-or-later
"""countwright-eval from outside: what it prints, and what it says of bad lists."""
import json
import os
import subprocess

import harness

TRUTH = ''.join(f'{5.5 + i / 2}\t{"b" if i % 4 else "db"}\n' for i in range(10))
USAGE = "countwright-eval: see 'countwright-eval --help'\n"


class Scores(harness.Case):
    def setUp(self):
        super().setUp()
        self.write('truth.beats', TRUTH)

    def scores(self, found, *options, command='beats'):
        self.write('found', found)
        return json.loads(self.good(command, 'truth.beats', 'found', '--json', *options))

    def test_help_is_as_kept(self):
        self.golden('help-eval.txt', self.good('--help'))
        self.assertEqual(self.good('beats', '-h'), self.good('--help'))
        for line in self.good('--help').splitlines():
            self.assertLess(len(line), 80)

    def test_scores_of_a_worked_example(self):
        """One of nine beats more than the truth has; worked with mir_eval 0.7."""
        lines = TRUTH.splitlines(keepends=True)
        scores = self.scores(''.join(lines[:5]) + '7.75\tb\n' + ''.join(lines[5:]))
        wanted = {'n_true': 10, 'n_found': 11, 'n_hit': 10, 'f': 0.952381, 'cemgil': 0.952381, 'p_score': 0.909091,
                  'cml_c': 0.454545, 'cml_t': 0.818182, 'aml_c': 0.454545, 'aml_t': 0.818182, 'true_per_min': 120,
                  'found_per_min': 120, 'tempo_1': 1, 'tempo_2': 1, 'mean_offset_s': 0, 'worst_error_s': 0}
        for key, value in wanted.items():
            self.assertAlmostEqual(scores['beats'][key], value, places=6, msg=key)
        self.assertEqual(scores['downbeats']['f'], 1)
        self.assertEqual((scores['format'], scores['version'], scores['metre']), ('countwright-scores', 1, 4))

    def test_what_comes_before_the_trim_is_left_out_of_both_lists(self):
        found = '1.0\tb\n4.999\tb\n' + TRUTH
        self.assertEqual(self.scores(found)['beats']['f'], 1)
        self.assertAlmostEqual(self.scores(found, '--trim', '0')['beats']['f'], 20 / 22, places=6)
        self.assertEqual(self.scores(found, '--trim', '6.5')['beats']['n_true'], 8)
        self.assertEqual(self.scores(found, '--trim', '6.5')['trim_s'], 6.5)
        self.assertAlmostEqual(self.scores('1.0\t1\t8\n5.5\t2\t8\n', command='ones')['ones']['precision'], 0.5)

    def test_downbeats_are_scored_where_both_lists_mark_them(self):
        self.assertIsNone(self.scores('5.5\n6.0\n6.5\n')['downbeats'])
        self.assertEqual(self.scores('')['downbeats']['f'], 0)
        self.assertAlmostEqual(self.scores('5.5\t1\n6.0\t2\n6.5\t3\n')['downbeats']['recall'], 1 / 3)
        self.write('truth.beats', '5.5\n6.0\n')
        self.assertIsNone(self.scores('5.5\tdb\n6.0\tb\n')['downbeats'])

    def test_the_forms_hold_the_same(self):
        self.write('found', ''.join(f'{5.52 + i / 2}\n' for i in range(9)))
        scores = json.loads(self.good('beats', 'truth.beats', 'found', '--json'))
        head, row = harness.fields(self.good('beats', 'truth.beats', 'found', '--tsv'))
        cells = dict(zip(head, row))
        for key, value in scores['beats'].items():
            self.assertAlmostEqual(float(cells[key]), value, places=6)
            self.assertEqual(cells['downbeat_' + key], '-')
        text = self.good('beats', 'truth.beats', 'found')
        self.assertIn('\nF                          0.947         -\n', text)
        self.assertEqual(len(text.splitlines()), 1 + len(scores['beats']))
        self.assertEqual(self.good('beats', 'truth.beats', '-', stdin=(self.folder / 'found').read_bytes()), text)

    def test_lists_of_the_program_are_read(self):
        self.write_music('music.wav', 20)

        def listed(name):
            done = subprocess.run([os.environ['CW_COUNTWRIGHT'], 'count', 'music.wav', '--list', name],
                                  cwd=self.folder, capture_output=True, check=True, env=self.environment())
            return done.stdout

        self.write('truth.beats', listed('beats'))
        scores = self.scores(listed('beats'))
        self.assertEqual((scores['beats']['f'], scores['downbeats']['f'], scores['metre']), (1, 1, 4))
        self.write('counts', listed('counts'))
        reliability = json.loads(self.good('reliability', 'truth.beats', 'counts', '--json'))
        n = len(listed('ones').splitlines())
        self.assertEqual((reliability['all']['n'], reliability['all']['n_right']), (n, n))
        self.write('truth.beats', listed('ones'))
        self.assertEqual(self.scores(listed('ones'), command='ones')['ones']['f'], 1)
        reliability = json.loads(self.good('reliability', '--ones', 'truth.beats', 'counts', '--json'))
        self.assertEqual(reliability['all']['n_right'], n)


class Reliability(harness.Case):
    def test_the_table(self):
        self.write('a.ones', '1\t1\t2\n3\t2\t2\n5\t3\t2\n')
        self.write('a.counts', '1\t1\t1\t0.95\n2\t1\t2\t0.95\n3.2\t2\t1\t0.25\n5\t3\t1\t1.000\n')
        self.write('b.ones', '7\t1\t1\n')
        self.write('b.counts', '7\t1\t1\t0.35\n')
        files = ('a.ones', 'a.counts', 'b.ones', 'b.counts')
        text = self.good('reliability', '--ones', *files)
        self.assertIn('\n0.9 - 1          2       0.975   1.000\n', text)
        self.assertIn('\nall              4       0.638   0.750\n', text)
        self.assertTrue(text.endswith('\nexpected calibration error 0.238\n'))  # (0.05 + 0.25 + 0.65 + 0) / 4
        text = self.good('reliability', '--ones', '--unpinned', *files)
        self.assertIn('\n0.9 - 1          1       0.950   1.000\n', text)
        reliability = json.loads(self.good('reliability', '--ones', '--json', *files))
        self.assertEqual(reliability['format'], 'countwright-reliability')
        self.assertEqual([b['n'] for b in reliability['bins']], [0, 0, 1, 1, 0, 0, 0, 0, 0, 2])
        self.assertAlmostEqual(reliability['calibration_error'], 0.2375)


class Refusals(harness.Case):
    def test_bad_lines_are_told_with_their_place(self):
        self.write('good', TRUTH)
        self.write('bad', '5.5\tdb\n 6,0\tb\n')
        self.fails('beats', 'good', 'bad', message="bad:2:2: expected a time in seconds, found '6,0'\n")
        self.fails('beats', 'bad', 'good', message="bad:2:2: expected a time in seconds, found '6,0'\n")
        self.write('back', '5.5\n5.4\n')
        self.fails('reliability', 'good', 'good', message="good:1:5: expected the number of a phrase, found 'db'\n")
        self.fails('ones', 'back', 'back', message='back:2:1: 5.400 goes back behind 5.500: times must be in order\n')

    def test_files_that_cannot_be_read(self):
        self.write('good', TRUTH)
        self.fails('beats', 'good', 'none', message="countwright-eval: 'none': there is no such file\n")
        self.fails('beats', '.', 'good', message="countwright-eval: '.': this is a folder, not a file\n")

    def test_calls_that_are_wrong(self):
        for words, problem in (
                ((), 'a command is missing'),
                (('score', 'a', 'b'), "'score': there is no such command"),
                (('beats',), "'beats': a file is missing"),
                (('beats', 'a'), "'beats': a file is missing"),
                (('beats', 'a', 'b', 'c', 'd'), "'c': this is one too many for 'beats'"),
                (('reliability', 'a', 'b', 'c'), "'reliability': a file is missing"),
                (('beats', 'a', 'b', '--trim'), "'--trim' takes a number from 0 to 600"),
                (('beats', 'a', 'b', '--trim', '-1'), "'--trim' takes a number from 0 to 600"),
                (('beats', 'a', 'b', '--trim', '5s'), "'--trim' takes a number from 0 to 600"),
                (('beats', 'a', 'b', '--trim', '601'), "'--trim' takes a number from 0 to 600"),
                (('beats', 'a', 'b', '--ones'), "'--ones': 'beats' has no such option"),
                (('ones', 'a', 'b', '--unpinned'), "'--unpinned': 'ones' has no such option"),
                (('reliability', 'a', 'b', '--trim', '5'), "'--trim': 'reliability' has no such option"),
                (('reliability', 'a', 'b', '--tsv'), "'--tsv': 'reliability' has no such option"),
                (('beats', 'a', 'b', '--colour'), "'--colour': 'beats' has no such option")):
            self.fails(*words, status=2, message=f'countwright-eval: {problem}\n{USAGE}')

    def test_a_full_disk_is_reported(self):
        self.write('good', TRUTH)
        with open('/dev/full', 'wb') as full:
            status, _, err = self.run_it('beats', 'good', 'good', stdout=full)
        self.assertEqual((status, err), (1, 'countwright-eval: writing failed\n'))


if __name__ == '__main__':
    harness.main()
