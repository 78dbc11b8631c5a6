/**
 * The two doors to the desk: the server that the page came from, or a worker that holds the
 * desk in WebAssembly. Nothing else knows which; the page itself says it.
 * @typedef {(path: string, options?: RequestInit) => Promise<Response>} Door
 */

/** @type {Door} */
export const door = document.documentElement.dataset.desk === "here"
  ? (await import("./desk-here.js")).ask
  : (path, options) => fetch(path, options);
