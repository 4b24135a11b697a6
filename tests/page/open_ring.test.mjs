/**
 * Rings with air between their segments: told how they rest and by which plate they are set,
 * opened alike up a wall, turned on as a spiral, and glued on one by one.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { act, beginWith, enter, entered, field, touchRing, untilKept } from './hands.mjs';
import { fitsTheScreen, visit } from './harness.mjs';

/** @typedef {import('playwright-core').Page} Page */

/** What stands at the bench, folded or not. @param {Page} page */
async function allText(page) {
  await page.locator('#bench-work').waitFor();
  return page.locator('#bench').evaluate((bench) => bench.textContent ?? '');
}

/** Waits until the panel tells something. @param {Page} page @param {string | RegExp} text */
function tells(page, text) {
  return page.locator('#panel-list', { hasText: text }).waitFor();
}

for (const screen of /** @type {const} */ (['tablet', 'phone'])) {
  test(`a ring is opened, told by its panel and set one by one at the bench: ${screen}`, () => visit(screen, async (page) => {
    await beginWith(page, 'vase');
    await touchRing(page, 3);
    await field(page, 'vessel.rings.2.between').selectOption('gap');
    await tells(page, 'Rests on wood below along');
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

  test(`a wall is opened by an angle, made alike and turned as a spiral: ${screen}`, () => visit(screen, async (page) => {
    await beginWith(page, 'vase');
    await touchRing(page, 3);
    await field(page, 'vessel.rings.2.between').selectOption('gap');
    await field(page, 'vessel.rings.2.gap_by').selectOption('by_share');
    await enter(page, 'vessel.rings.2.gap_pct', '20');
    await tells(page, /Air between segments, outside\s*20/);
    // Nothing is left of a segment whose gap is as wide as the way to the next.
    await enter(page, 'vessel.rings.2.gap_pct', '100');
    await page.getByText('leaves nothing of a segment').locator('visible=true').first().waitFor();
    await field(page, 'vessel.rings.2.gap_by').selectOption('by_angle');
    await enter(page, 'vessel.rings.2.gap_deg', '4');
    assert.equal(await field(page, 'vessel.rings.2.spacer_mm').isVisible(), false);
    await act(page, 'open_above');
    await enter(page, 'vessel.rings.2.spiral_deg', '10');
    await touchRing(page, 4);
    assert.equal(await entered(page, 'vessel.rings.3.gap_deg'), '4');
    await tells(page, /Turned on from the ring below\s*10/);
    await tells(page, /from upright outside, to the right/);
    await fitsTheScreen(page);
    await untilKept(page);
    await page.reload();
    await page.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
    await touchRing(page, 3);
    assert.equal(await entered(page, 'vessel.rings.2.spiral_deg'), '10');
  }));

  test(`the open example is picked, seen, made and printed: ${screen}`, () => visit(screen, async (page) => {
    await beginWith(page, 'lattice_vase');
      await touchRing(page, 6);
    await tells(page, 'Turned on from the ring below');
    await tells(page, 'Rests on each of two below, at least');
    await fitsTheScreen(page);
    await page.click('[data-place=bench]');
    assert.match(await allText(page), /Ring 6: glue its segments on ring \d, one by one/);
    await page.click('[data-place=paper]');
    const disc = page.locator('#paper label', { hasText: 'Index disc' }).first();
    await disc.waitFor();
    assert.ok(await disc.locator('input').isChecked());
    await fitsTheScreen(page);
  }));
}
