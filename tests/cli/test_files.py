# SPDX-License-Identifier: GPL-3.0-or-later
"""Files that are missing, unfit, in the way or cannot be written."""
import os
import subprocess

import harness


class Inputs(harness.Case):
    def test_what_cannot_be_read_is_told(self):
        self.write('empty.wav', b'')
        self.write('text.wav', 'no music at all\n')
        self.write('short.wav', self.write_silence('s.wav', 0.5).read_bytes())
        for name, why in (('nope.wav', 'there is no such file'), ('.', 'this is a folder, not a file'),
                          ('empty.wav', 'the file is empty'), ('text.wav', 'this is not a recording that can be read'),
                          ('short.wav', 'the recording is too short to find counts in (under 2 seconds)')):
            self.fails('count', name, message=f"countwright: '{name}': {why}\n")
        self.write('notes.txt', 'recording: nope.wav\n8 walk\n')
        self.fails('sheet', 'notes.txt', message="countwright: 'nope.wav': there is no such file\n")
        self.fails('sheet', 'nope.txt', message="countwright: 'nope.txt': there is no such file\n")
        self.fails('check', '.', message="countwright: '.': this is a folder, not a file\n")
        self.fails('drift', 'nope.wav', 'nope.wav', message="countwright: 'nope.wav': there is no such file\n")

    def test_a_pipe_is_no_recording(self):
        os.mkfifo(self.folder / 'pipe')
        self.fails('count', 'pipe', message="countwright: 'pipe': a pipe or a device cannot be read as a recording, "
                   "save it to a file first\ncountwright: 'pipe': this is not a recording that can be read\n")

    def test_a_recording_that_ends_early_is_read_and_told(self):
        music = self.write_music('music.wav', 20).read_bytes()
        self.write('cut.wav', music[:len(music) // 2])
        status, out, err = self.run_it('count', 'cut.wav', '--list', 'beats')
        self.assertEqual(status, 0)
        self.assertEqual(err, "countwright: 'cut.wav': the recording ends early: 0:10.0 of 0:20.0 is there\n")
        self.assertGreater(len(out.splitlines()), 10)


class Outputs(harness.Case):
    def test_a_file_is_replaced_only_when_asked(self):
        self.write_music('music.wav', 12)
        self.write('sheet.txt', 'precious')
        self.fails('count', 'music.wav', '-o', 'sheet.txt',
                   message="countwright: 'sheet.txt': the file exists already; '--overwrite' replaces it\n")
        self.assertEqual((self.folder / 'sheet.txt').read_text(), 'precious')
        status, out, err = self.run_it('count', 'music.wav', '-o', 'sheet.txt', '--overwrite')
        self.assertEqual((status, out, err.splitlines()[0]), (0, '', "countwright: 'sheet.txt': written"))
        self.assertNotEqual((self.folder / 'sheet.txt').read_text(), 'precious')

    def test_a_failure_leaves_the_old_file_and_no_new_one(self):
        self.write_silence('silence.wav', 5)
        self.write('sheet.txt', 'precious')
        self.fails('count', 'silence.wav', '-o', 'sheet.txt', '-o', 'sheet.pdf', '--overwrite',
                   message="countwright: 'silence.wav': no pulse found here\n")
        self.assertEqual((self.folder / 'sheet.txt').read_text(), 'precious')

    def test_a_place_that_cannot_be_written_is_told_before_the_work(self):
        self.fails('count', 'nope.wav', '-o', 'no/such/sheet.txt',
                   message="countwright: 'no/such/sheet.txt': there is no such folder\n")
        (self.folder / 'folder.txt').mkdir()
        self.fails('count', 'nope.wav', '-o', 'folder.txt',
                   message="countwright: 'folder.txt': this is a folder, not a file\n")
        self.fails('drift', 'nope.wav', 'nope.wav', '--chart', 'no/such/chart.svg',
                   message="countwright: 'no/such/chart.svg': there is no such folder\n")

    def test_a_full_disk_is_told(self):
        self.write_music('music.wav', 12)
        full = "countwright: 'standard output': it could not be written (is the disk full?)\n"
        for words in (['count', 'music.wav'], ['count', 'music.wav', '--list', 'beats'], ['--help'], ['--version'],
                      ['--help-man'], ['count', '--help']):
            with open('/dev/full', 'wb') as out:
                status, _, err = self.run_it(*words, stdout=out)
            self.assertEqual((status, err), (1, full), words)
        (self.folder / 'full.pdf').symlink_to('/dev/full')
        status, out, err = self.run_it('count', 'music.wav', '-o', 'full.pdf')
        self.assertEqual((status, out), (1, ''))
        self.assertEqual(err, "countwright: 'full.pdf': it could not be written (is the disk full?)\n")

    def test_a_closed_output_is_told(self):
        done = subprocess.run(['sh', '-c', f'"{harness.PROGRAM}" --help >&-'], capture_output=True, check=False)
        self.assertEqual(done.returncode, 1)
        self.assertIn(b'it could not be written', done.stderr)

    def test_a_dash_is_standard_output(self):
        self.write_music('music.wav', 12)
        self.assertEqual(self.good('count', 'music.wav', '-o', '-'), self.good('count', 'music.wav'))

    def test_a_name_may_begin_with_a_dash(self):
        self.write_music('-music.wav', 12)
        self.assertEqual(self.good('count', '--list', 'beats', '--', '-music.wav'),
                         self.good('count', '--list', 'beats', './-music.wav'))

    def test_a_program_that_reads_no_further_does_no_harm(self):
        self.write_music('music.wav', 30)
        done = subprocess.run(['bash', '-c', f'"{harness.PROGRAM}" count music.wav --list beats | head -n 1'],
                              cwd=self.folder, capture_output=True, check=False)
        self.assertEqual((done.returncode, done.stderr), (0, b''))

    def test_what_is_read_is_never_written_over(self):
        self.write_music('music.csv', 9)
        self.write('notes.txt', 'recording: music.csv\n8 walk\n')
        before = [(self.folder / name).read_bytes() for name in ('notes.txt', 'music.csv')]
        spared = ': this file is read, and is not written over\n'
        for words in (('sheet', 'notes.txt', '-o', 'notes.txt'), ('sheet', 'notes.txt', '-o', './music.csv'),
                      ('count', 'music.csv', '-o', 'music.csv'),
                      ('drift', 'music.csv', 'music.csv', '--notes', 'notes.txt', '-o', 'notes.txt')):
            status, out, err = self.run_it(*words, '--overwrite')
            self.assertEqual((status, out), (1, ''), words)
            self.assertTrue(err.endswith(spared), err)
        self.assertEqual(before, [(self.folder / name).read_bytes() for name in ('notes.txt', 'music.csv')])

    def test_a_recording_is_no_notebook(self):
        self.write_music('music.wav', 9)
        for command in ('sheet', 'check'):
            self.fails(command, 'music.wav', message="countwright: 'music.wav': this is a recording or another binary "
                                                     'file, not notes\n')


if __name__ == '__main__':
    harness.main()
