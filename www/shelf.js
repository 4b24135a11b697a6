/**
 * The turner's shelf: boards and offcuts that lie in the shop, for every piece. Each change is made to what
 * is kept at that moment, other tabs' changes with it.
 */

import { atWork } from './boards.js';
import { ask } from './door.js';
import { copyText, pickFile, safeFileName, saveAndSay } from './files.js';
import { byId, make, makeButton, onTap, setLines } from './page.js';
import { word } from './words.js';
import { design, keep, record, take, titleNow } from './work.js';

/** @typedef {import('./ringwright.js').ShelfChange} ShelfChange */
/** @typedef {import('./ringwright.js').ShelfChanged} ShelfChanged */
/** @typedef {import('./ringwright.js').ShelfRow} ShelfRow */

/** What stood before each change of this page's life, and what it left. @type {{ before: unknown, after: string }[]} */
const past = [];

/** What a file's shelf is called in it. */
const IN_FILE = 'ringwright_shelf';

/** A finder for so few rows would only be in the way. */
const FEW_ROWS = 6;

export function setUpShelf() {
  byId('shelf', HTMLDetailsElement).addEventListener('toggle', showShelf);
  byId('shelf-find', HTMLInputElement).addEventListener('input', showShelf);
  onTap('shelf-put', () => void changeShelf({ kind: 'put' }));
  onTap('shelf-cut', () => void cutBoards());
  onTap('shelf-undo', () => void undoOnShelf());
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

/** Shows the shelf, while it is open. */
export function showShelf() {
  if (record().place !== 'wood' || !byId('shelf', HTMLDetailsElement).open) return;
  const finder = byId('shelf-find', HTMLInputElement);
  const screen = ask((library) => library.show_shelf(keep.boardShelf, design(), record().id, finder.value));
  const isEmpty = screen.rows.length === 0 && finder.value === '';
  byId('shelf-sum', HTMLElement).textContent = screen.says;
  byId('shelf-finder', HTMLElement).hidden = finder.value === '' && screen.rows.length < FEW_ROWS;
  for (const id of ['shelf-copy', 'shelf-save']) byId(id, HTMLElement).hidden = isEmpty;
  byId('shelf-undo', HTMLElement).hidden = past.length === 0;
  for (const id of ['shelf-put', 'shelf-cut']) byId(id, HTMLElement).hidden = !screen.has_boards;
  setLines(byId('shelf-rows', HTMLElement), screen.rows.map(rowLine));
}

/** @param {ShelfRow} row */
function rowLine({ place, title, about, is_own: isOwn }) {
  const named = (/** @type {string} */ key) => word(key).replace('%1', title);
  const button = (/** @type {string} */ label, /** @type {ShelfChange} */ change, /** @type {string} */ said) => {
    const own = makeButton(label, () => void changeShelf(change));
    if (said !== label) own.setAttribute('aria-label', said);
    return own;
  };
  const taking = isOwn
    ? button(word('shelf.give_back'), { kind: 'give_back', place }, `${word('shelf.give_back')}: ${title}`)
    : button(word('shelf.take'), { kind: 'take', place }, `${word('shelf.take')}: ${title}`);
  return make('li', { className: 'shelf-row' },
    make('span', { className: 'about' }, make('strong', { text: title }), make('span', { className: 'quiet', text: about })),
    make('span', { className: 'actions' }, taking,
      button('−', { kind: 'remove_one', place }, named('shelf.fewer')),
      button('+', { kind: 'add_one', place }, named('shelf.more'))));
}

/** @param {string} text */
function tell(text) {
  byId('shelf-says', HTMLElement).textContent = text;
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
    return { shelf: isOther ? null : Object(last.before ?? { boards: [] }), is_spoiled: false };
  });
  tell(isOther ? word('shelf.changed_elsewhere') : '');
  showShelf();
}

async function copyList() {
  const { list } = ask((library) => library.show_shelf(keep.boardShelf, design(), record().id, ''));
  tell(word(await copyText(list) ? 'shelf.copied' : 'shelf.not_copied'));
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
