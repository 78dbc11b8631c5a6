import { element } from "./element.js";

/** @typedef {import("./shelf.js").Shelf} Shelf */

/** The value of “my own…”: no instrument’s name begins with a gap. */
const WISH = " my own";

/**
 * The list of instruments: those that come with the program, then one’s own, and at its
 * end the way to another of one’s own.
 * @param {string} id
 * @param {Shelf} shelf
 * @param {string} [none] what stands first, for no instrument
 */
export function instrumentList(id, shelf, none) {
  const select = element("select", { id });
  /** The one that is shown, though it may lie in no cabinet. */
  let shown = "";

  function fill() {
    const names = shelf.instruments.map(({ name }) => name);
    const option = (/** @type {string} */ name) => element("option", { value: name }, name);
    const own = names.filter((name) => shelf.own(name));
    const stray = shown && !names.includes(shown);
    select.replaceChildren(
      ...(none === undefined ? [] : [element("option", { value: "" }, none)]),
      element("optgroup", { label: "With the program, invented" },
        ...names.filter((name) => !shelf.own(name)).map(option)),
      element("optgroup", { label: "Mine" },
        ...own.map(option),
        element("option", { value: WISH }, "my own…")),
      ...(stray ? [element("optgroup", { label: "In no cabinet" }, option(shown))] : []));
    select.value = shown;
  }

  select.addEventListener("change", (event) => {
    if (select.value !== WISH) {
      shown = select.value;
      return;
    }
    select.value = shown;
    event.stopImmediatePropagation();
    shelf.wish();
  });
  shelf.onChanged(fill);
  fill();

  return {
    select,
    /** @param {string} name */
    show(name) {
      // A list that may lie open is not made anew for what it shows already.
      if (name === shown && select.value === name) return;
      shown = name;
      fill();
    },
  };
}
