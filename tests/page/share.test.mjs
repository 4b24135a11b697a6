// The design on its way: as a link, a code, a sheet of paper; without a network; from the
// single file on disk.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import decode from 'jsqr';
import { PNG } from 'pngjs';
import { settled, singleFileAddress, untilReady, visit } from './harness.mjs';
import { address, chooseUnit, enter, entered, field, keptDesigns, near, note, openFile, putAway, read, saved, unpacked, untilAddressIs } from './hands.mjs';

/** @typedef {import('playwright-core').Page} Page */
/** @typedef {import('playwright-core').BrowserContext} Context */

/**
 * Opens an address in a browser that has never seen the page.
 * @param {Page} page
 * @param {string} link
 * @param {(page: Page) => Promise<void>} work
 */
async function elsewhere(page, link, work) {
  const context = await page.context().browser()?.newContext({ locale: 'en-US' });
  assert.ok(context);
  try {
    const other = await context.newPage();
    await other.goto(link);
    await untilReady(other);
    await work(other);
  } finally {
    await context.close();
  }
}

/** A small ring that differs from the one that every page starts with. @param {Page} page */
async function makeOwn(page) {
  await enter(page, 'ring.outside_diameter_mm', '7 1/2');
  await enter(page, 'ring.segment_count', '16');
}

test('the address bar holds the design, and opens it on another device with the same figures', () => visit(
  'tablet',
  async (page) => {
    await makeOwn(page);
    await page.click('#designs-button');
    await field(page, 'name').fill('Größe 7 – “fein”');
    await page.click('#designs-dialog [data-close]');
    await address(page);
    await elsewhere(page, page.url(), async (other) => {
      assert.equal(await other.locator('#design-name').innerText(), 'Größe 7 – “fein”');
      for (const key of ['saw.setting', 'saw.stop', 'saw.strip', 'row.strip_length']) {
        assert.deepEqual(await read(other, key), await read(page, key));
      }
    });
  },
));

test('the address bar follows a change by itself', () => visit('tablet', async (page) => {
  const before = await address(page);
  await enter(page, 'ring.segment_count', '16');
  await page.waitForFunction((old) => location.hash !== old, before);
  const followed = await page.evaluate(() => location.hash);
  assert.equal(followed, await address(page));
}));

test('a link over own work opens beside it, and going back finds the own work', () => visit(
  'tablet',
  async (page, { origin }) => {
    const first = await address(page);
    await makeOwn(page);
    const theirs = await address(page);
    await page.click('#undo');
    await page.click('#undo');
    await enter(page, 'ring.height_mm', '2');
    const own = await address(page);
    await page.evaluate((hash) => {
      location.hash = hash;
    }, theirs);
    await note(page, 'beside');
    assert.equal(await entered(page, 'ring.segment_count'), '16');
    await untilAddressIs(page, theirs);
    const kept = Object.values(await keptDesigns(page));
    assert.deepEqual(kept.map((each) => each.design.ring.segment_count).sort(), [12, 16]);
    await page.evaluate((hash) => {
      location.hash = hash;
    }, own);
    await page.waitForFunction(() => {
      const height = document.querySelector('input[data-key="ring.height_mm"]');
      return height instanceof HTMLInputElement && height.value === '2';
    });
    assert.equal(Object.keys(await keptDesigns(page)).length, 2, 'the own link opens the own design');
    assert.notEqual(first, own);
    assert.ok(page.url().startsWith(origin));
  },
));

test('reloading, even in the middle of a change, is not opening a link', () => visit('tablet', async (page) => {
  await address(page);
  for (const count of ['13', '14', '15']) {
    await enter(page, 'ring.segment_count', count);
    await page.reload();
    await untilReady(page);
    assert.equal(await entered(page, 'ring.segment_count'), count);
  }
  await putAway(page);
  await page.reload();
  await untilReady(page);
  assert.equal(Object.keys(await keptDesigns(page)).length, 1);
}));

/** @type {[string, (link: string) => string, RegExp][]} */
const badLinks = [
  ['cut-off', (link) => link.slice(0, -9), /not complete/],
  ['edited', (link) => link.slice(0, 40) + (link[40] === 'A' ? 'B' : 'A') + link.slice(41), /not complete/],
  ['over-long', (link) => link + 'A'.repeat(20_000), /not complete/],
  ['foreign', () => '#places/ring?zoom=3', /not one of Ringwright’s/],
  ['strange', () => '#r1%00%ff<b>“', /not complete/],
  ['newer', () => '#r2AAAA', /newer version/],
];

for (const [what, injure, pattern] of badLinks) {
  test(`a ${what} link is told, in this tab and in a new one, and the work stays`, () => visit(
    'tablet',
    async (page, { context, origin }) => {
      await page.click('#designs-button');
      await page.click('#new-design');
      await makeOwn(page);
      const own = await address(page);
      const bad = injure(own);
      await page.evaluate((hash) => {
        location.hash = hash;
      }, bad);
      assert.match(await note(page, 'opened'), pattern);
      assert.equal(await entered(page, 'ring.segment_count'), '16');
      // The address bar holds the own design again.
      await untilAddressIs(page, own);
      const other = await context.newPage();
      await other.goto(`${origin}/${bad}`);
      await untilReady(other);
      assert.match(await note(other, 'opened'), pattern);
      assert.equal(await entered(other, 'ring.segment_count'), '16', 'the design open last is open');
      assert.equal(Object.keys(await keptDesigns(other)).length, 2);
    },
  ));
}

test('an empty # and the link to the figures leave the design in the address bar', () => visit('desktop', async (page) => {
  const own = await address(page);
  await page.evaluate(() => {
    location.hash = '';
  });
  await untilAddressIs(page, own);
  await page.keyboard.press('Tab');
  await page.locator('.skip').focus();
  await page.keyboard.press('Enter');
  assert.equal(await page.evaluate(() => document.activeElement?.id), 'saw');
  await settled(page);
  assert.equal(await page.evaluate(() => location.hash), own);
  assert.equal(await page.locator('.notice[data-name="opened"]').count(), 0);
}));

test('a pasted link opens, whole or from # on; a bad one is told in place', () => visit('tablet', async (page) => {
  await makeOwn(page);
  await address(page);
  const link = page.url();
  await page.click('#undo');
  await page.click('#undo');
  await page.click('#designs-button');
  await page.fill('#link-entry', link.slice(0, -5));
  await page.click('#link-form button');
  await page.waitForFunction(() => document.getElementById('designs-say')?.textContent?.includes('not complete'));
  assert.equal(await page.inputValue('#link-entry'), link.slice(0, -5), 'what was pasted stays');
  await page.fill('#link-entry', link);
  await page.click('#link-form button');
  // What was open is put on the disk first.
  await page.waitForSelector('#designs-dialog', { state: 'hidden' });
  assert.equal(await entered(page, 'ring.segment_count'), '16');
}));

test('the link is copied, and its code reads as the same link', () => visit('tablet', async (page, { context, origin }) => {
  await context.grantPermissions(['clipboard-read', 'clipboard-write'], { origin });
  await makeOwn(page);
  await address(page);
  await page.click('#share-button');
  await page.click('#copy-link');
  await page.waitForFunction(() => document.getElementById('share-says')?.textContent === 'The link is copied.');
  const link = await page.evaluate(() => navigator.clipboard.readText());
  assert.equal(link, page.url());
  assert.equal(await page.inputValue('#link-text'), link);
  const picture = PNG.sync.read(await page.locator('#qr svg').screenshot());
  const code = decode(new Uint8ClampedArray(picture.data), picture.width, picture.height);
  assert.equal(code?.data, link);
  await page.click('#share-dialog [data-close]');
  await page.click('#designs-button');
  assert.match(await page.locator('#kept-outside').innerText(), /^Kept outside/);
}));

test('the system’s own sheet gets the link where there is one', () => visit('tablet', async (page) => {
  await address(page);
  await page.click('#share-button');
  await page.click('#send-link');
  await page.waitForFunction(() => document.getElementById('share-says')?.textContent === 'The link is handed on.');
  const shared = await page.evaluate(() => Reflect.get(globalThis, 'sharedHere'));
  assert.equal(shared.url, page.url());
  assert.match(shared.title, /^Ring of \d+ segments, .+ across$/);
}, {
  before: (context) => context.addInitScript(() => {
    Object.assign(Navigator.prototype, {
      canShare: () => true,
      share: async (/** @type {ShareData} */ data) => Object.assign(globalThis, { sharedHere: data }),
    });
  }),
}));

/**
 * Fails unless these are the bytes of a whole PDF of this size in points.
 * @param {Buffer} bytes
 * @param {[number, number]} size
 */
function isPdf(bytes, size) {
  const text = bytes.toString('latin1');
  assert.match(text, /^%PDF-1\.\d/);
  assert.match(text, /%%EOF\s*$/);
  assert.ok(bytes.length > 5_000, `only ${bytes.length} bytes`);
  const objects = unpacked(bytes);
  const box = /\/MediaBox\s*\[\s*([\d.]+)\s+([\d.]+)\s+([\d.]+)\s+([\d.]+)\s*\]/.exec(objects);
  assert.ok(box);
  near(Number(box[3]), size[0], 0.01);
  near(Number(box[4]), size[1], 0.01);
  assert.match(objects, /\/PrintScaling\s*\/None/);
}

test('the sheet comes as PDF and SVG, in Letter and A4, under the design’s name', () => visit('tablet', async (page) => {
  await page.click('#designs-button');
  await field(page, 'name').fill('Rim 10" 3/4');
  await page.click('#designs-dialog [data-close]');
  await page.click('[data-place="paper"]');
  const letter = await saved(page, () => page.click('#save-pdf'));
  assert.equal(letter.name, 'Rim 10″ 3-4.pdf');
  isPdf(letter.bytes, [612, 792]);
  await field(page, 'paper.size').selectOption('a4');
  isPdf((await saved(page, () => page.click('#save-pdf'))).bytes, [210 / 25.4 * 72, 297 / 25.4 * 72]);
  await page.click('#paper-more > summary');
  const svg = await saved(page, () => page.click('#save-svg'));
  assert.equal(svg.name, 'Rim 10″ 3-4.svg');
  assert.match(svg.bytes.toString(), /width="210mm" height="297mm"/);
  await page.waitForFunction(() => {
    const image = document.querySelector('#sheets img');
    return image instanceof HTMLImageElement && image.complete && image.naturalWidth > 0;
  });
}));

test('after one visit everything works without a network', () => visit('tablet', async (page, { context, origin }) => {
  await page.waitForSelector('html[data-offline]');
  await page.evaluate(() => navigator.serviceWorker.ready);
  await makeOwn(page);
  await address(page);
  await context.setOffline(true);
  await page.close();
  const next = await context.newPage();
  await next.goto(`${origin}/`);
  await untilReady(next);
  assert.equal(await entered(next, 'ring.segment_count'), '16');
  await enter(next, 'ring.segment_count', '18');
  near((await read(next, 'saw.setting')).true, 10);
  await next.click('[data-place="paper"]');
  isPdf((await saved(next, () => next.click('#save-pdf'))).bytes, [612, 792]);
  await next.click('#share-button');
  await saved(next, () => next.click('#save-file'));
  await next.reload();
  await untilReady(next);
  assert.equal(await next.locator('.notice').count(), 0);
}));

test('the single file does everything from disk', () => visit('tablet', async (page, { context }) => {
  assert.match(page.url(), /^file:/);
  await makeOwn(page);
  await chooseUnit(page, 'millimeter');
  assert.equal(await entered(page, 'ring.outside_diameter_mm'), '190.5');
  const link = await address(page);
  await page.reload();
  await untilReady(page);
  assert.equal(await entered(page, 'ring.segment_count'), '16');
  await page.click('#share-button');
  assert.equal(await page.locator('#qr').isVisible(), false);
  assert.equal(await page.locator('#qr-far').isVisible(), true);
  assert.equal(await page.inputValue('#link-text'), link);
  const file = await saved(page, () => page.click('#save-file'));
  await page.click('#share-dialog [data-close]');
  await page.click('[data-place="paper"]');
  isPdf((await saved(page, () => page.click('#save-pdf'))).bytes, [612, 792]);
  await page.click('[data-place="ring"]');
  await page.click('#undo');
  await openFile(page, file.bytes.toString());
  await note(page, 'beside');
  assert.equal(Object.keys(await keptDesigns(page)).length, 2);
  const other = await context.newPage();
  await other.goto(singleFileAddress + link);
  await untilReady(other);
  assert.equal(await entered(other, 'ring.outside_diameter_mm'), '190.5');
  await settled(other);
}, { address: singleFileAddress }));

test('the single file holds all of itself', async () => {
  const text = await readFile(fileURLToPath(singleFileAddress), 'utf8');
  for (const [, tag] of text.matchAll(/<(script|link|img)\b[^>]*\b(?:src|href)=(?!"data:)/g)) {
    assert.fail(`a <${tag}> points elsewhere`);
  }
});
