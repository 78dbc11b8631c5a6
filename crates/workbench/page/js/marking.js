import { byId, element } from "./element.js";
import { sentence } from "./words.js";

/** What a verdict is as a mark. @type {Record<string, string>} */
const MARKS = { right: "right", slips: "a slip", follows: "one wrong", unexplained: "not explained" };

/**
 * The verdict on readings from the casebook, to be kept there as their mark.
 * @param {import("./correcting.js").Correcting} correcting
 * @param {import("./book.js").Book} book
 */
export function createMarking(correcting, book) {
  /** The verdict, and what it is on. @type {{answer: import("./types.js").Corrected, read: Record<string, string>} | null} */
  let given = null;
  const said = element("span", { class: "quiet", role: "status" });
  const keep = element("button", { type: "button", id: "keep-verdict" });
  const row = element("p", { class: "row", hidden: true }, keep, said);
  byId("correcting").append(row);

  function show() {
    const kept = book.takenUp;
    row.hidden = !(kept && isOn(kept.case.readings ?? []));
    if (kept) keep.textContent = `Keep this verdict as the mark of case ${kept.id}, ${kept.case.name}`;
  }
  /**
   * Whether the verdict is on these readings, and not on another case's.
   * @param {NonNullable<import("./types.js").BookCase["readings"]>} readings
   */
  const isOn = (readings) => readings.length > 0 && given !== null
    && readings.every(({ what, degree }) => given?.read[what] === degree);
  correcting.onCorrected((answer) => {
    given = answer && { answer, read: correcting.given.read };
    said.textContent = "";
    show();
  });
  book.onChanged(show);

  keep.addEventListener("click", async () => {
    const kept = book.takenUp;
    if (!kept || !given) return;
    const verdict = given.answer;
    const mark = { what: "the readings", mark: MARKS[verdict.verdict] ?? verdict.verdict, remark: verdict.sentence };
    const others = (kept.case.marks ?? []).filter(({ what }) => what !== mark.what);
    try {
      await book.edit(kept, { ...kept.case, marks: [...others, mark] });
      said.textContent = "Kept.";
    } catch (error) {
      said.textContent = sentence(error);
    }
  });
}
