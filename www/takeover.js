/**
 * What a starting page finds in the local storage and takes into the database: designs of a page from before
 * there was one, or of a time without it; and what a page that was being put away still had to write. It leaves
 * the local storage only once it is on the disk elsewhere.
 */

import { ASIDE_KEYS, DESIGN_KEYS, EARLIER_KEYS, LAST_OPEN_KEY, SHOP_KEY, UNDO_KEYS } from './keep.js';
import { FORMAT, fingerprint, isPlainObject, parsed, savesOf, written } from './record.js';
import { PREFIX, keysOf } from './store.js';

const PENDING_KEYS = 'pending/';
/** Keys of these are taken over; others of ours, as the choice of a keypad, live there. */
const OLD_KEYS = [DESIGN_KEYS, UNDO_KEYS, EARLIER_KEYS, ASIDE_KEYS, LAST_OPEN_KEY, SHOP_KEY];

/** @typedef {import('./store.js').Box} Box */
/** @typedef {import('./store.js').StorageLike} StorageLike */
/** @typedef {Map<string, string>} Texts */

/**
 * @template {object} D
 * @typedef {import('./keep.js').Keep<D>} Keep
 */

/**
 * @template D
 * @typedef {import('./record.js').KeptRecord<D>} Kept
 */

/**
 * Makes what is kept ready for the first look at it.
 * @template {object} D
 * @param {Keep<D>} keep
 * @param {StorageLike | null} storage
 */
export async function prepare(keep, storage) {
  const { kind } = await keep.shelf.store;
  if (storage !== null && kind === 'disk') await takeOver(keep, storage);
  await keep.sweep();
}

/**
 * @template {object} D
 * @param {Keep<D>} keep
 * @param {StorageLike} storage
 */
async function takeOver(keep, storage) {
  const texts = textsIn(storage);
  for (const [key, group] of groups(texts)) {
    const result = await keep.shelf.run('readwrite', (box) => (
      key.startsWith(PENDING_KEYS) ? takePending(keep, box, group) : takeGroup(keep, box, key, group)));
    // What found no room stays where it is, and is tried again at the next start.
    if (!result.isFull && result.kind === 'disk') forget(storage, group);
  }
}

/** @param {StorageLike} storage @returns {Texts} */
function textsIn(storage) {
  /** @type {Texts} */
  const texts = new Map();
  try {
    for (const key of keysOf(storage)) {
      const own = key.startsWith(PREFIX) ? key.slice(PREFIX.length) : '';
      const text = [...OLD_KEYS, PENDING_KEYS].some((each) => own.startsWith(each)) ? storage.getItem(key) : null;
      if (text !== null) texts.set(own, text);
    }
  } catch {
    // It cannot be read, today: what is there stays there.
  }
  return texts;
}

/**
 * The keys of each design together, with what it was left behind with at last behind all of them.
 * @param {Texts} texts
 * @returns {Map<string, Texts>} by the design's id, or by the key of what belongs to none
 */
function groups(texts) {
  /** @type {Map<string, Texts>} */
  const found = new Map();
  const isLast = (/** @type {string} */ key) => Number(key.startsWith(PENDING_KEYS));
  for (const [key, text] of [...texts].sort(([a], [b]) => isLast(a) - isLast(b))) {
    const [kind, id] = key.split('/');
    const isOfDesign = [DESIGN_KEYS, UNDO_KEYS, EARLIER_KEYS].includes(`${kind}/`);
    const name = isOfDesign ? id ?? '' : key;
    found.set(name, (found.get(name) ?? new Map()).set(key, text));
  }
  return found;
}

/**
 * One design, or one thing that belongs to none.
 * @template {object} D
 * @param {Keep<D>} keep
 * @param {Box} box
 * @param {string} id
 * @param {Texts} group
 */
async function takeGroup(keep, box, id, group) {
  const text = group.get(DESIGN_KEYS + id);
  const there = await box.get(DESIGN_KEYS + id);
  const isOther = text !== undefined && there !== null && stampOf(text) !== stampOf(there) && text !== there;
  // Both have been worked on: they stand side by side.
  const own = isOther ? keep.makeId() : id;
  for (const [key, each] of group) {
    const target = key.replace(`/${id}`, `/${own}`);
    if (await box.get(target) === null) box.put(target, each);
  }
}

/** @param {string} text */
function stampOf(text) {
  const value = parsed(text);
  return isPlainObject(value) && typeof value.stamp === 'string' ? value.stamp : text;
}

/**
 * What a page could not bring to the disk before it was put away: it goes on where that page was, unless
 * another one has gone on since.
 * @template {object} D
 * @param {Keep<D>} keep
 * @param {Box} box
 * @param {Texts} group
 */
async function takePending(keep, box, group) {
  for (const [key, text] of group) {
    const left = parsed(text);
    if (!isPlainObject(left) || !isPlainObject(left.record) || !isPlainObject(left.record.design)) {
      box.put(`${ASIDE_KEYS}${keep.time()}/${key}`, text);
      continue;
    }
    const { past, future, ...rest } = /** @type {Kept<D>} */ (left.record);
    const tab = key.slice(PENDING_KEYS.length);
    const stamp = `${savesOf(rest.stamp) + 2}-${tab}`;
    const found = await keep.find(box, rest.id);
    const before = 'stored' in found ? found.stored : null;
    const isOwn = before === null || before.stamp.endsWith(`-${tab}`);
    if (before !== null && isOwn && savesOf(before.stamp) >= savesOf(stamp)) continue;
    if (before !== null && !isOwn && before.stamp !== rest.stamp) {
      // A browser that was killed may bring back what it had been told to forget: known already.
      const known = [before.design, ...(await keep.undoLists(box, rest.id, before.stamp)).past];
      if (known.map(fingerprint).includes(fingerprint(rest.design))) continue;
      rest.id = keep.makeId();
    }
    if ('text' in found) await keep.putAside(box, DESIGN_KEYS + rest.id, found.text);
    if (before?.id === rest.id) await keep.keepEarlier(box, before, rest.design);
    box.put(DESIGN_KEYS + rest.id, JSON.stringify({ ...rest, format: FORMAT, stamp, savedAt: keep.time() }));
    keep.keepUndo(box, rest.id, stamp, { past, future }, Infinity);
  }
}

/** @param {StorageLike} storage @param {Texts} taken */
function forget(storage, taken) {
  try {
    for (const [key, text] of taken) {
      // A page from before may have gone on meanwhile: that is for the next start.
      if (storage.getItem(PREFIX + key) === text) storage.removeItem(PREFIX + key);
    }
  } catch {
    // It stays, and is found to be known already at the next start.
  }
}

/**
 * A second copy of what is not on the disk yet when a page is put away: the database may not be given the
 * time, and this is written before the page is left.
 */
export class LastMoment {
  /** @param {StorageLike | null} storage @param {string} tab */
  constructor(storage, tab) {
    this.storage = storage;
    this.key = PREFIX + PENDING_KEYS + tab;
    this.isLeft = false;
  }

  /** @param {import('./record.js').KeptRecord<object>} record */
  leave(record) {
    const text = written({ record });
    if (text === null || this.storage === null) return;
    try {
      this.storage.setItem(this.key, text);
      this.isLeft = true;
    } catch {
      // There is no room for it, or none at all: the database is being written to as well.
    }
  }

  /** It is on the disk now. */
  takeBack() {
    if (!this.isLeft) return;
    this.isLeft = false;
    try {
      this.storage?.removeItem(this.key);
    } catch {
      // The next start finds that it is known already.
    }
  }
}
