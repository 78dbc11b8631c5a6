/** Light or dark, as the system has it or as is wished. */

const KEY = "almuri-surroundings";

/** @typedef {"" | "light" | "dark"} Surroundings */

/** @returns {Surroundings} */
export function surroundings() {
  const kept = localStorage.getItem(KEY);
  return kept === "light" || kept === "dark" ? kept : "";
}

/** @param {Surroundings} wished */
export function setSurroundings(wished) {
  if (wished) localStorage.setItem(KEY, wished);
  else localStorage.removeItem(KEY);
  apply();
}

export function apply() {
  const wished = surroundings();
  const dark = wished ? wished === "dark" : matchMedia("(prefers-color-scheme: dark)").matches;
  document.documentElement.dataset.surroundings = dark ? "dark" : "light";
}

matchMedia("(prefers-color-scheme: dark)").addEventListener("change", apply);
