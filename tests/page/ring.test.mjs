// The Ring place under the hand: what a newcomer reads, what can be typed, what follows.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { axeClean, fitsTheScreen, picture, screens, settled, visit } from './harness.mjs';
import { chooseUnit, enter, entered, field, isContent, near, openFold, read, tapKeys } from './hands.mjs';

const degrees = Math.PI / 180;
// A 10 in ring, wall 3/4 in, with the usual 1/8 in kept outside and inside: the flats
// must hold a circle of 10 1/4 in, the inside corners a hole of 8 1/4 in.
const expected = {
  setting: 15,
  stop: 2 * 5.125 * Math.tan(15 * degrees),
  strip: 5.125 - 4.125 * Math.cos(15 * degrees),
};

for (const [name, screen] of Object.entries(screens)) {
  for (const colorScheme of /** @type {const} */ (['light', 'dark'])) {
    test(`a newcomer on a ${name}, ${colorScheme}, reads the saw's three figures`, () => visit(
      { ...screen, colorScheme },
      async (page) => {
        near((await read(page, 'saw.setting')).true, expected.setting);
        near((await read(page, 'saw.stop')).true, expected.stop);
        near((await read(page, 'saw.strip')).true, expected.strip);
        const numbers = page.locator('#saw-figures .number');
        assert.equal(await numbers.count(), 3);
        for (const number of await numbers.all()) {
          const box = await number.boundingBox();
          const size = await number.evaluate((element) => parseFloat(getComputedStyle(element).fontSize));
          assert.ok(box && box.y >= 0 && box.y + box.height <= screen.viewport.height, 'not at first sight');
          assert.ok(size >= 32, `only ${size} px`);
        }
      },
    ));
  }
}

test('the three figures stand in the order in which the hands need them, and are spoken', () => visit(
  'tablet',
  async (page) => {
    const labels = await page.locator('#saw-figures dt').allInnerTexts();
    assert.deepEqual(labels, ['Saw setting', 'Stop, long edge', 'Strip width']);
    assert.equal((await read(page, 'saw.stop')).spoken, '2 and 3/4 inches');
    await page.waitForFunction(() => document.getElementById('summary')?.textContent?.includes('15 degrees'));
  },
));

for (const [typed, inches] of /** @type {[string, number][]} */ ([
  ['10', 10], ['10 1/2', 10.5], ['10-1/2', 10.5], ['10½', 10.5], ['10.5"', 10.5], ["10' 2\"", 122],
  ['266 mm', 266 / 25.4], ['26,7 cm', 267 / 25.4], ['40/8', 5],
])) {
  test(`${typed} is taken as a diameter`, () => visit('desktop', async (page) => {
    await enter(page, 'ring.outside_diameter_mm', typed);
    await isContent(page, 'ring.outside_diameter_mm');
    near((await read(page, 'saw.stop')).true, (inches + 0.25) * Math.tan(15 * degrees));
  }));
}

for (const [typed, inches] of /** @type {[string, number][]} */ ([['1/8', 0.125], ['3/4"', 0.75], ['20 mm', 20 / 25.4]])) {
  test(`${typed} is taken as a wall`, () => visit('desktop', async (page) => {
    await enter(page, 'ring.wall_mm', typed);
    near((await read(page, 'saw.strip')).true, 5.125 - (4.875 - inches) * Math.cos(15 * degrees));
  }));
}

test('the unit typed wins over the unit set, and switching there and back loses nothing', () => visit(
  'desktop',
  async (page) => {
    await enter(page, 'ring.outside_diameter_mm', '251.37 mm');
    const before = await entered(page, 'ring.outside_diameter_mm');
    const stop = await read(page, 'saw.stop');
    near(stop.true * 25.4, (251.37 + 6.35) * Math.tan(15 * degrees), 0.02);
    await chooseUnit(page, 'millimeter');
    assert.equal(await entered(page, 'ring.outside_diameter_mm'), '251.37');
    assert.equal((await read(page, 'saw.stop')).unit, 'mm');
    for (const unit of ['inch_8', 'inch_32', 'inch_64', 'inch_decimal', 'inch_16']) {
      await chooseUnit(page, unit);
      near((await read(page, 'saw.stop')).true, stop.true, 0.0011);
    }
    assert.equal(await entered(page, 'ring.outside_diameter_mm'), before);
    await enter(page, 'ring.outside_diameter_mm', '10"');
    await chooseUnit(page, 'millimeter');
    assert.equal(await entered(page, 'ring.outside_diameter_mm'), '254');
    await enter(page, 'ring.outside_diameter_mm', '10 in');
    assert.equal(await entered(page, 'ring.outside_diameter_mm'), '254');
  },
));

test('the inside diameter may be typed instead of the wall', () => visit('desktop', async (page) => {
  await enter(page, 'ring.inside_diameter_mm', '8');
  assert.equal(await entered(page, 'ring.wall_mm'), '1');
  await enter(page, 'ring.wall_mm', '1/2');
  assert.equal(await entered(page, 'ring.inside_diameter_mm'), '9');
}));

for (const screen of ['tablet', 'uprightTablet', 'phone', 'narrowPhone']) {
  test(`the own keypad types by touch on a ${screen}`, () => visit(screen, async (page) => {
    for (const key of ['ring.wall_mm', 'ring.outside_diameter_mm', 'ring.height_mm', 'ring.inside_diameter_mm']) {
      const input = field(page, key);
      assert.equal(await input.getAttribute('inputmode'), 'none', 'the system keyboard would come up');
      await input.tap();
      await settled(page);
      const [pad, box] = [await page.locator('#keypad').boundingBox(), await input.boundingBox()];
      assert.ok(pad && box);
      const isApart = box.y + box.height <= pad.y + 1 || box.x + box.width <= pad.x;
      assert.ok(isApart, `the keypad covers ${key}`);
      assert.ok(pad.x >= 0 && pad.y + pad.height <= (page.viewportSize()?.height ?? 0) + 1);
      await tapKeys(page, 'Done');
      assert.equal(await page.locator('#keypad').isVisible(), false);
    }
    const wall = field(page, 'ring.wall_mm');
    await wall.tap();
    await tapKeys(page, '1', '1/2');
    assert.equal(await wall.inputValue(), '1 1/2');
    near((await read(page, 'saw.strip')).true, 5.125 - 3.375 * Math.cos(15 * degrees));
    await tapKeys(page, '3/4');
    assert.equal(await wall.inputValue(), '1 3/4', 'a second fraction takes the place of the first');
    await tapKeys(page, 'Erase', 'Erase', 'Erase');
    assert.equal(await wall.inputValue(), '1 ');
    await tapKeys(page, 'Clear', '2', '0', '.', '5', 'mm');
    assert.equal(await wall.inputValue(), '20.5 mm');
    await tapKeys(page, 'Clear', '3', '⁄', '8', 'Done');
    assert.equal(await wall.inputValue(), '3/8');
    await wall.tap();
    await tapKeys(page, 'mm', 'Done');
    assert.equal(await page.locator(':focus').count(), 0);
    near((await read(page, 'saw.strip')).true, 5.125 - (4.875 - 3 / 8 / 25.4) * Math.cos(15 * degrees));
  }));
}

test('the keypad types a space before a fraction, and without it the field asks', () => visit('tablet', async (page) => {
  const wide = field(page, 'ring.outside_diameter_mm');
  await wide.tap();
  await tapKeys(page, 'Clear', '8', 'Space', '1', '⁄', '4', 'Done');
  assert.equal(await wide.inputValue(), '8 1/4');
  near((await read(page, 'row.circle')).true, 8.5);
  await wide.tap();
  await tapKeys(page, 'Clear', '8', '1', '⁄', '4', 'Done');
  await page.getByText('“81/4” could be 8 1/4 or 20 1/4. Put a space between whole and fraction.').first().waitFor();
  assert.equal(await wide.inputValue(), '81/4');
}));

test('the keypad types a minus, and shows no fractions where none belong', () => visit('tablet', async (page) => {
  await openFold(page, 'staves');
  await field(page, 'stave.lean_deg').tap();
  assert.equal(await page.locator('.fraction-keys').isVisible(), false);
  await tapKeys(page, '−', '5', 'Done');
  near((await read(page, 'row.blade_tilt')).true, 15 * 0.99617, 0.03);
  await isContent(page, 'stave.lean_deg');
}));

test('the keypad offers the unit that is not set', () => visit('tablet', async (page) => {
  await chooseUnit(page, 'millimeter');
  await field(page, 'ring.outside_diameter_mm').tap();
  await tapKeys(page, '1', '1', 'in', 'Done');
  assert.equal(await entered(page, 'ring.outside_diameter_mm'), '279.4');
}));

test('the keypad gives way to the system keyboard, and comes back', () => visit('tablet', async (page) => {
  const wall = field(page, 'ring.wall_mm');
  await wall.tap();
  await page.locator('.keypad-system').tap();
  assert.equal(await page.locator('#keypad').isVisible(), false);
  assert.equal(await wall.getAttribute('inputmode'), 'text');
  assert.equal(await wall.evaluate((input) => input === document.activeElement), true);
  await page.reload();
  await page.waitForSelector('[data-ready]');
  assert.equal(await wall.getAttribute('inputmode'), 'text');
  await page.tap('#unit-button');
  await page.locator('#own-keypad').check();
  await page.tap('#unit-dialog [data-close]');
  await wall.tap();
  assert.equal(await page.locator('#keypad').isVisible(), true);
}));

test('a mouse needs no keypad', () => visit('desktop', async (page) => {
  await field(page, 'ring.wall_mm').click();
  assert.equal(await page.locator('#keypad').isVisible(), false);
}));

test('one field edit is one step of undo, by button and by key', () => visit('desktop', async (page) => {
  const outside = field(page, 'ring.outside_diameter_mm');
  await outside.click();
  await outside.press('Control+A');
  await outside.pressSequentially('12 3/4');
  await outside.press('Enter');
  await enter(page, 'ring.wall_mm', '1');
  await page.click('#undo');
  assert.equal(await entered(page, 'ring.wall_mm'), '3/4');
  await page.keyboard.press('Control+z');
  assert.equal(await entered(page, 'ring.outside_diameter_mm'), '10');
  assert.equal(await page.locator('#undo').isDisabled(), true);
  await page.keyboard.press('Control+Shift+z');
  assert.equal(await entered(page, 'ring.outside_diameter_mm'), '12 3/4');
  await page.keyboard.press('Control+y');
  assert.equal(await entered(page, 'ring.wall_mm'), '1');
  assert.equal(await page.locator('#redo').isDisabled(), true);
}));

test('typing on behind a number is a step of undo too', () => visit('desktop', async (page) => {
  const outside = field(page, 'ring.outside_diameter_mm');
  await outside.click();
  await outside.press('End');
  await outside.pressSequentially(' 1/2');
  await outside.press('Control+z');
  assert.equal(await outside.inputValue(), '10', 'the field being typed in shows what undo brought back');
  near((await read(page, 'saw.stop')).true, expected.stop);
}));

test('the segment count goes up and down by one, and by the table', () => visit('tablet', async (page) => {
  await page.tap('#count-more');
  await page.tap('#count-more');
  assert.equal(await entered(page, 'ring.segment_count'), '14');
  near((await read(page, 'saw.setting')).true, 180 / 14);
  await page.tap('#count-less');
  assert.equal(await entered(page, 'ring.segment_count'), '13');
  await enter(page, 'ring.segment_count', '3');
  await page.tap('#count-less');
  assert.equal(await entered(page, 'ring.segment_count'), '3');
  await openFold(page, 'counts');
  const rows = page.locator('#count-table tbody tr');
  await rows.first().waitFor();
  assert.equal(await rows.count(), 43);
  await page.locator('#count-table button', { hasText: /^18$/ }).tap();
  assert.equal(await entered(page, 'ring.segment_count'), '18');
  near((await read(page, 'saw.setting')).true, 10);
  assert.equal(await page.locator('#count-table tbody tr[aria-current]').innerText().then((text) => text.slice(0, 2)), '18');
  assert.equal(
    await page.evaluate(() => document.activeElement?.textContent), '18', 'the tapped count keeps the focus',
  );
}));

test('a dry ring that does not close tells how to turn the saw, both ways', () => visit('tablet', async (page) => {
  await openFold(page, 'dry-fit');
  assert.equal(await page.locator('#gap-says').isVisible(), false);
  await enter(page, 'dry_fit.gap_mm', '1/16');
  const open = await page.locator('#gap-says').innerText();
  // Twelve segments of half angle 15° − e leave a wedge of 24 e, which opens by about
  // 24 e times the corner's radius at the outside.
  const error = Number(/Every cut is ([\d.]+)° too small/.exec(open)?.[1]);
  near(error, 1 / 16 / (24 * (5.125 / Math.cos(15 * degrees))) / degrees, 0.0015);
  assert.match(open, /larger miter/);
  await field(page, 'dry_fit.open_at').selectOption('inside');
  await enter(page, 'dry_fit.gap_mm', '1/16');
  assert.match(await page.locator('#gap-says').innerText(), /too large.*smaller miter/s);
  await enter(page, 'dry_fit.glued_angle_deg', '179');
  assert.match(await page.locator('#protractor-says').innerText(), /0\.083° too small.*larger/s);
  await enter(page, 'dry_fit.gap_mm', '');
  assert.equal(await page.locator('#gap-says').isVisible(), false);
}));

test('staves are looked up', () => visit('tablet', async (page) => {
  await openFold(page, 'staves');
  // Miter on the face and tilt of the blade by the compound-miter formulas.
  near((await read(page, 'row.face_miter')).true, Math.atan(Math.sin(10 * degrees) * Math.tan(15 * degrees)) / degrees);
  near((await read(page, 'row.blade_tilt')).true, Math.asin(Math.cos(10 * degrees) * Math.sin(15 * degrees)) / degrees);
  await enter(page, 'stave.lean_deg', '0');
  near((await read(page, 'row.face_miter')).true, 0);
  near((await read(page, 'row.blade_tilt')).true, 15);
}));

test('spacers, prices and wood come into the figures', () => visit('tablet', async (page) => {
  await openFold(page, 'choices');
  assert.equal(await field(page, 'ring.spacer_mm').isVisible(), false);
  await field(page, 'ring.between').selectOption('spacer');
  await enter(page, 'ring.spacer_mm', '1/8');
  near((await read(page, 'saw.stop')).true, expected.stop - 0.125 / Math.cos(15 * degrees), 0.001);
  assert.match((await read(page, 'row.spacers')).note, /12 pieces/);
  await field(page, 'ring.between').selectOption('nothing');
  near((await read(page, 'saw.stop')).true, expected.stop);
  assert.equal(await page.locator('.row[data-key="row.cost"]').count(), 0);
  await enter(page, 'shop.price', '$10');
  const feet = await read(page, 'row.wood');
  near((await read(page, 'row.cost')).true, feet.true * 10, 0.06);
  await field(page, 'shop.price_per').selectOption('cubic_meter');
  near((await read(page, 'row.cost')).true, 10 * feet.true * 144 * 25.4 ** 3 * 1e-9, 0.01);
  await enter(page, 'ring.wood', 'Nobody’s wood');
  assert.equal(await page.locator('.row[data-key="row.weight"]').count(), 0, 'an unknown wood has no weight');
}));

for (const screen of ['phone', 'narrowPhone', 'tablet']) {
  test(`24 segments and 8 1/4 in: six taps, the answer in view from the first to the last, on a ${screen}`, () => visit(screen, async (page) => {
    let taps = 0;
    const isAnswerSeen = async () => {
      await settled(page);
      for (const key of ['saw.setting', 'saw.stop', 'saw.strip']) {
        const isSeen = await page.locator(`.saw .row[data-key="${key}"] .number`).evaluate((number) => {
          const at = number.getBoundingClientRect();
          const on = document.elementFromPoint(at.left + at.width / 2, at.top + at.height / 2);
          return at.top >= 0 && at.bottom <= innerHeight && Boolean(on && number.closest('.row')?.contains(on));
        });
        assert.ok(isSeen, `${key} is out of view after ${taps} taps`);
      }
    };
    const tap = async (/** @type {import('playwright-core').Locator} */ what) => {
      await what.tap();
      taps += 1;
      await isAnswerSeen();
    };
    const keys = (/** @type {string} */ text) => page.locator('#keypad button', { hasText: new RegExp(`^${text}$`) });
    await isAnswerSeen();
    await tap(page.locator('#segment-count'));
    for (const key of ['2', '4', 'Next', '8', '1/4']) await tap(keys(key));
    assert.ok(taps <= 6, `${taps} taps`);
    assert.equal((await read(page, 'saw.setting')).shown, 7.5);
    // 24 flats round a circle of 8 1/2: d · tan 7.5°.
    near((await read(page, 'saw.stop')).true, 8.5 * Math.tan(Math.PI / 24), 0.001);
    const typedIn = await field(page, 'ring.outside_diameter_mm').evaluate((input) => {
      const at = input.getBoundingClientRect();
      return input === document.activeElement && input.contains(document.elementFromPoint(at.left + 5, at.top + at.height / 2));
    });
    assert.ok(typedIn, 'the field that is typed in is covered');
    await picture(page, `beside-the-saw-${screen}`);
    for (let more = 0; more < 3; more += 1) await tap(keys('Next'));
    const includes = async () => (await page.innerText('#saw-includes')).replaceAll('\u00a0', ' ');
    assert.equal(await includes(), 'For 8 1/4 in finished, 1/8 in a side to turn away');
    await page.tap('#allowance-switch');
    near((await read(page, 'saw.stop')).true, 8.25 * Math.tan(Math.PI / 24), 0.001);
    assert.equal(await includes(), 'For 8 1/4 in finished, nothing to turn away');
    await page.locator('#saw .remainder').filter({ hasText: /./ }).first().tap();
    assert.match(await page.innerText('.notice[data-name="remainder"]'), /has over it or under/);
    assert.equal(await page.innerText('#allowance-switch'), 'Keep 1/8 in a side');
    await page.tap('#allowance-switch');
    near((await read(page, 'saw.stop')).true, 8.5 * Math.tan(Math.PI / 24), 0.001);
    await fitsTheScreen(page);
    await axeClean(page);
  }));
}

test('what is half typed is not judged, and nothing moves for what is', () => visit('tablet', async (page) => {
  const count = page.locator('#segment-count');
  const top = () => page.locator('#ring-drawing').evaluate((it) => it.getBoundingClientRect().top);
  const before = await top();
  await count.fill('2');
  assert.equal(await page.isVisible('#stale'), false, '2 is on the way to 24');
  assert.equal(await count.getAttribute('aria-invalid'), null);
  await page.locator('#stale').waitFor();
  assert.equal(await count.getAttribute('aria-invalid'), 'true');
  assert.equal(await top(), before);
  await count.press('4');
  await count.fill('24');
  assert.equal(await page.isVisible('#stale'), false);
  await count.fill('2');
  // Left is judged at once.
  await count.press('Tab');
  assert.equal(await count.getAttribute('aria-invalid'), 'true');
}));

test('a refused entry leaves what stood before it was typed', () => visit('tablet', async (page) => {
  const outside = field(page, 'ring.outside_diameter_mm');
  const undo = page.locator('#undo');
  const before = (await read(page, 'saw.stop')).true;
  // 9 and 99 could be taken on the way, what they begin cannot.
  await outside.fill('');
  await outside.pressSequentially('99999');
  // It is told when typing rests.
  await outside.and(page.locator('[aria-invalid="true"]')).waitFor();
  near((await read(page, 'saw.stop')).true, before);
  assert.ok(await undo.isDisabled(), 'nothing was changed');
  assert.equal(await outside.inputValue(), '99999', 'nothing typed is thrown away');
  await outside.fill('');
  await outside.pressSequentially('9 1/2');
  assert.equal(await outside.getAttribute('aria-invalid'), null);
  near((await read(page, 'saw.stop')).true, 2 * (4.75 + 0.125) * Math.tan(15 * degrees));
  await undo.click();
  near((await read(page, 'saw.stop')).true, before);
  assert.ok(await undo.isDisabled(), 'it was one step');
}));

test('the strip at hand is typed, and the wall follows', () => visit('tablet', async (page) => {
  await enter(page, 'ring.segment_count', '16');
  await enter(page, 'ring.outside_diameter_mm', '9');
  await openFold(page, 'choices');
  await enter(page, 'ring.strip_width_mm', '3/4');
  assert.match(await page.innerText('#saw-figures'), /Strip width\s*3[⁄/]4/);
  // By hand: 3 7/8 in over cos 11.25°, 1/8 in more a side: a hole of 4.076 in, a wall of 0.424 in.
  assert.equal(await entered(page, 'ring.wall_mm'), '7/16 −0.013');
  await page.tap('#count-more');
  assert.match(await page.innerText('#saw-figures'), /Strip width\s*3[⁄/]4/, 'the strip stays');
  await page.tap('#count-less');
  await enter(page, 'ring.strip_width_mm', '5');
  assert.equal(await field(page, 'ring.strip_width_mm').getAttribute('aria-invalid'), 'true');
  await enter(page, 'ring.wall_mm', '1');
  assert.equal(await page.innerText('#strip-at-hand'), 'Go by the strip at hand', 'the wall counts again');
}));

for (const size of /** @type {const} */ (['tablet', 'phone'])) {
  test(`the strip is typed where it is drawn, with the figures in view, on a ${size}`, () => visit(size, async (page) => {
    await page.tap('#strip-at-hand');
    await tapKeys(page, '7/8');
    for (const seen of ['#saw-figures', '#segment-drawing input']) {
      const box = await page.locator(seen).boundingBox();
      assert.ok(box && box.y >= 0 && box.y + box.height <= (page.viewportSize()?.height ?? 0), seen);
      const isOver = await page.locator(seen).evaluate((own) => {
        const { left, width, top, height } = own.getBoundingClientRect();
        return own.contains(document.elementFromPoint(left + width / 2, top + height / 2));
      });
      assert.ok(isOver, `nothing covers ${seen}`);
    }
    assert.match(await page.innerText('#saw-figures'), /Strip width\s*7[⁄/]8/);
    assert.match(await page.innerText('#strip-at-hand'), /By your strip of 7\/8 in/);
    await tapKeys(page, 'Done');
    await page.reload();
    await page.tap('#count-more');
    assert.match(await page.innerText('#saw-figures'), /Strip width\s*7[⁄/]8/, 'kept, and it stays');
  }));
}
