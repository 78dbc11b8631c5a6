import { element } from "./element.js";
import { signedAs } from "./words.js";

/** @typedef {import("./types.js").Corrected} Corrected */
/** @typedef {Corrected["explanations"][number]} Explanation */

/** What is left over where an explanation still fits, in the measure of what hand and
 * eye leave. */
const ROUGHLY = 3;
/** So many places are shown where none fits. */
const NEAREST = 3;

const HEADS = {
  right: "✓ Right.", slips: "This would explain it.", follows: "One is wrong.", unexplained: "Nothing fits.",
};
/** What a reading comes to. */
const MARKS = {
  right: "✓ right", follows: "✓ follows rightly", rough: "○ a rough hand", wrong: "✗ not right",
};

/**
 * What correcting comes to: the verdict, each reading, and what would explain them.
 * @param {HTMLElement} place
 * @param {Corrected} answer
 * @param {{whose: string, names: string[], order: string[]}} asked whose readings they
 *   are, their names in the order of the answer, and the order they are shown in
 */
export function showVerdict(place, answer, { whose, names, order }) {
  const shown = names.map((name, index) => ({ name, index }))
    .sort((a, b) => order.indexOf(a.name) - order.indexOf(b.name));
  const none = answer.verdict === "unexplained" || answer.verdict === "follows";
  /** @param {Explanation} one */
  const counts = ({ rank, misfit }) => (none ? rank <= NEAREST : rank === 1 || misfit < ROUGHLY);
  const first = answer.explanations.filter(counts);
  const others = answer.explanations.filter((one) => !counts(one));
  place.dataset.verdict = answer.verdict;
  place.replaceChildren(
    element("h3", {}, whose ? `${whose}: ${HEADS[answer.verdict].toLowerCase()}` : HEADS[answer.verdict]),
    element("p", { class: "sentence" }, answer.sentence),
    element("div", { class: "side-by-side" },
      readings(answer, shown.map(({ index }) => index)),
      first.length > 0 && element("div", {},
        element("h4", {}, none ? "What comes nearest" : "What would explain the readings"),
        list(first, answer, shown),
        others.length > 0 && element("details", { class: "others" },
          element("summary", {}, "What was thought of besides"), list(others, answer, shown)))));
}

/**
 * @param {Corrected} answer
 * @param {number[]} order
 */
function readings({ readings }, order) {
  const head = ["What", "Read", "Should be", "So it is"];
  const rows = order.map((index) => readings[index]).filter((one) => one !== undefined).map((one) => {
    const differs = signedAs(/** @type {import("./types.js").Measure} */ (one.measure))(one.difference_deg);
    return element("tr", {},
      element("th", { scope: "row" }, one.what),
      element("td", {}, one.read_text),
      element("td", {}, one.should_text ?? "–", one.within_text && element("span", { class: "more" }, `within ${one.within_text}`)),
      element("td", { class: one.mark === "wrong" ? "wrong" : "right" },
        MARKS[one.mark], element("span", { class: "more" }, `differs ${differs}`)));
  });
  return element("table", { class: "checked" },
    element("thead", {}, element("tr", {}, ...head.map((text) => element("th", { scope: "col" }, text)))),
    element("tbody", {}, ...rows));
}

/**
 * @param {Explanation[]} explanations
 * @param {Corrected} answer
 * @param {{name: string, index: number}[]} shown
 */
function list(explanations, answer, shown) {
  return element("ol", { class: "explanations" }, ...explanations.map((one) => element("li", { value: one.rank },
    ...(one.slips.length > 0
      ? one.slips.map(({ words, mend }) => element("p", {}, words, " ", element("span", { class: "mend" }, mend)))
      : [element("p", {}, "No slip: all as it should be.")]),
    element("p", { class: "fits" }, fits(one)),
    element("p", { class: "fits" }, "It gives ", shown.map(({ name, index }) => {
      const what = answer.readings[index]?.what ?? name;
      return `${what} ${one.shows_text[index] ?? "–"}`;
    }).join(", "), "."))));
}

/**
 * How well it fits: what is left over, in the measure of what hand and eye leave.
 * @param {Explanation} one
 */
function fits({ misfit, weight }) {
  const how = misfit < ROUGHLY / 2 ? "Fits well" : misfit < ROUGHLY ? "Fits roughly" : "Hardly fits";
  const left = misfit < 10 ? misfit.toFixed(1) : String(Math.round(misfit));
  const chance = Math.round(weight * 100);
  const among = chance === 100 ? "; nothing else that was tried comes near"
    : chance > 0 ? `; ${chance} chances in 100 among all that was tried` : "";
  return `${how}: what is left is ${left} times what hand and eye leave${among}.`;
}
