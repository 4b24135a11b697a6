/**
 * Pieces that could be made of what is at hand: a shape is tapped, and they come as pictures, a
 * size at a time, so that the page stays fluid. Of boards and of glued rings alike.
 */

import { change } from './change.js';
import { ask } from './door.js';
import { byId } from './page.js';
import { PICTURE_PX, clearTiles, makeTile } from './tile.js';
import { word } from './words.js';
import { design, record } from './work.js';

/** @typedef {import('./ringwright.js').Design} Design */
/** @typedef {import('./ringwright.js').Making} Making */
/** @typedef {import('./ringwright.js').Gathering} Gathering */
/** @typedef {import('./ringwright.js').ProposalShown} ProposalShown */

/**
 * What they are of.
 * @typedef {object} Of
 * @property {string} id what the ids of the list and of what is said begin with
 * @property {string} place the place of the page where they stand
 * @property {string} shape the attribute that holds a button's shape, as a property of `dataset`
 * @property {(library: typeof import('./ringwright.js'), of: Design, shape: string) => Making | Gathering | undefined} begin
 * @property {string} took the key of what is said when one became the open design
 * @property {string} shown the id of what comes into view then
 * @property {(left: number[], of: Design | null) => void} [leftOver] places of what it leaves over in the design that it is of
 */

/** So long at a time, less than a frame. */
const LOOK_MILLISECONDS = 12;

/** The proposals of one kind. */
export class Proposals {
  /** @param {Of} of */
  constructor(of) {
    this.of = of;
    /** @type {Making | Gathering | null} */
    this.search = null;
    /** The design that they are of, and the one that one of them became. @type {Design | null} */
    this.design = null;
    /** @type {Design | null} */
    this.taken = null;
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.timer = undefined;
    /** @type {Map<string, HTMLButtonElement>} */
    this.tiles = new Map();
    for (const button of this.buttons()) {
      button.addEventListener('click', () => this.begin(button));
    }
  }

  buttons() {
    const { shape } = this.of;
    const all = [...document.querySelectorAll(`[data-${shape}]`)];
    return all.filter((each) => each instanceof HTMLButtonElement);
  }

  /** Of another design than they were looked for they are none. */
  show() {
    const isSame = this.design === null || this.design === design() || this.taken === design();
    if (record().place !== this.of.place || !isSame) this.end();
  }

  end() {
    clearTimeout(this.timer);
    const { search } = this;
    Object.assign(this, { search: null, design: null, taken: null });
    if (search) ask(() => search.free());
    clearTiles(this.list());
    this.tiles.clear();
    this.of.leftOver?.([], null);
    this.say('');
    for (const button of this.buttons()) button.removeAttribute('aria-pressed');
  }

  list() {
    return byId(`${this.of.id}-list`, HTMLElement);
  }

  /** @param {string} text */
  say(text) {
    byId(`${this.of.id}-says`, HTMLElement).textContent = text;
  }

  /** @param {HTMLButtonElement} button */
  begin(button) {
    this.end();
    this.design = design();
    button.setAttribute('aria-pressed', 'true');
    const shape = button.dataset[this.of.shape] ?? '';
    this.search = ask((library) => this.of.begin(library, design(), shape)) ?? null;
    this.say(word('making.looking'));
    this.lookOn();
  }

  /** Some sizes, and then the hand has the page again. */
  lookOn() {
    const { search } = this;
    if (!search) return;
    const begun = performance.now();
    while (!ask(() => search.is_done())) {
      const found = ask(() => search.next());
      if (found) this.setTile(found);
      if (performance.now() - begun < LOOK_MILLISECONDS) continue;
      this.timer = setTimeout(() => this.lookOn());
      return;
    }
    this.say(ask(() => search.why_not()));
  }

  /** One that was found better takes the other's place. @param {ProposalShown} found */
  setTile(found) {
    const tile = makeTile(found.picture, [found.title, ...found.says, word('making.take')], () => this.take(found));
    tile.lastElementChild?.classList.add('tile-act');
    tile.firstElementChild?.nextElementSibling?.classList.add('making-title');
    for (const title of found.outdone) {
      this.tiles.get(title)?.remove();
      this.tiles.delete(title);
    }
    const old = this.tiles.get(found.title);
    if (old) old.replaceWith(tile);
    else this.list().append(tile);
    this.tiles.set(found.title, tile);
  }

  /** It becomes the open design, as one step, and what follows comes into view. @param {ProposalShown} found */
  take({ link, title, left }) {
    const of = this.design;
    if (!this.search || !of) return;
    if (!change({ kind: 'become', link })) return;
    this.taken = design();
    for (const [each, tile] of this.tiles) tile.setAttribute('aria-pressed', String(each === title));
    this.say(word(this.of.took));
    this.of.leftOver?.(left, of);
    byId(this.of.shown, HTMLElement).scrollIntoView();
  }
}

/** Pictures are as large as this. */
export const PICTURE = /** @type {const} */ ([PICTURE_PX.width, PICTURE_PX.height]);
