import { createCandidates } from "./candidates.js";
import { element } from "./element.js";
import { help } from "./help.js";
import { createTrust } from "./trust.js";
import { capital, latitude, longitude, plain, signedTime, wholeSeconds } from "./words.js";

/** @typedef {import("./types.js").Answer} Answer */

/**
 * Set your brass: the three things a hand needs, and the sum beneath.
 * @param {HTMLElement} place
 * @param {import("./store.js").Store} store
 */
export function createSetBrass(place, store) {
  const facts = element("dl", { class: "set-facts" });
  const sum = element("table", { class: "sum" });
  const notes = element("div", { class: "notes" });
  const trust = createTrust(store);
  const candidates = createCandidates(store);
  place.append(facts, trust.place, notes, candidates.place, sum, help(
    "Why not the clock’s hour?",
    "The clock keeps the zone’s time; the instrument keeps the Sun’s. The sum takes summer time and the zone off, adds four minutes for every degree east (takes them off to the west), and then the equation of time: what the true Sun is ahead of a clock that runs evenly.",
    "A date ring of equal days already goes by the even Sun: with it the rule is set to local mean time, and the equation of time must not be applied.",
  ));

  store.onAnswer((answer) => {
    const set = answer.set;
    facts.replaceChildren();
    if (set) {
      facts.append(
        fact("Plate", set.plate, plateNote(answer)),
        ...(set.other_plate ? [fact("Then", set.other_plate, "the place lies between the two")] : []),
        fact(capital(set.under_rule), set.degree_or_date, "under the rule"),
        fact("Hour for the rule", set.hour, set.time),
      );
    } else {
      facts.append(element("div", {}, element("dt", {}, "Plate"), element("dd", { class: "quiet" }, `none: ${answer.reason ?? ""}`)));
    }
    trust.show(answer);
    candidates.show(answer);
    sum.replaceChildren(...sumLines(answer));
    notes.replaceChildren(...answer.moment.notes.map((note) => element("p", {}, `${capital(note.text)}.`)));
  });
}

/**
 * @param {string} name
 * @param {string} value
 * @param {string} more
 */
const fact = (name, value, more) => element("div", {},
  element("dt", {}, name),
  element("dd", {}, element("strong", {}, value), more && element("span", { class: "more" }, more)));

/** @param {Answer} answer */
function plateNote({ set, place }) {
  const off = set?.plate_off_deg ?? 0;
  const here = latitude(place.latitude_deg);
  return Math.abs(off) < 0.01 ? `the place’s own, ${here}` : `the nearest to ${here}`;
}

/**
 * The sum ends where the hour for the rule stands: for a ring of equal days before the
 * equation of time.
 * @param {Answer} answer
 */
export function sumLines({ moment, place, set }) {
  const row = (/** @type {string} */ name, /** @type {string} */ amount, /** @type {string} */ result, /** @type {string} */ reason, /** @type {string} */ kind = "") =>
    element("tr", { class: kind },
      element("th", { scope: "row" }, name, reason && element("span", { class: "more" }, reason)),
      element("td", {}, amount),
      element("td", {}, result));
  const even = set?.is_mean_time;
  const isAside = (/** @type {string} */ what) => what === "sidereal-time" || (even && what === "equation-of-time");
  const end = moment.steps.findLastIndex(({ what }) => !isAside(what));
  const lines = moment.steps.map((step, index) => row(
    capital(plain(step.what)), signedTime(step.amount_s), wholeSeconds(step.result),
    even && step.what === "equation-of-time" ? `not for this date ring, whose days are equal; ${step.reason}` : step.reason,
    isAside(step.what) ? "aside" : index === end ? "result" : ""));
  const clock = moment.zone ? `by the clock of ${moment.zone}` : moment.clock === "zone" ? "by the clock" : `by ${plain(moment.clock)} time`;
  return [
    element("caption", {}, `The sum, at ${longitude(place.longitude_deg)}`),
    element("thead", {}, element("tr", {},
      element("th", { scope: "col" }, "What"),
      element("th", { scope: "col" }, "Added"),
      element("th", { scope: "col" }, "Gives"))),
    element("tbody", {}, row("Clock", "", wholeSeconds(moment.clock_time.split(" ").at(-1) ?? ""), clock), ...lines),
  ];
}
