import { byId, element } from "./element.js";

/**
 * A leaf: a part of the page that lies folded until it is wanted. Its section is
 * in the page with a heading; what is in it is made when it is first opened.
 * @param {string} id
 * @param {(body: HTMLElement) => void} make
 * @param {() => void} [opened] what is done whenever it is opened
 */
export function createLeaf(id, make, opened) {
  const section = byId(id);
  const heading = section.querySelector("h2");
  if (!heading) throw new Error(`the section “${id}” has no heading`);
  const title = heading.textContent ?? "";
  const body = element("div", { class: "leaf-body", id: `${id}-body`, hidden: true });
  const fold = element("button", {
    type: "button", class: "fold", "aria-expanded": "false", "aria-controls": body.id,
    onclick: () => (body.hidden ? open() : close()),
  }, title);
  heading.replaceChildren(fold);
  section.append(body);
  let made = false;

  function open() {
    if (!made) make(body);
    made = true;
    const was = body.hidden;
    body.hidden = false;
    fold.setAttribute("aria-expanded", "true");
    if (was) opened?.();
  }

  function close() {
    body.hidden = true;
    section.classList.remove("sought");
    fold.setAttribute("aria-expanded", "false");
  }

  return {
    id,
    title,
    open,
    /** Opens it and goes there. */
    show() {
      // Room for it to come to the top of the window before what is in it has come.
      section.classList.add("sought");
      open();
      section.scrollIntoView({ block: "start" });
      fold.focus({ preventScroll: true });
    },
    get isOpen() { return !body.hidden; },
  };
}

/** @typedef {ReturnType<typeof createLeaf>} Leaf */
