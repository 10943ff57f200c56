// SPDX-License-Identifier: GPL-3.0-or-later
// The desk in a true browser: each thing that can be done on it, by mouse, by touch and by keys.
import assert from 'node:assert/strict';
import { copyFileSync, existsSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { assertAccessible, assertBigTargets, assertFits, assertQuiet as assertAllQuiet, fixtures, openBrowser, scratch } from './harness.mjs';
import { demoFolder, openDesk, openPiece } from './desk.mjs';

const box = scratch(after);
const cache = join(box, 'cache');
const folder = demoFolder(box);
const notes = join(folder, 'demo.txt');
const browser = await openBrowser(after);
const desk = await openDesk(folder, { cache });
after(() => desk.close());
const phone = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true };

const text = () => readFileSync(notes, 'utf8');
const begin = text();

/// The notes as at the beginning, and a page on them.
async function open(options) {
  writeFileSync(notes, begin);
  return openPiece(browser, desk, 'demo.txt', options);
}

/// Nothing went wrong on the page. That the player gives up a part of the recording that it no longer needs is no trouble.
function assertQuiet(page) {
  page.troubles = page.troubles.filter((trouble) => !/^failed: .*\/recording\?/.test(trouble));
  assertAllQuiet(page, desk.origin);
}

const close = (page) => page.context().close();

/// Wait until something of the page is so.
const until = (page, wanted, value) => page.waitForFunction(wanted, value, { timeout: 20000 });

/// Wait until the notes on the disk are so.
async function untilNotes(wanted) {
  for (let i = 0; i < 200; i++) {
    if (wanted(text())) return;
    await new Promise((done) => setTimeout(done, 50));
  }
  assert.fail(text());
}

async function goTo(page, seconds) {
  await page.evaluate((s) => {
    const sound = document.querySelector('#sound');
    return new Promise((done) => { sound.addEventListener('seeked', done, { once: true }); sound.currentTime = s; });
  }, seconds);
}

test('the shelf lists notes with their recording, and recordings without notes', async () => {
  const page = await openPiece(browser, desk);
  await until(page, () => document.querySelectorAll('#pieces button').length === 2);
  assert.deepEqual(await page.locator('#pieces button').allInnerTexts(),
    ['The Paper Harbour · The Ferrymen\nnotes and demo-rehearsal.ogg', 'demo-performance\nrecording, no notes yet']);
  await page.locator('#pieces button').first().click();
  await until(page, () => document.querySelector('#title').textContent.includes('Ferrymen'));
  assertQuiet(page);
  await close(page);
});

for (const [name, options] of Object.entries({ phone, laptop: { viewport: { width: 1280, height: 800 } },
  dark: { viewport: { width: 1280, height: 800 }, colorScheme: 'dark' }, projector: { viewport: { width: 1920, height: 1080 } } })) {
  test(`every part of the page is accessible, fits and can be pressed: ${name}`, async () => {
    const page = await open(options);
    for (const tab of ['write', 'correct', 'tap', 'compare', 'hand']) {
      await page.click(`#tab-${tab}`);
      await assertAccessible(page);
      await assertFits(page);
    }
    await page.click('#tab-write');
    await page.click('#place');
    await assertAccessible(page);
    await assertFits(page);
    await page.click('#home');
    await until(page, () => document.querySelectorAll('#pieces button').length > 0);
    await assertAccessible(page);
    await assertFits(page);
    await assertBigTargets(page);
    await close(page);
  });
}

test('the music is drawn: sound where there is sound, and a line for each one', async () => {
  const page = await open();
  await until(page, () => {
    const canvas = document.querySelector('#near');
    const data = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height).data;
    let drawn = 0;
    for (let i = 3; i < data.length; i += 4) drawn += data[i] > 0;
    return drawn > 0.05 * data.length / 4;
  });
  await page.check('#beats-shown');
  for (const id of ['nearer', 'nearer', 'wider', 'wider', 'wider']) await page.click(`#${id}`);
  assertQuiet(page);
  await close(page);
});

test('it plays and counts, slower and with a count-in, and repeats a phrase', async () => {
  const page = await open();
  await goTo(page, 6);
  await page.click('#play');
  await until(page, () => document.querySelector('#count').textContent === '2');
  assert.match(await page.innerText('#where-phrase'), /Phrase 1 of 19 · Out on the water/);
  await page.selectOption('#speed', '0.5');
  assert.equal(await page.evaluate(() => document.querySelector('#sound').playbackRate), 0.5);
  await page.selectOption('#speed', '1');
  await page.selectOption('#count-in', '2');
  await page.click('#loop');
  await until(page, () => document.querySelector('#count').classList.contains('before'));
  await until(page, () => document.querySelector('#count').className === 'one');
  await page.click('#play');
  assert.equal(await page.innerText('#play'), 'Play');
  assert.equal(await page.getAttribute('#loop', 'aria-pressed'), 'true');
  assertQuiet(page);
  await close(page);
});

test('the count alone fills the window', async () => {
  const page = await open({ viewport: { width: 1920, height: 1080 } });
  await page.click('#large');
  const height = await page.evaluate(() => parseFloat(getComputedStyle(document.querySelector('#count')).fontSize));
  assert.ok(height > 500, `${height} px`);
  await assertAccessible(page);
  await page.keyboard.press('l');
  await page.waitForSelector('#tabs');
  await close(page);
});

test('a one is dragged to another time, which is a pin in the notes', async () => {
  const page = await open();
  await goTo(page, 21);
  await page.waitForTimeout(200);
  const place = await page.evaluate(async () => {
    const { desk: { music, timed } } = await import('/page/state.js');
    const area = document.querySelector('#near').getBoundingClientRect();
    return { x: area.x + (timed[2].counts[0] - music.start) * music.perSecond, y: area.y + 20, one: timed[2].counts[0], scale: music.perSecond };
  });
  await page.mouse.move(place.x, place.y);
  await page.mouse.down();
  await page.mouse.move(place.x + 12, place.y, { steps: 4 });
  await page.mouse.up();
  await untilNotes((now) => now !== begin);
  const pinned = text().match(/@ 0:(\d\d\.\d{3}) 1-4 four steps back/);
  assert.ok(pinned, text());
  assert.ok(Math.abs(Number(pinned[1]) - (place.one + 12 / place.scale)) < 0.03, `${pinned[1]} ${JSON.stringify(place)}`);
  assertQuiet(page);
  await close(page);
});

test('"this is 1" pins the nearest one where it plays, at once, and can be undone and done again', async () => {
  const page = await open();
  await goTo(page, 21.8);
  await page.click('#tab-correct');
  await page.click('text=This is 1');
  await untilNotes((now) => now.includes('@ 0:21.800 1-4 four steps back'));
  await until(page, () => document.querySelector('#correct-here').textContent.includes('0:21.80'));
  await page.click('#undo');
  await untilNotes((now) => now === begin);
  await page.click('#redo');
  await untilNotes((now) => now.includes('@ 0:21.800'));
  assertQuiet(page);
  await close(page);
});

test('half and twice as fast and bars are told in the head of the notes', async () => {
  const page = await open();
  await page.click('#tab-correct');
  await page.click('text=Count twice as fast');
  await untilNotes((now) => now.includes('beats per count: 1.5\n'));
  await page.click('text=Count in bars');
  await untilNotes((now) => now.includes('beats per count: 3\n'));
  await page.click('text=Count half as fast');
  await untilNotes((now) => /beats per count: 6\n/.test(now));
  await close(page);
});

test('phrases are parted and joined, held and cut, each as a line of the notes', async () => {
  const page = await open();
  await page.click('#tab-correct');
  await goTo(page, 118.5); // the last phrase, on its 5 or 6
  await page.click('text=Begin a phrase here');
  await untilNotes((now) => /\n[4-6] counts 1-3 walk off slowly/.test(now));
  await goTo(page, 115);
  await page.click('text=Join with the next');
  await untilNotes((now) => /\n8( counts)? 1-3 walk off slowly.*8 still/.test(now));
  await goTo(page, 97);
  await page.click('text=The counts go on here');
  await untilNotes((now) => /rise|look out to sea\nhold until @1:37/.test(now) && now.includes('hold until @1:37.000'));
  await goTo(page, 95);
  await page.click('text=Not played');
  await untilNotes((now) => now.includes('; not played: 1-4 slow walk'));
  await close(page);
});

test('notes are typed, saved a moment later, and each line has its time', async () => {
  const page = await open();
  const line = await page.locator('#margin button').first().innerText();
  assert.match(line, /^0:05\.6 · 8/);
  await page.locator('#text').evaluate((area) => { area.focus(); area.setSelectionRange(area.value.length, area.value.length); });
  await page.keyboard.type('8 1-4 bow, all together');
  await untilNotes((now) => now.endsWith('8 1-4 bow, all together'));
  await until(page, () => document.querySelectorAll('#margin button').length === 19);
  assert.equal(await page.innerText('#word'), 'Saved');
  await page.click('#undo');
  await untilNotes((now) => now === begin);
  await close(page);
});

test('what does not add up is told beside the line and below', async () => {
  const page = await open();
  await page.fill('#text', `${begin}@ 0:02 8 too late\n`);
  await until(page, () => document.querySelector('#unclear').textContent.includes('expected a time after'));
  assert.ok(await page.locator('#margin .doubt').count() >= 1);
  await close(page);
});

test('a change on the disk is shown, and put together with what is typed elsewhere in the notes', async () => {
  const page = await open();
  writeFileSync(notes, begin.replace('language: en', 'language: fr'));
  await until(page, () => document.querySelector('#text').value.includes('language: fr'));
  await page.route('**/notes', async (route) => { await new Promise((done) => setTimeout(done, 300)); await route.continue(); });
  await page.fill('#text', text().replace('8 still', '8 still, look down'));
  writeFileSync(notes, text().replace('role: second ferryman', 'role: first ferryman'));
  await untilNotes((now) => now.includes('look down') && now.includes('first ferryman'));
  await until(page, () => document.querySelector('#text').value.includes('first ferryman'));
  await close(page);
});

test('a change of the same line on the disk is shown beside hers; nothing is lost', async () => {
  const page = await open();
  const area = page.locator('#text');
  await page.route('**/events', (route) => route.abort()); // she does not hear of it in time
  await page.evaluate(() => { document.querySelector('#text').value = document.querySelector('#text').value.replace('8 still', '8 mine'); });
  writeFileSync(notes, begin.replace('8 still', '8 theirs'));
  await new Promise((done) => setTimeout(done, 1200));
  await area.dispatchEvent('input');
  await page.waitForSelector('#clash:not([hidden])');
  assert.ok(text().includes('8 theirs'));
  assert.match(await page.innerText('#clash-theirs'), /8 theirs/);
  assert.match(await page.innerText('#clash-mine'), /8 mine/);
  await page.click('#keep-mine');
  await untilNotes((now) => now.includes('8 mine'));
  await page.click('#undo');
  await untilNotes((now) => now.includes('8 theirs'));
  await close(page);
});

test('two tabs show the same notes', async () => {
  const one = await open();
  const other = await openPiece(browser, desk, 'demo.txt');
  await one.fill('#text', begin.replace('8 close', '8 close, smile'));
  await until(other, () => document.querySelector('#text').value.includes('smile'));
  await close(one);
  await close(other);
});

test('it taps along by touch; the delay is estimated and the counts settle', async () => {
  const page = await open(phone);
  await page.click('#tab-tap');
  // taps 60 ms late on every count of the first phrases, as the desk hears of them
  const counts = readFileSync(join(fixtures, 'demo-rehearsal.counts'), 'utf8').trim().split('\n').slice(0, 40).map((line) => Number(line.split('\t')[0]));
  const times = counts.map((s, i) => s + 0.06 + 0.012 * Math.sin(5 * i));
  await goTo(page, 5.3);
  await page.tap('#tap-here'); // begins to play
  await until(page, () => !document.querySelector('#sound').paused);
  for (let i = 0; i < 5; i++) {
    await page.tap('#tap-here');
    await page.waitForTimeout(120);
  }
  assert.match(await page.innerText('#tap-count'), /^5 taps/);
  await page.evaluate(async (list) => {
    const { desk: state, take } = await import('/page/state.js');
    const { send } = await import('/page/api.js');
    take(await send('PUT', '/taps', { name: state.piece.name, times: list }));
  }, times);
  await until(page, () => /You tap \d+ ms late/.test(document.querySelector('#tap-found').textContent));
  const late = Number((await page.innerText('#tap-found')).match(/(\d+) ms late/)[1]);
  assert.ok(late > 25 && late < 95, `${late} ms`);
  assert.ok(existsSync(join(folder, 'demo.taps')));
  await page.click('#tap-forget');
  await until(page, () => document.querySelector('#tap-forget').hidden);
  assert.ok(!existsSync(join(folder, 'demo.taps')));
  assertQuiet(page);
  await close(page);
});

test('a way drawn on the stage by finger becomes words in the notes', async () => {
  const page = await open(phone);
  await page.locator('#text').evaluate((area) => { const at = area.value.indexOf('4 turn front') + 12; area.focus(); area.setSelectionRange(at, at); });
  await page.click('#place');
  const area = await page.locator('#stage-square').boundingBox();
  await page.locator('#stage-square').scrollIntoViewIfNeeded();
  const at = await page.locator('#stage-square').boundingBox();
  await page.mouse.move(at.x + at.width * 5 / 6, at.y + at.height * 5 / 6);
  await page.mouse.down();
  await page.mouse.move(at.x + at.width / 2, at.y + at.height / 2, { steps: 8 });
  await page.mouse.move(at.x + at.width / 6, at.y + at.height / 2, { steps: 8 });
  await page.mouse.up();
  await until(page, () => document.querySelector('#stage-words').textContent === 'DSL > C > SR');
  await page.click('#stage-put');
  await untilNotes((now) => now.includes('4 turn front DSL > C > SR'));
  assert.ok(area.width > 250);
  await close(page);
});

test('spellings are suggested and put in when chosen', async () => {
  const page = await open();
  await page.click('#spell');
  await page.waitForSelector('#spelling li');
  const first = page.locator('#spelling button').first();
  assert.match(await first.innerText(), /Line \d+: chasse → chassé/);
  await first.click();
  await untilNotes((now) => now.includes('6& chassé 7'));
  await close(page);
});

test('recordings are compared: a chart, a table, and a phrase heard in both', async () => {
  const page = await open();
  await page.click('#tab-compare');
  await page.check('text=demo-performance.ogg');
  await page.click('#compare-go');
  await page.waitForSelector('#drift-chart', { timeout: 60000 });
  await until(page, () => document.querySelector('#drift-chart').naturalWidth > 300);
  assert.equal(await page.locator('#compare-result tbody tr').count(), 19);
  await assertAccessible(page);
  await page.click('text=Phrase 4');
  await until(page, () => document.querySelector('#word').textContent === 'demo-performance.ogg', null);
  await page.click('text=Stop the sound');
  assertQuiet(page);
  await close(page);
});

test('the sheet is printed', async () => {
  const page = await open();
  await page.click('#tab-hand');
  const answer = await page.request.get(`${desk.origin}/sheet?name=demo.txt&form=pdf`);
  assert.equal(answer.headers()['content-type'], 'application/pdf');
  assert.equal((await answer.body()).subarray(0, 5).toString(), '%PDF-');
  const plain = await (await page.request.get(`${desk.origin}/sheet?name=demo.txt&form=txt`)).text();
  assert.match(plain, /The Ferrymen/);
  assert.match(plain, /0:05\.6/);
  await close(page);
});

test('sound to practise with is made, and a page with the music in it', async () => {
  const page = await open();
  await page.click('#tab-hand');
  await page.selectOption('#practice-counts', 'clicks');
  await page.selectOption('#practice-part', 'here');
  await goTo(page, 31);
  await page.click('#practice-go');
  await page.waitForSelector('#practice-made a', { timeout: 60000 });
  const link = await page.getAttribute('#practice-made a', 'href');
  const sound = await (await page.request.get(desk.origin + link)).body();
  assert.ok(sound.length > 20000, `${sound.length} bytes`);
  const sheet = await (await page.request.get(`${desk.origin}/sheet?name=demo.txt&form=html`)).text();
  assert.match(sheet, /^<!doctype html>/i);
  assert.ok(sheet.length > 1e6);
  await assertAccessible(page);
  assertQuiet(page);
  await close(page);
});

test('a recording is dropped in and counted; the first correction begins its notes', async () => {
  const page = await openPiece(browser, desk);
  await page.setInputFiles('#file', { name: 'new waltz.ogg', mimeType: 'audio/ogg', buffer: readFileSync(join(fixtures, 'demo-rehearsal.ogg')) });
  await until(page, () => location.hash === '#new%20waltz.ogg');
  await until(page, () => document.querySelector('#where-phrase').textContent !== '' && document.querySelector('#listening').hidden);
  await page.click('#tab-correct');
  await goTo(page, 5.6);
  await page.click('text=This is 1');
  await until(page, () => location.hash === '#new%20waltz.txt');
  const made = readFileSync(join(folder, 'new waltz.txt'), 'utf8');
  assert.match(made, /^recording: new waltz\.ogg\n/);
  assert.match(made, /@ 0:0[56]\.\d+ \d+ counts\n/);
  await page.goto(`${desk.origin}/`);
  await page.setInputFiles('#file', { name: 'no music.ogg', mimeType: 'audio/ogg', buffer: Buffer.from('these are words') });
  await until(page, () => document.querySelector('#bring-word').textContent !== '' && !document.querySelector('#bring-word').textContent.startsWith('Taking'));
  assert.ok(!existsSync(join(folder, 'no music.ogg')));
  await close(page);
});

test('the microphone is recorded', async () => {
  const context = await browser.newContext({ storageState: desk.state, permissions: ['microphone'] });
  const page = await context.newPage();
  await page.addInitScript(() => { // what a microphone would give, as there is none here
    navigator.mediaDevices.getUserMedia = async () => {
      const audio = new AudioContext();
      const out = new MediaStreamAudioDestinationNode(audio);
      const tone = new OscillatorNode(audio, { frequency: 440 });
      tone.connect(out);
      tone.start();
      return out.stream;
    };
  });
  await page.goto(`${desk.origin}/`);
  await page.click('#record');
  await page.waitForTimeout(2500);
  await page.click('#record');
  await until(page, () => location.hash.startsWith('#recorded'));
  const name = decodeURIComponent((await page.evaluate(() => location.hash)).slice(1));
  assert.ok(statSync(join(folder, name)).size > 1000);
  await context.close();
});

test('everything can be done by keys alone', async () => {
  const page = await open();
  const pressed = async (key) => { await page.keyboard.press(key); };
  await page.evaluate(() => document.activeElement?.blur());
  await pressed('ArrowRight');
  await pressed('ArrowRight');
  await until(page, () => document.querySelector('#where-phrase').textContent.startsWith('Phrase 2 '));
  await pressed('Space');
  await until(page, () => !document.querySelector('#sound').paused);
  await pressed('Space');
  await until(page, () => document.querySelector('#sound').paused);
  await pressed('r');
  assert.equal(await page.getAttribute('#loop', 'aria-pressed'), 'true');
  await pressed('-');
  assert.equal(await page.inputValue('#speed'), '0.9');
  await pressed('+');
  await pressed('i');
  assert.equal(await page.inputValue('#count-in'), '2');
  await pressed('1');
  await untilNotes((now) => now !== begin);
  await pressed('u');
  await untilNotes((now) => now === begin);
  await pressed('.');
  await untilNotes((now) => now !== begin);
  await pressed('u');
  await untilNotes((now) => now === begin);
  await pressed('t');
  assert.ok(await page.isVisible('#tap-here'));
  await pressed('n');
  await page.keyboard.press('Control+End');
  await page.keyboard.type('4 bow');
  await untilNotes((now) => now.endsWith('4 bow'));
  await page.keyboard.press('Control+z');
  await untilNotes((now) => now === begin);
  await pressed('Escape');
  await pressed('?');
  assert.ok(await page.isVisible('#keys'));
  await assertAccessible(page);
  await pressed('Escape');
  await pressed('h');
  await page.keyboard.press('Tab');
  for (const tab of ['Hand over', 'Notes', 'Put right']) {
    await page.locator('[role=tab][aria-selected=true]').focus();
    assert.equal(await page.evaluate(() => document.activeElement.textContent), tab);
    await pressed('ArrowRight');
  }
  assertQuiet(page);
  await close(page);
});

test('a full disk is told, and the notes are as they were', { skip: !existsSync('/dev/full') }, async () => {
  const page = await open();
  await page.route('**/notes', (route) => route.fulfill({ status: 507, contentType: 'application/json', body: '{"problem":"the disk is full: \'demo.txt\' is as it was"}' }));
  await page.fill('#text', `${begin}8 more\n`);
  await until(page, () => document.querySelector('#problem').textContent.includes('Not saved yet: the disk is full'));
  await page.unroute('**/notes');
  await untilNotes((now) => now.endsWith('8 more\n')); // it is tried again
  await close(page);
});

test('steps can be undone after the desk was closed and opened again', async () => {
  const own = demoFolder(box, 'again');
  const file = join(own, 'demo.txt');
  const first = await openDesk(own, { cache });
  const page = await openPiece(browser, first, 'demo.txt');
  await page.fill('#text', begin.replace('8 close', '8 close softly'));
  while (!readFileSync(file, 'utf8').includes('softly')) await page.waitForTimeout(50);
  await page.waitForTimeout(200);
  await close(page);
  await first.kill();
  copyFileSync(file, join(box, 'after.txt'));
  const second = await openDesk(own, { cache });
  const again = await openPiece(browser, second, 'demo.txt');
  await again.click('#undo');
  while (readFileSync(file, 'utf8') !== begin) await again.waitForTimeout(50);
  await again.click('#redo');
  while (!readFileSync(file, 'utf8').includes('softly')) await again.waitForTimeout(50);
  await close(again);
  await second.close();
});
