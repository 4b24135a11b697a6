/** The Ring place: asks the library for everything that it shows, and places it. */

import { change } from './change.js';
import { ask } from './door.js';
import { makeFields, placeFields, setFields } from './fields.js';
import { cautionLine, setFigures } from './figures.js';
import { goToField } from './keypad.js';
import { byId, onTap, setPicture, unbroken } from './page.js';
import { setTable } from './table.js';
import { design, held, settle, typed, typedMessages } from './work.js';

/** @typedef {import('./ringwright.js').RingPlace} RingPlace */
/** @typedef {import('./ringwright.js').Message} Message */

let openUnits = () => {};
let areFieldsMade = false;

/** @param {() => void} open */
export function setUp(open) {
  openUnits = open;
  byId('count-less', HTMLButtonElement).addEventListener('click', () => stepCount('count-less'));
  byId('count-more', HTMLButtonElement).addEventListener('click', () => stepCount('count-more'));
  onTap('allowance-switch', () => change({ kind: 'switch_allowance' }));
  onTap('strip-at-hand', () => {
    const choices = byId('choices', HTMLDetailsElement);
    // Where no segment was drawn yet, its field stands among the choices alone.
    const inDrawing = byId('segment-drawing', HTMLElement).querySelector('input');
    choices.open ||= !inDrawing;
    const field = inDrawing ?? choices.querySelector('[data-key="ring.strip_width_mm"]');
    if (field instanceof HTMLInputElement) goToField(field);
  });
  // Drawings are made at their true size, so they are made anew when it changes.
  const resized = new ResizeObserver(() => {
    measure();
    showRing();
  });
  resized.observe(byId('ring-drawing', HTMLElement));
  resized.observe(byId('segment-drawing', HTMLElement));
}

/** The drawings' sizes, read only when they change: reading them lays out the page. */
const sizes = { ring_width: 0, ring_height: 0, segment_width: 0, segment_height: 0 };

function measure() {
  const ring = byId('ring-drawing', HTMLElement);
  const segment = byId('segment-drawing', HTMLElement);
  // While another place is open the boxes have no size: the last one holds.
  if (ring.clientWidth === 0) return;
  sizes.ring_width = ring.clientWidth;
  sizes.ring_height = ring.clientHeight;
  sizes.segment_width = segment.clientWidth;
  sizes.segment_height = segment.clientHeight;
}

/** @param {string} button */
function stepCount(button) {
  const count = byId(button, HTMLButtonElement).value;
  settle();
  typed('ring.segment_count', count);
  settle();
}

/** Shows the place. */
export function showRing() {
  // Another place is open; the first time makes the fields of all places.
  if (areFieldsMade && byId('ring', HTMLElement).hidden) return;
  if (sizes.ring_width === 0) measure();
  const ringBox = byId('ring-drawing', HTMLElement);
  const segmentBox = byId('segment-drawing', HTMLElement);
  const place = ask((library) => library.show_ring(design(), {
    ...sizes,
    held: held(),
  }));
  const { screen } = place;
  if (!areFieldsMade) {
    makeFields(screen.entries);
    areFieldsMade = true;
  }
  setPicture(ringBox, place.ring.svg);
  placeFields(ringBox, place.ring.places, screen.entries, sizes.ring_width, sizes.ring_height);
  if (place.segment) {
    setPicture(segmentBox, place.segment.svg);
    placeFields(segmentBox, place.segment.places, screen.entries, sizes.segment_width, sizes.segment_height);
  } else segmentBox.querySelector('svg')?.remove();
  setFigures(byId('saw-figures', HTMLElement), screen.saw, { onUnit: openUnits });
  setFigures(byId('list', HTMLElement), screen.list, { onUnit: openUnits });
  setFigures(byId('saw-error-list', HTMLElement), screen.saw_error);
  setFigures(byId('stave-list', HTMLElement), screen.staves);
  byId('saw-includes', HTMLElement).textContent = unbroken(screen.includes);
  byId('choices-now', HTMLElement).textContent = screen.choices;
  byId('allowance-switch', HTMLElement).textContent = screen.allowance_switch;
  byId('strip-at-hand', HTMLElement).textContent = screen.strip_at_hand;
  const isStale = typedMessages().size > 0;
  byId('stale', HTMLElement).hidden = !isStale;
  byId('includes', HTMLElement).hidden = isStale;
  setSummary(screen.summary);
  byId('gap-says', HTMLElement).textContent = screen.gap_says;
  byId('protractor-says', HTMLElement).textContent = screen.protractor_says;
  setCautions(screen.cautions);
  showCounts();
  byId('count-less', HTMLButtonElement).value = screen.count_less;
  byId('count-more', HTMLButtonElement).value = screen.count_more;
  setFields(screen.entries, screen.messages);
}

/** @type {ReturnType<typeof setTimeout> | undefined} */
let summaryTimer;

/**
 * Said when typing rests, not at every key.
 * @param {string} text
 */
function setSummary(text) {
  clearTimeout(summaryTimer);
  summaryTimer = setTimeout(() => {
    byId('summary', HTMLElement).textContent = text;
  }, 800);
}

/** @param {Message[]} cautions */
function setCautions(cautions) {
  byId('cautions', HTMLElement).hidden = cautions.length === 0;
  byId('caution-list', HTMLElement).replaceChildren(...cautions.map(cautionLine));
}

/** The table is long: it is only asked for while it is open. */
function showCounts() {
  if (!byId('counts', HTMLDetailsElement).open) return;
  setTable(byId('count-table', HTMLTableElement), ask((library) => library.show_counts(design())), {
    onRow: (count) => {
      settle();
      typed('ring.segment_count', count);
      settle();
    },
  });
}
