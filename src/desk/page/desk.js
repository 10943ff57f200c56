// SPDX-License-Identifier: GPL-3.0-or-later
// Which of the two views is shown, and what happens elsewhere.
import { listen } from './api.js';
import { openPiece, closePiece, heard } from './piece.js';
import { showShelf, heardOnShelf } from './shelf.js';
import { $, say } from './words.js';

/// The name of the piece in the address, behind '#'; '' for the shelf.
function asked() {
  try {
    return decodeURIComponent(location.hash.slice(1));
  } catch {
    return '';
  }
}

async function show() {
  const name = asked();
  $('home').hidden = $('steps').hidden = !name;
  $('shelf').hidden = Boolean(name);
  $('piece').hidden = !name;
  if (name) {
    await openPiece(name);
  } else {
    closePiece();
    await showShelf();
  }
}

addEventListener('hashchange', show);
listen((event) => {
  if (event.what === 'gone') say('The desk does not answer', true);
  else if (asked()) heard(event);
  else heardOnShelf(event);
});
show();
