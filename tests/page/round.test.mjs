// Wide and narrow segments by touch: a ring shared two to one, its two settings on the
// panel, at the bench and on paper, and taken back.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { act, address, beginWith, enter, entered, saved, touchRing, unfold } from './hands.mjs';
import { axeClean, fitsTheScreen, picture, visit } from './harness.mjs';

for (const screen of /** @type {const} */ (['tablet', 'phone'])) {
  test(`a ring is shared two to one by touch on a ${screen}`, () => visit(screen, async (page) => {
    await page.tap('[data-place=vessel]');
    await beginWith(page, 'bowl');
    const plain = await address(page);
    await page.locator('#swatches button', { hasText: 'Purpleheart' }).tap();
    await touchRing(page, 4);
    await act(page, 'share_unevenly');
    assert.equal(await entered(page, 'vessel.rings.3.shares'), '2 1');
    // Sixteen segments, two to one: 8 of 30°, and 8 of 15°, half of which the saw is set to.
    const saw = await page.locator('#panel-saw').innerText();
    assert.match(saw, /Saw setting, wide\s+15°[\s\S]*Saw setting, narrow\s+7\.5°/);
    await fitsTheScreen(page);
    await axeClean(page);
    await picture(page, `round-${screen}`);
    await page.locator('#unrolled').scrollIntoViewIfNeeded();
    await picture(page, `round-unrolled-${screen}`);
    // What does not fit is said at its field, and what was typed stays.
    await enter(page, 'vessel.rings.3.shares', '0 1');
    await page.locator('[data-field-box="vessel.rings.3.shares"] .field-message').waitFor();
    await enter(page, 'vessel.rings.3.shares', '3:1');
    assert.equal(await entered(page, 'vessel.rings.3.shares'), '3 1');
    await act(page, 'share_evenly');
    assert.equal(await entered(page, 'vessel.rings.3.shares'), '');
    await page.locator('#undo').click();
    assert.equal(await entered(page, 'vessel.rings.3.shares'), '3 1');
    await page.locator('#undo').click();
    await page.locator('#undo').click();
    assert.equal(await address(page), plain);
  }));
}

test('wide and narrow ones have what the saw needs at the bench and on paper', () => visit('tablet', async (page) => {
  await page.tap('[data-place=vessel]');
  await beginWith(page, 'bowl');
  await touchRing(page, 4);
  await act(page, 'share_unevenly');
  await page.locator('nav [data-place="bench"]').first().tap();
  await unfold(page);
  await page.locator('#bench-steps').getByText('Saw setting, narrow').first().waitFor();
  await picture(page, 'round-bench-tablet');
  await page.locator('nav [data-place="paper"]').first().tap();
  await page.locator('[data-sheet="ring-4"]').check();
  const packet = await saved(page, () => page.click('#save-pdf'));
  assert.match(packet.name, /\.pdf$/);
}));
