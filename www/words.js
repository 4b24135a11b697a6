/** The page's words, written into it by the build from the library's one list. */

/** @type {Record<string, string>} */
const all = JSON.parse(document.getElementById('words')?.textContent ?? '{}');

/**
 * The word with this key; the key itself where there is none.
 * @param {string} key
 */
export function word(key) {
  return all[key] ?? key;
}
