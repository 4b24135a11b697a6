/** The evenings at the bench: what fits into this one, and how many the piece takes. */

import { ask } from './door.js';
import { keepFieldsIn, setFields } from './fields.js';
import { byId, make, makeButton, readersLanguage } from './page.js';
import { design, done } from './work.js';

/** @typedef {import('./ringwright.js').EveningShown} EveningShown */

/** Shows the evenings. @param {(id: string) => void} openStep */
export function showEvenings(openStep) {
  const language = readersLanguage();
  const shown = ask((library) => library.show_evenings(design(), done(), Date.now(), language));
  if (!shown) return;
  byId('evenings-count', HTMLElement).textContent = shown.tonight;
  byId('evenings-says', HTMLElement).textContent = shown.says;
  byId('evenings-reckoned', HTMLElement).textContent = shown.reckoned;
  keepFieldsIn(byId('evening-fields', HTMLElement), shown.entries);
  setFields(shown.entries, []);
  const list = byId('evening-list', HTMLElement);
  const text = JSON.stringify(shown.evenings);
  // A minute that passes moves nothing under a hand.
  if (list.dataset.shown === text) return;
  list.dataset.shown = text;
  list.replaceChildren(...shown.evenings.map((evening) => eveningLine(evening, openStep)));
}

/**
 * @param {EveningShown} evening
 * @param {(id: string) => void} openStep
 */
function eveningLine(evening, openStep) {
  const steps = evening.steps.map((step) => make('li', {},
    makeButton(step.title, () => openStep(step.id)), make('span', { className: 'quiet', text: step.says })));
  return make('li', { className: 'evening' },
    make('h3', {}, make('span', { text: evening.title }), make('span', { className: 'quiet', text: evening.says })),
    ...evening.too_long === '' ? [] : [make('p', { className: 'evening-long', text: evening.too_long })],
    make('ol', { className: 'evening-steps' }, ...steps),
    ...evening.sets === '' ? [] : [make('p', { className: 'evening-sets', text: evening.sets })]);
}
