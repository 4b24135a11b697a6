/** Files, the clipboard and links: what leaves the page and what comes in. */

import { notice } from './notices.js';
import { say } from './say.js';
import { word } from './words.js';

export const FILE_BYTES_MOST = 4 * 1024 * 1024;
/** With its photographs. */
export const PHOTO_FILE_BYTES_MOST = 64 * 1024 * 1024;
/** File systems allow 255 bytes; this leaves room for an ending and for " (1)". */
const NAME_BYTES_MOST = 120;
/** Some browsers read the address only after a question to the user. */
const REVOKE_AFTER_MILLISECONDS = 60_000;
const FALLBACK_NAME = 'ringwright';

/**
 * A name for a file that every common file system takes, in whatever script the title is written.
 * @param {string} title
 * @param {string} ending with or without its dot
 * @returns {string}
 */
export function safeFileName(title, ending) {
  const plain = title
    .normalize('NFC')
    .replace(/[\s\p{Zs}]+/gu, ' ')
    // Control characters, halves of pairs, and the marks that turn the writing direction around unseen.
    .replace(/[\p{Cc}\p{Cs}\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff]/gu, '')
    // Titles hold inches.
    .replaceAll('"', '″')
    .replace(/[/\\:*?<>|]+/gu, '-');
  const name = trimmed(shortened(trimmed(plain))) || FALLBACK_NAME;
  return `${isReserved(name) ? `${name}-` : name}.${ending.replace(/^\.+/u, '')}`;
}

/** Leading dots hide a file, trailing dots and blanks are refused by Windows. @param {string} name */
function trimmed(name) {
  return name.replace(/^[\s.-]+|[\s.-]+$/gu, '');
}

/** @param {string} name */
function shortened(name) {
  const encoder = new TextEncoder();
  let kept = '';
  let bytes = 0;
  for (const character of name) {
    bytes += encoder.encode(character).length;
    if (bytes > NAME_BYTES_MOST) {
      break;
    }
    kept += character;
  }
  return kept;
}

/** Names of devices on Windows, with any ending. @param {string} name */
function isReserved(name) {
  return /^(?:con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])(?:\.|$)/iu.test(name);
}

/**
 * Hands a file to the user. In an installed app a file that opens in place leaves no way back (iPad), so
 * there it goes through the system's own sheet where it is offered. Call it straight from a tap.
 * @param {string} name
 * @param {string} mediaType
 * @param {string | Uint8Array} content
 * @returns {Promise<'shared' | 'downloaded' | 'cancelled' | 'failed'>}
 */
export async function saveFile(name, mediaType, content) {
  const part = typeof content === 'string' ? content : new Uint8Array(content);
  const file = new File([part], name, { type: mediaType });
  if (isInstalledApp() && canShare({ files: [file] })) {
    const outcome = await share({ files: [file] });
    if (outcome !== 'failed') {
      return outcome;
    }
  }
  return download(file);
}

/**
 * Hands a file to the user, and says under which name, or that it could not be.
 * @param {string} about the name of the note
 * @param {string} name
 * @param {string} mediaType
 * @param {string | Uint8Array} content
 */
export async function saveAndSay(about, name, mediaType, content) {
  const outcome = await saveFile(name, mediaType, content);
  if (outcome === 'failed') notice(about, word('file.failed'));
  else if (outcome !== 'cancelled') say(`${word('file.saved')} ${name}`, about);
}

function isInstalledApp() {
  // `standalone` is how iOS said it before it knew the media query.
  const appleStandalone = 'standalone' in navigator && navigator.standalone === true;
  return appleStandalone || globalThis.matchMedia('(display-mode: standalone)').matches;
}

/** @param {ShareData} data */
function canShare(data) {
  return typeof navigator.share === 'function' && typeof navigator.canShare === 'function' && navigator.canShare(data);
}

/** @param {ShareData} data @returns {Promise<'shared' | 'cancelled' | 'failed'>} */
async function share(data) {
  try {
    await navigator.share(data);
    return 'shared';
  } catch (error) {
    return error instanceof Error && error.name === 'AbortError' ? 'cancelled' : 'failed';
  }
}

/** @param {File} file @returns {'downloaded' | 'failed'} */
function download(file) {
  try {
    const address = URL.createObjectURL(file);
    const link = document.createElement('a');
    link.href = address;
    link.download = file.name;
    link.hidden = true;
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(address), REVOKE_AFTER_MILLISECONDS);
    return 'downloaded';
  } catch {
    return 'failed';
  }
}

/**
 * A file's text, or why there is none.
 * @typedef {{ name: string, text: string, why: null }
 *   | { name: string, text: null, why: 'too large' | 'unreadable' }} PickedFile
 */

/**
 * Lets the user choose a text file. Call it straight from a tap.
 * @param {string} accept media types and endings, as in `<input accept>`
 * @param {number} [bytesMost] how large it may be
 * @returns {Promise<PickedFile | null>} `null` if none was chosen
 */
export async function pickFile(accept, bytesMost = FILE_BYTES_MOST) {
  const file = await pickAny(accept);
  return file ? readTextFile(file, bytesMost) : null;
}

/**
 * Lets the user choose any file. Call it straight from a tap.
 * @param {string} accept
 * @returns {Promise<File | null>}
 */
export function pickAny(accept) {
  const input = document.createElement('input');
  input.type = 'file';
  input.accept = accept;
  input.hidden = true;
  // Safari drops the choice of an input that stands nowhere in the page.
  document.body.append(input);
  return new Promise((resolve) => {
    /** @param {File | undefined} file */
    const finish = (file) => {
      input.remove();
      resolve(file ?? null);
    };
    input.addEventListener('change', () => finish(input.files?.[0]));
    input.addEventListener('cancel', () => finish(undefined));
    input.click();
  });
}

/**
 * The text of a chosen file.
 * @param {File} file
 * @param {number} bytesMost
 * @returns {Promise<PickedFile>}
 */
async function readTextFile(file, bytesMost) {
  if (file.size > bytesMost) {
    return { name: file.name, text: null, why: 'too large' };
  }
  try {
    return { name: file.name, text: (await file.text()).normalize('NFC'), why: null };
  } catch {
    return { name: file.name, text: null, why: 'unreadable' };
  }
}

/**
 * @param {string} text
 * @returns {Promise<boolean>} whether it is in the clipboard now
 */
export async function copyText(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    // There is no clipboard on plain http, and it may be refused: the older way is still allowed then.
    return copySelection(text);
  }
}

/** @param {string} text */
function copySelection(text) {
  const focused = document.activeElement;
  const area = document.createElement('textarea');
  area.value = text;
  area.readOnly = true;
  area.style.position = 'fixed';
  area.style.opacity = '0';
  // Outside an open dialog nothing can be selected.
  (focused?.closest('dialog') ?? document.body).append(area);
  try {
    area.select();
    return document.execCommand('copy');
  } catch {
    return false;
  } finally {
    area.remove();
    if (focused instanceof HTMLElement) {
      focused.focus({ preventScroll: true });
    }
  }
}

/**
 * Passes a link on through the system's sheet, or puts it into the clipboard. Call it straight from a tap.
 * @param {{ title: string, url: string }} link
 * @returns {Promise<'shared' | 'copied' | 'failed' | 'cancelled'>}
 */
export async function shareLink({ title, url }) {
  if (canShare({ title, url })) {
    const outcome = await share({ title, url });
    if (outcome !== 'failed') {
      return outcome;
    }
  }
  return (await copyText(url)) ? 'copied' : 'failed';
}

/** Today where the turner is, as `2030-01-31`. */
export function today() {
  // Swedish writes dates the ISO way, in local time.
  return new Date().toLocaleDateString('sv-SE');
}
