import * as desk from "./desk.js";
import { element } from "./element.js";

const NOT_OVER_THIS =
  "Over this address browsers keep no page for when there is no network, do not keep the screen awake and do not say where one is. Over https they do.";

/**
 * The page on a telephone: its address as a code, where others can reach that, and what
 * such an address does not allow.
 */
export function createElsewhere() {
  const shown = element("div", { class: "elsewhere" });
  const isReached = document.documentElement.dataset.desk === "here" && location.protocol.startsWith("http");
  const address = `${location.origin}${location.pathname}`;
  return {
    shown,
    /** Draws the code, once. */
    async show() {
      if (!isReached || shown.childElementCount > 0) return;
      const { svg } = await desk.code(address);
      const code = element("div", { class: "code" });
      code.innerHTML = svg;
      shown.append(
        element("h3", {}, "On a telephone"),
        code,
        element("p", { class: "quiet" }, `Held to this code, it opens ${address}`),
        ...(isSecureContext ? [] : [element("p", { class: "notice" }, NOT_OVER_THIS)]));
    },
  };
}
