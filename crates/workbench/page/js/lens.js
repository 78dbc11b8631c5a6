import { drawn, element } from "./element.js";

/**
 * Its width, as a part of the picture's, and how many times it enlarges.
 * @typedef {{width: number, power: number}} Glass
 */

/** @type {{small: Glass, large: Glass}} */
export const GLASSES = { small: { width: 0.3, power: 3 }, large: { width: 0.58, power: 4.4 } };

/**
 * A lens laid on the instrument where something is read.
 * @param {import("./stage.js").Stage} stage
 * @param {import("./turning.js").Turning} turning
 */
export function createLens(stage, turning) {
  const lens = element("div", { class: "lens", hidden: true, "aria-hidden": "true" });
  // What it stands for, where it lies elsewhere.
  const spot = element("div", { class: "lens-spot", hidden: true, "aria-hidden": "true" });
  stage.disc.after(lens, spot);
  let wanted = true;
  let { width, power } = GLASSES.small;
  /** @type {import("./types.js").Point | null} */
  let at = null;
  /** @type {import("./types.js").Point[]} */
  let beside = [];

  function show() {
    const front = stage.front;
    if (!front || !at || !wanted) {
      lens.hidden = spot.hidden = true;
      return;
    }
    // So much that a numeral is seen that tells where one is: the nearest of those beside.
    const here = at;
    const away = beside.map((one) => Math.hypot(one.x_mm - here.x_mm, one.y_mm - here.y_mm));
    const least = (front.reach_mm * width) / power;
    const half = away.length > 0 ? Math.min(Math.max(least, 1.25 * Math.min(...away)), 2 * least) : least;
    const view = drawn("svg", {
      class: "astrolabe",
      viewBox: `${at.x_mm - half} ${at.y_mm - half} ${2 * half} ${2 * half}`,
    });
    for (const part of stage.parts[stage.side]) {
      const moves = part === "rete" || part === "rule" || part === "alidade";
      const { deg, pole } = moves ? stage.turned(part) : { deg: 0, pole: { x_mm: 0, y_mm: 0 } };
      const transform = `translate(${pole.x_mm} ${pole.y_mm}) rotate(${deg})`;
      view.append(drawn("use", { href: `#${stage.side}-${part}`, transform }));
    }
    view.append(drawn("circle", {
      class: "aim", cx: at.x_mm, cy: at.y_mm, r: half * 0.09, "stroke-width": half * 0.025,
    }));
    // Under the lens the same line is finer: here it is read.
    lens.style.setProperty("--lit", `${front.reach_mm * 0.0022}px`);
    lens.dataset.side = stage.side;
    lens.replaceChildren(view);
    const part = (/** @type {number} */ mm) => 0.5 + mm / (2 * front.reach_mm);
    spot.style.left = `${part(at.x_mm) * 100}%`;
    spot.style.top = `${part(at.y_mm) * 100}%`;
    spot.style.width = `${(half / front.reach_mm) * 100}%`;
    // Kept within the picture; what it shows stays the place that is read.
    const within = (/** @type {number} */ mm) => Math.min(1 - width / 2, Math.max(width / 2, part(mm)));
    lens.style.left = `${within(at.x_mm) * 100}%`;
    lens.style.top = `${within(at.y_mm) * 100}%`;
    lens.style.width = `${width * 100}%`;
    lens.hidden = false;
    spot.hidden = lens.parentElement === stage.disc.parentElement;
  }

  turning.onTurned(() => { if (turning.moving || lens.hidden === false) hide(); });
  stage.onSide(hide);
  function hide() {
    at = null;
    lens.hidden = spot.hidden = true;
  }

  return {
    /**
     * @param {import("./types.js").Point | undefined} point
     * @param {import("./types.js").Point[]} [numerals] what is engraved beside it and tells where it is
     */
    lay(point, numerals = []) {
      at = point ?? null;
      beside = numerals;
      show();
    },
    hide,
    /**
     * Stands it elsewhere, where it hides nothing; null lays it on the instrument again.
     * @param {HTMLElement | null} aside
     */
    stand(aside) {
      if (aside) aside.append(lens);
      else stage.disc.after(lens);
      show();
    },
    get isLaid() { return !lens.hidden; },
    /** @param {Glass} other takes another glass */
    set glass(other) {
      ({ width, power } = other);
      show();
    },
    /** @param {boolean} whether */
    set wanted(whether) {
      wanted = whether;
      show();
    },
  };
}
