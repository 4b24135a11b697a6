/**
 * Where texts are kept by their keys: the browser's database, which tells when they are on the disk; its local
 * storage, which does not; or memory. All three run a piece of work as a whole: everything that it writes
 * stands afterwards, or nothing of it does.
 */

/** Everything of ours in the local storage begins so; in the database it stands alone. */
export const PREFIX = 'ringwright/';
const NAME = 'ringwright';
const ENTRIES = 'entries';
const PROBE_KEY = `${PREFIX}probe`;
/** A database that does not answer must not keep the page from starting. */
const ANSWER_MILLISECONDS = 6000;

/**
 * What a piece of work reads and writes.
 * @typedef {object} Box
 * @property {(key: string) => Promise<string | null>} get
 * @property {(prefix: string) => Promise<string[]>} keys
 * @property {(prefix: string) => Promise<[string, string][]>} all
 * @property {(key: string, text: string) => void} put
 * @property {(key: string) => void} drop
 */

/** @typedef {'readonly' | 'readwrite'} Mode */

/**
 * - `disk`: what was written is on the disk.
 * - `late`: the browser has it, and brings it to the disk in its own time.
 * - `memory`: it lasts until the page closes.
 * @typedef {'disk' | 'late' | 'memory'} StoreKind
 */

/**
 * `run` fails with a `DOMException` when the browser refuses.
 * @typedef {object} Store
 * @property {StoreKind} kind
 * @property {<T>(mode: Mode, work: (box: Box) => Promise<T>) => Promise<T>} run
 */

/**
 * The part of `Storage` that is used here.
 * @typedef {Pick<Storage, 'length' | 'key' | 'getItem' | 'setItem' | 'removeItem'>} StorageLike
 */

/** @param {unknown} error */
export function isFull(error) {
  const name = error instanceof Error || error instanceof DOMException ? error.name : '';
  return name === 'QuotaExceededError' || name === 'NS_ERROR_DOM_QUOTA_REACHED';
}

/**
 * @template T
 * @param {IDBRequest<T>} request
 * @returns {Promise<T>}
 */
function answer(request) {
  return new Promise((resolve, reject) => {
    request.addEventListener('success', () => resolve(request.result));
    request.addEventListener('error', () => reject(request.error));
  });
}

/** @param {unknown} value what stands in the database; all of ours is text */
function textOf(value) {
  if (value === undefined) return null;
  return typeof value === 'string' ? value : JSON.stringify(value) ?? '';
}

/** @param {string} prefix */
function range(prefix) {
  return IDBKeyRange.bound(prefix, `${prefix}\uffff`);
}

/** @param {IDBObjectStore} store @returns {Box} */
function boxOf(store) {
  return {
    get: async (key) => textOf(await answer(store.get(key))),
    keys: async (prefix) => (await answer(store.getAllKeys(range(prefix)))).map(String),
    all: async (prefix) => {
      const [keys, values] = await Promise.all([
        answer(store.getAllKeys(range(prefix))), answer(store.getAll(range(prefix)))]);
      return keys.map((key, at) => [String(key), textOf(values[at]) ?? '']);
    },
    put: (key, text) => void store.put(text, key),
    drop: (key) => void store.delete(key),
  };
}

/** The browser's database: what it has confirmed is on the disk. @implements {Store} */
export class DatabaseStore {
  /** @type {'disk'} */
  kind = 'disk';
  /** @type {Promise<IDBDatabase> | null} */
  connection = null;

  /** @param {IDBFactory} factory @param {() => void} [onCleared] called when the browser has erased it all */
  constructor(factory, onCleared) {
    this.factory = factory;
    this.onCleared = onCleared;
  }

  connect() {
    this.connection ??= this.open();
    return this.connection;
  }

  /** @returns {Promise<IDBDatabase>} */
  open() {
    return new Promise((resolve, reject) => {
      const late = () => reject(new DOMException('the database does not answer', 'TimeoutError'));
      const timer = setTimeout(late, ANSWER_MILLISECONDS);
      const request = this.factory.open(NAME, 1);
      request.addEventListener('upgradeneeded', () => request.result.createObjectStore(ENTRIES));
      request.addEventListener('error', () => reject(request.error));
      request.addEventListener('success', () => {
        clearTimeout(timer);
        this.watch(request.result);
        resolve(request.result);
      });
    });
  }

  /** @param {IDBDatabase} database */
  watch(database) {
    database.addEventListener('versionchange', () => this.letGo());
    database.addEventListener('close', () => {
      this.connection = null;
      this.onCleared?.();
    });
  }

  /** A lost connection is made anew with the next piece of work. */
  letGo() {
    void this.connection?.then((database) => database.close(), () => undefined);
    this.connection = null;
  }

  /**
   * @template T
   * @param {Mode} mode
   * @param {(box: Box) => Promise<T>} work
   * @returns {Promise<T>}
   */
  async run(mode, work) {
    try {
      return await this.once(mode, work);
    } catch (error) {
      if (!(error instanceof DOMException) || isFull(error)) throw error;
      // The connection may have been cut, by a browser that was short of memory or erased everything.
      this.letGo();
      return this.once(mode, work);
    }
  }

  /**
   * @template T
   * @param {Mode} mode
   * @param {(box: Box) => Promise<T>} work
   * @returns {Promise<T>}
   */
  async once(mode, work) {
    const database = await this.connect();
    // Without this word a browser says "done" when it has only told the system to write.
    const transaction = database.transaction(ENTRIES, mode, { durability: 'strict' });
    /** @type {Promise<void>} */
    const done = new Promise((resolve, reject) => {
      transaction.addEventListener('complete', () => resolve());
      transaction.addEventListener('abort', () => {
        reject(transaction.error ?? new DOMException('the database gave up', 'AbortError'));
      });
    });
    // It may fail before the work comes to waiting for it.
    done.catch(() => undefined);
    const result = await work(boxOf(transaction.objectStore(ENTRIES))).catch(async (error) => {
      endIn(transaction);
      // What made it fail names the reason better than the request that was cut off by that.
      await done.catch((cause) => {
        if (isFull(cause)) throw cause;
      });
      throw error;
    });
    await done;
    return result;
  }
}

/** @param {IDBTransaction} transaction */
function endIn(transaction) {
  try {
    transaction.abort();
  } catch {
    // It had ended by itself.
  }
}

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

/** A storage that knows only single writes, made to run whole pieces of work. @implements {Store} */
export class StorageStore {
  /** @param {StorageLike} storage @param {StoreKind} kind */
  constructor(storage, kind) {
    this.storage = storage;
    this.kind = kind;
    /** @type {Promise<unknown>} one piece of work after the other */
    this.turn = Promise.resolve();
  }

  /**
   * @template T
   * @param {Mode} _mode
   * @param {(box: Box) => Promise<T>} work
   * @returns {Promise<T>}
   */
  run(_mode, work) {
    const turn = this.turn.then(() => this.once(work));
    this.turn = turn.catch(() => undefined);
    return turn;
  }

  /**
   * @template T
   * @param {(box: Box) => Promise<T>} work
   * @returns {Promise<T>}
   */
  async once(work) {
    /** @type {Map<string, string | null>} what is to be written, `null` for what is to go */
    const changes = new Map();
    /** @param {string} key */
    const get = (key) => changes.get(key) ?? (changes.has(key) ? null : this.storage.getItem(PREFIX + key));
    /** @param {string} prefix */
    const keys = (prefix) => [...new Set([...this.keys(), ...changes.keys()])]
      .filter((key) => key.startsWith(prefix) && get(key) !== null).sort();
    const result = await work({
      get: async (key) => get(key),
      keys: async (prefix) => keys(prefix),
      all: async (prefix) => keys(prefix).map((key) => [key, get(key) ?? '']),
      put: (key, text) => void changes.set(key, text),
      drop: (key) => void changes.set(key, null),
    });
    this.apply(changes);
    return result;
  }

  keys() {
    return keysOf(this.storage).filter((key) => key.startsWith(PREFIX)).map((key) => key.slice(PREFIX.length));
  }

  /** All of it or nothing. @param {Map<string, string | null>} changes */
  apply(changes) {
    const before = [...changes.keys()].map((key) => /** @type {const} */ ([key, this.storage.getItem(PREFIX + key)]));
    try {
      this.write([...changes]);
    } catch (error) {
      const changed = before.filter(([key, text]) => this.storage.getItem(PREFIX + key) !== text);
      // What came in their place goes first, so that there is room for them again.
      this.write(changed.map(([key]) => [key, null]));
      this.write(changed);
      throw error;
    }
  }

  /** What goes makes room for what comes. @param {(readonly [string, string | null])[]} changes */
  write(changes) {
    for (const [key, text] of changes) {
      if (text === null) this.storage.removeItem(PREFIX + key);
    }
    for (const [key, text] of changes) {
      if (text !== null) this.storage.setItem(PREFIX + key, text);
    }
  }
}

/** @param {StorageLike} storage @returns {string[]} */
export function keysOf(storage) {
  const keys = [];
  for (let index = 0; index < storage.length; index += 1) {
    const key = storage.key(index);
    if (key !== null) keys.push(key);
  }
  return keys;
}

/**
 * The device's local storage, or `null` where the browser refuses even to hand it out or to write in it. Some
 * browsers' private windows offer one in which there is no room for anything.
 * @param {{ readonly localStorage: StorageLike }} window
 * @returns {StorageLike | null}
 */
export function localStorageOf(window) {
  try {
    const storage = window.localStorage ?? null;
    if (storage !== null && keysOf(storage).length === 0) {
      storage.setItem(PROBE_KEY, '1');
      storage.removeItem(PROBE_KEY);
    }
    return storage;
  } catch {
    return null;
  }
}

/**
 * The best store of this browser that answers.
 * @param {{ readonly indexedDB: IDBFactory }} window
 * @param {StorageLike | null} storage
 * @param {() => void} onCleared
 * @returns {Promise<Store>}
 */
export async function bestStore(window, storage, onCleared) {
  try {
    const store = new DatabaseStore(window.indexedDB, onCleared);
    await store.connect();
    return store;
  } catch {
    // Refused or silent; the kind of the store that is taken instead tells it.
    return storage ? new StorageStore(storage, 'late') : memoryStore();
  }
}

export function memoryStore() {
  return new StorageStore(new MemoryStorage(), 'memory');
}

/**
 * Storage that never throws: it tells what became of a piece of work, and goes on in memory once refused.
 */
export class Shelf {
  /** @param {Promise<Store>} store */
  constructor(store) {
    this.store = store;
    /** @type {StoreKind | null} `null` until it is known */
    this.kind = null;
    void store.then(({ kind }) => { this.kind = kind; });
  }

  /**
   * @template T
   * @param {Mode} mode
   * @param {(box: Box) => Promise<T>} work may be run twice; only one of the runs leaves anything
   * @returns {Promise<{ isFull: false, kind: StoreKind, value: T } | { isFull: true }>}
   */
  async run(mode, work) {
    const store = await this.store;
    try {
      return { isFull: false, kind: store.kind, value: await store.run(mode, work) };
    } catch (error) {
      if (!(error instanceof DOMException)) throw error;
      if (isFull(error)) return { isFull: true };
      const memory = await this.goOnInMemory(store);
      return { isFull: false, kind: memory.kind, value: await memory.run(mode, work) };
    }
  }

  /** @param {Store} refused */
  async goOnInMemory(refused) {
    const now = await this.store;
    if (now !== refused) return now;
    const memory = memoryStore();
    this.store = Promise.resolve(memory);
    this.kind = memory.kind;
    try {
      const entries = await refused.run('readonly', (box) => box.all(''));
      await memory.run('readwrite', async (box) => {
        for (const [key, text] of entries) box.put(key, text);
      });
    } catch {
      // Reading is refused as well: what is open is all there is, and the kind says "memory".
    }
    return memory;
  }
}
