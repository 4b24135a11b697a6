/**
 * A picture to trace, lying over the half-section. It belongs to the device, not to the
 * design: it is kept in the browser's database beside the designs, by their identity.
 */

import { ask } from './door.js';
import { pickAny } from './files.js';
import { keypadFor } from './keypad.js';
import { notice } from './notices.js';
import { byId, make } from './page.js';
import { forgetPhoto, keepPhoto, photoOf } from './photos.js';
import { word } from './words.js';
import { design, record } from './work.js';

/** @typedef {import('./photos.js').Photo} Photo */

/** What is told of a picture, in the order in which it is asked for: where it stands in `told`. */
const STEPS = /** @type {const} */ ([['foot', 2], ['one', 4], ['other', 6]]);
/** Width, height, three places, the known length. */
const NUMBERS = 9;
const LENGTH = 8;
/** How far an arrow key moves the cross, pixels. */
const CROSS_STEP = 4;

/**
 * `of` is the design whose picture this is; `step` which place is asked for next.
 * @type {{ of: string, photo: Photo | null, step: number, view: number[], address: string }}
 */
const trace = { of: '', photo: null, step: STEPS.length, view: [], address: '' };

const image = make('img', { className: 'trace-picture' });
const cover = make('div', { className: 'trace-cover' });
const cross = { x: 0, y: 0, mark: make('span', { className: 'trace-cross' }) };

export function setUpTrace() {
  image.alt = '';
  cover.tabIndex = 0;
  cover.setAttribute('role', 'application');
  cover.setAttribute('aria-label', word('trace.cross'));
  cover.append(cross.mark);
  byId('section', HTMLElement).append(image, cover);
  cover.addEventListener('click', (event) => {
    const box = cover.getBoundingClientRect();
    tell(event.clientX - box.left, event.clientY - box.top);
    event.stopPropagation();
  });
  cover.addEventListener('keydown', moveCross);
  byId('trace-choose', HTMLButtonElement).addEventListener('click', () => void choose());
  byId('trace-place', HTMLButtonElement).addEventListener('click', placeAgain);
  byId('trace-remove', HTMLButtonElement).addEventListener('click', remove);
  byId('trace-show', HTMLInputElement).addEventListener('change', showPicture);
  const strength = byId('trace-strength', HTMLInputElement);
  strength.addEventListener('input', () => image.style.setProperty('opacity', `${strength.value}%`));
  const length = byId('trace-length', HTMLInputElement);
  keypadFor(length, word('trace.length'), 'length');
  length.addEventListener('input', readLength);
}

async function choose() {
  const file = await pickAny('image/*');
  if (!file) return;
  const told = new Array(NUMBERS).fill(NaN);
  const photo = { file, told, length: '' };
  if (!(await load(photo))) {
    byId('trace-says', HTMLElement).textContent = word('trace.not_a_picture');
    return;
  }
  [told[0], told[1]] = [image.naturalWidth, image.naturalHeight];
  trace.photo = photo;
  placeAgain();
  keepIt();
}

/** Shows a picture's file. @param {Photo} photo */
async function load(photo) {
  const old = trace.address;
  trace.address = URL.createObjectURL(photo.file);
  image.src = trace.address;
  if (old) URL.revokeObjectURL(old);
  try {
    await image.decode();
    return image.naturalWidth > 0;
  } catch {
    // Not a picture, or one that this browser cannot read: said at the field.
    return false;
  }
}

function keepIt() {
  const { photo } = trace;
  if (!photo) return;
  void keepPhoto(record().id, photo).then((isKept) => {
    if (!isKept) notice('trace', word('trace.not_kept'));
  });
}

function placeAgain() {
  if (!trace.photo) return;
  trace.photo.told.fill(NaN, 2);
  trace.photo.length = '';
  trace.step = 0;
  byId('trace-show', HTMLInputElement).checked = true;
  showPicture();
  const box = cover.getBoundingClientRect();
  setCross(box.width / 2, box.height / 2);
  cover.focus();
}

function remove() {
  trace.photo = null;
  void forgetPhoto(record().id);
  showPicture();
}

/**
 * Takes a place on the section for the one that is asked for.
 * @param {number} x
 * @param {number} y
 */
function tell(x, y) {
  const step = STEPS[trace.step];
  const { photo } = trace;
  if (!step || !photo) return;
  const [pixelX, pixelY] = ask((library) => library.trace_pixel(
    design(), new Float64Array(photo.told), new Float64Array(trace.view), x, y));
  if (pixelX === undefined || pixelY === undefined) return;
  const at = step[1];
  photo.told.splice(at, 2, pixelX, pixelY);
  trace.step += 1;
  showPicture();
  keepIt();
  if (trace.step === STEPS.length) byId('trace-length', HTMLInputElement).focus();
}

/** @type {Readonly<Record<string, readonly [number, number]>>} */
const ARROWS = { ArrowUp: [0, -CROSS_STEP], ArrowDown: [0, CROSS_STEP], ArrowRight: [CROSS_STEP, 0], ArrowLeft: [-CROSS_STEP, 0] };

/** @param {KeyboardEvent} event */
function moveCross(event) {
  const arrow = ARROWS[event.key];
  if (arrow) setCross(cross.x + arrow[0], cross.y + arrow[1]);
  else if (event.key === 'Enter' || event.key === ' ') tell(cross.x, cross.y);
  else return;
  event.preventDefault();
}

/**
 * @param {number} x
 * @param {number} y
 */
function setCross(x, y) {
  [cross.x, cross.y] = [x, y];
  cross.mark.style.left = `${x}px`;
  cross.mark.style.top = `${y}px`;
}

function readLength() {
  const { photo } = trace;
  const field = byId('trace-length', HTMLInputElement);
  if (!photo) return;
  const read = ask((library) => library.known_length(design(), field.value));
  photo.length = field.value;
  photo.told[LENGTH] = read.length_mm ?? NaN;
  field.toggleAttribute('aria-invalid', read.length_mm === null);
  showPicture();
  const [message] = read.messages;
  if (message && field.value.trim()) byId('trace-says', HTMLElement).textContent = `${message.reason} ${message.remedy}`;
  keepIt();
}

/**
 * Brings the picture to where it lies in this view of the section.
 * @param {number[]} view
 */
export function showTrace(view) {
  trace.view = view;
  if (trace.of !== record().id) void bring(record().id);
  lay();
}

/** Brings the picture of the design that is open now. @param {string} id */
async function bring(id) {
  trace.of = id;
  trace.photo = null;
  showPicture();
  const photo = await photoOf(id);
  if (!photo || trace.of !== id || !(await load(photo)) || trace.of !== id) return;
  trace.photo = photo;
  trace.step = STEPS.findIndex(([, at]) => Number.isNaN(photo.told[at]));
  if (trace.step < 0) trace.step = STEPS.length;
  byId('trace-length', HTMLInputElement).value = photo.length;
  byId('trace', HTMLDetailsElement).open = true;
  showPicture();
}

/** What the fold says, and what of the picture can be seen. */
function showPicture() {
  const { photo } = trace;
  const step = STEPS[trace.step];
  const isShown = photo !== null && byId('trace-show', HTMLInputElement).checked;
  image.hidden = !isShown;
  cover.hidden = !isShown || !step;
  byId('trace-tools', HTMLElement).hidden = !photo || Boolean(step);
  byId('trace-place', HTMLElement).hidden = !photo;
  byId('trace-remove', HTMLElement).hidden = !photo;
  if (photo && document.activeElement !== byId('trace-length', HTMLInputElement)) {
    byId('trace-length', HTMLInputElement).value = photo.length;
  }
  const says = byId('trace-says', HTMLElement);
  if (!photo) says.textContent = '';
  else if (step) says.textContent = word(`trace.tap.${step[0]}`);
  else says.textContent = Number.isNaN(photo.told[LENGTH]) ? word('trace.length') : word('trace.placed');
  lay();
}

function lay() {
  if (!trace.photo || image.hidden) return;
  const { told } = trace.photo;
  const lies = ask((library) => library.trace_lies(design(), new Float64Array(told), new Float64Array(trace.view)));
  for (const [at, side] of /** @type {const} */ (['left', 'top', 'width', 'height']).entries()) {
    image.style.setProperty(side, `${lies[at]}px`);
  }
}
