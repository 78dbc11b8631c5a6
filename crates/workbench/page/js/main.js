import * as desk from "./desk.js";
import { createEffects } from "./effects.js";
import { byId, element } from "./element.js";
import { createBeside } from "./beside.js";
import { createBook } from "./book.js";
import { createCabinet } from "./cabinet.js";
import { createCasebook } from "./casebook.js";
import { createCaseForm } from "./case-form.js";
import { createChapter } from "./chapter.js";
import { createCorrecting } from "./correcting.js";
import { DEMONSTRATION, isDemonstration } from "./demonstration.js";
import { createFace } from "./face.js";
import { createFigure } from "./figure.js";
import { read, unpacked } from "./fragment.js";
import { createFromLink } from "./from-link.js";
import { createFilm } from "./film-leaf.js";
import { createFindings } from "./findings.js";
import { createFirstHour } from "./first-hour.js";
import { createHandbook } from "./handbook.js";
import { createHands } from "./hands.js";
import { createLens } from "./lens.js";
import { createLive, settingOf } from "./live.js";
import { createOperation } from "./operation.js";
import { createMarking } from "./marking.js";
import { createReadings } from "./readings.js";
import { createSetBrass } from "./set-brass.js";
import { createSettings, usualCase } from "./settings.js";
import { createShelf } from "./shelf.js";
import { createShowing } from "./showing.js";
import { createSky } from "./sky.js";
import { createStage } from "./stage.js";
import { createStore } from "./store.js";
import { apply } from "./surroundings.js";
import { createClasses } from "./classes.js";
import { keepsClasses } from "./door.js";
import { createTeaching } from "./teaching.js";
import { createPen } from "./pen.js";
import { createPosted, firstCase, posted } from "./posted.js";
import { createTimes } from "./times.js";
import { createToday } from "./today.js";
import { createTrying } from "./trying.js";
import { createTurning } from "./turning.js";
import { createWalk } from "./walk.js";
import { createWhy } from "./why.js";
import { capital, toMinute } from "./words.js";
import { createWorking } from "./working.js";
import { createWorkshop } from "./workshop.js";

/** Puts the page together: each part listens to the store, and to the instrument. */
async function begin() {
  apply();
  const [start, kinds] = await Promise.all([desk.start(), desk.operations()]);
  const inAddress = read(await unpacked(location.hash));
  const first = posted ? firstCase(posted) : inAddress ?? (start.settings.home ? usualCase(start.settings) : DEMONSTRATION);
  const store = createStore(first);
  // The desk works while the page is put together; whoever listens is there when it answers.
  const firstAnswer = store.ask({});
  const chapter = createChapter(first !== DEMONSTRATION);
  const turning = createTurning();
  const stage = createStage(byId("stage"), turning);
  const lens = createLens(stage, turning);

  const shelf = createShelf(start);
  createCaseForm(byId("case-form"), store, start, shelf);
  createSetBrass(byId("set-body"), store);
  createHands(byId("hands"), turning, stage);
  const face = createFace(byId("hands"), store, stage, shelf);
  const live = createLive(byId("live"), store, turning, stage);
  const operation = createOperation(store, kinds);
  const working = createWorking(byId("working-body"), store, operation, turning, stage, lens, chapter);
  createFindings(byId("findings-body"), operation);
  createShowing(working, lens);
  createReadings(byId("readings-body"), store, chapter);
  createWhy(byId("why-body"), store, chapter);
  createSky(byId("sky-body"), store);
  const beside = createBeside({ store, working, operation, stage, lens, chapter });
  const correcting = createCorrecting("correcting", store);
  const settings = createSettings(start, store, shelf);
  const cabinet = createCabinet(shelf, store, settings);
  createFromLink(byId("with"), store, shelf, cabinet);
  const firstHour = createFirstHour(store, stage);
  const figure = createFigure(store, start);
  const times = createTimes(store);
  const pen = createPen(store);
  const trying = createTrying(store, start);
  const classes = createClasses((kept) => teaching.change(kept));
  byId("classes").hidden = !keepsClasses;
  const teaching = createTeaching(store, operation, shelf, (kept) => classes.show(kept));
  const filmed = createFilm(store, operation, working);
  const workshop = createWorkshop(store, start, cabinet, (read) => {
    correcting.fill({ read });
    correcting.leaf.show();
  }, face);
  const book = createBook(store);
  const casebook = createCasebook(store, book);
  createToday(byId("today-body"), book, {
    where: () => settings.kept.home || store.answered.at,
    casebook: () => casebook.show(),
    correct: async (kept) => {
      const readings = kept.case.readings ?? [];
      correcting.fill({
        whose: readings.find(({ who }) => who)?.who ?? kept.case.name,
        read: Object.fromEntries(readings.map(({ what, degree }) => [what, degree])),
      });
      correcting.leaf.show();
      await book.takeUp(kept);
    },
    plate: ({ latitude_deg }) => workshop.makePlate(latitude_deg),
  });
  createMarking(correcting, book);
  const leaves = [firstHour, trying, figure, times, pen, correcting.leaf, teaching.leaf, ...(keepsClasses ? [classes.leaf] : []), filmed, workshop.leaf, cabinet.leaf, casebook];
  byId("contents").append(
    ...[...leaves, createHandbook(leaves)].map((leaf) =>
      element("button", { type: "button", onclick: () => leaf.show() }, leaf.title)));
  byId("print").addEventListener("click", () => print());

  // For whoever watches the page from outside: what is on it belongs to the case.
  let answers = 0;
  const answered = () => {
    answers += 1;
    document.body.dataset.answers = String(answers);
    document.body.dataset.ready = "yes";
  };

  const headline = byId("headline");
  /** How the parts were set last: an answer that sets them so again leaves them as they stand. */
  let setLast = "";
  store.onAnswer(async (answer) => {
    byId("before").hidden = true;
    headline.replaceChildren(
      ...(isDemonstration(store.case) ? [element("b", {}, "A demonstration, invented. ")] : []),
      ...(book.takenUp ? [element("b", {}, `Case ${book.takenUp.id}, ${book.takenUp.case.name}. `)] : []),
      `${answer.place.name}, ${toMinute(answer.moment.clock_time)}, ${capital(answer.moment.calendar)} calendar`);
    document.title = `Almuri: ${answer.place.name}, ${toMinute(answer.moment.clock_time)}`;
    const plate = answer.instrument.plate_latitude_deg;
    await stage.show(store.case.with ?? null, answer.instrument.name, plate);
    const set = settingOf(answer);
    const setNow = JSON.stringify([store.case.with ?? answer.instrument.name, plate, set]);
    if (setNow !== setLast) await turning.moveTo(set ?? { ...turning.state, plate_latitude_deg: plate });
    setLast = setNow;
    live.ask();
    answered();
    beside.resume();
  });
  store.onRefused((error) => {
    byId("before").hidden = store.answer === null;
    byId("announce").textContent = error.message;
    answered();
  });
  addEventListener("hashchange", async () => {
    const asked = read(await unpacked(location.hash));
    if (asked) store.ask(asked);
  });

  if (posted) createPosted(posted, store);
  createEffects();
  operation.begin();
  createWalk(store, working, inAddress === null && first === DEMONSTRATION);
  await firstAnswer;
}

begin().catch((error) => {
  const message = error instanceof Error ? error.message : String(error);
  byId("headline").replaceChildren(element("span", { class: "fault", role: "alert" }, message));
});
