import { element } from "./element.js";
import { degrees } from "./words.js";
import { help } from "./help.js";

/** @typedef {import("./turning.js").Turning} Turning */
/** @typedef {import("./turning.js").Hand} Hand */

/** What each key turns by, in degrees; with Shift a tenth of it. */
const KEYS = /** @type {Record<string, number>} */ ({
  ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 15, PageDown: -15,
});

/**
 * A handle for each part that turns: by keys, or by its two buttons, for those who
 * do not drag.
 * @param {HTMLElement} place
 * @param {Turning} turning
 * @param {import("./stage.js").Stage} stage
 */
export function createHands(place, turning, stage) {
  const hands = [
    handle("rete", "Rete", "0° Aries stands at", () => turning.state.rete_deg),
    handle("rule", "Rule", "stands at", () => turning.state.rule_deg),
  ];
  place.append(
    ...hands.map((hand) => hand.group),
    help(
      "How to turn it",
      "Drag the rete or the rule. Or choose one of these two handles and use the arrow keys: a degree at a time, a tenth of a degree with Shift, fifteen degrees with Page Up and Page Down. Once it is in hand the wheel turns it too.",
      "The rule turns on the front, the alidade on the back; older texts call the front one the label. Nothing snaps: it stands where you leave it.",
    ),
  );
  stage.onGrasp((hand) => hands[hand === "rete" ? 0 : 1]?.slider.focus({ preventScroll: true }));

  /**
   * @param {Hand} hand
   * @param {string} name
   * @param {string} says
   * @param {() => number} value
   */
  function handle(hand, name, says, value) {
    const shown = element("span", { class: "value" });
    const slider = element("div", {
      class: "slider", role: "slider", tabindex: "0", id: `hand-${hand}`,
      "aria-label": name, "aria-valuemin": "0", "aria-valuemax": "360",
      onkeydown: (/** @type {KeyboardEvent} */ event) => {
        const by = KEYS[event.key];
        if (by === undefined || event.ctrlKey || event.altKey || event.metaKey) return;
        event.preventDefault();
        turning.turn(hand, event.shiftKey ? by / 10 : by);
      },
    }, `${name} `, shown);
    const button = (/** @type {string} */ sign, /** @type {string} */ way, /** @type {number} */ by) =>
      element("button", {
        type: "button", "aria-label": `${name} ${way} a degree`,
        onclick: () => turning.turn(hand, by),
      }, sign);
    const show = () => {
      shown.textContent = degrees(value());
      slider.setAttribute("aria-valuenow", value().toFixed(2));
      slider.setAttribute("aria-valuetext", `${says} ${degrees(value())} from noon`);
    };
    turning.onTurned(show);
    show();
    const group = element("div", { class: "hand" }, button("‹", "back", -1), slider, button("›", "onward", 1));
    return { group, slider };
  }
}
