import { element } from "./element.js";
import { capital } from "./words.js";

/** @typedef {import("./types.js").Step} Step */

/**
 * Sentences whose words show what they name, and whose numbers have finer ones behind them.
 * @param {import("./stage.js").Stage} stage
 */
export function createSaid(stage) {
  /**
   * The words of a step. What they name lights up on the instrument under the pointer.
   * @param {Step} step
   */
  const words = (step) => step.said.map(({ text, shows }) => (shows
    ? element("span", { class: "names", ...lighting(shows) }, text)
    : document.createTextNode(text)));

  /**
   * The same where a sentence stands by itself: a finger and the keyboard reach its words
   * too, and a number shows the finer one when it is touched.
   * @param {Step} step
   */
  const wordsToTouch = (step) => step.said.map(({ text, shows, finer }) => {
    if (shows) {
      return element("span", {
        class: "names", role: "button", tabindex: "0", ...lighting(shows),
        onfocus: () => stage.point(shows),
        onblur: () => stage.point([]),
        onclick: () => stage.point(shows),
      }, text);
    }
    return finer ? finely(text, finer) : document.createTextNode(text);
  });

  /**
   * The words with what is to be found left out, for a room to find it first.
   * @param {Step} step
   */
  const wordsWithheld = (step) => withheld(step).map(({ text, shows, kept }) => {
    if (kept) return element("span", { class: "kept-back", role: "img", "aria-label": "not yet said" }, "…");
    return shows
      ? element("span", { class: "names", ...lighting(shows) }, text)
      : document.createTextNode(text);
  });

  /** @param {string[]} shows */
  const lighting = (shows) => ({
    onpointerenter: () => stage.point(shows),
    onpointerleave: () => stage.point([]),
  });

  return { words, wordsToTouch, wordsWithheld };
}

/**
 * A step's runs, with one in the place of what it finds: what is read or reckoned, or how far
 * the rete goes.
 * @param {Step} step
 * @returns {{text: string, shows?: string[], kept?: true}[]}
 */
export const withheld = ({ said }) => said
  .filter(({ found }, index) => !found || !said[index - 1]?.found)
  .map((run) => (run.found ? { text: "", kept: true } : run));

/**
 * What a room is asked before the answer is shown.
 * @param {Step} step
 */
export const questionOf = ({ reading, rete_turn_deg }) => {
  if (reading) return `${capital(reading.what)}: what do you find?`;
  return rete_turn_deg ? "About how far does the rete go?" : "Do it on your own brass first.";
};

/**
 * A number as the instrument can show it; touched, it says the finer one as well.
 * @param {string} text
 * @param {string} finer
 */
function finely(text, finer) {
  const exact = element("span", { class: "quiet" }, ` [${finer}]`);
  const turn = () => {
    const shown = exact.isConnected;
    if (shown) exact.remove();
    else told.after(exact);
    told.setAttribute("aria-expanded", String(!shown));
  };
  const told = element("span", {
    class: "finely", role: "button", tabindex: "0", "aria-expanded": "false",
    onclick: turn,
    onkeydown: (/** @type {KeyboardEvent} */ event) => {
      if (event.key !== "Enter" && event.key !== " ") return;
      event.preventDefault();
      turn();
    },
  }, text);
  return told;
}
