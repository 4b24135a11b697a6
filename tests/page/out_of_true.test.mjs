// A half that came back out of true: read at the bench, told whether its wall is still in it,
// gone on with, undone, and still there after a reload.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { enter, entered, field, goToBench, stepOf, unfold, untilKept } from './hands.mjs';
import { axeClean, fitsTheScreen, picture, settled, visit } from './harness.mjs';

/** @typedef {import('playwright-core').Page} Page */

/** @param {Page} page */
function says(page) {
  return page.locator('#bench-true-says').innerText();
}

/**
 * Opens the step at which both faces are trued, and asks for the lower half's readings; the ring
 * that is measured, by its place.
 * @param {Page} page
 */
async function measureLowerHalf(page) {
  const step = stepOf(page, 'true-halves');
  if (await step.locator('.step-body').isHidden()) await step.locator('.step-title').tap();
  await step.getByRole('button', { name: /run out of true$/ }).first().tap();
  await page.locator('#bench-true').waitFor();
  await settled(page);
  const at = await page.locator('#bench-true-at').innerText();
  return Number(/ring (\d+)/i.exec(at)?.[1]) - 1;
}

/** @param {number} ring @param {string} name */
function key(ring, name) {
  return `vessel.rings.${ring}.out_of_true.${name}`;
}

for (const screen of ['tablet', 'phone', 'narrowPhone']) {
  test(`a half out of true is read, gone on with and undone: ${screen}`, () => visit(screen, async (page) => {
    await goToBench(page, 'closed');
    const ring = await measureLowerHalf(page);
    assert.match(await page.locator('#bench-true-title').innerText(), /^Rings 1 to \d+ out of true$/);
    assert.equal(await says(page), 'Nothing measured yet.');
    assert.equal(await page.locator('#bench-true-go-on').isVisible(), false);
    await enter(page, key(ring, 'runs_out_mm'), '1/64');
    await enter(page, key(ring, 'face_runs_out_mm'), '1/64');
    assert.match(await says(page), /^The finished wall is still in it/);
    assert.match(await page.locator('#bench-true-list').innerText(), /Off the open face/);
    assert.equal(await field(page, key(ring, 'hole_runs_out_mm')).getAttribute('placeholder'), '1/64');
    await settled(page);
    await fitsTheScreen(page);
    await page.locator('#bench-true').evaluate((own) => own.scrollIntoView());
    await picture(page, `out-of-true-${screen}`);
    await axeClean(page);
    // Turned already, there is no more than the wall inside.
    await field(page, key(ring, 'is_hollowed')).selectOption('yes');
    assert.match(await says(page), /missing inside/);
    await field(page, key(ring, 'is_hollowed')).selectOption('no');
    assert.match(await says(page), /^The finished wall is still in it/);
    // What cannot be is told where it was typed, and stays there.
    await enter(page, key(ring, 'widest_mm'), '8');
    await enter(page, key(ring, 'narrowest_mm'), '9');
    await page.locator('#bench-true .field-message', { hasText: 'wider than the widest' }).waitFor();
    assert.equal(await page.locator('#bench-true-go-on').isVisible(), false);
    await enter(page, key(ring, 'widest_mm'), '');
    await enter(page, key(ring, 'narrowest_mm'), '');
    // Another ring of the half has readings of its own, but no open face.
    await page.locator('#bench-true-lower').tap();
    await field(page, key(ring - 1, 'runs_out_mm')).waitFor();
    assert.equal(await field(page, key(ring - 1, 'face_runs_out_mm')).count(), 0);
    await enter(page, key(ring - 1, 'runs_out_mm'), '3/8');
    assert.match(await says(page), /not in it any more/);
    assert.notEqual(await page.locator('#bench-true-remedy').innerText(), '');
    await picture(page, `out-of-true-missing-${screen}`);
    await enter(page, key(ring - 1, 'runs_out_mm'), '1/32');
    await untilKept(page);
    await page.reload();
    await page.locator('#bench-steps').waitFor();
    await unfold(page);
    // What was read is still there, and stands in the step.
    assert.equal(await measureLowerHalf(page), ring);
    assert.equal(await entered(page, key(ring, 'runs_out_mm')), '1/64');
    await page.locator('#bench-true-go-on').tap();
    await page.locator('#bench-true').waitFor({ state: 'hidden' });
    await settled(page);
    assert.match(await page.locator('#log-lines').textContent() ?? '', /went on with what is left/);
    assert.equal(await measureLowerHalf(page), ring);
    assert.equal(await says(page), 'Nothing measured yet.');
    await page.locator('#undo').tap();
    await settled(page);
    assert.equal(await entered(page, key(ring, 'runs_out_mm')), '1/64');
    await page.locator('#bench-true-done').tap();
    await page.locator('#bench-true').waitFor({ state: 'hidden' });
    assert.match(await stepOf(page, 'true-halves').innerText(), /out of true: off outside/);
  }));
}

test('by keyboard alone, in the dark, of a piece in one', () => visit({ viewport: { width: 1180, height: 820 }, colorScheme: 'dark', locale: 'de-DE' }, async (page) => {
  await goToBench(page, 'bowl');
  const step = stepOf(page, 'outside');
  await step.locator('.step-title').press('Enter');
  await step.getByRole('button', { name: /run out of true$/ }).press('Enter');
  await page.locator('#bench-true').waitFor();
  const rings = page.locator('#bench-true-fields input');
  await rings.nth(2).focus();
  await page.keyboard.type('1');
  await page.keyboard.press('Tab');
  assert.match(await says(page), /^The finished wall is still in it/);
  await page.locator('#bench-true-rings > summary').press('Enter');
  assert.ok(await page.locator('#bench-true-table tbody tr').count() > 4);
  await settled(page);
  await fitsTheScreen(page);
  await page.locator('#bench-true').evaluate((own) => own.scrollIntoView());
  await picture(page, 'out-of-true-dark');
  await page.locator('#bench-true-go-on').press('Enter');
  await page.locator('#bench-true').waitFor({ state: 'hidden' });
  // What is left flows into the plan as rings that were measured.
  await page.click('[data-place=vessel]');
  await page.locator('#glued-rows').waitFor();
  assert.match(await page.locator('#glued-says').innerText(), /fits/);
}));
