import * as desk from "./desk.js";
import { PICTURES } from "./brass-pictures.js";
import { createDrawnBeside } from "./drawn-beside.js";
import { element, labelled } from "./element.js";
import { sentence } from "./words.js";

/** @typedef {import("./types.js").BrassForm} BrassForm */
/** @typedef {import("./types.js").BrassAnswer} BrassAnswer */
/** @typedef {import("./shelf.js").Before} Before */

/** A form that waits this long follows the hand and asks no more than it must. */
const PAUSE_MS = 220;

/**
 * What is asked by pictures: the field, the question, what may be chosen, and what helps
 * to tell. An empty value is “I don’t know”.
 * @type {{field: keyof BrassForm, question: string, choices: [string, string][], tell?: string}[]}
 */
const CHOICES = [
  {
    field: "orientation",
    question: "Hang it by its ring and look at the front. Where is the net of circles?",
    choices: [["noon-up", "in the upper half: noon is at the top"], ["midnight-up", "in the lower half: midnight is at the top"]],
    tell: "The circles close in on the point overhead. Where the hours run from 1 to 24, noon is at 12; a limb with twice XII has one at either end.",
  },
  {
    field: "limb_hours",
    question: "How are the hours numbered on its edge?",
    choices: [["twice-twelve", "twice to XII"], ["twenty-four", "1 to 24"]],
  },
  {
    field: "dates",
    question: "Where do its dates stand?",
    choices: [["back", "on the back, against the signs"], ["ring", "in a ring on the rete, beside the signs"], ["none", "nowhere: it has the signs alone"]],
    tell: "The rete is the openwork that turns. A ring with dates alone is one too: the drawing shows the signs beside them, and your brass is read by their dates.",
  },
  {
    field: "days",
    question: "Are the days of that ring all of one length?",
    choices: [["equal", "yes, all equal"], ["sun", "no, as the Sun has them"], ["", "I don’t know"]],
    tell: "Lay the rule on 26 July and then on 3 November, the rete held still, and count on the limb how far it went. Equal days: 98½°, or 6 h 34 m. After the Sun: 92¾°, or 6 h 11 m.",
  },
  {
    field: "hour_lines",
    question: "The lines of the unequal hours, beneath the horizon",
    choices: [["arcs", "arcs of a circle"], ["curves", "curves that bend twice"], ["", "I don’t know"]],
    tell: "Most are arcs. At 45° a cusp by the one is less than a fifth of a degree off the other, which a small piece does not show.",
  },
  {
    field: "hemisphere",
    question: "For which half of the Earth is it?",
    choices: [["north", "the north: Capricorn lies outermost"], ["south", "the south: Cancer lies outermost"]],
  },
];

/**
 * The form about an instrument of one’s own. Its front is drawn beside it as it is filled
 * in, to be held against the brass.
 * @param {(text: string, before: Before | null, usual: boolean) => Promise<void>} keep
 * @param {() => void} leave
 */
export function ownBrass(keep, leave) {
  /** @type {Before | null} */
  let before = null;
  /** @type {string | null} */
  let base = null;
  /** @type {BrassAnswer | null} */
  let answer = null;
  let asked = 0;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let waiting;
  /** Fields that were written in, or all once it was to be kept. */
  const touched = new Set();

  const title = element("h3", { tabindex: "-1" });
  const told = element("p", { class: "fault", role: "alert" });
  const usual = element("input", { type: "checkbox", id: "own-usual" });
  const text = element("textarea", { id: "own-text", rows: "10", spellcheck: "false" });
  const whole = element("div", { class: "own-said", id: "own-said-whole" });

  /** @type {Record<string, HTMLInputElement>} */
  const typed = {};
  /**
   * @param {keyof BrassForm} field
   * @param {string} label
   * @param {Record<string, unknown>} [attributes]
   */
  const input = (field, label, attributes = {}) => {
    const one = element("input", {
      id: `own-${field}`, type: "text", autocomplete: "off", "aria-describedby": `own-said-${field}`, ...attributes,
    });
    typed[field] = one;
    one.addEventListener("input", () => follow(field));
    const group = labelled(label, one);
    group.append(said(field));
    return group;
  };
  const houses = element("select", { id: "own-house_lines" },
    ...[["none", "none"], ["regiomontanus", "of Regiomontanus"], ["campanus", "of Campanus"]].map(([value, words]) =>
      element("option", { value }, words ?? "")));
  houses.addEventListener("change", () => follow("house_lines"));

  /** @type {Record<string, HTMLFieldSetElement>} */
  const sets = {};
  for (const { field, question, choices, tell } of CHOICES) {
    sets[field] = element("fieldset", { class: "own-choice", id: `own-${field}`, "aria-describedby": `own-said-${field}` },
      element("legend", {}, question),
      element("div", { class: "cards" }, ...choices.map(([value, words]) => element("label", { class: "card" },
        element("input", { type: "radio", name: `own-${field}`, value, onchange: () => follow(field) }),
        value ? PICTURES[value]?.() : element("span", { class: "no-picture", "aria-hidden": "true" }, "?"),
        element("span", {}, words)))),
      tell ? element("p", { class: "more tell" }, tell) : null,
      said(field));
  }

  const picture = createDrawnBeside((called) => `${called}. Does it look like yours?`);
  const form = element("form", { class: "own-form", novalidate: true },
    element("div", { class: "fields" },
      input("name", "What is it called?", { placeholder: "my key ring", maxlength: "80" }),
      input("diameter", "How broad, without the throne?", { placeholder: "60 mm" }),
      input("plates", "Latitudes lettered on its plates", { placeholder: "45, 48" })),
    sets.orientation, sets.limb_hours, sets.dates, sets.days,
    element("fieldset", { class: "own-choice" },
      element("legend", {}, "For which year is it?"),
      element("div", { class: "fields" },
        input("year", "The year it was made, or made for", { placeholder: "I don’t know", inputmode: "numeric" }),
        input("aries", "The date at the beginning of Aries", { placeholder: "I don’t know" })),
      element("p", { class: "more tell" }, "Either is enough. On the back, or on the ring, look which day stands where Aries begins: 20 or 21 March is a calendar of our own kind, 10 to 14 March an old one.")),
    sets.hour_lines, sets.hemisphere,
    element("details", { class: "further" },
      element("summary", {}, "House lines, obliquity, a sentence about it"),
      element("div", { class: "fields" },
        labelled("House lines on its plates", houses),
        input("obliquity", "The obliquity of its ecliptic, in degrees", { placeholder: "I don’t know" }),
        input("description", "A sentence about it"))),
    element("details", { class: "further" },
      element("summary", {}, "Its specification, as a text"),
      element("div", { class: "field" },
        element("label", { for: "own-text" }, "What the form does not ask can be written here"), text)),
    whole, told,
    element("label", { class: "tick" }, usual, " my usual instrument from now on"),
    element("p", { class: "row" },
      element("button", { type: "submit", id: "own-keep", class: "first" }, "Keep it in the cabinet"),
      element("button", { type: "button", id: "own-leave", onclick: () => close() }, "Put it aside")));
  const section = element("section", { class: "own-brass", "aria-label": "An instrument of my own", hidden: true },
    title,
    element("div", { class: "own-bench" }, form,
      element("div", { class: "own-drawn" }, picture.facing, picture.caption, picture.plates)));

  form.addEventListener("submit", (event) => {
    event.preventDefault();
    keepIt();
  });
  text.addEventListener("change", () => begin(text.value, before, true));

  /** @param {string} field */
  function said(field) {
    return element("div", { class: "own-said", id: `own-said-${field}` });
  }

  /** @returns {BrassForm} */
  function filled() {
    /** @type {Record<string, string>} */
    const all = { house_lines: houses.value };
    for (const [field, one] of Object.entries(typed)) all[field] = one.value;
    for (const { field } of CHOICES) all[field] = checked(field)?.value ?? "";
    return /** @type {BrassForm} */ (/** @type {unknown} */ (all));
  }

  /** @param {string} field @returns {HTMLInputElement | null} */
  const checked = (field) => sets[field]?.querySelector("input:checked") ?? null;

  /** @param {BrassForm} now */
  function fill(now) {
    for (const [field, one] of Object.entries(typed)) one.value = now[/** @type {keyof BrassForm} */ (field)];
    houses.value = now.house_lines || "none";
    for (const { field } of CHOICES) {
      for (const one of sets[field]?.querySelectorAll("input") ?? []) one.checked = one.value === now[field];
    }
  }

  /** @param {string} field */
  function follow(field) {
    touched.add(field);
    clearTimeout(waiting);
    waiting = setTimeout(() => { ask().catch(() => {}); }, PAUSE_MS);
  }

  /** Asks the desk what the form comes to, and shows it. */
  async function ask() {
    clearTimeout(waiting);
    const mine = ++asked;
    try {
      const got = await desk.brass({ text: base, form: filled() });
      if (mine === asked) show(got);
    } catch (error) {
      if (mine === asked) told.textContent = sentence(error);
    }
    section.dataset.answers = String(asked);
  }

  /** @param {BrassAnswer} got */
  function show(got) {
    answer = got;
    told.textContent = "";
    text.value = got.text;
    const ring = checked("dates")?.value === "ring";
    if (sets.days) sets.days.hidden = !ring;
    for (const place of form.querySelectorAll(".own-said")) place.replaceChildren();
    for (const one of Object.values(typed)) one.removeAttribute("aria-invalid");
    for (const { field, text: words } of got.faults) {
      if (field && !touched.has(field)) continue;
      (form.querySelector(`#own-said-${field || "whole"}`) ?? whole).append(element("p", { class: "fault" }, words));
      typed[field]?.setAttribute("aria-invalid", "true");
    }
    for (const { field, text: words } of got.taken) {
      form.querySelector(`#own-said-${field}`)?.append(element("p", { class: "quiet" }, words));
    }
    picture.draw(got.text, got.instrument);
  }

  async function keepIt() {
    for (const field of Object.keys(typed)) touched.add(field);
    await ask();
    if (!answer) return;
    const first = answer.faults[0];
    if (first) {
      const place = typed[first.field] ?? sets[first.field]?.querySelector("input") ?? title;
      place.focus();
      return;
    }
    try {
      await keep(answer.text, before, usual.checked);
      close();
    } catch (error) {
      told.textContent = sentence(error);
    }
  }

  function close() {
    section.hidden = true;
    before = base = answer = null;
    leave();
  }

  /**
   * Begins, from a specification if there is one.
   * @param {string | null} from
   * @param {Before | null} instead the one in whose place it comes
   * @param {boolean} [stay] where the focus is
   */
  async function begin(from, instead, stay = false) {
    before = instead;
    title.textContent = instead ? `Change ${instead.name}` : "An instrument of my own";
    told.textContent = "";
    touched.clear();
    const mine = ++asked;
    section.hidden = false;
    try {
      const got = await desk.brass({ text: from, form: null });
      if (mine !== asked) return;
      base = from;
      fill(got.form);
      show(got);
    } catch (error) {
      // The text stands there as it was written, to be mended.
      told.textContent = sentence(error);
    }
    section.dataset.answers = String(asked);
    if (stay) return;
    section.scrollIntoView({ block: "start" });
    title.focus({ preventScroll: true });
  }

  return {
    section,
    begin,
    /** @param {boolean} yes */
    suggestUsual(yes) { usual.checked = yes; },
  };
}
