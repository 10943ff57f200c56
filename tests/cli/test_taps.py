# SPDX-License-Identifier: GPL-3.0-or-later
"""`--taps`: someone tapped along."""
import harness

NOTES = 'metre: 4/4\nbeats per count: 1\nwalk\nturn\nrun\n4 jump\n'


def tapped(step=1, late=0.08):
    """On beats half a second apart from 0.5 s on, unevenly, the tenth missing."""
    off = (0.03, -0.04, 0.05, 0.0, -0.03, 0.04, -0.05)
    return [0.5 + 0.5 * i + late + off[i % 7] for i in range(0, 28, step) if i != 9]


class Taps(harness.Case):
    def write_taps(self, times, name='taps.txt'):
        self.write(name, '# by hand\n' + ''.join(f'{time:.3f}\n' for time in times))

    def test_count(self):
        self.write_music('music.wav', 15)
        self.write_taps(tapped())
        status, out, err = self.run_it('count', 'music.wav', '--taps', 'taps.txt', '--list', 'beats')
        self.assertEqual(status, 0, err)
        self.assertRegex(err, r"\Acountwright: 'music.wav': the taps are on beats, \d+ ms late, give or take \d+ ms; "
                              r"1 missing, 0 on no place\n\Z")
        beats = harness.fields(out)
        self.assertEqual(len(beats), 28)
        for i, beat in enumerate(beats):
            self.assertAlmostEqual(float(beat[0]), 0.5 + 0.5 * i, delta=0.03)

    def test_sheet(self):
        self.write_music('music.wav', 15)
        self.write('notes.txt', NOTES)
        for step, on in ((1, 'counts'), (8, 'ones')):
            self.write_taps(tapped(step))
            for words in ([], ['--taps-on', on]):
                status, out, err = self.run_it('sheet', 'notes.txt', 'music.wav', '--taps', 'taps.txt', '--list',
                                               'ones', *words)
                self.assertEqual(status, 0, err)
                self.assertIn(f"'music.wav': the taps are on {on}, ", err)
                for i, one in enumerate(harness.fields(out)):
                    self.assertAlmostEqual(float(one[0]), 0.5 + 4 * i, delta=0.03)

    def test_standard_input(self):
        self.write_music('music.wav', 15)
        self.write_taps(tapped())
        text = (self.folder / 'taps.txt').read_bytes()
        self.assertEqual(self.good('count', 'music.wav', '--taps', '-', '--list', 'beats', stdin=text),
                         self.good('count', 'music.wav', '--taps', 'taps.txt', '--list', 'beats'))

    def test_lines_that_are_no_times(self):
        self.write_music('music.wav', 15)
        self.write('notes.txt', NOTES)
        self.write('taps.txt', '# taps\n1.0\nsoon\n2.0 3.0\n')
        for words in (['count', 'music.wav'], ['sheet', 'notes.txt', 'music.wav']):
            self.fails(*words, '--taps', 'taps.txt', message="taps.txt:3:1: expected a time, found 'soon'\n"
                                                             "taps.txt:4:5: expected a time, found '3.0'\n")
        self.write('taps.txt', 'x\n' * 12)
        _, _, err = self.run_it('count', 'music.wav', '--taps', 'taps.txt')
        self.assertEqual(len(err.splitlines()), 11)
        self.assertIn("countwright: 'taps.txt': 2 more lines hold no time\n", err)

    def test_no_taps(self):
        self.write_music('music.wav', 15)
        self.write('taps.txt', '1.0\n')
        self.fails('count', 'music.wav', '--taps', 'taps.txt',
                   message="countwright: 'taps.txt': too few taps to go by: at least 4 are needed\n")
        self.fails('count', 'music.wav', '--taps', 'none.txt',
                   message="countwright: 'none.txt': there is no such file\n")

    def test_options_that_do_not_go_together(self):
        see = "countwright: see 'countwright count --help'\n"
        self.fails('sheet', 'notes.txt', '--taps-on', 'beats', status=2,
                   message="countwright: '--taps-on' is nothing without '--taps'\n" + see.replace('count ', 'sheet '))
        self.fails('count', 'music.wav', '--taps', 'taps.txt', '--tracker', 'aubio', status=2,
                   message="countwright: '--taps' and '--tracker' exclude each other\n" + see)


if __name__ == '__main__':
    harness.main()
