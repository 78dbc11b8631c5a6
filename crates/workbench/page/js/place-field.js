import * as desk from "./desk.js";
import { element } from "./element.js";

/** How long typing must rest before places are looked up, in milliseconds. */
const REST = 120;

/**
 * A field for a place, with suggestions as it is typed.
 * @param {string} id
 * @param {string} label
 * @param {(place: string) => void} chosen
 */
export function placeField(id, label, chosen) {
  const list = element("ul", { class: "suggestions", role: "listbox", id: `${id}-list`, "aria-label": "Places", hidden: true });
  const input = element("input", {
    id, type: "text", role: "combobox", autocomplete: "off", spellcheck: "false",
    "aria-autocomplete": "list", "aria-expanded": "false", "aria-controls": `${id}-list`,
  });
  const group = element("div", { class: "field place" }, element("label", { for: id }, label), input, list);
  let active = -1;
  let resting = 0;
  let last = "";

  input.addEventListener("input", () => {
    clearTimeout(resting);
    resting = window.setTimeout(look, REST);
  });
  input.addEventListener("keydown", (event) => {
    const many = list.children.length;
    if (event.key === "ArrowDown" && many) mark((active + 1) % many);
    else if (event.key === "ArrowUp" && many) mark((active + many - 1) % many);
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
    const found = await desk.suggest(text).catch(() => []);
    if (input.value.trim() !== text || document.activeElement !== input) return;
    active = -1;
    list.replaceChildren(...found.map((place, index) => element("li", {
      role: "option", id: `${id}-${index}`, "aria-selected": "false",
      // Before the field loses the focus, and its list with it.
      onpointerdown: (/** @type {Event} */ event) => {
        event.preventDefault();
        choose(place.name);
      },
    }, place.name)));
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

  /** @param {string} place */
  function choose(place) {
    close();
    input.value = place;
    if (place.trim() === last) return;
    last = place.trim();
    chosen(last);
  }

  return {
    group,
    input,
    /** @param {string} place */
    show(place) {
      last = place;
      if (document.activeElement !== input) input.value = place;
    },
  };
}
