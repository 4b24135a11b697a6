/** The Bench place: the order of work, step by step, each with its numbers and a tick. */

import { change } from './change.js';
import { clockOf, makeNote, photosOf, setClock, setNote, setUpClocks, showClocks } from './clock.js';
import { ask } from './door.js';
import { showEvenings } from './evening.js';
import { keepFieldsIn, setFields, setPlanned } from './fields.js';
import { cautionLine, figure, howDone, setFigures } from './figures.js';
import { safeFileName, saveAndSay } from './files.js';
import { byId, make, makeButton, onTap, setLines, setPicture } from './page.js';
import { measureTrue, notOutOfTrue, setUpTrue, showTrue } from './out_of_true.js';
import { setUpSaw, showSaw, openSaw } from './saw.js';
import { makePhotos, setPhotos } from './step_photos.js';
import { setTable } from './table.js';
import { showThing } from './vessel.js';
import { word } from './words.js';
import { design, done, record, takeDone, titleNow } from './work.js';

/** @typedef {import('./ringwright.js').BenchScreen} BenchScreen */
/** @typedef {import('./ringwright.js').StepShown} StepShown */
/** @typedef {import('./ringwright.js').Message} Message */

/** What is open is shown, not kept. @type {Set<string>} */
const open = new Set();

/** The design whose next step was opened by itself. */
let openedFor = '';

/** The page's elements of each step, so that a change leaves the focus where it is. @type {Map<string, StepLine>} */
const lines = new Map();

/** @typedef {{ line: HTMLElement, tick: HTMLInputElement, title: HTMLButtonElement, gist: HTMLElement, body: HTMLElement, clock: HTMLElement, note: HTMLElement, photos: HTMLElement, shown: string }} StepLine */

/** @type {BenchScreen | null} */
let screen = null;

let openUnits = () => {};

/**
 * @param {() => void} open
 */
export function setUpBench(open) {
  openUnits = open;
  onTap('bench-measured', () => endMeasuring());
  onTap('bench-not-glued', () => {
    if (measuring !== null) change({ kind: 'planned', ring: measuring });
    endMeasuring();
  });
  setUpTrue({ ended: openStep, onUnit: openUnits });
  onTap('meet-lower', () => meet(screen?.meet_lower));
  onTap('meet-higher', () => meet(screen?.meet_higher));
  onTap('meet-own', () => change({ kind: 'meet_own' }));
  onTap('saw-open', () => openSaw(nextToDo()?.id ?? ''));
  setUpClocks({ open: openStep, refreshed: setOpenClocks });
  setUpSaw({ steps: () => screen?.steps ?? [], tick: tickStep, onUnit: openUnits });
  byId('bench-stations', HTMLDetailsElement).addEventListener('toggle', showBench);
  byId('bench-plug', HTMLDetailsElement).addEventListener('toggle', showBench);
  const resized = new ResizeObserver(() => {
    for (const each of lines.values()) each.shown = '';
    showBench();
  });
  resized.observe(byId('bench-steps', HTMLElement));
}

/** The ring that is being measured, by its place. @type {number | null} */
let measuring = null;

/**
 * Takes a ring as glued, and asks for its sizes where the hands are.
 * @param {number} ring
 */
function measure(ring) {
  // Its steps are done with: the log says when.
  const step = screen?.steps.find((each) => (each.measures ?? null) === ring);
  if (step && step.ticked !== 'yes') takeTick(step);
  measuring = ring;
  change({ kind: 'glued', ring });
  const field = byId('bench-measure-fields', HTMLElement).querySelector('input');
  field?.scrollIntoView({ block: 'center' });
  field?.focus({ preventScroll: true });
}

/** Nothing is measured here any more; the step that comes next is in view. */
function endMeasuring() {
  measuring = null;
  const next = nextToDo();
  if (next) open.add(next.id);
  showBench();
  const line = next && lines.get(next.id)?.line;
  line?.scrollIntoView({ block: 'center' });
  line?.querySelector('button')?.focus({ preventScroll: true });
}

/** @param {BenchScreen} shown */
function showMeasure(shown) {
  const row = shown.glued.find((each) => each.place === measuring);
  // Undone: it is not glued any more.
  if (!row) measuring = null;
  byId('bench-measure', HTMLElement).hidden = !row;
  keepFieldsIn(byId('bench-measure-fields', HTMLElement), row?.entries ?? []);
  if (!row) return;
  byId('bench-measure-title', HTMLElement).textContent = `${word('vessel.ring')} ${row.number}: ${word('vessel.glued')}`;
  setFields(row.entries, []);
  setPlanned(byId('bench-measure-fields', HTMLElement), row.planned);
}

/**
 * Opens a step and brings it into view.
 * @param {string} id
 */
function openStep(id) {
  if (!screen?.steps.some((step) => step.id === id)) return;
  open.add(id);
  for (const chapter of screen.chapters) {
    if (chapter.folds.some((fold) => fold.steps.includes(id))) byHand.set(chapter.title, true);
    for (const fold of chapter.folds) if (fold.title !== '' && fold.steps.includes(id)) byHand.set(fold.title, true);
  }
  showBench();
  const each = lines.get(id);
  each?.line.scrollIntoView({ block: 'start' });
  each?.title.focus({ preventScroll: true });
}

/** Shows the clocks of the open steps, and what fits into the evening now. */
function setOpenClocks() {
  showEvenings(openStep);
  for (const step of screen?.steps ?? []) {
    const each = lines.get(step.id);
    if (each && open.has(step.id)) setClock(each.clock, step.id, nameOf(step));
  }
  showSaw();
}

/** What a step is called, with its wood. @param {StepShown} step */
function nameOf(step) {
  return `${step.title} ${step.of_wood}`.trim();
}

/** @param {number | null | undefined} above the rings below the joint */
function meet(above) {
  if (typeof above === 'number') change({ kind: 'meet', above });
}

/** The first step that is not done. */
function nextToDo() {
  return screen?.steps.find((step) => step.ticked !== 'yes') ?? screen?.steps[0];
}

/** Shows the place, while it is open. */
export function showBench() {
  if (record().place !== 'bench') return;
  const isBegun = design().vessel !== null;
  screen = isBegun ? ask((library) => library.show_bench(design(), record().ticks)) : null;
  byId('bench-empty', HTMLElement).hidden = isBegun;
  byId('bench-none', HTMLElement).hidden = !isBegun || screen !== null;
  byId('bench-work', HTMLElement).hidden = screen === null;
  if (!screen) return;
  if (openedFor !== record().id) {
    openedFor = record().id;
    measuring = null;
    notOutOfTrue();
    open.clear();
    byHand.clear();
    const next = nextToDo();
    if (next) open.add(next.id);
  }
  byId('bench-progress', HTMLElement).textContent = screen.progress;
  showClocks();
  showEvenings(openStep);
  showSetup(screen);
  showMeasure(screen);
  showTrue();
  showSteps(screen);
  showPlugs(screen);
  if (byId('bench-stations', HTMLDetailsElement).open) {
    setTable(byId('station-table', HTMLTableElement), screen.stations);
  }
  showSaw();
}

/** @param {BenchScreen} shown */
function showSetup(shown) {
  const { entries } = shown;
  const those = (/** @type {string[]} */ ...keys) => entries.filter((each) => keys.includes(each.key));
  keepFieldsIn(byId('bench-fields', HTMLElement), those('bench.glue', 'climate.shop_temperature_c', 'bench.rings_close', 'bench.overhang_mm'));
  keepFieldsIn(byId('station-fields', HTMLElement), those('bench.station_mm'));
  keepFieldsIn(byId('plug-fields', HTMLElement), those('bench.plug_clearance_mm', 'bench.plug_bore_mm'));
  setFields(entries, []);
  byId('glue-now', HTMLElement).textContent = shown.glue_now;
  setFigures(byId('glue-list', HTMLElement), shown.glue, { onUnit: openUnits });
  const cautions = byId('glue-cautions', HTMLElement);
  cautions.hidden = shown.glue_cautions.length === 0;
  cautions.querySelector('ul')?.replaceChildren(...shown.glue_cautions.map(cautionLine));
  showFinish(shown.finish);
  byId('meeting-now', HTMLElement).textContent = shown.meets;
  byId('meeting-says', HTMLElement).textContent = shown.meeting;
  byId('meet-lower', HTMLButtonElement).disabled = (shown.meet_lower ?? null) === null;
  byId('meet-higher', HTMLButtonElement).disabled = (shown.meet_higher ?? null) === null;
  byId('meet-own', HTMLButtonElement).disabled = shown.is_own;
}

/** @param {BenchScreen['finish']} finish */
function showFinish(finish) {
  const { entries } = finish;
  keepFieldsIn(byId('finish-fields', HTMLElement), entries);
  setFields(entries, []);
  byId('finish-now', HTMLElement).textContent = finish.now;
  setFigures(byId('finish-list', HTMLElement), finish.list, { onUnit: openUnits });
  const cautions = byId('finish-cautions', HTMLElement);
  cautions.hidden = finish.cautions.length === 0;
  cautions.querySelector('ul')?.replaceChildren(...finish.cautions.map(cautionLine));
  byId('finish-notes', HTMLElement).replaceChildren(...finish.notes.map((text) => make('p', { text })));
}

/**
 * A chapter, or steps alike: a heading that opens and closes its list.
 * @typedef {{ box: HTMLElement, head: HTMLButtonElement, says: HTMLElement, list: HTMLElement }} Folding
 */

/** @type {Map<string, Folding>} */
const foldings = new Map();

/** What was opened or closed by hand, by its heading. @type {Map<string, boolean>} */
const byHand = new Map();

/** @param {BenchScreen} shown */
function showSteps(shown) {
  const steps = new Map(shown.steps.map((step) => [step.id, step]));
  const next = nextToDo();
  const boxes = shown.chapters.map((chapter) => {
    const folding = foldingOf('section', chapter.title, chapter, !chapter.is_done);
    setLines(folding.list, chapter.folds.flatMap((fold) => {
      const own = fold.steps.flatMap((id) => steps.get(id) ?? []);
      const stepLines = own.map((step) => {
        const each = lineOf(step);
        setStep(each, step, step === next);
        return each.line;
      });
      if (fold.title === '') return stepLines;
      const isAt = own.some((step) => step === next || open.has(step.id));
      const alike = foldingOf('li', fold.title, fold, isAt);
      setLines(alike.list, stepLines);
      return alike.box;
    }));
    return folding.box;
  });
  setLines(byId('bench-steps', HTMLElement), boxes);
  for (const id of lines.keys()) if (!steps.has(id)) lines.delete(id);
  // A drawing is as wide as its place, which it has only now.
  for (const step of shown.steps) {
    const each = lines.get(step.id);
    if (each && open.has(step.id)) fillStep(each, step);
  }
}

/**
 * @param {'section' | 'li'} kind
 * @param {string} title
 * @param {{ says: string, is_done: boolean }} now
 * @param {boolean} isOpenAtFirst until a hand says otherwise
 */
function foldingOf(kind, title, now, isOpenAtFirst) {
  const folding = foldings.get(title) ?? makeFolding(kind, title);
  foldings.set(title, folding);
  const isOpen = byHand.get(title) ?? isOpenAtFirst;
  folding.head.setAttribute('aria-expanded', String(isOpen));
  folding.list.hidden = !isOpen;
  folding.box.dataset.ticked = now.is_done ? 'yes' : 'no';
  if (folding.says.textContent !== now.says) folding.says.textContent = now.says;
  return folding;
}

/**
 * @param {'section' | 'li'} kind
 * @param {string} title
 * @returns {Folding}
 */
function makeFolding(kind, title) {
  const head = makeButton(title, () => {
    byHand.set(title, head.getAttribute('aria-expanded') !== 'true');
    showBench();
  });
  head.className = 'fold-title';
  const says = make('span', { className: 'step-gist' });
  const list = make('ol', { className: 'steps' });
  const heading = make(kind === 'section' ? 'h2' : 'h3', {}, head);
  const box = make(kind, { className: kind === 'section' ? 'chapter' : 'step-fold' },
    make('div', { className: 'step-line' }, heading, says), list);
  return { box, head, says, list };
}

/** @param {StepShown} step */
function lineOf(step) {
  return lines.get(step.id) ?? makeLine(step.id);
}

/** @param {string} id */
function makeLine(id) {
  const tick = make('input');
  tick.type = 'checkbox';
  tick.addEventListener('change', () => tickStep(id));
  const title = makeButton('', () => {
    if (!open.delete(id)) open.add(id);
    showBench();
  });
  title.className = 'step-title';
  const gist = make('span', { className: 'step-gist' });
  const body = make('div', { className: 'step-body' });
  body.id = `step-${id}`;
  title.setAttribute('aria-controls', body.id);
  const line = make('li', { className: 'step' },
    make('div', { className: 'step-line' }, make('label', { className: 'step-tick' }, tick), title, gist), body);
  line.dataset.step = id;
  const named = () => title.textContent ?? '';
  const [clock, note, photos] = [make('div', { className: 'step-clock' }), makeNote(id, named), makePhotos(id, named)];
  const made = { line, tick, title, gist, body, clock, note, photos, shown: '' };
  lines.set(id, made);
  return made;
}

/**
 * @param {StepLine} each
 * @param {StepShown} step
 * @param {boolean} isNext
 */
function setStep(each, step, isNext) {
  const isOpen = open.has(step.id);
  each.line.dataset.ticked = step.ticked;
  each.tick.checked = step.ticked === 'yes';
  each.tick.indeterminate = step.ticked === 'changed';
  each.tick.setAttribute('aria-label', `${word('bench.tick')}: ${step.title}`);
  const title = nameOf(step);
  if (each.title.textContent !== title) each.title.textContent = title;
  each.title.setAttribute('aria-expanded', String(isOpen));
  if (isNext) each.line.setAttribute('aria-current', 'step');
  else each.line.removeAttribute('aria-current');
  each.body.hidden = !isOpen;
  const clock = step.ticked === 'yes' ? clockOf(step.id) : undefined;
  const gist = clock ? clock.times.slice(0, 1) : step.saw;
  each.gist.hidden = isOpen || gist.length === 0;
  each.gist.classList.toggle('is-clock', clock !== undefined);
  if (!each.gist.hidden) each.gist.replaceChildren(...gist.map((it) =>
    make('span', { className: 'gist-figure' }, make('span', { text: `${it.label} ` }), figure(it.shown))));
  if (!isOpen) {
    each.body.replaceChildren();
    each.shown = '';
  }
}

/**
 * Fills an open step, where anything of it has changed.
 * @param {StepLine} each
 * @param {StepShown} step
 */
function fillStep(each, step) {
  const picture = make('div', { className: 'drawing-box step-drawing' });
  setClock(each.clock, step.id, nameOf(step));
  setNote(each.note, step.id);
  setPhotos(each.photos, photosOf(step.id), nameOf(step));
  const text = JSON.stringify([step, design()]);
  if (each.shown === text) return;
  each.shown = text;
  const saw = make('dl', { className: 'saw-figures' });
  const list = make('dl', { className: 'list' });
  setFigures(saw, step.saw, { onUnit: openUnits });
  setFigures(list, step.list, { onUnit: openUnits });
  const cautions = make('ul', { className: 'safety step-cautions' }, ...step.cautions.map(cautionLine));
  cautions.hidden = step.cautions.length === 0;
  const changed = make('p', { className: 'step-changed', text: word('bench.changed') });
  changed.hidden = step.ticked !== 'changed';
  const atSaw = makeButton(word('bench.at_saw'), () => openSaw(step.id));
  const ring = step.measures ?? null;
  const toMeasure = ring === null ? [] : [makeButton(word('built.is_glued'), () => measure(ring))];
  const toTrue = step.may_run_out.map(({ ring: at, label }) => makeButton(label, () => measureTrue({ ring: at, step: step.id, title: nameOf(step) })));
  const toDrawing = step.thing === '' ? [] : [makeButton(word('thing.on_drawing'), () => showThing(step.thing))];
  const told = [howDone(step), cautions];
  const below = step.is_list_first ? [list, ...told] : [...told, list];
  each.body.replaceChildren(
    make('div', { className: 'step-words' }, changed, each.clock, saw, ...below,
      make('p', { className: 'actions' }, atSaw, ...toMeasure, ...toTrue, ...toDrawing), each.note, each.photos),
    make('div', { className: 'step-more' }, picture, ...stationTable(step)),
  );
  if (picture.clientWidth === 0) return;
  setPicture(picture, ask((library) => library.bench_picture(
    design(), step.id, picture.clientWidth, picture.clientHeight)));
}

/** @param {StepShown} step */
function stationTable(step) {
  if (step.stations.rows.length === 0) return [];
  const table = make('table');
  setTable(table, step.stations);
  const box = make('div', { className: 'table-box' }, table);
  box.tabIndex = 0;
  box.setAttribute('role', 'region');
  box.setAttribute('aria-label', `${word('bench.stations')}: ${step.title}`);
  return [box];
}

/**
 * Ticks a step, or takes its tick away with its clock.
 * @param {string} id
 */
function tickStep(id) {
  const step = screen?.steps.find((each) => each.id === id);
  if (!step) return;
  takeTick(step, (ticks) => {
    // What is done closes, and what comes next opens in its place.
    if (id in ticks && open.delete(id)) {
      screen = ask((library) => library.show_bench(design(), ticks));
      const next = nextToDo();
      if (next) open.add(next.id);
    }
  });
}

/**
 * @param {StepShown} step
 * @param {(ticks: Record<string, string>) => void} [before] what is done before it is shown
 */
function takeTick(step, before = () => {}) {
  const now = ask((library) => library.tick_step(design(), done(), step.id, nameOf(step), Date.now()));
  before(now.done?.ticks ?? {});
  takeDone(now);
}

/** @param {BenchScreen} shown */
function showPlugs(shown) {
  const box = byId('plug-list', HTMLElement);
  byId('plug-none', HTMLElement).hidden = shown.plugs.length > 0;
  while (box.children.length > shown.plugs.length) box.lastElementChild?.remove();
  shown.plugs.forEach((plug, place) => {
    const one = box.children.item(place) ?? box.appendChild(plugLine(place));
    const title = one.querySelector('h3');
    if (title) {
      title.textContent = plug.title;
      title.hidden = plug.title === '';
    }
    const list = one.querySelector('dl');
    if (list) setFigures(list, plug.steps, { onUnit: openUnits });
    const drawn = one.querySelector('.plug-drawing');
    // Where the fold is shut there is no width to draw it in.
    if (drawn && drawn.clientWidth > 0) {
      setPicture(drawn, ask((library) => library.plug_picture(design(), place, drawn.clientWidth)));
    }
  });
}

/** @param {number} place */
function plugLine(place) {
  const save = makeButton(word('bench.plug_save'), () => void savePlug(place));
  return make('section', { className: 'plug' }, make('h3'),
    make('div', { className: 'plug-drawing' }), make('dl', { className: 'list' }),
    make('p', { className: 'actions' }, save));
}

/** @param {number} place */
async function savePlug(place) {
  const bytes = ask((library) => library.plug_stl(design(), place));
  if (bytes.length === 0) return;
  const plug = screen?.plugs[place]?.title || word('bench.plug');
  const title = `${titleNow()} ${plug}`;
  await saveAndSay('plug', safeFileName(title, '.stl'), 'model/stl', bytes);
}
