import * as desk from "./desk.js";
import { drawn, element } from "./element.js";
import { takeInHand } from "./take-in-hand.js";

/** @typedef {import("./turning.js").Turning} Turning */
/** @typedef {import("./turning.js").Hand} Hand */
/** @typedef {import("./types.js").Front} Front */
/** @typedef {import("./types.js").Back} Back */
/** @typedef {import("./types.js").Side} Side */
/** @typedef {import("./types.js").Point} Point */
/** @typedef {{name: string, with: import("./types.js").With, plate_latitude_deg: number}} Drawing which instrument is drawn, with which plate */

/** The parts of each side, from the lowest to the uppermost. */
export const PARTS = /** @type {const} */ ({ front: ["mater", "plate", "rete", "rule"], back: ["back", "alidade"] });

/** The part of the picture beyond the instrument's edge, as the desk draws it. */
export const MARGIN = 1.015;

/** More than half of any stroke, in millimetres: what is measured is without them. */
const STROKE = 1;

const MIDDLE = { x_mm: 0, y_mm: 0 };

/**
 * The instrument on the page. Each part is a picture of its own, drawn once, and
 * turned by a transform alone. The back is drawn when it is first looked at.
 * @param {HTMLElement} place
 * @param {Turning} turning
 */
export function createStage(place, turning) {
  const disc = element("div", { class: "disc", role: "img", "aria-label": "The instrument" });
  place.append(disc);
  /** @type {Record<string, SVGSVGElement>} */
  let layers = {};
  /** @type {Front | null} */
  let front = null;
  /** @type {Back | null} */
  let back = null;
  let shown = "";
  /** @type {Drawing | null} */
  let asked = null;
  /** @type {Side} */
  let side = "front";
  /** @type {string[]} */
  let lit = [];
  const events = new EventTarget();
  disc.dataset.side = side;

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
    asked = { name, with: instrument ?? { named: name }, plate_latitude_deg: plate };
    const got = await desk.front(request(asked));
    if (shown !== wanted) return;
    front = got;
    back = null;
    layers = {};
    // A line that is read is as thick as a stroke of a broad pen.
    disc.style.setProperty("--lit", `${got.reach_mm * 0.0048}px`);
    disc.replaceChildren();
    lay("front", got.svg);
    if (side === "back") await drawBack();
    turn();
    light(lit);
    events.dispatchEvent(new Event("drawn"));
  }

  /** @param {Drawing} drawing */
  const request = ({ with: instrument, plate_latitude_deg }) => ({ with: instrument, plate_latitude_deg });

  async function drawBack() {
    if (back || !asked) return;
    const wanted = shown;
    const got = await desk.back(request(asked));
    if (shown !== wanted || back) return;
    back = got;
    lay("back", got.svg);
    turn();
    light(lit);
  }

  /**
   * Lays the parts of a drawing over one another.
   * @param {Side} on
   * @param {string} svg
   */
  function lay(on, svg) {
    const drawing = new DOMParser().parseFromString(svg, "image/svg+xml");
    const box = drawing.documentElement.getAttribute("viewBox") ?? "";
    for (const part of PARTS[on]) {
      const group = drawing.getElementById(`${on}-${part}`);
      if (!group) continue;
      const layer = layerOf(on, part, group, box);
      layers[part] = layer;
      disc.append(layer);
      if (part === "rete" || part === "rule" || part === "alidade") crop(layer);
    }
  }

  /**
   * @param {Side} on
   * @param {string} part
   * @param {Element} group
   * @param {string} box
   */
  function layerOf(on, part, group, box) {
    const layer = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    layer.setAttribute("viewBox", box);
    layer.setAttribute("class", "layer astrolabe");
    layer.setAttribute("aria-hidden", "true");
    layer.dataset.part = part;
    layer.dataset.side = on;
    // The part's own title would pop up under the pointer.
    group.querySelector(":scope > title")?.remove();
    group.removeAttribute("transform");
    layer.append(document.adoptNode(group));
    return layer;
  }

  /**
   * Exchanges the plate, where another lies in the mater.
   * @param {number} plate
   */
  async function layIn(plate) {
    if (!asked || asked.plate_latitude_deg === plate) return;
    const [instrument, name] = JSON.parse(shown);
    asked = { ...asked, plate_latitude_deg: plate };
    const wanted = shown = JSON.stringify([instrument, name, plate]);
    const got = await desk.front(request(asked));
    const old = layers.plate;
    if (shown !== wanted || !old) return;
    const drawing = new DOMParser().parseFromString(got.svg, "image/svg+xml");
    const group = drawing.getElementById("front-plate");
    if (!group) return;
    layers.plate = layerOf("front", "plate", group, old.getAttribute("viewBox") ?? "");
    old.replaceWith(layers.plate);
    light(lit);
    events.dispatchEvent(new Event("drawn"));
  }

  /**
   * Makes a part's picture no larger than the part, about the point on which it
   * turns: what there is not need not be turned.
   * @param {SVGSVGElement} layer
   */
  function crop(layer) {
    const { x, y, width, height } = layer.getBBox();
    const half = {
      x: Math.max(-x, x + width) + STROKE,
      y: Math.max(-y, y + height) + STROKE,
    };
    const whole = (front?.reach_mm ?? 0) * MARGIN;
    // Of a side that is not shown the browser measures nothing.
    if (width === 0 || half.x > whole || half.y > whole) return;
    layer.setAttribute("viewBox", `${-half.x} ${-half.y} ${2 * half.x} ${2 * half.y}`);
    layer.style.inlineSize = `${(100 * half.x) / whole}%`;
    layer.style.blockSize = `${(100 * half.y) / whole}%`;
    layer.style.inset = `${50 - (50 * half.y) / whole}% auto auto ${50 - (50 * half.x) / whole}%`;
  }

  /**
   * Turns the instrument over.
   * @param {Side} to
   */
  async function turnOver(to) {
    if (to === side) return;
    side = to;
    disc.dataset.side = to;
    events.dispatchEvent(new CustomEvent("side", { detail: to }));
    if (to === "back") await drawBack();
  }

  /** @param {Hand} hand */
  const turnedNow = (hand) => turned(hand, turning.state, front, back);

  function turn() {
    if (!front) return;
    for (const hand of /** @type {const} */ (["rete", "rule", "alidade"])) {
      place.dataset[hand] = String(turning.state[`${hand}_deg`]);
      const { deg, pole } = turnedNow(hand);
      const layer = layers[hand];
      if (layer) {
        // In hundredths of the part's picture, whatever its size on the page.
        const { width, height } = layer.viewBox.baseVal;
        const [x, y] = [(100 * pole.x_mm) / width, (100 * pole.y_mm) / height];
        layer.style.transform = `translate(${x}%, ${y}%) rotate(${deg}deg)`;
      }
    }
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

  /**
   * Shows what words name, besides what is lit: lines, and whole parts after `part:`.
   * @param {string[]} names
   */
  function point(names) {
    for (const one of disc.querySelectorAll(".pointed")) one.classList.remove("pointed");
    for (const name of names) {
      const part = name.startsWith("part:") ? name.slice("part:".length) : null;
      const found = part
        ? disc.querySelectorAll(`.layer[data-part="${CSS.escape(part)}"]`)
        : disc.querySelectorAll(`[data-line="${CSS.escape(name)}"]`);
      for (const one of found) one.classList.add("pointed");
    }
  }

  /**
   * The metal of a part as it is drawn at rest, and how far the drawing reaches.
   * @param {string} part
   */
  function outlines(part) {
    const metal = [...layers[part]?.querySelectorAll("path") ?? []].filter((path) => path.classList.contains("metal"));
    return {
      half_mm: (front?.reach_mm ?? 0) * MARGIN,
      outlines: metal.map((path) => {
        const { x, y, width, height } = path.getBBox();
        return {
          path: new Path2D(path.getAttribute("d") ?? ""),
          reach_mm: Math.max(-x, -y, x + width, y + height),
        };
      }),
    };
  }

  /**
   * Lays a picture over a part of the front, as broad as the whole drawing, and the part's lines
   * above it: those that are lit, or all of them faintly. Without one the part is as it is drawn.
   * @param {string} part
   * @param {{href: string, lines: boolean} | null} picture
   */
  function wear(part, picture) {
    const group = layers[part]?.querySelector("g");
    if (!group || !front) return;
    for (const one of group.querySelectorAll(":scope > .worn")) one.remove();
    if (!picture) return;
    const half = front.reach_mm * MARGIN;
    const lines = [...group.querySelectorAll(".line")].map((line) => line.cloneNode(true));
    group.append(
      drawn("image", {
        class: "worn", href: picture.href, x: -half, y: -half, width: 2 * half, height: 2 * half,
      }),
      drawn("g", { class: picture.lines ? "worn worn-lines faint" : "worn worn-lines" },
        .../** @type {Element[]} */ (lines)));
    light(lit);
  }

  turning.onTurned(turn);
  takeInHand(disc, turning, {
    // The signs of the back run against the clock.
    sense: (hand) => (hand !== "alidade" && front?.clockwise ? 1 : -1),
    idle: () => (side === "back" ? "alidade" : "rete"),
    width_mm: () => (front ? 2 * front.reach_mm * MARGIN : null),
  }, events);

  /**
   * @template T
   * @param {string} name
   * @param {(detail: T) => void} listener
   */
  const on = (name, listener) =>
    events.addEventListener(name, (event) => listener(/** @type {CustomEvent<T>} */ (event).detail));

  return {
    disc,
    show,
    layIn,
    light,
    point,
    turned: turnedNow,
    turnOver,
    outlines,
    wear,
    get front() { return front; },
    /** What is drawn; nothing before the first answer. */
    get drawing() { return front && asked; },
    get side() { return side; },
    /** @param {string} text */
    describe(text) { disc.setAttribute("aria-label", text); },
    /** @param {(at: Point | null) => void} listener */
    onPointer(listener) { on("pointer", listener); },
    /** @param {(hand: Hand) => void} listener */
    onGrasp(listener) { on("grasp", listener); },
    /** @param {() => void} listener hears when a part is drawn anew */
    onDrawn(listener) { events.addEventListener("drawn", listener); },
    /** @param {(side: Side) => void} listener */
    onSide(listener) { on("side", listener); },
    parts: PARTS,
  };
}

/**
 * How far a part is turned as drawn, clockwise, and about which point.
 * @param {Hand} hand
 * @param {import("./types.js").State} state
 * @param {Front | null} front
 * @param {Back | null} back
 */
export function turned(hand, { rete_deg, rule_deg, alidade_deg }, front, back) {
  if (hand === "alidade") return { deg: (back?.aries_deg ?? 0) - alidade_deg, pole: MIDDLE };
  const sign = front?.clockwise ? 1 : -1;
  return hand === "rete"
    ? { deg: sign * rete_deg, pole: front?.rete_pole ?? MIDDLE }
    : { deg: sign * rule_deg, pole: MIDDLE };
}

/** @typedef {ReturnType<typeof createStage>} Stage */
