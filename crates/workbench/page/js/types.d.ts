// What the desk is asked and what it answers, as the page calls it. The answers' own types
// are made of the desk's schemas.

import type { CastAnswer, ChooseAnswer, CompareAnswer, ExercisesAnswer, FindingAnswer, InstrumentAnswer, OwnAnswer, UnreadAnswer, WorkingStepAnswer } from "./answers.js";

export type {
  AskAnswer as Ask,
  BackAnswer as Back,
  BrassAnswer,
  BrassForm,
  CabinetAnswer,
  CastAnswer as Answer,
  CorrectAnswer as Corrected,
  DeviationAnswer as Deviation,
  DrawnPoint as Point,
  DuringAnswer as During,
  ExaminedAnswer as Examined,
  ExercisesAnswer as Exercises,
  FindingAnswer as Found,
  FinishedAnswer as Finished,
  FinishedFigure as Figure,
  FrontAnswer as Front,
  InstrumentAnswer as Instrument,
  MomentsAnswer as MomentsOfYear,
  OperationAnswer as OperationKind,
  PartsAnswer as PartsNamed,
  PlatesAnswer as Plates,
  RevolutionAnswer as Revolution,
  StateAnswer as State,
  SuggestionAnswer as Suggestion,
  TurnAnswer as Turn,
  WhyOne as Why,
  WishForm,
  WorkAnswer,
  WorkingStepAnswer as Step,
} from "./answers.js";

/** What one's own readings come to. */
export type Own = NonNullable<CastAnswer["own"]>;

export interface Case {
  when: string;
  at: string;
  zone?: string | null;
  clock?: string | null;
  calendar?: string | null;
  which?: string | null;
  houses?: string | null;
  with?: With | null;
  by?: string | null;
  sun?: string | null;
  plates?: string | null;
  read: Record<string, string>;
  without: string[];
  border?: string | null;
}

export type With = { named: string } | { specification: string };

export type Side = WorkingStepAnswer["side"];

export type Measure = FindingAnswer["measure"];

/** What there is instead of an answer; the server's own say no more than the message. */
export type Refusal = { message: string } & Partial<import("./answers.js").Refusal>;

/** The rules of a figure by their names; what is not there is as usual. */
export interface Rules { outer?: boolean; [rule: string]: string | boolean | string[] | undefined }

/** A case as the casebook keeps it. */
export interface BookCase {
  name: string;
  when: string;
  at: string;
  zone?: string | null;
  clock?: string | null;
  calendar?: string | null;
  which?: string | null;
  houses?: string | null;
  with?: string | null;
  by?: string | null;
  sun?: string | null;
  plates?: string | null;
  readings?: { what: string; degree: string; who?: string }[];
  marks?: { what: string; mark: string; remark?: string }[];
  figure?: string | null;
  note?: string;
  tags?: string[];
}

export interface KeptCase {
  id: number;
  version: number;
  kept_unix_s: number;
  changed_unix_s: number;
  case: BookCase;
}

export interface FoundCases { cases: KeptCase[]; unreadable: { id: number; why: string }[]; notices: string[]; more: boolean; tags: [string, number][]; total: number }

/** A part of the casebook as a text, and behind which case the next part begins. */
export interface CarriedOut { text: string; cases: number; next: number | null }

export interface Imported { kept: number; good: number; bad: { line: number; why: string }[] }

/** A class as the casebook keeps it. */
export interface Class {
  name: string;
  place: string;
  zone?: string | null;
  by?: string | null;
  level: string;
  operations?: string[];
  pupils: { name: string; with: string; place?: string | null; level?: string | null }[];
  note?: string;
}

export interface KeptClass { id: number; version: number; kept_unix_s: number; changed_unix_s: number; class: Class }

/** What a pupil was given, and what they read. */
export interface Paper {
  sheet: number;
  given: string;
  pupil: string;
  asked: ExercisesAnswer;
  answers?: { question: number; read: { what: string; value: string; mark: string }[]; verdict: string; sentence: string; slips?: string[] }[];
  remark?: string;
}

export interface KeptPaper { id: number; class: number; version: number; kept_unix_s: number; changed_unix_s: number; paper: Paper }

/** A class with its sheets, the last first, and what its answers say. */
export interface ClassLook {
  sheets: { sheet: number; given: string; papers: { id: number; pupil: string; answered: boolean; right: number; of: number }[] }[];
  report: {
    pupils: { name: string; sheets: number; right: number; of: number; slips: string[] }[];
    common: { slip: string; words: string; mend: string; times: number; pupils: string[] }[];
    operations: { operation: string; title: string; right: number; of: number }[];
    next: { what: string; sentence: string; pupils: string[] }[];
  };
}

/** What the classes answer, by what is asked of them. */
export interface ClassAnswers {
  list: { classes: KeptClass[]; notices: string[] };
  keep: KeptClass;
  delete: { left: string[] };
  look: { kept: KeptClass; look: ClassLook };
  "give-out": { kept: KeptClass; look: ClassLook };
  paper: KeptPaper;
  answer: KeptPaper;
  post: { posted: Posted; names: string[] };
  collect: { pupils: string[]; looked: { kept: KeptClass; look: ClassLook } };
}

/** A pupils’ page: sheets without key and names, by numbers. */
export interface Posted {
  version: number; class: string; sheet: number; corrects: boolean; papers: PostedPaper[];
}

export interface PostedPaper { number: number; mark: string; asked: ExercisesAnswer }

/** What is asked of the workshop. */
export interface Parts {
  with: With | null; plates: string[]; parts: string[]; formats?: string[]; page?: string;
  lines?: { engrave_depth_mm: number | null; raised_mm: number | null; line_width_mm: number | null };
  films?: { negative: boolean; mirrored: boolean; through: boolean; undercut_mm: number | null };
  rates?: {
    of: string; batch: number | null; price_kg: number | null; price_hour: number | null;
    cut_mm_per_min: number | null; engrave_mm_per_min: number | null;
  };
}

export interface PartPicture {
  name: string; title: string; svg: string; width_mm: number; arcs: string | null; flaw: string | null;
  thinned: { what: string; shown: string; key: string }[];
}

/** What is asked of plates for towns. */
export interface PlatesRequest { towns: string[]; stock_deg: number[]; within_deg: number; houses: string | null; year?: number; date_from?: string }

/** What is asked when a time is sought. */
export interface Sought {
  from: string; to: string; at: string; zone: string | null; clock: string | null; calendar: string | null;
  houses: string | null; must: string[]; rather: string[]; lasting_min: number;
}

/** The times that were found, with a strip of the weeks. */
export type Chosen = ChooseAnswer & { svg: string };

/** What is asked when a year's book is made. */
export interface YearAsked { year: number; at: string; zone: string | null; with: With | null }

/** Instruments side by side, with their picture. */
export type Compared = CompareAnswer & { svg: string };

export interface Today {
  recent: KeptCase[];
  to_correct: KeptCase[];
  plates: {
    with: string;
    called: string;
    name: string;
    latitude_deg: number;
    best_plate_deg: number | null;
    error: { largest_ascendant_deg: number; largest_cusp_deg: number } | null;
  }[];
}

export interface Settings {
  home: string | null;
  zone: string | null;
  with: string | null;
  houses: string | null;
  by: string | null;
  sun: string | null;
  figures: string | null;
  page_address: string | null;
}

export interface Start {
  version: string;
  cabinet: InstrumentAnswer[];
  own: OwnAnswer[];
  unread: UnreadAnswer[];
  methods: { name: string; on_the_brass: string | null }[];
  clocks: { name: string; words: string; old: boolean }[];
  forms: string[];
  filled: string[];
  parts: string[];
  formats: string[];
  materials: string[];
  rules: { rule: string; usual: string; choices: string[]; by_author: Record<string, string> }[];
  leaves: { name: string; title: string }[];
  settings: Settings;
}

/** An operation with what is given to it, all as it was written. */
export interface Work {
  operation: string;
  star?: string | null;
  body?: string | null;
  hand?: string | null;
  side?: string | null;
  of?: string | null;
  seen: Record<string, string>;
  told: Record<string, string>;
}
