import * as desk from "./desk.js";
import { createDrawnBeside } from "./drawn-beside.js";
import { element, labelled } from "./element.js";
import { fileName, save } from "./save.js";
import { createField } from "./specification-field.js";
import { createSpecificationText } from "./specification-text.js";
import { capital, sentence } from "./words.js";

/** @typedef {import("./answers.js").SpecificationAnswer} SpecificationAnswer */
/** @typedef {import("./specification-field.js").SpecificationField} SpecificationField */

/** Whoever goes on typing within this time is not yet asked about. */
const PAUSE_MS = 160;

/** The bench follows once nothing has been changed for so long: its parts take longer. */
const REST_MS = 900;

/** In the list of what to begin from. */
const IN_HAND = " in hand";

/**
 * A specification by its fields, with its picture and its text beside them: whichever is
 * changed, the others follow. Which fields there are, the desk says.
 * @param {import("./store.js").Store} store
 * @param {import("./shelf.js").Shelf} shelf
 * @param {() => void} rested is called when something else is to be shown on the bench
 */
export function createSpecificationForm(store, shelf, rested) {
  /** The text that changed fields are written in, and what was changed since it was so. */
  let base = "";
  /** @type {Map<string, boolean | string | null>} */
  let changed = new Map();
  let typing = false;
  /** @type {string[]} */
  let lostBefore = [];
  /** @type {string[]} */
  let lost = [];
  /** @type {string[]} */
  const undone = [];
  /** @type {import("./shelf.js").Before | null} */
  let before = null;
  /** @type {SpecificationAnswer | null} */
  let answer = null;
  let asked = 0;
  let answered = 0;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let waiting;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let resting;
  let benched = "";

  /** @type {Map<string, SpecificationField>} */
  const fields = new Map();
  const from = element("select", { id: "spec-from" });
  const undo = element("button", { type: "button", id: "spec-undo", disabled: true, onclick: takeBack }, "Take back");
  const groups = element("div", { class: "spec-groups" });
  const broken = element("p", { class: "fault", id: "spec-broken" });
  const gone = element("p", { class: "notice-lost", id: "spec-lost", hidden: true });
  const told = element("p", { class: "fault", id: "spec-told" });
  const done = element("p", { class: "quiet", role: "status", id: "spec-done" });
  const keep = element("button", { type: "button", id: "spec-keep", class: "first", onclick: keepIt }, "Keep it in the cabinet");
  const picture = createDrawnBeside((called) => (answer?.faults.length ? `${called}, without what is wrong.` : `${called}.`));
  const sides = /** @type {const} */ (["front", "back"]).map((side) => element("button", {
    type: "button", id: `spec-${side}`, "aria-pressed": String(side === "front"), onclick: () => turn(side),
  }, capital(side)));
  const text = createSpecificationText(() => {
    written();
    askSoon();
  });
  text.area.addEventListener("change", () => {
    written();
    typing = false;
    ask();
  });

  const section = element("div", { class: "spec-form", "data-answers": "0" },
    element("div", { class: "fields" },
      labelled("Begin from", from),
      element("p", { class: "row" }, undo,
        element("button", { type: "button", id: "spec-leave", onclick: () => begin("", null) }, "Put it aside"))),
    element("div", { class: "spec-bench" },
      element("div", { class: "spec-fields" }, broken, groups),
      element("div", { class: "own-drawn spec-drawn" },
        element("p", { class: "row", role: "group", "aria-label": "Side" }, ...sides),
        picture.facing, picture.caption, picture.plates),
      element("div", { class: "spec-beside" }, text.section, gone,
        element("p", { class: "row" }, keep,
          element("button", { type: "button", id: "spec-save", onclick: saveIt }, "Save as a file")),
        done, told)));

  from.addEventListener("change", () => { beginFrom(from.value).catch(tell); });
  shelf.onChanged(choices);
  store.onAnswer(choices);
  choices();

  /** @param {unknown} error */
  function tell(error) { told.textContent = sentence(error); }

  function choices() {
    const called = store.answer?.instrument.called ?? "the first of the cabinet";
    from.replaceChildren(
      element("option", { value: "" }, "this text"),
      element("option", { value: IN_HAND }, `${called}, which is in hand`),
      ...shelf.instruments.map(({ name }) => element("option", { value: name }, name)));
  }

  /** @param {string} chosen */
  async function beginFrom(chosen) {
    if (!chosen) return;
    const held = store.case.with ?? null;
    if (chosen === IN_HAND && held && "specification" in held) {
      await begin(held.specification, null);
      return;
    }
    const name = chosen === IN_HAND ? (held && "named" in held ? held.named : store.answer?.instrument.name) : chosen;
    if (!name) return;
    const got = await shelf.specification(name);
    await begin(got.text, got.in_folder ? { name, text: got.text } : null);
  }

  /** @param {string} was */
  function remember(was) {
    if (was.trim() && undone.at(-1) !== was) undone.push(was);
  }

  /** What is changed by fields from now on is changed in the text as it stands. */
  function settle() {
    typing = false;
    if (changed.size > 0) remember(base);
    stand();
  }

  /** The text was written in: taken back, it is as it was before the first key. */
  function written() {
    if (base === text.value) return;
    if (!typing) {
      if (changed.size > 0) remember(base);
      remember(answer?.text ?? "");
      typing = true;
    }
    stand();
  }

  function stand() {
    lostBefore = lost;
    base = text.value;
    changed = new Map();
  }

  /**
   * @param {string} now
   * @param {import("./shelf.js").Before | null} instead the one of the cabinet that it is
   */
  async function begin(now, instead) {
    if (text.value !== now) {
      settle();
      remember(base);
    }
    before = instead;
    fill(now);
    told.textContent = done.textContent = "";
    from.value = "";
    await ask();
    rest(0);
  }

  function takeBack() {
    const now = changed.size > 0 ? base : undone.pop();
    if (now === undefined) return;
    fill(now);
    ask();
  }

  /** @param {string} now */
  function fill(now) {
    typing = false;
    lost = lostBefore = [];
    changed = new Map();
    base = text.value = now;
  }

  /**
   * @param {string} key
   * @param {boolean | string | null} to
   * @param {"front" | "back"} side
   */
  function follow(key, to, side) {
    // While nothing is under way, each field is a change of its own.
    if (!changed.has(key) && answered === asked && waiting === undefined) settle();
    changed.set(key, to);
    turn(side);
    askSoon();
  }

  function askSoon() {
    done.textContent = told.textContent = "";
    clearTimeout(waiting);
    waiting = setTimeout(ask, PAUSE_MS);
  }

  /** Asks the desk what it comes to, and shows it. */
  async function ask() {
    clearTimeout(waiting);
    waiting = undefined;
    const mine = ++asked;
    if (!base.trim() && changed.size === 0) {
      show(null);
    } else {
      try {
        const got = await desk.specificationForm({ text: base, set: [...changed].map(([key, to]) => ({ key, to })) });
        if (mine !== asked) return;
        show(got);
      } catch (error) {
        if (mine !== asked) return;
        tell(error);
      }
    }
    answered = mine;
    section.dataset.answers = String(mine);
    rest(REST_MS);
  }

  /** @param {number} ms */
  function rest(ms) {
    clearTimeout(resting);
    resting = setTimeout(() => {
      // What is wrong is told here; the bench shows what can be made.
      if (benched === text.value || answer?.faults.length) return;
      benched = text.value;
      rested();
    }, ms);
  }

  /** @param {SpecificationAnswer | null} got */
  function show(got) {
    answer = got;
    const faults = got?.faults ?? [];
    undo.disabled = undone.length === 0 && changed.size === 0;
    const readable = got !== null && got.groups.length > 0;
    if (got && changed.size > 0) text.value = got.text;
    text.tell(faults);
    broken.textContent = got && !readable ? "The text cannot be read, so that its fields are not shown. Mend it at the line that is told, or take the change back." : "";
    groups.hidden = !readable;
    lost = [...lostBefore, ...(got?.lost ?? [])];
    gone.hidden = lost.length === 0;
    gone.textContent = lost.length === 1 ? `A comment went with what it stood in: ${lost[0]}` : `Comments went with what they stood in: ${lost.join("  ")}`;
    keep.disabled = faults.length > 0 || got === null;
    keep.textContent = before && got?.instrument?.name === before.name ? "Keep the change in the cabinet" : "Keep it in the cabinet";
    if (!got || !readable) return;
    if (groups.childElementCount === 0) lay(got);
    for (const group of got.groups) {
      for (const field of group.fields) {
        fields.get(field.key)?.show(field, faults.filter(({ key }) => key === field.key));
      }
    }
    for (const [index, one] of [...groups.children].entries()) {
      const keys = got.groups[index]?.fields.map(({ key }) => key) ?? [];
      const wrong = faults.filter(({ key }) => key !== null && keys.includes(key)).length;
      const stated = got.groups[index]?.fields.filter((field) => field.stated !== null).length ?? 0;
      const said = one.querySelector(".group-said");
      if (said) said.textContent = wrong ? `${wrong} to mend` : stated ? `${stated} stated` : "as usual";
      one.classList.toggle("wrong", wrong > 0);
    }
    if (got.drawn) picture.draw(got.drawn, got.instrument);
  }

  /**
   * Lays the form out, once.
   * @param {SpecificationAnswer} got
   */
  function lay(got) {
    groups.replaceChildren(...got.groups.map((group, index) => element("details", { class: "spec-group", open: index === 0 },
      element("summary", {}, group.title, " ", element("span", { class: "group-said" })),
      element("div", { class: "spec-rows" }, ...group.fields.map((field) => {
        const made = createField(field, (to) => follow(field.key, to, group.side === "back" ? "back" : "front"));
        fields.set(field.key, made);
        return made.row;
      })))));
  }

  /** @param {"front" | "back"} side */
  function turn(side) {
    if (side === picture.side) return;
    for (const one of sides) one.setAttribute("aria-pressed", String(one.id === `spec-${side}`));
    picture.turn(side);
  }

  async function keepIt() {
    told.textContent = done.textContent = "";
    const now = text.value;
    try {
      const instead = before && answer?.instrument?.name === before.name ? before : null;
      const name = await shelf.keep(now, instead);
      before = { name, text: now };
      done.textContent = `${capital(name)} is in the cabinet; the line at the top takes it in hand.`;
    } catch (error) {
      tell(error);
    }
  }

  function saveIt() {
    save(`${fileName(answer?.instrument?.name ?? "instrument")}.toml`, new Blob([text.value], { type: "text/plain" }));
  }

  return {
    section,
    area: text.area,
    get text() { return text.value.trim(); },
    /** Shows what stands there; begins with the instrument in hand where nothing does. */
    async open() {
      if (text.value.trim()) await ask();
      else await beginFrom(IN_HAND).catch(tell);
    },
    /** @param {string} now */
    begin: (now) => begin(now, null),
  };
}
