// SPDX-License-Identifier: GPL-3.0-or-later
// The pieces of the folder, and how new ones come.
import { get, send, sendFile } from './api.js';
import { Recorder } from './record.js';
import { $, make } from './words.js';

const bare = (name) => name.replace(/\.[^.]*$/, '');

export function titleOf({ name, piece, dance }) {
  return [piece, dance].filter(Boolean).join(' · ') || bare(name);
}

function hint({ notes, recording, wants }) {
  if (!notes) return 'recording, no notes yet';
  if (recording) return `notes and ${recording}`;
  return wants ? `notes; their recording '${wants}' is not in the folder` : 'notes, no recording';
}

function row(piece) {
  const button = make('button', {}, titleOf(piece), make('small', { textContent: hint(piece) }));
  button.addEventListener('click', () => { location.hash = encodeURIComponent(piece.name); });
  return make('li', {}, button);
}

export async function showShelf() {
  $('title').textContent = document.title = 'Your pieces';
  const { pieces } = await get('/shelf');
  $('pieces').replaceChildren(...pieces.map(row));
  $('empty').hidden = pieces.length > 0;
}

export function heardOnShelf({ what }) {
  if (what === 'shelf' || what === 'notes' || what === 'missed') showShelf().catch(() => {});
}

async function bring(file, name = file.name) {
  $('bring-word').textContent = `Taking '${name}' …`;
  try {
    const { name: kept } = await sendFile('/recordings', { name }, file);
    $('bring-word').textContent = '';
    location.hash = encodeURIComponent(kept);
  } catch (problem) {
    $('bring-word').textContent = problem.message;
  }
}

const recorder = new Recorder();

async function record() {
  if (recorder.running) {
    $('record').textContent = 'record with the microphone';
    const { blob, ending } = await recorder.stop();
    const now = new Date();
    const day = `${now.getFullYear()}-${now.getMonth() + 1}-${now.getDate()}`;
    const clock = `${now.getHours()}.${String(now.getMinutes()).padStart(2, '0')}`;
    await bring(blob, `recorded ${day} ${clock}${ending}`);
    return;
  }
  try {
    await recorder.start();
    $('record').textContent = 'stop recording';
    $('bring-word').textContent = 'Recording …';
  } catch {
    $('bring-word').textContent = 'The browser does not let the microphone be used here.';
  }
}

$('file').addEventListener('change', ({ target }) => { if (target.files[0]) bring(target.files[0]); target.value = ''; });
$('record').addEventListener('click', record);
$('close').addEventListener('click', async () => {
  await send('POST', '/stop', {});
  document.body.replaceChildren(make('main', {}, make('h1', { textContent: 'The desk is closed' }),
    make('p', { textContent: 'All is saved. You can close this window.' })));
});
for (const kind of ['dragover', 'dragleave', 'drop']) {
  addEventListener(kind, (event) => {
    if ($('shelf').hidden) return;
    event.preventDefault();
    $('bring').classList.toggle('over', kind === 'dragover');
    if (kind === 'drop' && event.dataTransfer.files[0]) bring(event.dataTransfer.files[0]);
  });
}
