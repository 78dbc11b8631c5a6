import { asking } from "./asking.js";
import * as desk from "./desk.js";
import { element, labelled } from "./element.js";
import { help } from "./help.js";
import { fileName, save } from "./save.js";
import { movable, table } from "./table.js";

/** More rows than these are in the files. */
const SHOWN = 40;

/**
 * A time that is sought, at the case's place: what must hold and what had rather.
 * @param {import("./store.js").Store} store
 */
export function seeking(store) {
  const year = new Date().getFullYear();
  const from = element("input", { id: "seek-from", type: "text", autocomplete: "off", size: "11", value: `${year}-01-01` });
  const to = element("input", { id: "seek-to", type: "text", autocomplete: "off", size: "11", value: `${year}-12-31` });
  const must = wishes("seek-must", "Moon waxing\nhour of Venus\nclock from 9:00 to 18:00");
  const rather = wishes("seek-rather", "Jupiter culminating\nMoon applying to Jupiter");
  const lasting = element("input", { id: "seek-lasting", type: "text", inputmode: "decimal", autocomplete: "off", size: "4", value: "1" });
  return asking(store, {
    id: "seek",
    title: "A time is sought",
    button: "Seek it",
    fields: [
      labelled("From", from),
      labelled("To", to),
      labelled("No shorter than, in minutes", lasting),
      labelled("What must hold, a line each", must),
      labelled("What had rather hold", rather),
    ],
    told: forms(),
    async ask(moment) {
      const asked = {
        from: from.value.trim(),
        to: to.value.trim(),
        at: moment.at,
        zone: moment.zone ?? null,
        clock: moment.clock ?? null,
        calendar: moment.calendar ?? null,
        houses: moment.houses ?? null,
        must: lines(must),
        rather: lines(rather),
        lasting_min: Number(lasting.value.trim().replace(",", ".") || "1"),
      };
      const answer = await desk.choose(asked);
      if (answer.times.length === 0) return [element("p", {}, `${answer.summary}.`), understood(answer)];
      const drawing = element("figure", { class: "drawn", tabindex: "0", "aria-label": "The times in the course of the weeks" });
      drawing.innerHTML = answer.svg;
      const more = answer.times.length - SHOWN;
      return [
        element("p", {}, `${answer.summary}.`),
        drawing,
        movable(table(
          more > 0 ? `The first ${SHOWN} of ${answer.times.length}` : "The times",
          ["from", "to", "holds too", "does not"],
          answer.times.slice(0, SHOWN).map((time) => [time.from, time.until, time.holds.join(", ") || "–", time.lacks.join(", ") || "–"]),
        )),
        element("p", { class: "row" },
          element("button", {
            type: "button", id: "seek-calendar",
            onclick: async () => save(`${fileName(answer.place.name)}-times.ics`, await desk.chooseCalendar(asked)),
          }, "Into a calendar"),
          element("button", {
            type: "button", id: "seek-take",
            onclick: () => store.ask({ when: answer.times[0]?.from ?? asked.from }),
          }, "Set the first on the instrument")),
        understood(answer),
      ];
    },
  });
}

/**
 * @param {string} id
 * @param {string} example
 */
const wishes = (id, example) =>
  element("textarea", { id, rows: "3", cols: "34", autocomplete: "off", spellcheck: "false", placeholder: example });

/** @param {HTMLTextAreaElement} of */
const lines = (of) => of.value.split("\n").map((line) => line.trim()).filter((line) => line !== "");

/** @param {import("./types.js").Chosen} answer */
const understood = (answer) =>
  element("details", { class: "further" },
    element("summary", {}, "What was looked for"),
    table("As each wish was taken", ["", ""], answer.wishes.map(({ text, means, must }) => [must ? text : `${text} (rather)`, means])));

/** What can be wished, asked for once it is opened. */
function forms() {
  const told = help(
    "What can be wished?",
    "One wish on a line, in plain words. A “not” turns it round: Moon not void of course. Every beginning and end is found, to the second; what holds is said, and never what it means.",
  );
  const open = async () => {
    if (told.querySelector("table")) return;
    told.append(table("What can be wished", ["", ""], (await desk.chooseForms()).map(({ example, asks }) => [example, asks])));
  };
  told.addEventListener("toggle", open);
  return told;
}
