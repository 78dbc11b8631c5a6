/**
 * Where the darkest middle of a line lies near a place: a picture's pixels, and nothing else,
 * so that it can be tried on any.
 */

/** @typedef {{x: number, y: number}} Place in pixels, from the middle of the first one */
/** @typedef {{light: ArrayLike<number>, breadth: number, height: number}} Pixels how light each pixel is, row by row */

/** So far to either side along the line its darkness is gathered, in parts of the reach. */
const ALONG = 0.8;

/** A step across the line, in pixels. */
const STEP = 0.25;

/** A line must be darker than its ground by so many times what the ground scatters. */
const CLEAR = 5;

/** The ground scatters by no less than this, of 255 parts of white. */
const FAINTEST = 2;

/**
 * The place across the nearest line where it is darkest, or null where there is none to speak
 * of. It is moved across the line alone, never along it.
 * @param {Pixels} pixels
 * @param {Place} at
 * @param {number} reach how far from there a line is looked for, in pixels
 * @returns {Place | null}
 */
export function snapped(pixels, at, reach) {
  const across = acrossLine(pixels, at, reach);
  if (!across) return null;
  const along = { x: -across.y, y: across.x };
  const steps = Math.round(reach / STEP);
  /** @type {number[]} */
  const profile = [];
  for (let step = -steps; step <= steps; step += 1) {
    let sum = 0;
    let count = 0;
    for (let by = -ALONG * reach; by <= ALONG * reach; by += 0.5) {
      const light = lightAt(pixels, {
        x: at.x + across.x * step * STEP + along.x * by,
        y: at.y + across.y * step * STEP + along.y * by,
      });
      if (light === null) continue;
      sum += light;
      count += 1;
    }
    profile.push(count ? sum / count : NaN);
  }
  const known = profile.filter((one) => !Number.isNaN(one)).sort((one, other) => one - other);
  if (known.length < steps) return null;
  // The ground is what the lighter half of the profile shows, and so is how it scatters: a
  // Gaussian's 95th hundredth lies 0.971 of its standard error above its 75th.
  const ground = part(known, 0.75);
  const scatter = (part(known, 0.95) - ground) / 0.971;
  // Of lines that are about as dark the nearest is meant.
  let best = -1;
  let most = 0;
  for (let index = 1; index < profile.length - 1; index += 1) {
    const dark = ground - (profile[index] ?? ground);
    const off = Math.abs(index - steps) / steps;
    const counts = dark * (1 - 0.6 * off);
    if (counts > most) [best, most] = [index, counts];
  }
  const depth = ground - (profile[best] ?? ground);
  if (best < 0 || depth < CLEAR * Math.max(scatter, FAINTEST)) return null;
  // The middle of the dark about it, as far as it is at least half as dark.
  let from = best;
  let to = best;
  const isDark = (/** @type {number} */ index) => ground - (profile[index] ?? ground) > depth / 2;
  while (isDark(from - 1)) from -= 1;
  while (isDark(to + 1)) to += 1;
  let sum = 0;
  let weights = 0;
  for (let index = from; index <= to; index += 1) {
    const weight = ground - (profile[index] ?? ground) - depth / 2;
    sum += weight * index;
    weights += weight;
  }
  const by = (weights > 0 ? sum / weights : best) - steps;
  return { x: at.x + across.x * by * STEP, y: at.y + across.y * by * STEP };
}

/**
 * The direction in which it gets lighter and darker most: across the line (the greater axis of
 * the tensor of slopes; W. Förstner and E. Gülch, 1987).
 * @param {Pixels} pixels
 * @param {Place} at
 * @param {number} reach
 * @returns {Place | null}
 */
function acrossLine(pixels, at, reach) {
  let [xx, xy, yy] = [0, 0, 0];
  for (let down = -reach; down <= reach; down += 1) {
    for (let right = -reach; right <= reach; right += 1) {
      const far = Math.hypot(right, down) / reach;
      if (far > 1) continue;
      const here = { x: at.x + right, y: at.y + down };
      const slope = (/** @type {number} */ x, /** @type {number} */ y) => {
        const more = lightAt(pixels, { x: here.x + x, y: here.y + y });
        const less = lightAt(pixels, { x: here.x - x, y: here.y - y });
        return more === null || less === null ? 0 : more - less;
      };
      const [x, y] = [slope(1.5, 0), slope(0, 1.5)];
      const weight = 1 - far * far;
      xx += weight * x * x;
      xy += weight * x * y;
      yy += weight * y * y;
    }
  }
  if (xx + yy === 0) return null;
  const turn = Math.atan2(2 * xy, xx - yy) / 2;
  return { x: Math.cos(turn), y: Math.sin(turn) };
}

/**
 * @param {Pixels} pixels
 * @param {Place} at
 * @returns {number | null} between the four pixels about it
 */
function lightAt({ light, breadth, height }, { x, y }) {
  const [left, top] = [Math.floor(x), Math.floor(y)];
  if (left < 0 || top < 0 || left + 1 >= breadth || top + 1 >= height) return null;
  const [right, down] = [x - left, y - top];
  const of = (/** @type {number} */ column, /** @type {number} */ row) => light[row * breadth + column] ?? 0;
  return (of(left, top) * (1 - right) + of(left + 1, top) * right) * (1 - down)
    + (of(left, top + 1) * (1 - right) + of(left + 1, top + 1) * right) * down;
}

/**
 * @param {number[]} sorted
 * @param {number} at the part of them that lies below
 */
const part = (sorted, at) => sorted[Math.floor(sorted.length * at)] ?? 0;
