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
  const within = document.querySelector(`script[data-piece="${name}"]`);
  const packed = within ? ofBase64(within.textContent ?? "") : await fetched(name);
  if (!name.endsWith(".z")) return packed;
  const opened = new Blob([packed]).stream().pipeThrough(new DecompressionStream("deflate"));
  return new Response(opened).arrayBuffer();
}

/** @param {string} name */
async function fetched(name) {
  const response = await fetch(name).catch(() => null);
  if (response?.ok) return response.arrayBuffer();
  throw new Error(`${name} cannot be had: the network is away, or the file is no longer there. Try again later.`);
}

/** @param {string} text */
function ofBase64(text) {
  const letters = atob(text.trim());
  const bytes = new Uint8Array(letters.length);
  for (let at = 0; at < letters.length; at += 1) bytes[at] = letters.charCodeAt(at);
  return bytes.buffer;
}
