import * as desk from "./desk.js";
import { createClassForm } from "./class-form.js";
import { element, labelled } from "./element.js";
import { exerciseCorrecting } from "./exercise-correcting.js";
import { help } from "./help.js";
import { createLeaf } from "./leaf.js";
import { fileName, save } from "./save.js";
import { sentence, toMinute } from "./words.js";

/** Papers that handouts are printed on. */
const PAPERS = /** @type {const} */ ([["a4", "A4"], ["letter", "Letter"]]);

/**
 * Teaching: what is worked now as a handout, exercises for a class with keys for
 * everyone’s own instrument, and correcting by them.
 * @param {import("./store.js").Store} store
 * @param {import("./operation.js").Operation} operation
 * @param {import("./shelf.js").Shelf} shelf
 */
export function createTeaching(store, operation, shelf) {
  return createLeaf("teaching", (body) => body.append(
    element("div", { class: "teaching" },
      handout(store, operation), classExercises(store, shelf), exerciseCorrecting())));
}

/**
 * A paper to choose, for one of several prints.
 * @param {string} id
 */
const paper = (id) => element("select", { id }, ...PAPERS.map(([value, name]) => element("option", { value }, name)));

/**
 * A button that has something made and saved; what goes wrong is said beneath it.
 * @param {string} id
 * @param {string} text
 * @param {() => Promise<[name: string, content: Blob]>} make
 */
function making(id, text, make) {
  const fault = element("p", { class: "fault", role: "alert" });
  const done = element("p", { class: "quiet", role: "status" });
  const button = element("button", {
    type: "button", id,
    onclick: async () => {
      fault.textContent = "";
      done.textContent = "Being made.";
      button.disabled = true;
      try {
        const [name, content] = await make();
        save(name, content);
        done.textContent = `Made: ${name}, ${Math.max(1, Math.round(content.size / 1024))} KB.`;
      } catch (error) {
        done.textContent = "";
        fault.textContent = sentence(error);
      }
      button.disabled = false;
    },
  }, text);
  return [element("p", { class: "row" }, button), done, fault];
}

/**
 * @param {import("./store.js").Store} store
 * @param {import("./operation.js").Operation} operation
 */
function handout(store, operation) {
  const size = paper("handout-paper");
  const of = element("p", { class: "quiet" });
  const say = () => {
    const { answer } = store;
    const title = operation.kind?.title ?? "Casting a figure";
    of.textContent = answer
      ? `${title}: ${toMinute(answer.moment.clock_time)}, ${answer.place.name}, with ${answer.instrument.called}.`
      : "";
  };
  store.onAnswer(say);
  operation.onChosen(say);
  say();
  return element("div", {},
    element("h3", {}, "A worked example"),
    element("p", {}, "What is worked above, as a handout in black: the sum, every step with the instrument as it then stands, the readings and why they differ."),
    of,
    labelled("Paper", size),
    ...making("make-handout", "Make the handout", async () => {
      const content = await desk.handout(operation.request, size.value);
      const name = `${operation.kind?.name ?? "cast"} ${store.answer?.place.name ?? ""}`;
      return [`${fileName(name)}.pdf`, content];
    }),
    help(
      "What is in it?",
      "Lines to look at are in heavy black, and a glass shows each reading at the instrument’s own size or larger. Choose another operation above, and the handout is of that.",
    ));
}

/**
 * @param {import("./store.js").Store} store
 * @param {import("./shelf.js").Shelf} shelf
 */
function classExercises(store, shelf) {
  const size = paper("class-paper");
  const form = createClassForm(store, shelf);
  return element("div", {},
    element("h3", {}, "Exercises for a class"),
    element("p", {}, "A sheet for everyone, and a key with what each one’s own instrument reads, how finely, and what the commonest slips would show."),
    form.group,
    labelled("Paper", size),
    ...making("make-exercises", "Draw the exercises", async () => [
      "exercises.zip", await desk.exercises(form.text, size.value),
    ]),
    help(
      "What is drawn?",
      "Questions spread over the year, the day and the zodiac, each of which the pupil’s instrument can answer. The same seed draws the same sheets; it stands at the foot of each. At the first level the ascendant moves gently; the last seeks the places where it is hard.",
      "In the archive are the sheets, key.pdf for the teacher, and exercises.json, by which answers are corrected here.",
    ));
}
