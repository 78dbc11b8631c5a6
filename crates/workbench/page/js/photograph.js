import * as desk from "./desk.js";
import { element, labelled } from "./element.js";
import { help } from "./help.js";
import { createLaying } from "./laying.js";
import { fileName, save } from "./save.js";
import { snapped } from "./snap.js";
import { sentence } from "./words.js";

/** @typedef {{at: [number, number], of: string, doubtful: boolean | null}} Mark a place in the picture, and what is seen there */

/** How much nearer a step comes. */
const STEP = 1.5;

/** How many times larger the glass shows what lies under the cross. */
const GLASS = 6;

/** How broad the glass is on the screen, in pixels. */
const GLASS_ACROSS = 150;

/** What can be seen on a front, for whoever would rather write it. */
const SEEN = [
  "limb 0", "edge of the hole", "tropic of Capricorn", "equator", "tropic of Cancer", "meridian", "horizon",
  "almucantar 20", "almucantar 40", "almucantar 60", "unequal hour 3", "unequal hour 9", "azimuth 90", "twilight",
  "house 11", "ecliptic", "ecliptic 0 Aries", "star Aldebaran", "hole", "almuri", "rule",
];

/** The same of a back. */
const SEEN_ON_BACK = [
  "zodiac 0 Aries", "zodiac 0 Leo", "calendar 03-12", "calendar 09-01", "left corner of the shadow square",
  "right corner of the shadow square", "edge of the hole", "hole",
];

/** After this long without a press what lies there is asked. */
const PAUSE_MS = 120;

/** So far from the cross a line is looked for, in pixels of the picture at a thousand across. */
const REACH = 5;

/**
 * A photograph of an instrument's front, in which one marks what is recognised. It stays in
 * the browser; what goes on is the text of the marks.
 * @param {(text: string) => void} written where the marks are written down
 * @param {(text: string) => Promise<(Node | string)[]>} setting how the instrument is set in it, as it is told
 * @param {import("./face.js").Face} face
 */
export function photograph(written, setting, face) {
  /** @type {ImageBitmap | null} */
  let picture = null;
  let name = "from a photograph";
  /** @type {Mark[]} */
  let marks = [];
  /** The cross, in pixels of the picture. */
  let cross = { x: 0, y: 0 };
  /** Where the darkest middle of the line lies that is nearest to the cross, if that is wished. @type {{x: number, y: number} | null} */
  let darkest = null;
  /** Whether what is seen was chosen by hand. */
  let chosen = false;
  let asked = 0;
  /** @type {Promise<void>} */
  let proposed = Promise.resolve();
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let waiting;
  /** @type {import("./answers.js").PicturedAnswer | null} */
  let found = null;
  /** The file that the photograph is. @type {Blob | null} */
  let photo = null;
  const laying = createLaying(face, () => (photo && found ? { photo, marks: text() } : null));
  /** Marks, and what would tell most beside them. @type {{marks: string, wanted: import("./answers.js").WantedAnswer[], next: number}} */
  let toldOf = { marks: "", wanted: [], next: 0 };
  /** Screen pixels to one of the picture's, and which of these is at the upper left. */
  let times = 1;
  let corner = { x: 0, y: 0 };

  const file = element("input", { type: "file", id: "photograph-file", accept: "image/jpeg,image/png,image/webp" });
  const canvas = element("canvas", {
    class: "photograph-sheet", tabindex: "0", role: "application",
    "aria-label": "The photograph: the arrow keys move the cross by a pixel, with Shift by a third of one, with Alt by twenty; Enter marks what stands first below, a figure what stands in that place; S moves it to the line’s darkest middle; N leads it to the mark that would tell most, and again to the next best; plus and minus bring it nearer",
  });
  const told = element("p", { class: "quiet", id: "photograph-told", role: "status" });
  const fault = element("p", { class: "fault", role: "alert" });
  const over = element("div", { class: "photograph-over", "aria-hidden": "true" });
  const of = element("input", {
    id: "photograph-of", list: "photograph-seen", autocomplete: "off",
    oninput: () => { chosen = of.value.trim() !== ""; },
  });
  const proposals = element("ol", { class: "photograph-proposals", id: "photograph-proposals", "aria-label": "What may lie at the cross" });
  const snap = element("input", { type: "checkbox", id: "photograph-snap", onchange: () => moveTo(cross.x, cross.y) });
  const lines = element("input", { type: "checkbox", id: "photograph-lines", checked: true, onchange: () => draw() });
  const linesTold = element("p", { class: "quiet", id: "photograph-lines-told", hidden: true });
  const wanted = element("ul", { class: "photograph-wanted", id: "photograph-wanted" });
  const set = element("div", { id: "photograph-set", "aria-live": "polite" });
  const report = element("button", { type: "button", id: "photograph-save", hidden: true, onclick: saveReport }, "Save picture, lines and report");
  const southern = element("input", { type: "checkbox", id: "photograph-southern", onchange: write });
  const back = element("input", { type: "checkbox", id: "photograph-back", onchange: turnOver });
  const known = element("datalist", { id: "photograph-seen" }, ...options(SEEN));
  const across = element("input", { id: "photograph-across", inputmode: "decimal", autocomplete: "off", onchange: write });
  const list = element("ol", { class: "photograph-marks", id: "photograph-marks" });
  const bench = element("div", { class: "photograph-bench", hidden: true },
    element("p", { class: "row", role: "group", "aria-label": "How near the photograph is" },
      element("button", { type: "button", onclick: whole }, "All of it"),
      element("button", { type: "button", "aria-label": "The photograph nearer", onclick: () => nearer(STEP) }, "+"),
      element("button", { type: "button", "aria-label": "The photograph further", onclick: () => nearer(1 / STEP) }, "−")),
    element("div", { class: "photograph-frame" }, canvas, over), told,
    element("label", { class: "tick" }, snap, " show the darkest middle of the line at the cross, and mark there"),
    proposals,
    element("div", { class: "fields" },
      labelled("What is seen at the cross", of),
      labelled("Across the limb’s graduation, in mm, if known", across)),
    element("p", { class: "row" },
      element("label", { class: "tick" }, back, " the back of the instrument, not its front"),
      element("label", { class: "tick" }, southern, " a southern instrument: the hours run against the clock")),
    element("p", { class: "row" },
      element("button", { type: "button", id: "photograph-mark", onclick: mark }, "Mark it"),
      element("button", { type: "button", id: "photograph-undo", onclick: undo }, "Take the last mark back"),
      element("button", { type: "button", id: "photograph-setting", onclick: tellSetting }, "How is it set here?"),
      report),
    set,
    element("label", { class: "tick" }, lines, " the lines as they were found, over the picture"), linesTold, wanted,
    known,
    list,
    help(
      "What do I mark, and where?",
      "First the limb: five of its degrees at least, spread all round, each where its stroke meets the outer circle of the graduation. Then the edge of the hole in six places, points along the circles, the horizon and some almucantars, the beginnings of the signs on the outer edge of the ring, and the very tips of the stars with the names that stand on them.",
      "Press in the picture to put the cross, look into the glass, and move it with the arrow keys to a third of a pixel. What most likely lies there stands beneath the picture, with how far off it should lie: Enter takes the first, a figure another.",
      "On the back mark the beginnings of the signs on the outer circle of the zodiac scale, the strokes of some dates, the edge of the hole, and the lower corners of the shadow square.",
      "Some forty to sixty marks tell a front. When it has been examined, the marks that would tell most stand beneath the picture, each with its place.",
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
    photo = chosen;
    found = null;
    name = chosen.name.replace(/\.[^.]*$/, "").slice(0, 60) || name;
    marks = [];
    cross = { x: picture.width / 2, y: picture.height / 2 };
    bench.hidden = false;
    set.replaceChildren();
    whole();
    write();
    ask();
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
    if (darkest) {
      paint.strokeStyle = good;
      paint.lineWidth = 2 * unit;
      paint.beginPath();
      paint.arc((darkest.x + 0.5 - corner.x) * times, (darkest.y + 0.5 - corner.y) * times, 8 * unit, 0, 2 * Math.PI);
      paint.stroke();
    }
    lookOver();
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
    if (darkest) {
      paint.strokeStyle = good;
      paint.beginPath();
      paint.arc(left + size / 2 + (darkest.x - cross.x) * near, size / 2 + (darkest.y - cross.y) * near, 5 * unit, 0, 2 * Math.PI);
      paint.stroke();
    }
    paint.restore();
    paint.strokeStyle = ink;
    paint.strokeRect(left, 0, size, size);
    const middle = darkest ? ` The line’s darkest middle is at ${darkest.x.toFixed(1)}, ${darkest.y.toFixed(1)}.` : "";
    const next = chosen ? ` To be marked: ${of.value}.` : "";
    told.textContent = `The cross is at ${cross.x.toFixed(1)}, ${cross.y.toFixed(1)}; ${marks.length} marks.${middle}${next}`;
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
    else if (/^[1-9]$/.test(event.key)) takeProposal(Number(event.key) - 1);
    else if (event.key === "s" || event.key === "S") toDarkest();
    else if (event.key === "n" || event.key === "N") toTelling();
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
    darkest = snap.checked ? darkestNear(cross) : null;
    draw();
    ask();
  }

  /** Where one would mark. */
  const place = () => darkest ?? cross;

  function toDarkest() {
    const there = darkest ?? darkestNear(cross);
    if (there) moveTo(there.x, there.y);
  }

  /**
   * Puts the cross where something should lie, to be marked there.
   * @param {string} seen
   * @param {readonly number[]} at
   */
  function goTo(seen, [right = 0, down = 0]) {
    of.value = seen;
    chosen = true;
    moveTo(right, down);
    canvas.focus();
  }

  /** To the mark that would tell most as things stand; asked again, to the next best. */
  async function toTelling() {
    const marked = text();
    try {
      fault.textContent = "";
      if (marked !== toldOf.marks) {
        const { pictured } = await desk.examine({ measurements: marked, with: null, within_mm: null });
        if (text() !== marked) return;
        const wanted = pictured?.tellings.flatMap((one) => one.marks) ?? [];
        toldOf = { marks: marked, wanted, next: 0 };
      }
      const placed = toldOf.wanted.filter(({ at_px }) => at_px !== null);
      const one = placed[toldOf.next % placed.length];
      toldOf.next += 1;
      if (one?.at_px) goTo(one.of, one.at_px);
      else fault.textContent = toldOf.wanted[0]
        ? `Most would be told by ${toldOf.wanted[0].of}; where it lies in the picture is not known yet.`
        : "No mark would tell much more.";
    } catch (error) {
      fault.textContent = sentence(error);
    }
    canvas.dataset.led = String(Number(canvas.dataset.led ?? 0) + 1);
  }

  /**
   * The line's darkest middle near a place, by the picture's own pixels.
   * @param {{x: number, y: number}} at
   */
  function darkestNear(at) {
    if (!picture) return null;
    const reach = Math.max(5, Math.round((REACH * picture.width) / 1000));
    const room = 2 * reach + 2;
    const [left, top] = [Math.round(at.x) - room, Math.round(at.y) - room];
    const side = 2 * room + 1;
    const piece = element("canvas", { width: side, height: side });
    const paint = piece.getContext("2d", { willReadFrequently: true });
    if (!paint) return null;
    paint.fillStyle = "#fff";
    paint.fillRect(0, 0, side, side);
    paint.drawImage(picture, -left, -top);
    const { data } = paint.getImageData(0, 0, side, side);
    // How light it looks (ITU-R BT.601).
    const light = Float64Array.from({ length: side * side }, (_, index) =>
      0.299 * (data[4 * index] ?? 0) + 0.587 * (data[4 * index + 1] ?? 0) + 0.114 * (data[4 * index + 2] ?? 0));
    const there = snapped({ light, breadth: side, height: side }, { x: at.x - left, y: at.y - top }, reach);
    return there && { x: there.x + left, y: there.y + top };
  }

  /** Asks what lies at the cross, once the hand rests. */
  function ask() {
    const mine = ++asked;
    clearTimeout(waiting);
    // What stands there is of where the cross was before.
    proposals.setAttribute("aria-busy", "true");
    const at = place();
    proposed = new Promise((resolve) => { waiting = setTimeout(resolve, PAUSE_MS); }).then(async () => {
      if (mine !== asked) return;
      try {
        const { proposals: all } = await desk.propose({ measurements: text(), at_px: [at.x, at.y] });
        if (mine === asked) propose(all);
      } catch (error) {
        if (mine !== asked) return;
        fault.textContent = sentence(error);
        proposals.setAttribute("aria-busy", "false");
      }
    });
  }

  /** @param {import("./answers.js").ProposalAnswer[]} all */
  function propose(all) {
    fault.textContent = "";
    proposals.setAttribute("aria-busy", "false");
    proposals.replaceChildren(...all.map((one) => element("li", {}, element("button", {
      type: "button", "data-of": one.of, onclick: () => take(one.of),
    }, one.off_px === null ? one.of : `${one.of}, ${one.off_px.toFixed(1)} px off, ${one.percent === null || one.percent < 1 ? "less than 1" : one.percent.toFixed(0)} %`))));
    proposals.dataset.answers = String(asked);
    // Who is about to write something is not written over.
    if (!chosen && document.activeElement !== of) of.value = all[0]?.of ?? "";
  }

  /** @param {number} number */
  async function takeProposal(number) {
    await proposed;
    const button = proposals.querySelectorAll("button")[number];
    if (button?.dataset.of) take(button.dataset.of);
  }

  /** @param {string} seen */
  function take(seen) {
    if (!picture) return;
    const at = place();
    marks.push({ at: [at.x, at.y], of: seen, doubtful: null });
    chosen = false;
    of.value = "";
    darkest = null;
    found = null;
    write();
    ask();
  }

  async function mark() {
    // What lies there may still be asked.
    if (!chosen) await proposed;
    const seen = of.value.trim();
    if (seen !== "" && seen !== "star") take(seen);
  }

  function undo() {
    marks.pop();
    found = null;
    write();
    ask();
  }

  /** The marks as their file has them. */
  function text() {
    if (!picture) return "";
    const said = across.value.trim().replace(",", ".");
    // What is no number is refused by whoever reads the file.
    const size = said === "" ? null : Number(said) > 0 ? said : JSON.stringify(said);
    const all = [
      "version = 1",
      `name = ${JSON.stringify(name)}`,
      back.checked && "side = \"back\"",
      !back.checked && southern.checked && "hemisphere = \"south\"",
      `picture_px = [${picture.width}, ${picture.height}]`,
      !back.checked && size !== null && `limb_diameter_mm = ${size}`,
      "marks = [",
      ...marks.map(({ at: [right, down], of: seen }) => `[${right.toFixed(1)}, ${down.toFixed(1)}, ${JSON.stringify(seen)}],`),
      "]",
    ];
    return `${all.filter((line) => line !== false).join("\n")}\n`;
  }

  /** What is seen on one side is not on the other: the marks begin anew. */
  function turnOver() {
    southern.disabled = across.disabled = back.checked;
    known.replaceChildren(...options(back.checked ? SEEN_ON_BACK : SEEN));
    marks = [];
    found = null;
    write();
    ask();
  }

  function write() {
    if (!picture) return;
    written(text());
    list.replaceChildren(...marks.map((one, number) => element("li", { "data-doubtful": one.doubtful ? "" : null },
      `${one.of} `,
      element("button", {
        type: "button", "aria-label": `Take away the mark ${number + 1}, ${one.of}`,
        onclick: () => { marks.splice(number, 1); found = null; write(); ask(); },
      }, "×"))));
    draw();
  }

  /** Lays what was found over the part of the picture that is seen. */
  function lookOver() {
    const drawing = over.querySelector("svg");
    over.hidden = !lines.checked || !found;
    report.hidden = !found;
    linesTold.hidden = over.hidden;
    if (!drawing || over.hidden) return;
    drawing.setAttribute("viewBox", `${corner.x} ${corner.y} ${canvas.width / times} ${canvas.height / times}`);
    drawing.setAttribute("preserveAspectRatio", "none");
  }

  async function tellSetting() {
    try {
      fault.textContent = "";
      set.replaceChildren(...await setting(text()));
    } catch (error) {
      set.replaceChildren();
      fault.textContent = sentence(error);
    }
  }

  /** One file with the picture, what is drawn over it, and what was found. */
  function saveReport() {
    if (!picture || !found) return;
    const sheet = element("canvas", { width: picture.width, height: picture.height });
    sheet.getContext("2d")?.drawImage(picture, 0, 0);
    const under = `<image href="${sheet.toDataURL("image/jpeg", 0.9)}" width="${picture.width}" height="${picture.height}"/>`;
    const drawing = (found.held?.map ?? found.overlay).replace("</title>", `</title>${under}`);
    const safe = element("p", {}, "");
    const lines = inWords.map((one) => { safe.textContent = one; return `<p>${safe.innerHTML}</p>`; });
    safe.textContent = name;
    const page = `<!doctype html>\n<html lang="en"><meta charset="utf-8"><title>${safe.innerHTML}</title>`
      + `<style>body { max-width: 70rem; margin: 2rem auto; font-family: serif } svg { width: 100% }</style>\n`
      + `<h1>${safe.innerHTML}</h1>\n${lines.join("\n")}\n<p>What marks are off is drawn ${(found.held ?? found).enlarged} times as large.</p>\n${drawing}</html>\n`;
    save(`${fileName(name)}.html`, new Blob([page], { type: "text/html" }));
  }

  /** What was found, in sentences. @type {readonly string[]} */
  let inWords = [];

  return {
    element: element("details", { class: "help photograph", id: "photograph" },
      element("summary", {}, "From a photograph of the front or the back"),
      element("p", {}, "Nothing is measured, and the picture stays in this browser. Mark in it what you recognise."),
      labelled("A photograph, JPEG, PNG or WebP", file), fault, bench, laying.element),
    /**
     * Shows what was found: its lines over the picture, which marks were left out of account,
     * and which would tell most. Marks that were written down elsewhere are taken up.
     * @param {import("./answers.js").PicturedAnswer} pictured
     * @param {readonly string[]} sentences
     */
    show(pictured, sentences) {
      const { picture_px: [broad, high], hemisphere, limb_radius_mm: limb } = pictured;
      if (!picture || broad !== picture.width || high !== picture.height) return;
      if (back.checked !== (pictured.back !== null)) {
        back.checked = pictured.back !== null;
        turnOver();
      }
      marks = pictured.marks.map(({ at_px: [right = 0, down = 0], of: seen, doubtful }) => ({ at: [right, down], of: seen, doubtful }));
      southern.checked = hemisphere === "south";
      if (limb !== null && limb * 2 !== Number(across.value)) across.value = String(2 * limb);
      write();
      found = pictured;
      if (!pictured.back) laying.offer();
      inWords = sentences;
      over.innerHTML = pictured.held?.map ?? pictured.overlay;
      linesTold.textContent = `What marks are off is drawn ${(pictured.held ?? pictured).enlarged} times as large.`;
      wanted.replaceChildren(...pictured.tellings.flatMap(({ marks: these }) => these).map(({ of: seen, at_px: at }) => element("li", {},
        at ? element("button", {
          type: "button", "data-of": seen, onclick: () => goTo(seen, at),
        }, `Go to ${seen}`) : seen)));
      draw();
      // What is known now proposes otherwise at the same place.
      ask();
    },
  };
}

/** @param {readonly string[]} names */
const options = (names) => names.map((one) => element("option", { value: one }));

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
