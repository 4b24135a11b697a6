/** A field for many things at once, typed or pasted: what cannot be read stays, with its reason. */

import { ask } from './door.js';
import { byId } from './page.js';
import { design, onChange, settle, take } from './work.js';

/** @typedef {import('./ringwright.js').Opened} Opened */
/** @typedef {import('./ringwright.js').Design} Design */

/**
 * @param {string} id what the ids of its form, entry and reason begin with
 * @param {(library: typeof import('./ringwright.js'), design: Design, typed: string) => Opened} read
 * @param {() => void} [taken]
 */
export function setUpMany(id, read, taken = () => {}) {
  const entry = byId(`${id}-entry`, HTMLTextAreaElement);
  const says = byId(`${id}-says`, HTMLElement);
  /** @type {Design | null} */
  let made = null;
  // What was read is told until the design is another: undone, it is not there.
  onChange(() => {
    if (!made || design() === made) return;
    says.textContent = '';
    made = null;
  });
  byId(`${id}-form`, HTMLFormElement).addEventListener('submit', (event) => {
    event.preventDefault();
    const { design: next, messages } = ask((library) => read(library, design(), entry.value));
    says.textContent = messages.map((each) => `${each.reason} ${each.remedy}`).join(' ');
    entry.toggleAttribute('aria-invalid', !next);
    if (!next) return;
    settle();
    made = next;
    take(next);
    entry.value = '';
    taken();
  });
}
