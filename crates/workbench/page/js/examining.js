import * as desk from "./desk.js";
import { element, labelled } from "./element.js";
import { help } from "./help.js";
import { photograph } from "./photograph.js";
import { fileName, save } from "./save.js";
import { movable, table } from "./table.js";
import { sentence } from "./words.js";

/**
 * An instrument examined: what was measured on it goes in, what it was made for comes out.
 * @param {import("./store.js").Store} store
 * @param {(specification: string) => void} workWith
 * @param {(specification: string) => void} offer to the cabinet
 * @param {(read: Record<string, string>) => void} correct readings
 * @param {import("./face.js").Face} face
 */
export function examining(store, workWith, offer, correct, face) {
  const text = element("textarea", { id: "measurements", rows: "10", spellcheck: "false" });
  const file = element("input", { type: "file", id: "measurements-file", accept: ".toml,text/plain" });
  const against = element("input", { type: "checkbox", id: "examine-against" });
  const within = element("input", { id: "examine-within", inputmode: "decimal", autocomplete: "off", placeholder: "0.2", size: "6" });
  const fault = element("p", { class: "fault", role: "alert" });
  const found = element("div", { class: "examined", id: "examined", "aria-live": "polite" });
  const pictured = photograph((marks) => { text.value = marks; }, async (marks) => {
    const { sentences, shows, read } = await desk.setting({ measurements: marks, case: { ...store.case, read: {} } });
    return [
      ...[...sentences, shows.words].map((one) => element("p", {}, one)),
      element("p", { class: "row" },
        element("button", { type: "button", id: "photograph-correct", onclick: () => correct(read) }, "Correct it")),
    ];
  }, face);
  let asked = 0;
  file.addEventListener("change", async () => {
    const chosen = file.files?.[0];
    if (chosen) text.value = await chosen.text();
  });

  async function examine() {
    const mine = ++asked;
    fault.textContent = "";
    try {
      const named = store.answer ? { named: store.answer.instrument.name } : null;
      const limit = against.checked && within.value.trim() ? Number(within.value.replace(",", ".")) : null;
      if (Number.isNaN(limit)) throw new Error(`“${within.value}” is no limit; one in millimetres such as 0.2 would do`);
      const answer = await desk.examine({
        measurements: text.value,
        with: against.checked ? store.case.with ?? named : null,
        within_mm: limit,
      });
      if (mine !== asked) return;
      found.replaceChildren(...told(answer, workWith, offer));
      if (answer.pictured) pictured.show(answer.pictured, answer.sentences);
    } catch (error) {
      if (mine !== asked) return;
      found.replaceChildren();
      fault.textContent = sentence(error);
    }
    found.dataset.answers = String(mine);
  }

  async function example() {
    fault.textContent = "";
    try {
      text.value = (await desk.exampleMeasurements()).measurements;
      await examine();
    } catch (error) {
      fault.textContent = sentence(error);
    }
  }

  return element("div", { class: "examining" },
    element("h3", {}, "Examine an instrument"),
    element("p", {}, "For which latitude, of which epoch, how true? Measure what you can; an invented example shows how it is written down."),
    pictured.element,
    element("div", { class: "field" }, element("label", { for: "measurements" }, "What was measured"), text),
    element("div", { class: "field" }, element("label", { for: "measurements-file" }, "or from a file"), file),
    element("label", { class: "tick" }, against, " hold it against the instrument in the line at the top, as what it was to be"),
    labelled("and how far it may be off, in mm", within),
    element("p", { class: "row" },
      element("button", { type: "button", id: "examine", onclick: examine }, "Examine it"),
      element("button", { type: "button", id: "examine-example", onclick: example }, "An invented example")),
    fault, found,
    help(
      "How is it found, and how sure is it?",
      "Drawing goes from a latitude, an obliquity and a year to lines; here it is turned round, by least squares. Every value has its standard error, and what is left over says how true the brass is.",
      "The year of the star pointers is that of the table they were laid out by, which may be generations older than the brass.",
    ));
}

/**
 * @param {import("./types.js").Examined} answer
 * @param {(specification: string) => void} workWith
 * @param {(specification: string) => void} offer
 */
function told(answer, workWith, offer) {
  const { specification } = answer;
  const parts = [
    element("div", { class: "found-words" },
      ...answer.sentences.map((one) => element("p", {}, one)),
      specification && element("p", { class: "row" },
        element("button", { type: "button", id: "work-with", onclick: () => workWith(specification) }, "Look at an instrument so made"),
        element("button", { type: "button", id: "examined-keep", onclick: () => offer(specification) }, "Keep it in the cabinet"),
        element("button", {
          type: "button",
          onclick: () => save(`${fileName(answer.name)}.toml`, new Blob([specification], { type: "text/plain" })),
        }, "Save its specification"))),
  ];
  if (answer.against) parts.push(lengths(`Against ${answer.against.called}, in mm`, answer.against.lines));
  if (answer.circles) parts.push(lengths("Circles about the hole, in mm", answer.circles.lines));
  answer.plates.forEach(({ lines, errors }, index) => {
    if (lines.length > 0) parts.push(lengths(`Plate ${index + 1}, from the hole, in mm`, lines));
    if (errors.length > 0) parts.push(ownErrors(`Plate ${index + 1}: its own errors as measured`, errors));
  });
  if (answer.stars) {
    parts.push(movable(table("Star pointers", ["", "its own year", "off, mm", ""], answer.stars.stars.map((star) => [
      `${star.name} (${star.designation})`,
      star.year === null ? "–" : String(Math.round(star.year)),
      star.off_mm.toFixed(2),
      star.doubtful ? "left out" : "",
    ]))));
  }
  if (answer.pictured?.held) {
    const { called, marks } = answer.pictured.held;
    parts.push(movable(table(`Against ${called}, in mm`, ["", "off", "to noon", "to west", ""], marks.map((mark) => [
      mark.of, millimetres(mark.off_mm), signed(mark.noon_mm), signed(mark.west_mm), mark.kept ? "" : "too far off",
    ]))));
  } else if (answer.pictured) {
    const marks = [...answer.pictured.marks].sort((one, other) => other.off_px - one.off_px);
    parts.push(movable(table("Marks, off in pixels", ["", "off", ""], marks.map((mark) => [
      mark.of, mark.off_px.toFixed(1), mark.doubtful ? "left out" : "",
    ]))));
  }
  return parts;
}

/**
 * @param {string} caption
 * @param {import("./types.js").Deviation[]} lines
 */
const lengths = (caption, lines) => movable(table(caption, ["", "measured", "should be", "off"], lines.map((line) => [
  line.what, millimetres(line.measured_mm), millimetres(line.should_mm), signed(line.off_mm),
])));

/**
 * @param {string} caption
 * @param {import("./types.js").Examined["plates"][number]["errors"]} errors
 */
const ownErrors = (caption, errors) => movable(table(caption, ["almucantar", "stands at", "to be added", "within"], errors.map((one) => [
  `${one.engraved_deg}°, towards ${one.towards}`,
  `${one.stands_deg.at.toFixed(2).replace("-", "−")}°`,
  `${one.to_add_deg < 0 ? "−" : "+"}${Math.abs(one.to_add_deg * 60).toFixed(0)}′`,
  `${(one.stands_deg.within * 60).toFixed(0)}′`,
])));

/** @param {number} mm */
const millimetres = (mm) => mm.toFixed(2).replace("-", "−").replace("−0.00", "0.00");

/** @param {number} mm */
const signed = (mm) => (mm < -0.005 ? "" : "+") + millimetres(mm);
