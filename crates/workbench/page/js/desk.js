/** Asks the desk. Everything that is computed comes from there. */

/** @typedef {import("./types.js").Refusal} Refusal */

/** What the desk refuses, with the field it belongs to. */
export class Refused extends Error {
  /** @param {Refusal} refusal */
  constructor(refusal) {
    super(refusal.message);
    this.field = refusal.field ?? null;
    this.choices = refusal.choices ?? [];
  }
}

const UNREACHED =
  "The program does not answer. If it was stopped, start it again and reload this page.";

/**
 * @param {string} path
 * @param {RequestInit} [options]
 */
async function ask(path, options) {
  let response;
  try {
    response = await fetch(path, options);
  } catch (error) {
    if (options?.signal?.aborted) throw error;
    throw new Refused({ message: UNREACHED });
  }
  const answer = await response.json().catch(() => ({ message: UNREACHED }));
  if (!response.ok) throw new Refused(answer);
  return answer;
}

/**
 * @param {string} path
 * @param {unknown} body
 * @param {AbortSignal} [signal]
 */
function post(path, body, signal) {
  const headers = { "content-type": "application/json" };
  return ask(path, { method: "POST", headers, body: JSON.stringify(body), signal });
}

/** @returns {Promise<import("./types.js").Start>} */
export const start = () => ask("/desk/start");

/**
 * @param {import("./types.js").Case} request
 * @param {AbortSignal} [signal]
 * @returns {Promise<import("./types.js").Answer>}
 */
export const cast = (request, signal) => post("/desk/cast", request, signal);

/**
 * @param {{case: import("./types.js").Case, state: import("./types.js").State, pointer: import("./types.js").Point | null}} request
 * @returns {Promise<import("./types.js").Turn>}
 */
export const turn = (request) => post("/desk/turn", request);

/**
 * @param {import("./types.js").Case} asked
 * @param {import("./types.js").Rules} [rules]
 * @returns {Promise<import("./types.js").Finished>}
 */
export const figure = (asked, rules = {}) => post("/desk/figure", { ...rules, cast: asked });

/**
 * A figure's drawing: bare, for the page's own colours, or a file that has them.
 * @param {import("./types.js").Case} asked
 * @param {import("./types.js").Rules} rules
 * @param {string} form
 * @param {boolean} [file]
 * @returns {Promise<{svg: string}>}
 */
export const drawn = (asked, rules, form, file = false) => post("/desk/figure/drawn", {
  figure: { ...rules, cast: asked }, form, bare: !file, id_prefix: file ? "" : "figure-",
});

/**
 * @param {{with: import("./types.js").With | null, plate_latitude_deg: number}} request
 * @returns {Promise<import("./types.js").Front>}
 */
export const front = (request) => post("/desk/front", request);

/**
 * @param {{with: import("./types.js").With | null, plate_latitude_deg: number}} request
 * @returns {Promise<import("./types.js").Back>}
 */
export const back = (request) => post("/desk/back", request);

/**
 * @param {string} text
 * @returns {Promise<import("./types.js").Suggestion[]>}
 */
export const suggest = (text) => post("/desk/suggest", { text });

/** @returns {Promise<import("./types.js").Today>} */
export const today = () => post("/desk/today", {});

/**
 * What is asked of the casebook.
 * @template T
 * @param {string} what
 * @param {unknown} [body]
 * @returns {Promise<T>}
 */
export const casebook = (what, body = {}) => post(`/desk/casebook/${what}`, body);

/** @param {import("./types.js").Settings} settings */
export const keep = (settings) => post("/desk/settings", settings);
