import { element } from "./element.js";

/**
 * Gives a text to the browser to be saved as a file.
 * @param {string} name
 * @param {string} type
 * @param {string} text
 */
export function save(name, type, text) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = element("a", { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  // The browser takes it up in its own time.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/**
 * A name as files bear it.
 * @param {string} text
 */
export const fileName = (text) =>
  text.normalize("NFD").replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "").toLowerCase() || "almuri";
