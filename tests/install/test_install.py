#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What others get: the installed tree, the library under C and C++, its symbols, the Debian packages."""
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent / 'cli'))
import harness  # noqa: E402

SOURCE = pathlib.Path(os.environ['CW_SOURCE'])
BUILD = pathlib.Path(os.environ['CW_BUILD'])
SANITIZED = os.environ['CW_SANITIZED'] == '1'
SYMBOLS = SOURCE / 'tests' / 'install' / 'symbols.txt'
RECORDING = SOURCE / 'audio-fixtures' / 'demo-rehearsal.ogg'


def run(*words, **options):
    done = subprocess.run([str(word) for word in words], capture_output=True, text=True, check=False, **options)
    if done.returncode != 0:
        raise AssertionError(f'{words}: {done.returncode}\n{done.stdout}{done.stderr}')
    return done.stdout


def need(*programs):
    for program in programs:
        if not shutil.which(program):
            raise unittest.SkipTest(f'there is no {program} here')


class Installed(unittest.TestCase):
    """In one folder for all: it is only read."""

    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.root = pathlib.Path(cls.folder.name, 'a place with blanks') # nothing may depend on where it is
        run('cmake', '--install', BUILD, '--prefix', cls.root)

    @classmethod
    def tearDownClass(cls):
        cls.folder.cleanup()

    def find(self, name):
        found = list(self.root.rglob(name))
        self.assertEqual(len(found), 1, f'{name}: {found}')
        return found[0]

    def test_all_that_belongs_to_it_is_there(self):
        for name in ('bin/countwright', 'share/man/man1/countwright.1', 'share/bash-completion/completions/countwright',
                     'share/zsh/vendor-completions/_countwright', 'share/fish/vendor_completions.d/countwright.fish',
                     'include/countwright/lineup.h', 'share/doc/countwright/copyright'):
            self.assertTrue((self.root / name).is_file(), name)
        self.find('countwright.pc')

    def test_the_program_runs_where_it_was_put(self):
        self.assertIn('countwright', run(self.root / 'bin' / 'countwright', '--version'))

    def compile(self, compiler, source, program, *more):
        need(compiler, 'pkg-config')
        environment = dict(os.environ, PKG_CONFIG_PATH=str(self.find('countwright.pc').parent))
        flags = run('pkg-config', '--cflags', '--libs', 'countwright', env=environment)
        words = re.findall(r'(?:\\.|[^\s])+', flags)
        run(compiler, *more, '-Wall', '-Wextra', '-pedantic', '-Werror', source, '-o', program,
            *[re.sub(r'\\(.)', r'\1', word) for word in words])

    def test_a_program_in_cpp_uses_it_through_pkg_config(self):
        if SANITIZED:
            self.skipTest('the library is built for the sanitizers')
        with tempfile.TemporaryDirectory() as folder:
            program = pathlib.Path(folder, 'example')
            self.compile('g++', SOURCE / 'tests' / 'install' / 'example.cpp', program, '-std=c++11')
            ones = run(program, RECORDING, env=dict(os.environ, LD_LIBRARY_PATH=self.find('libcountwright.so.0').parent))
        listed = run(self.root / 'bin' / 'countwright', 'count', RECORDING, '--list', 'ones')
        starts = [line.split()[0] for line in listed.splitlines()]
        self.assertGreater(len(starts), 5)
        self.assertEqual(ones.split(), starts)

    def test_every_header_stands_alone_in_c_and_cpp(self):
        need('gcc', 'g++')
        for header in sorted((self.root / 'include' / 'countwright').iterdir()):
            text = f'#include <countwright/{header.name}>\nint main(void);\n'
            for language, standard, compiler in (('c', 'c11', 'gcc'), ('c++', 'c++11', 'g++')):
                run(compiler, '-x', language, f'-std={standard}', '-fsyntax-only', '-Wall', '-Wextra', '-pedantic',
                    '-Werror', f'-I{self.root / "include"}', '-', input=text)

    def test_exactly_the_listed_symbols_leave_the_library(self):
        """symbols.txt is the binary interface: a line that goes away or changes asks for a new CW_ABI (version.h)."""
        need('nm')
        library = self.find('libcountwright.so.0')
        lines = run('nm', '-D', '--defined-only', library).splitlines()
        symbols = sorted(line.split()[2] for line in lines if not line.split()[2].startswith('COUNTWRIGHT_'))
        if SANITIZED:
            symbols = [symbol for symbol in symbols if symbol.startswith('cw_')]
        if os.environ.get('CW_NEW_GOLDEN'):
            SYMBOLS.write_text('\n'.join(symbols) + '\n')
        self.assertEqual(symbols, SYMBOLS.read_text().split())
        declared = set()
        for header in (SOURCE / 'include' / 'countwright').iterdir():
            declared.update(re.findall(r'^CW_API [^;{]*?\b(cw_\w+)\(', header.read_text(), re.MULTILINE))
        self.assertEqual({symbol.split('@')[0] for symbol in symbols}, declared)

    def complete(self, shell, file, script):
        need(shell)
        folder = self.root / 'script'
        folder.mkdir(exist_ok=True)
        (folder / shell).write_text(script.replace('COMPLETION', f"'{self.find(file)}'"))
        return run(shell, folder / shell)

    def test_fish_completes_commands_options_and_values(self):
        offered = self.complete('fish', 'countwright.fish', 'source COMPLETION\n'
                                'complete -C "countwright ca"; complete -C "countwright sheet --sid"\n'
                                'complete -C "countwright count --paper l"\n')
        words = [line.split('\t')[0] for line in offered.splitlines()]
        self.assertEqual(words, ['carry', '--side', 'letter'])

    def test_zsh_takes_the_completion(self):
        offered = self.complete('zsh', '_countwright',
                                '_describe() { print -l -- "${(@P)2%%:*}" }\n'
                                '_arguments() { print -l -- "$@" }\n'
                                'words=(countwright c); CURRENT=2; source COMPLETION\n'
                                'words=(countwright sheet --sid); CURRENT=3; source COMPLETION\n')
        self.assertIn('carry', offered.split('\n'))
        self.assertRegex(offered, r'--side=\[[^\]]*\]:side:\([a-z ]*other')


class Packages(unittest.TestCase):
    def setUp(self):
        need('cpack', 'dpkg', 'dpkg-deb', 'dpkg-shlibdeps')
        if SANITIZED:
            self.skipTest('the program is built for the sanitizers')
        self.temporary = tempfile.TemporaryDirectory()
        self.addCleanup(self.temporary.cleanup)
        self.folder = pathlib.Path(self.temporary.name)

    def pack(self, name):
        environment = dict(os.environ, SOURCE_DATE_EPOCH='1700000000')
        run('cpack', '--config', BUILD / 'CPackConfig.cmake', '-B', self.folder / name, env=environment)
        return sorted((self.folder / name).glob('*.deb'))

    def test_they_install_run_and_leave_nothing_behind(self):
        packages = self.pack('a')
        self.assertEqual([file.name.split('_')[0] for file in packages], ['countwright', 'libcountwright-dev'])
        depends = run('dpkg-deb', '-f', packages[0], 'Depends')
        for library in ('libsndfile1', 'libfftw3-single3', 'libjansson4', 'libpango-1.0-0', 'libc6'):
            self.assertIn(library, depends)
        root = self.folder / 'root'
        admin = root / 'var' / 'lib' / 'dpkg'
        for name in ('info', 'updates', 'triggers'):
            (admin / name).mkdir(parents=True)
        (admin / 'status').touch()
        before = self.listing(root)
        # what they depend on is not in this bare folder, and it belongs to no root
        force = ['--force-not-root', '--force-depends', '--force-bad-path', '--log=/dev/null', '--force-script-chrootless']
        run('dpkg', f'--root={root}', *force, '--install', *packages)
        self.assertIn('sheet', run(root / 'usr' / 'bin' / 'countwright', '--help'))
        run('dpkg', f'--root={root}', *force, '--purge', 'libcountwright-dev', 'countwright')
        self.assertEqual([name for name in self.listing(root) if not name.startswith('var/lib/dpkg/')],
                         [name for name in before if not name.startswith('var/lib/dpkg/')])

    @staticmethod
    def listing(root):
        return sorted(str(path.relative_to(root)) for path in root.rglob('*'))

    def test_packing_again_gives_the_same_bytes(self):
        for first, second in zip(self.pack('a'), self.pack('b'), strict=True):
            self.assertEqual(first.read_bytes(), second.read_bytes(), first.name)


if __name__ == '__main__':
    harness.main()
