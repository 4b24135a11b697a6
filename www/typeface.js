/**
 * The typeface of paper. It is loaded when paper is to be made, and no sooner; without it paper is made in the
 * standard one that every reader of such files brings along.
 */

import { ask } from './door.js';
import { notice, withdraw } from './notices.js';
import { word } from './words.js';
import { design } from './work.js';

/** Whoever taps waits no longer for it. */
const MILLISECONDS = 6000;

/** What the standard one lacks: all that is beyond Latin letters, and most fractions. */
const BEYOND = /[^\0-\u02ff\u1e00-\u1eff\u2010-\u2044]/u;

/** @type {Promise<Uint8Array | undefined> | null} */
let loading = null;

/** Its bytes; `undefined` where they cannot be had. */
export function typeface() {
  loading ??= Promise.race([load(), late()]).catch(() => undefined).then((bytes) => {
    const isWhole = bytes && ask((library) => library.is_typeface(bytes));
    // The next time it is tried again.
    if (!isWhole) loading = null;
    return isWhole ? bytes : undefined;
  });
  return loading;
}

async function load() {
  const single = /** @type {{ ringwrightSingleFile?: { typeface: string } }} */ (globalThis).ringwrightSingleFile;
  if (single) return Uint8Array.from(atob(single.typeface), (letter) => letter.charCodeAt(0));
  const answer = await fetch(new URL('./fonts/arimo.ttc', document.baseURI));
  return answer.ok ? new Uint8Array(await answer.arrayBuffer()) : undefined;
}

/** @returns {Promise<undefined>} */
function late() {
  return new Promise((done) => { setTimeout(done, MILLISECONDS); });
}

/** Says that letters of the design are missing on paper, where they are. @param {Uint8Array | undefined} bytes */
export function tellMissing(bytes) {
  withdraw('typeface');
  if (!bytes && BEYOND.test(JSON.stringify(design()))) notice('typeface', word('paper.no_typeface'));
}
