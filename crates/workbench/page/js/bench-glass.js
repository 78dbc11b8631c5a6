import { element } from "./element.js";

/** How much nearer each step of the glass comes. */
const STEP = 1.5;

/** Nearer than this shows nothing more. */
const NEAREST = 40;

/**
 * A drawing on a bench: looked at whole, at true size, or nearer; moved by dragging,
 * by its bars, or by keys.
 */
export function createGlass() {
  const sheet = element("div", { class: "glass-sheet" });
  const bench = element("div", { class: "glass-bench", tabindex: "0", role: "group", "aria-label": "The drawing: arrow keys move it, plus and minus bring it nearer" }, sheet);
  const bar = element("p", { class: "row", role: "group", "aria-label": "How near" },
    element("button", { type: "button", onclick: () => look(whole()) }, "Whole"),
    element("button", { type: "button", onclick: () => look(trueSize()) }, "True size"),
    element("button", { type: "button", "aria-label": "Nearer", onclick: () => look(times * STEP) }, "+"),
    element("button", { type: "button", "aria-label": "Further", onclick: () => look(times / STEP) }, "−"));
  let times = 1;
  let width_mm = 1;

  /** Drawings are as high as they are broad. */
  const whole = () => Math.min(1, bench.clientHeight / bench.clientWidth);

  /** Where on the sheet the middle of the bench is, as parts of its sides. */
  function middle() {
    const [on, of] = [bench.getBoundingClientRect(), sheet.getBoundingClientRect()];
    return {
      x: (on.left + on.width / 2 - of.left) / (of.width || 1),
      y: (on.top + on.height / 2 - of.top) / (of.height || 1),
    };
  }

  /** A true millimetre is as large as the screen says it is. */
  const trueSize = () => (width_mm * 96) / 25.4 / bench.clientWidth;

  /** @param {number} to */
  function look(to) {
    const before = middle();
    times = Math.min(NEAREST, Math.max(0.05, to));
    sheet.style.inlineSize = `${times * 100}%`;
    // What is in the middle stays there.
    const after = middle();
    bench.scrollBy((before.x - after.x) * sheet.clientWidth, (before.y - after.y) * sheet.clientHeight);
    bench.dataset.times = String(times);
  }

  /** @type {{x: number, y: number} | null} */
  let held = null;
  bench.addEventListener("pointerdown", (event) => {
    if (event.pointerType !== "mouse" || event.button !== 0) return;
    held = { x: event.clientX, y: event.clientY };
    bench.setPointerCapture(event.pointerId);
  });
  bench.addEventListener("pointermove", (event) => {
    if (!held) return;
    bench.scrollBy(held.x - event.clientX, held.y - event.clientY);
    held = { x: event.clientX, y: event.clientY };
  });
  for (const end of ["pointerup", "pointercancel"]) bench.addEventListener(end, () => { held = null; });
  bench.addEventListener("keydown", (event) => {
    if (event.key === "+" || event.key === "=") look(times * STEP);
    else if (event.key === "-") look(times / STEP);
    else if (event.key === "0") look(whole());
    else return;
    event.preventDefault();
  });

  return {
    bar,
    bench,
    /**
     * @param {string} svg
     * @param {number} broad_mm
     */
    lay(svg, broad_mm) {
      width_mm = broad_mm;
      sheet.innerHTML = svg;
      look(whole());
    },
    clear() { sheet.replaceChildren(); },
  };
}
