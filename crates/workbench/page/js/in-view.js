/**
 * Scrolls no further than it takes for something to be on the screen: beneath the strip
 * of the walk, above the line of effects.
 * @param {Element} what
 */
export function bring(what) {
  // What sticks moves once more when the page has moved.
  for (let times = 0; times < 2; times += 1) what.scrollIntoView({ block: "nearest", behavior: "instant" });
}

/**
 * Keeps a property of the page at the height of something that sticks, 0 while it is hidden.
 * @param {HTMLElement} what
 * @param {string} property
 */
export function heightOf(what, property) {
  new ResizeObserver(() => {
    document.documentElement.style.setProperty(property, `${what.offsetHeight}px`);
  }).observe(what);
}
