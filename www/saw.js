/**
 * At the saw: one step fills the screen, to be read from two meters away and turned over
 * with a knuckle. The screen is kept on meanwhile.
 */

import { setClock } from './clock.js';
import { cautionLine, howDone, setFigures } from './figures.js';
import { byId } from './page.js';
import { word } from './words.js';

/** @typedef {import('./ringwright.js').StepShown} StepShown */

/** @type {{ steps: () => StepShown[], tick: (id: string) => void, onUnit: () => void }} */
let bench = { steps: () => [], tick: () => {}, onUnit: () => {} };

/** The step that is shown. */
let shownId = '';

/** @type {WakeLockSentinel | null} */
let awake = null;

/** @param {typeof bench} given */
export function setUpSaw(given) {
  bench = given;
  const dialog = byId('at-saw', HTMLDialogElement);
  byId('at-saw-back', HTMLButtonElement).addEventListener('click', () => turn(-1));
  byId('at-saw-next', HTMLButtonElement).addEventListener('click', () => turn(1));
  byId('at-saw-tick', HTMLButtonElement).addEventListener('click', () => {
    bench.tick(shownId);
    // What is done goes on to what comes next.
    if (bench.steps().some((step) => step.id === shownId && step.ticked === 'yes')) turn(1);
  });
  dialog.addEventListener('keydown', (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    if (event.key === 'ArrowRight' || event.key === 'PageDown') turn(1);
    else if (event.key === 'ArrowLeft' || event.key === 'PageUp') turn(-1);
    else return;
    event.preventDefault();
  });
  dialog.addEventListener('close', () => void letSleep());
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible' && dialog.open) void stayAwake();
  });
}

/** @param {string} id */
export function openSaw(id) {
  shownId = id;
  byId('at-saw', HTMLDialogElement).showModal();
  showSaw();
  byId('at-saw-next', HTMLButtonElement).focus();
  void stayAwake();
}

/** @param {-1 | 1} way */
function turn(way) {
  const steps = bench.steps();
  const at = steps.findIndex((step) => step.id === shownId);
  const step = steps[at + way];
  if (!step) return;
  shownId = step.id;
  showSaw();
}

/** Shows the step, while it fills the screen. */
export function showSaw() {
  const dialog = byId('at-saw', HTMLDialogElement);
  if (!dialog.open) return;
  const steps = bench.steps();
  const step = steps.find((each) => each.id === shownId) ?? steps[0];
  if (!step) {
    dialog.close();
    return;
  }
  const isOther = byId('at-saw-place', HTMLElement).textContent !== step.place;
  shownId = step.id;
  byId('at-saw-place', HTMLElement).textContent = step.place;
  byId('at-saw-title', HTMLElement).textContent = `${step.title} ${step.of_wood}`.trim();
  setClock(byId('at-saw-clock', HTMLElement), step.id, `${step.title} ${step.of_wood}`.trim());
  setFigures(byId('at-saw-figures', HTMLElement), step.saw);
  setFigures(byId('at-saw-list', HTMLElement), step.list);
  const says = byId('at-saw-says', HTMLElement);
  says.replaceChildren(howDone(step));
  if (step.is_list_first) says.before(byId('at-saw-list', HTMLElement));
  else byId('at-saw-cautions', HTMLElement).after(byId('at-saw-list', HTMLElement));
  byId('at-saw-cautions', HTMLElement).replaceChildren(...step.cautions.map(cautionLine));
  const tick = byId('at-saw-tick', HTMLButtonElement);
  tick.setAttribute('aria-pressed', String(step.ticked === 'yes'));
  byId('at-saw-back', HTMLButtonElement).disabled = step === steps[0];
  byId('at-saw-next', HTMLButtonElement).disabled = step === steps.at(-1);
  if (isOther) byId('at-saw-body', HTMLElement).scrollTop = 0;
}

/** Asks for the screen to stay on; says so where it cannot be. */
async function stayAwake() {
  const says = byId('awake', HTMLElement);
  try {
    awake = await navigator.wakeLock.request('screen');
    says.textContent = word('bench.awake');
    // Closed while the browser was asked.
    if (!byId('at-saw', HTMLDialogElement).open) await letSleep();
  } catch {
    // No wake lock in this browser, or refused (battery saver): the turner is told.
    says.textContent = word('bench.not_awake');
  }
}

async function letSleep() {
  const held = awake;
  awake = null;
  await held?.release();
}
