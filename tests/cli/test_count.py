# SPDX-License-Identifier: GPL-3.0-or-later
"""`count`: a bare sheet and the plain lists."""
import csv
import io
import json

import harness

SCHEMA = 'print/schema/sheet.json'


class Count(harness.Case):
    def test_beats_of_plain_music(self):
        self.write_music('music.wav', 30, bpm=120, metre=4)
        beats = harness.fields(self.good('count', 'music.wav', '--list', 'beats'))
        self.assertGreaterEqual(len(beats), 55)
        for i, (time, kind) in enumerate(beats):
            self.assertRegex(time, r'\A\d+\.\d{3}\Z')
            self.assertAlmostEqual(float(time), 0.5 + 0.5 * i, delta=0.03)
            self.assertEqual(kind, 'b' if i % 4 else 'db')

    def test_the_metre_may_be_given(self):
        self.write_music('music.wav', 30, bpm=120, metre=3)
        beats = harness.fields(self.good('count', 'music.wav', '--list', 'beats', '--metre', '3'))
        self.assertEqual([i for i, (_, kind) in enumerate(beats) if kind == 'db'], list(range(0, len(beats), 3)))

    def test_cues_can_be_left_out(self):
        names = self.good('count', '--leave-out', 'list').splitlines()
        self.assertIn('slow', names)
        self.write_music('music.wav', 30, bpm=120, metre=4)
        count = ('count', 'music.wav', '--list', 'beats', '--ear', 'plain')  # cues are the plain ear's
        for cues in (names[0], ','.join(names[1:])):
            beats = harness.fields(self.good(*count, '--leave-out', cues))
            self.assertGreaterEqual(len(beats), 50, cues)
        self.assertNotIn('leave-out', self.good('count', '--help') + self.good('--help-man'))

    def test_both_ears_find_the_beats(self):
        self.write_music('music.wav', 60, bpm=120, metre=4)
        count = ('count', 'music.wav', '--list', 'beats')
        plain = harness.fields(self.good(*count, '--ear', 'plain'))
        learned = harness.fields(self.good(*count, '--ear', 'learned'))
        for beats in plain, learned:
            self.assertGreaterEqual(len(beats), 50)  # the learned one may tap every other beat
            self.assertTrue(all(abs(2 * float(time) - round(2 * float(time))) < 0.1 for time, _ in beats), beats)
        self.assertNotEqual(plain, learned)

    def test_aubio_knows_no_bars(self):
        self.write_music('music.wav', 30)
        status, out, err = self.run_it('count', 'music.wav', '--list', 'beats', '--tracker', 'aubio')
        if 'built without' in err:
            self.skipTest('this program is built without aubio')
        self.assertEqual((status, err), (0, ''))
        self.assertEqual({kind for _, kind in harness.fields(out)}, {'b'})

    def test_stretches_are_music_without_long_gaps(self):
        self.write_music('music.wav', 20)
        with open(self.folder / 'music.wav', 'rb') as file:
            sound = file.read()
        quiet = bytes(2 * harness.RATE * 12)
        size = len(sound) - 44
        data = sound[44:] + quiet + sound[44:]
        self.write('two.wav', sound[:40] + len(data).to_bytes(4, 'little') + data)
        stretches = harness.fields(self.good('count', 'two.wav', '--list', 'stretches'))
        ones = harness.fields(self.good('count', 'two.wav', '--list', 'ones'))
        self.assertEqual(len(stretches), 2)
        (begin, end, first, last), (again, _, next_first, next_last) = stretches
        self.assertEqual((first, int(next_first), int(next_last)), ('1', int(last) + 1, len(ones)))
        self.assertEqual(begin, ones[0][0])
        self.assertEqual(again, ones[int(next_first) - 1][0])
        self.assertLess(float(end), size / 2 / harness.RATE + 1)
        self.assertGreater(float(again), size / 2 / harness.RATE + 11)

    def test_ones_are_ones_of_the_sheet(self):
        self.write_music('music.wav', 60)
        ones = harness.fields(self.good('count', 'music.wav', '--list', 'ones'))
        self.assertEqual([int(number) for _, number, _ in ones], list(range(1, len(ones) + 1)))
        sheet = self.json_like(self.good('count', 'music.wav', '--json'), SCHEMA)
        self.assertEqual(sheet['recording'], 'music.wav')
        self.assertEqual([(float(time), int(counts)) for time, _, counts in ones],
                         [(row['start_s'], row['counts']) for row in sheet['phrases']])

    def test_beats_per_count(self):
        self.write_music('music.wav', 60)
        sheet = self.json_like(self.good('count', 'music.wav', '--json', '--beats-per-count', '2', '--ear', 'plain'), SCHEMA)
        self.assertEqual(sheet['beats_per_count'], 2)
        self.assertAlmostEqual(sheet['phrases'][1]['counts_per_min'], 60, delta=1)

    def test_the_level_is_explained_unless_it_is_asked_for(self):
        self.write_music('waltz.wav', 40, bpm=180, metre=3)
        _, _, err = self.run_it('count', 'waltz.wav', '--ear', 'plain')
        self.assertRegex(err, r"\Acountwright: 'waltz.wav': counted in (bars|groups) of three: 60 counts a minute; beats "
                              r"would be 180 a minute; '--beats-per-count 1' counts beats\n\Z")
        _, out, err = self.run_it('count', 'waltz.wav', '--beats-per-count', '1', '--json', '--ear', 'plain')
        self.assertEqual(err, '')
        self.assertAlmostEqual(self.json_like(out, SCHEMA)['phrases'][1]['counts_per_min'], 180, delta=2)

    def test_a_metre_of_eighths_has_dotted_beats(self):
        self.write_music('jig.wav', 40, bpm=240, metre=6)
        beats = harness.fields(self.good('count', 'jig.wav', '--list', 'beats', '--metre', '6/8'))
        times = [float(time) for time, _ in beats]
        self.assertAlmostEqual((times[-1] - times[0]) / (len(times) - 1), 0.75, delta=0.01)
        self.assertEqual([i % 2 for i, (_, kind) in enumerate(beats) if kind == 'db'], [0] * ((len(beats) + 1) // 2))

    def test_files_in_each_form(self):
        self.write_music('music.wav', 40)
        status, out, err = self.run_it('count', 'music.wav', '-o', 's.pdf', '-o', 's.txt', '-o', 's.json', '-o', 's.csv',
                                       '--ear', 'plain')
        self.assertEqual((status, out), (0, ''))
        self.assertEqual(err, ''.join(f"countwright: 's.{form}': written\n" for form in ('pdf', 'txt', 'json', 'csv')) +
                         "countwright: 'music.wav': counted in beats: 120 counts a minute; '--beats-per-count 2' counts "
                         "half as fast\n")
        self.assertTrue((self.folder / 's.pdf').read_bytes().startswith(b'%PDF-'))
        self.assertEqual((self.folder / 's.txt').read_text(), self.good('count', 'music.wav', '--ear', 'plain'))
        self.assertEqual((self.folder / 's.json').read_text(), self.good('count', 'music.wav', '--json', '--ear', 'plain'))
        table = (self.folder / 's.csv').read_bytes().decode()
        phrases = self.json_like((self.folder / 's.json').read_text(), SCHEMA)['phrases']
        self.assertEqual(len(list(csv.reader(io.StringIO(table, newline='')))), 1 + len(phrases))

    def test_counts_are_those_of_the_phrases(self):
        self.write_music('music.wav', 20)
        counts = harness.fields(self.good('count', 'music.wav', '--list', 'counts'))
        ones = harness.fields(self.good('count', 'music.wav', '--list', 'ones'))
        self.assertEqual([[row[0], row[1]] for row in counts if row[2] == '1'], [row[:2] for row in ones])
        self.assertEqual([int(row[2]) for row in counts],
                         [i + 1 for _, _, n in ones for i in range(int(n))])
        phrases = json.loads(self.good('count', 'music.wav', '--json'))['phrases']
        for _, number, _, confidence in counts:
            self.assertAlmostEqual(float(confidence), phrases[int(number) - 1]['confidence'], delta=0.0011)

    def test_a_list_may_stand_beside_a_file(self):
        self.write_music('music.wav', 40)
        status, out, _ = self.run_it('count', 'music.wav', '-o', 's.txt', '--list', 'ones')
        self.assertEqual((status, out), (0, self.good('count', 'music.wav', '--list', 'ones')))
        self.assertTrue((self.folder / 's.txt').exists())

    def test_paper(self):
        self.write_music('music.wav', 40)
        self.good('count', 'music.wav', '-o', 'a4.pdf', '--paper', 'a4')
        self.good('count', 'music.wav', '-o', 'letter.pdf', '--paper', 'letter')
        self.good('count', 'music.wav', '-o', 'usual.pdf')
        sizes = [(self.folder / f'{name}.pdf').stat().st_size for name in ('a4', 'usual')]
        self.assertEqual(*sizes)
        # PDF 32000-1, 7.7.3.3: the media box is in points; letter is 8.5 by 11 inches, A4 210 by 297 mm
        self.assertRegex((self.folder / 'letter.pdf').read_bytes(), rb'MediaBox \[ ?0 0 612(\.0+)? 792(\.0+)? ?\]')
        self.assertRegex((self.folder / 'a4.pdf').read_bytes(), rb'MediaBox \[ ?0 0 595\.2\d* 841\.8\d* ?\]')

    def test_width(self):
        self.write_music('music.wav', 40)
        for words, most in ((['--width', '50'], 50), ([], 80)):
            lines = self.good('count', 'music.wav', *words).splitlines()
            self.assertLessEqual(max(map(len, lines)), most)
        self.assertEqual(self.good('count', 'music.wav', COLUMNS='60'), self.good('count', 'music.wav', '--width', '60'))

    def test_no_pulse(self):
        self.write_silence('silence.wav', 10)
        for words in ([], ['--list', 'beats'], ['--list', 'ones'], ['--json']):
            self.fails('count', 'silence.wav', *words, message="countwright: 'silence.wav': no pulse found here\n")

    def test_the_same_every_time(self):
        self.write_music('music.wav', 40)
        for words in ([], ['--json'], ['--list', 'beats']):
            self.assertEqual(self.good('count', 'music.wav', *words), self.good('count', 'music.wav', *words))

    def test_numbers_ignore_the_locale(self):
        self.write_music('music.wav', 40)
        self.assertEqual(self.good('count', 'music.wav', '--json', LC_ALL='de_DE.UTF-8'),
                         self.good('count', 'music.wav', '--json', LC_ALL='C'))


if __name__ == '__main__':
    harness.main()
