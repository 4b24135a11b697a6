/**
 * What is kept on the device: every design with its undo list, its typed but not yet accepted text,
 * several earlier states, and the removed ones.
 *
 * Written at once and synchronously, because a closed lid or a flat battery gives no second chance.
 * Knows no page and no trade: storage, clock and identities are handed in, designs are opaque.
 * Every failure comes back as a value; nothing that cannot be read is ever overwritten.
 *
 * Keys, all under `ringwright/`:
 * - `design/ID`            the record without its undo lists, so that a list of designs reads little
 * - `undo/ID`              past and future, valid only beside the record of the same stamp
 * - `earlier/ID/COUNT_TIME` one earlier state
 * - `aside/TIME/KEY`       the raw text of something unreadable, as it was found under KEY
 * - `last-open`            the design opened last on this device
 */

const PREFIX = 'ringwright/';
const DESIGN_KEYS = `${PREFIX}design/`;
const UNDO_KEYS = `${PREFIX}undo/`;
const EARLIER_KEYS = `${PREFIX}earlier/`;
const ASIDE_KEYS = `${PREFIX}aside/`;
const LAST_OPEN_KEY = `${PREFIX}last-open`;
const PROBE_KEY = `${PREFIX}probe`;

/** The layout of a record. A record of a later layout belongs to a newer page and is left alone. */
const FORMAT = 1;
/** States in each undo list; the oldest are dropped. */
export const UNDO_STATES = 100;
/** Browsers grant about five million characters to a whole site: one design must not eat them. */
const UNDO_CHARACTERS = 200_000;
const EARLIER_APART_MILLISECONDS = 2 * 60 * 1000;
const EARLIER_NEWEST = 12;
const EARLIER_MOST = 24;
const REMOVED_MOST = 20;

/**
 * The part of `Storage` that is used here.
 * @typedef {Pick<Storage, 'length' | 'key' | 'getItem' | 'setItem' | 'removeItem'>} StorageLike
 */

/**
 * One design as it is kept. `save` brings `stamp` and `savedAt` of the record handed to it up to date.
 * Both undo lists are stacks: the state to go to next is the last one.
 * @template D
 * @typedef {object} KeptRecord
 * @property {string} id
 * @property {string} stamp changes with each save; opaque
 * @property {D} design
 * @property {Record<string, string>} drafts typed text by field, not yet accepted
 * @property {Record<string, string>} ticks steps of the work that are done, each with the mark of its numbers
 * @property {string} place where the design is open
 * @property {Record<string, boolean>} sheets sheets that were ticked or unticked, by their key
 * @property {D[]} past
 * @property {D[]} future
 * @property {string} savedAt ISO time
 * @property {string | null} keptOutsideAt ISO time of the last file or link
 * @property {string | null} keptOutside fingerprint of the design in that file or link
 */

/**
 * @typedef {object} Summary
 * @property {string} id
 * @property {string} name
 * @property {string} savedAt
 * @property {string | null} keptOutsideAt
 * @property {boolean} changedSince whether it was changed since it was kept outside, or never was
 */

/**
 * - `full`: the device's storage has no room left; nothing was written, the older state still stands.
 * - `blocked`: the browser refuses storage; the record is held in memory until the page closes.
 * - `newer`: another tab has saved this design since it was read; nothing was written.
 * - `unwritable`: not a design; nothing was written.
 * - `missing`: there is no such design.
 * @typedef {'full' | 'blocked' | 'newer' | 'unwritable' | 'missing'} WhyNotSaved
 */

/**
 * `lost` names what found no room although the design itself was kept.
 * @typedef {{ ok: true, lost: ('undo' | 'earlier')[] } | { ok: false, why: WhyNotSaved }} SaveResult
 */

/**
 * The record can be worked on whether or not it could be written; `saved` tells.
 * @template D
 * @typedef {{ record: KeptRecord<D>, saved: SaveResult }} Created
 */

/**
 * @template D
 * @typedef {{ ok: true, record: KeptRecord<D> }
 *   | { ok: false, why: 'missing' | 'removed' | 'unreadable' | 'later' }} OpenResult
 */

/**
 * @template D
 * @typedef {{ savedAt: string, name: string, design: D }} EarlierState
 */

/**
 * Something that could not be read. `later` was written by a newer page and stays where it is.
 * @typedef {{ key: string, was: string, foundAt: string | null, why: 'unreadable' | 'later', text: string }} Trouble
 */

/** @typedef {{ kind: 'kept' | 'memory' | 'full', lastSavedAt: string | null }} Status */

/**
 * @template D
 * @typedef {object} Keep
 * @property {() => Summary[]} list newest first
 * @property {() => { id: string, name: string, removedAt: string }[]} removed newest first
 * @property {(id: string) => OpenResult<D>} open
 * @property {(id: string) => OpenResult<D>} read as `open`, but the design does not count as the one opened last
 * @property {(design: D) => Created<D>} create
 * @property {(record: KeptRecord<D>) => SaveResult} save
 * @property {(id: string, design?: D) => Created<D> | null} copy `design`, if given, takes the place of the copied one (a new name)
 * @property {(record: KeptRecord<D>) => Created<D>} saveAsCopy keeps the record as another design
 * @property {(record: KeptRecord<D>) => SaveResult} markKeptOutside notes that a file or link of it was made now
 * @property {(id: string) => SaveResult} remove
 * @property {(id: string) => SaveResult} putBack
 * @property {(id: string) => EarlierState<D>[]} earlier newest first
 * @property {() => string | null} lastOpen
 * @property {() => Trouble[]} troubles
 * @property {(key: string) => boolean} dropTrouble forgets one, once the user has it as a file
 * @property {() => Status} status
 * @property {(id: string) => Summary | null} summary
 */

/** @typedef {'kept' | 'full' | 'blocked'} WriteOutcome */

/** Stands in for a storage that the browser refuses. */
export class MemoryStorage {
  constructor() {
    /** @type {Map<string, string>} */
    this.entries = new Map();
  }

  get length() {
    return this.entries.size;
  }

  /** @param {number} index */
  key(index) {
    return [...this.entries.keys()][index] ?? null;
  }

  /** @param {string} key */
  getItem(key) {
    return this.entries.get(key) ?? null;
  }

  /** @param {string} key @param {string} text */
  setItem(key, text) {
    this.entries.set(key, text);
  }

  /** @param {string} key */
  removeItem(key) {
    this.entries.delete(key);
  }
}

/** Storage that never throws: it tells what became of a write, and goes on in memory once refused. */
class Shelf {
  /** @param {StorageLike | null} storage */
  constructor(storage) {
    this.inMemory = false;
    /** @type {StorageLike} */
    this.storage = storage ?? new MemoryStorage();
    if (storage === null) {
      this.inMemory = true;
    } else {
      this.probe();
    }
  }

  probe() {
    const outcome = this.write(PROBE_KEY, '1');
    this.drop(PROBE_KEY);
    // Some browsers' private windows offer a storage in which there is no room for anything.
    if (outcome === 'full' && this.keys('').length === 0) {
      this.goOnInMemory();
    }
  }

  goOnInMemory() {
    const memory = new MemoryStorage();
    if (!this.inMemory) {
      copyReadable(this.storage, memory);
    }
    this.inMemory = true;
    this.storage = memory;
  }

  /**
   * @template T
   * @param {(storage: StorageLike) => T} action
   * @returns {T}
   */
  guarded(action) {
    try {
      return action(this.storage);
    } catch {
      // The refusal is reported by `inMemory`, which the status shows for as long as it lasts.
      this.goOnInMemory();
      return action(this.storage);
    }
  }

  /** @param {string} key */
  read(key) {
    return this.guarded((storage) => storage.getItem(key));
  }

  /** @param {string} key */
  drop(key) {
    this.guarded((storage) => storage.removeItem(key));
  }

  /** @param {string} prefix @returns {string[]} */
  keys(prefix) {
    return this.guarded((storage) => keysOf(storage).filter((key) => key.startsWith(prefix)));
  }

  /** @param {string} key @param {string} text @returns {WriteOutcome} */
  write(key, text) {
    try {
      this.storage.setItem(key, text);
    } catch (error) {
      if (isFull(error)) {
        return 'full';
      }
      this.goOnInMemory();
      this.storage.setItem(key, text);
    }
    return this.inMemory ? 'blocked' : 'kept';
  }

  /**
   * Writes, giving up other entries one by one if there is no room; if even that does not make room,
   * all of them are put back.
   * @param {string} key
   * @param {string} text
   * @param {() => string[]} spare what may be given up, the first first
   * @returns {WriteOutcome}
   */
  writeMakingRoom(key, text, spare) {
    let outcome = this.write(key, text);
    if (outcome !== 'full') {
      return outcome;
    }
    /** @type {[string, string][]} */
    const givenUp = [];
    for (const spareKey of spare()) {
      givenUp.push([spareKey, this.read(spareKey) ?? '']);
      this.drop(spareKey);
      outcome = this.write(key, text);
      if (outcome !== 'full') {
        return outcome;
      }
    }
    for (const [spareKey, spareText] of givenUp) {
      this.write(spareKey, spareText);
    }
    return outcome;
  }
}

/** @param {StorageLike} storage @returns {string[]} */
function keysOf(storage) {
  const keys = [];
  for (let index = 0; index < storage.length; index += 1) {
    const key = storage.key(index);
    if (key !== null) {
      keys.push(key);
    }
  }
  return keys;
}

/** @param {StorageLike} from @param {MemoryStorage} to */
function copyReadable(from, to) {
  try {
    for (const key of keysOf(from).filter((each) => each.startsWith(PREFIX))) {
      const text = from.getItem(key);
      if (text !== null) {
        to.setItem(key, text);
      }
    }
  } catch {
    // Reading is refused as well: what came so far is all there is, and the status says "memory".
  }
}

/** @param {unknown} error */
function isFull(error) {
  const name = error instanceof Error ? error.name : '';
  return name === 'QuotaExceededError' || name === 'NS_ERROR_DOM_QUOTA_REACHED';
}

/** @param {unknown} value @returns {value is Record<string, unknown>} */
function isPlainObject(value) {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** @param {string} text @returns {unknown} `undefined` if it is not JSON */
function parsed(text) {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/**
 * @param {unknown} value
 * @param {(field: string, value: unknown) => unknown} [replacer]
 * @returns {string | null} `null` if it cannot be written as JSON
 */
function written(value, replacer) {
  try {
    return JSON.stringify(value, replacer) ?? null;
  } catch {
    return null;
  }
}

/** @param {unknown} design */
function nameOf(design) {
  return isPlainObject(design) && typeof design.name === 'string' ? design.name : '';
}

/**
 * Tells designs apart, whatever the order of their fields: the length of the text and its 32-bit FNV-1a
 * hash (offset basis and prime of Fowler, Noll and Vo; over UTF-16 units instead of bytes).
 * @param {unknown} design
 * @returns {string}
 */
export function fingerprint(design) {
  const text = written(design, withSortedFields) ?? '';
  let hash = 0x811c9dc5;
  for (let index = 0; index < text.length; index += 1) {
    hash = Math.imul(hash ^ text.charCodeAt(index), 0x01000193);
  }
  return `${text.length}-${(hash >>> 0).toString(16)}`;
}

/** @param {string} _field @param {unknown} value */
function withSortedFields(_field, value) {
  if (!isPlainObject(value)) {
    return value;
  }
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)));
}

/**
 * Whether the design differs from what was last kept outside the device, or never was.
 * @param {{ design: unknown, keptOutside: string | null }} record
 */
export function changedSinceKeptOutside(record) {
  return record.keptOutside !== fingerprint(record.design);
}

/**
 * A record without its undo lists, as it stands in storage.
 * @template D
 * @typedef {Omit<KeptRecord<D>, 'past' | 'future'> & { removed?: { at: string, order: number } }} Stored
 */

/**
 * Takes what can be taken: a missing or wrong lesser field gets its default, unknown fields stay.
 * @template D
 * @param {string} text
 * @param {string} id
 * @returns {{ stored: Stored<D> } | { why: 'unreadable' | 'later' }}
 */
function restored(text, id) {
  const value = parsed(text);
  if (!isPlainObject(value)) {
    return { why: 'unreadable' };
  }
  if (typeof value.format === 'number' && value.format > FORMAT) {
    return { why: 'later' };
  }
  if (!isPlainObject(value.design)) {
    return { why: 'unreadable' };
  }
  const stored = {
    ...value,
    id,
    design: value.design,
    stamp: stringOr(value.stamp, ''),
    drafts: restoredTexts(value.drafts),
    ticks: restoredTexts(value.ticks),
    sheets: restoredFlags(value.sheets),
    place: stringOr(value.place, ''),
    savedAt: timeOr(value.savedAt, new Date(0).toISOString()),
    keptOutsideAt: timeOr(value.keptOutsideAt, null),
    keptOutside: stringOr(value.keptOutside, null),
    removed: restoredRemoval(value.removed),
  };
  return { stored: /** @type {Stored<D>} */ (/** @type {unknown} */ (stored)) };
}

/**
 * @template {string | null} T
 * @param {unknown} value
 * @param {T} otherwise
 */
function stringOr(value, otherwise) {
  return typeof value === 'string' ? value : otherwise;
}

/**
 * @template {string | null} T
 * @param {unknown} value
 * @param {T} otherwise
 */
function timeOr(value, otherwise) {
  return typeof value === 'string' && !Number.isNaN(Date.parse(value)) ? value : otherwise;
}

/** @param {unknown} value @returns {Record<string, string>} */
function restoredTexts(value) {
  /** @type {Record<string, string>} */
  const texts = {};
  for (const [name, text] of Object.entries(isPlainObject(value) ? value : {})) {
    if (typeof text === 'string') {
      texts[name] = text;
    }
  }
  return texts;
}

/** @param {unknown} value @returns {Record<string, boolean>} */
function restoredFlags(value) {
  /** @type {Record<string, boolean>} */
  const flags = {};
  for (const [name, flag] of Object.entries(isPlainObject(value) ? value : {})) {
    if (typeof flag === 'boolean') flags[name] = flag;
  }
  return flags;
}

/** @param {unknown} value */
function restoredRemoval(value) {
  if (!isPlainObject(value)) {
    return undefined;
  }
  return {
    at: timeOr(value.at, new Date(0).toISOString()),
    order: typeof value.order === 'number' ? value.order : 0,
  };
}

/** How many saves a stamp stands for. @param {string} stamp */
function savesOf(stamp) {
  const saves = Number.parseInt(stamp, 10);
  return Number.isSafeInteger(saves) && saves > 0 ? saves : 0;
}

/**
 * The newest states of an undo list that fit.
 * @param {unknown[]} states
 * @param {number} charactersMost
 */
function newestThatFit(states, charactersMost) {
  const kept = [];
  let characters = 0;
  for (const state of states.slice(-UNDO_STATES).reverse()) {
    characters += (written(state) ?? '').length;
    if (characters > charactersMost) {
      break;
    }
    kept.push(state);
  }
  return kept.reverse();
}

/**
 * The key sorts by the count of saves and not by the time: a tablet's clock may start again from nowhere
 * after a flat battery.
 * @param {string} id @param {string} stamp @param {string} savedAt
 */
function earlierKey(id, stamp, savedAt) {
  return `${EARLIER_KEYS}${id}/${String(savesOf(stamp)).padStart(10, '0')}_${savedAt}`;
}

/** @param {string} key */
function timeInEarlierKey(key) {
  return key.slice(key.lastIndexOf('_') + 1);
}

/**
 * Which earlier states to give up: the newest dozen stay, before them the newest of each day.
 * @param {string[]} newestFirst
 */
function tooManyEarlier(newestFirst) {
  const days = new Set();
  let kept = 0;
  return newestFirst.filter((key, index) => {
    const day = timeInEarlierKey(key).slice(0, 10);
    const stays = kept < EARLIER_MOST && !days.has(day);
    if (index >= EARLIER_NEWEST) {
      days.add(day);
    }
    kept += stays ? 1 : 0;
    return !stays;
  });
}

/** @param {string} prefix @param {string} key */
function after(prefix, key) {
  return key.slice(prefix.length);
}

/** @param {{ savedAt: string }} a @param {{ savedAt: string }} b */
function newestFirst(a, b) {
  return Date.parse(b.savedAt) - Date.parse(a.savedAt);
}

/** The designs on one device, as one tab sees them. @template D */
class Designs {
  /** @param {StorageLike | null} storage @param {() => number} now @param {() => string} makeId */
  constructor(storage, now, makeId) {
    this.shelf = new Shelf(storage);
    this.now = now;
    this.makeId = makeId;
    // Tells this tab's saves from those of another tab that counted to the same number.
    this.tab = makeId();
    /** @type {Set<string>} opened and not yet changed: the next change keeps the state found */
    this.justOpened = new Set();
    this.full = false;
    /** @type {string | null} */
    this.lastSavedAt = null;
  }

  time() {
    return new Date(this.now()).toISOString();
  }

  /**
   * What stands under an id; what cannot be read is put aside first.
   * @param {string} id
   * @returns {{ stored: Stored<D> } | { why: 'missing' | 'unreadable' | 'later', moved: boolean }}
   */
  find(id) {
    const key = DESIGN_KEYS + id;
    const text = this.shelf.read(key);
    if (text === null) {
      return { why: 'missing', moved: false };
    }
    const result = /** @type {ReturnType<typeof restored<D>>} */ (restored(text, id));
    if ('stored' in result) {
      return result;
    }
    return { why: result.why, moved: result.why === 'unreadable' && this.putAside(key, text) };
  }

  /** @returns {Stored<D>[]} */
  all() {
    const ids = this.shelf.keys(DESIGN_KEYS).map((key) => after(DESIGN_KEYS, key));
    return ids.flatMap((id) => {
      const found = this.find(id);
      return 'stored' in found ? [found.stored] : [];
    });
  }

  /** @param {string} key @param {string} text @returns {boolean} whether it could be moved */
  putAside(key, text) {
    let asideKey = `${ASIDE_KEYS}${this.time()}/${after(PREFIX, key)}`;
    while (this.shelf.read(asideKey) !== null) {
      asideKey += '+';
    }
    // The original goes only once its copy stands; without room for both it stays where it is.
    const moved = this.shelf.writeMakingRoom(asideKey, text, () => this.oldestEarlier()) !== 'full';
    if (moved) {
      this.shelf.drop(key);
    }
    return moved;
  }

  /** Earlier states of all designs, the oldest first. */
  oldestEarlier() {
    const keys = this.shelf.keys(EARLIER_KEYS);
    return keys.sort((a, b) => Date.parse(timeInEarlierKey(a)) - Date.parse(timeInEarlierKey(b)));
  }

  /** What may be given up for a design, the least missed first. @param {string} id */
  spareFor(id) {
    const own = UNDO_KEYS + id;
    const undo = this.shelf.keys(UNDO_KEYS).filter((key) => key !== own);
    return [...this.oldestEarlier(), ...undo, own];
  }

  /** @param {string} id @returns {string[]} newest first */
  earlierKeys(id) {
    return this.shelf.keys(`${EARLIER_KEYS}${id}/`).sort().reverse();
  }

  /** @param {string} id @param {string} stamp @returns {{ past: D[], future: D[] }} */
  undoLists(id, stamp) {
    const key = UNDO_KEYS + id;
    const text = this.shelf.read(key);
    if (text === null) {
      return { past: [], future: [] };
    }
    const value = parsed(text);
    if (!isPlainObject(value) || !Array.isArray(value.past) || !Array.isArray(value.future)) {
      this.putAside(key, text);
      return { past: [], future: [] };
    }
    const { past, future } = value.stamp === stamp ? value : { past: [], future: [] };
    return { past: /** @type {D[]} */ (past), future: /** @type {D[]} */ (future) };
  }

  /** @param {string} id @returns {OpenResult<D>} */
  open(id) {
    const result = this.read(id);
    if (result.ok) {
      this.justOpened.add(id);
      this.rememberOpen(id);
    }
    return result;
  }

  /** @param {string} id @returns {OpenResult<D>} */
  read(id) {
    const found = this.find(id);
    if ('why' in found) {
      return { ok: false, why: found.why };
    }
    const { removed, ...stored } = found.stored;
    if (removed !== undefined) {
      return { ok: false, why: 'removed' };
    }
    return { ok: true, record: { ...stored, ...this.undoLists(id, stored.stamp) } };
  }

  /** Losing this costs a tap in the list of designs, so no room is made for it. @param {string} id */
  rememberOpen(id) {
    this.shelf.write(LAST_OPEN_KEY, id);
  }

  /** @param {KeptRecord<D>} record @returns {SaveResult} */
  save(record) {
    const found = this.find(record.id);
    if ('why' in found && found.why === 'later') {
      return { ok: false, why: 'newer' };
    }
    if ('why' in found && found.why === 'unreadable' && !found.moved) {
      return this.noted('full');
    }
    const before = 'stored' in found ? found.stored : null;
    if (before !== null && before.stamp !== record.stamp) {
      return { ok: false, why: 'newer' };
    }
    return this.replace(before, record);
  }

  /** @param {Stored<D> | null} before @param {KeptRecord<D>} record @returns {SaveResult} */
  replace(before, record) {
    const { past, future, ...rest } = record;
    const stamp = `${savesOf(record.stamp) + 1}-${this.tab}`;
    const savedAt = this.time();
    const text = isPlainObject(record.design) ? written({ ...rest, format: FORMAT, stamp, savedAt }) : null;
    if (text === null) {
      return { ok: false, why: 'unwritable' };
    }
    const key = DESIGN_KEYS + record.id;
    const outcome = this.shelf.writeMakingRoom(key, text, () => this.spareFor(record.id));
    if (outcome === 'full') {
      return this.noted('full');
    }
    record.stamp = stamp;
    record.savedAt = savedAt;
    /** @type {('undo' | 'earlier')[]} */
    const lost = [];
    if (!this.keepEarlier(before, record.design)) {
      lost.push('earlier');
    }
    if (!this.keepUndo(record.id, stamp, past, future)) {
      lost.push('undo');
    }
    return this.noted(outcome, lost);
  }

  /** @param {WriteOutcome} outcome @param {('undo' | 'earlier')[]} [lost] @returns {SaveResult} */
  noted(outcome, lost = []) {
    this.full = outcome === 'full';
    if (outcome !== 'kept') {
      return { ok: false, why: outcome };
    }
    this.lastSavedAt = this.time();
    return { ok: true, lost };
  }

  /**
   * Keeps the state that was just replaced, if it is the one found on opening or two minutes of work lie
   * between it and the last one kept.
   * @param {Stored<D> | null} before
   * @param {D} design
   * @returns {boolean} false if there was no room
   */
  keepEarlier(before, design) {
    if (before === null || fingerprint(before.design) === fingerprint(design)) {
      return true;
    }
    const { id, stamp, savedAt } = before;
    const keys = this.earlierKeys(id);
    const found = this.justOpened.delete(id);
    if (!found && keys[0] !== undefined && isSoonAfter(timeInEarlierKey(keys[0]), savedAt)) {
      return true;
    }
    const key = earlierKey(id, stamp, savedAt);
    const text = JSON.stringify({ savedAt, design: before.design });
    const kept = this.shelf.writeMakingRoom(key, text, () => this.oldestEarlier()) !== 'full';
    for (const each of tooManyEarlier(this.earlierKeys(id))) {
      this.shelf.drop(each);
    }
    return kept;
  }

  /**
   * @param {string} id @param {string} stamp @param {D[]} past @param {D[]} future
   * @returns {boolean} false if there was room for less than all
   */
  keepUndo(id, stamp, past, future) {
    const key = UNDO_KEYS + id;
    if (past.length + future.length === 0) {
      this.shelf.drop(key);
      return true;
    }
    // No other entry is given up for an undo list: it is shortened instead.
    for (let most = UNDO_CHARACTERS; most > 1000; most /= 4) {
      const lists = { past: newestThatFit(past, most), future: newestThatFit(future, most) };
      const text = written({ stamp, ...lists });
      if (text !== null && this.shelf.write(key, text) !== 'full') {
        return most === UNDO_CHARACTERS;
      }
    }
    this.shelf.drop(key);
    return false;
  }

  /** @param {D} design @returns {Created<D>} */
  create(design) {
    return this.saveAsCopy({
      id: '',
      stamp: '',
      design,
      drafts: {},
      ticks: {},
      sheets: {},
      place: '',
      past: [],
      future: [],
      savedAt: '',
      keptOutsideAt: null,
      keptOutside: null,
    });
  }

  /** @param {KeptRecord<D>} record @returns {Created<D>} */
  saveAsCopy(record) {
    const texts = { drafts: { ...record.drafts }, ticks: { ...record.ticks }, sheets: { ...record.sheets } };
    const own = { ...texts, past: [...record.past], future: [...record.future] };
    const copy = { ...record, ...own, id: this.makeId(), stamp: '', keptOutsideAt: null, keptOutside: null };
    const saved = this.save(copy);
    if (saved.ok || saved.why === 'blocked') {
      this.rememberOpen(copy.id);
    }
    return { record: copy, saved };
  }

  /** @param {string} id @param {D} [design] @returns {Created<D> | null} */
  copy(id, design) {
    const found = this.find(id);
    if ('why' in found) {
      return null;
    }
    const { removed: _removed, ...stored } = found.stored;
    const record = { ...stored, ...this.undoLists(id, stored.stamp) };
    // A copy is another piece: nothing of it is done yet.
    return this.saveAsCopy({ ...record, ticks: {}, design: design ?? record.design });
  }

  /** @param {KeptRecord<D>} record @returns {SaveResult} */
  markKeptOutside(record) {
    record.keptOutsideAt = this.time();
    record.keptOutside = fingerprint(record.design);
    return this.save(record);
  }

  /**
   * Marks a design as removed. Its stamp stays, so that a tab in which it is still being changed brings it
   * back instead of losing that work.
   * @param {string} id
   * @returns {SaveResult}
   */
  remove(id) {
    const order = this.removedRecords().reduce((most, { removed }) => Math.max(most, removed.order), 0) + 1;
    const result = this.mark(id, { at: this.time(), order });
    for (const { id: old } of this.removedRecords().slice(REMOVED_MOST)) {
      this.erase(old);
    }
    return result;
  }

  /** @param {string} id @returns {SaveResult} */
  putBack(id) {
    return this.mark(id, undefined);
  }

  /** @param {string} id @param {{ at: string, order: number } | undefined} removed @returns {SaveResult} */
  mark(id, removed) {
    const found = this.find(id);
    if ('why' in found) {
      return { ok: false, why: found.why === 'later' ? 'newer' : 'missing' };
    }
    const text = JSON.stringify({ ...found.stored, removed });
    return this.noted(this.shelf.writeMakingRoom(DESIGN_KEYS + id, text, () => this.spareFor(id)));
  }

  /** Newest first; by a count, because the clock may have been set back. */
  removedRecords() {
    const records = this.all().flatMap((stored) =>
      stored.removed === undefined ? [] : [{ ...stored, removed: stored.removed }],
    );
    return records.sort((a, b) => b.removed.order - a.removed.order);
  }

  /** @param {string} id */
  erase(id) {
    for (const key of [DESIGN_KEYS + id, UNDO_KEYS + id, ...this.earlierKeys(id)]) {
      this.shelf.drop(key);
    }
  }

  /** @param {string} id @returns {EarlierState<D>[]} */
  earlier(id) {
    return this.earlierKeys(id).flatMap((key) => {
      const text = this.shelf.read(key) ?? '';
      const value = parsed(text);
      if (!isPlainObject(value) || !isPlainObject(value.design)) {
        this.putAside(key, text);
        return [];
      }
      const design = /** @type {D} */ (value.design);
      return [{ savedAt: timeInEarlierKey(key), name: nameOf(design), design }];
    });
  }

  /** @returns {Trouble[]} */
  troubles() {
    const left = this.shelf.keys(DESIGN_KEYS).flatMap((key) => this.troubleLeftAt(key));
    const aside = this.shelf.keys(ASIDE_KEYS).map((key) => {
      const name = after(ASIDE_KEYS, key);
      const slash = name.indexOf('/');
      const text = this.shelf.read(key) ?? '';
      const [foundAt, was] = [name.slice(0, slash), name.slice(slash + 1)];
      return { key, was, foundAt, why: /** @type {const} */ ('unreadable'), text };
    });
    return [...left, ...aside];
  }

  /** What is unreadable and could not or must not be moved. @param {string} key @returns {Trouble[]} */
  troubleLeftAt(key) {
    const found = this.find(after(DESIGN_KEYS, key));
    if ('stored' in found || found.moved || found.why === 'missing') {
      return [];
    }
    return [{ key, was: after(PREFIX, key), foundAt: null, why: found.why, text: this.shelf.read(key) ?? '' }];
  }

  /** @param {string} key */
  dropTrouble(key) {
    if (!key.startsWith(ASIDE_KEYS) || this.shelf.read(key) === null) {
      return false;
    }
    this.shelf.drop(key);
    return true;
  }

  /** @returns {Status} */
  status() {
    const kind = this.full ? 'full' : 'kept';
    return { kind: this.shelf.inMemory ? 'memory' : kind, lastSavedAt: this.lastSavedAt };
  }

  /** @param {string} id @returns {Summary | null} */
  summary(id) {
    const found = this.find(id);
    return 'stored' in found && found.stored.removed === undefined ? summaryOf(found.stored) : null;
  }

  /** @returns {Summary[]} */
  list() {
    return this.all()
      .filter(({ removed }) => removed === undefined)
      .map(summaryOf)
      .sort(newestFirst);
  }

  lastOpen() {
    const id = this.shelf.read(LAST_OPEN_KEY);
    return id !== null && this.summary(id) !== null ? id : null;
  }
}

/** Either way round, because the clock may have been set back. @param {string} a @param {string} b */
function isSoonAfter(a, b) {
  return Math.abs(Date.parse(b) - Date.parse(a)) < EARLIER_APART_MILLISECONDS;
}

/** @param {Stored<unknown>} stored @returns {Summary} */
function summaryOf(stored) {
  const { id, design, savedAt, keptOutsideAt } = stored;
  return { id, name: nameOf(design), savedAt, keptOutsideAt, changedSince: changedSinceKeptOutside(stored) };
}

/**
 * Opens what is kept on the device.
 * @template {object} D
 * @param {{ storage: StorageLike | null, now: () => number, makeId: () => string }} means
 *   `now` in milliseconds, as `Date.now`
 * @returns {Keep<D>}
 */
export function openKeep({ storage, now, makeId }) {
  /** @type {Designs<D>} */
  const designs = new Designs(storage, now, makeId);
  return {
    list: () => designs.list(),
    removed: () =>
      designs.removedRecords().map(({ id, design, removed }) => ({ id, name: nameOf(design), removedAt: removed.at })),
    open: (id) => designs.open(id),
    read: (id) => designs.read(id),
    create: (design) => designs.create(design),
    save: (record) => designs.save(record),
    copy: (id, design) => designs.copy(id, design),
    saveAsCopy: (record) => designs.saveAsCopy(record),
    markKeptOutside: (record) => designs.markKeptOutside(record),
    remove: (id) => designs.remove(id),
    putBack: (id) => designs.putBack(id),
    earlier: (id) => designs.earlier(id),
    lastOpen: () => designs.lastOpen(),
    troubles: () => designs.troubles(),
    dropTrouble: (key) => designs.dropTrouble(key),
    status: () => designs.status(),
    summary: (id) => designs.summary(id),
  };
}

/**
 * The device's storage, or `null` where the browser refuses even to hand it out.
 * @param {{ readonly localStorage: Storage }} window
 * @returns {Storage | null}
 */
export function deviceStorage(window) {
  try {
    return window.localStorage ?? null;
  } catch {
    return null;
  }
}

/**
 * An identity of 16 characters, safe in keys. `randomUUID` is missing on plain http, this is not.
 * @param {Pick<Crypto, 'getRandomValues'>} crypto
 * @returns {string}
 */
export function randomId(crypto) {
  const bytes = crypto.getRandomValues(new Uint8Array(8));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/**
 * What another tab did to a design. `cleared`: everything on the device was erased.
 * @typedef {{ kind: 'saved' | 'removed', id: string, summary: Summary | null }
 *   | { kind: 'cleared', id: null, summary: null }} OtherTabNews
 */

/**
 * Tells what other tabs do to the designs.
 * @template D
 * @param {Pick<Window, 'addEventListener' | 'removeEventListener'>} window
 * @param {Pick<Keep<D>, 'summary'>} keep
 * @param {(news: OtherTabNews) => void} callback
 * @returns {() => void} ends the watch
 */
export function watchOtherTabs(window, keep, callback) {
  /** @param {Event} event */
  const listen = (event) => {
    const key = /** @type {StorageEvent} */ (event).key;
    if (key === null) {
      callback({ kind: 'cleared', id: null, summary: null });
    } else if (key.startsWith(DESIGN_KEYS)) {
      const id = after(DESIGN_KEYS, key);
      const summary = keep.summary(id);
      callback({ kind: summary === null ? 'removed' : 'saved', id, summary });
    }
  };
  window.addEventListener('storage', listen);
  return () => window.removeEventListener('storage', listen);
}

/**
 * Asks the browser not to clear this site's storage by itself.
 * @param {{ readonly storage?: { persist?: () => Promise<boolean>, persisted?: () => Promise<boolean> } }} navigator
 * @returns {Promise<'granted' | 'refused' | 'unsupported' | 'failed'>}
 */
export async function askToStay(navigator) {
  try {
    const manager = navigator.storage;
    if (typeof manager?.persist !== 'function') {
      return 'unsupported';
    }
    const already = typeof manager.persisted === 'function' && (await manager.persisted());
    return already || (await manager.persist()) ? 'granted' : 'refused';
  } catch {
    return 'failed';
  }
}
