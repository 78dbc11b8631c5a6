/**
 * Keeps the screen awake while something is worked beside it. A browser gives a held
 * screen back whenever the page is not seen, and grants it on secure addresses alone.
 * @param {(how: string) => void} say what has come of it
 */
export function createAwake(say) {
  let wanted = false;
  /** @type {WakeLockSentinel | null} */
  let held = null;

  async function hold() {
    if (!wanted || document.visibilityState !== "visible") return;
    if (!isSecureContext) return say("The screen may go dark: keeping it awake needs a secure address (https).");
    if (!("wakeLock" in navigator)) return say("The screen may go dark: this browser cannot keep it awake.");
    try {
      const got = await navigator.wakeLock.request("screen");
      if (!wanted) return void got.release();
      held = got;
      say("The screen stays awake.");
    } catch {
      say("The screen may go dark: the browser does not keep it awake now, to save power perhaps.");
    }
  }

  document.addEventListener("visibilitychange", hold);

  return {
    begin() {
      wanted = true;
      return hold();
    },
    end() {
      wanted = false;
      held?.release().catch(() => {});
      held = null;
    },
  };
}
