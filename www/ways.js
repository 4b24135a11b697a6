/** The ways into the page, as small pictures: a shape, glued rings, boards, an example. */

import { change } from './change.js';
import { ask } from './door.js';
import { setPicture } from './page.js';
import { design, goToPlace, openBeside, record, startingDesign } from './work.js';

/** As in the style sheet. */
const PICTURE_PX = { width: 88, height: 56 };

/** What a page that is put aside for a moment does when it is idle. */
const SOON_MILLISECONDS = 50;

/**
 * What each way does; those that are not named begin a shape.
 * @type {Record<string, () => void>}
 */
let acts = {};

/** @type {(shape: string) => void} */
let beginShape = () => {};

/**
 * @param {Record<string, () => void>} own
 * @param {(shape: string) => void} begin
 * @param {() => Promise<boolean>} mayLeave
 */
export function setUpWays(own, begin, mayLeave) {
  acts = own;
  beginShape = begin;
  for (const button of buttons()) {
    // Those in Vessel and the examples among the designs are known there already.
    if (button.dataset.start || button.dataset.example || button.id) continue;
    button.addEventListener('click', () => void take(button, mayLeave));
  }
}

function buttons() {
  return [...document.querySelectorAll('[data-way]')].filter((each) => each instanceof HTMLElement);
}

/**
 * @param {HTMLElement} button
 * @param {() => Promise<boolean>} mayLeave
 */
async function take(button, mayLeave) {
  const dialog = button.closest('dialog');
  if (dialog) {
    if (!await mayLeave()) return;
    // Beside what is open, as a new design is.
    openBeside({ ...startingDesign(), unit: design().unit });
    dialog.close();
  }
  const way = button.dataset.way ?? '';
  (acts[way] ?? (() => beginShape(way)))();
  scrollTo(0, 0);
}

/** @type {Map<string, string>} */
const drawn = new Map();

let isAsked = false;

/** Draws the pictures that can be seen, once, when the first figures stand. */
export function drawWays() {
  if (isAsked) return;
  isAsked = true;
  setTimeout(() => {
    isAsked = false;
    for (const button of buttons()) {
      if (button.offsetParent === null || button.querySelector('svg')) continue;
      const way = button.dataset.way ?? '';
      const svg = drawn.get(way)
        ?? ask((library) => library.picture_of_way(way, PICTURE_PX.width, PICTURE_PX.height));
      drawn.set(way, svg);
      const box = button.querySelector('.way-picture');
      if (box) setPicture(box, svg);
    }
  }, SOON_MILLISECONDS);
}

/** Whether a design holds no work yet. */
export function isFresh() {
  const { past, future } = record();
  return past.length + future.length === 0 && design().vessel === null;
}

/** Goes to the boards and begins one, where there is none. */
export function beginBoards() {
  goToPlace('wood');
  change({ kind: 'add_board' });
  document.getElementById('wood-boards')?.scrollIntoView();
  const board = document.querySelector('#boards-list details');
  if (board instanceof HTMLDetailsElement) board.open = true;
  const field = document.querySelector('#boards-list input');
  if (field instanceof HTMLElement) field.focus();
}
