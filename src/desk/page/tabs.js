// SPDX-License-Identifier: GPL-3.0-or-later
// The tabs below the music: one of them is chosen, arrows go from one to the next.
import { $, make } from './words.js';

const tabs = [['write', 'Notes'], ['correct', 'Put right'], ['tap', 'Tap along'], ['compare', 'Compare'], ['hand', 'Hand over']];

export function chooseTab(id) {
  for (const [name] of tabs) {
    $(name).hidden = name !== id;
    $(`tab-${name}`).setAttribute('aria-selected', String(name === id));
    $(`tab-${name}`).tabIndex = name === id ? 0 : -1;
  }
  $(id).dispatchEvent(new Event('chosen'));
}

function move(event, at) {
  const way = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
  if (!way) return;
  const [id] = tabs[(at + way + tabs.length) % tabs.length];
  event.preventDefault();
  event.stopPropagation();
  chooseTab(id);
  $(`tab-${id}`).focus();
}

export function setUpTabs() {
  $('tabs').append(...tabs.map(([id, name], at) => {
    const button = make('button', { id: `tab-${id}`, textContent: name });
    button.setAttribute('role', 'tab');
    button.setAttribute('aria-controls', id);
    button.addEventListener('click', () => chooseTab(id));
    button.addEventListener('keydown', (event) => move(event, at));
    return button;
  }));
  chooseTab('write');
}
