import { element } from "./element.js";

/** How long typing must rest before it is looked up, in milliseconds. */
const REST = 120;

/** @typedef {{name: string, why: string}} Suggested what may be meant, and why it stands there where its name does not say so */

/**
 * A field with suggestions as it is typed. The first of them is highlighted, and Enter takes
 * what is highlighted; left by any other way, the field holds what was typed.
 * @param {string} id
 * @param {string} label
 * @param {string} many what is suggested
 * @param {(text: string) => Promise<Suggested[]>} find
 * @param {(name: string) => void} chosen
 */
export function suggestField(id, label, many, find, chosen) {
  const list = element("ul", { class: "suggestions", role: "listbox", id: `${id}-list`, "aria-label": many, hidden: true });
  const input = element("input", {
    id, type: "text", role: "combobox", autocomplete: "off", spellcheck: "false",
    "aria-autocomplete": "list", "aria-expanded": "false", "aria-controls": `${id}-list`,
  });
  const taken = element("span", { class: "more taken" });
  const group = element("div", { class: "field" }, element("label", { for: id }, label), input, list, taken);
  /** @type {Suggested[]} */
  let found = [];
  let active = -1;
  let resting = 0;
  let last = "";
  /** What the list was last made for, and what is being looked up. */
  let listed = "";
  /** @type {Promise<void> | null} */
  let looking = null;

  input.addEventListener("input", () => {
    clearTimeout(resting);
    resting = window.setTimeout(look, REST);
  });
  input.addEventListener("keydown", async (event) => {
    const count = found.length;
    if (event.key === "ArrowDown" && count) mark((active + 1) % count);
    else if (event.key === "ArrowUp" && count) mark((active + count - 1) % count);
    else if (event.key === "Escape") close();
    else if (event.key === "Enter") {
      event.preventDefault();
      // Whoever types fast is not behind the list.
      const typed = input.value.trim();
      if (typed !== last && listed !== typed) await look();
      if (input.value.trim() === typed) choose(found[active]?.name ?? typed);
      return;
    } else return;
    event.preventDefault();
  });
  input.addEventListener("change", () => { if (!looking) choose(input.value); });
  input.addEventListener("blur", () => close());

  function look() {
    clearTimeout(resting);
    looking = lookUp().finally(() => { looking = null; });
    return looking;
  }

  async function lookUp() {
    const text = input.value.trim();
    if (!text || document.activeElement !== input) return close();
    const got = await find(text).catch(() => []);
    if (input.value.trim() !== text || document.activeElement !== input) return;
    found = got;
    listed = text;
    list.replaceChildren(...found.map(({ name, why }, index) => element("li", {
      role: "option", id: `${id}-${index}`, "aria-selected": "false",
      // Before the field loses the focus, and its list with it.
      onpointerdown: (/** @type {Event} */ event) => {
        event.preventDefault();
        choose(name);
      },
    }, name, why && element("span", { class: "more" }, ` ${why}`))));
    list.hidden = found.length === 0;
    input.setAttribute("aria-expanded", String(found.length > 0));
    if (found.length > 0) mark(0);
  }

  /** @param {number} index */
  function mark(index) {
    active = index;
    [...list.children].forEach((item, here) => item.setAttribute("aria-selected", String(here === index)));
    input.setAttribute("aria-activedescendant", `${id}-${index}`);
  }

  function close() {
    clearTimeout(resting);
    list.hidden = true;
    list.replaceChildren();
    found = [];
    listed = "";
    active = -1;
    input.setAttribute("aria-expanded", "false");
    input.removeAttribute("aria-activedescendant");
  }

  /** @param {string} name */
  function choose(name) {
    close();
    input.value = name;
    if (name.trim() === last) return;
    last = name.trim();
    chosen(last);
  }

  return {
    group,
    input,
    /**
     * @param {string} name
     * @param {string} [as] what it was taken for
     */
    show(name, as = "") {
      last = name;
      taken.textContent = as;
      if (document.activeElement !== input) input.value = name;
    },
  };
}
