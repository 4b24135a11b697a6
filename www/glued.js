/** Rings of the vessel that are glued already: their sizes as measured, and what they allow. */

import { change } from './change.js';
import { keepFieldsIn, makeDrawnField, setPlanned } from './fields.js';
import { setFigures } from './figures.js';
import { onNextAtEnd } from './keypad.js';
import { setUpMany } from './many.js';
import { byId, make, makeButton, onTap } from './page.js';
import { word } from './words.js';
import { goToPlace, leaveRow } from './work.js';

/** @typedef {import('./ringwright.js').GluedScreen} GluedScreen */
/** @typedef {import('./ringwright.js').GluedRow} GluedRow */

/**
 * What the Vessel place does for them.
 * @typedef {object} Hands
 * @property {() => number} picked the ring that is picked out
 * @property {(place: number) => void} pick
 * @property {() => void} openFloor opens the panel of the base
 * @property {() => void} openUnits
 */

/** @type {Hands} */
let hands;

/** @type {number[]} */
let orderPlaces = [];

/** The ring that a base would be let into. */
let baseRing = 0;

/**
 * A ring's line, made once for each place.
 * @type {Map<number, { line: HTMLElement, pick: HTMLButtonElement, wall: HTMLElement }>}
 */
const lines = new Map();

/** @param {Hands} own */
export function setUpGlued(own) {
  hands = own;
  const onTop = () => add('add_glued');
  onTap('glued-add', onTop);
  onNextAtEnd(byId('glued-rows', HTMLElement), { label: word('built.new_ring'), act: onTop });
  const [down, instead] = ['down', 'instead'].map((name) => byId(`glued-many-${name}`, HTMLInputElement));
  setUpMany('glued-many', (library, of, text) => library.add_rings(of, text, down.checked, instead.checked), () => {
    instead.checked = false;
    // What is said of the rings, and the first of them.
    byId('glued-side', HTMLElement).scrollIntoView();
  });
  onTap('glued-take', () => change({ kind: 'take_nearest' }));
  onTap('glued-draw', () => change({ kind: 'draw_in_rings' }));
  onTap('glued-outside', () => change({ kind: 'draw_along_outside' }));
  onTap('glued-base', () => {
    if (change({ kind: 'let_base_in', ring: baseRing })) hands.openFloor();
  });
  onTap('glued-reorder', () => {
    const [ring, other] = orderPlaces;
    if (ring === undefined) return;
    change(other === undefined ? { kind: 'turn_over', ring } : { kind: 'swap', ring, other });
  });
}

/** Begins a vessel with a ring that is glued already. */
export function beginGlued() {
  goToPlace('vessel');
  byId('starts', HTMLElement).hidden = true;
  add('begin_glued');
}

/**
 * Puts a ring on top, or begins with one; its outside is measured next.
 * @param {'add_glued' | 'begin_glued'} kind
 */
function add(kind) {
  leaveRow();
  change({ kind });
  const field = byId('glued-rows', HTMLElement).querySelector('li:last-child input');
  if (field instanceof HTMLInputElement) field.focus();
}

/**
 * Shows them; nothing where no ring is glued.
 * @param {GluedScreen | null} screen
 */
export function showGlued(screen) {
  for (const id of ['glued-side', 'glued-pull']) byId(id, HTMLElement).hidden = !screen;
  if (!screen) return;
  byId('glued-says', HTMLElement).textContent = screen.says;
  offer('glued-take', screen.take);
  offer('glued-draw', screen.draw);
  offer('glued-outside', screen.outside);
  offer('glued-base', screen.base);
  baseRing = screen.base_ring;
  orderPlaces = screen.order_places;
  byId('glued-many-instead', HTMLInputElement).parentElement?.toggleAttribute('hidden', screen.is_begun);
  byId('glued-order', HTMLElement).hidden = screen.order === '';
  byId('glued-order-says', HTMLElement).textContent = screen.order;
  byId('glued-how-now', HTMLElement).textContent = screen.of_all_now;
  keepFieldsIn(byId('glued-how-fields', HTMLElement), screen.of_all);
  setFigures(byId('glued-list', HTMLElement), screen.list, { onUnit: hands.openUnits });
  setRows(screen.rows);
}

/**
 * @param {string} id
 * @param {string} label empty where there is nothing to do
 */
function offer(id, label) {
  const button = byId(id, HTMLButtonElement);
  button.hidden = label === '';
  button.textContent = label;
}

/** @param {GluedRow[]} rows */
function setRows(rows) {
  const list = byId('glued-rows', HTMLElement);
  const wanted = rows.map((row) => {
    const made = lines.get(row.place) ?? makeLine(row);
    lines.set(row.place, made);
    made.pick.setAttribute('aria-pressed', String(row.place === hands.picked()));
    if (made.wall.textContent !== row.wall) made.wall.textContent = row.wall;
    setPlanned(made.line, row.planned);
    return made.line;
  });
  // A line that has the focus stays where it is: only what differs is put in or taken out.
  for (const [at, line] of wanted.entries()) {
    if (list.children[at] !== line) list.insertBefore(line, list.children[at] ?? null);
  }
  while (list.children.length > wanted.length) list.lastElementChild?.remove();
}

/** Long enough for a tap to land on what it was meant for, before messages move it. */
const TAP_MILLISECONDS = 60;

/** Whether the last thing that was done was done by finger or mouse. */
let isByHand = false;
addEventListener('pointerdown', () => { isByHand = true; }, true);
addEventListener('keydown', () => { isByHand = false; }, true);

function leaveRowWhenTapped() {
  if (isByHand) setTimeout(leaveRow, TAP_MILLISECONDS);
  else leaveRow();
}

/** @param {GluedRow} row */
function makeLine(row) {
  const button = makeButton(row.number, () => hands.pick(row.place));
  const wall = make('span', { className: 'quiet glued-wall' });
  const line = make('li', { className: 'glued-line' }, button, ...row.entries.map(makeDrawnField), wall);
  line.dataset.row = String(row.place);
  line.addEventListener('focusout', ({ relatedTarget }) => {
    if (!(relatedTarget instanceof Node && line.contains(relatedTarget))) leaveRowWhenTapped();
  });
  return { line, pick: button, wall };
}
