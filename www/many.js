/** A field for many things at once, typed or pasted: what cannot be read stays, with its reason. */

import { ask } from './door.js';
import { byId } from './page.js';
import { design, settle, take } from './work.js';

/** @typedef {import('./ringwright.js').Opened} Opened */
/** @typedef {import('./ringwright.js').Design} Design */

/**
 * @param {string} id what the ids of its form, entry and reason begin with
 * @param {(library: typeof import('./ringwright.js'), design: Design, typed: string) => Opened} read
 * @param {() => void} [taken]
 */
export function setUpMany(id, read, taken = () => {}) {
  const entry = byId(`${id}-entry`, HTMLTextAreaElement);
  byId(`${id}-form`, HTMLFormElement).addEventListener('submit', (event) => {
    event.preventDefault();
    const { design: next, messages } = ask((library) => read(library, design(), entry.value));
    byId(`${id}-says`, HTMLElement).textContent = messages.map((each) => `${each.reason} ${each.remedy}`).join(' ');
    entry.toggleAttribute('aria-invalid', !next);
    if (!next) return;
    settle();
    take(next);
    entry.value = '';
    taken();
  });
}
