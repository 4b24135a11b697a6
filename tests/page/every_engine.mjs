// The core of the page in engines other than Chromium: the same list in each. Run by `cargo verify engines`;
// RINGWRIGHT_ENGINE=Firefox for one of them, RINGWRIGHT_KILLS=20 for a longer run of kills.

import assert from 'node:assert/strict';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, after, before, test } from 'node:test';
import { setTimeout as pause } from 'node:timers/promises';
import { singleFileAddress, startServer } from './browser.mjs';
import { engines, startEngine } from './engine.mjs';
import { keptTexts, putTexts } from './hands.mjs';
import { brokenUpdates, calls, spoilers, storageBlocked, storageFull, stumbling } from './misfortunes.mjs';
import { withOwnServer } from './own_server.mjs';

/** @typedef {import('./engine.mjs').Window} Window */

const PLACES = ['ring', 'vessel', 'wood', 'inlay', 'bench', 'paper'];
const kills = Number(process.env.RINGWRIGHT_KILLS ?? 3);
const STEPS_OF_A_RUN = 3;

/** @param {Window} window */
async function untilUp(window) {
  await window.until('the page is ready', () => document.documentElement.dataset.ready === 'yes');
  await window.run(() => {
    const seen = /** @type {string[]} */ ([]);
    Reflect.set(self, 'complaints', seen);
    for (const kind of /** @type {const} */ (['error', 'warn'])) {
      const say = self.console[kind];
      console[kind] = (...words) => {
        seen.push(`${kind}: ${words.join(' ')}`);
        say(...words);
      };
    }
    addEventListener('error', (event) => seen.push(`uncaught: ${event.message}`));
    addEventListener('unhandledrejection', (event) => seen.push(`uncaught: ${event.reason}`));
    addEventListener('securitypolicyviolation', (event) => seen.push(`forbidden: ${event.violatedDirective} ${event.blockedURI}`));
  });
}

/** Fails when the page complained since it was ready. @param {Window} window */
async function isQuiet(window) {
  assert.deepEqual(await window.run(() => Reflect.get(self, 'complaints')), []);
}

/** @param {Window} window @param {string} address */
async function visit(window, address) {
  // Under load a driver answers while the page before still stands, and it is ready too.
  const isOther = await window.run((to) => {
    Reflect.set(self, 'isOld', true);
    return location.href.split('#')[0] !== to.split('#')[0];
  }, address).catch(() => false);
  await window.open(address);
  if (isOther) await window.until('the page before is gone', () => !Reflect.has(self, 'isOld'));
  await untilUp(window);
}

/** @param {Window} window @param {string} key @param {string} text */
function enter(window, key, text) {
  return window.run((wanted, typed) => {
    const field = document.querySelector(`input[data-key="${wanted}"]`);
    if (!(field instanceof HTMLInputElement)) throw new Error(`there is no field ${wanted}`);
    field.focus();
    field.value = typed;
    field.dispatchEvent(new Event('input', { bubbles: true }));
    field.dispatchEvent(new Event('change', { bubbles: true }));
    field.blur();
  }, key, text);
}

/** @param {Window} window @param {string} key */
function entered(window, key) {
  return window.run((wanted) => {
    const field = document.querySelector(`input[data-key="${wanted}"]`);
    return field instanceof HTMLInputElement ? field.value : null;
  }, key);
}

/** @param {Window} window */
function untilKept(window) {
  return window.until('the work is kept', () => document.getElementById('kept-state')?.dataset.state === 'kept');
}

/** Opens the example with all that a design can hold. @param {Window} window */
async function openExample(window) {
  await window.tap('[data-place="vessel"]');
  await window.tap('#starts [data-way="lantern_vase"]');
  await window.until('the example is open', () => document.querySelectorAll('#section .handle').length > 2);
}

/** Does what saves a file, and tells its name, size and first letters. @param {Window} window @param {string} button */
async function saved(window, button) {
  await window.run(() => {
    const make = URL.createObjectURL;
    URL.createObjectURL = (file) => {
      if (file instanceof File) Reflect.set(self, 'savedFile', file);
      return make.call(URL, file);
    };
  });
  await window.tap(button);
  await window.until('a file is saved', () => Reflect.get(self, 'savedFile'));
  return window.run(async () => {
    const file = /** @type {File} */ (Reflect.get(self, 'savedFile'));
    return { name: file.name, size: file.size, begins: await file.slice(0, 5).text() };
  });
}

/** Comes to where the worker serves the page. @param {Window} window */
async function served(window) {
  await window.until('the page is kept for use without a network', async () => {
    const registration = await navigator.serviceWorker.ready;
    return registration.active?.state === 'activated';
  });
  await window.reload();
  await untilUp(window);
  await window.until('the worker serves the page', () => navigator.serviceWorker.controller !== null);
}

/** Looks for a new version, and tells what becomes of it. @param {Window} window */
function update(window) {
  return window.run(async () => {
    const registration = await navigator.serviceWorker.ready;
    await registration.update().catch(() => undefined);
    const worker = registration.installing ?? registration.waiting;
    if (!worker) return 'nothing new';
    while (worker.state === 'installing') {
      await new Promise((resolve) => worker.addEventListener('statechange', resolve, { once: true }));
    }
    return worker.state;
  });
}

/**
 * A server whose pages run something first, in an engine whose driver cannot bring it.
 * @param {() => void} first
 */
function serverWith(first) {
  return startServer(undefined, { fault: (path, response, file) => {
    if (path !== '/standby.js') return false;
    // It is the first of the page's scripts, and no module.
    response.setHeader('content-type', 'text/javascript').end(`(${first})();\n${file}`);
    return true;
  } });
}

/** The text of the note of this name, once it is there. @param {Window} window @param {string} name */
async function note(window, name) {
  const place = `.notice[data-name="${name}"] p`;
  await window.until(`“${name}” is said`, (selector) => document.querySelector(selector) !== null, place);
  return window.run((selector) => document.querySelector(selector)?.textContent ?? '', place);
}

/** @param {Window} window @param {string} name */
function notes(window, name) {
  return window.run((selector) => document.querySelectorAll(selector).length, `.notice[data-name="${name}"]`);
}

/** The hands that only run something in the page take a window as well. @param {Window} window @returns {any} */
function asPage(window) {
  return { evaluate: window.run };
}

const asked = process.env.RINGWRIGHT_ENGINE;
// A name with a slip in it would try nothing, and pass.
assert.ok(!asked || Object.hasOwn(engines, asked), `${asked} is none of ${Object.keys(engines).join(', ')}`);
for (const engine of Object.values(engines).filter((each) => !asked || each.name === asked)) {
  describe(engine.name, () => {
    /** @type {Window} */
    let window;
    /** @type {Awaited<ReturnType<typeof startServer>>} */
    let server;
    before(async () => {
      window = await startEngine(engine);
    });
    after(() => window?.stop());

    /**
     * A visit on a server of its own, so to a page that was never seen before.
     * @param {string} name
     * @param {(origin: string, t: import('node:test').TestContext) => Promise<void>} work
     */
    const onVisit = (name, work) => test(name, async (t) => {
      server = await startServer();
      try {
        await visit(window, `${server.origin}/`);
        await work(server.origin, t);
        await isQuiet(window);
      } finally {
        await server.stop();
      }
    });

    onVisit('each place shows its figures, and the vessel its turned picture or a word that there is none', async (_, t) => {
      t.diagnostic(window.version);
      await openExample(window);
      for (const place of PLACES) {
        await window.tap(`[data-place="${place}"]`);
        await window.until(`${place} is shown`, (name) => {
          const shown = document.getElementById(name);
          const words = shown?.innerText ?? '';
          return shown?.hidden === false && /\d/.test(words) && !/NaN|undefined|Infinity/.test(words);
        }, place);
      }
      await window.tap('[data-place="vessel"]');
      const has3d = await window.run(() => document.createElement('canvas').getContext('webgl2') !== null);
      t.diagnostic(has3d ? 'with WebGL2' : 'without WebGL2');
      await window.until('3D is there or said to be missing', (is3d) => {
        const missing = document.getElementById('three-missing');
        return missing?.hidden === is3d;
      }, has3d);
    });

    onVisit('a handle is pulled, and undone', async () => {
      await openExample(window);
      const curve = () => window.run(() => document.querySelector('#section svg')?.innerHTML ?? '');
      const before_ = await curve();
      assert.notEqual(before_, '');
      await window.run(() => document.querySelector('#section .handle:nth-last-of-type(2)')?.scrollIntoView({ block: 'center' }));
      await window.drag('#section .handle:nth-last-of-type(2)', 24, -8);
      await window.until('the curve changes', (old) => document.querySelector('#section svg')?.innerHTML !== old, before_);
      await window.until('it can be undone', () => document.getElementById('undo')?.matches(':enabled'));
      await window.tap('#undo');
      await window.until('the curve is back', (old) => document.querySelector('#section svg')?.innerHTML === old, before_);
      await untilKept(window);
    });

    onVisit('the keypad types', async () => {
      await window.tap('#unit-button');
      await window.tap('#own-keypad');
      await window.tap('#unit-dialog [data-close]');
      await window.tap('#segment-count');
      await window.until('the keypad is open', () => document.getElementById('keypad')?.hidden === false);
      for (const key of ['[data-act="clear"]', '[data-digit="1"]', '[data-digit="8"]', '[data-act="done"]']) {
        await window.tap(`#keypad ${key}`);
      }
      await window.until('18 is typed', () => (
        /** @type {HTMLInputElement} */ (document.getElementById('segment-count')).value === '18'));
      await untilKept(window);
    });

    onVisit('a link goes out and comes in, and a reload keeps the work', async (origin) => {
      await enter(window, 'ring.segment_count', '17');
      await enter(window, 'ring.outside_diameter_mm', '300 mm');
      await untilKept(window);
      const diameter = await entered(window, 'ring.outside_diameter_mm');
      assert.match(diameter ?? '', /^(300|11\.811|11 13\/16)/);
      await window.reload();
      await untilUp(window);
      assert.equal(await entered(window, 'ring.segment_count'), '17');
      await window.tap('#share-button');
      const link = await window.run(() => /** @type {HTMLInputElement} */ (document.getElementById('link-text')).value);
      assert.ok(link.startsWith(`${origin}/#r1`), link);
      assert.ok(await window.run(() => document.querySelector('#qr svg') !== null), 'the link has a code');
      await window.tap('#share-dialog [data-close]');
      const other = await startServer();
      try {
        await visit(window, link.replace(origin, other.origin));
        assert.equal(await entered(window, 'ring.segment_count'), '17');
        assert.equal(await entered(window, 'ring.outside_diameter_mm'), diameter);
      } finally {
        await other.stop();
      }
    });

    onVisit('paper is saved', async () => {
      await openExample(window);
      await window.tap('[data-place="paper"]');
      await window.until('sheets are shown', () => document.querySelectorAll('#sheets li').length > 3);
      const { name, size, begins } = await saved(window, '#save-pdf');
      assert.match(name, /\.pdf$/);
      assert.equal(begins, '%PDF-');
      assert.ok(size > 20_000, `${size} bytes`);
    });

    test('with no network after the first visit', async () => {
      const own = await startServer();
      await visit(window, `${own.origin}/`);
      await served(window);
      await enter(window, 'ring.segment_count', '19');
      await untilKept(window);
      await own.stop();
      await window.reload();
      await untilUp(window);
      assert.equal(await entered(window, 'ring.segment_count'), '19');
      await openExample(window);
      await isQuiet(window);
    });

    const broken = brokenUpdates();
    test(`${broken.length} broken new versions are not offered, a whole one is, and taken when asked`, () => withOwnServer(
      async ({ origin, publish, faults }) => {
        await visit(window, `${origin}/`);
        await served(window);
        await enter(window, 'ring.segment_count', '20');
        for (const [place, [what, fault]] of broken.entries()) {
          await publish(`broken${place}`);
          faults.fault = fault;
          const became = await update(window);
          assert.ok(['redundant', 'nothing new'].includes(became), `${what}: ${became}`);
          faults.fault = null;
        }
        await publish('whole');
        assert.equal(await update(window), 'installed');
        const offer = '.notice[data-name="new-version"] button';
        await window.until('it is offered', (button) => document.querySelector(button) !== null, offer);
        assert.equal(await window.run(() => document.documentElement.dataset.version ?? 'first'), 'first');
        await window.tap(offer);
        await window.until('it is there', () => document.documentElement.dataset.version === 'whole');
        await untilUp(window);
        assert.equal(await entered(window, 'ring.segment_count'), '20');
      },
    ));

    test('with storage blocked it says so, works, and the address bar holds the work', async () => {
      const own = await serverWith(storageBlocked);
      try {
        await visit(window, `${own.origin}/`);
        assert.match(await note(window, 'keep'), /storage is blocked/);
        await window.until('the address holds the first design', () => location.hash.startsWith('#r1'));
        const before = await window.run(() => location.hash);
        await enter(window, 'ring.segment_count', '18');
        await window.until('the address holds it', (was) => location.hash !== was, before);
        await window.tap('#share-button');
        const { name, size, begins } = await saved(window, '#save-file');
        assert.match(name, /\.ringwright\.json$/);
        assert.ok(size > 500 && begins.startsWith('{'), `${size} bytes, ${begins}`);
        await window.tap('#share-dialog [data-close]');
        await window.reload();
        await untilUp(window);
        assert.equal(await entered(window, 'ring.segment_count'), '18');
      } finally {
        await own.stop();
      }
    });

    test('with storage full it says so once, goes on, and keeps all as soon as there is room', async () => {
      const own = await serverWith(storageFull);
      try {
        await visit(window, `${own.origin}/`);
        await enter(window, 'ring.segment_count', '18');
        await untilKept(window);
        await window.run(() => sessionStorage.setItem('full', 'yes'));
        await enter(window, 'ring.segment_count', '19');
        assert.match(await note(window, 'keep'), /full/);
        await enter(window, 'ring.segment_count', '20');
        await window.until('it is shown', () => document.getElementById('kept-state')?.dataset.state === 'not');
        assert.equal(await notes(window, 'keep'), 1);
        await window.run(() => sessionStorage.removeItem('full'));
        await enter(window, 'ring.segment_count', '21');
        await untilKept(window);
        await window.reload();
        await untilUp(window);
        assert.equal(await entered(window, 'ring.segment_count'), '21');
        await window.run(() => sessionStorage.removeItem('full'));
      } finally {
        await own.stop();
      }
    });

    test(`${Object.keys(calls).length} stumbles of the library are each said once, and the rest goes on`, async () => {
      for (const [name, call] of Object.entries(calls)) {
        const own = await serverWith(stumbling);
        try {
          await visit(window, `${own.origin}/`);
          await window.tap('[data-place="vessel"]');
          await window.tap('#starts [data-way="bowl"]');
          await window.tap('[data-place="ring"]');
          await enter(window, 'ring.height_mm', '25 mm');
          await window.run((trapped) => { document.documentElement.dataset.trapped = trapped; }, name);
          await window.tap(call);
          assert.match(await note(window, 'not-shown'), /could not be computed/, name);
          assert.equal(await notes(window, 'not-shown'), 1, name);
          assert.equal(await window.run(() => document.documentElement.dataset.trapped), '', `${name} was called`);
          await window.tap('[data-place="ring"]');
          const strip = '#list [data-key="row.strip_height"]';
          const height = await window.run((row) => document.querySelector(row)?.textContent ?? '', strip);
          await enter(window, 'ring.height_mm', '50 mm');
          await window.until(`figures come again after ${name}`, (row, old) => (
            ![old, undefined].includes(document.querySelector(row)?.textContent)), strip, height);
          await untilKept(window);
        } finally {
          await own.stop();
        }
      }
    });

    test(`${spoilers.length} spoiled records are told at the start, and what is there stays`, async () => {
      for (const [what, spoil, told] of spoilers) {
        const own = await startServer();
        try {
          await visit(window, `${own.origin}/`);
          // Engines begin in different units.
          await enter(window, 'ring.wall_mm', '22.25 mm');
          await untilKept(window);
          const texts = await keptTexts(asPage(window));
          const key = `design/${texts['last-open']}`;
          const spoiled = spoil(texts[key] ?? '');
          assert.match(texts[key] ?? '', /22\.25/, what);
          // No page is open meanwhile that could write it anew.
          await window.open(`${own.origin}/ringwright.css`);
          await putTexts(asPage(window), { [key]: spoiled });
          await visit(window, `${own.origin}/`);
          await note(window, told);
          const now = Object.entries(await keptTexts(asPage(window)));
          assert.ok(now.some(([name, each]) => name.endsWith(key) && each === spoiled), `${what}: what was there is gone`);
        } finally {
          await own.stop();
        }
      }
    });

    onVisit('what is erased while the page is open is said, and the open design is kept again', async () => {
      await enter(window, 'ring.segment_count', '18');
      await untilKept(window);
      await window.run(() => new Promise((resolve) => {
        indexedDB.deleteDatabase('ringwright').onsuccess = () => resolve(undefined);
      }));
      await enter(window, 'ring.segment_count', '19');
      assert.match(await note(window, 'erased'), /erased while the page was open/);
      await untilKept(window);
      assert.ok(Object.keys(await keptTexts(asPage(window))).some((key) => key.startsWith('design/')));
    });

    test('the single file opens from disk', async () => {
      await visit(window, singleFileAddress);
      await openExample(window);
      await window.tap('[data-place="ring"]');
      await window.until('figures are shown', () => /\d/.test(document.getElementById('saw-figures')?.innerText ?? ''));
      await isQuiet(window);
    });

    test('an engine in which a needed thing is missing gets a sentence, and no blank page', async () => {
      const own = await serverWith(() => { Reflect.deleteProperty(globalThis, 'WebAssembly'); });
      try {
        await window.open(`${own.origin}/`);
        await window.until('it is said', () => {
          const words = document.getElementById('no-start');
          return words?.hidden === false && words.innerText.length > 40;
        });
      } finally {
        await own.stop();
      }
    });
  });
}

// WebKit's driver keeps nothing on the disk between its windows, and does not tell which process is the browser:
// there is nothing that a kill could lose.
test(`${kills} kills of Firefox lose nothing that was shown as kept`, { skip: asked === 'WebKit' }, async () => {
  const own = await startServer();
  const profile = await mkdtemp(join(tmpdir(), 'ringwright-firefox-'));
  const firefox = /** @type {import('./engine.mjs').Engine} */ (engines.Firefox);
  assert.ok(kills > 0, 'nothing would be killed');
  let kept = 0;
  try {
    let last = 12;
    for (let run = 0; run <= kills; run += 1) {
      const window = await startEngine(firefox, profile);
      try {
        await visit(window, `${own.origin}/`);
        const found = await entered(window, 'ring.segment_count');
        // What stands there instead tells why.
        const instead = found === String(last) ? '' : await window.run(() => document.body.innerText.slice(0, 600));
        assert.equal(found, String(last), `after kill ${run}: ${instead}`);
        for (let step = 0; step < STEPS_OF_A_RUN; step += 1) {
          await window.tap('#count-more');
          last += 1;
          await window.until('it is kept', (count) => (
            document.getElementById('kept-state')?.dataset.state === 'kept'
            && /** @type {HTMLInputElement} */ (document.getElementById('segment-count')).value === count), String(last));
          kept += 1;
        }
        await pause(Math.random() * 50);
      } finally {
        await window.kill();
      }
    }
  } finally {
    await own.stop();
    await rm(profile, { recursive: true, force: true, maxRetries: 5 });
  }
  assert.equal(kept, (kills + 1) * STEPS_OF_A_RUN);
});
