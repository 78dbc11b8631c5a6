import { element } from "./element.js";

/** Papers that handouts are printed on. */
const PAPERS = /** @type {const} */ ([["a4", "A4"], ["letter", "Letter"]]);

/**
 * A paper to choose, for one of several prints.
 * @param {string} id
 */
export const paper = (id) => element("select", { id }, ...PAPERS.map(([value, name]) => element("option", { value }, name)));
