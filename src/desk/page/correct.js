// SPDX-License-Identifier: GPL-3.0-or-later
// Putting counts right: each button changes the notes by a pin or a line.
import { send } from './api.js';
import { renamed } from './piece.js';
import { desk, nearestOne, on, phraseHere, position, take } from './state.js';
import { heardLate } from './tap.js';
import { flush } from './write.js';
import { $, make, say, time, trouble } from './words.js';

const NUDGE_S = 0.02;

/// Ask for a correction and show what comes of it.
export async function correct(what, more) {
  await flush();
  const { name } = desk.piece;
  try {
    const piece = await send('POST', '/correction', { name, what, ...more });
    trouble('');
    if (piece.name === name) take(piece);
    else renamed(piece);
    say('Changed; Undo takes it back');
  } catch (problem) {
    say(problem.message, true);
  }
}

/// The time that is heard now.
const now = () => Math.max(0, position() - (desk.player.playing ? heardLate() : 0));

export function thisIsOne() {
  const seconds = now();
  const phrase = nearestOne(seconds);
  if (phrase) correct('pin', { phrase: phrase.at, count: 1, time: seconds });
}

/// Move the one of this phrase a little.
export function nudge(way) {
  const phrase = nearestOne(now());
  if (phrase) correct('pin', { phrase: phrase.at, count: 1, time: Math.max(0, phrase.counts[0] + way * NUDGE_S) });
}

function level(factor) {
  correct('level', { count: desk.piece.beatsPerCount * factor });
}

function split() {
  const place = desk.player.line.placeAt(position());
  if (!place || place.count < 2) say('Go to the count on which the second phrase shall begin');
  else correct('split', { phrase: desk.timed[place.phrase].at, count: place.count });
}

function withPhrase(what, more = () => ({})) {
  const phrase = phraseHere();
  if (phrase) correct(what, { phrase: phrase.at, ...more(phrase) });
}

function hold() {
  const phrase = nearestOne(now());
  if (!phrase || phrase.at === 0) say('A hold comes after a phrase: go to where the counts go on');
  else correct('hold', { phrase: phrase.at - 1, time: now() });
}

const tools = [
  ['This is 1', 'the nearest one comes to where you are', thisIsOne],
  ['One a little earlier', '0.02 seconds; or drag its number in the music', () => nudge(-1)],
  ['One a little later', '', () => nudge(1)],
  ['Leave this one free', 'takes its pin away', () => withPhrase('unpin', () => ({ count: 1 }))],
  ['Count half as fast', 'each count lasts twice as long', () => level(2)],
  ['Count twice as fast', 'each count lasts half as long', () => level(0.5)],
  ['Count in bars', 'each count lasts a bar', () => correct('level', { count: desk.piece.metre })],
  ['Begin a phrase here', 'parts this phrase at the count where you are', split],
  ['Join with the next', 'makes one phrase of two', () => withPhrase('join')],
  ['The counts go on here', 'a hold before this place', hold],
  ['Not played', 'this phrase is cut in this recording', () => withPhrase('cut')],
];

export function setUpCorrect(music) {
  const here = make('p', { id: 'correct-here' });
  const box = make('div', { className: 'tools' }, ...tools.map(([name, hint, act]) => {
    const button = make('button', {}, name);
    if (hint) button.append(make('small', { textContent: hint }));
    button.addEventListener('click', act);
    return button;
  }));
  $('correct').append(here, box, make('p', { className: 'small', textContent: 'Everything is written into the notes as text, and can be undone.' }));
  const show = () => {
    const phrase = desk.counted ? nearestOne(position()) : null;
    here.textContent = phrase ? `Nearest one: phrase ${phrase.at + 1}, at ${time(phrase.counts[0], 2)}${phrase.sure >= 0 && phrase.sure < 0.6 ? ', not certain: listen' : ''}` : 'The music is not counted yet.';
    for (const button of box.children) button.disabled = !desk.counted;
  };
  on('piece', show);
  on('place', show);
  $('sound').addEventListener('seeked', show);
  music.onDragged = (phrase, seconds) => correct('pin', { phrase: phrase.at, count: 1, time: seconds });
}
