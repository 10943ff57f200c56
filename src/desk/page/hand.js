// SPDX-License-Identifier: GPL-3.0-or-later
// What is given to others: printed, as files.
import { address } from './api.js';
import { desk, on } from './state.js';
import { flush } from './write.js';
import { $, make } from './words.js';

const forms = [['pdf', 'Print the sheet', 'a PDF for paper'], ['txt', 'The sheet as text', 'to paste into a message'], ['csv', 'The sheet as a table', 'for a spreadsheet']];

export function setUpHand() {
  const links = forms.map(([form, name, hint]) => {
    const button = make('button', { id: `hand-${form}` }, name, make('small', { textContent: hint }));
    button.addEventListener('click', async () => {
      await flush();
      window.open(address('/sheet', { name: desk.piece.name, form }), '_blank', 'noopener');
    });
    return button;
  });
  const box = make('div', { className: 'tools' }, ...links);
  $('hand').append(box);
  on('piece', () => { for (const link of links) link.disabled = desk.piece.phrases.length === 0; });
}
