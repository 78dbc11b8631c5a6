import { element } from "./element.js";

/** @typedef {import("./answers.js").FormField} FormField */
/** @typedef {import("./answers.js").FieldFault} FieldFault */

/** So many choices stand side by side; more are a list. */
const SIDE_BY_SIDE = 3;

/**
 * A field of a specification as the desk describes it: its control, what it is for, and what
 * is wrong with it.
 * @param {FormField} field
 * @param {(to: boolean | string | null) => void} follow
 */
export function createField(field, follow) {
  const id = `field-${field.key.replace(".", "-")}`;
  const hint = element("p", { class: "more", id: `${id}-hint` });
  const faults = element("div", { class: "field-faults", id: `${id}-faults` });
  const usual = element("button", { type: "button", class: "to-usual", hidden: true });
  const control = controlOf(field, id, follow);
  const head = control.named
    ? element("label", { for: id }, field.title)
    : element("span", { class: "field-title", id: `${id}-title` }, field.title);
  const row = element("div", { class: "spec-field", "data-key": field.key, "data-kind": field.kind },
    field.kind === "truth"
      ? element("p", { class: "field-head" }, control.element, " ", head, usual)
      : element("p", { class: "field-head" }, head, usual),
    field.kind !== "truth" && control.element, hint, faults);
  usual.addEventListener("click", () => {
    follow(null);
    control.focus();
  });
  for (const one of control.inputs) one.setAttribute("aria-describedby", `${id}-hint ${id}-faults`);

  return {
    row,
    focus: control.focus,
    /**
     * @param {FormField} now
     * @param {FieldFault[]} wrong
     */
    show(now, wrong) {
      row.classList.toggle("stated", now.stated !== null);
      usual.hidden = now.stated === null || now.needed;
      const settled = now.usual !== null && now.usual !== "";
      usual.textContent = settled ? "as usual" : "leave out";
      usual.setAttribute("aria-label", `${settled ? "As usual" : "Leave out"}: ${now.title}`);
      hint.textContent = [now.purpose, range(now)].filter(Boolean).join(" ");
      faults.replaceChildren(...wrong.map(({ text }) => element("p", { class: "fault" }, text)));
      for (const one of control.inputs) {
        if (wrong.length) one.setAttribute("aria-invalid", "true");
        else one.removeAttribute("aria-invalid");
      }
      control.show(now);
    },
  };
}

/** @typedef {ReturnType<typeof createField>} SpecificationField */

/**
 * What a number may be, or of what a list is.
 * @param {FormField} field
 */
function range({ kind, least, most, unit, choices }) {
  if (kind === "several") return `Up to ${said(most)} of ${choices.map(({ value }) => value).join(", ")}.`;
  if (kind !== "number" && kind !== "count") return "";
  const until = `${said(least)} to ${said(most)}`;
  return `${until}${unit === "°" ? "°" : unit ? ` ${unit}` : ""}.`;
}

/** @param {number | null} number */
const said = (number) => (number === null ? "" : String(Number(number.toFixed(3))).replace("-", "−"));

/** @param {boolean | string | null} value */
const typed = (value) => (value === null ? "" : String(value));

/**
 * @param {FormField} field
 * @param {string} id
 * @param {(to: boolean | string | null) => void} follow
 */
function controlOf(field, id, follow) {
  if (field.kind === "truth") return tick(id, follow);
  if (field.choices.length > 0 && field.kind !== "several") {
    return field.choices.length > SIDE_BY_SIDE || field.kind === "one-of" ? list(id, follow) : segments(field, id, follow);
  }
  return written(field, id, follow);
}

/**
 * @param {string} id
 * @param {(to: boolean) => void} follow
 */
function tick(id, follow) {
  const box = element("input", { type: "checkbox", id, onchange: () => follow(box.checked) });
  return {
    element: box, inputs: [box], named: true,
    focus: () => box.focus(),
    /** @param {FormField} now */
    show(now) { box.checked = (now.stated ?? now.usual) === true; },
  };
}

/**
 * @param {string} id
 * @param {(to: string | null) => void} follow
 */
function list(id, follow) {
  const select = element("select", { id, onchange: () => follow(select.value || null) });
  return {
    element: select, inputs: [select], named: true,
    focus: () => select.focus(),
    /** @param {FormField} now */
    show({ stated, usual, choices }) {
      const value = typed(stated ?? usual);
      // What the text says stands here too when it is none of them.
      const known = choices.some((one) => one.value === value);
      const all = known ? choices : [{ value, words: value || "as the rest asks" }, ...choices];
      const wanted = JSON.stringify(all);
      if (select.dataset.all !== wanted) {
        select.dataset.all = wanted;
        select.replaceChildren(...all.map((one) => element("option", { value: one.value }, one.words)));
      }
      select.value = value;
    },
  };
}

/**
 * @param {FormField} field
 * @param {string} id
 * @param {(to: string | null) => void} follow
 */
function segments(field, id, follow) {
  const inputs = field.choices.map(({ value }) => element("input", {
    type: "radio", name: id, value, onchange: () => follow(value),
  }));
  const group = element("div", { class: "segments", role: "radiogroup", "aria-labelledby": `${id}-title` },
    ...field.choices.map(({ words }, index) => element("label", {}, inputs[index], element("span", {}, words))));
  return {
    element: group, inputs, named: false,
    focus: () => (inputs.find((one) => one.checked) ?? inputs[0])?.focus(),
    /** @param {FormField} now */
    show({ stated, usual }) {
      const value = typed(stated ?? usual);
      for (const one of inputs) one.checked = one.value === value;
    },
  };
}

/**
 * @param {FormField} field
 * @param {string} id
 * @param {(to: string | null) => void} follow
 */
function written(field, id, follow) {
  const lines = field.kind === "lines" || field.kind === "places";
  const short = field.kind === "number" || field.kind === "count";
  const input = lines
    ? element("textarea", { id, rows: "2" })
    : element("input", { id, type: "text", autocomplete: "off", spellcheck: "false", inputmode: short ? "decimal" : false });
  let stated = "";
  input.addEventListener("input", () => follow(input.value.trim() ? input.value : null));
  input.addEventListener("blur", () => { input.value = stated; });
  const unit = short && field.unit;
  return {
    element: unit ? element("span", { class: "with-unit" }, input, element("span", { class: "unit", "aria-hidden": "true" }, unit)) : input,
    inputs: [input], named: true,
    focus: () => input.focus(),
    /** @param {FormField} now */
    show(now) {
      stated = typed(now.stated);
      input.placeholder = typed(now.usual) || (lines ? "nothing" : "");
      // Whoever is writing here is not written over.
      if (document.activeElement !== input) input.value = stated;
    },
  };
}
