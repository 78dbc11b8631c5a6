import * as desk from "./desk.js";
import { byId, element } from "./element.js";
import { createFigureLeaves } from "./figure-leaves.js";
import { help } from "./help.js";
import { createLeaf } from "./leaf.js";
import { keepRules, keptRules } from "./rules.js";
import { fileName, save } from "./save.js";
import { movable, table } from "./table.js";
import {
  capital, clockTime, degrees, fineness, latitude, named, numeral, ordinal, plain, sentence, signed, toMinute, zodiacal,
} from "./words.js";

/** @typedef {import("./types.js").Finished} Finished */
/** @typedef {import("./types.js").Figure} Figure */
/** @typedef {import("./types.js").Rules} Rules */

/**
 * The complete figure: drawn, and in tables, by the rules that are chosen.
 * @param {import("./store.js").Store} store
 * @param {import("./types.js").Start} start
 */
export function createFigure(store, start) {
  const drawing = element("figure", { class: "drawn", tabindex: "0", "aria-label": "The figure, drawn" });
  const fault = element("p", { class: "fault", role: "alert" });
  const words = element("div", { class: "figure-words" });
  const tables = element("div", { class: "figure-tables" });
  const sheet = element("div", { class: "figure-sheet" }, element("div", { class: "figure-drawn" }, drawing, words), tables);
  const filling = element("select", { id: "figure-filled" }, ...start.filled.map((name) =>
    element("option", { value: name }, FILLED[name] ?? plain(name))));
  let rules = keptRules(start);
  let form = start.settings.figures ?? start.forms[0] ?? "";
  /** What it is filled in with, once it was chosen. @type {string | null} */
  let chosen = null;
  const leaves = createFigureLeaves(start, async (name) =>
    (await desk.figure(store.case, { ...rules, leaves: [name] })).leaves);
  const narrow = matchMedia("(max-width: 719.98px)");
  let asked = 0;
  let stale = true;
  const ruleSet = element("div", { class: "fields" }, ...ruleFields());
  const ruleSheet = element("details", { class: "further figure-rules" },
    element("summary", {}, "By which rules"), ruleSet);

  const leaf = createLeaf("figure", (body) => body.append(
    controls(),
    fault,
    sheet,
    leaves.element,
    ruleSheet,
    help(
      "What is drawn, and from what?",
      "The ecliptic as the instrument has it, turned as it was set, with the horizon, the meridian and, dotted, the lines by which the houses are divided. Each body stands where it is in the sky, tied to its degree on the ring, with a leader to its row; what is below the horizon lies in a faint tone.",
      "It is filled in with the calculated cusps, with those read on your instrument, with both beside each other, or left blank. The tables show what the cusps read on your instrument make of the same sky; where the two disagree it is said, and also what a few minutes more or less on the clock would change.",
      "Tables of dignities and orbs differ from book to book. Choose yours under “By which rules”; each is named with its source. Nothing here interprets.",
    )), () => { if (stale) ask(); });

  store.onAnswer(() => {
    stale = true;
    if (leaf.isOpen) ask();
  });
  narrow.addEventListener("change", () => {
    stale = true;
    if (leaf.isOpen) ask();
  });

  /** Who has written what was read would not have a drawing that leaves it out. */
  const filled = () => chosen ?? (isRead(store.case) ? "both" : "calculated");

  /** On a narrow page the ledger stands beneath, in a form that has one. */
  const fitting = () => (narrow.matches && start.forms.includes(`${form}-narrow`) ? `${form}-narrow` : form);

  async function ask() {
    stale = false;
    const mine = ++asked;
    filling.value = filled();
    try {
      const [finished, { svg }] = await Promise.all([
        desk.figure(store.case, rules), desk.drawn(store.case, rules, fitting(), filled())]);
      if (mine !== asked) return;
      fault.textContent = "";
      drawing.innerHTML = svg;
      sheet.dataset.form = fitting();
      words.replaceChildren(...wordsOf(finished));
      tables.replaceChildren(...tablesOf(finished));
      leaves.again();
    } catch (error) {
      if (mine !== asked) return;
      drawing.replaceChildren();
      words.replaceChildren();
      tables.replaceChildren();
      fault.textContent = sentence(error);
    }
    byId("figure").dataset.shown = String(mine);
  }

  function controls() {
    const shape = element("select", { id: "figure-form" }, ...start.forms.map((name) =>
      element("option", { value: name, selected: name === form }, FORMS[name] ?? plain(name))));
    shape.addEventListener("change", () => {
      form = shape.value;
      ask();
    });
    filling.addEventListener("change", () => {
      chosen = filling.value;
      ask();
    });
    const outer = element("input", { type: "checkbox", id: "figure-outer", checked: Boolean(rules.outer) });
    outer.addEventListener("change", () => change({ outer: outer.checked }));
    return element("p", { class: "row" },
      element("label", { for: "figure-form" }, "Drawn"), shape,
      element("label", { for: "figure-filled" }, "filled in with"), filling,
      element("label", { class: "tick" }, outer, " with Uranus, Neptune and Pluto"),
      element("span", { class: "row", role: "group", "aria-label": "Save the drawing" }, "Save it as",
        ...["svg", "pdf", "png"].map((format) => element("button", {
          type: "button", id: `save-${format}`, onclick: () => saveAs(format),
        }, format.toUpperCase()))),
      element("button", { type: "button", id: "print-figure", onclick: () => printed() }, "Print it"));
  }

  /** Prints the drawing and its words alone. */
  function printed() {
    const root = document.documentElement;
    root.classList.add("printing-figure");
    addEventListener("afterprint", () => root.classList.remove("printing-figure"), { once: true });
    print();
  }

  /** @param {string} format */
  async function saveAs(format) {
    try {
      const content = await desk.figureFile(store.case, rules, form, filled(), format);
      const answer = store.answer;
      const what = filled() === "calculated" ? "" : filled();
      const name = answer ? `${answer.place.name} ${toMinute(answer.moment.clock_time)} ${what}` : "figure";
      save(`${fileName(name)}.${format}`, content);
    } catch (error) {
      fault.textContent = sentence(error);
    }
  }

  function ruleFields() {
    return start.rules.map(({ rule, usual, choices, by_author }) => {
      const id = `rule-${rule}`;
      const taken = rules[rule] ?? by_author[String(rules["author"])] ?? usual;
      const select = element("select", { id }, ...choices.map((name) =>
        element("option", { value: name, selected: taken === name }, plain(name))));
      select.addEventListener("change", () => (rule === "author"
        ? choose(select.value)
        : change({ [rule]: select.value })));
      return element("div", { class: "field" }, element("label", { for: id }, capital(plain(rule))), select);
    });
  }

  /**
   * An author's rules take the place of those chosen one by one.
   * @param {string} author
   */
  function choose(author) {
    rules = Object.fromEntries(Object.entries(rules).filter(([rule]) =>
      !start.rules.some((one) => one.rule === rule && Object.keys(one.by_author).length > 0)));
    change({ author });
    ruleSet.replaceChildren(...ruleFields());
    byId("rule-author").focus();
  }

  /** @param {Rules} changed */
  function change(changed) {
    rules = { ...rules, ...changed };
    keepRules(rules);
    // What hangs on the verdict counts houses by the same border.
    if ("border" in changed) store.ask({});
    else ask();
  }

  return leaf;
}

/** @type {Record<string, string>} */
const FORMS = {
  brass: "as it stands on the brass",
  "brass-narrow": "on the brass, the ledger beneath",
  square: "square, as in the old books",
  round: "a plain circle",
  "round-narrow": "a plain circle, the ledger beneath",
  "as-instrument": "a plain circle, lying as the instrument",
  "as-instrument-narrow": "lying as the instrument, the ledger beneath",
};

/** What was set, and is no reading of the figure. */
const SET = new Set(["local-time", "sun-degree"]);

/** @param {import("./types.js").Case} asked */
const isRead = ({ read }) => Object.keys(read).some((what) => !SET.has(what));

/** @type {Record<string, string>} */
const FILLED = {
  calculated: "the calculated cusps",
  "as-read": "the cusps as read",
  both: "both, beside each other",
  blank: "nothing, by hand",
};

/** @param {Finished} finished */
function tablesOf({ exact, read, rules, mixture }) {
  const house = (/** @type {number | null | undefined} */ number) => (number ? numeral(number) : "–");
  const beside = read ? ["house", "as read"] : ["house"];
  const bodies = exact.bodies.map((body, index) => [
    body.name,
    zodiacal(body.longitude_deg),
    house(body.house),
    ...(read ? [house(read.bodies[index]?.house)] : []),
    latitude(body.latitude_deg),
    `${signed(body.speed_deg_per_day)}`,
    [
      body.retrograde ? "retrograde" : body.swift === null ? "" : body.swift ? "swift" : "slow",
      body.under_sun ?? "",
      body.up ? "above the horizon" : "below",
    ].filter(Boolean).join(", "),
  ]);
  const nodes = exact.nodes.map((node, index) => [
    capital(node.name), zodiacal(node.longitude_deg), house(node.house),
    ...(read ? [house(read.nodes[index]?.house)] : []), "", "", "",
  ]);
  const all = [
    movable(table("Planets and nodes", ["", "place", ...beside, "latitude", "in a day", ""], [...bodies, ...nodes])),
    movable(table("Essential dignities", ["", "ruler", "exaltation", "triplicity", "term", "face", "points", "has"],
      exact.bodies.flatMap((body) => (body.dignities ? [[
        body.name, body.dignities.ruler, body.dignities.exalted ?? "–", body.dignities.triplicity.join(" "),
        body.dignities.term, body.dignities.face, points(body.dignities.score),
        body.dignities.has.join(", ") || "peregrine",
      ]] : [])))),
    ...receptionsOf(exact),
    table("Lots", ["", "calculated", "", ...(read ? ["as read", ""] : [])],
      exact.lots.map((lot, index) => [
        lot.name, zodiacal(lot.longitude_deg), house(lot.house),
        ...(read ? [zodiacal(read.lots[index]?.longitude_deg ?? null), house(read.lots[index]?.house)] : []),
      ])),
    table("Aspects by degree", ["", "", "", "from exact", "orb"],
      exact.aspects.map((one) => [
        one.faster, one.kind, `${one.slower}, ${one.applying ? "applying" : "separating"}${one.by_sign ? "" : ", not by sign"}`,
        fineness(Math.abs(one.away_deg)), fineness(one.limit_deg),
      ])),
    table("Antiscia and oblique ascensions", ["", "antiscion", "contra-antiscion", "oblique ascension"],
      exact.bodies.map((body) => [
        body.name, zodiacal(body.antiscion_deg), zodiacal(body.contra_antiscion_deg),
        body.oblique_ascension_deg === null ? "never" : degrees(body.oblique_ascension_deg),
      ])),
  ];
  if (exact.stars.length > 0) {
    all.push(table("Stars that touch them", ["", "place", "near", "within"],
      exact.stars.map((star) => [star.star, zodiacal(star.longitude_deg), capital(star.near), fineness(Math.abs(star.away_deg))])));
  }
  return [
    ...all,
    element("details", { class: "further sources" },
      element("summary", {}, "Where the rules are in print"),
      table("Rules and their sources", ["", "choice", "source"], rules.map((one) => [one.rule, one.choice, one.source])),
      ...mixture.map((one) => element("p", {}, one))),
  ];
}

/**
 * Mutual receptions, each pair once, and others between planets in aspect.
 * @param {Figure} exact
 */
function receptionsOf({ receptions, bodies }) {
  const order = (/** @type {string} */ name) => bodies.findIndex((body) => body.name === name);
  const shown = receptions.filter((one) => (one.in_return ? order(one.guest) < order(one.host) : one.aspect));
  if (shown.length === 0) return [];
  return [table("Receptions, mutual or in aspect", ["", "by", "in return by", "aspect"], shown.map((one) => [
    `${one.guest}, received by ${one.host}`, one.by, one.in_return ?? "–", one.aspect ?? "–",
  ]))];
}

/**
 * What is said of the whole figure.
 * @param {Finished} finished
 */
function wordsOf({ exact, read, reason, changes, close }) {
  const sentences = [
    exact.hour && `Hour of ${named(exact.hour.ruler)}, the ${ordinal(exact.hour.number)} of the ${exact.hour.of}, ${clockTime(exact.hour.begins)} to ${clockTime(exact.hour.ends)}, ${exact.hour.minutes.toFixed(1)} minutes long; the Sun between ${exact.hour.between.map(clockTime).join(" and ")}.`,
    exact.lunation && `${capital(exact.lunation.phase)} Moon before it in ${zodiacal(exact.lunation.longitude_deg)}, ${toMinute(exact.lunation.at)}.`,
    read ? (changes.length === 0 ? "The reading changes none of it." : null) : reason && `${capital(reason)}.`,
    ...(close.length === 0 ? ["A few minutes would change none of it."] : []),
  ].filter((one) => one !== null && one !== "");
  const notes = [...changes, ...close.map((one) => one.sentence)];
  return [
    ...sentences.map((one) => element("p", {}, one)),
    ...(notes.length > 0
      ? [element("ul", { class: "near-calls" }, ...notes.map((one) => element("li", {}, one)))]
      : []),
  ];
}

/** @param {number} score */
const points = (score) => (score < 0 ? `−${-score}` : `+${score}`);
