// The page opens, wherever it is opened, with nothing to complain about.

import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
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

test('the page tells what it is made of, and under which licenses', () => visit('tablet', async (page) => {
  await page.tap('#designs-button');
  await page.locator('#about summary').tap();
  await page.locator('#about li').first().waitFor();
  const parts = await page.locator('#about li').allInnerTexts();
  const built = JSON.parse(execFileSync('cargo', ['metadata', '--format-version=1', '--locked'], { maxBuffer: 2 ** 28 }).toString());
  // Those that the page's scripts call by name are among them, each with its license.
  for (const name of ['wasm-bindgen', 'serde', 'js-sys', 'web-sys']) {
    const { version, license } = built.packages.find((/** @type {{ name: string }} */ each) => each.name === name);
    const told = parts.find((part) => part.startsWith(`${name} `));
    assert.ok(told?.includes(version) && told.includes(license), `${name} ${version}, ${license}: ${told}`);
  }
  assert.ok(parts.length >= 20, parts.join('\n'));
  await axeClean(page);
}));
