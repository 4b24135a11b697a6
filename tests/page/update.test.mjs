// A new version comes whole or not at all, whatever the server answers; and a page that does not come up says so
// and leaves a way out.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { untilReady, visit } from './harness.mjs';
import { enter, entered, note, openFile, putTexts, saved, untilKept } from './hands.mjs';
import { brokenUpdates } from './misfortunes.mjs';
import { withOwnServer } from './own_server.mjs';

/** @typedef {import('playwright-core').Page} Page */
/** @typedef {import('./browser.mjs').Fault} Fault */

const faults = brokenUpdates();

/**
 * Looks for a new version, and tells what becomes of it.
 * @param {Page} page
 */
function update(page) {
  return page.evaluate(async () => {
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
 * Which version each of the page's scripts is.
 * @param {Page} page
 */
function versions(page) {
  return page.evaluate(async () => {
    const found = new Set([document.documentElement.dataset.version ?? 'first']);
    for (const link of document.querySelectorAll('link[rel="modulepreload"]')) {
      const text = await (await fetch(/** @type {HTMLLinkElement} */ (link).href)).text();
      found.add(/\/\/ version (.*)$/.exec(text)?.[1] ?? 'first');
    }
    return [...found];
  });
}

/** Comes to where the worker serves the page. @param {Page} page */
async function served(page) {
  await page.waitForSelector('html[data-offline]');
  await page.reload();
  await untilReady(page);
}

const ready = /** @param {Page} page */ (page) => (
  page.locator('.notice[data-name="new-version"] button', { hasText: 'Change to it now' }));

test('a new version is offered, and changes nothing until it is asked for', () => withOwnServer(
  ({ origin, publish, expected }) => visit('tablet', async (page) => {
    await served(page);
    await enter(page, 'ring.outside_diameter_mm', '7 1/2');
    await publish('next');
    assert.equal(await update(page), 'installed');
    assert.match(await note(page, 'new-version'), /new version.*ready/);
    await enter(page, 'ring.segment_count', '20');
    assert.deepEqual(await versions(page), ['first']);
    await ready(page).click();
    await page.waitForSelector('html[data-version="next"]');
    await untilReady(page);
    assert.deepEqual(await versions(page), ['next']);
    assert.equal(await entered(page, 'ring.segment_count'), '20', 'the work came along');
    assert.equal(await entered(page, 'ring.outside_diameter_mm'), '7 1/2');
  }, { address: `${origin}/`, expected }),
));

test(`${faults.length} broken updates are never offered, and the next whole one is`, () => withOwnServer(
  ({ origin, publish, expected, faults: own }) => visit('tablet', async (page) => {
    await served(page);
    await enter(page, 'ring.segment_count', '20');
    let count = 0;
    for (const [what, fault] of faults) {
      count += 1;
      await publish(`n${count}`);
      own.fault = fault;
      const became = await update(page);
      assert.ok(['redundant', 'nothing new'].includes(became), `${what}: ${became}`);
      own.fault = null;
    }
    assert.equal(await ready(page).count(), 0);
    await page.reload();
    await untilReady(page);
    assert.deepEqual(await versions(page), ['first']);
    // The last one again, whole, with the very same worker.
    await enter(page, 'ring.segment_count', '21');
    assert.equal(await update(page), 'installed');
    await ready(page).click();
    await page.waitForSelector(`html[data-version="n${count}"]`);
    await untilReady(page);
    assert.deepEqual(await versions(page), [`n${count}`]);
    assert.equal(await entered(page, 'ring.segment_count'), '21');
  }, { address: `${origin}/`, expected: [...expected, /console error/] }),
));

test('a version that does not come up says so, hands out the designs, and the one before comes back', () => withOwnServer(
  ({ origin, publish, expected }) => visit('tablet', async (page, { context }) => {
    await served(page);
    await enter(page, 'ring.segment_count', '20');
    await untilKept(page);
    // Whole, as it was meant, and still of no use.
    await publish('bad', (path, text) => (path === './vessel.js' ? `nothing.at.all();\n${text}` : text));
    assert.equal(await update(page), 'installed');
    await ready(page).click();
    await page.waitForSelector('html[data-version="bad"] #no-start:not([hidden])');
    const file = await saved(page, () => page.click('#start-save'));
    await page.click('#start-before');
    await page.waitForSelector('html:not([data-version])[data-ready="yes"]');
    assert.deepEqual(await versions(page), ['first']);
    assert.equal(await entered(page, 'ring.segment_count'), '20');
    await page.reload();
    await untilReady(page);
    assert.deepEqual(await versions(page), ['first'], 'and stays');
    // What was handed out opens again, all of it.
    await putTexts(page, Object.fromEntries(Object.keys(JSON.parse(file.bytes.toString()).ringwright_kept).map((key) => [key, null])));
    const other = await context.newPage();
    await other.goto(`${origin}/`);
    await untilReady(other);
    assert.equal(await entered(other, 'ring.segment_count'), '12');
    await openFile(other, file.bytes.toString(), file.name);
    await note(other, 'beside');
    assert.equal(await entered(other, 'ring.segment_count'), '20');
    // The next good one is offered as ever, or taken at once where nothing was touched since the last wish.
    await publish('good', (_, text) => text.replace('nothing.at.all();\n', ''));
    await page.evaluate(() => void navigator.serviceWorker.ready.then((registration) => registration.update()));
    const good = page.waitForSelector('html[data-version="good"][data-ready="yes"]');
    await Promise.race([good, ready(page).click().catch(() => undefined)]);
    await good;
  }, { address: `${origin}/`, expected: [...expected, /nothing is not defined|console error/] }),
));

/** @type {[string, Fault][]} */
const starts = [
  ['is missing', (_, response) => {
    response.writeHead(404).end();
    return true;
  }],
  ['is cut in half', (_, response, file) => {
    response.setHeader('content-type', 'text/javascript').end(file.subarray(0, file.length / 2));
    return true;
  }],
  ['does not answer', () => true],
];

for (const [what, fault] of starts) {
  for (const path of ['/main.js', '/vessel.js', '/ringwright_bg.wasm']) {
    test(`a first visit where ${path} ${what} is told within seconds, and starts when that is over`, () => withOwnServer(
      async ({ origin, faults: own, expected }) => {
        own.fault = (asked, response, file) => asked === path && fault(asked, response, file);
        await visit('tablet', async (page) => {
          await page.goto(`${origin}/`, { waitUntil: 'commit' });
          await page.locator('#no-start:not([hidden])').waitFor({ timeout: 10_000 });
          assert.match(await page.locator('#no-start').innerText(), /could not start.*is untouched/);
          await page.click('#start-save');
          await page.locator('#start-nothing:not([hidden])').waitFor();
          own.fault = null;
          await page.click('#start-anew');
          await untilReady(page);
          assert.equal(await page.locator('#no-start').isVisible(), false);
        }, { expected: [...expected, /console (error|warning)|uncaught/] });
      },
    ));
  }
}
