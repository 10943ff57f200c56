# SPDX-License-Identifier: GPL-3.0-or-later
"""Help, manual page and completion, all made from one table."""
import re
import shutil
import subprocess

import harness

COMMANDS = ('count', 'sheet', 'drift', 'carry', 'rehearse', 'pack', 'check', 'desk')


class Help(harness.Case):
    def test_help_is_as_kept(self):
        self.golden('help.txt', self.good('--help'))
        self.assertEqual(self.good('-h'), self.good('--help'))
        for command in COMMANDS:
            self.golden(f'help-{command}.txt', self.good(command, '--help'))
            self.assertEqual(self.good(command, '-h'), self.good(command, '--help'))

    def test_help_names_every_command_there_is_and_fits_eighty_columns(self):
        listed = re.findall(r'^  (\w+) ', self.good('--help').split('options:')[0], re.MULTILINE)
        self.assertEqual(listed, list(COMMANDS))
        for words in (['--help'], *([command, '--help'] for command in COMMANDS)):
            for line in self.good(*words).splitlines():
                self.assertTrue(len(line) < 80 or line.startswith('  countwright '), line)

    def test_version(self):
        self.assertRegex(self.good('--version'), r'\Acountwright \d+\.\d+\.\d+\n\Z')


class Manual(harness.Case):
    def test_manual_names_every_option(self):
        manual = self.good('--help-man').replace('\\-', '-')
        for command in COMMANDS:
            self.assertIn(f'.SS "countwright {command} ', manual)
            for option in re.findall(r'--[a-z-]+', self.good(command, '--help')):
                self.assertIn(f'\\fB{option}\\fR', manual)

    def test_manual_is_well_formed(self):
        groff = shutil.which('groff')
        if not groff:
            self.skipTest('there is no groff here')
        done = subprocess.run([groff, '-man', '-Tutf8', '-ww', '-z'], input=self.good('--help-man').encode(),
                              capture_output=True, check=False)
        self.assertEqual(done.stderr.decode(), '')
        self.assertEqual(done.returncode, 0)


class Completion(harness.Case):
    def complete(self, *words):
        """What the shell offers for the last of `words`."""
        self.write('completion', self.good('--help-completion'))
        script = 'source ./completion; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _countwright; ' \
                 'printf "%s\\n" "${COMPREPLY[@]}"'
        done = subprocess.run(['bash', '-c', script, 'bash', *words], cwd=self.folder, capture_output=True, text=True,
                              check=False)
        self.assertEqual(done.stderr, '')
        return done.stdout.split()

    def setUp(self):
        super().setUp()
        if not shutil.which('bash'):
            self.skipTest('there is no bash here')

    def test_commands_options_and_values(self):
        self.assertEqual(self.complete('countwright', 'c'), ['count', 'carry', 'check'])
        self.assertEqual(self.complete('countwright', 'sheet', '--o'), ['--output', '--overwrite'])
        self.assertEqual(self.complete('countwright', 'check', '--'),
                         ['--since', '--side', '--words', '--glossary', '--ear', '--beats-per-count', '--json', '--help'])
        self.assertEqual(self.complete('countwright', 'count', '--list', ''), ['beats', 'counts', 'ones', 'stretches'])
        self.assertEqual(self.complete('countwright', 'count', '--paper', 'l'), ['letter'])

    def test_file_names_are_left_to_the_shell(self):
        self.assertEqual(self.complete('countwright', 'count', ''), [])
        self.assertEqual(self.complete('countwright', 'drift', '--at', ''), [])


if __name__ == '__main__':
    harness.main()
