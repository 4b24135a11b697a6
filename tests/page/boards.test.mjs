// The boards of the Wood place: a rack of eleven odd boards, entered, opened by a link,
// laid out, kept.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { enter, entered, field, openFile, unfold } from './hands.mjs';
import { axeClean, fitsTheScreen, screens, settled, visit } from './harness.mjs';

/** @typedef {import('./harness.mjs').Page} Page */

/** Thickness in quarters, width, length in inches, lengths to avoid. @type {[number, number, number, [number, number][]][]} */
const ODD = [
  [4, 4.5, 27, []],
  [4, 5.25, 42, [[12, 15]]],
  [5, 6, 21, []],
  [4, 7, 18, []],
  [4, 3.5, 58, [[28, 31], [49, 51]]],
  [4, 2.75, 34, []],
  [4, 4, 15, []],
  [4, 3.5, 50, [[0, 3]]],
  [8, 6, 28, []],
  [4, 3, 38, []],
];

/** @param {number} inches */
const mm = (inches) => inches * 25.4;

/** A bowl of two woods with its rack, as a file's text. @param {Page} page */
function rackOfEleven(page) {
  return page.evaluate(async (odd) => {
    const address = new URL('./ringwright.js', document.baseURI).href;
    const library = await import(address);
    const begun = library.change(library.starting_design('en-US'), { kind: 'begin', shape: 'bowl' });
    // The library knows a design by its object: a changed one is another.
    const design = structuredClone(begun);
    design.name = 'Fruit bowl for the porch';
    design.vessel.woods = ['Ash, white', 'Sapele'];
    design.vessel.rings[3].pattern = [1];
    // Its lowest ring is a board.
    delete design.base;
    const boards = odd.map(([thickness, width, length, avoid]) => ({
      wood: 'Ash, white', thickness_mm: thickness, thickness_is: 'rough', width_mm: width, length_mm: length,
      number: 1, price: 6, price_for: 'board_foot', avoid,
    }));
    boards.push({ ...boards[0], wood: 'Sapele', width_mm: 127, length_mm: 838.2, avoid: [] });
    design.rack = { goal: 'fewest', plane_at_most_mm: 6.35, boards };
    return library.file_text(design, { ticks: {}, log: {} });
  }, /** @type {[number, number, number, { from_mm: number, to_mm: number }[]][]} */ (ODD.map(([quarters, width, length, avoid]) => [
    mm(quarters / 4), mm(width), mm(length), avoid.map(([from, to]) => ({ from_mm: mm(from), to_mm: mm(to) })),
  ])));
}

/** @param {Page} page */
async function openEleven(page) {
  await openFile(page, await rackOfEleven(page));
  await page.click('[data-place=wood]');
  await page.locator('.board-cut svg').first().waitFor();
}

/** @param {Page} page @param {string} id */
const says = (page, id) => page.locator(`#${id}`).textContent();

for (const screen of /** @type {const} */ (['tablet', 'phone'])) {
  test(`of eleven odd boards it says which three to take, on a ${screen}`, () => visit(screen, async (page) => {
    await openEleven(page);
    await page.waitForFunction(() => document.getElementById('boards-bound')?.textContent === '3 is the least possible where each board is sawn across once at most before it is ripped, each strip is ripped to one width, and planed down by no more than you set.');
    assert.equal(await says(page, 'boards-count'), '3');
    assert.match(String(await says(page, 'boards-take')), /^Take boards \d+, \d+ and 11\. Boards (\d+, ){6}\d+ and \d+ of yours stay whole\.$/);
    const cuts = page.locator('.board-cut');
    assert.equal(await cuts.count(), 3);
    assert.ok(await page.locator('.board-cut path.cut').count() > 0, 'rip lines are drawn');
    // Every ring is told of, the one of the other wood on its own board.
    const strips = (await page.locator('.board-cut li').allTextContents()).join('\n');
    assert.match(strips, /ring 1: a square for a disc/);
    for (const ring of [2, 3, 4, 5, 6]) assert.match(strips, new RegExp(`ring ${ring}: \\d+ pieces`));
    assert.match(String(await cuts.last().textContent()), /Board 11/);
    const taken = await page.locator('.board-note').allTextContents();
    assert.equal(taken.filter((note) => note.startsWith('taken')).length, 3);
    await axeClean(page);
    await fitsTheScreen(page);
    // The drawings are as wide as the screen lets them be, and their words do not shrink.
    const size = Number(await page.locator('.board-cut text').first().getAttribute('font-size'));
    assert.ok(size >= 12, `${size}`);
  }));
}

test('the rack comes back by reload and by link, and the answer with it', () => visit('tablet', async (page, { context }) => {
  await openEleven(page);
  const isSettled = (/** @type {Page} */ of) => of.waitForFunction(
    () => document.getElementById('boards-bound')?.textContent?.startsWith('3 is the least'));
  await isSettled(page);
  const take = await says(page, 'boards-take');
  await page.waitForTimeout(500);
  const link = page.url();
  assert.ok(link.length < 1000, `${link.length}`);
  await page.reload();
  await isSettled(page);
  assert.equal(await says(page, 'boards-take'), take);
  const other = await context.newPage();
  await other.goto(link);
  await other.click('[data-place=wood]');
  await isSettled(other);
  assert.equal(await other.locator('.board').count(), 11);
  assert.equal(await says(other, 'boards-take'), take);
}));

test('boards are entered, copied, given spots to avoid and taken away', () => visit('tablet', async (page) => {
  await page.click('[data-place=wood]');
  await page.locator('#boards-estimate-list .row').first().waitFor();
  assert.match(String(await says(page, 'boards-estimate-list')), /Maple, sugar, 4\/4 rough.*board f/);
  await page.click('#boards-add');
  const width = field(page, 'rack.boards.0.width_mm');
  assert.equal(await entered(page, 'rack.boards.0.wood'), 'Maple, sugar');
  await enter(page, 'rack.boards.0.width_mm', '1');
  assert.equal(await says(page, 'boards-take'), 'None of these boards serves.');
  assert.match(String(await says(page, 'boards-failures')), /strip is .* wide; the widest board is 1 in/);
  await enter(page, 'rack.boards.0.width_mm', '0');
  assert.equal(await width.getAttribute('aria-invalid'), 'true');
  await enter(page, 'rack.boards.0.width_mm', '1 3/4');
  await enter(page, 'rack.boards.0.length_mm', '24');
  assert.match(String(await says(page, 'boards-take')), /buy as many more as/);
  await enter(page, 'rack.boards.0.number', '10000');
  assert.match(String(await says(page, 'boards-take')), /^Take \d+ of board 1\.$/);
  await enter(page, 'rack.boards.0.length_mm', '96');
  assert.equal(await says(page, 'boards-take'), 'Take board 1.');
  await page.getByRole('button', { name: 'Add a spot to avoid' }).click();
  await enter(page, 'rack.boards.0.avoid.0.from_mm', '10');
  await enter(page, 'rack.boards.0.avoid.0.to_mm', '90');
  assert.notEqual(await says(page, 'boards-take'), 'Take board 1.');
  await page.getByRole('button', { name: 'Leave it out' }).click();
  await page.getByRole('button', { name: 'Copy' }).click();
  assert.equal(await page.locator('.board').count(), 2);
  assert.equal(await entered(page, 'rack.boards.1.length_mm'), '96');
  await page.getByRole('button', { name: 'Remove' }).last().click();
  await page.getByRole('button', { name: 'Remove' }).last().click();
  assert.equal(await page.locator('.board').count(), 0);
  await page.click('#undo');
  assert.equal(await page.locator('.board').count(), 1);
  await settled(page);
}));

test('no step of the search holds the page up', () => visit(screens.tablet ?? 'tablet', async (page) => {
  await openEleven(page);
  // Not the clock but the work is bounded: every step ends, and the page counts on between.
  const steps = await page.evaluate(async (text) => {
    const address = new URL('./ringwright.js', document.baseURI).href;
    const library = await import(address);
    const { design } = library.open_text(text);
    design.rack.goal = 'cheapest';
    for (const board of design.rack.boards) board.number = 10000;
    const search = new library.BoardsAtWork(design);
    let steps = 1;
    while (!search.step(400000) && steps < 5000) steps += 1;
    search.free();
    return steps;
  }, await rackOfEleven(page));
  assert.ok(steps < 5000, `${steps}`);
}));

for (const screen of /** @type {const} */ (['tablet', 'phone'])) {
  test(`a knot and sapwood beside clear wood cost only the strips there, on a ${screen}`, () => visit(screen, async (page) => {
    await page.click('[data-place=wood]');
    await page.locator('#boards-add').tap();
    await enter(page, 'rack.boards.0.width_mm', '5');
    await enter(page, 'rack.boards.0.length_mm', '48');
    assert.equal(await says(page, 'boards-take'), 'Take board 1.');
    const face = page.locator('.board-face').first();
    assert.equal(await face.isVisible(), false);
    // Sapwood all along: the board serves no more.
    await page.getByRole('button', { name: 'Add a spot to avoid' }).tap();
    await enter(page, 'rack.boards.0.avoid.0.from_mm', '0');
    await enter(page, 'rack.boards.0.avoid.0.to_mm', '48');
    assert.equal(await says(page, 'boards-take'), 'None of these boards serves.');
    const drawn = () => face.locator('svg').innerHTML();
    const right = await drawn();
    assert.match(right, /upper edge/);
    // But it lies along one edge.
    await enter(page, 'rack.boards.0.avoid.0.across_from_mm', '4');
    assert.equal(await says(page, 'boards-take'), 'Take board 1.');
    assert.notEqual(await drawn(), right);
    // And a knot at the other.
    await page.getByRole('button', { name: 'Add a spot to avoid' }).tap();
    await enter(page, 'rack.boards.0.avoid.1.from_mm', '2');
    await enter(page, 'rack.boards.0.avoid.1.to_mm', '46');
    await enter(page, 'rack.boards.0.avoid.1.across_to_mm', '1 1/2');
    const lines = async () => (await page.locator('.board-cut li').allTextContents()).join('\n');
    await page.waitForFunction(() => document.getElementById('boards-bound')?.textContent?.startsWith('1 is the least possible'));
    assert.match(await lines(), /First rip .* off along the upper edge/);
    assert.match(String(await says(page, 'boards-bound')), /ripped first into two bands/);
    await axeClean(page);
    await fitsTheScreen(page);
    if (process.env.RINGWRIGHT_PEEK) {
      for (const scheme of /** @type {const} */ (['light', 'dark'])) {
        await page.emulateMedia({ colorScheme: scheme });
        await page.locator('.board-face').first().scrollIntoViewIfNeeded();
        await page.screenshot({ path: `${process.env.RINGWRIGHT_PEEK}/${screen}-${scheme}.png`, fullPage: true });
      }
      await page.emulateMedia({ colorScheme: 'light' });
    }
    // What lies beside the board is told at its field, and stays.
    await enter(page, 'rack.boards.0.avoid.1.across_to_mm', '9');
    const box = page.locator('[data-field-box="rack.boards.0.avoid.1.across_to_mm"]');
    assert.match(String(await box.textContent()), /The board is 5 in wide\./);
    await page.click('#undo');
    assert.equal(await entered(page, 'rack.boards.0.avoid.1.across_to_mm'), '1 1/2');
    assert.doesNotMatch(String(await box.textContent()), /The board is/);
    await settled(page);
    await page.waitForTimeout(500);
    await page.reload();
    await page.locator('.board-cut svg').first().waitFor();
    assert.equal(await entered(page, 'rack.boards.0.avoid.1.across_to_mm'), '1 1/2');
    assert.equal(await entered(page, 'rack.boards.0.avoid.0.across_from_mm'), '4');
    assert.match(await lines(), /First rip .* off/);
    assert.equal(await face.count(), 1);
    await settled(page);
  }));
}

for (const screen of /** @type {const} */ (['tablet', 'phone'])) {
  test(`a disc that no board is wide enough for is glued up edge to edge, on a ${screen}`, () => visit(screen, async (page) => {
    await page.click('[data-place=vessel]');
    await page.locator('#starts [data-way="bowl"]').tap();
    await page.click('[data-place=wood]');
    await page.locator('#boards-add').tap();
    for (const [key, text] of [['width_mm', '4'], ['length_mm', '96'], ['thickness_mm', '2'], ['number', '3']]) {
      await enter(page, `rack.boards.0.${key}`, text ?? '');
    }
    await enter(page, 'rack.plane_at_most_mm', '2');
    const failures = () => page.locator('#boards-failures').textContent();
    // Its plies lack the same: it is told once.
    assert.match(String(await failures()), /^[^.]*the widest board is 4 in\.[^.]*let discs be edge-glued[^.]*\.$/);
    await field(page, 'rack.is_edge_glued').selectOption('yes');
    await page.waitForFunction(() => document.getElementById('boards-failures')?.textContent === '');
    const lines = (await page.locator('.board-cut li').allTextContents()).join('\n');
    assert.match(lines, /pieces .* long, glued edge to edge, 2 to a square/);
    if (process.env.RINGWRIGHT_PEEK) await page.screenshot({ path: `${process.env.RINGWRIGHT_PEEK}/edges-${screen}.png`, fullPage: true });
    await axeClean(page);
    await fitsTheScreen(page);
    // At the bench they are glued up before the base is sawn.
    await page.click('[data-place=bench]');
    const step = page.locator('[data-step^="edges-"]').first();
    await step.waitFor({ state: 'attached' });
    await unfold(page);
    await step.waitFor();
    assert.match(String(await step.textContent()), /glue up edge to edge/);
    await settled(page);
  }));
}
