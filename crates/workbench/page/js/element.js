/**
 * Makes an element: attributes by name, listeners as functions under `on…`.
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} name
 * @param {Record<string, unknown>} [attributes]
 * @param {...(Node | string | null | undefined | false)} children
 * @returns {HTMLElementTagNameMap[K]}
 */
export function element(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  assign(made, attributes);
  append(made, children);
  return made;
}

/**
 * The same for what is drawn.
 * @template {keyof SVGElementTagNameMap} K
 * @param {K} name
 * @param {Record<string, unknown>} [attributes]
 * @param {...(Node | string | null | undefined | false)} children
 * @returns {SVGElementTagNameMap[K]}
 */
export function drawn(name, attributes = {}, ...children) {
  const made = document.createElementNS("http://www.w3.org/2000/svg", name);
  assign(made, attributes);
  append(made, children);
  return made;
}

/**
 * A field with its label above it.
 * @param {string} label
 * @param {HTMLElement} input
 */
export const labelled = (label, input) =>
  element("div", { class: "field" }, element("label", { for: input.id }, label), input);

/**
 * The element of an id that the page is sure to have.
 * @param {string} id
 * @returns {HTMLElement}
 */
export function byId(id) {
  const found = document.getElementById(id);
  if (!found) throw new Error(`the page has no element “${id}”`);
  return found;
}

/**
 * @param {Element} made
 * @param {Record<string, unknown>} attributes
 */
function assign(made, attributes) {
  for (const [key, value] of Object.entries(attributes)) {
    if (typeof value === "function") {
      made.addEventListener(key.slice(2), /** @type {EventListener} */ (value));
    } else if (value === true) {
      made.setAttribute(key, "");
    } else if (value !== false && value !== null && value !== undefined) {
      made.setAttribute(key, String(value));
    }
  }
}

/**
 * @param {Element} made
 * @param {(Node | string | null | undefined | false)[]} children
 */
function append(made, children) {
  for (const child of children) if (child) made.append(child);
}
