import { element } from "./element.js";

/** How far a key moves it, as a part of the place it points in. */
const STEP = 0.02;

const KEYS = /** @type {Record<string, readonly [number, number]>} */ ({
  ArrowLeft: [-STEP, 0], ArrowRight: [STEP, 0], ArrowUp: [0, -STEP], ArrowDown: [0, STEP],
});

/**
 * A teacher's pointer: a ring that can be seen from the last row. It follows mouse, pen and
 * finger, and the arrow keys with Shift.
 * @param {HTMLElement} place
 */
export function createPointer(place) {
  const ring = element("div", { class: "pointer", hidden: true, "aria-hidden": "true" });
  place.append(ring);
  let [x, y] = [0.3, 0.5];

  /** @param {number} to_x @param {number} to_y parts of the place's sides */
  function move(to_x, to_y) {
    [x, y] = [Math.min(1, Math.max(0, to_x)), Math.min(1, Math.max(0, to_y))];
    ring.style.left = `${x * 100}%`;
    ring.style.top = `${y * 100}%`;
  }

  place.addEventListener("pointermove", ({ clientX, clientY }) => {
    if (ring.hidden) return;
    const box = place.getBoundingClientRect();
    move((clientX - box.left) / box.width, (clientY - box.top) / box.height);
  });

  return {
    /** @param {boolean} whether */
    show(whether) {
      ring.hidden = !whether;
      place.classList.toggle("pointed-at", whether);
      move(x, y);
    },
    /** Whether a key moves it: then it has. @param {string} key */
    key(key) {
      const by = KEYS[key];
      if (by) move(x + by[0], y + by[1]);
      return by !== undefined;
    },
  };
}
