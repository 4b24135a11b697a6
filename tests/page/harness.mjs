// What every test of the page starts from: a server for the built page, a browser,
// screens of several kinds, and a watch over everything the page complains about.
//
//   test('opens', () => visit('tablet', async (page) => { … }));
//
// A visit fails by itself when the page logs a warning or an error, throws, or asks
// another machine for anything.

import assert from 'node:assert/strict';
import { mkdir, readFile, stat } from 'node:fs/promises';
import { createServer } from 'node:http';
import { extname, join, normalize, sep } from 'node:path';
import { after } from 'node:test';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { AxeBuilder } from '@axe-core/playwright';
import { chromium } from 'playwright-core';

/** @typedef {import('playwright-core').Page} Page */
/** @typedef {import('playwright-core').BrowserContext} Context */
/** @typedef {import('playwright-core').Browser} Browser */
/** @typedef {import('playwright-core').BrowserContextOptions} Screen */

export const projectRoot = fileURLToPath(new URL('../../', import.meta.url));

/** The folder that `cargo site` built. */
export const builtFolder = process.env.RINGWRIGHT_DIST ?? join(projectRoot, 'dist');

/** The page as one file, opened from disk. */
export const singleFileAddress = pathToFileURL(join(builtFolder, 'ringwright.html')).href;

/** The screens that the page must work on. @type {Record<string, Screen>} */
export const screens = {
  tablet: { viewport: { width: 1024, height: 768 }, hasTouch: true },
  uprightTablet: { viewport: { width: 768, height: 1024 }, hasTouch: true },
  phone: { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true },
  narrowPhone: { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true },
  desktop: { viewport: { width: 1366, height: 900 } },
};

const mediaTypes = new Map(Object.entries({
  '.html': 'text/html; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.json': 'application/json',
  '.webmanifest': 'application/manifest+json',
  '.wasm': 'application/wasm',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
}));

const browserFlags = [
  '--no-sandbox',
  '--disable-dev-shm-usage',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--ignore-gpu-blocklist',
];

/**
 * Serves a folder on a free port of this machine.
 * @param {string} [folder]
 */
export async function startServer(folder = builtFolder) {
  const server = createServer(async (request, response) => {
    const file = await fileFor(folder, request.url ?? '/');
    if (!file) {
      response.writeHead(404).end('not found\n');
      return;
    }
    const type = mediaTypes.get(extname(file)) ?? 'application/octet-stream';
    response.writeHead(200, { 'content-type': type, 'cache-control': 'no-cache' });
    response.end(await readFile(file));
  });
  await new Promise((resolve) => server.listen(0, '127.0.0.1', () => resolve(undefined)));
  const address = /** @type {import('node:net').AddressInfo} */ (server.address());
  return {
    origin: `http://127.0.0.1:${address.port}`,
    stop: () => {
      server.closeAllConnections();
      return new Promise((resolve) => server.close(resolve));
    },
  };
}

/**
 * @param {string} folder
 * @param {string} address
 */
async function fileFor(folder, address) {
  const { pathname } = new URL(address, 'http://127.0.0.1');
  const wanted = pathname.endsWith('/') ? `${pathname}index.html` : pathname;
  const file = normalize(join(folder, decodeURIComponent(wanted)));
  if (!file.startsWith(normalize(folder + sep))) {
    return undefined;
  }
  const found = await stat(file).catch(() => undefined);
  return found?.isFile() ? file : undefined;
}

/** Starts a browser of one's own; most tests use the shared one through `visit`. */
export function startBrowser() {
  return chromium.launch({
    executablePath: process.env.RINGWRIGHT_CHROMIUM ?? '/usr/bin/chromium',
    args: browserFlags,
  });
}

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
 * Waits until the page says that it can be used.
 * @param {Page} page
 * @param {string[]} [complaints] shown when it never does
 */
export async function untilReady(page, complaints = []) {
  await page.waitForSelector('html[data-ready="yes"]', { timeout: 20_000 }).catch((error) => {
    throw new Error(`the page was never ready:\n${complaints.join('\n') || error.message}`);
  });
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
