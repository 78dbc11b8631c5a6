import { element } from "./element.js";
import { capital } from "./words.js";

/** @typedef {import("./types.js").During} During */

/** So many times of day stand over the strip at the most. */
const MOST_TICKS = 6;
/** Beyond this part of it a time of day would not fit. */
const LAST_TICK = 0.86;
const STEPS_MIN = [1, 2, 5, 10, 15, 30, 60, 120, 180, 360];
const DAY_S = 86400;

/**
 * A strip of time: what ascendant, midheaven, lord of the hour and houses are in turn, one
 * line each, as long as each lasts. What it shows stands in the table of changes too.
 * @param {During} during
 */
export function stripOf({ from, length_s, strip }) {
  const shown = length_s || 1;
  return element("div", { class: "strip", role: "group", "aria-label": "The time as a strip" },
    element("div", { class: "strip-line", "aria-hidden": "true" },
      element("span", { class: "strip-what" }),
      element("span", { class: "strip-bar strip-times" }, ...ticks(from, shown).map(({ at, text }) =>
        placed("inset-inline-start", at / shown, element("span", {}, text))))),
    ...strip.map(({ what, spans }) => element("div", { class: "strip-line" },
      element("span", { class: "strip-what" }, capital(what)),
      element("span", { class: "strip-bar" }, ...spans.map(({ from_s, until_s, value }) =>
        placed("inline-size", (until_s - from_s) / shown, element("span", { class: "strip-span" }, value)))))));
}

/**
 * Gives an element a length along the strip, as a part of it. The page allows no styles in
 * attributes.
 * @param {"inline-size" | "inset-inline-start"} length
 * @param {number} part
 * @param {HTMLElement} one
 */
function placed(length, part, one) {
  one.style.setProperty(length, `${100 * part}%`);
  return one;
}

/**
 * Times of day at whole minutes.
 * @param {string} from the earliest, date and time
 * @param {number} length_s
 */
function ticks(from, length_s) {
  const [hours = 0, minutes = 0, seconds = 0] = (from.split(" ").at(-1) ?? "").split(":").map(Number);
  const begin = hours * 3600 + minutes * 60 + seconds;
  const step = 60 * (STEPS_MIN.find((step) => length_s / (step * 60) <= MOST_TICKS) ?? 720);
  const found = [];
  for (let at = Math.ceil(begin / step) * step; at <= begin + length_s * LAST_TICK; at += step) {
    const minutes = Math.round((at % DAY_S) / 60);
    found.push({ at: at - begin, text: `${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}` });
  }
  return found;
}
