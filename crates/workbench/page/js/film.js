import { filmParts } from "./film-parts.js";
import { mp4 } from "./mp4.js";
import { moveOf } from "./turning.js";

/** @typedef {import("./types.js").Step} Step */
/** @typedef {import("./types.js").State} State */
/** @typedef {import("./film-parts.js").FilmScene} FilmScene */

/** Pictures a second. */
const RATE = 25;
/** So many pictures after a whole one another whole one comes, to go to. */
const WHOLE_EVERY = 2 * RATE;
/** Bits a second: paper and ink need no more (measured by eye on the letters of the limb). */
const BITS = 6_000_000;
/** Codecs, the most widely read first: H.264 high profile, VP9; both of level 4 for 1080 lines. */
const CODECS = ["avc1.640028", "avc1.4d0028", "vp09.00.40.08"];

/** How fast captions are read, characters a second (common practice for subtitles). */
const READ_A_SECOND = 15;
/** The least time a step is held, and that of a card. */
const LEAST_S = 3;

/** Letters of a caption, and the smallest that a long one is told in, in pixels. */
const LETTERS = 44;
const SMALLEST = 26;
/** No line ends between them. */
const NUMBER_AND_UNIT = /(\d) ([hms])\b/g;
/** From line to line, as a part of the letters. */
const LEADING = 1.3;

/**
 * Where things stand in a picture of 1080 lines or columns: the instrument's middle and
 * size, the room of the caption, the lens.
 */
export const SHAPES = /** @type {const} */ ({
  wide: {
    name: "16:9, for a screen", width: 1920, height: 1080,
    disc: { x: 552, y: 540, size: 1020 },
    caption: { x: 1130, y: 84, width: 720, height: 486 },
    lens: { x: 1490, y: 820, across: 440 },
  },
  tall: {
    name: "9:16, for a telephone", width: 1080, height: 1920,
    disc: { x: 540, y: 560, size: 1020 },
    caption: { x: 70, y: 1120, width: 940, height: 330 },
    lens: { x: 540, y: 1680, across: 400 },
  },
});

/** @typedef {keyof typeof SHAPES} Shape */

/**
 * @typedef {object} Asked
 * @property {Shape} shape
 * @property {string} title
 * @property {string} of what stands under the title
 * @property {string} end the maker's own line on the last card; none where it is empty
 * @property {import("./types.js").With} instrument
 * @property {Step[]} steps
 * @property {number} pace how many times as fast as walking
 */

/**
 * A working as an ordinary video: title, every step with its caption inside the picture,
 * end card. It is made picture by picture, as fast as this machine can.
 * @param {Asked} asked
 * @param {(done_s: number, whole_s: number) => void} tell how far it is
 * @param {AbortSignal} signal
 * @returns {Promise<Blob>}
 */
export async function film(asked, tell, signal) {
  const shape = SHAPES[asked.shape];
  const { width, height } = shape;
  const canvas = new OffscreenCanvas(width, height);
  const on = /** @type {OffscreenCanvasRenderingContext2D} */ (canvas.getContext("2d", { alpha: false }));
  const parts = await filmParts(asked.instrument, shape.disc.size);
  await document.fonts.ready;
  const shots = shotsOf(asked);
  const whole_s = shots.reduce((sum, { moves_s, holds_s }) => sum + moves_s + holds_s, 0);
  const encoder = await encoding(width, height);
  let made = 0;

  /** The picture on the canvas, for so long. @param {number} seconds */
  async function hold(seconds) {
    for (let left = Math.max(1, Math.round(seconds * RATE)); left > 0; left -= 1) {
      signal.throwIfAborted();
      await encoder.take(canvas, made);
      made += 1;
      if (made % RATE === 0) tell(made / RATE, whole_s);
    }
  }

  try {
    for (const shot of shots) {
      if (!shot.step) {
        card(on, shape, shot.caption, shot.beneath);
        await hold(shot.holds_s);
        continue;
      }
      const { step, before } = shot;
      const scene = await parts.scene(step.side, step.state.plate_latitude_deg, step.lines);
      const { move } = shot;
      const pictures = Math.round(shot.moves_s * RATE);
      for (let at = 0; at < pictures; at += 1) {
        picture(on, shape, scene, move(at / pictures), shot.caption);
        await hold(1 / RATE);
      }
      picture(on, shape, scene, pictures > 0 || !before ? step.state : move(1), shot.caption);
      if (step.look_at) await lens(on, shape, scene, step);
      await hold(shot.holds_s);
    }
    return mp4({ codec: encoder.codec, description: encoder.description, width, height, rate: RATE }, await encoder.end());
  } finally {
    encoder.close();
  }
}

/**
 * What is shown, for how long.
 * @param {Asked} asked
 */
function shotsOf({ title, of, end, steps, pace }) {
  const still = /** @type {(part: number) => State} */ (() => steps[0]?.state);
  const cardOf = (/** @type {string} */ caption, /** @type {string} */ beneath) =>
    ({ step: null, before: null, caption, beneath, moves_s: 0, holds_s: LEAST_S, move: still });
  return [
    cardOf(title, of),
    ...steps.map((step, index) => {
      const before = steps[index - 1]?.state ?? null;
      const { move, time_ms } = moveOf(before ?? step.state, step.state, step.rete_turn_deg);
      return {
        step, before, beneath: "",
        caption: `${index + 1}. ${step.instruction}`,
        moves_s: time_ms / 1000 / pace,
        holds_s: Math.max(LEAST_S, step.instruction.length / READ_A_SECOND) / pace,
        move,
      };
    }),
    ...(end.trim() ? [cardOf(end.trim(), "")] : []),
  ];
}

/** A colour of the page. @param {string} name */
const colour = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();

/**
 * @param {OffscreenCanvasRenderingContext2D} on
 * @param {typeof SHAPES[Shape]} shape
 */
function ground(on, { width, height }) {
  on.fillStyle = colour("--paper");
  on.fillRect(0, 0, width, height);
}

/**
 * @param {OffscreenCanvasRenderingContext2D} on
 * @param {typeof SHAPES[Shape]} shape
 * @param {FilmScene} scene
 * @param {State} state
 * @param {string} caption
 */
function picture(on, shape, scene, state, caption) {
  ground(on, shape);
  scene.draw(on, state, shape.disc);
  const { x, y, width, height } = shape.caption;
  const { size, lines } = fitted(on, caption, width, height);
  on.fillStyle = colour("--verdigris");
  on.fillRect(x - 24, y, 6, lines.length * size * LEADING);
  on.fillStyle = colour("--ink");
  on.textAlign = "left";
  lines.forEach((line, number) => on.fillText(line, x, y + size * (0.98 + number * LEADING)));
}

/**
 * @param {OffscreenCanvasRenderingContext2D} on
 * @param {typeof SHAPES[Shape]} shape
 * @param {FilmScene} scene
 * @param {Step} step
 */
async function lens(on, shape, scene, step) {
  const at = step.look_at;
  if (!at) return;
  const { x, y, across } = shape.lens;
  const seen = await scene.lens(step.state, at, across);
  const ring = (/** @type {number} */ cx, /** @type {number} */ cy, /** @type {number} */ radius, /** @type {number} */ broad, /** @type {string} */ name) => {
    on.beginPath();
    on.arc(cx, cy, radius, 0, 2 * Math.PI);
    on.lineWidth = broad;
    on.strokeStyle = colour(name);
    on.stroke();
  };
  on.beginPath();
  on.arc(x, y, across / 2, 0, 2 * Math.PI);
  on.fillStyle = colour("--plate");
  on.fill();
  on.drawImage(seen, x - across / 2, y - across / 2);
  ring(x, y, across / 2, 8, "--brass");
  ring(x, y, across * 0.045, 4, "--verdigris");
  ring(shape.disc.x + at.x_mm * scene.scale, shape.disc.y + at.y_mm * scene.scale, scene.in_lens, 4, "--brass");
}

/**
 * A card with words in its middle.
 * @param {OffscreenCanvasRenderingContext2D} on
 * @param {typeof SHAPES[Shape]} shape
 * @param {string} text
 * @param {string} beneath
 */
function card(on, shape, text, beneath) {
  ground(on, shape);
  on.textAlign = "center";
  const width = shape.width * 0.84;
  const { size, lines } = fitted(on, text, width, shape.height * 0.4, 84);
  let y = shape.height * 0.46 - (lines.length - 1) * size * LEADING * 0.5;
  on.fillStyle = colour("--ink");
  for (const line of lines) {
    on.fillText(line, shape.width / 2, y);
    y += size * LEADING;
  }
  const small = fitted(on, beneath, width, shape.height * 0.2);
  on.fillStyle = colour("--ink-soft");
  for (const line of small.lines) {
    on.fillText(line, shape.width / 2, y);
    y += small.size * LEADING;
  }
}

/**
 * Words broken into lines, in the largest letters in which they have room.
 * @param {OffscreenCanvasRenderingContext2D} on
 * @param {string} text
 * @param {number} width
 * @param {number} height
 * @param {number} [largest]
 */
function fitted(on, text, width, height, largest = LETTERS) {
  for (let size = largest; ; size -= 2) {
    on.font = `${size}px "Libertinus Serif", Palatino, Georgia, serif`;
    const lines = [""];
    for (const word of text.replace(NUMBER_AND_UNIT, "$1\u00a0$2").split(" ")) {
      const longer = `${lines.at(-1)} ${word}`.trim();
      if (lines.at(-1) && on.measureText(longer).width > width) lines.push(word);
      else lines[lines.length - 1] = longer;
    }
    if (lines.length * size * LEADING <= height || size <= SMALLEST) return { size, lines };
  }
}

/**
 * The browser's own encoder, in the first of the codecs that it has.
 * @param {number} width
 * @param {number} height
 */
async function encoding(width, height) {
  if (!("VideoEncoder" in window)) throw new Error("This browser makes no videos (it has no WebCodecs); a newer one would do, or `almuri film` for numbered pictures.");
  const settings = (/** @type {string} */ codec) => ({ codec, width, height, bitrate: BITS, framerate: RATE });
  const able = await Promise.all(CODECS.map(async (codec) => (await VideoEncoder.isConfigSupported(settings(codec)).catch(() => null))?.supported));
  const codec = CODECS[able.indexOf(true)];
  if (!codec) throw new Error(`This browser writes none of ${CODECS.join(", ")} at ${width} × ${height}; another would do, or \`almuri film\` for numbered pictures.`);
  /** @type {import("./mp4.js").Sample[]} */
  const samples = [];
  /** @type {Uint8Array | undefined} */
  let description;
  /** @type {Error | null} */
  let failed = null;
  let last = -1;
  const encoder = new VideoEncoder({
    output(chunk, about) {
      // A file whose pictures come in another order than they are shown is none of ours.
      if (chunk.timestamp <= last) failed = new Error("This browser's encoder puts pictures in another order than they are shown.");
      last = chunk.timestamp;
      const data = new Uint8Array(chunk.byteLength);
      chunk.copyTo(data);
      samples.push({ data, key: chunk.type === "key" });
      const told = about?.decoderConfig?.description;
      if (told) description = new Uint8Array(ArrayBuffer.isView(told) ? told.buffer.slice(told.byteOffset, told.byteOffset + told.byteLength) : told.slice(0));
    },
    error(error) { failed = error; },
  });
  encoder.configure(settings(codec));

  return {
    codec,
    get description() { return description; },
    /**
     * @param {OffscreenCanvas} canvas
     * @param {number} number of the picture
     */
    async take(canvas, number) {
      if (failed) throw failed;
      const frame = new VideoFrame(canvas, { timestamp: (number * 1e6) / RATE, duration: 1e6 / RATE });
      encoder.encode(frame, { keyFrame: number % WHOLE_EVERY === 0 });
      frame.close();
      // The page stays alive, and no more pictures wait than are soon done.
      while (encoder.encodeQueueSize > 4) await new Promise((resolve) => encoder.addEventListener("dequeue", resolve, { once: true }));
    },
    async end() {
      await encoder.flush();
      if (failed) throw failed;
      return samples;
    },
    close() { if (encoder.state !== "closed") encoder.close(); },
  };
}
