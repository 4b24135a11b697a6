// Slots through a stack: set up by hand, kept, shared, undone, printed, and seen in three
// dimensions exactly where they are.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { axeClean, fitsTheScreen, picture, screens, settled, visit } from './harness.mjs';
import { address, enter, entered, field, keptDesigns, putAway, read, saved, tells, unpacked } from './hands.mjs';

/** @typedef {import('playwright-core').Page} Page */

const set = (/** @type {string} */ name, place = 0) => `vessel.slot_sets.${place}.${name}`;

/**
 * A vessel of this shape, and a set of slots.
 * @param {Page} page
 * @param {string} [shape]
 */
async function begin(page, shape = 'closed') {
  await page.tap('[data-place=vessel]');
  await page.tap(`#starts [data-way=${shape}]`);
  await page.tap('[data-place=inlay]');
  await page.tap('[data-slots="one_way"]');
  await page.locator('#band svg').waitFor();
}

/** The open design. @param {Page} page */
async function kept(page) {
  await putAway(page);
  const all = Object.values(await keptDesigns(page)).filter((each) => each.design.vessel);
  return all[0].design;
}

/**
 * A finger moves a handle.
 * @param {Page} page
 * @param {string} box
 * @param {number} number of the handle in its box
 * @param {[number, number]} way
 */
async function drag(page, box, number, [across, down]) {
  const handle = page.locator(`#${box} .handle`).nth(number);
  await handle.scrollIntoViewIfNeeded();
  const at = await handle.boundingBox();
  assert.ok(at);
  const [x, y] = [at.x + at.width / 2, at.y + at.height / 2];
  const hands = await page.context().newCDPSession(page);
  const touch = (/** @type {number} */ share) => [{ x: x + across * share, y: y + down * share, id: 1 }];
  await hands.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: touch(0) });
  for (const share of [0.25, 0.5, 0.75, 1]) {
    await hands.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: touch(share) });
    await settled(page);
  }
  await hands.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
  await settled(page);
}

test('set up by touch, kept over a reload, shared, undone', () => visit('tablet', async (page, { origin, context }) => {
  await begin(page);
  assert.equal(await entered(page, set('slot_count')), '6');
  assert.equal(await entered(page, set('gauge_deg')), '30');
  assert.equal((await read(page, 'slot.index')).shown, 60);
  const before = Number(await entered(page, set('further_deg')));
  await drag(page, 'band', 0, [60, 0]);
  const placed = Number(await entered(page, set('further_deg')));
  assert.ok(placed > before + 2, `${before}° became ${placed}°`);
  await drag(page, 'band', 1, [70, 0]);
  const leaned = Number(await entered(page, set('gauge_deg')));
  assert.ok(leaned > 33, `30° became ${leaned}°`);
  // One drag is one step back. (By mouse: a tap right after a drag can be lost by a browser under load.)
  await page.click('#undo');
  assert.equal(await entered(page, set('gauge_deg')), '30');
  await page.click('#undo');
  assert.equal(Number(await entered(page, set('further_deg'))), before);
  await page.click('#redo');
  await page.click('#redo');
  assert.equal(Number(await entered(page, set('gauge_deg'))), leaned);
  // To the left past upright, the lean changes its side.
  await drag(page, 'band', 1, [-260, 0]);
  assert.equal(await entered(page, set('leans')), 'left');
  // At the lean that it began with, for which there is a blade.
  await page.click('#undo');
  await page.click('#undo');
  // The blade by its own scale.
  assert.equal(await entered(page, set('blade_mm')), '');
  await drag(page, 'blade', 0, [0, -60]);
  assert.notEqual(await entered(page, set('blade_mm')), '');
  await page.tap('#inlay-zigzag');
  await page.locator('#inlay-sets button').nth(1).tap();
  assert.equal(await entered(page, set('leans', 1)), 'left');
  const design = await kept(page);
  assert.equal(design.vessel.slot_sets.length, 2);
  // It stands on every view: both unrolled surfaces' band, and Vessel's own two drawings.
  await page.tap('[data-place=vessel]');
  for (const drawing of ['#section', '#unrolled']) {
    assert.ok(await page.locator(`${drawing} [data-name^=strip-0-]`).count() > 0, drawing);
    assert.ok(await page.locator(`${drawing} [data-name^=strip-1-]`).count() > 0, drawing);
  }
  assert.equal(await page.locator('#section [data-name=depth-1]').count(), 1);
  await page.tap('[data-place=inlay]');
  assert.ok(Math.abs(design.vessel.slot_sets[1].further_deg - design.vessel.slot_sets[0].further_deg - 30) < 1e-6);
  const link = await address(page);
  await page.reload();
  await page.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
  assert.deepEqual((await kept(page)).vessel.slot_sets, design.vessel.slot_sets);
  await page.locator('#inlay-sets button').nth(1).waitFor();
  const other = await context.newPage();
  await other.goto(`${origin}/${link}`);
  await other.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
  await other.tap('[data-place=inlay]');
  assert.equal(await other.locator('#inlay-sets button').count(), 2);
  await other.close();
}));

test('by keyboard alone', () => visit('desktop', async (page) => {
  const press = async (/** @type {string} */ place, /** @type {string} */ key) => {
    await page.locator(place).focus();
    await page.keyboard.press(key);
  };
  await press('[data-place=vessel]', 'Enter');
  await press('#starts [data-way=closed]', 'Enter');
  await press('[data-place=inlay]', 'Enter');
  await press('[data-slots="one_way"]', 'Enter');
  await press('#band .handle >> nth=0', 'ArrowRight');
  assert.equal(await entered(page, set('further_deg')), '0.5');
  await page.keyboard.press('ArrowLeft');
  await page.keyboard.press('ArrowLeft');
  assert.equal(await entered(page, set('further_deg')), '−0.5');
  await press('#band .handle >> nth=1', 'ArrowRight');
  assert.equal(await entered(page, set('gauge_deg')), '30.5');
  const name = await page.locator('#band .handle').nth(1).getAttribute('aria-label');
  assert.match(name ?? '', /30\.5°/);
  await press('#blade .handle', 'ArrowUp');
  assert.notEqual(await entered(page, set('blade_mm')), '');
  await press('#inlay-fit-nearest', 'Enter');
  assert.equal(await entered(page, set('slot_count')), '16');
  await press('#inlay-remove', 'Enter');
  assert.equal(await page.locator('#inlay-set').isVisible(), false);
}));

test('wrong input is told at its field, a closed window with what opens it', () => visit('tablet', async (page) => {
  await begin(page);
  await enter(page, set('to_ring'), '150');
  await tells(page, set('to_ring'), /no ring 150/);
  await enter(page, set('to_ring'), '7');
  await enter(page, set('gauge_deg'), '90');
  await tells(page, set('gauge_deg'), /90/);
  await enter(page, set('gauge_deg'), '30');
  assert.equal(await page.locator('#inlay-openings-side').isVisible(), false);
  await field(page, set('shows')).selectOption('inside_too');
  await settled(page);
  const openings = await page.locator('#inlay-openings').innerText();
  assert.match(openings, /hole .* smaller/);
  assert.match(await page.locator('#inlay-cautions').innerText(), /No blade height works/);
  // The first of them, done: extra wood inside on the rings.
  const extra = /extra inside ([\d /]+) in/.exec(openings)?.[1] ?? '';
  await page.tap('[data-place=vessel]');
  for (const ring of [5, 6]) {
    await page.locator(`#section [data-name=ring-${ring}]`).first().dispatchEvent('click');
    await enter(page, `vessel.rings.${ring}.inside_extra_mm`, extra);
  }
  await page.tap('[data-place=inlay]');
  assert.equal(await page.locator('#inlay-openings-side').isVisible(), false, `${extra} opens it`);
}));

test('a later change of the curve is told in Vessel at once', () => visit('tablet', async (page) => {
  await begin(page);
  await enter(page, set('blade_mm'), '7/16');
  await page.tap('[data-place=vessel]');
  const told = () => page.locator('#vessel-cautions').innerText();
  assert.doesNotMatch(await told(), /Slot set/);
  await enter(page, 'vessel.rim_wall_mm', '1/8');
  await enter(page, 'vessel.foot_wall_mm', '1/8');
  assert.match(await told(), /Slot set 1: The finished inside uncovers/);
}));

/**
 * Colors of the turning view at places of the piece, seen from the front and a little
 * from above: the camera's angle of view, height and margin are those of `camera.rs`.
 * @param {Page} page
 * @param {{ top: number, radius: number }} bounds
 * @param {[number, number, number][]} places
 */
async function seenAt(page, bounds, places) {
  const canvas = page.locator('#three');
  await canvas.scrollIntoViewIfNeeded();
  let picture = '';
  for (let tries = 0; tries < 30; tries += 1) {
    await settled(page);
    const now = (await canvas.screenshot()).toString('base64');
    if (now === picture) break;
    picture = now;
  }
  const box = await canvas.boundingBox();
  assert.ok(box);
  const [rise, level] = [Math.sin(0.42), Math.cos(0.42)];
  const reach = Math.hypot(bounds.radius, bounds.top / 2);
  const distance = reach * 1.04 / Math.sin(0.2);
  const half = Math.min(box.width, box.height) / 2 / Math.tan(0.2);
  const pixels = places.map(([x, y, z]) => {
    const up = z - bounds.top / 2;
    const away = distance - (-y * level + up * rise);
    return [box.width / 2 + x / away * half, box.height / 2 - (y * rise + up * level) / away * half];
  });
  return page.evaluate(async ({ png, at, wide }) => {
    const image = new Image();
    image.src = `data:image/png;base64,${png}`;
    await image.decode();
    const drawing = new OffscreenCanvas(image.width, image.height);
    const context = /** @type {OffscreenCanvasRenderingContext2D} */ (drawing.getContext('2d'));
    context.drawImage(image, 0, 0);
    const { data } = context.getImageData(0, 0, image.width, image.height);
    const scale = image.width / wide;
    return at.map(([x, y]) => {
      const pixel = 4 * (Math.floor((y ?? 0) * scale) * image.width + Math.floor((x ?? 0) * scale));
      const [red = 0, green = 0, blue = 0] = data.subarray(pixel, pixel + 3);
      return { red, green, blue, isStrip: green < 0.72 * red && green < 120 };
    });
  }, { png: picture, at: pixels, wide: box.width });
}

test('the strips are in the turning view where the blade went', () => visit({ viewport: { width: 1024, height: 1100 }, hasTouch: true }, async (page) => {
  await begin(page, 'cylinder');
  await field(page, set('first_at')).selectOption('front');
  await enter(page, set('kerf_mm'), '1/4');
  await enter(page, set('gauge_deg'), '25');
  await settled(page);
  const { vessel } = await kept(page);
  const [own] = vessel.slot_sets;
  const heights = vessel.rings.map((/** @type {{ height_mm: number }} */ ring) => ring.height_mm);
  const sum = (/** @type {number} */ count) => heights.slice(0, count).reduce((/** @type {number} */ all, /** @type {number} */ each) => all + each, 0);
  const [low, high] = [sum(own.from_ring - 1), sum(own.to_ring)];
  const radius = Math.max(...vessel.points.map((/** @type {{ radius_mm: number }} */ point) => point.radius_mm));
  const top = vessel.points.at(-1).height_mm;
  const lean = Math.tan(own.gauge_deg * Math.PI / 180);
  const level = own.kerf_mm / 2 / Math.cos(own.gauge_deg * Math.PI / 180);
  /** @type {[number, number, number][]} */
  const strip = [];
  /** @type {[number, number, number][]} */
  const wood = [];
  const on = (/** @type {number} */ aside, /** @type {number} */ z) => /** @type {[number, number, number]} */ ([aside, -Math.sqrt(radius ** 2 - aside ** 2), z]);
  for (const share of [0.08, 0.3, 0.5, 0.7, 0.92]) {
    const z = low + (high - low) * share;
    const middle = (z - (low + high) / 2) * lean;
    strip.push(on(middle, z), on(middle + 0.5 * level, z), on(middle - 0.5 * level, z));
    wood.push(on(middle + level + 2, z), on(middle - level - 2, z));
  }
  // Past the stack's faces it stops at the joint.
  for (const past of [2, 5]) {
    wood.push(on((high + past - (low + high) / 2) * lean, high + past));
    wood.push(on((low - past - (low + high) / 2) * lean, low - past));
  }
  const bounds = { top: Math.max(top, sum(heights.length)), radius };
  let seen = await seenAt(page, bounds, strip);
  // The view is drawn behind the figures: its frame may be still to come.
  for (let tries = 0; tries < 5 && !seen.every((each) => each.isStrip); tries += 1) {
    await page.waitForTimeout(400);
    seen = await seenAt(page, bounds, strip);
  }
  for (const each of seen) assert.ok(each.isStrip, JSON.stringify(each));
  for (const each of await seenAt(page, bounds, wood)) assert.ok(!each.isStrip, JSON.stringify(each));
  // Without the set there is none.
  await page.tap('#inlay-remove');
  await page.tap('[data-place=vessel]');
  for (const each of await seenAt(page, bounds, strip)) assert.ok(!each.isStrip, JSON.stringify(each));
}));

test('it stands in the PDF', () => visit('tablet', async (page) => {
  await begin(page);
  await page.tap('[data-place=paper]');
  const alone = await saved(page, () => page.click('#save-pdf'));
  const pages = unpacked(alone.bytes).match(/\/Type\s*\/Page\b/g)?.length ?? 0;
  assert.ok(pages >= 4, `${pages} sheets: ring, set-up, order of work, index strip`);
}));

for (const screen of ['tablet', 'phone', 'narrowPhone']) {
  for (const colorScheme of /** @type {const} */ (['light', 'dark'])) {
    test(`keeps the rules and fits, ${screen}, ${colorScheme}`, () => visit({ ...screens[screen], colorScheme }, async (page) => {
      await begin(page);
      await page.tap('#inlay-crossing');
      await field(page, set('shows')).selectOption('inside_too');
      await page.evaluate(() => Promise.all(document.getAnimations().map((each) => each.finished)));
      await axeClean(page);
      await fitsTheScreen(page);
      const small = await page.evaluate(() => [...document.querySelectorAll('#inlay button, #inlay select, #inlay summary, #inlay input')]
        .filter((each) => each.checkVisibility())
        .map((each) => ({ name: each.id || each.textContent || each.outerHTML.slice(0, 60), box: each.getBoundingClientRect() }))
        .filter(({ box }) => box.width < 43.5 || box.height < 43.5)
        .map(({ name }) => name));
      assert.deepEqual(small, []);
    }));
  }
}

test('slots are begun from pictures of the piece itself, crossing in one tap', () => visit('tablet', async (page) => {
  await page.tap('#ways [data-way="bowl"]');
  await page.tap('[data-place="inlay"]');
  const tiles = page.locator('[data-slots]');
  assert.equal(await tiles.count(), 3);
  const pictures = await tiles.locator('svg').evaluateAll((all) => all.map((each) => each.querySelectorAll('[data-name^="strip-"]').length));
  assert.ok(pictures.length === 3 && pictures.every((strips) => strips > 0), `strips ${pictures}`);
  assert.ok((pictures[1] ?? 0) > (pictures[0] ?? 0), 'crossing ones are more');
  await picture(page, 'inlay-begin');
  await axeClean(page);
  await page.tap('[data-slots="crossing"]');
  assert.equal(await page.locator('#inlay-sets button').count(), 2);
  assert.equal(await tiles.first().isVisible(), false);
  await page.tap('#undo');
  assert.equal(await page.locator('#inlay-sets button').count(), 0);
  assert.ok(await tiles.first().isVisible());
}));

test('strips of a wood that the piece has not yet are named where they are chosen', () => visit('tablet', async (page) => {
  await begin(page);
  await page.locator('#strip-wood-entry').fill('padouk');
  await page.locator('#wood-offers li').first().tap();
  const chosen = page.locator('#inlay-woods [aria-pressed="true"]');
  assert.equal(await chosen.innerText(), 'Padauk, African');
  await page.tap('#undo');
  assert.notEqual(await chosen.innerText(), 'Padauk, African');
  await fitsTheScreen(page);
}));

test('slots stand side by side in pairs, and both settings are told', () => visit('tablet', async (page) => {
  await page.tap('#ways [data-way="lantern_vase"]');
  await page.locator('nav [data-place="inlay"]').first().tap();
  const apart = page.locator('[data-field-box="vessel.slot_sets.0.apart_deg"]');
  assert.equal(await apart.isVisible(), false);
  await enter(page, 'vessel.slot_sets.0.beside_count', '2');
  assert.equal(await apart.isVisible(), true);
  // Eight places, 45° from one to the next, a quarter of that between the two of a pair.
  await page.getByText('Side by side, apart').first().waitFor();
  await page.getByText('11.25°').first().waitFor();
  // The set that crosses it stays its partner.
  await page.getByText('2: 16 × 33.83° left').first().waitFor();
  await picture(page, 'inlay-pairs');
}));

for (const screen of /** @type {const} */ (['tablet', 'phone'])) {
  test(`the blade is tilted as well by touch on a ${screen}, and the saw is told how`, () => visit(screen, async (page) => {
    await page.tap('#ways [data-way="lantern_vase"]');
    await page.locator('nav [data-place="inlay"]').first().tap();
    await page.locator('#band svg').waitFor();
    const drawn = () => page.locator('#band [data-name="strip-0-0"]').first().getAttribute('d');
    const upright = await drawn();
    const saw = page.locator('#inlay-saw');
    assert.equal(await entered(page, set('tilt_deg')), '0');
    assert.doesNotMatch(await saw.innerText(), /tilted/i);
    await enter(page, set('tilt_deg'), '12');
    await settled(page);
    assert.match(await saw.innerText(), /tilted from upright\s+12°\s+12 degrees\s+its top to your left/i);
    assert.notEqual(await drawn(), upright);
    // The set that crosses it is sawn with the same tilt.
    assert.equal(await page.getByText(/^2: .* left, tilted 12° in to the right/).count(), 1);
    assert.match(await page.locator('#inlay-work').innerText(), /tilt the blade to 12° from upright, its top to your left/);
    await fitsTheScreen(page);
    await axeClean(page);
    await page.locator('#band').scrollIntoViewIfNeeded();
    await picture(page, `tilted-band-${screen}`);
    await field(page, set('tilt_deg')).scrollIntoViewIfNeeded();
    await picture(page, `tilted-fields-${screen}`);
    await page.locator('#inlay-three').scrollIntoViewIfNeeded();
    await settled(page);
    await picture(page, `tilted-three-${screen}`);
    // Past what a saw does it is told at the field, and nothing changes.
    await enter(page, set('tilt_deg'), '50');
    const message = page.locator(`[data-field-box="${set('tilt_deg')}"] .field-message`);
    await message.waitFor();
    assert.match(await message.innerText(), /45/);
    await enter(page, set('tilt_deg'), '-12');
    await settled(page);
    assert.match(await saw.innerText(), /its top to your right/);
    for (let steps = 0; steps < 3 && await drawn() !== upright; steps += 1) {
      await page.locator('#undo').click();
      await settled(page);
    }
    assert.equal(await drawn(), upright);
    assert.equal(await entered(page, set('tilt_deg')), '0');
  }));
}

for (const screen of /** @type {const} */ (['tablet', 'phone'])) {
  test(`strips begin and end where the depth says, by touch on a ${screen}`, () => visit(screen, async (page) => {
    await page.tap('#ways [data-way="lantern_vase"]');
    await page.locator('nav [data-place="inlay"]').first().tap();
    await page.locator('#band svg').waitFor();
    const drawn = () => page.locator('#band [data-name="strip-0-0"]').first().getAttribute('d');
    const before = await drawn();
    const end = page.locator(`[data-field-box="${set('ends_at_mm')}"]`);
    const blade = page.locator(`[data-field-box="${set('blade_mm')}"]`);
    assert.equal(await end.isVisible(), false);
    await field(page, set('shows')).selectOption('outside_partly');
    await settled(page);
    assert.ok(await end.isVisible() && await blade.isVisible());
    // Rings 7 and 8 of the vase: the strips are let in from above and end within ring 7.
    await enter(page, set('ends_at_mm'), '4 1/2');
    await settled(page);
    const list = page.locator('#inlay-list');
    assert.match(await list.innerText(), /strips show, above the foot\s+4 1\/2 in to /i);
    assert.equal(await blade.isVisible(), false);
    assert.notEqual(await drawn(), before);
    assert.match(await page.locator('#inlay-work').innerText(), /from 4 1\/2 in to .* above the foot/);
    await fitsTheScreen(page);
    await axeClean(page);
    await page.locator('#band').scrollIntoViewIfNeeded();
    await picture(page, `partly-band-${screen}`);
    await field(page, set('shows')).scrollIntoViewIfNeeded();
    await picture(page, `partly-fields-${screen}`);
    await page.locator('#inlay-three').scrollIntoViewIfNeeded();
    await settled(page);
    await picture(page, `partly-three-${screen}`);
    // Beside the stack there is no end: said at the field, the rest stands.
    await enter(page, set('ends_at_mm'), '1');
    const message = end.locator('.field-message');
    await message.waitFor();
    await picture(page, `partly-off-${screen}`);
    for (let steps = 0; steps < 4 && await end.isVisible(); steps += 1) {
      await page.locator('#undo').click();
      await settled(page);
    }
    assert.equal(await end.isVisible(), false);
    assert.equal(await drawn(), before);
  }));
}

for (const screen of /** @type {const} */ (['tablet', 'phone'])) {
  test(`slots go through the whole wall by touch on a ${screen}, and the bench is told how the stack is held`, () => visit(screen, async (page) => {
    await page.tap('#ways [data-way="lantern_vase"]');
    await page.locator('nav [data-place="inlay"]').first().tap();
    await page.locator('#band svg').waitFor();
    const list = page.locator('#inlay-list');
    const work = page.locator('#inlay-work');
    const shows = page.locator(`[data-field-box="${set('shows')}"]`);
    const inside = () => page.locator('#band-inside [data-name^="strip-0-"]').count();
    const before = await list.innerText();
    assert.match(before, /left under the slots/i);
    await field(page, set('held_by')).selectOption('strip_by_strip');
    await settled(page);
    assert.match(await list.innerText(), /least to come through/i);
    assert.match(await list.innerText(), /its strips: saw one, glue it, then the next/);
    assert.doesNotMatch(await list.innerText(), /left under the slots/i);
    assert.match(await work.innerText(), /Never saw a second slot while one is open/);
    assert.equal(await shows.isVisible(), false);
    assert.ok(await inside() > 0);
    await fitsTheScreen(page);
    await axeClean(page);
    await page.locator('#band').scrollIntoViewIfNeeded();
    await picture(page, `through-band-${screen}`);
    await field(page, set('held_by')).scrollIntoViewIfNeeded();
    await picture(page, `through-fields-${screen}`);
    await list.scrollIntoViewIfNeeded();
    await picture(page, `through-list-${screen}`);
    await field(page, set('held_by')).selectOption('scrap_discs');
    await settled(page);
    assert.match(await list.innerText(), /scrap disc, foot’s side, across/i);
    assert.match(await work.innerText(), /saw each disc off right beside its joint/);
    await list.scrollIntoViewIfNeeded();
    await picture(page, `through-discs-${screen}`);
    // A ring with the floor in it has no wall to go through: said at the field.
    await enter(page, set('from_ring'), '1');
    const message = page.locator(`[data-field-box="${set('held_by')}"] .field-message`);
    await message.waitFor();
    assert.match(await message.innerText(), /ring 1 is solid or holds the floor/);
    await message.scrollIntoViewIfNeeded();
    await picture(page, `through-off-${screen}`);
    for (let steps = 0; steps < 5 && await entered(page, set('held_by')) !== 'bridge'; steps += 1) {
      await page.locator('#undo').click();
      await settled(page);
    }
    assert.equal(await entered(page, set('held_by')), 'bridge');
    assert.equal(await list.innerText(), before);
    assert.ok(await shows.isVisible());
  }));
}
