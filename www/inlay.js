/** The Inlay place: slots sawn through a stack of rings, and filled. */

import { byId } from './page.js';
import { design, record } from './work.js';

/** @param {() => void} openUnits */
export function setUpInlay(openUnits) {
  void openUnits;
}

/** Shows the place, while it is open. */
export function showInlay() {
  if (record().place !== 'inlay') return;
  const isBegun = design().vessel !== null;
  byId('inlay-empty', HTMLElement).hidden = isBegun;
  byId('inlay-work', HTMLElement).hidden = !isBegun;
}
