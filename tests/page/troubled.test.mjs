// What is kept is spoiled, erased or short of room, or the library stumbles: everything is said, what is there
// stays, and there is a way to it.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { untilReady, visit } from './harness.mjs';
import { calls, changed, spoilers, stumbling } from './misfortunes.mjs';
import { enter, entered, field, keptDesigns, keptTexts, note, putTexts, saved, untilKept } from './hands.mjs';

/** @typedef {import('playwright-core').Page} Page */
/** @typedef {import('playwright-core').BrowserContext} Context */

/**
 * Opens the page in a tab that knows of nothing.
 * @param {Context} context
 * @param {string} origin
 */
async function newTab(context, origin) {
  const page = await context.newPage();
  await page.goto(`${origin}/`);
  await untilReady(page);
  return page;
}

/** @param {Page} page */
async function lastRecord(page) {
  const texts = await keptTexts(page);
  const key = `design/${texts['last-open']}`;
  return { key, text: texts[key] ?? '' };
}

test(`${spoilers.length} spoiled records are told at the start, and what is there can be had`, () => visit('tablet', async (first, { context, origin }) => {
  for (const [what, spoil, told] of spoilers) {
    const page = await newTab(context, origin);
    await page.click('#designs-button');
    await page.click('#new-design');
    await page.waitForFunction(() => !document.querySelector('#designs-dialog[open]'));
    await enter(page, 'ring.wall_mm', '7/8');
    await untilKept(page);
    const { key, text } = await lastRecord(page);
    assert.match(text, /22\.2/, what);
    await page.close();
    const spoiled = spoil(text);
    await putTexts(first, { [key]: spoiled });
    const next = await newTab(context, origin);
    const said = await next.locator('.notice').evaluateAll((notes) => notes.map((each) => /** @type {HTMLElement} */ (each).dataset.name));
    assert.ok(said.includes(told), `${what}: said only ${said}`);
    const texts = await keptTexts(next);
    const isThere = Object.entries(texts).some(([name, each]) => name.endsWith(key) && each === spoiled);
    assert.ok(isThere, `${what}: what was there is gone`);
    // Room for the next one.
    await next.close();
    await putTexts(first, Object.fromEntries(Object.keys(texts).map((name) => [name, null])));
  }
}, { expected: [/console error/] }));

test('a spoiled design is said, its text comes as a file under its own name, and its earlier state opens', () => visit('tablet', async (page, { context, origin }) => {
  await page.click('#designs-button');
  await field(page, 'name').fill('Salad bowl');
  await page.click('#designs-dialog [data-close]');
  await enter(page, 'ring.wall_mm', '7/8');
  await untilKept(page);
  await page.goto('about:blank');
  const again = await newTab(context, origin);
  await enter(again, 'ring.wall_mm', '1');
  await untilKept(again);
  const { key, text } = await lastRecord(again);
  const spoiled = text.slice(0, text.length * 0.6);
  await again.goto(`${origin}/ringwright.css`);
  await putTexts(again, { [key]: spoiled });
  const next = await newTab(context, origin);
  assert.match(await note(next, 'unreadable'), /could not be read.*put aside, untouched/);
  await next.locator('.notice[data-name="unreadable"] button', { hasText: 'Show what is there' }).click();
  const row = next.locator('#aside-list li', { hasText: 'Could not be read' });
  assert.equal(await row.locator('strong').innerText(), 'Salad bowl');
  const file = await saved(next, () => row.locator('button').click());
  assert.equal(file.bytes.toString(), spoiled);
  assert.match(file.name, /^Salad bowl design-[0-9a-f]{16} \d{4}-\d\d-\d\d\.txt$/);
  await next.locator('#aside-list li', { hasText: 'Earlier state' }).first().locator('button').click();
  await next.waitForFunction(() => document.getElementById('design-name')?.textContent === 'Salad bowl');
  assert.equal(await entered(next, 'ring.wall_mm'), '7/8');
}, { expected: [/favicon/] }));

test('a design of a later version is called so, stays, and comes as a file', () => visit('tablet', async (page, { context, origin }) => {
  await enter(page, 'ring.wall_mm', '7/8');
  await untilKept(page);
  const { key, text } = await lastRecord(page);
  const later = changed(text, (record) => { record.format = 99; });
  await page.goto(`${origin}/ringwright.css`);
  await putTexts(page, { [key]: later });
  const next = await newTab(context, origin);
  assert.match(await note(next, 'later'), /newer version of Ringwright.*stays as it is/);
  assert.equal(await next.locator('.notice[data-name="unreadable"]').count(), 0);
  await next.locator('.notice[data-name="later"] button').first().click();
  const file = await saved(next, () => next.locator('#aside-list li', { hasText: 'newer version' }).locator('button').click());
  assert.equal(file.bytes.toString(), later);
  assert.equal((await keptTexts(next))[key], later);
}, { expected: [/favicon/] }));

test('what a page from before left in the local storage is taken over, all of it', () => visit('tablet', async (page, { context, origin }) => {
  await enter(page, 'ring.wall_mm', '7/8');
  await enter(page, 'ring.wall_mm', '1');
  await untilKept(page);
  const texts = await keptTexts(page);
  const id = texts['last-open'] ?? '';
  const other = changed(texts[`design/${id}`] ?? '', (record) => { record.stamp = '9-x'; record.design.ring.wall_mm = 50.8; });
  await page.goto(`${origin}/ringwright.css`);
  const old = { ...texts, 'design/broken': '{"design', [`earlier/${id}/0000000001_2024-01-10T08:00:00.000Z`]: '{"design":{"form":1,"ring":{}}}' };
  await page.evaluate((entries) => {
    for (const [key, text] of Object.entries(entries)) localStorage.setItem(`ringwright/${key}`, text);
  }, old);
  await putTexts(page, Object.fromEntries(Object.keys(texts).map((key) => [key, null])));
  const next = await newTab(context, origin);
  assert.equal(await entered(next, 'ring.wall_mm'), '1');
  await note(next, 'unreadable');
  await next.click('#undo');
  assert.equal(await entered(next, 'ring.wall_mm'), '7/8', 'its undo list came along');
  await untilKept(next);
  assert.equal(await next.evaluate(() => Object.keys(localStorage).filter((key) => /design|undo|earlier/.test(key)).length), 0);
  assert.ok((await keptTexts(next))[`earlier/${id}/0000000001_2024-01-10T08:00:00.000Z`]);
  // A tab from before goes on writing there: that stands beside.
  await next.evaluate(([key, text]) => localStorage.setItem(key ?? '', text ?? ''), [`ringwright/design/${id}`, other]);
  await next.reload();
  await untilReady(next);
  const walls = Object.values(await keptDesigns(next)).map((each) => each.design.ring.wall_mm);
  assert.deepEqual(walls.sort((a, b) => a - b).map(Math.round), [22, 51]);
}, { expected: [/favicon/] }));

test('the last change of a page that is put away is there, though the database got no time', () => visit('tablet', async (page, { context, origin }) => {
  await enter(page, 'ring.wall_mm', '7/8');
  await untilKept(page);
  await page.evaluate(() => {
    IDBObjectStore.prototype.put = () => { throw new DOMException('too late', 'QuotaExceededError'); };
  });
  await enter(page, 'ring.wall_mm', '1');
  await page.evaluate(() => dispatchEvent(new Event('pagehide')));
  await page.goto('about:blank');
  const next = await newTab(context, origin);
  assert.equal(await entered(next, 'ring.wall_mm'), '1');
  await next.click('#undo');
  assert.equal(await entered(next, 'ring.wall_mm'), '7/8');
  await next.reload();
  await untilReady(next);
  assert.equal(await entered(next, 'ring.wall_mm'), '7/8', 'it came once');
  assert.equal(Object.keys(await keptDesigns(next)).length, 1);
}));

test('everything is written so that the browser waits for the disk', () => visit('tablet', async (page) => {
  await enter(page, 'ring.wall_mm', '7/8');
  await untilKept(page);
  const asked = await page.evaluate(() => Reflect.get(window, 'asked'));
  assert.ok(asked.length > 0);
  assert.deepEqual(asked.filter((/** @type {string} */ each) => each !== 'strict'), []);
}, {
  before: (context) => context.addInitScript(() => {
    const begin = IDBDatabase.prototype.transaction;
    /** @type {unknown[]} */
    const asked = [];
    Object.assign(window, { asked });
    IDBDatabase.prototype.transaction = function (stores, mode, options) {
      if (mode === 'readwrite') asked.push(options?.durability);
      return begin.call(this, stores, mode, options);
    };
  }),
}));

test('what is erased while the page is open is said, and the open design is kept again', () => visit('tablet', async (page, { context, origin }) => {
  await enter(page, 'ring.wall_mm', '7/8');
  await untilKept(page);
  await page.evaluate(() => new Promise((resolve) => {
    indexedDB.deleteDatabase('ringwright').onsuccess = resolve;
  }));
  await enter(page, 'ring.wall_mm', '1');
  assert.match(await note(page, 'erased'), /erased while the page was open/);
  await untilKept(page);
  const next = await newTab(context, origin);
  assert.equal(await entered(next, 'ring.wall_mm'), '1');
  await next.close();
  // As a browser does it when asked to clear what a site has kept.
  const browser = await context.newCDPSession(page);
  await page.locator('.notice[data-name="erased"] button').click();
  await browser.send('Storage.clearDataForOrigin', { origin, storageTypes: 'indexeddb,local_storage' });
  await note(page, 'erased');
  await untilKept(page);
  assert.equal(Object.keys(await keptDesigns(page)).length, 1, 'without a touch');
}));

test('an undo list that finds no room is shortened, and that is said', () => visit('tablet', async (page) => {
  for (const wall of ['1', '7/8', '5/8', '1/2']) await enter(page, 'ring.wall_mm', wall);
  await untilKept(page);
  assert.match(await note(page, 'given-up'), /Room on this device ran short/);
  assert.equal(await page.getAttribute('#kept-state', 'data-state'), 'kept');
}, {
  before: (context) => context.addInitScript(() => {
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function (text, key) {
      if (String(key).startsWith('undo/')) throw new DOMException('no room', 'QuotaExceededError');
      return put.call(this, text, key);
    };
  }),
}));

test('a design whose changes found no room is not left without asking', () => visit('tablet', async (page) => {
  await enter(page, 'ring.wall_mm', '1');
  await page.waitForSelector('#kept-state[data-state="not"]');
  assert.equal(await page.locator('#kept-state').innerText(), 'Not kept');
  await page.click('#designs-button');
  await page.click('#new-design');
  const file = await saved(page, () => page.click('#leave-file'));
  assert.equal(JSON.parse(file.bytes.toString()).ring.wall_mm, 25.4);
  await page.click('#leave-dialog [data-close]');
  await page.click('#designs-dialog [data-close]');
  assert.equal(await entered(page, 'ring.wall_mm'), '1');
}, {
  before: (context) => context.addInitScript(() => {
    IDBObjectStore.prototype.put = () => { throw new DOMException('no room', 'QuotaExceededError'); };
  }),
}));

for (const [name, call] of Object.entries(calls)) {
  test(`a stumble in ${name} is said once, and the rest goes on`, () => visit('tablet', async (page) => {
    await page.click('[data-place="vessel"]');
    await page.click('#starts [data-way="bowl"]');
    await page.click('[data-place="ring"]');
    await enter(page, 'ring.height_mm', '1');
    await page.evaluate((trapped) => Object.assign(document.documentElement.dataset, { trapped }), name);
    await page.click(call);
    assert.match(await note(page, 'not-shown'), /could not be computed.*work stays open/s);
    assert.equal(await page.locator('.notice').count(), await page.locator('.notice:not([data-name="not-shown"])').count() + 1);
    assert.equal(await page.evaluate(() => document.documentElement.dataset.trapped), '', 'it was called');
    assert.equal(await page.locator('main:visible').count(), 1);
    await page.click('[data-place="ring"]');
    assert.equal(await page.locator('.saw-figures').first().isVisible(), true);
    await enter(page, 'ring.height_mm', '2');
    assert.match(await page.locator('#list [data-key="row.strip_height"]').innerText(), /^Strip thickness\s*2/);
    await untilKept(page);
    await page.click(call);
    await page.click('[data-place="ring"]');
  }, {
    expected: [/stumbled|unreachable|console error/],
    before: (context) => context.addInitScript(stumbling),
  }));
}
