/**
 * A design as it stands in storage: its text, what can be taken of a spoiled one, and what tells two apart.
 * Knows no storage, no page and no trade: designs are opaque.
 */

/** The layout of a record. A record of a later layout belongs to a newer page and is left alone. */
export const FORMAT = 1;
/** States in each undo list; the oldest are dropped. */
export const UNDO_STATES = 100;
/** One design must not eat the room of the others. */
export const UNDO_CHARACTERS = 200_000;
const EARLIER_APART_MILLISECONDS = 2 * 60 * 1000;
const EARLIER_NEWEST = 12;
const EARLIER_MOST = 24;

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
 * @property {object} log when each was done, and the clocks of the glue; the library's own, never changed in place
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
 * @property {unknown} design as it is kept
 * @property {string} savedAt
 * @property {string | null} keptOutsideAt
 * @property {boolean} changedSince whether it was changed since it was kept outside, or never was
 */

/** @param {unknown} value @returns {value is Record<string, unknown>} */
export function isPlainObject(value) {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** @param {string} text @returns {unknown} `undefined` if it is not JSON */
export function parsed(text) {
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
export function written(value, replacer) {
  try {
    return JSON.stringify(value, replacer) ?? null;
  } catch {
    return null;
  }
}

/** @param {unknown} design */
export function nameOf(design) {
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
export function restored(text, id) {
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
    log: isPlainObject(value.log) ? value.log : {},
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
export function savesOf(stamp) {
  const saves = Number.parseInt(stamp, 10);
  return Number.isSafeInteger(saves) && saves > 0 ? saves : 0;
}

/**
 * The newest states of an undo list that fit.
 * @param {unknown[]} states
 * @param {number} charactersMost
 */
export function newestThatFit(states, charactersMost) {
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
 * The end of an earlier state's key. It sorts by the count of saves and not by the time: a tablet's clock may
 * start again from nowhere after a flat battery.
 * @param {string} stamp @param {string} savedAt
 */
export function earlierEnd(stamp, savedAt) {
  return `${String(savesOf(stamp)).padStart(10, '0')}_${savedAt}`;
}

/** @param {string} key */
export function timeInEarlierKey(key) {
  return key.slice(key.lastIndexOf('_') + 1);
}

/**
 * Which earlier states to give up: the newest dozen stay, before them the newest of each day.
 * @param {string[]} newestFirst
 */
export function tooManyEarlier(newestFirst) {
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

/** @param {{ savedAt: string }} a @param {{ savedAt: string }} b */
export function newestFirst(a, b) {
  return Date.parse(b.savedAt) - Date.parse(a.savedAt);
}

/** Either way round, because the clock may have been set back. @param {string} a @param {string} b */
export function isSoonAfter(a, b) {
  return Math.abs(Date.parse(b) - Date.parse(a)) < EARLIER_APART_MILLISECONDS;
}

/** @param {Stored<unknown>} stored @returns {Summary} */
export function summaryOf(stored) {
  const { id, design, savedAt, keptOutsideAt } = stored;
  return { id, name: nameOf(design), design, savedAt, keptOutsideAt, changedSince: changedSinceKeptOutside(stored) };
}
