// In a minute, by touch, from the example vase: a chevron ring that meets at its joints and a
// variation of the slots taken from the sheet, both on paper with all that the saw needs.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { act, beginWith, readText, saved, touchRing } from './hands.mjs';
import { fitsTheScreen, settled, visit } from './harness.mjs';

for (const screen of /** @type {const} */ (['tablet', 'phone'])) {
  test(`a chevron ring and varied slots come on paper by touch on a ${screen}`, () => visit(screen, async (page) => {
    await beginWith(page, 'lantern_vase');
    await touchRing(page, 11);
    await act(page, 'stripe');
    await act(page, 'meet_stripes');
    assert.match(await page.locator('#panel-list').innerText(), /Repeats from joint to joint\s+\d\s/);
    const striped = () => page.locator('#unrolled [data-name^="cell-10-"]').count();
    const stripes = await striped();
    const before = await page.locator('#unrolled').innerHTML();

    await page.tap('#panel-close');
    await page.locator('#variations summary').tap();
    // One whose slots are sawn otherwise, and whose rings are as they were.
    const isSawnOtherwise = (/** @type {string} */ says) => /^\d+ (pairs of |times \d )?slots /m.test(says)
      && !/Rings? |segments in each/.test(says.replace(/slots.*/g, ''));
    /** @type {string[]} */ let all = [];
    for (let asked = 0; asked < 6 && !all.some(isSawnOtherwise); asked += 1) {
      if (asked > 0) await page.tap('#variation-others');
      await page.locator('.variation').nth(8).waitFor();
      all = await page.locator('.variation').allInnerTexts();
    }
    const place = all.findIndex(isSawnOtherwise);
    assert.ok(place >= 0, all.join(' | '));
    await page.locator('.variation').nth(place).tap();
    await page.tap('#variation-take');
    await settled(page);
    assert.notEqual(await page.locator('#unrolled').innerHTML(), before);
    assert.equal(await striped(), stripes, 'the chevron stays');
    const said = /(?<count>\d+) (?:pairs of |times \d )?slots /.exec(all[place] ?? '');
    assert.ok(said, all[place]);

    await page.locator('nav [data-place="paper"]:visible').first().tap();
    await page.locator('#sheet-inlay').first().waitFor();
    await fitsTheScreen(page);
    const { bytes } = await saved(page, () => page.tap('#save-pdf'));
    const text = readText(bytes).replace(/\s+/g, ' ');
    for (const needed of [
      // The striped board, and its segments.
      /Rip \d+ of layer 1, /, /Striped boards to glue up/, /Clamps open over the layers/,
      /Board sawn, from square to the layers, at/, /From piece to piece along it/,
      /Segments from one board/, /Ring 11: glue up the striped board/, /The striped board, seen on its layers’ edges/,
      // The slots.
      /Slots and strips, 1: /, /Blade above the table/, /Gauge angle \d/, /From slot to slot \d/, /Strip thickness/,
      /Strip width/, /Strip length/, /Fence at least this high/, /Index strip, true to scale/, /Slot set 1/,
    ]) assert.match(text, needed);
    assert.match(text, new RegExp(`Slots and strips, 1: ${said.groups?.count} `));
  }));
}
