/**
 * The turner's shelf: boards, offcuts and glued rings that lie in the shop, for every piece. Each change is
 * made to what is kept at that moment, other tabs' changes with it. Rings stand beside the piece's own rings,
 * too.
 */

import { atWork } from './boards.js';
import { ask } from './door.js';
import { copyText, pickFile, safeFileName, saveAndSay, today } from './files.js';
import { byId, make, makeButton, onTap, setLines } from './page.js';
import { typeface } from './typeface.js';
import { word } from './words.js';
import { design, keep, record, take, titleNow } from './work.js';

/** @typedef {import('./ringwright.js').ShelfChange} ShelfChange */
/** @typedef {import('./ringwright.js').ShelfChanged} ShelfChanged */
/** @typedef {import('./ringwright.js').ShelfRow} ShelfRow */
/** @typedef {import('./ringwright.js').ShelfScreen} ShelfScreen */
/** @typedef {import('./ringwright.js').Design} Design */

/** What stood before each change of this page's life, and what it left. @type {{ before: unknown, after: string }[]} */
const past = [];

/** What a file's shelf is called in it. */
const IN_FILE = 'ringwright_shelf';

/** A finder for so few rows would only be in the way. */
const FEW_ROWS = 6;

export function setUpShelf() {
  byId('shelf', HTMLDetailsElement).addEventListener('toggle', showShelf);
  byId('shelf-find', HTMLInputElement).addEventListener('input', showShelf);
  byId('shelf-order', HTMLSelectElement).addEventListener('change', showShelf);
  onTap('shelf-print', () => void printList());
  onTap('shelf-put', () => void changeShelf({ kind: 'put' }));
  onTap('shelf-cut', () => void cutBoards());
  byId('ring-shelf', HTMLDetailsElement).addEventListener('toggle', showShelf);
  onTap('ring-shelf-all', () => void changeShelf({ kind: 'take_all_rings' }));
  onTap('ring-shelf-put', () => void changeShelf({ kind: 'put_rings' }));
  onTap('ring-shelf-glued', () => void changeShelf({ kind: 'glue_in' }));
  for (const id of UNDOS) onTap(id, () => void undoOnShelf());
  onTap('shelf-copy', () => void copyList());
  onTap('shelf-save', () => void saveAndSay('shelf', safeFileName(word('shelf.title'), '.json'), 'application/json',
    JSON.stringify({ [IN_FILE]: keep.boardShelf }, null, 1)));
  onTap('shelf-open', () => void openShelf());
  const entry = byId('shelf-entry', HTMLTextAreaElement);
  byId('shelf-form', HTMLFormElement).addEventListener('submit', (event) => {
    event.preventDefault();
    void changeShelf({ kind: 'list', text: entry.value }).then((made) => {
      entry.toggleAttribute('aria-invalid', !made?.shelf);
      if (made?.shelf) entry.value = '';
    });
  });
  // Another tab may have changed it.
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') void keep.readBoardShelf().then(showShelf);
  });
}

/** What the rows are ordered by. */
function order() {
  return byId('shelf-order', HTMLSelectElement).value;
}

/** Where it can be taken back, and where it is told what came of a change. */
const UNDOS = ['shelf-undo', 'ring-shelf-undo'];
const SAYS = ['shelf-says', 'ring-shelf-says'];

/** Shows the shelf, where it is open. */
export function showShelf() {
  const { place } = record();
  const isAllOpen = place === 'wood' && byId('shelf', HTMLDetailsElement).open;
  const areRingsSeen = place === 'vessel';
  if (!isAllOpen && !areRingsSeen) return;
  if (!isAllOpen && areRingsAsShown()) return;
  const finder = byId('shelf-find', HTMLInputElement);
  const screen = ask((library) => library.show_shelf(keep.boardShelf, design(), record().id, isAllOpen ? finder.value : '', order()));
  for (const id of UNDOS) byId(id, HTMLElement).hidden = past.length === 0;
  if (isAllOpen) showAll(screen, finder.value);
  else showRings(screen);
}

/** What the rings were shown of: a curve that is pulled changes nothing of it. @type {unknown[]} */
let shownOf = [];

function areRingsAsShown() {
  const { open } = byId('ring-shelf', HTMLDetailsElement);
  const isGlued = !byId('glued-side', HTMLElement).hidden;
  const now = [keep.boardShelf, record().id, design().unit, isGlued, open, past.length];
  const isSame = now.every((each, at) => each === shownOf[at]);
  shownOf = now;
  return isSame;
}

/** @param {ShelfScreen} screen @param {string} find */
function showAll(screen, find) {
  const count = screen.rows.length + screen.rings.length;
  const isEmpty = count === 0 && find === '';
  byId('shelf-sum', HTMLElement).textContent = screen.says;
  for (const id of ['shelf-finder', 'shelf-sorter']) byId(id, HTMLElement).hidden = find === '' && count < FEW_ROWS;
  for (const id of ['shelf-copy', 'shelf-print', 'shelf-save']) byId(id, HTMLElement).hidden = isEmpty;
  for (const id of ['shelf-put', 'shelf-cut']) byId(id, HTMLElement).hidden = !screen.has_boards;
  setLines(byId('shelf-rows', HTMLElement), [...screen.rows.map(boardLine), ...screen.rings.map(ringLine)]);
}

/** The rings alone, beside those of the piece. @param {ShelfScreen} screen */
function showRings(screen) {
  const isNeeded = screen.rings.length > 0 || screen.has_rings;
  const box = byId('ring-shelf', HTMLDetailsElement);
  box.hidden = !isNeeded;
  byId('ring-shelf-now', HTMLElement).textContent = screen.rings_say;
  if (!box.open) return;
  const all = byId('ring-shelf-all', HTMLButtonElement);
  [all.hidden, all.textContent] = [screen.take_all === '', screen.take_all];
  byId('ring-shelf-put', HTMLElement).hidden = !screen.has_rings;
  byId('ring-shelf-glued', HTMLElement).hidden = !screen.rings.some((row) => row.is_own);
  setLines(byId('ring-shelf-rows', HTMLElement), screen.rings.map(ringLine));
}

/** @param {ShelfRow} row */
function boardLine(row) {
  const { place, title } = row;
  const named = (/** @type {string} */ key) => word(key).replace('%1', title);
  return line(row, row.is_own ? { kind: 'give_back', place } : { kind: 'take', place }, [
    actButton('−', { kind: 'remove_one', place }, named('shelf.fewer')),
    actButton('+', { kind: 'add_one', place }, named('shelf.more')),
  ]);
}

/** @param {ShelfRow} row */
function ringLine(row) {
  const { place, title } = row;
  const label = word('shelf.remove');
  return line(row, row.is_own ? { kind: 'give_ring_back', place } : { kind: 'take_ring', place }, [
    actButton(label, { kind: 'remove_ring', place }, `${label}: ${title}`),
  ]);
}

/** @param {ShelfRow} row @param {ShelfChange} taking @param {HTMLElement[]} more */
function line({ title, about, is_own: isOwn }, taking, more) {
  const label = word(isOwn ? 'shelf.give_back' : 'shelf.take');
  return make('li', { className: 'shelf-row' },
    make('span', { className: 'about' }, make('strong', { text: title }), make('span', { className: 'quiet', text: about })),
    make('span', { className: 'actions' }, actButton(label, taking, `${label}: ${title}`), ...more));
}

/** @param {string} label @param {ShelfChange} change @param {string} said */
function actButton(label, change, said) {
  const button = makeButton(label, () => void changeShelf(change));
  button.setAttribute('aria-label', said);
  return button;
}

/**
 * Rings of a design that it has no use for any more lie on the shelf for any piece.
 * @param {Design} of
 * @param {number[]} places
 */
export function leaveRings(of, places) {
  const change = { kind: /** @type {const} */ ('leave_rings'), places };
  return settleChange((kept) => ask((library) => library.change_shelf(kept, of, change, record().id, titleNow())));
}

/** @param {string} text */
function tell(text) {
  for (const id of SAYS) byId(id, HTMLElement).textContent = text;
}

/** @param {ShelfChange} change */
function changeShelf(change) {
  return settleChange((kept) => ask((library) => library.change_shelf(kept, design(), change, record().id, titleNow())));
}

/** What was planned is sawn: the boards go, what is left of them comes. */
async function cutBoards() {
  const search = atWork();
  if (search) await settleChange((kept) => ask(() => search.cut(kept, record().id, titleNow())));
  else tell(word('shelf.not_whole'));
}

/**
 * Makes a change, keeps it, and says what came of it.
 * @param {(kept: unknown) => ShelfChanged} change
 */
async function settleChange(change) {
  const before = keep.boardShelf;
  const made = await keep.changeBoardShelf(change);
  if (!made) {
    tell(word('shelf.no_room'));
    return null;
  }
  if (made.shelf) past.push({ before, after: JSON.stringify(made.shelf) });
  if (made.design) take(made.design);
  tell([made.says, made.shelf && made.is_spoiled ? word('shelf.spoiled') : ''].join(' ').trim());
  showShelf();
  return made;
}

/** Takes the last change back, unless another tab has changed it since. */
async function undoOnShelf() {
  const last = past.pop();
  if (!last) return;
  let isOther = false;
  await keep.changeBoardShelf((kept) => {
    isOther = JSON.stringify(kept) !== last.after;
    return { shelf: isOther ? null : Object(last.before ?? { boards: [], rings: [] }), is_spoiled: false };
  });
  tell(isOther ? word('shelf.changed_elsewhere') : '');
  showShelf();
}

async function copyList() {
  const { list } = ask((library) => library.show_shelf(keep.boardShelf, design(), record().id, '', order()));
  tell(word(await copyText(list) ? 'shelf.copied' : 'shelf.not_copied'));
}

/** What is looked at, on paper. */
async function printList() {
  const letters = await typeface();
  const find = byId('shelf-find', HTMLInputElement).value;
  const file = ask((library) => library.shelf_file(keep.boardShelf, design(), find, order(), today(), letters));
  if (file.length > 0) await saveAndSay('shelf', safeFileName(word('shelf.title'), '.pdf'), 'application/pdf', file);
}

/** A shelf of another device is laid beside what is there. */
async function openShelf() {
  const picked = await pickFile('.json,application/json');
  if (!picked) return;
  const other = shelfIn(picked.text);
  if (other === null) {
    tell(word('shelf.no_file'));
    return;
  }
  const made = await changeShelf({ kind: 'open', other });
  if (made?.shelf) tell(word('shelf.opened'));
}

/** @param {string | null} text @returns {unknown} */
function shelfIn(text) {
  try {
    const shelf = JSON.parse(text ?? '')?.[IN_FILE];
    return Array.isArray(shelf?.boards) ? shelf : null;
  } catch {
    return null;
  }
}
