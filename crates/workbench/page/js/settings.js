import * as desk from "./desk.js";
import { byId, element, labelled } from "./element.js";
import { createElsewhere } from "./elsewhere.js";
import { instrumentList } from "./instrument-list.js";
import { methodField } from "./method-field.js";
import { placeField } from "./place-field.js";
import { onSurroundings, setSurroundings, surroundings } from "./surroundings.js";
import { plain, sentence } from "./words.js";

/**
 * What is kept from one day to the next.
 * @param {import("./types.js").Start} start
 * @param {import("./store.js").Store} store
 * @param {import("./shelf.js").Shelf} shelf
 */
export function createSettings(start, store, shelf) {
  const panel = byId("settings");
  const opener = byId("open-settings");
  let kept = start.settings;
  const events = new EventTarget();
  const said = element("p", { class: "fault", role: "alert" });
  const done = element("p", { class: "quiet", role: "status" });

  /** @param {Partial<import("./types.js").Settings>} change */
  async function keep(change) {
    said.textContent = done.textContent = "";
    try {
      await desk.keep({ ...kept, ...change });
      kept = { ...kept, ...change };
      done.textContent = "Kept.";
      follow(kept.with);
    } catch (error) {
      said.textContent = sentence(error);
    }
  }

  /**
   * The usual instrument is another, or called otherwise: what is kept says so already.
   * @param {string | null} name
   */
  function follow(name) {
    kept = { ...kept, with: name };
    instruments.show(name ?? "");
    events.dispatchEvent(new Event("kept"));
  }

  const instruments = instrumentList("usual-with", shelf, "not set");
  instruments.show(kept.with ?? "");
  instruments.select.addEventListener("change", () => keep({ with: instruments.select.value || null }));
  const home = placeField("home", "Home place", (place) => keep({ home: place || null, zone: null }));
  home.show(kept.home ?? "");
  /**
   * @param {"by" | "sun" | "figures"} name
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
    ...[["", "as the system has it"], ["light", "light"], ["dark", "dark"], ["red", "a red light"]].map(([value, text]) =>
      element("option", { value, selected: surroundings() === value }, text ?? "")));
  around.addEventListener("change", () => setSurroundings(/** @type {import("./surroundings.js").Surroundings} */ (around.value)));
  onSurroundings(() => { around.value = surroundings(); });
  const address = element("input", {
    id: "page-address", type: "url", autocomplete: "off", spellcheck: "false",
    placeholder: "https://example.org/almuri/", value: kept.page_address ?? "",
  });
  address.addEventListener("change", () => keep({ page_address: address.value.trim() || null }));
  const procedures = [...new Set(start.cabinet.flatMap((one) => one.procedures))];
  const elsewhere = createElsewhere();
  const usual = element("button", { type: "button", onclick: () => store.ask(usualCase(kept)) }, "Now, at home");
  panel.append(
    element("h2", { id: "settings-title" }, "Settings"),
    element("div", { class: "fields" },
      home.group,
      labelled("Usual instrument", instruments.select),
      choice("by", "Usual cusp procedure", procedures),
      choice("sun", "The Sun’s degree from", ["instrument", "ephemeris"]),
      labelled("Usual house method", houses.select),
      choice("figures", "Figures are drawn", start.forms),
      labelled("Address of this page for others", address),
      element("div", { class: "field" }, element("label", { for: "surroundings" }, "Surroundings"), around)),
    element("p", { class: "row" }, usual), done, said, elsewhere.shown);
  opener.addEventListener("click", () => {
    panel.hidden = !panel.hidden;
    opener.setAttribute("aria-expanded", String(!panel.hidden));
    if (panel.hidden) return;
    home.input.focus();
    elsewhere.show().catch((error) => { said.textContent = sentence(error); });
  });
  return {
    get kept() { return kept; },
    keep,
    follow,
    /** @param {() => void} listener */
    onKept(listener) { events.addEventListener("kept", listener); },
  };
}

/** @typedef {ReturnType<typeof createSettings>} SettingsPanel */

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
  sun: kept.sun,
  read: {},
  without: [],
});
