/**
 * What is kept on the device: every design with its undo list, its typed but not yet accepted text,
 * several earlier states, and the removed ones. This file decides what is written and what is given up;
 * `store.js` writes it, `record.js` knows how a design stands there.
 *
 * A save is one piece of work that is wholly on the disk when it says so, or not at all: the record, its undo
 * lists and its earlier state are never out of step. Knows no page and no trade: store, clock and identities are
 * handed in, designs are opaque. Every failure comes back as a value; nothing that cannot be read is ever
 * overwritten.
 *
 * Keys:
 * - `design/ID`            the record without its undo lists, so that a list of designs reads little
 * - `undo/ID`              past and future, valid only beside the record of the same stamp
 * - `earlier/ID/COUNT_TIME` one earlier state
 * - `aside/TIME/KEY`       the raw text of something unreadable, as it was found under KEY
 * - `last-open`            the design opened last on this device
 */

import {
  FORMAT, UNDO_CHARACTERS, earlierEnd, fingerprint, isPlainObject, isSoonAfter, nameOf, newestFirst, newestThatFit, parsed,
  restored, savesOf, summaryOf, timeInEarlierKey, tooManyEarlier, written,
} from './record.js';
import { Shelf } from './store.js';

export const DESIGN_KEYS = 'design/';
export const UNDO_KEYS = 'undo/';
export const EARLIER_KEYS = 'earlier/';
export const ASIDE_KEYS = 'aside/';
export const LAST_OPEN_KEY = 'last-open';
export const SHOP_KEY = 'shop';
export const BOARD_SHELF_KEY = 'board-shelf';

const REMOVED_MOST = 20;

/** @typedef {import('./record.js').Summary} Summary */
/** @typedef {import('./store.js').Box} Box */
/** @typedef {import('./store.js').StoreKind} StoreKind */

/**
 * @template D
 * @typedef {import('./record.js').KeptRecord<D>} KeptRecord
 */

/**
 * @template D
 * @typedef {import('./record.js').Stored<D>} Stored
 */

/**
 * - `full`: the device's storage has no room left; nothing was written, the older state still stands.
 * - `blocked`: the browser refuses storage; the record is held in memory until the page closes.
 * - `newer`: another tab has saved this design since it was read; nothing was written.
 * - `unwritable`: not a design; nothing was written.
 * - `missing`: there is no such design.
 * @typedef {'full' | 'blocked' | 'newer' | 'unwritable' | 'missing'} WhyNotSaved
 */

/** What was given up to make room. @typedef {'removed' | 'earlier' | 'undo'} Lost */

/**
 * `anew`: the design had been erased from the device meanwhile, and is there again.
 * @typedef {{ ok: true, lost: Lost[], anew: boolean } | { ok: false, why: WhyNotSaved }} SaveResult
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
 * Something that could not be read. `later` was written by a newer page and stays where it is; `isNew` was
 * found by this tab.
 * @typedef {{ key: string, was: string, foundAt: string | null, isNew: boolean, why: 'unreadable' | 'later', text: string }} Trouble
 */

/** @typedef {{ kind: StoreKind | 'full' | null, lastSavedAt: string | null }} Status */

/**
 * One thing that can be given up for a save: what stands under these keys, or a part of what is to be written.
 * @typedef {{ lost: Lost, keys: string[], limits?: Partial<Limits> }} Sacrifice
 */

/**
 * `undoMost` characters in each undo list, and whether the state that is replaced is kept as an earlier one.
 * @typedef {{ undoMost: number, hasEarlier: boolean }} Limits
 */

/** @param {string} prefix @param {string} key */
function after(prefix, key) {
  return key.slice(prefix.length);
}

/** Which design an earlier state's key belongs to. @param {string} key */
function idInEarlierKey(key) {
  return key.slice(EARLIER_KEYS.length, key.lastIndexOf('/'));
}

/**
 * As the record is at this moment: it may go on changing while it is written.
 * @template D
 * @param {KeptRecord<D>} record
 * @returns {KeptRecord<D>}
 */
function snapshot(record) {
  const texts = { drafts: { ...record.drafts }, ticks: { ...record.ticks }, sheets: { ...record.sheets } };
  return { ...record, ...texts, past: [...record.past], future: [...record.future] };
}

/**
 * The designs on one device, as one tab sees them.
 * @template {object} D
 */
export class Keep {
  /**
   * @param {object} means
   * @param {Promise<import('./store.js').Store>} means.store
   * @param {() => number} means.now in milliseconds, as `Date.now`
   * @param {() => string} means.makeId
   * @param {(id: string) => void} [means.tell] called with what was changed, for other tabs
   */
  constructor({ store, now, makeId, tell }) {
    this.shelf = new Shelf(store);
    this.now = now;
    this.makeId = makeId;
    this.tell = tell ?? (() => undefined);
    // Tells this tab's saves from those of another tab that counted to the same number.
    this.tab = makeId();
    /** @type {Set<string>} opened and not yet changed: the next change keeps the state found */
    this.justOpened = new Set();
    /** @type {Set<string>} what this tab has put aside */
    this.putAsideHere = new Set();
    /** @type {Promise<unknown>} one save after the other, so that each knows the stamp of the one before */
    this.turn = Promise.resolve();
    this.isFull = false;
    /** @type {Record<string, unknown> | null} the turner's own shop; nothing while none was kept */
    this.ownShop = null;
    /** @type {unknown} the boards on the turner's shelf, as they were read last; nothing while none lie there */
    this.boardShelf = null;
    /** @type {string | null} */
    this.lastSavedAt = null;
  }

  time() {
    return new Date(this.now()).toISOString();
  }

  /**
   * @template T
   * @param {() => Promise<T>} work
   * @returns {Promise<T>}
   */
  inTurn(work) {
    const turn = this.turn.then(work);
    this.turn = turn.catch(() => undefined);
    return turn;
  }

  /**
   * @template T
   * @param {T} otherwise
   * @param {(box: Box) => Promise<T>} work
   */
  async reading(otherwise, work) {
    const result = await this.shelf.run('readonly', work);
    return result.isFull ? otherwise : result.value;
  }

  /**
   * What stands under an id.
   * @param {Box} box
   * @param {string} id
   * @returns {Promise<{ stored: Stored<D> } | { why: 'missing' } | { why: 'unreadable' | 'later', text: string }>}
   */
  async find(box, id) {
    const text = await box.get(DESIGN_KEYS + id);
    if (text === null) return { why: 'missing' };
    const result = /** @type {ReturnType<typeof restored<D>>} */ (restored(text, id));
    return 'stored' in result ? result : { why: result.why, text };
  }

  /** @param {Box} box @returns {Promise<Stored<D>[]>} those that can be read */
  async all(box) {
    const entries = await box.all(DESIGN_KEYS);
    return entries.flatMap(([key, text]) => {
      const found = /** @type {ReturnType<typeof restored<D>>} */ (restored(text, after(DESIGN_KEYS, key)));
      return 'stored' in found ? [found.stored] : [];
    });
  }

  /** @param {Box} box @param {string} key @param {string} text */
  async putAside(box, key, text) {
    let asideKey = `${ASIDE_KEYS}${this.time()}/${key}`;
    while (await box.get(asideKey) !== null) asideKey += '+';
    box.put(asideKey, text);
    box.drop(key);
    this.putAsideHere.add(asideKey);
  }

  /** Puts aside every design that cannot be read; without room for that it stays where it is. */
  async sweep() {
    const keys = await this.reading([], async (box) => (await box.all(DESIGN_KEYS))
      .filter(([key, text]) => isUnreadable(restored(text, after(DESIGN_KEYS, key)))).map(([key]) => key));
    for (const key of keys) {
      await this.shelf.run('readwrite', async (box) => {
        const found = await this.find(box, after(DESIGN_KEYS, key));
        if (isUnreadable(found) && 'text' in found) await this.putAside(box, key, found.text);
      });
    }
  }

  /**
   * Puts a design's text aside as it stands, because what reads it cannot take it.
   * @param {string} id
   * @param {{ isLeft: boolean }} how whether the design stays as well, because most of it was taken
   */
  async setAside(id, { isLeft }) {
    await this.shelf.run('readwrite', async (box) => {
      const key = DESIGN_KEYS + id;
      const text = await box.get(key);
      if (text === null) return;
      await this.putAside(box, key, text);
      if (isLeft) box.put(key, text);
    });
  }

  /**
   * Opens a design; it counts as the one opened last. What of it cannot be read is put aside.
   * @param {string} id
   * @returns {Promise<OpenResult<D>>}
   */
  async open(id) {
    const result = await this.shelf.run('readwrite', async (box) => {
      const read = await this.readIn(box, id);
      const [key, undoKey] = [DESIGN_KEYS + id, UNDO_KEYS + id];
      const [text, undo] = [await box.get(key), await box.get(undoKey)];
      if (!read.ok && read.why === 'unreadable' && text !== null) await this.putAside(box, key, text);
      if (read.ok && undo !== null && !isUndo(parsed(undo))) await this.putAside(box, undoKey, undo);
      if (read.ok) box.put(LAST_OPEN_KEY, id);
      return read;
    });
    if (result.isFull) return this.read(id);
    if (result.value.ok) this.justOpened.add(id);
    return result.value;
  }

  /** As `open`, but only looks. @param {string} id @returns {Promise<OpenResult<D>>} */
  read(id) {
    return this.reading(/** @type {OpenResult<D>} */ ({ ok: false, why: 'missing' }), (box) => this.readIn(box, id));
  }

  /** @param {Box} box @param {string} id @returns {Promise<OpenResult<D>>} */
  async readIn(box, id) {
    const found = await this.find(box, id);
    if ('why' in found) return { ok: false, why: found.why };
    const { removed, ...stored } = found.stored;
    if (removed !== undefined) return { ok: false, why: 'removed' };
    return { ok: true, record: { ...stored, ...await this.undoLists(box, id, stored.stamp) } };
  }

  /** @param {Box} box @param {string} id @param {string} stamp @returns {Promise<{ past: D[], future: D[] }>} */
  async undoLists(box, id, stamp) {
    const value = parsed(await box.get(UNDO_KEYS + id) ?? '');
    if (!isUndo(value) || value.stamp !== stamp) return { past: [], future: [] };
    return { past: /** @type {D[]} */ (value.past), future: /** @type {D[]} */ (value.future) };
  }

  /**
   * Keeps a record as it is now, and brings its `stamp` and `savedAt` up to date.
   * @param {KeptRecord<D>} record
   * @returns {Promise<SaveResult>}
   */
  save(record) {
    const now = snapshot(record);
    return this.inTurn(() => this.write(record, { ...now, stamp: record.stamp }));
  }

  /** @param {KeptRecord<D>} record @param {KeptRecord<D>} now @returns {Promise<SaveResult>} */
  async write(record, now) {
    const { past, future, ...rest } = now;
    const stamp = `${savesOf(now.stamp) + 1}-${this.tab}`;
    const savedAt = this.time();
    const text = isPlainObject(now.design) ? written({ ...rest, format: FORMAT, stamp, savedAt }) : null;
    if (text === null) return { ok: false, why: 'unwritable' };
    const { id } = record;
    const result = await this.makingRoom(id, async (box, limits) => {
      const found = await this.find(box, id);
      if ('why' in found && found.why === 'later') return 'newer';
      if ('why' in found && found.why === 'unreadable') await this.putAside(box, DESIGN_KEYS + id, found.text);
      const before = 'stored' in found ? found.stored : null;
      if (before !== null && before.stamp !== now.stamp && !this.isOwn(before.stamp)) return 'newer';
      if (limits.hasEarlier) await this.keepEarlier(box, before, now.design);
      box.put(DESIGN_KEYS + id, text);
      this.keepUndo(box, id, stamp, { past, future }, limits.undoMost);
      if (before === null) box.put(LAST_OPEN_KEY, id);
      return 'why' in found && found.why === 'missing' && now.stamp !== '' ? 'anew' : 'kept';
    });
    const saved = this.noted(result);
    if (saved.ok || saved.why === 'blocked') {
      this.justOpened.delete(id);
      record.stamp = stamp;
      record.savedAt = savedAt;
      this.tell(id);
    }
    return saved;
  }

  /** Whether this tab has made the last save: nobody else has changed the design since. @param {string} stamp */
  isOwn(stamp) {
    return stamp.endsWith(`-${this.tab}`);
  }

  /**
   * Does a piece of work, giving up other things one by one if there is no room; if even that does not make
   * room, everything stays as it was.
   * @template T
   * @param {string} id what the room is for
   * @param {(box: Box, limits: Limits) => Promise<T>} work
   * @returns {Promise<{ isFull: true } | { isFull: false, kind: StoreKind, value: T, lost: Lost[] }>}
   */
  async makingRoom(id, work) {
    for (let count = 0; ; count = Math.max(1, count * 2)) {
      let isAll = false;
      /** @type {Lost[]} */
      let lost = [];
      const result = await this.shelf.run('readwrite', async (box) => {
        const sacrifices = count === 0 ? [] : await this.sacrifices(box, id);
        const given = sacrifices.slice(0, count);
        isAll = count > 0 && count >= sacrifices.length;
        lost = [...new Set(given.map((each) => each.lost))];
        for (const key of given.flatMap(({ keys }) => keys)) box.drop(key);
        return work(box, Object.assign({ undoMost: UNDO_CHARACTERS, hasEarlier: true }, ...given.map((each) => each.limits)));
      });
      if (!result.isFull) return { ...result, lost };
      if (isAll) return result;
    }
  }

  /**
   * What may be given up for a design, the least missed first.
   * @param {Box} box
   * @param {string} id
   * @returns {Promise<Sacrifice[]>}
   */
  async sacrifices(box, id) {
    const removed = (await this.removedIn(box)).filter((each) => each.id !== id).reverse();
    const gone = await Promise.all(removed.map((each) => this.keysOf(box, each.id)));
    const earlier = await box.keys(EARLIER_KEYS);
    earlier.sort((a, b) => Date.parse(timeInEarlierKey(a)) - Date.parse(timeInEarlierKey(b)));
    const undo = (await box.keys(UNDO_KEYS)).filter((key) => key !== UNDO_KEYS + id);
    return [
      ...gone.map((keys) => ({ lost: /** @type {const} */ ('removed'), keys })),
      ...earlier.map((key) => ({ lost: /** @type {const} */ ('earlier'), keys: [key] })),
      { lost: 'earlier', keys: [], limits: { hasEarlier: false } },
      ...[4, 16, 64, Infinity].map((part) => (
        { lost: /** @type {const} */ ('undo'), keys: [], limits: { undoMost: UNDO_CHARACTERS / part } })),
      ...undo.map((key) => ({ lost: /** @type {const} */ ('undo'), keys: [key] })),
    ];
  }

  /**
   * @param {{ isFull: true } | { isFull: false, kind: StoreKind, value: 'newer' | 'anew' | 'kept' | 'missing', lost: Lost[] }} result
   * @returns {SaveResult}
   */
  noted(result) {
    this.isFull = result.isFull;
    if (result.isFull) return { ok: false, why: 'full' };
    if (result.value === 'newer' || result.value === 'missing') return { ok: false, why: result.value };
    if (result.kind === 'memory') return { ok: false, why: 'blocked' };
    this.lastSavedAt = this.time();
    return { ok: true, lost: result.lost, anew: result.value === 'anew' };
  }

  /**
   * Keeps the state that is being replaced, if it is the one found on opening or two minutes of work lie
   * between it and the last one kept.
   * @param {Box} box
   * @param {Stored<D> | null} before
   * @param {D} design
   */
  async keepEarlier(box, before, design) {
    if (before === null || fingerprint(before.design) === fingerprint(design)) return;
    const { id, stamp, savedAt } = before;
    const keys = await this.earlierKeys(box, id);
    const isFound = this.justOpened.has(id);
    if (!isFound && keys[0] !== undefined && isSoonAfter(timeInEarlierKey(keys[0]), savedAt)) return;
    const key = `${EARLIER_KEYS}${id}/${earlierEnd(stamp, savedAt)}`;
    box.put(key, JSON.stringify({ savedAt, design: before.design }));
    for (const each of tooManyEarlier([key, ...keys.filter((old) => old !== key)].sort().reverse())) box.drop(each);
  }

  /** @param {Box} box @param {string} id @returns {Promise<string[]>} newest first */
  async earlierKeys(box, id) {
    return (await box.keys(`${EARLIER_KEYS}${id}/`)).sort().reverse();
  }

  /**
   * @param {Box} box @param {string} id @param {string} stamp @param {{ past: D[], future: D[] }} lists
   * @param {number} most characters in each
   */
  keepUndo(box, id, stamp, { past, future }, most) {
    const lists = { past: newestThatFit(past, most), future: newestThatFit(future, most) };
    const text = written({ stamp, ...lists });
    if (text === null || lists.past.length + lists.future.length === 0) box.drop(UNDO_KEYS + id);
    else box.put(UNDO_KEYS + id, text);
  }

  /** A record for a new design; it is kept once it is saved. @param {D} design @returns {KeptRecord<D>} */
  fresh(design) {
    const texts = { drafts: {}, ticks: {}, log: {}, sheets: {}, place: '', past: [], future: [] };
    return this.copyOf({ id: '', stamp: '', savedAt: '', keptOutsideAt: null, keptOutside: null, design, ...texts });
  }

  /** The record as that of another design; it is kept once it is saved. @param {KeptRecord<D>} record @returns {KeptRecord<D>} */
  copyOf(record) {
    const savedAt = this.time();
    return { ...snapshot(record), id: this.makeId(), stamp: '', savedAt, keptOutsideAt: null, keptOutside: null };
  }

  /** Notes that a file or link of it was made now; it is kept once it is saved. @param {KeptRecord<D>} record */
  noteOutside(record) {
    record.keptOutsideAt = this.time();
    record.keptOutside = fingerprint(record.design);
  }

  /**
   * Marks a design as removed. Its stamp stays, so that a tab in which it is still being changed brings it
   * back instead of losing that work. Where there is no room even for the mark, it goes for good.
   * @param {string} id
   * @returns {Promise<SaveResult>}
   */
  async remove(id) {
    const result = await this.mark(id, async (box) => {
      const others = await this.removedIn(box);
      for (const old of others.slice(REMOVED_MOST - 1)) await this.erase(box, old.id);
      return { at: this.time(), order: others.reduce((most, { removed }) => Math.max(most, removed.order), 0) + 1 };
    });
    if (result.ok || result.why !== 'full') return result;
    await this.shelf.run('readwrite', (box) => this.erase(box, id));
    return { ok: true, lost: ['removed'], anew: false };
  }

  /** @param {string} id @returns {Promise<SaveResult>} */
  putBack(id) {
    return this.mark(id, async () => undefined);
  }

  /** @param {string} id @param {(box: Box) => Promise<Stored<D>['removed']>} removed @returns {Promise<SaveResult>} */
  mark(id, removed) {
    return this.inTurn(async () => {
      const result = await this.makingRoom(id, async (box) => {
        const found = await this.find(box, id);
        if ('why' in found) return found.why === 'later' ? 'newer' : 'missing';
        box.put(DESIGN_KEYS + id, JSON.stringify({ ...found.stored, removed: await removed(box) }));
        return 'kept';
      });
      this.tell(id);
      return this.noted(result);
    });
  }

  /** Newest first; by a count, because the clock may have been set back. @param {Box} box */
  async removedIn(box) {
    const records = (await this.all(box)).flatMap((stored) => (
      stored.removed === undefined ? [] : [{ ...stored, removed: stored.removed }]));
    return records.sort((a, b) => b.removed.order - a.removed.order);
  }

  /** Everything of one design. @param {Box} box @param {string} id */
  async keysOf(box, id) {
    return [DESIGN_KEYS + id, UNDO_KEYS + id, ...await this.earlierKeys(box, id)];
  }

  /** @param {Box} box @param {string} id */
  async erase(box, id) {
    for (const key of await this.keysOf(box, id)) box.drop(key);
  }

  /** Newest first. @returns {Promise<{ id: string, name: string, removedAt: string }[]>} */
  async removed() {
    const records = await this.reading([], (box) => this.removedIn(box));
    return records.map(({ id, design, removed }) => ({ id, name: nameOf(design), removedAt: removed.at }));
  }

  /** Newest first; one that is spoiled is put aside. @param {string} id @returns {Promise<EarlierState<D>[]>} */
  async earlier(id) {
    const result = await this.shelf.run('readwrite', (box) => this.earlierIn(box, id));
    return result.isFull ? [] : result.value;
  }

  /** @param {Box} box @param {string} id */
  async earlierIn(box, id) {
    /** @type {EarlierState<D>[]} */
    const states = [];
    for (const key of await this.earlierKeys(box, id)) {
      const text = await box.get(key) ?? '';
      const value = parsed(text);
      if (isPlainObject(value) && isPlainObject(value.design)) {
        const design = /** @type {D} */ (value.design);
        states.push({ savedAt: timeInEarlierKey(key), name: nameOf(design), design });
      } else await this.putAside(box, key, text);
    }
    return states;
  }

  /** Earlier states of designs that are no more, or cannot be read. @returns {Promise<EarlierState<D>[]>} */
  async stranded() {
    const ids = await this.reading([], async (box) => {
      const readable = new Set((await this.all(box)).map((each) => each.id));
      const all = new Set((await box.keys(EARLIER_KEYS)).map(idInEarlierKey));
      return [...all].filter((id) => !readable.has(id));
    });
    return (await Promise.all(ids.map((id) => this.earlier(id)))).flat();
  }

  /** @returns {Promise<Trouble[]>} */
  troubles() {
    return this.reading([], async (box) => {
      const left = (await box.all(DESIGN_KEYS)).flatMap(([key, text]) => {
        const found = restored(text, after(DESIGN_KEYS, key));
        return 'stored' in found ? [] : [{ key, was: key, foundAt: null, isNew: true, why: found.why, text }];
      });
      const aside = (await box.all(ASIDE_KEYS)).map(([key, text]) => {
        const name = after(ASIDE_KEYS, key);
        const slash = name.indexOf('/');
        const [foundAt, was] = [name.slice(0, slash), name.slice(slash + 1)];
        return { key, was, foundAt, isNew: this.putAsideHere.has(key), why: /** @type {const} */ ('unreadable'), text };
      });
      return [...left, ...aside];
    });
  }

  /** Forgets one, once the user has it as a file. @param {string} key */
  async dropTrouble(key) {
    if (!key.startsWith(ASIDE_KEYS)) return false;
    const result = await this.shelf.run('readwrite', async (box) => {
      const isThere = await box.get(key) !== null;
      box.drop(key);
      return isThere;
    });
    return !result.isFull && result.value;
  }

  /** @returns {Status} */
  status() {
    return { kind: this.isFull ? 'full' : this.shelf.kind, lastSavedAt: this.lastSavedAt };
  }

  /** @param {string} id @returns {Promise<Summary | null>} */
  summary(id) {
    return this.reading(null, async (box) => {
      const found = await this.find(box, id);
      return 'stored' in found && found.stored.removed === undefined ? summaryOf(found.stored) : null;
    });
  }

  /** Newest first. @returns {Promise<Summary[]>} */
  async list() {
    const all = await this.reading([], (box) => this.all(box));
    return all.filter(({ removed }) => removed === undefined).map(summaryOf).sort(newestFirst);
  }

  /**
   * Of every design that is there in any way, also as something that cannot be read, and of every photograph that
   * is named in one.
   * @returns {Promise<string[] | null>}
   */
  everyName() {
    return this.reading(/** @type {string[] | null} */ (null), async (box) => {
      if (this.shelf.kind === 'memory') return null;
      const entries = [...await box.all(DESIGN_KEYS), ...await box.all(ASIDE_KEYS)];
      const keys = [...entries.map(([key]) => key), ...await box.keys(EARLIER_KEYS)];
      const ids = keys.flatMap((key) => key.split('/').map((part) => part.replace(/\++$/u, '')));
      return [...ids, ...entries.flatMap(([, text]) => text.match(/\b[0-9a-f]{16}\b/gu) ?? [])];
    });
  }

  /** Reads the turner's own shop. */
  async readShop() {
    const shop = parsed(await this.reading(null, (box) => box.get(SHOP_KEY)) ?? '');
    this.ownShop = isPlainObject(shop) ? shop : null;
  }

  /** Keeps it; whether there was room. @param {object} shop */
  async keepShop(shop) {
    const result = await this.shelf.run('readwrite', async (box) => {
      box.put(SHOP_KEY, JSON.stringify(shop));
    });
    if (result.isFull) return false;
    this.ownShop = { ...shop };
    return true;
  }

  /** Reads the turner's shelf of boards. */
  async readBoardShelf() {
    this.boardShelf = shelfOf(await this.reading(null, (box) => box.get(BOARD_SHELF_KEY)));
  }

  /**
   * Changes the shelf of boards as it stands at that moment. What of it could not be read is put aside.
   * @template {{ shelf: object | null, is_spoiled: boolean }} C
   * @param {(kept: unknown) => C} change
   * @returns {Promise<C | null>} what came of it; nothing where there was no room for it
   */
  async changeBoardShelf(change) {
    const result = await this.shelf.run('readwrite', async (box) => {
      const text = await box.get(BOARD_SHELF_KEY);
      const made = change(shelfOf(text));
      if (!made.shelf) return made;
      if (text !== null && made.is_spoiled) await this.putAside(box, BOARD_SHELF_KEY, text);
      box.put(BOARD_SHELF_KEY, JSON.stringify(made.shelf));
      return made;
    });
    if (result.isFull) return null;
    await this.readBoardShelf();
    return result.value;
  }

  async lastOpen() {
    const id = await this.reading(null, (box) => box.get(LAST_OPEN_KEY));
    return id !== null && await this.summary(id) !== null ? id : null;
  }
}

/** What cannot be read stays as it stands: it is no shelf, and that is said. @param {string | null} text @returns {unknown} */
function shelfOf(text) {
  return text === null ? null : parsed(text) ?? text;
}

/** @param {unknown} value @returns {value is { stamp?: unknown, past: unknown[], future: unknown[] }} */
function isUndo(value) {
  return isPlainObject(value) && Array.isArray(value.past) && Array.isArray(value.future);
}

/** @param {{ stored: unknown } | { why: string }} found */
function isUnreadable(found) {
  return 'why' in found && found.why === 'unreadable';
}
