// SPDX-License-Identifier: GPL-3.0-or-later
// One piece: opened, played, kept up to date.
import { get } from './api.js';
import { setUpCompare } from './compare.js';
import { setUpCorrect } from './correct.js';
import { setUpHand } from './hand.js';
import { setUpKeys } from './keys.js';
import { Music } from './music.js';
import { desk, duration, on, position, take, tell } from './state.js';
import { titleOf } from './shelf.js';
import { setUpTabs } from './tabs.js';
import { setUpTap } from './tap.js';
import { $, make, say, time, trouble } from './words.js';
import { isTyped, setUpWrite } from './write.js';

const speeds = [0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.1];
const stages = { reading: 'Reading the recording', beats: 'Finding the beats', lineup: 'Lining the notes up' };
let open = null;
const music = new Music($('near'), $('far'));
desk.music = music;

function fillSpeeds() {
  $('speed').append(...speeds.map((speed) => make('option', { value: speed, textContent: `${Math.round(100 * speed)} %` })));
  $('speed').value = 1;
}

function lineOf(phrase) {
  const { text } = desk.piece;
  return text && phrase?.line ? (text.split(/\r\n|\n|\r/)[phrase.line - 1] ?? '') : '';
}

/// What is danced: its line; of a repeat also the line that it repeats.
function wordsOf(phrase) {
  const own = lineOf(phrase).replace(/^(@ *[\d:.,]+ *)+/, '');
  let first = phrase;
  while (first.like !== undefined) first = desk.piece.phrases[first.like];
  return first === phrase || first.line === phrase.line ? own : `${own}: ${lineOf(first).replace(/^(@ *[\d:.,]+ *)+/, '')}`;
}

function showPlace(place) {
  const output = $('count');
  const phrase = desk.counted ? desk.timed[place?.phrase ?? desk.player.phrase] : null;
  output.textContent = place && desk.counted ? place.count : '–';
  output.className = !place || !desk.counted ? '' : place.countIn ? 'before' : place.count === 1 ? 'one' : '';
  const section = phrase?.section === undefined ? '' : ` · ${desk.piece.sections[phrase.section]}`;
  $('where-phrase').textContent = phrase ? `Phrase ${phrase.at + 1} of ${desk.piece.phrases.length}${section}` : '';
  $('where-words').textContent = phrase ? wordsOf(phrase) : '';
}

function showState() {
  const { player } = desk;
  $('play').textContent = player.playing ? 'Stop' : 'Play';
  $('loop').setAttribute('aria-pressed', String(player.loop !== null));
  $('loop').textContent = player.loop ? `Repeating phrase ${desk.timed[player.loop.from]?.at + 1}` : 'Repeat this phrase';
  showPlace(player.place);
}

function showPiece() {
  const { piece } = desk;
  $('title').textContent = document.title = titleOf(piece);
  $('undo').disabled = !piece.undo;
  $('redo').disabled = !piece.redo;
  const wants = piece.wants && !piece.recording ? `The recording '${piece.wants}' is not in this folder.` : '';
  const failed = piece.state === 'failed' ? `${piece.recording}: ${piece.problem}` : '';
  trouble(wants || failed);
  $('music').hidden = $('transport').hidden = $('ways').hidden = $('now').hidden = !piece.recording;
  if (!piece.listening) $('listening').hidden = true;
  else if (piece.state === 'waiting') showProgress('Waiting', -1);
  for (const id of ['back', 'next', 'loop', 'count-in']) $(id).disabled = !desk.counted;
  showState();
}

function showProgress(stage, part) {
  $('listening').hidden = false;
  $('stage').textContent = `${stages[stage] ?? stage} …`;
  if (part < 0) $('part').removeAttribute('value');
  else $('part').value = part;
}

async function refresh() {
  const piece = await get('/piece', { name: open });
  if (piece.name === open) take(piece);
}

/// Open a piece by the name of its notes or recording.
export async function openPiece(name) {
  open = name;
  try {
    await refresh();
    trouble(desk.piece.recording || !desk.piece.wants ? '' : $('problem').textContent);
    showPiece();
  } catch (problem) {
    trouble(problem.message);
  }
}

export function closePiece() {
  open = null;
  document.body.classList.remove('large');
  desk.player?.pause();
}

/// The piece was given another name: a recording got its notes.
export function renamed(piece) {
  open = piece.name;
  history.replaceState(null, '', `#${encodeURIComponent(piece.name)}`);
  take(piece);
}

/// What the desk tells.
export function heard(event) {
  if (event.what === 'missed') {
    if (open) refresh().catch((problem) => trouble(problem.message));
  } else if (event.name !== open) {
    return;
  } else if (event.what === 'progress') {
    if (desk.piece?.state !== 'ready') showProgress(event.stage, event.part);
  } else if (event.what === 'peaks') {
    music.forget();
  } else if (event.what === 'counts' || (event.what === 'notes' && event.version !== desk.piece?.version)) {
    refresh().catch((problem) => trouble(problem.message));
  } else if (['compared', 'practised', 'making'].includes(event.what)) {
    tell('done', event);
  }
}

export function togglePlay() {
  if (desk.counted || desk.player.playing) desk.player.toggle();
  else $('sound').play().catch(() => say('The browser cannot play this recording'));
}

export function toggleLoop() {
  const { player } = desk;
  player.loop = player.loop ? null : { from: player.phrase, to: player.phrase };
  if (player.loop && player.playing) player.playFrom(player.loop.from);
}

/// The count alone, to be seen from afar.
export function toggleLarge() {
  const large = document.body.classList.toggle('large');
  $('large').setAttribute('aria-pressed', String(large));
}

function tick() {
  if (!$('piece').hidden && desk.piece?.recording) {
    const at = position();
    music.draw(at, desk.player.playing);
    const clock = `${time(at)} of ${time(duration(), 0)}`;
    if ($('clock').textContent !== clock) $('clock').textContent = clock;
  }
  requestAnimationFrame(tick);
}

function setUp() {
  fillSpeeds();
  $('play').addEventListener('click', togglePlay);
  $('back').addEventListener('click', () => desk.player.step(-1));
  $('next').addEventListener('click', () => desk.player.step(1));
  $('loop').addEventListener('click', toggleLoop);
  $('speed').addEventListener('change', ({ target }) => { desk.player.rate = Number(target.value); });
  $('count-in').addEventListener('change', ({ target }) => { desk.player.countIn = Number(target.value); });
  $('large').addEventListener('click', toggleLarge);
  $('sound').addEventListener('error', () => {
    if ($('sound').getAttribute('src')) trouble('The browser cannot play this recording; its counts can still be found and printed.');
  });
  $('sound').addEventListener('seeked', () => { if (!desk.player.playing) showPlace(desk.player.place); });
  on('piece', (isOther) => { if (isOther) music.open(desk.piece); else music.change(); showPiece(); });
  on('place', showPlace);
  on('state', showState);
  setUpTabs();
  setUpWrite();
  setUpCorrect(music);
  setUpTap();
  setUpCompare();
  setUpHand();
  setUpKeys(music);
  requestAnimationFrame(tick);
}

addEventListener('beforeunload', (event) => { if (isTyped()) event.preventDefault(); });
setUp();
