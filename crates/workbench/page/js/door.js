/**
 * The two doors to the desk: the server that the page came from, or a worker that holds the
 * desk in WebAssembly. Nothing else knows which; the page itself says it.
 * @typedef {Pick<Response, "ok" | "status" | "text" | "json" | "blob">} Answered
 * @typedef {(path: string, options?: RequestInit) => Promise<Answered>} Door
 */

const isHere = document.documentElement.dataset.desk === "here";

/** Whether classes are kept: the browser's own store holds cases alone. */
export const keepsClasses = !isHere;

/** @type {Door} */
export const door = isHere
  ? (await import("./desk-here.js")).ask
  : (path, options) => fetch(path, options);
