/** The Bench place: the order of work, step by step. */

import { byId } from './page.js';
import { design, record } from './work.js';

/** @param {() => void} openUnits */
export function setUpBench(openUnits) {
  void openUnits;
}

/** Shows the place, while it is open. */
export function showBench() {
  if (record().place !== 'bench') return;
  const isBegun = design().vessel !== null;
  byId('bench-empty', HTMLElement).hidden = isBegun;
  byId('bench-work', HTMLElement).hidden = !isBegun;
}
