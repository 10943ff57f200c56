// SPDX-License-Identifier: GPL-3.0-or-later
// What the parts of the page share: the piece, its player, and who wants to hear of changes.
import { CountLine, Player } from './player.js';
import { $ } from './words.js';

/// `piece` as the desk sent it; `timed` its phrases that have times, each with its index `at` in the notes.
export const desk = { piece: null, timed: [], counted: false, player: null, music: null };

const hearing = { piece: [], place: [], state: [], done: [] };

/// Hear of a change: 'piece' (another, or another version), 'place' (another count sounds), 'state' (plays or not), 'done' (long work).
export function on(kind, hear) {
  hearing[kind].push(hear);
}

export function tell(kind, detail) {
  hearing[kind].forEach((hear) => hear(detail));
}

const nothing = [{ counts: [0], end: 1e9 }]; // so that what is not counted yet can be played

function timedOf({ phrases, counts }) {
  return phrases.flatMap((phrase, at) => (phrase.first === undefined ? [] : [{
    ...phrase, at, counts: counts.slice(phrase.first, phrase.first + phrase.counts),
  }]));
}

/// Take a piece, or another version of it.
export function take(piece) {
  const isOther = desk.piece?.recording !== piece.recording || desk.piece === null;
  desk.piece = piece;
  desk.timed = timedOf(piece);
  desk.counted = desk.timed.length > 0;
  const line = new CountLine(desk.counted ? desk.timed : nothing);
  const sound = $('sound');
  if (isOther) {
    if (piece.recording) sound.src = `/recording?${new URLSearchParams({ name: piece.recording })}`;
    else sound.removeAttribute('src');
  }
  if (desk.player) Object.assign(desk.player.line, line);
  else {
    desk.player = new Player(sound, line);
    desk.player.addEventListener('place', ({ detail }) => tell('place', detail));
    desk.player.addEventListener('state', () => tell('state'));
  }
  tell('piece', isOther);
}

export function position() {
  return desk.player?.position ?? 0;
}

export function duration() {
  const { piece } = desk;
  const sound = $('sound').duration;
  return piece?.duration || (Number.isFinite(sound) ? sound : 0);
}

/// The timed phrase that sounds, or will next.
export function phraseHere() {
  return desk.counted ? desk.timed[desk.player.phrase] : null;
}

/// The timed phrase whose one is nearest to a time.
export function nearestOne(seconds) {
  let best = null;
  for (const phrase of desk.timed) {
    if (best === null || Math.abs(phrase.counts[0] - seconds) < Math.abs(best.counts[0] - seconds)) best = phrase;
  }
  return best;
}

export function seek(seconds) {
  const to = Math.max(0, Math.min(seconds, duration() || seconds));
  if (desk.player.playing && desk.player.place?.countIn) desk.player.pause();
  $('sound').currentTime = to;
}
