// SPDX-License-Identifier: GPL-3.0-or-later
// The one-file web sheet as a page to read: without a network, in any window, for everyone; notes are text in it.
import assert from 'node:assert/strict';
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { assertAccessible, assertBigTargets, assertFits, assertQuiet, countwright, fixtures, lineOf, openBrowser, openFile,
  root, scratch, writeClicks } from './harness.mjs';

const folder = scratch(after);
const at = (name) => join(folder, name);
const browser = await openBrowser(after);
const PHONE = { width: 360, height: 740 };
const ZOOMED = { width: 640, height: 360 }; // a window of 1280 by 720 at 200 %

/// The sheet of notes by a count line of phrases [first second, counts, seconds of a count]; `more` are further options.
function sheetOf(name, notes, phrases, ...more) {
  writeFileSync(at(`${name}.txt`), notes);
  const line = phrases ? [writeFileSync(at(`${name}.csv`), lineOf(phrases)), '--line', at(`${name}.csv`)].slice(1) : [];
  countwright('sheet', at(`${name}.txt`), ...line, '-o', at(`${name}.html`), '--overwrite', ...more);
  return at(`${name}.html`);
}

countwright('sheet', join(fixtures, 'demo.txt'), '-o', at('demo.html'), '-o', at('demo.json'));
countwright('sheet', join(fixtures, 'demo.txt'), '-o', at('sounding.html'), '--sound', 'aac');
const demo = JSON.parse(readFileSync(at('demo.json')));

test('it loads with no network, no fetch, no error and, without the recording, no script', async () => {
  const page = await openFile(browser, at('demo.html'));
  assertQuiet(page, 'file:');
  assert.equal(page.fetched.length, 1);
  assert.equal(await page.locator('script').count(), 0);
  assert.equal(await page.title(), `${demo.piece}: ${demo.dance}`);
});

test('it says what the sheet\'s data say, in their order', async () => {
  const page = await openFile(browser, at('demo.html'));
  for (const details of await page.locator('details').all()) await details.evaluate((element) => { element.open = true; });
  const shown = await page.$$eval('article.phrase', (articles) => articles.map((article) => ({
    number: Number(article.querySelector('.number').textContent),
    start: article.querySelector('.start').textContent,
    counts: article.querySelectorAll('.numbers i').length,
    steps: [...article.querySelectorAll(':scope > .body li')].map((li) => li.innerText.replace(/\s+/g, ' ').trim()),
  })));
  assert.equal(shown.length, demo.phrases.length);
  demo.phrases.forEach((phrase, i) => {
    assert.equal(shown[i].number, phrase.number);
    assert.equal(shown[i].counts, phrase.counts);
    const minutes = Math.floor(phrase.start_s / 60);
    assert.equal(shown[i].start, `${minutes}:${(phrase.start_s - 60 * minutes).toFixed(1).padStart(4, '0')}`);
    const words = phrase.steps.map(({ text }) => text).filter(Boolean);
    assert.equal(shown[i].steps.length, words.length);
    words.forEach((text, k) => assert.ok(shown[i].steps[k].endsWith(text.replace(/\s+/g, ' ')), `${shown[i].steps[k]}: ${text}`));
  });
  assert.deepEqual(await page.$$eval('h2.section', (all) => all.map((h2) => h2.textContent)),
    demo.phrases.map(({ section }) => section).filter(Boolean));
});

for (const [name, viewport] of [['a phone', PHONE], ['200 % zoom', ZOOMED], ['a laptop', { width: 1280, height: 800 }]]) {
  test(`on ${name} nothing is cut off, targets are big enough, and axe-core finds nothing, in light and dark`, async () => {
    for (const file of ['demo.html', 'sounding.html']) {
      for (const colorScheme of ['light', 'dark']) {
        const page = await openFile(browser, at(file), { viewport, colorScheme });
        if (file === 'sounding.html') await page.click('#practise summary');
        await assertFits(page);
        await assertBigTargets(page);
        await assertAccessible(page);
        assertQuiet(page, 'file:', 'blob:');
        await page.context().close();
      }
    }
  });
}

test('at 320 px and with letters of twice the size it still fits', async () => {
  const page = await openFile(browser, at('sounding.html'), { viewport: { width: 320, height: 640 } });
  await assertFits(page);
  const large = await openFile(browser, at('sounding.html'), { viewport: { width: 640, height: 800 } });
  await large.evaluate(() => document.documentElement.style.setProperty('font-size', '32px'));
  await assertFits(large);
});

test('in a wide window steps stand under their counts', async () => {
  const notes = '[A] 1 walk 3 turn 6 hop\n+ [B] 2 run 5 jump 8 land\n';
  const page = await openFile(browser, sheetOf('under', notes, null), { viewport: { width: 1280, height: 800 } });
  const apart = await page.$$eval('.steps.placed li', (all) => all.map((li) => {
    const column = Number(/c(\d)/.exec(li.className)[1]);
    const number = li.closest('.body').querySelectorAll('.numbers i')[column - 1];
    return Math.abs(li.getBoundingClientRect().left - number.getBoundingClientRect().left);
  }));
  assert.equal(apart.length, 6);
  assert.ok(apart.every((pixels) => pixels < 2), apart.join(' '));
});

test('every notebook of the samples makes a page that fits and that axe-core finds nothing in', async () => {
  const notebooks = join(root, 'tests/notebooks');
  for (const file of readdirSync(notebooks).filter((name) => name.endsWith('.txt'))) {
    const out = at(`${file}.html`);
    countwright('sheet', join(notebooks, file), '-o', out);
    const page = await openFile(browser, out, { viewport: PHONE });
    await assertFits(page);
    await assertBigTargets(page);
    await assertAccessible(page);
    assertQuiet(page, 'file:');
    await page.context().close();
  }
});

const HIT = '<img src=x onerror="globalThis.hit=1"><script>globalThis.hit=1</script>\'"&amp;</title></style></script><!--';

test('notes are text, wherever they say something', async () => {
  const name = `take ${HIT.replaceAll('/', '|')}.wav`;
  writeClicks(at(name), 6, [0.5]);
  const notes = `piece: ${HIT}\ndance: ${HIT}\nrole: ${HIT}\ncast: A ${HIT}, B\nlanguage: x"><b>\nrecording: ${name}\n\n`
    + `# head ${HIT}\n[A ${HIT}] 1 step ${HIT} 3 turn\n+ [B ${HIT}] 1 jump ${HIT}\nthe gulls ${HIT} enter USL 1 other\n`;
  const file = sheetOf('hostile', notes, [[0.5, 8, 0.25], [2.5, 8, 0.25]], '--sound', 'opus');
  const page = await openFile(browser, file);
  await page.waitForTimeout(200);
  assert.equal(await page.evaluate(() => globalThis.hit), undefined);
  assert.equal(await page.locator('img, iframe, object, b:not(.steps b, .where b)').count(), 0);
  assert.equal(await page.locator('script').count(), 2); // its data and its own, the recording being taken out
  const told = await page.evaluate(() => document.body.textContent + document.title);
  assert.ok(told.split('<img src=x onerror').length > 8, told);
  assertQuiet(page, 'file:', 'blob:');
});

test('chance notes of signs and controls never become markup', async () => {
  const signs = ['<', '>', '&', '"', "'", '`', '\\', '{{', '}}', ']]>', '<!--', '-->', '\u001b[31m', '\u202e', '\ufeff',
    '&lt;', '&#60;', '</li>', '<svg onload=globalThis.hit=1>', '=', '/', 'a', 'é', '舞', ' ', '%', '\u2028'];
  let seed = 7;
  const chance = (n) => { seed = (seed * 48271) % 2147483647; return seed % n; };
  const text = () => Array.from({ length: 12 }, () => signs[chance(signs.length)]).join('');
  for (let round = 0; round < 5; round++) {
    const lines = Array.from({ length: 30 }, (_, i) => (i % 7 ? '' : `# ${text()}\n`) + `${1 + chance(8)} ${text()} ${1 + chance(8)} ${text()}`);
    const file = sheetOf('chance', `piece: ${text()}\nrole: ${text()}\n\n${lines.join('\n')}\n`, null);
    const page = await openFile(browser, file);
    assert.equal(await page.evaluate(() => globalThis.hit), undefined);
    const strange = await page.$$eval('*', (all) => [...new Set(all.map((element) => element.localName))].filter((name) =>
      !'html head meta title style body a header h1 h2 h3 p svg rect path text nav ul li main article div span b br i footer details summary dl dt dd section aside'.split(' ').includes(name)));
    assert.deepEqual(strange, []);
    assertQuiet(page, 'file:');
    await page.context().close();
  }
});

test('its policy lets nothing in: no other script, style, picture or address', async () => {
  const page = await openFile(browser, at('sounding.html'));
  const policy = await page.getAttribute('meta[http-equiv="Content-Security-Policy"]', 'content');
  assert.match(policy, /^default-src 'none';/);
  assert.doesNotMatch(policy, /unsafe|\*|https?:|data:/);
  assertQuiet(page, 'file:', 'blob:');
  await page.evaluate(async () => {
    const script = document.createElement('script');
    script.textContent = 'globalThis.hit = 1';
    const image = new Image();
    image.src = 'data:image/gif;base64,R0lGODlhAQABAAAAACw=';
    const style = document.createElement('style');
    style.textContent = 'body { color: rgb(1, 2, 3) }';
    document.body.append(script, image, style);
    document.body.insertAdjacentHTML('beforeend', '<p onclick="globalThis.hit=1" style="color: rgb(1, 2, 3)" id="late">late</p>');
    document.getElementById('late').click();
    await fetch('https://example.invalid/').catch(() => {});
  });
  assert.equal(await page.evaluate(() => globalThis.hit), undefined);
  assert.notEqual(await page.evaluate(() => getComputedStyle(document.body).color), 'rgb(1, 2, 3)');
  assert.notEqual(await page.evaluate(() => getComputedStyle(document.getElementById('late')).color), 'rgb(1, 2, 3)');
  assert.ok(page.troubles.length >= 5, 'the browser did not complain');
});

test('labels and notes each have their language', async () => {
  const notes = 'piece: Le port\nlanguage: French\n\n# Quai\n1 marcher\n';
  const mixed = await openFile(browser, sheetOf('mixed', notes, null, '--language', 'de'));
  assert.equal(await mixed.getAttribute('html', 'lang'), 'de');
  assert.deepEqual(await mixed.$$eval('h1, h2.section, .steps span', (all) => all.map((e) => e.lang)), ['fr', 'fr', 'fr']);
  await assertAccessible(mixed);
  const own = await openFile(browser, sheetOf('own', notes, null));
  assert.equal(await own.getAttribute('html', 'lang'), 'fr');
  assert.equal(await own.locator('[lang]:not(html)').count(), 0);
  for (const language of ['en', 'fr', 'de', 'es', 'it', 'pt', 'ru', 'ja']) {
    const page = await openFile(browser, sheetOf('labels', 'walk\n', null, '--language', language), { viewport: PHONE });
    assert.equal(await page.getAttribute('html', 'lang'), language);
    await assertAccessible(page);
  }
});

test('stage plans are pictures with words, and no two things in the page have one name', async () => {
  const notes = 'cast: Mira, Boys\n\n[Mira] 1-4 run DSL > C > USR 5 face DSR\n+ [Boys] 1-8 enter from wing 2 SL to C\n1-8 circle left round C\n';
  const page = await openFile(browser, sheetOf('plans', notes, null), { viewport: { width: 1280, height: 800 } });
  const labels = await page.$$eval('svg.plan', (all) => all.map((svg) => svg.getAttribute('aria-label')));
  assert.equal(labels.length, 2);
  assert.match(labels[0], /Mira: DSL > C > USR; Boys: .* > C/);
  const twice = await page.$$eval('[id]', (all) => all.map((e) => e.id).filter((id, i, ids) => ids.indexOf(id) !== i));
  assert.deepEqual(twice, []);
  const inside = await page.$$eval('svg.plan', (all) => all.every((svg) => {
    const frame = svg.getBoundingClientRect();
    return [...svg.querySelectorAll('path, text')].every((part) => {
      const box = part.getBoundingClientRect();
      return box.left > frame.left - 2 && box.right < frame.right + 2 && box.top > frame.top - 2 && box.bottom < frame.bottom + 2;
    });
  }));
  assert.ok(inside, 'something lies outside a plan');
});

test('on paper it is black on white, without the player', async () => {
  const page = await openFile(browser, at('sounding.html'), { colorScheme: 'dark' });
  await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
  assert.equal(await page.locator('.player').isVisible(), false);
  const [ink, paper] = await page.evaluate(() => [getComputedStyle(document.body).color, getComputedStyle(document.body).backgroundColor]);
  assert.deepEqual([ink, paper], ['rgb(0, 0, 0)', 'rgb(255, 255, 255)']);
  await assertFits(page);
});

test('the keyboard reaches everything, first of all a way past the head', async () => {
  const page = await openFile(browser, at('sounding.html'));
  await page.keyboard.press('Tab');
  assert.equal(await page.evaluate(() => document.activeElement.className), 'skip');
  await page.keyboard.press('Enter');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'phrases');
  await page.keyboard.press('Tab');
  assert.equal(await page.evaluate(() => document.activeElement.className), 'from');
  const hidden = await page.$$eval('button, select, input, summary, a', (all) => all.filter((e) => e.tabIndex < 0).length);
  assert.equal(hidden, 0);
});
