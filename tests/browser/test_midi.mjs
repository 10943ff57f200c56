// SPDX-License-Identifier: GPL-3.0-or-later
// The sheet as a Standard MIDI File, read back by @tonejs/midi: no browser, but node's modules.
import assert from 'node:assert/strict';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { after, test } from 'node:test';
import tone from '@tonejs/midi';
import { parseMidi } from 'midi-file';
import { countwright, fixtures, lineOf, scratch, tryCountwright } from './harness.mjs';

const folder = scratch(after);
const demo = join(fixtures, 'demo.txt');
const rows = (text) => text.trimEnd().split('\n').map((line) => line.split('\t'));

/// A sheet made of a count line by hand, so that nothing is listened to. @return { midi, texts } read back.
function readBack(notes, lineCsv) {
  const at = (name) => join(folder, name);
  writeFileSync(at('notes.txt'), notes);
  writeFileSync(at('line.csv'), lineCsv);
  countwright('sheet', at('notes.txt'), '--line', at('line.csv'), '-o', at('x.mid'), '--overwrite');
  return read(at('x.mid'));
}

function read(path) {
  const midi = new tone.Midi(readFileSync(path));
  const texts = (type) => midi.header.meta.filter((event) => event.type === type)
    .map(({ ticks, text }) => ({ ticks, text, seconds: midi.header.ticksToSeconds(ticks) }));
  return { midi, texts };
}

/// UTF-8 as a reader has it that takes each byte for a character, as midi-file does.
const utf8 = (text) => Buffer.from(text, 'utf8').toString('latin1');

/// The texts of the track of that name, by midi-file: @tonejs/midi keeps those of the first alone.
function trackTexts(path, name) {
  const track = parseMidi(readFileSync(path)).tracks.find((events) => events.some((e) => e.type === 'trackName' && e.text === name));
  let ticks = 0;
  return track.map((event) => ({ ...event, ticks: (ticks += event.deltaTime) })).filter((event) => event.type === 'text');
}

/// Bar lines as a music program draws them: from each time signature on, bar by bar.
function barLines({ header: { timeSignatures, ppq } }, lastTick) {
  const lines = [];
  timeSignatures.forEach(({ ticks, timeSignature: [beats, unit] }, i) => {
    const end = timeSignatures[i + 1]?.ticks ?? lastTick + 1;
    for (let tick = ticks; tick < end; tick += (beats * 4 * ppq) / unit) lines.push(tick);
  });
  return new Set(lines);
}

let demoFile;
let demoCounts;

test('every count of the demo is heard at its second, to a tenth of a millisecond', () => {
  demoFile = join(folder, 'demo.mid');
  countwright('sheet', demo, '-o', demoFile);
  demoCounts = rows(countwright('sheet', demo, '--list', 'counts'));
  const { midi } = read(demoFile);
  assert.equal(midi.name, 'The Paper Harbour');
  const strokes = midi.tracks.find((track) => track.name === 'Counts').notes;
  assert.equal(strokes.length, demoCounts.length);
  strokes.forEach(({ time, midi: key }, i) => {
    // the list is rounded to milliseconds
    assert.ok(Math.abs(time - Number(demoCounts[i][0])) < 6e-4, `count ${i}: ${time} for ${demoCounts[i][0]}`);
    assert.equal(key, demoCounts[i][2] === '1' ? 76 : 77);
  });
});

test('markers stand at the ones, with their sections, and at holds', () => {
  const { texts } = read(demoFile);
  const markers = texts('marker');
  const ones = demoCounts.filter(([, , count]) => count === '1');
  const numbered = markers.filter(({ text }) => /^\d/.test(text));
  assert.deepEqual(numbered.map(({ text }) => text.split(' ')[0]), ones.map(([, number]) => number));
  numbered.forEach(({ seconds }, i) => assert.ok(Math.abs(seconds - Number(ones[i][0])) < 6e-4));
  const headings = readFileSync(demo, 'utf8').match(/^# .*$/gm).map((line) => line.slice(2));
  assert.deepEqual(numbered.filter(({ text }) => text.includes(' ')).map(({ text }) => text.replace(/^\d+ /, '')), headings);
  assert.equal(markers.filter(({ text }) => text === 'hold').length, 1);
});

test('ones fall on bar lines, in each metre, also after a pick-up and a hold', () => {
  const { midi, texts } = read(demoFile);
  const signatures = midi.header.timeSignatures.map(({ timeSignature }) => timeSignature.join('/'));
  assert.ok(signatures.includes('3/4') && signatures.includes('4/4'), signatures.join(' '));
  const lines = barLines(midi, midi.durationTicks);
  for (const { ticks, text } of texts('marker')) assert.ok(lines.has(ticks), `no bar line at marker ${text}`);
});

test('steps are texts at their counts', () => {
  const { midi } = read(demoFile);
  const step = trackTexts(demoFile, 'Steps').find(({ text }) => text === 'soutenu turn');
  const third = demoCounts.find(([, number, count]) => number === '1' && count === '3');
  assert.ok(Math.abs(midi.header.ticksToSeconds(step.ticks) - Number(third[0])) < 6e-4);
});

test('eighths, a count that is a bar, a short bar before another metre, and a gap', () => {
  const notes = `metre: 6/8\nbeats per count: 3\n6 sway\n7 turn\nmetre: 3/4\nbeats per count: 3\n8 walk\n`;
  const line = lineOf([[1, 6, 0.75], [5.5, 7, 0.75], [10.75, 8, 1.8]]);
  const { midi, texts } = readBack(notes, line);
  const { ppq } = midi.header;
  const ones = texts('marker').filter(({ text }) => /^\d/.test(text));
  assert.deepEqual(ones.map(({ seconds }) => seconds.toFixed(3)), ['1.000', '5.500', '10.750']);
  assert.equal(ones[1].ticks - ones[0].ticks, 6 * 1.5 * ppq); // a count of three eighths
  const lines = barLines(midi, midi.durationTicks);
  for (const { ticks, text } of ones) assert.ok(lines.has(ticks) || text === '2', text);
  const signatures = midi.header.timeSignatures.map(({ timeSignature }) => timeSignature.join('/'));
  assert.deepEqual(signatures.slice(-3), ['6/8', '3/8', '3/4']); // 13 counts are six bars and a half
  const tempo = midi.header.tempos.find(({ ticks }) => ticks === ones[2].ticks);
  assert.ok(Math.abs(tempo.bpm - 100) < 0.01); // three quarters in 1.8 s
});

test('where nobody knows of bars no time signature is told', () => {
  const { midi, texts } = readBack('beats per count: 1\nwalk\nrun\n', lineOf([[0.25, 8, 0.5], [4.25, 8, 0.5]]));
  assert.deepEqual(midi.header.timeSignatures, []);
  assert.deepEqual(texts('marker').map(({ text, seconds }) => `${text} ${seconds.toFixed(3)}`), ['1 0.250', '2 4.250']);
});

test('names in any script and words with signs come back as they are', () => {
  const { texts, midi } = readBack('piece: 紙の港 <b>&\n# Тихо "lento"\n1 balancé\n', lineOf([[0, 8, 0.5]]));
  assert.equal(midi.name, utf8('紙の港 <b>&'));
  assert.deepEqual(texts('marker').map(({ text }) => text), [utf8('1 Тихо "lento"')]);
});

test('without a recording there are no times to write', () => {
  const notes = join(folder, 'bare.txt');
  writeFileSync(notes, 'walk\nrun\n');
  const { status, stderr } = tryCountwright('sheet', notes, '-o', join(folder, 'bare.mid'));
  assert.equal(status, 1);
  assert.match(stderr, /no recording is named, so there are no times/);
});
