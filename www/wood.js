/** The Wood place: what the woods weigh, how they move, and which boards they come from. */

import { byId } from './page.js';
import { design, record } from './work.js';

/** @param {() => void} openUnits */
export function setUpWood(openUnits) {
  void openUnits;
}

/** Shows the place, while it is open. */
export function showWood() {
  if (record().place !== 'wood') return;
  const isBegun = design().vessel !== null;
  byId('wood-empty', HTMLElement).hidden = isBegun;
  byId('wood-work', HTMLElement).hidden = !isBegun;
}
