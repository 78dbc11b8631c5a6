import * as desk from "./desk.js";
import { DEMONSTRATION } from "./demonstration.js";
import { element } from "./element.js";
import { help } from "./help.js";
import { createLeaf } from "./leaf.js";
import { procedure } from "./store.js";
import { showVerdict } from "./verdict.js";
import { numeral, plain, toMinute } from "./words.js";

/** @typedef {import("./types.js").Corrected} Corrected */
/** @typedef {{whose?: string, read: Record<string, string>, figure?: boolean}} Readings */

/** What can be read, by its name in requests. @type {readonly (readonly [string, string, string])[]} */
const READ = [
  ["local-time", "Local time", "6:49"],
  ["sun-degree", "Sun’s degree", "24 Taurus"],
  ["ascendant", "Ascendant", "27 Gemini"],
  ["midheaven", "Midheaven", "2 Pisces"],
  ...[2, 3, 4, 5, 6, 7, 8, 9, 11, 12].map((house) =>
    /** @type {const} */ ([numeral(house), `Cusp ${numeral(house)}`, ""])),
];

/**
 * An invented pupil, who worked the demonstration by turning and left out the
 * correction for longitude.
 * @type {Readings}
 */
const INVENTED = {
  whose: "An invented pupil",
  read: {
    "local-time": "7:24", "sun-degree": "24 Taurus", ascendant: "4°30′ Cancer", midheaven: "10°40′ Pisces",
    II: "25 Cancer", III: "17 Leo",
  },
};

/**
 * Correcting: a pupil’s readings of the case, or a printed figure, held against what
 * should be, and the slips that would explain them. Whose they are stays on the page.
 * @param {string} id of the page’s section
 * @param {import("./store.js").Store} store
 */
export function createCorrecting(id, store) {
  const events = new EventTarget();
  const whose = element("input", { id: "whose", type: "text", autocomplete: "off", placeholder: "for my own notes" });
  const inputs = new Map(READ.map(([name, , example]) => [name, element("input", {
    id: `pupil-${name}`, type: "text", autocomplete: "off", spellcheck: "false", placeholder: example,
  })]));
  const figure = element("input", { type: "checkbox", id: "printed" });
  const said = element("div", { id: "fault-correcting", role: "alert" });
  const form = element("form", { novalidate: true, class: "correct", "aria-label": "What was read" });
  const result = element("div", { class: "verdict", id: "verdict", tabindex: "-1", "aria-live": "polite" });
  /** Whether an answer stands there, to be kept true when the case changes. */
  let answered = false;
  /** @type {AbortController | null} */
  let underWay = null;

  const leaf = createLeaf(id, (body) => {
    const of = element("p", { class: "quiet of" });
    const say = () => { of.textContent = caseInWords(store); };
    store.onAnswer(say);
    say();
    form.append(
      element("div", { class: "fields" },
        element("div", { class: "field whose" }, element("label", { for: "whose" }, "Whose"), whose)),
      element("fieldset", { class: "pupil" },
        element("legend", {}, "What was read"),
        ...READ.map(([name, label]) => element("div", { class: "field" },
          element("label", { for: `pupil-${name}` }, label), inputs.get(name)))),
      // What is wrong with a box is said under all of them: none moves for it.
      said,
      element("label", { class: "tick" }, figure, " a figure from a printout or a book, of whatever making"),
      element("p", { class: "row" },
        element("button", { type: "submit", id: "correct" }, "Correct"),
        element("button", { type: "button", id: "take-mine", onclick: takeMine }, "Take over what I read"),
        element("button", { type: "button", id: "invented", onclick: invented }, "An invented pupil"),
        element("button", { type: "button", id: "correct-clear", onclick: clear }, "Empty")));
    body.append(of, form, result, help(
      "How is it found out?",
      "The slips that are known from teaching are made on the instrument, one by one and in pairs, and what each would have given is held against what was read. The one that leaves the least comes first. A degree without minutes counts as read to the degree.",
      "A figure from elsewhere is asked other things: another house method, clock, calendar or latitude, half a day, another hour.",
    ));
  });

  form.addEventListener("submit", (event) => {
    event.preventDefault();
    correct(true);
  });
  // What stands there belongs to the case.
  store.onAnswer(() => { if (answered) correct(false); });

  /** @returns {Readings} */
  const given = () => ({
    whose: whose.value.trim(),
    read: Object.fromEntries([...inputs].map(([name, input]) => [name, input.value.trim()]).filter(([, value]) => value)),
    figure: figure.checked,
  });

  /** @param {boolean} goes whether the answer is gone to */
  async function correct(goes) {
    underWay?.abort();
    underWay = new AbortController();
    const { signal } = underWay;
    const { read, figure: printed = false } = given();
    faultless();
    try {
      const got = await desk.correct({ moment: { ...store.case, read: {} }, read, figure: printed }, signal);
      if (signal.aborted) return;
      answered = true;
      showVerdict(result, got, { whose: whose.value.trim(), names: Object.keys(read).sort(), order: READ.map(([name]) => name) });
      if (goes) result.focus({ preventScroll: true });
      tell(got);
    } catch (error) {
      if (signal.aborted) return;
      answered = false;
      result.replaceChildren();
      tell(null);
      refuse(/** @type {desk.Refused} */ (error));
    }
    result.dataset.answers = String(Number(result.dataset.answers ?? 0) + 1);
  }

  /** @param {Corrected | null} got */
  const tell = (got) => events.dispatchEvent(new CustomEvent("corrected", { detail: got }));

  /** @param {desk.Refused} error */
  function refuse(error) {
    const input = error.field === "read" ? inputs.get(error.value ?? "") : undefined;
    said.append(element("p", { class: "fault" }, error.message, "."));
    input?.setAttribute("aria-invalid", "true");
    input?.setAttribute("aria-describedby", said.id);
    input?.focus();
  }

  function faultless() {
    said.replaceChildren();
    for (const input of inputs.values()) input.removeAttribute("aria-invalid");
  }

  /** @param {Readings} readings */
  function fill(readings) {
    leaf.open();
    faultless();
    answered = false;
    result.replaceChildren();
    tell(null);
    whose.value = readings.whose ?? "";
    figure.checked = readings.figure ?? false;
    for (const [name, input] of inputs) input.value = readings.read[name] ?? "";
  }

  const clear = () => fill({ read: {} });

  function takeMine() {
    fill({ ...given(), read: { ...given().read, ...store.case.read } });
  }

  async function invented() {
    fill(INVENTED);
    const plainly = { zone: null, clock: null, calendar: null, which: null, houses: null, by: "turning" };
    await store.ask({ ...DEMONSTRATION, ...plainly });
    await correct(true);
  }

  return {
    leaf,
    /** Puts readings into the form, in the place of what is there, and opens it. */
    fill,
    /** What stands in the form. */
    get given() { return given(); },
    /** Hears each verdict, and when it stands there no more. @param {(answer: Corrected | null) => void} listener */
    onCorrected(listener) {
      events.addEventListener("corrected", (event) => listener(/** @type {CustomEvent} */ (event).detail));
    },
  };
}

/** @typedef {ReturnType<typeof createCorrecting>} Correcting */

/** @param {import("./store.js").Store} store */
function caseInWords({ answer, case: asked }) {
  if (!answer) return "";
  const moment = toMinute(answer.moment.clock_time);
  return `Of the case above: ${moment}, ${answer.place.name}, ${answer.instrument.name}, cusps by ${plain(procedure(asked))}.`;
}
