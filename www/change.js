/** Changes by hand: each is a value with a name, and so are its parts. */

import { ask } from './door.js';
import { say } from './say.js';
import { word } from './words.js';
import { design, settle, stepsSaid, take } from './work.js';

/** @typedef {import('./ringwright.js').Change} Change */

/** Those of a single tap, which may do much or nothing: each says what it did. @type {readonly Change['kind'][]} */
const TOLD = [
  'divide', 'add_ring', 'add_accent', 'remove_ring', 'remove_above_rim', 'swap', 'turn_over', 'take_nearest', 'draw_in_rings', 'draw_along_outside',
  'spiral', 'columns', 'mirror', 'repeat', 'add_wood', 'strips_of', 'remove_wood', 'remove_own', 'remove_set', 'remove_board',
  'fit', 'fit_nearest', 'layer_strips', 'fit_layers', 'add_strip_layer', 'remove_strip_layer', 'plain_strips', 'switch_allowance',
];

/**
 * Changes the design; all of one drag is one step of undo.
 * @param {Change} what
 * @param {boolean} [isSameStep]
 * @returns {boolean} whether anything changed
 */
export function change(what, isSameStep = false) {
  if (!isSameStep) settle();
  const isChanged = take(ask((library) => library.change(design(), what)), isSameStep);
  if (!TOLD.includes(what.kind)) return isChanged;
  if (isChanged) say(`${word('did.done')}: ${stepsSaid().undo}`);
  else say(word(what.kind === 'divide' ? 'did.nothing' : 'did.same'));
  return isChanged;
}
