// What can I make of these? Boards typed as a list become a bowl by touch, their cuts in view.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { axeClean, fitsTheScreen, settled, visit } from './harness.mjs';

/** @typedef {import('./harness.mjs').Page} Page */

const LIST = '2 x 6 x 48 x 7/8 hard maple; 4 x 36 x 1 walnut';

/** Looks until nothing more comes. @param {Page} page @param {string} shape */
async function look(page, shape) {
  await page.tap(`[data-make="${shape}"]`);
  await page.locator('#making-says', { hasNotText: 'Looking.' }).waitFor({ state: 'attached' });
}

for (const screen of /** @type {const} */ (['tablet', 'phone'])) {
  test(`two boards of maple and one of walnut become a bowl in five taps on a ${screen}`, () => visit(screen, async (page) => {
    await page.tap('#ways [data-way="boards"]');
    await page.fill('#boards-many-entry', LIST);
    await page.tap('#boards-many-form button');
    await settled(page);
    assert.match(await page.locator('#boards-many-says').innerText(), /^Read, thickness × width × length: 1: Maple, sugar, 7\/8 × 6 × 48 in, 2 of them; 2: Walnut, black, 4\/4 × 4 × 36 in\./);
    await look(page, 'bowl');
    const tiles = page.locator('#making-list .variation');
    assert.ok(await tiles.count() >= 2);
    const first = await tiles.first().innerText();
    assert.match(first, /^The largest that asks for no extra care\n.* in across, .* in high\./);
    assert.match(first, /Take 2 of board 1\. Board 2 of yours stays whole\./);
    assert.match(first, /Left over, the largest piece: .* × .* in, of board/);
    assert.match(first, /Bigger by 1\/2 in cannot be had of these boards\. The base: the strip is .* wide; the widest board is 6 in\./);
    await fitsTheScreen(page);
    await axeClean(page);
    // As large, and all three boards are used.
    const mixed = tiles.nth(1);
    assert.match(await mixed.innerText(), /^One ring of another board\n[^]*1 of Walnut, black\.\nTake 2 of board 1 and board 2\./);
    await mixed.tap();
    await settled(page);
    await page.locator('#boards-layouts .board-cut svg').first().waitFor();
    const cuts = await page.locator('#boards-layouts').innerText();
    assert.match(cuts, /Board 1, 1 of 2\n[^]*First saw .* in.* off the left end\. So short a piece[^]*The rest, .* in, and rip it:/);
    assert.match(cuts, /Board 1.*\n[^]*left over, the largest piece: .* × .* in[^]*Board 2/);
    assert.match(await page.locator('#boards-take').innerText(), /^Take 2 of board 1 and board 2\./);
    // It was one step, and the boards stay where it is taken back.
    await page.locator('#undo').click();
    await settled(page);
    assert.equal(await page.locator('#boards-list .board').count(), 2);
  }));
}

test('a line that cannot be read stays, and what cannot be made says why', () => visit('tablet', async (page) => {
  await page.tap('#ways [data-way="boards"]');
  await look(page, 'vase');
  assert.match(await page.locator('#making-says').innerText(), /^No boards are entered\./);
  const typed = '6 x 48 x 1 walnut; 6 x 48 walnut';
  await page.fill('#boards-many-entry', typed);
  await page.tap('#boards-many-form button');
  assert.match(await page.locator('#boards-many-says').innerText(), /^Line 2: 2 numbers\. Write its width/);
  assert.equal(await page.inputValue('#boards-many-entry'), typed);
  await page.fill('#boards-many-entry', '6 x 48 x 1/8 walnut');
  await page.tap('#boards-many-form button');
  await settled(page);
  await look(page, 'bowl');
  assert.match(await page.locator('#making-says').innerText(), /too thin for a ring/);
}));
