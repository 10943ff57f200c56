# SPDX-License-Identifier: GPL-3.0-or-later
"""`sheet`: notes lined up with a recording."""
import harness

SCHEMA = 'print/schema/sheet.json'
NOTES = 'piece: The Glass Orchard\nmetre: 4/4\nbeats per count: 1\n@ 0:00.5 walk to the well 5 turn\nrun, run 8 hold\n'
NAMED = 'recording: music.wav\n' + NOTES


class Sheet(harness.Case):
    def test_the_recording_is_the_one_named_in_the_folder_of_the_notes(self):
        inner = self.folder / 'inner'
        inner.mkdir()
        self.write_music('inner/music.wav', 9)
        self.write('inner/notes.txt', NAMED)
        sheet = self.json_like(self.good('sheet', 'inner/notes.txt', '--json'), SCHEMA)
        self.assertEqual(sheet['recording'], 'music.wav')
        self.assertEqual([row['start_s'] for row in sheet['phrases']][:1], [0.5])

    def test_a_recording_given_comes_before_the_one_named(self):
        self.write_music('other.wav', 9)
        self.write('notes.txt', NAMED)
        sheet = self.json_like(self.good('sheet', 'notes.txt', 'other.wav', '--json'), SCHEMA)
        self.assertEqual(sheet['recording'], 'other.wav')

    def test_pins_hold_for_the_recording_that_the_notes_name(self):
        self.write_music('music.wav', 9)
        self.write_music('other.wav', 9)
        self.write('notes.txt', 'recording: music.wav\n\n8 walk\n@ 0:04.6 8 turn home\n')
        ones = harness.fields(self.good('sheet', 'notes.txt', '--list', 'ones'))
        self.assertIn('4.600', [row[0] for row in ones])
        _, out, err = self.run_it('sheet', 'notes.txt', 'other.wav', '--list', 'ones')
        self.assertIn("the pins are times in 'music.wav' and are left out for 'other.wav'", err)
        self.assertNotIn('4.600', [row[0] for row in harness.fields(out)])

    def test_without_a_recording_there_are_no_times(self):
        self.write('notes.txt', NOTES)
        sheet = self.json_like(self.good('sheet', 'notes.txt', '--json'), SCHEMA)
        self.assertEqual([row['timed'] for row in sheet['phrases']], [False, False])
        self.assertIn('walk to the well', self.good('sheet', 'notes.txt'))
        self.fails('sheet', 'notes.txt', '--list', 'ones',
                   message="countwright: 'notes.txt': no recording is named, so there are no times\n")

    def test_what_the_notes_changed_is_told(self):
        self.write_music('music.wav', 33, bpm=120)
        self.write('notes.txt', 'metre: 3/4\ntempo: adagio\n\n8 walk\n8 turn\nsame as 1\nsame as 2\n')
        status, out, err = self.run_it('sheet', 'notes.txt', 'music.wav', '--json', '--ear', 'plain')
        self.assertEqual(status, 0)
        evidence = self.json_like(out, SCHEMA)['evidence']
        self.assertFalse(evidence['level_given'])
        self.assertEqual((evidence['level']['metre'], evidence['alone']['metre']), (3, 4))
        self.assertAlmostEqual(evidence['level']['counts_per_min'], 60, delta=3)
        self.assertEqual((evidence['ones'], evidence['tempo']['low_bpm']), (4, 66))
        for words in evidence['words']:
            self.assertIn(f"countwright: 'notes.txt': {words}\n", err)
        self.assertIn('bars of 3 where the music alone gave 4', evidence['words'])
        self.assertIn("'beats per count: 1' counts beats", err)
        self.write('plain.txt', 'beats per count: 1\n8 walk x8\n')
        _, _, err = self.run_it('sheet', 'plain.txt', 'music.wav')
        self.assertNotIn('counted in', err)

    def test_standard_input(self):
        self.write_music('music.wav', 9)
        self.write('notes.txt', NAMED)
        self.assertEqual(self.good('sheet', '-', stdin=NAMED.encode()), self.good('sheet', 'notes.txt'))

    def test_ones(self):
        self.write_music('music.wav', 9)
        self.write('notes.txt', NAMED)
        ones = harness.fields(self.good('sheet', 'notes.txt', '--list', 'ones'))
        self.assertEqual(ones[0], ['0.500', '1', '8'])
        self.assertAlmostEqual(float(ones[1][0]), 4.5, delta=0.03)

    def test_counts(self):
        self.write_music('music.wav', 9)
        self.write('notes.txt', NAMED)
        counts = harness.fields(self.good('sheet', 'notes.txt', '--list', 'counts'))
        self.assertEqual([row[1:3] for row in counts], [[str(p), str(c)] for p in (1, 2) for c in range(1, 9)])
        self.assertEqual(counts[0], ['0.500', '1', '1', '1.000'])  # pinned
        self.assertTrue(0 < float(counts[8][3]) < 1)

    def listed_beats(self, notes):
        """What stands for the beats, and their distances in counts."""
        self.write('notes.txt', notes)
        beats = harness.fields(self.good('sheet', 'notes.txt', '--list', 'beats'))
        return ''.join('D' if kind == 'db' else 'b' for _, kind in beats), [float(time) for time, _ in beats]

    def test_beats_divide_the_counts_and_bars_begin_as_the_notes_say(self):
        self.write_music('music.wav', 14)
        head = 'recording: music.wav\nfirst one: 0:00.5\n'
        kinds, times = self.listed_beats(head + 'metre: 4/4\nbeats per count: 1\n\n6 walk\n6 turn\n')
        self.assertEqual(kinds, 'DbbbDbbbDbbb')
        counts = harness.fields(self.good('sheet', 'notes.txt', '--list', 'counts'))
        self.assertEqual(times, [float(row[0]) for row in counts])
        kinds, times = self.listed_beats(head + 'metre: 4/4\nbeats per count: 2\n\n6 walk\n6 turn\n')
        self.assertEqual(kinds, 'Dbbb' * 6)
        self.assertEqual([round(b - a, 1) for a, b in zip(times, times[1:])], [0.5] * 23)
        kinds, _ = self.listed_beats(head + 'metre: 2/4\nbeats per count: 0.5\n\n6 walk\n4 turn\n')
        self.assertEqual(kinds, 'DbDbD')
        kinds, _ = self.listed_beats(head + 'beats per count: 1\n\n6 walk\nmetre: 3/4\n6 turn\n')
        self.assertEqual(kinds, 'bbbbbbDbbDbb')

    def test_files_in_each_form(self):
        self.write_music('music.wav', 9)
        self.write('notes.txt', NAMED)
        self.good('sheet', 'notes.txt', '-o', 's.pdf', '-o', 's.txt', '-o', 's.json', '-o', 's.csv')
        self.assertTrue((self.folder / 's.pdf').read_bytes().startswith(b'%PDF-'))
        self.assertEqual((self.folder / 's.txt').read_text(), self.good('sheet', 'notes.txt'))
        self.assertEqual((self.folder / 's.json').read_text(), self.good('sheet', 'notes.txt', '--json'))

    def test_the_demo(self):
        truth = harness.fields((harness.FIXTURES / 'demo-rehearsal.ones').read_text())
        ones = harness.fields(self.good('sheet', harness.FIXTURES / 'demo.txt', '--list', 'ones'))
        self.assertEqual([row[1:3] for row in ones], [row[1:3] for row in truth])
        near = [abs(float(ours[0]) - float(true[0])) < 0.1 for ours, true in zip(ones, truth)]
        self.assertGreaterEqual(sum(near), 17)


if __name__ == '__main__':
    harness.main()
