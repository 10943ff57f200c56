// SPDX-License-Identifier: GPL-3.0-or-later
// player.js without a browser: the count line, and a player on a recording that only keeps time.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { setTimeout as sleep } from 'node:timers/promises';
import { root } from './harness.mjs';

// old versions of node lack the one, and take a file for a module by its ending alone
globalThis.CustomEvent ??= class extends Event {
  constructor(type, { detail }) {
    super(type);
    this.detail = detail;
  }
};
const source = readFileSync(join(root, 'src/print/web/player.js'), 'base64');
const { CountLine, Player } = await import(`data:text/javascript;base64,${source}`);

/// An even line: phrases of [start, counts, length of a count].
const even = (...phrases) => new CountLine(phrases.map(([start, counts, length]) => (
  { counts: Array.from({ length: counts }, (_, i) => start + i * length), end: start + counts * length })));

const line = even([1, 8, 0.5], [5, 6, 0.5], [10, 8, 0.25]); // a hold from 8 to 10

test('each time has its count, from the one to the end, and holds have none', () => {
  assert.equal(line.placeAt(0.999), null);
  assert.deepEqual(line.placeAt(1), { phrase: 0, count: 1 });
  assert.deepEqual(line.placeAt(4.99), { phrase: 0, count: 8 });
  assert.deepEqual(line.placeAt(5), { phrase: 1, count: 1 });
  assert.deepEqual(line.placeAt(7.99), { phrase: 1, count: 6 });
  assert.equal(line.placeAt(8), null);
  assert.deepEqual(line.placeAt(11.8), { phrase: 2, count: 8 });
  assert.equal(line.placeAt(12), null);
});

test('going from change to change meets every count once', () => {
  const met = [];
  for (let time = 0; ;) {
    time = line.nextChange(time);
    if (time === Infinity) break;
    met.push(time);
  }
  const counts = line.phrases.flatMap((phrase) => phrase.counts);
  assert.deepEqual(met, [...counts, 8, 12].sort((a, b) => a - b));
});

test('the phrase after a time is the one that sounds or comes', () => {
  assert.deepEqual([0, 4, 5, 9, 11, 50].map((time) => line.phraseAfter(time)), [0, 0, 1, 2, 2, 2]);
});

/// What an audio element is to a player: it keeps time by the clock.
class Clock extends EventTarget {
  paused = true;
  ended = false;
  muted = false;
  #at = 0;
  #since = 0;
  #rate = 1;

  constructor(duration = 60) {
    super();
    this.duration = duration;
  }

  get currentTime() {
    const played = this.paused ? 0 : ((performance.now() - this.#since) / 1000) * this.#rate;
    return Math.min(this.duration, this.#at + played);
  }

  set currentTime(time) {
    this.#at = time;
    this.#since = performance.now();
    queueMicrotask(() => this.dispatchEvent(new Event('seeked')));
  }

  get playbackRate() {
    return this.#rate;
  }

  set playbackRate(rate) {
    this.#at = this.currentTime;
    this.#since = performance.now();
    this.#rate = rate;
    queueMicrotask(() => this.dispatchEvent(new Event('ratechange')));
  }

  async play() {
    if (!this.paused) return;
    this.#since = performance.now();
    this.paused = false;
    this.dispatchEvent(new Event('play'));
  }

  pause() {
    if (this.paused) return;
    this.#at = this.currentTime;
    this.paused = true;
    queueMicrotask(() => this.dispatchEvent(new Event('pause')));
  }
}

/// A sound card that only notes when clicks would sound, in the time of `media`.
function cardOf(media, clicks) {
  globalThis.OscillatorNode = class {
    connect(next) { return next; }
    start(at) { clicks.push(media.currentTime + (at - performance.now() / 1000) * media.playbackRate); }
    stop() {}
  };
  globalThis.GainNode = class {
    gain = { setValueAtTime() {}, exponentialRampToValueAtTime() {} };
    connect(next) { return next; }
  };
  return { get currentTime() { return performance.now() / 1000; }, resume() {}, destination: {} };
}

function playerOn(media, clicks = []) {
  const player = new Player(media, line, () => cardOf(media, clicks));
  const places = [];
  player.addEventListener('place', ({ detail }) => places.push(detail && { ...detail, at: media.currentTime, muted: media.muted }));
  return { player, places };
}

/// Timers of a busy machine are late.
const LATE_S = 0.08;

test('places are told as they come, at any speed', async () => {
  for (const rate of [1, 2, 0.5]) {
    const media = new Clock();
    const { player, places } = playerOn(media);
    player.rate = rate;
    player.playFrom(1);
    await sleep(1300 / rate);
    player.pause();
    assert.deepEqual(places.slice(0, 3).map(({ phrase, count }) => [phrase, count]), [[1, 1], [1, 2], [1, 3]]);
    places.slice(0, 3).forEach(({ at }, i) => assert.ok(at >= 5 + i * 0.5 && at < 5 + i * 0.5 + LATE_S * rate, `${at}`));
  }
});

test('a loop plays its phrases again and no others', async () => {
  const media = new Clock();
  const { player, places } = playerOn(media);
  player.rate = 4;
  player.loop = { from: 2, to: 2 };
  player.play();
  await sleep(1400);
  player.pause();
  const ones = places.filter((place) => place?.count === 1);
  assert.ok(ones.length >= 3, `${ones.length} rounds`);
  assert.ok(places.filter(Boolean).every(({ phrase }) => phrase === 2));
});

test('a loop given the wrong way round is turned', () => {
  const { player } = playerOn(new Clock());
  player.loop = { from: 2, to: 0 };
  assert.deepEqual(player.loop, { from: 0, to: 2 });
  player.loop = null;
  assert.equal(player.loop, null);
});

test('a count-in clicks at the phrase\'s pace while the music is silent, and the music comes in on its one', async () => {
  const media = new Clock();
  const clicks = [];
  const { player, places } = playerOn(media, clicks);
  player.countIn = 4;
  player.rate = 2;
  player.playFrom(1);
  assert.ok(player.playing && media.muted);
  await sleep(1500);
  player.pause();
  assert.deepEqual(clicks.map((time) => Math.round(time * 10) / 10), [3, 3.5, 4, 4.5]);
  const led = places.filter((place) => place?.countIn);
  assert.deepEqual(led.map(({ count, phrase }) => [count, phrase]), [[1, 1], [2, 1], [3, 1], [4, 1]]);
  assert.ok(led.every(({ muted }) => muted));
  const one = places.find((place) => place && !place.countIn && place.phrase === 1);
  assert.deepEqual([one.count, one.muted], [1, false]);
  assert.ok(one.at >= 4.95 && one.at < 5 + 2 * LATE_S, `${one.at}`);
});

test('a count-in longer than the music before it begins before the recording does', async () => {
  const media = new Clock();
  const clicks = [];
  const { player, places } = playerOn(media, clicks);
  player.countIn = 4;
  player.rate = 2;
  player.playFrom(0); // two seconds of clicks before the one at 1 s
  assert.ok(player.position < -0.9);
  assert.ok(player.playing && media.paused);
  await sleep(1300);
  player.pause();
  assert.equal(clicks.length, 4);
  const one = places.find((place) => place && !place.countIn);
  assert.deepEqual([one.phrase, one.count, one.muted], [0, 1, false]);
  assert.equal(places.filter((place) => place?.countIn).length, 4);
});

test('a seek that ends a hair before the one is the one', () => {
  const media = new Clock();
  const { player } = playerOn(media);
  player.goTo(1);
  media.currentTime = 4.9999;
  assert.deepEqual([player.place.phrase, player.place.count, player.phrase], [1, 1, 1]);
});

test('pausing in a count-in goes to the one, with the sound on', () => {
  const media = new Clock();
  const { player } = playerOn(media);
  player.countIn = 8;
  player.playFrom(2);
  player.pause();
  assert.deepEqual([player.playing, media.muted, media.currentTime], [false, false, 10]);
});

test('stepping goes to ones, forward from a hold to the next, back within a moment to the one before', () => {
  const media = new Clock();
  const { player } = playerOn(media);
  const from = (time, way) => {
    media.currentTime = time;
    player.step(way);
    return media.currentTime;
  };
  assert.equal(from(1.2, 1), 5);
  assert.equal(from(9, 1), 10);
  assert.equal(from(7.5, -1), 5);
  assert.equal(from(5.2, -1), 1);
  assert.equal(from(11, 1), 10);
  assert.equal(from(0.5, -1), 1);
});
