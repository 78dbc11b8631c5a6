import { element } from "./element.js";
import { help } from "./help.js";
import { picture, table } from "./shares.js";
import { procedure } from "./store.js";
import { numeral, plain, signed, zodiacal, capital } from "./words.js";

/** @typedef {import("./types.js").Why} Why */

/** The cusps below; those above are their opposites, and differ alike. */
const BELOW = [2, 3, 5, 6];

/**
 * The calculated values, one sentence why each differs, and behind it the shares.
 * @param {HTMLElement} place
 * @param {import("./store.js").Store} store
 * @param {import("./chapter.js").Chapter} chapter
 */
export function createWhy(place, store, chapter) {
  const list = element("div", { class: "whys" });
  const method = element("p", { class: "quiet" });
  place.append(method, list, help(
    "What are the shares?",
    "The same working is done again and again on paper, each time giving up one perfection: the exact sum, the plate of just this latitude, true curves, a faultless instrument, an eye without limit. What each change moves the reading by is that cause’s share, and together they make up the whole difference.",
  ));
  /** Which stand open, by name: they stay so when the case changes. */
  const open = new Set();

  store.onAnswer(show);
  chapter.onChange(() => { if (store.answer) show(store.answer); });

  /** @param {import("./types.js").Answer} answer */
  function show(answer) {
    const why = answer.why;
    const houses = chapter.whole ? `Calculated with houses by ${plain(answer.figure.method)}.` : "";
    method.textContent = why ? houses : `${capital(answer.reason ?? "")}.`;
    if (!why) {
      list.replaceChildren();
      return;
    }
    const read = store.case.read;
    const cusps = !chapter.whole ? [] : (why.cusps[procedure(store.case)] ?? [])
      .filter(({ house }) => BELOW.includes(house) || (read[numeral(house)] && house !== 1 && house !== 10));
    list.replaceChildren(
      one("Ascendant", why.ascendant, Boolean(read["ascendant"])),
      ...(chapter.whole ? [one("Midheaven", why.midheaven, Boolean(read["midheaven"]))] : []),
      ...cusps.map((cusp) => one(`Cusp ${numeral(cusp.house)}`, cusp, Boolean(read[numeral(cusp.house)]))),
    );
  }

  /**
   * @param {string} name
   * @param {Why} why
   * @param {boolean} mine
   */
  function one(name, why, mine) {
    const head = element("summary", {},
      element("span", { class: "name" }, name),
      element("span", { class: "value" }, zodiacal(why.exact_deg)),
      element("span", { class: "differs" }, why.difference_deg === null ? "" : `differs ${signed(why.difference_deg)}`),
      element("span", { class: "sentence" }, mine && why.sentence ? `What I read: ${why.sentence.charAt(0).toLowerCase()}${why.sentence.slice(1)}` : capital(why.sentence ?? why.reason ?? "")));
    const box = element("details", { class: "why-one", open: open.has(name) }, head);
    if (why.shares.length > 0) box.append(picture(why, name), table(why, name));
    box.addEventListener("toggle", () => (box.open ? open.add(name) : open.delete(name)));
    return box;
  }
}
