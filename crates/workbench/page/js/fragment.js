/** The case, and the operation, in the address's fragment, which no server ever sees. */

/** @typedef {import("./types.js").Case} Case */
/** @typedef {import("./types.js").Work} Work */

const TEXTS = /** @type {const} */ (["zone", "clock", "calendar", "which", "houses", "by", "sun", "plates"]);

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
  const specification = given.get("specification");
  if (specification) found.with = { specification };
  else if (named) found.with = { named };
  for (const [key, value] of given) {
    if (key.startsWith("read.")) found.read[key.slice(5)] = value;
  }
  return found;
}

/** A specification is shorter by far; an address that holds more was not written here. */
const LONGEST = 65536;

/** Specifications that came or go with an address, and what they are packed as. @type {Map<string, string>} */
const packedAs = new Map();

/**
 * A fragment whose instrument was packed (`brass`: RFC 1951 in the letters of RFC 4648,
 * section 5), with its specification in the open. What cannot be unpacked is left for the
 * desk to refuse.
 * @param {string} fragment
 */
export async function unpacked(fragment) {
  const given = new URLSearchParams(fragment.replace(/^#/, ""));
  const brass = given.get("brass");
  if (!brass) return fragment;
  const specification = await opened(brass).catch(() => brass);
  packedAs.set(specification, brass);
  given.delete("brass");
  given.set("specification", specification);
  return `#${given}`;
}

/** @param {string} brass */
async function opened(brass) {
  const letters = atob(brass.replace(/-/g, "+").replace(/_/g, "/"));
  const bytes = Uint8Array.from(letters, (letter) => letter.charCodeAt(0));
  const reader = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw")).getReader();
  const decoder = new TextDecoder("utf-8", { fatal: true });
  let text = "";
  for (let read = await reader.read(); !read.done; read = await reader.read()) {
    text += decoder.decode(read.value, { stream: true });
    if (text.length > LONGEST) throw new Error("more than a specification");
  }
  return text + decoder.decode();
}

/** @param {string} specification */
async function packed(specification) {
  const stream = new Blob([specification]).stream().pipeThrough(new CompressionStream("deflate-raw"));
  const bytes = new Uint8Array(await new Response(stream).arrayBuffer());
  const letters = Array.from(bytes, (byte) => String.fromCharCode(byte)).join("");
  return btoa(letters).replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");
}

/** @param {Case} asked */
export function write(asked) {
  const kept = parameters(asked);
  for (const [key, value] of present()) if (isWork(key)) kept.append(key, value);
  replace(kept);
}

/**
 * The address of a case with an instrument that need not be in the cabinet of whoever opens it.
 * @param {Case} asked
 * @param {string} specification
 */
export async function linkTo(asked, specification) {
  packedAs.set(specification, await packed(specification));
  const page = location.href.replace(/#.*/s, "");
  return `${page}#${parameters({ ...asked, with: { specification }, read: {}, without: [] })}`;
}

/** @param {Case} asked */
function parameters(asked) {
  const kept = new URLSearchParams({ when: asked.when, at: asked.at });
  for (const name of TEXTS) {
    const value = asked[name];
    if (value) kept.set(name, value);
  }
  if (asked.with && "named" in asked.with) kept.set("with", asked.with.named);
  if (asked.with && "specification" in asked.with) {
    const { specification } = asked.with;
    const brass = packedAs.get(specification);
    if (brass) kept.set("brass", brass);
    else kept.set("specification", specification);
  }
  for (const [what, degree] of Object.entries(asked.read)) kept.set(`read.${what}`, degree);
  for (const one of asked.without) kept.append("without", one);
  return kept;
}

/** What an operation is told apart from what is seen and told by name. */
const WORK_TEXTS = /** @type {const} */ (["star", "body", "hand", "side", "of"]);

/**
 * The operation that is worked on the case.
 * @param {string} fragment
 * @returns {Work | null}
 */
export function readWork(fragment) {
  const given = new URLSearchParams(fragment.replace(/^#/, ""));
  const operation = given.get("work");
  if (!operation) return null;
  /** @type {Work} */
  const found = { operation, seen: {}, told: {} };
  for (const name of WORK_TEXTS) found[name] = given.get(`work.${name}`);
  for (const [key, value] of given) {
    if (key.startsWith("work.seen.")) found.seen[key.slice(10)] = value;
    if (key.startsWith("work.told.")) found.told[key.slice(10)] = value;
  }
  return found;
}

/** @param {Work | null} work */
export function writeWork(work) {
  const kept = present();
  for (const key of [...kept.keys()]) if (isWork(key)) kept.delete(key);
  if (work) {
    kept.set("work", work.operation);
    for (const name of WORK_TEXTS) {
      const value = work[name];
      if (value) kept.set(`work.${name}`, value);
    }
    for (const [what, value] of Object.entries(work.seen)) kept.set(`work.seen.${what}`, value);
    for (const [what, value] of Object.entries(work.told)) kept.set(`work.told.${what}`, value);
  }
  replace(kept);
}

/**
 * The fragment of something to be worked, with its case.
 * @param {import("./answers.js").WorkRequest} request
 */
export function fragmentOf({ operation, moment, seen, told, ...rest }) {
  const kept = new URLSearchParams({ when: moment.when, at: moment.at });
  for (const name of TEXTS) {
    const value = moment[name];
    if (value) kept.set(name, value);
  }
  const { with: instrument } = moment;
  if (instrument && "named" in instrument) kept.set("with", instrument.named);
  // Casting is what is worked unless something else is said.
  if (operation !== "cast") {
    kept.set("work", operation);
    for (const name of WORK_TEXTS) {
      const value = rest[name];
      if (value !== null && value !== undefined) kept.set(`work.${name}`, String(value));
    }
    for (const [what, value] of Object.entries(seen)) kept.set(`work.seen.${what}`, value);
    for (const [what, value] of Object.entries(told)) kept.set(`work.told.${what}`, value);
  }
  return String(kept);
}

const present = () => new URLSearchParams(location.hash.replace(/^#/, ""));

/** @param {string} key */
const isWork = (key) => key === "work" || key.startsWith("work.");

/** @param {URLSearchParams} kept */
const replace = (kept) => history.replaceState(null, "", kept.size > 0 ? `#${kept}` : location.pathname);
