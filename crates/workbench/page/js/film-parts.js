import * as desk from "./desk.js";
import { MARGIN, PARTS, turned } from "./stage.js";

/** @typedef {import("./types.js").Step} Step */
/** @typedef {import("./types.js").State} State */
/** @typedef {import("./types.js").Point} Point */
/** @typedef {CanvasRenderingContext2D | OffscreenCanvasRenderingContext2D} Surface */

/** What is looked at is so broad, as a part of the instrument: in the picture, and in the lens. */
const LIT = 0.0042;
const LIT_IN_LENS = 0.0022;

/** The lens shows so much about a place, as a part of the instrument's reach. */
const IN_LENS = 0.1;

/** Rules of the page that a drawing's own parts follow. */
const OF_DRAWINGS = /\.(line|metal|letter|italic|clears|dotted|astrolabe)/;

/**
 * The style of the page's drawings, in its colours, with its letters: what an image must
 * bring, for it sees nothing of the page.
 */
async function styleOfPage() {
  const computed = getComputedStyle(document.documentElement);
  const sheets = [...document.styleSheets].filter(({ media }) => matchMedia(media.mediaText || "all").matches);
  const rules = sheets.flatMap((sheet) => [...sheet.cssRules]);
  const names = rules
    .flatMap((rule) => (rule instanceof CSSStyleRule && rule.selectorText === ":root" ? [...rule.style] : []))
    .filter((name) => name.startsWith("--"));
  const colours = names.map((name) => `${name}:${computed.getPropertyValue(name)}`).join(";");
  const drawn = rules.filter((rule) => rule instanceof CSSStyleRule && OF_DRAWINGS.test(rule.selectorText));
  const faces = await Promise.all(rules.filter((rule) => rule instanceof CSSFontFaceRule).map(embedded));
  return `:root{${colours}}${faces.join("")}${drawn.map(({ cssText }) => cssText).join("")}`;
}

/**
 * A font with its bytes in its rule.
 * @param {CSSFontFaceRule} rule
 */
async function embedded(rule) {
  const address = /url\("([^"]+)"\)/.exec(rule.style.getPropertyValue("src"))?.[1];
  if (!address || address.startsWith("data:")) return rule.cssText;
  const bytes = new Uint8Array(await (await fetch(address)).arrayBuffer());
  const text = Array.from(bytes, (byte) => String.fromCharCode(byte)).join("");
  return rule.cssText.replace(address, `data:font/woff2;base64,${btoa(text)}`);
}

/**
 * An instrument for a film: each part an image, drawn again only where other lines are lit.
 * @param {import("./types.js").With} instrument
 * @param {number} size of its picture, in pixels
 */
export async function filmParts(instrument, size) {
  const style = await styleOfPage();
  /** @type {Map<string, Promise<HTMLImageElement>>} */
  const images = new Map();
  /** @type {Map<string, Promise<OffscreenCanvas>>} */
  const pictures = new Map();
  /** @type {Map<number, ReturnType<typeof desk.front>>} */
  const fronts = new Map();
  /** @type {ReturnType<typeof desk.back> | null} */
  let backAsked = null;

  /** @param {number} plate_latitude_deg */
  function frontOf(plate_latitude_deg) {
    const front = fronts.get(plate_latitude_deg) ?? desk.front({ with: instrument, plate_latitude_deg });
    fronts.set(plate_latitude_deg, front);
    return front;
  }

  /** @param {number} plate_latitude_deg */
  const backOf = (plate_latitude_deg) => (backAsked ??= desk.back({ with: instrument, plate_latitude_deg }));

  /**
   * @template T
   * @param {Map<string, Promise<T>>} kept
   * @param {string} key
   * @param {() => Promise<T>} make
   */
  function once(kept, key, make) {
    const made = kept.get(key) ?? make();
    kept.set(key, made);
    return made;
  }

  /**
   * A part with lines lit, as an image.
   * @param {string} svg
   * @param {string} id
   * @param {string[]} lines
   * @param {number} lit
   * @param {string} key
   */
  const image = (svg, id, lines, lit, key) => once(images, key, async () => {
    const drawing = new DOMParser().parseFromString(svg, "image/svg+xml");
    const root = drawing.documentElement;
    const group = drawing.getElementById(id);
    group?.removeAttribute("transform");
    for (const line of group?.querySelectorAll("[data-line]") ?? []) {
      if (lines.includes(line.getAttribute("data-line") ?? "")) line.classList.add("lit");
    }
    root.replaceChildren(...(group ? [group] : []));
    root.setAttribute("class", "astrolabe");
    // An image needs a size of its own.
    root.setAttribute("width", String(size));
    root.setAttribute("height", String(size));
    // The page itself allows no styles within it: they are put into the text of the image.
    const sheet = `<style>${style}:root{--lit:${lit}px}${id.startsWith("back-") ? ":root{--plate:var(--mater)}" : ""}</style>`;
    const text = new XMLSerializer().serializeToString(root).replace(">", () => `>${sheet}`);
    const made = new Image();
    made.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(text)}`;
    await made.decode();
    return made;
  });

  /**
   * One side of the instrument with lines lit: all that its pictures need is made.
   * @param {Step["side"]} side
   * @param {number} plate_latitude_deg
   * @param {string[]} lines
   */
  async function scene(side, plate_latitude_deg, lines) {
    const front = await frontOf(plate_latitude_deg);
    const back = side === "back" ? await backOf(plate_latitude_deg) : null;
    const { svg, reach_mm } = back ?? front;
    const scale = size / (2 * reach_mm * MARGIN);
    const layers = await Promise.all(PARTS[side].map(async (part) => {
      const id = `${side}-${part}`;
      const here = lines.filter((line) => svg.includes(`data-line="${line}"`));
      const key = [id, part === "plate" ? plate_latitude_deg : "", ...here].join("|");
      const made = (/** @type {number} */ lit) => image(svg, id, here, reach_mm * lit, `${key}|${lit}`);
      const picture = await once(pictures, key, async () => {
        const canvas = new OffscreenCanvas(size, size);
        canvas.getContext("2d")?.drawImage(await made(LIT), 0, 0, size, size);
        return canvas;
      });
      return { part, made, picture };
    }));

    /**
     * @param {typeof PARTS[Step["side"]][number]} part
     * @param {State} state
     */
    const standing = (part, state) => (part === "rete" || part === "rule" || part === "alidade"
      ? turned(part, state, front, back)
      : { deg: 0, pole: { x_mm: 0, y_mm: 0 } });

    /**
     * A part where it stands, about a place of the canvas.
     * @param {Surface} on
     * @param {CanvasImageSource} picture
     * @param {{deg: number, pole: Point}} standing
     * @param {{x: number, y: number, scale: number}} at
     */
    function lay(on, picture, { deg, pole }, { x, y, scale }) {
      const across = 2 * reach_mm * MARGIN * scale;
      on.save();
      on.translate(x + pole.x_mm * scale, y + pole.y_mm * scale);
      on.rotate((deg * Math.PI) / 180);
      on.drawImage(picture, -across / 2, -across / 2, across, across);
      on.restore();
    }

    return {
      /** Pixels to a millimetre, and how many of them the lens shows about a place. */
      scale,
      in_lens: reach_mm * IN_LENS * scale,
      /**
       * Draws it as it stands, about a place of the canvas.
       * @param {Surface} on
       * @param {State} state
       * @param {{x: number, y: number}} at
       */
      draw(on, state, at) {
        for (const { part, picture } of layers) lay(on, picture, standing(part, state), { ...at, scale });
      },
      /**
       * A place of it under the lens, sharp.
       * @param {State} state
       * @param {Point} place
       * @param {number} across in pixels
       */
      async lens(state, place, across) {
        const canvas = new OffscreenCanvas(across, across);
        const on = /** @type {Surface} */ (canvas.getContext("2d"));
        on.beginPath();
        on.arc(across / 2, across / 2, across / 2, 0, 2 * Math.PI);
        on.clip();
        const nearer = across / (2 * reach_mm * IN_LENS);
        const at = { x: across / 2 - place.x_mm * nearer, y: across / 2 - place.y_mm * nearer, scale: nearer };
        for (const { part, made } of layers) lay(on, await made(LIT_IN_LENS), standing(part, state), at);
        return canvas;
      },
    };
  }

  return { scene };
}

/** @typedef {Awaited<ReturnType<Awaited<ReturnType<typeof filmParts>>["scene"]>>} FilmScene */
