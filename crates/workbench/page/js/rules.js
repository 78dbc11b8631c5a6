/** @typedef {import("./types.js").Rules} Rules */

const KEY = "almuri-rules";

/** @returns {Record<string, unknown>} */
function stored() {
  try {
    return JSON.parse(localStorage.getItem(KEY) ?? "{}");
  } catch {
    return {};
  }
}

/**
 * The rules of figures as they were last chosen.
 * @param {import("./types.js").Start} start
 * @returns {Rules}
 */
export function keptRules(start) {
  const found = stored();
  /** @type {Rules} */
  const usable = { outer: found["outer"] === true };
  for (const { rule, choices } of start.rules) {
    const kept = found[rule];
    // What an earlier program kept may be no choice of this one.
    if (typeof kept === "string" && choices.includes(kept)) usable[rule] = kept;
  }
  return usable;
}

/** @param {Rules} rules */
export const keepRules = (rules) => localStorage.setItem(KEY, JSON.stringify(rules));

/** Where houses begin to count; null where that is the usual place. */
export const keptBorder = () => (stored()["border"] === "five-degrees" ? "five-degrees" : null);

/** Whether Uranus, Neptune and Pluto are shown. */
export const outerShown = () => stored()["outer"] === true;
