import { asking } from "./asking.js";
import * as desk from "./desk.js";
import { element, labelled } from "./element.js";
import { help } from "./help.js";
import { createLeaf } from "./leaf.js";
import { placeField } from "./place-field.js";
import { outerShown } from "./rules.js";
import { seeking } from "./seeking.js";
import { stripOf } from "./strip.js";
import { movable, table } from "./table.js";
import { capital, degrees, toMinute, zodiacal } from "./words.js";
import { yearBook } from "./year-book.js";

/** @typedef {import("./store.js").Store} Store */

/**
 * Other times of a case: an uncertain one looked through, the Sun's return in a year,
 * when in a year a degree rises, a time that is sought, and the year's book.
 * @param {Store} store
 */
export function createTimes(store) {
  return createLeaf("times", (body) => {
    const of = element("p", { class: "quiet of" });
    const say = () => {
      const { answer } = store;
      of.textContent = answer
        ? `Of the case above: ${toMinute(answer.moment.clock_time)}, ${answer.place.name}.`
        : "";
    };
    store.onAnswer(say);
    say();
    body.append(of, element("div", { class: "times" }, uncertain(store), revolution(store), rising(store), seeking(store), yearBook(store)));
  });
}

/** @param {Store} store */
function uncertain(store) {
  const until = element("input", { id: "until", type: "text", autocomplete: "off", placeholder: "10:00", size: "7" });
  return asking(store, {
    id: "uncertain",
    title: "An uncertain time",
    button: "Look through it",
    fields: [labelled("From the case’s time until", until)],
    told: help(
      "What is looked for?",
      "A birth “about half past nine” has no one ascendant. The time from the case’s to the one given is looked through minute by minute: how far ascendant and midheaven travel, what changes in it and when, and what holds whatever the true time was.",
      "Beneath stand two rules by which old books put a rough time right from the figure itself: what each says of the middle of the span, and no more. They seldom agree.",
      "A time that would come before the case’s is taken on the next day.",
    ),
    async ask(moment) {
      const answer = await desk.during({ moment, until: until.value.trim(), outer: outerShown() });
      const dated = new Set(answer.changes.map(({ at }) => at.split(" ")[0])).size > 1;
      return [
        element("p", {}, ...answer.travels.flatMap(({ what, text }) => [`${capital(what)} from ${text}. `])),
        stripOf(answer),
        answer.changes.length === 0
          ? element("p", {}, "Nothing changes in it.")
          : table("What changes when", ["", "", "from", "to"], answer.changes.map(({ at, what, from, to }) => [
            dated ? at : at.split(" ").at(-1) ?? at, what, from, to,
          ])),
        element("details", { class: "further" },
          element("summary", {}, "What holds throughout"),
          table("Whatever the true time was", ["", ""], answer.holds.map(({ what, value }) => [capital(what), value]))),
        answer.rules.length === 0 ? null : element("div", { class: "birth-rules" },
          element("h4", {}, "What the old rules make of the middle of it"),
          ...answer.rules.map((rule) => element("div", {},
            element("p", {}, element("b", {}, `${rule.title}. `), rule.says.join(" ")),
            element("p", { class: "more" }, rule.source),
            element("p", { class: "row" }, element("button", {
              type: "button",
              onclick: () => store.ask({ when: rule.clock_time, which: null }),
            }, `Cast for ${toMinute(rule.clock_time)}`))))),
      ];
    },
  });
}

/** @param {Store} store */
function revolution(store) {
  const year = element("input", { id: "revolution-year", type: "text", inputmode: "numeric", autocomplete: "off", size: "6", value: String(new Date().getFullYear()) });
  let elsewhere = "";
  const place = placeField("revolution-place", "Cast at, if elsewhere", (name) => { elsewhere = name; });
  return asking(store, {
    id: "revolution",
    title: "The revolution of a year",
    button: "Find it",
    fields: [labelled("Year", year), place.group],
    told: help(
      "What is a revolution?",
      "The moment in another year at which the Sun is back at the degree, minute and second where the case has it, and the figure for that moment. With the rete set for the case, it is found on the limb by turning about 87° for every year.",
    ),
    async ask(moment) {
      const text = year.value.trim();
      if (!/^[-−]?\d+$/.test(text)) {
        throw new desk.Refused({ message: `“${text}” is no year; 2026 would do` });
      }
      const at = elsewhere.trim() || null;
      const answer = await desk.revolution({ moment, year: Number(text.replace("−", "-")), at });
      const { moment: when, place: where, figure } = answer.cast;
      const each = answer.limb_turn_a_year_deg;
      return [
        element("p", {}, `The Sun is back at ${zodiacal(answer.sun_deg)} on `,
          element("b", {}, toMinute(when.clock_time)),
          `, ${when.zone ? `by the clock of ${when.zone}` : `by a clock at ${when.clock}`}, at ${where.name}.`),
        ...(answer.note === null ? [] : [element("p", {}, answer.note)]),
        element("p", {}, `Ascendant ${zodiacal(figure.ascendant_deg)}, midheaven ${zodiacal(figure.midheaven_deg)}, calculated.`),
        element("p", { class: "quiet" }, `On the limb the rete has turned by ${degrees(answer.limb_turn_deg)}${each === null ? "" : `: ${degrees(each)} for each year`}.`),
        element("p", { class: "row" }, element("button", {
          type: "button", id: "take-revolution",
          onclick: () => store.ask({
            // The Sun goes 0.04″ in a second.
            when: when.given.replace(/\.\d+$/, ""),
            at: at ?? moment.at,
            zone: at ? null : moment.zone ?? null,
            clock: when.clock === "zone" ? null : when.clock,
            calendar: when.calendar,
            which: null,
          }),
        }, "Set it on the instrument")),
      ];
    },
  });
}

/** @param {Store} store */
function rising(store) {
  const degree = element("input", { id: "rising-degree", type: "text", autocomplete: "off", placeholder: "11 Pisces", size: "12" });
  return asking(store, {
    id: "rising",
    title: "When a degree rises",
    button: "Through the year",
    fields: [labelled("Degree on the eastern horizon", degree)],
    told: help(
      "How is it found?",
      "The rete is set with this degree on the eastern horizon and left there. It stands so once every day; laid over each day’s Sun the rule tells at what hour. From the case’s date on, every tenth day.",
    ),
    async ask(moment) {
      const answer = await desk.moments({ moment, ascendant: degree.value.trim() });
      return [movable(table(
        `${degree.value.trim()} on the eastern horizon, with ${answer.instrument.called}`,
        ["", "by the Sun", "by the clock", "calculated, by the Sun", "calculated, by the clock"],
        answer.days.map(({ date, rising: { text, clock, clock_date, exact_text, exact_clock } }) => [
          date, text ?? "–", clock ? `${clock_date} ${clock}` : "–", exact_text ?? "–", exact_clock ? toMinute(exact_clock) : "–",
        ]),
      ))];
    },
  });
}
