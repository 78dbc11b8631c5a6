/** How one fared lately when trying alone, kept on this machine. */

const KEY = "almuri-tried";

/** So often in a row a kind of question must have been right before it is let go. */
const OFTEN = 2;

/** @typedef {{operation: string, right: number}} Due what went wrong, and how often it was right since */

/** @returns {Due[]} */
function stored() {
  try {
    const found = JSON.parse(localStorage.getItem(KEY) ?? "[]");
    return Array.isArray(found) ? found.filter((one) => typeof one?.operation === "string" && Number.isInteger(one?.right)) : [];
  } catch {
    return [];
  }
}

/** The operations that went wrong lately, the longest ago first. */
export const recall = () => stored().map(({ operation }) => operation);

export const forget = () => localStorage.removeItem(KEY);

/**
 * @param {string} operation
 * @param {boolean} right
 */
export function remember(operation, right) {
  const others = stored().filter((one) => one.operation !== operation);
  const known = stored().find((one) => one.operation === operation);
  const due = right
    ? known && known.right + 1 < OFTEN ? [{ operation, right: known.right + 1 }] : []
    : [{ operation, right: 0 }];
  localStorage.setItem(KEY, JSON.stringify([...others, ...due]));
}
