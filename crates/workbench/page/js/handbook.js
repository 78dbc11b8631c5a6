import { CHAPTERS } from "./handbook-text.js";
import { byId, element } from "./element.js";
import { createLeaf } from "./leaf.js";

/** @typedef {string | {label: string}} Run plain words, or what stands on the page */
/** @typedef {{heading: string} | {paragraph: Run[]} | {steps: Run[][]}} Block */
/** @typedef {{name: string, title: string, blocks: Block[]}} Chapter */

/**
 * Which chapter tells of which part of the page.
 * @type {Readonly<Record<string, string>>}
 */
const TELLS_OF = {
  figure: "first-figure",
  casebook: "first-figure",
  trying: "class",
  correcting: "class",
  teaching: "class",
  workshop: "instrument",
  cabinet: "instrument",
  times: "year",
};

/**
 * The handbook: five pieces of work from beginning to end, each leading to the parts of
 * the page that it names, and each of these back to it.
 * @param {readonly import("./leaf.js").Leaf[]} leaves
 */
export function createHandbook(leaves) {
  /** @type {Map<string, HTMLDetailsElement>} */
  const chapters = new Map();
  const leaf = createLeaf("handbook", (body) => {
    for (const { name, title, blocks } of CHAPTERS) {
      const chapter = /** @type {HTMLDetailsElement} */ (element("details", { class: "handbook-chapter" },
        element("summary", {}, title),
        element("div", { class: "handbook-text" }, ...blocks.map(block))));
      chapters.set(name, chapter);
      body.append(chapter);
    }
  });

  /** @param {Block} one */
  function block(one) {
    if ("heading" in one) return element("h3", {}, one.heading);
    if ("paragraph" in one) return element("p", {}, ...one.paragraph.map(run));
    return element("ol", {}, ...one.steps.map((step) => element("li", {}, ...step.map(run))));
  }

  /** @param {Run} one */
  function run(one) {
    if (typeof one === "string") return one;
    const there = leaves.find(({ title }) => title === one.label.replaceAll("'", "’"));
    if (!there) return element("b", {}, one.label);
    return element("button", { type: "button", class: "handbook-there", onclick: () => there.show() }, one.label);
  }

  /** @param {string} name */
  function show(name) {
    leaf.show();
    const chapter = chapters.get(name);
    if (!chapter) return;
    chapter.open = true;
    chapter.scrollIntoView({ block: "start" });
  }

  for (const { name, title } of CHAPTERS) {
    for (const { id } of leaves.filter((one) => TELLS_OF[one.id] === name)) {
      byId(`${id}-body`).prepend(element("p", { class: "in-handbook" },
        element("button", { type: "button", class: "handbook-there", onclick: () => show(name) },
          `In the handbook: ${title}`)));
    }
  }
  return leaf;
}
