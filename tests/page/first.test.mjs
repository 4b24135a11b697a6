// The first ten seconds: the ways in as pictures, a painted bowl in three taps, a friend's
// link that opens the piece itself; and steps of undo that tell what they do.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { axeClean, fitsTheScreen, picture, settled, untilReady, visit } from './harness.mjs';
import { address, enter, entered, field } from './hands.mjs';

/** @typedef {import('playwright-core').Page} Page */

/** Every way with a picture in it that can be seen. @param {Page} page @param {string} within */
async function pictures(page, within) {
  await page.waitForFunction((box) => {
    const all = [...document.querySelectorAll(`${box} [data-way]`)];
    return all.length > 0 && all.every((each) => (each.querySelectorAll('svg path').length ?? 0) > 2);
  }, within);
  return page.locator(`${within} [data-way]`).count();
}

for (const screen of ['phone', 'narrowPhone', 'tablet', 'uprightTablet', 'desktop']) {
  test(`the first screen is the ring with its answer, and shows the other ways in on a ${screen}`, () => visit(screen, async (page) => {
    assert.ok(await page.locator('.saw [data-key="saw.stop"] .number').isVisible());
    assert.equal(await pictures(page, '#ways'), 11);
    const at = await page.locator('#ways .way-tiles button').first().boundingBox();
    const high = page.viewportSize()?.height ?? 0;
    assert.ok(at && at.y < high - 80, `the first way stands at ${at?.y} px of ${high}`);
    assert.equal(await page.locator('.notice').count(), 0, 'a first visit needs no notice');
    await picture(page, `first-${screen}`);
    await fitsTheScreen(page);
    await axeClean(page);
  }));
}

test('nothing moves while the first figures are typed, and the ways come back with a new design', () => visit('phone', async (page) => {
  await pictures(page, '#ways');
  const before = await page.locator('#ring-drawing').boundingBox();
  await enter(page, 'ring.segment_count', '16');
  await page.evaluate(() => scrollTo(0, 0));
  const after = await page.locator('#ring-drawing').boundingBox();
  assert.equal(after?.y, before?.y);
  await page.reload();
  await untilReady(page);
  assert.ok(await page.locator('#ways').isHidden(), 'there is work now');
  assert.equal(await entered(page, 'ring.segment_count'), '16');
  await page.tap('#designs-button');
  assert.equal(await pictures(page, '#designs-dialog'), 11);
  await picture(page, 'first-designs');
  await page.tap('#new-design');
  assert.ok(await page.locator('#ways').isVisible());
  await page.tap('#designs-button');
  await page.locator('#designs-dialog [data-way="vase"]').tap();
  assert.ok(await page.locator('#section svg').isVisible());
}));

test('a first visit comes to a painted bowl in 3D in three taps', () => visit('tablet', async (page) => {
  await page.locator('#ways [data-way="bowl"]').tap();
  await page.locator('#swatches button', { hasText: 'Purpleheart' }).tap();
  const kept = await page.locator('#undo').getAttribute('aria-label');
  await page.locator('[data-pattern="all"]').tap();
  await page.waitForFunction((old) => document.getElementById('undo')?.getAttribute('aria-label') !== old, kept);
  await page.locator('#undo[aria-label="Undo: ring 2 Purpleheart"]').waitFor();
  assert.ok(await page.locator('#three').isVisible());
  assert.ok(await page.locator('#unrolled [data-name^="cell-1"]').count() > 3);
}));

test('glued rings and boards are begun from the first screen', () => visit('phone', async (page) => {
  await page.locator('#ways [data-way="glued"]').tap();
  assert.equal(await page.locator('#glued-rows li').count(), 1);
  await page.tap('#designs-button');
  await page.locator('#designs-dialog [data-way="boards"]').tap();
  await page.locator('#boards-many-entry').waitFor();
}));

for (const motion of /** @type {const} */ (['no-preference', 'reduce'])) {
  test(`a friend’s link opens the piece itself; motion: ${motion}`, () => visit(
    { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, reducedMotion: motion },
    async (page, { context, origin }) => {
      await page.locator('#ways [data-way="porridge_bowl"]').tap();
      await page.locator('#design-name', { hasText: 'Porridge bowl' }).waitFor();
      const link = await address(page);
      await page.close();
      await context.clearCookies();
      const friend = await context.browser()?.newContext({ locale: 'en-US', viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, reducedMotion: motion });
      assert.ok(friend);
      const next = await friend.newPage();
      await next.goto(`${origin}/${link}`);
      await untilReady(next);
      assert.ok(await next.locator('#vessel').isVisible());
      assert.equal(await next.innerText('#guest-name'), 'Porridge bowl');
      assert.match(await next.innerText('#guest-says'), /in across, .* high, \d+ pieces\. .*\./);
      assert.equal(await next.locator('.notice').count(), 0);
      const three = await next.locator('#three').boundingBox();
      assert.ok(three && three.y < 500, `the piece stands at ${three?.y} px`);
      assert.equal(await next.locator('#three[data-turns]').count(), motion === 'reduce' ? 0 : 1);
      await next.waitForTimeout(500);
      await picture(next, `friend-${motion}`);
      // On a phone marks lie over this bowl's points, which would count as small targets.
      await next.setViewportSize({ width: 1024, height: 3000 });
      await axeClean(next);
      await next.setViewportSize({ width: 390, height: 844 });
      await next.tap('#guest-own');
      assert.ok(await next.locator('#guest').isHidden());
      assert.match(await next.innerText('#vessel-says'), /among your designs/);
      await friend.close();
    },
  ));
}

test('undo and redo say what they do, and redo goes with a new change', () => visit('tablet', async (page) => {
  const undo = page.locator('#undo');
  const redo = page.locator('#redo');
  // Named a moment after the change, so as not to hold up a pulled handle.
  const isNamed = (/** @type {string} */ id, /** @type {string} */ name) => page.waitForFunction(
    ([of, wanted]) => document.getElementById(of ?? '')?.getAttribute('aria-label') === wanted, [id, name], { timeout: 5000 });
  assert.ok(await undo.isDisabled());
  await enter(page, 'ring.segment_count', '24');
  await isNamed('undo', 'Undo: Segments 24');
  await page.locator('#ways [data-way="bowl"]').tap();
  assert.ok(await undo.isEnabled(), 'right after the first shape');
  await isNamed('undo', 'Undo: a shape begun');
  await undo.click();
  assert.equal(await page.innerText('#step-says'), 'Undone: a shape begun');
  await isNamed('redo', 'Redo: a shape begun');
  await page.click('[data-place="ring"]');
  await enter(page, 'ring.segment_count', '18');
  assert.ok(await redo.isDisabled(), 'redo goes with a new change');
  await undo.click();
  await redo.click();
  assert.equal(await page.innerText('#step-says'), 'Done again: Segments 18');
  await settled(page);
  assert.equal(await field(page, 'ring.segment_count').inputValue(), '18');
  await axeClean(page);
}));

test('what a tap did is said, and where it did nothing, why', () => visit('phone', async (page) => {
  await page.locator('#ways [data-way="bowl"]').tap();
  await page.tap('#divide');
  assert.match(await page.innerText('#step-says'), /^(Done: |It is divided so already)/);
  await page.locator('#swatches button').nth(1).tap();
  await page.tap('#wood-remove');
  assert.equal(await page.innerText('#step-says'), 'Done: Purpleheart removed');
  await page.tap('[data-pattern="mirror"]');
  await page.tap('[data-pattern="mirror"]');
  assert.equal(await page.innerText('#step-says'), 'Nothing to do: it is so already.');
}));

test('another shape is offered with its picture', () => visit('phone', async (page) => {
  await page.locator('#ways [data-way="porridge_bowl"]').tap();
  await page.locator('#section svg').waitFor();
  await page.getByRole('button', { name: 'Another shape' }).tap();
  const tiles = page.locator('#starts [data-way]');
  await page.waitForFunction(() => [...document.querySelectorAll('#starts [data-way]')].every((tile) => tile.querySelector('svg path')));
  assert.ok(await tiles.count() >= 9);
}));
