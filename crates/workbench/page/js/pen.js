import * as desk from "./desk.js";
import { element, labelled } from "./element.js";
import { help } from "./help.js";
import { createLeaf } from "./leaf.js";
import * as shares from "./shares.js";
import { movable, table } from "./table.js";
import { sentence, toMinute, zodiacal } from "./words.js";

/** @typedef {import("./answers.js").ReckonAnswer} Reckoned */
/** @typedef {import("./answers.js").SheetStepAnswer} SheetStep */

/**
 * The case worked with the pen: the sheet's steps one after another, with the cells of the
 * tables that each takes, and why what is found differs from calculation.
 * @param {import("./store.js").Store} store
 */
export function createPen(store) {
  return createLeaf("pen", (body) => {
    const hour = element("select", { id: "pen-hour" },
      element("option", { value: "noon" }, "noon"),
      element("option", { value: "midnight" }, "midnight"));
    const bend = element("input", { id: "pen-second-difference", type: "checkbox" });
    const fault = element("p", { class: "fault", role: "alert" });
    const found = element("div", { id: "pen-found", "aria-live": "polite" });
    let asked = 0;
    const form = element("form", { novalidate: true },
      element("div", { class: "fields" },
        labelled("The ephemeris has its days at", hour),
        element("label", {}, bend, " the Moon with her second difference")),
      element("p", { class: "row" }, element("button", { type: "submit", id: "pen-ask" }, "Work it with the pen")),
      fault);
    form.addEventListener("submit", async (event) => {
      event.preventDefault();
      const mine = ++asked;
      fault.textContent = "";
      const { when, at, zone, clock, calendar, which, houses, without } = store.case;
      try {
        const answer = await desk.reckon({
          when, at, zone, clock, calendar, which, houses, without,
          hour: hour.value, second_difference: bend.checked,
        });
        if (mine !== asked) return;
        found.replaceChildren(sheet(answer), compared(answer), whys(answer));
      } catch (error) {
        if (mine !== asked) return;
        found.replaceChildren();
        fault.textContent = sentence(error);
      }
      found.dataset.answers = String(mine);
    });
    store.onAnswer(() => {
      asked += 1;
      fault.textContent = "";
      found.replaceChildren();
    });
    body.append(
      form,
      found,
      help(
        "What is worked with the pen?",
        "The whole figure from printed tables, as on a sheet of paper: the clock to the local sidereal time, the cusps between two rows of a table of houses, the planets between two days of an ephemeris by logarithms. Every number comes from a cell that is printed; nothing else goes in.",
        "On the command line `almuri reckon` prints the same sheet, and `almuri tables` the tables.",
      ));
  });
}

/**
 * The steps, one open at a time.
 * @param {Reckoned} answer
 */
function sheet({ working, moment, place }) {
  const { steps } = working;
  const shown = element("div", { id: "pen-step", class: "pen-step" });
  const choices = steps.map(({ instruction }, index) => element("button", {
    type: "button", onclick: () => open(index),
  }, instruction));
  const list = element("ol", { class: "pen-steps" }, ...choices.map((choice) => element("li", {}, choice)));
  const back = element("button", { type: "button", id: "pen-back", onclick: () => open(at - 1) }, "Back");
  const on = element("button", { type: "button", id: "pen-on", onclick: () => open(at + 1) }, "Onward");
  let at = 0;

  /** @param {number} index */
  function open(index) {
    at = Math.min(Math.max(index, 0), steps.length - 1);
    choices.forEach((choice, place) => {
      if (place === at) choice.setAttribute("aria-current", "step");
      else choice.removeAttribute("aria-current");
    });
    back.disabled = at === 0;
    on.disabled = at === steps.length - 1;
    // The list is moved, and the page stays where it is.
    const choice = choices[at];
    if (choice) list.scrollTop = choice.offsetTop - list.clientHeight / 3;
    const step = steps[at];
    if (step) shown.replaceChildren(...stepParts(step, at, working.tables));
  }

  open(0);
  return element("div", { class: "pen-sheet" },
    element("p", { class: "quiet" }, `Of the case above: ${toMinute(moment.clock_time)}, ${place.name}.`),
    element("div", { class: "pen-played" },
      list,
      element("div", {}, element("p", { class: "row" }, back, on), shown)));
}

/**
 * A step: what is done, the rows of the tables it looks at, and the lines it writes.
 * @param {SheetStep} step
 * @param {number} index
 * @param {import("./answers.js").SheetTableAnswer[]} tables
 */
function stepParts(step, index, tables) {
  const names = [...new Set(step.takes.map((taken) => taken.table))];
  const opened = names.map((name) => {
    const title = tables.find((one) => one.name === name)?.title ?? name;
    const cells = step.takes.filter((taken) => taken.table === name);
    const lit = table(title, ["row", "column", "printed"], cells.map(({ row, column, cell }) => [row, column, cell]));
    lit.classList.add("lit-rows");
    return movable(lit);
  });
  return [
    element("p", { class: "pen-instruction" }, `${index + 1}. ${step.instruction}`),
    ...opened,
    movable(table("What is written", ["", "", ""], step.lines.map(({ what, sign, figure }) => [what, sign, figure]))),
  ];
}

/** @param {Reckoned} answer */
function compared({ why, within }) {
  /** @type {(deg: number | null) => string} */
  const said = (deg) => (deg === null ? "–" : zodiacal(deg));
  /** @type {(deg: number) => string} */
  const minutes = (deg) => `${(Math.round(deg * 600) / 10 + 0).toFixed(1)}′`.replace("-", "−");
  /** @type {(name: string, one: import("./answers.js").WhyOne, within: number | undefined) => string[]} */
  const row = (name, one, within_deg) => [
    name, said(one.read_deg), said(one.exact_deg),
    one.difference_deg === null ? "–" : minutes(one.difference_deg), minutes(within_deg ?? 0),
  ];
  return movable(table("What is found, and what is calculated", ["", "found", "calculated", "apart", "within"], [
    row("midheaven", why.midheaven, within.cusps_deg[9]),
    row("ascendant", why.ascendant, within.cusps_deg[0]),
    ...why.bodies.map((one, index) => row(one.name, one, within.bodies_deg[index])),
    row("lot of Fortune", why.fortune, within.fortune_deg),
  ]));
}

/** @param {Reckoned} answer */
function whys({ why }) {
  const moon = why.bodies.find(({ name }) => name === "Moon");
  const told = [["The ascendant", why.ascendant], ["The midheaven", why.midheaven], ...(moon ? [["The Moon", moon]] : [])];
  return element("div", { class: "pen-why" }, ...told.map(([name, one]) => {
    const account = /** @type {import("./answers.js").WhyOne} */ (one);
    return element("details", { class: "pen-account" },
      element("summary", {}, account.sentence ?? account.reason ?? ""),
      account.sentence === null ? null : movable(shares.table(account, String(name))));
  }));
}
