// SPDX-License-Identifier: GPL-3.0-or-later
// Plays a recording by its counts. A plain module without any page: the one-file sheet has it inside, others import it.
// Times are seconds in the recording; phrases are indices from 0, counts go from 1.

/// Where the counts fall. `phrases` is an array of { counts: [seconds, ascending], end: seconds }, in the recording's order.
export class CountLine {
  constructor(phrases) {
    this.phrases = phrases;
    this.starts = phrases.map(({ counts }) => counts[0]);
  }

  get length() {
    return this.phrases.length;
  }

  start(phrase) {
    return this.starts[phrase];
  }

  end(phrase) {
    return this.phrases[phrase].end;
  }

  /// The mean length of a phrase's counts.
  countLength(phrase) {
    const { counts, end } = this.phrases[phrase];
    return (end - counts[0]) / counts.length;
  }

  /// What sounds: { phrase, count }; null before the first one, in a hold and after the end.
  placeAt(time) {
    const phrase = lastAtOrBefore(this.starts, time);
    if (phrase < 0 || time >= this.phrases[phrase].end) return null;
    return { phrase, count: lastAtOrBefore(this.phrases[phrase].counts, time) + 1 };
  }

  /// The first phrase that ends after a time; the last one when none does.
  phraseAfter(time) {
    const found = this.phrases.findIndex(({ end }) => end > time);
    return found < 0 ? this.length - 1 : found;
  }

  /// When placeAt() changes next; Infinity after the end.
  nextChange(time) {
    const phrase = lastAtOrBefore(this.starts, time);
    const { counts, end } = this.phrases[phrase] ?? { counts: [], end: -1 };
    const next = counts.find((count) => count > time);
    if (next !== undefined) return next;
    return time < end ? end : (this.starts[phrase + 1] ?? Infinity);
  }
}

/// Index of the last of ascending numbers that is not above `x`; -1 when all are.
function lastAtOrBefore(numbers, x) {
  let low = 0;
  let high = numbers.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (numbers[middle] <= x) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

const CLICK_AHEAD_S = 0.1; // clicks are given to the sound card so much before they sound
const UNMUTE_EARLY_S = 0.015; // so that the one is heard whole
const SAME_PLACE_S = 0.1;
const LONGEST_WAIT_S = 0.25;
const LEAST_COUNTS_PER_STEP_BACK_S = 1.5; // "back" within so much of a one goes to the phrase before

/// Plays `media` (an audio element) by `line` (a CountLine).
///
/// Events: "place", when another count sounds: detail { phrase, count, countIn }, of which `countIn` is 0, or in a count-in
/// of so many counts `count` is the one of them that sounds; null where nothing is counted. "state", when playing begins or
/// ends or the loop changes.
export class Player extends EventTarget {
  #media;
  #line;
  #makeContext;
  #context = null;
  #lead = null; // a count-in under way
  #one = -Infinity; // the one that was gone to: a seek may end a hair before it, which is not the count before
  #place = null;
  #loop = null;
  #timer = 0;

  /// Counts that are clicked before a phrase is played from its one.
  countIn = 0;

  constructor(media, line, makeContext = () => new AudioContext()) {
    super();
    this.#media = media;
    this.#line = line;
    this.#makeContext = makeContext;
    media.preservesPitch = true;
    for (const event of ['play', 'pause', 'seeked', 'ratechange', 'ended']) {
      media.addEventListener(event, () => this.#go(event));
    }
  }

  get line() {
    return this.#line;
  }

  /// { phrase, count, countIn } or null.
  get place() {
    return this.#place;
  }

  get playing() {
    return this.#lead !== null || !this.#media.paused;
  }

  get rate() {
    return this.#media.playbackRate;
  }

  /// 1 is the recording's own tempo; the pitch stays.
  set rate(rate) {
    this.#media.defaultPlaybackRate = rate;
    this.#media.playbackRate = rate;
  }

  /// { from, to }, both phrases included, or null.
  get loop() {
    return this.#loop;
  }

  set loop(loop) {
    this.#loop = loop && { from: Math.min(loop.from, loop.to), to: Math.max(loop.from, loop.to) };
    this.#tell('state');
    this.#go();
  }

  /// The phrase that sounds, or the next one that will.
  get phrase() {
    const { currentTime } = this.#media;
    const at = currentTime < this.#one - SAME_PLACE_S ? currentTime : Math.max(currentTime, this.#one);
    return this.#lead?.phrase ?? this.#line.phraseAfter(at);
  }

  /// Play from a phrase's one, after the count-in.
  playFrom(phrase) {
    const start = this.#line.start(phrase);
    const length = this.#line.countLength(phrase);
    const from = start - this.countIn * length;
    this.#one = start;
    this.#lead = this.countIn > 0 ? { phrase, start, length, from, counts: this.countIn, clicked: 0, waitUntil: null } : null;
    // the music is there in the count-in, unheard, so that clicks and music cannot drift apart
    this.#media.muted = this.#lead !== null;
    this.#media.currentTime = Math.max(0, from);
    if (this.#lead) this.#wakeClicks();
    if (from < 0 && this.#lead) {
      this.#media.pause();
      this.#lead.waitUntil = performance.now() - (1000 * from) / this.rate;
      this.#tell('state');
    } else {
      this.#start();
    }
    this.#go();
  }

  /// Go on from where it stopped; in a loop not outside it.
  play() {
    const { currentTime } = this.#media;
    const loop = this.#loop;
    const ended = this.#media.ended || currentTime >= this.#line.end(this.#line.length - 1);
    if (loop && (currentTime < this.#line.start(loop.from) || currentTime >= this.#line.end(loop.to))) {
      this.playFrom(loop.from);
    } else if (ended) {
      this.playFrom(0);
    } else {
      this.#start();
    }
  }

  pause() {
    const lead = this.#lead;
    this.#lead = null;
    this.#media.pause();
    this.#media.muted = false;
    if (lead) this.#media.currentTime = lead.start;
    this.#tell('state');
    this.#go();
  }

  toggle() {
    if (this.playing) this.pause();
    else this.play();
  }

  /// To the one of the next phrase (1), or of this one or the one before (-1). Played on only when it plays.
  step(way) {
    const phrase = this.phrase;
    const near = this.position < this.#line.start(phrase) + LEAST_COUNTS_PER_STEP_BACK_S * this.rate;
    const target = way > 0 ? phrase + (this.position >= this.#line.start(phrase) ? 1 : 0) : phrase - (near ? 1 : 0);
    this.goTo(Math.max(0, Math.min(this.#line.length - 1, target)));
  }

  /// To the one of a phrase. Played on only when it plays.
  goTo(phrase) {
    if (this.playing) {
      this.playFrom(phrase);
    } else {
      this.#one = this.#line.start(phrase);
      this.#media.currentTime = this.#one;
      this.#go();
    }
  }

  /// Seconds in the recording; below 0 in a count-in before it begins.
  get position() {
    const waiting = this.#lead?.waitUntil;
    return waiting ? Math.min(0, ((performance.now() - waiting) / 1000) * this.rate) : this.#media.currentTime;
  }

  async #start() {
    try {
      await this.#media.play();
    } catch {
      this.pause(); // the browser wants to be asked again
    }
  }

  #tell(type, detail) {
    this.dispatchEvent(new CustomEvent(type, { detail }));
  }

  /// Whatever is due, and a timer for what is next.
  #go(event) {
    clearTimeout(this.#timer);
    if (event === 'pause' && this.#lead && this.#lead.waitUntil === null && !this.#media.ended) {
      this.#lead = null; // paused from outside, by a headphone's button
      this.#media.muted = false;
    }
    if (this.#lead?.waitUntil && performance.now() >= this.#lead.waitUntil) {
      this.#lead.waitUntil = null;
      this.#start();
    }
    if (event) this.#tell('state');
    const position = this.position;
    this.#countIn(position);
    if (!this.#lead && !this.#media.paused && this.#isLoopOver(position)) {
      this.playFrom(this.#loop.from);
      return;
    }
    this.#takePlace(position);
    if (this.playing) this.#timer = setTimeout(() => this.#go(), 1000 * this.#untilNext(position));
  }

  #isLoopOver(position) {
    return this.#loop !== null && (position >= this.#line.end(this.#loop.to) - 0.005 || this.#media.ended);
  }

  #untilNext(position) {
    const lead = this.#lead;
    const times = lead ? [lead.from + (Math.floor((position - lead.from) / lead.length + 1e-6) + 1) * lead.length,
      lead.start - UNMUTE_EARLY_S, lead.from + lead.clicked * lead.length - CLICK_AHEAD_S * this.rate]
      : [this.#line.nextChange(position)];
    if (!lead && this.#loop) times.push(this.#line.end(this.#loop.to));
    const next = Math.min(...times.filter((time) => time > position));
    const wait_s = (next - position) / this.rate;
    return Math.max(0.002, Math.min(LONGEST_WAIT_S, wait_s));
  }

  #takePlace(position) {
    const lead = this.#lead;
    if (position < this.#one - SAME_PLACE_S && !lead) this.#one = -Infinity; // it was moved elsewhere
    const count = lead && Math.min(lead.counts, Math.floor((position - lead.from) / lead.length + 1e-6) + 1);
    const place = lead ? count > 0 ? { phrase: lead.phrase, count, countIn: lead.counts } : null
      : this.#line.placeAt(Math.max(position, this.#one));
    const now = place && { countIn: 0, ...place };
    const before = this.#place;
    if (now?.phrase === before?.phrase && now?.count === before?.count && now?.countIn === before?.countIn) return;
    this.#place = now;
    this.#tell('place', now);
  }

  /// Clicks that are due, and the end of the count-in.
  #countIn(position) {
    const lead = this.#lead;
    if (!lead) return;
    for (; lead.clicked < lead.counts; lead.clicked++) {
      const ahead_s = (lead.from + lead.clicked * lead.length - position) / this.rate;
      if (ahead_s > CLICK_AHEAD_S) break;
      this.#click(Math.max(0, ahead_s), lead.clicked === 0);
    }
    if (lead.waitUntil === null && position >= lead.start - UNMUTE_EARLY_S) {
      this.#lead = null;
      this.#media.muted = false;
    }
  }

  #wakeClicks() {
    this.#context ??= this.#makeContext();
    this.#context.resume();
  }

  /// A short, dry stroke after so many seconds.
  #click(ahead_s, first) {
    const context = this.#context;
    const at = context.currentTime + ahead_s;
    const tone = new OscillatorNode(context, { type: 'triangle', frequency: first ? 1600 : 1100 });
    const loudness = new GainNode(context, { gain: 0.5 });
    loudness.gain.setValueAtTime(0.5, at);
    loudness.gain.exponentialRampToValueAtTime(0.001, at + 0.06);
    tone.connect(loudness).connect(context.destination);
    tone.start(at);
    tone.stop(at + 0.07);
  }
}
