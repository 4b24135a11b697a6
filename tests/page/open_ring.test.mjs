/** A ring with air between its segments: told how it rests and by which plate it is set, and glued on one by one. */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { beginWith, field, touchRing, untilKept } from './hands.mjs';
import { fitsTheScreen, visit } from './harness.mjs';

/** @typedef {import('playwright-core').Page} Page */

/** What stands at the bench, folded or not. @param {Page} page */
async function allText(page) {
  await page.locator('#bench-work').waitFor();
  return page.locator('#bench').evaluate((bench) => bench.textContent ?? '');
}

for (const screen of /** @type {const} */ (['tablet', 'phone'])) {
  test(`a ring is opened, told by its panel and set one by one at the bench: ${screen}`, () => visit(screen, async (page) => {
    await beginWith(page, 'vase');
    await touchRing(page, 3);
    await field(page, 'vessel.rings.2.between').selectOption('gap');
    await page.locator('#panel-list', { hasText: 'Rests on each of two below, at least' }).waitFor();
    const list = await page.innerText('#panel-list');
    assert.match(list, /Air between segments, outside/);
    assert.match(list, /Index plate\s+24 holes, every 3rd/);
    await fitsTheScreen(page);
    await untilKept(page);
    await page.click('[data-place=bench]');
    const steps = await allText(page);
    assert.match(steps, /Ring 3: glue its segments on ring \d, one by one/);
    assert.doesNotMatch(steps, /Ring 3: dry-fit and glue up/);
    await page.reload();
    await page.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
    assert.match(await allText(page), /Ring 3: glue its segments on/);
  }));
}
