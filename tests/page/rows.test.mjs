// Many numbers one after the other: Next and Back on the keypad, Enter on keys, a row that is
// judged only as a whole, and a list in one go.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { axeClean, fitsTheScreen, picture, settled, visit } from './harness.mjs';
import { enter, entered, field, openFold, tapKeys } from './hands.mjs';

/** @typedef {import('playwright-core').Page} Page */

/** @param {number} place @param {string} name */
function key(place, name) {
  return `vessel.rings.${place}.measured.${name}`;
}

/** The field that is typed in. @param {Page} page */
function typedIn(page) {
  return page.evaluate(() => document.activeElement?.getAttribute('data-key'));
}

/** What each row holds, from the foot up. @param {Page} page */
function rows(page) {
  return page.locator('#glued-rows li').evaluateAll((lines) => lines.map(
    (line) => [...line.querySelectorAll('input')].map((input) => input.value)));
}

/** @param {Page} page */
async function begin(page) {
  await page.click('[data-place="vessel"]');
  await page.click('#starts [data-way=glued]');
}

for (const screen of ['phone', 'narrowPhone', 'tablet']) {
  test(`rings are entered by Next and Back alone on a ${screen}`, () => visit(screen, async (page) => {
    await page.tap('[data-place="vessel"]');
    await page.tap('#starts [data-way=glued]');
    for (const [at, sizes] of [['5', '3', '3/4'], ['6', '4', '3/4'], ['7', '5', '1/2']].entries()) {
      const [outside, inside, height] = sizes;
      assert.equal(await typedIn(page), key(at, 'outside_diameter_mm'));
      await tapKeys(page, outside ?? '', 'Next');
      assert.equal(await typedIn(page), key(at, 'inside_diameter_mm'));
      await tapKeys(page, inside ?? '', 'Next', height ?? '');
      if (at < 2) await tapKeys(page, 'New ring');
    }
    await tapKeys(page, 'Back');
    assert.equal(await typedIn(page), key(2, 'inside_diameter_mm'));
    await picture(page, `rows-${screen}`);
    await tapKeys(page, 'Done');
    assert.deepEqual(await rows(page), [['5', '3', '3/4'], ['6', '4', '3/4'], ['7', '5', '1/2']]);
    // The rim stands on top, as in the drawing.
    const tops = await page.locator('#glued-rows li').evaluateAll((lines) => lines.map((line) => line.getBoundingClientRect().top));
    assert.deepEqual(tops, [...tops].sort((one, other) => other - one));
    await fitsTheScreen(page);
  }));
}

test('a row that is half typed is not judged, and the table does not move', () => visit('phone', async (page) => {
  await begin(page);
  await enter(page, key(0, 'outside_diameter_mm'), '10');
  await enter(page, key(0, 'inside_diameter_mm'), '8 1/2');
  const before = await page.locator('#glued-rows').boundingBox();
  const scroll = await page.evaluate(() => scrollY);
  await field(page, key(0, 'outside_diameter_mm')).fill('5');
  await field(page, key(0, 'outside_diameter_mm')).press('Enter');
  assert.equal(await typedIn(page), key(0, 'inside_diameter_mm'), 'Enter goes on in the row');
  await settled(page);
  assert.equal(await page.locator('#glued-rows .field-message').count(), 0, 'it waits for its inside');
  assert.equal(await entered(page, key(0, 'outside_diameter_mm')), '5');
  assert.match(await page.innerText('#glued-says'), /./);
  const after = await page.locator('#glued-rows').boundingBox();
  const moved = (after?.y ?? 0) - (before?.y ?? 0) + await page.evaluate(() => scrollY) - scroll;
  assert.equal(Math.round(moved), 0, `the table moved by ${moved} px`);
  await field(page, key(0, 'inside_diameter_mm')).fill('3');
  await settled(page);
  assert.deepEqual((await rows(page))[0]?.slice(0, 2), ['5', '3']);
  // Left as it is, it is judged.
  await field(page, key(0, 'outside_diameter_mm')).fill('2');
  await page.locator('#glued-rows button').first().focus();
  await page.evaluate(() => document.activeElement instanceof HTMLElement && document.activeElement.blur());
  await page.locator('#glued-rows .field-message').waitFor();
  assert.match(await page.innerText('#glued-rows .field-message'), /3 in leaves no wall/);
}));

test('what waits in a half typed row is there after a reload', () => visit('tablet', async (page) => {
  await begin(page);
  await enter(page, key(0, 'outside_diameter_mm'), '10');
  await enter(page, key(0, 'inside_diameter_mm'), '8 1/2');
  await field(page, key(0, 'outside_diameter_mm')).fill('5');
  await page.waitForSelector('#kept-state[data-state="kept"]');
  await page.reload();
  await page.locator('html[data-ready="yes"]').waitFor();
  assert.equal(await entered(page, key(0, 'outside_diameter_mm')), '5');
}));

test('a list in one go is taken as rings, and says which number it cannot read', () => visit('tablet', async (page) => {
  await begin(page);
  await enter(page, key(0, 'outside_diameter_mm'), '5');
  await enter(page, key(0, 'inside_diameter_mm'), '3');
  await openFold(page, 'glued-many');
  await page.fill('#glued-many-entry', '6 4, 7z 5');
  await page.click('#glued-many button');
  assert.match(await page.innerText('#glued-many-says'), /^Ring 3: Outside: “z” has no meaning/);
  assert.equal(await page.inputValue('#glued-many-entry'), '6 4, 7z 5', 'nothing typed is lost');
  // Where the frame covers half a line by scrolling, its rest would count as a small target.
  await page.evaluate(() => scrollTo(0, 0));
  await axeClean(page);
  await page.fill('#glued-many-entry', '6 4, 6 1/2 4 1/2 1/2\n');
  await page.click('#glued-many button');
  assert.deepEqual((await rows(page)).map((row) => row.slice(0, 2)), [['5', '3'], ['6', '4'], ['6 1/2', '4 1/2']]);
  assert.equal((await rows(page))[2]?.[2], '1/2');
  assert.equal(await page.inputValue('#glued-many-entry'), '');
  await page.click('#undo');
  assert.equal((await rows(page)).length, 1, 'one step');
  await picture(page, 'rows-list');
}));
