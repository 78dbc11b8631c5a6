import { element, byId } from "./element.js";
import { createPointer } from "./pointer.js";

/**
 * The showing to a class: instrument and step alone, the whole screen, with the
 * keys that a beamer's remote control sends. A sentence can be asked before it is answered.
 * @param {ReturnType<typeof import("./working.js").createWorking>} working
 * @param {ReturnType<typeof import("./lens.js").createLens>} lens
 */
export function createShowing(working, lens) {
  const root = document.documentElement;
  const aside = element("div", { class: "lens-aside" });
  const pointer = createPointer(byId("at-hand"));
  const withhold = element("input", { type: "checkbox", id: "withhold" });
  const pointing = element("input", { type: "checkbox", id: "pointing" });
  const large = element("input", { type: "checkbox", id: "large-lens", checked: true });
  const onward = element("button", { type: "button", onclick: next }, "Next");
  const bar = element("div", { class: "showing-bar", role: "group", "aria-label": "The showing" },
    element("button", { type: "button", onclick: () => working.previous() }, "Previous"),
    onward,
    element("label", { class: "tick" }, withhold, " hide the reading until next"),
    element("label", { class: "tick" }, large, " large lens"),
    element("label", { class: "tick" }, pointing, " pointer"),
    element("button", { type: "button", onclick: end, id: "end-showing" }, "End the showing"));
  byId("at-hand").append(aside, bar);

  function next() {
    working.next(withhold.checked);
  }

  /** A large lens stands beside the instrument, and hides nothing of it. */
  function lay() {
    const shown = root.classList.contains("showing");
    lens.stand(shown && large.checked ? aside : null);
    pointer.show(shown && pointing.checked);
  }
  for (const one of [large, pointing]) one.addEventListener("change", lay);

  function begin() {
    root.classList.add("showing");
    lay();
    working.go(0, { asked: withhold.checked });
    // Where it is refused, the showing has the window instead of the screen.
    root.requestFullscreen?.().catch(() => {});
    onward.focus();
  }

  function leave() {
    root.classList.remove("showing");
    lay();
  }

  function end() {
    leave();
    if (document.fullscreenElement) document.exitFullscreen().catch(() => {});
    byId("show").focus();
  }

  working.onShow(begin);
  document.addEventListener("fullscreenchange", () => {
    if (!document.fullscreenElement) leave();
  });
  document.addEventListener("keydown", (event) => {
    if (!root.classList.contains("showing")) return;
    const onHandle = document.activeElement?.getAttribute("role") === "slider";
    if (pointing.checked && event.shiftKey && pointer.key(event.key)) event.preventDefault();
    else if (event.key === "Escape") end();
    else if (event.key === "PageDown" || (event.key === "ArrowRight" && !onHandle)) next();
    else if (event.key === "PageUp" || (event.key === "ArrowLeft" && !onHandle)) working.previous();
    else return;
    event.preventDefault();
  }, { capture: true });
}
