// What can befall the page, for every engine alike: storage that is blocked or full, a library that stumbles,
// records that are spoiled, servers that answer wrongly. The first are scripts that run before any of the page's.
//
// The guards against them were taken away once, one by one, in a copy of the built page, and each was missed by its
// test: the word `strict` and the wait for the database's answer; the worker's `integrity`; what stands by while
// the page starts; every note of what is spoiled, later, given up, erased or not shown; the way to earlier states;
// the question before leaving; names of copies and of what is put aside; the limit of a file; the breaking of names.

/** @typedef {import('./browser.mjs').Fault} Fault */

/** Nothing can be kept at all. */
export function storageBlocked() {
  for (const storage of ['localStorage', 'sessionStorage', 'indexedDB']) {
    Object.defineProperty(window, storage, {
      get() {
        throw new DOMException('blocked', 'SecurityError');
      },
    });
  }
}

/** There is no more room while `full` stands in the session's storage. */
export function storageFull() {
  const put = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function (...given) {
    if (sessionStorage.getItem('full')) throw new DOMException('no room', 'QuotaExceededError');
    return put.apply(this, given);
  };
}

/** The library stumbles once at the call that the document's `data-trapped` names. */
export function stumbling() {
  const start = WebAssembly.instantiateStreaming;
  WebAssembly.instantiateStreaming = async (source, imports) => {
    const { instance, module } = await start(source, imports);
    const exports = Object.fromEntries(Object.entries(instance.exports).map(([name, each]) => [name, typeof each !== 'function' ? each
      : (/** @type {unknown[]} */ ...given) => {
        const { dataset } = document.documentElement;
        if (dataset.trapped === name) {
          dataset.trapped = '';
          throw new WebAssembly.RuntimeError('unreachable');
        }
        return /** @type {Function} */ (each)(...given);
      }]));
    return { instance: /** @type {any} */ ({ exports }), module };
  };
}

/** Calls of the library outside a change, and what to tap for each. @type {Record<string, string>} */
export const calls = {
  show_ring: '#undo',
  show_vessel: '[data-place="vessel"]',
  show_wood: '[data-place="wood"]',
  show_boards: '[data-place="wood"]',
  show_inlay: '[data-place="inlay"]',
  show_bench: '[data-place="bench"]',
  bench_picture: '[data-place="bench"]',
  show_packet: '[data-place="paper"]',
  link_of: '#undo',
};

/** @param {any} value @returns {any} every number in it minus one */
function allMinusOne(value) {
  if (typeof value === 'number') return -1;
  if (Array.isArray(value)) return value.map(allMinusOne);
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, allMinusOne(each)]));
}

/**
 * @param {string} text
 * @param {(record: any) => unknown} change
 */
export function changed(text, change) {
  const record = JSON.parse(text);
  return JSON.stringify(change(record) ?? record);
}

/** What a whole record becomes, and the note that tells it. @type {[string, (text: string) => string, string][]} */
export const spoilers = [
  ...[0.02, 0.1, 0.3, 0.5, 0.7, 0.9, 0.999].map((part) => /** @type {[string, (text: string) => string, string]} */ (
    [`cut off after ${part * 100} %`, (text) => text.slice(0, text.length * part), 'unreadable'])),
  ...[1, 2, 3, 4, 5].map((seed) => /** @type {[string, (text: string) => string, string]} */ (
    [`random bytes, ${seed}`, (text) => Array.from(text, (_, at) => String.fromCharCode(32 + ((at * 7919 + seed * 104729) % 223))).join(''), 'unreadable'])),
  ...['', 'null', '[]', '"text"', '7', 'true', '{}', '{"design":null}', '{"design":[]}', '{"design":"x"}', '{"design":{}}', '\u0000'.repeat(500)]
    .map((text) => /** @type {[string, (text: string) => string, string]} */ ([`only ${text.slice(0, 20)}`, () => text, 'unreadable'])),
  ['with a hole', (text) => text.replace(/"design":.{40}/, '"des'), 'unreadable'],
  ['twice', (text) => text + text, 'unreadable'],
  ['of a design without its ring', (text) => changed(text, (record) => { delete record.design.ring; }), 'unreadable'],
  ['of a design of another kind', (text) => changed(text, (record) => { record.design = { layers: [1, 2] }; }), 'unreadable'],
  ['with every number minus one', (text) => changed(text, (record) => {
    const { form } = record.design;
    return { ...record, design: { ...allMinusOne(record.design), form } };
  }), 'opened'],
  ['of a later layout', (text) => changed(text, (record) => { record.format = 99; }), 'later'],
];

/** @type {Record<string, (response: import('node:http').ServerResponse, file: Buffer, old: Buffer) => void>} */
const wrong = {
  'cut in half, with a length to match': (response, file) => response.end(file.subarray(0, file.length / 2)),
  'a page of a hotel’s network': (response) => response.setHeader('content-type', 'text/html').end('<h1>Welcome! Room number?</h1>'),
  'of the version before': (response, _, old) => response.end(old),
  'empty': (response) => response.end(),
};

/** What a browser takes for a script. @param {string} path */
function typeOf(path) {
  if (path === '/') return 'text/html; charset=utf-8';
  return path.endsWith('.wasm') ? 'application/wasm' : 'text/javascript; charset=utf-8';
}

/** Ways in which a server spoils a new version, each to be tried once. */
export function brokenUpdates() {
  /** @type {[string, Fault][]} */
  const faults = ['/', '/main.js', '/vessel.js', '/work.js'].flatMap((path) => Object.entries(wrong).map(([what, answer]) => (
    /** @type {[string, Fault]} */ ([`${path} is ${what}`, (asked, response, file) => {
      if (asked !== path) return false;
      response.setHeader('content-type', typeOf(path));
      answer(response, file, Buffer.from(file.toString().replace(/(\/\/ version |data-version=")\w+/, '$1old')));
      return true;
    }]))));
  faults.push(
    ['the library is cut off', (asked, response, file) => {
      if (!asked.endsWith('.wasm')) return false;
      response.writeHead(200, { 'content-length': file.length });
      response.write(file.subarray(0, 1000), () => response.destroy());
      return true;
    }],
    ['a file is missing', (asked, response) => {
      if (asked !== '/ring.js') return false;
      response.writeHead(404).end();
      return true;
    }],
    ['the server is overloaded', (_, response) => {
      response.writeHead(503).end();
      return true;
    }],
  );
  let answered = 0;
  faults.push(['the server dies after five answers', (asked, response) => {
    answered += 1;
    if (asked.startsWith('/sw.js') || answered <= 5) return false;
    response.destroy();
    return true;
  }]);
  return faults;
}
