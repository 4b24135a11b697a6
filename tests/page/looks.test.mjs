// Each place looks as it was last seen, at four widths: kept as small pictures in
// `tests/page/looks/`. Where a place is meant to look otherwise, look at the new picture in
// `target/screenshots/`, and keep it by RINGWRIGHT_KEEP_PICTURES=1 for this test.

import assert from 'node:assert/strict';
import { existsSync } from 'node:fs';
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { test } from 'node:test';
import { picture, projectRoot, settled, visit } from './harness.mjs';

/** @typedef {import('playwright-core').Page} Page */

const WIDTHS = [
  { width: 360, height: 780 }, { width: 390, height: 844 }, { width: 820, height: 1180 }, { width: 1180, height: 820 },
];
const PLACES = ['ring', 'vessel', 'wood', 'inlay', 'bench', 'paper'];

/** Letters are drawn a little otherwise on every machine: a kept picture is so small that they are gray. */
const ACROSS = 90;
/** Mean difference of a small picture's pixels, and of any sixteenth of it, of 255. */
const MOST_MEAN = 3;
const MOST_PART = 16;

/**
 * A screen made small, as a PNG.
 * @param {Page} page
 */
async function small(page) {
  const shot = (await page.screenshot()).toString('base64');
  const address = await page.evaluate(async ([data, across]) => {
    const image = await createImageBitmap(new Blob([Uint8Array.from(atob(data ?? ''), (letter) => letter.charCodeAt(0))]));
    const high = Math.round((image.height * Number(across)) / image.width);
    const canvas = new OffscreenCanvas(Number(across), high);
    const pen = canvas.getContext('2d');
    if (!pen) throw new Error('no canvas');
    pen.imageSmoothingQuality = 'high';
    pen.drawImage(image, 0, 0, Number(across), high);
    const blob = await canvas.convertToBlob({ type: 'image/png' });
    const bytes = new Uint8Array(await blob.arrayBuffer());
    return btoa(String.fromCharCode(...bytes));
  }, [shot, String(ACROSS)]);
  return Buffer.from(address, 'base64');
}

/**
 * How much two small pictures differ: all over, and where the most.
 * @param {Page} page
 * @param {Buffer} one
 * @param {Buffer} other
 */
function differ(page, one, other) {
  return page.evaluate(async (both) => {
    const read = async (/** @type {string} */ data) => {
      const image = await createImageBitmap(new Blob([Uint8Array.from(atob(data), (letter) => letter.charCodeAt(0))]));
      const pen = new OffscreenCanvas(image.width, image.height).getContext('2d');
      if (!pen) throw new Error('no canvas');
      pen.drawImage(image, 0, 0);
      return pen.getImageData(0, 0, image.width, image.height);
    };
    const [a, b] = [await read(both[0] ?? ''), await read(both[1] ?? '')];
    if (a.width !== b.width || a.height !== b.height) return { mean: 255, part: 255 };
    const sums = new Array(16).fill(0);
    for (let at = 0; at < a.data.length; at += 1) {
      const pixel = Math.floor(at / 4);
      const [x, y] = [pixel % a.width, Math.floor(pixel / a.width)];
      const part = Math.floor((4 * y) / a.height) * 4 + Math.floor((4 * x) / a.width);
      sums[part] += Math.abs((a.data[at] ?? 0) - (b.data[at] ?? 0));
    }
    const all = a.data.length;
    return { mean: sums.reduce((sum, each) => sum + each, 0) / all, part: (16 * Math.max(...sums)) / all };
  }, [one.toString('base64'), other.toString('base64')]);
}

for (const viewport of WIDTHS) {
  const isPhone = viewport.width < 500;
  test(`every place looks as it was last seen at ${viewport.width} px`, () => visit(
    { viewport, hasTouch: true, isMobile: isPhone, colorScheme: 'light', reducedMotion: 'reduce' },
    async (page) => {
      await page.tap('#ways [data-way="lantern_vase"]');
      /** @type {string[]} */
      const otherwise = [];
      for (const place of PLACES) {
        await page.tap(`[data-place="${place}"]`);
        await page.waitForFunction(() => document.getElementById('kept-state')?.dataset.state === 'kept');
        await page.evaluate(() => document.fonts.ready);
        await page.waitForTimeout(700);
        await settled(page);
        const name = `${place}-${viewport.width}`;
        const now = await small(page);
        const folder = join(projectRoot, 'tests/page/looks');
        const kept = join(folder, `${name}.png`);
        if (process.env.RINGWRIGHT_KEEP_PICTURES) {
          await mkdir(folder, { recursive: true });
          await writeFile(kept, now);
        }
        if (!existsSync(kept)) {
          otherwise.push(`${name} is not kept`);
          continue;
        }
        const { mean, part } = await differ(page, await readFile(kept), now);
        if (mean <= MOST_MEAN && part <= MOST_PART) continue;
        await picture(page, `looks-${name}`);
        otherwise.push(`${name}: ${mean.toFixed(1)} all over, ${part.toFixed(1)} in a part`);
      }
      assert.deepEqual(otherwise, [], 'look at target/screenshots/looks-*.png');
    },
  ));
}
