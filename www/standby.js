/**
 * Stands by while the page starts, and says so when it does not, with ways out that need nothing of what failed.
 * A script of its own, and no module: what keeps one module from loading keeps all of them.
 */
(() => {
  const SLOW_MILLISECONDS = 8000;
  /** After a failure the page may still come up, if it was no failure of its own. */
  const FAILED_MILLISECONDS = 1000;
  const PREFIX = 'ringwright/';

  /** @param {string} id */
  const byId = (id) => /** @type {HTMLElement} */ (document.getElementById(id));

  const say = () => {
    if (document.documentElement.dataset.ready === 'yes') return;
    byId('no-start').hidden = false;
    void offerBefore();
  };
  const saySoon = () => void setTimeout(say, FAILED_MILLISECONDS);
  // A file that does not load tells only the element that names it, on the way down.
  addEventListener('error', saySoon, true);
  addEventListener('unhandledrejection', saySoon);
  setTimeout(say, SLOW_MILLISECONDS);

  /** Offers the version before, where one is still there. */
  async function offerBefore() {
    if (!('caches' in window) || !navigator.serviceWorker?.controller) return;
    const own = `ringwright-${new URL('./', location.href).pathname}@`;
    const names = (await caches.keys()).filter((name) => name.startsWith(own));
    byId('start-before').hidden = names.length < 2;
  }

  byId('start-before').addEventListener('click', () => {
    const line = new MessageChannel();
    line.port1.onmessage = () => location.reload();
    navigator.serviceWorker.controller?.postMessage('go back', [line.port2]);
  });

  byId('start-anew').addEventListener('click', async () => {
    if (location.protocol !== 'file:') {
      byId('start-no-network').hidden = await isServerThere();
      if (!byId('start-no-network').hidden) return;
      const own = await navigator.serviceWorker?.getRegistration();
      await own?.unregister();
    }
    location.reload();
  });

  /** Without it the page on this device is all there is, and must stay. */
  async function isServerThere() {
    try {
      const answer = await fetch('./sw.js', { cache: 'no-store' });
      return answer.ok && (answer.headers.get('content-type') ?? '').includes('javascript');
    } catch {
      return false;
    }
  }

  byId('start-save').addEventListener('click', async () => {
    const kept = { ...inStorage(), ...await inDatabase() };
    if (Object.keys(kept).length === 0) {
      byId('start-nothing').hidden = false;
      return;
    }
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([JSON.stringify({ ringwright_kept: kept })], { type: 'application/json' }));
    link.download = 'Ringwright designs.ringwright.json';
    document.body.append(link);
    link.click();
    link.remove();
  });

  /** @returns {Record<string, string>} texts by their keys */
  function inStorage() {
    try {
      return Object.fromEntries(Object.entries(localStorage)
        .filter(([key]) => key.startsWith(PREFIX)).map(([key, text]) => [key.slice(PREFIX.length), text]));
    } catch {
      return {};
    }
  }

  /** @returns {Promise<Record<string, string>>} texts by their keys */
  function inDatabase() {
    return new Promise((resolve) => {
      try {
        const request = indexedDB.open('ringwright');
        // Where there is none, none is to be made.
        request.onupgradeneeded = () => request.transaction?.abort();
        request.onerror = () => resolve({});
        request.onsuccess = () => {
          const store = request.result.transaction('entries').objectStore('entries');
          const [keys, texts] = [store.getAllKeys(), store.getAll()];
          store.transaction.onabort = () => resolve({});
          store.transaction.oncomplete = () => {
            request.result.close();
            resolve(Object.fromEntries(keys.result.map((key, at) => [String(key), texts.result[at]])));
          };
        };
      } catch {
        resolve({});
      }
    });
  }
})();
