/** The Wood place: swatches with what the design needs of each, the seasons, the base. */

import { change } from './change.js';
import { ask } from './door.js';
import { keepFieldsIn, setFields } from './fields.js';
import { cautionLine, setFigures } from './figures.js';
import { byId, make, makeButton, onTap, setPicture } from './page.js';
import { setTable } from './table.js';
import { showThing } from './vessel.js';
import { woodFormFor } from './wood_list.js';
import { word } from './words.js';
import { design, record } from './work.js';

/** @typedef {import('./ringwright.js').WoodPlace} WoodPlace */
/** @typedef {import('./ringwright.js').WoodSwatch} WoodSwatch */
/** @typedef {import('./ringwright.js').AirScreen} AirScreen */
/** @typedef {import('./ringwright.js').Movement} Movement */
/** @typedef {import('./ringwright.js').Message} Message */

let openUnits = () => {};

/** @param {() => void} open */
export function setUpWood(open) {
  openUnits = open;
  woodFormFor('own-wood', 'never', (name) => change({ kind: 'add_own', name }));
  onTap('ply-more', () => change({ kind: 'add_ply' }));
  onTap('base-on-drawing', () => showThing('floor'));
  onTap('ply-less', () => change({ kind: 'remove_ply' }));
  byId('all-woods', HTMLDetailsElement).addEventListener('toggle', setAllWoods);
  const resized = new ResizeObserver(() => showWood());
  resized.observe(byId('base-drawing', HTMLElement));
}

/** As in the style sheet. */
const SWATCH_PX = { width: 240, height: 128 };

/** Shows the place, while it is open. */
export function showWood() {
  if (record().place !== 'wood') return;
  const box = byId('base-drawing', HTMLElement);
  const place = ask((library) => library.show_wood(design(), {
    swatch_width: SWATCH_PX.width,
    swatch_height: SWATCH_PX.height,
    base_width: box.clientWidth,
    base_height: box.clientHeight,
  }));
  const { screen } = place;
  setSwatches(place);
  setAirs(screen.airs, screen.air_choices);
  setFigures(byId('season-first', HTMLElement), screen.first, { onUnit: openUnits });
  setFigures(byId('season-changes', HTMLElement), screen.changes);
  setFigures(byId('season-rings', HTMLElement), screen.rings);
  byId('season-ring-fold', HTMLElement).hidden = screen.rings.length < 2;
  byId('ready-says', HTMLElement).textContent = screen.ready_says;
  keepFieldsIn(byId('season-fields', HTMLElement), screen.entries);
  setCautions('season', screen.cautions);
  setBase(place);
  setAllWoods();
  setFields([
    ...screen.entries, ...screen.base_entries,
    ...screen.airs.flatMap((air) => air.entries),
    ...screen.swatches.flatMap((swatch) => swatch.entries),
  ], screen.messages);
}

/** A swatch's parts stay while its name does: a field that is typed in must not vanish. */
/** @type {Map<string, { box: HTMLElement, list: HTMLElement, source: HTMLElement, fields: HTMLElement, more: HTMLButtonElement }>} */
const swatches = new Map();

/** @param {WoodPlace} place */
function setSwatches(place) {
  const boxes = place.screen.swatches.map((swatch, at) => {
    const key = `${at}: ${swatch.name}`;
    const parts = swatches.get(key) ?? makeSwatch(swatch);
    swatches.set(key, parts);
    setPicture(parts.box, place.boards[at] ?? '');
    setFigures(parts.list, swatch.list, { onUnit: openUnits });
    parts.source.textContent = swatch.source;
    keepFieldsIn(parts.fields, swatch.entries);
    parts.more.hidden = !swatch.name;
    parts.more.textContent = word(swatch.own < 0 ? 'wood.more' : 'wood.less');
    parts.more.onclick = () => {
      if (swatch.own < 0) change({ kind: 'add_own', name: swatch.name });
      else change({ kind: 'remove_own', own: swatch.own });
    };
    return parts.box;
  });
  const list = byId('wood-swatches', HTMLElement);
  const areInPlace = boxes.length === list.children.length
    && boxes.every((box, at) => list.children.item(at) === box);
  if (!areInPlace) list.replaceChildren(...boxes);
}

/** @param {WoodSwatch} swatch */
function makeSwatch(swatch) {
  const list = make('dl', { className: 'list' });
  const source = make('p', { className: 'quiet' });
  const fields = make('div', { className: 'fields' });
  const more = makeButton('', () => {});
  const box = make('div', { className: 'wood-swatch' },
    make('h3', { text: swatch.name || word('wood.unnamed') }), list, source, fields, make('p', { className: 'actions' }, more));
  return { box, list, source, fields, more };
}

/** @type {Map<string, { choice: HTMLSelectElement, list: HTMLElement, fields: HTMLElement }>} */
const airs = new Map();

/**
 * @param {AirScreen[]} screens
 * @param {[string, string][]} choices
 */
function setAirs(screens, choices) {
  screens.forEach((air) => {
    const parts = airs.get(air.of) ?? makeAir(air, choices);
    airs.set(air.of, parts);
    parts.choice.value = air.described;
    setFigures(parts.list, [air.brings]);
    keepFieldsIn(parts.fields, air.entries);
  });
}

/**
 * @param {AirScreen} air
 * @param {[string, string][]} choices
 */
function makeAir(air, choices) {
  const choice = make('select');
  choice.append(...[['', word('season.typed')], ...choices].map(([value, text]) => {
    const option = make('option', { text });
    option.value = value ?? '';
    return option;
  }));
  choice.addEventListener('change', () => change({ kind: 'air', of: air.of, described: choice.value }));
  const fields = make('div', { className: 'air-fields' });
  const list = make('dl', { className: 'list' });
  const label = make('label', { className: 'field' }, make('span', { text: word('season.take') }), choice);
  byId('airs', HTMLElement).append(make('div', { className: 'air' },
    make('h3', { text: air.label }), label, fields, list));
  return { choice, list, fields };
}

/** @param {WoodPlace} place */
function setBase(place) {
  const { base } = place.screen;
  keepFieldsIn(byId('base-fields', HTMLElement), place.screen.base_entries);
  byId('ply-tools', HTMLElement).hidden = !place.screen.has_plies;
  byId('base-on-drawing', HTMLElement).hidden = design().vessel === null;
  byId('base-none', HTMLElement).hidden = base !== undefined && base !== null;
  byId('base-work', HTMLElement).hidden = !base;
  setCautions('base', place.screen.base_cautions);
  if (!base) return;
  const box = byId('base-drawing', HTMLElement);
  if (box.clientWidth === 0) return;
  setPicture(box, place.base);
  setFigures(byId('base-first', HTMLElement), base.first, { onUnit: openUnits });
  setFigures(byId('base-sizes', HTMLElement), base.sizes, { onUnit: openUnits });
  setFigures(byId('base-blanks', HTMLElement), base.blanks, { onUnit: openUnits });
  byId('base-ply-order', HTMLElement).hidden = !place.screen.has_plies;
  byId('base-blank-part', HTMLElement).hidden = base.blanks.length === 0;
  byId('base-movements', HTMLElement).replaceChildren(...base.movements.map(movement));
}

/** @param {Movement} way */
function movement(way) {
  const list = make('dl', { className: 'list' });
  setFigures(list, way.list);
  const box = make('div', { className: 'movement' },
    make('h3', { text: way.label }), make('p', { className: 'says', text: way.says }), list);
  if (way.is_chosen) box.setAttribute('aria-current', 'true');
  return box;
}

/**
 * @param {string} part
 * @param {Message[]} cautions
 */
function setCautions(part, cautions) {
  byId(`${part}-cautions`, HTMLElement).hidden = cautions.length === 0;
  byId(`${part}-caution-list`, HTMLElement).replaceChildren(...cautions.map(cautionLine));
}

let unitOfTable = '';

/** The table is long: it is only set while it is open, and anew for another unit. */
function setAllWoods() {
  if (!byId('all-woods', HTMLDetailsElement).open || unitOfTable === design().unit) return;
  unitOfTable = design().unit;
  setTable(byId('all-wood-table', HTMLTableElement), ask((library) => library.show_all_woods(design())));
}
