/** Keeps the page usable with no network, and brings in a new version without getting in the way. */

const CHECK_APART_MILLISECONDS = 60 * 60 * 1000;
/** A worker that is still answering hands over only once the page lets go of it. */
const HAND_OVER_MILLISECONDS = 1500;
const INTERACTIONS = ['pointerdown', 'keydown', 'input'];

/**
 * @typedef {object} OfflineNews
 * @property {() => void} onReady called once on a device: the page works with no network from now on
 * @property {(apply: () => void) => void} onNewVersion a new version waits; `apply` loads it, so save before.
 *   May be called again: the latest `apply` holds
 * @property {(reason: string) => void} [onTrouble] registering or checking failed; the page itself goes on
 */

/**
 * @param {OfflineNews} news
 * @returns {Promise<'started' | 'unsupported' | 'failed'>}
 */
export async function startOffline(news) {
  if (!isPossible()) {
    return 'unsupported';
  }
  const touched = watchFirstInteraction();
  const controlled = navigator.serviceWorker.controller !== null;
  try {
    const registration = await navigator.serviceWorker.register('./sw.js', { updateViaCache: 'none' });
    if (isWished() && registration.waiting === null && registration.installing === null) {
      // It took over while this page was loading: what is shown may still be the old one.
      reloadOnce();
      return 'started';
    }
    const offer = offerOnce(registration, news, touched);
    watchController(controlled, news);
    watchInstalls(registration, news, offer);
    checkWhenVisible(registration, news);
    return 'started';
  } catch (error) {
    news.onTrouble?.(String(error));
    return 'failed';
  }
}

/** Tells the worker that the version that it serves works. */
export function tellCameUp() {
  if (isPossible()) navigator.serviceWorker.controller?.postMessage('came up');
}

function isPossible() {
  const single = /** @type {{ ringwrightSingleFile?: unknown }} */ (globalThis).ringwrightSingleFile;
  return !single && location.protocol !== 'file:' && 'serviceWorker' in navigator;
}

/** @returns {() => boolean} whether the user has done anything yet */
function watchFirstInteraction() {
  let touched = navigator.userActivation?.hasBeenActive ?? false;
  for (const kind of INTERACTIONS) {
    addEventListener(kind, () => (touched = true), { capture: true, once: true, passive: true });
  }
  return () => touched;
}

/** Set while a new version is being brought in at this tab's wish. */
let applying = false;

/** The wish outlives a reload that came before the old worker let go. */
const WISH_KEY = 'ringwright/new-version';
const WISH_MILLISECONDS = 60 * 1000;

function noteWish() {
  applying = true;
  try {
    sessionStorage.setItem(WISH_KEY, String(Date.now()));
  } catch {
    // Storage is blocked: the wish holds until the page reloads.
  }
}

/** @returns {boolean} whether this tab asked for the new version just now */
function isWished() {
  if (applying) return true;
  try {
    return Date.now() - Number(sessionStorage.getItem(WISH_KEY)) < WISH_MILLISECONDS;
  } catch {
    return false;
  }
}

function reloadOnce() {
  try {
    sessionStorage.removeItem(WISH_KEY);
  } catch {
    // As above.
  }
  location.reload();
}

/**
 * @param {ServiceWorkerRegistration} registration
 * @param {OfflineNews} news
 * @param {() => boolean} touched
 * @returns {() => void} to be called whenever a new version may be waiting
 */
function offerOnce(registration, news, touched) {
  /** @type {ServiceWorker | null} */
  let offered = null;
  const apply = () => bringIn(registration);
  return () => {
    const waiting = registration.waiting;
    if (waiting === null || waiting === offered || navigator.serviceWorker.controller === null) {
      return;
    }
    offered = waiting;
    if (touched() && !isWished()) {
      news.onNewVersion(apply);
    } else {
      apply();
    }
  };
}

/** @param {ServiceWorkerRegistration} registration */
function bringIn(registration) {
  if (registration.waiting === null) {
    // Another tab brought it in meanwhile.
    reloadOnce();
    return;
  }
  noteWish();
  registration.waiting.postMessage('skipWaiting');
  setTimeout(() => location.reload(), HAND_OVER_MILLISECONDS);
}

/**
 * Reloads only if this tab asked for it: a change that another tab asked for must not end typing here. The
 * page has loaded everything it needs at its start, so the old one goes on until the user agrees.
 * @param {boolean} controlledAtStart
 * @param {OfflineNews} news
 */
function watchController(controlledAtStart, news) {
  let controlled = controlledAtStart;
  navigator.serviceWorker.addEventListener('controllerchange', () => {
    if (isWished()) {
      reloadOnce();
    } else if (controlled) {
      news.onNewVersion(() => location.reload());
    }
    controlled = true;
  });
}

/**
 * @param {ServiceWorkerRegistration} registration
 * @param {OfflineNews} news
 * @param {() => void} offer
 */
function watchInstalls(registration, news, offer) {
  /** @type {ServiceWorker | null} a later one makes it redundant, which is no failure */
  let installed = null;
  if (registration.active === null) {
    navigator.serviceWorker.ready.then(() => news.onReady());
  }
  const watch = () => {
    offer();
    const worker = registration.installing;
    worker?.addEventListener('statechange', () => {
      offer();
      if (worker.state === 'redundant' && worker !== installed) {
        news.onTrouble?.('installing failed');
      }
      installed = worker.state === 'installed' ? worker : installed;
    });
  };
  registration.addEventListener('updatefound', watch);
  watch();
}

/**
 * @param {ServiceWorkerRegistration} registration
 * @param {OfflineNews} news
 */
function checkWhenVisible(registration, news) {
  // Registering has just checked.
  let checkedAt = Date.now();
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState !== 'visible' || Date.now() - checkedAt < CHECK_APART_MILLISECONDS) {
      return;
    }
    checkedAt = Date.now();
    registration.update().catch((error) => news.onTrouble?.(String(error)));
  });
}
