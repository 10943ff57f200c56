# SPDX-License-Identifier: GPL-3.0-or-later
"""Runs the program in a folder of its own, and says how each test went as cmocka does.

CW_PROGRAM names the program. With CW_NEW_GOLDEN set, golden files are written instead of compared.
"""
import functools
import json
import math
import os
import pathlib
import shutil
import struct
import subprocess
import sys
import tempfile
import unittest
import wave

HERE = pathlib.Path(__file__).resolve().parent
FIXTURES = HERE.parent.parent / 'audio-fixtures'
PROGRAM = os.environ['CW_PROGRAM']
RATE = 22050
CACHE = tempfile.TemporaryDirectory(prefix='countwright-cache-')  # what is measured once need not be in the next test


@functools.lru_cache
def pluck(tone_hz, height, seconds):
    """A note with four overtones that dies away."""
    step = 2 * math.pi * tone_hz / RATE
    return [height * math.exp(-3 * i / (seconds * RATE)) *
            (math.sin(step * i) + math.sin(2 * step * i) / 2 + math.sin(3 * step * i) / 3 + math.sin(4 * step * i) / 4)
            for i in range(int(seconds * RATE))]


class Outcome(unittest.TestResult):
    """One line when a test begins and one when it ends."""

    @staticmethod
    def say(word, test):
        print(f'[ {word:>8} ] {test.id().removeprefix("__main__.")}', flush=True)

    def startTest(self, test):
        super().startTest(test)
        print(f'[ RUN      ] {test.id().removeprefix("__main__.")}', flush=True)

    def addSuccess(self, test):
        self.say('OK', test)

    def addSkip(self, test, reason):
        super().addSkip(test, reason)
        print(reason)
        self.say('SKIPPED', test)

    def tell_failure(self, test, error):
        print(self._exc_info_to_string(error, test))
        self.say('FAILED', test)

    def addFailure(self, test, err):
        super().addFailure(test, err)
        self.tell_failure(test, err)

    def addError(self, test, err):
        super().addError(test, err)
        self.tell_failure(test, err)

    def addSubTest(self, test, subtest, err):
        super().addSubTest(test, subtest, err)
        if err:
            self.tell_failure(subtest, err)


def main():
    """Run the tests of the calling file."""
    outcome = Outcome()
    unittest.defaultTestLoader.loadTestsFromModule(sys.modules['__main__']).run(outcome)
    sys.exit(0 if outcome.wasSuccessful() and outcome.testsRun else 1)


class Case(unittest.TestCase):
    """A test with an empty folder to run in."""
    maxDiff = None

    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix='countwright-test-'))
        self.addCleanup(shutil.rmtree, self.folder)

    def environment(self, **changes):
        kept = {k: v for k, v in os.environ.items() if k not in ('COLUMNS', 'NO_COLOR')}
        return {**kept, 'TERM': 'xterm', 'XDG_CACHE_HOME': CACHE.name, **changes}

    def run_it(self, *words, stdin=b'', stdout=subprocess.PIPE, **changes):
        """Run the program. Gives the exit status, standard output and standard error."""
        done = subprocess.run([PROGRAM, *map(str, words)], cwd=self.folder, input=stdin, stdout=stdout,
                              stderr=subprocess.PIPE, env=self.environment(**changes), timeout=300, check=False)
        out = done.stdout.decode() if done.stdout is not None else ''
        return done.returncode, out, done.stderr.decode('utf-8', 'surrogateescape')

    def good(self, *words, **more):
        """Run the program, which must succeed. Gives its standard output."""
        status, out, err = self.run_it(*words, **more)
        self.assertEqual(status, 0, err)
        return out

    def fails(self, *words, message, status=1, **more):
        """Run the program, which must fail with `message` alone, nothing on standard output and no new file."""
        before = sorted(self.folder.iterdir())
        result, out, err = self.run_it(*words, **more)
        self.assertEqual(err, message)
        self.assertEqual(out, '')
        self.assertEqual(result, status)
        self.assertEqual(sorted(self.folder.iterdir()), before)

    def golden(self, name, text):
        path = HERE / 'golden' / name
        if os.environ.get('CW_NEW_GOLDEN'):
            path.write_text(text, encoding='utf-8')
        self.assertEqual(text, path.read_text(encoding='utf-8'))

    def json_like(self, text, schema):
        """Read JSON that follows a schema of ours, such as 'print/schema/sheet.json'."""
        value = json.loads(text)
        with open(HERE.parent.parent / 'src' / schema, encoding='utf-8') as file:
            self.assertEqual(faults(value, json.load(file)), [])
        return value

    def write(self, name, content):
        path = self.folder / name
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        return path

    def write_music(self, name, seconds, bpm=120.0, metre=4, first_s=0.5):
        """A plucked note on each beat, over a bass note held for the bar; the harmony changes with the bar."""
        samples = [0.0] * int(seconds * RATE)
        beat_s = 60 / bpm
        for beat in range(int((seconds - first_s) / beat_s)):
            start = int((first_s + beat * beat_s) * RATE)
            root = (131.0, 175.0, 196.0, 131.0)[beat // metre % 4]
            sounds = [pluck(root * (2, 2.5, 3, 2.5)[beat % metre % 4], 0.2, min(beat_s, 0.5))]
            if beat % metre == 0:
                sounds.append(pluck(root / 2, 0.4, beat_s * metre))
            for sound in sounds:
                for i, x in enumerate(sound[:len(samples) - start]):
                    samples[start + i] += x
        with wave.open(str(self.folder / name), 'wb') as out:
            out.setparams((1, 2, RATE, 0, 'NONE', ''))
            out.writeframes(struct.pack(f'<{len(samples)}h', *(int(32000 * max(-1, min(1, x))) for x in samples)))
        return self.folder / name

    def write_silence(self, name, seconds):
        with wave.open(str(self.folder / name), 'wb') as out:
            out.setparams((1, 2, RATE, 0, 'NONE', ''))
            out.writeframes(bytes(2 * int(seconds * RATE)))
        return self.folder / name


KINDS = {'object': dict, 'array': list, 'string': str, 'boolean': bool, 'null': type(None), 'integer': int,
         'number': (int, float)}


def has_kind(value, kind):
    return isinstance(value, KINDS[kind]) and not (isinstance(value, bool) and kind in ('integer', 'number'))


def own_faults(value, schema):
    """What is wrong with a value itself, by the words of JSON Schema that our schemas use."""
    allowed = schema.get('type', list(KINDS))
    allowed = allowed if isinstance(allowed, list) else [allowed]
    number = has_kind(value, 'number')
    tests = {'type': any(has_kind(value, kind) for kind in allowed),
             'const': value == schema.get('const'),
             'minimum': not number or value >= schema.get('minimum', 0),
             'maximum': not number or value <= schema.get('maximum', 0),
             'exclusiveMinimum': not number or value > schema.get('exclusiveMinimum', 0),
             'minItems': not isinstance(value, list) or len(value) >= schema.get('minItems', 0)}
    known = {*tests, '$schema', '$id', 'title', 'description', 'properties', 'required', 'additionalProperties', 'items'}
    return [word for word in schema if word not in known or not tests.get(word, True)]


def faults(value, schema, at='$'):
    """Where a value breaks its JSON Schema."""
    found = [f'{at}: {value!r}: {word}' for word in own_faults(value, schema)]
    if isinstance(value, dict) and 'properties' in schema:
        found += [f'{at}: {name} is missing' for name in schema.get('required', []) if name not in value]
        for name, member in value.items():
            if name in schema['properties']:
                found += faults(member, schema['properties'][name], f'{at}.{name}')
            elif schema.get('additionalProperties') is False:
                found.append(f'{at}: {name} is not in the schema')
    if isinstance(value, list):
        for i, item in enumerate(value):
            found += faults(item, schema.get('items', {}), f'{at}[{i}]')
    return found


def fields(text):
    """The lines of a plain list, split at tabs."""
    return [line.split('\t') for line in text.splitlines()]
