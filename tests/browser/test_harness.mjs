// SPDX-License-Identifier: GPL-3.0-or-later
// The harness itself: what it is there to find, it finds.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { assertAccessible, assertBigTargets, assertFits, assertQuiet, openBrowser, openFile, root, scratch } from './harness.mjs';

const folder = scratch(after);
const browser = await openBrowser(after);

async function openPageOf(body) {
  const path = join(folder, 'page.html');
  writeFileSync(path, `<!doctype html><html lang="en"><meta charset="utf-8"><title>Page</title>
    <meta name="viewport" content="width=device-width"><main><h1>Page</h1>${body}</main></html>`);
  return openFile(browser, path, { viewport: { width: 360, height: 640 } });
}

test('a good page passes', async () => {
  const page = await openPageOf('<p>Words</p><button style="min-width: 44px; height: 44px">Go</button>');
  assertQuiet(page, 'file:');
  await assertAccessible(page);
  await assertFits(page);
  await assertBigTargets(page);
});

test('errors in the console and things fetched are found', async () => {
  const page = await openPageOf('<script>throw new Error("so")</script>');
  assert.throws(() => assertQuiet(page, 'file:'), /uncaught/);
  const other = await openPageOf('<img alt="" src="http://example.invalid/x.png">');
  other.troubles.length = 0;
  assert.throws(() => assertQuiet(other, 'file:'), /example/);
});

test('a picture without words, pale text, a wide table and a small button are found', async () => {
  await assert.rejects(assertAccessible(await openPageOf('<img src="data:,">')), /image-alt/);
  await assert.rejects(assertAccessible(await openPageOf('<p style="color: #bbb">pale</p>')), /color-contrast/);
  await assert.rejects(assertFits(await openPageOf('<div style="width: 900px">wide</div>')), /px wide/);
  await assert.rejects(assertBigTargets(await openPageOf('<button>x</button>')), /button/);
});

test('each case is counted, and one that fails is told', () => {
  const cases = join(folder, 'cases.mjs');
  writeFileSync(cases, `import { suite, test } from 'node:test';
    test('good', () => {});
    test('bad', () => { throw new Error('why'); });
    suite('some', () => { test('inner', () => {}); test('later', { skip: true }, () => {}); });`);
  const { NODE_TEST_CONTEXT: _, ...environment } = process.env;
  const reporter = join(root, 'tests/browser/reporter.mjs');
  const run = spawnSync('node', ['--test-reporter', reporter, cases], { encoding: 'utf8', env: environment });
  assert.notEqual(run.status, 0);
  assert.match(run.stdout, /ERROR .*why/);
  const log = `${run.stdout.replace(/^/gm, '1: ')}\n1/1 Test #1: cases ....***Failed 0.00 sec\n`;
  const count = spawnSync('awk', ['-f', join(root, 'scripts/count-tests.awk')], { encoding: 'utf8', input: log });
  assert.equal(count.stdout, 'skipped: 1\n2 passed, 1 failed\n');
});
