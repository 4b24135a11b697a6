/**
 * Our own keypad: digits, the tape's fractions and the other unit. It comes up where
 * a finger taps a number field, because no system keyboard has digits and a fraction
 * stroke together, and theirs cover half a tablet.
 */

import { byId } from './page.js';
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
  pad.hidden = false;
  document.body.classList.add('keypad-open');
  // The pad must not cover the field that it types into: the page's scroll padding leaves it room.
  if (isCovered(field, pad)) field.scrollIntoView({ block: 'nearest' });
}

/**
 * @param {HTMLElement} field
 * @param {HTMLElement} pad
 */
function isCovered(field, pad) {
  const [a, b] = [field.getBoundingClientRect(), pad.getBoundingClientRect()];
  return a.bottom > b.top && a.right > b.left;
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
