# SPDX-License-Identifier: GPL-3.0-or-later
"""`carry`: counts over to another recording. Truth is that of the demo (audio-fixtures/README.md)."""
import json
import shutil

import harness

REHEARSAL = harness.FIXTURES / 'demo-rehearsal.ogg'
PERFORMANCE = harness.FIXTURES / 'demo-performance.ogg'
NOTES = harness.FIXTURES / 'demo.txt'


def truth(name, ending):
    return [float(row[0]) for row in harness.fields((harness.FIXTURES / f'{name}.{ending}').read_text())]


class Carry(harness.Case):
    def assert_near(self, found, true, within_s):
        self.assertEqual(len(found), len(true))
        self.assertEqual([f for f, t in zip(found, true) if abs(f - t) > within_s], [])

    def test_counts_fall_where_they_are_played(self):
        counts = harness.fields(self.good('carry', NOTES, PERFORMANCE, '--list', 'counts'))
        self.assert_near([float(row[0]) for row in counts], truth('demo-performance', 'counts'), 0.06)
        ones = [row for row in counts if row[2] == '1']
        self.assertEqual([row[1] for row in ones], [str(n) for n in range(1, 20)])
        for row in ones:
            self.assertTrue(0 < float(row[3]) < 1, row)

    def test_all_that_can_be_written(self):
        self.good('carry', NOTES, PERFORMANCE, '-o', 's.pdf', '-o', 's.json', '--line', 'l.json', '--pinned', 'p.txt')
        sheet = self.json_like((self.folder / 's.json').read_text(), 'print/schema/sheet.json')
        self.assertEqual(sheet['recording'], 'demo-performance.ogg')
        self.assert_near([row['start_s'] for row in sheet['phrases']], truth('demo-performance', 'ones'), 0.06)
        line = self.json_like((self.folder / 'l.json').read_text(), 'print/schema/count-line.json')
        self.assert_near([t for row in line['phrases'] for t in row['count_s']], truth('demo-performance', 'counts'), 0.06)
        self.assertEqual((self.folder / 's.pdf').read_bytes()[:5], b'%PDF-')
        self.assertIn('phrase', self.good('carry', NOTES, PERFORMANCE, '--line', 'l.csv') or
                      (self.folder / 'l.csv').read_text())

    def test_a_sheet_goes_by_a_line_that_was_written(self):
        carried = self.good('carry', NOTES, PERFORMANCE)
        self.good('carry', NOTES, PERFORMANCE, '--line', 'l.json')
        self.good('carry', NOTES, PERFORMANCE, '--line', 'l.csv')
        self.assertEqual(self.good('sheet', NOTES, '--line', 'l.json'), carried)
        for name in ('l.json', 'l.csv'):
            ones = harness.fields(self.good('sheet', NOTES, '--line', name, '--list', 'ones'))
            self.assert_near([float(row[0]) for row in ones], truth('demo-performance', 'ones'), 0.06)
        self.write('other.txt', '8 walk\n6 run\n')
        self.write('line.csv', 'phrase,count,time_s,phrase_end_s\n1,1,2,9\n3,1,10,12\n')
        out = self.good('sheet', 'other.txt', '--line', 'line.csv')
        self.assertIn('phrase 1 has 8 counts in the notes, and times for 1: it is left without', out.replace('\n  ', ' '))
        self.assertIn('there are times for a phrase 3, which the notes do not have', out.replace('\n  ', ' '))
        self.write('bad.csv', 'phrase,count,time_s,phrase_end_s\n1,1,x,9\n')
        self.fails('sheet', 'other.txt', '--line', 'bad.csv',
                   message="countwright: 'bad.csv': line 2: expected numbers for phrase, count, time_s and phrase_end_s\n"
                           "countwright: 'bad.csv': the text does not follow its format\n")
        self.fails('sheet', 'other.txt', PERFORMANCE, '--line', 'line.csv', status=2,
                   message="countwright: '--line' has the times: no recording is needed\n"
                           "countwright: see 'countwright sheet --help'\n")

    def test_a_copy_has_pins_and_carries_on_from_the_first_notes(self):
        for name in ('demo.txt', 'demo-rehearsal.ogg', 'demo-performance.ogg'):
            shutil.copy(harness.FIXTURES / name, self.folder)
        notes = (self.folder / 'demo.txt').read_bytes()
        self.good('carry', 'demo.txt', 'demo-performance.ogg', '--pinned', 'copy.txt')
        self.assertEqual((self.folder / 'demo.txt').read_bytes(), notes)
        copy = (self.folder / 'copy.txt').read_text()
        self.assertIn('recording: demo-performance.ogg\ncarried from: demo.txt\n', copy)
        unclear = json.loads(self.good('check', 'copy.txt', '--json'))['unclear']
        self.assertEqual(unclear, [])
        ones = truth('demo-performance', 'ones')
        sheet = harness.fields(self.good('sheet', 'copy.txt', '--list', 'ones'))
        self.assert_near([float(row[0]) for row in sheet], ones, 0.07)
        # from the performance back to the rehearsal it goes by the rehearsal itself, so nothing is lost on the way
        status, out, err = self.run_it('carry', 'copy.txt', 'demo-rehearsal.ogg', '--list', 'ones')
        self.assertEqual((status, err), (0, "countwright: 'copy.txt': is a copy of 'demo.txt', whose counts are carried\n"))
        own = harness.fields(self.good('sheet', 'demo.txt', '--list', 'ones'))
        self.assert_near([float(row[0]) for row in harness.fields(out)], [float(row[0]) for row in own], 0.002)
        (self.folder / 'demo.txt').unlink()
        status, out, err = self.run_it('carry', 'copy.txt', 'demo-rehearsal.ogg', '--list', 'ones')
        self.assertEqual(status, 0)
        self.assertIn("was carried from 'demo.txt', which cannot be read: errors add up when it is carried on", err)
        self.assert_near([float(row[0]) for row in harness.fields(out)], truth('demo-rehearsal', 'ones'), 0.1)

    def test_nothing_that_is_read_is_written_over(self):
        for name in ('n.txt', 'c.txt'):
            self.write(name, 'recording: a.wav\ncarried from: n.txt\n8 walk\n8 run\n8 turn\n')
        a = self.write_music('a.wav', 20)
        for words, name in ((('n.txt', a, '--pinned', 'n.txt'), 'n.txt'), (('c.txt', a, '-o', 'n.txt'), 'n.txt')):
            status, out, err = self.run_it('carry', *words, '--overwrite')
            self.assertEqual((status, out), (1, ''))
            self.assertIn(f"'{name}': this file is read, and is not written over\n", err)
            self.assertIn('8 walk', (self.folder / name).read_text())
        self.fails('carry', 'n.txt', a, '--pinned', 'c.txt',
                   message="countwright: 'c.txt': the file exists already; '--overwrite' replaces it\n")

    def test_what_is_missing_is_told(self):
        self.write('n.txt', '8 walk\n8 run\n')
        a = self.write_music('a.wav', 30)
        self.fails('carry', 'n.txt', a, message="countwright: 'n.txt': no recording is named that the notes belong to; "
                                                "'--from' names it\n")
        self.fails('carry', 'n.txt', a, '--from', 'b.wav', message="countwright: 'b.wav': there is no such file\n")
        self.write_silence('s.wav', 30)
        self.fails('carry', 'n.txt', 's.wav', '--from', a,
                   message="countwright: 's.wav': these do not seem to be the same music\n")

    def test_a_recording_carried_to_itself_keeps_its_counts(self):
        self.write('n.txt', '8 walk\n8 run\n8 turn\n8 pose\n')
        a = self.write_music('a.wav', 30)
        own = harness.fields(self.good('sheet', 'n.txt', a, '--list', 'counts'))
        carried = harness.fields(self.good('carry', 'n.txt', a, '--from', a, '--list', 'counts'))
        self.assert_near([float(row[0]) for row in carried], [float(row[0]) for row in own], 0.005)


if __name__ == '__main__':
    harness.main()
