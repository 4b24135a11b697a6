// A server with a copy of the page of its own, which can be made a newer version, and can answer wrongly.

import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { builtFolder, startServer } from './browser.mjs';

/** @typedef {import('./browser.mjs').Fault} Fault */

/**
 * A server with a copy of the page of its own, which can be made a newer version, and can answer wrongly.
 * @typedef {object} OwnServer
 * @property {string} origin
 * @property {string} folder
 * @property {(mark: string, spoil?: (path: string, text: string) => string) => Promise<void>} publish
 *   every script of the new version ends with its mark; what `spoil` makes of one is part of that version
 * @property {{ fault: Fault | null }} faults
 * @property {RegExp[]} expected
 */

/** @param {(own: OwnServer) => Promise<void>} work */
export async function withOwnServer(work) {
  const folder = await mkdtemp(join(tmpdir(), 'ringwright-page-'));
  await cp(builtFolder, folder, { recursive: true });
  /** @type {{ fault: Fault | null }} */
  const faults = { fault: null };
  const server = await startServer(folder, faults);
  const expected = [new RegExp(`^asked another place: ${server.origin}`)];
  const publish = (/** @type {string} */ mark, /** @type {(path: string, text: string) => string} */ spoil = (_, text) => text) => (
    publishIn(folder, mark, spoil));
  try {
    await work({ origin: server.origin, folder, publish, faults, expected });
  } finally {
    await server.stop();
    await rm(folder, { recursive: true });
  }
}

/**
 * @param {string} folder
 * @param {string} mark
 * @param {(path: string, text: string) => string} spoil
 */
async function publishIn(folder, mark, spoil) {
  const worker = join(folder, 'sw.js');
  const text = await readFile(worker, 'utf8');
  const list = /JSON\.parse\('(.*)'\)/.exec(text)?.[1] ?? '';
  const files = [];
  for (const [address] of JSON.parse(list)) {
    const path = join(folder, address === './' ? 'index.html' : address);
    let bytes = await readFile(path);
    if (/\.(js|html)$/.test(path)) {
      const bare = bytes.toString().replace(/\n\/\/ version .*$/, '').replace(/ data-version="[^"]*"/, '');
      const marked = path.endsWith('html') ? bare.replace('<html ', `<html data-version="${mark}" `) : `${bare}\n// version ${mark}`;
      bytes = Buffer.from(spoil(address, marked));
      await writeFile(path, bytes);
    }
    files.push([address, `sha256-${createHash('sha256').update(bytes).digest('base64')}`]);
  }
  const newer = text.replace(list, JSON.stringify(files)).replace(/(VERSION = ')(?:[a-z\d]+-)?/, `$1${mark}-`);
  assert.notEqual(newer, text);
  await writeFile(worker, newer);
}
