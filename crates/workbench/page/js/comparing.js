import * as desk from "./desk.js";
import { element } from "./element.js";
import { sentence } from "./words.js";

/**
 * How far off each instrument of the cabinet reads at the case's place, over a year.
 * @param {import("./store.js").Store} store
 */
export function comparing(store) {
  const fault = element("p", { class: "fault", role: "alert" });
  const found = element("figure", { class: "drawn compared", id: "compared", tabindex: "0", "aria-label": "Instruments compared" });
  const ask = element("button", { type: "button", id: "ask-compare" }, "Compare them");
  let asked = 0;
  ask.addEventListener("click", async () => {
    const mine = ++asked;
    fault.textContent = "";
    ask.disabled = true;
    try {
      const answer = await desk.compare({ moment: { ...store.case, read: {}, without: [] }, with: [] });
      if (mine === asked) found.innerHTML = answer.svg;
    } catch (error) {
      if (mine === asked) fault.textContent = sentence(error);
    }
    ask.disabled = false;
    found.dataset.answers = String(mine);
  });
  store.onAnswer(() => {
    asked += 1;
    found.replaceChildren();
    fault.textContent = "";
  });
  return element("div", { class: "comparing" },
    element("h3", {}, "Which instrument serves here"),
    element("p", {}, "All instruments at hand, your own and the demonstration’s, work the same figures, at every hour of the day through the year from the case’s date, at its place, and are held against calculation."),
    element("p", { class: "row" }, ask), fault, found);
}
