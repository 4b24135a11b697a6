/** The Vessel place: the half-section is the editor; rings, woods and cautions beside. */

import { change } from './change.js';
import { ask } from './door.js';
import { copyText } from './files.js';
import { keepFieldsIn, placeFields, setFields } from './fields.js';
import { cautionLine, setFigures } from './figures.js';
import { setUpGlued, showGlued } from './glued.js';
import { makeHandle, setHandles } from './handles.js';
import { byId, make, onTap, setPicture } from './page.js';
import { setThings, setUpPanel, showPanel } from './panel.js';
import { say } from './say.js';
import { setTable } from './table.js';
import { setUpThree, showThree, turnOnce } from './three.js';
import { setUpTrace, showTrace } from './trace.js';
import { woodFormFor } from './wood_list.js';
import { word } from './words.js';
import { design, goToPlace, isGuest, record, takeGuest, titleNow } from './work.js';

/** @typedef {import('./ringwright.js').Entry} Entry */
/** @typedef {import('./ringwright.js').Swatch} Swatch */
/** @typedef {import('./ringwright.js').VesselPlace} VesselPlace */
/** @typedef {import('./ringwright.js').Handle} Handle */
/** @typedef {import('./ringwright.js').Mark} Mark */
/** @typedef {import('./ringwright.js').Message} Message */

/**
 * What is touched, by its name on the drawings, and the wood that was picked last: while that
 * is in hand, what is touched is painted. It is shown, not kept.
 * Its panel can be closed while it stays lit up.
 */
const picked = { thing: '', ring: -1, point: -1, isOpen: false, wood: 0, isInHand: false, isForRing: false, isLaid: false };

/** The panel stands beside the drawing: it is in nobody's way. */
const isBeside = matchMedia('(min-width: 840px)');

/** The design that was shown last. */
let shownOf = '';

/** While a handle moves: the view that rests meanwhile. @type {{ view: number[] } | null} */
let drag = null;

/** @type {number[]} */
let view = [];

/** @type {HTMLButtonElement[]} */
const handles = [];

let openUnits = () => {};

/** @param {() => void} open */
export function setUpVessel(open) {
  openUnits = open;
  onTap('vessel-again', () => {
    const starts = byId('starts', HTMLElement);
    starts.hidden = !starts.hidden;
  });
  onTap('divide', () => change({ kind: 'divide' }));
  onTap('guest-own', () => {
    takeGuest();
    byId('vessel-says', HTMLElement).textContent = word('guest.owned');
  });
  onTap('wood-remove', () => {
    const { wood } = picked;
    putDown();
    change({ kind: 'remove_wood', wood });
  });
  onTap('copy-csv', () => void copyCsv());
  woodFormFor('wood', 'first', (name, isSameStep) => {
    change({ kind: 'add_wood', name }, isSameStep);
    takeInHand(name);
  });
  for (const button of document.querySelectorAll('[data-pattern]')) {
    if (!(button instanceof HTMLElement)) continue;
    const pattern = button.dataset.pattern ?? '';
    button.addEventListener('click', () => repeatPattern(pattern));
  }
  setUpGlued({
    picked: () => picked.ring,
    pick: (ring) => pick(`ring-${ring}`),
    openFloor: () => pick('floor'),
    openUnits: () => openUnits(),
  });
  const handle = (/** @type {string} */ name) => handles[Number(/^point-(\d+)$/.exec(name)?.[1] ?? NaN)];
  setUpPanel({ aim, pick, putDown: leaveWood, handle, touchedRow, isBeside: () => isBeside.matches, openUnits: () => openUnits() });
  setUpThree(touch);
  setUpSection();
  setUpTrace();
  byId('unrolled', HTMLElement).addEventListener('click', touchNamed);
  byId('above', HTMLElement).addEventListener('click', touchNamed);
  const resized = new ResizeObserver(() => {
    measure();
    showVessel();
  });
  for (const id of ['section', 'unrolled']) resized.observe(byId(id, HTMLElement));
}

/** Begins a vessel of a starting shape, and shows it. @param {string} shape */
export function beginShape(shape) {
  record().place = 'vessel';
  shownOf = record().id;
  byId('starts', HTMLElement).hidden = true;
  // The first ring above the floor is lit up: a wood and a pattern paint it at once.
  aim('ring-1');
  picked.isOpen = false;
  putDown();
  const isInPlace = design().vessel !== null;
  if (change({ kind: 'begin', shape }) && isInPlace) say(word('start.replaced'));
}

/** @param {string} pattern */
function repeatPattern(pattern) {
  const { ring, wood } = picked;
  if (pattern === 'mirror') change({ kind: pattern });
  else if (!picked.isInHand && pattern !== 'spiral' && pattern !== 'columns') say(word('vessel.wood_first'));
  else if (ring < 0) say(word('vessel.ring_first'));
  else if (pattern === 'spiral' || pattern === 'columns') change({ kind: pattern, ring });
  else {
    picked.isLaid = true;
    // In a ring's panel it stays in hand for the next ring; else what is touched next is looked at.
    if (!picked.isForRing) putDown();
    change({ kind: 'repeat', ring, wood, pattern });
  }
}

const sizes = { section_width: 0, section_height: 0, unrolled_width: 0, unrolled_height: 0, above_side: 0 };

function measure() {
  const section = byId('section', HTMLElement);
  if (section.clientWidth === 0) return;
  const unrolled = byId('unrolled', HTMLElement);
  sizes.section_width = section.clientWidth;
  sizes.section_height = section.clientHeight;
  sizes.unrolled_width = unrolled.clientWidth;
  sizes.unrolled_height = unrolled.clientHeight;
  sizes.above_side = byId('above', HTMLElement).clientWidth || sizes.above_side || 240;
}

/** Shows the place, while it is open. */
export function showVessel() {
  if (record().place !== 'vessel') {
    // What is in hand is seen in this place alone, and a panel over the drawing is not waited for.
    putDown();
    if (!isBeside.matches) picked.isOpen = false;
    return;
  }
  const isBegun = design().vessel !== null;
  byId('vessel-work', HTMLElement).hidden = !isBegun;
  byId('vessel-more', HTMLElement).hidden = !isBegun;
  byId('vessel-again', HTMLElement).hidden = !isBegun;
  byId('start-title', HTMLElement).hidden = isBegun;
  if (shownOf !== record().id) {
    // Another design: what was picked out belongs to the one before.
    shownOf = record().id;
    aim('');
    putDown();
    byId('starts', HTMLElement).hidden = isBegun;
  }
  if (!isBegun) {
    byId('starts', HTMLElement).hidden = false;
    return;
  }
  if (!drag) measure();
  if (sizes.section_width === 0) return;
  if (drag && pace.took > QUICK_MILLISECONDS) showSectionOnly(drag.view);
  else showWhole();
}

/** Showing the whole takes so long on a slow machine that a handle would fall behind the finger. */
const QUICK_MILLISECONDS = 6;
const REST_MILLISECONDS = 350;

/** How long showing the whole took last, and when the hand is taken to rest. */
const pace = { took: 0, rest: 0 };

/** @param {number[]} still */
function showSectionOnly(still) {
  const place = ask((library) => library.show_vessel(
    design(), { ...sizes, unrolled_width: 0 }, picked.thing, picked.wood, new Float64Array(still)));
  if (!place) return;
  setSection(place);
  setFields(place.screen.shape, []);
  showHandles(place.screen.handles);
  setMarks(place.screen.marks);
  clearTimeout(pace.rest);
  pace.rest = setTimeout(showWhole, REST_MILLISECONDS);
}

/** @param {VesselPlace} place */
function setSection({ section, screen }) {
  const box = byId('section', HTMLElement);
  setPicture(box, section.svg);
  placeFields(box, section.places, screen.shape, sizes.section_width, sizes.section_height);
}

function showWhole() {
  clearTimeout(pace.rest);
  const start = performance.now();
  const place = ask((library) => library.show_vessel(
    design(), sizes, picked.thing, picked.wood, new Float64Array(drag?.view ?? [])));
  if (!place) return;
  view = place.view;
  // What is not there any more is not in hand.
  const panel = place.panel ?? null;
  picked.ring = panel?.ring ?? -1;
  picked.point = panel?.point ?? -1;
  if (!panel) aim('');
  setSection(place);
  setPicture(byId('unrolled', HTMLElement), place.unrolled);
  showHandles(place.screen.handles);
  showTrace(view);
  showThree(design(), picked.thing, record().id);
  setMarks(place.screen.marks);
  setLacking(place.screen.lacking);
  byId('size-now', HTMLElement).textContent = place.screen.size_now;
  byId('stock-now', HTMLElement).textContent = place.screen.stock_now;
  setFigures(byId('total-list', HTMLElement), place.screen.totals);
  if (!drag) setThings(place.screen.things, picked.thing);
  const open = picked.isOpen && !drag ? panel : null;
  setSwatches(place, open?.woods ?? []);
  showPanel(open, place.from_above);
  setPatterns((open?.woods ?? []).length > 0);
  setRows(place);
  showGuest(place.screen.in_short);
  showGlued(place.screen.glued ?? null);
  // What is glued stays as it is: there may be nothing to divide.
  byId('divide', HTMLElement).hidden = place.screen.glued?.is_all ?? false;
  const { shape, stock, glued, messages } = place.screen;
  // How many segments all rings have is asked right under the drawing, the rest of the shape further down.
  const isOfAll = (/** @type {Entry} */ entry) => entry.key === 'vessel.segment_count';
  keepFieldsIn(byId('count-of-all', HTMLElement), shape.filter(isOfAll));
  keepFieldsIn(byId('vessel-fields', HTMLElement), shape.filter((entry) => !isOfAll(entry)));
  keepFieldsIn(byId('stock-fields', HTMLElement), stock);
  setFields(
    [...shape, ...stock, ...(panel?.entries ?? []), ...(glued?.of_all ?? []), ...(glued?.rows ?? []).flatMap((row) => row.entries)],
    [...messages, ...(glued?.messages ?? [])]);
  if (!drag) {
    byId('section', HTMLElement).style.setProperty('--room', `${place.room}px`);
    byId('unrolled', HTMLElement).style.setProperty('--room', `${place.rows_room}px`);
  }
  pace.took = performance.now() - start;
}

/** The piece that was turned round once. */
let turned = '';

/** A piece that someone sent is shown first of all, and turns once. @param {string} inShort */
function showGuest(inShort) {
  byId('guest', HTMLElement).hidden = !isGuest();
  byId('vessel', HTMLElement).classList.toggle('is-guest', isGuest());
  if (!isGuest()) return;
  byId('guest-name', HTMLElement).textContent = titleNow();
  byId('guest-says', HTMLElement).textContent = inShort;
  if (turned === record().id) return;
  turned = record().id;
  turnOnce();
}

/** The woods as they were shown last. @type {import('./ringwright.js').Swatch[]} */
let woods = [];

/** The wood that is added is the one that is painted with. @param {string} name */
function takeInHand(name) {
  const added = woods.find((each) => each.name.toLowerCase() === name.toLowerCase());
  if (added) takeUp(added.place);
  showVessel();
}

/**
 * @param {number} wood
 * @param {boolean} [isForRing] whether it is taken in an open ring's panel: there a touch on another ring opens that one
 */
function takeUp(wood, isForRing = false) {
  picked.wood = wood;
  picked.isInHand = true;
  picked.isForRing = isForRing;
  picked.isLaid = false;
}

/** The panel is closed: what was taken in hand and laid nowhere is said. */
function leaveWood() {
  if (picked.isInHand && !picked.isLaid) say(word('vessel.not_laid'));
  putDown();
}

function putDown() {
  picked.wood = 0;
  picked.isInHand = false;
  picked.isForRing = false;
}

/**
 * @param {VesselPlace} place
 * @param {string[]} ofRing how much of the open ring each wood is
 */
function setSwatches(place, ofRing) {
  const { swatches } = place.screen;
  woods = swatches;
  picked.wood = Math.min(picked.wood, swatches.length - 1);
  const inHand = picked.isInHand ? swatches[picked.wood] : undefined;
  const removing = inHand?.remove ?? '';
  byId('vessel-tap', HTMLElement).textContent = inHand?.in_hand ?? word('vessel.tap');
  for (const id of ['section', 'unrolled', 'above', 'three']) byId(id, HTMLElement).classList.toggle('is-painted-on', picked.isInHand);
  byId('wood-remove', HTMLButtonElement).hidden = removing === '';
  byId('wood-remove', HTMLButtonElement).textContent = removing;
  const note = (/** @type {string} */ text) => (text ? [make('span', { className: 'quiet', text })] : []);
  byId('swatches', HTMLElement).replaceChildren(...swatches.map((each) => swatchButton(each, note(each.note), false)));
  byId('panel-swatches', HTMLElement).replaceChildren(...swatches.map((each) => swatchButton(each, note(ofRing[each.place] ?? ''), true)));
}

/**
 * @param {Swatch} each
 * @param {HTMLElement[]} notes
 * @param {boolean} isForRing whether it stands in a ring's panel
 */
function swatchButton(each, notes, isForRing) {
  const sample = make('span', { className: 'sample' });
  sample.style.backgroundColor = each.color;
  const button = make('button', { className: 'swatch' }, sample,
    make('span', { className: 'about' }, make('strong', { text: each.name }), ...notes));
  button.type = 'button';
  const isInHand = picked.isInHand && each.place === picked.wood;
  button.setAttribute('aria-pressed', String(isInHand));
  button.addEventListener('click', () => {
    if (isInHand) putDown();
    else takeUp(each.place, isForRing);
    showVessel();
  });
  return button;
}

/**
 * The woods stand at the top of an open ring's panel, where the drawing is in view; what lays
 * one round the ring stands with its acts, else with the woods.
 * @param {boolean} isWithRing
 */
function setPatterns(isWithRing) {
  byId('panel-swatches', HTMLElement).hidden = !isWithRing;
  // A wood in hand asks at once where it goes.
  const own = picked.isInHand ? 'panel-patterns-first' : 'panel-patterns';
  for (const id of ['panel-patterns-first', 'panel-patterns']) byId(id, HTMLElement).hidden = !isWithRing || id !== own;
  const home = byId(isWithRing ? own : 'patterns-home', HTMLElement);
  const patterns = byId('patterns', HTMLElement);
  if (patterns.parentElement !== home) home.append(patterns);
}

/** @param {Handle[]} points */
function showHandles(points) {
  setHandles(handles, points, (place) => makeHandle(byId('section', HTMLElement), place, HANDS), picked.point);
}

/** @type {import('./handles.js').Hands} */
const HANDS = {
  hold: (place) => {
    drag = { view };
    picked.point = place;
    aim(`point-${place}`);
  },
  pull: (place, x, y, isSameStep) => (
    drag !== null && change({ kind: 'move_point', place, x, y, view: drag.view }, isSameStep)),
  letGo: () => {
    drag = null;
    showVessel();
  },
  pick: (place) => pick(`point-${place}`),
  beside: (event) => pick(thingUnder(event)),
  step: (place, up, out, isSameStep) => change({ kind: 'nudge_point', place, up, out }, isSameStep),
  remove: (place) => {
    aim('');
    change({ kind: 'remove_point', place });
  },
};

/**
 * Where a pointer is on the section, in its pixels.
 * @param {MouseEvent} event
 */
function onSection(event) {
  const box = byId('section', HTMLElement).getBoundingClientRect();
  return /** @type {const} */ ([event.clientX - box.left, event.clientY - box.top]);
}

/** Tapping the outline adds a point there, all else is touched. */
function setUpSection() {
  byId('section', HTMLElement).addEventListener('click', (event) => {
    // A handle, a mark and what the keys reach have taps of their own.
    if (event.target instanceof Element && event.target.closest('button, .things, .drawn-field')) return;
    const name = nameOf(event);
    if (name === 'outside') {
      const [x, y] = onSection(event);
      change({ kind: 'add_point', x, y, view });
    } else touch(name);
  });
}

/**
 * What lies under a finger, the curve and its handles aside.
 * @param {MouseEvent} event
 */
function thingUnder(event) {
  const names = document.elementsFromPoint(event.clientX, event.clientY)
    .map((each) => each.closest('svg [data-name]')?.getAttribute('data-name') ?? '');
  return names.find((name) => name !== '' && name !== 'outside' && name !== 'inside') ?? '';
}

/** Takes a thing in hand at the next showing. @param {string} name */
function aim(name) {
  picked.thing = name;
  picked.isOpen = name !== '';
}

/** Takes a thing in hand, and shows its panel. @param {string} name */
function pick(name) {
  aim(name);
  showVessel();
}

/** Goes to a thing on the drawing, and shows its panel. @param {string} name */
export function showThing(name) {
  goToPlace('vessel');
  pick(name);
  byId('section', HTMLElement).scrollIntoView({ block: 'nearest' });
}

/** With a wood in hand a segment that is touched is painted; else the panel opens, of a segment its ring's. @param {string} name */
function touch(name) {
  const ring = name.replace(/^cell-(\d+)-.*$/, 'ring-$1');
  const isOther = picked.isForRing && picked.isOpen && ring !== picked.thing;
  if (name.startsWith('cell-') && picked.isInHand && !isOther) paint(name);
  else pick(ring);
}

/** @param {Event} event */
function touchNamed(event) {
  const name = nameOf(event);
  isOfRows = event.currentTarget === byId('unrolled', HTMLElement);
  if (name) touch(name);
  isOfRows = false;
}

/** Whether it is the unrolled view that is touched now. */
let isOfRows = false;

/** A ring's row there, while that is touched: on a phone it stays in view. @param {string} name */
function touchedRow(name) {
  const cell = name.replace('ring', 'cell');
  return isOfRows ? byId('unrolled', HTMLElement).querySelector(`[data-name^="${cell}-"]`) : null;
}

/** @param {string} name of a segment */
function paint(name) {
  const [, ring, segment] = name.split('-');
  // On a phone the panel would cover what is painted.
  const isOpen = picked.isOpen || isBeside.matches;
  aim(`ring-${ring}`);
  picked.isOpen = isOpen;
  picked.isLaid = true;
  const isPainted = change({ kind: 'paint', ring: Number(ring), segment: Number(segment), wood: picked.wood });
  if (!isPainted) showVessel();
}

/** @param {Event} event */
function nameOf(event) {
  const named = event.target instanceof Element ? event.target.closest('[data-name]') : null;
  return named?.getAttribute('data-name') ?? '';
}

/** The marks that stand on the section. */
let marksSaid = '';

/** @param {Mark[]} marks */
function setMarks(marks) {
  const said = JSON.stringify(marks);
  if (said === marksSaid) return;
  marksSaid = said;
  const box = byId('section', HTMLElement);
  for (const old of box.querySelectorAll('.mark')) old.remove();
  box.append(...marks.filter((each) => each.has_room).map((each) => {
    const button = make('button', { className: 'mark', text: '!' });
    button.type = 'button';
    button.style.translate = `${each.x}px ${each.y}px`;
    button.setAttribute('aria-label', each.message.reason);
    button.addEventListener('click', () => {
      pick(each.thing);
    });
    return button;
  }));
  byId('vessel-marks', HTMLElement).hidden = marks.length === 0;
  const list = byId('vessel-cautions', HTMLElement);
  list.replaceChildren(...marks.map((each) => cautionLine(each.message)));
  tellNone();
}

/** What no board gives, under the cautions. @param {Message[]} messages */
function setLacking(messages) {
  byId('vessel-lacking', HTMLElement).replaceChildren(...messages.map(cautionLine));
  tellNone();
}

/** Nothing to look out for: neither cautions nor boards that are not right. */
function tellNone() {
  const lists = ['vessel-cautions', 'vessel-lacking'].map((id) => byId(id, HTMLElement));
  byId('no-cautions', HTMLElement).hidden = lists.some((list) => list.childElementCount > 0);
}

/** @param {VesselPlace} place */
function setRows(place) {
  if (!byId('all-rings', HTMLDetailsElement).open) return;
  setTable(byId('ring-table', HTMLTableElement), place.screen.rows, { onRow: (ring) => pick(`ring-${ring}`) });
}

async function copyCsv() {
  const isCopied = await copyText(ask((library) => library.rings_csv(design())));
  say(word(isCopied ? 'vessel.csv_copied' : 'vessel.csv_failed'), 'csv');
}
