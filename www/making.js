/**
 * What the boards at hand could become: a shape is tapped, and the pieces of it that the boards
 * give come as pictures, a size at a time, so that the page stays fluid.
 */

import { change } from './change.js';
import { ask } from './door.js';
import { byId } from './page.js';
import { PICTURE_PX, clearTiles, makeTile } from './tile.js';
import { word } from './words.js';
import { design, record } from './work.js';

/** @typedef {import('./ringwright.js').Design} Design */
/** @typedef {import('./ringwright.js').Making} Making */
/** @typedef {import('./ringwright.js').ProposalShown} ProposalShown */

/**
 * `of` is the design that they are of, `taken` the one that one of them became.
 * @type {{ search: Making | null, of: Design | null, taken: Design | null, timer: ReturnType<typeof setTimeout> | undefined }}
 */
const going = { search: null, of: null, taken: null, timer: undefined };

/** @type {Map<string, HTMLButtonElement>} */
const tiles = new Map();

export function setUpMaking() {
  for (const button of buttons()) {
    button.addEventListener('click', () => begin(button));
  }
}

function buttons() {
  return [...document.querySelectorAll('[data-make]')].filter((each) => each instanceof HTMLButtonElement);
}

/** Of another design than they were looked for they are none. */
export function showMaking() {
  for (const button of buttons()) {
    if (button.dataset.make === 'own') button.hidden = design().vessel === null;
  }
  if (record().place === 'wood' && (going.of === null || going.of === design() || going.taken === design())) return;
  end();
}

function end() {
  clearTimeout(going.timer);
  const { search } = going;
  Object.assign(going, { search: null, of: null, taken: null });
  if (search) ask(() => search.free());
  clearTiles(byId('making-list', HTMLElement));
  tiles.clear();
  byId('making-says', HTMLElement).textContent = '';
  for (const button of buttons()) button.removeAttribute('aria-pressed');
}

/** @param {HTMLButtonElement} button */
function begin(button) {
  end();
  going.of = design();
  button.setAttribute('aria-pressed', 'true');
  const begun = ask((library) => library.Making.begin(
    design(), button.dataset.make ?? '', PICTURE_PX.width, PICTURE_PX.height));
  going.search = begun ?? null;
  byId('making-says', HTMLElement).textContent = word('making.looking');
  lookOn();
}

/** So long at a time, less than a frame. */
const LOOK_MILLISECONDS = 12;

/** Some sizes, and then the hand has the page again. */
function lookOn() {
  const { search } = going;
  if (!search) return;
  const begun = performance.now();
  while (!ask(() => search.is_done())) {
    const found = ask(() => search.next());
    if (found) setTile(found);
    if (performance.now() - begun < LOOK_MILLISECONDS) continue;
    going.timer = setTimeout(lookOn);
    return;
  }
  byId('making-says', HTMLElement).textContent = ask(() => search.why_not());
}

/** One that was found better takes the other's place. @param {ProposalShown} found */
function setTile(found) {
  const tile = makeTile(found.picture, [found.title, ...found.says], () => take(found));
  tile.firstElementChild?.nextElementSibling?.classList.add('making-title');
  const old = tiles.get(found.title);
  if (old) old.replaceWith(tile);
  else byId('making-list', HTMLElement).append(tile);
  tiles.set(found.title, tile);
}

/** It becomes the open design, as one step, and its boards come into view. @param {ProposalShown} found */
function take({ link, title }) {
  const { search, of } = going;
  if (!search || !of) return;
  if (!change({ kind: 'become', link })) return;
  going.taken = design();
  for (const [each, tile] of tiles) tile.setAttribute('aria-pressed', String(each === title));
  byId('making-says', HTMLElement).textContent = word('making.took');
  byId('boards-answer', HTMLElement).scrollIntoView();
}
