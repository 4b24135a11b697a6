// What is larger than usual, letters, names, files, stays within the page, or is told.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { fitsTheScreen, screens, untilReady, visit } from './harness.mjs';
import { field, note, openFile, saved } from './hands.mjs';

const places = ['ring', 'vessel', 'wood', 'inlay', 'bench', 'paper'];

test('text twice as large on a phone stays within its width in every place', () => visit(screens.phone ?? 'phone', async (page, { context }) => {
  const browser = await context.newCDPSession(page);
  await browser.send('Page.setFontSizes', { fontSizes: { standard: 32, fixed: 26 } });
  await page.reload();
  await untilReady(page);
  await page.click('[data-place="vessel"]');
  await page.click('#starts [data-way="bowl"]');
  for (const place of places) {
    await page.click(`[data-place="${place}"]`);
    await page.waitForSelector(`main#${place}:not([hidden])`);
    await fitsTheScreen(page);
  }
}));

test('a wood’s name of 10,000 letters stays within a phone’s width in every place', () => visit('phone', async (page) => {
  await page.click('[data-place="vessel"]');
  await page.click('#starts [data-way="bowl"]');
  await page.click('#share-button');
  const file = await saved(page, () => page.click('#save-file'));
  await page.click('#share-dialog [data-close]');
  const design = JSON.parse(file.bytes.toString());
  design.vessel.woods[0] = 'W'.repeat(10_000);
  design.ring.wood = 'W'.repeat(10_000);
  await openFile(page, JSON.stringify(design));
  await note(page, 'beside');
  for (const place of places) {
    await page.click(`[data-place="${place}"]`);
    await page.waitForSelector(`main#${place}:not([hidden])`);
    await fitsTheScreen(page);
  }
}));

test('a file of 5 MB is called too large', () => visit('tablet', async (page) => {
  await openFile(page, JSON.stringify({ form: 1, name: 'x'.repeat(5_000_000) }), 'large.json');
  await page.waitForFunction(() => document.getElementById('designs-say')?.textContent !== '');
  assert.match(await page.locator('#designs-say').innerText(), /large\.json.*larger than 4 MB/);
}));

test('the copy that one of two tabs goes on with bears a name of its own', () => visit('tablet', async (first, { context, origin }) => {
  await first.click('#designs-button');
  await field(first, 'name').fill('Bowl');
  await first.click('#designs-dialog [data-close]');
  await first.waitForSelector('#kept-state[data-state="kept"]');
  const second = await context.newPage();
  await second.goto(`${origin}/`);
  await untilReady(second);
  await second.click('#count-more');
  await note(first, 'other-tab');
  await first.click('#count-more');
  await note(first, 'went-on');
  await first.click('#designs-button');
  await first.waitForFunction(() => document.querySelectorAll('#design-list strong').length === 2);
  assert.deepEqual(await first.locator('#design-list strong').allInnerTexts(), ['Bowl (2)', 'Bowl']);
}));
