import { element } from "./element.js";
import { plain } from "./words.js";

/** Stands at the end of the list for the methods that are not in it yet. */
const MORE = "more";

/**
 * A list of house methods: those that an astrolabe can show, each with how it does; what is
 * made for calculation comes when more is asked for.
 * @param {string} id
 * @param {import("./types.js").Start["methods"]} methods
 * @param {(name: string | null) => void} chosen
 * @param {string} [none] what stands for no method at all
 */
export function methodField(id, methods, chosen, none) {
  const option = (/** @type {Method} */ { name, on_the_brass: how }) =>
    element("option", { value: name }, how ? `${plain(name)}: ${how}` : plain(name));
  const more = element("option", { value: MORE }, "more, made for calculation …");
  const select = element("select", { id },
    none !== undefined && element("option", { value: "" }, none),
    ...methods.filter(({ on_the_brass: how }) => how).map(option),
    more);
  let last = "";

  function addMore() {
    more.replaceWith(element("optgroup", { label: "Made for calculation" },
      ...methods.filter(({ on_the_brass: how }) => !how).map(option)));
  }
  select.addEventListener("change", () => {
    if (select.value === MORE) {
      addMore();
      select.value = last;
      select.focus();
      return;
    }
    last = select.value;
    chosen(last || null);
  });
  return {
    select,
    /** @param {string} name */
    show(name) {
      if (more.isConnected && methods.some((one) => one.name === name && !one.on_the_brass)) addMore();
      last = name;
      select.value = name;
    },
  };
}

/** @typedef {import("./types.js").Start["methods"][number]} Method */
