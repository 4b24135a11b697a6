/** The page's words, written into it by the build from the library's one list. */

/** @type {Record<string, string>} */
const all = JSON.parse(document.getElementById('words')?.textContent ?? '{}');

/**
 * The word with this key. The build writes in those that a script names in quotes, or
 * whose beginning it builds on; for another one the key itself comes back, with a complaint.
 * @param {string} key
 */
export function word(key) {
  const text = all[key];
  if (text === undefined) console.error(`no word for ${key}`);
  return text ?? key;
}
