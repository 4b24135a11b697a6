/** What was just done, for a moment at the top: it stands over the name, and over no figure. */

import { byId } from './page.js';

const MILLISECONDS = 4000;

/** @type {ReturnType<typeof setTimeout> | undefined} */
let saying;

/** @param {string} text @param {string} [name] of what is said, to be found by */
export function say(text, name = '') {
  const line = byId('step-says', HTMLElement);
  line.textContent = text;
  line.dataset.name = name;
  clearTimeout(saying);
  saying = setTimeout(() => { line.textContent = ''; }, MILLISECONDS);
}
