/**
 * The glue's clocks: at the bench's head all that run, with what can be done meanwhile; in a step its own. What
 * is told of them is told by the library, from the moment that it is handed: no timer is needed for a clock to
 * be right, and one only shows it anew while the page is in view.
 */

import { ask } from './door.js';
import { setFigures } from './figures.js';
import { copyText } from './files.js';
import { keypadFor } from './keypad.js';
import { notice } from './notices.js';
import { byId, make, makeButton, onTap, readersLanguage, setLines } from './page.js';
import { setPhotos } from './step_photos.js';
import { word } from './words.js';
import { design, done, record, takeDone } from './work.js';

/** @typedef {import('./ringwright.js').ClocksShown} ClocksShown */
/** @typedef {import('./ringwright.js').ClockShown} ClockShown */
/** @typedef {import('./ringwright.js').DoneNow} DoneNow */
/** @typedef {import('./ringwright.js').LogLine} LogLine */

const REFRESH_MILLISECONDS = 60_000;

/** @type {ClocksShown | null} */
let shown = null;

/** @type {(id: string) => void} */
let openStep = () => {};

let afterRefresh = () => {};

/**
 * @param {{ open: (id: string) => void, refreshed: () => void }} bench what opens a step and brings it into
 *   view, and what is shown anew with the clocks
 */
export function setUpClocks(bench) {
  openStep = bench.open;
  afterRefresh = bench.refreshed;
  onTap('log-copy', () => void copyLog());
  byId('bench-log', HTMLDetailsElement).addEventListener('toggle', showLog);
  setInterval(refresh, REFRESH_MILLISECONDS);
  // Back from sleep, from another app, or from the browser's memory of pages.
  for (const event of ['focus', 'pageshow']) window.addEventListener(event, refresh);
  document.addEventListener('visibilitychange', refresh);
}

function refresh() {
  if (document.visibilityState !== 'visible' || record().place !== 'bench' || (shown?.clocks.length ?? 0) === 0) return;
  showClocks();
  afterRefresh();
}

/** Shows the clocks at the head of the bench. */
export function showClocks() {
  const language = readersLanguage();
  const clocks = ask((library) => library.show_clocks(design(), done(), Date.now(), language));
  shown = clocks;
  const all = clocks?.clocks ?? [];
  byId('bench-clocks', HTMLElement).hidden = all.length === 0;
  const keys = all.map((each) => `${record().id} ${each.entry} ${each.title}`);
  for (const key of lines.keys()) if (!keys.includes(key)) lines.delete(key);
  setLines(byId('clock-list', HTMLElement), all.map((each, at) => lineOf(keys[at] ?? '', each)));
  showLog();
  const free = clocks?.steps_now ?? [];
  byId('clock-now-title', HTMLElement).hidden = free.length === 0;
  byId('clock-nothing', HTMLElement).hidden = free.length > 0 || !clocks?.is_waiting;
  const text = JSON.stringify(free);
  const list = byId('clock-now', HTMLElement);
  if (list.dataset.shown !== text) {
    list.dataset.shown = text;
    list.replaceChildren(...free.map((step) => make('li', {}, makeButton(step.title, () => openStep(step.id)))));
  }
}

/** @typedef {{ line: HTMLElement, title: HTMLButtonElement, says: HTMLElement, times: HTMLElement, air: HTMLDetailsElement, warmth: HTMLElement, degrees: HTMLElement, ofGlue: HTMLElement[], now: ClockShown }} ClockLine */

/** The page's elements of each clock, so that a minute that passes moves nothing under a hand. @type {Map<string, ClockLine>} */
const lines = new Map();

/**
 * @param {string} key
 * @param {ClockShown} clock
 */
function lineOf(key, clock) {
  const each = lines.get(key) ?? makeLine(clock);
  // What cannot go on by itself is opened once.
  const isStuck = ['ahead', 'cold'].includes(clock.stage);
  if (isStuck && (!lines.has(key) || each.now.stage !== clock.stage)) each.air.open = true;
  lines.set(key, each);
  each.now = clock;
  each.line.dataset.stage = clock.stage;
  each.title.disabled = clock.step === '';
  setText(each.title, clock.title);
  setText(each.says, clock.says);
  setText(each.warmth, clock.air);
  // A coat dries as its can says: nothing is told of the air around it.
  for (const part of each.ofGlue) part.hidden = !clock.is_glue;
  setText(each.degrees, shown?.degrees ?? '');
  setFigures(each.times, clock.times);
  return each.line;
}

/** @param {HTMLElement} element @param {string} text */
function setText(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/** @param {ClockShown} clock */
function makeLine(clock) {
  const title = makeButton('', () => openStep(made.now.step));
  title.className = 'clock-title';
  const says = make('p', { className: 'clock-says' });
  const times = make('dl', { className: 'clock-times' });
  const warmth = make('span');
  const degrees = make('span', { className: 'unit' });
  const input = make('input');
  input.type = 'text';
  input.autocomplete = 'off';
  keypadFor(input, word('clock.there'), 'temperature');
  const problem = make('p', { className: 'field-message' });
  problem.hidden = true;
  problem.setAttribute('role', 'alert');
  /** @param {number | undefined} entry the clock that is told; all where it is none */
  const tell = (entry) => {
    const now = ask((library) => library.tell_air(design(), done(), entry, input.value, Date.now()));
    const [message] = now.messages;
    problem.hidden = !message;
    problem.textContent = message ? `${message.reason} ${message.remedy}`.trim() : '';
    if (message) input.setAttribute('aria-invalid', 'true');
    else input.removeAttribute('aria-invalid');
    if (!now.done) return;
    input.value = '';
    made.air.open = false;
    takeDone(now);
  };
  const field = make('div', { className: 'field-box' }, make('label', { className: 'field' }, make('span', { text: word('clock.there') }), input), degrees);
  const tellOne = makeButton(word('clock.this_one'), () => tell(made.now.entry));
  const tellAll = makeButton(word('clock.all'), () => tell(undefined));
  const air = make('details', { className: 'clock-air' }, make('summary', {}, warmth), field, problem,
    make('p', { className: 'actions' }, tellOne, tellAll,
      makeButton(word('clock.again'), () => takeDone(ask((library) => library.start_clock_again(done(), made.now.entry, made.now.title, Date.now())))),
      makeButton(word('clock.stop'), () => takeDone(ask((library) => library.stop_clock(done(), made.now.entry, made.now.title))))));
  const line = make('li', { className: 'clock' }, title, says, times, air);
  /** @type {ClockLine} */
  const made = { line, title, says, times, air, warmth, degrees, ofGlue: [field, tellOne, tellAll], now: clock };
  return made;
}

/** Shows the log, where anything of it has changed. */
function showLog() {
  const lines = shown?.log.lines ?? [];
  const cameTo = shown?.log.came_to ?? [];
  const list = byId('log-lines', HTMLElement);
  // Pictures are fetched when they are looked at.
  const { open } = byId('bench-log', HTMLDetailsElement);
  const text = JSON.stringify([lines, cameTo, open]);
  if (list.dataset.shown === text) return;
  list.dataset.shown = text;
  byId('log-says', HTMLElement).textContent = shown?.log.says ?? '';
  byId('log-none', HTMLElement).hidden = lines.length > 0;
  byId('log-actions', HTMLElement).hidden = lines.length === 0;
  byId('log-came-to', HTMLElement).hidden = cameTo.length === 0;
  byId('log-came-to-list', HTMLElement).replaceChildren(...cameTo.map((told) => make('li', { text: told })));
  list.replaceChildren(...lines.map((line) => make('li', {},
    make('span', { className: 'quiet', text: line.when }), document.createTextNode(` ${line.what}`),
    ...line.note === '' ? [] : [make('p', { text: line.note })],
    ...open && line.photos.length > 0 ? [tilesOf(line)] : [])));
}

/** @param {LogLine} line */
function tilesOf(line) {
  const tiles = make('div', { className: 'photo-tiles' });
  setPhotos(tiles, line.photos, line.what);
  return tiles;
}

async function copyLog() {
  const isCopied = await copyText(shown?.log.text ?? '');
  if (isCopied) notice('log', word('log.copied'), 'done');
  else notice('log', word('log.not_copied'));
}

/**
 * The field for a step's note.
 * @param {string} id
 * @param {() => string} title
 */
export function makeNote(id, title) {
  const input = make('input');
  input.type = 'text';
  input.autocomplete = 'off';
  const problem = make('p', { className: 'field-message' });
  problem.hidden = true;
  problem.setAttribute('role', 'alert');
  input.addEventListener('change', () => {
    const now = ask((library) => library.note_step(design(), done(), id, title(), input.value.normalize('NFC'), Date.now()));
    const [message] = now.messages;
    problem.hidden = !message;
    problem.textContent = message ? `${message.reason} ${message.remedy}` : '';
    if (message) input.setAttribute('aria-invalid', 'true');
    else input.removeAttribute('aria-invalid');
    if (now.done) takeDone(now);
  });
  return make('div', { className: 'field-box step-note' },
    make('label', { className: 'field wide' }, make('span', { text: word('log.note') }), input), problem);
}

/**
 * Shows what was noted of a step; what a hand is typing, and what could not be taken, is left alone.
 * @param {HTMLElement} box
 * @param {string} id
 */
export function setNote(box, id) {
  const input = box.querySelector('input');
  const text = shown?.notes.find((each) => each.id === id)?.text ?? '';
  if (!input || input === document.activeElement || input.hasAttribute('aria-invalid')) return;
  if (input.value !== text) input.value = text;
}

/** The names of a step's photographs. @param {string} id */
export function photosOf(id) {
  return shown?.notes.find((each) => each.id === id)?.photos ?? [];
}

/** What each box of a step's clock shows. @type {WeakMap<HTMLElement, string>} */
const shownIn = new WeakMap();

/** The clock of a step; nothing where none runs. @param {string} id */
export function clockOf(id) {
  return shown?.clocks.find((each) => each.step === id);
}

/**
 * A step's own clock, or where glue goes on the button that starts it.
 * @param {HTMLElement} box
 * @param {string} id
 * @param {string} title
 */
export function setClock(box, id, title) {
  const isGlueUp = shown?.glue_ups.includes(id) ?? false;
  const clock = clockOf(id);
  const text = JSON.stringify([isGlueUp, clock?.says, clock?.times, id, title]);
  box.hidden = !isGlueUp && !clock;
  if (shownIn.get(box) === text) return;
  shownIn.set(box, text);
  if (!clock) {
    const spread = makeButton(word('clock.glue_on'), () => takeDone(ask((library) => library.spread_glue(design(), done(), id, title, Date.now()))));
    spread.className = 'main-action glue-on';
    box.replaceChildren(spread);
    return;
  }
  const times = make('dl', { className: 'clock-times' });
  setFigures(times, clock.times);
  box.replaceChildren(make('p', { className: 'clock-says', text: clock.says }), times);
}
