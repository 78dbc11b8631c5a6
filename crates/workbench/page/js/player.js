import { byId, element } from "./element.js";
import { bring, heightOf } from "./in-view.js";
import { createSaid, questionOf, withheld } from "./said.js";
import { sameState } from "./turning.js";

/** @typedef {import("./types.js").Step} Step */

/** Paces, by how many times as fast as walking. */
const PACES = /** @type {const} */ ([["slow", 0.45], ["walking", 1], ["brisk", 2.5]]);

/** How long a step is left to be read when they play, in milliseconds. */
const READING_TIME = 2600;

/**
 * Plays steps on the instrument, whoever has them. The sentence that is worked now stands
 * with the instrument, all of them in a list beneath. Choosing one moves the parts there,
 * lights the lines and lays a lens where something is read.
 * @param {HTMLElement} place
 * @param {import("./turning.js").Turning} turning
 * @param {import("./stage.js").Stage} stage
 * @param {ReturnType<typeof import("./lens.js").createLens>} lens
 */
export function createPlayer(place, turning, stage, lens) {
  const list = element("ol", { class: "steps" });
  const nowStep = byId("now-step");
  const said = createSaid(stage);
  const sentence = element("p", { class: "sentence" });
  const question = element("p", { class: "question", hidden: true });
  const previous = element("button", { type: "button", id: "previous-step", onclick: () => go(at - 1) }, "Previous");
  const next = element("button", { type: "button", id: "next-step", onclick: () => go(at + 1) }, "Next");
  const play = element("button", { type: "button", id: "play", onclick: () => (playing ? stop() : begin()) }, "Play");
  const pace = element("select", { id: "pace" });
  for (const [name, times] of PACES) {
    pace.append(element("option", { value: times, selected: times === 1 }, name));
  }
  pace.addEventListener("change", () => { turning.speed = Number(pace.value); });
  const glass = element("input", { type: "checkbox", id: "glass", checked: true });
  glass.addEventListener("change", () => { lens.wanted = glass.checked; });
  const show = element("button", { type: "button", id: "show" }, "Show to a class");
  const bar = element("div", { class: "row", role: "group", "aria-label": "Playing the working" },
    previous, next, play);
  const more = element("div", { class: "row playing-more", role: "group", "aria-label": "How it is played" },
    element("span", { class: "pace" }, element("label", { for: "pace" }, "Pace "), pace),
    element("label", { class: "tick" }, glass, " lens"),
    show);
  const end = element("div", { class: "after-steps" });
  nowStep.append(sentence, question, element("div", { class: "row" }, bar, more));
  place.append(list, end);
  heightOf(byId("at-hand"), "--at-hand");

  /** @type {Step[]} */
  let steps = [];
  let at = -1;
  let playing = false;
  let asking = false;
  let turn = 0;
  const events = new EventTarget();

  /**
   * Every choice ends the one before it. A step that is asked is told without its answer:
   * the parts stay, and a lens lies where it is to be read.
   * @param {number} to
   * @param {{keeps?: boolean, asked?: boolean}} [how]
   */
  async function go(to, { keeps = false, asked = false } = {}) {
    const step = steps[to];
    if (!step) return;
    if (!keeps) stop();
    const mine = ++turn;
    at = to;
    asking = asked;
    mark();
    stage.light(step.lines);
    lens.hide();
    bring(byId("at-hand"));
    await stage.turnOver(step.side);
    if (mine !== turn) return;
    await stage.layIn(step.state.plate_latitude_deg);
    if (mine !== turn) return;
    const told = asked ? `${withheld(step).map(({ text, kept }) => (kept ? "…" : text)).join("")} ${questionOf(step)}` : step.instruction;
    byId("announce").textContent = `Step ${to + 1} of ${steps.length}. ${told}`;
    const before = steps[to - 1]?.state ?? step.state;
    if (!sameState(turning.state, before) && !sameState(turning.state, step.state)) {
      await turning.moveTo(before, { pace: 2 });
      if (mine !== turn) return;
    }
    if (asked) {
      if (step.reading) lens.lay(step.look_at, step.numerals);
      return;
    }
    const rete = sameState(turning.state, before) ? step.rete_turn_deg : undefined;
    await turning.moveTo(step.state, { rete });
    if (mine !== turn) return;
    lens.lay(step.look_at, step.numerals);
    place.dataset.arrived = String(to + 1);
  }

  async function begin() {
    playing = true;
    play.textContent = "Pause";
    let to = at >= steps.length - 1 ? 0 : at + 1;
    while (playing && to < steps.length) {
      await go(to, { keeps: true });
      const mine = turn;
      await new Promise((resolve) => setTimeout(resolve, READING_TIME / Number(pace.value)));
      if (mine !== turn) return;
      to += 1;
    }
    stop();
  }

  function stop() {
    playing = false;
    play.textContent = "Play";
  }

  function mark() {
    [...list.children].forEach((item, index) => {
      const button = item.firstElementChild;
      if (index === at) button?.setAttribute("aria-current", "step");
      else button?.removeAttribute("aria-current");
    });
    const step = steps[at];
    previous.disabled = at <= 0;
    next.disabled = at >= steps.length - 1;
    nowStep.hidden = steps.length === 0;
    nowStep.dataset.at = String(at + 1);
    sentence.replaceChildren(...(step
      ? [element("span", {}, element("b", { class: "number" }, `${at + 1}. `), ...(asking ? said.wordsWithheld(step) : said.wordsToTouch(step)))]
      : [`${steps.length} sentences: the parts go as each one says.`]));
    question.hidden = !(step && asking);
    question.textContent = step && asking ? questionOf(step) : "";
    stage.point([]);
    const chosen = list.children[at];
    if (chosen instanceof HTMLElement && list.contains(document.activeElement)) {
      /** @type {HTMLElement} */ (chosen.firstElementChild).focus({ preventScroll: true });
    }
    events.dispatchEvent(new Event("marked"));
  }

  list.addEventListener("keydown", (event) => {
    const by = event.key === "ArrowDown" ? 1 : event.key === "ArrowUp" ? -1 : 0;
    if (!by) return;
    event.preventDefault();
    go(at + by);
  });

  return {
    /**
     * Takes other steps; none of them is chosen yet. Where they are the same, as when a
     * reading was written, they stay as they stand.
     * @param {Step[]} others
     * @param {...Node} after what stands at their end
     */
    take(others, ...after) {
      if (steps.length > 0 && JSON.stringify(others) === JSON.stringify(steps)) return end.replaceChildren(...after);
      steps = others;
      turn += 1;
      stop();
      at = -1;
      asking = false;
      delete place.dataset.arrived;
      stage.light([]);
      stage.turnOver("front");
      lens.hide();
      list.replaceChildren(...steps.map((step, index) => element("li", {},
        element("button", { type: "button", class: "step", onclick: () => go(index) }, element("span", {}, ...said.words(step))))));
      end.replaceChildren(...after);
      mark();
    },
    /** What it plays, and how many times as fast as walking. */
    get steps() { return steps; },
    get pace() { return Number(pace.value); },
    go,
    /** The next sentence, or what was kept back of this one. */
    next: (/** @type {boolean} */ asked = false) => (asking ? go(at) : go(at + 1, { asked })),
    previous: () => go(Math.max(0, at - 1)),
    /** The number of the step that is chosen, from 0; −1 where none is. */
    get at() { return at; },
    /** @param {() => void} listener hears of every choice, and of other steps */
    onMarked(listener) { events.addEventListener("marked", listener); },
    /** @param {() => void} listener */
    onShow(listener) { show.addEventListener("click", listener); },
  };
}

/** @typedef {ReturnType<typeof createPlayer>} Player */
