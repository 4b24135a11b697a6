// The turner's own shop: entered once, new designs begin with it, and a design of another
// shop says so.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { address, enter, entered, openFold, saved } from './hands.mjs';
import { axeClean, fitsTheScreen, picture, untilReady, visit } from './harness.mjs';

/** The line of the shop in the fold of Ring. @param {import('playwright-core').Page} page */
const line = (page) => page.locator('#choices [data-shop]');

/** @param {import('playwright-core').Page} page */
async function begin(page) {
  await page.tap('#designs-button');
  await page.tap('#new-design');
}

for (const device of /** @type {const} */ (['tablet', 'phone'])) {
  test(`a shop is entered once, and new designs begin with it, on a ${device}`, () => visit(device, async (page) => {
    await openFold(page, 'choices');
    assert.ok(await line(page).isHidden(), 'nothing is other than usual');
    await enter(page, 'shop.kerf_mm', '3/32');
    await enter(page, 'shop.hold_back_mm', '5');
    assert.match(await line(page).innerText(), /^New designs begin with the usual kerf/);
    await fitsTheScreen(page);
    await picture(page, `shop-${device}`);
    await line(page).getByRole('button', { name: 'Keep this for my shop' }).tap();
    await page.locator('#step-says', { hasText: 'Kept: new designs begin with it.' }).waitFor();
    assert.ok(await line(page).isHidden());
    await begin(page);
    assert.equal(await entered(page, 'shop.kerf_mm'), '3/32');
    assert.equal(await entered(page, 'shop.hold_back_mm'), '5');
    // For this design alone.
    await enter(page, 'shop.kerf_mm', '1/16');
    assert.match(await line(page).innerText(), /^Other than in your shop: Kerf 1\/16 \(yours 3\/32\)\./);
    await axeClean(page);
    await page.reload();
    await untilReady(page);
    await begin(page);
    assert.equal(await entered(page, 'shop.kerf_mm'), '3/32', 'the shop is kept');
  }));
}

test('a design of another shop says so, and takes mine by a tap that undo takes back', () => visit('tablet', async (page, { origin }) => {
  await page.locator('#ways [data-way="lantern_vase"]').tap();
  await page.locator('#design-name', { hasText: 'Lantern vase' }).waitFor();
  const link = await address(page);
  await begin(page);
  await page.locator('#design-name', { hasText: 'Unnamed' }).waitFor();
  await openFold(page, 'choices');
  await enter(page, 'shop.kerf_mm', '3/32');
  await line(page).getByRole('button', { name: 'Keep this for my shop' }).tap();
  await page.locator('#step-says', { hasText: 'Kept' }).waitFor();
  const other = await page.context().newPage();
  await other.goto(`${origin}/${link}`);
  await untilReady(other);
  await other.locator('#design-name', { hasText: 'Lantern vase' }).waitFor();
  await other.click('[data-place="ring"]');
  if (!await other.locator('#choices').evaluate((own) => own instanceof HTMLDetailsElement && own.open)) await openFold(other, 'choices');
  await line(other).locator('p', { hasText: /^Other than in your shop: .*Kerf 1\/8 \(yours 3\/32\)/ }).waitFor();
  await line(other).getByRole('button', { name: 'Take my shop’s' }).click();
  assert.equal(await entered(other, 'shop.kerf_mm'), '3/32');
  assert.ok(await line(other).isHidden());
  await other.click('#undo');
  assert.equal(await entered(other, 'shop.kerf_mm'), '1/8');
}));

test('a kept shop is seen whole, saved as a file and taken on another device', () => visit('phone', async (page) => {
  await openFold(page, 'choices');
  await enter(page, 'shop.kerf_mm', '3/32');
  await line(page).getByRole('button', { name: 'Keep this for my shop' }).tap();
  await page.locator('#step-says', { hasText: 'Kept' }).waitFor();
  await page.tap('#designs-button');
  await page.locator('#own-shop summary').tap();
  await page.locator('#own-shop-list .row', { hasText: /Kerf\s*3\/32/ }).waitFor();
  await fitsTheScreen(page);
  await picture(page, 'own-shop-phone');
  await axeClean(page);
  const file = await saved(page, () => page.tap('#own-shop-save'));
  assert.match(file.name, /\.json$/);
  const { ringwright_shop: shop } = JSON.parse(file.bytes.toString());
  assert.ok(Math.abs(shop['shop.kerf_mm'] - 25.4 * 3 / 32) < 1e-9);

  await visit('tablet', async (other) => {
    await other.tap('#designs-button');
    await other.locator('#own-shop summary').tap();
    await other.locator('#own-shop-says', { hasText: /\S/ }).waitFor();
    assert.ok(await other.locator('#own-shop-save').isHidden(), 'there is none');
    /** @param {string} text */
    const takeFile = async (text) => {
      const chooser = other.waitForEvent('filechooser');
      await other.tap('#own-shop-open');
      await (await chooser).setFiles({ name: 'shop.json', mimeType: 'application/json', buffer: Buffer.from(text) });
    };
    for (const text of ['{', '[]', 'null', '{"ringwright_shop": null}', '{"ringwright_shop": 7}']) {
      await takeFile(text);
      await other.locator('#own-shop-note', { hasText: 'holds no shop' }).waitFor();
      assert.ok(await other.locator('#own-shop-save').isHidden(), text);
    }
    await takeFile(file.bytes.toString());
    await other.locator('#own-shop-note', { hasText: 'Kept: new designs begin with it.' }).waitFor();
    await other.locator('#own-shop-list .row', { hasText: /Kerf\s*3\/32/ }).waitFor();
    await other.tap('#new-design');
    assert.equal(await entered(other, 'shop.kerf_mm'), '3/32');
  });
}));
