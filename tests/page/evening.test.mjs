// The evenings at the bench: what fits into this one, how many the piece takes, by what is ticked and what sets.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { enter, goToBench, tells, tickOf, unfold } from './hands.mjs';
import { axeClean, fitsTheScreen, picture, screens, settled, visit } from './harness.mjs';

/** @typedef {import('./harness.mjs').Page} Page */

/** The evenings as they are told, with plain spaces. @param {Page} page */
function told(page) {
  return page.locator('#evening-list > li').evaluateAll((evenings) => evenings.map((each) =>
    [...each.querySelectorAll('h3 > span, .evening-steps > li, .evening-sets, .evening-long')]
      .map((it) => (it.textContent ?? '').replace(/\s/gu, ' '))));
}

/** @param {Page} page @param {string} time */
async function lookAt(page, time) {
  await page.clock.setFixedTime(new Date(time));
  await page.evaluate(() => dispatchEvent(new Event('focus')));
  await settled(page);
}

const evening = {
  before: (/** @type {import('playwright').BrowserContext} */ context) => context.clock.setFixedTime(new Date('2026-11-24T19:00:00-05:00')),
};

test('the bench tells what fits into this evening, and how many evenings the piece takes', () => visit({ ...screens.tablet, timezoneId: 'America/New_York' }, async (page) => {
  await goToBench(page);
  const count = page.locator('#evenings-count');
  const before = Number.parseInt(await count.innerText(), 10);
  assert.ok(before > 5, `${before} evenings`);
  await page.locator('#bench-evenings > summary').click();
  const all = await told(page);
  assert.equal(all.length, before);
  assert.equal(all[0]?.[0], 'This evening, from now on');
  assert.match(all[1]?.[0] ?? '', /^Evening 2: Wed, Nov 25$/u);
  assert.match(all[0]?.[2] ?? '', /^Buy the wood ?\d+ min$/u);
  assert.ok(all.some((each) => /^Sets overnight: .*glue/u.test(each.at(-1) ?? '')), 'what sets overnight');
  assert.match(await page.locator('#evenings-reckoned').innerText(), /our own choice.*×1\./u);
  await fitsTheScreen(page);
  await page.locator('#bench-evenings').evaluate((it) => it.scrollIntoView());
  await picture(page, 'evening-tablet');
  await axeClean(page);
  // A longer evening makes fewer of them, a slower hand more; what no evening is stays out.
  await enter(page, 'bench.evening_h', '6');
  assert.ok(Number.parseInt(await count.innerText(), 10) < before);
  await enter(page, 'bench.evening_h', '2');
  await enter(page, 'bench.pace', '3');
  assert.ok(Number.parseInt(await count.innerText(), 10) > before);
  assert.match(await page.locator('#evenings-reckoned').innerText(), /×3\./u);
  await enter(page, 'bench.evening_h', '0.5');
  await page.locator('.evening-long').first().waitFor();
  await enter(page, 'bench.evening_h', '90');
  await tells(page, 'bench.evening_h', /16/u);
  assert.equal(await page.locator('#evening-list > li').count(), (await told(page)).length);
}, evening));

test('a step of an evening opens, and what was ticked and still sets counts', () => visit({ ...screens.phone, timezoneId: 'America/New_York' }, async (page) => {
  await goToBench(page);
  await page.locator('#bench-evenings > summary').click();
  await fitsTheScreen(page);
  await page.locator('#bench-evenings').evaluate((it) => it.scrollIntoView());
  await picture(page, 'evening-phone');
  const second = page.locator('.evening').nth(1).locator('.evening-steps button').first();
  const title = await second.innerText();
  await second.click();
  const opened = await page.evaluate(() => document.activeElement?.textContent ?? '');
  assert.ok(opened.startsWith(title) || title.includes('thicknesses'), `${title}: ${opened}`);
  await unfold(page);
  for (const box of await page.locator('.step-tick input').all()) {
    const id = await box.evaluate((it) => it.closest('li')?.dataset.step ?? '');
    if (id === 'flat-2') break;
    await box.check();
  }
  // Everything up to the glue-ups is done: all that is left of the rings waits until 11 PM.
  const now = (await told(page))[0] ?? [];
  assert.ok(!now.some((line) => /Ring \d: flatten|Flatten both faces/u.test(line)), now.join('\n'));
  await lookAt(page, '2026-11-24T23:01:00-05:00');
  const later = (await told(page))[0] ?? [];
  assert.ok(later.some((line) => /Flatten both faces|flatten both faces/u.test(line)), later.join('\n'));
  await page.reload();
  await page.locator('.evening').first().waitFor({ state: 'attached' });
  assert.deepEqual((await told(page))[0], later);
  for (const box of await page.locator('.step-tick input').all()) {
    if (!await box.isChecked()) {
      const id = await box.evaluate((it) => it.closest('li')?.dataset.step ?? '');
      await unfold(page);
      await tickOf(page, id).check();
    }
  }
  assert.match(await page.locator('#evenings-says').textContent() ?? '', /All is done/u);
}, evening));
