import * as desk from "./desk.js";
import { cutOut, view } from "./cut-out.js";
import { element } from "./element.js";
import { keepOn, laidOn, passOn } from "./kept-faces.js";
import { onSurroundings, surroundings } from "./surroundings.js";
import { sentence } from "./words.js";

/** @typedef {import("./kept-faces.js").Laid} Laid */
/** @typedef {import("./kept-faces.js").FacePart} FacePart */
/** @typedef {import("./cut-out.js").Mask} Mask */
/** @typedef {import("./answers.js").FaceAnswer} FaceAnswer */

/** In which way it is wished; kept from day to day. */
const KEY = "almuri-face";

/** So many pixels is a part’s picture broad: twice what a large window shows. */
const ACROSS = 1600;

/** So far about a part its shadow and the edge of its metal lie on what is beneath, in millimetres. */
const SHADOW_MM = 0.5;

/** How much of what lies under the openings of a rete is hidden by its whole disc. */
const DISC_ALPHA = 0.55;

/** Parts of a front, each before those that lie over it. */
const PARTS = /** @type {const} */ (["mater", "plate", "rete", "rule"]);

/**
 * One’s own brass on the page: parts cut out of photographs and laid over the drawn ones. What
 * is turned, read and lit is the drawing, as ever.
 * @param {HTMLElement} place where one chooses what is seen
 * @param {import("./store.js").Store} store
 * @param {import("./stage.js").Stage} stage
 * @param {import("./shelf.js").Shelf} shelf
 */
export function createFace(place, store, stage, shelf) {
  const choice = element("select", { id: "face", onchange: choose },
    element("option", { value: "brass" }, "my brass"),
    element("option", { value: "lines" }, "my brass, with faint lines"),
    element("option", { value: "drawn" }, "the drawing"));
  const told = element("p", { class: "fault", role: "alert" });
  const control = element("div", { class: "face", hidden: true }, element("label", { for: "face" }, "Shown as"), choice, told);
  place.querySelector(".help")?.before(control);
  choice.value = localStorage.getItem(KEY) ?? "brass";
  if (choice.selectedIndex < 0) choice.value = "brass";
  /** Pictures that were cut out of a photograph for a drawing. @type {Map<string, Promise<string | null>>} */
  const pictures = new Map();
  /** How the parts lie in photographs. @type {Map<string, Promise<FaceAnswer>>} */
  const answers = new Map();
  let dressed = 0;

  stage.onDrawn(dress);
  stage.onSide(dress);
  onSurroundings(dress);
  shelf.onPassedOn(async (before, now) => {
    await passOn(before, now);
    dress();
  });

  function choose() {
    localStorage.setItem(KEY, choice.value);
    dress();
  }

  /** Lays on what is wished; the newest wish holds. */
  async function dress() {
    const mine = ++dressed;
    const { drawing } = stage;
    if (!drawing) return;
    const laid = await laidOn(drawing.name);
    if (mine !== dressed) return;
    control.hidden = laid.length === 0 || stage.side === "back";
    told.textContent = "";
    // A photograph has other colours than the red light.
    const isWished = choice.value !== "drawn" && surroundings() !== "red";
    for (const part of PARTS) {
      const from = laid.find(({ parts }) => parts.includes(part));
      if (!from || !isWished) {
        stage.wear(part, null);
        continue;
      }
      try {
        const href = await pictureOf(part, from, drawing);
        if (mine !== dressed) return;
        stage.wear(part, href ? { href, lines: choice.value === "lines" } : null);
      } catch (error) {
        if (mine !== dressed) return;
        stage.wear(part, null);
        told.textContent = `Your brass cannot be laid on this drawing: ${sentence(error)}`;
      }
    }
    control.dataset.dressed = String(mine);
  }

  /**
   * The address of a part’s picture, made once for each drawing; null where the photograph
   * does not show it, or shows another plate.
   * @param {FacePart} part
   * @param {Laid} from
   * @param {import("./stage.js").Drawing} drawing
   */
  function pictureOf(part, from, drawing) {
    const key = JSON.stringify([part, drawing.with, part === "plate" && drawing.plate_latitude_deg, from.marks, from.whole, from.photo.size]);
    return once(pictures, key, () => cut(part, from, drawing));
  }

  /**
   * How the parts lie in a photograph of an instrument.
   * @param {string} marks
   * @param {import("./types.js").With} instrument
   */
  const lie = (marks, instrument) =>
    once(answers, JSON.stringify([marks, instrument]), () => desk.face({ measurements: marks, with: instrument }));

  /**
   * @param {FacePart} part
   * @param {Laid} from
   * @param {import("./stage.js").Drawing} drawing
   */
  async function cut(part, { photo, marks, whole }, drawing) {
    const { parts, plate_latitude_deg } = await lie(marks, drawing.with);
    if (part === "plate" && plate_latitude_deg !== drawing.plate_latitude_deg) return null;
    const own = parts.find((one) => one.part === part);
    if (!own) return null;
    const above = PARTS.slice(PARTS.indexOf(part) + 1);
    const over = parts.flatMap((one) => {
      const name = above.find((other) => other === one.part);
      return name ? [{ view: view(one), mask: maskOf(name, { grown: SHADOW_MM }) }] : [];
    });
    const of = view(own);
    const mask = maskOf(part, { disc: part === "rete" && whole });
    const middle = of.seen(0, 0);
    const beside = of.seen(1, 0);
    // No more of the photograph than the picture can show.
    const finer = Math.hypot(beside.x - middle.x, beside.y - middle.y) / (ACROSS / (2 * mask.half_mm));
    const scale = Math.min(1, 1 / finer);
    const picture = cutOut(await pixelsOf(photo, scale), scale, of, mask, over);
    const sheet = new OffscreenCanvas(picture.width, picture.height);
    sheet.getContext("2d")?.putImageData(picture, 0, 0);
    return URL.createObjectURL(await sheet.convertToBlob({ type: "image/png" }));
  }

  /**
   * What a part covers as it is drawn, or a little more; the rete’s whole disc is half seen
   * through where it is open.
   * @param {FacePart} part
   * @param {{grown?: number, disc?: boolean}} how
   * @returns {Mask}
   */
  function maskOf(part, { grown = 0, disc = false }) {
    const { outlines, half_mm } = stage.outlines(part);
    const sheet = new OffscreenCanvas(ACROSS, ACROSS);
    const paint = sheet.getContext("2d", { willReadFrequently: true });
    if (!paint) throw new Error("this browser paints nothing; another would do");
    const times = ACROSS / (2 * half_mm);
    paint.setTransform(times, 0, 0, times, ACROSS / 2, ACROSS / 2);
    if (disc) {
      paint.globalAlpha = DISC_ALPHA;
      paint.beginPath();
      paint.arc(0, 0, Math.max(...outlines.map(({ reach_mm }) => reach_mm)), 0, 2 * Math.PI);
      paint.fill();
      paint.globalAlpha = 1;
    }
    paint.lineWidth = 2 * grown;
    for (const { path } of outlines) {
      paint.fill(path);
      if (grown > 0) paint.stroke(path);
    }
    return { pixels: paint.getImageData(0, 0, ACROSS, ACROSS), half_mm };
  }

  return {
    /** What the picture would be laid on. */
    get called() { return store.answer?.instrument.called ?? "the instrument above"; },
    /**
     * What is laid on the instrument above.
     * @returns {Promise<Laid[]>}
     */
    laid: async () => (stage.drawing ? laidOn(stage.drawing.name) : []),
    /**
     * Which parts of the instrument above a photograph shows.
     * @param {string} marks
     * @returns {Promise<FaceAnswer>}
     */
    async told(marks) {
      if (!stage.drawing) throw new Error("no instrument is drawn above; one that is cast for would do");
      return lie(marks, stage.drawing.with);
    },
    /**
     * Lays parts of a photograph on the instrument above; says whether that outlasts the page.
     * @param {Laid} laid
     */
    async lay(laid) {
      if (!stage.drawing) return false;
      const { name } = stage.drawing;
      const others = (await laidOn(name)).map((one) => ({ ...one, parts: one.parts.filter((part) => !laid.parts.includes(part)) }));
      const lasts = await keepOn(name, [...others.filter(({ parts }) => parts.length > 0), laid]);
      if (choice.value === "drawn") {
        choice.value = "brass";
        localStorage.setItem(KEY, choice.value);
      }
      await dress();
      return lasts;
    },
    /** Takes everything off the instrument above, and forgets it. */
    async forget() {
      if (!stage.drawing) return;
      await keepOn(stage.drawing.name, []);
      await dress();
    },
  };
}

/**
 * What is made once, and again only where that failed.
 * @template T
 * @param {Map<string, Promise<T>>} kept
 * @param {string} key
 * @param {() => Promise<T>} make
 */
function once(kept, key, make) {
  const made = kept.get(key) ?? make();
  kept.set(key, made);
  made.catch(() => kept.delete(key));
  return made;
}

/**
 * A photograph’s pixels, upright, so many times as large.
 * @param {Blob} photo
 * @param {number} scale
 */
async function pixelsOf(photo, scale) {
  const bitmap = await createImageBitmap(photo, { imageOrientation: "from-image" });
  const [width, height] = [bitmap.width * scale, bitmap.height * scale];
  const sheet = new OffscreenCanvas(Math.ceil(width), Math.ceil(height));
  const paint = sheet.getContext("2d", { willReadFrequently: true });
  if (!paint) throw new Error("this browser paints nothing; another would do");
  paint.imageSmoothingQuality = "high";
  paint.drawImage(bitmap, 0, 0, width, height);
  bitmap.close();
  return paint.getImageData(0, 0, sheet.width, sheet.height);
}

/** @typedef {ReturnType<typeof createFace>} Face */
