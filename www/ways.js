/** The ways into the page, as small pictures: a shape, glued rings, boards, an example. */

import { ask } from './door.js';
import { setPicture } from './page.js';
import { design, goToPlace, newDesign, openBeside, record } from './work.js';

/** As in the style sheet. */
const PICTURE_PX = { width: 88, height: 56 };

/** What a page that is put aside for a moment does when it is idle. */
const SOON_MILLISECONDS = 50;

/**
 * @param {{ shape: (name: string) => void, glued: () => void, boards: () => void, example: (name: string) => Promise<void> }} acts
 * @param {() => Promise<boolean>} mayLeave
 */
export function setUpWays(acts, mayLeave) {
  for (const button of buttons()) {
    button.addEventListener('click', async () => {
      const { kind, way = '' } = button.dataset;
      const isExample = kind === 'example';
      const dialog = button.closest('dialog');
      if ((dialog || isExample) && !await mayLeave()) return;
      // Beside what is open, as a new design is.
      if (dialog && !isExample) openBeside(newDesign());
      // What begins may go further down by itself.
      scrollTo(0, 0);
      if (isExample) await acts.example(way);
      else if (kind === 'start') acts.shape(way);
      else if (way === 'glued') acts.glued();
      else acts.boards();
      dialog?.close();
    });
  }
  // They are drawn where they come into view.
  const cameUp = new ResizeObserver(drawWays);
  for (const tiles of document.querySelectorAll('.way-tiles')) cameUp.observe(tiles);
}

function buttons() {
  return [...document.querySelectorAll('[data-way]')].filter((each) => each instanceof HTMLElement);
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
    for (const button of [...buttons(), ...document.querySelectorAll('[data-make], [data-gather]')]) {
      if (!(button instanceof HTMLElement) || button.offsetParent === null || button.querySelector('svg')) continue;
      const { way = button.dataset.make ?? button.dataset.gather ?? '' } = button.dataset;
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

/** Goes to the boards, where a list of them can be typed. */
export function beginBoards() {
  goToPlace('wood');
  for (const fold of ['boards-many', 'making'].map((id) => document.getElementById(id))) {
    if (fold instanceof HTMLDetailsElement) fold.open = true;
  }
  const entry = document.getElementById('boards-many-entry');
  entry?.focus();
  document.getElementById('wood-boards')?.scrollIntoView();
}
