// Measures the page in a browser; `cargo figures` prints the table.
//
// Each row is `what`, a number and its unit, parted by tabs.

import { startBrowser, startServer, screens, untilReady } from './browser.mjs';

/** @typedef {import('./browser.mjs').Page} Page */
/** @typedef {import('./browser.mjs').Browser} Browser */

const SLOWED = 4;
const STARTS = 7;
const CHANGES = 200;

const server = await startServer();
const browser = await startBrowser();
try {
  await libraryRows();
  await frameRows();
  await dragRows();
  await boardRows();
  await makingRows();
  await variationRows();
  await offlineRows();
} finally {
  await browser.close();
  await server.stop();
}

/** @param {string} what @param {number} value @param {string} unit @param {number} [digits] */
function row(what, value, unit, digits = 1) {
  console.log(`${what}\t${value.toFixed(digits)}\t${unit}`);
}

/** @param {number[]} values @param {number} share */
function quantile(values, share) {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? NaN;
}

async function openPage() {
  const context = await browser.newContext({ locale: 'en-US', ...screens.tablet });
  const page = await context.newPage();
  await page.goto(`${server.origin}/`);
  await untilReady(page);
  return { context, page };
}

/** @param {Page} page */
async function slowDown(page) {
  const session = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWED });
}

/** The library as the page calls it. */
async function libraryRows() {
  const { context, page } = await openPage();
  const times = await page.evaluate(async () => {
    // A string that is no literal: the type checker has no module of this address.
    const address = './ringwright.js';
    const library = await import(new URL(address, document.baseURI).href);
    const design = library.starting_design('en-US');
    const link = library.link_of(design);
    const sizes = {
      ring_width: 500, ring_height: 500, segment_width: 500, segment_height: 300, held: '',
    };
    /** @param {() => unknown} work */
    const median = (work) => {
      const batches = [];
      const runs = 20;
      for (let batch = 0; batch < 31; batch += 1) {
        const start = performance.now();
        for (let run = 0; run < runs; run += 1) work();
        batches.push(((performance.now() - start) * 1000) / runs);
      }
      return batches.sort((a, b) => a - b)[15] ?? NaN;
    };
    return {
      place: median(() => library.show_ring(design, sizes)),
      sheet: median(() => library.packet_file(design, 'pdf', link, { date: '2026-01-01', now: 0, language: 'en-US', done: { ticks: {}, log: {} } }, ['ring'], '')),
    };
  });
  row('all that the Ring place shows, in the browser', times.place, 'µs');
  row('its sheet as PDF, in the browser', times.sheet, 'µs');
  await context.close();
}

/** From an input's change to the frame that shows it. */
async function frameRows() {
  const { context, page } = await openPage();
  await slowDown(page);
  const times = await page.evaluate(async (changes) => {
    const input = /** @type {HTMLInputElement} */ (document.querySelector('#segment-count'));
    const drawing = /** @type {Element} */ (document.querySelector('#ring-drawing'));
    let changed = false;
    new MutationObserver(() => { changed = true; }).observe(drawing, {
      childList: true, subtree: true, attributes: true, characterData: true,
    });
    const frame = () => new Promise((resolve) => { requestAnimationFrame(resolve); });
    // A message posted inside a frame is handled after that frame's layout and paint.
    const painted = () => new Promise((resolve) => {
      const channel = new MessageChannel();
      channel.port1.onmessage = resolve;
      channel.port2.postMessage('');
    });
    const all = [];
    for (let change = 0; change < changes; change += 1) {
      await frame();
      changed = false;
      const start = performance.now();
      input.value = String(6 + (change % 30));
      input.dispatchEvent(new Event('input', { bubbles: true }));
      await painted();
      for (let wait = 0; !changed && wait < 30; wait += 1) {
        await frame();
        await painted();
      }
      if (!changed) throw new Error('a change of the segment count was never drawn');
      all.push(performance.now() - start);
    }
    return all;
  }, CHANGES);
  row(`a change until it is painted, CPU ${SLOWED} times slower, median`, quantile(times, 0.5), 'ms');
  row(`the same, 95th percentile`, quantile(times, 0.95), 'ms');
  await context.close();
}

/** From a handle's move to the frame that shows it, on the richer example. */
async function dragRows() {
  const { context, page } = await openPage();
  await page.click('[data-place="vessel"]');
  await page.click('#starts [data-way="lantern_vase"]');
  await page.locator('#section .handle').first().waitFor();
  await slowDown(page);
  const times = await page.evaluate(async (changes) => {
    const handle = /** @type {HTMLElement} */ (document.querySelectorAll('#section .handle')[3]);
    const box = handle.getBoundingClientRect();
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    // The pointer is made up, so that there is nothing to capture.
    handle.setPointerCapture = () => {};
    /** @param {string} type @param {number} across */
    const point = (type, across) => handle.dispatchEvent(new PointerEvent(type, {
      bubbles: true, pointerId: 1, clientX: x + across, clientY: y,
    }));
    point('pointerdown', 0);
    const all = [];
    for (let change = 0; change < changes; change += 1) {
      await new Promise((resolve) => { requestAnimationFrame(resolve); });
      const start = performance.now();
      point('pointermove', 12 * Math.sin(change / 3));
      await new Promise((resolve) => {
        const channel = new MessageChannel();
        channel.port1.onmessage = resolve;
        channel.port2.postMessage('');
      });
      all.push(performance.now() - start);
    }
    point('pointerup', 0);
    return all;
  }, CHANGES);
  row(`a handle's move until it is painted, CPU ${SLOWED} times slower, median`, quantile(times, 0.5), 'ms');
  row('the same, 95th percentile', quantile(times, 0.95), 'ms');
  await context.close();
}

/** The search for boards goes on between frames: how long one step of it holds the page. */
async function boardRows() {
  const { context, page } = await openPage();
  await slowDown(page);
  const steps = await page.evaluate(async () => {
    const address = './ringwright.js';
    const library = await import(new URL(address, document.baseURI).href);
    const example = library.open_link(library.example_link('lantern_vase')).design;
    // Eleven odd boards, thick enough for every ring.
    const boards = Array.from({ length: 11 }, (_, place) => ({
      ...example.rack.boards[0],
      wood: example.vessel.woods[place % example.vessel.woods.length],
      thickness_mm: 60,
      thickness_is: 'planed',
      width_mm: 70 + ((37 * place) % 110),
      length_mm: 500 + ((290 * place) % 1100),
      number: 1 + (place % 3),
      avoid: place % 4 === 0 ? [{ from_mm: 200, to_mm: 260 }] : [],
    }));
    const rack = { ...example.rack, goal: 'least_wood', plane_at_most_mm: 60, boards };
    const { design } = library.open_text(JSON.stringify({ ...example, rack }));
    const from = performance.now();
    const search = new library.BoardsAtWork(design);
    search.show(600);
    const first = performance.now() - from;
    const times = [];
    for (let isDone = false; !isDone && times.length < 2000;) {
      const start = performance.now();
      isDone = search.step(150_000);
      times.push(performance.now() - start);
    }
    search.free();
    return { first, times };
  });
  row(`boards: the first answer, drawn, CPU ${SLOWED} times slower`, steps.first, 'ms');
  row('one step of the search for a better one, median', quantile(steps.times, 0.5), 'ms');
  row('the same, the longest', Math.max(...steps.times), 'ms');
  await context.close();
}

/** What twelve boards could become: when the first picture stands there, and when no better one comes. */
async function makingRows() {
  const { context, page } = await openPage();
  const boards = Array.from({ length: 12 }, (_, place) => {
    const wood = ['maple', 'walnut', 'ash'][place % 3];
    return `${4 + (place % 5)} x ${24 + ((29 * place) % 60)} x ${place % 4 === 0 ? '5/4' : '1'} ${wood}`;
  });
  await page.click('[data-place="wood"]');
  await page.click('#boards-many > summary');
  await page.fill('#boards-many-entry', boards.join('\n'));
  await page.click('#boards-many-form button[type="submit"]');
  await page.locator('#making > summary').click();
  await slowDown(page);
  const { first, settled } = await page.evaluate(async () => {
    const list = /** @type {Element} */ (document.getElementById('making-list'));
    const says = /** @type {Element} */ (document.getElementById('making-says'));
    const button = /** @type {HTMLElement} */ (document.querySelector('[data-make="bowl"]'));
    const start = performance.now();
    let first = NaN;
    const done = new Promise((resolve) => {
      new MutationObserver(() => {
        if (Number.isNaN(first) && list.childElementCount > 0) first = performance.now() - start;
      }).observe(list, { childList: true });
      new MutationObserver(() => {
        if (says.textContent === '') resolve(performance.now() - start);
      }).observe(says, { childList: true, characterData: true });
      setTimeout(resolve, 60_000, NaN);
    });
    button.click();
    return { settled: await done, first };
  });
  row(`what twelve boards could become: the first, CPU ${SLOWED} times slower`, first, 'ms');
  row('the same, all of them', settled, 'ms');
  await context.close();
}

/** Variations are looked for between frames: when the first and the last stand there, and how
 * long one look holds the page. From the tap on, as the page does it. */
async function variationRows() {
  const { context, page } = await openPage();
  await page.click('[data-place="vessel"]');
  await page.click('#starts [data-way="lantern_vase"]');
  await page.locator('#section .handle').first().waitFor();
  await slowDown(page);
  const { first, all, longest } = await page.evaluate(async () => {
    const list = /** @type {Element} */ (document.getElementById('variation-list'));
    const summary = /** @type {HTMLElement} */ (document.querySelector('#variations summary'));
    /** @type {number[]} */
    const found = [];
    let longest = 0;
    new PerformanceObserver((entries) => {
      for (const entry of entries.getEntries()) longest = Math.max(longest, entry.duration);
    }).observe({ type: 'longtask' });
    const start = performance.now();
    const done = new Promise((resolve) => {
      new MutationObserver(() => {
        while (found.length < list.childElementCount) found.push(performance.now() - start);
        if (found.length === 9) resolve(null);
      }).observe(list, { childList: true });
      setTimeout(resolve, 20_000);
    });
    summary.click();
    await done;
    await new Promise((resolve) => { setTimeout(resolve, 200); });
    return { first: found[0] ?? NaN, all: found[8] ?? NaN, longest };
  });
  row(`variations: the first, CPU ${SLOWED} times slower`, first, 'ms');
  row('the same, all nine', all, 'ms');
  row('the same, the longest that the page is held', longest, 'ms');
  await context.close();
}

/** A second visit with no network. */
async function offlineRows() {
  const { context, page } = await openPage();
  await page.evaluate(() => navigator.serviceWorker.ready);
  await context.addInitScript(() => {
    const noted = /** @type {{ readyAfter?: number }} */ (globalThis);
    const look = () => {
      if (document.documentElement?.dataset.ready === 'yes') {
        noted.readyAfter ??= performance.now();
      }
    };
    new MutationObserver(look).observe(document, { subtree: true, attributes: true, childList: true });
  });
  await context.setOffline(true);
  await slowDown(page);
  const times = [];
  for (let start = 0; start < STARTS; start += 1) {
    await page.reload();
    await untilReady(page);
    times.push(await page.evaluate(
      () => /** @type {{ readyAfter?: number }} */ (globalThis).readyAfter ?? NaN,
    ));
  }
  row(`start with no network until usable, CPU ${SLOWED} times slower`, quantile(times, 0.5), 'ms');
  await context.close();
}
