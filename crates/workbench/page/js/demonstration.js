/**
 * The demonstration: an invented class at a public town where the clock and the
 * Sun differ by two hours and a half in summer.
 * @type {import("./types.js").Case}
 */
export const DEMONSTRATION = {
  when: "2024-05-14 09:20",
  at: "Santiago de Compostela, Galicia, Spain",
  with: { named: "class instrument" },
  read: {},
  without: [],
};

/** @param {import("./types.js").Case} asked */
export const isDemonstration = (asked) =>
  asked.when === DEMONSTRATION.when && asked.at === DEMONSTRATION.at;
