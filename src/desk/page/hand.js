// SPDX-License-Identifier: GPL-3.0-or-later
// What is given to others: printed, as files, as sound to practise with.
import { address, send } from './api.js';
import { desk, on, phraseHere } from './state.js';
import { flush } from './write.js';
import { $, make } from './words.js';

const forms = [['pdf', 'Print the sheet', 'a PDF for paper'], ['html', 'One page to send', 'the sheet with the music in it, for an understudy'],
  ['txt', 'The sheet as text', 'to paste into a message'], ['csv', 'The sheet as a table', 'for a spreadsheet']];

function linkTo(form, name, hint) {
  const button = make('button', { id: `hand-${form}` }, name, make('small', { textContent: hint }));
  button.addEventListener('click', async () => {
    await flush();
    window.open(address('/sheet', { name: desk.piece.name, form }), '_blank', 'noopener');
  });
  return button;
}

function choice(id, name, options) {
  const select = make('select', { id }, ...options.map(([value, text]) => make('option', { value, textContent: text })));
  return make('label', {}, `${name} `, select);
}

async function practise() {
  await flush();
  const here = phraseHere();
  const part = $('practice-part').value === 'here' && here ? { from: here.at + 1, to: here.at + 1 } : {};
  $('practice-word').textContent = 'Waiting …';
  $('practice-go').disabled = true;
  try {
    await send('POST', '/practice', { name: desk.piece.name, counts: $('practice-counts').value, speed: Number($('practice-speed').value), ...part });
  } catch (problem) {
    $('practice-word').textContent = problem.message;
    $('practice-go').disabled = false;
  }
}

function made({ file, problem }) {
  $('practice-go').disabled = false;
  $('practice-word').textContent = problem ?? '';
  if (problem) return;
  const link = make('a', { className: 'button', href: address('/practice', { name: file }), download: file, textContent: file });
  $('practice-made').prepend(make('li', {}, link));
}

export function setUpHand() {
  const links = forms.map((form) => linkTo(...form));
  const go = make('button', { id: 'practice-go', className: 'main', textContent: 'Make it' });
  go.addEventListener('click', practise);
  const word = make('p', { id: 'practice-word' });
  word.setAttribute('role', 'status');
  $('hand').append(make('div', { className: 'tools' }, ...links), make('h2', { textContent: 'Sound to practise with' }),
    make('div', { className: 'row' }, choice('practice-counts', 'Counts', [['spoken', 'spoken'], ['clicks', 'clicked']]),
      choice('practice-speed', 'Speed', [['1', '100 %'], ['0.9', '90 %'], ['0.8', '80 %'], ['0.7', '70 %'], ['0.5', '50 %']]),
      choice('practice-part', 'What', [['all', 'the whole dance'], ['here', 'the phrase where you are']]), go),
    word, make('ul', { id: 'practice-made' }));
  $('practice-made').setAttribute('aria-label', 'Made');
  on('piece', (isOther) => {
    for (const link of links) link.disabled = desk.piece.phrases.length === 0;
    go.disabled = !desk.counted;
    if (isOther) $('practice-made').replaceChildren();
  });
  on('done', (event) => {
    if (event.what === 'practised') made(event);
    else if (event.what === 'making') $('practice-word').textContent = `Making it … ${Math.max(0, Math.round(100 * event.part))} %`;
  });
}
