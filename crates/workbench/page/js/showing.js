import { element, byId } from "./element.js";

/**
 * The showing to a class: instrument and step alone, the whole screen, with the
 * keys that a beamer's remote control sends.
 * @param {ReturnType<typeof import("./working.js").createWorking>} working
 */
export function createShowing(working) {
  const root = document.documentElement;
  const bar = element("div", { class: "showing-bar" },
    element("button", { type: "button", onclick: () => working.previous() }, "Previous"),
    element("button", { type: "button", onclick: () => working.next() }, "Next"),
    element("button", { type: "button", onclick: end, id: "end-showing" }, "End the showing"));
  byId("instrument").append(bar);

  function begin() {
    root.classList.add("showing");
    working.go(0);
    // Where it is refused, the showing has the window instead of the screen.
    root.requestFullscreen?.().catch(() => {});
    /** @type {HTMLElement | null} */ (bar.querySelector("button:nth-of-type(2)"))?.focus();
  }

  function end() {
    root.classList.remove("showing");
    if (document.fullscreenElement) document.exitFullscreen().catch(() => {});
    byId("show").focus();
  }

  working.onShow(begin);
  document.addEventListener("fullscreenchange", () => {
    if (!document.fullscreenElement) root.classList.remove("showing");
  });
  document.addEventListener("keydown", (event) => {
    if (!root.classList.contains("showing")) return;
    const onHandle = document.activeElement?.getAttribute("role") === "slider";
    if (event.key === "Escape") end();
    else if (event.key === "PageDown" || (event.key === "ArrowRight" && !onHandle)) working.next();
    else if (event.key === "PageUp" || (event.key === "ArrowLeft" && !onHandle)) working.previous();
    else return;
    event.preventDefault();
  }, { capture: true });
}
