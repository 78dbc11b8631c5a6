import { element } from "./element.js";

/**
 * A short help in plain words that opens beneath the thing it explains.
 * @param {string} question
 * @param {...string} paragraphs
 */
export function help(question, ...paragraphs) {
  const text = paragraphs.map((paragraph) => element("p", {}, paragraph));
  return element("details", { class: "help" }, element("summary", {}, question), ...text);
}
