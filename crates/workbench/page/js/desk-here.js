import { changesOf, keeping } from "./kept-here.js";
import { keepForOffline } from "./offline.js";
import { compiled, isOneFile, manifest, piece, startWorker, takeOutAll } from "./pieces.js";

/**
 * The door to a desk that the page holds itself: a worker with the desk in WebAssembly, and
 * what is kept in the browser's own store.
 */

/**
 * What the desk says to a question.
 * @typedef {{status: number, missed: number, kind: string, bytes: ArrayBuffer}} Told
 * @typedef {import("./door.js").Answered} Answered
 */

/** So long after it has loaded the page does what can wait: it keeps itself for when there is no
 * network, or puts away what it has in itself. */
const SETTLED_AFTER_MS = 3000;

/** These take seconds: a desk of their own does them, so that the instrument goes on turning. */
const SLOW = new Set([
  "workshop/make", "workshop/preview", "workshop/examine", "workshop/propose", "workshop/setting", "workshop/face",
  "teaching/exercises", "year/book", "kept/rows", "kept/text",
]);

/** So often the first turn is asked over again. */
const PRACTISED = 20;

/** Bits of what a question missed, and the pieces that bring it. */
const MISSED = /** @type {const} */ ([[1, "sky"], [2, "towns"]]);
/** The bit that says that only the whole desk can answer. */
const DESK_MISSED = 4;

/** A desk in a worker. */
class DeskHere {
  /** @type {Map<number, {resolve: (told: any) => void, reject: (error: Error) => void}>} */
  #awaited = new Map();
  #next = 0;
  /** @type {Worker | null} */
  #worker = null;
  /** Pieces that come when they are missed. @type {Map<"sky" | "towns", string>} */
  #later = new Map();
  /** @type {Promise<void>} */
  ready;

  /** @param {string} module the piece that it is */
  constructor(module) {
    this.ready = this.#begin(module);
    // Whoever asks hears of it.
    this.ready.catch(() => {});
  }

  /** @param {string} module */
  async #begin(module) {
    this.#worker = await startWorker();
    this.#worker.onmessage = ({ data }) => {
      const one = this.#awaited.get(data.id);
      this.#awaited.delete(data.id);
      if ("broken" in data) one?.reject(new Broken(data.broken));
      else one?.resolve(data);
    };
    this.#worker.onerror = (event) => {
      for (const one of this.#awaited.values()) one.reject(new Broken(event.message));
      this.#awaited.clear();
    };
    const kept = keeping.all();
    const first = /** @type {const} */ (["sky", "towns"]).map(async (kind) => {
      const [now, ...later] = manifest[kind];
      if (later[0]) this.#later.set(kind, later[0]);
      return now ? { kind, bytes: await piece(now) } : null;
    });
    // The worker takes all in its order; this thread has the page to put together meanwhile.
    /** @type {Promise<unknown>[]} */
    const held = [this.#post({ module: await compiled(module) })];
    for (const one of await Promise.all(first)) if (one) held.push(this.#held(`hold/${one.kind}`, one.bytes));
    const { settings, instruments } = await kept;
    held.push(this.#held("hold/settings", JSON.stringify(settings)));
    held.push(this.#instruments(instruments.map(({ file, text }) => [file, text])));
    await Promise.all(held);
  }

  /** Hands instruments over; one of an old epoch needs the whole sky. @param {unknown} files */
  async #instruments(files) {
    const lacks = await this.#held("hold/instruments", JSON.stringify(files));
    if (lacks !== true || !this.#later.has("sky")) return;
    await this.#bring("sky");
    await this.#held("hold/instruments", JSON.stringify(files));
  }

  /**
   * @param {object} message
   * @param {Transferable[]} [transfer]
   * @returns {Promise<Told>}
   */
  #post(message, transfer = []) {
    const id = this.#next;
    this.#next += 1;
    return new Promise((resolve, reject) => {
      this.#awaited.set(id, { resolve, reject });
      this.#worker?.postMessage({ id, ...message }, transfer);
    });
  }

  /**
   * @param {string} name
   * @param {string | ArrayBuffer} body
   */
  async #held(name, body) {
    const told = await this.#post({ name, body }, body instanceof ArrayBuffer ? [body] : []);
    const answer = JSON.parse(utf8.decode(told.bytes));
    if (told.status !== 200) throw new Error(answer.message);
    return answer;
  }

  /**
   * Hands something over anew.
   * @param {string} name
   * @param {unknown} what
   */
  async hold(name, what) {
    await this.ready;
    if (name === "instruments") await this.#instruments(what);
    else await this.#held(`hold/${name}`, JSON.stringify(what));
  }

  /**
   * @param {string} name
   * @param {string} body
   * @returns {Promise<Told>}
   */
  async ask(name, body) {
    await this.ready;
    const told = await this.#post({ name, body });
    const lacking = MISSED.filter(([bit, kind]) => (told.missed & bit) !== 0 && this.#later.has(kind));
    if (lacking.length > 0) {
      for (const [, kind] of lacking) await this.#bring(kind);
      return this.ask(name, body);
    }
    // What was worked out without the sky it needed is no answer.
    if ((told.missed & 1) !== 0 && told.status === 200) throw new Error(
      `This needs the sky of years that are not here. ${manifest.lacks ?? ""}`);
    if (name === "turn" && !this.#isPractised) this.#practise({ name, body });
    return told;
  }

  #isPractised = false;

  /**
   * Asks the same again, one after the other: a browser compiles anew, and well, what is
   * called often. So a hand finds it done that takes the rete after the first reading.
   * @param {{name: string, body: string}} question
   */
  async #practise(question) {
    this.#isPractised = true;
    // A question that breaks off is told to whoever asks it next.
    for (let times = 0; times < PRACTISED; times += 1) await this.#post(question).catch(() => {});
  }

  /**
   * Brings the rest of a kind of data; two questions may miss the same.
   * @param {"sky" | "towns"} kind
   */
  #bring(kind) {
    const name = this.#later.get(kind);
    if (!name) return Promise.resolve();
    this.#bringing[kind] ??= piece(name)
      .then((bytes) => this.#held(`hold/${kind}`, bytes))
      .then(() => { this.#later.delete(kind); })
      .finally(() => { delete this.#bringing[kind]; });
    return this.#bringing[kind];
  }

  /** @type {Partial<Record<"sky" | "towns", Promise<void>>>} */
  #bringing = {};

  end() {
    this.#worker?.terminate();
  }
}

/** That a desk broke off. */
class Broken extends Error {}

const MODULES = { quick: manifest.desk, slow: manifest.whole ?? manifest.desk };

/**
 * The one that turns the instrument, small and begun at once; and the whole one, which
 * is fetched when it is wanted.
 * @type {{quick: DeskHere | null, slow: DeskHere | null}}
 */
const desks = { quick: new DeskHere(MODULES.quick), slow: null };

/**
 * The desk's answer to a question; a desk that breaks off is replaced.
 * @param {string} name
 * @param {string} body
 * @param {"quick" | "slow"} which
 * @returns {Promise<Told>}
 */
async function told(name, body, which = SLOW.has(name) ? "slow" : "quick") {
  const desk = desks[which] ?? (desks[which] = new DeskHere(MODULES[which]));
  try {
    const told = await desk.ask(name, body);
    if (which === "slow" || !manifest.whole || (told.missed & DESK_MISSED) === 0) return told;
  } catch (error) {
    if (desks[which] === desk) desks[which] = null;
    desk.end();
    if (!(error instanceof Broken)) throw error;
    console.warn(`a question broke off: ${name}: ${error.message}`);
    return { status: 500, missed: 0, ...inJson({ message: "Something went wrong inside the program." }) };
  }
  return told(name, body, "slow");
}

/**
 * What was told, read as a server's answer is. A `Response` would do too, but is ten times
 * as large as the answer to a turn, of which a drag asks sixty in a second.
 * @implements {Answered}
 */
class Read {
  /** @param {Told} told */
  constructor({ status, kind, bytes }) {
    this.status = status;
    this.ok = status === 200;
    this.kind = kind;
    this.bytes = bytes;
  }

  async text() { return utf8.decode(this.bytes); }

  async json() { return JSON.parse(utf8.decode(this.bytes)); }

  async blob() { return new Blob([this.bytes], { type: this.kind }); }
}

const utf8 = new TextDecoder();

/**
 * @param {number} status
 * @param {unknown} what
 */
const said = (status, what) => new Read({ status, missed: 0, ...inJson(what) });

/** @param {unknown} what */
function inJson(what) {
  const { buffer } = new TextEncoder().encode(JSON.stringify(what));
  return { kind: "application/json", bytes: /** @type {ArrayBuffer} */ (buffer) };
}

/**
 * What the desk answers in JSON, for what is kept.
 * @param {string} name
 * @param {unknown} body
 */
async function asked(name, body) {
  const got = await told(name, JSON.stringify(body));
  const answer = JSON.parse(utf8.decode(got.bytes));
  if (got.status !== 200) throw Object.assign(new Error(answer.message), { told: answer, status: got.status });
  return answer;
}

const changes = changesOf(asked);

// Another tab has changed something: the desks here are told it too.
keeping.onChanged(async ({ settings, instruments }) => {
  for (const desk of [desks.quick, desks.slow]) {
    await desk?.hold("settings", settings);
    await desk?.hold("instruments", instruments.map(({ file, text }) => [file, text]));
  }
});

// The first reading comes first; the page may have loaded before this module, which is waited for.
const settled = () => { setTimeout(settle, SETTLED_AFTER_MS); };
if (document.readyState === "complete") settled();
else addEventListener("load", settled, { once: true });

function settle() {
  (isOneFile ? takeOutAll() : keepForOffline()).catch((error) => console.warn(String(error)));
}

/** @type {import("./door.js").Door} */
export async function ask(path, options) {
  const name = path.replace(/^\/desk\//, "");
  const body = typeof options?.body === "string" ? options.body : "";
  options?.signal?.throwIfAborted();
  const change = changes.get(name);
  try {
    const answered = change ? said(200, await change(body ? JSON.parse(body) : {})) : new Read(await told(name, body));
    options?.signal?.throwIfAborted();
    return answered;
  } catch (error) {
    options?.signal?.throwIfAborted();
    const { message, told, status } = /** @type {Error & {told?: unknown, status?: number}} */ (error);
    return said(status ?? 422, told ?? { message });
  }
}
