// Striped segments by touch: from the example vase a chevron ring that meets at its joints,
// on the drawings, at the bench and on paper, and taken back.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { act, beginWith, enter, entered, field, touchRing, unfold } from './hands.mjs';
import { axeClean, fitsTheScreen, picture, settled, visit } from './harness.mjs';

/** @typedef {import('./harness.mjs').Page} Page */

/** What is drawn of the ring unrolled: its cells and the stripes on them. @param {Page} page */
const unrolled = (page) => page.locator('#unrolled [data-name^="cell-10-"]').count();

for (const screen of /** @type {const} */ (['tablet', 'phone'])) {
  test(`a chevron ring is made to meet by touch on a ${screen}`, () => visit(screen, async (page) => {
    await beginWith(page, 'lantern_vase');
    const before = await unrolled(page);
    await touchRing(page, 11);
    await act(page, 'stripe');
    assert.notEqual(await unrolled(page), before);
    assert.equal(await entered(page, 'vessel.rings.10.stripes.laid'), 'chevron');
    const begun = await entered(page, 'vessel.rings.10.stripes.slant_deg');
    await act(page, 'meet_stripes');
    assert.notEqual(await entered(page, 'vessel.rings.10.stripes.slant_deg'), begun);
    const list = await page.locator('#panel-list').innerText();
    assert.match(list, /Repeats from joint to joint\s+\d\s/);
    assert.match(list, /Rip \d+ of layer 1, /);
    await fitsTheScreen(page);
    await axeClean(page);
    await picture(page, `stripe-${screen}`);
    await page.locator('#panel-acts').scrollIntoViewIfNeeded();
    await picture(page, `stripe-acts-${screen}`);
    // What does not fit is said at its field, and nothing is lost.
    await enter(page, 'vessel.rings.10.stripes.layers.0.thickness_mm', '0');
    await page.locator('[data-field-box="vessel.rings.10.stripes.layers.0.thickness_mm"] .field-message').waitFor();
    assert.notEqual(await unrolled(page), before);
    await page.locator('#unrolled').scrollIntoViewIfNeeded();
    await picture(page, `stripe-unrolled-${screen}`);
    await act(page, 'plain');
    assert.equal(await unrolled(page), before);
    await page.locator('#undo').click();
    await settled(page);
    assert.notEqual(await unrolled(page), before);
    // Of one wood nothing is seen of them: the ground is that wood.
    const first = await entered(page, 'vessel.rings.10.stripes.layers.0.wood');
    await field(page, 'vessel.rings.10.stripes.layers.1.wood').selectOption(first);
    await settled(page);
    assert.equal(await unrolled(page), 2 * before);
  }));
}

test('a striped ring has what the saw needs at the bench and on paper', () => visit('tablet', async (page) => {
  await beginWith(page, 'lantern_vase');
  await settled(page);
  await touchRing(page, 11);
  await act(page, 'stripe');
  await act(page, 'meet_stripes');
  await page.locator('nav [data-place="bench"]').first().tap();
  await unfold(page);
  await page.locator('#bench-steps').getByText('Ring 11: glue up the striped board').first().waitFor();
  await picture(page, 'stripe-bench-tablet');
  await page.locator('nav [data-place="paper"]').first().tap();
  await picture(page, 'stripe-paper-tablet');
}));
