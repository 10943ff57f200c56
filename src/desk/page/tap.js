// SPDX-License-Identifier: GPL-3.0-or-later
// Tapping along: on counts or on ones, by finger or space.
import { send } from './api.js';
import { desk, on, position, take } from './state.js';
import { togglePlay } from './piece.js';
import { $, make, say, time } from './words.js';

const LEAST = 4;
let taps = [];
let context = null;

/// How much later what plays is heard than the player says, in seconds of the recording.
export function heardLate() {
  try {
    context ??= new AudioContext();
  } catch {
    return 0;
  }
  const late = (context.outputLatency || 0) + (context.baseLatency || 0);
  return Math.min(0.5, late) * desk.player.rate;
}

/// A tap. @param event Its time of day is when it was felt, not when the page came to it.
export function tap(event) {
  if (!desk.player.playing) {
    togglePlay();
    return;
  }
  const ago = Math.max(0, performance.now() - event.timeStamp) / 1000;
  const seconds = position() - ago * desk.player.rate - heardLate();
  if (seconds >= 0) taps.push(Math.round(seconds * 1000) / 1000);
  show();
}

export const isTapping = () => !$('tap').hidden;

async function keep(times) {
  try {
    take(await send('PUT', '/taps', { name: desk.piece.name, times }));
    taps = [];
    say(times.length ? 'Your taps are kept; the counts settle' : 'Your taps are forgotten');
  } catch (problem) {
    say(problem.message, true);
  }
  show();
}

function tell({ delay, spread, missing, extra }) {
  const ms = Math.round(Math.abs(delay) * 1000);
  const late = ms < 5 ? 'You tap in time' : `You tap ${ms} ms ${delay > 0 ? 'late' : 'early'}; that is taken off`;
  return `${late}. Spread ${Math.round(spread * 1000)} ms, ${missing} missed, ${extra} too many.`;
}

function show() {
  const n = taps.length;
  $('tap-count').textContent = n ? `${n} taps, the last at ${time(taps[n - 1])}` : '';
  $('tap-use').disabled = n < LEAST;
  $('tap-again').disabled = n === 0;
  $('tap-forget').hidden = !desk.piece?.taps;
  $('tap-found').textContent = desk.piece?.taps && desk.piece.taps.delay !== null ? tell(desk.piece.taps) : '';
}

export function setUpTap() {
  const pad = make('button', { id: 'tap-here', textContent: 'Tap' });
  const use = make('button', { id: 'tap-use', className: 'main', textContent: 'Use these taps', disabled: true });
  const again = make('button', { id: 'tap-again', textContent: 'Begin again', disabled: true });
  const forget = make('button', { id: 'tap-forget', textContent: 'Forget the taps in use', hidden: true });
  pad.addEventListener('pointerdown', (event) => { event.preventDefault(); tap(event); });
  pad.addEventListener('keydown', (event) => {
    if ((event.key === ' ' || event.key === 'Enter') && !event.repeat) { event.preventDefault(); event.stopPropagation(); tap(event); }
  });
  use.addEventListener('click', () => keep([...taps].sort((a, b) => a - b)));
  again.addEventListener('click', () => { taps = []; show(); });
  forget.addEventListener('click', () => keep([]));
  const count = make('p', { id: 'tap-count', role: 'status' });
  count.setAttribute('role', 'status');
  $('tap').append(
    make('p', { textContent: 'Tap with the music, on every count or only on the ones: either is understood. The first tap starts it. Late taps do no harm.' }),
    pad, count, make('p', { id: 'tap-found' }), make('div', { className: 'row' }, use, again, forget));
  on('piece', (isOther) => { if (isOther) taps = []; show(); });
}
