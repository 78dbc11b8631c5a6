import { byId, element } from "./element.js";
import { DEMONSTRATION } from "./demonstration.js";

const KEY = "almuri-walked";

/** Where each part of the walk looks, and what it says. */
const WALK = [
  ["case", "This is a demonstration: an invented class in Santiago de Compostela, on 14 May 2024 at 9:20 by the clock. In this line you put your own moment, place, instrument and procedure."],
  ["set", "Here is what your hand needs: the plate, the Sun’s degree, and the hour for the rule. The clock says 9:20, but the rule goes to 6 h 50: the sum beneath shows, line by line, where two and a half hours have gone."],
  ["instrument", "The instrument is set so. Turn it: drag the rete or the rule, or use the arrow keys on the handles beneath it. What it then shows is read from its lines as you turn, and also which moment that position would mean."],
  ["working", "The working, sentence by sentence. Choose one, and the parts go there, back or onward as it says; the lines to look at turn green, and a lens lies over what is read."],
  ["readings", "This you should read on your brass. Write beside it what you did read."],
  ["why", "Here the exact values stand, and why the brass differs from them. Open one to see the shares, cause by cause. That is the whole walk; the button at the top begins it again."],
];

/**
 * The first walk through the demonstration: a strip above the page, never over it.
 * @param {import("./store.js").Store} store
 * @param {boolean} invited
 */
export function createWalk(store, invited) {
  const strip = byId("walk");
  let at = 0;

  const text = element("p", { id: "walk-text", tabindex: "-1" });
  const next = element("button", { type: "button", onclick: () => go(at + 1) });
  const end = element("button", { type: "button", onclick: close }, "End the walk");
  strip.append(text, element("p", { class: "row" }, next, end));

  /** @param {number} to */
  function go(to) {
    const step = WALK[to];
    if (!step) return close();
    at = to;
    strip.hidden = false;
    text.textContent = `${to + 1} of ${WALK.length}. ${step[1]}`;
    next.textContent = to === WALK.length - 1 ? "Done" : "Next";
    for (const section of document.querySelectorAll(".walked")) section.classList.remove("walked");
    const section = byId(step[0] ?? "");
    section.classList.add("walked");
    if (to > 0) section.scrollIntoView({ block: "nearest" });
  }

  function close() {
    strip.hidden = true;
    for (const section of document.querySelectorAll(".walked")) section.classList.remove("walked");
    localStorage.setItem(KEY, "yes");
    byId("open-walk").focus();
  }

  byId("open-walk").addEventListener("click", async () => {
    await store.ask({ ...DEMONSTRATION, zone: null, clock: null, calendar: null, which: null, houses: null, by: null });
    go(0);
    text.focus();
  });
  if (invited && !localStorage.getItem(KEY)) go(0);
}
