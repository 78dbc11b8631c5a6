/** A finger that has gone so far sideways, in pixels, turns the leaf. */
const FAR = 48;
/** It has gone sideways, and not up or down, by so much more. */
const SIDEWAYS = 1.5;

/**
 * A finger's swipe sideways over something; what it turns goes along under it.
 * @param {HTMLElement} over
 * @param {HTMLElement} along
 * @param {{onward: () => void, back: () => void}} turn
 */
export function swipe(over, along, { onward, back }) {
  /** @type {{id: number, x: number, y: number} | null} */
  let begun = null;

  /** @param {PointerEvent} event */
  const gone = (event) => {
    if (begun?.id !== event.pointerId) return 0;
    const [x, y] = [event.clientX - begun.x, event.clientY - begun.y];
    return Math.abs(x) > SIDEWAYS * Math.abs(y) ? x : 0;
  };
  const end = () => {
    begun = null;
    along.style.translate = "";
  };

  over.addEventListener("pointerdown", (event) => {
    // Of two fingers neither swipes: they enlarge.
    begun = begun === null && event.pointerType !== "mouse"
      ? { id: event.pointerId, x: event.clientX, y: event.clientY }
      : null;
  });
  over.addEventListener("pointermove", (event) => {
    const by = gone(event);
    if (begun) along.style.translate = `${by}px`;
  });
  over.addEventListener("pointerup", (event) => {
    const by = gone(event);
    end();
    if (by <= -FAR) onward();
    else if (by >= FAR) back();
  });
  over.addEventListener("pointercancel", end);
}
