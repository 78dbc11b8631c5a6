import * as desk from "./desk.js";
import { write } from "./fragment.js";
import { keptBorder } from "./rules.js";

/** @typedef {import("./types.js").Case} Case */
/** @typedef {import("./types.js").Answer} Answer */

/**
 * What the page is about: the case, and the desk's answer to it. Everything shown
 * listens to it; only what is asked changes it.
 * @param {Case} first
 */
export function createStore(first) {
  let asked = first;
  /** @type {Answer | null} */
  let answer = null;
  let answered = first;
  /** @type {AbortController | null} */
  let underWay = null;
  const events = new EventTarget();

  async function cast() {
    underWay?.abort();
    underWay = new AbortController();
    const { signal } = underWay;
    const mine = asked;
    try {
      const got = await desk.cast({ ...mine, border: keptBorder() }, signal);
      if (signal.aborted) return;
      answer = got;
      answered = mine;
      write(asked);
      events.dispatchEvent(new CustomEvent("answer", { detail: got }));
    } catch (error) {
      if (!signal.aborted) events.dispatchEvent(new CustomEvent("refused", { detail: error }));
    }
  }

  return {
    /** The case asked. */
    get case() { return asked; },
    /** The case of the last answer; the one before, while another is refused. */
    get answered() { return answered; },
    /** The last answer; the one before, while the case is refused. */
    get answer() { return answer; },
    /**
     * The case with some of it changed, cast.
     * @param {Partial<Case>} change
     */
    ask(change) {
      asked = { ...asked, ...change };
      return cast();
    },
    /** @param {(answer: Answer) => void} listener */
    onAnswer(listener) {
      events.addEventListener("answer", (event) => listener(/** @type {CustomEvent} */ (event).detail));
    },
    /** @param {(error: Error) => void} listener */
    onRefused(listener) {
      events.addEventListener("refused", (event) => listener(/** @type {CustomEvent} */ (event).detail));
    },
  };
}

/** @typedef {ReturnType<typeof createStore>} Store */

/**
 * The cusp procedure that a case follows, by its name in answers.
 * @param {Case} asked
 */
export const procedure = (asked) => (asked.by ?? "turning").replace(/-/g, "_");
