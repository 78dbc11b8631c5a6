import { CHAPTERS } from "./handbook-text.js";
import { byId, element } from "./element.js";
import { createLeaf } from "./leaf.js";

/** @typedef {string | {label: string}} Run plain words, or what stands on the page */
/** @typedef {{heading: string} | {paragraph: Run[]} | {steps: Run[][]}} Block */
/** @typedef {{name: string, title: string, blocks: Block[]}} Chapter */

/**
 * Which parts of the page a chapter tells of.
 * @type {Readonly<Record<string, readonly string[]>>}
 */
const TELLS_OF = {
  "first-figure": ["figure", "casebook"],
  class: ["trying", "correcting", "teaching"],
  instrument: ["workshop", "cabinet"],
  "old-instrument": ["workshop"],
  year: ["times"],
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

  for (const { id } of leaves) {
    const told = CHAPTERS.filter(({ name }) => TELLS_OF[name]?.includes(id));
    if (told.length === 0) continue;
    byId(`${id}-body`).prepend(element("p", { class: "in-handbook" }, ...told.map(({ name, title }) =>
      element("button", { type: "button", class: "handbook-there", onclick: () => show(name) },
        `In the handbook: ${title}`))));
  }
  return leaf;
}
