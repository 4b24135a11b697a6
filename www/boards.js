/** The boards: entering them, and which to take and how to cut them. */

import { change } from './change.js';
import { ask } from './door.js';
import { keepFieldsIn, setFields } from './fields.js';
import { setFigures } from './figures.js';
import { setUpMany } from './many.js';
import { byId, make, makeButton, onTap, setImage, setPicture, unbroken } from './page.js';
import { PICTURE_PX } from './tile.js';
import { word } from './words.js';
import { design, record } from './work.js';

/** @typedef {import('./ringwright.js').BoardsAtWork} BoardsAtWork */
/** @typedef {import('./ringwright.js').BoardsScreen} BoardsScreen */
/** @typedef {import('./ringwright.js').BoardsAnswer} BoardsAnswer */
/** @typedef {import('./ringwright.js').BoardRow} BoardRow */
/** @typedef {import('./ringwright.js').LayoutRow} LayoutRow */

/** Work in one go: some milliseconds, so that no frame is missed. */
const WORK = 150_000;

/** @type {{ search: BoardsAtWork | null, of: string, timer: ReturnType<typeof setTimeout> | undefined, shown: string }} */
const going = { search: null, of: '', timer: undefined, shown: '' };

/** @type {HTMLDetailsElement[]} */
const rows = [];

export function setUpBoards() {
  onTap('boards-add', () => {
    change({ kind: 'add_board' });
    openRow(rows.length - 1);
  });
  setUpMany('boards-many', (library, of, text) => library.add_boards(of, text), () => {
    const making = byId('making', HTMLDetailsElement);
    making.open = true;
    making.scrollIntoView({ block: 'nearest' });
  });
  new ResizeObserver(showAnswer).observe(byId('boards-layouts', HTMLElement));
}

/** Opens a board's fields and goes to the first. @param {number} place */
function openRow(place) {
  const row = rows[place];
  if (!row) return;
  row.open = true;
  row.querySelector('input')?.focus();
}

/** Shows the boards, while their place is open. */
export function showBoards() {
  if (record().place !== 'wood') {
    stop();
    return;
  }
  const screen = ask((library) => library.show_boards(design()));
  setRows(screen.boards);
  keepFieldsIn(byId('boards-rack', HTMLElement), screen.rack);
  keepFieldsIn(byId('boards-waste', HTMLElement), screen.waste);
  keepFieldsIn(byId('boards-matched-fields', HTMLElement), screen.matched);
  setFigures(byId('boards-estimate-list', HTMLElement), screen.estimate);
  const isEmpty = screen.boards.length === 0;
  byId('boards-intro', HTMLElement).hidden = !isEmpty;
  byId('boards-estimate', HTMLElement).hidden = !isEmpty;
  byId('boards-matched', HTMLElement).hidden = isEmpty;
  byId('boards-answer', HTMLElement).hidden = isEmpty;
  setFields([
    ...screen.rack, ...screen.waste, ...screen.matched,
    ...screen.boards.flatMap((board) => [...board.entries, ...board.avoid.flat()]),
  ], screen.messages);
  setFaces();
  if (isEmpty) stop();
  else begin();
}

/** Each board with the spots that are to be avoided on it, beside their fields. */
function setFaces() {
  const list = byId('boards-list', HTMLElement);
  if (list.clientWidth === 0 || rows.length === 0) return;
  const faces = ask((library) => library.board_faces(design(), list.clientWidth));
  rows.forEach((row, place) => {
    const box = row.querySelector('.board-face');
    const face = faces[place] ?? '';
    if (!(box instanceof HTMLElement)) return;
    box.hidden = face === '';
    if (face) setPicture(box, face);
    else box.replaceChildren();
  });
}

/** Begins a search for the design as it is now, unless one is going on for it. */
function begin() {
  const of = JSON.stringify(design());
  if (of === going.of) {
    showAnswer();
    return;
  }
  stop();
  going.of = of;
  going.search = ask((library) => new library.BoardsAtWork(design()));
  goOn();
}

/** The first answer comes at once; better ones replace it between frames. */
function goOn() {
  const { search } = going;
  if (!search) return;
  const isDone = ask(() => search.step(WORK));
  showAnswer();
  if (isDone) showPiece(search);
  going.timer = isDone ? undefined : setTimeout(goOn, 0);
}

/** What the boards become, beside how they are cut. @param {BoardsAtWork} search */
function showPiece(search) {
  const svg = ask(() => search.piece(PICTURE_PX.width, PICTURE_PX.height));
  const button = byId('boards-piece', HTMLButtonElement);
  button.hidden = !svg;
  if (!svg || button.dataset.of === svg) return;
  button.dataset.of = svg;
  const picture = button.querySelector('img') ?? make('img');
  picture.alt = '';
  setImage(picture, svg);
  button.append(picture);
}

/** The search as it stands; nothing where no boards are entered. */
export function atWork() {
  return going.search;
}

function stop() {
  clearTimeout(going.timer);
  const { search } = going;
  going.search = null;
  going.of = '';
  going.shown = '';
  // After a stumble there is nothing left to let go of.
  if (search) ask(() => search.free());
}

/** @param {BoardRow[]} boards */
function setRows(boards) {
  const list = byId('boards-list', HTMLElement);
  while (rows.length < boards.length) {
    const row = makeRow(rows.length);
    rows.push(row);
    list.append(row);
  }
  while (rows.length > boards.length) {
    const row = rows.pop();
    for (const box of row?.querySelectorAll('.fields') ?? []) {
      if (box instanceof HTMLElement) keepFieldsIn(box, []);
    }
    row?.remove();
  }
  boards.forEach((board, place) => {
    const row = rows[place];
    if (!row) return;
    setText(row, '.board-title', board.title);
    const fields = row.querySelector('.board-fields');
    if (fields instanceof HTMLElement) keepFieldsIn(fields, board.entries);
    setAvoid(row, board, place);
  });
}

/** @param {number} board */
function makeRow(board) {
  const row = make('details', { className: 'board' },
    make('summary', {}, make('span', { className: 'about' },
      make('span', { className: 'board-title' }), make('span', { className: 'board-note quiet' }))),
    make('div', { className: 'fields board-fields' }),
    make('div', { className: 'drawing-box board-face' }),
    make('div', { className: 'board-avoid' }),
    make('p', { className: 'note', text: word('boards.avoid_is') }),
    make('p', { className: 'actions' },
      makeButton(word('boards.add_avoid'), () => change({ kind: 'add_avoid', board })),
      makeButton(word('boards.copy'), () => {
        change({ kind: 'copy_board', board });
        openRow(board + 1);
      }),
      makeButton(word('boards.remove'), () => {
        change({ kind: 'remove_board', board });
        byId('boards-add', HTMLButtonElement).focus();
      })));
  return row;
}

/**
 * @param {HTMLElement} row
 * @param {BoardRow} board
 * @param {number} place
 */
function setAvoid(row, board, place) {
  const box = row.querySelector('.board-avoid');
  if (!box) return;
  while (box.children.length < board.avoid.length) {
    const at = box.children.length;
    box.append(make('div', { className: 'avoid-row' }, make('div', { className: 'fields' }),
      makeButton(word('boards.remove_avoid'), () => change({ kind: 'remove_avoid', board: place, avoid: at }))));
  }
  while (box.children.length > board.avoid.length) {
    const fields = box.lastElementChild?.firstElementChild;
    if (fields instanceof HTMLElement) keepFieldsIn(fields, []);
    box.lastElementChild?.remove();
  }
  board.avoid.forEach((entries, at) => {
    const fields = box.children.item(at)?.firstElementChild;
    if (fields instanceof HTMLElement) keepFieldsIn(fields, entries);
  });
}

/** Shows the answer as it stands, where something changed. */
function showAnswer() {
  const { search } = going;
  const box = byId('boards-layouts', HTMLElement);
  if (!search || box.clientWidth === 0) return;
  const answer = ask(() => search.show(box.clientWidth));
  if (!answer) return;
  const text = JSON.stringify(answer);
  if (text === going.shown) return;
  going.shown = text;
  const isNone = answer.layouts.length === 0;
  byId('boards-count', HTMLElement).textContent = answer.count;
  // Without a piece it is asked what could be made, and not of the ring beside the saw.
  byId('boards-answer', HTMLElement).hidden = isNone && design().vessel === null;
  // A large figure says that they are enough.
  const isEnough = answer.failures.length === 0;
  byId('boards-count', HTMLElement).hidden = isNone || !isEnough;
  byId('boards-head', HTMLElement).hidden = !isEnough;
  byId('boards-take', HTMLElement).textContent = isNone ? word('boards.none_fit') : answer.take;
  byId('boards-bound', HTMLElement).textContent = answer.bound;
  byId('boards-failures', HTMLElement).replaceChildren(...answer.failures.map((each) => make('li', {},
    make('strong', { text: each.reason }), document.createTextNode(` ${each.remedy}`))));
  setFigures(byId('boards-figures', HTMLElement), answer.figures);
  answer.notes.forEach((note, place) => setText(rows[place], '.board-note', note));
  byId('boards-cuts', HTMLElement).hidden = isNone;
  setLayouts(box, answer.layouts);
}

/**
 * @param {HTMLElement} box
 * @param {LayoutRow[]} layouts
 */
function setLayouts(box, layouts) {
  while (box.children.length > layouts.length) box.lastElementChild?.remove();
  layouts.forEach((layout, at) => {
    let figure = box.children.item(at);
    if (!figure) {
      figure = make('figure', { className: 'board-cut' }, make('h4'), make('div', { className: 'drawing-box' }), make('ul'));
      box.append(figure);
    }
    setText(figure, 'h4', layout.title);
    const picture = figure.querySelector('.drawing-box');
    if (picture) setPicture(picture, layout.svg);
    figure.querySelector('ul')?.replaceChildren(...layout.strips.map((text) => make('li', { text: unbroken(text) })));
  });
}

/**
 * @param {Element | undefined} within
 * @param {string} selector
 * @param {string} text
 */
function setText(within, selector, text) {
  const element = within?.querySelector(selector);
  if (element && element.textContent !== text) element.textContent = text;
}
