import { element } from "./element.js";
import { createHere } from "./here.js";
import { help } from "./help.js";
import { instrumentList } from "./instrument-list.js";
import { methodField } from "./method-field.js";
import { placeField } from "./place-field.js";
import { capital, latitude, longitude, plain, spelled } from "./words.js";

/** @typedef {import("./types.js").Case} Case */
/** @typedef {import("./types.js").Answer} Answer */

/** Stands in the list of clocks for all that go by a fixed distance from UTC. */
const OFFSET = "offset";

/** A distance from UTC as it is written: +01:00, −6:00. @param {string} text */
const offsetOf = (text) => {
  const found = /^(?:UTC|UT|GMT)?\s*([+\-−])(\d{1,2})(?::?(\d\d(?::\d\d)?))?$/i.exec(text.trim());
  return found && `${found[1] === "+" ? "+" : "-"}${(found[2] ?? "").padStart(2, "0")}:${found[3] ?? "00"}`;
};

/** Fields that stand behind “More”. */
const FURTHER = ["zone", "clock", "calendar", "which", "sun", "plates", "houses"];

/**
 * The one line: the moment, the place, the instrument, the procedure. What is wrong
 * with one of them is said beside it.
 * @param {HTMLElement} form
 * @param {import("./store.js").Store} store
 * @param {import("./types.js").Start} start
 * @param {import("./shelf.js").Shelf} shelf
 */
export function createCaseForm(form, store, start, shelf) {
  const date = element("input", { id: "date", type: "text", autocomplete: "off", placeholder: "2024-05-14", size: "10" });
  const time = element("input", { id: "time", type: "text", autocomplete: "off", placeholder: "09:20", size: "6" });
  const now = element("button", { type: "button", id: "now", "aria-pressed": "false" }, "Now");
  const here = createHere("here", store);
  const place = placeField("place", "Place", (at) => store.ask({ at, zone: null, which: null, calendar: null, plates: null }));
  const instruments = instrumentList("with", shelf);
  const instrument = instruments.select;
  const by = select("by", []);
  const zone = element("input", { id: "zone", type: "text", autocomplete: "off", placeholder: "the place’s own" });
  const clock = clocks(start);
  const offset = element("input", { id: "offset", type: "text", autocomplete: "off", placeholder: "+01:00", size: "7" });
  const offsetField = field("offset", "Ahead of UTC by", offset);
  const calendar = select("calendar", [["", "as was usual"], ["gregorian", "Gregorian"], ["julian", "Julian"]]);
  const which = select("which", [["", "it came once"], ["earlier", "the earlier"], ["later", "the later"]]);
  const sun = select("sun", [["", "the instrument’s own scale or ring"], ["ephemeris", "the ephemeris"]]);
  const plates = select("plates", [["", "the nearest"], ["two-in-proportion", "two in proportion"]]);
  const houses = methodField("houses", start.methods, (name) => store.ask({ houses: name }));
  const plate = element("span", { class: "more", id: "plate" });

  const further = element("details", { class: "further" },
    element("summary", {}, "More on clock, calendar, Sun, plates and houses"),
    element("div", { class: "fields" },
      field("clock", "Kind of clock", clock), offsetField, fault("clock"),
      field("zone", "Zone", zone), fault("zone"),
      field("calendar", "Calendar", calendar), fault("calendar"),
      field("which", "Where it came twice", which), fault("which"),
      field("sun", "Sun’s degree from", sun), fault("sun"),
      field("plates", "Plates", plates), fault("plate"),
      field("houses", "Houses calculated by", houses.select), fault("houses")));
  const moment = element("div", { class: "field moment" },
    element("div", { class: "pair" },
      element("div", {}, element("label", { for: "date" }, "Date"), date),
      element("div", {}, element("label", { for: "time" }, "Clock time"), time),
      now));
  const procedures = new Set(start.cabinet.flatMap((one) => one.procedures));
  form.append(
    // What is wrong with a box is said under the whole line: no box moves for it.
    element("div", { class: "fields" },
      moment, fault("when"),
      place.group, fault("at"),
      field("with", "Instrument", instrument, plate), fault("with"),
      field("by", "Cusp procedure", by), fault("by")),
    here.button, further, here.said,
    help(
      "What can I write?",
      "The date as year, month, day: 2024-05-14; years before Christ are counted with a year 0. The time as hours and minutes of a 24-hour clock: 09:20, or with seconds. The place is a town, or its latitude and longitude: 42.8806,-8.5449 or 42°53′N 8°33′W. For a bare position name the zone behind “More”, or an offset such as +01:00.",
      `The ${spelled(procedures.size)} procedures read the cusps off the instrument in different ways and give different answers: turning gives the houses of Alcabitius, the direct cut those of Placidus.`,
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
    store.ask({ with: { named: instrument.value }, by: kept, plates: null });
  });
  by.addEventListener("change", () => store.ask({ by: by.value }));
  zone.addEventListener("change", () => {
    const ahead = offsetOf(zone.value);
    store.ask(ahead ? { zone: null, clock: ahead } : { zone: zone.value.trim() || null });
  });
  clock.addEventListener("change", () => {
    offsetField.hidden = clock.value !== OFFSET;
    if (clock.value !== OFFSET) store.ask({ clock: clock.value || null });
    else offset.focus();
  });
  // What is no offset is left for the desk to refuse.
  offset.addEventListener("change", () => store.ask({ clock: offsetOf(offset.value) ?? offset.value.trim() }));
  for (const [name, input] of /** @type {const} */ ([["calendar", calendar], ["which", which], ["sun", sun], ["plates", plates]])) {
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
    const { name, latitude_deg, longitude_deg } = answer.place;
    const at = `${latitude(latitude_deg)}, ${longitude(longitude_deg)}`;
    place.show(asked.at, asked.at === name ? at : `taken for ${name}: ${at}`);
    instruments.show(answer.instrument.name);
    const procedures = answer.instrument.procedures;
    by.replaceChildren(...procedures.map((name) => element("option", { value: name }, plain(name))));
    by.value = asked.by ?? procedures[0] ?? "";
    plate.textContent = `plate ${latitude(answer.instrument.plate_latitude_deg)}, of ${answer.instrument.diameter_mm} mm`;
    zone.value = asked.zone ?? "";
    const known = [...clock.options].some(({ value }) => value === (asked.clock ?? ""));
    clock.value = known ? asked.clock ?? "" : OFFSET;
    offset.value = known ? "" : asked.clock ?? "";
    offsetField.hidden = known;
    further.dataset.set = String([asked.clock, asked.zone, asked.calendar, asked.which, asked.sun, asked.plates].some(Boolean));
    calendar.value = asked.calendar ?? "";
    which.value = asked.which ?? "";
    plates.value = asked.plates === "two-in-proportion" ? "two-in-proportion" : "";
    sun.value = asked.sun === "ephemeris" ? "ephemeris" : "";
    houses.show(answer.figure.method);
    const side = answer.place.latitude_deg < 0 ? "south" : "north";
    if (answer.reading === null && answer.instrument.hemisphere !== side) {
      faultOf("with")?.append(element("p", { class: "row choices" }, "There would do",
        ...start.cabinet.filter(({ hemisphere }) => hemisphere === side).map(({ name }) => element("button", {
          type: "button", onclick: () => store.ask({ with: { named: name }, by: null, plates: null }),
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
        onclick: () => store.ask(name === "with" ? { with: { named: choice } } : { [name === "plate" ? "plates" : name]: choice }),
      }, choice))));
    }
    const input = name === "clock" && clock.value === OFFSET ? offset : form.querySelector(`#${name === "at" ? "place" : name}`);
    const inputs = name === "when" || !name ? [date, time] : [input];
    for (const input of inputs) {
      input?.setAttribute("aria-invalid", "true");
      if (said) input?.setAttribute("aria-describedby", said.id);
    }
  });
}

/** @param {string} name */
const fault = (name) => element("div", { class: `said ${name}`, "data-fault": name, id: `fault-${name}`, role: "alert" });

/**
 * @param {string} id
 * @param {string} label
 * @param {HTMLElement} input
 * @param {...HTMLElement} more
 */
const field = (id, label, input, ...more) =>
  element("div", { class: `field ${id}` }, element("label", { for: id }, label), input, ...more);

/**
 * @param {string} id
 * @param {string[][]} options
 */
const select = (id, options) =>
  element("select", { id }, ...options.map(([value, text]) => element("option", { value }, text ?? "")));

/** @param {import("./types.js").Start} start */
function clocks(start) {
  const option = (/** @type {{name: string, words: string}} */ { name, words }) =>
    element("option", { value: name === "zone" ? "" : name }, words);
  const old = start.clocks.filter((one) => one.old);
  return element("select", { id: "clock" },
    ...start.clocks.filter((one) => !one.old).map(option),
    element("option", { value: OFFSET }, "a fixed offset from UTC …"),
    element("optgroup", { label: "Old reckonings" }, ...old.map(option)));
}
