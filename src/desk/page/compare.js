// SPDX-License-Identifier: GPL-3.0-or-later
// Other recordings of the same music beside this one: how fast they are, phrase by phrase, and how they sound.
import { address, get, send } from './api.js';
import { desk, on } from './state.js';
import { $, make, say, time } from './words.js';


let pair = null; // what is being heard, one after the other
const other = make('audio', { preload: 'none' });

function ask(recordings) {
  const boxes = recordings.map((name) => make('label', {}, make('input', { type: 'checkbox', value: name }), name));
  $('compare-choice').replaceChildren(...(boxes.length ? boxes : [make('p', { textContent: 'There is no other recording in the folder.' })]));
}

async function choose() {
  const { recordings } = await get('/shelf');
  ask(recordings.filter((name) => name !== desk.piece.recording));
}

async function begin() {
  const others = [...$('compare-choice').querySelectorAll('input:checked')].map(({ value }) => value);
  if (others.length === 0) {
    say('Choose a recording to compare with');
    return;
  }
  try {
    await send('POST', '/compare', { name: desk.piece.name, others });
    $('compare-word').textContent = 'Listening to them …';
  } catch (problem) {
    $('compare-word').textContent = problem.message;
  }
}

function stopHearing() {
  clearTimeout(pair?.timer);
  other.pause();
  pair = null;
}

/// Hear a phrase here, then there.
function hear(row, recording) {
  stopHearing();
  const sound = $('sound');
  desk.player.pause();
  desk.player.loop = null;
  sound.currentTime = row.a_start_s;
  other.src = address('/recording', { name: recording });
  other.currentTime = row.b_start_s;
  sound.play();
  say('This recording');
  const turn = { recording };
  pair = turn;
  const watch = () => {
    if (pair !== turn) return;
    if (!turn.second && sound.currentTime >= row.a_end_s) {
      sound.pause();
      turn.second = true;
      other.currentTime = row.b_start_s;
      other.play();
      say(recording);
    } else if (turn.second && other.currentTime >= row.b_end_s) {
      stopHearing();
      return;
    }
    turn.timer = setTimeout(watch, 15);
  };
  watch();
}

function words(percent) {
  if (!Number.isFinite(percent)) return 'not there';
  if (Math.abs(percent) < 2.5) return 'as fast';
  return `${Math.abs(percent).toFixed(0)} % ${percent > 0 ? 'faster' : 'slower'}`;
}

function rowOf(row, recording) {
  const name = `Phrase ${row.number}`;
  const button = make('button', { textContent: name });
  button.setAttribute('aria-label', `Hear phrase ${row.number} in both`);
  button.disabled = row.b_start_s === null || row.b_start_s === undefined;
  button.addEventListener('click', () => hear(row, recording));
  const ahead = Number.isFinite(row.ahead_s) ? `${Math.abs(row.ahead_s).toFixed(1)} s ${row.ahead_s >= 0 ? 'ahead' : 'behind'}` : '';
  return make('tr', {}, make('td', {}, button), make('td', { textContent: time(row.a_start_s) }),
    make('td', { textContent: time(row.b_start_s) }), make('td', { textContent: words(row.percent ?? NaN) }), make('td', { textContent: ahead }));
}

function tableOf({ name, rows }) {
  const head = make('tr', {}, ...['Hear both', 'Here', 'There', 'Tempo there', 'There it is'].map((text) => {
    const cell = make('th', { textContent: text });
    cell.scope = 'col';
    return cell;
  }));
  const box = make('div', { className: 'scroll', tabIndex: 0 }, make('table', {}, make('thead', {}, head), make('tbody', {}, ...rows.map((row) => rowOf(row, name)))));
  box.setAttribute('role', 'region');
  box.setAttribute('aria-label', name);
  return [make('h2', { textContent: name }), box];
}

async function showCompared() {
  const compared = await get('/compared', { name: desk.piece.name });
  $('compare-word').textContent = compared.problem ?? '';
  $('compare-result').replaceChildren();
  if (!compared.others?.length) return;
  const chart = make('img', { id: 'drift-chart', alt: 'Tempo of each phrase in all of them; the same is in the tables below', src: address('/chart', { name: desk.piece.name, turn: compared.turn }) });
  const summary = make('ul', {}, ...compared.summary.map((text) => make('li', { textContent: text })));
  $('compare-result').append(chart, summary, ...compared.others.flatMap(tableOf));
}

export function setUpCompare() {
  const go = make('button', { className: 'main', id: 'compare-go', textContent: 'Compare' });
  const stop = make('button', { textContent: 'Stop the sound' });
  const choice = make('div', { id: 'compare-choice', className: 'row' });
  choice.setAttribute('role', 'group');
  choice.setAttribute('aria-label', 'Recordings to compare with');
  const word = make('p', { id: 'compare-word' });
  word.setAttribute('role', 'status');
  $('compare').append(make('p', { textContent: 'Other recordings of the same music:' }), choice,
    make('div', { className: 'row' }, go, stop), word, make('div', { id: 'compare-result' }));
  go.addEventListener('click', begin);
  stop.addEventListener('click', () => { stopHearing(); desk.player.pause(); });
  $('compare').addEventListener('chosen', () => { if (desk.piece) choose().catch(() => {}); });
  on('piece', (isOther) => {
    if (!isOther) return;
    stopHearing();
    $('compare-result').replaceChildren();
    $('compare-word').textContent = '';
  });
  on('done', ({ what }) => { if (what === 'compared') showCompared().catch((problem) => { $('compare-word').textContent = problem.message; }); });
}
