import { element } from "./element.js";
import { SIGNS } from "./words.js";

/**
 * What is written with the pad: two numbers, each with its greatest, and whether a sign
 * belongs to them.
 * @typedef {{most: readonly [number, number], marks: readonly [string, string], signs: boolean}} Kind
 */

/** @type {{degree: Kind, time: Kind}} */
export const KINDS = {
  degree: { most: [29, 59], marks: ["°", "′"], signs: true },
  time: { most: [23, 59], marks: [" h ", " m"], signs: false },
};

/**
 * A pad to write a reading with a thumb: number keys and a button for each sign. No keyboard
 * comes up for it; who has one may type all the same.
 */
export function createPad() {
  /** @type {Kind} */
  let kind = KINDS.degree;
  let numbers = ["", ""];
  /** Which of the two is being written. */
  let part = 0;
  let sign = "";
  const events = new EventTarget();

  const shown = element("input", {
    type: "text", id: "pad-reading", inputmode: "none", autocomplete: "off", spellcheck: "false", oninput: () => take(shown.value),
  });
  const label = element("label", { for: shown.id });
  const fault = element("p", { class: "fault", role: "alert", id: "pad-fault" });
  shown.setAttribute("aria-describedby", fault.id);
  const signs = element("div", { class: "pad-signs", role: "group", "aria-label": "Sign" },
    ...SIGNS.map((name) => element("button", { type: "button", "aria-pressed": "false", onclick: () => choose(name) }, name)));
  const mark = element("button", { type: "button", onclick: () => onward() });
  const key = (/** @type {string} */ digit) => element("button", { type: "button", onclick: () => write(digit) }, digit);
  const keys = element("div", { class: "pad-keys", role: "group", "aria-label": "Numbers" },
    ...["1", "2", "3", "4", "5", "6", "7", "8", "9"].map(key), mark, key("0"),
    element("button", { type: "button", "aria-label": "Erase the last", onclick: erase }, "⌫"));
  const place = element("div", { class: "pad" },
    element("p", { class: "pad-shown" }, label, shown), fault, element("div", { class: "pad-body" }, keys, signs));

  /** @param {string} digit */
  function write(digit) {
    const most = kind.most[part] ?? 0;
    const number = (numbers[part] ?? "") + digit;
    if (number.length > 2 || Number(number) > most) return;
    numbers[part] = number;
    // No further digit would make a number that there is.
    if (number.length === 2 || Number(number) * 10 > most) part = 1;
    show();
  }

  function onward() {
    if (numbers[0]) part = 1;
    show();
  }

  /** @param {string} name */
  function choose(name) {
    sign = sign === name ? "" : name;
    if (numbers[0]) part = 1;
    show();
  }

  function erase() {
    if (part === 1 && !numbers[1]) part = 0;
    if (numbers[part]) numbers[part] = (numbers[part] ?? "").slice(0, -1);
    else sign = "";
    show();
  }

  /** Takes what is typed: numbers in their order, and the sign that begins so. @param {string} text */
  function take(text) {
    const [first = "", second = ""] = text.match(/\d+/g) ?? [];
    const letters = /\p{L}{2,}/u.exec(text)?.[0].toLowerCase() ?? "";
    numbers = [first, second];
    part = first && /\d\D+/.test(text) ? 1 : 0;
    sign = (letters && SIGNS.find((name) => name.toLowerCase().startsWith(letters))) || "";
    tell();
  }

  function show() {
    const [first, second] = numbers;
    const said = [
      first && `${first}${kind.marks[0]}`,
      second && `${second.padStart(2, "0")}${kind.marks[1]}`,
      sign && ` ${sign}`,
    ];
    shown.value = said.filter(Boolean).join("").trim();
    tell();
  }

  function tell() {
    fault.textContent = "";
    shown.removeAttribute("aria-invalid");
    for (const button of signs.children) button.setAttribute("aria-pressed", String(button.textContent === sign));
    events.dispatchEvent(new Event("change"));
  }

  return {
    place,
    /**
     * @param {Kind} of
     * @param {string} what is read
     * @param {string} written so far
     */
    open(of, what, written) {
      kind = of;
      label.textContent = what;
      signs.hidden = !kind.signs;
      mark.textContent = kind.marks[0].trim();
      mark.setAttribute("aria-label", kind.signs ? "Degrees, now minutes" : "Hours, now minutes");
      shown.value = written;
      take(written);
      shown.focus({ preventScroll: true });
    },
    /** What is written, as the desk takes it; empty where nothing is. */
    get text() {
      const [first, second] = numbers;
      if (!kind.signs) return first ? `${first}:${(second ?? "").padStart(2, "0")}` : "";
      return [first && (second ? `${first}°${second.padStart(2, "0")}′` : first), sign].filter(Boolean).join(" ");
    },
    /** Whether that can be a reading: nothing at all, or with its sign. */
    get isWhole() {
      return kind.signs ? sign !== "" || numbers.every((one) => !one) : true;
    },
    /** @param {string} message */
    refuse(message) {
      fault.textContent = message;
      shown.setAttribute("aria-invalid", "true");
    },
    /** @param {() => void} listener */
    onChange(listener) { events.addEventListener("change", listener); },
  };
}
