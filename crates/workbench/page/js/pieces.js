/**
 * What the page holds the desk in: a manifest of pieces, each a file beside the page, or a
 * part of the page itself where that is one file.
 *
 * @typedef {object} Manifest
 * @property {string} version what this copy was built from
 * @property {string} desk the desk with which the page begins
 * @property {string | null} whole the one that makes files and examines instruments too, where it is here
 * @property {string} worker the script that holds it
 * @property {string[]} sky the ephemeris: a part that comes first, and the whole; or one of them
 * @property {string[]} towns the same of the towns
 * @property {string | null} lacks what this copy lacks, in a sentence
 */

/** @type {Manifest} */
export const manifest = JSON.parse(document.getElementById("pieces")?.textContent ?? "{}");

/** Whether the page is one file, which has its pieces in itself. */
export const isOneFile = document.querySelector("script[data-piece]") !== null;

/**
 * A piece as it was put in: one whose name ends in `.z` is packed.
 * @type {(name: string) => Promise<ArrayBuffer>}
 */
export const piece = isOneFile ? within : fetched;

/** A worker that holds no desk yet. */
export async function startWorker() {
  return new Worker(isOneFile ? URL.createObjectURL(new Blob([await within(manifest.worker)])) : manifest.worker);
}

/** @type {Map<string, Promise<WebAssembly.Module>>} */
const modules = new Map();

/**
 * A module of WebAssembly, for as many desks as there are.
 * @param {string} name of its piece
 */
export function compiled(name) {
  const module = modules.get(name) ?? unpacked(name);
  modules.set(name, module);
  module.catch(() => modules.delete(name));
  return module;
}

/**
 * A worker unpacks and compiles a module while this thread puts the page together, and ends:
 * what it needed for that, more than the module itself, is free at once.
 * @param {string} name
 */
async function unpacked(name) {
  const [worker, packed] = await Promise.all([startWorker(), piece(name)]);
  try {
    return await new Promise((resolve, reject) => {
      worker.onmessage = ({ data }) => "broken" in data ? reject(new Error(data.broken)) : resolve(data.module);
      worker.onerror = ({ message }) => reject(new Error(message));
      worker.postMessage({ packed }, [packed]);
    });
  } finally {
    worker.terminate();
  }
}

/** @param {string} name */
async function fetched(name) {
  const response = await fetch(name).catch(() => null);
  const bytes = response?.ok ? await response.arrayBuffer().catch(() => null) : null;
  if (bytes) return bytes;
  throw new Error(`${name} cannot be had: the network is away, or the file is no longer there. Try again later.`);
}

/**
 * What was taken out of the page already: a browser need not hold that in memory.
 * @type {Map<string, Promise<Blob>>}
 */
const takenOut = new Map();

/**
 * Where a piece stands in the page, in parts; none of them before the last is read.
 * @param {string} name
 */
function placesOf(name) {
  /** @type {HTMLElement[]} */
  const places = [...document.querySelectorAll(/** @type {"script"} */ (`script[data-piece="${name}"]`))];
  return places.length === Number(places[0]?.dataset.parts) ? places : [];
}

/** @param {string} name */
async function within(name) {
  const isHere = () => takenOut.has(name) || placesOf(name).length > 0;
  // What is seldom wanted stands last in the file.
  if (!isHere() && document.readyState === "loading") await read();
  if (!isHere()) throw new Error(`${name} is not in this file; one that is whole would do`);
  const taken = await takenOut.get(name);
  if (taken) return taken.arrayBuffer();
  const parts = placesOf(name).map(takeOut);
  takenOut.set(name, Promise.resolve(new Blob(parts)));
  return joined(parts);
}

/** Waits until the whole file is read. */
const read = () => new Promise((done) => addEventListener("DOMContentLoaded", done, { once: true }));

/** Takes the pieces out of the page that nobody asked for yet, by and by. */
export async function takeOutAll() {
  for (const name of [...manifest.sky, ...manifest.towns]) {
    const places = placesOf(name);
    if (places.length > 0) takenOut.set(name, putAway(places));
    await takenOut.get(name);
  }
}

/** So many parts are put away before others have their turn. */
const AT_ONCE = 16;

/** @param {HTMLElement[]} places */
async function putAway(places) {
  const parts = [];
  for (const place of places) {
    parts.push(new Blob([takeOut(place)]));
    if (parts.length % AT_ONCE === 0) await new Promise((others) => setTimeout(others));
  }
  return new Blob(parts);
}

/**
 * The bytes of the text in base64 within an element, which goes.
 * @param {HTMLElement} place
 */
function takeOut(place) {
  const letters = atob(place.textContent ?? "");
  const bytes = new Uint8Array(letters.length);
  for (let at = 0; at < letters.length; at += 1) bytes[at] = letters.charCodeAt(at);
  place.remove();
  return bytes;
}

/** @param {Uint8Array<ArrayBuffer>[]} parts */
function joined(parts) {
  const whole = new Uint8Array(parts.reduce((length, part) => length + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole.buffer;
}
