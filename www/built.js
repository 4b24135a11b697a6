/** As built, in the Bench place: glued rings as they were measured, and the curve in them. */

import { ask } from './door.js';
import { keepFieldsIn, makeDrawnField, setFields } from './fields.js';
import { setFigures } from './figures.js';
import { makeHandle, setHandles } from './handles.js';
import { byId, make, makeButton, setPicture } from './page.js';
import { design, record, settle, take } from './work.js';

/** @typedef {import('./ringwright.js').BuiltPlace} BuiltPlace */
/** @typedef {import('./ringwright.js').BuiltChange} BuiltChange */
/** @typedef {import('./ringwright.js').BuiltRow} BuiltRow */

/** What is picked out: it is shown, not kept. */
const picked = { ring: -1, point: -1 };

/** While a handle moves: the view that rests meanwhile. @type {{ view: number[] } | null} */
let drag = null;

/** @type {number[]} */
let view = [];

/** @type {number[]} */
let orderPlaces = [];

/** @type {HTMLButtonElement[]} */
const handles = [];

/** A ring's line, made once for each place. @type {{ line: HTMLElement, pick: HTMLButtonElement, wall: HTMLElement }[]} */
const lines = [];

let openUnits = () => {};

/** @param {() => void} open */
export function setUpBuilt(open) {
  openUnits = open;
  onTap('built-add', () => {
    picked.ring = -1;
    change('add', []);
    // The new ring is measured next.
    const fields = byId('built-rows', HTMLElement).querySelectorAll('li:last-child input');
    const first = fields.item(0);
    if (first instanceof HTMLInputElement) first.focus();
  });
  onTap('built-planned', () => change('planned', []));
  onTap('built-take', () => change('take', []));
  onTap('built-reorder', () => change('reorder', orderPlaces));
  onTap('built-alike', () => change('alike', [picked.ring]));
  onTap('built-turn', () => change('reorder', [picked.ring]));
  onTap('built-up', () => moveRing(picked.ring + 1));
  onTap('built-down', () => moveRing(picked.ring - 1));
  onTap('built-remove', () => {
    const place = picked.ring;
    picked.ring = -1;
    change('remove', [place]);
  });
  byId('built-section', HTMLElement).addEventListener('click', (event) => {
    const named = event.target instanceof Element ? event.target.closest('[data-name]') : null;
    const [kind, place] = (named?.getAttribute('data-name') ?? '').split('-');
    if (kind === 'ring') pick(Number(place));
  });
  new ResizeObserver(() => showBuilt()).observe(byId('built-section', HTMLElement));
}

/**
 * @param {string} id
 * @param {() => void} act
 */
function onTap(id, act) {
  byId(id, HTMLButtonElement).addEventListener('click', act);
}

/**
 * Changes rings or curve; all of one drag is one step of undo.
 * @param {BuiltChange} kind
 * @param {number[]} numbers
 * @param {boolean} [isSameStep]
 * @returns {boolean} whether anything changed
 */
function change(kind, numbers, isSameStep = false) {
  if (!isSameStep) settle();
  return take(ask((library) => library.change_built(design(), kind, new Float64Array(numbers))), isSameStep);
}

/** @param {number} to */
function moveRing(to) {
  const from = picked.ring;
  if (to < 0 || !lines[to]?.line.isConnected) return;
  picked.ring = to;
  change('reorder', [from, to]);
}

/** @param {number} place */
function pick(place) {
  picked.ring = picked.ring === place ? -1 : place;
  showBuilt();
}

/** Shows As built, while the Bench is open. */
export function showBuilt() {
  if (record().place !== 'bench') return;
  const section = byId('built-section', HTMLElement);
  const shown = () => ask((library) => library.show_built(
    design(), section.clientWidth, section.clientHeight, picked.ring, new Float64Array(drag?.view ?? [])));
  let place = shown();
  const { rows } = place.screen;
  byId('built-side', HTMLElement).hidden = rows.length === 0;
  byId('built-head', HTMLElement).hidden = rows.length === 0;
  byId('built-work', HTMLElement).classList.toggle('begun', rows.length > 0);
  // A box that just came has its size only now.
  if (rows.length > 0 && view.length === 0) place = shown();
  view = rows.length > 0 ? place.view : [];
  if (picked.ring >= rows.length) picked.ring = -1;
  setPicture(section, place.section);
  setHandles(handles, place.screen.handles, (at) => makeHandle(section, at, HANDS), picked.point);
  byId('built-says', HTMLElement).textContent = place.screen.says;
  byId('built-pull', HTMLElement).hidden = place.screen.handles.length === 0;
  byId('built-planned', HTMLElement).hidden = !place.screen.can_take_planned;
  if (!drag) setOffers(place);
  setFigures(byId('built-list', HTMLElement), place.screen.list, { onUnit: openUnits });
  setRows(rows);
  setPicked(place);
  setFields([...rows.flatMap((row) => row.entries), ...place.screen.picked], place.screen.messages);
}

/** @param {BuiltPlace} place */
function setOffers(place) {
  const taken = byId('built-take', HTMLElement);
  taken.hidden = place.screen.take === '';
  taken.textContent = place.screen.take;
  orderPlaces = place.screen.order_places;
  byId('built-order', HTMLElement).hidden = place.screen.order === '';
  byId('built-order-says', HTMLElement).textContent = place.screen.order;
}

/** @param {BuiltPlace} place */
function setPicked(place) {
  const box = byId('built-ring', HTMLElement);
  box.hidden = picked.ring < 0;
  if (box.hidden) return;
  byId('built-number', HTMLElement).textContent = place.screen.rows[picked.ring]?.number ?? '';
  byId('built-up', HTMLButtonElement).disabled = picked.ring + 1 >= place.screen.rows.length;
  byId('built-down', HTMLButtonElement).disabled = picked.ring === 0;
  keepFieldsIn(byId('built-fields', HTMLElement), place.screen.picked);
}

/** @param {BuiltRow[]} rows */
function setRows(rows) {
  const list = byId('built-rows', HTMLElement);
  rows.forEach((row, place) => {
    const made = lines[place] ?? makeLine(row, place);
    lines[place] = made;
    if (!made.line.isConnected) list.append(made.line);
    made.pick.setAttribute('aria-pressed', String(place === picked.ring));
    if (made.wall.textContent !== row.wall) made.wall.textContent = row.wall;
    made.line.querySelectorAll('input').forEach((input, at) => {
      input.placeholder = row.planned[at] ?? '';
    });
  });
  while (list.children.length > rows.length) list.lastElementChild?.remove();
}

/**
 * @param {BuiltRow} row
 * @param {number} place
 */
function makeLine(row, place) {
  const button = makeButton(row.number, () => pick(place));
  const wall = make('span', { className: 'quiet built-wall' });
  const line = make('li', { className: 'built-line' }, button, ...row.entries.map(makeDrawnField), wall);
  return { line, pick: button, wall };
}

/** @type {import('./handles.js').Hands} */
const HANDS = {
  hold: (place) => {
    drag = { view };
    picked.point = place;
  },
  pull: (place, x, y, isSameStep) => drag !== null && change('pull', [place, x, y, ...drag.view], isSameStep),
  letGo: () => {
    drag = null;
    showBuilt();
  },
  pick: (place) => {
    picked.point = place;
    showBuilt();
  },
  step: (place, up, right, isSameStep) => change('nudge', [place, up, right], isSameStep),
};
