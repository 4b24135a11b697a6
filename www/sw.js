/**
 * Serves the page with no network: everything is fetched on installing, all of it or nothing, and served from
 * there until a later version takes over. The builder fills in the version and the files, each with the hash of
 * its content: an answer that is not the file, as a half one or the page of a hotel's network, is none, and the
 * version that works stays. That one is also kept until its successor has come up. This file is never renamed:
 * browsers look for its successor at its own address.
 */

const VERSION = '{{version}}';
/** @type {[string, string][]} addresses relative to this file, and what makes a browser check the content */
const FILES = JSON.parse('{{precache}}');
/** The same of what is kept from when it is first asked for. @type {[string, string][]} */
const LATE = JSON.parse('{{late}}');

const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));
const scope = new URL(worker.registration.scope);
/** With the path, so that two copies of the page on one site do not delete each other's files. */
const OWN_CACHES = `ringwright-${scope.pathname}@`;
const CACHE = OWN_CACHES + VERSION;
const PAGE = scope.href;
const listed = (/** @type {[string, string][]} */ files) =>
  new Map(files.map(([file, integrity]) => [new URL(file, scope).href, integrity]));
const EARLY = listed(FILES);
const LATER = listed(LATE);
/** What is remembered beside the files: the version that has come up, and the one that is gone back to. */
const NOTES = `ringwright-notes-${scope.pathname}`;

worker.addEventListener('install', (event) => event.waitUntil(install()));
worker.addEventListener('activate', (event) => event.waitUntil(activate()));
worker.addEventListener('message', (event) => {
  if (event.data === 'skipWaiting') event.waitUntil(worker.skipWaiting());
  if (event.data === 'came up') event.waitUntil(noteCameUp());
  if (event.data === 'go back') event.waitUntil(goBack().then((isBack) => event.ports[0]?.postMessage(isBack)));
});
worker.addEventListener('fetch', (event) => {
  const answer = answerTo(event.request);
  if (answer !== null) {
    event.respondWith(answer);
  }
});

async function install() {
  /** @type {[string, Response][]} */
  const answers = await Promise.all([...EARLY.keys()].map(async (address) => [address, await fetched(address)]));
  const cache = await caches.open(CACHE);
  try {
    await Promise.all(answers.map(([address, answer]) => cache.put(address, answer)));
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
  await takeOver(cache);
}

/** What was once asked for stays at hand; without it the version works too. @param {Cache} cache */
async function takeOver(cache) {
  for (const address of LATER.keys()) {
    if (await caches.match(address)) await keepLate(cache, address).catch(() => undefined);
  }
}

/** @param {Cache} cache @param {string} address @returns {Promise<Response>} */
async function keepLate(cache, address) {
  const answer = await fetched(address);
  // Where there is no room for it, it is only used.
  await cache.put(address, answer.clone()).catch(() => undefined);
  return answer;
}

/** The file of this version, and no other. @param {string} address @returns {Promise<Response>} */
async function fetched(address) {
  const integrity = EARLY.get(address) ?? LATER.get(address) ?? '';
  const ask = (/** @type {RequestCache} */ cache) => fetch(address, { cache, integrity });
  // What the browser has in its own cache may be wrong; then it is asked for anew.
  const answer = await ask('no-cache').catch(() => ask('reload'));
  if (!answer.ok) {
    throw new Error(`${address} answered ${answer.status}`);
  }
  // A browser refuses to open a page from an answer that came by a redirect.
  return answer.redirected ? new Response(answer.body, { headers: answer.headers }) : answer;
}

async function activate() {
  await note('served', null);
  await dropAllBut([CACHE, await noted('came up')]);
  await worker.clients.claim();
}

/** @param {(string | null)[]} kept */
async function dropAllBut(kept) {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith(OWN_CACHES) && !kept.includes(name));
  await Promise.all(old.map((name) => caches.delete(name)));
}

/** @param {string} what @returns {Promise<string | null>} */
async function noted(what) {
  const answer = await (await caches.open(NOTES)).match(new URL(what, scope).href);
  return (await answer?.text()) ?? null;
}

/** @param {string} what @param {string | null} text */
async function note(what, text) {
  const notes = await caches.open(NOTES);
  const address = new URL(what, scope).href;
  if (text === null) await notes.delete(address);
  else await notes.put(address, new Response(text));
  served = null;
}

/** Which version is served, once it is known. @type {Promise<string> | null} */
let served = null;

async function servedNow() {
  const back = await noted('served');
  return back !== null && await caches.has(back) ? back : CACHE;
}

/** The page works in the version that is served: the ones before it are needed no more. */
async function noteCameUp() {
  if (await servedNow() !== CACHE) return;
  await note('came up', CACHE);
  await dropAllBut([CACHE]);
}

/** @returns {Promise<boolean>} whether there is an earlier version, which is served from now on */
async function goBack() {
  const before = await noted('came up');
  if (before === null || before === CACHE || !await caches.has(before)) return false;
  await note('served', before);
  return true;
}

/** @param {Request} request @returns {Promise<Response> | null} `null` leaves it to the network */
function answerTo(request) {
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== scope.origin) {
    return null;
  }
  // Under its other name the page would come from the network, and its modules from here: two versions at once.
  const address = (url.origin + url.pathname).replace(/\/index\.html$/u, '/');
  if (EARLY.has(address) || LATER.has(address)) {
    return kept(address);
  }
  return request.mode === 'navigate' ? pageWithoutNetwork(request) : null;
}

/** @param {string} address @returns {Promise<Response>} */
async function kept(address) {
  served ??= servedNow();
  const name = await served;
  const cache = await caches.open(name);
  const found = await cache.match(address, { ignoreSearch: true, ignoreVary: true });
  // One that the browser has lost is fetched, but never from another version.
  if (found) return found;
  if (name !== CACHE) return Response.error();
  if (!LATER.has(address)) return fetched(address);
  // Without a network the page does without it.
  const nothing = () => new Response(null, { status: 204 });
  return worker.navigator.onLine ? keepLate(cache, address).catch(nothing) : nothing();
}

/** Another address of this site: a file beside the page if there is one, else the page. @param {Request} request */
async function pageWithoutNetwork(request) {
  try {
    return await fetch(request);
  } catch {
    return kept(PAGE);
  }
}
