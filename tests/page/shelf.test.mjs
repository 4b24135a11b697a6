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
  await page.locator('#shelf-says', { hasText: /^It was meant for Ring of .*, which still has it\.$/ }).waitFor();
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

for (const screen of /** @type {const} */ (['tablet', 'phone'])) {
  test(`glued rings on the shelf become a bowl, the one left over stays there: ${screen}`, () => visit(screen, async (page) => {
    const outside = (/** @type {number} */ ring) => page.inputValue(`#glued-rows [data-key="vessel.rings.${ring}.measured.outside_diameter_mm"]`);
    await openShelf(page);
    const sizes = ['190 x 140', '127 x 76', '222 x 178', '165 x 114', '229 x 190', '76 x 51', '210 x 159', '146 x 95'];
    await lay(page, sizes.map((size) => `ring ${size.replaceAll(/\d+/g, '$& mm')} x 19 mm, 12 segments, ${size === '76 x 51' ? 'ash' : 'maple'}`).join('\n'));
    await hasRows(page, sizes.length);
    await page.fill('#shelf-find', 'ash');
    await hasRows(page, 1);
    await page.fill('#shelf-find', '');
    await page.selectOption('#shelf-order', 'longest');
    assert.match((await rows(page))[0] ?? '', /^9 .*outside/);
    const paper = page.waitForEvent('download');
    await page.click('#shelf-print');
    assert.equal((await paper).suggestedFilename(), 'Your shelf.pdf');
    await axeClean(page);
    await fitsTheScreen(page);
    await page.click('[data-place=vessel]');
    await page.click('#starts [data-way=glued]');
    await page.locator('#ring-shelf-now', { hasText: '8 glued rings.' }).waitFor();
    await openFold(page, 'ring-shelf');
    await page.click('#ring-shelf-all');
    await page.locator('#ring-shelf-rows .quiet', { hasText: /for this piece$/ }).nth(7).waitFor();
    await openFold(page, 'gathering');
    await page.click('[data-gather=bowl]');
    await page.waitForFunction(() => document.querySelector('#gathering-says')?.textContent === '', null, { timeout: 60_000 });
    await page.locator('#gathering-list .variation', { hasText: 'Of these rings alone' }).click();
    await page.click('#gathering-leave');
    await page.locator('#gathering-says', { hasText: 'They lie on your shelf.' }).waitFor();
    assert.equal(await page.locator('#ring-shelf-rows > li').count(), 8);
    assert.equal(await page.locator('#ring-shelf-rows .quiet', { hasText: /for this piece$/ }).count(), 7);
    await untilKept(page);
    await page.reload();
    await page.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
    if (!await page.locator('#ring-shelf-rows > li').first().isVisible()) await openFold(page, 'ring-shelf');
    await fitsTheScreen(page);
    await page.click('#ring-shelf-glued');
    await page.locator('#ring-shelf-says', { hasText: /^Taken off the shelf: 7 glued rings\.$/ }).waitFor();
    const left = await page.locator('#ring-shelf-rows .about').allInnerTexts();
    assert.equal(left.length, 1);
    assert.match(left[0] ?? '', /^3 .*outside, 2 .*inside/);
    await page.click('#ring-shelf-undo');
    await page.locator('#ring-shelf-rows > li').nth(7).waitFor();
  }));
}
