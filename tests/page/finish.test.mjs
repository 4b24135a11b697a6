// The finish at the bench: chosen once, then coat by coat in the order of work, each with its amount and its own
// wait, which runs on while the page is shut.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { enter, goToBench, openFold, stepOf, tickOf, unfold, untilKept } from './hands.mjs';
import { axeClean, fitsTheScreen, picture, screens, settled, visit } from './harness.mjs';

/** @typedef {import('./harness.mjs').Page} Page */

/** @param {Page} page @param {string} kind */
async function choose(page, kind) {
  if (!await page.locator('#finish-fields').isVisible()) await openFold(page, 'bench-finish');
  await page.locator('#finish-fields [data-key="finish.kind"]').selectOption(kind);
  await settled(page);
}

/** The steps from sanding on. @param {Page} page */
async function lastSteps(page) {
  const all = await page.locator('#bench-steps [data-step]').evaluateAll((steps) => steps.map((step) => step.dataset.step ?? ''));
  return all.slice(all.findIndex((id) => id === 'sand' || id === 'finish'));
}

/** @param {Page} page @param {string} time */
async function lookAt(page, time) {
  await page.clock.setFixedTime(new Date(time));
  await page.evaluate(() => dispatchEvent(new Event('focus')));
  await settled(page);
}

test('a finish that is chosen stands coat by coat among the steps', () => visit('tablet', async (page) => {
  await goToBench(page);
  assert.deepEqual(await lastSteps(page), ['finish', 'part-foot']);
  await choose(page, 'hardening_oil');
  assert.deepEqual(await lastSteps(page), ['sand', 'dust', 'coat-1', 'coat-2', 'coat-3', 'buff', 'part-foot', 'sign']);
  assert.match(await page.locator('#finish-now').innerText(), /oil that hardens, 3 coats/);
  const told = await page.locator('#bench-finish').innerText();
  for (const each of [/Surface outside\s+[\d,]+\s/u, /Surface in all/u, /120, 180, 240, 320/u, /fl oz/u, /burn by themselves/u, /no published source/u, /For food/u]) {
    assert.match(told, each);
  }
  await picture(page, 'finish-tablet');
  await enter(page, 'finish.coats', '2');
  assert.deepEqual(await lastSteps(page), ['sand', 'dust', 'coat-1', 'coat-2', 'buff', 'part-foot', 'sign']);
  // Bare wood has no coats, and the fields of coats are away; what was typed there is not lost.
  await choose(page, 'bare');
  assert.deepEqual(await lastSteps(page), ['sand', 'dust', 'buff', 'part-foot', 'sign']);
  assert.equal(await page.locator('#finish-fields [data-key="finish.coats"]').isVisible(), false);
  await choose(page, 'film');
  assert.equal(await page.locator('#finish-fields [data-key="finish.coats"]').inputValue(), '2');
  await unfold(page);
  await stepOf(page, 'coat-1').locator('.step-title').click();
  assert.match(await stepOf(page, 'coat-1').innerText(), /Never in a heap or a bin/u);
  await fitsTheScreen(page);
  await axeClean(page);
}));

test('a coat that is ticked dries by its own clock, past a reload', () => visit(
  { ...screens.phone, timezoneId: 'America/New_York' },
  async (page) => {
    await goToBench(page);
    await choose(page, 'hardening_oil');
    await enter(page, 'finish.wait_h', '6');
    await unfold(page);
    await tickOf(page, 'coat-1').click();
    await untilKept(page);
    const clock = page.locator('#clock-list > li');
    assert.equal(await clock.count(), 1);
    assert.match((await clock.innerText()).replace(/\s+/gu, ' '), /Coat 1 of 3, oil that hardens Dries Go on from 10:00 PM/u);
    await clock.locator('summary').click();
    assert.equal(await clock.locator('input').isVisible(), false, 'a coat is told no air');
    await picture(page, 'finish-phone');
    await page.reload();
    await settled(page);
    await lookAt(page, '2026-11-24T22:00:00-05:00');
    assert.match(await clock.innerText(), /Dry, as is usual/u);
    assert.match(await page.locator('#bench-log').evaluate((log) => log.textContent ?? ''), /Coat 1 of 3, oil that hardens/u);
    // What the next coat is put on needs no clock any more.
    await unfold(page);
    await tickOf(page, 'coat-2').click();
    await settled(page);
    assert.match(await clock.innerText(), /Coat 2 of 3/u);
    assert.equal(await clock.count(), 1);
    await fitsTheScreen(page);
  },
  { before: (context) => context.clock.setFixedTime(new Date('2026-11-24T16:00:00-05:00')) },
));

test('rings are glued in two halves where that is chosen, each with its own clock', () => visit('tablet', async (page) => {
  await goToBench(page);
  await openFold(page, 'bench-setup');
  await page.locator('#bench-fields [data-key="bench.rings_close"]').selectOption('in_halves');
  await settled(page);
  await unfold(page);
  const ids = await page.locator('#bench-steps [data-step]').evaluateAll((steps) => steps.map((step) => step.dataset.step ?? ''));
  const at = (/** @type {string} */ id) => ids.indexOf(id);
  assert.ok(at('halves-2') >= 0 && at('halves-2') < at('ends-2') && at('ends-2') < at('glue-2'), ids.join(' '));
  await stepOf(page, 'ends-2').locator('.step-title').click();
  assert.match(await stepOf(page, 'ends-2').innerText(), /Off each end, if the saw is off by 0\.1°, up to\s+0\.0\d/u);
  await picture(page, 'halves-tablet');
  assert.match(await stepOf(page, 'glue-2').innerText(), /Ring 2: close it/u);
  await stepOf(page, 'halves-2').locator('.step-title').click();
  await stepOf(page, 'halves-2').locator('.glue-on').click();
  assert.equal(await page.locator('#clock-list > li').count(), 1);
  await fitsTheScreen(page);
}));
