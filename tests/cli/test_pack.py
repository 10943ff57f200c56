# SPDX-License-Identifier: GPL-3.0-or-later
"""`pack`: one file for an understudy, without anything private, and a list of what is inside."""
import re
import shutil
import subprocess
import unittest

import harness

NOTES = '''piece: The Paper Harbour
dance: The Ferrymen ; HIDDEN in the head
cast: Ilse, Marek
recording: music.wav
metre: 4/4
beats per count: 1
; HIDDEN Anna was late again, left
# Quay ; HIDDEN beside a heading
@ 0:00.5 [Ilse] 1-4 walk left 5 pike turn ; HIDDEN after steps, to the left
+ [Marek] 1-8 haul the rope ; HIDDEN after a part
\t; HIDDEN behind a tab
[Ilse] 8 glisade 3 asemble
'''


class Pack(harness.Case):
    def setUp(self):
        super().setUp()
        self.write('ferry.txt', NOTES)

    def with_music(self):
        self.write_music('music.wav', 9)

    def text_of(self, name):
        if name.endswith('.pdf'):
            return subprocess.run(['pdftotext', '-layout', self.folder / name, '-'], check=True, capture_output=True).stdout.decode()
        return (self.folder / name).read_text(encoding='utf-8')

    def listed(self, *words):
        return self.good('pack', 'ferry.txt', '--contents', *words).splitlines()

    def test_the_file_has_the_name_of_the_notes(self):
        self.with_music()
        status, out, err = self.run_it('pack', 'ferry.txt', '--ear', 'plain')
        self.assertEqual((status, out), (0, ''), err)
        self.assertIn("countwright: 'ferry.html': written\n", err)
        self.assertIn('<h2 id="s1"', self.text_of('ferry.html'))
        self.fails('pack', 'ferry.txt', '--ear', 'plain',
                   message="countwright: 'ferry.html': the file exists already; '--overwrite' replaces it\n")
        self.good('pack', 'ferry.txt', '--ear', 'plain', '--overwrite')

    def test_what_is_inside_is_listed_before_it_is_written(self):
        self.with_music()
        _, _, err = self.run_it('pack', 'ferry.txt', '--ear', 'plain', '--sound', 'opus', '-o', 'x.html')
        said = re.findall(r'^countwright: inside: (.*)$', err, re.M)
        self.assertEqual(said, ['the count sheet as a web page: 2 phrases, 16 counts, 1 section', 'every role',
                                'the side as written', 'steps as they are spelt', "times in 'music.wav'",
                                'the recording itself, about 0.1 MB', "not the notes' private remarks: 6"])
        self.assertLess(err.index('private remarks'), err.index("'x.html': written"))
        self.assertIn('id="recording"', self.text_of('x.html'))

    def test_the_list_alone_writes_nothing(self):
        self.write('ferry.txt', NOTES.replace('recording: music.wav\n', ''))
        before = sorted(self.folder.iterdir())
        self.assertEqual(self.listed('--role', 'Ilse', '--side', 'other', '--spelling', 'proper', '--pdf'),
                         ['the count sheet as a PDF: 2 phrases, 16 counts, 1 section', "the role 'Ilse' alone",
                          'mirrored for the other side', 'steps in their proper spelling',
                          'no times: there is no recording', "not the notes' private remarks: 6"])
        self.assertEqual(self.listed('--from', '2')[0], 'the count sheet as a web page: 1 phrase, 8 counts, 1 section')
        self.assertEqual(sorted(self.folder.iterdir()), before)

    def test_nothing_private_is_in_it(self):
        self.with_music()
        sound = ['--sound', 'opus']
        for name, more in (('a.html', sound), ('b.html', ['--side', 'other']), ('c.html', ['--role', 'Ilse', *sound])):
            self.good('pack', 'ferry.txt', '--ear', 'plain', '-o', name, *more)
            self.assertNotIn('HIDDEN', self.text_of(name))
            self.assertNotIn('Anna', self.text_of(name))
            self.assertNotIn('may be a side', self.text_of(name))
            self.assertNotIn(str(self.folder), self.text_of(name))

    @unittest.skipUnless(shutil.which('pdftotext'), 'no pdftotext')
    def test_the_same_holds_on_paper(self):
        self.with_music()
        self.good('pack', 'ferry.txt', '--ear', 'plain', '--pdf', '--side', 'other')
        text = self.text_of('ferry.pdf')
        self.assertNotIn('HIDDEN', text)
        self.assertIn('walk right', re.sub(r'\s+', ' ', text))

    def test_role_side_and_spelling_are_as_asked(self):
        self.with_music()
        self.good('pack', 'ferry.txt', '--ear', 'plain', '--role', 'Ilse', '--side', 'other', '--spelling', 'proper')
        text = self.text_of('ferry.html')
        self.assertIn('walk right', text)
        self.assertNotIn('walk left', text)
        self.assertNotIn('haul the rope', text)
        self.assertIn('glissade', text)
        self.assertIn('assemblé', text)

    def test_labels_are_in_the_language_asked_for(self):
        self.with_music()
        self.good('pack', 'ferry.txt', '--ear', 'plain', '--language', 'fr', '-o', 'x.html')
        self.assertIn('<html lang="fr">', self.text_of('x.html'))

    def test_what_does_not_add_up_is_told_here_alone(self):
        self.write_music('music.wav', 3)
        _, _, err = self.run_it('pack', 'ferry.txt', '--ear', 'plain', '-o', 'x.html')
        problems = [line for line in err.splitlines() if "'ferry.txt'" in line]
        self.assertTrue(problems, err)
        self.assertNotIn('class="alert"', self.text_of('x.html'))

    def test_what_cannot_be_is_said(self):
        usage = "countwright: see 'countwright pack --help'\n"
        for words, problem in (
                (['--pdf', '-o', 'x.html'], "'--pdf' makes a file that ends in .pdf"),
                (['--pdf', '--sound', 'aac'], "'--sound' puts the recording inside a web sheet; a PDF has no room for it"),
                (['-o', 'x.PDF', '--sound', 'aac'], "'--sound' puts the recording inside a web sheet; a PDF has no room for it"),
                (['-o', 'x.txt'], "'x.txt': a file for '--output' ends in one of .html, .pdf")):
            self.fails('pack', 'ferry.txt', *words, message=f'countwright: {problem}\n{usage}', status=2)
        self.fails('pack', '-', status=2, message="countwright: notes on standard input have no name to call the file by: "
                                                  f"'-o FILE' gives it one\n{usage}")
        self.write('bare.txt', 'walk\n')
        self.fails('pack', 'bare.txt', '--sound', 'aac',
                   message="countwright: 'bare.txt': no recording is named, so there is none to put inside\n")
        self.fails('sheet', 'bare.txt', '--sound', 'aac', '-o', 'x.pdf', status=2, message=(
            "countwright: '--sound' puts the recording inside a web sheet, which '-o FILE.html' asks for\n"
            "countwright: see 'countwright sheet --help'\n"))


if __name__ == '__main__':
    harness.main()
