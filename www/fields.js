/**
 * The entry fields: each is found by its key, wherever it stands. What is typed goes
 * to the work at once; what cannot be taken stays as typed, with its message.
 */

import { goOn, keypadFor } from './keypad.js';
import { make } from './page.js';
import { say } from './say.js';
import { word } from './words.js';
import { woodListFor } from './wood_list.js';
import { hold, isTaken, record, settle, stepsSaid, typed, typedMessages, typing, typingIn } from './work.js';

/** @typedef {import('./ringwright.js').Entry} Entry */
/** @typedef {import('./ringwright.js').Message} Message */
/** @typedef {HTMLInputElement | HTMLSelectElement} Control */

/** @type {Map<string, Set<Control>>} */
const controls = new Map();

/** The unit beside each field. @type {Map<string, HTMLButtonElement>} */
const units = new Map();

let opensUnits = () => {};

/**
 * Says what a tap on a field's unit does.
 * @param {() => void} open
 */
export function onUnitTap(open) {
  opensUnits = open;
}

/**
 * Makes the fields that the page asks for by `data-fields`, and wires those that it
 * already has by `data-key`.
 * @param {Entry[]} entries
 */
export function makeFields(entries) {
  const byKey = new Map(entries.map((entry) => [entry.key, entry]));
  for (const box of document.querySelectorAll('[data-fields]')) {
    const keys = box instanceof HTMLElement ? (box.dataset.fields ?? '').split(' ') : [];
    for (const key of keys) {
      const entry = byKey.get(key);
      if (entry) box.append(makeField(entry));
    }
  }
  for (const input of document.querySelectorAll('input[data-key]')) {
    const entry = input instanceof HTMLInputElement ? byKey.get(input.dataset.key ?? '') : undefined;
    if (entry && input instanceof HTMLInputElement) wire(input, entry);
  }
}

/**
 * Keeps a box filled with exactly these fields: made anew when they are others.
 * @param {HTMLElement} box
 * @param {Entry[]} entries
 */
export function keepFieldsIn(box, entries) {
  const keys = entries.map((entry) => [entry.key, ...entry.names].join('\n')).join(' ');
  if (box.dataset.shown === keys) return;
  box.dataset.shown = keys;
  for (const old of box.querySelectorAll('[data-key]')) {
    if (old instanceof HTMLInputElement || old instanceof HTMLSelectElement) {
      controls.get(old.dataset.key ?? '')?.delete(old);
    }
  }
  box.replaceChildren(...entries.map(makeField));
}

/** @param {Entry} entry */
function makeField(entry) {
  const isChoice = entry.choices.length + entry.names.length > 0;
  const control = isChoice ? makeChoice(entry) : makeInput(entry);
  const label = make('label', { className: 'field' },
    make('span', { text: entry.label }), control);
  if (isText(entry)) label.classList.add('wide');
  const box = make('div', { className: 'field-box' }, label);
  if (entry.unit) box.append(makeUnit(entry));
  box.dataset.fieldBox = entry.key;
  wire(control, entry);
  return box;
}

/** @param {Entry} entry */
function isText({ kind }) {
  return kind === 'text' || kind === 'wood';
}

/** @param {Entry} entry */
function makeChoice(entry) {
  const select = make('select');
  for (const choice of entry.choices) {
    const option = make('option', { text: word(`choice.${choice}`) });
    option.value = choice;
    select.append(option);
  }
  entry.names.forEach((name, place) => {
    const option = make('option', { text: name });
    option.value = String(place);
    select.append(option);
  });
  return select;
}

/** @param {Entry} entry */
function makeInput(entry) {
  const input = make('input');
  input.type = entry.kind === 'color' ? 'color' : 'text';
  input.autocomplete = 'off';
  return input;
}

/** @param {Entry} entry */
function makeUnit(entry) {
  if (entry.kind !== 'length' && entry.kind !== 'temperature') return make('span', { className: 'unit', text: entry.unit });
  const button = make('button', { className: 'unit' });
  button.type = 'button';
  units.set(entry.key, button);
  button.addEventListener('click', () => opensUnits());
  return button;
}

/**
 * What the plan has for each field of a row: shown where nothing was measured.
 * @param {HTMLElement} row
 * @param {string[]} planned
 */
export function setPlanned(row, planned) {
  row.querySelectorAll('input').forEach((input, at) => { input.placeholder = planned[at] ?? ''; });
}

/** As in the style sheet. */
const MESSAGE_WIDTH_PX = 240;

/** @type {Map<string, HTMLElement>} */
const drawnFields = new Map();

/**
 * Lays the fields of a drawing over it, each at its place.
 * @param {HTMLElement} box
 * @param {import('./ringwright.js').Place[]} places
 * @param {Entry[]} entries
 * @param {number} width
 * @param {number} height of the drawing
 */
export function placeFields(box, places, entries, width, height) {
  for (const place of places) {
    let field = drawnFields.get(place.key);
    if (!field) {
      const entry = entries.find((each) => each.key === place.key);
      if (!entry) continue;
      field = makeDrawnField(entry);
      drawnFields.set(place.key, field);
      box.append(field);
    }
    field.style.left = `${place.left}px`;
    field.style.top = `${place.top}px`;
    field.style.width = `${place.width}px`;
    field.style.height = `${place.height}px`;
    field.classList.toggle('upward', place.height > place.width);
    // Its message stands where it is whole: over a low field, and within the drawing's sides.
    field.classList.toggle('low', place.top > height / 2);
    const most = Math.max(0, width - MESSAGE_WIDTH_PX);
    field.style.setProperty('--message-left', `${Math.min(0, most - place.left)}px`);
  }
}

/**
 * A bare field for a place on a drawing.
 * @param {Entry} entry
 */
export function makeDrawnField(entry) {
  const input = makeInput(entry);
  input.setAttribute('aria-label', entry.label);
  const box = make('div', { className: 'drawn-field' }, input);
  box.dataset.fieldBox = entry.key;
  wire(input, entry);
  return box;
}

/**
 * @param {Control} control
 * @param {Entry} entry
 */
function wire(control, entry) {
  const { key } = entry;
  control.dataset.key = key;
  const those = controls.get(key) ?? new Set();
  controls.set(key, those.add(control));
  if (entry.kind === 'wood' && control instanceof HTMLInputElement) {
    // A name that is half typed is none yet.
    woodListFor(control, {
      asks: key.endsWith('.like') ? 'never' : 'after',
      onType: () => typing(key),
      take: (name, isSameStep) => {
        typed(key, name, isSameStep);
        settle();
        setField(control, key, entryText(key));
      },
    });
  } else control.addEventListener('input', () => typed(key, control.value));
  control.addEventListener('change', () => {
    tellPair(key);
    settle();
    setField(control, key, entryText(key));
  });
  control.addEventListener('blur', () => {
    settle();
    hold('');
    setField(control, key, entryText(key));
  });
  control.addEventListener('focus', () => {
    hold(key);
    if (control instanceof HTMLInputElement && control.type === 'text') control.select();
  });
  if (control instanceof HTMLInputElement) {
    control.addEventListener('keydown', (event) => {
      if (event.key === 'Enter' && !goOn(control)) control.blur();
    });
    if (!isText(entry) && entry.kind !== 'color') keypadFor(control, entry.label, entry.kind);
  }
}

/**
 * A field of slots may go for another set too: what was changed is said.
 * @param {string} key
 */
function tellPair(key) {
  if (key.startsWith('vessel.slot_sets.') && isTaken(key)) say(`${word('did.done')}: ${stepsSaid().undo}`);
}

/** @type {Map<string, string>} */
const texts = new Map();

/** @param {string} key */
function entryText(key) {
  return record().drafts[key] ?? texts.get(key) ?? '';
}

/**
 * Brings every field up to date; the one being typed in keeps its text.
 * @param {Entry[]} entries
 * @param {Message[]} messages what the plan could not compute
 */
export function setFields(entries, messages) {
  for (const entry of entries) texts.set(entry.key, entry.text);
  for (const entry of entries) {
    const message = typedMessages().get(entry.key) ?? messages.find((each) => each.field === entry.key);
    for (const control of controls.get(entry.key) ?? []) {
      if (control !== document.activeElement || typingIn() !== entry.key) setField(control, entry.key, entryText(entry.key));
      setMessage(control, message);
      control.closest('[data-field-box]')?.toggleAttribute('hidden', entry.is_hidden);
    }
    const unit = units.get(entry.key);
    if (unit && unit.textContent !== entry.unit) {
      unit.textContent = entry.unit;
      unit.setAttribute('aria-label', `${entry.unit}: ${word('unit.change')}`);
    }
  }
}

/**
 * @param {Control} control
 * @param {string} key
 * @param {string} text
 */
function setField(control, key, text) {
  if (control.value !== text) control.value = text;
  // With what it leaves over a length is longer than its place on a drawing.
  control.classList.toggle('long', / [+−]/u.test(text));
  control.classList.toggle('untaken', key in record().drafts && typedMessages().has(key));
}

/**
 * Puts a message right at its field, and takes it away again.
 * @param {Control} control
 * @param {Message | undefined} message
 */
function setMessage(control, message) {
  const box = control.closest('[data-field-box]');
  if (!box) return;
  const key = control.dataset.key ?? '';
  // A field may stand in two places at once.
  const id = `message-${[...controls.get(key) ?? []].indexOf(control)}-${key.replaceAll('.', '-')}`;
  const old = box.querySelector('.field-message');
  control.toggleAttribute('aria-invalid', Boolean(message));
  if (!message) {
    old?.remove();
    control.removeAttribute('aria-describedby');
    return;
  }
  const text = `${message.reason} ${message.remedy}`;
  control.setAttribute('aria-invalid', 'true');
  control.setAttribute('aria-describedby', id);
  if (old) {
    old.textContent = text;
    return;
  }
  const note = make('p', { className: 'field-message', text });
  note.id = id;
  note.setAttribute('role', 'status');
  box.append(note);
  if (control === document.activeElement && box.classList.contains('drawn-field')) note.scrollIntoView({ block: 'nearest' });
}
