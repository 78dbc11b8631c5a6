/**
 * What the page holds the desk in: a manifest of pieces, each a file beside the page, or a
 * part of the page itself where that is one file.
 *
 * @typedef {object} Manifest
 * @property {string} version what this copy was built from
 * @property {string} desk the desk, without what makes files
 * @property {string | null} files the desk with it; none where no files are made
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
 * The bytes of a piece.
 * @param {string} name
 * @returns {Promise<ArrayBuffer>}
 */
export async function piece(name) {
  return new Response(await streamed(name)).arrayBuffer();
}

/**
 * A module of WebAssembly, which is compiled while it comes.
 * @param {string} name of its piece
 * @returns {Promise<WebAssembly.Module>}
 */
export async function compiled(name) {
  const headers = { "content-type": "application/wasm" };
  return WebAssembly.compileStreaming(new Response(await streamed(name), { headers }));
}

/** @param {string} name */
async function streamed(name) {
  const packed = isOneFile ? (await within(name)).stream() : await fetched(name);
  return name.endsWith(".z") ? packed.pipeThrough(new DecompressionStream("deflate")) : packed;
}

/** @param {string} name */
async function fetched(name) {
  const response = await fetch(name).catch(() => null);
  if (response?.ok && response.body) return response.body;
  throw new Error(`${name} cannot be had: the network is away, or the file is no longer there. Try again later.`);
}

/**
 * What was taken out of the page already: a browser need not hold that in memory.
 * @type {Map<string, Blob>}
 */
const takenOut = new Map();

/** @param {string} name */
async function within(name) {
  const find = () => document.querySelector(`script[data-piece="${name}"]`);
  // What is seldom wanted stands last in the file.
  if (!takenOut.has(name) && !find() && document.readyState === "loading") {
    await new Promise((read) => addEventListener("DOMContentLoaded", read, { once: true }));
  }
  const here = find();
  if (here) {
    takenOut.set(name, new Blob([ofBase64(here.textContent ?? "")]));
    here.remove();
  }
  const bytes = takenOut.get(name);
  if (!bytes) throw new Error(`${name} is not in this file; one that is whole would do`);
  return bytes;
}

/** @param {string} text */
function ofBase64(text) {
  const letters = atob(text.trim());
  const bytes = new Uint8Array(letters.length);
  for (let at = 0; at < letters.length; at += 1) bytes[at] = letters.charCodeAt(at);
  return bytes;
}
