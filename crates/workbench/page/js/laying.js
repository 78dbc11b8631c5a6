import { element } from "./element.js";
import { sentence } from "./words.js";

/** @typedef {import("./kept-faces.js").FacePart} FacePart */

/** What is said of each part. */
const NAMES = /** @type {const} */ ({ mater: "the limb", plate: "the plate", rete: "the rete", rule: "the rule" });

/**
 * Where a photograph that was examined is laid on the instrument above.
 * @param {import("./face.js").Face} face
 * @param {() => {photo: Blob, marks: string} | null} pictured
 */
export function createLaying(face, pictured) {
  const ticks = Object.entries(NAMES).map(([part, name]) => {
    const box = element("input", { type: "checkbox", value: part, id: `lay-${part}` });
    return { part: /** @type {FacePart} */ (part), box, label: element("label", { class: "tick" }, box, ` ${name}`) };
  });
  const whole = element("input", { type: "checkbox", id: "lay-whole" });
  const told = element("div", { id: "lay-told", "aria-live": "polite" });
  const fault = element("p", { class: "fault", role: "alert" });
  const forget = element("button", { type: "button", id: "lay-forget", hidden: true, onclick: () => doing(takeOff) }, "Take it off and forget it");
  const parts = element("fieldset", { hidden: true },
    element("legend", {}, "On the instrument above"),
    element("p", {}, "Parts of the photograph over the drawn ones, so that what turns on the page looks like what lies on the table. Readings and lines stay those of the drawing."),
    element("p", { class: "row" }, ...ticks.map(({ label }) => label)),
    element("label", { class: "tick" }, whole, " the rete as a whole disc, half seen through; else it is cut along the metal that is drawn"),
    element("p", { class: "row" }, element("button", { type: "button", id: "lay", onclick: () => doing(lay) }, "Lay it on")));

  /** @param {() => Promise<void>} work */
  async function doing(work) {
    fault.textContent = "";
    try {
      await work();
    } catch (error) {
      fault.textContent = sentence(error);
    }
  }

  async function lay() {
    const mine = pictured();
    if (!mine) throw new Error("the marks were changed since they were examined; examine it again first");
    const chosen = ticks.filter(({ box }) => box.checked).map(({ part }) => part);
    if (chosen.length === 0) throw new Error("no part is ticked; one that the photograph shows would do");
    const lasts = await face.lay({ ...mine, parts: chosen, whole: whole.checked });
    const list = new Intl.ListFormat("en").format(chosen.map((part) => NAMES[part]));
    tell([
      `${face.called} now shows ${list} of this photograph; beneath it one chooses what is seen.`,
      lasts
        ? "Photograph and marks are kept in this browser on this machine, and nowhere else; it may forget them when room grows scarce."
        : "This browser keeps nothing for this page: the photograph is there until the page is closed.",
    ]);
    forget.hidden = false;
  }

  async function takeOff() {
    await face.forget();
    tell([`${face.called} is the drawing again; its photographs are forgotten.`]);
    forget.hidden = true;
  }

  /** @param {readonly string[]} sentences */
  function tell(sentences) {
    told.replaceChildren(...sentences.map((one) => element("p", {}, one.replace(/^\p{L}/u, (letter) => letter.toUpperCase()))));
  }

  return {
    element: element("div", { class: "laying" }, parts, told, fault, element("p", { class: "row" }, forget)),
    /** Offers the parts that an examined photograph shows. */
    offer: () => doing(async () => {
      const mine = pictured();
      parts.hidden = true;
      forget.hidden = (await face.laid()).length === 0;
      if (!mine) return;
      const { parts: shown, sentences } = await face.told(mine.marks);
      const has = (/** @type {string} */ part) => shown.some((one) => one.part === part);
      for (const { part, box } of ticks) {
        box.disabled = !has(part);
        // What lies over a plate hides it.
        box.checked = has(part) && !(part === "plate" && has("rete"));
      }
      parts.hidden = false;
      tell(has("plate") && has("rete")
        ? [...sentences, "The rete lies over the plate: where it does, the drawn plate is seen. A photograph without the rete shows the whole plate."]
        : sentences);
    }),
  };
}
