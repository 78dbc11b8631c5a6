import { byId, element } from "./element.js";
import { createChooser } from "./chooser.js";
import { help } from "./help.js";
import { createOperationForm } from "./operation-form.js";
import { createPlayer } from "./player.js";
import { procedure } from "./store.js";
import { capital, plain } from "./words.js";

/**
 * The working: casting the figure, or an operation of the treatise; its steps, which
 * the player takes to the instrument.
 * @param {HTMLElement} place
 * @param {import("./store.js").Store} store
 * @param {import("./operation.js").Operation} operation
 * @param {import("./turning.js").Turning} turning
 * @param {import("./stage.js").Stage} stage
 * @param {ReturnType<typeof import("./lens.js").createLens>} lens
 * @param {import("./chapter.js").Chapter} chapter
 */
export function createWorking(place, store, operation, turning, stage, lens, chapter) {
  createChooser(place, operation);
  createOperationForm(place, store, operation);
  const steps = byId("steps-body");
  const said = element("p", { class: "quiet" });
  steps.append(said);
  const player = createPlayer(steps, turning, stage, lens);
  steps.append(help(
    "What happens here",
    "Choose a sentence and the instrument goes there: turned back or onward as the sentence says, with the lines to look at in green and a lens over the place that is read. In the list the arrow keys go from step to step.",
    "Besides casting the figure, everything that the classical treatise teaches can be worked here, for the moment, the place and the instrument of the line at the top. The numerals are those of Chaucer’s Treatise on the Astrolabe.",
  ));

  function cast() {
    const { answer } = store;
    if (!answer) return;
    const by = procedure(store.case);
    const all = (answer.working?.steps ?? []).filter((step) => step.procedure === null || step.procedure === by);
    const ascendant = all.findIndex((step) => step.reading?.name === "ascendant");
    const steps = chapter.whole || ascendant < 0 ? all : all.slice(0, ascendant + 1).filter((step) => step.procedure === null);
    player.take(steps, ...(all.length > 0 ? [chapter.turn()] : []));
    said.textContent = answer.reason ? `${capital(answer.reason)}.` : chapter.whole ? `Cusps by ${plain(by)}.` : "To the ascendant.";
  }

  chapter.onChange(() => { if (!operation.chosen) cast(); });
  store.onAnswer(() => { if (!operation.chosen) cast(); });
  operation.onChosen(() => {
    const { chosen } = operation;
    // Its own findings stand where those of the casting did.
    byId("readings").hidden = byId("why").hidden = chosen !== null;
    byId("findings").hidden = chosen === null;
    const bench = byId("working").parentElement;
    if (bench) bench.dataset.work = chosen?.operation ?? "cast";
    if (!chosen) cast();
  });
  operation.onWorked((answer) => {
    said.textContent = "";
    player.take(answer.working.steps);
  });
  operation.onRefused(() => {
    said.textContent = "";
    player.take([]);
  });

  return player;
}
