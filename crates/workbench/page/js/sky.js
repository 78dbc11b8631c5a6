import { element } from "./element.js";
import { zodiacal } from "./words.js";

/**
 * The planets' places.
 * @param {HTMLElement} place
 * @param {import("./store.js").Store} store
 */
export function createSky(place, store) {
  const rows = element("tbody");
  place.append(element("table", { class: "bodies" },
    element("thead", { class: "visually-hidden" }, element("tr", {},
      element("th", { scope: "col" }, "Body"),
      element("th", { scope: "col" }, "Place"),
      element("th", { scope: "col" }, "Motion"))),
    rows));
  store.onAnswer((answer) => rows.replaceChildren(...answer.sky.bodies.map((body) => element("tr", {},
    element("th", { scope: "row" }, body.name),
    element("td", {}, zodiacal(body.longitude_deg)),
    element("td", { class: "more" }, body.speed_deg_per_day < 0 ? "retrograde" : "")))));
}
