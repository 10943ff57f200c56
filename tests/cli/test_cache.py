# SPDX-License-Identifier: GPL-3.0-or-later
"""What is kept of recordings that were measured: found by their content, and never needed."""
import os
import shutil

import harness


class Cache(harness.Case):
    def setUp(self):
        super().setUp()
        self.a = self.write_music('a.wav', 30)
        self.b = self.write_music('b.wav', 28, bpm=126)
        self.caches = self.folder / 'caches'
        self.kept = self.caches / 'countwright'

    def drift(self, *more, a='a.wav', **changes):
        return self.good('drift', a, 'b.wav', '--json', *more, **{'XDG_CACHE_HOME': str(self.caches), **changes})

    def files(self):
        return sorted(path.name for path in self.kept.iterdir()) if self.kept.exists() else []

    def test_the_second_time_is_the_same_and_reads_what_is_kept(self):
        first = self.drift()
        names = self.files()
        self.assertEqual(len(names), 3) # two of the first recording, one of the other
        times = {name: os.stat(self.kept / name).st_mtime_ns for name in names}
        for name in names: # long ago
            os.utime(self.kept / name, (1e9, 1e9))
        self.assertEqual(self.drift(), first)
        self.assertEqual(self.files(), names)
        for name in names:
            self.assertGreaterEqual(os.stat(self.kept / name).st_mtime_ns, times[name])
        self.assertEqual(self.drift('--no-cache'), first)

    def test_content_counts_and_not_the_name(self):
        self.drift()
        names = self.files()
        shutil.copy(self.a, self.folder / 'copy.wav')
        self.drift(a='copy.wav')
        self.assertEqual(self.files(), names)
        self.write_music('a.wav', 30, bpm=121)
        self.drift()
        self.assertEqual(len(self.files()), 5)

    def test_damage_is_passed_over_and_mended(self):
        first = self.drift()
        whole = {name: (self.kept / name).read_bytes() for name in self.files()}
        for spoil in (lambda data: b'', lambda data: data[:-1], lambda data: data + b'x', lambda data: b'\xff' * 99,
                      lambda data: data[:5000] + bytes([data[5000] ^ 1]) + data[5001:],
                      lambda data: data[:20] + bytes([data[20] ^ 1]) + data[21:]):
            for name, data in whole.items():
                (self.kept / name).write_bytes(spoil(data))
            self.assertEqual(self.drift(), first)
            self.assertEqual({name: (self.kept / name).read_bytes() for name in self.files()}, whole)

    def test_without_a_place_all_goes_on(self):
        first = self.drift('--no-cache')
        self.assertEqual(self.files(), [])
        self.write('taken', 'a file where the folder should be')
        self.assertEqual(self.drift(XDG_CACHE_HOME=str(self.folder / 'taken')), first)
        self.assertEqual(self.drift(XDG_CACHE_HOME='', HOME=''), first)
        self.drift(XDG_CACHE_HOME='relative', HOME=str(self.folder))
        self.assertFalse((self.folder / 'relative').exists())
        self.assertEqual(len(list((self.folder / '.cache' / 'countwright').iterdir())), 3)

    def test_clearing_removes_what_is_ours_and_nothing_else(self):
        self.drift()
        (self.kept / 'letter.txt').write_text('mine')
        names = self.files()
        status, out, err = self.run_it('--clear-cache', XDG_CACHE_HOME=str(self.caches))
        self.assertEqual((status, out), (0, ''))
        self.assertRegex(err, r"\Acountwright: '.*/caches/countwright': 3 files removed, \d+\.\d MB\n\Z")
        self.assertEqual(self.files(), ['letter.txt'])
        self.assertEqual(len(names), 4)
        status, _, err = self.run_it('--clear-cache', XDG_CACHE_HOME=str(self.folder / 'none'))
        self.assertEqual(status, 0)
        self.assertIn('0 files removed', err)


if __name__ == '__main__':
    harness.main()
