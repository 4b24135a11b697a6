// Within everyone's reach: by keyboard alone, by a screen reader, by a thumb, on a narrow
// screen, in the dark.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { axeClean, fitsTheScreen, screens, settled, visit } from './harness.mjs';
import { address, enter, entered, field, near, read } from './hands.mjs';

/** @typedef {import('playwright-core').Page} Page */

/** @param {Page} page */
function openEveryFold(page) {
  return page.evaluate(async () => {
    for (const fold of document.querySelectorAll('main:not([hidden]) details')) fold.setAttribute('open', '');
    // The folds fade in: contrast is measured when they have.
    await Promise.all(document.getAnimations().map((each) => each.finished));
  });
}

/** What each dialog opens with. */
const dialogs = { 'unit-dialog': '#unit-button', 'share-dialog': '#share-button', 'designs-dialog': '#designs-button' };

/** @param {Page} page */
function places(page) {
  return page.locator('[data-place]').evaluateAll((buttons) => buttons.map((each) => each.getAttribute('data-place') ?? ''));
}

for (const colorScheme of /** @type {const} */ (['light', 'dark'])) {
  for (const screen of ['tablet', 'narrowPhone']) {
    test(`every place with every fold open keeps the rules, ${colorScheme}, ${screen}`, () => visit(
      { ...screens[screen], colorScheme },
      async (page) => {
        for (const place of await places(page)) {
          await page.click(`[data-place="${place}"]`);
          await openEveryFold(page);
          await axeClean(page);
          await fitsTheScreen(page);
        }
      },
    ));

    test(`messages, cautions and the keypad keep the rules, ${colorScheme}, ${screen}`, () => visit(
      { ...screens[screen], colorScheme },
      async (page) => {
        await enter(page, 'ring.segment_count', '2');
        await enter(page, 'ring.height_mm', 'abc');
        await enter(page, 'ring.outside_diameter_mm', '1 3/4');
        await settled(page);
        await axeClean(page);
        await fitsTheScreen(page);
        await field(page, 'ring.wall_mm').tap();
        await page.locator('#keypad').waitFor();
        await axeClean(page);
        await fitsTheScreen(page);
      },
    ));

    test(`every dialog keeps the rules, ${colorScheme}, ${screen}`, () => visit(
      { ...screens[screen], colorScheme },
      async (page) => {
        await enter(page, 'ring.height_mm', '1');
        for (const [dialog, opener] of Object.entries(dialogs)) {
          await page.click(opener);
          await page.evaluate(async () => {
            for (const fold of document.querySelectorAll('dialog[open] details')) fold.setAttribute('open', '');
            // A list that is shown anew ends some of them.
            await Promise.allSettled(document.getAnimations().map((each) => each.finished));
          });
          await axeClean(page);
          await fitsTheScreen(page);
          const box = await page.locator(`#${dialog}`).boundingBox();
          const screenBox = page.viewportSize();
          assert.ok(box && screenBox && box.x >= 0 && box.y >= 0);
          assert.ok(box.x + box.width <= screenBox.width && box.y + box.height <= screenBox.height + 1);
          await page.keyboard.press('Escape');
        }
      },
    ));
  }
}

test('high contrast keeps the rules', () => visit({ ...screens.tablet, contrast: 'more' }, async (page) => {
  await openEveryFold(page);
  await axeClean(page);
}));

/**
 * What can be worked and is in sight, with its size. Boxes within a label count as the label.
 * @param {Page} page
 */
function targets(page) {
  return page.evaluate(() => {
    const root = document.querySelector('dialog[open]') ?? document;
    const found = root.querySelectorAll('button, select, summary, input:not([type="checkbox"]), label:has(input[type="checkbox"])');
    return [...found].filter((each) => each.checkVisibility()).map((each) => {
      const { width, height } = each.getBoundingClientRect();
      const name = each.id || each.textContent?.trim() || each.getAttribute('aria-label') || each.outerHTML.slice(0, 80);
      return { name: name.slice(0, 40), width, height };
    });
  });
}

for (const screen of ['tablet', 'phone', 'narrowPhone']) {
  test(`everything to tap is 44 px and more on a ${screen}`, () => visit(screen, async (page) => {
    /** @param {string} where */
    const measure = async (where) => {
      const small = (await targets(page)).filter(({ width, height }) => width < 43.5 || height < 43.5);
      assert.deepEqual(small, [], where);
    };
    await page.click('[data-place="ring"]');
    await openEveryFold(page);
    await measure('ring');
    await field(page, 'ring.wall_mm').tap();
    await page.locator('#keypad').waitFor();
    await measure('keypad');
    await page.locator('#keypad [data-act="done"]').tap();
    await page.click('[data-place="paper"]');
    await measure('paper');
    await page.click('[data-place="ring"]');
    for (const [dialog, opener] of Object.entries(dialogs)) {
      await page.click(opener);
      await measure(dialog);
      await page.keyboard.press('Escape');
    }
  }));
}

/**
 * Tabs once through the page, and returns the names of all that took the focus.
 * @param {Page} page
 */
async function tabThrough(page) {
  /** @type {string[]} */
  const reached = [];
  for (let presses = 0; presses < 400; presses += 1) {
    await page.keyboard.press('Tab');
    const focus = await page.evaluate(() => {
      const at = document.activeElement;
      if (!(at instanceof HTMLElement) || at === document.body) return null;
      const isSeen = at.dataset.seen === 'yes';
      at.dataset.seen = 'yes';
      const style = getComputedStyle(at);
      const box = at.getBoundingClientRect();
      return {
        isSeen,
        name: at.id || at.textContent?.trim().slice(0, 30) || at.dataset.key || at.tagName,
        hasOutline: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2,
        isInSight: box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth,
      };
    });
    if (!focus || focus.isSeen) break;
    assert.ok(focus.hasOutline, `the focus cannot be seen at ${focus.name}`);
    assert.ok(focus.isInSight, `the focus is out of sight at ${focus.name}`);
    reached.push(focus.name);
  }
  return reached;
}

test('the keyboard alone reaches everything in the Ring place, and the focus is seen', () => visit('desktop', async (page) => {
  await openEveryFold(page);
  await page.waitForSelector('html[data-offline]');
  await page.evaluate(() => document.querySelectorAll('.notice').forEach((each) => each.remove()));
  await page.evaluate(() => {
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
  });
  await tabThrough(page);
  const missed = await page.evaluate(() => [...document.querySelectorAll('a[href], button, input, select, summary')]
    .filter((each) => each.checkVisibility() && !each.matches(':disabled, dialog *, #keypad *'))
    .filter((each) => each instanceof HTMLElement && each.dataset.seen !== 'yes')
    .map((each) => each.outerHTML.slice(0, 100)));
  assert.deepEqual(missed, []);
}));

test('the keyboard alone works the page from end to end', () => visit('desktop', async (page) => {
  const keys = page.keyboard;
  await field(page, 'ring.segment_count').focus();
  await keys.type('16');
  await keys.press('Tab');
  await keys.press('Enter');
  assert.equal(await entered(page, 'ring.segment_count'), '17', 'the button behind the field adds one');
  await page.focus('#choices > summary');
  await keys.press('Enter');
  await field(page, 'ring.between').focus();
  await keys.press('ArrowDown');
  assert.equal(await entered(page, 'ring.between'), 'spacer');
  await page.focus('#unit-button');
  await keys.press('Enter');
  await page.waitForSelector('#unit-dialog[open]');
  await page.focus('#unit-choices [value="millimeter"]');
  await keys.press('Space');
  await page.waitForSelector('#unit-dialog', { state: 'hidden' });
  assert.equal((await read(page, 'saw.stop')).unit, 'mm');
  assert.equal(await page.evaluate(() => document.activeElement?.id), 'unit-button', 'the focus comes back');
  await page.focus('#share-button');
  await keys.press('Enter');
  await page.waitForSelector('#share-dialog[open]');
  await keys.press('Escape');
  await page.waitForSelector('#share-dialog', { state: 'hidden' });
  assert.equal(await page.evaluate(() => document.activeElement?.id), 'share-button', 'the focus comes back');
  await page.focus('[data-place="paper"]');
  await keys.press('Enter');
  assert.equal(await page.locator('#paper').isVisible(), true);
  await page.focus('#save-pdf');
  const [download] = await Promise.all([page.waitForEvent('download'), keys.press('Enter')]);
  assert.match(download.suggestedFilename(), /^Ring of \d+ segments, .+ across\.pdf$/);
  await keys.press('Control+z');
  await keys.press('Control+z');
  await page.click('[data-place="ring"]');
  assert.equal(await entered(page, 'ring.between'), 'nothing');
}));

test('a tapped unit in the figures opens the choice, and the focus does not get lost', () => visit('desktop', async (page) => {
  await page.locator('#saw-figures button.unit').first().focus();
  await page.keyboard.press('Enter');
  await page.click('#unit-choices [value="millimeter"]');
  assert.notEqual(await page.evaluate(() => document.activeElement?.tagName), 'BODY');
}));

test('undo in a field that is none of the design’s is the browser’s own', () => visit('desktop', async (page) => {
  await enter(page, 'ring.height_mm', '1');
  const before = await address(page);
  await page.click('#designs-button');
  await page.locator('#link-entry').pressSequentially('abc');
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Escape');
  assert.equal(await address(page), before);
  near((await read(page, 'row.strip_height')).true, 1 + 1 / 16);
}));

test('nothing moves where less motion is asked for', () => visit(
  { ...screens.tablet, reducedMotion: 'reduce' },
  async (page) => {
    await openEveryFold(page);
    const moving = await page.evaluate(() => document.getAnimations().length);
    assert.equal(moving, 0);
  },
));
