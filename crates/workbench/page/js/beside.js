import { createAwake } from "./awake.js";
import { isDemonstration } from "./demonstration.js";
import { byId, element } from "./element.js";
import { write } from "./fragment.js";
import { createHere } from "./here.js";
import { GLASSES } from "./lens.js";
import { createOwn } from "./own.js";
import { KINDS, createPad } from "./pad.js";
import { createSaid } from "./said.js";
import { sumLines } from "./set-brass.js";
import { procedure } from "./store.js";
import { onSurroundings, surroundings, turnRedLight } from "./surroundings.js";
import { swipe } from "./swipe.js";
import { capital, numeral, sentence, toMinute, zodiacal } from "./words.js";

/** @typedef {import("./types.js").Step} Step */

/** Which sentence stands there, for a browser that forgets a page in a pocket. */
const KEY = "almuri-beside";

/** Sentences of more letters than these are written smaller, and smaller still. */
const LONG = 150;
const LONGEST = 260;

/** What stands in the scene: the beginning, the instrument, the sum, the pad, or the end. */
const SCENES = /** @type {const} */ (["start", "instrument", "sum", "pad", "end"]);

/**
 * Beside the brass: the working on a phone, one sentence at a time. The instrument stands in
 * its scene, the sentence beneath it in a place that never changes, and what is pressed at
 * the thumb. Between a beginning, where one sees what to set, and an end, where one sees what
 * one read, lie the sentences, from 1.
 * @param {object} page
 * @param {import("./store.js").Store} page.store
 * @param {ReturnType<typeof import("./working.js").createWorking>} page.working
 * @param {import("./operation.js").Operation} page.operation
 * @param {import("./stage.js").Stage} page.stage
 * @param {ReturnType<typeof import("./lens.js").createLens>} page.lens
 * @param {import("./chapter.js").Chapter} page.chapter
 */
export function createBeside({ store, working, operation, stage, lens, chapter }) {
  const root = document.documentElement;
  const place = byId("beside");
  const opener = byId("open-beside");
  const instrument = byId("stage");
  const home = byId("at-hand");
  const said = createSaid(stage);
  const pad = createPad();
  const own = createOwn("beside-own");
  const here = createHere("beside-here", store);

  let open = false;
  let at = 0;
  /** @type {typeof SCENES[number]} */
  let scene = "start";
  /** @type {Step[]} */
  let shown = [];
  let scrolled = 0;
  /** The address's fragment when it was opened. */
  let entered = "";

  const press = (/** @type {string} */ id, /** @type {string} */ text, /** @type {() => void} */ onclick) =>
    element("button", { type: "button", id: `beside-${id}`, onclick }, text);
  const leave = press("leave", "Leave", () => history.back());
  const count = element("p", { class: "beside-count" });
  const theSum = press("sum", "The sum", () => go(at, scene === "sum" ? restOf(at) : "sum"));
  const red = press("red", "Red light", turnRedLight);
  const back = press("back", "", () => (scene === "pad" ? go(at) : go(at - 1)));
  const read = press("read", "", openPad);
  const next = press("next", "", onward);
  const awakeness = element("p", { class: "quiet", id: "beside-awake", role: "status" });
  const awake = createAwake((how) => { awakeness.textContent = how; });
  const fault = element("p", { class: "fault", role: "alert" });
  const where = element("p", { class: "beside-where" });
  const facts = element("dl", { class: "beside-facts" });
  const far = element("div");
  const further = element("div");
  const sum = element("table", { class: "sum" });
  const told = element("tbody");
  const sentences = element("div", { class: "beside-sentences" });

  /** @type {Record<typeof SCENES[number], HTMLElement>} */
  const scenes = {
    start: element("div", { class: "beside-card beside-start", tabindex: "0", role: "group", "aria-label": "What to set" },
      where, facts, element("div", { class: "row" }, here.button, far, here.said), fault, awakeness),
    instrument: element("div", { class: "beside-instrument" }),
    sum: element("div", { class: "beside-card", tabindex: "0", role: "group", "aria-label": "The sum" }, sum),
    pad: pad.place,
    end: element("div", { class: "beside-card beside-end", tabindex: "0", role: "group", "aria-label": "What you read" },
      own.panel, element("table", { class: "beside-reads" },
        element("caption", { class: "visually-hidden" }, "What you read"),
        element("thead", {}, element("tr", {}, ...["What", "I read", "This brass"].map((text) => element("th", { scope: "col" }, text)))),
        told), further),
  };
  place.append(
    element("div", { class: "beside-bar" }, leave, count, theSum, red),
    element("div", { class: "beside-scene" }, scenes.instrument, scenes.sum, scenes.pad),
    sentences, scenes.start, scenes.end,
    element("div", { class: "beside-press" }, back, read, next));

  /** What stands in the scene when nothing else is wanted. @param {number} number */
  const restOf = (number) => (number === 0 ? "start" : number > shown.length ? "end" : "instrument");

  /**
   * Goes to a sentence, to the beginning or to the end.
   * @param {number} to
   * @param {typeof scene} [wanted]
   */
  function go(to, wanted = restOf(to)) {
    if (to < 0 || to > shown.length + 1) return;
    const moved = to !== at;
    at = to;
    scene = wanted;
    sessionStorage.setItem(KEY, String(at));
    if (at >= 1 && at <= shown.length && (moved || working.at !== at - 1)) working.go(at - 1);
    show();
  }

  function onward() {
    if (scene === "pad") keep();
    else if (at > shown.length) history.back();
    else go(at + 1);
  }

  function show() {
    const step = shown[at - 1];
    place.dataset.at = String(at);
    place.dataset.scene = scene;
    // Beside what to set the instrument is seen so set, and beside what was read as it was left.
    const hasInstrument = scene === "start" || scene === "end";
    for (const name of SCENES) scenes[name].hidden = name !== scene && !(name === "instrument" && hasInstrument);
    [...sentences.children].forEach((one, index) => one.classList.toggle("now", index === at - 1));
    count.textContent = step ? `${at} of ${shown.length}` : "";
    place.style.setProperty("--part", String(at / (shown.length + 1)));
    theSum.setAttribute("aria-pressed", String(scene === "sum"));
    theSum.hidden = operation.chosen !== null;
    back.textContent = scene === "pad" ? "Leave it" : "Back";
    back.disabled = at === 0;
    next.textContent = scene === "pad" ? "Keep it" : at === 0 ? "Begin" : at > shown.length ? "Done" : "Next";
    next.disabled = shown.length === 0 || (scene === "pad" && !pad.isWhole);
    const key = step && keyOf(step);
    read.hidden = !key || scene === "pad";
    const written = (key && store.case.read[key]) || "";
    read.replaceChildren(...(written ? [element("span", { class: "more" }, "I read"), ` ${written}`] : ["What I read"]));
  }

  /** By which name one's own reading of a step is told; none where it is none of the figure's. @param {Step} step */
  function keyOf({ reading }) {
    if (!reading || operation.chosen) return null;
    if (reading.name === "hour-for-rule") return "local-time";
    const [, house] = /^cusp-([IVX]+)$/.exec(reading.name) ?? [];
    return house ?? (["sun-degree", "ascendant", "midheaven"].includes(reading.name) ? reading.name : null);
  }

  function openPad() {
    const step = shown[at - 1];
    const key = step && keyOf(step);
    if (!step?.reading || !key) return;
    go(at, "pad");
    pad.open(key === "local-time" ? KINDS.time : KINDS.degree, capital(step.reading.what), store.case.read[key] ?? "");
    show();
  }

  async function keep() {
    const step = shown[at - 1];
    const key = step && keyOf(step);
    if (!key) return;
    const { [key]: _, ...others } = store.case.read;
    const mine = at;
    await store.ask({ read: pad.text ? { ...others, [key]: pad.text } : others });
    if (mine !== at || scene !== "pad" || !scenes.pad.querySelector("[aria-invalid]")) go(mine);
    next.focus({ preventScroll: true });
  }

  pad.onChange(show);
  pad.place.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && event.target instanceof HTMLInputElement && !next.disabled) keep();
  });

  // The sentences lie over one another, so that their place is that of the longest.
  working.onMarked(() => {
    if (working.steps === shown) {
      if (open && working.at >= 0 && working.at !== at - 1 && restOf(at) === "instrument") go(working.at + 1);
      return;
    }
    // From the end of a chapter it goes on with the first sentence of the next.
    const behind = scene === "end" ? at : 0;
    shown = working.steps;
    sentences.replaceChildren(...shown.map((step, index) => {
      const length = step.instruction.length;
      return element("p", { class: `beside-sentence${length > LONGEST ? " longest" : length > LONG ? " long" : ""}` },
        element("span", {}, element("b", { class: "number" }, `${index + 1}. `), ...said.wordsToTouch(step)));
    }));
    if (open) go(behind <= shown.length ? behind : 0);
    else at = 0;
  });

  store.onAnswer((answer) => {
    fault.textContent = "";
    where.replaceChildren(
      ...(isDemonstration(store.case) ? ["A demonstration, invented.", element("br")] : []),
      element("b", {}, answer.place.name), element("br"), toMinute(answer.moment.clock_time),
      element("span", { class: "more" }, ` with the ${answer.instrument.name}`));
    const { set } = answer;
    facts.replaceChildren(...(set
      ? [["Plate", set.plate], [capital(set.under_rule), set.degree_or_date], ["Hour for the rule", set.hour]]
      : [["Plate", `none: ${answer.reason ?? ""}`]]).map(([name, value]) =>
      element("div", {}, element("dt", {}, name), element("dd", {}, element("strong", {}, value)))));
    sum.replaceChildren(...sumLines(answer));
    tell(own.show(answer.own ?? null, store.case.read));
    show();
  });
  store.onRefused((error) => {
    const { field } = /** @type {import("./desk.js").Refused} */ (error);
    if (field === "read") pad.refuse(sentence(error));
    else fault.textContent = sentence(error);
  });
  const offer = () => {
    far.replaceChildren(chapter.turn());
    further.replaceChildren(...(chapter.whole ? [] : [chapter.turn()]));
  };
  chapter.onChange(offer);
  offer();

  /**
   * What was read, against what this brass shows.
   * @param {ReturnType<typeof own.show>} marks
   */
  function tell(marks) {
    const { reading } = store.answer ?? {};
    if (!reading) return told.replaceChildren();
    const cusps = chapter.whole ? reading.cusps[procedure(store.case)] ?? [] : [];
    const rows = [
      ["ascendant", "Ascendant", reading.ascendant_deg],
      ...(chapter.whole ? [["midheaven", "Midheaven", reading.midheaven_deg]] : []),
      ...cusps.filter(({ house }) => house !== 1 && house !== 10).map(({ house, deg }) => [numeral(house), `Cusp ${numeral(house)}`, deg]),
    ];
    told.replaceChildren(...rows.map(([key, name, deg]) => {
      const mark = marks.get(String(key));
      return element("tr", {},
        element("th", { scope: "row" }, String(name)),
        element("td", {}, store.case.read[String(key)] ?? "–", mark && element("span", { class: mark.right ? "mark" : "mark wrong" }, mark.mark)),
        element("td", {}, zodiacal(/** @type {number | null} */ (deg))));
    }));
  }

  function begin(/** @type {number} */ from) {
    if (open) return;
    open = true;
    scrolled = scrollY;
    entered = location.hash;
    // The way back out of a page on a phone leads to the whole page first.
    history.pushState(null, "", location.href);
    root.classList.add("beside");
    place.hidden = false;
    scenes.instrument.append(instrument);
    lens.glass = GLASSES.large;
    awake.begin();
    const { answer } = store;
    // The moment stands still while it is worked.
    if (store.case.when === "now" && answer) store.ask({ when: toMinute(answer.moment.clock_time) });
    go(Math.min(from, shown.length + 1));
    next.focus({ preventScroll: true });
  }

  function end() {
    if (!open) return;
    open = false;
    awake.end();
    sessionStorage.removeItem(KEY);
    root.classList.remove("beside");
    place.hidden = true;
    home.prepend(instrument);
    lens.glass = GLASSES.small;
    // What was written meanwhile stays in the address that one comes back to.
    if (location.hash === entered) write(store.case);
    scrollTo(0, scrolled);
    opener.focus({ preventScroll: true });
  }

  opener.addEventListener("click", () => begin(0));
  addEventListener("popstate", end);
  const redIsLit = () => red.setAttribute("aria-pressed", String(surroundings() === "red"));
  onSurroundings(redIsLit);
  redIsLit();
  swipe(place, sentences, {
    onward: () => { if (scene !== "pad" && at <= shown.length && !next.disabled) go(at + 1); },
    back: () => { if (scene !== "pad") go(at - 1); },
  });
  // A touch takes the lens away, to see what lies under it, and lays it there again.
  scenes.instrument.addEventListener("click", () => {
    const step = shown[at - 1];
    if (lens.isLaid) lens.hide();
    else lens.lay(step?.look_at, step?.numerals);
  });
  document.addEventListener("keydown", (event) => {
    if (!open) return;
    const typing = event.target instanceof HTMLInputElement;
    if (event.key === "Escape") { if (scene === "pad" || scene === "sum") go(at); else history.back(); }
    else if (event.key === "PageDown" || (event.key === "ArrowRight" && !typing)) { if (!next.disabled && at <= shown.length && scene !== "pad") go(at + 1); }
    else if (event.key === "PageUp" || (event.key === "ArrowLeft" && !typing)) { if (scene !== "pad") go(at - 1); }
    else return;
    event.preventDefault();
  });

  return {
    /** Goes on where the page was when the browser forgot it. */
    resume() {
      const left = sessionStorage.getItem(KEY);
      if (left !== null) begin(Number(left));
    },
  };
}
