import { element } from "./element.js";

/** How long the browser may look for the place, and how old what it knows may be, in milliseconds. */
const PATIENCE = 20_000;
const FRESH = 300_000;

/** A clock put back shows the same time again after so many hours. */
const PUT_BACK = [0.5, 1, 2];

/** @type {Record<number, string>} */
const REFUSED = {
  1: "The browser was not allowed to say where you are. Write the town instead.",
  2: "The browser cannot tell where you are just now. Write the town instead.",
  3: "The browser has not found where you are in twenty seconds. Press again, or write the town.",
};

/**
 * Now and here, by one press: this minute, and the place that the browser tells when it is
 * asked. It is asked then, and at no other time.
 * @param {string} id
 * @param {import("./store.js").Store} store
 */
export function createHere(id, store) {
  const said = element("span", { class: "here-said", role: "status" });
  const button = element("button", { type: "button", id, class: "here", onclick: take }, "Now, here");

  function take() {
    if (!isSecureContext) return say("Where you are is told on a secure address (https) alone. Write the town instead.");
    if (!("geolocation" in navigator)) return say("This browser cannot tell where you are. Write the town instead.");
    say("Asking the browser where you are …");
    navigator.geolocation.getCurrentPosition(
      ({ coords }) => {
        say("");
        store.ask(caseOf(coords, new Date()));
      },
      ({ code }) => say(REFUSED[code] ?? REFUSED[2] ?? ""),
      { timeout: PATIENCE, maximumAge: FRESH },
    );
  }

  /** @param {string} text */
  function say(text) {
    said.textContent = text;
  }

  return { button, said };
}

/**
 * The case of this minute at a place. A thousandth of a degree is a hundred metres: no
 * instrument tells them apart.
 * @param {{latitude: number, longitude: number}} coords
 * @param {Date} now
 */
function caseOf({ latitude, longitude }, now) {
  const shows = (/** @type {number} */ hours) => minuteOf(new Date(now.getTime() + hours * 3_600_000)) === minuteOf(now);
  const which = PUT_BACK.some(shows) ? "earlier" : PUT_BACK.some((hours) => shows(-hours)) ? "later" : null;
  return {
    when: minuteOf(now),
    at: `${latitude.toFixed(3)},${longitude.toFixed(3)}`,
    zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    clock: null, calendar: null, plates: null, which,
  };
}

/**
 * 2024-05-14 09:20, by this machine's clock.
 * @param {Date} time
 */
function minuteOf(time) {
  const two = (/** @type {number} */ n) => String(n).padStart(2, "0");
  const day = `${time.getFullYear()}-${two(time.getMonth() + 1)}-${two(time.getDate())}`;
  return `${day} ${two(time.getHours())}:${two(time.getMinutes())}`;
}
