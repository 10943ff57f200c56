// SPDX-License-Identifier: GPL-3.0-or-later
// Asking the desk, and hearing what happens there.

/// What the desk answered, when that is not what was asked for.
export class Problem extends Error {
  constructor(status, answer) {
    super(answer.problem ?? 'the desk does not answer');
    this.status = status;
    this.answer = answer;
  }
}

async function read(response) {
  const answer = await response.json().catch(() => ({}));
  if (!response.ok) throw new Problem(response.status, answer);
  return answer;
}

const query = (values) => new URLSearchParams(values).toString();

export const address = (path, values) => `${path}?${query(values)}`;

export async function get(path, values = {}) {
  return read(await fetch(address(path, values)));
}

export async function getBytes(path, values) {
  const response = await fetch(address(path, values));
  if (!response.ok) throw new Problem(response.status, {});
  return new Int8Array(await response.arrayBuffer());
}

export async function getText(path, values) {
  const response = await fetch(address(path, values));
  if (!response.ok) throw new Problem(response.status, {});
  return response.text();
}

/// Change something. Asked in order: each waits for the one before.
let last = Promise.resolve();
export function send(method, path, body) {
  const turn = last.then(async () => read(await fetch(path, {
    method, headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body),
  })));
  last = turn.catch(() => {});
  return turn;
}

export async function sendFile(path, values, file) {
  return read(await fetch(address(path, values), {
    method: 'POST', headers: { 'Content-Type': 'application/octet-stream' }, body: file,
  }));
}

/// Hear events while the tab is seen; a hidden tab leaves its place to others.
export function listen(tell) {
  let source = null;
  const open = () => {
    source ??= new EventSource('/events');
    source.onmessage = ({ data }) => tell(JSON.parse(data));
    source.onopen = () => tell({ what: 'missed' });
    source.onerror = () => tell({ what: 'gone' });
  };
  const close = () => { source?.close(); source = null; };
  document.addEventListener('visibilitychange', () => (document.hidden ? close() : open()));
  addEventListener('pagehide', close);
  if (!document.hidden) open();
}
