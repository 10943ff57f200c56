// SPDX-License-Identifier: GPL-3.0-or-later
// The stage, seen from above with the audience at its foot: a finger's way becomes words in the notes.
import { address, send } from './api.js';
import { desk, phraseHere } from './state.js';
import { flush, insert } from './write.js';
import { $, make, say } from './words.js';

let points = [];
let words = '';

function draw() {
  const canvas = $('stage-square');
  const ratio = Math.min(2, devicePixelRatio || 1);
  canvas.width = canvas.clientWidth * ratio;
  canvas.height = canvas.clientHeight * ratio;
  const context = canvas.getContext('2d');
  const style = getComputedStyle(document.documentElement);
  context.scale(ratio, ratio);
  const [w, h] = [canvas.clientWidth, canvas.clientHeight];
  context.strokeStyle = style.getPropertyValue('--rule');
  context.fillStyle = style.getPropertyValue('--quiet');
  context.font = '15px system-ui, sans-serif';
  context.textAlign = 'center';
  for (const part of [1 / 3, 2 / 3]) {
    context.strokeRect(part * w, 0, 0, h);
    context.strokeRect(0, part * h, w, 0);
  }
  ['USR', 'US', 'USL', 'SR', 'C', 'SL', 'DSR', 'DS', 'DSL'].forEach((name, i) =>
    context.fillText(name, ((i % 3) + 0.5) * (w / 3), (Math.floor(i / 3) + 0.5) * (h / 3)));
  if (points.length === 0) return;
  context.strokeStyle = context.fillStyle = style.getPropertyValue('--accent');
  context.lineWidth = 4;
  context.beginPath();
  points.forEach(([x, y], i) => context[i ? 'lineTo' : 'moveTo'](((x + 1) / 2) * w, (1 - y) * h));
  context.stroke();
  const [x, y] = points[points.length - 1];
  context.beginPath();
  context.arc(((x + 1) / 2) * w, (1 - y) * h, 9, 0, 2 * Math.PI);
  context.fill();
}

function add(event) {
  const canvas = $('stage-square');
  points.push([(2 * event.offsetX) / canvas.clientWidth - 1, 1 - event.offsetY / canvas.clientHeight]);
  draw();
}

async function read() {
  try {
    ({ words } = await send('POST', '/stage', { points }));
    $('stage-words').textContent = words;
    $('stage-put').disabled = false;
  } catch (problem) {
    say(problem.message);
  }
}

async function showPlan() {
  const phrase = phraseHere();
  await flush();
  $('stage-plan').hidden = !phrase;
  if (phrase) $('stage-plan').src = address('/plan', { name: desk.piece.name, phrase: phrase.at, version: desk.piece.version });
}

/// Places to choose without a pointer.
function addByName() {
  const select = $('stage-name');
  points.push(JSON.parse(select.value));
  draw();
  read();
}

export function setUpStage() {
  const canvas = make('canvas', { id: 'stage-square' });
  canvas.setAttribute('role', 'img');
  canvas.setAttribute('aria-label', 'The stage from above, the audience below. Draw a way, or add places by name');
  const name = make('select', { id: 'stage-name' });
  name.setAttribute('aria-label', 'Place');
  const rows = [['US', 5 / 6], ['', 0.5], ['DS', 1 / 6]];
  const columns = [['R', -2 / 3], ['', 0], ['L', 2 / 3]];
  for (const [row, y] of rows) {
    for (const [column, x] of columns) {
      const text = row + (column ? (row ? `${column}` : `S${column}`) : '') || 'C';
      name.append(make('option', { value: JSON.stringify([x, y]), textContent: row && column ? `${row.slice(0, 2)}${column}` : text }));
    }
  }
  const put = make('button', { id: 'stage-put', className: 'main', textContent: 'Put into the notes', disabled: true });
  const clear = make('button', { textContent: 'Begin again' });
  const byName = make('button', { textContent: 'Add this place' });
  const plan = make('img', { id: 'stage-plan', alt: 'Plan of this phrase, as the notes have it', hidden: true });
  plan.addEventListener('error', () => { plan.hidden = true; });
  $('stage-box').append(
    make('p', { textContent: 'Draw where you go, from where you are; the audience is below. A touch alone is a place.' }),
    canvas, make('p', { id: 'stage-words', className: 'row' }),
    make('div', { className: 'row small' }, put, clear, name, byName), plan);
  let drawing = false;
  canvas.addEventListener('pointerdown', (event) => { drawing = true; points = []; canvas.setPointerCapture(event.pointerId); add(event); });
  canvas.addEventListener('pointermove', (event) => { if (drawing) add(event); });
  canvas.addEventListener('pointerup', () => { if (drawing) read(); drawing = false; });
  clear.addEventListener('click', () => { points = []; words = ''; $('stage-words').textContent = ''; put.disabled = true; draw(); });
  byName.addEventListener('click', addByName);
  put.addEventListener('click', async () => { insert(words); await flush(); showPlan(); });
  $('place').addEventListener('click', () => {
    $('stage-box').hidden = !$('stage-box').hidden;
    $('place').setAttribute('aria-expanded', String(!$('stage-box').hidden));
    draw();
    showPlan();
  });
  $('place').setAttribute('aria-expanded', 'false');
  new ResizeObserver(() => { if (!$('stage-box').hidden) draw(); }).observe(canvas);
}
