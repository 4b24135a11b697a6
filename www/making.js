/** What the boards at hand could become, and what goes with the rings that are glued. */

import { PICTURE, Proposals } from './proposals.js';
import { design } from './work.js';

/** @type {Proposals[]} */
let all = [];

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
    }),
  ];
}

export function showMaking() {
  for (const button of all[0]?.buttons() ?? []) {
    if (button.dataset.make === 'own') button.hidden = design().vessel === null;
  }
  for (const each of all) each.show();
}
