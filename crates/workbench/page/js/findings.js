import { byId, element } from "./element.js";
import { help } from "./help.js";
import { picture, table } from "./shares.js";
import { capital, signedAs } from "./words.js";

/** @typedef {import("./types.js").Found} Found */

/**
 * What an operation finds: as read and as calculated, and why they differ.
 * @param {HTMLElement} place
 * @param {import("./operation.js").Operation} operation
 */
export function createFindings(place, operation) {
  const list = element("div", { class: "whys" });
  const notes = element("div", { class: "notes" });
  const none = element("p", { class: "quiet" });
  place.append(none, list, notes, help(
    "How sure is it?",
    "“To” is how finely the last value can be read where its lines cross. “Within” is how near the truth the whole comes, in nineteen cases of twenty, with all that the hand and the eye can do on this instrument: every setting and every reading on the way has its part in it.",
    "Open a value and the difference from calculation stands there by its causes. A treatise’s rough way is a cause like any other: it is called the procedure.",
  ));
  /** Which stand open, by name. @type {Set<string>} */
  const open = new Set();

  operation.onChosen(() => { none.textContent = ""; });
  operation.onWorked((answer) => {
    none.textContent = "";
    list.replaceChildren(...answer.findings.map(one));
    notes.replaceChildren(...answer.notes.map((note) => element("p", {}, note)));
    const [first] = answer.findings;
    if (first) byId("announce").textContent = `${capital(first.what)}: ${first.text ?? first.reason}.`;
    place.dataset.worked = String(Number(place.dataset.worked ?? 0) + 1);
  });
  operation.onRefused((error) => {
    list.replaceChildren();
    notes.replaceChildren();
    none.textContent = "Nothing yet: what is missing is said beside its field.";
    byId("announce").textContent = error.message;
    place.dataset.worked = String(Number(place.dataset.worked ?? 0) + 1);
  });

  /** @param {Found} found */
  function one(found) {
    const { name, what, measure, text, clock, exact_text: exact, sentence, reason } = found;
    const said = signedAs(measure);
    const certain = [
      found.reads_to_text && `to ${found.reads_to_text}`,
      found.within_text && `within ${found.within_text}`,
    ].filter(Boolean).join(", ");
    const facts = [
      element("span", { class: "name" }, capital(what)),
      text && element("span", { class: "reading" }, text),
      clock && element("span", { class: "clock" }, `${clock} by the clock`),
      certain && element("span", { class: "to" }, certain),
      exact && element("span", { class: "exact" }, "calculated ", element("b", {}, exact),
        found.difference_deg !== null && `, differs ${said(found.difference_deg)}`),
      element("span", { class: "sentence" }, capital(sentence ?? (reason ? `${reason}.` : ""))),
    ];
    if (found.shares.length === 0) return element("div", { class: "found" }, ...facts);
    const box = element("details", { class: "found", open: open.has(name) }, element("summary", {}, ...facts));
    box.append(picture(found, capital(what), said), table(found, capital(what), said));
    box.addEventListener("toggle", () => (box.open ? open.add(name) : open.delete(name)));
    return box;
  }
}
