/** The turner's shelf: laid on, taken for a piece, cut, and there again in another tab and after a reload. */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { openFold, untilKept } from './hands.mjs';
import { axeClean, fitsTheScreen, visit } from './harness.mjs';

/** @typedef {import('playwright-core').Page} Page */

/** @param {Page} page */
async function openShelf(page) {
  await page.click('[data-place=wood]');
  if (!await page.locator('#shelf-entry').isVisible()) await openFold(page, 'shelf');
}

/** @param {Page} page @param {string} text */
async function lay(page, text) {
  await page.fill('#shelf-entry', text);
  await page.click('#shelf-form button[type=submit]');
}

/** @param {Page} page */
function rows(page) {
  return page.locator('#shelf-rows > li .about').allInnerTexts();
}

/** @param {Page} page @param {number} count */
async function hasRows(page, count) {
  await page.waitForFunction((wanted) => document.querySelectorAll('#shelf-rows > li').length === wanted, count);
}

const BOARDS = '3 x 6 x 96 x 1 maple\n2 x 5 x 40 x 3/4 walnut planed';

for (const screen of /** @type {const} */ (['tablet', 'phone'])) {
  test(`boards are laid on the shelf, taken for a bowl, and what is left comes back: ${screen}`, () => visit(screen, async (page) => {
    await page.click('[data-place=vessel]');
    await page.click('#starts [data-way=bowl]');
    await openShelf(page);
    assert.equal(await page.locator('#shelf-cut').isVisible(), false);
    await lay(page, BOARDS);
    await hasRows(page, 2);
    const [maple] = await rows(page);
    assert.match(maple ?? '', /^Maple.*4\/4 × 6 × 96 in, 3 of them/);
    // Taken for the piece: its list has them, and they are looked through.
    await page.locator('#shelf-rows > li').first().getByRole('button', { name: /^Take/ }).click();
    await page.locator('#shelf-rows .about .quiet', { hasText: /^for this piece$/ }).waitFor();
    await page.locator('#boards-list > details').first().waitFor();
    await page.locator('#boards-bound', { hasText: /least possible|fewer/ }).waitFor({ timeout: 60_000 });
    await untilKept(page);
    await axeClean(page);
    await fitsTheScreen(page);
    await page.locator('#shelf-cut').click();
    await page.locator('#shelf-says', { hasText: /^Taken off the shelf: \d+ boards?\. Laid on it: [1-9]\d* offcuts?\.$/ }).waitFor();
    const after = await rows(page);
    assert.ok(after.some((row) => /left of Piece 10 in across/.test(row)), after.join('; '));
    // Taken back, and cut again: the same.
    await page.click('#shelf-undo');
    await hasRows(page, 2);
    await page.locator('#shelf-cut').click();
    await hasRows(page, after.length);
    assert.deepEqual(await rows(page), after);
    await page.reload();
    await page.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
    await openShelf(page);
    await hasRows(page, after.length);
    assert.deepEqual(await rows(page), after);
  }));
}

test('two tabs lay boards on one shelf, and two pieces are told that they want the same', () => visit('tablet', async (page) => {
  await openShelf(page);
  await lay(page, '2 x 6 x 48 x 1 ash');
  await hasRows(page, 1);
  const other = await page.context().newPage();
  await other.goto(page.url());
  await other.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
  await openShelf(other);
  await lay(other, '4 x 36 x 1 walnut');
  await hasRows(other, 2);
  // This tab has not looked since, and loses nothing of it.
  await lay(page, '5 x 20 x 1 maple');
  await hasRows(page, 3);
  await page.locator('#shelf-rows > li', { hasText: 'Ash' }).getByRole('button', { name: /^Take/ }).click();
  await page.locator('#shelf-rows .about .quiet', { hasText: /^for this piece$/ }).waitFor();
  await untilKept(page);
  await page.click('#designs-button');
  await page.click('#new-design');
  await openShelf(page);
  await page.locator('#shelf-rows > li', { hasText: /for Ring of/ }).waitFor();
  await page.locator('#shelf-rows > li', { hasText: 'Ash' }).getByRole('button', { name: /^Take/ }).click();
  await page.locator('#shelf-says', { hasText: /^It was meant for Ring of .*, whose list still has it\.$/ }).waitFor();
}));

test('what cannot be read is told and stays, and a spoiled shelf is put aside', () => visit('tablet', async (page) => {
  await openShelf(page);
  await lay(page, '4 x maple');
  await page.locator('#shelf-says', { hasText: /\S/ }).waitFor();
  assert.equal(await page.inputValue('#shelf-entry'), '4 x maple');
  await lay(page, BOARDS);
  await hasRows(page, 2);
  await page.evaluate(() => new Promise((resolve, reject) => {
    const request = indexedDB.open('ringwright');
    request.onerror = reject;
    request.onsuccess = () => {
      const entries = request.result.transaction('entries', 'readwrite').objectStore('entries');
      entries.put('{"boards":[{"board":3}', 'board-shelf').onsuccess = () => {
        request.result.close();
        resolve(null);
      };
    };
  }));
  await page.reload();
  await page.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
  await openShelf(page);
  await hasRows(page, 0);
  await lay(page, '4 x 36 x 1 walnut');
  await hasRows(page, 1);
  await page.locator('#shelf-says', { hasText: /could not be read/ }).waitFor();
}));
