// The Paper place: sheets are ticked, kept ticked, and come as files of each kind.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { inflateRawSync } from 'node:zlib';
import { address, field, note, openFold, readText, saved, unpacked } from './hands.mjs';
import { axeClean, fitsTheScreen, singleFileAddress, untilReady, visit } from './harness.mjs';

/** @typedef {import('./harness.mjs').Page} Page */

/** @param {Page} page */
async function beginBowl(page) {
  await page.click('[data-place=vessel]');
  await page.click('#starts [data-way=bowl]');
  await page.click('[data-place=paper]');
}

/** The keys of the sheets that are ticked, or of all. @param {Page} page @param {boolean} [all] */
function keys(page, all = false) {
  return page.locator(all ? '[data-sheet]' : '[data-sheet]:checked').evaluateAll(
    (boxes) => boxes.map((box) => box.getAttribute('data-sheet') ?? ''),
  );
}

/** How many pages a PDF says that it has. @param {Buffer} bytes */
function pageCount(bytes) {
  const text = unpacked(bytes);
  assert.match(text, /^%PDF-1\.\d/);
  return Number(/\/Type\/Pages\/Kids\s*\[[^\]]*\]\s*\/Count\s+(\d+)/.exec(text)?.[1]);
}

/** The files of a ZIP archive, by its directory at the end. @param {Buffer} bytes */
function unzipped(bytes) {
  const end = bytes.lastIndexOf(Buffer.from('PK\x05\x06', 'latin1'));
  let at = bytes.readUInt32LE(end + 16);
  /** @type {Map<string, Buffer>} */
  const files = new Map();
  for (let count = bytes.readUInt16LE(end + 10); count > 0; count -= 1) {
    const packed = bytes.readUInt32LE(at + 20);
    const length = bytes.readUInt16LE(at + 28);
    const start = bytes.readUInt32LE(at + 42);
    const name = bytes.subarray(at + 46, at + 46 + length).toString();
    const body = start + 30 + bytes.readUInt16LE(start + 26) + bytes.readUInt16LE(start + 28);
    files.set(name, inflateRawSync(bytes.subarray(body, body + packed)));
    at += 46 + length;
  }
  return files;
}

test('every sheet has a picture, and those ticked are in the PDF', () => visit('tablet', async (page) => {
  await beginBowl(page);
  const all = await keys(page, true);
  const usual = await keys(page);
  // The lowest ring is the base's plies, which have a sheet of their own.
  assert.deepEqual(usual.slice(0, 5), ['cover', 'section', 'map', 'cuts', 'ring-2']);
  assert.ok(all.length > usual.length && usual.length > 8, `${all.length}, ${usual.length}`);
  await page.waitForFunction(() => [...document.querySelectorAll('#sheets img')].every(
    (image) => image instanceof HTMLImageElement && image.complete && image.naturalWidth > 0,
  ));
  // The pages are counted before the file is saved, and anew after a tick.
  await page.waitForFunction(() => /\d/.test(document.getElementById('paper-length')?.textContent ?? ''));
  const told = await page.locator('#paper-length').innerText();
  // A tap on a picture shows it large, and ticks nothing off.
  await page.locator('.sheet-look').nth(1).click();
  assert.equal(await page.locator('#sheet-dialog h2').innerText(), await page.locator('.sheet-title').nth(1).innerText());
  await page.waitForFunction(() => {
    const image = document.getElementById('sheet-large');
    return image instanceof HTMLImageElement && image.complete && image.naturalWidth > 0;
  });
  const large = await page.locator('#sheet-large').boundingBox();
  assert.ok(large && large.height > 400, `${large?.height}`);
  // From there the packet is leafed through as it is printed.
  assert.match(await page.locator('#sheet-says').innerText(), /^Page 2 of /);
  await page.click('#sheet-before');
  assert.equal(await page.locator('#sheet-dialog h2').innerText(), await page.locator('.sheet-title').nth(0).innerText());
  assert.ok(await page.locator('#sheet-before').isDisabled());
  const printed = Number(told.replace(/\D/g, ''));
  for (let turn = 1; turn < printed; turn += 1) await page.keyboard.press('ArrowRight');
  assert.equal(await page.locator('#sheet-says').innerText(), `Page ${printed} of ${printed}`);
  assert.ok(await page.locator('#sheet-after').isDisabled());
  await page.click('#sheet-dialog [data-close]');
  assert.deepEqual(await keys(page), usual);
  const whole = pageCount((await saved(page, () => page.click('#save-pdf'))).bytes);
  assert.equal(whole, printed, told);
  await page.click('#tick-none');
  await page.click('#save-pdf');
  await page.waitForFunction(() => document.getElementById('notices')?.textContent?.includes('Tick a sheet first'));
  await page.waitForFunction(() => document.getElementById('paper-length')?.textContent === '');
  await page.locator('[data-sheet=cuts]').check();
  await page.waitForFunction(() => document.getElementById('paper-length')?.textContent === '1 page');
  assert.equal(pageCount((await saved(page, () => page.click('#save-pdf'))).bytes), 1);
}));

test('what was ticked stays ticked, by keyboard too, and is no part of the design', () => visit('desktop', async (page) => {
  await beginBowl(page);
  const link = await address(page);
  await page.focus('[data-sheet=section]');
  await page.keyboard.press('Space');
  await page.click('[data-place=ring]');
  await page.click('[data-place=paper]');
  assert.equal((await keys(page)).includes('section'), false);
  await page.reload();
  await page.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
  assert.equal((await keys(page)).includes('section'), false);
  assert.equal((await keys(page)).includes('cover'), true);
  assert.equal(await address(page), link);
  await page.click('#tick-usual');
  assert.equal((await keys(page)).includes('section'), true);
}));

/** What a bowl that nobody named is called. */
const NAMED = 'Piece 10 in across, 4 in high';

test('single sheets, the cut list and everything come as files of their kind', () => visit('tablet', async (page) => {
  await beginBowl(page);
  await openFold(page, 'paper-more');
  const csv = await saved(page, () => page.click('#save-csv'));
  assert.equal(csv.name, `${NAMED}.csv`);
  assert.match(csv.bytes.toString(), /^piece,wood,thickness \(in\)/);
  // The card as a picture: a PNG as wide as told.
  const card = await saved(page, () => page.click('#save-card'));
  assert.equal(card.name, `${NAMED}.png`);
  assert.equal(card.bytes.subarray(1, 4).toString(), 'PNG');
  assert.deepEqual([card.bytes.readUInt32BE(16), card.bytes.readUInt32BE(20)], [1600, 1600]);
  const zip = await saved(page, () => page.click('#save-zip'));
  const files = unzipped(zip.bytes);
  assert.match(files.get('packet.pdf')?.toString('latin1') ?? '', /^%PDF-/);
  assert.equal(JSON.parse(files.get('design.ringwright.json')?.toString() ?? '').vessel.woods.length > 0, true);
  assert.match(files.get('svg/01-cover.svg')?.toString() ?? '', /<svg/);
  const dxf = await saved(page, () => page.click('#save-dxf'));
  assert.equal(dxf.name, `${NAMED}.zip`);
  assert.match(unzipped(dxf.bytes).get('template-outside.dxf')?.toString() ?? '', /SECTION[\s\S]*POLYLINE[\s\S]*EOF\s*$/);
  await page.click('#tick-none');
  await page.locator('[data-sheet=template-outside]').check();
  const single = await saved(page, () => page.click('#save-dxf'));
  // Its page with all that is said on it, and the template alone to be cut.
  assert.equal(single.name, `${NAMED}.zip`);
  assert.deepEqual([...unzipped(single.bytes).keys()], ['01-template-outside.dxf', 'template-outside.dxf']);
  const svg = await saved(page, () => page.click('#save-svg'));
  assert.equal(svg.name, `${NAMED}.svg`);
}));

test('sheets lie on their long side when asked to', () => visit('tablet', async (page) => {
  await beginBowl(page);
  await field(page, 'paper.orientation').selectOption('landscape');
  const { bytes } = await saved(page, () => page.click('#save-pdf'));
  assert.match(unpacked(bytes), /\/MediaBox\s*\[\s*0 0 792 612\s*\]/);
}));

/** A bowl by this name, at Paper. @param {Page} page @param {string} name */
async function beginNamed(page, name) {
  await page.click('#designs-button');
  await field(page, 'name').fill(name);
  await page.click('#designs-dialog [data-close]');
  await beginBowl(page);
}

const NAME = 'Чаша · Μπολ ⅜″';

test('paper takes its own typeface, which is loaded no sooner and then kept', () => visit('tablet', async (page, { context }) => {
  await page.waitForSelector('html[data-offline]');
  const loaded = () => page.evaluate(() => performance.getEntriesByType('resource').filter((it) => it.name.includes('/fonts/')).length);
  for (const place of ['vessel', 'wood', 'inlay', 'bench', 'ring']) await page.click(`[data-place=${place}]`);
  assert.equal(await loaded(), 0);
  assert.equal(await page.evaluate(async () => Boolean(await caches.match('./fonts/arimo.ttc'))), false);
  await beginNamed(page, NAME);
  const first = readText((await saved(page, () => page.click('#save-pdf'))).bytes);
  assert.ok(first.includes(NAME) && !first.includes('stand as ?'), first.slice(0, 200));
  assert.equal(await loaded(), 1);
  await context.setOffline(true);
  await page.reload();
  await untilReady(page);
  const next = readText((await saved(page, () => page.click('#save-pdf'))).bytes);
  assert.ok(next.includes(NAME), next.slice(0, 200));
  await openFold(page, 'paper-more');
  const zip = unzipped((await saved(page, () => page.click('#save-zip'))).bytes);
  assert.ok(readText(zip.get('packet.pdf') ?? Buffer.from('')).includes(NAME));
  assert.equal(await page.locator('.notice[data-name=typeface]').count(), 0);
}));

test('without its typeface the paper is made nevertheless, and what it lacks is said', () => visit('tablet', async (page, { context }) => {
  await page.waitForSelector('html[data-offline]');
  await page.reload();
  await untilReady(page);
  await context.setOffline(true);
  await beginNamed(page, NAME);
  const text = readText((await saved(page, () => page.click('#save-pdf'))).bytes);
  // Read aloud the name is whole; to the eye it is not, which is said beside it.
  assert.ok(text.includes('stand as ?'), text.slice(0, 200));
  assert.match(await note(page, 'typeface'), /could not be loaded/);
  // Where nothing is lacking, nothing is said.
  await page.click('#designs-button');
  await field(page, 'name').fill('Žluť bowl');
  await page.click('#designs-dialog [data-close]');
  const plain = readText((await saved(page, () => page.click('#save-pdf'))).bytes);
  assert.ok(plain.includes('Žluť bowl') && !plain.includes('stand as ?'), plain.slice(0, 200));
  assert.equal(await page.locator('.notice[data-name=typeface]').count(), 0);
  await context.setOffline(false);
}));

test('the single file has the typeface in it', () => visit('tablet', async (page) => {
  await beginNamed(page, NAME);
  const text = readText((await saved(page, () => page.click('#save-pdf'))).bytes);
  assert.ok(text.includes(NAME), text.slice(0, 200));
}, { address: singleFileAddress }));

test('a name in any script breaks nothing', () => visit('phone', async (page) => {
  await page.click('#designs-button');
  await field(page, 'name').fill('קערה 木 Žluť');
  await page.click('#designs-dialog [data-close]');
  await beginBowl(page);
  const { name, bytes } = await saved(page, () => page.click('#save-pdf'));
  assert.equal(name, 'קערה 木 Žluť.pdf');
  assert.ok(pageCount(bytes) > 8);
  await fitsTheScreen(page);
}));

for (const colorScheme of /** @type {const} */ (['light', 'dark'])) {
  test(`the place is open to all, ${colorScheme}`, () => visit(
    { viewport: { width: 1024, height: 768 }, hasTouch: true, colorScheme },
    async (page) => {
      await beginBowl(page);
      await openFold(page, 'paper-more');
      await axeClean(page);
      await fitsTheScreen(page);
    },
  ));
}

/** Waits until a sheet stands in view, or as far up as the page can be scrolled. @param {Page} page @param {string} key */
function untilInView(page, key) {
  return page.waitForFunction((id) => {
    const top = document.getElementById(id)?.getBoundingClientRect().top ?? -1;
    const isAtEnd = scrollY + innerHeight >= document.documentElement.scrollHeight - 1;
    return top >= 0 && (top < innerHeight / 2 || (isAtEnd && top < innerHeight));
  }, `sheet-${key}`);
}

for (const screen of /** @type {const} */ (['tablet', 'phone'])) {
  test(`from each place to its sheet on a ${screen}`, () => visit(screen, async (page) => {
    const go = async (/** @type {string} */ place, /** @type {string} */ key) => {
      await page.locator(`nav [data-place="${place}"]`).first().tap();
      await page.locator(`#${place} [data-part="sheet-${key}"]`).tap();
      await untilInView(page, key);
    };
    await go('ring', 'ring');
    await page.locator('nav [data-place="ring"]').first().tap();
    await page.tap('#ways [data-way="lantern_vase"]');
    for (const [place, key] of [['vessel', 'section'], ['wood', 'base'], ['inlay', 'inlay'], ['bench', 'order']]) {
      await go(place ?? '', key ?? '');
    }
  }));
}
