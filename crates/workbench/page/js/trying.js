import * as desk from "./desk.js";
import { element, labelled } from "./element.js";
import { LEVELS } from "./class-form.js";
import { fragmentOf } from "./fragment.js";
import { help } from "./help.js";
import { bring } from "./in-view.js";
import { createLeaf } from "./leaf.js";
import { forget, recall, remember } from "./tried.js";
import { showVerdict } from "./verdict.js";
import { capital, sentence } from "./words.js";

/** @typedef {import("./types.js").Exercises} Exercises */

/** As many different questions as a seed may draw. */
const SEEDS = 1_000_000;

/**
 * Trying alone: a question drawn for the brass that is chosen above, its answers hidden until
 * one has written one’s own; what went wrong lately comes again.
 * @param {import("./store.js").Store} store
 * @param {import("./types.js").Start} start
 */
export function createTrying(store, start) {
  const level = element("select", { id: "try-level" },
    ...LEVELS.map(([value, text]) => element("option", { value }, text ?? "")));
  const draw = element("button", { type: "button", id: "try-draw", onclick: ask }, "Draw a case for my brass");
  const fault = element("p", { class: "fault", role: "alert" });
  const lately = element("p", { class: "quiet", id: "try-lately" });
  const card = element("div", { class: "trying-case", hidden: true });
  const result = element("div", { class: "verdict", id: "try-verdict", tabindex: "-1", "aria-live": "polite" });
  const after = element("p", { class: "row", hidden: true });
  /** @type {Exercises | null} */
  let drawn = null;
  let asked = 0;

  const leaf = createLeaf("trying", (body) => {
    body.append(
      element("p", {}, "A case drawn for the brass that is chosen above. Work it by hand and write what you read: what it should be stays hidden until then."),
      element("div", { class: "fields" }, labelled("How hard", level)),
      element("p", { class: "row" }, draw),
      lately, fault, card, result, after,
      help(
        "Which cases come?",
        "Any day of the year, in both halves of the day, always such as your instrument can answer. A kind of question that went wrong comes again, every second time, until it has been right twice.",
        "What you read is held against what this brass shows, and the slip that would explain it is named. How you fared stays on this machine.",
      ));
    say();
  });

  function say() {
    const again = recall();
    lately.replaceChildren(...(again.length === 0 ? [] : [
      again.length === 1 ? "One kind of question went wrong lately and comes again. " : `${again.length} kinds of question went wrong lately and come again. `,
      element("button", { type: "button", id: "try-forget", onclick: () => { forget(); say(); } }, "Forget it"),
    ]));
  }

  async function ask() {
    const { answer, case: at } = store;
    if (!answer) return;
    fault.textContent = "";
    const again = recall();
    const operation = asked++ % 2 === 0 ? again[0] ?? null : null;
    try {
      drawn = await desk.tryOne({
        with: at.with ?? { named: answer.instrument.name },
        at: start.settings.home ?? at.at,
        zone: start.settings.home ? start.settings.zone : at.zone ?? null,
        by: at.by ?? null,
        year: new Date().getFullYear(),
        level: Number(level.value),
        seed: Math.floor(Math.random() * SEEDS),
        operation,
      });
      put(drawn, operation !== null);
    } catch (error) {
      fault.textContent = sentence(error);
    }
  }

  /** @param {Exercises} exercises @param {boolean} again */
  function put(exercises, again) {
    const pupil = exercises.pupils[0];
    const question = pupil?.questions[0];
    if (!pupil || !question) return;
    result.replaceChildren();
    after.hidden = true;
    draw.textContent = "Another case";
    const inputs = new Map(question.asks.map(({ name }) => [name, element("input", {
      id: `try-${name}`, type: "text", autocomplete: "off", spellcheck: "false",
    })]));
    const form = element("form", { novalidate: true, "aria-label": "What I read" },
      element("div", { class: "fields" }, ...question.asks.map(({ name, what }) => {
        const input = inputs.get(name);
        return input && labelled(capital(what), input);
      })),
      element("p", { class: "row" }, element("button", { type: "submit", id: "try-read" }, "That is what I read")));
    form.addEventListener("submit", async (event) => {
      event.preventDefault();
      fault.textContent = "";
      const read = Object.fromEntries(
        [...inputs].map(([name, input]) => [name, input.value.trim()]).filter(([, value]) => value));
      try {
        const answer = await desk.correctExercise({ exercises, pupil: pupil.name, question: question.number, read });
        if (drawn !== exercises) return;
        showVerdict(result, answer, {
          whose: "", names: Object.keys(read).sort(), order: question.asks.map(({ name }) => name),
        });
        remember(question.request.operation, answer.verdict === "right");
        say();
        after.replaceChildren(element("button", {
          type: "button", id: "try-show",
          onclick: () => {
            location.hash = fragmentOf(question.request);
            bring(document.getElementById("at-hand") ?? document.body);
          },
        }, "Show it on the instrument"));
        after.hidden = false;
        result.focus({ preventScroll: true });
        bring(result);
      } catch (error) {
        fault.textContent = sentence(error);
      }
      result.dataset.answers = String(Number(result.dataset.answers ?? 0) + 1);
    });
    card.replaceChildren(
      element("h3", {}, question.title),
      ...(again ? [element("p", { class: "quiet" }, "This went wrong lately, so it comes again.")] : []),
      element("p", { class: "trying-text" }, question.text),
      ...question.given.map((line) => element("p", { class: "quiet" }, line)),
      element("p", { class: "more" }, `With the ${pupil.instrument}.`),
      form);
    card.hidden = false;
    card.dataset.operation = question.request.operation;
    card.dataset.drawn = String(asked);
    card.querySelector("input")?.focus({ preventScroll: true });
    bring(card);
  }

  return leaf;
}
