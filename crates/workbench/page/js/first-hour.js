import * as desk from "./desk.js";
import { byId, element } from "./element.js";
import { createLeaf } from "./leaf.js";

/** @typedef {import("./types.js").PartsNamed} PartsNamed */

/**
 * The first hour: the instrument with its parts named, beside it and in a leaf of its
 * own with the words explained and lesson nought.
 * @param {import("./store.js").Store} store
 * @param {import("./stage.js").Stage} stage
 */
export function createFirstHour(store, stage) {
  /** @type {{of: string, parts: Promise<PartsNamed>} | null} */
  let asked = null;

  /** The parts of the instrument of the case, asked for once. */
  function parts() {
    const { answer } = store;
    if (!answer) return null;
    const request = {
      with: store.case.with ?? { named: answer.instrument.name },
      plate_latitude_deg: answer.instrument.plate_latitude_deg,
    };
    const of = JSON.stringify(request);
    if (asked?.of !== of) asked = { of, parts: desk.parts(request) };
    return asked.parts;
  }

  beside(stage, parts, store);
  return createLeaf("first-hour", (body) => {
    const told = element("div", {});
    body.append(told);
    const tell = async () => {
      const named = await failing(told, parts());
      if (named) told.replaceChildren(lesson(named), pictures(named), glossary(named, told));
    };
    store.onAnswer(tell);
    tell();
  });
}

/**
 * The picture beside the instrument, of the side that is seen.
 * @param {import("./stage.js").Stage} stage
 * @param {() => Promise<PartsNamed> | null} parts
 * @param {import("./store.js").Store} store
 */
function beside(stage, parts, store) {
  const picture = element("div", { class: "named" });
  const fold = element("details", { class: "help", id: "parts-named" },
    element("summary", {}, "The parts, named"), picture);
  byId("hands").after(fold);
  async function tell() {
    if (!fold.open) return;
    const named = await failing(picture, parts());
    if (named) picture.replaceChildren(drawn(named[`${stage.side}_svg`], "beside"));
  }
  fold.addEventListener("toggle", tell);
  stage.onSide(tell);
  store.onAnswer(tell);
}

/**
 * What comes, or in its place why it does not.
 * @param {HTMLElement} place
 * @param {Promise<PartsNamed> | null} coming
 */
async function failing(place, coming) {
  try {
    return coming && await coming;
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    place.replaceChildren(element("p", { class: "fault", role: "alert" }, message));
    return null;
  }
}

/**
 * @param {string} svg
 * @param {string} [place] where it stands, for its ids
 */
function drawn(svg, place = "leaf") {
  // No two drawings of the page share an id.
  const own = svg.replaceAll("named-", `${place}-named-`);
  const { documentElement } = new DOMParser().parseFromString(own, "image/svg+xml");
  documentElement.removeAttribute("width");
  documentElement.removeAttribute("height");
  return document.adoptNode(documentElement);
}

/** @param {PartsNamed} named */
function lesson(named) {
  const told = element("div", { class: "lesson-nought" });
  for (const { title, paragraphs } of named.first_hour) {
    told.append(element("h3", {}, title),
      ...paragraphs.map((paragraph) => element("p", {}, paragraph)));
  }
  return told;
}

/** @param {PartsNamed} named */
function pictures(named) {
  return element("div", { class: "named-both" },
    element("figure", { class: "named" }, drawn(named.front_svg), element("figcaption", {}, "The front")),
    element("figure", { class: "named" }, drawn(named.back_svg), element("figcaption", {}, "The back")));
}

/**
 * The words, each lighting in the pictures what it names.
 * @param {PartsNamed} named
 * @param {HTMLElement} told
 */
function glossary(named, told) {
  const list = element("dl", { class: "glossary" });
  for (const { word, meaning, older, common, shows } of named.glossary) {
    const light = (/** @type {boolean} */ whether) => {
      for (const name of shows) {
        const found = told.querySelectorAll(`[data-line="${CSS.escape(name)}"]`);
        for (const line of found) line.classList.toggle("lit", whether);
      }
    };
    const head = shows.length > 0
      ? element("button", {
        type: "button", class: "show-part",
        onfocus: () => light(true), onblur: () => light(false),
        onpointerenter: () => light(true), onpointerleave: () => light(false),
      }, word)
      : word;
    const others = [
      common.length > 0 && `Also called: ${common.join(", ")}.`,
      older.length > 0 && `Older texts: ${older.join(", ")}.`,
    ].filter((text) => text !== false);
    list.append(element("dt", {}, head), element("dd", {}, meaning,
      others.length > 0 && element("span", { class: "more quiet" }, ` ${others.join(" ")}`)));
  }
  return element("div", {}, element("h3", {}, "The words"), list);
}
