import { element, labelled } from "./element.js";
import { film, SHAPES } from "./film.js";
import { help } from "./help.js";
import { createLeaf } from "./leaf.js";
import { fileName, save } from "./save.js";
import { sentence, toMinute } from "./words.js";

/** The maker's own line is kept by the browser. */
const KEY = "almuri-film-end";

/**
 * A film: what is worked above as an ordinary video, to be looked at and saved.
 * @param {import("./store.js").Store} store
 * @param {import("./operation.js").Operation} operation
 * @param {import("./player.js").Player} player
 */
export function createFilm(store, operation, player) {
  return createLeaf("film", (body) => {
    const title = element("input", { id: "film-title", autocomplete: "off" });
    const end = element("input", { id: "film-end", autocomplete: "off", value: localStorage.getItem(KEY) ?? "" });
    end.addEventListener("change", () => localStorage.setItem(KEY, end.value));
    const shape = element("select", { id: "film-shape" }, ...Object.entries(SHAPES).map(([name, { name: said }]) => element("option", { value: name }, said)));
    const make = element("button", { type: "button", id: "film-make", onclick: begin }, "Make the film");
    const stop = element("button", { type: "button", id: "film-stop", hidden: true }, "Stop");
    const keep = element("button", { type: "button", id: "film-save", hidden: true }, "Save it");
    const bar = element("progress", { id: "film-progress", hidden: true, "aria-label": "How far the film is" });
    const said = element("p", { class: "quiet", role: "status", id: "film-said" });
    const fault = element("p", { class: "fault", role: "alert" });
    const seen = element("video", { id: "film-seen", controls: true, hidden: true, "aria-label": "The film" });
    /** @type {string | null} */
    let address = null;

    const titleNow = () => operation.kind?.title ?? "Casting a figure";
    const follow = () => { title.placeholder = titleNow(); };
    store.onAnswer(follow);
    operation.onChosen(follow);
    follow();
    body.append(element("div", { class: "film" },
      element("p", {}, "What is worked above as an ordinary video, 1080 lines, every sentence as a caption inside the picture. It goes at the pace that is chosen for playing."),
      element("div", { class: "fields" },
        labelled("Title", title),
        labelled("The maker’s line at the end", end),
        labelled("Shape", shape)),
      element("p", { class: "row" }, make, stop, keep, bar), said, fault, seen,
      help("Where is it made?", "In this browser, picture by picture, with its own encoder, as fast as this machine can: nothing is sent anywhere. The file is an MP4, which editors and telephones read. `almuri film cast` makes numbered pictures and a script for the voice instead.")));

    async function begin() {
      const { answer } = store;
      const steps = player.steps;
      if (!answer || steps.length === 0) {
        fault.textContent = "Nothing is worked above that could be filmed.";
        return;
      }
      const stopping = new AbortController();
      stop.onclick = () => stopping.abort();
      fault.textContent = "";
      said.textContent = "Being begun.";
      seen.hidden = keep.hidden = true;
      stop.hidden = bar.hidden = false;
      make.disabled = true;
      const named = title.value.trim() || titleNow();
      try {
        const content = await film({
          shape: /** @type {import("./film.js").Shape} */ (shape.value),
          title: named,
          of: `${answer.place.name}, ${toMinute(answer.moment.clock_time)}, with ${answer.instrument.called}`,
          end: end.value,
          instrument: store.answered.with ?? { named: answer.instrument.name },
          steps,
          pace: player.pace,
        }, (done_s, whole_s) => {
          bar.max = whole_s;
          bar.value = done_s;
          said.textContent = `${Math.round(done_s)} of ${Math.round(whole_s)} seconds are made.`;
        }, stopping.signal);
        if (address) URL.revokeObjectURL(address);
        address = URL.createObjectURL(content);
        seen.src = address;
        seen.hidden = keep.hidden = false;
        keep.onclick = () => save(`${fileName(`${named} ${answer.place.name}`)}.mp4`, content);
        said.textContent = `Made: ${(content.size / 1e6).toFixed(1)} MB.`;
      } catch (error) {
        said.textContent = stopping.signal.aborted ? "Stopped." : "";
        fault.textContent = stopping.signal.aborted ? "" : sentence(error);
      }
      stop.hidden = bar.hidden = true;
      make.disabled = false;
    }
  });
}
