/**
 * The one door to the library. The library holds nothing between two calls but what
 * it can work out again, so after a stumble it is simply put back to its start, and the page
 * keeps what it had. A design that was handed over is never changed in place: by the same
 * object the library knows the same design.
 */

import init from './ringwright.js';
import * as library from './ringwright.js';

/** Whether the library stumbled in the last call. */
export class Stumble extends Error {}

/** Starts the library: from the bytes within the single file, else from beside the page. */
export async function openDoor() {
  const single = /** @type {{ ringwrightSingleFile?: { wasm: Uint8Array } }} */ (globalThis).ringwrightSingleFile;
  const beside = new URL('./ringwright_bg.wasm', document.baseURI);
  await init({ module_or_path: single ? /** @type {BufferSource} */ (single.wasm) : beside });
}

/**
 * Calls the library; a stumble comes out as a `Stumble`, with the library reset.
 * @template T
 * @param {(calls: typeof library) => T} call
 * @returns {T}
 */
export function ask(call) {
  try {
    return call(library);
  } catch (cause) {
    library.__wbg_reset_state();
    throw new Stumble('the library stumbled', { cause });
  }
}
