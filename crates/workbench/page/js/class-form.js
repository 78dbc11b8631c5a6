import { element, labelled } from "./element.js";
import { instrumentList } from "./instrument-list.js";
import { placeField } from "./place-field.js";

/** An invented class: no pupil of it lives or lived. */
const INVENTED = {
  name: "Tuesday class",
  pupils: [
    ["Aldara Example", "class instrument", "1"], ["Brais Example", "date-ring instrument", "1"],
    ["Clodio Example", "pocket instrument", "2"], ["Delia Example", "lecture instrument", "3"],
  ],
};

/** What is being written stays through a reload. */
const KEY = "almuri-class";

/** How hard questions are: by number, name, and what is asked. */
export const LEVELS = [["1", "beginner"], ["2", "practised, with cusps"], ["3", "adept, where it is awkward"]];

/** What the levels are called. */
const NAMES = /** @type {Record<string, string>} */ ({ 1: "beginner", 2: "practised", 3: "adept" });

/**
 * A class, asked in fields: who is in it, with which instruments. What it comes to is the
 * text of a class file; one of one’s own may stand in its place.
 * @param {import("./store.js").Store} store
 * @param {import("./shelf.js").Shelf} shelf
 */
export function createClassForm(store, shelf) {
  const name = element("input", { id: "class-name", type: "text", autocomplete: "off" });
  let at = "";
  const place = placeField("class-place", "Place", (chosen) => {
    at = chosen;
    keep();
  });
  const year = element("input", { id: "class-year", type: "text", inputmode: "numeric", size: "6", autocomplete: "off" });
  const seed = element("input", { id: "class-seed", type: "text", inputmode: "numeric", size: "8", autocomplete: "off" });
  const count = element("input", { id: "class-questions", type: "number", min: "1", max: "60", value: "6" });
  const rows = element("ul", { class: "pupils", id: "pupils" });
  const own = element("textarea", { id: "class-text", rows: "10", spellcheck: "false" });
  const file = element("input", { type: "file", id: "class-file", accept: ".toml,text/plain" });
  file.addEventListener("change", async () => {
    const chosen = file.files?.[0];
    if (chosen) own.value = await chosen.text();
  });
  let made = 0;
  /** @type {import("./types.js").KeptClass | null} */
  let before = null;

  /** @param {string} [whose] @param {string} [instrument] @param {string} [level] */
  function row(whose = "", instrument = "", level = "1") {
    const number = ++made;
    const instruments = instrumentList(`pupil-with-${number}`, shelf);
    instruments.show(instrument || (shelf.instruments[0]?.name ?? ""));
    const item = element("li", {},
      labelled("Pupil", element("input", { id: `pupil-name-${number}`, type: "text", autocomplete: "off", value: whose })),
      labelled("Instrument", instruments.select),
      labelled("Level", element("select", { id: `pupil-level-${number}` }, ...LEVELS.map(([value, text]) =>
        element("option", { value, selected: value === level }, text)))),
      element("button", {
        type: "button", "aria-label": `Take pupil ${number} away`,
        onclick: () => {
          item.remove();
          keep();
        },
      }, "×"));
    return item;
  }

  /** @param {string} title @param {string[][]} pupils */
  function fill(title, pupils) {
    before = null;
    name.value = title;
    at = store.case.at;
    place.show(at);
    year.value = String(new Date().getFullYear());
    // A seed is anything; the year and the day make another of every day.
    seed.value = String(Math.floor(Date.now() / 86_400_000));
    own.value = "";
    rows.replaceChildren(...pupils.map(([whose, instrument, level]) => row(whose, instrument, level)));
  }

  const texts = { name, year, seed, count, own };

  /** What each pupil’s row holds. */
  const pupils = () => [...rows.children].map((item) => [...item.querySelectorAll("input, select")].map((field) =>
    /** @type {HTMLInputElement | HTMLSelectElement} */ (field).value));

  function keep() {
    const said = Object.fromEntries(Object.entries(texts).map(([key, field]) => [key, field.value]));
    localStorage.setItem(KEY, JSON.stringify({ ...said, at, pupils: pupils() }));
  }

  /** Takes up what was being written before the page was loaded anew. */
  function takeUp() {
    fill("", [[""]]);
    try {
      const kept = JSON.parse(localStorage.getItem(KEY) ?? "null");
      if (!kept) return;
      for (const [key, field] of Object.entries(texts)) field.value = String(kept[key] ?? "");
      at = String(kept.at ?? "");
      place.show(at);
      rows.replaceChildren(...kept.pupils.map((/** @type {string[]} */ one) => row(...one)));
    } catch {
      // What another version kept is let go.
    }
  }
  takeUp();

  /** The level that most have: who has it is asked what all are. */
  function commonLevel() {
    const all = pupils().map(([, , level]) => level ?? "1");
    const times = (/** @type {string} */ level) => all.filter((one) => one === level).length;
    return Object.keys(NAMES).reduce((best, level) => (times(level) > times(best) ? level : best));
  }

  /** The class, as it is kept. */
  function said() {
    if (own.value.trim()) return { text: own.value };
    const level = commonLevel();
    return { class: {
      ...(before?.class ?? {}),
      name: name.value.trim(), place: at.trim(), level: NAMES[level] ?? "",
      pupils: pupils().map(([whose, instrument, theirs]) => {
        const name = (whose ?? "").trim();
        // A place of their own is in no field; it stays.
        const place = before?.class.pupils.find((one) => one.name === name)?.place;
        return {
          name, with: instrument ?? "",
          ...(place ? { place } : {}),
          ...(theirs === level ? {} : { level: NAMES[theirs ?? ""] ?? "" }),
        };
      }),
    } };
  }

  /** The text of the class file. */
  function text() {
    if (own.value.trim()) return own.value;
    const common = commonLevel();
    // A JSON text is a text of TOML too.
    const quoted = JSON.stringify;
    /** @param {string} value what is no number is left for the desk to refuse */
    const number = (value) => (/^\d+$/.test(value.trim()) ? value.trim() : quoted(value.trim()));
    const all = pupils().map(([whose, instrument, level]) => {
      return `[[pupils]]\nname = ${quoted((whose ?? "").trim())}\nwith = ${quoted(instrument)}\n${level === common ? "" : `level = ${level}\n`}`;
    });
    return `version = 1\nname = ${quoted(name.value.trim())}\nplace = ${quoted(at.trim())}\nyear = ${number(year.value)}\n`
      + `seed = ${number(seed.value)}\nquestions = ${number(count.value)}\nlevel = ${common}\n\n${all.join("\n")}`;
  }

  const group = element("div", { class: "class-form" },
    element("div", { class: "fields" }, labelled("Head of the sheets", name), place.group),
    element("div", { class: "fields" },
      labelled("Year of the dates", year), labelled("Questions", count), labelled("Seed", seed)),
    rows,
    element("p", { class: "row" },
      element("button", { type: "button", id: "one-more", onclick: () => {
        rows.append(row());
        keep();
      } }, "One more pupil"),
      element("button", { type: "button", id: "class-example", onclick: () => {
        fill(INVENTED.name, INVENTED.pupils);
        keep();
      } }, "An invented class")),
    element("details", { class: "further" },
      element("summary", {}, "A class file of my own"),
      element("div", { class: "field" }, element("label", { for: "class-text" }, "Instead of the fields above"), own),
      element("div", { class: "field" }, element("label", { for: "class-file" }, "or from a file"), file)));
  group.addEventListener("input", keep);
  group.addEventListener("change", keep);
  return {
    group,
    get text() { return text(); },
    get said() { return said(); },
    /** The kept class that the form was filled with, if one is. */
    get before() { return before; },
    /** @param {import("./types.js").KeptClass} kept */
    takeUp(kept) {
      before = kept;
      const { class: one } = kept;
      const number = (/** @type {string} */ level) => Object.entries(NAMES).find(([, called]) => called === level)?.[0] ?? "1";
      name.value = one.name;
      at = one.place;
      place.show(at);
      own.value = "";
      rows.replaceChildren(...one.pupils.map((each) => row(each.name, each.with, number(each.level ?? one.level))));
      keep();
    },
  };
}

/** @typedef {ReturnType<typeof createClassForm>} ClassForm */
