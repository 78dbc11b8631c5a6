import * as desk from "./desk.js";
import { element, labelled } from "./element.js";
import { showVerdict } from "./verdict.js";
import { capital, sentence } from "./words.js";

/** @typedef {import("./types.js").Exercises} Exercises */

/** Correcting by exercises that were drawn: nothing of the question is written again. */
export function exerciseCorrecting() {
  const file = element("input", { type: "file", id: "exercises-file", accept: ".json,application/json" });
  const whose = element("select", { id: "exercise-pupil" });
  const which = element("select", { id: "exercise-question" });
  const chosen = element("div", { class: "fields", hidden: true }, labelled("Whose", whose), labelled("Question", which));
  const asked = element("form", { novalidate: true, hidden: true, "aria-label": "Answers" });
  const fault = element("p", { class: "fault", role: "alert" });
  const result = element("div", { class: "verdict", id: "exercise-verdict", tabindex: "-1", "aria-live": "polite" });
  /** @type {Exercises | null} */
  let exercises = null;
  /** @type {Map<string, HTMLInputElement>} */
  let inputs = new Map();

  file.addEventListener("change", async () => {
    fault.textContent = "";
    exercises = null;
    try {
      const text = await file.files?.[0]?.text();
      exercises = text ? sound(JSON.parse(text)) : null;
    } catch {
      fault.textContent = "This is no exercises.json; the one that was drawn with the sheets would do.";
    }
    whose.replaceChildren(...(exercises?.pupils ?? []).map(({ name }) => element("option", { value: name }, name)));
    chosen.hidden = exercises === null;
    choose();
  });
  whose.addEventListener("change", choose);
  which.addEventListener("change", ask);

  const pupil = () => exercises?.pupils.find(({ name }) => name === whose.value) ?? null;
  const question = () => pupil()?.questions.find(({ number }) => String(number) === which.value) ?? null;

  function choose() {
    which.replaceChildren(...(pupil()?.questions ?? []).map(({ number, title }) =>
      element("option", { value: String(number) }, `${number}. ${title}`)));
    ask();
  }

  /** Makes the boxes for what the question asks. */
  function ask() {
    const it = question();
    result.replaceChildren();
    fault.textContent = "";
    asked.hidden = it === null;
    if (!it) return;
    inputs = new Map(it.asks.map(({ name }) => [name, element("input", {
      id: `answer-${name}`, type: "text", autocomplete: "off", spellcheck: "false",
    })]));
    asked.replaceChildren(
      element("p", {}, it.text),
      ...it.given.map((line) => element("p", { class: "quiet" }, line)),
      element("div", { class: "fields" }, ...it.asks.map(({ name, what }) => {
        const input = inputs.get(name);
        return input ? labelled(capital(what), input) : element("span", {});
      })),
      element("p", { class: "row" }, element("button", { type: "submit", id: "correct-exercise" }, "Correct")));
  }

  asked.addEventListener("submit", async (event) => {
    event.preventDefault();
    const [one, it] = [pupil(), question()];
    if (!exercises || !one || !it) return;
    fault.textContent = "";
    const read = Object.fromEntries(
      [...inputs].map(([name, input]) => [name, input.value.trim()]).filter(([, value]) => value));
    try {
      const answer = await desk.correctExercise({
        // The question alone: a class is larger than a page may ask with.
        exercises: { ...exercises, pupils: [{ ...one, questions: [it] }] },
        pupil: one.name, question: it.number, read,
      });
      showVerdict(result, answer, {
        whose: one.name, names: Object.keys(read).sort(), order: it.asks.map(({ name }) => name),
      });
      result.focus({ preventScroll: true });
    } catch (error) {
      result.replaceChildren();
      fault.textContent = sentence(error);
    }
    result.dataset.answers = String(Number(result.dataset.answers ?? 0) + 1);
  });

  return element("div", {},
    element("h3", {}, "Correct by the exercises"),
    element("p", {}, "With the exercises.json of a class, what a pupil read is corrected question by question."),
    element("div", { class: "field" }, element("label", { for: "exercises-file" }, "The exercises.json of the class"), file),
    chosen, asked, fault, result);
}

/**
 * As far as the page needs it; the desk looks through the rest.
 * @param {any} read
 * @returns {Exercises}
 */
function sound(read) {
  if (!Array.isArray(read?.pupils) || !read.pupils.every((/** @type {any} */ one) => Array.isArray(one?.questions))) {
    throw new Error("no exercises");
  }
  return read;
}
