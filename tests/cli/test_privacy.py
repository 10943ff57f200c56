# SPDX-License-Identifier: GPL-3.0-or-later
"""Nothing leaves the machine: the program's calls of the kernel, as strace sees them."""
import http.server
import shutil
import subprocess
import threading
import unittest

import harness


def may_trace():
    return shutil.which('strace') and subprocess.run(['strace', '-o', '/dev/null', 'true'], capture_output=True,
                                                     check=False).returncode == 0


@unittest.skipUnless(may_trace(), 'there is no strace here, or it may not trace')
class Privacy(harness.Case):
    def trace(self, *words):
        """Run the program. Gives its exit status and the kernel calls that could reach another machine."""
        done = subprocess.run(['strace', '-f', '-qq', '-e', 'trace=network', '-e', 'signal=none', '-o', 'calls',
                               harness.PROGRAM, *map(str, words)], cwd=self.folder, env=self.environment(),
                              capture_output=True, timeout=300, check=False)
        calls = (self.folder / 'calls').read_text().splitlines()
        return done.returncode, [call for call in calls if 'exited with' not in call]

    def silent(self, *words):
        status, calls = self.trace(*words)
        self.assertEqual(status, 0)
        self.assertEqual(calls, [])

    def test_no_command_opens_a_socket(self):
        music, notes = harness.FIXTURES / 'demo-rehearsal.ogg', harness.FIXTURES / 'demo.txt'
        self.silent('count', music)
        self.silent('sheet', notes, music, '-o', 'sheet.pdf')
        self.silent('sheet', notes, music, '--json')
        self.silent('check', notes)
        self.silent('drift', music, harness.FIXTURES / 'demo-performance.ogg', '--chart', 'chart.svg')
        self.silent('carry', notes, harness.FIXTURES / 'demo-performance.ogg')

    def test_addresses_in_the_place_of_recordings_are_not_asked(self):
        asked = []

        class Server(http.server.BaseHTTPRequestHandler):
            def do_GET(self):
                asked.append(self.path)
                self.send_error(404)

            def log_message(self, *_):
                pass

        server = http.server.ThreadingHTTPServer(('127.0.0.1', 0), Server)
        threading.Thread(target=server.serve_forever, daemon=True).start()
        self.addCleanup(server.server_close)
        self.addCleanup(server.shutdown)
        address = f'http://127.0.0.1:{server.server_address[1]}/music.mp3'
        self.write('list.m3u8', f'#EXTM3U\n#EXT-X-TARGETDURATION:10\n#EXTINF:10,\n{address}\n#EXT-X-ENDLIST\n')
        self.write('list.ffconcat', f'ffconcat version 1.0\nfile {address}\n')
        self.write('list.sdp', 'v=0\no=- 0 0 IN IP4 127.0.0.1\ns=x\nc=IN IP4 127.0.0.1\nt=0 0\nm=audio 4000 RTP/AVP 0\n')
        for recording in (address, 'list.m3u8', 'list.ffconcat', 'list.sdp', 'tcp://127.0.0.1:9', 'udp://127.0.0.1:9'):
            status, calls = self.trace('count', recording)
            self.assertEqual(status, 1, recording)
            self.assertEqual(calls, [], recording)
        self.assertEqual(asked, [])


if __name__ == '__main__':
    harness.main()
