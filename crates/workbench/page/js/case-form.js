import { element } from "./element.js";
import { help } from "./help.js";
import { placeField } from "./place-field.js";
import { capital, latitude, plain } from "./words.js";

/** @typedef {import("./types.js").Case} Case */
/** @typedef {import("./types.js").Answer} Answer */

const CLOCKS = [
  ["", "the zone’s clock"],
  ["mean", "local mean time"],
  ["sun", "the Sun (local apparent time)"],
];

/** Fields that stand behind “More”. */
const FURTHER = ["zone", "clock", "calendar", "which", "houses"];

/**
 * The one line: the moment, the place, the instrument, the procedure. What is wrong
 * with one of them is said beside it.
 * @param {HTMLElement} form
 * @param {import("./store.js").Store} store
 * @param {import("./types.js").Start} start
 */
export function createCaseForm(form, store, start) {
  const date = element("input", { id: "date", type: "text", autocomplete: "off", placeholder: "2024-05-14", size: "10" });
  const time = element("input", { id: "time", type: "text", autocomplete: "off", placeholder: "09:20", size: "6" });
  const now = element("button", { type: "button", id: "now", "aria-pressed": "false" }, "Now");
  const place = placeField("place", "Place", (at) => store.ask({ at, zone: null, which: null, calendar: null }));
  const instrument = select("with", start.cabinet.map(({ name }) => [name, name]));
  const by = select("by", []);
  const zone = element("input", { id: "zone", type: "text", autocomplete: "off", placeholder: "the place’s own" });
  const clock = select("clock", CLOCKS);
  const calendar = select("calendar", [["", "as was usual"], ["gregorian", "Gregorian"], ["julian", "Julian"]]);
  const which = select("which", [["", "it came once"], ["earlier", "the earlier"], ["later", "the later"]]);
  const houses = select("houses", start.methods.map((name) => [name, plain(name)]));
  const plate = element("span", { class: "more", id: "plate" });

  const further = element("details", { class: "further" },
    element("summary", {}, "More on clock, calendar and houses"),
    element("div", { class: "fields" },
      field("clock", "Kind of clock", clock), field("zone", "Zone", zone),
      field("calendar", "Calendar", calendar), field("which", "Where it came twice", which),
      field("houses", "Houses calculated by", houses)));
  const moment = element("div", { class: "field moment" },
    element("div", { class: "pair" },
      element("div", {}, element("label", { for: "date" }, "Date"), date),
      element("div", {}, element("label", { for: "time" }, "Clock time"), time),
      now),
    fault("when"));
  place.group.append(fault("at"));
  form.append(
    element("div", { class: "fields" }, moment, place.group,
      field("with", "Instrument", instrument, plate),
      field("by", "Cusp procedure", by)),
    further,
    help(
      "What can I write?",
      "The date as year, month, day: 2024-05-14; years before Christ are counted with a year 0. The time as hours and minutes of a 24-hour clock: 09:20. The place is a town, or its latitude and longitude: 42.8806,-8.5449 or 42°53′N 8°33′W. For a bare position name the zone behind “More”.",
      "The four procedures read the cusps off the instrument in different ways and give different answers: turning gives the houses of Alcabitius, the direct cut those of Placidus.",
    ));
  form.addEventListener("submit", (event) => event.preventDefault());

  now.addEventListener("click", () => store.ask({ when: "now", which: null, calendar: null }));
  function typed() {
    const when = `${date.value.trim()} ${time.value.trim()}`.trim();
    // The calendar was said of a date: one of another year is not silently counted by it.
    const year = (/** @type {string} */ text) => text.replace(/(?<=\d)-.*/, "");
    const calendar = year(when) === year(store.case.when) ? store.case.calendar ?? null : null;
    return store.ask({ when, which: null, calendar });
  }
  for (const input of [date, time]) {
    input.addEventListener("change", typed);
    input.addEventListener("keydown", (event) => { if (event.key === "Enter") typed(); });
  }
  instrument.addEventListener("change", () => {
    const has = start.cabinet.find(({ name }) => name === instrument.value)?.procedures ?? [];
    const kept = store.case.by && has.includes(store.case.by) ? store.case.by : null;
    store.ask({ with: { named: instrument.value }, by: kept });
  });
  by.addEventListener("change", () => store.ask({ by: by.value }));
  zone.addEventListener("change", () => store.ask({ zone: zone.value.trim() || null }));
  for (const [name, input] of /** @type {const} */ ([["clock", clock], ["calendar", calendar], ["which", which], ["houses", houses]])) {
    input.addEventListener("change", () => store.ask({ [name]: input.value || null }));
  }

  /** @param {string} name */
  const faultOf = (name) => form.querySelector(`[data-fault="${name}"]`);

  function clear() {
    for (const one of form.querySelectorAll("[data-fault]")) one.replaceChildren();
    for (const one of form.querySelectorAll("[aria-invalid]")) one.removeAttribute("aria-invalid");
  }

  store.onAnswer((answer) => {
    clear();
    const asked = store.case;
    now.setAttribute("aria-pressed", String(asked.when === "now"));
    const [day = "", hour = ""] = answer.moment.clock_time.split(" ");
    if (document.activeElement !== date) date.value = day;
    if (document.activeElement !== time) time.value = hour.endsWith(":00") ? hour.slice(0, -3) : hour;
    place.show(asked.at);
    instrument.value = answer.instrument.name;
    const procedures = answer.instrument.procedures;
    by.replaceChildren(...procedures.map((name) => element("option", { value: name }, plain(name))));
    by.value = asked.by ?? procedures[0] ?? "";
    plate.textContent = `plate ${latitude(answer.instrument.plate_latitude_deg)}, of ${answer.instrument.diameter_mm} mm`;
    zone.value = asked.zone ?? "";
    // A kept case may go by an offset or by one of the old reckonings.
    if (asked.clock && ![...clock.options].some(({ value }) => value === asked.clock)) {
      clock.append(element("option", { value: asked.clock }, plain(asked.clock)));
    }
    clock.value = asked.clock ?? "";
    calendar.value = asked.calendar ?? "";
    which.value = asked.which ?? "";
    houses.value = answer.figure.method;
    const side = answer.place.latitude_deg < 0 ? "south" : "north";
    if (answer.reading === null && answer.instrument.hemisphere !== side) {
      faultOf("with")?.append(element("p", { class: "row choices" }, "There would do",
        ...start.cabinet.filter(({ hemisphere }) => hemisphere === side).map(({ name }) => element("button", {
          type: "button", onclick: () => store.ask({ with: { named: name }, by: null }),
        }, name))));
    }
  });

  store.onRefused((error) => {
    clear();
    const { field: name, choices = [] } = /** @type {import("./desk.js").Refused} */ (error);
    if (name === "read") return;
    const asked = store.case;
    if (asked.when !== "now" && !date.value) [date.value = "", time.value = ""] = asked.when.split(" ");
    place.show(asked.at);
    if (name && FURTHER.includes(name)) further.open = true;
    const said = faultOf(name ?? "") ?? faultOf("when");
    // The places stand beneath, to be chosen: they need not be read twice.
    const list = name === "at" && choices[0] ? error.message.indexOf(choices[0]) : -1;
    const message = list > 0 ? error.message.slice(0, list).replace(/[:;\s]+$/, "") : error.message;
    said?.append(element("p", { class: "fault" }, capital(message), "."));
    if (choices.length > 0 && name) {
      said?.append(element("p", { class: "row choices" }, ...choices.map((choice) => element("button", {
        type: "button",
        onclick: () => store.ask(name === "with" ? { with: { named: choice } } : { [name]: choice }),
      }, choice))));
    }
    const inputs = name === "when" || !name ? [date, time] : [form.querySelector(`#${name === "at" ? "place" : name}`)];
    for (const input of inputs) {
      input?.setAttribute("aria-invalid", "true");
      if (said) input?.setAttribute("aria-describedby", said.id);
    }
  });
}

/** @param {string} name */
const fault = (name) => element("div", { "data-fault": name, id: `fault-${name}`, role: "alert" });

/**
 * @param {string} id
 * @param {string} label
 * @param {HTMLElement} input
 * @param {...HTMLElement} more
 */
const field = (id, label, input, ...more) =>
  element("div", { class: `field ${id}` }, element("label", { for: id }, label), input, ...more, fault(id));

/**
 * @param {string} id
 * @param {string[][]} options
 */
const select = (id, options) =>
  element("select", { id }, ...options.map(([value, text]) => element("option", { value }, text ?? "")));
