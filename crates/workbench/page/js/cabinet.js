import * as desk from "./desk.js";
import { byId, element } from "./element.js";
import { linkTo } from "./fragment.js";
import { help } from "./help.js";
import { createLeaf } from "./leaf.js";
import { ownBrass } from "./own-brass.js";
import { fileName, save } from "./save.js";
import { capital, latitude, plain, sentence } from "./words.js";

/** @typedef {import("./types.js").Instrument} Instrument */

/**
 * The cabinet: the instruments at hand, and the form about one of one’s own.
 * @param {import("./shelf.js").Shelf} shelf
 * @param {import("./store.js").Store} store
 * @param {import("./settings.js").SettingsPanel} settings
 */
export function createCabinet(shelf, store, settings) {
  const list = element("ul", { class: "cabinet-list", id: "cabinet-list" });
  const unread = element("div", { id: "cabinet-unread" });
  const done = element("p", { class: "quiet", role: "status" });
  const told = element("p", { class: "fault", role: "alert" });
  const file = element("input", { type: "file", id: "cabinet-file", accept: ".toml,text/plain" });
  const own = ownBrass(keep, () => {});

  const leaf = createLeaf("cabinet", (body) => {
    body.append(
      element("p", { class: "row" },
        element("button", { type: "button", id: "own-begin", class: "first", onclick: () => begin(null) }, "My own…"),
        element("label", { for: "cabinet-file" }, "or from a specification file"), file),
      done, told, own.section, unread, list,
      help(
        "Where do they lie?",
        "Those that come with the program are invented. Each of your own is a plain text file in the folder “cabinet” beside the casebook: `almuri cabinet` in a terminal lists, adds and removes the same ones, and a file that is put there by hand is here when this page is next looked at.",
        "A link carries the whole description of an instrument in its address, which no server is told; whoever opens it can keep the instrument.",
      ));
  }, () => { shelf.look().catch((error) => { told.textContent = sentence(error); }); });

  shelf.onChanged(show);
  shelf.onWished(() => {
    leaf.show();
    begin(null);
  });
  settings.onKept(show);
  file.addEventListener("change", async () => {
    const chosen = file.files?.[0];
    if (chosen) await begin(await chosen.text());
    file.value = "";
  });

  /**
   * Opens the form.
   * @param {string | null} text
   * @param {import("./shelf.js").Before | null} [before]
   */
  function begin(text, before = null) {
    done.textContent = told.textContent = "";
    own.suggestUsual(before ? settings.kept.with === before.name : !settings.kept.with);
    return own.begin(text, before);
  }

  /**
   * Keeps what the form says, and takes it in hand.
   * @param {string} text
   * @param {import("./shelf.js").Before | null} before
   * @param {boolean} usual
   */
  async function keep(text, before, usual) {
    const name = await shelf.keep(text, before);
    const was = settings.kept.with;
    // Whoever keeps the instrument keeps the settings right with it.
    if (before && was === before.name) settings.follow(name);
    if (usual && settings.kept.with !== name) await settings.keep({ with: name });
    if (!usual && settings.kept.with === name) await settings.keep({ with: null });
    done.textContent = `${capital(name)} is in the cabinet and in hand.`;
    await take(name);
  }

  /**
   * Takes an instrument in hand, in the line at the top.
   * @param {string} name
   */
  async function take(name) {
    await store.ask({ with: { named: name }, by: null });
    const line = byId("with");
    line.scrollIntoView({ block: "center" });
    line.focus({ preventScroll: true });
  }

  /**
   * @param {() => Promise<unknown>} work
   */
  async function doing(work) {
    done.textContent = told.textContent = "";
    try {
      await work();
    } catch (error) {
      told.textContent = sentence(error);
    }
  }

  function show() {
    unread.replaceChildren(...shelf.unread.map(({ file: name, why }) =>
      element("p", { class: "fault" }, `${name} cannot be used: ${why}.`)));
    const mine = shelf.instruments.filter(({ name }) => shelf.own(name));
    const others = shelf.instruments.filter(({ name }) => !shelf.own(name));
    list.replaceChildren(...[...mine, ...others].map(piece));
  }

  /** @param {Instrument} instrument */
  function piece(instrument) {
    const { name } = instrument;
    const mine = shelf.own(name);
    const act = (/** @type {string} */ words, /** @type {() => Promise<unknown>} */ work) => element("button", {
      type: "button", "aria-label": `${words}: ${name}`, onclick: () => doing(work),
    }, words);
    const text = async () => (await shelf.specification(name)).text;
    /** @type {HTMLParagraphElement} */
    const acts = element("p", { class: "row" },
      act("Take in hand", () => take(name)),
      settings.kept.with !== name && act("Make it the usual one", () => settings.keep({ with: name })),
      mine?.in_folder && act("Change", async () => {
        const now = await text();
        await begin(now, { name, text: now });
      }),
      act("Copy", async () => begin(await copied(await text(), `${name}, a copy`))),
      act("Save as a file", async () => save(`${fileName(name)}.toml`, new Blob([await text()], { type: "text/plain" }))),
      act("Link", async () => {
        const link = element("a", { href: await linkTo(store.case, await text()) }, `${name}, to be passed on`);
        acts.nextElementSibling?.replaceChildren(link);
        link.focus();
      }),
      mine?.in_folder && act("Delete", async () => acts.replaceWith(sure(name, await text(), acts))));
    return element("li", { "data-own": mine ? "yes" : false },
      element("b", {}, name),
      element("span", { class: "more" }, mine ? (mine.in_folder ? " mine" : ` from ${mine.file}, as the settings say`) : " with the program",
        settings.kept.with === name ? ", the usual one" : ""),
      element("p", {}, `${instrument.diameter_mm} mm, ${plain(instrument.orientation)}, ${instrument.plates_deg.length === 1 ? "plate" : "plates"} ${instrument.plates_deg.map(latitude).join(", ")}`),
      instrument.description && element("p", { class: "more" }, instrument.description),
      acts, element("p", { class: "more" }));
  }

  /**
   * Deleting asks once, where it was asked for.
   * @param {string} name
   * @param {string} text
   * @param {HTMLElement} acts
   */
  function sure(name, text, acts) {
    const no = element("button", {
      type: "button", onclick: () => {
        asking.replaceWith(acts);
        acts.querySelector("button")?.focus();
      },
    }, "No, keep it");
    const asking = element("p", { class: "row", role: "group", "aria-label": `Delete ${name}?` },
      `Delete ${name} for good?`,
      element("button", {
        type: "button", class: "grave", onclick: () => doing(async () => {
          await shelf.remove({ name, text });
          settings.follow(settings.kept.with === name ? null : settings.kept.with);
          done.textContent = `${capital(name)} is deleted.`;
          list.querySelector("button")?.focus();
        }),
      }, "Yes, delete it"), no);
    queueMicrotask(() => no.focus());
    return asking;
  }

  show();
  return {
    leaf, shelf,
    /**
     * Opens the form with a specification that came from elsewhere.
     * @param {string} text
     */
    offer(text) {
      leaf.show();
      begin(text);
    },
  };
}

/**
 * A specification under another name.
 * @param {string} text
 * @param {string} name
 */
async function copied(text, name) {
  const { form } = await desk.brass({ text, form: null });
  return (await desk.brass({ text, form: { ...form, name: name.slice(0, 80) } })).text;
}

/** @typedef {ReturnType<typeof createCabinet>} CabinetLeaf */
