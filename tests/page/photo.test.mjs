// Photographs at the steps: small, kept on the device, in the log, and in the design's file where that is wanted.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { address, goToBench, openFile, saved, stepOf, tickOf, unfold, untilKept } from './hands.mjs';
import { axeClean, fitsTheScreen, picture, screens, settled, visit } from './harness.mjs';

/** @typedef {import('./harness.mjs').Page} Page */

const PLACE = 'N 51 28 W 0 0';

/**
 * A photograph as a camera held upright writes it: lying, turned by its Exif orientation 6 (a quarter to the right;
 * CIPA DC-008, "Orientation"), and with a place in it. Its left half is red, its right half blue.
 * @param {Page} page
 * @param {number} width as it lies
 * @param {number} height
 */
async function photograph(page, width = 2000, height = 1000) {
  const bytes = Buffer.from(await page.evaluate(async ([wide, high]) => {
    const canvas = new OffscreenCanvas(wide ?? 0, high ?? 0);
    const pen = /** @type {OffscreenCanvasRenderingContext2D} */ (canvas.getContext('2d'));
    pen.fillStyle = '#c00';
    pen.fillRect(0, 0, canvas.width, canvas.height);
    pen.fillStyle = '#00c';
    pen.fillRect(canvas.width / 2, 0, canvas.width, canvas.height);
    return [...new Uint8Array(await (await canvas.convertToBlob({ type: 'image/jpeg' })).arrayBuffer())];
  }, [width, height]));
  const tiff = Buffer.from([0x49, 0x49, 42, 0, 8, 0, 0, 0, 1, 0, 0x12, 1, 3, 0, 1, 0, 0, 0, 6, 0, 0, 0, 0, 0, 0, 0]);
  const body = Buffer.concat([Buffer.from('Exif\0\0'), tiff, Buffer.from(PLACE)]);
  const head = Buffer.from([0xff, 0xe1, 0, body.length + 2]);
  return Buffer.concat([bytes.subarray(0, 2), head, body, bytes.subarray(2)]);
}

/** @param {Page} page @param {string} step @param {Buffer} buffer @param {string} [name] */
async function add(page, step, buffer, name = 'joint.jpg') {
  const button = stepOf(page, step).getByRole('button', { name: 'Add a photograph' });
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), button.click()]);
  await chooser.setFiles({ name, mimeType: 'image/jpeg', buffer });
}

/** @param {Page} page @param {string} step */
function tilesOf(page, step) {
  return stepOf(page, step).locator('.photo-tile img[src]');
}

/** @param {Page} page @param {string} step */
async function openStep(page, step) {
  const title = stepOf(page, step).locator('.step-title');
  if (await title.getAttribute('aria-expanded') === 'false') await title.click();
}

/** What is kept of pictures: how large each is, and its bytes as text. @param {Page} page */
function kept(page) {
  return page.evaluate(() => new Promise((resolve, reject) => {
    const request = indexedDB.open('ringwright-pictures');
    request.addEventListener('error', () => reject(request.error));
    request.addEventListener('success', () => {
      const all = request.result.transaction('pictures').objectStore('pictures').getAll();
      all.addEventListener('success', async () => {
        request.result.close();
        resolve(await Promise.all(all.result.map(async ({ file }) => {
          const drawn = await createImageBitmap(file);
          const text = new TextDecoder('latin1').decode(await file.arrayBuffer());
          return { width: drawn.width, height: drawn.height, size: file.size, text };
        })));
      });
    });
  }));
}

/** @param {Page} page */
async function saveFile(page) {
  await page.locator('#share-button').click();
  const { bytes } = await saved(page, () => page.locator('#save-file').click());
  await page.keyboard.press('Escape');
  return bytes.toString('utf8');
}

/** @param {Page} page @param {string} text */
async function open(page, text) {
  await openFile(page, text);
  await page.locator('[data-place="bench"]').first().click();
  await settled(page);
  await unfold(page);
}

for (const screen of ['tablet', 'phone']) {
  test(`a photograph is put to a step, made small, and is in the log (${screen})`, () => visit(screen, async (page) => {
    await goToBench(page);
    const link = await address(page);
    await openStep(page, 'cut-2');
    await add(page, 'cut-2', await photograph(page));
    await tilesOf(page, 'cut-2').waitFor();
    await untilKept(page);
    assert.equal(await address(page), link, 'nothing of it is in the link');
    const [photo] = await kept(page);
    assert.deepEqual([photo.width, photo.height], [640, 1280], 'upright, the longer side 1280 pixels');
    assert.ok(photo.size < 200_000, `${photo.size} bytes`);
    assert.doesNotMatch(photo.text, /Exif|N 51/u, 'where it was taken is not kept');
    // Turned to the right, what was left is above.
    const above = await tilesOf(page, 'cut-2').evaluate((image) => {
      const canvas = new OffscreenCanvas(1, 1);
      const pen = /** @type {OffscreenCanvasRenderingContext2D} */ (canvas.getContext('2d'));
      pen.drawImage(/** @type {HTMLImageElement} */ (image), 0, 0, 640, 600, 0, 0, 1, 1);
      return [...pen.getImageData(0, 0, 1, 1).data];
    });
    assert.ok((above[0] ?? 0) > 150 && (above[2] ?? 0) < 50, `red stands above: ${above}`);
    await fitsTheScreen(page);
    await tilesOf(page, 'cut-2').scrollIntoViewIfNeeded();
    await picture(page, `photo-step-${screen}`);
    await page.locator('#bench-log > summary').click();
    const line = page.locator('#log-lines > li');
    assert.match(await line.innerText(), /Photograph of Ring 2: saw/u);
    await line.locator('img[src]').waitFor();
    await page.reload();
    await page.locator('#bench-steps .fold-title').first().waitFor();
    await unfold(page);
    await openStep(page, 'cut-2');
    await tilesOf(page, 'cut-2').waitFor();
    // Ticked, it stands at the tick.
    await tickOf(page, 'cut-2').check();
    await settled(page);
    await unfold(page);
    await openStep(page, 'cut-2');
    await page.locator('#bench-log > summary').click();
    assert.match(await line.innerText(), /: Ring 2: saw|[AP]M Ring 2: saw/u);
    await line.locator('.photo-tile').click();
    assert.equal(await page.locator('#photo-large').isVisible(), true);
    await fitsTheScreen(page);
    await picture(page, `photo-large-${screen}`);
    await axeClean(page);
    const { name, bytes } = await saved(page, () => page.locator('#photo-save').click());
    assert.match(name, /Ring 2.*\.jpg$/u);
    assert.equal(bytes.length, photo.size);
    await page.locator('#photo-remove').click();
    assert.equal(await page.locator('.photo-tile').count(), 0);
    await page.locator('#undo').click();
    await tilesOf(page, 'cut-2').waitFor();
  }));
}

test('a file takes the photographs along where they are wanted, to another device', async () => {
  let [withThem, without] = ['', ''];
  await visit('tablet', async (page) => {
    await goToBench(page);
    await page.locator('#share-button').click();
    assert.equal(await page.locator('#share-dialog .photos-in-file').isVisible(), false, 'there are none yet');
    await page.keyboard.press('Escape');
    await openStep(page, 'cut-2');
    for (let count = 1; count <= 2; count += 1) {
      await add(page, 'cut-2', await photograph(page, 400, 200 + count));
      await tilesOf(page, 'cut-2').nth(count - 1).waitFor();
    }
    withThem = await saveFile(page);
    await page.locator('#share-button').click();
    await page.locator('#share-dialog .photos-in-file input').uncheck();
    await page.keyboard.press('Escape');
    without = await saveFile(page);
    assert.equal(Object.keys(JSON.parse(withThem).photos).length, 2);
    assert.ok(!('photos' in JSON.parse(without)));
  });
  await visit('phone', async (page) => {
    await open(page, without);
    await openStep(page, 'cut-2');
    const tile = stepOf(page, 'cut-2').locator('.photo-tile').first();
    await tile.getByText('Not on this device').waitFor();
    await tile.click();
    await page.locator('#photo-says').getByText('not on this device').waitFor();
    assert.equal(await page.locator('#photo-save').isVisible(), false);
    await fitsTheScreen(page);
    await page.keyboard.press('Escape');
    await open(page, withThem);
    await openStep(page, 'cut-2');
    await tilesOf(page, 'cut-2').nth(1).waitFor();
    assert.equal((await kept(page)).length, 2);
    // A file that brings something else under a name that is here changes nothing, and one that is no picture is told.
    const file = JSON.parse(withThem);
    const [one, other] = Object.keys(file.photos);
    assert.ok(one && other);
    const before = await kept(page);
    [file.photos[one], file.photos[other]] = [file.photos[other], 'data:text/html;base64,PHA+'];
    await open(page, JSON.stringify(file));
    assert.deepEqual(await kept(page), before);
  });
  await visit('tablet', async (page) => {
    const file = JSON.parse(withThem);
    const names = Object.keys(file.photos);
    file.photos[names[0] ?? ''] = 'data:image/jpeg;base64,AAAA';
    file.photos[names[1] ?? ''] = 7;
    file.photos['../up'] = file.photos[names[1] ?? ''];
    await open(page, JSON.stringify(file));
    await page.getByText('Photographs in the file that could not be read were left out.').waitFor();
    assert.equal((await kept(page)).length, 0);
    await open(page, JSON.stringify({ ...file, photos: 'lost' }));
    assert.equal(await page.locator('#bench-work').isVisible(), true, 'the design opens all the same');
  });
});

test('what is no picture, one too many, and no room for it are told', () => visit('tablet', async (page) => {
  await goToBench(page);
  await openStep(page, 'cut-2');
  const problem = stepOf(page, 'cut-2').locator('.step-photos .field-message');
  await add(page, 'cut-2', Buffer.from('no picture'), 'notes.jpg');
  await problem.getByText('cannot read that file').waitFor();
  for (let count = 1; count <= 12; count += 1) {
    await add(page, 'cut-2', await photograph(page, 40, 20 + count));
    await tilesOf(page, 'cut-2').nth(count - 1).waitFor();
    assert.equal(await problem.isVisible(), false);
  }
  await add(page, 'cut-2', await photograph(page, 40, 40));
  await problem.getByText('12 photographs, as many as it takes').waitFor();
  assert.equal(await tilesOf(page, 'cut-2').count(), 12);
  // The device has no room any more: it is there, and what to do is said.
  await page.evaluate(() => {
    const { put } = IDBObjectStore.prototype;
    IDBObjectStore.prototype.put = function (...those) {
      if (this.name === 'pictures') throw new DOMException('full', 'QuotaExceededError');
      return put.apply(this, those);
    };
  });
  await openStep(page, 'cut-3');
  await add(page, 'cut-3', await photograph(page, 40, 50));
  await tilesOf(page, 'cut-3').waitFor();
  await page.getByText('goes when the page is closed').waitFor();
}));

test('pictures that nothing has any more are forgotten, a day later', () => visit(
  { ...screens.tablet, timezoneId: 'America/New_York' },
  async (page, { context }) => {
    await goToBench(page);
    await openStep(page, 'cut-2');
    for (let count = 1; count <= 2; count += 1) {
      await add(page, 'cut-2', await photograph(page, 40, 20 + count));
      await tilesOf(page, 'cut-2').nth(count - 1).waitFor();
    }
    await tilesOf(page, 'cut-2').first().click();
    await page.locator('#photo-remove').click();
    await untilKept(page);
    const reopened = async () => {
      await page.reload();
      await page.locator('#bench-steps .fold-title').first().waitFor();
      await unfold(page);
      await settled(page);
      await page.waitForTimeout(300);
      return (await kept(page)).length;
    };
    assert.equal(await reopened(), 2, 'a slip can still be mended');
    await context.clock.setFixedTime(new Date('2026-11-25T20:00:00-05:00'));
    assert.equal(await reopened(), 1);
    await openStep(page, 'cut-2');
    await tilesOf(page, 'cut-2').waitFor();
  },
  { before: (context) => context.clock.setFixedTime(new Date('2026-11-24T19:00:00-05:00')) },
));
