/** A half that does not run true any more: what is measured of it at the bench, and what is left. */

import { change } from './change.js';
import { ask } from './door.js';
import { keepFieldsIn, setFields, setPlanned } from './fields.js';
import { setFigures } from './figures.js';
import { byId, make, onTap } from './page.js';
import { setTable } from './table.js';
import { design, done, takeDone } from './work.js';

/**
 * What is measured: a ring, by its place, and the step that it is measured for.
 * @typedef {{ ring: number, step: string, title: string }} Measured
 */

/** Shown, not kept; the readings are. @type {Measured | null} */
let measured = null;

/** @type {{ ended: (step: string) => void, onUnit: () => void }} */
let hands = { ended: () => {}, onUnit: () => {} };

/**
 * @param {{ ended: (step: string) => void, onUnit: () => void }} bench what brings a step into view, and what a
 *   tap on a unit does
 */
export function setUpTrue(bench) {
  hands = bench;
  onTap('bench-true-lower', () => goTo(shownOf()?.lower));
  onTap('bench-true-higher', () => goTo(shownOf()?.higher));
  onTap('bench-true-done', end);
  onTap('bench-true-go-on', () => {
    if (measured === null) return;
    const { ring, step, title } = measured;
    takeDone(ask((library) => library.note_going_on(design(), done(), step, title, ring, Date.now())));
    change({ kind: 'go_on_with_left', ring });
    end();
  });
}

/**
 * Asks for a half's readings where the hands are.
 * @param {Measured} now
 */
export function measureTrue(now) {
  measured = now;
  showTrue();
  byId('bench-true', HTMLElement).scrollIntoView({ block: 'start' });
  byId('bench-true-title', HTMLElement).focus({ preventScroll: true });
}

/** Nothing is measured here any more. */
export function notOutOfTrue() {
  measured = null;
}

function end() {
  const step = measured?.step ?? '';
  measured = null;
  showTrue();
  hands.ended(step);
}

/** @param {number | null | undefined} ring */
function goTo(ring) {
  if (measured === null || typeof ring !== 'number') return;
  measured = { ...measured, ring };
  showTrue();
}

function shownOf() {
  const ring = measured?.ring ?? -1;
  return ring < 0 ? null : ask((library) => library.show_out_of_true(design(), ring));
}

/** Shows what is measured, while anything is. */
export function showTrue() {
  const shown = shownOf();
  // Undone: that ring is not there any more.
  if (!shown) measured = null;
  byId('bench-true', HTMLElement).hidden = !shown;
  const fields = byId('bench-true-fields', HTMLElement);
  keepFieldsIn(fields, shown?.entries ?? []);
  if (!shown) return;
  byId('bench-true-title', HTMLElement).textContent = shown.title;
  byId('bench-true-at', HTMLElement).textContent = shown.at;
  byId('bench-true-lower', HTMLButtonElement).disabled = (shown.lower ?? null) === null;
  byId('bench-true-higher', HTMLButtonElement).disabled = (shown.higher ?? null) === null;
  setFields(shown.entries, shown.messages);
  setPlanned(fields, shown.planned);
  byId('bench-true-says', HTMLElement).textContent = shown.says;
  byId('bench-true-remedy', HTMLElement).textContent = shown.remedy;
  byId('bench-true-remedy', HTMLElement).hidden = shown.remedy === '';
  setFigures(byId('bench-true-list', HTMLElement), shown.list, { onUnit: hands.onUnit });
  byId('bench-true-notes', HTMLElement).replaceChildren(...shown.notes.map((text) => make('li', { text })));
  byId('bench-true-notes', HTMLElement).hidden = shown.notes.length === 0;
  byId('bench-true-rings', HTMLElement).hidden = shown.rings.rows.length === 0;
  setTable(byId('bench-true-table', HTMLTableElement), shown.rings);
  const goOn = byId('bench-true-go-on', HTMLButtonElement);
  goOn.hidden = shown.go_on === '';
  goOn.textContent = shown.go_on;
}
