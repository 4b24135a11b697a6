// The design on its way: as a link, a code, a sheet of paper; without a network; from the
// single file on disk; and across a change of version.

import assert from 'node:assert/strict';
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import decode from 'jsqr';
import { PNG } from 'pngjs';
import { builtFolder, settled, singleFileAddress, startServer, untilReady, visit } from './harness.mjs';
import { address, chooseUnit, enter, entered, field, keptDesigns, near, note, openFile, read, saved } from './hands.mjs';

/** @typedef {import('playwright-core').Page} Page */
/** @typedef {import('playwright-core').BrowserContext} Context */

/**
 * Opens an address in a browser that has never seen the page.
 * @param {Page} page
 * @param {string} link
 * @param {(page: Page) => Promise<void>} work
 */
async function elsewhere(page, link, work) {
  const context = await page.context().browser()?.newContext({ locale: 'en-US' });
  assert.ok(context);
  try {
    const other = await context.newPage();
    await other.goto(link);
    await untilReady(other);
    await work(other);
  } finally {
    await context.close();
  }
}

/** A small ring that differs from the one that every page starts with. @param {Page} page */
async function makeOwn(page) {
  await enter(page, 'ring.outside_diameter_mm', '7 1/2');
  await enter(page, 'ring.segment_count', '16');
}

/**
 * A server with a copy of the page of its own, which can be made a newer version.
 * @param {(own: { origin: string, publish: () => Promise<void>, expected: RegExp[] }) => Promise<void>} work
 */
async function withOwnServer(work) {
  const folder = await mkdtemp(join(tmpdir(), 'ringwright-page-'));
  await cp(builtFolder, folder, { recursive: true });
  const server = await startServer(folder);
  const publish = async () => {
    const worker = join(folder, 'sw.js');
    const text = await readFile(worker, 'utf8');
    const newer = text.replace(/(VERSION = ')/, '$1next-');
    assert.notEqual(newer, text);
    await writeFile(worker, newer);
    const page = join(folder, 'index.html');
    await writeFile(page, (await readFile(page, 'utf8')).replace('<html ', '<html data-version="next" '));
  };
  try {
    await work({ origin: server.origin, publish, expected: [new RegExp(`^asked another place: ${server.origin}`)] });
  } finally {
    await server.stop();
    await rm(folder, { recursive: true });
  }
}

for (let i=0;i<12;i++) test('a new version is offered, and changes nothing until it is asked for', () => withOwnServer(
  ({ origin, publish, expected }) => visit('tablet', async (page) => {
    await note(page, 'offline');
    await page.reload();
    await untilReady(page);
    await makeOwn(page);
    await publish();
    await page.evaluate(async () => (await navigator.serviceWorker.ready).update());
    assert.match(await note(page, 'new-version'), /new version.*ready/);
    await enter(page, 'ring.segment_count', '20');
    assert.equal(await page.getAttribute('html', 'data-version'), null);
    await page.locator('.notice[data-name="new-version"] button', { hasText: 'Change to it now' }).click();
    page.on('framenavigated', f=>console.log('nav', f.url().slice(0,70))); await page.waitForTimeout(1500); console.log(await page.evaluate(async()=>{const r=await navigator.serviceWorker.ready; return JSON.stringify([r.installing?.state,r.waiting?.state,r.active?.state, await caches.keys(), document.documentElement.outerHTML.slice(0,80), document.getElementById('notices').innerText])})); await page.waitForSelector('html[data-version="next"]',{timeout:3000});
    await untilReady(page);
    assert.equal(await entered(page, 'ring.segment_count'), '20', 'the work came along');
    assert.equal(await entered(page, 'ring.outside_diameter_mm'), '7 1/2');
  }, { address: `${origin}/`, expected }),
));

