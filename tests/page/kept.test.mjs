// What the turner made stays: on the device, in files, beside a second tab, through
// storage that is spoiled, blocked or full, and through a stumble of the library.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { settled, untilReady, visit } from './harness.mjs';
import {
  address, chooseUnit, enter, entered, field, isContent, keptDesigns, keptTexts, near, note, openFile, openFold, putAway,
  putTexts, read, saved, tells, untilKept,
} from './hands.mjs';
import { storageBlocked, storageFull } from './misfortunes.mjs';

/** @typedef {import('playwright-core').Page} Page */

/** @param {Page} page */
async function reload(page) {
  await page.reload();
  await untilReady(page);
}

/** @param {Page} page */
async function openDesigns(page) {
  await page.click('#designs-button');
  await page.locator('#design-list li').first().waitFor();
}

/** @param {Page} page */
function closeDesigns(page) {
  return page.click('#designs-dialog [data-close]');
}

/**
 * Names the open design.
 * @param {Page} page
 * @param {string} name
 */
async function name(page, name) {
  await openDesigns(page);
  await field(page, 'name').fill(name);
  await closeDesigns(page);
}

/**
 * Waits until a field holds this.
 * @param {Page} page
 * @param {string} key
 * @param {string} text
 */
async function untilEntered(page, key, text) {
  await page.waitForFunction(([name, wanted]) => {
    const control = document.querySelector(`[data-key="${name}"]`);
    return control instanceof HTMLInputElement && control.value === wanted;
  }, [key, text]).catch(async () => assert.equal(await entered(page, key), text));
}

/** @param {Page} page */
function names(page) {
  return page.locator('#design-list strong').allInnerTexts();
}

/**
 * Waits until the list holds these names.
 * @param {Page} page
 * @param {string[]} expected
 */
async function untilNames(page, expected) {
  await page.waitForFunction((wanted) => {
    const found = [...document.querySelectorAll('#design-list strong')].map((each) => each.textContent);
    return JSON.stringify(found) === JSON.stringify(wanted);
  }, expected).catch(async () => assert.deepEqual(await names(page), expected));
}

test('every change survives a reload at once', () => visit('tablet', async (page) => {
  await enter(page, 'ring.outside_diameter_mm', '12 3/4');
  await reload(page);
  assert.equal(await entered(page, 'ring.outside_diameter_mm'), '12 3/4');
  await page.tap('#count-more');
  await reload(page);
  assert.equal(await entered(page, 'ring.segment_count'), '13');
  await openFold(page, 'choices');
  await field(page, 'ring.between').selectOption('gap');
  await reload(page);
  assert.equal(await entered(page, 'ring.between'), 'gap');
  await chooseUnit(page, 'millimeter');
  await reload(page);
  assert.equal((await read(page, 'saw.stop')).unit, 'mm');
  await page.click('[data-place="paper"]');
  await reload(page);
  assert.equal(await page.locator('#paper').isVisible(), true);
  await page.click('#undo');
  await page.click('#undo');
  await page.click('[data-place="ring"]');
  assert.equal(await entered(page, 'ring.between'), 'nothing', 'the undo list came back too');
}));

test('a tab that is closed comes back to where it was', () => visit('tablet', async (page, { context, origin }) => {
  await enter(page, 'ring.wall_mm', '7/8');
  await address(page);
  await page.close();
  const next = await context.newPage();
  await next.goto(`${origin}/`);
  await untilReady(next);
  assert.equal(await entered(next, 'ring.wall_mm'), '7/8');
}));

test('several designs stand side by side under their names', () => visit('tablet', async (page) => {
  await name(page, 'Tall vase');
  assert.equal(await page.locator('#design-name').innerText(), 'Tall vase');
  assert.match(await page.title(), /^Tall vase/);
  await enter(page, 'ring.height_mm', '1');
  await openDesigns(page);
  await page.click('#new-design');
  await untilEntered(page, 'ring.height_mm', '3/4');
  await name(page, 'Low dish');
  await openDesigns(page);
  await untilNames(page, ['Low dish', 'Tall vase']);
  await page.locator('#design-list button', { hasText: 'Open' }).click();
  await untilEntered(page, 'ring.height_mm', '1');
  assert.equal(await page.locator('#design-name').innerText(), 'Tall vase');
}));

test('a copy is made, removed and put back, even after a reload', () => visit('tablet', async (page) => {
  await name(page, 'Dish');
  await openDesigns(page);
  await page.click('#copy-design');
  await untilNames(page, ['Dish', 'Dish']);
  await field(page, 'name').fill('Dish with a foot');
  await page.locator('#design-list button', { hasText: 'Remove' }).click();
  await untilNames(page, ['Dish with a foot']);
  await closeDesigns(page);
  await reload(page);
  await openDesigns(page);
  await page.locator('#design-list button', { hasText: 'Put it back' }).click();
  await page.waitForFunction(() => document.querySelectorAll('#design-list strong').length === 2);
  assert.deepEqual((await names(page)).sort(), ['Dish', 'Dish with a foot']);
}));

test('an earlier state can be gone back to, and that can be undone', () => visit('tablet', async (page) => {
  await enter(page, 'ring.height_mm', '1');
  await settled(page);
  await reload(page);
  await enter(page, 'ring.height_mm', '2');
  await settled(page);
  await untilKept(page);
  await openDesigns(page);
  await page.click('#designs-dialog details > summary');
  await page.locator('#earlier-list button').first().click();
  assert.equal(await entered(page, 'ring.height_mm'), '1');
  await page.click('#undo');
  assert.equal(await entered(page, 'ring.height_mm'), '2');
}));

test('a file goes out and comes back in beside the open design', () => visit('tablet', async (page) => {
  await name(page, 'Rim 2');
  await enter(page, 'ring.outside_diameter_mm', '11 1/4');
  await openDesigns(page);
  assert.match(await page.locator('#kept-outside').innerText(), /Not yet/);
  const file = await saved(page, () => page.click('#save-file-too'));
  assert.equal(file.name, 'Rim 2.ringwright.json');
  assert.equal(JSON.parse(file.bytes.toString()).ring.outside_diameter_mm, 285.75);
  await page.waitForFunction(() => document.getElementById('kept-outside')?.textContent?.startsWith('Kept outside'));
  await closeDesigns(page);
  await enter(page, 'ring.outside_diameter_mm', '5');
  await openDesigns(page);
  assert.match(await page.locator('#kept-outside').innerText(), /^Changed since/);
  await closeDesigns(page);
  await openFile(page, file.bytes.toString(), file.name);
  await note(page, 'beside');
  assert.equal(await entered(page, 'ring.outside_diameter_mm'), '11 1/4');
  const kept = Object.values(await keptDesigns(page)).map((each) => each.design.ring.outside_diameter_mm);
  assert.deepEqual(kept.sort(), [127, 285.75].sort(), 'the changed design is still there');
}));

for (const [what, text] of /** @type {[string, string][]} */ ([
  ['words', 'Dear club, the ring is 10 in wide.'],
  ['another program’s JSON', '{"layers":[{"name":"ring"}],"form":"round"}'],
  ['nothing', ''],
  ['a cut-off design', '{"form":1,"name":"x","ring":{"outside_'],
])) {
  test(`a file with ${what} is refused, and the work stays`, () => visit('tablet', async (page) => {
    await enter(page, 'ring.wall_mm', '1');
    await openFile(page, text, 'what is this.json');
    await page.waitForFunction(() => document.getElementById('designs-say')?.textContent !== '');
    const said = await page.locator('#designs-say').innerText();
    assert.match(said, /what is this\.json/);
    assert.match(said, /not a Ringwright design.*Choose a file/);
    await closeDesigns(page);
    assert.equal(await entered(page, 'ring.wall_mm'), '1');
    assert.equal(Object.keys(await keptDesigns(page)).length, 1);
  }));
}

test('a file from a newer version opens, says so, and loses nothing of its own', () => visit('tablet', async (page) => {
  await openFile(page, JSON.stringify({
    form: 9, name: 'Later', ring: { height_mm: 50.8, bevel: { angle: 3 } }, handle: [1, 2],
  }));
  assert.match(await note(page, 'opened'), /newer version/);
  assert.equal(await entered(page, 'ring.height_mm'), '2');
  await enter(page, 'ring.height_mm', '3');
  const file = await saved(page, async () => {
    await page.click('#share-button');
    await page.click('#save-file');
  });
  const design = JSON.parse(file.bytes.toString());
  assert.deepEqual([design.form, design.ring.bevel, design.handle], [9, { angle: 3 }, [1, 2]]);
  near(design.ring.height_mm, 76.2);
}));

test('a spoiled field in a file is set anew and named; the others are taken', () => visit('tablet', async (page) => {
  await openFile(page, JSON.stringify({
    form: 1, ring: { height_mm: 50.8, segment_count: 10000, wall_mm: 'thick' },
  }));
  const said = await note(page, 'opened');
  assert.match(said, /set to the usual ones/);
  assert.match(said, /Segments: 10,?000.*3 to 360/s);
  assert.match(said, /Wall/);
  assert.equal(await entered(page, 'ring.height_mm'), '2');
  assert.equal(await entered(page, 'ring.segment_count'), '12');
}));

test('a file nested without end is refused, and the page goes on', () => visit('tablet', async (page) => {
  await enter(page, 'ring.wall_mm', '1');
  const depth = 200_000;
  await openFile(page, `{"form":1,"ring":{},"x":${'['.repeat(depth)}${']'.repeat(depth)}}`, 'deep.json');
  await page.waitForFunction(() => document.getElementById('designs-say')?.textContent !== '');
  assert.match(await page.locator('#designs-say').innerText(), /deep\.json/);
  await closeDesigns(page);
  await enter(page, 'ring.height_mm', '1');
  near((await read(page, 'row.strip_height')).true, 1 + 1 / 16);
  await reload(page);
  assert.equal(await entered(page, 'ring.wall_mm'), '1');
  assert.equal(await entered(page, 'ring.height_mm'), '1');
}, { expected: [/console error/] }));

test('a stumble in the library takes nothing along', () => visit('tablet', async (page) => {
  await enter(page, 'ring.wall_mm', '1');
  await untilKept(page);
  const [{ design }] = Object.values(await keptDesigns(page));
  // What no hand can bring about: calls with things that the library cannot read. (The
  // file nested without end, above, trips it from outside.)
  const stumbled = await page.evaluate(async (kept) => {
    const { ask } = await import(new URL('./door.js', location.href).href);
    const outcomes = [];
    for (const misdeed of [
      (/** @type {any} */ library) => library.show_ring(kept, { ring_width: 'wide' }),
      (/** @type {any} */ library) => library.link_of({ form: 1 }),
      (/** @type {any} */ library) => library.link_code('x'.repeat(50_000), NaN),
    ]) {
      try {
        ask(misdeed);
        outcomes.push('went on');
      } catch (cause) {
        outcomes.push(/** @type {Error} */ (cause).message);
      }
    }
    return outcomes;
  }, design);
  assert.deepEqual(stumbled.slice(0, 2), ['the library stumbled', 'the library stumbled']);
  await enter(page, 'ring.height_mm', '1');
  near((await read(page, 'row.strip_height')).true, 1 + 1 / 16);
  await page.click('#undo');
  await page.click('#undo');
  assert.equal(await entered(page, 'ring.wall_mm'), '3/4');
}));

test('with storage blocked the page says so, works, and hands out the file', () => visit('tablet', async (page) => {
  assert.match(await note(page, 'keep'), /storage is blocked.*save it as a file/s);
  await enter(page, 'ring.wall_mm', '1');
  await page.click('#count-more');
  await page.click('#undo');
  assert.equal(await entered(page, 'ring.wall_mm'), '1');
  await page.click('#share-button');
  const file = await saved(page, () => page.click('#save-file'));
  assert.equal(JSON.parse(file.bytes.toString()).ring.wall_mm, 25.4);
  await page.click('#share-dialog [data-close]');
  await openDesigns(page);
  await page.click('#copy-design');
  await page.waitForFunction(() => document.querySelectorAll('#design-list li').length === 2);
  await closeDesigns(page);
  await address(page);
  await reload(page);
  assert.equal(await entered(page, 'ring.wall_mm'), '1', 'the address bar still holds it');
}, {
  before: (context) => context.addInitScript(storageBlocked),
}));

test('nothing is shown as kept before its write is over', () => visit('tablet', async (page) => {
  await enter(page, 'ring.wall_mm', '1');
  await untilKept(page);
  // Another write is under way until it is let go: the page's own waits behind it.
  await page.evaluate(async () => {
    const names = (await indexedDB.databases()).map((each) => each.name ?? '');
    const opened = await Promise.all(names.map((name) => new Promise((resolve) => {
      const request = indexedDB.open(name);
      request.onsuccess = () => resolve(request.result);
    })));
    const hold = { isOver: false };
    const held = opened.map((base) => new Promise((resolve) => {
      const names = [...base.objectStoreNames];
      const store = base.transaction(names, 'readwrite').objectStore(names[0]);
      const again = () => {
        if (!hold.isOver) store.count().onsuccess = again;
        else resolve(base.close());
      };
      again();
    }));
    Object.assign(globalThis, { hold, held: Promise.all(held) });
  });
  await enter(page, 'ring.wall_mm', '1 1/4');
  await page.waitForFunction(() => document.getElementById('kept-state')?.dataset.state === 'keeping');
  const shown = await page.evaluate(async () => {
    const states = new Set();
    const look = setInterval(() => states.add(document.getElementById('kept-state')?.dataset.state), 5);
    await new Promise((resolve) => setTimeout(resolve, 1000));
    clearInterval(look);
    return [...states];
  });
  assert.deepEqual(shown, ['keeping']);
  await page.evaluate(() => {
    const { hold, held } = /** @type {any} */ (globalThis);
    hold.isOver = true;
    return held;
  });
  await untilKept(page);
}));

test('with storage full the page says so once, goes on, and recovers', () => visit('tablet', async (page) => {
  await enter(page, 'ring.wall_mm', '1');
  await settled(page);
  await page.evaluate(() => sessionStorage.setItem('full', 'yes'));
  await enter(page, 'ring.height_mm', '1');
  assert.match(await note(page, 'keep'), /full.*save the design as a file/s);
  near((await read(page, 'row.strip_height')).true, 1 + 1 / 16);
  await page.locator('.notice[data-name="keep"] button').click();
  await enter(page, 'ring.height_mm', '2');
  await putAway(page);
  assert.equal(await page.locator('.notice[data-name="keep"]').count(), 0, 'it was said and closed');
  const before = Object.values(await keptDesigns(page));
  // The last state that fitted still stands.
  near(before[0].design.ring.height_mm, 19.05);
  await openDesigns(page);
  await page.click('#new-design');
  await page.click('#leave-go');
  // The new one is open.
  await page.waitForFunction(() => {
    const field = document.querySelector('[data-key="ring.height_mm"]');
    return field instanceof HTMLInputElement && field.value === '3/4';
  });
  await page.evaluate(() => sessionStorage.removeItem('full'));
  await enter(page, 'ring.height_mm', '4');
  await putAway(page);
  await reload(page);
  assert.equal(await entered(page, 'ring.height_mm'), '4');
}, {
  before: (context) => context.addInitScript(storageFull),
}));

test('storage that is blocked while the page is open is reported too', () => visit('tablet', async (page) => {
  await page.evaluate(() => {
    IDBDatabase.prototype.transaction = () => {
      throw new DOMException('blocked', 'SecurityError');
    };
  });
  await enter(page, 'ring.wall_mm', '1');
  assert.match(await note(page, 'keep'), /storage is blocked/);
  near((await read(page, 'saw.strip')).true, 5.125 - 3.875 * Math.cos(Math.PI / 12));
}));

test('two tabs on one design lose nothing of either', () => visit('tablet', async (first, { context, origin }) => {
  await enter(first, 'ring.wall_mm', '1');
  await settled(first);
  const second = await context.newPage();
  await second.goto(`${origin}/`);
  await untilReady(second);
  assert.equal(await entered(second, 'ring.wall_mm'), '1', 'both have the same design open');
  await enter(second, 'ring.height_mm', '2');
  assert.match(await note(first, 'other-tab'), /another tab/);
  await enter(first, 'ring.height_mm', '3');
  assert.match(await note(first, 'went-on'), /goes on as a copy/);
  await enter(first, 'ring.height_mm', '3 1/2');
  await putAway(first);
  const heights = Object.values(await keptDesigns(first)).map((each) => each.design.ring.height_mm / 25.4);
  assert.deepEqual(heights.map((height) => height.toFixed(3)).sort(), ['2.000', '3.500']);
  assert.equal(await first.locator('.notice[data-name="went-on"]').count(), 1, 'said long enough to be read');
  await enter(second, 'ring.height_mm', '2 1/4');
  await putAway(second);
  assert.equal(Object.keys(await keptDesigns(second)).length, 2);
}));

test('the other tab’s version is loaded when asked', () => visit('tablet', async (first, { context, origin }) => {
  const second = await context.newPage();
  await second.goto(`${origin}/`);
  await untilReady(second);
  await enter(second, 'ring.height_mm', '2');
  await note(first, 'other-tab');
  await first.locator('.notice[data-name="other-tab"] button').first().click();
  await untilEntered(first, 'ring.height_mm', '2');
}));

// What cannot be taken stays as typed, says why at its field, and stops nothing else.
for (const [key, text, pattern] of /** @type {[string, string, RegExp][]} */ ([
  ['ring.outside_diameter_mm', '0', /Outside diameter: 0 in cannot be made\. It takes/],
  ['ring.outside_diameter_mm', '-4', /Outside diameter: .4 in cannot be made\. It takes/],
  ['ring.outside_diameter_mm', 'NaN', /Outside diameter: “[Nn]a[Nn]” has no meaning.*Write it like 10 1\/2/],
  ['ring.outside_diameter_mm', '1e300', /Outside diameter: .*Write it like/],
  ['ring.outside_diameter_mm', '', /Outside diameter is empty\. Write it like/],
  ['ring.outside_diameter_mm', 'ten', /Outside diameter: “ten”/],
  ['ring.outside_diameter_mm', '3/', /Outside diameter: the fraction in “3\/”/],
  ['ring.outside_diameter_mm', '9'.repeat(400), /Outside diameter: .*/],
  ['ring.segment_count', '2', /Segments: 2 cannot be made\. It takes 3 to 360/],
  ['ring.segment_count', '10000', /Segments: 10000 cannot be made\. It takes 3 to 360/],
  ['ring.segment_count', '12.5', /Segments: 12\.5 is not a whole number/],
  ['ring.segment_count', 'twelve', /Segments: “t/],
  ['ring.wall_mm', '-1', /Wall: .1 in cannot be made/],
  ['ring.height_mm', '0', /Ring height: 0 in cannot be made/],
])) {
  test(`${text.slice(0, 12) || 'nothing'} in ${key} is refused there, kept as typed, and stops nothing`, () => visit(
    'tablet',
    async (page) => {
      await enter(page, key, text);
      await tells(page, key, pattern);
      assert.equal(await entered(page, key), text);
      near((await read(page, 'saw.setting')).true, 15);
      near((await read(page, 'saw.stop')).true, 2.7465);
      await reload(page);
      assert.equal(await entered(page, key), text, 'what was typed is there after a reload');
      await tells(page, key, pattern);
      near((await read(page, 'saw.stop')).true, 2.7465);
      await enter(page, key, key.endsWith('count') ? '9' : '2');
      await isContent(page, key);
    },
  ));
}

test('a wall thicker than the radius leaves what can be computed', () => visit('tablet', async (page) => {
  await enter(page, 'ring.wall_mm', '6');
  await tells(page, 'ring.wall_mm', /wall of 6 in is thicker than the radius, 5 in\. Enter a wall of at most 5 in/);
  near((await read(page, 'saw.setting')).true, 15);
  near((await read(page, 'saw.stop')).true, 2.7465);
  assert.equal(await page.locator('.row[data-key="saw.strip"]').count(), 0);
  await page.click('[data-place="paper"]');
  assert.equal(await page.locator('#no-sheet').isVisible(), true);
  assert.equal(await page.locator('#save-pdf').isDisabled(), true);
  await page.click('[data-place="ring"]');
  await reload(page);
  await tells(page, 'ring.wall_mm', /thicker than the radius/);
  await enter(page, 'ring.wall_mm', '3/4');
  await isContent(page, 'ring.wall_mm');
  near((await read(page, 'saw.strip')).true, 1.1406);
}));

test('a spacer longer than the segment is named with what helps', () => visit('tablet', async (page) => {
  await openFold(page, 'choices');
  await field(page, 'ring.between').selectOption('spacer');
  await enter(page, 'ring.spacer_mm', '3');
  await tells(page, 'ring.spacer_mm', /With 3 in between them.*thinner than/);
  await enter(page, 'ring.spacer_mm', '2 1/2');
  await tells(page, 'ring.spacer_mm', /With 2 1\/2 in between them.*thinner than/);
  near((await read(page, 'saw.setting')).true, 15);
}));

test('a message on the drawing stands within the page, whole', () => visit('narrowPhone', async (page) => {
  for (const key of ['ring.outside_diameter_mm', 'ring.wall_mm', 'ring.height_mm', 'ring.inside_diameter_mm']) {
    const before = await entered(page, key);
    await enter(page, key, 'abc');
    const message = page.locator(`[data-field-box="${key}"] .field-message`);
    const box = await message.boundingBox();
    assert.ok(box && box.x >= 0 && box.x + box.width <= 360, `${key}: the message leaves the page`);
    const isWhole = await message.evaluate((element) => {
      const { left, right, top, bottom } = element.getBoundingClientRect();
      return [[left + 3, top + 3], [right - 3, bottom - 3]].every(([x, y]) => {
        const found = document.elementFromPoint(x ?? 0, y ?? 0);
        return found === null || found === element || element.contains(found);
      });
    });
    assert.ok(isWhole, `${key}: the message is cut off or covered`);
    await enter(page, key, before);
  }
}));
