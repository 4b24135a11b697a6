/**
 * What else the piece could be: nine small pictures, found a few tries at a time, so that
 * the page stays fluid.
 */

import { change } from './change.js';
import { ask } from './door.js';
import { safeFileName, saveAndSay } from './files.js';
import { byId, make, onTap, setImage, setLines } from './page.js';
import { PICTURE_PX, clearTiles, makeTile } from './tile.js';
import { tellMissing, typeface } from './typeface.js';
import { word } from './words.js';
import { design, openBeside, record, titleNow } from './work.js';

/** @typedef {import('./ringwright.js').Design} Design */
/** @typedef {import('./ringwright.js').Variations} Variations */
/** @typedef {import('./ringwright.js').VariationShown} VariationShown */

/**
 * `of` is the design that they are of, `seed` what the search began with, `picked` the one
 * in the dialog.
 * @type {{ search: Variations | null, of: Design | null, seed: number, picked: VariationShown | null, timer: number }}
 */
const sheet = { search: null, of: null, seed: 1, picked: null, timer: 0 };

/** @param {() => Promise<boolean>} mayLeave */
export function setUpVariations(mayLeave) {
  const box = byId('variations', HTMLDetailsElement);
  box.addEventListener('toggle', showVariations);
  byId('variation-reach', HTMLInputElement).addEventListener('change', begin);
  onTap('variation-others', () => {
    sheet.seed += 1;
    begin();
  });
  onTap('variation-print', () => void save('pdf'));
  onTap('variation-svg', () => void save('svg'));
  const dialog = byId('variation-dialog', HTMLDialogElement);
  onTap('variation-take', () => {
    dialog.close();
    if (take()) byId('section', HTMLElement).scrollIntoView();
  });
  onTap('variation-more', () => {
    dialog.close();
    if (!take()) return;
    byId('variation-reach', HTMLInputElement).value = '10';
    begin();
  });
  byId('variation-keep', HTMLButtonElement).addEventListener('click', async () => {
    if (!sheet.picked || !await mayLeave()) return;
    dialog.close();
    const { name } = design();
    const kept = ask((library) => library.change(design(), { kind: 'become', link: sheet.picked?.link ?? '' }));
    openBeside({ ...kept, name: `${name || word('unnamed')}: ${word('variation.this')}` });
  });
}

/** Takes the one in the dialog, as one step. */
function take() {
  return sheet.picked !== null && change({ kind: 'become', link: sheet.picked.link });
}

/** Looks again where the piece is another one than it was, while they are open. */
export function showVariations() {
  if (record().place !== 'vessel' || !byId('variations', HTMLDetailsElement).open) return;
  if (sheet.of !== design()) begin();
}

function begin() {
  clearTimeout(sheet.timer);
  sheet.search?.free();
  sheet.search = null;
  sheet.of = design();
  const list = byId('variation-list', HTMLElement);
  clearTiles(list);
  byId('variation-sheet', HTMLElement).hidden = true;
  if (design().vessel === null) return;
  const reach = byId('variation-reach', HTMLInputElement).valueAsNumber / 100;
  const begun = ask((library) => library.Variations.begin(
    design(), sheet.seed, reach, PICTURE_PX.width, PICTURE_PX.height));
  sheet.search = begun ?? null;
  byId('variation-says', HTMLElement).textContent = word(begun ? 'variation.looking' : 'variation.none');
  if (begun) lookOn();
}

/** A few tries, and then the hand has the page again. */
function lookOn() {
  const { search } = sheet;
  if (!search) return;
  const list = byId('variation-list', HTMLElement);
  const found = ask(() => search.next());
  if (found) list.append(tile(found));
  if (!ask(() => search.is_done())) {
    sheet.timer = setTimeout(lookOn);
    return;
  }
  const count = list.childElementCount;
  byId('variation-sheet', HTMLElement).hidden = count === 0;
  byId('variation-says', HTMLElement).textContent = count === 0 ? word('variation.none')
    : count < WANTED ? word('variation.fewer') : '';
}

const WANTED = 9;

/** @param {VariationShown} found */
function tile(found) {
  const says = [...found.says, found.missing].filter((line) => line !== '');
  return makeTile(found.picture, says, () => open(found, says));
}

/** @param {VariationShown} found @param {string[]} says */
function open(found, says) {
  sheet.picked = found;
  setImage(byId('variation-now', HTMLImageElement), ask(() => sheet.search?.own_svg() ?? ''));
  setImage(byId('variation-this', HTMLImageElement), found.picture);
  setLines(byId('variation-differs', HTMLElement), says.map((line) => make('li', { text: line })));
  byId('variation-dialog', HTMLDialogElement).showModal();
}

/** @param {'pdf' | 'svg'} kind */
async function save(kind) {
  const { search } = sheet;
  if (!search) return;
  const isPdf = kind === 'pdf';
  const letters = isPdf ? await typeface() : undefined;
  const content = ask(() => (isPdf ? search.sheet_pdf(letters) : search.sheet_svg()));
  const title = `${titleNow()} ${word('variation.title')}`;
  await saveAndSay('variations', safeFileName(title, `.${kind}`), isPdf ? 'application/pdf' : 'image/svg+xml', content);
  if (isPdf) tellMissing(letters);
}
