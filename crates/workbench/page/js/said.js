import { element } from "./element.js";

/** @typedef {import("./types.js").Step} Step */

/**
 * Sentences whose words show what they name: under the pointer in the sentence itself,
 * and for keyboard and finger as a row of what the step names, with the finer numbers
 * for who wants them.
 * @param {import("./stage.js").Stage} stage
 */
export function createSaid(stage) {
  /**
   * The words of a step, as nodes of its sentence.
   * @param {Step} step
   */
  function words(step) {
    return step.said.map((run) => {
      if (run.shows) {
        const { shows } = run;
        return element("span", {
          class: "names",
          onpointerenter: () => stage.point(shows),
          onpointerleave: () => stage.point([]),
        }, run.text);
      }
      if (run.finer) return element("span", { title: run.finer }, run.text);
      return document.createTextNode(run.text);
    });
  }

  /**
   * What a step names, each to be shown, and its finer numbers; nothing where it has none.
   * @param {Step} step
   */
  function more(step) {
    /** @type {Map<string, string[]>} */
    const named = new Map();
    for (const { word, text, shows } of step.said) {
      if (shows) named.set(word ?? text, [...new Set([...(named.get(word ?? text) ?? []), ...shows])]);
    }
    const buttons = [...named].map(([name, shows]) => element("button", {
      type: "button", class: "show-part",
      onfocus: () => stage.point(shows),
      onblur: () => stage.point([]),
      onpointerenter: () => stage.point(shows),
      onpointerleave: () => stage.point([]),
      onclick: () => stage.point(shows),
    }, name));
    const rough = step.said.filter(({ finer }) => finer);
    if (rough.length === 0) return buttons;
    const exact = element("p", { class: "quiet", hidden: true },
      rough.map(({ text, finer }) => `${text}: ${finer}`).join("; "));
    const finer = element("button", {
      type: "button", class: "show-part finer", "aria-pressed": "false",
      onclick: () => {
        exact.hidden = !exact.hidden;
        finer.setAttribute("aria-pressed", String(!exact.hidden));
      },
    }, "finer numbers");
    return [...buttons, finer, exact];
  }

  return { words, more };
}
