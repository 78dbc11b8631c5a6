import { byId, element } from "./element.js";

/** What a verdict is as a mark. @type {Record<string, string>} */
const MARKS = { right: "right", slips: "a slip", unexplained: "not explained" };

/**
 * The verdict on readings from the casebook, to be kept there as their mark.
 * @param {import("./correcting.js").Correcting} correcting
 * @param {import("./book.js").Book} book
 */
export function createMarking(correcting, book) {
  /** @type {import("./types.js").Corrected | null} */
  let verdict = null;
  const said = element("span", { class: "quiet", role: "status" });
  const keep = element("button", { type: "button", id: "keep-verdict" });
  const row = element("p", { class: "row", hidden: true }, keep, said);
  byId("correcting").append(row);

  function show() {
    const kept = book.takenUp;
    row.hidden = !(verdict && kept?.case.readings?.length);
    if (kept) keep.textContent = `Keep this verdict as the mark of case ${kept.id}, ${kept.case.name}`;
  }
  correcting.onCorrected((answer) => {
    verdict = answer;
    said.textContent = "";
    show();
  });
  book.onChanged(show);

  keep.addEventListener("click", async () => {
    const kept = book.takenUp;
    if (!kept || !verdict) return;
    const mark = { what: "the readings", mark: MARKS[verdict.verdict] ?? verdict.verdict, remark: verdict.sentence };
    const others = (kept.case.marks ?? []).filter(({ what }) => what !== mark.what);
    try {
      await book.edit(kept, { ...kept.case, marks: [...others, mark] });
      said.textContent = "Kept.";
    } catch (error) {
      said.textContent = error instanceof Error ? `${error.message}.` : String(error);
    }
  });
}
