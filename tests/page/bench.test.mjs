// The bench: the order of work is made from the vessel, ticks stay on the device, one
// step fills the screen at the saw, and the plug is a file that others read.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import {
  address, enter, field, goToBench, keptDesigns, note, openFold, putAway, saved, stepOf, tells, tickOf, unfold } from './hands.mjs';
import { axeClean, fitsTheScreen, picture, settled, visit } from './harness.mjs';

/** @typedef {import('./harness.mjs').Page} Page */

/** @param {Page} page */
function steps(page) {
  return page.locator('.step').evaluateAll((all) => all.map((each) => each.dataset.step));
}

/** What stands large at the saw. @param {Page} page */
async function atTheSaw(page) {
  return {
    title: await page.locator('#at-saw-title').innerText(),
    place: await page.locator('#at-saw-place').innerText(),
  };
}

/**
 * Makes the screen as high as the page, so that no bar lies over half a target.
 * @param {Page} page
 */
async function unroll(page) {
  const size = page.viewportSize();
  const height = await page.evaluate(() => document.documentElement.scrollHeight);
  await page.setViewportSize({ width: size?.width ?? 0, height: height + 200 });
  await settled(page);
  return () => page.setViewportSize(size ?? { width: 0, height: 0 });
}

test('without a vessel the bench says what to do first', () => visit('phone', async (page) => {
  await page.click('[data-place=bench]');
  await page.locator('#bench-empty').waitFor();
  assert.equal(await page.locator('#bench-work').isVisible(), false);
  await page.click('#bench-empty [data-goto=vessel]');
  await page.locator('#starts').waitFor();
}));

for (const screen of ['tablet', 'uprightTablet', 'phone', 'narrowPhone', 'desktop']) {
  test(`the order of work fits the screen and is open to all: ${screen}`, () => visit(screen, async (page) => {
    await goToBench(page, 'closed');
    await stepOf(page, 'cut-2').locator('.step-title').click();
    await page.locator('[data-step^="inside-foot"] .step-title').click();
    for (const fold of ['bench-setup', 'bench-safety', 'bench-stations', 'bench-plug']) await openFold(page, fold);
    await settled(page);
    await fitsTheScreen(page);
    await picture(page, `bench-${screen}`);
    // Slow over so many steps: the widest and the narrowest stand for all.
    const isChecked = ['tablet', 'narrowPhone'].includes(screen);
    if (isChecked) {
      const roll = await unroll(page);
      await axeClean(page);
      await roll();
    }
    await page.click('#saw-open');
    await settled(page);
    await fitsTheScreen(page);
    if (isChecked) await axeClean(page);
    await picture(page, `bench-saw-${screen}`);
  }));
}

test('the steps of an open bowl lead from the saw to parting off', () => visit('desktop', async (page) => {
  await goToBench(page);
  const ids = await steps(page);
  assert.equal(ids[0], 'boards');
  assert.ok(ids.indexOf('rip-1') >= 0 && ids.indexOf('rip-1') < ids.indexOf('cut-2'), 'strips are ripped before the first ring is sawn');
  assert.equal(ids.at(-1), 'part-foot');
  assert.ok(!ids.includes('join'), 'an open bowl needs no halves');
  assert.match(await page.locator('#meeting-now').innerText(), /one piece/);
  // The ring's figures are those of the Vessel place.
  await stepOf(page, 'cut-3').locator('.step-title').click();
  const here = await stepOf(page, 'cut-3').locator('.saw-figures').innerText();
  await page.click('[data-place=vessel]');
  await page.click('#all-rings > summary');
  await page.locator('#ring-table th button', { hasText: /^3$/ }).click();
  assert.equal(await page.locator('#panel-saw').innerText(), here);
}));

test('the turner moves the joint of the halves, and takes it back', () => visit('tablet', async (page) => {
  await goToBench(page, 'vase');
  await openFold(page, 'bench-meeting');
  const own = await page.locator('#meeting-says').innerText();
  const ring = Number(/above ring (\d+)/.exec(own)?.[1]);
  assert.ok(ring > 1);
  assert.equal(await page.locator('#meet-own').isDisabled(), true);
  await page.click('#meet-lower');
  assert.match(await page.locator('#meeting-says').innerText(), new RegExp(`above ring ${ring - 1}\\b.*above ring ${ring}\\b`, 's'));
  await page.click('#meet-own');
  assert.equal(await page.locator('#meeting-says').innerText(), own);
  await page.click('#undo');
  assert.match(await page.locator('#meeting-says').innerText(), new RegExp(`above ring ${ring - 1}\\b`));
}));

test('ticks stay on the device, and out of design and link', () => visit('tablet', async (page) => {
  await goToBench(page);
  await putAway(page);
  const link = await address(page);
  await tickOf(page, 'cut-2').check();
  await tickOf(page, 'flat-2').check();
  await tickOf(page, 'cut-4').check();
  assert.match(await page.locator('#bench-progress').innerText(), /^3 of \d+ steps/);
  assert.equal(await address(page), link, 'ticks are no part of the link');
  await page.reload();
  await page.locator('#bench-progress', { hasText: /^3 of/ }).waitFor();
  assert.equal(await tickOf(page, 'cut-4').isChecked(), true);
  assert.equal(await tickOf(page, 'cut-3').isChecked(), false);
  const [kept] = Object.values(await keptDesigns(page));
  assert.deepEqual(Object.keys(kept.ticks).sort(), ['cut-2', 'cut-4', 'flat-2']);
  assert.ok(!JSON.stringify(kept.design).includes('ticks'));
  await unfold(page);
  await tickOf(page, 'cut-4').uncheck();
  assert.match(await page.locator('#bench-progress').innerText(), /^2 of/);
}));

test('a tick whose numbers changed says so, and falls with its step', () => visit('desktop', async (page) => {
  await goToBench(page);
  await tickOf(page, 'cut-2').check();
  await tickOf(page, 'cut-4').check();
  await page.click('[data-place=vessel]');
  await page.click('#all-rings > summary');
  await page.locator('#ring-table th button', { hasText: /^4$/ }).click();
  const count = Number(await field(page, 'vessel.rings.3.segment_count').inputValue());
  await enter(page, 'vessel.rings.3.segment_count', String(count + 2));
  await page.click('[data-place=bench]');
  assert.equal(await tickOf(page, 'cut-2').isChecked(), true);
  assert.equal(await tickOf(page, 'cut-4').isChecked(), false);
  await stepOf(page, 'cut-4').locator('.step-title').click();
  assert.match(await stepOf(page, 'cut-4').innerText(), /numbers have changed/);
  await page.click('#undo');
  assert.equal(await tickOf(page, 'cut-4').isChecked(), true, 'undone, it is what was ticked');
}));

test('at the saw one step fills the screen, by touch', () => visit('tablet', async (page) => {
  await goToBench(page);
  await page.tap('#saw-open');
  const first = await atTheSaw(page);
  assert.match(first.place, /^Step 1 of/);
  const box = await page.locator('#at-saw').boundingBox();
  assert.deepEqual([box?.x, box?.y, box?.width, box?.height], [0, 0, 1024, 768]);
  // Read from two meters: digits of 15 mm and more (96 px to the inch).
  const size = await page.locator('#at-saw-figures .number').first().evaluate((it) => parseFloat(getComputedStyle(it).fontSize));
  assert.ok(size * 0.7 > 57, `digits of ${size * 0.7} px`);
  for (const id of ['at-saw-back', 'at-saw-tick', 'at-saw-next']) {
    const target = await page.locator(`#${id}`).boundingBox();
    assert.ok(target && target.width > 120 && target.height >= 72, `${id} is a big target`);
  }
  assert.equal(await page.locator('#at-saw-back').isDisabled(), true);
  await page.tap('#at-saw-next');
  assert.match((await atTheSaw(page)).place, /^Step 2 of/);
  await page.tap('#at-saw-back');
  assert.deepEqual(await atTheSaw(page), first);
  await page.tap('#at-saw-tick');
  assert.match((await atTheSaw(page)).place, /^Step 2 of/, 'what is done goes on');
  await page.tap('#at-saw-back');
  assert.equal(await page.locator('#at-saw-tick').getAttribute('aria-pressed'), 'true');
  await page.tap('#at-saw-close');
  assert.equal(await page.locator('#at-saw').isVisible(), false);
  assert.equal(await tickOf(page, 'boards').isChecked(), true);
}));

test('at the saw by the keyboard alone', () => visit('desktop', async (page) => {
  await goToBench(page);
  await page.focus('#saw-open');
  await page.keyboard.press('Enter');
  const count = (await steps(page)).length;
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('ArrowRight');
  assert.match((await atTheSaw(page)).place, /^Step 3 of/);
  await page.keyboard.press('ArrowLeft');
  assert.match((await atTheSaw(page)).place, /^Step 2 of/);
  for (let at = 0; at < count + 3; at += 1) await page.keyboard.press('ArrowRight');
  assert.match((await atTheSaw(page)).place, new RegExp(`^Step ${count} of ${count}`));
  await page.keyboard.press('Escape');
  assert.equal(await page.locator('#at-saw').isVisible(), false);
  assert.equal(await page.evaluate(() => document.activeElement?.id), 'saw-open');
}));

/** Stands in for the browser's wake lock, and notes what is asked. @param {import('playwright-core').BrowserContext} context */
function countLocks(context) {
  return context.addInitScript(() => {
    const seen = { asked: 0, released: 0 };
    Object.assign(window, { seen });
    Object.defineProperty(navigator, 'wakeLock', {
      value: {
        request: async () => {
          seen.asked += 1;
          return { release: async () => { seen.released += 1; } };
        },
      },
    });
  });
}

/** @param {Page} page @returns {Promise<{ asked: number, released: number }>} */
function locks(page) {
  return page.evaluate(() => /** @type {any} */ (window).seen);
}

test('the screen is kept on at the saw, also after another app was in front', () => visit('tablet', async (page) => {
  await goToBench(page);
  await page.click('#saw-open');
  await page.locator('#awake', { hasText: 'stays on' }).waitFor();
  assert.deepEqual(await locks(page), { asked: 1, released: 0 });
  await page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
  await settled(page);
  assert.equal((await locks(page)).asked, 2);
  await page.click('#at-saw-close');
  await settled(page);
  assert.equal((await locks(page)).released >= 1, true);
  await page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
  await settled(page);
  assert.equal((await locks(page)).asked, 2, 'closed, it asks no more');
}, { before: countLocks }));

test('where the screen cannot be kept on, the turner is told', () => visit('tablet', async (page) => {
  await goToBench(page);
  await page.click('#saw-open');
  await page.locator('#awake', { hasText: 'cannot keep the screen on' }).waitFor();
}, { before: (context) => context.addInitScript(() => {
  Object.defineProperty(navigator, 'wakeLock', { value: undefined });
}) }));

test('a cool shop is told in the turner’s degrees, with how long in a warm room', () => visit('desktop', async (page) => {
  await goToBench(page);
  await openFold(page, 'bench-setup');
  assert.equal(await field(page, 'climate.shop_temperature_c').inputValue(), '68');
  await enter(page, 'climate.shop_temperature_c', '44');
  assert.match(await page.locator('#glue-cautions').innerText(), /44 °F.*50 °F.*68 °F for \d+ min/s);
  await stepOf(page, 'glue-2').locator('.step-title').click();
  assert.match(await stepOf(page, 'glue-2').innerText(), /44 °F/);
  await field(page, 'climate.shop_temperature_c').fill('hot');
  await tells(page, 'climate.shop_temperature_c', /hot|h/);
  await enter(page, 'climate.shop_temperature_c', '20 C');
  assert.equal(await field(page, 'climate.shop_temperature_c').inputValue(), '68');
  assert.equal(await page.locator('#glue-cautions').isVisible(), false);
  await page.locator('[data-key="bench.glue"]').selectOption('slow_epoxy');
  assert.match(await page.locator('#glue-list').innerText(), /72/);
}));

test('the plug is saved as a closed STL of its own size', () => visit('desktop', async (page) => {
  await goToBench(page);
  await openFold(page, 'bench-plug');
  await enter(page, 'bench.plug_clearance_mm', '0.5 mm');
  const file = await saved(page, () => page.locator('#plug-list .actions button').first().click());
  assert.match(file.name, /\.stl$/);
  assert.equal(await note(page, 'plug'), `Saved: ${file.name}`);
  // Binary STL: 80 bytes, a count, 50 bytes a triangle.
  const count = file.bytes.readUInt32LE(80);
  assert.equal(file.bytes.length, 84 + 50 * count);
  /** @type {Map<string, number>} */
  const edges = new Map();
  let widest = 0;
  for (let at = 0; at < count; at += 1) {
    const corners = [0, 1, 2].map((corner) => {
      const start = 84 + 50 * at + 12 * (corner + 1);
      const [x, y, z] = [0, 4, 8].map((part) => file.bytes.readFloatLE(start + part) + 0);
      widest = Math.max(widest, 2 * Math.hypot(x ?? 0, y ?? 0));
      return `${x},${y},${z}`;
    });
    corners.forEach((from, place) => {
      const to = corners[(place + 1) % 3];
      edges.set(`${from}>${to}`, (edges.get(`${from}>${to}`) ?? 0) + 1);
    });
  }
  for (const [edge, times] of edges) {
    const [from, to] = edge.split('>');
    assert.equal(times, 1);
    assert.equal(edges.get(`${to}>${from}`), 1, 'every edge is met from the other side');
  }
  const told = await page.locator('#plug-list .number').first().innerText();
  assert.ok(told.length > 0 && widest > 20 && widest <= 200, `${told} is ${widest} mm`);
}));

test('a step opens in place with its drawing, and the next one opens when it is ticked', () => visit('phone', async (page) => {
  await goToBench(page, 'closed');
  assert.equal(await stepOf(page, 'boards').locator('.step-drawing svg').count(), 1);
  await tickOf(page, 'boards').check();
  assert.equal(await stepOf(page, 'boards').locator('.step-drawing').count(), 0);
  const [, second] = await steps(page);
  assert.equal(await stepOf(page, second ?? '').locator('.step-drawing svg').count(), 1);
  await page.locator('[data-step=join] .step-title').click();
  assert.equal(await stepOf(page, 'join').locator('.step-drawing svg').count(), 1);
}));

test('steps alike are one line with their count, and what is done folds away', () => visit('phone', async (page) => {
  await page.tap('#ways [data-way="lantern_vase"]');
  await page.tap('[data-place=bench]');
  const seen = await page.locator('.step:visible').count();
  const all = (await steps(page)).length;
  assert.ok(all > 80 && seen < 30, `${seen} of ${all} steps are open to sight`);
  const saw = page.locator('.fold-title', { hasText: 'Saw the segments, rings 1–15' });
  const line = page.locator('.step-fold', { has: saw });
  assert.match(await line.innerText(), /0 of 15 done/);
  await saw.tap();
  assert.equal(await line.locator('.step:visible').count(), 15);
  for (const id of ['cut-1', 'cut-2']) await tickOf(page, id).check();
  assert.match(await line.innerText(), /2 of 15 done/);
  await picture(page, 'bench-folded');
  // A chapter that is done is its heading.
  const blocks = page.locator('.chapter', { hasText: 'Blocks on faceplates' });
  for (const tick of await blocks.locator('input').all()) await tick.check();
  assert.equal(await blocks.locator('.step:visible').count(), 0);
  assert.match(await blocks.innerText(), /3 of 3 done/);
  await blocks.locator('.fold-title').tap();
  assert.equal(await blocks.locator('.step:visible').count(), 3);
  await axeClean(page);
}));
