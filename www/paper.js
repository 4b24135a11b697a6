/**
 * The Paper place: the sheets as pictures to be ticked, and as files. Which sheets are wanted is
 * kept with the record on this device and not in the design: whoever opens a link or file prints
 * for another shop.
 */

import { ask } from './door.js';
import { safeFileName, saveAndSay, today } from './files.js';
import { notice } from './notices.js';
import { byId, make, makeButton, onTap, readersLanguage, setImage, setLines } from './page.js';
import { tellMissing, typeface } from './typeface.js';
import { word } from './words.js';
import { design, done, linkAddress, record, save as saveRecord, titleNow } from './work.js';

/** @typedef {import('./ringwright.js').PrintedNow} PrintedNow */

/**
 * @typedef {object} Shown a sheet on the page
 * @property {HTMLLIElement} line
 * @property {HTMLInputElement} box
 * @property {HTMLImageElement} picture
 * @property {HTMLElement} title
 * @property {HTMLElement} pages
 * @property {boolean} isUsual
 */

/** The sheets by their keys, in their order. @type {Map<string, Shown>} */
const sheets = new Map();

export function setUpPaper() {
  setUpLeafing();
  onTap('save-pdf', () => void save('pdf', 'application/pdf'));
  onTap('save-svg', () => void save('svg', 'image/svg+xml'));
  onTap('save-dxf', () => void save('dxf', 'image/vnd.dxf'));
  onTap('save-csv', () => void save('csv', 'text/csv'));
  onTap('save-card', () => void saveCard());
  onTap('save-zip', () => void save('zip', 'application/zip'));
  onTap('tick-usual', () => tickEach((sheet) => sheet.isUsual));
  onTap('tick-all', () => tickEach(() => true));
  onTap('tick-none', () => tickEach(() => false));
}

/** @param {string} key @param {boolean} isUsual */
function isTicked(key, isUsual) {
  return record().sheets[key] ?? isUsual;
}

/** @param {string} key @param {boolean} isWanted */
function tick(key, isWanted) {
  record().sheets = { ...record().sheets, [key]: isWanted };
  saveRecord();
  tellLength();
}

/** The keys of the sheets that are ticked. */
function chosen() {
  return [...sheets].filter(([, sheet]) => sheet.box.checked).map(([key]) => key);
}

/** After a tick, or the pictures, so that these come first. */
let telling = 0;

/** Tells how many pages the ticked sheets take. */
function tellLength() {
  clearTimeout(telling);
  telling = setTimeout(() => {
    if (record().place !== 'paper') return;
    byId('paper-length', HTMLElement).textContent = ask(
      (library) => library.packet_length(design(), linkAddress(), printedNow(), chosen()));
  });
}

/** @param {(sheet: Shown) => boolean} isWanted */
function tickEach(isWanted) {
  /** @type {Record<string, boolean>} */
  const wanted = {};
  for (const [key, sheet] of sheets) {
    sheet.box.checked = isWanted(sheet);
    wanted[key] = sheet.box.checked;
  }
  record().sheets = wanted;
  saveRecord();
  tellLength();
}

/**
 * @param {import('./ringwright.js').PacketFile} kind
 * @param {string} mediaType
 */
async function save(kind, mediaType) {
  const isPaper = kind === 'pdf' || kind === 'zip';
  const letters = isPaper ? await typeface() : undefined;
  const bytes = ask((library) => {
    const own = kind === 'zip' ? library.file_text(design(), done()) : '';
    return library.packet_file(design(), kind, linkAddress(), printedNow(), chosen(), own, letters);
  });
  if (bytes.length === 0) {
    notice('paper', word(kind === 'csv' ? 'paper.no_cuts' : 'paper.none_ticked'));
    return;
  }
  // Several drawings come as an archive, which says so in its first letters.
  const isArchive = String.fromCharCode(...bytes.subarray(0, 2)) === 'PK';
  await saveBytes(`.${isArchive ? 'zip' : kind}`, isArchive ? 'application/zip' : mediaType, bytes);
  if (isPaper) tellMissing(letters);
}

/**
 * @param {string} ending
 * @param {string} mediaType
 * @param {Uint8Array} bytes
 */
async function saveBytes(ending, mediaType, bytes) {
  const title = titleNow();
  await saveAndSay('paper', safeFileName(title, ending), mediaType, bytes);
}

/** Wide enough for a screen, and to be printed as a small photo. */
const CARD_PIXELS = 1600;

async function saveCard() {
  const svg = ask((library) => library.card_svg(design(), linkAddress()));
  if (!svg) {
    notice('paper', word('paper.no_card'));
    return;
  }
  const bytes = await painted(svg).catch(() => null);
  if (bytes) await saveBytes('.png', 'image/png', bytes);
  // A browser that paints no such picture keeps it as it is drawn.
  else await saveBytes('.svg', 'image/svg+xml', new TextEncoder().encode(svg));
}

/** A drawing as a PNG picture. @param {string} svg */
async function painted(svg) {
  const picture = make('img');
  const address = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
  picture.src = address;
  await picture.decode().finally(() => URL.revokeObjectURL(address));
  const canvas = make('canvas');
  canvas.width = CARD_PIXELS;
  canvas.height = Math.round((CARD_PIXELS * picture.naturalHeight) / picture.naturalWidth);
  const pen = canvas.getContext('2d');
  if (!pen) throw new Error('no canvas');
  pen.fillStyle = 'white';
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
  /** @type {Blob | null} */
  const blob = await new Promise((done) => { canvas.toBlob(done, 'image/png'); });
  if (!blob) throw new Error('no picture');
  return new Uint8Array(await blob.arrayBuffer());
}

/** When it is printed, and what stands at the bench by then. @returns {PrintedNow} */
function printedNow() {
  return { date: today(), now: Date.now(), language: readersLanguage(), done: done() };
}

/** @param {string} key @returns {Shown} */
function newSheet(key) {
  const box = make('input');
  box.type = 'checkbox';
  box.dataset.sheet = key;
  box.addEventListener('change', () => tick(key, box.checked));
  const picture = make('img');
  picture.alt = '';
  const title = make('span', { className: 'sheet-title' });
  const pages = make('span', { className: 'quiet' });
  const look = makeButton('', () => lookAt(key));
  look.className = 'sheet-look';
  look.append(picture);
  const line = make('li', { className: 'sheet' }, look, make('label', { className: 'sheet-name' }, box, title, pages));
  line.id = `sheet-${key}`;
  return { line, box, picture, title, pages, isUsual: true };
}

/** What is leafed through, as it is printed. @type {import('./ringwright.js').PacketPage[]} */
let leaves = [];

/** The place of the page that is seen. */
let leaf = 0;

/** A sheet as large as the window, among all that are ticked. @param {string} key */
function lookAt(key) {
  const sheet = sheets.get(key);
  if (!sheet) return;
  const among = sheet.box.checked ? chosen() : [key];
  leaves = ask((library) => library.packet_pages(design(), linkAddress(), printedNow(), among));
  // Every sheet has a page, or shares one that is ticked.
  leafTo(leaves.findIndex((page) => page.keys.includes(key)));
  byId('sheet-dialog', HTMLDialogElement).showModal();
}

/** @param {number} place */
function leafTo(place) {
  const page = leaves[place];
  if (!page) return;
  leaf = place;
  const title = sheets.get(page.keys[0] ?? '')?.title.textContent ?? '';
  byId('sheet-dialog-title', HTMLElement).textContent = title;
  byId('sheet-says', HTMLElement).textContent = page.says;
  byId('sheet-large', HTMLImageElement).alt = title;
  setImage(byId('sheet-large', HTMLImageElement), page.svg);
  const before = byId('sheet-before', HTMLButtonElement);
  const after = byId('sheet-after', HTMLButtonElement);
  const pressed = [before, after].find((button) => button === document.activeElement);
  before.disabled = !leaves[place - 1];
  after.disabled = !leaves[place + 1];
  // A button that cannot be pressed any more hears no keys either.
  if (pressed?.disabled) (pressed === after ? before : after).focus();
}

/** Leafs through the sheets: by taps or by keys. */
function setUpLeafing() {
  const dialog = byId('sheet-dialog', HTMLDialogElement);
  onTap('sheet-before', () => leafTo(leaf - 1));
  onTap('sheet-after', () => leafTo(leaf + 1));
  dialog.addEventListener('keydown', (event) => {
    if (event.key === 'ArrowLeft') leafTo(leaf - 1);
    else if (event.key === 'ArrowRight') leafTo(leaf + 1);
  });
  dialog.addEventListener('close', () => {
    leaves = [];
    setImage(byId('sheet-large', HTMLImageElement), '');
  });
}

/** Shows the sheets' pictures, while the place is open. */
export function showPaper() {
  if (record().place !== 'paper') return;
  // So that it is there when a file is tapped.
  void typeface();
  const found = ask((library) => library.show_packet(design(), linkAddress(), printedNow()));
  const gone = new Set(sheets.keys());
  for (const { key, title, pages, is_usual: isUsual, svg } of found) {
    gone.delete(key);
    const sheet = sheets.get(key) ?? newSheet(key);
    // In the order in which they are found.
    sheets.delete(key);
    sheets.set(key, sheet);
    sheet.title.textContent = title;
    sheet.picture.alt = title;
    sheet.pages.textContent = pages;
    sheet.isUsual = isUsual;
    sheet.box.checked = isTicked(key, isUsual);
    setImage(sheet.picture, svg);
  }
  for (const key of gone) {
    const sheet = sheets.get(key);
    if (sheet) setImage(sheet.picture, '');
    sheets.delete(key);
  }
  setLines(byId('sheets', HTMLUListElement), [...sheets.values()].map((sheet) => sheet.line));
  tellLength();
  const isNone = found.length === 0;
  byId('no-sheet', HTMLElement).hidden = !isNone;
  for (const id of ['save-pdf', 'save-svg', 'save-dxf', 'save-zip', 'tick-usual', 'tick-all', 'tick-none']) {
    byId(id, HTMLButtonElement).disabled = isNone;
  }
  for (const id of ['save-csv', 'save-card']) {
    byId(id, HTMLButtonElement).disabled = design().vessel === null;
  }
}
