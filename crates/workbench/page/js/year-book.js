import { asking } from "./asking.js";
import * as desk from "./desk.js";
import { element, labelled } from "./element.js";
import { help } from "./help.js";
import { fileName, save } from "./save.js";

/** What goes into a calendar. */
const KINDS = ["lunation", "ingress", "station", "appearance", "eclipse", "clock"];

/**
 * The year's book for the case's place and instrument, to be printed, or for a calendar.
 * @param {import("./store.js").Store} store
 */
export function yearBook(store) {
  const year = element("input", { id: "book-year", type: "text", inputmode: "numeric", autocomplete: "off", size: "6", value: String(new Date().getFullYear() + 1) });
  const paper = element("select", { id: "book-paper" },
    element("option", { value: "a5" }, "A5"),
    element("option", { value: "a6" }, "A6, for the pocket"),
    element("option", { value: "a5-folded" }, "A5, two on A4, to fold"),
    element("option", { value: "a6-folded" }, "A6, two on A5, to fold"));
  return asking(store, {
    id: "book",
    title: "The year’s book",
    button: "Make it",
    fields: [labelled("Year", year), labelled("Paper", paper)],
    told: help(
      "What is in it?",
      "A booklet for this town and this instrument. For each month every day: its planet, the Sun’s degree as the calendar scale shows it and as it is, sunrise and sunset, the unequal hours, the equation of time, the Moon; and what happens, with a star to find by each evening.",
    ),
    async ask(moment) {
      const text = year.value.trim();
      if (!/^\d{4}$/.test(text)) {
        throw new desk.Refused({ message: `“${text}” is no year; 2027 would do` });
      }
      const asked = { year: Number(text), at: moment.at, zone: moment.zone ?? null, with: moment.with ?? null };
      const name = `${text}-${fileName(moment.at)}`;
      save(`${name}.pdf`, await desk.yearBook(asked, paper.value));
      return [
        element("p", {}, `The book is saved as ${name}.pdf.`),
        element("p", { class: "row" }, element("button", {
          type: "button", id: "book-calendar",
          onclick: async () => save(`${name}.ics`, await desk.yearCalendar(asked, KINDS)),
        }, "Its events into a calendar")),
      ];
    },
  });
}
