import * as desk from "./desk.js";

/** @typedef {import("./types.js").Start} Start */
/** @typedef {import("./types.js").CabinetAnswer} CabinetAnswer */

/** An instrument as it was when one looked at it. */
/** @typedef {{name: string, text: string}} Before */

/**
 * The instruments at hand as the page has them, and what changes among them, so that
 * every list shows what there is now.
 * @param {Start} start
 */
export function createShelf(start) {
  const events = new EventTarget();

  /** @param {CabinetAnswer} now */
  function take(now) {
    // Whoever holds the list has the new one.
    start.cabinet.splice(0, start.cabinet.length, ...now.instruments);
    start.own = now.own;
    start.unread = now.unread;
    events.dispatchEvent(new Event("changed"));
  }

  /**
   * @param {string} before
   * @param {string | null} now
   */
  const passOn = (before, now) => events.dispatchEvent(new CustomEvent("passed-on", { detail: { before, now } }));

  return {
    get instruments() { return start.cabinet; },
    get unread() { return start.unread; },
    /**
     * The file of an instrument of one’s own.
     * @param {string} name
     */
    own: (name) => start.own.find((one) => one.name === name) ?? null,
    /** @param {() => void} listener */
    onChanged(listener) { events.addEventListener("changed", listener); },
    /** The form about an instrument of one’s own is wished for. */
    wish() { events.dispatchEvent(new Event("wished")); },
    /** @param {() => void} listener */
    onWished(listener) { events.addEventListener("wished", listener); },

    /** @param {(before: string, now: string | null) => void} listener hears of an instrument’s new name, and of one that is gone */
    onPassedOn(listener) {
      events.addEventListener("passed-on", (event) => {
        const { before, now } = /** @type {CustomEvent} */ (event).detail;
        listener(before, now);
      });
    },

    /** Looks again: another program may have changed something. */
    async look() { take(await desk.cabinet()); },
    /** @param {string} name */
    specification: (name) => desk.specificationOf(name),
    /**
     * Keeps a specification, as a new one or in the place of another; says its name.
     * @param {string} text
     * @param {Before | null} before
     */
    async keep(text, before) {
      const kept = await desk.keepInstrument(text, before);
      take(kept);
      if (before && before.name !== kept.name) passOn(before.name, kept.name);
      return kept.name;
    },
    /** @param {Before} before */
    async remove(before) {
      take(await desk.deleteInstrument(before));
      passOn(before.name, null);
    },
  };
}

/** @typedef {ReturnType<typeof createShelf>} Shelf */
