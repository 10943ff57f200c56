// SPDX-License-Identifier: GPL-3.0-or-later
// What scripts/bench-desk runs.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fixtures, openBrowser } from './harness.mjs';
import { openDesk, openPiece } from './desk.mjs';

const hours = Number(process.argv[2]);
const folder = mkdtempSync(join(tmpdir(), 'cw-bench-'));
const ends = [];
const after = (end) => ends.unshift(end);

function median(numbers) {
  return [...numbers].sort((a, b) => a - b)[Math.floor(numbers.length / 2)];
}

async function wait(page) {
  await page.waitForFunction(() => document.querySelector('#where-phrase').textContent !== '' && document.querySelector('#listening').hidden, null, { timeout: 1200000 });
}

try {
  const once = join(fixtures, 'demo-rehearsal.ogg');
  const times = Math.max(1, Math.ceil((hours * 3600) / 127.8));
  execFileSync('sox', [...Array(times).fill(once), '-r', '22050', '-c', '1', join(folder, 'long.wav')]);
  const desk = await openDesk(folder, { cache: join(folder, 'cache') });
  after(() => desk.close());
  const browser = await openBrowser(after);
  const begun = performance.now();
  const page = await openPiece(browser, desk);
  await page.goto(`${desk.origin}/#long.wav`);
  await wait(page);
  console.log(`listened to ${hours} h in ${((performance.now() - begun) / 1000).toFixed(0)} s`);

  const paints = [];
  for (let i = 0; i < 5; i++) {
    const fresh = await openPiece(browser, desk);
    await fresh.goto('about:blank');
    await fresh.goto(`${desk.origin}/#long.wav`);
    await wait(fresh);
    paints.push(await fresh.evaluate(() => performance.getEntriesByName('first-contentful-paint')[0].startTime));
    await fresh.context().close();
  }
  console.log(`first paint: median ${median(paints).toFixed(0)} ms, worst ${Math.max(...paints).toFixed(0)} ms`);

  const frames = async (work) => page.evaluate(async (what) => {
    const { desk: { music } } = await import('/page/state.js');
    const gaps = [];
    await new Promise((done) => {
      let last = performance.now();
      const begin = last;
      const step = (now) => {
        gaps.push(now - last);
        last = now;
        if (what === 'scroll') { music.start += 1.5; music.change(); }
        if (now - begin < 5000) requestAnimationFrame(step);
        else done();
      };
      requestAnimationFrame(step);
    });
    const late = gaps.filter((gap) => gap > 25).length;
    return { frames: gaps.length / 5, late };
  }, work);
  console.log('scrolling:', JSON.stringify(await frames('scroll')), 'frames a second, late ones of 5 s');
  await page.click('#play');
  console.log('playing:', JSON.stringify(await frames('play')));
  await page.click('#play');

  await page.click('#tab-correct');
  await page.click('text=This is 1'); // begins the notes
  await page.waitForFunction(() => location.hash === '#long.txt');
  await wait(page);
  const shown = [];
  for (let i = 0; i < 8; i++) {
    shown.push(await page.evaluate(async (at) => {
      const { desk: state, on } = await import('/page/state.js');
      const { correct } = await import('/page/correct.js');
      const index = (100 + 20 * at) % state.timed.length;
      const phrase = state.timed[index];
      const wanted = phrase.counts[0] + 0.05;
      const start = performance.now();
      const seen = new Promise((done) => on('piece', () => {
        if (Math.abs(state.timed[index].counts[0] - wanted) < 0.002) requestAnimationFrame(() => done(performance.now() - start));
      }));
      await correct('pin', { phrase: phrase.at, count: 1, time: wanted });
      return seen;
    }, i));
  }
  console.log(`correction shown: median ${median(shown).toFixed(0)} ms, worst ${Math.max(...shown).toFixed(0)} ms`);
} finally {
  for (const end of ends) await end();
  rmSync(folder, { recursive: true, force: true });
}
