/** What was just done, for a moment at the top: it stands over the name, and over no figure. */

import { byId } from './page.js';

const MILLISECONDS = 4000;

/** @type {ReturnType<typeof setTimeout> | undefined} */
let saying;

/** @param {string} text */
export function say(text) {
  byId('step-says', HTMLElement).textContent = text;
  clearTimeout(saying);
  saying = setTimeout(() => { byId('step-says', HTMLElement).textContent = ''; }, MILLISECONDS);
}
