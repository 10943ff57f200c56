# SPDX-License-Identifier: GPL-3.0-or-later
"""`drift`: two recordings of the same music. Truth is that of the demo (audio-fixtures/README.md)."""
import csv
import io
import json
import shutil
import subprocess
import unittest

import harness

REHEARSAL = harness.FIXTURES / 'demo-rehearsal.ogg'
PERFORMANCE = harness.FIXTURES / 'demo-performance.ogg'
NOTES = harness.FIXTURES / 'demo.txt'
SCHEMA = 'print/schema/drift.json'


def ones(name):
    """The true times of the ones of a demo recording."""
    return [float(row[0]) for row in harness.fields((harness.FIXTURES / f'{name}.ones').read_text())]


class At(harness.Case):
    def test_times_are_carried(self):
        times = ''.join(f'{time:.3f}\n' for time in ones('demo-rehearsal'))
        self.write('times.txt', times)
        carried = self.good('drift', REHEARSAL, PERFORMANCE, '--at', 'times.txt').splitlines()
        self.assertEqual(len(carried), len(ones('demo-rehearsal')))
        near = [abs(float(line) - truth) < 0.1 for line, truth in zip(carried, ones('demo-performance')) if line != '-']
        self.assertGreaterEqual(sum(near), len(carried) - 1) # the one after the hold may be off
        for line in carried:
            self.assertRegex(line, r'\A(\d+\.\d{3}|-)\Z')
        self.assertEqual(self.good('drift', REHEARSAL, PERFORMANCE, '--at', '-', stdin=times.encode()).splitlines(),
                         carried)

    def test_spellings_blank_lines_and_what_is_not_there(self):
        music = self.write_music('a.wav', 20)
        out = self.good('drift', music, music, '--at', '-', stdin=b'0:05.5\r\n\n 5,5 \n9999\n7')
        self.assertEqual([line if line in ('', '-') else round(float(line), 1) for line in out.splitlines()],
                         [5.5, '', 5.5, '-', 7.0])
        self.assertEqual(self.good('drift', music, music, '--at', '-', stdin=b''), '')

    def test_a_bad_line_is_told_with_its_place(self):
        music = self.write_music('a.wav', 5)
        self.write('times.txt', '1.0\n2.0\n  zwölf\n')
        self.fails('drift', music, music, '--at', 'times.txt', message="times.txt:3:3: expected a time, found 'zwölf'\n")
        for line, place, found in (('1.0 2.0', '1:5', '2.0'), ('1.5s', '1:4', 's'), ('-3', '1:1', '-3'),
                                   ('é', '1:1', 'é'), ('nan', '1:1', 'nan'), ('1:75', '1:1', '1:75')):
            self.fails('drift', music, music, '--at', '-', stdin=line.encode(),
                       message=f"-:{place}: expected a time, found '{found}'\n")


@unittest.skipUnless(shutil.which('sox'), 'sox is missing')
class AgainstItself(harness.Case):
    def phrases(self, *change):
        """Drift of the rehearsal against itself, changed by sox, which is not ours."""
        subprocess.run(['sox', REHEARSAL, self.folder / 'b.wav', *change], check=True, stderr=subprocess.DEVNULL)
        told = self.json_like(self.good('drift', REHEARSAL, 'b.wav', '--notes', NOTES, '--json'), SCHEMA)
        self.assertEqual(len(told['phrases']), 19)
        return [(row, row['others'][0]) for row in told['phrases']], told['summary']

    def test_as_it_is_there_is_no_drift(self):
        rows, summary = self.phrases()
        for row, other in rows:
            self.assertTrue(other['same'])
            self.assertAlmostEqual(other['percent'], 0, delta=0.05)
            self.assertAlmostEqual(other['start_s'], row['start_s'], delta=0.003)
        self.assertEqual(summary, ['the tempo of b.wav is the same throughout'])

    def test_three_seconds_later_all_is_three_seconds_later(self):
        rows, summary = self.phrases('pad', '3')
        for row, other in rows:
            self.assertAlmostEqual(other['start_s'] - row['start_s'], 3, delta=0.003)
            self.assertAlmostEqual(other['percent'], 0, delta=0.05)
            self.assertAlmostEqual(other['ahead_s'], 0, delta=0.003)

    def test_five_percent_faster_is_five_percent(self):
        rows, summary = self.phrases('tempo', '-m', '1.05')
        for row, other in rows:
            self.assertAlmostEqual(other['percent'], 5, delta=0.35)
        self.assertAlmostEqual(sum(other['percent'] for row, other in rows) / len(rows), 5, delta=0.05)

    def test_there_and_back(self):
        times = ''.join(f'{time:.3f}\n' for time in ones('demo-rehearsal'))
        there = self.good('drift', REHEARSAL, PERFORMANCE, '--at', '-', stdin=times.encode())
        back = self.good('drift', PERFORMANCE, REHEARSAL, '--at', '-', stdin=there.encode()).split()
        off = [abs(float(found) - time) for found, time in zip(back, ones('demo-rehearsal')) if found != '-']
        self.assertEqual(len(off), 19)
        self.assertLess(max(off), 0.05)


class Drift(harness.Case):
    def test_a_table_by_the_notes(self):
        out = self.good('drift', REHEARSAL, PERFORMANCE, '--notes', NOTES, '--json')
        told = self.json_like(out, SCHEMA)
        self.assertEqual((told['first'], [other['name'] for other in told['others']]),
                         ('demo-rehearsal.ogg', ['demo-performance.ogg']))
        self.assertEqual(len(told['phrases']), 19)

    def test_forms_agree(self):
        self.good('drift', REHEARSAL, PERFORMANCE, '--notes', NOTES, '-o', 'd.txt', '-o', 'd.json', '-o', 'd.csv',
                  '--chart', 'c.svg')
        names = sorted(path.name for path in self.folder.iterdir())
        self.assertEqual(names, ['c.svg', 'd.csv', 'd.json', 'd.txt'])
        text = (self.folder / 'd.txt').read_text()
        self.assertEqual(self.good('drift', REHEARSAL, PERFORMANCE, '--notes', NOTES), text)
        table = (self.folder / 'd.csv').read_bytes().decode()
        self.assertEqual(len(list(csv.reader(io.StringIO(table, newline='')))), 1 + 19)
        self.json_like((self.folder / 'd.json').read_text(), SCHEMA)
        self.assertIn(b'<svg', (self.folder / 'c.svg').read_bytes())

    def test_charts_in_each_form_beside_the_table(self):
        for name, start in (('c.svg', b'<?xml'), ('c.pdf', b'%PDF-'), ('c.png', b'\x89PNG')):
            status, out, err = self.run_it('drift', REHEARSAL, PERFORMANCE, '--notes', NOTES, '--chart', name)
            self.assertEqual((status, err), (0, f"countwright: '{name}': written\n"))
            self.assertNotEqual(out, '')
            self.assertTrue((self.folder / name).read_bytes().startswith(start))

    def test_own_counts(self):
        a = self.write_music('a.wav', 40)
        b = self.write_music('b.wav', 36, bpm=132)
        told = self.json_like(self.good('drift', a, b, '--own-counts', '--json'), SCHEMA)
        whole = [row['others'][0] for row in told['phrases'] if row['others'][0]['in_it']]
        self.assertGreaterEqual(len(whole), 2)
        for row in whole[:2]:
            self.assertAlmostEqual(row['percent'], 10, delta=1)

    def test_many_recordings_a_passage_and_a_section(self):
        self.good('drift', REHEARSAL, PERFORMANCE, REHEARSAL, '--notes', NOTES, '-o', 'all.json', '--chart', 'c.pdf')
        told = self.json_like((self.folder / 'all.json').read_text(), SCHEMA)
        self.assertEqual([other['name'] for other in told['others']], ['demo-performance.ogg', 'demo-rehearsal.ogg'])
        for row in told['phrases']:
            self.assertTrue(row['others'][1]['same'])
            self.assertAlmostEqual(row['others'][1]['percent'], 0, delta=0.05)
            self.assertAlmostEqual(row['others'][1]['ahead_s'], 0, delta=0.01)
            self.assertEqual(row['season']['recordings'], 3)
            self.assertLessEqual(row['season']['slowest_per_min'], row['season']['median_per_min'])
        self.assertIn('the tempo of demo-rehearsal.ogg is the same throughout', told['summary'])
        self.assertTrue((self.folder / 'c.pdf').read_bytes().startswith(b'%PDF-'))
        section = json.loads(self.good('drift', REHEARSAL, PERFORMANCE, '--notes', NOTES, '--section', 'haul', '--json'))
        self.assertEqual([row['number'] for row in section['phrases']], list(range(7, 16)))
        self.assertEqual({row['section'] for row in section['phrases']}, {'Hauling the ropes'})
        self.assertEqual(section['phrases'][0]['others'][0]['ahead_s'], 0)
        self.assertIn("all of 'Hauling the ropes'", section['summary'][0])
        part = json.loads(self.good('drift', REHEARSAL, PERFORMANCE, '--notes', NOTES, '--phrases', '7-15', '--json'))
        self.assertEqual(part['phrases'], section['phrases'])

    def test_a_passage_that_is_not_there_is_told(self):
        a = self.write_music('a.wav', 30)
        self.write('n.txt', '# One\n8 walk\n# Other\n8 run\n# Otter\n8 swim\n')
        self.fails('drift', a, a, '--notes', 'n.txt', '--phrases', '3-400',
                   message="countwright: '3-400': there are only 3 phrases\n")
        for name, problem in (('Two', 'the notes have no phrases under such a heading'), ('ot', '2 headings begin so'),
                              ('', 'the notes have no phrases under such a heading')):
            self.fails('drift', a, a, '--notes', 'n.txt', '--section', name,
                       message=f"countwright: '{name}': {problem}\n")
        for wrong in ('0', '3-2', 'x', '2-', '-2', '1-2-3', ''):
            self.fails('drift', a, a, f'--phrases={wrong}', status=2,
                       message=f"countwright: '{wrong}': '--phrases' takes a number or two, such as '3' or '3-6'\n"
                               "countwright: see 'countwright drift --help'\n")
        self.fails('drift', a, a, '--section', 'One', status=2,
                   message="countwright: '--section' needs '--notes', which have the headings\n"
                           "countwright: see 'countwright drift --help'\n")
        self.fails('drift', a, a, '--notes', 'n.txt', '--section', 'One', '--phrases', '1', status=2,
                   message="countwright: '--phrases' and '--section' exclude each other\n"
                           "countwright: see 'countwright drift --help'\n")

    def test_one_of_many_may_be_other_music(self):
        a = self.write_music('a.wav', 40)
        self.write_silence('silence.wav', 40)
        status, out, err = self.run_it('drift', a, 'silence.wav', a, '--json')
        self.assertEqual((status, err), (1, "countwright: 'silence.wav': these do not seem to be the same music\n"))
        told = self.json_like(out, SCHEMA)
        self.assertEqual([other['name'] for other in told['others']], ['a.wav'])

    def test_other_music_is_told(self):
        a = self.write_music('a.wav', 40)
        self.write_silence('b.wav', 40)
        self.fails('drift', a, 'b.wav', message="countwright: 'b.wav': these do not seem to be the same music\n")


if __name__ == '__main__':
    harness.main()
