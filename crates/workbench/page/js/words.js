/** How angles and times are said. */

export const SIGNS = [
  "Aries", "Taurus", "Gemini", "Cancer", "Leo", "Virgo",
  "Libra", "Scorpio", "Sagittarius", "Capricorn", "Aquarius", "Pisces",
];

const NUMERALS = ["", "I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII"];

/** @param {number} house */
export const numeral = (house) => NUMERALS[house] ?? "";

/** @param {number} minutes */
const degreesAndMinutes = (minutes) =>
  `${Math.floor(minutes / 60)}°${String(minutes % 60).padStart(2, "0")}′`;

/**
 * 26°36′ Cancer.
 * @param {number | null} deg
 */
export function zodiacal(deg) {
  if (deg === null) return "–";
  const minutes = Math.round((((deg % 360) + 360) % 360) * 60) % 21600;
  return `${degreesAndMinutes(minutes % 1800)} ${SIGNS[Math.floor(minutes / 1800)]}`;
}

/**
 * 212°34′.
 * @param {number} deg
 */
export const degrees = (deg) => degreesAndMinutes(Math.round(Math.abs(deg) * 60));

/**
 * +0°12′, or seconds where it is less than half a minute.
 * @param {number | null} deg
 */
export function signed(deg) {
  if (deg === null) return "–";
  const size = Math.abs(deg);
  if (size < 0.5 / 3600) return "0";
  const sign = deg < 0 ? "−" : "+";
  return sign + (size < 0.5 / 60 ? `${Math.round(size * 3600)}″` : degrees(size));
}

/**
 * A difference as its kind is said: on the limb a length of time, +2 m 10 s.
 * @param {import("./types.js").Measure} measure
 */
export const signedAs = (measure) => (/** @type {number | null} */ value) => {
  if (value === null || measure === "degree" || measure === "height" || measure === "azimuth") return signed(value);
  const said = { "time-of-day": lengthOfTime, arc: lengthOfTime, "unequal-hours": ofAnHour, number: hundredths }[measure](Math.abs(value));
  return said ? (value < 0 ? "−" : "+") + said : "0";
};

/** @param {number} deg of the limb, a quarter of a minute of time each */
function lengthOfTime(deg) {
  const seconds = Math.round(deg * 240);
  const parts = [[Math.floor(seconds / 3600), "h"], [Math.floor(seconds / 60) % 60, "m"], [seconds % 60, "s"]];
  return parts.filter(([number]) => number).map(([number, unit]) => `${number} ${unit}`).join(" ");
}

/** @param {number} value */
const hundredths = (value) => {
  const rounded = Math.round(value * 100) / 100;
  return rounded ? String(rounded) : "";
};

/** @param {number} deg 15 an hour */
const ofAnHour = (deg) => {
  const hours = hundredths(deg / 15);
  return hours && `${hours} h`;
};

/**
 * 12′, or 1°30′: how finely something reads.
 * @param {number | null} deg
 */
export function fineness(deg) {
  if (deg === null) return "–";
  const minutes = Math.max(1, Math.round(deg * 60));
  return minutes < 60 ? `${minutes}′` : degreesAndMinutes(minutes);
}

/**
 * −1:00:00, as in a sum.
 * @param {number} seconds
 */
export function signedTime(seconds) {
  const whole = Math.round(Math.abs(seconds));
  const two = (/** @type {number} */ n) => String(n).padStart(2, "0");
  const text = `${Math.floor(whole / 3600)}:${two(Math.floor(whole / 60) % 60)}:${two(whole % 60)}`;
  return (seconds < 0 ? "−" : "+") + text;
}

/**
 * 06:49:28 of 06:49:27.899: a sum on paper has whole seconds.
 * @param {string} time
 */
export function wholeSeconds(time) {
  const [hours = 0, minutes = 0, seconds = 0] = time.split(":").map(Number);
  const whole = Math.round(hours * 3600 + minutes * 60 + seconds) % 86400;
  const two = (/** @type {number} */ n) => String(n).padStart(2, "0");
  return `${two(Math.floor(whole / 3600))}:${two(Math.floor(whole / 60) % 60)}:${two(whole % 60)}`;
}

/**
 * 7 h 24 m: an angle of the limb from midnight.
 * @param {number} deg
 */
export function timeOfDay(deg) {
  const minutes = Math.round(deg * 4) % 1440;
  return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, "0")} m`;
}

/**
 * 42°53′ N.
 * @param {number} deg
 */
export const latitude = (deg) => `${degrees(deg)} ${deg < 0 ? "S" : "N"}`;

/** @param {number} deg */
export const longitude = (deg) => `${degrees(deg)} ${deg < 0 ? "W" : "E"}`;

/**
 * “direct-cut” as “direct cut”.
 * @param {string} name
 */
export const plain = (name) => name.replace(/[-_]/g, " ");

/**
 * The day of a number of seconds since the beginning of 1970, by this machine's clock.
 * @param {number} unix_s
 */
export const day = (unix_s) => new Date(unix_s * 1000).toLocaleDateString("sv-SE");

/** @param {string} text */
export const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/**
 * What went wrong, as a sentence.
 * @param {unknown} error
 */
export const sentence = (error) => {
  const said = capital(error instanceof Error ? error.message : String(error));
  return /[.!?]$/.test(said) ? said : `${said}.`;
};

/**
 * The Sun and the Moon have their article.
 * @param {string} body
 */
export const named = (body) => (body === "Sun" || body === "Moon" ? `the ${body}` : body);

const ORDINALS = [
  "", "first", "second", "third", "fourth", "fifth", "sixth",
  "seventh", "eighth", "ninth", "tenth", "eleventh", "twelfth",
];

/** @param {number} number */
export const ordinal = (number) => ORDINALS[number] ?? String(number);

/**
 * A date and time without its seconds, whatever its year.
 * @param {string} time
 */
export const toMinute = (time) => time.replace(/(\d\d:\d\d):\d\d(\.\d+)?$/, "$1");

/**
 * The hour and minute of a date and time.
 * @param {string} time
 */
export const clockTime = (time) => toMinute(time).split(" ").at(-1) ?? "";

/**
 * “three” of 3.
 * @param {number} number
 */
export const spelled = (number) =>
  ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"][number] ?? String(number);
