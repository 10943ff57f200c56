// SPDX-License-Identifier: GPL-3.0-or-later
// What the browser tests share: the program, a scratch folder, a browser whose pages tell all that goes wrong in them.
import assert from 'node:assert/strict';
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

export const root = resolve(fileURLToPath(import.meta.url), '../../..');
export const fixtures = join(root, 'audio-fixtures');
export const program = process.env.CW_PROGRAM ?? join(root, 'build/countwright');

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const axeRules = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

/// A folder of its own, away at the end of the test or suite `t`.
export function scratch(after) {
  const folder = mkdtempSync(join(tmpdir(), 'cw-browser-'));
  after(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/// Run the program; fails the test when it fails. @return What it wrote to standard output.
export function countwright(...args) {
  const environment = { ...process.env, LC_ALL: 'C.UTF-8' };
  return execFileSync(program, args, { encoding: 'utf8', env: environment, maxBuffer: 1 << 28, stdio: ['ignore', 'pipe', 'pipe'] });
}

/// Run the program, whatever comes of it. @return { status, stdout, stderr }
export function tryCountwright(...args) {
  return spawnSync(program, args, { encoding: 'utf8', input: '' });
}

/// A browser for all tests of a file; call with the file's `after`.
export async function openBrowser(after) {
  const browser = await chromium.launch({
    executablePath: process.env.CW_CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--autoplay-policy=no-user-gesture-required', '--mute-audio'],
  });
  after(() => browser.close());
  return browser;
}

/// A page that remembers what goes wrong in it (`page.troubles`) and what it fetched (`page.fetched`).
/// `options` are those of a Playwright context: viewport, colorScheme, deviceScaleFactor ...
export async function openPage(browser, options = {}) {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  page.troubles = [];
  page.fetched = [];
  page.on('console', (message) => {
    if (['error', 'warning'].includes(message.type())) page.troubles.push(`${message.type()}: ${message.text()}`);
  });
  page.on('pageerror', (error) => page.troubles.push(`uncaught: ${error.stack}`));
  page.on('requestfailed', (request) => page.troubles.push(`failed: ${request.url().slice(0, 200)}`));
  page.on('request', (request) => page.fetched.push(request.url()));
  return page;
}

/// Open a file of this machine, with the network off.
export async function openFile(browser, path, options = {}) {
  const page = await openPage(browser, { offline: true, ...options });
  await page.goto(pathToFileURL(path).href);
  return page;
}

/// No error, no warning, and nothing fetched but from these beginnings of addresses.
export function assertQuiet(page, ...allowed) {
  assert.deepEqual(page.troubles, []);
  const strange = page.fetched.filter((url) => !allowed.some((start) => url.startsWith(start)));
  assert.deepEqual(strange.map((url) => url.slice(0, 200)), []);
}

/// No violation of the rules of access that axe-core knows, AA and good practice. The page's own policy may forbid scripts,
/// so axe is put in by the debugger, not by the page.
export async function assertAccessible(page) {
  await page.evaluate(axeSource);
  const result = await page.evaluate((rules) => globalThis.axe.run(document, { runOnly: rules }), axeRules);
  const found = result.violations.map(({ id, help, nodes }) =>
    `${id}: ${help}: ${nodes.slice(0, 3).map((node) => `${node.target} ${node.failureSummary ?? ''}`).join(' | ')}`);
  assert.deepEqual(found, []);
  assert.ok(result.passes.length > 10, 'axe-core looked at hardly anything');
}

/// Nothing has to be scrolled sideways to be read.
export async function assertFits(page) {
  const [needed, there] = await page.evaluate(() => [document.documentElement.scrollWidth, document.documentElement.clientWidth]);
  assert.ok(needed <= there, `the page is ${needed} px wide, the window ${there}`);
}

/// Whatever is pressed or chosen is big enough for a finger: `least` CSS pixels each way. Links in running text are left out.
export async function assertBigTargets(page, least = 44) {
  const small = await page.evaluate((least) =>
    [...document.querySelectorAll('button, input, select, summary, [role=button], [tabindex="0"]')]
      .filter((element) => element.checkVisibility() && !element.closest('.visually-hidden'))
      .map((element) => [element, (element.closest('label') ?? element).getBoundingClientRect()])
      .filter(([, box]) => box.width < least - 0.5 || box.height < least - 0.5)
      .map(([element, box]) => `${element.outerHTML.slice(0, 80)} ${box.width} x ${box.height}`), least);
  assert.deepEqual(small, []);
}

/// A WAV file of clicks at these seconds: 16 bits, one channel, 16 kHz.
export function writeClicks(path, seconds, times) {
  const rate = 16000;
  const data = Buffer.alloc(2 * Math.round(seconds * rate));
  for (const time of times) {
    for (let i = 0; i < 600 && 2 * (Math.round(time * rate) + i) < data.length; i++) {
      const sample = 0.7 * Math.exp(-i / 120) * Math.sin((2 * Math.PI * 1200 * i) / rate);
      data.writeInt16LE(Math.round(32767 * sample), 2 * (Math.round(time * rate) + i));
    }
  }
  const head = Buffer.alloc(44);
  head.write('RIFF\0\0\0\0WAVEfmt ', 0, 'latin1');
  head.writeUInt32LE(36 + data.length, 4);
  [[16, 4], [1, 2], [1, 2], [rate, 4], [2 * rate, 4], [2, 2], [16, 2]].reduce((at, [value, bytes]) => head.writeUIntLE(value, at, bytes), 16);
  head.write('data', 36, 'latin1');
  head.writeUInt32LE(data.length, 40);
  writeFileSync(path, Buffer.concat([head, data]));
}

/// A count line as `carry --line` writes it in CSV, of phrases [first second, counts, seconds of a count].
export function lineOf(phrases) {
  const lines = ['phrase,count,time_s,phrase_end_s,counts_per_min,confidence'];
  phrases.forEach(([start, counts, length], p) => {
    for (let i = 0; i < counts; i++) {
      const fields = [start + i * length, start + counts * length, 60 / length].map((x) => x.toFixed(3));
      lines.push([p + 1, i + 1, ...fields, 1].join(','));
    }
  });
  return `${lines.join('\r\n')}\r\n`;
}
