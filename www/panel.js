/**
 * The panel of what is touched on the piece, one for all kinds of things: the library tells
 * what stands in it. It stands beside the drawing, and on a phone comes up from below.
 */

import { change } from './change.js';
import { keepFieldsIn } from './fields.js';
import { cautionLine, setFigures } from './figures.js';
import { byId, make, makeButton, onTap, setLines, setPicture } from './page.js';
import { word } from './words.js';
import { goToPlace } from './work.js';

/** @typedef {import('./ringwright.js').Panel} Panel */
/** @typedef {import('./ringwright.js').Act} Act */
/** @typedef {import('./ringwright.js').Link} Link */
/** @typedef {import('./ringwright.js').Touched} Touched */

/**
 * What the drawing does for it.
 * @typedef {object} Hands
 * @property {(name: string) => void} aim takes a thing in hand at the next showing
 * @property {(name: string) => void} pick takes a thing in hand and shows it
 * @property {() => void} putDown lets go of the wood that is painted with
 * @property {(name: string) => HTMLElement | undefined} handle of a point
 * @property {(name: string) => Element | null} touchedRow a ring's row of the unrolled view, while that is touched
 * @property {() => boolean} isBeside whether the panel stands beside the drawing
 * @property {() => void} openUnits
 */

/** @type {Hands} */
let hands;

/** @type {Panel | null} */
let shown = null;

/** @param {Hands} own */
export function setUpPanel(own) {
  hands = own;
  onTap('panel-below', () => hands.pick(shown?.below ?? ''));
  onTap('panel-above', () => hands.pick(shown?.above ?? ''));
  onTap('panel-close', close);
  byId('panel', HTMLElement).addEventListener('keydown', (event) => {
    if (event.key === 'Escape') close();
  });
  // The keypad comes up with the focus, and the panel goes above it: the thing stays in view.
  byId('panel', HTMLElement).addEventListener('focusin', () => requestAnimationFrame(bringThing));
  const list = byId('section-things', HTMLElement);
  list.addEventListener('keydown', goByKey);
  list.addEventListener('focus', () => {
    const first = list.querySelector('.current') ?? list.firstElementChild;
    if (first) setCurrent(first);
  });
}

/** The keyboard goes back to where it came from. */
function close() {
  hands.putDown();
  hands.pick('');
  byId('section-things', HTMLElement).focus({ preventScroll: true });
}

/**
 * Shows the panel; none where nothing is touched.
 * @param {Panel | null} panel
 * @param {string} fromAbove the ring's drawing; empty where it is no ring
 */
export function showPanel(panel, fromAbove) {
  const isOther = panel?.name !== shown?.name;
  shown = panel;
  const box = byId('panel', HTMLElement);
  box.hidden = !panel;
  if (!panel) return;
  byId('panel-title', HTMLElement).textContent = panel.title;
  byId('panel-says', HTMLElement).textContent = panel.says;
  for (const way of /** @type {const} */ (['below', 'above'])) {
    const button = byId(`panel-${way}`, HTMLButtonElement);
    button.hidden = panel.below === '' && panel.above === '';
    button.disabled = panel[way] === '';
    // Sets of slots may lie side by side.
    const isSet = panel.name.startsWith('set-');
    button.textContent = word(isSet ? `thing.${way === 'below' ? 'before' : 'after'}` : `thing.${way}`);
  }
  byId('panel-cautions', HTMLElement).replaceChildren(...panel.cautions.map(cautionLine));
  setFigures(byId('panel-saw', HTMLElement), panel.saw, { onUnit: hands.openUnits });
  setFigures(byId('panel-list', HTMLElement), panel.list, { onUnit: hands.openUnits });
  keepFieldsIn(byId('panel-fields', HTMLElement), panel.entries);
  setPicture(byId('above', HTMLElement), fromAbove);
  byId('above', HTMLElement).hidden = fromAbove === '';
  setLines(byId('panel-acts', HTMLElement), grouped(panel.acts));
  setLines(byId('panel-links', HTMLElement), panel.links.map(linkButton));
  if (!isOther) return;
  box.scrollTop = 0;
  const column = box.closest('.beside-drawing');
  if (column) column.scrollTop = 0;
  // Beside the drawing it covers nothing: what a finger has touched stays under it.
  if (!hands.isBeside()) bringThing();
}

/** What the panel tells of is in view. */
function bringThing() {
  const name = shown?.name ?? '';
  (hands.touchedRow(name) ?? thingNamed(name) ?? hands.handle(name))?.scrollIntoView({ block: 'nearest' });
}

/** Buttons by what they do, so that one that stays keeps the focus. @type {Map<string, HTMLButtonElement>} */
const buttons = new Map();

/** What each button does now. @type {WeakMap<HTMLButtonElement, () => void>} */
const does = new WeakMap();

/**
 * @param {string} key
 * @param {string} label
 * @param {() => void} act
 */
function button(key, label, act) {
  const own = buttons.get(key) ?? makeButton(label, () => does.get(own)?.());
  buttons.set(key, own);
  if (own.textContent !== label) own.textContent = label;
  does.set(own, act);
  return own;
}

/** Headings by what they say, so that one that stays is not read out again. @type {Map<string, HTMLElement>} */
const headings = new Map();

/**
 * What may be done, each group under its heading.
 * @param {Act[]} acts
 * @returns {HTMLElement[]}
 */
function grouped(acts) {
  return acts.flatMap((act, at) => {
    const own = actButton(act);
    if (act.group === '' || act.group === acts[at - 1]?.group) return [own];
    const heading = headings.get(act.group) ?? make('h3', { text: act.group });
    headings.set(act.group, heading);
    return [heading, own];
  });
}

/** @param {Act} act */
function actButton(act) {
  const kind = act.change?.kind ?? act.then;
  const own = button(`${kind} ${act.label}`, act.label, () => {
    hands.aim(act.then);
    if (!act.change || !change(act.change)) hands.pick(act.then);
  });
  own.dataset.act = kind;
  if (act.is_on !== null) own.setAttribute('aria-pressed', String(act.is_on));
  if (act.color && !own.querySelector('.sample')) {
    own.className = 'swatch';
    own.replaceChildren(make('span', { className: 'sample' }), make('span', { className: 'about', text: act.label }));
  }
  const sample = own.querySelector('.sample');
  if (sample instanceof HTMLElement) sample.style.backgroundColor = act.color;
  return own;
}

/** @param {Link} link */
function linkButton(link) {
  return button(`to ${link.place} ${link.part}`, link.label, () => {
    goToPlace(link.place);
    void showPart(link.part);
  });
}

/** Brings a part of the open place into view, and again once the pictures above it have their heights. @param {string} part */
export async function showPart(part) {
  const own = document.getElementById(part);
  if (!own) return;
  own.scrollIntoView();
  const pictures = [...own.closest('.place')?.querySelectorAll('img') ?? []];
  await Promise.allSettled(pictures.map((each) => each.decode()));
  own.scrollIntoView();
}

/** What keys reach on the drawing. @type {Map<string, HTMLElement>} */
const things = new Map();

let thingsSaid = '';

/**
 * The things on the drawing for the keyboard and for a screen reader: fingers touch the
 * drawing itself.
 * @param {Touched[]} all
 * @param {string} picked
 */
export function setThings(all, picked) {
  const said = JSON.stringify([all, picked]);
  if (said === thingsSaid) return;
  thingsSaid = said;
  const list = byId('section-things', HTMLElement);
  setLines(list, all.map((each) => {
    const own = things.get(each.name) ?? makeThing(each.name);
    own.setAttribute('aria-label', each.label);
    own.setAttribute('aria-selected', String(each.name === picked));
    own.style.left = `${each.left}px`;
    own.style.top = `${each.top}px`;
    own.style.width = `${each.width}px`;
    own.style.height = `${each.height}px`;
    return own;
  }));
  const at = thingNamed(picked);
  if (at) setCurrent(at);
}

/** @param {string} name */
function makeThing(name) {
  const own = make('div', { className: 'thing' });
  own.id = `thing-${name}`;
  own.setAttribute('role', 'option');
  own.addEventListener('click', () => openByKey(name));
  things.set(name, own);
  return own;
}

/** @param {string} name */
function openByKey(name) {
  hands.pick(name);
  byId('panel-title', HTMLElement).focus({ preventScroll: true });
}

/** @param {string} name */
function thingNamed(name) {
  return things.get(name)?.isConnected ? things.get(name) : undefined;
}

/** The one that Enter opens. @param {Element} thing */
function setCurrent(thing) {
  const list = byId('section-things', HTMLElement);
  list.querySelector('.current')?.classList.remove('current');
  thing.classList.add('current');
  list.setAttribute('aria-activedescendant', thing.id);
}

/** One stop for the tab key, arrows from thing to thing. @param {KeyboardEvent} event */
function goByKey(event) {
  const list = byId('section-things', HTMLElement);
  const at = list.querySelector('.current') ?? list.firstElementChild;
  if (!at) return;
  const isBack = event.key === 'ArrowUp' || event.key === 'ArrowLeft';
  const isOn = event.key === 'ArrowDown' || event.key === 'ArrowRight';
  if (isBack || isOn) setCurrent((isBack ? at.previousElementSibling : at.nextElementSibling) ?? at);
  else if (event.key === 'Enter' || event.key === ' ') openByKey(at.id.replace('thing-', ''));
  else return;
  event.preventDefault();
}
