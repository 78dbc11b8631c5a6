import { element } from "./element.js";

/** @typedef {import("./types.js").Own} Own */

/** What a reading comes to. @type {Record<Own["readings"][number]["mark"], string>} */
const MARKS = {
  right: "✓ right", follows: "✓ follows", rough: "○ a rough hand", wrong: "✗ not right",
};

/** So many explanations are worth reading at once. */
const MOST = 3;

/**
 * What one did wrong oneself, said at once beneath what one read, by the same trial as
 * correcting.
 * @param {string} id
 */
export function createOwn(id) {
  const panel = element("div", { class: "own", id, "aria-live": "polite", hidden: true });
  return {
    panel,
    /**
     * Says it, and gives each reading its mark, by its name.
     * @param {Own | null} own
     * @param {Record<string, string>} read as the case has them
     * @returns {Map<string, {mark: string, right: boolean}>}
     */
    show(own, read) {
      panel.hidden = own === null;
      panel.dataset.verdict = own?.verdict ?? "";
      if (!own) return new Map();
      const right = own.verdict === "right";
      const shown = right ? [] : own.explanations.filter(({ rank }, place) => rank === 1 || place < MOST);
      panel.replaceChildren(
        element("h3", {}, right ? "✓ Right" : "What did I do wrong?"),
        element("p", {}, own.sentence),
        ...shown.map(({ slips }) => element("p", { class: "mend" }, ...slips.flatMap(({ words, mend }) => [
          element("b", {}, words), ` ${mend} `,
        ]))),
      );
      if (own.plate) panel.append(element("p", { class: "more" }, own.plate.sentence));
      // The answer has them in the order of their names.
      return new Map(Object.keys(read).sort().map((name, place) => {
        const mark = own.readings[place]?.mark ?? "wrong";
        return [name, { mark: MARKS[mark], right: mark !== "wrong" }];
      }));
    },
  };
}
