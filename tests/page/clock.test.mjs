// The glue's clocks at the bench: times of day by the browser's own clock and time zone, kept on the device,
// right after a night, a reload, a change of the clocks, and with the device's clock set back.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { address, goToBench, keptDesigns, keptTexts, putAway, putTexts, stepOf, tickOf, unfold } from './hands.mjs';
import { axeClean, fitsTheScreen, picture, screens, settled, visit } from './harness.mjs';

/** @typedef {import('./harness.mjs').Page} Page */

/**
 * A tablet in a shop, on whose clock it is this time.
 * @param {string} time
 * @param {(page: Page) => Promise<void>} work
 * @param {string} [zone]
 * @param {import('./harness.mjs').Screen} [more]
 */
function visitAt(time, work, zone = 'America/New_York', more = {}) {
  const screen = { ...screens.tablet, timezoneId: zone, ...more };
  return visit(screen, work, { before: (context) => context.clock.setFixedTime(new Date(time)) });
}

/**
 * The clock of the device goes on to this time, as after a sleep, and the page is looked at again.
 * @param {Page} page @param {string} time
 */
async function lookAt(page, time) {
  await page.clock.setFixedTime(new Date(time));
  await page.evaluate(() => dispatchEvent(new Event('focus')));
  await settled(page);
}

/** Glue goes on in a step. @param {Page} page @param {string} id */
async function spread(page, id) {
  const glueOn = stepOf(page, id).locator('.glue-on');
  if (!await glueOn.isVisible()) await stepOf(page, id).locator('.step-title').click();
  await glueOn.click();
}

/** What the clocks at the head say, with plain spaces. @param {Page} page */
async function clocks(page) {
  const all = await page.locator('#clock-list > li').evaluateAll((lines) => lines.map((line) => [
    line.dataset.stage, ...[...line.querySelectorAll('.clock-title, .clock-says, .clock-times dt, .clock-times .words, .clock-air > summary')]
      .map((each) => each.textContent),
  ].join('|').replace(/\s/gu, ' ')));
  return all;
}

test('glue goes on by one large tap, and the bench tells the times of day', () => visitAt('2026-11-24T16:10:00-05:00', async (page) => {
  await goToBench(page);
  assert.equal(await page.locator('#bench-clocks').isVisible(), false);
  await stepOf(page, 'glue-2').locator('.step-title').click();
  const target = await stepOf(page, 'glue-2').locator('.glue-on').boundingBox();
  assert.ok(target && target.height >= 72 && target.width > 250, 'a large tap');
  await spread(page, 'glue-2');
  const [only, ...more] = await clocks(page);
  assert.deepEqual(more, []);
  assert.match(only ?? '', /^open\|Ring 2: dry-fit and glue up.*\|Close the joint now\|Close it by\|4:15 PM\|Clamps off from\|5:10 PM\|Turn it from\|8:10 PM\|Full strength from\|tomorrow 4:10 PM\|at 68 °F$/u);
  // Not done yet: the next step is not flattening it, and other work is at hand.
  assert.equal(await tickOf(page, 'glue-2').isChecked(), false);
  assert.match(await page.locator('#clock-now').innerText(), /Make the foot’s block\nRing 3: saw/u);
  assert.match(await stepOf(page, 'glue-2').innerText(), /Close the joint now/);
  await lookAt(page, '2026-11-24T16:16:00-05:00');
  assert.match((await clocks(page))[0] ?? '', /^clamped\|.*\|In the clamps\|Clamps off from\|5:10 PM/u);
  await lookAt(page, '2026-11-24T17:10:00-05:00');
  assert.match((await clocks(page))[0] ?? '', /^resting\|.*\|Turn it from\|8:10 PM/u);
  await lookAt(page, '2026-11-24T20:10:00-05:00');
  assert.match((await clocks(page))[0] ?? '', /^turned\|.*\|Full strength from\|tomorrow 4:10 PM/u);
  // Past midnight tomorrow is today.
  await lookAt(page, '2026-11-25T00:01:00-05:00');
  assert.match((await clocks(page))[0] ?? '', /^turned\|.*\|Full strength from\|4:10 PM\|/u);
  await fitsTheScreen(page);
  await picture(page, 'clock-tablet');
  await axeClean(page);
}));

test('a page in view tells the next stage by itself within a minute', () => visit('tablet', async (page) => {
  await goToBench(page);
  await spread(page, 'glue-2');
  await page.clock.runFor(6 * 60 * 1000);
  assert.match((await clocks(page))[0] ?? '', /^clamped\|/u);
}, { before: (context) => context.clock.install({ time: new Date('2026-11-24T16:10:00-05:00') }) }));

test('ticked without a tap before, a glue-up starts its clock; its clock outlives the page', () => visitAt('2026-11-24T16:10:30-05:00', async (page) => {
  await goToBench(page);
  await putAway(page);
  const link = await address(page);
  await tickOf(page, 'glue-3').check();
  await putAway(page);
  assert.equal(await address(page), link, 'a link needs no clock');
  const [kept] = Object.values(await keptDesigns(page));
  assert.ok(!JSON.stringify(kept.design).includes('on_ms'), 'nor does the design');
  const told = await clocks(page);
  // A wait ends a minute later rather than earlier.
  assert.match(told[0] ?? '', /^clamped\|Ring 3.*\|Clamps off from\|5:11 PM\|Turn it from\|8:11 PM/u);
  await page.reload();
  await page.locator('#clock-list > li').waitFor();
  assert.deepEqual(await clocks(page), told);
  // Opened again the next morning, and a week later.
  await page.clock.setFixedTime(new Date('2026-11-25T07:40:00-05:00'));
  await page.reload();
  await page.locator('#clock-list > li').waitFor();
  assert.match((await clocks(page))[0] ?? '', /^turned\|.*\|4:11 PM/u);
  assert.match(await page.locator('#clock-now').innerText(), /Ring 3: flatten/u);
  await lookAt(page, '2026-12-02T07:40:00-05:00');
  assert.match((await clocks(page))[0] ?? '', /^full\|.*\|Has its full strength/u);
  await unfold(page);
  await tickOf(page, 'flat-3').check();
  assert.deepEqual(await clocks(page), [], 'what was gone on with is told no more');
}));

test('several clocks run at once, what comes next first, and what needs them waits', () => visitAt('2026-11-24T18:00:00-05:00', async (page) => {
  await goToBench(page);
  await tickOf(page, 'glue-2').check();
  await lookAt(page, '2026-11-24T18:30:00-05:00');
  await tickOf(page, 'glue-3').check();
  await lookAt(page, '2026-11-24T19:15:00-05:00');
  const told = await clocks(page);
  assert.match(told[0] ?? '', /^clamped\|Ring 3.*7:30 PM/u);
  assert.match(told[1] ?? '', /^resting\|Ring 2.*10:00 PM/u);
  const now = await page.locator('#clock-now').innerText();
  assert.ok(!/flatten both faces/u.test(now), now);
  await lookAt(page, '2026-11-24T22:00:00-05:00');
  assert.match(await page.locator('#clock-now').innerText(), /Ring 2: flatten both faces/u);
  // A tap on it opens that step.
  await page.locator('#clock-now button', { hasText: 'Ring 2: flatten' }).click();
  assert.equal(await stepOf(page, 'flat-2').locator('.step-body').isVisible(), true);
}));

test('carried into the house, the rest is reckoned anew; too cold, it stands still', () => visitAt('2026-11-24T16:00:00-05:00', async (page) => {
  await goToBench(page);
  await tickOf(page, 'glue-2').check();
  const air = page.locator('#clock-list .clock-air');
  const typed = air.locator('input');
  await air.locator('summary').click();
  for (const [text, why] of [['-300 C', /-300|least|between|−/u], ['900', /900/u], ['warm', /warm|w/u], ['', /./u]]) {
    await typed.fill(String(text));
    await air.getByRole('button', { name: 'This joint' }).click();
    assert.match(await air.locator('[role=alert]').innerText(), /** @type {RegExp} */ (why));
    assert.equal(await typed.inputValue(), text, 'what was typed stays');
    assert.match((await clocks(page))[0] ?? '', /5:00 PM.*at 68 °F/u);
  }
  // At 50 °F it goes half as fast: half an hour is through, half is left.
  await lookAt(page, '2026-11-24T16:30:00-05:00');
  await typed.fill('10 C');
  await air.getByRole('button', { name: 'This joint' }).click();
  assert.match((await clocks(page))[0] ?? '', /^clamped\|.*5:30 PM.*at 50 °F/u);
  await air.locator('summary').click();
  await typed.fill('40');
  await air.getByRole('button', { name: 'All that are setting' }).click();
  assert.match((await clocks(page))[0] ?? '', /^cold\|.*At 40 °F this glue does not set.*50 °F/u);
  await lookAt(page, '2026-11-24T20:00:00-05:00');
  assert.match((await clocks(page))[0] ?? '', /^cold\|/u);
  await typed.fill('68');
  await air.getByRole('button', { name: 'All that are setting' }).click();
  assert.match((await clocks(page))[0] ?? '', /^clamped\|.*8:30 PM/u);
}));

test('a tick taken back takes its clock with it, and undo brings both back', () => visitAt('2026-11-24T16:00:00-05:00', async (page) => {
  await goToBench(page);
  await tickOf(page, 'glue-2').check();
  const told = await clocks(page);
  await lookAt(page, '2026-11-24T16:20:00-05:00');
  await tickOf(page, 'glue-2').uncheck();
  assert.deepEqual(await clocks(page), []);
  await page.click('#undo');
  assert.deepEqual(await clocks(page), told);
  assert.equal(await tickOf(page, 'glue-2').isChecked(), true);
  await page.click('#redo');
  assert.deepEqual(await clocks(page), []);
  await page.click('#undo');
  await putAway(page);
  await page.reload();
  await page.locator('#clock-list > li').waitFor();
  assert.deepEqual(await clocks(page), told, 'as it was started, not as it was undone');
  // Taken away by hand, the tick stays.
  await page.locator('#clock-list summary').click();
  await page.getByRole('button', { name: 'Take this clock away' }).click();
  assert.deepEqual(await clocks(page), []);
  await unfold(page);
  assert.equal(await tickOf(page, 'glue-2').isChecked(), true);
}));

test('undo goes through steps at the bench and changes of the design in their order', () => visitAt('2026-11-24T16:00:00-05:00', async (page) => {
  await goToBench(page);
  await tickOf(page, 'glue-2').check();
  await page.locator('#bench-meeting > summary').click();
  const before = await page.locator('#meeting-says').innerText();
  await page.click('#meet-higher');
  await tickOf(page, 'glue-3').check();
  assert.equal((await clocks(page)).length, 2);
  await page.click('#undo');
  assert.equal((await clocks(page)).length, 1);
  await page.click('#undo');
  assert.equal(await page.locator('#meeting-says').innerText(), before);
  assert.equal((await clocks(page)).length, 1);
  await page.click('#undo');
  assert.equal((await clocks(page)).length, 0);
  for (const wanted of [1, 1, 2]) {
    await page.click('#redo');
    assert.equal((await clocks(page)).length, wanted);
  }
}));

test('a clock set back says so, and may be started again', () => visitAt('2026-11-24T16:00:00-05:00', async (page) => {
  await goToBench(page);
  await tickOf(page, 'glue-2').check();
  await lookAt(page, '2026-11-23T09:00:00-05:00');
  assert.match((await clocks(page))[0] ?? '', /^ahead\|.*tomorrow 4:00 PM.*set back/u);
  await page.getByRole('button', { name: 'Start it again now' }).click();
  assert.match((await clocks(page))[0] ?? '', /^clamped\|.*10:00 AM/u);
}));

// The clocks of New York go on from 2 to 3 am on March 8, 2026, and back on November 1 (Energy Policy Act of 2005).
for (const [start, clampsOff, turn] of [
  ['2026-03-08T01:30:00-05:00', '3:30 AM', '6:30 AM'],
  ['2026-11-01T00:30:00-04:00', '1:30 AM', '3:30 AM'],
  ['2026-11-01T01:30:00-04:00', '1:30 AM', '4:30 AM'],
]) {
  test(`over a night in which the clocks change, from ${start}`, () => visitAt(start ?? '', async (page) => {
    await goToBench(page);
    await tickOf(page, 'glue-2').check();
    assert.match((await clocks(page))[0] ?? '', new RegExp(`Clamps off from\\|${clampsOff}\\|Turn it from\\|${turn}\\|Full`, 'u'));
    await lookAt(page, new Date(Date.parse(start ?? '') + 4 * 3600 * 1000).toISOString());
    assert.match((await clocks(page))[0] ?? '', /^turned\|/u);
  }));
}

test('days are told by the reader’s own calendar', () => visitAt('2026-11-24T22:30:00+01:00', async (page) => {
  await goToBench(page);
  await page.locator('#bench-setup > summary').click();
  await page.locator('[data-key="bench.glue"]').selectOption('slow_epoxy');
  await tickOf(page, 'glue-2').check();
  // 8 h to the clamps, a day to turning, three to its strength.
  assert.match((await clocks(page))[0] ?? '', /Clamps off from\|tomorrow 6:30\|Turn it from\|tomorrow 22:30\|Full strength from\|Fri 27 Nov, 22:30/u);
}, 'Europe/Berlin', { locale: 'en-GB' }));

test('a kept log that is rubbish leaves the ticks and the rest', () => visitAt('2026-11-24T16:00:00-05:00', async (page) => {
  await goToBench(page);
  await tickOf(page, 'glue-2').check();
  await tickOf(page, 'glue-3').check();
  await putAway(page);
  const changed = Object.entries(await keptTexts(page)).filter(([key]) => key.startsWith('design/')).map(([key, text]) => {
    const record = JSON.parse(text);
    record.log.entries[0].clock.on_ms = 1e300;
    record.log.entries.push({ id: 7 }, null, { id: 'x', clock: { glue: 'toffee', on_ms: -1 } });
    return [key, JSON.stringify(record)];
  });
  await putTexts(page, Object.fromEntries(changed));
  await page.reload();
  await page.locator('#clock-list > li').waitFor();
  const told = await clocks(page);
  assert.equal(told.length, 1);
  assert.match(told[0] ?? '', /Ring 3/u);
  assert.match(await page.locator('#bench-progress').innerText(), /^2 of/);
}));

test('the log keeps when each step was done, with a note, and is copied as text', () => visit({
  ...screens.tablet, timezoneId: 'America/New_York', permissions: ['clipboard-read', 'clipboard-write'],
}, async (page) => {
  await goToBench(page);
  await page.locator('#bench-log > summary').click();
  assert.match(await page.locator('#bench-log').innerText(), /entered here with its time/u);
  await spread(page, 'glue-2');
  await lookAt(page, '2026-11-26T16:25:00-05:00');
  await stepOf(page, 'cut-3').locator('.step-title').click();
  const note = stepOf(page, 'cut-3').locator('.step-note input');
  await note.fill('x'.repeat(10_000));
  await note.press('Tab');
  assert.match(await stepOf(page, 'cut-3').locator('.step-note [role=alert]').innerText(), /500 letters.*Shorten/u);
  assert.equal((await note.inputValue()).length, 10_000, 'what was typed stays');
  await note.fill('The stop slipped <1/32>.');
  await note.press('Tab');
  await stepOf(page, 'cut-3').locator('.step-note [role=alert]').waitFor({ state: 'hidden' });
  await tickOf(page, 'cut-3').check();
  await lookAt(page, '2026-11-26T16:30:00-05:00');
  await tickOf(page, 'glue-2').check();
  const wanted = [
    'Thu, Nov 26, 4:10 PM: Glue on: Ring 2: dry-fit and glue up.',
    'Thu, Nov 26, 4:25 PM: Ring 3: saw 16 segments of Maple, sugar. The stop slipped <1/32>.',
    'Thu, Nov 26, 4:30 PM: Ring 2: dry-fit and glue up.',
    'Ticked on 1 day, from Thu, Nov 26, 4:25 PM to Thu, Nov 26, 4:30 PM: 5 min.',
  ].join('\n');
  await page.click('#log-copy');
  await page.locator('.notice[data-name=log]').waitFor();
  const copied = await page.evaluate(() => navigator.clipboard.readText());
  const plain = copied.replace(/[\u202f\u00a0]/gu, ' ');
  assert.ok(plain.startsWith(`${wanted}\nMaple, sugar: about `), plain);
  await fitsTheScreen(page);
  await putAway(page);
  await page.reload();
  await page.locator('#clock-list > li').waitFor();
  assert.match(await page.locator('#log-says').innerText(), /3 lines/u);
  assert.equal(await page.locator('#log-lines > li').count(), 3);
  // The note stands at its step again.
  await unfold(page);
  await stepOf(page, 'cut-3').locator('.step-title').click();
  assert.equal(await note.inputValue(), 'The stop slipped <1/32>.');
  await tickOf(page, 'cut-3').uncheck();
  await page.locator('#bench-log > summary').click();
  assert.match(await page.locator('#log-lines').innerText(), /Note on Ring 3/u);
  await picture(page, 'log-tablet');
  await axeClean(page);
}, { before: (context) => context.clock.setFixedTime(new Date('2026-11-26T16:10:00-05:00')) }));

test('two tabs that each start a clock of one design keep both', () => visit({ ...screens.tablet, timezoneId: 'America/New_York' }, async (page, { context, origin }) => {
  await goToBench(page);
  await putAway(page);
  const hash = await address(page);
  const other = await context.newPage();
  await other.goto(`${origin}/${hash}`);
  await other.locator('#bench-progress').waitFor();
  await unfold(other);
  await tickOf(page, 'glue-2').check();
  await tickOf(other, 'glue-3').check();
  for (const each of [page, other]) await putAway(each);
  assert.match((await clocks(page)).join(), /Ring 2/u);
  assert.match((await clocks(other)).join(), /Ring 3/u);
  const kept = Object.values(await keptDesigns(page));
  const ids = kept.flatMap((record) => (record.log.entries ?? []).map((/** @type {{ id: string }} */ entry) => entry.id));
  assert.ok(ids.includes('glue-2') && ids.includes('glue-3'), ids.join());
}, { before: (context) => context.clock.setFixedTime(new Date('2026-11-26T16:10:00-05:00')) }));
