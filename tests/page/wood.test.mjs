// The Wood place under the hand: what each wood is needed for, what the seasons do, and a
// base chosen wrongly that is caught before it is glued.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { axeClean, fitsTheScreen, screens, settled, untilReady, visit } from './harness.mjs';
import { address, chooseUnit, enter, entered, field, isContent, near, openFold, read, staysInSight, tapKeys, tells } from './hands.mjs';

/** @typedef {import('playwright-core').Page} Page */

/** @param {Page} page */
async function openWood(page) {
  await page.click('[data-place="wood"]');
  await page.locator('.wood-swatch').first().waitFor();
}

/** A bowl of two woods. @param {Page} page */
async function makeBowl(page) {
  await page.click('[data-place="vessel"]');
  await page.click('#starts [data-way="bowl"]');
  await page.fill('#wood-entry', 'Purpleheart');
  await page.press('#wood-entry', 'Enter');
  await openWood(page);
}

/**
 * Chooses in a field.
 * @param {Page} page
 * @param {string} key
 * @param {string} word
 */
async function choose(page, key, word) {
  await field(page, key).selectOption(word);
  await settled(page);
}

/** The moisture that the Wood Handbook's equation 4-5 gives, %. */
function equilibrium(/** @type {number} */ celsius, /** @type {number} */ humidity) {
  const [t, h] = [celsius, humidity / 100];
  const w = 349 + 1.29 * t + 0.0135 * t * t;
  const k = 0.805 + 0.000736 * t - 0.00000273 * t * t;
  const k1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
  const k2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
  const [one, two] = [k1 * k * h, k1 * k2 * k * k * h * h];
  return 1800 / w * (k * h / (1 - k * h) + (one + 2 * two) / (1 + one + two));
}

/**
 * The moisture that the air numbered so brings wood to.
 * @param {Page} page
 * @param {number} at
 */
async function brings(page, at) {
  return Number(await page.locator('.air').nth(at).locator('.number').innerText());
}

test('a ring alone has its wood weighed and its joints told, and no base', () => visit('tablet', async (page) => {
  await openWood(page);
  assert.equal(await page.locator('.wood-swatch h3').innerText(), 'Maple, sugar');
  assert.equal((await read(page, 'wood.strips')).shown, 2);
  // 0.63 · 1.12 · 62.43 lb/ft³.
  near((await read(page, 'wood.weighs')).shown, 44, 0.5);
  const change = equilibrium(20, 30) - equilibrium(20, 45);
  const half = Math.PI / 12;
  const across = 0.00353 * change;
  const moved = Math.atan(Math.tan(half) / (1 + across));
  const gap = 2 * 0.75 * (1 + across) / Math.cos(moved) * Math.sin(half - moved);
  const dry = await read(page, 'season.opens_dry');
  near(dry.shown, Math.abs(gap), 0.0011);
  assert.match(dry.note, /inside/);
  assert.match((await read(page, 'season.opens_damp')).note, /outside/);
  assert.ok(await page.locator('#base-none').isVisible());
  assert.ok(await page.locator('#base-work').isHidden());
}));

test('each air brings wood to what the handbook says, typed or taken by its description', () => visit(
  'tablet',
  async (page) => {
    await openWood(page);
    near(await brings(page, 0), equilibrium(20, 45), 0.051);
    await enter(page, 'climate.damp_humidity_pct', '80');
    near(await brings(page, 2), equilibrium(25, 80), 0.051);
    await enter(page, 'climate.damp_temperature_c', '50');
    near(await brings(page, 2), equilibrium(10, 80), 0.051);
    await enter(page, 'climate.damp_temperature_c', '30 °C');
    near(await brings(page, 2), equilibrium(30, 80), 0.051);
    assert.equal(await entered(page, 'climate.damp_temperature_c'), '86');
    await page.locator('.air select').nth(1).selectOption('hard_winter');
    near(await brings(page, 1), equilibrium(20, 22), 0.051);
  },
));

test('in millimeters temperatures are in °C', () => visit('tablet', async (page) => {
  await chooseUnit(page, 'millimeter');
  await openWood(page);
  assert.equal(await entered(page, 'climate.damp_temperature_c'), '25');
  assert.equal((await read(page, 'wood.weighs')).unit, 'kg/m³');
}));

test('bad air is told at its field, and the rest stands', () => visit('tablet', async (page) => {
  await openWood(page);
  const before = await brings(page, 0);
  for (const [typed, pattern] of /** @type {[string, RegExp][]} */ ([
    ['130', /0 % to 100 %/], ['damp', /no meaning/], ['-5', /0 % to 100 %/], ['', /empty/],
  ])) {
    await enter(page, 'climate.shop_humidity_pct', typed);
    await tells(page, 'climate.shop_humidity_pct', pattern);
    assert.equal(await entered(page, 'climate.shop_humidity_pct'), typed, 'what was typed is gone');
    assert.equal(await brings(page, 0), before);
  }
  await enter(page, 'climate.shop_temperature_c', '900');
  await tells(page, 'climate.shop_temperature_c', /-40 °F to 176 °F|−40 °F to 176 °F/);
  // What can be, but not in the table, is computed with a caution.
  await enter(page, 'climate.shop_humidity_pct', '100');
  await isContent(page, 'climate.shop_humidity_pct');
  assert.match(await page.locator('#season-cautions').innerText(), /Shop now: the published table ends/);
  await enter(page, 'climate.shop_humidity_pct', '0');
  near(await brings(page, 0), 0);
  await enter(page, 'climate.dry_humidity_pct', '90');
  assert.match(await page.locator('#season-cautions').innerText(), /more moisture than the dampest/);
}));

test('the meter says whether the wood is ready', () => visit('tablet', async (page) => {
  await openWood(page);
  const says = page.locator('#ready-says');
  await enter(page, 'climate.meter_pct', '14');
  assert.match(await says.innerText(), /Not ready: it still dries/);
  await enter(page, 'climate.meter_pct', '8.8 %');
  assert.match(await says.innerText(), /^Ready/);
  await enter(page, 'climate.meter_pct', '');
  assert.match(await says.innerText(), /Enter a moisture meter/);
}));

test('a base of one board is caught before it is glued, and plies are safe', () => visit('tablet', async (page) => {
  await makeBowl(page);
  assert.ok(await page.locator('#base-cautions').isHidden(), 'it begins with plies');
  await choose(page, 'base.kind', 'one_board');
  assert.match(await page.locator('#base-cautions').innerText(), /moves .* against the ring above it/);
  await choose(page, 'base.set', 'let_in');
  assert.match(await page.locator('#base-cautions').innerText(), /breaks the ring/);
  const play = await read(page, 'base.play');
  const [disc, mortise] = [await read(page, 'base.disc'), await read(page, 'base.mortise')];
  // Mortise, disc and play are each rounded to be read.
  near(mortise.true - disc.true, play.shown + 0.1 / 25.4, 0.0021);
  await choose(page, 'base.kind', 'plies');
  assert.ok(await page.locator('#base-cautions').isHidden());
  assert.equal((await read(page, 'base.safe')).words, 'Yes');
  assert.equal(await page.locator('.movement').count(), 2);
  assert.match(await page.locator('.movement').first().innerText(), /Do not glue it all round/);
  assert.match(await page.locator('.movement[aria-current]').innerText(), /Crossed plies[^]*Safe glued all round/);
  // The lowest ring became one of segments, with a hole.
  await page.click('[data-place="vessel"]');
  await openFold(page, 'all-rings');
  assert.doesNotMatch(await page.locator('#ring-table').innerText(), /disc/);
}));

test('on a phone the table of all woods is scrolled sideways in its box, the names staying in sight', () => visit(
  'phone',
  async (page) => {
    await page.click('[data-place="wood"]');
    await openFold(page, 'all-woods');
    await page.locator('#all-wood-table tbody tr').first().waitFor();
    await fitsTheScreen(page);
    await staysInSight(page, page.locator('#all-woods .table-box'));
  },
));

test('plies are added, changed and taken away; an even number is a caution with its number', () => visit(
  'tablet',
  async (page) => {
    await makeBowl(page);
    await choose(page, 'base.kind', 'plies');
    await page.tap('#ply-less');
    assert.match(await page.locator('#base-cautions').innerText(), /2 plies like these pull the base hollow by 0\.\d+ in/);
    await page.tap('#ply-more');
    await enter(page, 'base.plies.0.thickness_mm', '1/4');
    await enter(page, 'base.plies.1.thickness_mm', '1/8');
    await enter(page, 'base.plies.2.thickness_mm', '1/4');
    await enter(page, 'base.plies.1.wood', 'Purpleheart');
    assert.equal(await entered(page, 'base.plies.1.wood'), 'Purpleheart');
    assert.match(await page.locator('#base-blanks').innerText(), /2 squares, .*Strip planed to/s);
    await page.click('#undo');
    assert.equal(await entered(page, 'base.plies.1.wood'), 'Maple, sugar');
  },
));

test('a disc larger than its ring, a ledge too wide and no base at all are told, the rest stands', () => visit(
  'tablet',
  async (page) => {
    await makeBowl(page);
    await choose(page, 'base.set', 'on_ledge');
    await enter(page, 'base.diameter_mm', '20');
    await tells(page, 'base.diameter_mm', /leaves nothing of its ring/);
    assert.ok(await page.locator('#season-first .row').first().isVisible());
    await enter(page, 'base.diameter_mm', '2');
    await isContent(page, 'base.diameter_mm');
    await enter(page, 'base.ledge_mm', '3');
    await tells(page, 'base.ledge_mm', /cannot be made/);
    await choose(page, 'base.kind', 'open');
    assert.ok(await page.locator('#base-none').isVisible());
  },
));

test('an own wood is like another, has its price, and is used everywhere', () => visit('tablet', async (page) => {
  await openWood(page);
  await page.fill('#own-wood-entry', 'Hedge elm');
  await page.press('#own-wood-entry', 'Enter');
  const own = page.locator('.wood-swatch', { hasText: 'Hedge elm' });
  assert.match(await own.innerText(), /not used yet/);
  await enter(page, 'woods.0.like', 'Elm, Rok');
  await tells(page, 'woods.0.like', /not in the table/);
  await enter(page, 'woods.0.like', 'Elm, rock');
  await isContent(page, 'woods.0.like');
  await enter(page, 'woods.0.price', '12.50');
  await field(page, 'woods.0.color').fill('#aa3322');
  await enter(page, 'woods.0.specific_gravity', '0.7');
  await page.click('[data-place="ring"]');
  await openFold(page, 'choices');
  await enter(page, 'ring.wood', 'Hedge elm');
  const feet = await read(page, 'row.wood');
  near((await read(page, 'row.cost')).shown, 12.5 * feet.shown, 0.07);
  assert.ok(await page.locator('#ring-drawing [fill="#aa3322"]').count() > 0, 'the ring is not drawn in its color');
  await field(page, 'ring.wood').fill('hedge');
  assert.match(await page.locator('#wood-offers').innerText(), /Hedge elm/);
}));

test('a wood without figures says so, and none is guessed', () => visit('tablet', async (page) => {
  await openFold(page, 'choices');
  await enter(page, 'ring.wood', 'Bloodwood');
  await openWood(page);
  assert.match((await read(page, 'wood.moves')).words, /no figures/);
  assert.match(await page.locator('#season-cautions').innerText(), /“Bloodwood” moves is not known/);
  assert.equal(await page.locator('#season-first .row').count(), 0);
}));

test('the table of all woods opens with sources and empty places', () => visit('desktop', async (page) => {
  await openWood(page);
  await openFold(page, 'all-woods');
  const rows = page.locator('#all-wood-table tbody tr');
  await rows.first().waitFor();
  assert.equal(await rows.count(), 87);
  const holly = await rows.filter({ hasText: 'Holly, American' }).locator('td .figure > [aria-hidden]').allInnerTexts();
  assert.deepEqual(holly.slice(0, 7), ['', '', '4.8*', '9.9*', '16.9*', '0.00165', '0.00353']);
  assert.match(holly[7] ?? '', /Table 13-5/);
}));

test('climate, woods and base outlast a reload, and travel in a link', () => visit('tablet', async (page) => {
  await makeBowl(page);
  await enter(page, 'climate.dry_humidity_pct', '25');
  await choose(page, 'base.kind', 'plies');
  await enter(page, 'base.plies.0.thickness_mm', '3/8');
  await page.locator('.wood-swatch .actions button').first().tap();
  await enter(page, 'woods.0.price', '9');
  const hash = await address(page);
  await page.reload();
  await untilReady(page);
  /** @param {Page} open */
  const check = async (open) => {
    await openWood(open);
    assert.equal(await entered(open, 'climate.dry_humidity_pct'), '25');
    assert.equal(await entered(open, 'base.plies.0.thickness_mm'), '3/8');
    assert.equal(await entered(open, 'woods.0.price'), '9');
  };
  await check(page);
  const origin = page.url().split('#')[0];
  const elsewhere = await page.context().browser()?.newContext({ locale: 'en-US' });
  const other = await elsewhere?.newPage();
  assert.ok(other && elsewhere);
  await other.goto(`${origin}${hash}`);
  await untilReady(other);
  await check(other);
  await elsewhere.close();
}));

test('by touch the own keypad types percents, without fractions', () => visit('tablet', async (page) => {
  await openWood(page);
  await field(page, 'climate.dry_humidity_pct').tap();
  assert.equal(await page.locator('.fraction-keys').isVisible(), false);
  await tapKeys(page, 'Clear', '2', '5', 'Done');
  near(await brings(page, 1), equilibrium(20, 25), 0.051);
}));

for (const [name, screen] of Object.entries(screens)) {
  for (const colorScheme of /** @type {const} */ (['light', 'dark'])) {
    test(`a bowl's woods, seasons and base keep the rules on a ${name}, ${colorScheme}`, () => visit(
      { ...screen, colorScheme },
      async (page) => {
        await makeBowl(page);
        await choose(page, 'base.kind', 'plies');
        await page.locator('.wood-swatch .actions button').first().click();
        await page.evaluate(async () => {
          for (const fold of document.querySelectorAll('#wood details')) fold.setAttribute('open', '');
          await Promise.all(document.getAnimations().map((each) => each.finished));
        });
        await settled(page);
        await axeClean(page);
        await fitsTheScreen(page);
        for (const number of await page.locator('#season-first .number, #base-first .number, #base-first .words').all()) {
          const size = await number.evaluate((element) => parseFloat(getComputedStyle(element).fontSize));
          assert.ok(size >= 32, `only ${size} px`);
        }
      },
    ));
  }
}
