import { element } from "./element.js";
import { capital } from "./words.js";

/**
 * The clocks by which the time may have been told, where their history is doubtful: each
 * with its source and the ascendant that it gives; one press takes one.
 * @param {import("./store.js").Store} store
 */
export function createCandidates(store) {
  const place = element("div", { class: "candidates" });

  /** @param {import("./types.js").Answer} answer */
  function show({ candidates }) {
    place.hidden = candidates.length === 0;
    place.replaceChildren(
      element("p", { class: "candidates-head" }, "It may have been told by another clock:"),
      element("ul", {}, ...candidates.map((one) => element("li", { "data-taken": String(one.taken) },
        element("button", {
          type: "button",
          "aria-pressed": String(one.taken),
          onclick: () => store.ask({ clock: one.clock, which: null }),
        }, one.ascendant_text ?? "no ascendant"),
        element("span", {}, capital(one.words), element("span", { class: "more" }, one.source))))));
  }

  return { place, show };
}
