// How long a change may wait to be kept, told in saves and not in time: for the one that is running, and its own.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { enter, untilKept } from './hands.mjs';
import { visit } from './harness.mjs';

/** @typedef {import('playwright-core').Page} Page */

/** Notes each save of a design as it begins and as it is down, and holds the word that it is down while asked. */
function watchSaves() {
  /** @type {string[]} */
  const saves = [];
  /** @type {(() => void)[]} */
  const held = [];
  const own = { saves, isHolding: false, release: () => {
    own.isHolding = false;
    for (const each of held.splice(0)) each();
  } };
  Object.assign(self, { own });
  const isOfDesign = new WeakSet();
  const put = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function (value, key) {
    if (String(key).startsWith('design/')) {
      isOfDesign.add(this.transaction);
      saves.push(`begins ${JSON.parse(value).design.ring.segment_count}`);
    }
    return key === undefined ? put.call(this, value) : put.call(this, value, key);
  };
  const listen = IDBTransaction.prototype.addEventListener;
  IDBTransaction.prototype.addEventListener = function (/** @type {string} */ kind, /** @type {any} */ hear) {
    listen.call(this, kind, kind !== 'complete' ? hear : (/** @type {Event} */ event) => {
      if (!isOfDesign.has(this)) return hear(event);
      const tell = () => {
        saves.push('down');
        hear(event);
      };
      if (own.isHolding) held.push(tell);
      else tell();
    });
  };
}

/** @param {Page} page */
const saves = (page) => page.evaluate(() => /** @type {any} */ (self).own.saves.splice(0));

/** Every timer of a change has run out: one that was set later and is longer has. @param {Page} page */
const untilTimersRan = (page) => page.evaluate(() => new Promise((done) => { setTimeout(done, 200); }));

const before = (/** @type {import('playwright-core').BrowserContext} */ context) => context.addInitScript(watchSaves);

test('changes behind a running save wait for it and for one more', () => visit('phone', async (page) => {
  await untilKept(page);
  await saves(page);
  await page.evaluate(() => { /** @type {any} */ (self).own.isHolding = true; });
  await enter(page, 'ring.segment_count', '13');
  await page.waitForFunction(() => /** @type {any} */ (self).own.saves.length > 0);
  for (let taps = 0; taps < 6; taps += 1) {
    await page.tap('#count-more');
    await untilTimersRan(page);
  }
  assert.deepEqual(await saves(page), ['begins 13'], 'no other save begins while one is running');
  assert.equal(await page.locator('#kept-state').getAttribute('data-state'), 'keeping');
  await page.evaluate(() => /** @type {any} */ (self).own.release());
  await untilKept(page);
  assert.deepEqual(await saves(page), ['down', 'begins 19', 'down'], 'one more has all six');
}, { before }));

test('a hand that goes on is kept on its way', () => visit('phone', async (page) => {
  await untilKept(page);
  await saves(page);
  // Changes so near to each other that one which put the save off would never be kept.
  const begun = await page.evaluate(() => new Promise((done) => {
    const { own } = /** @type {any} */ (self);
    let taps = 0;
    const tap = () => {
      if (own.saves.length > 0 || taps === 200) {
        done(own.saves.length);
        return;
      }
      taps += 1;
      document.getElementById(taps % 2 === 0 ? 'count-less' : 'count-more')?.click();
      setTimeout(tap, 1);
    };
    tap();
  }));
  assert.ok(begun > 0, 'nothing is kept before the hand rests');
}, { before }));
