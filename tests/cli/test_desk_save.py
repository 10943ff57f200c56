# SPDX-License-Identifier: GPL-3.0-or-later
"""Nothing is lost at the desk: it is killed while it saves, the disk is full, others write the notes too."""
import os
import pathlib
import shutil
import subprocess
import tempfile
import threading
import time

from desk_client import Desk
from harness import CACHE, FIXTURES, Case, main

KILLS = 200


class Save(Case):
    def setUp(self):
        super().setUp()
        self.notes = pathlib.Path(self.folder) / 'demo.txt'
        shutil.copy(FIXTURES / 'demo.txt', self.notes)

    def open(self, folder=None):
        desk = Desk(folder or self.folder, environment={'XDG_CACHE_HOME': CACHE.name})
        self.addCleanup(desk.close)
        desk.enter()
        return desk

    def put(self, desk, text, piece):
        return desk.ask('PUT', '/notes', body={'name': 'demo.txt', 'base': piece['version'], 'was': piece['text'],
                                               'text': text})

    def test_notes_are_whole_however_often_it_is_killed_while_it_saves(self):
        """Each version is one letter many times over, so that a mixture of two would show."""
        last = 'a' * 20000 + '\n'
        self.notes.write_text(last)
        for kill in range(KILLS):
            desk = self.open()
            piece = desk.ask('GET', '/piece?name=demo.txt').json
            self.assertEqual(piece['text'], self.notes.read_text())
            sent = []

            def write(desk=desk, piece=piece, sent=sent):
                version = piece
                for i in range(50):
                    text = chr(ord('a') + (kill + i + 1) % 26) * 20000 + '\n'
                    sent.append(text)
                    try:
                        answer = self.put(desk, text, version)
                    except ConnectionError:  # it is gone
                        return
                    if answer.status != 200:
                        return
                    version = answer.json

            writer = threading.Thread(target=write)
            writer.start()
            time.sleep(0.004 * (kill % 17))
            desk.process.kill()
            writer.join(timeout=60)
            desk.process.communicate()
            text = self.notes.read_text()
            self.assertEqual(len(text), 20001)
            self.assertEqual(len(set(text)), 2, 'two versions are mixed')
            self.assertIn(text, [piece['text'], *sent])

    def test_a_full_disk_is_told_and_the_notes_stay_as_they_were(self):
        """A disk of its own that is nearly full, where the machine lets one be made."""
        disk = tempfile.mkdtemp(prefix='countwright-disk-')
        made = subprocess.run(['mount', '-t', 'tmpfs', '-o', 'size=256k', 'tmpfs', disk], capture_output=True, check=False)
        if made.returncode != 0:
            os.rmdir(disk)
            self.skipTest('no disk can be made here')
        try:
            notes = pathlib.Path(disk) / 'demo.txt'
            notes.write_text('8 walk\n')
            desk = self.open(disk)
            piece = desk.ask('GET', '/piece?name=demo.txt').json
            answer = self.put(desk, '8 run\n' * 60000, piece)
            self.assertEqual(answer.status, 507)
            self.assertEqual(answer.json['problem'], "the disk is full: 'demo.txt' is as it was")
            self.assertEqual(notes.read_text(), '8 walk\n')
            self.assertEqual(self.put(desk, '8 run\n', piece).status, 200)
            self.assertEqual(notes.read_text(), '8 run\n')
            desk.close()
        finally:
            subprocess.run(['umount', disk], check=True)
            os.rmdir(disk)

    def test_the_version_before_is_kept(self):
        desk = self.open()
        before = self.notes.read_text()
        piece = desk.ask('GET', '/piece?name=demo.txt').json
        self.assertEqual(self.put(desk, before + '8 bow\n', piece).status, 200)
        self.assertEqual((pathlib.Path(self.folder) / '.countwright/before/demo.txt').read_text(), before)

    def test_what_others_changed_is_put_together_or_told_but_never_written_over(self):
        desk = self.open()
        piece = desk.ask('GET', '/piece?name=demo.txt').json
        self.notes.write_text(piece['text'].replace('role: second', 'role: first'))
        answer = self.put(desk, piece['text'].replace('8 still', '8 mine'), piece)
        self.assertEqual(answer.status, 200)
        self.assertIn('role: first', self.notes.read_text())
        self.assertIn('8 mine', self.notes.read_text())
        piece = answer.json
        self.notes.write_text(piece['text'].replace('8 mine', '8 theirs'))
        answer = self.put(desk, piece['text'].replace('8 mine', '8 mine too'), piece)
        self.assertEqual(answer.status, 409)
        self.assertIn('8 theirs', answer.json['text'])
        self.assertIn('8 theirs', self.notes.read_text())

    def test_notes_that_are_no_utf_8_are_left_alone(self):
        self.notes.write_bytes(b'8 pli\xe9\n')
        desk = self.open()
        piece = desk.ask('GET', '/piece?name=demo.txt').json
        self.assertFalse(piece['writable'])
        self.assertEqual(self.put(desk, '8 run\n', piece).status, 422)
        self.assertEqual(self.notes.read_bytes(), b'8 pli\xe9\n')

    def test_steps_are_undone_and_done_again_after_it_was_killed(self):
        desk = self.open()
        texts = [self.notes.read_text()]
        piece = desk.ask('GET', '/piece?name=demo.txt').json
        for i in range(5):
            texts.append(texts[-1] + f'8 step {i} é\n')
            piece = self.put(desk, texts[-1], piece).json
        for _ in range(2):
            desk.ask('POST', '/step', body={'name': 'demo.txt', 'forward': False})
        desk.process.kill()
        desk.process.communicate()
        self.notes.write_text(texts[3] + '8 by another hand\n')  # while no desk is open
        desk = self.open()
        back = lambda: desk.ask('POST', '/step', body={'name': 'demo.txt', 'forward': False}).status
        self.assertEqual(back(), 200)
        self.assertEqual(self.notes.read_text(), texts[3])
        for i in (2, 1, 0):
            self.assertEqual(back(), 200)
            self.assertEqual(self.notes.read_text(), texts[i])
        self.assertEqual(back(), 409)
        for i in (1, 2, 3):
            self.assertEqual(desk.ask('POST', '/step', body={'name': 'demo.txt', 'forward': True}).status, 200)
            self.assertEqual(self.notes.read_text(), texts[i])

    def test_a_link_in_the_place_of_notes_is_not_written_through(self):
        desk = self.open()
        piece = desk.ask('GET', '/piece?name=demo.txt').json
        outside = pathlib.Path(tempfile.mkdtemp(dir=self.folder)) / 'other.txt'
        outside.write_text('8 mine\n')
        self.notes.unlink()
        os.symlink(outside, self.notes)
        self.put(desk, '8 run\n', piece)
        self.assertEqual(outside.read_text(), '8 mine\n')


if __name__ == '__main__':
    main()
