import * as desk from "./desk.js";
import { element, labelled } from "./element.js";
import { help } from "./help.js";
import { createLeaf } from "./leaf.js";
import { createOwn } from "./own.js";
import { fileName, save } from "./save.js";
import * as shares from "./shares.js";
import { movable, table } from "./table.js";
import { sentence, toMinute, zodiacal } from "./words.js";

/** @typedef {import("./answers.js").ReckonAnswer} Reckoned */
/** @typedef {import("./answers.js").SheetStepAnswer} SheetStep */

/** What one may have found on a sheet of one's own. */
const FOUND = [
  ["sidereal-time", "Local sidereal time"], ["midheaven", "Midheaven"], ["XI", "Cusp XI"], ["XII", "Cusp XII"],
  ["ascendant", "Ascendant"], ["II", "Cusp II"], ["III", "Cusp III"],
  ["sun", "Sun"], ["moon", "Moon"], ["mercury", "Mercury"], ["venus", "Venus"], ["mars", "Mars"],
  ["jupiter", "Jupiter"], ["saturn", "Saturn"], ["fortune", "Lot of Fortune"],
].map(([name, words]) => /** @type {[string, string]} */ ([name, words]));

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
    const inputs = new Map(FOUND.map(([name]) => [name, element("input", {
      id: `pen-own-${name}`, type: "text", autocomplete: "off", spellcheck: "false", size: "16",
    })]));
    const own = createOwn("pen-own-verdict");
    const ownFault = element("p", { class: "fault", role: "alert" });
    const mine = element("form", { novalidate: true },
      element("div", { class: "fields" }, ...FOUND.map(([name, words]) => labelled(words, /** @type {HTMLInputElement} */ (inputs.get(name))))),
      element("p", { class: "row" }, element("button", { type: "submit", id: "pen-correct" }, "Correct it")),
      ownFault, own.panel);

    /** The case as it is worked with the pen. */
    function reckoned() {
      const { when, at, zone, clock, calendar, which, houses, without } = store.case;
      return {
        when, at, zone, clock, calendar, which, houses, without,
        hour: hour.value, second_difference: bend.checked,
      };
    }

    form.addEventListener("submit", async (event) => {
      event.preventDefault();
      const mine = ++asked;
      fault.textContent = "";
      const { with: brass, by, sun, plates } = store.case;
      const worked = reckoned();
      try {
        const answer = await desk.reckon({ ...worked, with: brass, by, sun, plates });
        if (mine !== asked) return;
        found.replaceChildren(sheet(answer), prints(worked), compared(answer), whys(answer), ...roads(answer));
      } catch (error) {
        if (mine !== asked) return;
        found.replaceChildren();
        fault.textContent = sentence(error);
      }
      found.dataset.answers = String(mine);
    });
    mine.addEventListener("submit", async (event) => {
      event.preventDefault();
      ownFault.textContent = "";
      /** @type {Record<string, string>} */
      const read = {};
      for (const [name, input] of inputs) if (input.value.trim()) read[name] = input.value;
      try {
        if (Object.keys(read).length === 0) throw new desk.Refused({ message: "nothing is written; the ascendant, such as 11°30′ Pisces, would do" });
        const { own: judged } = await desk.reckon({ ...reckoned(), read });
        const marks = own.show(judged, read);
        for (const [name, input] of inputs) {
          const mark = marks.get(name);
          input.setAttribute("aria-invalid", String(mark !== undefined && !mark.right));
        }
      } catch (error) {
        own.show(null, {});
        ownFault.textContent = sentence(error);
      }
    });
    store.onAnswer(() => {
      asked += 1;
      fault.textContent = "";
      ownFault.textContent = "";
      own.show(null, {});
      found.replaceChildren();
    });
    body.append(
      form,
      found,
      element("details", { class: "pen-own" }, element("summary", {}, "What did you find yourself?"), mine),
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
    if (step) shown.replaceChildren(...stepParts(step, at));
  }

  open(0);
  return element("div", { class: "pen-sheet" },
    element("p", { class: "quiet" }, `Of the case above: ${toMinute(moment.clock_time)}, ${place.name}.`),
    element("div", { class: "pen-played" },
      list,
      element("div", {}, element("p", { class: "row" }, back, on), shown)));
}

/**
 * A step: what is done, the pages of the tables open where it takes from them, and the lines
 * it writes.
 * @param {SheetStep} step
 * @param {number} index
 */
function stepParts(step, index) {
  return [
    element("p", { class: "pen-instruction" }, `${index + 1}. ${step.instruction}`),
    ...step.opened.map(openPage),
    movable(table("What is written", ["", "", ""], step.lines.map(({ what, sign, figure }) => [what, sign, figure]))),
  ];
}

/**
 * A page of a table as it lies open: the rows that are taken from are lit, with those beside
 * them.
 * @param {import("./answers.js").OpenedAnswer} page
 */
function openPage({ title, argument, columns, rows }) {
  const page = table(title, [argument, ...columns], rows.map(({ row, cells }) => [row, ...cells]));
  page.classList.add("open-page");
  [...(page.tBodies[0]?.rows ?? [])].forEach((line, place) => {
    const lit = rows[place]?.lit ?? [];
    line.classList.toggle("lit", lit.includes(true));
    lit.forEach((is, column) => line.cells[column + 1]?.classList.toggle("taken", is));
  });
  return movable(page);
}

/**
 * The sheet on paper.
 * @param {desk.Reckoned} worked
 */
function prints(worked) {
  const name = `pen-${fileName(worked.when ?? "")}`;
  const fault = element("p", { class: "fault", role: "alert" });
  /** @type {(id: string, words: string, blank: boolean) => HTMLButtonElement} */
  const button = (id, words, blank) => element("button", {
    type: "button", id,
    onclick: async () => {
      fault.textContent = "";
      try {
        save(`${name}${blank ? "-blank" : ""}.pdf`, await desk.reckonSheet(worked, blank));
      } catch (error) {
        fault.textContent = sentence(error);
      }
    },
  }, words);
  return element("div", {},
    element("p", { class: "row" },
      button("pen-print", "The sheet to print", false),
      button("pen-print-blank", "A blank one, to work yourself", true)),
    fault);
}

/**
 * The three roads beside each other, and why any two of them differ.
 * @param {Reckoned} answer
 * @returns {HTMLElement[]}
 */
function roads({ roads: three }) {
  if (!three) return [];
  if (three.reason) return [element("p", { class: "quiet" }, three.reason)];
  /** @type {(deg: number | null) => string} */
  const said = (deg) => (deg === null ? "–" : zodiacal(deg));
  const heads = ["", "pen", `brass, ${three.instrument}`, "calculated"];
  const beside = table("Three roads to the same numbers", heads, three.numbers.map((one) => [
    one.what.replace(/^The /, ""), said(one.pen_deg), said(one.brass_deg), said(one.calculated_deg),
  ]));
  const between = three.numbers.slice(0, 2).flatMap(({ what, between: pairs }) => pairs.map((two) =>
    element("details", { class: "pen-account" },
      element("summary", {}, two.sentence),
      movable(shares.table(two, `${what}: ${two.one} and ${two.other}`)))));
  return [movable(beside), element("div", { class: "pen-why" }, ...between)];
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
