# SPDX-License-Identifier: GPL-3.0-or-later
"""Stopping, and what a terminal is shown."""
import os
import pty
import signal
import subprocess
import time

import harness


def read_terminal(descriptor):
    """What a terminal is shown until it is closed."""
    shown = b''
    while True:
        try:
            more = os.read(descriptor, 65536)
        except OSError: # the other end is closed
            more = b''
        if not more:
            return shown.decode()
        shown += more


class Stop(harness.Case):
    def wait_for_files(self, run, n):
        """Wait until the program has begun its output."""
        while len(list(self.folder.iterdir())) < n:
            self.assertIsNone(run.poll(), 'it ended too early')
            time.sleep(0.01)

    def stopped(self, number):
        """Stop a run that waits for its notes. Gives how it ended and what it said."""
        with subprocess.Popen([harness.PROGRAM, 'sheet', '-', '-o', 'sheet.pdf'], cwd=self.folder,
                              stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                              env=self.environment()) as run:
            self.wait_for_files(run, 1)
            run.send_signal(number)
            run.wait(timeout=60)
            return run.returncode, run.stdout.read(), run.stderr.read()

    def test_a_stop_leaves_nothing_behind(self):
        for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            self.assertEqual(self.stopped(number), (-number, b'', b'countwright: cancelled\n'))
            self.assertEqual(list(self.folder.iterdir()), [])

    def test_a_stop_ends_the_reading_of_a_recording(self):
        self.write_silence('long.wav', 900)
        with subprocess.Popen([harness.PROGRAM, 'count', 'long.wav', '-o', 'sheet.txt'], cwd=self.folder,
                              stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=self.environment()) as run:
            self.wait_for_files(run, 2)
            run.send_signal(signal.SIGINT)
            run.wait(timeout=60)
            self.assertEqual(run.returncode, -signal.SIGINT)
            self.assertEqual(run.stderr.read(), b'countwright: cancelled\n')
        self.assertEqual([path.name for path in self.folder.iterdir()], ['long.wav'])


class Terminal(harness.Case):
    def on_terminal(self, *words, **changes):
        """Run with standard error on a terminal. Gives what it showed."""
        ours, theirs = pty.openpty()
        with subprocess.Popen([harness.PROGRAM, *words], cwd=self.folder, stdout=subprocess.PIPE, stderr=theirs,
                              env=self.environment(**changes)) as run:
            os.close(theirs)
            shown = read_terminal(ours)
            run.stdout.read()
        os.close(ours)
        return shown

    def test_the_name_is_bold_unless_colours_are_not_wanted(self):
        bold = "\033[1mcountwright:\033[0m 'nope.wav': there is no such file\r\n"
        plain = "countwright: 'nope.wav': there is no such file\r\n"
        self.assertEqual(self.on_terminal('count', 'nope.wav'), bold)
        self.assertEqual(self.on_terminal('count', 'nope.wav', NO_COLOR='1'), plain)
        self.assertEqual(self.on_terminal('count', 'nope.wav', NO_COLOR=''), bold)
        self.assertEqual(self.on_terminal('count', 'nope.wav', TERM='dumb'), plain)

    def test_progress_is_shown_for_long_work_and_taken_away(self):
        self.write_silence('long.wav', 900)
        shown = self.on_terminal('count', 'long.wav')
        self.assertRegex(shown, r'\r[a-z ]{14} \[#* *\] +\d+ %\x1b\[K')
        self.assertRegex(shown, r"\r\x1b\[K\x1b\[1mcountwright:\x1b\[0m 'long.wav': no pulse found here\r\n\Z")

    def test_a_pipe_is_shown_no_progress(self):
        self.write_silence('long.wav', 900)
        self.fails('count', 'long.wav', message="countwright: 'long.wav': no pulse found here\n")


if __name__ == '__main__':
    harness.main()
