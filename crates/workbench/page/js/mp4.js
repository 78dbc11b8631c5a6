/**
 * An MP4 file of one video track, as ISO/IEC 14496-12 and -15 describe it: the index first,
 * so that it plays while it comes, then all pictures in one piece.
 *
 * @typedef {{data: Uint8Array, key: boolean}} Sample
 * @typedef {object} Track
 * @property {string} codec as WebCodecs name it: avc1.… or vp09.…
 * @property {Uint8Array} [description] what the decoder must know of H.264
 * @property {number} width
 * @property {number} height
 * @property {number} rate pictures a second, all equally long
 */

/** @param {...number} bytes */
const u8 = (...bytes) => Uint8Array.from(bytes);

/** @param {...number} numbers */
function u16(...numbers) {
  return u8(...numbers.flatMap((number) => [(number >>> 8) & 255, number & 255]));
}

/** @param {...number} numbers */
function u32(...numbers) {
  return u8(...numbers.flatMap((number) => [(number >>> 24) & 255, (number >>> 16) & 255, (number >>> 8) & 255, number & 255]));
}

/** @param {string} text */
const ascii = (text) => u8(...Array.from(text, (letter) => letter.charCodeAt(0)));

/** @param {Uint8Array[]} parts */
function joined(parts) {
  const whole = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

/**
 * @param {string} name of four letters
 * @param {...Uint8Array} parts
 */
function box(name, ...parts) {
  const inside = joined(parts);
  return joined([u32(inside.length + 8), ascii(name), inside]);
}

/** A box with its version and flags. @param {string} name @param {number} flags @param {...Uint8Array} parts */
const full = (name, flags, ...parts) => box(name, u32(flags), ...parts);

/** As it stands: nothing turned, nothing scaled. */
const MATRIX = u32(0x10000, 0, 0, 0, 0x10000, 0, 0, 0, 0x40000000);

/** What is enabled and shown. */
const SHOWN = 3;
/** The data lie in this file. */
const HERE = 1;

/**
 * @param {Track} track
 * @param {Sample[]} samples
 */
export function mp4(track, samples) {
  const head = box("ftyp", ascii("isom"), u32(0x200), ascii("isomiso2mp41"));
  // Where the pictures begin is known once the index is: its size does not depend on that.
  const begins = head.length + index(track, samples, 0).length + 8;
  const data = samples.map((sample) => sample.data);
  const size = data.reduce((sum, { length }) => sum + length, 8);
  return new Blob([head, index(track, samples, begins), u32(size), ascii("mdat"), ...data].map((part) => /** @type {Uint8Array<ArrayBuffer>} */ (part)), { type: "video/mp4" });
}

/**
 * @param {Track} track
 * @param {Sample[]} samples
 * @param {number} begins
 */
function index(track, samples, begins) {
  const { width, height, rate } = track;
  const long = samples.length;
  const keys = samples.flatMap(({ key }, number) => (key ? [number + 1] : []));
  return box("moov",
    full("mvhd", 0, u32(0, 0, rate, long, 0x10000), u16(0x100, 0), u32(0, 0), MATRIX, u32(0, 0, 0, 0, 0, 0, 2)),
    box("trak",
      full("tkhd", SHOWN, u32(0, 0, 1, 0, long, 0, 0), u16(0, 0, 0, 0), MATRIX, u32(width * 0x10000, height * 0x10000)),
      box("mdia",
        full("mdhd", 0, u32(0, 0, rate, long), u16(0x55c4, 0)),
        full("hdlr", 0, u32(0), ascii("vide"), u32(0, 0, 0), ascii("video\0")),
        box("minf",
          full("vmhd", HERE, u16(0, 0, 0, 0)),
          box("dinf", full("dref", 0, u32(1), full("url ", HERE))),
          box("stbl",
            full("stsd", 0, u32(1), description(track)),
            full("stts", 0, u32(1, long, 1)),
            full("stss", 0, u32(keys.length, ...keys)),
            full("stsc", 0, u32(1, 1, long, 1)),
            full("stsz", 0, u32(0, long, ...samples.map(({ data }) => data.length))),
            full("stco", 0, u32(1, begins)))))));
}

/** @param {Track} track */
function description({ codec, description, width, height }) {
  const [kind = "", ...numbers] = codec.split(".");
  const [profile = 0, level = 40, depth = 8] = numbers.map(Number);
  const about = kind === "avc1"
    ? box("avcC", description ?? u8())
    // 4:2:0, limited range, colours as in HD television (BT.709).
    : full("vpcC", 0x01000000, u8(profile, level, (depth << 4) | (1 << 1), 1, 1, 1), u16(0));
  return box(kind, u32(0), u16(0, 1), u32(0, 0, 0, 0), u16(width, height), u32(0x480000, 0x480000, 0), u16(1),
    new Uint8Array(32), u16(24, 0xffff), about);
}
