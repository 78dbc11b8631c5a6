import { element, labelled } from "./element.js";
import { help } from "./help.js";

/** @typedef {{at: [number, number], of: string, doubtful: boolean | null}} Mark a place in the picture, and what is seen there */

/** How much nearer a step comes. */
const STEP = 1.5;

/** How many times larger the glass shows what lies under the cross. */
const GLASS = 6;

/** How broad the glass is on the screen, in pixels. */
const GLASS_ACROSS = 150;

/** What can be seen on a front; one that is counted goes on by itself. */
const SEEN = [
  "limb 0", "edge of the hole", "tropic of Capricorn", "equator", "tropic of Cancer", "meridian", "horizon",
  "almucantar 20", "almucantar 40", "almucantar 60", "unequal hour 3", "unequal hour 9", "azimuth 90", "twilight",
  "house 11", "ecliptic", "ecliptic 0 Aries", "star Aldebaran", "hole",
];

const SIGNS = [
  "Aries", "Taurus", "Gemini", "Cancer", "Leo", "Virgo",
  "Libra", "Scorpio", "Sagittarius", "Capricorn", "Aquarius", "Pisces",
];

/**
 * What most likely is marked after this: the limb and the ring go on by a sign's breadth, a
 * line is marked again.
 * @param {string} of
 */
function after(of) {
  const limb = /^limb (\d+)/.exec(of);
  if (limb) return `limb ${(Number(limb[1]) + 30) % 360}`;
  const sign = SIGNS.findIndex((one) => of === `ecliptic 0 ${one}`);
  if (sign >= 0) return `ecliptic 0 ${SIGNS[(sign + 1) % 12]}`;
  return of.startsWith("star ") ? "star " : of;
}

/**
 * A photograph of an instrument's front, in which one marks what is recognised. It stays in
 * the browser; what goes on is the text of the marks.
 * @param {(text: string) => void} written where the marks are written down
 */
export function photograph(written) {
  /** @type {ImageBitmap | null} */
  let picture = null;
  let name = "from a photograph";
  /** @type {Mark[]} */
  let marks = [];
  /** The cross, in pixels of the picture. */
  let cross = { x: 0, y: 0 };
  /** Screen pixels to one of the picture's, and which of these is at the upper left. */
  let times = 1;
  let corner = { x: 0, y: 0 };

  const file = element("input", { type: "file", id: "photograph-file", accept: "image/jpeg,image/png,image/webp" });
  const canvas = element("canvas", {
    class: "photograph-sheet", tabindex: "0", role: "application",
    "aria-label": "The photograph: the arrow keys move the cross by a pixel, with Shift by a third of one, with Alt by twenty; Enter marks; plus and minus bring it nearer",
  });
  const told = element("p", { class: "quiet", id: "photograph-told", role: "status" });
  const fault = element("p", { class: "fault", role: "alert" });
  const of = element("input", { id: "photograph-of", list: "photograph-seen", autocomplete: "off", value: SEEN[0] });
  const southern = element("input", { type: "checkbox", id: "photograph-southern", onchange: write });
  const across = element("input", { id: "photograph-across", inputmode: "decimal", autocomplete: "off", onchange: write });
  const list = element("ol", { class: "photograph-marks", id: "photograph-marks" });
  const bench = element("div", { class: "photograph-bench", hidden: true },
    element("p", { class: "row", role: "group", "aria-label": "How near the photograph is" },
      element("button", { type: "button", onclick: whole }, "All of it"),
      element("button", { type: "button", "aria-label": "The photograph nearer", onclick: () => nearer(STEP) }, "+"),
      element("button", { type: "button", "aria-label": "The photograph further", onclick: () => nearer(1 / STEP) }, "−")),
    canvas, told,
    element("div", { class: "fields" },
      labelled("What is seen at the cross", of),
      labelled("Across the limb’s graduation, in mm, if known", across)),
    element("label", { class: "tick" }, southern, " a southern instrument: the hours run against the clock"),
    element("p", { class: "row" },
      element("button", { type: "button", id: "photograph-mark", onclick: mark }, "Mark it"),
      element("button", { type: "button", id: "photograph-undo", onclick: undo }, "Take the last mark back")),
    element("datalist", { id: "photograph-seen" }, ...SEEN.map((one) => element("option", { value: one }))),
    list,
    help(
      "What do I mark, and where?",
      "First the limb: five of its degrees at least, spread all round, each where its stroke meets the outer circle of the graduation. Then the edge of the hole in six places, points along the circles, the horizon and some almucantars, the beginnings of the signs on the outer edge of the ring, and the very tips of the stars with the names that stand on them.",
      "Some sixty marks tell an instrument. Press in the picture to put the cross, look into the glass, and move it with the arrow keys to a third of a pixel.",
    ));

  file.addEventListener("change", async () => {
    const chosen = file.files?.[0];
    if (!chosen) return;
    fault.textContent = "";
    try {
      picture = await createImageBitmap(chosen, { imageOrientation: "from-image" });
    } catch {
      fault.textContent = `${chosen.name} is no picture that this browser reads; a JPEG, PNG or WebP would do.`;
      return;
    }
    name = chosen.name.replace(/\.[^.]*$/, "").slice(0, 60) || name;
    marks = [];
    cross = { x: picture.width / 2, y: picture.height / 2 };
    bench.hidden = false;
    whole();
    write();
  });

  /** The picture as large as its place. */
  function whole() {
    if (!picture) return;
    fit();
    times = Math.min(canvas.width / picture.width, canvas.height / picture.height);
    corner = { x: (picture.width - canvas.width / times) / 2, y: (picture.height - canvas.height / times) / 2 };
    draw();
  }

  function fit() {
    const breadth = Math.max(200, Math.round(canvas.clientWidth * devicePixelRatio));
    canvas.width = breadth;
    canvas.height = Math.round(breadth * 0.75);
  }

  /** @param {number} by */
  function nearer(by) {
    if (!picture) return;
    const least = Math.min(canvas.width / picture.width, canvas.height / picture.height) / 2;
    const to = Math.min(20, Math.max(least, times * by));
    // The cross stays where it is on the screen.
    corner = {
      x: cross.x - ((cross.x - corner.x) * times) / to,
      y: cross.y - ((cross.y - corner.y) * times) / to,
    };
    times = to;
    draw();
  }

  function draw() {
    const paint = canvas.getContext("2d");
    if (!picture || !paint) return;
    const style = getComputedStyle(canvas);
    const colour = (/** @type {string} */ of) => style.getPropertyValue(of).trim() || "#333";
    const [ink, good, wrong] = [colour("--ink"), colour("--verdigris"), colour("--vermilion")];
    paint.setTransform(1, 0, 0, 1, 0, 0);
    paint.clearRect(0, 0, canvas.width, canvas.height);
    paint.imageSmoothingEnabled = times < 3;
    paint.drawImage(picture, -corner.x * times, -corner.y * times, picture.width * times, picture.height * times);
    const unit = devicePixelRatio;
    paint.lineWidth = 1.5 * unit;
    for (const { at: [right, down], doubtful } of marks) {
      paint.strokeStyle = doubtful ? wrong : good;
      paint.beginPath();
      // The middle of a picture's first pixel is half a pixel from its edge.
      paint.arc((right + 0.5 - corner.x) * times, (down + 0.5 - corner.y) * times, (doubtful ? 9 : 5) * unit, 0, 2 * Math.PI);
      paint.stroke();
    }
    const on = { x: (cross.x + 0.5 - corner.x) * times, y: (cross.y + 0.5 - corner.y) * times };
    strokeCross(paint, on, 12 * unit, ink, unit);
    // The glass lies in the corner that is farther from the cross.
    const size = GLASS_ACROSS * unit;
    const left = on.x > canvas.width / 2 ? 0 : canvas.width - size;
    const near = Math.max(times, unit) * GLASS;
    paint.save();
    paint.beginPath();
    paint.rect(left, 0, size, size);
    paint.clip();
    paint.fillStyle = "#888";
    paint.fillRect(left, 0, size, size);
    paint.imageSmoothingEnabled = false;
    paint.drawImage(picture, left + size / 2 - (cross.x + 0.5) * near, size / 2 - (cross.y + 0.5) * near, picture.width * near, picture.height * near);
    strokeCross(paint, { x: left + size / 2, y: size / 2 }, size / 2, ink, unit);
    paint.restore();
    paint.strokeStyle = ink;
    paint.strokeRect(left, 0, size, size);
    told.textContent = `The cross is at ${cross.x.toFixed(1)}, ${cross.y.toFixed(1)}; ${marks.length} marks.`;
  }

  /** @type {{x: number, y: number, moved: boolean} | null} */
  let held = null;
  canvas.addEventListener("pointerdown", (event) => {
    held = { x: event.offsetX, y: event.offsetY, moved: false };
    canvas.setPointerCapture(event.pointerId);
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!held) return;
    const by = { x: event.offsetX - held.x, y: event.offsetY - held.y };
    if (!held.moved && Math.hypot(by.x, by.y) < 4) return;
    const unit = devicePixelRatio / times;
    corner = { x: corner.x - by.x * unit, y: corner.y - by.y * unit };
    held = { x: event.offsetX, y: event.offsetY, moved: true };
    draw();
  });
  canvas.addEventListener("pointerup", (event) => {
    if (held && !held.moved) {
      const unit = devicePixelRatio / times;
      moveTo(corner.x + event.offsetX * unit - 0.5, corner.y + event.offsetY * unit - 0.5);
    }
    held = null;
  });
  canvas.addEventListener("wheel", (event) => {
    if (!event.ctrlKey && document.activeElement !== canvas) return;
    event.preventDefault();
    nearer(event.deltaY < 0 ? 1.2 : 1 / 1.2);
  }, { passive: false });
  canvas.addEventListener("keydown", (event) => {
    const by = event.shiftKey ? 1 / 3 : event.altKey ? 20 : 1;
    const moves = /** @type {Record<string, [number, number]>} */ ({
      ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, -by], ArrowDown: [0, by],
    });
    const move = moves[event.key];
    if (move) moveTo(cross.x + move[0], cross.y + move[1]);
    else if (event.key === "Enter") mark();
    else if (event.key === "+" || event.key === "=") nearer(STEP);
    else if (event.key === "-") nearer(1 / STEP);
    else return;
    event.preventDefault();
  });
  of.addEventListener("keydown", (event) => {
    if (event.key !== "Enter") return;
    event.preventDefault();
    mark();
  });
  addEventListener("resize", () => { if (picture && !bench.hidden) whole(); });

  /**
   * @param {number} x
   * @param {number} y
   */
  function moveTo(x, y) {
    if (!picture) return;
    cross = { x: within(x, picture.width), y: within(y, picture.height) };
    draw();
  }

  function mark() {
    const seen = of.value.trim();
    if (!picture || seen === "" || seen === "star") return;
    marks.push({ at: [cross.x, cross.y], of: seen, doubtful: null });
    of.value = after(seen);
    write();
  }

  function undo() {
    marks.pop();
    write();
  }

  /** Writes the marks down as their file has them. */
  function write() {
    if (!picture) return;
    const size = Number(across.value.replace(",", "."));
    const lines = [
      "version = 1",
      `name = ${JSON.stringify(name)}`,
      southern.checked && "hemisphere = \"south\"",
      `picture_px = [${picture.width}, ${picture.height}]`,
      size > 0 && `limb_diameter_mm = ${size}`,
      "marks = [",
      ...marks.map(({ at: [right, down], of: seen }) => `[${right.toFixed(1)}, ${down.toFixed(1)}, ${JSON.stringify(seen)}],`),
      "]",
    ];
    written(`${lines.filter((line) => line !== false).join("\n")}\n`);
    list.replaceChildren(...marks.map((one, number) => element("li", { "data-doubtful": one.doubtful ? "" : null },
      `${one.of} `,
      element("button", {
        type: "button", "aria-label": `Take away the mark ${number + 1}, ${one.of}`,
        onclick: () => { marks.splice(number, 1); write(); },
      }, "×"))));
    draw();
  }

  return {
    element: element("details", { class: "help photograph", id: "photograph" },
      element("summary", {}, "From a photograph of the front"),
      element("p", {}, "Nothing is measured, and the picture stays in this browser. Mark in it what you recognise."),
      labelled("A photograph, JPEG, PNG or WebP", file), fault, bench),
    /**
     * Shows which marks were left out of account.
     * @param {readonly {doubtful: boolean}[]} found in their order
     */
    show(found) {
      if (found.length !== marks.length) return;
      marks = marks.map((one, number) => ({ ...one, doubtful: found[number]?.doubtful ?? null }));
      write();
    },
  };
}

/**
 * @param {CanvasRenderingContext2D} paint
 * @param {{x: number, y: number}} at
 * @param {number} arm
 * @param {string} ink
 * @param {number} unit
 */
function strokeCross(paint, at, arm, ink, unit) {
  for (const [colour, width] of /** @type {[string, number][]} */ ([["#fff", 3], [ink, 1]])) {
    paint.strokeStyle = colour;
    paint.lineWidth = width * unit;
    paint.beginPath();
    paint.moveTo(at.x - arm, at.y);
    paint.lineTo(at.x + arm, at.y);
    paint.moveTo(at.x, at.y - arm);
    paint.lineTo(at.x, at.y + arm);
    paint.stroke();
  }
}

/**
 * @param {number} at
 * @param {number} end
 */
const within = (at, end) => Math.min(end - 1, Math.max(0, at));
