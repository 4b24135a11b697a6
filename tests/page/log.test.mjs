// The log goes along: in the design's file and on paper, and not in the link.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { address, goToBench, openFile, readText, saved, tickOf, unfold, untilKept } from './hands.mjs';
import { axeClean, fitsTheScreen, picture, screens, settled, visit } from './harness.mjs';

/** @typedef {import('./harness.mjs').Page} Page */

const before = (/** @type {import('playwright').BrowserContext} */ context) => context.clock.setFixedTime(new Date('2026-11-24T19:00:00-05:00'));
const tablet = { ...screens.tablet, timezoneId: 'America/New_York' };

/** @param {Page} page */
async function saveFile(page) {
  await page.locator('#share-button').click();
  const { bytes } = await saved(page, () => page.locator('#save-file').click());
  await page.keyboard.press('Escape');
  return bytes.toString('utf8');
}

/** @param {Page} page */
function lines(page) {
  return page.locator('#log-lines > li').evaluateAll((all) => all.map((each) => (each.textContent ?? '').replace(/\s/gu, ' ')));
}

/** @param {Page} page @param {string} text */
async function open(page, text) {
  await openFile(page, text);
  await page.locator('[data-place="bench"]').first().click();
  await settled(page);
  await unfold(page);
}

test('a file takes ticks, clocks and log along, a link does not', () => visit(tablet, async (page) => {
  await goToBench(page);
  await unfold(page);
  const link = await address(page);
  const empty = await saveFile(page);
  assert.ok(!('done' in JSON.parse(empty)), 'nothing is done yet');
  await tickOf(page, 'cut-2').check();
  await tickOf(page, 'glue-2').check();
  await untilKept(page);
  assert.equal(await address(page), link);
  await page.locator('#bench-log > summary').click();
  const told = await lines(page);
  assert.equal(told.length, 2);
  assert.match(await page.locator('#log-came-to').innerText(), /Ticked on 1 day.*bought, waste counted in/su);
  const text = await saveFile(page);
  await open(page, empty);
  assert.deepEqual(await lines(page), [], 'a file without brings none');
  await open(page, text);
  assert.deepEqual(await lines(page), told);
  assert.equal(await tickOf(page, 'cut-2').isChecked(), true);
  assert.equal(await page.locator('#clock-list > li').count(), 1, 'the clock runs on');
  await page.reload();
  await page.locator('#log-lines > li').first().waitFor({ state: 'attached' });
  assert.deepEqual(await lines(page), told);
  // Spoiled, what is good stays, and the design opens.
  const file = JSON.parse(text);
  file.done.log.entries[0].done_ms = 'noon';
  file.done.ticks['cut-3'] = 7;
  await open(page, JSON.stringify(file));
  assert.deepEqual(await lines(page), told.slice(1));
  await open(page, JSON.stringify({ ...file, done: 'lost' }));
  assert.deepEqual(await lines(page), []);
  // Ten thousand entries.
  const one = file.done.log.entries[1];
  file.done.log.entries = Array.from({ length: 10_000 }, (_, at) => (
    { ...one, clock: null, id: `${one.id}-${at}`, done_ms: one.done_ms + at * 60_000 }));
  await open(page, JSON.stringify(file));
  assert.equal((await lines(page)).length, 10_000);
}, { before }));

test('the log is a sheet where there is one, and is printed when it is wanted', () => visit(tablet, async (page) => {
  await goToBench(page);
  await unfold(page);
  const paper = page.locator('[data-place="paper"]').first();
  const box = page.locator('input[data-sheet="log"]');
  await paper.click();
  await page.locator('input[data-sheet="order"]').waitFor();
  assert.equal(await box.count(), 0);
  await page.locator('[data-place="bench"]').first().click();
  await tickOf(page, 'cut-2').check();
  await paper.click();
  await box.waitFor();
  assert.equal(await box.isChecked(), false);
  const length = page.locator('#paper-length');
  const pages = await length.innerText();
  await box.check();
  await page.waitForFunction((was) => document.querySelector('#paper-length')?.textContent !== was, pages);
  await page.locator('#sheet-log').scrollIntoViewIfNeeded();
  await fitsTheScreen(page);
  await picture(page, 'log-paper');
  await axeClean(page);
  await page.locator('#tick-none').click();
  await box.check();
  const { bytes } = await saved(page, () => page.locator('#save-pdf').click());
  assert.match(readText(bytes), /Log[^]*Ticked on 1 day[^]*7:00 PM: Ring 2: saw/u);
}, { before }));
