# SPDX-License-Identifier: GPL-3.0-or-later
"""`sheet` on paper and for people: pictures, papers, passages, repeats, languages, another recording beside it."""
import csv
import gettext
import io
import pathlib
import re
import shutil
import struct
import subprocess
import unittest
import xml.etree.ElementTree
import zlib

import harness

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
LONG = ROOT / 'tests' / 'notebooks' / 'very-long.txt'
DEMO = harness.FIXTURES / 'demo.txt'
REHEARSAL = harness.FIXTURES / 'demo-rehearsal.ogg'
PERFORMANCE = harness.FIXTURES / 'demo-performance.ogg'
LANGUAGES = ('fr', 'de', 'es', 'it', 'pt', 'ru', 'ja')
FERRY = ('piece: The Paper Harbour\nmetre: 4/4\n# On the quay\n8 1-4 walk 5 turn\n6 run\nsame as 1\n'
         '# On the water\nmetre: 3/4\n8 row\nrepeat 1\n8 bow\n')


def png_size(path):
    head = path.read_bytes()[:24]
    assert head[:8] == b'\x89PNG\r\n\x1a\n'
    return struct.unpack('>II', head[16:24])


def chunks(path, kind):
    """The chunks of a kind (PNG, third edition, 5.3)."""
    data = path.read_bytes()
    at = 8
    while at < len(data):
        length, found = struct.unpack('>I4s', data[at:at + 8])
        if found == kind:
            yield data[at + 8:at + 8 + length]
        at += 12 + length


class Pictures(harness.Case):
    def test_each_page_has_its_own_file(self):
        self.good('sheet', LONG, '-o', 'act.png', '-o', 'act.svg', '-o', 'act.pdf')
        pages = len(re.findall(rb'/Type /Page\b', (self.folder / 'act.pdf').read_bytes()))
        self.assertGreater(pages, 5)
        for ending in ('png', 'svg'):
            names = {f'act.{ending}', *(f'act-{page}.{ending}' for page in range(2, pages + 1))}
            self.assertEqual({path.name for path in self.folder.glob(f'*.{ending}')}, names)
        self.assertEqual(png_size(self.folder / 'act-2.png'), (int(595.28 * 3), int(841.89 * 3)))
        for path in self.folder.glob('*.svg'):
            root = xml.etree.ElementTree.parse(path).getroot()
            self.assertEqual((root.tag, root.get('width')), ('{http://www.w3.org/2000/svg}svg', '595.28pt'))
        self.assertNotEqual((self.folder / 'act-2.svg').read_bytes(), (self.folder / 'act-3.svg').read_bytes())

    def test_one_page_is_one_file_and_its_paper_is_white(self):
        self.write('notes.txt', FERRY)
        self.good('sheet', 'notes.txt', '-o', 'quay.PNG', '-o', 'quay.svg')
        self.assertEqual(sorted(path.name for path in self.folder.iterdir()), ['notes.txt', 'quay.PNG', 'quay.svg'])
        raw = zlib.decompress(b''.join(chunks(self.folder / 'quay.PNG', b'IDAT')))
        self.assertEqual(raw[1:4], b'\xff\xff\xff')  # the first pixel, the same in every filter

    def test_no_page_replaces_a_file_unasked_and_then_none_is_written(self):
        self.write('act-3.png', 'mine')
        self.fails('sheet', LONG, '-o', 'act.png',
                   message="countwright: 'act-3.png': the file exists already; '--overwrite' replaces it\n")
        self.assertEqual((self.folder / 'act-3.png').read_text(), 'mine')
        self.good('sheet', LONG, '-o', 'act.png', '--overwrite')
        self.assertEqual(png_size(self.folder / 'act-3.png'), png_size(self.folder / 'act.png'))

    def test_notes_are_never_written_over_by_a_page(self):
        notes = self.write('n-2.png', FERRY * 30)
        self.good('sheet', 'n-2.png', '-o', 'other.png')
        self.fails('sheet', 'n-2.png', '-o', 'n.png', message="countwright: 'n-2.png': the file exists already; "
                   "'--overwrite' replaces it\n")
        self.fails('sheet', 'n-2.png', '-o', 'n.png', '--overwrite',
                   message="countwright: 'n-2.png': this file is read, and is not written over\n")
        self.assertEqual(notes.read_text(), FERRY * 30)


@unittest.skipUnless(shutil.which('pdfinfo'), 'without poppler')
class Papers(harness.Case):
    def facts(self, *options):
        self.good('sheet', LONG, '-o', 'a.pdf', '--overwrite', *options)
        told = subprocess.run(['pdfinfo', 'a.pdf'], cwd=self.folder, check=True, capture_output=True, text=True).stdout
        size = re.search(r'Page size:\s+([\d.]+) x ([\d.]+)', told)
        return (float(size[1]), float(size[2])), int(re.search(r'Pages:\s+(\d+)', told)[1])

    def test_papers_have_their_sizes(self):
        # ISO 216 and ANSI/ASME Y14.1, in points
        a4, pages = self.facts()
        self.assertEqual(a4, (595.28, 841.89))
        self.assertEqual(self.facts('--landscape')[0], (841.89, 595.28))
        self.assertEqual(self.facts('--paper', 'letter')[0], (612, 792))
        a5, more = self.facts('--paper', 'a5')
        self.assertEqual(a5, (419.53, 595.28))
        big, most = self.facts('--big')
        self.assertEqual(big, a4)
        self.assertTrue(pages < more < most * 1.5 and pages < most)

    def test_big_is_large_print_and_all_steps_can_be_read_at_arms_length(self):
        """ISO 9241-303 wants capitals of at least 16 minutes of arc: 2.8 mm at 0.6 m. DejaVu's capitals are 0.729 em."""
        for options, least in (((), 2.8), (('--big',), 4.2)):
            self.facts(*options)
            words = subprocess.run(['pdftotext', '-bbox', 'a.pdf', '-'], cwd=self.folder, check=True,
                                   capture_output=True, text=True).stdout
            # the box of a word is as high as a line of its font: 1.164 em
            heights = [float(high) - float(low) for low, high
                       in re.findall(r'yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)">(?:run|jump|pose|sink)<', words)]
            self.assertGreater(len(heights), 20)
            self.assertGreaterEqual(min(heights) / 1.164 * 0.729 * 25.4 / 72, least)


class Passages(harness.Case):
    def rows(self, *options):
        self.write('notes.txt', FERRY)
        return self.json_like(self.good('sheet', 'notes.txt', '--json', *options), 'print/schema/sheet.json')['phrases']

    def test_only_these_phrases_are_there_with_their_heading_and_metre(self):
        whole = self.rows()
        self.assertEqual(len(whole), 6)
        part = self.rows('--from', 5, '--to', 6)
        self.assertEqual([row['number'] for row in part], [5, 6])
        self.assertEqual(part[0]['section'], 'On the water')
        self.assertEqual((part[0]['metre'], part[0]['metre_unit']), (3, 4))
        self.assertEqual({**part[1]}, whole[5])
        self.assertEqual(self.rows('--from', 1, '--to', 6), whole)
        self.assertEqual(self.rows('--to', 2), whole[:2])
        self.assertEqual(self.rows('--from', 4), whole[3:])

    def test_a_phrase_whose_model_is_left_out_has_its_steps(self):
        self.write('notes.txt', FERRY)
        self.assertNotIn('turn', self.good('sheet', 'notes.txt').split('like 1')[1])
        out = self.good('sheet', 'notes.txt', '--from', 3)
        self.assertIn('turn', out.split('like 1')[1])
        self.assertIn('phrases 3 to 6 of 6', out)

    def test_wrong_passages_are_told(self):
        self.write('notes.txt', FERRY)
        for options, message in ((('--from', 7), "'7': there are only 6 phrases"),
                                 (('--to', 9), "'9': there are only 6 phrases"),
                                 (('--from', 4, '--to', 3), "'3': this is before phrase 4")):
            self.fails('sheet', 'notes.txt', *options, message=f'countwright: {message}\n')

    def test_repeats_are_folded_or_written_out(self):
        self.write('notes.txt', FERRY)
        self.assertEqual(self.good('sheet', 'notes.txt').count('turn'), 1)
        self.assertEqual(self.good('sheet', 'notes.txt', '--repeats', 'folded').count('turn'), 1)
        self.assertEqual(self.good('sheet', 'notes.txt', '--repeats', 'written').count('turn'), 3)


class Languages(harness.Case):
    def translations(self, tag):
        """Read by GNU gettext's own reader, not by ours."""
        made = subprocess.run(['msgfmt', '-o', '-', ROOT / 'src' / 'print' / 'languages' / f'{tag}.po'], check=True,
                              capture_output=True).stdout
        return gettext.GNUTranslations(io.BytesIO(made))

    @unittest.skipUnless(shutil.which('msgfmt'), 'without gettext')
    def test_labels_are_in_the_language_asked_for_whatever_the_environment(self):
        self.write('notes.txt', FERRY)
        english = self.good('sheet', 'notes.txt')
        for tag in LANGUAGES:
            with self.subTest(tag):
                out = self.good('sheet', 'notes.txt', '--language', tag)
                catalogue = self.translations(tag)
                self.assertIn(catalogue.gettext('How to read this sheet'), out)
                self.assertIn(catalogue.ngettext('%u count', '%u counts', 8) % 8, out)
                self.assertIn(catalogue.gettext('like %u') % 1, out)
                self.assertNotIn('counts', out)
                for word in ('walk', 'turn', 'row', 'bow', 'On the quay'):
                    self.assertIn(word, out)  # her words stay hers
                self.assertEqual(self.good('sheet', 'notes.txt', LANG=f'{tag}_XX.UTF-8', LANGUAGE=tag), english)

    def test_notes_that_say_their_language_are_labelled_in_it(self):
        self.write('notes.txt', 'language: Deutsch\n8 walk\n')
        self.assertIn('8 Zählzeiten', self.good('sheet', 'notes.txt'))
        self.assertIn('8 comptes', self.good('sheet', 'notes.txt', '--language', 'fr'))
        self.write('notes.txt', 'language: Elvish\n8 walk\n')
        self.assertIn('8 counts', self.good('sheet', 'notes.txt'))

    def test_no_colour_and_no_sequence_for_the_terminal_is_written(self):
        self.assertNotIn('\x1b', self.good('sheet', LONG, CLICOLOR_FORCE='1', FORCE_COLOR='1'))


class Against(harness.Case):
    def test_the_sheet_says_what_drift_says(self):
        sheet = self.json_like(self.good('sheet', DEMO, REHEARSAL, '--against', PERFORMANCE, '--json'),
                               'print/schema/sheet.json')
        drift = self.json_like(self.good('drift', REHEARSAL, PERFORMANCE, '--notes', DEMO, '--json'),
                               'print/schema/drift.json')
        self.assertEqual((sheet['other'], len(sheet['phrases'])), ('demo-performance.ogg', 19))
        for row, told in zip(sheet['phrases'], drift['phrases']):
            there = told['others'][0]
            self.assertEqual(row['start_s'], told['start_s'])
            self.assertEqual({name: row['other'][name] for name in ('start_s', 'counts_per_min', 'percent', 'ahead_s')},
                             {name: there[name] for name in ('start_s', 'counts_per_min', 'percent', 'ahead_s')})
            # CW_JUST_NOTICEABLE_PERCENT and CW_A_LITTLE_PERCENT
            size = 0 if abs(there['percent']) < 2.5 else 1 if abs(there['percent']) <= 5 else 2
            word = ('same', 'a little ', '')[size] + ('' if size == 0 else 'faster' if there['percent'] > 0 else 'slower')
            self.assertEqual(row['other']['feels'], word)
        self.check_forms(sheet)

    def check_forms(self, sheet):
        self.good('sheet', DEMO, REHEARSAL, '--against', PERFORMANCE, '-o', 'a.csv', '-o', 'a.txt', '-o', 'a.pdf')
        with open(self.folder / 'a.csv', encoding='utf-8', newline='') as file:
            records = {int(record['phrase']): record for record in csv.DictReader(file)}
        for row in sheet['phrases']:
            self.assertEqual(float(records[row['number']]['other_start_s']), row['other']['start_s'])
            self.assertEqual(float(records[row['number']]['other_percent']), row['other']['percent'])
        text = (self.folder / 'a.txt').read_text(encoding='utf-8')
        self.assertIn('B: demo-performance.ogg', text)
        self.assertEqual(len(re.findall(r'^ +B \d+:\d\d\.\d · \d+/min · [▲△=▽▼] .* \([+-]?\d+\.\d %\) · ', text, re.M)), 19)
        if shutil.which('pdftotext'):
            page = subprocess.run(['pdftotext', '-raw', 'a.pdf', '-'], cwd=self.folder, check=True, capture_output=True,
                                  text=True).stdout
            self.assertEqual(len(re.findall(r'^B \d+:\d\d\.\d · \d+/min · [▲△=▽▼] ', page, re.M)), 19)

    def test_a_copy_of_the_same_music_is_the_same_everywhere(self):
        music = self.write_music('a.wav', 30)
        shutil.copy(music, self.folder / 'b.wav')
        self.write('notes.txt', 'metre: 4/4\nbeats per count: 1\n@ 0:00.5 8 walk\n8 run\n8 turn\n')
        sheet = self.json_like(self.good('sheet', 'notes.txt', 'a.wav', '--against', 'b.wav', '--json'),
                               'print/schema/sheet.json')
        for row in sheet['phrases']:
            self.assertEqual(row['other']['feels'], 'same')
            self.assertAlmostEqual(row['other']['start_s'], row['start_s'], delta=0.02)
            self.assertAlmostEqual(row['other']['ahead_s'], 0, delta=0.02)

    def test_what_cannot_be_is_told(self):
        self.write('notes.txt', FERRY)
        self.write_music('a.wav', 5)
        self.fails('sheet', 'notes.txt', '--against', 'a.wav',
                   message="countwright: 'notes.txt': no recording is named, so there is nothing to hold against 'a.wav'\n")
        self.fails('sheet', 'notes.txt', '--against', 'a.wav', '--line', 'x.json', status=2,
                   message="countwright: '--against' follows the music, and '--line' does not listen to it\n"
                           "countwright: see 'countwright sheet --help'\n")


if __name__ == '__main__':
    harness.main()
