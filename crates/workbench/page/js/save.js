import { element } from "./element.js";

/**
 * Gives something to the browser to be saved as a file.
 * @param {string} name
 * @param {Blob} content
 */
export function save(name, content) {
  const address = URL.createObjectURL(content);
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
