/**
 * The work at hand: the open design, its undo list, and what is typed but not taken.
 * Every change goes through here: computed first, then kept, then shown. A change that
 * the library cannot take leaves everything as it was.
 */

import { ask } from './door.js';
import { Keep } from './keep.js';
import { notice, noticeOnce, withdraw } from './notices.js';
import { bestStore, localStorageOf } from './store.js';
import { openLine, randomId } from './tabs.js';
import { LastMoment, prepare } from './takeover.js';
import { word } from './words.js';

/** @typedef {import('./ringwright.js').Design} Design */
/** @typedef {import('./ringwright.js').Message} Message */
/** @typedef {import('./ringwright.js').Done} Done */
/** @typedef {import('./ringwright.js').DoneNow} DoneNow */
/** @typedef {import('./record.js').KeptRecord<Design>} Kept */

const storage = localStorageOf(window);

/** The line to the other tabs. */
export const line = openLine();

/** @type {Keep<Design>} */
export const keep = new Keep({
  store: bestStore(window, storage, () => void save()),
  now: Date.now,
  makeId: () => randomId(crypto),
  tell: (id) => line?.postMessage(id),
});

const lastMoment = new LastMoment(storage, keep.tab);

/** Which design this tab has open, so that a reload comes back to it. */
const TAB_KEY = 'ringwright/tab';

/**
 * `typingIn` is the field whose text belongs to the hand that types, `stepIn` the one whose typing already
 * is a step of undo.
 * @type {{ record: Kept | null, messages: Map<string, Message>, held: string, typingIn: string, stepIn: string, isRowLeft: boolean, guest: string }}
 */
const work = { record: null, messages: new Map(), held: '', typingIn: '', stepIn: '', isRowLeft: false, guest: '' };

/** @type {(() => void)[]} */
const showers = [];

/**
 * Calls this after every change.
 * @param {() => void} show
 */
export function onChange(show) {
  showers.push(show);
}

/**
 * Shows everything anew. Where the library stumbles over one place, that one keeps what it last showed, and the
 * others go on; it is said.
 */
export function show() {
  if (!showsAll()) tellStumble();
}

/**
 * Goes to another place, and stays where one was when that cannot be shown: what it held last may be of another
 * design.
 * @param {string} place
 */
export function goToPlace(place) {
  const kept = record();
  const before = kept.place;
  kept.place = place;
  if (!showsAll()) {
    kept.place = before;
    showsAll();
    tellStumble();
  }
  void save();
}

/** @returns {boolean} whether the library stumbled nowhere */
function showsAll() {
  let isWhole = true;
  for (const each of showers) {
    try {
      each();
    } catch (cause) {
      console.error(cause);
      isWhole = false;
    }
  }
  return isWhole;
}

/** Says once that something could not be shown. */
export function tellStumble() {
  notice('not-shown', word('app.not_shown'));
}

/** @returns {Kept} */
export function record() {
  if (!work.record) throw new Error('no design is open');
  return work.record;
}

/** Whether the open piece has just come by a link of someone else's. */
export function isGuest() {
  return work.guest !== '' && work.guest === record().id;
}

/** The piece that came is the turner's own now. */
export function takeGuest() {
  work.guest = '';
  show();
}

/** The open design. */
export function design() {
  return record().design;
}

/** What the design is called on paper, in files and where it is shared. */
export function titleNow() {
  return ask((library) => library.title_of(design()));
}

/** What stands at the bench beside the design. @returns {Done} */
export function done() {
  const { ticks, log } = record();
  return { ticks, log };
}

/** What is wrong with typed text, by field. */
export function typedMessages() {
  if (judging.key === '') return work.messages;
  return new Map([...work.messages].filter(([key]) => key !== judging.key));
}

/** Typing rests when no key came for so long: what cannot be taken is told then, not at "2" on the way to "24". */
const REST_MILLISECONDS = 900;

/** The field that is not judged yet. @type {{ key: string, timer: ReturnType<typeof setTimeout> | undefined }} */
const judging = { key: '', timer: undefined };

/** Puts off what is to be said of a field until typing in it rests. @param {string} key */
function judgeLater(key) {
  clearTimeout(judging.timer);
  judging.key = key;
  judging.timer = setTimeout(judge, REST_MILLISECONDS);
}

/** Says now what was put off. */
function judge() {
  clearTimeout(judging.timer);
  if (judging.key === '') return;
  judging.key = '';
  show();
}

/** The field that is being touched. */
export function held() {
  return work.held;
}

/** Whether what was typed in a field is the last step. @param {string} key */
export function isTaken(key) {
  return work.stepIn === key;
}

/** The field that is being typed in: its text is left alone. */
export function typingIn() {
  return work.typingIn;
}

/**
 * The whole link of the open design; only its part behind # for a page opened from a
 * file, whose address means nothing elsewhere.
 */
export function linkAddress() {
  const link = `#${ask((library) => library.link_of(design()))}`;
  return isFromFile() ? link : `${location.origin}${location.pathname}${link}`;
}

export function isFromFile() {
  return location.protocol === 'file:';
}

/**
 * Typing in a field: taken at once where it can be. Until the field is left, further
 * typing belongs to the same step of undo.
 * @param {string} key
 * @param {string} text
 * @param {boolean} [isSameStep] whether it belongs to the step before
 */
export function typed(key, text, isSameStep = false) {
  // Paper's typeface has letters with their accents, and no accents by themselves.
  const result = askOrStumble((library) => library.type_in(design(), key, text.normalize('NFC')));
  if (!result) return;
  const { drafts } = record();
  work.typingIn = key;
  if (result.design) {
    work.messages.delete(key);
    const row = rowOf(key);
    if (row !== '') {
      const whole = withRow(result.design, row, key);
      if (whole === null) {
        // Half typed: it waits for the rest of its row.
        drafts[key] = text;
        saveSoon();
        show();
        return;
      }
      result.design = whole;
    }
    delete drafts[key];
    // Text that means the same as before ("10 " on the way to "10 1/2") is no step yet.
    if (take(result.design, isSameStep || work.stepIn === key)) work.stepIn = key;
    return;
  }
  // What was taken of it was only the beginning of this: back to what there was before it was typed in.
  if (work.stepIn === key) takeBack();
  drafts[key] = text;
  const [message] = result.messages;
  if (message) {
    if (!work.messages.has(key) || judging.key === key) judgeLater(key);
    work.messages.set(key, message);
  }
  saveSoon();
  show();
}

/** Takes back what was typed in a field so far, as if it had not been. */
function takeBack() {
  const kept = record();
  kept.design = kept.past.pop() ?? kept.design;
  work.stepIn = '';
  writeAddress();
}

/**
 * The beginning of the keys of a row that is judged as a whole; empty for a field that stands alone.
 * @param {string} key
 */
function rowOf(key) {
  return /^vessel\.rings\.\d+\.measured\./u.exec(key)?.[0] ?? '';
}

/**
 * A design with what waits in a row; nothing where the row cannot be like that and is not left yet.
 * @param {Design} next
 * @param {string} row
 * @param {string} key the field that is typed in
 */
function withRow(next, row, key) {
  const { drafts } = record();
  const waiting = Object.entries(drafts)
    .filter(([other]) => other !== key && other.startsWith(row) && !work.messages.has(other));
  const whole = waiting.reduce(
    (sum, [other, text]) => askOrStumble((library) => library.type_in(sum, other, text))?.design ?? sum, next);
  if (!work.isRowLeft && !ask((library) => library.row_stands(whole, row))) return null;
  for (const [other] of waiting) delete drafts[other];
  return whole;
}

/** A row is left: what waits in it is taken as it is, and its message stands at it. */
export function leaveRow() {
  const { drafts } = record();
  work.isRowLeft = true;
  for (const [key, text] of Object.entries(drafts)) {
    if (rowOf(key) !== '' && key in drafts && !work.messages.has(key)) typed(key, text);
  }
  work.isRowLeft = false;
  settle();
}

/**
 * The field's text is the hand's, though none of it is taken yet.
 * @param {string} key
 */
export function typing(key) {
  work.typingIn = key;
}

/** Ends typing in a field: the next change is a step of its own. */
export function settle() {
  work.typingIn = '';
  work.stepIn = '';
  judge();
}

/**
 * The field being touched lights up in the drawings.
 * @param {string} key
 */
export function hold(key) {
  if (work.held === key) return;
  work.held = key;
  show();
}

/**
 * Makes a design the open one as an undoable change.
 * @param {Design} next
 * @param {boolean} isSameStep
 * @returns {boolean} whether anything changed
 */
export function take(next, isSameStep = false) {
  const kept = record();
  const before = kept.design;
  if (JSON.stringify(before) === JSON.stringify(next)) {
    void save();
    show();
    return false;
  }
  const { future } = kept;
  kept.design = next;
  // Before it is shown: Undo and Redo show what there is now.
  kept.future = [];
  if (!isSameStep) kept.past.push(before);
  atBench.future = [];
  if (!showsAll()) {
    // Back to what was good, in every place.
    kept.design = before;
    kept.future = future;
    if (!isSameStep) kept.past.pop();
    showsAll();
    notice('stumbled', word('app.stumbled'));
    return false;
  }
  saveSoon(isSameStep);
  writeAddress();
  return true;
}

/**
 * @template T
 * @param {(library: typeof import('./ringwright.js')) => T} call
 */
function askOrStumble(call) {
  try {
    return ask(call);
  } catch (cause) {
    console.error(cause);
    notice('stumbled', word('app.stumbled'));
    return null;
  }
}

/**
 * A step at the bench, which changes no design: what it was done beside, what stood there before or after it, and
 * what it did in a few words.
 * @typedef {{ beside: Design, done: Done, said: string }} BenchStep
 */

/**
 * Steps at the bench stand among the steps of undo where they were done: beside the design of then. They are as
 * old as this page; after a reload a tick is taken back by hand. @type {{ past: BenchStep[], future: BenchStep[] }}
 */
const atBench = { past: [], future: [] };

/**
 * Takes what was done at the bench, as a step that can be undone.
 * @param {DoneNow} next
 */
export function takeDone(next) {
  const before = done();
  if (!next.done || JSON.stringify(next.done) === JSON.stringify(before)) {
    show();
    return;
  }
  settle();
  atBench.past.push({ beside: design(), done: before, said: next.said });
  atBench.future = [];
  Object.assign(record(), next.done);
  void save();
  show();
}

/** The last step at the bench that was done beside the open design. @param {BenchStep[]} steps */
function lastBeside(steps) {
  return steps.map((each) => each.beside).lastIndexOf(design());
}

/**
 * @param {BenchStep[]} from
 * @param {BenchStep[]} to
 * @returns {boolean} whether there was a step at the bench
 */
function benchStep(from, to) {
  const at = lastBeside(from);
  const last = from[at];
  if (!last) return false;
  from.splice(at, 1);
  to.push({ ...last, done: done() });
  Object.assign(record(), last.done);
  void save();
  show();
  return true;
}

export function canUndo() {
  return record().past.length > 0 || lastBeside(atBench.past) >= 0;
}

export function canRedo() {
  return record().future.length > 0 || lastBeside(atBench.future) >= 0;
}

export function undo() {
  return benchStep(atBench.past, atBench.future) || step(record().past, record().future);
}

export function redo() {
  return benchStep(atBench.future, atBench.past) || step(record().future, record().past);
}

/**
 * What made the second design of the first, in a few words.
 * @param {Design | undefined} before
 * @param {Design | undefined} after
 */
function said(before, after) {
  if (!before || !after) return '';
  try {
    return ask((library) => library.step_said(before, after));
  } catch {
    return '';
  }
}

/** What Undo takes back, and what Redo does again. */
export function stepsSaid() {
  const { past, future, design: now } = record();
  const [undone, redone] = [atBench.past, atBench.future].map((steps) => steps[lastBeside(steps)]?.said);
  return { undo: undone ?? said(past.at(-1), now), redo: redone ?? said(now, future.at(-1)) };
}

/**
 * Takes the last design of one list, and puts the present one on the other.
 * @param {Design[]} from
 * @param {Design[]} to
 * @returns {boolean} whether anything changed
 */
function step(from, to) {
  const kept = record();
  const before = kept.design;
  let next = from.pop();
  // Every step changes something.
  while (next && JSON.stringify(next) === JSON.stringify(before)) next = from.pop();
  if (!next) {
    show();
    return false;
  }
  kept.design = next;
  to.push(before);
  if (!showsAll()) {
    from.push(next);
    to.pop();
    kept.design = before;
    showsAll();
    tellStumble();
    return false;
  }
  kept.drafts = {};
  work.messages.clear();
  settle();
  void save();
  show();
  writeAddress();
  return true;
}

/** @type {ReturnType<typeof setTimeout> | undefined} */
let saveTimer;

/** Right behind the frame that shows a change. */
const SAVE_MILLISECONDS = 30;
/** While a handle is being pulled, so that it follows the finger. */
const SAVE_WHILE_PULLED_MILLISECONDS = 120;
/** A save that takes longer is spoken of. */
const SLOW_MILLISECONDS = 5000;

/**
 * How the last change stands: `kept` is on the disk; `late` is the browser's, which brings it there in its own
 * time; `keeping` is on its way; `not` has found no way.
 * @typedef {'kept' | 'late' | 'keeping' | 'not'} KeptState
 */

/** How a design stands that was just read. @type {Record<import('./store.js').StoreKind, KeptState>} */
const STATES = { disk: 'kept', late: 'late', memory: 'not' };

/** @type {KeptState} */
let keptState = 'keeping';

/** @type {(() => void)[]} */
const stateShowers = [];

/** Whether the last change is kept, and how. */
export function isKept() {
  return keptState;
}

/**
 * Calls this whenever that changes.
 * @param {() => void} shower
 */
export function onKeptState(shower) {
  stateShowers.push(shower);
}

/** @param {KeptState} state */
function setKeptState(state) {
  keptState = state;
  for (const each of stateShowers) each();
}

/**
 * Keeps the change soon; a page that is put away first writes it at once (`saveNow`). Further changes do not put
 * it off: a hand that goes on pulling is kept on its way.
 * @param {boolean} isSameStep
 */
function saveSoon(isSameStep = false) {
  setKeptState('keeping');
  saveTimer ??= setTimeout(save, isSameStep ? SAVE_WHILE_PULLED_MILLISECONDS : SAVE_MILLISECONDS);
}

/** Writes what is still to be written, also for the case that this is the page's last moment. */
export function saveNow() {
  if (keptState === 'keeping' || keptState === 'not') {
    lastMoment.leave(record());
    void save();
  }
  writeAddressNow();
}

/** What is to be written once the running save is down; a record stands here once, however often it changes. @type {Set<Kept>} */
const toSave = new Set();

/** @type {Promise<void> | null} */
let saving = null;

/**
 * Keeps the open design on the device, and says so when that fails.
 *
 * A change never waits longer than for its timer (which further changes do not put off), the one save that is
 * running, and its own: all changes meanwhile are written together, as the record is when its save begins. Only
 * a design that was left with something unsaved is written between them.
 */
export function save() {
  if (!work.record) return Promise.resolve();
  clearTimeout(saveTimer);
  saveTimer = undefined;
  toSave.add(work.record);
  setKeptState('keeping');
  saving ??= saveAll().finally(() => {
    saving = null;
    // What came after the last look at the list does not wait for the next change.
    if (toSave.size > 0) void save();
  });
  return saving;
}

async function saveAll() {
  const slow = setTimeout(() => noticeOnce('keep', word('keep.slow')), SLOW_MILLISECONDS);
  /** @type {KeptState} */
  let state = 'kept';
  for (const kept of toSave) {
    toSave.delete(kept);
    const saved = await keep.save(kept);
    state = await tellSaved(kept, saved);
  }
  clearTimeout(slow);
  // What is still to be written is newer than what just was.
  if (saveTimer !== undefined) return;
  if (state !== 'not') lastMoment.takeBack();
  setKeptState(state);
}

/**
 * @param {Kept} kept
 * @param {import('./keep.js').SaveResult} saved
 * @returns {Promise<KeptState>}
 */
async function tellSaved(kept, saved) {
  if (saved.ok) {
    withdraw('keep');
    if (saved.anew) notice('erased', word('keep.erased'));
    if (saved.lost.length > 0) noticeOnce('given-up', word('keep.given_up'));
    return STATES[keep.shelf.kind ?? 'memory'];
  }
  if (saved.why === 'newer') return goOnAsCopy(kept);
  if (saved.why === 'full') noticeOnce('keep', word('keep.full'));
  if (saved.why === 'blocked') noticeOnce('keep', word('keep.memory'));
  return 'not';
}

/**
 * Another tab has gone on with this design: this tab's version becomes one of its own, under a name of its own.
 * @param {Kept} kept
 * @returns {Promise<KeptState>}
 */
async function goOnAsCopy(kept) {
  const name = await nameOfItsOwn(kept.design.name || word('unnamed'));
  const named = askOrStumble((library) => library.type_in(kept.design, 'name', name))?.design;
  const copy = keep.copyOf({ ...kept, design: named ?? kept.design });
  if (work.record === kept) {
    work.record = copy;
    rememberTab();
    show();
    writeAddress();
    notice('went-on', word('keep.newer'));
  }
  return tellSaved(copy, await keep.save(copy));
}

/** @param {string} name */
async function nameOfItsOwn(name) {
  const taken = new Set((await keep.list()).map((each) => each.name));
  const bare = name.replace(/ \(\d+\)$/u, '');
  let count = 2;
  while (taken.has(`${bare} (${count})`)) count += 1;
  return `${bare} (${count})`;
}

/**
 * Opens a kept record in this tab.
 * @param {Kept} kept
 */
export function openRecord(kept) {
  // What was typed last still belongs to the design that is being left.
  if (saveTimer !== undefined) void save();
  work.record = kept;
  setKeptState(saving ? 'keeping' : STATES[keep.shelf.kind ?? 'memory']);
  work.messages.clear();
  settle();
  // Typed text that was not taken is tried again, so that its message is there too.
  for (const [key, text] of Object.entries(kept.drafts)) {
    const result = askOrStumble((library) => library.type_in(design(), key, text));
    const message = result?.messages[0];
    if (message) work.messages.set(key, message);
    else delete kept.drafts[key];
    // What waited for the rest of its row.
    if (result?.design) kept.design = result.design;
  }
  rememberTab();
  show();
  writeAddress();
}

/**
 * Opens a design beside the others, with what a file has of the bench.
 * @param {Design} fresh
 * @param {Done | null} [atItsBench]
 */
export function openBeside(fresh, atItsBench = null) {
  openRecord({ ...keep.fresh(fresh), ...atItsBench });
  void save();
}

/** The design that a new page starts with. */
export function startingDesign() {
  return ask((library) => library.starting_design(navigator.language || 'en-US'));
}

/** A new design in the turner's own shop, or in the units of what is open. */
export function newDesign() {
  const { ownShop } = keep;
  if (ownShop === null) return { ...startingDesign(), ...work.record && { unit: design().unit } };
  return ask((library) => library.with_shop(startingDesign(), ownShop));
}

/**
 * Opens a link's part behind # beside the others; an own design's link opens that one.
 * @param {string} hash
 * @param {boolean} [isSent] whether someone else may have sent it
 * @returns {Promise<Message[]>} what was in the way, or was reset
 */
export async function openLink(hash, isSent = true) {
  const own = await findByLink(hash);
  if (own) {
    openRecord(own.kept);
    return own.messages;
  }
  const hasOthers = (await keep.list()).length > 0;
  const opened = ask((library) => library.open_link(hash));
  if (opened.design) {
    openBeside(opened.design);
    if (opened.design.vessel) {
      record().place = 'vessel';
      if (isSent) work.guest = record().id;
      show();
    } else if (hasOthers) notice('beside', word('designs.beside'), 'done');
  }
  return opened.messages;
}

/** @param {string} hash */
async function findByLink(hash) {
  for (const { id } of await keep.list()) {
    const kept = await keep.read(id);
    if (kept.ok && linkOf(kept.record.design) === hash) return readRecord(id);
  }
  return null;
}

/**
 * The link's part behind #, with it; empty for what the library cannot read.
 * @param {Design} kept
 */
function linkOf(kept) {
  try {
    return `#${ask((library) => library.link_of(kept))}`;
  } catch {
    return '';
  }
}

/**
 * A kept record with its design read by the library: what this version cannot use is set right there, and what
 * stood there is put aside.
 * @param {string} id
 * @returns {Promise<{ kept: Kept, messages: Message[] } | null>}
 */
export async function readRecord(id) {
  const opened = await keep.open(id);
  if (!opened.ok) return null;
  const read = askOrStumble((library) => library.open_text(JSON.stringify(opened.record.design)));
  const resets = read?.messages.filter((each) => each.field !== 'design') ?? [];
  if (!read?.design || resets.length > 0) await keep.setAside(id, { isLeft: Boolean(read?.design) });
  if (!read?.design) return null;
  opened.record.design = read.design;
  return { kept: opened.record, messages: resets };
}

/** At the start: this tab's own design, the link's, the last one, or a new one. */
export async function openFirst() {
  await prepare(keep, storage);
  await Promise.all([keep.readShop(), keep.readBoardShelf()]);
  const tab = readTab();
  const hash = location.hash;
  const isOwnReload = tab !== null && ['', tab.hash, tab.hashBefore].includes(hash);
  const own = isOwnReload ? await readRecord(tab.id) : null;
  if (own) return openRead(own);
  /** @type {Message[]} */
  let messages = [];
  if (hash.length > 1) {
    messages = await openLink(hash);
    if (work.record) return messages;
  }
  const last = await keep.lastOpen();
  const kept = last === null ? null : await readRecord(last);
  if (kept) return [...messages, ...openRead(kept)];
  openBeside(newDesign());
  return messages;
}

/** @param {{ kept: Kept, messages: Message[] }} read */
function openRead({ kept, messages }) {
  openRecord(kept);
  // What was set right is kept so; the next start need not say it again.
  if (messages.length > 0) void save();
  return messages;
}

/** The design of this tab and its link, kept for as long as the tab is. */
function readTab() {
  try {
    const tab = JSON.parse(sessionStorage.getItem(TAB_KEY) ?? 'null');
    return tab && typeof tab.id === 'string' && typeof tab.hash === 'string' ? tab : null;
  } catch {
    // Session storage is blocked or holds something else: the link and the list of
    // kept designs still find the way back.
    return null;
  }
}

/** A page that is being reloaded may come back under the address that it had before its last change. */
let hashBefore = location.hash;

function rememberTab() {
  try {
    const tab = { id: record().id, hash: location.hash, hashBefore };
    sessionStorage.setItem(TAB_KEY, JSON.stringify(tab));
  } catch {
    // As above: only a convenience is lost.
  }
}

/** @type {ReturnType<typeof setTimeout> | undefined} */
let addressTimer;

/** Writes the design into the address bar, not more often than browsers allow. */
function writeAddress() {
  clearTimeout(addressTimer);
  addressTimer = setTimeout(writeAddressNow, 300);
}

export function writeAddressNow() {
  clearTimeout(addressTimer);
  if (!work.record) return;
  const link = `#${ask((library) => library.link_of(design()))}`;
  if (location.hash !== link) {
    hashBefore = location.hash;
    history.replaceState(null, '', link);
  }
  rememberTab();
}
