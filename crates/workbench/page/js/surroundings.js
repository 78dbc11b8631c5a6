/** Light or dark, as the system has it or as is wished; or a red light, for work in the dark. */

const KEY = "almuri-surroundings";
/** What was wished before the red light was lit. */
const BEFORE = "almuri-surroundings-before";

/** @typedef {"" | "light" | "dark" | "red"} Surroundings */

const changes = new EventTarget();

/** @param {string} key @returns {Surroundings} */
const kept = (key) => {
  const wished = localStorage.getItem(key);
  return wished === "light" || wished === "dark" || wished === "red" ? wished : "";
};

export const surroundings = () => kept(KEY);

/** @param {Surroundings} wished */
export function setSurroundings(wished) {
  if (wished === "red") localStorage.setItem(BEFORE, surroundings());
  if (wished) localStorage.setItem(KEY, wished);
  else localStorage.removeItem(KEY);
  apply();
}

/** Lights the red light, or puts it out: all is as it was before. */
export function turnRedLight() {
  setSurroundings(surroundings() === "red" ? kept(BEFORE) : "red");
}

export function apply() {
  const wished = surroundings() || (matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light");
  document.documentElement.dataset.surroundings = wished;
  // The browser's own bars go along.
  const paper = getComputedStyle(document.documentElement).getPropertyValue("--paper").trim();
  document.querySelector("meta[name=theme-color]")?.setAttribute("content", paper);
  changes.dispatchEvent(new Event("change"));
}

/** @param {() => void} listener */
export const onSurroundings = (listener) => changes.addEventListener("change", listener);

matchMedia("(prefers-color-scheme: dark)").addEventListener("change", apply);
