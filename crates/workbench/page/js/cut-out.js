/**
 * A part of an instrument cut out of its photograph, as flat as it is drawn: pixel for pixel
 * through the camera that was found, and nothing else, so that it can be tried on any.
 */

/** @typedef {{x: number, y: number}} Place in millimetres as drawn, or in pixels from the middle of the first one */
/** @typedef {{data: ArrayLike<number>, width: number, height: number}} Pixels red, green, blue and alpha of each, row by row */
/** @typedef {{pixels: Pixels, half_mm: number}} Mask how much of a drawing's pixels counts, as alpha; it reaches so far from the pole */

/** A lens bends little: so many rounds undo it. */
const ROUNDS = 6;

/**
 * How the camera sees a part, and back.
 * @param {import("./answers.js").FacePartAnswer} part
 */
export function view({ ray, focal_px, centre_px, distortion }) {
  const [right, down, away] = [0, 1, 2].map((row) => {
    const [byX = 0, byY = 0, begin = 0] = ray[row] ?? [];
    return { byX, byY, begin };
  });
  const [middleX = 0, middleY = 0] = centre_px;
  if (!right || !down || !away) throw new Error("a part is seen by three rows");
  return {
    /**
     * Where a place of the drawing is seen.
     * @param {number} x
     * @param {number} y
     * @returns {Place}
     */
    seen(x, y) {
      const far = away.byX * x + away.byY * y + away.begin;
      const slopeX = (right.byX * x + right.byY * y + right.begin) / far;
      const slopeY = (down.byX * x + down.byY * y + down.begin) / far;
      const px = focal_px * (1 + distortion * (slopeX * slopeX + slopeY * slopeY));
      return { x: middleX + px * slopeX, y: middleY + px * slopeY };
    },
    /**
     * The place of the drawing that is seen at a pixel.
     * @param {Place} pixel
     * @returns {Place}
     */
    drawnAt(pixel) {
      const bentX = (pixel.x - middleX) / focal_px;
      const bentY = (pixel.y - middleY) / focal_px;
      let [x, y] = [bentX, bentY];
      for (let round = 0; round < ROUNDS; round += 1) {
        const by = 1 + distortion * (x * x + y * y);
        [x, y] = [bentX / by, bentY / by];
      }
      // Both rows, less the slope times the third, vanish at the place.
      const [a, b, c] = [right.byX - x * away.byX, right.byY - x * away.byY, right.begin - x * away.begin];
      const [d, e, f] = [down.byX - y * away.byX, down.byY - y * away.byY, down.begin - y * away.begin];
      const whole = a * e - b * d;
      return { x: (b * f - c * e) / whole, y: (c * d - a * f) / whole };
    },
  };
}

/** @typedef {ReturnType<typeof view>} View */

/**
 * The part's picture: as large as its mask and as opaque, with nothing where something else
 * lay over it or the photograph ends.
 * @param {Pixels} photograph
 * @param {number} scale of its pixels, in parts of those that the view counts in
 * @param {View} of
 * @param {Mask} mask
 * @param {{view: View, mask: Mask}[]} over what lay over it
 */
export function cutOut(photograph, scale, of, { pixels: mask, half_mm }, over) {
  const { width, height } = mask;
  const data = new Uint8ClampedArray(4 * width * height);
  const mm = (2 * half_mm) / width;
  for (let row = 0; row < height; row += 1) {
    for (let column = 0; column < width; column += 1) {
      const at = 4 * (row * width + column);
      const alpha = mask.data[at + 3] ?? 0;
      if (alpha === 0) continue;
      const pixel = of.seen((column + 0.5) * mm - half_mm, (row + 0.5) * mm - half_mm);
      if (over.some((one) => isUnder(one, pixel))) continue;
      const from = { x: (pixel.x + 0.5) * scale - 0.5, y: (pixel.y + 0.5) * scale - 0.5 };
      if (putColour(photograph, from, data, at)) data[at + 3] = alpha;
    }
  }
  return new ImageData(data, width, height);
}

/**
 * @param {{view: View, mask: Mask}} one
 * @param {Place} pixel
 */
function isUnder({ view: above, mask: { pixels, half_mm } }, pixel) {
  const { x, y } = above.drawnAt(pixel);
  const times = pixels.width / (2 * half_mm);
  const [column, row] = [Math.floor((x + half_mm) * times), Math.floor((y + half_mm) * times)];
  if (column < 0 || row < 0 || column >= pixels.width || row >= pixels.height) return false;
  return (pixels.data[4 * (row * pixels.width + column) + 3] ?? 0) > 0;
}

/**
 * Puts the colour of a place down, from the four pixels about it; says whether there is one.
 * @param {Pixels} from
 * @param {Place} place
 * @param {Uint8ClampedArray} into
 * @param {number} at
 */
function putColour({ data, width, height }, { x, y }, into, at) {
  const [left, top] = [Math.floor(x), Math.floor(y)];
  if (left < 0 || top < 0 || left + 1 >= width || top + 1 >= height) return false;
  const [right, down] = [x - left, y - top];
  const first = 4 * (top * width + left);
  const below = first + 4 * width;
  for (let tint = 0; tint < 3; tint += 1) {
    const above = (data[first + tint] ?? 0) * (1 - right) + (data[first + 4 + tint] ?? 0) * right;
    const under = (data[below + tint] ?? 0) * (1 - right) + (data[below + 4 + tint] ?? 0) * right;
    into[at + tint] = above * (1 - down) + under * down;
  }
  return true;
}
