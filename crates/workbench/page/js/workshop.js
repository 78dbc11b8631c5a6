import * as desk from "./desk.js";
import { createGlass } from "./bench-glass.js";
import { comparing } from "./comparing.js";
import { byId, element, labelled } from "./element.js";
import { help } from "./help.js";
import { createLeaf } from "./leaf.js";
import { examining } from "./examining.js";
import { fileName, save } from "./save.js";
import { createSpecificationForm } from "./specification-form.js";
import { table } from "./table.js";
import { capital, fineness, latitude, plain, sentence } from "./words.js";

/** @typedef {import("./types.js").Parts} Parts */

/** What each format is for. */
/** @type {Record<string, string>} */
const FORMATS = {
  svg: "SVG, for cutters",
  dxf: "DXF, for machines",
  pdf: "PDF, for printers, at true size",
  png: "PNG, a picture",
  paper: "PDF, to cut and fold of card",
  "3mf": "3MF, solids for printers and mills",
  stl: "STL, the same without a unit",
  film: "Films for etching, PDF",
  assembly: "How it is put together, and of what, a page",
  "film-png": "Films for etching, pictures of 2540 dots to the inch",
};

/**
 * The workshop: the parts of an instrument as they would be made, their files, and
 * which plate serves which town.
 * @param {import("./store.js").Store} store
 * @param {import("./types.js").Start} start
 * @param {import("./cabinet.js").CabinetLeaf} cabinet
 * @param {(read: Record<string, string>) => void} correct readings
 * @param {import("./face.js").Face} face
 */
export function createWorkshop(store, start, cabinet, correct, face) {
  const glass = createGlass();
  const fault = element("p", { class: "fault", role: "alert" });
  const done = element("p", { class: "quiet", role: "status" });
  const pieces = element("p", { class: "row", role: "group", "aria-label": "Pieces", id: "pieces" });
  const told = element("p", { id: "piece-told" });
  const leftOut = element("details", { class: "further sources", id: "left-out", hidden: true });
  const of = element("p", { class: "quiet", id: "workshop-of" });
  const plates = element("input", { id: "make-plates", type: "text", autocomplete: "off", placeholder: "its own" });
  const part = element("select", { id: "part" }, ...start.parts.map((name) =>
    element("option", { value: name, selected: name === "rete" }, name)));
  const formats = start.formats.map((name) => {
    const box = element("input", { type: "checkbox", value: name, checked: ["svg", "dxf", "pdf"].includes(name) });
    return { box, label: element("label", { class: "tick" }, box, ` ${FORMATS[name] ?? name}`) };
  });
  const whole = element("input", { type: "checkbox", id: "whole-set", checked: true });
  const paper = element("input", { id: "paper", type: "text", value: "A4", size: "8" });
  const depth = millimetres("engrave-depth", "0.2", "5");
  const raised = millimetres("raised", "", "5");
  const breadth = millimetres("line-width", "as on paper", "2");
  const undercut = millimetres("undercut", "0", "0.2", "-0.2");
  const sense = element("select", { id: "film-sense" },
    element("option", { value: "positive" }, "what is etched (the resist hardens in light)"),
    element("option", { value: "negative" }, "what stays (the resist softens in light)"));
  const mirrored = element("input", { type: "checkbox", id: "film-mirrored" });
  const through = element("input", { type: "checkbox", id: "etch-through" });
  const material = element("select", { id: "rates-of" }, ...start.materials.map((name) =>
    element("option", { value: name }, plain(name))));
  const batch = amount("rates-batch", "1", { min: "1", max: "1000", step: "1" });
  const kilogram = amount("rates-kilogram");
  const hour = amount("rates-hour");
  const cutting = amount("rates-cut");
  const engraving = amount("rates-engrave");
  const make = element("button", { type: "button", id: "make-files" }, "Make the files");
  let asked = 0;
  const form = createSpecificationForm(store, cabinet.shelf, () => { if (leaf.isOpen) look(); });
  const own = element("details", { class: "spec-own", id: "spec-own" },
    element("summary", {}, "A specification, by its fields"),
    element("p", { class: "more" }, "Choose what the piece shall be; picture and text follow, and what is made below is made of it. Or write in the text, and the fields follow."),
    form.section);
  own.addEventListener("toggle", () => { if (own.open) form.open(); });

  const leaf = createLeaf("workshop", (body) => {
    body.append(
      of, own,
      element("div", { class: "workshop-bench" },
        element("div", { class: "making" },
          element("div", { class: "fields" },
            labelled("Part", part),
            labelled("Plates for these towns or latitudes, parted by semicolons", plates)),
          element("fieldset", {}, element("legend", {}, "Files"), ...formats.map(({ label }) => label)),
          element("div", { class: "fields" }, labelled("Paper: A4, A3, Letter, or 300x450 in millimetres", paper)),
          element("details", { class: "further" },
            element("summary", {}, "Solids and films"),
            element("div", { class: "fields" },
              labelled("Lines in solids so deep, in mm; 0 for none", depth),
              labelled("or raised so high, in mm", raised),
              labelled("No line narrower than, in mm", breadth)),
            element("div", { class: "fields" },
              labelled("Dark on films is", sense),
              labelled("Edges drawn in for the undercut, in mm", undercut)),
            element("label", { class: "tick" }, mirrored, " films mirrored, for a printer that lays its ink on top"),
            element("label", { class: "tick" }, through, " parts etched through along their edges, from both sides"),
            element("p", { class: "caution" }, "Resists, developers and etchants hurt skin, eyes and lungs: follow their safety data sheets and the rules of your place, for their waste too.")),
          element("details", { class: "further" },
            element("summary", {}, "Materials, and rates of my own"),
            element("div", { class: "fields" },
              labelled("Made of", material), labelled("So many instruments", batch)),
            element("div", { class: "fields" },
              labelled("A kilogram of sheet costs", kilogram), labelled("an hour of the machine", hour)),
            element("div", { class: "fields" },
              labelled("It cuts, in mm a minute", cutting), labelled("and engraves", engraving)),
            element("p", { class: "more" }, "In your own coin, on the sheets “How it is put together” and sheet.txt. What no rate is given for is not told.")),
          element("label", { class: "tick" }, whole, " the whole instrument, not this part alone"),
          element("p", { class: "row" }, make),
          done,
          element("p", { class: "caution" }, "Laser and engraving work: follow the machine’s own safety rules. Check the 100 mm line of every print before you cut.")),
        element("div", { class: "glass" }, pieces, glass.bar, glass.bench, told, leftOut, fault)),
      townPlates(store, makePlate),
      comparing(store),
      examining(store, workWith, (text) => cabinet.offer(text), correct, face),
      help(
        "What is shown, and what is made?",
        "The part as the machine would cut and engrave it. A rete that would fall apart or be too thin anywhere is refused, and it is said where. “True size” is as true as the screen knows its own millimetres.",
        "The files come in one archive: drawings with a layer for each kind of work, from scoring to cutting out, a manifest of sizes and lengths, and a sheet on assembly, checking and use.",
      ));
    for (const input of [part, plates, form.area]) input.addEventListener("change", look);
    make.addEventListener("click", makeFiles);
  }, look);
  store.onAnswer(() => { if (leaf.isOpen) look(); });

  /** @returns {Parts} */
  function meant() {
    return {
      with: form.text ? { specification: form.text } : store.case.with ?? null,
      plates: plates.value.split(";").map((one) => one.trim()).filter(Boolean),
      parts: [part.value],
    };
  }

  async function look() {
    const mine = ++asked;
    const request = meant();
    of.textContent = request.with && "specification" in request.with
      ? "Of the specification below."
      : `Of ${store.answer?.instrument.called ?? "the first of the cabinet"}, ${store.answer?.instrument.diameter_mm ?? ""} mm; another is chosen in the line at the top.`;
    try {
      const found = await desk.partPictures(request);
      if (mine !== asked) return;
      fault.textContent = "";
      pieces.replaceChildren(...found.map((piece) => element("button", {
        type: "button", "aria-pressed": "false", onclick: () => lay(piece),
      }, piece.title)));
      pieces.hidden = found.length < 2;
      if (found[0]) lay(found[0]);

      /** @param {import("./types.js").PartPicture} piece */
      function lay(piece) {
        glass.lay(piece.svg, piece.width_mm);
        leftOut.hidden = piece.thinned.length === 0;
        leftOut.replaceChildren(
          element("summary", {}, "What this size leaves out"),
          table("Each is overruled by a key of the specification", ["", "shown", "key"],
            piece.thinned.map(({ what, shown, key }) => [what, shown, key])));
        told.textContent = piece.flaw ? "" : `${capital(piece.title)}: one piece, and nowhere too thin.${piece.arcs ? ` ${capital(piece.arcs)}.` : ""}`;
        fault.textContent = piece.flaw ? `${capital(piece.title)} cannot be made: ${piece.flaw}.` : "";
        [...pieces.children].forEach((button, index) =>
          button.setAttribute("aria-pressed", String(found[index] === piece)));
      }
    } catch (error) {
      if (mine !== asked) return;
      glass.clear();
      pieces.replaceChildren();
      told.textContent = "";
      leftOut.hidden = true;
      fault.textContent = sentence(error);
    }
    byId("workshop").dataset.shown = String(mine);
  }

  async function makeFiles() {
    done.textContent = "Being made.";
    make.disabled = true;
    try {
      const request = meant();
      const archive = await desk.make({
        ...request,
        parts: whole.checked ? [] : request.parts,
        formats: formats.filter(({ box }) => box.checked).map(({ box }) => box.value),
        page: paper.value,
        lines: { engrave_depth_mm: given(depth), raised_mm: given(raised), line_width_mm: given(breadth) },
        films: {
          negative: sense.value === "negative", mirrored: mirrored.checked, through: through.checked,
          undercut_mm: given(undercut),
        },
        rates: {
          of: material.value, batch: given(batch), price_kg: given(kilogram), price_hour: given(hour),
          cut_mm_per_min: given(cutting), engrave_mm_per_min: given(engraving),
        },
      });
      const name = request.with && "named" in request.with ? request.with.named : "instrument";
      save(`${fileName(name)}.zip`, archive);
      done.textContent = `Made: ${Math.max(1, Math.round(archive.size / 1024))} KB.`;
      fault.textContent = "";
    } catch (error) {
      done.textContent = "";
      fault.textContent = sentence(error);
    }
    make.disabled = false;
  }

  /** @param {string} text a specification that is looked at from now on */
  function workWith(text) {
    form.begin(text);
    own.open = true;
    look();
    leaf.show();
  }

  /** @param {number} latitude_deg */
  function makePlate(latitude_deg) {
    plates.value = String(Number(latitude_deg.toFixed(4)));
    part.value = "plates";
    whole.checked = false;
    if (leaf.isOpen) look();
    leaf.show();
  }

  return { leaf, makePlate };
}

/**
 * A field for millimetres that may stay empty.
 * @param {string} id
 * @param {string} usual what holds where nothing is entered
 * @param {string} most
 * @param {string} [least]
 */
function millimetres(id, usual, most, least = "0") {
  return element("input", { id, type: "number", min: least, max: most, step: "0.01", placeholder: usual });
}

/**
 * A field for a number that may stay empty.
 * @param {string} id
 * @param {string} [usual] what holds where nothing is entered
 * @param {Record<string, string>} [bounds]
 */
function amount(id, usual = "not told", bounds = { min: "0", step: "any" }) {
  return element("input", { id, type: "number", placeholder: usual, ...bounds });
}

/** @param {HTMLInputElement} field */
function given(field) {
  return field.value === "" ? null : Number(field.value);
}

/** What is to be done for a town. */
const ADVICE = {
  plate: "this plate serves",
  proportion: "read two plates and take the proportion",
  "new-plate": "a plate of its own",
};

/**
 * Which plate serves which town.
 * @param {import("./store.js").Store} store
 * @param {(latitude_deg: number) => void} make
 */
function townPlates(store, make) {
  const towns = element("textarea", { id: "plate-towns", rows: "4", placeholder: "a town on each line" });
  const within = element("input", { id: "plate-within", type: "number", min: "0.05", max: "60", step: "0.05", value: "1" });
  const year = element("input", { id: "card-year", type: "number", value: String(new Date().getFullYear()) });
  const paper = element("select", { id: "card-paper" }, ...["a5", "a6", "a4", "letter"].map((name) =>
    element("option", { value: name }, name === "letter" ? "Letter" : name.toUpperCase())));
  const fault = element("p", { class: "fault", role: "alert" });
  const found = element("div", { id: "plates-found" });
  const ask = element("button", { type: "button", id: "ask-plates" }, "Which plates?");
  ask.addEventListener("click", async () => {
    fault.textContent = "";
    found.replaceChildren();
    try {
      const named = towns.value.split("\n").map((one) => one.trim()).filter(Boolean);
      const request = {
        towns: named,
        stock_deg: store.answer?.instrument.plates_deg ?? [],
        within_deg: Number(within.value),
        houses: store.case.houses ?? null,
      };
      const answer = await desk.plates(request);
      found.append(
        table(
          `Largest errors over the year of ascendant and of cusps by ${answer.method}, on the plates of ${store.answer?.instrument.called ?? "the instrument"}`,
          ["town", "latitude", "best plate", "ascendant", "cusps", "by proportion", "", ""],
          answer.towns.map((town, index) => [
            town.name, latitude(town.latitude_deg),
            town.best_plate_deg === null ? "none" : `${town.best_plate_deg}°`,
            fineness(town.error?.largest_ascendant_deg ?? null),
            fineness(town.error?.largest_cusp_deg ?? null),
            fineness(town.proportion?.error.largest_ascendant_deg ?? null),
            element("span", {}, `${ADVICE[town.advice]} `, town.advice === "new-plate"
              && element("button", { type: "button", onclick: () => make(town.latitude_deg) }, "Look at it")),
            element("button", { type: "button", class: "card", "aria-label": `The card of ${town.name}`, onclick: () => {
              giveCard({ ...request, towns: [named[index] ?? town.name] }, town.name);
            } }, "Card"),
          ])),
        element("p", {}, `The fewest plates that keep all within ${answer.within_deg}°: `,
          answer.smallest_set.map(({ plate_deg, towns: served }) => `${plate_deg.toFixed(2)}° (${served.join("; ")})`).join(", "), "."));
    } catch (error) {
      fault.textContent = sentence(error);
    }
  });
  /**
   * @param {import("./types.js").PlatesRequest} request
   * @param {string} name
   */
  async function giveCard(request, name) {
    fault.textContent = "";
    try {
      const date_from = store.answer?.instrument.date_from;
      const asked = { ...request, year: Number(year.value), ...(date_from ? { date_from } : {}) };
      save(`card-${fileName(name)}.pdf`, await desk.card(asked, paper.value, store.case.with ?? null));
    } catch (error) {
      fault.textContent = sentence(error);
    }
  }

  return element("div", { class: "town-plates" },
    element("h3", {}, "Which plate for which town"),
    element("div", { class: "fields" },
      labelled("Towns", towns), labelled("Largest error suffered, in degrees", within),
      labelled("Cards for the year", year), labelled("on paper", paper)),
    element("p", { class: "row" }, ask), fault, found);
}
