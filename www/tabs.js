/** What tabs of the same browser tell each other, and what the page asks of the browser it runs in. */

/**
 * What another tab did to a design.
 * @typedef {{ kind: 'saved' | 'removed', id: string }} OtherTabNews
 */

/**
 * The line between the tabs; where a browser has none, a save still finds out that another tab was there.
 * @returns {BroadcastChannel | null}
 */
export function openLine() {
  try {
    return new BroadcastChannel('ringwright');
  } catch {
    return null;
  }
}

/**
 * Tells what other tabs do to the designs.
 * @param {Pick<BroadcastChannel, 'addEventListener'> | null} line
 * @param {{ summary: (id: string) => Promise<unknown> }} keep
 * @param {(news: OtherTabNews) => void} callback
 */
export function watchOtherTabs(line, keep, callback) {
  line?.addEventListener('message', async ({ data: id }) => {
    if (typeof id !== 'string') return;
    callback({ kind: await keep.summary(id) === null ? 'removed' : 'saved', id });
  });
}

/**
 * An identity of 16 characters, safe in keys. `randomUUID` is missing on plain http, this is not.
 * @param {Pick<Crypto, 'getRandomValues'>} crypto
 * @returns {string}
 */
export function randomId(crypto) {
  const bytes = crypto.getRandomValues(new Uint8Array(8));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/**
 * Asks the browser not to clear this site's storage by itself.
 * @param {{ readonly storage?: { persist?: () => Promise<boolean>, persisted?: () => Promise<boolean> } }} navigator
 * @returns {Promise<'granted' | 'refused' | 'unsupported' | 'failed'>}
 */
export async function askToStay(navigator) {
  try {
    const manager = navigator.storage;
    if (typeof manager?.persist !== 'function') {
      return 'unsupported';
    }
    const already = typeof manager.persisted === 'function' && (await manager.persisted());
    return already || (await manager.persist()) ? 'granted' : 'refused';
  } catch {
    return 'failed';
  }
}
