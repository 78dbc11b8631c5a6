import * as desk from "./desk.js";
import { byId, element } from "./element.js";
import { sameState } from "./turning.js";

/** @typedef {import("./types.js").Turn} Turn */

/** How long the parts must rest before the position is read out, in milliseconds. */
const REST = 700;

/**
 * What the instrument shows as it is turned: asked of the desk, one question at a
 * time, the newest position always next.
 * @param {HTMLElement} place
 * @param {import("./store.js").Store} store
 * @param {import("./turning.js").Turning} turning
 * @param {import("./stage.js").Stage} stage
 */
export function createLive(place, store, turning, stage) {
  const fields = {
    ascendant: field("Ascendant"),
    midheaven: field("Midheaven"),
    hour: field("Hour under the rule"),
    under: field("Under the rule"),
    altitude: field("Sun’s altitude"),
    pointer: field("Under the pointer"),
    alidade: field("Under the alidade"),
    date: field("Date under the alidade"),
  };
  const list = element("dl", { class: "facts" });
  for (const { group } of Object.values(fields)) list.append(group);
  const means = element("p", { class: "means" });
  const take = element("button", { type: "button", hidden: true }, "Take this moment");
  const back = element("button", { type: "button", hidden: true, id: "set-again" }, "Set it again as worked");
  place.append(list, means, element("p", { class: "row" }, take, back));

  let asking = false;
  let again = false;
  /** @type {import("./types.js").Point | null} */
  let pointer = null;
  /** @type {Turn | null} */
  let shown = null;
  let resting = 0;

  async function ask() {
    if (asking) {
      again = true;
      return;
    }
    place.dataset.busy = "yes";
    if (!store.answer) return;
    asking = true;
    again = false;
    try {
      show(await desk.turn({ case: store.answered, state: turning.state, pointer }));
    } catch {
      // The instrument does not serve the place: where it would be set, it is said.
    }
    asking = false;
    if (again) requestAnimationFrame(ask);
    else place.dataset.busy = "";
  }

  /** @param {Turn} turn */
  function show(turn) {
    shown = turn;
    fields.ascendant.say(turn.ascendant?.text ?? "not on this horizon", turn.ascendant?.reads_to_text);
    fields.midheaven.say(turn.midheaven?.text ?? "–", turn.midheaven?.reads_to_text);
    fields.hour.say(turn.hour.text, turn.hour.reads_to_text, turn.hour.time);
    fields.under.say(turn.under_rule?.text ?? "–", turn.under_rule?.reads_to_text, turn.date_under_rule ?? "");
    fields.altitude.say(turn.sun_altitude.text ?? "–", turn.sun_altitude.reads_to_text);
    const under = turn.under_pointer;
    const star = under?.star;
    if (star) fields.pointer.say(`${star.name}, ${star.altitude}`, star.altitude_reads_to_text, star.designation);
    else if (under?.degree) fields.pointer.say(under.degree, under.degree_reads_to_text);
    else fields.pointer.say(under ? `altitude ${under.altitude}` : "–", under?.altitude_reads_to_text);
    fields.alidade.say(turn.alidade.text ?? "–", turn.alidade.reads_to_text);
    fields.date.say(turn.date_under_alidade ?? "none on this instrument");
    const { worked } = turning;
    const moved = worked !== null && !sameState(worked, turning.state);
    means.textContent = turn.means
      ? `On this date the position means ${turn.means.text}: the Sun at ${turn.means.hour}, ${turn.hour.time}.`
      : "";
    take.hidden = !(moved && turn.means) || stage.side === "back";
    back.hidden = !moved;
    clearTimeout(resting);
    resting = window.setTimeout(() => {
      const back = stage.side === "back";
      const { text, reads_to_text } = turn.alidade;
      const to = reads_to_text ? `, to ${reads_to_text}` : "";
      const words = back ? `Alidade on ${text}${to}, ${turn.date_under_alidade ?? "no date"}.` : turn.words;
      stage.describe(`The instrument, ${stage.side}. ${words}`);
      // Of a step of the working its own sentence is read out.
      if (turning.byHand) byId("announce").textContent = words;
    }, REST);
  }

  take.addEventListener("click", () => {
    if (shown?.means) store.ask({ when: shown.means.when, which: null });
  });
  back.addEventListener("click", () => {
    if (turning.worked) turning.moveTo(turning.worked);
  });
  turning.onTurned(ask);
  stage.onSide(sides);
  sides();
  /** Each side has its own readings. */
  function sides() {
    const back = stage.side === "back";
    for (const [name, { group }] of Object.entries(fields)) {
      group.hidden = (name === "alidade" || name === "date") !== back;
    }
    // The alidade's place means no moment.
    means.hidden = back;
    if (back) take.hidden = true;
  }
  stage.onPointer((at) => {
    pointer = at;
    ask();
  });

  return { ask };
}

/** What is read next, on one plate or on the first of two. */
const ASCENDANTS = new Set(["ascendant", "ascendant-on-first-plate"]);

/**
 * How the parts stand when the Sun has been set.
 * @param {import("./types.js").Answer | null} answer
 */
export function settingOf(answer) {
  const read = answer?.working?.steps.find((step) => ASCENDANTS.has(step.reading?.name ?? "") || step.reason);
  return read?.state ?? null;
}

/** @param {string} name */
function field(name) {
  const value = element("span", { class: "reading" });
  const to = element("span", { class: "to" });
  const more = element("span", { class: "more" });
  const group = element("div", {}, element("dt", {}, name), element("dd", {}, value, " ", to, " ", more));
  return {
    group,
    /** @param {string} text @param {string | null} [readsTo] @param {string} [extra] */
    say(text, readsTo = null, extra = "") {
      value.textContent = text;
      to.textContent = readsTo ? `to ${readsTo}` : "";
      more.textContent = extra;
    },
  };
}
