// SPDX-License-Identifier: GPL-3.0-or-later
// Keys for everything, where nothing is typed.
import { nudge, thisIsOne } from './correct.js';
import { toggleLarge, togglePlay, toggleLoop } from './piece.js';
import { desk } from './state.js';
import { chooseTab } from './tabs.js';
import { isTapping, tap } from './tap.js';
import { step } from './write.js';
import { $, make } from './words.js';

function cycle(select, way) {
  const { options, selectedIndex } = select;
  select.selectedIndex = Math.max(0, Math.min(options.length - 1, selectedIndex + way));
  select.dispatchEvent(new Event('change'));
}

export function setUpKeys(music) {
  const keys = [
    [' ', 'Space', 'play or stop; tap, under “Tap along”', (event) => (isTapping() ? tap(event) : togglePlay())],
    ['ArrowLeft', '←', 'to the one before', () => desk.player.step(-1)],
    ['ArrowRight', '→', 'to the next one', () => desk.player.step(1)],
    ['r', 'R', 'repeat this phrase', toggleLoop],
    ['-', '−', 'slower', () => cycle($('speed'), -1)],
    ['+', '+', 'faster', () => cycle($('speed'), 1)],
    ['i', 'I', 'count-in', () => cycle($('count-in'), $('count-in').selectedIndex === 5 ? -5 : 1)],
    ['1', '1', 'this is 1', thisIsOne],
    [',', ',', 'the one a little earlier', () => nudge(-1)],
    ['.', '.', 'the one a little later', () => nudge(1)],
    ['u', 'U', 'undo', () => step(false)],
    ['U', 'Shift U', 'do again', () => step(true)],
    ['n', 'N', 'notes', () => { chooseTab('write'); $('text').focus(); }],
    ['p', 'P', 'put right', () => chooseTab('correct')],
    ['t', 'T', 'tap along', () => chooseTab('tap')],
    ['c', 'C', 'compare', () => chooseTab('compare')],
    ['h', 'H', 'hand over', () => chooseTab('hand')],
    ['l', 'L', 'large count', toggleLarge],
    ['z', 'Z', 'the music larger', () => music.zoom(1.5)],
    ['x', 'X', 'more of the music', () => music.zoom(1 / 1.5)],
    ['?', '?', 'these keys', () => $('keys').showModal()],
  ];
  $('keys-list').append(...keys.flatMap(([, name, what]) => [make('dt', { textContent: name }), make('dd', { textContent: what })]));
  $('keys-list').append(make('dt', { textContent: 'Esc' }), make('dd', { textContent: 'out of the notes, back to the keys' }));
  addEventListener('keydown', (event) => {
    const { target, key } = event;
    if ($('piece').hidden || $('keys').open || event.ctrlKey || event.metaKey || event.altKey) return;
    if (key === 'Escape' && target.matches('textarea, input')) { target.blur(); return; }
    if (target.matches('textarea, input:not([type=checkbox]), select')) return;
    if (key === ' ' && target.matches('button, input, label')) return; // it presses what has the focus
    const found = keys.find(([k]) => k === key);
    if (!found || !desk.piece) return;
    event.preventDefault();
    found[3](event);
  });
  $('keys-open').addEventListener('click', () => $('keys').showModal());
  $('keys-close').addEventListener('click', () => $('keys').close());
  $('nearer').addEventListener('click', () => music.zoom(1.5));
  $('wider').addEventListener('click', () => music.zoom(1 / 1.5));
  $('beats-shown').addEventListener('change', ({ target }) => music.showBeats(target.checked));
}
