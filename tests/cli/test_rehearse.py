# SPDX-License-Identifier: GPL-3.0-or-later
"""Practice audio: where counts fall in it, measured in the samples themselves, and how it is asked for."""
import array
import math
import shutil
import signal
import subprocess
import time
import wave

import harness

CAUTION = ('countwright: Practise at speed only what is sure slowly, and rest when tired: most hurts happen then. '
           'Bodies differ; teachers and physiotherapists come first.\n')
RATE = 44100


def read_samples(path):
    """The samples of a WAV file of one channel, and their rate."""
    with wave.open(str(path)) as sound:
        assert sound.getnchannels() == 1 and sound.getsampwidth() == 2
        return array.array('h', sound.readframes(sound.getnframes())), sound.getframerate()


def onset_near(samples, rate, at_s, reach_s=0.04):
    """When the loudest stroke near a time begins: where half of its height is first reached."""
    first = max(0, int((at_s - reach_s) * rate))
    near = samples[first:int((at_s + reach_s) * rate)]
    height = max(abs(x) for x in near)
    return (first + next(i for i, x in enumerate(near) if abs(x) > 0.5 * height)) / rate


def pitch_of(samples, rate, from_s, to_s, near_hz):
    """The pitch of a steady tone, by the phase that it gains between two halves."""
    n = int((to_s - from_s) * rate / 2)

    def phase(first):
        real = imaginary = 0.0
        for i in range(n):
            window = 0.5 - 0.5 * math.cos(2 * math.pi * i / n)
            turn = 2 * math.pi * near_hz * (first + i) / rate
            real += window * samples[first + i] * math.cos(turn)
            imaginary -= window * samples[first + i] * math.sin(turn)
        return math.atan2(imaginary, real)

    first = int(from_s * rate)
    gained = (phase(first + n) - phase(first) + math.pi) % (2 * math.pi) - math.pi
    return near_hz + gained / (2 * math.pi) * rate / n


class Rehearse(harness.Case):
    def write_strokes(self, name, times, seconds):
        """Sharp strokes at times, over nothing."""
        samples = array.array('h', bytes(2 * int(seconds * RATE)))
        for at in times:
            for i in range(RATE // 50):
                value = 24000 * math.exp(-i / (0.003 * RATE)) * math.cos(2 * math.pi * 1500 * i / RATE)
                samples[round(at * RATE) + i] += int(value)
        with wave.open(str(self.folder / name), 'wb') as out:
            out.setparams((1, 2, RATE, 0, 'NONE', ''))
            out.writeframes(samples.tobytes())

    def write_line(self, name, phrases):
        """A count line: for each phrase the times of its counts and its end."""
        lines = ['phrase,count,time_s,phrase_end_s']
        for number, (counts, end) in enumerate(phrases, 1):
            lines += [f'{number},{count},{at:.6f},{end:.6f}' for count, at in enumerate(counts, 1)]
        self.write(name, '\n'.join(lines) + '\n')

    def write_dance(self):
        """Strokes of a tempo that comes and goes, two eights, a hold and another, and its notes."""
        at, times = 1.0, []
        for i in range(24):
            times.append(at)
            at += 0.55 + 0.05 * math.sin(0.7 * i)
            at += 1.2 if i == 15 else 0
        ends = [times[8], times[15] + 0.55, at]
        self.write_strokes('strokes.wav', times, at + 1)
        self.write_line('strokes.csv', [(times[8 * k:8 * k + 8], ends[k]) for k in range(3)])
        self.write('notes.txt', 'piece: The Paper Harbour\ndance: The Ferrymen\nrecording: strokes.wav\n\n# Quay\n'
                                '1-4 run 5 turn\n8 walk\n# Boats\n8 rest\n')
        return times

    def rehearse(self, *words):
        """Run with the counts of the file. Gives samples, rate and the list of times."""
        out = self.good('rehearse', 'notes.txt', '--line', 'strokes.csv', '-o', 'out.wav', '--overwrite', '--times',
                        *words)
        samples, rate = read_samples(self.folder / 'out.wav')
        return samples, rate, [[float(x) for x in line] for line in harness.fields(out)]

    def check_onsets(self, samples, rate, times, within_s):
        """Every stroke begins where its count is said to fall."""
        worst = max(abs(onset_near(samples, rate, row[0]) - row[0]) for row in times)
        self.assertLess(worst, within_s)

    def test_music_is_where_its_counts_are_at_every_speed(self):
        self.write_dance()
        for speed in (50, 63, 80, 100, 107, 120):
            with self.subTest(speed):
                samples, rate, times = self.rehearse('--counts', 'none', '--speed', str(speed), '--loudness', '-34')
                heard = [row for row in times if row[2] >= 1]
                self.assertEqual(len(heard), 24)
                self.check_onsets(samples, rate, heard, 0.005)

    def test_clicks_are_where_the_count_line_puts_them_at_every_speed(self):
        truth = self.write_dance()
        self.write_silence('strokes.wav', truth[-1] + 2)
        for speed in (50, 80, 100, 120):
            with self.subTest(speed):
                samples, rate, times = self.rehearse('--counts', 'clicked', '--duck', '40', '--speed', str(speed))
                self.check_onsets(samples, rate, times, 0.001)
                heard = [row[0] for row in times if row[2] >= 1]
                for at, wanted in zip(heard, truth):
                    self.assertAlmostEqual(at - heard[0], (wanted - truth[0]) / (speed / 100), delta=0.0005)

    def test_even_is_even_in_each_section_and_keeps_the_hold(self):
        self.write_dance()
        samples, rate, times = self.rehearse('--counts', 'none', '--even', '--speed', '90', '--loudness', '-34')
        self.check_onsets(samples, rate, [row for row in times if row[2] >= 1], 0.005)
        at = [row[0] for row in times if row[2] >= 1]
        steps = [b - a for a, b in zip(at, at[1:])]
        for step in steps[1:15]:
            self.assertAlmostEqual(step, steps[0], delta=0.0002)
        self.assertGreater(steps[15], steps[14] + 1)
        for step in steps[17:]:
            self.assertAlmostEqual(step, steps[16], delta=0.0002)

    def test_counts_are_given_before_in_the_tempo_of_what_comes(self):
        self.write_dance()
        _, _, times = self.rehearse('--counts', 'clicked', '--count-in', '6', '--speed', '80')
        before = [row for row in times if row[2] < 1]
        self.assertEqual([row[2] for row in before], [-5, -4, -3, -2, -1, 0])
        first = [row[0] for row in times if row[2] >= 1]
        step = (times[14][0] - first[0]) / 8 # the next phrase's one
        self.assertAlmostEqual(first[0] - before[0][0], 6 * step, delta=0.001)

    def test_a_chain_grows_and_loops_rest(self):
        self.write_dance()
        _, _, times = self.rehearse('--counts', 'clicked', '--chain', '--phrases', '1-2', '--loops', '2', '--count-in', '0')
        self.assertEqual([int(row[1]) for row in times], ([1] * 8) * 2 + ([1] * 8 + [2] * 8) * 2)
        _, _, apart = self.rehearse('--counts', 'clicked', '--phrases', '2', '--loops', '2', '--rest', '7', '--count-in', '0')
        _, _, near = self.rehearse('--counts', 'clicked', '--phrases', '2', '--loops', '2', '--rest', '1', '--count-in', '0')
        self.assertAlmostEqual(apart[8][0] - near[8][0], 6, delta=0.001)

    def test_a_ladder_of_tempos_is_played_in_order(self):
        self.write_dance()
        _, _, times = self.rehearse('--section', 'Boats', '--speed', '70,80,100', '--count-in', '2')
        self.assertEqual([int(row[3]) for row in times], [70] * 10 + [80] * 10 + [100] * 10)
        self.assertEqual({int(row[1]) for row in times}, {3})

    def test_a_section_and_a_span_of_phrases_are_played_alone(self):
        self.write_dance()
        _, _, times = self.rehearse('--phrases', '2-3', '--count-in', '0')
        self.assertEqual([int(row[1]) for row in times], [2] * 8 + [3] * 8)
        _, _, times = self.rehearse('--section', 'Quay', '--count-in', '0')
        self.assertEqual([int(row[1]) for row in times], [1] * 8 + [2] * 8)

    def test_only_entrances_of_a_role(self):
        self.write_dance()
        self.write('notes.txt', 'recording: strokes.wav\ncast: Ferryman, Girls\n\n8 [Ferryman] run\n8 [Ferryman] walk\n'
                                '8 [Girls] enter USR, walk\n')
        _, _, times = self.rehearse('--role', 'Girls', '--entrances', '--count-in', '0')
        self.assertEqual([int(row[1]) for row in times], [2] * 8 + [3] * 8)
        _, _, times = self.rehearse('--role', 'girls', '--count-in', '0')
        self.assertEqual([int(row[1]) for row in times], [3] * 8)

    def test_pitch_stays(self):
        seconds, pitch = 14, 440.0
        samples = array.array('h', (int(9000 * math.sin(2 * math.pi * pitch * i / RATE)) for i in range(seconds * RATE)))
        with wave.open(str(self.folder / 'strokes.wav'), 'wb') as out:
            out.setparams((1, 2, RATE, 0, 'NONE', ''))
            out.writeframes(samples.tobytes())
        self.write_line('strokes.csv', [([2.0 + k for k in range(8)], 10.0)])
        self.write('notes.txt', 'recording: strokes.wav\n\n8 walk\n')
        for speed in (50, 75, 100, 120):
            samples, rate, times = self.rehearse('--counts', 'none', '--speed', str(speed))
            found = pitch_of(samples, rate, times[5][0], times[5][0] + 1, pitch)
            self.assertLess(abs(1200 * math.log2(found / pitch)), 5, speed)

    def test_every_form_is_as_loud_as_asked_by_another_meter(self):
        if not shutil.which('ffmpeg'):
            self.skipTest('there is no ffmpeg here')
        notes = harness.FIXTURES / 'demo.txt'
        line = self.folder / 'demo.csv'
        self.demo_line(line)
        for ending, level in (('wav', -16), ('m4a', -20), ('mp3', -18), ('opus', -19)):
            with self.subTest(ending):
                self.good('rehearse', notes, '--line', line, '-o', f'out.{ending}', '--counts', 'both', '--section',
                          'Lanterns', '--loudness', str(level))
                loudness, peak = self.measured(f'out.{ending}')
                self.assertAlmostEqual(loudness, level, delta=0.4)
                self.assertLess(peak, -1.0)

    def demo_line(self, path):
        """The truth of the demo as a count line."""
        counts, ends = {}, {}
        for at, number, _ in harness.fields((harness.FIXTURES / 'demo-rehearsal.counts').read_text()):
            counts.setdefault(int(number), []).append(float(at))
        for _, number, _, end in harness.fields((harness.FIXTURES / 'demo-rehearsal.ones').read_text()):
            ends[int(number)] = float(end)
        self.write_line(path, [(counts[k], ends[k]) for k in sorted(counts)])

    def measured(self, name):
        """Integrated loudness and true peak by ffmpeg's filter."""
        done = subprocess.run(['ffmpeg', '-hide_banner', '-nostats', '-i', name, '-af', 'ebur128=peak=true', '-f', 'null', '-'],
                              cwd=self.folder, capture_output=True, text=True, check=True)
        summary = done.stderr.split('Summary:')[1].split()
        return float(summary[summary.index('I:') + 1]), float(summary[summary.index('Peak:') + 1])

    def test_the_demo_has_its_clicks_on_its_counts(self):
        line = self.folder / 'demo.csv'
        self.demo_line(line)
        for speed in (60, 80, 100):
            out = self.good('rehearse', harness.FIXTURES / 'demo.txt', '--line', line, '-o', 'out.wav', '--overwrite',
                            '--counts', 'clicked', '--duck', '40', '--times', '--speed', str(speed))
            samples, rate = read_samples(self.folder / 'out.wav')
            times = [[float(x) for x in row] for row in harness.fields(out)]
            self.assertEqual(len(times), 142 + 4)
            self.check_onsets(samples, rate, times, 0.005)

    def test_tags_chapters_and_the_caution(self):
        if not shutil.which('ffprobe'):
            self.skipTest('there is no ffprobe here')
        self.write_dance()
        status, _, err = self.run_it('rehearse', 'notes.txt', '--line', 'strokes.csv', '-o', 'out.m4a', '--counts', 'clicked')
        self.assertEqual(status, 0)
        self.assertTrue(err.endswith(CAUTION), err)
        self.assertRegex(err, r"^countwright: 'out.m4a': written, 0:1\d\.\d at -\d\d\.\d LUFS, true peak -\d\.\d dBTP\n")
        told = subprocess.run(['ffprobe', '-v', 'error', '-show_chapters', '-show_format', '-of', 'flat', 'out.m4a'],
                              cwd=self.folder, capture_output=True, text=True, check=True).stdout
        self.assertIn('format.tags.title="The Ferrymen"', told)
        self.assertIn('format.tags.comment="Practise at speed only', told)
        self.assertIn('chapters.chapter.0.tags.title="Quay"', told)
        self.assertIn('chapters.chapter.1.tags.title="Boats"', told)

    def test_wrong_calls(self):
        self.write_dance()
        tail = "countwright: see 'countwright rehearse --help'\n"
        for words, message in (
                ((), "'--output' is missing: the file to write"),
                (('-o', 'a.wav', '--speed', '40'), "'--speed' takes whole percents from 50 to 120, such as 80 or 70,80,90,100"),
                (('-o', 'a.wav', '--speed', '80,,90'), "'--speed' takes whole percents from 50 to 120, such as 80 or 70,80,90,100"),
                (('-o', 'a.wav', '--even', '--like', 'b.wav'), "'--even' and '--like' exclude each other"),
                (('-o', 'a.wav', '--entrances'), "'--entrances' needs '--role'"),
                (('-o', 'a.wav', '--role', 'x', '--section', 'y'), "'--phrases', '--section' and '--role' exclude each other"),
        ):
            self.fails('rehearse', 'notes.txt', *words, message=f'countwright: {message}\n{tail}', status=2)

    def test_what_cannot_be_done_is_said_and_leaves_nothing(self):
        self.write_dance()
        line = ('--line', 'strokes.csv')
        self.write('there.wav', 'mine')
        self.fails('rehearse', 'notes.txt', *line, '-o', 'there.wav',
                   message="countwright: 'there.wav': the file exists already; '--overwrite' replaces it\n")
        self.fails('rehearse', 'notes.txt', *line, '-o', 'strokes.wav', '--overwrite',
                   message="countwright: 'strokes.wav': this file is read, and is not written over\n")
        self.fails('rehearse', 'notes.txt', *line, '-o', 'none/a.wav',
                   message="countwright: 'none/a.wav': there is no such folder\n")
        self.fails('rehearse', 'notes.txt', *line, '-o', 'a.wav', '--section', 'Mill',
                   message="countwright: 'Mill': the notes have no phrases under such a heading\n")
        self.fails('rehearse', 'notes.txt', *line, '-o', 'a.wav', '--role', 'Miller',
                   message="countwright: 'Miller': the notes name no such role\n")
        (self.folder / 'full.mp3').symlink_to('/dev/full')
        self.fails('rehearse', 'notes.txt', *line, '-o', 'full.mp3', '--overwrite', '--counts', 'clicked',
                   message="countwright: 'full.mp3': it could not be written (is the disk full?)\n")

    def test_a_stop_leaves_no_half_file(self):
        self.write_dance()
        before = sorted(self.folder.iterdir())
        with subprocess.Popen([harness.PROGRAM, 'rehearse', 'notes.txt', '--line', 'strokes.csv', '-o', 'out.wav', '--speed',
                               '50', '--loops', '1000', '--counts', 'clicked'], cwd=self.folder, stderr=subprocess.PIPE,
                              env=self.environment()) as run:
            while len(list(self.folder.iterdir())) == len(before):
                self.assertIsNone(run.poll(), 'it ended too early')
                time.sleep(0.01)
            time.sleep(0.5)
            run.send_signal(signal.SIGINT)
            run.wait(timeout=60)
            self.assertEqual(run.returncode, -signal.SIGINT)
        self.assertEqual(sorted(self.folder.iterdir()), before)


if __name__ == '__main__':
    harness.main()
