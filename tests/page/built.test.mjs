// As built, in the Bench place: from seven measured rings to a curve that can be pulled and
// that stops where the rings end.

import assert from 'node:assert/strict';
import test from 'node:test';
import { address, enter, entered, field, tapKeys, tells } from './hands.mjs';
import { axeClean, fitsTheScreen, picture, visit } from './harness.mjs';

/** @typedef {import('playwright-core').Page} Page */

/** Outside and inside of seven rings, typed as they stand on the caliper. */
const RINGS = [
  ['120', '0'], ['160', '96'], ['190', '128'], ['205', '150'], ['200', '146'], ['180', '124'], ['165', '104'],
];

const MILLIMETERS = { locale: 'de-DE' };
const TABLET = { ...MILLIMETERS, viewport: { width: 1024, height: 768 }, hasTouch: true };
const PHONE = { ...MILLIMETERS, viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };

/** @param {Page} page */
async function openBench(page) {
  await page.click('[data-place="bench"]');
}

/**
 * Enters the rings without the keypad.
 * @param {Page} page
 */
async function enterRings(page) {
  for (const [at, [outside, inside]] of RINGS.entries()) {
    await page.click('#built-add');
    await enter(page, `measured.${at}.outside_diameter_mm`, outside ?? '');
    await enter(page, `measured.${at}.inside_diameter_mm`, inside ?? '');
    if (at === 0) await enter(page, 'measured.0.height_mm', '19');
  }
}

/** @param {Page} page */
function says(page) {
  return page.innerText('#built-says');
}

/**
 * The points' labels: height and diameter.
 * @param {Page} page
 */
function points(page) {
  return page.locator('#built-section .handle').evaluateAll(
    (handles) => handles.map((handle) => handle.getAttribute('aria-label') ?? ''),
  );
}

/**
 * Drags a point by so many pixels.
 * @param {Page} page
 * @param {number} place
 * @param {number} right
 * @param {number} down
 */
async function drag(page, place, right, down) {
  const handle = page.locator('#built-section .handle').nth(place);
  await handle.scrollIntoViewIfNeeded();
  const box = await handle.boundingBox();
  assert.ok(box);
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let step = 1; step <= 6; step += 1) await page.mouse.move(x + (right * step) / 6, y + (down * step) / 6);
  await page.mouse.up();
}

test('seven rings typed by touch become a curve', () => visit(TABLET, async (page) => {
  await openBench(page);
  assert.equal(await page.isVisible('#bench-empty'), true, 'it works with no vessel planned');
  for (const [at, [outside, inside]] of RINGS.entries()) {
    await page.tap('#built-add');
    // The new ring's outside is asked for at once.
    const typed = await page.evaluate(() => document.activeElement?.getAttribute('data-key'));
    assert.equal(typed, `measured.${at}.outside_diameter_mm`);
    await tapKeys(page, 'Clear', ...(outside ?? ''), 'Done');
    await field(page, `measured.${at}.inside_diameter_mm`).tap();
    await tapKeys(page, 'Clear', ...(inside ?? ''), 'Done');
  }
  assert.match(await says(page), /^It (just )?fits/);
  assert.ok((await points(page)).length >= 4);
  await page.tap('#built-take');
  assert.equal(await page.isVisible('#built-take'), false);
  await axeClean(page);
  await fitsTheScreen(page);
  await page.locator('#as-built').scrollIntoViewIfNeeded();
  await picture(page, 'built-tablet');
}));

test('on a phone a tap lands where it is meant to while the keypad is open', () => visit(PHONE, async (page) => {
  await openBench(page);
  for (const [at, [outside]] of RINGS.entries()) {
    await page.tap('#built-add');
    await tapKeys(page, 'Clear', ...(outside ?? ''));
    assert.equal(await page.isVisible('#keypad'), true);
    assert.equal(await page.locator('#built-rows li').count(), at + 1);
  }
  await page.tap('#built-rows li:first-child button');
  await page.locator('#keypad').waitFor({ state: 'hidden' });
  assert.equal(await page.locator('#built-ring').isVisible(), true);
}));

test('the curve is pulled by pointer and by keys, and stops where the rings end', () => visit(TABLET, async (page) => {
  await openBench(page);
  await enterRings(page);
  const start = await points(page);
  await drag(page, 2, 400, 0);
  const pulled = await points(page);
  assert.notDeepEqual(pulled, start, 'it moved');
  assert.match(await says(page), /^It (just )?fits/);
  // 400 pixels farther right would be far beyond the rings' 205 mm.
  const diameter = Number((/diameter ([\d.]+)/.exec(pulled[2] ?? '') ?? [])[1]);
  assert.ok(diameter > 150 && diameter <= 205, `diameter ${diameter}`);
  // One drag is one step of undo, and with it the curve that was made is back.
  await page.click('#undo');
  assert.deepEqual(await points(page), start);
  await page.click('#redo');
  assert.deepEqual(await points(page), pulled);
  // Keys pull too, and the rings stop them as well.
  const handle = page.locator('#built-section .handle').nth(2);
  await handle.focus();
  for (let press = 0; press < 5; press += 1) await page.keyboard.press('ArrowLeft');
  assert.notDeepEqual(await points(page), pulled);
  for (let press = 0; press < 60; press += 1) await page.keyboard.press('ArrowRight');
  assert.match(await says(page), /^It (just )?fits/);
}));

test('what is measured survives a reload and travels in the link', () => visit(PHONE, async (page, { context }) => {
  await openBench(page);
  await enterRings(page);
  await page.click('#built-take');
  const [before, hash] = [await points(page), await address(page)];
  await page.reload();
  await page.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
  assert.equal(await entered(page, 'measured.3.outside_diameter_mm'), '205');
  assert.deepEqual(await points(page), before);
  await axeClean(page);
  await fitsTheScreen(page);
  await picture(page, 'built-phone');
  const other = await context.browser()?.newContext(PHONE);
  assert.ok(other);
  const shared = await other.newPage();
  await shared.goto(new URL(hash, page.url()).href);
  await shared.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
  await openBench(shared);
  assert.deepEqual(await points(shared), before);
  await other.close();
}));

test('a ring too small is told, the nearest curve is offered, and Vessel is cautioned', () => visit(TABLET, async (page) => {
  await openBench(page);
  await enterRings(page);
  await page.click('#built-take');
  await enter(page, 'measured.3.outside_diameter_mm', '178');
  assert.match(await says(page), /^It does not fit: [\d.]+ mm is missing outside, at a height of/);
  assert.equal(await page.locator('#built-section [data-name="nearest"]').count(), 1);
  await page.click('[data-place="vessel"]');
  assert.match(await page.innerText('#vessel-cautions'), /Ring 4: As measured, it leaves/);
  await page.click('[data-place="bench"]');
  await page.click('#built-take');
  assert.match(await says(page), /^It (just )?fits/);
  await page.click('[data-place="vessel"]');
  assert.doesNotMatch(await page.innerText('#vessel-cautions'), /As measured/);
}));

test('bad readings are told at their field and nothing is lost', () => visit(TABLET, async (page) => {
  await openBench(page);
  await page.click('#built-add');
  assert.match(await says(page), /./, 'one ring alone says something');
  await enter(page, 'measured.0.inside_diameter_mm', '900');
  await tells(page, 'measured.0.inside_diameter_mm', /leaves no wall/);
  await enter(page, 'measured.0.inside_diameter_mm', 'about ten');
  assert.equal(await entered(page, 'measured.0.inside_diameter_mm'), 'about ten');
  await tells(page, 'measured.0.inside_diameter_mm', /about/);
  await enter(page, 'measured.0.inside_diameter_mm', '200');
  await enter(page, 'measured.0.height_mm', '');
  await tells(page, 'measured.0.height_mm', /not measured/);
  await fitsTheScreen(page);
}));

test('planned rings are taken and one of them corrected; rings change places by keys', () => visit(TABLET, async (page) => {
  await page.click('[data-place="vessel"]');
  await page.click('[data-start="bowl"]');
  await openBench(page);
  await page.click('#built-planned');
  assert.equal(await page.isVisible('#built-planned'), false);
  assert.match(await says(page), /^It (just )?fits/);
  const shown = await field(page, 'measured.2.outside_diameter_mm').getAttribute('placeholder');
  assert.ok(Number(shown) > 50, `planned ${shown}`);
  const small = String(Number(shown) - 14);
  await enter(page, 'measured.2.outside_diameter_mm', small);
  assert.match(await says(page), /^It does not fit/);
  const second = page.locator('.built-line button').nth(1);
  await second.focus();
  await page.keyboard.press('Enter');
  assert.equal(await page.isVisible('#built-ring'), true);
  await page.locator('#built-up').focus();
  await page.keyboard.press('Enter');
  assert.equal(await entered(page, 'measured.1.outside_diameter_mm'), small);
  // Where the frame covers half a line by scrolling, its rest would count as a small target.
  await page.evaluate(() => scrollTo(0, 0));
  await axeClean(page);
}));
