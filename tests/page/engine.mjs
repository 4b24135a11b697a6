// Other browsers than Chromium, driven as the W3C's WebDriver says: start a driver, open a window, run a
// script in it, tap, drag, and end or kill it.

import { spawn } from 'node:child_process';
import { createServer } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';

/**
 * @typedef {object} Engine
 * @property {string} name
 * @property {(port: number) => [string, ...string[]]} driver
 * @property {(profile: string) => object} capabilities
 */

/** @type {Record<string, Engine>} */
export const engines = {
  Firefox: {
    name: 'Firefox',
    driver: (port) => [process.env.RINGWRIGHT_GECKODRIVER ?? 'geckodriver', '--port', String(port), '--log', 'fatal'],
    capabilities: (profile) => ({
      'moz:firefoxOptions': {
        binary: process.env.RINGWRIGHT_FIREFOX ?? '/usr/bin/firefox-esr',
        args: ['-headless', ...(profile ? ['-profile', profile] : [])],
      },
    }),
  },
  WebKit: {
    name: 'WebKit',
    // It has no mode without a screen of its own.
    driver: (port) => ['xvfb-run', '-a', 'WebKitWebDriver', `--port=${port}`],
    capabilities: () => ({
      'webkitgtk:browserOptions': {
        binary: process.env.RINGWRIGHT_WEBKIT ?? '/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser',
        args: ['--automation'],
      },
    }),
  },
};

/** What WebDriver calls an element's reference. */
const ELEMENT = 'element-6066-11e4-a52e-4f735466cecf';

/** @returns {Promise<number>} */
function freePort() {
  return new Promise((resolve) => {
    const server = createServer();
    server.listen(0, '127.0.0.1', () => {
      const { port } = /** @type {import('node:net').AddressInfo} */ (server.address());
      server.close(() => resolve(port));
    });
  });
}

/**
 * Starts an engine with one window.
 * @param {Engine} engine
 * @param {string} [profile] folder of a profile that outlives it, where the engine takes one
 */
export async function startEngine(engine, profile = '') {
  const port = await freePort();
  const [program, ...words] = engine.driver(port);
  // Detached, so that it leads a group of its own, which ends as a whole.
  const driver = spawn(program, words, { detached: true, stdio: 'ignore' });
  const failed = new Promise((_, reject) => driver.once('error', reject));
  const ended = new Promise((resolve) => driver.once('exit', resolve));
  /** @param {string} method @param {string} path @param {object} [body] */
  const ask = async (method, path, body) => {
    const answer = await fetch(`http://127.0.0.1:${port}${path}`, {
      method, body: body && JSON.stringify(body), headers: body && { 'content-type': 'application/json' },
    });
    const { value } = await answer.json();
    if (!answer.ok) throw new Error(`${engine.name}: ${value.error}: ${value.message}`);
    return value;
  };
  const endDriver = async () => {
    // Without a number it was never there, and 0 would be this very process.
    if (driver.pid === undefined) return;
    try {
      process.kill(-driver.pid, 'SIGKILL');
    } catch {
      // It has ended by itself.
    }
    await ended;
  };
  try {
    await Promise.race([failed, untilAnswers(() => ask('GET', '/status'))]);
    const { sessionId, capabilities } = await ask('POST', '/session', {
      capabilities: { alwaysMatch: engine.capabilities(profile) },
    });
    const session = `/session/${sessionId}`;
    return {
      ...hands((method, path, body) => ask(method, session + path, body)),
      version: `${capabilities.browserName} ${capabilities.browserVersion}`,
      stop: async () => {
        await ask('DELETE', session).catch(() => undefined);
        await endDriver();
      },
      /** Ends the browser at once, as a cut of the power does. */
      kill: async () => {
        process.kill(capabilities['moz:processID'], 'SIGKILL');
        await endDriver();
      },
    };
  } catch (error) {
    await endDriver();
    throw error;
  }
}

/** @typedef {Awaited<ReturnType<typeof startEngine>>} Window */

/** @param {() => Promise<unknown>} ask */
async function untilAnswers(ask) {
  for (let tries = 0; tries < 300; tries += 1) {
    try {
      return await ask();
    } catch {
      await pause(100);
    }
  }
  throw new Error('the driver does not answer');
}

/** @param {(method: string, path: string, body?: object) => Promise<any>} ask */
function hands(ask) {
  /**
   * Runs a function in the page, and waits for what it promises.
   * @template T
   * @template {unknown[]} A
   * @param {(...given: A) => T | Promise<T>} work
   * @param {A} given
   * @returns {Promise<T>}
   */
  const run = async (work, ...given) => {
    const script = `const done = arguments[arguments.length - 1];
      Promise.resolve().then(() => (${work})(...Array.prototype.slice.call(arguments, 0, -1)))
        .then((value) => done({ value }), (error) => done({ error: String(error) }));`;
    const { value, error } = await ask('POST', '/execute/async', { script, args: given });
    if (error) throw new Error(`in the page: ${error}`);
    return value;
  };
  /** @param {string} selector */
  const find = async (selector) => (await ask('POST', '/element', { using: 'css selector', value: selector }))[ELEMENT];
  /** @param {object[]} actions */
  const point = (actions) => ask('POST', '/actions', {
    actions: [{ type: 'pointer', id: 'hand', parameters: { pointerType: 'mouse' }, actions }],
  });
  /**
   * Waits until something holds in the page.
   * @template {unknown[]} A
   * @param {string} what
   * @param {(...given: A) => unknown} holds
   * @param {A} given
   */
  const until = async (what, holds, ...given) => {
    const end = Date.now() + 20_000;
    for (;;) {
      // While a page goes and another comes there is none to ask.
      if (await run(holds, ...given).catch(() => false)) return;
      if (Date.now() > end) throw new Error(`it never came that ${what}`);
      await pause(50);
    }
  };
  return {
    run,
    until,
    /** By the page itself: a driver's own goes past the worker in some engines. */
    reload: async () => {
      await run(() => {
        Reflect.set(self, 'isOld', true);
        setTimeout(() => location.reload());
      });
      await until('the page is loaded again', () => !Reflect.has(self, 'isOld'));
    },
    /** @param {string} address */
    open: (address) => ask('POST', '/url', { url: address }),
    /** @param {string} selector */
    tap: async (selector) => ask('POST', `/element/${await find(selector)}/click`, {}),
    /** Pulls the middle of an element by so many CSS pixels. @param {string} selector @param {number} x @param {number} y */
    drag: async (selector, x, y) => {
      const origin = { [ELEMENT]: await find(selector) };
      const move = (/** @type {object} */ to) => ({ type: 'pointerMove', duration: 60, ...to });
      await point([
        move({ origin, x: 0, y: 0 }), { type: 'pointerDown', button: 0 },
        move({ origin: 'pointer', x: Math.round(x / 2), y: Math.round(y / 2) }),
        move({ origin: 'pointer', x: Math.round(x / 2), y: Math.round(y / 2) }),
        { type: 'pointerUp', button: 0 },
      ]);
    },
  };
}
