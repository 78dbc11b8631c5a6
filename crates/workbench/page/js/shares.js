import { drawn, element } from "./element.js";
import { signed } from "./words.js";

/** @typedef {Pick<import("./types.js").Why, "shares" | "difference_deg">} Why */

const ROW = 26;
const LABEL = 278;
const BAR = 206;
const VALUE = 64;

/**
 * The shares of a difference as a picture: each bar begins where the one above it
 * ends, from the calculated value to the reading. Those of nothing are left to the
 * table.
 * @param {Why} why
 * @param {string} name
 * @param {(deg: number | null) => string} [said] how an amount is said
 */
export function picture(why, name, said = signed) {
  const shares = why.shares.filter((share) => Math.abs(share.deg) >= 0.5 / 3600);
  let end = 0;
  const bars = shares.map((share) => {
    const begin = end;
    end += share.deg;
    return { name: share.words, begin, end, kind: share.deg < 0 ? "back" : "onward", deg: share.deg };
  });
  bars.push({ name: "altogether", begin: 0, end, kind: "whole", deg: end });
  const ends = bars.flatMap((bar) => [bar.begin, bar.end]);
  const low = Math.min(0, ...ends);
  const high = Math.max(0, ...ends, low + 1e-9);
  const x = (/** @type {number} */ deg) => LABEL + ((deg - low) / (high - low)) * BAR;
  const height = bars.length * ROW + 30;
  const view = drawn("svg", {
    class: "shares", viewBox: `0 0 ${LABEL + BAR + VALUE} ${height}`, role: "img",
    "aria-label": `${name}: ${bars.map((bar) => `${bar.name} ${said(bar.deg)}`).join(", ")}`,
  });
  view.append(
    drawn("line", { class: "zero", x1: x(0), x2: x(0), y1: 0, y2: height - 22 }),
    drawn("text", { class: "scale", x: x(0), y: height - 6, "text-anchor": end < 0 ? "end" : "start" }, "calculated"),
  );
  bars.forEach((bar, index) => {
    const y = 4 + index * ROW;
    const from = Math.min(x(bar.begin), x(bar.end));
    view.append(
      drawn("text", { x: LABEL - 8, y: y + 16, "text-anchor": "end" }, bar.name),
      drawn("rect", { class: bar.kind, x: from, y: y + 4, width: Math.max(1, Math.abs(x(bar.end) - x(bar.begin))), height: ROW - 9 }),
      drawn("text", { class: "value", x: LABEL + BAR + 8, y: y + 16 }, said(bar.deg)),
    );
    if (index < bars.length - 2) {
      view.append(drawn("line", { class: "thread", x1: x(bar.end), x2: x(bar.end), y1: y + 4, y2: y + ROW + 4 }));
    }
  });
  return view;
}

/**
 * The same as a table, with the shares that are nothing.
 * @param {Why} why
 * @param {string} name
 * @param {(deg: number | null) => string} [said]
 */
export function table(why, name, said = signed) {
  const line = (/** @type {string} */ words, /** @type {number | null} */ deg) => element("tr", {},
    element("th", { scope: "row" }, words), element("td", {}, said(deg)));
  return element("table", { class: "share-table" },
    element("caption", {}, `${name}: the shares, in the order in which they are taken`),
    element("thead", { class: "visually-hidden" }, element("tr", {},
      element("th", { scope: "col" }, "Cause"), element("th", { scope: "col" }, "Share"))),
    element("tbody", {}, ...why.shares.map((share) => line(share.words, share.deg))),
    element("tfoot", {}, line("altogether", why.difference_deg)));
}
