/** Changes by hand: each is a value with a name, and so are its parts. */

import { ask } from './door.js';
import { design, settle, take } from './work.js';

/**
 * Changes the design; all of one drag is one step of undo.
 * @param {import('./ringwright.js').Change} what
 * @param {boolean} [isSameStep]
 * @returns {boolean} whether anything changed
 */
export function change(what, isSameStep = false) {
  if (!isSameStep) settle();
  return take(ask((library) => library.change(design(), what)), isSameStep);
}
