# SPDX-License-Identifier: GPL-3.0-or-later
"""Places and paths on the sheet."""
import shutil
import subprocess

import harness

SCHEMA = 'print/schema/sheet.json'
NOTES = ('piece: The Paper Harbour\nenter Boys wing 2 SL\n'
         '8 1-4 DSL > C > USR 5 Wilhelmina at C 7 facing DSL x2 other side\n8 1 circle to the left\n8 walk home\n')


class Stage(harness.Case):
    def rows(self):
        return self.json_like(self.good('sheet', 'notes.txt', '--json'), SCHEMA)['phrases']

    def test_places_and_paths_are_in_json(self):
        self.write('notes.txt', NOTES)
        entrance, first, again, circle, none = [row['stage'] for row in self.rows()]
        self.assertEqual([(item['person'], item['words'], item['count']) for item in entrance],
                         [('Boys', 'o Boys from wing 2 SL', None)])
        self.assertEqual(entrance[0]['places'][0]['wing'], 2)
        self.assertEqual([item['kind'] for item in first], ['path', 'at', 'facing'])
        self.assertEqual([place['name'] for place in first[0]['places']], ['DSL', 'C', 'USR'])
        self.assertEqual((first[0]['places'][0]['x'], first[0]['places'][0]['y']), (0.6667, 0.1667))
        self.assertEqual([place['name'] for place in again[0]['places']], ['DSR', 'C', 'USL'])
        self.assertEqual(again[2]['facing'], 'DSR')
        self.assertEqual(circle[0]['bend'], 'left')
        self.assertEqual(none, [])

    def test_the_pdf_has_a_plan_where_places_are_known(self):
        if not shutil.which('pdftotext'):
            self.skipTest('pdftotext is missing')
        self.write('notes.txt', NOTES)
        self.good('sheet', 'notes.txt', '-o', 'sheet.pdf')
        text = subprocess.run(['pdftotext', self.folder / 'sheet.pdf', '-'], capture_output=True, check=True).stdout
        # the two phrases with her name, and the plan of each
        self.assertEqual(text.decode().count('Wilhelmina'), 4)
        self.assertIn('The audience is at its foot', ' '.join(text.decode().split()))
        self.write('plain.txt', '8 walk home\n')
        self.good('sheet', 'plain.txt', '-o', 'plain.pdf')
        text = subprocess.run(['pdftotext', self.folder / 'plain.pdf', '-'], capture_output=True, check=True).stdout
        self.assertNotIn(b'audience', text)


if __name__ == '__main__':
    harness.main()
