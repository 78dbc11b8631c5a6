import { element } from "./element.js";
import { isAsked, valueOf } from "./operation.js";
import { suggestField } from "./suggest-field.js";
import { capital, degrees, plain } from "./words.js";

/** @typedef {import("./types.js").Ask} Ask */

/** The most stars suggested at once. */
const MOST = 8;

/**
 * The form of an operation: just what it needs, as the desk asks it; the moment, the
 * place and the instrument come from the one line. What is wrong with a value is said
 * beside it.
 * @param {HTMLElement} place
 * @param {import("./store.js").Store} store
 * @param {import("./operation.js").Operation} operation
 */
export function createOperationForm(place, store, operation) {
  const fields = element("div", { class: "fields asks" });
  // What is wrong with a box is said under all of them: none moves for it.
  const said = element("div", { id: "fault-operation", role: "alert" });
  const form = element("form", { novalidate: true, "aria-label": "What is given" }, fields, said);
  form.addEventListener("submit", (event) => event.preventDefault());
  place.append(form);
  /** @type {{one: Ask, group: HTMLElement, input: HTMLInputElement | HTMLSelectElement, show: (value: string) => void}[]} */
  let shown = [];

  operation.onChosen(() => {
    const { kind } = operation;
    form.hidden = kind === null;
    shown = (kind?.asks ?? []).map(made);
    fields.replaceChildren(...shown.map(({ group }) => group));
    fill();
  });
  operation.onWorked((answer) => {
    fill();
    for (const { name, deg, given } of answer.seen) {
      const field = shown.find(({ one }) => one.place === "seen" && one.name === name);
      if (field && !given && field.input instanceof HTMLInputElement) {
        field.input.placeholder = degrees(deg);
      }
    }
  });
  operation.onRefused((error) => {
    fill();
    const place = error.field === "read" ? "seen" : error.field === "tell" ? "told" : error.field;
    const field = shown.find(({ one }) => one.place === place && (!error.value || one.name === error.value));
    said.append(element("p", { class: "fault" }, capital(error.message), "."));
    if (field) {
      field.input.setAttribute("aria-invalid", "true");
      field.input.setAttribute("aria-describedby", said.id);
    }
  });

  /** What has been given, and nothing wrong yet. */
  function fill() {
    const { chosen } = operation;
    said.replaceChildren();
    if (!chosen) return;
    for (const { one, group, input, show } of shown) {
      group.hidden = !isAsked(one, chosen);
      input.removeAttribute("aria-invalid");
      if (document.activeElement !== input || input instanceof HTMLSelectElement) show(valueOf(chosen, one));
    }
  }

  /** @param {Ask} one */
  function made(one) {
    const id = `ask-${one.name}`;
    const label = capital(one.words);
    const empty = one.choices.length === 0 && one.left_out;
    const about = [one.counted_in, empty && `left empty, ${empty}`];
    const more = element("span", { class: "more" }, about.filter(Boolean).join(", "));
    const give = (/** @type {string} */ value) => operation.give(one, value);
    if (one.place === "star") {
      const { group, input, show } = suggestField(id, label, "Stars", stars, give);
      group.append(more);
      return { one, group, input, show };
    }
    const input = one.choices.length > 0
      ? element("select", { id },
        element("option", { value: "" }, one.left_out ?? ""),
        ...one.choices.map((choice) => element("option", { value: choice }, plain(choice))))
      : element("input", { id, type: "text", autocomplete: "off", spellcheck: "false", placeholder: one.example });
    input.addEventListener("change", () => give(input.value));
    const group = element("div", { class: "field" }, element("label", { for: id }, label), input, more);
    return { one, group, input, show: (/** @type {string} */ value) => { input.value = value; } };
  }

  /**
   * The pointers of the instrument's rete; others of the catalogue can be written.
   * @param {string} text
   */
  async function stars(text) {
    const wanted = text.toLowerCase();
    const names = store.answer?.instrument.stars ?? [];
    const begin = names.filter((name) => name.toLowerCase().startsWith(wanted));
    const within = names.filter((name) => !begin.includes(name) && name.toLowerCase().includes(wanted));
    return [...begin, ...within].slice(0, MOST).map((name) => ({ name, why: "" }));
  }
}
