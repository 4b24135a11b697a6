// The page opens, wherever it is opened, with nothing to complain about.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import {
  axeClean, fitsTheScreen, picture, screens, singleFileAddress, untilReady, visit,
} from './harness.mjs';

for (const screen of Object.keys(screens)) {
  test(`the page opens on a ${screen}`, () => visit(screen, async (page) => {
    await fitsTheScreen(page);
    await picture(page, `page-${screen}`);
  }));
}

test('the single file opens from disk', () => visit('tablet', async (page) => {
  assert.match(page.url(), /^file:/);
  await picture(page, 'single-file');
}, { address: singleFileAddress }));

for (const colorScheme of /** @type {const} */ (['light', 'dark'])) {
  test(`the page keeps the rules of accessibility, ${colorScheme}`, () => visit(
    { ...screens.tablet, colorScheme },
    (page) => axeClean(page),
  ));
}

test('the page opens again without a network', () => visit('tablet', async (page, { context }) => {
  await page.evaluate(() => navigator.serviceWorker.ready);
  await context.setOffline(true);
  await page.reload();
  await untilReady(page);
}));
