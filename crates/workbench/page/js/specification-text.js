import { element } from "./element.js";

/** @typedef {import("./answers.js").FieldFault} FieldFault */

/**
 * The text of a specification, with its lines numbered and what is wrong beside them.
 * @param {() => void} follow is called while it is written in
 */
export function createSpecificationText(follow) {
  const area = element("textarea", { id: "specification", rows: "18", wrap: "off", spellcheck: "false", "aria-describedby": "specification-faults" });
  const gutter = element("div", { class: "text-gutter", "aria-hidden": "true" });
  const faults = element("ul", { class: "text-faults", id: "specification-faults" });
  /** @type {FieldFault[]} */
  let wrong = [];

  area.addEventListener("input", () => {
    number();
    follow();
  });
  area.addEventListener("scroll", () => { gutter.scrollTop = area.scrollTop; });

  function number() {
    const lines = area.value.split("\n").length;
    const marked = new Set(wrong.map(({ line }) => line));
    gutter.replaceChildren(...Array.from({ length: lines }, (_, index) =>
      element("span", { class: marked.has(index + 1) && "wrong" }, String(index + 1))));
    gutter.scrollTop = area.scrollTop;
  }

  /** @param {number} line */
  function go(line) {
    const start = area.value.split("\n").slice(0, line - 1).reduce((sum, one) => sum + one.length + 1, 0);
    const end = area.value.indexOf("\n", start);
    area.focus();
    area.setSelectionRange(start, end < 0 ? area.value.length : end);
  }

  return {
    area,
    section: element("div", { class: "spec-text" },
      element("label", { for: "specification" }, "The same as a text"),
      element("div", { class: "text-lines" }, gutter, area), faults),
    get value() { return area.value; },
    set value(text) {
      if (area.value !== text) area.value = text;
      number();
    },
    /** @param {FieldFault[]} now */
    tell(now) {
      wrong = now;
      number();
      faults.replaceChildren(...now.map(({ line, text }) => element("li", {},
        line ? element("button", { type: "button", onclick: () => go(line) }, `line ${line}`) : "not there",
        " ", element("span", { class: "fault" }, text))));
    },
  };
}
