import * as desk from "./desk.js";
import { element, labelled } from "./element.js";
import { help } from "./help.js";
import { createLeaf } from "./leaf.js";
import { fileName, save } from "./save.js";
import { paper } from "./paper.js";
import { capital, sentence } from "./words.js";

/** @typedef {import("./types.js").KeptClass} KeptClass */
/** @typedef {import("./types.js").ClassLook} ClassLook */
/** @typedef {import("./types.js").KeptPaper} KeptPaper */

const MARKS = /** @type {Record<string, string>} */ ({
  right: "✓ right", follows: "✓ follows", rough: "~ rough", wrong: "✗ not right",
});

/** What is printed of a class. */
const PRINTS = /** @type {const} */ ([
  ["sheets", "Everyone’s sheet"], ["key", "The key"], ["key-at-length", "The key at length"], ["seating", "The seating list"],
]);

/**
 * The classes that are kept: sheets given out, answers entered and corrected, and what
 * they say together.
 * @param {(kept: KeptClass) => void} change takes a class into the form in which it is made
 */
export function createClasses(change) {
  const which = element("select", { id: "classes-which" });
  const fault = element("p", { class: "fault", role: "alert" });
  const done = element("p", { class: "quiet", role: "status", id: "classes-done" });
  const about = element("div", { id: "classes-about" });
  const answers = element("div", { id: "classes-answers" });
  /** @type {KeptClass[]} */
  let classes = [];
  /** @type {{kept: KeptClass, look: ClassLook} | null} */
  let looked = null;
  /** The sheet that is worked with. */
  let sheet = 0;

  const leaf = createLeaf("classes", (body) => body.append(
    element("div", { class: "fields" }, labelled("Class", which)),
    about, fault, done, answers,
    help(
      "Where are they kept?",
      "With the casebook, on this machine, by the same rules: every change is on the disk before it is said to be done, the casebook’s “Undo the last change” takes it back, and what is deleted is gone from the backups too. They go out and in with the casebook’s JSON.",
      "A class is made and changed under “Teaching”. What was given out stays as it was given, whatever is changed in the class later.",
    )), list);

  /**
   * Does something, and tells what went wrong.
   * @param {() => Promise<string | void>} work
   */
  async function doing(work) {
    fault.textContent = "";
    done.textContent = "";
    try {
      done.textContent = (await work()) ?? "";
    } catch (error) {
      fault.textContent = sentence(error);
    }
    leafDone();
  }

  /** For whoever watches the page from outside. */
  function leafDone() {
    done.dataset.done = String(Number(done.dataset.done ?? 0) + 1);
  }

  /** @param {number} [id] the class to be shown */
  async function list(id) {
    await doing(async () => {
      const before = id ?? Number(which.value);
      const found = await desk.classes("list");
      classes = found.classes;
      which.replaceChildren(...classes.map(({ id: number, class: one }) =>
        element("option", { value: String(number) }, `${one.name}, ${one.pupils.length} pupils`)));
      if (classes.some(({ id: number }) => number === before)) which.value = String(before);
      answers.replaceChildren();
      if (classes.length === 0) {
        looked = null;
        about.replaceChildren(element("p", {}, "No class is kept yet. Make one under “Teaching” and keep it there."));
        return found.notices.join(" ");
      }
      await look();
      return found.notices.join(" ");
    });
  }
  which.addEventListener("change", () => doing(async () => {
    sheet = 0;
    answers.replaceChildren();
    await look();
  }));

  async function look() {
    show(await desk.classes("look", { id: Number(which.value) }));
  }

  /** @param {{kept: KeptClass, look: ClassLook}} it */
  function show(it) {
    looked = it;
    const { sheets } = it.look;
    if (!sheets.some((one) => one.sheet === sheet)) sheet = sheets[0]?.sheet ?? 0;
    about.replaceChildren(classLine(it.kept), giving(it.kept), ...(sheet > 0 ? [given(it), ...report(it)] : []));
  }

  /** @param {KeptClass} kept */
  function classLine(kept) {
    const { class: one } = kept;
    return element("div", {},
      element("p", {}, `${one.place}; ${one.level}. ${one.pupils.map(({ name, with: brass, level }) => `${name}, ${brass}${level ? `, ${level}` : ""}`).join("; ")}.`),
      element("p", { class: "row" },
        element("button", { type: "button", id: "classes-change", onclick: () => change(kept) }, "Change the class"),
        element("button", { type: "button", id: "classes-delete", onclick: (/** @type {Event} */ event) => {
          const button = /** @type {HTMLButtonElement} */ (event.currentTarget);
          // Said twice, for it cannot be undone.
          if (button.dataset.sure) remove(kept);
          button.dataset.sure = "yes";
          button.textContent = "Delete it for good, with all its sheets, from the backups too";
        } }, "Delete the class")));
  }

  /** @param {KeptClass} kept */
  const remove = ({ id, version }) => doing(async () => {
    const { left } = await desk.classes("delete", { id, version });
    await list();
    return left.length > 0 ? `Deleted; it may still stand in ${left.join("; ")}.` : "Deleted for good.";
  });

  /** @param {KeptClass} kept */
  function giving({ id }) {
    const year = element("input", { id: "give-year", type: "text", inputmode: "numeric", size: "6", autocomplete: "off", value: String(new Date().getFullYear()) });
    const seed = element("input", { id: "give-seed", type: "text", inputmode: "numeric", size: "8", autocomplete: "off", value: String(Math.floor(Date.now() / 86_400_000)) });
    const questions = element("input", { id: "give-questions", type: "number", min: "1", max: "60", value: "6" });
    const own = element("input", { id: "give-own", type: "checkbox" });
    const button = element("button", { type: "button", id: "give-out", onclick: () => {
      button.disabled = true;
      return doing(async () => {
        done.textContent = "Being drawn.";
        try {
          sheet = 0;
          answers.replaceChildren();
          show(await desk.classes("give-out", { id, giving: {
            year: Number(year.value), seed: Number(seed.value), questions: Number(questions.value), same_questions: !own.checked,
          } }));
        } finally {
          button.disabled = false;
        }
        return `Sheet ${sheet} is given out, and kept.`;
      });
    } }, "Give out a sheet");
    return element("div", {},
      element("div", { class: "fields" },
        labelled("Year of the dates", year), labelled("Questions", questions), labelled("Seed", seed),
        element("label", { class: "tick" }, own, " everyone something else")),
      element("p", { class: "row" }, button));
  }

  /** @param {{kept: KeptClass, look: ClassLook}} it */
  function given({ kept, look: { sheets } }) {
    const chosen = element("select", { id: "classes-sheet" }, ...sheets.map((one) => {
      const answered = one.papers.filter((each) => each.answered).length;
      return element("option", { value: String(one.sheet), selected: one.sheet === sheet },
        `${one.sheet}, given out ${one.given}, ${answered} of ${one.papers.length} answered`);
    }));
    chosen.addEventListener("change", () => {
      sheet = Number(chosen.value);
      answers.replaceChildren();
      if (looked) show(looked);
    });
    const size = paper("classes-paper");
    const papers = sheets.find((one) => one.sheet === sheet)?.papers ?? [];
    const numbers = papers.map((one) => one.id);
    const whose = element("select", { id: "classes-pupil" }, ...papers.map((one) =>
      element("option", { value: String(one.id) }, `${one.pupil}${one.answered ? `, ${one.right} of ${one.of} right` : ""}`)));
    return element("div", {},
      element("div", { class: "fields" }, labelled("Sheet", chosen), labelled("Paper", size)),
      element("p", { class: "row" }, ...PRINTS.map(([what, name]) => element("button", {
        type: "button", id: `classes-print-${what}`, onclick: () => doing(async () => {
          const content = await desk.classPrint({ id: kept.id, sheet: what === "seating" ? null : sheet, what, page: size.value });
          const called = `${fileName(`${kept.class.name} ${what}`)}.pdf`;
          save(called, content);
          return `Made: ${called}, ${Math.max(1, Math.round(content.size / 1024))} KB.`;
        }),
      }, name))),
      element("div", { class: "fields" }, labelled("Whose answers", whose)),
      element("p", { class: "row" }, element("button", {
        type: "button", id: "classes-enter", onclick: () => doing(() => enter(Number(whose.value))),
      }, "Enter the answers")),
      posting(kept, () => numbers.indexOf(Number(whose.value)) + 1));
  }

  /**
   * The sheet as pages for pupils, and their answers.
   * @param {KeptClass} kept
   * @param {() => number} chosen the number of the pupil who is chosen
   */
  function posting(kept, chosen) {
    const site = element("input", { type: "file", id: "classes-site", accept: ".html,text/html" });
    const corrects = element("input", { type: "checkbox", id: "classes-corrects" });
    const instead = element("input", { type: "checkbox", id: "classes-instead" });
    const back = element("input", { type: "file", id: "classes-came-back", accept: ".json,application/json", multiple: true });

    /** @param {number | null} number */
    const post = (number) => doing(async () => {
      const text = await site.files?.[0]?.text();
      if (!text) throw new Error("The pupils’ pages are made of the page as one file: choose almuri.html first.");
      const { posted, names } = await desk.classes("post", { id: kept.id, sheet, corrects: corrects.checked });
      const papers = posted.papers.filter((one) => number === null || one.number === number);
      const name = `${fileName(`${kept.class.name} ${sheet}${number === null ? "" : ` number ${number}`}`)}.html`;
      save(name, new Blob([pupilsPage(text, { ...posted, papers })], { type: "text/html" }));
      const whose = papers.map((one) => `${one.number} ${names[one.number - 1] ?? ""}`).join(", ");
      return `Made: ${name}. It bears numbers alone; whose they are: ${whose}.`;
    });

    back.addEventListener("change", () => doing(async () => {
      const told = [];
      for (const file of back.files ?? []) {
        try {
          const text = await file.text();
          const { pupils, looked: now } = await desk.classes("collect", { id: kept.id, text, instead: instead.checked });
          looked = now;
          told.push(`${file.name}: ${pupils.join(", ")}, corrected and kept.`);
        } catch (error) {
          told.push(`${file.name} is not taken: ${sentence(error)}`);
        }
      }
      answers.replaceChildren();
      if (looked) show(looked);
      return told.join(" ");
    }));

    return element("details", { class: "further" },
      element("summary", {}, "Pages for the pupils, and their answers"),
      element("p", {}, "Everyone works the sheet in a browser, without a network; what is read comes back as a file. No name goes out: pupils have numbers, which you alone know."),
      labelled("The page as one file (almuri.html)", site),
      element("label", { class: "tick" }, corrects, " corrected on the spot"),
      element("p", { class: "row" },
        element("button", { type: "button", id: "classes-post-all", onclick: () => post(null) }, "One page for all"),
        element("button", { type: "button", id: "classes-post-one", onclick: () => post(chosen()) }, "The page of this pupil")),
      labelled("Answers that came back", back),
      element("label", { class: "tick" }, instead, " in place of what was answered before"));
  }

  /** @param {number} id of the paper */
  async function enter(id) {
    const kept = await desk.classes("paper", { id });
    answerForm(kept);
  }

  /** @param {KeptPaper} kept */
  function answerForm(kept) {
    const [pupil] = kept.paper.asked.pupils;
    if (!pupil) return;
    const written = new Map((kept.paper.answers ?? []).map((one) => [one.question, one]));
    const remark = element("input", { id: "answers-remark", type: "text", autocomplete: "off", value: kept.paper.remark ?? "" });
    /** @type {[number, string, HTMLInputElement][]} */
    const boxes = [];
    const questions = pupil.questions.map(({ number, text, given: told, off, asks }) => {
      const answered = written.get(number);
      const fields = asks.map(({ name, what, reads }) => {
        const before = answered?.read.find((one) => one.what === name);
        const box = element("input", { id: `answers-${number}-${name}`, type: "text", autocomplete: "off", spellcheck: "false", value: before?.value ?? "" });
        boxes.push([number, name, box]);
        const field = labelled(capital(what), box);
        if (before) field.append(element("p", { class: "quiet mark" }, `${MARKS[before.mark] ?? before.mark}${before.mark === "right" ? "" : `; ${reads}`}`));
        return field;
      });
      return element("li", {},
        element("p", {}, text),
        ...[...told, ...(off ?? [])].map((line) => element("p", { class: "quiet" }, line)),
        element("div", { class: "fields" }, ...fields),
        answered && element("p", {}, answered.sentence));
    });
    const form = element("form", { novalidate: true, "aria-label": `Answers of ${kept.paper.pupil}` },
      element("h3", {}, `Sheet ${kept.paper.sheet}, ${kept.paper.pupil}`),
      element("ol", { class: "answers" }, ...questions),
      labelled("Remark", remark),
      element("p", { class: "row" },
        element("button", { type: "submit", id: "answers-correct" }, "Correct and keep"),
        element("button", { type: "button", id: "answers-next", onclick: () => doing(() => next(kept)) }, "The next pupil")));
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      doing(async () => {
        /** @type {Record<number, Record<string, string>>} */
        const read = {};
        for (const [number, name, box] of boxes) {
          if (box.value.trim()) (read[number] ??= {})[name] = box.value.trim();
        }
        const edited = await desk.classes("answer", { id: kept.id, version: kept.version, read, remark: remark.value.trim() });
        answerForm(edited);
        await look();
        return "Corrected, and kept.";
      });
    });
    answers.replaceChildren(form);
  }

  /**
   * Goes on to whoever comes behind, on the same sheet.
   * @param {KeptPaper} kept
   */
  async function next(kept) {
    const papers = looked?.look.sheets.find((one) => one.sheet === kept.paper.sheet)?.papers ?? [];
    const behind = papers[papers.findIndex((one) => one.id === kept.id) + 1];
    if (!behind) return "That was the last of them.";
    await enter(behind.id);
    return undefined;
  }

  return {
    /** A class was kept: it is shown. @param {KeptClass} kept */
    show(kept) {
      if (leaf.isOpen) return list(kept.id);
      which.replaceChildren(element("option", { value: String(kept.id) }, kept.class.name));
      return undefined;
    },
    leaf,
  };
}

/**
 * The page as one file, with sheets in it.
 * @param {string} site
 * @param {import("./types.js").Posted} posted
 */
function pupilsPage(site, posted) {
  const isSite = site.includes(' data-desk="here"') && site.includes("data-piece=") && !site.includes('id="posted">');
  const end = site.indexOf("</head>");
  if (!isSite || end < 0) throw new Error("This file is not the page as one file; almuri.html, which `cargo xtask site` builds, would do.");
  // No text may end the element it stands in.
  const sheets = JSON.stringify(posted).replace(/</g, "\\u003c");
  return `${site.slice(0, end)}<script type="application/json" id="posted">${sheets}</script>\n${site.slice(end)}`;
}

/** @param {string[]} heads @param {(string | null)[][]} rows @param {string} caption */
const table = (caption, heads, rows) => element("table", {},
  element("caption", {}, caption),
  element("thead", {}, element("tr", {}, ...heads.map((head) => element("th", { scope: "col" }, head)))),
  element("tbody", {}, ...rows.map(([first, ...rest]) => element("tr", {},
    element("th", { scope: "row" }, first ?? ""), ...rest.map((cell) => element("td", {}, cell ?? ""))))));

/** @param {{look: ClassLook}} it */
function report({ look: { report: { pupils, common, next } } }) {
  const all = [table("Who read what", ["Pupil", "Right", "What was done"], pupils.map(({ name, sheets, right, of, slips }) =>
    [name, sheets > 0 ? `${right} of ${of}` : "–", slips.join(" ")]))];
  if (common.length > 0) {
    all.unshift(table("What is common", ["What was done", "Times", "By"], common.map(({ words, times, pupils: by }) =>
      [words, String(times), by.join(", ")])));
  }
  if (next.length === 0) return all;
  return [element("div", { id: "classes-next" },
    element("h3", {}, "What to teach next"),
    element("ol", {}, ...next.map(({ sentence: words, pupils: whom }) =>
      element("li", {}, words, whom.length > 0 ? ` For ${whom.join(", ")}.` : "")))), ...all];
}
