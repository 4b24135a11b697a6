// The vessel in three dimensions: it is there, follows the hand, says when it cannot be
// shown, and comes back when the graphics do.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { enter, field } from './hands.mjs';
import { settled, visit } from './harness.mjs';

/** @typedef {import('./harness.mjs').Page} Page */

/** @param {Page} page */
async function beginBowl(page) {
  await page.click('[data-place=vessel]');
  await page.click('#starts [data-way=bowl]');
  await page.locator('#three-front').scrollIntoViewIfNeeded();
}

/** What the canvas shows, once it has come to rest. @param {Page} page */
async function shown(page) {
  let before = '';
  for (let tries = 0; tries < 40; tries += 1) {
    await settled(page);
    const now = (await page.locator('#three').screenshot()).toString('base64');
    if (now === before) return now;
    before = now;
  }
  throw new Error('the view does not come to rest');
}

/**
 * Red, green and blue of a picture's points, within the outline that shows the focus.
 * @param {Page} page
 * @param {string} picture
 */
async function points(page, picture) {
  const data = await page.evaluate(async (png) => {
    const image = new Image();
    image.src = `data:image/png;base64,${png}`;
    await image.decode();
    const canvas = new OffscreenCanvas(image.width, image.height);
    const context = /** @type {OffscreenCanvasRenderingContext2D} */ (canvas.getContext('2d'));
    context.drawImage(image, 0, 0);
    return [...context.getImageData(8, 8, image.width - 16, image.height - 16).data];
  }, picture);
  return Array.from({ length: data.length / 4 }, (_, at) => /** @type {[number, number, number]} */ (data.slice(4 * at, 4 * at + 3)));
}

/**
 * The share of a picture that is not paper.
 * @param {Page} page
 * @param {string} picture
 */
async function woodShare(page, picture) {
  const all = await points(page, picture);
  const wood = all.filter((point) => point.some((part, at) => Math.abs(part - (all[0]?.[at] ?? 0)) > 8));
  return wood.length / all.length;
}

for (const colorScheme of /** @type {const} */ (['light', 'dark'])) {
  test(`the vessel is shown in its looks, ${colorScheme}`, () => visit(
    { viewport: { width: 1024, height: 768 }, hasTouch: true, colorScheme },
    async (page) => {
      await beginBowl(page);
      const whole = await shown(page);
      const share = await woodShare(page, whole);
      assert.ok(share > 0.15 && share < 0.9, `${share} of the view is wood`);
      const seen = new Set([whole]);
      for (const button of ['cut', 'blank', 'cut']) {
        await page.click(`#three-${button}`);
        seen.add(await shown(page));
      }
      assert.equal(seen.size, 4, 'finished and glued, whole and cut open, all look different');
    },
  ));
}

test('a base let in shows its own wood in the floor', () => visit('tablet', async (page) => {
  await beginBowl(page);
  const purple = async () => {
    const all = await points(page, await shown(page));
    // Purpleheart is red and blue more than green; maple and walnut are red, then green.
    return all.filter(([red, green, blue]) => red > green + 15 && blue > green + 8).length / all.length;
  };
  await page.click('[data-place=wood]');
  await field(page, 'base.set').selectOption('let_in');
  await field(page, 'base.kind').selectOption('plies');
  await enter(page, 'base.plies.2.wood', 'Purpleheart');
  await page.click('[data-place=vessel]');
  const canvas = page.locator('#three');
  const turned = async (/** @type {string} */ key, /** @type {number} */ presses) => {
    for (let press = 0; press < presses; press += 1) await canvas.press(key);
    return purple();
  };
  const above = await turned('ArrowDown', 6);
  assert.ok(above > 0.01, `${above} of the view from above is the upper ply`);
  await page.click('#three-cut');
  const cut = await turned('ArrowUp', 6);
  assert.ok(cut > 0.002, `${cut} of the cut view is the upper ply`);
}));

test('the view follows finger, keys and wheel, and goes back to the front', () => visit('tablet', async (page) => {
  await beginBowl(page);
  await page.click('#three-cut');
  const front = await shown(page);
  const box = await page.locator('#three').boundingBox();
  assert.ok(box);
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  // Turned aside, the piece comes round as it is cut open: the cut is toward the eye.
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 90, y, { steps: 4 });
  await page.mouse.up();
  assert.notEqual(await shown(page), front);
  await page.click('#three-cut');
  await page.click('#three-cut');
  assert.equal(await shown(page), front);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 60, y + 20, { steps: 4 });
  await page.mouse.up();
  const dragged = await shown(page);
  assert.notEqual(dragged, front);
  await page.locator('#three').focus();
  await page.keyboard.press('ArrowLeft');
  const turned = await shown(page);
  assert.notEqual(turned, dragged);
  const before = await woodShare(page, turned);
  await page.keyboard.press('-');
  await page.keyboard.press('-');
  assert.ok(await woodShare(page, await shown(page)) < before, 'minus goes away');
  await page.mouse.wheel(0, -400);
  await page.keyboard.press('+');
  await page.keyboard.press('+');
  assert.ok(await woodShare(page, await shown(page)) > before, 'wheel and plus come nearer');
  await page.click('#three-front');
  await page.mouse.move(0, 0);
  const back = await shown(page);
  assert.ok(Math.abs(await woodShare(page, back) - await woodShare(page, front)) < 0.01);
}));

test('a tap on the piece paints the segment that is seen there, a pull only turns it', () => visit('tablet', async (page) => {
  await beginBowl(page);
  const before = await shown(page);
  await page.locator('.swatch').nth(1).click();
  const box = await page.locator('#three').boundingBox();
  assert.ok(box);
  const [x, y] = [box.x + box.width / 2, box.y + box.height * 0.6];
  await page.touchscreen.tap(x, y);
  assert.notEqual(await shown(page), before);
  const title = await page.locator('#panel-title').innerText();
  assert.match(title, /^Ring [2-6]$/);
  const undo = await page.locator('#undo').getAttribute('aria-label');
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 80, y, { steps: 5 });
  await page.mouse.up();
  await settled(page);
  assert.equal(await page.locator('#undo').getAttribute('aria-label'), undo, 'a pull changes nothing');
  await page.touchscreen.tap(box.x + 4, box.y + 4);
  assert.equal(await page.locator('#panel-title').innerText(), title, 'beside the piece is nothing');
}));

test('segments are painted one by one with keys alone', () => visit('tablet', async (page) => {
  await beginBowl(page);
  await page.locator('#section-things').focus();
  await page.keyboard.press('Enter');
  const act = (/** @type {string} */ name) => page.getByRole('button', { name, exact: true });
  if (!await act('Paint it segment by segment').isVisible()) await page.locator('#panel-above').click();
  await act('Paint it segment by segment').press('Enter');
  assert.match(await page.locator('#panel-title').innerText(), /^Ring \d, segment 1$/);
  const wood = page.locator('#panel-acts [data-act=paint]').nth(1);
  assert.equal(await wood.getAttribute('aria-pressed'), 'false');
  await wood.press('Enter');
  assert.equal(await wood.getAttribute('aria-pressed'), 'true');
  await act('Next segment').press('Enter');
  assert.match(await page.locator('#panel-title').innerText(), /, segment 2$/);
  assert.equal(await page.locator('#panel-acts [data-act=paint]').nth(1).getAttribute('aria-pressed'), 'false');
  await act('Its ring').press('Enter');
  assert.match(await page.locator('#panel-title').innerText(), /^Ring \d$/);
}));

test('two fingers come nearer', () => visit('tablet', async (page, { context }) => {
  await beginBowl(page);
  const before = await woodShare(page, await shown(page));
  const box = await page.locator('#three').boundingBox();
  assert.ok(box);
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  const hands = await context.newCDPSession(page);
  const at = (/** @type {number} */ apart) => [{ x: x - apart, y, id: 1 }, { x: x + apart, y, id: 2 }];
  await hands.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: at(30) });
  for (const apart of [36, 42, 48]) {
    await hands.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: at(apart) });
  }
  await hands.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
  assert.ok(await woodShare(page, await shown(page)) > 1.3 * before);
}));

test('the view comes back as it was when the graphics were lost', () => visit('tablet', async (page) => {
  await beginBowl(page);
  await page.locator('#three').focus();
  await page.keyboard.press('ArrowLeft');
  await page.click('#three-cut');
  const before = await shown(page);
  const canvas = await page.$('#three');
  assert.ok(canvas);
  const graphics = await canvas.evaluateHandle((element) => (
    /** @type {HTMLCanvasElement} */ (element).getContext('webgl2')?.getExtension('WEBGL_lose_context')));
  await graphics.evaluate((lose) => lose?.loseContext());
  await page.locator('#three-missing').waitFor({ state: 'visible' });
  assert.equal(await page.locator('#three').isVisible(), false);
  await graphics.evaluate((lose) => lose?.restoreContext());
  await page.locator('#three').waitFor({ state: 'visible' });
  // It is drawn once it is laid out again, which a busy machine takes its time for.
  let after = await shown(page);
  for (let tries = 0; after !== before && tries < 20; tries += 1) {
    await page.waitForTimeout(200);
    after = await shown(page);
  }
  assert.ok(after === before, 'the view is not as it was');
  assert.equal(await page.locator('#three-missing').isVisible(), false);
}, { expected: [/CONTEXT_LOST_WEBGL/, /WebGL/] }));

test('without WebGL2 the page says so and the rest goes on', () => visit('tablet', async (page) => {
  await beginBowl(page);
  await page.locator('#three-missing').waitFor({ state: 'visible' });
  assert.equal(await page.locator('#three').isVisible(), false);
  await page.click('#three-cut');
  await page.click('#divide');
  assert.ok(await page.locator('#section svg').isVisible());
}, {
  before: (context) => context.addInitScript(() => {
    const own = HTMLCanvasElement.prototype.getContext;
    HTMLCanvasElement.prototype.getContext = /** @type {typeof own} */ (
      function getContext(/** @type {string} */ kind, /** @type {any[]} */ ...rest) {
        return kind === 'webgl2' ? null : Reflect.apply(own, this, [kind, ...rest]);
      });
  }),
}));

test('a stumble of the library elsewhere does not take the view along', () => visit('tablet', async (page) => {
  await beginBowl(page);
  const before = await shown(page);
  await page.evaluate(async () => {
    const address = './ringwright.js';
    (await import(address)).__wbg_reset_state();
  });
  await page.click('#three-cut');
  await page.click('#three-cut');
  assert.equal(await shown(page), before);
}));
