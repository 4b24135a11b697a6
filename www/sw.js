/**
 * Serves the page with no network: everything is fetched on installing, all of it or nothing, and served from
 * there until a later version takes over. The builder fills in the version and the files. This file is never
 * renamed: browsers look for its successor at its own address.
 */

const VERSION = '{{version}}';
/** @type {string[]} addresses relative to this file */
const FILES = JSON.parse('{{precache}}');

const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));
const scope = new URL(worker.registration.scope);
/** With the path, so that two copies of the page on one site do not delete each other's files. */
const OWN_CACHES = `ringwright-${scope.pathname}@`;
const CACHE = OWN_CACHES + VERSION;
const PAGE = scope.href;
const PRECACHED = new Set([PAGE, ...FILES.map((file) => new URL(file, scope).href)]);

worker.addEventListener('install', (event) => event.waitUntil(install()));
worker.addEventListener('activate', (event) => event.waitUntil(activate()));
worker.addEventListener('message', (event) => {
  if (event.data === 'skipWaiting') {
    event.waitUntil(worker.skipWaiting());
  }
});
worker.addEventListener('fetch', (event) => {
  const answer = answerTo(event.request);
  if (answer !== null) {
    event.respondWith(answer);
  }
});

async function install() {
  /** @type {[string, Response][]} */
  const answers = await Promise.all([...PRECACHED].map(async (address) => [address, await fetched(address)]));
  const cache = await caches.open(CACHE);
  try {
    await Promise.all(answers.map(([address, answer]) => cache.put(address, answer)));
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

/** @param {string} address @returns {Promise<Response>} */
async function fetched(address) {
  const answer = await fetch(address, { cache: 'no-cache' });
  if (!answer.ok) {
    throw new Error(`${address} answered ${answer.status}`);
  }
  // A browser refuses to open a page from an answer that came by a redirect.
  return answer.redirected ? new Response(answer.body, { headers: answer.headers }) : answer;
}

async function activate() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith(OWN_CACHES) && name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
  await worker.clients.claim();
}

/** @param {Request} request @returns {Promise<Response> | null} `null` leaves it to the network */
function answerTo(request) {
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== scope.origin) {
    return null;
  }
  // Under its other name the page would come from the network, and its modules from here: two versions at once.
  const address = (url.origin + url.pathname).replace(/\/index\.html$/u, '/');
  if (PRECACHED.has(address)) {
    return kept(address, request);
  }
  return request.mode === 'navigate' ? pageWithoutNetwork(request) : null;
}

/** @param {string} address @param {Request} request @returns {Promise<Response>} */
async function kept(address, request) {
  const cache = await caches.open(CACHE);
  return (await cache.match(address, { ignoreSearch: true, ignoreVary: true })) ?? fetch(request);
}

/** Another address of this site: a file beside the page if there is one, else the page. @param {Request} request */
async function pageWithoutNetwork(request) {
  try {
    return await fetch(request);
  } catch {
    return kept(PAGE, request);
  }
}
