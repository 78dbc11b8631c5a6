import { byId, element } from "./element.js";

/**
 * Keeps the page for when there is no network, where it came from a folder over a secure
 * address. A new version says that it is there, and waits until it is asked for.
 */
export async function keepForOffline() {
  if (!("serviceWorker" in navigator) || !isSecureContext) return;
  const kept = await navigator.serviceWorker.register("sw.js");
  // On a first visit there is no version before it.
  const offer = () => {
    if (kept.waiting && navigator.serviceWorker.controller) tell(kept.waiting);
  };
  offer();
  kept.addEventListener("updatefound", () => kept.installing?.addEventListener("statechange", offer));
}

/** @param {ServiceWorker} next */
function tell(next) {
  if (document.getElementById("new-version")) return;
  const take = element("button", { type: "button" }, "Take it");
  take.addEventListener("click", () => {
    navigator.serviceWorker.addEventListener("controllerchange", () => location.reload());
    next.postMessage("take over");
  });
  byId("headline").after(element("p", { id: "new-version", class: "notice", role: "status" }, "A new version of the page is here. ", take));
}
