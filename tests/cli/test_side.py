# SPDX-License-Identifier: GPL-3.0-or-later
"""`--side other`: notes mirrored for the cast on the other side."""
import harness

SCHEMA = 'print/schema/sheet.json'
NOTES = ('dance: The Ferrymen of the Left Bank\n8 1-4 run DSL > C > USR 5 tendu left, right foot back\n'
         '4 hold right away, the right dancer x2 other side\n')
MIRRORED = ('dance: The Ferrymen of the Left Bank\n8 1-4 run DSR > C > USL 5 tendu right, left foot back\n'
            '4 hold right away, the right dancer x2 other side\n')
DOUBT = "notes.txt:3:24: 'right' may be a side; it is left as it is\n"


class Side(harness.Case):
    def steps(self, *words):
        sheet = self.json_like(self.good('sheet', *words, '--json'), SCHEMA)
        return sheet, [step['text'] for row in sheet['phrases'] for step in row['steps']]

    def test_the_sheet_is_mirrored_and_says_so(self):
        self.write('notes.txt', NOTES)
        sheet, steps = self.steps('notes.txt', '--side', 'other')
        self.assertTrue(sheet['mirrored'])
        self.assertEqual(steps[:2], ['run DSR > C > USL', 'tendu right, left foot back'])
        self.assertIn("line 3, column 24: 'right' may be a side; it is left as it is", sheet['messages'])
        status, out, err = self.run_it('sheet', 'notes.txt', '--side', 'other')
        self.assertEqual((status, err), (0, DOUBT))
        self.assertIn('mirrored for the other side', out)
        sheet, steps = self.steps('notes.txt', '--side', 'own')
        self.assertFalse(sheet['mirrored'])
        self.assertEqual(steps[0], 'run DSL > C > USR')

    def test_the_notes_themselves_can_be_written_mirrored_and_come_back(self):
        self.write('notes.txt', NOTES)
        self.good('sheet', 'notes.txt', '--mirrored', 'there.txt')
        self.assertEqual((self.folder / 'there.txt').read_text(), MIRRORED)
        self.good('sheet', 'there.txt', '--mirrored', 'back.txt')
        self.assertEqual((self.folder / 'back.txt').read_text(), NOTES)
        self.assertEqual((self.folder / 'notes.txt').read_text(), NOTES)

    def test_a_copy_never_replaces_the_notes(self):
        self.write('notes.txt', NOTES)
        self.fails('sheet', 'notes.txt', '--mirrored', 'notes.txt',
                   message="countwright: 'notes.txt': the file exists already; '--overwrite' replaces it\n")
        self.fails('sheet', 'notes.txt', '--mirrored', 'notes.txt', '--overwrite',
                   message="countwright: 'notes.txt': this file is read, and is not written over\n")
        self.assertEqual((self.folder / 'notes.txt').read_text(), NOTES)

    def test_check_lists_what_may_be_a_side(self):
        self.write('notes.txt', NOTES + '8 walk 9 run\n')
        status, out, _ = self.run_it('check', 'notes.txt', '--side', 'other')
        self.assertEqual((status, out), (1, DOUBT + "notes.txt:4:8: expected a count from 1 to 8, found '9'\n"))
        _, out, _ = self.run_it('check', 'notes.txt')
        self.assertNotIn('may be a side', out)
        _, out, _ = self.run_it('check', 'notes.txt', '--side', 'other', '--json')
        self.assertEqual(self.json_like(out, 'cli/schema/check.json')['unclear'][0],
                         {'line': 3, 'column': 24, 'text': "'right' may be a side; it is left as it is"})

    def test_a_phrase_danced_again_on_the_other_side_is_mirrored(self):
        self.write('notes.txt', '4 tendu left\nother side\nother side\nsame as 2\n')
        self.assertEqual(self.steps('notes.txt')[1], ['tendu left', 'tendu right', 'tendu left', 'tendu right'])
        self.assertEqual(self.steps('notes.txt', '--side', 'other')[1],
                         ['tendu right', 'tendu left', 'tendu right', 'tendu left'])


if __name__ == '__main__':
    harness.main()
