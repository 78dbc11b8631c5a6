import * as desk from "./desk.js";
import { keepsClasses } from "./door.js";
import { createClassForm } from "./class-form.js";
import { element, labelled } from "./element.js";
import { exerciseCorrecting } from "./exercise-correcting.js";
import { help } from "./help.js";
import { createLeaf } from "./leaf.js";
import { paper } from "./paper.js";
import { fileName, save } from "./save.js";
import { sentence, toMinute } from "./words.js";

/**
 * Teaching: what is worked now as a handout, exercises for a class with keys for
 * everyone’s own instrument, and correcting by them.
 * @param {import("./store.js").Store} store
 * @param {import("./operation.js").Operation} operation
 * @param {import("./shelf.js").Shelf} shelf
 * @param {(kept: import("./types.js").KeptClass) => void} kept what is done with a class that was kept
 */
export function createTeaching(store, operation, shelf, kept) {
  const form = createClassForm(store, shelf);
  const leaf = createLeaf("teaching", (body) => body.append(
    element("div", { class: "teaching" },
      handout(store, operation), classExercises(form, kept), exerciseCorrecting())));
  return {
    leaf,
    /** Takes a kept class into the form. @param {import("./types.js").KeptClass} before */
    change(before) {
      form.takeUp(before);
      leaf.show();
    },
  };
}

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
 * @param {import("./class-form.js").ClassForm} form
 * @param {(kept: import("./types.js").KeptClass) => void} kept
 */
function classExercises(form, kept) {
  const size = paper("class-paper");
  const long = element("input", { id: "class-long-key", type: "checkbox" });
  return element("div", {},
    element("h3", {}, "Exercises for a class"),
    element("p", {}, "A sheet for everyone, and a key with what each one’s own instrument reads, how near is right, and what the likeliest slips would show."),
    form.group,
    keepsClasses ? keeping(form, kept) : element("p", { class: "quiet", id: "no-classes" },
      "This copy of the page keeps no class: a class is a year’s work, and a browser may forget what it keeps. The program on a machine of one’s own keeps classes, gives sheets out and takes answers in; sheets, key and exercises.json are drawn here too."),
    labelled("Paper", size),
    element("label", { class: "tick" }, long, " the key at length too"),
    ...making("make-exercises", "Draw the exercises", async () => [
      "exercises.zip", await desk.exercises(form.text, size.value, long.checked),
    ]),
    help(
      "What is drawn?",
      "Questions spread over the year, the day and the zodiac, each of which the pupil’s instrument can answer. The same seed draws the same sheets; it stands at the foot of each. For a beginner the ascendant moves gently; an adept’s questions seek the places where it is hard.",
      "In the archive are the sheets, key.pdf for the teacher, and exercises.json, by which answers are corrected here.",
    ));
}

/**
 * The button that keeps the class of the form.
 * @param {import("./class-form.js").ClassForm} form
 * @param {(kept: import("./types.js").KeptClass) => void} kept
 */
function keeping(form, kept) {
  const fault = element("p", { class: "fault", role: "alert" });
  const done = element("p", { class: "quiet", role: "status", id: "class-kept" });
  const button = element("button", {
    type: "button", id: "keep-class",
    onclick: async () => {
      fault.textContent = "";
      done.textContent = "";
      try {
        const before = form.before;
        const after = await desk.classes("keep", { instead_of: before && { id: before.id, version: before.version }, ...form.said });
        form.takeUp(after);
        kept(after);
        done.textContent = before ? "Changed, and kept." : "Kept; it stands under “Classes”.";
      } catch (error) {
        fault.textContent = sentence(error);
      }
    },
  }, "Keep the class");
  return element("div", {}, element("p", { class: "row" }, button), done, fault);
}
