# SPDX-License-Identifier: GPL-3.0-or-later
"""`check`: what is unclear in notes."""
import harness

CLEAR = 'piece: The Glass Orchard\nmetre: 3/4\n8 walk to the well 5 turn\nsame as 1, other side\n'
# a count that is not there and a phrase that is not there
UNCLEAR = 'piece: The Glass Orchard\n8 walk 9 run\nrepeat 40\n'
PLACES = ("2:8: expected a count from 1 to 8, found '9'", "3:8: expected a phrase from 1 to 1, found '40'")


class Check(harness.Case):
    def test_clear_notes(self):
        self.write('notes.txt', CLEAR)
        self.assertEqual(self.run_it('check', 'notes.txt'),
                         (0, '', "countwright: 'notes.txt': nothing is unclear in 2 phrases\n"))

    def test_unclear_notes(self):
        self.write('notes.txt', UNCLEAR)
        self.assertEqual(self.run_it('check', 'notes.txt'),
                         (1, ''.join(f'notes.txt:{place}\n' for place in PLACES),
                          "countwright: 'notes.txt': 2 places are unclear\n"))

    def test_one_place(self):
        self.write('notes.txt', UNCLEAR.rsplit('repeat', 1)[0])
        self.assertEqual(self.run_it('check', 'notes.txt')[2], "countwright: 'notes.txt': 1 place is unclear\n")

    def test_standard_input(self):
        self.assertEqual(self.run_it('check', '-', stdin=UNCLEAR.encode())[:2],
                         (1, ''.join(f'-:{place}\n' for place in PLACES)))
        self.assertEqual(self.run_it('check', '-', stdin=b'')[:2], (0, ''))

    def test_json(self):
        self.write('notes.txt', UNCLEAR)
        status, out, _ = self.run_it('check', 'notes.txt', '--json')
        self.assertEqual(status, 1)
        told = self.json_like(out, 'cli/schema/check.json')
        self.assertEqual([f"{place['line']}:{place['column']}: {place['text']}" for place in told['unclear']],
                         list(PLACES))
        self.write('notes.txt', CLEAR)
        self.assertEqual(self.json_like(self.good('check', 'notes.txt', '--json'), 'cli/schema/check.json')['unclear'],
                         [])

    def test_json_of_any_bytes_and_any_name(self):
        name = b'\xff.txt'.decode('utf-8', 'surrogateescape')
        self.write(name, b'8 walk \xff\x1b[31m\x00 9 \xc3\n' * 3)
        status, out, _ = self.run_it('check', name, '--json')
        self.assertEqual(status, 1)
        self.json_like(out, 'cli/schema/check.json')

    def test_terms_behind_spellings(self):
        self.write('notes.txt', '8 1-4 pa de booray 5 gron jetay\n8 walk, plié\n')
        self.assertEqual(self.run_it('check', 'notes.txt'),
                         (0, "notes.txt:1:7: 'pa de booray': perhaps 'pas de bourrée'\n"
                             "notes.txt:1:22: 'gron jetay': perhaps 'grand jeté'\n",
                          "countwright: 'notes.txt': nothing is unclear in 2 phrases\n"
                          "countwright: 'notes.txt': 2 spellings may be terms; 'sheet --spelling proper' prints them "
                          "so\n"))
        out = self.good('check', 'notes.txt', '--words')
        self.assertRegex(out, r'\npas de bourrée: [a-z]')
        self.assertRegex(out, r'\nplié: a bend of the knees\n\Z')
        told = self.json_like(self.good('check', 'notes.txt', '--json', '--words'), 'cli/schema/check.json')
        self.assertEqual([place['proper'] for place in told['spelling']], ['pas de bourrée', 'grand jeté'])
        self.assertEqual([word['term'] for word in told['words']], ['pas de bourrée', 'grand jeté', 'plié'])

    def test_a_glossary_of_another_style(self):
        (self.folder / 'notes').mkdir()
        self.write('own.tsv', 'keel roll\ta roll on the back\n\tno term\n')
        self.write('notes/ours.tsv', 'oarlock\ta turn with both arms out\n')
        self.write('notes/notes.txt', 'glossary: ours.tsv\n8 keal roll 5 orlock\n')
        status, out, err = self.run_it('check', 'notes/notes.txt', '--glossary', 'own.tsv')
        self.assertEqual((status, out), (0, "notes/notes.txt:2:3: 'keal roll': perhaps 'keel roll'\n"
                                            "notes/notes.txt:2:15: 'orlock': perhaps 'oarlock'\n"))
        self.assertIn('own.tsv:2:1: expected a term', err)
        sheet = self.good('sheet', 'notes/notes.txt', '--spelling', 'proper')
        self.assertIn('oarlock', sheet)
        self.assertIn('keal roll', sheet)  # the other file was not named
        self.assertIn('orlock', self.good('sheet', 'notes/notes.txt'))
        self.write('none.txt', 'glossary: none.tsv\nwalk\n')
        self.fails('check', 'none.txt', message="countwright: 'none.tsv': there is no such file\n")
        self.good('sheet', 'none.txt')

    def test_changes_since_older_notes(self):
        self.write('old.txt', '8 1-4 row 5 look up\n8 run 5 turn\n8 bow\n')
        self.write('new.txt', '8 kneel and pray\n8 1-4 row 5 look up\n8 run 5 jump\n')
        self.assertEqual(self.run_it('check', '--since', 'old.txt', 'new.txt'),
                         (0, 'of 3 phrases 1 is danced as before, 1 is new, 1 of the old ones is gone\n'
                             'phrase 1 is new: 1 kneel and pray\n'
                             "in phrase 3 (was 2), on 5: 'turn' is now 'jump'\n"
                             'phrase 3 of the old notes is gone: 1 bow\n'
                             'phrases 2-3 were numbered 1-2\n', ''))
        told = self.json_like(self.good('check', '--since', 'old.txt', 'new.txt', '--json'), 'cli/schema/check.json')
        self.assertEqual([change['kind'] for change in told['changes']], ['phrase-new', 'step', 'phrase-gone'])
        self.assertEqual(told['was'], [None, 1, 2])
        self.assertEqual(self.good('check', '--since', 'new.txt', 'new.txt'), 'nothing has changed in 3 phrases\n')
        self.fails('check', '--since', 'none.txt', 'new.txt', message="countwright: 'none.txt': there is no such file\n")

    def test_notes_against_music(self):
        self.write_music('music.wav', 34, bpm=120, metre=4, first_s=1.0)
        self.write('fits.txt', 'metre: 4/4\n8 walk x8\n')
        status, out, err = self.run_it('check', 'fits.txt', 'music.wav')
        self.assertEqual((status, out), (0, ''), err)
        self.assertIn('notes and music add up in 8 phrases', err)
        self.write('short.txt', 'metre: 4/4\n8 walk x6\n')
        status, out, err = self.run_it('check', 'short.txt', 'music.wav', '--json')
        self.assertEqual(status, 1)
        told = self.json_like(out, 'cli/schema/check.json')
        self.assertTrue(told['music'])
        self.fails('check', 'fits.txt', 'none.wav', message="countwright: 'none.wav': there is no such file\n")

    def test_a_name_cannot_steer_the_terminal(self):
        self.fails('check', '\x1b[31m\nx', message="countwright: '?[31m?x': there is no such file\n")


if __name__ == '__main__':
    harness.main()
