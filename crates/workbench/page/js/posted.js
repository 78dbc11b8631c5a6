import * as desk from "./desk.js";
import { byId, element, labelled } from "./element.js";
import { fileName, save } from "./save.js";
import { showVerdict } from "./verdict.js";
import { capital, sentence } from "./words.js";

/** @typedef {import("./types.js").Posted} Posted */
/** @typedef {import("./types.js").PostedPaper} PostedPaper */
/** @typedef {import("./types.js").Exercises["pupils"][number]["questions"][number]} Question */

/** What was read, by the question's number and the name of what is asked. @typedef {Record<string, Record<string, string>>} Read */

/**
 * The sheets that came with the page, if it is a pupils’ page.
 * @type {Posted | null}
 */
export const posted = JSON.parse(document.getElementById("posted")?.textContent ?? "null");

/**
 * An instrument and a place at a moment that no question is about: how it then stands gives
 * nothing away.
 * @param {PostedPaper} paper
 * @returns {import("./types.js").Case}
 */
function atRest(paper) {
  const moments = paper.asked.pupils[0]?.questions.map(({ request }) => request.moment) ?? [];
  const first = moments.find(({ at }) => at) ?? moments[0];
  return {
    when: `${first?.when?.slice(0, 4) || "2000"}-01-01 12:00`, clock: "mean", calendar: "gregorian",
    at: first?.at || "45,0", with: first?.with ?? null, read: {}, without: [],
  };
}

/** @param {Posted} it */
export const firstCase = (it) => {
  const [paper] = it.papers;
  if (!paper) throw new Error("there is no sheet on this page");
  return atRest(paper);
};

/**
 * A pupil's sheet: the questions, beside each thing asked a box, the instrument at hand, and
 * what was read corrected on the spot or saved for the teacher.
 * @param {Posted} it
 * @param {import("./store.js").Store} store
 */
export function createPosted(it, store) {
  document.body.dataset.posted = "yes";
  const section = byId("posted-sheet");
  section.hidden = false;
  const whose = element("select", { id: "posted-number" }, ...it.papers.map(({ number, asked }) =>
    element("option", { value: String(number) }, `${number}, with ${asked.pupils[0]?.instrument ?? "no instrument"}`)));
  const body = element("div", { id: "posted-questions" });
  byId("posted-title").textContent = `${it.class}, sheet ${it.sheet}`;
  section.append(
    element("p", { class: "quiet" }, it.corrects
      ? "Work each question on your instrument, write down what you read, and have it corrected here."
      : "Work each question on your instrument, write down what you read, and save it for your teacher at the end."),
    ...(it.papers.length > 1 ? [labelled("Your number", whose)] : []),
    body);

  async function show() {
    const paper = it.papers.find(({ number }) => String(number) === whose.value) ?? it.papers[0];
    if (!paper) return;
    body.replaceChildren(sheet(it, paper));
    await store.ask(atRest(paper));
  }
  whose.addEventListener("change", show);
  body.replaceChildren(...it.papers.slice(0, 1).map((paper) => sheet(it, paper)));
}

/** @param {PostedPaper} paper */
const keyOf = ({ mark, number }) => `almuri-posted-${mark}-${number}`;

/** What was written before the page was closed. @param {PostedPaper} paper @returns {Read} */
function written(paper) {
  try {
    return JSON.parse(localStorage.getItem(keyOf(paper)) ?? "{}");
  } catch {
    return {};
  }
}

/**
 * @param {Posted} it
 * @param {PostedPaper} paper
 */
function sheet(it, paper) {
  const [pupil] = paper.asked.pupils;
  if (!pupil) return element("p", { class: "fault" }, "There are no questions on this sheet.");
  const before = written(paper);
  /** @type {Map<string, HTMLInputElement>[]} */
  const all = [];
  const done = element("p", { class: "quiet", role: "status", id: "posted-saved" });

  /** @returns {Read} */
  function read() {
    /** @type {Read} */
    const found = {};
    pupil?.questions.forEach(({ number }, index) => {
      const said = [...(all[index] ?? [])].map(([name, input]) => [name, input.value.trim()]).filter(([, value]) => value);
      if (said.length > 0) found[number] = Object.fromEntries(said);
    });
    return found;
  }

  const questions = pupil.questions.map((one) => {
    const inputs = new Map(one.asks.map(({ name }) => [name, element("input", {
      id: `posted-${one.number}-${name}`, type: "text", autocomplete: "off", spellcheck: "false",
      value: before[one.number]?.[name] ?? "",
    })]));
    all.push(inputs);
    return element("li", {},
      element("p", {}, one.text),
      ...[...one.given, ...(one.off ?? [])].map((line) => element("p", { class: "quiet" }, line)),
      element("div", { class: "fields" }, ...one.asks.map(({ name, what }) => {
        const input = inputs.get(name);
        return input && labelled(capital(what), input);
      })),
      ...(it.corrects ? correcting(paper, one, inputs) : []));
  });

  const form = element("form", { novalidate: true, "aria-label": "Your answers" },
    element("p", {}, `Number ${paper.number}, with ${pupil.instrument}, ${pupil.diameter_mm} mm across.`),
    ...pupil.notes?.slice(1).map((note) => element("p", { class: "quiet" }, note)) ?? [],
    element("ol", { class: "answers" }, ...questions),
    element("p", { class: "row" }, element("button", { type: "submit", id: "posted-save" }, "Save the answers")),
    done);
  form.addEventListener("input", () => {
    done.textContent = "";
    try {
      localStorage.setItem(keyOf(paper), JSON.stringify(read()));
    } catch {
      // Where nothing is kept, what stands in the boxes is still saved by the button.
    }
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const answers = read();
    const count = Object.keys(answers).length;
    const name = `${fileName(`answers ${it.class} ${it.sheet} number ${paper.number}`)}.json`;
    const saved = {
      version: 1, class: it.class, sheet: it.sheet,
      answers: [{ number: paper.number, mark: paper.mark, read: answers }],
    };
    save(name, new Blob([`${JSON.stringify(saved, null, 1)}\n`], { type: "application/json" }));
    done.textContent = `Saved: ${name}, with ${count} of ${questions.length} questions answered. Send it to your teacher; no name stands in it.`;
  });
  return form;
}

/**
 * The button that corrects a question, and where the verdict stands.
 * @param {PostedPaper} paper
 * @param {Question} question
 * @param {Map<string, HTMLInputElement>} inputs
 */
function correcting(paper, question, inputs) {
  const fault = element("p", { class: "fault", role: "alert" });
  const result = element("div", { class: "verdict", id: `posted-verdict-${question.number}`, tabindex: "-1", "aria-live": "polite" });
  const [pupil] = paper.asked.pupils;
  const correct = async () => {
    if (!pupil) return;
    fault.textContent = "";
    const read = Object.fromEntries(
      [...inputs].map(([name, input]) => [name, input.value.trim()]).filter(([, value]) => value));
    try {
      const answer = await desk.correctExercise({
        exercises: { ...paper.asked, pupils: [{ ...pupil, questions: [question] }] },
        pupil: pupil.name, question: question.number, read,
      });
      showVerdict(result, answer, {
        whose: "", names: Object.keys(read).sort(), order: question.asks.map(({ name }) => name),
      });
      result.focus({ preventScroll: true });
    } catch (error) {
      result.replaceChildren();
      fault.textContent = sentence(error);
    }
  };
  return [
    element("p", { class: "row" },
      element("button", { type: "button", id: `posted-correct-${question.number}`, onclick: correct }, `Correct question ${question.number}`)),
    fault, result,
  ];
}
