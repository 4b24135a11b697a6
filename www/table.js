/** Tables: their heads and rows as the library names them. */

import { figure } from './figures.js';
import { make, makeButton, setLines } from './page.js';

/** @typedef {import('./ringwright.js').Table} Table */
/** @typedef {import('./ringwright.js').Row} Row */

/**
 * What a table's rows are put in order by, and whether the most comes first.
 * @typedef {{ column: string, isMostFirst: boolean }} Order
 */

/** What was last set. @type {WeakMap<HTMLElement, string>} */
const headsSet = new WeakMap();

/** The lines of each table, by what they are about. @type {WeakMap<HTMLElement, Map<string, HTMLElement>>} */
const linesOf = new WeakMap();

/** @type {WeakMap<HTMLElement, Order>} */
const orders = new WeakMap();

/** Sets a table anew, with the rows that it has now. @type {WeakMap<HTMLElement, (() => void) | null>} */
const latest = new WeakMap();

/**
 * Sets a table. Rows that stay keep their heads, and so the focus.
 * @param {HTMLTableElement} element
 * @param {Table} table
 * @param {{ onRow?: (id: string) => void }} [options] what a tap on a row's head does
 */
export function setTable(element, table, { onRow } = {}) {
  const canOrder = table.rows.some((row) => row.order.length > 0);
  setHeads(element, table, canOrder ? () => setTable(element, table, { onRow }) : null);
  const known = linesOf.get(element) ?? new Map();
  linesOf.set(element, known);
  const body = element.tBodies.item(0) ?? element.createTBody();
  setLines(body, inOrder(element, table).map((row) => {
    const line = known.get(row.id) ?? make('tr', {}, rowHead(row, onRow));
    known.set(row.id, line);
    setCells(line, row);
    return line;
  }));
}

/**
 * @param {HTMLTableElement} element
 * @param {Table} table
 * @param {(() => void) | null} onOrder
 */
function setHeads(element, table, onOrder) {
  const text = JSON.stringify([table.columns, Boolean(onOrder)]);
  const order = orders.get(element);
  if (headsSet.get(element) !== text) {
    headsSet.set(element, text);
    const line = make('tr', {}, ...table.columns.map(({ key, label }) => {
      const head = make('th', onOrder ? {} : { text: label });
      if (onOrder) head.append(makeButton(label, () => orderBy(element, key, table.columns[0]?.key === key)));
      head.scope = 'col';
      return head;
    }));
    (element.tHead ?? element.createTHead()).replaceChildren(line);
  }
  latest.set(element, onOrder);
  table.columns.forEach(({ key }, at) => {
    const head = element.tHead?.rows.item(0)?.cells.item(at);
    if (order?.column !== key) head?.removeAttribute('aria-sort');
    else head?.setAttribute('aria-sort', order.isMostFirst ? 'descending' : 'ascending');
  });
}

/**
 * By this column, and the other way round when it was so already.
 * @param {HTMLElement} element
 * @param {string} column
 * @param {boolean} isFirst
 */
function orderBy(element, column, isFirst) {
  const before = orders.get(element);
  const isMostFirst = before?.column === column ? !before.isMostFirst : isFirst;
  orders.set(element, { column, isMostFirst });
  latest.get(element)?.();
}

/**
 * Rows that are alike stay in the library's order.
 * @param {HTMLElement} element
 * @param {Table} table
 */
function inOrder(element, table) {
  const order = orders.get(element);
  const at = table.columns.findIndex(({ key }) => key === order?.column);
  if (!order || at < 0) return table.rows;
  const key = (/** @type {Row} */ row) => row.order[at] ?? 0;
  return [...table.rows].sort((one, other) => {
    if (key(one) === key(other)) return 0;
    return key(one) < key(other) === order.isMostFirst ? 1 : -1;
  });
}

/**
 * @param {Row} row
 * @param {((id: string) => void) | undefined} onRow
 */
function rowHead(row, onRow) {
  const head = make('th');
  head.scope = 'row';
  const [first] = row.cells;
  if (row.color) {
    const dot = make('span', { className: 'dot' });
    dot.style.backgroundColor = row.color;
    head.append(dot);
  }
  if (onRow) head.append(makeButton(first?.text ?? '', () => onRow(row.id)));
  else if (first) head.append(figure(first));
  return head;
}

/** What a line shows, so that only what changed is set anew. @type {WeakMap<Element, string>} */
const shownIn = new WeakMap();

/**
 * @param {HTMLElement} line
 * @param {Row} row
 */
function setCells(line, row) {
  if (row.is_current) line.setAttribute('aria-current', 'true');
  else line.removeAttribute('aria-current');
  const text = JSON.stringify(row.cells);
  if (shownIn.get(line) === text) return;
  shownIn.set(line, text);
  while (line.children.length > 1) line.lastElementChild?.remove();
  line.append(...row.cells.slice(1).map((each) => make('td', {}, figure(each))));
}
