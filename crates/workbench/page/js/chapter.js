import { element } from "./element.js";

const KEY = "almuri-chapter";

/**
 * How far a casting goes: to the ascendant alone, with which one begins, or on through
 * midheaven and houses. Who has said it once is not asked again.
 * @param {boolean} otherwise whether it goes the whole way while nobody has said it
 */
export function createChapter(otherwise) {
  const kept = localStorage.getItem(KEY);
  let whole = kept === null ? otherwise : kept === "houses";
  const events = new EventTarget();
  const tell = () => { document.body.dataset.chapter = whole ? "houses" : "ascendant"; };
  tell();

  /** @param {boolean} far */
  function go(far) {
    whole = far;
    localStorage.setItem(KEY, whole ? "houses" : "ascendant");
    tell();
    events.dispatchEvent(new Event("change"));
  }

  return {
    /** Whether midheaven and houses are part of it. */
    get whole() { return whole; },
    /** A button that turns to the other chapter. */
    turn() {
      return element("p", { class: "row turn-chapter" }, element("button", {
        type: "button", class: "chapter", onclick: () => go(!whole),
      }, whole ? "The rising sign alone" : "On to the midheaven and the houses"));
    },
    /** @param {() => void} listener */
    onChange(listener) { events.addEventListener("change", listener); },
  };
}

/** @typedef {ReturnType<typeof createChapter>} Chapter */
