/** Setting figures in type: real fractions, units, what the rounding left over. */

import { notice } from './notices.js';
import { make } from './page.js';
import { word } from './words.js';

/** @typedef {import('./ringwright.js').Shown} Shown */
/** @typedef {import('./ringwright.js').Figure} Figure */
/** @typedef {import('./ringwright.js').Message} Message */

/** Units that stay what they are whatever lengths are shown in. */
const SAME_EVERYWHERE = ['%', 'min', 'h', 'rpm'];

/**
 * A figure as it is read: eyes see the fraction, a screen reader says the words.
 * @param {Shown} shown
 * @param {{ onUnit?: () => void }} [options]
 */
export function figure(shown, { onUnit } = {}) {
  const visible = make('span', { className: shown.is_words ? 'words' : 'number' });
  visible.setAttribute('aria-hidden', 'true');
  visible.append(make('span', { text: shown.whole }));
  if (shown.numerator) {
    visible.append(make('span', { className: 'fraction' },
      make('sup', { text: String(shown.numerator) }), document.createTextNode('\u2044'), make('sub', { text: String(shown.denominator) })));
  }
  const box = make('span', { className: 'figure' }, visible);
  box.append(make('span', { className: 'hidden-words', text: shown.spoken }));
  if (shown.unit === '°') visible.append('°');
  else if (shown.unit) box.append(unitMark(shown.unit, SAME_EVERYWHERE.includes(shown.unit) ? undefined : onUnit));
  if (shown.unit === 'in' || shown.remainder) {
    box.append(remainderMark(shown.remainder));
  }
  return box;
}

/**
 * What a fraction leaves over. What it means is told where the eye is: by a tap, or under
 * the pointer; a screen reader has the words already.
 * @param {string} remainder
 */
function remainderMark(remainder) {
  const mark = make('span', { className: 'remainder', text: remainder });
  if (remainder) {
    mark.title = word('saw.remainder');
    mark.addEventListener('click', () => notice('remainder', word('saw.remainder'), 'done'));
  }
  return mark;
}

/**
 * @param {string} unit
 * @param {(() => void) | undefined} onUnit
 */
function unitMark(unit, onUnit) {
  if (!onUnit) {
    const mark = make('span', { className: 'unit', text: unit });
    mark.setAttribute('aria-hidden', 'true');
    return mark;
  }
  const button = make('button', { className: 'unit', text: unit });
  button.type = 'button';
  button.addEventListener('click', onUnit);
  return button;
}

/** What each row shows, so that only what changed is set anew. @type {WeakMap<Element, string>} */
const shownInRow = new WeakMap();

/**
 * Figures with their labels.
 * @param {HTMLElement} list a `dl`
 * @param {Figure[]} figures
 * @param {{ onUnit?: () => void }} [options]
 */
export function setFigures(list, figures, options) {
  figures.forEach((each, at) => {
    const text = JSON.stringify(each);
    const old = list.children.item(at);
    if (old && shownInRow.get(old) === text) return;
    const row = makeRow(each, options);
    shownInRow.set(row, text);
    if (old) old.replaceWith(row);
    else list.append(row);
  });
  while (list.children.length > figures.length) list.lastElementChild?.remove();
}

/** Letters that no figure has. */
const LONG = 40;

/**
 * @param {Figure} each
 * @param {{ onUnit?: () => void }} [options]
 */
function makeRow(each, options) {
  const value = make('dd', {}, figure(each.shown, options));
  if (each.note) value.append(make('span', { className: 'note', text: each.note }));
  // What is told in sentences reads from the left.
  const isLong = each.shown.is_words && each.shown.text.length > LONG;
  const row = make('div', { className: isLong ? 'row told' : 'row' }, make('dt', { text: each.label }), value);
  row.dataset.key = each.key;
  return row;
}

/**
 * What to look at first, and what to do about it.
 * @param {Message} caution
 */
export function cautionLine(caution) {
  return make('li', {}, make('strong', { text: caution.reason }), document.createTextNode(` ${caution.remedy}`));
}

/** How a step is done; where much is done one after the other, sentence by sentence. @param {{ says: string, numbered: string[] }} step */
export function howDone(step) {
  if (step.numbered.length === 0) return make('p', { text: step.says });
  return make('ol', { className: 'how-done' }, ...step.numbered.map((text) => make('li', { text })));
}
