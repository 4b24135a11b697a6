/**
 * The work at hand: the open design, its undo list, and what is typed but not taken.
 * Every change goes through here: computed first, then kept, then shown. A change that
 * the library cannot take leaves everything as it was.
 */

import { ask } from './door.js';
import { deviceStorage, openKeep, randomId } from './keep.js';
import { notice, noticeOnce, withdraw } from './notices.js';
import { word } from './words.js';

/** @typedef {import('./ringwright.js').Design} Design */
/** @typedef {import('./ringwright.js').Message} Message */
/** @typedef {import('./keep.js').KeptRecord<Design>} Kept */

/** @type {import('./keep.js').Keep<Design>} */
export const keep = openKeep({
  storage: deviceStorage(window),
  now: Date.now,
  makeId: () => randomId(crypto),
});

/** Which design this tab has open, so that a reload comes back to it. */
const TAB_KEY = 'ringwright/tab';

/**
 * `typingIn` is the field whose text belongs to the hand that types, `stepIn` the one whose typing already
 * is a step of undo.
 * @type {{ record: Kept | null, messages: Map<string, Message>, held: string, typingIn: string, stepIn: string }}
 */
const work = { record: null, messages: new Map(), held: '', typingIn: '', stepIn: '' };

/** @type {(() => void)[]} */
const showers = [];

/**
 * Calls this after every change.
 * @param {() => void} show
 */
export function onChange(show) {
  showers.push(show);
}

/** Shows everything anew. */
export function show() {
  for (const each of showers) each();
}

/** @returns {Kept} */
export function record() {
  if (!work.record) throw new Error('no design is open');
  return work.record;
}

/** The open design. */
export function design() {
  return record().design;
}

/** What is wrong with typed text, by field. */
export function typedMessages() {
  return work.messages;
}

/** The field that is being touched. */
export function held() {
  return work.held;
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
 */
export function typed(key, text) {
  const result = askOrStumble((library) => library.type_in(design(), key, text));
  if (!result) return;
  const { drafts } = record();
  work.typingIn = key;
  if (result.design) {
    delete drafts[key];
    work.messages.delete(key);
    // Text that means the same as before ("10 " on the way to "10 1/2") is no step yet.
    if (take(result.design, work.stepIn === key)) work.stepIn = key;
    return;
  }
  drafts[key] = text;
  const [message] = result.messages;
  if (message) work.messages.set(key, message);
  saveSoon();
  show();
}

/** Ends typing in a field: the next change is a step of its own. */
export function settle() {
  work.typingIn = '';
  work.stepIn = '';
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
    save();
    show();
    return false;
  }
  kept.design = next;
  if (!shows()) {
    kept.design = before;
    return false;
  }
  if (!isSameStep) {
    kept.past.push(before);
    kept.future = [];
  }
  saveSoon(isSameStep);
  writeAddress();
  return true;
}

/** Shows everything; says so and returns false when the library stumbles over it. */
function shows() {
  try {
    show();
    return true;
  } catch (cause) {
    console.error(cause);
    notice('stumbled', word('app.stumbled'));
    return false;
  }
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

export function canUndo() {
  return record().past.length > 0;
}

export function canRedo() {
  return record().future.length > 0;
}

export function undo() {
  step(record().past, record().future);
}

export function redo() {
  step(record().future, record().past);
}

/**
 * Takes the last design of one list, and puts the present one on the other.
 * @param {Design[]} from
 * @param {Design[]} to
 */
function step(from, to) {
  const next = from.pop();
  if (!next) return;
  const kept = record();
  to.push(kept.design);
  kept.design = next;
  kept.drafts = {};
  work.messages.clear();
  settle();
  save();
  show();
  writeAddress();
}

/** @type {ReturnType<typeof setTimeout> | undefined} */
let saveTimer;

/** Right behind the frame that shows a change. */
const SAVE_MILLISECONDS = 30;
/** While a handle is being pulled, so that it follows the finger. */
const SAVE_WHILE_PULLED_MILLISECONDS = 300;

/**
 * Keeps the change soon; a page that is put away first writes it at once (`saveNow`).
 * @param {boolean} isSameStep
 */
function saveSoon(isSameStep = false) {
  saveTimer ??= setTimeout(save, isSameStep ? SAVE_WHILE_PULLED_MILLISECONDS : SAVE_MILLISECONDS);
}

/** Writes what is still to be written. */
export function saveNow() {
  if (saveTimer !== undefined) save();
  writeAddressNow();
}

/** Keeps the open design on the device, and says so when that fails. */
export function save() {
  clearTimeout(saveTimer);
  saveTimer = undefined;
  tellSaved(keep.save(record()));
}

/** @param {import('./keep.js').SaveResult} saved */
function tellSaved(saved) {
  if (saved.ok) {
    withdraw('keep');
  } else if (saved.why === 'newer') {
    const copy = keep.saveAsCopy(record());
    work.record = copy.record;
    rememberTab();
    notice('went-on', word('keep.newer'));
  } else if (saved.why === 'full') {
    noticeOnce('keep', word('keep.full'));
  } else if (saved.why === 'blocked') {
    noticeOnce('keep', word('keep.memory'));
  }
}

/**
 * Opens a kept record in this tab.
 * @param {Kept} kept
 */
export function openRecord(kept) {
  // What was typed last still belongs to the design that is being left.
  if (saveTimer !== undefined) save();
  work.record = kept;
  work.messages.clear();
  settle();
  // Typed text that was not taken is tried again, so that its message is there too.
  for (const [key, text] of Object.entries(kept.drafts)) {
    const result = askOrStumble((library) => library.type_in(design(), key, text));
    const message = result?.messages[0];
    if (message) work.messages.set(key, message);
    else delete kept.drafts[key];
  }
  rememberTab();
  show();
  writeAddress();
}

/**
 * Opens a design beside the others.
 * @param {Design} fresh
 */
export function openBeside(fresh) {
  const created = keep.create(fresh);
  openRecord(created.record);
  tellSaved(created.saved);
}

/** The design that a new page starts with. */
export function startingDesign() {
  return ask((library) => library.starting_design(navigator.language || 'en-US'));
}

/**
 * Opens a link's part behind # beside the others; an own design's link opens that one.
 * @param {string} hash
 * @returns {Message[]} what was in the way, or was reset
 */
export function openLink(hash) {
  const own = findByLink(hash);
  if (own) {
    openRecord(own);
    return [];
  }
  const opened = ask((library) => library.open_link(hash));
  if (opened.design) {
    openBeside(opened.design);
    notice('beside', word('designs.beside'), 'done');
  }
  return opened.messages;
}

/** @param {string} hash */
function findByLink(hash) {
  const same = keep.list().find(({ id }) => {
    const kept = keep.read(id);
    return kept.ok && linkOf(kept.record.design) === hash;
  });
  return same ? readRecord(same.id) : null;
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
 * A kept record with its design read by the library: what this version cannot use is
 * set right there.
 * @param {string} id
 */
export function readRecord(id) {
  const opened = keep.open(id);
  if (!opened.ok) return null;
  const read = askOrStumble((library) => library.open_text(JSON.stringify(opened.record.design)));
  if (!read?.design) return null;
  opened.record.design = read.design;
  return opened.record;
}

/** At the start: this tab's own design, the link's, the last one, or a new one. */
export function openFirst() {
  const tab = readTab();
  const hash = location.hash;
  const isOwnReload = tab !== null && ['', tab.hash, tab.hashBefore].includes(hash);
  const own = isOwnReload ? readRecord(tab.id) : null;
  if (own) {
    openRecord(own);
    return [];
  }
  /** @type {Message[]} */
  let messages = [];
  if (hash.length > 1) {
    messages = openLink(hash);
    if (work.record) return messages;
  }
  const last = keep.lastOpen();
  const kept = last === null ? null : readRecord(last);
  if (kept) openRecord(kept);
  else openBeside(startingDesign());
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
