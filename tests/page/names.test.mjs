// Names of woods as people type them: by touch, by keys, and where none or several fit.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { axeClean, fitsTheScreen, picture, settled, visit } from './harness.mjs';
import { entered, field, openFold } from './hands.mjs';

/** @typedef {import('playwright-core').Page} Page */

/** The names in the list, from above. @param {Page} page */
function offered(page) {
  return page.locator('#wood-offers li span:nth-child(2)').allInnerTexts();
}

/** The wood that is painted with. @param {Page} page */
function inHand(page) {
  return page.locator('#swatches [aria-pressed="true"] strong').innerText();
}

/** @param {Page} page */
async function openBowl(page) {
  await page.click('[data-place="vessel"]');
  await page.click('#starts [data-way="bowl"]');
}

test('a wood is added by touch by a part of its name, and is the one to paint with', () => visit('phone', async (page) => {
  await openBowl(page);
  const entry = page.locator('#wood-entry');
  await entry.tap();
  assert.ok((await offered(page)).length > 80, 'all woods are there to choose from');
  await entry.pressSequentially('wal');
  assert.deepEqual(await offered(page), ['Walnut, black']);
  await picture(page, 'names-phone');
  await page.locator('#wood-offers li').tap();
  assert.equal(await inHand(page), 'Walnut, black');
  assert.equal(await entry.inputValue(), '');
  assert.ok(await page.locator('#wood-offers').isHidden());
  await fitsTheScreen(page);
}));

test('the list is worked by keys, and named for a screen reader', () => visit('tablet', async (page) => {
  await openBowl(page);
  const entry = page.locator('#wood-entry');
  await entry.pressSequentially('soft maple');
  assert.deepEqual(await offered(page), ['Maple, red (soft)', 'Maple, silver']);
  assert.equal(await entry.getAttribute('role'), 'combobox');
  assert.equal(await entry.getAttribute('aria-expanded'), 'true');
  assert.equal(await page.locator('#wood-offers [aria-selected="true"]').count(), 0, 'none of several is chosen');
  await entry.press('ArrowDown');
  await entry.press('ArrowDown');
  const active = await entry.getAttribute('aria-activedescendant');
  assert.equal(await page.locator(`#${active}`).innerText(), 'Maple, silver');
  await axeClean(page);
  await entry.press('Escape');
  assert.equal(await entry.getAttribute('aria-expanded'), 'false');
  assert.equal(await entry.inputValue(), 'soft maple', 'nothing typed is lost');
  await entry.press('ArrowDown');
  await entry.press('ArrowDown');
  await entry.press('Enter');
  assert.equal(await inHand(page), 'Maple, red (soft)');
  await entry.pressSequentially('padouk');
  await entry.press('Enter');
  assert.equal(await inHand(page), 'Padauk, African');
  await page.click('#undo');
  assert.equal(await page.locator('#swatches button').count(), 3);
}));

test('removing says which wood and what becomes of its pieces', () => visit('tablet', async (page) => {
  await openBowl(page);
  await page.locator('#wood-entry').pressSequentially('walnut');
  await page.press('#wood-entry', 'Enter');
  assert.equal(await page.innerText('#wood-remove'), 'Remove Walnut, black: nothing is of it');
  await page.click('[data-pattern="all"]');
  assert.ok(await page.locator('#wood-remove').isHidden(), 'a wood that is laid is put down');
  await page.locator('#swatches .swatch', { hasText: 'Walnut' }).click();
  assert.match(await page.innerText('#wood-remove'), /^Remove Walnut, black: its \d+ pieces become Maple, sugar$/);
  await page.click('#wood-remove');
  assert.deepEqual(await page.locator('#swatches strong').allInnerTexts(), ['Maple, sugar', 'Purpleheart']);
  assert.ok(await page.locator('#wood-remove').isHidden(), 'no wood is in hand');
  await page.locator('#swatches .swatch').first().click();
  await page.click('#wood-remove');
  assert.deepEqual(await page.locator('#swatches strong').allInnerTexts(), ['Purpleheart']);
  assert.ok(await page.locator('#wood-remove').isHidden(), 'the only wood stays');
}));

test('a name that several woods have, or none, is asked about once', () => visit('tablet', async (page) => {
  await openFold(page, 'choices');
  const wood = field(page, 'ring.wood');
  await wood.fill('maple');
  await wood.press('Enter');
  const dialog = page.locator('#wood-dialog');
  await dialog.waitFor();
  assert.equal(await page.locator('#wood-choices button').count(), 5);
  await page.locator('#wood-choices button', { hasText: 'Maple, sugar' }).click();
  assert.equal(await entered(page, 'ring.wood'), 'Maple, sugar');
  await wood.fill('Pink ivory');
  await wood.press('Tab');
  await dialog.waitFor();
  await axeClean(page);
  await picture(page, 'names-question');
  await page.locator('#wood-like').pressSequentially('pear');
  await page.click('#wood-take-own');
  assert.ok(await page.locator('#wood-like-says').isVisible(), 'there is no such wood to be like');
  await page.fill('#wood-like', 'cherry');
  await page.press('#wood-like', 'Enter');
  assert.equal(await page.inputValue('#wood-like'), 'Cherry, black');
  await page.click('#wood-take-own');
  assert.ok(await dialog.isHidden());
  assert.equal(await entered(page, 'ring.wood'), 'Pink ivory');
  await page.click('[data-place="wood"]');
  assert.equal(await entered(page, 'woods.0.like'), 'Cherry, black');
  // Known from now on.
  await page.click('[data-place="ring"]');
  await wood.fill('walnut');
  await wood.press('Enter');
  assert.equal(await entered(page, 'ring.wood'), 'Walnut, black');
  await wood.fill('pink');
  await wood.press('Enter');
  assert.equal(await entered(page, 'ring.wood'), 'Pink ivory');
  await settled(page);
  assert.ok(await dialog.isHidden());
  // The name and what it is like are one step.
  for (let step = 0; step < 3; step += 1) await page.click('#undo');
  assert.equal(await entered(page, 'ring.wood'), 'Maple, sugar');
}));
