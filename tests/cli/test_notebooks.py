# SPDX-License-Identifier: GPL-3.0-or-later
"""The sheets of notebooks in many styles: tests/notebooks, with what is printed of them in its folder golden."""
import os
import pathlib
import shutil
import sys
import unittest

import harness

sys.path.append(str(pathlib.Path(__file__).resolve().parent.parent / 'unit' / 'print'))
import check_pdf  # noqa: E402

NOTEBOOKS = pathlib.Path(__file__).resolve().parent.parent / 'notebooks'
STYLES = ('adagio-in-half-bars', 'ensemble-in-canon', 'french', 'hurried', 'japanese', 'mistakes', 'pas-de-deux',
          'phonetic', 'sevens-and-tens', 'tidy', 'very-long', 'waltz-in-one')


class Notebooks(harness.Case):
    def approved(self, name, text):
        path = NOTEBOOKS / 'golden' / name
        if os.environ.get('CW_NEW_GOLDEN'):
            path.write_text(text, encoding='utf-8')
        self.assertEqual(text, path.read_text(encoding='utf-8'))

    def test_each_has_its_sheet(self):
        self.assertEqual(sorted(path.stem for path in NOTEBOOKS.glob('*.txt')), sorted(STYLES))
        for style in STYLES:
            with self.subTest(style):
                self.approved(f'{style}.txt', self.good('sheet', NOTEBOOKS / f'{style}.txt', '--width', '80'))

    def test_each_is_json_of_its_schema(self):
        for style in STYLES:
            with self.subTest(style):
                notes = NOTEBOOKS / f'{style}.txt'
                sheet = self.json_like(self.good('sheet', notes, '--json'), 'print/schema/sheet.json')
                self.assertEqual([row['number'] for row in sheet['phrases']], list(range(1, len(sheet['phrases']) + 1)))
                self.good('sheet', notes, '-o', f'{style}.pdf', '-o', f'{style}.csv')
                self.assertTrue((self.folder / f'{style}.pdf').read_bytes().startswith(b'%PDF-'))

    @unittest.skipUnless(shutil.which('pdftotext'), 'without poppler')
    def test_nothing_on_a_page_lies_over_anything_else(self):
        for style in STYLES:
            with self.subTest(style):
                self.assert_no_overlap(style, 'a4')
                self.assert_no_overlap(style, 'a5big', '--paper', 'a5', '--big', '--language', 'ru')
                self.assert_no_overlap(style, 'letterwide', '--paper', 'letter', '--landscape', '--repeats', 'written')

    def assert_no_overlap(self, style, paper, *options):
        self.good('sheet', NOTEBOOKS / f'{style}.txt', '-o', f'{paper}.pdf', '--overwrite', *options)
        width, height = check_pdf.PAPER[paper]
        for words in check_pdf.pages_of(self.folder / f'{paper}.pdf'):
            places = check_pdf.check_places(words, width, height, style, check_pdf.margin_of(paper))
            self.assertEqual(list(places), [])

    def test_what_is_unclear_is_told_with_its_place(self):
        for style in ('hurried', 'mistakes'):
            with self.subTest(style):
                self.write(f'{style}.txt', (NOTEBOOKS / f'{style}.txt').read_bytes())
                status, out, _ = self.run_it('check', f'{style}.txt')
                self.assertEqual(status, 1)
                self.approved(f'{style}.check', out)

    def test_a_role_has_its_own_sheet(self):
        for style, role in (('pas-de-deux', 'Ilse'), ('ensemble-in-canon', 'Third line')):
            with self.subTest(role):
                self.approved(f'{style}.role', self.good('sheet', NOTEBOOKS / f'{style}.txt', '--role', role.upper(),
                                                         '--width', '80'))

    def test_who_is_on_stage_when(self):
        for style in ('pas-de-deux', 'ensemble-in-canon', 'french', 'japanese'):
            with self.subTest(style):
                self.approved(f'{style}.entrances', self.good('sheet', NOTEBOOKS / f'{style}.txt', '--entrances'))
                self.json_like(self.good('sheet', NOTEBOOKS / f'{style}.txt', '--entrances', '--json'),
                               'print/schema/cast.json')


if __name__ == '__main__':
    harness.main()
