// SPDX-License-Identifier: GPL-3.0-or-later
// The one-file sheet with its recording: the page's buttons on one side, the player on the other.
import { CountLine, Player } from './player.js';

const FOLLOW_AGAIN_MS = 4000; // after someone scrolled, the page leaves her where she is for so long

const at = (id) => document.getElementById(id);
const { phrases, labels } = JSON.parse(at('counts').textContent);

/// The recording, out of the page's text. In slices: a long one is many megabytes.
function unpackRecording() {
  const holder = at('recording');
  const text = holder.textContent;
  const slices = [];
  for (let i = 0; i < text.length; i += 1 << 18) {
    slices.push(Uint8Array.from(atob(text.slice(i, i + (1 << 18))), (sign) => sign.charCodeAt(0)));
  }
  const { type } = holder.dataset;
  holder.remove();
  return URL.createObjectURL(new Blob(slices, { type }));
}

const media = at('media');
media.src = unpackRecording();
const player = new Player(media, new CountLine(phrases));

/// Each phrase: its article and the numbers of its counts.
const shown = phrases.map(({ number }) => {
  const article = at(`p${number}`);
  return { article, numbers: [...article.querySelectorAll(':scope > .body > .numbers > i')] };
});

let lit = null;
let current = null;
let scrolledAt = -Infinity;

function light(number) {
  if (number === lit) return;
  lit?.classList.remove('lit');
  number?.classList.add('lit');
  lit = number;
}

/// Into view when it is out of it, unless she is looking elsewhere.
function follow(article) {
  if (!player.playing || performance.now() - scrolledAt < FOLLOW_AGAIN_MS) return;
  const box = article.getBoundingClientRect();
  const foot = document.querySelector('.player').getBoundingClientRect().top;
  if (box.top < 0 || box.bottom > foot) article.scrollIntoView({ block: 'center' });
}

function markPhrase(phrase) {
  const next = phrase === null ? null : shown[phrase];
  if (next === current) return;
  current?.article.classList.remove('now');
  current?.article.removeAttribute('aria-current');
  for (const steps of current?.article.querySelectorAll('details.opened') ?? []) {
    steps.open = false;
    steps.classList.remove('opened');
  }
  current = next;
  if (!current) return;
  current.article.classList.add('now');
  current.article.setAttribute('aria-current', 'true');
  for (const steps of current.article.querySelectorAll('details.like:not([open])')) {
    steps.open = true; // what it is like is needed now
    steps.classList.add('opened');
  }
  follow(current.article);
}

/// Seconds as "m:ss", or "h:mm:ss".
function timeText(seconds) {
  const whole = Math.max(0, Math.floor(seconds));
  const two = (number) => String(number).padStart(2, '0');
  const minutes = Math.floor(whole / 60);
  const text = `${minutes % 60}:${two(whole % 60)}`;
  return minutes < 60 ? text : `${Math.floor(minutes / 60)}:${two(minutes % 60)}:${two(whole % 60)}`;
}

function tellTime() {
  at('where-time').textContent = timeText(player.position);
  const strip = at('strip');
  at('cursor')?.setAttribute('x', (1000 * Math.max(0, player.position)) / Number(strip.dataset.seconds) - 2);
}

function tellPlace() {
  const { place } = player;
  const counted = place && !place.countIn ? place : null;
  light(counted ? shown[counted.phrase].numbers[counted.count - 1] : null);
  if (place) markPhrase(place.phrase);
  at('where-phrase').textContent = String(phrases[player.phrase].number);
  // an eight's last counts are those that are given before it
  at('where-count').textContent = place ? String(place.count + (place.countIn ? 8 - place.countIn : 0)) : '\u2013';
  tellTime();
}

function tellState() {
  at('play').textContent = player.playing ? labels.Pause : labels.Play;
  const { loop } = player;
  at('loop').checked = loop !== null;
  shown.forEach(({ article }, i) => article.classList.toggle('looped', loop !== null && i >= loop.from && i <= loop.to));
  if (loop) {
    at('loop-from').value = loop.from;
    at('loop-to').value = loop.to;
  }
}

/// Play from a phrase; a loop that it is not in goes to it.
function playFrom(phrase) {
  const { loop } = player;
  if (loop && (phrase < loop.from || phrase > loop.to)) player.loop = { from: phrase, to: phrase };
  player.playFrom(phrase);
}

/// Take the loop from its fields; where one is moved past the other, that goes along.
function chooseLoop({ target }) {
  const [from, to] = [at('loop-from'), at('loop-to')];
  if (Number(from.value) > Number(to.value)) (target === from ? to : from).value = target.value;
  player.loop = at('loop').checked ? { from: Number(at('loop-from').value), to: Number(at('loop-to').value) } : null;
}

for (const [i, { number, counts }] of phrases.entries()) {
  for (const select of [at('loop-from'), at('loop-to')]) select.add(new Option(`${number}  (${timeText(counts[0])})`, i));
}

player.addEventListener('place', tellPlace);
player.addEventListener('state', tellState);
setInterval(tellTime, 250);
media.addEventListener('seeked', tellPlace);

at('play').addEventListener('click', () => player.toggle());
at('before').addEventListener('click', () => player.step(-1));
at('after').addEventListener('click', () => player.step(1));
at('rate').addEventListener('input', ({ target }) => {
  player.rate = Number(target.value) / 100;
  at('rate-told').textContent = `${target.value} %`;
});
at('count-in').addEventListener('change', ({ target }) => {
  player.countIn = Number(target.value);
});
at('loop').addEventListener('change', (event) => {
  if (event.target.checked) at('loop-from').value = at('loop-to').value = player.phrase;
  chooseLoop(event);
});
at('loop-from').addEventListener('change', chooseLoop);
at('loop-to').addEventListener('change', chooseLoop);

document.querySelector('main').addEventListener('click', ({ target }) => {
  const article = target.closest('[data-phrase]');
  const other = target.closest('a, summary, input, select, button:not(.from)');
  if (article && !other && getSelection().isCollapsed) playFrom(phrases.findIndex(({ number }) => number === Number(article.dataset.phrase)));
});

document.addEventListener('keydown', (event) => {
  if (event.altKey || event.ctrlKey || event.metaKey || event.target.closest('button, a, input, select, summary')) return;
  const action = { ' ': () => player.toggle(), ArrowLeft: () => player.step(-1), ArrowRight: () => player.step(1) }[event.key];
  if (!action) return;
  event.preventDefault();
  action();
});
for (const event of ['wheel', 'touchmove']) {
  document.addEventListener(event, () => { scrolledAt = performance.now(); }, { passive: true });
}

// buttons of headphones and locked screens
if ('mediaSession' in navigator) {
  navigator.mediaSession.metadata = new MediaMetadata({ title: document.title });
  const actions = { play: () => player.play(), pause: () => player.pause(), previoustrack: () => player.step(-1), nexttrack: () => player.step(1) };
  for (const [name, action] of Object.entries(actions)) navigator.mediaSession.setActionHandler(name, action);
}

tellPlace();
tellState();
