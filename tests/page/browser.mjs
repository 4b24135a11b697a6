// The built page on a server of its own, a browser, and screens of several kinds: what
// the tests and the figures both start from.

import { spawn } from 'node:child_process';
import { readFile, rm, stat } from 'node:fs/promises';
import { createServer } from 'node:http';
import { extname, join, normalize, sep } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath, pathToFileURL } from 'node:url';
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
 * Answers in the server's place, and says whether it did.
 * @typedef {(path: string, response: import('node:http').ServerResponse, file: Buffer) => boolean} Fault
 */

/**
 * Serves a folder on a free port of this machine.
 * @param {string} [folder]
 * @param {{ fault: Fault | null }} [faults] what goes wrong, if anything
 */
export async function startServer(folder = builtFolder, faults = { fault: null }) {
  const server = createServer(async (request, response) => {
    const file = await fileFor(folder, request.url ?? '/');
    if (file && faults.fault?.(request.url ?? '/', response, await readFile(file))) return;
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

/**
 * Starts a browser as a turner has it: a process with a profile on the disk, which can be killed.
 * @param {string} profile the folder of its profile
 */
export async function startRealBrowser(profile) {
  const portFile = join(profile, 'DevToolsActivePort');
  await rm(portFile, { force: true });
  const process_ = spawn(process.env.RINGWRIGHT_CHROMIUM ?? '/usr/bin/chromium', [
    ...browserFlags, '--headless=new', '--remote-debugging-port=0', `--user-data-dir=${profile}`, 'about:blank',
  ], { detached: true, stdio: 'ignore' });
  const ended = new Promise((resolve) => process_.once('exit', resolve));
  const browser = await chromium.connectOverCDP(await debuggerAddress(portFile));
  const [context] = browser.contexts();
  if (!context) throw new Error('the browser has no window');
  return {
    context,
    /** Ends all of it at once, as a cut of the power does. */
    kill: async () => {
      // All that it started are in its group.
      process.kill(-(process_.pid ?? 0), 'SIGKILL');
      await ended;
    },
  };
}

/** @param {string} portFile */
async function debuggerAddress(portFile) {
  for (let tries = 0; tries < 300; tries += 1) {
    const [port] = (await readFile(portFile, 'utf8').catch(() => '')).split('\n');
    if (port) return `http://127.0.0.1:${port}`;
    await pause(100);
  }
  throw new Error('the browser does not answer');
}

/** Starts a browser of one's own; most tests use the shared one through `visit`. */
export function startBrowser() {
  return chromium.launch({
    executablePath: process.env.RINGWRIGHT_CHROMIUM ?? '/usr/bin/chromium',
    args: browserFlags,
  });
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
