/** Asks the desk. Everything that is computed comes from there. */

import { door } from "./door.js";

/** @typedef {import("./types.js").Refusal} Refusal */

/** What the desk refuses, with the field it belongs to. */
export class Refused extends Error {
  /** @param {Refusal} refusal */
  constructor(refusal) {
    super(refusal.message);
    this.field = refusal.field ?? null;
    this.value = refusal.value ?? null;
    this.choices = refusal.choices ?? [];
  }
}

const UNREACHED =
  "The program does not answer. If it was stopped, start it again and reload this page.";

const TOO_LONG =
  "This takes longer than the page waits for. Ask for less at once, or give it to the command line.";

/** @param {import("./door.js").Answered} response */
const told = (response) =>
  response.json().catch(() => ({ message: response.status === 408 ? TOO_LONG : UNREACHED }));

/**
 * @param {string} path
 * @param {RequestInit} [options]
 */
async function ask(path, options) {
  const response = await reach(path, options);
  const answer = await told(response);
  if (!response.ok) throw new Refused(answer);
  return answer;
}

/**
 * @param {string} path
 * @param {RequestInit} [options]
 */
async function reach(path, options) {
  try {
    return await door(path, options);
  } catch (error) {
    if (options?.signal?.aborted) throw error;
    throw new Refused({ message: UNREACHED });
  }
}

/**
 * @param {string} path
 * @param {unknown} body
 * @param {AbortSignal} [signal]
 */
const post = (path, body, signal) => ask(path, posted(body, signal));

/**
 * @param {unknown} body
 * @param {AbortSignal} [signal]
 */
const posted = (body, signal) => ({
  method: "POST",
  headers: { "content-type": "application/json" },
  body: JSON.stringify(body),
  signal,
});

/**
 * @param {string} path
 * @param {unknown} body
 */
async function file(path, body) {
  const response = await reach(path, posted(body));
  if (!response.ok) throw new Refused(await told(response));
  return response.blob();
}

/** @returns {Promise<import("./types.js").Start>} */
export const start = () => ask("/desk/start");

/**
 * @param {import("./types.js").Case} request
 * @param {AbortSignal} [signal]
 * @returns {Promise<import("./types.js").Answer>}
 */
export const cast = (request, signal) => post("/desk/cast", request, signal);

/**
 * @param {{case: import("./types.js").Case, state: import("./types.js").State, pointer: import("./types.js").Point | null}} request
 * @returns {Promise<import("./types.js").Turn>}
 */
export const turn = (request) => post("/desk/turn", request);

/**
 * @param {import("./types.js").Case} asked
 * @param {import("./types.js").Rules} [rules]
 * @returns {Promise<import("./types.js").Finished>}
 */
export const figure = (asked, rules = {}) => post("/desk/figure", { ...rules, cast: asked });

/**
 * An instrument with its parts named, the words explained, and lesson nought.
 * @param {{with: import("./types.js").With, plate_latitude_deg: number}} asked
 * @returns {Promise<import("./types.js").PartsNamed>}
 */
export const parts = (asked) => post("/desk/parts", asked);

/**
 * A figure's drawing, for the page's own colours.
 * @param {import("./types.js").Case} asked
 * @param {import("./types.js").Rules} rules
 * @param {string} form
 * @param {string} filled
 * @returns {Promise<{svg: string}>}
 */
export const drawn = (asked, rules, form, filled) => post("/desk/figure/drawn", {
  figure: { ...rules, cast: asked }, form, filled, bare: true, id_prefix: "figure-",
});

/**
 * The same as a file: `svg`, `pdf` or `png`.
 * @param {import("./types.js").Case} asked
 * @param {import("./types.js").Rules} rules
 * @param {string} form
 * @param {string} filled
 * @param {string} format
 */
export const figureFile = (asked, rules, form, filled, format) =>
  file("/desk/figure/file", { drawing: { figure: { ...rules, cast: asked }, form, filled }, format });

/**
 * @param {{with: import("./types.js").With | null, plate_latitude_deg: number}} request
 * @returns {Promise<import("./types.js").Front>}
 */
export const front = (request) => post("/desk/front", request);

/**
 * @param {{with: import("./types.js").With | null, plate_latitude_deg: number}} request
 * @returns {Promise<import("./types.js").Back>}
 */
export const back = (request) => post("/desk/back", request);

/** @returns {Promise<import("./types.js").OperationKind[]>} */
export const operations = () => ask("/desk/operations");

/**
 * @param {object} request
 * @param {AbortSignal} [signal]
 * @returns {Promise<import("./types.js").WorkAnswer>}
 */
export const work = (request, signal) => post("/desk/work", request, signal);

/**
 * @param {{moment: import("./types.js").Case, read: Record<string, string>, figure: boolean}} request
 * @param {AbortSignal} [signal]
 * @returns {Promise<import("./types.js").Corrected>}
 */
export const correct = (request, signal) => post("/desk/correct", request, signal);

/**
 * @param {string} text
 * @returns {Promise<import("./types.js").Suggestion[]>}
 */
export const suggest = (text) => post("/desk/suggest", { text });

/**
 * @param {import("./types.js").Parts} asked
 * @returns {Promise<import("./types.js").PartPicture[]>}
 */
export const partPictures = (asked) => post("/desk/workshop/preview", asked);

/**
 * The files of a set, in one archive.
 * @param {import("./types.js").Parts} asked
 */
export const make = (asked) => file("/desk/workshop/make", asked);

/**
 * @param {import("./types.js").PlatesRequest} asked
 * @returns {Promise<import("./types.js").Plates>}
 */
export const plates = (asked) => post("/desk/workshop/plates", asked);

/**
 * The card of a town, to print.
 * @param {import("./types.js").PlatesRequest} plates
 * @param {string} paper
 * @param {import("./types.js").With | null} instrument that it goes with
 */
export const card = (plates, paper, instrument) => file("/desk/workshop/card", { plates, paper, with: instrument });

/**
 * How far off instruments read over a year, with a picture of it.
 * @param {{moment: import("./types.js").Case, with: import("./types.js").With[]}} asked
 * @returns {Promise<import("./types.js").Compared>}
 */
export const compare = (asked) => post("/desk/workshop/compare", asked);

/**
 * What an instrument was made for, by what was measured on it.
 * @param {{measurements: string, with: import("./types.js").With | null, within_mm: number | null}} asked
 * @returns {Promise<import("./types.js").Examined>}
 */
export const examine = (asked) => post("/desk/workshop/examine", asked);

/**
 * What may lie at a place in a photograph.
 * @param {{measurements: string, at_px: [number, number]}} asked
 * @returns {Promise<import("./answers.js").ProposeAnswer>}
 */
export const propose = (asked) => post("/desk/workshop/propose", asked);

/**
 * How an instrument is set in a photograph, and what it shows so.
 * @param {{measurements: string, case: import("./types.js").Case}} asked
 * @returns {Promise<import("./answers.js").SettingAnswer>}
 */
export const setting = (asked) => post("/desk/workshop/setting", asked);

/**
 * How the parts of an instrument are cut out of a photograph.
 * @param {{measurements: string, with: import("./types.js").With}} asked
 * @returns {Promise<import("./answers.js").FaceAnswer>}
 */
export const face = (asked) => post("/desk/workshop/face", asked);

/** @returns {Promise<{measurements: string}>} */
export const exampleMeasurements = () => ask("/desk/workshop/example");

/** @typedef {Partial<import("./types.js").Case> & {hour: string, second_difference: boolean}} Reckoned */

/**
 * The case worked with the pen.
 * @param {Reckoned} asked
 * @returns {Promise<import("./answers.js").ReckonAnswer>}
 */
export const reckon = (asked) => post("/desk/reckon", asked);

/**
 * The sheet to be printed: worked, or with its numbers left to be found.
 * @param {Reckoned} reckon
 * @param {boolean} blank
 */
export const reckonSheet = (reckon, blank) => file("/desk/reckon/sheet", { reckon, blank, page: "a4" });

/**
 * @param {{moment: import("./types.js").Case, until: string, outer: boolean}} asked
 * @returns {Promise<import("./types.js").During>}
 */
export const during = (asked) => post("/desk/during", asked);

/**
 * @param {{moment: import("./types.js").Case, year: number, at: string | null}} asked
 * @returns {Promise<import("./types.js").Revolution>}
 */
export const revolution = (asked) => post("/desk/revolution", asked);

/**
 * @param {{moment: import("./types.js").Case, ascendant: string}} asked
 * @returns {Promise<import("./types.js").MomentsOfYear>}
 */
export const moments = (asked) => post("/desk/moments", asked);

/**
 * @param {import("./types.js").Sought} asked
 * @returns {Promise<import("./types.js").Chosen>}
 */
export const choose = (asked) => post("/desk/choose", asked);

/** @returns {Promise<import("./types.js").WishForm[]>} */
export const chooseForms = () => ask("/desk/choose/forms");

/**
 * The times that were found, for a calendar.
 * @param {import("./types.js").Sought} asked
 */
export const chooseCalendar = (asked) => file("/desk/choose/calendar", asked);

/**
 * The book of a year, to be printed.
 * @param {import("./types.js").YearAsked} year
 * @param {string} paper
 */
export const yearBook = (year, paper) => file("/desk/year/book", { year, paper });

/**
 * The events of a year, for a calendar.
 * @param {import("./types.js").YearAsked} year
 * @param {string[]} kinds
 */
export const yearCalendar = (year, kinds) => file("/desk/year/calendar", { year, kinds });

/**
 * A working as a handout, to be printed.
 * @param {object} work
 * @param {string} page
 */
export const handout = (work, page) => file("/desk/teaching/handout", { work, page });

/**
 * A class’s sheets, their key, and the file to correct by, in one archive.
 * @param {string} text of the class file
 * @param {string} page
 * @param {boolean} key_at_length
 */
export const exercises = (text, page, key_at_length) =>
  file("/desk/teaching/exercises", { class: text, page, key_at_length });

/**
 * What is asked of the classes that are kept.
 * @template {keyof import("./types.js").ClassAnswers} K
 * @param {K} what
 * @param {unknown} [body]
 * @returns {Promise<import("./types.js").ClassAnswers[K]>}
 */
export const classes = (what, body = {}) => post(`/desk/class/${what}`, body);

/** @param {{id: number, sheet: number | null, what: string, page: string}} asked */
export const classPrint = (asked) => file("/desk/class/print", asked);

/**
 * @param {{exercises: import("./types.js").Exercises, pupil: string, question: number, read: Record<string, string>}} answers
 * @returns {Promise<import("./types.js").Corrected>}
 */
export const correctExercise = (answers) => post("/desk/teaching/correct", answers);

/** @returns {Promise<import("./types.js").CabinetAnswer>} */
export const cabinet = () => ask("/desk/cabinet");

/**
 * What a form about an instrument comes to, or which form a specification fills in.
 * @param {{text: string | null, form: import("./types.js").BrassForm | null}} asked
 * @returns {Promise<import("./types.js").BrassAnswer>}
 */
export const brass = (asked) => post("/desk/cabinet/brass", asked);

/**
 * A specification by its fields, with some of them written anew.
 * @param {{text: string, set: {key: string, to: boolean | string | null}[]}} asked
 * @returns {Promise<import("./answers.js").SpecificationAnswer>}
 */
export const specificationForm = (asked) => post("/desk/workshop/specification", asked);

/**
 * @param {string} name
 * @returns {Promise<{text: string, in_folder: boolean}>}
 */
export const specificationOf = (name) => post("/desk/cabinet/text", { name });

/**
 * @param {string} text
 * @param {{name: string, text: string} | null} instead_of
 * @returns {Promise<import("./types.js").CabinetAnswer & {name: string}>}
 */
export const keepInstrument = (text, instead_of) => post("/desk/cabinet/keep", { text, instead_of });

/**
 * @param {{name: string, text: string}} before
 * @returns {Promise<import("./types.js").CabinetAnswer>}
 */
export const deleteInstrument = (before) => post("/desk/cabinet/delete", before);

/**
 * One question for someone who tries alone.
 * @param {{with: import("./types.js").With | null, at: string, zone: string | null, by: string | null,
 *   year: number, level: number, seed: number, operation: string | null}} asked
 * @returns {Promise<import("./types.js").Exercises>}
 */
export const tryOne = (asked) => post("/desk/teaching/try", asked);

/**
 * An address as a code to be held a telephone to.
 * @param {string} text
 * @returns {Promise<{svg: string}>}
 */
export const code = (text) => post("/desk/code", { text });

/** @returns {Promise<import("./types.js").Today>} */
export const today = () => post("/desk/today", {});

/**
 * What is asked of the casebook.
 * @template T
 * @param {string} what
 * @param {unknown} [body]
 * @returns {Promise<T>}
 */
export const casebook = (what, body = {}) => post(`/desk/casebook/${what}`, body);

/** @param {import("./types.js").Settings} settings */
export const keep = (settings) => post("/desk/settings", settings);
