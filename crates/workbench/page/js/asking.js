import { element } from "./element.js";
import { sentence } from "./words.js";

/** @typedef {import("./store.js").Store} Store */

/**
 * A question about the case, with its own fields and room for what is answered. The
 * answer goes when the case does.
 * @param {Store} store
 * @param {{id: string, title: string, button: string, fields: HTMLElement[], told: HTMLElement,
 *   ask: (moment: import("./types.js").Case) => Promise<(HTMLElement | null)[]>}} question
 */
export function asking(store, { id, title, button, fields, told, ask }) {
  const fault = element("p", { class: "fault", role: "alert" });
  const found = element("div", { id: `${id}-found`, class: "time-told", "aria-live": "polite" });
  let asked = 0;
  const form = element("form", { novalidate: true, "aria-labelledby": `${id}-title` },
    element("h3", { id: `${id}-title` }, title),
    element("div", { class: "fields" }, ...fields),
    element("p", { class: "row" }, element("button", { type: "submit", id: `${id}-ask` }, button)),
    fault);
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const mine = ++asked;
    fault.textContent = "";
    try {
      const parts = await ask({ ...store.case, read: {}, without: [] });
      if (mine !== asked) return;
      found.replaceChildren(...parts.filter((part) => part !== null));
    } catch (error) {
      if (mine !== asked) return;
      found.replaceChildren();
      fault.textContent = sentence(error);
    }
    found.dataset.answers = String(mine);
  });
  store.onAnswer(() => {
    asked += 1;
    fault.textContent = "";
    found.replaceChildren();
  });
  return element("div", { class: "time" }, form, found, told);
}
