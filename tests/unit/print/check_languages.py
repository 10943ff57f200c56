# SPDX-License-Identifier: GPL-3.0-or-later
"""The translations hold every label of the code, whole, in the plural forms that the code expects.

Usage: check_languages.py SOURCE TEST_LABELS. Exit 77 (skipped) without gettext's programs.
"""
import collections
import gettext
import io
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

LANGUAGES = ('de', 'es', 'fr', 'it', 'ja', 'pt', 'ru')
PLACE = re.compile(r'%(?:\d+\$)?(?:\.\d+)?[a-z]')


def run(*command):
    return subprocess.run(command, check=True, capture_output=True).stdout


def messages(path):
    """The English texts of a file of translations, read by GNU gettext."""
    compiled = run('msgfmt', '--use-fuzzy', '--output-file=-', str(path))
    catalogue = gettext.GNUTranslations(io.BytesIO(compiled))
    return catalogue


def labels(source, folder):
    """The labels of the code, with itself as translation."""
    pot = folder / 'labels.pot'
    run(source / 'scripts' / 'labels', '--pot', str(pot))
    text = pot.read_text(encoding='utf-8')
    head = 'msgid ""\nmsgstr "Content-Type: text/plain; charset=UTF-8\\nPlural-Forms: nplurals=2; plural=n!=1;\\n"\n\n'
    pot.write_text(head + text, encoding='utf-8')
    english = folder / 'en.po'
    run('msgen', '--output-file', str(english), str(pot))
    return messages(english)


def texts(catalogue):
    """English text to its forms, as gettext keeps them."""
    found = collections.defaultdict(dict)
    for key, text in catalogue._catalog.items():  # the only way to list them
        english, form = key if isinstance(key, tuple) else (key, 0)
        if english:
            found[english][form] = text
    return found


def check(tag, source, wanted, forms):
    catalogue = messages(source / 'src' / 'print' / 'languages' / f'{tag}.po')
    have = texts(catalogue)
    for english in sorted(set(wanted) - set(have)):
        yield f"{tag}: '{english}' is not translated"
    for english in sorted(set(have) - set(wanted)):
        yield f"{tag}: '{english}' is no label of the code: scripts/labels"
    for english, translated in have.items():
        for text in translated.values():
            places = sorted(re.sub(r'\d+\$', '', place) for place in PLACE.findall(text))
            if not text.strip() or places != sorted(PLACE.findall(english)):
                yield f"{tag}: '{english}' and '{text}' have other places for values"
    for n, form in forms[tag].items():
        if catalogue.plural(n) != form:
            yield f'{tag}: {n} takes form {form} in the code and {catalogue.plural(n)} in the file'
    statistics = subprocess.run(['msgfmt', '--statistics', '--output-file=/dev/null',
                                 source / 'src' / 'print' / 'languages' / f'{tag}.po'],
                                check=True, capture_output=True, text=True, env={'LC_ALL': 'C', 'PATH': '/usr/bin:/bin'})
    if 'fuzzy' in statistics.stderr or 'untranslated' in statistics.stderr:
        yield f'{tag}: {statistics.stderr.strip()}'


def main():
    if not all(map(shutil.which, ('msgfmt', 'xgettext', 'msgen'))):
        return 77
    source = pathlib.Path(sys.argv[1])
    forms = collections.defaultdict(dict)
    for line in run(sys.argv[2], 'forms').decode().splitlines():
        tag, n, form = line.split()
        forms[tag][int(n)] = int(form)
    with tempfile.TemporaryDirectory() as folder:
        wanted = texts(labels(source, pathlib.Path(folder)))
    assert len(wanted) > 90 and sorted(forms) == sorted(LANGUAGES)
    wrong = [fault for tag in LANGUAGES for fault in check(tag, source, wanted, forms)]
    print('\n'.join(wrong))
    return 1 if wrong else 0


if __name__ == '__main__':
    sys.exit(main())
