/**
 * Photographs at the steps of the bench: made small, kept on the device, shown at their step and in the log, and
 * taken along in a design's file where that is wanted. The log has their names, the library knows no picture.
 */

import { ask } from './door.js';
import { pickAny, safeFileName, saveAndSay } from './files.js';
import { notice } from './notices.js';
import { byId, make, makeButton, onTap, setLines } from './page.js';
import { forgetAllBut, keepPhoto, photoOf } from './photos.js';
import { isPlainObject, parsed } from './record.js';
import { randomId } from './tabs.js';
import { word } from './words.js';
import { design, done, keep, record, takeDone, titleNow } from './work.js';

/** @typedef {import('./ringwright.js').Done} Done */

const MEDIA_TYPE = 'image/jpeg';
const QUALITY = 0.8;
const IN_FILE = `data:${MEDIA_TYPE};base64,`;
/** What the log lets go of may come back by Undo, in another tab as well. */
const FORGET_AFTER_MILLISECONDS = 24 * 60 * 60 * 1000;

/** Addresses of the pictures that this page has shown, by name; empty for one that is not here. @type {Map<string, Promise<string>>} */
const addresses = new Map();

/** Tiles whose picture is not here; it may come yet, with a file. @type {Set<HTMLElement>} */
const gone = new Set();

/** The photograph that is shown large. */
const large = { name: '', title: '' };

/** The boxes in which the file's photographs are asked for say the same. */
let areInFile = true;

export function setUpStepPhotos() {
  onTap('photo-save', () => void saveLarge());
  onTap('photo-remove', () => {
    byId('photo-dialog', HTMLDialogElement).close();
    takeDone(ask((library) => library.remove_photograph(done(), large.name, large.title)));
  });
  for (const box of fileBoxes()) {
    box.addEventListener('change', () => {
      areInFile = box.checked;
      showFileBoxes();
    });
  }
  void forgetUnused(Date.now() - FORGET_AFTER_MILLISECONDS);
}

/** Forgets the pictures that no design and no log has, as far as they came before then. @param {number} before */
async function forgetUnused(before) {
  const names = await keep.everyName();
  if (names) await forgetAllBut(names, before);
}

/**
 * The place for a step's photographs, with the button that adds one.
 * @param {string} id
 * @param {() => string} title
 */
export function makePhotos(id, title) {
  const tiles = make('div', { className: 'photo-tiles' });
  const problem = make('p', { className: 'field-message' });
  problem.hidden = true;
  problem.setAttribute('role', 'alert');
  const button = makeButton(word('photo.add'), () => void add(id, title(), problem));
  return make('div', { className: 'step-photos' }, tiles, make('p', { className: 'actions' }, button), problem);
}

/** @param {string} id @param {string} title @param {HTMLElement} problem */
async function add(id, title, problem) {
  const of = record().id;
  const file = await pickAny('image/*');
  if (!file) return;
  const small = await madeSmall(file);
  problem.hidden = small !== null;
  problem.textContent = small ? '' : word('photo.not_a_picture');
  if (!small || record().id !== of) return;
  const name = randomId(crypto);
  const isKept = await keepPicture(name, small);
  const now = ask((library) => library.photograph_step(design(), done(), id, title, name, Date.now()));
  const [message] = now.messages;
  problem.hidden = !message;
  problem.textContent = message ? `${message.reason} ${message.remedy}` : '';
  if (!now.done) return;
  takeDone(now);
  if (!isKept) notice('photo', word('photo.not_kept'), { label: word('photo.save'), act: () => void openLarge(name, title) });
}

/**
 * A picture as it is kept: small, and with nothing in its file but what is seen.
 * @param {Blob} file
 * @returns {Promise<Blob | null>} nothing where this browser cannot read it
 */
async function madeSmall(file) {
  const address = URL.createObjectURL(file);
  try {
    const image = make('img');
    image.src = address;
    await image.decode();
    const [width, height] = ask((library) => library.photo_size(image.naturalWidth, image.naturalHeight));
    const canvas = make('canvas');
    const pen = canvas.getContext('2d');
    if (width === undefined || height === undefined || !pen) return null;
    [canvas.width, canvas.height] = [width, height];
    // What is seen through is white, as on paper.
    pen.fillStyle = '#fff';
    pen.fillRect(0, 0, width, height);
    pen.drawImage(image, 0, 0, width, height);
    return await new Promise((resolve) => canvas.toBlob(resolve, MEDIA_TYPE, QUALITY));
  } catch {
    return null;
  } finally {
    URL.revokeObjectURL(address);
  }
}

/**
 * @param {string} name
 * @param {Blob} file
 * @returns {Promise<boolean>} whether it outlives the page
 */
async function keepPicture(name, file) {
  const photo = { file, told: [], length: '', keptAt: Date.now() };
  let isKept = await keepPhoto(name, photo);
  // Those that nothing has any more make room.
  if (!isKept) {
    await forgetUnused(Date.now());
    isKept = await keepPhoto(name, photo);
  }
  for (const tile of gone) if (tile.dataset.photo === name) void fillTile(tile, name);
  return isKept;
}

/** @param {string} name @returns {Promise<string>} */
function addressOf(name) {
  const known = addresses.get(name);
  if (known) return known;
  const found = photoOf(name).then((photo) => {
    if (photo) return URL.createObjectURL(photo.file);
    addresses.delete(name);
    return '';
  });
  addresses.set(name, found);
  return found;
}

/**
 * Shows photographs, where any of them changed.
 * @param {HTMLElement} box
 * @param {readonly string[]} names
 * @param {string} title of their step
 */
export function setPhotos(box, names, title) {
  const tiles = box.querySelector('.photo-tiles') ?? box;
  if (!(tiles instanceof HTMLElement)) return;
  /** @type {Map<string | undefined, HTMLElement>} */
  const old = new Map();
  for (const tile of tiles.children) if (tile instanceof HTMLElement) old.set(tile.dataset.photo, tile);
  setLines(tiles, names.map((name) => old.get(name) ?? makeTile(name, title)));
}

/** @param {string} name @param {string} title */
function makeTile(name, title) {
  const tile = makeButton('', () => void openLarge(name, title));
  tile.className = 'photo-tile';
  tile.dataset.photo = name;
  tile.setAttribute('aria-label', `${word('photo.title')}: ${title}`);
  void fillTile(tile, name);
  return tile;
}

/** @param {HTMLElement} tile @param {string} name */
async function fillTile(tile, name) {
  const address = await addressOf(name);
  const image = make('img');
  image.alt = '';
  if (address) image.src = address;
  tile.replaceChildren(address ? image : make('span', { text: word('photo.gone') }));
  if (address) gone.delete(tile);
  else gone.add(tile);
}

/** @param {string} name @param {string} title */
async function openLarge(name, title) {
  Object.assign(large, { name, title });
  const address = await addressOf(name);
  const image = byId('photo-large', HTMLImageElement);
  image.hidden = address === '';
  image.alt = title;
  if (address) image.src = address;
  byId('photo-dialog-title', HTMLElement).textContent = title;
  byId('photo-says', HTMLElement).textContent = word(address ? 'photo.is_small' : 'photo.not_here');
  byId('photo-save', HTMLButtonElement).hidden = address === '';
  byId('photo-dialog', HTMLDialogElement).showModal();
}

async function saveLarge() {
  const photo = await photoOf(large.name);
  if (!photo) return;
  const bytes = new Uint8Array(await photo.file.arrayBuffer());
  await saveAndSay('photo', safeFileName(`${titleNow()} ${large.title}`, '.jpg'), MEDIA_TYPE, bytes);
}

function fileBoxes() {
  return [...document.querySelectorAll('.photos-in-file input')].filter((box) => box instanceof HTMLInputElement);
}

/** The question whether a file takes them along stands where there are any. */
export function showFileBoxes() {
  const hasAny = ask((library) => library.photo_names(done())).length > 0;
  for (const box of fileBoxes()) {
    box.checked = areInFile;
    const line = box.closest('.photos-in-file');
    if (line instanceof HTMLElement) line.hidden = !hasAny;
  }
}

/**
 * A design's file with its photographs in it, where they are wanted.
 * @param {string} text the file without
 */
export async function withPhotos(text) {
  const file = parsed(text);
  if (!areInFile || !isPlainObject(file)) return text;
  /** @type {Record<string, string>} */
  const photos = {};
  for (const name of ask((library) => library.photo_names(done()))) {
    const photo = await photoOf(name);
    if (photo) photos[name] = await written(photo.file);
  }
  return Object.keys(photos).length === 0 ? text : JSON.stringify({ ...file, photos }, null, 2);
}

/** @param {Blob} file @returns {Promise<string>} */
function written(file) {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.addEventListener('load', () => resolve(String(reader.result)));
    reader.addEventListener('error', () => reject(reader.error));
    reader.readAsDataURL(file);
  });
}

/**
 * Takes the photographs out of a design's file.
 * @param {string} text
 * @returns {{ text: string, photos: Record<string, unknown> }}
 */
export function apartFromPhotos(text) {
  const file = text.includes('"photos"') ? parsed(text) : null;
  if (!isPlainObject(file) || !isPlainObject(file.photos)) return { text, photos: {} };
  const { photos, ...rest } = file;
  return { text: JSON.stringify(rest), photos };
}

/**
 * Keeps the photographs of a file, as far as its log has them and they are pictures. One that is on the device
 * already stays as it is.
 * @param {Record<string, unknown>} photos
 * @param {Done | null} atItsBench
 */
export async function keepPhotosOf(photos, atItsBench) {
  const names = atItsBench ? ask((library) => library.photo_names(atItsBench)) : [];
  let areAllKept = true;
  let isLeftOut = false;
  for (const name of names) {
    if (!(name in photos) || await photoOf(name)) continue;
    const picture = await pictureIn(photos[name]);
    if (picture) areAllKept = await keepPicture(name, picture) && areAllKept;
    else isLeftOut = true;
  }
  if (isLeftOut) notice('photo', word('photo.not_all'));
  else if (!areAllKept) notice('photo', word('photo.not_kept'));
}

/** @param {unknown} text @returns {Promise<Blob | null>} */
async function pictureIn(text) {
  if (typeof text !== 'string' || !text.startsWith(IN_FILE)) return null;
  try {
    const bytes = Uint8Array.from(atob(text.slice(IN_FILE.length)), (letter) => letter.charCodeAt(0));
    const picture = new Blob([bytes], { type: MEDIA_TYPE });
    return await madeSmall(picture) ? picture : null;
  } catch {
    return null;
  }
}
