/** The Inlay place: slots sawn through a stack of rings, and filled. The band is the editor. */

import { change } from './change.js';
import { ask } from './door.js';
import { keepFieldsIn, setFields } from './fields.js';
import { cautionLine, setFigures } from './figures.js';
import { makeHandle, placeHandle } from './handles.js';
import { byId, make, makeButton, onTap, setPicture } from './page.js';
import { showThree } from './three.js';
import { showThing } from './vessel.js';
import { woodFormFor } from './wood_list.js';
import { design, record, settle, typed } from './work.js';

/** @typedef {import('./ringwright.js').InlayPlace} InlayPlace */
/** @typedef {import('./ringwright.js').Change} Change */
/** @typedef {import('./ringwright.js').Handle} Handle */
/** @typedef {import('./ringwright.js').Choice} Choice */

/** What is picked out: it is shown, not kept. */
let picked = 0;

/** How the drawings map, as they are shown. @type {number[]} */
let view = [];

/** While a handle moves: the view that rests meanwhile. @type {{ view: number[] } | null} */
let drag = null;

let openUnits = () => {};

/** The handles by their number: a slot's middle, its upper end, the blade. @type {HTMLButtonElement[]} */
const handles = [];

/** @param {() => void} open */
export function setUpInlay(open) {
  openUnits = open;
  onTap('inlay-add', () => {
    const count = byId('inlay-sets', HTMLElement).children.length;
    change({ kind: 'add_set' });
    picked = count;
    showInlay();
  });
  for (const button of document.querySelectorAll('[data-slots]')) {
    if (!(button instanceof HTMLElement)) continue;
    const way = button.dataset.slots ?? '';
    button.addEventListener('click', () => {
      picked = 0;
      change({ kind: 'begin_slots', way });
    });
  }
  onTap('inlay-zigzag', () => change({ kind: 'zigzag', set: picked }));
  onTap('inlay-crossing', () => change({ kind: 'crossing', set: picked }));
  onTap('inlay-on-drawing', () => showThing(`set-${picked}`));
  onTap('inlay-remove', () => {
    const set = picked;
    picked = 0;
    change({ kind: 'remove_set', set });
  });
  woodFormFor('strip-wood', 'first', (name, isSameStep) => change({ kind: 'strips_of', set: picked, name }, isSameStep));
  onTap('inlay-fit', () => change({ kind: 'fit', set: picked }));
  onTap('inlay-fit-nearest', () => change({ kind: 'fit_nearest', set: picked }));
  const band = byId('band', HTMLElement);
  const blade = byId('blade', HTMLElement);
  handles.push(
    makeOwnHandle(band, 0, (set, x, _, shown) => ({ kind: 'place_set', set, x, view: shown }), 'nudge_set'),
    makeOwnHandle(band, 1, (set, x, _, shown) => ({ kind: 'lean', set, x, view: shown }), 'nudge_lean'),
    makeOwnHandle(blade, 2, (set, _, y, shown) => ({ kind: 'raise_blade', set, y, view: shown }), 'nudge_blade'),
  );
  band.addEventListener('click', pickTapped);
  const resized = new ResizeObserver(() => showInlay());
  for (const box of [band, blade]) resized.observe(box);
}

/** A tap on a strip picks its set out. @param {Event} event */
function pickTapped(event) {
  const named = event.target instanceof Element ? event.target.closest('[data-name^="strip-"]') : null;
  const set = named?.getAttribute('data-name')?.split('-')[1];
  if (!set) return;
  picked = Number(set);
  showInlay();
}

/** The view of the piece stands in the place that is open. @param {boolean} isHere */
function bringThree(isHere) {
  const three = byId('three', HTMLElement).closest('section');
  const home = document.getElementById('panel');
  if (!three || !home) return;
  const here = byId('inlay-three', HTMLElement);
  if (isHere && three.parentElement !== here) here.append(three);
  else if (!isHere && three.parentElement === here) home.before(three);
}

/** Shows the place, while it is open. */
export function showInlay() {
  const isOpen = record().place === 'inlay';
  bringThree(isOpen);
  if (!isOpen) return;
  const isBegun = design().vessel !== null;
  byId('inlay-empty', HTMLElement).hidden = isBegun;
  byId('inlay-work', HTMLElement).hidden = !isBegun;
  if (!isBegun) return;
  let place = showPicked();
  const count = place?.screen.sets.length ?? 0;
  if (picked >= count && count > 0) {
    // What was picked out was removed or undone.
    picked = 0;
    place = showPicked();
  }
  if (place) setPlace(place);
}

function showPicked() {
  const band = byId('band', HTMLElement);
  const inside = byId('band-inside', HTMLElement);
  const blade = byId('blade', HTMLElement);
  const sizes = {
    band_width: band.clientWidth || 640,
    band_height: band.clientHeight || 210,
    inside_height: inside.clientHeight || 120,
    window_width: blade.clientWidth || 240,
    window_height: blade.clientHeight || 300,
  };
  return ask((library) => library.show_inlay(design(), sizes, picked, new Float64Array(drag?.view ?? [])));
}

/** What may be done with the layers of the strips: the buttons stay while they say the same. @param {InlayPlace['screen']['layer_acts']} acts */
function showLayerActs(acts) {
  const box = byId('inlay-layer-acts', HTMLElement);
  const told = acts.map((act) => act.label).join('\n');
  if (box.dataset.told === told && box.dataset.set === String(picked)) return;
  box.dataset.told = told;
  box.dataset.set = String(picked);
  box.replaceChildren(...acts.map((act) => {
    const button = makeButton(act.label, () => change(act.change));
    button.dataset.act = act.change.kind;
    return button;
  }));
}

/** The piece with slots, each way that they are begun. */
function drawBeginnings() {
  for (const button of document.querySelectorAll('[data-slots]')) {
    const box = button.querySelector('.way-picture');
    if (!(button instanceof HTMLElement) || !box) continue;
    const way = button.dataset.slots ?? '';
    setPicture(box, ask((library) => library.picture_of_slots(
      design(), way, box.clientWidth, box.clientHeight)));
  }
}

/** What gives the blade a height. @param {NonNullable<InlayPlace['help']>} help */
function showHelp(help) {
  byId('inlay-help', HTMLElement).hidden = help.no_height === '';
  for (const line of document.querySelectorAll('.no-height')) line.textContent = help.no_height;
  setLines('inlay-openings', help.openings.map((text, at) => make('li', {}, makeButton(text, () => change({ kind: 'open_window', set: picked, opening: at })))));
  byId('inlay-openings-side', HTMLElement).hidden = help.openings.length === 0;
}

/** @param {InlayPlace} place */
function setPlace(place) {
  const { screen } = place;
  view = place.view;
  const isSet = screen.sets.length > 0;
  if (place.help) showHelp(place.help);
  const box = byId('inlay-set', HTMLElement);
  const wasHidden = box.hidden;
  box.hidden = !isSet;
  byId('inlay-begin', HTMLElement).hidden = isSet;
  byId('inlay-more', HTMLElement).hidden = !isSet;
  setChoices('inlay-sets', screen.sets, (at) => {
    picked = at;
    showInlay();
  });
  if (!isSet) {
    drawBeginnings();
    return;
  }
  if (wasHidden) {
    // Now that it has a size, it is drawn to it.
    showInlay();
    return;
  }
  setPicture(byId('band', HTMLElement), place.band || '<svg></svg>');
  setPicture(byId('band-inside', HTMLElement), place.inside || '<svg></svg>');
  setPicture(byId('blade', HTMLElement), place.window || '<svg></svg>');
  byId('band-note', HTMLElement).textContent = screen.band_note;
  showHandles([...screen.handles, ...(screen.blade ? [screen.blade] : [])]);
  setFigures(byId('inlay-saw', HTMLElement), screen.saw, { onUnit: openUnits });
  setFigures(byId('inlay-list', HTMLElement), screen.list, { onUnit: openUnits });
  setFigures(byId('inlay-zigzags', HTMLElement), screen.zigzag);
  for (const id of ['inlay-fit', 'inlay-fit-nearest']) byId(id, HTMLElement).hidden = screen.zigzag.length === 0;
  setLines('inlay-cautions', screen.cautions.map(cautionLine));
  setLines('inlay-steps', screen.work.map((text) => make('li', { text })));
  byId('strip-wood-form', HTMLElement).hidden = screen.woods.length === 0;
  showLayerActs(screen.layer_acts);
  setChoices('inlay-woods', screen.woods, (at) => {
    settle();
    typed(`vessel.slot_sets.${picked}.wood`, String(at));
    settle();
  });
  byId('inlay-along', HTMLElement).textContent = screen.goes_along;
  byId('inlay-along', HTMLElement).hidden = screen.goes_along === '';
  // One that has its counterpart already needs no second.
  for (const id of ['inlay-crossing', 'inlay-zigzag']) byId(id, HTMLElement).hidden = screen.goes_along !== '';
  keepFieldsIn(byId('inlay-fields', HTMLElement), screen.entries);
  setFields(screen.entries, screen.messages);
  showThree(design(), '', record().id);
}

/**
 * @param {string} id
 * @param {HTMLElement[]} lines
 */
function setLines(id, lines) {
  const list = byId(id, HTMLElement);
  const isSame = lines.map((line) => line.textContent).join('\n')
    === [...list.children].map((line) => line.textContent).join('\n');
  if (!isSame) list.replaceChildren(...lines);
}

/**
 * Buttons with a color each; they stay while their words stay, so that the focus does.
 * @param {string} id
 * @param {Choice[]} choices
 * @param {(at: number) => void} choose
 */
function setChoices(id, choices, choose) {
  const box = byId(id, HTMLElement);
  while (box.children.length > choices.length) box.lastElementChild?.remove();
  while (box.children.length < choices.length) {
    const at = box.children.length;
    const button = make('button', { className: 'swatch' }, make('span', { className: 'sample' }), make('span', { className: 'about' }));
    button.type = 'button';
    button.addEventListener('click', () => choose(at));
    box.append(button);
  }
  choices.forEach((each, at) => {
    const button = box.children.item(at);
    const [sample, about] = button?.children ?? [];
    if (!button || !(sample instanceof HTMLElement) || !about) return;
    sample.style.backgroundColor = each.color;
    about.textContent = each.name;
    button.setAttribute('aria-pressed', String(each.is_chosen));
  });
}

/** @param {Handle[]} places */
function showHandles(places) {
  for (const [number, handle] of handles.entries()) {
    const place = places.find((each) => each.place === number);
    handle.hidden = !place;
    if (place) placeHandle(handle, place);
  }
}

/**
 * @param {HTMLElement} box
 * @param {number} number
 * @param {(set: number, x: number, y: number, shown: number[]) => Change} pulled
 * @param {'nudge_set' | 'nudge_lean' | 'nudge_blade'} kind by steps
 */
function makeOwnHandle(box, number, pulled, kind) {
  const handle = makeHandle(box, number, {
    hold: () => {
      drag = { view };
    },
    pull: (_, x, y, isSameStep) => change(pulled(picked, x, y, drag?.view ?? view), isSameStep),
    letGo: () => {
      drag = null;
      showInlay();
    },
    pick: () => handle.classList.add('held'),
    step: (_, up, right, isSameStep) => change({ kind, set: picked, steps: up || right }, isSameStep),
  });
  handle.classList.toggle('corner', kind === 'nudge_lean');
  handle.addEventListener('blur', () => handle.classList.remove('held'));
  return handle;
}
