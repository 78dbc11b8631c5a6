import * as desk from "./desk.js";

/** @typedef {import("./types.js").Case} Case */
/** @typedef {import("./types.js").BookCase} BookCase */
/** @typedef {import("./types.js").KeptCase} KeptCase */

/**
 * The casebook as the page has it: which case is taken up, and what changes in the
 * book, so that whatever shows it looks again.
 * @param {import("./store.js").Store} store
 */
export function createBook(store) {
  /** @type {KeptCase | null} */
  let takenUp = null;
  const events = new EventTarget();
  const changed = () => events.dispatchEvent(new Event("changed"));

  return {
    /** The kept case that is on the page, if one is. */
    get takenUp() { return takenUp; },
    /** @param {() => void} listener */
    onChanged(listener) { events.addEventListener("changed", listener); },
    /** Something of the book was changed by whoever says so. */
    tell: changed,

    /**
     * Puts a kept case on the page.
     * @param {KeptCase} kept
     */
    takeUp(kept) {
      takenUp = kept;
      changed();
      return store.ask(caseOf(kept.case));
    },
    /** What is on the page is a case of its own again. */
    putBack() {
      takenUp = null;
      changed();
    },

    /**
     * Keeps a case as a new one.
     * @param {BookCase} fresh
     */
    async keep(fresh) {
      takenUp = /** @type {KeptCase} */ (await desk.casebook("keep", fresh));
      changed();
      return takenUp;
    },
    /**
     * Keeps a case in the place of the one it was made from.
     * @param {KeptCase} before
     * @param {BookCase} after
     */
    async edit(before, after) {
      const kept = /** @type {KeptCase} */ (
        await desk.casebook("edit", { id: before.id, version: before.version, case: after }));
      if (takenUp?.id === kept.id) takenUp = kept;
      changed();
      return kept;
    },
    async undo() {
      const undone = /** @type {{restored: KeptCase | null, removed: string | null, of_class?: string | null, id: number | null}} */ (
        await desk.casebook("undo"));
      if (takenUp?.id === undone.id) {
        takenUp = undone.restored;
        if (takenUp) store.ask(caseOf(takenUp.case));
      }
      changed();
      return undone;
    },
    /**
     * What is told are the files in which something of it may still stand.
     * @param {KeptCase} kept
     */
    async remove({ id, version }) {
      const { left } = /** @type {{left: string[]}} */ (
        await desk.casebook("delete", { id, version }));
      if (takenUp?.id === id) takenUp = null;
      changed();
      return left;
    },
    /**
     * @param {"json" | "csv"} form
     * @param {string} text
     * @param {boolean} good_only
     */
    async bringIn(form, text, good_only) {
      const brought = /** @type {import("./types.js").Imported} */ (
        await desk.casebook("import", { form, text, good_only }));
      if (brought.kept > 0) changed();
      return brought;
    },
  };
}

/** @typedef {ReturnType<typeof createBook>} Book */

/**
 * A kept case as the page asks for it.
 * @param {BookCase} kept
 * @returns {Case}
 */
const caseOf = (kept) => ({
  when: kept.when,
  at: kept.at,
  zone: kept.zone ?? null,
  clock: kept.clock ?? null,
  calendar: kept.calendar ?? null,
  which: kept.which ?? null,
  houses: kept.houses ?? null,
  with: kept.with ? { named: kept.with } : null,
  by: kept.by ?? null,
  sun: kept.sun ?? null,
  plates: kept.plates ?? null,
  read: Object.fromEntries((kept.readings ?? []).map(({ what, degree }) => [what, degree])),
  without: [],
});

/**
 * What the instrument in hand is called. One that came with the address is in no cabinet:
 * a case that names it is refused until it is kept, not kept without it.
 * @param {Case} asked
 * @param {import("./types.js").Answer | null} answer
 */
function withName(asked, answer) {
  if (!asked.with) return null;
  return "named" in asked.with ? asked.with.named : answer?.instrument.name ?? null;
}

/**
 * What is on the page, to be kept: a case asked for as “now” under its date and time.
 * @param {Case} asked
 * @param {import("./types.js").Answer | null} answer
 * @returns {Omit<BookCase, "name">}
 */
export const toKeep = (asked, answer) => ({
  when: asked.when === "now" && answer ? answer.moment.clock_time.slice(0, 19) : asked.when,
  at: asked.at,
  zone: asked.zone ?? null,
  clock: asked.clock ?? null,
  calendar: asked.calendar ?? null,
  which: asked.which ?? null,
  houses: asked.houses ?? null,
  with: withName(asked, answer),
  by: asked.by ?? null,
  sun: asked.sun ?? null,
  plates: asked.plates ?? null,
});
