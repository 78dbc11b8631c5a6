import { byId, element } from "./element.js";

/**
 * A leaf: a part of the page that lies folded until it is wanted. Its section is
 * in the page with a heading; what is in it is made when it is first opened.
 * @param {string} id
 * @param {(body: HTMLElement) => void} make
 */
export function createLeaf(id, make) {
  const section = byId(id);
  const heading = section.querySelector("h2");
  if (!heading) throw new Error(`the section “${id}” has no heading`);
  const body = element("div", { class: "leaf-body", id: `${id}-body`, hidden: true });
  const fold = element("button", {
    type: "button", class: "fold", "aria-expanded": "false", "aria-controls": body.id,
    onclick: () => (body.hidden ? open() : close()),
  }, heading.textContent);
  heading.replaceChildren(fold);
  section.append(body);
  let made = false;

  function open() {
    if (!made) make(body);
    made = true;
    body.hidden = false;
    fold.setAttribute("aria-expanded", "true");
  }

  function close() {
    body.hidden = true;
    fold.setAttribute("aria-expanded", "false");
  }

  return {
    open,
    /** Opens it and goes there. */
    show() {
      open();
      section.scrollIntoView({ block: "start" });
      fold.focus({ preventScroll: true });
    },
    get isOpen() { return !body.hidden; },
  };
}

/** @typedef {ReturnType<typeof createLeaf>} Leaf */
