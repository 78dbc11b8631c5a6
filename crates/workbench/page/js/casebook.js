import * as desk from "./desk.js";
import { toKeep } from "./book.js";
import { element, labelled } from "./element.js";
import { help } from "./help.js";
import { createLeaf } from "./leaf.js";
import { save } from "./save.js";
import { capital, day, sentence } from "./words.js";

/** @typedef {import("./types.js").KeptCase} KeptCase */
/** @typedef {import("./types.js").BookCase} BookCase */

/** How long typing must rest before the book is searched, in milliseconds. */
const REST = 150;

/**
 * The casebook: keep the case that is on the page, find others, take them up, change
 * them, undo, delete, carry them out and in.
 * @param {import("./store.js").Store} store
 * @param {import("./book.js").Book} book
 */
export function createCasebook(store, book) {
  const done = element("p", { class: "quiet", role: "status" });
  const fault = element("p", { class: "fault", role: "alert" });

  /**
   * Does something with the book and says how it went.
   * @param {() => Promise<string>} work
   */
  async function doing(work) {
    fault.textContent = done.textContent = "";
    try {
      done.textContent = await work();
    } catch (error) {
      fault.textContent = sentence(error);
    }
  }

  const leaf = createLeaf("casebook", (body) => {
    body.append(
      element("div", { class: "book" },
        keeping(store, book, doing),
        finding(book, doing)),
      carrying(book, doing),
      done, fault,
      help(
        "Where does it lie, and is it safe?",
        "In one file on this machine, in your own folder. Every change is on the disk before it is said to be done; a dated backup is made each day. Changes can be undone; a deletion cannot: what is deleted is gone from the backups too.",
        "The searching looks at the beginnings of words in name, moment, place, note and tags.",
      ));
  });
  return leaf;
}

/** @typedef {(work: () => Promise<string>) => Promise<void>} Doing */

/**
 * The form that keeps what is on the page.
 * @param {import("./store.js").Store} store
 * @param {import("./book.js").Book} book
 * @param {Doing} doing
 */
function keeping(store, book, doing) {
  const title = element("h3", {});
  const name = element("input", { id: "case-name", type: "text", autocomplete: "off", required: true });
  const tags = element("input", { id: "case-tags", type: "text", autocomplete: "off", placeholder: "pupil, spring class" });
  const note = element("textarea", { id: "case-note", rows: "3" });
  const figure = element("textarea", { id: "case-figure", rows: "2", placeholder: "as it stands in a printout or a book" });
  const reader = element("input", { id: "case-reader", type: "text", autocomplete: "off" });
  const marked = element("input", { id: "case-marked", type: "text", autocomplete: "off", placeholder: "ascendant" });
  const mark = element("input", { id: "case-mark", type: "text", autocomplete: "off", placeholder: "right" });
  const remark = element("input", { id: "case-remark", type: "text", autocomplete: "off" });
  const marks = element("ul", { class: "marks" });
  const change = element("button", { type: "button", id: "keep-changes" }, "Keep the changes");
  const fresh = element("button", { type: "button", id: "keep-new" }, "Keep this case");
  const back = element("button", { type: "button", id: "put-back" }, "Put it back");
  const elsewhere = element("p", { class: "quiet", id: "case-elsewhere", hidden: true });
  /** @type {NonNullable<BookCase["marks"]>} */
  let given = [];
  /** What the form was filled from. @type {KeptCase | null | undefined} */
  let shown;
  let shownReader = "";
  let underWay = false;

  /** @returns {BookCase} */
  const written = () => {
    const who = reader.value.trim();
    const readings = readingsOf(
      book.takenUp?.case.readings ?? [], store.case.read, who, who !== shownReader);
    const one = mark.value.trim() && {
      what: marked.value.trim() || "the readings", mark: mark.value.trim(), remark: remark.value.trim(),
    };
    if (!one && (marked.value.trim() || remark.value.trim())) {
      throw new Error("the mark itself is missing; right, or 7/10, would do");
    }
    return {
      ...toKeep(store.case, store.answer),
      name: name.value.trim(),
      readings,
      marks: one ? [...given.filter(({ what }) => what !== one.what), one] : given,
      figure: figure.value.trim() ? figure.value : null,
      note: note.value,
      tags: tags.value.split(",").map((tag) => tag.trim()).filter(Boolean),
    };
  };

  /**
   * One after the other: a button pressed twice keeps once.
   * @param {() => Promise<string>} work
   */
  async function once(work) {
    if (underWay) return;
    underWay = true;
    await doing(work);
    underWay = false;
  }
  fresh.addEventListener("click", () => once(async () => {
    const fresh = written();
    if (book.takenUp && isSame(book.takenUp.case, fresh)) return `Kept already, as case ${book.takenUp.id}.`;
    const kept = await book.keep(fresh);
    return `Kept as case ${kept.id}.`;
  }));
  change.addEventListener("click", () => once(async () => {
    if (!book.takenUp) return "";
    const kept = await book.edit(book.takenUp, written());
    return `The changes of case ${kept.id} are kept.`;
  }));
  back.addEventListener("click", () => book.putBack());

  /** Whoever keeps the changes is to know that the case becomes one of another moment. */
  function compare() {
    const kept = book.takenUp?.case;
    const now = toKeep(store.case, store.answer);
    elsewhere.hidden = !kept || (kept.when === now.when && kept.at === now.at);
    if (kept) elsewhere.textContent = `It was kept for ${kept.when}, ${kept.at}; another moment or place now stands on the page.`;
  }
  store.onAnswer(compare);
  store.onRefused(compare);

  function show() {
    const kept = book.takenUp;
    compare();
    // What is being written stays while something else in the book changes.
    if (kept === shown) return;
    shown = kept;
    title.textContent = kept ? `Case ${kept.id}, taken up` : "The case on the page";
    change.hidden = back.hidden = !kept;
    fresh.textContent = kept ? "Keep as a new case" : "Keep this case";
    name.value = kept?.case.name ?? "";
    tags.value = (kept?.case.tags ?? []).join(", ");
    note.value = kept?.case.note ?? "";
    figure.value = kept?.case.figure ?? "";
    reader.value = shownReader = kept?.case.readings?.find((one) => one.who)?.who ?? "";
    given = kept?.case.marks ?? [];
    mark.value = marked.value = remark.value = "";
    marks.replaceChildren(...given.map((one) => element("li", {},
      `${one.what}: ${one.mark}${one.remark ? `, ${one.remark}` : ""} `,
      element("button", {
        type: "button", "aria-label": `Take back the mark for ${one.what}`,
        onclick: (/** @type {Event} */ event) => {
          given = given.filter((other) => other !== one);
          /** @type {Element} */ (event.target).closest("li")?.remove();
        },
      }, "take back"))));
  }
  book.onChanged(show);
  show();

  return element("div", { class: "keeping" }, title, elsewhere,
    element("div", { class: "fields" },
      labelled("Name", name), labelled("Tags, with commas between", tags), labelled("Read by", reader)),
    labelled("Note", note),
    labelled("A figure that came with it", figure),
    element("fieldset", { class: "marking" },
      element("legend", {}, "A mark for the readings"), marks,
      element("div", { class: "fields" }, labelled("For what", marked), labelled("Mark", mark), labelled("Remark", remark))),
    element("p", { class: "row" }, change, fresh, back));
}

/**
 * The readings on the page, as they are to be kept. Those that stand as they were
 * keep whoever read them; two persons may have read the same.
 * @param {NonNullable<BookCase["readings"]>} before
 * @param {Record<string, string>} read
 * @param {string} who
 * @param {boolean} all whether all were read by `who`, and not the new ones alone
 */
function readingsOf(before, read, who, all) {
  const was = Object.fromEntries(before.map(({ what, degree }) => [what, degree]));
  const by = who ? { who } : {};
  const same = before.filter(({ what }) => was[what] === read[what])
    .map(({ what, degree, ...whose }) => ({ what, degree, ...(all ? by : whose) }));
  const fresh = Object.entries(read).filter(([what, degree]) => was[what] !== degree)
    .map(([what, degree]) => ({ what, degree, ...by }));
  return [...same, ...fresh];
}

/**
 * @param {BookCase} one
 * @param {BookCase} other
 */
const isSame = (one, other) => inOrder(one) === inOrder(other);

/**
 * What is said of a case, in one order.
 * @param {BookCase} one
 */
const inOrder = (one) => JSON.stringify(
  Object.entries({ ...one, tags: [...(one.tags ?? [])].sort() })
    .filter(([, value]) => (Array.isArray(value) ? value.length > 0 : Boolean(value)))
    .sort(([a], [b]) => (a < b ? -1 : 1)));

/** @param {number} count */
const cases = (count) => (count === 1 ? "1 case" : `${count} cases`);

/**
 * The search, and what it finds.
 * @param {import("./book.js").Book} book
 * @param {Doing} doing
 */
function finding(book, doing) {
  const words = element("input", { id: "book-words", type: "search", autocomplete: "off", placeholder: "name, place, date, tag, note" });
  const tags = element("p", { class: "row tags", role: "group", "aria-label": "Tags" });
  const list = element("ol", { class: "cases", id: "book-cases" });
  const count = element("p", { class: "quiet", "aria-live": "polite" });
  const notices = element("div", { "aria-live": "polite" });
  const undo = element("button", { type: "button", id: "book-undo" }, "Undo the last change");
  let resting = 0;
  let asked = 0;
  let limit = 40;
  /** @type {string | null} */
  let tag = null;

  const more = element("button", { type: "button", hidden: true, onclick: () => { limit = 500; look(); } }, "Show more of them");
  words.addEventListener("input", () => {
    clearTimeout(resting);
    tag = null;
    resting = window.setTimeout(look, REST);
  });
  undo.addEventListener("click", () => doing(async () => {
    const { restored, removed, of_class } = await book.undo();
    if (of_class) return `${capital(of_class)}.`;
    return restored
      ? `Case ${restored.id}, ${restored.case.name}, is again as it was.`
      : `${removed} is kept no more.`;
  }));
  book.onChanged(look);
  look();

  function look() {
    const mine = ++asked;
    desk.casebook("find", { words: words.value, tag, limit }).then((answer) => {
      if (mine !== asked) return;
      const found = /** @type {import("./types.js").FoundCases} */ (answer);
      more.hidden = !found.more || limit >= 500;
      count.textContent = found.total === 0
        ? "The casebook is empty."
        : `${found.cases.length}${found.more ? " of more" : ""} found, ${found.total} kept in all.`;
      notices.replaceChildren(...found.notices.map((notice) => element("p", { class: "notice" }, sentence(notice))));
      list.replaceChildren(
        ...found.cases.map((kept) => row(kept)),
        ...found.unreadable.map(({ id, why }) => element("li", { class: "notice" }, `Case ${id} ${why}.`)));
      tags.replaceChildren(...found.tags.slice(0, 30).map(([name, many]) => element("button", {
        type: "button", "aria-pressed": String(name === tag),
        onclick: () => {
          tag = tag === name ? null : name;
          words.value = "";
          look();
        },
      }, `${name} ${many}`)));
      list.dataset.looked = String(mine);
    }).catch((error) => {
      count.textContent = sentence(error);
    });
  }

  /** @param {KeptCase} kept */
  function row(kept) {
    const { id, case: one } = kept;
    const taken = book.takenUp?.id === id;
    const take = element("button", { type: "button", class: "take-up", "aria-pressed": String(taken), onclick: () => book.takeUp(kept) },
      element("b", {}, one.name), ` ${one.when}, ${one.at}`);
    const remove = element("button", { type: "button", "aria-label": `Delete ${one.name}` }, "Delete");
    const ask = element("span", { class: "row", hidden: true },
      "Gone for good, from the backups too? ",
      element("button", { type: "button", class: "delete-for-good", onclick: () => doing(async () => {
        const left = await book.remove(kept);
        return left.length === 0
          ? `Case ${id}, ${one.name}, is deleted.`
          : `Case ${id}, ${one.name}, is deleted from the casebook; it may still stand in ${left.join(", and in ")}. Every opening tries again.`;
      }) }, "Yes, delete it"),
      element("button", { type: "button", onclick: () => {
        ask.hidden = true;
        remove.hidden = false;
        remove.focus();
      } }, "No"));
    remove.addEventListener("click", () => {
      ask.hidden = false;
      remove.hidden = true;
      /** @type {HTMLElement | null} */ (ask.querySelector("button:last-child"))?.focus();
    });
    return element("li", {},
      take, remove, ask,
      element("span", { class: "more" }, [
        `case ${id}, kept ${day(kept.kept_unix_s)}`,
        (one.tags ?? []).join(", "),
        one.readings?.length ? `${one.readings.length} read${one.marks?.length ? "" : ", no mark yet"}` : "",
      ].filter(Boolean).join("; ")));
  }

  return element("div", { class: "finding" },
    element("h3", {}, "Kept cases"),
    element("div", { class: "field" }, element("label", { for: "book-words" }, "Find"), words),
    notices, tags, count, list, element("p", { class: "row" }, more, undo));
}

/**
 * Out and in.
 * @param {import("./book.js").Book} book
 * @param {Doing} doing
 */
function carrying(book, doing) {
  const bad = element("ul", { class: "bad-rows" });
  const goodOnly = element("button", { type: "button", id: "good-only", hidden: true }, "Keep the good ones only");
  const file = element("input", { id: "book-file", type: "file", accept: ".json,.csv" });
  /** @type {{form: "json" | "csv", text: string} | null} */
  let chosen = null;

  const out = (/** @type {"json" | "csv" | "spreadsheet"} */ form) => doing(async () => {
    const table = form !== "json";
    let [count, files] = [0, 0];
    /** @type {number | null} */
    let behind = null;
    do {
      const part = /** @type {import("./types.js").CarriedOut} */ (await desk.casebook("export", { form, behind }));
      files += 1;
      count += part.cases;
      behind = part.next;
      const name = files === 1 ? "casebook" : `casebook-${files}`;
      save(`${name}.${table ? "csv" : "json"}`, new Blob([part.text], { type: table ? "text/csv" : "application/json" }));
    } while (behind !== null);
    const apart = files === 1 ? "" : `, in ${files} files; each is read in by itself`;
    const without = table ? " Who read, remarks and kept figures are in the JSON alone." : "";
    return `${cases(count)} written${apart}.${without}`;
  });

  /** @param {boolean} onlyGood */
  const bring = (onlyGood) => doing(async () => {
    bad.replaceChildren();
    goodOnly.hidden = true;
    if (!chosen) return "";
    const brought = await book.bringIn(chosen.form, chosen.text, onlyGood);
    const rows = brought.bad;
    bad.replaceChildren(
      ...rows.slice(0, 20).map((row) => element("li", {}, `line ${row.line}: ${row.why}`)),
      ...(rows.length > 20 ? [element("li", {}, `and ${rows.length - 20} more`)] : []));
    goodOnly.hidden = rows.length === 0 || brought.good === 0 || onlyGood;
    return brought.kept === 0 && rows.length > 0
      ? `${rows.length} of ${rows.length + brought.good} rows cannot be kept, and none was.`
      : `${cases(brought.kept)} kept.`;
  });

  file.addEventListener("change", async () => {
    const one = file.files?.[0];
    if (!one) return;
    const bytes = await one.arrayBuffer();
    await doing(async () => {
      chosen = null;
      try {
        const text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
        chosen = { form: /\.csv$/i.test(one.name) ? "csv" : "json", text };
      } catch {
        throw new Error(`${one.name} is no text in UTF-8; saved so by the program it comes from, it would do`);
      }
      return "";
    });
    if (chosen) await bring(false);
    // The same file can be chosen again once it is mended.
    file.value = "";
  });
  goodOnly.addEventListener("click", () => bring(true));

  return element("div", { class: "carrying" },
    element("p", { class: "row" },
      element("button", { type: "button", id: "export-json", onclick: () => out("json") }, "Write all out as JSON"),
      element("button", { type: "button", id: "export-csv", onclick: () => out("csv") }, "as CSV"),
      element("button", { type: "button", id: "export-spreadsheet", onclick: () => out("spreadsheet") }, "for a spreadsheet"),
      element("label", { for: "book-file" }, "Read in JSON or CSV"), file, goodOnly),
    bad);
}
