// What a turner's hands and eyes do on the page, in words: enter, read, open, tap.

import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { isDeepStrictEqual } from 'node:util';
import { inflateSync } from 'node:zlib';
import { settled } from './harness.mjs';

/** @typedef {import('playwright-core').Page} Page */

/**
 * The entry field with this key; of one on a drawing and one in the list, that in the list.
 * @param {Page} page
 * @param {string} key
 */
export function field(page, key) {
  return page.locator(`:is(input, select)[data-key="${key}"]`).last();
}

/**
 * Types into a field, in place of what is there, and leaves it.
 * @param {Page} page
 * @param {string} key
 * @param {string} text
 */
export async function enter(page, key, text) {
  await field(page, key).fill(text);
  await field(page, key).press('Enter');
  // Within a row Enter goes on to the next field.
  await page.evaluate(() => document.activeElement instanceof HTMLElement && document.activeElement.blur());
}

/**
 * What a field holds.
 * @param {Page} page
 * @param {string} key
 */
export function entered(page, key) {
  return field(page, key).inputValue();
}

/**
 * Opens a fold.
 * @param {Page} page
 * @param {string} id
 */
export async function openFold(page, id) {
  await page.click(`#${id} > summary`);
}

/**
 * Opens every chapter at the bench, and all steps alike.
 * @param {Page} page
 */
export async function unfold(page) {
  const closed = page.locator('#bench-steps .fold-title[aria-expanded="false"]:visible');
  while (await closed.count() > 0) await closed.first().click();
}

/**
 * Does what the panel offers.
 * @param {Page} page
 * @param {string} kind the change's name
 */
export async function act(page, kind) {
  const button = page.locator(`#panel-acts [data-act="${kind}"]`).first();
  // A tap becomes a click in the browser's own time, on a busy machine frames later.
  const clicked = button.evaluate((own) => new Promise((resolve, reject) => {
    own.addEventListener('click', () => resolve(null), { once: true });
    setTimeout(() => reject(new Error('the tap came to nothing')), 20_000);
  }));
  await button.tap();
  await clicked;
  await settled(page);
}

/**
 * Taps a way in, and waits until its piece is drawn: what shows it may have to be loaded.
 * @param {Page} page
 * @param {string} way
 */
export async function beginWith(page, way) {
  await page.locator(`[data-way="${way}"]:visible`).first().tap();
  await page.locator('#unrolled [data-name^="cell-"]').first().waitFor({ state: 'attached' });
  await settled(page);
}

/**
 * A finger's tap on a ring in the cut half, once it stands still: a drawing that has just
 * come makes way for its fields. Its panel is open then.
 * @param {Page} page
 * @param {number} ring
 */
export async function touchRing(page, ring) {
  const at = page.locator('#section-things').getByLabel(new RegExp(`^Ring ${ring},`));
  const place = async () => {
    await settled(page);
    await at.evaluate((thing) => thing.scrollIntoView({ block: 'center' }));
    return at.boundingBox();
  };
  let box = await place();
  for (let next = await place(); !isDeepStrictEqual(next, box); next = await place()) box = next;
  assert.ok(box);
  await page.touchscreen.tap(box.x + box.width / 2, box.y + box.height / 2);
  await page.locator('#panel-title', { hasText: new RegExp(`^Ring ${ring}\\b`) }).waitFor();
}

/**
 * Chooses what lengths are shown in.
 * @param {Page} page
 * @param {string} unit
 */
export async function chooseUnit(page, unit) {
  await page.click('#unit-button');
  await page.click(`#unit-choices [value="${unit}"]`);
}

/**
 * A figure as the eyes read it: its number as set, what it leaves over, its unit.
 * @param {Page} page
 * @param {string} key
 */
export async function read(page, key) {
  return page.locator(`.row[data-key="${key}"]`).evaluate((row) => {
    const text = (/** @type {string} */ part) => row.querySelector(part)?.textContent ?? '';
    const number = (/** @type {string} */ digits) => Number(digits.replace('−', '-').replace('°', ''));
    const [above, below] = [text('.fraction sup'), text('.fraction sub')];
    const whole = text('.number').replace(text('.fraction'), '');
    const shown = number(whole || '0') + (above ? Number(above) / Number(below) : 0);
    return {
      shown,
      true: shown + number(text('.remainder') || '0'),
      unit: text('.unit'),
      spoken: text('.hidden-words'),
      note: text('.note'),
      words: text('.words'),
    };
  });
}

/**
 * Fails unless a table can be scrolled sideways to its last column within its box, its
 * first column staying where it was, over the figures, and leaving them most of the room.
 * @param {Page} page
 * @param {import('playwright-core').Locator} box
 */
export async function staysInSight(page, box) {
  const places = () => box.evaluate((element) => {
    const row = element.querySelector('tbody tr');
    const [first, last] = [row?.firstElementChild, row?.lastElementChild].map((cell) => {
      const at = cell?.getBoundingClientRect();
      return { left: at?.left ?? 0, right: at?.right ?? 0, width: at?.width ?? 0 };
    });
    const at = element.getBoundingClientRect();
    const under = row?.firstElementChild?.getBoundingClientRect();
    const seen = under ? document.elementFromPoint(under.left + 4, under.top + under.height / 2) : null;
    return { first, last, box: { left: at.left, right: at.right, width: at.width },
      isOnTop: Boolean(seen && row?.firstElementChild?.contains(seen)) };
  });
  await box.scrollIntoViewIfNeeded();
  const before = await places();
  assert.ok(before.last.right > before.box.right + 1, 'the table is no wider than its box');
  assert.ok(before.first.width < before.box.width / 2, `the first column is ${before.first.width} px of ${before.box.width}`);
  await box.evaluate((element) => { element.scrollLeft = element.scrollWidth; });
  const after = await places();
  assert.ok(after.last.right <= after.box.right + 1, 'the last column is not reached');
  near(after.first.left, before.first.left, 1.5);
  assert.ok(after.isOnTop, 'figures stand over the first column');
  assert.equal(await page.evaluate(() => scrollX), 0);
}

/**
 * Fails unless two numbers agree.
 * @param {number} found
 * @param {number} expected
 * @param {number} [within]
 */
export function near(found, expected, within = 0.0006) {
  assert.ok(Math.abs(found - expected) <= within, `${found} is not ${expected}`);
}

/**
 * Fails unless a field tells what is wrong with it, in all the ways that it must.
 * @param {Page} page
 * @param {string} key
 * @param {RegExp} pattern
 */
export async function tells(page, key, pattern) {
  // What is half typed is not judged yet.
  await field(page, key).and(page.locator('[aria-invalid="true"]')).waitFor();
  const { isInvalid, described, inBox } = await field(page, key).evaluate((control) => ({
    isInvalid: control.getAttribute('aria-invalid'),
    described: document.getElementById(control.getAttribute('aria-describedby') ?? '')?.textContent ?? '',
    inBox: control.closest('[data-field-box]')?.querySelector('.field-message')?.textContent ?? '',
  }));
  assert.equal(isInvalid, 'true', `${key} is not marked`);
  assert.match(described, pattern);
  assert.equal(described, inBox, 'the message does not stand at its field');
}

/**
 * Fails when a field still complains.
 * @param {Page} page
 * @param {string} key
 */
export async function isContent(page, key) {
  assert.equal(await field(page, key).getAttribute('aria-invalid'), null, `${key} complains`);
}

/**
 * The text of the note of this name, or of what is said at the top, once it is there.
 * @param {Page} page
 * @param {string} name
 */
export async function note(page, name) {
  const found = page.locator(`.notice[data-name="${name}"] p, .step-says[data-name="${name}"]:not(:empty)`);
  await found.waitFor();
  return found.innerText();
}

/**
 * Taps keys of the page's own keypad, by the words on them.
 * @param {Page} page
 * @param {...string} keys
 */
export async function tapKeys(page, ...keys) {
  for (const key of keys) {
    await page.locator('#keypad button', { hasText: new RegExp(`^${key.replace(/[./]/g, '\\$&')}$`) }).tap();
  }
  // What the keypad leaves free moves a moment after it goes.
  if (keys.at(-1) === 'Done') {
    await page.locator('#keypad').waitFor({ state: 'hidden' });
    await settled(page);
  }
}

/**
 * Everything that the page keeps on the device: texts by their keys.
 * @param {Page} page
 * @returns {Promise<Record<string, string>>}
 */
export function keptTexts(page) {
  return page.evaluate(() => new Promise((resolve, reject) => {
    const request = indexedDB.open('ringwright');
    // Only looking must not make one.
    request.onupgradeneeded = () => request.transaction?.abort();
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      const database = request.result;
      const store = database.transaction('entries').objectStore('entries');
      const [keys, values] = [store.getAllKeys(), store.getAll()];
      store.transaction.oncomplete = () => {
        database.close();
        resolve(Object.fromEntries(keys.result.map((key, at) => [String(key), values.result[at]])));
      };
    };
  }));
}

/**
 * Puts texts where the page keeps its own, `null` for one that is to go.
 * @param {Page} page
 * @param {Record<string, string | null>} texts
 */
export function putTexts(page, texts) {
  return page.evaluate((changes) => new Promise((resolve, reject) => {
    const request = indexedDB.open('ringwright', 1);
    request.onupgradeneeded = () => request.result.createObjectStore('entries');
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      const database = request.result;
      const transaction = database.transaction('entries', 'readwrite');
      const store = transaction.objectStore('entries');
      for (const [key, text] of Object.entries(changes)) {
        if (text === null) store.delete(key);
        else store.put(text, key);
      }
      transaction.oncomplete = () => {
        database.close();
        resolve(undefined);
      };
    };
  }), texts);
}

/**
 * The records of the designs that the page kept on the device, by identity.
 * @param {Page} page
 */
export async function keptDesigns(page) {
  const texts = Object.entries(await keptTexts(page)).filter(([key]) => key.startsWith('design/'));
  return Object.fromEntries(texts.map(([key, text]) => [key.slice('design/'.length), JSON.parse(text)]));
}

/**
 * Waits until the page says that the last change is kept.
 * @param {Page} page
 */
export function untilKept(page) {
  return page.waitForSelector('#kept-state[data-state="kept"]');
}

/**
 * Tells the page that it is being put away, so that it writes at once what it would
 * have written a moment later, and waits for it.
 * @param {Page} page
 */
export async function putAway(page) {
  await page.evaluate(() => {
    dispatchEvent(new Event('pagehide'));
  });
  await page.waitForFunction(() => document.getElementById('kept-state')?.dataset.state !== 'keeping');
}

/**
 * The part of the address from # on, with the open design in it.
 * @param {Page} page
 */
export async function address(page) {
  await putAway(page);
  return page.evaluate(() => location.hash);
}

/**
 * Waits until the page has by itself brought this into the address bar.
 * @param {Page} page
 * @param {string} hash
 */
export function untilAddressIs(page, hash) {
  return page.waitForFunction((expected) => location.hash === expected, hash);
}

/**
 * Does something that saves a file, and returns its name and bytes.
 * @param {Page} page
 * @param {() => Promise<unknown>} act
 */
export async function saved(page, act) {
  const [download] = await Promise.all([page.waitForEvent('download'), act()]);
  /** @type {Buffer[]} */
  const parts = [];
  for await (const part of await download.createReadStream()) parts.push(part);
  return { name: download.suggestedFilename(), bytes: Buffer.concat(parts) };
}

/**
 * Opens a file in the list of designs.
 * @param {Page} page
 * @param {string} text
 * @param {string} [name]
 */
export async function openFile(page, text, name = 'some.ringwright.json') {
  await page.click('#designs-button');
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.click('#open-file')]);
  await chooser.setFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });
}

/**
 * What another reader reads of a PDF.
 * @param {Buffer} bytes
 */
export function readText(bytes) {
  return execFileSync('pdftotext', ['-', '-'], { input: bytes, maxBuffer: 1 << 26 }).toString();
}

/**
 * A PDF's text, with the objects behind it that are packed in it.
 * @param {Buffer} bytes
 */
export function unpacked(bytes) {
  const text = bytes.toString('latin1');
  const pack = /\/Type\/ObjStm[^>]*\/Length (\d+)>>\nstream\n/.exec(text);
  const from = (pack?.index ?? 0) + (pack?.[0].length ?? 0);
  return text + inflateSync(bytes.subarray(from, from + Number(pack?.[1]))).toString('latin1');
}

/**
 * Begins a vessel and goes to the bench.
 * @param {Page} page
 * @param {string} [shape]
 */
export async function goToBench(page, shape = 'bowl') {
  await page.click('[data-place=vessel]');
  await page.click(`#starts [data-way=${shape}]`);
  await page.click('[data-place=bench]');
  await unfold(page);
}

/** @param {Page} page @param {string} id */
export function stepOf(page, id) {
  return page.locator(`[data-step="${id}"]`);
}

/** @param {Page} page @param {string} id */
export function tickOf(page, id) {
  return stepOf(page, id).locator('input[type=checkbox]');
}
