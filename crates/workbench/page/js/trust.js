import { element } from "./element.js";
import { zodiacal } from "./words.js";

/** @typedef {NonNullable<import("./types.js").Answer["verdict"]>} Verdict */

/** No verdict is told by its colour alone. */
const SIGNS = { good: "✓", usable: "○", "not-to-be-trusted": "✗" };

/**
 * How far this brass may be trusted for this moment, before anything is turned: the
 * verdict, what hangs on it, and how to do better.
 * @param {import("./store.js").Store} store
 */
export function createTrust(store) {
  const place = element("div", { class: "trust" });

  /** @param {import("./types.js").Answer} answer */
  function show({ verdict, cautions }) {
    place.hidden = verdict === null;
    if (!verdict) return;
    place.dataset.verdict = verdict.verdict;
    const table = verdict.correction;
    const { ways } = verdict;
    place.replaceChildren(
      element("p", { class: "trust-line" }, sign(verdict.verdict), " ", verdict.sentence),
      hangs(verdict, cautions));
    if (ways.length > 0) {
      place.append(element("details", { class: "trust-ways" },
        element("summary", {}, ways.length === 1 ? "One way to do better" : `${ways.length} ways to do better`),
        element("ul", {}, ...ways.map((way) => element("li", {}, sign(way.verdict), " ", way.sentence, " ", take(way))))));
    }
    if (table) {
      place.append(element("details", { class: "trust-table" },
        element("summary", {}, "What to put on the ascendant afterwards"), correction(table)));
    }
  }

  /**
   * @param {Verdict} verdict
   * @param {string[]} cautions
   */
  const hangs = ({ known, hangs }, cautions) => element("ul", { class: "trust-hangs" },
    ...[...hangs.map(({ sentence }) => sentence), ...known, ...cautions].map((sentence) => element("li", {}, sentence)));

  /** @param {Verdict["ways"][number]} way */
  function take({ with: named, sun, plates, in_full }) {
    if (!named && !sun && !plates && !in_full) return null;
    return element("button", {
      type: "button",
      onclick: () => store.ask({ ...(named ? { with: { named }, by: null, plates: null } : {}), ...(sun ? { sun } : {}), ...(plates ? { plates } : {}), ...(in_full ? { without: [] } : {}) }),
    }, named ? "Take it" : in_full ? "Do the sum in full" : plates ? "Take two plates" : "Take the ephemeris’s degree");
  }

  return { place, show };
}

/** @param {Verdict["verdict"]} verdict */
const sign = (verdict) => element("span", { class: "trust-sign", "aria-hidden": "true" }, SIGNS[verdict]);

/** @param {NonNullable<Verdict["correction"]>} table */
function correction({ title, lines, now }) {
  const half = lines.length / 2;
  const cells = (/** @type {typeof lines[number] | undefined} */ line) => [
    element("th", { scope: "row" }, line?.read_text ?? ""),
    element("td", {}, line?.add_text ?? ""),
  ];
  return element("div", {},
    now && element("p", {}, `Here: read ${now.read_text}, put on ${now.add_text}: ${zodiacal(now.read_deg + now.add_deg)}.`),
    element("table", {},
      element("caption", {}, `${title}.`),
      element("thead", {}, element("tr", {}, ...["Read", "Put on", "Read", "Put on"].map((text) =>
        element("th", { scope: "col" }, text)))),
      element("tbody", {}, ...lines.slice(0, half).map((line, index) =>
        element("tr", {}, ...cells(line), ...cells(lines[index + half]))))));
}
