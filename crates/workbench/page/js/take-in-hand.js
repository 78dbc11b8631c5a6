/** @typedef {import("./turning.js").Turning} Turning */
/** @typedef {import("./turning.js").Hand} Hand */

/** Drawn sharp again when it has rested so long, in milliseconds: seldom enough not
 * to come between the frames of a slow machine. */
const REST = 600;

/** A wheel's notch, about 100 units, turns a degree. */
const DEGREES_PER_WHEEL = 0.01;

/**
 * Turns the parts by pointer, touch and wheel.
 * @param {HTMLElement} disc
 * @param {Turning} turning
 * @param {object} instrument
 * @param {(hand: Hand) => 1 | -1} instrument.sense which way a part's degrees run as drawn
 * @param {() => Hand} instrument.idle what is taken where no part is hit
 * @param {() => number | null} instrument.width_mm the picture's width
 * @param {EventTarget} events
 */
export function takeInHand(disc, turning, { sense, idle, width_mm }, events) {
  /** @type {{hand: Hand, bearing: number} | null} */
  let held = null;
  let last = /** @type {Hand} */ ("rete");
  let still = 0;

  /** @param {MouseEvent} event */
  const place = (event) => {
    const box = disc.getBoundingClientRect();
    return {
      x: (event.clientX - box.left) / box.width - 0.5,
      y: (event.clientY - box.top) / box.height - 0.5,
    };
  };
  /** @param {MouseEvent} event */
  const bearing = (event) => {
    const { x, y } = place(event);
    return (Math.atan2(y, x) * 180) / Math.PI;
  };
  /** @param {Event} event */
  const under = (event) => {
    const layer = event.target instanceof Element ? event.target.closest("[data-part]") : null;
    return layer?.getAttribute("data-part") === "rule" ? "rule" : idle();
  };
  turning.onTurned(() => {
    disc.classList.add("turning");
    clearTimeout(still);
    still = window.setTimeout(() => disc.classList.remove("turning"), REST);
  });

  disc.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    last = under(event);
    held = { hand: last, bearing: bearing(event) };
    disc.setPointerCapture(event.pointerId);
    disc.classList.add("grasped");
    events.dispatchEvent(new CustomEvent("grasp", { detail: last }));
    event.preventDefault();
  });
  disc.addEventListener("pointermove", (event) => {
    const width = width_mm();
    if (width === null) return;
    if (held) {
      const now = bearing(event);
      const by = ((now - held.bearing + 540) % 360) - 180;
      held.bearing = now;
      turning.turn(held.hand, sense(held.hand) * by);
    } else if (event.pointerType === "mouse" && idle() !== "alidade") {
      const { x, y } = place(event);
      events.dispatchEvent(new CustomEvent("pointer", { detail: { x_mm: x * width, y_mm: y * width } }));
    }
  });
  const letGo = () => {
    held = null;
    disc.classList.remove("grasped");
  };
  disc.addEventListener("pointerup", letGo);
  disc.addEventListener("pointercancel", letGo);
  disc.addEventListener("pointerleave", () => {
    if (!held) events.dispatchEvent(new CustomEvent("pointer", { detail: null }));
  });
  // Only once it is in hand: otherwise the wheel moves the page, as anywhere.
  disc.addEventListener("wheel", (event) => {
    if (document.activeElement?.getAttribute("role") !== "slider") return;
    event.preventDefault();
    if ((last === "alidade") !== (idle() === "alidade")) last = idle();
    const way = event.deltaMode === 1 ? event.deltaY * 33 : event.deltaY;
    turning.turn(last, way * DEGREES_PER_WHEEL * (event.shiftKey ? 0.1 : 1));
  }, { passive: false });
}
