// Strips of layers by touch: from the example vase light-dark-light strips, on the drawings,
// at their fields, at the bench and on paper, and taken back.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { beginWith, enter, entered, unfold } from './hands.mjs';
import { axeClean, fitsTheScreen, picture, settled, visit } from './harness.mjs';

/** @typedef {import('./harness.mjs').Page} Page */

const of = (/** @type {string} */ name, set = 0) => `vessel.slot_sets.${set}.${name}`;

/** What is drawn of the first set's strips. @param {Page} page */
const strips = (page) => page.locator('#band [data-name^="strip-0-"]').count();

/** Does what is offered with the layers. @param {Page} page @param {string} kind */
async function act(page, kind) {
  const button = page.locator(`#inlay-layer-acts [data-act="${kind}"]`);
  await button.scrollIntoViewIfNeeded();
  await button.tap();
  await button.page().waitForTimeout(100);
  await settled(page);
}

for (const screen of /** @type {const} */ (['tablet', 'phone'])) {
  test(`a set gets light, dark, light strips by touch on a ${screen}`, () => visit(screen, async (page) => {
    await beginWith(page, 'lantern_vase');
    await page.locator('nav [data-place="inlay"]').first().tap();
    await page.locator('#band svg').waitFor();
    const before = await strips(page);
    assert.ok(before > 0);
    await act(page, 'layer_strips');
    await page.locator('#inlay-layer-acts [data-act="fit_layers"]').waitFor();
    await page.getByText('Done: both sets of the zigzag: layers of strips').first().waitFor();
    // The whole strip, two layers on it, and its outline.
    assert.equal(await strips(page), 4 * before);
    const list = await page.locator('#inlay-list').innerText();
    assert.match(list, /Rip \d+ of /);
    assert.match(list, /Sticks of layers to glue up\s+\d/);
    await fitsTheScreen(page);
    await axeClean(page);
    await page.locator('#band').scrollIntoViewIfNeeded();
    await picture(page, `layered-band-${screen}`);
    await page.locator('#inlay-three').scrollIntoViewIfNeeded();
    await settled(page);
    await picture(page, `layered-three-${screen}`);
    // What does not come to the slot is said at the layer, and one act mends it.
    const middle = of('layers.1.thickness_mm');
    const fit = await entered(page, middle);
    await enter(page, middle, '3 mm');
    const message = page.locator(`[data-field-box="${middle}"] .field-message`);
    await message.waitFor();
    assert.match(await message.innerText(), /layers come to .* too thick/i);
    await message.scrollIntoViewIfNeeded();
    await picture(page, `layered-off-${screen}`);
    await act(page, 'fit_layers');
    assert.equal(await entered(page, middle), fit);
    assert.equal(await message.isVisible(), false);
    await act(page, 'plain_strips');
    assert.equal(await strips(page), before);
    await page.locator('#undo').click();
    await settled(page);
    assert.equal(await strips(page), 4 * before);
    // All of it undone, step by step.
    for (let steps = 0; steps < 4 && await strips(page) !== before; steps += 1) {
      await page.locator('#undo').click();
      await settled(page);
    }
    assert.equal(await strips(page), before);
  }));
}

test('layered strips have what the saw needs at the bench and on paper', () => visit('tablet', async (page) => {
  await beginWith(page, 'lantern_vase');
  await page.locator('nav [data-place="inlay"]').first().tap();
  await page.locator('#band svg').waitFor();
  await act(page, 'layer_strips');
  await page.locator('nav [data-place="bench"]').first().tap();
  await unfold(page);
  const step = page.locator('#bench-steps').getByText('Slot set 1: glue up the layered strips').first();
  await step.waitFor();
  await step.scrollIntoViewIfNeeded();
  await picture(page, 'layered-bench-tablet');
  await page.locator('nav [data-place="paper"]').first().tap();
  await page.locator('#sheet-inlay').first().waitFor();
  await page.locator('#sheet-inlay').first().scrollIntoViewIfNeeded();
  await picture(page, 'layered-paper-tablet');
}));
