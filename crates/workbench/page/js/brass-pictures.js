import { drawn } from "./element.js";

/** Small pictures of what an instrument may look like, for the form about one’s own. */

/** The instrument’s edge, and the plate’s, about the middle of a picture. */
const EDGE = 33;
const PLATE = 24;

/** The equator’s radius on the plate, for an obliquity of 23°26′. */
const EQUATOR = PLATE / Math.tan((90 + 23.44) / 2 * Math.PI / 180);

/** The plate of these pictures. */
const LATITUDE = 45 * Math.PI / 180;

let made = 0;

/**
 * @param {...(Node | string | null | undefined | false)} parts
 */
function picture(...parts) {
  return drawn("svg", { class: "brass-picture", viewBox: "-36 -36 72 72", "aria-hidden": "true" }, ...parts);
}

/** @param {Record<string, unknown>} attributes */
const circle = (attributes) => drawn("circle", attributes);

/** @param {string} d @param {string} [kind] */
const line = (d, kind = "fine") => drawn("path", { class: kind, d });

/** The mater with its plate laid in. */
const disc = () => [
  circle({ class: "brass", r: EDGE }),
  circle({ class: "laid", r: PLATE }),
];

/**
 * Letters on the limb, from its top, a quarter turn apart.
 * @param {string[]} letters
 */
const limb = (...letters) => letters.map((letter, quarter) => {
  const radius = (EDGE + PLATE) / 2;
  const turn = quarter * Math.PI / 2;
  return drawn("text", { class: "numeral", x: radius * Math.sin(turn), y: -radius * Math.cos(turn) + 2.2 }, letter);
});

/**
 * The net of circles, towards the top or the bottom.
 * @param {1 | -1} up
 */
function net(up) {
  made += 1;
  const id = `net-${made}`;
  const circles = [0, 15, 30, 45, 60, 75].map((altitude) => {
    const sines = Math.sin(LATITUDE) + Math.sin(altitude * Math.PI / 180);
    return circle({
      class: altitude === 0 ? "strong" : "fine",
      cy: -up * EQUATOR * Math.cos(LATITUDE) / sines,
      r: EQUATOR * Math.cos(altitude * Math.PI / 180) / sines,
    });
  });
  return [
    drawn("clipPath", { id }, circle({ r: PLATE })),
    drawn("g", { "clip-path": `url(#${id})` }, ...circles),
  ];
}

/**
 * Which half of the plate has the net.
 * @param {1 | -1} up
 */
const standing = (up) => picture(...disc(), ...net(up),
  line(`M 0 ${-PLATE} V ${PLATE}`),
  drawn("text", { class: "numeral", y: -EDGE + 6.6 }, up > 0 ? "noon" : "midnight"));

/** The ecliptic: it touches the rete’s edge at one sign, and the inner tropic at the other. */
const ECLIPTIC = { y: EQUATOR * Math.tan(23.44 * Math.PI / 180), r: EQUATOR / Math.cos(23.44 * Math.PI / 180) };

/**
 * @param {boolean} dates whether the ring of dates lies about it
 */
function rete(dates) {
  const signs = Array.from({ length: 12 }, (_, sign) => {
    const turn = sign * Math.PI / 6;
    const [x, y] = [Math.sin(turn), -Math.cos(turn)];
    return line(`M ${ECLIPTIC.r * x} ${ECLIPTIC.y * -1 + ECLIPTIC.r * y} L ${(ECLIPTIC.r - 4.5) * x} ${ECLIPTIC.y * -1 + (ECLIPTIC.r - 4.5) * y}`);
  });
  const days = Array.from({ length: 48 }, (_, day) => {
    const turn = day * Math.PI / 24;
    const from = day % 4 ? 27.5 : 25;
    return line(`M ${from * Math.sin(turn)} ${-from * Math.cos(turn)} L ${30 * Math.sin(turn)} ${-30 * Math.cos(turn)}`, day % 4 ? "fine" : "strong");
  });
  return [
    ...(dates ? [circle({ class: "ring", r: 27.5 }), ...days, circle({ class: "fine", r: 30 }), circle({ class: "fine", r: 25 })] : []),
    circle({ class: "ring thin", cy: -ECLIPTIC.y, r: ECLIPTIC.r - 2.25 }),
    circle({ class: "fine", cy: -ECLIPTIC.y, r: ECLIPTIC.r }),
    circle({ class: "fine", cy: -ECLIPTIC.y, r: ECLIPTIC.r - 4.5 }),
    ...signs,
    circle({ class: "pin", r: 1.6 }),
  ];
}

/** The back: a ring of signs and a ring of dates about a cross. */
function back() {
  const strokes = Array.from({ length: 60 }, (_, at) => {
    const turn = at * Math.PI / 30;
    const month = at % 5 === 0;
    const [x, y] = [Math.sin(turn), -Math.cos(turn)];
    return [
      line(`M ${(month ? 24.5 : 27) * x} ${(month ? 24.5 : 27) * y} L ${29 * x} ${29 * y}`),
      month ? line(`M ${19 * x} ${19 * y} L ${24.5 * x} ${24.5 * y}`) : null,
    ];
  }).flat();
  return [
    circle({ class: "brass", r: EDGE }),
    ...[29, 24.5, 19].map((r) => circle({ class: "fine", r })),
    ...strokes,
    line("M -19 0 H 19 M 0 -19 V 19"),
    drawn("text", { class: "numeral", y: -7, x: -8 }, "back"),
  ];
}

/**
 * A part of the ring of dates, seen near, its strokes evenly or not.
 * @param {number[]} strokes parts of what is seen
 */
function days(strokes) {
  const middle = 46;
  const [outer, numbers, inner] = [74, 60, 44];
  const reach = 0.62;
  const at = (/** @type {number} */ turn, /** @type {number} */ r) => `${r * Math.sin(turn)} ${middle - r * Math.cos(turn)}`;
  const band = (/** @type {number} */ r) => line(`M ${at(-reach, r)} A ${r} ${r} 0 0 1 ${at(reach, r)}`);
  return picture(
    drawn("path", {
      class: "metal-band",
      d: `M ${at(-reach, outer)} A ${outer} ${outer} 0 0 1 ${at(reach, outer)} L ${at(reach, inner)} A ${inner} ${inner} 0 0 0 ${at(-reach, inner)} Z`,
    }),
    ...[outer, numbers, inner].map(band),
    ...strokes.map((part, index) => {
      const turn = (part - 0.5) * 1.16;
      const month = index % 3 === 0;
      return line(`M ${at(turn, month ? inner : numbers)} L ${at(turn, outer)}`, month ? "strong" : "fine");
    }));
}

const EVEN = Array.from({ length: 13 }, (_, at) => at / 12);

/** So uneven that one sees it: the true differences are of some minutes. */
const UNEVEN = EVEN.map((part) => part + 0.075 * Math.sin(2 * Math.PI * part));

/**
 * The lines of the unequal hours beneath the horizon, seen near.
 * @param {boolean} curved
 */
function hours(curved) {
  made += 1;
  const id = `hours-${made}`;
  const [top, inner, equator, outer] = [-30, 16, 38, 62];
  const at = (/** @type {number} */ r, /** @type {number} */ turn) => `${r * Math.sin(turn)} ${top + r * Math.cos(turn)}`;
  const lines = [-2, -1, 0, 1, 2].map((hour) => {
    const turn = hour * 0.24;
    return curved
      ? line(`M ${at(inner, turn * 1.5)} C ${at(equator * 0.8, turn * 0.35)} ${at(equator * 1.25, turn * 1.75)} ${at(outer, turn * 0.75)}`, "strong")
      : line(`M ${at(inner, turn * 1.45)} Q ${at(equator, turn * 1.12)} ${at(outer, turn * 0.8)}`, "strong");
  });
  return picture(
    drawn("clipPath", { id }, circle({ r: EDGE })),
    circle({ class: "laid", r: EDGE }),
    drawn("g", { "clip-path": `url(#${id})` },
      ...[inner, equator, outer].map((r) => circle({ class: "fine", cy: top, r })),
      ...lines),
    circle({ class: "fine", r: EDGE }));
}

/** @param {1 | -1} side */
const globe = (side) => picture(
  circle({ class: "laid", r: 24 }),
  drawn("path", { class: "half", d: `M -24 0 A 24 24 0 0 ${side > 0 ? 1 : 0} 24 0 A 24 7 0 0 1 -24 0 Z` }),
  drawn("ellipse", { class: "fine", rx: 24, ry: 7 }),
  drawn("ellipse", { class: "fine", rx: 9, ry: 24 }),
  line("M 0 -30 V 30"),
  circle({ class: "fine", r: 24 }));

/** @type {Record<string, () => SVGSVGElement>} */
export const PICTURES = {
  "noon-up": () => standing(1),
  "midnight-up": () => standing(-1),
  "twice-twelve": () => picture(...disc(), ...limb("XII", "VI", "XII", "VI")),
  "twenty-four": () => picture(...disc(), ...limb("12", "18", "24", "6")),
  back: () => picture(...back()),
  ring: () => picture(circle({ class: "brass", r: EDGE }), circle({ class: "laid", r: 30 }), ...rete(true)),
  none: () => picture(...disc(), ...rete(false)),
  equal: () => days(EVEN),
  sun: () => days(UNEVEN),
  arcs: () => hours(false),
  curves: () => hours(true),
  north: () => globe(1),
  south: () => globe(-1),
};
