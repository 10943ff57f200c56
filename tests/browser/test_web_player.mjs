// SPDX-License-Identifier: GPL-3.0-or-later
// The one-file web sheet with the recording inside: what is lit is what sounds.
import assert from 'node:assert/strict';
import { statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { assertQuiet, countwright, fixtures, lineOf, openBrowser, openPage, scratch, tryCountwright,
  writeClicks } from './harness.mjs';

const folder = scratch(after);
const at = (name) => join(folder, name);
const browser = await openBrowser(after);
const PLACES = 20;
const WITHIN_S = 0.06;
const TRIES = 3; // a busy machine may be late by itself

for (const sound of ['aac', 'opus']) {
  countwright('sheet', join(fixtures, 'demo.txt'), '-o', at(`${sound}.html`), '--sound', sound);
}
const counts = countwright('sheet', join(fixtures, 'demo.txt'), '--list', 'counts').trimEnd().split('\n')
  .map((line) => line.split('\t').map(Number)).map(([time, phrase, count]) => ({ time, phrase, count }));

/// Three short phrases with a hold before the last, as clicks: [first second, counts, seconds of a count].
const short = [[1, 4, 0.25], [2, 4, 0.25], [4, 8, 0.125]];
writeClicks(at('short.wav'), 6, short.flatMap(([start, n, length]) => Array.from({ length: n }, (_, i) => start + i * length)));
writeFileSync(at('short.csv'), lineOf(short));
writeFileSync(at('short.txt'), 'recording: short.wav\n4 walk\n4 same as 1\n8 run\n');
countwright('sheet', at('short.txt'), '--line', at('short.csv'), '-o', at('short.html'), '--sound', 'aac');

/// A page that notes each count lit with the recording's time, each click, and each seek.
async function openWatched(file, options) {
  const page = await openPage(browser, { offline: true, ...options });
  await page.addInitScript(() => {
    globalThis.lit = [];
    globalThis.clicks = [];
    addEventListener('DOMContentLoaded', () => {
      const media = document.getElementById('media');
      new MutationObserver((changes) => {
        for (const { target } of changes) {
          if (!target.matches('.numbers i.lit')) continue;
          const article = target.closest('article');
          lit.push({ at: media.currentTime, phrase: Number(article.querySelector('.number').textContent), count: Number(target.textContent) });
        }
      }).observe(document.querySelector('main'), { subtree: true, attributeFilter: ['class'] });
      const { start } = OscillatorNode.prototype;
      OscillatorNode.prototype.start = function startClick(when) {
        clicks.push(media.currentTime + (when - this.context.currentTime) * media.playbackRate);
        return start.call(this, when);
      };
    });
  });
  await page.goto(pathToFileURL(file).href);
  await page.waitForFunction(() => document.getElementById('media').readyState >= 3);
  return page;
}

const time = (page) => page.evaluate(() => document.getElementById('media').currentTime);

/// Play from just before a count until it is lit. @return The recording's time then.
async function timeLit(page, { time: start, phrase, count }, rate = 1) {
  await page.evaluate(({ start, rate }) => {
    lit.length = 0;
    const media = document.getElementById('media');
    media.playbackRate = rate;
    media.currentTime = start - 0.2;
    return media.play();
  }, { start, rate });
  await page.waitForFunction(({ phrase, count }) => lit.some((place) => place.phrase === phrase && place.count === count), { phrase, count }, { polling: 20, timeout: 4000 });
  return page.evaluate(({ phrase, count }) => lit.find((place) => place.phrase === phrase && place.count === count).at, { phrase, count });
}

for (const [sound, rate] of [['aac', 1], ['opus', 0.7]]) {
  test(`the count lit is the count line's at ${PLACES} places (${sound}, ${rate * 100} %), within ${WITHIN_S * 1000} ms`, async () => {
    const page = await openWatched(at(`${sound}.html`));
    const off = [];
    for (let i = 0; i < PLACES; i++) {
      const place = counts[Math.floor(((i + 0.5) * counts.length) / PLACES)];
      let nearest = Infinity;
      for (let k = 0; k < TRIES && nearest > WITHIN_S; k++) {
        nearest = Math.min(nearest, Math.abs(await timeLit(page, place, rate) - place.time));
      }
      off.push(nearest);
    }
    assert.ok(off.every((seconds) => seconds <= WITHIN_S), `off by ${off.map((seconds) => Math.round(1000 * seconds)).join(' ')} ms`);
    console.log(`lit off by at most ${Math.round(1000 * Math.max(...off))} ms, ${Math.round((1000 * off.reduce((a, b) => a + b)) / PLACES)} ms on average`);
    assertQuiet(page, 'file:', 'blob:');
    await page.context().close();
  });
}

test('what is decoded lies where it lay in the recording, to a millisecond', async () => {
  for (const sound of ['aac', 'opus']) {
    const file = at(`short-${sound}.html`);
    countwright('sheet', at('short.txt'), '--line', at('short.csv'), '-o', file, '--sound', sound);
    const page = await openPage(browser, { offline: true });
    await page.addInitScript(() => {
      const { createObjectURL } = URL;
      URL.createObjectURL = (blob) => { globalThis.recording = blob; return createObjectURL.call(URL, blob); };
    });
    await page.goto(pathToFileURL(file).href);
    const onsets = await page.evaluate(async (expected) => {
      const buffer = await new OfflineAudioContext(1, 48000, 48000).decodeAudioData(await recording.arrayBuffer());
      const samples = buffer.getChannelData(0);
      return expected.map((second) => {
        const from = Math.round((second - 0.05) * buffer.sampleRate);
        const found = samples.subarray(from, from + 0.1 * buffer.sampleRate).findIndex((x) => Math.abs(x) > 0.1);
        return found < 0 ? NaN : (from + found) / buffer.sampleRate - second;
      });
    }, [1, 2, 2.75, 4]);
    assert.ok(onsets.every((off) => Math.abs(off) < 0.001), `${sound}: ${onsets}`);
    await page.context().close();
  }
});

test('a phrase that is tapped is played from its one, and is named as the current one', async () => {
  const page = await openWatched(at('aac.html'), { viewport: { width: 360, height: 740 }, hasTouch: true });
  await page.locator('#p4 .steps').tap();
  await page.waitForFunction(() => !document.getElementById('media').paused);
  const one = counts.find(({ phrase, count }) => phrase === 4 && count === 1);
  const now = await time(page);
  assert.ok(now >= one.time - 0.01 && now < one.time + 3, `${now} for ${one.time}`);
  assert.equal(await page.getAttribute('#p4', 'aria-current'), 'true');
  assert.equal(await page.locator('[aria-current]').count(), 1);
  assert.equal(await page.textContent('#play'), 'Pause');
  await page.click('#p5 .from');
  assert.equal(await page.getAttribute('#p5', 'aria-current'), 'true');
  assert.equal(await page.locator('#p5 details.like').evaluate((details) => details.open), true); // the steps it repeats
  await page.click('#play');
  assert.equal(await page.textContent('#play'), 'Play');
});

test('a loop plays its phrases again and again, and nothing else', async () => {
  const page = await openWatched(at('short.html'));
  await page.click('#practise summary');
  await page.check('#loop');
  await page.selectOption('#loop-from', '1');
  await page.selectOption('#loop-to', '2');
  await page.click('#play');
  await page.waitForFunction(() => lit.filter(({ phrase, count }) => phrase === 2 && count === 1).length >= 3, null, { timeout: 30000 });
  const lit = await page.evaluate(() => globalThis.lit);
  assert.deepEqual(lit.filter(({ phrase }) => phrase === 1), []);
  assert.ok(lit.filter(({ phrase, count }) => phrase === 3 && count === 8).length >= 2);
  assert.deepEqual(await page.$$eval('.looped', (all) => all.map(({ id }) => id)), ['p2', 'p3']);
  await page.click('#p1 .from'); // a phrase outside: the loop goes there
  assert.deepEqual(await page.$$eval('.looped', (all) => all.map(({ id }) => id)), ['p1']);
  await page.uncheck('#loop');
  assert.equal(await page.locator('.looped').count(), 0);
});

test('a count-in clicks the counts before the one, while the music is silent', async () => {
  const page = await openWatched(at('short.html'));
  await page.click('#practise summary');
  await page.selectOption('#count-in', '4');
  await page.click('#p2 .from');
  assert.equal(await page.evaluate(() => document.getElementById('media').muted), true);
  await page.waitForFunction(() => lit.length > 0);
  assert.equal(await page.evaluate(() => document.getElementById('media').muted), false);
  const { clicks, lit } = await page.evaluate(() => ({ clicks, lit }));
  assert.equal(clicks.length, 4);
  [1, 1.25, 1.5, 1.75].forEach((second, i) => assert.ok(Math.abs(clicks[i] - second) < WITHIN_S, `${clicks}`));
  assert.deepEqual([lit[0].phrase, lit[0].count], [2, 1]);
  assert.ok(Math.abs(lit[0].at - 2) < 2 * WITHIN_S, `${lit[0].at}`);
});

test('slower is slower at the same pitch', async () => {
  const page = await openWatched(at('aac.html'));
  await page.click('#practise summary');
  await page.locator('#rate').fill('60');
  assert.equal(await page.textContent('#rate-told'), '60 %');
  await page.click('#p1 .from');
  await page.waitForTimeout(300);
  const [from, began] = await page.evaluate(() => [document.getElementById('media').currentTime, performance.now()]);
  await page.waitForTimeout(1500);
  const [to, ended] = await page.evaluate(() => [document.getElementById('media').currentTime, performance.now()]);
  assert.ok(Math.abs((1000 * (to - from)) / (ended - began) - 0.6) < 0.06, `${(1000 * (to - from)) / (ended - began)}`);
  assert.equal(await page.evaluate(() => document.getElementById('media').preservesPitch), true);
});

test('the space bar plays and stops, arrows go from phrase to phrase', async () => {
  const page = await openWatched(at('short.html'));
  await page.keyboard.press('ArrowRight');
  assert.equal(await time(page), 1);
  await page.keyboard.press('ArrowRight');
  assert.equal(await time(page), 2);
  await page.keyboard.press('ArrowLeft');
  assert.equal(await time(page), 1);
  await page.keyboard.press('Space');
  await page.waitForFunction(() => lit.some(({ count }) => count === 2));
  await page.keyboard.press('Space');
  assert.equal(await page.evaluate(() => document.getElementById('media').paused), true);
  assert.equal(await page.evaluate(() => scrollY), 0);
});

test('it plays to the end and from the beginning again', async () => {
  const page = await openWatched(at('short.html'));
  await page.click('#p3 .from');
  await page.waitForFunction(() => document.getElementById('media').ended, null, { timeout: 10000 });
  assert.equal(await page.locator('.lit').count(), 0);
  assert.equal(await page.textContent('#play'), 'Play');
  await page.click('#play');
  await page.waitForFunction(() => lit.at(-1).phrase === 1);
  assertQuiet(page, 'file:', 'blob:');
});

test('the size of the recording inside is told beforehand, and is about right', async () => {
  for (const sound of ['aac', 'opus']) {
    const { stderr } = tryCountwright('sheet', join(fixtures, 'demo.txt'), '-o', at('size.html'), '--overwrite', '--sound', sound);
    const told = Number(/takes about ([\d.]+) MB/.exec(stderr)[1]);
    const without = 6e4;
    const is = (statSync(at('size.html')).size - without) / 1e6;
    assert.ok(told / is > 0.8 && told / is < 1.35, `${sound}: told ${told}, is ${is}`);
  }
});
