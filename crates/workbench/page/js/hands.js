import { element } from "./element.js";
import { degrees, zodiacal } from "./words.js";
import { help } from "./help.js";

/** @typedef {import("./turning.js").Turning} Turning */
/** @typedef {import("./turning.js").Hand} Hand */

/** What each key turns by, in degrees; with Shift a tenth of it. */
const KEYS = /** @type {Record<string, number>} */ ({
  ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 15, PageDown: -15,
});

/** For each part its name, and how its place is said: to the eye, and read out. */
const HANDS = /** @type {const} */ ({
  rete: { name: "Rete", value: degrees, said: (/** @type {string} */ at) => `0° Aries stands at ${at} from noon` },
  rule: { name: "Rule", value: degrees, said: (/** @type {string} */ at) => `stands at ${at} from noon` },
  alidade: { name: "Alidade", value: zodiacal, said: (/** @type {string} */ at) => `lies on ${at} of the zodiac scale` },
});

/**
 * A handle for each part that turns: by keys, or by its two buttons, for those who
 * do not drag; and the button that turns the whole instrument over.
 * @param {HTMLElement} place
 * @param {Turning} turning
 * @param {import("./stage.js").Stage} stage
 */
export function createHands(place, turning, stage) {
  const hands = { rete: handle("rete"), rule: handle("rule"), alidade: handle("alidade") };
  const over = element("button", {
    type: "button", id: "turn-over",
    onclick: () => stage.turnOver(stage.side === "front" ? "back" : "front"),
  });
  place.append(
    ...Object.values(hands).map((hand) => hand.group),
    over,
    help(
      "How to turn it",
      "Drag the rete or the rule, and on the back the alidade. Or choose one of the handles and use the arrow keys: a degree at a time, a tenth of a degree with Shift, fifteen degrees with Page Up and Page Down. Once it is in hand the wheel turns it too.",
      "The rule turns on the front, the alidade on the back; older texts call the front one the label. Nothing snaps: it stands where you leave it.",
    ),
  );
  stage.onGrasp((hand) => hands[hand].slider.focus({ preventScroll: true }));
  stage.onSide(show);
  show();

  function show() {
    const back = stage.side === "back";
    hands.rete.group.hidden = hands.rule.group.hidden = back;
    hands.alidade.group.hidden = !back;
    over.textContent = back ? "Show the front" : "Show the back";
  }

  /** @param {Hand} hand */
  function handle(hand) {
    const { name, value, said } = HANDS[hand];
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
    const tell = () => {
      const deg = turning.state[`${hand}_deg`];
      shown.textContent = value(deg);
      slider.setAttribute("aria-valuenow", deg.toFixed(2));
      slider.setAttribute("aria-valuetext", said(value(deg)));
    };
    turning.onTurned(tell);
    tell();
    const group = element("div", { class: "hand" }, button("‹", "back", -1), slider, button("›", "onward", 1));
    return { group, slider };
  }
}
