/** Short notes to the turner, with a button where there is something to do. */

import { byId, make, makeButton } from './page.js';
import { word } from './words.js';

/** How long a note stays that asks for nothing. */
const SHORT_MILLISECONDS = 8000;

/**
 * Shows a note until it is closed or replaced by one of the same name; one that only
 * reports something done goes by itself.
 * @param {string} name
 * @param {string} text
 * @param {{ label: string, act: () => void } | 'done'} [offer]
 */
export function notice(name, text, offer) {
  const box = byId('notices', HTMLElement);
  withdraw(name);
  const note = make('div', { className: 'notice' }, make('p', { text }));
  note.dataset.name = name;
  if (offer === 'done') setTimeout(() => note.remove(), SHORT_MILLISECONDS);
  else if (offer) {
    note.append(makeButton(offer.label, () => {
      note.remove();
      offer.act();
    }));
  }
  note.append(makeButton(word('close'), () => note.remove()));
  box.append(note);
}

/**
 * Shows a note that is not said again while nothing changed, even if it was closed.
 * @param {string} name
 * @param {string} text
 */
export function noticeOnce(name, text) {
  if (said.get(name) === text) return;
  notice(name, text);
  said.set(name, text);
}

/** @type {Map<string, string>} */
const said = new Map();

/** @param {string} name */
export function withdraw(name) {
  said.delete(name);
  for (const note of document.querySelectorAll('#notices .notice')) {
    if (note instanceof HTMLElement && note.dataset.name === name) note.remove();
  }
}
