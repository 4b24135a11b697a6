/**
 * Our own keypad: digits, the tape's fractions and the other unit. It comes up where
 * a finger taps a number field, because no system keyboard has digits and a fraction
 * stroke together, and theirs cover half a tablet.
 */

import { byId } from './page.js';
import { word } from './words.js';
import { design } from './work.js';

const SETTING_KEY = 'ringwright/keypad';

/** @type {HTMLInputElement | null} */
let input = null;

/** Whether numbers are typed on our keypad. Where nothing was chosen: on touch. */
export function isOwnKeypad() {
  const chosen = readSetting();
  return chosen === null ? matchMedia('(pointer: coarse)').matches : chosen === 'own';
}

/** @param {boolean} isOwn */
export function chooseKeypad(isOwn) {
  try {
    localStorage.setItem(SETTING_KEY, isOwn ? 'own' : 'system');
  } catch {
    // Storage is blocked: the choice holds until the page closes.
    fallback = isOwn ? 'own' : 'system';
  }
  for (const each of document.querySelectorAll('input[data-keypad]')) {
    if (each instanceof HTMLInputElement) setMode(each);
  }
  if (!isOwn) closeKeypad();
}

/** @type {string | null} */
let fallback = null;

function readSetting() {
  try {
    return localStorage.getItem(SETTING_KEY) ?? fallback;
  } catch {
    return fallback;
  }
}

/** @param {HTMLInputElement} field */
function setMode(field) {
  field.inputMode = isOwnKeypad() ? 'none' : field.dataset.keypad === 'count' ? 'numeric' : 'text';
}

/**
 * Lets this field use the keypad.
 * @param {HTMLInputElement} field
 * @param {string} label
 * @param {string} kind
 */
export function keypadFor(field, label, kind) {
  field.dataset.keypad = kind;
  setMode(field);
  field.addEventListener('focus', () => {
    if (isOwnKeypad()) openKeypad(field, label, kind);
  });
  field.addEventListener('blur', () => {
    if (input === field) closeSoon();
  });
}

/** Long enough for a tap to land on what it was meant for. */
const TAP_MILLISECONDS = 60;

/** @type {ReturnType<typeof setTimeout> | undefined} */
let closing;

/** Whether a finger or the mouse is down. */
let isDown = false;

/**
 * A tap on a button takes the focus away before it lands. Were the keypad closed at once,
 * the page would move under the finger and the tap would be lost.
 */
function closeSoon() {
  clearTimeout(closing);
  closing = setTimeout(() => {
    if (isDown) closeSoon();
    else closeKeypad();
  }, TAP_MILLISECONDS);
}

/**
 * @param {HTMLInputElement} field
 * @param {string} label
 * @param {string} kind
 */
function openKeypad(field, label, kind) {
  clearTimeout(closing);
  input = field;
  const pad = byId('keypad', HTMLElement);
  byId('keypad-field', HTMLElement).textContent = label;
  pad.dataset.kind = kind;
  setOtherUnit(pad);
  setWays(field);
  pad.hidden = false;
  document.body.classList.add('keypad-open');
  // The pad must not cover the field that it types into: the page's scroll padding leaves it room.
  // What stands beside it in full view stays where it is, with the figures above.
  if (!isSeen(field)) field.scrollIntoView({ block: 'nearest' });
}

/**
 * The field is typed into next, and stays where it is if it can be seen there.
 * @param {HTMLInputElement} field
 */
export function goToField(field) {
  field.focus({ preventScroll: true });
  if (!isSeen(field)) field.scrollIntoView({ block: 'nearest' });
}

/**
 * What comes after the last field of a list that can grow, by its element.
 * @type {Map<HTMLElement, { label: string, act: () => void }>}
 */
const ends = new Map();

/**
 * Lets Next go on behind a list's last field.
 * @param {HTMLElement} list
 * @param {{ label: string, act: () => void }} end
 */
export function onNextAtEnd(list, end) {
  ends.set(list, end);
}

/**
 * The field before or after this one, in the order of the page, or what its list does at its end.
 * @param {HTMLInputElement} field
 * @param {-1 | 1} way
 * @returns {{ label: string, act: () => void } | null}
 */
function nextOf(field, way) {
  const all = [...(field.closest('main, dialog')?.querySelectorAll('input[data-keypad]') ?? [])];
  const seen = all.filter((each) => each instanceof HTMLElement && each.offsetParent !== null);
  const next = seen[seen.indexOf(field) + way];
  for (const [list, end] of ends) {
    if (way > 0 && list.contains(field) && !(next && list.contains(next))) return end;
  }
  if (!(next instanceof HTMLInputElement)) return null;
  return { label: word('keypad.next'), act: () => next.focus({ preventScroll: true }) };
}

/** @param {HTMLInputElement} field */
function setWays(field) {
  const next = nextOf(field, 1);
  byId('keypad-next', HTMLButtonElement).textContent = next?.label ?? word('keypad.next');
  byId('keypad-next', HTMLButtonElement).disabled = !next;
  byId('keypad-back', HTMLButtonElement).disabled = !nextOf(field, -1);
}

/**
 * Enter goes on within a row that is entered field by field; elsewhere it ends the typing.
 * @param {HTMLInputElement} field
 * @returns {boolean} whether it went on
 */
export function goOn(field) {
  const row = field.closest('[data-row]');
  const next = row ? nextOf(field, 1) : null;
  const isEnd = [...ends.values()].some((end) => end.act === next?.act);
  if (!next || isEnd) return false;
  next.act();
  return true;
}

/** Whether nothing lies over the field at its upper and lower edge. @param {HTMLInputElement} field */
function isSeen(field) {
  const { left, right, top, bottom } = field.getBoundingClientRect();
  return [top + 1, bottom - 1].every((y) => document.elementFromPoint((left + right) / 2, y) === field);
}

/**
 * The one unit key is for the unit that is not set: what is typed bare is in the other.
 * @param {HTMLElement} pad
 */
function setOtherUnit(pad) {
  const key = pad.querySelector('[data-unit]');
  if (!(key instanceof HTMLElement)) return;
  const other = design().unit === 'millimeter' ? 'in' : 'mm';
  key.dataset.unit = ` ${other}`;
  key.textContent = other;
}

function closeKeypad() {
  clearTimeout(closing);
  input = null;
  byId('keypad', HTMLElement).hidden = true;
  document.body.classList.remove('keypad-open');
}

/** Wires the keys, once. */
export function wireKeypad() {
  const pad = byId('keypad', HTMLElement);
  addEventListener('pointerdown', () => {
    isDown = true;
  }, true);
  for (const end of ['pointerup', 'pointercancel']) {
    addEventListener(end, () => {
      isDown = false;
    }, true);
  }
  // The field keeps the focus while keys are tapped.
  pad.addEventListener('pointerdown', (event) => event.preventDefault());
  pad.addEventListener('click', (event) => {
    const key = event.target instanceof Element ? event.target.closest('button') : null;
    if (key && input) press(input, key);
  });
}

/**
 * @param {HTMLInputElement} field
 * @param {HTMLButtonElement} key
 */
function press(field, key) {
  const { digit, fraction, unit, act } = key.dataset;
  if (digit !== undefined) insert(field, digit);
  else if (fraction !== undefined) insertFraction(field, fraction);
  else if (unit !== undefined) insertUnit(field, unit);
  else if (act === 'erase') erase(field);
  else if (act === 'clear') replace(field, '');
  else if (act === 'done') endTyping(field);
  else if (act === 'next') nextOf(field, 1)?.act();
  else if (act === 'back') nextOf(field, -1)?.act();
  else if (act === 'system') useSystem(field);
}

/** @param {HTMLInputElement} field */
function endTyping(field) {
  field.blur();
  closeKeypad();
}

/** @param {HTMLInputElement} field */
function useSystem(field) {
  chooseKeypad(false);
  field.blur();
  field.focus();
}

/**
 * @param {HTMLInputElement} field
 * @param {string} text
 */
function insert(field, text) {
  const { start, end } = selection(field);
  field.setRangeText(text, start, end, 'end');
  tell(field);
}

/**
 * A fraction goes behind the whole number, in place of one that is already there.
 * @param {HTMLInputElement} field
 * @param {string} fraction
 */
function insertFraction(field, fraction) {
  const { start, end } = selection(field);
  const kept = field.value.slice(0, start).replace(/\s*\d+\/\d*$/, '');
  const space = /\d$/.test(kept) ? ' ' : '';
  field.value = `${kept}${space}${fraction}${field.value.slice(end)}`;
  tell(field);
}

/**
 * A unit goes to the end, in place of one that is already there, whatever is marked.
 * @param {HTMLInputElement} field
 * @param {string} unit
 */
function insertUnit(field, unit) {
  replace(field, `${field.value.replace(/\s*(?:mm|in|")\s*$/, '')}${unit}`);
}

/** @param {HTMLInputElement} field */
function erase(field) {
  const { start, end } = selection(field);
  if (start !== end) field.setRangeText('', start, end, 'end');
  else if (start > 0) field.setRangeText('', start - 1, start, 'end');
  tell(field);
}

/**
 * @param {HTMLInputElement} field
 * @param {string} text
 */
function replace(field, text) {
  field.value = text;
  tell(field);
}

/** @param {HTMLInputElement} field */
function selection(field) {
  const length = field.value.length;
  return { start: field.selectionStart ?? length, end: field.selectionEnd ?? length };
}

/** @param {HTMLInputElement} field */
function tell(field) {
  field.dispatchEvent(new Event('input', { bubbles: true }));
}
