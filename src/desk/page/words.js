// SPDX-License-Identifier: GPL-3.0-or-later
// Small helpers for what is shown.

/// An element of the page by its id.
export const $ = (id) => document.getElementById(id);

/// 62.35 is "1:02.4"; "–" when it is no time.
export function time(seconds, digits = 1) {
  if (!Number.isFinite(seconds)) return '–';
  const scale = 10 ** digits;
  const rounded = Math.round(seconds * scale) / scale;
  const minutes = Math.floor(rounded / 60);
  const rest = (rounded - 60 * minutes).toFixed(digits).padStart(digits ? digits + 3 : 2, '0');
  return minutes < 60 ? `${minutes}:${rest}` : `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}:${rest}`;
}

/// A new element, its properties and what is in it.
export function make(tag, properties = {}, ...inside) {
  const element = Object.assign(document.createElement(tag), properties);
  element.append(...inside);
  return element;
}

/// A word to the user, for a while.
let fade = 0;
export function say(text, lasting = false) {
  clearTimeout(fade);
  $('word').textContent = text;
  if (!lasting) fade = setTimeout(() => { $('word').textContent = ''; }, 6000);
}

/// A problem that stays until the next thing works.
export function trouble(text) {
  $('problem').textContent = text ?? '';
  $('problem').hidden = !text;
}
