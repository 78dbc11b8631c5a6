import * as desk from "./desk.js";
import { element } from "./element.js";

/** @typedef {import("./turning.js").Turning} Turning */
/** @typedef {import("./turning.js").Hand} Hand */
/** @typedef {import("./types.js").Front} Front */
/** @typedef {import("./types.js").Point} Point */

const PARTS = /** @type {const} */ (["mater", "plate", "rete", "rule"]);

/** A wheel's notch, about 100 units, turns a degree. */
const DEGREES_PER_WHEEL = 0.01;

/**
 * The instrument on the page. Each part is a picture of its own, drawn once, and
 * turned by a transform alone.
 * @param {HTMLElement} place
 * @param {Turning} turning
 */
export function createStage(place, turning) {
  const disc = element("div", { class: "disc", role: "img", "aria-label": "The instrument" });
  place.append(disc);
  /** @type {Partial<Record<typeof PARTS[number], SVGSVGElement>>} */
  let layers = {};
  /** @type {Front | null} */
  let front = null;
  let shown = "";
  /** @type {string[]} */
  let lit = [];
  const events = new EventTarget();

  /**
   * Draws an instrument with a plate, unless it is there already.
   * @param {import("./types.js").With | null} instrument
   * @param {string} name
   * @param {number} plate
   */
  async function show(instrument, name, plate) {
    const wanted = JSON.stringify([instrument, name, plate]);
    if (wanted === shown) return;
    shown = wanted;
    const got = await desk.front({ with: instrument ?? { named: name }, plate_latitude_deg: plate });
    if (shown !== wanted) return;
    front = got;
    const drawing = new DOMParser().parseFromString(got.svg, "image/svg+xml");
    const box = drawing.documentElement.getAttribute("viewBox") ?? "";
    layers = {};
    // A line that is read is as thick as a stroke of a broad pen.
    disc.style.setProperty("--lit", `${got.reach_mm * 0.0048}px`);
    disc.replaceChildren();
    for (const part of PARTS) {
      const group = drawing.getElementById(`front-${part}`);
      if (!group) continue;
      const layer = document.createElementNS("http://www.w3.org/2000/svg", "svg");
      layer.setAttribute("viewBox", box);
      layer.setAttribute("class", "layer astrolabe");
      layer.setAttribute("aria-hidden", "true");
      layer.dataset.part = part;
      // The part's own title would pop up under the pointer.
      group.querySelector(":scope > title")?.remove();
      group.removeAttribute("transform");
      layer.append(document.adoptNode(group));
      layers[part] = layer;
      disc.append(layer);
    }
    turn();
    light(lit);
    events.dispatchEvent(new Event("drawn"));
  }

  function turn() {
    if (!front) return;
    const { rete_deg, rule_deg } = turning.state;
    place.dataset.rete = String(rete_deg);
    place.dataset.rule = String(rule_deg);
    if (layers.rete) layers.rete.style.transform = turned("rete", rete_deg);
    if (layers.rule) layers.rule.style.transform = turned("rule", rule_deg);
  }

  /**
   * @param {Hand} hand
   * @param {number} deg
   */
  function turned(hand, deg) {
    if (!front) return "";
    const clockwise = front.clockwise ? deg : -deg;
    const pole = hand === "rete" ? front.rete_pole : { x_mm: 0, y_mm: 0 };
    // A hundredth of the picture, whatever its size on the page.
    const part = 100 / (2 * front.reach_mm * MARGIN);
    return `translate(${pole.x_mm * part}%, ${pole.y_mm * part}%) rotate(${clockwise}deg)`;
  }

  /** @param {string[]} lines */
  function light(lines) {
    lit = lines;
    for (const line of disc.querySelectorAll(".line.lit")) line.classList.remove("lit");
    for (const name of lines) {
      for (const line of disc.querySelectorAll(`[data-line="${CSS.escape(name)}"]`)) {
        line.classList.add("lit");
      }
    }
  }

  turning.onTurned(turn);
  takeInHand(disc, turning, () => front, events);

  return {
    disc,
    show,
    light,
    get front() { return front; },
    /** @param {string} text */
    describe(text) { disc.setAttribute("aria-label", text); },
    /** @param {() => void} listener */
    onDrawn(listener) { events.addEventListener("drawn", listener); },
    /** @param {(at: Point | null) => void} listener */
    onPointer(listener) {
      events.addEventListener("pointer", (event) => listener(/** @type {CustomEvent} */ (event).detail));
    },
    /** @param {(hand: Hand) => void} listener */
    onGrasp(listener) {
      events.addEventListener("grasp", (event) => listener(/** @type {CustomEvent} */ (event).detail));
    },
  };
}

/** The part of the picture beyond the instrument's edge, as the desk draws it. */
const MARGIN = 1.015;

/** @typedef {ReturnType<typeof createStage>} Stage */

/**
 * Pointer, touch and wheel.
 * @param {HTMLElement} disc
 * @param {Turning} turning
 * @param {() => Front | null} drawing
 * @param {EventTarget} events
 */
function takeInHand(disc, turning, drawing, events) {
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
    return /** @type {Hand} */ (layer?.getAttribute("data-part") === "rule" ? "rule" : "rete");
  };
  const movesNow = () => {
    disc.classList.add("turning");
    clearTimeout(still);
    still = window.setTimeout(() => disc.classList.remove("turning"), 250);
  };
  turning.onTurned(movesNow);

  disc.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    last = under(event);
    held = { hand: last, bearing: bearing(event) };
    disc.setPointerCapture(event.pointerId);
    disc.classList.add("held");
    events.dispatchEvent(new CustomEvent("grasp", { detail: last }));
    event.preventDefault();
  });
  disc.addEventListener("pointermove", (event) => {
    const front = drawing();
    if (!front) return;
    if (held) {
      const now = bearing(event);
      const by = ((now - held.bearing + 540) % 360) - 180;
      held.bearing = now;
      turning.turn(held.hand, front.clockwise ? by : -by);
    } else if (event.pointerType === "mouse") {
      const { x, y } = place(event);
      const mm = 2 * front.reach_mm * MARGIN;
      events.dispatchEvent(new CustomEvent("pointer", { detail: { x_mm: x * mm, y_mm: y * mm } }));
    }
  });
  const letGo = () => {
    held = null;
    disc.classList.remove("held");
  };
  disc.addEventListener("pointerup", letGo);
  disc.addEventListener("pointercancel", letGo);
  disc.addEventListener("pointerleave", () => {
    if (!held) events.dispatchEvent(new CustomEvent("pointer", { detail: null }));
  });
  // Only once it is in hand: otherwise the wheel moves the page, as anywhere.
  disc.addEventListener("wheel", (event) => {
    if (!disc.closest("section")?.contains(document.activeElement)) return;
    event.preventDefault();
    const way = event.deltaMode === 1 ? event.deltaY * 33 : event.deltaY;
    turning.turn(last, way * DEGREES_PER_WHEEL * (event.shiftKey ? 0.1 : 1));
  }, { passive: false });
  events.addEventListener("grasp", (event) => { last = /** @type {CustomEvent} */ (event).detail; });
}
