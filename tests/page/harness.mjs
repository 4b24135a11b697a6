// What every test of the page starts from: a visit, which opens the page on a screen
// and watches over everything that it complains about.
//
//   test('opens', () => visit('tablet', async (page) => { … }));
//
// A visit fails by itself when the page logs a warning or an error, throws, or asks
// another machine for anything.

import assert from 'node:assert/strict';
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { after } from 'node:test';
import { AxeBuilder } from '@axe-core/playwright';
import { projectRoot, screens, startBrowser, startServer, untilReady } from './browser.mjs';

export {
  builtFolder, projectRoot, screens, singleFileAddress, startBrowser, startServer, untilReady,
} from './browser.mjs';

/** @typedef {import('playwright-core').Page} Page */
/** @typedef {import('playwright-core').BrowserContext} Context */
/** @typedef {import('playwright-core').Browser} Browser */
/** @typedef {import('playwright-core').BrowserContextOptions} Screen */

/** @type {Promise<{ browser: Browser, server: Awaited<ReturnType<typeof startServer>> }> | undefined} */
let shared;

/** The browser and the server that all tests of one file share. */
export function workshop() {
  shared ??= (async () => ({ browser: await startBrowser(), server: await startServer() }))();
  return shared;
}

after(async () => {
  const { browser, server } = (await shared) ?? {};
  await browser?.close();
  await server?.stop();
});

/**
 * Notes all that a page should not do.
 * @param {Context} context
 * @param {string} origin
 */
export function watch(context, origin) {
  /** @type {string[]} */
  const complaints = [];
  context.on('console', (message) => {
    if (message.type() === 'warning' || message.type() === 'error') {
      complaints.push(`console ${message.type()}: ${message.text()} (${message.location().url})`);
    }
  });
  context.on('weberror', (error) => complaints.push(`uncaught: ${error.error().stack}`));
  context.on('request', (request) => {
    const address = request.url();
    if (!address.startsWith(`${origin}/`) && !/^(data|blob|file|about):/.test(address)) {
      complaints.push(`asked another place: ${address}`);
    }
  });
  return complaints;
}

/** @typedef {{ context: Context, origin: string, complaints: string[] }} Visit */

/**
 * Opens the page on a screen, waits until it can be used, does the work, and fails
 * if the page complained meanwhile.
 * @param {string | Screen} screen one of `screens`, or options of one's own
 * @param {(page: Page, visit: Visit) => Promise<void>} work
 * @param {{ address?: string, before?: (context: Context) => Promise<unknown>,
 *   expected?: RegExp[] }} [options]
 *   `address` below the page's own or a full one; `before` runs before the page opens;
 *   complaints that match one of `expected` are let through
 */
export async function visit(screen, work, options = {}) {
  const { browser, server } = await workshop();
  const kind = typeof screen === 'string' ? screens[screen] : screen;
  assert.ok(kind, `there is no screen called ${screen}`);
  const context = await browser.newContext({ locale: 'en-US', ...kind });
  const complaints = watch(context, server.origin);
  try {
    await options.before?.(context);
    const page = await context.newPage();
    await page.goto(new URL(options.address ?? '/', `${server.origin}/`).href);
    await untilReady(page, complaints);
    await work(page, { context, origin: server.origin, complaints });
    await settled(page);
    const unexpected = complaints.filter(
      (complaint) => !options.expected?.some((pattern) => pattern.test(complaint)),
    );
    assert.deepEqual(unexpected, [], 'the page complained');
  } finally {
    await context.close();
  }
}

/**
 * Waits for two painted frames, so that what the last step set off has happened.
 * @param {Page} page
 */
export async function settled(page) {
  if (!page.isClosed()) {
    await page.evaluate(() => new Promise((resolve) => {
      requestAnimationFrame(() => requestAnimationFrame(resolve));
    }));
  }
}

/**
 * Fails with a readable list when the page breaks a rule of WCAG 2.2 A or AA.
 * @param {Page} page
 */
export async function axeClean(page) {
  // Scrolled, the frame covers half a line, whose rest would count as a small target.
  await page.evaluate(() => {
    scrollTo(0, 0);
    for (const box of document.querySelectorAll('.panel, .beside-drawing')) box.scrollTop = 0;
  });
  // What fades in has its own colors only then.
  await page.evaluate(() => Promise.allSettled(document.getAnimations().map((each) => each.finished)));
  const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
  const { violations } = await new AxeBuilder({ page }).withTags(tags).analyze();
  const list = violations.flatMap((rule) => rule.nodes.map(
    (node) => `${rule.id}: ${rule.help}: ${node.html.slice(0, 160)} ${node.any[0]?.message ?? ''}`,
  ));
  assert.deepEqual(list, [], 'the page breaks rules of accessibility');
}

/**
 * Fails when the page is wider than its screen.
 * @param {Page} page
 */
export async function fitsTheScreen(page) {
  const [content, screen] = await page.evaluate(
    () => [document.documentElement.scrollWidth, document.documentElement.clientWidth],
  );
  assert.ok(content <= screen, `the page is ${content} px wide on a screen of ${screen} px`);
}

/**
 * Keeps a picture of the page for a person to look at.
 * @param {Page} page
 * @param {string} name
 */
export async function picture(page, name) {
  const folder = join(projectRoot, 'target', 'screenshots');
  await mkdir(folder, { recursive: true });
  await page.screenshot({ path: join(folder, `${name}.png`) });
}
