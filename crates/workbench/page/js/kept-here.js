/**
 * What the page keeps in the browser's own store: cases, instruments, settings. The rules
 * are those of the casebook's file: every change is one transaction, which is answered for
 * when it is written; an edit names the version it began from; changes can be undone,
 * deletions cannot, and what is deleted is gone from what could be undone too. A transaction
 * is one tab's at a time, so that several lose nothing.
 */

/** @typedef {import("./types.js").KeptCase} KeptCase */
/** @typedef {import("./types.js").BookCase} BookCase */
/** @typedef {import("./types.js").Settings} Settings */
/** @typedef {{file: string, name: string, text: string}} Instrument */
/** @typedef {KeptCase & {saved: boolean}} Stored */
/** @typedef {{id?: number, of: number, before: BookCase | null, at: number}} Done */

const NAME = "almuri";
const VERSION = 1;

/** So many changes can be undone. */
const MOST_UNDOABLE = 1000;
/** No page shows more at once. */
const MOST_SHOWN = 500;
/** Words that are looked for. */
const MOST_WORDS = 32;
/** No file that goes out has more cases. */
const MOST_AT_ONCE = 50_000;
/** Places are taken from so many of the last cases. */
const LOOKED_THROUGH = 40;
const SHOWN_TODAY = 6;

const NOTHING_KEPT =
  "This browser keeps nothing for this page: its store is switched off for it, or the window is a private one.";
const FULL = "There is no room left in the browser’s store; nothing was changed.";

/** @type {Settings} */
const UNSET = { home: null, zone: null, with: null, houses: null, by: null, sun: null, figures: null, page_address: null };

/** @type {Promise<IDBDatabase> | null} */
let opened = null;

function open() {
  opened ??= new Promise((resolve, reject) => {
    const asked = indexedDB.open(NAME, VERSION);
    asked.onupgradeneeded = () => {
      const { result } = asked;
      result.createObjectStore("cases", { keyPath: "id", autoIncrement: true });
      const done = result.createObjectStore("done", { keyPath: "id", autoIncrement: true });
      done.createIndex("of", "of");
      result.createObjectStore("instruments", { keyPath: "file" });
      result.createObjectStore("one");
    };
    asked.onsuccess = () => {
      // A later version of the page in another tab is not kept waiting.
      asked.result.onversionchange = () => { asked.result.close(); opened = null; };
      resolve(asked.result);
    };
    asked.onerror = () => reject(new Error(NOTHING_KEPT));
    asked.onblocked = () => reject(new Error("Another tab holds an older store; close it first."));
  });
  opened.catch(() => { opened = null; });
  return opened.catch(() => { throw new Error(NOTHING_KEPT); });
}

/**
 * @template T
 * @param {IDBRequest<T>} request
 * @returns {Promise<T>}
 */
const got = (request) => new Promise((resolve, reject) => {
  request.onsuccess = () => resolve(request.result);
  request.onerror = () => reject(request.error);
});

/**
 * One transaction: all of it is written, or nothing.
 * @template T
 * @param {IDBTransactionMode} mode
 * @param {(store: (name: "cases" | "done" | "instruments" | "one") => IDBObjectStore) => Promise<T>} work
 * @returns {Promise<T>}
 */
async function transaction(mode, work) {
  const base = await open();
  const within = base.transaction(["cases", "done", "instruments", "one"], mode, { durability: "strict" });
  const written = new Promise((resolve, reject) => {
    within.oncomplete = () => resolve(undefined);
    within.onabort = () => reject(within.error);
  });
  // It is awaited below; where the work fails, that failure is told.
  written.catch(() => {});
  try {
    const result = await work((name) => within.objectStore(name));
    if (mode === "readwrite") within.commit?.();
    await written;
    return result;
  } catch (error) {
    try { within.abort(); } catch { /* It is over already. */ }
    // What was asked within it only says that it was broken off.
    const why = within.error ?? error;
    if (why instanceof DOMException && why.name === "QuotaExceededError") throw new Error(FULL);
    throw why;
  }
}

/** The word to other tabs that something changed. */
const others = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel(NAME);

/** @param {(name: "cases" | "done" | "instruments" | "one") => IDBObjectStore} store */
async function both(store) {
  const [settings, instruments] = await Promise.all([
    got(store("one").get("settings")), got(store("instruments").getAll()),
  ]);
  return {
    settings: /** @type {Settings} */ ({ ...UNSET, ...settings }),
    instruments: /** @type {Instrument[]} */ (instruments),
  };
}

/** @type {((all: {settings: Settings, instruments: Instrument[]}) => Promise<void>)[]} */
const listeners = [];

async function tell() {
  const all = await keeping.all();
  for (const listener of listeners) await listener(all);
}
if (others) others.onmessage = () => { tell().catch(() => {}); };

/** Settings and instruments as they stand. */
export const keeping = {
  async all() {
    try {
      return await transaction("readonly", both);
    } catch {
      // Nothing is kept here; whoever wants to keep something is told.
      return { settings: UNSET, instruments: [] };
    }
  },
  /** @param {(all: {settings: Settings, instruments: Instrument[]}) => Promise<void>} listener */
  onChanged(listener) { listeners.push(listener); },
};

/** Asks once that the store be kept when room grows scarce. */
async function lasting() {
  const storage = navigator.storage;
  if (!storage?.persist) return false;
  return (await storage.persisted()) || storage.persist();
}

const seconds = () => Math.floor(Date.now() / 1000);

/** @param {number} id */
const noCase = (id) => new Error(`there is no case ${id}, or no longer; the list shows those there are`);
/** @param {number} id */
const changed = (id) => new Error(`case ${id} was changed meanwhile by someone else; look at it again first`);

/**
 * A case as it is answered.
 * @param {Stored} stored
 * @returns {KeptCase}
 */
const shown = ({ saved: _, ...kept }) => kept;

/**
 * What was changed, to be undone; the oldest fall away.
 * @param {IDBObjectStore} done
 * @param {Omit<Done, "id">[]} changes
 */
async function remember(done, ...changes) {
  let last = 0;
  for (const one of changes.slice(-MOST_UNDOABLE)) last = Number(await got(done.add(one)));
  if (last > MOST_UNDOABLE) await got(done.delete(IDBKeyRange.upperBound(last - MOST_UNDOABLE)));
}

/**
 * Plain letters of words, as they are searched.
 * @param {string} text
 */
const plainWords = (text) => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase().split(/[^\p{L}\p{N}]+/u).filter(Boolean);

/** @param {BookCase} one */
const wordsOf = (one) => plainWords([one.name, one.when, one.at, one.note ?? "", ...(one.tags ?? [])].join(" "));

/**
 * @param {BookCase} one
 * @param {string[]} wanted
 */
function has(one, wanted) {
  const words = wordsOf(one);
  return wanted.every((begin) => words.some((word) => word.startsWith(begin)));
}

/** Cases, those kept last first. @returns {Promise<Stored[]>} */
const newestFirst = async () => (await transaction("readonly", (store) => got(store("cases").getAll()))).reverse();

/**
 * What the user should know of where the cases lie.
 * @param {Stored[]} all
 */
async function notices(all) {
  const unsaved = all.filter(({ saved }) => !saved).length;
  const kept = await lasting();
  const where = kept
    ? "These cases lie in this browser on this machine, and nowhere else."
    : "These cases lie in this browser on this machine, and nowhere else; it may forget them when room grows scarce, and a private window forgets them when it is closed.";
  if (unsaved === 0) return [where];
  const many = unsaved === 1 ? "1 case is" : `${unsaved} cases are`;
  return [`${where} ${many} in no copy yet: “Write all out as JSON” below saves one.`];
}

/**
 * What the page changes, by the names it asks for it by.
 * @param {(name: string, body: unknown) => Promise<any>} ask the desk
 * @returns {Map<string, (body: any) => Promise<unknown>>}
 */
export function changesOf(ask) {
  /** Takes in what changed here, and tells other tabs. */
  async function spread() {
    await tell();
    others?.postMessage("changed");
  }

  /** @param {{id: number, version: number, case: BookCase}} asked */
  async function edit({ id, version, case: given }) {
    const fit = await ask("kept/fit", given);
    return transaction("readwrite", async (store) => {
      /** @type {Stored | undefined} */
      const before = await got(store("cases").get(id));
      if (!before) throw noCase(id);
      if (before.version !== version) throw changed(id);
      const now = seconds();
      await remember(store("done"), { of: id, before: before.case, at: now });
      const after = { ...before, version: version + 1, changed_unix_s: now, case: fit, saved: false };
      await got(store("cases").put(after));
      return shown(after);
    });
  }

  /** @param {BookCase[]} cases which are fit */
  const keepAll = (cases) => transaction("readwrite", async (store) => {
    const now = seconds();
    // All are asked for before the first is waited for.
    const kept = await Promise.all(cases.map(async (one) => {
      const fresh = { version: 1, kept_unix_s: now, changed_unix_s: now, case: one, saved: false };
      return { id: Number(await got(store("cases").add(fresh))), ...fresh };
    }));
    await remember(store("done"), ...kept.map(({ id }) => ({ of: id, before: null, at: now })));
    return kept.at(-1) ?? null;
  });

  const undo = () => transaction("readwrite", async (store) => {
    const cursor = await got(store("done").openCursor(null, "prev"));
    if (!cursor) throw new Error("there is nothing to undo");
    /** @type {Done} */
    const { of, before } = cursor.value;
    await got(cursor.delete());
    /** @type {Stored | undefined} */
    const stands = await got(store("cases").get(of));
    if (!stands) throw noCase(of);
    if (!before) {
      await got(store("cases").delete(of));
      return { id: of, restored: null, removed: stands.case.name };
    }
    const after = { ...stands, version: stands.version + 1, changed_unix_s: seconds(), case: before, saved: false };
    await got(store("cases").put(after));
    return { id: of, restored: shown(after), removed: null };
  });

  /** @param {{id: number, version: number}} asked */
  const remove = ({ id, version }) => transaction("readwrite", async (store) => {
    /** @type {Stored | undefined} */
    const stands = await got(store("cases").get(id));
    if (!stands) throw noCase(id);
    if (stands.version !== version) throw changed(id);
    await got(store("cases").delete(id));
    for (const key of await got(store("done").index("of").getAllKeys(id))) await got(store("done").delete(key));
    return { left: [] };
  });

  /** @param {{words?: string, tag?: string | null, limit?: number}} asked */
  async function find({ words = "", tag = null, limit = 40 }) {
    const all = await newestFirst();
    const wanted = [...new Set(plainWords(words))].slice(0, MOST_WORDS);
    const found = all.filter(({ case: one }) =>
      tag === null || tag === undefined ? has(one, wanted) : (one.tags ?? []).includes(tag));
    const most = Math.min(limit, MOST_SHOWN);
    /** @type {Map<string, number>} */
    const tags = new Map();
    for (const { case: one } of all) for (const name of one.tags ?? []) tags.set(name, (tags.get(name) ?? 0) + 1);
    return {
      cases: found.slice(0, most).map(shown),
      unreadable: [],
      notices: await notices(all),
      more: found.length > most,
      tags: [...tags].sort(([one], [other]) => (one < other ? -1 : 1)),
      total: all.length,
    };
  }

  /**
   * The cases behind one, or all, as many as the desk puts into a file.
   * @param {{form: "json" | "csv" | "spreadsheet", behind?: number | null}} asked
   */
  async function carryOut({ form, behind = null }) {
    const range = behind === null ? null : IDBKeyRange.lowerBound(behind, true);
    /** @type {Stored[]} */
    const some = await transaction("readonly", (store) => got(store("cases").getAll(range, MOST_AT_ONCE + 1)));
    const { text, cases } = await ask("kept/text", { form, cases: some.map((kept) => kept.case) });
    const written = some.slice(0, cases);
    // A table has not all of a case.
    if (form === "json") await areSaved(written);
    return { text, cases, next: written.length < some.length ? written.at(-1)?.id : null };
  }

  /** @param {Stored[]} all */
  const areSaved = (all) => transaction("readwrite", async (store) => {
    for (const { id, version } of all) {
      const stands = await got(store("cases").get(id));
      if (stands?.version === version && !stands.saved) await got(store("cases").put({ ...stands, saved: true }));
    }
  });

  /** @param {{form: "json" | "csv", text: string, good_only?: boolean}} asked */
  async function carryIn({ form, text, good_only = false }) {
    const { good, bad, classes } = await ask("kept/rows", { form, text });
    if (classes.length > 0) {
      throw new Error("There are classes in this file, and this copy of the page keeps cases alone; the program on a machine of one’s own keeps both.");
    }
    const takes = bad.length === 0 || good_only;
    if (takes) await keepAll(good);
    return { kept: takes ? good.length : 0, good: good.length, bad };
  }

  async function today() {
    const last = (await newestFirst()).map(shown);
    const recent = last.slice(0, LOOKED_THROUGH);
    return {
      recent: recent.slice(0, SHOWN_TODAY),
      to_correct: last.filter(({ case: one }) => one.readings?.length && !one.marks?.length).slice(0, SHOWN_TODAY),
      plates: recent.length > 0 ? await ask("kept/plates", recent) : [],
    };
  }

  /** @param {Settings} settings */
  async function keepSettings(settings) {
    await ask("kept/settings", settings);
    await transaction("readwrite", (store) => got(store("one").put(settings, "settings")));
    await lasting();
    await spread();
    return null;
  }

  /**
   * Changes instruments, and the settings where the usual one is now called otherwise.
   * @param {{name: string, text: string} | null} before
   * @param {Instrument | null} after
   */
  async function changeInstruments(before, after) {
    await transaction("readwrite", async (store) => {
      const { settings, instruments } = await both(store);
      const same = (/** @type {string} */ one, /** @type {string} */ other) => one.toLowerCase() === other.toLowerCase();
      const stands = before ? instruments.find(({ name }) => same(name, before.name)) : null;
      if (before && !stands) {
        throw new Error(`${before.name} is none of the instruments kept here and is not changed; a copy of it would do`);
      }
      if (before && stands?.text !== before.text) {
        throw new Error(`${before.name} was changed meanwhile by someone else; look at it again first`);
      }
      if (stands) await got(store("instruments").delete(stands.file));
      if (after) await got(store("instruments").put({ ...after, file: stands?.file ?? freeName(after.name, instruments) }));
      if (before && settings.with && same(settings.with, before.name)) {
        await got(store("one").put({ ...settings, with: after?.name ?? null }, "settings"));
      }
    });
    await lasting();
    await spread();
    return ask("cabinet", {});
  }

  /** @param {{text: string, instead_of: {name: string, text: string} | null}} asked */
  async function keepInstrument({ text, instead_of = null }) {
    const { name } = await ask("kept/instrument", { text, instead_of: instead_of?.name ?? null });
    return { name, ...(await changeInstruments(instead_of, { file: "", name, text })) };
  }

  return new Map(Object.entries({
    "settings": keepSettings,
    "today": today,
    "cabinet/keep": keepInstrument,
    "cabinet/delete": (/** @type {{name: string, text: string}} */ before) => changeInstruments(before, null),
    "casebook/find": find,
    "casebook/keep": async (/** @type {BookCase} */ given) => {
      const kept = await keepAll([await ask("kept/fit", given)]);
      await lasting();
      return kept && shown(kept);
    },
    "casebook/edit": edit,
    "casebook/undo": undo,
    "casebook/delete": remove,
    "casebook/export": carryOut,
    "casebook/import": carryIn,
  }));
}

/**
 * The name of a file that none has yet.
 * @param {string} name
 * @param {Instrument[]} instruments
 */
function freeName(name, instruments) {
  const stem = plainWords(name).join("-") || "instrument";
  const isFree = (/** @type {string} */ file) => instruments.every((one) => one.file !== file);
  let file = `${stem}.toml`;
  for (let number = 2; !isFree(file); number += 1) file = `${stem}-${number}.toml`;
  return file;
}
