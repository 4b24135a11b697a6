// What else the piece could be: nine pictures, one of them taken by touch and taken back.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { saved } from './hands.mjs';
import { axeClean, fitsTheScreen, settled, visit } from './harness.mjs';

/** @typedef {import('./harness.mjs').Page} Page */

/** @param {Page} page */
async function openSheet(page) {
  await page.tap('#ways [data-way="lantern_vase"]');
  await page.locator('#variations summary').tap();
  await page.locator('.variation').nth(8).waitFor();
}

/** @param {Page} page */
const says = (page) => page.locator('.variation').allInnerTexts();

for (const screen of /** @type {const} */ (['tablet', 'phone'])) {
  test(`a variation is taken by touch and taken back on a ${screen}`, () => visit(screen, async (page) => {
    await openSheet(page);
    await fitsTheScreen(page);
    const nine = await says(page);
    assert.equal(new Set(nine).size, 9);
    const before = await page.locator('#unrolled').innerHTML();
    await page.locator('.variation').nth(2).tap();
    await axeClean(page);
    const differs = await page.locator('#variation-differs').innerText();
    assert.ok(nine[2]?.startsWith(differs.split('\n')[0] ?? '-'), differs);
    await page.tap('#variation-take');
    await settled(page);
    assert.notEqual(await page.locator('#unrolled').innerHTML(), before);
    await page.locator('#undo').click();
    await settled(page);
    assert.equal(await page.locator('#unrolled').innerHTML(), before);
    assert.ok(await page.locator('#undo').isDisabled(), 'it was one step');
  }));
}

test('the same nine come again, others when asked, nearer ones of one that pleases', () => visit('tablet', async (page) => {
  await openSheet(page);
  const nine = await says(page);
  await page.tap('#variation-others');
  await page.locator('.variation').nth(8).waitFor();
  assert.notDeepEqual(await says(page), nine);
  await page.locator('.variation').first().tap();
  await page.tap('#variation-more');
  await page.locator('.variation').nth(3).waitFor();
  assert.equal(await page.locator('#variation-reach').inputValue(), '10');
  assert.ok(await page.locator('#undo').isEnabled());
}));

test('one is kept as a design of its own, and the sheet is saved', () => visit('tablet', async (page) => {
  await openSheet(page);
  for (const [button, ending] of /** @type {const} */ ([['#variation-print', 'pdf'], ['#variation-svg', 'svg']])) {
    const file = await saved(page, () => page.tap(button));
    assert.match(file.name, new RegExp(`\\.${ending}$`));
    assert.ok(file.bytes.length > 20_000, `${file.bytes.length}`);
  }
  await page.locator('.variation').nth(4).tap();
  await page.tap('#variation-keep');
  await settled(page);
  assert.equal(await page.locator('#design-name').innerText(), 'Lantern vase: This one');
  await page.tap('#designs-button');
  await page.locator('#design-list').filter({ hasText: /Lantern vase/ }).waitFor();
}));
