// The whole browser is killed at a random moment, as a dead battery or a cut of the power does, and its profile
// opened again: nothing that was shown as kept may be gone, nor a step of its undo list.
//
// A handful of kills each time; RINGWRIGHT_KILLS=100 for a long run.

import assert from 'node:assert/strict';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { setTimeout as pause } from 'node:timers/promises';
import { startRealBrowser, startServer, untilReady } from './browser.mjs';
import { UNDO_STATES } from '../../www/record.js';
import { keptTexts } from './hands.mjs';

/** @typedef {import('playwright-core').Page} Page */

const kills = Number(process.env.RINGWRIGHT_KILLS ?? 6);
/** A profile is used for so many kills, then a new one: the first minutes on a device are the most dangerous. */
const KILLS_OF_A_PROFILE = 4;
const PLAY_MILLISECONDS = 2500;
/** So many changes are seen to be kept before each kill, at the least, on average; mostly two or more are. */
const LEAST_WAITS_OF_A_KILL = 0.5;
/** Segments of the design that a page starts with. */
const FIRST_COUNT = 12;

/**
 * What was shown: the count of segments, which goes up by one with each step, and how long the change before it
 * was not yet shown as kept.
 * @typedef {{ count: number, waited: number }} Shown
 */

/**
 * Taps "+" at random moments, and tells whenever the page shows that the last change is kept.
 * @param {Page} page
 * @param {(shown: Shown) => void} onShown
 */
async function play(page, onShown) {
  await page.exposeFunction('shownAsKept', onShown);
  await page.evaluate(() => {
    const mark = document.getElementById('kept-state');
    const count = document.querySelector('#segment-count');
    let since = 0;
    const look = () => {
      if (mark?.dataset.state !== 'kept' || !(count instanceof HTMLInputElement)) return;
      const waited = since ? performance.now() - since : 0;
      since = 0;
      Reflect.get(window, 'shownAsKept')({ count: Number(count.value), waited });
    };
    if (mark) new MutationObserver(look).observe(mark, { attributes: true });
    const tap = () => {
      since ||= performance.now();
      document.getElementById('count-more')?.click();
      setTimeout(tap, Math.random() ** 2 * 400);
    };
    setTimeout(tap, Math.random() * 200);
  });
}

/**
 * What the page has open: from the page itself, and from what it keeps.
 * @param {Page} page
 */
async function opened(page) {
  const shown = Number(await page.inputValue('#segment-count'));
  const texts = await keptTexts(page).catch(() => ({}));
  const id = texts['last-open'] ?? '';
  const record = JSON.parse(texts[`design/${id}`] ?? 'null');
  const undo = JSON.parse(texts[`undo/${id}`] ?? '{"past":[]}');
  /** @type {number[]} */
  const past = undo.past.map((/** @type {any} */ each) => each.ring.segment_count);
  return { shown, kept: record?.design.ring.segment_count, isInStep: !texts[`undo/${id}`] || undo.stamp === record.stamp, past };
}

test(`${kills} kills of the whole browser lose nothing that was shown as kept`, async (t) => {
  assert.ok(kills > 0, 'nothing would be killed');
  const server = await startServer();
  /** @type {number[]} */
  const waits = [];
  /** @type {string[]} */
  const lost = [];
  let profile = '';
  try {
    for (let run = 0; run < kills; run += 1) {
      if (run % KILLS_OF_A_PROFILE === 0) {
        if (profile) await rm(profile, { recursive: true, force: true, maxRetries: 5 });
        profile = await mkdtemp(join(tmpdir(), 'ringwright-profile-'));
      }
      const seen = { last: 0 };
      await within(profile, server.origin, (page) => playAWhile(page, ({ count, waited }) => {
        seen.last = count;
        if (waited > 0) waits.push(waited);
      }));
      const found = await within(profile, server.origin, opened);
      const steps = Array.from({ length: Math.min(found.shown - FIRST_COUNT, UNDO_STATES) }, (_, step) => found.shown - 1 - step);
      const isWhole = found.shown >= seen.last && found.kept === found.shown && found.isInStep
        && found.past.join() === steps.reverse().join();
      if (!isWhole) lost.push(`kill ${run}: shown as kept ${seen.last}, found ${JSON.stringify(found)}`);
    }
  } finally {
    await server.stop();
    await rm(profile, { recursive: true, force: true, maxRetries: 5 });
  }
  waits.sort((a, b) => a - b);
  const [median, most] = [waits[Math.floor(waits.length / 2)] ?? 0, waits.at(-1) ?? 0];
  t.diagnostic(`${kills} kills, ${lost.length} lost something; ${waits.length} changes were shown as kept after ${median.toFixed(0)} ms (median), ${most.toFixed(0)} ms (most)`);
  assert.deepEqual(lost, []);
  // A page that never says "Kept" loses nothing that was shown as kept, either.
  assert.ok(waits.length >= Math.floor(kills * LEAST_WAITS_OF_A_KILL), `only ${waits.length} changes were shown as kept`);
  assert.ok(median < 300, `a change is shown as kept only after ${median} ms`);
});

/**
 * Opens the page in a profile, does something, and kills the browser.
 * @template T
 * @param {string} profile
 * @param {string} origin
 * @param {(page: Page) => Promise<T>} act
 */
async function within(profile, origin, act) {
  const browser = await startRealBrowser(profile);
  try {
    const page = await browser.context.newPage();
    await page.goto(`${origin}/`);
    await untilReady(page);
    return await act(page);
  } finally {
    await browser.kill();
  }
}

/**
 * @param {Page} page
 * @param {(shown: Shown) => void} onShown
 */
async function playAWhile(page, onShown) {
  await play(page, onShown);
  await pause(Math.random() * PLAY_MILLISECONDS);
}
