/**
 * Photographs of one’s own brass, kept in the browser’s own store beside the name of the
 * instrument: no program and no file on the machine has them. Where the browser keeps
 * nothing, they last until the page is closed.
 */

/** @typedef {"mater" | "plate" | "rete" | "rule"} FacePart */
/** @typedef {{photo: Blob, marks: string, parts: FacePart[], whole: boolean}} Laid a photograph, its marks, the parts taken from it, and whether the rete is one as a whole disc */

const NAME = "almuri-brass";
const STORE = "faces";

/** Those of this page’s own time. @type {Map<string, Laid[]>} */
const here = new Map();

/**
 * What one transaction with the store answers.
 * @param {IDBTransactionMode} mode
 * @param {(store: IDBObjectStore) => IDBRequest<any>} ask
 * @returns {Promise<any>}
 */
async function asked(mode, ask) {
  const base = await new Promise((resolve, reject) => {
    const opening = indexedDB.open(NAME, 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore(STORE);
    opening.onsuccess = () => resolve(opening.result);
    opening.onerror = () => reject(opening.error);
  });
  try {
    const within = base.transaction(STORE, mode);
    const request = ask(within.objectStore(STORE));
    return await new Promise((resolve, reject) => {
      within.oncomplete = () => resolve(request.result);
      within.onabort = () => reject(within.error);
    });
  } finally {
    base.close();
  }
}

/**
 * What is laid on an instrument; nothing is an empty list.
 * @param {string} instrument
 * @returns {Promise<Laid[]>}
 */
export async function laidOn(instrument) {
  const known = here.get(instrument);
  if (known) return known;
  const kept = await asked("readonly", (store) => store.get(instrument)).catch(() => undefined);
  here.set(instrument, kept ?? []);
  return kept ?? [];
}

/**
 * Keeps what is laid on an instrument, or forgets it where that is nothing; says whether it
 * outlasts the page.
 * @param {string} instrument
 * @param {Laid[]} laid
 */
export async function keepOn(instrument, laid) {
  here.set(instrument, laid);
  try {
    await asked("readwrite", (store) => (laid.length > 0 ? store.put(laid, instrument) : store.delete(instrument)));
    return true;
  } catch {
    return false;
  }
}

/**
 * An instrument has another name, or is gone.
 * @param {string} before
 * @param {string | null} now
 */
export async function passOn(before, now) {
  const laid = await laidOn(before);
  if (laid.length === 0 || before === now) return;
  if (now !== null) await keepOn(now, laid);
  await keepOn(before, []);
}
