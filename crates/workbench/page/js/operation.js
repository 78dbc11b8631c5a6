import * as desk from "./desk.js";
import { readWork, writeWork } from "./fragment.js";

/** @typedef {import("./types.js").Work} Work */
/** @typedef {import("./types.js").WorkAnswer} WorkAnswer */
/** @typedef {import("./types.js").Ask} Ask */

/**
 * The operation that is worked on the case, with what is seen and told, and the
 * desk's answer; none while the figure itself is cast.
 * @param {import("./store.js").Store} store
 * @param {import("./types.js").OperationKind[]} kinds
 */
export function createOperation(store, kinds) {
  /** @type {Work | null} */
  let chosen = known(readWork(location.hash));
  /** What was last given to each, to be there again. @type {Map<string, Work>} */
  const given = new Map();
  /** @type {AbortController | null} */
  let underWay = null;
  const events = new EventTarget();
  /** @param {string} name @param {unknown} [detail] */
  const tell = (name, detail) => events.dispatchEvent(new CustomEvent(name, { detail }));

  /** @param {Work | null} work */
  function known(work) {
    return work && kinds.some(({ name }) => name === work.operation) ? work : null;
  }

  /** @param {Work | null} work */
  function take(work) {
    chosen = work;
    tell("chosen");
    return ask();
  }

  async function ask() {
    underWay?.abort();
    kept();
    // Without a case that holds, its own fields say what is wrong.
    if (!chosen || !store.answer) return;
    underWay = new AbortController();
    const { signal } = underWay;
    try {
      const got = await desk.work(request(chosen), signal);
      if (signal.aborted) return;
      // Where any star would do, the desk took one.
      if (got.star && chosen.star !== got.star) chosen = { ...chosen, star: got.star };
      kept();
      tell("worked", got);
    } catch (error) {
      if (!signal.aborted) tell("refused", error);
    }
  }

  function kept() {
    writeWork(chosen);
    if (chosen) given.set(chosen.operation, chosen);
  }

  /** @param {Work} work */
  function request(work) {
    const kind = kinds.find(({ name }) => name === work.operation);
    const asks = kind?.asks.filter((one) => isAsked(one, work)) ?? [];
    /** @type {Record<string, unknown>} */
    const asked = { operation: work.operation, moment: store.case, seen: {}, told: {} };
    for (const one of asks) {
      const value = valueOf(work, one);
      if (!value) continue;
      if (one.place === "seen" || one.place === "told") {
        /** @type {Record<string, string>} */ (asked[one.place])[one.name] = value;
      } else {
        asked[one.place] = one.place === "hand" ? number(value) : value;
      }
    }
    return asked;
  }

  store.onAnswer(ask);
  addEventListener("hashchange", () => {
    const work = known(readWork(location.hash));
    if (JSON.stringify(work) !== JSON.stringify(chosen)) take(work);
  });

  return {
    kinds,
    /** What the desk is asked for what is worked now, be it the casting. */
    get request() { return chosen ? request(chosen) : { operation: "cast", moment: store.case }; },
    /** What is worked, and with what; null while the figure is cast. */
    get chosen() { return chosen; },
    /** Its kind, with what it asks. */
    get kind() { return kinds.find(({ name }) => name === chosen?.operation) ?? null; },
    /**
     * Chooses an operation, or none. It begins with examples of what it cannot do without.
     * @param {string | null} name
     */
    choose(name) {
      const kind = kinds.find((one) => one.name === name);
      if (!kind) return take(null);
      /** @type {Work} */
      let work = given.get(kind.name) ?? { operation: kind.name, seen: {}, told: {} };
      if (!given.has(kind.name)) {
        for (const one of kind.asks) if (one.needed) work = withValue(work, one, one.example);
      }
      return take(work);
    },
    /**
     * @param {Ask} what
     * @param {string} value
     */
    give(what, value) {
      if (chosen) chosen = withValue(chosen, what, value.trim());
      return ask();
    },
    /** Says how things stand to whoever has begun to listen. */
    begin() { tell("chosen"); },
    /** @param {() => void} listener */
    onChosen(listener) { events.addEventListener("chosen", listener); },
    /** @param {(answer: WorkAnswer) => void} listener */
    onWorked(listener) {
      events.addEventListener("worked", (event) => listener(/** @type {CustomEvent} */ (event).detail));
    },
    /** @param {(error: desk.Refused) => void} listener */
    onRefused(listener) {
      events.addEventListener("refused", (event) => listener(/** @type {CustomEvent} */ (event).detail));
    },
  };
}

/** @typedef {ReturnType<typeof createOperation>} Operation */

/**
 * Whether it is asked, with what has been said so far.
 * @param {Ask} one
 * @param {Work} work
 */
export const isAsked = (one, work) => one.where_of === null || one.where_of === work.of;

/**
 * @param {Work} work
 * @param {Ask} one
 * @returns {string}
 */
export function valueOf(work, one) {
  if (one.place === "seen" || one.place === "told") return work[one.place][one.name] ?? "";
  return work[one.place] ?? "";
}

/**
 * @param {Work} work
 * @param {Ask} one
 * @param {string} value
 * @returns {Work}
 */
function withValue(work, one, value) {
  if (one.place !== "seen" && one.place !== "told") return { ...work, [one.place]: value || null };
  const values = { ...work[one.place], [one.name]: value };
  if (!value) delete values[one.name];
  return { ...work, [one.place]: values };
}

/**
 * A number as it is written: 0.25, or ¼.
 * @param {string} text
 */
function number(text) {
  const value = Number(text.replace("¼", "0.25").replace("½", "0.5").replace(",", "."));
  if (Number.isFinite(value)) return value;
  throw new desk.Refused({ field: "hand", message: `“${text}” is not a number; 0.25 would do` });
}
