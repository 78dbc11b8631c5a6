import { element } from "./element.js";

/**
 * Beneath the list of instruments: that the one in hand came with the address, and is in
 * no cabinet yet.
 * @param {HTMLElement} list
 * @param {import("./store.js").Store} store
 * @param {import("./shelf.js").Shelf} shelf
 * @param {import("./cabinet.js").CabinetLeaf} cabinet
 */
export function createFromLink(list, store, shelf, cabinet) {
  const keep = element("button", { type: "button", id: "keep-linked" }, "Keep it");
  const told = element("p", { class: "row more", id: "from-link", hidden: true }, "It came with the address.", keep);
  list.closest(".field")?.append(told);
  const text = () => {
    const meant = store.case.with;
    return meant && "specification" in meant ? meant.specification : null;
  };
  keep.addEventListener("click", () => {
    const specification = text();
    if (specification) cabinet.offer(specification);
  });
  const show = () => { told.hidden = text() === null; };
  store.onAnswer(show);
  shelf.onChanged(show);
}
