/** The case in the address's fragment, which no server ever sees. */

/** @typedef {import("./types.js").Case} Case */

const TEXTS = /** @type {const} */ (["zone", "clock", "calendar", "which", "houses", "by"]);

/**
 * @param {string} fragment
 * @returns {Case | null}
 */
export function read(fragment) {
  const given = new URLSearchParams(fragment.replace(/^#/, ""));
  const when = given.get("when");
  const at = given.get("at");
  if (!when || !at) return null;
  /** @type {Case} */
  const found = { when, at, read: {}, without: given.getAll("without") };
  for (const name of TEXTS) found[name] = given.get(name);
  const named = given.get("with");
  if (named) found.with = { named };
  for (const [key, value] of given) {
    if (key.startsWith("read.")) found.read[key.slice(5)] = value;
  }
  return found;
}

/** @param {Case} asked */
export function write(asked) {
  const kept = new URLSearchParams({ when: asked.when, at: asked.at });
  for (const name of TEXTS) {
    const value = asked[name];
    if (value) kept.set(name, value);
  }
  if (asked.with && "named" in asked.with) kept.set("with", asked.with.named);
  for (const [what, degree] of Object.entries(asked.read)) kept.set(`read.${what}`, degree);
  for (const one of asked.without) kept.append("without", one);
  history.replaceState(null, "", `#${kept}`);
}
