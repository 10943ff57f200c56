// SPDX-License-Identifier: GPL-3.0-or-later
// The way of someone new, from a recording of a phone to a printed sheet with counts that she put right. Each press is counted.
import assert from 'node:assert/strict';
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fixtures, openBrowser, scratch } from './harness.mjs';
import { openDesk, openPiece } from './desk.mjs';

const box = scratch(after);
const browser = await openBrowser(after);
const hasFfmpeg = spawnSync('ffmpeg', ['-version']).status === 0;

test('from an m4a to a printed sheet with corrected counts in seven presses', { skip: !hasFfmpeg && 'no ffmpeg' }, async (t) => {
  const folder = join(box, 'pieces');
  mkdirSync(folder);
  const phone = join(box, 'phone.m4a');
  execFileSync('ffmpeg', ['-v', 'error', '-i', join(fixtures, 'demo-rehearsal.ogg'), '-c:a', 'aac', phone]);
  const desk = await openDesk(folder, { cache: join(box, 'cache') });
  after(() => desk.close());
  const page = await openPiece(browser, desk);
  let presses = 0;
  const press = async (what) => { presses++; await page.click(what); };

  // 1, 2: choose the recording (one press opens the dialogue, one chooses the file)
  presses += 2;
  await page.setInputFiles('#file', phone);
  await page.waitForFunction(() => document.querySelector('#where-phrase').textContent !== '' && document.querySelector('#listening').hidden, null, { timeout: 60000 });
  // 3: play to where the first one is heard, at 5.6 s
  await press('#play');
  await page.waitForFunction(() => !document.querySelector('#sound').paused && document.querySelector('#sound').currentTime > 0.05);
  await page.evaluate(() => { document.querySelector('#sound').currentTime = 5.6; });
  // 4, 5: put right, this is 1
  await press('#tab-correct');
  await page.evaluate(() => { document.querySelector('#sound').pause(); document.querySelector('#sound').currentTime = 5.6; });
  await press('text=This is 1');
  await page.waitForFunction(() => location.hash === '#phone.txt');
  const notes = readFileSync(join(folder, 'phone.txt'), 'utf8');
  assert.match(notes, /@ 0:05\.6\d* \d+ counts/);
  // 6, 7: hand over, print
  await press('#tab-hand');
  const printed = page.context().waitForEvent('page').catch(() => null);
  await press('#hand-pdf');
  await Promise.race([printed, page.waitForTimeout(3000)]);
  const answer = await page.request.get(`${desk.origin}/sheet?name=phone.txt&form=pdf`);
  const pdf = join(box, 'sheet.pdf');
  writeFileSync(pdf, await answer.body());
  const text = spawnSync('pdftotext', [pdf, '-'], { encoding: 'utf8' }).stdout;
  assert.match(text, /0:05\.6/);
  t.diagnostic(`${presses} presses`);
  assert.equal(presses, 7);
});
