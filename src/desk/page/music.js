// SPDX-License-Identifier: GPL-3.0-or-later
// The music drawn: near, around the place where it plays, and far, the whole of it.
import { getBytes, getText } from './api.js';
import { desk, duration, seek } from './state.js';
import { time } from './words.js';

const RATE_HZ = 150; // pairs a second at zoom 0; a quarter at each further zoom
const STEP = 4;
const ZOOMS = 6;
const TILE = 4096;
const BAND = 44; // where the ones can be taken hold of
const FOOT = 22;
const REACH = 24;
const NEAREST = 400; // pixels a second
const WIDEST = 1.5;

/// The pairs of a recording, fetched in tiles as they are needed.
class Peaks {
  #name;
  #tiles = new Map();
  #came;

  constructor(name, came) {
    this.#name = name;
    this.#came = came;
  }

  static zoomFor(perSecond) {
    let zoom = 0;
    while (zoom + 1 < ZOOMS && RATE_HZ / STEP ** (zoom + 1) >= perSecond) zoom++;
    return zoom;
  }

  #tile(zoom, index) {
    const key = `${zoom}:${index}`;
    if (!this.#tiles.has(key)) {
      this.#tiles.set(key, null);
      getBytes('/peaks', { name: this.#name, zoom, from: index * TILE, n: TILE })
        .then((pairs) => { this.#tiles.set(key, pairs); this.#came(); })
        .catch(() => this.#tiles.set(key, undefined));
    }
    return this.#tiles.get(key);
  }

  /// Least and greatest of the pairs [from, to) of a zoom, put into `out`; false while they are on their way.
  range(zoom, from, to, out) {
    let low = 127;
    let high = -127;
    for (let i = from; i < to; i++) {
      const tile = this.#tile(zoom, Math.floor(i / TILE));
      const at = 2 * (i % TILE);
      if (!tile || at >= tile.length) continue;
      if (tile[at] < low) low = tile[at];
      if (tile[at + 1] > high) high = tile[at + 1];
    }
    out[0] = low;
    out[1] = high;
    return high >= low;
  }
}

export class Music {
  perSecond = 60;
  start = 0;
  beatsShown = false;
  #near;
  #far;
  #peaks = null;
  #whole = null; // the far picture without what moves
  #dirty = true;
  #drag = null;
  #beats = [];
  #colours = {};
  #loudest = 60;
  #drawnAt = -1;
  #follows = true;
  onDragged = () => {};

  constructor(near, far) {
    this.#near = near;
    this.#far = far;
    this.#readColours();
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => { this.#readColours(); this.change(); });
    new ResizeObserver(() => this.change()).observe(near);
    near.addEventListener('pointerdown', (event) => this.#down(event));
    near.addEventListener('pointermove', (event) => this.#move(event));
    near.addEventListener('pointerup', (event) => this.#up(event));
    near.addEventListener('pointercancel', () => { this.#drag = null; this.change(); });
    near.addEventListener('wheel', (event) => this.#wheel(event), { passive: false });
    far.addEventListener('pointerdown', (event) => { far.setPointerCapture(event.pointerId); this.#seekFar(event); });
    far.addEventListener('pointermove', (event) => { if (event.buttons) this.#seekFar(event); });
  }

  open({ recording }) {
    this.#peaks = recording ? new Peaks(recording, () => this.change()) : null;
    this.#beats = [];
    this.start = 0;
    this.change();
  }

  /// What was not there may be there now.
  forget() {
    this.open(desk.piece);
  }

  change() {
    this.#dirty = true;
    this.#whole = null;
  }

  async showBeats(shown) {
    this.beatsShown = shown;
    if (shown && this.#beats.length === 0) {
      const text = await getText('/beats', { name: desk.piece.name }).catch(() => '');
      this.#beats = text.trim().split('\n').filter(Boolean).map((line) => line.split(' ').map(Number));
    }
    this.#dirty = true;
  }

  zoom(factor) {
    const width = this.#near.clientWidth;
    const middle = this.start + width / 2 / this.perSecond;
    this.perSecond = Math.max(WIDEST, Math.min(NEAREST, this.perSecond * factor));
    this.start = Math.max(0, middle - width / 2 / this.perSecond);
    this.#dirty = true;
  }

  #readColours() {
    const style = getComputedStyle(document.documentElement);
    for (const name of ['paper', 'sheet', 'ink', 'quiet', 'rule', 'accent', 'on-accent', 'soft', 'doubt', 'wave']) {
      this.#colours[name] = style.getPropertyValue(`--${name}`).trim();
    }
  }

  #size(canvas) {
    const ratio = Math.min(2, devicePixelRatio || 1);
    const [width, height] = [canvas.clientWidth, canvas.clientHeight];
    if (canvas.width !== Math.round(width * ratio) || canvas.height !== Math.round(height * ratio)) {
      canvas.width = Math.round(width * ratio);
      canvas.height = Math.round(height * ratio);
    }
    const context = canvas.getContext('2d');
    context.setTransform(ratio, 0, 0, ratio, 0, 0);
    return { context, width, height, ratio };
  }

  /// Draw what there is at `at` seconds.
  draw(at, playing) {
    const width = this.#near.clientWidth;
    const shown = width / this.perSecond;
    if (!this.#drag) {
      if (playing && this.#follows) this.start = Math.max(0, at - 0.3 * shown);
      else if (at !== this.#drawnAt && (at < this.start || at > this.start + shown)) this.start = Math.max(0, at - 0.3 * shown);
    }
    if (!this.#dirty && at === this.#drawnAt) return;
    this.#dirty = false;
    this.#drawnAt = at;
    this.#drawNear(at);
    this.#drawFar(at);
  }

  #drawNear(at) {
    const { context, width, height } = this.#size(this.#near);
    context.clearRect(0, 0, width, height);
    this.#drawLoop(context, height);
    this.#drawWave(context, width, height);
    if (this.beatsShown) this.#drawBeats(context, width, height);
    this.#drawSeconds(context, width, height);
    this.#drawPhrases(context, width, height);
    const x = (at - this.start) * this.perSecond;
    context.fillStyle = this.#colours.ink;
    context.fillRect(x - 1, 0, 2, height);
  }

  #drawLoop(context, height) {
    const loop = desk.player?.loop;
    if (!loop) return;
    const { line } = desk.player;
    context.fillStyle = this.#colours.soft;
    const x = (line.start(loop.from) - this.start) * this.perSecond;
    context.fillRect(x, 0, (line.end(loop.to) - line.start(loop.from)) * this.perSecond, height);
  }

  #drawWave(context, width, height) {
    if (!this.#peaks) return;
    const zoom = Peaks.zoomFor(this.perSecond);
    const rate = RATE_HZ / STEP ** zoom;
    const middle = (BAND + height - FOOT) / 2;
    const scale = (height - FOOT - BAND) / 2 / this.#loudest;
    const pair = [0, 0];
    // columns are fixed to the music, not to the window, so that nothing flickers while it moves
    const column = 1 / this.perSecond;
    const first = Math.floor(this.start / column);
    context.fillStyle = this.#colours.wave;
    for (let k = first; k <= first + width + 1; k++) {
      const from = Math.max(0, Math.floor(k * column * rate));
      const to = Math.max(from + 1, Math.floor((k + 1) * column * rate));
      if (!this.#peaks.range(zoom, from, to, pair)) continue;
      const x = (k * column - this.start) * this.perSecond;
      const top = Math.max(BAND, middle - pair[1] * scale);
      context.fillRect(x, top, 1.2, Math.max(1, Math.min(height - FOOT, middle - pair[0] * scale) - top));
    }
  }

  #drawBeats(context, width, height) {
    context.fillStyle = this.#colours.quiet;
    for (const [seconds, place] of this.#beats) {
      const x = (seconds - this.start) * this.perSecond;
      if (x < 0 || x > width) continue;
      const size = place === 1 ? 12 : 6;
      context.fillRect(x - 0.75, height - FOOT - size, 1.5, size);
    }
  }

  #drawSeconds(context, width, height) {
    const step = [1, 2, 5, 10, 30, 60, 300, 600].find((s) => s * this.perSecond > 70) ?? 1800;
    context.fillStyle = this.#colours.quiet;
    context.font = '13px system-ui, sans-serif';
    context.textBaseline = 'alphabetic';
    context.textAlign = 'left';
    for (let s = Math.ceil(this.start / step) * step; (s - this.start) * this.perSecond < width; s += step) {
      const x = (s - this.start) * this.perSecond;
      context.fillRect(x, height - FOOT, 1, 5);
      context.fillText(time(s, 0), x + 3, height - 5);
    }
  }

  #drawPhrases(context, width, height) {
    const end = this.start + width / this.perSecond;
    const moved = this.#drag?.phrase;
    context.textAlign = 'center';
    context.textBaseline = 'middle';
    let free = -Infinity; // where the next count finds room
    for (const phrase of desk.timed) {
      if (phrase.end < this.start - 2 || phrase.counts[0] > end + 2) continue;
      phrase.counts.forEach((seconds, i) => {
        const x = (seconds - this.start) * this.perSecond;
        if (i === 0) return;
        context.fillStyle = this.#colours.rule;
        context.fillRect(x - 0.5, BAND, 1, height - FOOT - BAND);
        if (x - free < 18 || this.perSecond < 12) return;
        free = x;
        context.fillStyle = this.#colours.quiet;
        context.font = '15px system-ui, sans-serif';
        context.fillText(i + 1, x, BAND / 2 + 4);
      });
      const one = moved === phrase ? this.#drag.seconds : phrase.counts[0];
      this.#drawOne(context, phrase, (one - this.start) * this.perSecond, height, moved === phrase);
      free = Math.max(free, (phrase.counts[0] - this.start) * this.perSecond + 10);
    }
  }

  #drawOne(context, phrase, x, height, moved) {
    const sure = phrase.sure === undefined || phrase.sure < 0 || phrase.sure >= 0.6;
    const pinned = phrase.pins?.some(([count]) => count === 1);
    const colour = sure ? this.#colours.accent : this.#colours.doubt;
    context.strokeStyle = colour;
    context.lineWidth = moved ? 3 : 2;
    context.setLineDash(sure ? [] : [5, 4]);
    context.beginPath();
    context.moveTo(x, BAND - 6);
    context.lineTo(x, height - FOOT);
    context.stroke();
    context.setLineDash([]);
    if (this.perSecond * 4 < 20) return;
    context.beginPath();
    context.arc(x, 20, 16, 0, 2 * Math.PI);
    context.fillStyle = pinned || moved ? colour : this.#colours.sheet;
    context.fill();
    context.stroke();
    context.fillStyle = pinned || moved ? this.#colours['on-accent'] : colour;
    context.font = 'bold 14px system-ui, sans-serif';
    context.fillText(`${phrase.at + 1}${sure ? '' : '?'}`, x, 20.5);
  }

  #drawFar(at) {
    const { context, width, height, ratio } = this.#size(this.#far);
    const long = duration();
    if (!long) return;
    this.#whole ??= this.#makeWhole(width, height, ratio, long);
    context.clearRect(0, 0, width, height);
    context.drawImage(this.#whole, 0, 0, width, height);
    const shown = this.#near.clientWidth / this.perSecond;
    context.strokeStyle = this.#colours.ink;
    context.lineWidth = 1.5;
    context.strokeRect((this.start / long) * width, 1, Math.min(1, shown / long) * width, height - 2);
    context.fillStyle = this.#colours.ink;
    context.fillRect((at / long) * width - 1, 0, 2, height);
  }

  #makeWhole(width, height, ratio, long) {
    const picture = document.createElement('canvas');
    picture.width = Math.max(1, Math.round(width * ratio));
    picture.height = Math.max(1, Math.round(height * ratio));
    const context = picture.getContext('2d');
    context.scale(ratio, ratio);
    this.#drawWholeWave(context, width, height, long);
    let before = null;
    context.font = '12px system-ui, sans-serif';
    context.textBaseline = 'top';
    for (const phrase of desk.timed) {
      const x = (phrase.counts[0] / long) * width;
      context.fillStyle = phrase.sure >= 0 && phrase.sure < 0.6 ? this.#colours.doubt : this.#colours.rule;
      context.fillRect(x, height - 8, 1, 8);
      if (phrase.section === before || phrase.section === undefined) continue;
      before = phrase.section;
      context.fillStyle = this.#colours.accent;
      context.fillRect(x, 0, 2, height);
      const name = desk.piece.sections[phrase.section];
      context.fillStyle = this.#colours.sheet;
      context.fillRect(x + 3, 1, Math.min(144, context.measureText(name).width + 4), 14);
      context.fillStyle = this.#colours.ink;
      context.fillText(name, x + 5, 2, 140);
    }
    return picture;
  }

  #drawWholeWave(context, width, height, long) {
    const pair = [0, 0];
    const zoom = Peaks.zoomFor(width / long);
    const rate = RATE_HZ / STEP ** zoom;
    let loudest = 1;
    context.fillStyle = this.#colours.wave;
    for (let pass = 0; pass < 2; pass++) {
      for (let x = 0; x < width; x++) {
        const from = Math.floor(((x * long) / width) * rate);
        const to = Math.max(from + 1, Math.floor((((x + 1) * long) / width) * rate));
        if (!this.#peaks?.range(zoom, from, to, pair)) continue;
        loudest = Math.max(loudest, pair[1], -pair[0]);
        if (pass === 0) continue;
        const scale = (height - 12) / 2 / loudest;
        context.fillRect(x, height / 2 - pair[1] * scale, 1, Math.max(1, (pair[1] - pair[0]) * scale));
      }
    }
    this.#loudest = loudest;
  }

  #secondsAt(event) {
    return this.start + event.offsetX / this.perSecond;
  }

  #seekFar(event) {
    seek(Math.max(0, Math.min(1, event.offsetX / this.#far.clientWidth)) * duration());
  }

  #down(event) {
    this.#near.setPointerCapture(event.pointerId);
    const seconds = this.#secondsAt(event);
    const phrase = event.offsetY < BAND ? desk.timed.find((p) => Math.abs(p.counts[0] - seconds) * this.perSecond < REACH) : null;
    this.#drag = { phrase: phrase ?? null, seconds: phrase?.counts[0], from: event.offsetX, start: this.start, moved: false,
      off: phrase ? phrase.counts[0] - seconds : 0 };
  }

  #move(event) {
    const drag = this.#drag;
    if (!drag) {
      const seconds = this.#secondsAt(event);
      const hit = event.offsetY < BAND && desk.timed.some((p) => Math.abs(p.counts[0] - seconds) * this.perSecond < REACH);
      this.#near.style.cursor = hit ? 'ew-resize' : 'grab';
      return;
    }
    drag.moved ||= Math.abs(event.offsetX - drag.from) > 4;
    if (!drag.moved) return;
    if (drag.phrase) drag.seconds = Math.max(0, this.#secondsAt(event) + drag.off);
    else {
      this.#follows = false;
      this.start = Math.max(0, drag.start - (event.offsetX - drag.from) / this.perSecond);
    }
    this.#dirty = true;
  }

  #up(event) {
    const drag = this.#drag;
    this.#drag = null;
    this.#follows = true;
    this.#dirty = true;
    if (!drag) return;
    if (drag.phrase && drag.moved) this.onDragged(drag.phrase, drag.seconds);
    else if (!drag.moved) seek(drag.phrase ? drag.phrase.counts[0] : this.#secondsAt(event));
  }

  #wheel(event) {
    event.preventDefault();
    if (event.ctrlKey || Math.abs(event.deltaY) > Math.abs(event.deltaX)) this.zoom(event.deltaY < 0 ? 1.2 : 1 / 1.2);
    else {
      this.start = Math.max(0, this.start + event.deltaX / this.perSecond);
      this.#dirty = true;
    }
  }
}
