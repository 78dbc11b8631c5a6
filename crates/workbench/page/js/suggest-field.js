import { element } from "./element.js";

/** How long typing must rest before it is looked up, in milliseconds. */
const REST = 120;

/**
 * A field with suggestions as it is typed.
 * @param {string} id
 * @param {string} label
 * @param {string} many what is suggested
 * @param {(text: string) => Promise<string[]>} find
 * @param {(name: string) => void} chosen
 */
export function suggestField(id, label, many, find, chosen) {
  const list = element("ul", { class: "suggestions", role: "listbox", id: `${id}-list`, "aria-label": many, hidden: true });
  const input = element("input", {
    id, type: "text", role: "combobox", autocomplete: "off", spellcheck: "false",
    "aria-autocomplete": "list", "aria-expanded": "false", "aria-controls": `${id}-list`,
  });
  const group = element("div", { class: "field" }, element("label", { for: id }, label), input, list);
  let active = -1;
  let resting = 0;
  let last = "";

  input.addEventListener("input", () => {
    clearTimeout(resting);
    resting = window.setTimeout(look, REST);
  });
  input.addEventListener("keydown", (event) => {
    const count = list.children.length;
    if (event.key === "ArrowDown" && count) mark((active + 1) % count);
    else if (event.key === "ArrowUp" && count) mark((active + count - 1) % count);
    else if (event.key === "Escape") close();
    else if (event.key === "Enter") choose(active >= 0 ? list.children[active]?.textContent ?? "" : input.value);
    else return;
    event.preventDefault();
  });
  input.addEventListener("change", () => choose(input.value));
  input.addEventListener("blur", () => close());

  async function look() {
    const text = input.value.trim();
    if (!text || document.activeElement !== input) return close();
    const found = await find(text).catch(() => []);
    if (input.value.trim() !== text || document.activeElement !== input) return;
    active = -1;
    list.replaceChildren(...found.map((name, index) => element("li", {
      role: "option", id: `${id}-${index}`, "aria-selected": "false",
      // Before the field loses the focus, and its list with it.
      onpointerdown: (/** @type {Event} */ event) => {
        event.preventDefault();
        choose(name);
      },
    }, name)));
    list.hidden = found.length === 0;
    input.setAttribute("aria-expanded", String(found.length > 0));
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
    /** @param {string} name */
    show(name) {
      last = name;
      if (document.activeElement !== input) input.value = name;
    },
  };
}
