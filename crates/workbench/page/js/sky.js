import * as desk from "./desk.js";
import { element } from "./element.js";
import { help } from "./help.js";
import { named, numeral, ordinal, sentence, zodiacal } from "./words.js";

/** @typedef {import("./types.js").Finished} Finished */

/**
 * The planets in their houses, and the planetary hour.
 * @param {HTMLElement} place
 * @param {import("./store.js").Store} store
 */
export function createSky(place, store) {
  const hour = element("p", { class: "hour" });
  const fault = element("p", { class: "quiet" });
  const read = element("th", { scope: "col" }, "read");
  const rows = element("tbody");
  const table = element("table", { class: "bodies" },
    element("thead", {}, element("tr", {},
      element("th", { scope: "col" }, "Body"),
      element("th", { scope: "col" }, "Place"),
      element("th", { scope: "col" }, "House"), read)),
    rows);
  place.append(hour, fault, table, help(
    "Two houses for one planet?",
    "The first is by the calculated cusps, the second by the cusps as your instrument gives them. Near a cusp they may differ: a reading is only as fine as the brass.",
  ));
  let asked = 0;

  store.onAnswer(async () => {
    const mine = ++asked;
    try {
      const finished = await desk.figure(store.case);
      if (mine === asked) show(finished);
    } catch (error) {
      if (mine !== asked) return;
      table.hidden = true;
      hour.textContent = "";
      fault.textContent = sentence(error);
    }
  });

  /** @param {Finished} finished */
  function show({ exact, read: onInstrument }) {
    fault.textContent = "";
    table.hidden = false;
    read.hidden = !onInstrument;
    hour.textContent = exact.hour
      ? `Hour of ${named(exact.hour.ruler)}, the ${ordinal(exact.hour.number)} of the ${exact.hour.of}; it ends at ${exact.hour.ends.split(" ").at(-1)}. The day is ${possessive(exact.hour.day_ruler)}.`
      : "The Sun neither rises nor sets here on this day: there are no planetary hours.";
    rows.replaceChildren(...exact.bodies.map((body, index) => element("tr", {},
      element("th", { scope: "row" }, body.name),
      element("td", {}, zodiacal(body.longitude_deg), body.retrograde && element("span", { class: "more" }, " retrograde")),
      element("td", {}, house(body.house)),
      onInstrument && element("td", {}, house(onInstrument.bodies[index]?.house ?? null)))));
  }
}

/** @param {number | null} number */
const house = (number) => (number ? numeral(number) : "–");

/** @param {string} body */
const possessive = (body) => `${named(body)}’s`;
