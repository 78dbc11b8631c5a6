import * as desk from "./desk.js";
import { element } from "./element.js";
import { latitude, sentence } from "./words.js";

/** @typedef {import("./types.js").Instrument} Instrument */

/**
 * An instrument drawn beside a form, as it is described so far: its front with one of its
 * plates, or its back.
 * @param {(called: string) => string} words beneath the drawing
 */
export function createDrawnBeside(words) {
  const plates = element("p", { class: "row", role: "group", "aria-label": "Plate" });
  const facing = element("div", { class: "own-front", role: "img", "aria-label": "It, as it is described" });
  const caption = element("p", { class: "quiet", "aria-live": "polite" });
  /** @type {{specification: string, instrument: Instrument} | null} */
  let shown = null;
  let wanted = "";
  let plate = 0;
  /** @type {"front" | "back"} */
  let side = "front";

  /**
   * @param {string} specification
   * @param {Instrument | null} instrument none where nothing can be drawn
   */
  async function draw(specification, instrument) {
    if (!instrument) return;
    shown = { specification, instrument };
    if (!instrument.plates_deg.includes(plate)) plate = instrument.plates_deg[0] ?? 0;
    plates.hidden = side === "back" || instrument.plates_deg.length < 2;
    plates.replaceChildren(...instrument.plates_deg.map((deg) => element("button", {
      type: "button", "aria-pressed": String(deg === plate),
      onclick: () => {
        plate = deg;
        again();
      },
    }, latitude(deg))));
    const now = JSON.stringify([specification, plate, side]);
    if (wanted === now) {
      if (facing.dataset.now === now) caption.textContent = told(instrument);
      return;
    }
    wanted = now;
    try {
      const asked = { with: { specification }, plate_latitude_deg: plate };
      const got = await (side === "back" ? desk.back(asked) : desk.front(asked));
      if (wanted !== now) return;
      facing.replaceChildren(drawing(got.svg));
      caption.textContent = told(instrument);
      facing.dataset.now = now;
      facing.dataset.drawn = specification;
      facing.dataset.side = side;
    } catch (error) {
      if (wanted !== now) return;
      wanted = "";
      caption.textContent = sentence(error);
    }
  }

  /** @param {Instrument} instrument */
  function told({ name, diameter_mm }) {
    const called = `${name}, ${diameter_mm} mm`;
    return words(side === "back" ? `${called}: the back` : `${called}, with the plate for ${latitude(plate)}`);
  }

  function again() {
    if (shown) draw(shown.specification, shown.instrument);
  }

  return {
    plates, facing, caption, draw,
    get side() { return side; },
    /** @param {"front" | "back"} to */
    turn(to) {
      side = to;
      again();
    },
  };
}

/**
 * A drawing that stands by itself: the stage has the same parts under the same names.
 * @param {string} svg
 */
function drawing(svg) {
  const made = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
  for (const one of made.querySelectorAll("title")) one.remove();
  for (const one of made.querySelectorAll("[id]")) one.removeAttribute("id");
  made.removeAttribute("role");
  made.setAttribute("aria-hidden", "true");
  made.setAttribute("class", "astrolabe");
  return document.adoptNode(made);
}
