/**
 * Pictures on the device: in the browser's database, because they are too large for the
 * storage in which designs are kept. A browser that refuses it keeps them in memory.
 */

/**
 * A picture, what was told of where things are on it, and when it was kept, where that matters.
 * @typedef {{ file: Blob, told: number[], length: string, keptAt?: number }} Photo
 */

const NAME = 'ringwright-pictures';
const STORE = 'pictures';

/** @type {Map<string, Photo>} */
const inMemory = new Map();

/** @returns {Promise<IDBDatabase>} */
function openDatabase() {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, 1);
    request.addEventListener('upgradeneeded', () => request.result.createObjectStore(STORE));
    request.addEventListener('success', () => resolve(request.result));
    request.addEventListener('error', () => reject(request.error));
    request.addEventListener('blocked', () => reject(new Error('blocked')));
  });
}

/**
 * @param {IDBTransactionMode} mode
 * @param {(store: IDBObjectStore) => IDBRequest} act
 * @returns {Promise<unknown>}
 */
async function within(mode, act) {
  const database = await openDatabase();
  try {
    return await new Promise((resolve, reject) => {
      const transaction = database.transaction(STORE, mode, { durability: 'strict' });
      const request = act(transaction.objectStore(STORE));
      transaction.addEventListener('complete', () => resolve(request.result));
      transaction.addEventListener('abort', () => reject(transaction.error));
    });
  } finally {
    database.close();
  }
}

/**
 * The picture that belongs to a design or, by its name, to a step.
 * @param {string} id
 * @returns {Promise<Photo | null>}
 */
export async function photoOf(id) {
  try {
    const found = /** @type {Partial<Photo> | undefined} */ (await within('readonly', (store) => store.get(id)));
    const isWhole = found?.file instanceof Blob && Array.isArray(found.told);
    return isWhole ? /** @type {Photo} */ (found) : inMemory.get(id) ?? null;
  } catch {
    return inMemory.get(id) ?? null;
  }
}

/**
 * @param {string} id
 * @param {Photo} photo
 * @returns {Promise<boolean>} whether it outlives the page
 */
export async function keepPhoto(id, photo) {
  inMemory.set(id, photo);
  try {
    await within('readwrite', (store) => store.put(photo, id));
    return true;
  } catch {
    return false;
  }
}

/** @param {string} id */
export async function forgetPhoto(id) {
  inMemory.delete(id);
  try {
    await within('readwrite', (store) => store.delete(id));
  } catch {
    // There was no database to forget it from.
  }
}

/**
 * Forgets the pictures that belong to nothing any more.
 * @param {readonly string[]} ids what there is
 * @param {number} before what came later stays
 */
export async function forgetAllBut(ids, before) {
  try {
    const keys = await within('readonly', (store) => store.getAllKeys());
    const gone = /** @type {IDBValidKey[]} */ (keys).filter((key) => !ids.includes(String(key)));
    for (const key of gone) {
      const photo = /** @type {Partial<Photo> | undefined} */ (await within('readonly', (store) => store.get(key)));
      if ((photo?.keptAt ?? 0) < before) await within('readwrite', (store) => store.delete(key));
    }
  } catch {
    // Without a database nothing was kept.
  }
}
