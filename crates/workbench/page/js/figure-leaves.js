import { element } from "./element.js";
import { movable, table } from "./table.js";
import { sentence } from "./words.js";

/** @typedef {import("./types.js").Finished["leaves"][number]} FigureLeaf */

/**
 * The leaves of the finished figure, each folded until it is wanted: its table comes from
 * the desk when it is opened.
 * @param {import("./types.js").Start} start
 * @param {(name: string) => Promise<FigureLeaf[]>} ask
 */
export function createFigureLeaves(start, ask) {
  const leaves = start.leaves.map(({ name, title }) => {
    const body = element("div", { class: "figure-leaf" });
    const fold = element("details", { class: "further", "data-leaf": name }, element("summary", {}, title), body);
    fold.addEventListener("toggle", () => { if (fold.open) fill(name, body); });
    return { name, fold, body };
  });

  /**
   * @param {string} name
   * @param {HTMLElement} body
   */
  async function fill(name, body) {
    body.setAttribute("aria-busy", "true");
    try {
      const found = await ask(name);
      body.replaceChildren(...found.flatMap(shown));
    } catch (error) {
      body.replaceChildren(element("p", { class: "fault", role: "alert" }, sentence(error)));
    }
    body.removeAttribute("aria-busy");
  }

  return {
    element: element("div", { class: "figure-leaves" }, ...leaves.map(({ fold }) => fold)),
    /** After the case or the rules have changed. */
    again() {
      for (const { name, fold, body } of leaves) if (fold.open) fill(name, body);
    },
  };
}

/** @param {FigureLeaf} leaf */
function shown({ title, columns, rows, notes, changes, sources }) {
  return [
    movable(table(title, columns, rows.map((row) => row.map((cell) => cell.said)))),
    ...(rows.length === 0 ? [element("p", {}, "None.")] : []),
    ...notes.map((note) => element("p", {}, note)),
    ...(changes.length > 0
      ? [element("ul", { class: "near-calls" }, ...changes.map((one) => element("li", {}, one)))]
      : []),
    element("p", { class: "source" }, `In print: ${sources.join("; ")}.`),
  ];
}
