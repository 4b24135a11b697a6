// A name that holds markup or script stays text, wherever it goes.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { settled, untilReady, visit } from './harness.mjs';
import { address, enter, field, keptDesigns, note, openFile, saved } from './hands.mjs';

/** @typedef {import('playwright-core').Page} Page */

const names = {
  image: '<img src=x onerror="window.tripped=1">',
  script: '</script><script>window.tripped=1</script>',
  svg: '"><svg onload=window.tripped=1><!--',
  entity: '&lt;b&gt; &amp; &#x3c;i> ]]> <![CDATA[',
  braces: '{{words}} ${window.tripped=1} %3Cb%3E',
  path: '../../etc/passwd\\con:*?|',
};

/**
 * Fails when any markup or script of the name's came to life.
 * @param {Page} page
 */
async function isCalm(page) {
  assert.deepEqual(await page.evaluate(() => ({
    tripped: Reflect.get(window, 'tripped') ?? null,
    images: document.querySelectorAll('img:not(#sheets img, #sheet-large, #photo-large, .photo-tile img, .variation-picture, .trace-picture)').length,
    marks: document.querySelectorAll('b, i, svg[onload], [onerror], [onload]').length,
    scripts: document.querySelectorAll('script:not([type], [src])').length,
  })), { tripped: null, images: 0, marks: 0, scripts: 0 });
}

for (const [what, text] of Object.entries(names)) {
  test(`a name with ${what} in it stays text everywhere`, () => visit('tablet', async (page) => {
    await page.click('#designs-button');
    await field(page, 'name').fill(text);
    await page.click('#copy-design');
    assert.equal(await page.locator('#design-name').textContent(), text);
    assert.equal(await page.title(), `${text} · Ringwright`);
    await page.waitForFunction(() => document.querySelectorAll('#design-list strong').length === 2);
    assert.deepEqual(await page.locator('#design-list strong').allTextContents(), [text, text]);
    await page.locator('#design-list button', { hasText: 'Remove' }).click();
    assert.equal(await page.locator('#design-list s').textContent(), text);
    // The list has another height now, and what is below it moves.
    await settled(page);
    await page.click('#designs-dialog [data-close]');
    await page.click('#share-button');
    const file = await saved(page, () => page.click('#save-file'));
    assert.equal(JSON.parse(file.bytes.toString()).name, text);
    assert.doesNotMatch(file.name, /[/\\:*?"<>|]/);
    assert.match(file.name, /^[^.\s].*\.ringwright\.json$/);
    await page.click('#share-dialog [data-close]');
    await page.click('[data-place="paper"]');
    await page.click('#paper-more > summary');
    const svg = await saved(page, () => page.click('#save-svg'));
    assert.doesNotMatch(svg.name, /[/\\:*?"<>|]/);
    const sheet = await page.evaluate((source) => {
      const parsed = new DOMParser().parseFromString(source, 'image/svg+xml');
      return {
        error: parsed.querySelector('parsererror')?.textContent ?? null,
        strange: parsed.querySelectorAll('script, img, b, i, foreignObject, [onload], [onerror]').length,
        text: parsed.documentElement.textContent ?? '',
      };
    }, svg.bytes.toString());
    assert.equal(sheet.error, null);
    assert.equal(sheet.strange, 0);
    assert.ok(sheet.text.includes(text.slice(0, 12)), 'the sheet bears the name');
    const pdf = await saved(page, () => page.click('#save-pdf'));
    assert.doesNotMatch(pdf.name, /[/\\:*?"<>|]/);
    // What a name could bring into a PDF to make a reader act.
    assert.doesNotMatch(pdf.bytes.toString('latin1'), /\/(JavaScript|JS|Launch|OpenAction|AA)\b/);
    await isCalm(page);
    await address(page);
    await page.reload();
    await untilReady(page);
    assert.equal(await page.locator('#design-name').textContent(), text);
    await isCalm(page);
  }));
}

test('what a file brings under any name stays text', () => visit('tablet', async (page) => {
  await openFile(page, JSON.stringify({
    form: 1,
    name: names.image,
    unit: names.script,
    ring: { wood: names.image, between: names.svg, segment_count: names.image, hole_by: '__proto__' },
    __proto__x: 1,
    constructor: { prototype: names.image },
    [names.image]: names.image,
  }), `${names.image}.json`);
  const told = await note(page, 'opened');
  assert.ok(told.includes('svg onload'), told);
  await isCalm(page);
  const [open] = Object.values(await keptDesigns(page)).filter((each) => each.design.name === names.image);
  assert.equal(open.design[names.image], names.image, 'a name not known here is kept');
}));

test('a name typed with its accents apart has them on', () => visit('tablet', async (page) => {
  await page.click('#designs-button');
  await field(page, 'name').fill('Scha\u0308le fu\u0308r Zoe\u0308');
  assert.equal(await page.locator('#design-name').textContent(), 'Sch\u00e4le f\u00fcr Zo\u00eb');
}));

test('a file’s name with its accents apart has them on', () => visit('tablet', async (page) => {
  await openFile(page, JSON.stringify({ form: 1, name: 'Bru\u0308cke', unit: 'mm', ring: { segment_count: 12 } }), 'bridge.json');
  await note(page, 'opened');
  assert.equal(await page.locator('#design-name').textContent(), 'Br\u00fccke');
}));

test('text typed into a number stays text in its message', () => visit('tablet', async (page) => {
  for (const text of Object.values(names)) {
    await enter(page, 'ring.wall_mm', text);
    assert.equal(await field(page, 'ring.wall_mm').getAttribute('aria-invalid'), 'true', text);
    await isCalm(page);
  }
}));

test('a file’s name stays text where it is refused', () => visit('tablet', async (page) => {
  await openFile(page, 'nothing', '<img src=x onerror=window.tripped=1>.json');
  await page.waitForFunction(() => document.getElementById('designs-say')?.textContent?.includes('onerror'));
  await isCalm(page);
}));

test('names in every script, and a very long one, keep the page in its frame', () => visit('narrowPhone', async (page) => {
  for (const name of ['漆の輪 二番', 'طوق خشبي', 'кольцо', '🪵 ring', 'W'.repeat(200), 'a '.repeat(100)]) {
    await page.click('#designs-button');
    await field(page, 'name').fill(name);
    const [content, screen] = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
    assert.ok(content <= screen, `${name.slice(0, 9)} makes the page ${content} px wide`);
    const dialog = await page.locator('#designs-dialog').evaluate((box) => [box.scrollWidth, box.clientWidth]);
    assert.ok((dialog[0] ?? 0) <= (dialog[1] ?? 0), `${name.slice(0, 9)} makes the dialog wide`);
    await page.click('#designs-dialog [data-close]');
    await page.click('[data-place="paper"]');
    const pdf = await saved(page, () => page.click('#save-pdf'));
    assert.ok(Buffer.byteLength(pdf.name) <= 255);
    await page.click('[data-place="ring"]');
  }
}));
