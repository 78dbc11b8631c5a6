import { DEMONSTRATION } from "./demonstration.js";
import { byId, element } from "./element.js";
import { bring, heightOf } from "./in-view.js";

const KEY = "almuri-walked";

/**
 * Where each part of the walk looks, and what it says. It begins with the demonstration
 * and ends with the person's own moment and brass.
 * @type {readonly {at: string, says: string, step?: number}[]}
 */
const WALK = [
  { at: "#case-form > .fields", says: "A demonstration: an invented class in Santiago de Compostela, on 14 May 2024 at 9:20 by the clock. In this line stand moment, place and instrument; in the end you put your own there." },
  { at: ".set-facts", says: "What your hand needs: the plate, the Sun’s degree, and the hour for the rule. The clock says 9:20, the rule goes to 6 h 50: the sum beneath shows, line by line, where two and a half hours have gone." },
  { at: "#stage", says: "The instrument, so set. Drag the rete or the rule, or use the arrow keys on the handles beneath it: what it shows is read from its lines as you turn." },
  { at: "#now-step", step: 0, says: "The working, sentence by sentence. “Next”, beneath the sentence, moves the parts; what to look at turns green, and a lens lies over what is read." },
  { at: ".reads tbody tr", says: "This you should read: the degree that rises in the east, the ascendant. Its sign is the rising sign. Write beside it what you did read; a sign alone will do." },
  { at: ".why-one", says: "The exact value, and why the brass differs from it. Opened, it shows the shares, cause by cause." },
  { at: "#case-form > .fields", says: "Now your own: write a date, a time and a town into this line, or press “Now”." },
  { at: ".field.with", says: "And your brass: choose the instrument that is like yours, or describe it as “my own”, at the end of the list." },
  { at: ".set-facts", says: "So you set it. Then the sentences lead to the ascendant, as before. That is the whole walk; the button at the top begins it again." },
];

/**
 * The first walk: a strip above the page that stays in sight, never over it.
 * @param {import("./store.js").Store} store
 * @param {ReturnType<typeof import("./working.js").createWorking>} working
 * @param {boolean} invited
 */
export function createWalk(store, working, invited) {
  const strip = byId("walk");
  let at = 0;

  const text = element("p", { id: "walk-text", tabindex: "-1" });
  const back = element("button", { type: "button", id: "walk-back", onclick: () => go(at - 1) }, "Back");
  const next = element("button", { type: "button", id: "walk-next", onclick: () => go(at + 1) });
  const end = element("button", { type: "button", id: "walk-end", onclick: close }, "End the walk");
  strip.append(text, element("p", { class: "row" }, back, next, end));
  heightOf(strip, "--walk");

  /** @param {number} to */
  async function go(to) {
    const part = WALK[to];
    if (!part) return close();
    at = to;
    strip.hidden = false;
    text.textContent = `${to + 1} of ${WALK.length}. ${part.says}`;
    back.disabled = to === 0;
    next.textContent = to === WALK.length - 1 ? "Done" : "Next";
    light();
    if (part.step !== undefined) await working.go(part.step);
    look();
  }

  function light() {
    for (const one of document.querySelectorAll(".walked")) one.classList.remove("walked");
    if (!strip.hidden) document.querySelector(WALK[at]?.at ?? "")?.classList.add("walked");
  }

  /** Brings what is spoken of under the strip, once the strip has its height. */
  function look() {
    requestAnimationFrame(() => requestAnimationFrame(() => {
      const lit = document.querySelector(".walked");
      if (lit) bring(lit);
      strip.dataset.at = String(at + 1);
    }));
  }

  function close() {
    strip.hidden = true;
    light();
    localStorage.setItem(KEY, "yes");
    byId("open-walk").focus();
  }

  byId("open-walk").addEventListener("click", async () => {
    await store.ask({ ...DEMONSTRATION, zone: null, clock: null, calendar: null, which: null, houses: null, by: null });
    await go(0);
    text.focus();
  });
  // Rows and sentences are made anew with every answer, and what stands above them grows.
  store.onAnswer(() => {
    light();
    if (!strip.hidden) look();
  });
  // Where the strip could not stay in sight, nobody is led along it unasked.
  if (invited && !localStorage.getItem(KEY) && !matchMedia("(max-height: 519.98px)").matches) go(0);
}
