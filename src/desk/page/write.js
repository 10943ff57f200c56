// SPDX-License-Identifier: GPL-3.0-or-later
// The notes: typed, saved a moment later, each line with its time beside it.
import { get, Problem, send } from './api.js';
import { desk, on, seek, take } from './state.js';
import { renamed } from './piece.js';
import { setUpStage } from './stage.js';
import { $, make, say, time, trouble } from './words.js';

const SAVE_AFTER_MS = 500;
const AGAIN_AFTER_MS = 2000;

let base = { version: '', text: '' }; // what is on the disk, as far as is known here
let timer = 0;
let saving = null;
let clash = null;

const box = () => $('text');

/// Whether something is typed that is not on the disk yet.
export function isTyped() {
  return box().value !== base.text && !$('book').hidden;
}

/// Put a text into the box; the caret stays where it was in what is the same.
function put(text) {
  const now = box().value;
  if (now === text) return;
  const { selectionStart: caret, selectionEnd } = box();
  let same = 0;
  while (same < Math.min(caret, text.length) && now[same] === text[same]) same++;
  const shift = same < caret ? text.length - now.length : 0;
  box().value = text;
  box().setSelectionRange(caret + shift, selectionEnd + shift);
}

/// What is at a place that the browser has once: lines end with \n in its box.
const plain = (text) => text.replace(/\r\n?/g, '\n');

function showClash(theirs) {
  clash = theirs;
  $('clash').hidden = false;
  $('clash-mine').textContent = box().value;
  $('clash-theirs').textContent = theirs.text;
}

async function write(text, version, was) {
  const crlf = was.includes('\r\n');
  const ends = (t) => (crlf ? t.replace(/\n/g, '\r\n') : t);
  return send('PUT', '/notes', { name: desk.piece.name, base: version, was, text: ends(text) });
}

async function save() {
  if (clash || !isTyped()) return;
  const typed = box().value;
  const before = box().value;
  try {
    const piece = await write(typed, base.version, base.raw);
    say('Saved');
    trouble('');
    const further = box().value !== before ? box().value : null; // typed meanwhile
    base = { version: piece.version, text: plain(piece.text), raw: piece.text };
    if (further === null) put(base.text);
    else plan();
    take(piece);
  } catch (problem) {
    if (problem instanceof Problem && problem.status === 409) {
      showClash(problem.answer);
    } else {
      trouble(`Not saved yet: ${problem instanceof Problem ? problem.message : 'the desk does not answer'}`);
      timer = setTimeout(flush, AGAIN_AFTER_MS);
    }
  }
}

/// Save now what is typed.
export async function flush() {
  clearTimeout(timer);
  saving = (saving ?? Promise.resolve()).then(save);
  return saving;
}

function plan() {
  clearTimeout(timer);
  timer = setTimeout(flush, SAVE_AFTER_MS);
}

async function choose(mine) {
  const text = mine ? box().value : plain(clash.text);
  base = { version: clash.version, text: plain(clash.text), raw: clash.text };
  clash = null;
  $('clash').hidden = true;
  put(text);
  await flush();
  take(await get('/piece', { name: desk.piece.name }));
}

/// The first phrase of each line, and how many counts and phrases it has.
function phrasesByLine() {
  const lines = new Map();
  for (const phrase of desk.piece.phrases) {
    const line = lines.get(phrase.line) ?? { counts: 0, first: phrase };
    line.counts += phrase.counts;
    lines.set(phrase.line, line);
  }
  return lines;
}

function startOf(phrase) {
  return phrase.first === undefined ? NaN : desk.piece.counts[phrase.first];
}

/// Heights of the lines as the box breaks them.
function layOut(texts) {
  $('mirror').replaceChildren(...texts.map((text) => make('div', { textContent: text || '\u200b' })));
  $('mirror').style.height = 'auto';
  const tops = [...$('mirror').children].map((line) => line.offsetTop);
  const height = $('mirror').offsetHeight;
  $('mirror').style.height = '';
  return { tops, height };
}

function showMargin() {
  if (!desk.piece || $('book').hidden || !$('write').checkVisibility()) return;
  const texts = box().value.split('\n');
  const { tops, height } = layOut(texts);
  box().style.height = `${Math.max(height, 200)}px`;
  const unclear = new Set(desk.piece.unclear.map(({ line }) => line));
  const rows = [];
  for (const [number, { counts, first }] of phrasesByLine()) {
    if (tops[number - 1] === undefined) continue;
    const start = startOf(first);
    const doubt = unclear.has(number) || (first.sure >= 0 && first.sure < 0.6);
    const button = make('button', { textContent: `${Number.isFinite(start) ? time(start) : '–'} · ${counts}${doubt ? ' ?' : ''}` });
    button.classList.toggle('doubt', doubt);
    button.dataset.line = number;
    button.setAttribute('aria-label', `${button.textContent} counts${doubt ? ', not certain' : ''}: line ${number}`);
    button.style.top = `${tops[number - 1]}px`;
    if (Number.isFinite(start)) button.addEventListener('click', () => seek(start));
    rows.push(button);
  }
  $('margin').replaceChildren(...rows);
  markPlace();
}

function markPlace() {
  const place = desk.player?.place;
  const line = place && desk.counted ? desk.timed[place.phrase]?.line : null;
  for (const button of $('margin').children) button.classList.toggle('here', Number(button.dataset.line) === line);
}

function showUnclear() {
  const { unclear, messages } = desk.piece;
  const rows = [...unclear.map(({ line, text }) => `Line ${line}: ${text}`), ...messages];
  $('unclear-title').hidden = rows.length === 0;
  $('unclear').replaceChildren(...rows.map((text) => make('li', { textContent: text })));
}

function showNotes(isOther) {
  const { piece } = desk;
  $('no-notes').hidden = piece.text !== null;
  $('book').hidden = piece.text === null;
  $('begin-notes').disabled = piece.state !== 'ready';
  if (piece.text !== null && piece.version !== base.version) {
    const typed = !isOther && isTyped();
    if (!typed || isOther) {
      base = { version: piece.version, text: plain(piece.text), raw: piece.text };
      put(base.text);
    } // else what is typed meets it when it is saved
  }
  box().readOnly = !piece.writable;
  showMargin();
  showUnclear();
}

/// Undo or do again one step.
export async function step(forward) {
  await flush();
  try {
    const piece = await send('POST', '/step', { name: desk.piece.name, forward });
    base = { version: piece.version, text: plain(piece.text), raw: piece.text };
    put(base.text);
    take(piece);
    say(forward ? 'Done again' : 'Undone');
  } catch (problem) {
    say(problem.message);
  }
}

/// Put words in where the caret is.
export function insert(words) {
  const { selectionStart: from, selectionEnd: to, value } = box();
  const lead = from > 0 && !/\s$/.test(value.slice(0, from)) ? ' ' : '';
  box().setRangeText(lead + words, from, to, 'end');
  box().dispatchEvent(new Event('input'));
  box().focus();
}

async function showSpelling() {
  await flush();
  const { spellings } = await get('/spelling', { name: desk.piece.name });
  const rows = spellings.map(({ line, written, proper }) => {
    const button = make('button', { textContent: `Line ${line}: ${written} → ${proper}` });
    button.addEventListener('click', () => {
      const lines = box().value.split('\n');
      lines[line - 1] = lines[line - 1].replace(written, proper);
      put(lines.join('\n'));
      button.closest('li').remove();
      plan();
    });
    return make('li', {}, button);
  });
  $('spelling').hidden = false;
  $('spelling').replaceChildren(...(rows.length ? rows : [make('li', { textContent: 'Nothing looks misspelt.' })]));
}

export function setUpWrite() {
  box().addEventListener('input', () => { plan(); showMargin(); });
  box().addEventListener('blur', flush);
  box().addEventListener('keydown', (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== 'z') return;
    event.preventDefault();
    step(event.shiftKey);
  });
  $('undo').addEventListener('click', () => step(false));
  $('redo').addEventListener('click', () => step(true));
  $('keep-mine').addEventListener('click', () => choose(true));
  $('keep-theirs').addEventListener('click', () => choose(false));
  $('spell').addEventListener('click', showSpelling);
  $('begin-notes').addEventListener('click', async () => {
    try {
      renamed(await send('PUT', '/notes', { name: desk.piece.name }));
    } catch (problem) {
      trouble(problem.message);
    }
  });
  new ResizeObserver(showMargin).observe($('book'));
  $('write').addEventListener('chosen', showMargin);
  on('piece', showNotes);
  on('place', markPlace);
  setUpStage();
}
