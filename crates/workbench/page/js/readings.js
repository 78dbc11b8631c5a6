import { element, labelled } from "./element.js";
import { help } from "./help.js";
import { createOwn } from "./own.js";
import { procedure } from "./store.js";
import { fineness, numeral, plain, toMinute, zodiacal } from "./words.js";

/** @typedef {import("./types.js").Answer} Answer */

/** What one sets before one reads; with it a slip is found sooner. */
const SET = /** @type {const} */ ([["local-time", "Hour for the rule", "6:49"], ["sun-degree", "Sun’s degree", "24 Taurus"]]);

/** What a person may have left out of the sum. */
const LEFT_OUT = ["summer-time", "zone", "longitude", "equation-of-time"];

/**
 * You should read: each value with its line, and beside it a box for one's own.
 * @param {HTMLElement} place
 * @param {import("./store.js").Store} store
 * @param {import("./chapter.js").Chapter} chapter
 */
export function createReadings(place, store, chapter) {
  /** @type {Map<string, HTMLInputElement>} */
  const boxes = new Map();

  /**
   * @param {string} key
   * @param {string} name
   */
  function box(key, name) {
    const known = boxes.get(key);
    if (known) return known;
    const made = element("input", {
      type: "text", "aria-label": `What I read for ${name}`, autocomplete: "off", spellcheck: "false",
      value: store.case.read[key] ?? "",
    });
    made.addEventListener("change", () => {
      const read = { ...store.case.read };
      if (made.value.trim()) read[key] = made.value.trim();
      else delete read[key];
      store.ask({ read });
    });
    boxes.set(key, made);
    return made;
  }

  const rows = element("tbody");
  const table = element("table", { class: "reads" },
    element("thead", {}, element("tr", {},
      element("th", { scope: "col" }, "What"),
      element("th", { scope: "col" }, "Instrument, reads to"),
      element("th", { scope: "col" }, "What I read"))),
    rows);
  const fault = element("p", { class: "fault", id: "fault-read", role: "alert" });
  const none = element("p", { class: "quiet" });
  const ticks = LEFT_OUT.map((name) => {
    const box = element("input", { type: "checkbox", value: name, checked: store.case.without.includes(name) });
    box.addEventListener("change", () => store.ask({
      without: ticks.map((tick) => tick.box).filter((one) => one.checked).map((one) => one.value),
    }));
    return { box, label: element("label", { class: "tick" }, box, ` ${plain(name)}`) };
  });
  const how = element("fieldset", { class: "without" },
    element("legend", {}, "In my sum I left out"), ...ticks.map((tick) => tick.label));
  const further = element("div");
  const own = createOwn("own");
  const set = element("details", { class: "further" },
    element("summary", {}, "What I had set"),
    element("div", { class: "fields" }, ...SET.map(([key, name, example]) => {
      const input = box(key, name);
      input.id = `own-${key}`;
      input.placeholder = example;
      return labelled(name, input);
    })));
  place.append(none, table, fault, own.panel, further, set, how, help(
    "What do I write here?",
    "What your own brass shows, such as 11 Pisces or 11°30′ Pisces; a sign alone will do, Pisces. Beneath, a slip is named that would explain it; further down the difference is explained, cause by cause: what your instrument, the sum and the size of the brass do not account for is called unexplained.",
    "“To 19′” is how finely the value can be told on an instrument of this size, where its lines cross as they do.",
  ));

  /** What each reading comes to, by its name. @type {ReturnType<typeof own.show>} */
  let marks = new Map();

  /** For which moment and place what stands in the boxes was read. */
  let readFor = "";
  /** The readings last seen: another case brings others with it. @type {Record<string, string> | null} */
  let readings = null;
  const empty = element("button", { type: "button", id: "empty-readings", onclick: () => store.ask({ read: {} }) }, "Empty the boxes");
  const other = element("p", { class: "row", id: "read-for", hidden: true });
  fault.before(other);

  /**
   * @param {string} key
   * @param {string} name
   * @param {number | null} degree
   * @param {number | null} to
   * @param {string} line
   */
  const row = (key, name, degree, to, line) => element("tr", {},
    element("th", { scope: "row" }, name),
    element("td", {},
      element("span", { class: "reading" }, zodiacal(degree)), " ",
      to !== null && element("span", { class: "to" }, `to ${fineness(to)}`), " ",
      element("span", { class: "more" }, line)),
    element("td", {}, box(key, name), mark(key)));

  /** @param {string} key */
  function mark(key) {
    const one = marks.get(key);
    return one && element("span", { class: one.right ? "mark" : "mark wrong" }, one.mark);
  }

  chapter.onChange(() => { if (store.answer) show(store.answer); });

  store.onAnswer((answer) => {
    for (const [key, one] of boxes) {
      one.removeAttribute("aria-invalid");
      // Another case has other readings; what is being typed stays.
      if (document.activeElement !== one) one.value = store.case.read[key] ?? "";
    }
    const now = `${toMinute(answer.moment.clock_time)}, ${answer.place.name}`;
    const noneRead = Object.keys(store.case.read).length === 0;
    if (noneRead || readings !== store.case.read) readFor = now;
    readings = store.case.read;
    other.hidden = noneRead || readFor === now;
    other.replaceChildren(element("span", {}, `What I read was read for ${readFor}. `), empty);
    for (const { box } of ticks) box.checked = store.case.without.includes(box.value);
    fault.textContent = "";
    marks = own.show(answer.own ?? null, store.case.read);
    if (SET.some(([key]) => store.case.read[key])) set.open = true;
    show(answer);
  });

  /** @param {Answer} answer */
  function show(answer) {
    const reading = answer.reading;
    table.hidden = how.hidden = set.hidden = reading === null;
    none.textContent = answer.reason ? `${answer.reason}.` : "";
    further.replaceChildren(...(reading ? [chapter.turn()] : []));
    if (!reading) return;
    const cusps = !chapter.whole ? [] : reading.cusps[procedure(store.case)] ?? [];
    rows.replaceChildren(
      row("ascendant", "Ascendant", reading.ascendant_deg, reading.reads_to_deg.ascendant, "the rising degree: eastern horizon, direct"),
      ...(chapter.whole
        ? [row("midheaven", "Midheaven", reading.midheaven_deg, reading.reads_to_deg.midheaven, "the culminating degree: meridian line, direct")]
        : []),
      ...cusps
        .filter((cusp) => cusp.house !== 1 && cusp.house !== 10)
        .map((cusp) => row(
          numeral(cusp.house), `Cusp ${numeral(cusp.house)}`, cusp.deg, cusp.reads_to_deg,
          cusp.reason ?? `${cusp.line}, ${cusp.opposite ? "opposite" : "direct"}`)),
    );
  }
  store.onRefused((error) => {
    const { field: part, value } = /** @type {import("./desk.js").Refused} */ (error);
    if (part !== "read") return;
    fault.textContent = error.message;
    for (const [key, one] of boxes) {
      if (value === key) {
        one.setAttribute("aria-invalid", "true");
        one.setAttribute("aria-describedby", "fault-read");
      }
    }
  });
}
