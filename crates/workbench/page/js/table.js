import { element } from "./element.js";

/** @typedef {string | Node | null} Cell */

/**
 * A table; the first cell of each row names it.
 * @param {string} caption
 * @param {string[]} heads
 * @param {Cell[][]} rows
 */
export function table(caption, heads, rows) {
  return element("table", { class: "facts-table" },
    element("caption", {}, caption),
    element("thead", {}, element("tr", {}, ...heads.map((head) => element("th", { scope: "col" }, head)))),
    element("tbody", {}, ...rows.map((row) => element("tr", {},
      ...row.map((cell, index) => (index === 0
        ? element("th", { scope: "row" }, cell)
        : element("td", {}, cell)))))));
}

/**
 * A table that may be wider than its place: then it is moved by itself.
 * @param {HTMLTableElement} wide
 */
export const movable = (wide) =>
  element("div", { class: "movable", tabindex: "0", role: "group", "aria-label": wide.caption?.textContent ?? "" }, wide);
