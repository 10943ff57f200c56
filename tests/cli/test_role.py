# SPDX-License-Identifier: GPL-3.0-or-later
"""`sheet --role`, `--entrances`, `--warm`, `--spread`: one role's sheet, and who is on stage when."""
import harness

NOTES = ('recording: music.wav\nmetre: 4/4\nbeats per count: 1\n@ 0:00.5 8 walk\n[Ilse] 8 1-4 turn 5-6 exit DSL\n'
         '[Marek] 1-8 row\n8 [x]\n8 run\n[Ilse] @ 0:16.5 8 enter USR 1-8 bow\n8 all bow\n')


class Role(harness.Case):
    def cast(self, *words):
        return self.json_like(self.good('sheet', 'notes.txt', '--entrances', '--json', *words), 'print/schema/cast.json')

    def music(self):
        self.write_music('music.wav', 26)
        self.write('notes.txt', NOTES)

    def test_waits_have_times_where_there_is_a_recording(self):
        self.music()
        cast = self.cast('--warm', '0.1')
        self.assertEqual((cast['warm_lead_s'], [role['role'] for role in cast['cast']]), (6, ['Ilse', 'Marek']))
        on, off, again = cast['cast'][0]['stays']
        self.assertEqual([stay['on'] for stay in (on, off, again)], [True, False, True])
        self.assertEqual((off['phrase'], off['count'], off['until_phrase'], off['until_count']), (2, 7, 5, 1))
        self.assertEqual((off['counts'], off['wait'], off['stay_warm']), (18, True, False))
        self.assertAlmostEqual(off['start_s'], 7.5, delta=0.2)  # 120 counts a minute: 0.5 s each
        self.assertEqual(off['end_s'], 16.5)                    # pinned
        self.assertEqual(off['warm_from_s'], 10.5)
        self.assertEqual(len(cast['cast'][1]['stays']), 1)

    def test_a_short_wait_is_no_time_to_cool_down(self):
        self.music()
        off = self.cast()['cast'][0]['stays'][1]
        self.assertEqual((off['stay_warm'], off['warm_from_s']), (True, None))
        text = ' '.join(self.good('sheet', 'notes.txt', '--entrances', '--role', 'ilse').split())
        self.assertIn('off in eight 2 after count 6, 0:07.', text)
        self.assertIn('on again at eight 5, 0:16.5: a wait of 0:0', text)
        self.assertIn('stay warm', text)
        self.assertIn('physiotherapists', text)
        self.assertNotIn('Marek', text)

    def test_without_a_recording_waits_are_counts(self):
        self.write('notes.txt', NOTES.replace('recording: music.wav\n', ''))
        self.assertIn('off in eight 2 after count 6; on again at eight 5: a wait of 18 counts',
                      ' '.join(self.good('sheet', 'notes.txt', '--entrances').split()))

    def test_a_role_sees_her_own_steps(self):
        self.write('notes.txt', NOTES.replace('recording: music.wav\n', ''))
        sheet = self.json_like(self.good('sheet', 'notes.txt', '--role', 'MAREK', '--json'), 'print/schema/sheet.json')
        self.assertEqual(sheet['role'], 'Marek')
        self.assertEqual([step['text'] for step in sheet['phrases'][1]['steps']], ['row'])
        self.assertEqual([row['others'] for row in sheet['phrases']], [False, False, False, False, True, False])
        sheet = self.json_like(self.good('sheet', 'notes.txt', '--role', 'Ilse', '--json'), 'print/schema/sheet.json')
        self.assertEqual([row['off'] for row in sheet['phrases']], [False, False, True, True, False, False])
        self.assertTrue(all(row['parts'] == [] for row in sheet['phrases']))
        self.good('sheet', 'notes.txt', '--role', 'Ilse', '-o', 'ilse.pdf')

    def test_a_role_that_is_not_there(self):
        self.write('notes.txt', NOTES.replace('recording: music.wav\n', ''))
        self.fails('sheet', 'notes.txt', '--role', 'Otto',
                   message="countwright: 'notes.txt': no role 'Otto' is named; those named: Ilse, Marek\n")

    def test_entrances_have_two_forms(self):
        self.write('notes.txt', '8 walk\n')
        self.assertEqual(self.good('sheet', 'notes.txt', '--entrances'), 'Nobody enters or goes off.\n')
        for words in (('-o', 'x.pdf'), ('-o', 'x.csv'), ('--list', 'ones')):
            status, _, err = self.run_it('sheet', 'notes.txt', '--entrances', *words)
            self.assertEqual(status, 2, err)

    def test_steps_are_spread_when_asked(self):
        self.write('notes.txt', '8 glissade, jeté, assemblé\n8 1-4 run 5 stop\n')
        steps = [step['label'] for row in self.json_like(self.good('sheet', 'notes.txt', '--spread', '--json'),
                                                         'print/schema/sheet.json')['phrases'] for step in row['steps']]
        self.assertEqual(steps, ['1-2', '3-5', '6-8', '1-4', '5'])
        self.write('asked.txt', 'spread: yes\n8 glissade, jeté, assemblé\n8 1-4 run 5 stop\n')
        self.assertEqual(self.good('sheet', 'asked.txt'), self.good('sheet', 'notes.txt', '--spread'))

    def test_notes_in_utf_16(self):
        self.write('notes.txt', '8 1-4 jeté 5 pose\n')
        wanted = self.good('sheet', 'notes.txt')
        for encoding in ('utf-16-le', 'utf-16-be'):
            self.write('wide.txt', '\ufeff8 1-4 jeté 5 pose\n'.encode(encoding))
            self.assertEqual(self.good('sheet', 'wide.txt'), wanted)
            status, out, _ = self.run_it('check', 'wide.txt')
            self.assertEqual((status, out), (1, 'wide.txt:1:1: expected UTF-8, found UTF-16: read as that\n'))


if __name__ == '__main__':
    harness.main()
