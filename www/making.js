/** What the boards at hand could become, and what goes with the rings that are glued. */

import { byId, onTap } from './page.js';
import { PICTURE, Proposals } from './proposals.js';
import { leaveRings } from './shelf.js';
import { word } from './words.js';
import { design } from './work.js';

/** @typedef {import('./ringwright.js').Design} Design */

/** @type {Proposals[]} */
let all = [];

/** Glued rings that the piece made of the others leaves over, and the design whose they are. */
const over = { /** @type {Design | null} */ of: null, /** @type {number[]} */ places: [] };

export function setUpMaking() {
  all = [
    new Proposals({
      id: 'making',
      place: 'wood',
      shape: 'make',
      begin: (library, of, shape) => library.Making.begin(of, shape, ...PICTURE),
      took: 'making.took',
      shown: 'boards-answer',
    }),
    new Proposals({
      id: 'gathering',
      place: 'vessel',
      shape: 'gather',
      begin: (library, of, shape) => library.Gathering.begin(of, shape, ...PICTURE),
      took: 'gathering.took',
      shown: 'section',
      leftOver: (places, of) => {
        Object.assign(over, { of, places });
        byId('gathering-leave', HTMLElement).hidden = places.length === 0;
      },
    }),
  ];
  onTap('gathering-leave', () => void leaveOver());
}

/** Rings that are left over lie on the shelf, for the next piece. */
async function leaveOver() {
  const { of, places } = over;
  if (!of || !await leaveRings(of, places)) return;
  byId('gathering-leave', HTMLElement).hidden = true;
  byId('gathering-says', HTMLElement).textContent = word('shelf.left');
}

export function showMaking() {
  for (const button of all[0]?.buttons() ?? []) {
    if (button.dataset.make === 'own') button.hidden = design().vessel === null;
  }
  for (const each of all) each.show();
}
