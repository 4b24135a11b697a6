// The Vessel place as a new user goes through it: a shape, pulled, divided, painted,
// looked at, sent; and what is traced, tabled and shown as an example.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { address, enter, entered, field, keptDesigns, openFile, openFold, putAway, staysInSight } from './hands.mjs';
import { axeClean, fitsTheScreen, screens, settled, visit } from './harness.mjs';

/** @typedef {import('./harness.mjs').Page} Page */

/** @param {Page} page @param {string} shape */
async function begin(page, shape) {
  await page.click('[data-place=vessel]');
  await page.click(`#starts [data-way=${shape}]`);
  await page.locator('#section .handle').first().waitFor();
  await settled(page);
}

/** The open design's vessel, as it is kept. @param {Page} page */
async function vessel(page) {
  await putAway(page);
  const kept = Object.values(await keptDesigns(page));
  kept.sort((one, other) => (one.savedAt < other.savedAt ? 1 : -1));
  return kept[0].design.vessel;
}

/**
 * Drags with a finger, as a touch screen tells it.
 * @param {Page} page
 * @param {{ x: number, y: number }} from
 * @param {{ x: number, y: number }} by
 */
async function fingerDrag(page, from, by) {
  const session = await page.context().newCDPSession(page);
  /** @param {'touchStart' | 'touchMove' | 'touchEnd'} type @param {{ x: number, y: number }[]} touchPoints */
  const touch = (type, touchPoints) => session.send('Input.dispatchTouchEvent', { type, touchPoints });
  await touch('touchStart', [from]);
  for (let step = 1; step <= 6; step += 1) {
    await touch('touchMove', [{ x: from.x + (by.x * step) / 6, y: from.y + (by.y * step) / 6 }]);
    await settled(page);
  }
  await touch('touchEnd', []);
  await settled(page);
}

/** The middle of the handle at this place from the foot up. @param {Page} page @param {number} place */
async function handleAt(page, place) {
  const box = await page.locator('#section .handle').nth(place).boundingBox();
  assert.ok(box);
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

/** Taps beside a ring, where its name stands. @param {Page} page @param {number} place */
async function tapRing(page, place) {
  const row = page.locator(`#section [data-name="ring-${place}"]`).first();
  await row.scrollIntoViewIfNeeded();
  const box = await row.boundingBox();
  assert.ok(box);
  await page.mouse.click(box.x + box.width - 40, box.y + box.height / 2);
}

for (const screen of ['tablet', 'phone']) {
  test(`a bowl is pulled, divided, painted, looked at, sent and opened again on a ${screen}`, () => visit(
    { ...screens[screen], hasTouch: true },
    async (page, { origin }) => {
      await begin(page, 'bowl');
      const before = await vessel(page);
      const rim = before.points.length - 1;
      await page.locator('#section .handle').nth(rim).scrollIntoViewIfNeeded();
      await fingerDrag(page, await handleAt(page, rim), { x: 24, y: -10 });
      const pulled = await vessel(page);
      assert.ok(pulled.points[rim].radius_mm > before.points[rim].radius_mm + 2, 'the rim goes out');
      assert.ok(pulled.points[rim].height_mm > before.points[rim].height_mm + 2, 'and up');
      assert.deepEqual(pulled.points.slice(0, rim), before.points.slice(0, rim), 'and nothing else moves');
      const sixteenths = (pulled.points[rim].radius_mm / 25.4) * 32;
      assert.ok(Math.abs(sixteenths - Math.round(sixteenths)) < 1e-6, 'its diameter lies on the tape');
      const heights = (/** @type {{ rings: { height_mm: number }[] }} */ { rings }) => rings.reduce((sum, ring) => sum + ring.height_mm, 0);
      assert.ok(Math.abs(heights(pulled) - pulled.points[rim].height_mm) < 0.3, 'the stack follows the rim');

      await page.click('#divide');
      const divided = await vessel(page);
      assert.ok(Math.abs(heights(divided) - divided.points[rim].height_mm) < 0.01);

      await page.locator('.swatch').nth(1).tap();
      await page.locator('#unrolled [data-name^="cell-2-"]').first().tap();
      const painted = await vessel(page);
      assert.ok(painted.rings[2].pattern.includes(1), 'the tapped segment is of the picked wood');
      await page.locator('[data-pattern=every2]').tap();
      assert.deepEqual((await vessel(page)).rings[2].pattern, [1, 0]);

      await page.click('#undo');
      assert.deepEqual((await vessel(page)).rings[2].pattern, painted.rings[2].pattern, 'undo takes the last step back');
      await page.click('#redo');
      const made = await vessel(page);

      await page.reload();
      await page.locator('#section .handle').first().waitFor();
      assert.equal(await page.locator('#vessel').isVisible(), true, 'it comes back to where it was');
      assert.deepEqual(await vessel(page), made);

      const link = await address(page);
      const other = await page.context().browser()?.newContext();
      assert.ok(other);
      const there = await other.newPage();
      await there.goto(`${origin}/${link}`);
      await there.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
      assert.deepEqual(await vessel(there), made, 'the link carries all of it');
      await other.close();
    },
  ));
}

test('a whole drag is one step of undo', () => visit('tablet', async (page) => {
  await begin(page, 'vase');
  const before = await vessel(page);
  await fingerDrag(page, await handleAt(page, 2), { x: 40, y: 12 });
  assert.notDeepEqual(await vessel(page), before);
  await page.click('#undo');
  assert.deepEqual(await vessel(page), before);
}));

test('wherever handles are pulled the vessel stays one', () => visit('tablet', async (page) => {
  await begin(page, 'closed');
  let seed = 7;
  const random = () => {
    seed = (seed * 16_807) % 2_147_483_647;
    return seed / 2_147_483_647;
  };
  for (let pull = 0; pull < 25; pull += 1) {
    const count = await page.locator('#section .handle').count();
    const place = Math.floor(random() * count);
    const handle = page.locator('#section .handle').nth(place);
    await handle.scrollIntoViewIfNeeded();
    const from = await handleAt(page, place);
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(random() * 1024, random() * 768, { steps: 2 });
    await page.mouse.up();
    const { points } = await vessel(page);
    points.forEach((/** @type {{ height_mm: number, radius_mm: number }} */ point, /** @type {number} */ at) => {
      assert.ok(point.radius_mm >= 0.99, `point ${at} stays off the axis`);
      assert.ok(at === 0 || point.height_mm > points[at - 1].height_mm, `point ${at} stays above the one below`);
    });
    assert.ok(await page.locator('#section path').count() > 3, 'the section is drawn');
  }
}));

test('a point is added by a tap, made a corner, moved and removed by keys', () => visit('desktop', async (page) => {
  await begin(page, 'cylinder');
  const { points: before } = await vessel(page);
  await page.locator('[data-name=outside]').first().evaluate((line) => {
    const box = line.getBoundingClientRect();
    line.dispatchEvent(new MouseEvent('click', { bubbles: true, clientX: box.right, clientY: box.top + box.height * 0.4 }));
  });
  const { points: more } = await vessel(page);
  assert.equal(more.length, before.length + 1);
  const added = more.findIndex((/** @type {object} */ point, /** @type {number} */ at) => JSON.stringify(point) !== JSON.stringify(before[at]));
  await page.locator('#section .handle').nth(added).focus();
  await page.keyboard.press('ArrowRight');
  const { points: moved } = await vessel(page);
  assert.ok(moved[added].radius_mm > more[added].radius_mm);
  await page.click('#panel-acts [data-act="toggle_corner"]');
  assert.equal((await vessel(page)).points[added].is_corner, true);
  await page.locator('#section .handle').nth(added).focus();
  await page.keyboard.press('Delete');
  assert.equal((await vessel(page)).points.length, before.length);
}));

test('every ring opens with its numbers, and every caution is told at its mark', () => visit('tablet', async (page) => {
  await begin(page, 'bowl');
  await tapRing(page, 2);
  assert.equal(await page.locator('#panel-title').innerText(), 'Ring 3');
  assert.match(await page.locator('#panel-saw').innerText(), /Saw setting/);
  await enter(page, 'vessel.rings.2.height_mm', '2');
  const marks = page.locator('.mark');
  assert.ok(await marks.count() >= 1);
  await marks.first().evaluate((mark) => mark instanceof HTMLElement && mark.click());
  assert.match(await page.locator('#panel-cautions').innerText(), /\d.*\./s, 'number, reason and remedy');
  assert.equal(await page.locator('#no-cautions').isVisible(), false);
}));

test('what cannot be is told at its field and the vessel stands', () => visit('tablet', async (page) => {
  await begin(page, 'bowl');
  await enter(page, 'vessel.floor_mm', '20');
  assert.equal(await field(page, 'vessel.floor_mm').getAttribute('aria-invalid'), 'true');
  assert.ok(await page.locator('#section path').count() > 3);
  await enter(page, 'vessel.floor_mm', 'thick');
  assert.equal(await entered(page, 'vessel.floor_mm'), 'thick');
  await enter(page, 'vessel.floor_mm', '3/8');
  assert.equal(await field(page, 'vessel.floor_mm').getAttribute('aria-invalid'), null);
}));

/** What the table of rings shows in a column. @param {Page} page @param {number} column */
async function column(page, column) {
  const cells = await page.locator(`#ring-table tbody tr > :nth-child(${column})`).allInnerTexts();
  return cells.map((text) => text.replace(/\s+/g, ' ').trim());
}

for (const screen of ['tablet', 'phone']) {
  test(`the drawn diameter and height are typed where they stand, on a ${screen}`, () => visit(
    { ...screens[screen], hasTouch: true },
    async (page) => {
      await begin(page, 'bowl');
      for (const [key, text] of [['vessel.diameter_mm', '12 1/2'], ['vessel.height_mm', '5 1/4']]) {
        const drawn = page.locator(`#section [data-key="${key}"]`);
        await drawn.tap();
        await page.locator('.keypad:not([hidden])').waitFor();
        await drawn.fill(text);
        // It is whole on the drawing while it is typed in.
        const [box, own] = [await page.locator('#section').boundingBox(), await drawn.boundingBox()];
        assert.ok(box && own);
        assert.ok(own.width >= 88 && own.height >= 44, `${own.width} × ${own.height}`);
        assert.ok(own.x >= box.x - 1 && own.y >= box.y - 1);
        assert.ok(own.x + own.width <= box.x + box.width + 1 && own.y + own.height <= box.y + box.height + 1);
        await drawn.press('Enter');
        assert.equal(await entered(page, key), text, 'the list says the same');
      }
      const { points } = await vessel(page);
      assert.ok(Math.abs(points.at(-1).height_mm - 5.25 * 25.4) < 0.02);
      assert.ok(Math.abs(points.at(-1).radius_mm * 2 - 12.5 * 25.4) < 0.02);
      await page.keyboard.press('Escape');
      await axeClean(page);
    },
  ));
}

test('the table of rings is put in order by any column, both ways', () => visit('desktop', async (page) => {
  await begin(page, 'bowl');
  await openFold(page, 'all-rings');
  await page.locator('#ring-table tbody tr').first().waitFor();
  const numbers = (await column(page, 1)).map(Number);
  assert.deepEqual(numbers, numbers.toSorted((a, b) => b - a), 'from the rim down at first');
  const head = page.locator('#all-rings thead th', { hasText: 'Outside' });
  await head.getByRole('button').click();
  assert.equal(await head.getAttribute('aria-sort'), 'ascending');
  const upward = await column(page, 1);
  assert.deepEqual(upward.map(Number), numbers.toSorted((a, b) => a - b), 'a bowl widens upward');
  await head.getByRole('button').press('Enter');
  assert.equal(await head.getAttribute('aria-sort'), 'descending');
  assert.deepEqual(await column(page, 1), upward.toReversed());
}));

for (const way of ['bowl', 'vase', 'lantern_vase']) {
  test(`the table of rings is whole on a tablet, and its settings are in sight on a phone: ${way}`, async () => {
    for (const [screen, heads] of /** @type {const} */ ([['tablet', 9], ['phone', 4]])) {
      await visit(screen, async (page) => {
        await page.click('[data-place=vessel]');
        await page.click(`#starts [data-way=${way}]`);
        await openFold(page, 'all-rings');
        await page.locator('#ring-table tbody tr').first().waitFor();
        const box = await page.locator('#all-rings .table-box').boundingBox();
        const last = await page.locator('#ring-table thead th').nth(heads - 1).boundingBox();
        assert.ok(box && last);
        assert.ok(last.x + last.width <= box.x + box.width + 0.5, `${screen}: ${last.x + last.width} of ${box.x + box.width}`);
      });
    }
  });
}

test('on a phone the table of rings is scrolled sideways in its box, its numbers staying in sight', () => visit(
  'phone',
  async (page) => {
    await begin(page, 'bowl');
    await openFold(page, 'all-rings');
    const box = page.locator('#all-rings .table-box');
    await page.locator('#ring-table tbody tr').first().waitFor();
    await fitsTheScreen(page);
    await staysInSight(page, box);
  },
));

for (const colorScheme of /** @type {const} */ (['light', 'dark'])) {
  for (const screen of ['tablet', 'phone']) {
    test(`the Vessel place keeps the rules, ${colorScheme}, ${screen}`, () => visit(
      { ...screens[screen], colorScheme },
      async (page) => {
        await page.click('[data-place=vessel]');
        await axeClean(page);
        await page.click('#starts [data-way=lantern_vase]');
        await page.locator('#section .handle').first().waitFor();
        await tapRing(page, 5);
        await page.evaluate(() => document.querySelectorAll('#vessel details:not(#variations)').forEach((each) => each.setAttribute('open', '')));
        await settled(page);
        await page.evaluate(() => Promise.all(document.getAnimations().map((each) => each.finished)));
        await axeClean(page);
        await fitsTheScreen(page);
      },
    ));
  }
}

test('an example opens beside the own work', () => visit('tablet', async (page) => {
  await begin(page, 'bowl');
  const own = await vessel(page);
  await page.click('#designs-button');
  await page.click('#designs-dialog [data-way=porridge_bowl]');
  await page.locator('#design-name', { hasText: 'Porridge bowl' }).waitFor();
  assert.equal(await page.locator('#no-cautions').isVisible(), true);
  const kept = Object.values(await keptDesigns(page)).map((each) => each.design.vessel);
  assert.ok(kept.some((each) => JSON.stringify(each) === JSON.stringify(own)));
}));

/** A picture of a white post of 100 by 400 pixels on black, 300 by 500. @param {Page} page */
async function postPicture(page) {
  const bytes = await page.evaluate(async () => {
    const canvas = new OffscreenCanvas(300, 500);
    const context = /** @type {OffscreenCanvasRenderingContext2D} */ (canvas.getContext('2d'));
    context.fillRect(0, 0, 300, 500);
    context.fillStyle = '#fff';
    context.fillRect(100, 50, 100, 400);
    return [...new Uint8Array(await (await canvas.convertToBlob()).arrayBuffer())];
  });
  return Buffer.from(bytes);
}

/** @param {Page} page @param {{ name: string, mimeType: string, buffer: Buffer }} file */
async function choosePicture(page, file) {
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.click('#trace-choose')]);
  await chooser.setFiles(file);
}

/** Taps a pixel of the picture. @param {Page} page @param {number} x @param {number} y */
async function tapPicture(page, x, y) {
  const box = await page.locator('.trace-picture').boundingBox();
  assert.ok(box);
  await page.mouse.click(box.x + (box.width * x) / 300, box.y + (box.height * y) / 500);
  await settled(page);
}

test('a photograph lies under the section at its scale, and stays on the device', () => visit(
  { viewport: { width: 1024, height: 1000 }, hasTouch: true },
  async (page) => {
    await begin(page, 'vase');
    const linkBefore = await address(page);
    await openFold(page, 'trace');
    await choosePicture(page, { name: 'post.png', mimeType: 'image/png', buffer: await postPicture(page) });
    await page.locator('.trace-cover').waitFor();
    await page.evaluate(() => scrollTo(0, 0));
    await tapPicture(page, 150, 450);
    await tapPicture(page, 100, 450);
    await tapPicture(page, 100, 50);
    await page.fill('#trace-length', '8');
    await settled(page);
    // Two points of the vase tell the drawing's scale: 400 pixels of the picture are 8 in there.
    const { points } = await vessel(page);
    const [foot, rim] = [await handleAt(page, 0), await handleAt(page, points.length - 1)];
    const pixelsAnInch = (foot.y - rim.y) / (points.at(-1).height_mm / 25.4);
    const box = await page.locator('.trace-picture').boundingBox();
    assert.ok(box);
    assert.ok(Math.abs((box.height * 400) / 500 - 8 * pixelsAnInch) < 2, 'true to scale');
    assert.ok(Math.abs(box.y + (box.height * 450) / 500 - foot.y) < 2, 'foot on foot');
    assert.equal(await address(page), linkBefore, 'nothing of it is in the link');
    await page.reload();
    await page.locator('.trace-picture').waitFor();
    await page.evaluate(() => scrollTo(0, 0));
    await settled(page);
    const again = await page.locator('.trace-picture').boundingBox();
    assert.ok(again && Math.abs(again.height - box.height) < 1, 'it is back as it was');
    await page.click('#trace-remove');
    await page.waitForFunction(noPictureIsKept);
    await page.reload();
    await page.locator('#section .handle').first().waitFor();
    assert.equal(await page.locator('.trace-picture').isVisible(), false);
  },
));

/** Whether the browser's database has forgotten every picture. */
function noPictureIsKept() {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open('ringwright-pictures');
    request.addEventListener('error', () => reject(request.error));
    request.addEventListener('success', () => {
      const count = request.result.transaction('pictures').objectStore('pictures').count();
      count.addEventListener('success', () => {
        request.result.close();
        resolve(count.result === 0);
      });
    });
  });
}

test('a picture is placed by keys, and what is none is told', () => visit('desktop', async (page) => {
  await begin(page, 'bowl');
  await openFold(page, 'trace');
  await choosePicture(page, { name: 'notes.png', mimeType: 'image/png', buffer: Buffer.from('no picture') });
  await page.waitForFunction(() => /picture/.test(document.getElementById('trace-says')?.textContent ?? ''));
  await choosePicture(page, { name: 'post.png', mimeType: 'image/png', buffer: await postPicture(page) });
  await page.locator('.trace-cover').waitFor();
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Enter');
  for (let press = 0; press < 10; press += 1) await page.keyboard.press('ArrowUp');
  await page.keyboard.press('Enter');
  assert.equal(await page.locator('#trace-length').isVisible(), true);
  assert.equal(await page.evaluate(() => document.activeElement?.id), 'trace-length');
}));

test('a wood that a file names but the vessel lacks is put right', () => visit('tablet', async (page) => {
  await begin(page, 'bowl');
  await putAway(page);
  const kept = Object.values(await keptDesigns(page))[0];
  kept.design.vessel.rings[1].pattern = [7];
  await openFile(page, JSON.stringify(kept.design));
  await page.click('[data-place=vessel]');
  await page.locator('#section .handle').first().waitFor();
  assert.ok(await page.locator('#unrolled path').count() > 0);
}));

for (const width of [820, 1180]) {
  test(`the head of the ring list is clear of every handle at ${width} px`, () => visit(
    { viewport: { width, height: 820 }, hasTouch: true },
    async (page) => {
      for (const shape of ['bowl', 'ogee', 'closed', 'vase', 'platter', 'cylinder']) {
        if (shape !== 'bowl') await page.tap('#vessel-again');
        await begin(page, shape);
        // At one moment: a drawing that comes late takes the place of the one before.
        const near = await (await page.waitForFunction(() => {
          const head = [...document.querySelectorAll('#section text')]
            .find((text) => text.textContent?.startsWith('ring: '))?.getBoundingClientRect();
          return head && [...document.querySelectorAll('#section .handle')].map((handle) => {
            const at = handle.getBoundingClientRect();
            const [x, y] = [at.x + at.width / 2, at.y + at.height / 2];
            return Math.hypot(Math.max(head.x - x, x - head.right, 0), Math.max(head.y - y, y - head.bottom, 0));
          });
        })).jsonValue();
        assert.ok(near && near.length > 3, `${shape} has handles`);
        // The knob that is seen, and its edge.
        assert.ok(Math.min(...near) >= 9, `${shape}: a handle ${Math.min(...near)} px from the head`);
      }
    },
  ));
}

test('every ring is divided alike from one field, and boards that are not right are told with the cautions', () => visit('tablet', async (page) => {
  await page.tap('[data-way=boards]');
  await page.fill('#boards-many-entry', '6 x 96 x 1 hard maple');
  await page.tap('#boards-many-form button');
  await begin(page, 'vase');
  await page.locator('#vessel-lacking li', { hasText: /The base: it needs/ }).first().waitFor();
  assert.ok(await page.locator('#no-cautions').isHidden());
  await enter(page, 'vessel.segment_count', '12');
  const counts = (await vessel(page)).rings.filter((/** @type {any} */ ring) => ring.made_of === 'segments')
    .map((/** @type {any} */ ring) => ring.segment_count);
  assert.ok(counts.length > 5 && counts.every((/** @type {number} */ count) => count === 12), String(counts));
  await enter(page, 'vessel.segment_count', '2');
  assert.equal(await field(page, 'vessel.segment_count').first().getAttribute('aria-invalid'), 'true');
  assert.equal((await vessel(page)).rings[5].segment_count, 12);
}));
