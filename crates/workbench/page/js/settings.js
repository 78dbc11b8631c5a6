import * as desk from "./desk.js";
import { byId, element, labelled } from "./element.js";
import { methodField } from "./method-field.js";
import { placeField } from "./place-field.js";
import { setSurroundings, surroundings } from "./surroundings.js";
import { plain, sentence } from "./words.js";

/**
 * What is kept from one day to the next.
 * @param {import("./types.js").Start} start
 * @param {import("./store.js").Store} store
 */
export function createSettings(start, store) {
  const panel = byId("settings");
  const opener = byId("open-settings");
  let kept = start.settings;
  const said = element("p", { class: "fault", role: "alert" });
  const done = element("p", { class: "quiet", role: "status" });

  /** @param {Partial<import("./types.js").Settings>} change */
  async function keep(change) {
    said.textContent = done.textContent = "";
    try {
      await desk.keep({ ...kept, ...change });
      kept = { ...kept, ...change };
      done.textContent = "Kept.";
    } catch (error) {
      said.textContent = sentence(error);
    }
  }

  const home = placeField("home", "Home place", (place) => keep({ home: place || null, zone: null }));
  home.show(kept.home ?? "");
  /**
   * @param {"with" | "by" | "figures"} name
   * @param {string} label
   * @param {string[]} values
   */
  const choice = (name, label, values) => {
    const select = element("select", { id: `usual-${name}` },
      element("option", { value: "" }, "not set"),
      ...values.map((value) => element("option", { value, selected: kept[name] === value }, plain(value))));
    select.addEventListener("change", () => keep({ [name]: select.value || null }));
    return element("div", { class: "field" }, element("label", { for: `usual-${name}` }, label), select);
  };
  const houses = methodField("usual-houses", start.methods, (name) => keep({ houses: name }), "not set");
  houses.show(kept.houses ?? "");
  const around = element("select", { id: "surroundings" },
    ...[["", "as the system has it"], ["light", "light"], ["dark", "dark"]].map(([value, text]) =>
      element("option", { value, selected: surroundings() === value }, text ?? "")));
  around.addEventListener("change", () => setSurroundings(/** @type {"" | "light" | "dark"} */ (around.value)));
  const procedures = [...new Set(start.cabinet.flatMap((one) => one.procedures))];
  const usual = element("button", { type: "button", onclick: () => store.ask(usualCase(kept)) }, "Now, at home");
  panel.append(
    element("h2", { id: "settings-title" }, "Settings"),
    element("div", { class: "fields" },
      home.group,
      choice("with", "Usual instrument", start.cabinet.map(({ name }) => name)),
      choice("by", "Usual cusp procedure", procedures),
      labelled("Usual house method", houses.select),
      choice("figures", "Figures are drawn", start.forms),
      element("div", { class: "field" }, element("label", { for: "surroundings" }, "Surroundings"), around)),
    element("p", { class: "row" }, usual), done, said);
  opener.addEventListener("click", () => {
    panel.hidden = !panel.hidden;
    opener.setAttribute("aria-expanded", String(!panel.hidden));
    if (!panel.hidden) home.input.focus();
  });
}

/**
 * Now, at home, with what is usual.
 * @param {import("./types.js").Settings} kept
 * @returns {import("./types.js").Case}
 */
export const usualCase = (kept) => ({
  when: "now",
  at: kept.home ?? "",
  zone: kept.zone,
  with: kept.with ? { named: kept.with } : null,
  houses: kept.houses,
  by: kept.by,
  read: {},
  without: [],
});
