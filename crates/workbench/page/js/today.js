import * as desk from "./desk.js";
import { element } from "./element.js";
import { createWeek } from "./week.js";
import { fineness, latitude, sentence } from "./words.js";

/** @typedef {import("./types.js").KeptCase} KeptCase */

/**
 * Today: the week's lessons and orders, the last cases, work to correct, plates to make.
 * @param {HTMLElement} place
 * @param {import("./book.js").Book} book
 * @param {{where: () => string, casebook: () => void, correct: (kept: KeptCase) => void, plate: (plate: import("./types.js").Today["plates"][number]) => void}} go
 */
export function createToday(place, book, go) {
  const week = createWeek(book, go.where);
  let asked = 0;

  async function look() {
    const mine = ++asked;
    try {
      const [today] = await Promise.all([desk.today(), week.look()]);
      if (mine !== asked) return;
      place.replaceChildren(
        week.group,
        column("Recent cases", "None is kept yet.",
          today.recent.map((kept) => element("button", { type: "button", onclick: () => book.takeUp(kept) },
            element("b", {}, kept.case.name), ` ${kept.case.when}, ${kept.case.at}`)),
          element("button", { type: "button", id: "open-casebook", onclick: go.casebook }, "The casebook")),
        column("Work to correct", "No reading waits for a mark.",
          today.to_correct.map((kept) => element("button", { type: "button", onclick: () => go.correct(kept) },
            element("b", {}, kept.case.name),
            ` ${kept.case.readings?.length ?? 0} read${kept.case.readings?.[0]?.who ? ` by ${kept.case.readings[0].who}` : ""}`))),
        column("Plates to make", "The plates at hand serve the places of the last cases.",
          today.plates.map((plate) => element("button", { type: "button", onclick: () => go.plate(plate) },
            element("b", {}, latitude(plate.latitude_deg)), ` for ${plate.name}: ${need(plate)}`))));
    } catch (error) {
      if (mine !== asked) return;
      place.replaceChildren(element("p", { class: "fault" }, sentence(error)));
    }
    place.dataset.looked = String(mine);
  }

  book.onChanged(look);
  look();
}

/** @param {import("./types.js").Today["plates"][number]} plate */
const need = ({ called, best_plate_deg, error }) => (best_plate_deg === null || !error
  ? `${called} has none`
  : `plate ${best_plate_deg} of ${called} is up to ${fineness(Math.max(error.largest_ascendant_deg, error.largest_cusp_deg))} off`);

/**
 * @param {string} title
 * @param {string} none
 * @param {HTMLElement[]} items
 * @param {...HTMLElement} more
 */
const column = (title, none, items, ...more) => element("div", { class: "today-column" },
  element("h3", {}, title),
  items.length > 0
    ? element("ul", {}, ...items.map((item) => element("li", {}, item)))
    : element("p", { class: "quiet" }, none),
  ...more);
