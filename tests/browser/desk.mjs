// SPDX-License-Identifier: GPL-3.0-or-later
// A desk that runs, for tests and for scripts/bench-desk.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { copyFileSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fixtures, openPage, program } from './harness.mjs';

/// Open a desk on a folder. Close it with `close()`, or kill it with `kill()`.
export async function openDesk(folder, { cache } = {}) {
  const child = spawn(program, ['desk', folder, '--no-browser'], {
    stdio: ['ignore', 'pipe', 'pipe'], env: { ...process.env, LC_ALL: 'C.UTF-8', ...(cache ? { XDG_CACHE_HOME: cache } : {}) },
  });
  let said = '';
  child.stderr.on('data', (data) => { said += data; });
  const address = await new Promise((done, fail) => {
    createInterface({ input: child.stdout }).once('line', done);
    child.once('exit', () => fail(new Error(said)));
  });
  const end = async (signal) => {
    if (child.exitCode === null && child.signalCode === null) {
      child.kill(signal);
      await once(child, 'exit');
    }
    return child.exitCode;
  };
  return { address, origin: new URL(address).origin, child, close: () => end('SIGINT'), kill: () => end('SIGKILL') };
}

/// A folder with the demo in it.
export function demoFolder(scratch, name = 'pieces') {
  const folder = join(scratch, name);
  mkdirSync(folder);
  for (const file of ['demo.txt', 'demo-rehearsal.ogg', 'demo-performance.ogg']) copyFileSync(join(fixtures, file), join(folder, file));
  return folder;
}

/// A page on a desk's piece, counted and quiet. `desk.state` is the browser's storage of who came in first.
export async function openPiece(browser, desk, name, options = {}) {
  const page = await openPage(browser, { ...options, storageState: desk.state });
  await page.goto(desk.state ? `${desk.origin}/` : desk.address);
  desk.state ??= await page.context().storageState();
  if (name) {
    await page.goto(`${desk.origin}/#${encodeURIComponent(name)}`);
    await page.waitForFunction(() => document.querySelector('#title').textContent !== 'Your pieces');
    await page.waitForFunction(() => document.querySelector('#where-phrase').textContent !== '' && document.querySelector('#listening').hidden,
      null, { timeout: 60000 });
  }
  return page;
}
