import * as desk from "./desk.js";
import { element } from "./element.js";
import { sentence } from "./words.js";

/** @typedef {import("./types.js").KeptCase} KeptCase */

/** What is put down for a day; each is the tag of a case in the casebook. */
const KINDS = /** @type {const} */ (["lesson", "order"]);
/** The tag of what is done. */
const DONE = "done";
/** So many days are a week. */
const DAYS = 7;
/** A lesson or a delivery of which no hour is said. */
const NOON = "12:00";

/**
 * The week: lessons to give and orders to deliver, as cases of the casebook with the day
 * as their date. What was due before and is not done stands first.
 * @param {import("./book.js").Book} book
 * @param {() => string} where the place of what is put down
 */
export function createWeek(book, where) {
  const list = element("ul", {});
  const none = element("p", { class: "quiet" }, "Nothing is put down for these seven days.");
  const fault = element("p", { class: "fault", role: "alert" });
  const when = element("input", { id: "week-when", placeholder: `${dayFrom(0)} 18:30`, autocomplete: "off" });
  const kind = element("select", { id: "week-kind" }, ...KINDS.map((name) => element("option", { value: name }, name)));
  const what = element("input", { id: "week-what", autocomplete: "off" });
  const form = element("form", { class: "week-form", onsubmit: (/** @type {Event} */ event) => {
    event.preventDefault();
    put();
  } },
  element("label", { for: "week-when" }, "Day ", when),
  element("label", { for: "week-kind" }, "Kind ", kind),
  element("label", { for: "week-what" }, "Of what, for whom ", what),
  element("button", { id: "week-put" }, "Put down"));
  const group = element("div", { class: "today-column" },
    element("h3", {}, "This week: lessons and orders"), list, none,
    element("details", {}, element("summary", {}, "Put one down"), form), fault);

  /** @param {() => Promise<unknown>} change */
  async function trying(change) {
    fault.textContent = "";
    try {
      await change();
    } catch (error) {
      fault.textContent = sentence(error);
    }
  }

  const put = () => trying(async () => {
    const said = when.value.trim() || dayFrom(0);
    await desk.casebook("keep", {
      name: what.value.trim() || kind.value,
      when: said.includes(" ") ? said : `${said} ${NOON}`,
      at: where(),
      tags: [kind.value],
    });
    what.value = "";
    book.tell();
  });

  /** @param {KeptCase} kept */
  const done = (kept) => trying(() =>
    book.edit(kept, { ...kept.case, tags: [...(kept.case.tags ?? []), DONE] }));

  return {
    group,
    async look() {
      const found = await Promise.all(KINDS.map(async (tag) => {
        const { cases } = /** @type {import("./types.js").FoundCases} */ (await desk.casebook("find", { tag, limit: 500 }));
        return cases.map((kept) => ({ kept, tag, day: kept.case.when.slice(0, 10) }));
      }));
      const due = found.flat()
        .filter(({ kept, day }) => day < dayFrom(DAYS) && !kept.case.tags?.includes(DONE))
        .sort((one, other) => one.kept.case.when.localeCompare(other.kept.case.when));
      list.replaceChildren(...due.map(({ kept, tag, day }) => element("li", { class: "week-item" },
        element("button", { type: "button", onclick: () => book.takeUp(kept) },
          element("b", {}, spoken(day)), ` ${hour(kept.case.when)}${tag}: ${kept.case.name}${day < dayFrom(0) ? ", overdue" : ""}`),
        element("button", { type: "button", class: "week-done", "aria-label": `Done: ${kept.case.name}`, onclick: () => done(kept) }, "Done"))));
      none.hidden = due.length > 0;
    },
  };
}

/**
 * The date so many days from now, by this machine's clock.
 * @param {number} days
 */
function dayFrom(days) {
  const day = new Date();
  day.setDate(day.getDate() + days);
  return day.toLocaleDateString("sv-SE");
}

/** @param {string} day */
const spoken = (day) => new Date(`${day}T${NOON}`).toLocaleDateString("en-GB", { weekday: "short", day: "numeric", month: "short" });

/**
 * The hour, where one was said.
 * @param {string} when
 */
const hour = (when) => (when.endsWith(` ${NOON}`) ? "" : `${when.slice(11, 16)} `);
