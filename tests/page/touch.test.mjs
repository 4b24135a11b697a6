// The piece is the menu: what is touched on its drawing gets its panel, in view beside it.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { act, beginWith, enter, entered, field, touchRing } from './hands.mjs';
import { axeClean, fitsTheScreen, picture, settled, visit } from './harness.mjs';

/** @typedef {import('playwright-core').Page} Page */

/** Where a thing stands on the drawing, as the keyboard finds it. @param {Page} page @param {RegExp} label */
async function placeOf(page, label) {
  const all = page.locator('#section-things > [role=option]');
  const labels = await all.evaluateAll((things) => things.map((each) => each.getAttribute('aria-label') ?? ''));
  const at = labels.findIndex((each) => label.test(each));
  assert.ok(at >= 0, `${label} is not among ${labels.join(', ')}`);
  const box = await all.nth(at).boundingBox();
  if (!box) throw new Error(`${label} is not on the drawing`);
  return box;
}

/** A finger's tap on a thing's middle. @param {Page} page @param {RegExp} label */
async function touch(page, label) {
  // As a hand scrolls the drawing clear of the panel.
  await page.locator('#section-things').getByLabel(label).evaluate((thing) => thing.scrollIntoView({ block: 'nearest' }));
  const { x, y, width, height } = await placeOf(page, label);
  await page.touchscreen.tap(x + width / 2, y + height / 2);
}

/** What the arrow keys have come to on the drawing. @param {Page} page */
function current(page) {
  return page.evaluate(() => {
    const at = document.activeElement?.getAttribute('aria-activedescendant') ?? '';
    return document.getElementById(at)?.getAttribute('aria-label') ?? '';
  });
}

/** @param {Page} page */
function title(page) {
  return page.locator('#panel-title').innerText();
}

/** Fails unless the panel's head is in view and does not lie over the thing. @param {Page} page @param {RegExp} label */
async function standsBeside(page, label) {
  const thing = await placeOf(page, label);
  const panel = await page.locator('#panel').boundingBox();
  const head = await page.locator('#panel-title').boundingBox();
  const size = page.viewportSize();
  assert.ok(panel && head && size, 'there is a panel');
  assert.ok(head.y >= 0 && head.y + head.height <= size.height, `its head is at ${head.y} of ${size.height}`);
  const isApart = thing.x + thing.width <= panel.x || thing.y + thing.height <= panel.y;
  assert.ok(isApart, `the panel lies over ${label}`);
  assert.ok(thing.y >= 56 && thing.y + thing.height <= size.height, `${label} is out of view`);
}

for (const device of /** @type {const} */ (['tablet', 'phone'])) {
  test(`what is touched gets its panel beside it on a ${device}`, () => visit(device, async (page) => {
    await page.tap('#ways [data-way="lantern_vase"]');
    await page.locator('#section svg').waitFor();
    const asked = [
      [/^Ring 4,/, 'Ring 4'], [/^Ring 13,/, 'Ring 13'], [/^Where/, 'Where the halves meet'], [/^Floor/, 'Floor'],
    ];
    for (const [label, name] of asked) {
      await touch(page, /** @type {RegExp} */ (label));
      assert.equal(await title(page), name);
      await standsBeside(page, /** @type {RegExp} */ (label));
      await fitsTheScreen(page);
    }
    // A strip in its slot, the turned half being its.
    const strip = page.locator('#section [data-name^="strip-0-"]').first();
    await strip.evaluate((path) => path.dispatchEvent(new MouseEvent('click', { bubbles: true })));
    assert.equal(await page.locator('#panel-fields [data-key="vessel.slot_sets.0.slot_count"]').count(), 1);
    assert.match(await title(page), /rings 7–8/);
    await page.locator('.handle').nth(2).tap();
    assert.equal(await title(page), 'Point 3 of 7');
    await picture(page, `touch-${device}`);
    await axeClean(page);
    await page.tap('#panel-close');
    assert.ok(await page.locator('#panel').isHidden());
  }));
}

test('a swipe beside a point or over the piece moves the page, and nothing else', () => visit('phone', async (page, { context }) => {
  await page.tap('#ways [data-way="bowl"]');
  await page.locator('#section svg').waitFor();
  const hands = await context.newCDPSession(page);
  await page.locator('#undo[aria-label="Undo: a shape begun"]').waitFor();
  const swipe = async (/** @type {number} */ x, /** @type {number} */ y) => {
    const before = await page.evaluate(() => scrollY);
    await hands.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ x, y }] });
    for (let step = 1; step <= 10; step += 1) {
      await hands.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: [{ x, y: y - 12 * step }] });
    }
    await hands.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    await page.waitForFunction((was) => scrollY > was + 40, before);
    assert.equal(await page.locator('#undo').getAttribute('aria-label'), 'Undo: a shape begun', 'nothing was changed');
    assert.ok(await page.locator('#panel').isHidden(), 'nothing was opened');
  };
  const handle = await page.locator('.handle').nth(2).boundingBox();
  if (!handle) throw new Error('no handle');
  await swipe(handle.x + 24 - 18, handle.y + 24);
  await page.locator('#three').scrollIntoViewIfNeeded();
  const three = await page.locator('#three').boundingBox();
  if (!three) throw new Error('no piece');
  await swipe(three.x + three.width / 2, three.y + three.height - 20);
}));

test('Wood, Inlay and Bench lead back to the thing on the drawing', () => visit('tablet', async (page) => {
  await page.tap('#ways [data-way="lantern_vase"]');
  const title = page.locator('#panel-title');
  const backFrom = async (/** @type {string} */ place, /** @type {string} */ button) => {
    await page.tap(`[data-place=${place}]`);
    await page.locator(button).tap();
    assert.ok(await page.locator('#section').isVisible());
    return title.innerText();
  };
  assert.equal(await backFrom('wood', '#base-on-drawing'), 'Floor');
  assert.match(await backFrom('inlay', '#inlay-on-drawing'), /^Slots 1: /);
  await page.tap('[data-place=bench]');
  const sawn = page.locator('.step-fold', { hasText: 'Saw the segments' });
  await sawn.locator('.fold-title').tap();
  await sawn.locator('.step-title').first().tap();
  assert.equal(await backFrom('bench', '.step-body .actions button:has-text("On the drawing")'), 'Ring 1');
}));

test('a tap beside a dot takes what lies there, a pull the point', () => visit('tablet', async (page) => {
  await page.tap('#ways [data-way="bowl"]');
  await page.locator('#section svg').waitFor();
  const handle = await page.locator('.handle').nth(1).boundingBox();
  if (!handle) throw new Error('no handle');
  const [x, y] = [handle.x + 24, handle.y + 24];
  // Within the finger's room of the dot, but on the ring.
  await page.touchscreen.tap(x + 20, y);
  assert.match(await title(page), /^Ring \d/);
  const before = await entered(page, 'vessel.diameter_mm');
  await page.mouse.move(x + 20, y);
  await page.mouse.down();
  await page.mouse.move(x + 45, y - 10, { steps: 3 });
  await page.mouse.up();
  assert.equal(await title(page), 'Point 2 of 5');
  assert.equal(await page.locator('#undo').isDisabled(), false);
  assert.equal(await entered(page, 'vessel.diameter_mm'), before);
}));

test('a point is set to the hair by typing, within its neighbors', () => visit('tablet', async (page) => {
  await page.tap('#ways [data-way="bowl"]');
  await page.locator('.handle').nth(2).tap();
  await enter(page, 'vessel.points.2.diameter_mm', '8.703');
  await enter(page, 'vessel.points.2.height_mm', '1 1/2');
  assert.match(await page.locator('.handle').nth(2).getAttribute('aria-label') ?? '', /height 1 1\/2 in/);
  const diameter = await entered(page, 'vessel.points.2.diameter_mm');
  assert.match(diameter, /8\.703/);
  await enter(page, 'vessel.points.2.height_mm', '30');
  assert.equal(await field(page, 'vessel.points.2.height_mm').getAttribute('aria-invalid'), 'true');
  assert.equal(await entered(page, 'vessel.points.2.height_mm'), '30');
}));

test('a base is let into ring 2 from the drawing in three taps', () => visit('phone', async (page) => {
  await page.tap('#ways [data-way="bowl"]');
  await page.locator('#section svg').waitFor();
  await touch(page, /^Ring 2,/);
  await page.locator('#panel-acts').getByRole('button', { name: 'Let a base into it' }).tap();
  assert.equal(await title(page), 'Floor');
  assert.equal(await entered(page, 'base.in_ring'), '2');
  assert.equal(await entered(page, 'base.set'), 'let_in');
  // The floor went up with it: it lies above the wood that carries it.
  assert.doesNotMatch(await page.locator('#panel').innerText(), /turned away/);
  await touch(page, /^Ring 2,/);
  await page.locator('#panel-acts').getByRole('button', { name: 'Its base' }).tap();
  assert.equal(await title(page), 'Floor');
}));

test('where the halves meet is moved on the drawing, and taken back', () => visit('tablet', async (page) => {
  await page.tap('#ways [data-way="vase"]');
  await page.locator('#section svg').waitFor();
  const onDrawing = async () => Number.parseFloat(
    await page.locator('#section-things').getByLabel(/^Where/).evaluate((thing) => thing.style.top));
  const before = await onDrawing();
  await touch(page, /^Where/);
  await page.locator('#panel-acts').getByRole('button', { name: 'Higher' }).tap();
  assert.ok(await onDrawing() < before - 2, 'the joint is not above where it was');
  assert.equal(await title(page), 'Where the halves meet');
  await page.locator('#panel-acts').getByRole('button', { name: 'Choose for me' }).tap();
  assert.equal(await onDrawing(), before);
}));

test('every thing on the drawing is reached by keys, and named', () => visit('tablet', async (page) => {
  await page.tap('#ways [data-way="lantern_vase"]');
  await page.locator('#section svg').waitFor();
  const all = page.locator('#section-things > [role=option]');
  const count = await all.count();
  assert.ok(count >= 17, `${count} things`);
  await page.locator('#section-things').focus();
  /** @type {string[]} */
  const names = [];
  for (let at = 0; at < count; at += 1) {
    names.push(await current(page));
    if (at < count - 1) await page.keyboard.press('ArrowDown');
  }
  assert.equal(new Set(names).size, count, 'each has a name of its own');
  for (const name of [/^Ring 1,/, /^Ring 15,/, /^Where/, /^Floor/]) assert.ok(names.some((each) => name.test(each)), `${name}`);
  await page.keyboard.press('Enter');
  assert.notEqual(await title(page), '');
  assert.equal(await page.evaluate(() => document.activeElement?.id), 'panel-title');
  await page.keyboard.press('Escape');
  assert.ok(await page.locator('#panel').isHidden());
  assert.equal(await current(page), names.at(-1));
}));

for (const device of /** @type {const} */ (['tablet', 'phone', 'narrowPhone', 'uprightTablet'])) {
  test(`the keypad covers neither the field of the panel nor the thing: ${device}`, () => visit(device, async (page) => {
    await page.locator('#ways [data-way="lantern_vase"]').click();
    await page.locator('#section svg').waitFor();
    await touch(page, /^Ring 4,/);
    await page.locator('#panel-fields [data-key="vessel.rings.3.height_mm"]').click();
    await page.locator('#keypad').waitFor();
    await page.evaluate(() => new Promise((done) => { requestAnimationFrame(() => requestAnimationFrame(done)); }));
    const box = async (/** @type {string} */ what) => {
      const found = await page.locator(what).boundingBox();
      if (!found) throw new Error(`${what} is not there`);
      return found;
    };
    const [pad, entry, panel] = [await box('#keypad'), await box('#panel-fields input:focus'), await box('#panel')];
    assert.ok(entry.y + entry.height <= pad.y + 1 || entry.x + entry.width <= pad.x, `the field ends at ${entry.y + entry.height}, the keypad begins at ${pad.y}`);
    assert.ok(entry.y >= 56, `the field is at ${entry.y}`);
    const thing = await placeOf(page, /^Ring 4,/);
    const isBeside = thing.x + thing.width <= panel.x;
    assert.ok(isBeside || thing.y + thing.height <= panel.y + 1, `ring 4 ends at ${thing.y + thing.height}, the panel begins at ${panel.y}`);
    assert.ok(thing.y + thing.height > 56, 'ring 4 is under the top');
    // A point low on the curve comes up too.
    await page.locator('#keypad button', { hasText: 'Done' }).click();
    await page.locator('#panel-close').click();
    await page.locator('#section .handle').nth(1).click();
    await page.locator('#panel-fields input').first().click();
    await page.locator('#keypad').waitFor();
    await page.evaluate(() => new Promise((done) => { requestAnimationFrame(() => requestAnimationFrame(done)); }));
    const [point, over] = [await box('#section .handle:nth-child(2 of .handle)'), await box('#panel')];
    const middle = point.y + point.height / 2;
    assert.ok(over.x > point.x + point.width || (middle < over.y && middle > 56), `the point is at ${middle}, the panel begins at ${over.y}`);
  }));
}

for (const device of /** @type {const} */ (['tablet', 'phone'])) {
  test(`a finger hits each row of the outside unrolled on a ${device}`, () => visit(device, async (page) => {
    await page.tap('#ways [data-way="lantern_vase"]');
    await page.locator('#unrolled svg').scrollIntoViewIfNeeded();
    const rows = page.locator('#unrolled [data-name$="-0"][data-name^="cell-"]');
    const names = await rows.evaluateAll((cells) => [...new Set(cells.map((cell) => cell.getAttribute('data-name')))]);
    const heights = await rows.evaluateAll((cells) => cells.map((cell) => cell.getBoundingClientRect().height));
    assert.ok(names.length > 12 && Math.min(...heights) >= 23.9, `${names.length} rows of ${Math.min(...heights)} px and more`);
    await fitsTheScreen(page);
    await picture(page, `touch-rows-${device}`);
    // Off the middle by most of half a row, as a finger comes down; these rings have none of that wood.
    await page.locator('#swatches .swatch').last().tap();
    for (const name of names.slice(5, 8)) {
      const cell = page.locator(`#unrolled [data-name="${name}"]`).first();
      await cell.scrollIntoViewIfNeeded();
      const box = await cell.boundingBox();
      if (!box) throw new Error(`${name} is not drawn`);
      await page.touchscreen.tap(box.x + box.width / 2, box.y + box.height / 2 + 8);
      const own = `ring ${Number(name?.split('-')[1]) + 1} `;
      await page.waitForFunction((ring) => document.getElementById('undo')?.title.toLowerCase().includes(ring), own);
    }
  }));
}

test('a segment tapped in the outside unrolled stays under the finger on a tablet', () => visit('tablet', async (page) => {
  await page.tap('#ways [data-way="bowl"]');
  await page.locator('#section svg').waitFor();
  await page.locator('#swatches button', { hasText: 'Purpleheart' }).tap();
  const cell = page.locator('#unrolled [data-name="cell-1-4"]').first();
  await page.locator('#unrolled').evaluate((own) => own.scrollIntoView({ block: 'end' }));
  const column = page.locator('.beside-drawing');
  await column.evaluate((own) => { own.scrollTop = own.scrollHeight; });
  const before = await cell.boundingBox();
  assert.ok(before);
  await page.touchscreen.tap(before.x + before.width / 2, before.y + before.height / 2);
  await page.locator('#panel-title', { hasText: /^Ring 2\b/ }).waitFor();
  const after = await cell.boundingBox();
  assert.ok(after && Math.abs(after.y - before.y) < 1, `it went from ${before.y} to ${after?.y}`);
  assert.ok(await page.evaluate(() => scrollY) > 0, 'the page was scrolled');
  assert.equal(await column.evaluate((own) => own.scrollTop), 0);
}));

for (const device of /** @type {const} */ (['tablet', 'phone'])) {
  test(`a segment that is touched opens its ring, with a wood in hand it is painted, on a ${device}`, () => visit(device, async (page) => {
    await page.tap('#ways [data-way="bowl"]');
    const cell = page.locator('#unrolled [data-name="cell-2-3"]').first();
    const undo = () => page.locator('#undo').getAttribute('aria-label');
    const title = page.locator('#panel-title', { hasText: /^Ring 3\b/ });
    const wood = page.locator('#swatches .swatch', { hasText: 'Purpleheart' });
    await page.locator('#undo[aria-label="Undo: a shape begun"]').waitFor();
    const begun = await undo();
    await cell.tap();
    await title.waitFor();
    assert.equal(await undo(), begun, 'nothing is painted');
    await page.locator('#panel-close').tap();
    await wood.tap();
    assert.match(await page.locator('#vessel-tap').innerText(), /^Purpleheart is in hand/);
    await cell.tap();
    await page.waitForFunction((old) => document.getElementById('undo')?.getAttribute('aria-label') !== old, begun);
    const painted = await undo();
    assert.match(painted ?? '', /ring 3/i);
    await wood.tap();
    assert.equal(await wood.getAttribute('aria-pressed'), 'false');
    await page.locator('[data-pattern="all"]').tap();
    assert.match(await page.locator('#step-says').innerText(), /Take a wood in hand first/);
    await cell.tap();
    await title.waitFor();
    assert.equal(await undo(), painted, 'the wood is put down');
  }));
}

for (const device of /** @type {const} */ (['tablet', 'phone'])) {
  test(`a ring is painted from its panel, the drawing in view, on a ${device}`, () => visit(device, async (page) => {
    await beginWith(page, 'lantern_vase');
    await touchRing(page, 11);
    const swatches = page.locator('#panel-swatches button');
    const size = page.viewportSize();
    assert.ok(size);
    const isSeen = async (/** @type {import('playwright-core').Locator} */ own) => {
      const box = await own.boundingBox();
      assert.ok(box);
      return box.y >= 56 && box.y + box.height <= size.height;
    };
    assert.ok(await isSeen(swatches.first()), 'the woods are in view when the panel opens');
    // As far down the panel as it goes they still are, and on a tablet so is the piece.
    await page.locator('#panel-links').scrollIntoViewIfNeeded();
    assert.ok(await isSeen(swatches.first()), 'the woods stay in view');
    if (device === 'tablet') assert.ok(await isSeen(page.locator('#three')), 'the piece stays in view');
    await swatches.nth(2).tap();
    assert.equal(await swatches.nth(2).getAttribute('aria-pressed'), 'true');
    const cell = page.locator('#section [data-name^="cell-10-"]').first();
    const before = await cell.evaluate((path) => path.outerHTML);
    await cell.evaluate((path) => path.dispatchEvent(new MouseEvent('click', { bubbles: true })));
    await settled(page);
    const after = await page.locator('#section [data-name^="cell-10-"]').first().evaluate((path) => path.outerHTML);
    assert.notEqual(after, before);
    await page.locator('#undo[aria-label="Undo: ring 11 Wenge"]').waitFor();
    assert.equal(await title(page), 'Ring 11', 'its panel stays open');
    // What may be done stands under headings; each ring has its number on the unrolled outside.
    assert.deepEqual(await page.locator('#panel-acts h3').allInnerTexts(), ['Its woods', 'Its segments', 'In the stack']);
    const numbers = await page.locator('#unrolled svg text').allTextContents();
    assert.deepEqual(numbers.map((each) => Number(each.trim())).sort((a, b) => a - b), Array.from({ length: 15 }, (_, at) => at + 1));
    await fitsTheScreen(page);
    await axeClean(page);
    await picture(page, `paint-${device}`);
  }));
}

test('rings above a lowered rim are told at the rim and taken away in one act', () => visit('tablet', async (page) => {
  await beginWith(page, 'lantern_vase');
  await enter(page, 'vessel.height_mm', '7 1/3');
  await page.locator('#section .handle').last().tap();
  assert.match(await page.locator('#panel-says').innerText(), /^4 rings stand above the rim/);
  // No tape has it: told in its steps, with what is left over.
  assert.equal(await entered(page, 'vessel.points.6.height_mm'), '7 5/16 +0.021');
  await act(page, 'remove_above_rim');
  assert.equal(await page.innerText('#step-says'), 'Done: 15 to 11 rings');
  assert.equal(await page.locator('#panel-says').innerText(), '');
  await page.click('#undo');
  assert.equal(await page.locator('#panel-acts [data-act="remove_above_rim"]').count(), 1);
}));

test('designs without a name are told apart, and a pair of slots says that it is one', () => visit('tablet', async (page) => {
  await beginWith(page, 'lantern_vase');
  await page.tap('[data-place=inlay]');
  await page.locator('#inlay-along').waitFor();
  assert.match(await page.locator('#inlay-along').innerText(), /zigzag with set 2/);
  await enter(page, 'vessel.slot_sets.0.slot_count', '12');
  assert.equal(await page.innerText('#step-says'), 'Done: both sets of the zigzag: Slots 12');
  await page.locator('#undo[aria-label="Undo: both sets of the zigzag: Slots 12"]').waitFor();
  for (const shape of ['bowl', 'platter']) {
    await page.tap('#designs-button');
    await page.locator(`#designs-dialog [data-way="${shape}"]`).tap();
    await page.locator('#section svg').waitFor();
  }
  await page.tap('#designs-button');
  await page.waitForFunction(() => document.querySelectorAll('#design-list li').length >= 3);
  const lines = await page.locator('#design-list li .about').allInnerTexts();
  assert.ok(lines.every((each) => /\d+ (rings|segments), .* · /s.test(each)), lines.join('\n'));
  const sizes = lines.map((each) => each.replace(/ · .*$/s, ''));
  assert.equal(new Set(sizes).size, sizes.length, sizes.join('\n'));
}));

test('on a phone the row that is touched in the outside unrolled stays in view over its panel', () => visit('phone', async (page) => {
  await page.tap('[data-place=vessel]');
  await beginWith(page, 'bowl');
  const cell = page.locator('#unrolled [data-name^="cell-3-"]').first();
  await page.evaluate(() => document.getElementById('unrolled')?.scrollIntoView({ block: 'center' }));
  await settled(page);
  const before = await cell.boundingBox();
  assert.ok(before);
  await page.touchscreen.tap(before.x + before.width / 2, before.y + before.height / 2);
  await page.locator('#panel-title', { hasText: 'Ring 4' }).waitFor();
  await settled(page);
  const [row, panel] = [await cell.boundingBox(), await page.locator('#panel').boundingBox()];
  assert.ok(row && panel);
  assert.ok(row.y > 0 && row.y + row.height <= panel.y, `${JSON.stringify(row)} over ${JSON.stringify(panel)}`);
}));
